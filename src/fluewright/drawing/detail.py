"""The connector drawn again, larger, where the elevation is too small to show its joints."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from fluewright.drawing.figure import draw_hood
from fluewright.drawing.layout import Canvas
from fluewright.drawing.pipes import half_widths, joint, pipe, seam
from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg, outer_radius
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen, Point, Polygon, Text, View
from fluewright.drawing.sheet import Scale
from fluewright.frozen import frozen

STUB_M = 0.25  # how much of the vent is shown beyond the seam
HOOD_M = 0.20
ABOVE_MM, BELOW_MM, SIDE_MM = 10.0, 10.0, 8.0
LEAST_GAIN = 0.7  # drawn only where it is at least this much nearer to full size
WORTH_FROM = 20.0  # scales larger than 1:20 show the joints by themselves


@frozen
class Detail:
    """Where the enlarged connector stands, and at what scale."""

    view: View
    low: Point  # corner of its box on the sheet
    size: Point


def shown_legs(plan: Plan) -> list[Leg]:
    """The connector, and the first of the vent; nothing where several appliances join."""
    legs: list[Leg] = []
    for leg in plan.lone.route.legs if plan.lone is not None else ():
        if leg.piece.part == "cap":
            break
        if leg.piece.role == "connector":
            legs.append(leg)
        elif legs:
            legs.append(_stub(leg))
            break
    return legs


def _stub(leg: Leg) -> Leg:
    (x1, y1), (x2, y2) = leg.points[0], leg.points[1]
    span = math.dist((x1, y1), (x2, y2))
    if len(leg.points) > 2 or span <= STUB_M:
        return leg
    end = x1 + (x2 - x1) * STUB_M / span, y1 + (y2 - y1) * STUB_M / span
    return replace(leg, points=((x1, y1), end))


def _bounds(plan: Plan) -> tuple[float, float, float, float]:
    legs = shown_legs(plan)
    wide = max((outer_radius(leg) for leg in legs), default=0.0)
    points = [p for leg in legs for p in leg.points]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs) - wide, max(xs) + wide, plan.main.start[1] - HOOD_M, max(ys) + 0.02


def fit_detail(
    plan: Plan, main: Scale, scales: tuple[Scale, ...], width: float, height: float
) -> tuple[Scale, float] | None:
    """The largest scale of a detail in the room there is, and how high it will be. [mm]

    None where the elevation shows the joints by itself, there is nothing to show, or no room.
    """
    legs = [leg for leg in shown_legs(plan) if leg.piece.role == "connector"]
    if main.times <= WORTH_FROM or not any(leg.piece.joint for leg in legs):
        return None
    left, right, low, high = _bounds(plan)
    for scale in scales:
        if scale.times > main.times * LEAST_GAIN:
            return None
        tall = (high - low) * scale.mm_per_m + ABOVE_MM + BELOW_MM
        if (right - left) * scale.mm_per_m + 2 * SIDE_MM <= width and tall <= height:
            return scale, tall
    return None


def place_detail(plan: Plan, scale: Scale, middle: float, low: float) -> Detail:
    """The detail centered over a place, standing on a height. [mm]"""
    left, right, bottom, top = _bounds(plan)
    k = scale.mm_per_m
    view = View(
        "detail", scale.name, k, (middle - (left + right) / 2 * k, low + BELOW_MM - bottom * k)
    )
    size = (right - left) * k + 2 * SIDE_MM, (top - bottom) * k + ABOVE_MM + BELOW_MM
    return Detail(view, (middle - size[0] / 2, low), size)


def draw_detail(canvas: Canvas, plan: Plan, detail: Detail) -> None:
    """The enlarged connector with its title."""
    view = detail.view
    if plan.lone is not None:
        canvas.add(*draw_hood(plan.lone, view))
    legs = shown_legs(plan)
    for leg in legs:
        canvas.add(*pipe(leg, view))
    for before, leg in zip([None, *legs], legs, strict=False):
        canvas.add(*joint(before, leg, view))
    if legs[-1].piece.role == "vent":
        canvas.add(*seam(legs[-1], view), *_break(legs[-1], view))
    x = detail.low[0] + detail.size[0] / 2
    title = f"Detail of the connector, {view.scale}"
    canvas.add(Text((x, detail.low[1] + 1.5), title, 2.3, "middle", face="bold", layer="title"))


def name_pieces(canvas: Canvas, plan: Plan, detail: Detail) -> None:
    """The id of each piece beside it."""
    for leg in shown_legs(plan):
        canvas.place(_names(leg, detail.view))


def _names(leg: Leg, view: View) -> Iterator[tuple[Item, ...]]:
    x, y = view.to_sheet(leg.middle)
    half = half_widths(leg, view)[0]
    for away in (1.6, 3.0, 5.0, 8.0):
        level = [(x, y - half - away - 1.7), (x, y + half + away)]
        beside = [(x - half - away - 2.0, y - 0.8), (x + half + away + 2.0, y - 0.8)]
        askew = [(x + half + away, y + half + away), (x - half - away - 1, y - half - away - 1)]
        for at in (*level, *beside, *askew) if leg.is_flat else (*beside, *level, *askew):
            yield (Text(at, leg.piece.id, 2.3, "middle", face="bold", layer="detail"),)


def _break(leg: Leg, view: View) -> list[Item]:
    """The pipe goes on: a wavy end."""
    a, b = view.to_sheet(leg.points[-2]), view.to_sheet(leg.points[-1])
    span = math.dist(a, b) or 1.0
    u = ((b[0] - a[0]) / span, (b[1] - a[1]) / span)
    half = half_widths(leg, view)[0] + 0.8
    points: list[Point] = []
    for i in range(13):
        side = half * (i / 6 - 1)
        along = 0.6 * math.sin(i / 12 * 2 * math.pi)
        points.append((b[0] + u[0] * along - u[1] * side, b[1] + u[1] * along + u[0] * side))
    return [Polygon(tuple(points), Pen.THIN, closed=False, layer="detail")]


def outline(plan: Plan, view: View) -> list[Item]:
    """On the elevation: what the detail shows, in a thin dashed frame."""
    left, right, low, high = _bounds(plan)
    a, b = view.to_sheet((left - 0.05, low)), view.to_sheet((right + 0.05, high + 0.03))
    corners = [a, (b[0], a[1]), b, (a[0], b[1])]
    return [
        Line(p, q, Pen.FINE, Ink.GREY, Dash.CENTER, "detail")
        for p, q in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
