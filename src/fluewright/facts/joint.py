"""Facts of the joints, and at which pieces the gas way is open, holed, crushed or blocked."""

from __future__ import annotations

from collections.abc import Callable

from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, seen
from fluewright.geometry import Placed
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Joint

UNSEEN = "?"
HELD = ("screws", "listed_lock", "rivets")
HIDDEN_JOINTS = "a run seen as one hides its other joints: list it piece by piece"


def joint_fact(view: View, name: str) -> FactValue:
    """A property of the joint into a piece; how a run holds is not known from its first joint."""
    if view.placed is None:
        return Unknown(NOT_RECORDED)
    piece = view.placed.piece
    if piece.joint is None:
        return Unknown(NOT_RECORDED)
    told = seen(getattr(piece.joint, name))
    if name == "fastening" and piece.part == "run" and told in HELD:
        return Unknown(HIDDEN_JOINTS)
    return told


def joint_gap_open(joint: Joint | None) -> FactValue:
    """Whether a joint stands open."""
    if joint is None:
        return Unknown("not every joint was looked at")
    if joint.fastening == "open":
        return True
    gap = seen(joint.gap)
    if isinstance(gap, Unknown):
        return Unknown("not every joint was looked at for a gap")
    if isinstance(gap, Measured) and gap.value <= 0 < gap.high:
        return Unknown("a gap of 0 in within its tolerance: write none where there is none")
    if isinstance(gap, Measured) and gap.value > 0:
        return True
    # Nobody said how it is held: a joint that was not moved may still stand loose.
    return (
        Unknown("not every joint was moved to see how it holds")
        if joint.fastening is None
        else False
    )


def places(view: View, ask: Callable[[Placed], FactValue]) -> FactValue:
    """Pieces at which something is so, with ``?`` where one of them does not say."""
    if not view.trace.placed:
        return Unknown("no piece of the path is described")
    found = [(item.piece.id, ask(item)) for item in view.trace.placed]
    at = tuple(name for name, value in found if value is True)
    return at + ((UNSEEN,) if any(not isinstance(v, bool) for _, v in found) else ())


def holes(item: Placed) -> FactValue:
    """Whether a piece has holes."""
    return seen(item.piece.holes)


def crushed(item: Placed) -> FactValue:
    """Whether a piece is crushed."""
    return seen(item.piece.crushed)


def parted(item: Placed) -> FactValue:
    """Whether the joint into a piece stands open."""
    joint = item.piece.joint
    if item.piece.wall == "masonry" and joint is not None and joint.fastening is None:
        # Masonry is not moved to see how it holds: its inlet and cracks have rules of their own.
        gap = seen(joint.gap)
        return False if gap is ABSENT else gap if isinstance(gap, Unknown) else True
    open_ = joint_gap_open(joint)
    # The joint of a run is the one at its start: the others were not told of.
    return Unknown(HIDDEN_JOINTS) if open_ is False and item.piece.part == "run" else open_


def blocked(view: View) -> FactValue:
    """Pieces that are crushed, and the vent where something blocks it."""
    found, stopped = places(view, crushed), seen(view.path.vent.blocked)
    at = found if isinstance(found, tuple) else (UNSEEN,)
    if isinstance(stopped, bool):
        return (*at, "vent") if stopped else at
    return (*at, UNSEEN)
