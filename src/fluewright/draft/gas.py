"""Properties of air and vent gas: pressure of the site, density, heat capacity, vapor.

A gas here is carbon dioxide, water vapor, oxygen and nitrogen. "Nitrogen" is what remains of dry
air beside its oxygen: nitrogen with the argon and the trace of carbon dioxide that belong to it.
So air weighs exactly ``AIR_KG_KMOL``, and nitrogen of the fuel is taken 0.5 % too heavy. Gases
are perfect: below 0.1 % in density, 0.4 % in the vapor that air holds at saturation.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from fluewright.draft.system import AIR_KG_KMOL, GAS_CONSTANT_J_KMOL_K, STANDARD_AIR_PA
from fluewright.errors import OutOfRange

CELSIUS_K = 273.15
AIR_O2 = 0.2095  # mole fraction of oxygen in dry air; handbook value, from memory

# kg/kmol, from the abridged atomic weights of IUPAC 2021: C 12.011, H 1.008, O 15.999.
CO2_KG_KMOL, WATER_KG_KMOL, O2_KG_KMOL = 44.009, 18.015, 31.998
N2_KG_KMOL = (AIR_KG_KMOL - AIR_O2 * O2_KG_KMOL) / (1.0 - AIR_O2)

# Heat capacity and enthalpy: cp/R = a1 + a2 T + a3 T^2 + a4 T^3 + a5 T^4 and
# h/(R T) = a1 + a2 T/2 + a3 T^2/3 + a4 T^3/4 + a5 T^4/5 + a6/T, T in kelvin, below and above
# 1000 K. Source: NASA seven-coefficient fits as printed in the thermodynamic file of GRI-Mech 3.0
# (1999), valid from 200 K (nitrogen from 300 K: 0.6 % low at 250 K) to 3500 K.
_Fit = tuple[float, float, float, float, float, float]
_LOW: dict[str, _Fit] = {
    "co2": (2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13,
            -48371.9697),
    "water": (4.19864056, -2.0364341e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12,
              -30293.7267),
    "o2": (3.78245636, -2.99673416e-3, 9.84730201e-6, -9.68129509e-9, 3.24372837e-12,
           -1063.94356),
    "n2": (3.298677, 1.4082404e-3, -3.963222e-6, 5.641515e-9, -2.444854e-12, -1020.8999),
}  # fmt: skip
_HIGH: dict[str, _Fit] = {
    "co2": (3.85746029, 4.41437026e-3, -2.21481404e-6, 5.23490188e-10, -4.72084164e-14,
            -48759.166),
    "water": (3.03399249, 2.17691804e-3, -1.64072518e-7, -9.7041987e-11, 1.68200992e-14,
              -30004.2971),
    "o2": (3.28253784, 1.48308754e-3, -7.57966669e-7, 2.09470555e-10, -2.16717794e-14,
           -1088.45772),
    "n2": (2.92664, 1.4879768e-3, -5.68476e-7, 1.0097038e-10, -6.753351e-15, -922.7977),
}  # fmt: skip
_BREAK_K, _FIT_K = 1000.0, (200.0, 3500.0)
# Argon, 0.93 % of dry air, is in our nitrogen: its cp is 2.5 R at every temperature.
_ARGON = 0.0093 / (1.0 - AIR_O2)
_ARGON_FIT: _Fit = (2.5, 0.0, 0.0, 0.0, 0.0, -745.375)

# Saturation over water: IAPWS SR1-86(1992), equation 1. Over ice: IAPWS R14-08(2011), equation 6.
_CRITICAL_K, _CRITICAL_PA = 647.096, 22.064e6
_TRIPLE_K, _TRIPLE_PA = 273.16, 611.657
_LIQUID = (
    (-7.85951783, 1.0), (1.84408259, 1.5), (-11.7866497, 3.0),
    (22.6807411, 3.5), (-15.9618719, 4.0), (1.80122502, 7.5),
)  # fmt: skip
_ICE = (
    (-21.2144006, 0.00333333333),
    (27.3203819, 1.20666667),
    (-6.10598130, 1.70333333),
)
_VAPOR_K = (50.0, 640.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gas:
    """Mole fractions of a gas; they add up to 1. [-]"""

    co2: float
    water: float
    o2: float
    n2: float

    @property
    def molar_kg_kmol(self) -> float:
        """Molar mass. [kg/kmol]"""
        return (
            self.co2 * CO2_KG_KMOL
            + self.water * WATER_KG_KMOL
            + self.o2 * O2_KG_KMOL
            + self.n2 * N2_KG_KMOL
        )

    @property
    def co2_dry(self) -> float:
        """Carbon dioxide as an instrument reads it, after the water is gone. [mol/mol]"""
        return self.co2 / (1.0 - self.water)

    @property
    def o2_dry(self) -> float:
        """Oxygen as an instrument reads it, after the water is gone. [mol/mol]"""
        return self.o2 / (1.0 - self.water)


DRY_AIR = Gas(co2=0.0, water=0.0, o2=AIR_O2, n2=1.0 - AIR_O2)


def moist_air(water: float) -> Gas:
    """Air with this mole fraction of water vapor.

    Raises:
        OutOfRange: not between 0 and 1.
    """
    if not 0.0 <= water < 1.0:
        raise OutOfRange(f"water vapor in air: {water:g} mol/mol; it lies from 0 to below 1.")
    dry = 1.0 - water
    return Gas(co2=0.0, water=water, o2=AIR_O2 * dry, n2=(1.0 - AIR_O2) * dry)


def isa_pressure(altitude_m: float) -> float:
    """Air pressure of the standard atmosphere at an altitude [Pa].

    Source: ICAO standard atmosphere, troposphere: 101325 (1 - 0.0065 z / 288.15)^5.25588.

    Args:
        altitude_m: above sea level. [m]

    Raises:
        OutOfRange: below -1000 m or above 11 000 m.
    """
    if not -1000.0 <= altitude_m <= 11_000.0:
        raise OutOfRange(f"altitude: {altitude_m:g} m; the formula serves -1000 to 11 000 m.")
    pressure: float = STANDARD_AIR_PA * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588
    return pressure


def density(pressure_pa: float, molar_kg_kmol: float, temperature_k: float) -> float:
    """Density of a perfect gas [kg/m3].

    Args:
        pressure_pa: absolute. [Pa]
        molar_kg_kmol: molar mass. [kg/kmol]
        temperature_k: of the gas. [K]
    """
    return pressure_pa * molar_kg_kmol / (GAS_CONSTANT_J_KMOL_K * temperature_k)


def mixed_molar(streams: Iterable[tuple[float, float]]) -> float:
    """Molar mass of streams that mix [kg/kmol]: their mass over their moles.

    Args:
        streams: mass flow and molar mass of each. [kg/s, kg/kmol]

    Raises:
        OutOfRange: no stream flows.
    """
    listed = tuple(streams)
    moles = math.fsum(mass / molar for mass, molar in listed)
    if moles <= 0.0:
        raise OutOfRange("mixing: no stream flows; give at least one a flow above zero.")
    return math.fsum(mass for mass, _ in listed) / moles


def mixed_cp(streams: Iterable[tuple[float, float]]) -> float:
    """Heat capacity of streams that mix [J/(kg K)], weighted by mass.

    Args:
        streams: mass flow and heat capacity of each. [kg/s, J/(kg K)]

    Raises:
        OutOfRange: no stream flows.
    """
    listed = tuple(streams)
    mass = math.fsum(mass for mass, _ in listed)
    if mass <= 0.0:
        raise OutOfRange("mixing: no stream flows; give at least one a flow above zero.")
    return math.fsum(mass * cp for mass, cp in listed) / mass


def cp(gas: Gas, temperature_k: float) -> float:
    """Heat capacity of a gas at a temperature [J/(kg K)].

    Source: NASA fits of GRI-Mech 3.0, weighted by moles.

    Raises:
        OutOfRange: outside 200 to 3500 K.
    """
    _in_fit(temperature_k)
    return GAS_CONSTANT_J_KMOL_K * _mole_sum(gas, temperature_k, _cp_r) / gas.molar_kg_kmol


def enthalpy(gas: Gas, temperature_k: float) -> float:
    """Enthalpy of a gas with that of formation in it [J/kmol].

    Elements at 298.15 K count as zero, so that flames can be balanced too.
    Source: NASA fits of GRI-Mech 3.0.

    Raises:
        OutOfRange: outside 200 to 3500 K.
    """
    _in_fit(temperature_k)
    return GAS_CONSTANT_J_KMOL_K * _mole_sum(gas, temperature_k, _h_r)


def mean_cp(gas: Gas, first_k: float, second_k: float) -> float:
    """Heat capacity of a gas that takes it from one temperature to another [J/(kg K)].

    Source: difference of enthalpies; within 1 K of each other the value midway.

    Raises:
        OutOfRange: outside 200 to 3500 K.
    """
    if abs(second_k - first_k) < 1.0:
        return cp(gas, 0.5 * (first_k + second_k))
    rise = enthalpy(gas, second_k) - enthalpy(gas, first_k)
    return rise / (gas.molar_kg_kmol * (second_k - first_k))


def viscosity(temperature_k: float) -> float:
    """Dynamic viscosity of air [Pa s], used for vent gas as well.

    Source: Sutherland's law with the constants of the US Standard Atmosphere 1976,
    1.458e-6 T^1.5 / (T + 110.4). Between 300 and 600 K vent gas of 5.3 % carbon dioxide is 3 to 6 %
    less viscous, of 8 % 4 to 9 %: at most 2 % in a friction factor.
    """
    return 1.458e-6 * math.pow(temperature_k, 1.5) / (temperature_k + 110.4)


def conductivity(temperature_k: float) -> float:
    """Thermal conductivity of air [W/(m K)], used for vent gas as well.

    Source: 0.0241 (T / 273.15)^0.82, a textbook power law, from memory. Vent gas of 5 to 8 %
    carbon dioxide is within 2 % of it from 300 to 600 K.
    """
    return 0.0241 * math.pow(temperature_k / CELSIUS_K, 0.82)


def saturation_pressure(temperature_k: float) -> float:
    """Pressure of water vapor over water, below freezing over ice [Pa].

    Source: IAPWS SR1-86(1992) from 273.16 K up, IAPWS R14-08(2011) below.

    Raises:
        OutOfRange: outside 50 to 640 K.
    """
    low, high = _VAPOR_K
    if not low <= temperature_k <= high:
        raise OutOfRange(
            f"saturation: {temperature_k:g} K; the formula serves {low:g} to {high:g}."
        )
    pressure: float = math.e ** _log_vapor(temperature_k)  # a power lets arrays through
    return pressure


def dew_point(vapor_pa: float) -> float:
    """Temperature at which vapor of this pressure starts to condense [K]; 0 without vapor.

    Below 273.16 K it is the frost point. Source: inverse of ``saturation_pressure``.

    Args:
        vapor_pa: partial pressure, mole fraction of water times absolute pressure. [Pa]

    Raises:
        OutOfRange: negative, or above saturation at 640 K.
    """
    low, high = _VAPOR_K
    if not 0.0 <= vapor_pa <= math.exp(_log_vapor(high)):
        raise OutOfRange(f"vapor pressure: {vapor_pa:g} Pa; it lies from 0 to 20 MPa.")
    if vapor_pa <= math.exp(_log_vapor(low)):
        return 0.0
    wanted = math.log(vapor_pa)
    inverse = 1.0 / CELSIUS_K
    # The logarithm is nearly straight over 1/T, so that the secant through two points a
    # fraction apart gains several digits a step.
    for _ in range(60):
        here = _log_vapor(1.0 / inverse)
        step = 1e-5 * inverse
        slope = (_log_vapor(1.0 / (inverse + step)) - here) / step
        change = (wanted - here) / slope
        inverse = min(max(inverse + change, 1.0 / high), 1.0 / low)
        if abs(change) < 1e-14 * inverse:
            break
    return 1.0 / inverse


def humidity(temperature_k: float, relative: float, pressure_pa: float = STANDARD_AIR_PA) -> float:
    """Mole fraction of water vapor in air of a relative humidity [mol/mol].

    Below freezing the relative humidity is taken over ice. Source: its definition; the 0.4 %
    by which air under pressure holds more vapor than an empty space is left out.

    Args:
        temperature_k: of the air. [K]
        relative: relative humidity, 1 at saturation. [-]
        pressure_pa: absolute. [Pa]

    Raises:
        OutOfRange: relative humidity outside 0 to 1, or vapor that would fill the whole gas.
    """
    if not 0.0 <= relative <= 1.0:
        raise OutOfRange(f"relative humidity: {relative:g}; it lies from 0 to 1.")
    water = relative * saturation_pressure(temperature_k) / pressure_pa
    if water >= 1.0:
        raise OutOfRange(
            f"humidity: at {temperature_k:g} K vapor alone exceeds {pressure_pa:g} Pa; "
            "check temperature and pressure."
        )
    return water


def latent_heat(temperature_k: float) -> float:
    """Heat that a kilogram of vapor gives off as it condenses to water [J/kg].

    Source: straight line through the IAPWS-95 values at 25 and 60 degrees C, within 0.1 % of
    them from 0 to 90.

    Raises:
        OutOfRange: outside 270 to 373.15 K.
    """
    if not 270.0 <= temperature_k <= 373.15:
        raise OutOfRange(f"condensing: {temperature_k:g} K; the formula serves 270 to 373 K.")
    return 2.5017e6 - 2402.0 * (temperature_k - CELSIUS_K)


def condensed(gas: Gas, temperature_k: float, pressure_pa: float = STANDARD_AIR_PA) -> float:
    """Water that drops out of a gas cooled to a temperature [kmol of water per kmol of gas].

    Source: what stays is saturated. 0 above the dew point.

    Args:
        gas: before any of it condensed.
        temperature_k: to which all of it is cooled. [K]
        pressure_pa: absolute. [Pa]
    """
    held = saturation_pressure(temperature_k) / pressure_pa
    if held >= gas.water:
        return 0.0
    return gas.water - (1.0 - gas.water) * held / (1.0 - held)


def _log_vapor(temperature_k: float) -> float:
    """Logarithm of the saturation pressure in pascal."""
    if temperature_k >= _TRIPLE_K:
        tau = 1.0 - temperature_k / _CRITICAL_K
        liquid: float = sum(a * tau**b for a, b in _LIQUID)
        return math.log(_CRITICAL_PA) + _CRITICAL_K / temperature_k * liquid
    theta = temperature_k / _TRIPLE_K
    ice: float = sum(a * theta**b for a, b in _ICE)
    return math.log(_TRIPLE_PA) + ice / theta


def _in_fit(temperature_k: float) -> None:
    low, high = _FIT_K
    if not low <= temperature_k <= high:
        raise OutOfRange(f"gas at {temperature_k:g} K; its heat is known from {low:g} to {high:g}.")


def _cp_r(fit: _Fit, t: float) -> float:
    return fit[0] + t * (fit[1] + t * (fit[2] + t * (fit[3] + t * fit[4])))


def _h_r(fit: _Fit, t: float) -> float:
    a1, a2, a3, a4, a5, a6 = fit
    return a6 + t * (a1 + t * (a2 / 2 + t * (a3 / 3 + t * (a4 / 4 + t * a5 / 5))))


def _mole_sum(gas: Gas, t: float, of: Callable[[_Fit, float], float]) -> float:
    """A molar property of a gas, in units of the gas constant."""
    fits = _LOW if t <= _BREAK_K else _HIGH
    nitrogen = (1.0 - _ARGON) * of(fits["n2"], t) + _ARGON * of(_ARGON_FIT, t)
    return (
        gas.co2 * of(fits["co2"], t)
        + gas.water * of(fits["water"], t)
        + gas.o2 * of(fits["o2"], t)
        + gas.n2 * nitrogen
    )


def air_molar(water: float) -> float:
    """Molar mass of air with a mole fraction of water vapor. [kg/kmol]

    Source: mixture by moles.

    Args:
        water: mole fraction. [-]
    """
    return AIR_KG_KMOL + water * (WATER_KG_KMOL - AIR_KG_KMOL)
