"""Keeping lettering clear: a canvas that knows what is taken, and the check of a finished sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

from fluewright.drawing.scene import (
    Arc,
    Circle,
    Hatch,
    Ink,
    Item,
    Line,
    Mark,
    Plain,
    Point,
    Polygon,
    Scene,
    Text,
)

CELL_MM = 6.0
CLEAR_MM = 0.5  # least air between lettering and anything else while placing
SIGN_LAYER = "slope"  # no later line runs through what stands on it
TOUCH_MM = 0.02  # the finished sheet may be this much nearer than nothing at all

Segment = tuple[Point, Point, str]
Box = tuple[Point, Point, Point, Point]
Cell = tuple[int, int]


def segments(item: Plain) -> Iterator[Segment]:
    """Every visible stroke of an item as straight pieces, with its owner."""
    if isinstance(item, Line):
        yield item.a, item.b, item.owner
    elif isinstance(item, Arc):
        points = item.points()
        yield from ((a, b, item.owner) for a, b in pairwise(points))
    elif isinstance(item, Circle):
        ring = Arc(item.center, item.radius, 0.0, 360.0).points()
        yield from ((a, b, item.owner) for a, b in pairwise(ring))
    elif isinstance(item, Polygon):
        if item.pen is None and item.fill in (None, Ink.PAPER, Ink.LIGHT):
            return
        ends = item.points[1:] + (item.points[:1] if item.closed else ())
        yield from ((a, b, item.owner) for a, b in zip(item.points, ends, strict=False))


def box_meets_segment(box: Box, a: Point, b: Point) -> bool:
    """Whether a stroke enters a (turned) rectangle."""
    return _inside(box, a, b) is not None


def _inside(box: Box, a: Point, b: Point) -> tuple[float, float] | None:
    """The shares of a stroke between which it lies in a (turned) rectangle."""
    origin, along, up = box[0], _unit(box[0], box[1]), _unit(box[0], box[3])
    width, height = math.dist(box[0], box[1]), math.dist(box[0], box[3])

    def local(p: Point) -> Point:
        dx, dy = p[0] - origin[0], p[1] - origin[1]
        return dx * along[0] + dy * along[1], dx * up[0] + dy * up[1]

    (x1, y1), (x2, y2) = local(a), local(b)
    low, high = 0.0, 1.0
    for start, step, top in ((x1, x2 - x1, width), (y1, y2 - y1, height)):
        if abs(step) < 1e-12:
            if not 0.0 < start < top:
                return None
            continue
        first, second = -start / step, (top - start) / step
        low, high = max(low, min(first, second)), min(high, max(first, second))
    return (low, high) if low < high else None


def boxes_meet(one: Box, other: Box) -> bool:
    """Whether two (turned) rectangles share more than an edge."""
    for box in (one, other):
        for axis in (_unit(box[0], box[1]), _unit(box[0], box[3])):
            spans = [
                sorted(p[0] * axis[0] + p[1] * axis[1] for p in corners) for corners in (one, other)
            ]
            if spans[0][-1] <= spans[1][0] or spans[1][-1] <= spans[0][0]:
                return False
    return True


def lettering(canvas: Canvas) -> list[Text]:
    """All words on a sheet so far, numbers of marks too."""
    return [part for part in _plain(canvas.items) if isinstance(part, Text)]


def open_around(lines: Iterable[Line], words: Iterable[Text], air_mm: float) -> list[Line]:
    """The lines, left open where they would run through some lettering."""
    boxes = [text.corners(air_mm) for text in words]
    return [piece for line in lines for piece in _open_at(line, boxes)]


def _open_at(line: Line, boxes: list[Box]) -> list[Line]:
    """What is left of a line outside some boxes."""
    left = [(0.0, 1.0)]
    for box in boxes:
        inside = _inside(box, line.a, line.b)
        if inside is None:
            continue
        low, high = inside
        left = [
            piece
            for start, end in left
            for piece in ((start, min(end, low)), (max(start, high), end))
            if piece[1] - piece[0] > 1e-6
        ]

    def at(share: float) -> Point:
        return (
            line.a[0] + (line.b[0] - line.a[0]) * share,
            line.a[1] + (line.b[1] - line.a[1]) * share,
        )

    return [replace(line, a=at(start), b=at(end)) for start, end in left]


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b) or 1.0
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _cells_of(points: Iterable[Point]) -> Iterator[Cell]:
    corners = list(points)
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    for column in range(int(min(xs) // CELL_MM), int(max(xs) // CELL_MM) + 1):
        for row in range(int(min(ys) // CELL_MM), int(max(ys) // CELL_MM) + 1):
            yield column, row


def _cells_of_segment(a: Point, b: Point) -> Iterator[Cell]:
    first = int(a[0] // CELL_MM), int(a[1] // CELL_MM)
    if first == (int(b[0] // CELL_MM), int(b[1] // CELL_MM)):
        yield first
        return
    steps = max(1, math.ceil(math.dist(a, b) / CELL_MM))
    last = a
    for i in range(1, steps + 1):
        here = a[0] + (b[0] - a[0]) * i / steps, a[1] + (b[1] - a[1]) * i / steps
        yield from _cells_of((last, here))
        last = here


@dataclass(slots=True)
class Index:
    """Strokes and lettering by cell of a coarse grid."""

    strokes: dict[Cell, list[Segment]] = field(default_factory=dict)
    boxes: dict[Cell, list[tuple[Box, Text]]] = field(default_factory=dict)
    signs: dict[Cell, list[Box]] = field(default_factory=dict)  # small figures like a slope's

    def add(self, item: Plain) -> None:
        """Remember what an item takes up."""
        if isinstance(item, Text):
            box = item.corners()
            for cell in set(_cells_of(box)):
                self.boxes.setdefault(cell, []).append((box, item))
            return
        for segment in segments(item):
            for cell in set(_cells_of_segment(segment[0], segment[1])):
                self.strokes.setdefault(cell, []).append(segment)
        if isinstance(item, Polygon) and item.layer == SIGN_LAYER:
            xs, ys = [p[0] for p in item.points], [p[1] for p in item.points]
            low, high = (min(xs), min(ys)), (max(xs), max(ys))
            box = (low, (high[0], low[1]), high, (low[0], high[1]))
            for cell in set(_cells_of(box)):
                self.signs.setdefault(cell, []).append(box)

    def text_hits(self, text: Text, pad_mm: float) -> str:
        """What stands in the way of a line of text: words for people, empty where nothing."""
        box = text.corners(pad_mm)
        for cell in sorted(set(_cells_of(box))):
            for other, what in self.boxes.get(cell, ()):
                if what is not text and boxes_meet(box, other):
                    return f"the text {what.text!r}"
            for a, b, owner in self.strokes.get(cell, ()):
                if (not owner or owner != text.owner) and box_meets_segment(box, a, b):
                    return f"a line at {a[0]:.1f}, {a[1]:.1f} to {b[0]:.1f}, {b[1]:.1f} mm"
        return ""

    def stroke_hits(self, a: Point, b: Point, owner: str = "", pad_mm: float = 0.3) -> bool:
        """Whether a new stroke would run into lettering or a small sign."""
        for cell in sorted(set(_cells_of_segment(a, b))):
            if any(box_meets_segment(box, a, b) for box in self.signs.get(cell, ())):
                return True
            for _, what in self.boxes.get(cell, ()):
                if owner and owner == what.owner:
                    continue
                if box_meets_segment(what.corners(pad_mm), a, b):
                    return True
        return False

    def crosses(self, a: Point, b: Point) -> bool:
        """Whether a new stroke would cross one that is drawn."""
        return any(
            _cross(a, b, stroke[0], stroke[1])
            for cell in set(_cells_of_segment(a, b))
            for stroke in self.strokes.get(cell, ())
        )


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


@dataclass(slots=True)
class Canvas:
    """The sheet while it is drawn."""

    width_mm: float
    height_mm: float
    edge_mm: float = 8.0
    items: list[Item] = field(default_factory=list)
    index: Index = field(default_factory=Index)

    def copy(self) -> Canvas:
        """A sheet that begins as this one is."""
        index = Index(
            {cell: list(held) for cell, held in self.index.strokes.items()},
            {cell: list(held) for cell, held in self.index.boxes.items()},
            {cell: list(held) for cell, held in self.index.signs.items()},
        )
        return Canvas(self.width_mm, self.height_mm, self.edge_mm, list(self.items), index)

    def add(self, *items: Item) -> None:
        """Draw, and remember what is taken."""
        for item in items:
            self.items.append(item)
            for part in item.parts() if isinstance(item, Hatch | Mark) else (item,):
                self.index.add(part)

    def free(self, text: Text, pad_mm: float = CLEAR_MM) -> bool:
        """Whether a line of text would stand clear, on the sheet."""
        inside = all(self._holds(corner) for corner in text.corners())
        return inside and not self.index.text_hits(text, pad_mm)

    def place(self, groups: Iterable[tuple[Item, ...]], *, tidy: bool = True) -> bool:
        """Draw the first group whose lettering stands clear and whose lines cross no lettering.

        With ``tidy`` a group whose own lines cross no others goes before one whose lines do.
        """
        second: tuple[Item, ...] | None = None
        for group in groups:
            if not self.fits(group):
                continue
            if not tidy or not self._crosses(group):
                self.add(*group)
                return True
            second = second or group
        if second is not None:
            self.add(*second)
        return second is not None

    def fits(self, group: tuple[Item, ...]) -> bool:
        """Whether a group could be drawn as it is, its own parts checked against each other."""
        own = Index()
        plain = _plain(group)
        for part in plain:
            own.add(part)
        for part in plain:
            if isinstance(part, Text):
                if not self.free(part) or own.text_hits(part, TOUCH_MM):
                    return False
            elif any(
                self.index.stroke_hits(a, b, owner) or not (self._holds(a) and self._holds(b))
                for a, b, owner in segments(part)
            ):
                return False
        return True

    def _holds(self, point: Point) -> bool:
        edge = self.edge_mm + 0.5
        return (
            edge <= point[0] <= self.width_mm - edge and edge <= point[1] <= self.height_mm - edge
        )

    def _crosses(self, group: tuple[Item, ...]) -> bool:
        """Whether its lines, other than extension lines, cross what is drawn."""
        return any(
            self.index.crosses(a, b)
            for part in _plain(group)
            if part.layer != "extension"
            for a, b, _ in segments(part)
        )


def _plain(items: Iterable[Item]) -> list[Plain]:
    return [
        part
        for item in items
        for part in (item.parts() if isinstance(item, Hatch | Mark) else (item,))
    ]


def layout_check(scene: Scene) -> list[str]:
    """Every place where lettering touches lettering, a line, or leaves the sheet; empty is good.

    A line that belongs to a text (same ``owner``) may touch it.
    """
    index = Index()
    plain = list(scene.plain())
    for item in plain:
        index.add(item)
    faults: list[str] = []
    for item in plain:
        if not isinstance(item, Text):
            continue
        hit = index.text_hits(item, -TOUCH_MM)
        if hit:
            faults.append(f"{item.text!r} at {item.at[0]:.1f}, {item.at[1]:.1f} mm meets {hit}")
        if any(
            not (0 <= x <= scene.width_mm and 0 <= y <= scene.height_mm) for x, y in item.corners()
        ):
            faults.append(f"{item.text!r} leaves the sheet")
    return faults
