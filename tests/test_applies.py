"""Existing or new: which text binds which part, and that no old text ever covers a danger."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from tests.demo_jobs import plain
from tests.rule_cases import edition, library

import fluewright as fw
from fluewright import app
from fluewright.applies import STAYING, applied
from fluewright.edition import Edition, KeyedLimit, NumberLimit
from fluewright.errors import BadSurvey
from fluewright.files import survey_from_text
from fluewright.finding import Applied, Finding, Grade, Judgement, Verdict
from fluewright.judge import judge
from fluewright.render.data import judgement_data
from fluewright.render.plain import judgement_text
from fluewright.source import Basis
from fluewright.survey import Survey

TODAY = edition("umc_2012")
OLD = edition("nfpa54_2012")
TEXT = """
survey: 1
job: {title: "Invented: two on one vent", invented: yes, JOB}
spaces: {cellar: {kind: basement}, attic: {kind: attic}}
appliances:
  heater: {kind: storage water heater, space: cellar HEATER}
  furnace: {kind: furnace, space: cellar FURNACE}
  stove: {kind: room heater, space: attic}
paths:
  - from: heater
    joins: trunk
    pieces: [{id: c1, part: straight, role: connector}]
  - from: furnace
    joins: trunk
    pieces: [{id: c2, part: straight, role: connector}]
  - from: stove
    pieces: [{id: c3, part: straight, role: connector}, {id: v3, part: straight, role: vent}]
