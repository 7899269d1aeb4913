"""Fuels, air and vapor, for the published checks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fluewright.draft import gas
from fluewright.draft.combustion import BTU_J
from fluewright.draft.system import AIR_KG_KMOL, GAS_CONSTANT_J_KMOL_K, STANDARD_AIR_PA
from fluewright.files.physics import default_fuels

# Standard conditions of 40 CFR 60 and 75: 68 degrees F, 29.92 inches of mercury.
SCF_KMOL = STANDARD_AIR_PA * 0.3048**3 / (GAS_CONSTANT_J_KMOL_K * 293.15)


def f_factor(given: Mapping[str, Any]) -> float:
    """Volume of dry flue gas without excess air, or of its carbon dioxide [scf/MMBtu HHV]."""
    fuel = default_fuels()[given["fuel"]]
    kmol = fuel.dry_kmol if given["which"] == "dry" else fuel.carbon
    return kmol / fuel.hhv_j_kmol * 1e6 * BTU_J / SCF_KMOL


def ultimate_co2(given: Mapping[str, Any]) -> float:
    """Highest carbon dioxide in dry flue gas [%]."""
    return 100.0 * default_fuels()[given["fuel"]].co2_max


def air_density(given: Mapping[str, Any]) -> float:
    """Density of dry air [kg/m3]."""
    return gas.density(given["pressure_pa"], AIR_KG_KMOL, given["temperature_k"])


ADAPTERS = {
    "draft_f_factor": f_factor,
    "draft_ultimate_co2": ultimate_co2,
    "draft_isa": lambda given: gas.isa_pressure(given["altitude_m"]),
    "draft_air_density": air_density,
    "draft_air_viscosity": lambda given: 1e5 * gas.viscosity(given["temperature_k"]),
    "draft_air_conductivity": lambda given: gas.conductivity(given["temperature_k"]),
    "draft_saturation": lambda given: gas.saturation_pressure(given["temperature_k"]),
    "draft_dew_point": lambda given: gas.dew_point(given["vapor_pa"]),
}
