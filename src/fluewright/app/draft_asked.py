"""Weather and house as asked on the command line, in words, made figures of the engine."""

from __future__ import annotations

import re
from dataclasses import dataclass

from fluewright.app.draft_tightness import Tightness
from fluewright.draft.from_survey import Conditions, Span
from fluewright.draft.gas import isa_pressure
from fluewright.draft.house_states import ends
from fluewright.draft.leakage import air_density
from fluewright.draft.wind import wind_pressure
from fluewright.errors import BadQuantity
from fluewright.files.physics import house_coefficients
from fluewright.quantity import Dimension, parse
from fluewright.survey import Survey

ZERO_K = 273.15
SPEEDS_M_S = {"m/s": 1.0, "km/h": 1.0 / 3.6, "mph": 0.44704, "kn": 1852.0 / 3600.0}
SPEED = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(m/s|km/h|mph|kn)\s*")

# What weather and house may be where nobody says: only an ensemble takes these.
# Source: assumed, no source. A mild night to a hot day; usual fans; a breeze at the cap.
USUAL_OUTDOOR_K: Span = (272.0, 288.706, 305.4)  # 30, 60, 90 degF
USUAL_ROOM_PA: Span = (-4.0, -1.0, 0.0)
USUAL_WIND_PA: Span = (-2.0, 0.0, 1.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Weather and house in words; None where nobody says.

    Attributes:
        outdoor, room: air temperatures, such as "60 degF"; with "± 10 degF" as a range.
        house_pressure: room less outdoors at the hood, such as "-3 Pa".
        tightness: of the house, where its pressure is to be worked out instead.
        worked_pa: that pressure once it is worked out. [Pa]
        wind: speed at the cap, such as "10 mph".
        co: carbon monoxide in the flue gas, such as "120 ppm"; air-free without ``co_o2``.
        co_o2: oxygen in the same gas, such as "7.5 %".
        air_changes: of the room with outdoor air, such as "0.35 ACH".
    """

    outdoor: str | None = None
    room: str | None = None
    house_pressure: str | None = None
    tightness: Tightness | None = None
    worked_pa: Span | None = None
    wind: str | None = None
    co: str | None = None
    co_o2: str | None = None
    air_changes: str | None = None


def conditions(asked: Asked, survey: Survey, usual: bool = False) -> Conditions:
    """What is asked, as figures.

    Args:
        asked: in words.
        survey: for the height over the sea.
        usual: where nobody says, a usual range instead of one quiet moment.
    Returns:
        Figures or ranges, None where the engine's own default holds.
    Raises:
        BadQuantity: it names the option and says what to write.
    """
    if asked.tightness is not None and asked.house_pressure is not None:
        raise BadQuantity("--house-pressure and --leakage: give one, measured or worked out.")
    outdoor = _read("--outdoor", asked.outdoor, Dimension.TEMPERATURE, ZERO_K)
    room_pa = asked.worked_pa
    if room_pa is None:
        room_pa = _read("--house-pressure", asked.house_pressure, Dimension.PRESSURE, 0.0)
    wind_pa = None if asked.wind is None else _wind(asked.wind, survey, outdoor)
    if usual:
        outdoor = outdoor or USUAL_OUTDOOR_K
        room_pa = room_pa or USUAL_ROOM_PA
        wind_pa = wind_pa or USUAL_WIND_PA
    return Conditions(
        outdoor_k=outdoor,
        room_k=_read("--room", asked.room, Dimension.TEMPERATURE, ZERO_K),
        room_pa=room_pa,
        wind_pa=wind_pa,
    )


def _read(option: str, text: str | None, dimension: Dimension, zero: float) -> Span | None:
    """A reading as low, value, high."""
    if text is None:
        return None
    try:
        got = parse(text, dimension)
    except BadQuantity as error:
        raise BadQuantity(f"{option}: {error}") from None
    value, half = got.value + zero, got.tolerance or 0.0
    return value - half, value, value + half


def _wind(text: str, survey: Survey, outdoor: Span | None) -> Span:
    """Pressure at the cap: the suction it may get, none, and the worst it is known to get. [Pa]"""
    found = SPEED.fullmatch(text)
    if found is None:
        raise BadQuantity(
            f'--wind: "{text}" is not a wind speed. Write a speed at the cap, such as 10 mph, '
            "5 m/s or 18 km/h."
        )
    speed = float(found[1]) * SPEEDS_M_S[found[2]]
    height = survey.site.elevation if survey.site else None
    altitude = getattr(height, "value", 0.0)
    density = air_density(outdoor[1] if outdoor else 288.706, isa_pressure(altitude))
    # Where the cap stands among roofs and walls is not judged here, so the worst place counts;
    # a pipe without a cap catches more.
    table = house_coefficients().numbers
    low = min(value for _, value in ends(table["wind.cap_free_stream"]))
    places = ["wind.cap_windward_slope", "wind.cap_beside_wall"]
    if not all(path.pieces and path.pieces[-1].part == "cap" for path in survey.paths):
        places.append("wind.open_pipe")
    high = max(value for name in places for _, value in ends(table[name]))
    return (
        wind_pressure(speed, low, density),
        0.0,  # suction at the cap comes and goes with gusts: it is not counted on
        wind_pressure(speed, high, density),
    )
