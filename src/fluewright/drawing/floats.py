"""Words and small dimensions inside the figure, each where it finds a clear place."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.drawing.dimensions import SMALL_MM, TEXT_MM, arrow_dimension
from fluewright.drawing.house import RoofShape, Upright
from fluewright.drawing.layout import Canvas
from fluewright.drawing.masonry import cleanout_words, draw_levels
from fluewright.drawing.metrics import fraction, text_width
from fluewright.drawing.pipes import half_widths
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen, Point, Polygon, Text, View
from fluewright.drawing.words import bound_text, pitch_text, slope_text, value_text
from fluewright.quantity import Dimension, Measured, NotMeasured, show
from fluewright.survey import Clearance


def draw_floats(canvas: Canvas, plan: Plan, paper: Paper, detail: View | None) -> list[str]:
    """Everything that floats, most wanted first; what found no place is returned as words."""
    left_out: list[str] = []
    if plan.levels:
        left_out += draw_levels(canvas, plan, paper.view)
    left_out += cleanout_words(canvas, plan, paper.view)
    if plan.house.roof is not None:
        left_out += _roof_words(canvas, plan, plan.house.roof, paper.view)
    for leg in plan.legs:
        near = leg.piece.role == "connector" and detail is not None
        view = detail if near and detail is not None else paper.view
        left_out += _clearance(canvas, plan, leg, view)
        left_out += _slope(canvas, plan, leg, view)
        if leg.nominal:
            _note_at(canvas, leg, paper.view, "? not to scale")
    _in_plan(canvas, plan, paper.view)
    _end_words(canvas, plan, paper)
    _space_words(canvas, plan, paper)
    return left_out


def _text(
    at: Point, words: str, ink: Ink = Ink.INK, size: float = TEXT_MM, *, italic: bool = False
) -> Text:
    return Text(at, words, size, "middle", face="italic" if italic else "regular", ink=ink)


def _roof_words(canvas: Canvas, plan: Plan, roof: RoofShape, view: View) -> list[str]:
    out: list[str] = []
    above = plan.path.roof.cap_above_penetration
    if not canvas.place(_height_groups(plan, roof, view)):
        said = value_text(above, plan.style) if isinstance(above, Measured) else "not measured"
        out.append(f"cap above the roof: {said}")
    for upright in roof.uprights:
        out += _upright_words(canvas, plan, roof, upright, view)
    if not canvas.place(_pitch_groups(plan, roof, view)):
        out.append(f"roof {pitch_text(plan.path.roof.pitch, plan.style)}")
    if roof.ridge is not None and isinstance(plan.path.roof.ridge, Measured):
        top = view.to_sheet((roof.ridge, roof.height(roof.ridge)))
        words = f"ridge {value_text(plan.path.roof.ridge, plan.style)} from the vent"
        spots = (
            (_text((top[0] + dx, top[1] + dy), words),)
            for dy in (1.6, 4.6, 8.0, -6.0, -9.0)
            for dx in (0, 8, -8, 17, -17, 24, -24)
        )
        if not canvas.place(spots):
            out.append(words)
    return out


def _height_groups(plan: Plan, roof: RoofShape, view: View) -> Iterator[tuple[Item, ...]]:
    """The height of the opening over the roof, left or right of the pipe."""
    above = plan.path.roof.cap_above_penetration
    known = isinstance(above, Measured)
    words = value_text(above, plan.style) if isinstance(above, Measured) else "?"
    small = bound_text(above, plan.style) if isinstance(above, Measured) else ""
    ink = Ink.MEASURED if known else Ink.UNKNOWN
    low = view.to_sheet((roof.edge, roof.level))
    high = view.to_sheet((roof.axis, plan.main.end[1]))
    if high[1] - low[1] < 0.4:
        return
    for away in (8.0, 11.0, 15.0, 20.0, 6.0, 26.0):
        for side in (1.0, -1.0):
            x = high[0] + side * away
            base = [
                Line((low[0] + 0.8, low[1]), (x + side * 1.2, low[1]), Pen.FINE, layer="extension"),
                Line((high[0] + side * 4.0, high[1]), (x + side * 1.2, high[1]), Pen.FINE,
                     layer="extension"),
            ]  # fmt: skip
            for words_side in (side, -side):
                for said, under in ((words, small), (f"{words} {small}".strip(), "")):
                    body = arrow_dimension(
                        (x, low[1]), (x, high[1]), said, under, ink, known=known, side=words_side
                    )
                    yield (*base, *body)


def _upright_words(
    canvas: Canvas, plan: Plan, roof: RoofShape, upright: Upright, view: View
) -> list[str]:
    near = upright.near
    kind = near.kind.replace("_", " ")
    away = near.horizontal
    top = near.top_above_penetration
    said = f"{kind}: " + (
        f"{value_text(away, plan.style)} away" if isinstance(away, Measured) else "distance ?"
    )
    out: list[str] = []
    if not canvas.place(_distance_groups(plan, roof, upright, view)):
        out.append(said)
    high = view.to_sheet((upright.x, upright.top))
    broken = ", drawn broken" if upright.broken else ""
    words = f"{kind} top " + (
        f"{value_text(top, plan.style)} over the roof at the vent{broken}"
        if isinstance(top, Measured)
        else "not measured"
    )
    ink = Ink.MEASURED if isinstance(top, Measured) else Ink.UNKNOWN
    short = (
        f"{kind} top {value_text(top, plan.style)}"
        if isinstance(top, Measured)
        else f"{kind} top ?"
    )
    spots = (
        (_text((high[0] + dx, high[1] + dy), text, ink),)
        for text in (words, short)
        for dy in (1.6, 4.4, 7.5)
        for dx in (0.0, -8.0, 8.0, -16.0, -24.0)
    )
    if not canvas.place(spots):
        out.append(words)
    return out


def _distance_groups(
    plan: Plan, roof: RoofShape, upright: Upright, view: View
) -> Iterator[tuple[Item, ...]]:
    away = upright.near.horizontal
    known = isinstance(away, Measured)
    words = value_text(away, plan.style) if isinstance(away, Measured) else "?"
    small = bound_text(away, plan.style) if isinstance(away, Measured) else ""
    edge = roof.edge if upright.away > 0 else roof.axis - (roof.edge - roof.axis)
    foot, top = view.to_sheet((upright.x, upright.foot)), view.to_sheet((upright.x, upright.top))
    opening = view.to_sheet(plan.main.end)
    start = view.to_sheet((edge, 0.0))[0]
    levels = [opening[1] + d for d in (5.5, 8.5, 12.0, 16.0)]
    levels += (
        [top[1] - d for d in (3.0, 6.0)] + [foot[1] + d for d in (4.0, 7.0)] + [opening[1] - 2.5]
    )
    for level in levels:
        if level < foot[1] + 0.5:
            continue
        extend: list[Item] = []
        if level > opening[1]:
            extend.append(
                Line((start, opening[1] + 4.2), (start, level + 1.2), Pen.FINE, layer="extension")
            )
        if level > top[1]:
            extend.append(
                Line((foot[0], top[1] + 1.2), (foot[0], level + 1.2), Pen.FINE, layer="extension")
            )
        a, b = sorted((start, foot[0]))
        for side in (1.0, -1.0):
            yield (
                *extend,
                *arrow_dimension(
                    (a, level), (b, level), words, small,
                    Ink.MEASURED if known else Ink.UNKNOWN, known=known, side=side,
                ),
            )  # fmt: skip


def _triangle(
    at: Point, slope: float, run: float, words: str, ink: Ink, below: bool
) -> tuple[Item, ...]:
    """A right triangle on its slope, its words under (or over) its run."""
    x, y = at
    rise = max(0.7, min(run, run * abs(slope)))
    owner = f"slope {x:.2f} {y:.2f}"
    corners = ((x, y), (x + run, y), (x + run, y + rise))
    if below:
        corners = ((x, y), (x + run, y), (x, y - rise))
    text_y = y - 0.8 - 0.75 * TEXT_MM if not below else y + 0.8
    return (
        Polygon(corners, Pen.THIN, ink, None, layer="slope", owner=owner),
        Text((x + run / 2, text_y), words, TEXT_MM, "middle", ink=ink, layer="slope", owner=owner),
    )


def _pitch_groups(plan: Plan, roof: RoofShape, view: View) -> Iterator[tuple[Item, ...]]:
    words = pitch_text(plan.path.roof.pitch, plan.style)
    ink = Ink.MEASURED if roof.pitch_known else Ink.UNKNOWN
    run = 7.0
    spots = [
        roof.right - 0.35,
        roof.right - 0.7,
        roof.left + 0.3,
        roof.left + 0.15,
        roof.axis + 0.4,
    ]
    for dy in (3.4, 5.0, 8.0, 12.0):
        for x in spots:
            at = view.to_sheet((x, roof.height(x)))
            yield _triangle(
                (at[0] - run / 2, at[1] + dy + run * roof.pitch * 0.5),
                roof.pitch,
                run,
                words,
                ink,
                False,
            )
    for dy in (6.0, 9.0, 14.0):
        for x in spots:
            at = view.to_sheet((x, roof.height(x)))
            low = at[1] - dy - run * max(0.5, roof.pitch)
            yield _triangle((at[0] - run / 2, low), roof.pitch, run, words, ink, False)


def _slope(canvas: Canvas, plan: Plan, leg: Leg, view: View) -> list[str]:
    """The small triangle at a level run; nothing at a plumb or coarse piece."""
    piece = leg.piece
    if piece.part in ("elbow", "cap", "run") or not leg.is_flat or leg.nominal:
        return []
    if piece.runs != "level" and piece.slope is None:
        return []
    known = isinstance(piece.slope, Measured)
    slope = piece.slope.value if isinstance(piece.slope, Measured) else 0.02
    words = slope_text(piece.slope, plan.style)
    half = half_widths(leg, view)[0]
    ink = Ink.MEASURED if known else Ink.UNKNOWN
    way = 1.0 if leg.end[0] < leg.start[0] else -1.0

    def groups() -> Iterator[tuple[Item, ...]]:
        for away in (2.2, 4.5, 7.0, 10.0):
            for part in (0.5, 0.35, 0.65, 0.2, 0.8):
                x = leg.start[0] + (leg.end[0] - leg.start[0]) * part
                y = leg.start[1] + (leg.end[1] - leg.start[1]) * part
                at = view.to_sheet((x, y))
                yield _rise_triangle((at[0], at[1] - half - away), slope, words, ink, way)
        for away in (4.6, 7.0, 10.0):
            at = view.to_sheet(leg.middle)
            yield _rise_triangle((at[0], at[1] + half + away), slope, words, ink, way)

    return [] if canvas.place(groups()) else [f"{piece.id}: {words}"]


def _rise_triangle(at: Point, slope: float, words: str, ink: Ink, way: float) -> tuple[Item, ...]:
    """The triangle of a run that climbs to the left, or to the right; falling, turned over."""
    x, y = at
    run = 6.0
    rise = max(0.7, min(4.0, run * abs(slope)))
    owner = f"slope {x:.2f} {y:.2f}"
    left, right = (x - run / 2, y - rise), (x + run / 2, y - rise)
    tip = (x - run / 2, y) if (slope >= 0) == (way > 0) else (x + run / 2, y)
    base = y - rise - 0.8 - 0.75 * TEXT_MM
    return (
        Polygon((left, right, tip), Pen.THIN, ink, None, layer="slope", owner=owner),
        Text((x, base), words, TEXT_MM, "middle", ink=ink, layer="slope", owner=owner),
    )


def _clearance_limit(plan: Plan, leg: Leg) -> float | None:
    """What the judgement asks for between this piece and what can burn. [m]"""
    for finding in plan.of(leg.piece.id):
        seen = finding.comparison
        if "clearance" in finding.rule and seen and seen.dimension is Dimension.LENGTH:
            return seen.limit.value
    return None


def _clearance(canvas: Canvas, plan: Plan, leg: Leg, view: View) -> list[str]:
    seen = leg.piece.clearance
    if not isinstance(seen, Clearance):
        return []
    to = f"to {seen.to}" if seen.to else "to what can burn"
    if not isinstance(seen.distance, Measured):
        if isinstance(seen.distance, NotMeasured):
            return [f"{leg.piece.id}: distance {to} not measured ({seen.distance.reason})"]
        return [f"{leg.piece.id}: distance {to} not measured"]
    words = value_text(seen.distance, plan.style)
    limit = _clearance_limit(plan, leg)

    def groups() -> Iterator[tuple[Item, ...]]:
        for side in (1.0, -1.0):
            for part in (0.65, 0.8, 0.5, 0.9, 0.2, 0.35, 0.1):
                for where in (side, -side):
                    yield _gap_group(leg, view, plan, (words, to), side, part, limit, where)

    said = f"{leg.piece.id}: {words} {to}"
    return [] if canvas.place(groups()) else [said]


def _gap_group(
    leg: Leg, view: View, plan: Plan, words: tuple[str, str], side: float, part: float,
    limit: float | None, where: float,
) -> tuple[Item, ...]:  # fmt: skip
    """Surface, double arrow in the gap, the limit ghosted; above a level run, beside a riser."""
    seen = leg.piece.clearance
    assert isinstance(seen, Clearance)
    assert isinstance(seen.distance, Measured)
    gap = seen.distance.value * view.mm_per_m
    half = half_widths(leg, view)[0]
    x, y = view.to_sheet(
        (
            leg.start[0] + (leg.end[0] - leg.start[0]) * part,
            leg.start[1] + (leg.end[1] - leg.start[1]) * part,
        )
    )
    flat = leg.is_flat
    skin = (x, y + side * half) if flat else (x + side * half, y)
    face = (x, skin[1] + side * gap) if flat else (skin[0] + side * gap, y)
    owner = f"clearance {leg.piece.id}"
    items: list[Item] = list(_face(face, side, flat, 4.0))
    if limit is not None and limit > seen.distance.value:
        ghost = half + limit * view.mm_per_m
        a = (x - 4.0, y + side * ghost) if flat else (x + side * ghost, y - 4.0)
        b = (x + 4.0, y + side * ghost) if flat else (x + side * ghost, y + 4.0)
        items.append(Line(a, b, Pen.THIN, Ink.ALARM, Dash.FINE, "clearance", owner))
    arrow = arrow_dimension(skin, face, "", "", Ink.MEASURED)
    items += [item for item in arrow if not isinstance(item, Text)]
    need = (
        f" (limit {fraction(show(limit, Dimension.LENGTH, plan.style))})"
        if limit is not None
        else ""
    )
    text = f"{words[0]} {words[1]}"
    if flat:
        reach = 5.0 + text_width(text, TEXT_MM) / 2
        at = (x + where * reach, (skin[1] + face[1]) / 2 - 0.36 * TEXT_MM)
        if gap < TEXT_MM + 1.6:
            at = (at[0], face[1] + side * 2.6 - 0.36 * TEXT_MM)
    else:
        reach = text_width(text, TEXT_MM) / 2
        start = max(abs(face[0] - x), half + (limit or 0.0) * view.mm_per_m)
        start += 3.4 if gap < 4.2 else 1.6
        at = (x + side * (start + reach), y + (where - side) * 1.6 - 0.36 * TEXT_MM)
    items.append(Text(at, text, TEXT_MM, "middle", ink=Ink.MEASURED, layer="clearance"))
    if need:
        items.append(
            Text((at[0], at[1] - SMALL_MM - 0.7), need.strip(), SMALL_MM, "middle", ink=Ink.INK,
                 layer="clearance")
        )  # fmt: skip
    return tuple(items)


def _face(at: Point, side: float, flat: bool, reach: float) -> tuple[Item, ...]:
    """A short piece of a surface with its ticks behind it."""
    x, y = at
    items: list[Item] = []
    if flat:
        items.append(Line((x - reach, y), (x + reach, y), Pen.MIDDLE, layer="clearance"))
        for i in range(5):
            px = x - reach + 1.0 + i * (2 * reach - 2.0) / 4
            items.append(Line((px, y), (px + 0.9, y + side * 0.9), Pen.FINE, layer="clearance"))
    else:
        items.append(Line((x, y - reach), (x, y + reach), Pen.MIDDLE, layer="clearance"))
        for i in range(5):
            py = y - reach + 1.0 + i * (2 * reach - 2.0) / 4
            items.append(Line((x, py), (x + side * 0.9, py + 0.9), Pen.FINE, layer="clearance"))
    return tuple(items)


def _note_at(canvas: Canvas, leg: Leg, view: View, words: str) -> bool:
    """Small words near a piece, with no line."""
    x, y = view.to_sheet(leg.middle)
    half = half_widths(leg, view)[0]
    wide = text_width(words, 1.9) / 2
    spots = [(x, y - half - 3.0), (x, y + half + 1.2), (x - half - wide - 1.2, y - 0.7),
             (x + half + wide + 1.2, y - 0.7), (x, y - half - 6.0), (x, y + half + 4.0),
             (x - half - wide - 1.2, y - 4.0), (x + half + wide + 1.2, y - 4.0)]  # fmt: skip
    return canvas.place((_text(at, words, Ink.UNKNOWN, 1.9, italic=True),) for at in spots)


def _in_plan(canvas: Canvas, plan: Plan, view: View) -> None:
    for leg in plan.legs:
        if leg.in_plan:
            _note_at(canvas, leg, view, "turns in plan")


def _end_words(canvas: Canvas, plan: Plan, paper: Paper) -> None:
    if not plan.house.ends:
        return
    x, y = paper.view.to_sheet(plan.main.end)
    spots = [(x + dx, y + dy) for dy in (5.0, 8.0, 12.0, -6.0) for dx in (0.0, 14.0, -14.0, 24.0)]
    canvas.place((_text(at, plan.house.ends, Ink.INK, 2.3, italic=True),) for at in spots)


def _space_words(canvas: Canvas, plan: Plan, paper: Paper) -> None:
    """Names of the rooms below and of the attic, where there is a clear place."""
    view, house = paper.view, plan.house
    ceiling = house.ceiling if house.ceiling is not None else house.top
    for words, across in _rooms(plan).items():
        _in_area(canvas, words, view, across, (0.05, ceiling - 0.05), None)
    roof = house.roof
    if roof is not None and house.ceiling is not None:
        _in_area(
            canvas,
            "Attic",
            view,
            (house.left, house.right),
            (house.ceiling + 0.05, house.top),
            roof,
        )


def _rooms(plan: Plan) -> dict[str, tuple[float, float]]:
    """Each room in which an appliance stands, in words, and where across its name may stand."""
    house = plan.house
    found: dict[str, tuple[float, float]] = {}
    spaces = list(dict.fromkeys(b.appliance.space for b in plan.tree.branches))
    for space in spaces or [None]:
        words = (space or "room").replace("_", " ").capitalize()
        seen = plan.survey.spaces.get(space or "")
        if seen is not None and seen.kind not in ("room", (space or "room").replace("_", " ")):
            words += f" ({seen.kind})"
        starts = [b.route.start[0] for b in plan.tree.branches if b.appliance.space == space]
        across = (house.left, house.right)
        if len(spaces) > 1:
            across = (min(starts) - 0.7, max(starts) + 0.7)
        found[words] = across
    return found


def _in_area(
    canvas: Canvas, words: str, view: View, across: tuple[float, float], up: tuple[float, float],
    under: RoofShape | None,
) -> None:  # fmt: skip
    spots: list[tuple[Item, ...]] = []
    for row in range(1, 12):
        for column in (3, 5, 7, 2, 8, 9, 1, 6, 4):
            x = across[0] + (across[1] - across[0]) * column / 10
            y = up[0] + (up[1] - up[0]) * row / 12
            if under is not None and y > under.height(x) - 0.25:
                continue
            spots.append((_text(view.to_sheet((x, y)), words, Ink.GREY, 2.3, italic=True),))
    canvas.place(spots)
