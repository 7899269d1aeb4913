"""``capacity --method model``: an engineering estimate for what the tables do not hold."""

from __future__ import annotations

import math
from dataclasses import replace

from fluewright import capacity
from fluewright.draft.bases import CodeBasis
from fluewright.draft.capacity_model import Arrangement, Carried, carried_input
from fluewright.errors import NotSolved
from fluewright.files.physics import code_bases
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis, Step
from fluewright.words import reading

# Worst cell of the table that each basis was checked against (docs/validation.md), rounded up.
WORST_SHARE = {"code_nat": 0.08, "code_fan": 0.05, "code_single": 0.20}
KBTU_H_W = 293.07107017
TWO_ELBOWS = (90.0, 90.0)
LEAST_HEIGHT_M = 0.6096  # 2 ft: lower, the hood and the cap are most of the vent
SIZES_M = (0.0762, 0.6096)  # 3 to 24 in: the sizes of the tables

MASONRY = (
    "The model gives no figure for a masonry chimney: it overstates what the printed tables let "
    "one carry, by up to half and more. Ask the tables, or size a listed liner."
)
ONE_ALONE = (
    "The model answers for one appliance alone on its vent. Ask the tables for a common vent and "
    "its connectors."
)
SINGLE_FAN = (
    "There is no basis for a fan-assisted appliance on a single-wall vent: the tables hold none."
)


def capacity_by_model(
    query: capacity.Query, table: capacity.CapacityAnswer
) -> capacity.CapacityAnswer:
    """The model's answer; where a table has a figure too, the lower one counts.

    Args:
        query: the question.
        table: what the tables answer to the same question.
    Returns:
        Bounds with their working, or the reason for none; ``basis`` is ``model``.
    Raises:
        OutOfRange: a length or angle that no vent can have.
    """
    name, reason = _basis_for(query)
    if name is None:
        return _nothing(reason)
    basis = code_bases()[name]
    try:
        found = carried_input(_arrangement(query, 0), basis)
        least = carried_input(_arrangement(query, -1), basis).input_w
        most = carried_input(_arrangement(query, 1), basis).input_w
    except NotSolved as error:
        return _nothing(str(error))
    share = WORST_SHARE[name]
    bound = max(found.input_w - least * (1.0 - share), most * (1.0 + share) - found.input_w)
    # Down to whole thousands of Btu/h, as the tables print; rounding widens the bound.
    whole_w = math.floor(found.input_w / KBTU_H_W) * KBTU_H_W
    most_input = Measured(whole_w, Dimension.POWER, bound + found.input_w - whole_w)
    steps = _working(query, basis, found, share)
    if table.max is None:
        steps = (*steps, Step(f"the tables give no figure: {table.reason}"))
        return _answer(None, most_input, steps)
    steps = (*steps, Step(f"the model alone gives {reading(most_input)}"),
             Step(f"Table {table.table} answers this question with {reading(table.max)}: "
                  "the table counts, the model never goes over it"))  # fmt: skip
    lower = most_input if most_input.value < table.max.value else table.max
    return replace(_answer(table.table, lower, steps), cites=table.cites, min=table.min)


def _basis_for(query: capacity.Query) -> tuple[str | None, str]:
    """The basis for the kinds of vent and burner, or why there is none."""
    if query.rise is not None or query.shared is not None or query.manifold is not None:
        return None, ONE_ALONE
    if query.vent == "masonry" and query.liner == "none":
        return None, MASONRY
    if query.height.low < LEAST_HEIGHT_M:
        return None, "The model does not answer under 2 ft of height: hood and cap are most of it."
    if not SIZES_M[0] - 1e-6 <= query.diameter.value <= SIZES_M[1] + 1e-6:
        return None, "The model answers for 3 to 24 in: it was checked against no other size."
    fan = query.burner == "fan_assisted"
    if query.vent == "single_wall":
        return (None, SINGLE_FAN) if fan else ("code_single", "")
    return ("code_fan" if fan else "code_nat"), ""


def _arrangement(query: capacity.Query, side: int) -> Arrangement:
    """The question in figures: the readings (0), or their ends that give least (-1), most (1)."""

    def end(one: Measured, toward: int) -> float:
        return max(one.value + side * toward * one.tolerance, 0.0)

    bends = query.lateral.value > 0 or bool(query.extra_elbows)
    connector = query.connector_diameter
    return Arrangement(
        height_m=end(query.height, 1),
        lateral_m=end(query.lateral, -1),
        diameter_m=end(query.diameter, 1),
        vent="type_b" if query.liner == "corrugated" else query.vent,
        connector=query.connector,
        elbows_deg=(*TWO_ELBOWS, *query.extra_elbows) if bends else (),
        connector_diameter_m=None if connector is None else end(connector, 1),
        corrugated=query.liner == "corrugated",
    )


def _working(
    query: capacity.Query, basis: CodeBasis, found: Carried, share: float
) -> tuple[Step, ...]:
    """What was assumed and what came out, step by step."""
    fitted = ", ".join(basis.fitted)
    elbows = len(_arrangement(query, 0).elbows_deg)
    return (
        Step(f"engineering estimate, no figure of any code, on basis {basis.id}: {basis.title}"),
        Step(f"assumed: {'; '.join(basis.sources)}"),
        Step(f"fitted to {basis.fitted_on}: {fitted}"),
        Step("carbon dioxide in the vent", 100.0 * basis.co2_dry, "%"),
        Step("elbows counted", float(elbows), "elbows"),
        Step("gas carried", 1000.0 * found.flow_kg_s, "g/s"),
        Step("pressure from its lightness", found.lift_pa, "Pa"),
        Step("all of it lost to friction, fittings and the open end", found.lost_pa, "Pa"),
        Step("gas leaves at", found.end_k - 273.15, "degC"),
        Step(f"printed cells of the table it follows are met within {100 * share:.0f} % at worst; "
             "nothing printed checks it outside that table"),
        Step("no least input: how long the vent stays wet is not in this model"),
    )  # fmt: skip


def _answer(table: str | None, most: Measured, steps: tuple[Step, ...]) -> capacity.CapacityAnswer:
    return capacity.CapacityAnswer(table, None, most, None, Basis.MODEL, (), steps)


def _nothing(reason: str) -> capacity.CapacityAnswer:
    return capacity.CapacityAnswer(None, None, None, reason, Basis.MODEL, (), ())
