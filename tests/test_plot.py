"""Plots: nothing overlaps or leaves the sheet, ticks are round, odd numbers are refused."""

from __future__ import annotations

import math
import random
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from functools import partial
from typing import Any, get_args

import pytest

import plot_samples as samples
from fluewright.drawing import plot
from fluewright.drawing.layout import layout_check
from fluewright.drawing.plot.axis import also_axis, axis_of, nice_step, number, round_ticks
from fluewright.drawing.plot.chances import percent
from fluewright.drawing.plot.data import (
    AlarmWindow,
    Also,
    Branch,
    Corner,
    Effect,
    Figure,
    FlowBalance,
    Measure,
    Root,
    Size,
    SpillTimeMap,
    Station,
)
from fluewright.drawing.plot.path import wet_spans
from fluewright.drawing.scene import Circle, Dash, Ink, Line, Pen, Polygon, Scene, Text
from fluewright.errors import OutOfRange
from fluewright.render.fonts import common_glyphs
from fluewright.render.svg import to_svg

Draw = Callable[[Any], Scene]
FIGURES: dict[str, tuple[Draw, Callable[..., Any]]] = {
    "path": (plot.along_the_path, samples.path),
    "path that pushes": (plot.along_the_path, partial(samples.path, lifted=1.0)),
    "level path": (plot.along_the_path, samples.flat_path),
    "balance": (plot.flow_balance, samples.balance),
    "balance reversed": (plot.flow_balance, partial(samples.balance, spills=True)),
    "map": (plot.spill_time_map, samples.spill_map),
    "warm-up": (plot.warmup_trace, samples.warmup),
    "no warm-up": (plot.warmup_trace, partial(samples.warmup, never=True)),
    "tornado": (plot.tornado, samples.effects),
    "exposure": (plot.exposure_plot, samples.exposure),
    "chances": (plot.probability_bars, samples.chances),
}
SIZES: tuple[Size, ...] = get_args(Size)


def drawn(name: str, size: Size = "column") -> Scene:
    draw, make = FIGURES[name]
    return draw(make(size))


def words(scene: Scene) -> list[str]:
    return [item.text.replace("\u2044", "/") for item in scene.plain() if isinstance(item, Text)]


def said(scene: Scene) -> str:
    return " ".join(words(scene))


# ---------------------------------------------------------------- every figure


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", FIGURES)
def test_no_words_overlap_or_leave_the_sheet(name: str, size: Size) -> None:
    assert layout_check(drawn(name, size)) == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", FIGURES)
def test_nothing_is_drawn_beyond_the_sheet(name: str, size: Size) -> None:
    scene = drawn(name, size)
    for item in scene.plain():
        points = [item.a, item.b] if isinstance(item, Line) else []
        points += list(item.points) if hasattr(item, "points") and not callable(item.points) else []
        for x, y in points:
            assert -0.01 <= x <= scene.width_mm + 0.01
            assert -0.01 <= y <= scene.height_mm + 0.01


@pytest.mark.parametrize("name", FIGURES)
def test_it_fits_the_column_of_a_report_and_a_phone(name: str) -> None:
    column, phone = drawn(name, "column"), drawn(name, "phone")
    assert column.width_mm <= 210.0 - 41.0  # A4 less the margins of the report
    assert column.height_mm <= 279.4 - 74.0  # Letter less the margins of the report
    assert phone.width_mm <= 90.0
    smallest = min(item.size_mm for item in phone.plain() if isinstance(item, Text))
    assert smallest * 390.0 / phone.width_mm >= 14.0  # picture points on a phone 390 wide


@pytest.mark.parametrize("name", FIGURES)
def test_the_same_numbers_give_the_same_scene(name: str) -> None:
    assert drawn(name) == drawn(name)
    assert to_svg(drawn(name)) == to_svg(drawn(name))


@pytest.mark.parametrize("name", FIGURES)
def test_title_answer_and_caution_are_said_to_those_who_do_not_see(name: str) -> None:
    draw, make = FIGURES[name]
    figure: Figure = make("column")
    scene = draw(figure)
    assert scene.title == figure.title
    assert figure.answer.rstrip(".") in scene.description
    assert figure.caution in scene.description
    root = ET.fromstring(to_svg(scene, embed_fonts=False))
    assert root.find("{http://www.w3.org/2000/svg}desc") is not None


