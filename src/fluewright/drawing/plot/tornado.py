"""What matters most: how far each input moves a result from end to end of its range."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.drawing.metrics import fraction, wrap
from fluewright.drawing.plot.axis import Axis, Panel, axis_of, plain_number, spread
from fluewright.drawing.plot.data import Effect, Limit, Tornado
from fluewright.drawing.plot.panel import draw_level, fitting
from fluewright.drawing.plot.sheet import (
    ABOVE,
    BELOW,
    DOWN_LEFT,
    DOWN_RIGHT,
    LEFT,
    RIGHT,
    Sheet,
    checked,
    wide,
)
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen, Polygon, Scene, Text
from fluewright.errors import OutOfRange

BAR_MM = 5.0
NAME_SHARE = 0.30  # of the sheet, for the names beside the bars


def tornado(figure: Tornado) -> Scene:
    """A bar for each input, greatest first, with the values it stands for at both ends.

    Raises:
        OutOfRange: a number cannot be drawn, or there is no effect.
    """
    checked(figure, "tornado")
    if not figure.effects:
        raise OutOfRange("tornado.effects is empty. Give at least one.")
    sheet = Sheet(figure)
    effects = sorted(figure.effects, key=lambda e: -_reach(e, figure.base))
    widest = wide([fraction(e.name) for e in effects], sheet.type.small) + 2.5
    room = 1.0 if sheet.phone else min(widest, sheet.type.width * NAME_SHARE)
    left = sheet.left + room
    right = sheet.right - 4.0
    axis = _axis(sheet, figure, right - left)
    names = [_name(sheet, effect, left, right) for effect in effects]
    over = sheet.type.small * 1.22 if sheet.phone else 0.0
    deep = [
        BAR_MM + 4.4 + (max(0, len(lines) - (0 if sheet.phone else 2)) * over) for lines in names
    ]
    head = sheet.type.small * (3.4 if figure.limit else 1.8)
    top = sheet.y - head
    rows = Axis(low=0.0, high=float(len(effects)), ticks=(), labels=(), title="")
    panel = Panel(left=left, bottom=top - sum(deep) - 2.0, right=right, top=top, x=axis,
                  y=rows)  # fmt: skip
    for tick in axis.ticks:
        x = panel.at(tick, 0.0)[0]
        line = Line((x, panel.bottom), (x, top), Pen.THIN, Ink.LIGHT, layer="grid")
        sheet.under.append(line)
    _lines(sheet, panel, figure)
    feet = [top - sum(deep[: n + 1]) + 1.6 for n in range(len(effects))]
    for effect, lines, y in zip(effects, names, feet, strict=True):
        _row(sheet, panel, figure, effect, (lines, y))
    sheet.y = draw_level(sheet, panel, figure.result)
    for effect, y in zip(effects, feet, strict=True):
        _ends(sheet, panel, figure, effect, y)
    return sheet.finish(_said(figure, effects))


def _reach(effect: Effect, base: float) -> float:
    ends = (effect.at_low, effect.at_high, base)
    return max(ends) - min(ends)


def _axis(sheet: Sheet, figure: Tornado, mm: float) -> Axis:
    """The level axis, with room beside the longest bars for their words."""
    ends = [figure.base, *(v for e in figure.effects for v in (e.at_low, e.at_high))]
    if figure.limit is not None:
        ends.append(figure.limit.value)
    low, high = spread(ends, "tornado")
    room = wide([w for e in figure.effects for w in (e.low, e.high)], sheet.type.small) + 2.5
    room = min(room, mm * 0.3)
    pad = (high - low) * room / (mm - 2 * room)
    size = sheet.type.small
    ticked = fitting(figure.result, ends, mm, size, ends=(low - pad, high + pad))
    return ticked if len(ticked.ticks) > 1 else axis_of(figure.result, ends)


def _lines(sheet: Sheet, panel: Panel, figure: Tornado) -> None:
    """The result as surveyed, and the limit with its failing side hatched; words over the head."""
    size = sheet.type.small
    lines: list[tuple[float, str, Ink, Dash]] = []
    if figure.limit is not None:
        limit = figure.limit
        _failing(sheet, panel, limit)
        lines.append((limit.value, limit.words, Ink.ALARM, Dash.DASHED))
    unit = figure.result.unit
    said = f"{figure.base_words}: {plain_number(figure.base)} {unit}".rstrip()
    lines.insert(0, (figure.base, said, Ink.INK, Dash.SOLID))
    top = panel.top + 0.8
    rows = [top + size * (0.6 + 1.5 * n) for n in range(len(lines))]
    for value, _, ink, dash in lines:
        x = panel.at(value, 0.0)[0]
        line = Line((x, panel.bottom), (x, rows[-1] + 0.4), Pen.FIRM, ink, dash, layer="base")
        if sheet.phone:  # the names stand over the bars: the line is left open around them
            sheet.under.append(line)
        else:
            sheet.add(line)
    others = [figure.base if figure.limit is None else figure.limit.value, figure.base]
    for (value, words, ink, _), other in zip(lines, others, strict=False):
        x = panel.at(value, 0.0)[0]
        sides = (RIGHT, LEFT) if value >= other else (LEFT, RIGHT)
        sheet.label(words, [(x, row) for row in rows], sides=sides, ink=ink, face="bold", near=1.2)


def _failing(sheet: Sheet, panel: Panel, limit: Limit) -> None:
    x = panel.at(limit.value, 0.0)[0]
    end = panel.left if limit.fails == "below" else panel.right
    area = ((x, panel.bottom), (end, panel.bottom), (end, panel.top), (x, panel.top))
    sheet.hatch(area, 135.0, 2.6, Ink.ALARM)


def _name(sheet: Sheet, effect: Effect, left: float, right: float) -> list[str]:
    """The name of an input in lines: over its bar on a phone, else beside it."""
    room = right - left if sheet.phone else left - sheet.left - 2.0
    return wrap(fraction(effect.name), room, sheet.type.small, most=3 if sheet.phone else 2)


def _row(
    sheet: Sheet, panel: Panel, figure: Tornado, effect: Effect, where: tuple[list[str], float]
) -> None:
    """The bar of an input and its name: plain to the low end, tinted to the high one."""
    size = sheet.type.small
    lines, y = where
    if sheet.phone:
        for n, line in enumerate(reversed(lines)):
            sheet.add(Text((sheet.left, y + BAR_MM + 1.2 + size * 1.22 * n), line, size))
    else:
        first = y + BAR_MM / 2 - size * 0.35 + size * 0.6 * (len(lines) - 1)
        for n, line in enumerate(lines):
            sheet.add(Text((panel.left - 2.0, first - size * 1.2 * n), line, size, "end"))
    same = (effect.at_low - figure.base) * (effect.at_high - figure.base) > 0.0
    base = panel.at(figure.base, 0.0)[0]
    for value, part in ((effect.at_low, 1), (effect.at_high, 0)):
        x = panel.at(value, 0.0)[0]
        low = y + (BAR_MM / 2 if same and part else 0.0)
        high = y + (BAR_MM / 2 if same and not part else BAR_MM)
        sheet.add(*_bar(base, x, low, high, dark=part == 0))


def _bar(base: float, x: float, low: float, high: float, *, dark: bool) -> list[Item]:
    if abs(x - base) < 0.05:
        return [Line((base, low), (base, high), Pen.HEAVY, layer="bar")]
    area = ((base, low), (x, low), (x, high), (base, high))
    fill = Ink.LIGHT if dark else Ink.PAPER
    return [Polygon(area, Pen.FIRM, Ink.INK, fill, layer="bar")]


def _ends(sheet: Sheet, panel: Panel, figure: Tornado, effect: Effect, y: float) -> None:
    """What the input is at each end of the bar."""
    same = (effect.at_low - figure.base) * (effect.at_high - figure.base) > 0.0
    for value, words, part in ((effect.at_low, effect.low, 1), (effect.at_high, effect.high, 0)):
        x = panel.at(value, 0.0)[0]
        height = y + BAR_MM * ((0.92 if part else 0.08) if same else 0.5)
        down = value < figure.base or (value == figure.base and effect.at_high > effect.at_low)
        sides = (LEFT, DOWN_LEFT, BELOW, ABOVE) if down else (RIGHT, DOWN_RIGHT, BELOW, ABOVE)
        sheet.label(
            words, [(x, height)], sides=sides, near=1.2, within=panel,
            key=f"{effect.name}: {plain_number(value)} {figure.result.unit} at {words}.",
        )  # fmt: skip


def _said(figure: Tornado, effects: Sequence[Effect]) -> list[str]:
    unit = figure.result.unit
    said = [f"{figure.result.name} {figure.base_words}: {plain_number(figure.base)} {unit}"]
    if figure.limit is not None:
        said.append(f"Limit: {figure.limit.words}")
    for effect in effects:
        said.append(
            f"{effect.name}: {plain_number(effect.at_low)} {unit} at {effect.low}, "
            f"{plain_number(effect.at_high)} {unit} at {effect.high}"
        )
    return said
