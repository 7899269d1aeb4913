"""What many vents are like at the flow at which they settled."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fluewright.draft import kernel as k
from fluewright.draft.gas import saturation_pressure
from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2
from fluewright.ensemble.balance import balance
from fluewright.ensemble.built import Built
from fluewright.ensemble.cases import Cases, Floats, Integers
from fluewright.ensemble.lanes import for_each

DRY_K = 600.0  # no wall as hot is wet: water would have to stand at 120 bar


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class States:
    """One value a case; NaN where there is none.

    Attributes:
        draft_pa: static pressure at the start of the vent less that of the room. [Pa]
        dilution: room air drawn in, a kilogram of flue gas. [-]
        spilled: share of the flue gas that goes into the room. [-]
        wet: 1 where water condenses on an inside wall, 0 where on none; NaN: not known.
    """

    draft_pa: Floats
    dilution: Floats
    spilled: Floats
    wet: Floats


def states(made: Built, flow: Floats) -> States:
    """What vents are like at a flow each, 0 where one stands still.

    Args:
        made: the systems.
        flow: where each settled. [kg/s]
    """
    cases = made.cases
    flue = cases.par[:, k.FLUE_KG_S]
    up = np.maximum(flow, 0.0)
    kept, drawn = np.minimum(up, flue), np.maximum(up - flue, 0.0)
    burns = flue > 0.0
    some = np.where(burns, flue, 1.0)
    draft, coldest, unknown = _along(made, flow)
    gas = kept / cases.par[:, k.FLUE_MOLAR]
    air = drawn / cases.par[:, k.ROOM_MOLAR]
    water = (gas * made.flue_water + air * made.room_water) / np.where(up > 0.0, gas + air, 1.0)
    wet = np.where(up > 0.0, _wet(coldest, water * cases.par[:, k.AIR_PA]), 0.0)
    return States(
        draft_pa=draft,
        dilution=np.where(burns, drawn / some, np.nan),
        spilled=np.where(burns, 1.0 - kept / some, np.nan),
        wet=np.where((wet == 0.0) & unknown, np.nan, wet),
    )


def _wet(wall_k: Floats, vapor_pa: Floats) -> Floats:
    """Whether a wall is below the dew point: less vapor than there is can stay beside it."""
    held = np.full(len(wall_k), np.inf)
    known = np.nonzero(np.isfinite(wall_k))[0]
    lanes = {"wall_k": wall_k[known].clip(max=DRY_K)}
    for which, found in for_each(lambda one: saturation_pressure(one["wall_k"]), lanes, len(known)):
        if isinstance(found, Exception):
            raise found
        held[known[which]] = found
    return np.asarray(held < vapor_pa, dtype=np.float64)


def _along(made: Built, flow: Floats) -> tuple[Floats, Floats, npt.NDArray[np.bool_]]:
    """Draft, the coldest inside wall of those known, and whether there are others. [Pa, K, -]"""
    cases = made.cases
    moving = flow != 0.0
    coldest = np.full(len(flow), np.inf)
    case, par = np.arange(len(flow)), cases.par
    unknown = np.zeros(len(flow), dtype=bool)
    foot_k = np.full(len(flow), np.nan)
    moved = np.where(moving, flow, 1.0)

    def look(
        at: Integers, there: npt.NDArray[np.bool_], row: Floats, start_k: Floats, end_k: Floats
    ) -> None:
        nonlocal coldest, foot_k
        u = row[:, k.HEAT] * row[:, k.DIAMETER] / (4.0 * row[:, k.AREA])
        share = np.minimum(u / made.films[case, at], 1.0)
        gas_k = np.minimum(start_k, end_k)
        wall = gas_k - share * (gas_k - row[:, k.AMBIENT])
        coldest = np.where(there, np.fmin(coldest, wall), coldest)
        unknown[there & np.isnan(wall)] = True
        foot_k = np.where(there & (at == 0), np.where(moved > 0.0, start_k, end_k), foot_k)

    at = balance(moved, cases, look)
    first = cases.rows[:, 0]
    molar = _molar(moved, par)
    density = par[:, k.AIR_PA] * molar / (GAS_CONSTANT_J_KMOL_K * foot_k)
    head = (moved / first[:, k.AREA]) ** 2 / (2.0 * density)
    entry = first[:, k.ENTRY]
    draft = at.hood_pa + np.where(moved > 0.0, -(1.0 + entry), entry) * head
    unknown |= ~moving  # nothing says how the walls of a standing vent are
    return np.where(moving, draft, _still(cases)), coldest, unknown


def _molar(flow: Floats, par: Floats) -> Floats:
    """Molar mass of what flows. [kg/kmol]"""
    kept = np.clip(flow, 0.0, par[:, k.FLUE_KG_S])
    moles = kept / par[:, k.FLUE_MOLAR] + (flow - kept) / par[:, k.ROOM_MOLAR]
    return np.where(flow > 0.0, flow / moles, par[:, k.OUT_MOLAR])


def _still(cases: Cases) -> Floats:
    """Draft of a vent in which nothing moves, its air as warm as what is around it. [Pa]"""
    par, rows = cases.par, cases.rows
    there = np.arange(rows.shape[1]) < cases.counts[:, None]
    ambient = np.where(there, rows[:, :, k.AMBIENT], 1.0)
    outside = par[:, k.OUT_MOLAR, None] / par[:, k.OUT_K, None]
    lighter = outside - par[:, k.ROOM_MOLAR, None] / ambient
    climbs = np.sum(np.where(there, rows[:, :, k.RISE] * lighter, 0.0), axis=1)
    air = par[:, k.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    return np.asarray(par[:, k.CAP_PA] - GRAVITY_M_S2 * air * climbs - par[:, k.ROOM_PA])
