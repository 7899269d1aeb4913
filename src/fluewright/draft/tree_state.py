"""What a shared vent is like at one of its balances: every appliance, connector and pipe."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fluewright.draft import kernel, tree_kernel
from fluewright.draft.gas import air_molar, dew_point
from fluewright.draft.solve import Branch as Word
from fluewright.draft.solve import Station, along, at_rest
from fluewright.draft.system import Segment
from fluewright.draft.tree_kernel import Balance, Net
from fluewright.draft.tree_system import Joined, branches, commons


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """One appliance and its connector.

    Attributes:
        name: of the appliance.
        flue_kg_s: its flue gas; 0 where it stands idle.
        flow_kg_s: up the connector; below 0 gas comes down it.
        branch: drafting, spilling, stalled or reversed; an idle one drafts room air. An idle
            one without a hood is stalled: nothing passes it.
        dilution: room air drawn in at its hood, a kilogram of its flue gas; infinite where idle.
        spilled: share of its flue gas that goes into a room, at whichever hood. [-]
        foreign_kg_s: flue gas of OTHER appliances that comes out at its hood.
        draft_pa: static pressure at the start of the connector less that of its room. [Pa]
        gas_k: gas at the start of the connector. [K]
        co2_dry, water: mole fractions in the connector, dry and wet. [-]
        stations: its connector upward.
    """

    name: str
    flue_kg_s: float
    flow_kg_s: float
    branch: Word
    dilution: float
    spilled: float
    foreign_kg_s: float
    draft_pa: float
    gas_k: float
    co2_dry: float
    water: float
    stations: tuple[Station, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """One shared pipe.

    Attributes:
        name: of the pipe.
        flow_kg_s: up it; below 0 gas comes down.
        gas_k: gas at its foot. [K]
        co2_dry, water: mole fractions in it, dry and wet. [-]
        dew_k: dew point in it; None where it holds no water. [K]
        stations: upward.
    """

    name: str
    flow_kg_s: float
    gas_k: float
    co2_dry: float
    water: float
    dew_k: float | None
    stations: tuple[Station, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TreeRoot:
    """One set of flows at which all pressures balance.

    Attributes:
        appliances: in the order of the vent's description.
        shared: its pipes, the one with the cap last.
        stable: whether the vent returns to it after a small push.
        residual: what the pressures leave, as a share of all of them. [-]
        mass_error: what the gas of any one appliance leaves, as a share of it. [-]
        energy_error: what the heat leaves, as a share of all that goes through. [-]
    """

    appliances: tuple[Served, ...]
    shared: tuple[Shared, ...]
    stable: bool
    residual: float
    mass_error: float
    energy_error: float

    @property
    def vent_kg_s(self) -> float:
        """Flow at the cap, up above 0. [kg/s]"""
        return self.shared[-1].flow_kg_s

    @property
    def spills(self) -> bool:
        """Whether flue gas of any appliance goes into a room."""
        return any(one.spilled > 0.0 for one in self.appliances)

    @property
    def spilled_kg_s(self) -> float:
        """Flue gas of all appliances that goes into rooms. [kg/s]"""
        return sum(one.spilled * one.flue_kg_s for one in self.appliances)


def state(joined: Joined, net: Net, own: list[float], stable: bool, residual: float) -> TreeRoot:
    """Gas, temperatures and pressures of a vent at one of its balances.

    Args:
        joined: the vent.
        net: the same as numbered streams.
        own: flow of each branch. [kg/s]
        stable: what is known of the balance already.
        residual: likewise. [-]
    Returns:
        All of it by name.
    """
    at = tree_kernel.balance(own, net)
    parts = _parts(at.flows, net)
    spilt = escapes(at.flows, net)
    drawn_w, left_w = _ends(at, net)
    served, shared = [], []
    for i, branch in enumerate(branches(joined)):
        stations, lost_w = _stations(branch.segments, i, at, net, _dew(joined, parts[i], net))
        left_w += lost_w
        served.append(_served(joined, i, at, parts[i], spilt, stations, net))
    for i, common in enumerate(commons(joined), net.many):
        dew = _dew(joined, parts[i], net)
        stations, lost_w = _stations(common.segments, i, at, net, dew)
        left_w += lost_w
        co2, water = _content(joined, parts[i], net)
        shared.append(
            Shared(
                name=common.name,
                flow_kg_s=at.flows[i],
                gas_k=at.mixed[i][0],
                co2_dry=co2,
                water=water,
                dew_k=dew,
                stations=tuple(stations),
            )
        )
    return TreeRoot(
        appliances=tuple(served),
        shared=tuple(shared),
        stable=stable,
        residual=residual,
        mass_error=_mass_error(at.flows, parts, spilt, net),
        energy_error=abs(drawn_w - left_w) / drawn_w if drawn_w > 0.0 else 0.0,
    )


def _served(
    joined: Joined,
    i: int,
    at: Balance,
    parts: list[float],
    spilt: list[list[float]],
    stations: list[Station],
    net: Net,
) -> Served:
    branch, flow = branches(joined)[i], at.flows[i]
    flue = branch.flue.mass_kg_s
    co2, water = _content(joined, parts, net)
    drawn = max(flow - flue, 0.0)
    return Served(
        name=branch.name,
        flue_kg_s=flue,
        flow_kg_s=flow,
        branch=word(i, flow, net),
        dilution=drawn / flue if flue > 0.0 else math.inf,
        spilled=min(sum(out[i] for out in spilt) / flue, 1.0) if flue > 0.0 else 0.0,
        foreign_kg_s=sum(spilt[i][k] for k in range(net.many) if k != i),
        draft_pa=stations[0].start_pa - net.pars[i][kernel.ROOM_PA],
        gas_k=at.lower[i][0],
        co2_dry=co2,
        water=water,
        stations=tuple(stations),
    )


def word(i: int, flow: float, net: Net) -> Word:
    """What a branch does at a flow."""
    if i not in net.open:
        return "drafting" if flow > 0.0 else "stalled"
    if abs(flow) <= net.still[i]:
        return "stalled"
    if flow < 0.0:
        return "reversed"
    return "drafting" if flow >= net.pars[i][kernel.FLUE_KG_S] else "spilling"


def _parts(flows: list[float], net: Net) -> list[list[float]]:
    """What each stream is made of by mass: flue gas by appliance, room air, outdoor air. [-]"""
    many = net.many
    outdoor = [0.0] * many + [0.0, 1.0]
    parts = [outdoor] * len(flows)
    sums = [[0.0] * (many + 2) for _ in flows]
    for i, flow in enumerate(flows):
        if flow <= 0.0:
            continue
        if i < many:
            flue = min(flow, net.pars[i][kernel.FLUE_KG_S])
            parts[i] = [0.0] * many + [(flow - flue) / flow, 0.0]
            parts[i][i] = flue / flow
        else:
            parts[i] = _whole(sums[i], outdoor)
        if net.above[i] >= 0:
            _pour(sums[net.above[i]], flow, parts[i])
    for i in range(len(flows) - 1, -1, -1):
        if flows[i] < 0.0:
            above = net.above[i]
            parts[i] = outdoor if above < 0 else _whole(sums[above], outdoor)
            if i >= many:
                _pour(sums[i], -flows[i], parts[i])
    return parts


def _pour(sums: list[float], flow: float, parts: list[float]) -> None:
    for k, part in enumerate(parts):
        sums[k] += flow * part


def _whole(sums: list[float], otherwise: list[float]) -> list[float]:
    mass = sum(sums)
    return [one / mass for one in sums] if mass > 0.0 else otherwise


def escapes(flows: list[float], net: Net) -> list[list[float]]:
    """Flue gas that comes out at each hood, one row a hood, by appliance. [kg/s]"""
    parts = _parts(flows, net)
    return [_spilt(i, flows[i], parts[i], net) for i in range(net.many)]


def _spilt(i: int, flow: float, parts: list[float], net: Net) -> list[float]:
    """Flue gas of each appliance that comes out at the hood of one. [kg/s]"""
    out = [max(-flow, 0.0) * parts[k] for k in range(net.many)]
    if i in net.open:
        out[i] += max(net.pars[i][kernel.FLUE_KG_S] - max(flow, 0.0), 0.0)
    return out


def _mass_error(
    flows: list[float], parts: list[list[float]], spilt: list[list[float]], net: Net
) -> float:
    """The worst of the balances of each appliance's flue gas. [-]"""
    worst = 0.0
    for k, par in enumerate(net.pars):
        flue = par[kernel.FLUE_KG_S]
        if flue > 0.0:
            out = max(flows[-1], 0.0) * parts[-1][k] + sum(one[k] for one in spilt)
            worst = max(worst, abs(out - flue) / flue)
    return worst


