"""What must hold of the rules, their facts, their cases and their limits, whoever adds one."""

from __future__ import annotations

import math
import re
import string
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from tests.rule_cases import CLAIMS, EDITIONS, Case, edition, judged, library, load

from fluewright.asked import Asked
from fluewright.edition import (
    Edition,
    KeyedLimit,
    LimitValue,
    NumberLimit,
    StepLimit,
    WordLimit,
    edition_from,
)
from fluewright.errors import BadEdition
from fluewright.facts import FACTS
from fluewright.finding import Grade, Verdict
from fluewright.judge import judge_one
from fluewright.quantity import Dimension, Measured
from fluewright.rules import RULES, needed
from fluewright.rules.base import Rule, registry
from fluewright.rules.condition import Compare
from fluewright.rules.in_table import InTable
from fluewright.rules.logic import Always, Ask, KeyedNum, LimitNum, StepNum, walk

# A verdict that a rule can never give, and why; every other rule has a case of every verdict.
NEVER = {
    ("type_l_and_bw_use", Verdict.MEETS): "the height over the furnace bottom is no fact yet",
    ("connector_male_end_direction", Verdict.FAILS): "trade practice knows both directions",
}
# Facts that no rule looks up, and what they are for.
NOT_FOR_RULES = {
    "chase": "drawn; its parts are facts of their own",
    "joint_tape": "shown beside the fastening; tape settles no requirement",
    "outlet_on_top": "part of straight_up",
    "load_before": "shown in the working where an appliance was taken out",
    "load_now": "shown in the working where an appliance was taken out",
}
# Rules whose limit no reading can meet exactly, and why.
NO_EXACT = {
    "vertical_vent_larger_than_connector": "seven times an area: the diameter is irrational",
    "orphaned_appliance_resize": "seven times the area of a circle is irrational",
    "single_wall_cap_capacity": "the area of a circle is irrational",
    "multiple_input_rates": "both comparisons are strict",
}
# Rules whose finding never names a number inside the limit, and why.
NO_INSIDE = {
    "multistory_offset": "the one offset it is asked of is just the number allowed",
    "vent_offset_angle": "nothing is less than no offset over 60 degrees",
}
WORDS = {"name", "measured", "limit", "bound", "gap", "where"}
RULE = pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))


def numbers_of(rule: Rule) -> list[Compare | InTable]:
    return [n for n in walk(rule.needs) if isinstance(n, Compare | InTable)]


# Rules


@RULE
def test_rule_has_its_words(rule: Rule) -> None:
    assert rule.grade in Grade
    for text in (rule.title, rule.fails, rule.meets, rule.remedy):
        assert text.strip()
        assert text[0].isupper() or text.startswith("{name}")
    for text in (rule.fails, rule.meets, rule.remedy, rule.not_asked or "Not asked."):
        assert text.endswith("."), text
    for text in (rule.title, rule.fails, rule.meets, rule.remedy, rule.not_asked):
        fields = {field for _, field, _, _ in string.Formatter().parse(text) if field is not None}
        assert fields <= WORDS, text
        assert not CLAIMS.search(text), text
    assert {f for _, f, _, _ in string.Formatter().parse(rule.not_asked) if f} <= {"name"}
    assert "{" not in rule.title + rule.remedy


@RULE
def test_rule_asks_for_facts_that_there_are(rule: Rule) -> None:
    assert set(rule.facts()) <= set(FACTS)
    for case in load(rule.id):
        assert set(case.facts) <= set(rule.facts()) | facts_behind(rule), case.name


def facts_behind(rule: Rule) -> set[str]:
    """Facts of the requirements that a rule leans on."""
    names: set[str] = set()
    for part in (rule.applies, rule.needs):
        for node in walk(part):
            other = getattr(node, "rule", None)
            if isinstance(other, str):
                assert other in RULES, f"{rule.id} leans on {other}, which is no rule"
                names |= set(RULES[other].facts()) | facts_behind(RULES[other])
    return names


def test_every_fact_serves_a_rule_or_says_what_for() -> None:
    used = {name for rule in RULES.values() for name in rule.facts()}
    assert set(FACTS) - used == set(NOT_FOR_RULES)
    assert all(NOT_FOR_RULES.values())


