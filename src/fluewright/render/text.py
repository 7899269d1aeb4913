"""Text that somebody else wrote, made fit to print: nothing invisible, nothing that reorders."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Container

_KEPT = "\n\u200c\u200d"  # line end; the joiners that some scripts need


def named(character: str) -> str:
    """What stands for a character that cannot be printed: its code point, in brackets."""
    return f"[U+{ord(character):04X}]"


def _hidden(character: str) -> bool:
    """Controls, reordering marks, lone surrogates and unassigned points."""
    return character not in _KEPT and unicodedata.category(character) in ("Cc", "Cf", "Cs", "Cn")


def visible(text: str) -> str:
    """The text with each control or reordering character replaced by its code point."""
    plain = text.replace("\r\n", "\n").replace("\t", " ")
    if plain.isprintable():
        return plain
    return "".join(named(one) if _hidden(one) else one for one in plain)


def printable(text: str, glyphs: Container[int]) -> str:
    """The text with each character outside ``glyphs`` replaced by its code point."""
    composed = unicodedata.normalize("NFC", visible(text))
    keep: Callable[[str], bool] = lambda one: one == "\n" or ord(one) in glyphs  # noqa: E731
    return "".join(one if keep(one) else named(one) for one in composed)
