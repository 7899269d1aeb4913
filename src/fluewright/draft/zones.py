"""Pressures in a house of several zones: closed doors, grilles, return leaks, closets.

Each zone keeps its own mass; openings join zones with each other and with outdoors. What flows
through an opening depends on the difference across it alone and never falls with it, so the
pressures are unique. Newton with shortened steps finds them; where a step does not help, each
zone is balanced in turn, which always gets nearer. A zone whose pressure was measured keeps it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fluewright.draft.house import (
    FURTHEST_PA,
    LINEAR_BELOW_PA,
    RESIDUAL,
    Fan,
    Flow,
    Vent,
    fan_flow,
    opening_flow,
    vent_flow,
)
from fluewright.draft.leakage import Leakage, air_density
from fluewright.draft.monotone import rising_root
from fluewright.draft.system import GRAVITY_M_S2, STANDARD_AIR_PA
from fluewright.errors import NotSolved, OutOfRange

OUTDOORS = "outdoors"
_ROUNDS, _HALVINGS = 100, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A room or group of rooms of one pressure.

    Attributes:
        name: not "outdoors".
        air_k: temperature of its air. [K]
        fans: that take air out of it to outdoors (positive) or bring air in.
        vents: of appliances in it, heights above the common floor.
        measured_pa: indoors less outdoors at the common floor where somebody measured it;
            it is kept, and what does not balance is reported. None: to be found. [Pa]
    """

    name: str
    air_k: float
    fans: tuple[Fan, ...] = ()
    vents: tuple[Vent, ...] = ()
    measured_pa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """An opening between two zones, or a zone and outdoors.

    Attributes:
        name: door undercut, grille, leak.
        inner, outer: names of zones; ``outer`` may be "outdoors".
        leak: its law; 0.5 for a plain opening.
        height_m: above the common floor. [m]
        outside_pa: wind on its outer end, outdoors only. [Pa]
    """

    name: str
    inner: str
    outer: str
    leak: Leakage
    height_m: float = 0.0
    outside_pa: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A fan that moves air from one zone to another: an air handler with leaky ducts. [m3/s]"""

    name: str
    out_of: str
    into: str
    flow_m3_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ZonePressure:
    """One zone as it settles.

    Attributes:
        floor_pa: indoors less outdoors at the common floor. [Pa]
        gradient_pa_m: what a meter of height adds. [Pa/m]
        residual: mass left over relative to what passes; of a measured zone, what the survey's
            openings and fans do not explain. [-]
        measured: whether its pressure was given.
    """

    floor_pa: float
    gradient_pa_m: float
    residual: float
    measured: bool

    def at(self, height_m: float) -> float:
        """Indoors less outdoors at a height above the common floor. [Pa]"""
        return self.floor_pa + self.gradient_pa_m * height_m


@dataclass(frozen=True, slots=True, kw_only=True)
class ZonePressures:
    """All zones, and every flow: of links from inner to outer positive, of fans and vents out."""

    zones: Mapping[str, ZonePressure]
    flows: tuple[Flow, ...]
    residual: float


def zone_pressures(
    zones: Sequence[Zone],
    links: Sequence[Link],
    outdoor_k: float,
    moved: Sequence[Moved] = (),
    air_pa: float = STANDARD_AIR_PA,
) -> ZonePressures:
    """Pressure of every zone at which it keeps its mass. [Pa]

    Source: mass balance of each zone, each well mixed and of one temperature.

    Args:
        zones: rooms with fans and vents.
        links: all openings.
        outdoor_k: [K]
        moved: fans between zones.
        air_pa: absolute. [Pa]
    Returns:
        Pressures, flows, the largest residual of the zones that had to be found.
    Raises:
        OutOfRange: names that do not fit, temperatures of no house.
        NotSolved: a zone that no opening joins to outdoors, or no balance.
    """
    net = _Net(zones, links, outdoor_k, moved, air_pa)
    net.settle()
    found = {
        zone.name: ZonePressure(
            floor_pa=net.pressure[zone.name],
            gradient_pa_m=net.gradient[zone.name],
            residual=net.residual(zone.name),
            measured=zone.measured_pa is not None,
        )
        for zone in zones
    }
    worst = max((one.residual for one in found.values() if not one.measured), default=0.0)
    if worst > RESIDUAL:
        raise NotSolved(
            f"zones: the mass left over is {worst:.2g} of what flows after {_ROUNDS} rounds. "
            "Look for a vent whose flow jumps, or openings of absurd size."
        )
    return ZonePressures(zones=found, flows=net.flows(), residual=worst)


class _Net:
    """The network while its pressures are sought."""

    def __init__(
        self,
        zones: Sequence[Zone],
        links: Sequence[Link],
        outdoor_k: float,
        moved: Sequence[Moved],
        air_pa: float,
    ) -> None:
        self.zones = {zone.name: zone for zone in zones}
        self.links, self.moved = links, moved
        self.density = {zone.name: air_density(zone.air_k, air_pa) for zone in zones}
        self.density[OUTDOORS] = air_density(outdoor_k, air_pa)
        outside = self.density[OUTDOORS]
        self.gradient = {n: GRAVITY_M_S2 * (outside - d) for n, d in self.density.items()}
        self.pressure = {zone.name: zone.measured_pa or 0.0 for zone in zones} | {OUTDOORS: 0.0}
        self.unknown = [zone.name for zone in zones if zone.measured_pa is None]
        self._refuse(zones)

    def _refuse(self, zones: Sequence[Zone]) -> None:
        """Names that do not fit, and zones that nothing holds."""
        if len(self.zones) != len(zones) or OUTDOORS in self.zones:
            raise OutOfRange('zones: each needs a name of its own, none may be "outdoors".')
        ends = [(one.name, (one.inner, one.outer)) for one in self.links]
        ends += [(one.name, (one.out_of, one.into)) for one in self.moved]
        for name, pair in ends:
            odd = [end for end in pair if end not in self.density]
            if odd or pair[0] == pair[1]:
                raise OutOfRange(f"{name}: it joins {pair[0]} and {pair[1]}. Name two zones.")
        held = {OUTDOORS} | (self.zones.keys() - set(self.unknown))
        while True:
            more = {
                end
                for one in self.links
                for end in (one.inner, one.outer)
                if {one.inner, one.outer} & held
            } - held
            if not more:
                break
            held |= more
        lost = [name for name in self.unknown if name not in held]
        if lost:
            raise NotSolved(
                f"zones: no opening joins {', '.join(lost)} to outdoors, not even by way of "
                "another. Describe door gaps, grilles and leaks."
            )

    def across(self, link: Link) -> float:
        """Inner less outer pressure at the link. [Pa]"""
        inner = self.pressure[link.inner] + self.gradient[link.inner] * link.height_m
        outer = self.pressure[link.outer] + self.gradient[link.outer] * link.height_m
        return inner - outer - link.outside_pa

    def through(self, link: Link) -> float:
        """Mass from inner to outer. [kg/s]"""
        return opening_flow(
            link.leak, self.across(link), self.density[link.inner], self.density[link.outer]
        )

    def steepness(self, link: Link) -> float:
        """Mass that a pascal more across the link adds. [kg/(s Pa)]"""
        dp = self.across(link)
        size = max(abs(dp), LINEAR_BELOW_PA)
        density = self.density[link.inner if dp >= 0.0 else link.outer]
        share = link.leak.n if abs(dp) > LINEAR_BELOW_PA else 1.0
        return density * link.leak.c * share * math.pow(size, link.leak.n - 1.0)

    def parts(self, name: str) -> list[float]:
        """All that leaves a zone, one by one. [kg/s]"""
        zone = self.zones[name]
        outside = self.density[OUTDOORS]
        found = [fan_flow(fan, self.density[name], outside).mass_kg_s for fan in zone.fans]
        for vent in zone.vents:
            dp = self.pressure[name] + self.gradient[name] * vent.height_m
            found.append(vent_flow(vent, dp))
        for one in self.moved:
            mass = self.density[one.out_of] * one.flow_m3_s
            found += [mass] * (one.out_of == name) + [-mass] * (one.into == name)
        for link in self.links:
            if name in (link.inner, link.outer):
                found.append(self.through(link) if name == link.inner else -self.through(link))
        return found

    def excess(self, name: str) -> float:
        """Mass that leaves a zone less what enters. [kg/s]"""
        return math.fsum(self.parts(name))

    def residual(self, name: str) -> float:
        """Excess relative to what passes the zone, a trickle where nothing does. [-]"""
        parts = self.parts(name)
        out = math.fsum(part for part in parts if part > 0.0)
        into = -math.fsum(part for part in parts if part < 0.0)
        least = math.fsum(
            self.density[name] * link.leak.c * LINEAR_BELOW_PA**link.leak.n
            for link in self.links
            if name in (link.inner, link.outer)
        )
        most = max(out, into, least)
        return abs(math.fsum(parts)) / most if most > 0.0 else 0.0

    def size(self) -> float:
        """The largest excess of all. [kg/s]"""
        return max((abs(self.excess(name)) for name in self.unknown), default=0.0)

    def settle(self) -> None:
        """Finds the pressures: steps of Newton, else each zone in turn."""
        for _ in range(_ROUNDS):
            if max(map(self.residual, self.unknown), default=0.0) < 1e-3 * RESIDUAL:
                return
            if not self._newton():
                if max(map(self.residual, self.unknown)) < RESIDUAL:
                    return
                self._each_in_turn()

    def _newton(self) -> bool:
        """One step, shortened until it helps; False where none does."""
        before, start = self.size(), dict(self.pressure)
        step = solved(self._slopes(), [-self.excess(name) for name in self.unknown])
        if step is None:
            return False
        share = 1.0
        for _ in range(_HALVINGS):
            for name, change in zip(self.unknown, step, strict=True):
                self.pressure[name] = start[name] + share * change
            if self.size() < (1.0 - 0.1 * share) * before:
                return True
            share *= 0.5
        self.pressure = start
        return False

    def _slopes(self) -> list[list[float]]:
        """How the excess of each zone answers to the pressure of each. [kg/(s Pa)]"""
        at = {name: i for i, name in enumerate(self.unknown)}
        rows = [[0.0] * len(at) for _ in at]
        for link in self.links:
            slope = self.steepness(link)
            for one, other in ((link.inner, link.outer), (link.outer, link.inner)):
                if one in at:
                    rows[at[one]][at[one]] += slope
                    if other in at:
                        rows[at[one]][at[other]] -= slope
        for name, i in at.items():
            for vent in self.zones[name].vents:
                dp = self.pressure[name] + self.gradient[name] * vent.height_m
                rise = vent_flow(vent, dp + 1e-3) - vent_flow(vent, dp - 1e-3)
                rows[i][i] += max(rise, 0.0) / 2e-3
        return rows

    def _each_in_turn(self) -> None:
        """Balances one zone after the other with the rest held."""
        for name in self.unknown:

            def balance(x: float, name: str = name) -> float:
                self.pressure[name] = x
                return self.excess(name)

            start = self.pressure[name]
            root = rising_root(balance, start, 0.1, FURTHEST_PA, f"pressure of {name} [Pa]")
            self.pressure[name] = root.x

    def flows(self) -> tuple[Flow, ...]:
        """Every flow with the pressure across it."""
        found = [
            Flow(name=one.name, mass_kg_s=self.through(one), pressure_pa=self.across(one))
            for one in self.links
        ]
        for zone in self.zones.values():
            inside, outside = self.density[zone.name], self.density[OUTDOORS]
            found += [fan_flow(fan, inside, outside) for fan in zone.fans]
            for vent in zone.vents:
                dp = self.pressure[zone.name] + self.gradient[zone.name] * vent.height_m
                mass = vent_flow(vent, dp)
                found.append(Flow(name=vent.name, mass_kg_s=mass, pressure_pa=dp))
        for one in self.moved:
            mass = self.density[one.out_of] * one.flow_m3_s
            found.append(Flow(name=one.name, mass_kg_s=mass))
        return tuple(found)


def solved(rows: list[list[float]], right: list[float]) -> list[float] | None:
    """Solution of a small linear system by elimination; None where it has none."""
    a = [[*row, b] for row, b in zip(rows, right, strict=True)]
    n = len(a)
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(a[r][i]))
        if a[best][i] == 0.0:
            return None
        a[i], a[best] = a[best], a[i]
        for r in range(i + 1, n):
            factor = a[r][i] / a[i][i]
            for c in range(i, n + 1):
                a[r][c] -= factor * a[i][c]
    found = [0.0] * n
    for i in reversed(range(n)):
        known = math.fsum(a[i][c] * found[c] for c in range(i + 1, n))
        found[i] = (a[i][n] - known) / a[i][i]
    return found
