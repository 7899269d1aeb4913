"""The pressure in a house of one zone: leaks, stack effect, wind, fans, and its vents.

Every opening sees dp = floor + gradient z - outside: indoors less outdoors at the floor, what
the warm air column adds with height, less what wind (or the cold gas of an idle vent) presses
on it from outside. Mass that leaves equals mass that enters; as flow out never falls with the
pressure, one floor pressure does that. Zones with doors between them: ``draft.zones``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fluewright.draft.leakage import MEASURED_PA, Leakage, air_density
from fluewright.draft.monotone import rising_root
from fluewright.draft.system import GRAVITY_M_S2, STANDARD_AIR_PA, Segment
from fluewright.errors import NotSolved, OutOfRange

# Below this difference flow is taken as proportional to it, as creeping flow is. Without that a
# power law is infinitely steep at zero and no float balances it. Far below what anyone measures.
LINEAR_BELOW_PA = 1e-4
FURTHEST_PA = 1e5
RESIDUAL = 1e-9

Outflow = Callable[[float], float] | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A leak or vent opening between the house and outdoors.

    Attributes:
        name: for messages and drawings.
        leak: its power law.
        height_m: above the floor of the house. [m]
        outside_pa: pressure on its outer end over still outdoor air: wind. [Pa]
    """

    name: str
    leak: Leakage
    height_m: float = 0.0
    outside_pa: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fan:
    """A fan that moves air whatever the pressure: out positive, in negative. [m3/s]"""

    name: str
    flow_m3_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Vent:
    """A vent whose flow something else computes.

    Attributes:
        name: for messages.
        height_m: of its hood or air opening above the floor. [m]
        outflow: mass that leaves the house through it, negative where it pours in. Either the
            known flow [kg/s], or a function of the house pressure at ``height_m`` [Pa] that
            gives it and never falls as that pressure rises.
    """

    name: str
    height_m: float
    outflow: Outflow


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """One zone with its weather.

    Attributes:
        indoor_k, outdoor_k: air temperatures. [K]
        openings: all leaks to outdoors.
        fans: exhaust and supply; a dryer is a fan.
        vents: of appliances, drafting or idle.
        hood_m: height above the floor at which the pressure is wanted. [m]
        air_pa: absolute pressure. [Pa]
    """

    indoor_k: float
    outdoor_k: float
    openings: tuple[Opening, ...]
    fans: tuple[Fan, ...] = ()
    vents: tuple[Vent, ...] = ()
    hood_m: float = 0.0
    air_pa: float = STANDARD_AIR_PA


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """What passes one opening, fan or vent: mass out positive, and the pressure across it."""

    name: str
    mass_kg_s: float
    pressure_pa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HousePressure:
    """The state in which a house settles.

    Attributes:
        floor_pa, hood_pa: indoors less outdoors, negative under suction. [Pa]
        gradient_pa_m: what a meter of height adds. [Pa/m]
        neutral_m: height at which indoors equals still outdoor air; it may lie below the floor
            or above the roof; None without a temperature difference. [m]
        flows: of every opening, fan and vent.
        residual: mass left over, relative to what enters or leaves. [-]
        extrapolated: whether an opening sees more than the pressures at which the power law
            was measured.
    """

    floor_pa: float
    hood_pa: float
    gradient_pa_m: float
    neutral_m: float | None
    flows: tuple[Flow, ...]
    residual: float
    extrapolated: bool


def stack_gradient(outdoor_k: float, indoor_k: float, air_pa: float = STANDARD_AIR_PA) -> float:
    """What each meter of height adds to indoor less outdoor pressure, positive when cold. [Pa/m]

    Source: hydrostatics, g times the difference of the densities of dry air.

    Args:
        outdoor_k: [K]
        indoor_k: [K]
        air_pa: absolute. [Pa]
    Raises:
        OutOfRange: no weather.
    """
    return GRAVITY_M_S2 * (air_density(outdoor_k, air_pa) - air_density(indoor_k, air_pa))


def standing_stack(
    rises: Sequence[tuple[float, float]], outdoor_k: float, air_pa: float = STANDARD_AIR_PA
) -> float:
    """Lift of an idle vent full of room air that has taken the temperature around it. [Pa]

    A house pressure below minus this, counted at the hood and without wind, turns the idle vent
    around. An idle vent holds air, not gas: the molar mass is that of air.

    Source: hydrostatics.

    Args:
        rises: height [m] and temperature [K] of each stretch, hood to outlet.
        outdoor_k: [K]
        air_pa: absolute. [Pa]
    Raises:
        OutOfRange: no weather.
    """
    return sum(rise * stack_gradient(outdoor_k, inside, air_pa) for rise, inside in rises)