def test_every_fact_has_a_name_that_people_use_and_a_way_to_learn_it() -> None:
    for name, fact in FACTS.items():
        assert fact.name == name
        assert fact.label.strip(), name
        assert fact.how.strip(), name
        assert not re.search(r"[{}_]", fact.label + fact.how.replace("draft_need", "")), name


# Cases


@RULE
def test_rule_has_a_case_of_every_verdict_it_can_give(rule: Rule) -> None:
    found = {case.expect for case in load(rule.id)}
    wanted = set(Verdict)
    if isinstance(rule.applies, Always):
        wanted.discard(Verdict.NOT_APPLICABLE)
    wanted -= {verdict for name, verdict in NEVER if name == rule.id}
    assert found == wanted


@pytest.mark.parametrize(("rule", "verdict"), list(NEVER))
def test_a_verdict_said_never_to_be_given_is_asked_of_a_person(rule: str, verdict: Verdict) -> None:
    assert any(isinstance(node, Ask) for node in walk(RULES[rule].needs))
    assert NEVER[rule, verdict]


@RULE
def test_rule_has_a_case_for_each_fact_not_known(rule: Rule) -> None:
    """Each fact that the rule looks up is left out of a case that cannot be told for it."""
    told = {FACTS[name].label for name in rule.facts()}
    asked = {
        item.label
        for case in load(rule.id)
        if case.expect is Verdict.CANNOT_TELL
        for item in judged(rule.id, case.facts, case.edition).measure_next
    }
    assert told <= asked, f"no case asks for {sorted(told - asked)}"


@RULE
def test_rule_with_numbers_has_cases_about_its_limits(rule: Rule) -> None:
    if not numbers_of(rule):
        return
    straddling = [case for case in load(rule.id) if _by_tolerance_alone(case)]
    assert straddling, "no case within the tolerance"
    findings = [judged(rule.id, c.facts, c.edition) for c in load(rule.id)]
    margins = [f.comparison.margin for f in findings if f.comparison is not None]
    exact = any(abs(m.value) < 1e-9 and m.tolerance == 0 for m in margins)
    assert exact or rule.id in NO_EXACT, "no case exactly at the limit"
    inside = any(m.value > 1e-9 and m.tolerance == 0 for m in margins)
    assert inside or rule.id in NO_INSIDE, "no case inside the limit"
    assert any(m.value < -1e-9 and m.tolerance == 0 for m in margins), "no case outside"


def _by_tolerance_alone(case: Case) -> bool:
    """Whether a case that cannot be told would be, were its readings exact."""
    if case.expect is not Verdict.CANNOT_TELL:
        return False
    exact = {
        name: replace(value, tolerance=0.0) if isinstance(value, Measured) else value
        for name, value in case.facts.items()
    }
    return judged(case.rule, exact, case.edition).verdict is not Verdict.CANNOT_TELL


@RULE
def test_rule_shows_its_hand_calculation_where_a_number_decides(rule: Rule) -> None:
    if not any(isinstance(n, Compare) and _in_edition(n) for n in numbers_of(rule)):
        return
    assert any(case.working for case in load(rule.id)), "no case with its working"


def _in_edition(compare: Compare) -> bool:
    return isinstance(compare.right, LimitNum | StepNum | KeyedNum)


# Limits: each is pinned by a case, so that a wrong figure in an edition turns a test red


def _limit_moves() -> Iterator[tuple[str, str, LimitValue]]:
    """Each figure of each edition, moved a little: key, what was moved, the limit with it."""
    for key in needed().limits:
        limit = edition(_home(key)).limits[key]
        if isinstance(limit, NumberLimit):
            for share in (0.98, 1.02):
                moved = _moved(key, limit.value, share)
                yield key, f"{share:g} of it", replace(limit, value=moved)
        elif isinstance(limit, StepLimit):
            for i, (bound, value) in enumerate(limit.rows):
                if math.isinf(bound):  # a last row for whatever is more
                    rows = (*limit.rows[:i], (bound, value * 1.02))
                    yield key, f"row {i + 1}: {value * 1.02:g}", replace(limit, rows=rows)
                    continue
                for row in ((bound * 0.999, value), (bound * 1.005, value), (bound, value * 1.02)):
                    rows = (*limit.rows[:i], row, *limit.rows[i + 1 :])
                    yield key, f"row {i + 1}: {row}", replace(limit, rows=rows)
        elif isinstance(limit, KeyedLimit):
            yield from _cell_moves(key, limit)


