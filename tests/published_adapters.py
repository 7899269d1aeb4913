"""The computations behind the published checks, shared by the tests and docs/validation.md.

Each takes the ``given`` of a check, in printed units, and returns a number in the check's unit,
or words. Register a new one in ``ADAPTERS`` under the name that the checks use.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Callable, Mapping
from importlib.resources import files
from typing import Any

from tests import draft_adapters

from fluewright.capacity import (
    FILES,
    GROUPS,
    KBTU_H_W,
    Capacity,
    Column,
    Library,
    extended,
    library_from,
    permitted_input,
)
from fluewright.capacity.common_vent import common_vent_input
from fluewright.capacity.connector import connector_input
from fluewright.capacity.exterior import ExteriorBound, exterior_bound
from fluewright.capacity.shared import free_length
from fluewright.edition import KeyedLimit, NumberLimit, StepLimit
from fluewright.facts.terminal import CIRCLE_M
from fluewright.quantity import Dimension, Measured, parse, to_unit

FT_M, IN_M = 0.3048, 0.0254


@functools.cache
def library() -> Library:
    """All capacity tables as they ship."""
    found = library_from(
        tomllib.loads(table_text("index.toml")), {name: table_text(name) for name in FILES}
    )
    for group in GROUPS.values():
        index = tomllib.loads(table_text(group.index))
        found = extended(found, group, index, {name: table_text(name) for name in group.files})
    return found


def table_text(name: str) -> str:
    """The text of a file of the capacity tables."""
    return (files("fluewright") / "data" / "tables" / name).read_text(encoding="utf-8")


def feet(value: float, tolerance: float = 0.0) -> Measured:
    return Measured(value * FT_M, Dimension.LENGTH, tolerance * FT_M)


def inches(value: float, tolerance: float = 0.0) -> Measured:
    return Measured(value * IN_M, Dimension.LENGTH, tolerance * IN_M)


def square_inches(value: float, tolerance: float = 0.0) -> Measured:
    return Measured(value * IN_M**2, Dimension.AREA, tolerance * IN_M**2)


def capacity_of(given: Mapping[str, Any]) -> Capacity:
    """What a table permits for the printed situation."""
    return permitted_input(
        library().tables[given["table"]],
        height=feet(given["height_ft"]),
        lateral=feet(given["lateral_ft"]),
        diameter=inches(given["diameter_in"]),
        burner=given["burner"],
        elbows=given["elbows_deg"],
        liner_corrugated=given.get("liner_corrugated", False),
        downsized=given.get("downsized", False),
        method=given.get("method", "interpolate"),
    )


def capacity_bound(given: Mapping[str, Any]) -> float | str:
    """The bound that ``bound`` names, max or min [kBtu/h], or the reason for none."""
    return _bound(capacity_of(given), given["bound"])


def capacity_fits(given: Mapping[str, Any]) -> str:
    """Whether ``input_kbtu_h`` lies between the bounds: fits, does not fit, or no number."""
    return _fits(capacity_of(given), given["input_kbtu_h"])


def _bound(found: Capacity, which: str) -> float | str:
    bound = found.max if which == "max" else found.min
    return found.reason or "no reason" if bound is None else bound.value / KBTU_H_W


def _fits(found: Capacity, input_kbtu_h: float) -> str:
    asked = input_kbtu_h * KBTU_H_W
    if found.max is None or found.min is None:
        return "no number"
    return "fits" if found.min.value <= asked <= found.max.value else "does not fit"


def connector_of(given: Mapping[str, Any]) -> Capacity:
    """What a connector to a common vent permits, in the printed situation."""
    name, outlet = given["table"], given.get("outlet_in")
    return connector_input(
        library().tables[name],
        library().tables[f"T{name[1:]}"],
        height=feet(given["height_ft"]),
        rise=feet(given["rise_ft"]),
        length=feet(given["length_ft"]),
        diameter=inches(given["diameter_in"]),
        burner=given["burner"],
        elbows=given.get("extra_elbows_deg", ()),
        outlet=None if outlet is None else inches(outlet),
        liner_corrugated=given.get("liner_corrugated", False),
        method=given.get("method", "interpolate"),
    )


def common_of(given: Mapping[str, Any]) -> Capacity:
    """What a common vent permits, in the printed situation."""
    sizes = {name: given.get(f"{name}_in") for name in ("connector", "outlet")}
    flue, manifold = given.get("flue_in2"), given.get("manifold_ft")
    return common_vent_input(
        library().tables[given["table"]],
        Column(given["column"]),
        height=feet(given["height_ft"]),
        diameter=inches(given["diameter_in"]),
        flue_area=None if flue is None else square_inches(flue),
        offset=feet(given.get("offset_ft", 0.0)),
        elbows=given.get("elbows_deg", ()),
        manifold=None if manifold is None else feet(manifold),
        connector=None if sizes["connector"] is None else inches(sizes["connector"]),
        outlet=None if sizes["outlet"] is None else inches(sizes["outlet"]),
        liner_corrugated=given.get("liner_corrugated", False),
        method=given.get("method", "interpolate"),
    )


def connector_bound(given: Mapping[str, Any]) -> float | str:
    """The bound asked for [kBtu/h], or the reason why there is none."""
    return _bound(connector_of(given), given["bound"])


def connector_fits(given: Mapping[str, Any]) -> str:
    """Whether an input lies between the bounds of a connector."""
    return _fits(connector_of(given), given["input_kbtu_h"])


def common_bound(given: Mapping[str, Any]) -> float | str:
    """The maximum of a common vent [kBtu/h], or the reason why there is none."""
    return _bound(common_of(given), "max")


def common_fits(given: Mapping[str, Any]) -> str:
    """Whether the inputs of all appliances together fit a common vent."""
    return _fits(common_of(given), sum(given["inputs_kbtu_h"]))


def exterior_of(given: Mapping[str, Any]) -> ExteriorBound:
    """What winter asks of an exterior clay-lined chimney, in the printed situation."""
    winter = given.get("winter_design_degf")
    return exterior_bound(
        library().tables[given["table"]],
        height=feet(given["height_ft"]),
        flue_area=square_inches(given["flue_in2"]),
        winter_design=None
        if winter is None
        else Measured((winter - 32) / 1.8, Dimension.TEMPERATURE),
    )


def exterior_kbtu_h(given: Mapping[str, Any]) -> float | str:
    """The bound of an exterior chimney [kBtu/h], or the reason why there is none."""
    found = exterior_of(given)
    return found.reason or "no reason" if found.bound is None else found.bound.value / KBTU_H_W


def exterior_fits(given: Mapping[str, Any]) -> str:
    """Whether an input lies on the right side of the bound, not on it."""
    found = exterior_of(given)
    if found.bound is None:
        return "no number"
    most = all(cell.column.is_maximum for cell in found.cells)
    room = found.bound.value - given["input_kbtu_h"] * KBTU_H_W
    return "fits" if (room if most else -room) > 0 else "does not fit"


def connector_free_length(given: Mapping[str, Any]) -> float:
    """Horizontal length of a connector that costs nothing [ft]."""
    return free_length(given["diameter_in"]) / FT_M


def rule_limit(given: Mapping[str, Any]) -> float | str:
    """A figure of an edition in ``unit``: plain, of a step table ``at``, or of a ``cell``."""
    from tests import rule_cases  # here, since it reads the capacity tables through this module

    entry = rule_cases.edition(given["edition"]).limits[given["limit"]]
    match entry:
        case NumberLimit():
            found: float | str | None = entry.value
        case StepLimit():
            found = entry.at(parse(given["at"], Dimension.SLOPE).value)
        case KeyedLimit():
            found = entry.cell(*given["cell"])
        case _:
            found = entry.word
    if found is None and isinstance(entry, StepLimit):
        return entry.beyond
    return to_unit(found, given["unit"]) if isinstance(found, float) else str(found)


def rule_verdict(given: Mapping[str, Any]) -> str:
    """The verdict of a rule on the facts given."""
    from tests import rule_cases

    facts = {name: rule_cases.fact_value(value) for name, value in given["facts"].items()}
    return rule_cases.judged(given["rule"], facts, given["edition"]).verdict.value


def shared_verdict(given: Mapping[str, Any]) -> str:
    """The verdict of a rule on a whole survey of two appliances on one vent."""
    from tests import common_surveys

    data = common_surveys.common_data(given)
    return common_surveys.verdict_of(data, given["rule"], given["subject"]).value


def building_circle(given: Mapping[str, Any]) -> float:
    """How far around the vent a building counts, in ``unit``."""
    return to_unit(CIRCLE_M, given["unit"])


Adapter = Callable[[Mapping[str, Any]], float | str]

ADAPTERS: dict[str, Adapter] = {
    "capacity_bound": capacity_bound,
    "capacity_fits": capacity_fits,
    "connector_bound": connector_bound,
    "connector_fits": connector_fits,
    "common_bound": common_bound,
    "common_fits": common_fits,
    "exterior_bound": exterior_kbtu_h,
    "exterior_fits": exterior_fits,
    "connector_free_length": connector_free_length,
    "rule_limit": rule_limit,
    "rule_verdict": rule_verdict,
    "shared_verdict": shared_verdict,
    "building_circle": building_circle,
    **draft_adapters.ADAPTERS,
}
