"""The sheet around a figure: frame, title block, legend, scale bar, notes."""

from __future__ import annotations

from typing import Literal

from fluewright.drawing.metrics import shorten, text_width, wrap
from fluewright.drawing.scene import Ink, Item, Line, Mark, MarkKind, Pen, Polygon, Text, View
from fluewright.drawing.words import Style
from fluewright.finding import GRADE_WORDS, NOT_KNOWN_WORDS, Grade
from fluewright.frozen import frozen

SheetName = Literal["letter", "a4"]
SIZES: dict[str, tuple[float, float]] = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
EDGE_MM = 8.0
INNER_MM = 4.0  # from frame to drawing
BLOCK_MM = 21.0
NOTE_MM = 1.85
NOTE_LEAD_MM = 2.75
LEGEND_LEAD_MM = 4.6
FOOT_M = 0.3048
BAR_PARTS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100)  # feet or metres in a part of the bar
BAR_PART_MM = 6.0

CAUTION = (
    "Shows what was surveyed, as far as it was seen. Local code, the listing and the maker's "
    "instructions, and the authority having jurisdiction decide; licensed people do the work."
)
OPEN_NOTE = "not known yet and not marked on this sheet: see the findings."
STOP_LINE = (
    "Shut the appliance off and leave it off. Open windows, leave the house, call from outside. "
    "Anyone ill, or an alarm: emergency number."
)

MARK_WORDS: dict[MarkKind, str] = {
    "stop": GRADE_WORDS[Grade.STOP],
    "hazard": GRADE_WORDS[Grade.HAZARD],
    "defect": GRADE_WORDS[Grade.DEFECT],
    "craft": GRADE_WORDS[Grade.CRAFT],
    "note": GRADE_WORDS[Grade.NOTE],
    "cannot_tell": NOT_KNOWN_WORDS,
}


@frozen
class Scale:
    """A drawing scale as it is said, and how many times smaller the drawing is."""

    name: str
    times: float

    @property
    def mm_per_m(self) -> float:
        """Millimetres on paper for a metre of the house."""
        return 1000.0 / self.times


SCALES: dict[Style, tuple[Scale, ...]] = {
    "us": tuple(
        Scale(f"{inches} in = 1 ft", times)
        for inches, times in (
            ("1 1\u20442", 8.0), ("1", 12.0), ("3\u20444", 16.0), ("1\u20442", 24.0),
            ("3\u20448", 32.0), ("1\u20444", 48.0), ("3\u204416", 64.0), ("1\u20448", 96.0),
            ("3\u204432", 128.0), ("1\u204416", 192.0), ("1\u204432", 384.0),
            ("1\u204464", 768.0),
        )
    ),
    "metric": tuple(
        Scale(f"1:{times}", float(times)) for times in (10, 20, 25, 50, 100, 200, 500, 1000, 2000)
    ),
}  # fmt: skip


@frozen
class Title:
    """What the title block says."""

    title: str
    what: str
    cells: tuple[tuple[str, str], ...]
    invented: bool
    program: str


def frame(width: float, height: float) -> list[Item]:
    """The border of the sheet."""
    e = EDGE_MM
    corners = ((e, e), (width - e, e), (width - e, height - e), (e, height - e))
    return [Polygon(corners, Pen.FIRM, layer="frame")]


def title_block(title: Title, width: float) -> list[Item]:
    """The block along the foot of the sheet."""
    left, right, low, high = EDGE_MM, width - EDGE_MM, EDGE_MM, EDGE_MM + BLOCK_MM
    items: list[Item] = [Line((left, high), (right, high), Pen.FIRM, layer="frame")]
    room = right - left - 8.0
    flag = "Invented example" if title.invented else ""
    aside = text_width(flag, 2.6, "bold") + 6.0 if flag else 0.0
    size = 4.4
    while size > 2.9 and text_width(title.title, size, "bold") > room - aside:
        size -= 0.1
    items.append(
        Text((left + 4.0, high - 5.6), shorten(title.title, room - aside, size, "bold"), size,
             face="bold", layer="title")
    )  # fmt: skip
    if flag:
        items.append(
            Text((right - 4.0, high - 5.4), flag, 2.6, "end", face="bold", ink=Ink.ALARM,
                 layer="title")
        )  # fmt: skip
    program = text_width(title.program, NOTE_MM) + 4.0
    items.append(
        Text((left + 4.0, high - 9.6), shorten(title.what, room - program, 2.4), 2.4, layer="title")
    )
    items.append(
        Text((right - 4.0, high - 9.6), title.program, NOTE_MM, "end", ink=Ink.GREY, layer="title")
    )
    rule = high - 11.6
    items.append(Line((left, rule), (right, rule), Pen.FINE, layer="frame"))
    return items + _cells(title, left, right, low, rule)


