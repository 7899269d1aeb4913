"""The elevation of a common vent: all that joins it on one sheet, nothing overlapping."""

from __future__ import annotations

from itertools import combinations

import pytest
from tests.rule_cases import edition, library

from drawing_samples import FOOT, INCH, judged
from drawing_trees import TEXTS, random_tree, tree_survey
from fluewright.drawing import Scene, TopRule, elevation, layout_check, sheets
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Hatch, Ink, Line, Mark, Polygon, Text
from fluewright.drawing.tree import lay_tree
from fluewright.files import survey_from_text
from fluewright.finding import Judgement
from fluewright.geometry import trace, vent_height
from fluewright.joining import whole
from fluewright.judge import judge
from fluewright.quantity import Measured
from fluewright.survey import Survey

SHEETS = [("letter", "us"), ("a4", "metric")]


def judgement(made: Survey) -> Judgement:
    return judge(made, edition("umc_2012"), library())


def draw(name: str, sheet: str = "letter", style: str = "us") -> Scene:
    made = tree_survey(name)
    (one,) = sheets(made)
    return elevation(made, one, judgement(made), sheet=sheet, style=style)  # type: ignore[arg-type]


def words(scene: Scene) -> str:
    text = " | ".join(item.text for item in scene.plain() if isinstance(item, Text))
    return text.replace("\u2044", "/")


@pytest.mark.parametrize("name", TEXTS)
@pytest.mark.parametrize(("sheet", "style"), SHEETS)
def test_nothing_overlaps_on_a_sheet_of_a_common_vent(name: str, sheet: str, style: str) -> None:
    assert layout_check(draw(name, sheet, style)) == []


@pytest.mark.slow
@pytest.mark.parametrize("batch", range(4))
def test_nothing_overlaps_on_random_common_vents(batch: int) -> None:
    faults: list[str] = []
    for seed in range(batch * 12, batch * 12 + 12):
        made = random_tree(seed)
        for sheet, style in SHEETS:
            scene = elevation(made, "main", judgement(made), sheet=sheet, style=style)  # type: ignore[arg-type]
            faults += [f"seed {seed}, {sheet}, {style}: {f}" for f in layout_check(scene)]
    assert faults == []


@pytest.mark.parametrize("seed", range(0, 20, 4))
def test_every_finding_of_the_sheet_is_marked_or_counted(seed: int) -> None:
    made = random_tree(seed)
    found = judgement(made)
    scene = elevation(made, "main", found)
    numbers = {str(f.number) for f in found.marked}
    told = {i.number for i in scene.items if isinstance(i, Mark)}
    assert numbers <= told or "see the list of findings" in words(scene) or "–" in words(scene)


def test_a_common_vent_is_one_sheet_and_a_lone_path_another() -> None:
    assert sheets(tree_survey("two")) == ("trunk",)
    assert sheets(tree_survey("orphan")) == ("chimney",)


@pytest.mark.parametrize("name", TEXTS)
def test_a_connector_ends_where_it_enters(name: str) -> None:
    """The hood stands as far below the entry as the pieces say, and the top is H above it."""
    made = tree_survey(name)
    tree = lay_tree(made, sheets(made)[0])
    assert tree.trunk is not None
    for branch in tree.live:
        height = vent_height(trace(whole(made, branch.path), True))
        assert isinstance(height, Measured)
        drawn = tree.trunk.end[1] - branch.route.start[1]
        assert height.low - 0.02 <= drawn <= height.high + 0.02, branch.name


@pytest.mark.parametrize("seed", range(40))
def test_appliances_with_a_level_run_stand_clear_of_each_other(seed: int) -> None:
    tree = lay_tree(random_tree(seed), "main")
    movable = [b for b in tree.branches if any(_can_be_longer(leg) for leg in b.route.legs)]
    if len(movable) > 3:
        return
    for one, other in combinations(movable, 2):
        apart = abs(one.route.start[0] - other.route.start[0])
        level = one.floor < other.route.start[1] and other.floor < one.route.start[1]
        assert apart > 0.5 or not level, (one.name, other.name)


def _can_be_longer(leg: Leg) -> bool:
    return leg.is_flat and leg.piece.part != "elbow"


def test_rises_and_the_whole_height_are_dimensioned() -> None:
    said = words(draw("two"))
    assert said.count("R = ") == 2
    assert "H = " in said
    assert "Not drawn for want of room: heater" not in said


def test_the_whole_height_counts_from_the_highest_hood() -> None:
    """Heater 61 in, furnace 54 in over the floor; the heater enters one tee higher."""
    made = tree_survey("two")
    tree = lay_tree(made, "trunk")
    highest = max(b.route.start[1] for b in tree.live)
    assert highest == pytest.approx(61 * INCH, abs=0.08)


def test_an_appliance_that_was_taken_out_is_dashed_and_said() -> None:
    scene = draw("orphan")
    ghost = [i for i in scene.items if isinstance(i, Polygon) and i.ink is Ink.GREY]
    assert any(i.dash is Dash.DASHED and i.layer == "appliance" for i in ghost)
    assert any(i.dash is Dash.DASHED and i.layer == "pipe" for i in ghost)
    said = words(scene)
    assert "taken out" in said
    assert "old_furnace" in scene.description


