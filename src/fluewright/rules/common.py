"""Rules: connectors and common vent of several appliances."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.in_common import StepsDown
from fluewright.rules.logic import (
    LimitNum,
    RuleMeets,
    Times,
    all_in,
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
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.rules.sizing import ALL_TOGETHER, HOODS_ALONE, IN_COMMON

PATH, COMMON = Scope.PATH, Scope.COMMON
HAZARD, DEFECT, NOTE = Grade.HAZARD, Grade.DEFECT, Grade.NOTE

SHARED = no("vent_serves_one")
BY_TABLES = one_of("sizing_method", "tables")
BY_AREA = one_of("sizing_method", "area_rule")
TWO = yes("two_appliances_on_vent")
OPENINGS = yes("several_connectors_into_vent")
FREE = at_most(
    fact("connector_horizontal"),
    Times(fact("connector_min_diameter"), count("common.connector_length_per_diameter")),
    "level length",
    "ft",
)
ALONE = "This vent serves one appliance."


def _angle(key: str) -> LimitNum:
    return LimitNum(key, Dimension.ANGLE)


CONNECTOR = (
    Rule(
        "connector_length_common_vent",
        "On a common vent a connector is short for its diameter, or sized for its length",
        DEFECT,
        PATH,
        applies=SHARED & BY_TABLES & yes("connector_present"),
        needs=FREE | RuleMeets("long_connector_derate"),
        fails="The connector runs {measured} sideways, {limit} is free for its diameter, and its "
        "length is too much for its size.",
        meets="The connector of {name} is short enough for its diameter, or sized for its length.",
        remedy="Move the appliance nearer, or fit a larger connector.",
        not_asked="The vent serves one appliance, or is not sized by the tables.",
    ),
    Rule(
        "long_connector_derate",
        "A long connector on a common vent still carries the input after its cut",
        HAZARD,
        PATH,
        applies=SHARED & BY_TABLES & yes("connector_present") & ~FREE,
        needs=IN_COMMON,
        fails="The input is {measured}; cut for its length the connector permits {bound}: {gap} "
        "beyond.",
        meets="The input is {measured}; cut for its length the connector permits {bound}.",
        remedy="Shorten or enlarge the connector.",
        not_asked="The connector is within its free length, or not sized by the common tables.",
    ),
    Rule(
        "fan_assisted_connector_reduction",
        "A connector smaller than a fan-assisted appliance's collar is so by few sizes",
        NOTE,
        PATH,
        applies=SHARED
        & yes("fan_assisted")
        & yes("connector_present")
        & ~at_least(fact("connector_min_diameter"), fact("appliance_outlet")),
        needs=any_in("common_burners", "nat")
        & yes("smooth_connector_interior")
        & StepsDown(
            "connector_min_diameter",
            "appliance_outlet",
            "common.fan_steps_down_max",
            "common.fan_steps_down_large_max",
            "common.fan_collar_large",
        ),
        fails="A connector smaller than the collar stands alone, is not smooth inside, or is too "
        "many sizes smaller.",
        meets="The smaller connector is allowed here: smooth, near the collar's size, with a "
        "draft hood on the same vent.",
        remedy="Fit a connector of the collar's size.",
        not_asked="No fan-assisted appliance with a smaller connector on a common vent.",
    ),
    Rule(
        "multiple_outlet_appliance_manifold",
        "An appliance with several outlets has the manifold that its maker or its areas ask for",
        DEFECT,
        PATH,
        applies=yes("several_outlets"),
        needs=yes("appliance_instructions_followed")
        | yes("sizing_document_on_file")
        | (
            at_least(fact("manifold_area"), fact("outlets_area_sum"), "manifold")
            & at_least(fact("connector_rise"), length("manifold.outlets_rise_min"), "rise")
        ),
        fails="The manifold of the outlets follows neither instructions nor a design, and is too "
        "small or rises too little.",
        meets="The manifold of the outlets is as its maker, a design or its areas ask.",
        remedy="Build it as the appliance instructions say.",
        not_asked="{name} has one outlet.",
    ),
    Rule(
        "combination_solid_fuel_manual_reset",
        "An appliance for gas and solid fuel has a spill device reset by hand",
        HAZARD,
        PATH,
        applies=yes("combination_solid_fuel_appliance"),
        needs=yes("manual_reset_spill_shutoff"),
        fails="{name} burns gas and solid fuel without a spill device that is reset by hand.",
        meets="{name} has a spill device that is reset by hand.",
        remedy="Shut the gas off until a listed device is fitted.",
        not_asked="{name} burns no solid fuel.",
    ),
    Rule(
        "gas_and_oil_share_conditions",
        "Gas and oil share a flue only by openings apart or one close fitting, with a gas shutoff",
        DEFECT,
        PATH,
        applies=any_in("flue_shared_with", "oil"),
        needs=(no("connector_openings_same_level") | yes("oil_gas_single_fitting_close"))
        & yes("gas_safety_shutoff_present"),
        fails="Gas and oil share a flue without what that needs.",
        meets="Gas and oil share the flue as they may.",
        remedy="Separate the openings, or take one appliance off this flue.",
        not_asked="No oil appliance on this flue.",
    ),
)

ENTRIES = (
    Rule(
        "smaller_connector_enters_higher",
        "The smaller connector enters higher",
        DEFECT,
        COMMON,
        applies=OPENINGS,
        needs=yes("smaller_connector_enters_higher") | yes("smaller_entry_limited_by_headroom"),
        fails="A smaller connector enters {name} below a larger one.",
        meets="No smaller connector enters {name} below a larger one without need.",
        remedy="Raise the entry of the smaller connector.",
        not_asked="One connector alone enters the vertical vent.",
    ),
    Rule(
        "connector_entries_at_different_levels",
        "Connectors enter at different levels, or steeply",
        DEFECT,
        COMMON,
        applies=OPENINGS,
        needs=no("connector_openings_same_level")
        | at_most(fact("connector_entry_angle"), _angle("common.entry_angle_max"), "entry"),
        fails="Two connectors enter {name} at one level, more than {limit} from vertical.",
        meets="Connectors enter {name} at different levels, or steeply.",
        remedy="Set one entry higher, or join them in a wye.",
        not_asked="One connector alone enters the vertical vent.",
    ),
    Rule(
        "connector_junction_by_fitting",
        "Connectors join in made tees or wyes",
        HAZARD,
        COMMON,
        applies=SHARED,
        needs=yes("connector_junction_made"),
        fails="Connectors join {name} through something other than a made tee or wye.",
        meets="Connectors join {name} in made tees or wyes.",
        remedy="Fit a made tee or wye.",
        not_asked=ALONE,
    ),
    Rule(
        "connector_rise_high_as_practical",
        "A manifold lies as high as headroom and clearance allow",
        DEFECT,
        COMMON,
        applies=SHARED & yes("manifold_present"),
        needs=yes("manifold_high"),
        fails="The manifold of {name} lies lower than it could.",
        meets="The manifold of {name} lies as high as headroom and clearance allow.",
        remedy="Raise the manifold.",
        not_asked="No manifold.",
    ),
    Rule(
        "connector_manifold_area_two_appliances",
        "By the area rule a manifold has the larger connector's area and half the smaller outlets'",
        DEFECT,
        COMMON,
        applies=SHARED & TWO & yes("manifold_present") & BY_AREA,
        needs=at_least(fact("manifold_area"), fact("manifold_area_needed"), "manifold"),
        fails="The manifold has {measured} inside; {limit} needed: {gap} too little.",
        meets="The manifold has {measured} inside; {limit} needed.",
        remedy="Fit a larger manifold.",
        not_asked="No manifold of two appliances sized by the area rule.",
    ),
)

VENT = (
    Rule(
        "common_vent_not_smaller_than_connector",
        "A common vent is as large as the largest connector",
        HAZARD,
        COMMON,
        applies=SHARED,
        needs=at_least(fact("common_min_area"), fact("largest_connector_area"), "vent"),
        fails="{name} has {measured} inside; its largest connector has {limit}: {gap} too little.",
        meets="{name} has {measured} inside; its largest connector has {limit}.",
        remedy="Fit a larger common vent.",
        not_asked=ALONE,
    ),
    Rule(
        "common_vent_fittings",
        "Tees and wyes of a common vent are as wide as it, and of its kind",
        DEFECT,
        COMMON,
        applies=SHARED,
        needs=yes("tee_opening_equal_common") & yes("tee_material_same"),
        fails="A tee or wye of {name} is narrower than the vent, or of another kind.",
        meets="Tees and wyes of {name} are as wide as the vent, and of its kind.",
        remedy="Fit tees and wyes of the vent's own size and kind.",
        not_asked=ALONE,
    ),
    Rule(
        "largest_section_7x_common",
        "A common vent is not too large for its smallest appliance",
        DEFECT,
        COMMON,
        applies=SHARED,
        needs=at_most(
            fact("common_max_area"),
            Times(fact("smallest_outlet_area"), count("common.area_over_smallest_max")),
            "vent",
        )
        | yes("vent_engineered"),
        fails="{name} has {measured} inside; at most {limit} for its smallest outlet: {gap} too "
        "much.",
        meets="{name} has {measured} inside; at most {limit} for its smallest outlet.",
        remedy="Line it, or have it engineered.",
        not_asked="One appliance alone on its vent.",
    ),
    Rule(
        "vent_area_two_draft_hoods",
        "By the area rule a vent of two hoods has the larger outlet's area and half the smaller's",
        DEFECT,
        PATH,
        applies=SHARED & TWO & BY_AREA & HOODS_ALONE,
        needs=at_least(fact("common_min_area"), fact("outlets_area_needed"), "vent")
        & at_most(
            fact("common_max_area"),
            Times(fact("smallest_outlet_area"), count("common.area_over_smallest_max")),
            "vent",
        ),
        fails="The vent has {measured} inside; {bound} by the area rule: {gap} beyond.",
        meets="The vent has {measured} inside; {bound} by the area rule.",
        remedy="Change the size of the vent, or size it by the tables.",
        not_asked="Not two draft-hood appliances sized by the area rule.",
    ),
    Rule(
        "common_vent_offset_length",
        "The offsets of a common vent are short for its diameter",
        DEFECT,
        COMMON,
        applies=SHARED & yes("offset_present"),
        needs=at_most(
            fact("common_offset_length"),
            Times(fact("vent_min_diameter"), count("common.offset_length_per_diameter")),
            "offsets",
            "ft",
        ),
        fails="The offsets of {name} run {measured} sideways; {limit} allowed: {gap} too long.",
        meets="The offsets of {name} run {measured} sideways; {limit} allowed.",
        remedy="Shorten the offset.",
        not_asked="No offset in a common vent.",
    ),
    Rule(
        "manifold_ten_percent",
        "A manifold is short for its diameter, and the vent behind it carries all after its cut",
        HAZARD,
        COMMON,
        applies=SHARED & yes("manifold_present") & BY_TABLES,
        needs=at_most(
            fact("manifold_length"),
            Times(fact("vent_min_diameter"), count("common.manifold_length_per_diameter")),
            "manifold",
            "ft",
        )
        & ALL_TOGETHER,
        fails="Behind its manifold {name} is too small, or the manifold too long: {measured}, "
        "{bound}.",
        meets="Manifold and vent hold for all appliances: {measured}, {bound}.",
        remedy="Shorten the manifold, or fit a larger common vent.",
        not_asked="No manifold sized by the tables.",
    ),
    Rule(
        "elbow_allowance_common_vent",
        "A common vent carries all inputs after the cut for its elbows",
        HAZARD,
        COMMON,
        applies=SHARED & BY_TABLES & there("common_elbows"),
        needs=ALL_TOGETHER,
        fails="All inputs come to {measured}; {name} permits {bound}: {gap} beyond.",
        meets="All inputs come to {measured}; {name} permits {bound}.",
        remedy="Change the vent's size, height or run; or have it engineered.",
        not_asked="No elbow in a common vent sized by the tables.",
    ),
    Rule(
        "mixed_single_and_double_wall",
        "With single-wall connectors a common vent is sized by the table for them",
        DEFECT,
        COMMON,
        applies=SHARED
        & BY_TABLES
        & any_in("common_connector_materials", *SINGLE)
        & any_in("common_connector_materials", *DOUBLE),
        needs=ALL_TOGETHER,
        fails="By the table for single-wall connectors {name} permits {bound}; all inputs come to "
        "{measured}: {gap} beyond.",
        meets="By the table for single-wall connectors {name} permits {bound}; all inputs come to "
        "{measured}.",
        remedy="Fit double-wall connectors, or a larger common vent.",
        not_asked="Connectors of one kind, or not sized by the tables.",
    ),
    Rule(
        "multistory_common_vent",
        "A common vent through several floors is designed for it",
        HAZARD,
        COMMON,
        applies=SHARED & yes("appliances_on_several_floors"),
        needs=yes("multistory_engineered")
        & yes("multistory_rooms_separated")
        & all_in("vent_material", "type_b")
        & yes("cap_listed"),
        fails="{name} serves several floors without a design, separate rooms, Type B pipe or a "
        "listed cap.",
        meets="{name} is designed for several floors.",
        remedy="Give each floor a vent of its own, or have the system designed.",
        not_asked="All appliances stand on one floor.",
    ),
    Rule(
        "multistory_offset",
        "A common vent through several floors has one gentle, short offset at most",
        DEFECT,
        COMMON,
        applies=SHARED & yes("appliances_on_several_floors") & yes("offset_present"),
        needs=at_most(fact("offset_count"), count("multistory.offsets_max"), "offsets")
        & at_most(
            fact("offsets_over_45"),
            count("multistory.offsets_over_45_max"),
            "offsets over 45 degrees",
        )
        & at_most(
            fact("common_offset_length"),
            Times(fact("vent_min_diameter"), count("common.offset_length_per_diameter")),
            "offset",
            "ft",
        )
        & no("vent_reduced_above_offset")
        & yes("multistory_engineered"),
        fails="The offset of {name} is one of several, too flat, too long, reduced above, or not "
        "part of a design.",
        meets="The offset of {name} is single, gentle, short and part of a design.",
        remedy="Straighten the vent, or have it designed.",
        not_asked="One floor, or no offset.",
    ),
)
RULES = CONNECTOR + ENTRIES + VENT
