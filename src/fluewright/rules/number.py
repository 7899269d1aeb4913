"""Numbers inside requirements: facts, limits, table cells, and the little arithmetic on them."""

from __future__ import annotations

from fluewright.edition import KeyedLimit, NumberLimit, StepLimit
from fluewright.facts import Unknown
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.rules.outcome import Context, Node
from fluewright.survey import ABSENT

Known = Measured | Unknown


class Num:
    """Base of numbers."""

    __slots__ = ()

    def value(self, ctx: Context) -> Measured | Unknown:
        """The number, or why there is none."""
        raise TypeError(f"{type(self).__name__} does not say how it is worked out")

    def fact_name(self) -> str:
        """The fact to measure better where this number is too vague; empty where none."""
        return ""

    def parts(self) -> tuple[Node, ...]:
        """Numbers inside this one."""
        return ()

    def times(self, factor: Num) -> Num:
        """This number times a ratio."""
        return Times(self, factor)


@frozen
class FactNum(Num):
    """A measured fact."""

    name: str

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        value = ctx.fact(self.name)
        if isinstance(value, Known):
            return value
        if value is ABSENT:
            return Unknown("said to be absent, so there is nothing to measure")
        raise TypeError(f"fact {self.name} is {value!r}, not a measure")


@frozen
class Val(Num):
    """A fact's number; where it was read and is silent, another number instead."""

    name: str
    otherwise: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.otherwise,)

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        if ctx.fact(self.name) is ABSENT:
            return self.otherwise.value(ctx)
        return FactNum(self.name).value(ctx)


@frozen
class LimitNum(Num):
    """A single number of the edition."""

    key: str
    dimension: Dimension

    def value(self, ctx: Context) -> Measured | Unknown:
        entry = ctx.limit(self.key)
        if not isinstance(entry, NumberLimit):
            raise TypeError(f"limit {self.key} is not a single number")
        return Measured(entry.value, self.dimension)


@frozen
class StepNum(Num):
    """A step table of the edition: the first row whose upper bound is not passed."""

    key: str
    by: Num
    dimension: Dimension
    by_dimension: Dimension

    def parts(self) -> tuple[Node, ...]:
        return (self.by,)

    def fact_name(self) -> str:
        return self.by.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        by = self.by.value(ctx)
        if isinstance(by, Unknown):
            return by
        entry = ctx.limit(self.key)
        if not isinstance(entry, StepLimit):
            raise TypeError(f"limit {self.key} is not a step table")
        rows = [entry.at(v) for v in (by.low, by.value, by.high)]
        known = [r for r in rows if r is not None]
        if len(known) < len(rows):
            return Unknown(entry.beyond)
        low, high = min(known), max(known)
        return Measured((low + high) / 2, self.dimension, (high - low) / 2, by.tool, by.evidence)


@frozen
class KeyedNum(Num):
    """A cell of a keyed table of the edition; words in the cell come back as a reason."""

    key: str
    row: str  # fact that names the row
    column: str  # fact that names the column, or a fixed name after "="
    dimension: Dimension

    def fact_name(self) -> str:
        return self.row

    def value(self, ctx: Context) -> Measured | Unknown:
        names: list[str] = []
        for source in (self.row, self.column):
            found = source[1:] if source.startswith("=") else ctx.fact(source)
            if isinstance(found, Unknown):
                return Unknown(found.reason, found.asks or (ctx.ask_for(source, found.reason),))
            names.append(found if isinstance(found, str) else "none")
        entry = ctx.limit(self.key)
        if not isinstance(entry, KeyedLimit):
            raise TypeError(f"limit {self.key} is not a keyed table")
        cell = entry.cell(names[0], names[1])
        if isinstance(cell, float):
            return Measured(cell, self.dimension)
        return Unknown(cell)


@frozen
class Times(Num):
    """A number times a ratio without doubt."""

    base: Num
    factor: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.base, self.factor)

    def fact_name(self) -> str:
        return self.base.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        base, factor = self.base.value(ctx), self.factor.value(ctx)
        if isinstance(base, Unknown):
            return base
        if isinstance(factor, Unknown):
            return factor
        k = factor.value
        return Measured(
            base.value * k, base.dimension, base.tolerance * abs(k), base.tool, base.evidence
        )


@frozen
class Minus(Num):
    """One number less another."""

    left: Num
    right: Num

    def parts(self) -> tuple[Node, ...]:
        return (self.left, self.right)

    def fact_name(self) -> str:
        return self.left.fact_name()

    def value(self, ctx: Context) -> Measured | Unknown:
        left, right = self.left.value(ctx), self.right.value(ctx)
        if isinstance(left, Unknown):
            return left
        if isinstance(right, Unknown):
            # Asked here: the caller knows the name of the left side alone.
            name = self.right.fact_name()
            return Unknown(right.reason, right.asks or (ctx.ask_for(name, right.reason),))
        return Measured(
            left.value - right.value,
            left.dimension,
            left.tolerance + right.tolerance,
            left.tool,
            left.evidence + right.evidence,
        )
