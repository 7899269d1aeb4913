"""A common vent is described once and is part of the way of every appliance that joins it."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.rule_cases import edition, library

from fluewright.files import survey_from_text
from fluewright.finding import Verdict
from fluewright.geometry import trace, vent_height
from fluewright.joining import members, whole
from fluewright.judge import judge
from fluewright.quantity import Measured
from fluewright.survey import Survey

TEXT = """
survey: 1
job: {title: "Invented: two on one vent", edition: umc_2012, invented: yes}
spaces: {cellar: {kind: basement}}
appliances:
  heater: {kind: storage water heater, draft: draft_hood, outlet_on_top: yes, space: cellar}
  furnace: {kind: furnace, draft: draft_hood, outlet_on_top: yes, space: cellar}
paths:
  - from: heater
    joins: trunk
    enters: {at: t1, way: through}
    pieces: [{id: c1, part: straight, role: connector, wall: single, diameter: 4 in,
              length: 24 in ± 0 in, runs: up}]
  - from: furnace
    joins: trunk
    enters: {at: t1, way: side}
    pieces: [{id: c2, part: run, role: connector, wall: single, diameter: 5 in,
              rise: 12 in ± 0 in, horizontal: 36 in ± 0 in, elbows: [90 deg]}]
common:
  trunk:
    pieces:
      - {id: t1, part: tee, role: vent, wall: type_b, diameter: 6 in, length: 10 in ± 0 in,
         leg: 4 in ± 0 in, runs: up}
      - {id: v1, part: straight, role: vent, wall: type_b, diameter: 6 in,
         length: 12 ft ± 0 in, runs: up}
      - {id: cap, part: cap, listed: yes}
    roof: {ends: above_roof, pitch: 4/12}
"""
INCH = 0.0254


def survey(text: str = TEXT) -> Survey:
    return survey_from_text(text, "made.yaml")


def height_in(which: int) -> float:
    told = survey()
    found = vent_height(trace(whole(told, told.paths[which]), outlet_on_top=True))
    assert isinstance(found, Measured)
    return found.value / INCH


def test_the_whole_way_is_the_connector_and_the_vent_from_where_it_enters() -> None:
    # By hand: 24 up, the whole tee 10, 144 of vent.
    assert height_in(0) == pytest.approx(24 + 10 + 144)
    # From the side: 12 up, from the branch's center line 4, 144 of vent.
    assert height_in(1) == pytest.approx(12 + 4 + 144)


def test_a_tee_whose_center_nobody_measured_adds_anything_up_to_its_length() -> None:
    told = survey(TEXT.replace(" leg: 4 in ± 0 in,", ""))
    found = vent_height(trace(whole(told, told.paths[1]), outlet_on_top=True))
    assert isinstance(found, Measured)
    assert found.low / INCH == pytest.approx(12 + 144)
    assert found.high / INCH == pytest.approx(12 + 10 + 144)


def test_what_is_shared_is_said_once_and_the_rest_of_each() -> None:
    found = judge(survey(), edition("umc_2012"), library())
    often = Counter((f.rule, f.subject) for f in found.findings)
    assert max(often.values()) == 1
    of = {rule: {f.subject for f in found.findings if f.rule == rule} for rule, _ in often}
    assert of["vent_cap_listed"] == {"trunk"}
    assert of["draft_hood_required_and_unaltered"] == {"heater", "furnace"}
    assert of["gas_regulator_vent_not_into_flue"] == {"heater", "furnace"}


def test_an_appliance_that_was_taken_out_is_not_judged_and_shares_nothing() -> None:
    told = survey(TEXT.replace("furnace: {", "furnace: {taken_out: yes, "))
    assert [p.from_ for p in members(told, "trunk")] == ["heater"]
    found = judge(told, edition("umc_2012"), library())
    assert not any(f.subject in ("furnace", "c2") for f in found.findings)
    assert any(f.subject == "c1" and f.verdict is Verdict.CANNOT_TELL for f in found.findings)
