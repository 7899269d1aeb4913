"""The cells of the printed capacity tables as the model meets them, and how far it is off."""

from __future__ import annotations

import csv
import hashlib
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from fluewright.draft.bases import CodeBasis
from fluewright.draft.capacity_model import Arrangement, carried_input
from fluewright.errors import NotSolved

ROOT = Path(__file__).parents[1]
DATA = ROOT / "src" / "fluewright" / "data"
FOOT_M, INCH_M, KBTU_H_W = 0.3048, 0.0254, 293.07107
NO_FIGURE = ("NA", "missing", "")
TWO_ELBOWS = (90.0, 90.0)  # what the tables take for granted where there is a lateral

# Least inside area of a masonry flue for each connector [in2] (UMC 2012 Tables 803.1.3(3), (4)).
LEAST_FLUE_IN2 = {3: 12, 4: 19, 5: 28, 6: 38, 7: 50, 8: 63, 9: 78, 10: 95, 12: 132}

# Vent, connector of each table of one appliance.
WALLS = {
    "T1": ("type_b", "type_b"),
    "T2": ("type_b", "single_wall"),
    "T3": ("masonry", "type_b"),
    "T4": ("masonry", "single_wall"),
    "T5": ("single_wall", "single_wall"),
}


@dataclass(frozen=True, slots=True)
class Cell:
    """One printed capacity. [ft, ft, in, kBtu/h]"""

    table: str
    column: str
    height_ft: float
    lateral_ft: float
    diameter_in: float
    kbtu_h: float
    confirmed: bool

    @property
    def place(self) -> str:
        """Where it stands."""
        return f"{self.height_ft:g} ft, lateral {self.lateral_ft:g} ft, {self.diameter_in:g} in"

    @property
    def fitted(self) -> bool:
        """Whether it is in the half that figures are fitted to: by a hash of its place."""
        key = f"{self.height_ft:g} {self.lateral_ft:g} {self.diameter_in:g}"
        return hashlib.sha256(key.encode()).digest()[0] % 2 == 0


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a set of computed figures is off, in percent of the printed ones."""

    cells: int
    unanswered: int
    bias: float
    median: float
    p90: float
    worst: float
    worst_at: str


@cache
def cells(table: str, column: str) -> tuple[Cell, ...]:
    """Every cell of a column that holds a figure."""
    doubts = {
        (row["height_ft"], row["across"], row["size"])
        for row in rows_of("not_confirmed.csv")
        if row["table"] == table and row["column"] == column
    } | {
        (row["height_ft"], row["across"], row["size"])
        for row in rows_of("not_confirmed_masonry.csv")
        if row["table"] == table and row["column"] == column
    }
    return tuple(
        Cell(
            table,
            column,
            float(row["height_ft"]),
            float(row["lateral_ft"]),
            float(row["diameter_in"]),
            float(row[column]),
            (row["height_ft"], row["lateral_ft"], row["diameter_in"]) not in doubts,
        )
        for row in rows_of(f"{table}.csv")
        if row[column] not in NO_FIGURE
    )


@cache
def rows_of(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a file of capacities."""
    with (DATA / "tables" / name).open(encoding="utf-8") as file:
        return tuple(csv.DictReader(file))


def arrangement(cell: Cell) -> Arrangement:
    """The vent that a cell stands for."""
    vent, connector = WALLS[cell.table]
    flue = None
    if vent == "masonry":
        flue = LEAST_FLUE_IN2[int(cell.diameter_in)] * INCH_M**2
    return Arrangement(
        height_m=cell.height_ft * FOOT_M,
        lateral_m=cell.lateral_ft * FOOT_M,
        diameter_m=cell.diameter_in * INCH_M,
        vent=vent,
        connector=connector,
        elbows_deg=TWO_ELBOWS if cell.lateral_ft > 0 else (),
        flue_m2=flue,
    )


def ratio(cell: Cell, basis: CodeBasis) -> float:
    """Computed over printed capacity; not a number where the model has no answer."""
    try:
        return carried_input(arrangement(cell), basis).input_w / KBTU_H_W / cell.kbtu_h
    except NotSolved:
        return math.nan


def spread(of: Iterable[Cell], computed: Callable[[Cell], float]) -> Spread:
    """How far ratios are from one. [%]

    Args:
        of: the cells.
        computed: computed over printed, for one of them.
    """
    pairs = [(computed(cell), cell) for cell in of]
    known = [(one, cell) for one, cell in pairs if not math.isnan(one)]
    off = sorted(100.0 * abs(one - 1.0) for one, _ in known)
    worst, cell = max(known, key=lambda pair: abs(pair[0] - 1.0))
    return Spread(
        cells=len(pairs),
        unanswered=len(pairs) - len(known),
        bias=100.0 * sum(one - 1.0 for one, _ in known) / len(known),
        median=quantile(off, 0.5),
        p90=quantile(off, 0.9),
        worst=off[-1],
        worst_at=f"{cell.place} ({100 * (worst - 1):+.1f})",
    )


def quantile(ordered: list[float], share: float) -> float:
    """A quantile of sorted figures, straight between neighbors."""
    at = share * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])
