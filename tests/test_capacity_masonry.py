"""Masonry chimneys: the flue that the tables ask for, the question, exterior chimneys."""

from __future__ import annotations

import csv
import itertools
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.capacity_tools import kbtu, text_of
from tests.published_adapters import feet as ft
from tests.published_adapters import inches as inch
from tests.published_adapters import library

from fluewright.capacity import GROUPS, Query, capacity_query, groups_for
from fluewright.capacity.exterior import exterior_bound
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis

SHARED = Path(__file__).parents[2] / "shared" / "reference" / "tables"
T6 = library().tables["T6"]


def area(square_inches: float, tolerance: float = 0.0) -> Measured:
    return Measured(square_inches * 0.0254**2, Dimension.AREA, tolerance * 0.0254**2)


def winter(degf: float, tolerance: float = 0.0) -> Measured:
    return Measured((degf - 32) / 1.8, Dimension.TEMPERATURE, tolerance / 1.8)


def query(**asked: Any) -> Query:
    values: dict[str, Any] = {
        "vent": "masonry", "connector": "type_b", "burner": "draft_hood", "height": ft(20),
        "lateral": ft(5), "diameter": inch(4), "flue_area": area(63), "edition": "umc_2012",
    } | asked  # fmt: skip
    return Query(**values)


@pytest.mark.parametrize(
    ("asked", "table", "most"),
    [
        ({}, "803.1.3(3)", 68),
        ({"connector": "single_wall"}, "803.1.3(4)", 67),
        ({"connector": "single_wall", "edition": "nfpa54_2012"}, "13.1(d)", 67),
        ({"extra_elbows": (90.0, 45.0)}, "803.1.3(3)", 68 * 0.85),
        ({"height": ft(25)}, "803.1.3(3)", (68 + 76) / 2),
        ({"height": ft(25), "method": "lower_row"}, "803.1.3(3)", 68),
    ],
)
def test_a_chimney_is_answered_from_its_table(
    asked: dict[str, Any], table: str, most: float
) -> None:
    """The cells are T3 20/5 68, 30/5 76 and T4 20/5 67, all 4 in, NAT Max."""
    found = capacity_query(library(), query(**asked))
    assert found.table == table
    assert kbtu(found.max) == pytest.approx(most)
    assert kbtu(found.min) == 0
    assert found.basis is Basis.READ


def test_fan_assisted_has_both_bounds() -> None:
    """T3, 30 ft, lateral 5 ft, 7 in: FAN Min 75, FAN Max 561."""
    cell = library().tables["T3"].values[30.0, 5.0, 7.0]
    found = capacity_query(library(), query(burner="fan_assisted", height=ft(30), diameter=inch(7)))
    assert (kbtu(found.min), kbtu(found.max)) == pytest.approx(cell[:2])


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"flue_area": None}, "give the flue area"),
        ({"connector": "none"}, "say whether it is type_b or single_wall"),
        ({"connector_diameter": inch(4)}, "leave the connector diameter out"),
        ({"flue_area": area(18.9)}, "18.9 in2 inside, is smaller than the 19 in2 that table T3"),
        ({"flue_area": area(19.5, 1)}, "may be smaller than the 19 in2"),
        ({"flue_area": area(19.5, 1)}, "Measure the flue more closely."),
        ({"flue_area": area(88.1)}, "is more than 7 times that of the connector"),
        ({"flue_area": area(87, 2)}, "may be more than 7 times"),
        ({"flue_area": area(63), "outlet": inch(3)}, "more than 7 times that of the outlet"),
        ({"diameter": inch(11)}, "The connector, 11 in inside, is no single size of table T3"),
        ({"height": ft(51)}, "above the 50 ft at which table T3 ends"),
        ({"lateral": ft(21)}, "longer than the 20 ft at which table T3 ends"),
    ],
)
def test_a_flue_or_place_outside_the_table_has_a_reason(asked: dict[str, Any], words: str) -> None:
    found = capacity_query(library(), query(**asked))
    assert (found.max, found.min) == (None, None)
    assert words in (found.reason or "")


@pytest.mark.parametrize(
    ("asked", "fits"),
    [
        ({"flue_area": area(19)}, True),
        ({"flue_area": area(87.9)}, True),
        ({"flue_area": area(87.9), "outlet": inch(4)}, True),
        ({"flue_area": area(49), "outlet": inch(3)}, True),
        ({"flue_area": area(49.5), "outlet": inch(3)}, False),
    ],
)
def test_the_flue_holds_the_least_area_and_at_most_seven_outlets(
    asked: dict[str, Any], fits: bool
) -> None:
    """7 x pi/4 x 4^2 = 87.96 in2; 7 x pi/4 x 3^2 = 49.48 in2."""
    found = capacity_query(library(), query(**asked))
    assert (found.max is not None) is fits
    assert "803.1.9" in [cite.at for cite in found.cites]


def test_an_outlet_not_given_is_told_as_a_condition() -> None:
    found = capacity_query(library(), query())
    step = next(step for step in found.working if "smallest draft hood outlet" in step.what)
    assert step.value == pytest.approx((63 / 7 * 4 / 3.141592653589793) ** 0.5)
    assert step.unit == "in"


