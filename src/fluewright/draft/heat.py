"""How a gas cools along its pipe, what that does to its draft, and whether the wall stays dry.

The plain reference of the kernels, which hold the same formulas inlined. ``decay`` stands for
K = U pi D L / (m cp) throughout: the natural logarithm of how far the gas has cooled toward
what surrounds it. Also the form of EN 13384-1.
"""

from __future__ import annotations

import math

from fluewright.errors import OutOfRange

FEW = 1e-9  # a decay below this is none: the next term is its square


def decay_number(
    u_w_m2k: float, perimeter_m: float, length_m: float, mass_kg_s: float, cp_j_kgk: float
) -> float:
    """How far a gas cools toward its surroundings: U P L / (m cp). [-]

    Args:
        u_w_m2k: overall heat loss per inside area. [W/(m2 K)]
        perimeter_m: inside. [m]
        length_m: along the center line. [m]
        mass_kg_s: of gas, above zero; either way. [kg/s]
        cp_j_kgk: of the gas. [J/(kg K)]

    Returns:
        Zero for a perfectly lagged pipe. [-]

    Raises:
        OutOfRange: nothing flows, or a size is below zero.
    """
    flow = abs(mass_kg_s) * cp_j_kgk
    if not 0.0 < flow < math.inf:
        raise OutOfRange(
            f"gas flow of {mass_kg_s:g} kg/s at {cp_j_kgk:g} J/(kg K) carries no heat. "
            "A gas at rest takes the temperature of its surroundings."
        )
    loss = u_w_m2k * perimeter_m * length_m
    if min(u_w_m2k, perimeter_m, length_m) < 0.0 or not math.isfinite(loss):
        raise OutOfRange(
            f"U {u_w_m2k:g} W/(m2 K), perimeter {perimeter_m:g} m, length {length_m:g} m: "
            "none may be below zero."
        )
    return loss / flow


def outlet_temperature(inlet_k: float, ambient_k: float, decay: float) -> float:
    """Temperature of the gas at the end of a segment. [K]

    Ta + (Tin - Ta) exp(-K).

    Args:
        inlet_k: of the gas coming in. [K]
        ambient_k: of what surrounds the pipe. [K]
        decay: from ``decay_number``. [-]

    Raises:
        OutOfRange: a temperature is not above zero, or the decay is below.
    """
    _check(inlet_k, ambient_k, decay)
    return inlet_k + (inlet_k - ambient_k) * math.expm1(-decay)


def mean_temperature(inlet_k: float, ambient_k: float, decay: float) -> float:
    """Mean temperature of the gas along a segment, by length. [K]

    Ta + (Tin - Ta) (1 - exp(-K)) / K.

    Args:
        inlet_k: of the gas coming in. [K]
        ambient_k: of what surrounds the pipe. [K]
        decay: from ``decay_number``. [-]

    Raises:
        OutOfRange: a temperature is not above zero, or the decay is below.
    """
    _check(inlet_k, ambient_k, decay)
    if decay < FEW:
        return inlet_k - 0.5 * decay * (inlet_k - ambient_k)
    return ambient_k - (inlet_k - ambient_k) * math.expm1(-decay) / decay


def mean_inverse_temperature(inlet_k: float, ambient_k: float, decay: float) -> float:
    """Mean of 1/T of the gas along a segment, exact: what its weight needs. [1/K]

    [K + ln(Tout / Tin)] / (K Ta). The logarithm is taken of one plus the change, so that
    neither a small nor a huge K loses digits, and it holds for a gas colder than its
    surroundings. One over the mean temperature would be less, and the draft too strong.

    Args:
        inlet_k: of the gas coming in. [K]
        ambient_k: of what surrounds the pipe. [K]
        decay: from ``decay_number``. [-]

    Raises:
        OutOfRange: a temperature is not above zero, or the decay is below.
    """
    _check(inlet_k, ambient_k, decay)
    excess = (inlet_k - ambient_k) / inlet_k
    if decay < FEW:
        return (1.0 + 0.5 * decay * excess) / inlet_k
    return (decay + math.log1p(excess * math.expm1(-decay))) / decay / ambient_k


