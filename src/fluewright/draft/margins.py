"""How far a vent is from spilling: what would have to change, one thing at a time."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from fluewright.draft import kernel
from fluewright.draft.solve import figures
from fluewright.draft.system import Lone
from fluewright.errors import OutOfRange

# A jet through a sharp-edged hole narrows to this share of it (Weisbach, for small holes).
CONTRACTION = 0.61
HALVINGS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What alone would bring a hot vent to the point of spilling.

    Attributes:
        suction_pa: further suction of the room; below 0 it spills as it stands. [Pa]
        adverse_wind_pa: further pressure of the wind at the cap: the same figure. [Pa]
        outdoor_k: outdoor temperature above which it spills; None where none up to the warmest
            that was tried makes it spill. [K]
        extra_loss: further loss coefficient in the narrowest segment. [-]
        open_share: share of that segment's area that a blockage with a sharp edge leaves free
            then. [-]
        input_share: input rate, as a share of the present one, that it carries. [-]
    """

    suction_pa: float
    adverse_wind_pa: float
    outdoor_k: float | None
    extra_loss: float
    open_share: float
    input_share: float


def spill_margin(system: Lone) -> float:
    """Pressure to spare where all flue gas, and no air, goes up the vent. [Pa]

    Source: balance of pressures at the flow of the flue gas, `draft.kernel`.

    Args:
        system: flame, hood, vent and surroundings; not idle.
    Returns:
        The further suction of the room at which it begins to spill; below 0 it does already.
    Raises:
        OutOfRange: a figure that no vent can have, or an appliance that is off.
    """
    par, rows = figures(system)
    if not par[kernel.FLUE_KG_S] > 0.0:
        raise OutOfRange("draft: the appliance is off: it has no gas to spill.")
    return kernel.rising(par[kernel.FLUE_KG_S], par, rows, len(rows))


def limits(system: Lone, at_outdoor: Callable[[float], Lone], warmest_k: float) -> Limits:
    """What alone would bring the vent to the point of spilling.

    Source: the balance of pressures, solved for one figure at a time.

    Args:
        system: the vent as it stands, burning.
        at_outdoor: the same at another outdoor temperature, which warms attic and vent too. [K]
        warmest_k: how far up the outdoor temperature is tried. [K]
    Returns:
        One limit for each thing.
    Raises:
        OutOfRange: a figure that no vent can have, or an appliance that is off.
    """
    margin = spill_margin(system)
    loss = _extra_loss(system, margin)
    outdoor = crossing(
        lambda outdoor_k: spill_margin(at_outdoor(outdoor_k)), system.around.outdoor_k, warmest_k
    )
    return Limits(
        suction_pa=margin,
        adverse_wind_pa=margin,
        outdoor_k=outdoor,
        extra_loss=loss,
        open_share=_open_share(loss),
        input_share=_input_share(system),
    )


def crossing(margin: Callable[[float], float], start: float, end: float) -> float | None:
    """Where a margin that is positive at the start turns negative, by bisection.

    Args:
        margin: the margin at a value.
        start: where the search begins.
        end: where it stops.
    Returns:
        The value; the start where the margin is negative there; None where it never is.
    """
    if margin(start) < 0.0:
        return start
    if margin(end) >= 0.0:
        return None
    good, bad = start, end
    for _ in range(HALVINGS):
        middle = 0.5 * (good + bad)
        if margin(middle) >= 0.0:
            good = middle
        else:
            bad = middle
    return good


def _extra_loss(system: Lone, margin: float) -> float:
    """Loss coefficient in the narrowest segment that uses up a margin; 0 where there is none."""
    if margin <= 0.0:
        return 0.0
    par, rows = figures(system)
    flow = par[kernel.FLUE_KG_S]
    gas_k, molar, cp, _ = kernel.entering(flow, par)
    head = 0.0
    for row in rows:
        own = kernel.velocity_head(flow, gas_k, molar, row[kernel.AREA], par[kernel.AIR_PA])
        head = max(head, own)
        gas_k, _, _, _ = kernel.stretch(flow, gas_k, molar, cp, row, par)
    return margin / head


def _open_share(loss: float) -> float:
    """Free share of an area that a sharp-edged hole of a loss coefficient leaves. [-]

    Source: sudden enlargement behind the narrowed jet (Borda and Carnot).
    """
    return min(1.0 / (CONTRACTION * (1.0 + math.sqrt(loss))), 1.0) if loss > 0.0 else 1.0


def _input_share(system: Lone) -> float:
    """Largest share of the present flue gas that the vent carries without spilling. [-]"""

    def margin(share: float) -> float:
        flue = replace(system.flue, mass_kg_s=system.flue.mass_kg_s * share)
        return spill_margin(replace(system, flue=flue))

    high = 1.0
    while margin(high) >= 0.0 and high < 64.0:
        high *= 2.0
    low = high
    while margin(low) < 0.0:
        high, low = low, low / 1.5
        if low < 1e-3:
            return 0.0
    found = crossing(margin, low, high)
    return low if found is None else found
