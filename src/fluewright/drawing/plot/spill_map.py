"""How long it spills after a cold start, over weather and house pressure."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from fluewright.drawing.plot.axis import Panel, plain_number
from fluewright.drawing.plot.data import SpillClass, SpillTimeMap
from fluewright.drawing.plot.panel import box, cross, lay_panel
from fluewright.drawing.plot.sheet import AROUND, Sheet, checked
from fluewright.drawing.scene import Ink, Line, Pen, Point, Scene, Text
from fluewright.errors import OutOfRange

# Worse is darker, in grey too; the worst alone has a second color.
WORDS: dict[SpillClass, str] = {
    "short": "1 min or less",
    "over_1": "over 1 min",
    "over_5": "over 5 min",
    "never": "never drafts",
    "unknown": "not known",
}
INKS: dict[SpillClass, Ink] = {
    "short": Ink.INK, "over_1": Ink.INK, "over_5": Ink.INK, "never": Ink.ALARM,
    "unknown": Ink.UNKNOWN,
}  # fmt: skip
HATCHES: dict[SpillClass, tuple[tuple[float, float], ...]] = {  # angle, spacing [mm]
    "short": (),
    "over_1": ((45.0, 3.2),),
    "over_5": ((45.0, 1.5),),
    "never": ((45.0, 1.5), (135.0, 1.5)),
    "unknown": ((90.0, 2.4),),
}


def spill_time_map(figure: SpillTimeMap) -> Scene:
    """Classes of spill time over outdoor temperature and house pressure.

    Raises:
        OutOfRange: a number cannot be drawn, the columns or rows do not rise, or the classes do
            not fill them.
    """
    _check(figure)
    sheet = Sheet(figure)
    xs, ys = _edges(figure.outdoor), _edges(figure.house)
    days_x = [day.outdoor for day in figure.tests]
    days_y = [day.house for day in figure.tests]
    x_ends = (min([xs[0], *days_x]), max([xs[-1], *days_x]))
    y_ends = (min([ys[0], *days_y]), max([ys[-1], *days_y]))
    panel = lay_panel(
        sheet, (figure.outdoor_measure, xs), (figure.house_measure, ys), sheet.type.panel,
        x_ends=x_ends, y_ends=y_ends, grid=False,
    )  # fmt: skip
    for row, classes in enumerate(figure.classes):
        for left, right, kind in _runs(classes):
            area = box(panel, xs[left], xs[right], ys[row], ys[row + 1])
            for angle, spacing in HATCHES[kind]:
                sheet.hatch(area, angle, spacing, INKS[kind])
    _contours(sheet, panel, figure, (xs, ys))
    for day in figure.tests:
        cross(sheet, panel.at(day.outdoor, day.house))
    for day in figure.tests:
        at = panel.at(day.outdoor, day.house)
        sheet.label(day.words, [at], sides=AROUND, ink=Ink.MEASURED, face="bold", near=2.6,
                    within=panel)  # fmt: skip
    for kind in ("never", "short", "over_1", "over_5", "unknown"):
        _name(sheet, panel, figure, (xs, ys), kind)
    sheet.keys.insert(0, "How long gas spills into the room after a cold start. The closer the "
                         "lines, the longer.")  # fmt: skip
    return sheet.finish(_said(figure))


def _check(figure: SpillTimeMap) -> None:
    checked(figure, "spill_time_map")
    for name, line in (("outdoor", figure.outdoor), ("house", figure.house)):
        if not line:
            raise OutOfRange(f"spill_time_map.{name} is empty. Give at least one number.")
        if any(b <= a for a, b in pairwise(line)):
            raise OutOfRange(f"spill_time_map.{name} does not rise. Give it from low to high.")
    shape = [len(row) for row in figure.classes]
    if shape != [len(figure.outdoor)] * len(figure.house):
        raise OutOfRange(
            f"spill_time_map.classes has rows of {shape}; needed are {len(figure.house)} rows of "
            f"{len(figure.outdoor)}, one class for each pair."
        )


def _edges(middles: Sequence[float]) -> list[float]:
    """The ends of cells around their middles."""
    if len(middles) == 1:
        half = abs(middles[0]) * 0.1 or 0.5
        return [middles[0] - half, middles[0] + half]
    inner = [(a + b) / 2 for a, b in pairwise(middles)]
    return [2 * middles[0] - inner[0], *inner, 2 * middles[-1] - inner[-1]]


def _runs(classes: Sequence[SpillClass]) -> list[tuple[int, int, SpillClass]]:
    """Neighbours of one class in a row: first column, one past the last, class."""
    runs: list[tuple[int, int, SpillClass]] = []
    for n, kind in enumerate(classes):
        if runs and runs[-1][2] == kind:
            runs[-1] = (runs[-1][0], n + 1, kind)
        else:
            runs.append((n, n + 1, kind))
    return runs


def _contours(
    sheet: Sheet, panel: Panel, figure: SpillTimeMap, edges: tuple[list[float], list[float]]
) -> None:
    """A firm line wherever two cells differ."""
    xs, ys = edges
    rows = figure.classes
    for j, row in enumerate(rows):
        for i, kind in enumerate(row):
            if i + 1 < len(row) and row[i + 1] != kind:
                ends = panel.at(xs[i + 1], ys[j]), panel.at(xs[i + 1], ys[j + 1])
                sheet.add(Line(*ends, Pen.HEAVY, layer="contour"))
            if j + 1 < len(rows) and rows[j + 1][i] != kind:
                ends = panel.at(xs[i], ys[j + 1]), panel.at(xs[i + 1], ys[j + 1])
                sheet.add(Line(*ends, Pen.HEAVY, layer="contour"))


def _depths(figure: SpillTimeMap) -> list[list[int]]:
    """How many cells each cell is away from one of another class, or from the edge."""
    rows = figure.classes
    tall, wide = len(rows), len(rows[0])
    depth = [[0] * wide for _ in rows]
    for level in range(1, max(tall, wide) // 2 + 2):
        around = [
            (j, i)
            for j in range(1, tall - 1)
            for i in range(1, wide - 1)
            if all(
                depth[j + dj][i + di] >= level - 1 and rows[j + dj][i + di] == rows[j][i]
                for dj in (-1, 0, 1)
                for di in (-1, 0, 1)
            )
        ]
        for j, i in around:
            depth[j][i] = level
        if not around:
            break
    return depth


def _name(
    sheet: Sheet, panel: Panel, figure: SpillTimeMap,
    edges: tuple[list[float], list[float]], kind: SpillClass,
) -> None:  # fmt: skip
    """The words of a class wholly on its own cells, deepest first; else beside, with a leader."""
    xs, ys = edges
    depth = _depths(figure)
    cells = [
        (-depth[j][i], abs(2 * i + 1 - len(row)) + abs(2 * j + 1 - len(figure.classes)), j, i)
        for j, row in enumerate(figure.classes)
        for i, held in enumerate(row)
        if held == kind
    ]
    size = sheet.type.body
    middles: list[Point] = []
    for _, _, j, i in sorted(cells):
        a, b = panel.at(xs[i], ys[j]), panel.at(xs[i + 1], ys[j + 1])
        middles.append(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
        for x, y in (middles[-1], (middles[-1][0], b[1]), (b[0], middles[-1][1]), b):
            text = Text((x, y - size * 0.35), WORDS[kind], size, "middle", face="bold",
                        ink=INKS[kind], layer="class")  # fmt: skip
            if _within(text, panel, figure, edges, kind) and sheet.canvas.place([(text,)]):
                return
    if middles:

        def quiet(texts: Sequence[Text]) -> bool:
            return all(_within(text, panel, figure, edges, "short") for text in texts)

        for apart, key in ((quiet, ""), (None, None)):
            if sheet.label(WORDS[kind], middles, ink=INKS[kind], face="bold", near=0.7, led=True,
                           within=panel, apart=apart, key=key):  # fmt: skip
                return


def _within(
    text: Text, panel: Panel, figure: SpillTimeMap,
    edges: tuple[list[float], list[float]], kind: SpillClass,
) -> bool:  # fmt: skip
    """Whether lettering stands on cells of one class alone."""
    low, _, high, _ = text.corners(0.3)
    if not (panel.holds(low) and panel.holds(high)):
        return False
    xs, ys = edges
    columns = [panel.at(x, ys[0])[0] for x in xs]
    rows = [panel.at(xs[0], y)[1] for y in ys]
    return all(
        held == kind
        for j, row in enumerate(figure.classes)
        if rows[j] < high[1] and rows[j + 1] > low[1]
        for i, held in enumerate(row)
        if columns[i] < high[0] and columns[i + 1] > low[0]
    )


def _said(figure: SpillTimeMap) -> Sequence[str]:
    cells = [kind for row in figure.classes for kind in row]
    x, y = figure.outdoor_measure, figure.house_measure
    ends = [plain_number(v) for line in (figure.outdoor, figure.house) for v in (line[0], line[-1])]
    said = [
        f"{x.name} from {ends[0]} to {ends[1]} {x.unit}, {y.name.lower()} from {ends[2]} to "
        f"{ends[3]} {y.unit}"
    ]
    for kind, words in WORDS.items():
        count = cells.count(kind)
        if count:
            said.append(f"{words}: {count} of {len(cells)} cells")
    said += [
        f"Marked: {d.words} at {plain_number(d.outdoor)} {x.unit}, {plain_number(d.house)} {y.unit}"
        for d in figure.tests
    ]
    return said
