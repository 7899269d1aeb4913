"""The input that a capacity table permits, with every rule that changes the table figure.

Constants and their source: UMC 2012 803.1.2, 803.1.3, 803.1.7, 803.1.9 (basis read); the same
stand in UPC 2012 510.1 and NFPA 54-2012 13.1. That several elbows are added up on the table
figure, and that liner, elbows and smaller outlet multiply, the text leaves open: added up is
the strict reading for elbows.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from fluewright.capacity.between import (
    KBTU_H,
    Extent,
    Gap,
    Hull,
    Method,
    Question,
    extent,
    feet,
    hull,
)
from fluewright.capacity.sizing import FAN_FACTOR, Burner, table_size
from fluewright.capacity.table import IN_M, KBTU_H_W, CapacityTable, Cell, Column, Confidence
from fluewright.errors import OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis, Step

FREE_ELBOWS = 2  # already in an entry that has a lateral
SHALLOW_TO_DEG = 45.0
SHALLOW_CUT_PERCENT = 5
STEEP_CUT_PERCENT = 10
LINER_FACTOR = 0.80


@frozen
class Capacity:
    """What a table permits: the input must lie between ``min`` and ``max``, both in watts.

    Both are None where there is no figure, and ``reason`` then says why. For a draft hood the
    table prints no minimum: ``min`` is 0. ``rules`` names the sections used, by the keys of the
    table index. ``basis`` is memory as soon as one cell behind the figure is not confirmed.
    """

    table: str
    max: Measured | None
    min: Measured | None
    reason: str | None
    working: tuple[Step, ...]
    basis: Basis
    cells: tuple[Cell, ...]
    rules: frozenset[str]


@frozen
class _Sizes:
    """The diameter at which each bound is read. [in]"""

    for_max: float
    for_min: float


@frozen
class _Bounds:
    """Table maximum and minimum; a draft hood has no minimum."""

    most: Hull
    least: Hull | None


@frozen
class _Factor:
    """What the table maximum is multiplied by, and why."""

    value: float
    steps: tuple[Step, ...]
    rules: frozenset[str]


def permitted_input(
    table: CapacityTable,
    *,
    height: Measured,
    lateral: Measured,
    diameter: Measured,
    burner: Burner,
    elbows: Sequence[float],
    connector_diameter: Measured | None = None,
    liner_corrugated: bool = False,
    downsized: bool = False,
    method: Method | str = Method.INTERPOLATE,
) -> Capacity:
    """Least and greatest appliance input that the table permits. [W]

    Source: UMC 2012 803.1 (basis read), see the table index for the other editions.
    Valid: one appliance alone on its vent; vent not exposed to the outdoors below the roof
        line; inside the table. Nothing is extended beyond it.

    Args:
        table: the table for the kinds of vent and connector.
        height: from the draft hood outlet or flue collar to the vent's outlet. [m]
        lateral: all sideways shift of connector and vent, added up. [m]
        diameter: inside diameter of the vent. [m]
        burner: draft_hood or fan_assisted (Category I).
        elbows: angles of all elbows and tees of connector and vent; none stands for a vent
            without any, which zero lateral needs. A long-radius turn at the foot of a
            corrugated liner is in that liner's factor and may be left out. [deg]
        connector_diameter: inside diameter of the connector; None: that of the vent. [m]
        liner_corrugated: the vent is a corrugated metal liner in a chimney.
        downsized: vent or connector is a table size below the appliance's outlet (see
            ``downsizing`` for whether it may be).
        method: interpolate, or lower_row for the strict one of the entries around.

    Returns:
        Bounds that hold over the tolerances of height and lateral, or the reason for none.

    Raises:
        OutOfRange: a length below zero, an elbow not above 0 and up to 90 degrees, or a word
            that is not known.
    """
    how = checked({"height": height, "lateral": lateral}, burner, elbows, method)
    sizes = _sizes(table, diameter, connector_diameter)
    if isinstance(sizes, Gap):
        return no_figure(table, sizes)
    lines = sorted({line for row in table.heights for line in table.laterals[row]})
    place = (extent(height, table.heights), extent(lateral, lines, least_m=0.0))
    fan = burner == "fan_assisted"
    bounds = _bounds(table, fan, sizes, place, not elbows, how)
    if isinstance(bounds, Gap):
        return no_figure(table, bounds)
    factor = _factor(elbows, liner_corrugated, downsized and fan)
    return _capacity(table, bounds, sizes, factor, place)


def _bounds(
    table: CapacityTable,
    fan: bool,
    sizes: _Sizes,
    place: tuple[Extent, Extent],
    straight: bool,
    how: Method,
) -> _Bounds | Gap:
    """Table maximum and, for a fan-assisted burner, minimum over the tolerances."""
    column = Column.FAN_MAX if fan else Column.NAT_MAX
    if not table.has_figures(column):
        return Gap(f"Table {table.id} has no {column.printed}: it is for draft hoods alone.")
    most = hull(Question(table, column, sizes.for_max, straight, how), *place)
    if isinstance(most, Gap):
        return most
    if not fan:
        return _Bounds(most, None)
    least = hull(Question(table, Column.FAN_MIN, sizes.for_min, straight, how), *place)
    return least if isinstance(least, Gap) else _Bounds(most, least)


def _capacity(
    table: CapacityTable,
    bounds: _Bounds,
    sizes: _Sizes,
    factor: _Factor,
    place: tuple[Extent, Extent],
) -> Capacity:
    most, least = bounds.most, bounds.least
    rules = factor.rules.union(*(one.rules for one in (most, least) if one))
    if sizes.for_max != sizes.for_min:
        rules |= {"two_diameters"}
    cells = tuple(dict.fromkeys((*most.cells, *(least.cells if least else ()))))
    return Capacity(
        table.id,
        in_watts(most.low * factor.value, most.high * factor.value),
        in_watts(least.low, least.high) if least else in_watts(0.0, 0.0),
        None,
        (*_working_max(most, sizes, factor, place), *_working_min(least, sizes)),
        basis_of(cells),
        cells,
        rules,
    )


def elbow_cut(elbows: Sequence[float]) -> int:
    """Share of the table maximum that the elbows cost, two largest free. [%]

    Source: UMC 2012 803.1.3, UPC 2012 510.1.2, NFPA 54-2012 13.1.3 (basis read); that the cuts
        are added up is the strict reading.

    >>> elbow_cut([90, 45, 90, 90, 45])
    20
    """
    return cut_of(sorted(elbows, reverse=True)[FREE_ELBOWS:])


def cut_of(elbows: Sequence[float]) -> int:
    """Share of the table maximum that elbows cost when none of them is free. [%]

    Source: as ``elbow_cut``; for a common vent UMC 2012 803.2.5, NFPA 54-2012 13.2.6 (read).
    """
    return sum(
        SHALLOW_CUT_PERCENT if angle <= SHALLOW_TO_DEG else STEEP_CUT_PERCENT for angle in elbows
    )


def checked(
    lengths: Mapping[str, Measured], burner: str, elbows: Sequence[float], method: str
) -> Method:
    """The method of reading, once lengths, burner and elbows are found to make sense."""
    for name, length in lengths.items():
        if length.value < 0:
            raise OutOfRange(f"{name} is {length.value:g} m. Give zero or more.")
    if burner not in ("draft_hood", "fan_assisted"):
        raise OutOfRange(f"burner is {burner!r}. Write draft_hood or fan_assisted.")
    for angle in elbows:
        if not 0 < angle <= 90:
            raise OutOfRange(
                f"an elbow of {angle:g} deg. Give an angle above 0 and up to 90; "
                "list a tighter bend as two elbows."
            )
    try:
        return Method(method)
    except ValueError:
        names = " or ".join(Method)
        raise OutOfRange(f"method is {method!r}. Write {names}.") from None


def _sizes(table: CapacityTable, vent: Measured, connector: Measured | None) -> _Sizes | Gap:
    """The strict diameter for each bound: least for the maximum, greatest for the minimum."""
    found: list[float] = []
    for name, bore in ((table.layout.part, vent), ("connector", connector or vent)):
        size = table_size(bore, table.sizes)
        if size is None:
            return Gap(not_a_size(table, name, bore))
        found.append(size)
    return _Sizes(min(found), max(found))


def not_a_size(table: CapacityTable, name: str, bore: Measured) -> str:
    """Why a diameter is no column of the table."""
    names = ", ".join(f"{size:g}" for size in table.sizes)
    half = f" ± {feet(bore.tolerance / IN_M)}" if bore.tolerance else ""
    return (
        f"The {name}, {feet(bore.value / IN_M)}{half} in inside, is no single size of table "
        f"{table.id} as held here ({names} in). Read the size stamped on it, or measure its "
        "inside more closely; for another size an approved engineering method is needed."
    )


def _factor(elbows: Sequence[float], liner_corrugated: bool, downsized: bool) -> _Factor:
    """What the maximum is multiplied by, one step and one rule for each part."""
    parts: list[tuple[float, str, str]] = []
    if liner_corrugated:
        parts.append((LINER_FACTOR, "corrugated liner", "corrugated_liner"))
    if elbows:
        counted = sorted(elbows, reverse=True)[FREE_ELBOWS:]
        named = ", ".join(f"{angle:g} deg" for angle in counted) or "none"
        what = f"elbows beyond the two largest: {named}; cut {elbow_cut(elbows)} percent"
        parts.append((max(0, 100 - elbow_cut(elbows)) / 100, what, "elbows"))
    if downsized:
        parts.append((FAN_FACTOR, "fan-assisted, smaller than its outlet", "downsizing"))
    return _Factor(
        math.prod(value for value, _, _ in parts),
        tuple(Step(what, value) for value, what, _ in parts),
        frozenset(rule for _, _, rule in parts),
    )


def _working_max(
    most: Hull,
    sizes: _Sizes,
    factor: _Factor,
    place: tuple[Extent, Extent],
) -> tuple[Step, ...]:
    steps: list[Step] = []
    if sizes.for_max != sizes.for_min:
        steps.append(Step("two diameters: the maximum is read at the smaller", sizes.for_max, "in"))
    steps += most.nominal.steps
    if most.high > most.low:
        span = f"over height {place[0].text()} and lateral {place[1].text()}"
        steps.append(Step(f"least table maximum {span}", most.low, KBTU_H))
        steps.append(Step(f"greatest table maximum {span}", most.high, KBTU_H))
    steps += factor.steps
    steps.append(Step("maximum at the readings", most.nominal.kbtu_h * factor.value, KBTU_H))
    return tuple(steps)


def _working_min(least: Hull | None, sizes: _Sizes) -> tuple[Step, ...]:
    if least is None:
        return (Step("minimum: none printed for a draft hood", 0.0, KBTU_H),)
    steps: list[Step] = []
    if sizes.for_max != sizes.for_min:
        steps.append(Step("two diameters: the minimum is read at the larger", sizes.for_min, "in"))
    steps += least.nominal.steps
    if least.high > least.low:
        steps.append(Step("least table minimum over the tolerances", least.low, KBTU_H))
        steps.append(Step("greatest table minimum over the tolerances", least.high, KBTU_H))
    steps.append(Step("minimum at the readings (no factor applies)", least.nominal.kbtu_h, KBTU_H))
    return tuple(steps)


def no_figure(table: CapacityTable, gap: Gap) -> Capacity:
    """The reason in place of a figure."""
    return Capacity(table.id, None, None, gap.reason, (), basis_of(gap.cells), gap.cells, gap.rules)


def basis_of(cells: Sequence[Cell]) -> Basis:
    """Read when every cell is confirmed, else memory."""
    sure = all(cell.confidence is Confidence.CONFIRMED and not cell.missing for cell in cells)
    return Basis.READ if sure else Basis.MEMORY


def in_watts(low_kbtu_h: float, high_kbtu_h: float) -> Measured:
    """The interval in watts; exact where both bounds are one."""
    return Measured.between(low_kbtu_h * KBTU_H_W, high_kbtu_h * KBTU_H_W, Dimension.POWER)
