"""Conditions of requirements, each true, false or not known (Kleene)."""

from __future__ import annotations

from dataclasses import field
from functools import cache

from fluewright.edition import WordLimit
from fluewright.facts import FactValue, Unknown
from fluewright.finding import CLOSE, Comparison, Limit, MeasureNext, Sense
from fluewright.frozen import frozen
from fluewright.quantity import Measured, show_measured
from fluewright.rules.number import KeyedNum, LimitNum, Num, StepNum
from fluewright.rules.outcome import (
    NO,
    UNKNOWN,
    UNSEEN,
    YES,
    Context,
    Node,
    Outcome,
    Truth,
    joined,
    walk,
)
from fluewright.source import Step
from fluewright.survey import ABSENT


class Cond:
    """Base of conditions; combine with ``&``, ``|`` and ``~``."""

    __slots__ = ()

    def judge(self, ctx: Context) -> Outcome:
        """Truth of the condition in a context."""
        raise TypeError(f"{type(self).__name__} does not say how it is judged")

    def holds(self, ctx: Context) -> Truth:
        """The truth alone, where what stands behind it is not asked."""
        return self.judge(ctx).truth

    def parts(self) -> tuple[Node, ...]:
        """Conditions and numbers inside this one."""
        return ()

    def __and__(self, other: Cond) -> Cond:
        return AllOf((self, other))

    def __or__(self, other: Cond) -> Cond:
        return AnyOf((self, other))

    def __invert__(self) -> Cond:
        return Not(self)


@frozen
class AllOf(Cond):
    """True when every part is true."""

    items: tuple[Cond, ...]

    def parts(self) -> tuple[Node, ...]:
        return self.items

    def __and__(self, other: Cond) -> Cond:
        return AllOf((*self.items, other))  # one list, not one inside another

    def judge(self, ctx: Context) -> Outcome:
        found = [item.judge(ctx) for item in self.items]
        return joined(found, NO, YES)

    def holds(self, ctx: Context) -> Truth:
        return _first(self.items, ctx, NO, YES)


@frozen
class AnyOf(Cond):
    """True when one part is true."""

    items: tuple[Cond, ...]

    def parts(self) -> tuple[Node, ...]:
        return self.items

    def __or__(self, other: Cond) -> Cond:
        return AnyOf((*self.items, other))

    def judge(self, ctx: Context) -> Outcome:
        found = [item.judge(ctx) for item in self.items]
        return joined(found, YES, NO)

    def holds(self, ctx: Context) -> Truth:
        return _first(self.items, ctx, YES, NO)


def _first(items: tuple[Cond, ...], ctx: Context, deciding: Truth, otherwise: Truth) -> Truth:
    """Kleene's table once more, stopping at the first part that decides."""
    open_ = False
    for item in items:
        truth = item.holds(ctx)
        if truth is deciding:
            return deciding
        open_ = open_ or truth is UNKNOWN
    return UNKNOWN if open_ else otherwise


def _turned(truth: Truth) -> Truth:
    if truth is UNKNOWN:
        return truth
    return NO if truth is YES else YES


@frozen
class Not(Cond):
    """Turns a truth round; its numbers no longer speak of the requirement, so they go."""

    item: Cond

    def parts(self) -> tuple[Node, ...]:
        return (self.item,)

    def judge(self, ctx: Context) -> Outcome:
        inner = self.item.judge(ctx)
        return Outcome(_turned(inner.truth), (), inner.missing, inner.steps)

    def holds(self, ctx: Context) -> Truth:
        return _turned(self.item.holds(ctx))


class Told(Cond):
    """Base of conditions on one fact that is no number."""

    __slots__ = ()
    name: str

    def told(self, value: FactValue) -> Truth:
        """What the fact's value settles; UNKNOWN where it does not."""
        raise TypeError(f"{type(self).__name__} does not say what a value settles")

    def holds(self, ctx: Context) -> Truth:
        return self.told(ctx.fact(self.name))

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        truth = self.told(value)
        if truth is UNKNOWN:
            return _not_known(ctx, self.name, value)
        return Outcome(truth, steps=_seen(ctx, self.name, value))


