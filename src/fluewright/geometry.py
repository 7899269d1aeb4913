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
from dataclasses import dataclass

from fluewright.errors import OutOfRange
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Absent, Path, Piece

Length = Measured | NotMeasured
LEVEL_FROM_DEG = 45.0  # a run further than this from vertical counts as horizontal
# Center to face of an adjustable elbow is about D tan(angle / 2) plus the straight collar
# (common practice, no source); pieces differ by about an inch.
ELBOW_COLLAR_M = 1.125 * 0.0254
ELBOW_DOUBT_M = 1.0 * 0.0254


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece with its direction and what it adds upward and sideways.

    ``tilt_in`` and ``tilt_out`` are degrees from vertical-up where gas enters and leaves (90 is
    level, more falls), or None where the survey does not say.
    """

    piece: Piece
    rise: Length
    horizontal: Length
    center_line: Length
    tilt_in: float | None
    tilt_out: float | None

    @property
    def is_level(self) -> bool | None:
        """Whether it runs more than 45 degrees from vertical; None where not known.

        A ``run`` that goes sideways is taken as level: it hides what it is made of.
        """
        if self.piece.part == "elbow":
            return False
        if self.tilt_out is not None:
            return self.tilt_out > LEVEL_FROM_DEG
        if isinstance(self.horizontal, NotMeasured):
            return None
        return self.horizontal.high > 0


@dataclass(frozen=True, slots=True)
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
    tilts = [_own_tilt(piece) for piece in pieces]
    placed: list[Placed] = []
    before = 0.0 if outlet_on_top else None
    for i, piece in enumerate(pieces):
        after = next((t for t in tilts[i + 1 : i + 2]), None)
        item = _place(piece, before, after)
        placed.append(item)
        before = item.tilt_out
    return Trace(path, tuple(placed))


def _own_tilt(piece: Piece) -> float | None:
    """Degrees from vertical that a straight piece states by itself."""
    if isinstance(piece.tilt, Measured):
        return piece.tilt.value
    if piece.runs == "up":
        return 0.0
    if piece.runs == "down":
        return 180.0
    if piece.runs == "level" or isinstance(piece.slope, Measured):
        slope = piece.slope.value if isinstance(piece.slope, Measured) else 0.0
        return 90.0 - math.degrees(math.atan(slope))
    return None


def _place(piece: Piece, before: float | None, after: float | None) -> Placed:
    if piece.part == "cap":
        zero = metres(0.0)
        return Placed(piece, zero, zero, zero, before, before)
    if piece.part == "elbow":
        return _place_elbow(piece, before, after if piece.runs is None else _own_tilt(piece))
    if piece.rise is not None or piece.horizontal is not None:
        return _place_run(piece, before)
    return _place_straight(piece, before)


def _missing(piece: Piece, what: str, given: object = None) -> NotMeasured:
    if isinstance(given, NotMeasured):
        return NotMeasured(f"{what} of {piece.id} ({given.reason})")
    return NotMeasured(f"{what} of {piece.id}")


def _place_run(piece: Piece, before: float | None) -> Placed:
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
    return Placed(piece, rise, sideways, center, before, _own_tilt(piece))


def _place_straight(piece: Piece, before: float | None) -> Placed:
    tilt = _own_tilt(piece)
    into = before if tilt is None else tilt
    length = piece.length
    if not isinstance(length, Measured):
        if piece.part in ("reducer", "adapter", "tee"):
            # A fitting nobody measured still takes up room: its laying length is not known.
            return _unplaced(piece, "length", length, into, tilt if tilt is not None else before)
        return _unplaced(piece, "length", length, into, tilt)
    if tilt is None and piece.part in ("reducer", "adapter", "tee"):
        tilt = before  # a fitting carries on in the direction of the piece before it
    if tilt is None:
        return _unplaced(piece, "direction", None, into, tilt, length)
    rise, sideways = _components(piece, tilt, length)
    return Placed(piece, rise, sideways, length, tilt, tilt)


def _unplaced(
    piece: Piece,
    what: str,
    given: object,
    into: float | None,
    out: float | None,
    center: Length | None = None,
) -> Placed:
    gap = _missing(piece, what, given)
    return Placed(piece, gap, gap, center or gap, into, out)


def _components(piece: Piece, tilt: float, length: Measured) -> tuple[Length, Length]:
    """Rise and horizontal component of a straight piece, with the bounds of both readings."""
    if piece.runs == "level" and not isinstance(piece.slope, Measured):
        # Level by eye is not a slope: a connector called level may climb or fall 5 degrees.
        sideways = between(length.low * math.cos(math.radians(5)), length.high, length)
        return _missing(piece, "slope", piece.slope), sideways
    low, high = _tilt_span(piece, tilt)
    ups = [l_ * math.cos(math.radians(t)) for l_ in (length.low, length.high) for t in (low, high)]
    sides = [
        l_ * math.sin(math.radians(t)) for l_ in (length.low, length.high) for t in (low, high)
    ]
    if low < 90.0 < high:
        sides.append(length.high)
    return between(min(ups), max(ups), length), between(min(sides), max(sides), length)


def _tilt_span(piece: Piece, tilt: float) -> tuple[float, float]:
    if isinstance(piece.tilt, Measured):
        return max(0.0, piece.tilt.low), min(180.0, piece.tilt.high)
    if isinstance(piece.slope, Measured):
        return (
            90.0 - math.degrees(math.atan(piece.slope.high)),
            90.0 - math.degrees(math.atan(piece.slope.low)),
        )
    return tilt, tilt  # "up" and "down" are taken as plumb: an inch in ten feet changes nothing


def _place_elbow(piece: Piece, before: float | None, after: float | None) -> Placed:
    if before is None or after is None:
        return _unplaced(piece, "direction before or after", None, before, after)
    leg = elbow_leg(piece)
    if isinstance(leg, NotMeasured):
        return _unplaced(piece, "center to face", leg, before, after)
    up = math.cos(math.radians(before)) + math.cos(math.radians(after))
    side = math.sin(math.radians(before)) + math.sin(math.radians(after))
    return Placed(piece, _scaled(leg, up), _scaled(leg, side), _scaled(leg, 2.0), before, after)


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


def _scaled(length: Measured, factor: float) -> Measured:
    return Measured(
        length.value * factor,
        Dimension.LENGTH,
        length.tolerance * abs(factor),
        length.tool,
        length.evidence,
    )


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
    parts: list[Length] = [p.horizontal for p in found.of_role("connector")]
    for item in found.of_role("vent"):
        level = item.is_level
        if level is None:
            parts.append(_missing(item.piece, "direction"))
        elif level:
            parts.append(item.horizontal)
    if not found.placed:
        return NotMeasured("no piece of the path is described")
    return total(parts, "horizontal length")


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
        piece = item.piece
        if piece.part in ("elbow", "cap"):
            continue
        if isinstance(piece.tilt, Measured):
            if piece.tilt.high > 0:
                angles.append(piece.tilt)
        elif piece.part == "run" and piece.elbows is ABSENT:
            continue
        elif item.tilt_out is None or piece.part == "run":
            return _missing(piece, "angle from vertical")
        elif item.tilt_out > 0:
            angles.append(Measured(item.tilt_out, Dimension.ANGLE, 0.0, None, (piece.id,)))
    return tuple(angles)


def oddities(found: Trace) -> tuple[str, ...]:
    """Places where the pieces contradict one another, one sentence each."""
    notes: list[str] = []
    for item in found.placed:
        piece = item.piece
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
