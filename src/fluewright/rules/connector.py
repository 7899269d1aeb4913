"""Rules: the vent connector: size, slope, length, joints, support, what it passes."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Ask,
    Cond,
    Doubt,
    RuleMeets,
    When,
    all_in,
    any_in,
    at_least,
    at_most,
    count,
    fact,
    gone,
    length,
    no,
    none_in,
    one_of,
    ratio,
    there,
    val,
    yes,
)
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.rules.special import SizeSteps

PATH, PIECE, JOINT = Scope.PATH, Scope.CONNECTOR_PIECE, Scope.JOINT
STOP, HAZARD, DEFECT = Grade.STOP, Grade.HAZARD, Grade.DEFECT
CRAFT, NOTE = Grade.CRAFT, Grade.NOTE
PRESENT = yes("connector_present")
NATURAL_FLOW = no("mech_draft_present")
SINGLE_RUN = any_in("connector_materials", *SINGLE)
TYPE_B_RUN = any_in("connector_materials", "type_b") & ~SINGLE_RUN
NOT_ENGINEERED = ~one_of("sizing_method", "engineered")
DATUM = (
    "Ask the authority from where the height of the vent counts: from the hood outlet, or from "
    "where the connector enters it."
)
NO_CONNECTOR = "There is no connector."
LISTED_DEVICES = (
    "draft_regulator_listed",
    "vent_damper_listed",
    "safety_control_listed",
    "heat_reclaimer_listed",
)
ECONOMIZER = Ask(
    "whether the economizer is fitted as instructed",
    "Compare it with the instructions of appliance and economizer.",
)


def within_height(length_fact: str, share: str, label: str = "horizontal length") -> Cond:
    """A length within a share of the vent height, whose datum the text leaves open."""

    def of(height: str) -> Cond:
        return at_most(
            fact(length_fact),
            fact(height).times(ratio(share)),
            label,
            "ft",
        )

    return Doubt(of("vent_height_above_connector"), of("vent_height"), DATUM)


SIZE = (
    Rule(
        "connector_used_where_required",
        "A connector joins appliance and vent, or the vent starts on the outlet",
        DEFECT,
        PATH,
        needs=PRESENT | yes("vent_attached_directly"),
        fails="Nothing joins {name} to its vent.",
        meets="{name} is joined to its vent.",
        remedy="Fit a connector.",
    ),
    Rule(
        "connector_not_smaller_than_draft_hood",
        "On a shared vent, or by the area rule, the connector is not smaller than the hood outlet",
        HAZARD,
        PATH,
        applies=PRESENT
        & yes("draft_hood_present")
        & (no("vent_serves_one") | one_of("sizing_method", "area_rule")),
        needs=at_least(
            fact("connector_min_diameter"), fact("appliance_outlet"), "inside diameter", "in"
        ),
        fails="The connector narrows to {measured}; the hood outlet is {limit}.",
        meets="The connector is {measured} at its narrowest; the hood outlet is {limit}.",
        remedy="Fit connector pipe of at least the size of the hood outlet.",
        not_asked="Alone on its vent and not sized by the area rule, or no hooded appliance.",
    ),
    Rule(
        "connector_no_reduction_along_flow",
        "The connector is nowhere smaller than its outlet allows",
        HAZARD,
        PATH,
        applies=PRESENT,
        needs=at_least(
            fact("connector_min_diameter"), fact("appliance_outlet"), "inside diameter", "in"
        )
        | RuleMeets("vent_downsizing_conditions")
        | RuleMeets("fan_assisted_connector_reduction"),
        fails="The connector narrows to {measured}; the outlet is {limit}.",
        meets="The connector is nowhere narrower than allowed: {measured}; the outlet is {limit}.",
        remedy="Replace the narrow part with pipe of at least the outlet's size.",
        not_asked=NO_CONNECTOR,
    ),
    Rule(
        "connector_upsize_limit",
        "The connector is at most two table sizes larger than the outlet",
        DEFECT,
        PATH,
        applies=PRESENT & ~at_most(fact("connector_max_diameter"), fact("appliance_outlet")),
        needs=at_most(
            SizeSteps("appliance_outlet", "connector_max_diameter"),
            count("connector.sizes_over_outlet_max"),
            "table sizes over the outlet",
        ),
        fails="Table sizes of the connector over the outlet: {measured}; {limit} allowed.",
        meets="Table sizes of the connector over the outlet: {measured}; {limit} allowed.",
        remedy="Fit a connector nearer to the size of the outlet.",
        not_asked="The connector is not larger than the outlet.",
    ),
    Rule(
        "connector_enlarged_at_hood_outlet",
        "A larger size starts at the hood outlet",
        DEFECT,
        PATH,
        applies=PRESENT & ~at_most(fact("connector_max_diameter"), fact("appliance_outlet")),
        needs=one_of("connector_size_change", "at_draft_hood"),
        fails="The connector gets larger downstream, not at the outlet.",
        meets="The larger size starts at the outlet.",
        remedy="Put the increaser on the outlet.",
        not_asked="The connector is not larger than the outlet.",
    ),
)

RUN = (
    Rule(
        "connector_upward_slope",
        "Level pieces of the connector climb toward the vent",
        DEFECT,
        PIECE,
        applies=yes("piece_is_level") & NATURAL_FLOW,
        needs=no("piece_runs_down")
        & at_least(fact("piece_slope"), ratio("connector.slope_min"), "slope", "in/ft"),
        fails="Connector {name} climbs {measured}; {limit} needed: {gap} too flat.",
        meets="Connector {name} climbs {measured}; {limit} needed.",
        remedy="Raise the far end, or lower the near end, and hang it so that it stays.",
        not_asked="{name} is not a level piece, or a fan drives the gas.",
    ),
    Rule(
        "connector_no_dips_or_sags",
        "The connector has no dip or sag",
        DEFECT,
        PATH,
        applies=yes("connector_has_level_run") & NATURAL_FLOW,
        needs=no("connector_has_dip"),
        fails="The connector dips or sags.",
        meets="The connector has no dip or sag.",
        remedy="Straighten and hang it.",
        not_asked="No level run.",
    ),
    Rule(
        "connector_length_single_wall",
        "Single-wall connector: horizontal length within its share of the vent height",
        HAZARD,
        PATH,
        applies=SINGLE_RUN & NOT_ENGINEERED,
        needs=within_height("connector_horizontal", "connector.single_wall_length_share_max"),
        fails="The connector runs {measured} sideways; {limit} allowed for this vent: {gap} too "
        "long.",
        meets="The connector runs {measured} sideways; {limit} allowed.",
        remedy="Shorten the run, use Type B connector, or raise the vent.",
        not_asked="No single-wall connector, or an engineered system.",
    ),
    Rule(
        "connector_length_type_b",
        "Type B connector, or any on a shared vent: length within its share of the vent height",
        DEFECT,
        PATH,
        applies=NOT_ENGINEERED & (TYPE_B_RUN | no("vent_serves_one")),
        needs=When(
            TYPE_B_RUN, within_height("connector_horizontal", "connector.type_b_length_share_max")
        )
        & When(
            no("vent_serves_one"),
            within_height(
                "connector_total_length", "connector.type_b_length_share_max", "whole length"
            ),
        ),
        fails="The length of the connector is {measured}; {limit} allowed for this vent: {gap} too "
        "long.",
        meets="The length of the connector is {measured}; {limit} allowed.",
        remedy="Shorten the run or raise the vent.",
        not_asked="No Type B connector and no shared vent, or an engineered system.",
    ),
    Rule(
        "connector_first_vertical_rise",
        "The connector rises before its first elbow",
        NOTE,
        PATH,
        applies=PRESENT & yes("draft_hood_present"),
        needs=at_least(
            fact("connector_first_rise"),
            val("manual_first_rise", length("connector.first_rise_usual")),
            "first rise",
            "in",
        ),
        fails="The connector rises {measured} before its first elbow; {limit} is usual or "
        "instructed.",
        meets="The connector rises {measured} before its first elbow; {limit} is usual.",
        remedy="Put a longer upright piece on the hood where there is room.",
        not_asked="No connector on a draft hood.",
    ),
    Rule(
        "connector_supported",
        "The connector is supported",
        DEFECT,
        PATH,
        applies=PRESENT,
        needs=yes("connector_supported"),
        fails="The connector is not held: joints and clearances will not stay.",
        meets="The connector is held.",
        remedy="Hang it from the structure with metal strap.",
        not_asked=NO_CONNECTOR,
    ),
    Rule(
        "connector_support_spacing",
        "A long level run hangs at short spacing",
        CRAFT,
        PATH,
        applies=yes("connector_has_level_run")
        & ~at_most(fact("connector_horizontal"), length("connector.hanger_needed_over")),
        needs=at_most(
            fact("connector_support_spacing"),
            val("manual_support_spacing", length("connector.hanger_spacing_usual")),
            "hanger spacing",
            "ft",
        ),
        fails="Hangers are {measured} apart; {limit} is usual or instructed.",
        meets="Hangers are {measured} apart; {limit} is usual.",
        remedy="Add hangers, one near each elbow.",
        not_asked="No level run long enough to ask.",
    ),
    Rule(
        "connector_accessible_full_length",
        "The whole connector can be reached",
        DEFECT,
        PATH,
        applies=PRESENT,
        needs=yes("connector_accessible"),
        fails="Part of the connector cannot be reached.",
        meets="The whole connector can be reached.",
        remedy="Open up or re-route that part.",
        not_asked=NO_CONNECTOR,
    ),
)

JOINTS = (
    Rule(
        "connector_joints_fastened",
        "Every joint of the connector is fastened",
        HAZARD,
        JOINT,
        applies=PRESENT,
        needs=one_of("joint_fastening", "screws", "listed_lock")
        | (one_of("joint_fastening", "rivets") & yes("joint_means_approved")),
        fails="The joint into {name} is held by tape, friction or nothing.",
        meets="The joint into {name} is fastened.",
        remedy="Push it home and screw it; tape is no fastening.",
        not_asked=NO_CONNECTOR,
    ),
    Rule(
        "connector_screw_count",
        "Single-wall joints have their screws",
        CRAFT,
        JOINT,
        applies=one_of("piece_material", *SINGLE) & one_of("joint_fastening", "screws"),
        needs=at_least(fact("joint_screws"), count("connector.screws_per_joint_usual"), "screws"),
        fails="The joint into {name} has {measured} screws; {limit} is usual practice.",
        meets="The joint into {name} has {measured} screws; {limit} is usual.",
        remedy="Add sheet-metal screws, evenly spaced.",
        not_asked="Not a screwed single-wall joint.",
    ),
    Rule(
        "connector_male_end_direction",
        "Crimped ends point with the flow, or as the instructions ask",
        CRAFT,
        JOINT,
        applies=one_of("piece_material", *SINGLE),
        needs=one_of("joint_male_end", "downstream")
        | Ask(
            "which way the crimped ends should point",
            "Read the pipe and appliance instructions. Trade practice knows both directions; "
            "look for gaps, leaks or water at this joint.",
        ),
        fails="The crimped end at {name} points against the instructions.",
        meets="The crimped end at {name} points with the flow.",
        remedy="Turn the piece when it is next taken down.",
        not_asked="Not a single-wall joint.",
    ),
)

PASSING = (
    Rule(
        "connector_not_through_ceiling_floor_or_rated_wall",
        "The connector passes no ceiling, floor or fire-rated wall",
        HAZARD,
        PATH,
        applies=PRESENT & ~all_in("connector_materials", *DOUBLE),
        needs=none_in("connector_passes", "ceiling", "floor", "rated_wall"),
        fails="The connector passes a ceiling, a floor or a fire-rated wall.",
        meets="The connector stays in the room of the appliance.",
        remedy="Start the Type B vent below the ceiling and let it pass.",
        not_asked="There is no connector, or it is double wall: what leaves the room is judged as "
        "vent.",
    ),
    Rule(
        "connector_single_wall_not_through_interior_wall",
        "Single-wall connector passes no inside wall",
        HAZARD,
        PATH,
        applies=SINGLE_RUN,
        needs=none_in("connector_passes", "interior_wall"),
        fails="Single-wall connector passes an inside wall.",
        meets="The single-wall connector passes no inside wall.",
        remedy="Use Type B through the wall.",
        not_asked="No single-wall connector.",
    ),
    Rule(
        "connector_type_b_through_partition",
        "Double-wall connector passes a wall at its listed distance",
        HAZARD,
        PIECE,
        applies=one_of("piece_material", *DOUBLE)
        & any_in("connector_passes", "interior_wall", "exterior_wall"),
        needs=gone("piece_clearance")
        | at_least(fact("piece_clearance"), fact("piece_listed_clearance"), "clearance", "in"),
        fails="Connector {name} is {measured} from the wall opening; its mark asks {limit}.",
        meets="Connector {name} keeps its listed distance.",
        remedy="Widen the opening without cutting studs.",
        not_asked="No double-wall connector passes a wall.",
    ),
    Rule(
        "no_shared_flue_with_solid_fuel",
        "No solid-fuel appliance uses the same flue",
        STOP,
        PATH,
        needs=none_in("flue_shared_with", "solid_fuel_appliance"),
        fails="A solid-fuel appliance uses the same flue.",
        meets="No solid-fuel appliance uses this vent.",
        remedy="Shut it off; give the gas appliance its own vent.",
    ),
    Rule(
        "connector_not_to_fireplace_flue_unless_sealed",
        "No fireplace opens into the flue, unless it is sealed for good",
        HAZARD,
        PATH,
        applies=any_in("flue_shared_with", "masonry_fireplace"),
        needs=yes("fireplace_opening_sealed"),
        fails="The flue also serves an open fireplace.",
        meets="The fireplace opening is sealed for good.",
        remedy="Seal the fireplace for good below the connection, or give the appliance its vent.",
        not_asked="No fireplace on this flue.",
    ),
    Rule(
        "connector_not_to_factory_built_fireplace_flue",
        "No factory-built fireplace flue, unless listed for it",
        HAZARD,
        PATH,
        applies=any_in("flue_shared_with", "factory_built_fireplace"),
        needs=yes("appliance_listed_for_fireplace_flue"),
        fails="The appliance is joined to a factory-built fireplace flue.",
        meets="The appliance is listed for that fireplace flue.",
        remedy="Give the appliance its own vent.",
        not_asked="No factory-built fireplace flue.",
    ),
    Rule(
        "no_manual_damper_in_connector",
        "No manual damper",
        STOP,
        PATH,
        applies=PRESENT,
        needs=no("manual_damper_present"),
        fails="There is a manual damper in the connector.",
        meets="No manual damper in the connector.",
        remedy="Shut the appliance off and take the damper out.",
        not_asked=NO_CONNECTOR,
    ),
    Rule(
        "automatic_vent_damper_listed",
        "An automatic damper is listed and fitted as instructed",
        HAZARD,
        PATH,
        applies=there("auto_damper"),
        needs=yes("auto_damper_listed") & yes("auto_damper_per_instructions"),
        fails="The automatic damper is not listed, or not fitted as instructed.",
        meets="The automatic damper is listed and fitted as instructed.",
        remedy="Take it out, or fit the listed one to its instructions.",
        not_asked="No automatic damper.",
    ),
    Rule(
        "no_obstruction_in_vent",
        "Nothing slows the gas but listed devices",
        HAZARD,
        PATH,
        needs=gone("device_in_flue")
        | (
            all_in("device_in_flue", *LISTED_DEVICES, "economizer")
            & (none_in("device_in_flue", "economizer") | (no("draft_hood_present") & ECONOMIZER))
        ),
        fails="A device in the gas way slows the gas.",
        meets="Nothing but listed devices is in the gas way.",
        remedy="Take it out.",
    ),
)
RULES = SIZE + RUN + JOINTS + PASSING
