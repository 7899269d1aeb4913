"""Wind: its speed at the cap, and the pressure it puts on caps and walls.

Pressure coefficients are ranges with a basis (``data/physics/house.toml``): no measured
coefficient of a vent cap was found. Wind is looked at as cases, lull, mean and gust, each with
the low, likely and high coefficient: a mean alone hides the gust that turns a weak vent around.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.errors import OutOfRange

Terrain = Literal["water", "open", "suburban", "urban"]

# Depth of the boundary layer [m] and exponent of the profile. Source: ASHRAE Fundamentals,
# airflow around buildings, as coded in a public building energy simulation (read there); EN
# and others use other forms.
PROFILES: dict[Terrain, tuple[float, float]] = {
    "water": (210.0, 0.10),
    "open": (270.0, 0.14),
    "suburban": (370.0, 0.22),
    "urban": (460.0, 0.33),
}
STATION_M = 10.0  # where weather stations measure, in open country

# Terminal above a 45 degree roof with a wide or tall structure downwind: pressure up to 60 %
# above that of the house alone (HSE RR157, 2003, abstract). Pressure that holds back only:
# no more suction is counted on.
DOWNWIND_STRUCTURE = 1.6

# EN 13384-1: wind allowance where the outlet lies in the adverse zone, else none (from memory).
ADVERSE_ALLOWANCE_PA = {"inland": 25.0, "coastal": 40.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class WindCase:
    """One wind to be looked at.

    Attributes:
        name: "gust, adverse" and the like.
        speed_m_s: at the cap. [m/s]
        coefficient: of pressure, on the velocity pressure at the cap. [-]
        pressure_pa: at the cap, positive holds the gas back. [Pa]
    """

    name: str
    speed_m_s: float
    coefficient: float
    pressure_pa: float


def wind_speed(
    station_m_s: float,
    height_m: float,
    terrain: Terrain,
    station_height_m: float = STATION_M,
    station_terrain: Terrain = "open",
) -> float:
    """Wind speed at a height over the terrain around the house. [m/s]

    Source: power-law profiles that meet at the top of the boundary layer (see `PROFILES`).

    Args:
        station_m_s: as reported by the weather station. [m/s]
        height_m: of cap or wall above the ground. [m]
        terrain: around the house.
        station_height_m: of its wind gauge above ground. [m]
        station_terrain: around the weather station.
    Raises:
        OutOfRange: negative speed, or a height outside the profiles.
    """
    if not 0.0 <= station_m_s <= 150.0:
        raise OutOfRange(f"wind: {station_m_s:g} m/s is no wind. Give 0 to 150 m/s.")
    for name, value, kind in (
        ("height", height_m, terrain), ("station height", station_height_m, station_terrain)
    ):  # fmt: skip
        deep = PROFILES[kind][0]
        if not 0.0 <= value <= deep:
            raise OutOfRange(f"wind: {name} {value:g} m. The profile holds from 0 to {deep:g} m.")
    if station_height_m == 0.0:
        raise OutOfRange(
            "wind: a station at the ground measures none. Give its height, often 10 m."
        )
    deep, exponent = PROFILES[station_terrain]
    aloft = station_m_s * math.pow(deep / station_height_m, exponent)
    deep, exponent = PROFILES[terrain]
    return aloft * math.pow(height_m / deep, exponent)


def wind_pressure(
    speed_m_s: float, coefficient: float, air_kg_m3: float, downwind_structure: bool = False
) -> float:
    """Pressure of the wind on a cap or wall over still air; suction is negative. [Pa]

    Source: coefficient times velocity pressure.

    Args:
        speed_m_s: at that height. [m/s]
        coefficient: of pressure, 1 at most where air comes to rest. [-]
        air_kg_m3: density. [kg/m3]
        downwind_structure: a wide or tall one behind the cap; raises what holds back.
    Raises:
        OutOfRange: figures that no wind has.
    """
    if not (0.0 <= speed_m_s <= 150.0 and 0.3 <= air_kg_m3 <= 2.5):
        raise OutOfRange(f"wind: {speed_m_s:g} m/s in air of {air_kg_m3:g} kg/m3 is no wind.")
    if not (math.isfinite(coefficient) and -5.0 <= coefficient <= 1.0):
        raise OutOfRange(f"wind: coefficient {coefficient:g}. Give -5 to 1.")
    pressure = coefficient * air_kg_m3 * speed_m_s**2 / 2.0
    return pressure * DOWNWIND_STRUCTURE if downwind_structure and pressure > 0.0 else pressure


def wind_cases(
    mean_m_s: float,
    gust_factor: float,
    coefficients: Sequence[tuple[str, float]],
    air_kg_m3: float,
    downwind_structure: bool = False,
) -> tuple[WindCase, ...]:
    """Lull, mean and gust, each with every coefficient, worst for the vent first. [cases]

    Source: quasi-steady pressure: the vent answers within its 1 to 3 s of gas travel.

    Args:
        mean_m_s: hourly mean at the cap. [m/s]
        gust_factor: gust over mean speed, 1 or more. [-]
        coefficients: name and coefficient, such as low, likely and high of one place.
        air_kg_m3: density. [kg/m3]
        downwind_structure: see `wind_pressure`.
    Raises:
        OutOfRange: figures that no wind has.
    """
    if not 1.0 <= gust_factor <= 5.0:
        raise OutOfRange(f"wind: a gust of {gust_factor:g} times the mean. Give 1 to 5.")
    found = [WindCase(name="lull", speed_m_s=0.0, coefficient=0.0, pressure_pa=0.0)]
    for kind, speed in (("mean", mean_m_s), ("gust", gust_factor * mean_m_s)):
        for name, coefficient in coefficients:
            pressure = wind_pressure(speed, coefficient, air_kg_m3, downwind_structure)
            found.append(
                WindCase(
                    name=f"{kind}, {name}", speed_m_s=speed, coefficient=coefficient,
                    pressure_pa=pressure,
                )
            )  # fmt: skip
    return tuple(sorted(found, key=lambda one: -one.pressure_pa))
