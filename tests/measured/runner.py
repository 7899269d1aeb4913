"""Runs the measured cases of ``cases.toml`` over all that was assumed, and judges the outcome.

An input that the source does not give has a range. Every combination of the ends of those ranges
is computed, and the middle; few inputs are taken at their middle beside their ends too. What
comes out is therefore a band, and the verdict compares two bands:

    inside    all that was computed lies in the measured band
    overlaps  part of it does: what was assumed decides
    outside   none of it does
    not measured   shown beside the others; nobody measured it
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any, Literal, get_args

from tests.measured import house_cases, vent_cases

from fluewright.files.physics import coefficients

CASES = Path(__file__).with_name("cases.toml")
Verdict = Literal["inside", "overlaps", "outside", "not measured"]
Known = Literal["read", "abstract", "secondary", "practice", "memory", "derived", "assumed"]
VERDICTS: tuple[str, ...] = get_args(Verdict)
KNOWN: tuple[str, ...] = get_args(Known)
THREE_POINTS_UP_TO = 3  # inputs with a range; with more, the ends alone and the middle

Computation = Callable[[Mapping[str, float]], dict[str, float]]
COMPUTATIONS: Mapping[str, Computation] = {
    "short_flue": vent_cases.short_flue,
    "furnace_air": house_cases.furnace_air,
    "house_flues": vent_cases.house_flues,
    "idle_and_hot": vent_cases.idle_and_hot,
    "flue_damper": vent_cases.flue_damper,
    "port_draft": vent_cases.port_draft,
    "co_of_blocked_furnace": house_cases.co_of_blocked_furnace,
    "idle_vent_share": house_cases.idle_vent_share,
    "fan_chart": house_cases.fan_chart,
    "depressurized_houses": house_cases.depressurized_houses,
    "vent_and_house": house_cases.vent_and_house,
    "townhouse_stack": house_cases.townhouse_stack,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """A figure that goes in: its middle, its ends, and how it is known."""

    name: str
    value: float
    low: float
    high: float
    unit: str
    known: str
    note: str

    @property
    def varies(self) -> bool:
        return self.low < self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A figure that was measured, with its band; an end that is missing is open.

    ``band`` says where the band comes from, ``verdict`` what the comparison is known to give,
    ``explanation`` why, where that is not "inside".
    """

    name: str
    title: str
    unit: str
    value: float | None
    low: float
    high: float
    known: str
    band: str
    verdict: str
    explanation: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One situation that somebody measured."""

    id: str
    title: str
    computes: str
    source: str
    known: str
    measured: str
    assumed: str
    inputs: tuple[Input, ...]
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What came out for one outcome: at the middle of all inputs, and over their ranges."""

    outcome: Outcome
    middle: float
    low: float
    high: float

    @property
    def verdict(self) -> Verdict:
        return verdict(self.low, self.high, self.outcome.low, self.outcome.high)


def verdict(low: float, high: float, measured_low: float, measured_high: float) -> Verdict:
    """How a computed band lies to a measured one."""
    if math.isinf(measured_low) and math.isinf(measured_high):
        return "not measured"
    if high < measured_low or low > measured_high:
        return "outside"
    return "inside" if measured_low <= low and high <= measured_high else "overlaps"


@cache
def cases() -> tuple[Case, ...]:
    """All cases of the file."""
    data = tomllib.loads(CASES.read_text(encoding="utf-8"))
    return tuple(_case(one) for one in data["case"])


def run(case: Case) -> tuple[Found, ...]:
    """A case computed over all that was assumed; one result an outcome."""
    compute = COMPUTATIONS[case.computes]
    middle = compute({one.name: one.value for one in case.inputs})
    low, high = dict(middle), dict(middle)
    for given in combinations(case.inputs):
        for key, figure in compute(given).items():
            low[key], high[key] = min(low[key], figure), max(high[key], figure)
    return tuple(
        Found(outcome=one, middle=middle[one.name], low=low[one.name], high=high[one.name])
        for one in case.outcomes
    )


def combinations(inputs: tuple[Input, ...]) -> Iterator[dict[str, float]]:
    """Every combination of the ends of what varies; of few inputs of their middle as well."""
    few = sum(one.varies for one in inputs) <= THREE_POINTS_UP_TO
    points = [
        sorted({one.low, one.value, one.high} if few else {one.low, one.high}) for one in inputs
    ]
    for chosen in product(*points):
        yield {one.name: figure for one, figure in zip(inputs, chosen, strict=True)}


def _case(row: Mapping[str, Any]) -> Case:
    return Case(
        id=row["id"], title=row["title"], computes=row["computes"], source=row["source"],
        known=row["known"], measured=row["measured"], assumed=row["assumed"],
        inputs=tuple(_input(name, one) for name, one in row["input"].items()),
        outcomes=tuple(_outcome(name, one) for name, one in row["outcome"].items()),
    )  # fmt: skip


def _input(name: str, row: Mapping[str, Any]) -> Input:
    if row.get("coefficient"):
        one = coefficients().numbers[name]
        return Input(
            name=name, value=one.value, low=one.low, high=one.high, unit=one.unit,
            known=one.basis, note="coefficient of the engine, over its range",
        )  # fmt: skip
    value = float(row["value"])
    return Input(
        name=name, value=value, low=float(row.get("low", value)),
        high=float(row.get("high", value)), unit=row["unit"], known=row["known"],
        note=row.get("note", ""),
    )  # fmt: skip


def _outcome(name: str, row: Mapping[str, Any]) -> Outcome:
    return Outcome(
        name=name, title=row["title"], unit=row["unit"], value=row.get("value"),
        low=float(row.get("low", -math.inf)), high=float(row.get("high", math.inf)),
        known=row["known"], band=row["band"], verdict=row["verdict"],
        explanation=row.get("explanation", ""),
    )  # fmt: skip
