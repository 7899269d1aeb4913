"""Reads the cases of the rules, and judges a rule on facts stated outright.

A file ``tests/cases/rules/<rule>.toml`` has an optional ``[base]`` table of facts and ``[[case]]``
rows. A row's facts are those of the base with the row's own put over them, so that a row shows
the one thing it is about. Keys of a row::

    name      a sentence
    edition   edition id; umc_2012 where it is not written
    facts     facts that differ from the base
    missing   facts of the base that nobody recorded
    expect    meets, fails, cannot_tell or not_applicable
    margin    number and unit of the deciding margin, "-0.125 in"
    within    number and unit of its half-width
    limit     number and unit of the limit that the finding names
    asks      what has to be named in "measure next"
    says      words that the sentence has to hold
    working   the calculation by hand, in one line

A fact is true or false, "none" (looked for and not there), a word, a list of words, or a measure
``{length = "5 in ± 1/16 in"}``; ``{count = [0, 1]}`` is a count between two. What is not written
is not known. Rooms and openings (``air_ways``) are written as in a survey, see ``rooms``; a row
writes only what differs from the base.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, cast

from tests.published_adapters import library as capacity_library

from fluewright.asked import Asked, Library
from fluewright.edition import Edition, edition_from
from fluewright.errors import BadQuantity
from fluewright.facts import FACTS, FactValue, View
from fluewright.facts.air_ways import air_ways
from fluewright.files.read import survey_from_bytes
from fluewright.files.tools import default_tools
from fluewright.finding import Finding, Verdict
from fluewright.geometry import Trace
from fluewright.judge import judge_one
from fluewright.quantity import Dimension, Measured, difference_from_unit, from_unit, parse
from fluewright.rules import RULES, needed
from fluewright.survey import ABSENT, Appliance
from fluewright.survey import Path as Path_

FOLDER = Path(__file__).parent / "cases" / "rules"
EDITIONS = tuple(
    sorted(
        entry.name.removesuffix(".toml")
        for entry in (files("fluewright") / "data" / "editions").iterdir()
        if entry.name.endswith(".toml")
    )
)
# What a sentence about a job may never claim.
CLAIMS = re.compile(r"\b(safe|safely|compliant|complies|certified|guaranteed?s?)\b", re.IGNORECASE)
KEYS = {
    "name", "edition", "facts", "missing", "expect", "margin", "within", "limit", "asks", "says",
    "working",
}  # fmt: skip


class BadCase(Exception):
    """A file of cases that is malformed; every fault, one a line."""


@dataclass(frozen=True, slots=True)
class Case:
    """One row: facts in, verdict out."""

    rule: str
    name: str
    edition: str
    facts: Mapping[str, FactValue]
    expect: Verdict
    margin: tuple[float, str] | None
    within: tuple[float, str] | None
    limit: tuple[float, str] | None
    asks: str
    says: str
    working: str


@cache
def edition(name: str) -> Edition:
    """An edition as it ships."""
    raw = (files("fluewright") / "data" / "editions" / f"{name}.toml").read_bytes()
    return edition_from(tomllib.loads(raw.decode()), "", needed())


@cache
def library() -> Library:
    """Tools and capacity tables as they ship."""
    return Library(default_tools(), capacity_library().tables)


def judged(rule: str, facts: Mapping[str, FactValue], edition_id: str = "umc_2012") -> Finding:
    """The finding of a rule on facts; a fact not among them is not known."""
    book = edition(edition_id)
    nothing = cast(View, None)  # the facts are given, so that no survey is looked into
    return judge_one(RULES[rule], Asked("p1", nothing, book, library(), given=facts), book)


def amount(text: str) -> tuple[float, str]:
    """``-0.125 in`` as number and unit.

    Raises:
        BadCase: it is not a number and a unit.
    """
    number, _, unit = text.partition(" ")
    try:
        value = float(number)
        difference_from_unit(value, unit)
    except (BadQuantity, ValueError) as error:
        raise BadCase(f'"{text}" is no number with a unit ({error})') from None
    return value, unit


def in_si(difference: tuple[float, str]) -> float:
    """A difference in SI."""
    return difference_from_unit(*difference)


def level_in_si(level: tuple[float, str]) -> float:
    """A value in SI; a temperature is a level."""
    return from_unit(*level)


def fact_value(given: object) -> FactValue:
    """A fact as a row writes it.

    Raises:
        BadCase: it is written as no fact is.
    """
    if isinstance(given, bool):
        return given
    if given == "none":
        return ABSENT
    if isinstance(given, str) and given:
        return given
    if isinstance(given, list) and all(isinstance(word, str) for word in given):
        return tuple(given)
    if isinstance(given, dict) and "spaces" in given:
        return rooms(given)
    if isinstance(given, dict) and len(given) == 1:
        ((kind, text),) = given.items()
        if kind == "count" and isinstance(text, list):
            return Measured.between(float(text[0]), float(text[1]), Dimension.COUNT)
        if kind in {d.value for d in Dimension} and isinstance(text, str):
            dimension = Dimension(kind)
            got = parse(text, dimension)
            return Measured(got.value, dimension, got.tolerance or 0.0)
    raise BadCase(f"{given!r} is no fact. Write true, false, a word, a list of words or a measure.")


def rooms(given: Mapping[str, Any]) -> FactValue:
    """Rooms and openings, written as in a survey; openings are a table by id.

    ``{space = "closet", spaces = {...}, appliances = {...}, paths = [...]}``
    """
    spaces = json.loads(json.dumps(given["spaces"]))
    for space in spaces.values():
        held = space.get("air", {}).get("openings")
        if isinstance(held, dict):
            space["air"]["openings"] = [{"id": key, **value} for key, value in held.items()]
    whole = {
        "survey": 1, "job": {"title": "a case"}, "spaces": spaces, "tools": {},
        "appliances": given.get("appliances", {"none": {}}), "paths": given.get("paths", []),
    }  # fmt: skip
    survey = survey_from_bytes(json.dumps(whole).encode(), "a case")
    nothing = Path_(from_="")
    return air_ways(View(survey, nothing, Appliance(), Trace(nothing, ()), space=given["space"]))


def laid_over(base: Any, row: Any) -> Any:
    """The row's rooms over those of the base, key by key; ``"-"`` takes a key out."""
    if not (isinstance(base, dict) and isinstance(row, dict)):
        return row
    both = {key: laid_over(base.get(key), row[key]) if key in row else base[key]
            for key in (*base, *(k for k in row if k not in base))}  # fmt: skip
    return {key: value for key, value in both.items() if value != "-"}


