"""Which answers a requirement can give at all: some only a person or a paper can settle."""

from __future__ import annotations

from fluewright.rules.base import Rule
from fluewright.rules.logic import AllOf, AnyOf, Ask, Cond, Not, Truth, When

_TURNED = {Truth.YES: Truth.NO, Truth.NO: Truth.YES}
_BOTH = frozenset({Truth.YES, Truth.NO})


def answers(cond: Cond) -> frozenset[Truth]:
    """The settled truths that a condition may come to, whatever the survey says.

    Args:
        cond: any condition; one that is no combination of others may come to either.
    """
    if isinstance(cond, Ask):
        return frozenset()
    if isinstance(cond, Not):
        return frozenset(_TURNED[t] for t in answers(cond.item))
    if isinstance(cond, AllOf):
        return _joined([answers(item) for item in cond.items], Truth.NO)
    if isinstance(cond, AnyOf):
        return _joined([answers(item) for item in cond.items], Truth.YES)
    if isinstance(cond, When):
        return _joined([answers(Not(cond.applies)), answers(cond.needs)], Truth.YES)
    return _BOTH


def _joined(parts: list[frozenset[Truth]], deciding: Truth) -> frozenset[Truth]:
    """One part that can decide is enough; for the other answer each part must come to it."""
    other = _TURNED[deciding]
    found = {deciding} if any(deciding in part for part in parts) else set()
    if all(other in part for part in parts):
        found.add(other)
    return frozenset(found)


def is_asked(rule: Rule) -> bool:
    """Whether a survey alone never meets it: a person or a paper has the last word."""
    return Truth.YES not in answers(rule.needs)
