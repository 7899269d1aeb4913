"""Panels with their axes, and what is drawn on them: lines, bands, points, levels, bars."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from fluewright.drawing.metrics import text_width
from fluewright.drawing.plot.axis import Axis, Panel, also_axis, axis_of, plain_number
from fluewright.drawing.plot.data import Measure
from fluewright.drawing.plot.sheet import (
    ABOVE,
    BELOW,
    DOWN_LEFT,
    DOWN_RIGHT,
    LEFT,
    RIGHT,
    UP_LEFT,
    UP_RIGHT,
    Sheet,
    Side,
    distance_to,
    middle_of,
    wide,
)
from fluewright.drawing.scene import Circle, Dash, Ink, Line, Pen, Point, Polygon, Text

TICK_MM = 1.2
Numbers = Sequence[tuple[float, float]]


def fitting(
    measure: Measure, values: Sequence[float], mm: float, size: float, *, zero: bool = False,
    ends: tuple[float, float] | None = None,
) -> Axis:  # fmt: skip
    """A level axis with as many ticks as its words leave room for."""
    for most in (8, 6, 5, 4, 3, 2):
        axis = axis_of(measure, values, most=most, zero=zero, ends=ends)
        places = [axis.share(tick) * mm for tick in axis.ticks]
        step = min((b - a for a, b in pairwise(places)), default=mm)
        if wide(axis.labels, size) + 0.9 * size <= step:
            return axis
    return axis_of(measure, values, most=1, zero=zero, ends=ends)


def upright(
    measure: Measure, values: Sequence[float], mm: float, *, zero: bool = False,
    ends: tuple[float, float] | None = None,
) -> Axis:  # fmt: skip
    """An upright axis with a tick about every 14 mm."""
    most = max(2, min(8, round(mm / 14.0)))
    return axis_of(measure, values, most=most, zero=zero, ends=ends)


def left_margin(sheet: Sheet, axis: Axis) -> float:
    """What an upright axis takes up on its left. [mm]"""
    return wide(axis.labels, sheet.type.small) + TICK_MM + 1.0


def right_margin(sheet: Sheet, y: Measure, axis: Axis, mm: float) -> float:
    """What a second upright axis takes up on the right, or the last word below. [mm]"""
    second = also_axis(y, axis, max(2, round(mm / 14.0)))
    if second is None:
        return 4.0
    return wide(second.labels, sheet.type.small) + TICK_MM + 1.2


def lay_panel(
    sheet: Sheet,
    x: tuple[Measure, Sequence[float]],
    y: tuple[Measure, Sequence[float]],
    height: float,
    *,
    zero: tuple[bool, bool] = (False, False),
    x_ends: tuple[float, float] | None = None,
    y_ends: tuple[float, float] | None = None,
    titled: bool = True,
    room_left: float | None = None,
    room_right: float | None = None,
    grid: bool = True,
) -> Panel:
    """The next panel downward, over the whole width, with its axes drawn.

    Args:
        sheet: what is drawn on.
        x: what the level axis shows, and the numbers on it.
        y: what the upright axis shows, and the numbers on it.
        height: of the panel. [mm]
        zero: whether zero is on the level and the upright axis.
        x_ends: where the level axis has to start and end.
        y_ends: where the upright axis has to start and end.
        titled: whether the level axis has its words; not where another panel below shares it.
        room_left: margin on the left, so that panels align. [mm]
        room_right: margin on the right, likewise. [mm]
        grid: whether light lines run across at the upright ticks.
    """
    up = upright(y[0], y[1], height, zero=zero[1], ends=y_ends)
    left = sheet.left + (left_margin(sheet, up) if room_left is None else room_left)
    spare = right_margin(sheet, y[0], up, height) if room_right is None else room_right
    right = sheet.right - spare
    flat = fitting(x[0], x[1], right - left, sheet.type.small, zero=zero[0], ends=x_ends)
    sheet.y -= sheet.type.small * 1.7
    top = sheet.y
    panel = Panel(left=left, bottom=top - height, right=right, top=top, x=flat, y=up)
    draw_upright(sheet, panel, y[0], grid=grid)
    sheet.y = draw_level(sheet, panel, x[0], titled=titled)
    return panel


def draw_upright(sheet: Sheet, panel: Panel, measure: Measure, *, grid: bool = True) -> None:
    """The upright axis on the left, its title over it, and the second unit on the right."""
    size = sheet.type.small
    sheet.add(Line((panel.left, panel.bottom), (panel.left, panel.top), layer="axis"))
    for tick, word in zip(panel.y.ticks, panel.y.labels, strict=True):
        y = panel.at(panel.x.low, tick)[1]
        if grid and panel.bottom + 0.1 < y:
            line = Line((panel.left, y), (panel.right, y), Pen.THIN, Ink.LIGHT, layer="grid")
            sheet.under.append(line)
        sheet.add(
            Line((panel.left - TICK_MM, y), (panel.left, y), Pen.THIN, layer="axis"),
            Text((panel.left - TICK_MM - 0.8, y - size * 0.34), word, size, "end", layer="axis"),
        )
    above = panel.top + size * 0.85
    sheet.add(Text((sheet.left, above), panel.y.title, size, face="bold", layer="axis"))
    draw_second(sheet, panel, measure)


def draw_second(sheet: Sheet, panel: Panel, measure: Measure) -> None:
    """The upright axis in its second unit on the right, where one is asked for."""
    size = sheet.type.small
    second = also_axis(measure, panel.y, max(2, round((panel.top - panel.bottom) / 14.0)))
    if second is None:
        return
    above = panel.top + size * 0.85
    sheet.add(
        Line((panel.right, panel.bottom), (panel.right, panel.top), layer="axis"),
        Text((sheet.right, above), second.title, size, "end", face="bold", layer="axis"),
    )
    for tick, word in zip(second.ticks, second.labels, strict=True):
        y = panel.at(panel.x.low, tick)[1]
        sheet.add(
            Line((panel.right, y), (panel.right + TICK_MM, y), layer="axis"),
            Text((panel.right + TICK_MM + 0.8, y - size * 0.34), word, size, layer="axis"),
        )


def draw_level(sheet: Sheet, panel: Panel, measure: Measure, *, titled: bool = True) -> float:
    """The level axis below, the second unit under it; returns where it ends. [mm]"""
    size = sheet.type.small
    sheet.add(Line((panel.left, panel.bottom), (panel.right, panel.bottom), layer="axis"))
    low = panel.bottom - TICK_MM
    for tick in panel.x.ticks:
        x = panel.at(tick, panel.y.low)[0]
        sheet.add(Line((x, panel.bottom), (x, low), Pen.THIN, layer="axis"))
    if not titled:
        return low - 1.8
    low = _words_below(sheet, panel, panel.x, low)
    second = also_axis(measure, panel.x, len(panel.x.ticks) + 1)
    low -= size * 1.15
    title = panel.x.title
    middle = (panel.left + panel.right) / 2
    if second is None:
        sheet.add(_centered(sheet, title, middle, low))
        return low - size * 0.5
    sheet.add(_centered(sheet, title, middle, low))
    low -= size * 0.6
    sheet.add(Line((panel.left, low), (panel.right, low), layer="axis"))
    for tick in second.ticks:
        x = panel.at(tick, panel.y.low)[0]
        sheet.add(Line((x, low), (x, low - TICK_MM), Pen.THIN, layer="axis"))
    low = _words_below(sheet, panel, second, low - TICK_MM) - size * 1.15
    sheet.add(_centered(sheet, second.title, middle, low))
    return low - size * 0.5


def _centered(sheet: Sheet, words: str, middle: float, low: float) -> Text:
    """A title under the middle of an axis, moved where it would leave the sheet."""
    size = sheet.type.small
    half = text_width(words, size, "bold") / 2
    x = min(max(middle, sheet.left + half), sheet.right - half)
    return Text((x, low), words, size, "middle", face="bold", layer="axis")


def _words_below(sheet: Sheet, panel: Panel, axis: Axis, low: float) -> float:
    """The words of the ticks, passing over what would touch the one before."""
    size = sheet.type.small
    low -= size
    clear = -1e9
    for tick, word in zip(axis.ticks, axis.labels, strict=True):
        x = panel.at(tick, panel.y.low)[0]
        half = text_width(word, size) / 2
        x = min(max(x, panel.left - 3.0 + half), panel.right + 3.0 - half)
        x = min(max(x, sheet.left + half), sheet.right - half)
        if x - half < clear:
            continue
        clear = x + half + 0.5 * size
        sheet.add(Text((x, low), word, size, "middle", layer="axis"))
    return low - size * 0.25


# ---------------------------------------------------------------------- on a panel


def curve(
    sheet: Sheet, panel: Panel, numbers: Numbers, *, pen: Pen = Pen.HEAVY, ink: Ink = Ink.INK,
    dash: Dash = Dash.SOLID, marks: bool = False,
) -> list[Point]:  # fmt: skip
    """A line through some numbers; a single one is a small disc. Returns its places. [mm]"""
    points = [panel.at(*pair) for pair in numbers]
    chain = [p for n, p in enumerate(points) if n == 0 or p != points[n - 1]]
    if len(chain) == 1 or marks:
        for point in chain:
            sheet.add(Circle(point, 0.8, None, fill=ink, ink=ink, layer="point"))
    if len(chain) > 1:
        sheet.add(Polygon(tuple(chain), pen, ink, None, dash, closed=False, layer="curve"))
    return chain


def steps(numbers: Numbers, end: float) -> list[tuple[float, float]]:
    """The corners of a line that holds each number until the next."""
    made: list[tuple[float, float]] = []
    for n, (x, y) in enumerate(numbers):
        nxt = numbers[n + 1][0] if n + 1 < len(numbers) else end
        made += [(x, y), (nxt, y)]
    return made


def along(chain: Sequence[Point], shares: Sequence[float]) -> list[Point]:
    """Places on a chain at shares of its level extent, or of its number where it is upright."""
    if len(chain) == 1:
        return [chain[0]]
    lengths = [0.0]
    for a, b in pairwise(chain):
        lengths.append(lengths[-1] + ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5)
    found: list[Point] = []
    for share in shares:
        want = share * lengths[-1]
        n = next(i for i in range(1, len(lengths)) if lengths[i] >= want - 1e-9)
        (x1, y1), (x2, y2) = chain[n - 1], chain[n]
        part = (want - lengths[n - 1]) / ((lengths[n] - lengths[n - 1]) or 1.0)
        found.append((x1 + (x2 - x1) * part, y1 + (y2 - y1) * part))
    return found


END_FIRST = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0.0)
FROM_TOP = (0.97, 0.85, 0.7, 0.5, 0.3, 0.1)
FROM_END = (0.99, 0.75, 0.5, 0.25, 0.02)


def name_curve(
    sheet: Sheet, chain: Sequence[Point], words: str | Sequence[str], *, ink: Ink = Ink.INK,
    shares: Sequence[float] = END_FIRST, sides: Sequence[Side] = (
        UP_LEFT, DOWN_RIGHT, UP_RIGHT, DOWN_LEFT, ABOVE, BELOW, RIGHT, LEFT),
    others: Sequence[Sequence[Point]] = (), key: str | None = None, within: Panel | None = None,
) -> bool:  # fmt: skip
    """Write what a line is beside it, nearer to it than to any other line."""

    def apart(texts: Sequence[Text]) -> bool:
        middle = middle_of(texts)
        own = distance_to(middle, chain)
        return all(distance_to(middle, other) > own * 1.25 for other in others)

    return sheet.label(words, along(chain, shares), ink=ink, sides=sides, key=key, apart=apart,
                       within=within)  # fmt: skip


def band(sheet: Sheet, panel: Panel, low: Numbers, high: Numbers, *, tint: bool = False,
         angle_deg: float = 45.0, spacing_mm: float = 1.6, ink: Ink = Ink.INK) -> None:  # fmt: skip
    """The area between two lines, hatched or tinted."""
    area = [panel.at(*p) for p in low] + [panel.at(*p) for p in reversed(high)]
    if len(area) < 3:
        return
    if tint:
        sheet.tint(area)
    else:
        sheet.hatch(area, angle_deg, spacing_mm, ink)


def box(panel: Panel, x1: float, x2: float, y1: float, y2: float) -> list[Point]:
    """The corners of a rectangle of numbers. [mm]"""
    return [panel.at(x1, y1), panel.at(x2, y1), panel.at(x2, y2), panel.at(x1, y2)]


def upright_line(
    sheet: Sheet, panel: Panel, x: float, words: str | Sequence[str], *, ink: Ink = Ink.INK,
    dash: Dash = Dash.DASHED, pen: Pen = Pen.MIDDLE, heights: Sequence[float] = FROM_TOP,
    sides: Sequence[Side] = (DOWN_RIGHT, DOWN_LEFT, RIGHT, LEFT), key: str | None = None,
) -> None:  # fmt: skip
    """A line from foot to top at one number, with its words."""
    foot, top = panel.at(x, panel.y.low), panel.at(x, panel.y.high)
    sheet.add(Line(foot, top, pen, ink, dash, layer="level"))
    if words:
        name_upright(sheet, panel, x, words, ink=ink, heights=heights, sides=sides, key=key)


def name_upright(
    sheet: Sheet, panel: Panel, x: float, words: str | Sequence[str], *, ink: Ink = Ink.INK,
    heights: Sequence[float] = FROM_TOP,
    sides: Sequence[Side] = (DOWN_RIGHT, DOWN_LEFT, RIGHT, LEFT), key: str | None = None,
) -> None:  # fmt: skip
    """The words of an upright line, beside it; outside the panel they go under it."""
    if not panel.x.low <= x <= panel.x.high:
        said = words if isinstance(words, str) else " ".join(words)
        sheet.keys.append(f"At {plain_number(x)}, beyond the plot: {said}.")
        return
    foot, top = panel.at(x, panel.y.low), panel.at(x, panel.y.high)
    places = [(foot[0], foot[1] + (top[1] - foot[1]) * h) for h in heights]
    sheet.label(words, places, sides=sides, ink=ink, near=1.2, key=key, within=panel)


def level_line(
    sheet: Sheet, panel: Panel, y: float, words: str | Sequence[str], *, ink: Ink = Ink.INK,
    dash: Dash = Dash.DASHED, pen: Pen = Pen.MIDDLE, shares: Sequence[float] = FROM_END,
    key: str | None = None,
) -> None:  # fmt: skip
    """A line across at one number, with its words over or under it."""
    a, b = panel.at(panel.x.low, y), panel.at(panel.x.high, y)
    sheet.add(Line(a, b, pen, ink, dash, layer="level"))
    if words:
        name_level(sheet, panel, y, words, ink=ink, shares=shares, key=key)


def name_level(
    sheet: Sheet, panel: Panel, y: float, words: str | Sequence[str], *, ink: Ink = Ink.INK,
    shares: Sequence[float] = FROM_END, key: str | None = None,
) -> None:  # fmt: skip
    """The words of a line across, over or under it."""
    a, b = panel.at(panel.x.low, y), panel.at(panel.x.high, y)
    lines = [words] if isinstance(words, str) else list(words)
    half = wide(lines, sheet.type.small) / 2 + 0.5
    places = [(min(max(a[0] + (b[0] - a[0]) * s, a[0] + half), b[0] - half), a[1]) for s in shares]
    sheet.label(lines, places, sides=(ABOVE, BELOW), ink=ink, near=0.7, key=key,
                within=panel)  # fmt: skip


def disc(sheet: Sheet, at: Point, *, solid: bool, ink: Ink = Ink.INK, radius: float = 1.5) -> None:
    """A point: a solid disc where it holds, a ring where it does not."""
    pen, fill = (None, ink) if solid else (Pen.FIRM, Ink.PAPER)
    sheet.add(Circle(at, radius, pen, ink, fill, layer="point"))


def cross(sheet: Sheet, at: Point, *, ink: Ink = Ink.MEASURED, reach: float = 2.0) -> None:
    """Two strokes through a place, as a surveyor marks a point."""
    x, y = at
    sheet.add(
        Line((x - reach, y), (x + reach, y), Pen.HEAVY, ink, layer="point"),
        Line((x, y - reach), (x, y + reach), Pen.HEAVY, ink, layer="point"),
        Circle(at, reach * 0.62, Pen.FIRM, ink, None, layer="point"),
    )


def whisker(sheet: Sheet, a: Point, b: Point, *, ink: Ink = Ink.INK, half: float = 1.0) -> None:
    """A level whisker with end strokes."""
    sheet.add(Line(a, b, Pen.FIRM, ink, layer="whisker"))
    for x, y in (a, b):
        sheet.add(Line((x, y - half), (x, y + half), Pen.FIRM, ink, layer="whisker"))
