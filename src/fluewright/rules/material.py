"""Rules: the kind of vent, and what may never be in the way."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Ask,
    LimitNum,
    When,
    all_in,
    any_in,
    at_least,
    fact,
    length,
    no,
    none_in,
    nowhere,
    one_of,
    there,
    yes,
)
from fluewright.rules.special import PermittedVent

PATH, PIECE = Scope.PATH, Scope.CONNECTOR_PIECE
STOP, HAZARD, DEFECT, NOTE = Grade.STOP, Grade.HAZARD, Grade.DEFECT, Grade.NOTE
SINGLE = (
    "single_wall_galvanized",
    "single_wall_aluminum",
    "single_wall_stainless",
    "single_wall",
)
DOUBLE = ("type_b", "type_l")
LISTED = ("type_b", "type_bw", "type_l", "special", "plastic_listed", "corrugated")
NATURAL = one_of("appliance_category", "draft_hood", "I_fan")
HOODED = yes("draft_hood_present")
# Kinds that no list lets run without a vent, whatever a survey says.
NEVER_UNVENTED = (
    "storage water heater", "instantaneous water heater", "furnace", "boiler", "wall furnace",
)  # fmt: skip
SINGLE_VENT = any_in("vent_material", "single_wall")

RULES = (
    Rule(
        "appliance_connected_to_venting_system",
        "The appliance is joined to an unbroken path to the outdoors",
        STOP,
        PATH,
        applies=no("appliance_unvented_permitted") | one_of("appliance_kind", *NEVER_UNVENTED),
        needs=yes("appliance_connected")
        & nowhere("vent_disconnected")
        & one_of("terminal_position", "above_roof", "at_wall", "under_eave", "under_parapet_level"),
        fails="The burnt gas of {name} does not reach the outdoors by an unbroken path{where}.",
        meets="{name} is joined to an unbroken path to the outdoors.",
        remedy="Shut the appliance off until the path to the outdoors is whole.",
        not_asked="{name} may run without a vent.",
    ),
    Rule(
        "vent_type_permitted_for_appliance",
        "The kind of vent is one allowed for this kind of appliance",
        HAZARD,
        PATH,
        needs=PermittedVent("vent.permitted_kinds"),
        fails="The vent of {name} holds a kind of pipe that its kind of appliance may not use.",
        meets="Every section of the vent is of a kind allowed for {name}.",
        remedy="Replace the section with a vent listed for this appliance.",
    ),
    Rule(
        "listed_vent_per_listing_and_instructions",
        "A listed vent carries its mark and is put together as its instructions say",
        DEFECT,
        PATH,
        applies=any_in("vent_material", *LISTED),
        needs=yes("vent_listing_mark") & yes("vent_instructions_followed"),
        fails="The vent has no listing mark, or departs from its own instructions.",
        meets="The vent carries its mark and follows its instructions.",
        remedy="Rebuild that part to the instructions of the vent.",
        not_asked="No section is of a listed kind.",
    ),
    Rule(
        "type_b_parts_same_system",
        "Type B sections, fittings and cap belong to one listed system",
        DEFECT,
        PATH,
        applies=any_in("vent_material", "type_b"),
        needs=no("vent_brands_mixed") | yes("listed_adapter_between_makes"),
        fails="Sections of different Type B systems are joined without a listed adapter.",
        meets="The Type B parts belong to one system, or a listed adapter joins them.",
        remedy="Use one system throughout, or a listed adapter between the two.",
        not_asked="No Type B vent.",
    ),
    Rule(
        "single_wall_pipe_not_a_vent_in_dwelling",
        "Single-wall pipe is no part of the vent of a dwelling",
        HAZARD,
        PATH,
        applies=one_of("occupancy", "dwelling", "residential"),
        needs=none_in("vent_material", "single_wall"),
        fails="Single-wall pipe serves as vent in a dwelling.",
        meets="No section of the vent is single-wall pipe.",
        remedy="Replace the single-wall sections of the vent with Type B.",
        not_asked="Not a dwelling or residential building.",
    ),
    Rule(
        "single_wall_pipe_direct_run_only",
        "Single-wall pipe used as a vent runs straight from the room to outdoors",
        HAZARD,
        PATH,
        applies=SINGLE_VENT,
        needs=all_in("vent_path_spaces", "room", "conditioned", "unconditioned", "outdoors")
        & (none_in("vent_passes", "roof") | yes("vent_through_flashing")),
        fails="Single-wall vent pipe leaves the room of the appliance other than straight out.",
        meets="The single-wall vent runs straight from the room to outdoors.",
        remedy="Replace it with Type B.",
        not_asked="No single-wall pipe serves as vent.",
    ),
    Rule(
        "single_wall_pipe_not_in_attic_or_concealed_space",
        "No single-wall pipe in an attic, a hidden space, or through a floor or inside wall",
        HAZARD,
        PATH,
        applies=SINGLE_VENT | any_in("connector_materials", *SINGLE),
        needs=When(
            SINGLE_VENT,
            none_in("vent_path_spaces", "attic", "concealed", "chase")
            & none_in("vent_passes", "floor", "interior_wall"),
        )
        & When(
            any_in("connector_materials", *SINGLE),
            none_in("connector_path_spaces", "attic", "crawl", "concealed", "chase")
            & none_in("connector_passes", "floor", "interior_wall"),
        ),
        fails="Single-wall pipe lies in or passes a space where it may not be.",
        meets="No single-wall pipe lies in an attic or a hidden space.",
        remedy="Replace the hidden part with Type B.",
        not_asked="No single-wall pipe.",
    ),
    Rule(
        "single_wall_pipe_cold_climate",
        "Bare single-wall pipe is not outdoors where winters freeze",
        HAZARD,
        PATH,
        applies=SINGLE_VENT & any_in("vent_path_spaces", "outdoors") & no("vent_outdoor_insulated"),
        needs=at_least(
            fact("design_temp_99"),
            LimitNum("vent.single_wall_outdoor_design_temperature_min", Dimension.TEMPERATURE),
            "winter design temperature",
        ),
        fails="Bare single-wall pipe is outdoors where the winter design temperature is "
        "{measured}; {limit} is the coldest allowed.",
        meets="The winter design temperature is {measured}, not below {limit}.",
        remedy="Replace it with Type B.",
        not_asked="No bare single-wall vent pipe is outdoors.",
    ),
    Rule(
        "single_wall_vent_sheet_thickness",
        "Single-wall vent pipe is thick enough",
        DEFECT,
        Scope.VENT_PIECE,
        applies=one_of("vent_piece_material", "single_wall"),
        needs=(
            one_of("piece_metal", "galvanized")
            & at_least(
                fact("piece_thickness"), length("vent.single_wall_sheet_min"), "sheet thickness"
            )
        )
        | yes("pipe_other_material_approved"),
        fails="Vent pipe {name} is {measured} thick, {limit} needed.",
        meets="Vent pipe {name} is thick enough or approved.",
        remedy="Replace it; in a dwelling with Type B.",
        not_asked="{name} is not single-wall pipe.",
    ),
    Rule(
        "type_l_and_bw_use",
        "Type B-W only on a wall furnace, and high enough above it",
        DEFECT,
        PATH,
        applies=any_in("vent_material", "type_bw"),
        needs=one_of("appliance_kind", "wall furnace")
        & Ask("height above the furnace bottom", "measure from the bottom of the wall furnace"),
        fails="Type B-W vent serves an appliance that is not a wall furnace.",
        meets="The Type B-W vent serves a wall furnace.",
        remedy="Replace it with the vent kind that the appliance needs.",
        not_asked="No Type B-W vent.",
    ),
    Rule(
        "plastic_vent_only_where_appliance_listed",
        "Plastic pipe only where the appliance is listed for it",
        STOP,
        PATH,
        applies=any_in("vent_material", "plastic_listed", "plastic_unlisted")
        | any_in("connector_materials", "plastic_listed", "plastic_unlisted"),
        needs=one_of("appliance_category", "III", "IV", "direct_vent")
        & yes("plastic_named_in_appliance_instructions"),
        fails="Plastic pipe carries the hot gas of an appliance that is not listed for it.",
        meets="The appliance instructions name this plastic pipe.",
        remedy="Shut it off and replace the plastic with the vent kind the appliance needs.",
        not_asked="No plastic pipe in the path.",
    ),
    Rule(
        "special_gas_vent_per_listing",
        "A special gas vent is listed and put together as its instructions say",
        DEFECT,
        PATH,
        applies=any_in("vent_material", "special", "plastic_listed"),
        needs=yes("vent_listing_mark") & yes("vent_instructions_followed"),
        fails="The special gas vent has no mark, or departs from its instructions.",
        meets="The special gas vent is marked and follows its instructions.",
        remedy="Rebuild it to its instructions.",
        not_asked="No special gas vent.",
    ),
    Rule(
        "asbestos_cement_vent_legacy",
        "An old cement vent is assessed, whole and open",
        HAZARD,
        PATH,
        applies=any_in("vent_material", "asbestos_cement"),
        needs=yes("asbestos_assessed")
        & nowhere("vent_disconnected")
        & nowhere("vent_blocked_or_crushed"),
        fails="An old cement vent is not assessed, or is broken or blocked.",
        meets="The old cement vent is assessed, whole and open.",
        remedy="Do not cut or drill it. Have it assessed; plan Type B in its place.",
        not_asked="No asbestos-cement vent.",
    ),
    Rule(
        "gas_vent_marking_where_solid_fuel_common",
        "The vent is labeled gas only where other fuels are common",
        NOTE,
        PATH,
        applies=yes("solid_fuel_locality"),
        needs=yes("gas_vent_label_present"),
        fails="The vent has no label saying gas appliances only.",
        meets="The vent is labeled for gas appliances only.",
        remedy="Put a lasting label where the connector enters.",
        not_asked="Solid and liquid fuels are not common there.",
    ),
    Rule(
        "discharge_not_into_screened_space",
        "The vent does not blow into a space closed by fine screen",
        DEFECT,
        PATH,
        applies=there("screened_space"),
        needs=at_least(fact("screen_mesh"), length("terminal.screen_mesh_min"), "screen mesh"),
        fails="The outlet blows into a screened space: mesh {measured}, {limit} needed.",
        meets="The screen round the outlet is wide enough: {measured}.",
        remedy="Take the screen away or carry the outlet outside it.",
        not_asked="No screen round the outlet.",
    ),
    Rule(
        "vent_not_through_air_duct_or_plenum",
        "The vent does not enter or cross an air duct or plenum",
        HAZARD,
        PATH,
        needs=no("vent_in_air_duct"),
        fails="The vent enters or crosses an air duct or plenum.",
        meets="The vent keeps out of air ducts and plenums.",
        remedy="Re-route the vent outside the duct.",
    ),
    Rule(
        "natural_draft_not_into_positive_pressure",
        "A natural-draft connector does not join a vent under pressure",
        STOP,
        PATH,
        applies=NATURAL,
        needs=no("positive_pressure_vent"),
        fails="A natural-draft appliance is joined to a vent under pressure.",
        meets="The vent of {name} is not under pressure.",
        remedy="Shut it off; give each appliance its own vent.",
        not_asked="{name} is no Category I appliance.",
    ),
    Rule(
        "no_dryer_or_fan_exhaust_into_vent",
        "No dryer or fan blows into the vent",
        STOP,
        PATH,
        needs=no("dryer_or_fan_exhaust_into_vent"),
        fails="A dryer or fan blows into the vent.",
        meets="No dryer or fan is joined to the vent.",
        remedy="Shut the appliance off and take the exhaust out of the vent.",
    ),
    Rule(
        "gas_regulator_vent_not_into_flue",
        "No gas regulator vent or bleed line ends in the flue",
        STOP,
        PATH,
        needs=no("regulator_or_bleed_vent_into_flue"),
        fails="A gas regulator vent or bleed line ends in the flue.",
        meets="No regulator vent or bleed line ends in the flue.",
        remedy="Shut the gas off and have the line carried outdoors.",
    ),
)
