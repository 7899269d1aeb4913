"""House pressure worked out for a job: fans, leakage, stack effect, and the vent as an outflow."""

from __future__ import annotations

from pathlib import Path

import pytest

from fluewright.app.draft_house import worked_out
from fluewright.app.draft_tightness import Tightness
from fluewright.draft.from_survey import Conditions, Modelled, from_survey
from fluewright.errors import BadQuantity
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


def model(outdoor_k: float = 294.0) -> Modelled:
    survey = read_survey(str(DEMO / "otter-bend.yaml"))
    return from_survey(survey, coefficients(), default_fuels(),
                       conditions=Conditions(outdoor_k=outdoor_k))  # fmt: skip


# Chart of a blower door maker's support page: 400 cfm of fans in a house of 2500 cfm at 50 Pa
# bring about 3 Pa; the vent draws a little more. 50 (400 / 2500)^(1 / 0.65) = 2.98 Pa, by hand.
def test_fans_alone_bring_what_the_power_law_says_and_the_vent_a_little_more() -> None:
    found = worked_out(model(), Tightness(leakage="2500 cfm", exhaust="400 cfm"))
    assert -4.0 < found.likely_pa < -2.98
    assert found.with_vent
    assert abs(found.house.residual) < 1e-9


def test_a_tighter_house_is_under_deeper_suction() -> None:
    loose = worked_out(model(), Tightness(leakage="4000 cfm", exhaust="300 cfm"))
    tight = worked_out(model(), Tightness(leakage="1000 cfm", exhaust="300 cfm"))
    assert tight.likely_pa < loose.likely_pa < 0.0


def test_cold_weather_deepens_the_suction_low_in_the_house() -> None:
    house = Tightness(leakage="1500 cfm", exhaust="0 cfm", height="16 ft")
    assert worked_out(model(260.0), house).likely_pa < worked_out(model(290.0), house).likely_pa


def test_where_the_leaks_are_is_not_known_so_there_is_a_range() -> None:
    found = worked_out(model(265.0), Tightness(leakage="1500 cfm", exhaust="50 cfm"))
    assert found.low_pa < found.high_pa
    assert found.low_pa <= found.likely_pa <= found.high_pa


@pytest.mark.parametrize(
    ("house", "words"),
    [
        (Tightness(leakage="tight", exhaust="50 cfm"), "--leakage: "),
        (Tightness(leakage="0 cfm", exhaust="50 cfm"), '--leakage: "0 cfm" is too small'),
        (Tightness(leakage="900 cfm", exhaust="5 ft"), "--exhaust: "),
    ],
)
def test_words_that_are_no_house_are_refused(house: Tightness, words: str) -> None:
    with pytest.raises(BadQuantity, match=words):
        worked_out(model(), house)
