"""Small figures that show how the quantity of a rule is measured; no figure of a code in them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from fluewright.drawing.measure import connector
from fluewright.drawing.measure.parts import Figure
from fluewright.drawing.scene import Scene

__all__ = ["FIGURES", "MEASURED", "Figure", "measure_drawing"]

FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.name: figure for module in (connector,) for figure in module.FIGURES}
)

# Which rules a figure serves.
_SERVES = {
    "slope": ("connector_upward_slope",),
    "sag": ("connector_no_dips_or_sags",),
    "connector-length": ("connector_length_single_wall", "connector_length_type_b"),
    "first-rise": ("connector_first_vertical_rise",),
    "hangers": ("connector_support_spacing", "connector_supported"),
    "joint-screws": ("connector_screw_count", "connector_joints_fastened"),
    "male-end": ("connector_male_end_direction",),
    "inside-size": (
        "connector_not_smaller_than_draft_hood", "connector_single_appliance_size",
        "vent_area_single_draft_hood", "vertical_vent_larger_than_connector",
        "vent_downsizing_conditions",
    ),
    "size-steps": ("connector_upsize_limit",),
    "enlarged-at-outlet": ("connector_enlarged_at_hood_outlet",),
    "narrow-place": ("connector_no_reduction_along_flow",),
}  # fmt: skip

MEASURED: Mapping[str, Figure] = MappingProxyType(
    {rule: FIGURES[name] for name, rules in _SERVES.items() for rule in rules}
)


def measure_drawing(rule_id: str) -> Scene | None:
    """How the quantity of a rule is measured, as a small sheet; None where no figure is drawn.

    Args:
        rule_id: id of the rule.
    """
    figure = MEASURED.get(rule_id)
    return None if figure is None else figure.scene()
