"""The printed tables of common vents, predicted by the model with no figure fitted to them.

The bases are those fitted to Table 13.1(a), for one appliance. What a table of common vents takes
for granted beyond them is ``Assumed``: its defaults are the convention that is compared with the
tables, all its other values are variants that were tried after the cells had been seen.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from statistics import fmean, median

from tools.capacity_cells import (
    FOOT_M,
    INCH_M,
    KBTU_H_W,
    LEAST_FLUE_IN2,
    NO_FIGURE,
    quantile,
    rows_of,
)

from fluewright.draft.common_capacity import (
    TEE_LOSS,
    CommonArrangement,
    Connector,
    common_capacity,
    each_capacity,
)
from fluewright.errors import NotSolved
from fluewright.files.physics import code_bases

WALLS = {"M1": "type_b", "M2": "single_wall", "M3": "type_b"}
VENTS = {"M1": "type_b", "M2": "type_b", "M3": "masonry"}
PRINTED = {"M1": "13.2(a)", "M2": "13.2(b)", "M3": "13.2(c)"}
ALONE = {"M1": "T1", "M2": "T1", "M3": "T3"}  # tables of one appliance, for the guess
COMBINED = ("nat_nat", "fan_nat", "fan_fan")
CONNECTORS = ("nat_max", "fan_max")
GUESS_LATERAL_FT = 2.0
EVERY = 9  # of the cells, for the variants: it meets every size, of which there are 8 or 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """What is taken for granted; the defaults are the convention.

    Attributes:
        tee: loss where a connector enters, on its own velocity head. [-]
        elbows: in each connector.
        rise_ft: of the connectors where the table names none. [ft]
        lateral_ft_in: of the connectors, for an inch of their diameter. [ft/in]
        area_ratio: of the common vent to one of the two connectors.
        other: of a connector's table: "idle", room air entering its open draft hood, "burning" at
            its own capacity, or "none".
        together: "each" at its own capacity, or both with "equal" inputs.
        trunk: basis of the common vent; None for that of a draft hood where one burns.
        picked: connectors of ``PICKED_IN`` under a round vent, for combined input.
    """

    tee: float = TEE_LOSS
    elbows: int = 2
    rise_ft: float = 1.0
    lateral_ft_in: float = 1.5
    area_ratio: float = 2.0
    other: str = "idle"
    together: str = "each"
    trunk: str | None = None
    picked: bool = False


# Mean of two connectors of whole inches (3 and 3, 3 and 4, ...) by the vent's diameter, read off
# the FAN+NAT cells of 13.2(a) backward: a pick for each size, so it shows a pattern, no more.
PICKED_IN = {4: 3.0, 5: 3.5, 6: 4.0, 7: 5.0, 8: 5.5, 9: 6.5, 10: 7.0, 12: 8.0}

CONVENTION = Assumed()
VARIANTS: dict[str, dict[str, Assumed]] = {
    "combined": {
        "the convention": CONVENTION,
        "no tee: the second elbow is the turn": Assumed(tee=0.0),
        "tee and one elbow": Assumed(elbows=1),
        "rise 2 ft": Assumed(rise_ft=2.0),
        "rise 3 ft": Assumed(rise_ft=3.0),
        "half the lateral": Assumed(lateral_ft_in=0.75),
        "connectors of the vent's size": Assumed(area_ratio=1.0),
        "connectors of the vent's size, no tee": Assumed(area_ratio=1.0, tee=0.0),
        "equal inputs": Assumed(together="equal"),
        "connectors of whole inches, no tee": Assumed(picked=True, tee=0.0),
        "vent on code_nat": Assumed(trunk="code_nat"),
        "vent on code_fan": Assumed(trunk="code_fan"),
    },
    "connectors": {
        "the convention": CONVENTION,
        "no tee": Assumed(tee=0.0),
        "tee and one elbow": Assumed(elbows=1),
        "half the lateral": Assumed(lateral_ft_in=0.75),
        "vent of the connector's size": Assumed(area_ratio=1.0),
        "vent of twice the connector's diameter": Assumed(area_ratio=4.0),
        "other burning": Assumed(other="burning"),
        "other burning, vent of the connector's size": Assumed(other="burning", area_ratio=1.0),
        "no other": Assumed(other="none"),
        "no other, vent of the connector's size": Assumed(other="none", area_ratio=1.0),
        "vent on code_nat": Assumed(trunk="code_nat"),
    },
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonCell:
    """One printed figure. [ft, ft, in or in2, kBtu/h]

    ``rise_ft`` is None in a column of combined input; ``size`` is a diameter, of a masonry
    flue's combined input its area.
    """

    table: str
    column: str
    height_ft: float
    rise_ft: float | None
    size: float
    kbtu_h: float
    confirmed: bool

    @property
    def place(self) -> str:
        """Where it stands."""
        rise = "" if self.rise_ft is None else f", rise {self.rise_ft:g} ft"
        unit = "in2" if self.table == "M3" and self.rise_ft is None else "in"
        return f"{self.height_ft:g} ft{rise}, {self.size:g} {unit}"


@dataclass(frozen=True, slots=True)
class Off:
    """How far a set of computed figures is off the printed ones, in percent."""

    cells: int
    unanswered: int
    above_10: int
    bias: float
    median: float
    p90: float
    worst: float
    worst_at: str


@cache
def common_cells(table: str, column: str) -> tuple[CommonCell, ...]:
    """Every cell of a column that holds a figure.

    Args:
        table: M1, M2 or M3.
        column: one of ``COMBINED`` or ``CONNECTORS``.
    """
    name = f"{table}C" if column in COMBINED else table
    doubts = {
        (row["height_ft"], row["across"], row["size"])
        for row in rows_of("not_confirmed_common.csv")
        if row["table"] == name and row["column"] == column
    }
    found = []
    for row in rows_of(f"{name}.csv"):
        if row[column] in NO_FIGURE:
            continue
        rise, size = row.get("rise_ft", ""), row.get("diameter_in") or row["flue_in2"]
        found.append(
            CommonCell(
                table=table,
                column=column,
                height_ft=float(row["height_ft"]),
                rise_ft=float(rise) if rise else None,
                size=float(size),
                kbtu_h=float(row[column]),
                confirmed=(row["height_ft"], rise, size) not in doubts,
            )
        )
    return tuple(found)


@cache
def predicted(cell: CommonCell, assumed: Assumed = CONVENTION) -> float:
    """Computed over printed; not a number where the model has no answer."""
    try:
        return computed_kbtu_h(cell, assumed) / cell.kbtu_h
    except NotSolved:
        return math.nan


def computed_kbtu_h(cell: CommonCell, assumed: Assumed = CONVENTION) -> float:
    """What the model gives in place of a printed figure. [kBtu/h]

    Raises:
        NotSolved: nothing is carried.
    """
    if cell.column in COMBINED:
        given = arrangement(cell, assumed)
        answer = common_capacity if assumed.together == "equal" else each_capacity
        return answer(given).input_w / KBTU_H_W
    return each_capacity(arrangement(cell, assumed)).inputs_w[0] / KBTU_H_W


def arrangement(cell: CommonCell, assumed: Assumed) -> CommonArrangement:
    """The vent that a cell stands for."""
    kinds = [(f"code_{kind}", False) for kind in cell.column.split("_") if kind != "max"]
    if cell.rise_ft is None:
        flue_in2 = cell.size if cell.table == "M3" else math.pi / 4.0 * cell.size**2
        size_in = math.sqrt(flue_in2 / assumed.area_ratio * 4.0 / math.pi)
        if assumed.picked and cell.table != "M3":
            size_in = PICKED_IN.get(int(cell.size), size_in)
    else:
        size_in = cell.size
        flue_in2 = math.pi / 4.0 * size_in**2 * assumed.area_ratio
        if assumed.other != "none":
            idle = assumed.other == "idle"
            kinds.append(("code_nat" if idle else kinds[0][0], idle))
    # A draft hood anywhere is what spills, so its basis counts for the vent.
    trunk = "code_nat" if ("code_nat", False) in kinds else "code_fan"
    rise_ft = assumed.rise_ft if cell.rise_ft is None else cell.rise_ft
    area_m2 = flue_in2 * INCH_M**2
    square = cell.table == "M3"
    return CommonArrangement(
        height_m=cell.height_ft * FOOT_M,
        diameter_m=math.sqrt(area_m2 if square else area_m2 * 4.0 / math.pi),
        area_m2=area_m2 if square else None,
        vent=VENTS[cell.table],
        basis=code_bases()[assumed.trunk or trunk],
        connectors=tuple(
            _connector(kind, idle, size_in, rise_ft, WALLS[cell.table], assumed)
            for kind, idle in kinds
        ),
        tee_loss=assumed.tee,
    )


def _connector(
    kind: str, idle: bool, size_in: float, rise_ft: float, wall: str, assumed: Assumed
) -> Connector:
    basis = code_bases()[kind]
    return Connector(
        # The model's connector has two elbows; fewer are the same loss for less of each.
        basis=replace(basis, elbow_90_loss=basis.elbow_90_loss * assumed.elbows / 2.0),
        diameter_m=size_in * INCH_M,
        rise_m=rise_ft * FOOT_M,
        lateral_m=assumed.lateral_ft_in * size_in * FOOT_M,
        wall=wall,
        idle=idle,
    )


def guessed(cell: CommonCell) -> float:
    """The cell of one appliance at the same height and size over the printed figure.

    Lateral 2 ft; NAT+NAT and FAN+NAT from NAT, FAN+FAN from FAN; not a number where there is none.
    """
    kind = cell.column.split("_")[1 if cell.column in COMBINED else 0]
    size = cell.size
    if cell.table == "M3" and cell.rise_ft is None:
        by_area = {float(area): float(inch) for inch, area in LEAST_FLUE_IN2.items()}
        size = by_area.get(size, math.nan)
    return _alone(ALONE[cell.table], f"{kind}_max").get((cell.height_ft, size), math.nan) / (
        cell.kbtu_h
    )


@cache
def _alone(table: str, column: str) -> dict[tuple[float, float], float]:
    return {
        (float(row["height_ft"]), float(row["diameter_in"])): float(row[column])
        for row in rows_of(f"{table}.csv")
        if float(row["lateral_ft"]) == GUESS_LATERAL_FT and row[column] not in NO_FIGURE
    }


def off(of: tuple[CommonCell, ...], ratio: Callable[[CommonCell], float]) -> Off:
    """How far ratios of computed to printed are from one.

    Args:
        of: the cells, at least one of them answered.
        ratio: computed over printed; not a number counts as unanswered.
    """
    pairs = [(one, cell) for cell in of if not math.isnan(one := ratio(cell))]
    errors = sorted(100.0 * abs(one - 1.0) for one, _ in pairs)
    worst, cell = max(pairs, key=lambda pair: abs(pair[0] - 1.0))
    return Off(
        cells=len(of),
        unanswered=len(of) - len(pairs),
        above_10=sum(one > 10.0 for one in errors),
        bias=100.0 * (fmean(one for one, _ in pairs) - 1.0),
        median=quantile(errors, 0.5),
        p90=quantile(errors, 0.9),
        worst=errors[-1],
        worst_at=f"{cell.place} ({100.0 * (worst - 1.0):+.0f})",
    )


def scaled(
    of: tuple[CommonCell, ...], ratio: Callable[[CommonCell], float]
) -> Callable[[CommonCell], float]:
    """The ratios once one constant, their median, is taken out."""
    middle = median(one for cell in of if not math.isnan(one := ratio(cell)))
    return lambda cell: ratio(cell) / middle


def product_residuals(of: tuple[CommonCell, ...]) -> list[float]:
    """How far a connector's column is from height times rise times size, each alone. [%], sorted

    The three factors are free at each height, rise and size, fitted to the column itself: this
    says how the print was made, and predicts nothing.
    """
    logs = {(c.height_ft, c.rise_ft, c.size): math.log(c.kbtu_h / c.size**2) for c in of}
    effects: list[dict[float | None, float]] = [
        {place[axis]: 0.0 for place in logs} for axis in range(3)
    ]

    def left(place: tuple[float, float | None, float]) -> float:
        return logs[place] - sum(effects[axis][place[axis]] for axis in range(3))

    for _ in range(20):
        for axis in range(3):
            for key in effects[axis]:
                effects[axis][key] += fmean(left(place) for place in logs if place[axis] == key)
    return sorted(100.0 * abs(math.expm1(left(place))) for place in logs)
