"""The common vent of two or more appliances: what it permits all of them together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from fluewright.capacity.between import Extent, Gap, Method, Question, extent, hull
from fluewright.capacity.flue import (
    IN2_M2,
    area_text,
    bore_area_in2,
    seven_times_step,
    too_large,
    under_connector,
)
from fluewright.capacity.permitted import LINER_FACTOR, Capacity, checked, cut_of, not_a_size
from fluewright.capacity.shared import (
    RIGHT_ANGLES,
    Factors,
    angles,
    capacity_of,
    free_length,
    named,
    no_minimum,
    none_for,
)
from fluewright.capacity.sizing import ROUNDING, table_size
from fluewright.capacity.table import FT_M, IN_M, CapacityTable, Column
from fluewright.quantity import Dimension, Measured
from fluewright.source import Step

MANIFOLD_FACTOR = 0.90
NOTHING = Extent(0.0, 0.0, 0.0)


def common_vent_input(
    table: CapacityTable,
    column: Column,
    *,
    height: Measured,
    diameter: Measured,
    flue_area: Measured | None = None,
    offset: Measured,
    elbows: Sequence[float] = (),
    manifold: Measured | None = None,
    connector: Measured | None = None,
    outlet: Measured | None = None,
    liner_corrugated: bool = False,
    method: Method | str = Method.INTERPOLATE,
) -> Capacity:
    """Greatest combined input of the appliances on a common vent. [W]

    Source: UMC 2012 803.2.3 to 803.2.6, 803.2.16, 803.2.18 (basis read).
    Valid: not exposed to the outdoors below the roof line; one floor; inside the table.

    Args:
        table: the table for the common vent.
        column: the kinds of the appliances: fan_fan, fan_nat or nat_nat.
        height: from the highest outlet to the common vent's outlet. [m]
        diameter: inside diameter of the common vent; on masonry of the manifold. [m]
        flue_area: inside area of a masonry flue. [m2]
        offset: horizontal length of all offsets of the common vent. [m]
        elbows: angles of all elbows of the common vent; none is free. [deg]
        manifold: length of a manifold ahead of the vertical part; None: there is none. [m]
        connector: inside diameter of the largest connector; None: not checked. [m]
        outlet: diameter of the smallest outlet of the appliances; None: not checked. [m]
        liner_corrugated: the common vent is a corrugated liner in a chimney.
        method: interpolate, or lower_row for the strict one of the entries around.

    Returns:
        A maximum that holds over the tolerances, with a minimum of zero, or the reason for none.

    Raises:
        OutOfRange: as ``connector_input``.
    """
    lengths = {"height": height, "offset": offset, "manifold": manifold or offset}
    how = checked(lengths, "draft_hood", elbows, method)
    size = _common_size(table, column, diameter, flue_area)
    if isinstance(size, Gap):
        return none_for(table, size)
    area = flue_area or _bore_area(size * IN_M)
    fault = _common_fault(diameter, flue_area, offset, manifold)
    if fault := fault or _area_fault(area, connector, outlet):
        return none_for(table, fault)
    place = (extent(height, table.heights), NOTHING)
    most = hull(Question(table, column, size, True, how), *place)
    if isinstance(most, Gap):
        return none_for(table, most)
    factors = _common_factors(elbows, offset, manifold, liner_corrugated)
    found = capacity_of(table, most, factors, place)
    steps = (*found.working, no_minimum("a common vent"), seven_times_step(outlet, area))
    return replace(found, working=steps, rules=found.rules | named(frozenset({"seven_times"})))


def _common_size(
    table: CapacityTable, column: Column, diameter: Measured, flue_area: Measured | None
) -> float | Gap:
    """The size of the common vent: its diameter, or the largest area that the flue holds."""
    if not table.has_figures(column):
        return Gap(f"Table {table.id} has no {column.printed}: it is for draft hoods alone.")
    if table.layout.size_unit == "in":
        size = table_size(diameter, table.sizes)
        return size if size is not None else Gap(not_a_size(table, table.layout.part, diameter))
    if flue_area is None:
        return Gap(
            "The table for a masonry chimney goes by the inside area of its flue: give the flue "
            "area. For a clay tile it is that of the clear inside, not of the nominal size."
        )
    held = [size for size in table.sizes if size * (1 - ROUNDING) <= flue_area.low / IN2_M2]
    if held:
        return held[-1]
    return Gap(
        f"The flue, {area_text(flue_area)} inside, is or may be smaller than the "
        f"{table.sizes[0]:g} in2 at which table {table.id} begins. The table may not be extended."
    )


def _common_fault(
    diameter: Measured, flue_area: Measured | None, offset: Measured, manifold: Measured | None
) -> Gap | None:
    """Why an offset or a manifold takes the vent out of the tables."""
    if flue_area is not None and offset.high > 0:
        return Gap(
            "An offset of a masonry flue is not in the tables: give a lateral of 0, or have the "
            "chimney engineered.",
            rules=frozenset({"offset"}),
        )
    free_m = free_length(table_size(diameter) or diameter.low / IN_M)
    for name, length in (("offset", offset), ("manifold", manifold)):
        if length is not None and length.high > free_m * (1 + ROUNDING):
            return Gap(
                f"The {name}, {length.high / FT_M:.4g} ft at its longest, is more than the "
                f"{free_m / FT_M:.4g} ft allowed for its diameter. Shorten it, or have the vent "
                "engineered.",
                rules=frozenset({name}),
            )
    return None


def _area_fault(area: Measured, connector: Measured | None, outlet: Measured | None) -> Gap | None:
    if connector is not None and (words := under_connector(area, connector)):
        return Gap(words, rules=frozenset({"least_area"}))
    if outlet is not None and (words := too_large(area, outlet, "the smallest outlet")):
        return Gap(words, rules=frozenset({"seven_times"}))
    return None


def _common_factors(
    elbows: Sequence[float], offset: Measured, manifold: Measured | None, liner: bool
) -> Factors:
    parts: list[tuple[float, str, str]] = []
    if liner:
        parts.append((LINER_FACTOR, "corrugated liner", "corrugated_liner"))
    if manifold is not None:
        parts.append((MANIFOLD_FACTOR, "manifold ahead of the vertical part", "manifold"))
    bends, named = tuple(elbows), angles(elbows)
    if offset.high > 0 and not bends:
        bends, named = RIGHT_ANGLES, "an offset, its elbows not given: two of 90 deg"
    if offset.high > 0:
        parts.append((1.0, "offset within its length", "offset"))
    parts.append((max(0, 100 - cut_of(bends)) / 100, f"elbows, none free: {named}", "elbows"))
    value = math.prod(one for one, _, _ in parts)
    return Factors(
        value,
        value,
        value,
        tuple(Step(what, one) for one, what, rule in parts if rule != "offset"),
        frozenset(rule for _, _, rule in parts),
    )


def _bore_area(bore_m: float) -> Measured:
    return Measured(bore_area_in2(bore_m) * IN2_M2, Dimension.AREA)