def standing_limit(
    segments: Sequence[Segment],
    outdoor_k: float,
    air_pa: float = STANDARD_AIR_PA,
    cap_pa: float = 0.0,
) -> float:
    """House pressure at the hood below which the idle vent runs backward. [Pa]

    Args:
        segments: of the vent.
        outdoor_k: [K]
        air_pa: absolute. [Pa]
        cap_pa: wind at the cap, positive holds back. [Pa]
    Raises:
        OutOfRange: no weather.
    """
    rises = [(segment.rise_m, segment.ambient_k) for segment in segments]
    return cap_pa - standing_stack(rises, outdoor_k, air_pa)


def idle_vent(
    name: str,
    area_m2: float,
    loss: float,
    hood_m: float,
    stack_pa: float = 0.0,
    cap_pa: float = 0.0,
) -> Opening:
    """An idle vent as one more leak: it drives air out by its own lift. [opening]

    Source: flow against velocity heads, exponent 0.5; test houses in Alberta showed about 0.5
    for furnace and fireplace flues (Air Infiltration Review 11(4), 1990). Density of air at
    20 degC.

    Args:
        name: for messages.
        area_m2: free area. [m2]
        loss: of all fittings, friction and the outlet, in velocity heads of that area. [-]
        hood_m: height of the hood above the floor. [m]
        stack_pa: `standing_stack`. [Pa]
        cap_pa: wind at the cap, positive holds back. [Pa]
    Raises:
        OutOfRange: no area or no loss.
    """
    if not (loss > 0.0 and math.isfinite(loss)):
        raise OutOfRange(f"{name}: loss is {loss:g}. A vent loses at least its outlet, about 1.")
    c = area_m2 * math.sqrt(2.0 / (air_density(293.15) * loss))
    return Opening(
        name=name,
        leak=Leakage(c=c, n=0.5),
        height_m=hood_m,
        outside_pa=cap_pa - stack_pa,
    )


def envelope(
    leak: Leakage,
    height_m: float,
    floor_share: float = 0.25,
    ceiling_share: float = 0.25,
    walls_pa: Sequence[float] = (0.0,),
    layers: int = 4,
    roof_pa: float = 0.0,
) -> tuple[Opening, ...]:
    """A house's leakage as openings at floor, ceiling and up the walls, one law for all. [openings]

    Source of the shares: common practice, no source. They move the neutral level, hence the
    pressure at the hood by a pascal or two in cold weather: vary them.

    Args:
        leak: of the whole house.
        height_m: floor to ceiling of the heated part. [m]
        floor_share: of c, at height zero. [-]
        ceiling_share: of c, at the top; the rest lies evenly on the walls. [-]
        walls_pa: wind pressure on each wall; the walls share alike. [Pa]
        layers: into how many heights a wall is cut. [-]
        roof_pa: wind pressure over the ceiling's leaks. [Pa]
    Raises:
        OutOfRange: shares below zero or above one together; no wall, no layer, no height.
    """
    walls = 1.0 - floor_share - ceiling_share
    if min(floor_share, ceiling_share, walls) < -1e-12 or not walls_pa or layers < 1:
        raise OutOfRange("envelope: shares of floor and ceiling must be 0 to 1, walls 1 or more.")
    if not height_m > 0.0:
        raise OutOfRange(f"envelope: height is {height_m:g} m. It must be more than zero.")
    parts = [
        ("floor", floor_share, 0.0, 0.0),
        ("ceiling", ceiling_share, height_m, roof_pa),
    ]
    each = walls / (len(walls_pa) * layers)
    for side, wind in enumerate(walls_pa, 1):
        for layer in range(layers):
            height = height_m * (layer + 0.5) / layers
            parts.append((f"wall {side}, {height:.1f} m", each, height, wind))
    return tuple(
        Opening(name=name, leak=leak.scaled(share), height_m=height, outside_pa=wind)
        for name, share, height, wind in parts
        if share > 1e-12
    )


