"""A survey as a system to solve: nothing in silence, every number with its range and origin."""

from __future__ import annotations

import json
import math
from functools import cache
from random import Random
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.demo_jobs import plain, routes, without
from tests.random_surveys import Changer, jobs

from fluewright.draft.from_survey import Conditions, Modelled, from_survey
from fluewright.draft.plausible import refuse
from fluewright.draft.solve import Solved, solve
from fluewright.draft.system import STANDARD_AIR_PA, Lone
from fluewright.errors import BadSurvey, CannotModel, NotSolved, OutOfRange
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels

Data = dict[str, Any]
LONE = [
    f"{slug}{twin}"
    for slug in (
        "kiln-street", "larch-attic", "linen-nook", "meadow-garage", "north-gable", "otter-bend"
    )
    for twin in ("", "-repaired")
]  # fmt: skip
INCH, FOOT, BTU_H = 0.0254, 0.3048, 0.29307107


def model(data: Data, **how: Any) -> Modelled:
    text = json.dumps(data, default=str)
    return from_survey(survey_from_text(text, "job.json"), coefficients(), default_fuels(), **how)


@cache
def demo(name: str) -> Modelled:
    return model(plain(name))


def pieces(data: Data) -> list[Data]:
    found: list[Data] = data["paths"][0]["pieces"]
    return found


def piece(data: Data, name: str) -> Data:
    return next(one for one in pieces(data) if one["id"] == name)


def solved(data: Data, **how: Any) -> Solved:
    return solve(model(data, **how).system)


# ---------------------------------------------------------------- invented jobs


@pytest.mark.parametrize("name", LONE)
def test_every_invented_job_of_one_appliance_builds_and_solves(name: str) -> None:
    found = demo(name)
    refuse(found.system)
    at = solve(found.system).at
    assert at.root.branch == "drafting"
    assert at.mass_error < 1e-9
    assert at.energy_error < 1e-9


@pytest.mark.parametrize("name", LONE)
def test_inputs_are_few_and_each_says_where_it_comes_from(name: str) -> None:
    inputs = demo(name).inputs
    assert 10 <= len(inputs) <= 40
    assert len({one.name for one in inputs}) == len(inputs)
    for one in inputs:
        assert one.low <= one.value <= one.high, one.name
        assert one.label.strip(), one.name
        assert one.unit.strip(), one.name
        assert one.origin == "measured" or one.origin.removeprefix("assumed: ").strip(), one.name
        assert (one.spread == "fixed") == (one.low == one.high), one.name


@pytest.mark.parametrize("name", LONE)
def test_system_is_the_one_built_from_the_middle_of_every_input(name: str) -> None:
    found = demo(name)
    assert found.build({}) == found.system
    assert found.build({one.name: one.value for one in found.inputs}) == found.system


@pytest.mark.parametrize("name", LONE)
def test_every_input_with_a_range_moves_the_system(name: str) -> None:
    found = demo(name)
    still = [
        one.name
        for one in found.inputs
        if one.low < one.high
        and found.build({one.name: one.low}) == found.build({one.name: one.high})
    ]
    assert still == []


@given(data=st.data(), name=st.sampled_from(LONE))
def test_any_draw_between_the_bounds_is_a_system_that_can_be(
    data: st.DataObject, name: str
) -> None:
    found = demo(name)
    shares = data.draw(
        st.lists(st.floats(0.0, 1.0), min_size=len(found.inputs), max_size=len(found.inputs))
    )
    values = {
        one.name: one.low + share * (one.high - one.low)
        for one, share in zip(found.inputs, shares, strict=True)
    }
    system = found.build(values)
    refuse(system)
    assert system == found.build(values)
    idle = found.build(values, firing=False)
    assert idle.flue.mass_kg_s == 0.0
    assert idle.segments == system.segments


