"""What a moving gas loses on its way: friction along the wall, and fittings.

The plain reference of the kernels, which hold the same formulas inlined. A loss coefficient K
is on the velocity head of a stated place; friction factors are Darcy's, four times Fanning's.
"""

from __future__ import annotations

import math

from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K
from fluewright.errors import NotSolved, OutOfRange

LAMINAR, TURBULENT = 2000.0, 4000.0  # Reynolds numbers; a straight blend between
ROUGHEST = 0.1  # of the diameter: beyond it a wall is an obstruction, not rough
HANDBOOK_TO_DARCY = 12.0  # F has L in feet and d in inches


# ---------------------------------------------------------------- flow in a pipe


def mass_flux(mass_kg_s: float, area_m2: float) -> float:
    """Mass flow per area. [kg/(s m2)]

    Raises:
        OutOfRange: no free area.
    """
    _above_zero("free area", area_m2, "m2")
    return mass_kg_s / area_m2


def reynolds(flux_kg_sm2: float, diameter_m: float, viscosity_pa_s: float) -> float:
    """Reynolds number G D / mu of a flow either way. [-]

    Args:
        flux_kg_sm2: mass flow per area. [kg/(s m2)]
        diameter_m: inside, or hydraulic. [m]
        viscosity_pa_s: dynamic. [Pa s]

    Raises:
        OutOfRange: diameter or viscosity is not above zero.
    """
    _above_zero("diameter", diameter_m, "m")
    _above_zero("viscosity", viscosity_pa_s, "Pa s")
    return abs(flux_kg_sm2) * diameter_m / viscosity_pa_s


def velocity_head(
    flux_kg_sm2: float, temperature_k: float, molar_kg_kmol: float, pressure_pa: float
) -> float:
    """Velocity head G2 R T / (2 p M) of an ideal gas. [Pa]

    Args:
        flux_kg_sm2: mass flow per area. [kg/(s m2)]
        temperature_k: of the gas there. [K]
        molar_kg_kmol: of the gas. [kg/kmol]
        pressure_pa: absolute. [Pa]

    Raises:
        OutOfRange: temperature, molar mass or pressure is not above zero.
    """
    _above_zero("temperature", temperature_k, "K")
    _above_zero("molar mass", molar_kg_kmol, "kg/kmol")
    _above_zero("pressure", pressure_pa, "Pa")
    gas_j_kgk = GAS_CONSTANT_J_KMOL_K / molar_kg_kmol
    return flux_kg_sm2 * flux_kg_sm2 * gas_j_kgk * temperature_k / (2.0 * pressure_pa)


# ---------------------------------------------------------------- friction factors


def laminar(reynolds_number: float) -> float:
    """Darcy friction factor of laminar flow, 64 / Re. [-]

    Source: Hagen and Poiseuille.

    Raises:
        OutOfRange: no flow. The factor has no limit there; ``wall_friction`` has: zero loss.
    """
    _above_zero("Reynolds number", reynolds_number, "")
    return 64.0 / reynolds_number


