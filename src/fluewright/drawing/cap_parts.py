"""The parts of the cap chart: region, roof, wall, axes and their words."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.cap_place import (
    Step,
)
from fluewright.drawing.cap_base import WALL_MM, Chart
from fluewright.drawing.cap_today import draw_today
from fluewright.drawing.dimensions import SMALL_MM, TEXT_MM
from fluewright.drawing.layout import Canvas, open_around
from fluewright.drawing.metrics import text_width
from fluewright.drawing.scene import (
    Dash,
    Hatch,
    Ink,
    Item,
    Line,
    Pen,
    Point,
    Text,
)
from fluewright.drawing.sheet import (
    EDGE_MM,
    FOOT_M,
    INNER_MM,
)
from fluewright.drawing.words import Style, pitch_text, value_text


def draw_chart(canvas: Canvas, chart: Chart, head_mm: float = 0.0) -> None:
    """Region, roof, wall, cap and words; hatching last, under everything.

    ``head_mm`` is kept free for a banner along the head of the sheet.
    """
    canvas.add(*_edge(chart), *_roof_line(chart), *_axes(chart))
    if chart.region.site.wall is not None:
        canvas.add(*_wall(chart))
    draw_today(canvas, chart)
    for step in chart.region.steps:
        _step_words(canvas, chart, step)
    _circle_lines(canvas, chart)
    # The hatching goes under everything and leaves the lettering clear.
    strokes = [s for step in chart.region.steps for h in _step_area(chart, step) for s in h.parts()]
    words = [item for item in canvas.items if isinstance(item, Text)]
    under = canvas.items[1:]
    del canvas.items[1:]
    canvas.add(*open_around(strokes, words, 0.9))
    canvas.items += under
    _site_words(canvas, chart, head_mm)


def _area(chart: Chart, step: Step, low: float, high: float) -> tuple[Point, ...]:
    start, end = step.start_m, min(step.end_m, chart.right_m)
    if chart.region.site.wall is None:
        start, end = 0.0, chart.right_m
    return (chart.at(start, low), chart.at(end, low), chart.at(end, high), chart.at(start, high))


def _step_area(chart: Chart, step: Step) -> list[Hatch]:
    """Hatched where the cap may not stand; wide ochre strokes where it is not known."""
    items: list[Hatch] = [
        Hatch(_area(chart, step, 0.0, min(step.needed_m, chart.top_m)), 45.0, 2.0, Pen.FINE,
              Ink.GREY, "not allowed")
    ]  # fmt: skip
    top = chart.top_m if step.enough_m is None else step.enough_m
    if top > step.needed_m + 1e-6:
        items.append(
            Hatch(_area(chart, step, step.needed_m, top), -45.0, 3.2, Pen.FINE, Ink.UNKNOWN,
                  "not known")
        )  # fmt: skip
    return items


def _edge(chart: Chart) -> list[Item]:
    """The edge of what is surely allowed."""
    items: list[Item] = []
    last: Point | None = None
    for step in chart.region.steps:
        if step.enough_m is None:
            last = None
            continue
        start, end = _area(chart, step, step.enough_m, step.enough_m)[:2]
        if last is not None:
            items.append(Line(last, start, Pen.HEAVY, layer="edge"))
        items.append(Line(start, end, Pen.HEAVY, layer="edge"))
        last = end
    return items


def _roof_line(chart: Chart) -> list[Item]:
    a, b = chart.at(0.0, 0.0), chart.at(chart.right_m, 0.0)
    band = (a, b, (b[0], b[1] - 1.6), (a[0], a[1] - 1.6))
    return [Line(a, b, Pen.FIRM, layer="roof"), Hatch(band, 60.0, 1.2, layer="roof")]


def _ticks(limit_m: float, style: Style) -> Iterator[tuple[float, str]]:
    step = FOOT_M if style == "us" else 0.5
    every = 2 if style == "us" else 1
    n = 0
    while n * step <= limit_m + 1e-9:
        label = f"{n} ft" if style == "us" else f"{n * step:g} m"
        yield n * step, label if n % every == 0 else ""
        n += 1


def _axes(chart: Chart) -> list[Item]:
    """Distance below the roof, height on the right."""
    items: list[Item] = []
    edge = chart.at(chart.right_m, 0.0)
    if chart.region.site.wall is not None:
        for x, label in _ticks(chart.right_m - 0.05, chart.style):
            px, py = chart.at(x, 0.0)
            items.append(Line((px, py - 2.4), (px, py - 4.0), Pen.THIN, layer="axis"))
            if label:
                items.append(Text((px, py - 6.8), label, 2.2, "middle", layer="axis"))
        middle = chart.at(chart.right_m / 2, 0.0)
        items.append(
            Text((middle[0], middle[1] - 10.4), "level distance from the wall", 2.2, "middle",
                 face="italic", layer="axis")
        )  # fmt: skip
    for y, label in _ticks(chart.top_m - 0.05, chart.style):
        px, py = chart.at(chart.right_m, y)
        items.append(Line((px + 0.8, py), (px + 2.4, py), Pen.THIN, layer="axis"))
        if label:
            items.append(Text((px + 3.2, py - 0.8), label, 2.2, layer="axis"))
    items.append(
        Text((edge[0], chart.at(0.0, chart.top_m)[1] + 2.0), "height over the roof", 2.2, "end",
             face="italic", layer="axis")
    )  # fmt: skip
    return items


def _wall(chart: Chart) -> list[Item]:
    """The wall, cut on its side; dashed and open where its top is not known."""
    wall = chart.region.site.wall
    assert wall is not None
    known = wall.top is not None
    top = wall.top.value if wall.top is not None else chart.top_m
    a, b = chart.at(0.0, 0.0), chart.at(0.0, min(top, chart.top_m))
    dash, ink = (Dash.SOLID, Ink.INK) if known else (Dash.DASHED, Ink.UNKNOWN)
    items: list[Item] = [Line(a, b, Pen.HEAVY, ink, dash, "wall")]
    thick = WALL_MM - 2.0
    if known and b[1] > a[1]:
        box = (a, b, (b[0] - thick, b[1]), (a[0] - thick, a[1]))
        items += [
            Hatch(box, 45.0, 1.4, layer="wall"),
            Line(b, (b[0] - thick, b[1]), Pen.MIDDLE, layer="wall"),
        ]
    return items


def _circle_lines(canvas: Canvas, chart: Chart) -> None:
    """Upright lines at the distances that the limits name."""
    if chart.region.site.wall is None:
        return
    limits = chart.region.limits
    top = chart.at(0.0, chart.top_m)[1]
    for x_m, said in (
        (limits.wall_from_m, f"{chart.length(limits.wall_from_m)} from the wall"),
        (
            limits.near_within_m,
            f"{chart.length(limits.near_within_m)}: parts of the building count",
        ),
    ):
        if x_m > chart.right_m:
            continue
        x, base = chart.at(x_m, 0.0)
        wide = text_width(said, SMALL_MM) / 2 + 1.0
        words = [
            Text((x + shift * wide, top + up), said, SMALL_MM, "middle", layer="distance")
            for up in (1.8, -1.6, -5.1, -8.0)
            for shift in (0.0, -1.0, 1.0)
        ]
        found = next((text for text in words if canvas.free(text)), None)
        if found is not None:
            canvas.add(found)
            top_end = found.at[1] - 1.2
            line = Line((x, base), (x, top_end), Pen.FINE, Ink.GREY, Dash.CENTER, "distance")
            said_all = [item for item in canvas.items if isinstance(item, Text)]
            canvas.add(*open_around([line], said_all, 0.6))


def _step_words(canvas: Canvas, chart: Chart, step: Step) -> None:
    """What a step asks for, above its edge."""
    if step.enough_m is None:
        words, y_m, ink = step.why or "not known", step.needed_m, Ink.UNKNOWN
    else:
        words = f"{chart.length(step.enough_m)} needed {_where(chart, step)}"
        y_m, ink = step.enough_m, Ink.INK
    a, b = _area(chart, step, y_m, y_m)[:2]
    if b[0] - a[0] < 6.0:
        return
    wide = text_width(words, TEXT_MM)
    spots = (
        (Text((a[0] + (b[0] - a[0]) * part, a[1] + dy), words, TEXT_MM, "middle", ink=ink,
              layer="step"),)
        for dy in (1.3, 4.5, 8.0, 12.0)
        for part in (0.5, 0.3, 0.7, 0.2, 0.8)
        if wide < chart.at(chart.right_m, 0.0)[0] - chart.at(0.0, 0.0)[0]
    )  # fmt: skip
    canvas.place(spots)


def _where(chart: Chart, step: Step) -> str:
    if not step.near:
        return "at this pitch"
    wall = chart.region.site.wall
    if wall is None:
        return "by a large vent or an unlisted cap"
    return f"near the {wall.name}"


def _site_words(canvas: Canvas, chart: Chart, head_mm: float) -> None:
    """Roof, pitch, wall, and the meaning of the hatching, along the head of the chart."""
    site = chart.region.site
    wall = site.wall
    parts = [f"roof {pitch_text(site.pitch, chart.style)}"]
    if wall is not None:
        top = (
            f"top {value_text(wall.top, chart.style)} over the roof"
            if wall.top
            else "top not measured"
        )
        parts.append(f"{wall.name} on the left, {top}")
    elif site.looked_around:
        parts.append("no wall or the like near: the pitch alone asks")
    else:
        parts.append("nobody recorded what stands near the vent")
    left = EDGE_MM + INNER_MM
    y = canvas.height_mm - EDGE_MM - 5.5 - head_mm
    canvas.add(Text((left, y), "; ".join(parts), TEXT_MM, layer="head"))
    _key(canvas, left, y - 5.0)


def _key(canvas: Canvas, left: float, y: float) -> None:
    """Samples of the hatching with their words."""
    x = left
    for words, ink, angle, spacing in (
        ("the cap may not stand here", Ink.GREY, 45.0, 1.6),
        ("not known", Ink.UNKNOWN, -45.0, 2.4),
    ):
        box = ((x, y - 0.6), (x + 8.0, y - 0.6), (x + 8.0, y + 2.2), (x, y + 2.2))
        canvas.add(Hatch(box, angle, spacing, Pen.FINE, ink, "key"))
        canvas.add(Text((x + 9.2, y), words, 2.0, layer="key"))
        x += 9.2 + text_width(words, 2.0) + 6.0
    canvas.add(Line((x, y + 0.7), (x + 8.0, y + 0.7), Pen.HEAVY, layer="key"))
    canvas.add(Text((x + 9.2, y), "edge of the region", 2.0, layer="key"))