@pytest.mark.parametrize("name", ["north-gable", "larch-attic"])
def test_arrays_of_inputs_go_through_the_same_arithmetic(name: str) -> None:
    found = demo(name)
    low = {one.name: one.low for one in found.inputs}
    high = {one.name: one.high for one in found.inputs}
    both = {key: np.array([low[key], high[key]]) for key in low}
    for stretch in found.plan.stretches:
        rows = [
            stretch.segments(values, 280.0, 294.0)  # type: ignore[arg-type]
            for values in (low, high, both)
        ]
        for one, other, pair in zip(*rows, strict=True):
            for key in ("length_m", "rise_m", "diameter_m", "entry_loss", "ambient_k", "u_w_m2k"):
                expected = [getattr(one, key), getattr(other, key)]
                assert np.broadcast_to(getattr(pair, key), 2) == pytest.approx(expected), key


def test_random_surveys_are_modelled_or_say_what_is_missing() -> None:
    lone = [job for job in jobs() if "trunk" not in job.get("common", {})]
    modelled, asked = 0, 0
    for seed in range(80):
        text = json.dumps(Changer(seed).changed(lone[seed % len(lone)]), default=str)
        try:
            survey = survey_from_text(text, "random.json")
            found = from_survey(survey, coefficients(), default_fuels(), appliance="heater")
        except (BadSurvey, CannotModel):
            asked += 1
            continue
        modelled += 1
        chance = Random(seed)
        for _ in range(5):
            refuse(found.build({one.name: chance.choice((one.low, one.high))
                                for one in found.inputs}))  # fmt: skip
    assert modelled > 15
    assert asked > 15


def test_several_appliances_on_one_vent_are_not_taken_for_one() -> None:
    with pytest.raises(CannotModel, match="exactly one path is needed; found: heater, furnace"):
        model(plain("alder-court"))
    with pytest.raises(CannotModel, match="heater: it shares trunk with others"):
        model(plain("alder-court"), appliance="heater")


def test_an_input_that_nobody_knows_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no input tallness"):
        demo("otter-bend").build({"tallness": 3.0})


# ---------------------------------------------------------------- figures by hand


def test_figures_of_a_connector_and_vent_are_those_of_the_survey() -> None:
    """Derived by hand from the lengths that stand in otter-bend.yaml."""
    found = demo("otter-bend").system
    c1, c2, c3, _, v1, v2 = found.segments
    assert c1.length_m == pytest.approx(14 * INCH)
    assert c1.rise_m == pytest.approx(14 * INCH)
    assert c2.length_m == pytest.approx(2 * 5.25 * INCH)
    slope = math.atan(1 / 96)  # 1/8 in per ft
    assert c2.rise_m == pytest.approx(5.25 * INCH * (1 + math.sin(slope)))
    assert c3.rise_m == pytest.approx(46 * INCH * math.sin(slope))
    assert v1.length_m == v1.rise_m == pytest.approx(74 * INCH)
    assert v2.ambient_k == found.around.outdoor_k
    attic = coefficients().value("attic.room_share")
    between = found.around.outdoor_k + attic * (found.around.room_k - found.around.outdoor_k)
    assert v1.ambient_k == pytest.approx(between)
    assert {s.diameter_m for s in found.segments} == {4 * INCH}
    table = coefficients()
    assert c1.entry_loss == table.value("hood.entrance_loss")
    assert c2.entry_loss == table.value("elbow.loss_90")
    assert c1.u_w_m2k == table.value("wall_u.single_galvanized")
    assert v1.u_w_m2k == table.value("wall_u.type_b")
    assert found.cap_loss == table.value("cap.listed")


def test_mass_of_flue_gas_is_near_the_handbook_ratio() -> None:
    """0.705 (0.159 + 10.72/CO2) lb per 1000 Btu (ASHRAE Handbook, chimneys, from memory).

    The composition gives 2 to 3 % more at every CO2, moist room air another 1 %: within 5 %.
    """
    found = demo("otter-bend").system.flue
    pounds = 0.705 * (0.159 + 10.72 / (100 * found.co2_dry))
    assert found.mass_kg_s == pytest.approx(40.0 * pounds * 0.45359237 / 3600.0, rel=0.05)
    # 8 % oxygen in dry gas of natural gas is 7.3 % carbon dioxide (field chart, page of 2020).
    assert found.co2_dry == pytest.approx(0.0733, abs=0.0005)


