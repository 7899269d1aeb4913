"""Capacity tables: every cell, between the cells, outside them, and the rules of size."""

from __future__ import annotations

import csv
import itertools
import math
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.capacity_tools import TABLES, TWO, bound, doubts_of, kbtu, read, text_of
from tests.published_adapters import capacity_bound, capacity_fits
from tests.published_adapters import feet as ft
from tests.published_adapters import inches as inch

from fluewright.capacity import (
    COLUMNS,
    KBTU_H_W,
    CapacityTable,
    Column,
    Confidence,
    elbow_cut,
    permitted_input,
    table_from_csv,
)
from fluewright.errors import BadEdition, OutOfRange
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis

CASES = Path(__file__).parent / "cases"
SHARED = Path(__file__).parents[2] / "shared" / "reference" / "tables"


# The text of the tables


@pytest.mark.parametrize("name", TABLES)
def test_every_cell_comes_out_exactly_as_printed(name: str) -> None:
    table = TABLES[name]
    for (height, lateral, size), entry in table.values.items():
        for column, printed in zip(COLUMNS, entry, strict=True):
            if not table.has_figures(column):
                continue
            found = read(name, column, height=height, lateral=lateral, diameter=size)
            if printed is None:
                assert found.max is None
                assert found.min is None
                assert found.reason
            else:
                one = bound(found, column)
                assert one.value / KBTU_H_W == pytest.approx(printed, rel=1e-12, abs=1e-12)
                assert one.tolerance == 0


def test_the_tables_hold_what_they_should() -> None:
    assert {name: len(table.values) for name, table in TABLES.items()} == {
        "T1": 405,
        "T2": 405,
        "T3": 261,
        "T4": 261,
        "T5": 304,
    }
    assert {name: len(table.doubts) for name, table in TABLES.items()} == {
        "T1": 131,
        "T2": 155,
        "T3": 24,
        "T4": 10,
        "T5": 7,
    }
    assert TABLES["T1"].missing == {
        ((100.0, 50.0, 10.0), Column.NAT_MAX),
        ((100.0, 50.0, 12.0), Column.NAT_MAX),
    }
    assert not TABLES["T5"].has_figures(Column.FAN_MAX)
    assert 9 not in TABLES["T5"].sizes
    assert TABLES["T1"].laterals[6.0] == (0.0, 2.0, 4.0, 6.0)
    assert TABLES["T1"].laterals[8.0] == (0.0, 2.0, 5.0, 8.0)


@pytest.mark.skipif(not SHARED.is_dir(), reason="the reference tables are not beside the project")
@pytest.mark.parametrize("name", TABLES)
def test_our_copy_is_the_reference(name: str) -> None:
    def rows(text: str) -> list[tuple[str, ...]]:
        keys = ("height_ft", "lateral_ft", "diameter_in", "fan_min", "fan_max", "nat_max")
        return [
            (*(row[key] or "missing" for key in keys), row["sources"])
            for row in csv.DictReader(text.splitlines())
        ]

    reference = (SHARED / f"{name}.csv").read_text(encoding="utf-8")
    assert rows(text_of(f"{name}.csv")) == rows(reference)
    with (SHARED / "cells_not_confirmed.csv").open(encoding="utf-8") as file:
        doubts = {
            (
                tuple(float(row[key]) for key in ("height_ft", "lateral_ft", "diameter_in")),
                row["column"],
            ): row["confidence"]
            for row in csv.DictReader(file)
            if row["table"] == name
        }
    held = {key: doubt.confidence.value for key, doubt in TABLES[name].doubts.items()}
    # Printed and read alike by all, yet contradicted by their neighbors: we call them doubtful.
    odd = {
        "T3": {((15.0, 10.0, 10.0), "nat_max")},
        "T4": {((20.0, 2.0, 10.0), "fan_min"), ((50.0, 10.0, 10.0), "fan_min")},
    }.get(name, set())
    assert held == doubts | dict.fromkeys(odd, "doubtful")


