"""The evaluator of the check language itself, on checks and facts small enough to do by hand."""

from __future__ import annotations

import pytest
from tests.catalogue import judge
from tests.catalogue.judge import FAIL, NOT_ASKED, OPEN, PASS, REPORT, Facts
from tests.catalogue.parse import parse
from tests.catalogue.values import BARRED, NONE, UNKNOWN, Perhaps, Value

NAMES = ("a", "b", "n", "m", "w", "list", "size", "side[left]", "side[right]", "side")

CASES: list[tuple[str, dict[str, Value], str]] = [
    ("WHEN a : b", {"a": True, "b": True}, PASS),
    ("WHEN a : b", {"a": True, "b": False}, FAIL),
    ("WHEN a : b", {"a": False}, NOT_ASKED),
    ("WHEN a : b", {"b": True}, OPEN),
    ("WHEN TRUE : a AND b", {"a": False}, FAIL),
    ("WHEN TRUE : a AND b", {"a": True}, OPEN),
    ("WHEN TRUE : a OR b", {"a": True}, PASS),
    ("WHEN TRUE : a OR b", {"a": False}, OPEN),
    ("WHEN TRUE : NOT a", {}, OPEN),
    ("WHEN TRUE : NOT a", {"a": NONE}, PASS),
    ("WHEN TRUE : NOT a OR b", {"a": True, "b": False}, FAIL),
    ("WHEN TRUE : REPORT_ONLY", {}, REPORT),
    ("WHEN TRUE : n >= 0.25", {"n": 0.25}, PASS),
    ("WHEN TRUE : n >= 0.25", {"n": 0.2499}, FAIL),
    ("WHEN TRUE : n < 30", {"n": 30.0}, FAIL),
    ("WHEN TRUE : n >= 2", {"n": NONE}, OPEN),
    ("WHEN n != none : n >= 2", {"n": NONE}, NOT_ASKED),
    ("WHEN n != none : n >= 2", {}, OPEN),
    ("WHEN TRUE : n >= val(m, 6)", {"n": 6.0, "m": NONE}, PASS),
    ("WHEN TRUE : n >= val(m, 6)", {"n": 6.0, "m": 7.0}, FAIL),
    ("WHEN TRUE : n >= val(m, 6)", {"n": 6.0}, OPEN),
    ("WHEN TRUE : n <= 0.75*m", {"n": 7.5, "m": 10.0}, PASS),
    ("WHEN TRUE : n <= m - 2 - 1", {"n": 7.0, "m": 10.0}, PASS),
    ("WHEN TRUE : n <= max(m, 3)/2", {"n": 2.0, "m": 1.0}, FAIL),
    ("WHEN TRUE : n <= (IF a THEN 1 ELSE 2)", {"n": 2.0, "a": False}, PASS),
    ("WHEN TRUE : n <= (IF a THEN 1 ELSE 2)", {"n": 2.0}, OPEN),
    ("WHEN TRUE : step(n, m) <= 2", {"n": 6.0, "m": 4.0}, PASS),
    ("WHEN TRUE : step(n, m) <= 2", {"n": 7.0, "m": 4.0}, FAIL),
    ("WHEN TRUE : step(n, m) <= 2", {"n": 6.5, "m": 4.0}, OPEN),
    ("WHEN TRUE : w IN {x,y}", {"w": "y"}, PASS),
    ("WHEN TRUE : w NOT IN {x,y}", {"w": "y"}, FAIL),
    ("WHEN TRUE : w IN {none,y}", {"w": NONE}, PASS),
    ("WHEN TRUE : 'x' IN list", {"list": ("y", UNKNOWN)}, OPEN),
    ("WHEN TRUE : 'x' IN list", {"list": ("x", UNKNOWN)}, PASS),
    ("WHEN TRUE : 'x' NOT IN list", {"list": NONE}, PASS),
    ("WHEN TRUE : ALL(i IN list : i == x)", {"list": ("x", UNKNOWN)}, OPEN),
    ("WHEN TRUE : ALL(i IN list : i == x)", {"list": ("y", UNKNOWN)}, FAIL),
    ("WHEN TRUE : ALL(i IN list : i == x)", {"list": ()}, PASS),
    ("WHEN TRUE : ALL(i IN list : i == x)", {"list": (Perhaps("x"),)}, PASS),
    ("WHEN TRUE : ALL(i IN list : i == x)", {"list": (Perhaps("y"),)}, OPEN),
    ("WHEN TRUE : ANY(i IN list : i == x)", {"list": (Perhaps("x"),)}, OPEN),
    ("WHEN TRUE : ANY(i IN list : i == x)", {"list": (Perhaps("y"),)}, FAIL),
    ("WHEN TRUE : COUNT(i IN list : i > 45) <= 1", {"list": (30.0, 60.0)}, PASS),
    ("WHEN TRUE : COUNT(i IN list : i > 45) <= 1", {"list": (90.0, 60.0)}, FAIL),
    ("WHEN TRUE : list == []", {"list": ()}, PASS),
    ("WHEN TRUE : list == []", {"list": ("x",)}, FAIL),
    ("WHEN TRUE : ALL(s IN {left,right} : side[s] >= 30)", {"side[left]": 30.0}, OPEN),
    ("WHEN TRUE : ALL(s IN {left,right} : side[s] >= 30)", {"side[left]": 29.0}, FAIL),
    ("WHEN TRUE : size >= 22x30", {"size": (30.0, 22.0)}, PASS),
    ("WHEN TRUE : size >= 22x30", {"size": (40.0, 21.0)}, FAIL),
    ("WHEN TRUE : ASK(a)", {"a": True}, OPEN),
    ("WHEN TRUE : ASK(a)", {"a": False}, FAIL),
    ("WHEN a : n >= 1 ; WHEN b : m >= 1", {"a": True, "n": 1.0, "b": False}, PASS),
    ("WHEN a : n >= 1 ; WHEN b : m >= 1", {"a": False, "b": True, "m": 0.0}, FAIL),
    ("WHEN a : n >= 1 ; WHEN b : m >= 1", {"a": False, "b": False}, NOT_ASKED),
    ("WHEN TRUE : n <= w ; DOUBT m FOR w", {"n": 5.0, "w": 5.0, "m": 9.0}, PASS),
    ("WHEN TRUE : n <= w ; DOUBT m FOR w", {"n": 6.0, "w": 5.0, "m": 9.0}, OPEN),
    ("WHEN TRUE : n <= w ; DOUBT m FOR w", {"n": 9.5, "w": 5.0, "m": 9.0}, FAIL),
    ("WHEN TRUE : n <= w ; DOUBT m FOR w", {"n": 9.5, "m": 9.0}, FAIL),
    ("WHEN TRUE : n <= w ; DOUBT m FOR w", {"n": 8.0, "m": 9.0}, OPEN),
]


@pytest.mark.parametrize(("text", "facts", "expect"), CASES)
def test_verdict_by_hand(
    text: str, facts: dict[str, Value], expect: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = parse(text, NAMES)
    monkeypatch.setattr(judge, "check_of", lambda rule: check)
    assert Facts(lambda name: facts.get(name, UNKNOWN)).verdict("this") == expect


def test_a_table_cell_may_be_a_figure_a_bar_a_mark_or_nothing() -> None:
    table = "connector_clearance"
    assert judge.looked_up(table, ("listed_type_l", "single_wall")) == 9.0
    assert judge.looked_up(table, ("listed_type_l", "type_b")) is BARRED
    assert judge.looked_up(table, ("listed_type_l", "type_l")) == "as_listed"
    assert judge.looked_up(table, ("listed_type_l", "corrugated")) is UNKNOWN
    assert judge.looked_up(table, (UNKNOWN, "type_b")) is UNKNOWN
    assert judge.looked_up("roof_pitch_height", (6.0,)) == 1.0
    assert judge.looked_up("roof_pitch_height", (6.01,)) == 1.25
    assert judge.looked_up("roof_pitch_height", (22.0,)) is UNKNOWN
