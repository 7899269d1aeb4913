"""Writes docs/validation.md: what others printed, what comes out here, and how far apart.

``python -m tools.validation`` writes the page, ``--check`` fails when it is not up to date. The
computations are those of the tests (tests/published_adapters.py).
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from tests import published_checks
from tests.published_adapters import ADAPTERS, Adapter
from tests.published_checks import Check
from tools import validation_common, validation_measured, validation_model

from fluewright.capacity import ALONE, GROUPS, Column, Layout

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "validation.md"
TABLES = ROOT / "src" / "fluewright" / "data" / "tables"

COLUMNS = {column.value: column.printed for column in Column}
LAYOUTS = {name: ALONE for name in ("T1", "T2", "T5")} | {
    name: layout for group in GROUPS.values() for name, layout in group.layouts.items()
}

HEAD = """# Validation

Made by `tools/validation.py` from `tests/published/`. Do not edit.

Each row is a value that somebody else printed, beside what this program computes for the same
question. Hand calculations, properties and regression numbers are not here: they do not count
as validation. The worst comes first; the verdict compares the difference with the tolerance,
whose reason stands beside it.
"""

CELLS = """## Capacity cells not confirmed

A cell is confirmed when two sources agree and at least one of them is a document. The cells
below rest on one source alone (single, nearly always memory), or have two that differ or are
printed so that their neighbors contradict them (doubtful).
An answer that uses one of them says `memory` instead of `read`. A cell that was never read has
no number, and neither has an answer that needs it. Look each of them up in the printed table of
the code in force before acting on it. For the tables that judging uses every such cell is
listed, for the others those that are doubtful; the rest stand in `data/tables/not_confirmed_*.csv`.
"""


@dataclass(frozen=True, slots=True)
class Result:
    """One check and what came out."""

    check: Check
    computed: float | str

    @property
    def agrees(self) -> bool:
        """Whether it is within the tolerance."""
        return self.check.agrees(self.computed)

    @property
    def badness(self) -> tuple[bool, float]:
        """Grows with the share of the tolerance that is used; a failure is above all."""
        difference = self.check.difference(self.computed)
        if difference is None:
            return (not self.agrees, 0.0)
        share = abs(difference) / self.check.tolerance if self.check.tolerance else 0.0
        return (not self.agrees, share)


def results(checks: Iterable[Check], adapters: Mapping[str, Adapter] = ADAPTERS) -> list[Result]:
    """Every check computed, worst first.

    Raises:
        KeyError: a check names a computation that is not registered.
    """
    found: list[Result] = []
    for check in checks:
        if check.checks not in adapters:
            raise KeyError(
                f"check {check.id!r}: no computation {check.checks!r}. "
                "Register it in tests/published_adapters.py."
            )
        found.append(Result(check, adapters[check.checks](check.given)))
    return sorted(found, key=lambda one: one.badness, reverse=True)


def page() -> str:
    """The whole page."""
    sections = {name: results(published_checks.load(name)) for name in published_checks.names()}
    everything = [one for section in sections.values() for one in section]
    apart = sum(not one.agrees for one in everything)
    lines = [
        HEAD,
        f"{len(everything)} published values: {len(everything) - apart} agree, {apart} do not.",
        "",
    ]
    for name, section in sections.items():
        lines += [f"## {name.replace('_', ' ').capitalize()}", "", *_rows(section), ""]
    lines += validation_model.section()
    lines += validation_common.section()
    lines += validation_measured.section()
    return "\n".join([*lines, *cells_not_confirmed()])


def _rows(section: Iterable[Result]) -> list[str]:
    head = (
        "check", "source", "published", "computed", "difference", "tolerance and why", "verdict",
    )  # fmt: skip
    return [
        _row(head),
        _row("---" for _ in head),
        *(
            _row(
                (
                    one.check.id,
                    one.check.source,
                    _value(one.check.expect, one.check.unit),
                    _value(one.computed, one.check.unit),
                    _difference(one),
                    f"{one.check.tolerance:g}: {one.check.why}",
                    "agrees" if one.agrees else "**does not agree**",
                )
            )
            for one in section
        ),
    ]


def cells_not_confirmed() -> list[str]:
    """The section on the cells of the capacity tables that are not confirmed.

    Of the tables that judging uses every cell is listed; of the others, those that are doubtful.
    """
    doubts = _read("not_confirmed.csv")
    listed = list(doubts)
    for group in GROUPS.values():
        more = _read(group.doubts)
        doubts += more
        listed += [row for row in more if row["confidence"] == "doubtful"]
    counts = Counter((row["table"], row["confidence"]) for row in doubts)
    names = sorted(LAYOUTS)
    lines = [CELLS, _row(("table", "cells", "confirmed", "single", "doubtful", "never read"))]
    lines.append(_row("---" for _ in range(6)))
    for name in names:
        cells = _cells(name)
        missing = cells.count("missing")
        single, doubtful = counts[name, "single"], counts[name, "doubtful"]
        sure = len(cells) - missing - single - doubtful
        lines.append(_row((name, len(cells), sure, single, doubtful, missing)))
    lines.append("")
    for name in names:
        rows = [row for row in listed if row["table"] == name]
        if rows:
            lines += [f"### Table {name}", "", *_cell_rows(LAYOUTS[name], rows), ""]
    return lines


def _cell_rows(layout: Layout, rows: Iterable[Mapping[str, str]]) -> list[str]:
    """The cells of one table, under the headings of its layout."""
    places = {"height_ft": "height ft"}
    if layout.across:
        places["across"] = f"{layout.across} {layout.across_unit}"
    places["size"] = layout.size.replace("_", " ")
    head = (*places.values(), "column", "value", "how known", "agree", "differ", "note")
    keys = (*places, "column", "value", "confidence", "agree", "differ", "note")
    return [
        _row(head),
        _row("---" for _ in head),
        *(_row(COLUMNS.get(row[key], row[key]) for key in keys) for row in rows),
    ]


def _cells(name: str) -> list[str]:
    """All figures of a table that are printed for its burners: a column of NA alone is left out."""
    rows = _read(f"{name}.csv")
    columns = ([row[key] for row in rows] for key in LAYOUTS[name].columns)
    return [cell for column in columns if set(column) != {"NA"} for cell in column]


def _read(name: str) -> list[dict[str, str]]:
    with (TABLES / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _row(fields: Iterable[object]) -> str:
    return "| " + " | ".join(str(field).replace("|", "/") for field in fields) + " |"


def _value(value: float | str, unit: str) -> str:
    return value if isinstance(value, str) else f"{value:.6g} {unit}".rstrip()


def _difference(one: Result) -> str:
    difference = one.check.difference(one.computed)
    # Beyond nine digits only the rounding of floats is left, which differs between machines.
    return "" if difference is None else f"{round(difference, 9) + 0.0:.3g}"


def main(arguments: list[str]) -> int:
    """Write the page, or with --check compare it. The exit status."""
    text = page()
    if arguments == ["--check"]:
        if PAGE.exists() and PAGE.read_text(encoding="utf-8") == text:
            return 0
        print(
            "docs/validation.md is not up to date: run python -m tools.validation", file=sys.stderr
        )
        return 1
    if arguments:
        print("usage: python -m tools.validation [--check]", file=sys.stderr)
        return 2
    PAGE.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
