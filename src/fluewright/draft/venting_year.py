"""The hours of a year in which a vent spills, does not start, or stays wet.

Only outdoor temperature and one pressure count in an hour: that of the wind at the cap less that
of the room. The margin, the pressure up to which the vent takes over from cold, and how wet its
walls are run smoothly over the temperature, so that each is worked out at some temperatures and
put straight between them. An hour without temperature or wind is never counted as fine.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fluewright.draft import warm_kernel
from fluewright.draft.assess import Model
from fluewright.draft.leakage import air_density
from fluewright.draft.margins import spill_margin
from fluewright.draft.solve import Operating, solve
from fluewright.draft.warmup import Arithmetic, Start, standing, warm_up
from fluewright.draft.weather import HOURS, Hour
from fluewright.draft.wind import Terrain, wind_pressure, wind_speed
from fluewright.errors import NotSolved, OutOfRange

OUTDOOR, ROOM, WIND = "outdoor_k", "room_pa", "wind_pa"  # inputs that weather and house move
HOT_STEP_K, START_STEP_K, WET_STEP_K = 3.0, 9.0, 6.0
WITHIN_PA = 0.25  # how close the pressure is found up to which it takes over from cold
DEEPEST_PA = 250.0  # beyond it no start is tried
WET_PA = (2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CapWind:
    """How the wind of the station comes to the cap.

    Attributes:
        height_m: of the cap above the ground. [m]
        terrain: around the house.
        helping, adverse: pressure coefficients of a cap, lowest and highest. [-]
        air_pa: of the site. [Pa]
    """

    height_m: float
    terrain: Terrain
    helping: float
    adverse: float
    air_pa: float

    def pressures(self, outdoor_k: float, station_m_s: float) -> tuple[float, float]:
        """Pressure at the cap where the wind helps and where it holds back. [Pa]"""
        speed = wind_speed(station_m_s, self.height_m, self.terrain)
        density = air_density(outdoor_k, self.air_pa)
        return (
            wind_pressure(speed, self.helping, density),
            wind_pressure(speed, self.adverse, density),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """Hours a year of which something holds.

    Attributes:
        low: in any wind direction and house that was asked. [h/year]
        high: in some of them, and in every hour that could not be told. [h/year]
        untold: those that could not be told, contained in ``high``. [h/year]
        still: with no wind at the cap and the house as it is most likely; hours that could not be
            told are not in it. [h/year]
    """

    low: float
    high: float
    untold: float
    still: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """The hours of one span of outdoor temperature; None at an open end."""

    from_k: float | None
    to_k: float | None
    hours: float
    spills: Counted
    fails_to_start: Counted | None
    wet: Counted


@dataclass(frozen=True, slots=True, kw_only=True)
class VentingYear:
    """What a vent does over the hours of a record.

    Attributes:
        record: hours it holds.
        without: of these, hours that lack temperature or wind. [h of the record]
        spills, wet: hot.
        fails_to_start: does not take over from cold within ``within_s``; None without a hood.
        worst_spills: hours that spill hot where every input stands at its bad end, the wind
            against the cap, hours that cannot be told with them. [h/year]
        bins: by outdoor temperature, cold to warm; hours without temperature are in none.
        wind: how it comes to the cap.
        hot: outdoor temperature and pressure to spare once hot. [(K, Pa)]
        cold: outdoor temperature and pressure up to which it takes over. [(K, Pa)]
        within_s: how long a start may spill. [s]
    """

    record: int
    without: int
    spills: Counted
    fails_to_start: Counted | None
    wet: Counted
    worst_spills: float
    bins: tuple[Bin, ...]
    wind: CapWind
    hot: tuple[tuple[float, float], ...]
    cold: tuple[tuple[float, float], ...]
    within_s: float


@dataclass(frozen=True, slots=True)
class _Line:
    """Values at rising places, straight between them."""

    at: tuple[float, ...]
    values: tuple[float, ...]

    def __call__(self, x: float) -> float:
        """The value at a place within the ends."""
        i, share = _place(self.at, x)
        return self.values[i] + share * (self.values[min(i + 1, len(self.at) - 1)] - self.values[i])


# At the good end of wind and house, in still air, and at the bad end.
Told = tuple[bool | None, bool | None, bool | None]
Pushes = tuple[float, float, float]


def venting_year(
    model: Model,
    hours: Sequence[Hour],
    wind: CapWind,
    start: Start,
    edges_k: Sequence[float],
    arithmetic: Arithmetic = warm_kernel,
) -> VentingYear:
    """Hours a year in which a vent spills hot, does not take over from cold, is wet hot. [h/year]

    Source: `spill_margin`, `warm_up` and `solve` at some temperatures, straight between them; the
    balance knows pressure of wind and room by their difference alone.
    Valid: every hour by itself, as steady as its means; gusts are not in it. A start is one after
    an hour at rest in the weather of that hour.

    Args:
        model: with the inputs ``outdoor_k``, ``room_pa`` and ``wind_pa``; the house at rest or
            under its fans as ``room_pa`` says, from its low to its high.
        hours: of the record.
        wind: from the station to the cap.
        start: how the appliance starts; ``burn_s`` is how long it may spill.
        edges_k: of the bins of outdoor temperature, rising. [K]
        arithmetic: of the starts, as it stands or compiled.
    Returns:
        Counts, each from the good to the bad end of wind and house.
    Raises:
        OutOfRange: no hour has both temperature and wind; a figure that no vent can have.
        NotSolved: no balance at one of the temperatures, and why.
    """
    told = [one for one in hours if one.outdoor_k is not None and one.wind_m_s is not None]
    if not told:
        raise OutOfRange("weather: no hour has both temperature and wind. Use another file.")
    kelvins = [one.outdoor_k for one in told if one.outdoor_k is not None]
    ends = min(kelvins), max(kelvins)
    hot, worst = _margins(model, _nodes(*ends, HOT_STEP_K))
    hooded = model.system.hood is not None
    cold = _starts(model, _nodes(*ends, START_STEP_K), start, arithmetic) if hooded else None
    pushes = [_pushes(model, wind, one) for one in hours]
    lowest = min(one[0] for one in pushes if one is not None)
    highest = max(one[-1] for one in pushes if one is not None)
    wet = _Wet.of(model, _nodes(*ends, WET_STEP_K), _levels(lowest, highest))
    spills = _asked(hours, pushes, lambda k, push: hot(k) < push)
    fails = None if cold is None else _asked(hours, pushes, lambda k, push: cold(k) < push)
    damp = _asked(hours, pushes, wet)
    worse = _asked(hours, pushes, lambda k, push: worst(k) < push)
    scale = HOURS / len(hours)
    return VentingYear(
        record=len(hours),
        without=len(hours) - len(told),
        spills=_counted(spills, scale),
        fails_to_start=None if fails is None else _counted(fails, scale),
        wet=_counted(damp, scale),
        worst_spills=_counted(worse, scale).high,
        bins=_bins(hours, edges_k, (spills, fails, damp), scale),
        wind=wind,
        hot=tuple(zip(hot.at, hot.values, strict=True)),
        cold=() if cold is None else tuple(zip(cold.at, cold.values, strict=True)),
        within_s=start.burn_s,
    )


def _nodes(low: float, high: float, step: float) -> tuple[float, ...]:
    """Temperatures from end to end, no further apart than a step. [K]"""
    many = max(1, math.ceil((high - low) / step))
    if high <= low:
        return (low,)
    return tuple(low + (high - low) * i / many for i in range(many + 1))


def _place(at: Sequence[float], x: float) -> tuple[int, float]:
    """Which stretch of a rising row a place lies in, and how far along it."""
    i = min(max(bisect_right(at, x) - 1, 0), max(len(at) - 2, 0))
    if len(at) == 1:
        return 0, 0.0
    return i, min(max((x - at[i]) / (at[i + 1] - at[i]), 0.0), 1.0)


def _pushes(model: Model, wind: CapWind, hour: Hour) -> Pushes | None:
    """Wind at the cap less the room, from the good to the bad end; None where untold. [Pa]"""
    if hour.outdoor_k is None or hour.wind_m_s is None:
        return None
    room = next(one for one in model.inputs if one.name == ROOM)
    helps, holds = wind.pressures(hour.outdoor_k, hour.wind_m_s)
    return helps - room.high, -room.value, holds - room.low


def _asked(
    hours: Sequence[Hour],
    pushes: Sequence[Pushes | None],
    holds: Callable[[float, float], bool | None],
) -> list[Told]:
    """Answers of each hour, from the good to the bad end of wind and house."""
    return [
        (None, None, None)
        if push is None or one.outdoor_k is None
        else (
            holds(one.outdoor_k, push[0]),
            holds(one.outdoor_k, push[1]),
            holds(one.outdoor_k, push[2]),
        )
        for one, push in zip(hours, pushes, strict=True)
    ]


def _counted(told: Sequence[Told], scale: float) -> Counted:
    low = sum(all(one) for one in told)
    some = sum(True in one for one in told)
    untold = sum(True not in one and None in one for one in told)
    still = sum(one[1] is True for one in told)
    return Counted(
        low=low * scale, high=(some + untold) * scale, untold=untold * scale, still=still * scale
    )


def _bins(
    hours: Sequence[Hour],
    edges_k: Sequence[float],
    told: tuple[Sequence[Told], Sequence[Told] | None, Sequence[Told]],
    scale: float,
) -> tuple[Bin, ...]:
    """The counts by outdoor temperature; empty bins at either end are left out."""
    members: list[list[int]] = [[] for _ in range(len(edges_k) + 1)]
    for n, one in enumerate(hours):
        if one.outdoor_k is not None:
            members[bisect_right(edges_k, one.outdoor_k)].append(n)
    filled = [i for i, which in enumerate(members) if which]
    spills, fails, wet = told
    return tuple(
        Bin(
            from_k=edges_k[i - 1] if i else None,
            to_k=edges_k[i] if i < len(edges_k) else None,
            hours=len(members[i]) * scale,
            spills=_counted([spills[n] for n in members[i]], scale),
            fails_to_start=None
            if fails is None
            else _counted([fails[n] for n in members[i]], scale),
            wet=_counted([wet[n] for n in members[i]], scale),
        )
        for i in range(filled[0], filled[-1] + 1)
    )


def _margins(model: Model, at: tuple[float, ...]) -> tuple[_Line, _Line]:
    """Pressure to spare with neither wind nor suction, as it stands and at its worst. [Pa]"""
    varied = [
        one for one in model.inputs if one.low < one.high and one.name not in (OUTDOOR, ROOM, WIND)
    ]
    usual, worst = [], []
    for kelvin in at:
        calm = {OUTDOOR: kelvin, ROOM: 0.0, WIND: 0.0}
        margin = spill_margin(model.build(calm))
        usual.append(margin)
        for one in varied:
            ends = [spill_margin(model.build({**calm, one.name: x})) for x in (one.low, one.high)]
            margin -= max(usual[-1] - min(ends), 0.0)
        worst.append(margin)
    return _Line(at, tuple(usual)), _Line(at, tuple(worst))


def _starts(model: Model, at: tuple[float, ...], start: Start, arithmetic: Arithmetic) -> _Line:
    """Pressure of wind less room up to which a vent takes over from cold. [Pa]

    It follows the pressure with which the idle vent draws; the distance to that, which changes
    little from one temperature to the next, says where to look.
    """
    found: list[float] = []
    away, width = 1.0, 1.0
    for kelvin in at:
        calm = model.build({OUTDOOR: kelvin, ROOM: 0.0, WIND: 0.0})
        idle = standing(calm)

        def takes_over(push: float, kelvin: float = kelvin) -> bool:
            system = model.build({OUTDOOR: kelvin, ROOM: 0.0, WIND: push})
            return warm_up(system, start, arithmetic).spills_s is not None

        limit = _edge(takes_over, idle + away, width)
        found.append(limit)
        away, width = limit - idle, 2.0 * WITHIN_PA
    return _Line(at, tuple(found))


def _edge(holds: Callable[[float], bool], guess: float, width: float) -> float:
    """The largest pressure, to ``WITHIN_PA``, up to which something still holds. [Pa]"""
    low = high = guess
    if holds(guess):
        while holds(high := high + width):
            low, width = high, 2.0 * width
            if high > DEEPEST_PA:
                return high
    else:
        while not holds(low := low - width):
            high, width = low, 2.0 * width
            if low < -DEEPEST_PA:
                return low
    while high - low > WITHIN_PA:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def _levels(lowest: float, highest: float) -> tuple[float, ...]:
    """Pressures from end to end, closer where they are small. [Pa]"""
    levels = (*(-one for one in reversed(WET_PA)), -1.0, 0.0, 1.0, *WET_PA)
    inside = [one for one in levels if lowest < one < highest]
    return tuple(dict.fromkeys((lowest, *inside, highest)))


@dataclass(frozen=True, slots=True)
class _Wet:
    """By how much the dew point is above the coldest wall, over temperature and pressure. [K]"""

    kelvins: tuple[float, ...]
    pushes: tuple[float, ...]
    gaps: tuple[tuple[float | None, ...], ...]

    @classmethod
    def of(cls, model: Model, kelvins: tuple[float, ...], pushes: tuple[float, ...]) -> _Wet:
        """The hot vent in each of these weathers."""
        return cls(
            kelvins,
            pushes,
            tuple(tuple(_gap_at(model, kelvin, push) for push in pushes) for kelvin in kelvins),
        )

    def __call__(self, kelvin: float, push: float) -> bool | None:
        """Whether water condenses on a wall; None where a neighbor cannot tell."""
        i, down = _place(self.kelvins, kelvin)
        j, across = _place(self.pushes, push)
        sum_k = 0.0
        for m, share in ((i, 1.0 - down), (i + 1, down)):
            for n, part in ((j, 1.0 - across), (j + 1, across)):
                if share * part == 0.0:
                    continue
                gap = self.gaps[m][n]
                if gap is None:
                    return None
                sum_k += share * part * gap
        return sum_k > 0.0


def _gap_at(model: Model, kelvin: float, push: float) -> float | None:
    try:
        return _gap(solve(model.build({OUTDOOR: kelvin, ROOM: 0.0, WIND: push})).at)
    except NotSolved:
        return None


def _gap(at: Operating) -> float | None:
    """Dew point over the coldest wall; None where a wall is not known or no flue gas passes. [K]"""
    if at.dew_k is None or at.root.flow_kg_s <= 0.0:
        return None
    walls = [one.wall_k for one in at.stations if one.wall_k is not None]
    gap = max((at.dew_k - wall for wall in walls), default=-math.inf)
    return gap if gap > 0.0 or len(walls) == len(at.stations) else None
