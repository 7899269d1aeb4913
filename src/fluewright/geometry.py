"""Lengths, heights and directions of a path, worked out from its pieces.

Datum of every height is the draft hood outlet (or the flue collar of a fan-assisted
appliance): the start of the first piece. Readings of one tape add linearly (worst case), so
every result is a ``Measured`` whose bound holds for the whole chain, or a ``NotMeasured``
that names the first piece that is missing.

Definitions: horizontal length of a connector is the sum of the horizontal components along
the center line, never the straight line between its ends; lateral counts every sideways
shift of connector and vent; the 75 percent rule counts only runs more than 45 degrees from
vertical (UMC 2012 802.6.1, 803.1.3; UPC 2012 509.6.1, 510.1.2).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from fluewright.direction import (
    PLUMB,
    Way,
    hides_bends,
    own_way,
    says_two_things,
)
from fluewright.errors import OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Absent, Path, Piece

Length = Measured | NotMeasured
LEVEL_FROM_DEG = 45.0  # a run further than this from vertical counts as horizontal
SAME_DEG = 1e-9
# Center to face of an adjustable elbow is about D tan(angle / 2) plus the straight collar
# (common practice, no source); pieces differ by about an inch.
ELBOW_COLLAR_M = 1.125 * 0.0254
ELBOW_DOUBT_M = 1.0 * 0.0254


@frozen
class Placed:
    """One piece with its direction and what it adds upward and sideways.

    ``into`` and ``out`` are the directions in which gas enters and leaves it, None where the
    survey does not say. ``lean`` is the steepest direction in it, for what the code asks of
    runs more than 45 degrees from vertical: a listed fitting says it more closely than a gauge.
    """

    piece: Piece
    rise: Length
    horizontal: Length
    center_line: Length
    into: Way | None
    out: Way | None
    lean: Way | None = None

    @property
    def tilt_in(self) -> float | None:
        """Degrees from vertical-up where gas enters."""
        return self.into.value if self.into else None

    @property
    def tilt_out(self) -> float | None:
        """Degrees from vertical-up where gas leaves."""
        return self.out.value if self.out else None

    @property
    def is_level(self) -> bool | None:
        """Whether it runs, or may run, more than 45 degrees from vertical; None if not known.

        A ``run`` that goes sideways is taken as level: it hides what it is made of.
        """
        if self.piece.part == "elbow":
            return False
        if self.lean is not None:
            return self.lean.high > LEVEL_FROM_DEG + SAME_DEG
        if isinstance(self.horizontal, NotMeasured):
            return None
        return self.horizontal.high > 0

    @property
    def runs_down(self) -> bool | None:
        """Whether it falls more steeply than 45 degrees, so that it has no slope to speak of."""
        return None if self.out is None else self.out.low > 180.0 - LEVEL_FROM_DEG


@frozen
class Trace:
    """A path with every piece placed, in the direction of flow."""

    path: Path
    placed: tuple[Placed, ...]

    def of_role(self, role: str) -> tuple[Placed, ...]:
        """The pieces that are connector, or vent; the cap belongs to neither."""
        return tuple(p for p in self.placed if p.piece.role == role and p.piece.part != "cap")

    @property
    def cap(self) -> Piece | None:
        """The cap, where the survey lists one."""
        last = self.placed[-1].piece if self.placed else None
        return last if last is not None and last.part == "cap" else None


def metres(value: float, tolerance: float = 0.0) -> Measured:
    """A length in metres."""
    return Measured(value, Dimension.LENGTH, tolerance)


def between(low: float, high: float, like: Measured) -> Measured:
    """The reading that spans low to high and keeps the origin of another. [same unit]"""
    middle, half = (low + high) / 2, (high - low) / 2
    return Measured(middle, Dimension.LENGTH, half, like.tool, like.evidence)


def total(parts: Iterable[Length], what: str) -> Length:
    """Sum of lengths, bounds added; or why there is none. [m]"""
    value = tolerance = 0.0
    evidence: tuple[str, ...] = ()
    tool: str | None = None
    for part in parts:
        if isinstance(part, NotMeasured):
            return NotMeasured(f"{what}: {part.reason}")
        value += part.value
        tolerance += part.tolerance
        evidence += part.evidence
        tool = part.tool or tool
    return Measured(value, Dimension.LENGTH, tolerance, tool, evidence)


def trace(path: Path, outlet_on_top: bool | None) -> Trace:
    """Place every piece of a path.

    Args:
        path: the path as surveyed.
        outlet_on_top: whether the gas leaves the appliance straight up; None if not known.
    Returns:
        The pieces in order, each with what it adds, or why that is not known.
    Raises:
        OutOfRange: a piece other than the cap is neither connector nor vent.
    """
    pieces = path.pieces
    for piece in pieces:
        if piece.role is None and piece.part != "cap":
            raise OutOfRange(f"piece {piece.id} has no role. Say connector or vent.")
    ways = [own_way(piece) for piece in pieces]
    placed: list[Placed] = []
    before = PLUMB if outlet_on_top else None
    for i, piece in enumerate(pieces):
        after = next((way for way in ways[i + 1 : i + 2]), None)
        item = _place(piece, before, after)
        placed.append(item)
        before = item.out
    return Trace(path, tuple(_leaning(placed)))


def _leaning(placed: list[Placed]) -> list[Placed]:
    """The same pieces with the steepest direction in each."""
    straight = [_lean_of(placed, i) for i in range(len(placed))]
    found: list[Placed] = []
    for i, item in enumerate(placed):
        lean = straight[i]
        if item.piece.part == "elbow":
            first = straight[i - 1] if i else item.into
            sides = (first, straight[i + 1] if i + 1 < len(placed) else item.out)
            both = [side for side in sides if side is not None]
            lean = max(both, key=lambda way: way.high) if len(both) == 2 else None
        found.append(replace(item, lean=lean))
    return found


def _lean_of(placed: list[Placed], i: int) -> Way | None:
    """Direction of a piece, narrowed by a fitting of known angle between it and plumb pipe."""
    way = placed[i].out
    piece = placed[i].piece
    if hides_bends(piece) and not isinstance(piece.tilt, Measured):
        return None  # where it ends says nothing about what is in it
    if way is None or piece.part == "elbow":
        return way
    for at, side in ((i - 1, "into"), (i + 1, "out")):
        if not 0 <= at < len(placed) or placed[at].piece.part != "elbow":
            continue
        angle = placed[at].piece.angle
        if isinstance(angle, Measured) and getattr(placed[at], side) == PLUMB:
            way = way.within(Way(angle.low, angle.value, angle.high))
    return way


def _place(piece: Piece, before: Way | None, after: Way | None) -> Placed:
    if piece.part == "cap":
        zero = metres(0.0)
        return Placed(piece, zero, zero, zero, before, before)
    if piece.part == "elbow":
        return _place_elbow(piece, before, after if piece.runs is None else own_way(piece))
    if piece.rise is not None or piece.horizontal is not None:
        return _place_run(piece, before)
    return _place_straight(piece, before)


def _missing(piece: Piece, what: str, given: object = None) -> NotMeasured:
    if isinstance(given, NotMeasured):
        return NotMeasured(f"{what} of {piece.id} ({given.reason})")
    return NotMeasured(f"{what} of {piece.id}")


def _place_run(piece: Piece, before: Way | None) -> Placed:
    rise: Length = (
        piece.rise if isinstance(piece.rise, Measured) else _missing(piece, "rise", piece.rise)
    )
    sideways: Length = (
        piece.horizontal
        if isinstance(piece.horizontal, Measured)
        else _missing(piece, "horizontal length", piece.horizontal)
    )
    if isinstance(piece.length, Measured):
        center: Length = piece.length
    else:
        center = _missing(piece, "center-line length", piece.length)
    way = own_way(piece)
    return Placed(piece, rise, sideways, center, before if hides_bends(piece) else way, way)


def _place_straight(piece: Piece, before: Way | None) -> Placed:
    way = own_way(piece)
    into = before if way is None else way
    length = piece.length
    is_fitting = piece.part in ("reducer", "adapter", "tee", "wye") and not says_two_things(piece)
    if not isinstance(length, Measured):
        # A fitting nobody measured still takes up room: its laying length is not known.
        out = before if is_fitting and way is None else way
        return _unplaced(piece, "length", length, into, out)
    if way is None and is_fitting:
        way = before  # a fitting carries on in the direction of the piece before it
    if way is None:
        return _unplaced(piece, "direction", None, into, way, length)
    rise, sideways = _components(piece, way, length)
    return Placed(piece, rise, sideways, length, way, way)


def _unplaced(
    piece: Piece,
    what: str,
    given: object,
    into: Way | None,
    out: Way | None,
    center: Length | None = None,
) -> Placed:
    gap = _missing(piece, what, given)
    return Placed(piece, gap, gap, center or gap, into, out)


def _components(piece: Piece, way: Way, length: Measured) -> tuple[Length, Length]:
    """Rise and horizontal component of a straight piece, with the bounds of both readings."""
    sideways = _spanned(length, way.aside)
    if piece.runs == "level" and not isinstance(piece.slope or piece.tilt, Measured):
        # Level by eye is not a slope: a connector called level may climb or fall.
        return _missing(piece, "slope", piece.slope), sideways
    return _spanned(length, way.up), sideways


def _spanned(length: Measured, shares: tuple[float, float]) -> Measured:
    """A length times a share that is known only between two bounds. [m]"""
    corners = [end * share for end in (length.low, length.high) for share in shares]
    return between(min(corners), max(corners), length)


def _place_elbow(piece: Piece, before: Way | None, after: Way | None) -> Placed:
    if before is None or after is None:
        return _unplaced(piece, "direction before or after", None, before, after)
    leg = elbow_leg(piece)
    if isinstance(leg, NotMeasured):
        return _unplaced(piece, "center to face", leg, before, after)
    rise = _spanned(leg, _added(before.up, after.up))
    aside = _spanned(leg, _added(before.aside, after.aside))
    return Placed(piece, rise, aside, leg.scaled(2.0), before, after)


def _added(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return one[0] + other[0], one[1] + other[1]


def elbow_leg(piece: Piece) -> Length:
    """Center to face of an elbow: as measured, else estimated from size and angle. [m]

    Source: common practice, no source (one diameter radius and a short collar).
    """
    if isinstance(piece.leg, Measured):
        return piece.leg
    if not isinstance(piece.diameter, Measured) or not isinstance(piece.angle, Measured):
        return _missing(piece, "size or angle")
    half = math.radians(piece.angle.value) / 2
    value = piece.diameter.value * math.tan(half) + ELBOW_COLLAR_M
    return Measured(value, Dimension.LENGTH, ELBOW_DOUBT_M, "estimated", (piece.id,))


def vent_height(found: Trace) -> Length:
    """Height from the hood outlet to the lowest discharge opening. [m]

    The last piece's length is measured to that opening, so the cap adds nothing.
    """
    return _all_of(found, found.placed, "rise")


def height_above_connector(found: Trace) -> Length:
    """Height from where the connector enters the vent to the lowest discharge opening. [m]"""
    return _all_of(found, found.of_role("vent"), "rise")


def connector_horizontal(found: Trace) -> Length:
    """Horizontal components of every connector piece, added up. [m]"""
    return _all_of(found, found.of_role("connector"), "horizontal")


def connector_center_line(found: Trace) -> Length:
    """Whole center-line length of the connector, vertical parts too. [m]"""
    return _all_of(found, found.of_role("connector"), "center_line")


def lateral(found: Trace) -> Length:
    """Every horizontal component of connector and vent, at any angle. [m]"""
    return _all_of(found, found.placed, "horizontal")


def horizontal_for_75_percent(found: Trace) -> Length:
    """Connector horizontal length plus the vent runs more than 45 degrees from vertical. [m]"""
    if not found.placed:
        return NotMeasured("no piece of the path is described")
    parts: list[Length] = [p.horizontal for p in found.of_role("connector")]
    parts += [_counted(item) for item in found.of_role("vent")]
    return total(parts, "horizontal length")


def _counted(item: Placed) -> Length:
    """What of a vent piece counts as horizontal: all, none, or perhaps where it may be steep."""
    piece, aside, lean = item.piece, item.horizontal, item.lean
    if lean is None:
        if hides_bends(piece):
            return _perhaps(aside) if _gently_bent(piece) else aside
        return _missing(piece, "direction")
    if lean.high <= LEVEL_FROM_DEG + SAME_DEG:
        return metres(0.0)
    return aside if lean.low > LEVEL_FROM_DEG + SAME_DEG else _perhaps(aside)


def _gently_bent(piece: Piece) -> bool:
    """Whether no bend of a run is more than 45 degrees: two of them may yet add up."""
    turns = piece.elbows if isinstance(piece.elbows, tuple) else ()
    return bool(turns) and all(turn.high <= LEVEL_FROM_DEG + SAME_DEG for turn in turns)


def _perhaps(length: Length) -> Length:
    if isinstance(length, NotMeasured):
        return length
    return between(min(0.0, length.low), length.high, length)


def first_rise(found: Trace) -> Length:
    """Rise of the connector before its first elbow. [m]"""
    parts: list[Length] = []
    for item in found.of_role("connector"):
        if item.piece.part == "elbow":
            break
        if item.piece.part == "run" and item.piece.elbows is not ABSENT:
            return _missing(item.piece, "rise before the first elbow")
        parts.append(item.rise)
    return total(parts, "rise")


def _all_of(found: Trace, parts: tuple[Placed, ...], what: str) -> Length:
    if not parts:
        return NotMeasured("no piece of it is described")
    return total((getattr(p, what) for p in parts), what.replace("_", "-"))


def elbow_angles(found: Trace, role: str | None = None) -> tuple[float, ...] | NotMeasured:
    """Every change of direction in degrees, or the first piece that does not say. [deg]"""
    parts = found.placed if role is None else found.of_role(role)
    if not parts:
        return NotMeasured("no piece of it is described")
    angles: list[float] = []
    for item in parts:
        piece = item.piece
        if piece.part == "elbow":
            if not isinstance(piece.angle, Measured):
                return _missing(piece, "angle", piece.angle)
            angles.append(piece.angle.value)
        elif piece.part == "run":
            if isinstance(piece.elbows, tuple):
                angles.extend(turn.value for turn in piece.elbows)
            elif not isinstance(piece.elbows, Absent):
                return _missing(piece, "elbows", piece.elbows)
    return tuple(angles)


def offset_angles(found: Trace) -> tuple[Measured, ...] | NotMeasured:
    """Angle from vertical of every vent piece that leaves the vertical. [deg]"""
    angles: list[Measured] = []
    for item in found.of_role("vent"):
        piece, lean = item.piece, item.lean
        if piece.part in ("elbow", "cap"):
            continue
        if lean is None:
            return _missing(piece, "angle from vertical")
        if lean.high > 0:
            angles.append(Measured.between(lean.low, lean.high, Dimension.ANGLE, None, (piece.id,)))
    return tuple(angles)


def oddities(found: Trace) -> tuple[str, ...]:
    """Places where the pieces contradict one another or what a vent is for, a sentence each."""
    notes: list[str] = []
    for item in found.placed:
        piece = item.piece
        if says_two_things(piece):
            notes.append(f"{piece.id}: what is said of its direction cannot all be true")
        if piece.role == "vent" and piece.part != "cap" and item.out and item.out.low > 90.0:
            notes.append(f"{piece.id}: here the vent leads the gas downward")
        if piece.part != "elbow" or not isinstance(piece.angle, Measured):
            continue
        if item.tilt_in is None or item.tilt_out is None:
            continue
        turn = abs(item.tilt_out - item.tilt_in)
        flat = min(item.tilt_in, item.tilt_out) > LEVEL_FROM_DEG  # may turn in plan as well
        if abs(turn - piece.angle.value) > 15.0 and not flat:
            notes.append(
                f"{piece.id}: the pieces around it turn by {turn:.0f} degrees, "
                f"the elbow is said to be {piece.angle.value:.0f} degrees"
            )
    return tuple(notes)
