"""The figure itself: house, appliance, pipes, joints, cap."""

from __future__ import annotations

from fluewright.drawing.house import END_WALL_M, HEATER_HALF_M, RoofShape, Upright
from fluewright.drawing.layout import Canvas
from fluewright.drawing.pipes import (
    cap,
    flow_arrow,
    half_widths,
    hood,
    hood_height,
    joint,
    pipe,
    seam,
    wall_lines,
)
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Hatch, Ink, Item, Line, Pen, Point, Polygon, View
from fluewright.quantity import Dimension, Measured
from fluewright.survey import Piece

EARTH_MM = 1.8
DECK_MM = 1.3


def draw_figure(canvas: Canvas, plan: Plan, paper: Paper) -> None:
    """Everything that has a place in the house."""
    view = paper.view
    canvas.add(*_house(plan, view))
    canvas.add(*_appliance(plan, view))
    legs = [leg for leg in plan.route.legs if leg.piece.part != "cap"]
    for leg in legs:
        canvas.add(*pipe(leg, view))
    for before, leg in zip([None, *legs], legs, strict=False):
        canvas.add(*joint(before, leg, view))
    boundary = plan.route.seam
    if boundary is not None:
        leg = next(leg for leg in legs if leg.piece.role == "vent")
        canvas.add(*seam(leg, view))
    _flow(canvas, legs, view)
    last = plan.route.legs[-1] if plan.route.legs else None
    if last is not None and last.piece.part == "cap":
        width = half_widths(legs[-1], view)[1] if legs else 2.0
        canvas.add(*cap(view.to_sheet(last.end), width))


def _flow(canvas: Canvas, legs: list[Leg], view: View) -> None:
    for role in ("connector", "vent"):
        long = [
            leg for leg in legs if leg.piece.role == role and leg.piece.part in ("straight", "run")
        ]
        if long:
            best = max(
                long,
                key=lambda leg: abs(leg.end[0] - leg.start[0]) + abs(leg.end[1] - leg.start[1]),
            )
            if not best.shape_open and not best.nominal:
                canvas.add(*flow_arrow(best, view))


def _house(plan: Plan, view: View) -> list[Item]:
    house = plan.house
    a, b = view.to_sheet((house.left, 0.0)), view.to_sheet((house.right, 0.0))
    items: list[Item] = [
        Line(a, b, Pen.FIRM, layer="house"),
        Hatch((a, b, (b[0], b[1] - EARTH_MM), (a[0], a[1] - EARTH_MM)), 45.0, 1.6, layer="house"),
    ]
    if house.ceiling is not None:
        items += _ceiling(plan, house.ceiling, view)
    if house.roof is not None:
        items += _roof(house.roof, view)
    if house.end_wall is not None:
        items += _outside_wall(house.end_wall, house.top, view)
    return items


def _outside_wall(face: float, top: float, view: View) -> list[Item]:
    """The outside wall at the end of the path, cut from floor to top."""
    a, b = view.to_sheet((face - END_WALL_M, 0.0)), view.to_sheet((face, top))
    box = (a, (b[0], a[1]), b, (a[0], b[1]))
    return [
        Hatch(box, 45.0, 1.4, layer="house"),
        Line(a, (a[0], b[1]), Pen.MIDDLE, layer="house"),
        Line((b[0], a[1]), b, Pen.MIDDLE, layer="house"),
    ]


def _ceiling(plan: Plan, level: float, view: View) -> list[Item]:
    house = plan.house
    left, right = house.left, house.right
    roof = house.roof
    if roof is not None and roof.pitch > 0.01:
        left = max(left, roof.edge + (level + 0.08 - roof.level) / roof.pitch)
    elif roof is not None and level > roof.level - 0.08:
        return []
    if right - left < 0.2:
        return []
    dash, ink = (Dash.SOLID, Ink.INK) if house.ceiling_known else (Dash.DASHED, Ink.UNKNOWN)
    a, b = view.to_sheet((left, level)), view.to_sheet((right, level))
    return [
        Line(a, b, Pen.MIDDLE, ink, dash, "house"),
        Line((a[0], a[1] + DECK_MM), (b[0], b[1] + DECK_MM), Pen.FINE, ink, dash, "house"),
    ]


def _roof(roof: RoofShape, view: View) -> list[Item]:
    surface = [view.to_sheet(p) for p in roof.line()]
    known = roof.level_known and roof.pitch_known
    dash, ink = (Dash.SOLID, Ink.INK) if known else (Dash.DASHED, Ink.UNKNOWN)
    under = [(x, y - DECK_MM) for x, y in surface]
    items: list[Item] = [
        Polygon(tuple(surface), Pen.FIRM, ink, None, dash, closed=False, layer="roof"),
        Polygon(tuple(under), Pen.FINE, ink, None, dash, closed=False, layer="roof"),
    ]
    if known:
        items.append(Hatch((*surface, *reversed(under)), 60.0, 1.1, layer="roof"))
    for upright in roof.uprights:
        items += _upright(upright, view)
    return items


