"""The rules of size, the question of the command line, and the index of the tables."""

from __future__ import annotations

import csv
import tomllib
from typing import Any

import pytest
from tests.capacity_tools import index, kbtu, read, text_of
from tests.published_adapters import capacity_of, library
from tests.published_adapters import feet as ft
from tests.published_adapters import inches as inch

from fluewright.capacity import (
    FILES,
    GROUPS,
    KBTU_H_W,
    Column,
    Query,
    area_rule,
    capacity_query,
    downsizing,
    library_from,
    size_steps,
    table_size,
)
from fluewright.errors import BadEdition, OutOfRange
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis

# Sizes


@pytest.mark.parametrize(
    ("bore", "size"),
    [
        (inch(4), 4),
        (inch(4 + 1 / 32), 4),
        (inch(4.05), None),
        (inch(4.05, 1 / 16), 4),
        (inch(4.5), None),
        (inch(4.5, 0.6), None),
        (inch(11), None),
        (inch(2), None),
        (inch(24), 24),
    ],
)
def test_a_bore_is_a_table_size_only_within_its_tolerance(
    bore: Measured, size: float | None
) -> None:
    assert table_size(bore) == size


def test_size_steps_count_table_sizes() -> None:
    assert size_steps(4, 6) == 2
    assert size_steps(6, 4) == -2
    assert size_steps(10, 12) == 1
    assert size_steps(24, 24) == 0
    with pytest.raises(OutOfRange, match="11 in is no table size"):
        size_steps(10, 11)


def area(square_inches: float, tolerance: float = 0.0) -> Measured:
    return Measured(square_inches * 0.0254**2, Dimension.AREA, tolerance * 0.0254**2)


@pytest.mark.parametrize(
    ("outlet", "connector", "vent", "truth"),
    [
        (area(12.6), area(12.6), area(12.6), [True, True, True, True]),
        (area(12.6), area(12.5), area(12.6), [False, True, True, True]),
        (area(12.6), area(12.6), area(63.6), [True, True, True, True]),
        (area(12.6), area(12.6), area(113.0), [True, True, True, False]),
        (area(12.6), area(12.6), area(7 * 12.6), [True, True, True, True]),
        (area(12.6), area(12.6), area(7 * 12.6 + 0.01), [True, True, True, False]),
        (area(12.6, 0.1), area(12.6), area(30), [None, True, True, True]),
        (area(12.6), area(12.6), area(88, 1), [True, True, True, None]),
    ],
)
def test_area_rule(
    outlet: Measured, connector: Measured, vent: Measured, truth: list[bool | None]
) -> None:
    found = area_rule(outlet, connector, vent)
    assert [one.truth for one in found.each] == truth
    assert found.truth is (False if False in truth else None if None in truth else True)
    assert found.working[1].value == pytest.approx(vent.value / outlet.value)


def test_area_rule_refuses_an_area_of_nothing() -> None:
    with pytest.raises(OutOfRange, match="connector area is 0 m2"):
        area_rule(area(12.6), area(0), area(12.6))


def watts(kbtu_h: float, tolerance: float = 0.0) -> Measured:
    return Measured(kbtu_h * KBTU_H_W, Dimension.POWER, tolerance * KBTU_H_W)


SMALLER: dict[str, Any] = {
    "burner": "draft_hood", "outlet": inch(6), "diameter": inch(5), "height": ft(12),
}  # fmt: skip
FAN: dict[str, Any] = {**SMALLER, "burner": "fan_assisted"}


