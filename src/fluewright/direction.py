"""Which way a piece points, as far as the survey tells: degrees from vertical-up.

90 is level, more falls. A direction has bounds like every reading; a piece that says two
things which cannot both be true has none.
"""

from __future__ import annotations

import math

from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Piece

LEVEL_BY_EYE_DEG = 5.0  # level by eye is no reading: it may climb or fall this much
APART_DEG = 0.05  # two statements nearer than this say the same
# What the plain words leave room for where an angle or a slope is read beside them.
WORDS_DEG = {"up": (0.0, 60.0), "level": (45.0, 135.0), "down": (120.0, 180.0)}


@frozen
class Way:
    """A direction with its bounds, in degrees from vertical-up."""

    low: float
    value: float
    high: float

    @property
    def up(self) -> tuple[float, float]:
        """Least and greatest rise of a length of 1."""
        return math.cos(math.radians(self.high)), math.cos(math.radians(self.low))

    @property
    def aside(self) -> tuple[float, float]:
        """Least and greatest horizontal component of a length of 1."""
        ends = [math.sin(math.radians(angle)) for angle in (self.low, self.high)]
        return min(ends), 1.0 if self.low <= 90.0 <= self.high else max(ends)

    def within(self, other: Way) -> Way:
        """This direction narrowed by what else is known; itself where the two disagree."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        if low > high:
            return self
        return Way(low, min(max(self.value, low), high), high)


PLUMB = Way(0.0, 0.0, 0.0)


def own_way(piece: Piece) -> Way | None:
    """Direction that a piece states by itself; None where it states none, or two at once."""
    stated = _read(piece)
    if _two_things(piece, stated):
        return None
    if stated:
        return stated[0]
    # "up" and "down" are taken as plumb: an inch in ten feet changes nothing.
    return {
        None: None,
        "up": PLUMB,
        "level": Way(90.0 - LEVEL_BY_EYE_DEG, 90.0, 90.0 + LEVEL_BY_EYE_DEG),
        "down": Way(180.0, 180.0, 180.0),
    }[piece.runs]


def says_two_things(piece: Piece) -> bool:
    """Whether tilt, slope, rise over run and the plain word cannot all be true."""
    return _two_things(piece, _read(piece))


def _two_things(piece: Piece, stated: list[Way]) -> bool:
    spans = [(way.low, way.high) for way in stated]
    if piece.runs is not None and not hides_bends(piece):
        spans.append(WORDS_DEG[piece.runs])
    if not spans:
        return False
    return max(low for low, _ in spans) > min(high for _, high in spans) + APART_DEG


def hides_bends(piece: Piece) -> bool:
    """Whether it is a run seen as one, with bends in it or nobody said that there are none."""
    return piece.part == "run" and piece.elbows is not ABSENT


def _read(piece: Piece) -> list[Way]:
    """Every direction that was read off, the nearest to a measurement first."""
    found: list[Way] = []
    if isinstance(piece.tilt, Measured):
        low, high = max(0.0, piece.tilt.low), min(180.0, piece.tilt.high)
        found.append(Way(low, piece.tilt.value, high))
    if isinstance(piece.slope, Measured) and not hides_bends(piece):
        slope = piece.slope
        found.append(Way(*(90.0 - math.degrees(math.atan(s)) for s in _down(slope))))
    if not hides_bends(piece):
        found += _over_run(piece)
    return found


def _down(slope: Measured) -> tuple[float, float, float]:
    return slope.high, slope.value, slope.low


def _over_run(piece: Piece) -> list[Way]:
    """Direction of a straight run from its rise and its horizontal length."""
    rise, aside = piece.rise, piece.horizontal
    if not isinstance(rise, Measured) or not isinstance(aside, Measured):
        return []
    angles = [
        math.degrees(math.atan2(max(0.0, x), y))
        for x in (aside.low, aside.high)
        for y in (rise.low, rise.high)
    ]
    value = math.degrees(math.atan2(max(0.0, aside.value), rise.value))
    if aside.low <= 0.0 and rise.low < 0.0 < rise.high:
        return []  # too short to have a direction
    return [Way(min(angles), value, max(angles))]
