"""The plain part of YAML -> tree, fast: block mappings and lists, texts and brackets of one line.

Most surveys are written in nothing else. Whatever goes beyond it is declined, not refused: the
whole text then goes to the full reader, which alone says what is wrong with a text. What is
accepted here has the very tree that the full reader makes of it; the tests compare the two on
texts that were changed at random.
"""

from __future__ import annotations

import re

from fluewright.files.nodes import BadForm, Node, Tree, scalar

_KEY = r"[A-Za-z_][A-Za-z0-9_-]{0,99}"
_END = r" *(?:(?<= )#.*)?$"  # a comment needs a space before it
_QUOTED = r""""(?P<double>[^"\\\t]*)"|'(?P<single>[^'\t]*)'"""

_BLANK = re.compile(r" *(?:#.*)?$")
_LINE = re.compile(rf"(?P<indent> *)(?P<item>- +)?(?:(?P<key>{_KEY}):(?= |$) *)?")
_NOTHING = re.compile(_END)
# A text without quotes begins with none of YAML's signs, and holds neither ": " nor " #".
_TEXT = re.compile(
    rf"(?:{_QUOTED}|(?P<plain>(?:[\w(/.+~<]|-(?=[\w.]))"
    rf"(?:[^\s:#]|:(?=\S)|(?<=\S)#| +(?=[^\s#]))*)){_END}"
)
_IN_BRACKETS = re.compile(
    rf"{_QUOTED}"
    r"|(?P<plain>(?:[\w(/.+~<]|-(?=[\w.]))(?:[^\s:#?,[\]{}]| +(?=[^\s:#?,[\]{}]))*)"
)
_KEY_IN_BRACKETS = re.compile(rf"({_KEY}): +")
_SPACES = re.compile(" *")
_ITEM, _KEYED = list, dict


class _Declined(Exception):
    """The text holds something beyond the plain part of YAML."""


def plain_tree(text: str) -> Tree | None:
    """The tree of a text in the plain part of YAML; None where it needs the full reader.

    Args:
        text: with line ends of one kind, and no character that YAML does not know.
    """
    try:
        return _Lines().read(text)
    except (_Declined, BadForm):
        return None


class _Lines:
    """The lines read so far: their tree, and the blocks that are open with their indents."""

    def __init__(self) -> None:
        self.tree = Tree()
        self.open: list[tuple[int, type]] = []
        self.waiting = False  # a key ended its line: its value is a block below, or nothing

    def read(self, text: str) -> Tree:
        """The tree of all lines."""
        for number, line in enumerate(text.split("\n"), 1):
            if not _BLANK.match(line):
                self._line(line, number)
        if not self.open:
            raise _Declined
        self._close(-1)
        return self.tree

    def _line(self, line: str, number: int) -> None:
        found = _LINE.match(line)
        assert found is not None  # it matches no letter too
        indent, begin = found.end("indent"), found.end("indent")
        self._close(indent)
        kind = _ITEM if found["item"] else _KEYED
        self._block(indent, kind, number)
        if found["item"]:
            begin = found.end("item")
            if found["key"]:
                self._begin(begin, _KEYED, number)
        if found["key"]:
            self.tree.take_key(found["key"], (number, begin + 1))
            self.waiting = bool(_NOTHING.match(line, found.end("key") + 1))
        elif kind is _KEYED:
            raise _Declined
        if not self.waiting:
            self._value(line, found.end(), number)

    def _begin(self, indent: int, kind: type, number: int) -> None:
        self.open.append((indent, kind))
        self.tree.open(kind(), (number, indent + 1))

    def _block(self, indent: int, kind: type, number: int) -> None:
        """See to it that the line stands in an open block of its kind and indent."""
        if not self.open:
            if indent or kind is _ITEM:
                raise _Declined
            self._begin(indent, kind, number)
        elif self.waiting and (
            indent > self.open[-1][0] or (kind is _ITEM and self.open[-1] == (indent, _KEYED))
        ):
            self.waiting = False
            self._begin(indent, kind, number)
        else:
            self._nothing()
            if kind is _KEYED and self.open[-1] == (indent, _ITEM) and len(self.open) > 1:
                self._end()  # a list may stand as far left as its key
            if self.open[-1] != (indent, kind):
                raise _Declined

    def _close(self, indent: int) -> None:
        """End the blocks that lie deeper."""
        while self.open and self.open[-1][0] > indent:
            self._nothing()
            self._end()

    def _end(self) -> None:
        self.open.pop()
        self.tree.close()

    def _nothing(self) -> None:
        """A key had no value."""
        if self.waiting:
            self.tree.take(Node(None, (0, 0)))  # the tree puts it where the key stands
            self.waiting = False

    def _value(self, line: str, begin: int, number: int) -> None:
        """A text or brackets, which end with the line."""
        if line[begin : begin + 1] in ("[", "{"):
            if not _NOTHING.match(line, self._brackets(line, begin, number)):
                raise _Declined
        else:
            self._text(_TEXT.match(line, begin), number)

    def _text(self, found: re.Match[str] | None, number: int) -> int:
        if not found:
            raise _Declined
        at, plain = (number, found.start() + 1), found["plain"]
        text = plain or found["double"] or found["single"] or ""
        self.tree.take(Node(scalar(text) if plain else text, at, text))
        return found.end()

    def _brackets(self, line: str, begin: int, number: int) -> int:
        """A list, mapping or text inside a line; gives the column after it."""
        kind = {"[": _ITEM, "{": _KEYED}.get(line[begin : begin + 1])
        if kind is None:
            return self._text(_IN_BRACKETS.match(line, begin), number)
        self.tree.open(kind(), (number, begin + 1))
        ends, sign = "]" if kind is _ITEM else "}", ","
        begin = _after_spaces(line, begin + 1)
        if line[begin : begin + 1] == ends:
            sign, begin = ends, begin + 1
        while sign == ",":
            if kind is _KEYED:
                key = _KEY_IN_BRACKETS.match(line, begin)
                if not key:
                    raise _Declined
                self.tree.take_key(key[1], (number, begin + 1))
                begin = key.end()
            begin = _after_spaces(line, self._brackets(line, begin, number))
            sign = line[begin : begin + 1]
            begin = _after_spaces(line, begin + 1) if sign == "," else begin + 1
        if sign != ends:
            raise _Declined
        self.tree.close()
        return begin


def _after_spaces(line: str, begin: int) -> int:
    found = _SPACES.match(line, begin)
    return found.end() if found else begin
