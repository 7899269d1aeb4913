"""R of each connector on a common vent: from its hood outlet to where it enters the trunk."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.drawing.chains import dimension_words
from fluewright.drawing.dimensions import SMALL_MM, TEXT_MM, arrow_dimension
from fluewright.drawing.layout import Canvas
from fluewright.drawing.metrics import text_width
from fluewright.drawing.pipes import half_widths
from fluewright.drawing.plan import Plan
from fluewright.drawing.scene import Ink, Item, Line, Pen, Text, View
from fluewright.drawing.tree import Branch
from fluewright.geometry import total

LEAST_MM = 0.5
AWAY_MM = (3.2, 5.0, 7.0, 9.5, 12.5, 16.0, 20.0, 25.0)


def draw_rises(canvas: Canvas, plan: Plan, view: View) -> list[str]:
    """R of every connector beside it; what found no place is returned as words."""
    left_out: list[str] = []
    for branch in plan.tree.live:
        if not branch.route.legs:
            continue
        rise = total((p.rise for p in branch.found.of_role("connector")), "rise")
        text, small, known = dimension_words(rise, plan, "R = ")
        low, high = view.to_sheet(branch.route.start)[1], _end(branch, view)[1]
        short = abs(high - low) < LEAST_MM
        if short or not canvas.place(_groups(branch, view, (text, small), known=known)):
            left_out.append(f"{branch.name}: {text}")
    return left_out


def _end(branch: Branch, view: View) -> tuple[float, float]:
    return view.to_sheet(branch.route.legs[-1].end)


def _groups(
    branch: Branch, view: View, words: tuple[str, str], *, known: bool
) -> Iterator[tuple[Item, ...]]:
    """Between hood and trunk first, then beyond the hood, then beyond the trunk."""
    start, end = view.to_sheet(branch.route.start), _end(branch, view)
    half = half_widths(branch.route.legs[0], view)[0]
    low, high = sorted((start[1], end[1]))
    ink = Ink.INK if known else Ink.UNKNOWN
    places = [end[0] + branch.side * away for away in AWAY_MM]
    between = [x for x in places if (start[0] - x) * branch.side > half + 1.0]
    beyond = [start[0] + branch.side * (half * 2.0 + away) for away in AWAY_MM]
    for x in (*between, *beyond):
        out = 1.0 if x > start[0] else -1.0
        lines: list[Item] = [
            Line((start[0] + out * (half * 2.0 + 0.8), start[1]), (x + out * 1.2, start[1]),
                 Pen.FINE, Ink.GREY, layer="extension")
        ]  # fmt: skip
        if (x - start[0]) * branch.side > 0:  # beyond the hood the entry's height is carried out
            away = end[0] + branch.side * 1.2, x + branch.side * 1.2
            lines.append(
                Line((away[0], end[1]), (away[1], end[1]), Pen.FINE, Ink.GREY, layer="extension")
            )
        arrow = arrow_dimension((x, low), (x, high), "", "", ink, known=known)
        bare = [item for item in arrow if not isinstance(item, Text)]
        for at, text, small in _spots((x, low, high), words, branch.side):
            said = [Text(at, text, TEXT_MM, "middle", ink=ink, layer="dimension")]
            if small:
                under = at[0], at[1] - SMALL_MM - 0.55
                said.append(Text(under, small, SMALL_MM, "middle", ink=ink, layer="dimension"))
            yield (*lines, *bare, *said)


def _spots(
    arrow: tuple[float, float, float], words: tuple[str, str], side: float
) -> Iterator[tuple[tuple[float, float], str, str]]:
    """Places for the words of a plumb arrow: beside it, under it, over it."""
    x, low, high = arrow
    for text, small in (words, (" ".join(filter(None, words)), "")):
        half = max(text_width(text, TEXT_MM), text_width(small, SMALL_MM)) / 2
        middle = (low + high) / 2 - 0.36 * TEXT_MM + (1.2 if small else 0.0)
        for out in (side, -side):
            for y in (middle, low + 1.0, high - 2.0):
                yield (x + out * (half + 1.3), y), text, small
        for shift in (0.0, half * 0.6, -half * 0.6, half, -half):
            yield (x + shift, low - 3.0), text, small
            yield (x + shift, low - 6.0), text, small
            yield (x + shift, high + 2.2 + (SMALL_MM if small else 0.0)), text, small
