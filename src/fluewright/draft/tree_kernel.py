"""The arithmetic of a balance where streams join and part, in plain floats.

Streams are numbered: the branches first, then the shared pipes, each after all that enter it, the
last one ending at the cap. ``above`` names for each stream the shared pipe at whose foot it ends.
A positive flow goes up. Pressures are total ones, less that of the outdoor air at the same height;
all streams at a junction share one. What flows into a junction mixes there, mass, moles and heat
being kept, and every stream that leaves it, up or down, is that mixture.

Within ``still`` of a standstill the two sides of the balance, which hold different gas, are joined
by a straight line, so that a standing stream is a root like any other.

Source: balances of mass, heat and total pressure at a junction (textbook), with the streams of
``draft.kernel``.
"""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.draft import kernel
from fluewright.draft.solve import figures, row_of
from fluewright.draft.system import AIR_CP_J_KGK, GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2
from fluewright.draft.tree_system import Joined, as_lone, branches, commons

Gas = tuple[float, float, float]  # temperature, molar mass, heat capacity [K, kg/kmol, J/(kg K)]


@dataclass(slots=True)
class Net:
    """A vent as numbered streams.

    Attributes:
        pars: figures of each branch as ``draft.kernel`` takes them.
        rows: segments of each stream.
        above: the shared pipe that each stream enters; -1 for the last.
        open: the branches with a hood, whose flow is sought.
        still: what stands for a flow of nothing in each stream. [kg/s]
    """

    pars: list[list[float]]
    rows: list[list[list[float]]]
    above: list[int]
    open: list[int]
    still: list[float]

    @property
    def many(self) -> int:
        """How many branches there are."""
        return len(self.pars)


@dataclass(slots=True)
class Balance:
    """All streams at one set of flows.

    Attributes:
        flows: of each stream. [kg/s]
        lower: gas at the lower end of each stream, of it or in its junction's mixture.
        upper: gas at the upper end of each stream.
        mixed: gas at the foot of each shared pipe.
        foot_pa: total pressure at the foot of each shared pipe. [Pa]
        spare_pa: pressure to spare upward in each branch. [Pa]
        size_pa: all pressures in the balance of each branch, whatever their sign. [Pa]
    """

    flows: list[float]
    lower: list[Gas]
    upper: list[Gas]
    mixed: list[Gas]
    foot_pa: list[float]
    spare_pa: list[float]
    size_pa: list[float]


def net_of(joined: Joined) -> Net:
    """The numbered streams of a vent.

    Raises:
        OutOfRange: a figure that no vent can have.
    """
    listed, shared = branches(joined), commons(joined)
    names = [one.name for one in listed] + [one.name for one in shared]
    number = {name: i for i, name in enumerate(names)}
    above = [-1] * len(number)
    for common in shared:
        for inlet in common.inlets:
            above[number[inlet.name]] = number[common.name]
    pars, rows = [], []
    for branch in listed:
        par, own = figures(as_lone(branch, joined))
        pars.append(par)
        rows.append(own)
    rows += [[row_of(segment) for segment in common.segments] for common in shared]
    still = [kernel.TINY_SHARE * kernel.flow_scale(pars[0], own, len(own)) for own in rows]
    hooded = [i for i, branch in enumerate(listed) if branch.hood is not None]
    return Net(pars=pars, rows=rows, above=above, open=hooded, still=still)


def stream_flows(own: list[float], net: Net) -> list[float]:
    """Flows of all streams from those of the branches. [kg/s]"""
    flows = [*own, *([0.0] * (len(net.rows) - net.many))]
    for i in range(len(net.rows) - 1):
        flows[net.above[i]] += flows[i]
    return flows


