"""Widths of lettering against the fonts that ship, read by a second way."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from importlib.resources import files

import pytest

from fluewright.drawing.metrics import SLASH, fraction, shorten, text_width, wrap
from fluewright.drawing.metrics_table import WIDTHS
from fluewright.drawing.words import bound_text
from fluewright.quantity import Dimension, Measured

FACES = ("regular", "bold", "italic")


def tables(font: bytes) -> dict[str, int]:
    """Offset of each table (OpenType specification, table directory)."""
    (count,) = struct.unpack_from(">H", font, 4)
    rows = (struct.unpack_from(">4sIII", font, 12 + 16 * i) for i in range(count))
    return {name.decode(): offset for name, _, offset, _ in rows}


def glyph_ids(font: bytes, cmap: int) -> dict[int, int]:
    """Code point to glyph of the subtable of format 4."""
    (count,) = struct.unpack_from(">H", font, cmap + 2)
    starts = (struct.unpack_from(">HHI", font, cmap + 4 + 8 * i)[2] + cmap for i in range(count))
    at = next(start for start in starts if struct.unpack_from(">H", font, start) == (4,))
    return dict(_segments(font, at))


def _segments(font: bytes, at: int) -> Iterator[tuple[int, int]]:
    (double,) = struct.unpack_from(">H", font, at + 6)
    for i in range(double // 2):
        place = at + 14 + 2 * i
        (end,) = struct.unpack_from(">H", font, place)
        (start,) = struct.unpack_from(">H", font, place + double + 2)
        (delta,) = struct.unpack_from(">h", font, place + 2 * double + 2)
        where = place + 3 * double + 2
        (shift,) = struct.unpack_from(">H", font, where)
        for code in range(start, min(end, 0xFFFE) + 1):
            if shift == 0:
                yield code, (code + delta) & 0xFFFF
                continue
            (glyph,) = struct.unpack_from(">H", font, where + shift + 2 * (code - start))
            yield code, (glyph + delta) & 0xFFFF if glyph else 0


def advances(face: str) -> dict[str, float]:
    """Advance of each character, in thousandths of the size."""
    file = files("fluewright") / "data" / "fonts" / f"FluewrightSans-{face.capitalize()}.ttf"
    font = file.read_bytes()
    found = tables(font)
    (units,) = struct.unpack_from(">H", font, found["head"] + 18)
    (metrics,) = struct.unpack_from(">H", font, found["hhea"] + 34)
    out: dict[str, float] = {}
    for code, glyph in glyph_ids(font, found["cmap"]).items():
        row = min(glyph, metrics - 1)
        (width,) = struct.unpack_from(">H", font, found["hmtx"] + 4 * row)
        out[chr(code)] = width * 1000 / units
    return out


@pytest.mark.parametrize("face", FACES)
def test_the_table_is_that_of_the_shipped_font(face: str) -> None:
    true = advances(face)
    table = {char: width for width, chars in WIDTHS[face].items() for char in chars}
    assert len(table) > 350
    wrong = {
        char: (width, true.get(char))
        for char, width in table.items()
        if char not in true or abs(true[char] - width) > 0.51
    }
    assert wrong == {}


def test_width_of_a_line_is_the_sum_of_its_advances() -> None:
    true = advances("regular")
    expected = sum(true[char] for char in "Type B, 4 in") / 1000 * 2.5
    assert text_width("Type B, 4 in", 2.5) == pytest.approx(expected, abs=0.01)


def test_digits_are_tabular() -> None:
    for face in ("regular", "bold"):
        assert len({text_width(digit, 10.0, face) for digit in "0123456789"}) == 1


def test_a_fraction_is_narrower_than_its_digits_side_by_side() -> None:
    assert text_width(f"15{SLASH}16", 3.0) < text_width("1516", 3.0)


@pytest.mark.parametrize(
    ("plain", "set_"),
    [
        ("2 5/16 in", f"2 5{SLASH}16 in"),
        ("3 ft 1/2 in", f"3 ft 1{SLASH}2 in"),
        ("1/8 in per ft", f"1{SLASH}8 in per ft"),
        ("7/12", "7/12"),
        ("2026/11/20", "2026/11/20"),
    ],
)
def test_tape_fractions_are_set_as_fractions_and_pitches_are_not(plain: str, set_: str) -> None:
    assert fraction(plain) == set_


def test_shortened_text_fits_and_ends_in_three_dots() -> None:
    long = "A house with a very long name in a street with a longer one"
    short = shorten(long, 30.0, 2.4)
    assert text_width(short, 2.4) <= 30.0
    assert short.endswith("…")
    assert shorten("short", 30.0, 2.4) == "short"


def test_wrapped_lines_fit_and_lose_no_word() -> None:
    long = "Every run shows its true length and turns in plan are straightened for the sheet"
    lines = wrap(long, 25.0, 2.0)
    assert all(text_width(line, 2.0) <= 25.0 for line in lines)
    assert " ".join(lines) == long
    assert wrap(long, 25.0, 2.0, most=2)[-1].endswith("…")


@pytest.mark.parametrize(
    ("inches", "said"),
    [(1 / 16, "± 1/16 in"), (0.0828, "± 1/8 in"), (0.5, "± 1/2 in"), (3.75, "± 3 3/4 in")],
)
def test_a_bound_is_said_as_a_tape_is_read_and_never_smaller(inches: float, said: str) -> None:
    value = Measured(1.0, Dimension.LENGTH, inches * 0.0254)
    assert bound_text(value, "us").replace(SLASH, "/") == said


def test_a_value_without_a_bound_claims_none() -> None:
    assert bound_text(Measured(1.0, Dimension.LENGTH), "us") == ""
