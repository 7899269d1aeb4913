"""Properties of air and vent gas, against Cantera, CoolProp, PsychroLib and fluids."""

from __future__ import annotations

import functools
import importlib
import math
import sys
from types import ModuleType
from unittest import mock

import cantera
import pytest
from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft.gas import (
    AIR_O2,
    CELSIUS_K,
    DRY_AIR,
    Gas,
    condensed,
    conductivity,
    cp,
    density,
    dew_point,
    enthalpy,
    humidity,
    isa_pressure,
    latent_heat,
    mean_cp,
    mixed_cp,
    mixed_molar,
    moist_air,
    saturation_pressure,
    viscosity,
)
from fluewright.draft.system import AIR_KG_KMOL
from fluewright.errors import OutOfRange

VENT_GAS = {
    "air": DRY_AIR,
    "moist air": moist_air(0.02),
    "8 % CO2": Gas(co2=0.0692, water=0.1345, o2=0.0592, n2=0.7371),
    "5.3 % CO2": Gas(co2=0.0480, water=0.0934, o2=0.1052, n2=0.7534),
    "no excess air": Gas(co2=0.0963, water=0.1890, o2=0.0, n2=0.7147),
}
ANY_GAS = pytest.mark.parametrize("gas", VENT_GAS.values(), ids=list(VENT_GAS))
ANY_K = pytest.mark.parametrize("kelvin", [300.0, 400.0, 480.0, 600.0, 900.0, 1400.0])


@functools.cache
def mechanism() -> cantera.Solution:
    """GRI-Mech 3.0, read once."""
    return cantera.Solution("gri30.yaml")


@pytest.fixture(scope="module")
def psychrolib() -> ModuleType:
    """PsychroLib in SI, without Numba: compiling takes it most of a minute."""
    with mock.patch.dict(sys.modules, {"numba": None}):
        sys.modules.pop("psychrolib", None)
        found = importlib.import_module("psychrolib")
    found.SetUnitSystem(found.SI)
    return found


def in_cantera(gas: Gas, kelvin: float) -> cantera.Solution:
    """The same gas in Cantera, our nitrogen parted into nitrogen and argon."""
    found = mechanism()
    argon = gas.n2 * 0.0093 / (1.0 - AIR_O2)
    parts = {"CO2": gas.co2, "H2O": gas.water, "O2": gas.o2, "N2": gas.n2 - argon, "AR": argon}
    found.TPX = kelvin, 101_325.0, parts
    return found


@ANY_GAS
@ANY_K
def test_heat_capacity_is_that_of_cantera(gas: Gas, kelvin: float) -> None:
    # 0.03 %: Cantera's argon and nitrogen weigh 0.02 % less than what remains of air.
    assert cp(gas, kelvin) == pytest.approx(in_cantera(gas, kelvin).cp_mass, rel=3e-4)


@ANY_GAS
def test_enthalpy_rise_is_that_of_cantera(gas: Gas) -> None:
    hot, cold = (in_cantera(gas, kelvin).enthalpy_mole for kelvin in (900.0, 300.0))
    theirs = hot - cold
    # 1e-6: the same fits; gas constants differ in the tenth digit.
    assert enthalpy(gas, 900.0) - enthalpy(gas, 300.0) == pytest.approx(theirs, rel=1e-6)
    per_kg = theirs / in_cantera(gas, 300.0).mean_molecular_weight / 600.0
    assert mean_cp(gas, 300.0, 900.0) == pytest.approx(per_kg, rel=3e-4)


@ANY_GAS
@ANY_K
def test_molar_mass_and_density_are_those_of_cantera(gas: Gas, kelvin: float) -> None:
    theirs = in_cantera(gas, kelvin)
    # 0.03 %: the trace of carbon dioxide in air is in our nitrogen and not in Cantera's.
    assert gas.molar_kg_kmol == pytest.approx(theirs.mean_molecular_weight, rel=3e-4)
    assert density(101_325.0, gas.molar_kg_kmol, kelvin) == pytest.approx(theirs.density, rel=3e-4)


