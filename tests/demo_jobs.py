"""The invented jobs that ship, as plain data, and how tests judge and strike them."""

from __future__ import annotations

import copy
import json
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from fluewright import app
from fluewright.capacity import GROUPS
from fluewright.files import survey_from_text
from fluewright.finding import Finding, Judgement
from fluewright.judge import judge

DEMO = Path(app.DATA) / "demo"
PLANTED = Path(__file__).parent / "cases" / "demos"
TWIN = "-repaired"
Data = dict[str, Any]

SLUGS = tuple(sorted(p.stem for p in DEMO.glob("*.yaml") if not p.stem.endswith(TWIN)))


def plain(name: str) -> Data:
    """A demo survey as plain data, by its file name without ending."""
    text = (DEMO / f"{name}.yaml").read_text(encoding="utf-8")
    data: Data = YAML(typ="safe", pure=True).load(text)
    return data


def judged(data: Data, edition: str = "umc_2012") -> Judgement:
    """The judgement of plain data."""
    text = json.dumps(data, default=str)
    return judge(survey_from_text(text, "demo.json"), book(edition), library())


@cache
def book(edition: str) -> Any:
    """An edition, read once."""
    return app.edition(edition)


@cache
def library() -> Any:
    """Tools and every capacity table, read once."""
    return app.library(*GROUPS)


def by_key(judgement: Judgement) -> dict[tuple[str, str], Finding]:
    """Findings by rule and subject."""
    return {(f.rule, f.subject): f for f in judgement.findings}


def planted(slug: str) -> set[tuple[str, str]]:
    """What was planted in a demo: the rule and the thing that has to be found."""
    raw = tomllib.loads((PLANTED / f"{slug}.toml").read_text(encoding="utf-8"))
    return {(row["rule"], row["subject"]) for row in raw["planted"]}


def routes(node: object, route: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every mapping key of a document, as the way to it."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield (*route, key)
            yield from routes(value, (*route, key))
    elif isinstance(node, list):
        for i, value in enumerate(node):
            yield from routes(value, (*route, i))


def without(data: Data, route: tuple[Any, ...]) -> Data:
    """The data less one key."""
    left = copy.deepcopy(data)
    node: Any = left
    for step in route[:-1]:
        node = node[step]
    del node[route[-1]]
    return left
