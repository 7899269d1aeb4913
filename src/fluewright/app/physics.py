"""The coefficients of the draft engine, from the data of this package."""

from __future__ import annotations

import os
import tomllib
from functools import cache

from fluewright.draft.coefficients import Coefficients, coefficients_from

_TABLE = os.path.join(
    os.path.dirname(os.path.dirname(__file__)), "data", "physics", "coefficients.toml"
)


@cache
def coefficients() -> Coefficients:
    """Every coefficient of ``data/physics/coefficients.toml`` by its name."""
    with open(_TABLE, "rb") as file:
        return coefficients_from(tomllib.load(file))
