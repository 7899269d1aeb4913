"""Temperatures and pressure beside the path, hood at the foot, cap at the top."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from fluewright.drawing.pipes import cap, hood, hood_height
from fluewright.drawing.plot.axis import Axis, Panel, axis_of, plain_number
from fluewright.drawing.plot.data import AlongThePath, Measure, Station
from fluewright.drawing.plot.panel import (
    curve,
    draw_level,
    draw_second,
    draw_upright,
    fitting,
    left_margin,
    name_curve,
    right_margin,
    upright,
)
from fluewright.drawing.plot.path_pipe import HALF_MM, Place, draw_pipe, name_stretches
from fluewright.drawing.plot.sheet import (
    ABOVE,
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
    middle_of,
)
from fluewright.drawing.scene import Dash, Ink, Line, Pen, Point, Scene, Text
from fluewright.errors import OutOfRange

TALL_MM = {"column": 112.0, "phone": 84.0}
GAP_MM = 5.0
CAP_MM = 6.5  # what a cap takes up over the end of the path
BESIDE: tuple[tuple[float, float], ...] = (
    UP_RIGHT, DOWN_RIGHT, RIGHT, UP_LEFT, DOWN_LEFT, LEFT, ABOVE, BELOW,
)  # fmt: skip
Read = Callable[[Station], float | None]


@dataclass(frozen=True, slots=True)
class _Shared:
    """The upright scale that path and panels share, and how a place of the path stands on it."""

    axis: Axis
    measure: Measure
    by_height: bool

    def of(self, station: Station) -> float:
        return station.height if self.by_height else station.along


def along_the_path(figure: AlongThePath) -> Scene:
    """Gas, wall and dew point, and pressure, drawn beside the path they belong to.

    Raises:
        OutOfRange: a number cannot be drawn, the path has fewer than two corners, there is no
            station, or the stations do not follow each other from the hood on.
    """
    _check(figure)
    sheet = Sheet(figure)
    tall = TALL_MM[figure.size]
    shared = _scale(figure, tall)
    wet = wet_spans(figure.stations)
    pressed = any(s.pressure is not None for s in figure.stations)
    if sheet.phone and pressed:
        _row(sheet, figure, shared, wet, (True, False), tall)
        sheet.y -= 2.0
        _row(sheet, figure, shared, wet, (False, True), tall)
    else:
        _row(sheet, figure, shared, wet, (True, pressed), tall)
    return sheet.finish(_said(figure, wet))


def _check(figure: AlongThePath) -> None:
    checked(figure, "along_the_path")
    if len(figure.path) < 2:
        raise OutOfRange(f"along_the_path.path has {len(figure.path)} corners. Give two or more.")
    if not figure.stations:
        raise OutOfRange("along_the_path.stations is empty. Give at least one.")
    if any(b.along < a.along for a, b in pairwise(figure.stations)):
        raise OutOfRange("along_the_path.stations go back. Give them from the hood on.")


def _scale(figure: AlongThePath, tall: float) -> _Shared:
    """The upright scale, with room for the hood below and the cap above the path."""
    lengths = [math.dist((a.x, a.z), (b.x, b.z)) for a, b in pairwise(figure.path)]
    rise = max(c.z for c in figure.path) - min(c.z for c in figure.path)
    by_height = figure.shared == "height" or (
        figure.shared == "auto" and rise >= 0.5 * sum(lengths)
    )
    measure = figure.length
    if by_height:
        values = [c.z for c in figure.path] + [s.height for s in figure.stations]
    else:
        measure = replace(measure, name="Length from the hood")
        values = [0.0, sum(lengths), *(s.along for s in figure.stations)]
    low, high = min(values), max(values)
    if high <= low:
        low, high = low - 0.5, low + 0.5
    foot = hood_height(HALF_MM) + 3.0 if figure.hood else 3.0
    head = CAP_MM if figure.cap else 3.0
    per_mm = (high - low) / (tall - foot - head)
    ends = (low - foot * per_mm, high + head * per_mm)
    axis = upright(measure, (low, high), tall, ends=ends)
    kept = [(t, w) for t, w in zip(axis.ticks, axis.labels, strict=True)
            if low - 1e-9 * abs(low) <= t or t == 0.0]  # fmt: skip
    if kept:
        axis = replace(axis, ticks=tuple(t for t, _ in kept), labels=tuple(w for _, w in kept))
    return _Shared(axis, measure, by_height)


def _row(sheet: Sheet, figure: AlongThePath, shared: _Shared, wet: Sequence[tuple[float, float]],
         shown: tuple[bool, bool], tall: float) -> None:  # fmt: skip
    """The path, and right of it the panels that are shown."""
    sheet.y -= sheet.type.small * 1.7
    top, bottom = sheet.y, sheet.y - tall
    left = sheet.left + left_margin(sheet, shared.axis)
    right = sheet.right - right_margin(sheet, shared.measure, shared.axis, tall)
    wide = right - left
    share = 0.30 if all(shown) else 0.40
    own = left + wide * share
    flat = axis_of(Measure(name=""), (0.0, 1.0))
    pipe_panel = Panel(left=left, bottom=bottom, right=own, top=top, x=flat, y=shared.axis)
    draw_upright(sheet, pipe_panel, replace(shared.measure, also=None), grid=False)
    for tick in shared.axis.ticks:
        y = pipe_panel.at(0.0, tick)[1]
        line = Line((left, y), (right, y), Pen.THIN, Ink.LIGHT, layer="grid")
        sheet.under.append(line)
    place = Place.of(figure, pipe_panel, by_height=shared.by_height)
    draw_pipe(sheet, figure, place, wet)
    _ends(sheet, figure, place)
    name_stretches(sheet, figure, place)
    spans = _spans(own + GAP_MM, right, shown)
    lows = [sheet.y]
    last: Panel | None = None
    if shown[0]:
        last = _temperatures(sheet, figure, shared, (spans[0][0], bottom, spans[0][1], top))
        lows.append(draw_level(sheet, last, figure.temperature))
    if shown[1]:
        last = _pressures(sheet, figure, shared, (spans[1][0], bottom, spans[1][1], top))
        lows.append(draw_level(sheet, last, figure.pressure))
    if last is not None:
        draw_second(sheet, last, shared.measure)
    sheet.y = min([bottom - 1.0, *lows])
    if shown[0] and any(s.wall is None for s in figure.stations):
        sheet.keys.append("Where the wall has no line its temperature is not known.")


def _spans(left: float, right: float, shown: tuple[bool, bool]) -> list[tuple[float, float]]:
    """Left and right end of each panel. [mm]"""
    if not all(shown):
        return [(left, right), (left, right)]
    cut = left + (right - left) * 0.58
    return [(left, cut - 4.0), (cut + 4.0, right)]


def _ends(sheet: Sheet, figure: AlongThePath, place: Place) -> None:
    """Hood and cap."""
    first, last = place.points[0], place.points[-1]
    if figure.hood:
        sheet.add(*hood(first, HALF_MM, "hood"))
    if figure.cap:
        sheet.add(*cap(last, HALF_MM))


# ------------------------------------------------------------------- what is plotted


def _temperatures(
    sheet: Sheet, figure: AlongThePath, shared: _Shared,
    where: tuple[float, float, float, float],
) -> Panel:  # fmt: skip
    stations = figure.stations
    values = [s.gas for s in stations]
    values += [v for s in stations for v in (s.wall, s.dew) if v is not None]
    panel = _panel(sheet, figure.temperature, values, shared, where, zero=False)
    for part in _wet(stations):
        wall = [panel.at(_known(s.wall), shared.of(s)) for s in part]
        dew = [panel.at(_known(s.dew), shared.of(s)) for s in part]
        sheet.hatch([*wall, *reversed(dew)], 45.0, 1.1)
    gas = _curve(sheet, panel, figure, shared, lambda s: s.gas, Dash.SOLID)
    walls = _curve(sheet, panel, figure, shared, lambda s: s.wall, Dash.DASHED)
    dews = _curve(sheet, panel, figure, shared, lambda s: s.dew, Dash.FINE, Pen.FIRM)
    lines = [line for line in (gas, walls, dews) if line]
    for words, line, look in (("gas", gas, "Firm"), ("wall", walls, "Dashed"),
                              ("dew point", dews, "Dotted")):  # fmt: skip
        if line:
            others = [other for other in lines if other is not line]
            name_curve(sheet, line, words, others=others, sides=BESIDE,
                       shares=(0.75, 0.6, 0.45, 0.85, 0.3, 0.2, 0.1, 0.95), within=panel,
                       key=f"{look} line: {words}.")  # fmt: skip
    for part in _wet(stations)[:1]:
        middle = [panel.at((_known(s.wall) + _known(s.dew)) / 2, shared.of(s)) for s in part]
        order = sorted(middle, key=lambda p: abs(p[1] - (middle[0][1] + middle[-1][1]) / 2))
        said = "Hatched: wet, the wall is colder than the dew point."
        for form, key in ((["wet: wall under", "the dew point"], ""), (["wet"], said)):
            if sheet.label(form, order, sides=(CENTER, *BESIDE), face="bold", near=1.0,
                           within=panel, key=key):  # fmt: skip
                break
    return panel


def _pressures(
    sheet: Sheet, figure: AlongThePath, shared: _Shared, where: tuple[float, float, float, float]
) -> Panel:
    stations = [s for s in figure.stations if s.pressure is not None]
    values = [_known(s.pressure) for s in stations]
    panel = _panel(sheet, figure.pressure, values, shared, where, zero=True)
    if panel.x.low < 0.0 < panel.x.high:
        a, b = panel.at(0.0, panel.y.low), panel.at(0.0, panel.y.high)
        sheet.add(Line(a, b, Pen.MIDDLE, layer="level"))
    for part in _where(figure.stations, lambda s: s.pressure):
        line = [panel.at(_known(s.pressure), shared.of(s)) for s in part]
        zero = [panel.at(0.0, shared.of(s)) for s in part]
        sheet.hatch([*line, *reversed(zero)], 135.0, 1.1, Ink.ALARM)
    _curve(sheet, panel, figure, shared, lambda s: s.pressure, Dash.SOLID)
    _name_pressures(sheet, panel, shared, stations)
    return panel


def _name_pressures(
    sheet: Sheet, panel: Panel, shared: _Shared, stations: Sequence[Station]
) -> None:
    """What each sign means, at the heights where it holds."""
    zero = panel.at(0.0, panel.y.low)[0]
    forms = (
        (1.0, ["pushes out", "through gaps"], Ink.ALARM,
         "Hatched pressure: the vent pushes gas out through its gaps."),
        (-1.0, ["draws in", "through gaps"], Ink.INK,
         "Left of zero the vent draws room air in through its gaps."),
    )  # fmt: skip
    for sign, words, ink, key in forms:
        held = [s for s in stations if _known(s.pressure) * sign > 0.0]
        if not held:
            continue
        held.sort(key=lambda s: -abs(_known(s.pressure)))
        heights = [panel.at(0.0, shared.of(s))[1] for s in held]
        span = (min(heights), max(heights))
        places = [panel.at(_known(s.pressure) * f, shared.of(s)) for s in held for f in (0.5, 1.0)]
        reach = zero + 1.0 if sign < 0 else panel.right
        sheet.label(words, places, sides=(CENTER, *BESIDE), ink=ink, within=panel, key=key,
                    face="bold" if sign > 0 else "regular",
                    apart=_in_box(panel.left, reach, *span))  # fmt: skip


def _in_box(left: float, right: float, low: float, high: float) -> Callable[[Sequence[Text]], bool]:
    """Says of some words whether their middle lies in a box."""

    def inside(texts: Sequence[Text]) -> bool:
        x, y = middle_of(texts)
        return left <= x <= right and low <= y <= high

    return inside


def _panel(
    sheet: Sheet, measure: Measure, values: Sequence[float], shared: _Shared,
    where: tuple[float, float, float, float], *, zero: bool,
) -> Panel:  # fmt: skip
    left, bottom, right, top = where
    axis = fitting(measure, values, right - left, sheet.type.small, zero=zero)
    sheet.add(Line((left, bottom), (left, top), layer="axis"))
    return Panel(left=left, bottom=bottom, right=right, top=top, x=axis, y=shared.axis)


def _curve(
    sheet: Sheet, panel: Panel, figure: AlongThePath, shared: _Shared, read: Read,
    dash: Dash, pen: Pen = Pen.HEAVY,
) -> list[Point]:  # fmt: skip
    """A line through the stations where it is known, broken elsewhere; its longest piece."""
    longest: list[Point] = []
    for run in _runs(figure.stations, read):
        chain = curve(sheet, panel, [(v, shared.of(s)) for s, v in run], dash=dash, pen=pen)
        longest = max(longest, chain, key=len)
    return longest


def _known(value: float | None) -> float:
    """A value that was asked for only where it is known."""
    if value is None:
        raise OutOfRange("along_the_path: a station lacks a number that its neighbors have.")
    return value


# ------------------------------------------------------------------- where it is wet


def _runs(stations: Sequence[Station], read: Read) -> list[list[tuple[Station, float]]]:
    """The stations that follow each other with the number known, and that number."""
    runs: list[list[tuple[Station, float]]] = [[]]
    for station in stations:
        value = read(station)
        if value is not None:
            runs[-1].append((station, value))
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


def wet_spans(stations: Sequence[Station]) -> list[tuple[float, float]]:
    """Stretches along the path whose wall is under the dew point. [as given]"""
    return [(part[0].along, part[-1].along) for part in _wet(stations)]


def _wet(stations: Sequence[Station]) -> list[list[Station]]:
    return _where(stations, _under_dew)


def _under_dew(station: Station) -> float | None:
    """How far the wall is under the dew point; None where either is not known."""
    if station.wall is None or station.dew is None:
        return None
    return station.dew - station.wall


def _where(stations: Sequence[Station], over: Read) -> list[list[Station]]:
    """The stretches on which a quantity is above zero, straight between known stations."""
    found: list[list[Station]] = []
    for run in _runs(stations, over):
        part: list[Station] = []
        for (a, u), (b, v) in pairwise(run):
            if u * v < 0.0:
                cut = _mix(a, b, u / (u - v))
                part += [a, cut] if u > 0.0 else [cut]
            elif u > 0.0:
                part.append(a)
            if v <= 0.0 and part:
                found.append(part if u * v < 0.0 else [*part, b])
                part = []
        if part:
            found.append([*part, run[-1][0]])
    return found


def _mix(a: Station, b: Station, t: float) -> Station:
    """A station part of the way between two."""
    return Station(
        along=a.along + (b.along - a.along) * t,
        height=a.height + (b.height - a.height) * t,
        gas=a.gas + (b.gas - a.gas) * t,
        dew=_mixed(a.dew, b.dew, t),
        wall=_mixed(a.wall, b.wall, t),
        pressure=_mixed(a.pressure, b.pressure, t),
    )


def _mixed(a: float | None, b: float | None, t: float) -> float | None:
    return None if a is None or b is None else a + (b - a) * t


def _said(figure: AlongThePath, wet: Sequence[tuple[float, float]]) -> list[str]:
    """The figure in words."""
    first, last = figure.stations[0], figure.stations[-1]
    unit = figure.temperature.unit
    said = [
        f"Gas from {plain_number(first.gas)} {unit} at the foot to {plain_number(last.gas)} {unit} "
        "at the top"
    ]
    length = figure.length.unit
    for start, end in wet:
        said.append(
            f"Wall under the dew point from {plain_number(start)} to {plain_number(end)} {length} "
            "along the path"
        )
    if not wet and any(s.wall is None for s in figure.stations):
        said.append("Whether the wall is wet is not known everywhere")
    pressures = [s.pressure for s in figure.stations if s.pressure is not None]
    if pressures:
        said.append(
            f"Pressure in the vent less that around it from {plain_number(min(pressures))} to "
            f"{plain_number(max(pressures))} {figure.pressure.unit}"
        )
    return said
