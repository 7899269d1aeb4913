"""Printing quantities for people: feet, inches and tape fractions, or metric.

Whatever `show` prints, `parse` reads back to within half of the last printed step.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Literal, NamedTuple

from fluewright.errors import BadQuantity, OutOfRange
from fluewright.units import THOUSANDS, UNITS, Dimension, Unit, unit_named

D = Dimension
Style = Literal["us", "metric"]

_PER_FOOT = 192  # sixteenths of an inch
_FEET_FROM_IN = 36  # shorter lengths are said in inches, as a tape is read
_FINE_BELOW_IN = 0.125  # sheet thickness and fine gaps: decimals, not tape fractions
_SAME_STEP = 1e-3  # this near to a whole number of sixteenths (in sixteenths) is a whole number
_SAME_SLOPE = 0.04  # likewise for slopes, which are seldom a whole number of sixteenths

# How units are printed, where it differs from their name in the table.
_PRINTED = {
    "in/ft": " in per ft",
    "/12": "/12",
    "deg": "°",
    "in2": " in²",
    "ft2": " ft²",
    "mm2": " mm²",
    "cm2": " cm²",
    "m2": " m²",
    "ft3": " ft³",
    "m3": " m³",
    "m3/h": " m³/h",
    "m3/s": " m³/s",
    "degF": " °F",
    "degC": " °C",
    "lb/ft3": " lb/ft³",
    "kg/m3": " kg/m³",
    "h ft2 F/Btu": " h ft² °F/Btu",
    "Btu in/(h ft2 F)": " Btu in/(h ft² °F)",
    "Btu/(h ft F)": " Btu/(h ft °F)",
    "m2 K/W": " m² K/W",
    "count": "",
}


class _Row(NamedTuple):
    """How values from ``start`` (SI) on are printed."""

    start: float
    unit: str
    digits: int  # significant; whole digits are never rounded away
    most: int  # decimals
    least: int = 0  # decimals, kept even where they are zero


_DECIMAL_INCHES = (_Row(0.0, "in", 3, 4),)
_US: dict[Dimension, tuple[_Row, ...]] = {
    D.SLOPE: (_Row(0.0, "in/ft", 2, 3), _Row(0.1 / 12.0, "in/ft", 6, 2)),
    D.ANGLE: (_Row(0.0, "deg", 3, 1),),
    D.AREA: (_Row(0.0, "in2", 3, 2), _Row(0.9290304, "ft2", 3, 1)),
    D.VOLUME: (_Row(0.0, "ft3", 3, 2),),
    D.POWER: (_Row(0.0, "Btu/h", 1, 0),),
    D.PRESSURE: (_Row(0.0, "in w.c.", 2, 4), _Row(25.0, "in w.c.", 3, 3)),
    D.TEMPERATURE: (_Row(0.0, "degF", 4, 1),),
    D.FLOW: (_Row(0.0, "cfm", 3, 2),),
    D.RATE: (_Row(0.0, "ACH", 3, 2),),
    D.TIME: (
        _Row(0.0, "s", 3, 1),
        _Row(120.0, "min", 3, 1),
        _Row(7200.0, "h", 3, 1),
        _Row(172_800.0, "d", 3, 1),
        _Row(63_115_200.0, "yr", 3, 1),
    ),
    D.DENSITY: (_Row(0.0, "lb/ft3", 3, 4),),
    D.CONDUCTIVITY: (_Row(0.0, "Btu in/(h ft2 F)", 3, 4),),
    D.RESISTANCE: (_Row(0.0, "h ft2 F/Btu", 3, 2),),
    D.CONCENTRATION: (_Row(0.0, "ppm", 2, 1), _Row(10_000.0, "vol %", 3, 2)),
    D.EXPLOSIVE: (_Row(0.0, "% LEL", 2, 1),),
    D.COUNT: (_Row(0.0, "count", 3, 1),),
}
_METRIC: dict[Dimension, tuple[_Row, ...]] = _US | {
    D.LENGTH: (_Row(0.0, "mm", 3, 2), _Row(0.01, "mm", 2, 0), _Row(1.0, "m", 4, 3)),
    D.SLOPE: (_Row(0.0, "mm/m", 3, 1),),
    D.AREA: (_Row(0.0, "cm2", 3, 1), _Row(1.0, "m2", 3, 2)),
    D.VOLUME: (_Row(0.0, "m3", 3, 3),),
    D.POWER: (_Row(0.0, "W", 3, 1), _Row(1000.0, "kW", 4, 3)),
    D.PRESSURE: (_Row(0.0, "Pa", 2, 2, 1), _Row(0.995, "Pa", 3, 2, 1), _Row(100.0, "Pa", 4, 1)),
    D.TEMPERATURE: (_Row(0.0, "degC", 4, 1),),
    D.FLOW: (_Row(0.0, "L/s", 3, 2),),
    D.DENSITY: (_Row(0.0, "kg/m3", 3, 3),),
    D.CONDUCTIVITY: (_Row(0.0, "W/(m K)", 3, 4),),
    D.RESISTANCE: (_Row(0.0, "m2 K/W", 3, 3),),
}


def show(
    value: float, dimension: Dimension, style: Style = "us", *, unit: str | None = None
) -> str:
    """The SI value as people write it, in the style's units or in the one named.

    Raises:
        OutOfRange: the value is not finite.
        BadQuantity: the named unit does not measure this dimension.

    >>> show(1.9177, Dimension.LENGTH)
    '6 ft 3 1/2 in'
    """
    if unit is None:
        return _level(value, dimension, style)
    _check(value, style)
    return _in_unit(value, dimension, unit)


@lru_cache(maxsize=4096)  # limits and sizes come back many times in one judgement
def _level(value: float, dimension: Dimension, style: Style) -> str:
    """The value in the style's units, from where its scale begins."""
    _check(value, style)
    if dimension is D.TEMPERATURE:
        row = _rows(dimension, style)[0]
        return _with_unit(UNITS[row.unit].number(value), row, up=False)
    if dimension is D.RESISTANCE and style == "us" and value >= 0.0:
        row = _rows(dimension, style)[0]
        return f"R-{_digits(UNITS[row.unit].number(value), row, up=False)}"
    return _amount(value, dimension, style, up=False)


