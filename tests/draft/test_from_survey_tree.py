"""A common vent of a survey as a system to solve: the same rules as for one appliance."""

from __future__ import annotations

import json
import math
from functools import cache
from random import Random
from typing import Any

import pytest
from tests.common_surveys import common_data
from tests.demo_jobs import plain, routes, without
from tests.random_surveys import Changer, jobs

from fluewright.draft.from_survey import Conditions, from_survey
from fluewright.draft.from_survey_tree import ModelledTree, tree_from_survey
from fluewright.draft.solve import solve
from fluewright.draft.tree import solve_tree
from fluewright.draft.tree_system import Branch, Joined, branches, commons, refuse_joined
from fluewright.errors import BadSurvey, CannotModel, NotSolved, OutOfRange
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels

Data = dict[str, Any]
TWINS = ("alder-court", "alder-court-repaired")
INCH, FOOT = 0.0254, 0.3048
PAIR = {
    "appliances": (
        {"draft": "draft_hood", "input_kbtu_h": 40, "outlet_in": 4, "connector_in": 4,
         "rise_ft": 2, "length_ft": 3, "wall": "type_b"},
        {"draft": "draft_hood", "input_kbtu_h": 80, "outlet_in": 5, "connector_in": 5,
         "rise_ft": 3, "length_ft": 2, "wall": "type_b"},
    ),
    "height_ft": 20, "vent_in": 6, "wall": "type_b",
}  # fmt: skip


def model(data: Data, **how: Any) -> ModelledTree:
    text = json.dumps(data, default=str)
    survey = survey_from_text(text, "job.json")
    return tree_from_survey(survey, coefficients(), default_fuels(), **how)


@cache
def demo(name: str) -> ModelledTree:
    return model(plain(name))


def pair(**changed: Any) -> Data:
    data = common_data({**PAIR, **changed})
    for appliance in data["appliances"].values():
        appliance["fuel"] = "natural gas"
    return data


def entering(data: Data, name: str) -> Data:
    path = next(one for one in data["paths"] if one["from"] == name)
    found: Data = path["enters"]
    return found


def branch(joined: Joined, name: str) -> Branch:
    return next(one for one in branches(joined) if one.name == name)


def rise(one: Any) -> float:
    return sum(segment.rise_m for segment in one.segments)


# ---------------------------------------------------------------- invented jobs


@pytest.mark.parametrize("name", TWINS)
def test_the_invented_common_vent_builds_and_solves(name: str) -> None:
    found = demo(name)
    refuse_joined(found.joined)
    at = solve_tree(found.joined).at
    assert {one.name for one in at.appliances} == {"heater", "furnace"}
    assert at.mass_error < 1e-9
    assert at.energy_error < 1e-9
    assert at.residual < 1e-9


@pytest.mark.parametrize("name", TWINS)
def test_every_input_says_where_it_comes_from_and_moves_something(name: str) -> None:
    found = demo(name)
    assert len({one.name for one in found.inputs}) == len(found.inputs)
    for one in found.inputs:
        assert one.low <= one.value <= one.high, one.name
        assert one.label.strip(), one.name
        assert one.origin == "measured" or one.origin.removeprefix("assumed: ").strip(), one.name
        if one.low < one.high:
            assert found.build({one.name: one.low}) != found.build({one.name: one.high}), one.name
    assert found.build({}) == found.joined


def test_figures_of_the_pieces_are_those_of_the_survey() -> None:
    """Derived by hand from the lengths that stand in alder-court.yaml."""
    joined = demo("alder-court").joined
    lower, upper = commons(joined)
    assert [one.name for one in lower.inlets] == ["furnace"]
    assert [one.name for one in upper.inlets] == [lower.name, "heater"]
    # From the center of the furnace's branch to that of the heater's: 5 + 12 + (10 - 5) in.
    assert rise(lower) == pytest.approx(22 * INCH)
    assert rise(upper) == pytest.approx((5 + 36 + 84) * INCH)
    assert rise(branch(joined, "heater")) == pytest.approx(
        (26 + 5.25 + (5.25 + 30) * math.sin(math.atan(1 / 192))) * INCH
    )
    tee, through = coefficients().value("fitting.tee"), coefficients().value("fitting.through")
    into = branch(joined, "heater").segments[-1]
    assert into.length_m == 0.0
    # On the velocity head of its own 4 in, told on the 5 in of the vent.
    assert into.entry_loss == pytest.approx(tee * (5 / 4) ** 4)
    assert lower.segments[-1].entry_loss == through
    assert upper.segments[0].entry_loss == 0.0
    # The furnace's 6 in is wider than the vent: the smaller bore counts.
    assert branch(joined, "furnace").segments[-1].entry_loss == pytest.approx(tee)
    assert branch(joined, "furnace").segments[-1].diameter_m == pytest.approx(5 * INCH)


