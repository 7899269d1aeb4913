"""The margin column: what each piece is, the marks of its findings, and a leader to the place."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from fluewright.drawing.dimensions import spread
from fluewright.drawing.layout import Canvas
from fluewright.drawing.metrics import Face, fraction, shorten, text_width, wrap
from fluewright.drawing.scene import Circle, Ink, Item, Line, Mark, MarkKind, Pen, Point, Text
from fluewright.finding import GRADE_WORDS, NOT_KNOWN_WORDS, Finding, Verdict
from fluewright.frozen import frozen

HEAD_MM = 2.15
ROW_MM = 1.95
LEAD_MM = 2.75  # from base line to base line
MARK_MM = 2.5
NUMBER_MM = 2.4
AIR_MM = 1.7  # between blocks
NAME_MM = 2.15
NEAR_MM = tuple(
    (dx, dy) for away in (1.2, 3.0, 5.5, 8.5) for dx, dy in (
        (0.0, away), (0.0, -away - 4.5), (-away - 4.0, -0.8), (away, -0.8), (away, away),
        (-away - 3.0, away), (-away - 3.0, -away - 2.0), (away, -away - 2.0),
    )
)  # fmt: skip


@frozen
class Block:
    """All that hangs on one place: its words, its findings, and where it is."""

    name: str
    words: str
    detail: str
    findings: tuple[Finding, ...]
    targets: tuple[Point, ...]  # places that a leader may end at, best first; none: no leader
    wanted: float  # height on paper that the block would like
    lettered: bool = False  # its name stands beside the place: no leader, where that finds room

    @property
    def is_grave(self) -> bool:
        """Whether it carries a stop or a hazard that was found."""
        return any(kind_of(f) in ("stop", "hazard") for f in self.findings)


@frozen
class Lead:
    """A leader still to be drawn: from a block's first line to its place."""

    block: Block
    left: float
    y: float

    def options(self) -> Iterator[tuple[Item, ...]]:
        """Ways to draw it, best first."""
        for knee in (3.2, 6.0, 1.6):
            for target in self.block.targets:
                yield self._drawn(target, knee)
        for target in self.block.targets:  # level first, then slanting: around words
            for share in (0.5, 0.75):
                knee = (self.left - 0.9 - target[0]) * share
                yield self._drawn(target, knee)

    def _drawn(self, target: Point, knee: float) -> tuple[Item, ...]:
        ink = Ink.ALARM if self.block.is_grave else Ink.GREY
        bend = (self.left - knee, self.y)
        return (
            Line(target, bend, Pen.FINE, ink, layer="leader"),
            Line(bend, (self.left - 0.9, self.y), Pen.FINE, ink, layer="leader"),
            Circle(target, 0.45, None, ink, ink, layer="leader"),
        )


def name_beside(canvas: Canvas, lead: Lead) -> bool:
    """The name of a place and its marks beside the place itself; whether that found room."""
    shown = [f for f in lead.block.findings if f.number]
    marks = sorted({(kind_of(f), str(f.number)) for f in shown}, key=lambda m: int(m[1]))
    wide = text_width(lead.block.name, NAME_MM, "bold")
    widths = [MARK_MM + 1.9 + text_width(number, NUMBER_MM, "bold") for _, number in marks]

    def groups() -> Iterator[tuple[Item, ...]]:
        for some in ([*zip(marks, widths, strict=True)], []) if marks else ([],):
            full = wide + sum(width for _, width in some)
            for x, y in lead.block.targets:
                for dx, dy in NEAR_MM:
                    left = x + dx - (full if dx < 0 else full / 2 if dx == 0 else 0.0)
                    yield _named((left, y + dy), lead.block.name, wide, some)

    return canvas.place(groups(), tidy=False)


