"""Which requirements a survey can meet, and which only a person or a paper settles."""

from __future__ import annotations

import pytest
from tests.rule_cases import load

from fluewright.finding import Verdict
from fluewright.rules import RULES
from fluewright.rules.answers import answers, is_asked
from fluewright.rules.logic import Ask, Cond, Truth, When, yes

ASK = Ask("the paper", "ask for it")
PLAIN = yes("appliance_connected")


@pytest.mark.parametrize(
    ("cond", "may"),
    [
        (PLAIN, {Truth.YES, Truth.NO}),
        (ASK, set()),
        (PLAIN & ASK, {Truth.NO}),
        (PLAIN | ASK, {Truth.YES}),
        (~(PLAIN | ASK), {Truth.NO}),
        (When(PLAIN, ASK), {Truth.YES}),
        (When(ASK, PLAIN), {Truth.YES}),
    ],
)
def test_what_a_condition_may_come_to(cond: Cond, may: set[Truth]) -> None:
    assert answers(cond) == may


@pytest.mark.parametrize("rule", [r for r in RULES if is_asked(RULES[r])])
def test_what_only_a_person_settles_is_never_met_in_a_case(rule: str) -> None:
    assert Verdict.MEETS not in {case.expect for case in load(rule)}


def test_a_requirement_with_a_case_that_meets_is_judged() -> None:
    judged = [r for r in RULES if Verdict.MEETS in {case.expect for case in load(r)}]
    assert judged
    assert not [rule for rule in judged if is_asked(RULES[rule])]
