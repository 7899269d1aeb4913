"""Facts of the appliance, its draft hood and its place."""

from __future__ import annotations

from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, seen, table
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, DraftNeed

CATEGORY = {
    "draft_hood": "draft_hood",
    "fan_assisted": "I_fan",
    "direct_vent": "direct_vent",
    "power_vented": "III",
    "condensing": "IV",
}


def _category(view: View) -> FactValue:
    draft = view.appliance.draft
    return Unknown(NOT_RECORDED) if draft is None else CATEGORY[draft]


def _fan_assisted(view: View) -> FactValue:
    draft = view.appliance.draft
    return Unknown(NOT_RECORDED) if draft is None else draft == "fan_assisted"


def _hood_present(view: View) -> FactValue:
    """Only a look settles it: a plate that says draft hood does not put one there."""
    hood = view.appliance.hood
    if hood is not None and hood.present is not None:
        return seen(hood.present)
    if view.appliance.draft in ("fan_assisted", "direct_vent", "power_vented", "condensing"):
        return False
    return Unknown(NOT_RECORDED)


def _clearance_row(view: View) -> FactValue:
    """Row of the connector clearance table, from listing, burner and hood."""
    a = view.appliance
    listed = seen(a.listed)
    if not isinstance(listed, bool):
        return Unknown("whether the appliance is listed is not recorded")
    if not listed:
        if a.draft is None:
            return Unknown("the kind of draft is not recorded")
        return "unlisted_draft_hood" if a.draft == "draft_hood" else "other_residential_low_heat"
    if a.kind in ("boiler", "furnace"):
        burner = seen(a.conversion_burner)
        if not isinstance(burner, bool):
            return Unknown("whether a conversion burner is fitted is not recorded")
        if burner:
            return "conversion_burner_draft_hood"
    if a.draft is None or a.kind is None:
        return Unknown("kind and draft of the appliance are not recorded")
    if a.draft == "draft_hood" or seen(a.listed_for_type_b) is True:
        return "listed_draft_hood_or_type_b"
    return Unknown("whether it is listed for Type B vent is not recorded")


def _draft_met(view: View) -> FactValue:
    need = view.appliance.draft_need
    if not isinstance(need, DraftNeed):
        return seen(need)
    needed, measured = seen(need.needed), seen(need.measured)
    if isinstance(needed, Unknown) or isinstance(measured, Unknown):
        return Unknown("draft needed or draft measured is not recorded")
    return True


def _draft_needed(view: View) -> FactValue:
    """The draft named, written below zero; above zero it would be met by a weaker one."""
    need = view.appliance.draft_need
    if not isinstance(need, DraftNeed):
        return seen(need)
    if isinstance(need.needed, Measured) and need.needed.value > 0:
        return Unknown("a draft is a pressure below that of the room: write it as -0.02 in w.c.")
    return seen(need.needed)


def _vent_row(view: View) -> FactValue:
    """Row of the vent-type table."""
    a = view.appliance
    listed = seen(a.listed)
    if a.kind is None or a.draft is None or not isinstance(listed, bool):
        return Unknown("kind, draft and listing of the appliance are not all recorded")
    if a.draft in ("condensing", "power_vented"):
        return "category_ii_iii_iv"
    if a.draft == "direct_vent":
        return "own_instructions"
    if not listed:
        return "chimney_only_or_unlisted"
    if a.kind == "wall furnace":
        return "vented_wall_furnace"
    return "category_i_or_draft_hood_or_type_b_listed"


def _has_regulator(view: View) -> FactValue:
    value = seen(view.appliance.barometric_regulator)
    return False if value is ABSENT else value


