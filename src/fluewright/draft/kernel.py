"""The arithmetic of one balance, in a form that also compiles.

Everything here is plain floats, indexed sequences and ``math``, so that the very same functions
run as they stand and, compiled, in ``fluewright.ensemble``. ``par`` holds the figures of one
system and ``rows`` one row of figures a segment, from hood to cap, at the places named below;
``fluewright.draft.solve`` makes both from the data classes and gives the results their names.

A positive flow goes up. Where gas goes down the vent it is outdoor air, it enters at the cap, and
it leaves with all flue gas through the relief opening of the hood.

Sources: one-dimensional momentum and energy balance of a gas stream (textbook); friction of
Swamee and Jain (J. Hydraulics Division 102, 1976), laminar 64/Re (Hagen-Poiseuille); viscosity of
air, Sutherland. `docs/draft-physics.md` gives the derivation.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence, Sequence

from fluewright.draft.system import GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2

Figures = Sequence[float]
Rows = Sequence[Figures]

# Places in ``par``.
FLUE_KG_S, FLUE_K, FLUE_MOLAR, FLUE_CP = 0, 1, 2, 3
RELIEF_M2, PLUME_M = 4, 5
OUT_K, ROOM_K, AIR_PA, ROOM_PA, CAP_PA, CAP_LOSS = 6, 7, 8, 9, 10, 11
ROOM_MOLAR, ROOM_CP, OUT_MOLAR, OUT_CP, MOMENTUM = 12, 13, 14, 15, 16
PAR_SIZE = 17
ALL_FLUE = -1.0  # as FLUE_KG_S: whatever flows is flue gas, to find the most that a vent takes

# Places in a row.
LENGTH, RISE, DIAMETER, AREA, AMBIENT, HEAT, ENTRY, ROUGH, DARCY = 0, 1, 2, 3, 4, 5, 6, 7, 8
ROW_SIZE = 9  # HEAT is U times inside perimeter [W/(m K)]; ROUGH below 0: DARCY counts

LAMINAR, TURBULENT = 2000.0, 4000.0
BASE_ENTRANCE_LOSS = 0.5  # outdoor air drawn in at the top: a sharp edge (handbook, from memory)
GRID = 40  # points of the search for roots, each way
CLOSE = 2e-13  # of a squared flow: how closely a root is enclosed
TINY_SHARE = 1e-7  # of the largest flow: what stands for a flow of nothing


def viscosity(gas_k: float) -> float:
    """Dynamic viscosity of air. [Pa s]"""
    return 1.458e-6 * gas_k * math.sqrt(gas_k) / (gas_k + 110.4)


def turbulent(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow. [-]"""
    inner = math.log(relative_roughness / 3.7 + 5.74 / reynolds**0.9)
    return 1.3254745276195995 / (inner * inner)  # 0.25 ln(10)^2


