"""The arithmetic of a start from cold, in a form that also compiles.

Gas passes the vent in a second or two, walls warm in a minute or more: so the gas is taken as
steady at every moment and only walls store heat. The vent is cut into cells; each is a row as in
``draft.kernel`` whose surroundings are the inside of its own wall. A wall is one node of metal or
several nodes of masonry, all figures per inside area.

The flow follows its branch: from one second to the next it moves the way in which the spare
pressure pushes it until that vanishes, and never jumps to another balance.

Source: lumped heat balance, backward Euler in time (textbook); dew point in the form of
EN 13384-1, from memory, within 0.05 K of tabulated saturation.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence, Sequence

from fluewright.draft.kernel import (
    AIR_PA,
    AMBIENT,
    FLUE_K,
    FLUE_KG_S,
    FLUE_MOLAR,
    OUT_CP,
    OUT_K,
    OUT_MOLAR,
    ROOM_K,
    ROOM_MOLAR,
    Figures,
    Rows,
    entering,
    flow_scale,
    nearest_zero,
    root_between,
    spare_pressure,
    stretch,
)

# Places in the figures of the start.
SECONDS, COLD_SHARE, WARM_S, FULL_K, FLUE_WATER, ROOM_WATER = 0, 1, 2, 3, 4, 5
START_SIZE = 6
# Places in a row of the record, one row a step.
AT_S, FLOW, SPILT, COLDEST_K, DEW_K, TOP_K = 0, 1, 2, 3, 4, 5
RECORD_SIZE = 6

STILL_SHARE = 1e-6  # of the flow scale: what stands for a standstill
LONGEST_STRIDE = 0.05  # of a flow and the scale: the search for the next balance skips none
Changing = MutableSequence[float]


def dew(vapor_pa: float) -> float:
    """Dew point. [K]"""
    return 4077.9 / (23.6448 - math.log(vapor_pa)) - 236.67 + 273.15


def follow(flow: float, par: Figures, rows: Rows, count: int) -> float:
    """Where a flow goes from where it was, along its own branch. [kg/s]

    Args:
        flow: as it was a moment ago. [kg/s]
        par: the system as it is now.
        rows: its cells.
        count: how many they are.
    Returns:
        The nearest balance in the direction in which the spare pressure pushes; 0 where the vent
        comes to a standstill.
    """
    scale = flow_scale(par, rows, count)
    still = STILL_SHARE * scale
    here = flow if abs(flow) > still else still
    here_pa = spare_pressure(here, par, rows, count)
    if abs(flow) <= still and here_pa < 0.0:
        here = -still
        here_pa = spare_pressure(here, par, rows, count)
        if here_pa > 0.0:
            return 0.0
    sign = 1.0 if here_pa > 0.0 else -1.0
    stride = 0.01 * abs(here) + 0.002 * scale
    behind, behind_pa, steps = here, here_pa, 0
    for _ in range(400):
        there = here + sign * stride
        if here * there <= 0.0:  # past a standstill: the balance jumps there
            edge = math.copysign(still, here)
            edge_pa = spare_pressure(edge, par, rows, count)
            if (edge_pa > 0.0) != (here_pa > 0.0):
                return root_between(here, here_pa, edge, edge_pa, par, rows, count)
            here, here_pa = -edge, spare_pressure(-edge, par, rows, count)
            if (here_pa > 0.0) != (edge_pa > 0.0):
                return 0.0
            behind, behind_pa, steps = here, here_pa, 0
            continue
        there_pa = spare_pressure(there, par, rows, count)
        if (there_pa > 0.0) != (here_pa > 0.0):
            return root_between(here, here_pa, there, there_pa, par, rows, count)
        if steps > 0 and abs(here_pa) < abs(behind_pa) and abs(here_pa) <= abs(there_pa):
            # Two balances may lie side by side within a stride: the first of them holds it.
            dip, dip_pa = nearest_zero(behind, here, there, par, rows, count)
            if (dip_pa > 0.0) != (here_pa > 0.0):
                return root_between(behind, behind_pa, dip, dip_pa, par, rows, count)
        behind, behind_pa, here, here_pa = here, here_pa, there, there_pa
        steps += 1
        stride = min(1.6 * stride, LONGEST_STRIDE * (scale + abs(here)))
    return here


def warm_walls(
    flow: float,
    par: Figures,
    rows: Sequence[Changing],
    count: int,
    walls: Sequence[Changing],
    stores: Sequence[Figures],
    passes: Sequence[Figures],
    around_k: Figures,
    nodes: Sequence[int],
    work: Changing,
) -> float:
    """Lets every wall take up heat for a step of time, and says how hot the gas leaves. [K]

    Args:
        flow: in the vent, either way. [kg/s]
        par: the system.
        rows: its cells; their surroundings are set anew to the inside of the wall.
        count: how many they are.
        walls: temperatures of the nodes of each cell, inside first. [K]
        stores: heat that each node stores in a kelvin, over the step of time. [W/(m2 K)]
        passes: from gas to wall, then from each node to the next, the last to what is around.
            [W/(m2 K)]
        around_k: what is around each cell. [K]
        nodes: how many nodes each cell has.
        work: room for as many figures as the most nodes.
    """
    up = flow > 0.0
    if up:
        gas_k, molar, cp, _ = entering(flow, par)
    else:
        gas_k, molar, cp = par[OUT_K], par[OUT_MOLAR], par[OUT_CP]
    for step in range(count):
        j = step if up else count - 1 - step
        mean_k = walls[j][0]
        if flow != 0.0:
            gas_k, mean_k, _, _ = stretch(abs(flow), gas_k, molar, cp, rows[j], par)
        conduct(walls[j], stores[j], passes[j], mean_k, around_k[j], nodes[j], work)
        rows[j][AMBIENT] = walls[j][0]
    return gas_k


def conduct(
    wall: Changing,
    store: Figures,
    passing: Figures,
    gas_k: float,
    around_k: float,
    nodes: int,
    work: Changing,
) -> None:
    """One implicit step of the heat through a wall; ``wall`` is changed in place.

    Args:
        wall: temperatures of its nodes, inside first. [K]
        store: heat each stores in a kelvin over the step. [W/(m2 K)]
        passing: conductances, from the gas to the first node up to the last to what is around.
        gas_k: mean temperature of the gas beside it. [K]
        around_k: what is around it. [K]
        nodes: how many they are.
        work: room for as many figures.
    """
    # Thomas's way through a system of three bands, from the inside out and back.
    for i in range(nodes):
        diagonal = store[i] + passing[i] + passing[i + 1]
        right = store[i] * wall[i]
        if i == 0:
            right += passing[0] * gas_k
        else:
            right += passing[i] * wall[i - 1]
            diagonal -= passing[i] * work[i - 1]
        if i == nodes - 1:
            right += passing[nodes] * around_k
        work[i] = passing[i + 1] / diagonal
        wall[i] = right / diagonal
    for i in range(nodes - 2, -1, -1):
        wall[i] += work[i] * wall[i + 1]


def stand(
    par: Figures,
    rows: Sequence[Changing],
    count: int,
    walls: Sequence[Changing],
    stores: Sequence[Figures],
    passes: Sequence[Figures],
    around_k: Figures,
    nodes: Sequence[int],
    steps: int,
    work: Changing,
) -> float:
    """Lets a vent stand idle for a number of steps. The last flow. [kg/s]

    Arguments are those of ``start``; ``par`` is that of an appliance that is off.
    """
    flow = 0.0
    for _ in range(steps):
        flow = follow(flow, par, rows, count)
        warm_walls(flow, par, rows, count, walls, stores, passes, around_k, nodes, work)
    return flow


def start(
    par: Changing,
    rows: Sequence[Changing],
    count: int,
    walls: Sequence[Changing],
    stores: Sequence[Figures],
    passes: Sequence[Figures],
    around_k: Figures,
    nodes: Sequence[int],
    figures: Figures,
    flow: float,
    steps: int,
    work: Changing,
    record: Sequence[Changing],
) -> float:
    """Burns for a number of steps and records what happens. The last flow. [kg/s]

    Args:
        par: the system; its flue temperature is set anew at every step.
        rows: its cells.
        count: how many they are.
        walls: temperatures of the nodes of each cell, inside first. [K]
        stores: heat that each node stores in a kelvin, over the step of time. [W/(m2 K)]
        passes: conductances of each wall, inside first. [W/(m2 K)]
        around_k: what is around each cell. [K]
        nodes: how many nodes each cell has.
        figures: length of a step, how the appliance warms, and the water in gas and room air.
        flow: before the first step. [kg/s]
        steps: how many.
        work: room for as many figures as the most nodes.
        record: one row a step.
    """
    for i in range(steps):
        at_s = (i + 1) * figures[SECONDS]
        warm = 1.0
        if figures[WARM_S] > 0.0:
            warm = 1.0 - figures[COLD_SHARE] * math.exp(-at_s / figures[WARM_S])
        par[FLUE_K] = par[ROOM_K] + (figures[FULL_K] - par[ROOM_K]) * warm
        flow = follow(flow, par, rows, count)
        top_k = warm_walls(flow, par, rows, count, walls, stores, passes, around_k, nodes, work)
        line = record[i]
        line[AT_S], line[FLOW], line[TOP_K] = at_s, flow, top_k
        line[SPILT] = spilt_share(flow, par[FLUE_KG_S])
        line[DEW_K] = dew_in_vent(flow, par, figures)
        coldest = walls[0][0]
        for j in range(count):
            coldest = min(coldest, walls[j][0])
        line[COLDEST_K] = coldest
    return flow


def spilt_share(flow: float, flue_kg_s: float) -> float:
    """Share of the flue gas that goes into the room. [-]"""
    if flue_kg_s <= 0.0 or flow >= flue_kg_s:
        return 0.0
    return 1.0 - max(flow, 0.0) / flue_kg_s


def dew_in_vent(flow: float, par: Figures, figures: Figures) -> float:
    """Dew point of the gas that goes up the vent; 0 where none does. [K]"""
    flue = par[FLUE_KG_S]
    if flow <= 0.0:
        return 0.0
    kept = min(flue, flow) / par[FLUE_MOLAR]
    air = max(flow - flue, 0.0) / par[ROOM_MOLAR]
    water = (kept * figures[FLUE_WATER] + air * figures[ROOM_WATER]) / (kept + air)
    return dew(water * par[AIR_PA]) if water > 0.0 else 0.0
