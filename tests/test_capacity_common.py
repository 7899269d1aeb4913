"""Common vents: every cell, between the cells and outside them, lengths, elbows, the question."""

from __future__ import annotations

import csv
import itertools
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.capacity_tools import kbtu
from tests.published_adapters import ADAPTERS, library, square_inches
from tests.published_adapters import feet as ft
from tests.published_adapters import inches as inch

from fluewright.capacity import (
    GROUPS,
    KBTU_H_W,
    CapacityTable,
    Column,
    Query,
    capacity_query,
    groups_for,
)
from fluewright.capacity.common_vent import common_vent_input
from fluewright.capacity.connector import connector_input
from fluewright.capacity.exterior import exterior_bound
from fluewright.errors import OutOfRange
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis

CASES = Path(__file__).parent / "cases"
PUBLISHED = Path(__file__).parent / "published"
SHARED = Path(__file__).parents[2] / "shared" / "reference" / "tables"
GROUP = GROUPS["common"]
TABLES: dict[str, CapacityTable] = {name: library().tables[name] for name in GROUP.layouts}
CONNECTORS = ("M1", "M2", "M3", "M4", "M5")
COMMON = ("M1C", "M2C", "M3C", "M4C", "M5C")
EXTERIOR = ("M6", "M7", "M8", "M9")


def connector(name: str, column: Column, **asked: Any) -> Any:
    values: dict[str, Any] = {
        "height": ft(10), "rise": ft(2), "length": ft(3), "diameter": inch(4),
        "burner": "draft_hood" if column is Column.NAT_MAX else "fan_assisted",
    } | asked  # fmt: skip
    return connector_input(TABLES[name], library().tables[f"T{name[1]}"], **values)


def common(name: str, column: Column, size: float = 4.0, **asked: Any) -> Any:
    on_flue = TABLES[name].layout.size_unit == "in2"
    values: dict[str, Any] = {
        "height": ft(10), "diameter": inch(4 if on_flue else size), "offset": ft(0),
        "flue_area": square_inches(size) if on_flue else None,
    } | asked  # fmt: skip
    return common_vent_input(TABLES[name], column, **values)


# Every cell


@pytest.mark.parametrize("name", CONNECTORS)
def test_every_connector_cell_comes_out_exactly_as_printed(name: str) -> None:
    table = TABLES[name]
    for (height, rise, size), entry in table.values.items():
        for column, printed in zip(table.layout.columns, entry, strict=True):
            found = connector(name, column, height=ft(height), rise=ft(rise), diameter=inch(size))
            one = found.max if column.is_maximum else found.min
            if printed is None:
                assert one is None
                assert found.reason
            else:
                assert kbtu(one) == pytest.approx(printed, rel=1e-12)
                assert one.tolerance == 0


@pytest.mark.parametrize("name", COMMON)
def test_every_common_vent_cell_comes_out_exactly_as_printed(name: str) -> None:
    table = TABLES[name]
    for (height, _, size), entry in table.values.items():
        for column, printed in zip(table.layout.columns, entry, strict=True):
            found = common(name, column, size, height=ft(height))
            if printed is None:
                assert (found.max, found.min) == (None, None)
                assert "The table says NA" in found.reason
            else:
                assert kbtu(found.max) == pytest.approx(printed, rel=1e-12)
                assert kbtu(found.min) == 0


@pytest.mark.parametrize("name", EXTERIOR)
def test_every_exterior_cell_comes_out_exactly_as_printed(name: str) -> None:
    table = TABLES[name]
    for (height, band, size), (printed,) in table.values.items():
        winter = Measured((band - 32) / 1.8, Dimension.TEMPERATURE)
        found = exterior_bound(
            table, height=ft(height), flue_area=square_inches(size), winter_design=winter
        )
        if printed is None:
            assert found.bound is None
        else:
            assert kbtu(found.bound) == pytest.approx(printed, rel=1e-12)


