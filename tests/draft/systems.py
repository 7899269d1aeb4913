"""Invented systems that tests of the draft engine share, and random ones."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

from fluewright.draft.system import Around, Flue, Hood, Lone, Segment
from fluewright.draft.tree_system import Branch, Common, Joined

INCH, FOOT = 0.0254, 0.3048


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8 + 273.15


def segment(name: str, length_m: float, rise_m: float, ambient_k: float, u: float, loss: float,
            diameter_m: float = 4 * INCH, stores: float = 730.0) -> Segment:  # fmt: skip
    return Segment(
        name=name, length_m=length_m, rise_m=rise_m, diameter_m=diameter_m, ambient_k=ambient_k,
        u_w_m2k=u, entry_loss=loss, roughness_m=0.00015, inside_w_m2k=9.0, wall_j_m2k=stores,
    )  # fmt: skip


def flue(kilograms_s: float = 0.0055, temperature_k: float = 470.0) -> Flue:
    return Flue(
        mass_kg_s=kilograms_s, temperature_k=temperature_k, molar_kg_kmol=28.1, cp_j_kgk=1090.0,
        water=0.125, co2_dry=0.0725,
    )  # fmt: skip


def heater(outdoor_f: float = 60.0, room_pa: float = 0.0, kilograms_s: float = 0.0055) -> Lone:
    """An invented water heater of about 40 kBtu/h on 15 ft of 4 in vent, its top outdoors."""
    out, room = kelvin(outdoor_f), kelvin(68.0)
    return Lone(
        flue=flue(kilograms_s),
        hood=Hood(relief_m2=0.007, plume_m=0.25),
        segments=(
            segment("c1", 0.3, 0.3, room, 5.7, 0.5, stores=1800.0),
            segment("c2", 1.0, 0.02, room, 5.7, 0.8, stores=1800.0),
            segment("v1", 3.35, 3.35, room, 3.4, 0.8),
            segment("v2", 0.92, 0.92, out, 3.4, 0.0),
        ),
        around=Around(outdoor_k=out, room_k=room, room_pa=room_pa, room_water=0.008),
        cap_loss=1.0,
    )


def random_system(chance: Random) -> Lone:
    """Any system at all: hot and cold, wide and narrow, tight and windy."""
    out, room = chance.uniform(240.0, 315.0), chance.uniform(280.0, 305.0)
    segments: list[Segment] = []
    for i in range(chance.randint(1, 7)):
        length = 10.0 ** chance.uniform(-1.0, 1.2)
        tilt = chance.choice((0.0, 0.02, 0.7, 1.0, 1.0, -0.3))
        rough = chance.random() < 0.7
        segments.append(
            Segment(
                name=f"s{i}",
                length_m=length,
                rise_m=length * tilt,
                diameter_m=chance.uniform(0.05, 0.5),
                ambient_k=chance.choice((out, room, 0.5 * (out + room))),
                u_w_m2k=10.0 ** chance.uniform(-1.0, 1.2),
                entry_loss=chance.uniform(0.0, 3.0),
                inside_w_m2k=20.0,
                law="rough" if rough else "constant",
                roughness_m=10.0 ** chance.uniform(-5.0, -2.7),
                darcy=0.0 if rough else chance.uniform(0.01, 0.1),
                wall_j_m2k=1000.0,
            )
        )
    mass = 0.0 if chance.random() < 0.1 else 10.0 ** chance.uniform(-3.5, -0.7)
    return Lone(
        flue=flue(mass, chance.uniform(330.0, 800.0)),
        hood=Hood(relief_m2=10.0 ** chance.uniform(-3.0, -1.0), plume_m=chance.uniform(0.0, 0.4)),
        segments=tuple(segments),
        around=Around(
            outdoor_k=out,
            room_k=room,
            air_pa=chance.uniform(7e4, 1.03e5),
            room_pa=chance.uniform(-30.0, 10.0),
            cap_pa=chance.uniform(-10.0, 10.0),
            room_water=chance.uniform(0.0, 0.02),
        ),
        cap_loss=chance.uniform(0.0, 4.0),
        momentum=chance.random() < 0.8,
    )


def plain_pipe(height_m: float = 5.0, loss: float = 2.0) -> Lone:
    """A vent that loses no heat and has no friction: its flow has a closed form."""
    pipe = Segment(
        name="pipe", length_m=height_m, rise_m=height_m, diameter_m=0.1, ambient_k=280.0,
        u_w_m2k=0.0, entry_loss=loss, law="constant", darcy=0.0,
    )  # fmt: skip
    return Lone(
        flue=flue(1e-6), hood=Hood(relief_m2=math.pi), segments=(pipe,),
        around=Around(outdoor_k=280.0, room_k=280.0), cap_loss=0.0, momentum=False,
    )  # fmt: skip


def branch_of(name: str, chance: Random, around: Around) -> Branch:
    """Any appliance with a connector."""
    lone = random_system(chance)
    segments = tuple(
        replace(one, name=f"{name} {one.name}", ambient_k=around.room_k)
        for one in lone.segments[:3]
    )
    return Branch(
        name=name,
        flue=lone.flue,
        hood=lone.hood if chance.random() < 0.85 or not lone.flue.mass_kg_s else None,
        segments=segments,
        room_pa=chance.uniform(-10.0, 10.0) if chance.random() < 0.2 else None,
    )


def random_tree(chance: Random) -> Joined:
    """Any two or three appliances on one vent, at one or two levels."""
    lone = random_system(chance)
    trunk = tuple(replace(one, name=f"trunk {one.name}") for one in lone.segments[:4])
    many = chance.choice((2, 2, 3))
    made: list[Branch | Common] = [branch_of(f"a{i}", chance, lone.around) for i in range(many)]
    if many == 3 and chance.random() < 0.6:
        lower = Common(name="lower", inlets=tuple(made[:2]), segments=trunk[:1])
        made = [lower, made[2]]
    root = Common(name="trunk", inlets=tuple(made), segments=trunk[-3:])
    return Joined(root=root, around=lone.around, cap_loss=lone.cap_loss, momentum=lone.momentum)
