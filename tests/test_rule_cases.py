"""Every case of every rule, and what must hold of all of them: see tests/rule_cases.py."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from tests import rule_cases
from tests.rule_cases import CLAIMS, BadCase, Case, in_si, judged, level_in_si, load

from fluewright.facts import FactValue
from fluewright.finding import Comparison, Finding, Verdict
from fluewright.quantity import Measured
from fluewright.rules import RULES

NAMES = sorted(path.stem for path in rule_cases.FOLDER.glob("*.toml"))
RULE = pytest.mark.parametrize("rule", NAMES)
# Shares of the value by which a tolerance is widened, from none on.
WIDTHS = (0.0, 0.002, 0.01, 0.05, 0.2, 0.6, 2.0)


@RULE
def test_each_case_gets_its_verdict_numbers_and_words(rule: str) -> None:
    faults: list[str] = []
    for case in load(rule):
        found = judged(rule, case.facts, case.edition)
        faults += [f"{case.name}: {fault}" for fault in _faults(case, found)]
    assert not faults, "\n".join(faults)


def _faults(case: Case, found: Finding) -> Iterator[str]:
    if found.verdict is not case.expect:
        yield f"{found.verdict}, {case.expect} expected: {found.sentence}"
    if case.asks and case.asks not in [m.label for m in found.measure_next]:
        yield f"asks {[m.label for m in found.measure_next]}, not {case.asks}"
    if case.says not in found.sentence:
        yield f'says "{found.sentence}", not "{case.says}"'
    wanted = (case.margin, case.within, case.limit)
    if any(wanted) and found.comparison is None:
        yield "no numbers"
    elif found.comparison is not None:
        yield from _numbers(case, found.comparison)


def _numbers(case: Case, found: Comparison) -> Iterator[str]:
    wanted = {
        "margin": (case.margin and in_si(case.margin), found.margin.value),
        "within": (case.within and in_si(case.within), found.margin.tolerance),
        "limit": (case.limit and level_in_si(case.limit), found.limit.value),
    }
    for name, (expected, computed) in wanted.items():
        if expected is not None and computed != pytest.approx(expected, rel=1e-6, abs=1e-9):
            yield f"{name} {computed}, {expected} expected"


@RULE
def test_each_finding_reads_as_a_sentence_and_says_what_to_do(rule: str) -> None:
    for case in load(rule):
        found = judged(rule, case.facts, case.edition)
        texts = (found.sentence, *found.remedies, *(s.what for s in found.working))
        asked = [f"{m.label} {m.how} {m.why}" for m in found.measure_next]
        for text in (*texts, *asked):
            assert not re.search(r"[{}]|\bNone\b|Measured\(", text), f"{case.name}: {text}"
            assert not CLAIMS.search(text), f"{case.name}: {text}"
        assert found.sentence.rstrip().endswith((".", "!")), f"{case.name}: {found.sentence}"
        open_ = found.verdict is Verdict.CANNOT_TELL
        assert bool(found.measure_next) is open_, f"{case.name}: {found.measure_next}"
        assert all(m.label.strip() and (m.how or m.why) for m in found.measure_next), case.name
        assert bool(found.remedies) is (found.verdict is Verdict.FAILS), case.name


@RULE
def test_a_fact_left_out_never_settles_anything(rule: str) -> None:
    """Nothing is met, and nothing fails, because less is known: it stays, or cannot be told.

    Stronger than that a missing reading never becomes a pass: a missing reading never becomes a
    verdict of any kind. No rule here needs an exception.
    """
    for case in load(rule):
        before = judged(rule, case.facts, case.edition).verdict
        for name in case.facts:
            fewer = {k: v for k, v in case.facts.items() if k != name}
            after = judged(rule, fewer, case.edition).verdict
            assert after in (before, Verdict.CANNOT_TELL), f"{case.name}: without {name} {after}"


@RULE
def test_a_list_with_an_unseen_piece_never_settles_anything(rule: str) -> None:
    """A piece more that nobody could tell leaves a verdict as it is, or open."""
    for case in load(rule):
        before = judged(rule, case.facts, case.edition).verdict
        for name, value in case.facts.items():
            if not isinstance(value, tuple) or "elbow" in name:
                continue  # an elbow of unknown angle makes the whole fact unknown
            more = {**case.facts, name: (*value, "?")}
            after = judged(rule, more, case.edition).verdict
            assert after in (before, Verdict.CANNOT_TELL), f"{case.name}: {name} and ?: {after}"


@RULE
def test_a_wider_tolerance_never_settles_anything(rule: str) -> None:
    """From no tolerance on, a verdict holds until it is open, and stays open from there.

    So a tighter tolerance turns meets into fails, or fails into meets, by way of cannot_tell.
    """
    for case in load(rule):
        for names in _widened(case):
            seen = [_verdict(case, names, width) for width in WIDTHS]
            settled = [v for v in seen if v is not Verdict.CANNOT_TELL]
            assert len(set(settled)) <= 1, f"{case.name}: {names} {seen}"
            assert seen == settled + [Verdict.CANNOT_TELL] * (len(seen) - len(settled)), (
                f"{case.name}: {names} {seen}"
            )


def _widened(case: Case) -> Iterator[tuple[str, ...]]:
    """Each measure alone, then all together."""
    measures = tuple(name for name, value in case.facts.items() if isinstance(value, Measured))
    for name in measures:
        yield (name,)
    if len(measures) > 1:
        yield measures


def _verdict(case: Case, names: tuple[str, ...], width: float) -> Verdict:
    facts: dict[str, FactValue] = dict(case.facts)
    for name in names:
        value = facts[name]
        assert isinstance(value, Measured)
        share = abs(value.value) or 1.0
        facts[name] = replace(value, tolerance=width * share)
    return judged(case.rule, facts, case.edition).verdict


# The reader of the cases


WHOLE = """
[base]
vent_material = ["type_b"]
mech_draft_present = false
vent_height = {length = "12 ft"}

