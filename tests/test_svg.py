"""The SVG of a sheet: well formed, the right size, real text, the same every time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from drawing_samples import SAMPLES
from fluewright.drawing import elevation
from fluewright.drawing.scene import Ink, Scene, Text
from fluewright.render.svg import COLORS, to_svg

SVG = "{http://www.w3.org/2000/svg}"


def scene(name: str = "fine") -> Scene:
    made, found = SAMPLES[name]()
    return elevation(made, made.paths[0], found, sheet="letter")


def test_it_is_well_formed_and_as_large_as_the_sheet() -> None:
    root = ET.fromstring(to_svg(scene()))
    assert root.tag == SVG + "svg"
    assert (root.get("width"), root.get("height")) == ("215.9mm", "279.4mm")
    assert root.get("viewBox") == "0 0 215.9 279.4"


def test_it_has_a_title_and_a_description_for_those_who_do_not_see_it() -> None:
    root = ET.fromstring(to_svg(scene()))
    title, desc = root.find(SVG + "title"), root.find(SVG + "desc")
    assert title is not None
    assert desc is not None
    assert "Juniper Lane 7" in (title.text or "")
    assert "2 at cap: Cap too low near a wall" in (desc.text or "")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"


def test_all_lettering_is_text() -> None:
    drawn = scene()
    root = ET.fromstring(to_svg(drawn))
    said = [node.text for node in root.iter(SVG + "text")]
    assert said == [item.text for item in drawn.plain() if isinstance(item, Text)]


def test_the_same_scene_gives_the_same_bytes() -> None:
    assert to_svg(scene()) == to_svg(scene())


def test_it_carries_its_face_and_stays_small() -> None:
    text = to_svg(scene())
    assert len(text.encode()) < 400_000
    assert 'font-family:"Fluewright Sans"' in text
    assert "data:font/woff2;base64,d09GMg" in text
    assert re.search(r"(href|src|url)\s*[=(]\s*[\"']?https?:", text) is None


def test_without_fonts_it_is_smaller_and_falls_back() -> None:
    bare = to_svg(scene(), embed_fonts=False)
    assert "@font-face" not in bare
    assert "sans-serif" in bare
    assert len(bare) < 150_000


def test_words_are_escaped() -> None:
    drawn = Scene("a <b> & c", "d", 100.0, 100.0, (), (Text((1.0, 1.0), 'x < y & "z"'),))
    root = ET.fromstring(to_svg(drawn, embed_fonts=False))
    assert [node.text for node in root.iter(SVG + "text")] == ['x < y & "z"']


def luminance(color: str) -> float:
    """Relative luminance (WCAG 2.2, definition of relative luminance)."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("ink", [Ink.INK, Ink.GREY, Ink.ALARM, Ink.MEASURED, Ink.UNKNOWN])
def test_every_ink_stands_out_from_the_paper(ink: Ink) -> None:
    """WCAG 2.2, 1.4.3: at least 4.5 to 1; 1.4.6: 7 to 1 for what carries numbers."""
    paper, color = luminance(COLORS[Ink.PAPER]), luminance(COLORS[ink])
    contrast = (paper + 0.05) / (color + 0.05)
    assert contrast >= (7.0 if ink in (Ink.INK, Ink.MEASURED) else 4.5)
