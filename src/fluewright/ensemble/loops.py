"""Loops over many systems, in the same compilable form as ``draft.kernel``.

``compiled`` compiles these together with the kernel; ``plain`` runs them as they stand. Each does
the cases from ``first`` up to ``last`` and writes into sequences that the caller gives.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence, Sequence

from fluewright.draft.kernel import (
    FLUE_KG_S,
    RELIEF_M2,
    TINY_SHARE,
    Figures,
    Rows,
    flow_scale,
    operating_flow,
    rising,
    roots,
    spare_pressure,
)

# How a case came out. From NO_RANGE on there is no solution, and the code is the reason.
DRAFTING, SPILLING, STALLED, REVERSED, NO_RANGE, NONE_STABLE, IDLE_WITHOUT_HOOD = range(7)
REASONS = {
    NO_RANGE: "no flow was found at which the losses outweigh what drives it",
    NONE_STABLE: "none of the balances is one that the vent would return to",
    IDLE_WITHOUT_HOOD: "an idle appliance without a draft hood sets no flow of its own",
}
MOST_ROOTS = 12


def settle(
    par: Figures, rows: Rows, count: int, found: MutableSequence[float]
) -> tuple[float, int]:
    """Where one vent settles when hot, as ``draft.solve`` has it. [kg/s, -]

    Args:
        par: the system.
        rows: its segments.
        count: how many they are.
        found: room to work in, for the roots.
    Returns:
        The largest stable flow, and how it came out.
    """
    flue = par[FLUE_KG_S]
    if math.isinf(par[RELIEF_M2]):
        return (flue, DRAFTING) if flue > 0.0 else (0.0, IDLE_WITHOUT_HOOD)
    flow = operating_flow(par, rows, count)
    if flow > 0.0:
        return flow, DRAFTING if flow >= flue else SPILLING
    still = TINY_SHARE * flow_scale(par, rows, count)
    below = spare_pressure(-still, par, rows, count)
    if below > 0.0 and spare_pressure(still, par, rows, count) < 0.0:
        return 0.0, STALLED
    many = roots(par, rows, count, found)
    if many < 0:
        return 0.0, NO_RANGE
    best = -math.inf
    for k in range(many):
        flow = found[k]
        if best < flow < 0.0 and spare_pressure(flow * 1.000001, par, rows, count) > 0.0:
            best = flow
    return (best, REVERSED) if best > -math.inf else (0.0, NONE_STABLE)


def each_operating_flow(
    first: int,
    last: int,
    par: Sequence[Figures],
    rows: Sequence[Rows],
    counts: Sequence[int],
    out: MutableSequence[float],
) -> None:
    """Writes the largest flow up each vent. [kg/s]"""
    for i in range(first, last):
        out[i] = operating_flow(par[i], rows[i], counts[i])


def each_margin(
    first: int,
    last: int,
    par: Sequence[Figures],
    rows: Sequence[Rows],
    counts: Sequence[int],
    out: MutableSequence[float],
) -> None:
    """Writes the pressure to spare while all flue gas, and nothing more, goes up. [Pa]"""
    for i in range(first, last):
        flue = par[i][FLUE_KG_S]
        out[i] = rising(flue, par[i], rows[i], counts[i]) if flue > 0.0 else math.inf


def each_settled(
    first: int,
    last: int,
    par: Sequence[Figures],
    rows: Sequence[Rows],
    counts: Sequence[int],
    out: MutableSequence[float],
    codes: MutableSequence[int],
    found: Sequence[MutableSequence[float]],
) -> None:
    """Writes where each vent settles, and how that came out. [kg/s, -]"""
    for i in range(first, last):
        out[i], codes[i] = settle(par[i], rows[i], counts[i], found[i])


def each_roots(
    first: int,
    last: int,
    par: Sequence[Figures],
    rows: Sequence[Rows],
    counts: Sequence[int],
    many: MutableSequence[int],
    found: Sequence[MutableSequence[float]],
) -> None:
    """Writes all flows at which each vent balances, and how many; -1 where no range was found."""
    for i in range(first, last):
        many[i] = roots(par[i], rows[i], counts[i], found[i])