@pytest.mark.parametrize("name", FIGURES)
def test_every_letter_is_in_the_face_and_no_promise_is_made(name: str) -> None:
    text = said(drawn(name)) + drawn(name).description
    assert {c for c in text if ord(c) not in common_glyphs()} <= {"\u2044"}
    for never in ("safe", "compliant", "certified", "guaranteed"):
        assert never not in text.lower()


@pytest.mark.parametrize("name", FIGURES)
def test_an_alarm_has_a_shape_and_a_word_besides_its_color(name: str) -> None:
    draw, make = FIGURES[name]
    scene = draw(replace(make("column"), alarm=True, answer="All the gas spills."))
    heads = [item for item in scene.items if getattr(item, "kind", "") == "hazard"]
    assert len(heads) == 1
    assert "All the gas spills." in words(scene)


def broken(value: object, to: float) -> list[object]:
    """The value once for each number in it, with that number changed."""
    made: list[object] = []
    if isinstance(value, tuple):
        for n in {0, len(value) - 1} if value else ():
            made += [(*value[:n], bad, *value[n + 1 :]) for bad in broken(value[n], to)]
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            for bad in broken(getattr(value, field.name), to):
                made.append(replace(value, **{field.name: bad}))
    elif isinstance(value, float):
        made.append(to)
    return made


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, 1e31])
@pytest.mark.parametrize("name", FIGURES)
def test_a_number_that_is_none_is_refused_by_name(name: str, bad: float) -> None:
    draw, make = FIGURES[name]
    cases = broken(make("column"), bad)
    assert len(cases) > 3
    for case in cases:
        with pytest.raises(OutOfRange, match=r"\w+\.\w+.* is (nan|inf|-inf|1e\+31)\."):
            draw(case)


# ---------------------------------------------------------------- ticks


@pytest.mark.parametrize(
    ("low", "high", "most", "expected"),
    [
        (0.0, 10.0, 5, (0, 2, 4, 6, 8, 10)),
        (0.0, 9.3, 5, (0, 2, 4, 6, 8, 10)),
        (-1.2, 3.1, 6, (-2, -1, 0, 1, 2, 3, 4)),
        (0.013, 0.047, 4, (0.01, 0.02, 0.03, 0.04, 0.05)),
        (995.0, 1005.0, 2, (995, 1000, 1005)),
        (0.0, 1e9, 5, (0, 2e8, 4e8, 6e8, 8e8, 1e9)),
    ],
)
def test_ticks_are_round_and_enclose_the_range(
    low: float, high: float, most: int, expected: tuple[float, ...]
) -> None:
    assert round_ticks(low, high, most) == pytest.approx(expected)


@pytest.mark.parametrize("power", [-12, -3, 0, 4, 9, 20])
@pytest.mark.parametrize("share", [0.011, 0.19, 1.0, 2.4, 4.99, 7.3])
def test_a_step_is_1_2_or_5_times_a_power_of_ten(power: int, share: float) -> None:
    step = nice_step(0.0, share * 10.0**power, 6)
    first = step / 10.0 ** math.floor(math.log10(step * (1 + 1e-9)))
    assert any(first == pytest.approx(m) for m in (1, 2, 5))
    assert share * 10.0**power / step <= 6 * (1 + 1e-9)


def test_numbers_on_an_axis_are_plain() -> None:
    assert number(-1200.0, 0) == "\u22121,200"
    assert number(-0.04, 1) == "0.0"
    axis = axis_of(Measure(name="Heat", unit="W"), (0.0, 9e6))
    assert axis.title == "Heat, millions W"
    assert axis.labels == ("0", "2", "4", "6", "8", "10")
    assert axis_of(Measure(name="Flow", unit="kg/s"), (0.0, 2e-5)).title == "Flow, millionths kg/s"


@pytest.mark.parametrize("value", [0.0, 5.0, -3.0, 1e-25, 1e29, -1e12])
def test_numbers_all_alike_get_a_range_around_them(value: float) -> None:
    axis = axis_of(Measure(name="x"), (value, value))
    assert axis.low < value < axis.high
    assert len(set(axis.labels)) == len(axis.labels) >= 2


