"""What the tests of the capacity tables share: the tables as they ship, read in feet and inches."""

from __future__ import annotations

import tomllib
from typing import Any

from tests.published_adapters import feet, inches, library
from tests.published_adapters import table_text as text_of

from fluewright.capacity import GROUPS, KBTU_H_W, Capacity, Column, permitted_input
from fluewright.quantity import Measured

# For one appliance alone: the tables that are read by height, lateral and diameter.
TABLES = {name: library().tables[name] for name in ("T1", "T2", "T3", "T4", "T5")}
TWO = (90.0, 90.0)

__all__ = ["TABLES", "TWO", "bound", "doubts_of", "index", "kbtu", "read", "text_of"]


def doubts_of(table: str) -> str:
    """The text of the cells not confirmed that holds those of a table."""
    group = next((one for one in GROUPS.values() if table in one.layouts), None)
    return text_of(group.doubts if group else "not_confirmed.csv")


def index() -> dict[str, Any]:
    return tomllib.loads(text_of("index.toml"))


def read(table: str, column: Column, **asked: Any) -> Capacity:
    """The table read for one column, at readings in feet and inches."""
    fan = column is not Column.NAT_MAX
    lateral = asked.get("lateral", 5.0)
    straight = isinstance(lateral, int | float) and lateral == 0
    values: dict[str, Any] = {
        "height": 10.0,
        "lateral": lateral,
        "diameter": inches(5),
        "burner": "fan_assisted" if fan else "draft_hood",
        "elbows": () if straight else TWO,
    } | asked
    for name in ("height", "lateral"):
        if not isinstance(values[name], Measured):
            values[name] = feet(values[name])
    if not isinstance(values["diameter"], Measured):
        values["diameter"] = inches(values["diameter"])
    return permitted_input(TABLES[table], **values)


def bound(found: Capacity, column: Column) -> Measured:
    """The bound of a column [W]; the test fails where there is none."""
    one = found.max if column.is_maximum else found.min
    assert one is not None, found.reason
    return one


def kbtu(one: Measured | None) -> float:
    assert one is not None
    return one.value / KBTU_H_W