def _content(joined: Joined, parts: list[float], net: Net) -> tuple[float, float]:
    """Dry share of carbon dioxide and wet share of water of a mixture. [-, -]"""
    room = joined.around.room_water
    wet = dry = co2 = vapor = 0.0
    for k, branch in enumerate(branches(joined)):
        kmol = parts[k] / branch.flue.molar_kg_kmol
        wet += kmol
        vapor += kmol * branch.flue.water
        dry += kmol * (1.0 - branch.flue.water)
        co2 += kmol * (1.0 - branch.flue.water) * branch.flue.co2_dry
    for mass, water in ((parts[net.many], room), (parts[-1], joined.around.outdoor_water)):
        kmol = mass / air_molar(water)
        wet += kmol
        vapor += kmol * water
        dry += kmol * (1.0 - water)
    return co2 / dry, vapor / wet


def _dew(joined: Joined, parts: list[float], net: Net) -> float | None:
    _, water = _content(joined, parts, net)
    return dew_point(water * joined.around.air_pa) if water > 0.0 else None


def _stations(
    segments: tuple[Segment, ...], i: int, at: Balance, net: Net, dew: float | None
) -> tuple[list[Station], float]:
    """The stations of a stream and the heat that it loses. [., W]"""
    par = net.pars[min(i, net.many - 1)]
    flow, above = at.flows[i], net.above[i]
    top_pa = par[kernel.CAP_PA] if above < 0 else at.foot_pa[above]
    if abs(flow) <= net.still[i]:
        (low_k, _, cp), (high_k, _, _) = at.lower[i], at.upper[i]
        return at_rest(segments, top_pa, par), flow * cp * (low_k - high_k)
    if flow > 0.0:
        gas, total = at.lower[i], at.foot_pa[i]
        if i < net.many:
            total = par[kernel.ROOM_PA] + kernel.entering(flow, par)[3]
            if i not in net.open:  # all its gas enters, at the pressure that takes
                total -= at.spare_pa[i]
    else:
        gas, total = at.upper[i], top_pa
        if above < 0:
            area = net.rows[i][-1][kernel.AREA]
            head = kernel.velocity_head(-flow, gas[0], gas[1], area, par[kernel.AIR_PA])
            total -= (par[kernel.CAP_LOSS] + kernel.BASE_ENTRANCE_LOSS) * head
    found, _, lost_w, _ = along(segments, net.rows[i], flow, gas, total, par, dew)
    return found, lost_w


def _ends(at: Balance, net: Net) -> tuple[float, float]:
    """Heat that streams bring into the vent at its ends, and take out there. [W, W]"""
    brought = left = 0.0
    for i, flow in enumerate(at.flows):
        gas_k, _, cp = at.lower[i]
        if i < net.many:
            brought += max(flow, 0.0) * cp * gas_k
            left += max(-flow, 0.0) * cp * gas_k
        gas_k, _, cp = at.upper[i]
        if net.above[i] < 0:
            left += max(flow, 0.0) * cp * gas_k
            brought += max(-flow, 0.0) * cp * gas_k
    return brought, left
