"""One edition of one code: its limits, its places in the text, and what it leaves out.

An edition stands alone: it states every limit and a citation for every requirement, or says
that the requirement is absent and why. Nothing falls back on another edition.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise

from fluewright.errors import BadEdition, BadQuantity
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, parse
from fluewright.source import Basis, Citation


@frozen
class NumberLimit:
    """A single number: SI value, and the unit and text it is printed in."""

    value: float
    unit: str
    text: str
    cite: Citation


@frozen
class StepLimit:
    """A step table: rows (upper bound, value) in SI, first row whose bound is not passed."""

    rows: tuple[tuple[float, float], ...]
    unit: str
    beyond: str  # why there is no value past the last row
    cite: Citation

    def at(self, by: float) -> float | None:
        """Value for an argument; None past the last row."""
        return next((value for bound, value in self.rows if by <= bound + 1e-9), None)


@frozen
class KeyedLimit:
    """A table by row word and column word; a cell is a number in SI or words."""

    rows: Mapping[str, Mapping[str, float | str]]
    unit: str
    cite: Citation

    def cell(self, row: str, column: str) -> float | str:
        """The number, or why there is none."""
        found = self.rows.get(row, {}).get(column)
        if found is None:
            names = f"{row} and {column}".replace("_", " ")
            return f"the table has no figure for {names}"
        return found


@frozen
class WordLimit:
    """A word where editions differ in logic that is a list, not a number."""

    word: str
    cite: Citation
    unit: str = ""


LimitValue = NumberLimit | StepLimit | KeyedLimit | WordLimit


@frozen
class Requirement:
    """What an edition says of one rule: where it stands, or that it is absent and why."""

    cites: tuple[Citation, ...]
    absent: str = ""


@frozen
class Edition:
    """One code edition, loaded and checked."""

    id: str
    title: str
    document: str
    year: str
    family: str
    sha256: str
    requirements: Mapping[str, Requirement]
    limits: Mapping[str, LimitValue]
    unexamined: tuple[tuple[str, str, str], ...]  # (id, place and title, why)


@frozen
class Needed:
    """What a registered rule set asks of every edition: rule ids and limits by kind."""

    rules: tuple[str, ...]
    limits: Mapping[str, tuple[str, Dimension, Dimension | None]]  # kind, value, argument


TOP = {"edition", "requirement", "limit", "unexamined"}
HEAD_KEYS = ("id", "title", "document", "year", "family")
REQUIREMENT_KEYS = {"cites", "absent"}
CITE_KEYS = {"at", "basis", "base", "document", "edition"}
LIMIT_KEYS = {"value", "steps", "rows", "at", "basis", "base", "document", "edition", "beyond"}


def edition_from(data: Mapping[str, object], sha256: str, needed: Needed) -> Edition:
    """An edition from its parsed file, checked against what the rules need.

    Args:
        data: the parsed file.
        sha256: hash of the file's bytes.
        needed: rule ids and limits that every edition must state.
    Raises:
        BadEdition: anything is missing, unknown, doubled, without citation or not readable;
            every problem is listed, one a line.
    """
    head = mapping(data.get("edition"), "edition")
    name = str(head.get("id", "?"))
    loader = Loader(name, str(head.get("document", "")), str(head.get("year", "")))
    loader.unknown_keys("", data, TOP)
    loader.unknown_keys("edition.", head, set(HEAD_KEYS))
    for key in HEAD_KEYS:
        if not head.get(key):
            loader.problem(f"edition.{key} is missing")
    requirements = loader.requirements(mapping(data.get("requirement"), "requirement"), needed)
    limits = loader.limits(mapping(data.get("limit"), "limit"), needed)
    unexamined = loader.unexamined(mapping(data.get("unexamined", {}), "unexamined"), needed)
    if loader.problems:
        raise BadEdition("\n".join(f"edition {name}: {p}" for p in loader.problems))
    return Edition(
        name,
        str(head["title"]),
        str(head["document"]),
        str(head["year"]),
        str(head["family"]),
        sha256,
        requirements,
        limits,
        unexamined,
    )


def mapping(value: object, what: str) -> Mapping[str, object]:
    """A table of the file.

    Raises:
        BadEdition: something else stands there.
    """
    if isinstance(value, Mapping):
        return value
    raise BadEdition(f"{what}: a table is expected, {type(value).__name__} found")


class Loader:
    """Collects every problem of one edition or amendment file before giving up."""

    def __init__(self, name: str, document: str, year: str) -> None:
        self.name, self.document, self.year = name, document, year
        self.problems: list[str] = []

    def problem(self, text: str) -> None:
        """Note one problem."""
        self.problems.append(text)

    def unknown_keys(self, where: str, data: Mapping[str, object], known: set[str]) -> None:
        """Note every key that is not known here."""
        for key in data:
            if key not in known:
                self.problem(f"{where}{key} is not known. Known here: {', '.join(sorted(known))}.")

    def cite(self, where: str, raw: object) -> Citation | None:
        """A citation; None, with a problem noted, where it lacks something."""
        if not isinstance(raw, Mapping):
            self.problem(f"{where} needs a citation: at and basis.")
            return None
        at, basis = str(raw.get("at", "")), str(raw.get("basis", ""))
        if basis not in {b.value for b in Basis}:
            words = ", ".join(b.value for b in Basis)
            self.problem(f'{where}: basis "{basis}" is not known. Write one of {words}.')
            return None
        if not at:
            self.problem(f"{where}: the place (at) is missing. Add the section.")
            return None
        document = str(raw.get("document", self.document))
        year = str(raw.get("edition", self.year if "document" not in raw else ""))
        return Citation(document, year, at, Basis(basis), str(raw.get("base", "")))

    def requirements(self, raw: Mapping[str, object], needed: Needed) -> dict[str, Requirement]:
        """Every requirement of the file; one for each rule."""
        found: dict[str, Requirement] = {}
        for rule in needed.rules:
            if rule not in raw:
                self.problem(
                    f"requirement {rule} is missing. Add its cites, or state absent: <reason>."
                )
        for rule, entry in raw.items():
            where = f"requirement {rule}"
            if rule not in needed.rules:
                self.problem(f"{where} is not a registered rule.")
                continue
            if not isinstance(entry, Mapping):
                self.problem(f"{where}: a table with cites or absent is expected.")
                continue
            self.unknown_keys(f"{where}: ", entry, REQUIREMENT_KEYS)
            absent = str(entry.get("absent", ""))
            cites_raw = entry.get("cites", [])
            cites = [self.cite(where, c) for c in cites_raw] if isinstance(cites_raw, list) else []
            if not absent and not cites:
                self.problem(f"{where} has no citation. Add cites, or state absent: <reason>.")
            found[rule] = Requirement(tuple(c for c in cites if c is not None), absent)
        return found

    def limits(self, raw: Mapping[str, object], needed: Needed) -> dict[str, LimitValue]:
        """Every limit of the file; one for each that the rules use."""
        found: dict[str, LimitValue] = {}
        for key in needed.limits:
            if key not in raw:
                self.problem(f"limit {key} is missing. Add it with its place and basis.")
        for key, entry in raw.items():
            limit = self.limit(key, entry, needed)
            if limit is not None:
                found[key] = limit
        return found

    def limit(self, key: str, entry: object, needed: Needed) -> LimitValue | None:
        """One limit; None, with a problem noted, where it cannot be read."""
        if key not in needed.limits:
            self.problem(f"limit {key} is used by no rule.")
            return None
        if not isinstance(entry, Mapping):
            self.problem(f"limit {key}: a table with value, at and basis is expected.")
            return None
        self.unknown_keys(f"limit {key}: ", entry, LIMIT_KEYS)
        cite = self.cite(f"limit {key}", entry)
        if cite is None:
            return None
        try:
            return _limit(entry, cite, *needed.limits[key])
        except KeyError as error:
            self.problem(f"limit {key}: {error.args[0]} is missing.")
        except (BadQuantity, ValueError, TypeError) as error:
            self.problem(f"limit {key}: {error}")
        return None

    def unexamined(
        self, raw: Mapping[str, object], needed: Needed
    ) -> tuple[tuple[str, str, str], ...]:
        """What the edition holds that no rule judges."""
        rows: list[tuple[str, str, str]] = []
        for rule, entry in raw.items():
            if rule in needed.rules:
                self.problem(f"unexamined {rule} is a registered rule; take it out.")
            elif not isinstance(entry, Mapping) or not entry.get("at") or not entry.get("why"):
                self.problem(f"unexamined {rule} needs at and why.")
            else:
                rows.append((rule, str(entry["at"]), str(entry["why"])))
        return tuple(rows)


def _bound(text: str, dimension: Dimension) -> float:
    """Upper bound of a row; ``any`` is a last row without one."""
    return math.inf if text == "any" else parse(text, dimension).value


def _limit(
    entry: Mapping[str, object],
    cite: Citation,
    kind: str,
    dimension: Dimension,
    argument: Dimension | None,
) -> LimitValue:
    if kind == "number":
        text = str(entry["value"])
        got = parse(text, dimension)
        return NumberLimit(got.value, got.unit, text, cite)
    if kind == "steps" and argument is not None:
        rows_raw = entry["steps"]
        if not isinstance(rows_raw, list) or not rows_raw:
            raise ValueError("steps must be a list of [up to, value].")
        rows = [(_bound(str(a), argument), parse(str(b), dimension)) for a, b in rows_raw]
        if any(x[0] >= y[0] for x, y in pairwise(rows)):
            raise ValueError("steps must rise.")
        unit = rows[0][1].unit
        return StepLimit(tuple((a, b.value) for a, b in rows), unit, str(entry["beyond"]), cite)
    if kind == "word":
        return WordLimit(str(entry["value"]), cite)
    rows_map = entry["rows"]
    if not isinstance(rows_map, Mapping):
        raise ValueError("rows must be a table of tables.")
    cells: dict[str, dict[str, float | str]] = {}
    unit = ""
    for row, columns in rows_map.items():
        cells[str(row)] = {}
        for column, cell in columns.items():
            text = str(cell)
            if text and (text[0].isdigit()):
                got = parse(text, dimension)
                unit = unit or got.unit
                cells[str(row)][str(column)] = got.value
            else:
                cells[str(row)][str(column)] = text
    return KeyedLimit(cells, unit, cite)
