"""The report as a tree: sections that hold paragraphs, tables, figures, findings. No layout.

A renderer walks it once, from top to bottom. All text in it is plain text: whatever a person
wrote in the survey stands in it literally, and a renderer has to escape it for its own format.
"""

from __future__ import annotations

from enum import StrEnum

from fluewright.finding import GRADE_WORDS, NOT_KNOWN_WORDS, Finding, Grade, Verdict
from fluewright.frozen import frozen


class Audience(StrEnum):
    """Who reads the report; decides what comes first and how much working is shown."""

    OWNER = "owner"
    TRADE = "trade"
    OFFICIAL = "official"


class Mark(StrEnum):
    """The shape that stands beside a finding; its word always stands with it."""

    STOP = "stop"
    HAZARD = "hazard"
    DEFECT = "defect"
    CRAFT = "craft"
    NOTE = "note"
    NOT_KNOWN = "not_known"
    MEETS = "meets"
    NOT_APPLICABLE = "not_applicable"


MARK_WORDS = {
    **{Mark(grade.value): word for grade, word in GRADE_WORDS.items()},
    Mark.NOT_KNOWN: NOT_KNOWN_WORDS,
    Mark.MEETS: "Meets",
    Mark.NOT_APPLICABLE: "Does not apply",
}

_OF_VERDICT = {
    Verdict.CANNOT_TELL: Mark.NOT_KNOWN,
    Verdict.MEETS: Mark.MEETS,
    Verdict.NOT_APPLICABLE: Mark.NOT_APPLICABLE,
}


def mark_of(verdict: Verdict, grade: Grade) -> Mark:
    """The mark of a verdict: its grade where it fails."""
    return _OF_VERDICT.get(verdict) or Mark(grade.value)


def mark_of_finding(finding: Finding) -> Mark:
    """The mark of a finding."""
    return mark_of(finding.verdict, finding.grade)


class Tone(StrEnum):
    """How loud a paragraph or notice is."""

    PLAIN = "plain"
    LEAD = "lead"
    SMALL = "small"
    STOP = "stop"
    HAZARD = "hazard"
    OPEN = "open"
    CAUTION = "caution"
    INVENTED = "invented"


@frozen
class Paragraph:
    """Running text."""

    text: str
    tone: Tone = Tone.PLAIN


@frozen
class Notice:
    """What must not be read over: a title and a few lines."""

    title: str
    lines: tuple[str, ...]
    tone: Tone


@frozen
class Listing:
    """Short items, numbered where their order matters."""

    items: tuple[str, ...]
    ordered: bool = False


@frozen
class MarkedLine:
    """One finding in one line. ``number`` is the mark in the drawing, 0 where it has none."""

    mark: Mark
    word: str
    number: int
    text: str
    note: str = ""


@frozen
class MarkedLines:
    """Findings in one line each."""

    items: tuple[MarkedLine, ...]


@frozen
class StepLine:
    """One thing to measure or ask next: what, how, with what, and what it would settle."""

    title: str
    how: str
    why: str
    tool: str
    ask: bool
    settles: str


@frozen
class StepLines:
    """What to measure or ask next, the most telling first."""

    items: tuple[StepLine, ...]


@frozen
class Facts:
    """Names and their values, such as where the report comes from."""

    pairs: tuple[tuple[str, str], ...]


@frozen
class Column:
    """Head of a table column."""

    title: str
    numeric: bool = False


@frozen
class Cell:
    """One cell of a table, with a mark where a verdict stands in it."""

    text: str
    mark: Mark | None = None
    word: str = ""


@frozen
class Table:
    """Rows under heads. ``caption`` says what the table holds."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


@frozen
class Figure:
    """A picture handed to the renderer apart, under ``picture``."""

    picture: str
    caption: str
    alt: str


@frozen
class Working:
    """How a result was worked out: each step with its number in a printed unit, or ''."""

    steps: tuple[tuple[str, str], ...]


@frozen
class MarginBar:
    """A reading beside its limit, as fractions of the bar's length from left (less) to right.

    ``fails_left`` says on which side of the limit the failing values lie.
    """

    limit_at: float
    reading_at: float
    low_at: float
    high_at: float
    fails_left: bool


@frozen
class Numbers:
    """The numbers of a finding as text, and the bar that shows them."""

    label: str
    measured: str
    measured_off: str  # the bound of the reading, with its ±
    limit: str
    margin: str
    margin_off: str
    bar: MarginBar


@frozen
class FindingBlock:
    """One finding in full, as far as this audience is shown it."""

    anchor: str
    mark: Mark
    word: str
    number: int
    title: str
    subject: str
    sentence: str
    numbers: Numbers | None
    remedies: tuple[str, ...]
    next_steps: tuple[str, ...]
    cites: tuple[str, ...]
    cites_lead: bool  # what is written comes before what was found
    rule: str
    working: Working | None
    photos: str = ""


Block = (
    Paragraph
    | Notice
    | Listing
    | MarkedLines
    | StepLines
    | Facts
    | Table
    | Figure
    | Working
    | FindingBlock
)


@frozen
class Section:
    """A heading with what stands under it, and the sections one level below."""

    anchor: str
    title: str
    blocks: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()
    new_page: bool = False


@frozen
class Report:
    """The whole report. ``running`` stands small on every page; ``made_on`` is an ISO date."""

    title: str
    subtitle: str
    audience: Audience
    opening: tuple[Block, ...]
    sections: tuple[Section, ...]
    running: str
    author: str
    made_on: str | None
    language: str = "en"
