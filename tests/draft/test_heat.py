"""Cooling along a pipe: hand calculations, quadrature as oracle, relations."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from fluewright.draft import heat
from fluewright.errors import OutOfRange

KELVIN = st.floats(200.0, 1500.0)
DECAY = st.one_of(st.just(0.0), st.floats(1e-12, 800.0))

# 10 ft of 4 in pipe, gas 200 K over 60 F; the decay is worked out in the first test
RUN = {"inlet_k": 488.7, "ambient_k": 288.7, "decay": 0.185113}


def test_decay_number_by_hand() -> None:
    # U 3.4, pi x 0.1016 = 0.3191858 m, 3.048 m: 3.4 x 0.3191858 x 3.048 = 3.307786 W/K;
    # 0.0167 x 1070 = 17.869 W/K; 3.307786 / 17.869 = 0.185113
    found = heat.decay_number(3.4, math.pi * 0.1016, 3.048, 0.0167, 1070.0)
    assert found == pytest.approx(0.185113, rel=1e-5)
    assert heat.decay_number(3.4, math.pi * 0.1016, 3.048, -0.0167, 1070.0) == found


def test_temperatures_by_hand() -> None:
    # exp(-0.185113) = 0.831010; 288.7 + 200 x 0.831010 = 454.902
    assert heat.outlet_temperature(**RUN) == pytest.approx(454.902, abs=0.001)
    # 288.7 + 200 x 0.168990 / 0.185113 = 288.7 + 182.580 = 471.280
    assert heat.mean_temperature(**RUN) == pytest.approx(471.280, abs=0.001)


def test_mean_inverse_by_hand() -> None:
    # [ln(454.902/488.7) + 0.185113] / (0.185113 x 288.7) = (-0.0716660 + 0.185113) / 53.4421
    assert heat.mean_inverse_temperature(**RUN) == pytest.approx(0.00212279, rel=3e-6)
    # Ta 288.7, 250 K over it, K 2: 288.7 + 250 x 0.1353353 = 322.5338;
    # [ln(322.5338/538.7) + 2] / (2 x 288.7) = (2 - 0.5129466) / 577.4
    found = heat.mean_inverse_temperature(538.7, 288.7, 2.0)
    assert found == pytest.approx(0.00257542, rel=3e-6)
    # one over the mean temperature is 2.14156 % less: a draft that would be too strong
    bias = 1.0 / heat.mean_temperature(538.7, 288.7, 2.0) / found - 1.0
    assert 100 * bias == pytest.approx(-2.14156, abs=1e-4)


@given(KELVIN, KELVIN, st.floats(0.0, 30.0))
def test_means_against_quadrature(inlet: float, ambient: float, decay: float) -> None:
    def gas(x: float) -> float:
        return ambient + (inlet - ambient) * math.exp(-decay * x)

    exact, _ = quad(lambda x: 1.0 / gas(x), 0.0, 1.0, epsabs=0.0, epsrel=1e-12, limit=200)
    found = heat.mean_inverse_temperature(inlet, ambient, decay)
    assert found == pytest.approx(exact, rel=1e-11, abs=0.0)
    mean, _ = quad(gas, 0.0, 1.0, epsabs=0.0, epsrel=1e-12, limit=200)
    assert heat.mean_temperature(inlet, ambient, decay) == pytest.approx(mean, rel=1e-11)


@given(KELVIN, KELVIN, DECAY)
def test_means_lie_between_inlet_and_outlet(inlet: float, ambient: float, decay: float) -> None:
    out = heat.outlet_temperature(inlet, ambient, decay)
    low, high = sorted((inlet, out))
    inverse = heat.mean_inverse_temperature(inlet, ambient, decay)
    mean = heat.mean_temperature(inlet, ambient, decay)
    slack = 1e-12 * high
    assert low - slack <= mean <= high + slack
    assert low - slack <= 1.0 / inverse <= high + slack
    assert 1.0 / inverse <= mean + slack  # Jensen
    assert sorted((inlet, ambient))[0] - slack <= out <= sorted((inlet, ambient))[1] + slack


@given(KELVIN, KELVIN, st.floats(0.01, 30.0), st.floats(0.05, 0.95))
def test_a_segment_in_two_parts_is_the_same_segment(
    inlet: float, ambient: float, decay: float, share: float
) -> None:
    first, second = share * decay, decay - share * decay
    between = heat.outlet_temperature(inlet, ambient, first)
    whole = heat.outlet_temperature(inlet, ambient, decay)
    assert heat.outlet_temperature(between, ambient, second) == pytest.approx(whole, rel=1e-12)
    joined = share * heat.mean_inverse_temperature(inlet, ambient, first)
    joined += (1 - share) * heat.mean_inverse_temperature(between, ambient, second)
    exact = heat.mean_inverse_temperature(inlet, ambient, decay)
    assert joined == pytest.approx(exact, rel=1e-11, abs=0.0)


@pytest.mark.parametrize("inlet", [220.0, 288.7, 700.0])
def test_limits_of_decay(inlet: float) -> None:
    # none: the inlet; huge: the surroundings; no jump where the series takes over
    assert heat.mean_inverse_temperature(inlet, 288.7, 0.0) == 1.0 / inlet
    assert heat.mean_temperature(inlet, 288.7, 0.0) == inlet
    for decay in (1e6, 1e300):
        assert heat.mean_inverse_temperature(inlet, 288.7, decay) == pytest.approx(
            1.0 / 288.7, rel=2e-6
        )
        assert heat.mean_temperature(inlet, 288.7, decay) == pytest.approx(288.7, rel=2e-6)
    for mean in (heat.mean_inverse_temperature, heat.mean_temperature):
        below, above = (mean(inlet, 288.7, heat.FEW * by) for by in (0.999, 1.001))
        assert below == pytest.approx(above, rel=1e-11, abs=0.0)


@given(KELVIN, KELVIN, st.floats(0.0, 5.0), st.floats(1e-3, 0.1))
def test_heat_lost_by_the_gas_is_heat_through_the_wall(
    inlet: float, ambient: float, decay: float, flow: float
) -> None:
    cp = 1070.0
    out = heat.outlet_temperature(inlet, ambient, decay)
    lost = flow * cp * (inlet - out)
    through = decay * flow * cp * (heat.mean_temperature(inlet, ambient, decay) - ambient)
    assert lost == pytest.approx(through, rel=1e-9, abs=1e-9)


# ---------------------------------------------------------------- wall


def test_overall_u_by_hand() -> None:
    # 1/15 + 0.1 + (0.1/0.11)/8 = 0.0666667 + 0.1 + 0.1136364 = 0.2803030 -> 3.567568
    assert heat.overall_u(15.0, 0.1, 8.0, 0.1 / 0.11) == pytest.approx(3.567568, rel=1e-6)


def test_wall_temperature_by_hand() -> None:
    # gas 450 K, air 290 K, U 3.4 of a film of 10.2: one third of 160 K below the gas
    assert heat.wall_temperature(450.0, 290.0, 3.4, 10.2) == pytest.approx(450 - 160 / 3)


def test_wet_share_by_hand() -> None:
    # wall starts 2/3 of 150 K over 290 K: 390 K; dew point 316 K is 26 K over it.
    # ln(100/26) = 1.347074; with a decay of 2 that is at 0.673537 of the length
    given_ = {"inlet_k": 440.0, "ambient_k": 290.0, "u_to_film": 1 / 3}
    assert heat.wet_share(decay=2.0, dew_point_k=316.0, **given_) == pytest.approx(
        1 - 0.673537, rel=1e-5
    )
    assert heat.wet_share(decay=1.0, dew_point_k=316.0, **given_) == 0.0
    assert heat.wet_share(decay=1.0, dew_point_k=400.0, **given_) == 1.0
    assert heat.wet_share(decay=900.0, dew_point_k=290.0, **given_) == 0.0


@given(KELVIN, KELVIN, DECAY, st.floats(0.0, 1.0), st.floats(260.0, 340.0))
def test_wet_share_agrees_with_walking_along_the_wall(
    inlet: float, ambient: float, decay: float, ratio: float, dew: float
) -> None:
    share = heat.wet_share(
        inlet_k=inlet, ambient_k=ambient, decay=decay, u_to_film=ratio, dew_point_k=dew
    )
    assert 0.0 <= share <= 1.0
    for i in range(21):
        gas = heat.outlet_temperature(inlet, ambient, decay * i / 20)
        wall = heat.wall_temperature(gas, ambient, ratio * 10.0, 10.0)
        if abs(wall - dew) < 1e-6:
            continue
        falls = inlet > ambient
        wet = i / 20 > 1 - share if falls else i / 20 < share
        if share in (0.0, 1.0):
            wet = share == 1.0
        assert (wall < dew) == wet, (i, wall)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: heat.decay_number(3.0, 0.3, 1.0, 0.0, 1000.0), "carries no heat"),
        (lambda: heat.decay_number(-3.0, 0.3, 1.0, 0.1, 1000.0), "none may be below zero"),
        (lambda: heat.mean_temperature(0.0, 290.0, 1.0), "temperature is 0 K"),
        (lambda: heat.mean_inverse_temperature(400.0, -1.0, 1.0), "temperature is -1 K"),
        (lambda: heat.outlet_temperature(400.0, 290.0, -0.1), "decay is -0.1"),
        (lambda: heat.outlet_temperature(400.0, 290.0, math.nan), "decay is nan"),
        (lambda: heat.overall_u(0.0, 0.1, 8.0, 0.9), "films must be above zero"),
        (lambda: heat.overall_u(10.0, 0.1, 8.0, 1.1), "not 0 to 1"),
        (lambda: heat.wall_temperature(400.0, 290.0, 9.0, 8.0), "pass at least as much"),
        (
            lambda: heat.wet_share(
                inlet_k=400.0, ambient_k=290.0, decay=1.0, u_to_film=1.5, dew_point_k=320.0
            ),
            "not 0 to 1",
        ),
    ],
)
def test_what_is_refused_is_named(call: object, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()  # type: ignore[operator]
