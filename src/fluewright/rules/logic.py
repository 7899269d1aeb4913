"""Three-valued logic over facts: the small language that the requirements are written in.

A condition is true, false or not known (Kleene). What is not known carries what would settle
it, so that a missing measurement never becomes a pass and always becomes a question. AND is
false as soon as one part is false; OR is true as soon as one part is true.
"""

from __future__ import annotations

from fluewright.finding import Sense
from fluewright.quantity import Dimension
from fluewright.rules.condition import (
    AllIn,
    AllOf,
    Always,
    AnyIn,
    AnyOf,
    Ask,
    Compare,
    Cond,
    Doubt,
    Gone,
    Not,
    NotAgainst,
    Nowhere,
    OneOf,
    RuleMeets,
    When,
    Word,
    Yes,
)
from fluewright.rules.number import (
    FactNum,
    KeyedNum,
    LimitNum,
    Minus,
    Num,
    StepNum,
    Times,
    Val,
)
from fluewright.rules.outcome import UNSEEN, Context, Node, Outcome, Truth, walk

__all__ = [
    "UNSEEN",
    "AllIn",
    "AllOf",
    "Always",
    "AnyIn",
    "AnyOf",
    "Ask",
    "Compare",
    "Cond",
    "Context",
    "Doubt",
    "FactNum",
    "Gone",
    "KeyedNum",
    "LimitNum",
    "Minus",
    "Node",
    "Not",
    "NotAgainst",
    "Nowhere",
    "Num",
    "OneOf",
    "Outcome",
    "RuleMeets",
    "StepNum",
    "Times",
    "Truth",
    "Val",
    "When",
    "Word",
    "Yes",
    "all_in",
    "any_in",
    "at_least",
    "at_most",
    "count",
    "fact",
    "gone",
    "length",
    "no",
    "none_in",
    "nowhere",
    "one_of",
    "ratio",
    "there",
    "val",
    "walk",
    "yes",
]


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