def test_a_flue_by_its_area_loses_the_head_of_the_connector_where_it_is_entered() -> None:
    found = demo("north-gable").system
    flue = next(s for s in found.segments if s.name == "flue")
    area = 50 * INCH**2
    assert flue.area_m2 == pytest.approx(area)
    assert flue.diameter_m == pytest.approx(math.sqrt(area))  # square: 4 A / (4 a)
    connector = math.pi / 4 * (5 * INCH) ** 2
    tee = coefficients().value("fitting.tee")
    assert flue.entry_loss == pytest.approx(tee * (area / connector) ** 2)
    # Three of its four sides see outdoors below the roof.
    out, room = found.around.outdoor_k, coefficients().value("room.temperature")
    share = coefficients().value("masonry.exposed_share")
    assert flue.ambient_k == pytest.approx(out + (1.0 - share) * (room - out))


def test_what_stands_over_the_roof_is_outdoors() -> None:
    found = demo("linen-nook").system
    lower, upper = found.segments[-2:]
    assert upper.name == "v2 over the roof"
    assert upper.length_m == pytest.approx(20 * INCH)
    assert lower.length_m + upper.length_m == pytest.approx(8 * FOOT)
    assert upper.ambient_k == found.around.outdoor_k
    assert upper.entry_loss == 0.0


def test_changes_of_size_cost_what_the_handbook_says() -> None:
    data = plain("linen-nook")
    for wide, narrow in ((5, 4), (4, 5)):
        piece(data, "c1")["diameter"] = f"{wide} in"
        for name in ("v1", "v2", "cap"):
            piece(data, name)["diameter"] = f"{narrow} in"
        entry = model(data).system.segments[1].entry_loss
        first, second = wide**2, narrow**2
        expected = (
            0.5 * (1 - second / first)
            if wide > narrow
            else (1 - first / second) ** 2 * (second / first) ** 2
        )
        assert entry == pytest.approx(expected)


def test_units_of_the_survey_change_nothing() -> None:
    data = plain("otter-bend")
    metric = plain("otter-bend")
    piece(data, "c3")["length"] = "46 in ± 1/16 in"
    piece(metric, "c3")["length"] = "1168.4 mm ± 1.5875 mm"
    metric["appliances"]["heater"]["input"] = f"{40000 * BTU_H / 1000:.9f} kW"
    one, other = model(data), model(metric)
    assert one.values == pytest.approx(other.values, rel=1e-8)
    assert solve(one.system).margin_pa == pytest.approx(solve(other.system).margin_pa, rel=1e-7)


def test_altitude_thins_the_air_and_weakens_the_draft() -> None:
    """ISA at 5000 ft: 84 307 Pa (ICAO standard atmosphere)."""
    data = plain("otter-bend")
    low = plain("otter-bend")
    data["site"]["elevation"], low["site"]["elevation"] = "5000 ft ± 0 ft", "0 ft ± 0 ft"
    high, sea = model(data), model(low)
    assert high.system.around.air_pa == pytest.approx(84_307, rel=2e-4)
    assert sea.system.around.air_pa == pytest.approx(STANDARD_AIR_PA)
    assert solve(high.system).at.draft_pa > solve(sea.system).at.draft_pa  # nearer to zero
    rate = {one.name: one for one in high.inputs}["flue.rate_to_plate"]
    assert rate.low == pytest.approx(0.9 * (1 - 0.04 * 5))  # derated 4 % for each 1000 ft


def test_conditions_are_inputs_of_their_own() -> None:
    data = plain("otter-bend")
    found = model(data, conditions=Conditions(outdoor_k=(263.0, 273.0, 283.0), room_pa=-3.0))
    outdoor = {one.name: one for one in found.inputs}["outdoor_k"]
    assert (outdoor.low, outdoor.value, outdoor.high) == (263.0, 273.0, 283.0)
    assert outdoor.origin == "given"
    assert found.system.around.room_pa == -3.0
    usual = demo("otter-bend")
    assert usual.system.around.outdoor_k == pytest.approx((60 + 459.67) / 1.8, abs=1e-3)
    assert {one.name: one for one in usual.inputs}["outdoor_k"].origin.startswith("assumed")
    with pytest.raises(OutOfRange, match="low, value, high"):
        model(data, conditions=Conditions(wind_pa=(1.0, 0.0, 2.0)))


