"""Rules: one opening for air, its louver, its screen and its duct."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.air_between import CreditedArea
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    RuleMeets,
    at_least,
    at_most,
    fact,
    gone,
    length,
    no,
    one_of,
    there,
    yes,
)

OPENING = Scope.OPENING
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT
DUCTED = yes("opening_ducted")
NO_DUCT = "No duct leads to {name}."

RULES: tuple[Rule, ...] = (
    Rule(
        "door_removal_not_a_permanent_opening",
        "A doorway that joins rooms can take no door again",
        DEFECT,
        OPENING,
        applies=one_of("opening_by", "doorway"),
        needs=one_of("door_between_rooms", "none_permanent")
        | RuleMeets("combustion_air_by_one_method"),
        fails="The doorway {name} can take its door again, so it joins nothing.",
        meets="The doorway {name} is not needed for air, or can take no door again.",
        remedy="Take out frame and hinges and finish the opening, or fit grilles.",
        not_asked="{name} is no doorway.",
    ),
    Rule(
        "air_opening_minimum_dimension",
        "No narrow opening for air",
        DEFECT,
        OPENING,
        applies=~one_of("opening_by", "doorway"),
        needs=at_least(
            fact("opening_min_dimension"),
            length("air.opening_narrowest_min"),
            "narrowest side",
            "in",
        ),
        fails="The opening {name} is {measured} wide; {limit} needed: {gap} too narrow.",
        meets="The opening {name} is {measured} wide at its narrowest; {limit} needed.",
        remedy="Replace it by a wider one.",
        not_asked="{name} is a doorway.",
    ),
    Rule(
        "louver_free_area",
        "A louver counts for its free area",
        DEFECT,
        OPENING,
        applies=there("opening_louver") & there("opening_counted_area"),
        needs=at_most(
            fact("opening_counted_area"),
            CreditedArea("opening_maker_area", "opening_gross_area", "opening_louver"),
            "free area counted",
            "in2",
        ),
        fails="The opening {name} was counted for {measured} free; it may be counted for {limit}: "
        "{gap} too much.",
        meets="The opening {name} was counted for {measured} free; it may be counted for {limit}.",
        remedy="Work the air out anew with the free area, and enlarge what is too small.",
        not_asked="{name} has no louver, or nobody counted a free area for it.",
    ),
    Rule(
        "screen_mesh_size",
        "No fine screen on an opening for air",
        DEFECT,
        OPENING,
        applies=there("opening_screen_mesh"),
        needs=at_least(fact("opening_screen_mesh"), length("air.screen_mesh_min"), "mesh", "in"),
        fails="The screen of {name} has a mesh of {measured}; {limit} needed: {gap} too fine.",
        meets="The screen of {name} has a mesh of {measured}; {limit} needed.",
        remedy="Fit a coarser screen.",
        not_asked="{name} has no screen.",
    ),
    Rule(
        "louvers_fixed_open",
        "Nothing can close an opening for air by itself or by hand",
        HAZARD,
        OPENING,
        applies=~one_of("opening_by", "doorway"),
        needs=(
            gone("opening_louver") | yes("louver_fixed_open") | yes("motorized_louver_interlocked")
        )
        & no("manual_damper_in_air_opening")
        & (no("opening_ducted") | no("duct_needs_fire_damper")),
        fails="The opening {name} can be closed while a burner runs.",
        meets="The opening {name} stays open while a burner runs.",
        remedy="Fix the louver open, and take hand dampers out.",
        not_asked="{name} is a doorway.",
    ),
    Rule(
        "motorized_louver_interlock",
        "A motor louver is proven open before the burner fires",
        HAZARD,
        OPENING,
        applies=there("opening_louver") & there("motorized_louver_interlocked"),
        needs=yes("motorized_louver_interlocked"),
        fails="A burner can fire while the motor louver of {name} is shut.",
        meets="No burner fires before the motor louver of {name} is open.",
        remedy="Interlock it with the burner, and prove it.",
        not_asked="{name} has no motor louver.",
    ),
    Rule(
        "air_duct_attic_end_unscreened",
        "An air duct that ends in the attic has no screen there",
        DEFECT,
        OPENING,
        applies=DUCTED & yes("duct_terminates_attic"),
        needs=no("duct_screened_in_attic"),
        fails="The duct of {name} has a screen on its end in the attic.",
        meets="The duct of {name} ends in the attic without a screen.",
        remedy="Take the screen off, and raise the end above the insulation.",
        not_asked="{name} has no duct that ends in an attic.",
    ),
    Rule(
        "air_inlet_12in_above_grade",
        "The air inlet is above the ground",
        DEFECT,
        OPENING,
        applies=one_of("opening_leads_to", "outdoors") & there("duct_inlet_above_grade"),
        needs=at_least(
            fact("duct_inlet_above_grade"),
            length("air.inlet_above_ground_min"),
            "lowest edge over the ground",
            "in",
        ),
        fails="The inlet of {name} is {measured} above the ground; {limit} needed: {gap} too low.",
        meets="The inlet of {name} is {measured} above the ground; {limit} needed.",
        remedy="Raise the inlet.",
        not_asked="{name} does not lead outdoors above the ground.",
    ),
    Rule(
        "air_ducts_separate_upper_lower",
        "Each air duct for one opening and one space, clear and not falling",
        DEFECT,
        OPENING,
        applies=DUCTED,
        needs=no("duct_shared_upper_lower")
        & no("duct_slopes_down_to_source")
        & yes("duct_material_ok")
        & yes("duct_serves_single_space")
        & yes("duct_end_unobstructed"),
        fails="The duct of {name} is not as it should be.",
        meets="The duct of {name} is of its own, clear, not falling, and of a material allowed.",
        remedy="Lead a duct of its own to each opening.",
        not_asked=NO_DUCT,
    ),
)
