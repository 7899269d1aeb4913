"""The loader of the published checks, and the page made from them."""

from __future__ import annotations

import pytest
from tests.published_adapters import ADAPTERS
from tests.published_checks import BadCheck, Check, load, names, read
from tools.validation import cells_not_confirmed, page, results

WHOLE = """
[[check]]
id = "a"
source = "a document, an edition, a place"
checks = "twice"
given = { x = 2 }
expect = 4
unit = "m"
tolerance = { abs = 0.5, why = "printed as whole numbers" }
"""


def test_a_whole_check_is_read() -> None:
    (check,) = read(WHOLE, "x.toml")
    assert (check.id, check.expect, check.tolerance) == ("a", 4, 0.5)
    assert check.agrees(4.5)
    assert not check.agrees(4.51)
    assert not check.agrees(float("nan"))
    assert not check.agrees("4")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('"a document, an edition, a place"', '""', "x.toml: check a: source is empty."),
        ('"a document, an edition, a place"', '" "', "source is empty."),
        ('source = "a document, an edition, a place"', "", "source is missing."),
        ('"printed as whole numbers"', '""', "tolerance.why is empty."),
        (', why = "printed as whole numbers"', "", "tolerance must be {abs = number, why"),
        ("abs = 0.5", "abs = -1", "tolerance.abs must be a number, zero or more."),
        ("abs = 0.5", "abs = nan", "tolerance.abs must be a number, zero or more."),
        ("abs = 0.5", "abs = inf", "tolerance.abs must be a number, zero or more."),
        ("abs = 0.5", "abs = true", "tolerance.abs must be a number, zero or more."),
        ('tolerance = { abs = 0.5, why = "printed as whole numbers" }', "", "tolerance is missing"),
        ("expect = 4", "expect = [4]", "expect must be a number or words."),
        ('id = "a"', 'id = ""', "x.toml: check 1: id is empty."),
        ('unit = "m"', 'unit = "m"\nby = "us"', "unknown key by."),
        ("[[check]]", "[[cheque]]", "write [[check]] entries and nothing else."),
    ],
)
def test_a_check_without_source_tolerance_or_reason_is_refused(
    old: str, new: str, message: str
) -> None:
    assert old in WHOLE
    with pytest.raises(BadCheck) as caught:
        read(WHOLE.replace(old, new), "x.toml")
    assert message in str(caught.value)


def test_two_checks_of_one_id_are_refused_and_all_faults_told() -> None:
    with pytest.raises(BadCheck, match="a second one of this id"):
        read(WHOLE + WHOLE, "x.toml")
    with pytest.raises(BadCheck) as caught:
        read(WHOLE.replace("abs = 0.5", "abs = -1").replace('"m"', '"m"\nby = 1'), "x.toml")
    assert str(caught.value).count("\n") == 1


def test_every_published_check_has_its_computation() -> None:
    assert "capacity" in names()
    assert {check.checks for name in names() for check in load(name)} <= set(ADAPTERS)


def check(identity: str, expect: float | str, tolerance: float) -> Check:
    return Check(identity, "s", "given", {"out": expect}, expect, "", tolerance, "w")


def test_the_worst_comes_first_and_a_failure_above_all() -> None:
    outcomes: dict[str, float | str] = {"near": 1.1, "far": 10.9, "wrong": 3.0, "words": "no"}
    checks = [
        check("near", 1.0, 1.0), check("far", 10.0, 1.0), check("wrong", 1.0, 1.0),
        check("words", "no", 0.0),
    ]  # fmt: skip
    named = [
        Check(one.id, "s", "given", {"id": one.id}, one.expect, "", one.tolerance, "w")
        for one in checks
    ]
    found = results(named, {"given": lambda given: outcomes[given["id"]]})
    assert [one.check.id for one in found] == ["wrong", "far", "near", "words"]
    assert [one.agrees for one in found] == [False, True, True, True]


def test_a_check_that_names_no_computation_is_an_error() -> None:
    with pytest.raises(KeyError, match="no computation 'given'"):
        results([check("a", 1.0, 1.0)], {})


def test_the_page_shows_every_check_and_every_cell_not_confirmed() -> None:
    text = page()
    for name in names():
        for one in load(name):
            assert one.id in text
            assert one.source in text
            assert one.why in text
    cells = cells_not_confirmed()
    assert "| T1 | 1215 | 1082 | 130 | 1 | 2 |" in cells
    assert "| T2 | 1215 | 1060 | 149 | 6 | 0 |" in cells
    assert "| T3 | 783 | 759 | 20 | 4 | 0 |" in cells
    assert "| T4 | 783 | 773 | 3 | 7 | 0 |" in cells
    assert "| T5 | 304 | 297 | 7 | 0 | 0 |" in cells
    assert "| T6 | 280 | 187 | 92 | 1 | 0 |" in cells
    assert "| M1 | 576 | 555 | 11 | 10 | 0 |" in cells
    assert "| M2C | 168 | 163 | 2 | 3 | 0 |" in cells
    assert "| M7 | 256 | 64 | 192 | 0 | 0 |" in cells
    # Of T1, T2 and T5 every cell is listed, of the others those that are doubtful.
    doubtful = (4 + 7 + 1) + (10 + 3 + 3 + 7 + 3 + 2)
    found = sum(" | single | " in line or " | doubtful | " in line for line in cells)
    assert found == 1 + 293 + doubtful
