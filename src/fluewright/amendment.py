"""A jurisdiction's amendments: a small file of its own over an edition.

It changes limits, adds a requirement that the edition lacks, or strikes one, each with its own
citation. What it does not name stays as the edition has it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fluewright.edition import (
    Edition,
    LimitValue,
    Loader,
    Needed,
    Requirement,
    mapping,
)
from fluewright.errors import BadEdition
from fluewright.source import Citation

TOP = {"amendment", "requirement", "limit"}
HEAD_KEYS = ("id", "title", "over", "document", "year")
REQUIREMENT_KEYS = {"cites", "struck", "at", "basis", "base", "document", "edition"}


def over(data: Mapping[str, object]) -> str:
    """Id of the edition that an amendment file stands over.

    Raises:
        BadEdition: the file does not say.
    """
    head = mapping(data.get("amendment"), "amendment")
    if not isinstance(head.get("over"), str):
        raise BadEdition("amendment.over is missing. Write the id of the edition, umc_2012.")
    return str(head["over"])


def amended(
    base: Edition,
    data: Mapping[str, object],
    sha256: str,
    needed: Needed,
    users: Mapping[str, tuple[str, ...]],
) -> Edition:
    """An edition with a jurisdiction's amendments put over it.

    Args:
        base: the edition that the file names in ``over``.
        data: the parsed amendment file.
        sha256: hash that stands for the bytes of both files.
        needed: what the rules know.
        users: for each limit the rules that use it; they cite the amendment as well.
    Raises:
        BadEdition: anything is missing, unknown or not readable; every problem is listed.
    """
    head = mapping(data.get("amendment"), "amendment")
    name = str(head.get("id", "?"))
    loader = Loader(name, str(head.get("document", "")), str(head.get("year", "")))
    loader.unknown_keys("", data, TOP)
    loader.unknown_keys("amendment.", head, {*HEAD_KEYS, "invented"})
    for key in HEAD_KEYS:
        if not head.get(key):
            loader.problem(f"amendment.{key} is missing")
    if head.get("over") != base.id:
        loader.problem(f"it stands over {head.get('over')}, not over {base.id}")
    limits, requirements = _changes(loader, base, data, needed, users)
    if loader.problems:
        raise BadEdition("\n".join(f"amendment {name}: {p}" for p in loader.problems))
    return replace(
        base,
        id=f"{base.id}+{name}",
        title=f"{base.title}, as amended by {head['title']}",
        sha256=sha256,
        requirements=requirements,
        limits=limits,
    )


def _changes(
    loader: Loader,
    base: Edition,
    data: Mapping[str, object],
    needed: Needed,
    users: Mapping[str, tuple[str, ...]],
) -> tuple[dict[str, LimitValue], dict[str, Requirement]]:
    requirements, limits = dict(base.requirements), dict(base.limits)
    changed = mapping(data.get("limit", {}), "limit")
    for key, entry in changed.items():
        limit = loader.limit(key, entry, needed)
        if limit is None:
            continue
        limits[key] = limit
        for rule in users.get(key, ()):
            held = requirements[rule]
            requirements[rule] = replace(held, cites=(limit.cite, *held.cites))
    for rule, entry in mapping(data.get("requirement", {}), "requirement").items():
        if rule not in requirements:
            loader.problem(f"requirement {rule} is not a registered rule.")
            continue
        was = requirements[rule]
        requirements[rule] = _requirement_over(loader, rule, entry, was)
        if was.absent and not requirements[rule].absent:
            _must_state(loader, rule, users, changed)
    return limits, requirements


def _must_state(
    loader: Loader,
    rule: str,
    users: Mapping[str, tuple[str, ...]],
    changed: Mapping[str, object],
) -> None:
    """A requirement that the edition lacks brings every limit it needs."""
    for key, rules in users.items():
        if rule in rules and key not in changed:
            loader.problem(f"requirement {rule} is added, but its limit {key} is not stated.")


def _requirement_over(loader: Loader, rule: str, entry: object, held: Requirement) -> Requirement:
    """A requirement struck, or asked with places of its own before those of the edition."""
    where = f"requirement {rule}"
    if not isinstance(entry, Mapping):
        loader.problem(f"{where}: a table with cites or struck is expected.")
        return held
    loader.unknown_keys(f"{where}: ", entry, REQUIREMENT_KEYS)
    struck = str(entry.get("struck", ""))
    if struck:
        cite = loader.cite(where, entry)
        return held if cite is None else Requirement((), f"struck by {cite.text()}: {struck}")
    given = entry.get("cites")
    cites: list[Citation | None] = (
        [loader.cite(where, one) for one in given] if isinstance(given, list) else []
    )
    if not cites:
        loader.problem(f"{where} has neither cites nor struck. Add one with its place.")
    return Requirement((*(c for c in cites if c is not None), *held.cites))
