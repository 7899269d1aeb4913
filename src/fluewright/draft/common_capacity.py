"""The largest input that a vent shared by several appliances carries by the model.

As ``draft.capacity_model`` for one appliance: every appliance gives off the gas that its basis
says, all of it enters its connector, and the input is the largest at which none of them meets a
pressure where its gas enters. An engineering estimate; where a table answers, the table counts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from fluewright.draft import kernel, tree_kernel
from fluewright.draft.bases import CodeBasis
from fluewright.draft.gas import isa_pressure
from fluewright.draft.system import AIR_CP_J_KGK, AIR_KG_KMOL, Around, Flue, Segment
from fluewright.draft.tree_roots import newton, relaxed
from fluewright.draft.tree_system import Branch, Common, Joined, refuse_joined
from fluewright.errors import NotSolved, OutOfRange

# A tee where the connector enters: chimney handbook, from memory.
TEE_LOSS = 1.25
CONNECTOR_ELBOWS = 2  # of a right angle, as the capacity tables take for granted
STEP = 1.12
LEAST_W, MOST_W = 1.0, 1e9
RESIDUAL = 1e-9  # of all pressures in a balance


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector:
    """One appliance with its connector.

    Attributes:
        basis: what is assumed about its gas and losses.
        diameter_m: inside. [m]
        rise_m: from the appliance's outlet to where it enters the common vent. [m]
        lateral_m: horizontal length. [m]
        wall: its kind of wall, a key of the basis's heat losses.
        share: of the combined input, where all vary together. [-]
        idle: it burns nothing, and room air is drawn through its open draft hood.
    """

    basis: CodeBasis
    diameter_m: float
    rise_m: float
    lateral_m: float
    wall: str
    share: float = 1.0
    idle: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonArrangement:
    """A common vent as a capacity table sees it.

    Attributes:
        height_m: from the highest appliance's outlet to the cap. [m]
        diameter_m: of the common vent, the hydraulic one of a flue that is not round. [m]
        vent: its kind of wall.
        basis: what is assumed about its losses.
        connectors: all of them, entering at one level.
        tee_loss: where a connector enters, on its own velocity head. [-]
        altitude_m: of the place. [m]
        area_m2: free area of the common vent; None for a round one. [m2]
    """

    height_m: float
    diameter_m: float
    vent: str
    basis: CodeBasis
    connectors: tuple[Connector, ...]
    tee_loss: float = TEE_LOSS
    altitude_m: float = 0.0
    area_m2: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonCarried:
    """What a common vent carries.

    Attributes:
        input_w: of all appliances. [W]
        inputs_w: of each. [W]
        spare_pa: pressure to spare of each; of the one that bounds them about 0. [Pa]
        foot_pa: total pressure at the foot of the common vent, below 0 it draws. [Pa]
    """

    input_w: float
    inputs_w: tuple[float, ...]
    spare_pa: tuple[float, ...]
    foot_pa: float


def common_capacity(given: CommonArrangement) -> CommonCarried:
    """The largest combined input, in the given shares, at which no appliance meets a pressure. [W]

    Source: balances of streams that join, `draft.tree_kernel`; the assumptions are the bases'.
    Valid: steady, no wind, rooms at outdoor pressure.

    Args:
        given: the vent and its connectors with their shares.
    Returns:
        The input with the pressures behind it.
    Raises:
        OutOfRange: a length or size that no vent can have.
        NotSolved: the vent carries nothing on these bases.
    """
    total = sum(one.share for one in given.connectors)
    if not (total > 0.0 and all(one.share >= 0.0 for one in given.connectors)):
        raise OutOfRange("common capacity: give every connector a share of at least 0, one above.")
    shares = [one.share / total for one in given.connectors]
    return _largest(given, lambda watts: [watts * share for share in shares], range(len(shares)))


def each_capacity(given: CommonArrangement) -> CommonCarried:
    """The inputs at which every burning appliance is at its own capacity, all at once. [W]

    Each then meets just no pressure. Shares do not count; through an idle one comes as much room
    air as the vent draws.

    Source: as `common_capacity`; all balances at once, by letting the flows settle from above.

    Args:
        given: the vent and its connectors.
    Returns:
        The inputs, 0 for an idle one, with the pressures behind them.
    Raises:
        OutOfRange: a length or size that no vent can have, or nothing that burns.
        NotSolved: no such inputs were found.
    """
    if all(one.idle for one in given.connectors):
        raise OutOfRange("common capacity: all appliances are idle; one at least must burn.")
    joined = _joined(given)
    refuse_joined(joined)
    net = tree_kernel.net_of(joined)
    net.open = list(range(net.many))
    scale = [net.still[i] / kernel.TINY_SHARE for i in net.open]
    scale = [min(one, net.still[-1] / kernel.TINY_SHARE / len(scale)) for one in scale]

    def spare(flows: list[float]) -> list[float]:
        return _burning(flows, net).spare_pa

    settled = relaxed(spare, [2.0 * one for one in scale], scale, tree_kernel.inertances(net))
    flows = newton(spare, settled, scale)
    found = _burning(flows, net)
    worst = max(abs(found.spare_pa[i]) / found.size_pa[i] for i in net.open)
    if not (worst < RESIDUAL and all(flow > 0.0 for flow in flows)):
        raise NotSolved("common capacity: no inputs were found at which each is at its capacity.")
    inputs = tuple(
        0.0 if one.idle else flow / one.basis.kg_per_mj * 1e6
        for flow, one in zip(flows, given.connectors, strict=True)
    )
    return CommonCarried(
        input_w=sum(inputs),
        inputs_w=inputs,
        spare_pa=tuple(found.spare_pa),
        foot_pa=found.foot_pa[-1],
    )


def connector_capacity(
    given: CommonArrangement, which: int, others_w: Sequence[float]
) -> CommonCarried:
    """The largest input of one appliance while the others burn at given inputs. [W]

    Only its own connector counts: whether the others then still draw is in ``spare_pa``.

    Source: as `common_capacity`.

    Args:
        given: the vent and its connectors.
        which: place of the one that is asked for.
        others_w: inputs of the others, in their order. [W]
    Returns:
        All inputs with the pressures behind them.
    Raises:
        OutOfRange: a length or size that no vent can have, or inputs that do not fit.
        NotSolved: the connector carries nothing beside the others.
    """
    if len(others_w) != len(given.connectors) - 1 or not 0 <= which < len(given.connectors):
        raise OutOfRange(
            f"common capacity: connector {which} with {len(others_w)} others of "
            f"{len(given.connectors)} connectors."
        )
    return _largest(given, lambda watts: [*others_w[:which], watts, *others_w[which:]], [which])


def _largest(
    given: CommonArrangement, inputs: Callable[[float], list[float]], count: Sequence[int]
) -> CommonCarried:
    """The largest input at which the connectors that count have pressure to spare."""
    joined = _joined(given)
    refuse_joined(joined)
    net = tree_kernel.net_of(joined)

    def at(watts: float) -> tree_kernel.Balance:
        flows = [
            one * connector.basis.kg_per_mj / 1e6
            for one, connector in zip(inputs(watts), given.connectors, strict=True)
        ]
        return _burning(flows, net)

    def spare(watts: float) -> float:
        found = at(watts)
        return min(found.spare_pa[i] for i in count)

    high = LEAST_W
    while high < MOST_W and spare(high) <= 0.0:  # too little gas cools too much
        high *= STEP
    if high >= MOST_W:
        raise NotSolved("common capacity: no input is carried. The gas cools too much.")
    low = high
    while spare(high) > 0.0:
        low, high = high, high * STEP
    for _ in range(200):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        low, high = (middle, high) if spare(middle) > 0.0 else (low, middle)
    found, each = at(low), inputs(low)
    return CommonCarried(
        input_w=sum(each),
        inputs_w=tuple(each),
        spare_pa=tuple(found.spare_pa),
        foot_pa=found.foot_pa[-1],
    )


def _burning(flows: list[float], net: tree_kernel.Net) -> tree_kernel.Balance:
    """The balance where every connector carries its own undiluted gas."""
    for par, flow in zip(net.pars, flows, strict=True):
        par[kernel.FLUE_KG_S] = max(flow, 0.0)
    return tree_kernel.balance(flows, net)


def _joined(given: CommonArrangement) -> Joined:
    upright_m = given.height_m - max((one.rise_m for one in given.connectors), default=0.0)
    if not upright_m > 0.0:
        raise OutOfRange(
            f"common capacity: a height of {given.height_m:g} m leaves nothing above the "
            "connectors."
        )
    inlets = tuple(_branch(i, one, given.tee_loss) for i, one in enumerate(given.connectors))
    vent = _stretch("common vent", upright_m, upright_m, given.diameter_m, given.vent, given.basis)
    vent = replace(vent, area_m2=given.area_m2)
    around = Around(
        outdoor_k=given.basis.air_k,
        room_k=given.basis.air_k,
        air_pa=isa_pressure(given.altitude_m),
    )
    return Joined(
        root=Common(name="common vent", inlets=inlets, segments=(vent,)),
        around=around,
        cap_loss=given.basis.cap_loss,
        momentum=given.basis.momentum,
    )


def _branch(i: int, one: Connector, tee_loss: float) -> Branch:
    basis, name = one.basis, f"connector {i + 1}"
    losses = basis.entrance_loss + CONNECTOR_ELBOWS * basis.elbow_90_loss
    length_m = one.rise_m + one.lateral_m
    pipe = _stretch(name, length_m, one.rise_m, one.diameter_m, one.wall, basis, losses)
    tee = _stretch(f"{name} tee", 0.0, 0.0, one.diameter_m, one.wall, basis, tee_loss)
    flue = Flue(
        mass_kg_s=1.0,
        temperature_k=basis.air_k if one.idle else basis.gas_k,
        molar_kg_kmol=AIR_KG_KMOL if one.idle else basis.molar_kg_kmol,
        cp_j_kgk=AIR_CP_J_KGK if one.idle else basis.cp_j_kgk,
        water=0.0,
        co2_dry=0.0 if one.idle else basis.co2_dry,
    )
    return Branch(name=name, flue=flue, hood=None, segments=(pipe, tee))


def _stretch(
    name: str,
    length_m: float,
    rise_m: float,
    diameter_m: float,
    wall: str,
    basis: CodeBasis,
    losses: float = 0.0,
) -> Segment:
    if wall not in basis.u_w_m2k:
        raise OutOfRange(f"common capacity: wall {wall!r}; write one of {sorted(basis.u_w_m2k)}.")
    return Segment(
        name=name,
        length_m=length_m,
        rise_m=rise_m,
        diameter_m=diameter_m,
        ambient_k=basis.air_k,
        u_w_m2k=basis.u_w_m2k[wall],
        entry_loss=losses,
        law="constant" if basis.darcy > 0.0 else "rough",
        roughness_m=basis.roughness_m,
        darcy=basis.darcy,
    )
