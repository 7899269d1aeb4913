"""The fonts that ship with the package, and which characters they hold."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

FAMILY = "Fluewright Sans"
_FACES = ("Regular", "Bold", "Italic")


def font_file(face: str, ending: str) -> Traversable:
    """One font file: ``Regular``, ``Bold`` or ``Italic`` as ``ttf`` or ``woff2``."""
    return files("fluewright") / "data" / "fonts" / f"FluewrightSans-{face}.{ending}"


@cache
def common_glyphs() -> frozenset[int]:
    """The code points that every face holds."""
    held = [frozenset(code_points(font_file(face, "ttf").read_bytes())) for face in _FACES]
    return held[0].intersection(*held[1:])


def code_points(font: bytes) -> Iterator[int]:
    """The code points of a TrueType or OpenType font.

    Source: OpenType specification, table cmap, subtable format 4.

    Raises:
        ValueError: the font has no such subtable.
    """
    start = _table(font, b"cmap")
    (count,) = struct.unpack_from(">H", font, start + 2)
    for place in range(count):
        (offset,) = struct.unpack_from(">I", font, start + 8 + 8 * place)
        at = start + offset
        if struct.unpack_from(">H", font, at) == (4,):
            yield from _segments(font, at)
            return
    raise ValueError("a font of the package has no character map of format 4")


def _table(font: bytes, name: bytes) -> int:
    (count,) = struct.unpack_from(">H", font, 4)
    for place in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", font, 12 + 16 * place)
        if tag == name:
            return int(offset)
    raise ValueError(f"a font of the package has no table {name.decode()}")


def _segments(font: bytes, at: int) -> Iterator[int]:
    (doubled,) = struct.unpack_from(">H", font, at + 6)
    number = doubled // 2
    ends = struct.unpack_from(f">{number}H", font, at + 14)
    starts = struct.unpack_from(f">{number}H", font, at + 16 + doubled)
    for first, last in zip(starts, ends, strict=True):
        if first != 0xFFFF:
            yield from range(first, last + 1)