@pytest.mark.skipif(not SHARED.is_dir(), reason="the reference tables are not beside the project")
def test_every_reference_example_is_checked_somewhere() -> None:
    with (SHARED / "worked_examples_single.csv").open(encoding="utf-8") as file:
        wanted = [
            row["expected_capacity_kbtuh"]
            for row in csv.DictReader(file)
            if row["expected_capacity_kbtuh"] != "none"
        ]
    cases = tomllib.loads((CASES / "capacity.toml").read_text(encoding="utf-8"))["case"]
    published = tomllib.loads(
        (CASES.parent / "published" / "capacity.toml").read_text(encoding="utf-8")
    )["check"]
    held = {float(one["expect"]) for one in cases if "expect" in one} | {
        float(one["expect"]) for one in published if not isinstance(one["expect"], str)
    }
    assert {float(one) for one in wanted} <= held


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_read_in_less_than_five_milliseconds(name: str) -> None:
    text, doubts = text_of(f"{name}.csv"), doubts_of(name)
    times = []
    for _ in range(20):
        start = time.perf_counter()
        table_from_csv(text, name, doubts)
        times.append(time.perf_counter() - start)
    assert min(times) < 0.005


HEAD = "height_ft,lateral_ft,diameter_in,fan_min,fan_max,nat_max,sources\n"
DOUBT_HEAD = "table,height_ft,across,size,column,value,confidence,agree,differ,note\n"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "X.csv:1: the heading is 'nothing'"),
        ("height,lateral\n", "X.csv:1: the heading is 'height,lateral'"),
        (HEAD + "6,2,4,1,2\n", "X.csv:2: 5 fields. Write 7."),
        (HEAD + "6,2,4,1,two,3,A\n", "X.csv:2: could not convert string to float: 'two'"),
        (HEAD + "6,2,4,1,,3,A\n", "X.csv:2: could not convert string to float: ''"),
        (HEAD + "6,2,4,1,-2,3,A\n", "X.csv:2: -2 is no capacity"),
        (HEAD + "6,2,4,1,nan,3,A\n", "X.csv:2: nan is no capacity"),
        (HEAD + "6,2,4,3,2,3,A\n", "X.csv:2: fan_min 3 is more than fan_max 2."),
        (HEAD + "6,2,4,NA,2,3,A\n", "X.csv:2: fan_min and fan_max must both be numbers"),
        (HEAD + "6,2,4,1,2,3, \n", "X.csv:2: sources is empty."),
        (HEAD + "6,2,4,1,2,3,A\n6,2,4,1,2,3,A\n", "X.csv:3: a second row for 6 ft, 2 ft, 4 in."),
        (HEAD + "8,2,4,1,2,3,A\n6,2,4,1,2,3,A\n", "X.csv: heights must rise"),
        (HEAD + "6,2,4,1,2,3,A\n6,0,4,1,2,3,A\n", "X.csv: laterals at 6 ft must rise."),
        (
            HEAD + "6,2,3,1,2,3,A\n6,2,4,1,2,3,A\n6,4,4,1,2,3,A\n",
            "X.csv: no row for 6 ft, 4 ft and 3 in.",
        ),
    ],
)
def test_a_malformed_table_is_refused_with_its_place(text: str, message: str) -> None:
    with pytest.raises(BadEdition) as caught:
        table_from_csv(text, "X")
    assert message in str(caught.value)


def test_all_faults_of_a_table_are_told_at_once() -> None:
    with pytest.raises(BadEdition) as caught:
        table_from_csv(HEAD + "6,2,4,3,2,3,A\n6,2,5,1,2,x,A\n", "X")
    assert str(caught.value).count("\n") == 1


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("X,6,2,4,nat_max,4,single,M,,", "not_confirmed.csv:2: the value is 4, the table has"),
        ("X,6,2,5,nat_max,3,single,M,,", "not_confirmed.csv:2: table X has no such entry."),
        ("X,6,2,4,nat_max,3,confirmed,M,,", "a confirmed cell does not belong here"),
        ("X,6,2,4,nat_max,3,sure,M,,", "'sure' is not a valid Confidence"),
        ("X,6,2,4,nat,3,single,M,,", "'nat' is not a valid Column"),
        ("X,6,2,4,nat_max,3,single,M,,\nX,6,2,4,nat_max,3,single,M,,", "csv:3: a second row"),
    ],
)
def test_a_doubt_that_does_not_fit_its_cell_is_refused(row: str, message: str) -> None:
    with pytest.raises(BadEdition) as caught:
        table_from_csv(HEAD + "6,2,4,1,2,3,A\n", "X", DOUBT_HEAD + row)
    assert message in str(caught.value)