@pytest.mark.parametrize(
    ("asked", "name", "truth"),
    [
        (SMALLER, "height_at_least_10_ft", True),
        ({**SMALLER, "height": ft(10)}, "height_at_least_10_ft", True),
        ({**SMALLER, "height": ft(9.99)}, "height_at_least_10_ft", False),
        ({**SMALLER, "height": ft(10.05, 0.1)}, "height_at_least_10_ft", None),
        (SMALLER, "one_size_down", True),
        ({**SMALLER, "diameter": inch(4)}, "one_size_down", False),
        ({**SMALLER, "diameter": inch(4.5)}, "one_size_down", False),
        ({**SMALLER, "outlet": inch(16), "diameter": inch(12)}, "two_sizes_down", True),
        ({**SMALLER, "outlet": inch(16), "diameter": inch(10)}, "two_sizes_down", False),
        ({**SMALLER, "outlet": inch(12), "diameter": inch(9)}, "one_size_down", False),
        (SMALLER, "hood_outlet_above_4_in", True),
        ({**SMALLER, "outlet": inch(4), "diameter": inch(3)}, "hood_outlet_above_4_in", False),
        (
            {**SMALLER, "outlet": inch(4, 1 / 8), "diameter": inch(3)},
            "hood_outlet_above_4_in",
            False,
        ),
        ({**SMALLER, "outlet": inch(4.1), "diameter": inch(3)}, "hood_outlet_above_4_in", True),
        ({**FAN, "input": watts(101.7), "table_max": watts(113)}, "fan_max_times_0_90", True),
        ({**FAN, "input": watts(101.8), "table_max": watts(113)}, "fan_max_times_0_90", False),
        ({**FAN, "input": watts(101.7, 1), "table_max": watts(113)}, "fan_max_times_0_90", None),
        ({**FAN, "input": watts(101.7)}, "fan_max_times_0_90", None),
        (FAN, "fan_max_times_0_90", None),
    ],
)
def test_downsizing_condition(asked: dict[str, Any], name: str, truth: bool | None) -> None:
    found = {one.name: one for one in downsizing(**asked).each}
    assert len(found) == 5
    assert found[name].applies
    assert found[name].truth is truth


def test_downsizing_binds_nothing_where_the_vent_is_not_smaller() -> None:
    found = downsizing(**{**SMALLER, "diameter": inch(6)})
    assert not any(one.applies for one in found.each)
    assert found.truth is True


def test_downsizing_binds_what_belongs_to_the_burner() -> None:
    assert {one.name for one in downsizing(**SMALLER).each if not one.applies} == {
        "two_sizes_down",
        "fan_max_times_0_90",
    }
    assert {one.name for one in downsizing(**FAN).each if not one.applies} == {
        "two_sizes_down",
        "hood_outlet_above_4_in",
    }


def test_downsizing_allows_a_second_size_above_twelve_inches() -> None:
    asked = {**SMALLER, "outlet": inch(16), "diameter": inch(12)}
    assert {one.name for one in downsizing(**asked).each if one.applies} == {
        "height_at_least_10_ft",
        "two_sizes_down",
        "hood_outlet_above_4_in",
    }
    assert downsizing(**asked).truth is True


def test_a_loose_reading_that_may_be_no_smaller_fails_nothing() -> None:
    asked = {**SMALLER, "outlet": inch(5), "diameter": inch(4.5, 0.6), "height": ft(8)}
    found = downsizing(**asked)
    assert {one.name: one.truth for one in found.each if one.applies} == {
        "height_at_least_10_ft": None,
        "one_size_down": None,
        "hood_outlet_above_4_in": True,
    }
    assert found.truth is None


def test_three_inches_on_a_four_inch_draft_hood_is_refused_whatever_the_table_says() -> None:
    asked = {**SMALLER, "outlet": inch(4), "diameter": inch(3)}
    assert downsizing(**asked).truth is False
    assert downsizing(**{**FAN, "outlet": inch(4), "diameter": inch(3), "input": watts(40),
                         "table_max": watts(57)}).truth is True  # fmt: skip


def test_downsizing_is_not_known_while_a_reading_is_missing() -> None:
    assert downsizing(**FAN).truth is None


# The question of the command line


def query(**asked: Any) -> Query:
    values: dict[str, Any] = {
        "vent": "type_b", "connector": "single_wall", "burner": "draft_hood", "height": ft(10),
        "lateral": ft(5), "diameter": inch(5), "edition": "nfpa54_2012",
    } | asked  # fmt: skip
    return Query(**values)


