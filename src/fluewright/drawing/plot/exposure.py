"""Carbon monoxide in the room and in the blood over time, with the time an alarm takes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from fluewright.drawing.plot.axis import Panel, plain_number
from fluewright.drawing.plot.data import AlarmWindow, ExposurePlot, Level, Measure
from fluewright.drawing.plot.panel import (
    box,
    curve,
    lay_panel,
    left_margin,
    level_line,
    name_curve,
    name_level,
    upright,
)
from fluewright.drawing.plot.sheet import CENTER, LEFT, RIGHT, Sheet, checked
from fluewright.drawing.scene import Dash, Ink, Line, Pen, Scene
from fluewright.errors import OutOfRange

TALL_MM = {"column": 60.0, "phone": 62.0}
HEAD = 1.1  # a level has room for its words over it
ROOM = Measure(name="CO in the room", unit="ppm")
BLOOD = Measure(name="CO bound in the blood (COHb)", unit="%")


def exposure_plot(figure: ExposurePlot) -> Scene:
    """Room CO and carboxyhemoglobin against time, with the alarm window.

    Raises:
        OutOfRange: a number cannot be drawn, there is no breath, time goes back, or the window
            ends before it starts.
    """
    _check(figure)
    sheet = Sheet(figure)
    times = [b.time for b in figure.breaths]
    room = [b.co_ppm for b in figure.breaths] + [v.value * HEAD for v in figure.room_levels]
    blood = [b.cohb_percent for b in figure.breaths] + [v.value * HEAD for v in figure.blood_levels]
    tall = TALL_MM[figure.size]
    axes = upright(ROOM, room, tall, zero=True), upright(BLOOD, blood, tall, zero=True)
    margin = max(left_margin(sheet, axis) for axis in axes)
    ends = (min(times), max(times)) if len(set(times)) > 1 else None
    for measure, values, levels in (
        (ROOM, room, figure.room_levels),
        (BLOOD, blood, figure.blood_levels),
    ):
        panel = lay_panel(
            sheet, (figure.time, times), (measure, values), tall, zero=(False, True),
            x_ends=ends, titled=measure is BLOOD, room_left=margin,
        )  # fmt: skip
        _window(sheet, panel, figure.window)
        numbers = [
            (b.time, b.co_ppm if measure is ROOM else b.cohb_percent) for b in figure.breaths
        ]
        for level in levels:
            level_line(sheet, panel, level.value, "", ink=Ink.ALARM)
        chain = curve(sheet, panel, numbers)
        _levels(sheet, panel, levels)
        if measure is ROOM:
            _name_window(sheet, panel, figure.window)
        words = "room" if measure is ROOM else "blood"
        name_curve(sheet, chain, words, within=panel, key="")
    _about_alarm(sheet, figure)
    return sheet.finish(_said(figure))


def _check(figure: ExposurePlot) -> None:
    checked(figure, "exposure_plot")
    if not figure.breaths:
        raise OutOfRange("exposure_plot.breaths is empty. Give at least one.")
    if any(b.time < a.time for a, b in pairwise(figure.breaths)):
        raise OutOfRange("exposure_plot.breaths go back in time. Give them in order.")
    window = figure.window
    if window is None or window.start is None or window.to is None:
        return
    if window.to < window.start:
        raise OutOfRange(
            f"exposure_plot.window ends at {window.to:g}, before it starts at {window.start:g}. "
            "Give the start first."
        )


def _span(panel: Panel, window: AlarmWindow | None) -> tuple[float, float] | None:
    """The part of the window that is on the plot; None where none is. [as given]"""
    if window is None or window.start is None or window.start > panel.x.high:
        return None
    end = panel.x.high if window.to is None else min(window.to, panel.x.high)
    return max(window.start, panel.x.low), max(end, panel.x.low)


def _window(sheet: Sheet, panel: Panel, window: AlarmWindow | None) -> None:
    """The span of time in which an alarm first sounds, hatched between two lines."""
    span = _span(panel, window)
    if window is None or span is None:
        return
    sheet.hatch(box(panel, *span, panel.y.low, panel.y.high), 45.0, 3.0, Ink.GREY)
    for x in (window.start, window.to):
        if x is None or not panel.x.low <= x <= panel.x.high:
            continue
        foot, top = panel.at(x, panel.y.low), panel.at(x, panel.y.high)
        sheet.add(Line(foot, top, Pen.MIDDLE, dash=Dash.CENTER, layer="window"))


def _name_window(sheet: Sheet, panel: Panel, window: AlarmWindow | None) -> None:
    """What the window is, in it or beside it."""
    span = _span(panel, window)
    if window is None or span is None:
        return
    left, right = (panel.at(x, panel.y.low)[0] for x in span)
    tall = panel.top - panel.bottom
    heights = [panel.bottom + tall * h for h in (0.93, 0.8, 0.65, 0.5, 0.35, 0.2, 0.1)]
    inside = [((left + right) / 2, y) for y in heights]
    beside = [(right, y) for y in reversed(heights)]
    said = f"Hatched: {window.words}."
    for where, sides, key in ((inside, (CENTER,), ""), (beside, (RIGHT, LEFT), said)):
        if sheet.label(window.words, where, sides=sides, face="bold", within=panel, key=key):
            break


def _levels(sheet: Sheet, panel: Panel, levels: Sequence[Level]) -> None:
    for level in levels:
        name_level(sheet, panel, level.value, level.words, ink=Ink.ALARM,
                   shares=(0.02, 0.3, 0.6, 0.99),
                   key=f"Line at {plain_number(level.value)}: {level.words}.")  # fmt: skip


def _about_alarm(sheet: Sheet, figure: ExposurePlot) -> None:
    """What the window leaves unsaid."""
    window, end = figure.window, max(b.time for b in figure.breaths)
    if window is None:
        sheet.keys.append("When an alarm sounds was not worked out.")
    elif window.start is None or window.start > end:
        sheet.keys.append("No alarm has to sound in the time shown.")
    elif window.to is None or window.to > end:
        sheet.keys.append("An alarm need not sound by the end of the time shown.")


def _said(figure: ExposurePlot) -> list[str]:
    last, unit = figure.breaths[-1], figure.time.unit
    most = max(figure.breaths, key=lambda b: b.co_ppm)
    said = [
        f"CO in the room at most {plain_number(most.co_ppm)} ppm, "
        f"at {plain_number(most.time)} {unit}",
        f"COHb {plain_number(last.cohb_percent)} % after {plain_number(last.time)} {unit}",
    ]
    if figure.window is not None and figure.window.start is not None:
        end = figure.window.to
        to = "" if end is None else f" to {plain_number(end)}"
        said.append(f"{figure.window.words}: from {plain_number(figure.window.start)}{to} {unit}")
    said += [f"Level {plain_number(v.value)} ppm: {v.words}" for v in figure.room_levels]
    said += [f"Level {plain_number(v.value)} % COHb: {v.words}" for v in figure.blood_levels]
    return said
