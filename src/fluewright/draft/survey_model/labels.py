"""Plain words for the numbers of a model."""

from __future__ import annotations

LABELS = {
    "hood.entrance_loss": "loss where the gas leaves the draft hood",
    "hood.relief_to_outlet_area": "relief opening of the draft hood over its outlet",
    "hood.plume": "height over which gas in the draft hood lifts",
    "flue.co2_dry": "carbon dioxide of the flue gas before the draft hood",
    "flue.fan_co2_dry": "carbon dioxide of the flue gas",
    "flue.efficiency": "efficiency of the appliance",
    "flue.rate_to_plate": "heat rate over that of the data plate",
    "elbow.loss_90": "loss of a 90 degree elbow",
    "elbow.loss_45": "loss of a 45 degree elbow",
    "fitting.tee": "loss of a turn in a tee or into a flue",
    "fitting.wye": "loss of a turn in a wye",
    "fitting.through": "loss straight through a tee or wye",
    "fitting.contraction": "loss where the pipe narrows",
    "cap.open": "loss of an open end",
    "cap.listed": "loss of the listed cap",
    "cap.unlisted": "loss of the cap",
    "wall_u.single_galvanized": "heat loss of single-wall steel pipe",
    "wall_u.single_aluminum": "heat loss of single-wall aluminum pipe",
    "wall_u.type_b": "heat loss of Type B vent",
    "wall_u.type_b_half_inch": "heat loss of double-wall pipe",
    "wall_u.factory_chimney": "heat loss of the factory-built chimney",
    "wall_u.clay_tile": "heat loss of the masonry flue",
    "wall_u.clay_pipe": "heat loss of asbestos cement pipe",
    "wall_u.liner_in_masonry": "heat loss of the liner in masonry",
    "roughness.galvanized": "roughness of steel pipe",
    "roughness.aluminum": "roughness of aluminum pipe",
    "roughness.flexible_liner": "roughness of flexible pipe",
    "roughness.clay_tile": "roughness of clay tile",
    "roughness.brick": "roughness of brick",
    "wall_heat.type_b_aluminum": "heat stored by the inner wall of the vent",
    "wall_heat.single_galvanized": "heat stored by single-wall steel pipe",
    "wall_heat.single_aluminum": "heat stored by single-wall aluminum pipe",
    "wall_heat.flexible_liner": "heat stored by flexible pipe",
    "wall_heat.clay_tile": "heat stored by clay tile",
    "film.inside": "heat passing from gas to wall",
    "room.temperature": "temperature of the heated rooms",
    "room.humidity": "relative humidity of the room air",
    "attic.room_share": "attic air between outdoors (0) and room (1)",
    "garage.room_share": "garage air between outdoors (0) and room (1)",
    "basement.room_share": "unheated rooms between outdoors (0) and room (1)",
    "crawl.room_share": "crawl space air between outdoors (0) and room (1)",
    "chase.room_share": "air of the chase between outdoors (0) and room (1)",
    "masonry.exposed_share": "share of the chimney's sides that the weather reaches",
    "masonry.inside_share": "surroundings of the inside chimney between outdoors (0) and room (1)",
    "shape.masonry": "hydraulic diameter over the root of the flue's area",
}


def tool_words(tool: str) -> str:
    """What a group of readings is called: "readings with the steel tape" by its tool's id."""
    if tool == "estimated":
        return "elbows whose legs nobody measured"
    if tool == "by eye":
        return "slopes of what runs level by eye"
    if tool == "stated":
        return "readings"
    if tool.startswith("unstated_"):
        return f"readings of {tool.removeprefix('unstated_').replace('_', ' ')}, tool not stated"
    return f"readings by {tool.replace('_', ' ')}"
