"""Draft to be had and pressure used up over the flow: the balance, sampled."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.draft import kernel
from fluewright.draft.assess import Assessment
from fluewright.draft.from_survey import Modelled
from fluewright.draft.solve import figures
from fluewright.drawing import draft_units as units
from fluewright.drawing.draft_words import (
    answer_words,
    conditions_words,
    hot_words,
    is_danger,
)
from fluewright.drawing.plot.data import FlowBalance, Root, Size
from fluewright.drawing.words import Style

SAMPLES = 48


def flow_balance(
    modelled: Modelled, assessment: Assessment, style: Style, size: Size = "column"
) -> FlowBalance:
    """Draft to be had and pressure used up over the flow, with every balance. [lb/h or g/s, Pa]"""
    par, rows = figures(modelled.system)
    solved, danger = assessment.solved, is_danger(assessment)
    scale = units.flow("Flow up the vent", style)
    pressed = units.pressure("Pressure", style)
    pairs = [(f, *shares(f, par, rows)) for f in _flows(modelled, assessment)]
    roots = tuple(
        Root(
            flow=scale.of(root.flow_kg_s),
            pressure=shares(root.flow_kg_s, par, rows)[0] if root.flow_kg_s else 0.0,
            branch=root.branch,
            stable=root.stable,
        )
        for root in solved.roots
    )
    return FlowBalance(
        title="Where the flow settles, burner on and hot",
        answer=answer_words(assessment, style) if danger else hot_words(assessment, style),
        alarm=danger,
        notes=(conditions_words(modelled, style),),
        available=tuple((scale.of(f), pressed.of(up)) for f, up, _ in pairs),
        lost=tuple((scale.of(f), pressed.of(lost)) for f, _, lost in pairs),
        roots=roots,
        demand=scale.of(modelled.system.flue.mass_kg_s),
        operating=_running(assessment),
        margin_pa=solved.margin_pa,
        flow=scale.measure,
        pressure=pressed.measure,
        size=size,
    )


def _running(assessment: Assessment) -> int:
    """Which balance it runs at: where the start from cold has led, if it never drafts."""
    roots, start = assessment.solved.roots, assessment.start
    if start is None or start.spills_s is not None or not start.flow_kg_s:
        return roots.index(assessment.solved.at.root)
    stable = [n for n, root in enumerate(roots) if root.stable]
    return min(stable, key=lambda n: abs(roots[n].flow_kg_s - start.flow_kg_s[-1]))


def shares(
    flow: float, par: Sequence[float], rows: Sequence[Sequence[float]]
) -> tuple[float, float]:
    """Draft to be had and pressure used up at a flow, their difference the spare one. [Pa, Pa]

    To be had: lightness of the gas in vent and hood, pressure of room less wind, and what spilling
    gas pushes with. Used up: entries, friction, change of speed, the end, the air drawn in at the
    hood; below zero where the flow comes down.

    Args:
        flow: up the vent above 0, down below 0, never 0. [kg/s]
        par: of the system, as ``draft.kernel`` has it.
        rows: of its segments.
    """
    size, count = abs(flow), len(rows)
    up = flow > 0.0
    gas_k, molar, cp = par[kernel.OUT_K], par[kernel.OUT_MOLAR], par[kernel.OUT_CP]
    have = par[kernel.ROOM_PA] - par[kernel.CAP_PA]
    if up:
        gas_k, molar, cp, hood = kernel.entering(flow, par)
        drawn = _drawn_in(flow, par)
        have += hood + drawn  # without the loss of the air that is drawn in
    for i in range(count) if up else range(count - 1, -1, -1):
        gas_k, _, lift, _ = kernel.stretch(size, gas_k, molar, cp, rows[i], par)
        have += lift
    if not up:
        have += kernel.reversed_hood(size, gas_k, par) - _pushed(size, gas_k, par)
    return have, have - kernel.spare_pressure(flow, par, rows, count)


def _drawn_in(flow: float, par: Sequence[float]) -> float:
    """Pressure that the room air drawn in at the hood costs; 0 where none is. [Pa]"""
    if flow <= par[kernel.FLUE_KG_S]:
        return 0.0
    still = list(par)
    still[kernel.RELIEF_M2] = float("inf")
    return kernel.entering(flow, still)[3] - kernel.entering(flow, par)[3]


def _pushed(flow: float, gas_k: float, par: Sequence[float]) -> float:
    """Pressure that it costs to push air and flue gas out of the hood. [Pa]"""
    still = list(par)
    still[kernel.RELIEF_M2] = float("inf")
    return kernel.reversed_hood(flow, gas_k, par) - kernel.reversed_hood(flow, gas_k, still)


def _flows(modelled: Modelled, assessment: Assessment) -> list[float]:
    """Flows to sample, rising: over all balances and the flue gas, a little beyond. [kg/s]"""
    demand = modelled.system.flue.mass_kg_s
    roots = [root.flow_kg_s for root in assessment.solved.roots]
    most = 1.25 * max(*roots, demand)
    grid = [most * (n / SAMPLES) ** 2 for n in range(1, SAMPLES + 1)]
    least = most * kernel.TINY_SHARE
    grid += [least, demand, *(root for root in roots if root)]
    if min(roots) <= 0.0:
        down = max(-1.25 * min(roots), 0.5 * demand)
        grid += [-down * (n / SAMPLES) ** 2 for n in range(1, SAMPLES + 1)] + [-least]
    return sorted(set(grid))