@pytest.mark.parametrize(
    ("low", "high"), [(-1e29, 1e29), (1e-29, 2e-29), (0.0, 1e-25), (1.0, 1e28)]
)
def test_huge_and_tiny_ranges_have_different_labels(low: float, high: float) -> None:
    axis = axis_of(Measure(name="x"), (low, high))
    assert axis.low <= low <= high <= axis.high
    assert len(set(axis.labels)) == len(axis.labels) >= 2
    assert all(len(label) <= 7 for label in axis.labels)


def test_the_second_scale_is_round_in_its_own_unit_and_stands_where_it_belongs() -> None:
    fahrenheit = Measure(name="Outdoors", unit="°C", also=Also(unit="°F", times=1.8, plus=32.0))
    axis = axis_of(fahrenheit, (-20.0, 30.0))
    second = also_axis(fahrenheit, axis, 6)
    assert second is not None
    placed = dict(zip(second.labels, second.ticks, strict=True))
    assert placed["0"] == pytest.approx(-17.778, abs=0.001)
    assert placed["80"] == pytest.approx(26.667, abs=0.001)
    assert second.title == "°F"


def test_no_number_at_all_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"Flow: there is no number to draw"):
        axis_of(Measure(name="Flow"), ())


# ---------------------------------------------------------------- along the path


def test_the_wall_is_wet_from_where_it_crosses_the_dew_point() -> None:
    stations = (
        Station(along=0.0, height=0.0, gas=90.0, dew=40.0, wall=60.0),
        Station(along=2.0, height=2.0, gas=80.0, dew=40.0, wall=50.0),
        Station(along=4.0, height=4.0, gas=70.0, dew=40.0, wall=30.0),
    )
    assert wet_spans(stations) == [(3.0, 4.0)]
    assert wet_spans(stations[:2]) == []


def test_a_wall_nobody_knows_is_not_said_to_be_dry() -> None:
    figure = samples.path()
    unknown = replace(figure, stations=tuple(replace(s, wall=None) for s in figure.stations))
    scene = plot.along_the_path(unknown)
    assert "Whether the wall is wet is not known" in scene.description
    assert "its temperature is not known" in said(scene)
    assert "wet:" not in said(scene)


def test_no_line_is_drawn_over_a_stretch_that_nobody_knows() -> None:
    figure = samples.path()
    gap = tuple(replace(s, wall=None) if 10 <= n < 20 else s for n, s in enumerate(figure.stations))

    def dashed(scene: Scene) -> list[Polygon]:
        lines = [i for i in scene.items if isinstance(i, Polygon) and i.layer == "curve"]
        return [line for line in lines if line.dash is Dash.DASHED]

    whole, broken_line = (
        dashed(drawn("path")),
        dashed(plot.along_the_path(replace(figure, stations=gap))),
    )
    assert [len(line.points) for line in whole] == [41]
    assert [len(line.points) for line in broken_line] == [10, 21]


def test_a_wall_unknown_between_two_wet_ones_is_not_said_to_be_wet() -> None:
    stations = tuple(
        Station(along=float(n), height=float(n), gas=60.0, dew=40.0, wall=wall)
        for n, wall in enumerate((30.0, 30.0, None, 30.0, 30.0, 50.0))
    )
    assert wet_spans(stations) == [(0.0, 1.0), (3.0, 4.5)]


def test_wet_and_pushing_stretches_are_named() -> None:
    assert "wet: wall under the dew point" in said(drawn("path"))
    assert "pushes out through gaps" in said(drawn("path that pushes"))


def test_a_path_mostly_level_is_drawn_along_its_length() -> None:
    assert "Length from the hood, m" in words(drawn("level path"))
    assert "Height, m" in words(drawn("path"))


@pytest.mark.parametrize("size", SIZES)
def test_one_station_and_one_stretch_are_enough(size: Size) -> None:
    figure = samples.path(size)
    one = replace(
        figure,
        path=(Corner(x=0.0, z=0.0, name="pipe"), Corner(x=0.0, z=3.0)),
        stations=(Station(along=0.0, height=0.0, gas=50.0, dew=50.0, wall=50.0, pressure=0.0),),
    )
    assert layout_check(plot.along_the_path(one)) == []


