"""Reading between the cells of a capacity table, at a point and over a tolerance.

Inside a field of four cells the figure is linear in height and linear in lateral (UMC 2012
803.1.16, 803.1.19; basis read). Outside the table, and beside a cell that says NA, there is no
figure, only the reason. Nothing is interpolated between zero lateral and 2 ft:
an entry of zero lateral assumes that there is no elbow, and a short lateral has some.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from enum import StrEnum

from fluewright.capacity.table import FT_M, CapacityTable, Cell, Column
from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.source import Step

KBTU_H = "kBtu/h"
LATERAL = "lateral"  # the one reading that a straight vertical vent has not
ON_LINE_FT = 1e-9  # nearer to a grid line than this is on it: the rounding of feet to metres


class Method(StrEnum):
    """What to do between two entries."""

    INTERPOLATE = "interpolate"
    LOWER_ROW = "lower_row"  # the strict one of the entries around: least maximum, most minimum


@frozen
class Extent:
    """A length in feet with its bounds, each put on a grid line that it touches."""

    value: float
    low: float
    high: float

    def text(self) -> str:
        """The length for people, with its tolerance where it has one."""
        half = (self.high - self.low) / 2
        return f"{feet(self.value)} ft" + (f" ± {feet(half)} ft" if half > ON_LINE_FT else "")

    def points(self, lines: Sequence[float]) -> tuple[float, ...]:
        """Both bounds and every grid line between them."""
        return tuple(sorted({self.low, self.high, *(x for x in lines if self.low < x < self.high)}))


@frozen
class Question:
    """What is asked of one column: where, and how to read between entries.

    ``straight`` says that no elbow stands anywhere, so that a lateral of zero is a straight
    vertical vent.
    """

    table: CapacityTable
    column: Column
    size: float
    straight: bool
    method: Method


@frozen
class Figure:
    """A figure in thousands of Btu/h, the cells and steps behind it, and the rules it took."""

    kbtu_h: float
    cells: tuple[Cell, ...]
    steps: tuple[Step, ...]
    rules: frozenset[str]


@frozen
class Gap:
    """Why there is no figure, the cells that say so, and the rules it comes from."""

    reason: str
    cells: tuple[Cell, ...] = ()
    rules: frozenset[str] = frozenset()


@frozen
class Hull:
    """Least and greatest figure over the tolerance, and the figure at the readings."""

    low: float
    high: float
    nominal: Figure
    cells: tuple[Cell, ...]
    rules: frozenset[str]


def feet(length_ft: float) -> str:
    """A length in feet for people, to a thousandth."""
    return f"{round(length_ft, 3):g}"


def extent(length: Measured, lines: Sequence[float], least_m: float | None = None) -> Extent:
    """The bounds of a length in feet; ``least_m`` is where it ends by its nature."""
    low = length.low if least_m is None else max(length.low, least_m)
    return Extent(*(_on_line(x / FT_M, lines) for x in (length.value, low, length.high)))


def hull(question: Question, height: Extent, lateral: Extent) -> Hull | Gap:
    """Least and greatest figure over the tolerances of height and lateral.

    Between grid lines the figure has no summit of its own, so that the corners of the
    tolerance and the grid lines it crosses hold both bounds. The stretch between zero lateral
    and the first has a figure of its own, the same all along it: one point there is enough.
    """
    nominal = figure(question, height.value, lateral.value)
    if isinstance(nominal, Gap):
        return nominal
    table = question.table
    lines = {line for row in table.heights for line in table.laterals[row]}
    if table.layout.across == LATERAL:
        lines |= {min(line for line in lines if line > 0) / 2}
    crossed = sorted(lines)
    figures = [nominal]
    for height_ft, lateral_ft in itertools.product(
        height.points(table.heights), lateral.points(crossed)
    ):
        found = figure(question, height_ft, lateral_ft)
        if isinstance(found, Gap):
            both = (("height", height, height_ft), (table.layout.across, lateral, lateral_ft))
            return _gap_in_tolerance(found, *both)
        figures.append(found)
    return Hull(
        min(found.kbtu_h for found in figures),
        max(found.kbtu_h for found in figures),
        nominal,
        tuple(dict.fromkeys(cell for found in figures for cell in found.cells)),
        frozenset().union(*(found.rules for found in figures)),
    )


def figure(question: Question, height_ft: float, lateral_ft: float) -> Figure | Gap:
    """The figure at one height and lateral."""
    heights = question.table.heights
    rows = _around(heights, height_ft)
    if not rows:
        return _outside_heights(question, height_ft)
    found: list[Figure] = []
    for row in rows:
        at_row = _in_row(question, row, lateral_ft)
        if isinstance(at_row, Gap):
            return at_row
        found.append(at_row)
    if len(rows) == 1:
        return found[0]
    what = f"height {feet(height_ft)} ft between the rows of {rows[0]:g} and {rows[1]:g} ft"
    return _join(question.method, question.column, height_ft, rows, found, what, "between_heights")


def _in_row(question: Question, row: float, lateral_ft: float) -> Figure | Gap:
    """The figure in the row of one height, at any lateral (or rise) that the row reaches."""
    table, across = question.table, question.table.layout.across
    is_lateral = across == LATERAL
    straight = is_lateral and question.straight and lateral_ft == 0
    grid = tuple(line for line in table.laterals[row] if straight or line > 0 or not is_lateral)
    if is_lateral and lateral_ft < grid[0]:
        return _under_first(question, row, lateral_ft, grid[0])
    lines = _around(grid, lateral_ft)
    if not lines:
        return _outside_row(table, row, lateral_ft, grid)
    found = _entries(question, row, lines)
    if isinstance(found, Gap):
        return found
    if len(lines) == 1:
        rules = frozenset({"zero_lateral"} if straight else ())
        return Figure(found[0].kbtu_h, found[0].cells, found[0].steps, rules)
    what = (
        f"{across} {feet(lateral_ft)} ft between {lines[0]:g} and {lines[1]:g} ft, "
        f"height {row:g} ft"
    )
    return _join(question.method, question.column, lateral_ft, lines, found, what, "interpolation")


def _under_first(question: Question, row: float, lateral_ft: float, first: float) -> Figure | Gap:
    """The figure below the first lateral, where an entry of zero lateral would not hold.

    A maximum is read at the first lateral, where it is the lower. A minimum is the higher of
    both: behind a single-wall connector it falls from zero lateral to 2 ft.
    """
    whole = question.table.laterals[row]
    with_zero = not question.column.is_maximum and whole[0] == 0
    lines = (0.0, first) if with_zero else (first,)
    found = _entries(question, row, lines)
    if isinstance(found, Gap):
        return found
    words = (
        f"lateral {feet(lateral_ft)} ft, no straight vertical vent, height {row:g} ft: "
        f"as at {first:g} ft"
    )
    if with_zero:
        words += " or at zero"
        return _join(
            Method.LOWER_ROW, question.column, lateral_ft, lines, found, words, "zero_lateral"
        )
    return Figure(
        found[0].kbtu_h,
        found[0].cells,
        (*found[0].steps, Step(words, found[0].kbtu_h, KBTU_H)),
        frozenset({"zero_lateral"}),
    )


def _entries(question: Question, row: float, lines: tuple[float, ...]) -> tuple[Figure, ...] | Gap:
    """The entries of a row at the given laterals; one without a figure is a gap."""
    cells = tuple(question.table.cell(row, line, question.size, question.column) for line in lines)
    found: list[Figure] = []
    for cell in cells:
        if cell.kbtu_h is None:
            return Gap(_no_figure(cell), cells)
        known = f" (another source has {cell.differ})" if cell.differ else ""
        if cell.note and not cell.differ:
            known = f" ({cell.note})"
        step = Step(f"{cell.text()}, {cell.confidence}{known}", cell.kbtu_h, KBTU_H)
        found.append(Figure(cell.kbtu_h, (cell,), (step,), frozenset()))
    return tuple(found)


def _join(
    method: Method,
    column: Column,
    at: float,
    lines: tuple[float, ...],
    found: Sequence[Figure],
    what: str,
    rule: str,
) -> Figure:
    """One figure out of the two on either side of ``at``."""
    first, second = (one.kbtu_h for one in found)
    if method is Method.INTERPOLATE:
        share = (at - lines[0]) / (lines[1] - lines[0])
        value = first * (1 - share) + second * share
        step = Step(f"{what}: linear", value, KBTU_H)
    else:
        value = min(first, second) if column.is_maximum else max(first, second)
        which = "lower" if column.is_maximum else "higher"
        step = Step(f"{what}: the {which} of the two", value, KBTU_H)
    return Figure(
        value,
        tuple(cell for one in found for cell in one.cells),
        (*(step for one in found for step in one.steps), step),
        frozenset({rule}).union(*(one.rules for one in found)),
    )


def _around(grid: Sequence[float], at: float) -> tuple[float, ...]:
    """The grid line that ``at`` is on, or the two around it; empty outside the grid."""
    if at in grid:
        return (at,)
    below = [line for line in grid if line < at]
    if not below or len(below) == len(grid):
        return ()
    return (below[-1], grid[len(below)])


def _on_line(length_ft: float, lines: Sequence[float]) -> float:
    """The length, or the grid line that it misses by rounding alone."""
    return next((x for x in (0.0, *lines) if abs(x - length_ft) <= ON_LINE_FT), length_ft)


def _no_figure(cell: Cell) -> str:
    if cell.missing:
        return (
            f"No figure is held for {cell.text()}: the page was not read. "
            "Look in the printed table."
        )
    across = cell.layout.across
    what = f"the diameter, the height or the {across}" if across else "the size or the height"
    return (
        f"The table says NA for {cell.text()}: this arrangement has no permitted capacity. "
        f"Change {what}, or have the vent engineered."
    )


def _outside_heights(question: Question, height_ft: float) -> Gap:
    heights, name = question.table.heights, question.table.id
    side, end = ("below", heights[0]) if height_ft < heights[0] else ("above", heights[-1])
    return Gap(
        f"The height, {feet(height_ft)} ft, is {side} the {end:g} ft at which table {name} "
        f"{'begins' if side == 'below' else 'ends'}. The table may not be extended: "
        "an approved engineering method is needed.",
        rules=frozenset({"extrapolation", "engineered"}),
    )


def _outside_row(table: CapacityTable, row: float, across_ft: float, grid: Sequence[float]) -> Gap:
    """Why a row has no figure at a lateral or rise beyond its ends."""
    name, end = table.layout.across, grid[-1] if across_ft > grid[-1] else grid[0]
    if across_ft < end:
        side, remedy = "shorter than", "raise the connector"
    elif name == LATERAL:
        side, remedy = "longer than", "shorten the lateral"
    else:
        side, remedy = "more than", "look for a table of the maker"
    verb = "begins" if across_ft < end else "ends"
    return Gap(
        f"The {name}, {feet(across_ft)} ft, is {side} the {end:g} ft at which table {table.id} "
        f"{verb} for a height of {row:g} ft. The table may not be extended: {remedy}, or have "
        "the vent engineered.",
        rules=frozenset({"extrapolation"}),
    )


def _gap_in_tolerance(gap: Gap, *both: tuple[str, Extent, float]) -> Gap:
    """The reason again, with the side of the tolerance that leaves the table."""
    sides = [
        f"the {'low' if at < whole.value else 'high'} side of the {name} ({whole.text()})"
        for name, whole, at in both
        if at != whole.value
    ]
    names = [side.split(" of the ")[1].split(" (")[0] for side in sides]
    return Gap(
        f"The tolerance leaves the table on {' and '.join(sides)}. There: {gap.reason} "
        f"Measure the {' and the '.join(names)} more closely.",
        gap.cells,
        gap.rules,
    )
