"""The model of capacity beside the printed tables, and where it says that it has no answer."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.draft.bases import bases_from
from fluewright.draft.capacity_model import Arrangement, carried_input
from fluewright.errors import NotSolved, OutOfRange

DATA = Path(__file__).parents[2] / "src" / "fluewright" / "data"
FOOT, INCH, KBTU_H = 0.3048, 0.0254, 293.07107
BASES = bases_from(tomllib.loads((DATA / "physics" / "bases.toml").read_text(encoding="utf-8")))
ELBOWS = (90.0, 90.0)


def kbtu_h(height_ft: float, lateral_ft: float, diameter_in: float, basis: str = "code_nat",
           connector: str = "type_b") -> float:  # fmt: skip
    vent = Arrangement(
        height_m=height_ft * FOOT, lateral_m=lateral_ft * FOOT, diameter_m=diameter_in * INCH,
        vent="type_b", connector=connector, elbows_deg=ELBOWS if lateral_ft else (),
    )  # fmt: skip
    return carried_input(vent, BASES[basis]).input_w / KBTU_H


# NFPA 54-2012 Table 13.1(a): the basis follows the table within what validation.md states.
@pytest.mark.parametrize(("basis", "column", "worst"), [
    ("code_nat", "nat_max", 0.08), ("code_fan", "fan_max", 0.05),
])  # fmt: skip
def test_every_cell_of_the_type_b_table_comes_out(basis: str, column: str, worst: float) -> None:
    with (DATA / "tables" / "T1.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row[column] not in ("NA", "missing")]
    errors = []
    for row in rows[::3]:
        place = (float(row[key]) for key in ("height_ft", "lateral_ft", "diameter_in"))
        errors.append(abs(kbtu_h(*place, basis=basis) / float(row[column]) - 1.0))
    assert max(errors) < worst
    assert sorted(errors)[len(errors) // 2] < worst / 8


def test_residual_is_nothing() -> None:
    vent = Arrangement(height_m=3.0, lateral_m=1.0, diameter_m=0.1, vent="type_b",
                       connector="type_b", elbows_deg=ELBOWS)  # fmt: skip
    found = carried_input(vent, BASES["code_nat"])
    assert abs(found.residual_pa) < 1e-9 * found.lift_pa
    assert found.lost_pa == pytest.approx(found.lift_pa)


def test_below_the_first_row_it_still_answers() -> None:
    assert 0.0 < kbtu_h(4.0, 2.0, 4.0) < kbtu_h(6.0, 2.0, 4.0)


@settings(max_examples=30, deadline=None)
@given(height=st.floats(5.0, 60.0), lateral=st.floats(0.5, 10.0), diameter=st.floats(3.0, 12.0))
def test_more_height_or_size_never_carries_less(
    height: float, lateral: float, diameter: float
) -> None:
    here = kbtu_h(height, lateral, diameter)
    assert kbtu_h(height, lateral, diameter * 1.1) > here
    assert kbtu_h(height, lateral * 1.2, diameter) < here


def test_an_elbow_more_and_a_corrugated_liner_cost_capacity() -> None:
    vent = Arrangement(height_m=5.0, lateral_m=1.5, diameter_m=0.127, vent="type_b",
                       connector="type_b", elbows_deg=ELBOWS)  # fmt: skip
    here = carried_input(vent, BASES["code_nat"]).input_w
    bent = carried_input(replace(vent, elbows_deg=(*ELBOWS, 90.0)), BASES["code_nat"]).input_w
    half = carried_input(replace(vent, elbows_deg=(*ELBOWS, 45.0)), BASES["code_nat"]).input_w
    liner = carried_input(replace(vent, corrugated=True), BASES["code_nat"]).input_w
    assert bent < half < here
    assert liner < here


def test_air_at_altitude_carries_less() -> None:
    vent = Arrangement(height_m=3.0, lateral_m=1.5, diameter_m=0.1016, vent="type_b",
                       connector="type_b", elbows_deg=ELBOWS)  # fmt: skip
    low = carried_input(vent, BASES["code_nat"]).input_w
    high = carried_input(replace(vent, altitude_m=1524.0), BASES["code_nat"]).input_w
    assert high / low == pytest.approx(0.826, abs=0.01)  # nearly the ratio of air pressures, 0.832


def test_a_vent_that_carries_nothing_is_no_answer_but_a_reason() -> None:
    vent = Arrangement(height_m=0.01, lateral_m=400.0, diameter_m=0.004, vent="type_b",
                       connector="single_wall", elbows_deg=ELBOWS)  # fmt: skip
    with pytest.raises(NotSolved, match="no flow is carried"):
        carried_input(vent, BASES["code_nat"])


@pytest.mark.parametrize(("change", "text"), [
    ({"height_m": 0.0}, "the height is 0 m; above 0 is needed"),
    ({"elbows_deg": (120.0,)}, "elbow of 120 degrees; above 0, at most 90"),
    ({"vent": "brass"}, "wall 'brass'; write one of"),
])  # fmt: skip
def test_what_cannot_be_is_refused(change: dict[str, object], text: str) -> None:
    vent = Arrangement(height_m=3.0, lateral_m=1.0, diameter_m=0.1, vent="type_b",
                       connector="type_b", elbows_deg=ELBOWS)  # fmt: skip
    with pytest.raises(OutOfRange, match=text):
        carried_input(replace(vent, **change), BASES["code_nat"])  # type: ignore[arg-type]


def test_a_basis_that_lacks_a_figure_is_refused() -> None:
    whole = tomllib.loads((DATA / "physics" / "bases.toml").read_text(encoding="utf-8"))
    del whole["code_nat"]["cap_loss"]
    with pytest.raises(OutOfRange, match="basis code_nat: missing or unknown: cap_loss"):
        bases_from(whole)