# ---------------------------------------------------------------- coarse beside detailed


def coarse() -> Data:
    """otter-bend as one who measures four lengths would have it."""
    data = plain("otter-bend")
    del data["photos"]  # of pieces that are not seen one by one
    shared = {"space": "laundry", "holes": False, "crushed": False}
    data["paths"][0]["pieces"] = [
        {"id": "k", "part": "run", "role": "connector", "wall": "single", "metal": "galvanized",
         "diameter": "4 in", "rise": "25 in", "horizontal": "56 in", **shared,
         "elbows": ["90 deg", "90 deg"]},
        {"id": "w", "part": "run", "role": "vent", "wall": "type_b", "diameter": "4 in",
         "rise": "9 ft 7 in", "horizontal": "0 in", "elbows": "none", **shared, "space": "attic"},
        {"id": "cap", "part": "cap", "wall": "type_b", "diameter": "4 in", "listed": True,
         "clear": True},
    ]  # fmt: skip
    return data


def test_coarse_and_detailed_surveys_of_one_vent_agree() -> None:
    fine, rough = solved(plain("otter-bend")), solved(coarse())
    assert rough.at.draft_pa == pytest.approx(fine.at.draft_pa, rel=0.03)
    assert rough.margin_pa == pytest.approx(fine.margin_pa, rel=0.03)
    assert rough.at.root.flow_kg_s == pytest.approx(fine.at.root.flow_kg_s, rel=0.03)
    assert rough.at.gas_k == pytest.approx(fine.at.gas_k, abs=3.0)


def test_elbows_that_nobody_counted_are_assumed_widely_and_listed() -> None:
    data = coarse()
    del pieces(data)[0]["elbows"]
    found = model(data)
    elbows = {one.name: one for one in found.inputs}["k.elbows"]
    assert (elbows.low, elbows.value, elbows.high) == (0.0, 2.0, 4.0)
    listed = [one.text for one in found.assumed if one.what == "elbows of k"]
    assert listed == [
        "elbows of k: 0 to 4 of 90 degrees. To know: count them and note their angles."
    ]


# ---------------------------------------------------------------- what is missing


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda d: piece(d, "v1").pop("length"), r"v1: length is not known\. Measure it"),
        (lambda d: piece(d, "c1").pop("diameter"), "c1: inside diameter is not known"),
        (lambda d: piece(d, "v1").pop("runs"), "v1: direction is not known"),
        (lambda d: d["appliances"]["heater"].pop("input"), "heater: heat input is not known"),
        (lambda d: d["appliances"]["heater"].pop("draft"), "heater: how its gas is driven"),
        (lambda d: d["appliances"]["heater"].update(draft="power_vented"), "natural draft"),
        (lambda d: d["appliances"]["heater"].update(draft="condensing"), "natural draft"),
        (lambda d: d["appliances"]["heater"]["hood"].update(present=False), "hood is missing"),
        (lambda d: (d["paths"][0].pop("pieces"), d.pop("photos")), "heater: way of its gas"),
        (lambda d: d["paths"][0]["roof"].update(ends="attic"), "it ends in the attic"),
        (lambda d: d["paths"][0]["vent"].update(draft_fan=True), "fan in the vent"),
    ],
)  # fmt: skip
def test_what_cannot_be_assumed_is_asked_for(change: Any, message: str) -> None:
    data = plain("otter-bend")
    change(data)
    with pytest.raises(CannotModel, match=message):
        model(data)


def test_everything_that_is_missing_is_named_at_once() -> None:
    data = plain("otter-bend")
    del piece(data, "v1")["length"]
    del data["appliances"]["heater"]["input"]
    with pytest.raises(CannotModel) as error:
        model(data)
    assert len(error.value.gaps) == 2
    assert isinstance(error.value, NotSolved)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: piece(d, "v1").update(crushed=True), "v1 is crushed"),
        (lambda d: piece(d, "v1").update(holes=True), "v1 has holes"),
        (lambda d: piece(d, "cap").update(clear=False), "cap is not clear"),
        (lambda d: d["paths"][0]["vent"].update(blocked=True), "the vent is blocked"),
        (lambda d: d["paths"][0]["connector"].update(dips=True), "dips or sags"),
    ],
)  # fmt: skip
def test_what_is_there_and_not_computed_is_said(change: Any, words: str) -> None:
    data = plain("otter-bend")
    before = demo("otter-bend").not_modelled
    change(data)
    added = [one for one in model(data).not_modelled if one not in before]
    assert len(added) == 1
    assert words in added[0]


