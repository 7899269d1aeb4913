"""Facts that are looked up once along a path are the same for every thing on it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.survey_maker import Maker

from fluewright import app
from fluewright.facts import FACTS, OF_ONE_THING, Scope, subjects
from fluewright.files import survey_from_text
from fluewright.survey import Survey

DEMO = Path(app.DATA) / "demo"


def differing(survey: Survey) -> set[str]:
    """Facts of the path that one of its pieces answers differently."""
    found: set[str] = set()
    for path in survey.paths:
        things = subjects(survey, path)
        whole = things[Scope.PATH][0][1]
        for scope in things.values():
            for _, view in scope:
                found |= {
                    name
                    for name, fact in FACTS.items()
                    if name not in OF_ONE_THING and fact.get(view) != fact.get(whole)
                }
    return found


@pytest.mark.parametrize("name", ["otter-bend.yaml", "otter-bend-repaired.yaml"])
def test_the_demo_answers_facts_of_the_path_alike_everywhere(name: str) -> None:
    survey = survey_from_text((DEMO / name).read_text(encoding="utf-8"))
    assert differing(survey) == set()
    assert set(FACTS) > OF_ONE_THING


@pytest.mark.parametrize("seed", range(40))
def test_random_surveys_answer_facts_of_the_path_alike_everywhere(seed: int) -> None:
    survey = survey_from_text(json.dumps(Maker(seed).survey()), "made.json")
    assert differing(survey) == set()
