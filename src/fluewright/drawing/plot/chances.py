"""How probable it is that it spills, fails to draft or runs wet; and hours a year by weather."""

from __future__ import annotations

from fluewright.drawing.metrics import fraction, text_width, wrap
from fluewright.drawing.plot.axis import Axis, Panel, plain_number
from fluewright.drawing.plot.data import Chance, HourBin, Measure, ProbabilityBars
from fluewright.drawing.plot.panel import (
    draw_level,
    draw_upright,
    fitting,
    left_margin,
    upright,
    whisker,
)
from fluewright.drawing.plot.sheet import ABOVE, Sheet, checked
from fluewright.drawing.scene import Ink, Line, Pen, Polygon, Scene, Text
from fluewright.errors import OutOfRange

BAR_MM = 4.6
BINS_MM = 52.0
SHARE = Measure(name="Probability", unit="%")
HOURS = Measure(name="Hours a year", unit="")


def probability_bars(figure: ProbabilityBars) -> Scene:
    """Probabilities with their 95 % intervals, and hours of spillage a year by temperature.

    Raises:
        OutOfRange: a number cannot be drawn, there is nothing to show, a probability is not within
            its interval and 0 to 1, or more hours spill than there are.
    """
    _check(figure)
    sheet = Sheet(figure)
    if figure.chances:
        _chances(sheet, figure.chances)
        sheet.keys.append("Thin line: 95 % interval of the probability.")
    if figure.bins:
        _hours(sheet, figure.bins, figure.bin_title)
    return sheet.finish(_said(figure))


def _check(figure: ProbabilityBars) -> None:
    checked(figure, "probability_bars")
    if not figure.chances and not figure.bins:
        raise OutOfRange("probability_bars has neither chances nor bins. Give one of them.")
    for n, chance in enumerate(figure.chances):
        if not 0.0 <= chance.low <= chance.value <= chance.high <= 1.0:
            raise OutOfRange(
                f"probability_bars.chances[{n}] is {chance.value:g} in {chance.low:g} to "
                f"{chance.high:g}. Give low, value and high rising from 0 to 1."
            )
    for n, part in enumerate(figure.bins):
        if not 0.0 <= part.spilled <= part.hours:
            raise OutOfRange(
                f"probability_bars.bins[{n}] spills {part.spilled:g} of {part.hours:g} hours. "
                "Give no less than none and no more than all."
            )


def percent(share: float) -> str:
    """A probability in words that claim neither never nor always."""
    if share < 0.005:
        return "under 0.5 %"
    if share > 0.995:
        return "over 99.5 %"
    value = share * 100.0
    return f"{value:.1f} %" if value < 9.95 else f"{value:.0f} %"


def _interval(chance: Chance) -> str:
    low, high = chance.low * 100.0, chance.high * 100.0
    digits = 1 if high < 9.95 else 0
    return f"{low:.{digits}f} to {high:.{digits}f} %"


def _chances(sheet: Sheet, chances: tuple[Chance, ...]) -> None:
    """A bar for each, its name and number over it."""
    size = sheet.type.body
    left, right = sheet.left + 1.0, sheet.right - 4.0
    axis = fitting(SHARE, (0.0, 100.0), right - left, sheet.type.small)
    rows = Axis(low=0.0, high=1.0, ticks=(), labels=(), title="")
    top = sheet.y
    said = [wrap(fraction(chance.name), right - left, size) for chance in chances]
    deep = [BAR_MM + 2.8 + size * 1.35 * (len(lines) + _own_line(sheet, c, lines[-1]))
            for c, lines in zip(chances, said, strict=True)]  # fmt: skip
    panel = Panel(left=left, bottom=top - sum(deep) - 1.0, right=right, top=top, x=axis,
                  y=rows)  # fmt: skip
    for n, chance in enumerate(chances):
        _chance(sheet, panel, chance, (said[n], top - sum(deep[: n + 1]) + 1.8))
    for tick in axis.ticks[1:]:
        x = panel.at(tick, 0.0)[0]
        line = Line((x, panel.bottom), (x, panel.top), Pen.THIN, Ink.LIGHT, layer="grid")
        sheet.under.append(line)
    sheet.y = draw_level(sheet, panel, SHARE) - 2.0


def _numbers(chance: Chance) -> tuple[str, str]:
    return percent(chance.value), f"({_interval(chance)})"


def _own_line(sheet: Sheet, chance: Chance, last: str) -> int:
    """Whether the numbers of a chance take a line of their own under its name: 1, else 0."""
    share, between = _numbers(chance)
    size = sheet.type.body
    width = text_width(last, size) + text_width(share, size, "bold") + 4.2
    width += text_width(between, sheet.type.small)
    return int(sheet.left + 1.0 + width > sheet.right)