def balance(own: list[float], net: Net) -> Balance:
    """All streams at given flows of the branches.

    Args:
        own: flow of each branch, up above 0. [kg/s]
        net: the vent.
    Returns:
        Gas and pressures of every stream.
    """
    par = net.pars[0]
    outdoor = (par[kernel.OUT_K], par[kernel.OUT_MOLAR], AIR_CP_J_KGK)
    flows = stream_flows(own, net)
    total = len(flows)
    sums = [[0.0, 0.0, 0.0, 0.0] for _ in range(total)]  # what flows into each junction
    done = Balance(
        flows=flows,
        lower=[outdoor] * total,
        upper=[outdoor] * total,
        mixed=[outdoor] * total,
        foot_pa=[0.0] * total,
        spare_pa=[0.0] * net.many,
        size_pa=[0.0] * total,
    )
    drive = _upward(flows, net, done, sums)
    _downward(flows, net, done, sums, drive)
    return done


def _upward(flows: list[float], net: Net, done: Balance, sums: list[list[float]]) -> list[float]:
    """Follows what rises, from the branches to the cap. Pressure that drives each stream. [Pa]"""
    drive = [0.0] * len(flows)
    for i, flow in enumerate(flows):
        if i >= net.many:
            done.mixed[i] = _mixture(sums[i], done.mixed[i])
        if flow <= -net.still[i] or _shut(i, flow, net):
            continue
        moving = max(flow, net.still[i])
        par = net.pars[i] if i < net.many else net.pars[0]
        gas, spare = done.mixed[i], 0.0
        if i < net.many:
            gas_k, molar, cp, spare = kernel.entering(moving, par)
            gas = (gas_k, molar, cp)
        end, pushed, size = risen(moving, gas, net.rows[i], par)
        if net.above[i] < 0:
            area = net.rows[i][-1][kernel.AREA]
            head = kernel.velocity_head(moving, end[0], end[1], area, par[kernel.AIR_PA])
            pushed -= (par[kernel.CAP_LOSS] + 1.0) * head
            size += head
        elif flow > 0.0:
            _add(sums[net.above[i]], flow, end)
        else:
            done.mixed[net.above[i]] = end  # counts where nothing at all flows in
        share = _share(flow, net.still[i])
        drive[i] = share * (spare + pushed)
        done.size_pa[i] = size + abs(spare)
        done.lower[i], done.upper[i] = gas, end
    return drive


def _downward(
    flows: list[float], net: Net, done: Balance, sums: list[list[float]], drive: list[float]
) -> None:
    """Follows what falls, from the cap to the hoods, and adds up the pressures."""
    for i in range(len(flows) - 1, -1, -1):
        flow, above = flows[i], net.above[i]
        par = net.pars[i] if i < net.many else net.pars[0]
        top_pa = par[kernel.CAP_PA] if above < 0 else done.foot_pa[above]
        if flow < net.still[i] and not _shut(i, flow, net):
            moving = max(-flow, net.still[i])
            gas = done.upper[i] if above < 0 else done.mixed[above]
            if above < 0:
                gas = (par[kernel.OUT_K], par[kernel.OUT_MOLAR], AIR_CP_J_KGK)
            end, pushed, size = fallen(moving, gas, net.rows[i], par)
            if above < 0:
                area = net.rows[i][-1][kernel.AREA]
                head = kernel.velocity_head(moving, gas[0], gas[1], area, par[kernel.AIR_PA])
                pushed += (par[kernel.CAP_LOSS] + kernel.BASE_ENTRANCE_LOSS) * head
            if i < net.many:
                area = net.rows[i][0][kernel.AREA]
                pushed += kernel.velocity_head(moving, end[0], end[1], area, par[kernel.AIR_PA])
                pushed += filled_hood(moving, end, par)
            elif flow < 0.0:
                _add(sums[i], -flow, end)
                done.mixed[i] = _mixture(sums[i], done.mixed[i])
            drive[i] += (1.0 - _share(flow, net.still[i])) * pushed
            done.size_pa[i] = max(done.size_pa[i], size + abs(pushed))
            if flow < 0.0:
                done.lower[i], done.upper[i] = end, gas
        if i >= net.many:
            done.foot_pa[i] = top_pa - drive[i]
            done.size_pa[i] += abs(top_pa)
        else:
            done.spare_pa[i] = par[kernel.ROOM_PA] + drive[i] - top_pa
            done.size_pa[i] += abs(par[kernel.ROOM_PA]) + done.size_pa[above]


