"""How high a chimney must end, drawn as levels beside its top."""

from __future__ import annotations

from fluewright.drawing.house import RoofShape
from fluewright.drawing.metrics import fraction
from fluewright.drawing.words import Style
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, show


@frozen
class TopRule:
    """What an edition asks of a chimney's top. [m]"""

    above_roof_m: float
    above_building_m: float
    within_m: float


@frozen
class Level:
    """A height that the top must reach, in metres of the house, and its words."""

    y: float
    words: str


def levels(roof: RoofShape | None, rule: TopRule, style: Style) -> list[Level]:
    """Both heights that the rule asks for, as far as roof and neighbors are known."""
    if roof is None or not roof.level_known:
        return []

    def said(length_m: float) -> str:
        return fraction(show(length_m, Dimension.LENGTH, style))

    found = [Level(roof.level + rule.above_roof_m, f"{said(rule.above_roof_m)} over the roof")]
    highest = _highest(roof, rule.within_m)
    if highest is not None:
        words = f"{said(rule.above_building_m)} over all within {said(rule.within_m)}"
        found.append(Level(highest + rule.above_building_m, words))
    return found


def _highest(roof: RoofShape, within_m: float) -> float | None:
    """The highest part of the building within the circle; None where that is not known."""
    if not roof.pitch_known:
        return None
    far = roof.edge + within_m
    top = roof.height(min(far, roof.ridge) if roof.ridge is not None else far)
    for upright in roof.uprights:
        near, over = upright.near.horizontal, upright.near.top_above_penetration
        if not isinstance(near, Measured) or near.value > within_m:
            continue
        if not isinstance(over, Measured):
            return None
        top = max(top, roof.level + over.value)
    return top
