"""The figure itself: house, appliance, pipes, joints, cap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from fluewright.drawing.house import END_WALL_M, RoofShape, Upright
from fluewright.drawing.layout import Canvas
from fluewright.drawing.masonry import casing, crown, flue_half, foot, thimbles
from fluewright.drawing.pipes import (
    cap,
    flow_arrow,
    ghost,
    half_widths,
    hood,
    hood_height,
    joint,
    pipe,
    seam,
    side_lines,
    stretch_sign,
    wall_lines,
)
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Hatch, Ink, Item, Line, Pen, Point, Polygon, View
from fluewright.drawing.tree import COLLAR_M, HEATER_HALF_M, Branch
from fluewright.quantity import Dimension, Measured
from fluewright.survey import Piece

EARTH_MM = 1.8
DECK_MM = 1.3


def draw_figure(canvas: Canvas, plan: Plan, paper: Paper) -> None:
    """Everything that has a place in the house."""
    view = paper.view
    canvas.add(*_house(plan, view))
    for branch in plan.tree.branches:
        canvas.add(*_appliance(branch, view))
    for branch in plan.tree.branches:
        if branch.gone:
            for leg in branch.route.legs:
                canvas.add(*ghost(leg, view))
    canvas.add(*foot(plan, view), *casing(plan, view))
    behind = [b for b in plan.tree.live if b.from_below]
    for branch in behind:
        _chain_of(canvas, branch.route.legs, view)
    if plan.tree.trunk is not None:
        _chain_of(canvas, plan.tree.trunk.legs, view)
    for branch in plan.tree.live:
        if branch in behind:
            canvas.add(*_seam_below(branch, plan, view))
            continue
        canvas.add(*_branch_stub(branch, view))
        _chain_of(canvas, branch.route.legs, view)
        if plan.tree.trunk is not None and branch.route.legs:
            canvas.add(*seam(branch.route.legs[-1], view, at_end=True))
    canvas.add(*thimbles(plan, view), *crown(plan, view))
    _cap(canvas, plan, view)


def _seam_below(branch: Branch, plan: Plan, view: View) -> list[Item]:
    """The end of a connector at the underside of a level trunk."""
    last = branch.route.legs[-1]
    entered = min(plan.main.legs, key=lambda leg: math.dist(leg.middle, last.end))
    x, y = view.to_sheet(last.end)
    y -= half_widths(entered, view)[0]
    half = half_widths(last, view)[1] + 1.6
    return [Line((x - half, y), (x + half, y), Pen.HEAVY, layer="joint")]


def _chain_of(canvas: Canvas, chain: Sequence[Leg], view: View) -> None:
    """Pieces one after the other, with their joints, the seam, and the way of the gas."""
    legs = [leg for leg in chain if leg.piece.part != "cap"]
    for leg in sorted(legs, key=lambda leg: not leg.liner):  # a pipe goes through the brick
        canvas.add(*pipe(leg, view))
        if leg.untrue == "longer":
            canvas.add(*stretch_sign(leg, view))
    for before, leg in zip([None, *legs], legs, strict=False):
        if not leg.liner:
            canvas.add(*joint(before, leg, view))
    for before, leg in pairwise(legs):
        if before.piece.role == "connector" and leg.piece.role == "vent":
            canvas.add(*(seam(before, view, at_end=True) if leg.liner else seam(leg, view)))
            break
    _flow(canvas, legs, view)


def _branch_stub(branch: Branch, view: View) -> list[Item]:
    """The branch of a tee or wye, from the end of the connector into the trunk."""
    if len(branch.stub) < 2 or not branch.route.legs:
        return []
    last = branch.route.legs[-1]
    points = [view.to_sheet(p) for p in branch.stub]
    half = half_widths(last, view)[1] + 0.35
    a, b = points[0], points[-1]
    sides = side_lines([a, b], half, half)
    span = math.dist(a, b) or 1.0
    # It ends at the trunk's near wall; the wall is left open between its lines.
    share = min(1.0, COLLAR_M * view.mm_per_m * 1.35 / span)
    ends = [
        (side[0][0] + (side[1][0] - side[0][0]) * share,
         side[0][1] + (side[1][1] - side[0][1]) * share)
        for side in sides
    ]  # fmt: skip
    return [
        Polygon((sides[0][0], ends[0], ends[1], sides[1][0]), None, fill=Ink.PAPER, layer="pipe"),
        *(
            Line(side[0], end, Pen.FIRM, layer="pipe")
            for side, end in zip(sides, ends, strict=True)
        ),
    ]


def _cap(canvas: Canvas, plan: Plan, view: View) -> None:
    legs = plan.main.legs
    last = legs[-1] if legs else None
    if last is not None and last.piece.part == "cap":
        width = flue_half(legs[-2], view) if len(legs) > 1 else 2.0
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
            if not best.shape_open and not best.nominal and not best.untrue:
                canvas.add(*flow_arrow(best, view))


def _house(plan: Plan, view: View) -> list[Item]:
    house = plan.house
    items: list[Item] = []
    for level, left, right in _floors(plan):
        a, b = view.to_sheet((left, level)), view.to_sheet((right, level))
        box = (a, b, (b[0], b[1] - EARTH_MM), (a[0], a[1] - EARTH_MM))
        items += [
            Line(a, b, Pen.FIRM, layer="house"),
            Hatch(box, 45.0, 1.6, layer="house"),
        ]
    if house.ceiling is not None:
        items += _ceiling(plan, house.ceiling, view)
    if house.roof is not None:
        items += _roof(house.roof, view)
    if house.end_wall is not None:
        items += _outside_wall(house.end_wall, house.top, view)
    return items


def _floors(plan: Plan) -> list[tuple[float, float, float]]:
    """Level, left and right of each floor: all of the sheet, or under one that stands higher."""
    house = plan.house
    floors = [(0.0, house.left, house.right)]
    for branch in plan.tree.branches:
        if branch.floor != 0.0:
            x, reach = branch.route.start[0], HEATER_HALF_M + 0.1
            floors.append((branch.floor, x - reach, x + reach))
    return floors


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


def _appliance(branch: Branch, view: View) -> list[Item]:
    """Outline of an appliance from the floor to its hood; dashed where it was taken out."""
    x, outlet = view.to_sheet(branch.route.start)
    floor = view.to_sheet((0.0, branch.floor))[1]
    half, shown = _outlet(branch, view)
    tall = hood_height(half) if shown != "none" else hood_height(half) * 0.35
    top = outlet - tall
    body = HEATER_HALF_M * view.mm_per_m
    foot = floor + 1.2
    dash, ink = (Dash.DASHED, Ink.GREY) if branch.gone else (Dash.SOLID, Ink.INK)
    items: list[Item] = []
    if top - foot > 4.0:
        box = ((x - body, foot), (x + body, foot), (x + body, top - 1.5), (x + body * 0.8, top),
               (x - body * 0.8, top), (x - body, top - 1.5))  # fmt: skip
        items.append(Polygon(box, Pen.MIDDLE, ink, Ink.PAPER, dash, layer="appliance"))
        for side in (-0.8, 0.8):
            leg = (x + side * body, floor), (x + side * body, foot)
            items.append(Line(*leg, Pen.MIDDLE, ink, layer="appliance"))
    return items + hood((x, outlet), half, shown)


def _outlet(branch: Branch, view: View) -> tuple[float, str]:
    """Half the width of the outlet on paper, and how the hood is drawn."""
    size = branch.appliance.outlet_diameter
    radius = branch.route.legs[0].radius_m if branch.route.legs else 0.05
    if isinstance(size, Measured):
        radius = size.value / 2
    draft = branch.appliance.draft
    shown = "hood" if draft == "draft_hood" else "unknown" if draft is None else "none"
    return radius * view.mm_per_m, "gone" if branch.gone else shown


def draw_hood(branch: Branch, view: View) -> list[Item]:
    """The hood alone, standing on a short piece of the appliance's top."""
    x, outlet = view.to_sheet(branch.route.start)
    half, shown = _outlet(branch, view)
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
