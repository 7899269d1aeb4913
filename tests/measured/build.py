"""Vents, flames and houses that the measured cases share."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fluewright.draft.combustion import flue, idle, rise_for_efficiency
from fluewright.draft.fuel import Fuel
from fluewright.draft.system import Around, Flue, Hood, Lone, Segment
from fluewright.files.physics import coefficients, default_fuels

INCH, FOOT, BTU_H = 0.0254, 0.3048, 0.29307107
CELSIUS = 273.15
CFM = FOOT**3 / 60.0

Given = Mapping[str, float]


def number(given: Given, name: str) -> float:
    """A figure of the case, or else the coefficient of that name at its own value."""
    return given[name] if name in given else coefficients().value(name)


def fuel_named(name: str) -> Fuel:
    return default_fuels()[name]


def lower_over_higher(fuel: Fuel) -> float:
    """Net over gross heating value. [-]"""
    return 1.0 - fuel.latent


def flame(fuel: Fuel, *, input_w: float, co2: float, sensible: float, room_k: float) -> Flue:
    """Flue gas of an input and a sensible loss, both on the higher heating value."""
    rise = rise_for_efficiency(
        fuel, efficiency=1.0 - fuel.latent - sensible, air_k=room_k, co2_dry=co2
    )
    return flue(
        fuel, input_w=input_w, temperature_k=room_k + rise, co2_dry=co2, room_k=room_k
    )  # fmt: skip


def pipe(
    name: str, *, length_m: float, rise_m: float, diameter_m: float, ambient_k: float,
    u_w_m2k: float, entry: float = 0.0, roughness_m: float, wall_j_m2k: float = 730.0,
) -> Segment:  # fmt: skip
    return Segment(
        name=name, length_m=length_m, rise_m=rise_m, diameter_m=diameter_m, ambient_k=ambient_k,
        u_w_m2k=u_w_m2k, entry_loss=entry, roughness_m=roughness_m, inside_w_m2k=9.0,
        wall_j_m2k=wall_j_m2k,
    )  # fmt: skip


def area(diameter_m: float) -> float:
    return math.pi / 4.0 * diameter_m**2


def hood(given: Given, diameter_m: float) -> Hood:
    """A draft hood whose outlet is as wide as the vent."""
    ratio = number(given, "hood.relief_to_outlet_area")
    return Hood(relief_m2=ratio * area(diameter_m), plume_m=number(given, "hood.plume"))


def straight(given: Given, *, flue: Flue, diameter_m: float, height_m: float, warm_share: float,
             u_w_m2k: float, around: Around, cap_loss: float) -> Lone:  # fmt: skip
    """A vent straight up from the hood; its lower part stands in the warmth of the room."""
    warm = height_m * warm_share
    rough = number(given, "roughness.aluminum")
    parts = [
        pipe(
            "warm", length_m=warm, rise_m=warm, diameter_m=diameter_m, ambient_k=around.room_k,
            u_w_m2k=u_w_m2k, entry=number(given, "hood.entrance_loss"), roughness_m=rough,
        )
    ]  # fmt: skip
    cold = height_m - warm
    if cold > 1e-6:
        parts.append(
            pipe(
                "cold", length_m=cold, rise_m=cold, diameter_m=diameter_m,
                ambient_k=around.outdoor_k, u_w_m2k=u_w_m2k, roughness_m=rough,
            )
        )  # fmt: skip
    return Lone(
        flue=flue, hood=hood(given, diameter_m), segments=tuple(parts), around=around,
        cap_loss=cap_loss,
    )  # fmt: skip


def american(given: Given, *, flue: Flue, diameter_m: float, height_m: float, lateral_m: float,
             around: Around, outside_m: float = 1.0) -> Lone:  # fmt: skip
    """A foot of rise, a lateral, two elbows, then Type B vent with its last stretch outdoors."""
    room, out = around.room_k, around.outdoor_k
    single = number(given, "wall_u.single_galvanized")
    double = number(given, "wall_u.type_b")
    elbow = number(given, "elbow.loss_90")
    steel, smooth = number(given, "roughness.galvanized"), number(given, "roughness.aluminum")
    inside = height_m - FOOT - outside_m
    parts = (
        ("rise", FOOT, FOOT, room, single, number(given, "hood.entrance_loss"), steel, 1809.0),
        ("lateral", lateral_m, 0.02 * lateral_m, room, single, elbow, steel, 1809.0),
        ("vent", inside, inside, room, double, elbow, smooth, 729.0),
        ("top", outside_m, outside_m, out, double, 0.0, smooth, 729.0),
    )
    return Lone(
        flue=flue,
        hood=hood(given, diameter_m),
        segments=tuple(
            pipe(
                name, length_m=length, rise_m=rise, diameter_m=diameter_m, ambient_k=ambient,
                u_w_m2k=u, entry=entry, roughness_m=rough, wall_j_m2k=stores,
            )
            for name, length, rise, ambient, u, entry, rough, stores in parts
        ),
        around=around,
        cap_loss=number(given, "cap.listed"),
    )  # fmt: skip


def american_flame(given: Given, input_w: float, room_k: float) -> Flue:
    """Gas before the hood as field charts have it, or as the case says."""
    fuel = fuel_named("natural_gas")
    efficiency = number(given, "flue.efficiency")
    return flame(
        fuel, input_w=input_w, co2=number(given, "flue.co2_dry"),
        sensible=1.0 - fuel.latent - efficiency, room_k=room_k,
    )  # fmt: skip


def no_flame(room_k: float) -> Flue:
    return idle(room_k=room_k)
