"""The balance of a vent: draft to be had and pressure lost against flow, with every balance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fluewright.drawing.metrics import wrap
from fluewright.drawing.plot.axis import Panel, plain_number
from fluewright.drawing.plot.data import FlowBalance, Root
from fluewright.drawing.plot.panel import (
    Numbers,
    box,
    curve,
    disc,
    lay_panel,
    level_line,
    name_curve,
    upright_line,
)
from fluewright.drawing.plot.sheet import (
    ABOVE,
    AROUND,
    BELOW,
    CENTER,
    DOWN_LEFT,
    DOWN_RIGHT,
    LEFT,
    RIGHT,
    UP_LEFT,
    UP_RIGHT,
    Sheet,
    checked,
    halved,
)
from fluewright.drawing.scene import Dash, Ink, Line, Pen, Point, Scene
from fluewright.errors import OutOfRange

WORDS = {
    "drafting": "drafting",
    "spilling": "spilling",
    "stalled": "stalled",
    "reversed": "reversed",
}
BAD = ("spilling", "stalled", "reversed")


def flow_balance(figure: FlowBalance) -> Scene:
    """Draft to be had and pressure lost against flow, with all roots and the operating point.

    Raises:
        OutOfRange: a number cannot be drawn, a line has no points or does not rise in flow, or
            ``operating`` names no root.
    """
    _check(figure)
    sheet = Sheet(figure)
    flows = [f for f, _ in (*figure.available, *figure.lost)] + [r.flow for r in figure.roots]
    pressures = [p for _, p in (*figure.available, *figure.lost)]
    pressures += [r.pressure for r in figure.roots]
    if figure.demand is not None:
        flows.append(figure.demand)
    panel = lay_panel(
        sheet, (figure.flow, flows), (figure.pressure, pressures), sheet.type.panel,
        zero=(True, True), x_ends=(min([0.0, *flows]), max(flows)),
    )  # fmt: skip
    _zones(sheet, panel, figure)
    if panel.y.low < 0.0:
        level_line(sheet, panel, 0.0, "", dash=Dash.SOLID, pen=Pen.THIN)
    if panel.x.low < 0.0:
        upright_line(sheet, panel, 0.0, "", dash=Dash.SOLID, pen=Pen.THIN)
    lost = curve(sheet, panel, figure.lost, dash=Dash.DASHED)
    available = curve(sheet, panel, figure.available)
    for root in figure.roots:
        disc(sheet, panel.at(root.flow, root.pressure), solid=root.stable, ink=_ink(root))
    if figure.demand is not None:
        _demand(sheet, panel, figure, figure.demand)
    _name_zones(sheet, panel, figure)
    _roots(sheet, panel, figure)
    name_curve(
        sheet,
        available,
        "draft to be had",
        key="Firm line: draft to be had.",
        others=(lost,),
        within=panel,
    )
    name_curve(
        sheet,
        lost,
        "used up by the flow",
        key="Dashed line: used up by the flow.",
        others=(available,),
        within=panel,
    )
    if any(not root.stable for root in figure.roots):
        sheet.keys.append("Solid disc: the vent can stay there. Ring: it only passes through.")
    sheet.canvas.items.sort(key=lambda item: getattr(item, "layer", "") == "point")  # on top
    return sheet.finish(_said(figure))


def _check(figure: FlowBalance) -> None:
    checked(figure, "flow_balance")
    for name in ("available", "lost"):
        line: Numbers = getattr(figure, name)
        if not line:
            raise OutOfRange(f"flow_balance.{name} has no points. Give at least one.")
        if any(b[0] < a[0] for a, b in pairwise(line)):
            raise OutOfRange(f"flow_balance.{name} goes back in flow. Give it rising in flow.")
    if figure.operating is not None and not 0 <= figure.operating < len(figure.roots):
        raise OutOfRange(
            f"flow_balance.operating is {figure.operating}, there are {len(figure.roots)} roots. "
            "Name one of them, counted from 0, or leave it out."
        )


def _ink(root: Root) -> Ink:
    return Ink.ALARM if root.branch in BAD else Ink.INK


def _spans(panel: Panel, figure: FlowBalance) -> list[tuple[float, float, str]]:
    """What becomes of the gas, by flow: from, to, words."""
    demand = figure.demand
    ends = [panel.x.low, *([0.0] if panel.x.low < 0 else []), panel.x.high]
    names = ["air comes down"] if panel.x.low < 0 else []
    if demand is not None and 0.0 < demand < panel.x.high:
        ends.insert(-1, demand)
        names += ["gas spills into the room", "all the gas goes up"]
    elif names:
        names.append("flow goes up")
    return [(a, b, words) for (a, b), words in zip(pairwise(ends), names, strict=False)]


def _is_bad(words: str) -> bool:
    return words.startswith(("air", "gas"))


def _zones(sheet: Sheet, panel: Panel, figure: FlowBalance) -> None:
    """A tint where not all of the gas goes up."""
    for a, b, words in _spans(panel, figure):
        if _is_bad(words):
            sheet.tint(box(panel, a, b, panel.y.low, panel.y.high))


def _name_zones(sheet: Sheet, panel: Panel, figure: FlowBalance) -> None:
    """The words of each zone, as near to the head of the panel as they find room."""
    size = sheet.type.small
    for a, b, words in _spans(panel, figure):
        left, right = panel.at(a, panel.y.high)[0], panel.at(b, panel.y.high)[0]
        lines = wrap(words, max(0.1, right - left - 2.0), size, "italic")
        if len(lines) == 2:
            lines = halved([words])
        tall = size * (1.25 * len(lines) - 0.25)
        middle = (left + right) / 2
        low = panel.bottom + tall
        levels = [panel.top - 1.0 - tall / 2 - size * 0.5 * n for n in range(60)]
        where = f"From {plain_number(a)} to {plain_number(b)} {figure.flow.unit}".rstrip()
        said = f"{where}: {words}."
        if any(line.endswith("…") for line in lines):
            sheet.keys.append(said)
            continue
        sheet.label(lines, [(middle, y) for y in levels if y > low], sides=(CENTER,), near=0.9,
                    ink=Ink.ALARM if _is_bad(words) else Ink.INK, face="italic", within=panel,
                    key=said)  # fmt: skip


def _demand(sheet: Sheet, panel: Panel, figure: FlowBalance, demand: float) -> None:
    """The flue gas that has to go up, and the draft to spare there."""
    said = f"flue gas: {plain_number(demand)} {figure.flow.unit}".rstrip()
    foot, top = panel.at(demand, panel.y.low), panel.at(demand, panel.y.high)
    sheet.add(Line(foot, top, Pen.MIDDLE, dash=Dash.DASHED, layer="level"))
    margin = figure.margin_pa
    if margin is not None:
        have, need = _at(figure.available, demand), _at(figure.lost, demand)
        if have is not None and need is not None:
            ink = Ink.ALARM if margin < 0 else Ink.INK
            a, b = panel.at(demand, have), panel.at(demand, need)
            sheet.add(*_bracket(a, b, ink))
            words = f"{plain_number(abs(margin))} Pa {'lacking' if margin < 0 else 'to spare'}"
            middle = [(a[0] + 1.2, a[1] + (b[1] - a[1]) * s) for s in (0.5, 0.35, 0.65, 0.2, 0.8)]
            sheet.label(words, middle, sides=(RIGHT, LEFT, *AROUND), ink=ink, face="bold", near=1.4,
                        within=panel)  # fmt: skip
    places = [(foot[0], foot[1] + (top[1] - foot[1]) * h) for h in (0.03, 0.1, 0.2, 0.3, 0.5, 0.7)]
    sheet.label(said, places, sides=(UP_RIGHT, UP_LEFT, RIGHT, LEFT), near=1.2, within=panel)


def _bracket(a: Point, b: Point, ink: Ink) -> Iterator[Line]:
    x = a[0]
    yield Line(a, b, Pen.HEAVY, ink, layer="margin")
    for point in (a, b):
        yield Line((x - 1.0, point[1]), (x + 1.0, point[1]), Pen.HEAVY, ink, layer="margin")


def _at(line: Numbers, flow: float) -> float | None:
    """The pressure of a line at a flow; None beyond its ends."""
    for (x1, y1), (x2, y2) in pairwise(line):
        if x1 <= flow <= x2 and x2 > x1:
            return y1 + (y2 - y1) * (flow - x1) / (x2 - x1)
    return None


def _roots(sheet: Sheet, panel: Panel, figure: FlowBalance) -> None:
    """The word beside each root, the operating one first."""
    order = sorted(range(len(figure.roots)), key=lambda n: (n != figure.operating, n))
    for n in order:
        root = figure.roots[n]
        runs = n == figure.operating
        words = [f"runs here: {WORDS[root.branch]}" if runs else WORDS[root.branch]]
        if not root.stable:
            words = [words[0] + ", cannot stay"]
        sheet.label(
            words, [panel.at(root.flow, root.pressure)],
            sides=(ABOVE, BELOW, DOWN_RIGHT, UP_LEFT, RIGHT, LEFT, UP_RIGHT, DOWN_LEFT),
            ink=_ink(root), face="bold" if runs else "regular", near=2.3, within=panel,
            key=f"At {plain_number(root.flow)} {figure.flow.unit}: {words[0]}.",
        )  # fmt: skip


def _said(figure: FlowBalance) -> Sequence[str]:
    unit = f" {figure.flow.unit}" if figure.flow.unit else ""
    said = [f"Draft to be had and pressure used up against {figure.flow.name.lower()}"]
    if figure.demand is not None:
        said.append(f"Flue gas that has to go up: {plain_number(figure.demand)}{unit}")
    for n, root in enumerate(figure.roots):
        stays = "stays" if root.stable else "cannot stay"
        runs = ", runs here" if n == figure.operating else ""
        said.append(
            f"Balance at {plain_number(root.flow)}{unit}: {WORDS[root.branch]}, {stays}{runs}"
        )
    if figure.margin_pa is not None:
        what = "lacking" if figure.margin_pa < 0 else "to spare"
        said.append(f"Draft {what} at the flue gas: {plain_number(abs(figure.margin_pa))} Pa")
    return said