# rows; cells confirmed, single, doubtful, as counted when the tables were read
HELD = {
    "M1": (192, 555, 11, 10), "M1C": (112, 289, 47, 0), "M2": (192, 211, 365, 0),
    "M2C": (56, 163, 2, 3), "M3": (192, 230, 343, 3), "M3C": (64, 164, 28, 0),
    "M4": (192, 489, 80, 7), "M4C": (64, 163, 26, 3), "M5": (90, 90, 0, 0),
    "M5C": (49, 49, 0, 0), "M6": (64, 63, 1, 0), "M7": (256, 64, 192, 0),
    "M8": (64, 64, 0, 0), "M9": (320, 305, 13, 2),
}  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_the_tables_hold_what_they_should(name: str) -> None:
    table = TABLES[name]
    doubts = [doubt.confidence.value for doubt in table.doubts.values()]
    cells = len(table.values) * len(table.layout.columns)
    single, doubtful = doubts.count("single"), doubts.count("doubtful")
    assert (len(table.values), cells - single - doubtful, single, doubtful) == HELD[name]
    assert not table.missing


REFERENCE = {
    "M1": "M1_connector_typeB_vent_typeB_connector",
    "M1C": "M1_common_vent_typeB_connectors M1_common_vent_typeB_connectors_large",
    "M2": "M2_connector_typeB_vent_singlewall_connector",
    "M2C": "M2_common_vent_singlewall_connectors",
    "M3": "M3_connector_masonry_typeB_connector",
    "M3C": "M3_common_vent_masonry_typeB_connectors",
    "M4": "M4_connector_masonry_singlewall_connector",
    "M4C": "M4_common_vent_masonry_singlewall_connectors",
    "M5": "M5_connector_singlewall_or_AC_vent_drafthood",
    "M5C": "M5_common_vent_singlewall_or_AC_vent_drafthood",
    "M6": "M6_exterior_masonry_nat_nat_max_combined",
    "M7": "M7_exterior_masonry_nat_nat_min_space_heating_input",
    "M8": "M8_exterior_masonry_fan_nat_max_combined",
    "M9": "M9_exterior_masonry_fan_nat_min_space_heating_input",
}
BANDS = {
    "37F_or_greater": 37.0, "27_to_36F": 27.0, "17_to_26F": 17.0, "5_to_16F": 5.0,
    "-10_to_4F": -10.0,
}  # fmt: skip
ROWS_OF = {"6": (6.0, 8.0), "15": (15.0,), "30": (30.0, 50.0)}  # bands of height in M5


def reference(name: str) -> Iterator[tuple[tuple[float, float, float], tuple[float | None, ...]]]:
    for file in REFERENCE[name].split():
        for row in csv.DictReader((SHARED / f"{file}.csv").read_text("utf-8").splitlines()):
            heights = ROWS_OF[row["height_from_ft"]] if "height_from_ft" in row else None
            across = float(row.get("rise_ft") or BANDS.get(row.get("winter_design_temp_band"), 0))
            sizes = ("diameter_in", "min_area_in2", "internal_area_in2")
            size = next(float(row[key]) for key in sizes if key in row)
            names = ("fan_min", "fan_max", "nat_max", "fan_fan", "fan_nat", "nat_nat",
                     "nat_nat_max_combined", "fan_nat_max_combined",
                     "min_space_heating_input")  # fmt: skip
            figures = tuple(
                None if row[key] == "NA" else float(row[key]) for key in names if key in row
            )
            for height in heights or (float(row["height_ft"]),):
                yield (height, across, size), figures


@pytest.mark.skipif(not SHARED.is_dir(), reason="the reference tables are not beside the project")
@pytest.mark.parametrize("name", TABLES)
def test_our_copy_is_the_reference(name: str) -> None:
    assert dict(TABLES[name].values) == dict(reference(name))


