"""Computations behind the published checks of friction, fittings and hand methods."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fluewright.draft import handbook, losses

FT_M, IN_M = 0.3048, 0.0254
INHG_PA, INWC_PA = 3386.389, 249.089  # mercury at 0, water at 4 degC
DEGF_R, DEGC_K = 459.67, 273.15


def handbook_friction_loss(given: Mapping[str, Any]) -> float:
    """Loss coefficient of a straight run by the chimney handbook's factor [-]."""
    along = given["length_ft"] * FT_M / (given["diameter_in"] * IN_M)
    return losses.handbook_friction(given["factor"]) * along


def handbook_draft_inwc(given: Mapping[str, Any]) -> float:
    """Theoretical draft by the chimney handbook [in w.c.], with the zero that the page takes."""
    outdoor, gas = (given[name] + given["zero_degf"] for name in ("outdoor_degf", "gas_degf"))
    return handbook.theoretical_draft(given["barometer_inhg"], given["height_ft"], outdoor, gas)


def theoretical_draft_inwc(given: Mapping[str, Any]) -> float:
    """Theoretical draft of gas that weighs as air [in w.c.]."""
    outdoor, gas = ((given[name] + DEGF_R) / 1.8 for name in ("outdoor_degf", "gas_degf"))
    height, air = given["height_ft"] * FT_M, given["barometer_inhg"] * INHG_PA
    return handbook.theoretical_draft_pa(height, outdoor, gas, air) / INWC_PA


def theoretical_draft_pa(given: Mapping[str, Any]) -> float:
    """Theoretical draft of gas that weighs as air, at sea level [Pa]."""
    outdoor, gas = (given[name] + DEGC_K for name in ("outdoor_degc", "gas_degc"))
    return handbook.theoretical_draft_pa(given["height_m"], outdoor, gas)


def bs_5440_factor(given: Mapping[str, Any]) -> float:
    """A resistance factor as the program holds it [-]."""
    return float(getattr(handbook.BS_5440_FACTORS[given["size_mm"]], given["part"]))


ADAPTERS = {
    "handbook_friction_loss": handbook_friction_loss,
    "handbook_draft_inwc": handbook_draft_inwc,
    "theoretical_draft_inwc": theoretical_draft_inwc,
    "theoretical_draft_pa": theoretical_draft_pa,
    "bs_5440_factor": bs_5440_factor,
}
