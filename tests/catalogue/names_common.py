"""Facts of the catalogue about vents that several appliances share, and about their sizing."""

from __future__ import annotations

from tests.catalogue.reading import Read, flag, num, words
from tests.catalogue.sized import capacity, holds

from fluewright.rules.in_common import ConnectorInCommonTable
from fluewright.rules.in_table import InTable
from fluewright.rules.sizing import ALL_TOGETHER

VENT_IN_TABLE = InTable("vent_min_diameter", "max") & InTable("vent_max_diameter", "min")
ALL_IN_TABLE = capacity(ALL_TOGETHER, "common_input")
NAMES: dict[str, Read] = {
    "all_inputs_within_common_table": holds(ALL_TOGETHER),
    "common_burners": words("common_burners", ("nat", "fan")),
    "common_capacity_max_btuh": ALL_IN_TABLE,
    "common_connector_materials": words(
        "common_connector_materials",
        {
            "type_b": "type_b",
            "type_l": "type_l",
            "single_wall_galvanized": "single_wall_galvanized",
            "single_wall_aluminum": "single_wall_aluminum",
            "single_wall_stainless": "single_wall_stainless",
            "single_wall": "single_wall_galvanized",
            "corrugated": "corrugated",
        },
    ),
    "common_elbows": words("common_elbows", ("45", "90")),
    "common_input_total_btuh": num("common_input", "Btu/h"),
    "common_least_area_in2": num("common_min_area", "in2"),
    "common_vent_area_in2": num("common_max_area", "in2"),
    "connector_entry_angle_deg_from_vertical": num("connector_entry_angle", "deg"),
    "connector_least_in_common_table": holds(ConnectorInCommonTable("min")),
    "connector_most_in_common_table": holds(ConnectorInCommonTable("max")),
    "connectors_joined_before_vent": flag("manifold_present"),
    "flue_collar_in": num("appliance_outlet", "in"),
    "manifold_as_high_as_headroom_allows": flag("manifold_high"),
    "offset_count": num("offset_count", "count", whole=True),
    "offset_length_ft": num("common_offset_length", "ft"),
    "several_connectors_into_vent": flag("several_connectors_into_vent"),
    "vent_input_within_table": holds(VENT_IN_TABLE),
    "vent_min_diameter_in": num("vent_min_diameter", "in"),
}
OF_RULE: dict[tuple[str, str], Read] = {
    ("multiple_input_rates", "table_capacity_max_btuh"): capacity(
        InTable("vent_min_diameter", "max", strict=True), "appliance_input", equal=False
    ),
    ("multiple_input_rates", "fan_min_condition_met"): holds(
        InTable("vent_max_diameter", "min", "appliance_input_min", strict=True)
    ),
}
# Rules that count table sizes: between two of them the product takes the nearer, the check none.
SIZED = {
    "vent_downsizing_conditions": (
        "appliance_outlet",
        "vent_min_diameter",
        "connector_min_diameter",
    ),
    "connector_no_reduction_along_flow": (
        "appliance_outlet",
        "vent_min_diameter",
        "connector_min_diameter",
    ),
}
