"""The flue of a masonry chimney: large enough for the connector, at most seven outlets.

Source: the heads of the masonry tables for the least area; UMC 2012 803.1.9, 803.2.16 for the
most (basis read).
"""

from __future__ import annotations

import math

from fluewright.capacity.sizing import MOST_OUTLET_AREAS, ROUNDING
from fluewright.capacity.table import IN_M
from fluewright.quantity import Measured
from fluewright.source import Step

IN2_M2 = IN_M**2


def bore_area_in2(bore_m: float) -> float:
    """Area of a round bore. [in2]"""
    return math.pi / 4 * bore_m**2 / IN2_M2


def area_text(area: Measured) -> str:
    """An area in square inches for people, with its tolerance where it has one."""
    half = f" ± {area.tolerance / IN2_M2:.4g}" if area.tolerance else ""
    return f"{area.value / IN2_M2:.4g}{half} in2"


def too_small(area: Measured, least_in2: float, table: str, connector_in: float) -> str | None:
    """Why the flue does not hold the least area of a table's column, or None when it does."""
    low, high = area.low / IN2_M2, area.high / IN2_M2
    if low >= least_in2 * (1 - ROUNDING):
        return None
    certain = high < least_in2 * (1 - ROUNDING)
    verb, remedy = (
        ("is smaller", "A smaller connector, or another vent, is needed.")
        if certain
        else ("may be smaller", "Measure the flue more closely.")
    )
    return (
        f"The flue, {area_text(area)} inside, {verb} than the {least_in2:g} in2 that table {table} "
        f"asks for a connector of {connector_in:g} in. {remedy}"
    )


def too_large(area: Measured, outlet: Measured, what: str) -> str | None:
    """Why a flow area is above seven times that of an outlet, or None when it is not.

    Args:
        area: flow area of the vent or flue. [m2]
        outlet: diameter of the outlet that counts. [m]
        what: the words for that outlet.
    """
    sure = MOST_OUTLET_AREAS * bore_area_in2(max(0.0, outlet.low)) * (1 + ROUNDING)
    most = MOST_OUTLET_AREAS * bore_area_in2(outlet.high) * (1 + ROUNDING)
    if area.high / IN2_M2 <= sure:
        return None
    certain = area.low / IN2_M2 > most
    verb = "is" if certain else "may be"
    remedy = (
        "A liner, a smaller vent or an engineered method is needed."
        if certain
        else "Measure both more closely."
    )
    return (
        f"The flow area, {area_text(area)}, {verb} more than {MOST_OUTLET_AREAS:g} times that of "
        f"{what}: {MOST_OUTLET_AREAS * bore_area_in2(outlet.value):.4g} in2. {remedy}"
    )


def under_connector(area: Measured, connector: Measured) -> str | None:
    """Why a flow area is below that of the largest connector, or None when it is not."""
    if area.low / IN2_M2 >= bore_area_in2(connector.high) * (1 - ROUNDING):
        return None
    certain = area.high / IN2_M2 < bore_area_in2(max(0.0, connector.low)) * (1 - ROUNDING)
    return (
        f"The common vent, {area_text(area)}, {'is' if certain else 'may be'} smaller than its "
        f"largest connector, {bore_area_in2(connector.value):.4g} in2. It must be at least as "
        f"large{'' if certain else ': measure both more closely'}."
    )


def seven_times_step(outlet: Measured | None, area: Measured) -> Step:
    """What the seven times rule found, or what it still asks where the outlet was not given."""
    if outlet is None:
        least = math.sqrt(area.high / IN2_M2 / MOST_OUTLET_AREAS * 4 / math.pi)
        return Step(
            f"holds only where the flow area, {area_text(area)}, is at most "
            f"{MOST_OUTLET_AREAS:g} times that of the smallest draft hood outlet or flue collar; "
            "least diameter of that outlet",
            least,
            "in",
        )
    share = area.value / IN2_M2 / bore_area_in2(outlet.value)
    return Step(
        f"flow area over that of the smallest outlet, at most {MOST_OUTLET_AREAS:g}", share, "times"
    )
