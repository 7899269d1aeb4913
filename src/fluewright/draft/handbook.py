"""Published hand methods for one vent, in the units they are printed in: checks on the engine.

They share nothing with the engine's own balance. The forms are those of

* ASHRAE Handbook HVAC Systems and Equipment, chapter on chimneys, inch-pound: coefficients from
  memory, edition not confirmed; checked against the physics that they stand for;
* BS 5440-1, equivalent height of an open flue: formula and factors read in two appliance
  manuals that quote it, edition not printed there.

A result of these is a check, never a verdict on a vent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fluewright.draft.system import (
    AIR_KG_KMOL,
    GAS_CONSTANT_J_KMOL_K,
    GRAVITY_M_S2,
    STANDARD_AIR_PA,
)
from fluewright.errors import OutOfRange

DRAFT_FACTOR = 0.2554  # in w.c. degR / (in Hg ft)
CAPACITY_FACTOR = 4.13e5  # Btu/h
# 3600 (pi/4)/144 sqrt(2 x 32.174 x 5.2 x 1.325): what the printed factor, over 1000, stands for
MASS_FACTOR_LB_H = 3600.0 * math.pi / 4.0 / 144.0 * math.sqrt(2.0 * 32.174 * 5.2 * 1.325)

Fuel = Literal["natural_gas", "lp_gas"]
MASS_RATIO: dict[Fuel, tuple[float, float, float]] = {  # a (b + c / CO2)
    "natural_gas": (0.705, 0.159, 10.72),
    "lp_gas": (0.706, 0.144, 12.61),
}


# ---------------------------------------------------------------- chimney handbook


def theoretical_draft(
    barometer_inhg: float, height_ft: float, outdoor_r: float, gas_r: float
) -> float:
    """Theoretical draft by the chimney handbook, 0.2554 B H (1/To - 1/Tm). [in w.c.]

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory.

    Args:
        barometer_inhg: absolute. [in Hg]
        height_ft: of the chimney. [ft]
        outdoor_r: outdoors. [degR, printed examples take F + 460]
        gas_r: mean of the gas. [degR]

    Raises:
        OutOfRange: a pressure or temperature is not above zero.
    """
    _above_zero(barometer_inhg=barometer_inhg, outdoor_r=outdoor_r, gas_r=gas_r)
    return DRAFT_FACTOR * barometer_inhg * height_ft * (1.0 / outdoor_r - 1.0 / gas_r)


def theoretical_draft_pa(
    height_m: float, outdoor_k: float, gas_k: float, air_pa: float = STANDARD_AIR_PA
) -> float:
    """Theoretical draft of gas that weighs as air: g M/R p H (1/To - 1/Tm). [Pa]

    The same equation in SI; its factor is 0.03413 (1/m K).

    Args:
        height_m: of the chimney. [m]
        outdoor_k: outdoors. [K]
        gas_k: mean of the gas. [K]
        air_pa: absolute. [Pa]

    Raises:
        OutOfRange: a pressure or temperature is not above zero.
    """
    _above_zero(outdoor_k=outdoor_k, gas_k=gas_k, air_pa=air_pa)
    factor = GRAVITY_M_S2 * AIR_KG_KMOL / GAS_CONSTANT_J_KMOL_K
    return factor * air_pa * height_m * (1.0 / outdoor_k - 1.0 / gas_k)


def mass_ratio(fuel: Fuel, co2_percent: float) -> float:
    """Vent gas per heat input on the higher heating value. [lb per 1000 Btu]

    2 to 3 % below what the composition of the fuel gives.

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory.

    Args:
        fuel: natural gas or LP.
        co2_percent: in the dry vent gas, diluted. [%]

    Raises:
        OutOfRange: carbon dioxide is not above zero.
    """
    _above_zero(co2_percent=co2_percent)
    a, b, c = MASS_RATIO[fuel]
    return a * (b + c / co2_percent)


def resistance(
    *,
    length_ft: float,
    diameter_in: float,
    elbows: int = 0,
    inlet: float = 0.5,
    elbow: float = 0.75,
    cap: float = 0.0,
    factor: float = 0.4,
    exit_head: float = 1.0,
) -> float:
    """Sum of the losses of a chimney by the handbook: K = inlet + elbows + cap + F L/d. [-]

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory.

    Args:
        length_ft: of the whole path. [ft]
        diameter_in: inside. [in]
        elbows: number of right-angle elbows.
        inlet: draft hood, inlet acceleration.
        elbow: of each.
        cap: besides the exit head.
        factor: F of the wall.
        exit_head: 1, or 0 where the inlet acceleration is taken to pay for it.

    Raises:
        OutOfRange: diameter is not above zero.
    """
    _above_zero(diameter_in=diameter_in)
    return inlet + elbows * elbow + cap + exit_head + factor * length_ft / diameter_in


def capacity(
    *,
    diameter_in: float,
    mass_lb_kbtu: float,
    draft_inwc: float,
    barometer_inhg: float,
    losses: float,
    gas_r: float,
) -> float:
    """Input that a chimney carries, 4.13e5 (d2/M) sqrt(dp B / (k Tm)). [Btu/h]

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory. The factor over
    1000 is 413.4 by its own physics, within 0.2 %.

    Args:
        diameter_in: inside. [in]
        mass_lb_kbtu: vent gas per heat, ``mass_ratio``. [lb per 1000 Btu]
        draft_inwc: what flow may use up. [in w.c.]
        barometer_inhg: absolute. [in Hg]
        losses: sum of the loss coefficients, ``resistance``. [-]
        gas_r: mean of the gas. [degR]

    Raises:
        OutOfRange: no draft, or a figure is not above zero.
    """
    _above_zero(
        diameter_in=diameter_in, mass_lb_kbtu=mass_lb_kbtu, draft_inwc=draft_inwc,
        barometer_inhg=barometer_inhg, losses=losses, gas_r=gas_r,
    )  # fmt: skip
    root = math.sqrt(draft_inwc * barometer_inhg / (losses * gas_r))
    return CAPACITY_FACTOR * diameter_in**2 / mass_lb_kbtu * root


def screening_capacity(
    *, height_ft: float, lateral_ft: float, diameter_in: float, elbows: int
) -> float:
    """Draft-hood capacity of a Type B vent by three fitted numbers. [kBtu/h]

    3.8258 d2 sqrt(H / (1.954 + 0.914 n + 0.681 (H + L) / d)). No standard prints it: the form
    of the handbook equation, fitted to the draft-hood maxima of NFPA 54 Table 13.1(a). Off by
    about 1 % at the median and 23 % at worst (small, long, where heat loss matters). For a
    first guess alone.

    Args:
        height_ft: of the vent. [ft]
        lateral_ft: horizontal. [ft]
        diameter_in: inside. [in]
        elbows: right-angle, two with any lateral.

    Raises:
        OutOfRange: height or diameter is not above zero, or the rest is below.
    """
    _above_zero(height_ft=height_ft, diameter_in=diameter_in)
    if min(lateral_ft, elbows) < 0:
        raise OutOfRange(f"lateral {lateral_ft:g} ft, {elbows} elbows: none may be below zero.")
    along = (height_ft + lateral_ft) / diameter_in
    losses = 1.954 + 0.914 * elbows + 0.681 * along
    return 3.8258 * diameter_in**2 * math.sqrt(height_ft / losses)


# ---------------------------------------------------------------- BS 5440-1


@dataclass(frozen=True, slots=True, kw_only=True)
class FlueFactors:
    """Resistances of a size of flue by BS 5440-1. ``pipe`` is per metre, ``bend_45`` turns 45."""

    inlet: float
    outlet: float
    pipe: float
    bend_90: float
    bend_45: float
    terminal: float


# By inside diameter in mm. Read in two appliance manuals that quote BS 5440-1, where a bend
# that turns by 45 degrees is called a 135 degree bend.
BS_5440_FACTORS: dict[int, FlueFactors] = {
    100: FlueFactors(inlet=2.5, outlet=2.5, pipe=0.78, bend_90=1.22, bend_45=0.61, terminal=0.6),
    125: FlueFactors(inlet=1.0, outlet=1.0, pipe=0.25, bend_90=0.5, bend_45=0.25, terminal=0.25),
}


def equivalent_height(
    *,
    height_m: float,
    fittings: float,
    actual_ends: float,
    reference_ends: float,
    reference_pipe: float,
) -> float:
    """Height of a straight upright flue of the reference size that draws as well. [m]

    He = Ha (Ki + Ko)e / [(Ki + Ko)a - Ke Ha + sum K].

    Source: BS 5440-1, read in two appliance manuals that quote it.

    Args:
        height_m: upright height of the actual flue. [m]
        fittings: sum K of all pipe and fittings of the actual flue, without inlet and outlet.
        actual_ends: inlet and outlet of the actual flue.
        reference_ends: inlet and outlet of the reference flue.
        reference_pipe: of the reference flue. [1/m]

    Raises:
        OutOfRange: the flue resists so little that no height of the reference equals it.
    """
    _above_zero(height_m=height_m, reference_ends=reference_ends)
    left = actual_ends - reference_pipe * height_m + fittings
    if not left > 0.0:
        raise OutOfRange(
            f"flue of {height_m:g} m resists so little ({left:.3g}) that no straight flue of the "
            "reference size draws as well. The method does not reach so far."
        )
    return height_m * reference_ends / left


def _above_zero(**figures: float) -> None:
    """Refuse zero, less, or no number."""
    for name, value in figures.items():
        if not 0.0 < value < math.inf:
            raise OutOfRange(f"{name} is {value:g}. It must be above zero.")
