"""Exterior masonry chimneys: the bound that winter sets, by height, flue and design temperature.

The figures do not rise or fall evenly between cells, so nothing is interpolated: of all cells
around the readings the strict one is taken (UMC 2012 803.1.16 lets a reader interpolate, and
does not ask for it). A cell that says NA, or of which another source says so, gives no figure.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from fluewright.capacity.between import KBTU_H, extent
from fluewright.capacity.flue import IN2_M2, area_text
from fluewright.capacity.permitted import basis_of
from fluewright.capacity.sizing import ROUNDING
from fluewright.capacity.table import KBTU_H_W, CapacityTable, Cell
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.source import Basis, Step


@frozen
class ExteriorBound:
    """A bound in watts, or the reason for none; ``cells`` are all that were looked at."""

    table: str
    bound: Measured | None
    reason: str | None
    working: tuple[Step, ...]
    basis: Basis
    cells: tuple[Cell, ...]


def exterior_bound(
    table: CapacityTable,
    *,
    height: Measured,
    flue_area: Measured,
    winter_design: Measured | None = None,
) -> ExteriorBound:
    """The bound that an exterior tile-lined chimney sets. [W]

    Source: UMC 2012 803.1.11 with Table 803.1.3(6), 803.2.19 (basis read); that the strict cell
        is taken between entries is our reading.
    Valid: Type B connector, not longer than 18 in per inch of its diameter; a draft hood; the
        input within the table for the chimney and connector as well.

    Args:
        table: one of the tables for exterior chimneys.
        height: from the highest draft hood outlet or flue collar to the chimney's outlet. [m]
        flue_area: inside area of the flue. [m2]
        winter_design: local 99 percent winter design temperature; needed by a table of least
            inputs. [degrees Celsius]

    Returns:
        The strict bound over the tolerances, or the reason for none.
    """
    bands = _bands(table, winter_design)
    if isinstance(bands, str):
        return _none(table, bands, ())
    rows = extent(height, table.heights)
    areas = flue_area.low / IN2_M2 * (1 + ROUNDING), flue_area.high / IN2_M2 * (1 - ROUNDING)
    heights, sizes = _around(table.heights, rows.low, rows.high), _around(table.sizes, *areas)
    if not heights:
        return _none(table, _outside(table, f"height, {rows.text()}", table.heights, "ft"), ())
    if not sizes:
        flue = f"flue, {area_text(flue_area)}"
        return _none(table, _outside(table, flue, table.sizes, "in2"), ())
    (column,) = table.layout.columns
    return _strict(
        table,
        tuple(table.cell(*spot, column) for spot in itertools.product(heights, bands, sizes)),
    )


def _strict(table: CapacityTable, cells: tuple[Cell, ...]) -> ExteriorBound:
    """The strict one of the cells; none when one of them says NA."""
    for cell in cells:
        if cell.kbtu_h is None or cell.differ.endswith("=NA"):
            words = f"The table says NA for {cell.text()}"
            words += "" if cell.kbtu_h is None else " in one of two prints"
            return _none(table, f"{words}: this arrangement is not to be used.", cells)
    pick = min if cells[0].column.is_maximum else max
    value, strict = pick(((cell.kbtu_h or 0.0, cell) for cell in cells), key=lambda one: one[0])
    return ExteriorBound(
        table.id,
        Measured(value * KBTU_H_W, Dimension.POWER),
        None,
        (
            Step(f"cells around the readings: {len(cells)}; the strict one is taken"),
            Step(f"{strict.text()}, {strict.confidence}", value, KBTU_H),
        ),
        basis_of(cells),
        cells,
    )


def _outside(table: CapacityTable, what: str, lines: Sequence[float], unit: str) -> str:
    return (
        f"The {what}, is not wholly within the {lines[0]:g} to {lines[-1]:g} {unit} of table "
        f"{table.id}. The table may not be extended: an approved engineering method is needed."
    )


def _bands(table: CapacityTable, winter_design: Measured | None) -> tuple[float, ...] | str:
    """Lower ends of the temperature bands that the reading touches, or why there is none."""
    if not table.layout.across:
        return (0.0,)
    if winter_design is None:
        return (
            f"Table {table.id} goes by the local 99 percent winter design temperature: give it. "
            "The building department or the nearest weather station has it."
        )
    lows = table.laterals[table.heights[0]]
    cold, warm = (
        round(degrees * 1.8 + 32, 6) for degrees in (winter_design.low, winter_design.high)
    )
    if cold < lows[0]:
        return (
            f"The winter design temperature, {cold:g} degF at its lowest, is below the "
            f"{lows[0]:g} degF at which table {table.id} ends: no arrangement is recommended there."
        )
    first = max(low for low in lows if low <= cold)
    return tuple(low for low in lows if first <= low <= warm)


def _around(lines: Sequence[float], low: float, high: float) -> tuple[float, ...]:
    """The lines from the last at or below ``low`` to the first at or above ``high``."""
    below = [line for line in lines if line <= low]
    above = [line for line in lines if line >= high]
    if not below or not above:
        return ()
    return tuple(line for line in lines if below[-1] <= line <= max(above[0], below[-1]))


def _none(table: CapacityTable, reason: str, cells: tuple[Cell, ...]) -> ExteriorBound:
    return ExteriorBound(table.id, None, reason, (), basis_of(cells), cells)
