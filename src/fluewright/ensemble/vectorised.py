"""Many vents at once with NumPy alone: the balance on a grid of flows, then root by root.

The search is not the kernel's: all cases are looked at on a whole grid, every change of sign is
taken up at once, and Ridders' method narrows them all together.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from fluewright.draft import kernel as k
from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K
from fluewright.ensemble import loops
from fluewright.ensemble.balance import balance
from fluewright.ensemble.cases import Cases, Floats, Integers
from fluewright.ensemble.loops import MOST_ROOTS

CHUNK = 2_000  # cases that are looked at together, so that their grids fit in memory
GOLDEN = (3.0 - math.sqrt(5.0)) / 2.0
CLOSE = 2e-15  # of a flow: how closely a root is enclosed
Which = npt.NDArray[np.intp]


def operating_flows(cases: Cases) -> Floats:
    """The largest flow up each vent at which all pressures balance; 0: there is none. [kg/s]"""
    found = np.concatenate([np.zeros(0), *(_largest_up(part) for part in _parts(cases))])
    return found


def capacities(cases: Cases) -> Floats:
    """The largest flow of flue gas, of its own temperature, that goes up without spilling. [kg/s]

    The room draws nothing in; 0: the vent takes none.
    """
    return operating_flows(cases.all_flue())


def margins(cases: Cases) -> Floats:
    """The further suction of each room at which flue gas begins to spill. [Pa]"""
    flue = cases.par[:, k.FLUE_KG_S]
    return np.where(flue > 0.0, balance(np.where(flue > 0.0, flue, 1.0), cases).spare_pa, np.inf)


def settled(cases: Cases) -> tuple[Floats, Integers]:
    """Where each vent settles when hot, and how that came out: a code of ``loops``. [kg/s, -]"""
    parts = [_settled(part) for part in _parts(cases)]
    none = np.zeros(0), np.zeros(0, dtype=np.int64)
    flows, codes = zip(*[none, *parts], strict=True)
    return np.concatenate(flows), np.concatenate(codes)


def all_roots(cases: Cases) -> tuple[Integers, Floats]:
    """How many flows balance each vent, and which, smallest first, then NaN. [-, kg/s]"""
    parts = [_all_roots(part) for part in _parts(cases)]
    none = np.zeros(0, dtype=np.int64), np.zeros((0, MOST_ROOTS))
    many, found = zip(*[none, *parts], strict=True)
    return np.concatenate(many), np.concatenate(found)


def _parts(cases: Cases) -> list[Cases]:
    return [cases.part(at, at + CHUNK) for at in range(0, len(cases), CHUNK)]


def _settled(cases: Cases) -> tuple[Floats, Integers]:
    """The same for a chunk."""
    flue, none = cases.par[:, k.FLUE_KG_S], np.zeros(len(cases))
    forced = np.isinf(cases.par[:, k.RELIEF_M2])
    flow, codes = _largest_up(cases), np.full(len(cases), loops.NONE_STABLE)
    idle = np.nonzero((flow == 0.0) & ~forced)[0]
    flow[idle], codes[idle] = _without_draft(_take(cases, idle))
    up = (flow > 0.0) & ~forced
    ways = [forced & (flue > 0.0), forced, up & (flow >= flue), up]
    named = [loops.DRAFTING, loops.IDLE_WITHOUT_HOOD, loops.DRAFTING, loops.SPILLING]
    return np.select(ways, [flue, none, flow, flow], flow), np.select(ways, named, codes)


def _without_draft(cases: Cases) -> tuple[Floats, Integers]:
    """Where vents settle in which no upward flow balances. [kg/s, -]"""
    none = np.zeros(len(cases))
    still = k.TINY_SHARE * _scale(cases)
    stalls = (balance(-still, cases).spare_pa > 0.0) & (balance(still, cases).spare_pa < 0.0)
    many, found = _all_roots(cases)
    held = np.zeros(found.shape, dtype=bool)
    for column in range(MOST_ROOTS):
        down = found[:, column] < 0.0
        near = np.where(down, found[:, column] * (1.0 + 1e-6), -1.0)
        held[:, column] = down & (balance(near, cases).spare_pa > 0.0)
    back = np.max(np.where(held, found, -np.inf), axis=1)
    ways = [stalls, many < 0, back > -np.inf]
    codes = np.select(ways, [loops.STALLED, loops.NO_RANGE, loops.REVERSED], loops.NONE_STABLE)
    return np.select(ways, [none, none, back], 0.0), codes


def _scale(cases: Cases) -> Floats:
    """Flow of 1 Pa of velocity head in the narrowest part. [kg/s]"""
    outside = np.arange(cases.rows.shape[1]) >= cases.counts[:, None]
    area = np.where(outside, np.inf, cases.rows[:, :, k.AREA]).min(axis=1)
    par = cases.par
    density = par[:, k.AIR_PA] * par[:, k.OUT_MOLAR] / (GAS_CONSTANT_J_KMOL_K * par[:, k.OUT_K])
    return np.asarray(area * np.sqrt(2.0 * density))


def _beyond(cases: Cases, sign: float) -> Floats:
    """A flow each way at which the losses win; NaN where none is found. [kg/s]"""
    most = np.maximum(_scale(cases), 1.5 * cases.par[:, k.FLUE_KG_S])
    open_ = np.arange(len(cases))
    for _ in range(60):
        part = _take(cases, open_)
        open_ = open_[~(sign * balance(sign * most[open_], part).spare_pa < 0.0)]
        if not len(open_):
            break
        most[open_] *= 2.0
    most[open_] = np.nan
    return most


def _take(cases: Cases, which: Which) -> Cases:
    return Cases(par=cases.par[which], rows=cases.rows[which], counts=cases.counts[which])


def _grid(cases: Cases, sign: float, most: Floats) -> tuple[Floats, Floats]:
    """Flows from nearly nothing to the most, and what is to spare at each. [kg/s, Pa]"""
    shares = np.maximum((np.arange(k.GRID + 1) / k.GRID) ** 3, k.TINY_SHARE)
    flows = sign * most[:, None] * shares
    spare = np.stack([balance(flows[:, j], cases).spare_pa for j in range(k.GRID + 1)], axis=1)
    return flows, spare


def _brackets(cases: Cases, sign: float, most: Floats) -> tuple[Which, Floats, Floats]:
    """Case, and flows on either side, of every change of sign, and of those between two points."""
    flows, spare = _grid(cases, sign, most)
    above = spare > 0.0
    case, at = np.nonzero((above[:, :-1] != above[:, 1:]) & np.isfinite(most)[:, None])
    low, high = flows[case, at], flows[case, at + 1]
    same = (above[:, :-2] == above[:, 1:-1]) & (above[:, 1:-1] == above[:, 2:])
    size = np.abs(spare)
    nearer = (size[:, 1:-1] < size[:, :-2]) & (size[:, 1:-1] <= size[:, 2:])
    dips, left = np.nonzero(same & nearer & np.isfinite(most)[:, None])
    a, b = flows[dips, left], flows[dips, left + 2]
    dip, crossed = _nearest(_take(cases, dips), a, b, np.where(above[dips, left], 1.0, -1.0))
    dips, a, dip, b = dips[crossed], a[crossed], dip[crossed], b[crossed]
    return (
        np.concatenate([case, dips, dips]),
        np.concatenate([low, a, dip]),
        np.concatenate([high, dip, b]),
    )


def _nearest(
    cases: Cases, a: Floats, b: Floats, sign: Floats
) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Flow between two at which the spare pressure comes nearest to zero, and whether past it."""
    best = np.full(len(a), np.nan)
    for _ in range(40):
        x, y = a + GOLDEN * (b - a), b - GOLDEN * (b - a)
        fx = sign * balance(x, cases).spare_pa
        fy = sign * balance(y, cases).spare_pa
        best = np.where(np.isnan(best) & (fx < 0.0), x, best)
        best = np.where(np.isnan(best) & (fy < 0.0), y, best)
        left = fx < fy
        a, b = np.where(left, a, x), np.where(left, y, b)
        if not np.isnan(best).any():
            break
    return best, np.isfinite(best)


