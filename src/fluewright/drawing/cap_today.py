"""On the cap chart: today's cap with the box of its bounds, and the ways in."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.cap_place import (
    Move,
)
from fluewright.drawing.cap_base import Chart
from fluewright.drawing.dimensions import TEXT_MM, arrow_dimension
from fluewright.drawing.layout import Canvas
from fluewright.drawing.metrics import text_width
from fluewright.drawing.pipes import cap
from fluewright.drawing.scene import (
    Circle,
    Dash,
    Ink,
    Item,
    Line,
    Pen,
    Point,
    Polygon,
    Text,
)
from fluewright.drawing.words import bound_text, value_text

PIPE_MM = 1.2


def draw_today(canvas: Canvas, chart: Chart) -> None:
    """Today's cap with the box of its bounds, and the ways in."""
    site = chart.region.site
    if site.height is None or not chart.place_known:
        return
    x_m = site.wall.away.value if site.wall and site.wall.away else chart.right_m * 0.4
    y_m = site.height.value
    x, y = chart.at(x_m, y_m)
    roof = chart.at(0.0, 0.0)[1]
    canvas.add(*_pipe(x, roof, y, Ink.INK, Dash.SOLID), *cap((x, y), PIPE_MM + 0.6))
    dx = site.wall.away.tolerance if site.wall and site.wall.away else 0.0
    dy = site.height.tolerance
    a, b = chart.at(x_m - dx, y_m - dy), chart.at(x_m + dx, y_m + dy)
    box = (a, (b[0], a[1]), b, (a[0], b[1]))
    if max(b[0] - a[0], b[1] - a[1]) > 0.4:
        canvas.add(Polygon(box, Pen.THIN, Ink.MEASURED, None, Dash.FINE, layer="today"))
    canvas.add(Circle((x, y), 0.5, None, Ink.MEASURED, Ink.MEASURED, layer="today"))
    _moves(canvas, chart, (x_m, y_m))
    _today_words(canvas, chart, (x, y))


def _pipe(x: float, low: float, high: float, ink: Ink, dash: Dash) -> list[Item]:
    if high <= low:
        return []
    w = PIPE_MM
    body = ((x - w, low), (x + w, low), (x + w, high), (x - w, high))
    return [
        Polygon(body, None, fill=Ink.PAPER, layer="pipe"),
        *(
            Line((x + side * w, low), (x + side * w, high), Pen.THIN, ink, dash, "pipe")
            for side in (-1, 1)
        ),
    ]


def _today_words(canvas: Canvas, chart: Chart, at: Point) -> None:
    site = chart.region.site
    assert site.height is not None
    rows = [f"today: {value_text(site.height, chart.style)} over the roof"]
    bound = bound_text(site.height, chart.style)
    if site.wall is not None and site.wall.away is not None:
        rows.append(f"{value_text(site.wall.away, chart.style)} from the {site.wall.name}")
    rows[-1] += f" ({bound})" if bound and len(rows) == 1 else ""
    wide = max(text_width(row, TEXT_MM) for row in rows)

    def groups() -> Iterator[tuple[Item, ...]]:
        for dy in (0.0, 4.0, -4.0, 8.0, -8.0, 13.0, 18.0, 24.0):
            for side in (1.0, -1.0):
                for dx in (5.5, 9.0, 14.0, 20.0):
                    x = at[0] + side * (dx + wide / 2)
                    yield _with_rows((x, at[1] + dy), rows, at, side, wide)

    canvas.place(groups())


def _with_rows(
    at: Point, rows: list[str], target: Point, side: float, wide: float
) -> tuple[Item, ...]:
    """Rows of words, and a leader to what they speak of."""
    items: list[Item] = []
    edge = at[0] - side * (wide / 2 + 0.9)
    items.append(
        Line((target[0] + side * 2.6, target[1] + 0.6), (edge, at[1]), Pen.FINE, Ink.MEASURED,
             layer="leader")
    )  # fmt: skip
    low = at[1] - 1.7 * len(rows)
    for n, row in enumerate(rows):
        y = low + 3.4 * (len(rows) - 1 - n) + 0.7
        items.append(Text((at[0], y), row, TEXT_MM, "middle", ink=Ink.MEASURED, layer="today"))
    return tuple(items)


def _moves(canvas: Canvas, chart: Chart, today: Point) -> None:
    """Arrows from today's cap to the nearest places inside the region."""
    region = chart.region
    shown: list[Move] = []
    for move in (region.up, region.sideways, region.shortest):
        if move is None or move in shown:
            continue
        shown.append(move)
        end = today[0] + move.sideways_m, today[1] + move.up_m
        if end[0] > chart.right_m or end[1] > chart.top_m:
            continue
        x, y = chart.at(*end)
        ghost = _pipe(x, chart.at(0.0, 0.0)[1], y, Ink.GREY, Dash.DASHED)
        if move.sideways_m > 0:
            canvas.add(*ghost)
        canvas.add(*_ghost_cap((x, y)))
        _move_words(canvas, chart, today, move)


def _ghost_cap(at: Point) -> list[Item]:
    return [
        Polygon(item.points, Pen.THIN, Ink.GREY, Ink.PAPER, Dash.FINE, layer="move")
        for item in cap(at, PIPE_MM + 0.6)
        if isinstance(item, Polygon)
    ]


def _move_words(canvas: Canvas, chart: Chart, today: Point, move: Move) -> None:
    corner = chart.at(today[0] + move.sideways_m, today[1])
    start = chart.at(*today)
    end = chart.at(today[0] + move.sideways_m, today[1] + move.up_m)
    if move.sideways_m > 0:
        words = chart.at_least(move.sideways_m)
        canvas.place(
            tuple(arrow_dimension((start[0], y), (corner[0], y), words, "", Ink.INK, side=side))
            for y in (
                start[1] - 4.0,
                start[1] - 8.0,
                start[1] + 9.0,
                start[1] - 12.0,
                start[1] + 13.0,
            )
            for side in (1.0, -1.0)
        )
    if move.up_m > 0:
        words = chart.at_least(move.up_m)
        canvas.place(
            tuple(arrow_dimension((x, corner[1]), (x, end[1]), words, "", Ink.INK, side=side))
            for x in (end[0] + 5.0, end[0] - 5.0, end[0] + 9.0, end[0] - 9.0, end[0] + 14.0)
            for side in (1.0, -1.0)
        )
