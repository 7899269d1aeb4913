"""The tools of this package, from its data."""

from __future__ import annotations

import os
from functools import cache

from fluewright.tool import Tool, tools_from

# Not importlib.resources: it would take as long to import as a survey takes to read.
_TABLE = os.path.join(os.path.dirname(os.path.dirname(__file__)), "data", "tools.toml")


@cache
def default_tools() -> dict[str, Tool]:
    """Every tool of ``data/tools.toml`` by its id."""
    import tomllib

    with open(_TABLE, "rb") as file:
        return tools_from(tomllib.load(file))
