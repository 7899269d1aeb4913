"""From a fuel and a flue gas reading to what goes up the vent: moles, mass, heat, water.

Combustion is complete; carbon monoxide is a trace that the balance leaves out. Input rates and
efficiencies are on the higher heating value, as on rating plates of North America. Altitude
changes nothing here: only partial pressures and densities follow the pressure of the site.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.draft.fuel import Fuel
from fluewright.draft.gas import (
    AIR_O2,
    WATER_KG_KMOL,
    Gas,
    condensed,
    cp,
    enthalpy,
    latent_heat,
    mean_cp,
    moist_air,
)
from fluewright.draft.system import STANDARD_AIR_PA, Flue
from fluewright.errors import OutOfRange

BTU_J = 1055.05585262  # international table
LB_KG = 0.45359237
ROOM_K = 293.15
# Oxygen of fresh air as instruments and regulations round it: 40 CFR 60 Appendix A, Method 19.
READING_O2 = 0.209
# Handbook mass of vent gas, lb per 1000 Btu = a (b + c / percent of CO2); from memory.
HANDBOOK_MASS: Mapping[str, tuple[float, float, float]] = {
    "natural": (0.705, 0.159, 10.72),
    "lp": (0.706, 0.144, 12.61),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Products:
    """What a fuel burns to, per joule of its higher heating value.

    Attributes:
        gas: mole fractions, all water as vapor.
        kmol_j: all of the gas. [kmol/J]
        fuel_kmol_j: fuel. [kmol/J]
        air_kmol_j: combustion and excess air, moist. [kmol/J]
        excess_air: air beyond what the fuel needs, as a share of that need. [-]
    """

    gas: Gas
    kmol_j: float
    fuel_kmol_j: float
    air_kmol_j: float
    excess_air: float

    @property
    def kg_j(self) -> float:
        """Mass of the gas. [kg/J]"""
        return self.kmol_j * self.gas.molar_kg_kmol


@dataclass(frozen=True, slots=True, kw_only=True)
class FlueLoss:
    """Where the heat goes that does not stay in the appliance, as shares of the input.

    Attributes:
        sensible: warmth of the flue gas above the air that fed the flame. [-]
        latent: vapor of the fuel's own hydrogen, all of it uncondensed. [-]
    """

    sensible: float
    latent: float

    @property
    def efficiency(self) -> float:
        """Steady efficiency by flue loss, jacket losses left out. [-]"""
        return 1.0 - self.sensible - self.latent


def products(
    fuel: Fuel,
    *,
    co2_dry: float | None = None,
    o2_dry: float | None = None,
    room_water: float = 0.0,
) -> Products:
    """What a fuel burns to at a flue gas reading, per joule of higher heating value.

    Source: balance of carbon, hydrogen, oxygen and nitrogen, air with 20.95 % oxygen.

    Args:
        fuel: what burns.
        co2_dry: carbon dioxide in the dry flue gas; this or ``o2_dry``. [mol/mol]
        o2_dry: oxygen in the dry flue gas. [mol/mol]
        room_water: mole fraction of water vapor in the air that feeds the flame. [-]

    Raises:
        OutOfRange: both readings or none, or one that complete combustion cannot give.
    """
    extra = _excess_kmol(fuel, co2_dry, o2_dry)
    dry_air = fuel.air_kmol + extra
    moisture = moist_air(room_water).water * dry_air / (1.0 - room_water)
    co2, water = fuel.carbon, fuel.hydrogen / 2.0 + moisture
    o2, n2 = AIR_O2 * extra, fuel.n2 + (1.0 - AIR_O2) * dry_air
    total = co2 + water + o2 + n2
    return Products(
        gas=Gas(co2=co2 / total, water=water / total, o2=o2 / total, n2=n2 / total),
        kmol_j=total / fuel.hhv_j_kmol,
        fuel_kmol_j=1.0 / fuel.hhv_j_kmol,
        air_kmol_j=(dry_air + moisture) / fuel.hhv_j_kmol,
        excess_air=extra / fuel.air_kmol,
    )


def flue(
    fuel: Fuel,
    *,
    input_w: float,
    temperature_k: float,
    co2_dry: float | None = None,
    o2_dry: float | None = None,
    room_k: float = ROOM_K,
    room_water: float = 0.0,
) -> Flue:
    """Gas that an appliance gives off at an input rate and a flue gas reading.

    Its heat capacity is the mean between room and flue. An input of zero is an appliance that
    stands idle: its vent holds room air, not flue gas.

    Args:
        fuel: what burns.
        input_w: on the higher heating value. [W]
        temperature_k: of the gas, before the draft hood. [K]
        co2_dry: carbon dioxide in the dry flue gas; this or ``o2_dry``. [mol/mol]
        o2_dry: oxygen in the dry flue gas. [mol/mol]
        room_water: mole fraction of water vapor in the air that feeds the flame. [-]
        room_k: room air. [K]

    Raises:
        OutOfRange: a negative input, and as in ``products``.
    """
    if not 0.0 <= input_w < math.inf:
        raise OutOfRange(f"input: {input_w:g} W; it is zero for an idle appliance, or more.")
    if input_w == 0.0:
        return idle(room_k=room_k, room_water=room_water)
    burned = products(fuel, co2_dry=co2_dry, o2_dry=o2_dry, room_water=room_water)
    return Flue(
        mass_kg_s=input_w * burned.kg_j,
        temperature_k=temperature_k,
        molar_kg_kmol=burned.gas.molar_kg_kmol,
        cp_j_kgk=mean_cp(burned.gas, room_k, temperature_k),
        water=burned.gas.water,
        co2_dry=burned.gas.co2_dry,
    )


def idle(*, room_k: float, room_water: float = 0.0) -> Flue:
    """An appliance that stands idle: no flow, and room air at room temperature."""
    air = moist_air(room_water)
    return Flue(
        mass_kg_s=0.0,
        temperature_k=room_k,
        molar_kg_kmol=air.molar_kg_kmol,
        cp_j_kgk=cp(air, room_k),
        water=room_water,
        co2_dry=0.0,
    )


def flue_loss(
    fuel: Fuel,
    *,
    flue_k: float,
    air_k: float,
    co2_dry: float | None = None,
    o2_dry: float | None = None,
    room_water: float = 0.0,
) -> FlueLoss:
    """Sensible and latent loss of a flue gas reading, as shares of the input on HHV.

    Source: energy balance. What condenses below the dew point gives back
    ``condensation_gain``, which is not taken off here.

    Args:
        fuel: what burns.
        flue_k: flue gas before the draft hood. [K]
        air_k: air that feeds the flame. [K]
        co2_dry: carbon dioxide in the dry flue gas; this or ``o2_dry``. [mol/mol]
        o2_dry: oxygen in the dry flue gas. [mol/mol]
        room_water: mole fraction of water vapor in the air that feeds the flame. [-]

    Raises:
        OutOfRange: as in ``products``, or a temperature outside 200 to 3500 K.
    """
    burned = products(fuel, co2_dry=co2_dry, o2_dry=o2_dry, room_water=room_water)
    warmth = enthalpy(burned.gas, flue_k) - enthalpy(burned.gas, air_k)
    return FlueLoss(sensible=burned.kmol_j * warmth, latent=fuel.latent)


def rise_for_efficiency(
    fuel: Fuel,
    *,
    efficiency: float,
    air_k: float,
    co2_dry: float | None = None,
    o2_dry: float | None = None,
    room_water: float = 0.0,
) -> float:
    """How far above its air an appliance of this steady efficiency sends its flue gas [K].

    Source: inverse of ``flue_loss``, heat capacity at the temperature that comes out.

    Args:
        fuel: what burns.
        efficiency: steady, by flue loss, on the higher heating value. [-]
        air_k: air that feeds the flame. [K]
        co2_dry: carbon dioxide in the dry flue gas; this or ``o2_dry``. [mol/mol]
        o2_dry: oxygen in the dry flue gas. [mol/mol]
        room_water: mole fraction of water vapor in the air that feeds the flame. [-]

    Raises:
        OutOfRange: an efficiency that needs condensing, or a flue hotter than 1500 K.
    """
    burned = products(fuel, co2_dry=co2_dry, o2_dry=o2_dry, room_water=room_water)
    sensible = 1.0 - fuel.latent - efficiency
    hottest = burned.kmol_j * (enthalpy(burned.gas, 1500.0) - enthalpy(burned.gas, air_k))
    if not 0.0 <= sensible <= hottest:
        raise OutOfRange(
            f"efficiency: {efficiency:g}; without condensing, and with a flue below 1500 K, it "
            f"lies from {1.0 - fuel.latent - hottest:.3f} to {1.0 - fuel.latent:.3f}."
        )
    wanted = enthalpy(burned.gas, air_k) + sensible / burned.kmol_j
    guess = air_k
    # Newton on an enthalpy whose slope rises slowly: from below it overshoots once, then
    # settles within a few steps.
    for _ in range(50):
        here = min(max(guess, 200.0), 3500.0)
        slope = cp(burned.gas, here) * burned.gas.molar_kg_kmol
        guess = here + (wanted - enthalpy(burned.gas, here)) / slope
        if abs(guess - here) < 1e-10:
            break
    return guess - air_k


def condensation_gain(
    burned: Products, *, temperature_k: float, pressure_pa: float = STANDARD_AIR_PA
) -> float:
    """Heat that condensing gives back when all flue gas is cooled to a temperature [J/J].

    As a share of the input on HHV; 0 above the dew point. Source: what stays is saturated.

    Raises:
        OutOfRange: colder than 270 K with something left to condense.
    """
    kmol = condensed(burned.gas, temperature_k, pressure_pa)
    if kmol == 0.0:
        return 0.0
    return kmol * WATER_KG_KMOL * burned.kmol_j * latent_heat(temperature_k)


def siegert_loss(*, flue_k: float, air_k: float, co2_dry: float) -> float:
    """Sensible flue loss of natural gas by the Siegert form, as a share of the input on LHV.

    Source: (flue - air) (0.37 / CO2 + 0.009) percent, temperatures in kelvin and CO2 in
    percent; coefficients for natural gas from memory.

    Raises:
        OutOfRange: carbon dioxide not above zero.
    """
    if not 0.0 < co2_dry <= 1.0:
        raise OutOfRange(f"CO2: {co2_dry:g} mol/mol; it lies above 0.")
    return (flue_k - air_k) * (0.37 / (100.0 * co2_dry) + 0.009) / 100.0


def handbook_mass(kind: str, co2_dry: float) -> float:
    """Vent gas per joule of HHV by the handbook's ratio [kg/J], for the code bases alone.

    Source: chimney chapter of a handbook, from memory: 0.705 (0.159 + 10.72 / CO2) lb per
    1000 Btu for natural gas, 0.706 (0.144 + 12.61 / CO2) for LP. It lies 2 to 3 % below what the
    composition gives.

    Args:
        kind: "natural" or "lp".
        co2_dry: carbon dioxide in the dry gas. [mol/mol]

    Raises:
        OutOfRange: another kind, or carbon dioxide not above zero.
    """
    if kind not in HANDBOOK_MASS:
        raise OutOfRange(f"handbook mass: {kind!r}; it is given for natural and lp.")
    if not 0.0 < co2_dry <= 1.0:
        raise OutOfRange(f"CO2: {co2_dry:g} mol/mol; it lies above 0.")
    a, b, c = HANDBOOK_MASS[kind]
    return a * (b + c / (100.0 * co2_dry)) * LB_KG / (1000.0 * BTU_J)


def co_air_free(co: float, *, o2_dry: float) -> float:
    """Carbon monoxide as if no excess air were in the gas [same unit as ``co``].

    Source: CO 20.9 / (20.9 - O2), oxygen of air as in 40 CFR 60 Appendix A, Method 19.

    Args:
        co: reading in the dry gas, ppm or mole fraction.
        o2_dry: oxygen in the dry gas. [mol/mol]

    Raises:
        OutOfRange: a negative reading, or oxygen outside 0 to below 20.9 %.
    """
    if co < 0.0 or not 0.0 <= o2_dry < READING_O2:
        raise OutOfRange(
            f"CO {co:g} with O2 {o2_dry:g} mol/mol; CO is zero or more, O2 from 0 to below "
            f"{READING_O2:g}: a reading of fresh air says nothing of a flame."
        )
    return co * READING_O2 / (READING_O2 - o2_dry)


def co_air_free_by_co2(co: float, *, co2_dry: float, fuel: Fuel) -> float:
    """Carbon monoxide as if no excess air were in the gas, from carbon dioxide [as ``co``].

    Source: CO times the highest carbon dioxide of the fuel over the reading.

    Args:
        co: reading in the dry gas, ppm or mole fraction.
        co2_dry: carbon dioxide in the dry gas. [mol/mol]
        fuel: what burns.

    Raises:
        OutOfRange: a negative reading, or carbon dioxide that the fuel cannot give.
    """
    if co < 0.0 or not 0.0 < co2_dry <= fuel.co2_max * (1.0 + 1e-9):
        raise OutOfRange(
            f"CO {co:g} with CO2 {co2_dry:g} mol/mol; CO is zero or more, CO2 above 0 and up "
            f"to {fuel.co2_max:.4f} for {fuel.name}."
        )
    return co * fuel.co2_max / co2_dry


def _excess_kmol(fuel: Fuel, co2_dry: float | None, o2_dry: float | None) -> float:
    """Dry air beyond the need, per kmol of fuel."""
    if co2_dry is not None and o2_dry is None:
        most = fuel.co2_max * (1.0 + 1e-9)  # a reading at the limit may round past it
        if not 0.0 < co2_dry <= most:
            raise OutOfRange(
                f"CO2: {co2_dry:g} mol/mol in dry flue gas of {fuel.name}; complete combustion "
                f"gives above 0 and up to {fuel.co2_max:.4f}. Check the reading and the fuel."
            )
        return max(fuel.carbon / co2_dry - fuel.dry_kmol, 0.0)
    if o2_dry is not None and co2_dry is None:
        if not 0.0 <= o2_dry < AIR_O2:
            raise OutOfRange(
                f"O2: {o2_dry:g} mol/mol in dry flue gas; it lies from 0 to below {AIR_O2:g}. "
                "Check the reading."
            )
        return o2_dry * fuel.dry_kmol / (AIR_O2 - o2_dry)
    raise OutOfRange("flue gas: give one reading, either CO2 or O2.")
