"""What the report rests on and where it ends: coverage, what was not seen, cautions, origin."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass

from fluewright.finding import Judgement
from fluewright.quantity import NotMeasured
from fluewright.report.findings import Shown
from fluewright.report.inputs import Provenance
from fluewright.report.summary import GENERAL_CAUTION, coverage_text
from fluewright.report.tree import (
    Audience,
    Cell,
    Column,
    Facts,
    Listing,
    Paragraph,
    Section,
    Table,
    Tone,
)
from fluewright.report.words import cite_text, count_text
from fluewright.survey import Survey


def coverage_section(judgements: Sequence[Judgement]) -> Section:
    """For an official: how much of each edition was examined."""
    lines = tuple(coverage_text(judgement) for judgement in judgements)
    return Section("coverage", "What was examined", (Listing(lines),))


def applied_section(judgement: Judgement) -> tuple[Section, ...]:
    """Which text binds which part of the job, and why; nothing where nothing is described."""
    if not judgement.applied:
        return ()
    columns = (Column("Part"), Column("Text"), Column("Why"), Column("Where it says so"))
    rows = tuple(
        (
            Cell(", ".join(one.parts)),
            Cell(one.title),
            Cell(f"{one.why}. {one.ask}".rstrip()),
            Cell("; ".join(cite_text(cite) for cite in one.cites)),
        )
        for one in judgement.applied
    )
    note = Paragraph(
        "Every finding here is judged by the text of its heading, also for parts that an older one "
        "binds. What may stay is for the authority having jurisdiction to say, and danger may not.",
        Tone.SMALL,
    )
    table = Table("Existing or new", columns, rows)
    return (Section("applies", "Which text applies to which part", (note, table)),)


def unseen_section(
    survey: Survey, judgements: Sequence[Judgement], shown: Shown
) -> tuple[Section, ...]:
    """What could not be seen, what contradicts itself, and what nobody examined."""
    sections: list[Section] = []
    rows = tuple((Cell(where), Cell(why)) for where, why in not_measured(survey))
    if rows:
        columns = (Column("What"), Column("Why it could not be seen or measured"))
        table = Table("What the survey says could not be seen", columns, rows)
        sections.append(Section("unseen", "Not seen or not measured", (table,)))
    notes = tuple(dict.fromkeys(note for judgement in judgements for note in judgement.notes))
    if notes:
        title = "What does not fit together, or is not judged"
        sections.append(Section("oddities", title, (Listing(notes),)))
    for place, judgement in enumerate(judgements, start=1):
        sections.append(_not_examined(judgement, place, shown))
    return (Section("not-examined", "What was not seen or examined", (), tuple(sections)),)


def _not_examined(judgement: Judgement, place: int, shown: Shown) -> Section:
    """All that was left out for an official; for others how much was left out, and why."""
    head = Paragraph(coverage_text(judgement))
    name, title = f"left-{place}", f"Not examined, {judgement.edition.title}"
    if not judgement.not_examined:
        return Section(name, title, (head,))
    if shown.audience is not Audience.OFFICIAL:
        reasons = Counter(left.why for left in judgement.not_examined).most_common()
        items = [f"{count_text(number, 'requirement')}: {why}" for why, number in reasons]
        return Section(name, title, (head, Listing(tuple(items))))
    columns = (Column("Place"), Column("Why it was not examined"))
    rows = tuple((Cell(left.at), Cell(left.why)) for left in judgement.not_examined)
    table = Table("Listed for this edition and not examined", columns, rows)
    return Section(name, title, (head, table))


def not_measured(thing: object, where: str = "") -> Iterator[tuple[str, str]]:
    """Every ``NotMeasured`` in a survey: the path to it in words, and its reason."""
    if isinstance(thing, NotMeasured):
        yield where, thing.reason
    elif isinstance(thing, dict):
        for key, value in thing.items():
            yield from not_measured(value, f"{where}, {key}" if where else str(key))
    elif isinstance(thing, tuple):
        for place, value in enumerate(thing, start=1):
            name = getattr(value, "id", None) or getattr(value, "from_", None)
            yield from not_measured(value, name or f"{where} {place}")
    elif is_dataclass(thing):
        for field in fields(thing):
            name = field.name.strip("_").replace("_", " ")
            yield from not_measured(getattr(thing, field.name), f"{where}, {name}".strip(", "))


def cautions_section(judgements: Sequence[Judgement]) -> tuple[Section, ...]:
    """The cautions of all judgements, each once; the general one stands on the first page."""
    said = dict.fromkeys(line for judgement in judgements for line in judgement.cautions)
    lines = tuple(line for line in said if line != GENERAL_CAUTION)
    return (Section("cautions", "Cautions", (Listing(lines),)),) if lines else ()


def provenance_section(
    survey: Survey, judgements: Sequence[Judgement], provenance: Provenance
) -> Section:
    """What the report was made from, down to the bytes."""
    job = survey.job
    pairs = [
        ("Job", job.title),
        ("Visit", job.visit or "not stated"),
        ("Seen on", job.seen or "not stated"),
        ("Seen by", job.by or "not stated"),
        ("Survey file", provenance.survey_file or "not stated"),
        ("Survey SHA-256", judgements[0].survey_sha256),
    ]
    for judgement in judgements:
        pairs.append(("Edition", f"{judgement.edition.title} ({judgement.edition.id})"))
        pairs.append(("Edition SHA-256", judgement.edition.sha256))
    pairs.append(("Program", f"fluewright {provenance.program_version}"))
    pairs.append(("Report made on", provenance.made_on or "not stated"))
    return Section("provenance", "What this report was made from", (Facts(tuple(pairs)),))
