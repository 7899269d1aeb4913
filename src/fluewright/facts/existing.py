"""Facts of what was tested and examined at an existing installation."""

from __future__ import annotations

from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, seen, table
from fluewright.joining import former_members
from fluewright.quantity import Dimension, Measured

AIR_OXYGEN_PPM = 209_000.0  # oxygen of dry outdoor air, by volume
MOST_OXYGEN_PPM = 160_000.0  # above it the divisor is too small for a figure (practice)


def _co_air_free(view: View) -> FactValue:
    """Carbon monoxide without excess air: CO x 20.9 / (20.9 - O2), both in percent of dry gas.

    The analyzer's own figure goes before one worked out here.
    """
    checks = view.appliance.checks
    if checks is None:
        return Unknown(NOT_RECORDED)
    if checks.flue_co_air_free is not None:
        return seen(checks.flue_co_air_free)
    co, oxygen = checks.flue_co, checks.flue_oxygen
    if not isinstance(co, Measured):
        return seen(co)
    if not isinstance(oxygen, Measured):
        return Unknown("the oxygen in the flue gas was not read with the carbon monoxide")
    if oxygen.high > MOST_OXYGEN_PPM:
        return Unknown("so much oxygen that the sample is mostly air: take it below the hood")
    low, high = (
        part * AIR_OXYGEN_PPM / (AIR_OXYGEN_PPM - share)
        for part, share in ((max(0.0, co.low), max(0.0, oxygen.low)), (co.high, oxygen.high))
    )
    evidence = co.evidence + oxygen.evidence
    return Measured.between(low, high, Dimension.CONCENTRATION, co.tool, evidence)


def _others_in_room(view: View) -> FactValue:
    """Another gas appliance in the same space; one that the survey lists is there."""
    space = view.appliance.space
    others = (
        other
        for name, other in view.survey.appliances.items()
        if name != view.path.from_ and other.taken_out is not True
    )
    if space is not None and any(other.space == space for other in others):
        return True
    checks = view.appliance.checks
    return Unknown(NOT_RECORDED) if checks is None else seen(checks.other_gas_in_room)


def _changed(view: View) -> FactValue:
    """What was changed; an appliance that was taken out is a removal where the job says nothing."""
    told = view.survey.job.changed
    if isinstance(told, str):
        return told
    if any(one.taken_out is True for one in view.survey.appliances.values()):
        return "one_removed"
    return seen(told)


def _left_behind(view: View) -> FactValue:
    """Whether another appliance was taken off the common vent that this one burns into."""
    joins = view.path.joins
    return bool(joins and former_members(view.survey, joins))


C = "appliance.checks."
# fmt: off
FACTS = table(
    ("ambient_co", "carbon monoxide in the air of the house", "meter zeroed outdoors, carried in and watched all through", "survey.on_entry.co"),
    ("combustible_gas_lel", "combustible gas in the air of the house", "detector zeroed outdoors, carried in and watched all through", "survey.on_entry.gas"),
    ("gas_leak_found", "whether gas leaks at the appliance or its piping", "detector, then leak solution at every joint, before anything else", C + "gas_leak"),
    ("patched_with_tape_paint_or_cement", "whether a hole, crack or open joint is hidden under a patch", "look for tape, foil, paint, cement or caulk on connector, vent and chimney", C + "patched"),
    ("appliance_flooded", "whether the appliance or its gas control was under water", "look for a water line, silt or rust at burner and control; ask", C + "under_water"),
    ("flammable_liquids", "whether fuel, solvent or paint is kept near", "look round the appliance and along the floor", C + "flammables_near"),
    ("pilot_safety_close", "time from the pilot going out to gas that no longer flows", "a licensed person puts the pilot out with the main burner off and calls for heat: stopwatch; none without a standing pilot", C + "pilot_gas_off"),
    ("ignition_tested_as_instructed", "whether the ignition system passed the test of its maker", "a licensed person follows the instructions of the ignition system", C + "ignition_as_instructed"),
    ("flame_ok", "whether the main flame is normal", "look, from the side: steady blue, no lifting, no flashback, no roll-out, no yellow tips", C + "flame_normal"),
    ("spillage_after_5min", "whether it spills after five minutes", "house closed, fans and dryer on: smoke round the whole relief opening after five minutes of main burner", C + "spills"),
    ("other_gas_appliances_in_room", "whether another gas appliance is in the room", "look", _others_in_room),
    ("spillage_all_on", "whether it spills with every gas appliance of the room on", "the same again, with all of them at full fire", C + "spills_with_all_on"),
    ("flue_co_air_free", "carbon monoxide in the flue gas, air-free", "analyzer in the undiluted gas below the draft hood, after five minutes; read oxygen with it", _co_air_free),
    ("appliance_replaced_or_removed", "what was changed here", "ask; permits, date codes, blanked openings", _changed),
    ("other_taken_off_vent", "whether another appliance was taken off the same vent", "look for a blanked opening; ask", _left_behind),
    ("post_removal_test_done", "whether what remains was tested for spillage after one was removed", "ask for the record, or do the test", C + "tested_after_removal"),
    ("replacement_recheck_done", "whether air, clearances, vent size and the other appliances were checked again", "ask for the record", C + "rechecked"),
    ("gas_pipe_capacity_checked", "whether the gas piping was checked for the new input", "ask for the calculation, or the inlet pressure with everything firing", C + "gas_pipe_checked"),
    ("inspection_record_complete", "whether every step of the inspection has a result on record", "go through the list of steps: fluewright steps", C + "all_steps_recorded"),
    ("permit_and_inspection_record", "whether permit and inspection are on record", "ask the owner and the authority", "survey.job.permit_on_record"),
    ("job_doing", "what is being done", "ask: inspection, replacement, new or repair", "survey.job.doing"),
)
# fmt: on
