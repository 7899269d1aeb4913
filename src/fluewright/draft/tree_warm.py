"""A start from cold on a shared vent: which appliance takes over, which spills and for how long.

As ``draft.warm_kernel`` for one appliance: gas is steady at every moment, only walls store heat,
and the flows of all hoods follow their branch. Wetness is not computed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.draft import kernel, tree_kernel
from fluewright.draft.system import Segment
from fluewright.draft.tree import follow
from fluewright.draft.tree_kernel import Net, net_of
from fluewright.draft.tree_state import escapes
from fluewright.draft.tree_system import Branch, Common, Joined, branches, commons, refuse_joined
from fluewright.draft.warm_kernel import conduct
from fluewright.draft.warmup import CELL_M, IDLE_STEP_S, IDLE_STEPS, SPILLS, Start, wall_nodes
from fluewright.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One appliance during a start; the sequences hold one entry a step.

    Attributes:
        name: of the appliance.
        burns: whether it is one of those that start.
        flow_kg_s: up its connector; below 0 gas comes down it.
        spilt: share of its flue gas that goes into a room, at whichever hood. [-]
        foreign_kg_s: flue gas of others that comes out at its hood.
        idle_kg_s: flow of its connector before the start.
        spills_s: seconds until its spillage ends; 0 where it never spills, None where it has not
            ended.
        foreign_s: seconds during which gas of others comes out at its hood. [s]
    """

    name: str
    burns: bool
    flow_kg_s: tuple[float, ...]
    spilt: tuple[float, ...]
    foreign_kg_s: tuple[float, ...]
    idle_kg_s: float
    spills_s: float | None
    foreign_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TreeStart:
    """What happens after some appliances of a shared vent start in it cold.

    Attributes:
        burning: those that start, all at once; the others stand idle throughout.
        at_s: time since then. [s]
        courses: of all appliances, in the order of the vent's description.
    """

    burning: tuple[str, ...]
    at_s: tuple[float, ...]
    courses: tuple[Course, ...]

    def late(self, grace_s: float) -> bool:
        """Whether gas of any appliance still comes out, at any hood, after a time."""
        return any(
            one.spills_s is None
            or one.spills_s > grace_s
            or any(
                at > grace_s and out > 0.0
                for at, out in zip(self.at_s, one.foreign_kg_s, strict=True)
            )
            for one in self.courses
        )


def tree_start(joined: Joined, burning: Sequence[str], start: Start) -> TreeStart:
    """What a shared vent does from the moment some of its appliances come on in it cold.

    All have stood idle for an hour before, in the weather and house given.

    Source: quasi-steady gas over lumped walls, as `draft.warmup`; balances as `draft.tree`.
    Valid: no heat of condensation; nothing passes an idle appliance without a hood.

    Args:
        joined: the vent, every appliance at full rate.
        burning: names of those that start.
        start: how each of them starts.
    Returns:
        The course of the start, by appliance.
    Raises:
        OutOfRange: a figure that no vent can have, or an appliance that is not there or is off.
    """
    refuse_joined(joined)
    able = {one.name for one in branches(joined) if one.flue.mass_kg_s > 0.0}
    if not burning or not set(burning) <= able:
        raise OutOfRange(f"start: {', '.join(burning) or 'nothing'} cannot burn; {sorted(able)}.")
    if not (0.0 < start.step_s <= start.burn_s and start.burn_s / start.step_s <= 1e6):
        raise OutOfRange(f"warm-up: steps of {start.step_s:g} s in {start.burn_s:g} s.")
    vent = _Warming.of(joined)
    for i in range(vent.net.many):
        vent.fire(i, 0.0)
    for _ in range(IDLE_STEPS):
        vent.step(IDLE_STEP_S)
    idle = vent.own()
    steps = round(start.burn_s / start.step_s)
    fire = [i for i, one in enumerate(branches(joined)) if one.name in burning]
    for i in fire:
        vent.light(i)
    flows, out = [], []
    for k in range(steps):
        warm = 1.0
        if start.warm_s > 0.0:
            at_s = (k + 1) * start.step_s
            warm = 1.0 - start.cold_share * math.exp(-at_s / start.warm_s)
        for i in fire:
            vent.fire(i, warm)
        vent.step(start.step_s)
        flows.append(vent.own())
        out.append(escapes(tree_kernel.stream_flows(vent.own(), vent.net), vent.net))
    return TreeStart(
        burning=tuple(one.name for one in branches(joined) if one.name in burning),
        at_s=tuple((k + 1) * start.step_s for k in range(steps)),
        courses=tuple(
            _course(i, joined, i in fire, idle[i], flows, out, start.step_s)
            for i in range(vent.net.many)
        ),
    )


