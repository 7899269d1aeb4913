"""The section of docs/validation.md on the model of capacity against the printed tables."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from statistics import median

from tools.capacity_cells import (
    KBTU_H_W,
    Cell,
    Spread,
    arrangement,
    cells,
    ratio,
    spread,
)

from fluewright.draft.capacity_model import carried_input
from fluewright.files.physics import code_bases

HEAD = """## The model of capacity against the printed tables

`draft.capacity_model` on the named bases of `data/physics/bases.toml`, computed over printed, in
percent of the printed figure. *Fitted* are the cells whose hash of place is even: three or four
figures of a basis come from them (`tools/fit_bases.py`). *Held out* are the others, of the same
table. *Predicted* means that no figure was changed for that table. A cell is *confirmed* when two
sources agree, one of them a document; the others rest on one source, nearly always memory.
A table of whole thousands, rounded by hand, is itself uncertain by 1 to 2 percent.
"""

GUESS = """A plain guess to compare with: every cell is that of Table 13.1(a) at the same height,
lateral and size, times one constant (the median ratio, so the guess is fitted, the predictions are
not). *Scaled* is the same for a prediction: what is left once one constant is taken out.
"""

WHY = """**Why it is off where it is.**

* *13.1(a) and (b) NAT, above 4 percent*: nearly all are the 6 in column at 100 ft. Its printed
  figures stand 4 to 8 percent above the line through the 5 and 7 in columns beside it, so no smooth
  law meets both. The rest is one cell of 5 in at 50 ft and of 10 in at 6 ft, straight up.
* *13.1(e) on the basis of 13.1(a), 23 percent too much on average*: that table allows a
  single-wall vent a fifth less than a Type B vent of the same size. Heat loss does not explain
  it: capacity falls by 1 percent when heat loss doubles. It stands on friction almost twice as
  large, another vintage of the method, hence a basis of its own. What is above 10 percent then
  is 3 in, where the table allows more than any square root of height gives both straight up and
  with 10 ft of lateral; 4 to 7 in straight up at 50 ft, likewise; and a lateral of 30 ft in 7 to
  10 in, where it allows less.
* *Masonry, NAT, on the basis of 13.1(a), 46 percent too much on average*: the flue behind a
  connector is half as large again in area, and the model gives the whole of it to the gas. The
  printed figures do not: they are nearly those of 13.1(e) for a pipe of the connector's size, as
  if only that much of a wide, cold flue carried gas. Computed so, with no figure fitted, half of
  the cells come within 7 percent. What is above 10 percent is nearly all 4 to 8 in with laterals
  of 5 ft and more: the flue is colder, within one firing, than the wall in balance of the model,
  and gas that has cooled in the lateral has less to lose before it stops rising.
* *Masonry, FAN, 17 percent too much on average*: the roughness fitted to Type B is too small for
  tile, and heat loss is that of a wall in balance. Rougher tile and a cold wall bring half of the
  cells within 1.4 percent of a common factor of 1.11; neither is fitted here.

