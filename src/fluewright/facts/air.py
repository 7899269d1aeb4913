"""Facts of the air for burning, venting and diluting: spaces, openings, ducts."""

from __future__ import annotations

from fluewright.facts.air_ways import (
    air_of,
    air_ways,
    asking,
    gross_area,
    leads_to,
    listed,
    named,
    narrowest,
    standing_in,
    takes_room_air,
)
from fluewright.facts.base import NOT_RECORDED, FactValue, Getter, Unknown, View, seen, table
from fluewright.quantity import Measured, NotMeasured
from fluewright.survey import ABSENT, Air, Duct, Opening, Space, Supply, Survey


def spaces_with_appliances(survey: Survey) -> tuple[str, ...]:
    """Names of the spaces that an appliance stands in, each once."""
    names = (a.space for a in survey.appliances.values() if a.taken_out is not True)
    return tuple(dict.fromkeys(name for name in names if name in survey.spaces))


def openings(survey: Survey) -> tuple[tuple[str, str, object], ...]:
    """Every opening for air: its name, the space it serves, and the opening itself."""
    served = set(spaces_with_appliances(survey))
    return tuple(
        (named(name, opening), name, opening)
        for name, space in survey.spaces.items()
        if name in served
        for opening in listed(space)
    )


def _space_name(view: View) -> str:
    return view.space or view.appliance.space or ""


def _space(view: View) -> Space | None:
    return view.survey.spaces.get(_space_name(view))


def of_air(key: str) -> Getter:
    """A getter of a field of the space's air."""
    names = ["air", key]

    def get(view: View) -> FactValue:
        return seen(getattr(air_of(_space(view)), names[1]))

    return get


def of_supply(key: str) -> Getter:
    """A getter of a field of the fan that brings air in."""
    names = ["air", "supply", key]

    def get(view: View) -> FactValue:
        supply = air_of(_space(view)).supply
        return seen(getattr(supply, names[2]) if isinstance(supply, Supply) else supply)

    return get


def of_opening(key: str) -> Getter:
    """A getter of a field of an opening."""
    names = ["thing", key]

    def get(view: View) -> FactValue:
        return seen(getattr(_opening(view), names[1]))

    return get


def of_duct(key: str) -> Getter:
    """A getter of a field of the duct of an opening."""
    names = ["thing", "duct", key]

    def get(view: View) -> FactValue:
        duct = _opening(view).duct
        return seen(getattr(duct, names[2]) if isinstance(duct, Duct) else duct)

    return get


def _opening(view: View) -> Opening:
    """The opening of a view; one of which nothing is known where the view is of something else."""
    return view.thing if isinstance(view.thing, Opening) else Opening(id="", to="")


def _air_kind(view: View) -> FactValue:
    """What the appliances of a space go by: the rules on room air, instructions, or neither.

    Outdoors and with direct-vent appliances alone the air of the space is no question.
    """
    space = _space(view)
    if space is not None and space.kind == "outdoors":
        return "outdoors"
    drafts = [a.draft for a in standing_in(view.survey, _space_name(view)).values()]
    if any(d in ("draft_hood", "fan_assisted") for d in drafts):
        return "room_air"
    if any(d is None for d in drafts) or not drafts:
        return Unknown(NOT_RECORDED)
    return "instructions" if any(d != "direct_vent" for d in drafts) else "direct_vent"


def _method(view: View) -> FactValue:
    """The method that is claimed; where nobody claims one, the one that is built."""
    name, air = _space_name(view), air_of(_space(view))
    if _air_kind(view) in ("direct_vent", "outdoors"):
        return "direct_vent"
    if air.method is not None:
        return air.method
    if isinstance(air.supply, Supply):
        return "mechanical"
    if air.design_on_file is True:
        return "engineered"
    if air.openings is None or isinstance(air.openings, NotMeasured):
        why = air.openings.reason if isinstance(air.openings, NotMeasured) else NOT_RECORDED
        how = "look for grilles, louvers, ducts and doorways without a door; none where none is"
        return asking("openings for air", name, how, why)
    return _built(view, air)


def _built(view: View, air: Air) -> FactValue:
    found = air.openings if isinstance(air.openings, tuple) else ()
    leads = [leads_to(view.survey, opening) for opening in found if opening.by != "doorway"]
    if "" in leads:
        return asking("where an opening leads", _space_name(view), "trace each opening to its end")
    outdoors = leads.count("outdoors")
    if outdoors:
        return "outdoor_two" if outdoors > 1 else "outdoor_one"
    known_ach = isinstance(view.survey.site.air_changes, Measured)
    return "indoor_known_ach" if known_ach else "indoor_standard"


def _ducted(view: View) -> FactValue:
    by = _opening(view).by
    return Unknown(NOT_RECORDED) if by is None else by in ("vertical_duct", "horizontal_duct")


def _leads(view: View) -> FactValue:
    return leads_to(view.survey, _opening(view)) or Unknown(NOT_RECORDED)


def _by(view: View) -> FactValue:
    return _opening(view).by or Unknown(NOT_RECORDED)


def _door(view: View) -> FactValue:
    return _opening(view).door or Unknown(NOT_RECORDED)


def _narrowest(view: View) -> FactValue:
    found = narrowest(_opening(view), "")
    return Unknown(found.reason) if isinstance(found, Unknown) else found


def _gross(view: View) -> FactValue:
    found = gross_area(_opening(view), "")
    return Unknown(found.reason) if isinstance(found, Unknown) else found


