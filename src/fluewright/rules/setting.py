"""Rules: the place of the appliance: rooms, garage, how it is reached, what it stands on."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Cond,
    RuleMeets,
    When,
    Word,
    any_in,
    at_least,
    at_most,
    count,
    fact,
    length,
    no,
    one_of,
    there,
    yes,
)
from fluewright.rules.setting_numbers import counted

PATH = Scope.PATH
HAZARD, DEFECT, CRAFT, NOTE = Grade.HAZARD, Grade.DEFECT, Grade.CRAFT, Grade.NOTE

WATER_HEATER = one_of("appliance_kind", "storage water heater", "instantaneous water heater")
OFF_BEDROOM = one_of("appliance_room", "closet") & yes("closet_off_bedroom_or_bath")
OUTDOOR_AIR = one_of("ca_method", "outdoor_two", "outdoor_one")
HARD_TO_REACH = one_of("appliance_room", "attic", "crawl")
NOT_ATTIC = "{name} stands in no attic or crawl space."
NOT_GARAGE = "{name} stands in no garage, nor in a space that opens into one."


def _in(name: str, key: str, label: str, unit: str = "in") -> Cond:
    """A length is not below one of the edition."""
    return at_least(fact(name), length(key), label, unit)


def _room_for(times: str) -> Cond:
    """The room is so many times as large as the appliance."""
    return at_least(
        counted("appliance_space_volume", "appliance_space_ceiling", "room.ceiling_max"),
        fact("furnace_volume").times(count(times)),
        "volume",
        "ft3",
    )


SPACE_ALL_ROUND = (
    _in("service_space_depth", "service.space_min", "depth")
    & _in("service_space_width", "service.space_min", "width")
    & _in("service_space_height", "service.space_min", "height")
)

RULES: tuple[Rule, ...] = (
    Rule(
        "bedroom_bathroom_water_heater",
        "A water heater in or off a bedroom or bathroom is shut off from its air",
        HAZARD,
        PATH,
        applies=WATER_HEATER & (one_of("appliance_room", "bedroom", "bathroom") | OFF_BEDROOM),
        needs=yes("direct_vent_appliance")
        | (
            OFF_BEDROOM
            & yes("closet_door_gasketed_selfclosing")
            & yes("closet_exclusive_use")
            & OUTDOOR_AIR
        ),
        fails="{name} is in or off a bedroom or bathroom, neither direct-vent nor in a closet of "
        "its own with a sealed door and air from outdoors.",
        meets="{name} is shut off from the air of the bedroom or bathroom.",
        remedy="Leave it off until its closet is sealed and has air from outdoors, or a "
        "direct-vent appliance stands there.",
        not_asked="{name} is no water heater in or off a bedroom or bathroom.",
    ),
    Rule(
        "garage_ignition_source_height",
        "Burner and igniter in a garage are high above the floor",
        HAZARD,
        PATH,
        applies=yes("garage_or_opens_to_garage"),
        needs=_in("ignition_height", "garage.ignition_height_min", "burner and igniter")
        | yes("fvir_listed")
        | RuleMeets("garage_outside_access_compartment"),
        fails="Burner or igniter of {name} is {measured} above the floor; {limit} needed: {gap} "
        "too low, and it is not listed to resist vapor.",
        meets="{name} keeps its flame away from vapor along the floor.",
        remedy="Set it on a stand, or replace it with one listed to resist flammable vapor.",
        not_asked=NOT_GARAGE,
    ),
    Rule(
        "garage_vehicle_impact_protection",
        "An appliance in a garage is guarded against cars",
        DEFECT,
        PATH,
        applies=one_of("appliance_room", "garage"),
        needs=yes("impact_protection"),
        fails="No post, wall or platform keeps a car off {name}.",
        meets="{name} is guarded against cars.",
        remedy="Set a post in front of it, or raise or move it out of the way of cars.",
        not_asked="{name} stands in no garage.",
    ),
    Rule(
        "garage_outside_access_compartment",
        "A compartment of the garage entered from outside has its air from outside",
        DEFECT,
        PATH,
        applies=yes("garage_or_opens_to_garage") & yes("compartment_access_from_outside_only"),
        needs=yes("compartment_air_from_outside"),
        fails="The compartment of {name} takes air from the garage.",
        meets="The compartment of {name} takes its air from outside the garage.",
        remedy="Close the openings to the garage and bring the air from outdoors.",
        not_asked="{name} stands in no such compartment.",
    ),
    Rule(
        "garage_separation_penetration",
        "The gap round a vent between garage and house is closed",
        HAZARD,
        PATH,
        applies=yes("garage_separation_penetrated_by_vent"),
        needs=yes("garage_penetration_sealed"),
        fails="The gap round the vent of {name} is open where it leaves the garage.",
        meets="The gap round the vent of {name} is closed where it leaves the garage.",
        remedy="Fit a listed firestop or metal collar that keeps the clearance; no foam.",
        not_asked="The vent of {name} passes no wall or ceiling between garage and house.",
    ),
    Rule(
        "no_flammable_liquid_area",
        "No gas appliance where flammable liquids are used",
        HAZARD,
        PATH,
        needs=no("flammable_liquids")
        | yes("fvir_listed")
        | RuleMeets("garage_ignition_source_height"),
        fails="Fuel, solvent or paint is kept or used near {name}, whose flame is open to it.",
        meets="No vapor of fuel, solvent or paint reaches the flame of {name}.",
        remedy="Carry the liquids out of the building, and use them elsewhere.",
    ),
    Rule(
        "attic_underfloor_access_opening",
        "The way into the attic or crawl space is large enough",
        DEFECT,
        PATH,
        applies=HARD_TO_REACH,
        needs=_in("attic_opening_short", "access.opening_short_min", "short side")
        & _in("attic_opening_long", "access.opening_long_min", "long side")
        & at_least(fact("attic_opening_short"), fact("largest_component_short"), "short side", "in")
        & at_least(fact("attic_opening_long"), fact("largest_component_long"), "long side", "in"),
        fails="The way in to {name} has a side of {measured}; {limit} needed: {gap} too small.",
        meets="The way in to {name} is large enough, and its largest part passes.",
        remedy="Enlarge the opening; no rafter or joist is cut without a header.",
        not_asked=NOT_ATTIC,
    ),
    Rule(
        "attic_passageway",
        "The passage to an appliance in attic or crawl space is short and has a floor",
        DEFECT,
        PATH,
        applies=HARD_TO_REACH,
        needs=(
            at_most(
                fact("attic_passage_length"), length("access.passage_length_max"), "length", "ft"
            )
            | _in("attic_passage_height", "access.passage_height_free", "height", "ft")
        )
        & there("attic_floor_width")
        & _in("attic_floor_width", "access.floor_width_min", "floor"),
        fails="The passage to {name} is too long for its height, or has no floor wide enough.",
        meets="The passage to {name} is short or high enough, and has a floor.",
        remedy="Lay a solid floor all the way, or open a nearer way in.",
        not_asked=NOT_ATTIC,
    ),
    Rule(
        "attic_platform_light_outlet",
        "Platform, light and outlet at an appliance in attic or crawl space",
        DEFECT,
        PATH,
        applies=HARD_TO_REACH,
        needs=(
            (
                there("service_platform_short")
                & _in("service_platform_short", "access.platform_side_min", "short side")
                & _in("service_platform_long", "access.platform_side_min", "long side")
            )
            | (Word("access.platform_exempt", "at_opening") & yes("platform_exempt_at_opening"))
        )
        & yes("attic_light_and_outlet"),
        fails="At {name} the platform is missing or too small, or light or outlet is missing.",
        meets="{name} has its platform, its light and its outlet.",
        remedy="Lay a level platform at the service side; an electrician adds light and outlet.",
        not_asked=NOT_ATTIC,
    ),
    Rule(
        "service_working_space",
        "Room to inspect, serve and replace it",
        DEFECT,
        PATH,
        needs=yes("service_accessible")
        & When(
            one_of("appliance_kind", "room heater"),
            _in("service_space_depth", "service.room_heater_depth_min", "depth"),
        )
        & When(
            one_of("appliance_kind", "furnace", "boiler", "wall furnace", "other"),
            SPACE_ALL_ROUND,
        ),
        fails="{name} cannot be served: something is in the way, or the clear space is too small.",
        meets="{name} can be reached and served.",
        remedy="Clear the space, or move what stands in the way.",
    ),
    Rule(
        "roof_appliance_edge_distance",
        "An appliance on a roof stands away from the edge or behind a guard",
        DEFECT,
        PATH,
        applies=yes("appliance_on_roof"),
        needs=_in("roof_edge_distance", "roof.edge_distance_min", "edge", "ft")
        | (there("roof_guard_height") & _in("roof_guard_height", "roof.guard_height_min", "guard")),
        fails="{name} stands too near a roof edge that has no guard high enough.",
        meets="{name} stands away from the roof edge, or behind a guard.",
        remedy="Fit a guard at that edge before anybody serves it.",
        not_asked="{name} does not stand on a roof.",
    ),
    Rule(
        "underfloor_furnace_grade_clearance",
        "A furnace hung under the floor clears the ground",
        DEFECT,
        PATH,
        applies=one_of("appliance_kind", "furnace")
        & one_of("appliance_room", "crawl")
        & there("underfloor_furnace_grade_gap"),
        needs=_in("underfloor_furnace_grade_gap", "underfloor.ground_gap_min", "gap"),
        fails="{name} hangs {measured} above the ground; {limit} needed: {gap} too low.",
        meets="{name} hangs {measured} above the ground; {limit} needed.",
        remedy="Hang it higher, or dig the ground out and drain the pit.",
        not_asked="{name} is no furnace that hangs under a floor.",
    ),
    Rule(
        "furnace_room_volume_or_closet_listing",
        "A furnace or boiler has room about it, or is listed for a closet",
        DEFECT,
        PATH,
        applies=one_of("appliance_kind", "furnace", "boiler") & no("furnace_listed_for_closet"),
        needs=When(one_of("appliance_kind", "furnace"), _room_for("room.furnace_times"))
        & When(one_of("appliance_kind", "boiler"), _room_for("room.boiler_times")),
        fails="The room of {name} counts {measured}; {limit} needed: {gap} missing.",
        meets="The room of {name} counts {measured}; {limit} needed.",
        remedy="Enlarge the space, or put one there that is listed for a closet.",
        not_asked="{name} is no furnace or boiler, or is listed for a closet.",
    ),
    Rule(
        "appliance_anchored_and_supported",
        "The appliance is fastened and supported",
        DEFECT,
        PATH,
        needs=yes("appliance_supported_and_anchored"),
        fails="{name} is not fastened or not supported.",
        meets="{name} is fastened and supported.",
        remedy="Support and fasten it as its instructions say, then check gas and vent joints.",
    ),
    Rule(
        "appliance_listed_with_plate",
        "The appliance has a legible plate with the mark of a testing agency",
        DEFECT,
        PATH,
        needs=yes("appliance_listed"),
        fails="{name} has no legible plate with the mark of a testing agency.",
        meets="{name} has its plate with the mark of a testing agency.",
        remedy="Ask its maker for the data, or replace it with a listed one.",
    ),
    Rule(
        "instructions_left_on_site",
        "The instructions are kept beside the appliance",
        NOTE,
        PATH,
        needs=yes("manual_on_site"),
        fails="The instructions of {name} are not there.",
        meets="The instructions of {name} are there.",
        remedy="Ask its maker for them and leave them beside it.",
    ),
    Rule(
        "outdoor_appliance_listed_or_protected",
        "An appliance outdoors is made for it or protected",
        DEFECT,
        PATH,
        applies=one_of("appliance_room", "outdoors"),
        needs=yes("outdoor_listed_or_protected"),
        fails="{name} stands outdoors, neither listed for it nor protected.",
        meets="{name} is listed for outdoors or protected.",
        remedy="House it as its listing lets, or replace it with one for outdoors.",
        not_asked="{name} does not stand outdoors.",
    ),
    Rule(
        "manufactured_home_appliance_listed",
        "An appliance in a manufactured home is listed for it",
        HAZARD,
        PATH,
        applies=yes("manufactured_home"),
        needs=yes("appliance_listed_for_manufactured_home"),
        fails="{name} stands in a manufactured home and is not listed for it.",
        meets="{name} is listed for manufactured homes.",
        remedy="Replace it with one listed for manufactured homes, or ask the authority.",
        not_asked="It is no manufactured home.",
    ),
    Rule(
        "flood_elevation",
        "Where floods come, the appliance stands high enough",
        DEFECT,
        PATH,
        applies=yes("flood_hazard_area"),
        needs=yes("appliance_elevation_ok"),
        fails="{name} stands below the height asked in this flood area.",
        meets="{name} stands at or above the height asked in this flood area.",
        remedy="Raise it, or move it to a higher place.",
        not_asked="The house lies in no flood hazard area.",
    ),
    Rule(
        "extra_device_not_on_appliance",
        "No device is added that can spoil the burning",
        HAZARD,
        PATH,
        needs=no("extra_device_found"),
        fails="A device was added to burner, hood or vent of {name}.",
        meets="No device was added to {name}.",
        remedy="Leave it off until the device is gone and draft and carbon monoxide are tested.",
    ),
    Rule(
        "structure_cut_for_vent_repaired",
        "Framing cut for the vent is made good",
        DEFECT,
        PATH,
        applies=there("structure_cut_unrepaired"),
        needs=no("structure_cut_unrepaired"),
        fails="Framing was cut for the vent of {name} and not made good.",
        meets="Framing cut for the vent of {name} was made good.",
        remedy="A carpenter fits headers as the building code says; lead the vent round instead.",
        not_asked="No framing is cut for the vent of {name}.",
    ),
    Rule(
        "openings_round_vent_closed",
        "Holes round the vent are closed with metal collars",
        CRAFT,
        PATH,
        applies=any_in("vent_passes", "ceiling", "floor", "interior_wall", "exterior_wall"),
        needs=yes("opening_round_vent_closed_metal"),
        fails="A hole round the vent of {name} is not closed with a metal collar.",
        meets="The holes round the vent of {name} are closed with metal collars.",
        remedy="Fit metal collars, fastened to the structure, that keep the clearance.",
        not_asked="The vent of {name} passes no wall, floor or ceiling.",
    ),
)