def _named(
    at: Point, name: str, wide: float, marks: list[tuple[tuple[MarkKind, str], float]]
) -> tuple[Item, ...]:
    """A name with marks in a row."""
    items: list[Item] = [Text(at, name, NAME_MM, face="bold", layer="name")]
    x = at[0] + wide + 1.4
    for (kind, number), width in marks:
        items.append(Mark((x + MARK_MM / 2, at[1] + 0.8), kind, number, MARK_MM))
        x += width
    return tuple(items)


@frozen
class Tier:
    """How much is said where room is short."""

    titles: int  # most lines of a finding's title; 0: marks and numbers alone
    details: bool
    quiet: bool  # pieces without a finding are named too


TIERS = (
    Tier(4, True, True),
    Tier(3, True, True),
    Tier(2, True, True),
    Tier(1, True, True),
    Tier(1, False, True),
    Tier(1, False, False),
    Tier(0, False, False),
)


@frozen
class _Row:
    kind: MarkKind | None
    number: str
    text: str
    face_bold: bool = False


def kind_of(finding: Finding) -> MarkKind:
    """The mark of a finding."""
    if finding.verdict is Verdict.CANNOT_TELL:
        return "cannot_tell"
    return finding.grade.value


def number_list(numbers: list[int]) -> str:
    """Numbers in short: ``3, 5–8``."""
    parts: list[str] = []
    run: list[int] = []
    for number in [*sorted(numbers), -1]:
        if run and number != run[-1] + 1:
            parts.append(
                str(run[0])
                if len(run) == 1
                else f"{run[0]}{', ' if len(run) == 2 else '–'}{run[-1]}"
            )
            run = []
        run.append(number)
    return ", ".join(parts)


def column(
    blocks: list[Block], left: float, right: float, low: float, high: float
) -> tuple[list[Item], list[Lead]]:
    """The words and marks of the column between two heights, and the leaders it wants.

    For want of room it says less, and in the end leaves the rest to the list of findings.
    """
    for tier in TIERS:
        shown = [b for b in blocks if b.findings or (tier.quiet and b.targets)]
        sets = [_rows(b, tier, right - left) for b in shown]
        heights = [_height(rows) for rows in sets]
        if sum(heights) <= high - low:
            break
    else:
        shown, sets, heights = _cut(shown, sets, heights, high - low)
    # Blocks stand in order from the top; spread works upward.
    wanted = list(accumulate((-b.wanted for b in shown), max))
    places = spread(wanted, heights, -high, -low)
    items: list[Item] = []
    leads: list[Lead] = []
    for block, rows, height, place in zip(shown, sets, heights, places, strict=True):
        top = -place + height / 2
        items += _draw(rows, left, top)
        if block.targets:
            leads.append(Lead(block, left, top - AIR_MM / 2 - LEAD_MM + 1.3))
    return items, leads


def _rows(block: Block, tier: Tier, width: float) -> list[_Row]:
    room = width - text_width(block.name, HEAD_MM, "bold") - 1.2
    rows = [_Row(None, block.name, shorten(block.words, room, ROW_MM), True)]
    if tier.details and block.detail:
        rows += [_Row(None, "", line) for line in wrap(block.detail, width, ROW_MM, most=2)]
    fails = [f for f in block.findings if kind_of(f) != "cannot_tell"]
    for finding in fails if tier.titles else ():
        rows += _finding_rows(finding, tier.titles, width)
    if not tier.titles:
        rows += _packed(fails, width)
    unknown = [f for f in block.findings if kind_of(f) == "cannot_tell"]
    if len(unknown) == 1 and tier.titles:
        return rows + _finding_rows(unknown[0], tier.titles, width)
    return rows + _unknown_rows([f.number for f in unknown], width)


def _unknown_rows(numbers: list[int], width: float) -> list[_Row]:
    """All that is not known of one place, under one mark."""
    if not numbers:
        return []
    said, words = number_list(numbers), "not known yet"
    room = width - 5.0
    if text_width(said, NUMBER_MM, "bold") + text_width(words, ROW_MM) + 2.0 <= room:
        return [_Row("cannot_tell", said, words)]
    lines = wrap(said, room, NUMBER_MM, "bold", 6)
    return [
        _Row("cannot_tell", lines[0], ""),
        *(_Row(None, "more", line) for line in lines[1:]),
    ]