@cache
def _users(key: str) -> tuple[Rule, ...]:
    """The rules that use a limit."""
    return tuple(rule for rule in RULES.values() if key in rule.limits())


@cache
def _home(key: str) -> str:
    """An edition in which a rule that uses the limit is asked, the same for every test."""
    asked = [
        name
        for name in HOMES
        if any(not edition(name).requirements[rule.id].absent for rule in _users(key))
    ]
    assert asked, f"no edition asks for a rule that uses {key}"
    return asked[0]


def _moved(key: str, value: float, share: float) -> float:
    if key.endswith("temperature_min") or key == "clearance.wool_melting_min":
        return value + (share - 1.0) * 50.0  # a level: a degree up or down
    count = key.split(".")[1] in COUNTED
    return value + (1.0 if share > 1 else -1.0) if count else value * share


FIRST_HOMES = ("umc_2012", "upc_2012", "irc_2021")  # the editions that cases stand in
HOMES = (*FIRST_HOMES, *(name for name in EDITIONS if name not in FIRST_HOMES))
COUNTED = (
    "offsets_over_45_max",
    "offsets_over_60_max",
    "sizes_over_outlet_max",
    "screws_per_joint_usual",
    "fan_steps_down_max",
    "fan_steps_down_large_max",
    "offsets_max",
    "straps_min",
)


def _cell_moves(key: str, limit: KeyedLimit) -> Iterator[tuple[str, str, LimitValue]]:
    for row, columns in limit.rows.items():
        for column, cell in columns.items():
            if column.startswith("from_12_"):
                continue  # no row of the connector table has 12 in
            for other in _other_cells(key, row, column, cell):
                rows = {**limit.rows, row: {**columns, column: other}}
                yield key, f"{row}, {column}: {other}", replace(limit, rows=rows)


def _other_cells(key: str, row: str, column: str, cell: float | str) -> tuple[float | str, ...]:
    if isinstance(cell, float):
        more = () if (key, row, column) in NOTHING_GAINED else (cell * 1.02,)
        return (cell * 0.98, *more)
    words = {"yes": "no", "as_listed": "not_permitted", "not_permitted": "as_listed"}
    if cell in words:
        return (words[cell],)
    return ("yes",) if key == "vent.permitted_kinds" else (0.0254,)


# A shield that leaves the distance as it was: more than the whole distance is never asked for.
NOTHING_GAINED = {("clearance.reduced", "masonry_3_5in_air_gap", "from_6_side")}
MOVES = list(_limit_moves())


@pytest.mark.parametrize(("key", "what", "limit"), MOVES, ids=[f"{k}: {w}" for k, w, _ in MOVES])
def test_a_limit_moved_a_little_turns_a_case(key: str, what: str, limit: LimitValue) -> None:
    assert any(_turned(rule, key, limit) for rule in _users(key)), (
        f"no case notices {key} with {what}"
    )


def _turned(rule: Rule, key: str, limit: LimitValue) -> bool:
    """Whether a case of a rule gets another verdict, or other numbers, by the limit given."""
    for case in load(rule.id):
        if case.edition != _home(key):
            continue
        whole = edition(case.edition)
        other = replace(whole, limits={**whole.limits, key: limit})
        found = judge_one(rule, Asked("p1", None, other, library(), given=case.facts), other)  # type: ignore[arg-type]
        if found.verdict is not case.expect:
            return True
    return False