def test_a_short_lateral_on_a_chimney_is_read_at_two_feet() -> None:
    short = capacity_query(library(), query(lateral=ft(1)))
    assert kbtu(short.max) == kbtu(capacity_query(library(), query(lateral=ft(2))).max)


def test_only_an_unlined_chimney_asks_for_its_tables() -> None:
    assert groups_for(query()) == (GROUPS["masonry"],)
    assert groups_for(query(liner="corrugated")) == ()
    assert groups_for(query(vent="type_b", flue_area=None)) == ()


# Exterior chimneys


def test_every_cell_of_the_exterior_table_comes_out() -> None:
    assert len(T6.values) == 280
    for (height, band, size), (printed,) in T6.values.items():
        found = exterior_bound(
            T6, height=ft(height), flue_area=area(size), winter_design=winter(band)
        )
        if printed is None or (height, band, size) == (30.0, 37.0, 63.0):
            assert found.bound is None
            assert "NA" in (found.reason or "")
        else:
            assert kbtu(found.bound) == pytest.approx(printed)


@pytest.mark.skipif(not SHARED.is_dir(), reason="the reference tables are not beside the project")
def test_our_exterior_table_is_the_reference() -> None:
    with (SHARED / "T6.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["height_ft"] != "all"]
    wanted = {
        tuple(float(row[key]) for key in ("height_ft", "band_low_F", "internal_area_in2")): (
            row["min_input_kbtuh"], row["confidence"],
        )
        for row in rows
    }  # fmt: skip
    held = {
        spot: (
            "NA" if value is None else f"{value:g}",
            cell.confidence.value,
        )
        for spot, (value,) in T6.values.items()
        for cell in [T6.cell(*spot, T6.layout.columns[0])]
    }
    assert held == wanted
    assert len(T6.doubts) == 93


def test_a_doubtful_minimum_that_another_print_forbids_is_not_used() -> None:
    found = exterior_bound(T6, height=ft(30), flue_area=area(63), winter_design=winter(40))
    assert found.bound is None
    assert "in one of two prints" in (found.reason or "")
    assert found.basis is Basis.MEMORY


@given(
    st.floats(6, 50), st.floats(12, 113), st.floats(-10, 60), st.floats(0, 3), st.floats(0, 10),
    st.floats(0, 10),
)  # fmt: skip
def test_between_entries_the_exterior_minimum_is_the_strict_one(
    height: float, size: float, degf: float, loose_h: float, loose_a: float, loose_t: float
) -> None:
    """By a search of its own: no cell that touches the readings asks for more."""
    found = exterior_bound(
        T6,
        height=ft(height, loose_h),
        flue_area=area(size, loose_a),
        winter_design=winter(degf, loose_t),
    )
    if found.bound is None:
        assert found.reason
        return
    rows = [a for a, b in itertools.pairwise((*T6.heights, 51.0)) if b > height - loose_h]
    rows = [a for a in rows if a <= height + loose_h]
    for row in rows:
        columns = [a for a in T6.sizes if size - loose_a <= a <= size + loose_a]
        bands = [b for b in (-10, 5, 17, 27, 37) if degf - loose_t <= b <= degf + loose_t]
        for column, band in itertools.product(columns, bands):
            (value,) = T6.values[row, float(band), column]
            assert value is not None
            assert kbtu(found.bound) >= value - 1e-9


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"winter_design": None}, "winter design temperature: give it."),
        ({"winter_design": winter(-11)}, "-11 degF at its lowest, is below the -10 degF"),
        ({"winter_design": winter(-9, 2)}, "no arrangement is recommended there"),
        ({"height": ft(5.9)}, "The height, 5.9 ft, is not wholly within the 6 to 50 ft"),
        ({"height": ft(49, 2)}, "The height, 49 ft ± 2 ft, is not wholly within"),
        ({"flue_area": area(11)}, "The flue, 11 in2, is not wholly within the 12 to 113 in2"),
        ({"flue_area": area(112, 2)}, "an approved engineering method is needed"),
    ],
)
def test_outside_the_exterior_table_there_is_no_number(asked: dict[str, Any], words: str) -> None:
    values: dict[str, Any] = {
        "height": ft(10), "flue_area": area(50), "winter_design": winter(40),
    } | asked  # fmt: skip
    found = exterior_bound(T6, **values)
    assert found.bound is None
    assert words in (found.reason or "")


def test_a_colder_band_holds_below_its_edge() -> None:
    """36.5 degF is not 37 and up: the band of 27 to 36 holds."""
    asked: dict[str, Any] = {"height": ft(10), "flue_area": area(28)}
    warm, edge, cold = (
        exterior_bound(T6, winter_design=winter(degf), **asked) for degf in (37, 36.5, 27)
    )
    assert {cell.across for cell in edge.cells} == {27.0}
    assert kbtu(edge.bound) == kbtu(cold.bound) > kbtu(warm.bound)


def test_the_doubts_of_the_group_name_its_tables_alone() -> None:
    group = GROUPS["masonry"]
    rows = list(csv.DictReader(text_of(group.doubts).splitlines()))
    assert {row["table"] for row in rows} == set(group.layouts)
