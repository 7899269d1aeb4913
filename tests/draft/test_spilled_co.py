"""Carbon monoxide of one appliance: bounds in order, the gas of a published factor, no comfort."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache

import pytest
from tests.demo_jobs import plain

from fluewright.app.draft import start_of
from fluewright.app.draft_asked import Asked
from fluewright.app.draft_co import air_free, co_asked
from fluewright.draft.combustion import products
from fluewright.draft.exposure import ExposureRange
from fluewright.draft.from_survey import Conditions, Modelled, from_survey
from fluewright.draft.spilled_co import (
    FAN,
    MOLAR_M3_KMOL,
    USUAL_AIR_CHANGES_S,
    CoAsked,
    SpilledCo,
    spilled_co,
)
from fluewright.errors import BadQuantity
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels
from fluewright.report.draft_co_words import NOTHING, scenario
from fluewright.survey import Survey

START = replace(start_of(), step_s=5.0)
ASKED = CoAsked(
    air_free_ppm=(190.0, 210.0), room="laundry", volume_m3=(40.0, 44.0),
    air_changes_s=USUAL_AIR_CHANGES_S,
)  # fmt: skip


def survey(draft: str = "draft_hood", volume: object = "240 ft3", kind: str = "closet") -> Survey:
    data = plain("otter-bend")
    data["appliances"]["heater"]["draft"] = draft
    data["spaces"]["laundry"].update(volume=volume, kind=kind)
    return survey_from_text(json.dumps(data, default=str))


@cache
def model(room_pa: float = 0.0, draft: str = "draft_hood") -> Modelled:
    return from_survey(
        survey(draft), coefficients(), default_fuels(), conditions=Conditions(room_pa=room_pa)
    )


@cache
def told(room_pa: float = 0.0) -> tuple[SpilledCo, ...]:
    return spilled_co(model(room_pa), ASKED, START)


def both(one: SpilledCo) -> ExposureRange:
    assert one.found is not None
    return one.found


def highest(one: SpilledCo) -> tuple[float, float]:
    found = both(one)
    return found.low.rooms[0].highest, found.high.rooms[0].highest


def test_dry_gas_of_natural_gas_is_that_of_the_emission_rule() -> None:
    # 40 CFR 75, Appendix F, Table 1: natural gas, F-factor 8,710 dscf (68 degF) per million Btu.
    published = 8710.0 * 0.3048**3 / 1055.05585262e6 * 273.15 / 293.15
    burned = products(default_fuels()["natural_gas"], o2_dry=0.0)
    ours = burned.kmol_j * (1.0 - burned.gas.water) * MOLAR_M3_KMOL
    assert ours == pytest.approx(published, rel=0.01)  # gases differ by about as much


def test_room_of_the_grave_end_is_the_closed_form() -> None:
    # One zone, constant release G from clean air: C = G/(n V) (1 - exp(-n t)); textbook.
    found = both(told()[0]).high
    flame = model().plan.flame
    assert flame.rate is not None
    burned = products(flame.fuel, o2_dry=0.0)
    dry = burned.kmol_j * (1.0 - burned.gas.water) * MOLAR_M3_KMOL
    release = 210e-6 * 20.0 * dry * flame.input_w.high * flame.rate.high
    around = model().system.around
    release *= around.room_k / 273.15 * 101_325.0 / around.air_pa
    n = USUAL_AIR_CHANGES_S[0]
    end = release * 1e6 / (n * 40.0) * (1.0 - math.exp(-n * 8 * 3600.0))
    assert found.rooms[0].values[-1] == pytest.approx(end, rel=1e-9)


@pytest.mark.parametrize("room_pa", [0.0, -3.0, -20.0])
def test_all_of_it_is_never_milder_than_what_is_computed(room_pa: float) -> None:
    whole, computed = told(room_pa)
    assert whole.name == "all of it spills"
    for one in (whole, computed):
        assert highest(one)[0] <= highest(one)[1]
    for a, b in zip(highest(whole), highest(computed), strict=True):
        assert a >= b - 1e-9


def test_where_it_does_not_take_over_each_burn_spills_whole() -> None:
    _, computed = told(-20.0)
    assert computed.what.startswith("all to all of each burn")
    assert highest(computed)[0] == pytest.approx(highest(told(-20.0)[0])[0], rel=1e-9)


def test_nothing_spilt_is_told_as_a_result_of_figures_and_not_as_good_news() -> None:
    _, computed = told(0.0)
    assert highest(computed) == (0.0, 0.0)
    assert scenario(computed) == (NOTHING,)


def test_a_level_not_reached_is_no_all_clear() -> None:
    clean = replace(ASKED, air_free_ppm=(1.0, 1.0), volume_m3=(900.0, 900.0))
    text = " ".join(scenario(spilled_co(model(), clean, START)[0]))
    assert "longer or worse spillage may reach it" in text
    assert "below 70 ppm it never has to" in text


def test_more_monoxide_than_air_is_a_reason_and_no_figure() -> None:
    thick = replace(ASKED, air_free_ppm=(40_000.0, 40_000.0), volume_m3=(3.0, 3.0))
    whole = spilled_co(model(), thick, START)[0]
    assert whole.found is None
    assert "more than pure carbon monoxide" in whole.reason
    assert scenario(whole)[0].startswith("no figures: ")


def test_a_fan_assisted_appliance_has_no_computed_spillage() -> None:
    whole, computed = spilled_co(model(0.0, "fan_assisted"), ASKED, START)
    assert whole.found is not None
    assert (computed.found, computed.reason) == (None, FAN)


@pytest.mark.parametrize(
    ("asked", "low", "high"),
    [
        (Asked(co="120"), 120.0, 120.0),
        (Asked(co="120 ppm ± 12 ppm"), 108.0, 132.0),
        # 120 x 20.9 / (20.9 - 8) = 194.4: the trade's formula by hand.
        (Asked(co="120 ppm", co_o2="8"), 194.42, 194.42),
        (Asked(co="120 ppm", co_o2="8 %"), 194.42, 194.42),
    ],
)
def test_air_free_gas(asked: Asked, low: float, high: float) -> None:
    assert air_free(asked) == pytest.approx((low, high), rel=1e-4)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (Asked(co="much"), "--co: "),
        (Asked(co="-5 ppm"), '--co: "-5 ppm" is below zero'),
        (Asked(co="120", co_o2="20.9"), "--co-o2: air-free CO: oxygen"),
        (Asked(co="120", co_o2="some"), '--co-o2: "some" is not a share of oxygen'),
        (Asked(co="120", air_changes="0.35"), "--air-changes: "),
    ],
)
def test_what_cannot_be_read_names_its_option(asked: Asked, words: str) -> None:
    with pytest.raises(BadQuantity) as caught:
        co_asked(asked, survey(), "heater")
    assert words in str(caught.value)


def test_room_and_air_come_from_the_survey_or_are_asked_for() -> None:
    asked = Asked(co="120", air_changes="0.35 ACH ± 0.05 ACH")
    found = co_asked(asked, survey(), "heater")
    assert isinstance(found, CoAsked)
    assert found.volume_m3[0] <= 240 * 0.3048**3 <= found.volume_m3[1]
    assert [3600.0 * one for one in found.air_changes_s] == pytest.approx([0.3, 0.4])
    usual = co_asked(Asked(co="120"), survey(), "heater")
    assert isinstance(usual, CoAsked)
    assert usual.air_changes_s == USUAL_AIR_CHANGES_S
    assert co_asked(asked, survey(volume="? door locked"), "heater") == (
        "Measure length, width and height of laundry (spaces.laundry.volume)."
    )
    assert "outdoors" in str(co_asked(asked, survey(kind="outdoors"), "heater"))
