"""What is said of a shared vent: every combination, starts from cold, and the words for it."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from tests.demo_jobs import plain

from fluewright.draft import assess_tree as module
from fluewright.draft.assess import GRACE_S, assess
from fluewright.draft.assess_tree import TreeAssessment, assess_tree
from fluewright.draft.doubts import Doubts
from fluewright.draft.from_survey import Conditions, from_survey
from fluewright.draft.from_survey_tree import ModelledTree, tree_from_survey
from fluewright.draft.tree import margin_near, solve_tree
from fluewright.draft.tree_system import branches
from fluewright.draft.tree_warm import tree_start
from fluewright.draft.warmup import Start, warm_up
from fluewright.errors import OutOfRange
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels
from fluewright.report.draft_words import CAUTIONS
from fluewright.report.draft_words_tree import TEST_FIRST, danger, words
from fluewright.report.draft_words_tree import answer as said
from fluewright.survey import Survey

COLD = Conditions(outdoor_k=275.0)
SUCTION = Conditions(outdoor_k=300.0, room_pa=-2.0)
REVERSED = Conditions(outdoor_k=310.0, room_pa=-9.0)
COMING_ON = Start(burn_s=400.0, step_s=2.0)


@cache
def survey(name: str, out: str = "") -> Survey:
    data: dict[str, Any] = plain(name)
    if out:
        data["appliances"][out]["taken_out"] = True
    return survey_from_text(json.dumps(data, default=str), "job.json")


@cache
def model(name: str, conditions: Conditions, out: str = "") -> ModelledTree:
    return tree_from_survey(
        survey(name, out), coefficients(), default_fuels(), conditions=conditions
    )


@cache
def answer(name: str, conditions: Conditions) -> TreeAssessment:
    return assess_tree(model(name, conditions))


def told(name: str, conditions: Conditions) -> tuple[str, ...]:
    return words(answer(name, conditions), model(name, conditions))


# ---------------------------------------------------------------- one appliance is as before


def test_one_appliance_is_answered_as_on_a_vent_of_its_own() -> None:
    lone = from_survey(
        survey("alder-court", "furnace"), coefficients(), default_fuels(), conditions=COLD
    )
    one, other = assess(lone), assess_tree(model("alder-court", COLD, "furnace"))
    (only,) = other.combinations
    assert only.margin_pa == pytest.approx(one.solved.margin_pa, rel=1e-9)
    assert only.margin_low_pa == pytest.approx(one.margin_low_pa, abs=0.01)
    assert only.margin_high_pa == pytest.approx(one.margin_high_pa, abs=0.01)
    assert only.word == one.computed == "drafts"
    named = {m.label.split(": ")[-1]: m.reach_pa for m in only.moved}
    for moved in one.moved:
        if moved.reach_pa > 0.05:
            assert named[moved.label.split(": ")[-1]] == pytest.approx(moved.reach_pa, abs=0.01)


@pytest.mark.parametrize("room_pa", [0.0, -1.5, -3.0])
def test_a_start_of_one_appliance_is_that_of_a_vent_of_its_own(room_pa: float) -> None:
    """Another way to the same flows: Newton and drift here, bisection along the branch there."""
    how = Conditions(outdoor_k=300.0, room_pa=room_pa)
    lone = from_survey(
        survey("alder-court", "furnace"), coefficients(), default_fuels(), conditions=how
    )
    one = warm_up(lone.system, COMING_ON)
    course = tree_start(model("alder-court", how, "furnace").joined, ["heater"], COMING_ON).courses[
        0
    ]
    assert course.idle_kg_s == pytest.approx(one.idle_kg_s, rel=0.02, abs=1e-5)
    assert course.flow_kg_s[-1] == pytest.approx(one.flow_kg_s[-1], rel=0.02)
    if one.spills_s is None or course.spills_s is None:
        assert one.spills_s is course.spills_s
    else:
        assert course.spills_s == pytest.approx(one.spills_s, abs=2 * COMING_ON.step_s)


# ---------------------------------------------------------------- several


def test_every_combination_is_there_and_the_gravest_first() -> None:
    found = answer("alder-court", SUCTION)
    assert {frozenset(one.burning) for one in found.combinations} == {
        frozenset(("heater",)), frozenset(("furnace",)), frozenset(("heater", "furnace"))
    }  # fmt: skip
    assert [one.burning for one in found.starts] == [
        ("heater",), ("furnace",), ("furnace", "heater")
    ]  # fmt: skip
    least = [one.margin_low_pa for one in found.combinations]
    assert None not in least
    assert least == sorted(least, key=lambda one: one or 0.0)
    assert found.fails
    assert found.worst.word == "cannot_tell"


def test_range_of_a_margin_holds_what_any_one_input_does() -> None:
    for one in answer("alder-court", COLD).combinations:
        assert one.margin_low_pa is not None
        assert one.margin_high_pa is not None
        assert one.margin_pa is not None
        assert one.margin_low_pa <= one.margin_pa <= one.margin_high_pa
        for moved in one.moved:
            for end in (moved.at_low_pa, moved.at_high_pa):
                assert one.margin_low_pa - 1e-9 <= end <= one.margin_high_pa + 1e-9


def test_margin_beside_a_known_balance_is_that_of_a_search_from_nothing() -> None:
    found = model("alder-court", COLD)
    near = solve_tree(found.joined)
    for name in ("fitting.tee", "furnace.flue.efficiency", "attic.room_share"):
        row = next(one for one in found.inputs if one.name == name)
        there = found.build({name: row.high})
        assert margin_near(there, near) == pytest.approx(solve_tree(there).margin_pa, rel=1e-7)


def test_a_start_does_not_depend_on_the_step_of_time() -> None:
    joined = model("alder-court", SUCTION).joined
    ends = [
        {c.name: c.spills_s for c in tree_start(joined, ["heater"], one).courses}
        for one in (COMING_ON, replace(COMING_ON, step_s=1.0))
    ]
    assert ends[0]["heater"] is not None
    assert ends[1]["heater"] == pytest.approx(ends[0]["heater"], abs=4.0)
    assert ends[0]["heater"] > GRACE_S  # and so it is late


def test_flue_gas_goes_somewhere_at_every_moment_of_a_start() -> None:
    """What spills is at most what burns, and nothing of an idle appliance's own."""
    joined = model("alder-court", SUCTION).joined
    found = tree_start(joined, ["furnace"], COMING_ON)
    flue = {one.name: one.flue.mass_kg_s for one in branches(joined)}
    for course in found.courses:
        assert all(0.0 <= share <= 1.0 for share in course.spilt)
        assert course.burns or not any(course.spilt)
        others = sum(mass for name, mass in flue.items() if name != course.name)
        assert all(0.0 <= out <= others * (1 + 1e-9) for out in course.foreign_kg_s)


