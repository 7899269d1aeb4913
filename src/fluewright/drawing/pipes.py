"""The pieces of a path as ink: walls by kind, joints as they are, hood, cap."""

from __future__ import annotations

import math
from itertools import pairwise

from fluewright.drawing.route import DOUBLE, LINER_M, MASONRY_M, Leg
from fluewright.drawing.scene import Circle, Dash, Hatch, Ink, Item, Line, Pen, Point, Polygon, View
from fluewright.drawing.words import wall_of
from fluewright.quantity import Measured

SHELL_MM = 0.55  # least distance between the two lines of a double wall
GAP_MM = 1.0  # a gap is never drawn narrower
BELL_MM = 0.4  # how far the outer end stands out
LAP_M = 0.035  # how far one end goes into the other
MASONRY_MM = 2.2
LINER_MM = 0.8


def half_widths(leg: Leg, view: View) -> tuple[float, float]:
    """Half the outside width on paper at both ends. [mm]"""
    first, last = leg.radius_m * view.mm_per_m, leg.end_radius_m * view.mm_per_m
    more = 0.0
    if wall_of(leg.piece) in DOUBLE:
        more = max(SHELL_MM, 0.00635 * view.mm_per_m)
    elif wall_of(leg.piece) == "masonry":
        more = masonry_wall(view) + liner_room(leg, view)
    return first + more, last + more


def masonry_wall(view: View) -> float:
    """Thickness of a chimney's wall on paper. [mm]"""
    return max(MASONRY_MM, MASONRY_M * view.mm_per_m)


def liner_room(leg: Leg, view: View) -> float:
    """From the inside of the flue to the brick: liner and air. [mm]"""
    room = LINER_M.get(leg.liner, 0.0)
    return max(LINER_MM, room * view.mm_per_m) if room else 0.0


def side_lines(points: list[Point], first: float, last: float) -> tuple[list[Point], list[Point]]:
    """The chains left and right of a center line, at widths that change evenly."""
    spans = [math.dist(a, b) for a, b in pairwise(points)]
    whole = sum(spans) or 1.0
    left: list[Point] = []
    right: list[Point] = []
    gone = 0.0
    for i, (x, y) in enumerate(points):
        before = points[max(0, i - 1)]
        after = points[min(len(points) - 1, i + 1)]
        u, v = _unit(before, (x, y)), _unit((x, y), after)
        if i == 0:
            u = v
        if i == len(points) - 1:
            v = u
        nx, ny = -(u[1] + v[1]), u[0] + v[0]
        size = math.hypot(nx, ny) or 1.0
        miter = min(2.0, 2.0 / size)  # keeps the width around a corner
        half = (first + (last - first) * gone / whole) * miter
        left.append((x + nx / size * half, y + ny / size * half))
        right.append((x - nx / size * half, y - ny / size * half))
        if i < len(spans):
            gone += spans[i]
    return left, right


def _unit(a: Point, b: Point) -> Point:
    size = math.dist(a, b)
    return (0.0, 0.0) if size < 1e-9 else ((b[0] - a[0]) / size, (b[1] - a[1]) / size)


def pipe(leg: Leg, view: View) -> list[Item]:
    """One piece between its joints."""
    points = [view.to_sheet(p) for p in leg.points]
    if math.dist(points[0], points[-1]) < 0.05:
        return []
    first, last = half_widths(leg, view)
    left, right = side_lines(points, first, last)
    items: list[Item] = [Polygon((*left, *reversed(right)), None, fill=Ink.PAPER)]
    if leg.nominal or leg.shape_open:
        pen, dash = (Pen.MIDDLE, Dash.DASHED)
        items += [_chain(side, pen, dash, Ink.UNKNOWN) for side in (left, right)]
    else:
        items += wall_lines(leg, points, (first, last), view)
    if leg.piece.part == "elbow" and len(points) > 4 and not leg.nominal:
        ring = range(1, len(points) - 1, 4)
        items += [Line(left[i], right[i], Pen.FINE, layer="pipe") for i in ring]
    return items


def _chain(points: list[Point], pen: Pen, dash: Dash = Dash.SOLID, ink: Ink = Ink.INK) -> Polygon:
    return Polygon(tuple(points), pen, ink, None, dash, closed=False, layer="pipe")


