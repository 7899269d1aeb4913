"""Values of the check language: three-valued truth, numbers, words, lists, and none.

``UNKNOWN`` is what nobody surveyed. ``NONE`` was looked for and is absent, or was read and is
silent. ``BARRED`` is a table cell that permits nothing. A list may hold ``UNKNOWN`` for a piece
that nobody could tell, and ``Perhaps(word)`` for one that may be there or not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass


class Special:
    """A value that is neither number, word nor truth."""

    def __init__(self, name: str) -> None:
        self.name = name

    def __repr__(self) -> str:
        return self.name


UNKNOWN = Special("unknown")
NONE = Special("none")
BARRED = Special("barred")


@dataclass(frozen=True, slots=True)
class Perhaps:
    """An element that is this word, or is not there at all."""

    word: str


Value = bool | float | str | tuple["Value", ...] | Special | Perhaps
Truth = bool | Special

AS_LISTED = "as_listed"  # a table cell that leaves the figure to the mark on the product
NEAR = 1e-9  # share of a number within which two are the same number


def negated(truth: Value) -> Truth:
    """Not: what is not known stays so; none is no."""
    if truth is UNKNOWN:
        return UNKNOWN
    return not is_so(truth)


def is_so(truth: Value) -> bool:
    """A known truth; a fact that is none is no."""
    if truth is NONE:
        return False
    if not isinstance(truth, bool):
        raise TypeError(f"{truth!r} is no truth")
    return truth


def every(truths: Iterable[Value]) -> Truth:
    """And: one false decides, else one unknown leaves it open."""
    open_ = False
    for truth in truths:
        if truth is UNKNOWN:
            open_ = True
        elif not is_so(truth):
            return False
    return UNKNOWN if open_ else True


def some(truths: Iterable[Value]) -> Truth:
    """Or: one true decides, else one unknown leaves it open."""
    open_ = False
    for truth in truths:
        if truth is UNKNOWN:
            open_ = True
        elif is_so(truth):
            return True
    return UNKNOWN if open_ else False


def same(left: Value, right: Value) -> Truth:
    """Equal: none is a value of its own."""
    if left is UNKNOWN or right is UNKNOWN:
        return UNKNOWN
    if _is_number(left) and _is_number(right):
        return not below(left, right) and not below(right, left)
    if isinstance(left, tuple | Special) and isinstance(right, tuple | Special):
        return _elements(left) == _elements(right)
    return left == right


def _elements(value: Value) -> object:
    return () if value is NONE else value


def _is_number(value: Value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def below(left: Value, right: Value) -> Truth:
    """Less than, by more than rounding; a pair is below where one side of it is."""
    if left is UNKNOWN or right is UNKNOWN or left is NONE or right is NONE:
        return UNKNOWN
    if AS_LISTED in (left, right):
        return UNKNOWN  # the mark on the product has the figure
    if isinstance(left, tuple) and isinstance(right, tuple):
        return some(below(a, b) for a, b in zip(sorted_pair(left), sorted_pair(right), strict=True))
    if not (_is_number(left) and _is_number(right)):
        raise TypeError(f"{left!r} < {right!r}")
    scale = max(abs(left), abs(right), 1e-6)  # type: ignore[arg-type]
    return left < right - NEAR * scale  # type: ignore[operator]


def sorted_pair(pair: tuple[Value, ...]) -> list[Value]:
    """Smaller side first."""
    return sorted(pair)  # type: ignore[type-var]


def compared(sign: str, left: Value, right: Value) -> Truth:
    """A comparison of the language; a barred cell fails whatever stands against it."""
    if left is BARRED or right is BARRED:
        return False
    if sign == "==":
        return same(left, right)
    if sign == "!=":
        return negated(same(left, right))
    if sign == "<":
        return below(left, right)
    if sign == ">":
        return below(right, left)
    if sign == ">=":
        return negated(below(left, right))
    return negated(below(right, left))


def within(item: Value, members: Value) -> Truth:
    """A word among words; a list that nobody surveyed leaves it open."""
    return any_of(members, lambda member: same(item, member))


def any_of(members: Value, test: Callable[[Value], Value]) -> Truth:
    """One element passes the test."""
    if members is UNKNOWN:
        return UNKNOWN
    return some(_if_there(m, test, False) for m in listed(members))


def all_of(members: Value, test: Callable[[Value], Value]) -> Truth:
    """Every element passes the test."""
    if members is UNKNOWN:
        return UNKNOWN
    return every(_if_there(m, test, True) for m in listed(members))


def _if_there(member: Value, test: Callable[[Value], Value], if_not: bool) -> Value:
    """Of an element that may not be there: known only where both ways agree."""
    if not isinstance(member, Perhaps):
        return test(member)
    found = test(member.word)
    return found if found is if_not else UNKNOWN


def count_of(members: Value, test: Callable[[Value], Value]) -> Value:
    """How many elements pass; unknown where one of them is."""
    if members is UNKNOWN:
        return UNKNOWN
    found = [_if_there(m, test, False) for m in listed(members)]
    if UNKNOWN in found:
        return UNKNOWN
    return float(sum(is_so(one) for one in found))


def listed(members: Value) -> tuple[Value, ...]:
    """The elements; none is an empty list."""
    if members is NONE:
        return ()
    if not isinstance(members, tuple):
        raise TypeError(f"{members!r} is no list")
    return members
