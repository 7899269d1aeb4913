"""Rules: where the vent ends: height over the roof, walls, cap, intakes, openings."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.connector import NATURAL_FLOW
from fluewright.rules.logic import (
    StepNum,
    When,
    any_in,
    at_least,
    at_most,
    fact,
    gone,
    length,
    one_of,
    there,
    yes,
)
from fluewright.rules.material import NATURAL, SINGLE_VENT
from fluewright.rules.special import BoreArea

PATH, INTAKE = Scope.PATH, Scope.INTAKE
STOP, HAZARD, DEFECT, NOTE = Grade.STOP, Grade.HAZARD, Grade.DEFECT, Grade.NOTE
ROOFED = any_in("vent_material", "type_b", "type_bw", "type_l") & one_of(
    "terminal_position", "above_roof"
)
SMALL = at_most(fact("vent_max_diameter"), length("cap.pitch_table_size_max"))
CLEAR_OF_WALL = gone("wall_distance") | at_least(
    fact("wall_distance"), length("cap.wall_distance_min"), "distance to the wall"
)
ROOF_ASKS = StepNum("roof.pitch_height", fact("roof_pitch"), Dimension.LENGTH, Dimension.SLOPE)

RULES = (
    Rule(
        "gas_vent_height_by_roof_pitch",
        "The cap stands as high over the roof as the pitch asks",
        HAZARD,
        PATH,
        applies=ROOFED & SMALL & CLEAR_OF_WALL,
        needs=yes("cap_listed")
        & at_least(fact("vent_above_roof"), ROOF_ASKS, "height over the roof", "in"),
        fails="The cap opening stands {measured} over the roof; {limit} needed at this pitch: "
        "{gap} too low.",
        meets="The cap opening stands {measured} over the roof; {limit} needed at this pitch.",
        remedy="Raise the vent; brace it where it gets tall.",
        not_asked="The cap is near a wall, or this is no listed gas vent over a roof.",
    ),
    Rule(
        "gas_vent_near_wall_or_large",
        "A cap near a wall stands clear of roof and building",
        HAZARD,
        PATH,
        applies=ROOFED & ~(SMALL & CLEAR_OF_WALL),
        needs=at_least(
            fact("vent_above_roof"), length("cap.near_wall_above_roof_min"), "height over the roof"
        )
        & at_least(
            fact("above_building_within_10ft"),
            length("cap.near_wall_above_building_min"),
            "height over the building within 10 ft",
        ),
        fails="Near a wall the cap opening must stand {limit} above the roof and above every part "
        "of a building within 10 ft: it is {gap} too low.",
        meets="Near a wall the cap clears roof and building: {measured}, {limit} needed.",
        remedy="Raise the vent, or move it away from the wall with two 45 degree elbows.",
        not_asked="No wall near, and the vent is not large.",
    ),
    Rule(
        "single_wall_vent_termination",
        "Single-wall pipe ends clear of roof and building",
        HAZARD,
        PATH,
        applies=SINGLE_VENT,
        needs=at_least(
            fact("vent_above_roof"),
            length("cap.single_wall_above_roof_min"),
            "height over the roof",
        )
        & at_least(
            fact("above_building_within_10ft"),
            length("cap.single_wall_above_building_min"),
            "height over the building within 10 ft",
        ),
        fails="The single-wall pipe ends {measured} over roof or building; {limit} needed.",
        meets="The single-wall pipe ends clear of roof and building: {measured}.",
        remedy="Replace it with Type B of enough height.",
        not_asked="No single-wall pipe serves as vent.",
    ),
    Rule(
        "vent_cap_listed",
        "The gas vent ends in its listed cap",
        DEFECT,
        PATH,
        applies=any_in("vent_material", "type_b", "type_bw", "type_l", "special")
        & one_of("terminal_position", "above_roof"),
        needs=yes("cap_present") & yes("cap_listed"),
        fails="The vent has no listed cap.",
        meets="The vent ends in a listed cap.",
        remedy="Fit the listed cap of the vent system.",
        not_asked="No factory-made gas vent over a roof.",
    ),
    Rule(
        "single_wall_cap_capacity",
        "The cap on single-wall pipe is approved and wide enough",
        DEFECT,
        PATH,
        applies=SINGLE_VENT,
        needs=yes("cap_present")
        & yes("cap_approved")
        & at_least(fact("cap_free_area"), BoreArea("vent_max_diameter"), "free area", "in2"),
        fails="The cap on the single-wall pipe is not approved, or too narrow.",
        meets="The cap on the single-wall pipe is approved and wide enough.",
        remedy="Replace pipe and cap with Type B.",
        not_asked="No single-wall pipe serves as vent.",
    ),
    Rule(
        "decorative_shroud_listed",
        "A shroud round the cap is listed for this vent",
        HAZARD,
        PATH,
        applies=there("shroud"),
        needs=one_of("shroud", "listed"),
        fails="The shroud round the cap is not listed for this vent.",
        meets="The shroud is listed for this vent.",
        remedy="Take it off.",
        not_asked="No shroud round the cap.",
    ),
    Rule(
        "gas_vent_above_forced_air_inlet",
        "The outlet stands above any fan-fed intake near it",
        HAZARD,
        INTAKE,
        applies=there("intakes")
        & one_of("intake_kind", "fan")
        & any_in("vent_material", "type_b", "type_bw", "type_l")
        & at_most(fact("intake_distance"), length("cap.forced_inlet_within")),
        needs=at_least(
            fact("vent_above_intake"),
            length("cap.above_forced_inlet_min"),
            "height over the intake",
        ),
        fails="The outlet is {measured} above the fan-fed {name}; {limit} needed: {gap} too low.",
        meets="The outlet is {measured} above the fan-fed {name}; {limit} needed.",
        remedy="Raise the vent or move the intake.",
        not_asked="No fan-fed intake near the outlet.",
    ),
    Rule(
        "outdoor_air_intake_away_from_vent",
        "Air intakes keep away from the outlet, or well below it",
        HAZARD,
        INTAKE,
        applies=there("intakes"),
        needs=at_least(fact("intake_distance"), length("cap.intake_distance_min"), "level distance")
        | at_least(
            fact("vent_above_intake"), length("cap.above_intake_min"), "height over the intake"
        ),
        fails="An air intake ({name}) is too near the outlet, and not far enough below it.",
        meets="The air intake ({name}) is far enough from the outlet, or far enough below it.",
        remedy="Move the intake or raise the vent.",
        not_asked="No air intake near the outlet.",
    ),
    Rule(
        "natural_draft_vent_not_at_wall_or_eave",
        "A natural-draft vent does not end at a wall or under eaves",
        STOP,
        PATH,
        applies=NATURAL
        & NATURAL_FLOW
        & (
            any_in("vent_passes", "exterior_wall")
            | any_in("connector_passes", "exterior_wall")
            | one_of("terminal_position", "at_wall", "under_eave", "under_parapet_level")
        ),
        needs=one_of("terminal_position", "above_roof"),
        fails="The vent ends at a wall or under the eaves: wind will push gas back inside.",
        meets="The vent is carried above the roof.",
        remedy="Shut it off until the vent is carried above the roof.",
        not_asked="The vent does not pass an outside wall.",
    ),
    Rule(
        "wall_terminal_adjacent_building",
        "A wall outlet keeps away from openings of the next building",
        HAZARD,
        PATH,
        applies=one_of("terminal_position", "at_wall") & there("neighbor_opening"),
        needs=at_least(
            fact("neighbor_opening_distance"),
            length("terminal.neighbor_opening_min"),
            "distance to the opening",
        )
        | at_most(
            fact("neighbor_opening_above"),
            length("terminal.neighbor_opening_below"),
            "opening above the outlet",
        )
        | at_least(
            fact("neighbor_opening_above"),
            length("terminal.neighbor_opening_above"),
            "opening above the outlet",
        ),
        fails="The outlet is too near an opening of the next building, which is neither far enough "
        "below it nor far enough above.",
        meets="The outlet keeps away from openings of the next building.",
        remedy="Move the outlet.",
        not_asked="No wall outlet near another building.",
    ),
    Rule(
        "wall_penetration_sealed",
        "The gap round the pipe in an outside wall is sealed",
        DEFECT,
        PATH,
        applies=any_in("vent_passes", "exterior_wall")
        | any_in("connector_passes", "exterior_wall"),
        needs=When(any_in("vent_passes", "exterior_wall"), yes("vent_wall_sealed"))
        & When(any_in("connector_passes", "exterior_wall"), yes("connector_wall_sealed")),
        fails="The gap round the pipe in the outside wall is open.",
        meets="The gap round the pipe in the outside wall is sealed.",
        remedy="Seal it with an approved material that keeps the listed clearance.",
        not_asked="No pipe passes an outside wall.",
    ),
    Rule(
        "terminal_free_of_local_obstructions",
        "The cap is clear",
        NOTE,
        PATH,
        applies=~gone("cap_clear"),
        needs=yes("cap_clear"),
        fails="The cap is not clear: nests, crush, rust, plants or new things near it.",
        meets="The cap is clear.",
        remedy="Clear it; replace a crushed or rusted cap.",
        not_asked="The vent has no cap.",
    ),
)
