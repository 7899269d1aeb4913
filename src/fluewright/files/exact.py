"""SI values as text that reads back to the very same float, short where a person wrote it short."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from decimal import Decimal

from fluewright.errors import BadQuantity, OutOfRange
from fluewright.quantity import Dimension, difference_to_unit, parse, to_unit
from fluewright.units import UNITS

_NEAR = 3  # floats to try on each side of the quotient


def exact_text(
    value: float, bound: float | None, dimension: Dimension, units: tuple[str, ...]
) -> str:
    """The value, with ``±`` its bound where one is given, such that `parse` gives both back.

    Args:
        value: SI.
        bound: SI half-width, or None for none.
        dimension: what it measures.
        units: units that people use for it, the usual one first; all others serve if need be.
    Raises:
        OutOfRange: no text of a sensible length gives it back.
    """
    text = _shortest(value, dimension, units, to_unit, _value_of)
    if bound is None:
        return text

    def bound_of(tolerance: str, of: Dimension) -> float | None:
        return parse(f"{text} ± {tolerance}", of).tolerance

    return f"{text} ± {_shortest(bound, dimension, units, difference_to_unit, bound_of)}"


def _value_of(text: str, dimension: Dimension) -> float | None:
    return parse(text, dimension).value


def _shortest(
    value: float,
    dimension: Dimension,
    units: tuple[str, ...],
    to_number: Callable[[float, str], float],
    back: Callable[[str, Dimension], float | None],
) -> str:
    """The exact text with the shortest number in a usual unit; else in any unit."""
    every = tuple(unit.name for unit in UNITS.values() if unit.dimension is dimension)
    for names in (units, every):
        exact = {}
        for unit in names:
            for text in _candidates(to_number(value, unit), unit):
                if _reads_as(text, value, dimension, back):
                    exact[text] = len(text) - len(unit)
                    break
        if exact:
            return min(exact, key=exact.__getitem__)
    raise OutOfRange(f"{dimension} {value!r} (SI) has too many digits to be written exactly.")


def _candidates(number: float, unit: str) -> Iterator[str]:
    """The number rounded a little, as it is, and its neighbors, with the unit."""
    tries = [float(f"{number:.12g}"), number]
    for towards in (math.inf, -math.inf):
        near = number
        for _ in range(_NEAR):
            near = math.nextafter(near, towards)
            tries.append(near)
    for one in dict.fromkeys(tries):
        yield with_unit(format(Decimal(repr(one + 0.0)), "f"), unit)


def with_unit(digits: str, unit: str) -> str:
    """Digits and unit as a person writes them: ``7/12``, ``52.25 in``, ``3``."""
    short = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return short + {"/12": "/12", "count": ""}.get(unit, f" {unit}")


def _reads_as(
    text: str, value: float, dimension: Dimension, back: Callable[[str, Dimension], float | None]
) -> bool:
    try:
        return back(text, dimension) == value
    except BadQuantity:
        return False
