"""Three-valued logic over facts: the small language that the requirements are written in.

A condition is true, false or not known (Kleene). What is not known carries what would settle
it, so that a missing measurement never becomes a pass and always becomes a question. AND is
false as soon as one part is false; OR is true as soon as one part is true.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import Enum
from typing import Protocol

from fluewright.edition import KeyedLimit, LimitValue, NumberLimit, StepLimit, WordLimit
from fluewright.facts import FactValue, Unknown
from fluewright.finding import CLOSE, Comparison, Limit, MeasureNext, Sense
from fluewright.quantity import Dimension, Measured
from fluewright.source import Step
from fluewright.survey import ABSENT

UNSEEN = "?"  # element of a list fact that stands for a piece nobody could tell


class Truth(Enum):
    """True, false, or not known."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Outcome:
    """A truth with the numbers behind it and, where not known, what would settle it."""

    truth: Truth
    comparisons: tuple[Comparison, ...] = ()
    missing: tuple[MeasureNext, ...] = ()
    steps: tuple[Step, ...] = ()
    places: tuple[str, ...] = ()  # pieces at which it is so, where that is known


class Context(Protocol):
    """What a condition may look at: facts of one subject, limits of one edition."""

    subject: str

    def fact(self, name: str) -> FactValue:
        """Value of a fact for the subject at hand."""

    def label(self, name: str) -> str:
        """What people call a fact."""

    def ask_for(self, name: str, why: str) -> MeasureNext:
        """What to do to learn a fact."""

    def sharpen(self, name: str, reading: Measured, margin: Measured) -> MeasureNext:
        """Which better reading of a fact would settle a margin inside its tolerance."""

    def limit(self, key: str) -> LimitValue:
        """Limit of the edition."""

    def outcome_of(self, rule: str, not_asked: Truth) -> Outcome:
        """Outcome of another requirement for this subject; ``not_asked`` where it does not apply.

        Its numbers stay behind: they would be read as numbers of the rule that asks.
        """


class Cond:
    """Base of conditions; combine with ``&``, ``|`` and ``~``."""

    __slots__ = ()

    def judge(self, ctx: Context) -> Outcome:
        """Truth of the condition in a context."""
        raise TypeError(f"{type(self).__name__} does not say how it is judged")

    def parts(self) -> tuple[Cond | Num, ...]:
        """Conditions and numbers inside this one."""
        return ()

    def __and__(self, other: Cond) -> Cond:
        return AllOf((self, other))

    def __or__(self, other: Cond) -> Cond:
        return AnyOf((self, other))

    def __invert__(self) -> Cond:
        return Not(self)


class Num:
    """Base of numbers."""

    __slots__ = ()

    def value(self, ctx: Context) -> Measured | Unknown:
        """The number, or why there is none."""
        raise TypeError(f"{type(self).__name__} does not say how it is worked out")

    def fact_name(self) -> str:
        """The fact to measure better where this number is too vague; empty where none."""
        return ""

    def parts(self) -> tuple[Cond | Num, ...]:
        """Numbers inside this one."""
        return ()

    def times(self, factor: Num) -> Num:
        """This number times a ratio."""
        return Times(self, factor)


def walk(node: Cond | Num) -> Iterator[Cond | Num]:
    """The node and everything inside it."""
    yield node
    for part in node.parts():
        yield from walk(part)


# ---------------------------------------------------------------- conditions


@dataclass(frozen=True, slots=True)
class AllOf(Cond):
    """True when every part is true."""

    items: tuple[Cond, ...]

    def parts(self) -> tuple[Cond | Num, ...]:
        return self.items

    def judge(self, ctx: Context) -> Outcome:
        found = [item.judge(ctx) for item in self.items]
        return _joined(found, Truth.NO, Truth.YES)


@dataclass(frozen=True, slots=True)
class AnyOf(Cond):
    """True when one part is true."""

    items: tuple[Cond, ...]

    def parts(self) -> tuple[Cond | Num, ...]:
        return self.items

    def judge(self, ctx: Context) -> Outcome:
        found = [item.judge(ctx) for item in self.items]
        return _joined(found, Truth.YES, Truth.NO)


def _joined(found: list[Outcome], deciding: Truth, otherwise: Truth) -> Outcome:
    """Kleene's table: one deciding part decides; else one unknown leaves it open."""
    for truth in (deciding, Truth.UNKNOWN):
        chosen = [o for o in found if o.truth is truth]
        if chosen:
            return _gathered(truth, chosen)
    return _gathered(otherwise, found)


def _gathered(truth: Truth, found: list[Outcome]) -> Outcome:
    return Outcome(
        truth,
        tuple(c for o in found for c in o.comparisons),
        tuple(m for o in found for m in o.missing) if truth is Truth.UNKNOWN else (),
        tuple(s for o in found for s in o.steps),
        tuple(dict.fromkeys(p for o in found for p in o.places)),
    )


