"""Everything to say of one rule, put together from its prose, its facts and the editions."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence

from fluewright.edition import Edition, KeyedLimit, NumberLimit, StepLimit
from fluewright.explain.prose import Prose
from fluewright.facts import FACTS, Scope
from fluewright.finding import GRADE_WORDS, Grade
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, show, show_pitch, to_unit
from fluewright.rules import RULES, Rule
from fluewright.rules.base import LimitSpec
from fluewright.rules.logic import NotAgainst, RuleMeets, walk
from fluewright.source import Basis, Citation

BASIS_WORDS = {
    Basis.READ: "read in the text",
    Basis.MEMORY: "from memory: verify in the adopted text",
    Basis.PRACTICE: "common practice, no code text",
    Basis.LISTING: "the listing or its mark",
    Basis.INSTRUCTIONS: "maker's instructions, not code text",
    Basis.MODEL: "computed by this program",
}
SUBJECTS = {
    Scope.PATH: "the appliance with its connector and vent",
    Scope.CONNECTOR_PIECE: "each connector piece",
    Scope.VENT_PIECE: "each vent section",
    Scope.JOINT: "each joint of the connector, the one into the vent included",
    Scope.INTAKE: "each air intake",
    Scope.COMMON: "each common vent",
    Scope.NEAR_OPENING: "each door, window and inlet near the outlet",
    Scope.SPACE: "each space in which an appliance stands",
    Scope.OPENING: "each opening that brings such a space its air",
    Scope.HOUSE: "the house as a whole",
}
ONE_OF_THEM = {
    Scope.PATH: "the appliance",
    Scope.CONNECTOR_PIECE: "the piece",
    Scope.VENT_PIECE: "the section",
    Scope.JOINT: "the joint",
    Scope.INTAKE: "the intake",
    Scope.COMMON: "the common vent",
    Scope.NEAR_OPENING: "the opening",
    Scope.SPACE: "the space",
    Scope.OPENING: "the opening",
    Scope.HOUSE: "the house",
}
DANGER = (
    "Where this fails: shut the appliance off, open windows and doors, leave the house, and call "
    "from outside: the gas company or a licensed contractor. Nobody lights it again before it "
    "is repaired and tested. Whoever feels ill leaves at once and calls the emergency number "
    "from outside."
)
CAUTION = (
    "This is said in our own words and is not the text of any code. The adopted local code, the "
    "listing and the maker's instructions, and the authority having jurisdiction decide."
)


@frozen
class Table:
    """A table of one limit, as the editions named print it: first row the heads."""

    limit: str
    editions: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    beyond: str = ""


@frozen
class LimitEntry:
    """What one edition says of one limit."""

    edition: str  # document and year
    text: str
    place: str
    basis: str
    value: float | None = None  # in ``unit``
    unit: str = ""


@frozen
class LimitRow:
    """One limit, in every edition asked for."""

    key: str
    words: str
    entries: tuple[LimitEntry, ...]


@frozen
class EditionPlace:
    """Where one edition asks it, or why it does not."""

    id: str
    title: str
    cites: tuple[Citation, ...]
    absent: str


@frozen
class ToRecord:
    """One thing that the survey must say for this rule, and how to learn it."""

    fact: str
    label: str
    how: str


@frozen
class Explanation:
    """Everything there is to say of one rule."""

    id: str
    title: str
    grade: Grade
    grade_word: str
    subject: str
    asks: str
    why: str
    recognize: str
    not_asked: str
    record: tuple[ToRecord, ...]
    limits: tuple[LimitRow, ...]
    tables: tuple[Table, ...]
    places: tuple[EditionPlace, ...]
    leans_on: tuple[tuple[str, str], ...]  # (id, title) of rules whose outcome it uses
    remedy: str
    cautions: tuple[str, ...]  # what to do in danger first, where there is any


def explanation(rule: Rule, prose: Prose, editions: Sequence[Edition]) -> Explanation:
    """Everything to say of a rule, with its limits in the editions side by side."""
    specs = rule.limits()
    return Explanation(
        rule.id,
        rule.title,
        rule.grade,
        GRADE_WORDS[rule.grade],
        SUBJECTS[rule.per],
        prose.asks,
        prose.why,
        prose.recognize,
        capital(rule.not_asked.format(name=ONE_OF_THEM[rule.per])),
        tuple(ToRecord(name, FACTS[name].label, FACTS[name].how) for name in rule.facts()),
        tuple(
            LimitRow(key, prose.limits[key], tuple(_entry(rule, key, e) for e in editions))
            for key in specs
        ),
        tuple(_tables(rule, prose, specs, editions)),
        tuple(_place(rule, edition) for edition in editions),
        tuple(dict.fromkeys((other, RULES[other].title) for other in _others(rule))),
        prose.remedy,
        (DANGER, CAUTION) if rule.grade is Grade.STOP else (CAUTION,),
    )


def short_name(edition: Edition) -> str:
    """Document and year: ``UMC 2012``."""
    return f"{edition.document} {edition.year}"


def where(cite: Citation) -> str:
    """Document, edition and place of a citation."""
    return " ".join(part for part in (cite.document, cite.edition, cite.at) if part)


def capital(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


def _place(rule: Rule, edition: Edition) -> EditionPlace:
    entry = edition.requirements[rule.id]
    return EditionPlace(edition.id, edition.title, entry.cites, entry.absent)


def _others(rule: Rule) -> Iterator[str]:
    for part in (rule.applies, rule.needs):
        for node in walk(part):
            if isinstance(node, RuleMeets | NotAgainst):
                yield node.rule


def _entry(rule: Rule, key: str, edition: Edition) -> LimitEntry:
    name = short_name(edition)
    absent = edition.requirements[rule.id].absent
    if absent:  # a figure without a requirement says nothing
        return LimitEntry(name, "not asked", absent, "")
    limit = edition.limits[key]
    basis = BASIS_WORDS[limit.cite.basis]
    place = limit.cite.at if limit.cite.document == edition.document else where(limit.cite)
    if isinstance(limit, NumberLimit):
        value = round(to_unit(limit.value, limit.unit), 6)
        return LimitEntry(name, limit.text, place, basis, value, limit.unit)
    if isinstance(limit, StepLimit | KeyedLimit):
        return LimitEntry(name, "see the table", place, basis)
    return LimitEntry(name, plain(limit.word), place, basis)


def _tables(
    rule: Rule, prose: Prose, specs: Mapping[str, LimitSpec], editions: Sequence[Edition]
) -> Iterator[Table]:
    """Each table once for all editions that print it alike."""
    for key, spec in specs.items():
        alike: dict[Table, list[str]] = {}
        for edition in editions:
            limit = edition.limits[key]
            if edition.requirements[rule.id].absent:
                continue
            if isinstance(limit, StepLimit):
                table = Table(prose.limits[key], (), _steps(limit, spec), limit.beyond)
            elif isinstance(limit, KeyedLimit):
                table = Table(prose.limits[key], (), _cells(limit))
            else:
                continue
            alike.setdefault(table, []).append(short_name(edition))
        for table, names in alike.items():
            yield Table(table.limit, tuple(names), table.rows, table.beyond)


def _steps(limit: StepLimit, spec: LimitSpec) -> tuple[tuple[str, ...], ...]:
    _, dimension, argument = spec
    if argument is Dimension.SLOPE:
        head = ("roof pitch up to", "figure")
        bounds = [show_pitch(by) for by, _ in limit.rows]
    else:
        head = ("up to", "figure")
        bounds = [
            "any" if math.isinf(by) else show(by, argument or dimension) for by, _ in limit.rows
        ]
    figures = [show(value, dimension) for _, value in limit.rows]
    return (head, *zip(bounds, figures, strict=True))


def _cells(limit: KeyedLimit) -> tuple[tuple[str, ...], ...]:
    columns = tuple(dict.fromkeys(column for row in limit.rows.values() for column in row))
    body = (
        (plain(name), *(_cell(row.get(column), limit.unit) for column in columns))
        for name, row in limit.rows.items()
    )
    return (("", *(plain(column) for column in columns)), *body)


def _cell(cell: float | str | None, unit: str) -> str:
    if cell is None:
        return "no"
    return plain(cell) if isinstance(cell, str) else f"{to_unit(cell, unit):g} {unit}"


SPOKEN = (
    (r"^from_(\d+)_(\w+)$", r"\1 in, \2"),  # column of the reduction table
    (r"(\d)_(\d)in", r"\1.\2 in"),
    (r"(\d)in", r"\1 in"),
    (r"type_(bw|b|l)\b", lambda found: f"Type {found[1].upper().replace('BW', 'B-W')}"),
    (r"_", " "),
)


def plain(word: str) -> str:
    """A name of the data as people read it."""
    for pattern, said in SPOKEN:
        word = re.sub(pattern, said, word)
    return word
