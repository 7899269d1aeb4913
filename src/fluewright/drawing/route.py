"""A chain of pieces laid into one plane: where each starts and ends, in metres of the house.

Gas flows to the left and up. On the sheet of one path the floor of the appliance's space is
y = 0 and the draft hood outlet x = 0; ``tree`` puts several chains together. Turns in plan are
unfolded, so that every run shows its true length. Where the survey has no length a short nominal
one is drawn and said to be so.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from fluewright.drawing.scene import Point
from fluewright.drawing.words import wall_of
from fluewright.frozen import frozen
from fluewright.geometry import Length, Placed, Trace
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Chimney, Piece

NOMINAL_PIPE_M = 0.30  # drawn where nobody measured a length
NOMINAL_RUN_M = 0.60
NOMINAL_RADIUS_M = 0.0508  # half of 4 in
NOMINAL_HOOD_M = 1.50  # hood outlet over the floor
MASONRY_M = 4 * 0.0254  # a chimney's wall as drawn; its thickness is not surveyed
LINER_M = {"clay": 0.016, "metal": 0.03, "corrugated": 0.03}  # liner and its air, as drawn
TYPE_B_SHELL_M = 0.25 * 0.0254  # drawn shell; the definitions give half an inch on the diameter
LEVEL_DRAWN_M = 0.004


@frozen
class Leg:
    """One piece on the drawing: its center line, and what of it is true to scale."""

    piece: Piece
    points: tuple[Point, ...]
    rise: Length
    side: Length
    radius_m: float
    end_radius_m: float
    nominal: bool  # a length was made up
    shape_open: bool  # its ends are where the survey says, the way between is not recorded
    in_plan: bool  # an elbow that turns sideways, unfolded
    untrue: Literal["", "longer", "shorter"] = ""  # than it is, so that all stands clear
    liner: str = ""  # of a masonry chimney: clay, metal, corrugated, none, unknown

    @property
    def start(self) -> Point:
        """Where gas enters."""
        return self.points[0]

    @property
    def end(self) -> Point:
        """Where gas leaves."""
        return self.points[-1]

    @property
    def middle(self) -> Point:
        """The middle of the center line, by length."""
        spans = [math.dist(a, b) for a, b in zip(self.points, self.points[1:], strict=False)]
        left = sum(spans) / 2
        for (a, b), span in zip(
            zip(self.points, self.points[1:], strict=False), spans, strict=True
        ):
            if left <= span and span > 0:
                return a[0] + (b[0] - a[0]) * left / span, a[1] + (b[1] - a[1]) * left / span
            left -= span
        return self.end

    @property
    def is_flat(self) -> bool:
        """Whether it goes further sideways than up."""
        return abs(self.end[0] - self.start[0]) > abs(self.end[1] - self.start[1])

    def put(self, at: Point, side: float = 1.0) -> Leg:
        """The same piece elsewhere; ``side`` -1 turns it over, so that gas flows to the right."""
        moved = tuple((at[0] + side * x, at[1] + y) for x, y in self.points)
        return replace(self, points=moved)


@frozen
class Route:
    """The whole path in the plane."""

    legs: tuple[Leg, ...]
    start: Point
    hood_known: bool

    @property
    def end(self) -> Point:
        """The lowest discharge opening."""
        return self.legs[-1].end if self.legs else self.start

    @property
    def seam(self) -> Point | None:
        """Where the connector enters the vent; None where either is not described."""
        for before, after in zip(self.legs, self.legs[1:], strict=False):
            if before.piece.role == "connector" and after.piece.role == "vent":
                return after.start
        return None

    @property
    def nominal(self) -> tuple[Leg, ...]:
        """The pieces that are not to scale."""
        return tuple(leg for leg in self.legs if leg.nominal)


def lay_out(found: Trace, hood: object) -> Route:
    """The path laid into the plane.

    Args:
        found: the path with every piece placed.
        hood: height of the hood outlet above the floor, where measured.
    """
    known = isinstance(hood, Measured) and hood.value > 0.1
    start = (0.0, hood.value if known and isinstance(hood, Measured) else NOMINAL_HOOD_M)
    return Route(legs_from(found, start), start, known)


def legs_from(found: Trace, start: Point) -> tuple[Leg, ...]:
    """The pieces laid end to end from a point.

    A connector that runs into a chimney ends at the inside of its wall, not at its center line.
    """
    here = start
    legs: list[Leg] = []
    radius = next(
        (
            p.piece.diameter.value / 2
            for p in found.placed
            if isinstance(p.piece.diameter, Measured)
        ),
        NOMINAL_RADIUS_M,
    )
    for item in found.placed:
        masonry = wall_of(item.piece) == "masonry" and item.piece.part != "cap"
        if isinstance(item.piece.diameter, Measured):
            radius = item.piece.diameter.value / 2
        elif masonry:
            radius = _flue_radius(found.path.chimney, radius)
        leg = _leg(item, here, radius)
        if masonry:
            if legs and legs[-1].is_flat and not leg.is_flat and not legs[-1].liner:
                leg = leg.put((-radius, 0.0))
            leg = replace(leg, liner=liner_of(found.path.chimney))
        legs.append(leg)
        here, radius = leg.end, leg.end_radius_m
    return tuple(legs)


def _flue_radius(chimney: object, otherwise: float) -> float:
    """Half the width of a square flue of the area that was measured. [m]"""
    area = chimney.flue_area if isinstance(chimney, Chimney) else None
    return math.sqrt(area.value) / 2 if isinstance(area, Measured) else otherwise


def liner_of(chimney: object) -> str:
    """The liner of a chimney as it is drawn."""
    seen = chimney.liner if isinstance(chimney, Chimney) else None
    if seen is ABSENT:
        return "none"
    return {"smooth_metal": "metal", "corrugated_metal": "corrugated", "clay": "clay"}.get(
        seen if isinstance(seen, str) else "", "unknown"
    )


def _leg(item: Placed, here: Point, radius: float) -> Leg:
    piece = item.piece
    way, nominal, open_shape = _way(item)
    points = [here]
    for dx, dy in way:
        points.append((points[-1][0] - dx, points[-1][1] + dy))
    after = piece.to_diameter.value / 2 if isinstance(piece.to_diameter, Measured) else radius
    in_plan = (
        piece.part == "elbow"
        and not nominal
        and item.tilt_in is not None
        and item.tilt_out is not None
        and abs(item.tilt_in - item.tilt_out) < 15.0
        and isinstance(piece.angle, Measured)
        and piece.angle.value > 20.0
    )
    line = tuple(points)
    if piece.part == "elbow" and len(points) == 3:
        line = _bend(points[0], points[1], points[2], radius)
    return Leg(piece, line, item.rise, item.horizontal, radius, after, nominal, open_shape, in_plan)


def _way(item: Placed) -> tuple[list[Point], bool, bool]:
    """Steps sideways and up; whether a length was made up; whether the shape is open."""
    piece = item.piece
    rise, side = item.rise, item.horizontal
    if piece.part == "cap":
        return [(0.0, 0.0)], False, False
    tilt = item.tilt_out if item.tilt_out is not None else item.tilt_in
    if piece.part == "run" or piece.rise is not None or piece.horizontal is not None:
        return _run(item)
    if isinstance(rise, Measured) and isinstance(side, Measured):
        if piece.part == "elbow" and item.tilt_in is not None and item.tilt_out is not None:
            return _elbow(item, side.value, rise.value), False, False
        return [(side.value, rise.value)], False, False
    if isinstance(side, Measured):  # level by eye: true length, slope not known
        return [(side.value, 0.0)], False, False
    center = item.center_line
    length = center.value if isinstance(center, Measured) else NOMINAL_PIPE_M
    turn = math.radians(tilt if tilt is not None else 0.0)
    if piece.part == "elbow":
        length = 2 * NOMINAL_RADIUS_M + 0.06
    return [(length * math.sin(turn), length * math.cos(turn))], True, False


def _run(item: Placed) -> tuple[list[Point], bool, bool]:
    rise = item.rise.value if isinstance(item.rise, Measured) else None
    side = item.horizontal.value if isinstance(item.horizontal, Measured) else None
    made_up = rise is None or side is None
    up = NOMINAL_RUN_M if rise is None else rise
    over = NOMINAL_RUN_M if rise is not None or item.piece.role != "vent" else 0.0
    if side is not None:
        over = side
    if abs(over) < LEVEL_DRAWN_M:
        return [(0.0, up)], made_up, False
    if item.piece.elbows is ABSENT:
        return [(over, up)], made_up, False
    # Up, then over, is how a connector runs; over first, then up, is how an offset vent does.
    if item.piece.role == "vent":
        return [(over, 0.0), (0.0, up)], made_up, True
    return [(0.0, up), (over, 0.0)], made_up, True


def _elbow(item: Placed, side_m: float, rise_m: float) -> list[Point]:
    """One leg in, one leg out; together exactly what the geometry says."""
    center = item.center_line
    leg = center.value / 2 if isinstance(center, Measured) else NOMINAL_RADIUS_M
    turn = math.radians(item.tilt_in or 0.0)
    first = leg * math.sin(turn), leg * math.cos(turn)
    return [first, (side_m - first[0], rise_m - first[1])]


def _bend(a: Point, corner: Point, b: Point, radius: float) -> tuple[Point, ...]:
    """The corner of an elbow rounded, as far as its legs allow."""
    leg = min(math.dist(a, corner), math.dist(corner, b))
    if leg < 1e-6:
        return a, corner, b
    u = (corner[0] - a[0]) / leg, (corner[1] - a[1]) / leg
    v = (b[0] - corner[0]) / leg, (b[1] - corner[1]) / leg
    turn = math.acos(max(-1.0, min(1.0, u[0] * v[0] + u[1] * v[1])))
    if turn < 0.02:
        return a, b
    cut = min(leg, max(0.75 * leg, 1.05 * radius * math.tan(turn / 2)))
    first = corner[0] - u[0] * cut, corner[1] - u[1] * cut
    last = corner[0] + v[0] * cut, corner[1] + v[1] * cut
    arc = [_on_curve(first, corner, last, turn, i / 12) for i in range(13)]
    return a, *arc, b


def _on_curve(first: Point, corner: Point, last: Point, turn: float, part: float) -> Point:
    """A point of the circle that touches both legs."""
    half = turn / 2
    middle = (first[0] + last[0]) / 2, (first[1] + last[1]) / 2
    to_corner = math.dist(middle, corner)
    if to_corner < 1e-9:
        return first[0] + (last[0] - first[0]) * part, first[1] + (last[1] - first[1]) * part
    r = math.dist(first, corner) / math.tan(half)
    away = r / math.cos(half)
    out = (corner[0] - middle[0]) / to_corner, (corner[1] - middle[1]) / to_corner
    center = corner[0] - out[0] * away, corner[1] - out[1] * away
    begin = math.atan2(first[1] - center[1], first[0] - center[0])
    sweep = math.atan2(last[1] - center[1], last[0] - center[0]) - begin
    sweep = (sweep + math.pi) % (2 * math.pi) - math.pi
    return (
        center[0] + r * math.cos(begin + sweep * part),
        center[1] + r * math.sin(begin + sweep * part),
    )


def outer_radius(leg: Leg) -> float:
    """Half the outside diameter as drawn. [m]"""
    wall = wall_of(leg.piece)
    shell = TYPE_B_SHELL_M if wall in DOUBLE else 0.0
    if wall == "masonry":
        shell = MASONRY_M + LINER_M.get(leg.liner, 0.0)
    return max(leg.radius_m, leg.end_radius_m) + shell


DOUBLE = ("type_b", "type_l", "type_bw", "special", "listed_connector")