def risen(
    flow: float, gas: Gas, rows: list[list[float]], par: list[float]
) -> tuple[Gas, float, float]:
    """A stream that goes up: gas at its end, pressure gained, sum of all gains and losses."""
    gas_k, molar, cp = gas
    gained = size = 0.0
    for row in rows:
        entry = row[kernel.ENTRY] * kernel.velocity_head(
            flow, gas_k, molar, row[kernel.AREA], par[kernel.AIR_PA]
        )
        gas_k, _, lift, lost = kernel.stretch(flow, gas_k, molar, cp, row, par)
        gained += lift - lost - entry
        size += abs(lift) + abs(lost) + abs(entry)
    return (gas_k, molar, cp), gained, size


def fallen(
    flow: float, gas: Gas, rows: list[list[float]], par: list[float]
) -> tuple[Gas, float, float]:
    """A stream that goes down: gas at its end, what it has to spare upward, sum of all terms."""
    gas_k, molar, cp = gas
    spare = size = 0.0
    for row in reversed(rows):
        gas_k, _, lift, lost = kernel.stretch(flow, gas_k, molar, cp, row, par)
        entry = row[kernel.ENTRY] * kernel.velocity_head(
            flow, gas_k, molar, row[kernel.AREA], par[kernel.AIR_PA]
        )
        spare += lift + lost + entry
        size += abs(lift) + abs(lost) + abs(entry)
    return (gas_k, molar, cp), spare, size


def filled_hood(flow: float, gas: Gas, par: list[float]) -> float:
    """Pressure of a hood that gas of any kind comes down into, over the room's. [Pa]

    That gas and all flue gas of the appliance mix there and leave by the relief opening.
    """
    flue = par[kernel.FLUE_KG_S]
    gas_k, molar, cp = gas
    air = par[kernel.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    both = flue + flow
    mixed_molar = both / (flue / par[kernel.FLUE_MOLAR] + flow / molar)
    heat = flue * par[kernel.FLUE_CP] + flow * cp
    mixed_k = (flue * par[kernel.FLUE_CP] * par[kernel.FLUE_K] + flow * cp * gas_k) / heat
    density = air * mixed_molar / mixed_k
    room = air * par[kernel.ROOM_MOLAR] / par[kernel.ROOM_K]
    relief = par[kernel.RELIEF_M2]
    pushed = both * both / (2.0 * density * relief * relief)
    return pushed + GRAVITY_M_S2 * par[kernel.PLUME_M] * (room - density)


def inertances(net: Net) -> list[list[float]]:
    """How hard each pressure finds it to hasten each open branch; symmetric. [1/m]"""
    own = [
        sum(max(row[kernel.LENGTH], row[kernel.DIAMETER]) / row[kernel.AREA] for row in rows)
        for rows in net.rows
    ]
    ways: list[set[int]] = []
    for i in net.open:
        way = {i}
        while net.above[i] >= 0:
            i = net.above[i]
            way.add(i)
        ways.append(way)
    return [[sum(own[k] for k in one & other) for other in ways] for one in ways]


def _shut(i: int, flow: float, net: Net) -> bool:
    """Whether a branch is an idle one without a hood, through which nothing passes."""
    return i < net.many and i not in net.open and flow == 0.0


def _share(flow: float, still: float) -> float:
    """How much the rising side of a balance counts. [-]"""
    return min(max(0.5 + 0.5 * flow / still, 0.0), 1.0)


def _add(sums: list[float], flow: float, gas: Gas) -> None:
    gas_k, molar, cp = gas
    sums[0] += flow
    sums[1] += flow / molar
    sums[2] += flow * cp
    sums[3] += flow * cp * gas_k


def _mixture(sums: list[float], otherwise: Gas) -> Gas:
    """What has flowed into a junction, mixed; what was there before where nothing has."""
    mass, moles, heat, warmth = sums
    if mass <= 0.0:
        return otherwise
    return warmth / heat, mass / moles, heat / mass
