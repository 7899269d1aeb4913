"""Reads the published checks: values that somebody else printed, each with its source.

A file of ``tests/published`` holds ``[[check]]`` entries with these keys::

    id         unique within the file
    source     document, edition and place where the value is printed
    checks     name of the computation, a key of ``published_adapters.ADAPTERS``
    given      what goes in, as printed, units in the names
    expect     the printed number or words
    unit       of the number, or empty
    tolerance  {abs = number, why = "reason"}: never without its reason
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "published"
KEYS = {"id", "source", "checks", "given", "expect", "unit", "tolerance"}


@dataclass(frozen=True, slots=True)
class Check:
    """One published value and what must come out near it."""

    id: str
    source: str
    checks: str
    given: Mapping[str, Any]
    expect: float | str
    unit: str
    tolerance: float
    why: str

    def difference(self, computed: float | str) -> float | None:
        """Computed less published; None for words."""
        if isinstance(self.expect, str) or isinstance(computed, str):
            return None
        return computed - self.expect

    def agrees(self, computed: float | str) -> bool:
        """Whether the computed value is within the tolerance, or the words are the same."""
        difference = self.difference(computed)
        return computed == self.expect if difference is None else abs(difference) <= self.tolerance


class BadCheck(Exception):
    """A published check that lacks its source, tolerance or reason, or is malformed."""


def names() -> list[str]:
    """Names of the files of published checks, without their ending."""
    return sorted(path.stem for path in FOLDER.glob("*.toml"))


def load(name: str) -> list[Check]:
    """The checks of ``tests/published/<name>.toml``, in file order."""
    return read((FOLDER / f"{name}.toml").read_text(encoding="utf-8"), f"{name}.toml")


def read(text: str, file: str) -> list[Check]:
    """The checks that a text holds.

    Raises:
        BadCheck: every fault found, one a line.
    """
    given = tomllib.loads(text)
    faults: list[str] = []
    if set(given) != {"check"}:
        faults.append(f"{file}: write [[check]] entries and nothing else.")
    found: list[Check] = []
    for number, entry in enumerate(given.get("check", []), 1):
        place = f"{file}: check {entry.get('id') or number}"
        own = _faults_of(entry)
        faults += [f"{place}: {fault}" for fault in own]
        if not own:
            tolerance = entry["tolerance"]
            found.append(
                Check(
                    entry["id"], entry["source"], entry["checks"], entry["given"],
                    entry["expect"], entry["unit"], float(tolerance["abs"]), tolerance["why"],
                )
            )  # fmt: skip
    ids = [check.id for check in found]
    faults += [
        f"{file}: check {one}: a second one of this id." for one in ids if ids.count(one) > 1
    ]
    if faults:
        raise BadCheck("\n".join(faults))
    return found


def _faults_of(entry: Mapping[str, Any]) -> list[str]:
    """What is wrong with one entry."""
    faults = [f"unknown key {key}." for key in sorted(set(entry) - KEYS)]
    faults += [f"{key} is missing." for key in sorted(KEYS - set(entry))]
    for key in ("id", "source", "checks"):
        if key in entry and not (isinstance(entry[key], str) and entry[key].strip()):
            faults.append(f"{key} is empty.")
    tolerance = entry.get("tolerance", {"abs": 0, "why": "-"})
    if not isinstance(tolerance, dict) or set(tolerance) != {"abs", "why"}:
        faults.append("tolerance must be {abs = number, why = reason}.")
    else:
        size = tolerance["abs"]
        if not isinstance(size, int | float) or isinstance(size, bool) or not 0 <= size < 1e12:
            faults.append("tolerance.abs must be a number, zero or more.")
        if not (isinstance(tolerance["why"], str) and tolerance["why"].strip()):
            faults.append("tolerance.why is empty.")
    if not isinstance(entry.get("expect", 0), int | float | str):
        faults.append("expect must be a number or words.")
    return faults
