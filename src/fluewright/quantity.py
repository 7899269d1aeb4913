"""Quantities: measured values with their tolerance, and (see ``parse``, ``show``) their text.

Inside the program every value is SI. A tolerance is a bound (half-width), not a standard
deviation; sums and differences add bounds (worst case).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Dimension(StrEnum):
    """What kind of thing a number measures, with the SI unit that is used inside."""

    LENGTH = "length"  # m
    SLOPE = "slope"  # rise over run, ratio
    ANGLE = "angle"  # degrees (geometry is printed and read in degrees everywhere)
    AREA = "area"  # m2
    VOLUME = "volume"  # m3
    POWER = "power"  # W
    PRESSURE = "pressure"  # Pa
    TEMPERATURE = "temperature"  # degrees Celsius (a level, not a difference)
    FLOW = "flow"  # m3/s
    TIME = "time"  # s
    DENSITY = "density"  # kg/m3
    CONDUCTIVITY = "conductivity"  # W/(m K)
    RESISTANCE = "resistance"  # m2 K/W
    CONCENTRATION = "concentration"  # parts per million by volume
    COUNT = "count"  # pieces


@dataclass(frozen=True, slots=True)
class Measured:
    """A value with its bound, and where it comes from.

    ``value`` and ``tolerance`` are SI; ``tolerance`` is a half-width and never negative.
    ``tool`` names what it was read with; ``evidence`` names the readings or photos behind it.
    """

    value: float
    dimension: Dimension
    tolerance: float = 0.0
    tool: str | None = None
    evidence: tuple[str, ...] = ()

    @property
    def low(self) -> float:
        """Least value the reading allows."""
        return self.value - self.tolerance

    @property
    def high(self) -> float:
        """Greatest value the reading allows."""
        return self.value + self.tolerance


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """Nobody measured it, and why: the reason is shown instead of a number."""

    reason: str
