"""The data of the draft engine, read from the files of this package."""

from __future__ import annotations

import os
from collections.abc import Mapping
from functools import cache
from typing import Any

from fluewright.draft.bases import CodeBasis, bases_from
from fluewright.draft.coefficients import Coefficients, coefficients_from
from fluewright.draft.fuel import Fuel, fuels_from

# Not importlib.resources: it would take as long to import as a survey takes to read.
_FOLDER = os.path.join(os.path.dirname(os.path.dirname(__file__)), "data", "physics")


@cache
def default_fuels() -> Mapping[str, Fuel]:
    """Every fuel of ``data/physics/fuels.toml`` by its id."""
    return fuels_from(_table("fuels.toml"))


@cache
def coefficients() -> Coefficients:
    """Every coefficient of ``data/physics/coefficients.toml`` by its name."""
    return coefficients_from(_table("coefficients.toml"))


@cache
def house_coefficients() -> Coefficients:
    """Every coefficient of ``data/physics/house.toml`` by its name: leakage, fans, wind."""
    return coefficients_from(_table("house.toml"))


@cache
def code_bases() -> Mapping[str, CodeBasis]:
    """Every basis of ``data/physics/bases.toml`` by its id."""
    return bases_from(_table("bases.toml"))


def _table(name: str) -> dict[str, Any]:
    import tomllib

    with open(os.path.join(_FOLDER, name), "rb") as file:
        return tomllib.load(file)