common: {trunk: {pieces: [{id: v1, part: straight, role: vent}]}}
tools: {}
"""
HEATER = "appliance heater and its clearances"
FURNACE = "appliance furnace and its clearances"
STOVE = "appliance stove and its clearances"


def survey(job: str, heater: str = "", furnace: str = "") -> Survey:
    text = TEXT.replace("JOB", job).replace("HEATER", heater).replace("FURNACE", furnace)
    return survey_from_text(text, "made.yaml")


def by_part(told: Survey, built: Edition | None = None) -> dict[str, Applied]:
    found = applied(told, TODAY, built)
    parts = [part for one in found for part in one.parts]
    assert len(parts) == len(set(parts))
    return {part: one for one in found for part in one.parts}


def test_new_work_is_bound_by_todays_text_in_every_part() -> None:
    found = by_part(survey("doing: new"))
    assert {one.edition for one in found.values()} == {"umc_2012"}
    assert len(found) == 10
    assert all(not one.ask for one in found.values())


def test_a_new_appliance_brings_connector_vent_and_air_with_it_and_no_more() -> None:
    found = by_part(survey("doing: replacement, new: [heater], built_under: nfpa54_2012"), OLD)
    today = {part for part, one in found.items() if one.edition == "umc_2012"}
    assert today == {HEATER, "connector of heater", "common vent trunk", "air of cellar"}
    assert {one.edition for part, one in found.items() if part not in today} == {"nfpa54_2012"}
    cites = found["common vent trunk"].cites
    assert [(c.at, c.basis) for c in cites] == [("902.3", Basis.READ)]


def test_a_new_piece_is_bound_by_todays_text_and_its_neighbors_are_not() -> None:
    found = by_part(survey("doing: repair, new: [c3]"))
    assert found["connector of stove"].edition == "umc_2012"
    assert found["connector of stove"].why == "new in this job"
    assert found["vent of stove"].edition == ""
    assert found[STOVE].edition == ""


def test_what_stands_is_bound_by_the_text_it_was_built_under_where_that_is_known() -> None:
    named = by_part(survey("doing: inspection, built_under: nfpa54_2012"), OLD)[HEATER]
    assert (named.edition, named.title) == ("nfpa54_2012", OLD.title)
    assert "may stay" in named.why
    assert "authority" in named.ask
    year = by_part(survey('doing: inspection, built_under: "1994"'))[HEATER]
    assert (year.edition, year.title) == ("", "text in force in 1994")
    assert "authority" in year.ask
    for job in ("doing: inspection", 'doing: inspection, built_under: "? no papers"'):
        silent = by_part(survey(job))[HEATER]
        assert (silent.edition, silent.title) == ("", "not known")
        assert "in force when it was built" in silent.ask


@pytest.mark.parametrize(
    ("job", "asks"),
    [
        ("visit: first", "what is being done"),
        ("doing: replacement", "what is new"),
        ("doing: replacement, new: none", "what is new"),
        ("doing: repair", "what is new"),
    ],
)
def test_what_is_not_told_is_asked_and_no_text_is_named(job: str, asks: str) -> None:
    found = by_part(survey(job))
    assert {one.edition for one in found.values()} == {""}
    assert all(asks in one.ask for one in found.values())


def test_a_repair_with_nothing_new_leaves_all_as_built() -> None:
    found = by_part(survey("doing: repair, new: none, built_under: nfpa54_2012"), OLD)
    assert {one.edition for one in found.values()} == {"nfpa54_2012"}


def test_the_only_appliance_is_the_one_that_was_replaced() -> None:
    told = survey("doing: replacement")
    alone = replace(
        told, appliances={"stove": told.appliances["stove"]}, paths=told.paths[2:], common={}
    )
    found = by_part(alone)
    assert found[STOVE].why == "new in this job"
    assert {one.edition for one in found.values()} == {"umc_2012"}


def test_after_a_removal_vent_and_air_of_those_left_are_todays() -> None:
    found = by_part(survey("doing: inspection", furnace=", taken_out: yes"))
    assert FURNACE not in found
    assert found["common vent trunk"].edition == "umc_2012"
    assert found["air of cellar"].edition == "umc_2012"
    assert found[HEATER].edition == ""
    assert found["vent of stove"].edition == ""


def test_a_name_that_the_survey_lacks_is_refused() -> None:
    with pytest.raises(BadSurvey, match=r"job\.new\[0\]: there is no appliance, piece or common"):
        survey("doing: repair, new: [boiler]")


# ------------------------------------------------------- findings of what was built earlier


def lax() -> Edition:
    """An invented older text: flatter connectors and smaller distances were lawful."""
    slope, near = TODAY.limits["connector.slope_min"], TODAY.limits["connector.clearance"]
    assert isinstance(slope, NumberLimit)
    assert isinstance(near, KeyedLimit)
    row = {**near.rows["listed_draft_hood_or_type_b"], "single_wall": 0.0254}
    limits = {
        **TODAY.limits,
        "connector.slope_min": replace(slope, value=0.0),
        "connector.clearance": replace(
            near, rows={**near.rows, "listed_draft_hood_or_type_b": row}
        ),
    }
    return replace(TODAY, id="older", title="An older text", limits=limits)


def as_built(change: dict[str, Any], built: Edition | None) -> Judgement:
    data = plain("otter-bend")
    data["job"] = {**data["job"], "doing": "inspection", **change}
    told = survey_from_text(json.dumps(data, default=str), "demo.json")
    return judge(told, TODAY, library(), built=built)


def of(found: Judgement, rule: str) -> Finding:
    (one,) = (f for f in found.findings if f.rule == rule and f.subject == "c3")
    return one


def test_a_defect_that_met_its_own_text_says_so_and_still_fails() -> None:
    found = as_built({}, lax())
    flat = of(found, "connector_upward_slope")
    assert flat.verdict is Verdict.FAILS
    assert "An older text" in flat.as_built
    assert "As built: It meets An older text" in judgement_text(found).replace("\n        ", " ")
    data: Any = judgement_data(found, "0")
    told = [one["as_built"] for one in data["findings"] if one["rule"] == "connector_upward_slope"]
    assert flat.as_built in told


def test_a_hazard_is_never_covered_by_an_older_text() -> None:
    found = as_built({}, lax())
    near = of(found, "connector_clearance_single_wall_draft_hood_6in")
    assert near.grade is Grade.HAZARD
    assert near.verdict is Verdict.FAILS
    assert near.as_built == ""
    assert {Grade.STOP, Grade.HAZARD}.isdisjoint(STAYING)
    assert all(f.grade in STAYING for f in found.findings if f.as_built)


@pytest.mark.parametrize(
    ("change", "built"),
    [
        ({}, None),
        ({}, TODAY),
        ({"doing": "repair"}, lax()),
        ({"new": ["c3"]}, lax()),
        ({"changed": "replaced_same"}, lax()),
    ],
)
def test_nothing_is_marked_unless_all_that_stands_was_built_under_an_older_text(
    change: dict[str, Any], built: Edition | None
) -> None:
    found = as_built(change, built)
    assert of(found, "connector_upward_slope").verdict is Verdict.FAILS
    assert not any(f.as_built for f in found.findings)


def test_an_older_text_changes_no_verdict() -> None:
    with_, without = as_built({}, lax()), as_built({}, None)
    assert [(f.rule, f.subject, f.verdict, f.grade) for f in with_.findings] == [
        (f.rule, f.subject, f.verdict, f.grade) for f in without.findings
    ]


def test_what_is_no_year_and_no_edition_is_refused(tmp_path: Any) -> None:
    data = plain("otter-bend")
    data["job"]["built_under"] = "long ago"
    file = tmp_path / "s.json"
    file.write_text(json.dumps(data, default=str), encoding="utf-8")
    with pytest.raises(BadSurvey, match='"long ago" is no year and no edition'):
        app.judge_job(app.read_job(str(file)))
    data["job"]["built_under"] = "irc_2018"
    file.write_text(json.dumps(data, default=str), encoding="utf-8")
    (found,) = app.judge_job(app.read_job(str(file)))
    assert "irc_2018" in {one.edition for one in found.applied}
    again = fw.judge(fw.read_survey(file), edition="umc_2012")
    assert again.applied == found.applied
