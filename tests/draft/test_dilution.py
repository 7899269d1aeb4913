"""Room air that joins flue gas: balances, their inverse, heat that follows temperature."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft.combustion import flue, products
from fluewright.draft.dilution import diluted, dilution_from_co2
from fluewright.draft.gas import DRY_AIR, Gas, cp, enthalpy, moist_air
from fluewright.draft.system import AIR_KG_KMOL, Flue
from fluewright.errors import OutOfRange
from fluewright.files.physics import default_fuels

NG = default_fuels()["natural_gas"]
ROOM_K = 293.15


def burning(co2: float = 0.08, kelvin: float = 500.0) -> Flue:
    return flue(NG, input_w=12_000.0, temperature_k=kelvin, co2_dry=co2, room_k=ROOM_K)


def test_dilution_by_hand() -> None:
    # Hand calculation: c = 8 / (1 + 1.121 r), so that 5.3 % means r = 0.455.
    ratio = dilution_from_co2(burning(), 0.053)
    assert ratio == pytest.approx((8.0 / 5.3 - 1.0) / 1.121, rel=1e-3)
    assert ratio == pytest.approx(0.455, abs=1e-3)
    # The same gas as when all the air had passed the flame.
    mixed = diluted(burning(), ratio, room_k=ROOM_K)
    whole = products(NG, co2_dry=0.053).gas
    assert mixed.co2_dry == pytest.approx(0.053, rel=1e-12)
    assert mixed.water == pytest.approx(whole.water, rel=1e-12)
    assert mixed.molar_kg_kmol == pytest.approx(whole.molar_kg_kmol, rel=1e-12)


@given(
    st.floats(0.03, 0.118),
    st.floats(300.0, 900.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 0.04),
)
def test_dilution_conserves_mass_moles_water_carbon_and_heat(
    co2: float, kelvin: float, ratio: float, water: float
) -> None:
    gas = burning(co2, kelvin)
    out = diluted(gas, ratio, room_k=ROOM_K, room_water=water)
    air = moist_air(water)
    before, joined = gas.mass_kg_s / gas.molar_kg_kmol, gas.mass_kg_s * ratio / air.molar_kg_kmol
    after = out.mass_kg_s / out.molar_kg_kmol
    assert out.mass_kg_s == pytest.approx(gas.mass_kg_s * (1.0 + ratio), rel=1e-12)
    assert after == pytest.approx(before + joined, rel=1e-12)
    assert after * out.water == pytest.approx(before * gas.water + joined * water, rel=1e-12)
    carbon = before * (1.0 - gas.water) * gas.co2_dry
    assert after * (1.0 - out.water) * out.co2_dry == pytest.approx(carbon, rel=1e-12)
    heat = gas.mass_kg_s * gas.cp_j_kgk * (gas.temperature_k - ROOM_K)
    carried = out.mass_kg_s * out.cp_j_kgk * (out.temperature_k - ROOM_K)
    assert carried == pytest.approx(heat, rel=1e-9)  # temperatures near the room's subtract
    air_heat = cp(air, ROOM_K)
    held = (gas.cp_j_kgk + ratio * air_heat) / (1.0 + ratio)
    assert out.cp_j_kgk == pytest.approx(held, rel=1e-12)


@given(st.floats(0.03, 0.118), st.floats(0.0, 20.0), st.floats(0.0, 0.04))
def test_dilution_and_its_reading_invert_each_other(co2: float, ratio: float, water: float) -> None:
    gas = burning(co2)
    out = diluted(gas, ratio, room_k=ROOM_K, room_water=water)
    back = dilution_from_co2(gas, min(out.co2_dry, gas.co2_dry), room_water=water)
    assert back == pytest.approx(ratio, rel=1e-11, abs=1e-12)


def exact_mixture(gas: Gas, kelvin: float, ratio: float) -> float:
    """Temperature of a mixture with dry air whose heat capacities follow temperature [K]."""

    def warmth(of: Gas, at: float) -> float:
        return (enthalpy(of, at) - enthalpy(of, ROOM_K)) / of.molar_kg_kmol

    low, high = ROOM_K, kelvin
    for _ in range(80):
        middle = 0.5 * (low + high)
        short = warmth(gas, middle) + ratio * warmth(DRY_AIR, middle) < warmth(gas, kelvin)
        low, high = (middle, high) if short else (low, middle)
    return low


@pytest.mark.parametrize("co2", [0.06, 0.08])
@pytest.mark.parametrize("kelvin", [420.0, 500.0, 600.0])
@pytest.mark.parametrize("ratio", [0.2, 0.5, 1.0, 2.0])
def test_constant_heat_capacity_cools_the_mixture_by_little(
    co2: float, kelvin: float, ratio: float
) -> None:
    exact = exact_mixture(products(NG, co2_dry=co2).gas, kelvin, ratio)
    ours = diluted(burning(co2, kelvin), ratio, room_k=ROOM_K).temperature_k
    assert exact - 0.7 < ours < exact  # what the docstring states


def test_endless_air_is_the_room() -> None:
    out = diluted(burning(), 1e9, room_k=ROOM_K)
    assert out.temperature_k == pytest.approx(ROOM_K, abs=1e-6)
    assert out.molar_kg_kmol == pytest.approx(AIR_KG_KMOL, rel=1e-8)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: diluted(burning(), -0.1, room_k=ROOM_K), "dilution: -0.1"),
        (lambda: diluted(burning(), math.nan, room_k=ROOM_K), "dilution: nan"),
        (lambda: dilution_from_co2(burning(), 0.09), "up to the 0.08 before the hood"),
        (lambda: dilution_from_co2(burning(), 0.0), "CO2 after the hood: 0 mol/mol"),
    ],
)
def test_what_no_hood_gives_is_refused(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
