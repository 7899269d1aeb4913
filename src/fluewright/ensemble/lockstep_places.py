"""Where the figures of vents solved side by side are kept, and how they come there.

In the same compilable form as ``draft.kernel``; see ``lockstep``.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence

from fluewright.draft.kernel import (
    AIR_PA,
    AMBIENT,
    AREA,
    CAP_LOSS,
    CAP_PA,
    DARCY,
    DIAMETER,
    ENTRY,
    FLUE_CP,
    FLUE_K,
    FLUE_KG_S,
    FLUE_MOLAR,
    HEAT,
    LENGTH,
    MOMENTUM,
    OUT_K,
    OUT_MOLAR,
    PLUME_M,
    RELIEF_M2,
    RISE,
    ROOM_CP,
    ROOM_K,
    ROOM_MOLAR,
    ROOM_PA,
    ROUGH,
    Figures,
    Rows,
)  # fmt: skip
from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2

LANES = 64  # vents that go together: their figures stay in the nearest cache

# Places of a lane's figures, each LANES long: of the search, of one step, of the system.
V_FLOW, V_BEFORE, V_GAP, V_OPEN, V_FIT = 0, 1, 2, 3, 4
V_IN, V_GAS, V_MOLES, V_CARRIED, V_SHARE, V_LIFT, V_LOSS, V_SPEED = 5, 6, 7, 8, 9, 10, 11, 12
V_SPARE, V_ENTRY, V_HOOD, V_FLUE, V_PLUME, V_HOT, V_COLD = 13, 14, 15, 16, 17, 18, 19
V_FLUE_MOLES, V_ROOM_MOLES, V_FLUE_HEAT, V_ROOM_HEAT, V_FLUE_POWER, V_ROOM_POWER = (
    20, 21, 22, 23, 24, 25
)  # fmt: skip
V_GAIN, V_GAIN_AT, V_HELD, V_TAKEN = 26, 27, 28, 29
V_SIZE = 30
# Places of a segment's figures of all lanes, each LANES long.
S_HEAT, S_HEAT_INV, S_AMBIENT, S_LIFT, S_LOSS, S_DARCY, S_EXIT, S_SPEED = 0, 1, 2, 3, 4, 5, 6, 7
S_DIAMETER, S_ROUGH = 8, 9  # diameter over area [1/m], and relative roughness over 3.7
S_REYNOLDS, S_SMOOTH, S_LOG = 10, 11, 12  # of the step before, as in ``kernel.turbulent``
S_MEAN = 13
S_SIZE = 14

Lanes = MutableSequence[float]


def place_system(j: int, par: Figures, all_flue: bool, lanes: Lanes) -> None:
    """Puts the fixed figures of one system in its lane.

    Where all that flows is flue gas there is no hood, and what comes in is flue gas too.
    """
    air = par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    room = air * par[ROOM_MOLAR] / par[ROOM_K]
    flue = 0.0 if all_flue else par[FLUE_KG_S]
    molar, cp, gas_k = par[ROOM_MOLAR], par[ROOM_CP], par[ROOM_K]
    lanes[V_HOOD * LANES + j] = 0.5 / (room * par[RELIEF_M2] * par[RELIEF_M2])
    lanes[V_COLD * LANES + j] = gas_k
    if all_flue:
        molar, cp, gas_k = par[FLUE_MOLAR], par[FLUE_CP], par[FLUE_K]
        lanes[V_HOOD * LANES + j] = 0.0
        lanes[V_COLD * LANES + j] = math.inf
    lanes[V_SPARE * LANES + j] = par[ROOM_PA] - par[CAP_PA] + GRAVITY_M_S2 * par[PLUME_M] * room
    lanes[V_PLUME * LANES + j] = GRAVITY_M_S2 * par[PLUME_M] * air
    lanes[V_FLUE * LANES + j] = flue
    lanes[V_FLUE_MOLES * LANES + j] = flue / par[FLUE_MOLAR]
    lanes[V_FLUE_HEAT * LANES + j] = flue * par[FLUE_CP]
    lanes[V_FLUE_POWER * LANES + j] = flue * par[FLUE_CP] * par[FLUE_K]
    lanes[V_ROOM_MOLES * LANES + j] = 1.0 / molar
    lanes[V_ROOM_HEAT * LANES + j] = cp
    lanes[V_ROOM_POWER * LANES + j] = cp * gas_k
    # The proof needs gas that is hot and, if anything, lighter than what is drawn in with it.
    fit = par[FLUE_K] >= gas_k and par[FLUE_MOLAR] <= molar
    lanes[V_FIT * LANES + j] = 1.0 if fit else 0.0


def place_segment(j: int, i: int, par: Figures, row: Figures, lanes: Lanes) -> None:
    """Puts the fixed figures of one segment in a lane."""
    at = (V_SIZE + i * S_SIZE) * LANES + j
    air = par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    head, kept = 0.5 / (air * row[AREA] * row[AREA]), 1.0 / row[DIAMETER]
    ambient, heat = row[AMBIENT], row[HEAT] * row[LENGTH]
    inverse = 1.0 / (heat * ambient)
    lanes[at + S_HEAT * LANES] = heat
    lanes[at + S_HEAT_INV * LANES] = ambient * inverse
    lanes[at + S_AMBIENT * LANES] = ambient
    lanes[at + S_LIFT * LANES] = GRAVITY_M_S2 * air * row[RISE] * heat * inverse
    lanes[at + S_LOSS * LANES] = head * row[LENGTH] * kept
    lanes[at + S_DARCY * LANES] = row[DARCY]
    lanes[at + S_SPEED * LANES] = par[MOMENTUM] * head
    lanes[at + S_DIAMETER * LANES] = row[DIAMETER] / row[AREA]
    lanes[at + S_ROUGH * LANES] = row[ROUGH] * kept / 3.7
    before = V_ENTRY * LANES + j if i == 0 else at + (S_EXIT - S_SIZE) * LANES
    lanes[before] = row[ENTRY] * head
    lanes[at + S_EXIT * LANES] = (par[CAP_LOSS] + 1.0) * head  # unless another follows


def place_vent(
    j: int, par: Figures, rows: Rows, count: int, most: int, lanes: Lanes
) -> tuple[float, bool]:
    """Puts the fixed figures of one system's segments in its lane.

    What a system has less in segments than ``most`` is filled up with such as change nothing.

    Returns:
        The flow of flue gas that would balance if none of it cooled, with the friction given, to
        start from [kg/s], and whether the friction of any segment is to be found from its flow.
    """
    taken = taken_at = raised = gain = gain_at = hot = 0.0
    cold = lanes[V_COLD * LANES + j]
    rough, loses = False, True
    lost = 0.0
    for i in range(count):
        row = rows[i]
        place_segment(j, i, par, row, lanes)
        at = (V_SIZE + i * S_SIZE) * LANES + j
        heat = lanes[at + S_HEAT * LANES]
        raised += row[RISE]
        lost += lanes[at + S_LOSS * LANES] * row[DARCY] + lanes[at + S_EXIT * LANES]
        if i + 1 < count:
            lost -= lanes[at + S_EXIT * LANES]
        taken += heat
        taken_at += heat * row[AMBIENT]
        gain += max(row[RISE], 0.0) * taken
        gain_at += max(row[RISE], 0.0) * taken_at
        hot, cold = max(hot, row[AMBIENT]), min(cold, row[AMBIENT])
        rough = rough or row[ROUGH] >= 0.0
        loses = loses and heat > 0.0
    for i in range(count, most):
        for k in range(S_SIZE):
            lanes[(V_SIZE + i * S_SIZE + k) * LANES + j] = 0.0
        lanes[(V_SIZE + i * S_SIZE + S_AMBIENT) * LANES + j] = 1.0
        lanes[(V_SIZE + i * S_SIZE + S_ROUGH) * LANES + j] = -1.0
    weight = GRAVITY_M_S2 * par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    lanes[V_SPARE * LANES + j] += weight * raised * par[OUT_MOLAR] / par[OUT_K]
    lanes[V_TAKEN * LANES + j] = taken
    lanes[V_GAIN * LANES + j], lanes[V_GAIN_AT * LANES + j] = weight * gain, weight * gain_at
    lanes[V_HOT * LANES + j], lanes[V_COLD * LANES + j] = hot, cold
    if not loses:
        lanes[V_FIT * LANES + j] = 0.0  # lift over heat is not had
    lightness = par[FLUE_MOLAR] / par[FLUE_K]
    driven = lanes[V_SPARE * LANES + j] - lightness * (weight * raised + lanes[V_PLUME * LANES + j])
    lost += lanes[V_ENTRY * LANES + j]
    return math.sqrt(max(driven, 0.0) * lightness / lost), rough
