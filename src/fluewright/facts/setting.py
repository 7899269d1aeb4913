"""Facts of the place of the appliance and what surrounds it."""

from __future__ import annotations

from fluewright.facts.base import NOT_RECORDED, FactValue, Getter, Unknown, View, seen, table

S = "appliance.setting."
PLACE = "survey.site."


def _room(view: View) -> FactValue:
    """Kind of the space that the appliance stands in."""
    space = view.survey.spaces.get(view.appliance.space or "")
    return Unknown("the space of the appliance is not recorded") if space is None else space.kind


def _garage(view: View) -> FactValue:
    """In a garage, or in a space that opens into one."""
    space = view.survey.spaces.get(view.appliance.space or "")
    if space is not None and space.kind in ("garage", "outdoors"):
        return space.kind == "garage"
    setting = view.appliance.setting
    garage = setting.garage if setting else None
    return Unknown(NOT_RECORDED) if garage is None else seen(garage.opens_into)


def _on_roof(view: View) -> FactValue:
    """Only what stands outdoors can stand on a roof."""
    setting = view.appliance.setting
    if setting is not None and setting.on_roof is not None:
        return seen(setting.on_roof)
    space = view.survey.spaces.get(view.appliance.space or "")
    if space is not None and space.kind not in ("outdoors", "porch"):
        return False
    return Unknown(NOT_RECORDED)


def _of_space(key: str) -> Getter:
    """A getter of a measure of the space that the appliance stands in."""

    def get(view: View) -> FactValue:
        space = view.survey.spaces.get(view.appliance.space or "")
        return Unknown(NOT_RECORDED) if space is None else seen(getattr(space, key))

    return get


