"""The demo house: every planted defect is found, the repaired twin is clean, nothing missing
ever reads as a pass."""

from __future__ import annotations

import pytest
from tests.demo_jobs import by_key, judged, plain, routes, without

from fluewright.errors import BadSurvey
from fluewright.finding import Grade, Verdict

PLANTED = {
    ("vent_parts_sound", "c4"): Grade.STOP,
    ("appliance_connected_to_venting_system", "c4"): Grade.STOP,
    ("connector_joints_fastened", "c4"): Grade.HAZARD,
    ("connector_clearance_single_wall_draft_hood_6in", "c3"): Grade.HAZARD,
    ("type_b_vent_clearance_as_listed", "v1"): Grade.HAZARD,
    ("firestop_at_floor_and_ceiling", "heater"): Grade.HAZARD,
    ("gas_vent_near_wall_or_large", "heater"): Grade.HAZARD,
    ("evidence_of_past_spillage", "heater"): Grade.HAZARD,
    ("connector_upward_slope", "c3"): Grade.DEFECT,
    ("connector_sheet_thickness_residential", "c4"): Grade.DEFECT,
    ("connector_screw_count", "c3"): Grade.CRAFT,
    ("roof_flashing_and_storm_collar", "heater"): Grade.CRAFT,
}


def test_every_planted_defect_is_found_with_its_grade_and_nothing_else_fails() -> None:
    fails = {
        (f.rule, f.subject): f.grade
        for f in judged(plain("otter-bend")).findings
        if f.verdict is Verdict.FAILS
    }
    assert fails == PLANTED


def test_the_other_family_finds_the_same_defects() -> None:
    fails = {
        (f.rule, f.subject)
        for f in judged(plain("otter-bend"), "irc_2021").findings
        if f.verdict is Verdict.FAILS
    }
    assert fails == set(PLANTED)


@pytest.mark.parametrize("edition", ["umc_2012", "irc_2021"])
def test_the_repaired_twin_has_nothing_that_fails_and_nothing_open(edition: str) -> None:
    judgement = judged(plain("otter-bend-repaired"), edition)
    assert [f.sentence for f in judgement.findings if f.verdict is Verdict.FAILS] == []
    assert [f.sentence for f in judgement.findings if f.verdict is Verdict.CANNOT_TELL] == []
    assert judgement.notes == ()


def test_the_number_on_the_line_is_open_and_names_the_tool_that_settles_it() -> None:
    open_ = [f for f in judged(plain("otter-bend")).findings if f.verdict is Verdict.CANNOT_TELL]
    assert [f.rule for f in open_] == ["draft_hood_relief_clearance"]
    (step,) = open_[0].measure_next
    assert step.tool == "Steel tape, good access"
    assert "to within 1/8 in" in step.how


def test_the_tool_it_names_does_settle_it() -> None:
    data = plain("otter-bend")
    data["appliances"]["heater"]["hood"]["relief_clearance"] = {"value": "6 1/8 in", "tool": "tape"}
    assert by_key(judged(data))["draft_hood_relief_clearance", "heater"].verdict is Verdict.MEETS


BAD_BEFORE = (Verdict.FAILS, Verdict.CANNOT_TELL)


@pytest.mark.parametrize("name", ["otter-bend", "otter-bend-repaired"])
@pytest.mark.parametrize("edition", ["umc_2012", "irc_2021"])
def test_taking_away_any_one_key_never_makes_a_pass_of_what_was_none(
    name: str, edition: str
) -> None:
    data = plain(name)
    before = by_key(judged(data, edition))
    bad = {key for key, f in before.items() if f.verdict in BAD_BEFORE}
    bad_rules = {rule for rule, _ in bad}
    tried = refused = 0
    for route in routes(data):
        left = without(data, route)
        try:
            after = by_key(judged(left, edition))
        except BadSurvey:
            refused += 1  # an unreadable survey is no pass either
            continue
        tried += 1
        better = {key for key in bad if key in after and after[key].verdict is Verdict.MEETS}
        assert not better, f"without {route}: {better} meets"
        for rule in bad_rules:  # a subject may be renamed: the rule as a whole may not get clean
            now = [f.verdict for (r, _), f in after.items() if r == rule]
            if Verdict.MEETS in now:
                assert set(now) & set(BAD_BEFORE), f"without {route}: {rule} became clean"
    assert tried > 150, f"only {tried} keys could be taken away, {refused} were refused"


def test_a_report_of_danger_comes_first() -> None:
    judgement = judged(plain("otter-bend"))
    assert judgement.findings[0].grade is Grade.STOP
    assert judgement.cautions[0].startswith("Shut the appliance off now")
    assert [f.number for f in judgement.marked] == list(range(1, 14))