def test_an_open_joint_of_the_survey_is_said() -> None:
    assert any("c4 stands open" in one for one in demo("otter-bend").not_modelled)


def test_fan_assisted_has_no_hood_and_its_own_carbon_dioxide() -> None:
    data = plain("linen-nook")
    data["appliances"]["heater"]["draft"] = "fan_assisted"
    del data["appliances"]["heater"]["checks"]["flue_oxygen"]
    found = model(data)
    assert found.system.hood is None
    assert found.system.segments[0].entry_loss == 0.0
    assert found.system.flue.co2_dry == pytest.approx(coefficients().value("flue.fan_co2_dry"))


# ---------------------------------------------------------------- a key struck


def summary(system: Lone) -> dict[str, float]:
    """What a system comes to, whatever pieces it is cut into."""
    parts = system.segments
    length = sum(one.length_m for one in parts)
    end = parts[-1]

    def mean(key: str) -> float:
        return sum(getattr(one, key) * one.length_m for one in parts) / length

    return {
        "length": length,
        "rise": sum(one.rise_m for one in parts),
        "ambient": mean("ambient_k"),
        "u": mean("u_w_m2k"),
        "rough": mean("roughness_m"),
        "stored": mean("wall_j_m2k"),
        "entry": sum(one.entry_loss for one in parts),
        "cap": system.cap_loss,
        "bore": end.diameter_m,
        "flue": system.flue.mass_kg_s,
        "flue_k": system.flue.temperature_k,
        "relief": system.hood.relief_m2 if system.hood else 0.0,
        "room": system.around.room_k,
        "air": system.around.air_pa,
    }


def reach(found: Modelled) -> dict[str, tuple[float, float]]:
    """How far each figure goes: input after input put to the end that takes it further."""
    middle = summary(found.system)
    ends = {
        (one.name, value): summary(found.build({one.name: value}))
        for one in found.inputs
        if one.low < one.high
        for value in (one.low, one.high)
    }
    spans = {}
    for key, usual in middle.items():
        moving = [name_value for name_value, end in ends.items() if end[key] != usual]
        both = [furthest(found, key, moving, sign) for sign in (-1.0, 1.0)]
        spans[key] = (both[0], both[1])
    return spans


def furthest(found: Modelled, key: str, moving: list[tuple[str, float]], sign: float) -> float:
    """The least (-1) or greatest (1) value of a figure that two rounds over its inputs find."""
    at: dict[str, float] = {}
    best = summary(found.system)[key]
    for name, value in moving + moving:
        tried = summary(found.build({**at, name: value}))[key]
        if sign * tried > sign * best:
            at[name], best = value, tried
    return best


SHARED = {"spaces", "tools", "site", "appliances", "paths", "common"}


@pytest.mark.parametrize("name", ["larch-attic", "kiln-street"])
def test_a_struck_key_is_asked_for_or_widens_and_never_narrows(name: str) -> None:
    data = plain(name)
    before = model(data)
    whole = reach(before)
    asked = changed = 0
    for route in routes(data):
        if route[0] not in SHARED or route == ("tools", "height"):
            continue  # heights without a tool of their own are read by the tape for lengths
        try:
            struck = model(without(data, route))
        except (BadSurvey, CannotModel):
            asked += 1
            continue
        if struck.inputs == before.inputs and struck.plan == before.plan:
            continue  # bears on nothing that is computed
        changed += 1
        for key, (low, high) in reach(struck).items():
            known = whole[key]
            wide = known[1] - known[0]
            assert high - low >= wide * (1 - 1e-9) - 1e-12, (route, key, known, (low, high))
            slack = 1e-9 * abs(known[1]) + 1e-12
            assert low <= known[0] + slack, (route, key, known, (low, high))
            assert high >= known[1] - slack, (route, key, known, (low, high))
    assert asked > 10
    assert changed > 10
