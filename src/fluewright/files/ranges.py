"""What a reading of each kind can plausibly be, so that a slip of unit or decimal is caught.

The bounds are wide on purpose and no requirement: a value outside them was almost surely
misread or mistyped (common practice, no source). Whoever meets a real one widens the range.
"""

from __future__ import annotations

import math
from functools import cache

from fluewright.errors import BadQuantity
from fluewright.files.exact import with_unit
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Parsed, parse, to_unit
from fluewright.survey import Reading


@frozen
class Plausible:
    """Lowest and highest believable value as text and in SI, and the units people use for it."""

    low: str
    high: str
    low_si: float
    high_si: float
    units: tuple[str, ...]

    def holds(self, value: float) -> bool:
        """Whether an SI value lies inside; a hair of rounding does not put it outside."""
        hair = 1e-9 * max(abs(self.low_si), abs(self.high_si))
        return self.low_si - hair <= value <= self.high_si + hair


_Row = tuple[str, str, tuple[str, ...]]
_SHORT = ("in", "ft", "mm", "m", "cm")

# By what reads it, for each dimension.
_BY: dict[tuple[Dimension, str], _Row] = {
    (Dimension.LENGTH, "length"): ("0 in", "60 ft", _SHORT),
    (Dimension.LENGTH, "height"): ("0 in", "120 ft", _SHORT),
    (Dimension.LENGTH, "stamp"): ("0 in", "20 ft", _SHORT),
    (Dimension.LENGTH, "thickness"): ("0.005 in", "0.2 in", ("in", "mm")),
    (Dimension.SLOPE, "slope"): ("-1 ratio", "1 ratio", ("in/ft", "%", "mm/m", "ratio")),
    (Dimension.SLOPE, "pitch"): ("0/12", "36/12", ("/12", "in/ft", "ratio")),
    (Dimension.ANGLE, "angle"): ("0 deg", "180 deg", ("deg",)),
    (Dimension.ANGLE, "fitting"): ("1 deg", "180 deg", ("deg",)),
    (Dimension.AREA, "area"): ("0 in2", "20 ft2", ("in2", "ft2", "cm2", "m2")),
    (Dimension.AREA, "stamp"): ("0 in2", "20 ft2", ("in2", "ft2", "cm2", "m2")),
    (Dimension.FLOW, "flow"): ("0 cfm", "5000 cfm", ("cfm", "L/s", "m3/h")),
    (Dimension.RATE, "rate"): ("0.01 ACH", "20 ACH", ("ACH",)),
    (Dimension.VOLUME, "volume"): ("1 ft3", "1000000 ft3", ("ft3", "m3")),
    (Dimension.POWER, "plate"): ("1 kBtu/h", "2000 kBtu/h", ("Btu/h", "kBtu/h", "kW", "W")),
    (Dimension.POWER, "meter_clocked"): ("1 kBtu/h", "2000 kBtu/h", ("Btu/h", "kBtu/h", "kW", "W")),
    (Dimension.PRESSURE, "pressure"): ("-500 Pa", "500 Pa", ("Pa", "in w.c.")),
    (Dimension.PRESSURE, "stamp"): ("-500 Pa", "500 Pa", ("Pa", "in w.c.")),
    (Dimension.TEMPERATURE, "published"): ("-60 degC", "60 degC", ("degF", "degC")),
    (Dimension.TEMPERATURE, "stamp"): ("0 degC", "3000 degC", ("degF", "degC")),
    (Dimension.DENSITY, "stamp"): ("0.1 lb/ft3", "200 lb/ft3", ("lb/ft3", "kg/m3")),
    (Dimension.CONDUCTIVITY, "stamp"): (
        "0.005 W/(m K)",
        "10 W/(m K)",
        ("Btu in/(h ft2 F)", "Btu/(h ft F)", "W/(m K)"),
    ),
    (Dimension.RESISTANCE, "stamp"): (
        "0 m2 K/W",
        "20 m2 K/W",
        ("h ft2 F/Btu", "m2 K/W"),
    ),
    (Dimension.TIME, "age"): ("0 yr", "200 yr", ("yr",)),
    (Dimension.TIME, "time"): ("0 s", "1 h", ("s", "min")),
    (Dimension.CONCENTRATION, "concentration"): ("0 ppm", "100000 ppm", ("ppm",)),
    (Dimension.CONCENTRATION, "oxygen"): ("0 vol %", "20.9 vol %", ("vol %",)),
    (Dimension.EXPLOSIVE, "explosive"): ("0 % LEL", "100 % LEL", ("% LEL",)),
    (Dimension.COUNT, "count"): ("0", "24", ("count",)),
}

