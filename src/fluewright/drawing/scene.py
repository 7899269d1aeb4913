"""A sheet as lines, areas, lettering and marks; no file format.

Points are millimetres on the sheet, origin at the bottom left, y up. A ``View`` is a figure
drawn to scale on it, and turns a point of the sheet back into metres of the house, so that a
writer of model-space formats loses nothing. ``Hatch`` and ``Mark`` say what they are; ``parts``
gives the plain lines they are made of, so a renderer needs five primitives only.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from enum import Enum
from typing import Literal

from fluewright.drawing.metrics import ASCENT_EM, DESCENT_EM, Face, text_width
from fluewright.frozen import frozen

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
MarkKind = Literal["stop", "hazard", "defect", "craft", "note", "cannot_tell"]


class Pen(Enum):
    """Line weights in millimetres."""

    HEAVY = 0.5
    FIRM = 0.35
    MIDDLE = 0.25
    THIN = 0.18
    FINE = 0.12


class Ink(Enum):
    """Roles of color; each renderer keeps its own table of values."""

    INK = "ink"
    GREY = "grey"  # what is there but not the matter
    LIGHT = "light"  # a tint that type stays readable on
    PAPER = "paper"
    ALARM = "alarm"  # stop and hazard
    MEASURED = "measured"
    UNKNOWN = "unknown"


class Dash(Enum):
    """Patterns in millimetres: on, off, on, off ..."""

    SOLID = ()
    DASHED = (1.6, 1.0)
    FINE = (0.7, 0.7)
    CENTER = (5.0, 1.0, 0.8, 1.0)


@frozen
class Line:
    """A straight stroke. ``owner`` ties it to the lettering it may touch."""

    a: Point
    b: Point
    pen: Pen = Pen.THIN
    ink: Ink = Ink.INK
    dash: Dash = Dash.SOLID
    layer: str = "figure"
    owner: str = ""


@frozen
class Polygon:
    """A closed area or an open chain of strokes; ``pen`` None leaves the edge undrawn."""

    points: tuple[Point, ...]
    pen: Pen | None = Pen.THIN
    ink: Ink = Ink.INK
    fill: Ink | None = None
    dash: Dash = Dash.SOLID
    closed: bool = True
    layer: str = "figure"
    owner: str = ""


@frozen
class Circle:
    """A whole circle."""

    center: Point
    radius: float
    pen: Pen | None = Pen.THIN
    ink: Ink = Ink.INK
    fill: Ink | None = None
    dash: Dash = Dash.SOLID
    layer: str = "figure"
    owner: str = ""


@frozen
class Arc:
    """Part of a circle, counterclockwise from one angle to the other, in degrees."""

    center: Point
    radius: float
    start_deg: float
    end_deg: float
    pen: Pen = Pen.THIN
    ink: Ink = Ink.INK
    dash: Dash = Dash.SOLID
    layer: str = "figure"
    owner: str = ""

    def points(self) -> tuple[Point, ...]:
        """The arc as a chain of short chords."""
        steps = max(2, math.ceil(abs(self.end_deg - self.start_deg) / 12))
        turn = (self.end_deg - self.start_deg) / steps
        return tuple(
            around(self.center, self.radius, self.start_deg + turn * i) for i in range(steps + 1)
        )


@frozen
class Text:
    """One line of lettering; ``at`` is the anchor on its base line."""

    at: Point
    text: str
    size_mm: float = 2.4
    anchor: Anchor = "start"
    rotation_deg: float = 0.0
    face: Face = "regular"
    ink: Ink = Ink.INK
    layer: str = "text"
    owner: str = ""

    def corners(self, pad_mm: float = 0.0) -> tuple[Point, Point, Point, Point]:
        """The box that the ink may fill, grown by a margin. [mm]"""
        width = text_width(self.text, self.size_mm, self.face)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[self.anchor]
        low, high = -DESCENT_EM * self.size_mm - pad_mm, ASCENT_EM * self.size_mm + pad_mm
        left, right = left - pad_mm, left + width + pad_mm
        turn = math.radians(self.rotation_deg)
        cos, sin = math.cos(turn), math.sin(turn)

        def put(x: float, y: float) -> Point:
            return self.at[0] + x * cos - y * sin, self.at[1] + x * sin + y * cos

        return put(left, low), put(right, low), put(right, high), put(left, high)


@frozen
class Hatch:
    """Parallel strokes over an area."""

    points: tuple[Point, ...]
    angle_deg: float = 45.0
    spacing_mm: float = 1.2
    pen: Pen = Pen.FINE
    ink: Ink = Ink.INK
    layer: str = "hatch"
    owner: str = ""

    def parts(self) -> tuple[Line, ...]:
        """The strokes, cut at the edge of the area."""
        turn = math.radians(-self.angle_deg)
        cos, sin = math.cos(turn), math.sin(turn)
        flat = [(x * cos - y * sin, x * sin + y * cos) for x, y in self.points]
        low, high = min(p[1] for p in flat), max(p[1] for p in flat)
        lines: list[Line] = []
        level = math.ceil(low / self.spacing_mm + 1e-6) * self.spacing_mm
        while level < high:
            cuts = sorted(_crossings(flat, level))
            for left, right in zip(cuts[::2], cuts[1::2], strict=False):
                if right - left > 0.05:
                    lines.append(self._stroke(left, right, level, cos, sin))
            level += self.spacing_mm
        return tuple(lines)

    def _stroke(self, left: float, right: float, level: float, cos: float, sin: float) -> Line:
        a = left * cos + level * sin, -left * sin + level * cos
        b = right * cos + level * sin, -right * sin + level * cos
        return Line(a, b, self.pen, self.ink, Dash.SOLID, self.layer, self.owner)


@frozen
class Mark:
    """The sign of a finding: shape by grade, its number beside it."""

    at: Point
    kind: MarkKind
    number: str = ""
    size_mm: float = 3.0
    layer: str = "mark"

    @property
    def owner(self) -> str:
        """What ties shape and number together."""
        return f"mark {self.at[0]:.2f} {self.at[1]:.2f}"

    @property
    def ink(self) -> Ink:
        """Second to the shape, never alone."""
        if self.kind in ("stop", "hazard"):
            return Ink.ALARM
        return Ink.UNKNOWN if self.kind == "cannot_tell" else Ink.INK

    def parts(self) -> tuple[Line | Polygon | Circle | Text, ...]:
        """The shape, and the number right of it."""
        shape = _mark_shape(self.kind, self.at, self.size_mm / 2, self.ink, self.owner)
        if not self.number:
            return shape
        at = self.at[0] + self.size_mm * 0.5 + 0.8, self.at[1] - 0.36 * 2.4
        number = Text(at, self.number, 2.4, face="bold", layer=self.layer, owner=self.owner)
        return (*shape, number)


Plain = Line | Polygon | Circle | Arc | Text
Item = Plain | Hatch | Mark


@frozen
class View:
    """A figure drawn to scale: one metre of the house is ``mm_per_m`` on the sheet."""

    name: str
    scale: str
    mm_per_m: float
    origin: Point

    def to_sheet(self, point: Point) -> Point:
        """Metres of the house to millimetres of the sheet."""
        return (
            self.origin[0] + point[0] * self.mm_per_m,
            self.origin[1] + point[1] * self.mm_per_m,
        )

    def to_house(self, point: Point) -> Point:
        """Millimetres of the sheet to metres of the house."""
        return (
            (point[0] - self.origin[0]) / self.mm_per_m,
            (point[1] - self.origin[1]) / self.mm_per_m,
        )


@frozen
class Scene:
    """One sheet: its size, its figures, and everything drawn, in drawing order."""

    title: str
    description: str
    width_mm: float
    height_mm: float
    views: tuple[View, ...]
    items: tuple[Item, ...]

    def plain(self) -> Iterator[Plain]:
        """Every item as plain lines, areas and lettering."""
        for item in self.items:
            if isinstance(item, Hatch | Mark):
                yield from item.parts()
            else:
                yield item


def around(center: Point, radius: float, angle_deg: float) -> Point:
    """The point at a distance and angle from a center."""
    turn = math.radians(angle_deg)
    return center[0] + radius * math.cos(turn), center[1] + radius * math.sin(turn)


def _crossings(points: list[Point], level: float) -> Iterator[float]:
    for (x1, y1), (x2, y2) in zip(points, points[1:] + points[:1], strict=True):
        if (y1 <= level) != (y2 <= level):
            yield x1 + (level - y1) / (y2 - y1) * (x2 - x1)


def _mark_shape(
    kind: MarkKind, at: Point, r: float, ink: Ink, owner: str
) -> tuple[Line | Polygon | Circle, ...]:
    x, y = at
    layer = "mark"
    if kind == "stop":
        disc = Circle(at, r, None, ink, ink, layer=layer, owner=owner)
        bar = Line(
            (x - r * 0.55, y), (x + r * 0.55, y), Pen.HEAVY, Ink.PAPER, layer=layer, owner=owner
        )
        return disc, bar
    if kind == "hazard":
        wedge = ((x - r, y + r * 0.85), (x + r, y + r * 0.85), (x, y - r))
        return (Polygon(wedge, None, ink, ink, layer=layer, owner=owner),)
    if kind in ("defect", "craft"):
        s = r * 0.82
        box = ((x - s, y - s), (x + s, y - s), (x + s, y + s), (x - s, y + s))
        if kind == "defect":
            return (Polygon(box, None, ink, ink, layer=layer, owner=owner),)
        return (Polygon(box, Pen.FIRM, ink, Ink.PAPER, layer=layer, owner=owner),)
    if kind == "note":
        return (Circle(at, r * 0.6, Pen.FIRM, ink, Ink.PAPER, layer=layer, owner=owner),)
    ring = Circle(at, r * 0.9, Pen.MIDDLE, ink, Ink.PAPER, Dash.FINE, layer, owner)
    return ring, Circle(at, r * 0.28, None, ink, ink, layer=layer, owner=owner)