def _truth(so: bool) -> Truth:
    return YES if so else NO


@frozen
class Yes(Told):
    """A yes-or-no fact is yes; what is absent is not."""

    name: str

    def told(self, value: FactValue) -> Truth:
        if isinstance(value, bool):
            return _truth(value)
        return NO if value is ABSENT else UNKNOWN


@frozen
class Gone(Told):
    """A thing was looked for and is not there."""

    name: str

    def told(self, value: FactValue) -> Truth:
        if isinstance(value, Unknown):
            return UNKNOWN
        return _truth(value is ABSENT or value == ())


@frozen
class Nowhere(Told):
    """A fault that a list fact names the places of is at no place."""

    name: str

    def told(self, value: FactValue) -> Truth:
        if value is ABSENT or value == ():
            return YES
        if isinstance(value, tuple) and any(v != UNSEEN for v in value):
            return NO
        return UNKNOWN

    def judge(self, ctx: Context) -> Outcome:
        value = ctx.fact(self.name)
        if not isinstance(value, tuple) or self.told(value) is not NO:
            return Told.judge(self, ctx)
        places = tuple(v for v in value if v != UNSEEN)
        return Outcome(NO, steps=_seen(ctx, self.name, places), places=places)


@frozen
class OneOf(Told):
    """A word fact is one of these words."""

    name: str
    words: frozenset[str]

    def told(self, value: FactValue) -> Truth:
        if isinstance(value, str) and value != UNSEEN:
            return _truth(value in self.words)
        return NO if value is ABSENT else UNKNOWN


@cache  # as many as the rules hold
def _perhaps(words: frozenset[str]) -> frozenset[str]:
    """The words as a list fact has them where nobody is sure."""
    return frozenset(word + UNSEEN for word in words)


@frozen
class AnyIn(Told):
    """At least one element of a list fact is one of these words."""

    name: str
    words: frozenset[str]

    def told(self, value: FactValue) -> Truth:
        if value is ABSENT:
            return NO
        if not isinstance(value, tuple):
            return UNKNOWN
        if not self.words.isdisjoint(value):
            return YES
        sure_not = UNSEEN not in value and _perhaps(self.words).isdisjoint(value)
        return NO if sure_not else UNKNOWN


@frozen
class AllIn(Told):
    """Every element of a list fact is one of these words."""

    name: str
    words: frozenset[str]

    def told(self, value: FactValue) -> Truth:
        if value is ABSENT:
            return YES
        if not isinstance(value, tuple):
            return UNKNOWN
        others = set(value) - self.words
        if any(not v.endswith(UNSEEN) for v in others):
            return NO
        return YES if others <= _perhaps(self.words) else UNKNOWN


@frozen
class Ask(Cond):
    """Never true by itself: only a person or a paper can settle it."""

    label: str
    how: str

    def judge(self, ctx: Context) -> Outcome:
        return Outcome(
            UNKNOWN,
            missing=(MeasureNext("", self.label, ctx.subject, self.how, "", ask=True),),
        )


@frozen
class RuleMeets(Cond):
    """Another requirement is met for this subject; what is not asked is not met."""

    rule: str

    def judge(self, ctx: Context) -> Outcome:
        return ctx.outcome_of(self.rule, NO)


@frozen
class NotAgainst(Cond):
    """Another requirement is met for this subject, or is not asked."""

    rule: str

    def judge(self, ctx: Context) -> Outcome:
        return ctx.outcome_of(self.rule, YES)


@frozen
class Doubt(Cond):
    """Two readings of a text that leaves a datum open.

    Met only under the strict reading, failed only when the loose one fails too, between them
    not known: the authority says which is meant.
    """

    strict: Cond
    loose: Cond
    question: str

    def parts(self) -> tuple[Node, ...]:
        return (self.strict, self.loose)

    def judge(self, ctx: Context) -> Outcome:
        strict = self.strict.judge(ctx)
        if strict.truth is YES:
            return strict
        loose = self.loose.judge(ctx)
        if loose.truth is NO:
            return loose
        asked = MeasureNext("", "which reading applies", ctx.subject, self.question, "", ask=True)
        open_ = strict.missing + loose.missing
        if loose.truth is YES and strict.truth is NO:
            open_ = (asked,)
        return Outcome(UNKNOWN, loose.comparisons or strict.comparisons, open_)