def test_a_doubt_of_another_table_is_passed_over() -> None:
    table = table_from_csv(
        HEAD + "6,2,4,1,2,3,A\n", "X", DOUBT_HEAD + "Y,6,2,4,nat_max,9,single,M,,"
    )
    assert table.doubts == {}


# Order in the tables: what rises must rise, but for the printed oddities


def exceptions() -> set[tuple[str, float, float, float, float, float, float]]:
    with (CASES / "capacity_exceptions.csv").open(encoding="utf-8") as file:
        return {
            (row[0], *(float(one) for one in row[1:7]))  # type: ignore[misc]
            for row in list(csv.reader(file))[1:]
        }


def pairs(table: CapacityTable, axis: int, column: Column) -> Any:
    """Neighbouring cells along an axis (0 height, 1 lateral, 2 size) that both have figures."""
    lines: dict[tuple[float, ...], list[tuple[float, float]]] = {}
    for spot, entry in table.values.items():
        value = entry[COLUMNS.index(column)]
        if value is not None:
            rest = spot[:axis] + spot[axis + 1 :]
            lines.setdefault(rest, []).append((spot[axis], value))
    for rest, line in lines.items():
        for (at, value), (following, next_value) in itertools.pairwise(sorted(line)):
            yield rest, at, value, following, next_value


# NAT Max of 10 in at 15 ft, lateral 10 ft: printed as 567, probably 507; see the index.
ODD_STEPS = {
    0: {("T3", "nat_max", (10.0, 10.0), 15.0, 567.0, 20.0, 566.0)},
    1: {("T3", "nat_max", (15.0, 10.0), 5.0, 533.0, 10.0, 567.0)},
    2: set(),
}


@pytest.mark.parametrize("column", [Column.FAN_MAX, Column.NAT_MAX])
@pytest.mark.parametrize("name", TABLES)
def test_maximum_rises_with_height_and_size_and_falls_with_lateral(
    name: str, column: Column
) -> None:
    for axis, sign in ((0, 1), (1, -1), (2, 1)):
        wrong = {
            (name, column.value, *one)
            for one in pairs(TABLES[name], axis, column)
            if sign * (one[4] - one[2]) < 0
        }
        assert wrong == {one for one in ODD_STEPS[axis] if one[:2] == (name, column.value)}


def test_minimum_falls_with_height_but_for_the_known_cells() -> None:
    rising = {
        (name, rest[1], rest[0], at, value, following, next_value)
        for name in ("T1", "T2", "T3", "T4")
        for rest, at, value, following, next_value in pairs(TABLES[name], 0, Column.FAN_MIN)
        if next_value > value
    }
    assert rising == exceptions()


def test_minimum_rises_with_lateral_from_two_feet_on() -> None:
    for name in ("T1", "T2", "T3", "T4"):
        wrong = [
            one for one in pairs(TABLES[name], 1, Column.FAN_MIN) if one[1] and one[4] < one[2]
        ]
        assert wrong == []


def test_behind_a_single_wall_connector_the_minimum_falls_from_zero_to_two_feet() -> None:
    """So a short lateral takes the higher of both; were this not so, 2 ft alone would do."""
    falling = {
        name: {rest[1] for rest, at, value, _, after in pairs(TABLES[name], 1, Column.FAN_MIN)
               if at == 0 and after < value}
        for name in ("T1", "T2")
    }  # fmt: skip
    assert falling == {"T1": set(), "T2": {6, 7, 8, 9, 10, 12}}


