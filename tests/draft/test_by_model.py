"""``capacity --method model``: what it answers, what it says beside it, what it refuses."""

from __future__ import annotations

from typing import Any

import pytest

from fluewright.app.show import capacity_answer, capacity_data, capacity_text
from fluewright.quantity import to_unit
from fluewright.source import Basis

ASKED: dict[str, Any] = {
    "vent": "type_b", "connector": "single_wall", "burner": "draft_hood", "height": "10 ft",
    "lateral": "5 ft", "diameter": "5 in", "edition": "umc_2012", "connector_diameter": None,
    "flue_area": None, "extra_elbows": (), "outlet": None, "liner": "none", "rise": None,
    "shared": None, "manifold": None, "method": "model",
}  # fmt: skip


def ask(**changed: Any) -> Any:
    return capacity_answer({**ASKED, **changed})


def kbtu_h(answer: Any) -> float:
    return to_unit(answer.max.value, "kBtu/h")


def test_lower_than_the_first_row_there_is_an_estimate_that_says_what_it_is() -> None:
    found = ask(height="4 ft", lateral="2 ft")
    assert ask(height="4 ft", lateral="2 ft", method="table").max is None
    assert found.basis is Basis.MODEL
    assert 70 < kbtu_h(found) < kbtu_h(ask(height="6 ft", lateral="2 ft"))
    text = capacity_text(found)
    assert "Estimate of the most input it carries" in text
    assert "no figure of any code" in text
    assert "the tables give no figure" in text
    assert capacity_data(found)["basis"] == "model"


def test_where_the_table_answers_the_model_never_goes_over_it() -> None:
    table = kbtu_h(ask(method="table"))
    found = ask()
    assert table == pytest.approx(122)  # NFPA 54-2012 Table 13.1(b)
    assert kbtu_h(found) <= table
    assert any("the table counts" in step.what for step in found.working)


@pytest.mark.parametrize("elbows", [(90.0,), (90.0, 90.0)])
def test_more_elbows_never_raise_the_estimate(elbows: tuple[float, ...]) -> None:
    assert kbtu_h(ask(extra_elbows=elbows)) < kbtu_h(ask())


def test_a_size_between_two_of_the_table_lies_between_them() -> None:
    between = kbtu_h(ask(diameter="5 1/2 in"))
    larger = kbtu_h(ask(diameter="6 in", method="table"))
    assert kbtu_h(ask(diameter="5 in", height="5 ft")) < between < larger


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"vent": "masonry", "flue_area": "50 in2"}, "no figure for a masonry chimney"),
        ({"rise": "2 ft"}, "one appliance alone on its vent"),
        ({"shared": "nat_nat"}, "one appliance alone on its vent"),
        ({"height": "1 ft"}, "under 2 ft of height"),
        ({"diameter": "30 in"}, "3 to 24 in"),
        ({"vent": "single_wall", "burner": "fan_assisted"}, "no basis for a fan-assisted"),
    ],
)
def test_what_it_does_not_answer_has_a_reason(changed: dict[str, Any], words: str) -> None:
    found = ask(**changed)
    assert found.max is None
    assert words in found.reason


def test_a_reading_that_is_not_sure_makes_the_estimate_wider() -> None:
    sure, unsure = ask(height="5 ft"), ask(height="5 ft ± 6 in")
    assert unsure.max.tolerance > sure.max.tolerance
