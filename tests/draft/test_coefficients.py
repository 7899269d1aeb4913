"""The table of coefficients: what it must say of each, and what is refused."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft import losses
from fluewright.draft.coefficients import COEFFICIENT_BASES, Curve, coefficients_from
from fluewright.errors import BadEdition, OutOfRange
from fluewright.files.physics import coefficients

ROW: dict[str, Any] = {
    "value": 2.0,
    "low": 1.0,
    "high": 3.0,
    "unit": "m",
    "spread": "uniform",
    "source": "a document, edition, place",
    "basis": "read",
}
CURVE: dict[str, Any] = {
    **{key: ROW[key] for key in ("unit", "spread", "source", "basis")},
    "points": [[0.0, 0.0], [2.0, 1.0], [3.0, 5.0]],
    "x_unit": "deg",
    "low": 0.5,
    "high": 2.0,
}
BTU = 5.678263  # W/(m2 K) of one Btu/(h ft2 F)


def test_every_coefficient_has_a_source_and_lies_in_its_range() -> None:
    table = coefficients()
    assert len(table.numbers) > 60
    for one in (*table.numbers.values(), *table.curves.values()):
        assert one.source.strip(), one.name
        assert one.basis in COEFFICIENT_BASES, one.name
        # What nobody measured says so in its source, and only that.
        assert ("no source" in one.source) <= (one.basis in ("assumed", "practice")), one.name
    for number in table.numbers.values():
        assert number.low <= number.value <= number.high, number.name


def test_every_assumed_coefficient_spreads() -> None:
    still = [
        one.name
        for one in coefficients().numbers.values()
        if one.basis == "assumed" and one.spread == "fixed"
    ]
    assert still == []


@pytest.mark.parametrize(
    ("name", "btu"),
    [
        ("wall_u.type_b", 0.6),
        ("wall_u.type_b_half_inch", 0.4),
        ("wall_u.single_aluminum", 1.0),
        ("wall_u.single_galvanized", 1.15),  # middle of 1.0 to 1.3
        ("wall_u.factory_chimney", 0.3),
        ("wall_u.clay_tile", 1.0),
        ("wall_u.clay_pipe", 1.25),  # middle of 1.2 to 1.3
    ],
)
def test_heat_loss_is_the_handbooks_in_si(name: str, btu: float) -> None:
    assert coefficients().value(name) == pytest.approx(btu * BTU, rel=2.5e-3)  # three digits kept


def test_temperatures_and_derived_values_by_hand() -> None:
    value = coefficients().value
    assert value("flue.temperature") == pytest.approx((415 + 459.67) / 1.8, abs=0.05)
    assert value("wall_heat.type_b_aluminum") == pytest.approx(2700 * 900 * 3e-4)
    assert value("wall_heat.single_galvanized") == pytest.approx(7850 * 480 * 4.8e-4, rel=1e-3)
    assert value("wall_heat.clay_tile") == pytest.approx(2000 * 840 * 0.016, rel=0.01)
    # 69 cm2, 35 and 140, of a 4 in outlet of 81.07 cm2
    relief = coefficients().numbers["hood.relief_to_outlet_area"]
    assert (relief.low, relief.value, relief.high) == pytest.approx(
        (35 / 81.07, 69 / 81.07, 140 / 81.07), abs=0.005
    )


def test_the_elbow_curve_is_the_elbow_formula() -> None:
    curve = coefficients().curve("elbow.loss_by_angle")
    small, large = (coefficients().value(f"elbow.loss_{angle}") for angle in (45, 90))
    for angle in (0.0, 10.0, 45.0, 60.0, 90.0):
        assert curve.at(angle) == pytest.approx(losses.elbow_loss(angle, small, large))


def test_curves_by_hand_and_nothing_beyond_them() -> None:
    curve = coefficients_from({"a": {"b": CURVE}}).curve("a.b")
    assert [curve.at(x) for x in (0.0, 1.0, 2.0, 2.5, 3.0)] == [0.0, 0.5, 1.0, 3.0, 5.0]
    for x in (-0.1, 3.1, float("nan")):
        with pytest.raises(OutOfRange, match=r"0 to 3 deg\. Nothing is extrapolated"):
            curve.at(x)


@given(st.floats(0.45, 1.0), st.floats(0.0, 0.5))
def test_a_wider_gap_under_a_cap_loses_no_more(gap: float, more: float) -> None:
    curve: Curve = coefficients().curve("cap.loss_by_gap")
    assert curve.at(min(gap + more, 1.0)) <= curve.at(gap)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"source": None}, "a.b: source is missing or empty."),
        ({"source": "  "}, "source is missing or empty"),
        ({"unit": None}, "unit is missing"),
        ({"basis": None}, "basis is missing"),
        ({"basis": "certain"}, 'basis "certain" is not known. Write one of: read,'),
        ({"spread": "normal"}, 'spread "normal" is not known'),
        ({"value": None}, "value is None. Give a finite number."),
        ({"value": float("nan")}, "value is nan"),
        ({"value": True}, "value is True"),
        ({"value": "2 m"}, "value is '2 m'"),
        ({"low": None}, "low is None"),
        ({"value": 9.0}, "value 9 and its range 1 to 3 do not fit"),
        ({"low": 2.0, "high": 2.0}, "do not fit"),
        ({"spread": "fixed"}, "fixed, yet it has low or high"),
        ({"spread": "loguniform", "low": 0.0}, "needs a range above zero"),
        ({"most": 1}, "most is not known"),
    ],
)
def test_a_row_that_is_not_whole_is_refused(change: dict[str, Any], says: str) -> None:
    row = {key: value for key, value in {**ROW, **change}.items() if value is not None}
    with pytest.raises(BadEdition) as caught:
        coefficients_from({"a": {"b": row, "good": ROW}})
    assert says in str(caught.value)
    assert str(caught.value).startswith("a.b: ")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"points": [[0.0, 1.0]]}, "two or more pairs of numbers with x rising"),
        ({"points": [[0.0, 1.0], [0.0, 2.0]]}, "x rising"),
        ({"points": [[0.0, 1.0], [1.0, "2"]]}, "pairs of numbers"),
        ({"points": "0 1, 1 2"}, "pairs of numbers"),
        ({"low": 1.2}, "are factors"),
        ({"x_unit": ""}, "x_unit is missing or empty"),
        ({"value": 1.0}, "value is not known"),
        ({"source": ""}, "source is missing"),
    ],
)
def test_a_curve_that_is_not_whole_is_refused(change: dict[str, Any], says: str) -> None:
    with pytest.raises(BadEdition, match=says):
        coefficients_from({"a": {"b": {**CURVE, **change}}})


def test_every_fault_is_named_and_a_name_that_is_not_there() -> None:
    with pytest.raises(BadEdition) as caught:
        coefficients_from({"a": {"b": {}, "c": 1}, "d": 2})
    assert [line.split(":")[0] for line in str(caught.value).splitlines()] == ["a.b", "a.c", "d"]
    table = coefficients_from(tomllib.loads(""))
    for ask in (table.value, table.curve):
        with pytest.raises(BadEdition, match=r"x\.y is not in the table"):
            ask("x.y")
