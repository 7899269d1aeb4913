"""A capacity table as printed: its cells, how well each is known, and the reading of its text.

Printed units are kept here (feet, inches, thousands of Btu/h), so that a cell can be compared
with the page. Nothing is computed between the cells; see ``between``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from fluewright.errors import BadEdition

FT_M = 0.3048
IN_M = 0.0254
KBTU_H_W = 1055.05585262 / 3.6  # 1000 Btu (International Table) an hour, in watts

HEADER = ("height_ft", "lateral_ft", "diameter_in", "fan_min", "fan_max", "nat_max", "sources")
DOUBT_HEADER = (
    "table", "height_ft", "lateral_ft", "diameter_in", "column",
    "value", "confidence", "agree", "differ", "note",
)  # fmt: skip
NOT_ALLOWED = "NA"  # printed: the arrangement has no capacity
MISSING = "missing"  # ours: the cell was never read

Spot = tuple[float, float, float]  # height and lateral in feet, diameter in inches


class Column(StrEnum):
    """One of the three figures of an entry, by the name it has in print."""

    FAN_MIN = "fan_min"
    FAN_MAX = "fan_max"
    NAT_MAX = "nat_max"

    @property
    def printed(self) -> str:
        """The heading in print: FAN Min, FAN Max, NAT Max."""
        kind, bound = self.value.split("_")
        return f"{kind.upper()} {bound.capitalize()}"

    @property
    def is_maximum(self) -> bool:
        """Whether the strict side of this figure is the low one."""
        return self is not Column.FAN_MIN


COLUMNS = tuple(Column)


class Confidence(StrEnum):
    """How well one cell is known."""

    CONFIRMED = "confirmed"  # two sources agree, at least one of them a document
    SINGLE = "single"  # one source, nearly always memory
    DOUBTFUL = "doubtful"  # two sources differ and none decides


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure of a table. ``kbtu_h`` is None where the page says NA or was never read."""

    table: str
    height_ft: float
    lateral_ft: float
    diameter_in: float
    column: Column
    kbtu_h: float | None
    missing: bool
    confidence: Confidence
    differ: str = ""  # what another source has

    def text(self) -> str:
        """Where the cell stands, for people."""
        return (
            f"table {self.table} at height {self.height_ft:g} ft, lateral {self.lateral_ft:g} ft, "
            f"{self.diameter_in:g} in, {self.column.printed}"
        )


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a cell is not confirmed: the sources that have its value, and those that differ."""

    confidence: Confidence
    agree: str
    differ: str
    note: str


@dataclass(frozen=True, slots=True)
class CapacityTable:
    """One table: its grid, its figures in thousands of Btu/h, and the cells not confirmed.

    Each height has laterals of its own. A figure is None where the page says NA; a cell that
    was never read is None too and stands in ``missing``.
    """

    id: str
    heights: tuple[float, ...]
    laterals: Mapping[float, tuple[float, ...]]
    sizes: tuple[float, ...]
    values: Mapping[Spot, tuple[float | None, float | None, float | None]]
    missing: frozenset[tuple[Spot, Column]]
    doubts: Mapping[tuple[Spot, Column], Doubt]

    def cell(self, height_ft: float, lateral_ft: float, diameter_in: float, column: Column) -> Cell:
        """The cell of one entry; the entry must be one of the grid."""
        spot = (height_ft, lateral_ft, diameter_in)
        doubt = self.doubts.get((spot, column))
        return Cell(
            self.id,
            *spot,
            column,
            self.values[spot][COLUMNS.index(column)],
            (spot, column) in self.missing,
            doubt.confidence if doubt else Confidence.CONFIRMED,
            doubt.differ if doubt else "",
        )

    def has_figures(self, column: Column) -> bool:
        """Whether the table prints any figure in this column."""
        at = COLUMNS.index(column)
        return any(entry[at] is not None for entry in self.values.values())


def table_from_csv(text: str, id: str, not_confirmed: str = "") -> CapacityTable:
    """The table that a CSV text holds, with its cells not confirmed marked.

    Args:
        text: rows under the heading ``HEADER``; NA as printed, ``missing`` for a cell not read.
        id: name of the table; rows of ``not_confirmed`` for other tables are passed over.
        not_confirmed: rows under the heading ``DOUBT_HEADER``; their fields hold no comma.

    Returns:
        The table, its grid complete: every entry of a height and lateral has every diameter.

    Raises:
        BadEdition: every fault found, one a line, with file and line.
    """
    reader = _Reader(id)
    for line, fields in _rows(text, f"{id}.csv", HEADER, reader.faults):
        reader.entry(line, fields)
    reader.check_grid()
    for line, fields in _rows(not_confirmed, "not_confirmed.csv", DOUBT_HEADER, reader.faults):
        if fields[0] == id:
            reader.doubt(line, fields)
    if reader.faults:
        raise BadEdition("\n".join(reader.faults))
    return CapacityTable(
        id,
        tuple(reader.grid),
        {height: tuple(laterals) for height, laterals in reader.grid.items()},
        tuple(sorted({size for _, _, size in reader.values})),
        reader.values,
        frozenset(reader.missing),
        reader.doubts,
    )


def _rows(
    text: str, file: str, header: tuple[str, ...], faults: list[str]
) -> Iterable[tuple[int, list[str]]]:
    """Line number and fields of each data row; a wrong heading or count is a fault."""
    lines = text.splitlines()
    if not lines and header is DOUBT_HEADER:
        return
    if not lines or tuple(lines[0].split(",")) != header:
        found = lines[0] if lines else "nothing"
        faults.append(f"{file}:1: the heading is {found!r}. Write {','.join(header)}.")
        return
    for number, line in enumerate(lines[1:], 2):
        fields = line.split(",")
        if len(fields) == len(header):
            yield number, fields
        else:
            faults.append(f"{file}:{number}: {len(fields)} fields. Write {len(header)}.")


@dataclass(slots=True)
class _Reader:
    """Collects the entries of one table, and every fault met on the way."""

    id: str
    faults: list[str] = field(default_factory=list)
    grid: dict[float, list[float]] = field(default_factory=dict)
    values: dict[Spot, tuple[float | None, float | None, float | None]] = field(
        default_factory=dict
    )
    missing: set[tuple[Spot, Column]] = field(default_factory=set)
    doubts: dict[tuple[Spot, Column], Doubt] = field(default_factory=dict)

    def entry(self, line: int, fields: list[str]) -> None:
        """Take one row of the table."""
        try:
            height, lateral, size = spot = (float(fields[0]), float(fields[1]), float(fields[2]))
            low, high, nat = (_figure(text) for text in fields[3:6])
        except ValueError as error:
            self._fault(
                line, f"{error}. Write a number; in the last three also {NOT_ALLOWED} or {MISSING}."
            )
            return
        if spot in self.values:
            self._fault(line, f"a second row for {height:g} ft, {lateral:g} ft, {size:g} in.")
        if MISSING in fields:
            self.missing.update(
                (spot, name) for name, text in zip(COLUMNS, fields[3:6], strict=True)
                if text == MISSING
            )  # fmt: skip
        if (low is None) != (high is None):
            self._fault(line, "fan_min and fan_max must both be numbers or both NA.")
        elif low is not None and high is not None and low > high:
            self._fault(line, f"fan_min {low:g} is more than fan_max {high:g}.")
        if not fields[6].strip():
            self._fault(line, "sources is empty. Name who printed the row.")
        self.values[spot] = (low, high, nat)
        laterals = self.grid.setdefault(height, [])
        if lateral not in laterals:
            laterals.append(lateral)

    def check_grid(self) -> None:
        """Grid lines rise, and every height and lateral has every diameter."""
        sizes = {size for _, _, size in self.values}
        if list(self.grid) != sorted(self.grid):
            self.faults.append(f"{self.id}.csv: heights must rise from row to row.")
        for height, laterals in self.grid.items():
            if laterals != sorted(laterals):
                self.faults.append(f"{self.id}.csv: laterals at {height:g} ft must rise.")
            for lateral in laterals:
                absent = sizes - {s for s in sizes if (height, lateral, s) in self.values}
                if absent:
                    names = ", ".join(f"{size:g}" for size in sorted(absent))
                    self.faults.append(
                        f"{self.id}.csv: no row for {height:g} ft, {lateral:g} ft and {names} in."
                    )

    def doubt(self, line: int, fields: list[str]) -> None:
        """Take one row of the cells not confirmed; it must repeat the cell's value."""
        place = f"not_confirmed.csv:{line}"
        try:
            spot = (float(fields[1]), float(fields[2]), float(fields[3]))
            column, value = Column(fields[4]), _figure(fields[5])
            confidence = Confidence(fields[6])
        except ValueError as error:
            self.faults.append(f"{place}: {error}. Write numbers, a column and a confidence.")
            return
        if spot not in self.values:
            self.faults.append(f"{place}: table {self.id} has no such entry.")
        elif self.values[spot][COLUMNS.index(column)] != value:
            self.faults.append(f"{place}: the value is {fields[5]}, the table has another.")
        elif confidence is Confidence.CONFIRMED:
            self.faults.append(f"{place}: a confirmed cell does not belong here. Take it out.")
        elif (spot, column) in self.doubts:
            self.faults.append(f"{place}: a second row for this cell.")
        self.doubts[spot, column] = Doubt(confidence, *fields[7:])

    def _fault(self, line: int, message: str) -> None:
        self.faults.append(f"{self.id}.csv:{line}: {message}")


def _figure(text: str) -> float | None:
    """A figure in thousands of Btu/h, or None for NA and for a cell not read."""
    if text in (NOT_ALLOWED, MISSING):
        return None
    value = float(text)
    if not 0 <= value < 1e6:
        raise ValueError(f"{text} is no capacity in thousands of Btu/h")
    return value
