"""Heights, rises and lengths of a common vent and of the connectors that join it.

Datum: rise of a connector runs from its appliance's outlet to the center line where the gases
meet; the height of the common vent from the highest outlet to the level of its own outlet (UMC
2012 803.2.10, 803.2.11). Readings add worst case, as in ``geometry``.
"""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.frozen import frozen
from fluewright.geometry import Length, Placed, Trace, between, metres, total, trace, vent_height
from fluewright.joining import JUNCTIONS, entry_index, members, trunk, whole
from fluewright.quantity import Measured, NotMeasured, smaller
from fluewright.survey import Path, Survey


@frozen
class Joined:
    """An appliance on a common vent: its own path, and the whole way of its gas, placed."""

    path: Path
    trace: Trace
    enters: int  # place in the common vent of the piece that it enters

    @property
    def name(self) -> str:
        """Id of the appliance."""
        return self.path.from_


@frozen
class Shared:
    """A common vent with everything that burns into it."""

    name: str
    trunk: Trace
    joined: tuple[Joined, ...]


def shared(survey: Survey, name: str) -> Shared | None:
    """A common vent and its live appliances, placed; None where there is no such vent.

    Args:
        survey: the whole survey.
        name: id of the common vent.
    """
    vent = survey.common.get(name)
    if vent is None:
        return None
    found = tuple(
        Joined(path, trace(whole(survey, path), _on_top(survey, path)), entry_index(path, vent))
        for path in members(survey, name)
    )
    return Shared(name, trace(trunk(name, vent), None), found)


def _on_top(survey: Survey, path: Path) -> bool | None:
    on_top = survey.appliance_of(path).outlet_on_top
    return on_top if isinstance(on_top, bool) else None


def common_height(found: Shared) -> Length:
    """Height from the highest outlet to the lowest discharge opening: the least of all. [m]"""
    heights: list[Measured] = []
    for one in found.joined:
        height = vent_height(one.trace)
        if isinstance(height, NotMeasured):
            return NotMeasured(f"{one.name}: {height.reason}")
        heights.append(height)
    return smaller(*heights) if heights else NotMeasured("no appliance is said to join it")


def connector_rise(found: Shared, name: str) -> Length:
    """Rise of one appliance's connector up to the center line where the gases meet. [m]

    Gas that goes straight through a tee meets the other at the center of the branch.
    """
    one = next((j for j in found.joined if j.name == name), None)
    if one is None:
        return NotMeasured("it is not said to join the common vent")
    own = one.trace.of_role("connector")
    if not own:
        return NotMeasured("no piece of the connector is described")
    return total([*(item.rise for item in own), _below_center(found, one)], "rise")


def _below_center(found: Shared, one: Joined) -> Length:
    """What lies between the entry of a connector and the center of the junction. [m]"""
    pieces = found.trunk.placed
    if one.enters >= len(pieces):
        return metres(0.0)
    piece = pieces[one.enters].piece
    way = one.path.enters.way if one.path.enters else None
    if piece.part not in JUNCTIONS or way == "side":
        return metres(0.0)
    if not isinstance(piece.length, Measured):
        return NotMeasured(f"length of {piece.id}")
    if way == "through" and isinstance(piece.leg, Measured):
        low = piece.length.low - piece.leg.high
        return between(max(0.0, low), max(0.0, piece.length.high - piece.leg.low), piece.length)
    return between(0.0, piece.length.high, piece.length)


def manifold(found: Shared) -> tuple[Placed, ...]:
    """The level pieces of a common vent ahead of its vertical part; empty where it has none."""
    level: list[Placed] = []
    for item in found.trunk.placed:
        if item.piece.part == "cap" or not item.is_level:
            break
        level.append(item)
    return tuple(level)


def manifold_length(found: Shared) -> Length:
    """Level length from the first junction to the vertical common vent; zero without one. [m]"""
    return total([metres(0.0), *(item.horizontal for item in manifold(found))], "manifold")


def after_manifold(found: Shared) -> tuple[Placed, ...]:
    """The pieces of the vertical part, its offsets too."""
    return found.trunk.placed[len(manifold(found)) :]


def offset_length(found: Shared) -> Length:
    """Horizontal length of all offsets of the vertical part together. [m]"""
    parts = [
        item.horizontal for item in after_manifold(found) if item.piece.part not in ("cap", "elbow")
    ]
    if not parts:
        return NotMeasured("no piece of the common vent is described")
    return total(parts, "offset")


def elbows(found: Shared) -> tuple[float, ...] | NotMeasured:
    """Every change of direction of the vertical part. [deg]"""
    return _angles(after_manifold(found))


def _angles(parts: Sequence[Placed]) -> tuple[float, ...] | NotMeasured:
    if not parts:
        return NotMeasured("no piece of the common vent is described")
    angles: list[float] = []
    for item in parts:
        piece = item.piece
        if piece.part == "elbow":
            if not isinstance(piece.angle, Measured):
                return NotMeasured(f"angle of {piece.id}")
            angles.append(piece.angle.value)
        elif piece.part == "run":
            if isinstance(piece.elbows, tuple):
                angles.extend(turn.value for turn in piece.elbows)
            elif piece.elbows is None or isinstance(piece.elbows, NotMeasured):
                return NotMeasured(f"elbows of {piece.id}")
    return tuple(angles)


def end_bore(one: Joined) -> Length:
    """Inside diameter of a connector where it enters the common vent. [m]"""
    own = one.trace.of_role("connector")
    if not own:
        return NotMeasured(f"{one.name}: no piece of the connector is described")
    last = own[-1].piece
    bore = last.to_diameter if last.part == "reducer" else last.diameter
    return bore if isinstance(bore, Measured) else NotMeasured(f"diameter of {last.id}")