@dataclass(frozen=True, slots=True)
class Not(Cond):
    """Turns a truth round; its numbers no longer speak of the requirement, so they go."""

    item: Cond

    def parts(self) -> tuple[Cond | Num, ...]:
        return (self.item,)

    def judge(self, ctx: Context) -> Outcome:
        inner = self.item.judge(ctx)
        turned = {Truth.YES: Truth.NO, Truth.NO: Truth.YES, Truth.UNKNOWN: Truth.UNKNOWN}
        return Outcome(turned[inner.truth], (), inner.missing, inner.steps)


@dataclass(frozen=True, slots=True)
class Yes(Cond):
    """A yes-or-no fact is yes."""

    name: str

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if isinstance(value, bool):
            return Outcome(Truth.YES if value else Truth.NO, steps=_seen(ctx, self.name, value))
        if value is ABSENT:
            return Outcome(Truth.NO, steps=_seen(ctx, self.name, value))
        return _not_known(ctx, self.name, value)


@dataclass(frozen=True, slots=True)
class Gone(Cond):
    """A thing was looked for and is not there."""

    name: str

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if isinstance(value, Unknown):
            return _not_known(ctx, self.name, value)
        return Outcome(Truth.YES if value is ABSENT or value == () else Truth.NO)


@dataclass(frozen=True, slots=True)
class Nowhere(Cond):
    """A fault that a list fact names the places of is at no place."""

    name: str

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if value is ABSENT:
            return Outcome(Truth.YES)
        if isinstance(value, tuple):
            places = tuple(v for v in value if v != UNSEEN)
            if places:
                return Outcome(Truth.NO, steps=_seen(ctx, self.name, places), places=places)
            if not value:
                return Outcome(Truth.YES, steps=_seen(ctx, self.name, value))
            value = Unknown("not looked at everywhere")
        return _not_known(ctx, self.name, value)


@dataclass(frozen=True, slots=True)
class OneOf(Cond):
    """A word fact is one of these words."""

    name: str
    words: frozenset[str]

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if isinstance(value, str) and value != UNSEEN:
            truth = Truth.YES if value in self.words else Truth.NO
            return Outcome(truth, steps=_seen(ctx, self.name, value))
        if value is ABSENT:
            return Outcome(Truth.NO, steps=_seen(ctx, self.name, value))
        return _not_known(ctx, self.name, value)


@dataclass(frozen=True, slots=True)
class AnyIn(Cond):
    """At least one element of a list fact is one of these words."""

    name: str
    words: frozenset[str]

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if value is ABSENT:
            return Outcome(Truth.NO)
        if isinstance(value, tuple):
            if any(v in self.words for v in value):
                return Outcome(Truth.YES, steps=_seen(ctx, self.name, value))
            if UNSEEN not in value:
                return Outcome(Truth.NO, steps=_seen(ctx, self.name, value))
            value = Unknown("not told for every piece")
        return _not_known(ctx, self.name, value)


@dataclass(frozen=True, slots=True)
class AllIn(Cond):
    """Every element of a list fact is one of these words."""

    name: str
    words: frozenset[str]

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if value is ABSENT:
            return Outcome(Truth.YES)
        if isinstance(value, tuple):
            if any(v not in self.words and v != UNSEEN for v in value):
                return Outcome(Truth.NO, steps=_seen(ctx, self.name, value))
            if UNSEEN not in value:
                return Outcome(Truth.YES, steps=_seen(ctx, self.name, value))
            value = Unknown("not told for every piece")
        return _not_known(ctx, self.name, value)


@dataclass(frozen=True, slots=True)
class Ask(Cond):
    """Never true by itself: only a person or a paper can settle it."""

    label: str
    how: str

    def judge(self, ctx: Context) -> Outcome:
        return Outcome(
            Truth.UNKNOWN,
            missing=(MeasureNext("", self.label, ctx.subject, self.how, "", ask=True),),
        )


@dataclass(frozen=True, slots=True)
class RuleMeets(Cond):
    """Another requirement is met for this subject; what is not asked is not met."""

    rule: str

    def judge(self, ctx: Context) -> Outcome:
        return ctx.outcome_of(self.rule, Truth.NO)


@dataclass(frozen=True, slots=True)
class NotAgainst(Cond):
    """Another requirement is met for this subject, or is not asked."""

    rule: str

    def judge(self, ctx: Context) -> Outcome:
        return ctx.outcome_of(self.rule, Truth.YES)