def test_what_each_appliance_burns_with_is_its_own_input() -> None:
    data = plain("alder-court")
    data["appliances"]["heater"]["checks"]["flue_oxygen"] = "6 vol %"
    found = model(data)
    by_name = {one.name: one for one in found.inputs}
    assert by_name["heater.flue.o2_dry"].value == pytest.approx(0.06)
    assert by_name["furnace.flue.o2_dry"].value == pytest.approx(0.08)
    one, other = (branch(found.joined, name).flue for name in ("heater", "furnace"))
    assert one.co2_dry > other.co2_dry


# ---------------------------------------------------------------- one appliance left


@pytest.mark.parametrize(
    ("name", "out", "left"),
    [
        ("kiln-street", None, "heater"),
        ("kiln-street-repaired", None, "heater"),
        ("alder-court", "furnace", "heater"),
        ("alder-court", "heater", "furnace"),
    ],
)
def test_one_appliance_left_is_the_same_as_alone(name: str, out: str | None, left: str) -> None:
    data = plain(name)
    if out is not None:
        data["appliances"][out]["taken_out"] = True
    assert left in {path["from"] for path in data["paths"] if "joins" in path}
    text = json.dumps(data, default=str)
    survey = survey_from_text(text, "job.json")
    alone = from_survey(survey, coefficients(), default_fuels(), appliance=left)
    tree = tree_from_survey(survey, coefficients(), default_fuels())
    one, other = solve(alone.system), solve_tree(tree.joined)
    assert other.margin_pa == pytest.approx(one.margin_pa, rel=1e-9)
    assert other.at.vent_kg_s == pytest.approx(one.at.root.flow_kg_s, rel=1e-7)
    assert sorted(i.label for i in tree.inputs if ":" not in i.label) == sorted(
        i.label for i in alone.inputs if f"{left}.{i.name}" not in tree.values
    )


# ---------------------------------------------------------------- where they enter


def test_rises_of_connectors_run_to_the_center_of_the_branch() -> None:
    """The rises that the example states are those that come out, the tee shared out."""
    found = model(pair())
    (common,) = commons(found.joined)
    assert rise(branch(found.joined, "a")) == pytest.approx(2 * FOOT)
    assert rise(branch(found.joined, "b")) == pytest.approx(3 * FOOT)
    assert rise(common) == pytest.approx((20 - 2) * FOOT)
    table = coefficients()
    through = branch(found.joined, "b").segments[-1]
    widens = (1 - (5 / 6) ** 2) ** 2 * (6 / 5) ** 4
    assert through.entry_loss == pytest.approx(table.value("fitting.through") + widens)


def test_nobody_said_how_it_enters_is_either_way() -> None:
    data = pair()
    del entering(data, "b")["way"]
    found = model(data)
    assert any(one.what == "how b enters t1" for one in found.assumed)
    ends = [rise(branch(found.build({"b.through": end}), "b")) for end in (0.0, 1.0)]
    assert ends == pytest.approx([2.5 * FOOT, 3 * FOOT])
    loss = [
        branch(found.build({"b.entry": end}), "b").segments[-1].entry_loss for end in (0.0, 4.0)
    ]
    assert loss[0] < loss[1]
    # What comes through from below leaves only the branch to the other.
    data = pair()
    del entering(data, "a")["way"]
    assert model(data).joined == model(pair()).joined