def _finding_rows(finding: Finding, most: int, width: float) -> list[_Row]:
    number = str(finding.number)
    lead = 5.0 + text_width(number + "  ", NUMBER_MM, "bold")
    kind = kind_of(finding)
    words = f"{GRADE_WORDS[finding.grade]}: {finding.sentence or finding.title}"
    if kind == "cannot_tell":
        words = f"{NOT_KNOWN_WORDS}: whether {_inside_sentence(finding.title)}"
    lines = wrap(fraction(words), width - lead, ROW_MM, most=most)
    return [_Row(kind, number, lines[0])] + [_Row(None, "under", line) for line in lines[1:]]


def _inside_sentence(title: str) -> str:
    """A title as it stands within a sentence; a name keeps its capital."""
    keeps = title[:2].isupper() or title.startswith("Type ")
    return title if keeps else title[:1].lower() + title[1:]


def _packed(fails: list[Finding], width: float) -> list[_Row]:
    """Marks by kind, numbers alone."""
    rows: list[_Row] = []
    for kind in dict.fromkeys(kind_of(f) for f in fails):
        numbers = number_list([f.number for f in fails if kind_of(f) == kind])
        lines = wrap(numbers, width - 5.0, NUMBER_MM, "bold", 4)
        rows.append(_Row(kind, lines[0], ""))
        rows += [_Row(None, "more", line) for line in lines[1:]]
    return rows


def _height(rows: list[_Row]) -> float:
    return sum(_lead(row) for row in rows) + AIR_MM


def _lead(row: _Row) -> float:
    return 3.3 if row.kind is not None else LEAD_MM


def _cut(
    blocks: list[Block], sets: list[list[_Row]], heights: list[float], room: float
) -> tuple[list[Block], list[list[_Row]], list[float]]:
    """As many blocks as there is room for, and a line that says that the list holds the rest."""
    room -= LEAD_MM + AIR_MM
    count = len(blocks)
    while count and sum(heights[:count]) > room:
        count -= 1
    rest = [f.number for b in blocks[count:] for f in b.findings]
    last = Block("More", "", "", (), (), -1e6)
    rows = [_Row(None, "More", f"{len(rest)} marks: see the list of findings", True)]
    return (
        [*blocks[:count], last],
        [*sets[:count], rows],
        [*heights[:count], LEAD_MM + AIR_MM],
    )


def _draw(rows: list[_Row], left: float, top: float) -> list[Item]:
    items: list[Item] = []
    y = top - AIR_MM / 2
    for row in rows:
        y -= _lead(row)
        items += _row(row, left, y + 0.55)
    return items


def _row(row: _Row, left: float, base: float) -> list[Item]:
    if row.face_bold:
        name = Text((left, base), row.number, HEAD_MM, face="bold", layer="column")
        more = left + text_width(row.number, HEAD_MM, "bold") + 1.0
        return [name, Text((more, base), row.text, ROW_MM, layer="column")] if row.text else [name]
    if row.kind is None:
        shift = {"": 0.0, "more": 4.2, "under": 4.2}[row.number]
        face: Face = "bold" if row.number == "more" else "regular"
        return [
            Text(
                (left + shift, base),
                row.text,
                NUMBER_MM if face == "bold" else ROW_MM,
                face=face,
                layer="column",
            )
        ]
    mark = Mark((left + MARK_MM / 2 + 0.3, base + 0.8), row.kind, row.number, MARK_MM)
    items: list[Item] = [mark]
    if row.text:
        more = left + MARK_MM + 1.1 + text_width(row.number, NUMBER_MM, "bold") + 1.2
        items.append(Text((more, base), row.text, ROW_MM, layer="column"))
    return items
