"""Random valid surveys are judged without an exception and without a number that is none.

A few hundred here; `make bench` runs ten thousand.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from tests.random_surveys import jobs, texts, told
from tests.rule_cases import EDITIONS, edition, library

from fluewright import app
from fluewright.files import read_survey, survey_from_text
from fluewright.finding import Verdict
from fluewright.judge import judge
from fluewright.render.data import judgement_data
from fluewright.render.plain import judgement_text
from fluewright.rules import RULES

DEMO = Path(app.DATA) / "demo" / "otter-bend.yaml"
COUNT, BATCHES = 40, 10


@pytest.mark.parametrize("batch", range(BATCHES))
def test_random_surveys_are_judged(batch: int) -> None:
    for seed, text in texts(COUNT, start=batch * 10_000):
        survey = survey_from_text(text, "random.json")
        found = judge(survey, edition(EDITIONS[seed % len(EDITIONS)]), library())
        assert told(found) == [], f"seed {seed}"
        judgement_data(found, "0")
        assert judgement_text(found), seed


def test_they_reach_most_rules_and_every_verdict() -> None:
    """Else the tests above would hold of surveys that nothing is asked of."""
    reached: dict[Verdict, set[str]] = {verdict: set() for verdict in Verdict}
    for _, text in texts(120, start=500_000):
        survey = survey_from_text(text, "random.json")
        for finding in judge(survey, edition("umc_2012"), library()).findings:
            reached[finding.verdict].add(finding.rule)
    for verdict in Verdict:
        assert len(reached[verdict]) > len(RULES) / 4, verdict


def test_what_is_no_number_is_named() -> None:
    found = judge(read_survey(DEMO), edition("umc_2012"), library())
    numbered = next(f for f in found.findings if f.comparison is not None)
    assert numbered.comparison is not None
    limit = numbered.comparison.limit._replace(value=math.nan)
    broken = replace(numbered, comparison=numbered.comparison._replace(limit=limit))
    assert told(replace(found, findings=(broken,))) == [
        f"{broken.rule} of {broken.subject}.comparison.limit.value: nan"
    ]
    said = replace(numbered, sentence="It is nan in too low.")
    assert told(replace(found, findings=(said,))) == [
        f"{said.rule} of {said.subject}.sentence: It is nan in too low."
    ]


def test_every_invented_job_is_changed_and_most_changes_are_accepted() -> None:
    assert len(jobs()) >= 2
    seeds = [seed for seed, _ in texts(100, start=900_000)]
    assert seeds[-1] - seeds[0] < 150
