"""Where a shared vent settles: every balance of its appliances, and how far it is from spilling.

The arithmetic is that of ``draft.tree_kernel``, the search that of ``draft.tree_roots``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from fluewright.draft import kernel, tree_kernel
from fluewright.draft.tree_kernel import Net, net_of
from fluewright.draft.tree_roots import along_a_line, drifted, holds, newton, relaxed, slopes
from fluewright.draft.tree_state import TreeRoot, state
from fluewright.draft.tree_system import Joined, branches, refuse_joined, states
from fluewright.errors import NotSolved

RESIDUAL = 1e-9  # of all pressures in a balance
ROUGH = 1e-6  # likewise, of one moment of a course
DRIFT_S = 2.0
NEAR = 0.1  # of a large flow: a step that may be taken without asking where the flows would go
SAME = 1e-6  # of a large flow: nearer than that, two balances are one
BETWEEN = (0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98)
MOST_PAIRED = 8
FEW = 3  # up to as many hoods, starts in which appliances spill are tried as well


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedTree:
    """All balances that were found, and the one at which the vent works when hot.

    Attributes:
        roots: by flow at the cap, downward first.
        at: the stable one with the largest flow.
        margin_pa: further suction of all rooms at which flue gas of any appliance begins to come
            out at its hood, or an idle one no longer draws and is about to turn; below 0 that
            is so already and the rooms lack that much. None where it was not found, which says
            nothing good. Where no appliance has a hood: how far the pressure is below the
            room's where it is least so.
        first: the appliance at which it begins; None without a margin.
        searched: how many starts the search had.
    """

    roots: tuple[TreeRoot, ...]
    at: TreeRoot
    margin_pa: float | None
    first: str | None
    searched: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StateOf:
    """The vent with some of its appliances burning.

    Attributes:
        burning: their names.
        solved: its balances; None where none was found.
        reason: why not; None where they were.
    """

    burning: tuple[str, ...]
    solved: SolvedTree | None
    reason: str | None


def solve_tree(joined: Joined) -> SolvedTree:
    """All steady states of appliances on one vent, and the hot one in full.

    Source: balances of pressures, mass and heat of streams that join; `docs/draft-physics.md`.
    Valid: steady; gas below 1,000 K; no condensation heat; nothing passes an idle appliance that
    has no draft hood. Balances are sought from many starts; with several hoods no search can
    promise that there is no other.

    Args:
        joined: appliances, connectors, shared pipes and surroundings.
    Returns:
        The balances, the hot state and its margin.
    Raises:
        OutOfRange: a figure that no vent can have; it says of which appliance or pipe.
        NotSolved: no balance was found, or none that holds, and why.
    """
    refuse_joined(joined)
    net = net_of(joined)
    if not net.open:
        return _forced(joined, net)
    found: list[list[float]] = []
    searched = 0
    if len(net.open) == 1:
        large = 3.0 * _scales(net)[0] + 2.0 * sum(par[kernel.FLUE_KG_S] for par in net.pars)
        for flow in along_a_line(lambda m: _spare([m], net)[0], large):
            _keep([flow], net, found)
    for start in _starts(net):
        searched += 1
        flows = newton(lambda x: _spare(x, net), start, _scales(net))
        if not _balanced(flows, net):
            flows = _settled(start, net)
        _keep(flows, net, found)
    for start in _calm_starts(net):
        searched += 1
        _keep(_settled(start, net), net, found)
    for start in _between(found):  # it grows while it is gone through
        searched += 1
        _keep(newton(lambda x: _spare(x, net), start, _scales(net)), net, found)
    if not found:
        raise NotSolved(
            f"draft: none of {searched} starts led to flows at which all pressures balance. "
            "Check the diameters and the loss coefficients."
        )
    roots = sorted((_root(joined, net, flows) for flows in found), key=_order)
    stable = [root for root in roots if root.stable]
    if not stable:
        raise NotSolved(
            f"draft: {len(roots)} balances were found, none of which the vent would return to."
        )
    margin, first = _margin(joined, net, stable[-1])
    return SolvedTree(
        roots=tuple(roots), at=stable[-1], margin_pa=margin, first=first, searched=searched
    )


def margin_near(joined: Joined, near: SolvedTree) -> float | None:
    """The margin of a vent that differs little from one that is solved. [Pa]

    Source: as `solve_tree`, started from the known balance, and searched anew where that is lost.

    Args:
        joined: the vent.
        near: what was found for one of the same appliances, little different.
    Returns:
        As ``margin_pa`` of `solve_tree`.
    Raises:
        OutOfRange: a figure that no vent can have.
        NotSolved: no balance was found.
    """
    refuse_joined(joined)
    net = net_of(joined)
    if not net.open:
        return _forced(joined, net).margin_pa
    known = [near.at.appliances[i].flow_kg_s for i in net.open]
    flows = _moment_later(known, net)
    if not _balanced(flows, net):
        return solve_tree(joined).margin_pa
    root = _root(joined, net, flows)
    return _margin(joined, net, root)[0] if root.stable else solve_tree(joined).margin_pa


def follow(flows: list[float], net: Net) -> list[float]:
    """Flows of the open branches a moment later, none of them leaving its branch. [kg/s]

    Where nothing balances near by, or a stream is about to turn, they are let drift for
    ``DRIFT_S`` and are then wherever that brings them.

    Args:
        flows: as they were a moment ago.
        net: the vent as it is now.
    """
    found = _moment_later(flows, net)
    if _residual(found, net) < ROUGH:
        return found
    return drifted(
        lambda x: _spare(x, net), flows, _scales(net), tree_kernel.inertances(net), DRIFT_S
    )


def _moment_later(flows: list[float], net: Net) -> list[float]:
    """The balance next to some flows, or where they go by themselves if none is near."""
    scale = _scales(net)
    found = newton(lambda x: _spare(x, net), flows, scale)
    moved = max(abs(a - b) / c for a, b, c in zip(found, flows, scale, strict=True))
    return found if moved <= NEAR and _residual(found, net) < ROUGH else _settled(flows, net)


def solve_states(joined: Joined) -> tuple[StateOf, ...]:
    """The vent with every combination of its appliances burning, the worst first. [-]

    Worst is a state without a solution, then what spills most, then the least margin.

    Source: as `solve_tree`.

    Args:
        joined: the vent with the appliances as they burn.
    Returns:
        One entry for each combination.
    Raises:
        OutOfRange: a figure that no vent can have.
    """
    found: list[StateOf] = []
    for one in states(joined):
        burning = tuple(b.name for b in branches(one) if b.flue.mass_kg_s > 0.0)
        try:
            found.append(StateOf(burning=burning, solved=solve_tree(one), reason=None))
        except NotSolved as error:
            found.append(StateOf(burning=burning, solved=None, reason=str(error)))
    return tuple(sorted(found, key=_danger))


def _danger(one: StateOf) -> tuple[float, float]:
    if one.solved is None:
        return (float("-inf"), 0.0)
    margin = one.solved.margin_pa
    return (-one.solved.at.spilled_kg_s, float("-inf") if margin is None else margin)


def _order(root: TreeRoot) -> tuple[float, ...]:
    return (root.vent_kg_s, *(one.flow_kg_s for one in root.appliances))


def _own(x: list[float], net: Net) -> list[float]:
    """Flows of all branches, those without a hood being what they are. [kg/s]"""
    own = [par[kernel.FLUE_KG_S] for par in net.pars]
    for i, flow in zip(net.open, x, strict=True):
        own[i] = flow
    return own


def _spare(x: list[float], net: Net) -> list[float]:
    spare = tree_kernel.balance(_own(x, net), net).spare_pa
    return [spare[i] for i in net.open]


def _scales(net: Net) -> list[float]:
    """A large flow of each open branch: what it, or its share of the last pipe, can carry."""
    large = [still / kernel.TINY_SHARE for still in net.still]
    return [min(large[i], large[-1] / len(net.open)) for i in net.open]


def _residual(x: list[float], net: Net) -> float:
    at = tree_kernel.balance(_own(x, net), net)
    return max(abs(at.spare_pa[i]) / max(at.size_pa[i], 1e-12) for i in net.open)


def _balanced(x: list[float], net: Net) -> bool:
    return _residual(x, net) < RESIDUAL


def _settled(start: list[float], net: Net) -> list[float]:
    """Where the flows go by themselves from a start, made exact."""
    scale = _scales(net)
    near = relaxed(lambda x: _spare(x, net), start, scale, tree_kernel.inertances(net))
    return newton(lambda x: _spare(x, net), near, scale)


def _keep(x: list[float], net: Net, found: list[list[float]]) -> None:
    """Adds a balance that is one and not known yet."""
    scale = _scales(net)
    known = any(
        all(abs(a - b) <= SAME * c for a, b, c in zip(x, one, scale, strict=True)) for one in found
    )
    if not known and _balanced(x, net):
        found.append(x)


def _starts(net: Net) -> Iterator[list[float]]:
    """Every appliance drafting, spilling or reversed, in every combination; then standing."""
    scale = _scales(net)
    flue = [net.pars[i][kernel.FLUE_KG_S] for i in net.open]
    ways: list[list[float]] = []
    for large, own in zip(scale, flue, strict=True):
        one = [own + 0.5 * large, -0.5 * large]
        if own > 0.0 and len(scale) <= FEW:
            one.append(0.5 * own)
        elif len(scale) <= FEW:
            one.append(0.02 * large)
        ways.append(one)
    yield from (list(one) for one in product(*ways))
    for share in (0.0, 2.0, -2.0, 2e3, -2e3):
        yield [share * net.still[i] for i in net.open]
    for k in range(len(scale)):
        yield [0.0 if i == k else ways[i][0] for i in range(len(scale))]


def _calm_starts(net: Net) -> Iterator[list[float]]:
    """From where the vent is let go by itself: all hot, each alone, all reversed."""
    scale = _scales(net)
    hot = [net.pars[i][kernel.FLUE_KG_S] + c for i, c in zip(net.open, scale, strict=True)]
    yield hot
    for k in range(len(scale)):
        yield [hot[i] if i == k else -0.1 * scale[i] for i in range(len(scale))]
    yield [-one for one in scale]


def _between(found: list[list[float]]) -> Iterator[list[float]]:
    """Points between any two balances: two that hold have one between them that does not."""
    last = 1
    while last < min(len(found), MOST_PAIRED):
        for one in found[:last]:
            for share in BETWEEN:
                yield [a + share * (b - a) for a, b in zip(one, found[last], strict=True)]
        last += 1


def _root(joined: Joined, net: Net, x: list[float]) -> TreeRoot:
    slope = slopes(lambda y: _spare(y, net), x, _spare(x, net), _scales(net))
    stable = holds(slope, tree_kernel.inertances(net))
    return state(joined, net, _own(x, net), stable, _residual(x, net))


def _forced(joined: Joined, net: Net) -> SolvedTree:
    """Fan-assisted appliances alone: the flows are theirs, the question is what they meet."""
    own = _own([], net)
    if not any(flow > 0.0 for flow in own):
        raise NotSolved("draft: idle appliances without a draft hood set no flow of their own.")
    spare = tree_kernel.balance(own, net).spare_pa
    least = min((i for i in range(net.many) if own[i] > 0.0), key=lambda i: spare[i])
    root = state(joined, net, own, True, 0.0)
    return SolvedTree(
        roots=(root,),
        at=root,
        margin_pa=spare[least],
        first=branches(joined)[least].name,
        searched=1,
    )


def _margin(joined: Joined, net: Net, hot: TreeRoot) -> tuple[float | None, str | None]:
    """Further suction of the rooms at which gas begins to come out, and where. [Pa]

    For each hood the balance is sought at which just all of its appliance's gas, or nothing where
    it is idle, goes up: the same pressure is then left in every open branch, and is the suction.
    """
    edge = [max(net.pars[i][kernel.FLUE_KG_S], net.still[i]) for i in net.open]
    now = [hot.appliances[i].flow_kg_s for i in net.open]
    fits: list[tuple[float, int]] = []
    for k in range(len(edge)):
        for others in (now, edge, [2.0 * one for one in edge]):
            found = _at_edge(k, edge[k], others, net)
            if found is None:
                continue
            flows, suction = found
            if all(flow >= one * (1.0 - 1e-9) for flow, one in zip(flows, edge, strict=True)):
                fits.append((suction, net.open[k]))
                break
    if all(flow >= one for flow, one in zip(now, edge, strict=True)):
        fits = [one for one in fits if one[0] >= 0.0]
    if not fits:
        return None, None
    margin, first = min(fits)
    return margin, branches(joined)[first].name


def _at_edge(
    k: int, edge: float, others: list[float], net: Net
) -> tuple[list[float], float] | None:
    """Flows with one branch at its edge, and the suction that does it; None: not found."""
    scale = _scales(net)
    free = [i for i in range(len(scale)) if i != k]

    def whole(y: list[float]) -> list[float]:
        return [*y[:k], edge, *y[k:]]

    def unequal(y: list[float]) -> list[float]:
        spare = _spare(whole(y), net)
        return [spare[i] - spare[k] for i in free]

    y = newton(unequal, [others[i] for i in free], [scale[i] for i in free])
    spare = _spare(whole(y), net)
    size = tree_kernel.balance(_own(whole(y), net), net).size_pa
    for i in free:
        if abs(spare[i] - spare[k]) > RESIDUAL * (size[net.open[i]] + size[net.open[k]]):
            return None
    return whole(y), spare[k]
