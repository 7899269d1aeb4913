"""Weather drawn from the hours of a record, temperature and wind of an hour together."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from fluewright.draft.leakage import air_density
from fluewright.draft.survey_model.inputs import GIVEN, Input
from fluewright.draft.system import Lone
from fluewright.draft.venting_year import OUTDOOR, WIND, CapWind
from fluewright.draft.weather import Hour
from fluewright.draft.wind import wind_speed
from fluewright.ensemble.cases import Floats
from fluewright.ensemble.draws import Drawn
from fluewright.ensemble.lanes import Lanes
from fluewright.ensemble.run import Model
from fluewright.errors import OutOfRange

HOUR, COEFFICIENT = "weather.hour", "wind.cap"


@dataclass(frozen=True, slots=True, eq=False)
class InHours:
    """A model whose weather is an hour of a record, drawn with all that is not known.

    Attributes:
        model: with the inputs ``outdoor_k`` and ``wind_pa``.
        inputs: those of the model but these two; the hour, counted from cold to warm; and the
            pressure coefficient of the cap.
        outdoor_k: of the hours, rising. [K]
        head_pa: velocity pressure at the cap in these hours. [Pa]
        untold: hours of the record that lack either and are not drawn.
    """

    model: Model
    inputs: tuple[Drawn, ...]
    outdoor_k: Floats
    head_pa: Floats
    untold: int

    def build(self, values: Mapping[str, float]) -> Lone:
        """The system in one hour of the record."""
        own = dict(values)
        hour, coefficient = own.pop(HOUR), own.pop(COEFFICIENT)
        own[OUTDOOR] = _at(self.outdoor_k, hour)
        own[WIND] = coefficient * _at(self.head_pa, hour)
        return self.model.build(own)

    @property
    def mark(self) -> str:
        """What tells these hours from others."""
        raw = self.outdoor_k.tobytes() + self.head_pa.tobytes()
        return hashlib.sha256(raw).hexdigest()[:12]


def in_hours(model: Model, hours: Sequence[Hour], wind: CapWind) -> InHours:
    """A model in the weather of a record.

    Args:
        model: with the inputs ``outdoor_k`` and ``wind_pa``.
        hours: of the record.
        wind: from the station to the cap.
    Raises:
        OutOfRange: no hour has both temperature and wind.
    """
    told = sorted(
        (one.outdoor_k, one.wind_m_s)
        for one in hours
        if one.outdoor_k is not None and one.wind_m_s is not None
    )
    if not told:
        raise OutOfRange("weather: no hour has both temperature and wind. Use another file.")
    heads = [
        0.5 * air_density(kelvin, wind.air_pa)
        * wind_speed(speed, wind.height_m, wind.terrain) ** 2
        for kelvin, speed in told
    ]  # fmt: skip
    many = len(told)
    weather = (
        Input(
            name=HOUR, label="hour of the weather file, from cold to warm", unit="1",
            value=many / 2.0, low=0.0, high=float(many), origin=GIVEN,
        ),
        Input(
            name=COEFFICIENT, label="pressure coefficient of the cap", unit="1",
            value=0.5 * (wind.helping + wind.adverse), low=wind.helping, high=wind.adverse,
            origin=GIVEN,
        ),
    )  # fmt: skip
    return InHours(
        model,
        (*(one for one in model.inputs if one.name not in (OUTDOOR, WIND)), *weather),
        np.array([kelvin for kelvin, _ in told]),
        np.array(heads),
        len(hours) - many,
    )


def _at(line: Floats, hour: Any) -> Any:
    """The value of an hour, or of as many as there are samples."""
    place = np.clip(np.asarray(hour).astype(np.int64), 0, len(line) - 1)
    return line[place].view(Lanes) if isinstance(hour, Lanes) else float(line[place])
