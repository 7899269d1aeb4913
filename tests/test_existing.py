"""Whole surveys of what exists: readings on entry, tests in use, what was changed."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.demo_jobs import by_key, plain
from tests.rule_cases import edition, library

from fluewright.files import survey_from_text
from fluewright.finding import Finding, Grade, Judgement, Verdict
from fluewright.judge import LEAVE_CAUTION, STOP_CAUTION, judge
from fluewright.quantity import Measured
from fluewright.render.plain import judgement_text
from fluewright.report.summary import notices

TODAY = edition("umc_2012")


def clean(checks: dict[str, Any] | None = None, **other: Any) -> dict[str, Any]:
    """The repaired demo with some checks, and some keys of the job or entry, put otherwise."""
    data = plain("otter-bend-repaired")
    held = data["appliances"]["heater"]["checks"]
    data["appliances"]["heater"]["checks"] = {**held, **(checks or {})}
    for key, value in other.items():
        data[key] = {**data.get(key, {}), **value}
    return data


def judged(data: dict[str, Any]) -> Judgement:
    told = survey_from_text(json.dumps(data, default=str), "made.json")
    return judge(told, TODAY, library())


def finding(data: dict[str, Any], rule: str, subject: str = "heater") -> Finding:
    return by_key(judged(data))[rule, subject]


# ------------------------------------------------------------------ danger


@pytest.mark.parametrize(
    ("data", "rule"),
    [
        (clean(on_entry={"co": "30 ppm"}), "ambient_co_entry_level"),
        (clean(on_entry={"co": "70 ppm"}), "ambient_co_entry_level"),
        (clean(on_entry={"gas": "20 % LEL"}), "combustible_gas_entry_level"),
        (clean({"gas_leak": True}), "gas_leak_check"),
    ],
)
def test_gas_in_the_house_is_the_first_thing_said(data: dict[str, Any], rule: str) -> None:
    found = judged(data)
    (one,) = (f for f in found.findings if f.rule == rule)
    assert (one.verdict, one.grade) == (Verdict.FAILS, Grade.STOP)
    assert found.findings[0] is one
    assert found.cautions[0] == LEAVE_CAUTION
    assert STOP_CAUTION not in found.cautions
    text = " ".join(judgement_text(found).split())
    assert text.index("LEAVE THE HOUSE. Everybody leaves now.") < text.index(one.rule)
    told = survey_from_text(json.dumps(data, default=str), "made.json")
    assert notices(told, (found,))[0].title == "Leave the house now"


@pytest.mark.parametrize(
    ("checks", "rule"),
    [
        ({"spills": True}, "no_spillage_after_5_minutes"),
        ({"other_gas_in_room": True, "spills_with_all_on": True}, "no_spillage_after_5_minutes"),
        ({"pilot_gas_off": "4 min"}, "pilot_safety_shutoff"),
        ({"pilot_gas_off": "none", "ignition_as_instructed": False}, "pilot_safety_shutoff"),
    ],
)
def test_what_kills_means_shut_it_off(checks: dict[str, Any], rule: str) -> None:
    found = judged(clean(checks))
    assert by_key(found)[rule, "heater"].verdict is Verdict.FAILS
    assert found.must_stop
    assert found.cautions[0] == STOP_CAUTION


@pytest.mark.parametrize("checks", ["missing", "?"])
def test_what_nobody_tried_is_never_a_pass(checks: str) -> None:
    data = plain("otter-bend-repaired")
    held = data["appliances"]["heater"]["checks"]
    before = {f.rule for f in judged(data).findings if f.verdict is Verdict.MEETS}
    if checks == "missing":
        del data["appliances"]["heater"]["checks"]
        del data["on_entry"]
    else:
        data["appliances"]["heater"]["checks"] = dict.fromkeys(held, "? not today")
        data["on_entry"] = "? no meter at hand"
    found = judged(data)
    lost = before - {f.rule for f in found.findings if f.verdict is Verdict.MEETS}
    assert lost >= {
        "ambient_co_entry_level", "combustible_gas_entry_level", "gas_leak_check",
        "pilot_safety_shutoff", "burner_flame_normal", "no_spillage_after_5_minutes",
        "flue_co_water_heater", "flooded_or_flammable_vapor_check",
        "no_concealed_defects_or_patches", "existing_inspection_procedure_followed",
    }  # fmt: skip
    verdicts = {f.verdict for f in found.findings if f.rule in lost}
    assert verdicts == {Verdict.CANNOT_TELL}


# ------------------------------------------------- carbon monoxide without excess air


@pytest.mark.parametrize(
    ("co", "oxygen", "expected"),
    # CO x 20.9 / (20.9 - O2), worked out by hand
    [(40, 9, 70.25), (60, 12, 140.9), (87, 5, 114.36), (25, 15.9, 104.5), (12, 0, 12.0)],
)
def test_carbon_monoxide_is_worked_out_without_excess_air(
    co: float, oxygen: float, expected: float
) -> None:
    found = finding(
        clean({"flue_co": f"{co} ppm ± 0 ppm", "flue_oxygen": f"{oxygen} vol % ± 0 vol %"}),
        "flue_co_water_heater",
    )
    assert found.comparison is not None
    assert found.comparison.measured.value == pytest.approx(expected, rel=2e-3)


def test_its_bound_holds_every_pair_of_true_values() -> None:
    found = finding(
        clean({"flue_co": "60 ppm ± 6 ppm", "flue_oxygen": "12 vol % ± 0.3 vol %"}),
        "flue_co_water_heater",
    )
    assert found.comparison is not None
    measured: Measured = found.comparison.measured
    for co in (54, 60, 66):
        for oxygen in (11.7, 12.0, 12.3):
            true = co * 20.9 / (20.9 - oxygen)
            assert measured.low - 1e-6 <= true <= measured.high + 1e-6


def test_the_analyzers_own_figure_goes_before_one_worked_out() -> None:
    found = finding(clean({"flue_co_air_free": "250 ppm"}), "flue_co_water_heater")
    assert found.verdict is Verdict.FAILS


@pytest.mark.parametrize("checks", [{"flue_oxygen": "18 vol %"}, {"flue_oxygen": "? no cell"}])
def test_a_thin_or_lone_sample_gives_no_figure(checks: dict[str, Any]) -> None:
    found = finding(clean(checks), "flue_co_water_heater")
    assert found.verdict is Verdict.CANNOT_TELL
    assert "oxygen" in found.measure_next[0].why


# ------------------------------------------------------------------ others and changes


def two(**other: Any) -> dict[str, Any]:
    data = clean()
    data["appliances"]["furnace"] = {"kind": "furnace", "space": "laundry", **other}
    return data


def test_another_appliance_of_the_survey_in_the_room_is_there_whatever_is_written() -> None:
    rule = "no_spillage_after_5_minutes"
    assert finding(clean(), rule).verdict is Verdict.MEETS
    assert finding(two(), rule).verdict is Verdict.CANNOT_TELL
    assert finding(two(space="attic"), rule).verdict is Verdict.MEETS
    assert finding(two(taken_out=True), rule).verdict is Verdict.MEETS


def test_an_appliance_that_is_gone_asks_for_the_test_of_those_that_stay() -> None:
    rule = "post_removal_common_vent_test"
    assert finding(clean(), rule).verdict is Verdict.NOT_APPLICABLE
    silent = two(taken_out=True)
    silent["job"].pop("changed")
    assert finding(silent, rule).verdict is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    ("changed", "asked"),
    [("none", False), ("replaced_same", False), ("replaced_other", True), ("added", True)],
)
def test_gas_piping_is_asked_about_where_the_input_may_have_grown(
    changed: str, asked: bool
) -> None:
    found = finding(clean(job={"changed": changed}), "gas_piping_capacity_for_added_appliance")
    assert (found.verdict is Verdict.CANNOT_TELL) is asked
    assert (found.verdict is Verdict.NOT_APPLICABLE) is not asked


def test_a_change_is_checked_again_and_the_size_of_the_vent_with_it() -> None:
    changed = {"changed": "replaced_same"}
    rule = "replacement_checks"
    assert finding(clean(job=changed), rule).verdict is Verdict.CANNOT_TELL
    assert finding(clean({"rechecked": True}, job=changed), rule).verdict is Verdict.MEETS
    assert finding(clean({"rechecked": False}, job=changed), rule).verdict is Verdict.FAILS
    small = clean({"rechecked": True}, job=changed)
    small["appliances"]["heater"]["input"] = "400,000 Btu/h"
    assert finding(small, rule).verdict is Verdict.FAILS
