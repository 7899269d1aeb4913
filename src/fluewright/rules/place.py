"""Where a finding about a path as a whole belongs: at its cap, vent, connector or appliance."""

from __future__ import annotations

_CAP_WORDS = ("cap", "roof", "termination", "outlet", "discharge", "intake", "terminal",
              "near_wall", "wall_or_eave", "braced_above", "shroud", "inlet")  # fmt: skip
_VENT_STARTS = (
    "vent_", "gas_vent", "type_b", "chimney", "single_wall_vent", "single_wall_pipe",
)  # fmt: skip
_VENT_WORDS = ("firestop", "flue", "obstruct", "exhaust", "listed_vent", "special_gas_vent",
               "mechanical_draft_listed",
               "plastic_vent", "cement_vent", "wall_penetration", "zero_lateral",
               "insulation_shield", "shield_plates")  # fmt: skip
# Air for burning is a matter of the space, which the appliance stands for.
_AIR_STARTS = ("air_", "makeup_air_", "indoor_", "outdoor_", "opening_", "louver", "screen_mesh",
               "motorized_louver", "combination_indoor")  # fmt: skip


# Tests in use stand for the appliance, whatever way their gas goes.
_TESTED = ("flue_co_water_heater", "post_removal_common_vent_test", "replacement_checks")
# Words of the place of the appliance that are words of other parts too.
_SETTING = ("roof_appliance_edge_distance", "flexible_gas_connector_route", "tp_relief_discharge")
_ROUND_VENT = ("openings_round_vent_closed", "structure_cut_for_vent_repaired",
               "garage_separation_penetration")  # fmt: skip
_PATCHES = "no_concealed_defects_or_patches"


def place_of(rule: str) -> str:
    """The part that a rule looks at: cap, connector, vent or appliance; rule ids say it."""
    if rule in _TESTED or rule in _SETTING:
        return "appliance"
    if rule == _PATCHES or rule in _ROUND_VENT:
        return "vent"
    if rule.startswith(_AIR_STARTS) or "combustion_air" in rule:
        return "appliance"
    if any(word in rule for word in _CAP_WORDS) and "hood" not in rule and "connector" not in rule:
        return "cap"
    if "connector" in rule:
        return "connector"
    if rule.startswith(_VENT_STARTS) or any(word in rule for word in _VENT_WORDS):
        return "vent"
    return "appliance"
