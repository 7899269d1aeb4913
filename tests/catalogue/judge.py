"""Verdict of a check on facts, and the tables that checks look into."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from functools import cache
from pathlib import Path

from tests.catalogue.parse import Check, parse
from tests.catalogue.values import BARRED, NONE, UNKNOWN, Value, below

FOLDER = Path(__file__).parent
PASS, FAIL, OPEN, NOT_ASKED, REPORT = "pass", "fail", "unknown", "not_applicable", "report_only"
VERDICTS = (PASS, FAIL, OPEN, NOT_ASKED, REPORT)


def _read(name: str) -> dict[str, object]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def fact_kinds() -> dict[str, object]:
    """Facts of the catalogue: a unit, "yes or no", or the words it may be."""
    return _read("facts")


@cache
def tables() -> dict[str, object]:
    """Tables of the catalogue."""
    return _read("tables")


@cache
def check_texts() -> dict[str, str]:
    """Checks of the catalogue, by id."""
    return {name: str(text) for name, text in _read("checks").items()}


@cache
def check_of(rule: str) -> Check:
    """The check of a rule."""
    return parse(check_texts()[rule], frozenset(fact_kinds()))


class Facts:
    """One set of facts, judged as often as wanted; facts and verdicts are worked out once."""

    def __init__(self, read: Callable[[str], Value]) -> None:
        self.read = read
        self.known: dict[str, Value] = {}
        self.instead: dict[str, str] = {}
        self.verdicts: dict[str, str] = {}
        self.local: dict[str, Value] = {}

    def fact(self, name: str) -> Value:
        name = self.instead.get(name, name)
        if name not in self.known:
            self.known[name] = self.read(name)
        return self.known[name]

    def result(self, rule: str) -> Value:
        found = self.verdict(rule)
        return UNKNOWN if found == OPEN else found

    def lookup(self, table: str, keys: tuple[Value, ...]) -> Value:
        return looked_up(table, keys)

    def column(self, table: str, keys: tuple[Value, ...], name: str) -> Value:
        if UNKNOWN in keys:
            return UNKNOWN
        row = tables()[table].get(keys[0])  # type: ignore[attr-defined]
        return UNKNOWN if row is None else tuple(row[name])

    def verdict(self, rule: str) -> str:
        """Verdict of a rule's check on these facts."""
        if rule not in self.verdicts:
            kept, self.local = self.local, {}
            self.verdicts[rule] = self._judged(check_of(rule))
            self.local = kept
        return self.verdicts[rule]

    def _judged(self, check: Check) -> str:
        first = self._clauses(check)
        if not check.doubts or first not in (FAIL, OPEN):
            return first
        self.instead = {q: p for p, q in check.doubts}
        second = self._clauses(check)
        self.instead = {}
        return FAIL if second == FAIL else OPEN

    def _clauses(self, check: Check) -> str:
        return joined([self._clause(*clause) for clause in check.clauses])

    def _clause(self, applies: Callable[..., Value], body: Callable[..., Value] | None) -> str:
        gate = applies(self)
        if gate is UNKNOWN:
            return OPEN
        if gate is False or gate is NONE:
            return NOT_ASKED
        if body is None:
            return REPORT
        met = body(self)
        return OPEN if met is UNKNOWN else PASS if met is True else FAIL


def joined(found: list[str]) -> str:
    """Verdict of several clauses: every clause that applies must pass."""
    for verdict in (FAIL, OPEN, PASS, REPORT):
        if verdict in found:
            return verdict
    return NOT_ASKED


def looked_up(table: str, keys: tuple[Value, ...]) -> Value:
    """A cell: unknown where a key is or no row fits, barred where nothing is permitted."""
    if UNKNOWN in keys:
        return UNKNOWN
    book, _, part = table.partition(".")
    found: object = tables()[book]
    if part:
        found = found[part]  # type: ignore[index]
    if isinstance(found, list):
        return _stepped(found, keys[0])
    for key in keys:
        if not isinstance(found, dict):
            return UNKNOWN
        found = found.get(_key(key))
    return _cell(found)


def _key(key: Value) -> str:
    if key is NONE:
        return "none"
    return f"{key:g}" if isinstance(key, float) else str(key)


def _cell(found: object) -> Value:
    if found in ("not_permitted", "NA"):
        return BARRED
    if isinstance(found, int | float):
        return float(found)
    return "as_listed" if found == "as_listed" else UNKNOWN  # no row fits


def _stepped(rows: list[list[float]], by: Value) -> Value:
    """First row whose upper bound is not passed."""
    for bound, cell in rows:
        above = below(float(bound), by)
        if above is UNKNOWN:
            return UNKNOWN
        if not above:
            return float(cell)
    return UNKNOWN
