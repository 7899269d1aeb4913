"""Dimensions as a draughtsman sets them: chains in lanes, extension lines, text along the line."""

from __future__ import annotations

import math

from fluewright.drawing.metrics import text_width
from fluewright.drawing.scene import Anchor, Dash, Ink, Item, Line, Pen, Point, Polygon, Text
from fluewright.frozen import frozen

TEXT_MM = 2.3
SMALL_MM = 1.75
TICK_MM = 0.8
EXTEND_GAP_MM = 1.2  # an extension line starts this far from what it belongs to
EXTEND_OVER_MM = 1.2  # and goes this far beyond the dimension line
SHORTEST_MM = 1.2  # a shorter part of a chain is left without a number
BESIDE_MM = 4.0


@frozen
class Span:
    """One part of a chain: from and to along the lane, its words, where its extensions begin."""

    start: float
    end: float
    text: str
    small: str = ""
    known: bool = True
    read: bool = False  # a reading, not a computed value
    from_start: float | None = None  # across the lane; None: no extension line
    from_end: float | None = None

    @property
    def ink(self) -> Ink:
        """Blue where read, ochre where nobody did."""
        if not self.known:
            return Ink.UNKNOWN
        return Ink.MEASURED if self.read else Ink.INK

    @property
    def size(self) -> float:
        """Length on paper. [mm]"""
        return abs(self.end - self.start)

    @property
    def middle(self) -> float:
        """Middle on paper. [mm]"""
        return (self.start + self.end) / 2


def fits_along(span: Span) -> bool:
    """Whether the words fit along the line between its ticks."""
    need = max(text_width(span.text, TEXT_MM), text_width(span.small, SMALL_MM))
    return span.size >= need + 2.4 or not span.text


def lane_width(spans: list[Span]) -> float:
    """Room that a lane takes away from the figure, its words included. [mm]"""
    if all(fits_along(span) for span in spans if span.size >= SHORTEST_MM):
        return 6.6
    widest = max(
        (
            max(text_width(s.text, TEXT_MM), text_width(s.small, SMALL_MM))
            for s in spans
            if s.size >= SHORTEST_MM
        ),
        default=0.0,
    )
    return BESIDE_MM + widest + 4.2


def chain(
    spans: list[Span], lane: float, vertical: bool, within: tuple[float, float], out: float = -1.0
) -> list[Item]:
    """A chain of dimensions on one lane.

    Args:
        spans: its parts, in order along the lane.
        lane: where the dimension line stands: x of a vertical lane, y of a level one. [mm]
        vertical: a vertical lane has its words on the left, a level one has them below.
        within: how far words may be moved along the lane. [mm]
        out: away from the figure: -1 to the left or down, 1 to the right.
    """
    items: list[Item] = []
    named = [span for span in spans if span.size >= SHORTEST_MM and span.text]
    along = all(fits_along(span) for span in named)
    for span in spans:
        if span.size < 0.3:
            continue
        items += _line(span, lane, vertical)
    if along:
        for span in named:
            items += _words_along(span, lane, vertical)
    else:
        items += _words_beside(named, lane, vertical, within, out)
    return items


def _put(along: float, across: float, vertical: bool) -> Point:
    return (across, along) if vertical else (along, across)


def _line(span: Span, lane: float, vertical: bool) -> list[Item]:
    dash = Dash.SOLID if span.known else Dash.DASHED
    ink = Ink.INK if span.known else Ink.UNKNOWN
    a, b = _put(span.start, lane, vertical), _put(span.end, lane, vertical)
    items: list[Item] = [Line(a, b, Pen.THIN, ink, dash, "dimension")]
    for (x, y), base in ((a, span.from_start), (b, span.from_end)):
        items.append(
            Line(
                (x - TICK_MM, y - TICK_MM), (x + TICK_MM, y + TICK_MM), Pen.MIDDLE, ink,
                layer="dimension",
            )
        )  # fmt: skip
        if base is not None:
            items.append(_extension((x, y), base, lane, vertical))
    return items


def _extension(at: Point, base: float, lane: float, vertical: bool) -> Line:
    away = math.copysign(1.0, lane - base)
    along = at[1] if vertical else at[0]
    return Line(
        _put(along, base + away * EXTEND_GAP_MM, vertical),
        _put(along, lane + away * EXTEND_OVER_MM, vertical),
        Pen.FINE,
        Ink.GREY,
        layer="extension",
    )


def _words_along(span: Span, lane: float, vertical: bool) -> list[Item]:
    turn = 90.0 if vertical else 0.0
    if vertical:
        first, second = (lane - 0.9, span.middle), (lane + 0.75 + 0.75 * SMALL_MM, span.middle)
    else:
        first, second = (span.middle, lane + 0.9), (span.middle, lane - 0.75 - 0.75 * SMALL_MM)
    items: list[Item] = [
        Text(first, span.text, TEXT_MM, "middle", turn, ink=span.ink, layer="dimension")
    ]
    if span.small:
        items.append(
            Text(second, span.small, SMALL_MM, "middle", turn, ink=span.ink, layer="dimension")
        )
    return items


