"""Facts of the catalogue about appliance, connector, vent and terminal, in the product's words."""

from __future__ import annotations

from tests.catalogue.reading import (
    Flag,
    Get,
    Kind,
    Number,
    Read,
    Word,
    Words,
    bore_area,
    fixed,
    flag,
    num,
    number_of,
    somewhere,
    there,
    word,
    words,
)
from tests.catalogue.values import NONE, UNKNOWN, Value, below, negated

from fluewright.facts import Unknown
from fluewright.survey import ABSENT

CONNECTOR = {
    "type_b": "type_b",
    "type_l": "type_l",
    "single_wall_galvanized": "single_wall_galvanized",
    "single_wall_aluminum": "single_wall_aluminum",
    "single_wall_stainless": "single_wall_stainless",
    "single_wall": "single_wall_galvanized",  # single wall whose metal nobody told
    "listed_connector": "listed_connector",
    "corrugated": "corrugated",
    "foil": "duct_or_foil",
    "plastic_listed": "plastic_listed",
    "plastic_unlisted": "plastic",
}
VENT = {
    "type_b": "type_b",
    "type_bw": "type_bw",
    "type_l": "type_l",
    "single_wall": "single_wall_steel",
    "special": "stainless_special",
    "plastic_listed": "plastic_listed",
    "plastic_unlisted": "plastic_unlisted",
    "asbestos_cement": "asbestos_cement",
    "masonry": "masonry_lined",
    "corrugated": "liner_corrugated",
    "factory_built_chimney": "factory_built_chimney",
    "metal_chimney": "metal_chimney",
    "foil": "duct_or_foil",
}
KIND = {
    "storage water heater": "water_heater",
    "instantaneous water heater": "water_heater",
    "furnace": "furnace",
    "boiler": "boiler",
    "wall furnace": "wall_furnace",
    "room heater": "room_heater",
    "other": "other",
}
PASSES = {
    "ceiling": "ceiling",
    "floor": "floor",
    "interior_wall": "interior_wall",
    "exterior_wall": "exterior_wall",
    "rated_wall": "fire_rated_wall",
    "roof": "roof",
}
SPACES = {
    "room": "room",
    "conditioned": "conditioned",
    "unconditioned": "unconditioned",
    "outdoors": "outdoor",
    "attic": "attic",
    "crawl": "crawl",
    "chase": "chase",
    "concealed": "concealed",
}
CATEGORY = ("draft_hood", "I_fan", "III", "IV", "direct_vent")
CLEARANCE_ROWS = (
    "listed_draft_hood_or_type_b",
    "conversion_burner_draft_hood",
    "unlisted_draft_hood",
    "other_residential_low_heat",
)
VENT_ROWS = (
    "category_i_or_draft_hood_or_type_b_listed",
    "vented_wall_furnace",
    "category_ii_iii_iv",
    "chimney_only_or_unlisted",
    "own_instructions",
)
FORMS = (
    "masonry_3_5in_no_air_gap",
    "insulation_board_over_1in_batts",
    "sheet_metal_over_1in_batts_air_gap",
    "masonry_3_5in_air_gap",
    "sheet_metal_air_gap",
    "insulation_board_air_gap",
    "two_sheet_metal_air_gaps",
    "batts_between_two_sheets_air_gap",
)


def _how_many(get: Get) -> Value:
    """Appliances on the vent: one, or more than one."""
    alone = get("vent_serves_one")
    if isinstance(alone, Unknown):
        return UNKNOWN
    return 1.0 if alone is True else 2.0


def _draft_met(get: Get) -> Value:
    """Whether the measured draft is as strong as the instructions ask; both lie below zero."""
    need = get("draft_need")
    if need is ABSENT:
        return NONE
    if isinstance(need, Unknown):
        return UNKNOWN
    return negated(
        below(number_of(get("draft_needed"), "Pa"), number_of(get("draft_measured"), "Pa"))
    )


