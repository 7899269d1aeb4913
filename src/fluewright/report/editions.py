"""Several editions side by side: where they differ first, then what is the same."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.finding import Finding, Judgement, Verdict
from fluewright.report.findings import Shown, finding_blocks
from fluewright.report.tree import (
    MARK_WORDS,
    Audience,
    Block,
    Cell,
    Column,
    Paragraph,
    Section,
    Table,
    mark_of_finding,
)
from fluewright.report.words import count_text, limit_text, margin_text

Key = tuple[str, str]
Row = tuple[Finding, list[Finding | None]]
_OPEN = (Verdict.FAILS, Verdict.CANNOT_TELL)
_NONE = "not among this edition's findings"


def _by_key(judgement: Judgement) -> dict[Key, Finding]:
    return {(finding.rule, finding.subject): finding for finding in judgement.findings}


def _outcome(finding: Finding | None) -> tuple[str, str, str]:
    """What makes two editions differ: verdict, grade where it fails, and limit."""
    if finding is None:
        return ("", "", "")
    limit = limit_text(finding.comparison) if finding.comparison else ""
    return (finding.verdict, finding.grade if finding.verdict in _OPEN else "", limit)


def _cell(finding: Finding | None) -> Cell:
    if finding is None:
        return Cell(_NONE)
    mark = mark_of_finding(finding)
    text = ""
    if finding.comparison is not None:
        text = f"{limit_text(finding.comparison)}; {margin_text(finding.comparison)}"
    return Cell(text, mark, MARK_WORDS[mark])


def _row(finding: Finding, row: Sequence[Finding | None], shown: Shown) -> tuple[Cell, ...]:
    number = shown.number(finding)
    what = Cell(f"{finding.title}, {shown.subject(finding)}")
    return (Cell(str(number) if number else ""), what, *(_cell(one) for one in row))


_WORST = (Verdict.FAILS, Verdict.CANNOT_TELL, Verdict.MEETS)


def _weight(row: Sequence[Finding | None]) -> tuple[int, int]:
    """Rows whose verdict differs before rows where only the limit does, the gravest first.

    What does not apply here under one edition and is not asked by another comes last.
    """
    verdicts = {finding.verdict if finding else None for finding in row}
    worst = next((i for i, verdict in enumerate(_WORST) if verdict in verdicts), len(_WORST))
    return (int(len(verdicts) == 1), worst)


def _is_open(row: Sequence[Finding | None]) -> bool:
    """Whether something fails or is open under any edition."""
    return any(finding is not None and finding.verdict in _OPEN for finding in row)


def side_by_side(judgements: Sequence[Judgement]) -> tuple[list[Row], list[Row]]:
    """Everything that any of the editions answers, one row each with the answer of every edition.

    Returns:
        The rows whose verdict, grade or limit differs, gravest first; then all others. A row
        holds one finding, and for each edition its own or None.
    """
    rows = _rows(judgements)
    differ = [row for row in rows if len({_outcome(one) for one in row[1]}) > 1]
    same = [row for row in rows if len({_outcome(one) for one in row[1]}) == 1]
    return sorted(differ, key=lambda row: _weight(row[1])), same


def _rows(judgements: Sequence[Judgement]) -> list[Row]:
    tables = [_by_key(judgement) for judgement in judgements]
    keys = list(dict.fromkeys(key for table in tables for key in table))
    rows = [[table.get(key) for table in tables] for key in keys]
    return [(next(f for f in row if f is not None), row) for row in rows]


def editions_section(judgements: Sequence[Judgement], shown: Shown) -> tuple[Section, ...]:
    """The side-by-side of the editions; nothing where only one was used."""
    if len(judgements) < 2:
        return ()
    differ, same = side_by_side(judgements)
    if shown.audience is Audience.OWNER:
        differ = [pair for pair in differ if _is_open(pair[1])]
    titles = tuple(Column(judgement.edition.title) for judgement in judgements)
    columns = (Column("Mark"), Column("Requirement"), *titles)
    blocks: list[Block] = [
        Paragraph(
            "Which edition applies is for the authority having jurisdiction to say. No limit is "
            "carried over from one edition to another."
        )
    ]
    if differ:
        table = tuple(_row(finding, row, shown) for finding, row in differ)
        blocks.append(Table("Where the editions differ", columns, table))
    elif shown.audience is Audience.OWNER:
        blocks.append(Paragraph("The editions find the same things wrong and the same open."))
    else:
        blocks.append(Paragraph("The editions give the same answer to everything examined."))
    open_same = [pair for pair in same if _is_open(pair[1])]
    if open_same and shown.audience is not Audience.OWNER:
        table = tuple(_row(finding, row, shown) for finding, row in open_same)
        blocks.append(Table("Failing or open under every edition alike", columns, table))
    rest = len(same) - len(open_same)
    if rest and shown.audience is not Audience.OWNER:
        blocks.append(Paragraph(f"{count_text(rest, 'other answer')} the same in each edition."))
    return (Section("editions", "Edition beside edition", tuple(blocks), _more(judgements, shown)),)


def _more(judgements: Sequence[Judgement], shown: Shown) -> tuple[Section, ...]:
    """What the other editions find and the first one does not, in full."""
    first = _by_key(judgements[0])
    sections = []
    for place, judgement in enumerate(judgements[1:], start=2):
        other = [
            finding
            for key, finding in _by_key(judgement).items()
            if finding.verdict in _OPEN and _outcome(finding) != _outcome(first.get(key))
        ]
        if shown.audience is Audience.OWNER:
            other = [finding for finding in other if finding.verdict is Verdict.FAILS]
        if other:
            title = f"What {judgement.edition.title} finds otherwise"
            blocks = finding_blocks(other, shown, f"edition-{place}")
            sections.append(Section(f"edition-{place}", title, blocks))
    return tuple(sections)