def _course(
    i: int,
    joined: Joined,
    burns: bool,
    idle: float,
    flows: list[list[float]],
    out: list[list[list[float]]],
    step_s: float,
) -> Course:
    branch = branches(joined)[i]
    flue = branch.flue.mass_kg_s
    spilt = [min(sum(row[i] for row in one) / flue, 1.0) if burns else 0.0 for one in out]
    foreign = [sum(part for k, part in enumerate(one[i]) if k != i) for one in out]
    last = max((k for k, share in enumerate(spilt) if share > SPILLS), default=-1)
    return Course(
        name=branch.name,
        burns=burns,
        flow_kg_s=tuple(one[i] for one in flows),
        spilt=tuple(spilt),
        foreign_kg_s=tuple(foreign),
        idle_kg_s=idle,
        spills_s=None if last == len(spilt) - 1 else (last + 1) * step_s,
        foreign_s=sum(one > 0.0 for one in foreign) * step_s,
    )


@dataclass(slots=True)
class _Warming:
    """A shared vent cut into cells, with the temperatures of its walls and its flows now."""

    joined: Joined
    net: Net
    full: list[list[float]]
    walls: list[list[list[float]]]
    around_k: list[list[float]]
    store: list[list[list[float]]]
    passes: list[list[list[float]]]
    flows: list[float]

    @classmethod
    def of(cls, joined: Joined) -> _Warming:
        """All walls as warm as what is around them, nothing flowing."""
        fine = replace(joined, root=_fine(joined.root))
        net = net_of(fine)
        streams = [one.segments for one in branches(fine)]
        streams += [one.segments for one in commons(fine)]
        found = cls(
            joined, net, [list(par) for par in net.pars], [], [], [], [], [0.0] * len(net.open)
        )
        for segments, rows in zip(streams, net.rows, strict=True):
            parts = [wall_nodes(segment) for segment in segments]
            for row, segment, (inside, _, _) in zip(rows, segments, parts, strict=True):
                row[kernel.HEAT] = inside * 4.0 * row[kernel.AREA] / row[kernel.DIAMETER]
                row[kernel.AMBIENT] = segment.ambient_k
            found.around_k.append([segment.ambient_k for segment in segments])
            found.walls.append(
                [
                    [segment.ambient_k] * len(store)
                    for segment, (_, store, _) in zip(segments, parts, strict=True)
                ]
            )
            found.store.append([store for _, store, _ in parts])
            found.passes.append([passes for _, _, passes in parts])
        return found

    def own(self) -> list[float]:
        """Flows of all branches. [kg/s]"""
        own = [par[kernel.FLUE_KG_S] for par in self.net.pars]
        for i, flow in zip(self.net.open, self.flows, strict=True):
            own[i] = flow
        return own

    def light(self, i: int) -> None:
        """Lets an appliance burn."""
        self.net.pars[i][:] = self.full[i]

    def fire(self, i: int, warm: float) -> None:
        """How warm an appliance is, as a share of its full rise; 0 turns it off."""
        par = self.net.pars[i]
        if warm <= 0.0:
            par[kernel.FLUE_KG_S] = par[kernel.PLUME_M] = 0.0
        par[kernel.FLUE_K] = par[kernel.ROOM_K]
        par[kernel.FLUE_K] += (self.full[i][kernel.FLUE_K] - par[kernel.ROOM_K]) * warm

    def step(self, step_s: float) -> None:
        """Lets the flows find their way, then the walls take up heat."""
        if self.net.open:
            self.flows = follow(self.flows, self.net)
        at = tree_kernel.balance(self.own(), self.net)
        for i, rows in enumerate(self.net.rows):
            flow, still = at.flows[i], abs(at.flows[i]) <= self.net.still[i]
            up = flow > 0.0
            gas_k, molar, cp = at.lower[i] if up else at.upper[i]
            par = self.net.pars[min(i, self.net.many - 1)]
            for j in range(len(rows)) if up else range(len(rows) - 1, -1, -1):
                wall = self.walls[i][j]
                mean_k = wall[0]
                if not still:
                    gas_k, mean_k, _, _ = kernel.stretch(abs(flow), gas_k, molar, cp, rows[j], par)
                store = [one / step_s for one in self.store[i][j]]
                conduct(wall, store, self.passes[i][j], mean_k, self.around_k[i][j], len(wall),
                        [0.0] * len(wall))  # fmt: skip
                rows[j][kernel.AMBIENT] = wall[0]


def _fine(common: Common) -> Common:
    """The same vent with its segments cut into cells."""
    inlets: list[Branch | Common] = []
    for inlet in common.inlets:
        if isinstance(inlet, Common):
            inlets.append(_fine(inlet))
        else:
            inlets.append(replace(inlet, segments=_cells(inlet.segments)))
    return replace(common, inlets=tuple(inlets), segments=_cells(common.segments))


def _cells(segments: tuple[Segment, ...]) -> tuple[Segment, ...]:
    found: list[Segment] = []
    for segment in segments:
        many = max(1, math.ceil(segment.length_m / CELL_M - 1e-9))
        for k in range(many):
            found.append(
                replace(
                    segment,
                    length_m=segment.length_m / many,
                    rise_m=segment.rise_m / many,
                    entry_loss=segment.entry_loss if k == 0 else 0.0,
                )
            )
    return tuple(found)
