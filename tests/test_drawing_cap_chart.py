"""The cap chart: nothing overlaps, the region is drawn to scale, the answer is the region's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drawing_samples import SAMPLES, m, random_survey
from fluewright.drawing import Scene, cap_chart, layout_check
from fluewright.drawing.scene import Ink, Line, Pen, Text
from fluewright.survey import Roof, Survey
from test_cap_place import FOOT, LIMITS

WALL = "fine"  # 7/12, a wall 5 ft away and 6 ft high, the cap 15 in over the roof


def with_roof(**changes: object) -> Survey:
    made, _ = SAMPLES[WALL]()
    path = made.paths[0]
    roof: Roof = replace(path.roof, **changes)  # type: ignore[arg-type]
    return replace(made, paths=(replace(path, roof=roof),))


def chart(made: Survey, **how: str) -> Scene:
    return cap_chart(made, made.paths[0], LIMITS, **how)  # type: ignore[arg-type]


def text_of(scene: Scene) -> str:
    said = [item.text for item in scene.plain() if isinstance(item, Text)]
    return " | ".join(said).replace("\u2044", "/")


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize(("sheet", "style"), [("letter", "us"), ("a4", "metric")])
def test_nothing_overlaps_on_the_sample_charts(name: str, sheet: str, style: str) -> None:
    assert layout_check(chart(SAMPLES[name]()[0], sheet=sheet, style=style)) == []


@pytest.mark.slow
@pytest.mark.parametrize("batch", range(4))
def test_nothing_overlaps_on_random_charts(batch: int) -> None:
    faults: list[str] = []
    for seed in range(batch * 25, batch * 25 + 25):
        made, _ = random_survey(seed)
        for sheet, style in (("letter", "us"), ("a4", "metric")):
            found = layout_check(chart(made, sheet=sheet, style=style))
            faults += [f"seed {seed}, {sheet}, {style}: {fault}" for fault in found]
    assert faults == []


def test_the_edge_of_the_region_is_drawn_to_scale() -> None:
    """Wall top 72 in ± 2 in: 98 in needed up to 8 ft, then the height of the pitch."""
    scene = chart(SAMPLES[WALL]()[0])
    view = scene.views[0]
    edge = [i for i in scene.items if isinstance(i, Line) and i.layer == "edge"]
    assert all(line.pen is Pen.HEAVY for line in edge)
    points = {tuple(round(v / FOOT, 3) for v in view.to_house(p)) for e in edge for p in (e.a, e.b)}
    assert (0.0, round(98 / 12, 3)) in points
    assert (8.0, round(98 / 12, 3)) in points
    assert (8.0, 1.5) in points  # 7/12 ± 0.02 may fall into the next row


def test_the_answer_comes_first_and_the_moves_are_said() -> None:
    scene = chart(SAMPLES[WALL]()[0])
    text = text_of(scene)
    assert "Today's cap stands outside the region." in text
    assert "Straight up: 6 ft 11 1/2 in." in text
    assert "Shortest: 3 ft 1 in away from the wall and 3 1/2 in up." in text
    head = next(i for i in scene.items if isinstance(i, Text) and i.layer == "answer")
    assert head.ink is Ink.ALARM
    assert head.face == "bold"


def test_inside_is_said_without_alarm_and_without_promise() -> None:
    made = with_roof(cap_above_penetration=m(120, 0.5))
    text = text_of(chart(made))
    assert "Today's cap stands within the region" in text
    assert "Straight up" not in text
    for never in ("safe", "compliant", "certified", "guaranteed"):
        assert never not in text.lower()


@pytest.mark.parametrize(
    ("changes", "asked"),
    [
        ({"pitch": None}, "pitch of the roof"),
        ({"near": None}, "what stands up from the roof near the vent"),
        ({"cap_above_penetration": None}, "height of the cap opening over the roof"),
    ],
)
def test_what_is_missing_is_asked_for(changes: dict[str, object], asked: str) -> None:
    text = text_of(chart(with_roof(**changes)))
    assert "Measure next:" in text
    assert asked in text


def test_a_missing_reading_is_never_inside() -> None:
    for changes in ({"near": None}, {"cap_above_penetration": None}):
        made = with_roof(**{"cap_above_penetration": m(400), **changes})
        assert "Today's cap stands within" not in text_of(chart(made))


def test_a_survey_that_says_nothing_makes_a_sheet_of_what_to_measure() -> None:
    made, _ = SAMPLES["coarse"]()
    text = text_of(chart(made))
    assert "cannot be told yet" in text
    assert "Measure next:" in text


def test_the_same_survey_gives_the_same_chart() -> None:
    assert chart(SAMPLES[WALL]()[0]) == chart(SAMPLES[WALL]()[0])
