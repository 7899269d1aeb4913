"""One chimney segment under natural draft by EN 13384-1: a hand method, to check the engine by.

Coefficients from memory for natural gas, edition not confirmed; they were compared with mixture
properties from composition: gas constant within 0.02 %, heat within 0.5 %, viscosity 5 % low,
conductivity 7 % low. The standard's units: degrees Celsius, percent of carbon dioxide, grams
per second. A result is a check, never a verdict on a chimney.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fluewright.draft.films import chimney_nusselt
from fluewright.draft.losses import colebrook
from fluewright.errors import NotSolved, OutOfRange

AIR_J_KGK = 288.0  # gas constant of air, as the standard has it
GRAVITY_M_S2 = 9.81  # as the standard has it
ROUGH_DIVISOR = 3.7 / 3.71  # the standard's friction law has 3.71 where Colebrook has 3.7
ZERO_C_K = 273.15
SETTLED_K = 1e-9
MOST_ROUNDS = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A segment by the standard's quantities.

    Attributes:
        diameter_m: inside, hydraulic. [m]
        outer_m: outside. [m]
        height_m: effective. [m]
        length_m: along it. [m]
        roughness_m: mean. [m]
        resistance_m2k_w: of the wall, on the inside area. [m2 K/W]
        outside_w_m2k: heat transfer outside; 23 outdoors, 8 indoors. [W/(m2 K)]
        losses: sum of zeta. [-]
        flow_kg_s: of flue gas. [kg/s]
        co2_percent: in the dry gas. [%]
        inlet_c: of the gas coming in. [degC]
        ambient_c: around the chimney. [degC]
        outdoor_c: of the outside air that drives the draft. [degC]
        air_pa: absolute. [Pa]
        flow_safety: S_E, 1.5, or 1.2 in stated cases. [-]
        heat_safety: S_H, 0.5 for the pressure, 1 for the wall temperature. [-]
    """

    diameter_m: float
    outer_m: float
    height_m: float
    length_m: float
    roughness_m: float
    resistance_m2k_w: float
    outside_w_m2k: float
    losses: float
    flow_kg_s: float
    co2_percent: float
    inlet_c: float
    ambient_c: float
    outdoor_c: float
    air_pa: float
    flow_safety: float = 1.5
    heat_safety: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What the standard asks for, with its steps.

    ``cooling`` is its K; ``draft_pa`` is P_H, ``resistance_pa`` P_R with its safety, without the
    pressure of a change of velocity. ``wall_c`` is the inside of the wall at the outlet.
    """

    reynolds: float
    nusselt: float
    cooling: float
    mean_c: float
    outlet_c: float
    wall_c: float
    draft_pa: float
    resistance_pa: float


# ---------------------------------------------------------------- properties, natural gas


def gas_constant(co2_percent: float) -> float:
    """Gas constant of flue gas, 288 (1 + 0.0033 s). [J/(kg K)]"""
    return 288.0 * (1.0 + 0.0033 * co2_percent)


def heat_capacity(celsius: float, co2_percent: float) -> float:
    """Specific heat of flue gas. [J/(kg K)]"""
    t, s = celsius, co2_percent
    carbon = 23.0 + 0.015 * t - 7e-6 * t * t
    return (1011.0 + 0.05 * t + 0.0003 * t * t + carbon * s) / (1.0 + 0.0142 * s)


def conductivity(celsius: float) -> float:
    """Thermal conductivity of flue gas. [W/(m K)]"""
    return 0.0223 + 6.5e-5 * celsius


def viscosity(celsius: float) -> float:
    """Dynamic viscosity of flue gas. [Pa s]"""
    return 15e-6 + 47e-9 * celsius - 20e-12 * celsius * celsius


def mass_flow(co2_percent: float, input_kw: float) -> float:
    """Flue gas of an input on the lower heating value, (3.72/s + 0.053) Q. [g/s]

    Raises:
        OutOfRange: carbon dioxide is not above zero.
    """
    if not co2_percent > 0.0:
        raise OutOfRange(f"carbon dioxide is {co2_percent:g} %. It must be above zero.")
    return (3.72 / co2_percent + 0.053) * input_kw


def dew_point(vapor_pa: float) -> float:
    """Dew point of water vapor, 4077.9/(23.6448 - ln p) - 236.67. [degC]

    Raises:
        OutOfRange: no vapor.
    """
    if not vapor_pa > 0.0:
        raise OutOfRange(f"vapor pressure is {vapor_pa:g} Pa. It must be above zero.")
    return 4077.9 / (23.6448 - math.log(vapor_pa)) - 236.67


# ---------------------------------------------------------------- the segment


def segment(given: Segment) -> Result:
    """Temperatures and pressures of a segment by EN 13384-1.

    Properties are taken at the mean temperature, which is repeated until it settles.

    Source: EN 13384-1, single appliance, negative pressure; from memory. The exponential law as
    in EN 13084-1 Annex A.4.2 and A.4.3, read in an excerpt.

    Args:
        given: the segment.

    Returns:
        Reynolds and Nusselt number, K, temperatures [degC], pressures [Pa].

    Raises:
        OutOfRange: Reynolds number not turbulent, or a size not above zero.
        NotSolved: the mean temperature does not settle.
    """
    sizes = (given.diameter_m, given.length_m, given.flow_kg_s, given.outside_w_m2k, given.air_pa)
    if not min(sizes) > 0.0 or not given.outer_m >= given.diameter_m:
        raise OutOfRange("segment: sizes, flow, heat transfer and pressure must be above zero.")
    mean_c = given.inlet_c
    for _ in range(MOST_ROUNDS):
        found = _at(given, mean_c)
        if abs(found.mean_c - mean_c) < SETTLED_K:
            return found
        mean_c = found.mean_c
    raise NotSolved("segment by EN 13384-1: its mean temperature did not settle.")


def _at(given: Segment, mean_c: float) -> Result:
    """The segment with properties at a mean temperature."""
    cp = heat_capacity(mean_c, given.co2_percent)
    eta, conducts = viscosity(mean_c), conductivity(mean_c)
    area = 0.25 * math.pi * given.diameter_m**2
    number = given.flow_kg_s * given.diameter_m / (area * eta)
    rough = colebrook(number, ROUGH_DIVISOR * given.roughness_m / given.diameter_m)
    short = given.diameter_m / given.length_m
    nusselt = chimney_nusselt(number, eta * cp / conducts, rough / colebrook(number, 0.0), short)
    inside = nusselt * conducts / given.diameter_m
    u = _through(given, inside, given.heat_safety)
    cooling = u * math.pi * given.diameter_m * given.length_m / (given.flow_kg_s * cp)
    excess = given.inlet_c - given.ambient_c
    outlet_c = given.ambient_c + excess * math.exp(-cooling)
    new_mean_c = given.ambient_c - excess * math.expm1(-cooling) / cooling
    wall_c = outlet_c - _through(given, inside, 1.0) / inside * (outlet_c - given.ambient_c)
    outdoor = given.air_pa / (AIR_J_KGK * (given.outdoor_c + ZERO_C_K))
    gas = given.air_pa / (gas_constant(given.co2_percent) * (new_mean_c + ZERO_C_K))
    speed = given.flow_kg_s / (area * gas)
    total = rough / short + given.losses
    return Result(
        reynolds=number, nusselt=nusselt, cooling=cooling,
        mean_c=new_mean_c, outlet_c=outlet_c, wall_c=wall_c,
        draft_pa=given.height_m * GRAVITY_M_S2 * (outdoor - gas),
        resistance_pa=given.flow_safety * total * 0.5 * gas * speed * speed,
    )  # fmt: skip


def _through(given: Segment, inside_w_m2k: float, safety: float) -> float:
    """Coefficient of heat transmission k, with its safety. [W/(m2 K)]"""
    outside = given.diameter_m / (given.outer_m * given.outside_w_m2k)
    return 1.0 / (1.0 / inside_w_m2k + safety * (given.resistance_m2k_w + outside))
