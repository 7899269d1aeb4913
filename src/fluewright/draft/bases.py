"""Named sets of assumptions for the capacity of a vent, each standing alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from fluewright.errors import OutOfRange

WALLS = ("type_b", "single_wall", "masonry")
WORDS = ("title", "burner", "fitted_on")
LISTS = ("fitted", "sources")


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeBasis:
    """What a set of printed capacities takes for granted.

    Attributes:
        id, title: its name, and what it stands for.
        burner: draft_hood or fan_assisted.
        co2_dry: of the gas in the vent, mole fraction of the dry gas. [-]
        kg_per_mj: gas in the vent for the heat of the fuel, higher heating value. [kg/MJ]
        gas_k, air_k: gas where it enters the vent; air everywhere. [K]
        molar_kg_kmol, cp_j_kgk: of the gas.
        entrance_loss, elbow_90_loss, cap_loss: loss coefficients. [-]
        darcy: constant friction factor, or 0 where the roughness counts. [-]
        roughness_m: with friction by Reynolds number, or 0. [m]
        momentum: whether the pressure gained as a cooling stream slows is counted.
        u_w_m2k: heat loss by kind of wall, per inside area. [W/(m2 K)]
        fitted, fitted_on: which figures were fitted, and to what.
        sources: where the rest comes from.
    """

    id: str
    title: str
    burner: str
    co2_dry: float
    kg_per_mj: float
    gas_k: float
    air_k: float
    molar_kg_kmol: float
    cp_j_kgk: float
    entrance_loss: float
    elbow_90_loss: float
    cap_loss: float
    darcy: float
    roughness_m: float
    momentum: bool
    u_w_m2k: Mapping[str, float]
    fitted: tuple[str, ...]
    fitted_on: str
    sources: tuple[str, ...]


def bases_from(data: Mapping[str, Any]) -> dict[str, CodeBasis]:
    """The bases that a file holds, by name.

    Args:
        data: the parsed ``data/physics/bases.toml``.
    Returns:
        One basis for each table of the file.
    Raises:
        OutOfRange: an entry lacks something, holds something unknown, or is no number.
    """
    return {name: _basis(name, entry) for name, entry in data.items()}


def _basis(name: str, entry: Mapping[str, Any]) -> CodeBasis:
    wanted = {field.name for field in fields(CodeBasis)} - {"id"}
    if wrong := sorted(wanted ^ entry.keys()):
        raise OutOfRange(f"basis {name}: missing or unknown: {', '.join(wrong)}.")
    u_w_m2k = entry["u_w_m2k"]
    if set(u_w_m2k) != set(WALLS):
        raise OutOfRange(f"basis {name}: u_w_m2k names {sorted(u_w_m2k)}; write {list(WALLS)}.")
    values: dict[str, Any] = {"id": name, "u_w_m2k": {k: float(v) for k, v in u_w_m2k.items()}}
    for key in wanted - {"u_w_m2k"}:
        given = entry[key]
        if key in WORDS:
            values[key] = str(given)
        elif key in LISTS:
            values[key] = tuple(str(one) for one in given)
        elif key == "momentum":
            values[key] = given is True
        elif isinstance(given, int | float) and given >= 0:
            values[key] = float(given)
        else:
            raise OutOfRange(f"basis {name}: {key} is {given!r}; a number of at least 0 is needed.")
    if bool(values["darcy"]) == bool(values["roughness_m"]):
        raise OutOfRange(f"basis {name}: give darcy or roughness_m, and 0 for the other.")
    return CodeBasis(**values)