[[case]]
name = "a case"
facts = {vent_height = {length = "4 ft ± 1 in"}}
missing = ["mech_draft_present"]
expect = "fails"
margin = "-1 ft"
"""
ID = "gas_vent_minimum_height"


def test_a_whole_file_is_read() -> None:
    (case,) = rule_cases.read(WHOLE, ID)
    height = case.facts["vent_height"]
    assert isinstance(height, Measured)
    assert height.value == pytest.approx(1.2192)
    assert height.tolerance == pytest.approx(0.0254)
    assert set(case.facts) == {"vent_material", "vent_height"}
    assert (case.expect, case.margin, case.edition) == (Verdict.FAILS, (-1.0, "ft"), "umc_2012")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("vent_material", "vent_matter", "base: vent_matter is not a fact."),
        ("facts = {vent_height", "facts = {vent_hight", "case a case: vent_hight is not a fact."),
        ("false", '{length = "x"}', "base: mech_draft_present: "),
        ("false", "3", "base: mech_draft_present: 3 is no fact. Write true, false, a word"),
        ("false", '{lenght = "3 in"}', "is no fact. Write true, false, a word"),
        ('["mech_draft_present"]', '["vent_sound"]', "vent_sound is missing from the base already"),
        ('"fails"', '"fail"', "expect must be one of meets, fails, cannot_tell, not_applicable."),
        ('expect = "fails"', "", "case a case: expect is missing."),
        ('name = "a case"', "", "case 1: name is missing."),
        ('"-1 ft"', '"-1"', 'margin: "-1" is no number with a unit'),
        ("margin", "marign", "case a case: unknown key marign."),
        ("[base]", "[bases]", "unknown key bases."),
        ('expect = "fails"', 'expect = "fails"\nedition = "umc_1912"', "edition must be one of"),
    ],
)
def test_a_faulty_file_is_refused(old: str, new: str, message: str) -> None:
    assert old in WHOLE
    with pytest.raises(BadCase) as caught:
        rule_cases.read(WHOLE.replace(old, new), ID)
    assert message in str(caught.value)


def test_a_file_without_cases_and_two_cases_of_one_name_are_refused() -> None:
    with pytest.raises(BadCase, match="no case"):
        rule_cases.read("[base]\n", ID)
    twice = WHOLE + WHOLE[WHOLE.index("[[case]]") :]
    with pytest.raises(BadCase, match="a second one of this name"):
        rule_cases.read(twice, ID)


def test_the_rules_and_their_files_are_the_same() -> None:
    assert sorted(RULES) == NAMES