def test_two_streams_cannot_both_come_straight_through() -> None:
    data = pair()
    entering(data, "a")["way"] = "through"
    with pytest.raises(CannotModel, match="what goes straight through it is not known"):
        model(data)


def test_a_branch_whose_center_nobody_measured_may_be_anywhere() -> None:
    data = pair()
    del data["common"]["trunk"]["pieces"][0]["leg"]
    found = model(data)
    spans = [found.build({"t1.leg": end}) for end in (0.0, 1.0)]
    above = [rise(commons(one)[0]) for one in spans]
    assert above[1] - above[0] == pytest.approx(1 * FOOT)
    below = [rise(branch(one, "b")) for one in spans]
    assert below[0] - below[1] == pytest.approx(1 * FOOT)


def test_a_manifold_and_an_offset_are_pieces_like_others() -> None:
    data = pair(offset_ft=4, offset_deg=45)
    level = {"id": "m1", "part": "straight", "role": "vent", "wall": "type_b"}
    level |= {"diameter": "6 in ± 0 in", "length": "5 ft ± 0 ft", "slope": "1/4 in per ft"}
    data["common"]["trunk"]["pieces"].insert(1, level)
    (common,) = commons(model(data).joined)
    assert sum(one.length_m for one in common.segments) > (18 + 5) * FOOT
    names = {one.name for one in common.segments}
    assert {"m1", "o1", "o1 further on", "v1"} <= names


# ---------------------------------------------------------------- rooms, states, what is missing


def test_each_stands_in_its_own_room() -> None:
    data = plain("alder-court")
    data["spaces"]["shed"] = {"kind": "garage"}
    data["appliances"]["heater"]["space"] = "shed"
    found = model(data, conditions=Conditions(outdoor_k=270.0), rooms_pa={"shed": (-3.0, -2.0, 0)})
    one, other = (branch(found.joined, name) for name in ("heater", "furnace"))
    assert one.room_pa == -2.0
    assert other.room_pa == 0.0
    assert one.room_k is not None
    assert other.room_k == coefficients().value("room.temperature")
    assert 270.0 < one.room_k < other.room_k
    assert "shed.room_pa" in found.values
    told = model(data).assumed
    assert any(one.what == "pressures of shed and utility" for one in told)


def test_who_burns_is_asked_for_by_name() -> None:
    found = demo("alder-court")
    idle = found.build({}, firing={"furnace": False})
    assert branch(idle, "furnace").flue.mass_kg_s == 0.0
    assert branch(idle, "heater") == branch(found.joined, "heater")
    with pytest.raises(OutOfRange, match="no appliance boiler on trunk"):
        found.build({}, firing={"boiler": True})
    with pytest.raises(OutOfRange, match="no input tallness"):
        found.build({"tallness": 1.0})


def test_a_common_vent_that_is_not_there_is_said() -> None:
    with pytest.raises(CannotModel, match="stack: no appliance burns into"):
        model(plain("alder-court"), common="stack")
    with pytest.raises(CannotModel, match="exactly one common vent is needed; found: none"):
        model(plain("otter-bend"))


def test_everything_that_is_missing_is_named_at_once() -> None:
    data = plain("alder-court")
    del data["appliances"]["heater"]["input"]
    del data["paths"][1]["pieces"][0]["diameter"]
    del data["common"]["trunk"]["pieces"][3]["length"]
    with pytest.raises(CannotModel) as error:
        model(data)
    told = "\n".join(error.value.gaps)
    assert len(error.value.gaps) == 3
    for what in ("heater: heat input", "f1: inside diameter", "v1: length"):
        assert what in told


def test_fan_assisted_beside_a_draft_hood() -> None:
    data = plain("alder-court")
    data["appliances"]["furnace"]["draft"] = "fan_assisted"
    found = model(data).joined
    assert branch(found, "furnace").hood is None
    assert branch(found, "heater").hood is not None
    assert solve_tree(found).at.mass_error < 1e-9


