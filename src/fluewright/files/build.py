"""Data classes -> forms: each annotation of ``survey.py`` becomes what can read and write it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import MISSING, Field, fields, is_dataclass, replace
from functools import cache
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from fluewright.files.forms import Choice, Defs, Form, ListOf, Named, Schema, Text, YesNo
from fluewright.files.nodes import Node
from fluewright.files.quantities import Quantity, tool_at
from fluewright.files.visit import FAULTY, Toolbox, Visit, described, nearest, quoted
from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey import ABSENT, Absent, Reading, Survey
from fluewright.tool import Tool

NO_REASON = "reason not given"
# A mapping cannot be a default of a data class; in a file these have one all the same.
_MAY_BE_LEFT_OUT = ("spaces", "tools", "common")


@frozen
class Slot:
    """One key of a mapping: its form, and what may stand there instead of a value."""

    name: str
    key: str
    form: Form
    default: object
    unmeasured: bool
    absent: bool

    @property
    def required(self) -> bool:
        """Whether the key has to be there."""
        return self.default is MISSING

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The value at the key, ``?`` and ``none`` understood where the field allows them."""
        if node.value is None:
            return visit.fault(node, path, f"nothing stands here. {self._advice()}")
        if isinstance(node.value, str) and (self.unmeasured or not isinstance(self.form, Text)):
            word = node.value.strip()
            if word.startswith("?"):
                if not self.unmeasured:
                    return visit.fault(node, path, f'"?" has no place here. {self._advice()}')
                if Text().read(node, path, visit) is FAULTY:
                    return FAULTY
                return NotMeasured(" ".join(word[1:].split()) or NO_REASON)
            if word == Absent.ABSENT.value:
                if not self.absent:
                    return visit.fault(node, path, f'"none" has no place here. {self._advice()}')
                return ABSENT
        if self.absent and node.value == []:
            # Empty says neither that nobody looked nor that nothing is there.
            return visit.fault(node, path, f"an empty list stands here. {self._advice()}")
        return self.form.read(node, path, visit)

    def _advice(self) -> str:
        """What may stand here."""
        ways = [self.form.expected]
        if self.unmeasured:
            ways.append('"? and why"')
        if self.absent:
            ways.append("none")
        if self.required:
            return f"Write {', or '.join(ways)}."
        return f"Write {', or '.join(ways)}, or leave the line out."

    def write(self, value: object, tools: Toolbox) -> object:
        """Plain data that reads back as the value."""
        if isinstance(value, NotMeasured):
            return "?" if value.reason == NO_REASON else f"? {value.reason}"
        if value is ABSENT:
            return Absent.ABSENT.value
        return self.form.write(value, tools)

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of the value."""
        ways = [self.form.schema(defs)]
        if self.absent and isinstance(self.form, ListOf):
            ways[0] = {**ways[0], "minItems": 1}
        if self.unmeasured:
            ways.append({"$ref": "#/$defs/not_measured"})
        if self.absent:
            ways.append({"const": Absent.ABSENT.value})
        return ways[0] if len(ways) == 1 else {"anyOf": ways}


@frozen
class Record:
    """A data class: a mapping with its fields as keys, and no others."""

    made: type[Any]
    slots: dict[str, Slot]

    @property
    def expected(self) -> str:
        """A mapping with which keys."""
        required = [key for key, slot in self.slots.items() if slot.required]
        shown = required or list(self.slots)[:3]
        return f"a mapping with keys such as {', '.join(shown)}"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The object at a node, if every key of it can be read."""
        if not isinstance(node.value, dict):
            message = f"{described(node)} stands here, where {self.expected} is expected."
            return visit.fault(node, path, message)
        found: dict[str, object] = {}
        for key, child in node.value.items():
            inner = f"{path}.{key}" if path else key
            slot = self.slots.get(key)
            if slot is None:
                found[key] = visit.fault(child, inner, self._unknown(key))
            else:
                found[slot.name] = slot.read(child, inner, visit)
        for key, slot in self.slots.items():
            if slot.required and key not in node.value:
                found[slot.name] = visit.fault(node, path, self._missing(slot))
            elif key not in node.value and slot.default == {}:
                found[slot.name] = {}
        return FAULTY if FAULTY in found.values() else self.made(**found)

    def _unknown(self, key: str) -> str:
        near, keys = nearest(key, self.slots), f" Keys here: {', '.join(self.slots)}."
        return f"unknown key {quoted(key)}.{near or keys}"

    def _missing(self, slot: Slot) -> str:
        return f'"{slot.key}" is missing. Write {slot.key}: {slot.form.expected}.'

    def write(self, value: object, tools: Toolbox) -> object:
        """The fields that say more than their default does."""
        held = ((slot, getattr(value, slot.name)) for slot in self.slots.values())
        return {
            slot.key: slot.write(inner, tools)
            for slot, inner in held
            if slot.required or inner != slot.default
        }

    def schema(self, defs: Defs) -> Schema:
        """A reference to the JSON Schema of the class, which is added to ``defs``."""
        name = re.sub(r"(?<!^)(?=[A-Z])", "_", self.made.__name__).lower()
        if name not in defs:
            defs[name] = {}  # so that the order is that of first use
            required = [key for key, slot in self.slots.items() if slot.required]
            defs[name] = {
                "type": "object",
                "description": (self.made.__doc__ or "").splitlines()[0],
                **({"required": required} if required else {}),
                "additionalProperties": False,
                "properties": {key: slot.schema(defs) for key, slot in self.slots.items()},
            }
        return {"$ref": f"#/$defs/{name}"}


