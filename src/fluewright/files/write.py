"""`Survey` -> plain data or YAML that reads back as the same survey."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Mapping
from typing import cast

from fluewright.files.build import record_of
from fluewright.files.nodes import scalar
from fluewright.files.read import VERSION
from fluewright.files.tools import default_tools
from fluewright.files.visit import Toolbox
from fluewright.survey import Survey
from fluewright.tool import Tool

_WIDE = 96
# Text that YAML takes as it stands, in and out of brackets.
_PLAIN = re.compile(r"(?:-(?=[0-9.]))?[A-Za-z0-9_/±.][A-Za-z0-9_/±.'()%° -]*")
_TO_ESCAPE = re.compile(
    "[^\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)


def survey_to_data(survey: Survey, tools: Mapping[str, Tool] | None = None) -> dict[str, object]:
    """The survey as mappings, lists, text and numbers, in the form of its file.

    Args:
        survey: what to write.
        tools: the tools that readings may name; None: those of this package.
    Returns:
        Data that, written as YAML or JSON, is read as a survey equal to the one given, if that
        one was read from a file (the evidence of a reading is the place where it stands).
    Raises:
        OutOfRange: a computed value has more digits than a text can hold.
    """
    known = default_tools() if tools is None else tools
    photos = frozenset(photo.file for photo in survey.photos)
    held = record_of(Survey).write(survey, Toolbox(known, survey.tools, photos))
    return {"survey": VERSION} | cast(dict[str, object], held)


def survey_to_text(survey: Survey, tools: Mapping[str, Tool] | None = None) -> str:
    """The survey as the text of a YAML file; see `survey_to_data`."""
    return "\n".join(_block(survey_to_data(survey, tools), "")) + "\n"


def write_survey(
    survey: Survey, target: str | os.PathLike[str], tools: Mapping[str, Tool] | None = None
) -> None:
    """Write the survey to a YAML file; see `survey_to_data`."""
    text = survey_to_text(survey, tools)
    with open(target, "w", encoding="utf-8", newline="\n") as file:
        file.write(text)


def _block(value: Mapping[str, object], indent: str) -> Iterator[str]:
    """Lines of a mapping in block style; what is small stays on one line."""
    for key, inner in value.items():
        flow = _flow(inner)
        if not isinstance(inner, dict | list) or _fits(inner, f"{indent}{key}: {flow}"):
            yield f"{indent}{key}: {flow}"
        elif isinstance(inner, dict):
            yield f"{indent}{key}:"
            yield from _block(inner, indent + "  ")
        else:
            yield f"{indent}{key}:"
            for item in inner:
                yield from _entry(item, indent + "  ")


def _entry(item: object, indent: str) -> Iterator[str]:
    """Lines of one entry of a list."""
    if not isinstance(item, dict) or _fits(item, f"{indent}- {_flow(item)}"):
        yield f"{indent}- {_flow(item)}"
        return
    for i, line in enumerate(_block(item, indent + "  ")):
        yield f"{indent}- {line[len(indent) + 2 :]}" if i == 0 else line


def _fits(value: dict[str, object] | list[object], line: str) -> bool:
    """Whether a mapping or list is small enough for one line: short, and plain values within."""
    inner = value.values() if isinstance(value, dict) else value
    plain = not any(isinstance(one, dict | list) and one for one in inner)
    return len(line) <= _WIDE and (plain or not value)


def _flow(value: object) -> str:
    """A value on one line, in YAML's flow style."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(inner) for inner in value) + "]"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return _text(value) if isinstance(value, str) else str(value)


def _text(text: str) -> str:
    """Text as YAML: plain where it stays text, else in double quotes."""
    if _PLAIN.fullmatch(text) and not text.endswith(" ") and scalar(text) == text:
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return _TO_ESCAPE.sub(lambda found: _escape(found[0]), quoted)


def _escape(letter: str) -> str:
    return f"\\u{ord(letter):04x}"
