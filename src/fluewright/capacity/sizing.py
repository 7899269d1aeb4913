"""Table sizes, and the two questions of size that need no table: area and a smaller vent.

Each condition carries a margin on the side that the code wants, so that it is decided as every
verdict is: met when the margin holds over the whole tolerance, not met when it holds nowhere in
it, otherwise not known.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import replace
from typing import Literal

from fluewright.capacity.table import FT_M, IN_M
from fluewright.errors import OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.source import Step

Burner = Literal["draft_hood", "fan_assisted"]

SIZES_IN = (3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24)  # of the printed tables
SNAP_IN = 1 / 32  # a bore this near to a table size is that size, whatever tool read it
ROUNDING = 1e-9  # share of a length or area that is rounding alone

# Conditions of a size below the outlet: UMC 2012 803.1.2, UPC 2012 510.1.1 (basis read).
LEAST_HEIGHT_FT = 10.0
TWO_SIZES_ABOVE_IN = 12.0
HOOD_OUTLET_ABOVE_IN = 4.0
FAN_FACTOR = 0.90
# Area rule for one draft hood: UMC 2012, gas vents and chimneys, 803.1.9 (basis read).
MOST_OUTLET_AREAS = 7.0


@frozen
class Condition:
    """One condition: what it asks, whether it binds here, and by how much it is met.

    ``margin`` is positive on the side the code wants; None where a reading is missing.
    ``strict`` conditions are not met by a margin of zero. A condition that is not ``certain``
    to bind can be met, but not failed.
    """

    name: str
    asks: str
    applies: bool
    margin: Measured | None
    strict: bool = False
    certain: bool = True

    @property
    def truth(self) -> bool | None:
        """True when met, False when not, None when not known or when it does not bind."""
        if not self.applies or self.margin is None:
            return None
        low, high = self.margin.low, self.margin.high
        if low > 0 or (low == 0 and not self.strict):
            return True
        failed = high < 0 or (high == 0 and self.strict)
        return False if failed and self.certain else None


@frozen
class Conditions:
    """Several conditions that must all hold, and the working."""

    each: tuple[Condition, ...]
    working: tuple[Step, ...]

    @property
    def truth(self) -> bool | None:
        """True when all that bind are met, False when one is not, else None."""
        found = [one.truth for one in self.each if one.applies]
        return False if False in found else None if None in found else True


def table_size(bore: Measured, sizes: tuple[float, ...] = SIZES_IN) -> float | None:
    """The one table size that a measured inside diameter can be. [in]

    Source: UMC 2012 803.1.3 and tables; that a bore within 1/32 in of a size is that size is
        common practice, no source.

    Args:
        bore: inside diameter. [m]
        sizes: table sizes to choose from. [in]

    Returns:
        None when no size, or more than one, lies within the tolerance.
    """
    reach = max(bore.tolerance / IN_M, SNAP_IN) + ROUNDING
    near = [size for size in sizes if abs(size - bore.value / IN_M) <= reach]
    return float(near[0]) if len(near) == 1 else None


def size_steps(from_in: float, to_in: float) -> int:
    """Table sizes from one to the other: 4 to 6 in is 2, 6 to 4 in is -2.

    Source: sizes of NFPA 54-2012 Table 13.1(a), UMC 2012 Table 803.1.3(1) (basis read).

    Raises:
        OutOfRange: one of them is no table size.
    """
    for size in (from_in, to_in):
        if size not in SIZES_IN:
            names = ", ".join(str(one) for one in SIZES_IN)
            raise OutOfRange(f"size_steps: {size:g} in is no table size. Give one of {names} in.")
    return SIZES_IN.index(int(to_in)) - SIZES_IN.index(int(from_in))


def area_rule(outlet: Measured, connector: Measured, vent: Measured) -> Conditions:
    """Whether connector and vent are at least the outlet's area and at most seven times it.

    For one draft hood appliance on its own vent, outside the tables. Margins are areas. [m2]

    Source: UMC 2012, gas vents and chimneys for a single appliance; NFPA 54-2012 12.6.3.1(2)
        for chimneys (basis read).

    Args:
        outlet: area of the draft hood outlet. [m2]
        connector: area of the connector. [m2]
        vent: flow area of the vent or chimney. [m2]

    Returns:
        Four conditions: least and most, for the connector and for the vent.

    Raises:
        OutOfRange: an area is not above zero.
    """
    each: list[Condition] = []
    working: list[Step] = []
    for name, area in (("outlet", outlet), ("connector", connector), ("vent", vent)):
        if area.value <= 0:
            raise OutOfRange(f"area_rule: {name} area is {area.value:g} m2. Give one above zero.")
        if area is outlet:
            continue
        working.append(Step(f"{name} area over outlet area", area.value / outlet.value))
        each += (
            Condition(
                f"{name}_at_least_outlet",
                f"the {name} has at least the area of the outlet",
                True,
                _margin(area, outlet),
            ),
            Condition(
                f"{name}_at_most_seven_outlets",
                f"the {name} has at most {MOST_OUTLET_AREAS:g} times the area of the outlet",
                True,
                _margin(_scaled(outlet, MOST_OUTLET_AREAS), area),
            ),
        )
    return Conditions(tuple(each), tuple(working))


def downsizing(
    *,
    burner: Burner,
    outlet: Measured,
    diameter: Measured,
    height: Measured,
    input: Measured | None = None,
    table_max: Measured | None = None,
) -> Conditions:
    """Whether a vent or connector may be smaller than the appliance's outlet.

    Source: UMC 2012 803.1.2, UPC 2012 510.1.1, NFPA 54-2012 13.1.2 (basis read).

    Args:
        burner: the factor binds a fan-assisted burner, the last condition a draft hood.
        outlet: inside diameter of the draft hood outlet or flue collar. [m]
        diameter: inside diameter of the vent or connector. [m]
        height: total height of the vent. [m]
        input: input of the appliance; without it the factor is not decided. [W]
        table_max: FAN Max of the table before the factor. [W]

    Returns:
        The five conditions of the section. None binds when the diameter is certainly not
        below the outlet.
    """
    outlet, diameter = _as_table_size(outlet), _as_table_size(diameter)
    factored = None
    if input is not None and table_max is not None:
        factored = _margin(_scaled(table_max, FAN_FACTOR), input)
    each = (
        Condition(
            "height_at_least_10_ft",
            "the total height of the vent is at least 10 ft",
            True,
            _margin(height, _exactly(LEAST_HEIGHT_FT * FT_M)),
        ),
        *_steps_allowed(outlet, diameter),
        Condition(
            "fan_max_times_0_90",
            "a fan-assisted burner: the input is at most 0.90 of FAN Max",
            burner == "fan_assisted",
            factored,
        ),
        Condition(
            "hood_outlet_above_4_in",
            "a draft hood: its outlet is larger than 4 in",
            burner == "draft_hood",
            _margin(outlet, _exactly(HOOD_OUTLET_ABOVE_IN * IN_M)),
            strict=True,
        ),
    )
    smaller, surely = diameter.low < outlet.high, diameter.high < outlet.low
    bound = (replace(one, applies=one.applies and smaller, certain=surely) for one in each)
    steps = float(_sizes_down(outlet.value, diameter.value))
    return Conditions(tuple(bound), (Step("table sizes below the outlet", steps),))


def _steps_allowed(outlet: Measured, diameter: Measured) -> tuple[Condition, Condition]:
    """One table size down, or two where the outlet is above 12 in."""
    least, most = (
        2 if bore > TWO_SIZES_ABOVE_IN * IN_M else 1 for bore in (outlet.low, outlet.high)
    )
    left = Measured.between(
        float(least - _sizes_down(outlet.high, diameter.low)),
        float(most - _sizes_down(outlet.low, diameter.high)),
        Dimension.COUNT,
    )
    return (
        Condition(
            "one_size_down",
            "an outlet of 12 in or less: at most one table size below it",
            least == 1,
            left,
        ),
        Condition(
            "two_sizes_down",
            "an outlet above 12 in: at most two table sizes below it",
            least == 2,
            left,
        ),
    )


def _as_table_size(bore: Measured) -> Measured:
    """The bore, or the table size that it is, without tolerance."""
    size = table_size(bore)
    return bore if size is None else _exactly(size * IN_M)


def _sizes_down(outlet_m: float, diameter_m: float) -> int:
    """Steps from the outlet down to the table size that a diameter reaches at most."""
    if diameter_m >= outlet_m:
        return 0
    outlet_in, diameter_in = outlet_m / IN_M - ROUNDING, diameter_m / IN_M + ROUNDING
    return bisect_left(SIZES_IN, outlet_in) - (bisect_right(SIZES_IN, diameter_in) - 1)


def _exactly(length_m: float) -> Measured:
    return Measured(length_m, Dimension.LENGTH)


def _scaled(one: Measured, factor: float) -> Measured:
    return Measured(one.value * factor, one.dimension, one.tolerance * factor)


def _margin(have: Measured, need: Measured) -> Measured:
    """What is to spare, bounds added; what is rounding alone counts as zero."""
    spare = have.value - need.value
    if abs(spare) <= ROUNDING * abs(need.value):
        spare = 0.0
    return Measured(spare, have.dimension, have.tolerance + need.tolerance)