def _words_beside(
    spans: list[Span], lane: float, vertical: bool, within: tuple[float, float], out: float
) -> list[Item]:
    """Words outside a lane whose parts are too short for them, with a leader to each."""
    items: list[Item] = []
    heights = [TEXT_MM + (SMALL_MM + 0.5 if s.small else 0.0) + 1.3 for s in spans]
    places = spread([s.middle for s in spans], heights, *within)
    for i, (span, place) in enumerate(zip(spans, places, strict=True)):
        owner = f"chain {lane:.1f} {i}"
        edge = lane + out * BESIDE_MM
        knee = _put(place, edge, vertical)
        items.append(
            Line(_put(span.middle, lane, vertical), knee, Pen.FINE, span.ink, layer="dimension",
                 owner=owner)
        )  # fmt: skip
        up = SMALL_MM * 0.62 + 0.25 if span.small else 0.0
        rows = [(span.text, TEXT_MM, up)]
        if span.small:
            rows.append((span.small, SMALL_MM, -TEXT_MM * 0.62 - 0.25))
        for words, size, shift in rows:
            at = place - 0.36 * size + shift
            if vertical:
                anchor: Anchor = "end" if out < 0 else "start"
                items.append(
                    Text((edge + out * 0.7, at), words, size, anchor, ink=span.ink,
                         layer="dimension", owner=owner)
                )  # fmt: skip
            else:
                spot = (place + 0.36 * size - shift, edge - 0.7)
                items.append(
                    Text(spot, words, size, "end", 90.0, ink=span.ink, layer="dimension",
                         owner=owner)
                )  # fmt: skip
    return items


def spread(
    wanted: list[float], sizes: list[float], low: float = -1e9, high: float = 1e9
) -> list[float]:
    """Centers as near as can be to where they are wanted, in order, none overlapping.

    Least squares by pooling neighbors that push each other; then held between low and high.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    offsets: dict[int, float] = {}
    reach = 0.0
    for n, i in enumerate(order):
        if n:
            reach += (sizes[order[n - 1]] + sizes[i]) / 2
        offsets[i] = reach
    blocks: list[list[float]] = []  # sum, count
    for i in order:
        blocks.append([wanted[i] - offsets[i], 1.0])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            last = blocks.pop()
            blocks[-1][0] += last[0]
            blocks[-1][1] += last[1]
    flat: list[float] = []
    for block in blocks:
        flat += [block[0] / block[1]] * round(block[1])
    places = [0.0] * len(wanted)
    if not order:
        return places
    floor = low + sizes[order[0]] / 2
    ceiling = high - sizes[order[-1]] / 2 - offsets[order[-1]]
    for n, i in enumerate(order):
        places[i] = max(floor, min(ceiling, flat[n])) + offsets[i]
    return places


def arrow_dimension(
    a: Point, b: Point, text: str, small: str, ink: Ink, *, known: bool = True, side: float = 1.0
) -> list[Item]:
    """A single level or plumb dimension between two points, arrows at both ends.

    Where the words do not fit along it, the arrows stand outside and the words beside it, on
    the side given (1: right or above, -1: left or below).
    """
    vertical = abs(a[0] - b[0]) < abs(a[1] - b[1])
    owner = f"arrow {a[0]:.2f} {a[1]:.2f} {b[0]:.2f} {b[1]:.2f}"
    size = math.dist(a, b)
    need = max(text_width(text, TEXT_MM), text_width(small, SMALL_MM)) + 4.6
    dash = Dash.SOLID if known else Dash.DASHED
    line_ink = Ink.INK if known else Ink.UNKNOWN
    items: list[Item] = []
    inside = size >= 4.2
    reach = 0.0 if inside else 2.6
    u = ((b[0] - a[0]) / (size or 1.0), (b[1] - a[1]) / (size or 1.0))
    first = a[0] - u[0] * reach, a[1] - u[1] * reach
    last = b[0] + u[0] * reach, b[1] + u[1] * reach
    items.append(Line(first, last, Pen.THIN, line_ink, dash, "dimension", owner))
    items += [_head(a, u if inside else (-u[0], -u[1]), line_ink, owner)]
    items += [_head(b, (-u[0], -u[1]) if inside else u, line_ink, owner)]
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if size >= need:
        low, high = sorted((a[1], b[1]) if vertical else (a[0], b[0]))
        span = Span(low, high, text, small, known, ink is Ink.MEASURED)
        lane = middle[0] if vertical else middle[1]
        return items + _words_along(span, lane, vertical)
    return items + _words_at(middle, vertical, side, text, small, ink, owner, size)


def _words_at(
    middle: Point, vertical: bool, side: float, text: str, small: str, ink: Ink, owner: str,
    size: float,
) -> list[Item]:  # fmt: skip
    """The words of a short dimension, beside it."""
    if vertical:
        anchor = "start" if side > 0 else "end"
        x, y = middle[0] + side * 1.3, middle[1]
        up = SMALL_MM * 0.62 + 0.2 if small else 0.0
        rows = [(x, y - 0.36 * TEXT_MM + up, text, TEXT_MM)]
        if small:
            rows.append((x, y - 0.36 * SMALL_MM - TEXT_MM * 0.62 - 0.2, small, SMALL_MM))
    else:
        anchor = "middle"
        x = middle[0]
        y = middle[1] + (
            1.0 + (SMALL_MM + 0.6 if small else 0.0) if side > 0 else -1.2 - 0.75 * TEXT_MM
        )
        rows = [(x, y, text, TEXT_MM)]
        if small:
            rows.append((x, y - SMALL_MM - 0.55, small, SMALL_MM))
    out: list[Item] = []
    for x, y, words, size_mm in rows:
        out.append(
            Text((x, y), words, size_mm, "start" if anchor == "start" else
                 ("end" if anchor == "end" else "middle"), ink=ink, layer="dimension")
        )  # fmt: skip
    return out


def _head(tip: Point, way: Point, ink: Ink, owner: str) -> Polygon:
    """An arrow head; ``way`` points from the tip back along the line."""
    back = tip[0] + way[0] * 1.7, tip[1] + way[1] * 1.7
    nx, ny = -way[1] * 0.38, way[0] * 0.38
    return Polygon(
        (tip, (back[0] + nx, back[1] + ny), (back[0] - nx, back[1] - ny)),
        None, ink, ink, layer="dimension", owner=owner,
    )  # fmt: skip
