"""What is solved: flame, draft hood, vent of several segments, surroundings.

Built from a survey by ``draft.from_survey`` or by hand; nothing here computes. All floats are
SI and pressures are differences. A flow up the vent is positive.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

GRAVITY_M_S2 = 9.80665  # standard
GAS_CONSTANT_J_KMOL_K = 8314.462618  # CODATA
AIR_KG_KMOL = 28.965  # dry air, from memory
WATER_KG_KMOL = 18.015
AIR_CP_J_KGK = 1006.0  # 280 to 330 K, within 0.2 % (Lemmon and others 2000)
STANDARD_AIR_PA = 101_325.0

Law = Literal["constant", "rough"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """One layer of a wall as the warm-up sees it, per inside area.

    Attributes:
        store_j_m2k: heat it stores. [J/(m2 K)]
        outward_w_m2k: conductance from it to the next, or to what is around. [W/(m2 K)]
    """

    store_j_m2k: float
    outward_w_m2k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A stretch of one diameter, wall and surroundings, in the direction of flow.

    Attributes:
        name: the piece of the survey it stands for, for messages and drawings.
        length_m: along the centre line. [m]
        rise_m: height gained, negative where it falls. [m]
        diameter_m: inside, or the hydraulic one where it is not round. [m]
        area_m2: free area inside; None for a round pipe. [m2]
        ambient_k: what surrounds it. [K]
        u_w_m2k: heat loss per inside area. [W/(m2 K)]
        inside_w_m2k: share of it from gas to wall, for the wall temperature; None: not asked.
        entry_loss: loss coefficient at its start, on its own velocity head. [-]
        law: friction "rough" (Reynolds number and roughness) or "constant" (a Darcy factor).
        roughness_m: with "rough". [m]
        darcy: with "constant". [-]
        wall_j_m2k: heat that the wall stores per inside area, for the warm-up. [J/(m2 K)]
        nodes: a wall of several layers for the warm-up, inside first; empty: one of ``wall_j_m2k``.
        face_w_m2k: conductance from its inside face to the first of ``nodes``. [W/(m2 K)]
    """

    name: str
    length_m: float
    rise_m: float
    diameter_m: float
    ambient_k: float
    u_w_m2k: float
    entry_loss: float = 0.0
    area_m2: float | None = None
    inside_w_m2k: float | None = None
    law: Law = "rough"
    roughness_m: float = 0.0
    darcy: float = 0.0
    wall_j_m2k: float = 0.0
    nodes: tuple[Node, ...] = ()
    face_w_m2k: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Flue:
    """Gas that an appliance gives off, before any dilution.

    ``mass_kg_s`` zero is an appliance that stands idle. ``water`` is the mole fraction of
    water vapour, ``co2_dry`` that of carbon dioxide in the dry gas.
    """

    mass_kg_s: float
    temperature_k: float
    molar_kg_kmol: float
    cp_j_kgk: float
    water: float
    co2_dry: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hood:
    """A draft hood as an opening to the room.

    Attributes:
        relief_m2: discharge coefficient times free area of the relief opening. [m2]
        plume_m: height over which gas in the hood lifts. [m]
    """

    relief_m2: float
    plume_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """Weather and house at one moment.

    Attributes:
        outdoor_k, room_k: air temperatures. [K]
        air_pa: absolute pressure of the air. [Pa]
        room_pa: room less outdoors at the height of the hood, negative under suction. [Pa]
        cap_pa: pressure of the wind at the cap, positive holds the gas back. [Pa]
        room_water: mole fraction of water vapour in the room air. [-]
        outdoor_water: the same outdoors. [-]
    """

    outdoor_k: float
    room_k: float
    air_pa: float = STANDARD_AIR_PA
    room_pa: float = 0.0
    cap_pa: float = 0.0
    room_water: float = 0.0
    outdoor_water: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lone:
    """One appliance on a vent of its own.

    ``hood`` is None for a fan-assisted appliance, whose gas all enters the vent. ``cap_loss``
    comes on top of the velocity head that is lost at every open end. ``momentum`` counts the
    pressure that a cooling stream gains as it slows.
    """

    flue: Flue
    hood: Hood | None
    segments: tuple[Segment, ...]
    around: Around
    cap_loss: float
    momentum: bool = True
