"""The whole answer of the engine for one appliance, from a survey."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from fluewright.draft.assess import assess, effects
from fluewright.draft.from_survey import Conditions, Modelled, from_survey
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


@cache
def model(name: str = "otter-bend", room_pa: float = 0.0, outdoor_k: float = 288.7) -> Modelled:
    survey = read_survey(str(DEMO / f"{name}.yaml"))
    return from_survey(survey, coefficients(), default_fuels(),
                       conditions=Conditions(room_pa=room_pa, outdoor_k=outdoor_k))  # fmt: skip


def test_a_sound_vent_in_a_calm_house_drafts_at_every_end_of_its_inputs() -> None:
    found = assess(model("otter-bend-repaired"))
    assert found.hot == found.computed == "drafts"
    assert found.margin_low_pa < found.solved.margin_pa < found.margin_high_pa
    assert not found.fails


def test_strong_suction_spills_and_never_passes() -> None:
    found = assess(model(room_pa=-25.0))
    assert found.hot == "spills"
    assert found.fails
    assert found.late


def test_near_the_margin_it_cannot_tell() -> None:
    near = assess(model()).solved.margin_pa
    found = assess(model(room_pa=-near))
    assert found.hot == "cannot_tell"
    assert found.fails


def test_a_hot_vent_that_drafts_may_still_fail_to_start() -> None:
    found = assess(model(room_pa=-4.0))
    assert found.thresholds is not None
    assert found.thresholds.establishing_pa is not None
    assert found.thresholds.establishing_pa < 4.0 < found.solved.margin_pa + 4.0
    assert found.late
    assert found.fails


def test_effects_come_in_order_and_name_inputs_of_the_model() -> None:
    found = effects(model())
    reaches = [one.reach_pa for one in found]
    assert reaches == sorted(reaches, reverse=True)
    assert {one.name for one in found} < {one.name for one in model().inputs}


@pytest.mark.parametrize("name", ["kiln-street", "larch-attic", "linen-nook"])
def test_other_demo_jobs_have_an_answer(name: str) -> None:
    found = assess(model(name))
    assert found.solved.at.root.branch in ("drafting", "spilling", "reversed", "stalled")
    assert found.start is not None
