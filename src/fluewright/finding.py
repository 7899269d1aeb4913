"""What judging gives: findings, each with its numbers, its place and where it is written."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.source import Citation, Step

CLOSE = 1e-9  # two SI numbers nearer than this are the same number


class Verdict(StrEnum):
    """The four answers to one requirement."""

    MEETS = "meets"
    FAILS = "fails"
    CANNOT_TELL = "cannot_tell"
    NOT_APPLICABLE = "not_applicable"


class Grade(StrEnum):
    """How grave it is when a requirement fails, gravest first."""

    STOP = "stop"
    HAZARD = "hazard"
    DEFECT = "defect"
    CRAFT = "craft"
    NOTE = "note"


GRADE_WORDS = {
    Grade.STOP: "Shut it off",
    Grade.HAZARD: "Hazard",
    Grade.DEFECT: "Defect",
    Grade.CRAFT: "Workmanship",
    Grade.NOTE: "Note",
}
NOT_KNOWN_WORDS = "Not known yet"


# Requirements whose failure means that the air of the house itself is dangerous.
IN_THE_AIR = ("ambient_co_entry_level", "combustible_gas_entry_level", "gas_leak_check")


class Sense(StrEnum):
    """On which side of the limit the good values lie."""

    AT_LEAST = "at_least"
    AT_MOST = "at_most"


class Limit(NamedTuple):
    """A limit in SI, and the unit it is printed in."""

    value: float
    unit: str
    sense: Sense


class Comparison(NamedTuple):
    """One reading against one limit. ``margin`` is positive on the good side."""

    label: str
    measured: Measured
    limit: Limit
    margin: Measured
    fact: str = ""

    @property
    def dimension(self) -> Dimension:
        """What kind of number is compared."""
        return self.measured.dimension


@frozen
class MeasureNext:
    """One thing to look at or measure, and what that would settle.

    ``how`` says how; ``why`` says what stands in the way today; ``tool`` names a tool good
    enough to settle it, where there is one; ``ask`` is set when a person or paper must tell.
    """

    fact: str
    label: str
    subject: str
    how: str
    why: str
    tool: str = ""
    ask: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """The answer to one requirement for one thing. Refuses a verdict against its margin."""

    rule: str
    title: str
    subject: str
    verdict: Verdict
    grade: Grade
    sentence: str
    comparison: Comparison | None = None
    cites: tuple[Citation, ...] = ()
    measure_next: tuple[MeasureNext, ...] = ()
    remedies: tuple[str, ...] = ()
    working: tuple[Step, ...] = ()
    photos: tuple[str, ...] = ()
    number: int = 0  # mark in drawing, list and report; 0 where it is not marked
    as_built: str = ""  # of what fails today and meets the text it was built under
    place: str = ""  # piece id, or cap, vent, connector, appliance: where to look for it

    def __post_init__(self) -> None:
        """A verdict that its own number contradicts is a defect of the program."""
        if self.comparison is None:
            return
        margin = self.comparison.margin
        wrong = (self.verdict is Verdict.MEETS and margin.low < -CLOSE) or (
            self.verdict is Verdict.FAILS and margin.high >= CLOSE
        )
        if wrong:
            raise ValueError(
                f"{self.rule} on {self.subject}: verdict {self.verdict} against margin "
                f"{margin.value} ± {margin.tolerance}"
            )


@frozen
class NotExamined:
    """A requirement or subject that nobody judged, and why."""

    at: str
    why: str


@frozen
class Applied:
    """Which text binds some parts of a job, and why.

    ``edition`` is its id, empty where it is not known or not held; ``ask`` is what to ask whom.
    """

    parts: tuple[str, ...]
    edition: str
    title: str
    why: str
    cites: tuple[Citation, ...]
    ask: str = ""


@frozen
class EditionInfo:
    """Which text was used, down to the bytes."""

    id: str
    title: str
    sha256: str


@frozen
class Judgement:
    """Every finding for one survey by one edition, gravest first.

    ``next_steps`` is what to measure or ask next, ordered by how much each would settle, with
    the rules that it would help.
    """

    survey_title: str
    survey_sha256: str
    edition: EditionInfo
    findings: tuple[Finding, ...]
    not_examined: tuple[NotExamined, ...]
    next_steps: tuple[tuple[MeasureNext, tuple[str, ...]], ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...] = ()  # what cannot all be so, and what this version does not judge
    applied: tuple[Applied, ...] = ()  # which text binds which part

    def count(self, verdict: Verdict) -> int:
        """How many findings have this verdict."""
        return sum(f.verdict is verdict for f in self.findings)

    @property
    def is_settled_well(self) -> bool:
        """Whether something was judged, nothing fails, nothing is open, nothing contradicts."""
        return (
            bool(self.findings)
            and not self.count(Verdict.FAILS)
            and not self.count(Verdict.CANNOT_TELL)
            and not self.notes
        )

    @property
    def must_stop(self) -> bool:
        """Whether something that fails asks to shut the appliance off now."""
        return any(f.verdict is Verdict.FAILS and f.grade is Grade.STOP for f in self.findings)

    @property
    def must_leave(self) -> bool:
        """Whether gas or carbon monoxide was found in the house, so that people leave first."""
        return any(f.verdict is Verdict.FAILS and f.rule in IN_THE_AIR for f in self.findings)

    @property
    def marked(self) -> tuple[Finding, ...]:
        """The findings that carry a number in drawing and list: all that fail or are open."""
        return tuple(f for f in self.findings if f.number)
