"""Hours a year: what is put between temperatures against what is solved at the hour itself."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest
from tests.demo_jobs import plain
from tests.invented_weather import invented_hours

from fluewright.app.draft import start_of
from fluewright.draft.from_survey import Conditions, Modelled, Span, from_survey
from fluewright.draft.margins import spill_margin
from fluewright.draft.solve import solve
from fluewright.draft.venting_year import WITHIN_PA, CapWind, VentingYear, venting_year
from fluewright.draft.warmup import warm_up
from fluewright.draft.weather import HOURS
from fluewright.draft.wind import wind_speed
from fluewright.errors import OutOfRange
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels

WIND = CapWind(height_m=6.0, terrain="suburban", helping=-0.5, adverse=0.7, air_pa=98_200.0)
START = replace(start_of(300.0), step_s=5.0)
EDGES = (263.15, 273.15, 283.15, 293.15)
TOLD = invented_hours(step=97)


@cache
def model(room_pa: Span | float = 0.0, draft: str = "draft_hood") -> Modelled:
    data = plain("otter-bend")
    data["appliances"]["heater"]["draft"] = draft
    return from_survey(
        survey_from_text(json.dumps(data, default=str)), coefficients(), default_fuels(),
        conditions=Conditions(room_pa=room_pa),
    )  # fmt: skip


@cache
def year(room_pa: Span | float = 0.0) -> VentingYear:
    return venting_year(model(room_pa), TOLD, WIND, START, EDGES)


def between(line: tuple[tuple[float, float], ...], at: float) -> float:
    (a, low), (b, high) = next(p for p in pairwise(line) if p[0][0] <= at <= p[1][0] + 1e-9)
    return low + (high - low) * (at - a) / (b - a)


def test_margin_between_temperatures_is_that_of_the_hour() -> None:
    for hour in TOLD[::7]:
        assert hour.outdoor_k is not None
        solved = spill_margin(model().build({"outdoor_k": hour.outdoor_k}))
        # A chord over 3 K of a curve this flat is off by less than a hundredth of a pascal.
        assert between(year().hot, hour.outdoor_k) == pytest.approx(solved, abs=0.01)


def test_it_takes_over_just_below_the_limit_of_an_hour_and_not_just_above() -> None:
    for hour in TOLD[3::29]:
        assert hour.outdoor_k is not None
        limit = between(year().cold, hour.outdoor_k)
        for push, takes_over in ((limit - 1.5 * WITHIN_PA, True), (limit + 2.0 * WITHIN_PA, False)):
            system = model().build({"outdoor_k": hour.outdoor_k, "wind_pa": push})
            assert (warm_up(system, START).spills_s is not None) is takes_over


def test_wind_at_the_cap_and_suction_of_the_room_are_the_same_thing() -> None:
    one = model().build({"room_pa": -1.5, "wind_pa": 0.0})
    other = model().build({"room_pa": 0.0, "wind_pa": 1.5})
    assert spill_margin(one) == pytest.approx(spill_margin(other), rel=1e-12)
    assert warm_up(one, START).spilt == pytest.approx(warm_up(other, START).spilt, rel=1e-9)
    assert solve(one).at.dew_k == pytest.approx(solve(other).at.dew_k, rel=1e-9)


def test_hours_that_spill_hot_are_those_that_solving_each_of_them_finds() -> None:
    house = (-9.0, -8.0, -7.0)
    low = high = 0
    for hour in TOLD:
        assert hour.outdoor_k is not None
        assert hour.wind_m_s is not None
        assert wind_speed(hour.wind_m_s, 6.0, "suburban") <= hour.wind_m_s
        helps, holds = WIND.pressures(hour.outdoor_k, hour.wind_m_s)
        assert helps <= 0.0 <= holds
        at = {"outdoor_k": hour.outdoor_k}
        low += spill_margin(model(house).build({**at, "room_pa": -7.0, "wind_pa": helps})) < 0.0
        high += spill_margin(model(house).build({**at, "room_pa": -9.0, "wind_pa": holds})) < 0.0
    found, scale = year(house).spills, HOURS / len(TOLD)
    assert (found.low, found.high) == pytest.approx((low * scale, high * scale), abs=1.01 * scale)
    assert 0 <= low < high < len(TOLD)


def test_more_suction_never_means_fewer_hours() -> None:
    calm, fans = year(), year(-5.0)
    for name in ("spills", "fails_to_start"):
        one, other = getattr(calm, name), getattr(fans, name)
        assert one.low <= other.low
        assert one.still <= other.still
        assert one.high <= other.high
    assert fans.fails_to_start is not None
    assert fans.fails_to_start.still > HOURS / 2.0


def test_without_wind_and_doubt_there_is_one_figure() -> None:
    still = venting_year(model(-2.0), invented_hours(step=97, still=True), WIND, START, EDGES)
    for one in (still.spills, still.fails_to_start, still.wet):
        assert one is not None
        assert one.low == one.still == one.high
        assert one.untold == 0.0


def test_missing_hours_count_as_if_it_failed_and_never_as_fine() -> None:
    gone = [replace(one, outdoor_k=None) for one in TOLD[:20]]
    gone += [replace(one, wind_m_s=None) for one in TOLD[20:30]]
    found = venting_year(model(), [*gone, *TOLD[30:]], WIND, START, EDGES)
    scale = HOURS / len(TOLD)
    assert found.without == 30
    for one in (found.spills, found.fails_to_start, found.wet):
        assert one is not None
        assert one.untold >= 30 * scale - 1e-9
        assert one.high >= one.untold
        assert one.low <= HOURS - one.untold
    assert found.worst_spills >= 30 * scale - 1e-9
    # Hours of known temperature stand in their bin, the others in none.
    assert sum(one.hours for one in found.bins) == pytest.approx(HOURS - 20 * scale)


def test_no_hour_at_all_is_refused() -> None:
    with pytest.raises(OutOfRange, match="no hour has both temperature and wind"):
        venting_year(model(), [replace(one, wind_m_s=None) for one in TOLD], WIND, START, EDGES)


def test_bins_add_up_to_the_year() -> None:
    found = year(-3.0)
    assert sum(one.hours for one in found.bins) == pytest.approx(HOURS)
    assert found.fails_to_start is not None
    for name in ("spills", "fails_to_start", "wet"):
        whole, parts = getattr(found, name), [getattr(one, name) for one in found.bins]
        assert sum(one.high for one in parts) == pytest.approx(whole.high)
        assert sum(one.low for one in parts) == pytest.approx(whole.low)
    for cold, warm in pairwise(found.bins):
        assert cold.to_k == warm.from_k


def test_the_worst_end_of_all_inputs_is_no_better_than_the_figures_taken() -> None:
    for room_pa in (0.0, -5.0):
        assert year(room_pa).worst_spills >= year(room_pa).spills.high


def test_wet_hours_are_those_of_the_hot_vent() -> None:
    # Invented: a cold attic run makes some hours wet; told by solving each hour in still air.
    chilled = _Chilled(model())
    found = venting_year(chilled, invented_hours(step=97, still=True), WIND, START, EDGES)
    wet = sum(
        bool(solve(chilled.build({"outdoor_k": one.outdoor_k})).at.wet)
        for one in TOLD
        if one.outdoor_k is not None
    )
    scale = HOURS / len(TOLD)
    assert 0 < wet < len(TOLD)
    assert found.wet.still == pytest.approx(wet * scale, abs=2.01 * scale)  # 6 K apart


class _Chilled:
    """A model whose last segment loses five times the heat."""

    def __init__(self, base: Modelled) -> None:
        self.inputs, self._base = base.inputs, base
        self.system = self.build({})

    def build(self, values: dict[str, float]):  # type: ignore[no-untyped-def]
        system = self._base.build(values)
        *first, last = system.segments
        cold = replace(last, u_w_m2k=5.0 * last.u_w_m2k, ambient_k=system.around.outdoor_k,
                       inside_w_m2k=32.0)  # fmt: skip
        return replace(system, segments=(*first, cold))


def test_a_fan_assisted_appliance_has_no_start_from_cold() -> None:
    found = venting_year(model(0.0, "fan_assisted"), TOLD, WIND, START, EDGES)
    assert found.fails_to_start is None
    assert found.cold == ()
    assert all(one.fails_to_start is None for one in found.bins)
