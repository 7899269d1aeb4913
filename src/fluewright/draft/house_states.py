"""What runs in a house: exhaust fans by state, with ranges where nobody measured them.

A fan's nameplate is not its flow, and all fans at once are rare: over a population the summed
nameplates say two to three times as many houses are too low as tests find. But the worst case of
one house is that of its own fans. A measured house pressure replaces all of this.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from fluewright.draft.coefficients import Coefficient, Coefficients
from fluewright.draft.house import Fan
from fluewright.errors import OutOfRange

State = Literal["idle", "bath", "kitchen", "dryer", "all"]
STATES: dict[State, tuple[str, ...]] = {
    "idle": (),
    "bath": ("bath",),
    "kitchen": ("kitchen",),
    "dryer": ("dryer",),
    "all": ("bath", "kitchen", "dryer"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseState:
    """Fans that run together.

    Attributes:
        name: of the state.
        fans: typical flows out of the house.
        low_m3_s, high_m3_s: ends of their sum. [m3/s]
        basis: of each fan, in words.
    """

    name: State
    fans: tuple[Fan, ...]
    low_m3_s: float
    high_m3_s: float
    basis: tuple[str, ...]

    @property
    def exhaust_m3_s(self) -> float:
        """Typical flows added up. [m3/s]"""
        return math.fsum(fan.flow_m3_s for fan in self.fans)


def house_states(table: Coefficients) -> dict[State, HouseState]:
    """The states of a house of which nothing but the kinds of its fans is known. [m3/s]

    Source: each row of the table names its own.

    Args:
        table: coefficients of the house.
    Raises:
        BadEdition: the table lacks a fan.
    """
    return {name: _state(name, kinds, table) for name, kinds in STATES.items()}


def installed(fans: Iterable[Fan], over_rated: float) -> tuple[Fan, ...]:
    """Fans as installed, each at a share of its nameplate. [m3/s]

    Source: `fan.installed_over_rated`. Not together with `running_together`.

    Args:
        fans: with rated flows.
        over_rated: installed over rated flow; 1 is the worst case. [-]
    Raises:
        OutOfRange: a share that is not above 0 and up to 1.
    """
    _share("installed over rated flow", over_rated)
    return tuple(Fan(name=fan.name, flow_m3_s=fan.flow_m3_s * over_rated) for fan in fans)


def running_together(fans: Iterable[Fan], factor: float) -> float:
    """Likely exhaust of a house from the nameplates of all its fans. [m3/s]

    Source: `fan.together`, fitted to sums of nameplates, so that it already holds what fans lose
    when installed. For many houses; the worst case of one house is the plain sum.

    Args:
        fans: with rated flows.
        factor: on the sum. [-]
    Raises:
        OutOfRange: a factor that is not above 0 and up to 1.
    """
    _share("factor of fans together", factor)
    return factor * math.fsum(fan.flow_m3_s for fan in fans)


def ends(one: Coefficient) -> tuple[tuple[str, float], ...]:
    """Low, likely and high of a coefficient, as `wind.wind_cases` takes them. [its unit]"""
    return (("low", one.low), ("likely", one.value), ("high", one.high))


def _state(name: State, kinds: tuple[str, ...], table: Coefficients) -> HouseState:
    for kind in kinds:
        table.value(f"fan.{kind}")  # says which one is missing
    rows = [table.numbers[f"fan.{kind}"] for kind in kinds]
    return HouseState(
        name=name,
        fans=tuple(
            Fan(name=kind, flow_m3_s=row.value) for kind, row in zip(kinds, rows, strict=True)
        ),
        low_m3_s=math.fsum(row.low for row in rows),
        high_m3_s=math.fsum(row.high for row in rows),
        basis=tuple(f"{row.source} ({row.basis})" for row in rows),
    )


def _share(what: str, value: float) -> None:
    if not 0.0 < value <= 1.0:
        raise OutOfRange(f"{what} is {value:g}. Give more than 0, at most 1.")