def narrowed(spare: Callable[[Floats, Which], Floats], low: Floats, high: Floats) -> Floats:
    """The flow between each two of opposite sign at which it changes.

    Source: Ridders (IEEE Transactions on Circuits and Systems 26, 1979).
    """
    a, b, found = low.copy(), high.copy(), np.where(low == high, low, np.nan)
    left = np.arange(len(a))
    fa, fb = spare(a, left), spare(b, left)
    for turn in range(200):
        if not len(left):
            break
        if (
            turn % 3 == 2
        ):  # step just past the better end: where the sign changes there, it is found
            best = np.where(np.abs(fa) < np.abs(fb), a, b)
            tries = [best + CLOSE * np.abs(best) * np.sign(a + b - 2.0 * best)]
        else:
            middle = 0.5 * (a + b)
            fm = spare(middle, left)
            root = np.sqrt(fm * fm - fa * fb)
            tries = [middle, middle + (middle - a) * np.sign(fa - fb) * fm / root]
        for point in tries:
            inside = (point - a) * (point - b) < 0.0
            value = spare(np.where(inside, point, a), left)
            same = (value > 0.0) == (fa > 0.0)
            a, fa = np.where(inside & same, point, a), np.where(inside & same, value, fa)
            b, fb = np.where(inside & ~same, point, b), np.where(inside & ~same, value, fb)
        done = (np.abs(b - a) <= 1.01 * CLOSE * np.abs(b)) | (fa == 0.0) | (fb == 0.0)
        found[left[done]] = np.where(np.abs(fa) < np.abs(fb), a, b)[done]
        left, a, b, fa, fb = left[~done], a[~done], b[~done], fa[~done], fb[~done]
    found[left] = np.where(np.abs(fa) < np.abs(fb), a, b)
    return found


