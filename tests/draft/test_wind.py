"""Wind at a height and its pressure: hand calculations and what must hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft.wind import PROFILES, wind_cases, wind_pressure, wind_speed
from fluewright.errors import OutOfRange


def test_wind_at_a_cap_in_the_suburbs_by_hand() -> None:
    # 5 x (270/10)^0.14 x (6/370)^0.22 = 5 x 1.58633 x 0.40381
    assert wind_speed(5.0, 6.0, "suburban") == pytest.approx(3.20295, abs=1e-4)


def test_suction_of_that_wind_by_hand() -> None:
    # -0.4 x 1.2 x 3.20295^2 / 2
    assert wind_pressure(3.20295, -0.4, 1.2) == pytest.approx(-2.46213, abs=1e-4)


def test_the_station_reads_itself() -> None:
    assert wind_speed(7.0, 10.0, "open") == pytest.approx(7.0)


def test_a_structure_downwind_raises_what_holds_back_alone() -> None:
    assert wind_pressure(5.0, 0.4, 1.2, True) == pytest.approx(1.6 * 0.4 * 1.2 * 12.5)
    assert wind_pressure(5.0, -0.4, 1.2, True) == wind_pressure(5.0, -0.4, 1.2)


@given(st.floats(0.1, 30.0), st.floats(2.0, 100.0), st.sampled_from(sorted(PROFILES)))
def test_wind_grows_with_height_and_shelters_with_roughness(
    speed: float, height: float, terrain: str
) -> None:
    at = wind_speed(speed, height, terrain)  # type: ignore[arg-type]
    assert wind_speed(speed, height + 1.0, terrain) > at  # type: ignore[arg-type]
    assert wind_speed(speed, height, "urban") <= at * (1 + 1e-12)


def test_cases_hold_lull_mean_and_gust_with_the_worst_first() -> None:
    ends = [("suction", -0.5), ("adverse", 0.6)]
    cases = wind_cases(4.0, 1.5, ends, 1.2)
    assert [case.name for case in cases] == [
        "gust, adverse", "mean, adverse", "lull", "mean, suction", "gust, suction",
    ]  # fmt: skip
    # 0.6 x 1.2 x (1.5 x 4)^2 / 2 = 12.96 Pa, and -0.5 x 1.2 x 36 / 2 = -10.8 Pa
    assert cases[0].pressure_pa == pytest.approx(12.96)
    assert cases[-1].pressure_pa == pytest.approx(-10.8)


@pytest.mark.parametrize(
    ("speed", "height", "said"),
    [(-1.0, 5.0, "no wind"), (5.0, -1.0, "height -1"), (5.0, 500.0, "0 to 370 m")],
)
def test_no_such_wind(speed: float, height: float, said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        wind_speed(speed, height, "suburban")


def test_figures_that_no_wind_has() -> None:
    with pytest.raises(OutOfRange, match=r"coefficient 1\.2"):
        wind_pressure(5.0, 1.2, 1.2)
    with pytest.raises(OutOfRange, match="is no wind"):
        wind_pressure(5.0, 0.2, 12.0)
    with pytest.raises(OutOfRange, match=r"gust of 0\.5"):
        wind_cases(4.0, 0.5, [("a", 0.1)], 1.2)
    with pytest.raises(OutOfRange, match="at the ground"):
        wind_speed(5.0, 6.0, "open", 0.0)