def test_the_word_in_which_editions_differ_is_noticed() -> None:
    words = {k: v for k, v in edition("umc_2012").limits.items() if isinstance(v, WordLimit)}
    others = {
        "vent.offset_rules_bind": "area_rule",
        "access.platform_exempt": "no",
        "alarm.each_level": "not_asked",
    }
    assert set(words) == set(others)
    for key, word in words.items():
        other = replace(word, word=others[key])
        assert any(_turned(rule, key, other) for rule in _users(key))


@pytest.mark.parametrize("name", EDITIONS)
def test_an_edition_states_what_the_rules_use_and_no_more(name: str) -> None:
    book = edition(name)
    assert set(book.limits) == set(needed().limits)
    assert set(book.requirements) == set(RULES)
    for rule, entry in book.requirements.items():
        assert bool(entry.cites) is not bool(entry.absent), rule
    for limit in book.limits.values():
        assert limit.cite.at


def test_a_rule_is_judged_in_an_edition_that_has_it() -> None:
    for rule in RULES:
        for case in load(rule):
            assert not edition(case.edition).requirements[rule].absent, f"{rule}: {case.name}"


# Registry and editions: what is refused, with the text


def test_a_rule_that_stands_twice_is_refused() -> None:
    rule = RULES["gas_vent_minimum_height"]
    with pytest.raises(ValueError, match="rule gas_vent_minimum_height stands twice"):
        registry((rule,), (rule,))


def test_a_limit_used_as_two_kinds_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    rule = RULES["gas_vent_minimum_height"]
    other = replace(rule, id="other", needs=Compare(
        LimitNum("vent.height_min", Dimension.AREA), rule.needs.sense,  # type: ignore[attr-defined]
        LimitNum("vent.height_min", Dimension.AREA),
    ))  # fmt: skip
    monkeypatch.setattr("fluewright.rules.RULES", {**RULES, "other": other})
    with pytest.raises(ValueError, match=r"limit vent\.height_min is used as"):
        needed()


def raw(name: str = "umc_2012") -> dict[str, Any]:
    from importlib.resources import files

    return tomllib.loads(
        (files("fluewright") / "data" / "editions" / f"{name}.toml").read_text("utf-8")
    )


def without(data: Mapping[str, Any], *route: str) -> dict[str, Any]:
    """The data without the entry at the end of the route."""
    head, *rest = route
    if not rest:
        return {k: v for k, v in data.items() if k != head}
    return {**data, head: without(data[head], *rest)}


def with_(data: Mapping[str, Any], value: Any, *route: str) -> dict[str, Any]:
    """The data with the value put at the end of the route."""
    head, *rest = route
    return {**data, head: with_(data.get(head, {}), value, *rest) if rest else value}