def show_difference(
    value: float, dimension: Dimension, style: Style = "us", *, up: bool = False
) -> str:
    """An SI difference (margin, tolerance) as people write it.

    With ``up``, for a bound, it is rounded away from zero: never printed smaller than it is.
    """
    return _difference(value, dimension, style, up)


@lru_cache(maxsize=4096)
def _difference(value: float, dimension: Dimension, style: Style, up: bool) -> str:
    _check(value, style)
    return _amount(value, dimension, style, up=up)


def show_pressure(value_pa: float) -> str:
    """A pressure both ways, as draft is written: ``-3.0 Pa (-0.012 in w.c.)``."""
    return f"{show(value_pa, D.PRESSURE, 'metric')} ({show(value_pa, D.PRESSURE, 'us')})"


def show_pitch(ratio: float) -> str:
    """A roof pitch as rise over a run of 12: ``7/12``, or ``6.5/12`` where needed."""
    _check(ratio, "us")
    return f"{_digits(ratio * 12.0, _Row(0.0, '/12', 3, 1), up=False)}/12"


def fraction_text(inches: float, parts: int = 16) -> str:
    """A number of inches to the nearest part, as on a tape: ``17 1/2``."""
    _check(inches, "us")
    sign = "-" if inches < 0.0 else ""
    steps = round(abs(inches) * parts)
    return f"{sign if steps else ''}{_steps_text(steps, parts)}"


def _check(value: float, style: str) -> None:
    """Refuse what cannot be printed."""
    if not math.isfinite(value):
        raise OutOfRange(f"{value} cannot be shown. Give a finite number.")
    if style not in ("us", "metric"):
        raise ValueError(f'"{style}" is not a style of writing. Give "us" or "metric".')


