"""Draws depend on seed, name and place alone; they follow the distributions that they claim."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats
from tests.draft.small_model import Input

from fluewright.ensemble.draws import draw, uniforms
from fluewright.ensemble.lanes import for_each
from fluewright.errors import OutOfRange

MANY = 20_000
UNLIKELY = 1e-3  # chance of a worse fit if the distribution is right; the seeds are fixed


def test_a_draw_does_not_depend_on_who_draws_it() -> None:
    whole = uniforms(7, "room_pa", 0, 1000)
    spans = ((0, 1), (1, 6), (6, 7), (7, 500), (500, 1000))
    pieces = [uniforms(7, "room_pa", a, b) for a, b in spans]
    assert np.array_equal(whole, np.concatenate(pieces))
    assert len(np.unique(whole)) == 1000
    assert (whole > 0.0).all()
    assert (whole < 1.0).all()


def test_seeds_and_names_have_rows_of_their_own() -> None:
    rows = [uniforms(seed, name, 0, MANY) for seed in (1, 2) for name in ("a", "b")]
    for i, one in enumerate(rows):
        assert stats.kstest(one, "uniform").pvalue > UNLIKELY
        for other in rows[:i]:
            assert abs(np.corrcoef(one, other)[0, 1]) < 4.0 / math.sqrt(MANY)
    first = draw([Input(name="a", low=0.0, value=0.5, high=1.0)], 1, 0, 10)["a"]
    two = [
        Input(name="b", low=0.0, value=0.5, high=1.0),
        Input(name="a", low=0.0, value=0.5, high=1.0),
    ]
    assert np.array_equal(first, draw(two, 1, 0, 10)["a"])


@pytest.mark.parametrize(
    ("spread", "expect"),
    [
        ("uniform", stats.uniform(2.0, 6.0)),
        ("triangular", stats.triang(1.0 / 6.0, 2.0, 6.0)),
        ("loguniform", stats.loguniform(2.0, 8.0)),
        # bounds are two standard deviations of the whole width: 6 / 4
        ("normal", stats.truncnorm(-1.0 / 1.5, 5.0 / 1.5, 3.0, 1.5)),
    ],
)
def test_draws_follow_their_distribution(spread: str, expect: stats.rv_continuous) -> None:
    one = Input(name="x", low=2.0, value=3.0, high=8.0, spread=spread)
    values = draw([one], 5, 0, MANY)["x"]
    assert stats.kstest(values, expect.cdf).pvalue > UNLIKELY
    assert values.min() >= 2.0
    assert values.max() <= 8.0


def test_bounds_mode_takes_the_ends_and_fixed_inputs_stay() -> None:
    inputs = [
        Input(name="x", low=2.0, value=3.0, high=8.0),
        Input(name="y", low=1.0, value=2.0, high=5.0, spread="fixed"),
    ]
    values = draw(inputs, 5, 0, MANY, "bounds")
    assert set(values["x"].tolist()) == {2.0, 8.0}
    assert abs((values["x"] == 2.0).mean() - 0.5) < 4.0 * 0.5 / math.sqrt(MANY)
    assert set(values["y"].tolist()) == {2.0}


@pytest.mark.parametrize(
    "one",
    [
        Input(name="x", low=2.0, value=1.0, high=3.0),
        Input(name="x", low=2.0, value=2.5, high=math.inf),
        Input(name="x", low=0.0, value=1.0, high=3.0, spread="loguniform"),
        Input(name="x", low=0.0, value=1.0, high=3.0, spread="cauchy"),
    ],
    ids=["value below low", "no bound", "logarithm of zero", "unknown spread"],
)
def test_inputs_that_cannot_be_drawn_are_refused(one: Input) -> None:
    with pytest.raises(OutOfRange, match="input x"):
        draw([one], 1, 0, 5)


def branching(values: dict[str, float]) -> float:
    x = values["x"]
    if x > 0.9:
        raise OutOfRange(f"x is {x:g}.")
    steps = 0
    while x < 0.5:
        x = x * 2.0 + 0.01
        steps += 1
    return x + steps if 0.6 <= x < 0.8 else max(x, 0.7)


@pytest.mark.parametrize(
    "function", [branching, lambda values: math.exp(values["x"]), lambda values: 1.0 / values["y"]]
)
def test_a_function_for_all_samples_gives_what_it_gives_for_each(function: object) -> None:
    assert callable(function)
    values = {"x": uniforms(3, "x", 0, 300), "y": np.arange(300.0) + 1.0}
    told = [np.nan] * 300
    for which, found in for_each(function, values, 300):
        one_each = np.broadcast_to(-1.0 if isinstance(found, OutOfRange) else found, len(which))
        for i, one in zip(which.tolist(), one_each.tolist(), strict=True):
            assert math.isnan(told[i])
            told[i] = one
    for i in range(300):
        try:
            expect = function({name: float(lane[i]) for name, lane in values.items()})
        except OutOfRange:
            expect = -1.0
        assert told[i] == expect


def test_samples_that_agree_run_in_few_groups() -> None:
    groups = for_each(branching, {"x": uniforms(3, "x", 0, 3000)}, 3000)
    assert len(groups) < 40


def test_an_error_that_is_not_of_this_package_gets_out() -> None:
    with pytest.raises(ZeroDivisionError):
        for_each(lambda values: 1.0 / values["x"], {"x": np.array([1.0, 0.0, 2.0])}, 3)