# fmt: off
FACTS = table(
    ("appliance_room", "kind of space the appliance stands in", "look", _room),
    ("closet_off_bedroom_or_bath", "whether the closet opens into a bedroom or bathroom", "open its door and look", S + "closet.off_bedroom_or_bathroom"),
    ("closet_door_gasketed_selfclosing", "closet door with gasket, self-closing, sill and bottom seal", "open it and let go; look at seal, sill and latch", S + "closet.sealed_door"),
    ("closet_exclusive_use", "whether the closet holds the heater alone", "look", S + "closet.alone"),
    ("garage_or_opens_to_garage", "whether it stands in a garage or in a space that opens into one", "look", _garage),
    ("ignition_height", "height of burner and igniter above the floor", "tape, floor to the lowest of burner, pilot and igniter", S + "garage.ignition_height"),
    ("fvir_listed", "whether it is listed to resist flammable vapor", "read the data plate", S + "resists_vapor"),
    ("impact_protection", "guard against cars", "look for a post, wall, platform, or a place that no car reaches", S + "garage.guarded"),
    ("compartment_access_from_outside_only", "whether it has a compartment entered only from outside the garage", "look", S + "garage.entered_from_outside_only"),
    ("compartment_air_from_outside", "whether the compartment gets its air from outside the garage", "trace the openings", S + "garage.air_from_outside"),
    ("garage_separation_penetrated_by_vent", "whether the vent passes between garage and house or attic", "trace the vent", S + "garage.vent_through_separation"),
    ("garage_penetration_sealed", "closing of the gap round the vent at the garage wall or ceiling", "look: metal or another approved material, clearance kept, no foam", S + "garage.separation_sealed"),
    ("attic_opening_short", "short side of the way into attic or crawl space", "tape, clear", S + "access.opening_short"),
    ("attic_opening_long", "long side of the way into attic or crawl space", "tape, clear", S + "access.opening_long"),
    ("largest_component_short", "short side of the largest part to be carried through", "instructions, or tape", S + "access.largest_short"),
    ("largest_component_long", "long side of the largest part to be carried through", "instructions, or tape", S + "access.largest_long"),
    ("attic_passage_height", "lowest height of the passage to the appliance", "tape", S + "access.passage_height"),
    ("attic_passage_length", "length of the passage from the way in to the appliance", "tape along its center line", S + "access.passage_length"),
    ("attic_floor_width", "narrowest width of the solid floor of the passage", "tape; none where there is no floor", S + "access.floor_width"),
    ("service_platform_short", "short side of the level platform at the service side", "tape; none where there is none", S + "access.platform_short"),
    ("service_platform_long", "long side of the level platform at the service side", "tape; none where there is none", S + "access.platform_long"),
    ("platform_exempt_at_opening", "whether it is served from the way in, within a step of it", "look: service side at the opening, everything in reach", S + "access.served_from_opening"),
    ("attic_light_and_outlet", "light with its switch at the way in, and an outlet", "look and try", S + "access.light_and_outlet"),
    ("service_accessible", "whether every part can be reached without tearing anything out", "look: inspect, serve and replace", S + "access.reachable"),
    ("service_space_depth", "depth of the clear space at the service side", "tape", S + "access.depth"),
    ("service_space_width", "width of the clear space at the service side", "tape", S + "access.width"),
    ("service_space_height", "height of the clear space at the service side", "tape", S + "access.height"),
    ("underfloor_furnace_grade_gap", "gap between a furnace hung under the floor and the ground", "tape; none where it does not hang", S + "hung_above_ground"),
    ("appliance_supported_and_anchored", "whether it is fastened and supported", "look, push gently with the gas off; instructions", S + "anchored"),
    ("appliance_on_roof", "whether it stands on a roof", "look", _on_roof),
    ("roof_edge_distance", "distance from the appliance to the nearest roof edge", "a roofer or a photo with a scale; never lean over", S + "roof_edge"),
    ("roof_guard_height", "height of the guard at that edge", "tape; none where there is none", S + "guard_height"),
    ("outdoor_listed_or_protected", "whether it is listed for outdoors or protected", "read the data plate; look at its housing", S + "fit_for_outdoors"),
    ("furnace_listed_for_closet", "whether it is listed for a closet or alcove", "read the data plate", S + "listed_for_closet"),
    ("appliance_space_volume", "volume of the space the appliance stands in", "length times width times height", _of_space("volume")),
    ("appliance_space_ceiling", "height of the ceiling there", "tape, floor to ceiling", _of_space("ceiling")),
    ("furnace_volume", "outside volume of furnace or boiler", "width times depth times height", S + "volume"),
    ("appliance_listed_for_manufactured_home", "whether it is listed for manufactured homes", "read the data plate", S + "listed_for_manufactured_home"),
    ("manual_on_site", "whether its instructions are there", "look beside it", S + "manual_on_site"),
    ("extra_device_found", "whether a device was added to burner, hood or vent", "look", S + "extra_device"),
    ("structure_cut_unrepaired", "framing cut for the vent and not made good", "look at joists, rafters and studs round it; none where none is cut", S + "cut_framing_unrepaired"),
    ("opening_round_vent_closed_metal", "metal collars at the holes round the vent", "look at each wall, floor and ceiling", S + "holes_closed"),
    ("gas_shutoff_distance", "distance from the appliance to its gas shutoff", "tape along the pipe; none where there is no valve", S + "gas.shutoff_distance"),
    ("gas_shutoff_accessible", "whether its gas shutoff can be reached", "reach it", S + "gas.shutoff_reachable"),
    ("sediment_trap_present", "sediment trap", "look between shutoff and gas control for a tee with a capped nipple", S + "gas.sediment_trap"),
    ("flex_connector_through_wall", "whether the flexible gas connector passes a wall, floor, ceiling or housing", "trace it; none where there is none", S + "gas.flexible_through_wall"),
    ("gas_type_plate", "gas that the plate names", "read the data plate", "appliance.fuel"),
    ("gas_type_supplied", "gas that is supplied", "look for a tank or a utility meter; ask the supplier", PLACE + "gas"),
    ("measured_input", "input clocked at the meter", "only this appliance on: time the dial, times the heating value; none where nobody did", S + "gas.rate"),
    ("altitude", "height of the place above the sea", "map", PLACE + "elevation"),
    ("input_adjusted_per_listing", "whether it is set for the altitude as its listing says", "look for the label of the high-altitude kit", S + "gas.set_for_altitude"),
    ("lp_complete_shutoff", "whether its control stops pilot and main gas together", "control data; a licensed person tries it", S + "gas.pilot_stopped_too"),
    ("appliance_in_pit", "whether it stands in a pit", "look", S + "gas.in_pit"),
    ("unburned_gas_removed", "whether an accepted means carries unburned gas away from there", "ask the authority", S + "gas.unburned_gas_removed"),
    ("tp_valve_present", "temperature and pressure relief valve", "look", S + "water.relief_valve"),
    ("tp_valve_rating", "capacity of the relief valve", "read its tag", S + "water.relief_capacity"),
    ("relief_device_as_instructed", "whether it has the relief device that its instructions ask", "compare with the instructions", S + "water.relief_by_instructions"),
    ("tp_discharge_defects", "faults of the pipe of the relief valve", "trace it to its end; none where there is none", S + "water.relief_faults"),
    ("tp_discharge_end", "where the pipe of the relief valve ends", "trace it", S + "water.relief_ends"),
    ("tp_discharge_height", "height of the end of that pipe above the ground", "tape", S + "water.relief_end_height"),
    ("leak_would_damage", "whether a leak would damage the house", "look: attic, framed floor, over a room", S + "water.leak_does_damage"),
    ("pan_present", "pan under the heater", "look", S + "water.pan"),
    ("pan_drain", "inside diameter of the drain of the pan", "read its mark, or caliper", S + "water.pan_drain"),
    ("closed_water_system", "whether the water cannot expand back into the main", "look for a check valve, backflow preventer or regulator without bypass", S + "water.closed_system"),
    ("thermal_expansion_device_present", "expansion tank or another device for it", "look", S + "water.expansion_tank"),
    ("seismic_bracing_required", "whether the place asks for bracing against earthquakes", "ask the authority", PLACE + "bracing_required"),
    ("seismic_strap_count", "straps round the tank", "count", S + "water.straps"),
    ("seismic_strap_upper", "strap in the upper third of the tank", "tape, against the height of the tank", S + "water.strap_in_upper_third"),
    ("seismic_strap_lower", "strap in the lower third of the tank", "tape, against the height of the tank", S + "water.strap_in_lower_third"),
    ("strap_above_controls", "distance of the lower strap above the controls", "tape", S + "water.strap_above_controls"),
    ("flood_hazard_area", "whether the house lies in a flood hazard area", "flood map; ask the authority", PLACE + "flood_area"),
    ("appliance_elevation_ok", "whether it stands at or above the height asked for floods", "elevation certificate; ask the authority", S + "above_flood_level"),
    ("manufactured_home", "whether it is a manufactured home", "ask; look for the red label outside", PLACE + "manufactured_home"),
    ("co_alarm_outside_each_sleeping_area", "carbon monoxide alarm outside each sleeping area", "look and press the button", PLACE + "alarm_outside_bedrooms"),
    ("co_alarm_each_level", "carbon monoxide alarm on each level", "look and press the button, basement too", PLACE + "alarm_on_each_level"),
    ("return_air_in_appliance_space", "whether a blower takes return air from the space of the appliance", "look for grilles, filter slots, open plenums and leaky ducts", S + "return_air.in_this_space"),
    ("return_air_source_space", "kind of space the return air is taken from", "trace", S + "return_air.taken_from"),
    ("return_exempt_kind", "whether only excepted appliances stand there", "look: fireplace, range, direct-vent, enclosed furnace, dryer; or a gravity system", S + "return_air.excepted"),
    ("return_room_volume", "volume of the room the return air is taken from", "length times width times height", S + "return_air.volume"),
    ("return_room_fuel_input", "input of all that burns in that room", "read the data plates and add", S + "return_air.input"),
    ("return_supply_here", "supply air that is blown back into that room", "flow hood", S + "return_air.supply_here"),
    ("return_supply_whole", "supply air of the whole system", "flow hood, all registers", S + "return_air.supply_whole"),
    ("return_inlet_to_firebox_or_hood", "distance from the return inlet to firebox or draft hood in that room", "tape", S + "return_air.inlet_distance"),
    ("return_duct_sealed_and_leaves_room", "return duct sealed to the furnace and ending outside its space", "smoke at the joints with the blower on; trace it", S + "return_air.duct_sealed"),
)
# fmt: on
