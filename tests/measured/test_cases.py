"""The measured cases run, and each lies to its measurement as ``cases.toml`` says.

A change of the engine that moves a case into, over or out of its band fails here: look at the
physics, then say in the file what is so and why. No figure here may be adjusted to fit.
"""

from __future__ import annotations

import math
import tomllib
from functools import cache

import pytest
from tests.measured.runner import (
    CASES,
    COMPUTATIONS,
    KNOWN,
    VERDICTS,
    Case,
    Found,
    Input,
    cases,
    combinations,
    run,
    verdict,
)
from tests.measured.vent_cases import plate_angle

from fluewright.draft import kernel, warmup
from fluewright.draft.solve import figures
from fluewright.draft.system import Lone
from fluewright.files.physics import coefficients

IDS = [case.id for case in cases()]


@cache
def found(case: Case) -> tuple[Found, ...]:
    return run(case)


@pytest.mark.parametrize("case", cases(), ids=IDS)
def test_case_gives_finite_figures_that_lie_as_it_says(case: Case) -> None:
    results = found(case)
    assert {one.outcome.name for one in results} == {one.name for one in case.outcomes}
    for one in results:
        assert all(math.isfinite(x) for x in (one.low, one.middle, one.high)), one.outcome.name
        assert one.low <= one.middle <= one.high
    assert {one.outcome.name: one.verdict for one in results} == {
        one.name: one.verdict for one in case.outcomes
    }


@pytest.mark.parametrize("case", cases(), ids=IDS)
def test_what_is_not_inside_is_explained_and_nothing_else_is(case: Case) -> None:
    for one in case.outcomes:
        assert one.verdict in VERDICTS
        needs = one.verdict in ("overlaps", "outside")
        assert (len(one.explanation) > 40) == needs, f"{case.id} {one.name}"


@pytest.mark.parametrize("case", cases(), ids=IDS)
def test_every_figure_says_how_it_is_known(case: Case) -> None:
    assert case.known in KNOWN
    assert all(text.strip() for text in (case.source, case.measured, case.assumed, case.title))
    for given in case.inputs:
        assert given.known in KNOWN, f"{case.id} {given.name}"
        assert given.low <= given.value <= given.high, f"{case.id} {given.name}"
        assert not given.varies or given.known != "read" or given.note, f"{case.id} {given.name}"
    for one in case.outcomes:
        assert one.known in KNOWN, f"{case.id} {one.name}"
        assert one.band.strip(), f"{case.id} {one.name}"
        if one.value is not None:
            assert one.low <= one.value <= one.high, f"{case.id} {one.name}"


def test_ids_differ_and_every_computation_is_used() -> None:
    assert len(set(IDS)) == len(IDS) >= 13
    assert {case.computes for case in cases()} == set(COMPUTATIONS)


def test_the_file_holds_no_key_that_nobody_reads() -> None:
    data = tomllib.loads(CASES.read_text(encoding="utf-8"))
    assert set(data) == {"case"}
    given = {"value", "low", "high", "unit", "known", "note", "coefficient"}
    out = {"title", "unit", "value", "low", "high", "known", "band", "verdict", "explanation"}
    for one in data["case"]:
        assert set(one) == {
            "id", "title", "computes", "source", "known", "measured", "assumed", "input", "outcome"
        }  # fmt: skip
        assert all(set(row) <= given for row in one["input"].values()), one["id"]
        assert all(set(row) <= out for row in one["outcome"].values()), one["id"]


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (2.0, 3.0, "inside"), (1.0, 4.0, "inside"), (0.5, 3.0, "overlaps"),
        (3.0, 4.5, "overlaps"), (0.0, 9.0, "overlaps"), (0.0, 0.9, "outside"),
        (4.1, 5.0, "outside"),
    ],
)  # fmt: skip
def test_verdict_compares_two_bands(low: float, high: float, word: str) -> None:
    assert verdict(low, high, 1.0, 4.0) == word


def test_verdict_with_open_ends() -> None:
    assert verdict(-5.0, -1.0, -math.inf, 0.0) == "inside"
    assert verdict(-5.0, 1.0, -math.inf, 0.0) == "overlaps"
    assert verdict(11.0, 12.0, 10.0, math.inf) == "inside"
    assert verdict(0.0, 1.0, -math.inf, math.inf) == "not measured"


def _given(name: str, low: float, high: float) -> Input:
    return Input(
        name=name, value=0.5 * (low + high), low=low, high=high, unit="", known="assumed", note=""
    )


def test_few_inputs_are_also_taken_at_their_middle_and_many_at_their_ends() -> None:
    two = (_given("a", 0.0, 2.0), _given("b", 0.0, 2.0), _given("c", 7.0, 7.0))
    few = list(combinations(two))
    assert len(few) == 9
    assert {"a": 1.0, "b": 2.0, "c": 7.0} in few
    many = list(combinations(tuple(_given(name, 0.0, 2.0) for name in "abcde")))
    assert len(many) == 32
    assert {value for one in many for value in one.values()} == {0.0, 2.0}


def test_the_angle_of_a_plate_is_the_inverse_of_its_curve() -> None:
    curve = coefficients().curve("blockage.plate_loss")
    for angle in (12.0, 33.0, 45.0, 57.0):
        assert plate_angle(curve.at(angle)) == pytest.approx(angle, abs=1e-9)
    with pytest.raises(ValueError, match="beyond the curve"):
        plate_angle(500.0)


@pytest.mark.slow
def test_a_fault_of_the_engine_would_be_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    # An idle vent that held flue gas of 28.3 kg/kmol instead of room air would seem to draw
    # 0.27 Pa a meter more than it does: about 1 Pa on the flue to the eaves.
    def faulty(system: Lone) -> tuple[list[float], list[list[float]]]:
        par, rows = figures(system)
        par[kernel.ROOM_MOLAR] = 28.3
        return par, rows

    case = next(one for one in cases() if one.id == "test_houses")
    monkeypatch.setattr(warmup, "figures", faulty)
    wrong = {one.outcome.name: one for one in run(case)}["eaves_margin_pa"]
    assert wrong.verdict != wrong.outcome.verdict