def opening_flow(leak: Leakage, dp_pa: float, inside_kg_m3: float, outside_kg_m3: float) -> float:
    """Mass that leaves through an opening, of the density on the side it comes from. [kg/s]"""
    density = inside_kg_m3 if dp_pa >= 0.0 else outside_kg_m3
    size = abs(dp_pa)
    if size < LINEAR_BELOW_PA:
        return density * leak.c * dp_pa * math.pow(LINEAR_BELOW_PA, leak.n - 1.0)
    return math.copysign(density * leak.c * size**leak.n, dp_pa)


def house_pressure(house: House) -> HousePressure:
    """The pressure at which all that enters a house leaves it. [Pa]

    Source: mass balance of one well-mixed zone.

    Args:
        house: openings, fans, vents, temperatures.
    Returns:
        Pressure at the floor and at the hood, every flow, the residual.
    Raises:
        OutOfRange: temperatures or pressure that no house has.
        NotSolved: nothing lets air in, the pressure would be absurd, or a vent's flow jumps.
    """
    inside, outside = (air_density(k, house.air_pa) for k in (house.indoor_k, house.outdoor_k))
    gradient = GRAVITY_M_S2 * (outside - inside)
    fans = tuple(fan_flow(fan, inside, outside) for fan in house.fans)
    if not house.openings:
        raise NotSolved("house: it has no opening. Give its leakage; no house is airtight.")
    least = sum(
        min(inside, outside) * one.leak.c * LINEAR_BELOW_PA**one.leak.n for one in house.openings
    )
    scale = max(least, *(abs(one.mass_kg_s) for one in fans)) if fans else least

    def flows(floor_pa: float) -> tuple[Flow, ...]:
        found = list(fans)
        for one in house.openings:
            dp = floor_pa + gradient * one.height_m - one.outside_pa
            mass = opening_flow(one.leak, dp, inside, outside)
            found.append(Flow(name=one.name, mass_kg_s=mass, pressure_pa=dp))
        for vent in house.vents:
            dp = floor_pa + gradient * vent.height_m
            found.append(Flow(name=vent.name, mass_kg_s=vent_flow(vent, dp), pressure_pa=dp))
        return tuple(found)

    root = rising_root(
        lambda floor: math.fsum(one.mass_kg_s for one in flows(floor)),
        -gradient * house.hood_m, 1.0, FURTHEST_PA, "house pressure [Pa]", 1e-12 * scale,
    )  # fmt: skip
    found = flows(root.x)
    residual = relative_residual(found, least)
    if residual > RESIDUAL:
        raise NotSolved(
            f"house: at {root.x:.6g} Pa the mass left over is {residual:.2g} of what flows. "
            "A vent's flow jumps there (it turns around): solve it on one branch."
        )
    return _result(house, root.x, gradient, found, residual)


def fan_flow(fan: Fan, inside_kg_m3: float, outside_kg_m3: float) -> Flow:
    """A fan's mass: room air out, outdoor air in. [kg/s]"""
    density = inside_kg_m3 if fan.flow_m3_s > 0.0 else outside_kg_m3
    return Flow(name=fan.name, mass_kg_s=density * fan.flow_m3_s)


def vent_flow(vent: Vent, pressure_pa: float) -> float:
    """A vent's mass at the house pressure at its height. [kg/s]"""
    return vent.outflow(pressure_pa) if callable(vent.outflow) else vent.outflow


def relative_residual(flows: Sequence[Flow], least_kg_s: float) -> float:
    """Mass left over, over what goes one way; over a trickle where nothing flows. [-]"""
    out = math.fsum(one.mass_kg_s for one in flows if one.mass_kg_s > 0.0)
    into = -math.fsum(one.mass_kg_s for one in flows if one.mass_kg_s < 0.0)
    return abs(math.fsum(one.mass_kg_s for one in flows)) / max(out, into, least_kg_s)


def _result(
    house: House, floor_pa: float, gradient: float, flows: tuple[Flow, ...], residual: float
) -> HousePressure:
    across = [abs(one.pressure_pa) for one in flows if one.pressure_pa is not None]
    return HousePressure(
        floor_pa=floor_pa,
        hood_pa=floor_pa + gradient * house.hood_m,
        gradient_pa_m=gradient,
        neutral_m=None if gradient == 0.0 else -floor_pa / gradient,
        flows=flows,
        residual=residual,
        extrapolated=max(across) > MEASURED_PA[1],
    )
