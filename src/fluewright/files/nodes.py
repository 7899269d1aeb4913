"""The tree that a file of text becomes: values that know where they stand.

Scalars follow the core schema of YAML 1.2.2 (section 10.3.2), without ``.inf`` and ``.nan``: a
date, ``yes`` or ``3:30`` stays text. A key written twice is noted and the reading goes on.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from fluewright.errors import Fault

Place = tuple[int, int]  # line and column, from 1

MOST_NODES = 200_000  # counted with every alias written out
DEEPEST = 40
TOO_DEEP = f"lists or mappings lie more than {DEEPEST} deep. A survey needs about 8."

_INTEGER = re.compile(r"[-+]?[0-9]{1,18}|0o[0-7]{1,18}|0x[0-9a-fA-F]{1,15}")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NULLS = frozenset({"", "~", "null", "Null", "NULL"})
_TRUES = frozenset({"true", "True", "TRUE"})
_FALSES = frozenset({"false", "False", "FALSE"})


class BadForm(Exception):
    """The text is no YAML or JSON that a survey may use; carries the one fault."""

    def __init__(self, message: str, line: int | None = None, path: str = "") -> None:
        self.fault = Fault(path, message, line)
        super().__init__(message)


@dataclass(slots=True)
class Node:
    """A value of the file, where it (or its key) stands, and the text of a scalar as written."""

    value: bool | int | float | str | list[Node] | dict[str, Node] | None
    at: Place
    text: str = ""
    size: int = 1

    @property
    def line(self) -> int:
        """Line of the file, from 1."""
        return self.at[0]


@dataclass(slots=True)
class _Open:
    """A list or mapping that is being filled, and the key whose value comes next."""

    node: Node
    path: str
    anchor: str | None = None
    key: str | None = None
    key_at: Place = (0, 0)
    firsts: dict[str, int] = field(default_factory=dict)


def scalar(text: str) -> bool | int | float | str | None:
    """What a plain scalar means: nothing, true or false, a number, or text."""
    first = text[:1]
    if first.isdigit() or first in ("-", "+", "."):
        if _INTEGER.fullmatch(text):
            return int(text, 0) if text[:2] in ("0o", "0x") else int(text)
        if _FLOAT.fullmatch(text):
            return float(text)
    elif text in _NULLS:
        return None
    elif text in _TRUES:
        return True
    elif text in _FALSES:
        return False
    return text


class Tree:
    """Puts scalars, lists and mappings together in the order in which they are met."""

    def __init__(self) -> None:
        self.root: Node | None = None
        self.faults: list[tuple[Place, Fault]] = []
        self.stack: list[_Open] = []
        self.anchors: dict[str, Node | None] = {}

    def path(self) -> str:
        """Where the next value stands."""
        if not self.stack:
            return ""
        top = self.stack[-1]
        if isinstance(top.node.value, list):
            return f"{top.path}[{len(top.node.value)}]"
        return f"{top.path}.{top.key}" if top.path else (top.key or "")

    def around(self) -> str:
        """Where the list or mapping that is open stands."""
        return self.stack[-1].path if self.stack else ""

    def wants_key(self) -> bool:
        """Whether a key of a mapping comes next."""
        return (
            bool(self.stack)
            and isinstance(self.stack[-1].node.value, dict)
            and self.stack[-1].key is None
        )

    def take_key(self, text: str, at: Place) -> None:
        """The key of the value that comes next."""
        top = self.stack[-1]
        top.key, top.key_at = text, at
        if text in top.firsts:
            message = (
                f'"{text}" is written twice; the first is on line {top.firsts[text]}. Keep one.'
            )
            self.faults.append((at, Fault(self.path(), message, at[0])))
        top.firsts.setdefault(text, at[0])

    def take(self, node: Node, anchor: str | None = None) -> None:
        """A finished value: goes into the list or mapping that is open."""
        if anchor is not None:
            self.anchors[anchor] = node
        if not self.stack:
            self.root = node
            return
        top = self.stack[-1]
        held = top.node.value
        top.node.size += node.size
        if top.node.size > MOST_NODES:
            raise BadForm(
                f"more than {MOST_NODES:,} values, counting each repeat. Write less.", node.line
            )
        if isinstance(held, list):
            held.append(node)
        elif isinstance(held, dict) and top.key is not None:
            node.at = top.key_at
            held.setdefault(top.key, node)
            top.key = None

    def open(
        self, value: list[Node] | dict[str, Node], at: Place, anchor: str | None = None
    ) -> None:
        """A list or mapping begins."""
        if len(self.stack) >= DEEPEST:
            raise BadForm(TOO_DEEP, at[0])
        if anchor is not None:
            self.anchors[anchor] = None  # not finished: it cannot be used inside itself
        self.stack.append(_Open(Node(value, at), self.path(), anchor))

    def close(self) -> None:
        """The list or mapping that was opened last ends."""
        done = self.stack.pop()
        self.take(done.node, done.anchor)

    def alias(self, name: str, at: Place) -> None:
        """The value that bears this anchor stands here once more."""
        if name not in self.anchors:
            raise BadForm(f"*{name} repeats a value that no &{name} names above it.", at[0])
        known = self.anchors[name]
        if known is None:
            raise BadForm(f"*{name} stands inside the value that it repeats.", at[0])
        self.take(Node(known.value, at, known.text, known.size))
