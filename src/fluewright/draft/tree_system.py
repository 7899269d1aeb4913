"""What is solved where several appliances share a vent: connectors, junctions, trunk.

Built from a survey or by hand; nothing here computes a flow. Units and signs are those of
``draft.system``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from fluewright.draft.plausible import refuse
from fluewright.draft.system import Around, Flue, Hood, Lone, Segment
from fluewright.errors import OutOfRange

MOST_BRANCHES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """An appliance with its connector, up to the junction.

    Attributes:
        name: of the appliance, for messages and drawings.
        flue: its gas; a mass of 0 is an appliance that stands idle.
        hood: its opening to the room; None for a fan-assisted appliance, whose gas all enters
            the connector and through which nothing passes while it stands idle.
        segments: the connector upward; a last one of no length may carry the loss of the tee.
        room_pa: pressure of its room less outdoors, where it is not that of ``Around``. [Pa]
        room_k: air of its room, likewise; its moisture counts as that of ``Around``. [K]
    """

    name: str
    flue: Flue
    hood: Hood | None
    segments: tuple[Segment, ...]
    room_pa: float | None = None
    room_k: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Common:
    """A junction and the shared pipe above it; entries at several levels are Commons in Commons.

    Attributes:
        name: for messages and drawings.
        inlets: what enters at the junction.
        segments: the pipe above it, upward.
    """

    name: str
    inlets: tuple[Branch | Common, ...]
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Appliances on one vent; ``cap_loss`` and ``momentum`` as in ``Lone``."""

    root: Common
    around: Around
    cap_loss: float
    momentum: bool = True


def branches(joined: Joined) -> tuple[Branch, ...]:
    """The appliances of a vent, in the order in which their pipes are listed."""
    return tuple(one for one in _under(joined.root) if isinstance(one, Branch))


def commons(joined: Joined) -> tuple[Common, ...]:
    """The shared pipes of a vent, each after all that enter it; the root is the last."""
    return tuple(one for one in _under(joined.root) if isinstance(one, Common))


def as_lone(branch: Branch, joined: Joined) -> Lone:
    """A branch as if it ended at its junction, for its figures."""
    around = joined.around
    if branch.room_pa is not None:
        around = replace(around, room_pa=branch.room_pa)
    if branch.room_k is not None:
        around = replace(around, room_k=branch.room_k)
    return Lone(
        flue=branch.flue,
        hood=branch.hood,
        segments=branch.segments,
        around=around,
        cap_loss=joined.cap_loss,
        momentum=joined.momentum,
    )


def refuse_joined(joined: Joined) -> None:
    """Raises where a figure is not one that a vent can have.

    Args:
        joined: what is to be solved.
    Raises:
        OutOfRange: it names the appliance or shared pipe, what was found and what is allowed.
    """
    listed = branches(joined)
    if not 1 <= len(listed) <= MOST_BRANCHES:
        raise OutOfRange(f"draft: {len(listed)} appliances; 1 to {MOST_BRANCHES} are allowed.")
    names = [one.name for one in listed] + [one.name for one in commons(joined)]
    if len(set(names)) < len(names):
        raise OutOfRange(f"draft: names occur twice: {', '.join(sorted(names))}. Rename one.")
    for branch in listed:
        _refuse(branch.name, as_lone(branch, joined))
    for common in commons(joined):
        if not common.inlets:
            raise OutOfRange(f"draft: {common.name}: nothing enters it.")
        _refuse(common.name, replace(as_lone(listed[0], joined), segments=common.segments))


def states(joined: Joined) -> tuple[Joined, ...]:
    """The vent with every combination of its appliances burning, but for none at all.

    Args:
        joined: the vent with the appliances as they burn.
    Returns:
        All its states, first that with all burning. An appliance given as idle stays so.
    """
    able = [one.name for one in branches(joined) if one.flue.mass_kg_s > 0.0]
    found: list[Joined] = []
    for on in product((True, False), repeat=len(able)):
        if any(on):
            off = {name for name, burns in zip(able, on, strict=True) if not burns}
            found.append(replace(joined, root=_idle(joined.root, off)))
    return tuple(found)


def shifted(joined: Joined, room_pa: float) -> Joined:
    """The vent with the pressure of every room changed by as much. [Pa]"""
    around = replace(joined.around, room_pa=joined.around.room_pa + room_pa)
    return replace(joined, around=around, root=_pressed(joined.root, room_pa))


def _under(common: Common) -> Iterator[Branch | Common]:
    for inlet in common.inlets:
        if isinstance(inlet, Branch):
            yield inlet
        else:
            yield from _under(inlet)
    yield common


def _refuse(name: str, system: Lone) -> None:
    try:
        refuse(system)
    except OutOfRange as error:
        raise OutOfRange(f"{name}: {error}") from None


def _idle(common: Common, off: set[str]) -> Common:
    inlets: list[Branch | Common] = []
    for inlet in common.inlets:
        if isinstance(inlet, Common):
            inlets.append(_idle(inlet, off))
        elif inlet.name in off:
            inlets.append(replace(inlet, flue=replace(inlet.flue, mass_kg_s=0.0)))
        else:
            inlets.append(inlet)
    return replace(common, inlets=tuple(inlets))


def _pressed(common: Common, room_pa: float) -> Common:
    inlets: list[Branch | Common] = []
    for inlet in common.inlets:
        if isinstance(inlet, Common):
            inlets.append(_pressed(inlet, room_pa))
        elif inlet.room_pa is not None:
            inlets.append(replace(inlet, room_pa=inlet.room_pa + room_pa))
        else:
            inlets.append(inlet)
    return replace(common, inlets=tuple(inlets))
