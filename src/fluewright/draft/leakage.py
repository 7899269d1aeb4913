"""How much air a house lets through: the power law, from whatever was measured.

Flow Q = C dp^n, dp the pressure difference. One C and one n hold from below 1 Pa to above
50 Pa (Air Infiltration Review 11(4), 1990), so that a test at 50 Pa speaks for the few pascals
at which vents spill. A fan alone then pulls the house down by (Q / C)^(1/n).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fluewright.draft.system import AIR_KG_KMOL, GAS_CONSTANT_J_KMOL_K, STANDARD_AIR_PA
from fluewright.errors import OutOfRange

CFM_M3_S = 0.3048**3 / 60.0
EXPONENT = 0.65  # 0.6 to 0.8 for the envelope, same paper; 0.65 is what everyone assumes
TEST_PA = 50.0
ELA_PA = 4.0  # at which the effective leakage area is stated (ASTM E779)
REFERENCE_KG_M3 = 1.2041  # dry air at 20 degC and 101 325 Pa, as in ASTM E779
# Pressures at which the law was measured; what lies beyond is extrapolated (same paper).
MEASURED_PA = (1.0, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leakage:
    """The power law of a house or of one opening: Q = c |dp|^n, with the sign of dp.

    Attributes:
        c: flow at 1 Pa, volume of the air that enters the opening. [m3/(s Pa^n)]
        n: exponent, 0.5 turbulent to 1 laminar. [-]
    """

    c: float
    n: float = EXPONENT

    def __post_init__(self) -> None:
        _positive("c", self.c, "m3/(s Pa^n)")
        if not 0.5 <= self.n <= 1.0:
            raise OutOfRange(
                f"leakage: exponent n is {self.n:g}. It lies from 0.5 (turbulent) to 1 (laminar); "
                "0.65 where it was not measured."
            )

    def flow(self, dp_pa: float) -> float:
        """Flow that a pressure difference drives, with its sign. [m3/s]"""
        return math.copysign(self.c * abs(dp_pa) ** self.n, dp_pa)

    def pressure(self, flow_m3_s: float) -> float:
        """Pressure difference that drives a flow, with its sign. [Pa]"""
        return math.copysign((abs(flow_m3_s) / self.c) ** (1.0 / self.n), flow_m3_s)

    def scaled(self, share: float) -> Leakage:
        """The same law for a share of the openings."""
        return Leakage(c=self.c * share, n=self.n)


def air_density(temperature_k: float, air_pa: float = STANDARD_AIR_PA) -> float:
    """Density of dry air. [kg/m3]

    Source: ideal gas. Water vapor lightens room air by up to 1 %, not counted here.

    Args:
        temperature_k: [K]
        air_pa: absolute pressure. [Pa]
    Raises:
        OutOfRange: neither is a figure that weather or a house can have.
    """
    if not 150.0 <= temperature_k <= 400.0:
        raise OutOfRange(f"air: {temperature_k:g} K is no weather. Give 150 to 400 K.")
    if not 2e4 <= air_pa <= 1.3e5:
        raise OutOfRange(f"air: {air_pa:g} Pa is no air pressure. Give 20 000 to 130 000 Pa.")
    return air_pa * AIR_KG_KMOL / (GAS_CONSTANT_J_KMOL_K * temperature_k)


def from_flow_at_50(flow_m3_s: float, n: float = EXPONENT) -> Leakage:
    """The leakage of which a blower door test gave the flow at 50 Pa. [law]

    Source: ASTM E779, the power law.

    Args:
        flow_m3_s: flow through the envelope at 50 Pa (CFM50 times CFM_M3_S). [m3/s]
        n: exponent from a test at several pressures, else 0.65. [-]
    Raises:
        OutOfRange: no flow, or no exponent of a leak.
    """
    _positive("flow at 50 Pa", flow_m3_s, "m3/s")
    return Leakage(c=flow_m3_s / TEST_PA**n, n=n)


def from_changes_at_50(changes_per_h: float, volume_m3: float, n: float = EXPONENT) -> Leakage:
    """The leakage from air changes per hour at 50 Pa. [law]

    Args:
        changes_per_h: ACH50. [1/h]
        volume_m3: heated volume, the one that the test used. [m3]
        n: as in `from_flow_at_50`. [-]
    Raises:
        OutOfRange: not positive, or no exponent of a leak.
    """
    _positive("air changes at 50 Pa", changes_per_h, "1/h")
    _positive("volume", volume_m3, "m3")
    return from_flow_at_50(changes_per_h * volume_m3 / 3600.0, n)


def from_area(
    area_m2: float, n: float = EXPONENT, at_pa: float = ELA_PA, discharge: float = 1.0
) -> Leakage:
    """The leakage that an effective (4 Pa, no discharge factor) or equivalent area stands for.

    Source: ASTM E779 (4 Pa, discharge 1); 10 Pa and 0.611 is the equivalent area of
    CAN/CGSB-149.10 (both from memory): area times discharge times sqrt(2 dp / density).

    Args:
        area_m2: of all leaks. [m2]
        n: exponent. [-]
        at_pa: pressure at which the area is stated. [Pa]
        discharge: factor of the definition. [-]
    Returns:
        The power law through that point.
    Raises:
        OutOfRange: not positive, or no exponent of a leak.
    """
    _positive("leakage area", area_m2, "m2")
    _positive("pressure of the leakage area", at_pa, "Pa")
    _positive("discharge factor", discharge, "1")
    flow = discharge * area_m2 * math.sqrt(2.0 * at_pa / REFERENCE_KG_M3)
    return Leakage(c=flow / at_pa**n, n=n)


def area(leak: Leakage, at_pa: float = ELA_PA, discharge: float = 1.0) -> float:
    """Leakage area at a pressure; the inverse of `from_area`. [m2]

    Args:
        leak: the law.
        at_pa: [Pa]
        discharge: factor of the definition. [-]
    Raises:
        OutOfRange: pressure or factor not positive.
    """
    _positive("pressure of the leakage area", at_pa, "Pa")
    _positive("discharge factor", discharge, "1")
    return leak.flow(at_pa) / (discharge * math.sqrt(2.0 * at_pa / REFERENCE_KG_M3))


def from_normalized(
    normalized: float, floor_m2: float, height_m: float, n: float = EXPONENT
) -> Leakage:
    """The leakage from a normalized leakage, the prior of a house that nobody tested. [law]

    Source: NL = 1000 (ELA / floor area) (height / 2.5 m)^0.3, ASHRAE Standard 119 (from memory).
    US houses: median 0.67, 90 % of them from 0.22 to 1.95 (LBNL, Analysis of Air Leakage
    Measurements of US Houses). A prior is no measurement: use the whole range.

    Args:
        normalized: NL. [-]
        floor_m2: heated floor area. [m2]
        height_m: of the heated part. [m]
        n: exponent. [-]
    Raises:
        OutOfRange: not positive, or no exponent of a leak.
    """
    _positive("normalized leakage", normalized, "1")
    _positive("floor area", floor_m2, "m2")
    _positive("height", height_m, "m")
    return from_area(normalized / 1000.0 * floor_m2 / (height_m / 2.5) ** 0.3, n)


def fan_depressurization(exhaust_m3_s: float, leak: Leakage) -> float:
    """House pressure less outdoors where exhaust fans alone act, zero or negative. [Pa]

    Source: the power law; no wind, no stack effect, no vent that lets air in.

    Args:
        exhaust_m3_s: what the fans move out, less what others bring in. [m3/s]
        leak: of the house.
    Raises:
        OutOfRange: the flow is no number.
    """
    if not math.isfinite(exhaust_m3_s):
        raise OutOfRange(f"exhaust flow is {exhaust_m3_s}. Give a number of m3/s.")
    return leak.pressure(-exhaust_m3_s) + 0.0


def _positive(what: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and value > 0.0):
        raise OutOfRange(f"leakage: {what} is {value:g} {unit}. It must be more than zero.")
