"""Where in a survey file the answer to a fact is written, for people who must fill it in."""

from __future__ import annotations

# Facts that are worked out: the field, or the fields, that settle them.
WORKED_OUT = {
    "appliance_category": "appliance.draft",
    "appliance_row": "appliance.kind, draft, listed",
    "appliance_clearance_row": "appliance.kind, draft, listed, listed_for_type_b",
    "fan_assisted": "appliance.draft",
    "draft_hood_present": "appliance.hood.present",
    "barometric_regulator_present": "appliance.barometric_regulator",
    "draft_needed": "appliance.draft_need.needed",
    "draft_need": "appliance.draft_need",
    "connector_materials": "placed.piece.wall, metal",
    "vent_material": "placed.piece.wall",
    "connector_path_spaces": "placed.piece.space",
    "vent_path_spaces": "placed.piece.space",
    "connector_present": "path.pieces",
    "connector_min_diameter": "placed.piece.diameter",
    "connector_max_diameter": "placed.piece.diameter",
    "vent_min_diameter": "placed.piece.diameter",
    "vent_max_diameter": "placed.piece.diameter",
    "connector_size_change": "placed.piece.diameter, to_diameter",
    "connector_has_level_run": "placed.piece.runs",
    "piece_is_level": "placed.piece.runs",
    "piece_runs_down": "placed.piece.runs",
    "piece_slope": "placed.piece.slope",
    "connector_horizontal": "placed.piece.length, runs",
    "connector_first_rise": "placed.piece.length, runs",
    "vent_height": "placed.piece.length, runs",
    "vent_height_above_connector": "placed.piece.length, runs",
    "vent_lateral": "placed.piece.length, runs",
    "vent_horizontal_total": "placed.piece.length, runs",
    "elbows": "placed.piece.angle",
    "straight_up": "appliance.outlet_on_top",
    "offsets_over_45": "placed.piece.tilt",
    "offsets_over_60": "placed.piece.tilt",
    "piece_material": "placed.piece.wall, metal",
    "vent_piece_material": "placed.piece.wall",
    "piece_clearance": "placed.piece.clearance.distance",
    "protection_form": "placed.piece.clearance.shield",
    "protection_column": "placed.piece.runs",
    "protection_air_gap": "placed.piece.clearance.shield.gap_behind",
    "shield_to_pipe_gap": "placed.piece.clearance.shield.gap_to_pipe",
    "protection_edges_open": "placed.piece.clearance.shield.edges_open",
    "protection_spacers_ok": "placed.piece.clearance.shield.spacers_clear",
    "protection_extent_ok": "placed.piece.clearance.shield.reaches_far_enough",
    "shield_blocks_air_or_service": "placed.piece.clearance.shield.blocks_air_or_service",
    "protection_insulation_density": "placed.piece.clearance.shield.wool_density",
    "protection_insulation_melt": "placed.piece.clearance.shield.wool_melting_point",
    "protection_insulation_k": "placed.piece.clearance.shield.conductivity",
    "joint_fastening": "placed.piece.joint.fastening",
    "joint_screws": "placed.piece.joint.screws",
    "joint_male_end": "placed.piece.joint.male_end",
    "joint_tape": "placed.piece.joint.tape",
    "joint_means_approved": "placed.piece.joint.approved",
    "corrosion_holes": "placed.piece.holes",
    "vent_disconnected": "placed.piece.joint.fastening, gap",
    "vent_blocked_or_crushed": "path.vent.blocked; placed.piece.crushed",
    "flue_shared_with": "path.vent.shares_with",
    "vent_serves_one": "path.vent.shares_with",
    "sizing_method": "path.vent.sizing",
    "terminal_position": "path.roof.ends",
    "wall_distance": "path.roof.near",
    "above_building_within_10ft": "path.roof.near, ridge, pitch",
    "cap_present": "path.pieces",
    "cap_listed": "placed.piece.listed",
    "cap_approved": "placed.piece.approved",
    "cap_free_area": "placed.piece.free_area",
    "cap_clear": "placed.piece.clear",
    "shroud": "placed.piece.shroud",
    "intake_kind": "path.roof.intakes",
    "intake_distance": "path.roof.intakes",
    "vent_above_intake": "path.roof.intakes",
    "neighbor_opening_distance": "path.roof.neighbor_opening.horizontal",
    "neighbor_opening_above": "path.roof.neighbor_opening.above_terminal",
}


def written(route: str) -> str:
    """The place in words of the file: ``hood.altered of the appliance``."""
    parts = []
    for part in route.split("; "):
        for start, holder in (
            ("appliance.", "the appliance"),
            ("placed.piece.", "the piece"),
            ("path.", "the path"),
            ("intake.", "the intake"),
            ("survey.", ""),
        ):
            if part.startswith(start):
                key = part.removeprefix(start)
                parts.append(f"{key} of {holder}" if holder else key)
                break
    return "; ".join(parts)