def test_a_path_without_rise_or_length_is_drawn() -> None:
    here = (Corner(x=0.0, z=0.0, name="pipe"), Corner(x=0.0, z=0.0))
    stations = (Station(along=0.0, height=0.0, gas=50.0, dew=40.0),)
    figure = replace(samples.path(), path=here, stations=stations)
    assert layout_check(plot.along_the_path(figure)) == []


def test_a_path_that_is_none_is_refused() -> None:
    figure = samples.path()
    for change, message in (
        ({"path": figure.path[:1]}, r"path has 1 corners"),
        ({"stations": ()}, r"stations is empty"),
        ({"stations": figure.stations[::-1]}, r"stations go back"),
    ):
        with pytest.raises(OutOfRange, match=message):
            plot.along_the_path(replace(figure, **change))  # type: ignore[arg-type]


# ---------------------------------------------------------------- balance


def points(scene: Scene) -> list[Circle]:
    return [item for item in scene.items if isinstance(item, Circle) and item.layer == "point"]


def test_what_stays_is_a_disc_and_what_passes_a_ring() -> None:
    marks = points(drawn("balance"))
    assert [mark.fill for mark in marks] == [Ink.ALARM, Ink.PAPER, Ink.INK]
    assert "stalled, cannot stay" in said(drawn("balance"))


def test_the_operating_point_and_its_margin_are_named() -> None:
    assert "runs here: drafting" in words(drawn("balance"))
    assert "1.5 Pa to spare" in words(drawn("balance"))
    assert "0.8 Pa lacking" in words(drawn("balance reversed"))
    assert "flue gas: 7.5 g/s" in words(drawn("balance"))


def test_an_operating_point_nobody_knows_is_not_made_up() -> None:
    scene = plot.flow_balance(replace(samples.balance(), operating=None, margin_pa=None))
    assert "runs here" not in said(scene)
    assert "spare" not in said(scene).replace(samples.balance().answer, "")


def test_a_root_that_is_not_there_is_refused() -> None:
    for change, message in (
        ({"operating": 3}, r"operating is 3, there are 3 roots"),
        ({"available": ()}, r"available has no points"),
        ({"lost": ((1.0, 1.0), (0.0, 1.0))}, r"lost goes back in flow"),
    ):
        with pytest.raises(OutOfRange, match=message):
            plot.flow_balance(replace(samples.balance(), **change))  # type: ignore[arg-type]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("scale", "rise"), [(1.0, 0.0), (1e9, 1e-9), (1e-9, 1e9), (1e28, 1e28), (0.0, 1.0), (1.0, 1.0)]
)
def test_odd_lines_of_flow_are_drawn(size: Size, scale: float, rise: float) -> None:
    line = ((0.0, rise), (scale, rise))
    figure = FlowBalance(
        title="Odd", answer="Odd.", available=line, lost=((0.0, 0.0),), size=size,
        roots=(Root(flow=0.0, pressure=0.0, branch="stalled", stable=False),) * 3,
        demand=scale, operating=1, margin_pa=1e-12,
    )  # fmt: skip
    assert layout_check(plot.flow_balance(figure)) == []


@pytest.mark.slow
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seed", range(6))
def test_no_words_overlap_on_random_balances_and_bars(seed: int, size: Size) -> None:
    chance = random.Random(seed)

    def line() -> tuple[tuple[float, float], ...]:
        flows = sorted(chance.uniform(-9.0, 20.0) for _ in range(chance.randint(1, 20)))
        return tuple((flow, chance.uniform(-4.0, 6.0)) for flow in flows)

    roots = tuple(
        Root(flow=chance.uniform(-9.0, 20.0), pressure=chance.uniform(-4.0, 6.0),
             branch=chance.choice(get_args(Branch)), stable=chance.random() < 0.5)
        for _ in range(5)
    )  # fmt: skip
    balance = replace(
        samples.balance(size), available=line(), lost=line(), roots=roots,
        operating=chance.randrange(5), demand=chance.uniform(-2.0, 20.0),
    )  # fmt: skip
    assert layout_check(plot.flow_balance(balance)) == []
    inputs = tuple(
        Effect(name="A long name of an input that matters"[: chance.randint(3, 36)], low="12 ft",
               high="30 °C", at_low=chance.uniform(-5.0, 5.0), at_high=chance.uniform(-5.0, 5.0))
        for _ in range(chance.randint(1, 10))
    )  # fmt: skip
    assert layout_check(plot.tornado(replace(samples.effects(size), effects=inputs))) == []


