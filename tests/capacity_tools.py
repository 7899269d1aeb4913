"""What the tests of the capacity tables share: the tables as they ship, read in feet and inches."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

from tests.published_adapters import feet, inches, library

from fluewright.capacity import KBTU_H_W, Capacity, Column, permitted_input
from fluewright.quantity import Measured

DATA = files("fluewright") / "data" / "tables"
TABLES = library().tables
TWO = (90.0, 90.0)


def text_of(name: str) -> str:
    return (DATA / name).read_text(encoding="utf-8")


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
