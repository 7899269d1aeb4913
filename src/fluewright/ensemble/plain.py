"""Many vents one after the other with the standard library alone: the kernel as it stands.

It takes the figures as ``draft.solve.figures`` gives them, or as arrays, which are made into
lists first: plain floats are several times quicker than those of an array.
"""

from __future__ import annotations

import math
from typing import Protocol, cast

from fluewright.draft import kernel
from fluewright.draft.kernel import Figures, Rows
from fluewright.ensemble import loops
from fluewright.ensemble.loops import MOST_ROOTS


class Stacked(Protocol):
    """Systems side by side: ``ensemble.cases.Cases``, or a holder of lists."""

    par: object
    rows: object
    counts: object

    def __len__(self) -> int:
        """How many they are."""
        ...


def operating_flows(cases: Stacked) -> list[float]:
    """The largest flow up each vent at which all pressures balance; 0: there is none. [kg/s]"""
    par, rows, counts = _lists(cases)
    out = [0.0] * len(par)
    loops.each_operating_flow(0, len(par), par, rows, counts, out)
    return out


def capacities(cases: Stacked) -> list[float]:
    """The largest flow of flue gas, of its own temperature, that goes up without spilling. [kg/s]

    The room draws nothing in; 0: the vent takes none.
    """
    par, rows, counts = _lists(cases)
    par = [[kernel.ALL_FLUE, *one[1:]] for one in par]
    out = [0.0] * len(par)
    loops.each_operating_flow(0, len(par), par, rows, counts, out)
    return out


def margins(cases: Stacked) -> list[float]:
    """The further suction of each room at which flue gas begins to spill. [Pa]"""
    par, rows, counts = _lists(cases)
    out = [0.0] * len(par)
    loops.each_margin(0, len(par), par, rows, counts, out)
    return out


def settled(cases: Stacked) -> tuple[list[float], list[int]]:
    """Where each vent settles when hot, and how that came out: a code of ``loops``. [kg/s, -]"""
    par, rows, counts = _lists(cases)
    out, codes = [0.0] * len(par), [0] * len(par)
    found = [[0.0] * MOST_ROOTS] * len(par)  # one room to work in serves them all
    loops.each_settled(0, len(par), par, rows, counts, out, codes, found)
    return out, codes


def all_roots(cases: Stacked) -> tuple[list[int], list[list[float]]]:
    """How many flows balance each vent, and which, smallest first, then NaN. [-, kg/s]"""
    par, rows, counts = _lists(cases)
    many, found = [0] * len(par), [[math.nan] * MOST_ROOTS for _ in par]
    loops.each_roots(0, len(par), par, rows, counts, many, found)
    return many, [sorted(one, key=lambda x: (math.isnan(x), x)) for one in found]


def _lists(cases: Stacked) -> tuple[list[Figures], list[Rows], list[int]]:
    """The figures as lists."""
    parts = (cases.par, cases.rows, cases.counts)
    as_lists = [part.tolist() if hasattr(part, "tolist") else part for part in parts]
    return cast("tuple[list[Figures], list[Rows], list[int]]", tuple(as_lists))