# ---------------------------------------------------------------- map


def test_the_lines_between_classes_stand_between_the_cells_that_differ() -> None:
    figure = SpillTimeMap(
        title="t", answer="a", outdoor=(0.0, 10.0), house=(-2.0, 0.0),
        classes=(("never", "never"), ("short", "over_1")),
    )  # fmt: skip
    scene = plot.spill_time_map(figure)
    lines = [i for i in scene.items if isinstance(i, Line) and i.layer == "contour"]
    assert len(lines) == 3
    assert all(line.pen is Pen.HEAVY for line in lines)


def test_every_class_that_occurs_is_named_and_no_other() -> None:
    text = said(drawn("map"))
    for name in ("1 min or less", "over 1 min", "over 5 min", "never drafts", "not known"):
        assert name in text
    alone = replace(samples.spill_map(), outdoor=(5.0,), house=(0.0,), classes=(("unknown",),))
    assert "not known" in said(plot.spill_time_map(alone))
    assert "1 min" not in said(plot.spill_time_map(alone)).replace(alone.answer, "")


def test_a_day_outside_the_map_widens_it() -> None:
    figure = samples.spill_map()
    far = replace(figure, tests=(replace(figure.tests[0], outdoor=60.0, house=20.0),))
    assert layout_check(plot.spill_time_map(far)) == []
    assert "the day of the test" in said(plot.spill_time_map(far))


def test_a_map_that_is_not_full_is_refused() -> None:
    figure = samples.spill_map()
    for change, message in (
        ({"classes": figure.classes[1:]}, r"needed are 19 rows of 16"),
        ({"outdoor": figure.outdoor[::-1]}, r"outdoor does not rise"),
        ({"house": ()}, r"house is empty"),
    ):
        with pytest.raises(OutOfRange, match=message):
            plot.spill_time_map(replace(figure, **change))  # type: ignore[arg-type]


# ---------------------------------------------------------------- warm-up


def test_the_end_of_spillage_is_named_and_its_absence_too() -> None:
    assert "nothing spills from here" in words(drawn("warm-up"))
    assert "Gas still spills at the end of the time shown." in words(drawn("no warm-up"))
    assert "Gas still spills" not in said(drawn("warm-up"))


@pytest.mark.parametrize("size", SIZES)
def test_one_moment_is_enough(size: Size) -> None:
    figure = samples.warmup(size)
    one = replace(figure, moments=figure.moments[:1], established=None)
    assert layout_check(plot.warmup_trace(one)) == []


def test_a_trace_that_is_none_is_refused() -> None:
    figure = samples.warmup()
    for change, message in (
        ({"moments": ()}, r"moments is empty"),
        ({"moments": figure.moments[::-1]}, r"go back in time"),
        ({"moments": (replace(figure.moments[0], spilled=1.2),)}, r"spilled is 1\.2"),
    ):
        with pytest.raises(OutOfRange, match=message):
            plot.warmup_trace(replace(figure, **change))  # type: ignore[arg-type]


# ---------------------------------------------------------------- tornado


def heights(scene: Scene, wanted: tuple[str, ...]) -> list[float]:
    found = {i.text: i.at[1] for i in scene.plain() if isinstance(i, Text)}
    return [found[word] for word in wanted]


def test_the_greatest_effect_comes_first_and_each_end_says_its_input() -> None:
    scene = drawn("tornado")
    order = ("House pressure", "Outdoor temperature", "Height of the vent", "Elbows")
    placed = heights(scene, order)
    assert placed == sorted(placed, reverse=True)
    for word in ("\u22125 Pa", "0 Pa", "10 ft", "14 ft", "calm", "gusts"):
        assert word in words(scene)
    assert "as surveyed: 1.5 Pa" in words(scene)
    assert "no draft to spare" in words(scene)