@dataclass(frozen=True, slots=True)
class Doubt(Cond):
    """Two readings of a text that leaves a datum open.

    Met only under the strict reading, failed only when the loose one fails too, between them
    not known: the authority says which is meant.
    """

    strict: Cond
    loose: Cond
    question: str

    def parts(self) -> tuple[Cond | Num, ...]:
        return (self.strict, self.loose)

    def judge(self, ctx: Context) -> Outcome:
        strict = self.strict.judge(ctx)
        if strict.truth is Truth.YES:
            return strict
        loose = self.loose.judge(ctx)
        if loose.truth is Truth.NO:
            return loose
        asked = MeasureNext("", "which reading applies", ctx.subject, self.question, "", ask=True)
        open_ = strict.missing + loose.missing
        if loose.truth is Truth.YES and strict.truth is Truth.NO:
            open_ = (asked,)
        return Outcome(Truth.UNKNOWN, loose.comparisons or strict.comparisons, open_)


@dataclass(frozen=True, slots=True)
class Compare(Cond):
    """A number keeps to one side of another."""

    left: Num
    sense: Sense
    right: Num
    label: str = ""
    unit: str = ""

    def parts(self) -> tuple[Cond | Num, ...]:
        return (self.left, self.right)

    def judge(self, ctx: Context) -> Outcome:
        left, right = self.left.value(ctx), self.right.value(ctx)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            missing: tuple[MeasureNext, ...] = ()
            for side, value in ((self.left, left), (self.right, right)):
                if isinstance(value, Unknown):
                    missing += value.asks or (ctx.ask_for(side.fact_name(), value.reason),)
            return Outcome(Truth.UNKNOWN, missing=missing)
        sign = 1.0 if self.sense is Sense.AT_LEAST else -1.0
        margin = _margin(sign, left, right)
        found = self._found(ctx, left, right, margin)
        if margin.low >= -CLOSE:
            strict = Measured(right.value + sign * right.tolerance, right.dimension)
            return Outcome(Truth.YES, (self._settled(ctx, found, left, strict),))
        if margin.high < -CLOSE:
            loose = Measured(right.value - sign * right.tolerance, right.dimension)
            return Outcome(Truth.NO, (self._settled(ctx, found, left, loose),))
        vague = self.left if left.tolerance >= right.tolerance else self.right
        reading = left if vague is self.left else right
        return Outcome(Truth.UNKNOWN, (found,), (ctx.sharpen(vague.fact_name(), reading, margin),))

    def _settled(
        self, ctx: Context, found: Comparison, left: Measured, row: Measured
    ) -> Comparison:
        """Of a step table the row that decided, since no figure lies between two rows."""
        if not isinstance(self.right, StepNum):
            return found
        sign = 1.0 if self.sense is Sense.AT_LEAST else -1.0
        return self._found(ctx, left, row, _margin(sign, left, row))

    def _found(self, ctx: Context, left: Measured, right: Measured, margin: Measured) -> Comparison:
        unit = self.unit or _unit_of(self.right, ctx)
        limit = Limit(right.value, unit, self.sense)
        return Comparison(self.label, left, limit, margin, self.left.fact_name())


def _margin(sign: float, left: Measured, right: Measured) -> Measured:
    """How far left is on the good side of right, bounds added."""
    return Measured(
        sign * (left.value - right.value), left.dimension, left.tolerance + right.tolerance
    )


def _unit_of(number: Num, ctx: Context) -> str:
    for node in walk(number):
        if isinstance(node, LimitNum | StepNum | KeyedNum):
            return ctx.limit(node.key).unit
    return ""


def _seen(ctx: Context, name: str, value: FactValue) -> tuple[Step, ...]:
    """A line of working for a fact that is not a number."""
    if isinstance(value, bool):
        text = "yes" if value else "no"
    elif isinstance(value, tuple):
        text = ", ".join(dict.fromkeys(value)).replace("_", " ") or "none"
    else:
        text = "none" if value is ABSENT else str(value).replace("_", " ")
    return (Step(f"{ctx.label(name)}: {text}"),)


def _not_known(ctx: Context, name: str, value: FactValue) -> Outcome:
    if isinstance(value, Unknown):
        return Outcome(Truth.UNKNOWN, missing=value.asks or (ctx.ask_for(name, value.reason),))
    raise TypeError(f"fact {name} is {value!r}, which this condition cannot judge")


# ---------------------------------------------------------------- numbers


@dataclass(frozen=True, slots=True)
class FactNum(Num):
    """A measured fact."""

    name: str

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        value = ctx.fact(self.name)
        if isinstance(value, Measured | Unknown):
            return value
        if value is ABSENT:
            return Unknown("said to be absent, so there is nothing to measure")
        raise TypeError(f"fact {self.name} is {value!r}, not a measure")


