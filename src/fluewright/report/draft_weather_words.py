"""The hours of a weather file as sentences and as a table: what is not known counts as bad."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from fluewright.draft.venting_year import Bin, Counted, VentingYear
from fluewright.draft.weather import NOT_PUBLISHED, WeatherYear
from fluewright.draft.wind import Terrain
from fluewright.quantity import Style
from fluewright.report.draft_words import span, temperature

FOOT_M = 0.3048
CAUTION = (
    "Few hours are no pass: one start that does not take over can be the one that harms. The "
    "hours hold for the figures of the survey as they stand; what is not known of the vent is in "
    "the worst figure and in --spread."
)


class Weather(Protocol):
    """The file and the country around the house."""

    @property
    def year(self) -> WeatherYear: ...  # noqa: D102
    @property
    def terrain(self) -> Terrain | None: ...  # noqa: D102


def hours(one: Counted) -> str:
    """``0 to 340 h, in still air 12 h``, or one figure where all agree to the hour."""
    low, still, high = (f"{hours:,.0f}" for hours in (one.low, one.still, one.high))
    return f"{low} h" if low == high else f"{low} to {high} h, in still air {still} h"


def counts(found: VentingYear) -> tuple[str, ...]:
    """What the year adds up to, one line a question, the worst figure beside each."""
    lines = [
        f"it spills hot in {hours(found.spills)}; with all that is not known at its worst, in up "
        f"to {found.worst_spills:,.0f} h"
    ]
    if found.fails_to_start is not None:
        lines.append(
            f"it does not take over from cold within {span(found.within_s)} in "
            f"{hours(found.fails_to_start)}"
        )
    untold = f"; of these {found.wet.untold:,.0f} h cannot be told" if found.wet.untold else ""
    return (*lines, f"walls stay wet hot in {hours(found.wet)}{untold}")


def lines(found: VentingYear, weather: Weather, style: Style = "us") -> tuple[str, ...]:
    """The whole year: what comes out, then what it rests on."""
    station = weather.year.station
    place = ", ".join(x for x in (station.city, station.region, station.country) if x)
    here = weather.terrain or "open"
    terrain = "" if weather.terrain else " (the strongest wind: nobody said --terrain)"
    height = found.wind.height_m
    cap = f"about {height / FOOT_M:.0f} ft" if style == "us" else f"about {height:.0f} m"
    return (
        *counts(found),
        f"from the wind always helping at the cap, to always holding back and every hour that "
        f"cannot be told counted as bad: {_missing(found)}",
        f"hours of {place} ({station.source or 'source not named'}), {NOT_PUBLISHED}: extremes "
        "and gusts are not in it, and the house is not where the station is",
        f"wind brought to a cap {cap} above ground in {here} country{terrain}",
        CAUTION,
    )


def _missing(found: VentingYear) -> str:
    if not found.without:
        return "no hour lacks temperature or wind"
    return f"{found.without:,} of {found.record:,} hours lack temperature or wind"


def table(found: VentingYear, style: Style = "us") -> Iterator[str]:
    """Hours by outdoor temperature, cold to warm, in columns."""
    rows = [("outdoors", "hours", "spills hot", "fails from cold", "wet hot")]
    for one in found.bins:
        fails = "" if one.fails_to_start is None else _short(one.fails_to_start)
        rows.append(
            (bin_words(one, style), f"{one.hours:,.0f}", _short(one.spills), fails,
             _short(one.wet))
        )  # fmt: skip
    wide = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    for row in rows:
        cells = [row[0].ljust(wide[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], wide[1:], strict=True)]
        yield "  ".join(cells).rstrip()


def _short(one: Counted) -> str:
    low, high = f"{one.low:,.0f}", f"{one.high:,.0f}"
    return low if low == high else f"{low} to {high}"


def bin_words(one: Bin, style: Style = "us") -> str:
    """The span of a bin as people read it."""
    if one.from_k is None:
        return "below" if one.to_k is None else f"below {temperature(one.to_k, style)}"
    if one.to_k is None:
        return f"from {temperature(one.from_k, style)}"
    return f"{temperature(one.from_k, style).split()[0]} to {temperature(one.to_k, style)}"
