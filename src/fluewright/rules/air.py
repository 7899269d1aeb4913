"""Rules: air for burning, venting and diluting, as a space gets it."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules import air_openings
from fluewright.rules.air_between import (
    bedroom_volume,
    has_level_duct,
    has_other_story,
    has_same_story,
    has_two,
    has_unvented,
    other_story,
    placed,
    same_story,
    two_areas,
    unvented_load,
)
from fluewright.rules.air_methods import ByAir, OneWay, known_infiltration, standard, supplied
from fluewright.rules.air_outdoors import combined, outdoor_one, outdoor_two
from fluewright.rules.air_sum import UNVENTED
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Ask,
    LimitNum,
    RuleMeets,
    When,
    at_least,
    fact,
    length,
    no,
    one_of,
    there,
    yes,
)

PATH, SPACE = Scope.PATH, Scope.SPACE
HAZARD, DEFECT, NOTE = Grade.HAZARD, Grade.DEFECT, Grade.NOTE

STANDARD = ByAir(standard, ("ach",))
KNOWN = ByAir(known_infiltration, ("ach",))
TWO, ONE = ByAir(outdoor_two), ByAir(outdoor_one)
COMBINED = ByAir(combined, ("ach",))
SUPPLIED = ByAir(supplied, ("mech_air_flow", "exhaust_fans"))
PART_INDOORS = ("less what the rooms hold", COMBINED)
# In the order in which they are cheap to learn.
ANY_WAY = OneWay(
    (
        ("indoor volume, standard method", STANDARD),
        ("indoor volume, known air changes", KNOWN),
        ("two openings outdoors", TWO),
        ("one opening outdoors", ONE),
        ("indoor and outdoor air combined", COMBINED),
        ("supply by a fan", SUPPLIED & yes("mech_air_interlocked")),
        ("approved design", yes("engineered_air_document_on_file")),
    )
)
HAS_AIR = RuleMeets("combustion_air_by_one_method")
ROOM_AIR = one_of("space_air_kind", "room_air", "instructions")
BY_INSTRUCTIONS = Ask(
    "air that the instructions ask for",
    "Read in the instructions of the appliance how much air it takes from the room.",
)
OTHER_WAY = "{name} gets its air in another way."
MEASURED_ACH = there("ach")

RULES: tuple[Rule, ...] = (
    Rule(
        "combustion_air_by_one_method",
        "The space gets its air in one of the accepted ways",
        HAZARD,
        SPACE,
        applies=ROOM_AIR,
        needs=When(one_of("space_air_kind", "room_air"), ANY_WAY)
        & When(one_of("space_air_kind", "instructions"), BY_INSTRUCTIONS),
        fails="No way of bringing air to {name} is met; the nearest has {measured}, and {limit} "
        "are needed: {gap} missing.",
        meets="{name} gets its air: {measured} there, {limit} needed.",
        remedy="Open the space to more volume, or bring air from outdoors.",
        not_asked="The appliances in {name} take no air from it.",
    ),
    Rule(
        "indoor_volume_standard_method",
        "Room volume by the standard method",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "indoor_standard"),
        needs=STANDARD,
        fails="{name} with the rooms joined to it has {measured}; {limit} needed: {gap} missing.",
        meets="{name} with the rooms joined to it has {measured}; {limit} needed.",
        remedy="Join more rooms by openings of the right size, or bring air from outdoors.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "indoor_volume_known_infiltration_method",
        "Room volume by the air changes of the house",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "indoor_known_ach"),
        needs=OneWay((("known air changes", KNOWN), ("standard method", STANDARD))),
        fails="{name} with the rooms joined to it has {measured}; {limit} needed in a house as "
        "tight as this: {gap} missing.",
        meets="{name} with the rooms joined to it has {measured}; {limit} needed.",
        remedy="Join more rooms by openings of the right size, or bring air from outdoors.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "indoor_standard_method_not_for_tight_house",
        "The standard method only where the house is not known to be tight",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "indoor_standard") & MEASURED_ACH,
        needs=at_least(
            fact("ach"), LimitNum("air.air_changes_tight", Dimension.RATE), "air changes", "ACH"
        ),
        fails="The house changes its air at {measured}; the standard method needs {limit}.",
        meets="The house changes its air at {measured}; the standard method needs {limit}.",
        remedy="Work the volume out by the measured air changes, or bring air from outdoors.",
        not_asked="{name} does not rely on the standard method in a house that was measured.",
    ),
    Rule(
        "indoor_opening_same_storey_area",
        "Two large enough openings between rooms on one story",
        HAZARD,
        SPACE,
        applies=ROOM_AIR & ByAir(has_same_story),
        needs=ByAir(same_story) | HAS_AIR,
        fails="The smaller opening of {name} to its neighbor has {measured} free; {limit} needed: "
        "{gap} missing.",
        meets="The smaller opening of {name} to its neighbor has {measured} free; {limit} needed.",
        remedy="Fit larger grilles, one high and one low.",
        not_asked="{name} has no openings to other rooms on its story.",
    ),
    Rule(
        "opening_placement_top_and_bottom",
        "One opening starts near the top, one near the bottom",
        DEFECT,
        SPACE,
        applies=ROOM_AIR & ByAir(has_two),
        needs=ByAir(placed) | HAS_AIR,
        fails="Of the openings of {name} the nearest starts {measured} from its edge; {bound} "
        "allowed: {gap} too far.",
        meets="The openings of {name} start {measured} from top or bottom; {bound} allowed.",
        remedy="Move one opening up, or one down.",
        not_asked="{name} has no two openings that work together.",
    ),
    Rule(
        "indoor_opening_between_storeys",
        "Large enough openings between stories",
        HAZARD,
        SPACE,
        applies=ROOM_AIR & ByAir(has_other_story),
        needs=ByAir(other_story) | HAS_AIR,
        fails="The openings of {name} to the other story have {measured} free; {limit} needed: "
        "{gap} missing.",
        meets="The openings of {name} to the other story have {measured} free; {limit} needed.",
        remedy="Enlarge the openings in floor or door.",
        not_asked="{name} has no openings to another story.",
    ),
    Rule(
        "outdoor_two_openings_direct_or_vertical",
        "Two openings outdoors, straight through or by upright ducts",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "outdoor_two") & ~ByAir(has_level_duct),
        needs=OneWay((("openings in full", ByAir(two_areas)), PART_INDOORS)),
        fails="The smaller opening of {name} outdoors has {measured} free; {limit} needed: {gap} "
        "missing.",
        meets="The smaller opening of {name} outdoors has {measured} free; {limit} needed.",
        remedy="Enlarge the openings.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "outdoor_two_openings_horizontal_duct",
        "Two openings outdoors, with level ducts",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "outdoor_two") & ByAir(has_level_duct),
        needs=OneWay((("openings in full", ByAir(two_areas)), PART_INDOORS)),
        fails="The smaller duct of {name} outdoors has {measured} free; {limit} needed: {gap} "
        "missing.",
        meets="The smaller duct of {name} outdoors has {measured} free; {limit} needed.",
        remedy="Enlarge the ducts, or lead them straight up.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "outdoor_single_opening",
        "One opening outdoors: large enough, and high",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "outdoor_one"),
        needs=OneWay((("opening in full", ONE), PART_INDOORS)),
        fails="The opening of {name} outdoors has {measured} free; {limit} needed: {gap} missing.",
        meets="The opening of {name} outdoors has {measured} free; {limit} needed.",
        remedy="Enlarge the opening, or add a second one.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "outdoor_single_opening_clearances",
        "Room for the air round an appliance with a single opening",
        DEFECT,
        PATH,
        applies=one_of("ca_method", "outdoor_one") & yes("takes_room_air"),
        needs=at_least(
            fact("clearance_sides"), length("air.single_opening_sides"), "at the sides", "in"
        )
        & at_least(fact("clearance_back"), length("air.single_opening_sides"), "behind", "in")
        & at_least(fact("clearance_front"), length("air.single_opening_front"), "in front", "in"),
        fails="{name} has {measured} of room on one side; {limit} needed for the air: {gap} too "
        "little.",
        meets="{name} has {measured} of room on its tightest side; {limit} needed for the air.",
        remedy="Move the appliance, or bring the air in by two openings.",
        not_asked="The air of {name} does not come through a single opening outdoors.",
    ),
    Rule(
        "combination_indoor_outdoor_factor",
        "Indoor and outdoor air combined: the outdoor opening by its reduction factor",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "combination"),
        needs=COMBINED,
        fails="The outdoor opening of {name} has {measured} free; {limit} needed after the "
        "reduction: {gap} missing.",
        meets="The outdoor opening of {name} has {measured} free; {limit} needed after the "
        "reduction.",
        remedy="Enlarge the outdoor opening, or join more rooms.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "mechanical_combustion_air_rate",
        "A fan that brings enough outdoor air",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "mechanical"),
        needs=SUPPLIED,
        fails="The air fan of {name} brings {measured}; {limit} needed: {gap} missing.",
        meets="The air fan of {name} brings {measured}; {limit} needed.",
        remedy="Raise the flow of the fan, or take exhaust out of the space.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "mechanical_combustion_air_interlock",
        "No burner without its air fan",
        HAZARD,
        SPACE,
        applies=one_of("ca_method", "mechanical"),
        needs=yes("mech_air_interlocked"),
        fails="In {name} a burner can fire while the air fan stands.",
        meets="In {name} no burner fires while the air fan stands.",
        remedy="Keep the burners off until the interlock works; then prove it.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "makeup_air_for_exhaust",
        "Fans that take air out do not pull gas back",
        HAZARD,
        PATH,
        applies=yes("takes_room_air") & there("exhaust_fans"),
        needs=no("spillage_after_5min"),
        fails="{name} spills gas with the exhaust fans on.",
        meets="{name} does not spill with the exhaust fans on.",
        remedy="Bring make-up air, fit smaller fans, or use an appliance with sealed combustion; "
        "then test again.",
        not_asked="No fan takes air from the space of {name}, or it burns none of it.",
    ),
    Rule(
        "draft_hood_in_appliance_space",
        "Draft hood or regulator in one room with the burner",
        HAZARD,
        PATH,
        applies=yes("draft_hood_present") | yes("barometric_regulator_present"),
        needs=yes("draft_hood_same_room"),
        fails="A wall or door parts the burner of {name} from its draft hood or regulator.",
        meets="Burner and draft hood or regulator of {name} are in one room.",
        remedy="Take the partition out.",
        not_asked="{name} has neither draft hood nor barometric regulator.",
    ),
    Rule(
        "air_not_from_bedroom_or_bathroom",
        "No air from a bedroom or bathroom that has not the volume",
        HAZARD,
        SPACE,
        applies=ROOM_AIR & yes("air_source_bedroom_bath"),
        needs=ByAir(bedroom_volume, ("ach",)),
        fails="{name} takes its air from a bedroom or bathroom of {measured}; {limit} needed: "
        "{gap} missing.",
        meets="{name} takes its air from a bedroom or bathroom of {measured}; {limit} needed.",
        remedy="Bring the air from outdoors.",
        not_asked="{name} takes no air from a bedroom or bathroom.",
    ),
    Rule(
        "corrosive_atmosphere_separated",
        "Chemicals kept away from the air of the burners",
        DEFECT,
        SPACE,
        applies=ROOM_AIR & yes("corrosive_vapors"),
        needs=yes("corrosive_room_separated_outdoor_air"),
        fails="Chemicals are used where the burners of {name} take their air.",
        meets="The burners of {name} stand apart from the chemicals, with air from outdoors.",
        remedy="Close the appliances off with air from outdoors, or use direct-vent appliances.",
        not_asked="No such chemicals are used where the burners of {name} take their air.",
    ),
    Rule(
        "engineered_combustion_air_documented",
        "An engineered air supply has its approved design",
        NOTE,
        SPACE,
        applies=one_of("ca_method", "engineered"),
        needs=yes("engineered_air_document_on_file"),
        fails="The design of the air supply of {name} is not on file.",
        meets="The design of the air supply of {name} is on file.",
        remedy="Get the design with the authority's approval.",
        not_asked=OTHER_WAY,
    ),
    Rule(
        "unvented_appliances_aggregate_input",
        "What burns without a vent is small for its room",
        HAZARD,
        SPACE,
        applies=ByAir(has_unvented, figures=UNVENTED),
        needs=ByAir(unvented_load, figures=UNVENTED),
        fails="What burns without a vent in {name} needs a room of {limit}; it has {measured}: "
        "{gap} missing.",
        meets="What burns without a vent in {name} needs a room of {limit}; it has {measured}.",
        remedy="Vent some of them or take them out.",
        not_asked="Nothing in {name} burns without a vent.",
    ),
    *air_openings.RULES,
)
