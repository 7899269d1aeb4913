"""The three truths, and what stands behind one: numbers, gaps, workings, places."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import Enum
from typing import NamedTuple, Protocol, TypeVar

from fluewright.edition import LimitValue
from fluewright.facts import FactValue
from fluewright.finding import Comparison, MeasureNext
from fluewright.quantity import Measured
from fluewright.source import Step

# Element of a list fact that stands for a piece nobody could tell. At the end of a word: perhaps
# that, perhaps nothing more.
UNSEEN = "?"
Given = TypeVar("Given")
Result = TypeVar("Result")


class Truth(Enum):
    """True, false, or not known."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


YES, NO, UNKNOWN = Truth  # looked up thousands of times: a member of a class takes longer


class Outcome(NamedTuple):
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

    def once(self, work: Callable[[Context, Given], Result], given: Given) -> Result:
        """What a work on a fact of this subject gives; done once, however many rules ask."""

    def outcome_of(self, rule: str, not_asked: Truth) -> Outcome:
        """Outcome of another requirement for this subject; ``not_asked`` where it does not apply.

        Its numbers stay behind: they would be read as numbers of the rule that asks.
        """


class Node(Protocol):
    """A condition or a number: something that holds others of its kind."""

    def parts(self) -> tuple[Node, ...]:
        """What stands inside it."""


def walk(node: Node) -> Iterator[Node]:
    """The node and everything inside it."""
    yield node
    for part in node.parts():
        yield from walk(part)


def joined(found: list[Outcome], deciding: Truth, otherwise: Truth) -> Outcome:
    """Kleene's table: one deciding part decides; else one unknown leaves it open."""
    truths = [one.truth for one in found]
    for truth in (deciding, UNKNOWN):
        if truth in truths:
            return gathered(truth, [one for one in found if one.truth is truth])
    return gathered(otherwise, found)


def gathered(truth: Truth, found: list[Outcome]) -> Outcome:
    """Several outcomes of one truth as one; what is missing counts only where it is open."""
    if len(found) == 1:
        return found[0]
    comparisons: list[Comparison] = []
    missing: list[MeasureNext] = []
    steps: list[Step] = []
    places: list[str] = []
    for one in found:
        comparisons += one.comparisons
        missing += one.missing
        steps += one.steps
        places += one.places
    return Outcome(
        truth,
        tuple(comparisons),
        tuple(missing) if truth is UNKNOWN else (),
        tuple(steps),
        tuple(dict.fromkeys(places)),
    )