# Fields that differ from others read the same way.
_PIPE: _Row = ("2 in", "24 in", ("in", "mm", "cm"))
_CLEARANCE: _Row = ("0 in", "20 ft", _SHORT)
_UP_OR_DOWN: _Row = ("-120 ft", "120 ft", _SHORT)
_FIELD: dict[tuple[str, str], _Row] = {
    ("diameter", "stamp"): _PIPE,
    ("to_diameter", "stamp"): _PIPE,
    ("outlet_diameter", "stamp"): _PIPE,
    ("replaces", "stamp"): _PIPE,
    ("distance", "length"): _CLEARANCE,
    ("front", "length"): _CLEARANCE,
    ("back", "length"): _CLEARANCE,
    ("sides", "length"): _CLEARANCE,
    ("top", "length"): _CLEARANCE,
    ("relief_clearance", "length"): _CLEARANCE,
    ("rise", "length"): ("-60 ft", "60 ft", _SHORT),
    ("elevation", "height"): ("-1500 ft", "15000 ft", ("ft", "m")),
    ("top_above_penetration", "height"): _UP_OR_DOWN,
    ("outlet_above", "height"): _UP_OR_DOWN,
    ("above_terminal", "height"): _UP_OR_DOWN,
}


def plausible(field: str, reading: Reading) -> Plausible:
    """The believable values of a survey's field.

    Raises:
        KeyError: a reading of this kind has no range yet.
    """
    row = _FIELD.get((field, reading.by)) or _BY[reading.dimension, reading.by]
    return _in_si(row, reading.dimension)


@cache
def _in_si(row: _Row, dimension: Dimension) -> Plausible:
    low, high, units = row
    return Plausible(low, high, parse(low, dimension).value, parse(high, dimension).value, units)


def outside(text: str, parsed: Parsed, dimension: Dimension, likely: Plausible) -> str:
    """The sentence on a value outside its range, with what may have been meant."""
    meant = " or ".join(f'"{other}"' for other in _meant(parsed, dimension, likely))
    ask = f"Did you mean {meant}?" if meant else "Look at the reading again."
    return f'"{text}" is outside {likely.low} to {likely.high}. {ask}'


def _meant(parsed: Parsed, dimension: Dimension, likely: Plausible) -> list[str]:
    """The number with another unit, and with the decimal point one place off, where believable."""
    if parsed.unit == "deg" and dimension is Dimension.SLOPE:
        number = math.degrees(math.atan(parsed.value))
    else:
        number = to_unit(parsed.value, parsed.unit)
    units = [with_unit(f"{number:.6f}", unit) for unit in likely.units if unit != parsed.unit]
    moved = [with_unit(f"{shifted:.6f}", parsed.unit) for shifted in (number / 10.0, number * 10.0)]
    believed = [
        [text for text in texts if _believable(text, dimension, likely)]
        for texts in (units, moved if number else [])
    ]
    return [text for texts in believed for text in texts[:1]]


def _believable(text: str, dimension: Dimension, likely: Plausible) -> bool:
    """Whether a suggestion can be written at all (half a screw cannot) and is in range."""
    try:
        return likely.holds(parse(text, dimension).value)
    except BadQuantity:
        return False
