"""The elevation: nothing overlaps, it is true to scale, and it hides nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

import drawing_samples as samples
from drawing_samples import FOOT, INCH, SAMPLES, count, finding, judged, m, random_survey, size
from fluewright.drawing import Scene, elevation, layout_check
from fluewright.drawing.figure import wall_sample
from fluewright.drawing.route import lay_out
from fluewright.drawing.scene import Circle, Dash, Ink, Line, Mark, MarkKind, Polygon, Text
from fluewright.finding import Grade
from fluewright.geometry import lateral, trace
from fluewright.quantity import Measured
from fluewright.survey import Joint, Piece, Roof


def draw(name: str, **how: str) -> Scene:
    made, found = SAMPLES[name]()
    return elevation(made, made.paths[0], found, **how)  # type: ignore[arg-type]


def words(scene: Scene) -> list[str]:
    return [item.text for item in scene.plain() if isinstance(item, Text)]


def plain_words(scene: Scene) -> str:
    """All lettering in one line, fractions as they are typed."""
    return " | ".join(words(scene)).replace("\u2044", "/")


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize(("sheet", "style"), [("letter", "us"), ("a4", "metric")])
def test_nothing_overlaps_on_the_sample_sheets(name: str, sheet: str, style: str) -> None:
    assert layout_check(draw(name, sheet=sheet, style=style)) == []


@pytest.mark.slow
@pytest.mark.parametrize("batch", range(8))
def test_nothing_overlaps_on_random_sheets(batch: int) -> None:
    faults: list[str] = []
    for seed in range(batch * 20, batch * 20 + 20):
        made, found = random_survey(seed)
        for sheet, style in (("letter", "us"), ("a4", "metric")):
            scene = elevation(made, made.paths[0], found, sheet=sheet, style=style)  # type: ignore[arg-type]
            faults += [f"seed {seed}, {sheet}, {style}: {f}" for f in layout_check(scene)]
    assert faults == []


@pytest.mark.parametrize("seed", range(0, 30, 3))
def test_every_numbered_finding_is_marked_with_its_number(seed: int) -> None:
    made, found = random_survey(seed)
    scene = elevation(made, made.paths[0], found)
    marked = marked_numbers(scene)
    assert marked == {f.number for f in found.marked}


def marked_numbers(scene: Scene) -> set[int]:
    """The numbers that stand beside marks and in the lines that continue them."""
    said: list[str] = [item.number for item in scene.items if isinstance(item, Mark)]
    said += [
        item.text
        for item in scene.items
        if isinstance(item, Text) and item.layer == "column" and item.face == "bold"
        and set(item.text) <= set("0123456789,– ")
    ]  # fmt: skip
    numbers: set[int] = set()
    for part in ",".join(said).replace(" ", "").split(","):
        if part:
            low, _, high = part.partition("–")
            numbers.update(range(int(low), int(high or low) + 1))
    return numbers


def test_pieces_are_true_to_scale() -> None:
    """Hood outlet 62 in, 20 in of connector, 96 in of vent: the cap opening is at 178 in."""
    scene = draw("straight")
    view = scene.views[0]
    heights = [
        view.to_house(p)[1]
        for item in scene.items
        if isinstance(item, Polygon) and item.layer == "cap"
        for p in item.points
    ]
    assert min(heights) == pytest.approx((62 + 20 + 96) * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("style", "scale", "mm_per_m"),
    [("us", "1\u20442 in = 1 ft", 0.5 * 25.4 / FOOT), ("metric", "1:25", 40.0)],
)
def test_the_scale_that_is_named_is_the_scale_that_is_drawn(
    style: str, scale: str, mm_per_m: float
) -> None:
    scene = draw("straight", sheet="a4", style=style)
    assert scene.views[0].scale == scale
    assert scene.views[0].mm_per_m == pytest.approx(mm_per_m)
    assert scale in words(scene)


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    scene = draw("coarse")
    bar = [item for item in scene.items if isinstance(item, Polygon) and item.layer == "scale"]
    long = max(p[0] for b in bar for p in b.points) - min(p[0] for b in bar for p in b.points)
    labels = [i.text for i in scene.items if isinstance(i, Text) and i.layer == "scale"]
    said = next(float(label.removesuffix(" ft")) for label in labels if label.endswith(" ft"))
    assert long == pytest.approx(said * FOOT * scene.views[0].mm_per_m)


def test_a_length_nobody_measured_is_a_question_mark_on_a_dashed_chain() -> None:
    scene = draw("missing")
    assert "?" in words(scene)
    assert any("H = ?" in w for w in words(scene))
    dashed = [
        item
        for item in scene.items
        if isinstance(item, Line) and item.layer == "dimension" and item.dash is Dash.DASHED
    ]
    assert dashed
    assert all(item.ink is Ink.UNKNOWN for item in dashed)
    assert "Not to scale, for want of a length: c1, c4, v1." in plain_words(scene)


def test_screws_are_dots_counted() -> None:
    piece = Piece(
        id="c1", part="straight", role="connector", wall="single", diameter=size(6), length=m(30),
        runs="up", joint=Joint(screws=count(3), male_end="downstream"),
    )  # fmt: skip
    made = samples.survey((piece,), Roof(ends="attic"))
    scene = elevation(made, made.paths[0])
    dots = [i for i in scene.items if isinstance(i, Circle) and i.layer == "joint"]
    assert len(dots) == 3


@pytest.mark.parametrize(("gap_in", "least"), [(1 / 16, 1.0), (3.0, 3.1)])
def test_a_gap_is_drawn_to_scale_and_never_under_a_millimetre(gap_in: float, least: float) -> None:
    piece = Piece(
        id="c1", part="straight", role="connector", wall="single", diameter=size(4), length=m(40),
        runs="up", joint=Joint(gap=m(gap_in, 0), male_end="downstream"),
    )  # fmt: skip
    made = samples.survey((piece,), Roof(ends="attic"))
    scene = elevation(made, made.paths[0])
    blanks = [
        i
        for i in scene.items
        if isinstance(i, Polygon) and i.layer == "joint" and i.pen is None and i.fill is Ink.PAPER
    ]
    (blank,) = blanks
    tall = max(p[1] for p in blank.points) - min(p[1] for p in blank.points)
    true = gap_in * INCH * scene.views[0].mm_per_m
    assert tall == pytest.approx(max(1.0, true), abs=1e-6)
    assert tall >= min(least, max(1.0, true)) - 1e-9


def test_which_end_goes_into_which_is_drawn() -> None:
    """The bell stands on the side of the piece that takes the other in."""
    tops: dict[str, float] = {}
    for male in ("downstream", "upstream"):
        piece = Piece(
            id="c1", part="straight", role="connector", wall="single", diameter=size(4),
            length=m(40), runs="up", joint=Joint(male_end=male),
        )  # fmt: skip
        made = samples.survey((piece,), Roof(ends="attic"))
        scene = elevation(made, made.paths[0])
        bells = [i for i in scene.items if isinstance(i, Polygon) and i.layer == "joint"]
        at = scene.views[0].to_sheet((0.0, 62 * INCH))[1]
        tops[male] = max(p[1] for p in bells[0].points) - at
    assert tops["downstream"] > 1.0  # the piece above takes the one below in
    assert tops["upstream"] == pytest.approx(0.0)


def test_a_shut_off_finding_heads_the_sheet() -> None:
    assert "Shut the appliance off" in plain_words(draw("fine"))
    assert "Shut the appliance off" not in plain_words(draw("tall"))


def test_the_sheet_says_what_it_is_and_defers() -> None:
    text = plain_words(draw("fine"))
    for said in (
        "unfolded into one plane", "Invented example", "UMC 2012", "2026-11-20", "as found",
        "authority having jurisdiction", "licensed people",
    ):  # fmt: skip
        assert said in text, said
    for never in ("safe", "compliant", "certified", "guaranteed"):
        assert never not in text.lower()


def test_a_real_job_is_not_called_an_example() -> None:
    made, found = SAMPLES["coarse"]()
    real = replace(made, job=replace(made.job, invented=False))
    assert "Invented example" not in words(elevation(real, real.paths[0], found))


def test_the_same_survey_gives_the_same_sheet() -> None:
    assert draw("fine") == draw("fine")


def test_a_path_without_pieces_is_still_a_sheet() -> None:
    made = samples.survey((), Roof())
    scene = elevation(made, made.paths[0], judged(finding(1, "heater", Grade.NOTE, "Path")))
    assert layout_check(scene) == []


def test_lines_of_the_figure_lie_on_the_sheet() -> None:
    for name in SAMPLES:
        scene = draw(name)
        for item in scene.plain():
            if isinstance(item, Line) and item.layer != "hatch":
                for x, y in (item.a, item.b):
                    assert 0 <= x <= scene.width_mm, (name, item)
                    assert 0 <= y <= scene.height_mm, (name, item)


MARKS: tuple[MarkKind, ...] = ("stop", "hazard", "defect", "craft", "note", "cannot_tell")


def look(item: object) -> tuple[object, ...]:
    """What is left of an item in black and white, wherever it stands."""
    kind, points = type(item).__name__, len(getattr(item, "points", ()))
    is_solid = getattr(item, "fill", None) not in (None, Ink.PAPER)
    return kind, points, getattr(item, "pen", None), getattr(item, "dash", None), is_solid


def test_each_grade_has_a_shape_of_its_own_without_color() -> None:
    shapes = {tuple(look(part) for part in Mark((10.0, 10.0), kind).parts()) for kind in MARKS}
    assert len(shapes) == len(MARKS)


def test_each_kind_of_wall_is_drawn_in_its_own_way_without_color() -> None:
    walls = ("single", "type_b", "masonry", "corrugated", "plastic_listed", "unknown")
    assert len({tuple(map(look, wall_sample(wall, 10.0, 10.0))) for wall in walls}) == len(walls)


def test_findings_of_another_path_stay_off_the_sheet() -> None:
    made, _ = SAMPLES["straight"]()
    other = replace(
        made.paths[0], from_="boiler", pieces=(Piece(id="b1", part="straight", role="vent"),)
    )
    both = {**made.appliances, "boiler": made.appliances["heater"]}
    two = replace(made, paths=(*made.paths, other), appliances=both)
    found = judged(
        finding(1, "c1", Grade.DEFECT, "Here"),
        finding(2, "b1", Grade.DEFECT, "There"),
        finding(3, "boiler", Grade.DEFECT, "There too"),
    )
    assert marked_numbers(elevation(two, two.paths[0], found)) == {1}
    assert marked_numbers(elevation(two, two.paths[1], found)) == {2, 3}


def test_overlap_is_found() -> None:
    """The check itself: it fails where it should."""
    text = Text((50.0, 50.0), "a reading", 3.0)
    other = Text((52.0, 51.0), "another", 3.0)
    line = Line((40.0, 51.0), (80.0, 51.0))
    turned = Text((60.0, 40.0), "along a pipe", 3.0, rotation_deg=90.0)
    for items in ((text, other), (text, line), (turned, line), (Text((-5.0, 9.0), "off", 3.0),)):
        scene = Scene("", "", 100.0, 100.0, (), items)
        assert layout_check(scene), items
    own = replace(line, owner="x"), replace(text, owner="x")
    assert layout_check(Scene("", "", 100.0, 100.0, (), own)) == []
    clear = (text, replace(line, a=(40.0, 60.0), b=(80.0, 60.0)))
    assert layout_check(Scene("", "", 100.0, 100.0, (), clear)) == []


def test_unfolding_keeps_lengths() -> None:
    """The lateral drawn is the lateral worked out."""
    made, _ = SAMPLES["fine"]()
    traced = trace(made.paths[0], True)
    worked_out = lateral(traced)
    assert isinstance(worked_out, Measured)
    assert -lay_out(traced, None).end[0] == pytest.approx(worked_out.value, rel=1e-9)