def test_what_is_drawn_longer_is_said_to_be() -> None:
    told = next(
        seed
        for seed in range(60)
        if any(leg.untrue for leg in lay_tree(random_tree(seed), "main").legs)
    )
    scene = elevation(random_tree(told), "main", judged())
    assert "Not at its true length" in words(scene)


def test_lines_of_the_figure_lie_on_the_sheet() -> None:
    for name in TEXTS:
        scene = draw(name)
        for item in scene.plain():
            if isinstance(item, Line) and item.layer != "hatch":
                for x, y in (item.a, item.b):
                    assert 0 <= x <= scene.width_mm, (name, item)
                    assert 0 <= y <= scene.height_mm, (name, item)


def test_a_chimney_is_drawn_in_brick_with_what_is_known_of_its_liner() -> None:
    """Clay is hatched the other way; a liner nobody saw is dashed; none is none."""
    seen: dict[str, set[float]] = {}
    for liner in ("clay", "none", "'?'"):
        text = TEXTS["orphan"].replace("liner: clay", f"liner: {liner}")
        made = survey_from_text(text, "made.yaml")
        scene = elevation(made, "chimney", judgement(made))
        assert layout_check(scene) == []
        seen[liner] = {i.angle_deg for i in scene.items if isinstance(i, Hatch)}
        dashed = [
            i
            for i in scene.items
            if isinstance(i, Polygon) and i.layer == "pipe" and i.ink is Ink.UNKNOWN
        ]
        assert bool(dashed) == (liner == "'?'")
    assert -45.0 in seen["clay"]
    assert -45.0 not in seen["none"]
    assert -45.0 not in seen["'?'"]


def test_the_flue_of_a_chimney_is_as_wide_as_its_area_says() -> None:
    """49 square inches: 7 in across."""
    tree = lay_tree(tree_survey("orphan"), "chimney")
    assert tree.main.legs[0].radius_m == pytest.approx(3.5 * INCH)


def test_a_thimble_nobody_saw_is_not_drawn_as_there() -> None:
    unknown = sleeves(TEXTS["orphan"].replace("inlet_thimble: yes", "inlet_thimble: '?'"))
    assert {i.ink for i in unknown} == {Ink.UNKNOWN}
    known, absent = (
        sleeves(TEXTS["orphan"].replace("inlet_thimble: yes", f"inlet_thimble: {said}"))
        for said in ("yes", "no")
    )
    assert {i.ink for i in known} == {Ink.INK}
    assert absent == []


def sleeves(text: str) -> list[Line]:
    made = survey_from_text(text, "made.yaml")
    items = elevation(made, "chimney").items
    return [i for i in items if isinstance(i, Line) and i.layer == "thimble"]


@pytest.mark.parametrize(
    ("said", "words_"),
    [
        ("{tight: yes, below_inlet: 12 in}", "12 in ± 1/16 in below inlet"),
        ("none", "no cleanout"),
        ("'?'", "cleanout ?"),
    ],
)
def test_the_cleanout_is_drawn_as_it_was_seen(said: str, words_: str) -> None:
    was = "{tight: yes, below_inlet: 14 in}"
    text = TEXTS["orphan"].replace(was, said)
    made = survey_from_text(text, "made.yaml")
    scene = elevation(made, "chimney", judgement(made))
    assert words_ in words(scene)
    assert any(i.layer == "cleanout" for i in scene.plain()) == (said != "none")


def test_a_metal_liner_stands_in_brick() -> None:
    text = TEXTS["orphan"].replace(
        "{id: k1, part: straight, role: vent, wall: masonry, length: 24 ft, runs: up}",
        "{id: k1, part: tee, role: vent, wall: type_b, diameter: 4 in, length: 10 in, runs: up}\n"
        "      - {id: k2, part: straight, role: vent, wall: type_b, diameter: 4 in,\n"
        "         length: 23 ft, runs: up}",
    )
    made = survey_from_text(text, "made.yaml")
    scene = elevation(made, "chimney", judgement(made))
    assert layout_check(scene) == []
    assert any(isinstance(i, Hatch) and i.layer == "pipe" for i in scene.items)


def test_the_levels_that_a_chimney_must_reach_are_drawn_true() -> None:
    """Top 30 in over the roof: 3 ft is 6 in higher; the ridge, 6 ft away at 8/12, is 4 ft up."""
    made = tree_survey("orphan")
    rule = TopRule(3 * FOOT, 2 * FOOT, 10 * FOOT)
    scene = elevation(made, "chimney", judgement(made), top_rule=rule)
    view, tree = scene.views[0], lay_tree(made, "chimney")
    drawn = sorted(i.a[1] for i in scene.items if isinstance(i, Line) and i.layer == "level")
    over = [(view.to_house((0.0, y))[1] - tree.main.end[1]) / INCH for y in drawn]
    assert over == pytest.approx([6.0, 4 * 12 + 24 - 30])
    assert "3 ft over the roof" in words(scene)
    assert "24 in over all within 10 ft" in words(scene)