@pytest.mark.parametrize(
    ("name", "kelvin", "low", "high"),
    [
        # Ours less Cantera's, over Cantera's: the bias that the docstring states.
        ("air", 300.0, -0.015, 0.0),
        ("air", 600.0, -0.02, 0.0),
        ("5.3 % CO2", 300.0, 0.05, 0.06),
        ("5.3 % CO2", 480.0, 0.03, 0.05),
        ("5.3 % CO2", 600.0, 0.02, 0.035),
        ("8 % CO2", 300.0, 0.08, 0.09),
        ("8 % CO2", 480.0, 0.05, 0.065),
        ("8 % CO2", 600.0, 0.04, 0.05),
    ],
)
def test_viscosity_of_air_stands_for_vent_gas_within_its_stated_bias(
    name: str, kelvin: float, low: float, high: float
) -> None:
    assert low < viscosity(kelvin) / in_cantera(VENT_GAS[name], kelvin).viscosity - 1.0 < high


@pytest.mark.parametrize("name", ["air", "5.3 % CO2", "8 % CO2"])
@pytest.mark.parametrize("kelvin", [300.0, 400.0, 480.0, 600.0])
def test_conductivity_of_air_stands_for_vent_gas(name: str, kelvin: float) -> None:
    theirs = in_cantera(VENT_GAS[name], kelvin).thermal_conductivity
    assert conductivity(kelvin) == pytest.approx(theirs, rel=0.02)  # what the docstring states


@pytest.mark.parametrize("kelvin", [275.0, 300.0, 400.0, 600.0, 900.0])
@pytest.mark.parametrize(
    ("gas", "fluid"),
    [
        (Gas(co2=1.0, water=0.0, o2=0.0, n2=0.0), "CarbonDioxide"),
        (Gas(co2=0.0, water=1.0, o2=0.0, n2=0.0), "Water"),
        (Gas(co2=0.0, water=0.0, o2=1.0, n2=0.0), "Oxygen"),
        (DRY_AIR, "Air"),
    ],
)
def test_heat_capacity_is_that_of_the_reference_equations(
    gas: Gas, fluid: str, kelvin: float
) -> None:
    theirs = PropsSI("CP0MASS", "T", kelvin, "P", 1000.0, fluid)
    # 0.6 %: NASA fits; that of nitrogen falls off below its 300 K.
    assert cp(gas, kelvin) == pytest.approx(theirs, rel=6e-3)


def test_mean_heat_capacity_has_no_step_where_it_changes_its_way() -> None:
    gas = VENT_GAS["8 % CO2"]
    near, far = mean_cp(gas, 400.0, 400.999_999), mean_cp(gas, 400.0, 401.000_001)
    assert near == pytest.approx(far, rel=1e-6)
    assert mean_cp(gas, 400.0, 400.0) == cp(gas, 400.0)


@pytest.mark.parametrize("kelvin", [float(value) for value in range(275, 401, 5)])
def test_dew_point_is_that_of_coolprop(kelvin: float) -> None:
    vapor = PropsSI("P", "T", kelvin, "Q", 0, "Water")
    # 0.003 K: the short saturation equation differs from the full one by 0.006 %.
    assert dew_point(vapor) == pytest.approx(kelvin, abs=3e-3)


@pytest.mark.parametrize("kelvin", [230.0, 250.0, 265.0, 273.0, 285.0, 300.0, 330.0, 400.0])
def test_saturation_is_that_of_psychrolib(psychrolib: ModuleType, kelvin: float) -> None:
    theirs = psychrolib.GetSatVapPres(kelvin - CELSIUS_K)
    # 0.1 %: PsychroLib has the older Hyland and Wexler equations.
    assert saturation_pressure(kelvin) == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 10.0, 21.1, 35.0])
@pytest.mark.parametrize("relative", [0.2, 0.5, 1.0])
def test_humid_air_is_that_of_psychrolib(
    psychrolib: ModuleType, celsius: float, relative: float
) -> None:
    pressure = 90_000.0
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, relative, pressure)
    water = humidity(celsius + CELSIUS_K, relative, pressure)
    # 0.1 %: saturation as above.
    assert water == pytest.approx(ratio / (0.621945 + ratio), rel=1e-3)
    theirs = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
    ours = density(pressure, moist_air(water).molar_kg_kmol, celsius + CELSIUS_K)
    assert ours == pytest.approx(theirs, rel=2e-4)  # gas constant of air, to four digits there
    theirs_k = psychrolib.GetTDewPointFromHumRatio(celsius, ratio, pressure) + CELSIUS_K
    assert dew_point(water * pressure) == pytest.approx(theirs_k, abs=0.02)  # its own solver


