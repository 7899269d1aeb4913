"""The figures of the draft engine: true to what it solved, readable, danger first."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from random import Random
from typing import Any, get_args

import pytest
from tests.demo_jobs import plain
from tests.draft.systems import heater, random_system

from fluewright.draft import kernel
from fluewright.draft.assess import Assessment, assess
from fluewright.draft.from_survey import Conditions, Modelled, from_survey
from fluewright.draft.solve import figures, solve
from fluewright.draft.spill_map import SpillTimes, spill_times
from fluewright.draft.system import Lone
from fluewright.draft.warmup import Start, warm_up
from fluewright.drawing import draft_units as units
from fluewright.drawing.draft_balance import flow_balance, shares
from fluewright.drawing.draft_figures import (
    BALANCE,
    CHANCES,
    MAP,
    MATTERS,
    PATH,
    START,
    class_of,
    figures_of,
    spill_time_map,
    tornado,
    warmup_trace,
)
from fluewright.drawing.draft_path import along_the_path, room_pressure
from fluewright.drawing.draft_words import answer_words, is_danger, temperature_words
from fluewright.drawing.layout import layout_check
from fluewright.drawing.plot.data import Size
from fluewright.drawing.plot.path import wet_spans
from fluewright.drawing.scene import Scene, Text
from fluewright.drawing.words import Style
from fluewright.ensemble.outcome import Outcome, Share
from fluewright.errors import OutOfRange
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels

SIZES: tuple[Size, ...] = get_args(Size)
STYLES: tuple[Style, ...] = get_args(Style)
PROMISES = re.compile(r"\b(safe|safely|compliant|certified|guaranteed?)\b", re.IGNORECASE)
SUCTION = Conditions(outdoor_k=300.0, room_pa=-6.0)  # it drafts hot and cannot start
STRONG = Conditions(outdoor_k=300.0, room_pa=-20.0)  # it spills hot as well


@cache
def model(name: str, conditions: Conditions | None = None) -> Modelled:
    return modelled(plain(name), conditions)


def modelled(data: Any, conditions: Conditions | None = None) -> Modelled:
    survey = survey_from_text(json.dumps(data, default=str), "demo.json")
    return from_survey(
        survey, coefficients(), default_fuels(), conditions=conditions, appliance="heater"
    )


@cache
def found(name: str, conditions: Conditions | None = None) -> Assessment:
    return assess(model(name, conditions))


@cache
def times() -> SpillTimes:
    start = Start(burn_s=600.0, step_s=10.0)
    return spill_times(model("otter-bend"), start, (270.0, 290.0, 310.0), (-4.0, -2.0, 0.0))


def share(of: int, count: int) -> Share:
    return Share(count=count, of=of, share=count / of, low=0.5 * count / of, high=0.9)


OUTCOME = Outcome(
    samples=1000, spills=share(1000, 10), fails_to_start=share(400, 240), wet=share(1000, 300),
    margin_pa=None, flow_kg_s=None, draft_pa=None, dilution=None, influences=(), unsolved=(),
    refused=(),
)  # fmt: skip

CASES = {
    "otter-bend": ("otter-bend", None),
    "masonry": ("kiln-street", None),
    "offset": ("larch-attic", None),
    "cannot start": ("larch-attic", SUCTION),
    "spills": ("otter-bend", STRONG),
}


def drawn(case: str, style: Style = "us", size: Size = "column") -> dict[str, Scene]:
    name, conditions = CASES[case]
    made = figures_of(
        model(name, conditions), found(name, conditions), style, OUTCOME, times(), size
    )
    return dict(made)


def words(scene: Scene) -> list[str]:
    return [item.text for item in scene.plain() if isinstance(item, Text)]


# ------------------------------------------------------------------- every figure


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("case", CASES)
def test_no_words_overlap_and_no_promise_is_made(case: str, style: Style, size: Size) -> None:
    made = drawn(case, style, size)
    assert list(made) == [PATH, BALANCE, START, MATTERS, MAP, CHANCES]
    for name, scene in made.items():
        assert layout_check(scene) == [], name
        assert not PROMISES.search(scene.description), name
        assert "not measured" in scene.description, name


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("case", CASES)
def test_no_line_parts_a_number_from_its_unit(case: str, size: Size) -> None:
    unit = re.compile(r"(°[FC]|Pa|in w\.c\.|w\.c\.|in²|lb/h|min|s|%)[.,;:)]*( |$)")
    for scene in drawn(case, "us", size).values():
        lines = words(scene)
        for before, line in pairwise(lines):
            parted = re.search(r"\d$", before) and unit.match(line)
            assert not (parted and len(before) > 20), (before, line)


@pytest.mark.parametrize("case", ["cannot start", "spills"])
def test_danger_stands_first_and_is_marked(case: str) -> None:
    name, conditions = CASES[case]
    assessment = found(name, conditions)
    assert is_danger(assessment)
    made = drawn(case)
    for key in (PATH, BALANCE, START):
        first = made[key].description.split(".")[0]
        assert re.search("spill|can stop the vent", first, re.IGNORECASE), key
        assert any(getattr(item, "kind", "") == "hazard" for item in made[key].items), key


def test_a_start_that_fails_leads_before_a_hot_vent_that_drafts() -> None:
    assessment = found("larch-attic", SUCTION)
    assert assessment.solved.margin_pa > 0.0
    assert answer_words(assessment, "us").startswith("From cold the vent does not take over")


def test_a_quiet_answer_is_no_alarm_and_gives_its_range() -> None:
    assessment = found("otter-bend-repaired")
    said = answer_words(assessment, "metric")
    assert not is_danger(assessment)
    assert "at their worst" in said
    assert "in w.c." not in said


# ------------------------------------------------------------------- the balance


def test_what_is_had_less_what_is_used_is_the_spare_pressure_of_the_kernel() -> None:
    chance = Random(4)
    for _ in range(40):
        par, rows = figures(random_system(chance))
        most = kernel.flow_scale(par, rows, len(rows))
        for flow in (-most, -0.1 * most, 0.02 * most, 0.3 * most, 1.5 * most):
            have, used = shares(flow, par, rows)
            spare = kernel.spare_pressure(flow, par, rows, len(rows))
            assert have - used == pytest.approx(spare, abs=1e-9 * max(abs(have), abs(used), 1.0))


def test_the_flow_uses_up_pressure_against_its_own_direction() -> None:
    par, rows = figures(heater())
    demand = par[kernel.FLUE_KG_S]
    for flow in (0.2 * demand, demand, 2.0 * demand):
        up, down = shares(flow, par, rows)[1], shares(-flow, par, rows)[1]
        assert up > 0.0 > down
    # Without flow what is to be had is the lightness of what stands in the vent, by hand.
    still = shares(-1e-9, par, rows)[0]
    air = par[kernel.AIR_PA] / 8314.462618
    stands = sum(
        9.80665 * row[kernel.RISE] * air * par[kernel.OUT_MOLAR]
        * (1.0 / par[kernel.OUT_K] - 1.0 / row[kernel.AMBIENT])
        for row in rows
    )  # fmt: skip
    plume = kernel.reversed_hood(1e-9, par[kernel.OUT_K], [
        math.inf if n == kernel.RELIEF_M2 else value for n, value in enumerate(par)
    ])  # fmt: skip
    assert still == pytest.approx(stands + plume, rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_every_root_lies_where_the_lines_cross(case: str) -> None:
    name, conditions = CASES[case]
    figure = flow_balance(model(name, conditions), found(name, conditions), "metric")
    assert len(figure.roots) == len(found(name, conditions).solved.roots)
    have, used = dict(figure.available), dict(figure.lost)
    for root in figure.roots:
        if root.flow:
            assert have[root.flow] == pytest.approx(root.pressure)
            assert used[root.flow] == pytest.approx(root.pressure, abs=1e-6)


def test_a_vent_that_never_starts_is_said_to_run_where_its_start_led() -> None:
    figure = flow_balance(model("larch-attic", SUCTION), found("larch-attic", SUCTION), "us")
    assert figure.operating is not None
    assert figure.roots[figure.operating].branch == "reversed"
    assert "drafting" in [root.branch for root in figure.roots]
    quiet = flow_balance(model("otter-bend"), found("otter-bend"), "us")
    assert quiet.operating is not None
    assert quiet.roots[quiet.operating].branch == "drafting"


# ------------------------------------------------------------------- along the path


@pytest.mark.parametrize("case", CASES)
def test_the_path_is_as_long_and_as_high_as_the_vent(case: str) -> None:
    name, conditions = CASES[case]
    system = model(name, conditions).system
    figure = along_the_path(model(name, conditions), found(name, conditions), "metric")
    long = sum(math.dist((a.x, a.z), (b.x, b.z)) for a, b in zip(figure.path, figure.path[1:],
                                                                strict=False))  # fmt: skip
    assert long == pytest.approx(sum(one.length_m for one in system.segments))
    assert figure.path[-1].z == pytest.approx(sum(one.rise_m for one in system.segments))
    assert figure.stations[-1].along == pytest.approx(long)


def test_temperatures_decay_between_the_stations_that_were_solved() -> None:
    at = found("otter-bend").solved.at
    figure = along_the_path(model("otter-bend"), found("otter-bend"), "metric")
    gas = [one.gas for one in figure.stations]
    assert gas[0] == pytest.approx(at.stations[0].start_k - 273.15)
    assert gas[-1] == pytest.approx(at.stations[-1].end_k - 273.15)
    assert gas == sorted(gas, reverse=True)
    feet = along_the_path(model("otter-bend"), found("otter-bend"), "us")
    assert feet.stations[0].gas == pytest.approx(gas[0] * 1.8 + 32.0)


def test_wet_stretches_are_those_that_the_engine_calls_wet() -> None:
    at = found("kiln-street").solved.at
    assert [one.name for one in at.stations if one.wet] == ["flue", "flue over the roof"]
    figure = along_the_path(model("kiln-street"), found("kiln-street"), "us")
    (span,) = wet_spans(figure.stations)
    assert span[1] == pytest.approx(figure.stations[-1].along)
    assert "masonry" in figure.notes[0]
    assert figure.answer.startswith("It may spill: old openings of the flue are not closed")
    dry = along_the_path(model("otter-bend"), found("otter-bend"), "us")
    assert wet_spans(dry.stations) == []


def test_pressure_in_the_room_is_against_the_room() -> None:
    """Under suction the room pulls too: what counts at a joint is the difference to the room."""
    under = Conditions(room_pa=-2.0)
    figure = along_the_path(model("otter-bend", under), found("otter-bend", under), "metric")
    at = found("otter-bend", under).solved.at
    assert figure.stations[0].pressure == pytest.approx(at.draft_pa)
    assert figure.stations[-1].pressure == pytest.approx(at.stations[-1].end_pa)
    around = replace(model("otter-bend").system.around, room_water=0.0)
    assert room_pressure(around, 0.0) == around.room_pa
    lift = room_pressure(around, 10.0) - around.room_pa  # dry air of 287.05 J/(kg K), by hand
    by_hand = 9.80665 * 10.0 * around.air_pa / 287.05 * (1 / around.outdoor_k - 1 / around.room_k)
    assert lift == pytest.approx(by_hand, rel=1e-3)


# ------------------------------------------------------------------- start, inputs, weather


def test_the_trace_keeps_every_turn_of_spillage() -> None:
    data = model("otter-bend", Conditions(outdoor_k=277.0, room_pa=-2.3))
    course = warm_up(data.system, Start())
    assessment = found("otter-bend")
    figure = warmup_trace(data, assessment, course, "us")
    assert len(figure.moments) <= 200
    assert any(one.spilled > 0 for one in figure.moments) == any(s > 0 for s in course.spilt)
    assert figure.moments[-1].time == pytest.approx(course.at_s[-1] / 60.0)


def test_a_reversed_vent_has_no_dew_point_and_is_drawn() -> None:
    assessment = found("larch-attic", SUCTION)
    assert assessment.start is not None
    figure = warmup_trace(model("larch-attic", SUCTION), assessment, assessment.start, "us")
    assert all(one.dew is None for one in figure.moments)
    assert figure.established is None
    assert figure.alarm


def test_effects_are_the_ten_strongest_and_stand_in_plain_units() -> None:
    assessment = found("otter-bend")
    figure = tornado(model("otter-bend"), assessment, "us")
    assert len(figure.effects) == 10
    reach = [abs(one.at_high - one.at_low) for one in figure.effects]
    assert reach == sorted(reach, reverse=True)
    assert (figure.effects[0].low, figure.effects[0].high) == ("75 %", "84 %")
    assert figure.limit is not None
    assert figure.limit.value == 0.0
    assert not any(re.search(r"\d K$|W/\(m2", one.low) for one in figure.effects)


@pytest.mark.parametrize(
    ("name", "value", "unit", "us", "metric"),
    [  # conversions by hand from the definitions of foot, pound and degree
        ("x", 288.7056, "K", "60 °F (16 °C)", "16 °C"),
        ("x", 5.678263, "W/(m2 K)", "U 1.00", "U 5.7"),
        ("x", 0.3048, "m", "12 in", "0.305 m"),
        ("x", 152.4, "m", "500 ft", "152 m"),
        ("x", 0.8, "W/W", "80 %", "80 %"),
        ("reading.tape", -1.0, "1", "all too short", "all too short"),
        ("x", -3.0, "Pa", "−3.0 Pa (−0.012 in w.c.)", "−3.0 Pa"),
    ],
)
def test_inputs_in_words(name: str, value: float, unit: str, us: str, metric: str) -> None:
    assert units.input_words(name, value, unit, "us") == us
    assert units.input_words(name, value, unit, "metric") == metric


def test_degrees_below_zero_have_a_true_minus() -> None:
    assert temperature_words(255.0, "us") == "−1 °F (−18 °C)"


def test_no_appliance_with_a_fan_has_a_hood_to_balance() -> None:
    data = plain("otter-bend")
    data["appliances"]["heater"]["draft"] = "fan_assisted"
    fan = modelled(data)
    made = figures_of(fan, assess(fan), "us")
    assert [name for name, _ in made] == [PATH, MATTERS]


def test_the_map_has_a_class_for_each_cell_and_marks_the_weather_computed() -> None:
    figure = spill_time_map(model("otter-bend"), times(), "us")
    assert figure.tests[0].outdoor == pytest.approx(60.0, abs=0.1)
    assert [class_of(one) for one in (0.0, 60.0, 61.0, 301.0, None)] == [
        "short", "short", "over_1", "over_5", "never",
    ]  # fmt: skip
    outside = spill_time_map(model("larch-attic", STRONG), times(), "us")
    assert outside.tests == ()


def test_deeper_suction_is_not_computed_where_a_start_has_failed_and_would_fail_too() -> None:
    asked: list[tuple[float, float]] = []

    class Counted:
        def build(self, values: Any) -> Lone:
            asked.append((values["outdoor_k"], values["room_pa"]))
            return model("otter-bend").build(values)

    start = Start(burn_s=600.0, step_s=10.0)
    told: list[tuple[int, int]] = []
    line = (-6.0, -4.0, -2.0, 0.0)
    quick = spill_times(Counted(), start, (290.0,), line, progress=lambda a, b: told.append((a, b)))
    assert told == [(1, 1)]
    assert len(asked) < len(line)
    for pressure, row in zip(quick.room_pa, quick.spills_s, strict=True):
        system = model("otter-bend").build({"outdoor_k": 290.0, "room_pa": pressure})
        assert warm_up(system, start).spills_s == row[0]


@pytest.mark.parametrize("line", [(), (1.0, 1.0), (2.0, 1.0)])
def test_a_grid_that_does_not_rise_is_refused(line: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRange, match="outdoor_k"):
        spill_times(model("otter-bend"), Start(), line)


def test_a_wall_that_stays_reversed_when_hot_is_drawn() -> None:
    """Strong suction: the only balance is downward, and the figure says so."""
    assert solve(model("otter-bend", STRONG).system).at.root.branch == "reversed"
    figure = along_the_path(model("otter-bend", STRONG), found("otter-bend", STRONG), "us")
    assert all(one.dew is None for one in figure.stations)
    assert any("comes down" in note for note in figure.notes)