def wall_lines(leg: Leg, points: list[Point], half: tuple[float, float], view: View) -> list[Item]:
    """The lines of a piece's walls, each kind in its own way."""
    kind = wall_of(leg.piece)
    sides = side_lines(points, *half)
    if kind in DOUBLE:
        shell = max(SHELL_MM, 0.00635 * view.mm_per_m)
        inner = side_lines(points, half[0] - shell, half[1] - shell)
        return [_chain(side, Pen.THIN) for side in (*sides, *inner)]
    if kind == "masonry":
        return masonry_lines(points, half, masonry_wall(view)) + _liner(leg, points, half, view)
    if kind in ("corrugated", "foil"):
        return [_chain(_zigzag(side), Pen.THIN) for side in sides]
    if kind == "unknown":
        return [_chain(side, Pen.FIRM, Dash.DASHED) for side in sides]
    if kind.startswith("plastic"):
        return [_chain(side, Pen.MIDDLE, Dash.CENTER) for side in sides]
    if kind == "asbestos_cement":
        return [_chain(side, Pen.HEAVY, Dash.CENTER) for side in sides]
    return [_chain(side, Pen.FIRM) for side in sides]


def masonry_lines(
    points: list[Point], half: tuple[float, float], wall: float, dash: Dash = Dash.SOLID
) -> list[Item]:
    """Brick on both sides of a flue: two lines a side, hatched between."""
    sides = side_lines(points, *half)
    inner = side_lines(points, half[0] - wall, half[1] - wall)
    items: list[Item] = [_chain(side, Pen.MIDDLE, dash) for side in (*sides, *inner)]
    for out, core in zip(sides, inner, strict=True):
        items.append(Hatch((*out, *reversed(core)), 45.0, 0.9, layer="pipe"))
    return items


def _liner(leg: Leg, points: list[Point], half: tuple[float, float], view: View) -> list[Item]:
    """The liner inside the brick: clay hatched the other way, metal a line, not known dashed."""
    wall, room = masonry_wall(view), liner_room(leg, view)
    room = room or 0.5  # a liner nobody saw is drawn just inside the brick
    inside = side_lines(points, half[0] - wall - room, half[1] - wall - room)
    if leg.liner == "clay":
        brick = side_lines(points, half[0] - wall, half[1] - wall)
        items: list[Item] = [_chain(side, Pen.FIRM) for side in inside]
        for out, core in zip(brick, inside, strict=True):
            items.append(Hatch((*out, *reversed(core)), -45.0, 0.6, layer="pipe"))
        return items
    if leg.liner == "metal":
        return [_chain(side, Pen.FIRM) for side in inside]
    if leg.liner == "corrugated":
        return [_chain(_zigzag(side), Pen.THIN) for side in inside]
    if leg.liner == "unknown":
        return [_chain(side, Pen.FIRM, Dash.DASHED, Ink.UNKNOWN) for side in inside]
    return []


def _zigzag(points: list[Point]) -> list[Point]:
    """A chain folded in and out, as a corrugated wall looks."""
    out: list[Point] = [points[0]]
    for a, b in pairwise(points):
        count = max(2, round(math.dist(a, b) / 0.8))
        u = _unit(a, b)
        for i in range(1, count + 1):
            away = 0.3 if i % 2 else -0.3
            part = i / count
            out.append(
                (
                    a[0] + (b[0] - a[0]) * part - u[1] * away,
                    a[1] + (b[1] - a[1]) * part + u[0] * away,
                )
            )
    return out


def joint(before: Leg | None, leg: Leg, view: View) -> list[Item]:
    """The joint at the upstream end of a piece: laps, gap, tape, screws."""
    if leg.piece.part == "cap" or len(leg.points) < 2:
        return []
    points = [view.to_sheet(p) for p in leg.points]
    at = points[0]
    way = _unit(points[0], points[1])
    half = half_widths(leg, view)[0]
    if before is not None:
        half = max(half, half_widths(before, view)[1])
    seen = leg.piece.joint
    across = _Across(at, way, half)
    if seen is None:
        return [across.line(0.0, 0.0, Pen.THIN)]
    lap = max(1.4, LAP_M * view.mm_per_m)
    items: list[Item] = []
    male = seen.male_end
    # The end that points downstream goes into the next piece, whose edge is then what is seen.
    near = -lap if male == "upstream" else 0.0
    if male is not None:
        items.append(across.band(near, near + lap, BELL_MM, Pen.FIRM, Ink.PAPER))
        inside = -0.6 if male == "downstream" else 0.6
        items.append(across.line(inside, -0.1, Pen.FINE))
    else:
        items.append(across.line(0.0, 0.0, Pen.THIN))
    gap = isinstance(seen.gap, Measured) and seen.gap.high > 0
    if isinstance(seen.tape, str):
        # Beside an open gap the tape is drawn on the lap alone, so that the gap is seen.
        start, end = (near, near + lap * 0.9) if gap and male else (-0.6 * lap, 0.6 * lap)
        items.append(across.band(start, end, BELL_MM + 0.25, Pen.FINE, Ink.LIGHT))
    if isinstance(seen.gap, Measured) and gap:
        size = max(GAP_MM, seen.gap.value * view.mm_per_m)
        start = 0.0 if male == "upstream" else -size
        items += across.open(start, start + size)
    if isinstance(seen.screws, Measured) and seen.screws.value >= 1:
        items += across.dots(near + lap / 2, round(seen.screws.value))
    return items


