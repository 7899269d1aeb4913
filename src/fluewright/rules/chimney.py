"""Rules: chimneys, their liners, and what joins them."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    RuleMeets,
    Times,
    When,
    any_in,
    at_least,
    count,
    fact,
    gone,
    length,
    no,
    nowhere,
    one_of,
    there,
    yes,
)

PATH, COMMON = Scope.PATH, Scope.COMMON
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT
CHIMNEY = there("chimney_kind")
MASONRY = one_of("chimney_kind", "masonry")
METAL_LINER = one_of("chimney_liner", "smooth_metal", "corrugated_metal")
SOUND = (yes("chimney_lined") & yes("chimney_liner_sound")) | (
    no("chimney_lined") & yes("chimney_masonry_sound")
)
LINED = yes("chimney_lined") & yes("chimney_liner_sound")
ONE_REMOVED = one_of("appliance_replaced_or_removed", "one_removed") | yes("other_taken_off_vent")
NO_CHIMNEY = "The vent is no chimney."
NO_MASONRY = "No masonry chimney."
OUTSIDE = one_of("chimney_liner", "clay") & yes("chimney_exterior")
BY_TABLES = one_of("sizing_method", "tables")

BUILT = (
    Rule(
        "masonry_chimney_lined",
        "A masonry chimney for gas has a sound liner",
        HAZARD,
        PATH,
        applies=MASONRY,
        needs=LINED | RuleMeets("existing_chimney_lining_exception"),
        fails="The masonry chimney has no sound liner, and may not go on without one.",
        meets="The masonry chimney has a sound liner, or may go on as it is.",
        remedy="Line it with a listed liner of a permitted size.",
        not_asked=NO_MASONRY,
    ),
    Rule(
        "existing_chimney_lining_exception",
        "An old chimney without a sound liner goes on only behind an appliance of the same kind",
        HAZARD,
        PATH,
        applies=MASONRY,
        needs=LINED
        | (
            (
                gone("appliance_replaced_or_removed")
                | one_of("appliance_replaced_or_removed", "replaced_same")
            )
            & yes("chimney_passage_clear")
            & RuleMeets("unsafe_chimney_repaired")
            & RuleMeets("vent_sized_by_accepted_method")
        ),
        fails="The chimney has no sound liner and may not go on without one.",
        meets="The chimney is lined, or may go on as it is.",
        remedy="Line it with a listed liner of a permitted size.",
        not_asked=NO_MASONRY,
    ),
    Rule(
        "unsafe_chimney_repaired",
        "A masonry chimney is sound",
        HAZARD,
        PATH,
        applies=MASONRY,
        needs=SOUND,
        fails="The chimney is not sound.",
        meets="The chimney is sound.",
        remedy="Have it repaired, lined or rebuilt before it is used again.",
        not_asked=NO_MASONRY,
    ),
    Rule(
        "existing_flue_passage_sound",
        "The way inside a flue or vent is whole and clear",
        HAZARD,
        PATH,
        applies=CHIMNEY | any_in("vent_material", "type_b", "type_bw", "type_l", "special"),
        needs=When(MASONRY, SOUND)
        & When(~MASONRY, nowhere("corrosion_holes"))
        & nowhere("vent_blocked_or_crushed"),
        fails="The way inside the flue or vent is broken or blocked{where}.",
        meets="The way inside the flue or vent is whole and clear.",
        remedy="Clear it, and have it lined or replaced.",
        not_asked="No chimney or listed vent.",
    ),
    Rule(
        "gas_only_liner_labelled",
        "A liner for gas alone says so where it is joined",
        DEFECT,
        PATH,
        applies=CHIMNEY & METAL_LINER,
        needs=yes("liner_label_present"),
        fails="No label at the liner says that it is for gas alone.",
        meets="A label says that the liner is for gas alone.",
        remedy="Fit the label that came with the liner.",
        not_asked="No metal liner.",
    ),
    Rule(
        "liner_connection_adapter_listed",
        "Double-wall connector and liner are joined by a listed adapter",
        DEFECT,
        PATH,
        applies=CHIMNEY & METAL_LINER & any_in("connector_materials", "type_b", "type_l"),
        needs=yes("liner_adapter_listed"),
        fails="Connector and liner are joined without a listed adapter.",
        meets="Connector and liner are joined by a listed adapter.",
        remedy="Fit the listed adapter.",
        not_asked="No metal liner, or no double-wall connector.",
    ),
    Rule(
        "draft_hood_conversion_accessory_listed",
        "An accessory that adds a draft hood is listed",
        HAZARD,
        PATH,
        applies=CHIMNEY & there("conversion_accessory_listed"),
        needs=yes("conversion_accessory_listed"),
        fails="The accessory that adds a draft hood is not listed.",
        meets="The accessory that adds a draft hood is listed.",
        remedy="Take it out; line the chimney or fit the listed accessory.",
        not_asked="No such accessory.",
    ),
    Rule(
        "factory_built_chimney_per_listing",
        "A factory-built chimney is put together as listed",
        HAZARD,
        PATH,
        applies=one_of("chimney_kind", "factory_built"),
        needs=yes("chimney_as_instructed")
        & When(yes("positive_pressure_vent"), yes("factory_built_for_pressure")),
        fails="The factory-built chimney departs from its instructions, or is not for pressure.",
        meets="The factory-built chimney is as its instructions say.",
        remedy="Have it rebuilt with listed parts.",
        not_asked="No factory-built chimney.",
    ),
    Rule(
        "metal_chimney_per_standard",
        "A metal chimney is built to the chimney standard",
        HAZARD,
        PATH,
        applies=one_of("chimney_kind", "metal"),
        needs=yes("chimney_as_instructed"),
        fails="The metal chimney is not built to the chimney standard.",
        meets="The metal chimney is built to the chimney standard.",
        remedy="Replace it with a listed system.",
        not_asked="No metal chimney.",
    ),
    Rule(
        "clay_liner_starts_below_inlet",
        "A clay liner begins below the lowest inlet",
        DEFECT,
        PATH,
        applies=MASONRY & one_of("chimney_liner", "clay"),
        needs=at_least(
            fact("clay_liner_below_inlet"), length("chimney.liner_below_inlet_min"), "liner", "in"
        ),
        fails="The clay liner begins {measured} below the inlet; {limit} needed: {gap} too high.",
        meets="The clay liner begins {measured} below the inlet; {limit} needed.",
        remedy="Line the flue anew, or move the inlet up.",
        not_asked="No clay liner.",
    ),
    Rule(
        "masonry_chimney_clearance",
        "Masonry keeps an air space from framing",
        HAZARD,
        PATH,
        applies=MASONRY,
        needs=gone("masonry_clearance")
        | yes("chimney_zero_clearance_liner")
        | (
            yes("chimney_entirely_outside_walls")
            & at_least(
                fact("masonry_clearance"), length("chimney.clearance_outside_min"), "space", "in"
            )
        )
        | at_least(
            fact("masonry_clearance"), length("chimney.clearance_inside_min"), "space", "in"
        ),
        fails="The masonry is {measured} from framing; {limit} needed: {gap} too near.",
        meets="The masonry keeps its distance from framing.",
        remedy="Have the framing cut back, or the flue lined with a system listed for contact.",
        not_asked=NO_MASONRY,
    ),
    Rule(
        "chimney_supported",
        "A chimney is supported",
        DEFECT,
        PATH,
        applies=CHIMNEY,
        needs=yes("vent_supported"),
        fails="The chimney is not supported.",
        meets="The chimney is supported.",
        remedy="Have it supported.",
        not_asked=NO_CHIMNEY,
    ),
    Rule(
        "chimney_cleanout",
        "A chimney that served oil or solid fuel has a tight cleanout well below the inlet",
        DEFECT,
        PATH,
        applies=CHIMNEY & one_of("chimney_previous_fuel", "oil", "solid"),
        needs=yes("chimney_cleanout_present")
        & yes("chimney_cleanout_tight")
        & at_least(
            fact("cleanout_below_inlet"),
            length("chimney.cleanout_below_inlet_min"),
            "cleanout",
            "in",
        ),
        fails="The cleanout is missing, not tight, or too near the inlet.",
        meets="The cleanout is tight and {measured} below the inlet; {limit} needed.",
        remedy="Have a tight cleanout built in.",
        not_asked="No chimney, or one that served gas alone.",
    ),
    Rule(
        "cleanout_tight",
        "A cleanout shuts tight",
        DEFECT,
        PATH,
        applies=CHIMNEY & yes("chimney_cleanout_present"),
        needs=yes("chimney_cleanout_tight"),
        fails="The cleanout does not shut tight.",
        meets="The cleanout shuts tight.",
        remedy="Seal or replace its door.",
        not_asked="No cleanout.",
    ),
)

JOINED = (
    Rule(
        "connector_entry_into_masonry_flue",
        "The connector ends flush in the flue and holds",
        HAZARD,
        PATH,
        applies=one_of("chimney_kind", "masonry", "metal") & yes("connector_present"),
        needs=one_of("connector_insertion_into_flue", "flush") & yes("thimble_secured"),
        fails="The connector ends short, projects, stands on the bottom of the flue, or is loose.",
        meets="The connector ends flush in the flue and holds.",
        remedy="Reset it in a cemented thimble, flush with the liner.",
        not_asked="No masonry or metal chimney, or no connector.",
    ),
    Rule(
        "masonry_inlet_thimble",
        "The inlet of a masonry chimney has a thimble",
        DEFECT,
        PATH,
        applies=MASONRY & ~METAL_LINER & yes("connector_present"),
        needs=yes("chimney_inlet_thimble"),
        fails="The connector enters the masonry without a thimble.",
        meets="The connector enters the masonry through a thimble.",
        remedy="Have a thimble cemented in.",
        not_asked="No masonry chimney, or no connector.",
    ),
    Rule(
        "space_round_liner_not_for_other_vent",
        "The room around a liner vents nothing else",
        HAZARD,
        PATH,
        applies=yes("vent_in_masonry_flue"),
        needs=~one_of("annulus_used_for", "other_vent"),
        fails="Another appliance is vented through the room around the liner.",
        meets="Nothing is vented through the room around the liner.",
        remedy="Shut the other appliance off; give it a vent of its own.",
        not_asked="No liner or vent pipe in a masonry flue.",
    ),
    Rule(
        "space_round_liner_not_for_combustion_air",
        "The room around a liner supplies no air for burning",
        DEFECT,
        PATH,
        applies=yes("vent_in_masonry_flue"),
        needs=~one_of("annulus_used_for", "combustion_air")
        | (one_of("appliance_category", "direct_vent") & yes("appliance_instructions_followed")),
        fails="Air for burning is taken from the room around the liner.",
        meets="No air for burning is taken from the room around the liner.",
        remedy="Close it, and provide openings for air.",
        not_asked="No liner or vent pipe in a masonry flue.",
    ),
    Rule(
        "abandoned_openings_closed",
        "Inlets no longer used are closed",
        HAZARD,
        PATH,
        applies=ONE_REMOVED,
        needs=yes("abandoned_openings_closed"),
        fails="An inlet that nothing uses any more stands open.",
        meets="Inlets no longer used are closed.",
        remedy="Close it with masonry or a listed cap.",
        not_asked="No appliance was taken off this vent.",
    ),
    Rule(
        "chimney_examined_before_connection",
        "A chimney is clear, and clean after oil or solid fuel, before it is used anew",
        HAZARD,
        PATH,
        applies=CHIMNEY & there("appliance_replaced_or_removed"),
        needs=yes("chimney_passage_clear")
        & (one_of("chimney_previous_fuel", "gas_only") | yes("chimney_cleaned")),
        fails="The chimney is not clear, or was not cleaned after oil or solid fuel.",
        meets="The chimney is clear, and clean where it served oil or solid fuel.",
        remedy="Have it swept and looked through before anything burns into it.",
        not_asked="No chimney, or nothing was changed on it.",
    ),
)

TOP = (
    Rule(
        "chimney_minimum_height",
        "A chimney ends high enough above the outlet",
        HAZARD,
        PATH,
        applies=CHIMNEY,
        needs=at_least(fact("vent_height"), length("chimney.height_min"), "height"),
        fails="The chimney ends {measured} above the outlet; {limit} needed: {gap} too low.",
        meets="The chimney ends {measured} above the outlet; {limit} needed.",
        remedy="Have it built higher.",
        not_asked=NO_CHIMNEY,
    ),
    Rule(
        "chimney_termination",
        "A chimney ends high enough over the roof and what stands near",
        HAZARD,
        PATH,
        applies=CHIMNEY,
        needs=at_least(
            fact("vent_above_roof"), length("chimney.above_roof_min"), "height over the roof"
        )
        & at_least(
            fact("above_building_within_10ft"),
            length("chimney.above_building_min"),
            "height over what is near",
        ),
        fails="The chimney ends {measured} above roof or building; {limit} needed: {gap} too low.",
        meets="The chimney ends high enough: {measured}, {limit} needed.",
        remedy="Have it built higher.",
        not_asked=NO_CHIMNEY,
    ),
    Rule(
        "chimney_rain_cap_free_area",
        "A rain cap leaves the flue several times its area",
        DEFECT,
        PATH,
        applies=MASONRY & ~METAL_LINER & yes("cap_present"),
        needs=at_least(
            fact("chimney_rain_cap_free_area"),
            Times(fact("chimney_flue_area"), count("chimney.rain_cap_times_flue_min")),
            "free area",
        ),
        fails="The rain cap leaves {measured}; {limit} needed: {gap} too little.",
        meets="The rain cap leaves {measured}; {limit} needed.",
        remedy="Raise or replace the cap.",
        not_asked="No cap on a masonry chimney.",
    ),
)

RULES = BUILT + JOINED + TOP