@frozen
class Compare(Cond):
    """A number keeps to one side of another."""

    left: Num
    sense: Sense
    right: Num
    label: str = ""
    unit: str = ""

    def parts(self) -> tuple[Node, ...]:
        return (self.left, self.right)

    def judge(self, ctx: Context) -> Outcome:
        left, right = self.left.value(ctx), self.right.value(ctx)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            missing: tuple[MeasureNext, ...] = ()
            for side, value in ((self.left, left), (self.right, right)):
                if isinstance(value, Unknown):
                    missing += value.asks or (ctx.ask_for(side.fact_name(), value.reason),)
            return Outcome(UNKNOWN, missing=missing)
        sign = 1.0 if self.sense is Sense.AT_LEAST else -1.0
        margin = _margin(sign, left, right)
        found = self._found(ctx, left, right, margin)
        if margin.low >= -CLOSE:
            strict = right.value + sign * right.tolerance
            return Outcome(YES, (self._settled(ctx, found, strict),))
        if margin.high < -CLOSE:
            loose = right.value - sign * right.tolerance
            return Outcome(NO, (self._settled(ctx, found, loose),))
        vague = self.left if left.tolerance >= right.tolerance else self.right
        reading = left if vague is self.left else right
        return Outcome(UNKNOWN, (found,), (ctx.sharpen(vague.fact_name(), reading, margin),))

    def _settled(self, ctx: Context, found: Comparison, value: float) -> Comparison:
        """Of a step table the row that decided, since no figure lies between two rows."""
        if not isinstance(self.right, StepNum):
            return found
        sign = 1.0 if self.sense is Sense.AT_LEAST else -1.0
        left, row = found.measured, Measured(value, self.right.dimension)
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
    """A line of working for a fact that was looked at."""
    if isinstance(value, Measured):
        text = show_measured(value)
    elif isinstance(value, bool):
        text = "yes" if value else "no"
    elif isinstance(value, tuple):
        text = ", ".join(dict.fromkeys(value)).replace("_", " ") or "none"
    else:
        text = "none" if value is ABSENT else str(value).replace("_", " ")
    return (Step(f"{ctx.label(name)}: {text}"),)


def _not_known(ctx: Context, name: str, value: FactValue) -> Outcome:
    if isinstance(value, tuple) and any(word.endswith(UNSEEN) for word in value):
        value = Unknown("not told for every piece")
    if isinstance(value, Unknown):
        return Outcome(UNKNOWN, missing=value.asks or (ctx.ask_for(name, value.reason),))
    raise TypeError(f"fact {name} is {value!r}, which this condition cannot judge")


@frozen
class When(Cond):
    """A requirement's shape: it applies when one condition holds, and asks for another."""

    applies: Cond
    needs: Cond

    def parts(self) -> tuple[Node, ...]:
        return (self.applies, self.needs)

    def judge(self, ctx: Context) -> Outcome:
        gate = self.applies.judge(ctx)
        if gate.truth is NO:
            return Outcome(YES)
        if gate.truth is UNKNOWN:
            return Outcome(UNKNOWN, missing=gate.missing)
        return self.needs.judge(ctx)


@frozen
class Word(Cond):
    """The edition says a word in a place where editions differ."""

    key: str
    word: str

    def judge(self, ctx: Context) -> Outcome:
        entry = ctx.limit(self.key)
        if not isinstance(entry, WordLimit):
            raise TypeError(f"limit {self.key} is not a word")
        return Outcome(YES if entry.word == self.word else NO)


@frozen
class Always(Cond):
    """Holds without looking."""

    truth: Truth = field(default=YES)

    def judge(self, ctx: Context) -> Outcome:
        return Outcome(self.truth)