So the model overstates what the tables let a masonry chimney carry, and
`fluewright capacity --method model` gives no figure for one.
"""


@dataclass(frozen=True, slots=True)
class Line:
    """One comparison: printed table, basis, which cells, and computed over printed."""

    printed: str
    basis: str
    which: str
    cells: tuple[Cell, ...]
    computed: Callable[[Cell], float]


def section() -> list[str]:
    """The section, line by line."""
    lines = [HEAD, _row(("table", "basis", "cells", "number", "bias", "median", "90 %", "worst",
                         "where the worst is")), _row("---" for _ in range(9))]  # fmt: skip
    lines += [_line(one) for one in comparisons()]
    lines += ["", GUESS, _row(("table", "guess or prediction", "bias", "median", "90 %", "worst",
                               "scaled median", "scaled 90 %", "scaled worst")),
              _row("---" for _ in range(9))]  # fmt: skip
    lines += [_guess(*one) for one in guesses()]
    return [*lines, "", WHY]


def comparisons() -> list[Line]:
    """Every comparison, in the order in which it is shown."""
    found = _halves("13.1(a) NAT", "T1", "nat_max", "code_nat")
    found += _whole("13.1(b) NAT", "T2", "nat_max", "code_nat", "predicted, connector wall changed")
    found += _halves("13.1(a) FAN", "T1", "fan_max", "code_fan")
    found += _whole("13.1(b) FAN", "T2", "fan_max", "code_fan", "predicted, connector wall changed")
    found += _whole("13.1(e)", "T5", "nat_max", "code_nat", "predicted, wall changed")
    found += _halves("13.1(e)", "T5", "nat_max", "code_single")
    for name, table in (("13.1(c)", "T3"), ("13.1(d)", "T4")):
        found += _whole(f"{name} NAT", table, "nat_max", "code_nat", "predicted, whole flue")
        narrow = cells(table, "nat_max")
        found.append(Line(f"{name} NAT", "code_single", "predicted, flue no wider than connector",
                          narrow, as_narrow))  # fmt: skip
        found += _whole(f"{name} FAN", table, "fan_max", "code_fan", "predicted, whole flue")
    return found


def as_narrow(cell: Cell) -> float:
    """Computed over printed for a flue taken as no wider than its connector."""
    vent = replace(arrangement(cell), flue_m2=None)
    return carried_input(vent, code_bases()["code_single"]).input_w / KBTU_H_W / cell.kbtu_h


def guesses() -> list[tuple[str, str, tuple[Cell, ...], Callable[[Cell], float]]]:
    """The plain guess and the predictions it is compared with."""
    single = {(c.height_ft, c.lateral_ft, c.diameter_in): c.kbtu_h for c in cells("T1", "nat_max")}
    found = []
    for name, table, ours, text in (
        ("13.1(b) NAT", "T2", _by("code_nat"), "predicted on code_nat"),
        ("13.1(e)", "T5", _by("code_nat"), "predicted on code_nat"),
        ("13.1(c) NAT", "T3", as_narrow, "predicted, flue no wider than connector"),
        ("13.1(d) NAT", "T4", as_narrow, "predicted, flue no wider than connector"),
    ):
        both = tuple(c for c in cells(table, "nat_max")
                     if (c.height_ft, c.lateral_ft, c.diameter_in) in single)  # fmt: skip
        plain = {c: single[c.height_ft, c.lateral_ft, c.diameter_in] / c.kbtu_h for c in both}
        found.append((name, "13.1(a) times a constant", both, plain.__getitem__))
        found.append((name, text, both, ours))
    return found


def _by(basis: str) -> Callable[[Cell], float]:
    return lambda cell: ratio(cell, code_bases()[basis])


def _halves(printed: str, table: str, column: str, basis: str) -> list[Line]:
    every = cells(table, column)
    kept = tuple(cell for cell in every if not cell.fitted)
    return [
        Line(printed, basis, "fitted", tuple(c for c in every if c.fitted), _by(basis)),
        Line(printed, basis, "held out", kept, _by(basis)),
        Line(printed, basis, "held out, confirmed", tuple(c for c in kept if c.confirmed),
             _by(basis)),
        Line(printed, basis, "not confirmed", tuple(c for c in every if not c.confirmed),
             _by(basis)),
    ]  # fmt: skip


def _whole(printed: str, table: str, column: str, basis: str, which: str) -> list[Line]:
    every = cells(table, column)
    sure = tuple(cell for cell in every if cell.confirmed)
    found = [Line(printed, basis, which, every, _by(basis))]
    if len(sure) < len(every):
        found.append(Line(printed, basis, "of these, confirmed", sure, _by(basis)))
    return found


def _line(one: Line) -> str:
    if not one.cells:
        return _row((one.printed, one.basis, one.which, 0, *("",) * 5))
    found = spread(one.cells, one.computed)
    return _row((one.printed, one.basis, one.which, found.cells, *_figures(found), found.worst_at))


def _guess(printed: str, text: str, of: tuple[Cell, ...], computed: Callable[[Cell], float]) -> str:
    middle = median(computed(cell) for cell in of)
    scaled = spread(of, lambda cell: computed(cell) / middle)
    own = _figures(spread(of, computed)) if "constant" not in text else [""] * 4
    return _row((printed, text, *own, *_figures(scaled)[1:]))


def _figures(found: Spread) -> list[str]:
    sizes = (found.median, found.p90, found.worst)
    shown = (f"{one:.2g}" if one < 10 else f"{one:.0f}" for one in sizes)
    return [f"{found.bias + 0.0:+.1f}", *shown]


def _row(fields: Iterable[object]) -> str:
    return "| " + " | ".join(str(field) for field in fields) + " |"