def friction(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor, with a straight blend between laminar and turbulent. [-]"""
    if reynolds <= LAMINAR:
        return 64.0 / reynolds
    if reynolds >= TURBULENT:
        return turbulent(reynolds, relative_roughness)
    low = 64.0 / LAMINAR
    share = (reynolds - LAMINAR) / (TURBULENT - LAMINAR)
    return low + share * (turbulent(TURBULENT, relative_roughness) - low)


def cooled(gas_k: float, ambient_k: float, exponent: float) -> tuple[float, float, float]:
    """Where a stream ends that decays towards its surroundings. [K, K, 1/K]

    Returns:
        Temperature at the end, mean temperature, and the exact mean of 1/T.
    """
    excess = gas_k - ambient_k
    if exponent <= 0.0:
        return gas_k, gas_k, 1.0 / gas_k
    lost = -excess * math.expm1(-exponent)
    mean_inverse = (1.0 + math.log1p(-lost / gas_k) / exponent) / ambient_k
    return gas_k - lost, ambient_k + lost / exponent, mean_inverse


def stretch(
    flow: float, gas_k: float, molar: float, cp: float, row: Figures, par: Figures
) -> tuple[float, float, float, float]:
    """One segment, gas entering at its start. [K, K, Pa, Pa]

    Args:
        flow: mass flow, above 0, in the direction in which the gas goes. [kg/s]
        gas_k: temperature at which it enters. [K]
        molar: its molar mass. [kg/kmol]
        cp: its heat capacity. [J/(kg K)]
        row: the segment.
        par: the system.
    Returns:
        Temperature at its end, mean temperature, pressure gained by lightness over its rise, and
        pressure lost to friction and to change of speed, without its entry.
    """
    exponent = row[HEAT] * row[LENGTH] / (flow * cp)
    end_k, mean_k, mean_inverse = cooled(gas_k, row[AMBIENT], exponent)
    air = par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    lift = GRAVITY_M_S2 * row[RISE] * air * (par[OUT_MOLAR] / par[OUT_K] - molar * mean_inverse)
    speed = flow / row[AREA]
    head = speed * speed / (2.0 * air * molar)  # velocity head a kelvin
    if row[ROUGH] < 0.0:
        factor = row[DARCY]
    else:
        diameter = row[DIAMETER]
        factor = friction(speed * diameter / viscosity(mean_k), row[ROUGH] / diameter)
    lost = factor * row[LENGTH] / row[DIAMETER] * head * mean_k
    return end_k, mean_k, lift, lost + par[MOMENTUM] * head * (end_k - gas_k)


def velocity_head(flow: float, gas_k: float, molar: float, area: float, air_pa: float) -> float:
    """Velocity head of a stream. [Pa]"""
    speed = flow / area
    air = air_pa / GAS_CONSTANT_J_KMOL_K
    return speed * speed / (2.0 * air * molar) * gas_k


def entering(flow: float, par: Figures) -> tuple[float, float, float, float]:
    """The gas that goes up a vent, and the pressure in the hood over the room's.

    Args:
        flow: up the vent, above 0. [kg/s]
        par: the system.
    Returns:
        Temperature, molar mass, heat capacity, and pressure of the hood with the lift of the gas
        in it. [K, kg/kmol, J/(kg K), Pa]
    """
    flue = par[FLUE_KG_S] if par[FLUE_KG_S] >= 0.0 else flow
    air = par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    room = air * par[ROOM_MOLAR] / par[ROOM_K]
    if flow >= flue:
        extra = flow - flue
        heat = flue * par[FLUE_CP] + extra * par[ROOM_CP]
        gas_k = (flue * par[FLUE_CP] * par[FLUE_K] + extra * par[ROOM_CP] * par[ROOM_K]) / heat
        molar = flow / (flue / par[FLUE_MOLAR] + extra / par[ROOM_MOLAR])
        cp = heat / flow
        hood = -extra * extra / (2.0 * room * par[RELIEF_M2] * par[RELIEF_M2])
    else:
        spilt = flue - flow
        gas_k, molar, cp = par[FLUE_K], par[FLUE_MOLAR], par[FLUE_CP]
        hood = spilt * spilt / (2.0 * air * molar / gas_k * par[RELIEF_M2] * par[RELIEF_M2])
    lifted = GRAVITY_M_S2 * par[PLUME_M] * (room - air * molar / gas_k)
    return gas_k, molar, cp, hood + lifted


def rising(flow: float, par: Figures, rows: Rows, count: int) -> float:
    """Pressure to spare at a flow up the vent: what drives it less what it costs. [Pa]"""
    gas_k, molar, cp, spare = entering(flow, par)
    spare += par[ROOM_PA] - par[CAP_PA]
    for i in range(count):
        row = rows[i]
        entry = row[ENTRY] * velocity_head(flow, gas_k, molar, row[AREA], par[AIR_PA])
        gas_k, _, lift, lost = stretch(flow, gas_k, molar, cp, row, par)
        spare += lift - lost - entry
    end = velocity_head(flow, gas_k, molar, rows[count - 1][AREA], par[AIR_PA])
    return spare - (par[CAP_LOSS] + 1.0) * end


def falling(flow: float, par: Figures, rows: Rows, count: int) -> float:
    """Pressure to spare upward while outdoor air comes down the vent. [Pa]

    Args:
        flow: down the vent, above 0. [kg/s]
        par: the system.
        rows: its segments.
        count: how many they are.
    """
    gas_k, molar, cp = par[OUT_K], par[OUT_MOLAR], par[OUT_CP]
    top = velocity_head(flow, gas_k, molar, rows[count - 1][AREA], par[AIR_PA])
    spare = par[ROOM_PA] - par[CAP_PA] + (par[CAP_LOSS] + BASE_ENTRANCE_LOSS) * top
    for j in range(count):
        row = rows[count - 1 - j]
        end_k, _, lift, lost = stretch(flow, gas_k, molar, cp, row, par)
        entry = row[ENTRY] * velocity_head(flow, end_k, molar, row[AREA], par[AIR_PA])
        spare += lift + lost + entry
        gas_k = end_k
    spare += velocity_head(flow, gas_k, molar, rows[0][AREA], par[AIR_PA])
    return spare + reversed_hood(flow, gas_k, par)


def reversed_hood(flow: float, gas_k: float, par: Figures) -> float:
    """Pressure of a hood that outdoor air comes down into, over the room's. [Pa]

    The air and all flue gas mix there and leave by the relief opening.
    """
    flue = par[FLUE_KG_S]
    air = par[AIR_PA] / GAS_CONSTANT_J_KMOL_K
    both = flue + flow
    molar = both / (flue / par[FLUE_MOLAR] + flow / par[OUT_MOLAR])
    heat = flue * par[FLUE_CP] + flow * par[OUT_CP]
    mixed_k = (flue * par[FLUE_CP] * par[FLUE_K] + flow * par[OUT_CP] * gas_k) / heat
    density = air * molar / mixed_k
    room = air * par[ROOM_MOLAR] / par[ROOM_K]
    pushed = both * both / (2.0 * density * par[RELIEF_M2] * par[RELIEF_M2])
    return pushed + GRAVITY_M_S2 * par[PLUME_M] * (room - density)


def spare_pressure(flow: float, par: Figures, rows: Rows, count: int) -> float:
    """Pressure to spare at a flow, up (above 0) or down (below 0). [Pa]

    Where it is above 0 the flow grows upward. At a flow of 0 it has no value: the gas in the vent
    differs on either side.
    """
    if flow > 0.0:
        return rising(flow, par, rows, count)
    return falling(-flow, par, rows, count)


def root_between(
    low: float,
    low_pa: float,
    high: float,
    high_pa: float,
    par: Figures,
    rows: Rows,
    count: int,
) -> float:
    """The flow between two of opposite spare pressure at which it vanishes. [kg/s]

    Source: Chandrupatla's hybrid of bisection and inverse quadratic interpolation
    (Advances in Engineering Software 28, 1997), over the square of the flow: losses grow with it,
    so that the spare pressure is nearly straight over it.
    """
    a, fa, b, fb = high * abs(high), high_pa, low * abs(low), low_pa
    c, fc = a, fa
    t = fa / (fa - fb)
    for _ in range(100):
        x = a + t * (b - a)
        fx = spare_pressure(math.copysign(math.sqrt(abs(x)), x), par, rows, count)
        if (fx > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, fc = b, fb
            b, fb = a, fa
        a, fa = x, fx
        best = a if abs(fa) < abs(fb) else b
        width = CLOSE * abs(best) / max(abs(b - a), 1e-300)
        if fa == 0.0 or width > 0.5:
            break
        xi = (a - b) / (c - b)
        phi = (fa - fb) / (fc - fb)
        if phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi:
            t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (
                fc - fb
            )
        else:
            t = 0.5
        t = min(max(t, width), 1.0 - width)
    best = a if abs(fa) < abs(fb) else b
    return math.copysign(math.sqrt(abs(best)), best)


def flow_scale(par: Figures, rows: Rows, count: int) -> float:
    """A flow of the size that the vent can carry: 1 Pa of velocity head in its narrowest part."""
    area = rows[0][AREA]
    for i in range(count):
        area = min(area, rows[i][AREA])
    density = par[AIR_PA] * par[OUT_MOLAR] / (GAS_CONSTANT_J_KMOL_K * par[OUT_K])
    return area * math.sqrt(2.0 * density)


def beyond(sign: float, par: Figures, rows: Rows, count: int) -> float:
    """A flow, up (1) or down (-1), at which the losses surely win; 0 where none is found. [kg/s]"""
    flow = max(flow_scale(par, rows, count), 1.5 * par[FLUE_KG_S])
    for _ in range(60):
        if sign * spare_pressure(sign * flow, par, rows, count) < 0.0:
            return flow
        flow *= 2.0
    return 0.0


def operating_flow(par: Figures, rows: Rows, count: int) -> float:
    """The largest flow up the vent at which all pressures balance; 0 where there is none. [kg/s]

    The vent returns to it after a small push: a little more flow costs more than drives it.
    """
    low = max(flow_scale(par, rows, count), 1.5 * par[FLUE_KG_S])
    low_pa = rising(low, par, rows, count)
    if low_pa < 0.0:
        return largest_below(low, low_pa, par, rows, count)
    for _ in range(60):
        high = 2.0 * low
        high_pa = rising(high, par, rows, count)
        if high_pa < 0.0:
            return root_between(low, low_pa, high, high_pa, par, rows, count)
        low, low_pa = high, high_pa
    return 0.0


def largest_below(most: float, most_pa: float, par: Figures, rows: Rows, count: int) -> float:
    """The largest root under a flow at which the losses win; 0 where there is none. [kg/s]

    The grid is that of ``roots``, looked through from above.
    """
    x0 = x1 = most
    f0 = f1 = most_pa
    for i in range(GRID - 1, -1, -1):
        share = i / GRID
        x2 = most * max(share * share * share, TINY_SHARE)
        f2 = rising(x2, par, rows, count)
        if f2 > 0.0:
            return root_between(x2, f2, x1, f1, par, rows, count)
        if i < GRID - 1 and f1 >= f0 and f1 > f2:
            dip, dip_pa = nearest_zero(x2, x1, x0, par, rows, count)
            if dip_pa > 0.0:
                return root_between(dip, dip_pa, x0, f0, par, rows, count)
        x0, f0, x1, f1 = x1, f1, x2, f2
    return 0.0


def roots(par: Figures, rows: Rows, count: int, found: MutableSequence[float]) -> int:
    """Every flow at which the pressures balance, downward first. [kg/s]

    The range is searched on a grid; where the spare pressure comes near zero without crossing it
    the spot is looked at more closely, so that two roots side by side are not missed.

    Args:
        par: the system.
        rows: its segments.
        count: how many they are.
        found: takes the roots, at most its length.
    Returns:
        How many there are; -1 where no range that holds them all was found.
    """
    up = beyond(1.0, par, rows, count)
    down = beyond(-1.0, par, rows, count)
    if up == 0.0 or down == 0.0:
        return -1
    many = roots_on_side(-1.0, down, par, rows, count, found, 0)
    return roots_on_side(1.0, up, par, rows, count, found, many)


def roots_on_side(
    sign: float,
    most: float,
    par: Figures,
    rows: Rows,
    count: int,
    found: MutableSequence[float],
    many: int,
) -> int:
    """Adds the roots of one direction to ``found``, from the smallest flow to the largest."""
    x0 = x1 = sign * most * TINY_SHARE
    f0 = f1 = spare_pressure(x1, par, rows, count)
    for i in range(1, GRID + 1):
        share = i / GRID
        x2 = sign * most * max(share * share * share, TINY_SHARE)
        f2 = spare_pressure(x2, par, rows, count)
        if (f1 > 0.0) != (f2 > 0.0):
            if many < len(found):
                found[many] = root_between(x1, f1, x2, f2, par, rows, count)
                many += 1
        elif i > 1 and (f0 > 0.0) == (f1 > 0.0) and abs(f1) < abs(f0) and abs(f1) <= abs(f2):
            dip, dip_pa = nearest_zero(x0, x1, x2, par, rows, count)
            if (dip_pa > 0.0) != (f1 > 0.0) and many + 1 < len(found):
                found[many] = root_between(x0, f0, dip, dip_pa, par, rows, count)
                found[many + 1] = root_between(dip, dip_pa, x2, f2, par, rows, count)
                many += 2
        x0, f0, x1, f1 = x1, f1, x2, f2
    return many


def nearest_zero(
    low: float, middle: float, high: float, par: Figures, rows: Rows, count: int
) -> tuple[float, float]:
    """The flow between two where the spare pressure is nearest to zero, or past it. [kg/s, Pa]

    Golden section on a stretch that holds one extremum; it stops once the sign has changed.
    """
    sign = 1.0 if spare_pressure(middle, par, rows, count) > 0.0 else -1.0
    ratio = 0.3819660112501051
    a, b = low, high
    x = y = a + ratio * (b - a)
    fx = sign * spare_pressure(x, par, rows, count)
    y = b - ratio * (b - a)
    fy = sign * spare_pressure(y, par, rows, count)
    for _ in range(40):
        if fx < 0.0:
            return x, sign * fx
        if fy < 0.0:
            return y, sign * fy
        if fx < fy:
            b, y, fy = y, x, fx
            x = a + ratio * (b - a)
            fx = sign * spare_pressure(x, par, rows, count)
        else:
            a, x, fx = x, y, fy
            y = b - ratio * (b - a)
            fy = sign * spare_pressure(y, par, rows, count)
    return (x, sign * fx) if fx < fy else (y, sign * fy)
