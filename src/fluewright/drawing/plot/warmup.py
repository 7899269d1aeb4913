"""Flow, wall and spillage after a cold start, over one scale of time."""

from __future__ import annotations

from itertools import pairwise

from fluewright.drawing.plot.axis import Panel, plain_number
from fluewright.drawing.plot.data import Measure, Moment, WarmupTrace
from fluewright.drawing.plot.panel import (
    FROM_END,
    Numbers,
    band,
    curve,
    lay_panel,
    left_margin,
    level_line,
    name_curve,
    name_upright,
    upright,
    upright_line,
)
from fluewright.drawing.plot.sheet import CENTER, RIGHT, Sheet, checked
from fluewright.drawing.scene import Dash, Ink, Pen, Scene
from fluewright.errors import OutOfRange

TALL_MM = {"column": 42.0, "phone": 46.0}
SPILLED = Measure(name="Gas that spills", unit="%")


def warmup_trace(figure: WarmupTrace) -> Scene:
    """Flow, wall temperature with dew point, and share of gas spilled against time.

    Raises:
        OutOfRange: a number cannot be drawn, there is no moment, time goes back, or a share is not
            from 0 to 1.
    """
    _check(figure)
    sheet = Sheet(figure)
    moments = figure.moments
    times = [m.time for m in moments]
    flows = [m.flow for m in moments] + ([] if figure.demand is None else [figure.demand])
    warm = [m.wall for m in moments] + [m.dew for m in moments if m.dew is not None]
    tall = TALL_MM[figure.size]
    axes = (
        upright(figure.flow, flows, tall, zero=True),
        upright(figure.temperature, warm, tall),
        upright(SPILLED, (0.0, 100.0), tall),
    )
    room = max(left_margin(sheet, axis) for axis in axes)
    seconds = [m for m in (figure.flow, figure.temperature) if m.also is not None]
    right = sheet.type.small * 4.0 if seconds else 4.0
    ends = (min(0.0, *times), max(times)) if len(set(times)) > 1 else None

    def panel(measure: Measure, values: list[float], *, zero: bool, last: bool) -> Panel:
        made = lay_panel(
            sheet, (figure.time, times), (measure, values), tall, zero=(False, zero),
            x_ends=ends, titled=last, room_left=room, room_right=right,
        )  # fmt: skip
        if figure.established is not None and made.x.low <= figure.established <= made.x.high:
            upright_line(sheet, made, figure.established, "")
        return made

    _flow(sheet, panel(figure.flow, flows, zero=True, last=False), figure)
    _wall(sheet, panel(figure.temperature, warm, zero=False, last=False), moments)
    share = panel(SPILLED, [0.0, 100.0], zero=True, last=True)
    _spill(sheet, share, moments)
    if figure.established is not None:
        name_upright(sheet, share, figure.established, "nothing spills from here")
    elif moments[-1].spilled > 0.0:
        sheet.keys.append("Gas still spills at the end of the time shown.")
    return sheet.finish(_said(figure))


def _check(figure: WarmupTrace) -> None:
    checked(figure, "warmup_trace")
    if not figure.moments:
        raise OutOfRange("warmup_trace.moments is empty. Give at least one.")
    if any(b.time < a.time for a, b in pairwise(figure.moments)):
        raise OutOfRange("warmup_trace.moments go back in time. Give them in order.")
    for n, moment in enumerate(figure.moments):
        if not 0.0 <= moment.spilled <= 1.0:
            raise OutOfRange(
                f"warmup_trace.moments[{n}].spilled is {moment.spilled}. Give a share from 0 to 1."
            )


def _flow(sheet: Sheet, panel: Panel, figure: WarmupTrace) -> None:
    numbers = [(m.time, m.flow) for m in figure.moments]
    if figure.demand is not None:
        short = [(t, min(f, figure.demand)) for t, f in numbers]
        band(sheet, panel, short, [(t, figure.demand) for t, _ in short], angle_deg=135.0,
             ink=Ink.ALARM)  # fmt: skip
    chain = curve(sheet, panel, numbers)
    if figure.demand is not None:
        said = f"flue gas: {plain_number(figure.demand)} {figure.flow.unit}".rstrip()
        level_line(sheet, panel, figure.demand, said, shares=FROM_END)
    name_curve(sheet, chain, "flow up the vent", within=panel, key="Firm line: flow up the vent.")


def _wall(sheet: Sheet, panel: Panel, moments: tuple[Moment, ...]) -> None:
    walls: Numbers = [(m.time, m.wall) for m in moments]
    runs = _known_dew(moments)
    for run in runs:
        dews = [(t, dew) for t, _, dew in run]
        band(sheet, panel, [(t, min(wall, dew)) for t, wall, dew in run], dews, spacing_mm=1.1)
    wall = curve(sheet, panel, walls, dash=Dash.DASHED)
    drawn = [
        curve(sheet, panel, [(t, dew) for t, _, dew in run], dash=Dash.FINE, pen=Pen.FIRM)
        for run in runs
    ]
    name_curve(sheet, wall, "wall", others=drawn, within=panel, key="Dashed line: wall.")
    if drawn:
        name_curve(sheet, max(drawn, key=len), "dew point", others=(wall,), within=panel,
                   key="Dotted line: dew point.")  # fmt: skip
    wet = [one for run in runs for one in run if one[1] < one[2]]
    if wet:
        middle = (wet[0][0] + wet[-1][0]) / 2
        wet.sort(key=lambda one: abs(one[0] - middle))
        places = [panel.at(t, (a + b) / 2) for t, a, b in wet]
        sheet.label("wet", places, sides=(CENTER, RIGHT), face="bold", within=panel,
                    key="Hatched: wet, the wall is colder than the dew point.")  # fmt: skip


def _known_dew(moments: tuple[Moment, ...]) -> list[list[tuple[float, float, float]]]:
    """The stretches of time in which gas goes up: time, wall, dew point."""
    runs: list[list[tuple[float, float, float]]] = [[]]
    for m in moments:
        if m.dew is not None:
            runs[-1].append((m.time, m.wall, m.dew))
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


def _spill(sheet: Sheet, panel: Panel, moments: tuple[Moment, ...]) -> None:
    numbers = [(m.time, m.spilled * 100.0) for m in moments]
    if any(share > 0.0 for _, share in numbers):
        band(sheet, panel, [(t, 0.0) for t, _ in numbers], numbers, angle_deg=135.0, ink=Ink.ALARM)
    curve(sheet, panel, numbers, ink=Ink.ALARM)


def _said(figure: WarmupTrace) -> list[str]:
    first, last = figure.moments[0], figure.moments[-1]
    unit = figure.time.unit
    said = [
        f"From {plain_number(first.time)} to {plain_number(last.time)} {unit}: flow from "
        f"{plain_number(first.flow)} to {plain_number(last.flow)} {figure.flow.unit}, wall from "
        f"{plain_number(first.wall)} to {plain_number(last.wall)} {figure.temperature.unit}, "
        f"spilled from {plain_number(first.spilled * 100)} to {plain_number(last.spilled * 100)} %"
    ]
    if figure.established is not None:
        said.append(f"Nothing spills from {plain_number(figure.established)} {unit} on")
    return said
