"""``draft --weather``: the hours of a weather file for one vent."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import cast

from fluewright.draft import warm_kernel
from fluewright.draft.from_survey import Modelled
from fluewright.draft.house_states import ends
from fluewright.draft.venting_year import CapWind, VentingYear, venting_year
from fluewright.draft.warmup import Arithmetic, Start
from fluewright.draft.weather import WeatherYear
from fluewright.draft.wind import Terrain
from fluewright.files.epw import read_epw
from fluewright.files.physics import house_coefficients
from fluewright.quantity import Style

# Cap over ground: the rise of the vent and the hood of an appliance on the ground (assumed).
HOOD_OVER_GROUND_M = 1.5
STEP_S = 5.0  # of the starts: thresholds move by less than they are told to
ICE_K = 273.15
EDGES_K = {
    "us": tuple((f - 32.0) / 1.8 + ICE_K for f in range(-40, 131, 10)),
    "metric": tuple(c + ICE_K for c in range(-40, 56, 5)),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """A weather file and the country around the house; None: not said, taken as open."""

    year: WeatherYear
    terrain: Terrain | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InYear:
    """The hours of a weather file for one vent, and where they were measured."""

    weather: Weather
    found: VentingYear


def weather_of(file: str | None, terrain: str | None) -> Weather | None:
    """The weather that is asked for.

    Args:
        file: an EPW file.
        terrain: open, suburban or urban.
    Raises:
        BadWeather: the file cannot be read, with every fault.
    """
    if file is None:
        return None
    return Weather(year=read_epw(file), terrain=cast("Terrain | None", terrain))


def cap_wind(model: Modelled, weather: Weather) -> CapWind:
    """How the wind of the file comes to the cap: from a free stream to a windward slope.

    Open country, the strongest wind, where nobody says.
    """
    table = house_coefficients().numbers
    return CapWind(
        height_m=sum(one.rise_m for one in model.system.segments) + HOOD_OVER_GROUND_M,
        terrain=weather.terrain or "open",
        helping=min(value for _, value in ends(table["wind.cap_free_stream"])),
        adverse=max(value for _, value in ends(table["wind.cap_windward_slope"])),
        air_pa=model.system.around.air_pa,
    )


def in_year(
    model: Modelled,
    weather: Weather,
    start: Start,
    style: Style,
    arithmetic: Arithmetic = warm_kernel,
) -> InYear:
    """The hours of a year in which it spills, does not start, or is wet. [h/year]

    Raises:
        NotSolved: no balance at one of the temperatures, and why.
    """
    found = venting_year(
        model, weather.year.hours, cap_wind(model, weather), replace(start, step_s=STEP_S),
        EDGES_K[style], arithmetic,
    )  # fmt: skip
    return InYear(weather=weather, found=found)
