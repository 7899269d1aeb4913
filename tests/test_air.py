"""Air for burning, from whole surveys: rooms over several stories, and worked examples.

Numbers by hand stand beside each case. Where an example is a remembered one, it says so.
"""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.rule_cases import edition, library

from fluewright.errors import BadSurvey
from fluewright.files.read import survey_from_bytes
from fluewright.finding import Finding, Verdict
from fluewright.judge import judge
from fluewright.quantity import to_unit

ANY_WAY = "combustion_air_by_one_method"


def opening(to: str, side: str, **more: Any) -> dict[str, Any]:
    """A bare hole of 20 in by 10 in that starts 6 in from top or bottom."""
    far, near = "80 in ± 0 in", "6 in ± 0 in"
    top, bottom = (near, far) if side == "high" else (far, near)
    return {
        "id": f"{to}-{side}", "to": to, "by": "direct", "width": "20 in ± 0 in",
        "height": "10 in ± 0 in", "louver": "none", "from_top": top, "from_bottom": bottom, **more,
    }  # fmt: skip


def room(volume: int, *openings: dict[str, Any], **air: Any) -> dict[str, Any]:
    """A space of so many cubic feet, in which nothing else burns."""
    told = {"burners": "none", "openings": list(openings) or "none", "supply": "none",
            "design_on_file": "none", "exhaust": "none", **air}  # fmt: skip
    return {"kind": "room", "volume": f"{volume} ft3 ± 0 ft3", "air": told}


def gas(kbtuh: int, space: str, draft: str = "draft_hood", **more: Any) -> dict[str, Any]:
    """An appliance of a rated input, in a space, on a vent."""
    return {"draft": draft, "input": f"{kbtuh} kBtu/h", "space": space, "connected": True,
            "may_run_unvented": False, **more}  # fmt: skip


def connector(start: str, inches: int) -> dict[str, Any]:
    """A path of one connector piece."""
    piece = {"id": f"{start}-1", "part": "straight", "role": "connector",
             "diameter": f"{inches} in ± 0 in"}  # fmt: skip
    return {"from": start, "pieces": [piece]}


def found(
    spaces: dict[str, Any],
    appliances: dict[str, Any],
    paths: tuple[dict[str, Any], ...] = (),
    changes: str = "none",
    code: str = "nfpa54_2012",
) -> dict[tuple[str, str], Finding]:
    """The findings of a survey by rule and subject."""
    data = {
        "survey": 1, "job": {"title": "air"}, "site": {"air_changes": changes},
        "spaces": {"outside": {"kind": "outdoors"}, **spaces}, "appliances": appliances,
        "paths": list(paths), "tools": {},
    }  # fmt: skip
    survey = survey_from_bytes(json.dumps(data).encode(), "air.json")
    return {(f.rule, f.subject): f for f in judge(survey, edition(code), library()).findings}


def limit(finding: Finding, unit: str) -> float:
    """What a finding says is needed."""
    assert finding.comparison is not None, finding.sentence
    return to_unit(finding.comparison.limit.value, unit)


def told(finding: Finding) -> str:
    """The working as one text."""
    return "; ".join(step.what for step in finding.working)


# ---------------------------------------------------------- a worked example, remembered


BASEMENT = {"furnace": gas(100, "basement", "fan_assisted"), "heater": gas(40, "basement")}
PIPES = (connector("furnace", 4), connector("heater", 3))


def basement(width: str, **more: Any) -> dict[tuple[str, str], Finding]:
    """The example of an annex of NFPA 54 on combined air, from memory.

    A fan-assisted furnace of 100,000 and a draft-hood water heater of 40,000 Btu/h in a basement
    of 15 ft x 30 ft x 8 ft: 3,600 ft3 of the 7,000 needed, ratio 0.514, factor 0.486; one opening
    of 140,000 / 3,000 = 46.7 in2 becomes 22.7 in2.
    """
    hole = opening("outside", "high", width=width, height="10 in ± 0 in")
    air = {"method": "combination", **more}
    return found({"basement": room(3600, hole, **air)}, BASEMENT, PIPES)


def test_combined_air_of_the_remembered_example() -> None:
    good = basement("2.3 in ± 0 in", openings=[opening("outside", "high", width="5 in ± 0 in",
                                                       height="4.6 in ± 0 in")])  # fmt: skip
    finding = good["combination_indoor_outdoor_factor", "basement"]
    assert finding.verdict is Verdict.MEETS, finding.sentence  # 5 x 4.6 = 23.0 in2
    assert limit(finding, "in2") == pytest.approx(140_000 / 3_000 * (1 - 3_600 / 7_000))
    assert limit(finding, "in2") == pytest.approx(22.67, abs=0.01)
    assert "needed: 0.49" in told(finding)
    small = basement("5 in ± 0 in", openings=[opening("outside", "high", width="5 in ± 0 in",
                                                      height="4.5 in ± 0 in")])  # fmt: skip
    finding = small["combination_indoor_outdoor_factor", "basement"]
    assert finding.verdict is Verdict.FAILS  # 22.5 in2
    assert "missing" in finding.sentence