class _Across:
    """Things drawn square to the pipe at one place of it."""

    def __init__(self, at: Point, way: Point, half: float) -> None:
        self.at, self.way, self.half = at, way, half

    def point(self, along: float, side: float) -> Point:
        x, y = self.at
        ux, uy = self.way
        return x + ux * along - uy * side, y + uy * along + ux * side

    def line(self, along: float, more: float, pen: Pen, ink: Ink = Ink.INK) -> Line:
        reach = self.half + more
        return Line(self.point(along, -reach), self.point(along, reach), pen, ink, layer="joint")

    def band(self, start: float, end: float, more: float, pen: Pen, fill: Ink) -> Polygon:
        reach = self.half + more
        corners = ((start, -reach), (end, -reach), (end, reach), (start, reach))
        return Polygon(tuple(self.point(*c) for c in corners), pen, Ink.INK, fill, layer="joint")

    def open(self, start: float, end: float) -> list[Item]:
        """The gap: the walls are missing between two end lines."""
        reach = self.half + 0.6
        corners = ((start, -reach), (end, -reach), (end, reach), (start, reach))
        blank = Polygon(tuple(self.point(*c) for c in corners), None, fill=Ink.PAPER, layer="joint")
        return [blank, self.line(start, 0.0, Pen.THIN), self.line(end, 0.0, Pen.THIN)]

    def dots(self, along: float, count: int) -> list[Item]:
        count = min(count, 12)
        per_row = max(1, min(count, int((2 * self.half - 0.6) / 1.1)))
        items: list[Item] = []
        for i in range(count):
            row, place = divmod(i, per_row)
            in_row = min(per_row, count - row * per_row)
            side = (place - (in_row - 1) / 2) * 1.1
            items.append(
                Circle(self.point(along + row * 1.0, side), 0.36, None, fill=Ink.INK, layer="joint")
            )
        return items


def seam(leg: Leg, view: View, *, at_end: bool = False) -> list[Item]:
    """Where connector becomes vent: a heavy line across, standing out on both sides.

    It stands at the start of the vent's first piece, or at the end of the connector's last.
    """
    points = [view.to_sheet(p) for p in leg.points]
    first, last = half_widths(leg, view)
    place = points[-1] if at_end else points[0]
    way = _unit(points[-2], points[-1]) if at_end else _unit(points[0], points[1])
    across = _Across(place, way, last if at_end else first)
    return [across.line(0.0, 1.6, Pen.HEAVY)]


def stretch_sign(leg: Leg, view: View) -> list[Item]:
    """Two slanting strokes across a piece that is drawn longer than it is."""
    a, b = view.to_sheet(leg.points[-2]), view.to_sheet(leg.points[-1])
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    half = half_widths(leg, view)[0] + 1.0
    across = _Across(middle, _unit(a, b), half)
    blank = ((-1.1, -half), (0.1, -half), (1.1, half), (-0.1, half))
    items: list[Item] = [
        Polygon(tuple(across.point(*c) for c in blank), None, fill=Ink.PAPER, layer="pipe")
    ]
    for low, high in ((blank[0], blank[3]), (blank[1], blank[2])):
        items.append(Line(across.point(*low), across.point(*high), Pen.THIN, layer="pipe"))
    return items


def ghost(leg: Leg, view: View) -> list[Item]:
    """A piece that is not there any more: dashed and grey."""
    points = [view.to_sheet(p) for p in leg.points]
    if math.dist(points[0], points[-1]) < 0.05:
        return []
    sides = side_lines(points, *half_widths(leg, view))
    return [_chain(side, Pen.THIN, Dash.DASHED, Ink.GREY) for side in sides]