@pytest.mark.parametrize("size", SIZES)
def test_inputs_that_move_nothing_are_drawn(size: Size) -> None:
    still = Effect(name="Elbows", low="1", high="4", at_low=0.0, at_high=0.0)
    figure = replace(samples.effects(size), base=0.0, effects=(still,) * 3, limit=None)
    assert layout_check(plot.tornado(figure)) == []


def test_a_bar_reaches_the_result_at_its_end() -> None:
    effect = Effect(name="x", low="low", high="high", at_low=-2.0, at_high=4.0)
    scene = plot.tornado(replace(samples.effects(), base=0.0, effects=(effect,), limit=None))
    bars = [i for i in scene.items if isinstance(i, Polygon) and i.layer == "bar"]
    lengths = [max(x for x, _ in b.points) - min(x for x, _ in b.points) for b in bars]
    assert lengths[1] / lengths[0] == pytest.approx(2.0)


# ---------------------------------------------------------------- exposure


def test_what_is_not_known_of_an_alarm_is_said() -> None:
    figure = samples.exposure()
    for window, text in (
        (None, "When an alarm sounds was not worked out."),
        (AlarmWindow(start=None), "No alarm has to sound in the time shown."),
        (AlarmWindow(start=900.0), "No alarm has to sound in the time shown."),
        (AlarmWindow(start=20.0), "An alarm need not sound by the end of the time shown."),
        (
            AlarmWindow(start=20.0, to=900.0),
            "An alarm need not sound by the end of the time shown.",
        ),
    ):
        scene = plot.exposure_plot(replace(figure, window=window))
        assert text in words(scene)
        assert layout_check(scene) == []


def test_the_caution_on_carbon_monoxide_stands_on_the_figure() -> None:
    assert "harms before an alarm sounds" in said(drawn("exposure"))
    assert "an alarm first sounds in here" in said(drawn("exposure"))


def test_a_window_that_ends_before_it_starts_is_refused() -> None:
    figure = replace(samples.exposure(), window=AlarmWindow(start=50.0, to=20.0))
    with pytest.raises(OutOfRange, match=r"ends at 20, before it starts at 50"):
        plot.exposure_plot(figure)


# ---------------------------------------------------------------- chances


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.0, "under 0.5 %"),
        (0.004, "under 0.5 %"),
        (0.031, "3.1 %"),
        (0.127, "13 %"),
        (0.994, "99 %"),
        (1.0, "over 99.5 %"),
    ],
)
def test_a_probability_is_never_said_to_be_nothing_or_all(share: float, text: str) -> None:
    assert percent(share) == text


@pytest.mark.parametrize("size", SIZES)
def test_the_hours_over_a_bar_are_those_that_spill(size: Size) -> None:
    scene = drawn("chances", size)
    for hours in ("4", "12", "38", "96", "210", "265", "120"):
        assert hours in words(scene)
    assert sum(word in ("under 1", "<1") for word in words(scene)) == 1


def test_odd_chances_are_refused() -> None:
    figure = samples.chances()
    chance, part = figure.chances[0], figure.bins[0]
    for change, message in (
        ({"chances": (), "bins": ()}, r"neither chances nor bins"),
        ({"chances": (replace(chance, high=0.1),)}, r"chances\[0\] is 0\.127 in 0\.11 to 0\.1"),
        ({"chances": (replace(chance, high=1.1),)}, r"chances\[0\]"),
        ({"bins": (replace(part, spilled=23.0),)}, r"bins\[0\] spills 23 of 22 hours"),
    ):
        with pytest.raises(OutOfRange, match=message):
            plot.probability_bars(replace(figure, **change))  # type: ignore[arg-type]


@pytest.mark.parametrize("size", SIZES)
def test_chances_or_hours_alone_are_drawn(size: Size) -> None:
    figure = samples.chances(size)
    for change in ({"chances": ()}, {"bins": ()}, {"bins": figure.bins[:1], "chances": ()}):
        assert layout_check(plot.probability_bars(replace(figure, **change))) == []  # type: ignore[arg-type]