def test_each_figure_for_the_same_basement_without_its_volume() -> None:
    """130,000 Btu/h: 32.5, 65, 43.3 and 130 in2, 6,500 ft3 and 45.5 cfm, by hand."""
    burners = {"furnace": gas(100, "cell", "fan_assisted"), "heater": gas(30, "cell")}
    cases: list[tuple[str, list[dict[str, Any]], str, float]] = [
        ("indoor_volume_standard_method", [], "ft3", 6500.0),
        ("outdoor_two_openings_direct_or_vertical",
         [opening("outside", "high"), opening("outside", "low")], "in2", 32.5),
        ("outdoor_two_openings_horizontal_duct",
         [opening("outside", "high", by="horizontal_duct"),
          opening("outside", "low", by="horizontal_duct")], "in2", 65.0),
        ("outdoor_single_opening", [opening("outside", "high")], "in2", 130_000 / 3_000),
        ("indoor_opening_same_storey_area",
         [opening("hall", "high", story="same"), opening("hall", "low", story="same")],
         "in2", 130.0),
    ]  # fmt: skip
    for rule, holes, unit, needed in cases:
        spaces = {"cell": room(100, *holes), "hall": room(200)}
        finding = found(spaces, burners, PIPES)[rule, "cell"]
        assert limit(finding, unit) == pytest.approx(needed), rule
    fan = room(100, supply={"flow": "45.5 cfm ± 0 cfm", "interlocked": True})
    finding = found({"cell": fan}, burners)["mechanical_combustion_air_rate", "cell"]
    assert (finding.verdict, limit(finding, "cfm")) == (Verdict.MEETS, pytest.approx(45.5))


@pytest.mark.parametrize(
    ("changes", "needed"),
    [
        ("0.35 ACH ± 0 ACH", 21 / 0.35 * 40 + 15 / 0.35 * 100),  # 2,400 + 4,286 = 6,686
        ("0.60 ACH ± 0 ACH", 35 * 40 + 25 * 100),  # the floors that follow from the cap
        ("1.20 ACH ± 0 ACH", 35 * 40 + 25 * 100),
    ],
)
def test_volume_by_known_air_changes(changes: str, needed: float) -> None:
    finding = found({"basement": room(3600)}, BASEMENT, (), changes)
    known = finding["indoor_volume_known_infiltration_method", "basement"]
    assert limit(known, "ft3") == pytest.approx(needed)


# ------------------------------------------------------------------ several rooms


def house(**changed: dict[str, Any]) -> dict[str, Any]:
    """A closet, its hall through two grilles, a den by an open doorway, a loft by a floor grate.

    200 + 1,000 + 1,500 + 2,000 = 4,700 ft3; the closet's 90,000 Btu/h need 4,500.
    """
    doorway = {"id": "arch", "to": "den", "by": "doorway", "door": "none_permanent"}
    grate = opening("loft", "high", story="other")  # 200 in2 for 2 x 90 = 180
    spaces = {
        "closet": room(200, opening("hall", "high", story="same"),
                       opening("hall", "low", story="same")),
        "hall": room(1000, doorway, grate),
        "den": room(1500),
        "loft": room(2000),
        "study": room(5000),
    }  # fmt: skip
    return {**spaces, **changed}