def test_the_answer_has_the_shape_that_others_build_on() -> None:
    found = capacity_query(library(), query()).as_json()
    assert list(found) == ["table", "min", "max", "reason", "basis", "cites", "working"]
    assert found["table"] == "13.1(b)"
    assert found["min"] == {"value": 0, "unit": "kBtu/h", "tolerance": 0}
    assert found["max"] == {"value": 122, "unit": "kBtu/h", "tolerance": 0}
    assert found["reason"] is None
    assert found["basis"] == "read"
    assert found["cites"] == [
        {"document": "NFPA 54", "edition": "2012", "at": at, "basis": "read"}
        for at in ("Table 13.1(b)", "13.1.3", "13.1.5", "13.1.11")
    ]
    assert {"step": "maximum at the readings", "value": 122.0, "unit": "kBtu/h"} in list(
        found["working"]  # type: ignore[call-overload]
    )


def test_an_answer_without_a_number_says_why_and_cites_it() -> None:
    found = capacity_query(library(), query(height=ft(5), edition="umc_2012")).as_json()
    assert (found["min"], found["max"]) == (None, None)
    assert "below the 6 ft" in str(found["reason"])
    assert [one["at"] for one in found["cites"]] == [  # type: ignore[attr-defined]
        "Table 803.1.3(2)",
        "803.1.17",
        "803.1.18",
    ]


@pytest.mark.parametrize(
    ("asked", "table"),
    [
        ({"connector": "none"}, "803.1.3(1)"),
        ({"connector": "type_b"}, "803.1.3(1)"),
        ({"connector": "single_wall"}, "803.1.3(2)"),
        ({"vent": "single_wall"}, "803.1.3(5)"),
        ({"vent": "masonry", "liner": "corrugated"}, "803.1.3(2)"),
    ],
)
def test_vent_and_connector_choose_the_table(asked: dict[str, Any], table: str) -> None:
    found = capacity_query(library(), query(edition="umc_2012", **asked))
    assert found.table == table
    assert found.max is not None


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"flue_area": area(63)}, "A flue area belongs to a masonry chimney or a common vent."),
        ({"vent": "single_wall", "liner": "corrugated"}, "A liner belongs to a masonry chimney"),
    ],
)
def test_what_this_version_cannot_answer_has_a_reason(asked: dict[str, Any], words: str) -> None:
    found = capacity_query(library(), query(**asked))
    assert found.max is None
    assert found.min is None
    assert found.table is None
    assert words in (found.reason or "")


def test_extra_elbows_come_after_the_two_in_the_table() -> None:
    found = capacity_query(library(), query(extra_elbows=(90.0,)))
    assert kbtu(found.max) == pytest.approx(109.8)
    short = capacity_query(library(), query(lateral=ft(0), extra_elbows=(45.0,)))
    assert kbtu(short.max) == pytest.approx(128 * 0.95)


def test_a_remembered_place_says_so_and_notes_why() -> None:
    found = capacity_query(library(), query(vent="single_wall", edition="irc_2021"))
    assert found.table == "504.2(5)"
    assert found.cites[0].document == "IFGC"
    assert found.cites[0].basis is Basis.MEMORY
    assert "the IRC does not reprint this table, as far as remembered" in found.working[0].what


@pytest.mark.parametrize("edition", library().editions)
@pytest.mark.parametrize("name", library().infos)
def test_every_edition_places_every_table_and_section(name: str, edition: str) -> None:
    assert library().place(name, edition).number
    assert all(library().section(rule, edition).at for rule in library().sections)


def test_every_rule_that_a_reading_names_has_a_section() -> None:
    used: set[str] = set()
    for asked in (
        {"lateral": 0.0},
        {"height": 12.0, "lateral": 7.0},
        {"height": 5.0},
        {"lateral": 60.0},
        {"elbows": (90.0,) * 3, "liner_corrugated": True, "downsized": True,
         "connector_diameter": inch(4)},
    ):  # fmt: skip
        used |= read("T1", Column.FAN_MAX, **asked).rules
    sections = {rule for rule in library().sections if not rule.startswith("common_")}
    assert used | {"altitude", "exposure"} == sections