@dataclass(frozen=True, slots=True)
class Val(Num):
    """A fact's number; where it was read and is silent, another number instead."""

    name: str
    otherwise: Num

    def parts(self) -> tuple[Cond | Num, ...]:
        return (self.otherwise,)

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        if ctx.fact(self.name) is ABSENT:
            return self.otherwise.value(ctx)
        return FactNum(self.name).value(ctx)


@dataclass(frozen=True, slots=True)
class LimitNum(Num):
    """A single number of the edition."""

    key: str
    dimension: Dimension

    def value(self, ctx: Context) -> Measured | Unknown:
        entry = ctx.limit(self.key)
        if not isinstance(entry, NumberLimit):
            raise TypeError(f"limit {self.key} is not a single number")
        return Measured(entry.value, self.dimension)


@dataclass(frozen=True, slots=True)
class StepNum(Num):
    """A step table of the edition: the first row whose upper bound is not passed."""

    key: str
    by: Num
    dimension: Dimension
    by_dimension: Dimension

    def parts(self) -> tuple[Cond | Num, ...]:
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


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Times(Num):
    """A number times a ratio without doubt."""

    base: Num
    factor: Num

    def parts(self) -> tuple[Cond | Num, ...]:
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


@dataclass(frozen=True, slots=True)
class Minus(Num):
    """One number less another."""

    left: Num
    right: Num

    def parts(self) -> tuple[Cond | Num, ...]:
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


@dataclass(frozen=True, slots=True)
class When(Cond):
    """A requirement's shape: it applies when one condition holds, and asks for another."""

    applies: Cond
    needs: Cond

    def parts(self) -> tuple[Cond | Num, ...]:
        return (self.applies, self.needs)

    def judge(self, ctx: Context) -> Outcome:
        gate = self.applies.judge(ctx)
        if gate.truth is Truth.NO:
            return Outcome(Truth.YES)
        if gate.truth is Truth.UNKNOWN:
            return Outcome(Truth.UNKNOWN, missing=gate.missing)
        return self.needs.judge(ctx)


@dataclass(frozen=True, slots=True)
class Word(Cond):
    """The edition says a word in a place where editions differ."""

    key: str
    word: str

    def judge(self, ctx: Context) -> Outcome:
        entry = ctx.limit(self.key)
        if not isinstance(entry, WordLimit):
            raise TypeError(f"limit {self.key} is not a word")
        return Outcome(Truth.YES if entry.word == self.word else Truth.NO)


@dataclass(frozen=True, slots=True)
class Always(Cond):
    """Holds without looking."""

    truth: Truth = field(default=Truth.YES)

    def judge(self, ctx: Context) -> Outcome:
        return Outcome(self.truth)


# ---------------------------------------------------------------- short forms


def yes(name: str) -> Cond:
    """A yes-or-no fact is yes."""
    return Yes(name)


def no(name: str) -> Cond:
    """A yes-or-no fact is no."""
    return Not(Yes(name))


def one_of(name: str, *words: str) -> Cond:
    """A word fact is one of these."""
    return OneOf(name, frozenset(words))


def any_in(name: str, *words: str) -> Cond:
    """One element of a list fact is among these."""
    return AnyIn(name, frozenset(words))


def none_in(name: str, *words: str) -> Cond:
    """No element of a list fact is among these."""
    return Not(AnyIn(name, frozenset(words)))


def all_in(name: str, *words: str) -> Cond:
    """Every element of a list fact is among these."""
    return AllIn(name, frozenset(words))


def nowhere(name: str) -> Cond:
    """A fault is at no place."""
    return Nowhere(name)


def gone(name: str) -> Cond:
    """Looked for and not there."""
    return Gone(name)


def there(name: str) -> Cond:
    """Looked for and there."""
    return Not(Gone(name))


def fact(name: str) -> Num:
    """A measured fact."""
    return FactNum(name)


def val(name: str, otherwise: Num) -> Num:
    """A fact's number, or another where it was read and is silent."""
    return Val(name, otherwise)


def length(key: str) -> Num:
    """A length of the edition."""
    return LimitNum(key, Dimension.LENGTH)


def ratio(key: str) -> Num:
    """A ratio or slope of the edition."""
    return LimitNum(key, Dimension.SLOPE)


def count(key: str) -> Num:
    """A number of pieces of the edition."""
    return LimitNum(key, Dimension.COUNT)


def at_least(left: Num, right: Num, label: str = "", unit: str = "") -> Cond:
    """Left is not below right."""
    return Compare(left, Sense.AT_LEAST, right, label, unit)


def at_most(left: Num, right: Num, label: str = "", unit: str = "") -> Cond:
    """Left is not above right."""
    return Compare(left, Sense.AT_MOST, right, label, unit)