def test_fan_maximum_is_above_the_draft_hood_maximum() -> None:
    for name in ("T1", "T2", "T3", "T4"):
        for low, high, nat in TABLES[name].values.values():
            if low is not None and high is not None and nat is not None:
                assert low <= high
                assert nat < high


@pytest.mark.parametrize(("single", "double"), [("T2", "T1"), ("T4", "T3")])
def test_a_single_wall_connector_never_carries_more(single: str, double: str) -> None:
    for spot, (low, high, nat) in TABLES[single].values.items():
        other_low, other_high, other_nat = TABLES[double].values[spot]
        if high is not None and other_high is not None:
            assert high <= other_high
        if nat is not None and other_nat is not None:
            assert nat <= other_nat
        if low is not None and other_low is not None:
            assert low >= other_low


@pytest.mark.parametrize("column", [Column.FAN_MAX, Column.NAT_MAX])
@pytest.mark.parametrize("name", TABLES)
def test_steps_along_the_lateral_are_even(name: str, column: Column) -> None:
    """A slip of a digit would show: no cell is more than 6 % off the line of its neighbours."""
    table, at = TABLES[name], COLUMNS.index(column)
    odd = {("T3", "nat_max", 15.0, 3.0), ("T3", "nat_max", 15.0, 10.0)}  # see the index
    uneven: set[tuple[str, str, float, float]] = set()
    for height, size in itertools.product(table.heights, table.sizes):
        laterals = [line for line in table.laterals[height] if line > 0]
        for three in zip(laterals, laterals[1:], laterals[2:], strict=False):
            a, b, c = (table.values[height, line, size][at] for line in three)
            if a is not None and b is not None and c is not None:
                share = (three[1] - three[0]) / (three[2] - three[0])
                if b != pytest.approx(a + (c - a) * share, rel=0.06):
                    uneven.add((name, column.value, height, size))
    assert uneven == {one for one in odd if one[:2] == (name, column.value)}


# Hand calculations