def overall_u(
    inside_w_m2k: float, wall_m2k_w: float, outside_w_m2k: float, inner_to_outer: float
) -> float:
    """Overall heat loss per inside area from films and wall. [W/(m2 K)]

    1/U = 1/hi + R + (D/Do)/ho.

    Args:
        inside_w_m2k: film inside. [W/(m2 K)]
        wall_m2k_w: resistance of the wall, on the inside area. [m2 K/W]
        outside_w_m2k: film outside, on the outside area. [W/(m2 K)]
        inner_to_outer: inside over outside diameter. [-]

    Raises:
        OutOfRange: a film is not above zero, a resistance is below, or the ratio is not 0 to 1.
    """
    if not (inside_w_m2k > 0.0 and outside_w_m2k > 0.0 and 0.0 <= wall_m2k_w < math.inf):
        raise OutOfRange(
            f"films {inside_w_m2k:g} and {outside_w_m2k:g} W/(m2 K), wall {wall_m2k_w:g} m2 K/W: "
            "films must be above zero, the wall not below."
        )
    if not 0.0 < inner_to_outer <= 1.0:
        raise OutOfRange(f"inside over outside diameter is {inner_to_outer:g}, not 0 to 1.")
    return 1.0 / (1.0 / inside_w_m2k + wall_m2k_w + inner_to_outer / outside_w_m2k)


def wall_temperature(gas_k: float, ambient_k: float, u_w_m2k: float, inside_w_m2k: float) -> float:
    """Temperature of the inside of the wall in steady flow. [K]

    Tg - (U/hi) (Tg - Ta).

    Args:
        gas_k: of the gas there. [K]
        ambient_k: of what surrounds the pipe. [K]
        u_w_m2k: overall heat loss per inside area. [W/(m2 K)]
        inside_w_m2k: film inside. [W/(m2 K)]

    Raises:
        OutOfRange: a temperature is not above zero, or U is more than the film lets through.
    """
    _check(gas_k, ambient_k, 0.0)
    if not 0.0 <= u_w_m2k <= inside_w_m2k or not 0.0 < inside_w_m2k < math.inf:
        raise OutOfRange(
            f"U {u_w_m2k:g} W/(m2 K) does not fit the film inside, {inside_w_m2k:g} W/(m2 K): "
            "the film alone must pass at least as much."
        )
    return gas_k - u_w_m2k / inside_w_m2k * (gas_k - ambient_k)


def wet_share(
    *,
    inlet_k: float,
    ambient_k: float,
    decay: float,
    u_to_film: float,
    dew_point_k: float,
) -> float:
    """Share of a segment whose wall is below the dew point in steady flow. [-]

    The wall follows the gas: Tw = Ta + (1 - U/hi) (Tin - Ta) exp(-K x/L), so the place where it
    crosses the dew point is a logarithm. Water that leaves the gas on the way, which lowers the
    dew point and warms the wall, is not followed: the share is an upper bound.

    Args:
        inlet_k: of the gas coming in. [K]
        ambient_k: of what surrounds the pipe. [K]
        decay: from ``decay_number``. [-]
        u_to_film: overall heat loss over the film inside, 0 to 1. [-]
        dew_point_k: of the gas in this vent, diluted. [K]

    Returns:
        From 0, dry throughout, to 1, wet throughout. [-]

    Raises:
        OutOfRange: a temperature is not above zero, the decay is below, or U exceeds the film.
    """
    _check(inlet_k, ambient_k, decay)
    _check(dew_point_k, ambient_k, decay)
    if not 0.0 <= u_to_film <= 1.0:
        raise OutOfRange(f"U over the film inside is {u_to_film:g}, not 0 to 1.")
    first = (1.0 - u_to_film) * (inlet_k - ambient_k)  # wall over surroundings, at the start
    dew = dew_point_k - ambient_k
    last = first * math.exp(-decay)
    if dew == 0.0 or (first < dew) == (last < dew):  # the wall never reaches its surroundings
        return 1.0 if first < dew else 0.0
    crossing = math.log(first / dew) / decay  # of one sign: dew lies between first and last
    return 1.0 - crossing if last < dew else crossing


def _check(one_k: float, other_k: float, decay: float) -> None:
    """Refuse temperatures that are none, and a gas that runs away from its surroundings."""
    for kelvin in (one_k, other_k):
        if not 0.0 < kelvin < math.inf:
            raise OutOfRange(f"temperature is {kelvin:g} K. It must be above zero.")
    if not 0.0 <= decay < math.inf:
        raise OutOfRange(f"decay is {decay:g}. It must be zero or more.")