def _shroud_listed(get: Get) -> Value:
    shroud = get("shroud")
    return UNKNOWN if isinstance(shroud, Unknown) else shroud == "listed"


SHROUD = Word(("listed", "unlisted"))
SIDES = ("front", "back", "sides", "top")
NAMES: dict[str, Read] = {
    "adjacent_building_opening_ft": num("neighbor_opening_distance", "ft"),
    "adjacent_building_opening_present": there("neighbor_opening"),
    "adjacent_opening_vertical_ft": num("neighbor_opening_above", "ft", signed=True),
    "air_intake_kind": word("intake_kind", ("fan", "gravity")),
    "air_intake_near": there("intakes", Words(("i1",))),
    "appliance_category": word("appliance_category", CATEGORY),
    "appliance_clearance_row": word("appliance_clearance_row", CLEARANCE_ROWS),
    "appliance_count_on_vent": Read({"vent_serves_one": Flag()}, _how_many),
    "appliance_kind": word("appliance_kind", KIND),
    "appliance_row": word("appliance_row", VENT_ROWS),
    "attic_insulation_shield_present": flag("insulation_shield_present"),
    "attic_shield_above_insulation_in": num("insulation_shield_above", "in"),
    "auto_damper_per_appliance_instructions": flag("auto_damper_per_instructions"),
    "auto_damper_present": there("auto_damper"),
    "connector_area_in2": bore_area("connector_max_diameter"),
    "connector_clearance_in": num("piece_clearance", "in"),
    "connector_diameter_in": num("connector_max_diameter", "in"),
    "connector_has_horizontal_run": flag("connector_has_level_run"),
    "connector_horizontal_length_ft": num("connector_horizontal", "ft"),
    "connector_joint_male_end": word("joint_male_end", ("downstream", "upstream")),
    "connector_least_area_in2": bore_area("connector_min_diameter"),
    "connector_listed_clearance_in": num("piece_listed_clearance", "in"),
    "connector_material": word("piece_material", CONNECTOR),
    "connector_materials": words("connector_materials", CONNECTOR),
    "connector_or_vent_non_round": there("non_round"),
    "connector_passes": words("connector_passes", PASSES),
    "connector_path_spaces": words("connector_path_spaces", SPACES),
    "connector_piece_runs_down": flag("piece_runs_down"),
    "connector_run_to_thimble_ft": num("run_to_thimble", "ft"),
    "connector_screws_per_joint": num("joint_screws", "count", whole=True),
    "connector_size_change_location": word(
        "connector_size_change", ("at_draft_hood", "downstream")
    ),
    "connector_slope_in_per_ft": num("piece_slope", "in/ft"),
    "connector_wall_annulus_sealed": flag("connector_wall_sealed"),
    "corrosion_holes": somewhere("corrosion_holes"),
    "discharge_space_screen_mesh_in": num("screen_mesh", "in"),
    "draft_hood_outlet_in": num("appliance_outlet", "in"),
    "draft_requirement_met": Read(
        {
            "draft_need": Flag(),
            "draft_needed": Number("Pa", signed=True),
            "draft_measured": Number("Pa", signed=True),
        },
        _draft_met,
    ),
    "equivalent_round_area_in2": bore_area("non_round_replaces"),
    "fastener_through_inner_wall": word(
        "fastener_through_inner_wall",
        {"transition_only": "transition_joint_only", "other_joint": "other_joint"},
    ),
    "forced_air_inlet_distance_ft": num("intake_distance", "ft"),
    "joint_fastening": word(
        "joint_fastening",
        ("screws", "listed_lock", "rivets", "tape_only", "friction_only", "open"),
    ),
    "local_code_family": fixed("UMC_UPC"),
    "non_round_internal_dim_in": num("non_round_narrowest", "in"),
    "occupancy": word(
        "occupancy",
        {"dwelling": "dwelling", "residential": "residential_other", "other": "commercial"},
    ),
    "outdoor_air_intake_distance_ft": num("intake_distance", "ft"),
    "outlet_area_in2": bore_area("appliance_outlet"),
    "pipe_wall_material": word("piece_metal", ("galvanized", "aluminum", "stainless")),
    "pipe_wall_thickness_in": num("piece_thickness", "in"),
    "protection_column": word("protection_column", {"above": "1", "side": "2"}),
    "protection_form": word("protection_form", FORMS),
    "protection_insulation_melt_f": num("protection_insulation_melt", "deg F"),
    "shroud_listed": Read({"shroud": SHROUD}, _shroud_listed),
    "shroud_present": there("shroud", SHROUD),
    "straight_up_from_top_outlet": flag("straight_up"),
    "thimble_diameter_in": num("connector_thimble_diameter", "in"),
    "thimble_present": there("connector_thimble"),
    "thimble_ventilated": flag("connector_thimble_ventilated"),
    "vent_above_forced_inlet_ft": num("vent_above_intake", "ft", signed=True),
    "vent_above_outdoor_intake_ft": num("vent_above_intake", "ft", signed=True),
    "vent_above_roof_total_ft": num("vent_above_roof", "ft"),
    "vent_area_in2": bore_area("vent_max_diameter"),
    "vent_blocked_or_crushed": somewhere("vent_blocked_or_crushed"),
    "vent_clearance_in": num("piece_clearance", "in"),
    "vent_diameter_in": num("vent_max_diameter", "in"),
    "vent_discharges_in_screened_space": there("screened_space"),
    "vent_disconnected": somewhere("vent_disconnected"),
    "vent_in_notched_member_concealed": there("notched_framing"),
    "vent_least_area_in2": bore_area("vent_min_diameter"),
    "vent_listed_clearance_in": num("piece_listed_clearance", "in"),
    "vent_material": words("vent_material", VENT),
    "vent_offsets_over_45": num("offsets_over_45", "count", whole=True),
    "vent_offsets_over_60": num("offsets_over_60", "count", whole=True),
    "vent_passes": words("vent_passes", PASSES),
    "vent_path_spaces": words("vent_path_spaces", SPACES),
    "vent_section_material": word("vent_piece_material", VENT),
    "vent_through_insulation": there("insulation_shield"),
    "vent_wall_annulus_sealed": flag("vent_wall_sealed"),
    "wall_cut_back_closed_noncombustible": flag("wall_cut_back"),
    **{f"appliance_clearance_in[{s}]": num(f"clearance_{s}", "in") for s in SIDES},
    **{f"appliance_label_clearance_in[{s}]": num(f"label_{s}", "in") for s in SIDES},
}
ROOF = "roof_thimble_single_wall"
OF_RULE: dict[tuple[str, str], Read] = {
    ("connector_upward_slope", "connector_has_horizontal_run"): flag("piece_is_level"),
    (ROOF, "thimble_present"): there("roof_thimble"),
    (ROOF, "thimble_ventilated"): flag("roof_thimble_ventilated"),
    (ROOF, "thimble_diameter_in"): num("roof_thimble_diameter", "in"),
    ("no_obstruction_in_vent", "appliance_instructions_followed"): fixed(UNKNOWN),
}
NOT_SURVEYED: dict[str, str] = {
    "vent_outlet_above_furnace_bottom_ft": "the height over a wall furnace's bottom is asked for",
}
KINDS: dict[str, Kind] = {}
# Facts of which a survey never says "none", and lists that always have an element.
NEVER_ABSENT = {
    "vent_material", "vent_serves_one", "sizing_method", "appliance_row", "appliance_kind",
    "appliance_category", "appliance_clearance_row", "protection_column", "piece_material",
    "appliance_input", "appliance_outlet", "vent_height", "vent_lateral", "vent_min_diameter",
    "vent_max_diameter", "connector_min_diameter", "connector_max_diameter",
}  # fmt: skip