@pytest.mark.skipif(not SHARED.is_dir(), reason="the reference tables are not beside the project")
def test_every_reference_example_is_checked_somewhere() -> None:
    with (SHARED / "worked_examples_common.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["quantity"] != "inputs"]
    checks = tomllib.loads((PUBLISHED / "common_vent.toml").read_text("utf-8"))["check"]
    held = {
        (
            one["given"].get("height_ft"), one["given"].get("rise_ft"),
            one["given"]["diameter_in"], one["expect"],
        )
        for one in checks
    }  # fmt: skip
    for row in rows:
        keys = ("height_ft", "rise_ft", "size", "expected_value_kbtuh")
        height, rise, size, expected = (float(row[key]) if row[key] else None for key in keys)
        assert (height, rise, size, expected) in held, row


# Order in the tables: what rises must rise, but for the listed cells


def exceptions() -> set[tuple[str, str, str, float, float, float, float]]:
    with (CASES / "capacity_common_exceptions.csv").open(encoding="utf-8") as file:
        return {
            (row[0], row[1], row[2], *(float(one) for one in row[3:7]))  # type: ignore[misc]
            for row in list(csv.reader(file))[1:]
        }


def wrong_steps(name: str) -> Iterator[tuple[str, str, str, float, float, float, float]]:
    """Neighbors along height, rise or size where a figure falls.

    FAN Min rises with rise and size; with height it may go either way, so there it is left out.
    """
    table = TABLES[name]
    for at, column in enumerate(table.layout.columns):
        for axis, along in enumerate(("height", "rise", "size")):
            if not column.is_maximum and not axis:
                continue
            lines: dict[tuple[float, ...], list[tuple[float, float, tuple[float, ...]]]] = {}
            for spot, entry in table.values.items():
                value = entry[at]
                if value is not None:
                    rest = spot[:axis] + spot[axis + 1 :]
                    lines.setdefault(rest, []).append((spot[axis], value, spot))
            for line in lines.values():
                for (_, value, spot), (_, following, _) in itertools.pairwise(sorted(line)):
                    if following < value:
                        yield (name, column.value, along, *spot, value)


@pytest.mark.parametrize("name", [*CONNECTORS, *COMMON, "M6", "M8"])
def test_capacity_rises_with_height_rise_and_size_but_for_the_listed_cells(name: str) -> None:
    assert set(wrong_steps(name)) == {one for one in exceptions() if one[0] == name}


@pytest.mark.parametrize("name", CONNECTORS[:4])
def test_figures_of_a_connector_are_in_order(name: str) -> None:
    for low, high, nat in TABLES[name].values.values():
        assert low is None or high is None or low <= high
        assert nat is None or high is None or nat < high


@pytest.mark.parametrize("name", COMMON[:4])
def test_fan_assisted_pairs_carry_more_than_draft_hoods(name: str) -> None:
    for spot, figures in TABLES[name].values.items():
        known = [one for one in figures if one is not None]
        assert known == sorted(known, reverse=True), spot


# Single-wall figure, then Type B figure; see the oddities of the index.
BETTER_SINGLE_WALL = {
    ("M2", "fan_max", 20.0, 1.0, 3.0, 56.0, 54.0),
    ("M2", "fan_max", 20.0, 2.0, 3.0, 59.0, 57.0),
    ("M2", "fan_max", 20.0, 3.0, 3.0, 62.0, 60.0),
    ("M2", "nat_max", 10.0, 2.0, 7.0, 183.0, 182.0),
    ("M4", "fan_max", 6.0, 2.0, 10.0, 696.0, 694.0),
    ("M4", "fan_max", 6.0, 3.0, 9.0, 634.0, 633.0),
    ("M4", "fan_max", 10.0, 1.0, 5.0, 151.0, 130.0),
}


def test_a_single_wall_connector_carries_no_more_but_for_the_listed_cells() -> None:
    found: set[tuple[str, str, float, float, float, float, float]] = set()
    for single, double in (("M2", "M1"), ("M4", "M3")):
        for spot, entry in TABLES[single].values.items():
            for column, value, other in zip(
                TABLES[single].layout.columns, entry, TABLES[double].values[spot], strict=True
            ):
                if value is None or other is None:
                    continue
                if value > other if column.is_maximum else value < other:
                    found.add((single, column.value, *spot, value, other))
    assert found == BETTER_SINGLE_WALL


@pytest.mark.parametrize("name", CONNECTORS)
def test_steps_along_the_rise_are_even(name: str) -> None:
    """A slip of a digit would show: 2 ft is within 6 % of the middle of 1 and 3 ft.

    One small cell is 7 % off: M3, 15 ft, 3 in, NAT Max 23, 31, 35.
    """
    table, uneven = TABLES[name], set()
    for height, size in itertools.product(table.heights, table.sizes):
        for a, b, c in zip(*(table.values[height, rise, size] for rise in (1, 2, 3)), strict=True):
            if None not in (a, b, c) and b != pytest.approx((a + c) / 2, rel=0.06):
                uneven.add((name, height, size, b))
    assert uneven == ({("M3", 15.0, 3.0, 31.0)} if name == "M3" else set())


def test_an_exterior_chimney_carries_as_much_as_an_interior_one_at_most() -> None:
    """M6 and M8 repeat the maxima of M3 for NAT+NAT and FAN+NAT, or are below them."""
    for name, at in (("M6", 2), ("M8", 1)):
        for spot, (value,) in TABLES[name].values.items():
            inside = TABLES["M3C"].values[spot][at]
            assert value is None or inside is None or value <= inside, (name, spot)


# Hand calculations


HAND = tomllib.loads((CASES / "capacity_common.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", HAND, ids=lambda case: str(case["id"]))
def test_hand_calculation(case: dict[str, Any]) -> None:
    assert set(case) - {"expect", "words"} == {"id", "rule", "working", "checks", "given"}
    found = ADAPTERS[case["checks"]](case["given"])
    if "words" in case:
        assert isinstance(found, str)
        assert case["words"] in found
    else:
        assert found == pytest.approx(case["expect"], abs=1e-9)


def test_a_printed_figure_that_its_neighbors_contradict_says_so() -> None:
    """M4, 10 ft, rise 1 ft, 5 in: FAN Max 151, where a Type B connector has 130."""
    found = connector("M4", Column.FAN_MAX, rise=ft(1), diameter=inch(5))
    assert kbtu(found.max) == pytest.approx(151)
    assert found.basis is Basis.MEMORY
    assert any("probably too high; heed the lower" in step.what for step in found.working)


# Between the cells and outside them

connector_spots = st.sampled_from(CONNECTORS).flatmap(
    lambda name: st.tuples(
        st.just(name),
        st.sampled_from(TABLES[name].layout.columns),
        st.floats(6, TABLES[name].heights[-1]).map(lambda at: round(at, 4)),
        st.floats(1, 3).map(lambda at: round(at, 4)),
        st.sampled_from(TABLES[name].sizes),
    )
)


@given(connector_spots, st.sampled_from(["interpolate", "lower_row"]))
def test_a_connector_lies_between_its_corner_cells_or_has_no_number(
    spot: tuple[str, Column, float, float, float], method: str
) -> None:
    name, column, height, rise, size = spot
    table, at = TABLES[name], TABLES[name].layout.columns.index(column)
    rows = {
        max(h for h in table.heights if h <= height),
        min(h for h in table.heights if h >= height),
    }
    rises = {float(int(rise)), float(-int(-rise // 1))}
    cells = [table.values[h, r, size][at] for h, r in itertools.product(rows, rises)]
    found = connector(
        name, column, height=ft(height), rise=ft(rise), diameter=inch(size), method=method
    )
    one = found.max if column.is_maximum else found.min
    known = [cell for cell in cells if cell is not None]
    if len(known) < len(cells):
        assert one is None
    elif one is not None:
        assert min(known) - 1e-6 <= kbtu(one) <= max(known) + 1e-6
        if method == "lower_row":
            assert kbtu(one) == pytest.approx(min(known) if column.is_maximum else max(known))
    else:
        assert "NA" in found.reason


@given(
    st.sampled_from(COMMON), st.sampled_from(["fan_fan", "fan_nat", "nat_nat"]),
    st.floats(0.01, 150), st.floats(0, 3), st.integers(0, 11),
)  # fmt: skip
def test_a_common_vent_lies_between_its_rows_or_has_no_number(
    name: str, kind: str, height: float, loose: float, pick: int
) -> None:
    table, column = TABLES[name], Column(kind)
    size = table.sizes[pick % len(table.sizes)]
    found = common(name, column, size, height=ft(height, loose))
    assert (found.max is None) == (found.min is None) == (found.reason is not None)
    if column not in table.layout.columns:
        assert "it is for draft hoods alone" in found.reason
        return
    if height - loose < 6 - 1e-6 or height + loose > table.heights[-1] + 1e-6:
        assert found.max is None
    if found.max is not None:
        at = table.layout.columns.index(column)
        low = max(h for h in table.heights if h <= height - loose + 1e-6)
        high = min(h for h in table.heights if h >= height + loose - 1e-6)
        cells = [
            value for h in table.heights if low <= h <= high
            if (value := table.values[h, 0.0, size][at]) is not None
        ]  # fmt: skip
        assert min(cells) - 1e-6 <= found.max.low / KBTU_H_W
        assert found.max.high / KBTU_H_W <= max(cells) + 1e-6


@given(
    st.sampled_from(CONNECTORS[:4]), st.floats(0.01, 150), st.floats(0, 6), st.floats(0, 2),
    st.floats(0, 2), st.sampled_from(["draft_hood", "fan_assisted"]),
)  # fmt: skip
def test_never_a_number_outside_a_connector_table(
    name: str, height: float, rise: float, loose_h: float, loose_r: float, burner: str
) -> None:
    found = connector(
        name, Column.NAT_MAX, height=ft(height, loose_h), rise=ft(rise, loose_r), burner=burner
    )
    assert (found.max is None) == (found.min is None) == (found.reason is not None)
    outside = (
        height - loose_h < 6 - 1e-6
        or height + loose_h > 100 + 1e-6
        or rise - loose_r < 1 - 1e-6
        or rise + loose_r > 3 + 1e-6
    )
    assert not outside or found.max is None


def test_a_tolerance_that_leaves_the_table_names_the_rise() -> None:
    found = connector("M1", Column.NAT_MAX, rise=ft(3, 0.25))
    assert "on the high side of the rise (3 ft ± 0.25 ft)" in found.reason
    assert "Measure the rise more closely." in found.reason


def test_na_names_what_to_change() -> None:
    found = connector("M2", Column.FAN_MAX, height=ft(6), rise=ft(1), diameter=inch(3))
    assert "Change the diameter, the height or the rise" in found.reason


# Lengths, elbows, sizes


@pytest.mark.parametrize(
    ("length", "cut"),
    [
        (ft(0), 0), (ft(6), 0), (ft(6.01), 10), (ft(12), 10), (ft(12.01), 20), (ft(60), 90),
        (ft(66.1), 100), (ft(500), 100),
    ],
)  # fmt: skip
def test_each_further_multiple_of_the_free_length_costs_a_tenth(length: Measured, cut: int) -> None:
    free = kbtu(connector("M1", Column.NAT_MAX, length=ft(0)).max)
    found = connector("M1", Column.NAT_MAX, length=length)
    assert kbtu(found.max) == pytest.approx(free * (100 - cut) / 100, abs=1e-9)
    assert ("common_long_connector" in found.rules) is (cut > 0)


def test_a_length_whose_tolerance_spans_the_limit_gives_an_interval() -> None:
    found = connector("M1", Column.NAT_MAX, length=ft(6, 0.25))
    free = kbtu(connector("M1", Column.NAT_MAX, length=ft(0)).max)
    assert found.max.high / KBTU_H_W == pytest.approx(free)
    assert found.max.low / KBTU_H_W == pytest.approx(free * 0.9)


def test_the_minimum_of_a_long_connector_is_that_of_one_appliance_alone() -> None:
    """M2 and T2, 30 ft, 4 in: FAN Min 85 at rise 3 ft; 72 at lateral 5 ft, 91 at 10 ft."""
    asked: dict[str, Any] = {"height": ft(30), "rise": ft(3)}
    short = connector("M2", Column.FAN_MIN, length=ft(5), **asked)
    long = connector("M2", Column.FAN_MIN, length=ft(10), **asked)
    loose = connector("M2", Column.FAN_MIN, length=ft(6, 4), **asked)
    assert (kbtu(short.min), kbtu(long.min)) == pytest.approx((85, 91))
    assert {cell.table for cell in long.cells} == {"M2", "T2"}
    assert loose.min.high / KBTU_H_W == pytest.approx(91)
    assert loose.min.low / KBTU_H_W < 85


def test_a_long_connector_that_its_single_table_does_not_hold_has_no_number() -> None:
    found = connector("M2", Column.FAN_MAX, height=ft(30), rise=ft(3), length=ft(31))
    assert (found.max, found.min) == (None, None)
    assert "the minimum is that of the table for one appliance alone, and there:" in found.reason


def test_the_minimum_is_never_cut() -> None:
    plain = connector("M1", Column.FAN_MIN)
    cut = connector("M1", Column.FAN_MIN, elbows=(90.0, 90.0), liner_corrugated=True)
    assert kbtu(cut.min) == kbtu(plain.min)
    assert kbtu(cut.max) == pytest.approx(kbtu(plain.max) * 0.8 * 0.8)


@pytest.mark.parametrize(
    ("elbows", "cut"), [((), 0), ((45.0,), 5), ((46.0,), 10), ((90.0, 90.0, 45.0), 25)]
)
def test_no_elbow_of_a_common_vent_is_free(elbows: tuple[float, ...], cut: int) -> None:
    plain = kbtu(common("M1C", Column.NAT_NAT).max)
    found = common("M1C", Column.NAT_NAT, elbows=elbows)
    assert kbtu(found.max) == pytest.approx(plain * (100 - cut) / 100)


@pytest.mark.parametrize(
    ("outlet", "size", "burner", "fits"),
    [
        (4, 4, "draft_hood", True), (4, 6, "draft_hood", True), (4, 7, "draft_hood", False),
        (4, 3, "draft_hood", False), (5, 4, "fan_assisted", False), (4.5, 5, "draft_hood", False),
    ],
)  # fmt: skip
def test_a_connector_is_no_smaller_than_its_outlet_and_two_sizes_larger_at_most(
    outlet: float, size: float, burner: str, fits: bool
) -> None:
    found = connector("M1", Column.NAT_MAX, diameter=inch(size), outlet=inch(outlet), burner=burner)
    assert (found.max is not None) is fits


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"connector": inch(4, 0.5)}, "may be smaller than its largest connector"),
        ({"outlet": inch(1.4)}, "is more than 7 times that of the smallest outlet"),
        ({"offset": ft(5.9, 0.5)}, "The offset, 6.4 ft at its longest, is more than the 6 ft"),
        ({"diameter": inch(4.5)}, "The common vent, 4.5 in inside, is no single size of table M1C"),
    ],
)
def test_a_common_vent_outside_its_rules_has_a_reason(asked: dict[str, Any], words: str) -> None:
    found = common("M1C", Column.NAT_NAT, **asked)
    assert (found.max, found.min) == (None, None)
    assert words in found.reason


def test_an_offset_of_a_masonry_flue_is_not_in_the_tables() -> None:
    found = common("M3C", Column.NAT_NAT, 28, offset=ft(2))
    assert "An offset of a masonry flue is not in the tables" in found.reason


def test_a_loose_flue_area_is_read_at_its_low_side() -> None:
    assert kbtu(common("M3C", Column.NAT_NAT, 30, flue_area=square_inches(30, 4)).max) == kbtu(
        common("M3C", Column.NAT_NAT, 19).max
    )


def test_a_length_below_zero_is_an_error() -> None:
    with pytest.raises(OutOfRange, match="rise is -1"):
        connector("M1", Column.NAT_MAX, rise=Measured(-1, Dimension.LENGTH))
    with pytest.raises(OutOfRange, match="an elbow of 120 deg"):
        common("M1C", Column.NAT_NAT, elbows=(120.0,))


# The question of the command line


def query(**asked: Any) -> Query:
    values: dict[str, Any] = {
        "vent": "type_b", "connector": "single_wall", "burner": "draft_hood", "height": ft(30),
        "lateral": ft(0), "diameter": inch(6), "edition": "umc_2012",
    } | asked  # fmt: skip
    return Query(**values)


@pytest.mark.parametrize(
    ("asked", "table", "most"),
    [
        ({"rise": ft(3), "lateral": ft(8)}, "803.1.3(8)", 172),
        ({"shared": "nat_nat"}, "803.1.3(8)", 257),
        ({"shared": "nat_nat", "edition": "nfpa54_2012"}, "13.2(b)", 257),
        ({"shared": "nat_nat", "edition": "irc_2021"}, "G2428.3(2)", 257),
        ({"shared": "nat_nat", "manifold": ft(5)}, "803.1.3(8)", 257 * 0.9),
        ({"shared": "nat_nat", "vent": "masonry", "liner": "corrugated"}, "803.1.3(8)", 257 * 0.8),
        ({"connector": "none", "rise": ft(1)}, "803.1.3(7)", None),
        ({"vent": "masonry", "rise": ft(1)}, "803.1.3(10)", None),
        ({"vent": "masonry", "connector": "type_b", "rise": ft(1)}, "803.1.3(9)", None),
        ({"vent": "masonry", "shared": "fan_nat", "flue_area": square_inches(63)}, "803.1.3(10)",
         None),
        ({"vent": "single_wall", "shared": "nat_nat"}, "803.1.3(11)", None),
        ({"vent": "single_wall", "rise": ft(2)}, "803.1.3(11)", None),
    ],
)  # fmt: skip
def test_a_question_finds_its_table(asked: dict[str, Any], table: str, most: float | None) -> None:
    found = capacity_query(library(), query(**asked))
    assert found.table == table
    assert found.max is not None, found.reason
    assert most is None or kbtu(found.max) == pytest.approx(most)
    assert found.cites[0].at == f"Table {table}"


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"rise": ft(2), "shared": "nat_nat"}, "Ask for one at a time."),
        ({"rise": ft(2), "manifold": ft(2)}, "They belong to the common vent itself."),
        ({"rise": ft(2), "connector_diameter": inch(4)}, "leave the connector diameter and"),
        ({"rise": ft(2), "flue_area": square_inches(63)}, "A flue area is asked of a masonry"),
        ({"shared": "nat_nat", "vent": "masonry"}, "give the flue area"),
        ({"shared": "nat_nat", "vent": "masonry", "connector": "none"}, "say whether it is type_b"),
        ({"shared": "fan_nat", "vent": "single_wall"}, "Table M5C has no FAN+NAT"),
        ({"manifold": ft(2)}, "A manifold belongs to a common vent"),
        ({"outlet": inch(4)}, "An outlet belongs to a masonry chimney or a common vent."),
        ({"rise": ft(2), "vent": "single_wall", "liner": "corrugated"}, "A liner belongs to"),
    ],
)
def test_a_question_without_an_answer_has_a_reason(asked: dict[str, Any], words: str) -> None:
    found = capacity_query(library(), query(**asked))
    assert (found.max, found.min) == (None, None)
    assert words in (found.reason or "")