HAND = tomllib.loads((CASES / "capacity.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", HAND, ids=lambda case: str(case["id"]))
def test_hand_calculation(case: dict[str, Any]) -> None:
    assert set(case) - {"expect", "words"} == {"id", "rule", "working", "given", "fits"}
    found = capacity_bound(case["given"])
    if "words" in case:
        assert isinstance(found, str)
        assert case["words"] in found
    else:
        assert found == pytest.approx(case["expect"], abs=1e-9)
    assert capacity_fits(case["given"]) == case["fits"]


# Between the cells and outside them


def rounded(low: float, high: float) -> st.SearchStrategy[float]:
    """Feet to four places: nearer to a grid line than that is a matter of rounding alone."""
    return st.floats(low, high).map(lambda value: round(value, 4))


columns_of = {name: list(COLUMNS) for name in ("T1", "T2", "T3", "T4")} | {"T5": [Column.NAT_MAX]}
spots = st.sampled_from(list(columns_of)).flatmap(
    lambda name: st.tuples(
        st.just(name),
        st.sampled_from(columns_of[name]),
        rounded(6, TABLES[name].heights[-1]),
        rounded(0, 50),
        st.sampled_from(TABLES[name].sizes),
    )
)


def corners(
    table: CapacityTable, column: Column, height: float, lateral: float, size: float
) -> list[float] | None:
    """The cells around a place with elbows, by a search of its own; None where one is absent."""
    below = max(row for row in table.heights if row <= height)
    above = min(row for row in table.heights if row >= height)
    found: list[float] = []
    for row in {below, above}:
        lines = [0.0, *(line for line in table.laterals[row] if line > 0)]
        if (row, 0.0, size) not in table.values:
            lines = [lines[1], *lines[1:]]
            lateral = max(lateral, lines[0])
        if lateral > lines[-1]:
            return None
        left = max(line for line in lines if line <= lateral)
        right = min(line for line in lines[1:] if line >= lateral)
        for line in {left, right}:
            value = table.values[row, line, size][COLUMNS.index(column)]
            if value is None:
                return None
            found.append(value)
    return found


@given(spots, st.sampled_from(["interpolate", "lower_row"]))
def test_a_value_lies_between_its_corner_cells_or_there_is_none(
    spot: tuple[str, Column, float, float, float], method: str
) -> None:
    name, column, height, lateral, size = spot
    found = read(
        name, column, height=height, lateral=lateral, diameter=size, elbows=TWO, method=method
    )
    around = corners(TABLES[name], column, height, lateral, size)
    one = found.max if column.is_maximum else found.min
    if around is None:
        assert one is None
        assert found.reason
    elif one is not None:
        value = one.value / KBTU_H_W
        assert min(around) - 1e-6 <= value <= max(around) + 1e-6
        if method == "lower_row":
            rows_strict = min(around) if column.is_maximum else max(around)
            if lateral >= 2:
                assert value == pytest.approx(rows_strict, rel=1e-12)
    else:
        # The other column of a fan-assisted burner has no figure here.
        assert "NA" in (found.reason or "")


@given(
    st.sampled_from(["T1", "T2", "T3", "T4"]),
    st.floats(0.01, 200),
    st.floats(0, 200),
    st.sampled_from(["draft_hood", "fan_assisted"]),
    st.floats(0, 3),
    st.floats(0, 3),
)
def test_never_a_number_outside_the_table(
    name: str, height: float, lateral: float, burner: str, loose_h: float, loose_l: float
) -> None:
    table = TABLES[name]
    found = read(
        name,
        Column.NAT_MAX,
        height=ft(height, loose_h),
        lateral=ft(lateral, loose_l),
        burner=burner,
        elbows=TWO,
    )
    row = max((line for line in table.heights if line <= height - loose_h), default=None)
    outside = (
        height - loose_h < 6 - 1e-6
        or height + loose_h > table.heights[-1] + 1e-6
        or row is None
        or lateral + loose_l > table.laterals[row][-1] + 1e-6
    )
    if outside:
        assert found.max is None
        assert found.min is None
        assert found.reason
    assert (found.max is None) == (found.reason is not None) == (found.min is None)


@given(
    spots,
    rounded(0, 2),
    rounded(0, 2),
    st.floats(0, 1),
    st.floats(0, 1),
    st.sampled_from(["interpolate", "lower_row"]),
    st.booleans(),
)
def test_every_reading_in_the_tolerance_lies_in_the_hull(
    spot: tuple[str, Column, float, float, float],
    loose_h: float,
    loose_l: float,
    share_h: float,
    share_l: float,
    method: str,
    straight: bool,
) -> None:
    name, column, height, lateral, size = spot
    elbows = () if straight else TWO
    asked: dict[str, Any] = {"diameter": size, "elbows": elbows, "method": method}
    wide = read(name, column, height=ft(height, loose_h), lateral=ft(lateral, loose_l), **asked)
    if wide.max is None:
        return
    low = max(0.0, lateral - loose_l)
    inside = read(
        name,
        column,
        height=ft(height + (2 * share_h - 1) * loose_h),
        lateral=ft(low + share_l * (lateral + loose_l - low)),
        **asked,
    )
    one, hull = bound(inside, column), bound(wide, column)
    assert hull.low - 1e-6 <= one.value <= hull.high + 1e-6
    narrow = read(
        name, column, height=ft(height, loose_h / 2), lateral=ft(lateral, loose_l / 2), **asked
    )
    one = bound(narrow, column)
    assert hull.low - 1e-6 <= one.low <= one.high <= hull.high + 1e-6


def test_the_hull_holds_the_grid_lines_that_the_tolerance_crosses() -> None:
    """FAN Min of 3 in at lateral 15 ft falls to 33 at 30 ft and rises again: both ends miss it."""
    found = read("T1", Column.FAN_MIN, height=ft(32, 12), lateral=15.0, diameter=3)
    ends = [
        kbtu(read("T1", Column.FAN_MIN, height=at, lateral=15.0, diameter=3).min)
        for at in (20.0, 30.0, 44.0)
    ]
    assert ends[1] < min(ends[0], ends[2])
    assert found.min is not None
    assert found.min.low / KBTU_H_W == pytest.approx(ends[1])


@given(st.sampled_from(["T1", "T2", "T5"]), st.integers(6, 50), st.integers(0, 30))
def test_feet_on_a_grid_line_are_on_it(name: str, height: int, lateral: int) -> None:
    """10 ft written as metres and back must not read the row above or below."""
    table = TABLES[name]
    found = read(name, Column.NAT_MAX, height=float(height), lateral=float(lateral))
    rows = {cell.height_ft for cell in found.cells}
    if float(height) in table.heights and found.max is not None:
        assert rows == {float(height)}


@pytest.mark.parametrize("height", [6, 8, 10, 15, 20, 30, 50, 100])
def test_a_height_added_up_from_pieces_is_still_on_its_row(height: int) -> None:
    """100 pieces of a tenth of a foot, or inch by inch, are off by rounding alone."""
    whole = kbtu(read("T1", Column.NAT_MAX, height=float(height), diameter=8).max)
    for pieces in ([height / 10 * 0.3048] * 10, [0.0254] * (12 * height)):
        length = Measured(sum(pieces), Dimension.LENGTH)
        found = read("T1", Column.NAT_MAX, height=length, diameter=8)
        assert {cell.height_ft for cell in found.cells} == {float(height)}
        assert kbtu(found.max) == whole


def test_the_stretch_short_of_the_first_lateral_is_in_the_hull() -> None:
    """Between rows it can lie above both of its ends: each row takes its own stricter entry."""
    rows = ("6,0,4,20,90,50,A", "6,2,4,10,80,40,A", "8,0,4,10,90,50,A", "8,2,4,20,80,40,A")
    table = table_from_csv(HEAD + "\n".join(rows), "X")
    asked: dict[str, Any] = {
        "height": ft(7), "diameter": inch(4), "burner": "fan_assisted", "elbows": (),
    }  # fmt: skip
    ends = [kbtu(permitted_input(table, lateral=ft(at), **asked).min) for at in (0, 2)]
    inside = kbtu(permitted_input(table, lateral=ft(1), **asked).min)
    assert [*ends, inside] == pytest.approx([15, 15, 20])
    hull = permitted_input(table, lateral=ft(0, 2), **asked).min
    assert hull is not None
    assert hull.high / KBTU_H_W == pytest.approx(20)


def test_a_zero_lateral_entry_needs_a_vent_without_elbows() -> None:
    straight = read("T1", Column.NAT_MAX, lateral=0.0, diameter=4, elbows=())
    bent = read("T1", Column.NAT_MAX, lateral=0.0, diameter=4, elbows=(45.0, 45.0))
    loose = read("T1", Column.NAT_MAX, lateral=ft(0, 0.1), diameter=4, elbows=())
    assert kbtu(straight.max) == pytest.approx(100)
    assert kbtu(bent.max) == pytest.approx(81)
    assert "zero_lateral" in straight.rules & bent.rules
    assert loose.max is not None
    assert loose.max.low / KBTU_H_W == pytest.approx(81)
    assert loose.max.high / KBTU_H_W == pytest.approx(100)


def test_no_maximum_at_zero_lateral_is_below_that_at_two_feet() -> None:
    """Why a short lateral may be read at 2 ft alone for the maximum."""
    for name, table in TABLES.items():
        for (height, lateral, size), (_, high, nat) in table.values.items():
            if lateral == 0:
                _, next_high, next_nat = table.values[height, 2.0, size]
                for zero, two in ((high, next_high), (nat, next_nat)):
                    assert zero is None or two is None or zero > two, (name, height, size)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"height": 5.9}, "The height, 5.9 ft, is below the 6 ft at which table T1 begins"),
        ({"height": 101.0}, "The height, 101 ft, is above the 100 ft at which table T1 ends"),
        ({"height": 5.9}, "an approved engineering method is needed"),
        (
            {"lateral": 10.5},
            "The lateral, 10.5 ft, is longer than the 10 ft at which table T1 ends for a height "
            "of 10 ft",
        ),
        (
            {"height": 14.0, "lateral": 12.0},
            "The lateral, 12 ft, is longer than the 10 ft at which table T1 ends for a height of "
            "10 ft",
        ),
        ({"diameter": 4.5}, "The vent, 4.5 in inside, is no single size of table T1"),
        ({"diameter": inch(4.5, 0.6)}, "The vent, 4.5 ± 0.6 in inside, is no single size"),
        ({"diameter": 14}, "The vent, 14 in inside, is no single size of table T1 as held here"),
        ({"connector_diameter": inch(4.5)}, "The connector, 4.5 in inside, is no single size"),
        ({"height": 100.0, "lateral": 50.0, "diameter": 10}, "the page was not read"),
        (
            {"height": ft(6, 0.1)},
            "The tolerance leaves the table on the low side of the height (6 ft ± 0.1 ft). There: "
            "The height, 5.9 ft, is below",
        ),
        ({"height": ft(6, 0.1)}, "Measure the height more closely."),
        (
            {"lateral": ft(10, 0.25)},
            "on the high side of the lateral (10 ft ± 0.25 ft). There: The lateral, 10.25 ft",
        ),
        ({"lateral": ft(10, 0.25)}, "Measure the lateral more closely."),
        ({"height": ft(10, 1), "lateral": ft(8, 1)}, "Measure the height and the lateral more"),
    ],
)
def test_outside_the_table_there_is_a_reason_and_no_number(
    asked: dict[str, Any], words: str
) -> None:
    found = read("T1", Column.NAT_MAX, **asked)
    assert found.max is None
    assert found.min is None
    assert found.reason is not None
    assert words in found.reason