@cache
def record_of(made: type[Any]) -> Record:
    """The form of a data class, put together at first use."""
    hints = get_type_hints(made, include_extras=True)
    return Record(
        made, {slot.key: slot for slot in (_slot(f, hints[f.name]) for f in fields(made))}
    )


def _slot(field: Field[Any], hint: Any) -> Slot:
    """The form of one field, the words for not known and not there taken off its union."""
    members = get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)
    instead = (NotMeasured, Absent, type(None))
    (core,) = (member for member in members if member not in instead)
    form = _form(core, field.name)
    default = {} if field.name in _MAY_BE_LEFT_OUT else field.default
    return Slot(
        name=field.name,
        key=field.name.rstrip("_"),
        form=form,
        default=default,
        unmeasured=NotMeasured in members,
        absent=Absent in members,
    )


def _form(hint: Any, field: str) -> Form:
    """The form of a type that stands alone."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return Quantity(field, next(extra for extra in inner if isinstance(extra, Reading)))
    if origin is Literal:
        return Choice(inner)
    if origin is tuple:
        return ListOf(_form(inner[0], field))
    if origin is dict:
        return ToolNames() if field == "tools" else Named(_form(inner[1], field))
    if is_dataclass(hint) and isinstance(hint, type):
        return record_of(hint)
    plain: dict[object, Form] = {str: Text(), bool: YesNo()}
    return plain[hint]


def stated_keys(tools: Toolbox) -> dict[str, Reading]:
    """What a survey may name its tool for, each with its reading."""
    found = {reading.by: reading for reading in _readings(record_of(Survey))}
    return {by: found[by] for by in sorted(found) if tools.may_be_stated(by)}


def _readings(form: Form) -> Iterator[Reading]:
    """Every kind of reading that a form holds."""
    if isinstance(form, Quantity):
        yield form.reading
    elif isinstance(form, ListOf | Named):
        yield from _readings(form.item)
    elif isinstance(form, Record):
        for slot in form.slots.values():
            yield from _readings(slot.form)


class ToolNames:
    """What the survey was made with: for each kind of reading, the id of a tool."""

    expected = "a mapping such as {length: tape}"

    def read(self, node: Node, path: str, visit: Visit) -> object:
        """The tools stated at a node; from here on they are the usual ones of the visit."""
        if not isinstance(node.value, dict):
            message = f"{described(node)} stands here, where {self.expected} is expected."
            return visit.fault(node, path, f"{message} Leave it out if no tool is to be named.")
        keys = stated_keys(visit.tools)
        chosen: dict[str, str] = {}
        for key, child in node.value.items():
            if key not in keys:
                message = f"unknown key {quoted(key)}.{nearest(key, keys)}"
                visit.fault(child, f"{path}.{key}", f"{message} Keys here: {', '.join(keys)}.")
                continue
            tool = tool_at(child, f"{path}.{key}", visit, keys[key], key, paper=False)
            if isinstance(tool, Tool):
                chosen[key] = tool.id
        visit.tools = replace(visit.tools, chosen=chosen)
        return chosen if len(chosen) == len(node.value) else FAULTY

    def write(self, value: dict[str, str], tools: Toolbox) -> object:
        """The ids as they are."""
        return dict(value)

    def schema(self, defs: Defs) -> Schema:
        """JSON Schema of the mapping."""
        return {"type": "object", "additionalProperties": {"type": "string"}}
