"""What must never read as a pass, however it is asked: one survey for each way it once did.

``tests/surveys/wrong_verdicts/*.yaml`` changes one thing in the repaired demo house, in which
nothing fails and nothing is open. Each names the rule and the verdict that the change must give,
or words that the judgement must hold; none of them may count as settled well.
"""

from __future__ import annotations

import copy
import io
from pathlib import Path as File
from typing import Any

import pytest
from ruamel.yaml import YAML

from fluewright import app
from fluewright.files import survey_from_text
from fluewright.finding import Judgement, Verdict
from fluewright.judge import judge
from fluewright.render.plain import judgement_text

YAML_SAFE = YAML(typ="safe", pure=True)
DEMO = File(app.DATA) / "demo" / "otter-bend-repaired.yaml"
FOLDER = File(__file__).parent / "surveys" / "wrong_verdicts"
CASES = sorted(FOLDER.glob("*.yaml"))
KEYS = {"what", "edition", "set", "drop", "rule", "subject", "expect", "notes"}


def good() -> dict[str, Any]:
    """The plain data of the repaired demo."""
    data: dict[str, Any] = YAML_SAFE.load(DEMO.read_text(encoding="utf-8"))
    return data


def judged(data: dict[str, Any], edition: str = "umc_2012") -> Judgement:
    """The judgement of a survey given as plain data."""
    out = io.StringIO()
    YAML_SAFE.dump(data, out)
    survey = survey_from_text(out.getvalue(), "changed.yaml")
    return judge(survey, app.edition(edition), app.library())


def put(data: Any, route: str, value: object) -> None:
    """Set a key by its route: mappings by key, lists by number, pieces by id; `*` is every one."""
    head, _, rest = route.partition(".")
    targets: list[Any] = []
    if isinstance(data, list):
        if head == "*":
            targets = list(range(len(data)))
        elif head.isdigit():
            targets = [int(head)]
        else:
            targets = [i for i, piece in enumerate(data) if piece["id"] == head]
        assert targets, route
    else:
        targets = [head]
    for target in targets:
        if rest:
            put(data[target], rest, value)
        elif value is None:
            del data[target]
        else:
            data[target] = copy.deepcopy(value)


def test_the_house_that_is_changed_is_settled_well() -> None:
    for edition in ("umc_2012", "irc_2021"):
        assert judged(good(), edition).is_settled_well


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_what_once_read_as_a_pass_does_not(path: File) -> None:
    case = YAML_SAFE.load(path.read_text(encoding="utf-8"))
    assert set(case) <= KEYS
    assert case["what"]
    data = good()
    for route, value in case.get("set", {}).items():
        put(data, route, value)
    for route in case.get("drop", []):
        put(data, route, None)
    found = judged(data, case.get("edition", "umc_2012"))
    assert not found.is_settled_well
    for words in case.get("notes", []):
        assert any(words in note for note in found.notes), found.notes
    if "rule" in case:
        about = [
            f for f in found.findings
            if f.rule == case["rule"] and f.subject == case.get("subject", f.subject)
        ]  # fmt: skip
        assert [f.verdict.value for f in about] == [case["expect"]], about


def test_notes_are_not_left_out_of_the_verdict_in_words() -> None:
    data = good()
    put(data, "paths.0.vent.shares_with", ["gas"])
    put(data, "paths.0.vent.sizing", "engineered")
    put(data, "paths.0.vent.sizing_document", "yes")
    found = judged(data)
    assert not found.count(Verdict.FAILS) + found.count(Verdict.CANNOT_TELL)
    text = " ".join(judgement_text(found).split())
    assert "Nothing that was examined fails." not in text
    assert "Look again: heater: the vent is shared (gas)" in text


def test_a_survey_without_a_path_is_not_said_to_be_free_of_faults() -> None:
    data = good()
    data["paths"] = []
    found = judged(data)
    assert not found.is_settled_well
    assert "Nothing was examined" in judgement_text(found)