def test_an_unknown_word_is_an_error() -> None:
    with pytest.raises(OutOfRange, match=r"shared is 'all'\. Write fan_fan, fan_nat, nat_nat"):
        capacity_query(library(), query(shared="all"))


def test_a_connector_answer_cites_what_it_stands_on() -> None:
    found = capacity_query(
        library(), query(rise=ft(3), lateral=ft(7), diameter=inch(4), burner="fan_assisted")
    )
    places = [cite.at for cite in found.cites]
    assert places[:2] == ["Table 803.1.3(8)", "Table 803.1.3(2)"]
    assert {"803.2.1", "803.2.2", "803.2.9", "803.2.10", "803.2.11", "803.2.19"} <= {*places}
    assert found.basis is Basis.READ
    assert any("center line where the gases join" in step.what for step in found.working)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"shared": "nat_nat"}, "for the inputs of all appliances together"),
        ({"shared": "nat_nat"}, "at least the area of its largest connector"),
        ({"shared": "nat_nat"}, "that of the smallest draft hood outlet or flue collar"),
        ({"rise": ft(2)}, "not smaller than the outlet of its appliance"),
    ],
)
def test_what_was_not_asked_is_told_as_a_condition(asked: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {"outlet": inch(4), "connector_diameter": inch(4)}
    if "rise" in asked:
        given.pop("connector_diameter")
    said = [step.what for step in capacity_query(library(), query(**asked)).working]
    assert any(words in one for one in said)
    if "together" not in words:
        said = [step.what for step in capacity_query(library(), query(**asked, **given)).working]
        assert not any(words in one for one in said if "holds only where" in one)


def test_a_cell_not_confirmed_makes_the_answer_memory() -> None:
    """M1C, 100 ft, 4 in: memory alone."""
    found = capacity_query(
        library(), query(shared="nat_nat", connector="type_b", height=ft(100), diameter=inch(4))
    )
    assert found.basis is Basis.MEMORY


def test_only_a_common_vent_asks_for_its_tables() -> None:
    assert groups_for(query()) == ()
    assert groups_for(query(rise=ft(2))) == (GROUP,)
    assert groups_for(query(shared="nat_nat", vent="masonry")) == (GROUPS["masonry"], GROUP)


def test_every_rule_that_a_reading_names_has_a_section() -> None:
    used: set[str] = set()
    for found in (
        connector("M1", Column.FAN_MAX, height=ft(12), rise=ft(1.5), length=ft(9),
                  liner_corrugated=True),
        connector("M1", Column.NAT_MAX, outlet=inch(5)),
        connector("M1", Column.NAT_MAX, height=ft(5)),
        common("M1C", Column.NAT_NAT, offset=ft(2), manifold=ft(2), connector=inch(5)),
        common("M1C", Column.NAT_NAT, offset=ft(2), manifold=ft(2)),
        common("M1C", Column.NAT_NAT, connector=inch(5)),
    ):  # fmt: skip
        used |= {rule for rule in found.rules if rule.startswith("common_")}
    holds = {"common_altitude", "common_height", "common_exposure", "common_rise"}
    sections = {rule for rule in library().sections if rule.startswith("common_")}
    assert used | holds == sections
