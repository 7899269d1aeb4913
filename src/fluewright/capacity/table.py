"""A capacity table as printed: its cells, how well each is known, and the reading of its text.

Printed units are kept here (feet, inches, thousands of Btu/h), so that a cell can be compared
with the page. Nothing is computed between the cells; see ``between``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from fluewright.errors import BadEdition
from fluewright.frozen import frozen

FT_M = 0.3048
IN_M = 0.0254
KBTU_H_W = 1055.05585262 / 3.6  # 1000 Btu (International Table) an hour, in watts

DOUBT_HEADER = (
    "table", "height_ft", "across", "size", "column",
    "value", "confidence", "agree", "differ", "note",
)  # fmt: skip
NOT_ALLOWED = "NA"  # printed: the arrangement has no capacity
MISSING = "missing"  # ours: the cell was never read

# Height in feet; what the rows of one height run across, by the layout; the size of a column.
Spot = tuple[float, float, float]


class Column(StrEnum):
    """One figure of an entry. FAN and NAT are the names in print."""

    FAN_MIN = "fan_min"
    FAN_MAX = "fan_max"
    NAT_MAX = "nat_max"
    FAN_FAN = "fan_fan"
    FAN_NAT = "fan_nat"
    NAT_NAT = "nat_nat"
    LEAST_INPUT = "least_input"  # of a space heater on an exterior chimney

    @property
    def printed(self) -> str:
        """The heading for people: FAN Min, FAN Max, NAT Max."""
        return _PRINTED[self.value]

    @property
    def is_maximum(self) -> bool:
        """Whether the strict side of this figure is the low one."""
        return self not in (Column.FAN_MIN, Column.LEAST_INPUT)


_PRINTED = {
    "fan_min": "FAN Min",
    "fan_max": "FAN Max",
    "nat_max": "NAT Max",
    "fan_fan": "FAN+FAN",
    "fan_nat": "FAN+NAT",
    "nat_nat": "NAT+NAT",
    "least_input": "least input",
}

COLUMNS = (Column.FAN_MIN, Column.FAN_MAX, Column.NAT_MAX)
SHARED = (Column.FAN_FAN, Column.FAN_NAT, Column.NAT_NAT)


@frozen
class Layout:
    """How a table is laid out in its file.

    ``across`` names the second reading of a row, as people and the heading call it, or is
    empty where a height has one row. ``size`` heads the third: a diameter or a flue area.
    """

    across: str
    across_unit: str
    size: str
    columns: tuple[Column, ...]
    part: str = "vent"  # whose size it is

    @property
    def header(self) -> tuple[str, ...]:
        """The heading of the file."""
        across = (f"{self.across.replace(' ', '_')}_{self.across_unit}",) if self.across else ()
        return ("height_ft", *across, self.size, *self.columns, "sources")

    @property
    def size_unit(self) -> str:
        """The unit of the size: in, or in2."""
        return self.size.rsplit("_", 1)[1]


ALONE = Layout("lateral", "ft", "diameter_in", COLUMNS)
ON_CHIMNEY = Layout("lateral", "ft", "diameter_in", COLUMNS, part="connector")
# Appliances that share a vent: their connectors, and the common vent itself.
CONNECTOR = Layout("rise", "ft", "diameter_in", COLUMNS, part="connector")
HOOD_CONNECTOR = Layout("rise", "ft", "diameter_in", (Column.NAT_MAX,), part="connector")
COMMON = Layout("", "", "diameter_in", SHARED, part="common vent")
HOODS_COMMON = Layout("", "", "diameter_in", (Column.NAT_NAT,), part="common vent")
COMMON_FLUE = Layout("", "", "flue_in2", SHARED, part="flue")
# Exterior chimneys; the second reading is the lower end of a band of winter temperature.
EXTERIOR_LEAST = Layout("winter design", "degf", "flue_in2", (Column.LEAST_INPUT,))
EXTERIOR_HOODS = Layout("", "", "flue_in2", (Column.NAT_NAT,))
EXTERIOR_MIXED = Layout("", "", "flue_in2", (Column.FAN_NAT,))


class Confidence(StrEnum):
    """How well one cell is known."""

    CONFIRMED = "confirmed"  # two sources agree, at least one of them a document
    SINGLE = "single"  # one source, nearly always memory
    DOUBTFUL = "doubtful"  # two sources differ and none decides, or the neighbors contradict it


@frozen
class Cell:
    """One figure of a table. ``kbtu_h`` is None where the page says NA or was never read."""

    table: str
    height_ft: float
    across: float
    size: float
    column: Column
    kbtu_h: float | None
    missing: bool
    confidence: Confidence
    differ: str = ""  # what another source has
    layout: Layout = ALONE
    note: str = ""  # what to know about it

    def text(self) -> str:
        """Where the cell stands, for people."""
        how, across = self.layout, ""
        if how.across:
            across = f" {how.across} {self.across:g} {how.across_unit},"
        return (
            f"table {self.table} at height {self.height_ft:g} ft,{across} "
            f"{self.size:g} {how.size_unit}, {self.column.printed}"
        )


@frozen
class Doubt:
    """Why a cell is not confirmed: the sources that have its value, and those that differ."""

    confidence: Confidence
    agree: str
    differ: str
    note: str


@frozen
class CapacityTable:
    """One table: its grid, its figures in thousands of Btu/h, and the cells not confirmed.

    Each height has laterals of its own (or what else its layout puts there; a single 0 where a
    height has one row). A figure is None where the page says NA; a cell that was never read is
    None too and stands in ``missing``. A table for masonry chimneys holds for a flue of some
    least clear area.
    """

    id: str
    heights: tuple[float, ...]
    laterals: Mapping[float, tuple[float, ...]]
    sizes: tuple[float, ...]
    values: Mapping[Spot, tuple[float | None, ...]]
    missing: frozenset[tuple[Spot, Column]]
    doubts: Mapping[tuple[Spot, Column], Doubt]
    layout: Layout = ALONE
    least_flue_in2: Mapping[float, float] = field(default_factory=dict)  # by connector, inches

    def cell(self, height_ft: float, across: float, size: float, column: Column) -> Cell:
        """The cell of one entry; the entry must be one of the grid."""
        spot = (height_ft, across, size)
        doubt = self.doubts.get((spot, column))
        return Cell(
            self.id,
            *spot,
            column,
            self.values[spot][self.layout.columns.index(column)],
            (spot, column) in self.missing,
            doubt.confidence if doubt else Confidence.CONFIRMED,
            doubt.differ if doubt else "",
            self.layout,
            doubt.note if doubt else "",
        )

    def has_figures(self, column: Column) -> bool:
        """Whether the table prints any figure in this column."""
        if column not in self.layout.columns:
            return False
        at = self.layout.columns.index(column)
        return any(entry[at] is not None for entry in self.values.values())


def table_from_csv(
    text: str, id: str, not_confirmed: str = "", layout: Layout = ALONE
) -> CapacityTable:
    """The table that a CSV text holds, with its cells not confirmed marked.

    Args:
        text: rows under the layout's heading; NA as printed, ``missing`` for a cell not read.
        id: name of the table; rows of ``not_confirmed`` for other tables are passed over.
        not_confirmed: rows under the heading ``DOUBT_HEADER``; their fields hold no comma.
        layout: what the columns are.

    Returns:
        The table, its grid complete: every entry of a height and lateral has every diameter.

    Raises:
        BadEdition: every fault found, one a line, with file and line.
    """
    reader = _Reader(id, layout)
    for line, fields in _rows(text, f"{id}.csv", layout.header, reader.faults):
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
        layout,
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
    layout: Layout
    faults: list[str] = field(default_factory=list)
    grid: dict[float, list[float]] = field(default_factory=dict)
    values: dict[Spot, tuple[float | None, ...]] = field(default_factory=dict)
    missing: set[tuple[Spot, Column]] = field(default_factory=set)
    doubts: dict[tuple[Spot, Column], Doubt] = field(default_factory=dict)

    def entry(self, line: int, fields: list[str]) -> None:
        """Take one row of the table."""
        first = 3 if self.layout.across else 2
        try:
            height, size = float(fields[0]), float(fields[first - 1])
            across = float(fields[1]) if self.layout.across else 0.0
            figures = tuple(_figure(text) for text in fields[first:-1])
        except ValueError as error:
            self._fault(
                line, f"{error}. Write a number; in the last three also {NOT_ALLOWED} or {MISSING}."
            )
            return
        spot = (height, across, size)
        if spot in self.values:
            self._fault(
                line,
                f"a second row for {self._words(height, across)}, {size:g} "
                f"{self.layout.size_unit}.",
            )
        columns = self.layout.columns
        if MISSING in fields:
            self.missing.update(
                (spot, name) for name, text in zip(columns, fields[first:-1], strict=True)
                if text == MISSING
            )  # fmt: skip
        if columns is COLUMNS:
            self._check_fan(line, figures[0], figures[1])
        if not fields[-1].strip():
            self._fault(line, "sources is empty. Name who printed the row.")
        self.values[spot] = figures
        laterals = self.grid.setdefault(height, [])
        if across not in laterals:
            laterals.append(across)

    def _check_fan(self, line: int, low: float | None, high: float | None) -> None:
        if (low is None) != (high is None):
            self._fault(line, "fan_min and fan_max must both be numbers or both NA.")
        elif low is not None and high is not None and low > high:
            self._fault(line, f"fan_min {low:g} is more than fan_max {high:g}.")

    def check_grid(self) -> None:
        """Grid lines rise, and every height and lateral has every diameter."""
        sizes = {size for _, _, size in self.values}
        if list(self.grid) != sorted(self.grid):
            self.faults.append(f"{self.id}.csv: heights must rise from row to row.")
        for height, laterals in self.grid.items():
            if laterals != sorted(laterals):
                self.faults.append(
                    f"{self.id}.csv: {self.layout.across}s at {height:g} ft must rise."
                )
            for lateral in laterals:
                absent = sizes - {s for s in sizes if (height, lateral, s) in self.values}
                if absent:
                    names = ", ".join(f"{size:g}" for size in sorted(absent))
                    self.faults.append(
                        f"{self.id}.csv: no row for {self._words(height, lateral)} and {names} "
                        f"{self.layout.size_unit}."
                    )

    def _words(self, height: float, across: float) -> str:
        """The row of the table, for people."""
        second = f", {across:g} {self.layout.across_unit}" if self.layout.across else ""
        return f"{height:g} ft{second}"

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
        elif column not in self.layout.columns:
            self.faults.append(f"{place}: table {self.id} has no {column.printed}.")
            return
        elif self.values[spot][self.layout.columns.index(column)] != value:
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
