"""Hours of weather and what they sum up to; nothing is filled in where a value is missing."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from fluewright.errors import OutOfRange

HOURS = 8760.0
NOT_PUBLISHED = "from typical year, not a published design value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """One hour, local standard time; None where the station has no value.

    Attributes:
        month, day, hour: hour 1 ends at one o'clock.
        outdoor_k: dry bulb. [K]
        air_pa: station pressure. [Pa]
        humidity: relative, 0 to 1, up to 1.1 as stations report it. [-]
        wind_m_s: at the station. [m/s]
        wind_deg: where it comes from, clockwise from north; 0 in calm. [deg]
    """

    month: int
    day: int
    hour: int
    outdoor_k: float | None
    air_pa: float | None
    humidity: float | None
    wind_m_s: float | None
    wind_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """Where the hours were measured. Time zone in hours east of Greenwich."""

    city: str
    region: str
    country: str
    source: str
    wmo: str
    latitude_deg: float
    longitude_deg: float
    time_zone_h: float
    elevation_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherYear:
    """A whole year of hours, with how many values of each field are missing."""

    station: Station
    hours: tuple[Hour, ...]
    missing: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursPerYear:
    """How many hours of a year something holds.

    Attributes:
        low, high: if it held in none, or in all, of the hours that could not be told. [h/year]
        told, untold: hours of the record with and without an answer.
    """

    low: float
    high: float
    told: int
    untold: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Percentile:
    """A value that the record stays below for a share of its hours, labelled for what it is."""

    value: float
    share: float
    told: int
    untold: int
    label: str = NOT_PUBLISHED


@dataclass(frozen=True, slots=True, kw_only=True)
class Bins:
    """Hours by outdoor temperature and wind.

    ``counts[i][j]`` is temperature bin i, wind bin j. Bin 0 lies below the first edge, the last
    one from the last edge up; an edge belongs to the bin above it. ``untold`` lack either value.
    """

    temperature_k: tuple[float, ...]
    wind_m_s: tuple[float, ...]
    counts: tuple[tuple[int, ...], ...]
    untold: int


def hours_per_year(answers: Sequence[bool | None]) -> HoursPerYear:
    """Hours a year of which something is true, as a range where some cannot be told. [h/year]

    Args:
        answers: one an hour of the record; None where a value was missing.
    Raises:
        OutOfRange: no hour at all, or none that could be told.
    """
    told = sum(answer is not None for answer in answers)
    if not told:
        raise OutOfRange("weather: no hour could be told. A year without values says nothing.")
    true = sum(answer is True for answer in answers)
    untold = len(answers) - told
    scale = HOURS / len(answers)
    return HoursPerYear(low=true * scale, high=(true + untold) * scale, told=told, untold=untold)


def percentile(values: Sequence[float | None], share: float) -> Percentile:
    """Value that the hours stay below for a share of the record; straight lines between. [same]

    Source: the linear rule between order statistics (R-7). Published design values rest on
    decades of record, a typical year leaves out extremes: the label says so.

    Args:
        values: one an hour; None where missing.
        share: 0 the lowest, 1 the highest; 0.01 is what 99 % of the hours exceed.
    Raises:
        OutOfRange: no values, or a share outside 0 to 1.
    """
    told = sorted(value for value in values if value is not None)
    if not told or not all(map(math.isfinite, told)):
        raise OutOfRange("weather: no values, or one that is no number.")
    if not 0.0 <= share <= 1.0:
        raise OutOfRange(f"weather: share {share:g}. Give 0 to 1.")
    place = share * (len(told) - 1)
    below = math.floor(place)
    above = min(below + 1, len(told) - 1)
    value = told[below] + (place - below) * (told[above] - told[below])
    return Percentile(value=value, share=share, told=len(told), untold=len(values) - len(told))


def bins(
    hours: Sequence[Hour], temperature_edges_k: Sequence[float], wind_edges_m_s: Sequence[float]
) -> Bins:
    """Hours counted by outdoor temperature and wind speed. [hours]

    Args:
        hours: of the record.
        temperature_edges_k: rising. [K]
        wind_edges_m_s: rising. [m/s]
    Raises:
        OutOfRange: edges that do not rise.
    """
    for edges in (temperature_edges_k, wind_edges_m_s):
        if any(a >= b for a, b in pairwise(edges)):
            raise OutOfRange(f"weather: edges {list(edges)} do not rise.")
    counts = [[0] * (len(wind_edges_m_s) + 1) for _ in range(len(temperature_edges_k) + 1)]
    untold = 0
    for one in hours:
        if one.outdoor_k is None or one.wind_m_s is None:
            untold += 1
            continue
        row = counts[bisect_right(temperature_edges_k, one.outdoor_k)]
        row[bisect_right(wind_edges_m_s, one.wind_m_s)] += 1
    return Bins(
        temperature_k=tuple(temperature_edges_k),
        wind_m_s=tuple(wind_edges_m_s),
        counts=tuple(map(tuple, counts)),
        untold=untold,
    )


def answered(
    hours: Sequence[Hour], asks: Callable[[Hour], bool], needs: Sequence[str]
) -> tuple[bool | None, ...]:
    """A question put to each hour; None where a value that it needs is missing. [answers]

    Args:
        hours: of the record.
        asks: the question; called only with all needed values there.
        needs: names of the fields of `Hour` it looks at.
    """
    return tuple(
        None if any(getattr(one, name) is None for name in needs) else asks(one) for one in hours
    )
