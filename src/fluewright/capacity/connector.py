"""The connector of one of two or more appliances on a common vent: what it permits."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from fluewright.capacity.between import KBTU_H, Extent, Gap, Hull, Method, Question, extent, hull
from fluewright.capacity.permitted import (
    LINER_FACTOR,
    Capacity,
    basis_of,
    checked,
    elbow_cut,
    in_watts,
    not_a_size,
    permitted_input,
)
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
from fluewright.capacity.sizing import ROUNDING, SIZES_IN, Burner, size_steps, table_size
from fluewright.capacity.table import FT_M, IN_M, CapacityTable, Column
from fluewright.quantity import Dimension, Measured
from fluewright.source import Step

LONG_CUT_PERCENT = 10
MOST_SIZES_UP = 2


def connector_input(
    table: CapacityTable,
    alone: CapacityTable,
    *,
    height: Measured,
    rise: Measured,
    length: Measured,
    diameter: Measured,
    burner: Burner,
    elbows: Sequence[float] = (),
    outlet: Measured | None = None,
    liner_corrugated: bool = False,
    method: Method | str = Method.INTERPOLATE,
) -> Capacity:
    """Least and greatest input of an appliance behind its connector to a common vent. [W]

    Source: UMC 2012 803.2 (basis read); extra elbows NFPA 54-2012 13.2.7 (from memory).
    Valid: vent not exposed to the outdoors below the roof line; inside the table.

    Args:
        table: the table for the connectors of the kinds of vent and connector.
        alone: the table for one appliance alone, for the minimum of a long connector.
        height: from the highest outlet to the common vent's outlet. [m]
        rise: from this appliance's outlet to the center line where the gases join. [m]
        length: horizontal length of the connector. [m]
        diameter: inside diameter of the connector. [m]
        burner: draft_hood or fan_assisted (Category I).
        elbows: angles beyond the two largest. [deg]
        outlet: diameter of the draft hood outlet or flue collar; None: not checked. [m]
        liner_corrugated: the common vent is a corrugated liner in a chimney.
        method: interpolate, or lower_row for the strict one of the entries around.

    Returns:
        Bounds that hold over the tolerances, or the reason for none.

    Raises:
        OutOfRange: a length, an elbow or a word that cannot be.
    """
    how = checked({"height": height, "rise": rise, "length": length}, burner, elbows, method)
    fan = burner == "fan_assisted"
    size = _size(table, diameter, outlet, fan)
    if isinstance(size, Gap):
        return none_for(table, size)
    place = _place(table, height, rise)
    bounds = _bounds(table, fan, size, place, how)
    if isinstance(bounds, Gap):
        return none_for(table, bounds)
    most, least = bounds
    factors = _connector_factors(size, length, elbows, liner_corrugated)
    found = capacity_of(table, most, factors, place)
    found = _with_minimum(found, least)
    if least is None or _multiples(length.high, size) == 0:
        return found
    single = permitted_input(
        alone, height=height, lateral=length, diameter=diameter, burner=burner,
        elbows=RIGHT_ANGLES, method=how,
    )  # fmt: skip
    return _long_minimum(found, single, certain=_multiples(length.low, size) > 0)


def _size(
    table: CapacityTable, diameter: Measured, outlet: Measured | None, fan: bool
) -> float | Gap:
    """The column of the connector, or why it has none or may not stand on its outlet."""
    size = table_size(diameter, table.sizes)
    if size is None:
        return Gap(not_a_size(table, table.layout.part, diameter))
    if outlet is not None and (fault := _size_fault(size, outlet, fan)):
        return Gap(fault, rules=frozenset({"connector_size"}))
    return size


def _bounds(
    table: CapacityTable, fan: bool, size: float, place: tuple[Extent, Extent], how: Method
) -> tuple[Hull, Hull | None] | Gap:
    """Table maximum and, for a fan-assisted burner, minimum over the tolerances."""
    column = Column.FAN_MAX if fan else Column.NAT_MAX
    if not table.has_figures(column):
        return Gap(f"Table {table.id} has no {column.printed}: it is for draft hoods alone.")
    most = hull(Question(table, column, size, False, how), *place)
    if isinstance(most, Gap) or not fan:
        return most if isinstance(most, Gap) else (most, None)
    least = hull(Question(table, Column.FAN_MIN, size, False, how), *place)
    return least if isinstance(least, Gap) else (most, least)


def _size_fault(size_in: float, outlet: Measured, fan: bool) -> str | None:
    """Why a connector of this size may not stand on the outlet."""
    outlet_in = table_size(outlet)
    if outlet_in is None:
        names = ", ".join(str(one) for one in SIZES_IN)
        return (
            f"The outlet, {outlet.value / IN_M:.4g} in, is no single table size ({names} in). "
            "Measure it more closely, or leave it out."
        )
    steps = size_steps(outlet_in, size_in)
    if steps > MOST_SIZES_UP:
        return (
            f"The connector, {size_in:g} in, is {steps} table sizes over the outlet of "
            f"{outlet_in:g} in. At most {MOST_SIZES_UP} are allowed: take a smaller connector."
        )
    if steps < 0 and not fan:
        return (
            f"The connector, {size_in:g} in, is smaller than the draft hood outlet of "
            f"{outlet_in:g} in. Behind a draft hood on a common vent it never may be."
        )
    if steps < 0:
        return (
            f"The connector, {size_in:g} in, is smaller than the flue collar of {outlet_in:g} in. "
            "That is allowed for one size alone, beside a draft hood and with a smooth inner "
            "wall, which this question does not ask: look in the section."
        )
    return None


def _multiples(length_m: float, size_in: float) -> int:
    """How often the length allowed for a size is exceeded, in further multiples begun."""
    share = length_m / free_length(size_in)
    return max(0, math.ceil(share - ROUNDING) - 1)


def _connector_factors(
    size_in: float, length: Measured, elbows: Sequence[float], liner: bool
) -> Factors:
    free = free_length(size_in) / FT_M
    # Two right angles stand for those in the table: every elbow given is one beyond them.
    bends = elbow_cut((*RIGHT_ANGLES, *elbows))
    low, at, high = (_multiples(one, size_in) for one in (length.low, length.value, length.high))
    steps = [Step(f"elbows beyond two: {angles(elbows)}; cut", float(bends), "%")]
    rules = {"connector_elbows", "connector_length"}
    steps.append(
        Step(
            f"horizontal length {length.value / FT_M:.4g} ft, {free:g} ft free for {size_in:g} in; "
            "cut",
            float(LONG_CUT_PERCENT * at),
            "%",
        )
    )
    if high:
        rules.add("long_connector")
    factor = 1.0
    if liner:
        factor = LINER_FACTOR
        steps.append(Step("corrugated liner", LINER_FACTOR))
        rules.add("corrugated_liner")
    least, nominal, most = (
        factor * max(0, 100 - bends - LONG_CUT_PERCENT * more) / 100 for more in (high, at, low)
    )
    return Factors(least, nominal, most, tuple(steps), frozenset(rules))


def _place(table: CapacityTable, height: Measured, rise: Measured) -> tuple[Extent, Extent]:
    rises = sorted({line for row in table.heights for line in table.laterals[row]})
    return extent(height, table.heights), extent(rise, rises, least_m=0.0)


def _with_minimum(found: Capacity, least: Hull | None) -> Capacity:
    """The answer with its minimum: a draft hood has none."""
    if least is None:
        return replace(found, working=(*found.working, no_minimum("a draft hood")))
    cells = tuple(dict.fromkeys((*found.cells, *least.cells)))
    last = Step("minimum at the readings (no factor applies)", least.nominal.kbtu_h, KBTU_H)
    return replace(
        found,
        min=in_watts(least.low, least.high),
        working=(*found.working, *least.nominal.steps, last),
        basis=basis_of(cells),
        cells=cells,
        rules=found.rules | named(least.rules),
    )


def _long_minimum(found: Capacity, single: Capacity, *, certain: bool) -> Capacity:
    """The minimum of a long connector, from the table for one appliance alone.

    Where the tolerance leaves open whether the connector is too long, both minima hold.
    """
    rules = found.rules | single.rules | named(frozenset({"long_connector"}))
    if single.min is None or found.min is None:
        words = (
            "The connector is longer than the table allows, so that the minimum is that of the "
            f"table for one appliance alone, and there: {single.reason}"
        )
        return replace(found, max=None, min=None, reason=words, working=(), rules=rules)
    bound = single.min
    if not certain:
        low, high = min(bound.low, found.min.low), max(bound.high, found.min.high)
        bound = Measured.between(low, high, Dimension.POWER)
    cells = tuple(dict.fromkeys((*found.cells, *single.cells)))
    words = (
        f"long connector: minimum by table {single.table}, height and lateral as given; count "
        "them as if the other appliance were absent"
    )
    return replace(
        found,
        min=bound,
        working=(*found.working, Step(words), *single.working[-1:]),
        basis=basis_of(cells),
        cells=cells,
        rules=rules,
    )