@pytest.mark.parametrize("altitude_m", [-300.0, 0.0, 500.0, 1524.0, 3000.0, 5000.0])
def test_pressure_of_altitude_is_that_of_fluids(altitude_m: float) -> None:
    theirs = ATMOSPHERE_1976(altitude_m).P
    # 0.06 %: fluids takes geometric altitude, 4 m above ours at 5000 m.
    assert isa_pressure(altitude_m) == pytest.approx(theirs, rel=6e-4)


def test_pressure_of_5000_ft_by_hand() -> None:
    # Hand calculation: 101325 (1 - 2.25577e-5 x 1524)^5.2559.
    assert isa_pressure(1524.0) == pytest.approx(84_307.2, abs=5.0)


@pytest.mark.parametrize("celsius", range(0, 91, 10))
def test_latent_heat_is_that_of_coolprop(celsius: int) -> None:
    kelvin = max(celsius + CELSIUS_K, 273.16)
    theirs = PropsSI("H", "T", kelvin, "Q", 1, "Water") - PropsSI("H", "T", kelvin, "Q", 0, "Water")
    assert latent_heat(kelvin) == pytest.approx(theirs, rel=1.4e-3)  # a straight line


@given(st.floats(180.0, 600.0))
def test_dew_point_inverts_saturation(kelvin: float) -> None:
    # 1e-5 K where the equations over ice and over water meet with a gap of 1e-7; else exact.
    near = 1e-5 if abs(kelvin - 273.16) < 1e-3 else 1e-9
    assert dew_point(saturation_pressure(kelvin)) == pytest.approx(kelvin, abs=near)


@given(st.floats(1e-3, 1.9e7), st.floats(1.001, 2.0))
def test_more_vapor_never_lowers_the_dew_point(vapor: float, more: float) -> None:
    assert dew_point(vapor) < dew_point(min(vapor * more, 2e7))


def test_without_vapor_nothing_condenses() -> None:
    assert dew_point(0.0) == 0.0
    assert condensed(DRY_AIR, 250.0) == 0.0


@given(st.floats(0.01, 0.25), st.floats(275.0, 370.0), st.floats(60_000.0, 105_000.0))
def test_what_stays_after_condensing_is_saturated(water: float, kelvin: float, pa: float) -> None:
    gas = moist_air(water)
    out = condensed(gas, kelvin, pa)
    assert 0.0 <= out <= water
    stays = (water - out) / (1.0 - out)
    wanted = min(water, saturation_pressure(kelvin) / pa)
    assert stays == pytest.approx(wanted, rel=1e-9)
    assert (out > 0.0) == (dew_point(water * pa) > kelvin)


@given(st.lists(st.tuples(st.floats(1e-4, 1.0), st.floats(20.0, 40.0)), min_size=1, max_size=5))
def test_mixing_conserves_moles_and_heat(streams: list[tuple[float, float]]) -> None:
    mass = math.fsum(one for one, _ in streams)
    moles = math.fsum(one / molar for one, molar in streams)
    assert mass / mixed_molar(streams) == pytest.approx(moles, rel=1e-12)
    heat = math.fsum(one * value for one, value in streams)
    assert mass * mixed_cp(streams) == pytest.approx(heat, rel=1e-12)


def test_air_weighs_what_the_rest_of_the_engine_takes_it_for() -> None:
    assert DRY_AIR.molar_kg_kmol == pytest.approx(AIR_KG_KMOL, rel=1e-15)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: isa_pressure(12_000.0), "altitude: 12000 m"),
        (lambda: isa_pressure(math.nan), "altitude: nan m"),
        (lambda: moist_air(1.0), "water vapor in air: 1 mol/mol"),
        (lambda: moist_air(-0.01), "from 0 to below 1"),
        (lambda: cp(DRY_AIR, 150.0), "gas at 150 K"),
        (lambda: enthalpy(DRY_AIR, math.nan), "gas at nan K"),
        (lambda: saturation_pressure(650.0), "saturation: 650 K"),
        (lambda: dew_point(-1.0), "vapor pressure: -1 Pa"),
        (lambda: dew_point(3e7), "from 0 to 20 MPa"),
        (lambda: humidity(300.0, 1.1), "relative humidity: 1.1"),
        (lambda: humidity(380.0, 1.0), "vapor alone exceeds 101325 Pa"),
        (lambda: latent_heat(400.0), "condensing: 400 K"),
        (lambda: mixed_molar(()), "no stream flows"),
        (lambda: mixed_cp([(0.0, 1000.0)]), "no stream flows"),
    ],
)
def test_what_no_formula_covers_is_refused(call, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
