"""The sheet of a figure: heading, panels downward, notes, and labels that keep clear."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from itertools import pairwise

from fluewright.drawing.layout import Canvas, lettering, open_around
from fluewright.drawing.metrics import Face, fraction, text_width, wrap
from fluewright.drawing.plot.axis import LARGEST, Panel
from fluewright.drawing.plot.data import Figure, Size
from fluewright.drawing.scene import (
    Anchor,
    Arc,
    Circle,
    Hatch,
    Ink,
    Item,
    Line,
    Mark,
    Pen,
    Point,
    Polygon,
    Scene,
    Text,
)
from fluewright.errors import OutOfRange

TOP_MM = 1000.0  # drawn downward from here, then cut to what was used
EDGE_MM = 2.5
AIR_MM = 0.7
FARTHEST = (0.9, 2.2, 4.0, 6.5, 9.5, 13.0, 18.0, 24.0)  # label to what it names [mm]
NEAR_MM = 3.0  # farther off, a leader says what it belongs to

Side = tuple[float, float]  # where a label stands from its place: -1, 0, 1 across and up
RIGHT, LEFT, ABOVE, BELOW = (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)
CENTER = (0.0, 0.0)
UP_RIGHT, UP_LEFT, DOWN_RIGHT, DOWN_LEFT = (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)
AROUND: tuple[Side, ...] = (
    UP_RIGHT, UP_LEFT, DOWN_RIGHT, DOWN_LEFT, ABOVE, BELOW, RIGHT, LEFT,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Type:
    """Sizes of type and the width of a sheet. [mm]"""

    width: float
    title: float
    body: float
    small: float
    note: float
    panel: float  # height of a panel that stands alone


# A phone shows a sheet about 4.4 picture points to the mm: body 17 of them high.
TYPES: dict[Size, Type] = {
    "column": Type(165.0, 4.8, 3.5, 3.2, 2.9, 84.0),
    "phone": Type(88.0, 4.8, 3.85, 3.5, 3.3, 82.0),
}


def checked(value: object, where: str) -> None:
    """Refuse every number of a figure that cannot be drawn.

    Raises:
        OutOfRange: a number is not finite, or beyond 1e30.
    """
    if isinstance(value, float | int) and not isinstance(value, bool):
        if not math.isfinite(value) or abs(value) > LARGEST:
            raise OutOfRange(
                f"{where} is {value}. Give a finite number below 1e30, or leave it out."
            )
    elif isinstance(value, tuple):
        for n, part in enumerate(value):
            checked(part, f"{where}[{n}]")
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            checked(getattr(value, field.name), f"{where}.{field.name}")


class Sheet:
    """A figure while it is drawn, from the heading downward.

    ``under`` holds what may run beneath lettering (grid, hatching): it is left open around the
    words at the end. ``keys`` holds the labels that found no place, said under the panels.
    """

    def __init__(self, figure: Figure) -> None:
        self.figure = figure
        self.type = TYPES[figure.size]
        self.canvas = Canvas(self.type.width, TOP_MM, EDGE_MM - 0.5)
        self.tints: list[Item] = []
        self.under: list[Line] = []
        self.keys: list[str] = []
        self.y = TOP_MM - EDGE_MM
        self.said: list[str] = []
        self._heading()

    @property
    def phone(self) -> bool:
        """Whether it is for a phone."""
        return self.figure.size == "phone"

    @property
    def left(self) -> float:
        """Left end of what may be drawn on. [mm]"""
        return EDGE_MM

    @property
    def right(self) -> float:
        """Right end of what may be drawn on. [mm]"""
        return self.type.width - EDGE_MM

    def add(self, *items: Item) -> None:
        """Draw, and keep lettering off it."""
        self.canvas.add(*items)

    def hatch(self, area: Sequence[Point], angle_deg: float = 45.0, spacing_mm: float = 1.6,
              ink: Ink = Ink.INK, pen: Pen = Pen.FINE) -> None:  # fmt: skip
        """Hatch an area; lettering stays open in it."""
        if _extent(area) > 1e-3:
            self.under += Hatch(tuple(area), angle_deg, spacing_mm, pen, ink).parts()

    def tint(self, area: Sequence[Point]) -> None:
        """Tint an area lightly."""
        self.tints.append(Polygon(tuple(area), None, fill=Ink.LIGHT, layer="tint"))

    def _heading(self) -> None:
        figure, size = self.figure, self.type
        self._lines(figure.title, size.title, "bold", Ink.INK)
        indent = 0.0
        ink = Ink.ALARM if figure.alarm else Ink.INK
        if figure.answer:
            self.y -= 0.6
            if figure.alarm:
                indent = 5.2
                at = (self.left + 2.0, self.y - size.body * 0.62)
                self.add(Mark(at, "hazard", "", 3.6))
            self._lines(
                figure.answer, size.body, "bold" if figure.alarm else "regular", ink, indent
            )
        self.y -= 2.2

    def _lines(self, words: str, size: float, face: Face, ink: Ink, indent: float = 0.0) -> None:
        for line in wrap(fraction(words), self.right - self.left - indent, size, face):
            self.y -= size * 1.0
            self.add(Text((self.left + indent, self.y), line, size, face=face, ink=ink))
            self.y -= size * 0.35

    # ------------------------------------------------------------------ labels

    def block(self, at: Point, side: Side, gap: float, lines: Sequence[str], size: float,
              face: Face, ink: Ink, owner: str = "") -> tuple[Text, ...]:  # fmt: skip
        """Lines of lettering beside a place, none nearer to it than the gap."""
        across, up = side
        lead = size * 1.22
        tall = lead * (len(lines) - 1) + size * 0.72
        slant = 0.72 if across and up else 1.0
        x = at[0] + across * gap * slant
        y = at[1] + up * gap * slant
        top = y + {1.0: tall, 0.0: tall / 2, -1.0: 0.0}[up]
        if up > 0:
            top += size * 0.2 * slant
        anchor: Anchor = "start" if across > 0 else "end" if across < 0 else "middle"
        return tuple(
            Text((x, top - size * 0.72 - lead * n), line, size, anchor, face=face, ink=ink,
                 owner=owner)
            for n, line in enumerate(lines)
        )  # fmt: skip

    def label(
        self,
        words: str | Sequence[str],
        places: Sequence[Point],
        *,
        sides: Sequence[Side] = AROUND,
        ink: Ink = Ink.INK,
        face: Face = "regular",
        size: float | None = None,
        near: float = AIR_MM,
        key: str | None = None,
        apart: Callable[[Sequence[Text]], bool] | None = None,
        within: Panel | None = None,
        led: bool = False,
    ) -> bool:
        """Write words beside the first of some places where they stand clear.

        Farther off a leader is drawn. Words that find no place are kept for under the panels,
        as ``key`` or as they are; an empty ``key`` drops them.

        Args:
            words: one line, or several.
            places: what they may stand beside, most wanted first. [mm]
            sides: where from the place, most wanted first.
            ink: of the words.
            face: of the words.
            size: of the type; None for the small one. [mm]
            near: least distance from the place. [mm]
            key: what is said under the panels where they find no place.
            apart: says whether the words may be there.
            within: the panel that they must not leave.
            led: always with a leader.
        Returns:
            Whether they found a place.
        """
        lines = [words] if isinstance(words, str) else list(words)
        lines = [fraction(line) for line in lines]
        look = (ink, face, size or self.type.small, near)

        def may(texts: Sequence[Text]) -> bool:
            if apart is not None and not apart(texts):
                return False
            corners = [corner for text in texts for corner in text.corners()]
            return within is None or all(within.holds(corner) for corner in corners)

        for form in (lines, halved(lines)):
            if form and self.canvas.place(self._groups(form, places, (led, sides), look, may)):
                return True
        said = " ".join(lines) if key is None else key
        if said:
            self.keys.append(said)
        return False

    def _groups(self, lines: list[str], places: Sequence[Point],
                where: tuple[bool, Sequence[Side]],
                look: tuple[Ink, Face, float, float],
                may: Callable[[Sequence[Text]], bool]) -> Iterator[tuple[Item, ...]]:  # fmt: skip
        ink, face, size, near = look
        led, sides = where
        for far in FARTHEST:
            if led and far <= NEAR_MM:
                continue
            for at in places:
                for side in sides:
                    texts = self.block(at, side, near + far - FARTHEST[0], lines, size, face, ink)
                    if not may(texts):
                        continue
                    if side == CENTER and far > FARTHEST[0]:
                        continue
                    if far <= NEAR_MM:
                        yield texts
                    else:
                        yield (*texts, _leader(at, texts, near, ink), *_dot(at, ink, led=led))

    # ------------------------------------------------------------------ the end

    def finish(self, description: Iterable[str]) -> Scene:
        """The sheet with its notes, cut to what was used."""
        size = self.type
        self.keys = list(dict.fromkeys(self.keys))
        for key in self.keys:
            self._lines(key, size.note, "regular", Ink.INK)
        if self.keys:
            self.y -= 1.0
        for note in self.figure.notes:
            self._lines(note, size.note, "regular", Ink.INK)
        if self.figure.caution:
            self._lines(self.figure.caution, size.note, "italic", Ink.INK)
        low = self.y - EDGE_MM
        words = lettering(self.canvas)
        items = [*self.tints, *open_around(self.under, words, 0.6), *self.canvas.items]
        said = [self.figure.answer, *description, *self.keys, *self.figure.notes,
                self.figure.caution]  # fmt: skip
        return Scene(
            self.figure.title,
            " ".join(_sentence(part) for part in said if part),
            self.type.width,
            TOP_MM - low,
            (),
            tuple(_down(item, low) for item in items),
        )


def halved(lines: list[str]) -> list[str]:
    """A single line of several words as two about equal ones; nothing else."""
    words = lines[0].split(" ") if len(lines) == 1 else []
    if len(words) < 2:
        return []
    cuts = [[" ".join(words[:n]), " ".join(words[n:])] for n in range(1, len(words))]
    return min(cuts, key=lambda cut: max(len(cut[0]), len(cut[1])))


def middle_of(texts: Sequence[Text]) -> Point:
    """The middle of some lines of lettering. [mm]"""
    corners = [corner for text in texts for corner in text.corners()]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def distance_to(point: Point, chain: Sequence[Point]) -> float:
    """The least distance from a point to a chain of strokes. [mm]"""
    if len(chain) == 1:
        return math.dist(point, chain[0])
    return min((_to_stroke(point, a, b) for a, b in pairwise(chain)), default=math.inf)


def _to_stroke(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    if square == 0.0:
        return math.dist(p, a)
    t = max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square))
    return math.dist(p, (a[0] + t * dx, a[1] + t * dy))


def _leader(at: Point, texts: Sequence[Text], near: float, ink: Ink) -> Line:
    """A fine line from the words to what they name."""
    corners = [corner for text in texts for corner in text.corners(0.5)]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    end = min(max(at[0], min(xs)), max(xs)), min(max(at[1], min(ys)), max(ys))
    span = math.dist(at, end) or 1.0
    start = tuple(a + (e - a) * min(1.0, 0.5 * near / span) for a, e in zip(at, end, strict=True))
    return Line((start[0], start[1]), end, Pen.FINE, ink, layer="leader")


def _dot(at: Point, ink: Ink, *, led: bool) -> tuple[Circle, ...]:
    """A small disc where a leader begins in an area, which has no mark of its own."""
    return (Circle(at, 0.45, None, ink, ink, layer="leader"),) if led else ()


def _extent(area: Sequence[Point]) -> float:
    xs, ys = [p[0] for p in area], [p[1] for p in area]
    return min(max(xs) - min(xs), max(ys) - min(ys)) if area else 0.0


def _sentence(text: str) -> str:
    text = text.strip()
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else text + "."


def _down(item: Item, by: float) -> Item:
    """The item, moved down the sheet."""

    def moved(point: Point) -> Point:
        return point[0], point[1] - by

    if isinstance(item, Line):
        return replace(item, a=moved(item.a), b=moved(item.b))
    if isinstance(item, Polygon | Hatch):
        return replace(item, points=tuple(moved(p) for p in item.points))
    if isinstance(item, Circle | Arc):
        return replace(item, center=moved(item.center))
    return replace(item, at=moved(item.at))


def wide(words: Iterable[str], size: float, face: Face = "regular") -> float:
    """Width of the widest of some words. [mm]"""
    return max((text_width(word, size, face) for word in words), default=0.0)
