"""A start from cold: does the vent take over, how long does it spill, how long is it wet."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from fluewright.draft import kernel, warm_kernel
from fluewright.draft.margins import spill_margin
from fluewright.draft.solve import figures, free_area
from fluewright.draft.system import Lone, Segment
from fluewright.errors import OutOfRange

CELL_M = 0.3
MOST_CELLS = 48
IDLE_STEP_S = 60.0
IDLE_STEPS = 60
SPILLS = 1e-3  # share of the flue gas that counts as spillage
DEFAULT_INSIDE_W_M2K = 10.0  # where a segment names no inside film; that of a small gas vent
SUCTION_TO_TRY_PA = 60.0
HALVINGS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """How an appliance starts.

    Attributes:
        burn_s: how long it burns. [s]
        step_s: step of time. [s]
        cold_share: share of the full temperature rise that is missing at first. [-]
        warm_s: time constant with which it comes. [s]
    """

    burn_s: float = 1200.0
    step_s: float = 1.0
    cold_share: float = 0.6
    warm_s: float = 120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmup:
    """What happens after a start from cold; the sequences hold one entry a step.

    Attributes:
        at_s: time since the burner came on. [s]
        flow_kg_s: up the vent; below 0 outdoor air comes down. [kg/s]
        spilt: share of the flue gas that goes into the room. [-]
        coldest_k: the coldest inside wall. [K]
        dew_k: dew point of the gas that goes up; None while none does. [K]
        idle_kg_s: flow of the vent while the appliance was off. [kg/s]
        spills_s: seconds until spillage ends; None where it has not ended. [s]
        flue_s: spillage in seconds of the whole flue gas. [s]
        wet_s: seconds during which water condenses somewhere on the wall. [s]
    """

    at_s: tuple[float, ...]
    flow_kg_s: tuple[float, ...]
    spilt: tuple[float, ...]
    coldest_k: tuple[float, ...]
    dew_k: tuple[float | None, ...]
    idle_kg_s: float
    spills_s: float | None
    flue_s: float
    wet_s: float

    @property
    def establishes(self) -> bool:
        """Whether all flue gas goes up the vent by the end."""
        return self.spills_s is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """Suctions of the room that the vent withstands, as positive pascals. [Pa]

    Attributes:
        standing_pa: while it is idle; beyond it outdoor air comes down. Below 0 it comes down
            without any suction.
        establishing_pa: at a start from cold, to take over within ``within_s``; None where it
            does not even without suction, ``SUCTION_TO_TRY_PA`` where it always did.
        hot_pa: once hot.
        within_s: the time allowed. [s]
    """

    standing_pa: float
    establishing_pa: float | None
    hot_pa: float
    within_s: float


class Arithmetic(Protocol):
    """What ``draft.warm_kernel`` computes, as it stands or compiled."""

    @property
    def stand(self) -> Callable[..., float]:
        """Lets a vent stand idle."""
        ...

    @property
    def start(self) -> Callable[..., float]:
        """Burns from cold."""
        ...


def warm_up(system: Lone, start: Start, arithmetic: Arithmetic = warm_kernel) -> Warmup:
    """What a vent does from the moment the burner comes on in a cold vent.

    The vent has stood idle for an hour before, in the weather and house given.

    Source: quasi-steady gas over lumped walls, `draft.warm_kernel`; the flow follows its branch.
    Valid: a draft hood; no heat of condensation, so wet walls warm a little faster than here.

    Args:
        system: flame at full rate, hood, vent, surroundings.
        start: how the appliance starts.
        arithmetic: as it stands, or ``ensemble.warm.COMPILED``, quicker.
    Returns:
        The course of the start and what it adds up to.
    Raises:
        OutOfRange: a figure that no vent can have, no draft hood, or an appliance that is off.
    """
    if system.hood is None or not system.flue.mass_kg_s > 0.0:
        raise OutOfRange("warm-up: a draft hood and a burner that is on are needed.")
    if not (0.0 < start.step_s <= start.burn_s and start.burn_s / start.step_s <= 1e6):
        raise OutOfRange(f"warm-up: steps of {start.step_s:g} s in {start.burn_s:g} s.")
    vent = _Cells.of(system)
    idle = vent.idle(system, arithmetic)
    steps = round(start.burn_s / start.step_s)
    record = vent.burn(system, start, idle, steps, arithmetic)
    return _told(record, idle, start.step_s)


def thresholds(system: Lone, start: Start, within_s: float = 300.0) -> Thresholds:
    """The suctions that a vent withstands idle, at a start from cold, and hot. [Pa]

    Source: as `warm_up` and `draft.margins`; the middle one by bisection on the room's pressure.

    Args:
        system: flame at full rate, hood, vent, surroundings; its room pressure does not count.
        start: how the appliance starts.
        within_s: how long it may spill. [s]
    Returns:
        Three suctions.
    Raises:
        OutOfRange: as `warm_up`.
    """
    calm = replace(system, around=replace(system.around, room_pa=0.0))

    def takes_over(suction: float) -> bool:
        around = replace(system.around, room_pa=-suction)
        found = warm_up(replace(system, around=around), replace(start, burn_s=within_s))
        return found.spills_s is not None

    establishing: float | None = None
    if takes_over(0.0):
        low, high = 0.0, SUCTION_TO_TRY_PA
        if takes_over(high):
            low = high
        else:
            hot = min(max(spill_margin(calm), 0.5), high)
            low, high = (low, hot) if not takes_over(hot) else (hot, high)
            for _ in range(HALVINGS):
                middle = 0.5 * (low + high)
                low, high = (middle, high) if takes_over(middle) else (low, middle)
        establishing = low
    return Thresholds(
        standing_pa=standing(calm),
        establishing_pa=establishing,
        hot_pa=spill_margin(calm),
        within_s=within_s,
    )


def standing(system: Lone) -> float:
    """Pressure with which an idle vent full of room air draws upward. [Pa]

    Source: weight of the air in a vent at the temperature around it against that outdoors.

    Args:
        system: the vent and its surroundings; its room pressure and wind count.
    Returns:
        The further suction of the room that turns it; below 0 it is turned already.
    Raises:
        OutOfRange: a figure that no vent can have.
    """
    off = replace(system, flue=replace(system.flue, mass_kg_s=0.0))
    par, rows = figures(off)
    par[kernel.PLUME_M] = 0.0
    still = kernel.TINY_SHARE * kernel.flow_scale(par, rows, len(rows))
    return kernel.rising(still, par, rows, len(rows))


@dataclass(slots=True)
class _Cells:
    """A vent cut into cells, with the temperatures of its walls."""

    rows: list[list[float]]
    walls: list[list[float]]
    nodes: list[int]
    around_k: list[float]
    store: list[list[float]]
    passes: list[list[float]]

    @classmethod
    def of(cls, system: Lone) -> _Cells:
        """The cells of a system, every wall as warm as what is around it."""
        _, rows = figures(system)
        length = sum(segment.length_m for segment in system.segments)
        size = max(CELL_M, length / MOST_CELLS)
        made = cls([], [], [], [], [], [])
        for segment, row in zip(system.segments, rows, strict=True):
            inside, store, passes = wall_nodes(segment)
            many = max(1, math.ceil(segment.length_m / size - 1e-9))
            for i in range(many):
                cell = list(row)
                cell[kernel.LENGTH] /= many
                cell[kernel.RISE] /= many
                cell[kernel.ENTRY] = row[kernel.ENTRY] if i == 0 else 0.0
                cell[kernel.HEAT] = inside * 4.0 * free_area(segment) / segment.diameter_m
                made.rows.append(cell)
                made.walls.append([segment.ambient_k] * len(store))
                made.nodes.append(len(store))
                made.around_k.append(segment.ambient_k)
                made.store.append(store)
                made.passes.append(passes)
        return made

    def over(self, step_s: float) -> list[list[float]]:
        """Heat that each node stores in a kelvin, over a step of time. [W/(m2 K)]"""
        return [[one / step_s for one in store] for store in self.store]

    def idle(self, system: Lone, arithmetic: Arithmetic) -> float:
        """Lets the vent stand for an hour with the appliance off. The flow then. [kg/s]"""
        off = replace(system, flue=replace(system.flue, mass_kg_s=0.0))
        par, _ = figures(off)
        par[kernel.PLUME_M] = 0.0
        return arithmetic.stand(
            par, self.rows, len(self.rows), self.walls, self.over(IDLE_STEP_S), self.passes,
            self.around_k, self.nodes, IDLE_STEPS, [0.0] * max(self.nodes),
        )  # fmt: skip

    def burn(
        self, system: Lone, start: Start, flow: float, steps: int, arithmetic: Arithmetic
    ) -> list[list[float]]:
        """Burns from now on; one row of the record a step."""
        par, _ = figures(system)
        given = [0.0] * warm_kernel.START_SIZE
        given[warm_kernel.SECONDS] = start.step_s
        given[warm_kernel.COLD_SHARE] = start.cold_share
        given[warm_kernel.WARM_S] = start.warm_s
        given[warm_kernel.FULL_K] = system.flue.temperature_k
        given[warm_kernel.FLUE_WATER] = system.flue.water
        given[warm_kernel.ROOM_WATER] = system.around.room_water
        record = [[0.0] * warm_kernel.RECORD_SIZE for _ in range(steps)]
        arithmetic.start(
            par, self.rows, len(self.rows), self.walls, self.over(start.step_s), self.passes,
            self.around_k, self.nodes, given, flow, steps, [0.0] * max(self.nodes), record,
        )  # fmt: skip
        return record


def wall_nodes(segment: Segment) -> tuple[float, list[float], list[float]]:
    """Inside film, heat stored by each node, and the conductances from the gas outward.

    Args:
        segment: with a wall of one node or several.
    Returns:
        Per inside area [W/(m2 K)], [J/(m2 K)], [W/(m2 K)].
    Raises:
        OutOfRange: the wall would lose more than its inside film lets through.
    """
    inside = segment.inside_w_m2k or max(DEFAULT_INSIDE_W_M2K, 1.2 * segment.u_w_m2k)
    if segment.nodes:
        inside = 1.0 / (1.0 / inside + 1.0 / segment.face_w_m2k)
        return (
            inside,
            [node.store_j_m2k for node in segment.nodes],
            [inside, *(node.outward_w_m2k for node in segment.nodes)],
        )
    if segment.u_w_m2k >= inside:
        raise OutOfRange(
            f"warm-up: segment {segment.name}: u_w_m2k {segment.u_w_m2k:g} is not less than its "
            f"inside film {inside:g}."
        )
    outward = 1.0 / (1.0 / segment.u_w_m2k - 1.0 / inside) if segment.u_w_m2k > 0.0 else 0.0
    return inside, [segment.wall_j_m2k], [inside, outward]


def _told(record: Sequence[Sequence[float]], idle: float, step_s: float) -> Warmup:
    """The record in words."""
    spilt = tuple(line[warm_kernel.SPILT] for line in record)
    coldest = tuple(line[warm_kernel.COLDEST_K] for line in record)
    dew = tuple(line[warm_kernel.DEW_K] or None for line in record)
    last = max((i for i, share in enumerate(spilt) if share > SPILLS), default=-1)
    wet = sum(d is not None and wall < d for d, wall in zip(dew, coldest, strict=True))
    return Warmup(
        at_s=tuple(line[warm_kernel.AT_S] for line in record),
        flow_kg_s=tuple(line[warm_kernel.FLOW] for line in record),
        spilt=spilt,
        coldest_k=coldest,
        dew_k=dew,
        idle_kg_s=idle,
        spills_s=None if last == len(spilt) - 1 else (last + 1) * step_s,
        flue_s=sum(spilt) * step_s,
        wet_s=wet * step_s,
    )
