"""The simplified path of a figure: its pipe by kind of wall, wet stretches, names."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fluewright.drawing.metrics import wrap
from fluewright.drawing.pipes import masonry_lines, side_lines
from fluewright.drawing.plot.axis import Panel
from fluewright.drawing.plot.data import AlongThePath
from fluewright.drawing.plot.sheet import AROUND, LEFT, RIGHT, Sheet
from fluewright.drawing.route import DOUBLE
from fluewright.drawing.scene import Dash, Hatch, Ink, Item, Line, Pen, Point, Polygon

HALF_MM = 1.7  # half the width of the pipe as drawn, not to scale
SHELL_MM = 0.55
BRICK_MM = 1.3


@dataclass(frozen=True, slots=True)
class Place:
    """The path on the sheet: its corners and the length along the path of each."""

    points: tuple[Point, ...]
    along: tuple[float, ...]
    panel: Panel

    @classmethod
    def of(cls, figure: AlongThePath, panel: Panel, *, by_height: bool) -> Place:
        """Heights on the scale of the panel; widths to the same scale, or squeezed to fit."""
        corners = figure.path
        along = [0.0]
        for a, b in pairwise(corners):
            along.append(along[-1] + math.dist((a.x, a.z), (b.x, b.z)))
        middle = (panel.left + panel.right) / 2
        if not by_height:
            x = panel.left + 0.28 * (panel.right - panel.left)  # room for names on its right
            points = tuple((x, panel.at(0.0, length)[1]) for length in along)
            return cls(points, tuple(along), panel)
        scale = (panel.top - panel.bottom) / (panel.y.high - panel.y.low)
        low, high = min(c.x for c in corners), max(c.x for c in corners)
        room = panel.right - panel.left - 4 * HALF_MM - 10.0
        if (high - low) * scale > room:
            scale = room / (high - low)
        start = middle - (low + high) / 2 * scale
        points = tuple((start + c.x * scale, panel.at(0.0, c.z)[1]) for c in corners)
        return cls(points, tuple(along), panel)

    def at(self, along: float) -> Point:
        """Where a length along the path is on the sheet. [mm]"""
        ends = zip(pairwise(self.along), pairwise(self.points), strict=True)
        for (s, t), (p, q) in ends:
            if s <= along <= t and t > s:
                part = (along - s) / (t - s)
                return p[0] + (q[0] - p[0]) * part, p[1] + (q[1] - p[1]) * part
        return self.points[0] if along < self.along[0] else self.points[-1]

    def between(self, start: float, end: float) -> list[Point]:
        """The chain of a stretch. [mm]"""
        inner = [p for s, p in zip(self.along, self.points, strict=True) if start < s < end]
        return [self.at(start), *inner, self.at(end)]


def draw_pipe(
    sheet: Sheet, figure: AlongThePath, place: Place, wet: Sequence[tuple[float, float]]
) -> None:
    """The walls of each stretch, and hatching inside where it is wet."""
    for n, (start, end, wall) in enumerate(_stretches(figure, place)):
        chain = _distinct(place.between(start, end))
        if len(chain) < 2:
            continue
        if n:  # it reaches back over the end of the one before, where the seam is
            chain[0] = _back(chain[0], chain[1], HALF_MM)
        sheet.add(*_walls(chain, wall))
        if n:
            sheet.add(_seam(chain[0], chain[1], wall))
    for start, end in wet:
        chain = _distinct(place.between(start, end))
        if len(chain) > 1:
            left, right = side_lines(chain, HALF_MM - 0.4, HALF_MM - 0.4)
            for (a, b), (c, d) in zip(pairwise(left), pairwise(right), strict=True):
                sheet.add(Hatch((a, b, d, c), 45.0, 0.9, Pen.THIN, layer="wet"))


def _stretches(figure: AlongThePath, place: Place) -> list[tuple[float, float, str]]:
    """From where to where one kind of wall goes. [as given]"""
    made: list[tuple[float, float, str]] = []
    for corner, (start, end) in zip(figure.path, pairwise(place.along), strict=False):
        if made and made[-1][2] == corner.wall:
            made[-1] = (made[-1][0], end, corner.wall)
        else:
            made.append((start, end, corner.wall))
    return made


def _distinct(chain: Sequence[Point]) -> list[Point]:
    return [p for n, p in enumerate(chain) if n == 0 or math.dist(p, chain[n - 1]) > 1e-6]


def _walls(chain: list[Point], wall: str) -> list[Item]:
    """The lines of a wall, as the drawing of the whole path has them."""
    half = HALF_MM + (BRICK_MM if wall == "masonry" else 0.0)
    sides = side_lines(chain, half, half)
    items: list[Item] = [Polygon((*sides[0], *reversed(sides[1])), None, fill=Ink.PAPER)]
    if wall == "masonry":
        return items + masonry_lines(chain, (half, half), BRICK_MM)
    if wall in DOUBLE:
        inner = side_lines(chain, half - SHELL_MM, half - SHELL_MM)
        return items + [_chain(side, Pen.THIN) for side in (*sides, *inner)]
    dash = Dash.DASHED if wall == "unknown" else Dash.SOLID
    return items + [_chain(side, Pen.FIRM, dash) for side in sides]


def _chain(points: Sequence[Point], pen: Pen, dash: Dash = Dash.SOLID) -> Polygon:
    return Polygon(tuple(points), pen, Ink.INK, None, dash, closed=False, layer="pipe")


def _back(a: Point, b: Point, by: float) -> Point:
    """A place before the first of two. [mm]"""
    size = math.dist(a, b)
    return a[0] - (b[0] - a[0]) / size * by, a[1] - (b[1] - a[1]) / size * by


def _seam(a: Point, b: Point, wall: str) -> Line:
    """A heavy line across where another kind of wall begins."""
    size = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / size, (b[0] - a[0]) / size
    reach = HALF_MM + (BRICK_MM if wall == "masonry" else 0.0) + 0.9
    return Line((a[0] - nx * reach, a[1] - ny * reach), (a[0] + nx * reach, a[1] + ny * reach),
                Pen.HEAVY, layer="joint")  # fmt: skip


def name_stretches(sheet: Sheet, figure: AlongThePath, place: Place) -> None:
    """The name of each stretch beside it; one said before is not said again."""
    room = (place.panel.right - place.panel.left) * 0.55
    spans = zip(figure.path, pairwise(place.along), strict=False)
    runs: list[tuple[str, float, float]] = []
    for corner, (start, end) in spans:
        if runs and runs[-1][0] == corner.name:
            runs[-1] = (corner.name, runs[-1][1], end)
        else:
            runs.append((corner.name, start, end))
    for name, start, end in runs:
        if not name:
            continue
        places = [place.at(start + (end - start) * s) for s in (0.5, 0.35, 0.65, 0.2, 0.8)]
        near = HALF_MM + 2.0
        sides = (RIGHT, LEFT, *AROUND)
        if not sheet.label([name], places, sides=sides[:2], near=near, within=place.panel, key=""):
            sheet.label(wrap(name, room, sheet.type.small), places, sides=sides, near=near,
                        within=place.panel, key=f"On the path: {name}.")  # fmt: skip
