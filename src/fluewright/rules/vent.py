"""Rules: the vent: height, offsets, sizes, support, roof passage, and its state."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.connector import NATURAL_FLOW, within_height
from fluewright.rules.logic import (
    Always,
    Cond,
    LimitNum,
    Minus,
    RuleMeets,
    StepNum,
    Word,
    any_in,
    at_least,
    at_most,
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
from fluewright.rules.material import DOUBLE, SINGLE_VENT
from fluewright.rules.special import BoreArea, FlowArea

PATH = Scope.PATH
STOP, HAZARD, DEFECT, CRAFT = Grade.STOP, Grade.HAZARD, Grade.DEFECT, Grade.CRAFT
GAS_VENT = any_in("vent_material", *DOUBLE)
FACTORY = any_in("vent_material", "type_b", "type_bw", "type_l", "special")
BY_TABLES = one_of("sizing_method", "tables")
ENCLOSED = yes("chase_unventilated") & at_least(
    fact("chase_r_value"), LimitNum("vent.chase_r_min", Dimension.RESISTANCE), "chase insulation"
)
# Editions differ in whether the offset rules bind every Type B vent or only the area rule.
OFFSETS_BIND = Word("vent.offset_rules_bind", "all") | one_of("sizing_method", "area_rule")


def _height(key: str, noun: str) -> tuple[Cond, str, str]:
    """The requirement of a least height, with its sentences."""
    return (
        at_least(fact("vent_height"), length(key), "height above the hood outlet", "ft"),
        f"The {noun} ends {{measured}} above the hood outlet; {{limit}} needed: {{gap}} too low.",
        f"The {noun} ends {{measured}} above the hood outlet; {{limit}} needed.",
    )


_GAS_HEIGHT = _height("vent.height_min", "vent")
_SINGLE_HEIGHT = _height("vent.single_wall_height_min", "single-wall pipe")


HEIGHT = (
    Rule(
        "gas_vent_minimum_height",
        "The Type B or L vent ends high enough above the hood outlet",
        HAZARD,
        PATH,
        applies=GAS_VENT & NATURAL_FLOW,
        needs=_GAS_HEIGHT[0],
        fails=_GAS_HEIGHT[1],
        meets=_GAS_HEIGHT[2],
        remedy="Add vent above the roof, braced where it is tall.",
        not_asked="No Type B or L vent in natural draft.",
    ),
    Rule(
        "single_wall_vent_minimum_height",
        "A single-wall vent ends high enough above the hood outlet",
        HAZARD,
        PATH,
        applies=SINGLE_VENT,
        needs=_SINGLE_HEIGHT[0],
        fails=_SINGLE_HEIGHT[1],
        meets=_SINGLE_HEIGHT[2],
        remedy="Replace it with Type B of enough height.",
        not_asked="No single-wall pipe serves as vent.",
    ),
    Rule(
        "vent_offset_angle",
        "The vent is nearly upright: one steep offset at most",
        DEFECT,
        PATH,
        applies=GAS_VENT & OFFSETS_BIND,
        needs=at_most(
            fact("offsets_over_60"), count("vent.offsets_over_60_max"), "offsets over 60 degrees"
        )
        & at_most(
            fact("offsets_over_45"), count("vent.offsets_over_45_max"), "offsets over 45 degrees"
        ),
        fails="Offsets of the vent too far from vertical: {measured}; {limit} allowed.",
        meets="The offsets of the vent are within what is allowed.",
        remedy="Re-route the vent with offsets of 45 degrees or less.",
        not_asked="No Type B or L vent that this rule binds.",
    ),
    Rule(
        "vent_total_lateral_75_percent",
        "Level parts of connector and vent are short against the vent height",
        HAZARD,
        PATH,
        applies=GAS_VENT & yes("draft_hood_present") & OFFSETS_BIND,
        needs=within_height("vent_horizontal_total", "vent.horizontal_share_max"),
        fails="Connector and vent run {measured} sideways; {limit} allowed for this height: {gap} "
        "too long.",
        meets="Connector and vent run {measured} sideways; {limit} allowed.",
        remedy="Shorten the run, move the vent nearer, or raise it.",
        not_asked="No hooded appliance on a Type B or L vent that this rule binds.",
    ),
    Rule(
        "vent_exposed_outdoors",
        "The vent is not exposed outdoors below the roof, nor far above it",
        DEFECT,
        PATH,
        applies=BY_TABLES,
        needs=(
            no("vent_exposed_below_roofline")
            | ENCLOSED
            | yes("vent_engineered")
            | RuleMeets("exterior_masonry_chimney_single")
            | RuleMeets("exterior_masonry_chimney_common")
        )
        & (
            at_most(
                Minus(
                    fact("vent_above_roof"),
                    StepNum(
                        "roof.pitch_height", fact("roof_pitch"), Dimension.LENGTH, Dimension.SLOPE
                    ),
                ),
                length("vent.extra_height_above_roof_max"),
                "height above what the roof asks",
                "ft",
            )
            | (
                one_of("chimney_kind", "masonry", "factory_built", "metal")
                & at_most(
                    Minus(fact("vent_above_roof"), length("chimney.above_roof_min")),
                    length("vent.extra_height_above_roof_max"),
                    "height above what the roof asks",
                    "ft",
                )
            )
            | ENCLOSED
            | yes("vent_engineered")
        ),
        fails="The vent is exposed outdoors more than the tables assume.",
        meets="The vent is not exposed outdoors more than the tables assume.",
        remedy="Enclose it in an insulated, unventilated chase or have it engineered.",
        not_asked="Not sized by the tables.",
    ),
    Rule(
        "vent_area_single_draft_hood",
        "Area rule: connector and vent between one and seven times the outlet",
        DEFECT,
        PATH,
        applies=yes("vent_serves_one")
        & yes("draft_hood_present")
        & one_of("sizing_method", "area_rule"),
        needs=at_least(
            FlowArea("vent_min_diameter"), BoreArea("appliance_outlet"), "vent area", "in2"
        )
        & at_most(
            FlowArea("vent_max_diameter"),
            BoreArea("appliance_outlet").times(count("vent.area_times_outlet_max")),
            "vent area",
            "in2",
        )
        & (
            no("connector_present")
            | (
                at_least(
                    BoreArea("connector_min_diameter"),
                    BoreArea("appliance_outlet"),
                    "connector area",
                    "in2",
                )
                & at_most(
                    BoreArea("connector_max_diameter"),
                    BoreArea("appliance_outlet").times(count("vent.area_times_outlet_max")),
                    "connector area",
                    "in2",
                )
            )
        ),
        fails="The area is {measured}; the rule asks {limit}.",
        meets="Connector and vent lie between one and seven times the outlet area.",
        remedy="Fit pipe of the size of the outlet, or size by the tables.",
        not_asked="Not one hooded appliance sized by the area rule.",
    ),
    Rule(
        "vertical_vent_larger_than_connector",
        "A vent wider than its connector is at most seven times the outlet",
        DEFECT,
        PATH,
        applies=yes("vent_serves_one")
        & yes("connector_present")
        & ~at_most(FlowArea("vent_max_diameter"), BoreArea("connector_min_diameter")),
        needs=at_most(
            FlowArea("vent_max_diameter"),
            BoreArea("appliance_outlet").times(count("vent.area_times_outlet_max")),
            "vent area",
            "in2",
        )
        | yes("vent_engineered"),
        fails="The vent has {measured} of area; {limit} is the most for this outlet.",
        meets="The vent has {measured} of area; {limit} is the most for this outlet.",
        remedy="Line or replace the vent with one of fitting size.",
        not_asked="The vent is not wider than the connector, or serves more than one.",
    ),
)

PASSAGE = (
    Rule(
        "roof_penetration_complete",
        "The pipe itself goes through the flashing",
        HAZARD,
        PATH,
        applies=any_in("vent_passes", "roof"),
        needs=yes("vent_through_flashing"),
        fails="The vent stops short of the flashing: the flashing stands in for the pipe.",
        meets="The pipe goes unbroken through the flashing.",
        remedy="Carry the vent through the flashing to the cap.",
        not_asked="The vent passes no roof.",
    ),
    Rule(
        "roof_flashing_and_storm_collar",
        "Flashing and storm collar shed water",
        CRAFT,
        PATH,
        applies=any_in("vent_passes", "roof"),
        needs=yes("flashing_weathertight") & yes("storm_collar_present"),
        fails="The flashing leaks or the storm collar is missing.",
        meets="Flashing and storm collar shed water.",
        remedy="Lap the flashing right, fit a storm collar, seal as the vent instructions say.",
        not_asked="The vent passes no roof.",
    ),
    Rule(
        "vent_fasteners_not_through_inner_wall",
        "No screw goes through the inner wall of double-wall vent",
        DEFECT,
        PATH,
        applies=GAS_VENT | any_in("connector_materials", *DOUBLE),
        needs=gone("fastener_through_inner_wall")
        | one_of("fastener_through_inner_wall", "transition_only"),
        fails="Screws go through the inner wall of the double-wall vent.",
        meets="No screw goes through the inner wall, other than where the connector joins.",
        remedy="Replace the pierced sections; join them by their locks.",
        not_asked="No double-wall vent or connector.",
    ),
    Rule(
        "gas_vent_supported",
        "The gas vent is supported as listed",
        DEFECT,
        PATH,
        applies=FACTORY,
        needs=yes("vent_supported"),
        fails="The vent is not supported.",
        meets="The vent is supported.",
        remedy="Fit the maker's support.",
        not_asked="No factory-made gas vent.",
    ),
    Rule(
        "single_wall_pipe_supported",
        "Single-wall vent pipe is supported",
        DEFECT,
        PATH,
        applies=SINGLE_VENT,
        needs=yes("vent_supported"),
        fails="The single-wall vent is not supported.",
        meets="The single-wall vent is supported.",
        remedy="Support it, or replace it with Type B.",
        not_asked="No single-wall pipe serves as vent.",
    ),
    Rule(
        "gas_vent_braced_above_5ft",
        "A vent tall above the roof is braced",
        DEFECT,
        PATH,
        applies=any_in("vent_passes", "roof")
        & ~at_most(fact("vent_above_roof"), length("vent.unbraced_above_roof_usual")),
        needs=yes("vent_braced"),
        fails="The vent stands tall above the roof without a brace.",
        meets="The tall vent above the roof is braced.",
        remedy="Fit guys or rigid braces as the vent instructions say.",
        not_asked="The vent is not tall above the roof.",
    ),
    Rule(
        "type_b_flow_arrow",
        "Type B sections point with the flow, locks turned home",
        CRAFT,
        PATH,
        applies=any_in("vent_material", "type_b") | any_in("connector_materials", "type_b"),
        needs=yes("vent_instructions_followed"),
        fails="A Type B section is put in against its arrow or not locked.",
        meets="Type B sections follow their arrows and locks.",
        remedy="Turn the section round, lock it home.",
        not_asked="No Type B sections.",
    ),
)

STATE = (
    Rule(
        "vent_parts_sound",
        "Connector, vent and cap are whole: no hole, gap, crush or blockage",
        STOP,
        PATH,
        applies=Always(),
        needs=nowhere("corrosion_holes")
        & nowhere("vent_disconnected")
        & nowhere("vent_blocked_or_crushed"),
        fails="The gas way is open, holed, crushed or blocked{where}.",
        meets="The gas way is whole from hood to cap.",
        remedy="Shut the appliance off; replace the bad parts and close every joint.",
    ),
    Rule(
        "evidence_of_past_spillage",
        "No trace of past spillage at hood or jacket",
        HAZARD,
        PATH,
        applies=yes("draft_hood_present") | yes("soot_or_scorch") | yes("condensate_stains"),
        needs=no("soot_or_scorch") & no("condensate_stains"),
        fails="Scorch, soot or rust at hood or jacket: gas has spilled into the room before.",
        meets="No trace of past spillage.",
        remedy="Find the cause before use: blockage, open joint, slope, size, house pressure. "
        "Test for spillage.",
        not_asked="No draft hood, and no trace.",
    ),
    Rule(
        "vent_meets_appliance_draft_requirement",
        "The draft reaches what the appliance asks",
        HAZARD,
        PATH,
        applies=there("draft_need"),
        needs=at_most(fact("draft_measured"), fact("draft_needed"), "draft", "Pa"),
        fails="Draft is {measured}; the appliance asks {limit} or stronger.",
        meets="Draft is {measured}; the appliance asks {limit}.",
        remedy="Find why it is weak before use: blockage, open joint, size, house pressure.",
        not_asked="The appliance instructions name no draft.",
    ),
)
RULES = HEIGHT + PASSAGE + STATE
