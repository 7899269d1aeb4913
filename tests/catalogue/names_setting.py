"""Facts of the catalogue about the place of an appliance and what serves it."""

from __future__ import annotations

from tests.catalogue.names_path import KIND
from tests.catalogue.reading import Read, num, word, words

GAS = {"natural gas": "natural", "propane": "LP"}
ROOMS = {
    "room": "living",
    "closet": "closet",
    "bedroom": "bedroom",
    "bathroom": "bathroom",
    "garage": "garage",
    "basement": "basement",
    "attic": "attic",
    "crawl": "crawl",
    "porch": "porch",
    "outdoors": "outdoor",
}
HEATERS = {
    kind: {"storage water heater": "storage", "instantaneous water heater": "instantaneous"}.get(
        kind, "none_of_them"
    )
    for kind in KIND
}
NAMES: dict[str, Read] = {
    "appliance_room": word("appliance_room", ROOMS),
    "gas_type_plate": word("gas_type_plate", GAS),
    "gas_type_supplied": word("gas_type_supplied", GAS),
    "return_supply_here_cfm": num("return_supply_here", "cfm"),
    "return_supply_whole_cfm": num("return_supply_whole", "cfm"),
    "service_space_in[depth]": num("service_space_depth", "in"),
    "service_space_in[height]": num("service_space_height", "in"),
    "service_space_in[width]": num("service_space_width", "in"),
    "tp_discharge_defects": words("tp_discharge_defects", ("valve_in_line", "trapped")),
    "tp_discharge_end": word(
        "tp_discharge_end", ("outside", "floor_drain", "pan", "crawl", "other")
    ),
    "water_heater_kind": word("appliance_kind", HEATERS),
}
NEVER_ABSENT = frozenset(
    {"appliance_room", "gas_type_plate", "gas_type_supplied", "tp_discharge_end"}
)