def test_random_surveys_are_modelled_or_say_what_is_missing() -> None:
    shared = [job for job in jobs() if "trunk" in job.get("common", {})]
    modelled = asked = 0
    for seed in range(60):
        text = json.dumps(Changer(seed).changed(shared[seed % len(shared)]), default=str)
        try:
            survey = survey_from_text(text, "random.json")
            found = tree_from_survey(survey, coefficients(), default_fuels())
        except (BadSurvey, CannotModel):
            asked += 1
            continue
        modelled += 1
        chance = Random(seed)
        for _ in range(5):
            ends = {one.name: chance.choice((one.low, one.high)) for one in found.inputs}
            refuse_joined(found.build(ends))
        if modelled % 4 == 0:
            try:
                assert solve_tree(found.joined).at.mass_error < 1e-9
            except NotSolved:
                continue
    assert modelled > 10
    assert asked > 10


# ---------------------------------------------------------------- a key struck


def summary(joined: Joined) -> dict[str, float]:
    """What a system comes to, whatever pieces it is cut into."""
    found = {"cap": joined.cap_loss, "room": joined.around.room_k, "air": joined.around.air_pa}
    for one in branches(joined):
        found[f"{one.name} flue"] = one.flue.mass_kg_s
        found[f"{one.name} flue_k"] = one.flue.temperature_k
        found[f"{one.name} relief"] = one.hood.relief_m2 if one.hood else 0.0
    whole = [*branches(joined), commons(joined)[-1]]
    for part in whole:
        found[f"{part.name} rise"] = rise(part)
        length = found[f"{part.name} length"] = sum(one.length_m for one in part.segments)
        found[f"{part.name} entry"] = sum(one.entry_loss for one in part.segments)
        found[f"{part.name} bore"] = part.segments[-1].diameter_m
        for key in ("u_w_m2k", "ambient_k", "roughness_m"):
            told = sum(getattr(one, key) * one.length_m for one in part.segments)
            found[f"{part.name} {key}"] = told / length
    return found


def reach(found: ModelledTree) -> dict[str, tuple[float, float]]:
    """How far each figure goes: input after input put to the end that takes it further."""
    usual = summary(found.joined)
    ends = {
        (one.name, value): summary(found.build({one.name: value}))
        for one in found.inputs
        if one.low < one.high
        for value in (one.low, one.high)
    }
    spans = {}
    for key, middle in usual.items():
        moving = [at for at, end in ends.items() if end[key] != middle]
        spans[key] = tuple(furthest(found, key, moving, sign) for sign in (-1.0, 1.0))
    return spans  # type: ignore[return-value]


def furthest(found: ModelledTree, key: str, moving: list[tuple[str, float]], sign: float) -> float:
    at: dict[str, float] = {}
    best = summary(found.joined)[key]
    for name, value in moving + moving:
        tried = summary(found.build({**at, name: value}))[key]
        if sign * tried > sign * best:
            at[name], best = value, tried
    return best


# Where a connector enters is its first piece unless said, and its way in by what else enters:
# those keys choose another vent instead of leaving this one open.
CHOOSES = ("joins", "enters", "at", "from")
# A leg of 5 1/4 in is shorter than any that is estimated for an elbow of 6 in.
SHORT = ("paths", 1, "pieces", 1, "leg")


def test_a_struck_key_is_asked_for_or_widens_and_never_narrows() -> None:
    data = plain("alder-court")
    before = model(data)
    known = reach(before)
    asked = changed = 0
    struck = [
        route
        for route in routes(data)
        if route[0] in {"spaces", "site", "appliances", "paths", "common"}
        and route != SHORT
        and not set(route) & {"setting", "clearances", "air", "clearance", "joint", *CHOOSES}
    ]
    for route in struck:
        try:
            found = model(without(data, route))
        except (BadSurvey, CannotModel):
            asked += 1
            continue
        if found.inputs == before.inputs and found.plan == before.plan:
            continue
        changed += 1
        for key, (low, high) in reach(found).items():
            slack = 1e-9 * abs(known[key][1]) + 1e-12
            assert low <= known[key][0] + slack, (route, key, known[key], (low, high))
            assert high >= known[key][1] - slack, (route, key, known[key], (low, high))
    assert asked > 10
    assert changed > 10
