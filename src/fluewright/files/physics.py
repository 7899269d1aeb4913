"""Coefficients of the draft engine, from its data."""

from __future__ import annotations

import os
from functools import cache

from fluewright.draft.fuel import Fuel, fuels_from

# Not importlib.resources: it would take as long to import as a survey takes to read.
_FOLDER = os.path.join(os.path.dirname(os.path.dirname(__file__)), "data", "physics")


@cache
def default_fuels() -> dict[str, Fuel]:
    """Every fuel of ``data/physics/fuels.toml`` by its id."""
    import tomllib

    with open(os.path.join(_FOLDER, "fuels.toml"), "rb") as file:
        return fuels_from(tomllib.load(file))