def test_who_cannot_burn_cannot_start() -> None:
    joined = model("alder-court", COLD).joined
    for names in ([], ["boiler"]):
        with pytest.raises(OutOfRange, match="cannot burn"):
            tree_start(joined, names, COMING_ON)
    with pytest.raises(OutOfRange, match="steps of"):
        tree_start(joined, ["heater"], Start(burn_s=1.0, step_s=2.0))


# ---------------------------------------------------------------- words


def test_gas_of_another_appliance_is_the_first_thing_said() -> None:
    found = answer("alder-court-repaired", REVERSED)
    assert found.worst.word == "takes in"
    lines = told("alder-court-repaired", REVERSED)
    assert lines[0].startswith("Shut the appliances off now")
    assert lines[1] == (
        "With furnace alone burning, flue gas of another appliance comes out at the hood of heater."
    )


def test_what_cannot_be_told_asks_for_a_test_and_is_no_pass() -> None:
    lines = told("alder-court", COLD)
    assert answer("alder-court", COLD).fails
    assert lines[0].startswith("Shut the appliances off now")  # the survey's test saw it spill
    assert lines[1].startswith("It spills: the survey's own test saw heater spill")
    untested = replace(answer("alder-court", COLD), doubts=Doubts())
    assert danger(untested) == (TEST_FIRST,)
    assert "cannot be told" in said(untested)


def test_a_vent_that_drafts_is_said_to_and_every_answer_ends_in_cautions() -> None:
    lines = told("alder-court-repaired", COLD)
    assert not answer("alder-court-repaired", COLD).fails
    assert lines[0].startswith("All gas goes up in this weather and house")
    for name, how in (
        ("alder-court", COLD), ("alder-court", SUCTION), ("alder-court-repaired", COLD),
        ("alder-court-repaired", REVERSED),
    ):  # fmt: skip
        lines = told(name, how)
        assert lines[-len(CAUTIONS) :] == CAUTIONS
        assert any(one.startswith("Not computed for a shared vent") for one in lines)
        whole = " ".join(lines).lower()
        for word in (" safe", "compliant", "guarantee", "nan", "none "):
            assert word not in whole.replace("no approval", ""), word


def test_a_combination_without_a_range_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "GRAVE", 1)
    monkeypatch.setattr(module, "WIDER", 0.0)
    found = assess_tree(model("alder-court-repaired", COLD))
    bare = [one for one in found.combinations if one.margin_low_pa is None]
    assert len(bare) == 2
    lines = words(found, model("alder-court-repaired", COLD))
    assert sum("was not run through its range" in one for one in lines) == 2
