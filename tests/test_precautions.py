"""What is said before going up: any one reason is enough not to walk a roof, and silence is one.

common practice, no source
"""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from fluewright import app
from fluewright.files import read_survey
from fluewright.precautions import before_going_up, lines
from fluewright.quantity import Dimension, Measured
from fluewright.survey import Roof, Survey

SURVEY = read_survey(Path(app.DATA) / "demo" / "otter-bend.yaml")
YEAR_S = 365.25 * 86400


def roof(pitch_in_12: float, covering: str, years: float) -> Roof:
    return Roof(
        ends="above_roof",
        pitch=Measured(pitch_in_12 / 12, Dimension.SLOPE),
        covering=covering,  # type: ignore[arg-type]
        age=Measured(years * YEAR_S, Dimension.TIME),
    )


def survey_with(change: Roof) -> Survey:
    path = dataclasses.replace(SURVEY.paths[0], roof=change)
    return dataclasses.replace(SURVEY, paths=(path,))


def said(change: Roof) -> str:
    survey = survey_with(change)
    return lines(before_going_up(survey, survey.paths[0]))[0]


def test_a_low_new_dry_shingle_roof_may_be_walked_with_care() -> None:
    text = said(roof(4, "asphalt shingle", 8))
    assert text.startswith("Roof: It may be walked by someone used to roofs")


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (roof(6.5, "asphalt shingle", 8), "it is steep: 6.5/12"),
        (roof(12, "asphalt shingle", 8), "it is very steep: 12/12"),
        (roof(4, "concrete tile", 8), "concrete tile breaks underfoot"),
        (roof(4, "slate", 8), "slate breaks underfoot"),
        (roof(4, "metal", 8), "metal is slippery"),
        (roof(4, "asphalt shingle", 25), "the covering is about 25 years old"),
        (
            dataclasses.replace(roof(4, "asphalt shingle", 8), wet_or_iced=True),
            "it is wet or iced",
        ),
    ],
)
def test_one_reason_is_enough_not_to_walk_it(change: Roof, reason: str) -> None:
    text = said(change)
    assert text.startswith("Roof: Do not walk this roof. Look from a secured ladder")
    assert reason in text


@pytest.mark.parametrize("left_out", ["pitch", "covering", "age"])
def test_what_is_not_recorded_is_a_reason(left_out: str) -> None:
    text = said(dataclasses.replace(roof(4, "asphalt shingle", 8), **{left_out: None}))
    assert text.startswith("Roof: Do not walk this roof until this is known.")


def test_a_pitch_whose_tolerance_reaches_over_the_bound_counts_as_steep() -> None:
    pitch = Measured(6 / 12, Dimension.SLOPE, 0.5 / 12)
    text = said(dataclasses.replace(roof(4, "asphalt shingle", 8), pitch=pitch))
    assert "Do not walk this roof." in text


def test_heater_off_and_cool_attic_and_ladder_are_always_said_where_they_matter() -> None:
    text = "\n".join(lines(before_going_up(SURVEY, SURVEY.paths[0])))
    assert "Turn the appliance off at its gas valve and let hood, connector and vent cool" in text
    assert "Attic: Step on framing or boards only" in text
    assert "Ladder: " in text
    assert "Asbestos" not in text


def test_wrap_on_the_connector_brings_the_asbestos_caution() -> None:
    path = SURVEY.paths[0]
    wrapped = dataclasses.replace(path, connector=dataclasses.replace(path.connector, wrapped=True))
    text = "\n".join(lines(before_going_up(SURVEY, wrapped)))
    assert "Do not cut, drill, break, scrape or unwrap it" in text
