"""Quantities: measured values with their tolerance, and their text in both directions.

Inside the program every value is SI. A tolerance is a bound (half-width), not a standard
deviation; sums and differences add bounds (worst case).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from fluewright.errors import OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity_in import Parsed, parse, parse_tolerance
from fluewright.quantity_out import (
    Style,
    fraction_text,
    show,
    show_difference,
    show_pitch,
    show_pressure,
)
from fluewright.units import (
    Dimension,
    difference_from_unit,
    difference_to_unit,
    from_unit,
    to_unit,
)

__all__ = [
    "Dimension",
    "Measured",
    "NotMeasured",
    "Parsed",
    "Style",
    "difference_from_unit",
    "difference_to_unit",
    "fraction_text",
    "from_unit",
    "larger",
    "parse",
    "parse_tolerance",
    "show",
    "show_difference",
    "show_measured",
    "show_pitch",
    "show_pressure",
    "smaller",
    "to_unit",
]


@dataclass(frozen=True, slots=True)
class Measured:
    """A value with its bound, and where it comes from.

    ``value`` and ``tolerance`` are SI; ``tolerance`` is a half-width and never negative.
    ``tool`` names what it was read with; ``evidence`` names the readings or photos behind it.
    Of something computed from several, ``tool`` is that of the widest bound among them.
    """

    value: float
    dimension: Dimension
    tolerance: float = 0.0
    tool: str | None = None
    evidence: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        # A negative or unordered bound would turn "cannot tell" into "meets".
        if not (math.isfinite(self.value) and 0.0 <= self.tolerance < math.inf):
            raise OutOfRange(
                f"{self.dimension} {self.value} ± {self.tolerance} is not a measured value. "
                "Give a finite value and a finite tolerance of at least 0."
            )

    @classmethod
    def between(
        cls,
        low: float,
        high: float,
        dimension: Dimension,
        tool: str | None = None,
        evidence: tuple[str, ...] = (),
    ) -> Measured:
        """The value known only to lie from low to high (both SI).

        Raises:
            OutOfRange: low is above high.
        """
        if low > high:
            raise OutOfRange(f"{dimension} from {low} to {high}: give the lower end first.")
        return cls(low + (high - low) / 2.0, dimension, (high - low) / 2.0, tool, evidence)

    @property
    def low(self) -> float:
        """Least value the reading allows."""
        return self.value - self.tolerance

    @property
    def high(self) -> float:
        """Greatest value the reading allows."""
        return self.value + self.tolerance

    def __add__(self, other: Measured) -> Measured:
        """Sum, with both bounds added."""
        return _combined("added", (self, other), self.value + _value(other))

    def __sub__(self, other: Measured) -> Measured:
        """Difference, with both bounds added."""
        return _combined("subtracted", (self, other), self.value - _value(other))

    def scaled(self, factor: float) -> Measured:
        """The value and its bound times a plain number.

        Raises:
            TypeError: a temperature, which is a level from an arbitrary zero.
        """
        _no_level("scaled", self)
        bound = self.tolerance * abs(factor)
        return Measured(self.value * factor, self.dimension, bound, self.tool, self.evidence)


@frozen
class NotMeasured:
    """Nobody measured it, and why: the reason is shown instead of a number."""

    reason: str


def smaller(first: Measured, *others: Measured) -> Measured:
    """The least of several values of one dimension, as far as their bounds tell."""
    return _extreme("compared", (first, *others), min)


def larger(first: Measured, *others: Measured) -> Measured:
    """The greatest of several values of one dimension, as far as their bounds tell."""
    return _extreme("compared", (first, *others), max)


def show_measured(measured: Measured, style: Style = "us") -> str:
    """The value with its bound, for people: ``15 in ± 1/16 in``; no bound where it is zero."""
    value = show(measured.value, measured.dimension, style)
    if measured.tolerance == 0.0:
        return value
    return f"{value} ± {show_difference(measured.tolerance, measured.dimension, style, up=True)}"


def _value(other: object) -> float:
    """The value of the second operand, which has to be measured too."""
    if not isinstance(other, Measured):
        raise TypeError(
            f"{other!r} is not a Measured. Wrap a plain SI number: Measured(number, dimension)."
        )
    return other.value


def _same_kind(deed: str, parts: tuple[Measured, ...]) -> Dimension:
    """The dimension that all parts share."""
    kinds = {part.dimension for part in parts}
    if len(kinds) > 1:
        names = " and ".join(sorted(kinds))
        raise TypeError(f"{names} cannot be {deed}: both must be of one dimension.")
    return parts[0].dimension


def _no_level(deed: str, part: Measured) -> None:
    """Refuse arithmetic on a temperature: 20 degC plus 20 degC is not 40 degC of anything."""
    if part.dimension is Dimension.TEMPERATURE:
        raise TypeError(f"temperature cannot be {deed}: it is a level. Use the values themselves.")


def _origin(parts: tuple[Measured, ...]) -> tuple[str | None, tuple[str, ...]]:
    """Tool of the widest bound that has one, and all evidence in order, each once."""
    read = [part for part in parts if part.tool]
    widest = max(read, key=lambda part: part.tolerance, default=None)
    evidence = dict.fromkeys(name for part in parts for name in part.evidence)
    return (widest.tool if widest else None), tuple(evidence)


def _combined(deed: str, parts: tuple[Measured, Measured], value: float) -> Measured:
    """A sum or difference with the bounds of its parts added."""
    dimension = _same_kind(deed, parts)
    _no_level(deed, parts[0])
    return Measured(value, dimension, parts[0].tolerance + parts[1].tolerance, *_origin(parts))


def _extreme(
    deed: str, parts: tuple[Measured, ...], choose: Callable[[Iterable[float]], float]
) -> Measured:
    """The least or greatest: its ends are the least or greatest of the parts' ends."""
    dimension = _same_kind(deed, parts)
    if len(parts) == 1:
        return parts[0]
    low, high = choose(part.low for part in parts), choose(part.high for part in parts)
    return Measured.between(low, high, dimension, *_origin(parts))
