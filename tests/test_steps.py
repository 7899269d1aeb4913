"""Inspections as lists of steps: what they name is there, and a survey never marks too much."""

from __future__ import annotations

import json
import tomllib
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from tests.demo_jobs import judged, plain

from fluewright import app
from fluewright.app import steps
from fluewright.cli import main
from fluewright.errors import BadEdition
from fluewright.files import survey_from_text
from fluewright.finding import Verdict
from fluewright.procedure import Marked, State, marked, procedure_from
from fluewright.report.tree import Table
from fluewright.rules import RULES
from fluewright.source import Basis
from fluewright.survey import Survey

FOLDER = Path(app.DATA) / "procedures"
NAMES = tuple(steps.procedures())
DEMO = Path(app.DATA) / "demo"


def raw(name: str = "existing_2012") -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def survey_of(data: dict[str, Any]) -> Survey:
    return survey_from_text(json.dumps(data, default=str), "survey.json")


def marks(id: str, data: dict[str, Any], edition: str = "umc_2012") -> tuple[Marked, ...]:
    return marked(steps.procedure(id), survey_of(data), judged(data, edition))


@pytest.mark.parametrize("name", NAMES)
def test_each_step_has_a_source_and_settles_a_requirement_or_is_by_hand(name: str) -> None:
    found = steps.procedure(name)
    assert found.id == name
    assert found.cites
    for step in found.steps:
        assert step.do[0].isupper()
        assert step.do.endswith(".")
        assert set(step.rules) <= set(RULES)
        assert step.cite.at
        assert step.cite.document or step.cite.basis is Basis.PRACTICE


@pytest.mark.parametrize("name", NAMES)
def test_what_could_kill_the_inspector_comes_before_anything_is_touched(name: str) -> None:
    rules = [rule for step in steps.procedure(name).steps for rule in step.rules]
    first = rules[:3]
    assert set(first) == {"ambient_co_entry_level", "combustible_gas_entry_level", "gas_leak_check"}
    assert rules.index("gas_leak_check") < rules.index("no_spillage_after_5_minutes")


@pytest.mark.parametrize("name", NAMES)
def test_a_step_that_no_requirement_settles_is_never_done(name: str) -> None:
    for one in marks(name, plain("otter-bend-repaired")):
        if not one.step.rules:
            assert one.state in (State.BY_HAND, State.NOT_ASKED)
        if one.step.kinds and "furnace" in one.step.kinds:
            assert one.state is State.NOT_ASKED


def state_of(found: tuple[Marked, ...], rule: str) -> set[State]:
    return {one.state for one in found if rule in one.step.rules}


def test_a_reading_left_out_opens_its_step_and_a_bad_one_marks_it_bad() -> None:
    data = plain("otter-bend-repaired")
    rule = "ambient_co_entry_level"
    assert state_of(marks("existing_2015", data), rule) == {State.DONE}
    without = deepcopy(data)
    del without["on_entry"]["co"]
    assert state_of(marks("existing_2015", without), rule) == {State.OPEN}
    bad = deepcopy(data)
    bad["on_entry"]["co"] = "45 ppm"
    found = marks("existing_2015", bad)
    assert state_of(found, rule) == {State.BAD}
    because = [f for one in found if rule in one.step.rules for f in one.because]
    assert [f.verdict for f in because] == [Verdict.FAILS]
    assert "45 ppm" in because[0].sentence


def test_nothing_is_done_by_a_survey_that_tells_nothing() -> None:
    data = {
        "survey": 1, "job": {"title": "Empty"}, "spaces": {}, "appliances": {"heater": {}},
        "paths": [{"from": "heater"}], "tools": {},
    }  # fmt: skip
    for name in NAMES:
        assert State.DONE not in {one.state for one in marks(name, data)}


def test_the_list_that_fits_is_the_one_after_a_removal_where_one_was_removed() -> None:
    data = plain("otter-bend-repaired")
    assert steps.fitting(survey_of(data)).id == "existing_2015"
    data["job"]["changed"] = "one_removed"
    assert steps.fitting(survey_of(data)).id == "after_removal"


# ------------------------------------------------------------------- command


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["steps", *arguments])
    return result.exit_code, result.output


def test_the_command_lists_prints_and_marks() -> None:
    code, text = run()
    assert code == 0
    assert all(name in text for name in NAMES)
    code, text = run("existing_2012")
    assert code == 0
    assert "[done]" not in text
    assert max(len(line) for line in text.splitlines()) <= 92
    code, text = run("existing_2012", str(DEMO / "otter-bend.yaml"))
    assert code == 1
    assert "[BAD ]" in text
    assert run("existing_2012", str(DEMO / "otter-bend-repaired.yaml"))[0] == 0


def test_the_command_gives_the_same_as_data() -> None:
    code, text = run("existing_2015", str(DEMO / "otter-bend.yaml"), "--json")
    data = json.loads(text)
    assert code == 1
    assert len(data["steps"]) == len(steps.procedure("existing_2015").steps)
    assert {"found_bad", "done", "by_hand"} <= {step["state"] for step in data["steps"]}
    assert all(step["because"] for step in data["steps"] if step["state"] == "found_bad")
    assert [one["id"] for one in json.loads(run("--json")[1])] == list(NAMES)


def test_a_list_that_is_not_known_is_named() -> None:
    code, text = run("existing_1999")
    assert code == 2
    assert '"existing_1999" is no list of steps. Known: ' in text


# ------------------------------------------------------------------- faulty files


def changed(key: str, value: object) -> dict[str, Any]:
    data = raw()
    data["step"][2][key] = value
    return data


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ({}, "a procedure needs a table [procedure]"),
        ({**raw(), "steps": []}, "steps is not known. Known here: procedure, step."),
        (changed("do", ""), "step 3: do is missing."),
        (changed("rules", ["no_such"]), "step 3: no_such is no requirement."),
        (changed("at", ""), "step 3: the place (at) is missing."),
        (changed("basis", "hearsay"), 'step 3: basis "hearsay" is not known.'),
        (changed("how", "x"), "step 3: how is not known."),
        ({**raw(), "step": ["x"]}, "step 1: a table is expected."),
        ({**raw(), "procedure": {"id": "x"}}, "procedure x: procedure.title is missing"),
    ],
)
def test_a_faulty_list_is_refused_with_the_place(data: dict[str, Any], message: str) -> None:
    with pytest.raises(BadEdition) as caught:
        procedure_from(data)
    assert message in str(caught.value)


# ------------------------------------------------------------------- report


@pytest.mark.parametrize(("audience", "there"), [("owner", 0), ("trade", 1), ("official", 1)])
def test_the_report_holds_the_check_list_for_those_who_work_by_it(
    audience: app.For, there: int
) -> None:
    job = app.read_job(str(DEMO / "otter-bend.yaml"))
    found = app.judge_job(job)
    tree, _ = app.report_tree(job, found, audience, "letter", "us", "2026-11-28")
    sections = [section for section in tree.sections if section.anchor == "steps"]
    assert len(sections) == there
    for section in sections:
        (table,) = [block for block in section.blocks if isinstance(block, Table)]
        assert len(table.rows) == len(steps.procedure("existing_2015").steps)
        assert {"found bad", "done"} <= {row[2].word or row[2].text for row in table.rows}
