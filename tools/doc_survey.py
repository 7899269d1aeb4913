"""The field tables of docs/survey.md, from the classes that read a survey."""

from __future__ import annotations

import inspect
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tools.survey_words import WORDS

from fluewright import app
from fluewright.facts import FACTS, Fact
from fluewright.files.build import Record, Slot, record_of
from fluewright.files.forms import Choice, Form, ListOf, Named, Text, YesNo
from fluewright.files.quantities import Quantity
from fluewright.survey import Survey

# Kinds of mapping that stand in two places of a file: told of once, under paths.
SAME_AS = {f"common.{key}": f"paths.{key}" for key in ("pieces", "vent", "chimney", "roof")}

# How the facts name the things that a survey keeps in lists.
VIEWED = (
    (r"^paths\.pieces\.", "placed.piece."),
    (r"^paths\.", "path."),
    (r"^appliances\.", "appliance."),
    (r"^spaces\.air\.openings\.", "thing."),
    (r"^spaces\.air\.", "air."),
    (r"^(job|site)\.", r"survey.\1."),
)


@dataclass(frozen=True)
class Row:
    """One field: its key, what may be written, and what it means."""

    key: str
    kind: str
    words: str


@dataclass(frozen=True)
class Section:
    """The fields of one mapping of the file."""

    at: str
    intro: str
    rows: tuple[Row, ...]


def sections() -> Iterator[Section]:
    """Every mapping of a survey file, in the order of the file.

    Raises:
        KeyError: a field has no words; the message lists all such fields.
    """
    missing: list[str] = []
    used: set[str] = set()
    found = list(_sections(record_of(Survey), "", missing, used))
    if missing:
        raise KeyError(f"no words in tools/survey_words.py for {', '.join(missing)}")
    stale = sorted(set(WORDS) - used)
    if stale:
        raise KeyError(f"tools/survey_words.py: no field {', '.join(stale)}; take it out")
    yield from found


def _sections(record: Record, at: str, missing: list[str], used: set[str]) -> Iterator[Section]:
    rows: list[Row] = []
    inner: list[tuple[Record, str]] = []
    for key, slot in record.slots.items():
        place = f"{at}.{key}" if at else key
        rows.append(Row(key, _kind(slot), _words(place, missing, used)))
        form = _single(slot.form)
        if isinstance(form, Record) and place not in SAME_AS:
            inner.append((form, place))
    yield Section(at, (record.made.__doc__ or "").splitlines()[0], tuple(rows))
    for form, place in inner:
        yield from _sections(form, place, missing, used)


def _single(form: Form) -> Form:
    while isinstance(form, ListOf | Named):
        form = form.item
    return form


def _kind(slot: Slot) -> str:
    said = _said(slot.form)
    said += "; needed" if slot.required else ""
    said += "; `none`" if slot.absent else ""
    return said + ("; `?`" if slot.unmeasured else "")


def _said(form: Form) -> str:
    if isinstance(form, Named):
        return f"ids, each with {_said(form.item)}"
    if isinstance(form, ListOf):
        return f"list of {_said(form.item)}"
    if isinstance(form, Record):
        return "fields, see below"
    if isinstance(form, Choice):
        return " or ".join(f"`{word}`" for word in form.words)
    if isinstance(form, YesNo | Text):
        return form.expected
    if isinstance(form, Quantity):
        return form.expected.split(" such as")[0].removeprefix("a ").removeprefix("an ")
    return form.expected


def _words(place: str, missing: list[str], used: set[str]) -> str:
    used.add(place)
    if place in SAME_AS:
        return f"as under `{SAME_AS[place]}`"
    if place in WORDS:
        return WORDS[place]
    route = place
    for pattern, viewed in VIEWED:
        route = re.sub(pattern, viewed, route)
    fact = ROUTES.get(route)
    if fact is None:
        missing.append(place)
        return ""
    return f"{fact.label}: {fact.how}"


def _routes() -> dict[str, Fact]:
    """Facts by the survey field they read. A getter keeps its route to itself, so look inside."""
    found: dict[str, Fact] = {}
    for fact in FACTS.values():
        names = inspect.getclosurevars(fact.get).nonlocals.get("names")
        if isinstance(names, list):
            found[".".join(names)] = fact
    for fact in FACTS.values():
        if "," not in fact.route and ";" not in fact.route:
            found.setdefault(fact.route, fact)  # the first fact of a field tells of it
    return found


ROUTES = _routes()


def tools() -> Iterator[tuple[str, str, str, str, str]]:
    """Each tool: its id, what it reads, its tolerance as written, how known, what it is."""
    data = tomllib.loads((Path(app.DATA) / "tools.toml").read_text(encoding="utf-8"))
    for name, tool in data.items():
        words = f"{tool['title']}. {tool['note']}"
        yield f"`{name}`", tool["measures"], str(tool["half_width"]), f"`{tool['basis']}`", words
