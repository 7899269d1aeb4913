"""The balance of one vent: closed forms, an outside root finder, what must be conserved."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from tests.draft.systems import heater, kelvin, plain_pipe, random_system

from fluewright.draft import kernel
from fluewright.draft.margins import crossing, limits, spill_margin
from fluewright.draft.solve import Root, figures, operating, solve
from fluewright.draft.system import AIR_KG_KMOL, GAS_CONSTANT_J_KMOL_K, GRAVITY_M_S2, Lone
from fluewright.errors import NotSolved, OutOfRange

SMALL = 1e-9
ROUNDING = 1e-12  # sums of a few floats


def momentum_error(system: Lone, root: Root) -> float:
    """What the balance leaves at a root, as a share of all pressures in it."""
    par, rows = figures(system)
    flow = abs(root.flow_kg_s)
    left = kernel.spare_pressure(root.flow_kg_s, par, rows, len(rows))
    calm, double = list(par), 0.0
    calm[kernel.ROOM_PA] = calm[kernel.CAP_PA] = 0.0
    for row in rows:
        head = kernel.velocity_head(flow, 400.0, 28.0, row[kernel.AREA], par[kernel.AIR_PA])
        double += head * (1.0 + row[kernel.ENTRY]) + abs(row[kernel.RISE])
    return abs(left) / (double + abs(system.around.room_pa) + abs(system.around.cap_pa))


def test_flow_without_friction_or_cooling_has_its_closed_form() -> None:
    # Bernoulli: g H (rho_out - rho_in) = (K + 1) G^2 / (2 rho_in), by hand.
    system = plain_pipe()
    par, rows = figures(system)
    par[kernel.FLUE_KG_S], par[kernel.RELIEF_M2] = 0.0, math.inf
    par[kernel.ROOM_K] = 400.0  # what enters is room air, much warmer than outdoors
    air = 101_325.0 * AIR_KG_KMOL / GAS_CONSTANT_J_KMOL_K
    outside, inside = air / 280.0, air / 400.0
    push = GRAVITY_M_S2 * 5.0 * (outside - inside)
    expect = math.pi / 4.0 * 0.1**2 * math.sqrt(2.0 * inside * push / 3.0)
    assert kernel.operating_flow(par, rows, 1) == pytest.approx(expect, rel=ROUNDING)


@pytest.mark.parametrize("outdoor_f", [0.0, 32.0, 60.0, 85.0])
def test_root_is_that_of_an_outside_root_finder(outdoor_f: float) -> None:
    system = heater(outdoor_f, -1.0)
    par, rows = figures(system)
    flow = system.flue.mass_kg_s
    expect = brentq(
        lambda m: kernel.spare_pressure(m, par, rows, len(rows)), flow, 20 * flow, xtol=1e-16
    )
    assert solve(system).at.root.flow_kg_s == pytest.approx(expect, rel=1e-12)


def test_random_systems_conserve_mass_heat_and_pressure_or_say_why_not() -> None:
    chance = Random(20)
    reasons: list[str] = []
    for _ in range(400):
        system = random_system(chance)
        try:
            found = solve(system)
        except NotSolved as reason:
            reasons.append(str(reason))
            continue
        for root in found.roots:
            assert math.isfinite(root.flow_kg_s)
            if root.flow_kg_s:
                assert momentum_error(system, root) < SMALL
        par, rows = figures(system)
        for root in found.roots:
            state = operating(system, root, par, rows)
            assert state.mass_error < SMALL
            assert state.energy_error < SMALL
    assert len(reasons) < 20
    assert all(reason.startswith("draft: ") for reason in reasons)


def test_no_root_is_missed_that_a_fine_search_finds() -> None:
    chance = Random(8)
    for _ in range(60):
        system = random_system(chance)
        par, rows = figures(system)
        found = [0.0] * 12
        many = kernel.roots(par, rows, len(rows), found)
        most = kernel.beyond(1.0, par, rows, len(rows))
        least = kernel.beyond(-1.0, par, rows, len(rows))
        points = [-least * (1 - i / 1500) ** 3 for i in range(1500)]
        points += [most * (i / 1500) ** 3 for i in range(1, 1501)]
        signs = [kernel.spare_pressure(m, par, rows, len(rows)) > 0 for m in points if m]
        jumps = sum(a != b for a, b in pairwise(signs))
        jump_at_rest = signs[1499] != signs[1500]
        assert many >= jumps - jump_at_rest


def test_a_vent_that_can_draft_or_stand_reversed_has_both_roots() -> None:
    roots = solve(heater(60.0, -3.0)).roots
    assert [root.branch for root in roots if root.stable] == ["reversed", "drafting"]


def test_hot_operating_point_is_the_largest_stable_root() -> None:
    found = solve(heater(20.0, -2.0))
    assert found.at.root == max(found.roots, key=lambda root: root.flow_kg_s)
    assert found.at.spilled == 0.0
    assert found.at.dilution > 0.0


def test_suction_takes_its_own_size_off_the_margin() -> None:
    assert spill_margin(heater(60.0, -4.0)) == pytest.approx(spill_margin(heater()) - 4.0)


def test_margin_below_zero_means_a_root_that_spills_or_none_that_drafts() -> None:
    margin = spill_margin(heater())
    branches = {root.branch for root in solve(heater(60.0, -(margin + 0.5))).roots}
    assert "drafting" not in branches
    assert "drafting" in {root.branch for root in solve(heater(60.0, -(margin - 0.5))).roots}


def test_pressure_along_the_vent_ends_at_the_cap() -> None:
    system = heater(20.0)
    top = solve(system).at.stations[-1]
    par, rows = figures(system)
    flow = solve(system).at.vent_kg_s
    state = solve(system).at
    molar = AIR_KG_KMOL  # not quite the gas's own, hence the tolerance of its difference
    head = kernel.velocity_head(flow, top.end_k, molar, rows[-1][kernel.AREA], par[kernel.AIR_PA])
    assert top.end_pa == pytest.approx(system.cap_loss * head, rel=0.03)
    assert state.draft_pa < 0.0


def test_colder_outdoors_and_more_height_give_more_margin() -> None:
    margins = [spill_margin(heater(outdoor)) for outdoor in (90.0, 60.0, 30.0, 0.0)]
    assert margins == sorted(margins)
    low = heater()
    last = low.segments[-1]
    taller = replace(last, length_m=last.length_m + 1.0, rise_m=last.rise_m + 1.0)
    assert spill_margin(replace(low, segments=(*low.segments[:-1], taller))) > spill_margin(low)


@settings(max_examples=40, deadline=None)
@given(suction=st.floats(0.0, 10.0), outdoor=st.floats(-20.0, 100.0))
def test_flow_up_never_grows_with_suction(suction: float, outdoor: float) -> None:
    less, more = solve(heater(outdoor, -suction)), solve(heater(outdoor, -suction - 0.5))
    assert more.at.root.flow_kg_s <= less.at.root.flow_kg_s + 1e-12


def test_limits_bring_the_margin_to_zero() -> None:
    system = heater(40.0)
    found = limits(system, lambda outdoor_k: heater(outdoor_k * 1.8 - 459.67), kelvin(130.0))
    around = replace(system.around, room_pa=-found.suction_pa)
    assert spill_margin(replace(system, around=around)) == pytest.approx(0.0, abs=1e-9)
    flue = replace(system.flue, mass_kg_s=system.flue.mass_kg_s * found.input_share)
    assert spill_margin(replace(system, flue=flue)) == pytest.approx(0.0, abs=1e-6)
    assert 0.0 < found.open_share < 1.0


def test_crossing_says_start_or_nothing_where_there_is_none() -> None:
    assert crossing(lambda x: -1.0, 2.0, 3.0) == 2.0
    assert crossing(lambda x: 1.0, 2.0, 3.0) is None
    assert crossing(lambda x: 2.5 - x, 2.0, 3.0) == pytest.approx(2.5)


def test_fan_assisted_appliance_keeps_its_flow_and_shows_the_pressure_it_meets() -> None:
    found = solve(replace(heater(), hood=None))
    assert found.at.root.flow_kg_s == heater().flue.mass_kg_s
    assert found.margin_pa == pytest.approx(spill_margin(heater()), abs=1.5)  # the hood's lift


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"segments": ()}, "draft: no segments. Describe at least one between hood and cap."),
        ({"cap_loss": math.nan}, "draft: cap_loss is nan; -1 to 1e+06 is allowed."),
    ],
)
def test_what_no_vent_can_have_is_refused(change: dict[str, object], text: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        solve(replace(heater(), **change))  # type: ignore[arg-type]
    assert str(caught.value) == text


def test_segment_that_rises_more_than_its_length_is_refused() -> None:
    system = heater()
    steep = replace(system.segments[0], rise_m=2.0)
    with pytest.raises(OutOfRange, match=r"segment c1: rise_m is 2; -0\.3 to 0\.3 is allowed"):
        solve(replace(system, segments=(steep, *system.segments[1:])))


@pytest.mark.parametrize(
    "change",
    [
        {"length_m": 1e-6, "rise_m": 0.0},
        {"length_m": 5000.0, "rise_m": 0.0},
        {"diameter_m": 0.003},
        {"ambient_k": 250.0, "u_w_m2k": 500.0},
    ],
    ids=["no height", "huge lateral", "tiny diameter", "gas as cold as a winter night"],
)
def test_extremes_are_solved_or_refused_with_a_reason(change: dict[str, float]) -> None:
    system = heater()
    odd = replace(system.segments[1], **change)  # type: ignore[arg-type]
    found = solve(replace(system, segments=(system.segments[0], odd, *system.segments[2:])))
    assert all(math.isfinite(root.flow_kg_s) for root in found.roots)
    assert math.isfinite(found.margin_pa)


def test_moist_air_outdoors_lifts_less_by_what_its_weight_says() -> None:
    # By hand: g H p / R (M_dry - M_wet) / T for 5 m at 285 K and 1 % of water.
    dry = replace(plain_pipe(), around=replace(plain_pipe().around, outdoor_k=285.0))
    wet = replace(dry, around=replace(dry.around, outdoor_water=0.01))
    expect = GRAVITY_M_S2 * 5.0 * 101_325.0 / GAS_CONSTANT_J_KMOL_K * 0.01 * (28.965 - 18.015)
    found = spill_margin(dry) - spill_margin(wet)
    assert found == pytest.approx(expect / 285.0, rel=1e-6)


def test_an_idle_vent_at_rest_says_how_much_suction_turns_it() -> None:
    system = heater(20.0)
    idle = replace(system, flue=replace(system.flue, mass_kg_s=0.0))
    margin = solve(idle).margin_pa
    assert margin > 1.0
    around = replace(idle.around, room_pa=-(margin + 0.2))
    par, rows = figures(replace(idle, around=around))
    still = 1e-6 * kernel.flow_scale(par, rows, len(rows))
    assert kernel.spare_pressure(still, par, rows, len(rows)) < 0.0  # from rest it comes down
