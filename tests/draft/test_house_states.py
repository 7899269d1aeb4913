"""States of a house and the table behind them."""

from __future__ import annotations

import pytest

from fluewright.draft.coefficients import Coefficients
from fluewright.draft.house import Fan
from fluewright.draft.house_states import ends, house_states, installed, running_together
from fluewright.draft.leakage import CFM_M3_S
from fluewright.draft.wind import wind_cases
from fluewright.errors import BadEdition, OutOfRange
from fluewright.files.physics import coefficients, house_coefficients


def test_no_name_stands_in_both_tables() -> None:
    assert not coefficients().numbers.keys() & house_coefficients().numbers.keys()


def test_states_add_up() -> None:
    states = house_states(house_coefficients())
    assert list(states) == ["idle", "bath", "kitchen", "dryer", "all"]
    assert (states["idle"].exhaust_m3_s, states["idle"].high_m3_s) == (0.0, 0.0)
    # 50 + 200 + 150 cfm, from 25 + 100 + 100 to 100 + 400 + 200; five digits in the table
    everything = states["all"]
    assert everything.exhaust_m3_s == pytest.approx(400 * CFM_M3_S, abs=2e-5)
    assert everything.low_m3_s == pytest.approx(225 * CFM_M3_S, abs=2e-5)
    assert everything.high_m3_s == pytest.approx(700 * CFM_M3_S, abs=2e-5)
    assert len(everything.basis) == 3
    assert all("no source" in basis or "page" in basis for basis in everything.basis)


def test_a_table_without_a_fan_is_told() -> None:
    with pytest.raises(BadEdition, match=r"fan\.bath"):
        house_states(Coefficients({}, {}))


def test_fans_as_installed_and_together() -> None:
    rated = [Fan(name="a", flow_m3_s=0.1), Fan(name="b", flow_m3_s=0.2)]
    assert [fan.flow_m3_s for fan in installed(rated, 0.7)] == pytest.approx([0.07, 0.14])
    assert running_together(rated, 0.6) == pytest.approx(0.18)
    for wrong in (0.0, 1.2):
        with pytest.raises(OutOfRange, match="at most 1"):
            installed(rated, wrong)
        with pytest.raises(OutOfRange, match="at most 1"):
            running_together(rated, wrong)


def test_every_place_of_a_cap_has_ends_and_an_open_pipe_has_both_signs() -> None:
    numbers = house_coefficients().numbers
    places = [name for name in numbers if name.startswith("wind.cap_")]
    assert len(places) == 3
    pipe = numbers["wind.open_pipe"]
    assert pipe.low < 0.0 < pipe.high
    cases = wind_cases(4.0, numbers["wind.gust_factor"].value, ends(pipe), 1.2)
    # stagnation of a gust of 6 m/s: 1.2 x 36 / 2
    assert cases[0].pressure_pa == pytest.approx(21.6)
    assert len(cases) == 7
