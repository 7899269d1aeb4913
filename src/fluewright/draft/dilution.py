"""Room air that joins flue gas in a draft hood: what comes out, and how much joined."""

from __future__ import annotations

import math

from fluewright.draft.gas import cp, mixed_cp, mixed_molar, moist_air
from fluewright.draft.system import Flue
from fluewright.errors import OutOfRange


def diluted(gas: Flue, ratio: float, *, room_k: float, room_water: float = 0.0) -> Flue:
    """Flue gas after room air joined it in a draft hood.

    Mass, moles, carbon dioxide, water and heat above the room are conserved. Heat capacities
    are taken as constant, so that the mixture comes out up to 0.7 K too cool for flue gas of up to
    600 K.

    Args:
        gas: before the hood.
        ratio: mass of room air per mass of flue gas. [-]
        room_k: room air. [K]
        room_water: mole fraction of water vapor in it. [-]

    Raises:
        OutOfRange: a negative ratio.
    """
    if not 0.0 <= ratio < math.inf:
        raise OutOfRange(f"dilution: {ratio:g}; room air per flue gas is zero or more.")
    air = moist_air(room_water)
    molar = mixed_molar(((1.0, gas.molar_kg_kmol), (ratio, air.molar_kg_kmol)))
    heat = mixed_cp(((1.0, gas.cp_j_kgk), (ratio, cp(air, room_k))))
    flue_kmol, air_kmol = 1.0 / gas.molar_kg_kmol, ratio / air.molar_kg_kmol
    flue_dry, air_dry = flue_kmol * (1.0 - gas.water), air_kmol * (1.0 - room_water)
    rise = (gas.temperature_k - room_k) * gas.cp_j_kgk / (heat * (1.0 + ratio))
    return Flue(
        mass_kg_s=gas.mass_kg_s * (1.0 + ratio),
        temperature_k=room_k + rise,
        molar_kg_kmol=molar,
        cp_j_kgk=heat,
        water=(flue_kmol * gas.water + air_kmol * room_water) / (flue_kmol + air_kmol),
        co2_dry=gas.co2_dry * flue_dry / (flue_dry + air_dry),
    )


def dilution_from_co2(gas: Flue, co2_dry: float, *, room_water: float = 0.0) -> float:
    """Room air per flue gas that a reading after the hood means [kg/kg].

    Source: carbon balance; inverse of ``diluted``.

    Args:
        gas: before the hood.
        co2_dry: carbon dioxide in the dry gas after the hood. [mol/mol]
        room_water: mole fraction of water vapor in the room air. [-]

    Raises:
        OutOfRange: more carbon dioxide after the hood than before it, or none.
    """
    if not 0.0 < co2_dry <= gas.co2_dry:
        raise OutOfRange(
            f"CO2 after the hood: {co2_dry:g} mol/mol; it lies above 0, up to the "
            f"{gas.co2_dry:g} before the hood."
        )
    flue_dry = (1.0 - gas.water) / gas.molar_kg_kmol
    air_dry = flue_dry * (gas.co2_dry / co2_dry - 1.0)
    return air_dry / (1.0 - room_water) * moist_air(room_water).molar_kg_kmol