def _upright(upright: Upright, view: View) -> list[Item]:
    foot, top = view.to_sheet((upright.x, upright.foot)), view.to_sheet((upright.x, upright.top))
    dash, ink = (Dash.SOLID, Ink.INK) if upright.known else (Dash.DASHED, Ink.UNKNOWN)
    thick = 2.4 * upright.away
    if upright.near.kind in ("roof", "eave"):
        return [Line(top, (top[0] + 2.5 * thick, top[1]), Pen.FIRM, ink, dash, "house")]
    low, high = min(foot[1], top[1]), max(foot[1], top[1])
    box: tuple[Point, ...] = (
        (foot[0], low), (foot[0] + thick, low), (foot[0] + thick, high), (foot[0], high),
    )  # fmt: skip
    items: list[Item] = [
        Line((foot[0], low), (foot[0], high), Pen.FIRM, ink, dash, "house"),
        *_top_of(upright, (foot[0], high), thick, ink, dash),
    ]
    if upright.known:
        items.append(Hatch(box, 45.0, 1.3, layer="house"))
    return items


def _top_of(upright: Upright, at: Point, thick: float, ink: Ink, dash: Dash) -> list[Item]:
    """Its top edge, or a zigzag where it is broken off."""
    x, y = at
    if not upright.broken:
        return [Line(at, (x + thick, y), Pen.MIDDLE, ink, dash, "house")]
    steps = ((-0.4, 0.0), (0.35, 0.0), (0.45, 0.9), (0.6, -0.9), (0.7, 0.0), (1.4, 0.0))
    points = tuple((x + dx * thick, y + dy) for dx, dy in steps)
    return [Polygon(points, Pen.THIN, ink, closed=False, layer="house")]


def _appliance(plan: Plan, view: View) -> list[Item]:
    """Outline of the appliance from the floor to its hood."""
    x, outlet = view.to_sheet(plan.route.start)
    floor = view.to_sheet((0.0, 0.0))[1]
    half, shown = _outlet(plan, view)
    tall = hood_height(half) if shown != "none" else hood_height(half) * 0.35
    top = outlet - tall
    body = HEATER_HALF_M * view.mm_per_m
    foot = floor + 1.2
    items: list[Item] = []
    if top - foot > 4.0:
        box = ((x - body, foot), (x + body, foot), (x + body, top - 1.5), (x + body * 0.8, top),
               (x - body * 0.8, top), (x - body, top - 1.5))  # fmt: skip
        items.append(Polygon(box, Pen.MIDDLE, Ink.INK, Ink.PAPER, layer="appliance"))
        for side in (-0.8, 0.8):
            items.append(
                Line(
                    (x + side * body, floor), (x + side * body, foot), Pen.MIDDLE, layer="appliance"
                )
            )
    return items + hood((x, outlet), half, shown)


def _outlet(plan: Plan, view: View) -> tuple[float, str]:
    """Half the width of the outlet on paper, and how the hood is drawn."""
    size = plan.appliance.outlet_diameter
    radius = plan.route.legs[0].radius_m if plan.route.legs else 0.05
    if isinstance(size, Measured):
        radius = size.value / 2
    draft = plan.appliance.draft
    shown = "hood" if draft == "draft_hood" else "unknown" if draft is None else "none"
    return radius * view.mm_per_m, shown


def draw_hood(plan: Plan, view: View) -> list[Item]:
    """The hood alone, standing on a short piece of the appliance's top."""
    x, outlet = view.to_sheet(plan.route.start)
    half, shown = _outlet(plan, view)
    foot = outlet - (hood_height(half) if shown != "none" else hood_height(half) * 0.35)
    top = Line((x - half * 3, foot), (x + half * 3, foot), Pen.MIDDLE, layer="appliance")
    return [top, *hood((x, outlet), half, shown)]


def wall_sample(kind: str, x: float, y: float) -> list[Item]:
    """A short length of pipe as its wall kind is drawn, for the legend."""
    view = View("legend", "", 10.0, (x, y))
    size = 0.02 if kind == "masonry" else 0.09
    seen = None if kind == "unknown" else kind
    four = Measured(0.2, Dimension.LENGTH)
    piece = Piece(id="sample", part="straight", wall=seen, diameter=four)  # type: ignore[arg-type]
    nothing = Measured(0.0, Dimension.LENGTH)
    leg = Leg(piece, ((0.0, 0.0), (0.8, 0.0)), nothing, nothing, size, size, False, False, False)
    points = [view.to_sheet(p) for p in leg.points]
    half = half_widths(leg, view)[0]
    return wall_lines(leg, points, (half, half), view)
