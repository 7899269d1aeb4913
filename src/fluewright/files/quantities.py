"""Readings: the text of a quantity, alone or with its tool, to a ``Measured`` and back."""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.errors import BadQuantity, OutOfRange
from fluewright.files.exact import exact_text
from fluewright.files.forms import Defs, Schema
from fluewright.files.nodes import Node
from fluewright.files.ranges import outside, plausible
from fluewright.files.visit import (
    FAULTY,
    UNSTATED,
    Faulty,
    Toolbox,
    Visit,
    described,
    nearest,
    quoted,
)
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, parse
from fluewright.refusal import Asked
from fluewright.survey import Reading
from fluewright.tool import ANYTHING, Tool, half_width

_KEYS = ("value", "tool", "photo")
_EXAMPLE = "A reading is text, or {value: text, tool: id}."
# A text with a digit that does not begin with "?": what `parse` can make of it is for it to say.
TEXT_PATTERN = "^[^?]*[0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]"


@frozen
class Quantity:
    """The form of a field that holds a ``Measured``."""

    field: str
    reading: Reading

    @property
    def by(self) -> str:
        """What reads it. An elevation comes off a map: no tape that reads heights gives it."""
        return "elevation" if self.field == "elevation" else self.reading.by

    @property
    def _asked(self) -> Asked:
        return Asked("", self.reading.dimension)

    @property
    def expected(self) -> str:
        """What to write, for messages."""
        return self._asked.example

    def read(self, node: Node, path: str, visit: Visit) -> Measured | Faulty:
        """The reading at a node, with the bound that its text or its tool gives."""
        if isinstance(node.value, dict):
            return self._with_tool(node, node.value, path, visit)
        return self._one(node, path, visit, visit.tools.usual(self.by), (path,))

    def _with_tool(
        self, node: Node, held: dict[str, Node], path: str, visit: Visit
    ) -> Measured | Faulty:
        before = len(visit.faults)
        for key, child in held.items():
            if key not in _KEYS:
                message = f"unknown key {quoted(key)}.{nearest(key, _KEYS)}"
                visit.fault(child, f"{path}.{key}", f"{message} {_EXAMPLE}")
        for key in ("value", "tool"):
            if key not in held:
                visit.fault(node, path, f'"{key}" is missing. {_EXAMPLE}')
        tool: Tool | Faulty = visit.tools.usual(self.by)
        if "tool" in held:
            tool = tool_at(held["tool"], f"{path}.tool", visit, self.reading, self.field)
        evidence = (path, *_photo(held, path, visit))
        if "value" not in held:
            return FAULTY
        known = visit.tools.usual(self.by) if isinstance(tool, Faulty) else tool
        found = self._one(held["value"], f"{path}.value", visit, known, evidence)
        return found if len(visit.faults) == before else FAULTY

    def _one(
        self, node: Node, path: str, visit: Visit, tool: Tool, evidence: tuple[str, ...]
    ) -> Measured | Faulty:
        """A reading that is text, or a bare number that the parser will ask the unit of."""
        if not isinstance(node.value, str | int | float) or isinstance(node.value, bool):
            message = f"{described(node)} stands here, where {self._asked.kind} is expected."
            return visit.fault(node, path, f"{message} Write {self._asked.example}.")
        dimension = self.reading.dimension
        try:
            parsed = parse(node.text, dimension)
            likely = plausible(self.field, self.reading)
            if not likely.holds(parsed.value):
                return visit.fault(node, path, outside(node.text, parsed, dimension, likely))
            bound = parsed.tolerance
            if bound is None:
                bound = half_width(tool, parsed.value)
        except (BadQuantity, OutOfRange) as error:
            return visit.fault(node, path, str(error))
        return Measured(parsed.value, dimension, bound, tool.id, evidence)

    def write(self, value: Measured, tools: Toolbox) -> object:
        """What reads back as this very reading; a tool that no file can name is left out."""
        usual = tools.usual(self.by)
        tool = tools.known.get(value.tool or "", usual)
        bound = None if half_width(tool, value.value) == value.tolerance else value.tolerance
        units = plausible(self.field, self.reading).units
        text = exact_text(value.value, bound, self.reading.dimension, units)
        photos = [name for name in value.evidence[1:] if name in tools.photos]
        if tool.id != usual.id or photos:
            return {"value": text, "tool": tool.id} | ({"photo": photos[0]} if photos else {})
        return int(text) if text.isdigit() else text

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema: the text, or a mapping of it with its tool."""
        name = f"{self.reading.dimension}_reading"
        if name not in defs:
            text: Schema = {"type": "string", "pattern": TEXT_PATTERN}
            if self.reading.dimension is Dimension.COUNT:
                text = {"anyOf": [{"type": "integer", "minimum": 0}, text]}
            mapping = {
                "type": "object",
                "required": ["value", "tool"],
                "additionalProperties": False,
                "properties": {
                    "value": text,
                    "tool": {"type": "string"},
                    "photo": {"type": "string"},
                },
            }
            about = f"{self.expected}; ± what it may be off, else its tool says"
            defs[name] = {"description": about, "anyOf": [text, mapping]}
        return {"$ref": f"#/$defs/{name}"}


def tool_at(
    node: Node, path: str, visit: Visit, reading: Reading, field: str, paper: bool = True
) -> Tool | Faulty:
    """The tool that a node names, if it can read this.

    ``paper`` says that a value may also be taken from paper as it stands: one reading may, but
    a survey's readings are not all so by default.
    """
    known = visit.tools.known
    fit = [
        name
        for name, tool in known.items()
        if _fits(tool, reading, field) and (paper or tool.measures != ANYTHING)
    ]
    kind = Asked("", reading.dimension).kind
    if isinstance(node.value, str) and node.value in fit:
        return known[node.value]
    if not isinstance(node.value, str):
        message = f"{described(node)} stands here, where the id of a tool is expected."
    elif node.value in known:
        message = f"{quoted(node.value)} is no tool for {kind}."
    else:
        message = f"there is no tool {quoted(node.value)}.{nearest(node.value, fit)}"
    shown = ", ".join(name for name in fit if not name.startswith(UNSTATED))
    return visit.fault(node, path, f"{message} Tools for {kind}: {shown or 'none'}.")


def _fits(tool: Tool, reading: Reading, field: str) -> bool:
    """Whether the tool measures what is read: its dimension, or a narrower thing of that name."""
    if tool.measures in (ANYTHING, reading.dimension, reading.by):
        return True
    return tool.dimension is reading.dimension and field.endswith(tool.measures)


def _photo(held: Mapping[str, Node], path: str, visit: Visit) -> tuple[str, ...]:
    """The file of the photo that shows a reading, if one is named and listed."""
    if "photo" not in held:
        return ()
    name = held["photo"].value
    if isinstance(name, str) and name in visit.tools.photos:
        return (name,)
    message = f"{described(held['photo'])} is not the file of a photo listed under photos."
    visit.fault(held["photo"], f"{path}.photo", f"{message} List it there, or leave this out.")
    return ()