def _refined(cases: Cases, case: Which, low: Floats, high: Floats) -> Floats:
    """The roots in some brackets, whose cases are ``case``. [kg/s]"""
    return narrowed(lambda x, at: balance(x, _take(cases, case[at])).spare_pa, low, high)


def _largest_up(cases: Cases) -> Floats:
    """The largest root upward; 0 where there is none. [kg/s]

    Each case goes down the grid from where the losses win until they no longer do; where the
    pressures come near each other without crossing, all its roots are looked for.
    """
    found, most = np.zeros(len(cases)), _beyond(cases, 1.0)
    left = np.nonzero(np.isfinite(most))[0]
    flows = np.full((3, len(left)), np.nan)
    spare = flows.copy()
    dips: list[Which] = []
    case, low, high = [left[:0]], [flows[0, :0]], [flows[0, :0]]
    for j in range(k.GRID, -1, -1):
        flow = most[left] * max((j / k.GRID) ** 3, k.TINY_SHARE)
        flows = np.stack([*flows[1:], flow])
        spare = np.stack([*spare[1:], balance(flow, _take(cases, left)).spare_pa])
        over = spare[2] > 0.0
        case.append(left[over])
        low.append(flows[2, over])
        high.append(flows[1, over])
        dip = ~over & (spare[1] > spare[0]) & (spare[1] >= spare[2])
        dips.append(left[dip])
        left, flows, spare = left[~over & ~dip], flows[:, ~over & ~dip], spare[:, ~over & ~dip]
    near = np.concatenate(dips)
    if len(near):
        again, a, b = _brackets(_take(cases, near), 1.0, most[near])
        case, low, high = [*case, near[again]], [*low, a], [*high, b]
    which = np.concatenate(case)
    roots = _refined(cases, which, np.concatenate(low), np.concatenate(high))
    np.maximum.at(found, which, roots)
    return found


def _all_roots(cases: Cases) -> tuple[Integers, Floats]:
    """The same for a chunk."""
    down, up = _beyond(cases, -1.0), _beyond(cases, 1.0)
    lost = np.isnan(up) | np.isnan(down)
    sides = [
        _brackets(cases, sign, np.where(lost, np.nan, most)) for sign, most in ((-1, down), (1, up))
    ]
    case, low, high = (np.concatenate([sides[0][j], sides[1][j]]) for j in range(3))
    flows = _refined(cases, case.astype(np.intp), low, high)
    order = np.lexsort((flows, case))
    case, flows = case[order].astype(np.intp), flows[order]
    many = np.bincount(case, minlength=len(cases))
    place = np.arange(len(case)) - np.repeat(np.cumsum(many) - many, many)
    found = np.full((len(cases), MOST_ROOTS), np.nan)
    kept = place < MOST_ROOTS
    found[case[kept], place[kept]] = flows[kept]
    return np.where(lost, -1, np.minimum(many, MOST_ROOTS)).astype(np.int64), found
