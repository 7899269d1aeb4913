"""Sizes of lettering on paper, so that lines and words can be kept apart."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal

from fluewright.drawing.metrics_table import WIDTHS

Face = Literal["regular", "bold", "italic"]

ASCENT_EM = 0.75  # what ink really takes above the base line: capitals, digits, brackets
DESCENT_EM = 0.21
SLASH = "\u2044"  # between digits it makes a real fraction; the shaper picks the small digits
_SMALL_DIGIT = 334  # advance of a numerator or denominator digit in every style
_ELSE = 800  # a character the face lacks: taken wide
_FRACTION = re.compile(rf"\d+{SLASH}\d+")
_SINGLE = {
    face: {char: width for width, chars in table.items() for char in chars}
    for face, table in WIDTHS.items()
}


_TIE = "\u00a0"
_GAP = re.compile(r"[ \t\n]+")
_UNIT = re.compile(
    r"(?<=\d) (?=(?:°[FC]|Pa|in|ft|mm|cm|m|s|min|h|%|lb/h|g/s|ppm|Btu)(?:[²³]|(?![\w])))"
)


@lru_cache(maxsize=4096)
def text_width(text: str, size_mm: float, face: Face = "regular") -> float:
    """Width of a line of text as the shipped face sets it. [mm]

    Args:
        text: one line.
        size_mm: type size. [mm]
        face: style of the face.
    """
    widths = _SINGLE[face]
    digits = sum(len(found.group()) - 1 for found in _FRACTION.finditer(text))
    plain = _FRACTION.sub(SLASH, text)
    units = digits * _SMALL_DIGIT + sum(widths.get(char, _ELSE) for char in plain)
    return units / 1000 * size_mm


def fraction(text: str) -> str:
    """The text with its tape fractions as real ones: ``2 5/16 in``. A pitch stays as it is."""
    return re.sub(r"(?<![\d/])(\d{1,2})/(2|4|8|16|32)(?= |$|\))", rf"\1{SLASH}\2", text).replace(
        " " + SLASH, SLASH
    )


def shorten(text: str, width_mm: float, size_mm: float, face: Face = "regular") -> str:
    """The text, cut at a word and closed with three dots where it is too wide."""
    if text_width(text, size_mm, face) <= width_mm:
        return text
    cut = text
    while cut and text_width(cut.rstrip(" ,;:.") + "…", size_mm, face) > width_mm:
        cut = cut[:-1]
    words = cut.rsplit(" ", 1)[0] if " " in cut[len(cut) // 2 :] else cut
    return words.rstrip(" ,;:.") + "…"


def wrap(
    text: str, width_mm: float, size_mm: float, face: Face = "regular", most: int = 99
) -> list[str]:
    """The text in lines no wider than asked; the last is shortened where there are too many."""
    lines: list[str] = []
    words = [word for word in _GAP.split(_tied(text)) if word]
    while words:
        if len(lines) == most - 1:
            lines.append(shorten(" ".join(words), width_mm, size_mm, face))
            break
        count = 1
        while count < len(words) and (
            text_width(" ".join(words[: count + 1]), size_mm, face) <= width_mm
        ):
            count += 1
        lines.append(shorten(" ".join(words[:count]), width_mm, size_mm, face))
        words = words[count:]
    return [line.replace(_TIE, " ") for line in lines]


def _tied(text: str) -> str:
    """The text with numbers held to their units, so that no line ends between them."""
    return _UNIT.sub(_TIE, text).replace("in w.c.", f"in{_TIE}w.c.")
