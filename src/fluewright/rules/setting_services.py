"""Rules: gas pipe, gas and rate, water side, return air and alarms round an appliance."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Ask,
    Not,
    When,
    Word,
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
    yes,
)
from fluewright.rules.setting_numbers import derated, volume_for

PATH, HOUSE = Scope.PATH, Scope.HOUSE
STOP, HAZARD, DEFECT, CRAFT = Grade.STOP, Grade.HAZARD, Grade.DEFECT, Grade.CRAFT

STORAGE = one_of("appliance_kind", "storage water heater")
WATER_HEATER = one_of("appliance_kind", "storage water heater", "instantaneous water heater")
HEATING = one_of(
    "appliance_kind",
    "storage water heater",
    "instantaneous water heater",
    "furnace",
    "boiler",
    "room heater",
    "wall furnace",
)
NO_WATER_HEATER = "{name} is no water heater."
# Twice turned round, so that its numbers stay out of a finding that speaks of the input.
LOW_PLACE = Not(Not(at_most(fact("altitude"), length("gas.altitude_free"), "height", "ft")))
PROPANE = one_of("gas_type_supplied", "propane")

GAS = (
    Rule(
        "gas_shutoff_valve",
        "A gas shutoff is near and within reach",
        DEFECT,
        PATH,
        needs=there("gas_shutoff_distance")
        & at_most(fact("gas_shutoff_distance"), length("gas.shutoff_distance_max"), "valve", "ft")
        & yes("gas_shutoff_accessible"),
        fails="The gas shutoff of {name} is missing, too far away, or out of reach.",
        meets="The gas shutoff of {name} is {measured} away and within reach; {bound} is allowed.",
        remedy="A licensed contractor must fit a shutoff within reach, before any connector.",
    ),
    Rule(
        "sediment_trap",
        "A sediment trap is before the gas control",
        DEFECT,
        PATH,
        applies=HEATING,
        needs=yes("sediment_trap_present"),
        fails="{name} has no sediment trap before its gas control.",
        meets="{name} has a sediment trap before its gas control.",
        remedy="A licensed contractor must fit one between shutoff and control.",
        not_asked="{name} is of a kind that needs none.",
    ),
    Rule(
        "flexible_gas_connector_route",
        "A flexible gas connector stays in the room of its appliance",
        DEFECT,
        PATH,
        applies=there("flex_connector_through_wall"),
        needs=no("flex_connector_through_wall"),
        fails="The flexible gas connector of {name} passes a wall, floor, ceiling or housing.",
        meets="The flexible gas connector of {name} stays in its room.",
        remedy="A licensed contractor must lead rigid pipe through, and connect in the room.",
        not_asked="{name} has no flexible gas connector.",
    ),
    Rule(
        "gas_type_matches_plate",
        "The gas supplied is the one on the plate",
        STOP,
        PATH,
        needs=(one_of("gas_type_plate", "natural gas") & one_of("gas_type_supplied", "natural gas"))
        | (one_of("gas_type_plate", "propane") & one_of("gas_type_supplied", "propane")),
        fails="{name} is supplied with a gas that is not the one on its plate.",
        meets="{name} gets the gas that its plate names.",
        remedy="Shut it off at the gas valve. Only the gas supplier or a licensed contractor with "
        "the maker's conversion kit may change it, mark the plate and test for carbon monoxide.",
    ),
    Rule(
        "automatic_main_gas_shutoff",
        "The main gas stops by itself when the flame is out",
        STOP,
        PATH,
        applies=HEATING,
        needs=yes("gas_safety_shutoff_present"),
        fails="{name} has no device that stops the main gas when the flame is out.",
        meets="{name} has a device that stops the main gas when the flame is out.",
        remedy="Shut the gas off at the valve. A licensed contractor must replace the control.",
        not_asked="{name} is no heating appliance.",
    ),
    Rule(
        "lp_pilot_complete_shutoff",
        "On propane the control stops pilot and main gas together",
        STOP,
        PATH,
        applies=PROPANE,
        needs=yes("lp_complete_shutoff"),
        fails="{name} burns propane, and its control does not stop the gas of the pilot.",
        meets="The control of {name} stops pilot and main gas together.",
        remedy="Shut the gas off at the valve. A licensed contractor must replace the control.",
        not_asked="{name} does not burn propane.",
    ),
    Rule(
        "lp_not_in_pit_or_basement",
        "No propane appliance where its gas would collect",
        HAZARD,
        PATH,
        applies=PROPANE,
        needs=(~one_of("appliance_room", "basement", "crawl") & no("appliance_in_pit"))
        | yes("unburned_gas_removed"),
        fails="{name} burns propane and stands where leaked gas would collect.",
        meets="{name} burns propane and stands where leaked gas does not collect.",
        remedy="Move it, or ask the authority for an accepted means that carries the gas away.",
        not_asked="{name} does not burn propane.",
    ),
    Rule(
        "input_rate_not_overfired",
        "It burns no more gas than the plate says, less at a great height",
        HAZARD,
        PATH,
        applies=there("measured_input"),
        needs=at_most(fact("measured_input"), fact("appliance_input"), "input", "Btu/h")
        & (
            LOW_PLACE
            | yes("input_adjusted_per_listing")
            | at_most(
                fact("measured_input"),
                derated("appliance_input", "altitude", "gas.derate_per_thousand_feet"),
                "input at this height",
                "Btu/h",
            )
        ),
        fails="{name} burns {measured}; {bound} is allowed: {gap} too much.",
        meets="{name} burns no more than it may.",
        remedy="Leave it off until a licensed contractor has set the gas pressure or the orifice.",
        not_asked="The input of {name} was not clocked.",
    ),
)

WATER = (
    Rule(
        "tp_relief_valve",
        "A relief valve that can let out all the heat, with nothing that shuts it",
        STOP,
        PATH,
        applies=WATER_HEATER,
        needs=(
            STORAGE
            & yes("tp_valve_present")
            & at_least(fact("tp_valve_rating"), fact("appliance_input"), "relief valve", "Btu/h")
            & none_in("tp_discharge_defects", "valve_in_line")
        )
        | (
            one_of("appliance_kind", "instantaneous water heater")
            & yes("relief_device_as_instructed")
            & none_in("tp_discharge_defects", "valve_in_line")
        ),
        fails="The relief valve of {name} is missing, too small, or can be shut off.",
        meets="{name} has a relief valve that is large enough and cannot be shut off.",
        remedy="Shut the heater off, and leave it off until a listed valve of sufficient capacity "
        "is fitted with nothing that shuts it.",
        not_asked=NO_WATER_HEATER,
    ),
    Rule(
        "tp_relief_discharge",
        "The pipe of the relief valve is whole and ends where it is seen and hurts nobody",
        DEFECT,
        PATH,
        applies=WATER_HEATER,
        needs=gone("tp_discharge_defects")
        & Not(one_of("tp_discharge_end", "pan", "crawl"))
        & When(
            one_of("tp_discharge_end", "outside"),
            at_least(fact("tp_discharge_height"), length("relief.end_height_min"), "end", "in")
            & at_most(fact("tp_discharge_height"), length("relief.end_height_max"), "end", "in"),
        )
        & When(
            one_of("tp_discharge_end", "other"),
            Ask("whether this end is accepted", "ask the authority"),
        ),
        fails="The pipe of the relief valve of {name} has a fault, or ends in a wrong place.",
        meets="The pipe of the relief valve of {name} is sound and ends rightly.",
        remedy="Lead it anew: full size, falling all the way, to an end near the ground.",
        not_asked=NO_WATER_HEATER,
    ),
    Rule(
        "relief_not_into_pan",
        "The relief valve does not empty into the pan",
        DEFECT,
        PATH,
        applies=WATER_HEATER & yes("pan_present"),
        needs=Not(one_of("tp_discharge_end", "pan")),
        fails="The relief valve of {name} empties into the pan.",
        meets="The relief valve of {name} has an end of its own.",
        remedy="Give the relief valve a pipe of its own to an accepted end.",
        not_asked="{name} has no pan, or is no water heater.",
    ),
    Rule(
        "drain_pan",
        "A pan with a drain where a leak does damage",
        CRAFT,
        PATH,
        applies=WATER_HEATER & yes("leak_would_damage"),
        needs=yes("pan_present")
        & at_least(fact("pan_drain"), length("pan.drain_min"), "drain", "in"),
        fails="The pan of {name} is missing, or its drain is too small.",
        meets="{name} stands in a pan with a drain that is large enough.",
        remedy="Set it in a watertight pan with a drain to an accepted place.",
        not_asked="{name} is no water heater whose leak does damage.",
    ),
    Rule(
        "thermal_expansion_control",
        "A closed water system has room for hot water",
        DEFECT,
        PATH,
        applies=WATER_HEATER & yes("closed_water_system"),
        needs=yes("thermal_expansion_device_present"),
        fails="The water of {name} cannot expand: no tank or other device.",
        meets="The water of {name} can expand into its device.",
        remedy="Fit a listed expansion tank of the right size.",
        not_asked="{name} is no water heater on a closed water system.",
    ),
    Rule(
        "seismic_strapping",
        "Straps in the upper and the lower third hold the tank",
        DEFECT,
        PATH,
        applies=STORAGE & yes("seismic_bracing_required"),
        needs=at_least(fact("seismic_strap_count"), count("bracing.straps_min"), "straps", "count")
        & yes("seismic_strap_upper")
        & yes("seismic_strap_lower")
        & at_least(
            fact("strap_above_controls"), length("bracing.above_controls_min"), "strap", "in"
        ),
        fails="The straps of {name} are too few or in the wrong place.",
        meets="Straps hold {name} in the upper and the lower third.",
        remedy="Strap it to the framing in the upper and the lower third, clear of the controls.",
        not_asked="No bracing of a tank is asked here.",
    ),
)

AIR = (
    Rule(
        "return_air_not_from_appliance_room",
        "The blower takes no air from the room of the appliance",
        HAZARD,
        PATH,
        applies=yes("return_air_in_appliance_space") & no("direct_vent_appliance"),
        needs=Not(
            one_of(
                "return_air_source_space", "closet", "bathroom", "toilet_room", "kitchen", "garage"
            )
        )
        & (
            yes("return_exempt_kind")
            | (
                at_least(
                    fact("return_room_volume"),
                    volume_for("return_room_fuel_input", "return.volume_per_thousand"),
                    "volume",
                    "ft3",
                )
                & at_least(
                    fact("return_supply_here"),
                    fact("return_supply_whole").times(ratio("return.supply_share_min")),
                    "supply air",
                    "cfm",
                )
                & at_least(
                    fact("return_inlet_to_firebox_or_hood"),
                    length("return.inlet_distance_min"),
                    "return inlet",
                    "ft",
                )
            )
        ),
        fails="A blower takes its air from the space of {name} and can pull burnt gas with it.",
        meets="The return air taken near {name} is of a kind that is allowed.",
        remedy="Switch the blower off until the return is sealed or taken from another room; then "
        "test the draft with the blower on.",
        not_asked="No return air is taken from the space of {name}, or it is direct-vent.",
    ),
    Rule(
        "return_duct_sealed_out_of_furnace_space",
        "The return duct is sealed to the furnace and ends outside its space",
        HAZARD,
        PATH,
        applies=one_of("appliance_kind", "furnace"),
        needs=yes("return_duct_sealed_and_leaves_room"),
        fails="The return of {name} leaks or ends in its own space.",
        meets="The return duct of {name} is sealed and ends outside its space.",
        remedy="Seal the duct to the casing, and lead it out of the space of the furnace.",
        not_asked="{name} is no furnace.",
    ),
    Rule(
        "co_alarm_present",
        "Carbon monoxide alarms outside the bedrooms",
        HAZARD,
        HOUSE,
        applies=one_of("occupancy", "dwelling", "residential"),
        needs=yes("co_alarm_outside_each_sleeping_area")
        & When(Word("alarm.each_level", "asked"), yes("co_alarm_each_level")),
        fails="A carbon monoxide alarm is missing outside a sleeping area, or on a level that "
        "needs one.",
        meets="Carbon monoxide alarms are where they have to be.",
        remedy="Fit listed alarms, and press their buttons.",
        not_asked="The building is no dwelling.",
    ),
)

RULES: tuple[Rule, ...] = (*GAS, *WATER, *AIR)
