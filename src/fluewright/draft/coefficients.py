"""What the physics assumes where nothing was measured: each number with its range and source.

The table itself is data; this checks it and hands it out. A number without a source, or with a
basis that nobody knows, is refused, so that no coefficient can slip in unexplained.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, get_args

from fluewright.errors import BadEdition, OutOfRange

Spread = Literal["fixed", "uniform", "triangular", "loguniform"]
CoefficientBasis = Literal[
    "read", "abstract", "secondary", "practice", "memory", "derived", "fitted", "assumed"
]
SPREADS: tuple[str, ...] = get_args(Spread)
COEFFICIENT_BASES: tuple[str, ...] = get_args(CoefficientBasis)
_COMMON = {"unit", "spread", "source", "basis", "low", "high", "note"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficient:
    """One number of the model, the range that is plausible, and how it is known.

    Attributes:
        name: group and name, ``hood.entrance_loss``.
        value, low, high: in ``unit``; low and high equal the value where it is fixed.
        unit: SI, "1" for a plain number.
        spread: how an ensemble draws it between low and high.
        source: document or reason; basis: how well that is known.
    """

    name: str
    value: float
    low: float
    high: float
    unit: str
    spread: Spread
    source: str
    basis: CoefficientBasis
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A coefficient that depends on one number, given at some points.

    ``low`` and ``high`` are factors on the whole curve. ``x_unit`` is that of the number.
    """

    name: str
    points: tuple[tuple[float, float], ...]
    x_unit: str
    low: float
    high: float
    unit: str
    spread: Spread
    source: str
    basis: CoefficientBasis
    note: str = ""

    def at(self, x: float) -> float:
        """The coefficient at x, by straight lines between the points. [unit]

        Raises:
            OutOfRange: x lies beyond the points; nothing is extrapolated.
        """
        first, last = self.points[0][0], self.points[-1][0]
        if not first <= x <= last:
            raise OutOfRange(
                f"{self.name}: {x:g} {self.x_unit} is beyond its points, "
                f"{first:g} to {last:g} {self.x_unit}. Nothing is extrapolated."
            )
        for (x0, y0), (x1, y1) in pairwise(self.points):
            if x <= x1:
                return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        raise AssertionError("x lies between the first point and the last")


@dataclass(frozen=True, slots=True)
class Coefficients:
    """All coefficients: plain numbers and curves, by name."""

    numbers: Mapping[str, Coefficient]
    curves: Mapping[str, Curve]

    def value(self, name: str) -> float:
        """The value of a plain number, in its unit.

        Raises:
            BadEdition: no coefficient has that name.
        """
        if name not in self.numbers:
            raise BadEdition(f"coefficient {name} is not in the table of coefficients.")
        return self.numbers[name].value

    def curve(self, name: str) -> Curve:
        """The curve of that name.

        Raises:
            BadEdition: no curve has that name.
        """
        if name not in self.curves:
            raise BadEdition(f"curve {name} is not in the table of coefficients.")
        return self.curves[name]


def coefficients_from(data: Mapping[str, object]) -> Coefficients:
    """The coefficients of a table: group, name, then the keys of a row.

    Args:
        data: as read from the file; the keys are listed at its head.

    Raises:
        BadEdition: names every row that lacks something or holds something unknown.
    """
    numbers: dict[str, Coefficient] = {}
    curves: dict[str, Curve] = {}
    faults: list[str] = []
    for group, rows in data.items():
        if not isinstance(rows, Mapping):
            faults.append(f"{group}: a group of rows is expected.")
            continue
        for key, row in rows.items():
            name = f"{group}.{key}"
            try:
                if not isinstance(row, Mapping):
                    raise BadEdition("a row with value, unit, source and basis is expected.")
                if "points" in row:
                    curves[name] = _curve(name, row)
                else:
                    numbers[name] = _number(name, row)
            except BadEdition as fault:
                faults.append(f"{name}: {fault}")
    if faults:
        raise BadEdition("\n".join(faults))
    return Coefficients(numbers, curves)


