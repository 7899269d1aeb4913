"""Carbon monoxide that an appliance gives to the room when its gas spills.

What is measured in the flue is brought to air-free gas, multiplied by the dry gas of exact
combustion and by the part of it that comes into the room. Gas that spills for long is drawn
into the burner again and burns worse: no formula here predicts that, so a multiplier from a
stated range stands for it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.draft.system import STANDARD_AIR_PA
from fluewright.errors import OutOfRange

AMBIENT_O2 = 0.209  # dry air, as the air-free formula is written in the trade
ICE_K = 273.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A lowest and a highest value, and where they come from."""

    low: float
    high: float
    source: str


VITIATION = Range(
    low=1.0,
    high=20.0,
    source=(
        "1: the burner goes on burning as it was measured. 20: a furnace of 110,000 Btu/h with its "
        "vent blocked or off gave more than 200,000 cm3/h (US Consumer Product Safety Commission, "
        "staff report on blocked and disconnected vents, 2000; summary read), about 20 times "
        "the 400 ppm air-free allowed with a blocked vent (ANSI Z21.47 as quoted on a secondary "
        "page). Between: a boiler whose heat exchanger was blocked by 60 percent gave 10 times as "
        "much (university test, 2016; abstract read)."
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spell:
    """A stretch of time in which one share of the flue gas spills; 0 while the burner is off."""

    duration_s: float
    spilled: float


def air_free_from_o2(co_ppm: float, o2_dry: float) -> float:
    """Carbon monoxide in flue gas freed of its excess air, from oxygen. [ppm]

    Source: definition, CO x 20.9 / (20.9 - O2); excess air brings no CO.

    Args:
        co_ppm: as measured in the dry flue gas. [ppm]
        o2_dry: oxygen measured in the same gas. [mole fraction, dry]
    Returns:
        Concentration in the dry gas of exact combustion. [ppm]
    Raises:
        OutOfRange: a negative reading, or so much oxygen that the probe stood in air.
    """
    _check("CO", co_ppm, 0.0, 1e6, "ppm")
    if not 0.0 <= o2_dry < AMBIENT_O2:
        raise OutOfRange(
            f"air-free CO: oxygen {o2_dry:g}. Allowed: 0 up to, not including, {AMBIENT_O2:g}; "
            "as much as in air means that no flue gas was drawn. Move the probe into the gas."
        )
    return co_ppm * AMBIENT_O2 / (AMBIENT_O2 - o2_dry)


def air_free_from_co2(co_ppm: float, co2_dry: float, ultimate_co2: float) -> float:
    """Carbon monoxide in flue gas freed of its excess air, from carbon dioxide. [ppm]

    Source: definition, CO x ultimate CO2 / CO2.

    Args:
        co_ppm: as measured in the dry flue gas. [ppm]
        co2_dry: carbon dioxide measured in the same gas. [mole fraction, dry]
        ultimate_co2: that of the fuel's gas without excess air. [mole fraction, dry]
    Returns:
        Concentration in the dry gas of exact combustion. [ppm]
    Raises:
        OutOfRange: a negative reading, no carbon dioxide, or more of it than the fuel can give.
    """
    _check("CO", co_ppm, 0.0, 1e6, "ppm")
    if not 0.0 < co2_dry <= ultimate_co2 <= 1.0:
        raise OutOfRange(
            f"air-free CO: carbon dioxide {co2_dry:g} with an ultimate of {ultimate_co2:g}. "
            "Allowed: above 0, at most the ultimate. Check the fuel and the probe."
        )
    return co_ppm * ultimate_co2 / co2_dry


def co_release(
    air_free_ppm: float,
    dry_m3_j: float,
    input_w: float,
    *,
    spilled: float = 1.0,
    multiplier: float = 1.0,
) -> float:
    """Carbon monoxide given to the room. [m3/s at 0 degC and 101.325 kPa]

    Source: air-free concentration times dry gas of exact combustion times input times the share
    that spills; excess air dilutes and adds nothing.

    Args:
        air_free_ppm: CO in the air-free flue gas. [ppm]
        dry_m3_j: dry gas of exact combustion per heat of fuel, on the heating value that the input
            is stated in. [m3 at 0 degC and 101.325 kPa, per J]
        input_w: heat of the fuel burned. [W]
        spilled: share of the flue gas that comes into the room. [-]
        multiplier: scenario of worse burning in spilled gas, within ``VITIATION``. [-]
    Returns:
        Volume of CO a second at the conditions named; ``at_room`` brings it to the room's. [m3/s]
    Raises:
        OutOfRange: one of them outside what it can be.
    """
    _check("air-free CO", air_free_ppm, 0.0, 1e6, "ppm")
    _check("dry gas per heat", dry_m3_j, 1e-8, 1e-5, "m3/J (natural gas: about 2.2e-7)")
    _check("input", input_w, 0.0, 1e8, "W")
    _check("spilled share", spilled, 0.0, 1.0, "")
    _check("multiplier", multiplier, VITIATION.low, VITIATION.high, "")
    in_gas = air_free_ppm * multiplier
    _check("air-free CO times multiplier", in_gas, 0.0, 1e6, "ppm")
    return in_gas * 1e-6 * dry_m3_j * input_w * spilled


def at_room(volume_m3_s: float, room_k: float, air_pa: float = STANDARD_AIR_PA) -> float:
    """The same gas at the temperature and pressure of the room. [m3/s]

    Source: ideal gas.

    Args:
        volume_m3_s: at 0 degC and 101.325 kPa. [m3/s]
        room_k: temperature of the room. [K]
        air_pa: pressure of its air. [Pa]
    Returns:
        Volume at the room's conditions. [m3/s]
    Raises:
        OutOfRange: a temperature or pressure that no dwelling has.
    """
    _check("room temperature", room_k, 223.15, 373.15, "K")
    _check("air pressure", air_pa, 4e4, 1.2e5, "Pa")
    return volume_m3_s * room_k / ICE_K * STANDARD_AIR_PA / air_pa


def startup_spill(spill_s: float, then: float = 0.0) -> tuple[tuple[float, float], ...]:
    """All gas spills for a while after each start, then a fixed share. [(s, -)]"""
    return ((spill_s, 1.0), (math.inf, then))


def cycles(
    on_s: float,
    off_s: float,
    count: int,
    spilled: float | Sequence[tuple[float, float]],
) -> tuple[Spell, ...]:
    """Burner on, burner off, a number of times over, as stretches of constant spillage. [s, -]

    Source: bookkeeping.

    Args:
        on_s: burning time of one cycle. [s]
        off_s: resting time of one cycle. [s]
        count: number of cycles.
        spilled: one share for the whole burn, or (duration, share) pairs from the start of each
            burn; the last duration may be infinite, meaning to its end. [-] or [(s, -)]
    Returns:
        Stretches in order; those of no length are left out.
    Raises:
        OutOfRange: pairs that do not reach to the end of the burn, shares outside 0 to 1, times
            that are negative.
    """
    _check("burning time", on_s, 1e-3, 1e8, "s")
    _check("resting time", off_s, 0.0, 1e8, "s")
    if not 1 <= count <= 100_000:
        raise OutOfRange(f"cycles: {count} of them. Allowed: 1 to 100,000.")
    pairs = ((math.inf, spilled),) if isinstance(spilled, int | float) else tuple(spilled)
    burn: list[Spell] = []
    left = on_s
    for duration, share in pairs:
        _check("spilled share", share, 0.0, 1.0, "")
        if not duration >= 0.0:
            raise OutOfRange(f"spillage for {duration} s. Allowed: 0 s and more.")
        taken = min(duration, left)
        burn += [Spell(duration_s=taken, spilled=share)] if taken > 0.0 else []
        left -= taken
    if left > 1e-9 * on_s:
        raise OutOfRange(
            f"spillage: nothing is said of the last {left:g} s of a burn of {on_s:g} s. Say what "
            "spills then; silence is not taken for none."
        )
    rest = [Spell(duration_s=off_s, spilled=0.0)] if off_s > 0.0 else []
    return tuple((burn + rest) * count)


def _check(what: str, value: float, low: float, high: float, unit: str) -> None:
    """Refuse a value outside its range, or none at all."""
    if not low <= value <= high:
        raise OutOfRange(f"{what}: {value:g} {unit}. Allowed: {low:g} to {high:g}.")