A = "appliance."
# fmt: off
FACTS = table(
    ("appliance_kind", "kind of appliance", "read the data plate", A + "kind"),
    ("appliance_category", "how the appliance drafts", "read the data plate and look for a hood or fan", _category),
    ("appliance_row", "row of the vent-type table", "read kind, draft and listing on the data plate", _vent_row),
    ("appliance_clearance_row", "row of the connector-clearance table", "read listing, draft and burner on the data plate", _clearance_row),
    ("appliance_listed", "listing of the appliance", "find the mark of a recognized testing agency on the data plate", A + "listed"),
    ("appliance_input", "rated input", "read the input on the data plate", A + "input"),
    ("appliance_input_min", "lowest input of a staged burner", "read the data plate; write none for a single rate", A + "input_low"),
    ("appliance_outlet", "inside diameter of the hood outlet or flue collar", "read or measure the outlet, inside", A + "outlet_diameter"),
    ("fan_assisted", "whether a fan moves the gas through the appliance", "look for an induced-draft fan and no hood", _fan_assisted),
    ("outlet_on_top", "whether the outlet points straight up", "look", A + "outlet_on_top"),
    ("appliance_connected", "whether a connector or vent is on the outlet", "look at the hood outlet", A + "connected"),
    ("appliance_unvented_permitted", "whether it may run unvented", "only for the short list of appliances that may; else no", A + "may_run_unvented"),
    ("draft_hood_present", "draft hood", "look", _hood_present),
    ("draft_hood_altered", "whether the draft hood was altered", "look for a hood that is cut, moved, taped, turned or swapped", A + "hood.altered"),
    ("draft_hood_orientation_ok", "position of the draft hood", "compare with the manual: level, upright, opening free", A + "hood.upright"),
    ("draft_hood_relief_accessible", "reach of the relief opening", "see whether a hand with a mirror or smoke reaches it", A + "hood.reachable"),
    ("draft_hood_relief_clearance", "distance from the relief opening to the nearest surface", "tape, all round the rim, not counting the appliance and its vent", A + "hood.relief_clearance"),
    ("draft_hood_label_clearance", "relief clearance on the label", "read the label; write none when it is silent", A + "hood.label_clearance"),
    ("barometric_regulator_present", "barometric draft regulator", "look; write none when there is none", _has_regulator),
    ("draft_control_per_instructions", "whether the regulator is fitted as instructed", "compare with its instructions", A + "barometric_regulator.per_instructions"),
    ("clearance_front", "clearance in front of the appliance", "tape", A + "clearances.front"),
    ("clearance_back", "clearance behind the appliance", "tape", A + "clearances.back"),
    ("clearance_sides", "clearance beside the appliance", "tape, the nearer side", A + "clearances.sides"),
    ("clearance_top", "clearance above the appliance", "tape", A + "clearances.top"),
    ("label_front", "front clearance on the plate", "read the data plate; none when silent", A + "label_clearances.front"),
    ("label_back", "back clearance on the plate", "read the data plate; none when silent", A + "label_clearances.back"),
    ("label_sides", "side clearance on the plate", "read the data plate; none when silent", A + "label_clearances.sides"),
    ("label_top", "top clearance on the plate", "read the data plate; none when silent", A + "label_clearances.top"),
    ("floor_combustible", "whether the floor can burn", "look", A + "floor_combustible"),
    ("combustible_floor_protected", "protection of the floor", "look", A + "floor_protected"),
    ("soot_or_scorch", "scorch or soot at the hood, jacket top or wiring", "look with a light", A + "signs.scorch"),
    ("condensate_stains", "rust or stain streaks at hood and joints", "look with a light", A + "signs.stains"),
    ("draft_needed", "draft that the instructions name", "read the instructions; write draft_need: none when they name none", _draft_needed),
    ("draft_measured", "measured draft", "measure in the connector downstream of the hood", A + "draft_need.measured"),
    ("draft_need", "whether the instructions name a draft", "read the instructions", _draft_met),
    ("plastic_named_in_appliance_instructions", "whether the instructions name this plastic", "read the appliance instructions", A + "plastic_named"),
    ("condensate_drain_present", "condensate drain", "look", A + "condensate_drain"),
    ("regulator_or_bleed_vent_into_flue", "whether a gas regulator vent or bleed line ends in the flue", "trace the vents of the gas controls", A + "regulator_vents_into_flue"),
    ("occupancy", "occupancy of the building", "ask or look", "survey.job.occupancy"),
    ("design_temp_99", "99 % winter design temperature", "look up the published value for the place", "survey.site.winter_design"),
    ("solid_fuel_locality", "whether solid or liquid fuel is common there", "ask the authority", "survey.site.solid_fuel_common"),
    ("condensation_problem_local", "whether condensation in vents is a known problem there", "ask the authority; look for stains", "survey.site.condensation_known"),
)
# fmt: on