def _cells(title: Title, left: float, right: float, low: float, high: float) -> list[Item]:
    items: list[Item] = []
    needs = [
        max(text_width(name, 1.7), text_width(value, 2.3)) + 5.0 for name, value in title.cells
    ]
    stretch = min(1.0, (right - left) / sum(needs))
    spare = max(0.0, (right - left) - sum(needs)) / len(needs)
    x = left
    for i, ((name, value), need) in enumerate(zip(title.cells, needs, strict=True)):
        width = need * stretch + spare
        if i:
            items.append(Line((x, low), (x, high), Pen.FINE, layer="frame"))
        start = x + (4.0 if i == 0 else 2.0)
        items.append(Text((start, high - 3.2), shorten(name, width - 3, 1.7), 1.7, ink=Ink.GREY,
                          layer="title"))  # fmt: skip
        items.append(
            Text((start, high - 6.6), shorten(value, width - (5.5 if i == 0 else 3.0), 2.3), 2.3,
                 layer="title")
        )  # fmt: skip
        x += width
    return items


def scale_bar(left: float, base: float, view: View, style: Style) -> list[Item]:
    """A bar that keeps its truth when the print is not at full size."""
    one = FOOT_M if style == "us" else 1.0
    sizes = [n for n in BAR_PARTS if style == "metric" or n >= 1]
    size = next((n for n in sizes if n * one * view.mm_per_m >= BAR_PART_MM), sizes[-1])
    step = size * one * view.mm_per_m
    count = max(1, min(4, int(30.0 / step)))
    items: list[Item] = []
    for i in range(count):
        x = left + i * step
        box = ((x, base), (x + step, base), (x + step, base + 1.1), (x, base + 1.1))
        items.append(
            Polygon(box, Pen.THIN, fill=Ink.INK if i % 2 == 0 else Ink.PAPER, layer="scale")
        )
    end = left + count * step
    words = f"{count * size:g} {'ft' if style == 'us' else 'm'}"
    items.append(Text((left, base + 1.9), "0", 1.8, "middle", layer="scale"))
    items.append(Text((end, base + 1.9), words, 1.8, "middle", layer="scale"))
    return items


def stop_banner(width: float, high: float) -> tuple[list[Item], float]:
    """Danger first: what to do now, along the head of the sheet; and its height. [mm]"""
    left, right = EDGE_MM + INNER_MM, width - EDGE_MM - INNER_MM
    lines = wrap(STOP_LINE, right - left - 6.0, 2.5, "bold", 3)
    y = high - 4.0
    items: list[Item] = [Mark((left + 1.8, y), "stop", "", 3.6)]
    for line in lines:
        items.append(
            Text((left + 5.6, y - 0.9), line, 2.5, face="bold", ink=Ink.ALARM, layer="banner")
        )
        y -= 3.6
    return items, 3.6 * len(lines) + 3.0


@frozen
class Sign:
    """One entry of the legend: a drawn sample or a mark, and its word."""

    word: str
    mark: MarkKind | None = None
    wall: str | None = None
    ink: Ink | None = None


def legend_rows(signs: list[Sign], width: float) -> list[list[Sign]]:
    """The legend broken into rows that fit."""
    rows: list[list[Sign]] = [[]]
    used = 0.0
    for sign in signs:
        need = _sign_width(sign)
        if rows[-1] and used + need > width:
            rows.append([])
            used = 0.0
        rows[-1].append(sign)
        used += need
    return rows


def _sample_width(sign: Sign) -> float:
    return 3.6 if sign.mark else 9.0 if sign.wall else 5.0


def _sign_width(sign: Sign) -> float:
    return _sample_width(sign) + text_width(sign.word, 2.0) + 5.0


def legend_places(
    rows: list[list[Sign]], left: float, top: float
) -> list[tuple[Sign, float, float]]:
    """Each entry with its left end and base line. [mm]"""
    places: list[tuple[Sign, float, float]] = []
    for n, row in enumerate(rows):
        x = left
        for sign in row:
            places.append((sign, x, top - LEGEND_LEAD_MM * (n + 1) + 1.2))
            x += _sign_width(sign)
    return places


def sign_word(sign: Sign, x: float, base: float) -> list[Item]:
    """The word of a legend entry, and its mark or stroke where it has one."""
    start = x + _sample_width(sign) + 0.6
    items: list[Item] = [Text((start, base), sign.word, 2.0, layer="legend")]
    if sign.mark:
        items.append(Mark((x + 1.6, base + 0.75), sign.mark, "", 2.8))
    elif sign.ink is not None:
        items.append(
            Line((x, base + 0.7), (x + 4.4, base + 0.7), Pen.FIRM, sign.ink, layer="legend")
        )
    return items


def notes(lines: list[str], left: float, top: float, width: float) -> list[Item]:
    """Notes under the figure."""
    items: list[Item] = []
    y = top
    for note in lines:
        for line in wrap(note, width, NOTE_MM):
            y -= NOTE_LEAD_MM
            ink = Ink.UNKNOWN if note.endswith(OPEN_NOTE) else Ink.INK
            items.append(Text((left, y + 0.7), line, NOTE_MM, ink=ink, layer="notes"))
    return items


def notes_height(lines: list[str], width: float) -> float:
    """Height that notes will take. [mm]"""
    return NOTE_LEAD_MM * sum(len(wrap(note, width, NOTE_MM)) for note in lines)
