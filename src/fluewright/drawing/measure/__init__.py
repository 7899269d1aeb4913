"""Small figures that show how the quantity of a rule is measured; no figure of a code in them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from fluewright.drawing.measure import (
    air,
    clearance,
    connector,
    look,
    outlet,
    roof,
    setting,
    vent,
)
from fluewright.drawing.measure.parts import Figure
from fluewright.drawing.scene import Scene

__all__ = ["FIGURES", "MEASURED", "Figure", "measure_drawing"]

FIGURES: Mapping[str, Figure] = MappingProxyType(
    {
        figure.name: figure
        for module in (connector, clearance, vent, roof, look, outlet, air, setting)
        for figure in module.FIGURES
    }
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
    "to-wood": (
        "connector_clearance_single_wall_draft_hood_6in",
        "connector_clearance_unlisted_or_no_hood", "clearance_reduction_method_allowed",
    ),
    "stamped-clearance": (
        "connector_clearance_to_combustibles", "type_b_vent_clearance_as_listed",
        "connector_type_b_through_partition",
    ),
    "shield-gap": ("clearance_reduction_air_gap",),
    "shield-extent": ("clearance_reduction_extent",),
    "wall-thimble": ("thimble_single_wall_exterior_wall",),
    "relief-clearance": (
        "draft_hood_relief_clearance", "reduction_never_cuts_draft_hood_or_air",
    ),
    "hood-parts": ("draft_hood_required_and_unaltered", "draft_hood_position"),
    "insulation-shield": ("attic_insulation_shield",),
    "firestop": ("firestop_at_floor_and_ceiling",),
    "shield-plates": ("concealed_vent_shield_plates",),
    "heater-clearance": (
        "appliance_clearance_as_listed", "unlisted_water_heater_clearance",
        "unlisted_furnace_boiler_clearance",
    ),
    "roof-thimble": ("roof_thimble_single_wall",),
    "vent-height": (
        "gas_vent_minimum_height", "single_wall_vent_minimum_height", "table_interpolation",
        "vent_sized_by_accepted_method",
    ),
    "lean": ("vent_offset_angle",),
    "elbows": ("zero_lateral_no_elbows",),
    "level-parts": ("vent_total_lateral_75_percent",),
    "where-vent-starts": (
        "connector_used_where_required", "connector_not_through_ceiling_floor_or_rated_wall",
        "single_wall_pipe_not_in_attic_or_concealed_space",
        "single_wall_pipe_not_a_vent_in_dwelling",
    ),
    "walls": (
        "vent_type_permitted_for_appliance", "connector_single_wall_not_through_interior_wall",
        "connector_in_unconditioned_space_double_wall", "connector_material_general",
    ),
    "flow-arrow": ("type_b_flow_arrow",),
    "support": ("gas_vent_supported",),
    "flat-pipe": ("non_round_pipe_equivalent",),
    "sheet-thickness": (
        "connector_sheet_thickness_residential", "single_wall_vent_sheet_thickness",
    ),
    "corrugated-size": ("corrugated_connector_size",),
    "draft-reading": ("vent_meets_appliance_draft_requirement",),
    "wall-furnace-height": ("type_l_and_bw_use",),
    "cap-seen": ("vent_cap_listed", "terminal_free_of_local_obstructions"),
    "where-it-ends": ("natural_draft_vent_not_at_wall_or_eave",),
    "hand-damper": ("no_manual_damper_in_connector",),
    "traces": ("evidence_of_past_spillage",),
    "cap-height": (
        "gas_vent_height_by_roof_pitch", "gas_vent_braced_above_5ft", "vent_exposed_outdoors",
    ),
    "near-wall": ("gas_vent_near_wall_or_large",),
    "circle": ("single_wall_vent_termination",),
    "air-inlet": (
        "gas_vent_above_forced_air_inlet", "outdoor_air_intake_away_from_vent",
        "mechanical_draft_forced_air_inlet",
    ),
    "outlet-openings": ("mechanical_draft_terminal_openings",),
    "outlet-ground": (
        "mechanical_draft_terminal_grade", "mechanical_draft_terminal_walkway",
        "direct_vent_terminal_grade",
    ),
    "outlet-straight": ("direct_vent_terminal_openings",),
    "stud-space": ("type_bw_installation",),
    "other-building": ("wall_terminal_adjacent_building",),
    "mesh": ("discharge_not_into_screened_space",),
    "flashing": ("roof_flashing_and_storm_collar",),
    "through-roof": ("roof_penetration_complete",),
    "air-high-low": (
        "opening_placement_top_and_bottom", "indoor_opening_same_storey_area",
        "outdoor_two_openings_direct_or_vertical",
    ),
    "air-joined": (
        "combustion_air_by_one_method", "indoor_volume_standard_method",
        "indoor_volume_known_infiltration_method", "door_removal_not_a_permanent_opening",
        "unvented_appliances_aggregate_input",
    ),
    "air-narrow": ("air_opening_minimum_dimension",),
    "air-louver": ("louver_free_area", "louvers_fixed_open"),
    "air-ground": ("air_inlet_12in_above_grade",),
    "air-single": ("outdoor_single_opening_clearances",),
    "garage-flame": ("garage_ignition_source_height", "garage_vehicle_impact_protection"),
    "attic-passage": ("attic_underfloor_access_opening", "attic_passageway"),
    "straps": ("seismic_strapping",),
    "pan": ("drain_pan", "relief_not_into_pan"),
    "screw-depth": ("vent_fasteners_not_through_inner_wall",),
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