def test_na_is_no_number_and_says_so() -> None:
    spot = next(
        spot for spot, entry in TABLES["T2"].values.items() if entry[0] is None and entry[2]
    )
    asked: dict[str, Any] = {"height": spot[0], "lateral": spot[1], "diameter": spot[2]}
    found = read("T2", Column.FAN_MAX, **asked)
    assert found.max is None
    assert found.reason is not None
    assert "The table says NA for table T2 at height" in found.reason
    assert kbtu(read("T2", Column.NAT_MAX, **asked).max) == pytest.approx(
        TABLES["T2"].values[spot][2]
    )


def test_na_in_a_neighbouring_row_leaves_no_number_between() -> None:
    table = TABLES["T2"]
    for (height, lateral, size), entry in table.values.items():
        rows = [row for row in table.heights if row < height]
        if entry[1] is not None or not rows or lateral not in table.laterals[rows[-1]]:
            continue
        if table.values[rows[-1], lateral, size][1] is not None:
            between = (rows[-1] + height) / 2
            found = read("T2", Column.FAN_MAX, height=between, lateral=lateral, diameter=size)
            assert found.max is None
            assert "The table says NA" in (found.reason or "")
            return
    pytest.fail("no NA above a figure in T2")


def test_single_wall_vent_is_for_draft_hoods_alone() -> None:
    found = read("T5", Column.FAN_MAX)
    assert found.reason == "Table T5 has no FAN Max: it is for draft hoods alone."