def swamee_jain(reynolds_number: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow, explicit. [-]

    Source: Swamee and Jain 1976, J. Hydraulics Div. ASCE 102: within about 1 % of Colebrook for
    Re 5e3 to 1e8; 1.3 % above it at the low Reynolds numbers of a vent.

    Args:
        reynolds_number: of the flow.
        relative_roughness: height of the roughness over the diameter.

    Raises:
        OutOfRange: not turbulent, or a roughness outside 0 to 0.1.
    """
    _turbulent(reynolds_number, relative_roughness)
    inner = relative_roughness / 3.7 + 5.74 / reynolds_number**0.9
    return 0.25 / math.log10(inner) ** 2


def colebrook(reynolds_number: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow by Colebrook's equation, solved. [-]

    Source: Colebrook 1939, J. ICE 11: 1/sqrt(f) = -2 log10(rr/3.7 + 2.51/(Re sqrt(f))). For
    comparison; the engine uses ``friction``.

    Args:
        reynolds_number: of the flow.
        relative_roughness: height of the roughness over the diameter.

    Raises:
        OutOfRange: not turbulent, or a roughness outside 0 to 0.1.
    """
    _turbulent(reynolds_number, relative_roughness)
    x = 1.0 / math.sqrt(swamee_jain(reynolds_number, relative_roughness))
    slope = 2.51 / reynolds_number
    for _ in range(50):  # Newton on x = 1/sqrt(f); convex, so it closes in from one side
        inner = relative_roughness / 3.7 + slope * x
        step = (x + 2.0 * math.log10(inner)) / (1.0 + 2.0 * slope / (inner * math.log(10.0)))
        x -= step
        if abs(step) <= 1e-14 * x:
            return 1.0 / (x * x)
    raise NotSolved(
        f"Colebrook's equation did not settle at Re {reynolds_number:g}, "
        f"relative roughness {relative_roughness:g}."
    )


def friction(reynolds_number: float, relative_roughness: float) -> float:
    """Darcy friction factor at any Reynolds number above zero. [-]

    64/Re up to 2000, Swamee and Jain from 4000, a straight line between the two ends. It has no
    jump; its slope has one at either end. Nobody can say what the factor is between.

    Args:
        reynolds_number: of the flow.
        relative_roughness: height of the roughness over the diameter.

    Raises:
        OutOfRange: no flow, or a roughness outside 0 to 0.1.
    """
    _roughness(relative_roughness)
    if not reynolds_number > LAMINAR:  # written so that no number is refused there
        return laminar(reynolds_number)
    if reynolds_number >= TURBULENT:
        return swamee_jain(reynolds_number, relative_roughness)
    low, high = laminar(LAMINAR), swamee_jain(TURBULENT, relative_roughness)
    return low + (high - low) * (reynolds_number - LAMINAR) / (TURBULENT - LAMINAR)


def handbook_friction(factor: float) -> float:
    """Darcy friction factor behind the chimney handbook's K = F L[ft] / d[in]: F / 12. [-]

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory. F is 0.4 in
    general, 0.25 for a gas vent.

    Raises:
        OutOfRange: F is below zero.
    """
    _not_below_zero("handbook friction factor", factor, "")
    return factor / HANDBOOK_TO_DARCY


def wall_friction(
    *,
    flux_kg_sm2: float,
    length_m: float,
    diameter_m: float,
    roughness_m: float,
    viscosity_pa_s: float,
    density_kg_m3: float,
) -> float:
    """Pressure that friction takes along a pipe, zero where nothing flows. [Pa]

    Near rest it is laminar and falls to zero with the flow, where the factor itself has no
    limit: 32 mu L V / D2.

    Args:
        flux_kg_sm2: mass flow per area, either way. [kg/(s m2)]
        length_m: along the center line. [m]
        diameter_m: inside, or hydraulic. [m]
        roughness_m: height of the roughness. [m]
        viscosity_pa_s: dynamic, at the mean temperature. [Pa s]
        density_kg_m3: at the mean temperature. [kg/m3]

    Raises:
        OutOfRange: a size or property is not above zero, a length or roughness is below.
    """
    _not_below_zero("length", length_m, "m")
    _above_zero("density", density_kg_m3, "kg/m3")
    number = reynolds(flux_kg_sm2, diameter_m, viscosity_pa_s)
    relative = roughness_m / diameter_m
    _roughness(relative)
    speed = abs(flux_kg_sm2) / density_kg_m3
    if number <= LAMINAR:
        return 32.0 * viscosity_pa_s * length_m * speed / (diameter_m * diameter_m)
    factor = friction(number, relative)
    return factor * length_m / diameter_m * 0.5 * density_kg_m3 * speed * speed


# ---------------------------------------------------------------- fittings


def elbow_loss(angle_deg: float, loss_45: float = 0.3, loss_90: float = 0.75) -> float:
    """Loss of an elbow by its angle, on its own velocity head. [-]

    Straight lines through nothing at 0 degrees, the 45 and the 90 degree elbow. The handbook
    prints the two; the lines between are an assumption.

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory.

    Args:
        angle_deg: turn of the flow, 0 to 90. [deg]
        loss_45: of the 45 degree elbow. [-]
        loss_90: of the 90 degree elbow. [-]

    Raises:
        OutOfRange: turns by more than 90 degrees: enter it as two elbows.
    """
    if not 0.0 <= angle_deg <= 90.0:
        raise OutOfRange(
            f"elbow turns by {angle_deg:g} degrees, which is not 0 to 90. "
            "Enter a sharper turn as two elbows."
        )
    _not_below_zero("loss of the 45 degree elbow", loss_45, "")
    _not_below_zero("loss of the 90 degree elbow", loss_90, "")
    if angle_deg <= 45.0:
        return loss_45 * angle_deg / 45.0
    return loss_45 + (loss_90 - loss_45) * (angle_deg - 45.0) / 45.0


def contraction_loss(area_in_m2: float, area_out_m2: float, full: float = 0.5) -> float:
    """Loss of a sudden contraction on the velocity head of the smaller, later pipe. [-]

    Source: 0.5 (1 - A2/A1), hydraulics handbooks, from memory.

    Args:
        area_in_m2: before, the larger. [m2]
        area_out_m2: after, the smaller. [m2]
        full: the loss from a very large space. [-]

    Raises:
        OutOfRange: an area is not above zero, or it grows.
    """
    return full * (1.0 - _share(area_out_m2, area_in_m2, "contraction"))


def expansion_loss(area_in_m2: float, area_out_m2: float) -> float:
    """Loss of a sudden expansion on the velocity head of the smaller, earlier pipe. [-]

    Source: Borda and Carnot, (1 - A1/A2)2.

    Args:
        area_in_m2: before, the smaller. [m2]
        area_out_m2: after, the larger. [m2]

    Raises:
        OutOfRange: an area is not above zero, or it shrinks.
    """
    return (1.0 - _share(area_in_m2, area_out_m2, "expansion")) ** 2


def change_loss(area_in_m2: float, area_out_m2: float) -> float:
    """Loss of a sudden change of area on the velocity head of the later pipe. [-]

    What ``Segment.entry_loss`` needs, whichever of the two is the smaller.

    Raises:
        OutOfRange: an area is not above zero.
    """
    if area_out_m2 <= area_in_m2:
        return contraction_loss(area_in_m2, area_out_m2)
    return on_other_area(expansion_loss(area_in_m2, area_out_m2), area_in_m2, area_out_m2)


def tapered_reducer_loss(diameter_in_m: float, diameter_out_m: float) -> float:
    """The chimney handbook's loss of a tapered reducer, 1 - (d2/d1)4. [-]

    On the velocity head of the smaller, later pipe. It is the gain in velocity head (Bernoulli)
    rather than a loss: a method that follows the velocity head itself must not add it.

    Source: ASHRAE Handbook HVAC Systems and Equipment, chimneys, from memory.

    Raises:
        OutOfRange: a diameter is not above zero, or it widens.
    """
    return 1.0 - _share(diameter_out_m, diameter_in_m, "tapered reducer") ** 4


def on_other_area(loss: float, area_m2: float, other_m2: float) -> float:
    """The same loss of pressure as a coefficient on the velocity head of another area. [-]

    K' = K (A'/A)2, at one mass flow and one temperature.

    Args:
        loss: on the velocity head in ``area_m2``. [-]
        area_m2: the area it is for. [m2]
        other_m2: the area it shall be for. [m2]

    Raises:
        OutOfRange: an area is not above zero.
    """
    _above_zero("area", area_m2, "m2")
    _above_zero("other area", other_m2, "m2")
    ratio = other_m2 / area_m2
    return loss * ratio * ratio


# ---------------------------------------------------------------- what is refused


def _share(small: float, large: float, what: str) -> float:
    """The smaller over the larger."""
    _above_zero(f"{what}: the smaller side", small, "")
    _above_zero(f"{what}: the larger side", large, "")
    if small > large:
        raise OutOfRange(
            f"{what}: {small:g} is not the smaller of {small:g} and {large:g}. "
            "Give the sides in the direction of flow."
        )
    return small / large


def _turbulent(reynolds_number: float, relative_roughness: float) -> None:
    """Refuse what the turbulent laws are not for."""
    if not LAMINAR < reynolds_number < math.inf:
        raise OutOfRange(
            f"Reynolds number {reynolds_number:g} is not turbulent. It must be above {LAMINAR:g}."
        )
    _roughness(relative_roughness)


def _roughness(relative_roughness: float) -> None:
    """Refuse a wall that is not merely rough."""
    if not 0.0 <= relative_roughness <= ROUGHEST:
        raise OutOfRange(
            f"roughness is {relative_roughness:g} of the diameter. It must be 0 to {ROUGHEST:g}."
        )


def _above_zero(what: str, value: float, unit: str) -> None:
    """Refuse zero, less, or no number."""
    if not 0.0 < value < math.inf:
        raise OutOfRange(f"{what} is {value:g} {unit}".rstrip() + ". It must be above zero.")


def _not_below_zero(what: str, value: float, unit: str) -> None:
    """Refuse less than zero, or no number."""
    if not 0.0 <= value < math.inf:
        raise OutOfRange(f"{what} is {value:g} {unit}".rstrip() + ". It must not be below zero.")