@cache
def load(rule: str) -> tuple[Case, ...]:
    """The cases of a rule, in file order.

    Raises:
        BadCase: the file is malformed.
    """
    path = FOLDER / f"{rule}.toml"
    return tuple(read(path.read_text(encoding="utf-8"), rule))


def read(text: str, rule: str) -> list[Case]:
    """The cases that a text holds.

    Raises:
        BadCase: every fault found, one a line.
    """
    given = tomllib.loads(text)
    faults = [f"{rule}: unknown key {key}." for key in sorted(set(given) - {"base", "case"})]
    base = _facts(given.get("base", {}), f"{rule}: base", faults)
    found = []
    for number, row in enumerate(given.get("case", []), 1):
        place = f"{rule}: case {row.get('name') or number}"
        count = len(faults)
        case = _case(rule, _whole_rooms(given, row), base, place, faults)
        if case is not None and len(faults) == count:
            found.append(case)
    names = [case.name for case in found]
    faults += [f"{rule}: case {n}: a second one of this name." for n in names if names.count(n) > 1]
    if not names and not faults:
        faults.append(f"{rule}: no case. Write [[case]] rows.")
    if faults:
        raise BadCase("\n".join(faults))
    return found


def _whole_rooms(given: Mapping[str, Any], row: dict[str, Any]) -> dict[str, Any]:
    """The row with its rooms laid over those of the base."""
    base, own = given.get("base", {}).get("air_ways"), row.get("facts", {}).get("air_ways")
    if not (isinstance(base, dict) and isinstance(own, dict)):
        return row
    return {**row, "facts": {**row["facts"], "air_ways": laid_over(base, own)}}


def _facts(given: Mapping[str, Any], place: str, faults: list[str]) -> dict[str, FactValue]:
    found: dict[str, FactValue] = {}
    for name, value in given.items():
        if name not in FACTS:
            faults.append(f"{place}: {name} is not a fact.")
            continue
        try:
            found[name] = fact_value(value)
        except Exception as error:
            faults.append(f"{place}: {name}: {error}")
    return found


def _case(
    rule: str, row: Mapping[str, Any], base: Mapping[str, FactValue], place: str, faults: list[str]
) -> Case | None:
    faults += [f"{place}: unknown key {key}." for key in sorted(set(row) - KEYS)]
    for key in ("name", "expect"):
        if not row.get(key):
            faults.append(f"{place}: {key} is missing.")
    if row.get("expect") not in {v.value for v in Verdict}:
        faults.append(f"{place}: expect must be one of {', '.join(Verdict)}.")
        return None
    if row.get("edition", "umc_2012") not in EDITIONS:
        faults.append(f"{place}: edition must be one of {', '.join(EDITIONS)}.")
    facts = {**base, **_facts(row.get("facts", {}), place, faults)}
    for name in row.get("missing", []):
        if facts.pop(name, None) is None:
            faults.append(f"{place}: {name} is missing from the base already.")
    amounts: dict[str, tuple[float, str] | None] = {}
    for key in ("margin", "within", "limit"):
        try:
            amounts[key] = amount(row[key]) if key in row else None
        except BadCase as error:
            faults.append(f"{place}: {key}: {error}.")
    return Case(
        rule, row.get("name", ""), row.get("edition", "umc_2012"), facts, Verdict(row["expect"]),
        amounts.get("margin"), amounts.get("within"), amounts.get("limit"),
        row.get("asks", ""), row.get("says", ""), row.get("working", ""),
    )  # fmt: skip