# Factors and diameters


@pytest.mark.parametrize(
    ("elbows", "cut"),
    [
        ((), 0),
        ((90,), 0),
        ((90, 90), 0),
        ((45, 45, 45), 5),
        ((90, 90, 46), 10),
        ((45, 90, 90), 5),
        ((90, 90, 90, 45, 45), 20),
        ((90,) * 12, 100),
    ],
)
def test_two_largest_elbows_are_free_and_the_rest_are_added_up(
    elbows: tuple[float, ...], cut: int
) -> None:
    assert elbow_cut(elbows) == cut
    plain = kbtu(read("T1", Column.NAT_MAX, elbows=TWO).max)
    found = read("T1", Column.NAT_MAX, elbows=elbows)
    assert kbtu(found.max) == pytest.approx(plain * (100 - cut) / 100, abs=1e-9)


def test_elbows_and_liner_leave_the_minimum_alone() -> None:
    plain = read("T1", Column.FAN_MIN)
    cut = read("T1", Column.FAN_MIN, elbows=(90.0,) * 4, liner_corrugated=True, downsized=True)
    assert kbtu(cut.min) == kbtu(plain.min)
    assert kbtu(cut.max) == pytest.approx(kbtu(plain.max) * 0.80 * 0.80 * 0.90)
    assert {"elbows", "corrugated_liner", "downsizing"} <= cut.rules


