"""Axes with round ticks, and the panel that turns numbers into places on the sheet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from fluewright.drawing.plot.data import Measure
from fluewright.drawing.scene import Point
from fluewright.errors import OutOfRange

LARGEST = 1e30  # beyond it a plot says nothing
ALIKE = 1e-9  # a spread below this share of the numbers is none
COUNTED = {3: "thousands", 6: "millions", 9: "billions",
           -3: "thousandths", -6: "millionths", -9: "billionths"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """A scale from one number to another with its ticks, their words, and its title."""

    low: float
    high: float
    ticks: tuple[float, ...]
    labels: tuple[str, ...]
    title: str

    def share(self, value: float) -> float:
        """Where a number lies between the ends: 0 at the low one, 1 at the high one."""
        return (value - self.low) / (self.high - self.low)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A box on the sheet with two axes. [mm]"""

    left: float
    bottom: float
    right: float
    top: float
    x: Axis
    y: Axis

    def at(self, x: float, y: float) -> Point:
        """The place of a pair of numbers on the sheet. [mm]"""
        return (
            self.left + (self.right - self.left) * self.x.share(x),
            self.bottom + (self.top - self.bottom) * self.y.share(y),
        )

    def holds(self, point: Point) -> bool:
        """Whether a place on the sheet lies in the box or on its edge."""
        x, y = point
        air = 1e-6
        return self.left - air <= x <= self.right + air and self.bottom - air <= y <= self.top + air


def spread(values: Iterable[float], where: str) -> tuple[float, float]:
    """The lowest and the highest of some numbers, moved apart where they are all alike. [as given]

    Raises:
        OutOfRange: there is none, or one is not finite or beyond 1e30.
    """
    given = list(values)
    for value in given:
        if not math.isfinite(value) or abs(value) > LARGEST:
            raise OutOfRange(f"{where}: {value} cannot be drawn. Give finite numbers below 1e30.")
    if not given:
        raise OutOfRange(f"{where}: there is no number to draw. Give at least one.")
    low, high = min(given), max(given)
    size = max(abs(low), abs(high))
    if high - low > ALIKE * size:
        return low, high
    if size == 0.0:
        return -1.0, 1.0
    return low - 0.5 * size, high + 0.5 * size


def nice_step(low: float, high: float, most: int) -> float:
    """The smallest step of 1, 2 or 5 times a power of ten with at most so many steps. [as given]"""
    raw = (high - low) / max(1, most)
    power = 10.0 ** math.floor(math.log10(raw))
    return next((m * power for m in (1.0, 2.0, 5.0) if m * power >= raw * (1 - 1e-9)), 10.0 * power)


def round_ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round numbers that enclose a range, each a whole multiple of one nice step. [as given]"""
    step = nice_step(low, high, most)
    first, last = math.floor(low / step + 1e-6), math.ceil(high / step - 1e-6)
    return tuple(step * n for n in range(first, last + 1))


def inner_ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round numbers within a range, none outside it. [as given]"""
    step = nice_step(low, high, most)
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    return tuple(step * n for n in range(first, last + 1))


def number(value: float, decimals: int) -> str:
    """A number as it stands on an axis: a real minus, commas between thousands."""
    text = f"{abs(value):,.{decimals}f}"
    return "\u2212" + text if value < 0 and float(text.replace(",", "")) != 0.0 else text


def plain_number(value: float, digits: int = 3) -> str:
    """A number with few digits, for a label: ``3.2``, ``−12``, ``1,400``."""
    if value == 0.0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = number(value, min(decimals, 9))
    return text.rstrip("0").rstrip(".") if "." in text else text


def tick_labels(ticks: tuple[float, ...]) -> tuple[tuple[str, ...], str]:
    """The words of some ticks, and what they are counted in where they are very large or small."""
    step = min((b - a for a, b in itertools.pairwise(ticks)), default=1.0)
    size = max(max(abs(t) for t in ticks), step)
    power = 0
    if size >= 1e6 or size < 2e-3:
        power = 3 * math.floor(math.log10(size) / 3 + 1e-9)
    scale = 10.0**power
    decimals = max(0, -math.floor(math.log10(step / scale) + 1e-9))
    counted = COUNTED.get(power, f"in 1e{power}") if power else ""
    return tuple(number(t / scale, min(decimals, 12)) for t in ticks), counted


def axis_title(measure: Measure, counted: str = "") -> str:
    """Name and unit of what an axis shows."""
    words = " ".join(word for word in (counted, measure.unit) if word)
    return f"{measure.name}, {words}" if words else measure.name


def axis_of(
    measure: Measure,
    values: Iterable[float],
    *,
    most: int = 6,
    zero: bool = False,
    ends: tuple[float, float] | None = None,
) -> Axis:
    """An axis around some numbers, with round ticks at both ends.

    Args:
        measure: name and unit.
        values: all that must be on it. [as given]
        most: steps between ticks, about.
        zero: whether zero must be on it.
        ends: where it has to start and end instead; the ticks then lie between. [as given]

    Raises:
        OutOfRange: no number, or one that cannot be drawn.
    """
    low, high = spread([*values, *((0.0,) if zero else ())], measure.name)
    if ends is not None:
        low, high = spread(ends, measure.name)
        ticks = inner_ticks(low, high, most)
    else:
        ticks = round_ticks(low, high, most)
        low, high = min(low, ticks[0]), max(high, ticks[-1])  # a tick may miss by its last bit
    labels, counted = tick_labels(ticks)
    return Axis(low=low, high=high, ticks=ticks, labels=labels, title=axis_title(measure, counted))


def also_axis(measure: Measure, axis: Axis, most: int) -> Axis | None:
    """The same scale in the second unit, where one is asked for.

    Its ticks are round in the second unit and stand where they belong on the first.
    """
    also = measure.also
    if also is None:
        return None
    low, high = sorted((axis.low * also.times + also.plus, axis.high * also.times + also.plus))
    round_ones = inner_ticks(low, high, most)
    labels, counted = tick_labels(round_ones)
    places = tuple((tick - also.plus) / also.times for tick in round_ones)
    words = " ".join(word for word in (counted, also.unit) if word)
    return Axis(low=axis.low, high=axis.high, ticks=places, labels=labels, title=words)
