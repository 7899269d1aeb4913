"""Weather drawn from the hours of a record; the hours are invented."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.draft.test_venting_year import WIND, model
from tests.invented_weather import invented_hours

from fluewright.draft.leakage import air_density
from fluewright.draft.wind import wind_pressure, wind_speed
from fluewright.ensemble.built import built
from fluewright.ensemble.draws import draw
from fluewright.ensemble.from_hours import COEFFICIENT, HOUR, in_hours
from fluewright.ensemble.run import Plan, chunks, summed_up
from fluewright.errors import OutOfRange

HOURS = invented_hours(step=53)


def test_temperature_and_wind_are_those_of_one_hour() -> None:
    hours = in_hours(model(), HOURS, WIND)
    told = sorted((one.outdoor_k or 0.0, one.wind_m_s or 0.0) for one in HOURS)
    values = {one.name: one.value for one in hours.inputs}
    for place in (0, 17, len(told) - 1):
        kelvin, speed = told[place]
        system = hours.build({**values, HOUR: place + 0.5, COEFFICIENT: 0.3})
        at_cap = wind_speed(speed, WIND.height_m, WIND.terrain)
        assert system.around.outdoor_k == kelvin
        assert system.around.cap_pa == pytest.approx(
            wind_pressure(at_cap, 0.3, air_density(kelvin, WIND.air_pa)), rel=1e-12
        )


def test_many_samples_at_once_are_the_same_as_one_by_one() -> None:
    hours = in_hours(model(), HOURS, WIND)
    values = draw(hours.inputs, 5, 0, 40)
    made = built(hours.build, values, 40)
    for i in range(0, 40, 9):
        single = built(hours.build, {name: lane[i : i + 1] for name, lane in values.items()}, 1)
        assert made.cases.par[i] == pytest.approx(single.cases.par[0], rel=1e-12)
    assert made.groups < 10


def test_hours_without_a_value_are_not_drawn_and_are_counted() -> None:
    gone = [replace(one, wind_m_s=None) for one in HOURS[:11]]
    hours = in_hours(model(), [*gone, *HOURS[11:]], WIND)
    assert hours.untold == 11
    assert len(hours.outdoor_k) == len(HOURS) - 11
    with pytest.raises(OutOfRange, match="no hour has both"):
        in_hours(model(), gone, WIND)


def test_drawn_weather_is_that_of_the_record() -> None:
    hours = in_hours(model(), HOURS, WIND)
    drawn = draw(hours.inputs, 1, 0, 4000)[HOUR].astype(int)
    # Mean of 4,000 draws: three standard errors of some 12 K are 0.6 K.
    assert np.mean(hours.outdoor_k[drawn]) == pytest.approx(np.mean(hours.outdoor_k), abs=0.6)


def test_other_hours_have_another_mark_and_a_run_is_the_same_again() -> None:
    one = in_hours(model(), HOURS, WIND)
    other = in_hours(model(), HOURS[1:], WIND)
    assert one.mark != other.mark
    assert one.mark == in_hours(model(), HOURS, WIND).mark
    plan = Plan(samples=60, seed=3, backend="arrays")
    first, again = (summed_up(one, plan, list(chunks(one, plan))) for _ in range(2))
    assert first == again
    assert {HOUR, COEFFICIENT} <= {influence.name for influence in first.influences}
