"""Leakage, depressurization and wind, for the published checks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from fluids.friction import friction_factor

from fluewright.draft.leakage import (
    CFM_M3_S,
    air_density,
    area,
    fan_depressurization,
    from_flow_at_50,
)
from fluewright.draft.wind import wind_speed

IN2_M2 = 0.0254**2


def fans_alone(given: Mapping[str, Any]) -> float:
    """House below outdoors under fans alone [Pa]."""
    leak = from_flow_at_50(given["cfm50"] * CFM_M3_S)
    return -fan_depressurization(given["exhaust_cfm"] * CFM_M3_S, leak)


def fans_against(given: Mapping[str, Any]) -> str:
    """Whether fans alone pull the house further down than some pressure."""
    return "above" if fans_alone(given) > given["pa"] else "not above"


def flow_per_area(given: Mapping[str, Any]) -> float:
    """CFM50 of a house over its leakage area [cfm/in2]."""
    leak = from_flow_at_50(1000.0 * CFM_M3_S)
    return 1000.0 / (area(leak, given["at_pa"], given["discharge"]) / IN2_M2)


def idle_exponent(given: Mapping[str, Any]) -> float:
    """Exponent between 1 and 10 Pa of an idle vent whose friction follows the Reynolds number.

    Fittings 1.5 velocity heads and outlet 1 are assumed; the vent is 6 m of sheet metal pipe.
    """
    low, high = (_through_pipe(given["diameter_m"], pa) for pa in (1.0, 10.0))
    return math.log10(high / low)


def _through_pipe(diameter: float, dp_pa: float) -> float:
    """Speed in the pipe by repeated substitution [m/s]."""
    density, viscosity, length = air_density(293.15), 1.81e-5, 6.0
    speed = 1.0
    for _ in range(60):
        factor = friction_factor(density * speed * diameter / viscosity, 0.15e-3 / diameter)
        speed = math.sqrt(2 * dp_pa / density / (2.5 + factor * length / diameter))
    return speed


def station_factor(given: Mapping[str, Any]) -> float:
    """Wind aloft over that of a station."""
    deep = given["layer_m"]
    return wind_speed(1.0, deep, "open", given["station_m"])


ADAPTERS = {
    "house_fans_alone": fans_alone,
    "house_fans_against": fans_against,
    "house_flow_per_area": flow_per_area,
    "house_idle_exponent": idle_exponent,
    "wind_station_factor": station_factor,
}