def _rows(dimension: Dimension, style: Style) -> tuple[_Row, ...]:
    """How the dimension is printed in the style."""
    return (_US if style == "us" else _METRIC)[dimension]


def _amount(value: float, dimension: Dimension, style: Style, *, up: bool) -> str:
    """The value or difference in the style's units, zero meaning zero."""
    if style == "us" and dimension is D.LENGTH:
        return _feet_and_inches(UNITS["in"].number(value), up=up)
    if style == "us" and dimension is D.SLOPE:
        fraction = _slope_fraction(value * 12.0)
        if fraction is not None:
            return fraction
    row = next(row for row in reversed(_rows(dimension, style)) if abs(value) >= row.start)
    return _with_unit(UNITS[row.unit].number_of_difference(value), row, up=up)


def _in_unit(value: float, dimension: Dimension, name: str) -> str:
    """The value in the one unit that was asked for, as a decimal."""
    row = _Row(0.0, name, 4, 4)
    if dimension is D.SLOPE and name == "deg":
        return _with_unit(math.degrees(math.atan(value)), row, up=False)
    unit: Unit = unit_named(name)
    if unit.dimension is not dimension:
        raise BadQuantity(f'"{name}" is a unit of {unit.dimension}; give one of {dimension}.')
    return _with_unit(unit.number(value), row, up=False)


def _feet_and_inches(inches: float, *, up: bool) -> str:
    """``6 ft 3 1/2 in``, ``15 in``, ``0.018 in``."""
    size = abs(inches)
    steps = _sixteenths(size, up=up)
    whole = abs(size * 16.0 - steps) <= _SAME_STEP and steps > 0
    if 0.0 < size < _FINE_BELOW_IN and not whole:
        return _with_unit(inches, _DECIMAL_INCHES[0], up=up)
    sign = "-" if inches < 0.0 and steps else ""
    if steps < _FEET_FROM_IN * 16:
        return f"{sign}{_steps_text(steps, 16)} in"
    feet, rest = divmod(steps, _PER_FOOT)
    return f"{sign}{feet} ft" + (f" {_steps_text(rest, 16)} in" if rest else "")


def _sixteenths(inches: float, *, up: bool) -> int:
    """The nearest number of sixteenths, or the next higher one."""
    return math.ceil(inches * 16.0 - _SAME_STEP) if up else round(inches * 16.0)


def _slope_fraction(inches_per_foot: float) -> str | None:
    """``1/8 in per ft`` where the slope is near a tape fraction, else None."""
    steps = round(abs(inches_per_foot) * 16.0)
    if abs(abs(inches_per_foot) * 16.0 - steps) > (_SAME_SLOPE if steps else 0.0):
        return None
    return f"{'-' if inches_per_foot < 0.0 and steps else ''}{_steps_text(steps, 16)} in per ft"


def _steps_text(steps: int, parts: int) -> str:
    """So many parts of one as a mixed number in lowest terms."""
    whole, top = divmod(steps, parts)
    if not top:
        return str(whole)
    common = math.gcd(top, parts)
    fraction = f"{top // common}/{parts // common}"
    return f"{whole} {fraction}" if whole else fraction


def _with_unit(number: float, row: _Row, *, up: bool) -> str:
    """The number as the row prints it, and its unit."""
    return _digits(number, row, up=up) + _PRINTED.get(row.unit, f" {row.unit}")


def _digits(number: float, row: _Row, *, up: bool) -> str:
    """The number with the row's digits, thousands grouped, without needless zeros."""
    size = abs(number)
    exponent = math.floor(math.log10(size)) if size > 0.0 else 0
    decimals = min(max(row.digits - 1 - exponent, row.least), row.most)
    if up:
        step = 10.0**-decimals
        size = math.ceil(size / step - _SAME_STEP) * step
    grouped = "," if row.unit in THOUSANDS else ""
    text = f"{size:{grouped}.{decimals}f}"
    while decimals > row.least and text.endswith("0"):
        text, decimals = text[:-1], decimals - 1
    text = text.rstrip(".")
    if number < 0.0 and text.strip("0.,"):
        return f"-{text}"
    return text
