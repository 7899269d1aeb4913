"""What the measuring figures are put together from: tape, datum, wrong way, pipe, wood, roof.

Points are millimetres on the figure. Blue is the tape; a crossed gray line is a place where it
does not go.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

from fluewright.drawing.pipes import hood, hood_height, side_lines
from fluewright.drawing.scene import (
    Anchor,
    Circle,
    Dash,
    Hatch,
    Ink,
    Item,
    Line,
    Pen,
    Point,
    Polygon,
    Scene,
    Text,
    around,
)
from fluewright.frozen import frozen

WIDTH_MM = 80.0
HEIGHT_MM = 60.0
WORD_MM = 2.3
SHELL_MM = 1.0  # between the two lines of a double wall
SHORT_MM = 7.0  # a shorter tape has its arrows outside
HEAD_MM = 1.8
Wall = Literal["single", "double"]


@frozen
class Figure:
    """One measuring figure: its file name, what it shows in words, and how it is drawn."""

    name: str
    title: str
    description: str
    draw: Callable[[], list[Item]]

    @property
    def alt(self) -> str:
        """Title and description as one line, for those who do not see the figure."""
        return f"{self.title}. {self.description}"

    def scene(self) -> Scene:
        """The figure as a sheet of its own."""
        return Scene(self.title, self.description, WIDTH_MM, HEIGHT_MM, (), tuple(self.draw()))


def unit(a: Point, b: Point) -> Point:
    """Direction from one point to another, of length one."""
    size = math.dist(a, b) or 1.0
    return (b[0] - a[0]) / size, (b[1] - a[1]) / size


def step(at: Point, way: Point, size: float) -> Point:
    """The point at a distance along a direction."""
    return at[0] + way[0] * size, at[1] + way[1] * size


def between(a: Point, b: Point, share: float = 0.5) -> Point:
    """The point at a share of the way."""
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def word(at: Point, text: str, anchor: Anchor = "middle", ink: Ink = Ink.INK) -> Text:
    """A name beside a part."""
    return Text(at, text, WORD_MM, anchor, ink=ink)


def head(tip: Point, way: Point, ink: Ink) -> Polygon:
    """A slim arrow head that ends at a point."""
    left = (-way[1], way[0])
    foot = step(tip, way, -HEAD_MM)
    return Polygon(
        (tip, step(foot, left, 0.55), step(foot, left, -0.55)), None, fill=ink, layer="tape"
    )


def tape(
    a: Point, b: Point, text: str = "", away: float = 0.0, *, under: bool = False
) -> list[Item]:
    """The tape from one point to another.

    Args:
        a: where it starts.
        b: where it ends.
        text: what it reads, set along it.
        away: how far left of the way from ``a`` to ``b`` it is drawn, with extension lines. [mm]
        under: put the words on its lower side.
    """
    way = unit(a, b)
    left = (-way[1], way[0])
    p, q = step(a, left, away), step(b, left, away)
    items: list[Item] = []
    if away:
        turn = math.copysign(1.0, away)
        for foot, top in ((a, p), (b, q)):
            ends = step(foot, left, turn), step(top, left, turn)
            items.append(Line(*ends, Pen.FINE, Ink.GREY, layer="extension"))
    if math.dist(p, q) < SHORT_MM:
        items += [
            Line(step(p, way, -4.5), p, Pen.MIDDLE, Ink.MEASURED, layer="tape"),
            Line(p, q, Pen.FINE, Ink.MEASURED, layer="tape"),
            Line(q, step(q, way, 4.5), Pen.MIDDLE, Ink.MEASURED, layer="tape"),
            head(p, way, Ink.MEASURED),
            head(q, (-way[0], -way[1]), Ink.MEASURED),
        ]
    else:
        items += [
            Line(p, q, Pen.MIDDLE, Ink.MEASURED, layer="tape"),
            head(p, (-way[0], -way[1]), Ink.MEASURED),
            head(q, way, Ink.MEASURED),
        ]
    if text:
        items.append(along(p, q, text, under=under))
    return items


def along(a: Point, b: Point, text: str, *, under: bool = False, ink: Ink = Ink.MEASURED) -> Text:
    """Words along a line, readable from below or from the right."""
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    turn = turn - 180.0 if turn > 90.01 else turn + 180.0 if turn <= -89.99 else turn
    up = (-math.sin(math.radians(turn)), math.cos(math.radians(turn)))
    lift = -(0.9 + 0.74 * WORD_MM) if under else 0.9
    return Text(step(between(a, b), up, lift), text, WORD_MM, "middle", turn, ink=ink)


def datum(at: Point) -> Circle:
    """The point that the tape starts from."""
    return Circle(at, 0.9, Pen.FIRM, Ink.MEASURED, Ink.PAPER, layer="datum")


def cross(at: Point, size: float = 1.7) -> list[Item]:
    """The sign of what is wrong."""
    x, y = at
    return [
        Line((x - size, y - size), (x + size, y + size), Pen.HEAVY, Ink.ALARM, layer="wrong"),
        Line((x - size, y + size), (x + size, y - size), Pen.HEAVY, Ink.ALARM, layer="wrong"),
    ]


def not_here(a: Point, b: Point, share: float = 0.5) -> list[Item]:
    """A way that the tape does not take."""
    way = unit(a, b)
    return [
        Line(a, b, Pen.THIN, Ink.GREY, Dash.FINE, "wrong"),
        head(a, (-way[0], -way[1]), Ink.GREY),
        head(b, way, Ink.GREY),
        *cross(between(a, b, share)),
    ]


def center(*points: Point) -> Polygon:
    """A center line."""
    return Polygon(points, Pen.FINE, Ink.GREY, None, Dash.CENTER, closed=False, layer="center")


def leader(a: Point, b: Point) -> Line:
    """From a name to its part."""
    return Line(a, b, Pen.FINE, Ink.INK, layer="leader")


def level(a: Point, b: Point) -> Line:
    """A level line of sight, or a string."""
    return Line(a, b, Pen.THIN, Ink.GREY, Dash.DASHED, "level")


def box(
    low: Point, high: Point, pen: Pen | None = Pen.MIDDLE, fill: Ink | None = Ink.PAPER
) -> Polygon:
    """An upright rectangle."""
    return Polygon((low, (high[0], low[1]), high, (low[0], high[1])), pen, Ink.INK, fill)


def run(points: list[Point], half: float, wall: Wall = "single") -> list[Item]:
    """A pipe seen from the side along its center line, both ends cut open."""
    left, right = side_lines(points, half, half)
    items: list[Item] = [Polygon((*left, *reversed(right)), None, fill=Ink.PAPER, layer="pipe")]
    if wall == "single":
        return items + [_side(side, Pen.FIRM) for side in (left, right)]
    inner = side_lines(points, half - SHELL_MM, half - SHELL_MM)
    return items + [_side(side, Pen.THIN) for side in (left, right, *inner)]


def _side(points: list[Point], pen: Pen) -> Polygon:
    return Polygon(tuple(points), pen, closed=False, layer="pipe")


def end_on(at: Point, radius: float, wall: Wall = "single") -> list[Item]:
    """A pipe seen from its end."""
    if wall == "single":
        return [Circle(at, radius, Pen.HEAVY, Ink.INK, Ink.PAPER, layer="pipe")]
    return [
        Circle(at, radius, Pen.MIDDLE, Ink.INK, Ink.PAPER, layer="pipe"),
        Circle(at, radius - SHELL_MM, Pen.MIDDLE, Ink.INK, Ink.PAPER, layer="pipe"),
    ]


def across(at: Point, way: Point, half: float, pen: Pen = Pen.THIN) -> Line:
    """A seam or joint square to a pipe."""
    left = (-way[1], way[0])
    return Line(step(at, left, -half), step(at, left, half), pen, layer="joint")


def lumber(low: Point, high: Point) -> list[Item]:
    """A stud or joist cut across: a box with its diagonals."""
    return [
        box(low, high),
        Line(low, high, Pen.FINE, layer="wood"),
        Line((low[0], high[1]), (high[0], low[1]), Pen.FINE, layer="wood"),
    ]


def solid(low: Point, high: Point, angle: float = 45.0) -> list[Item]:
    """A wall, floor or roof deck cut through."""
    area = box(low, high)
    return [area, Hatch(area.points, angle, 1.3)]


def slope(a: Point, b: Point, depth: float = 1.8) -> list[Item]:
    """A roof or floor surface with its hatched underside."""
    band = (a, b, (b[0], b[1] - depth), (a[0], a[1] - depth))
    return [
        Polygon(band, None, fill=Ink.PAPER, layer="roof"),
        Hatch(band, 60.0, 1.1, layer="roof"),
        Line(a, b, Pen.FIRM, layer="roof"),
    ]


def flow(a: Point, b: Point) -> list[Item]:
    """An arrow in the direction of the gas."""
    return [Line(a, b, Pen.THIN, layer="flow"), head(b, unit(a, b), Ink.INK)]


def heater(outlet: Point, half: float, body: float, foot: float) -> list[Item]:
    """A heater from its foot to its draft hood outlet."""
    x, y = outlet
    top = y - hood_height(half)
    jacket = box((x - body, foot), (x + body, top))
    return [jacket, *hood(outlet, half, "hood")]


def wave(a: Point, b: Point, size: float = 0.5) -> Polygon:
    """A torn edge: the part goes on."""
    way = unit(a, b)
    left = (-way[1], way[0])
    count = 8
    points = tuple(
        step(between(a, b, i / count), left, size * (0, 1, 0, -1)[i % 4]) for i in range(count + 1)
    )
    return Polygon(points, Pen.FINE, closed=False, layer="pipe")


def ring(at: Point, radius: float, number: str, angle_deg: float = 0.0) -> list[Item]:
    """A counted thing: its number in a ring, on a short leader."""
    spot = around(at, radius, angle_deg)
    owner = f"ring {number}"
    return [
        leader(at, around(at, radius - 2.1, angle_deg)),
        Circle(spot, 2.1, Pen.THIN, Ink.MEASURED, Ink.PAPER, owner=owner),
        Text((spot[0], spot[1] - 0.36 * WORD_MM), number, WORD_MM, "middle", face="bold",
             ink=Ink.MEASURED, owner=owner),
    ]  # fmt: skip
