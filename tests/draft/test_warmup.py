"""A start from cold: heat in the walls, the branch that is followed, the three thresholds."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.draft.systems import FOOT, heater, kelvin, segment

from fluewright.draft import warm_kernel
from fluewright.draft.system import AIR_KG_KMOL, GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2, Node
from fluewright.draft.warmup import Start, standing, thresholds, warm_up
from fluewright.errors import OutOfRange


def course(wall: list[float], store: float, passes: list[float], gas_k: float, around_k: float,
           seconds: float, step_s: float) -> float:  # fmt: skip
    """Inside temperature of a wall after a time beside gas of one temperature."""
    stores = [store / step_s] * len(wall)
    for _ in range(round(seconds / step_s)):
        warm_kernel.conduct(wall, stores, passes, gas_k, around_k, len(wall), [0.0] * len(wall))
    return wall[0]


def test_thin_liner_warms_with_its_time_constant() -> None:
    # By hand: aluminum 0.3 mm, 2700 kg/m3, 900 J/(kg K): C = 729 J/(m2 K); gas film 9, outward
    # 3.23 W/(m2 K): tau = 729 / 12.23 = 59.6 s; after it the wall is 1 - 1/e of the way.
    store, inside, outward = 0.0003 * 2700 * 900, 9.0, 3.23
    tau = store / (inside + outward)
    assert tau == pytest.approx(59.6, abs=0.05)
    end = (inside * 450.0 + outward * 293.0) / (inside + outward)
    expect = end + (293.0 - end) * math.exp(-1.0)
    found = course([293.0], store, [inside, outward], 450.0, 293.0, tau, tau / 4000)
    assert found == pytest.approx(expect, abs=0.05)


def test_steady_wall_of_layers_passes_the_same_heat_everywhere() -> None:
    wall = [290.0] * 4
    passes = [10.0, 40.0, 20.0, 30.0, 8.0]
    course(wall, 20_000.0, passes, 420.0, 280.0, 2e6, 2e3)
    ends = [420.0, *wall, 280.0]
    heat = [g * (a - b) for g, a, b in zip(passes, ends, ends[1:], strict=False)]
    expect = (420.0 - 280.0) / sum(1.0 / g for g in passes)  # resistances in a row, by hand
    assert heat == pytest.approx([expect] * 5, rel=1e-6)


def test_heat_taken_by_a_wall_is_stored_or_passed_on() -> None:
    wall, before = [290.0, 288.0, 285.0], [290.0, 288.0, 285.0]
    stores, passes = [50.0, 80.0, 60.0], [9.0, 30.0, 25.0, 7.0]
    warm_kernel.conduct(wall, stores, passes, 400.0, 280.0, 3, [0.0] * 3)
    stored = sum(s * (a - b) for s, a, b in zip(stores, wall, before, strict=True))
    gained, lost = passes[0] * (400.0 - wall[0]), passes[3] * (wall[-1] - 280.0)
    assert stored == pytest.approx(gained - lost, rel=1e-12)


def test_dew_point_is_that_of_tabulated_saturation() -> None:
    # Water fractions of vent gas at sea level; steam tables give 44.73 and 52.00 C (CoolProp 8.0).
    assert warm_kernel.dew(0.0934 * 101_325) - 273.15 == pytest.approx(44.73, abs=0.05)
    assert warm_kernel.dew(0.1345 * 101_325) - 273.15 == pytest.approx(52.00, abs=0.05)


def test_standing_draft_is_the_weight_of_two_columns() -> None:
    # 15 ft of vent: 12 ft at 68 F, 3 ft at the outdoor 20 F. By hand: g 12 ft (rho_out - rho_room).
    out, room = kelvin(20.0), kelvin(68.0)
    system = heater(20.0)
    parts = (
        segment("indoors", 12 * FOOT, 12 * FOOT, room, 3.4, 0.5),
        segment("above the roof", 3 * FOOT, 3 * FOOT, out, 3.4, 0.0),
    )
    system = replace(
        system, segments=parts, around=replace(system.around, room_pa=0.0, room_water=0.0)
    )
    air = 101_325.0 * AIR_KG_KMOL / GAS_CONSTANT_J_KMOL_K
    by_hand = GRAVITY_M_S2 * 12 * FOOT * (air / out - air / room)
    assert standing(system) == pytest.approx(by_hand, abs=1e-3)
    assert standing(system) == pytest.approx(4.32203, abs=2e-3)


def test_calm_mild_start_takes_over_at_once() -> None:
    found = warm_up(heater(40.0), Start(burn_s=120.0))
    assert found.establishes
    assert found.flue_s == 0.0
    assert found.idle_kg_s > 0.0


def test_strong_suction_in_warm_weather_never_lets_it_start() -> None:
    found = warm_up(heater(85.0, -4.0), Start(burn_s=300.0, step_s=2.0))
    assert not found.establishes
    assert found.spills_s is None
    assert found.flue_s == pytest.approx(300.0, abs=5.0)
    assert found.idle_kg_s < 0.0


def test_more_suction_never_means_less_spillage() -> None:
    start = Start(burn_s=240.0, step_s=2.0)
    spilt = [warm_up(heater(60.0, -suction), start).flue_s for suction in (0.0, 1.0, 2.0, 3.0)]
    assert spilt == sorted(spilt)
    assert spilt[-1] > 0.0


def test_hot_branch_is_the_steady_operating_point() -> None:
    from fluewright.draft.solve import solve

    system = heater(40.0)
    long = warm_up(system, Start(burn_s=2400.0, step_s=4.0))
    assert long.flow_kg_s[-1] == pytest.approx(solve(system).at.root.flow_kg_s, rel=2e-3)


def test_smaller_steps_change_little() -> None:
    coarse = warm_up(heater(60.0, -1.8), Start(burn_s=400.0, step_s=2.0))
    fine = warm_up(heater(60.0, -1.8), Start(burn_s=400.0, step_s=0.5))
    assert coarse.flue_s == pytest.approx(fine.flue_s, rel=0.05, abs=6.0)


def test_the_three_thresholds_are_apart_and_in_their_order() -> None:
    found = thresholds(heater(60.0), Start(step_s=2.0))
    assert found.establishing_pa is not None
    assert found.standing_pa < found.establishing_pa < found.hot_pa
    around = heater(60.0, -(found.establishing_pa + 0.2))
    assert not warm_up(around, Start(burn_s=300.0, step_s=2.0)).establishes


def test_masonry_stays_wet_longer_than_metal() -> None:
    metal = heater(40.0)
    brick = tuple(
        replace(one, nodes=(Node(store_j_m2k=27_000.0, outward_w_m2k=60.0),
                            Node(store_j_m2k=90_000.0, outward_w_m2k=8.0)))
        for one in metal.segments
    )  # fmt: skip
    start = Start(burn_s=600.0, step_s=2.0)
    assert warm_up(replace(metal, segments=brick), start).wet_s > warm_up(metal, start).wet_s


def test_without_a_hood_there_is_nothing_to_start() -> None:
    with pytest.raises(OutOfRange, match="a draft hood and a burner that is on are needed"):
        warm_up(replace(heater(), hood=None), Start())


def test_steps_longer_than_the_burn_are_refused() -> None:
    with pytest.raises(OutOfRange, match="steps of 20 s in 10 s"):
        warm_up(heater(), Start(burn_s=10.0, step_s=20.0))
