"""A concentration of carbon monoxide over time, as computed in a room or read off a meter."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from fluewright.errors import OutOfRange

MOST_PPM = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """Concentration at moments, a straight line between them.

    A moment that stands twice is a jump from the first value to the second.

    Attributes:
        times_s: moments, never going back. [s]
        ppm: concentration at each. [ppm by volume]
    """

    times_s: tuple[float, ...]
    ppm: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.times_s) != len(self.ppm) or len(self.ppm) < 2:
            raise OutOfRange(
                f"history: {len(self.times_s)} moments and {len(self.ppm)} concentrations. "
                "Give as many of the one as of the other, two at least."
            )
        for one, two in pairwise(self.times_s):
            if not (math.isfinite(one) and math.isfinite(two) and one <= two):
                raise OutOfRange(f"history: {two} s comes after {one} s. Put moments in order.")
        for value in self.ppm:
            if not 0.0 <= value <= MOST_PPM:
                raise OutOfRange(f"history: {value} ppm. Allowed: 0 to 1,000,000 ppm.")

    def intervals(self) -> Iterator[tuple[float, float, float, float]]:
        """Start, end, and the concentration at either. [s, s, ppm, ppm]"""
        for (t0, c0), (t1, c1) in pairwise(zip(self.times_s, self.ppm, strict=True)):
            yield t0, t1, c0, c1


def constant(ppm: float, duration_s: float) -> History:
    """History of one concentration for a while. [ppm, s]"""
    return History(times_s=(0.0, duration_s), ppm=(ppm, ppm))
