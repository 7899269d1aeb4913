"""The balance of many vents at once, written for arrays: a second formulation of ``draft.kernel``.

Nothing here is shared with the kernel but the places of its figures and the coefficients, so that
each checks the other. Arguments are one value a case; segments are the one loop. The lines stand
for upward and downward flow alike.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fluewright.draft import kernel as k
from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2
from fluewright.ensemble.cases import Cases, Floats, Integers


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stream:
    """What flows, case by case: kg/s, K, kg/kmol, J/(kg K)."""

    flow: Floats
    gas_k: Floats
    molar: Floats
    cp: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Balance:
    """What one flow meets, case by case.

    ``spare_pa`` is what drives it upward less what holds it, ``largest_pa`` the largest single
    pressure in that, ``hood_pa`` the hood over the room, ``lost_w`` the heat given off,
    ``brought_w`` and ``left_w`` the heat that the stream carries at its start and end.
    """

    spare_pa: Floats
    largest_pa: Floats
    hood_pa: Floats
    lost_w: Floats
    brought_w: Floats
    left_w: Floats


Look = Callable[[Integers, npt.NDArray[np.bool_], Floats, Floats, Floats], None]


def balance(flow: Floats, cases: Cases, look: Look | None = None) -> Balance:
    """Pressures and heat at a flow up (above 0) or down (below 0) each vent. [Pa, W]

    Args:
        flow: one a case, none of them 0. [kg/s]
        cases: the systems.
        look: is shown every segment in the direction of flow: which it is in each case, whether
            the case has it, its figures, and the gas at its start and end. [K]
    """
    up = flow > 0.0
    par = cases.par
    with np.errstate(invalid="ignore", divide="ignore"):
        stream, hood = _entering(np.abs(flow), up, par)
        ends = par[:, k.ROOM_PA] - par[:, k.CAP_PA]
        sizes = [np.abs(ends), np.abs(hood)]
        spare, lost_w = ends + hood, np.zeros(len(flow))
        gas_k = stream.gas_k
        for step in range(cases.rows.shape[1]):
            there = step < cases.counts
            row, at = cases.rows[:, step], np.full(len(flow), step)
            if not up.all():
                at = np.where(up, step, cases.counts - 1 - step).clip(0)
                row = cases.rows[np.arange(len(flow)), at]
            end_k, lift, lost, heat = _stretch(stream, gas_k, up, row, par)
            spare += np.where(there, lift + np.where(up, -lost, lost), 0.0)
            lost_w += np.where(there, heat, 0.0)
            sizes += [np.where(there, np.abs(lift), 0.0), np.where(there, np.abs(lost), 0.0)]
            if look is not None:
                look(at, there, row, gas_k, end_k)
            gas_k = np.where(there, end_k, gas_k)
        tip = cases.rows[np.arange(len(flow)), cases.counts - 1, k.AREA]
        foot = cases.rows[:, 0, k.AREA]
        out = _head(stream, np.where(up, gas_k, stream.gas_k), tip, par)
        cap = np.where(up, -(par[:, k.CAP_LOSS] + 1.0), par[:, k.CAP_LOSS] + k.BASE_ENTRANCE_LOSS)
        spare += cap * out + np.where(up, 0.0, _head(stream, gas_k, foot, par))
        pushed = np.where(up, 0.0, _pushed(stream, gas_k, par))
    return Balance(
        spare_pa=spare + pushed,
        largest_pa=np.max([*sizes, np.abs(cap * out), np.abs(pushed)], axis=0),
        hood_pa=hood + pushed,
        lost_w=lost_w,
        brought_w=stream.flow * stream.cp * stream.gas_k,
        left_w=stream.flow * stream.cp * gas_k,
    )


def _entering(flow: Floats, up: npt.NDArray[np.bool_], par: Floats) -> tuple[Stream, Floats]:
    """What enters the vent, and the pressure of the hood over the room (0 where it comes down)."""
    flue = np.where(par[:, k.FLUE_KG_S] < 0.0, flow, par[:, k.FLUE_KG_S])
    kept = np.minimum(flow, flue)
    drawn = flow - kept
    heat = kept * par[:, k.FLUE_CP] + drawn * par[:, k.ROOM_CP]
    warm = kept * par[:, k.FLUE_CP] * par[:, k.FLUE_K] + (
        drawn * par[:, k.ROOM_CP] * par[:, k.ROOM_K]
    )
    moles = kept / par[:, k.FLUE_MOLAR] + drawn / par[:, k.ROOM_MOLAR]
    stream = Stream(
        flow=flow,
        gas_k=np.where(up, warm / heat, par[:, k.OUT_K]),
        molar=np.where(up, flow / moles, par[:, k.OUT_MOLAR]),
        cp=np.where(up, heat / flow, par[:, k.OUT_CP]),
    )
    air = par[:, k.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    room = air * par[:, k.ROOM_MOLAR] / par[:, k.ROOM_K]
    inside = air * stream.molar / stream.gas_k
    relief = par[:, k.RELIEF_M2]
    inward = (drawn / relief) ** 2 / (2.0 * room)
    outward = ((flue - kept) / relief) ** 2 / (2.0 * inside)
    lifted = GRAVITY_M_S2 * par[:, k.PLUME_M] * (room - inside)
    return stream, np.where(up, outward - inward + lifted, 0.0)


def _stretch(
    stream: Stream, gas_k: Floats, up: npt.NDArray[np.bool_], row: Floats, par: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """One segment: temperature at its end, lift, losses with its entry, heat. [K, Pa, Pa, W]"""
    ambient = row[:, k.AMBIENT]
    units = row[:, k.HEAT] * row[:, k.LENGTH] / (stream.flow * stream.cp)
    gone = -np.expm1(-units)
    end_k = gas_k - (gas_k - ambient) * gone
    held = units > 0.0
    some = np.where(held, units, 1.0)
    mean_k = np.where(held, ambient + (gas_k - ambient) * gone / some, gas_k)
    inverse = (some + np.log1p((ambient / gas_k - 1.0) * gone)) / (some * ambient)
    inverse = np.where(held, inverse, 1.0 / gas_k)
    air = par[:, k.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    lift = (GRAVITY_M_S2 * row[:, k.RISE] * air) * (
        par[:, k.OUT_MOLAR] / par[:, k.OUT_K] - stream.molar * inverse
    )
    a_kelvin = _head(stream, np.ones_like(gas_k), row[:, k.AREA], par)
    rubbed = _friction(stream.flow, mean_k, row) * row[:, k.LENGTH] / row[:, k.DIAMETER]
    entry = row[:, k.ENTRY] * np.where(up, gas_k, end_k)
    lost = a_kelvin * (rubbed * mean_k + par[:, k.MOMENTUM] * (end_k - gas_k) + entry)
    heat = row[:, k.HEAT] * row[:, k.LENGTH] * (mean_k - ambient)
    return end_k, lift, lost, heat


def _friction(flow: Floats, mean_k: Floats, row: Floats) -> Floats:
    """Darcy factor. [-]"""
    viscosity = 1.458e-6 * mean_k * np.sqrt(mean_k) / (mean_k + 110.4)
    reynolds = flow * row[:, k.DIAMETER] / (row[:, k.AREA] * viscosity)
    fast = np.maximum(reynolds, k.TURBULENT)
    rough = np.maximum(row[:, k.ROUGH], 0.0) / row[:, k.DIAMETER]
    swift = 0.25 / np.log10(rough / 3.7 + 5.74 * fast**-0.9) ** 2
    slow = 64.0 / np.minimum(reynolds, k.LAMINAR)
    share = ((reynolds - k.LAMINAR) / (k.TURBULENT - k.LAMINAR)).clip(0.0, 1.0)
    physical = (1.0 - share) * slow + share * swift
    return np.where(row[:, k.ROUGH] < 0.0, row[:, k.DARCY], physical)


def _head(stream: Stream, gas_k: Floats, area: Floats, par: Floats) -> Floats:
    """Velocity head. [Pa]"""
    density = par[:, k.AIR_PA] * stream.molar / (GAS_CONSTANT_J_KMOL_K * gas_k)
    return (stream.flow / area) ** 2 / (2.0 * density)


def _pushed(stream: Stream, gas_k: Floats, par: Floats) -> Floats:
    """Pressure over the room's of a hood that outdoor air comes down into. [Pa]"""
    flue = par[:, k.FLUE_KG_S]
    both = flue + stream.flow
    carried = flue * par[:, k.FLUE_CP], stream.flow * stream.cp
    mixed_k = (carried[0] * par[:, k.FLUE_K] + carried[1] * gas_k) / (carried[0] + carried[1])
    moles = flue / par[:, k.FLUE_MOLAR] + stream.flow / stream.molar
    air = par[:, k.AIR_PA] / GAS_CONSTANT_J_KMOL_K
    density = air * both / (moles * mixed_k)
    room = air * par[:, k.ROOM_MOLAR] / par[:, k.ROOM_K]
    lifted = GRAVITY_M_S2 * par[:, k.PLUME_M] * (room - density)
    return (both / par[:, k.RELIEF_M2]) ** 2 / (2.0 * density) + lifted
