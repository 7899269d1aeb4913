"""Outlets in a wall, as whole surveys: what is listed is judged, what is not told stays open."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from fluewright import app
from fluewright.facts import Scope, subjects
from fluewright.facts.other_draft import FACTS, openings_near_outlet
from fluewright.files import survey_from_text
from fluewright.finding import Finding, Verdict
from fluewright.judge import judge
from fluewright.quantity import Measured
from fluewright.survey import Survey

WINDOW = {"kind": "window", "horizontal": "3 ft", "outlet_above": "-4 ft ± 0 in"}
INTAKE = {"kind": "gravity", "horizontal": "1 ft", "outlet_above": "6 in"}


def survey(draft: str = "power_vented", roof: dict[str, Any] | None = None, **more: Any) -> Survey:
    """A heater whose vent ends at the wall."""
    data = {
        "survey": 1,
        "job": {"title": "Wall outlet", "invented": "yes", "occupancy": "dwelling"},
        "spaces": {"room": {"kind": "room"}},
        "tools": {},
        "appliances": {
            "heater": {
                "kind": "storage water heater", "draft": draft, "input": "40,000 Btu/h",
                "space": "room", **more,
            }
        },
        "paths": [{"from": "heater", "roof": {"ends": "at_wall", **(roof or {})}}],
    }  # fmt: skip
    return survey_from_text(json.dumps(data), "wall.json")


def about(rule: str, one: Survey, edition: str = "umc_2012") -> dict[str, Finding]:
    """The findings of a rule by subject."""
    found = judge(one, app.edition(edition), app.library()).findings
    return {f.subject: f for f in found if f.rule == rule}


def test_each_window_and_each_gravity_inlet_is_judged_by_itself() -> None:
    door = {"kind": "door", "horizontal": "2 ft", "outlet_above": "0 ft"}
    found = about(
        "mechanical_draft_terminal_openings",
        survey(
            roof={"terminal": {"openings": [WINDOW, door, WINDOW]}, "intakes": [INTAKE]},
            direct_vent="no",
        ),
    )
    assert {name: f.verdict for name, f in found.items()} == {
        "window 1": Verdict.MEETS,
        "door 1": Verdict.FAILS,
        "window 2": Verdict.MEETS,
        "inlet 1": Verdict.FAILS,
    }
    assert {f.place for f in found.values() if f.verdict is Verdict.FAILS} == {"cap"}


@pytest.mark.parametrize(
    ("roof", "verdict"),
    [
        ({"terminal": {"openings": "none"}, "intakes": "none"}, Verdict.NOT_APPLICABLE),
        ({"terminal": {"openings": "none"}}, Verdict.CANNOT_TELL),
        ({"intakes": "none"}, Verdict.CANNOT_TELL),
        ({"terminal": "? snow lay there", "intakes": "none"}, Verdict.CANNOT_TELL),
        ({}, Verdict.CANNOT_TELL),
    ],
)
def test_only_looking_for_both_and_finding_nothing_settles_it(
    roof: dict[str, Any], verdict: Verdict
) -> None:
    found = about("mechanical_draft_terminal_openings", survey(roof=roof, direct_vent="no"))
    assert {name: f.verdict for name, f in found.items()} == {"roof": verdict}


def test_a_window_listed_where_the_intakes_are_not_told_leaves_the_rest_open() -> None:
    found = about(
        "mechanical_draft_terminal_openings",
        survey(roof={"terminal": {"openings": [WINDOW]}}, direct_vent="no"),
    )
    assert {name: f.verdict for name, f in found.items()} == {
        "window 1": Verdict.MEETS,
        "roof": Verdict.CANNOT_TELL,
    }


def test_with_two_outlets_each_window_says_whose_it_is() -> None:
    roof = {"terminal": {"openings": [WINDOW]}, "intakes": "none"}
    one = survey(roof=roof, direct_vent="no")
    two = replace(
        one,
        appliances={**one.appliances, "furnace": one.appliances["heater"]},
        paths=(*one.paths, replace(one.paths[0], from_="furnace")),
    )
    found = about("mechanical_draft_terminal_openings", two)
    assert set(found) == {"window 1 of heater", "window 1 of furnace"}


def test_a_power_vented_appliance_may_be_direct_vent() -> None:
    roof = {"terminal": {"openings": [{**WINDOW, "straight": "10 in"}]}, "intakes": "none"}
    fan, direct = "mechanical_draft_terminal_openings", "direct_vent_terminal_openings"
    for said, verdicts in (
        ({"direct_vent": "yes"}, (Verdict.NOT_APPLICABLE, Verdict.MEETS)),
        ({"direct_vent": "no"}, (Verdict.MEETS, Verdict.NOT_APPLICABLE)),
        ({}, (Verdict.CANNOT_TELL, Verdict.CANNOT_TELL)),
    ):
        one = survey("condensing", roof, **said)
        assert (about(fan, one)["window 1"].verdict, about(direct, one)["window 1"].verdict) == (
            verdicts
        )


def test_the_straight_way_is_worked_out_from_level_and_upright() -> None:
    opening = {"kind": "window", "horizontal": "3 in ± 0 in", "outlet_above": "-4 in ± 0 in"}
    one = survey("direct_vent", {"terminal": {"openings": [opening]}, "intakes": "none"})
    (found,) = about("direct_vent_terminal_openings", one).values()
    assert found.verdict is Verdict.FAILS
    assert found.comparison is not None
    assert found.comparison.measured.value == pytest.approx(5 * 0.0254)
    assert found.comparison.limit.value == pytest.approx(9 * 0.0254)


def test_an_outlet_perhaps_level_with_the_opening_may_be_as_near_as_the_level_distance() -> None:
    opening = {"kind": "window", "horizontal": "8 in ± 0 in", "outlet_above": "2 in ± 6 in"}
    one = survey("direct_vent", {"terminal": {"openings": [opening]}, "intakes": "none"})
    ((_, thing),) = openings_near_outlet(one.paths[0].roof)
    ((_, view),) = subjects(one, one.paths[0])[Scope.NEAR_OPENING]
    assert view.thing is thing
    straight = FACTS["terminal_to_air_opening"].get(view)
    assert isinstance(straight, Measured)
    assert straight.low == pytest.approx(8 * 0.0254)
    assert straight.high == pytest.approx(2 * 8 * 0.0254 / 2**0.5)


def test_a_large_input_is_sent_to_the_instructions_by_the_later_table() -> None:
    far = {"kind": "window", "straight": "30 ft"}
    one = survey(
        "direct_vent", {"terminal": {"openings": [far]}, "intakes": "none"}, input="199,000 Btu/h"
    )
    rule = "direct_vent_terminal_openings"
    assert about(rule, one)["window 1"].verdict is Verdict.MEETS
    later = about(rule, one, "irc_2021")["window 1"]
    assert later.verdict is Verdict.CANNOT_TELL
    assert any("instructions decide" in item.why for item in later.measure_next)
