"""Facts of the catalogue about fan-driven, direct-vent and condensing appliances."""

from __future__ import annotations

from tests.catalogue.reading import Read, flag, num, there

NAMES: dict[str, Read] = {
    "bw_top_or_single_storey": flag("bw_top_or_single_story"),
    "opening_above_terminal_ft": num("opening_above_terminal", "ft", signed=True),
    "opening_below_terminal_ft": num("opening_below_terminal", "ft", signed=True),
    "opening_near_outlet": there("opening_near_outlet"),
    "unlisted_furnace_clearances_in[back]": num("clearance_back", "in"),
    "unlisted_furnace_clearances_in[connector]": num("single_wall_connector_distance", "in"),
    "unlisted_furnace_clearances_in[front]": num("clearance_front", "in"),
    "unlisted_furnace_clearances_in[hood]": num("draft_hood_distance", "in"),
    "unlisted_furnace_clearances_in[sides]": num("clearance_sides", "in"),
    "unlisted_furnace_clearances_in[top]": num("clearance_top", "in"),
}
