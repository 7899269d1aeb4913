"""How tight a house is and what its fans move, in words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightness:
    """A house in words.

    Attributes:
        leakage: flow of a blower door test at 50 Pa, such as "1500 cfm".
        exhaust: all fans that run, dryer included, such as "200 cfm".
        height: floor to ceiling of the heated part, such as "16 ft"; None: one storey.
        hood: height of the draft hood over the lowest floor; None: that of a water heater there.
    """

    leakage: str
    exhaust: str
    height: str | None = None
    hood: str | None = None