def test_a_smaller_outlet_factor_is_not_for_a_draft_hood() -> None:
    plain = read("T1", Column.NAT_MAX)
    found = read("T1", Column.NAT_MAX, downsized=True)
    assert kbtu(found.max) == kbtu(plain.max)


def test_a_wider_vent_takes_its_minimum_and_the_connectors_maximum() -> None:
    small, large = (read("T1", Column.FAN_MAX, diameter=size) for size in (4, 6))
    found = read("T1", Column.FAN_MAX, diameter=6, connector_diameter=inch(4))
    assert kbtu(found.max) == kbtu(small.max)
    assert kbtu(found.min) == kbtu(large.min)
    assert "two_diameters" in found.rules
    other_way = read("T1", Column.FAN_MAX, diameter=4, connector_diameter=inch(6))
    assert (other_way.max, other_way.min) == (found.max, found.min)


def test_a_draft_hood_has_no_minimum() -> None:
    found = read("T1", Column.NAT_MAX)
    assert found.min == Measured(0.0, Dimension.POWER)
    assert "none printed for a draft hood" in found.working[-1].what


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"height": -1.0}, "height is -0.3048 m. Give zero or more."),
        ({"lateral": -1.0}, "lateral is -0.3048 m."),
        ({"elbows": (120.0,)}, "an elbow of 120 deg. Give an angle above 0 and up to 90"),
        ({"elbows": (0.0,)}, "an elbow of 0 deg."),
        ({"elbows": (math.nan,)}, "an elbow of nan deg."),
        ({"burner": "condensing"}, "burner is 'condensing'. Write draft_hood or fan_assisted."),
        ({"method": "guess"}, "method is 'guess'. Write interpolate or lower_row."),
    ],
)
def test_what_no_table_can_be_asked_is_an_error(asked: dict[str, Any], words: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        read("T1", Column.NAT_MAX, **asked)
    assert words in str(caught.value)


# How well it is known, and the working


def test_one_cell_not_confirmed_makes_the_basis_memory() -> None:
    assert read("T1", Column.NAT_MAX).basis is Basis.READ
    unsure = read("T1", Column.NAT_MAX, height=6.0, lateral=2.0, diameter=10)
    assert unsure.basis is Basis.MEMORY
    assert [cell.confidence for cell in unsure.cells] == [Confidence.SINGLE]
    assert read("T1", Column.NAT_MAX, height=7.0, lateral=2.0, diameter=10).basis is Basis.MEMORY
    loose = read("T1", Column.NAT_MAX, height=6.0, lateral=ft(2, 0.1), diameter=9)
    assert loose.basis is Basis.MEMORY
    never_read = read("T1", Column.NAT_MAX, height=100.0, lateral=50.0, diameter=10)
    assert never_read.max is None
    assert never_read.basis is Basis.MEMORY


def test_a_doubtful_cell_shows_what_another_source_has() -> None:
    found = read("T1", Column.NAT_MAX, height=50.0, lateral=5.0, diameter=7)
    assert found.basis is Basis.MEMORY
    assert any("another source has NYC22=738" in step.what for step in found.working)


def test_the_working_shows_each_cell_and_each_step() -> None:
    found = read("T1", Column.NAT_MAX, height=12.0, diameter=4, elbows=(*TWO, 45.0))
    assert [step.what for step in found.working[:5]] == [
        "table T1 at height 10 ft, lateral 5 ft, 4 in, NAT Max, confirmed",
        "table T1 at height 15 ft, lateral 5 ft, 4 in, NAT Max, confirmed",
        "height 12 ft between the rows of 10 and 15 ft: linear",
        "elbows beyond the two largest: 45 deg; cut 5 percent",
        "maximum at the readings",
    ]
    shown = [step.value for step in found.working[:5]]
    assert shown == pytest.approx([77, 87, 81, 0.95, 76.95])
