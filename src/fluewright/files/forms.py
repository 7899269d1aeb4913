"""The kinds of value in a survey file: each can read a node, write plain data, say its schema.

``build.py`` puts them together from the data classes of ``survey.py``. They are plain classes and
not models of a validation library: those would double every data class, cost more time at each
start than everything else in reading a survey, and leave every message to be worded anew.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Protocol

from fluewright.files.nodes import Node
from fluewright.files.visit import FAULTY, Toolbox, Visit, described, listed, nearest, quoted
from fluewright.frozen import frozen

PLAIN_WORD = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,39}")
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")
_YES = ("yes", "Yes", "YES")
_NO = ("no", "No", "NO")

Schema = dict[str, object]
Defs = dict[str, Schema]


class Form(Protocol):
    """How one kind of value is read, written and described."""

    @property
    def expected(self) -> str:
        """What may be written, for messages: ``text``, ``yes or no``."""

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The value at a node; `FAULTY` after noting why there is none."""

    def write(self, value: Any, tools: Toolbox) -> object:
        """Plain data that reads back as the value."""

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema; what it refers to is added to ``defs``."""


@frozen
class Text:
    """Free text."""

    expected = "text"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The text at a node."""
        if not isinstance(node.value, str):
            hint = f' Put it in quotes: "{node.text}".' if node.text else ""
            return visit.fault(
                node, path, f"{described(node)} stands here, where text is expected.{hint}"
            )
        if not node.value.strip():
            return visit.fault(node, path, "the text is empty. Write something, or leave it out.")
        found = _CONTROL.search(node.value)
        if found:
            message = f"the text holds the control character U+{ord(found[0]):04X}. Take it out."
            return visit.fault(node, path, message)
        return node.value

    def write(self, value: str, tools: Toolbox) -> object:
        """The text itself."""
        return value

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of text."""
        return {"type": "string", "pattern": r"\S"}


@frozen
class YesNo:
    """Yes or no."""

    expected = "yes or no"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """True for yes, False for no."""
        if isinstance(node.value, bool):
            return node.value
        if node.value in _YES or node.value in _NO:
            return node.value in _YES
        return visit.fault(node, path, f"{described(node)} is neither yes nor no. Write yes or no.")

    def write(self, value: bool, tools: Toolbox) -> object:
        """The truth value itself."""
        return value

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of yes or no."""
        defs.setdefault("yes_or_no", {"enum": [True, False, *_YES, *_NO]})
        return {"$ref": "#/$defs/yes_or_no"}


@frozen
class Choice:
    """One word of a closed list."""

    words: tuple[str, ...]

    @property
    def expected(self) -> str:
        """The words."""
        return listed(self.words)

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The word at a node."""
        if isinstance(node.value, str) and node.value in self.words:
            return node.value
        near = nearest(node.value, self.words) if isinstance(node.value, str) else ""
        message = f"{described(node)} is not one of the words for this.{near}"
        return visit.fault(node, path, f"{message} Write {self.expected}.")

    def write(self, value: str, tools: Toolbox) -> object:
        """The word itself."""
        return value

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of the words."""
        return {"enum": list(self.words)}


@frozen
class ListOf:
    """Any number of values of one form."""

    item: Form

    @property
    def expected(self) -> str:
        """A list of what."""
        return f"a list, each entry {self.item.expected}"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The values at a node, in order."""
        if not isinstance(node.value, list):
            message = f"{described(node)} stands here, where a list is expected."
            return visit.fault(node, path, f'{message} Begin each entry with "- ", or write [].')
        found = tuple(
            read_some(self.item, child, f"{path}[{i}]", visit) for i, child in enumerate(node.value)
        )
        return FAULTY if FAULTY in found else found

    def write(self, value: tuple[Any, ...], tools: Toolbox) -> object:
        """The values as a list."""
        return [self.item.write(item, tools) for item in value]

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of the list."""
        return {"type": "array", "items": self.item.schema(defs)}


@frozen
class Named:
    """Values of one form, each under an id."""

    item: Form

    expected = "a mapping of ids to values"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The values at a node by their ids."""
        if not isinstance(node.value, dict):
            message = f"{described(node)} stands here, where each value stands under an id."
            return visit.fault(node, path, f"{message} Write an id, a colon, and its values below.")
        found: dict[str, object] = {}
        for name, child in node.value.items():
            inner = f"{path}.{name}"
            value = read_some(self.item, child, inner, visit)
            found[name] = value if good_id(name, child, inner, visit) else FAULTY
        return FAULTY if FAULTY in found.values() else found

    def write(self, value: Mapping[str, Any], tools: Toolbox) -> object:
        """The values by their ids."""
        return {name: self.item.write(item, tools) for name, item in value.items()}

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of the mapping."""
        return {
            "type": "object",
            "propertyNames": {"pattern": f"^{PLAIN_WORD.pattern}$"},
            "additionalProperties": self.item.schema(defs),
        }


def read_some(form: Form, node: Node, path: str, visit: Visit) -> object:
    """The value of an entry, where only a value will do."""
    if node.value is None:
        return visit.fault(node, path, f"nothing stands here. Write {form.expected}.")
    return form.read(node, path, visit)


def good_id(name: str, node: Node, path: str, visit: Visit) -> bool:
    """Whether an id is a plain word; if not, that is noted."""
    if PLAIN_WORD.fullmatch(name):
        return True
    message = f"{quoted(name)} is no id. Write a letter, then up to 39 letters, digits, - or _."
    visit.fault(node, path, message)
    return False
