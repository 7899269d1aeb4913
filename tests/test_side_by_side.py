"""Two texts that differ in one figure: the table shows that row, and both figures, and no other."""

from __future__ import annotations

import json
from dataclasses import replace

from tests.demo_jobs import plain
from tests.rule_cases import edition, library

from fluewright.edition import NumberLimit
from fluewright.files import survey_from_text
from fluewright.finding import Judgement
from fluewright.judge import judge
from fluewright.render.plain import judgements_text
from fluewright.report.editions import side_by_side

TODAY = edition("umc_2012")


def both() -> tuple[Judgement, Judgement]:
    slope = TODAY.limits["connector.slope_min"]
    assert isinstance(slope, NumberLimit)
    limits = {**TODAY.limits, "connector.slope_min": replace(slope, value=slope.value * 2)}
    other = replace(TODAY, id="steeper", title="A steeper text", limits=limits)
    told = survey_from_text(json.dumps(plain("otter-bend"), default=str), "demo.json")
    return judge(told, TODAY, library()), judge(told, other, library())


def test_only_what_differs_stands_in_the_table_with_both_figures() -> None:
    found = both()
    differ, same = side_by_side(found)
    assert {one.rule for one, _ in differ} == {"connector_upward_slope"}
    assert len(differ) + len(same) == len(found[0].findings)
    text = judgements_text(found).split("judged by")[0]
    table, _, rest = text.partition("the same in all")
    assert "limit: at least 1/4 in per ft (umc_2012); at least 1/2 in per ft (steeper)" in table
    assert "vent_parts_sound" not in table
    assert "FAILS       vent_parts_sound (c4)" in rest


def test_where_nothing_differs_it_is_said() -> None:
    one = both()[0]
    text = judgements_text((one, one))
    assert "nothing differs" in text.split("judged by")[0]
