"""Computations behind the published checks of friction, fittings and hand methods."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fluewright.draft import losses

FT_M, IN_M = 0.3048, 0.0254


def handbook_friction_loss(given: Mapping[str, Any]) -> float:
    """Loss coefficient of a straight run by the chimney handbook's factor [-]."""
    along = given["length_ft"] * FT_M / (given["diameter_in"] * IN_M)
    return losses.handbook_friction(given["factor"]) * along


ADAPTERS = {"handbook_friction_loss": handbook_friction_loss}
