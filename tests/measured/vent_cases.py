"""What the engine makes of each measured case about a vent. One figure a key of the outcome."""

from __future__ import annotations

import math
from dataclasses import replace

from tests.measured.build import (
    BTU_H,
    CELSIUS,
    FOOT,
    INCH,
    Given,
    american,
    american_flame,
    flame,
    fuel_named,
    lower_over_higher,
    no_flame,
    number,
    straight,
)

from fluewright.draft.margins import limits, spill_margin
from fluewright.draft.solve import solve
from fluewright.draft.system import AIR_KG_KMOL, Around, Lone
from fluewright.draft.warmup import Start, standing, warm_up
from fluewright.files.physics import coefficients

MOLAR_M3_0C = 22.414  # m3/kmol at 0 degC and 101.325 kPa
ALLOWED_S = 300.0  # of spillage after a start: NFPA 54-2012 11.6


def short_flue(given: Given) -> dict[str, float]:
    """Gas after the draft hood of an instantaneous water heater on the shortest flue."""
    found: dict[str, float] = {}
    for name in ("natural_gas", "lp"):
        fuel = fuel_named(name)
        net = lower_over_higher(fuel)
        air_k = given["air_degc"] + CELSIUS
        # The other gas with the same excess air: its carbon dioxide scales with its highest.
        co2 = given["co2_before"] * fuel.co2_max / fuel_named("natural_gas").co2_max
        system = straight(
            given,
            flue=flame(
                fuel, input_w=given["net_kw"] * 1e3 / net, co2=co2,
                sensible=given["sensible_net"] * net, room_k=air_k,
            ),
            diameter_m=given["diameter_mm"] / 1e3, height_m=given["vertical_m"], warm_share=1.0,
            u_w_m2k=number(given, "wall_u.single_aluminum"),
            around=Around(outdoor_k=air_k, room_k=air_k), cap_loss=0.0,
        )  # fmt: skip
        at = solve(system).at
        drawn = at.root.flow_kg_s - system.flue.mass_kg_s
        kmol_s = system.flue.mass_kg_s / system.flue.molar_kg_kmol + drawn / AIR_KG_KMOL
        found |= {
            f"{name}_m3_h": kmol_s * MOLAR_M3_0C * 3600.0,
            f"{name}_degc": at.gas_k - CELSIUS,
            f"{name}_co2_pct": 100.0 * at.co2_dry,
        }
    return found


def house_flues(given: Given) -> dict[str, float]:
    """Boiler flues to eaves and ridge under fixed suctions of the house."""
    found: dict[str, float] = {}
    for name in ("eaves", "ridge"):
        system = _boiler_flue(given, given[f"{name}_m"])
        found[f"{name}_margin_pa"] = standing(_under(system, 3.0))
        found[f"{name}_idle_12_pa"] = standing(_under(system, 12.0))
        start = Start(
            burn_s=ALLOWED_S, step_s=5.0, cold_share=number(given, "start.share_missing"),
            warm_s=number(given, "start.time"),
        )  # fmt: skip
        found[f"{name}_takes_over"] = float(warm_up(_under(system, 12.0), start).establishes)
        found[f"{name}_hot_pa"] = spill_margin(system)
    return found


def _under(system: Lone, suction_pa: float) -> Lone:
    return replace(system, around=replace(system.around, room_pa=-suction_pa))


def _boiler_flue(given: Given, height_m: float) -> Lone:
    fuel = fuel_named("natural_gas")
    net = lower_over_higher(fuel)
    room_k = given["indoor_degc"] + CELSIUS
    return straight(
        given,
        flue=flame(
            fuel, input_w=given["net_kw"] * 1e3 / net, co2=number(given, "flue.co2_dry"),
            sensible=given["sensible_net"] * net, room_k=room_k,
        ),
        diameter_m=given["diameter_mm"] / 1e3, height_m=height_m,
        warm_share=given["warm_share"], u_w_m2k=number(given, "wall_u.type_b"),
        around=Around(outdoor_k=given["outdoor_degc"] + CELSIUS, room_k=room_k),
        cap_loss=number(given, "cap.listed"),
    )  # fmt: skip


