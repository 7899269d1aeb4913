"""Rules: appliances that a fan drives, direct-vent and condensing ones."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    KeyedNum,
    StepNum,
    any_in,
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

PATH, INTAKE, OPENING = Scope.PATH, Scope.INTAKE, Scope.NEAR_OPENING
HAZARD, DEFECT, NOTE = Grade.HAZARD, Grade.DEFECT, Grade.NOTE
# A fan in the vent, or an appliance whose own fan pushes its gas out.
FAN_DRIVEN = yes("mech_draft_present") | one_of("appliance_category", "III", "IV")
DIRECT, NOT_DIRECT = yes("direct_vent_appliance"), no("direct_vent_appliance")
AT_WALL = one_of("terminal_position", "at_wall")
UNLISTED = "appliance.unlisted_furnace_clearance"


def _cell(column: str) -> KeyedNum:
    return KeyedNum(UNLISTED, "unlisted_furnace_row", f"={column}", Dimension.LENGTH)


SYSTEM = (
    Rule(
        "category_ii_iii_iv_vent_by_manufacturer",
        "A Category II, III or IV appliance is vented as its maker says",
        HAZARD,
        PATH,
        applies=one_of("appliance_category", "II", "III", "IV"),
        needs=yes("appliance_instructions_followed")
        & (one_of("appliance_category", "III") | yes("condensate_drain_present")),
        fails="The vent of {name} is not what its maker says, or its condensate is not led off.",
        meets="The vent of {name} is what its maker says, its condensate led off.",
        remedy="Vent it again as the appliance instructions say.",
        not_asked="{name} is none of Category II, III or IV.",
    ),
    Rule(
        "direct_vent_per_instructions",
        "A direct-vent appliance is vented as its instructions say",
        DEFECT,
        PATH,
        applies=DIRECT,
        needs=yes("appliance_instructions_followed"),
        fails="Vent and air pipe of {name} depart from its instructions.",
        meets="Vent and air pipe of {name} follow its instructions.",
        remedy="Correct them to the instructions.",
        not_asked="{name} is no direct-vent appliance.",
    ),
    Rule(
        "mechanical_draft_listed_interlocked_sealed",
        "A draft fan is listed, stops the gas when it stops, and its pipe is tight",
        HAZARD,
        PATH,
        applies=yes("mech_draft_present"),
        needs=yes("mech_draft_listed")
        & yes("mech_draft_interlocked")
        & yes("positive_pressure_parts_tight"),
        fails="The draft fan is not listed, does not stop the gas when it fails, or its pipe "
        "leaks.",
        meets="The draft fan is listed, stops the gas when it fails, and its pipe is tight.",
        remedy="Shut the appliance off until the interlock is proven and the pipe is sealed.",
        not_asked="No fan in the vent.",
    ),
    Rule(
        "type_bw_installation",
        "A vent for a wall furnace sits in its stud space as listed",
        HAZARD,
        PATH,
        applies=any_in("vent_material", "type_bw"),
        needs=(yes("bw_top_or_single_story") | yes("bw_vent_listed_multistory"))
        & yes("bw_header_plate_attached")
        & yes("bw_first_ceiling_spacers_open")
        & yes("bw_firestops_above"),
        fails="The Type B-W vent does not sit in its stud space as listed.",
        meets="The Type B-W vent sits in its stud space as listed.",
        remedy="Correct it to the listing and figure of the vent.",
        not_asked="No Type B-W vent.",
    ),
    Rule(
        "unlisted_furnace_boiler_clearance",
        "An unlisted furnace or boiler keeps its distance",
        HAZARD,
        PATH,
        applies=one_of("appliance_kind", "furnace", "boiler") & no("appliance_listed"),
        needs=at_least(fact("clearance_top"), _cell("top"), "top")
        & at_least(fact("clearance_sides"), _cell("sides_rear"), "side")
        & at_least(fact("clearance_back"), _cell("sides_rear"), "back")
        & at_least(fact("clearance_front"), _cell("front"), "front")
        & (
            gone("draft_hood_distance")
            | at_least(fact("draft_hood_distance"), _cell("hood"), "draft hood")
        )
        & (
            gone("single_wall_connector_distance")
            | at_least(
                fact("single_wall_connector_distance"), _cell("connector"), "single-wall connector"
            )
        ),
        fails="The unlisted appliance keeps {measured}; {limit} needed: {gap} too near.",
        meets="The unlisted appliance keeps its distance: {measured}, {limit} needed.",
        remedy="Replace it with a listed one, or give it the room.",
        not_asked="Not an unlisted furnace or boiler.",
    ),
    Rule(
        "connector_shortest_route",
        "The connector takes the shortest practical way",
        NOTE,
        PATH,
        applies=yes("connector_present"),
        needs=no("connector_shorter_way"),
        fails="A clearly shorter or straighter way of the connector was practical.",
        meets="Whoever looked saw no shorter or straighter way that was practical.",
        remedy="Move the appliance nearer to its vent when it is replaced.",
        not_asked="There is no connector.",
    ),
    Rule(
        "table_interpolation",
        "A vent sized by the tables reaches their lowest row",
        NOTE,
        PATH,
        applies=one_of("sizing_method", "tables"),
        needs=at_least(fact("vent_height"), length("table.height_min"), "height"),
        fails="The vent is {measured} high; the tables begin at {limit}, and nothing below is read "
        "from them.",
        meets="The vent is {measured} high; the tables begin at {limit}.",
        remedy="Have the size worked out by an engineered method, or make the vent taller.",
        not_asked="Not sized by the tables.",
    ),
)

OUTLET = (
    Rule(
        "mechanical_draft_terminal_openings",
        "An outlet that a fan drives keeps away from doors, windows and inlets",
        HAZARD,
        OPENING,
        applies=there("opening_near_outlet") & FAN_DRIVEN & NOT_DIRECT,
        needs=at_least(
            fact("opening_above_terminal"), length("terminal.below_opening_min"), "below it"
        )
        | at_least(fact("opening_horizontal"), length("terminal.beside_opening_min"), "beside it")
        | at_least(
            fact("opening_below_terminal"), length("terminal.above_opening_min"), "above it"
        ),
        fails="The outlet is neither far enough below {name}, nor beside it, nor above it.",
        meets="The outlet is far enough below, beside or above {name}.",
        remedy="Move the outlet.",
        not_asked="No opening near the outlet, or no fan drives it.",
    ),
    Rule(
        "mechanical_draft_terminal_grade",
        "A wall outlet that a fan drives is above ground and snow",
        DEFECT,
        PATH,
        applies=AT_WALL & FAN_DRIVEN & NOT_DIRECT,
        needs=at_least(
            fact("terminal_above_grade"), length("terminal.above_grade_min"), "height", "in"
        ),
        fails="The outlet is {measured} above the ground; {limit} needed: {gap} too low.",
        meets="The outlet is {measured} above the ground; {limit} needed.",
        remedy="Raise the outlet.",
        not_asked="No wall outlet that a fan drives.",
    ),
    Rule(
        "mechanical_draft_terminal_walkway",
        "An outlet that a fan drives is above the heads of a public walk",
        DEFECT,
        PATH,
        applies=yes("terminal_over_public_walkway") & FAN_DRIVEN,
        needs=at_least(
            fact("terminal_above_grade"), length("terminal.above_walk_min"), "height over the walk"
        ),
        fails="The outlet is {measured} above the public walk; {limit} needed: {gap} too low.",
        meets="The outlet is {measured} above the public walk; {limit} needed.",
        remedy="Raise or move the outlet.",
        not_asked="No public walk beside an outlet that a fan drives.",
    ),
    Rule(
        "mechanical_draft_forced_air_inlet",
        "An outlet that a fan drives is above any fan-fed intake near it",
        HAZARD,
        INTAKE,
        applies=there("intakes")
        & one_of("intake_kind", "fan")
        & FAN_DRIVEN
        & NOT_DIRECT
        & at_most(fact("intake_distance"), length("terminal.forced_inlet_within")),
        needs=at_least(
            fact("vent_above_intake"),
            length("terminal.above_forced_inlet_min"),
            "height over the intake",
        ),
        fails="The outlet is {measured} above the fan-fed {name}; {limit} needed: {gap} too low.",
        meets="The outlet is {measured} above the fan-fed {name}; {limit} needed.",
        remedy="Move the outlet or the intake.",
        not_asked="No fan-fed intake near an outlet that a fan drives.",
    ),
    Rule(
        "direct_vent_terminal_openings",
        "The outlet of a direct-vent appliance keeps away from openings",
        HAZARD,
        OPENING,
        applies=there("opening_near_outlet") & DIRECT,
        needs=at_least(
            fact("terminal_to_air_opening"),
            StepNum(
                "terminal.direct_vent_by_input",
                fact("appliance_input"),
                Dimension.LENGTH,
                Dimension.POWER,
            ),
            "straight distance",
        ),
        fails="The outlet is {measured} from {name}; {limit} needed at this input: {gap} too near.",
        meets="The outlet is {measured} from {name}; {limit} needed at this input.",
        remedy="Move the outlet.",
        not_asked="No opening near the outlet, or no direct-vent appliance.",
    ),
    Rule(
        "direct_vent_terminal_grade",
        "Outlet and air intake of a direct-vent appliance are above ground and snow",
        DEFECT,
        PATH,
        applies=AT_WALL & DIRECT,
        needs=at_least(
            fact("terminal_above_grade"), length("terminal.direct_above_grade_min"), "outlet", "in"
        )
        & (
            gone("air_intake_above_grade")
            | at_least(
                fact("air_intake_above_grade"),
                length("terminal.direct_above_grade_min"),
                "air intake",
                "in",
            )
        ),
        fails="Outlet or air intake is {measured} above the ground; {limit} needed: {gap} too low.",
        meets="Outlet and air intake are above the ground: {measured}, {limit} needed.",
        remedy="Raise it.",
        not_asked="No direct-vent outlet in a wall.",
    ),
    Rule(
        "condensing_terminal_nuisance",
        "Wet gas harms neither walk nor equipment",
        DEFECT,
        PATH,
        applies=AT_WALL
        & (one_of("appliance_category", "II", "IV") | yes("condensation_problem_local")),
        needs=no("condensate_nuisance"),
        fails="The moisture of the outlet harms a public walk, a regulator, a relief valve or "
        "other equipment.",
        meets="No walk and no equipment stands in the moisture of the outlet.",
        remedy="Move the outlet.",
        not_asked="No outlet in a wall from which wet gas comes.",
    ),
)
RULES = SYSTEM + OUTLET