def _number(name: str, row: Mapping[str, object]) -> Coefficient:
    """A row with one value."""
    _known(row, _COMMON | {"value"})
    value = _finite(row, "value")
    spread = _word(row, "spread", SPREADS)
    fixed = spread == "fixed"
    if fixed and ("low" in row or "high" in row):
        raise BadEdition("fixed, yet it has low or high. Write how it spreads.")
    low, high = (value, value) if fixed else (_finite(row, "low"), _finite(row, "high"))
    if not low <= value <= high or (low == high and not fixed):
        raise BadEdition(f"value {value:g} and its range {low:g} to {high:g} do not fit.")
    if spread == "loguniform" and low <= 0.0:
        raise BadEdition("loguniform needs a range above zero.")
    return Coefficient(
        name=name, value=value, low=low, high=high,
        unit=_text(row, "unit"), spread=spread,  # type: ignore[arg-type]
        source=_text(row, "source"), basis=_word(row, "basis", COEFFICIENT_BASES),  # type: ignore[arg-type]
        note=str(row.get("note", "")),
    )  # fmt: skip


def _curve(name: str, row: Mapping[str, object]) -> Curve:
    """A row with points."""
    _known(row, _COMMON | {"points", "x_unit"})
    points = _points(row["points"])
    low, high = _finite(row, "low"), _finite(row, "high")
    if not 0.0 < low <= 1.0 <= high:
        raise BadEdition(f"low {low:g} and high {high:g} are factors: low up to 1, high from 1.")
    return Curve(
        name=name, points=points, x_unit=_text(row, "x_unit"), low=low, high=high,
        unit=_text(row, "unit"), spread=_word(row, "spread", SPREADS),  # type: ignore[arg-type]
        source=_text(row, "source"), basis=_word(row, "basis", COEFFICIENT_BASES),  # type: ignore[arg-type]
        note=str(row.get("note", "")),
    )  # fmt: skip


def _points(raw: object) -> tuple[tuple[float, float], ...]:
    """Pairs of finite numbers, x rising."""
    pairs = raw if isinstance(raw, list) else []
    points = tuple(
        (float(pair[0]), float(pair[1])) for pair in pairs if isinstance(pair, list) and _two(pair)
    )
    rising = all(a[0] < b[0] for a, b in pairwise(points))
    if len(points) < 2 or len(points) != len(pairs) or not rising:
        raise BadEdition("points are not two or more pairs of numbers with x rising.")
    return points


def _two(pair: list[object]) -> bool:
    """Whether it is two finite numbers."""
    return len(pair) == 2 and all(_is_number(one) for one in pair)


def _is_number(raw: object) -> bool:
    """Whether it is a finite number, not a truth value."""
    return isinstance(raw, int | float) and not isinstance(raw, bool) and math.isfinite(raw)


def _known(row: Mapping[str, object], keys: set[str]) -> None:
    """Complain about keys that nothing reads."""
    odd = sorted(row.keys() - keys)
    if odd:
        raise BadEdition(f"{', '.join(odd)} is not known. Write {', '.join(sorted(keys))}.")


def _finite(row: Mapping[str, object], key: str) -> float:
    """A finite number of the row."""
    raw = row.get(key)
    if not isinstance(raw, int | float) or not _is_number(raw):
        raise BadEdition(f"{key} is {raw!r}. Give a finite number.")
    return float(raw)


def _text(row: Mapping[str, object], key: str) -> str:
    """A text of the row that says something."""
    raw = row.get(key)
    if not isinstance(raw, str) or not raw.strip():
        raise BadEdition(f"{key} is missing or empty.")
    return raw


def _word(row: Mapping[str, object], key: str, allowed: tuple[str, ...]) -> str:
    """One of the allowed words."""
    raw = _text(row, key)
    if raw not in allowed:
        raise BadEdition(f'{key} "{raw}" is not known. Write one of: {", ".join(allowed)}.')
    return raw
