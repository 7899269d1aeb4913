"""Summaries of hours: hand cases, NumPy as oracle, and what is missing stays missing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft.weather import (
    NOT_PUBLISHED,
    Hour,
    answered,
    bins,
    hours_per_year,
    percentile,
)
from fluewright.errors import OutOfRange


def hour(outdoor_k: float | None = 280.0, wind_m_s: float | None = 3.0) -> Hour:
    return Hour(
        month=1, day=1, hour=1, outdoor_k=outdoor_k, air_pa=101_325.0, humidity=0.5,
        wind_m_s=wind_m_s, wind_deg=180.0,
    )  # fmt: skip


def test_hours_that_cannot_be_told_widen_the_answer() -> None:
    found = hours_per_year([True] * 100 + [None] * 60 + [False] * 8600)
    assert (found.low, found.high) == (pytest.approx(100.0), pytest.approx(160.0))
    assert (found.told, found.untold) == (8700, 60)


def test_a_leap_year_is_brought_to_a_common_year() -> None:
    found = hours_per_year([True] * 4392 + [False] * 4392)
    assert found.low == found.high == pytest.approx(4380.0)


def test_nothing_told_is_no_zero() -> None:
    for answers in ([], [None, None]):
        with pytest.raises(OutOfRange, match="no hour could be told"):
            hours_per_year(answers)


def test_a_question_goes_only_to_hours_that_can_answer() -> None:
    hours = [hour(260.0), hour(None), hour(290.0)]
    found = answered(hours, lambda one: one.outdoor_k < 273.15, ["outdoor_k"])  # type: ignore[operator]
    assert found == (True, None, False)


@given(st.lists(st.floats(220.0, 320.0), min_size=1, max_size=200), st.floats(0.0, 1.0))
def test_percentile_is_that_of_numpy(values: list[float], share: float) -> None:
    # both interpolate between the same order statistics: only rounding differs
    assert percentile(values, share).value == pytest.approx(
        float(np.quantile(values, share)), rel=1e-12
    )


def test_percentile_says_what_it_is_and_what_it_left_out() -> None:
    found = percentile([270.0, None, 280.0], 0.0)
    assert (found.value, found.told, found.untold) == (270.0, 2, 1)
    assert found.label == NOT_PUBLISHED == "from typical year, not a published design value"


def test_no_percentile_of_nothing() -> None:
    with pytest.raises(OutOfRange, match="no values"):
        percentile([None], 0.5)
    with pytest.raises(OutOfRange, match="share 2"):
        percentile([1.0], 2.0)


def test_bins_hold_every_hour_once() -> None:
    hours = [hour(260.0, 1.0), hour(273.15, 5.0), hour(300.0, 4.9), hour(None), hour(280.0, None)]
    found = bins(hours, [273.15, 290.0], [5.0])
    assert found.counts == ((1, 0), (0, 1), (1, 0))
    assert found.untold == 2
    assert sum(map(sum, found.counts)) + found.untold == len(hours)


def test_edges_that_do_not_rise() -> None:
    with pytest.raises(OutOfRange, match="do not rise"):
        bins([], [280.0, 270.0], [1.0])
