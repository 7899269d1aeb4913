"""What the reading of one survey carries along: its tools, and the faults found so far."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum

from fluewright.errors import Fault
from fluewright.files.nodes import Node, Place
from fluewright.frozen import frozen
from fluewright.tool import Tool


class Faulty(Enum):
    """Stands for a value that could not be read; its fault is noted."""

    FAULTY = "faulty"


FAULTY = Faulty.FAULTY
UNSTATED = "unstated_"  # begins the id of the tool of a reading whose tool nobody stated
MOST_FAULTS = 500


class TooManyFaults(Exception):
    """Reading stopped: whoever mends the first faults will know what to do about the rest."""


@frozen
class Toolbox:
    """Every known tool, and which of them the survey says it was made with."""

    known: Mapping[str, Tool]
    chosen: Mapping[str, str] = field(default_factory=dict)
    photos: frozenset[str] = frozenset()

    def usual(self, by: str) -> Tool:
        """The tool of a reading that names none.

        Heights are read with the tape unless the survey names another tool for them. A reading
        whose tool nobody stated has the wide bound of `UNSTATED`, never a narrow one.
        """
        name = self.chosen.get(by)
        if name is None and by == "height":
            name = self.chosen.get("length")
        if name is None and self.may_be_stated(by):
            name = UNSTATED + by
        return self.known[name or by]

    def may_be_stated(self, by: str) -> bool:
        """Whether a survey may name its tool for this; a stamp or a plate is always itself."""
        return by not in self.known and UNSTATED + by in self.known


@dataclass(slots=True)
class Visit:
    """One reading of one file."""

    tools: Toolbox
    faults: list[tuple[Place, Fault]] = field(default_factory=list)

    def fault(self, node: Node, path: str, message: str) -> Faulty:
        """Note what is wrong at a node.

        Raises:
            TooManyFaults: there are `MOST_FAULTS` already.
        """
        if len(self.faults) >= MOST_FAULTS:
            raise TooManyFaults
        self.faults.append((node.at, Fault(path, message, node.line)))
        return FAULTY


def quoted(text: str) -> str:
    """A text of the file as a message shows it: in quotes, short, printable."""
    kept = text if len(text) <= 60 else text[:57] + "..."
    return '"' + "".join(letter if letter.isprintable() else "?" for letter in kept) + '"'


def nearest(text: str, words: Iterable[str]) -> str:
    """`` Did you mean "length"?``, or nothing when no word is near."""
    from difflib import get_close_matches

    plain = {word.lower().replace("_", " "): word for word in words}
    near = get_close_matches(text.lower().replace("_", " ")[:60], plain, 1, 0.7)
    return f' Did you mean "{plain[near[0]]}"?' if near else ""


def listed(words: Iterable[str]) -> str:
    """``a, b or c``."""
    *others, last = words
    return f"{', '.join(others)} or {last}" if others else last


def described(node: Node) -> str:
    """What stands at a node, for a message."""
    if isinstance(node.value, dict):
        return "a mapping (keys with values)"
    if isinstance(node.value, list):
        return "a list"
    if node.value is None:
        return "nothing"
    if isinstance(node.value, str):
        return quoted(node.value)
    return node.text