def _chance(sheet: Sheet, panel: Panel, chance: Chance, where: tuple[list[str], float]) -> None:
    lines, y = where
    size = sheet.type.body
    base, x = panel.at(0.0, 0.0)[0], panel.at(chance.value * 100.0, 0.0)[0]
    share, between = _numbers(chance)
    own = _own_line(sheet, chance, lines[-1])
    over = y + BAR_MM + size * 0.45
    for n, line in enumerate(reversed(lines)):
        sheet.add(Text((base, over + size * 1.35 * (n + own)), line, size))
    after = base if own else base + text_width(lines[-1], size) + 2.2
    sheet.add(Text((after, over), share, size, face="bold"))
    after += text_width(share, size, "bold") + 2.0
    sheet.add(Text((after, over), between, sheet.type.small))
    area = ((base, y), (x, y), (x, y + BAR_MM), (base, y + BAR_MM))
    if x - base > 0.05:
        sheet.add(Polygon(area, Pen.FIRM, Ink.INK, Ink.LIGHT, layer="bar"))
    middle = y + BAR_MM / 2
    whisker(sheet, (panel.at(chance.low * 100.0, 0.0)[0], middle),
            (panel.at(chance.high * 100.0, 0.0)[0], middle))  # fmt: skip


def _hours(sheet: Sheet, bins: tuple[HourBin, ...], title: str) -> None:
    """Hours of each span of temperature: the whole open, those that spill hatched."""
    size = sheet.type.small
    axis = upright(HOURS, [b.hours for b in bins], BINS_MM, zero=True)
    left, right = sheet.left + left_margin(sheet, axis), sheet.right - 2.0
    sheet.y -= size * 2.2
    top = sheet.y
    flat = Axis(low=0.0, high=float(len(bins)), ticks=(), labels=(), title=title)
    panel = Panel(left=left, bottom=top - BINS_MM, right=right, top=top, x=flat, y=axis)
    draw_upright(sheet, panel, HOURS)
    places = tuple(n + 0.5 for n in range(len(bins)))
    words = tuple(fraction(b.words) for b in bins)
    for n, part in enumerate(bins):
        _bin(sheet, panel, n, part)
    for n, part in enumerate(bins):
        _name_bin(sheet, panel, n, part)
    named = Axis(low=flat.low, high=flat.high, ticks=places, labels=words, title=title)
    ticked = Panel(left=left, bottom=panel.bottom, right=right, top=top, x=named, y=axis)
    sheet.y = draw_level(sheet, ticked, Measure(name=title)) - 1.0
    sheet.keys.append("Open bar: all hours of that weather. Hatched, with the number: it spills.")


def _bin(sheet: Sheet, panel: Panel, n: int, part: HourBin) -> None:
    (a, low), (b, high) = panel.at(n + 0.15, 0.0), panel.at(n + 0.85, part.hours)
    if high - low > 0.05:
        sheet.add(Polygon(((a, low), (b, low), (b, high), (a, high)), Pen.FIRM, layer="bar"))
    if part.spilled <= 0.0:
        return
    top = panel.at(0.0, part.spilled)[1]
    area = ((a, low), (b, low), (b, top), (a, top))
    sheet.hatch(area, 135.0, 1.0, Ink.ALARM, Pen.THIN)
    if top - low > 0.05:
        sheet.add(Polygon(area, Pen.FIRM, Ink.ALARM, layer="bar"))


def _name_bin(sheet: Sheet, panel: Panel, n: int, part: HourBin) -> None:
    """The hours that spill, over the bar."""
    if part.spilled <= 0.0:
        return
    size = sheet.type.small
    (a, _), (b, high) = panel.at(n + 0.15, 0.0), panel.at(n + 0.85, part.hours)
    few = "under 1" if text_width("under 1", size, "bold") <= (b - a) * 1.35 else "<1"
    words = few if part.spilled < 0.5 else f"{part.spilled:,.0f}"
    middle = (a + b) / 2
    sheet.label(words, [(middle, high)], sides=(ABOVE,), ink=Ink.ALARM,
                face="bold", near=0.8,
                key=f"{part.words}: spills {plain_number(part.spilled)} h a year.")  # fmt: skip


def _said(figure: ProbabilityBars) -> list[str]:
    said = [f"{c.name}: {percent(c.value)}, 95 % interval {_interval(c)}" for c in figure.chances]
    said += [
        f"{figure.bin_title} {b.words}: spills {plain_number(b.spilled)} of "
        f"{plain_number(b.hours)} hours a year"
        for b in figure.bins
    ]
    return said
