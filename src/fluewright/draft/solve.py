"""Where a vent settles: every flow at which the pressures balance, and what it is like there.

The arithmetic is that of ``draft.kernel``; this gives it its figures and its results their names.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.draft import kernel
from fluewright.draft.gas import air_molar, dew_point
from fluewright.draft.plausible import refuse
from fluewright.draft.system import (
    AIR_CP_J_KGK,
    GAS_CONSTANT_J_KMOL_K,
    GRAVITY_M_S2,
    Lone,
    Segment,
)
from fluewright.errors import NotSolved

Branch = Literal["drafting", "spilling", "stalled", "reversed"]

MOST_ROOTS = 12
RESIDUAL_PA = 1e-6  # a root that leaves more than this of its balance is none


@dataclass(frozen=True, slots=True, kw_only=True)
class Root:
    """One flow at which the pressures balance.

    Attributes:
        flow_kg_s: up the vent; 0 where it stands still, below 0 where outdoor air comes down.
        branch: drafting (all flue gas goes up), spilling (part of it), stalled, reversed.
        stable: whether the vent returns to it after a small push.
        residual_pa: what is left of the balance. [Pa]
    """

    flow_kg_s: float
    branch: Branch
    stable: bool
    residual_pa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One segment at one flow, its start and end in the direction of the drawing: upward.

    Pressures are static, less that of the outdoor air at the same height. ``wall_k`` is that of
    the coldest inside wall, None where the films are not known; ``wet`` says whether water
    condenses on it.
    """

    name: str
    start_k: float
    mean_k: float
    end_k: float
    start_pa: float
    end_pa: float
    speed_m_s: float
    wall_k: float | None
    wet: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Operating:
    """The vent at one of its roots.

    Attributes:
        root: the flow.
        dilution: room air drawn in at the hood, a kilogram of flue gas. [-]
        spilled: share of the flue gas that goes into the room. [-]
        vent_kg_s: flow in the vent, either way. [kg/s]
        hood_pa: pressure in the hood less that of the room, with the lift of the gas in it. [Pa]
        draft_pa: static pressure at the start of the vent less that of the room. [Pa]
        gas_k: temperature of the gas that enters the vent. [K]
        co2_dry, water: mole fractions in the vent, dry and wet. [-]
        dew_k: dew point of the gas in the vent; None where it holds no water. [K]
        stations: segment by segment, from hood to cap.
        mass_error, energy_error: what the balances of carbon and heat leave, as shares. [-]
    """

    root: Root
    dilution: float
    spilled: float
    vent_kg_s: float
    hood_pa: float
    draft_pa: float
    gas_k: float
    co2_dry: float
    water: float
    dew_k: float | None
    stations: tuple[Station, ...]
    mass_error: float
    energy_error: float

    @property
    def wet(self) -> bool | None:
        """Whether water condenses anywhere; None where no wall tells."""
        known = [one.wet for one in self.stations if one.wet is not None]
        return True if any(known) else (False if len(known) == len(self.stations) else None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """All roots of a system, and what it is like at the one it works at when hot.

    ``margin_pa`` is the further suction of the room, in pascals, at which flue gas begins to
    spill; below 0 it spills already by that much. Of an idle appliance it is the suction at which
    outdoor air comes down. A fan-assisted appliance has the one root of
    its own flow; its margin is how far the pressure where it enters the vent is below the room's.
    """

    roots: tuple[Root, ...]
    at: Operating
    margin_pa: float


def solve(system: Lone) -> Solved:
    """All steady states of one appliance on its own vent, and the hot one in full.

    Source: balance of pressures, mass and heat of a stream; `docs/draft-physics.md`.
    Valid: steady; gas below 1,000 K; no condensation heat.

    Args:
        system: flame, hood, vent and surroundings.
    Returns:
        The roots and the state at the largest stable one.
    Raises:
        OutOfRange: a figure that no vent can have; it says which segment.
        NotSolved: no flow balances, and why.
    """
    par, rows = figures(system)
    if system.hood is None:
        return _forced(system, par, rows)
    found = [0.0] * MOST_ROOTS
    many = kernel.roots(par, rows, len(rows), found)
    if many < 0:
        raise NotSolved(
            "draft: no flow was found at which the losses outweigh what drives it. "
            "Check the diameters and the loss coefficients."
        )
    flow = system.flue.mass_kg_s
    roots = tuple(_roots(sorted(found[:many]), flow, par, rows))
    stable = [root for root in roots if root.stable]
    if not stable:
        raise NotSolved(
            f"draft: {len(roots)} balances were found, none of which the vent would return to."
        )
    still = kernel.TINY_SHARE * kernel.flow_scale(par, rows, len(rows))
    margin = kernel.rising(max(flow, still), par, rows, len(rows))
    return Solved(roots=roots, at=operating(system, stable[-1], par, rows), margin_pa=margin)


def figures(system: Lone) -> tuple[list[float], list[list[float]]]:
    """The figures of a system as ``draft.kernel`` takes them.

    Raises:
        OutOfRange: a figure that no vent can have.
    """
    refuse(system)
    flue, around, hood = system.flue, system.around, system.hood
    par = [0.0] * kernel.PAR_SIZE
    par[kernel.FLUE_KG_S] = flue.mass_kg_s
    par[kernel.FLUE_K] = flue.temperature_k
    par[kernel.FLUE_MOLAR] = flue.molar_kg_kmol
    par[kernel.FLUE_CP] = flue.cp_j_kgk
    par[kernel.RELIEF_M2] = math.inf if hood is None else hood.relief_m2
    par[kernel.PLUME_M] = 0.0 if hood is None else hood.plume_m
    par[kernel.OUT_K] = around.outdoor_k
    par[kernel.ROOM_K] = around.room_k
    par[kernel.AIR_PA] = around.air_pa
    par[kernel.ROOM_PA] = around.room_pa
    par[kernel.CAP_PA] = around.cap_pa
    par[kernel.CAP_LOSS] = system.cap_loss
    par[kernel.ROOM_MOLAR] = air_molar(around.room_water)
    par[kernel.ROOM_CP] = AIR_CP_J_KGK
    par[kernel.OUT_MOLAR] = air_molar(around.outdoor_water)
    par[kernel.OUT_CP] = AIR_CP_J_KGK
    par[kernel.MOMENTUM] = float(system.momentum)
    return par, [row_of(segment) for segment in system.segments]


def row_of(segment: Segment) -> list[float]:
    """The figures of one segment as ``draft.kernel`` takes them."""
    area = free_area(segment)
    row = [0.0] * kernel.ROW_SIZE
    row[kernel.LENGTH] = segment.length_m
    row[kernel.RISE] = segment.rise_m
    row[kernel.DIAMETER] = segment.diameter_m
    row[kernel.AREA] = area
    row[kernel.AMBIENT] = segment.ambient_k
    row[kernel.HEAT] = segment.u_w_m2k * 4.0 * area / segment.diameter_m
    row[kernel.ENTRY] = segment.entry_loss
    row[kernel.ROUGH] = segment.roughness_m if segment.law == "rough" else -1.0
    row[kernel.DARCY] = segment.darcy
    return row


def free_area(segment: Segment) -> float:
    """Free area of a segment; of a round pipe where none is given. [m2]"""
    if segment.area_m2 is not None:
        return segment.area_m2
    return math.pi / 4.0 * segment.diameter_m**2


def operating(system: Lone, root: Root, par: list[float], rows: list[list[float]]) -> Operating:
    """Temperatures, pressures and gas of a system at one of its roots."""
    flue = system.flue
    if root.flow_kg_s > 0.0:
        gas_k, molar, cp, hood_pa = kernel.entering(root.flow_kg_s, par)
    else:
        gas_k, molar, cp, hood_pa = par[kernel.OUT_K], par[kernel.OUT_MOLAR], AIR_CP_J_KGK, 0.0
    drawn = max(root.flow_kg_s - flue.mass_kg_s, 0.0)
    kept = min(max(root.flow_kg_s, 0.0), flue.mass_kg_s)
    co2, water = _mixed(system, kept, drawn)
    air_pa = system.around.air_pa
    dew = dew_point(water * air_pa) if water > 0.0 else None
    stations, top_k, lost_w = _stations(system, root, par, rows, dew)
    if root.flow_kg_s < 0.0:
        hood_pa = kernel.reversed_hood(-root.flow_kg_s, top_k, par)
    elif root.flow_kg_s == 0.0:
        hood_pa = stations[0].start_pa - par[kernel.ROOM_PA]
    flow = abs(root.flow_kg_s)
    brought = flow * cp * gas_k
    left = flow * cp * top_k + lost_w
    return Operating(
        root=root,
        dilution=drawn / flue.mass_kg_s if flue.mass_kg_s > 0.0 else math.inf,
        spilled=1.0 - kept / flue.mass_kg_s if flue.mass_kg_s > 0.0 else 0.0,
        vent_kg_s=flow,
        hood_pa=hood_pa,
        draft_pa=stations[0].start_pa - par[kernel.ROOM_PA],
        gas_k=gas_k,
        co2_dry=co2,
        water=water,
        dew_k=dew,
        stations=tuple(stations),
        mass_error=_carbon_error(system, kept, flow / molar, co2 * (1.0 - water)),
        energy_error=abs(brought - left) / brought if brought > 0.0 else 0.0,
    )


def _carbon_error(system: Lone, kept: float, kmol: float, dry: float) -> float:
    """Carbon in the vent less that which the flue gas brings, as a share of it. [-]

    The vent's gas counts by the mass and molar mass that the kernel reckons with.
    """
    flue = system.flue
    brought = kept / flue.molar_kg_kmol * (1.0 - flue.water) * flue.co2_dry
    return abs(kmol * dry - brought) / brought if brought > 0.0 else 0.0


def _forced(system: Lone, par: list[float], rows: list[list[float]]) -> Solved:
    """A fan-assisted appliance: the flow is its own, the question is the pressure it meets."""
    flow = system.flue.mass_kg_s
    if not flow > 0.0:
        raise NotSolved("draft: an idle appliance without a draft hood sets no flow of its own.")
    margin = kernel.rising(flow, par, rows, len(rows))
    root = Root(flow_kg_s=flow, branch="drafting", stable=True, residual_pa=0.0)
    return Solved(roots=(root,), at=operating(system, root, par, rows), margin_pa=margin)


def _roots(
    flows: list[float], flue: float, par: list[float], rows: list[list[float]]
) -> list[Root]:
    """The roots with their branch and whether they hold, and the standstill where there is one."""
    count = len(rows)
    still = kernel.TINY_SHARE * kernel.flow_scale(par, rows, count)
    below = kernel.spare_pressure(-still, par, rows, count)
    above = kernel.spare_pressure(still, par, rows, count)
    found: list[Root] = []
    for flow in flows:
        near = 1e-6 * abs(flow)
        falls = kernel.spare_pressure(flow - near, par, rows, count) > 0.0
        branch: Branch = "reversed" if flow < 0 else "drafting" if flow >= flue else "spilling"
        left = kernel.spare_pressure(flow, par, rows, count)
        if not abs(left) <= RESIDUAL_PA * max(abs(par[kernel.ROOM_PA]), 1.0):
            raise NotSolved(
                f"draft: a balance at {flow:.4g} kg/s leaves {left:.3g} Pa. "
                "Check the diameters and the loss coefficients."
            )
        found.append(Root(flow_kg_s=flow, branch=branch, stable=falls, residual_pa=left))
    if (below > 0.0) != (above > 0.0):
        # The gas in the vent is another on either side of a standstill, so the balance jumps.
        held = below > 0.0
        found.append(Root(flow_kg_s=0.0, branch="stalled", stable=held, residual_pa=0.0))
    return sorted(found, key=lambda root: root.flow_kg_s)


def _mixed(system: Lone, kept: float, drawn: float) -> tuple[float, float]:
    """Dry share of carbon dioxide and wet share of water of the gas in the vent. [-, -]"""
    flue, room = system.flue, system.around.room_water
    gas = kept / flue.molar_kg_kmol
    air = drawn / air_molar(room)
    if gas + air <= 0.0:
        return 0.0, 0.0
    dry = gas * (1.0 - flue.water) + air * (1.0 - room)
    return flue.co2_dry * gas * (1.0 - flue.water) / dry, (gas * flue.water + air * room) / (
        gas + air
    )


def _stations(
    system: Lone, root: Root, par: list[float], rows: list[list[float]], dew: float | None
) -> tuple[list[Station], float, float]:
    """The segments at one flow, the temperature at the far end, and the heat lost. [., K, W]"""
    if root.flow_kg_s == 0.0:
        return at_rest(system.segments, par[kernel.CAP_PA], par), par[kernel.OUT_K], 0.0
    up = root.flow_kg_s > 0.0
    flow = abs(root.flow_kg_s)
    if up:
        gas_k, molar, cp, hood = kernel.entering(flow, par)
        total = par[kernel.ROOM_PA] + hood
    else:
        gas_k, molar, cp = par[kernel.OUT_K], par[kernel.OUT_MOLAR], par[kernel.OUT_CP]
        head = kernel.velocity_head(flow, gas_k, molar, rows[-1][kernel.AREA], par[kernel.AIR_PA])
        total = par[kernel.CAP_PA] - (par[kernel.CAP_LOSS] + kernel.BASE_ENTRANCE_LOSS) * head
    found, gas_k, lost_w, _ = along(
        system.segments, rows, root.flow_kg_s, (gas_k, molar, cp), total, par, dew
    )
    return found, gas_k, lost_w


def along(
    segments: Sequence[Segment],
    rows: Sequence[Sequence[float]],
    flow: float,
    gas: tuple[float, float, float],
    total: float,
    par: Sequence[float],
    dew: float | None,
) -> tuple[list[Station], float, float, float]:
    """The segments that a stream passes, and what is left of it at its far end.

    Args:
        segments: upward.
        rows: the same as figures.
        flow: up above 0, down below 0, never 0. [kg/s]
        gas: where it enters: temperature, molar mass, heat capacity.
        total: total pressure there, less that of the outdoor air at its height. [Pa]
        par: the system.
        dew: dew point of the gas; None where it holds no water. [K]
    Returns:
        Its stations upward, its temperature at the far end, heat lost, total pressure there.
    """
    up = flow > 0.0
    gas_k, molar, cp = gas
    size = abs(flow)
    order = range(len(rows)) if up else range(len(rows) - 1, -1, -1)
    found: list[Station] = []
    lost_w = 0.0
    for i in order:
        row, segment = rows[i], segments[i]
        area, air_pa = row[kernel.AREA], par[kernel.AIR_PA]
        end_k, mean_k, lift, lost = kernel.stretch(size, gas_k, molar, cp, row, par)
        first = kernel.velocity_head(size, gas_k, molar, area, air_pa)
        last = kernel.velocity_head(size, end_k, molar, area, air_pa)
        if up:
            total -= row[kernel.ENTRY] * first
        near = total - first
        total += (lift if up else -lift) - lost
        far = total - last
        if not up:
            total -= row[kernel.ENTRY] * last
        lost_w += row[kernel.HEAT] * row[kernel.LENGTH] * (mean_k - row[kernel.AMBIENT])
        density = air_pa * molar / (GAS_CONSTANT_J_KMOL_K * mean_k)
        wall = wall_temperature(segment, min(gas_k, end_k))
        found.append(
            Station(
                name=segment.name,
                start_k=gas_k if up else end_k,
                mean_k=mean_k,
                end_k=end_k if up else gas_k,
                start_pa=near if up else far,
                end_pa=far if up else near,
                speed_m_s=math.copysign(size / (density * area), flow),
                wall_k=wall,
                wet=None if wall is None else dew is not None and wall < dew,
            )
        )
        gas_k = end_k
    return (found if up else found[::-1]), gas_k, lost_w, total


def at_rest(segments: Sequence[Segment], at: float, par: Sequence[float]) -> list[Station]:
    """Segments while nothing moves: each at the temperature around it, ``at`` its top. [Pa]"""
    found: list[Station] = []
    out = par[kernel.OUT_MOLAR] / par[kernel.OUT_K]
    air = par[kernel.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    for segment in reversed(segments):
        inside = par[kernel.ROOM_MOLAR] / segment.ambient_k
        lift = GRAVITY_M_S2 * segment.rise_m * air * (out - inside)
        found.append(
            Station(
                name=segment.name,
                start_k=segment.ambient_k,
                mean_k=segment.ambient_k,
                end_k=segment.ambient_k,
                start_pa=at - lift,
                end_pa=at,
                speed_m_s=0.0,
                wall_k=segment.ambient_k,
                wet=None,
            )
        )
        at -= lift
    return found[::-1]


def wall_temperature(segment: Segment, gas_k: float) -> float | None:
    """Inside wall of a segment beside gas of a temperature; None without its inside film. [K]"""
    if segment.inside_w_m2k is None:
        return None
    share = min(segment.u_w_m2k / segment.inside_w_m2k, 1.0)
    return gas_k - share * (gas_k - segment.ambient_k)
