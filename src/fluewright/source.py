"""Where a number or a requirement comes from, and how a result was worked out."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from fluewright.frozen import frozen


class Basis(StrEnum):
    """How well a citation or value is known."""

    READ = "read"  # the text was seen
    MEMORY = "memory"  # recalled, to be verified in the adopted text
    PRACTICE = "practice"  # common practice, no code text
    LISTING = "listing"  # the listing or its mark
    INSTRUCTIONS = "instructions"  # maker's instructions
    MODEL = "model"  # computed by this program's own physics


@frozen
class Citation:
    """A place in a document: what it is, which edition, where, and how it is known."""

    document: str
    edition: str
    at: str
    basis: Basis
    base: str = ""  # the text it was extracted from, such as "NFPA 54-2012 12.11.8"

    def text(self) -> str:
        """Short form for people, with the caution that a remembered place needs."""
        place = " ".join(part for part in (self.document, self.edition, self.at) if part)
        if self.base:
            place += f" [{self.base}]"
        return place + (" (from memory: verify)" if self.basis is Basis.MEMORY else "")


class Step(NamedTuple):
    """One line of a working: what was done, and the number it gave in a printed unit."""

    what: str
    value: float | None = None
    unit: str = ""
