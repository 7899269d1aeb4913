"""Random valid surveys, and what may never come of judging one: an exception, or no number.

A third is made of nothing but chance. The others are invented jobs in which a share of the fields
is said otherwise, so that most requirements are reached.
"""

from __future__ import annotations

import copy
import dataclasses
import json
import math
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from ruamel.yaml import YAML
from tests.survey_maker import Maker

from fluewright import app
from fluewright.errors import BadSurvey
from fluewright.files import survey_from_text
from fluewright.files.build import Record, record_of
from fluewright.files.cross import NOT_ON
from fluewright.files.forms import Form, ListOf, Named
from fluewright.finding import Judgement
from fluewright.survey import Survey

# Names that hold a survey together: another one would only be refused.
NAMES = frozenset({
    "survey", "id", "from", "of", "part", "role", "space", "joins", "enters", "at",
    "spaces", "appliances", "paths", "pieces", "common", "photos",
})  # fmt: skip
SHARES = (0.01, 0.03, 0.1, 0.3)  # of the fields of a job that are said otherwise


@cache
def jobs() -> tuple[dict[str, Any], ...]:
    """The invented jobs as plain data."""
    yaml = YAML(typ="safe", pure=True)
    paths = sorted((Path(app.DATA) / "demo").glob("*.yaml"))
    return tuple(yaml.load(path.read_text(encoding="utf-8")) for path in paths)


class Changer:
    """Says fields of a job otherwise, each by another value of its own form."""

    def __init__(self, seed: int) -> None:
        self.maker = Maker(seed)
        self.chance = self.maker.chance
        self.share = self.chance.choice(SHARES)

    def changed(self, data: dict[str, Any]) -> dict[str, Any]:
        """The job with a share of its fields changed, taken out or added."""
        found = {"survey": data["survey"], **self.record(record_of(Survey), data)}
        if found["job"].get("new") != data["job"].get("new") and "new" in found["job"]:
            found["job"]["new"] = [self.chance.choice(list(found["appliances"]))]
        before = {name: space.get("air") for name, space in data["spaces"].items()}
        altered = {
            name: space for name, space in found["spaces"].items()
            if space.get("air") != before[name] and isinstance(space.get("air"), dict)
        }  # fmt: skip
        self.lead_openings(altered, list(found["spaces"]))
        return found

    def lead_openings(self, altered: Mapping[str, Any], spaces: list[str]) -> None:
        """Let openings that were made anew lead to a space of the survey."""
        for name, space in altered.items():
            openings = space["air"].get("openings")
            for opening in openings if isinstance(openings, list) else []:
                if opening.get("to") not in spaces:
                    opening["to"] = self.chance.choice([s for s in spaces if s != name])

    def record(self, form: Record, data: Mapping[str, Any]) -> dict[str, Any]:
        """A mapping with a share of its fields said otherwise."""
        found: dict[str, Any] = {}
        barred = NOT_ON[data["part"]][0] if data.get("part") in NOT_ON else ()
        for key, slot in form.slots.items():
            if key in NAMES or self.chance.random() >= self.share:
                if key in data:
                    found[key] = self.value(slot.form, data[key])
            elif key not in barred and (slot.required or self.chance.random() < 0.8):
                found[key] = self.maker.slot(slot)
        return found

    def value(self, form: Form, data: Any) -> Any:
        """What stands below, with a share of it said otherwise."""
        if isinstance(form, Record) and isinstance(data, Mapping):
            return self.record(form, data)
        if isinstance(form, ListOf) and isinstance(data, list):
            return [self.value(form.item, one) for one in data]
        if isinstance(form, Named) and isinstance(data, Mapping):
            return {name: self.value(form.item, one) for name, one in data.items()}
        return copy.deepcopy(data)


def text_of(seed: int) -> str:
    """A random survey as JSON; it may be refused."""
    if seed % 3 == 0:
        return json.dumps(Maker(seed).survey(), default=str)
    job = Random(seed).choice(jobs())
    return json.dumps(Changer(seed).changed(job), default=str)


def texts(count: int, start: int = 0) -> Iterator[tuple[int, str]]:
    """So many random surveys that are accepted, each with its seed."""
    seed = start
    while count:
        text = text_of(seed)
        try:
            survey_from_text(text, "random.json")
        except BadSurvey:
            pass
        else:
            count -= 1
            yield seed, text
        seed += 1


def _names(node: object) -> tuple[str, ...]:
    """Names of the fields of a data class or a named tuple; none of anything else."""
    if dataclasses.is_dataclass(node) and not isinstance(node, type):
        return tuple(field.name for field in dataclasses.fields(node))
    return tuple(getattr(node, "_fields", ())) if isinstance(node, tuple) else ()


def not_numbers(node: object, route: str = "judgement") -> Iterator[str]:
    """The way to every number of a judgement that is none, or is without bound."""
    if isinstance(node, float):
        if not math.isfinite(node):
            yield f"{route}: {node}"
    elif names := _names(node):
        for name in names:
            yield from not_numbers(getattr(node, name), f"{route}.{name}")
    elif isinstance(node, tuple | list):
        for i, one in enumerate(node):
            yield from not_numbers(one, f"{route}[{i}]")
    elif isinstance(node, str):
        words = node.lower().replace("(", " ").replace(":", " ").split()
        if {"nan", "inf", "-inf", "infinity"} & set(words):
            yield f"{route}: {node}"


def told(judgement: Judgement) -> list[str]:
    """What in a judgement is no number, by rule and subject."""
    found: list[str] = []
    for finding in judgement.findings:
        name = f"{finding.rule} of {finding.subject}"
        found += not_numbers(finding.sentence, f"{name}.sentence")
        if finding.comparison is not None or finding.working:
            found += not_numbers(finding.comparison, f"{name}.comparison")
            found += not_numbers(finding.working, f"{name}.working")
    return found + list(not_numbers(judgement.next_steps, "next steps"))
