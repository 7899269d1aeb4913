"""Rules: existing installations: what is examined and tested before use."""

from __future__ import annotations

from dataclasses import replace

from fluewright.facts import Scope, Unknown
from fluewright.finding import CLOSE, Grade, Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Compare,
    Context,
    KeyedNum,
    LimitNum,
    NotAgainst,
    Outcome,
    Truth,
    at_most,
    fact,
    gone,
    no,
    one_of,
    there,
    yes,
)

PATH, HOUSE = Scope.PATH, Scope.HOUSE
STOP, HAZARD, DEFECT, NOTE = Grade.STOP, Grade.HAZARD, Grade.DEFECT, Grade.NOTE


@frozen
class ShownBelow(Compare):
    """An instrument's reading stays below the level at which people act.

    The level is for the number shown: at or above it, it fails as read, since nobody waits for a
    better meter. It meets only where the tolerance keeps it below too.
    """

    def judge(self, ctx: Context) -> Outcome:
        left, right = self.left.value(ctx), self.right.value(ctx)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            return Compare.judge(self, ctx)
        if left.value >= right.value - CLOSE:
            shown = replace(left, tolerance=0.0)
            margin = replace(shown, value=right.value - shown.value)
            return Outcome(Truth.NO, (self._found(ctx, shown, right, margin),))
        found = self._found(ctx, left, right, replace(left, value=right.value - left.value))
        if found.margin.low > CLOSE:
            return Outcome(Truth.YES, (found,))
        asked = ctx.sharpen(self.left.fact_name(), left, found.margin)
        return Outcome(Truth.UNKNOWN, (found,), (asked,))


def _below(name: str, key: str, dimension: Dimension, label: str) -> ShownBelow:
    return ShownBelow(fact(name), Sense.AT_MOST, LimitNum(key, dimension), label)


