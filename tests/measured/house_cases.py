"""What the engine makes of each measured case about a house. One figure a key of the outcome."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

from tests.measured.build import (
    BTU_H,
    CELSIUS,
    FOOT,
    INCH,
    Given,
    american,
    american_flame,
    fuel_named,
    no_flame,
)
from tests.measured.vent_cases import MOLAR_M3_0C, idle_vent_law

from fluewright.draft import kernel
from fluewright.draft.co_release import at_room, co_release
from fluewright.draft.co_room import Rooms, Zone, over_time, steady_ppm
from fluewright.draft.house import House, Opening, Outflow, Vent, envelope, house_pressure
from fluewright.draft.leakage import (
    CFM_M3_S,
    air_density,
    area,
    fan_depressurization,
    from_area,
    from_changes_at_50,
    from_flow_at_50,
    from_normalized,
)
from fluewright.draft.solve import figures
from fluewright.draft.system import AIR_KG_KMOL, Around, Flue

CODE_LIMIT_PPM = 400.0  # air-free CO with a blocked vent, ANSI Z21.47 as quoted on a second page
HOUSES, SEED = 4000, 20260101


def idle_vent_share(given: Given) -> dict[str, float]:
    """An idle furnace vent as a leak beside those of the envelope."""
    found = idle_vent_law(given)
    house = from_normalized(given["normalized"], given["floor_m2"], given["house_m"])
    own = area(from_area(found["flow_4pa_m3_s"] / math.sqrt(2.0 * 4.0 / 1.2041)))
    return {"exponent": found["exponent"], "share": own / (own + area(house))}


def fan_chart(given: Given) -> dict[str, float]:
    """House pressure of one fan by the tightness of the house, as suction. [Pa]"""
    fan = given["fan_cfm"] * CFM_M3_S
    return {
        f"at_{cfm}": -fan_depressurization(
            fan, from_flow_at_50(cfm * CFM_M3_S, given["exponent"])
        )
        for cfm in (2500, 1000)
    }  # fmt: skip


def co_of_blocked_furnace(given: Given) -> dict[str, float]:
    """Carbon monoxide of a furnace whose vent is blocked, and of a house that takes it all."""
    fuel = fuel_named("natural_gas")
    input_w = given["input_kbtu_h"] * 1e3 * BTU_H
    dry_m3_j = fuel.dry_kmol / fuel.hhv_j_kmol * MOLAR_M3_0C
    given_off = co_release(
        CODE_LIMIT_PPM, dry_m3_j, input_w, spilled=1.0, multiplier=given["multiplier"]
    )
    # At 0 degC, where flue gas is counted; the source does not say at which its volume is.
    seen = given["release_m3_h"] / 3600.0 * CELSIUS / (CELSIUS + given["volume_degc"])
    volume = given["floor_ft2"] * FOOT**2 * given["ceiling_m"]
    room = Rooms(
        appliance=Zone(
            name="house", volume_m3=volume,
            outdoor_m3_s=given["changes_h"] * volume / 3600.0,
        )
    )  # fmt: skip
    push = at_room(seen, 293.15)
    return {
        "release_m3_h": given_off * 3600.0,
        "air_free_ppm": seen / (dry_m3_j * input_w) * 1e6,
        "steady_ppm": steady_ppm(room, push)[0],
        "hour_ppm": over_time(room, ((3600.0, push),)).histories[0].ppm[-1],
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Air:
    """Outdoor air that a house takes in and what goes up its vent, each off and burning. [m3/s]"""

    plain: float
    off: float
    on: float
    off_vent: float
    on_vent: float


def furnace_air(given: Given) -> dict[str, float]:
    """Air that a furnace with a draft hood draws, over what its gas needs. [-]

    What goes up its vent, that less what the idle vent draws, and by how much more the house
    takes in: three readings of one sentence.
    """
    air = _air(given)
    fuel = fuel_named("natural_gas")
    needed_kg_s = (
        given["input_kbtu_h"] * 1e3 * BTU_H * fuel.air_kmol / fuel.hhv_j_kmol * AIR_KG_KMOL
    )
    needed = needed_kg_s / air_density(given["outdoor_degc"] + CELSIUS)
    return {
        "vent": air.on_vent / needed,
        "vent_rise": (air.on_vent - air.off_vent) / needed,
        "house_rise": (air.on - air.off) / needed,
    }


def vent_and_house(given: Given) -> dict[str, float]:
    """What a furnace vent adds to the air change of a house, averaged over the time. [1/h]"""
    air = _air(given)
    on = given["duty"]
    added = on * air.on + (1.0 - on) * air.off - air.plain
    return {"average_added_h": added * 3600.0 / _volume(given)}


def townhouse_stack(given: Given) -> dict[str, float]:
    """What 7 K more between indoors and outdoors add to the air change, furnace off. [1/h]"""
    warm, cold = (
        _air({**given, "outdoor_degc": 20.0 - given["difference_k"] - more}).off
        for more in (0.0, 7.0)
    )
    return {"added_h": (cold - warm) * 3600.0 / _volume(given)}


def _volume(given: Given) -> float:
    return given["floor_m2"] * given["story_m"]


def _air(given: Given) -> _Air:
    """The house without its vent, with it idle, and with it burning."""
    leaks = envelope(
        from_changes_at_50(given["changes_50_h"], _volume(given)), 2.0 * given["story_m"]
    )
    out_k, room_k = given["outdoor_degc"] + CELSIUS, 293.15
    burning = american_flame(given, given["input_kbtu_h"] * 1e3 * BTU_H, room_k)
    vents = [
        Vent(name="vent", height_m=0.5, outflow=_outflow(given, gas, out_k, room_k))
        for gas in (no_flame(room_k), burning)
    ]
    off, off_vent = _inflow(leaks, (vents[0],), out_k, room_k)
    on, on_vent = _inflow(leaks, (vents[1],), out_k, room_k)
    return _Air(
        plain=_inflow(leaks, (), out_k, room_k)[0], off=off, on=on, off_vent=off_vent,
        on_vent=on_vent,
    )  # fmt: skip


def _outflow(given: Given, gas: Flue, out_k: float, room_k: float) -> Outflow:
    """Air that leaves a house up a vent by the pressure of the house at the hood. [kg/s]"""

    def outflow(room_pa: float) -> float:
        system = american(
            given, flue=gas, diameter_m=given["vent_in"] * INCH,
            height_m=given["height_ft"] * FOOT, lateral_m=given["lateral_ft"] * FOOT,
            around=Around(outdoor_k=out_k, room_k=room_k, room_pa=room_pa),
        )  # fmt: skip
        par, rows = figures(system)
        return kernel.operating_flow(par, rows, len(rows))

    return outflow


def _inflow(
    leaks: tuple[Opening, ...], vents: tuple[Vent, ...], out_k: float, room_k: float
) -> tuple[float, float]:
    """Outdoor air that enters a house, and air that goes up its vents. [m3/s of outdoor air]"""
    found = house_pressure(
        House(indoor_k=room_k, outdoor_k=out_k, openings=leaks, vents=vents, hood_m=0.5)
    )
    density = air_density(out_k)
    taken = -math.fsum(one.mass_kg_s for one in found.flows if one.mass_kg_s < 0.0)
    names = {vent.name for vent in vents}
    through = math.fsum(one.mass_kg_s for one in found.flows if one.name in names)
    return taken / density, through / density


def depressurized_houses(given: Given) -> dict[str, float]:
    """Share of many invented houses that their fans, all on, pull below a limit.

    A house has one or two bath fans, a range hood and mostly a dryer. The sample is the same
    for every figure of the case, so that only the figure moves the share.
    """
    chance = Random(SEED)
    over = {3.0: 0, 5.0: 0}
    for _ in range(HOUSES):
        spread = math.log(given["leak_spread"])
        cfm50 = given["median_cfm50"] * math.exp(spread * chance.gauss(0.0, 1.0))
        fans = sum(chance.triangular(25.0, 100.0, 50.0) for _ in range(chance.choice((1, 2))))
        fans += chance.triangular(100.0, 400.0, 200.0) if chance.random() < 0.8 else 0.0
        fans += chance.triangular(100.0, 200.0, 150.0) if chance.random() < 0.9 else 0.0
        leak = from_flow_at_50(cfm50 * CFM_M3_S)
        suction = -fan_depressurization(fans * given["fans_over_rated"] * CFM_M3_S, leak)
        for limit in over:
            over[limit] += suction > limit
    return {f"over_{limit:.0f}_pa": many / HOUSES for limit, many in over.items()}
