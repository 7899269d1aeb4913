"""The measuring figures: clean, small, each in use, each on the pages of its rules."""

from __future__ import annotations

import re
import shutil
import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path

import pytest
from tools import docs

from fluewright.drawing.layout import layout_check, segments
from fluewright.drawing.measure import FIGURES, MEASURED, measure_drawing
from fluewright.drawing.scene import Text
from fluewright.render.svg import to_svg
from fluewright.rules import RULES

PAGES = Path(__file__).parents[1] / "docs" / "rules"
# A number with a unit or a fraction would be a limit, and limits belong to the editions.
LIMIT = re.compile(r"\d+(\.\d+)?\s*(in|ft|mm|m|°|%|/)")


@pytest.mark.parametrize("name", FIGURES)
def test_lettering_is_clear_and_nothing_leaves_the_sheet(name: str) -> None:
    scene = FIGURES[name].scene()
    assert layout_check(scene) == []
    for item in scene.plain():
        for a, b, _ in segments(item):
            for x, y in (a, b):
                assert 0 <= x <= scene.width_mm, (name, a, b)
                assert 0 <= y <= scene.height_mm, (name, a, b)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_is_small_and_says_what_it_shows(name: str) -> None:
    scene = FIGURES[name].scene()
    svg = to_svg(scene, embed_fonts=False)
    assert len(svg.encode()) < 40_000
    assert svg == to_svg(FIGURES[name].scene(), embed_fonts=False)
    root = ET.fromstring(svg)
    assert root.get("role") == "img"
    assert scene.title
    assert len(scene.description) > 40


@pytest.mark.parametrize("name", FIGURES)
def test_no_limit_of_a_code_stands_in_a_figure(name: str) -> None:
    scene = FIGURES[name].scene()
    words = [item.text for item in scene.plain() if isinstance(item, Text)]
    assert [w for w in (*words, scene.title, scene.description) if LIMIT.search(w)] == []


def test_every_figure_serves_a_rule_and_is_named_once() -> None:
    assert {figure.name for figure in MEASURED.values()} == set(FIGURES)
    assert set(MEASURED) <= set(RULES)
    titles = sorted(figure.title for figure in FIGURES.values())
    assert all(a != b for a, b in pairwise(titles))


@pytest.mark.parametrize("rule", MEASURED)
def test_the_page_of_a_rule_shows_its_figure(rule: str) -> None:
    figure = MEASURED[rule]
    page = (PAGES / f"{rule}.md").read_text(encoding="utf-8")
    assert f"![{figure.alt}](figures/{figure.name}.svg)" in page
    shown = (PAGES / "figures" / f"{figure.name}.svg").read_text(encoding="utf-8")
    assert shown == to_svg(figure.scene(), embed_fonts=False)


def test_a_figure_out_of_date_missing_or_left_over_is_named(tmp_path: Path) -> None:
    copy = tmp_path / "docs"
    shutil.copytree(PAGES.parent, copy)
    figures = copy / "rules" / "figures"
    (figures / "slope.svg").write_text("<svg/>", encoding="utf-8")
    (figures / "sag.svg").unlink()
    (figures / "gone.svg").write_text("<svg/>", encoding="utf-8")
    assert docs.faults(copy) == [
        "docs/rules/figures/slope.svg is out of date: run make docs",
        "docs/rules/figures/sag.svg is missing: run make docs",
        "docs/rules/figures/gone.svg belongs to no rule: run make docs",
    ]
    docs.write(copy)
    assert docs.faults(copy) == []


def test_a_rule_without_a_figure_has_none() -> None:
    assert measure_drawing("no_such_rule") is None
    scene = measure_drawing("connector_upward_slope")
    assert scene is not None
    assert scene.title == "Slope of a connector piece"
