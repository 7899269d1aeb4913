"""Changing the edition changes exactly the findings that the data of the editions says differ.

For each two editions: what their data says (`differences`) beside what the findings of every
invented job show (`changed`), and beside the cases of the rules.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from tests.rule_cases import EDITIONS, edition, judged, library, load
from tools.edition_pairs import (
    Difference,
    changed,
    differences,
    judged_demos,
    leans_on,
    limits_that_differ,
    outcome,
)

from fluewright import app
from fluewright.api import read_survey
from fluewright.edition import Edition, KeyedLimit, LimitValue, NumberLimit, StepLimit
from fluewright.finding import Finding
from fluewright.judge import judge
from fluewright.rules import RULES, Rule

DEMO = Path(app.DATA) / "demo" / "otter-bend.yaml"
PAIRS = tuple(combinations(EDITIONS, 2))
PAIR = pytest.mark.parametrize(("first", "second"), PAIRS, ids=[f"{a}-{b}" for a, b in PAIRS])


def figures(limit: LimitValue) -> frozenset[float]:
    """Every figure that a limit holds. [SI]"""
    if isinstance(limit, NumberLimit):
        return frozenset({limit.value})
    if isinstance(limit, StepLimit):
        return frozenset(value for _, value in limit.rows)
    if isinstance(limit, KeyedLimit):
        cells = (cell for row in limit.rows.values() for cell in row.values())
        return frozenset(cell for cell in cells if isinstance(cell, float))
    return frozenset()


def decided_by_what_differs(finding: Finding, rule: Rule, a: Edition, b: Edition) -> bool:
    """Whether the figure that decided a finding stands in ``a`` alone, in a limit that differs."""
    if finding.comparison is None:
        return False
    keys = limits_that_differ(rule, a, b)
    others = [key for one in leans_on(rule) for key in one.limits() if key not in keys]
    shared = frozenset().union(*(figures(a.limits[key]) for key in others))
    alone = frozenset().union(*(figures(a.limits[key]) - figures(b.limits[key]) for key in keys))
    return finding.comparison.limit.value in alone - shared


@PAIR
def test_a_change_of_edition_changes_what_the_data_says_and_no_more(
    first: str, second: str
) -> None:
    a, b = edition(first), edition(second)
    said = differences(a, b)
    rules = {one.rule for one in said}
    shown: dict[str, int] = dict.fromkeys(rules, 0)
    for name, by_edition in judged_demos().items():
        for rule, subject in changed(by_edition[first], by_edition[second]):
            assert rule in rules, f"{name}: {rule} of {subject} differs, and the data does not"
            shown[rule] += 1
    rows = [f"{one.rule}: {one.what}: {one.first} | {one.second}" for one in said]
    print("", f"{first}, {second}: {len(rules)} rules, {sum(shown.values())} findings", sep="\n")
    print(*rows, sep="\n")  # docs/edition-differences.md has the same table


@PAIR
def test_a_rule_that_one_edition_does_not_ask_is_answered_in_the_other_alone(
    first: str, second: str
) -> None:
    asked = {d.rule: d for d in differences(edition(first), edition(second)) if d.what == "asked"}
    for rule, one in asked.items():
        has, lacks = (first, second) if one.first == "asked" else (second, first)
        for name, by_edition in judged_demos().items():
            there = any(f.rule == rule for f in by_edition[has].findings)
            assert there or not_in_demo(rule, name), f"{name}: {rule} is not asked by {has}"
            assert not any(f.rule == rule for f in by_edition[lacks].findings), (name, rule)


def not_in_demo(rule: str, name: str) -> bool:
    """Whether a demo holds nothing that a rule is asked of: no edition has a finding of it."""
    found = judged_demos()[name].values()
    return not any(f.rule == rule for judgement in found for f in judgement.findings)


@PAIR
def test_a_finding_that_a_differing_limit_decided_differs(first: str, second: str) -> None:
    for by_edition in judged_demos().values():
        for here, other in ((first, second), (second, first)):
            both = changed(by_edition[here], by_edition[other])
            for finding in by_edition[here].findings:
                rule = RULES[finding.rule]
                if decided_by_what_differs(finding, rule, edition(here), edition(other)):
                    assert (finding.rule, finding.subject) in both, finding.sentence


@PAIR
def test_a_rule_whose_data_differs_has_a_case_that_shows_it(first: str, second: str) -> None:
    for one in differences(edition(first), edition(second)):
        if one.what != "asked":
            assert cases_that_differ(one.rule, first, second), (one, "no case notices it")


def cases_that_differ(rule: str, first: str, second: str) -> list[str]:
    """Names of the cases of a rule that two editions answer otherwise."""
    answers = zip(load(rule), answered(rule, first), answered(rule, second), strict=True)
    return [case.name for case, one, other in answers if one != other]


@cache
def answered(rule: str, name: str) -> tuple[object, ...]:
    """What an edition answers to each case of a rule."""
    return tuple(outcome(judged(rule, case.facts, name)) for case in load(rule))


@PAIR
def test_a_rule_whose_data_is_the_same_answers_every_case_alike(first: str, second: str) -> None:
    a, b = edition(first), edition(second)
    rules = {one.rule for one in differences(a, b)}
    for rule in set(RULES) - rules:
        if not a.requirements[rule].absent:
            assert cases_that_differ(rule, first, second) == []


def test_the_data_does_differ() -> None:
    """Else the tests above would hold of nothing."""
    found = {pair: differences(*map(edition, pair)) for pair in PAIRS}
    assert sum(map(len, found.values())) > 20
    assert any(one.what == "asked" for some in found.values() for one in some)
    assert (
        Difference("direct_vent_terminal_openings", "terminal.direct_vent_by_input",
                   "6, 9, 12 in", "6, 9, 12 in; then above this input the appliance "
                   "instructions decide, and not less than the distances of an outlet that a fan "
                   "drives")
        in differences(edition("umc_2012"), edition("irc_2021"))
    )  # fmt: skip
    shown = [
        key for by_edition in judged_demos().values()
        for key in changed(by_edition["umc_2012"], by_edition["irc_2021"])
    ]  # fmt: skip
    assert shown


def test_a_figure_moved_in_one_edition_moves_the_findings_that_it_decides() -> None:
    a, survey = edition("umc_2012"), read_survey(DEMO)
    before = judged_demos()[DEMO.stem]["umc_2012"]
    seen: set[str] = set()
    for key, limit in a.limits.items():
        if not isinstance(limit, NumberLimit):
            continue
        b = replace(a, limits={**a.limits, key: replace(limit, value=limit.value * 1.1 + 0.01)})
        rules = {one.rule for one in differences(a, b)}
        users = {r.id for r in asked_of(a) if any(key in one.limits() for one in leans_on(r))}
        assert rules == users, key
        both = changed(before, judge(survey, b, library()))
        assert {rule for rule, _ in both} <= rules, key
        for finding in before.findings:
            if decided_by_what_differs(finding, RULES[finding.rule], a, b):
                assert (finding.rule, finding.subject) in both, finding.sentence
                seen.add(finding.rule)
    assert "connector_upward_slope" in seen
    assert len(seen) > 5


def asked_of(book: Edition) -> list[Rule]:
    """The rules that an edition asks."""
    return [rule for rule in RULES.values() if not book.requirements[rule.id].absent]