def test_an_unknown_edition_or_word_is_an_error() -> None:
    with pytest.raises(BadEdition, match=r"no edition 'umc_2099' in the index\. Give one of umc"):
        capacity_query(library(), query(edition="umc_2099"))
    with pytest.raises(OutOfRange, match=r"vent is 'pvc'\. Write type_b, single_wall, masonry"):
        capacity_query(library(), query(vent="pvc"))


# The index

TEXTS = {name: text_of(name) for name in FILES}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda i: i.pop("sections"), "sections is missing. Add it."),
        (lambda i: i.update(more={}), "more is unknown."),
        (lambda i: i["tables"].pop("T2"), "index.toml tables: T2 is missing."),
        (lambda i: i["tables"]["T1"].pop("title"), "index.toml tables.T1: title is missing."),
        (
            lambda i: i["tables"]["T1"]["places"].pop("upc_2012"),
            "index.toml tables.T1.places: upc_2012 is missing.",
        ),
        (
            lambda i: i["tables"]["T1"]["places"]["upc_2012"].update(number=" "),
            "index.toml tables.T1.places.upc_2012.number: found ' '.",
        ),
        (
            lambda i: i["tables"]["T1"]["places"]["upc_2012"].pop("basis"),
            "index.toml tables.T1.places.upc_2012.basis: found None. Write read or memory.",
        ),
        (
            lambda i: i["tables"]["T1"]["places"]["upc_2012"].update(page=3),
            "index.toml tables.T1.places.upc_2012: page is unknown.",
        ),
        (lambda i: i["tables"].update(T1=3), "index.toml tables.T1: found 3."),
        (lambda i: i["tables"]["T1"].update(oddities="none"), "Write a list of texts."),
        (lambda i: i["tables"]["T1"].update(held_sizes_to="12"), "Write a number of inches."),
        (lambda i: i["sections"]["elbows"].pop("irc_2021"), "irc_2021 is missing."),
        (
            lambda i: i["documents"]["umc_2012"].update(basis="hearsay"),
            "index.toml documents.umc_2012.basis: found 'hearsay'.",
        ),
    ],
)
def test_an_index_that_lacks_or_adds_something_is_refused(change: Any, message: str) -> None:
    changed = index()
    change(changed)
    with pytest.raises(BadEdition) as caught:
        library_from(changed, TEXTS)
    assert message in str(caught.value)


def test_a_missing_table_file_is_refused() -> None:
    with pytest.raises(BadEdition, match=r"capacity tables: T5\.csv is missing"):
        library_from(index(), {name: text for name, text in TEXTS.items() if name != "T5.csv"})


@pytest.mark.parametrize("group", ["", *GROUPS])
def test_every_source_letter_is_explained(group: str) -> None:
    names = GROUPS[group].files if group else FILES
    known = set(tomllib.loads(text_of(GROUPS[group].index if group else "index.toml"))["sources"])
    used: set[str] = set()
    for row in (row for name in names for row in csv.DictReader(text_of(name).splitlines())):
        for key in ("sources", "agree"):
            used |= {*row.get(key, "").replace("+", " ").split()}
        used |= {one.split("=")[0] for one in row.get("differ", "").split()}
    assert used == known


def test_the_index_tells_the_sizes_that_are_held() -> None:
    for name, info in library().infos.items():
        table = library().tables[name]
        assert info.held_sizes_to == table.sizes[-1]
        assert ("fan_assisted" in info.burners) == table.has_figures(Column.FAN_MAX)
        assert tuple(info.least_flue_in2) in ((), table.sizes)
        assert info.oddities


def test_printed_situation_is_read_as_written() -> None:
    found = capacity_of(
        {"table": "T2", "height_ft": 10, "lateral_ft": 5, "diameter_in": 5,
         "burner": "draft_hood", "elbows_deg": [90, 90]}
    )  # fmt: skip
    assert found.table == "T2"
    assert kbtu(found.max) == pytest.approx(122)