def _louver(view: View) -> FactValue:
    """Wood, metal, or absent."""
    return seen(_opening(view).louver)


def _from_bedroom(view: View) -> FactValue:
    """Whether air comes from a bedroom or bathroom: the space itself, or one it opens to."""
    space, survey = _space(view), view.survey
    if space is None:
        return Unknown(NOT_RECORDED)
    if space.kind in ("bedroom", "bathroom"):
        method = _method(view)
        if isinstance(method, Unknown):
            return method
        if method in ("indoor_standard", "indoor_known_ach", "combination"):
            return True
    found = air_of(space).openings
    if found is ABSENT:
        return False
    if not isinstance(found, tuple):
        return seen(found)
    kinds = {survey.spaces[o.to].kind for o in found if o.to in survey.spaces}
    return not kinds.isdisjoint(("bedroom", "bathroom"))


def _engineered(view: View) -> FactValue:
    value = seen(air_of(_space(view)).design_on_file)
    return False if value is ABSENT else value


def _room_air(view: View) -> FactValue:
    space = _space(view)
    if space is not None and space.kind == "outdoors":
        return False
    takes = takes_room_air(view.appliance)
    return Unknown(NOT_RECORDED) if takes is None else takes


# fmt: off
FACTS = table(
    ("air_ways", "rooms, burners and openings round the space", "name the space of the appliance, and describe its openings", air_ways),
    ("space_air_kind", "how the appliances of the space draft", "read the plates, look for hoods and fans", _air_kind),
    ("ca_method", "way in which the space gets its air", "trace the openings; ask which method it was built by", _method),
    ("takes_room_air", "whether the appliance burns the air of its space", "read the plate; trace its air pipe", _room_air),
    ("ach", "air changes of the house", "from a blower door test and its calculation; none where nobody measured", "survey.site.air_changes"),
    ("mech_air_flow", "flow of the fan that brings outdoor air", "flow hood, or the fan's data with its duct", of_supply("flow")),
    ("mech_air_interlocked", "whether the burner stops with the air fan", "stop the fan: no burner may fire", of_supply("interlocked")),
    ("exhaust_fans", "flow of all exhaust fans, hoods and dryers together", "rating plates or flow bowl, of all that share its air; none where there is none", of_air("exhaust")),
    ("engineered_air_document_on_file", "approved design of the air supply", "ask for the paper that the authority accepted", _engineered),
    ("air_source_bedroom_bath", "whether air comes from a bedroom or bathroom", "trace each opening", _from_bedroom),
    ("corrosive_vapors", "use of chemicals that corrode or burn in a flame", "look for aerosols, bleach, solvents; ask what is used daily", of_air("vapors")),
    ("corrosive_room_separated_outdoor_air", "own room with outdoor air", "look: closed off from the chemicals, air from outdoors", of_air("separate_with_outdoor_air")),
    ("opening_leads_to", "where the opening leads", "trace it to its end, and see on which story that is", _leads),
    ("opening_by", "kind of the opening", "look: straight through, by a duct, or a doorway", _by),
    ("opening_min_dimension", "narrowest side of the opening", "tape, at opening and duct", _narrowest),
    ("opening_louver", "louver or grille", "look: wood, metal; none where the hole is bare or screened only", _louver),
    ("opening_maker_area", "free area that its maker names", "product data; none where there is none", of_opening("free_area")),
    ("opening_counted_area", "free area that was counted for the opening", "plans or label; none where nobody counted one", of_opening("counted")),
    ("opening_gross_area", "gross area of the opening", "tape, inside the frame", _gross),
    ("door_between_rooms", "door of the doorway", "look: frame, hinges, louvers", _door),
    ("opening_screen_mesh", "mesh of the screen", "measure between the wires; none where there is no screen", of_opening("screen")),
    ("louver_fixed_open", "whether the louver is fixed open", "try to move the blades", of_opening("fixed_open")),
    ("motorized_louver_interlocked", "whether the motor louver is proven open", "operate it and see the burner lock out; none where there is no motor", of_opening("motor_proven")),
    ("manual_damper_in_air_opening", "damper that a hand can close", "look into opening and duct", of_opening("hand_damper")),
    ("duct_inlet_above_grade", "inlet above the ground", "tape from the ground to its lowest edge; none where it does not end above ground", of_opening("above_ground")),
    ("opening_ducted", "whether a duct leads to the opening", "look", _ducted),
    ("duct_needs_fire_damper", "whether the duct crosses what asks for a fire damper", "look at the plans; ask", of_duct("needs_fire_damper")),
    ("duct_terminates_attic", "whether the duct ends in the attic", "look", of_duct("ends_in_attic")),
    ("duct_screened_in_attic", "screen on the attic end", "look", of_duct("screened_in_attic")),
    ("duct_shared_upper_lower", "whether one duct serves the upper and the lower opening", "trace it", of_duct("shared_high_and_low")),
    ("duct_slopes_down_to_source", "whether the upper duct falls toward its source", "level", of_duct("slopes_down")),
    ("duct_material_ok", "material of the duct", "look: galvanized or equal; a clear stud or joist bay in a dwelling", of_duct("material_allowed")),
    ("duct_serves_single_space", "whether the duct serves one space", "trace it", of_duct("serves_one_space")),
    ("duct_end_unobstructed", "whether the ends of the duct are free", "look at both ends", of_duct("end_free")),
    ("draft_hood_same_room", "hood and burner in one room", "look: no partition or closet wall between them", "appliance.hood.same_room"),
)
# fmt: on