def idle_and_hot(given: Given) -> dict[str, float]:
    """House pressure that turns an idle chimney, and one that makes a hot one spill."""
    found: dict[str, float] = {}
    for name in ("heater", "furnace"):
        system = _household(given, name, given[f"{name}_ft"], given["outdoor_degc"])
        found[f"{name}_idle_pa"] = -standing(system)
        found[f"{name}_hot_pa"] = -spill_margin(system)
    return found


def port_draft(given: Given) -> dict[str, float]:
    """Static pressure after the draft hood, burning, less that of the room."""
    return {
        f"{name}_pa": solve(
            _household(given, name, given[f"{name}_ft"], given["outdoor_degc"])
        ).at.draft_pa
        for name in ("heater", "furnace")
    }


def _household(given: Given, name: str, height_ft: float, outdoor_degc: float) -> Lone:
    """A usual water heater or furnace on a Type B vent of its own."""
    out_k, room_k = outdoor_degc + CELSIUS, 293.15
    input_w = given[f"{name}_kbtu_h"] * 1e3 * BTU_H
    return american(
        given, flue=american_flame(given, input_w, room_k),
        diameter_m=given[f"{name}_in"] * INCH, height_m=height_ft * FOOT,
        lateral_m=given["lateral_ft"] * FOOT, around=Around(outdoor_k=out_k, room_k=room_k),
    )  # fmt: skip


def flue_damper(given: Given) -> dict[str, float]:
    """How far a plate in the flue closes before the boiler spills."""
    fuel = fuel_named("natural_gas")
    sensible = given["sensible_gross"]
    useful_kw = 18.0 + 12.0 * given["size"]
    room_k = 293.15
    system = straight(
        given,
        flue=flame(
            fuel, input_w=useful_kw * 1e3 / (1.0 - fuel.latent - sensible),
            co2=given["co2_before"], sensible=sensible, room_k=room_k,
        ),
        diameter_m=0.110 + 0.040 * given["size"], height_m=given["height_m"], warm_share=1.0,
        u_w_m2k=given["u_w_m2k"],
        around=Around(outdoor_k=given["outdoor_degc"] + CELSIUS, room_k=room_k), cap_loss=0.0,
    )  # fmt: skip
    loss = limits(
        system, lambda k: replace(system, around=replace(system.around, outdoor_k=k)), 300.0
    ).extra_loss
    angle = plate_angle(loss / given["plate_factor"])
    return {
        "extra_loss": loss,
        "travel_closed": angle / 90.0,
        "area_closed": math.sin(math.radians(angle)),
    }


def plate_angle(loss: float) -> float:
    """Closing angle of a butterfly plate of a loss coefficient, by its curve backward. [deg]"""
    curve = coefficients().curve("blockage.plate_loss")
    low, high = curve.points[0][0], curve.points[-1][0]
    if not curve.at(low) <= loss <= curve.at(high):
        raise ValueError(f"a loss of {loss:g} is beyond the curve of the plate")
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if curve.at(middle) < loss else (low, middle)
    return low


def idle_vent_law(given: Given) -> dict[str, float]:
    """Exponent of an idle vent as a leak, and its flow at 4 Pa. [-, m3/s]"""
    air_k = 293.15

    def flow(room_pa: float) -> float:
        system = american(
            given, flue=no_flame(air_k), diameter_m=given["vent_in"] * INCH,
            height_m=given["height_ft"] * FOOT, lateral_m=given["lateral_ft"] * FOOT,
            around=Around(outdoor_k=air_k, room_k=air_k, room_pa=room_pa),
        )  # fmt: skip
        return solve(system).at.root.flow_kg_s / 1.2041

    logs = [(math.log(pa), math.log(flow(pa))) for pa in (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 50.0)]
    x = math.fsum(a for a, _ in logs) / len(logs)
    y = math.fsum(b for _, b in logs) / len(logs)
    slope = math.fsum((a - x) * (b - y) for a, b in logs) / math.fsum((a - x) ** 2 for a, _ in logs)
    return {"exponent": slope, "flow_4pa_m3_s": flow(4.0)}
