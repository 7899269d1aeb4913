"""The coefficients of the draft engine, from the data of this package."""

from __future__ import annotations

import os
import tomllib
from functools import cache

from fluewright.draft.coefficients import Coefficients, coefficients_from

_FOLDER = os.path.join(os.path.dirname(os.path.dirname(__file__)), "data", "physics")


@cache
def coefficients() -> Coefficients:
    """Every coefficient of ``data/physics/coefficients.toml`` by its name."""
    return _table("coefficients.toml")


@cache
def house_coefficients() -> Coefficients:
    """Every coefficient of ``data/physics/house.toml`` by its name: leakage, fans, wind."""
    return _table("house.toml")


def _table(name: str) -> Coefficients:
    with open(os.path.join(_FOLDER, name), "rb") as file:
        return coefficients_from(tomllib.load(file))