H = ("limit", "vent.height_min")
RQ = ("requirement", "gas_vent_minimum_height")
CITE = {"at": "802.6.2.1", "basis": "read"}
FAULTS: list[tuple[str, dict[str, Any], str]] = [
    ("no limit", without(raw(), *H), "limit vent.height_min is missing. Add it with its place"),
    ("no value", without(raw(), *H, "value"), "limit vent.height_min: value is missing."),
    ("limit without place", without(raw(), *H, "at"), "vent.height_min: the place (at) is missing"),
    ("limit without basis", without(raw(), *H, "basis"), 'basis "" is not known. Write one of'),
    ("another basis", with_(raw(), "hearsay", *H, "basis"), 'basis "hearsay" is not known.'),
    ("unknown limit", with_(raw(), {"value": "1 ft", **CITE}, "limit", "vent.width_max"),
     "limit vent.width_max is used by no rule."),
    ("unknown key of a limit", with_(raw(), "5 ft", *H, "valeu"),
     "limit vent.height_min: valeu is not known. Known here: at, base, basis"),
    ("limit that is no table", with_(raw(), "5 ft", *H), "a table with value, at and basis is"),
    ("no unit", with_(raw(), "5", *H, "value"), 'limit vent.height_min: "5" has no unit'),
    ("another dimension", with_(raw(), "5 degF", *H, "value"), "limit vent.height_min: "),
    ("steps that fall", with_(raw(), [["7/12", "1 ft"], ["6/12", "2 ft"]],
                              "limit", "roof.pitch_height", "steps"),
     "limit roof.pitch_height: steps must rise."),
    ("steps that stand", with_(raw(), [["6/12", "1 ft"], ["6/12", "2 ft"]],
                               "limit", "roof.pitch_height", "steps"), "steps must rise."),
    ("no step", with_(raw(), [], "limit", "roof.pitch_height", "steps"),
     "steps must be a list of [up to, value]."),
    ("no word past the steps", without(raw(), "limit", "roof.pitch_height", "beyond"),
     "limit roof.pitch_height: beyond is missing."),
    ("rows that are no table", with_(raw(), ["6 in"], "limit", "connector.clearance", "rows"),
     "limit connector.clearance: rows must be a table of tables."),
    ("a cell of another kind", with_(raw(), "6 degF", "limit", "connector.clearance", "rows",
                                     "medium_heat", "single_wall"), "connector.clearance: "),
    ("no requirement", without(raw(), *RQ),
     "requirement gas_vent_minimum_height is missing. Add its cites, or state absent: <reason>."),
    ("no citation", with_(raw(), {}, *RQ),
     "requirement gas_vent_minimum_height has no citation. Add cites, or state absent: <reason>."),
    ("empty citations", with_(raw(), [], *RQ, "cites"), "has no citation"),
    ("citation without place", with_(raw(), [{"basis": "read"}], *RQ, "cites"),
     "requirement gas_vent_minimum_height: the place (at) is missing. Add the section."),
    ("citation that is no table", with_(raw(), ["802.6"], *RQ, "cites"),
     "requirement gas_vent_minimum_height needs a citation: at and basis."),
    ("unregistered rule", with_(raw(), {"cites": [CITE]}, "requirement", "no_such_rule"),
     "requirement no_such_rule is not a registered rule."),
    ("requirement that is no table", with_(raw(), "802.6.2.1", *RQ),
     "requirement gas_vent_minimum_height: a table with cites or absent is expected."),
    ("unknown key of a requirement", with_(raw(), [], *RQ, "citse"),
     "requirement gas_vent_minimum_height: citse is not known. Known here: absent, cites."),
    ("unknown key", with_(raw(), {}, "limits"), "limits is not known. Known here: edition, limit"),
    ("no title", without(raw(), "edition", "title"), "edition.title is missing"),
    ("unknown key of the head", with_(raw(), "x", "edition", "titel"),
     "edition.titel is not known."),
    ("judged and not examined", with_(raw(), {"at": "x", "why": "y"}, "unexamined",
                                      "gas_vent_minimum_height"),
     "unexamined gas_vent_minimum_height is a registered rule; take it out."),
    ("not examined without a reason", with_(raw(), {"at": "x"}, "unexamined", "something"),
     "unexamined something needs at and why."),
]  # fmt: skip


@pytest.mark.parametrize(("data", "text"), [f[1:] for f in FAULTS], ids=[f[0] for f in FAULTS])
def test_a_faulty_edition_is_refused_with_the_place(data: dict[str, Any], text: str) -> None:
    with pytest.raises(BadEdition) as caught:
        edition_from(data, "", needed())
    assert text in str(caught.value)
    assert all(line.startswith("edition umc_2012: ") for line in str(caught.value).splitlines())


def test_every_fault_of_an_edition_is_told_at_once() -> None:
    data = without(without(raw(), *H), *RQ)
    with pytest.raises(BadEdition) as caught:
        edition_from(with_(data, {}, "limits"), "", needed())
    assert len(str(caught.value).splitlines()) == 3


@pytest.mark.parametrize("part", ["edition", "requirement", "limit"])
def test_a_part_of_an_edition_that_is_no_table_is_refused(part: str) -> None:
    with pytest.raises(BadEdition, match=f"{part}: a table is expected, str found"):
        edition_from({**raw(), part: "x"}, "", needed())


def test_a_whole_edition_is_read() -> None:
    book: Edition = edition_from(raw(), "abc", needed())
    assert (book.id, book.sha256) == ("umc_2012", "abc")
    limit = book.limits["vent.height_min"]
    assert isinstance(limit, NumberLimit)
    assert limit.value == pytest.approx(1.524)