def test_rooms_over_two_stories_count_as_far_as_air_gets() -> None:
    finding = found(house(), {"boiler": gas(90, "closet")})[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.MEETS
    assert "closet 200 ft³, hall 1,000 ft³, den 1,500 ft³, loft 2,000 ft³" in told(finding)
    assert "study" not in told(finding)


def test_a_link_that_breaks_takes_every_room_behind_it() -> None:
    one_grille = room(200, opening("hall", "high", story="same"))
    finding = found(house(closet=one_grille), {"boiler": gas(90, "closet")})[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.FAILS
    assert "4,300 ft³ missing" in finding.sentence  # 4,500 - 200


def test_an_opening_told_from_its_other_side_joins_too() -> None:
    spaces = house(closet=room(200), hall=room(
        4300, opening("closet", "high", story="same"), opening("closet", "low", story="same"),
    ))  # fmt: skip
    assert found(spaces, {"boiler": gas(90, "closet")})[ANY_WAY, "closet"].verdict is Verdict.MEETS


def test_a_doorway_that_nobody_looked_at_leaves_it_open_and_is_asked_for() -> None:
    hall = room(1000, {"id": "arch", "to": "den", "by": "doorway"})
    spaces = house(hall=hall, den=room(4000))
    finding = found(spaces, {"boiler": gas(90, "closet")})[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.CANNOT_TELL
    assert ("door of the doorway", "hall arch") in [(m.label, m.subject)
                                                    for m in finding.measure_next]  # fmt: skip


def test_a_room_that_counts_is_asked_what_burns_in_it() -> None:
    hall = room(9000)
    del hall["air"]["burners"]
    spaces = house(hall=hall)
    finding = found(spaces, {"boiler": gas(90, "closet")})[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.CANNOT_TELL
    assert ("other burners in the space", "hall") in [(m.label, m.subject)
                                                      for m in finding.measure_next]  # fmt: skip


def test_enough_stays_open_where_a_room_with_a_boiler_perhaps_shares_the_air() -> None:
    hall = room(6000, {"id": "arch", "to": "den", "by": "doorway"})
    more = {"boiler": gas(90, "closet"), "other": gas(300, "den")}
    spaces = house(hall=hall, den=room(500))
    finding = found(spaces, more)[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.CANNOT_TELL  # 6,200 of 4,500, or 6,700 of 19,500
    empty = found(spaces, {"boiler": gas(90, "closet")})[ANY_WAY, "closet"]
    assert empty.verdict is Verdict.MEETS


def test_burners_in_every_room_that_counts_add_up() -> None:
    more = {"boiler": gas(90, "closet"), "stove": gas(20, "den", "fan_assisted")}
    finding = found(house(), more)[ANY_WAY, "closet"]
    assert finding.verdict is Verdict.FAILS
    assert limit(finding, "ft3") == pytest.approx(5500)


def test_an_appliance_taken_out_or_sealed_takes_no_air() -> None:
    more = {"boiler": gas(90, "closet"), "old": gas(50, "closet", taken_out=True),
            "sealed": gas(80, "closet", "direct_vent")}  # fmt: skip
    assert found(house(), more)[ANY_WAY, "closet"].verdict is Verdict.MEETS


def test_a_vented_attic_is_outdoors_and_one_nobody_looked_at_is_asked_for() -> None:
    high = opening("attic", "high", by="vertical_duct")
    cell = room(100, high, opening("outside", "low"))
    for vented, verdict in ((True, Verdict.MEETS), (None, Verdict.CANNOT_TELL)):
        attic = {"kind": "attic", "air": {"vented": vented} if vented else {}}
        finding = found({"cell": cell, "attic": attic}, {"boiler": gas(90, "cell")})
        assert finding[ANY_WAY, "cell"].verdict is verdict


def test_an_attic_or_porch_is_no_room_whose_volume_counts() -> None:
    for kind in ("attic", "crawl", "porch"):
        beyond = {**room(9000), "kind": kind}
        if kind != "porch":
            beyond["air"]["vented"] = False
        cell = room(100, opening("beyond", "high", story="same"),
                    opening("beyond", "low", story="same"))  # fmt: skip
        spaces = {"cell": cell, "beyond": beyond}
        finding = found(spaces, {"boiler": gas(60, "cell")})[ANY_WAY, "cell"]
        assert finding.verdict is Verdict.FAILS, kind
        assert "2,900 ft³ missing" in finding.sentence


def test_outdoors_the_air_is_no_question() -> None:
    spaces = {"yard": {"kind": "outdoors"}}
    findings = found(spaces, {"boiler": gas(60, "yard")})
    assert findings[ANY_WAY, "yard"].verdict is Verdict.NOT_APPLICABLE
    assert findings["makeup_air_for_exhaust", "boiler"].verdict is Verdict.NOT_APPLICABLE
    asked = {rule for (rule, thing), f in findings.items()
             if thing == "yard" and f.verdict is Verdict.CANNOT_TELL}  # fmt: skip
    assert asked <= {"unvented_appliances_aggregate_input"}, asked


def test_what_is_missing_is_told_for_every_way() -> None:
    finding = found({"cell": room(100)}, {"boiler": gas(60, "cell")})[ANY_WAY, "cell"]
    working = told(finding)
    for words in ("100 ft³ there, 3,000 ft³ needed, 2,900 ft³ short", "15 in² each", "20 in²",
                  "fan that brings outdoor air: none", "reduction factor"):  # fmt: skip
        assert words in working, working
    assert finding.remedies


# ----------------------------------------------------------------------- the file


@pytest.mark.parametrize(
    ("holes", "words"),
    [
        ([opening("cellar", "high")], 'there is no space "cellar"'),
        ([opening("cell", "high")], "it leads to the space it is in"),
        ([opening("outside", "high"), opening("outside", "high")], "stands twice in this space"),
    ],
)
def test_openings_that_cannot_be_are_refused(holes: list[dict[str, Any]], words: str) -> None:
    with pytest.raises(BadSurvey, match=words):
        found({"cell": room(100, *holes)}, {"boiler": gas(60, "cell")})