RULES: tuple[Rule, ...] = (
    Rule(
        "ambient_co_entry_level",
        "The air of the house has little carbon monoxide on entry",
        STOP,
        HOUSE,
        needs=_below(
            "ambient_co", "entry.co_act", Dimension.CONCENTRATION, "carbon monoxide in the air"
        ),
        fails="The meter shows {measured} carbon monoxide in the house; from {limit} on the "
        "appliance stays off and the house is aired.",
        meets="The meter shows {measured} carbon monoxide, below {limit}.",
        remedy="Shut every fuel burner off, open doors and windows, leave, and call from outside. "
        "From 70 ppm on leave first and call the emergency number; do not go back in.",
    ),
    Rule(
        "combustible_gas_entry_level",
        "The air of the house has little combustible gas on entry",
        STOP,
        HOUSE,
        needs=_below(
            "combustible_gas_lel", "entry.gas_act", Dimension.EXPLOSIVE, "combustible gas"
        ),
        fails="The detector shows {measured}; from {limit} on everybody leaves.",
        meets="The detector shows {measured}, below {limit}.",
        remedy="Leave with everybody now, doors open on the way, touch no switch and no phone "
        "inside, and call the gas company or the emergency number from outside.",
    ),
    Rule(
        "gas_leak_check",
        "No gas leaks at the appliance and its piping",
        STOP,
        PATH,
        needs=no("gas_leak_found"),
        fails="Gas leaks at {name} or its piping.",
        meets="No leak was found at {name} and its piping.",
        remedy="Shut the gas off at the valve, touch no switch, open up, leave, and call the gas "
        "company from outside. A licensed contractor repairs and tests it.",
    ),
    Rule(
        "no_concealed_defects_or_patches",
        "No hole, crack or open joint is hidden under a patch",
        HAZARD,
        PATH,
        needs=no("patched_with_tape_paint_or_cement"),
        fails="A hole, crack or open joint of the vent of {name} is patched over.",
        meets="No patch was found on the vent of {name}.",
        remedy="Replace the patched part with a sound listed one, and test again.",
    ),
    Rule(
        "flooded_or_flammable_vapor_check",
        "Not flooded, and no fuel or solvent near",
        HAZARD,
        PATH,
        needs=no("appliance_flooded") & no("flammable_liquids"),
        fails="{name} was under water, or fuel, solvent or paint is kept near it.",
        meets="{name} was not under water, and nothing that gives off flammable vapor is near.",
        remedy="Shut it off. Carry the liquids out of the house; a licensed contractor replaces "
        "every gas control that was under water.",
    ),
    Rule(
        "pilot_safety_shutoff",
        "The flame safeguard stops the main gas",
        STOP,
        PATH,
        needs=(gone("pilot_safety_close") & yes("ignition_tested_as_instructed"))
        | (
            there("pilot_safety_close")
            & at_most(
                fact("pilot_safety_close"),
                LimitNum("pilot.gas_off_max", Dimension.TIME),
                "time to gas off",
            )
        ),
        fails="The gas of {name} is not stopped in time when its flame is out.",
        meets="The flame safeguard of {name} works.",
        remedy="Shut the gas off at the valve, open windows and doors, leave, and call the gas "
        "company or a licensed contractor. The control is replaced, never adjusted.",
    ),
    Rule(
        "burner_flame_normal",
        "The main flame is normal",
        HAZARD,
        PATH,
        needs=yes("flame_ok"),
        fails="The flame of {name} lifts, flashes back, rolls out or is yellow.",
        meets="The flame of {name} is normal.",
        remedy="Shut it off until a licensed contractor has cleaned and set the burner.",
    ),
    Rule(
        "no_spillage_after_5_minutes",
        "No gas spills from the draft hood after five minutes",
        STOP,
        PATH,
        applies=yes("draft_hood_present"),
        needs=no("spillage_after_5min")
        & (no("other_gas_appliances_in_room") | no("spillage_all_on")),
        fails="Burnt gas spills from the draft hood of {name}.",
        meets="The draft hood of {name} draws all round after five minutes, house closed.",
        remedy="Shut it off, open windows and doors, leave, and call the gas company or a licensed "
        "contractor. It stays off until the cause is mended and the test is passed.",
        not_asked="{name} has no draft hood.",
    ),
    Rule(
        "flue_co_water_heater",
        "Carbon monoxide in the flue gas is below the published figure",
        HAZARD,
        PATH,
        applies=there("flue_co_air_free"),
        needs=at_most(
            fact("flue_co_air_free"),
            KeyedNum("flue.co_max", "appliance_kind", "=air_free", Dimension.CONCENTRATION),
            "carbon monoxide, air-free",
        ),
        fails="The flue gas of {name} has {measured} carbon monoxide air-free, {bound} is allowed.",
        meets="The flue gas of {name} has {measured} carbon monoxide air-free, {bound} is allowed.",
        remedy="Shut it off until a licensed contractor has serviced the burner, or replaced it.",
        not_asked="No reading of the flue gas is asked for.",
    ),
    Rule(
        "post_removal_common_vent_test",
        "What remains on a vent is tested after an appliance was taken off it",
        HAZARD,
        PATH,
        applies=one_of("appliance_replaced_or_removed", "one_removed")
        | yes("other_taken_off_vent"),
        needs=yes("post_removal_test_done") & no("spillage_after_5min"),
        fails="{name} was left on a vent that was made for more, and spills or was not tested.",
        meets="{name} was tested after the removal and does not spill.",
        remedy="Seal the unused opening and test each appliance that remains, house closed. One "
        "that spills stays off until the vent is sized anew.",
        not_asked="No appliance was taken off.",
    ),
    Rule(
        "replacement_checks",
        "After a change, air, clearances, vent and the other appliances are checked again",
        HAZARD,
        PATH,
        applies=there("appliance_replaced_or_removed"),
        needs=yes("replacement_recheck_done") & NotAgainst("vent_sized_by_accepted_method"),
        fails="After the change, air, clearances, vent or the other appliances were not all "
        "checked and found in order.",
        meets="After the change everything was checked again.",
        remedy="A licensed contractor checks air, clearances, vent size and every appliance that "
        "stays, and brings up to today's text what is short.",
        not_asked="Nothing was replaced, added or removed.",
    ),
    Rule(
        "gas_piping_capacity_for_added_appliance",
        "The gas piping carries the added or larger appliance",
        DEFECT,
        PATH,
        applies=one_of("appliance_replaced_or_removed", "replaced_other", "added"),
        needs=yes("gas_pipe_capacity_checked"),
        fails="The gas piping was not checked for the new input.",
        meets="The gas piping was checked for the new input.",
        remedy="A licensed contractor sizes the piping, enlarges what is short, and reads the "
        "inlet pressure with everything firing.",
        not_asked="No appliance was added, and none replaced by another kind or size.",
    ),
    Rule(
        "existing_inspection_procedure_followed",
        "Every step of the inspection has its result on record",
        NOTE,
        PATH,
        applies=~one_of("job_doing", "new"),
        needs=yes("inspection_record_complete"),
        fails="Steps of the inspection have no result on record.",
        meets="Every step of the inspection has its result on record.",
        remedy="Do the steps that are open, in their order: `fluewright steps`.",
        not_asked="New work: the steps are for what exists.",
    ),
    Rule(
        "vent_inspection_before_concealment",
        "Permit and inspection are on record before anything is covered",
        NOTE,
        HOUSE,
        applies=one_of("job_doing", "new", "replacement", "repair"),
        needs=yes("permit_and_inspection_record"),
        fails="No permit or inspection is on record.",
        meets="Permit and inspection are on record.",
        remedy="Apply for the permit, and leave the vent open to view until it is inspected.",
        not_asked="An inspection alone: nothing is built or covered.",
    ),
)
