"""Findings as tables: repairs and dimensions for the trade, what meets for an official."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.finding import Finding, Judgement, Verdict
from fluewright.report.findings import Shown, citation_order, cites_of, failing
from fluewright.report.tree import (
    MARK_WORDS,
    Cell,
    Column,
    Paragraph,
    Section,
    Table,
    Tone,
    Working,
    mark_of_finding,
)
from fluewright.report.words import limit_text, margin_text, reading_text, step_text


def meets_sections(judgement: Judgement, shown: Shown) -> tuple[Section, ...]:
    """For an official: what meets and what does not apply, by place in the text."""
    found: list[Section] = []
    ordered = sorted(judgement.findings, key=citation_order)
    meets = [finding for finding in ordered if finding.verdict is Verdict.MEETS]
    if meets:
        table = _table("What was examined and meets its requirement", meets, shown)
        found.append(Section("meets", "What meets", (table,)))
    excepted = [finding for finding in ordered if finding.verdict is Verdict.NOT_APPLICABLE]
    if excepted:
        columns = (Column("Place"), Column("Requirement"), Column("Why it does not apply"))
        rows = tuple(
            (Cell("; ".join(cites_of(f))), Cell(f"{f.title}, {shown.subject(f)}"), Cell(f.sentence))
            for f in excepted
        )
        table = Table("Requirements that do not apply here", columns, rows)
        found.append(Section("excepted", "What does not apply", (table,)))
    return tuple(found)


def _table(caption: str, findings: Sequence[Finding], shown: Shown) -> Table:
    columns = (
        Column("Place"),
        Column("Requirement"),
        Column("Measured", numeric=True),
        Column("Limit", numeric=True),
        Column("Margin", numeric=True),
    )
    rows = []
    for finding in findings:
        head = (
            Cell("; ".join(cites_of(finding))),
            Cell(f"{finding.title}, {shown.subject(finding)}"),
        )
        rows.append((*head, *_number_cells(finding)))
    return Table(caption, columns, tuple(rows))


def _number_cells(finding: Finding) -> tuple[Cell, Cell, Cell]:
    if finding.comparison is None:
        return (Cell("seen"), Cell("–"), Cell("–"))
    comparison = finding.comparison
    texts = (reading_text(comparison), limit_text(comparison), margin_text(comparison))
    return (Cell(texts[0]), Cell(texts[1]), Cell(texts[2]))


def workings_section(judgement: Judgement, shown: Shown) -> tuple[Section, ...]:
    """For an official: the workings of what meets. The others stand with their findings."""
    done = [
        finding
        for finding in sorted(judgement.findings, key=citation_order)
        if finding.verdict is Verdict.MEETS and finding.working
    ]
    if not done:
        return ()
    sections = tuple(
        Section(
            f"working-{place}",
            f"{finding.title}, {shown.subject(finding)}",
            (Working(tuple(step_text(step) for step in finding.working)),),
        )
        for place, finding in enumerate(done, start=1)
    )
    return (Section("workings", "Workings of what meets", (), sections),)


def repairs_section(judgement: Judgement, shown: Shown) -> tuple[Section, ...]:
    """For the trade: what to repair, with the number now and the number needed."""
    wrong = failing(judgement)
    if not wrong:
        return ()
    columns = (
        Column("Mark"),
        Column("Where"),
        Column("What to do"),
        Column("Now", numeric=True),
        Column("Needed", numeric=True),
    )
    rows = tuple(_repair_row(finding, shown) for finding in wrong)
    table = Table("Repairs, gravest first", columns, rows)
    note = Paragraph(
        "Check every length and limit against the parts in hand and their instructions.", Tone.SMALL
    )
    return (Section("repairs", "Repairs", (table, note)),)


def _repair_row(finding: Finding, shown: Shown) -> tuple[Cell, ...]:
    mark, number = mark_of_finding(finding), shown.number(finding)
    comparison = finding.comparison
    remedy = " Or: ".join(finding.remedies) or f"{finding.title}: no repair worked out"
    return (
        Cell(str(number) if number else "", mark, MARK_WORDS[mark]),
        Cell(shown.subject(finding)),
        Cell(remedy),
        Cell(reading_text(comparison) if comparison else ""),
        Cell(limit_text(comparison) if comparison else ""),
    )


def dimensions_section(judgement: Judgement, shown: Shown) -> tuple[Section, ...]:
    """For the trade: every number that was compared, with its limit and margin."""
    compared = [finding for finding in judgement.findings if finding.comparison is not None]
    if not compared:
        return ()
    columns = (
        Column("Where"),
        Column("What"),
        Column("Measured", numeric=True),
        Column("Limit", numeric=True),
        Column("Margin", numeric=True),
    )
    rows = []
    for finding in compared:
        assert finding.comparison is not None
        what = Cell(finding.comparison.label)
        rows.append((Cell(shown.subject(finding)), what, *_number_cells(finding)))
    table = Table("Dimensions and readings that were compared", columns, tuple(rows))
    return (Section("dimensions", "Dimensions", (table,)),)