def cap(at: Point, half: float) -> list[Item]:
    """A rain cap; its lowest discharge opening stands at the given point."""
    x, y = at
    band, wide = _cap_size(half)
    lid = ((x - wide, y + band), (x + wide, y + band), (x + half * 0.35, y + band * 1.8),
           (x - half * 0.35, y + band * 1.8))  # fmt: skip
    skirt = ((x - wide, y), (x + wide, y), (x + wide, y + band), (x - wide, y + band))
    items: list[Item] = [
        Polygon(skirt, Pen.THIN, Ink.INK, Ink.PAPER, layer="cap"),
        Polygon(lid, Pen.FIRM, Ink.INK, Ink.PAPER, layer="cap"),
    ]
    count = max(2, int(wide / 0.7))
    for i in range(1, count):
        level = x - wide + 2 * wide * i / count
        items.append(Line((level, y + 0.2), (level, y + band - 0.2), Pen.FINE, layer="cap"))
    return items


def _cap_size(half: float) -> tuple[float, float]:
    """Height of a cap's open band, and half its width, for half a pipe's width. [mm]"""
    return max(1.6, half * 0.9), half + max(0.9, half * 0.35)


def cap_targets(at: Point, half: float) -> tuple[Point, ...]:
    """Places of a drawn cap that a leader may end at."""
    band, wide = _cap_size(half)
    x, y = at
    return (x + wide, y + band / 2), (x + wide * 0.6, y + band * 1.3), (x, y + band * 1.8)


def flow_arrow(leg: Leg, view: View) -> list[Item]:
    """A slim arrow inside the pipe, in the direction of flow."""
    a, b = view.to_sheet(leg.start), view.to_sheet(leg.end)
    way, room = _unit(a, b), math.dist(a, b)
    length = min(9.0, room * 0.5)
    middle = a[0] + (b[0] - a[0]) * 0.3, a[1] + (b[1] - a[1]) * 0.3
    across = _Across(middle, way, 0.0)
    head = min(0.8, leg.radius_m * view.mm_per_m * 0.6)
    tip = across.point(length / 2, 0.0)
    return [
        Line(across.point(-length / 2, 0.0), tip, Pen.THIN, layer="flow"),
        Polygon(
            (tip, across.point(length / 2 - 2.0, head), across.point(length / 2 - 2.0, -head)),
            None,
            fill=Ink.INK,
            layer="flow",
        ),
    ]


def hood(at: Point, half: float, shown: str) -> list[Item]:
    """The draft hood below its outlet: skirt, relief opening, collar of the appliance.

    Args:
        at: the hood outlet on the sheet. [mm]
        half: half the outlet's width on paper. [mm]
        shown: ``hood``, ``none`` (a plain collar), ``unknown`` (dashed), or ``gone`` (dashed
            and grey).
    """
    x, y = at
    tall = hood_height(half)
    dash = Dash.DASHED if shown in ("unknown", "gone") else Dash.SOLID
    ink = Ink.GREY if shown == "gone" else Ink.INK
    if shown == "none":
        box = (
            (x - half, y - tall * 0.35),
            (x + half, y - tall * 0.35),
            (x + half, y),
            (x - half, y),
        )
        return [Polygon(box, Pen.MIDDLE, fill=Ink.PAPER, layer="hood")]
    wide, neck = half * 2.0, y - tall * 0.2
    rim = y - tall * 0.62
    cone = ((x - half, y), (x - half, neck), (x - wide, rim), (x + wide, rim), (x + half, neck),
            (x + half, y))  # fmt: skip
    items: list[Item] = [
        Polygon(cone, Pen.FIRM, ink, Ink.PAPER, dash, layer="hood"),
    ]
    if shown == "gone":
        return items
    base = y - tall
    for side in (-1, 1):  # legs: between them the relief opening
        foot = x + side * half * 1.5
        items.append(Line((foot, base), (x + side * wide * 0.86, rim), Pen.THIN, layer="hood"))
        items.append(
            Line((x + side * half, base), (x + side * half, base + tall * 0.16), Pen.THIN,
                 layer="hood")
        )  # fmt: skip
    return items


def hood_height(half: float) -> float:
    """Height of the drawn hood on paper. [mm]"""
    return max(4.0, half * 3.0)
