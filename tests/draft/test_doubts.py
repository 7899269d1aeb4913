"""What was seen of a vent, or not looked at, goes before every figure of the engine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path as File

import pytest

from fluewright.app.draft import appliances, draft_job
from fluewright.draft.assess import _weighed
from fluewright.draft.doubts import Doubts
from fluewright.draft.from_survey import Conditions, from_survey
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels
from fluewright.quantity import Dimension, Measured
from fluewright.survey import ABSENT, Air, Joint, Path, Piece, Survey

DEMO = File(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"
SOUND = read_survey(str(DEMO / "otter-bend-repaired.yaml"))
CHIMNEY = read_survey(str(DEMO / "north-gable-repaired.yaml"))
Change = Callable[[Survey], Survey]


def doubts(survey: Survey, **conditions: float) -> Doubts:
    asked = Conditions(**conditions)
    return from_survey(survey, coefficients(), default_fuels(), conditions=asked).doubts


def on_path(change: Callable[[Path], Path]) -> Change:
    return lambda survey: replace(survey, paths=(change(survey.paths[0]),))


def on_piece(change: Callable[[Piece], Piece], at: int = 3) -> Change:
    def new(path: Path) -> Path:
        pieces = list(path.pieces)
        pieces[at] = change(pieces[at])
        return replace(path, pieces=tuple(pieces))

    return on_path(new)


def on_heater(**fields: object) -> Change:
    def new(survey: Survey) -> Survey:
        return replace(
            survey, appliances={"heater": replace(survey.appliances["heater"], **fields)}
        )

    return new


def on_checks(**fields: object) -> Change:
    return on_heater(checks=replace(SOUND.appliances["heater"].checks, **fields))


def on_hood(**fields: object) -> Change:
    return on_heater(hood=replace(SOUND.appliances["heater"].hood, **fields))


def on_room(air: Air, tested: bool | None) -> Change:
    def new(survey: Survey) -> Survey:
        room = replace(survey.spaces["laundry"], air=air)
        changed = on_checks(spills=tested)(survey)
        return replace(changed, spaces={**survey.spaces, "laundry": room})

    return new


GAP = Measured(0.009, Dimension.LENGTH, 0.0)
HAIR = Measured(0.0, Dimension.LENGTH, 0.001)


def test_a_sound_vent_raises_no_doubt() -> None:
    assert not doubts(SOUND).any
    assert doubts(SOUND).tested
    assert not doubts(CHIMNEY).any


@pytest.mark.parametrize(
    "change",
    [
        on_piece(lambda p: replace(p, crushed=True)),
        on_piece(lambda p: replace(p, holes=True)),
        on_piece(lambda p: replace(p, joint=Joint(fastening="open", gap=ABSENT))),
        on_piece(lambda p: replace(p, joint=Joint(fastening="screws", gap=GAP))),
        on_piece(lambda p: replace(p, joint=Joint(fastening="screws", gap=HAIR))),
        on_piece(lambda p: replace(p, clear=False), at=-1),
        on_path(lambda p: replace(p, vent=replace(p.vent, blocked=True))),
        on_path(lambda p: replace(p, vent=replace(p.vent, exhaust_joins=True))),
        on_path(lambda p: replace(p, vent=replace(p.vent, devices=("baffle",)))),
        on_path(lambda p: replace(p, vent=replace(p.vent, shares_with=("oil",)))),
        on_path(lambda p: replace(p, connector=replace(p.connector, manual_damper=True))),
        on_path(lambda p: replace(p, connector=replace(p.connector, dips=True))),
        on_path(lambda p: replace(p, roof=replace(p.roof, ends="at_wall"))),
        on_hood(altered=True),
        on_hood(upright=False),
        on_checks(flame_normal=False),
        on_room(Air(openings=ABSENT, supply=ABSENT), None),
    ],
)
def test_what_can_stop_the_vent_is_grave_and_never_drafts(change: Change) -> None:
    found = doubts(change(SOUND))
    assert len(found.grave) == 1
    assert _weighed("drafts", found) == "cannot_tell"
    assert _weighed("spills", found) == "spills"


@pytest.mark.parametrize(
    "change",
    [
        on_piece(lambda p: replace(p, crushed=None)),
        on_piece(lambda p: replace(p, holes=None)),
        on_piece(lambda p: replace(p, joint=None)),
        on_piece(lambda p: replace(p, joint=Joint(fastening=None, gap=ABSENT))),
        on_piece(lambda p: replace(p, joint=Joint(fastening="screws", gap=None))),
        on_piece(lambda p: replace(p, clear=None), at=-1),
        on_path(lambda p: replace(p, vent=replace(p.vent, blocked=None))),
        on_heater(hood=None),
        on_hood(altered=None),
    ],
)
def test_what_nobody_looked_at_is_no_pass(change: Change) -> None:
    found = doubts(change(SOUND))
    assert len(found.unseen) == 1
    assert not found.grave
    assert _weighed("drafts", found) == "cannot_tell"


@pytest.mark.parametrize(
    "change",
    [on_checks(spills=True), on_checks(spills_with_all_on=True), on_heater(connected=False)],
)
def test_spillage_seen_is_spillage(change: Change) -> None:
    assert _weighed("drafts", doubts(change(SOUND))) == "spills"


def test_a_test_that_was_passed_has_the_suction_of_the_room_in_it() -> None:
    starved = Air(openings=ABSENT, supply=ABSENT)
    assert not doubts(on_room(starved, False)(SOUND)).any
    assert doubts(on_room(starved, None)(SOUND)).grave
    assert not doubts(on_room(starved, None)(SOUND), room_pa=-3.0).grave


def test_an_appliance_without_any_vent_is_not_passed_over() -> None:
    survey = replace(SOUND, paths=())
    assert appliances(survey) == ("heater",)
    (found,) = draft_job(survey)
    assert found.fails
    assert "all of it stays in the room" in found.reason
