"""Appliances on one vent: the same as a lone one, by hand, by an outside solver, and conserved."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

import pytest
from scipy.optimize import fsolve
from tests.draft.systems import flue, heater, kelvin, random_system, random_tree, segment

from fluewright.draft import tree_kernel
from fluewright.draft.solve import solve
from fluewright.draft.system import (
    AIR_KG_KMOL,
    GAS_CONSTANT_J_KMOL_K,
    GRAVITY_M_S2,
    Around,
    Hood,
    Lone,
    Segment,
)
from fluewright.draft.tree import SolvedTree, solve_states, solve_tree
from fluewright.draft.tree_kernel import net_of
from fluewright.draft.tree_roots import holds, solved
from fluewright.draft.tree_system import Branch, Common, Joined, shifted, states
from fluewright.errors import NotSolved, OutOfRange

SMALL = 1e-9


def alone(lone: Lone) -> Joined:
    """A lone vent written as a shared one."""
    cut = max(1, len(lone.segments) // 2)
    branch = Branch(name="one", flue=lone.flue, hood=lone.hood, segments=lone.segments[:cut])
    root = Common(name="vent", inlets=(branch,), segments=lone.segments[cut:])
    return Joined(root=root, around=lone.around, cap_loss=lone.cap_loss, momentum=lone.momentum)


def connector(name: str, kilograms_s: float, hood: bool, inches: float = 4.0) -> Branch:
    size, room = inches * 0.0254, kelvin(68.0)
    return Branch(
        name=name,
        flue=flue(kilograms_s),
        hood=Hood(relief_m2=0.007, plume_m=0.25) if hood else None,
        segments=(
            segment(f"{name} up", 0.3, 0.3, room, 5.7, 0.5, size),
            segment(f"{name} over", 1.2, 0.02, room, 5.7, 0.8, size),
            segment(f"{name} tee", 0.0, 0.0, room, 5.7, 1.2, size),
        ),
    )


def pair(one: Branch, other: Branch, inches: float = 5.0, outdoor_f: float = 40.0) -> Joined:
    out, room = kelvin(outdoor_f), kelvin(68.0)
    root = Common(
        name="vent",
        inlets=(one, other),
        segments=(
            segment("v1", 3.35, 3.35, room, 3.4, 0.0, inches * 0.0254),
            segment("v2", 0.92, 0.92, out, 3.4, 0.0, inches * 0.0254),
        ),
    )
    around = Around(outdoor_k=out, room_k=room, room_water=0.008)
    return Joined(root=root, around=around, cap_loss=1.0)


def words(found: SolvedTree) -> dict[str, str]:
    return {one.name: one.branch for one in found.at.appliances}


def test_one_appliance_is_the_same_as_on_a_vent_of_its_own() -> None:
    chance = Random(5)
    seen = 0
    while seen < 40:
        lone = random_system(chance)
        if len(lone.segments) < 2:
            continue
        seen += 1
        try:
            want = solve(lone)
        except NotSolved:
            with pytest.raises(NotSolved):
                solve_tree(alone(lone))
            continue
        have = solve_tree(alone(lone))
        large = net_of(alone(lone)).still[0] * 1e9  # a standstill is one within its own width
        assert [root.stable for root in have.roots] == [root.stable for root in want.roots]
        for a, b in zip(have.roots, want.roots, strict=True):
            assert a.appliances[0].branch == b.branch
            assert a.vent_kg_s == pytest.approx(b.flow_kg_s, rel=SMALL, abs=SMALL * large)
        if lone.flue.mass_kg_s > 0.0:
            assert have.margin_pa == pytest.approx(want.margin_pa, rel=SMALL, abs=SMALL)
        state = have.at.appliances[0]
        assert state.spilled == pytest.approx(want.at.spilled, rel=1e-6, abs=SMALL)
        if want.at.root.flow_kg_s:
            stations = (*state.stations, *have.at.shared[0].stations)
            for one, other in zip(stations, want.at.stations, strict=True):
                assert one.name == other.name
                assert one.start_k == pytest.approx(other.start_k, rel=SMALL)
                assert one.end_k == pytest.approx(other.end_k, rel=SMALL)
                assert one.start_pa == pytest.approx(other.start_pa, rel=1e-6, abs=1e-6)
                assert one.wet == other.wet


def test_random_trees_keep_mass_heat_and_pressure_or_say_why_not() -> None:
    # Few, for time; the seeds are those of any longer run.
    chance = Random(3)
    reasons: list[str] = []
    for _ in range(25):
        try:
            found = solve_tree(random_tree(chance))
        except NotSolved as reason:
            reasons.append(str(reason))
            continue
        assert found.at.stable
        assert found.at.vent_kg_s == max(r.vent_kg_s for r in found.roots if r.stable)
        for root in found.roots:
            assert max(root.residual, root.mass_error, root.energy_error) < SMALL
            figures = [root.vent_kg_s, *(one.gas_k for one in root.appliances)]
            figures += [one.draft_pa for one in root.appliances]
            figures += [s.end_pa for one in root.appliances for s in one.stations]
            figures += [s.end_pa for one in root.shared for s in one.stations]
            assert all(math.isfinite(one) for one in figures)
            inflow = sum(one.flow_kg_s for one in root.appliances)
            assert inflow == pytest.approx(root.vent_kg_s, rel=SMALL, abs=1e-15)
    assert len(reasons) <= 2
    assert all(reason.startswith("draft: ") for reason in reasons)


def test_pipes_without_cooling_or_friction_are_those_of_an_outside_solver() -> None:
    # Bernoulli for either way of the gas, air of 400 K in air of 280 K, unknowns by scipy.
    sizes, heights, losses = (0.10, 0.15), (1.0, 2.5), (1.5, 0.7)
    air = 101_325.0 * AIR_KG_KMOL / GAS_CONSTANT_J_KMOL_K
    outside, inside = air / 280.0, air / 400.0
    areas = [math.pi / 4.0 * d * d for d in (*sizes, 0.16)]

    def equations(m: list[float]) -> list[float]:
        shared = (0.3 + 0.4 + 1.0) * ((m[0] + m[1]) / areas[2]) ** 2 / (2.0 * inside)
        return [
            GRAVITY_M_S2 * (h + 4.0) * (outside - inside) - shared
            - (k / areas[i] ** 2 + 1.0 / 10.0**2) * m[i] ** 2 / (2.0 * inside)
            for i, (h, k) in enumerate(zip(heights, losses, strict=True))
        ]  # fmt: skip

    def pipe(name: str, rise: float, size: float, loss: float) -> Segment:
        return Segment(name=name, length_m=rise, rise_m=rise, diameter_m=size, ambient_k=280.0,
                       u_w_m2k=0.0, entry_loss=loss, law="constant")  # fmt: skip

    inlets = tuple(
        Branch(name=f"b{i}", flue=flue(0.0), hood=Hood(relief_m2=10.0),
               segments=(pipe(f"c{i}", heights[i], sizes[i], losses[i]),))
        for i in range(2)
    )  # fmt: skip
    joined = Joined(
        root=Common(name="v", inlets=inlets, segments=(pipe("v1", 4.0, 0.16, 0.3),)),
        around=Around(outdoor_k=280.0, room_k=400.0), cap_loss=0.4, momentum=False,
    )  # fmt: skip
    want = fsolve(equations, [0.01, 0.02], xtol=1e-14)
    have = [one.flow_kg_s for one in solve_tree(joined).at.appliances]
    assert have == pytest.approx(list(want), rel=SMALL)


def test_like_appliances_share_alike() -> None:
    one, other = connector("one", 0.004, True), connector("other", 0.004, True)
    at = solve_tree(pair(one, other)).at
    assert at.appliances[0].flow_kg_s == pytest.approx(at.appliances[1].flow_kg_s, rel=1e-11)
    assert at.shared[0].flow_kg_s == pytest.approx(2 * at.appliances[0].flow_kg_s, rel=1e-12)


def test_levels_without_anything_between_are_one_level() -> None:
    three = [connector(name, 0.003, True) for name in ("a", "b", "c")]
    flat = pair(three[0], three[1], 6.0)
    flat = replace(flat, root=replace(flat.root, inlets=tuple(three)))
    room = flat.around.room_k
    nothing = segment("nothing", 0.0, 0.0, room, 0.0, 0.0, 0.15)
    low = Common(name="low", inlets=(three[0], three[1]), segments=(nothing,))
    nested = replace(flat, root=replace(flat.root, inlets=(low, three[2])))
    want, have = solve_tree(flat).at, solve_tree(nested).at
    for one, other in zip(have.appliances, want.appliances, strict=True):
        assert one.flow_kg_s == pytest.approx(other.flow_kg_s, rel=SMALL)


def test_no_balance_is_missed_that_an_outside_solver_finds() -> None:
    chance = Random(11)
    for _ in range(6):
        joined = random_tree(chance)
        net = net_of(joined)
        if len(net.open) != 2 or net.many != 2:
            continue
        known = [[one.flow_kg_s for one in root.appliances] for root in solve_tree(joined).roots]
        scale = [net.still[i] * 1e7 for i in range(2)]

        def spare(m: list[float], net: tree_kernel.Net = net) -> list[float]:
            return tree_kernel.balance([float(one) for one in m], net).spare_pa

        for _ in range(25):
            start = [chance.uniform(-1.0, 2.0) * one for one in scale]
            end, _, ended, _ = fsolve(spare, start, full_output=True, xtol=1e-13)
            at = tree_kernel.balance([float(one) for one in end], net)
            left = max(abs(at.spare_pa[i]) / at.size_pa[i] for i in range(2))
            if ended == 1 and left < SMALL:
                near = [max(abs(end[i] - one[i]) / scale[i] for i in range(2)) for one in known]
                assert min(near) < 1e-5


# A big fan-assisted furnace under a small common vent presses the junction: its gas comes out at
# the draft hood of the idle heater. So trade literature on common venting warns, and the tables
# bound the ratio of FAN Max to NAT Max sizes; common practice, no single source.
def test_a_big_furnace_on_a_small_vent_comes_out_at_the_idle_heater() -> None:
    small = pair(connector("furnace", 0.06, False, 5.0), connector("heater", 0.0, True), 4.0)
    found = solve_tree(small)
    heater_at = found.at.appliances[1]
    assert words(found)["heater"] == "reversed"
    assert heater_at.foreign_kg_s > 0.0
    assert found.at.spills
    assert found.at.appliances[0].spilled > 0.0
    assert found.margin_pa is not None
    assert found.margin_pa < 0.0
    assert found.first == "heater"
    assert found.at.appliances[0].draft_pa > 0.0  # the furnace works against a pressure

    wide = pair(connector("furnace", 0.02, False, 5.0), connector("heater", 0.0, True), 8.0)
    assert words(solve_tree(wide))["heater"] == "drafting"
    assert not solve_tree(wide).at.spills


def test_margin_is_where_gas_begins_to_come_out() -> None:
    joined = pair(connector("a", 0.004, True), connector("b", 0.0, True))
    found = solve_tree(joined)
    assert found.margin_pa is not None
    assert found.margin_pa > 0.0
    assert not solve_tree(shifted(joined, -found.margin_pa + 0.01)).at.spills
    # The idle connector stands first, holding other gas on either side, then turns.
    assert found.first == "b"
    assert words(solve_tree(shifted(joined, -found.margin_pa - 0.01)))["b"] == "stalled"
    assert solve_tree(shifted(joined, -found.margin_pa - 2.0)).at.spills


def test_suction_of_one_room_alone_turns_its_own_appliance() -> None:
    other = replace(connector("b", 0.0, True), room_pa=-12.0)
    found = solve_tree(pair(connector("a", 0.004, True), other))
    assert words(found) == {"a": "drafting", "b": "reversed"}
    assert found.at.appliances[1].foreign_kg_s > 0.0
    assert shifted(pair(connector("a", 0.004, True), other), -2.0).root.inlets[1] == replace(
        other, room_pa=-14.0
    )


def test_every_state_is_tried_and_the_worst_comes_first() -> None:
    joined = pair(connector("furnace", 0.06, False, 5.0), connector("heater", 0.004, True), 4.0)
    assert len(states(joined)) == 3
    found = solve_states(joined)
    assert {one.burning for one in found} == {("furnace", "heater"), ("furnace",), ("heater",)}
    spilled = [one.solved.at.spilled_kg_s for one in found if one.solved]
    assert spilled == sorted(spilled, reverse=True)
    assert spilled[0] > 0.0
    heater_alone = next(one for one in found if one.burning == ("heater",)).solved
    assert heater_alone is not None
    assert heater_alone.at.appliances[0].branch == "stalled"  # nothing passes the idle furnace


def test_fan_assisted_appliances_alone_show_what_they_meet() -> None:
    found = solve_tree(pair(connector("a", 0.01, False), connector("b", 0.01, False), 7.0))
    assert found.margin_pa is not None
    assert found.at.vent_kg_s == pytest.approx(0.02)
    assert found.at.appliances[0].draft_pa < 0.0
    with pytest.raises(NotSolved, match="set no flow of their own"):
        solve_tree(pair(connector("a", 0.0, False), connector("b", 0.0, False)))


def test_gas_of_the_cold_vent_comes_down_where_the_house_sucks() -> None:
    joined = pair(connector("a", 0.002, True), connector("b", 0.0, True))
    found = solve_tree(shifted(joined, -30.0))
    assert set(words(found).values()) == {"reversed"}
    assert found.at.appliances[0].spilled == pytest.approx(1.0)
    assert found.at.appliances[1].foreign_kg_s == 0.0  # outdoor air comes out there


@pytest.mark.parametrize(("change", "text"), [
    ("twice", "names occur twice"), ("empty", "nothing enters it"), ("bad", "vent: draft: segment"),
])  # fmt: skip
def test_what_cannot_be_is_refused(change: str, text: str) -> None:
    joined = pair(connector("a", 0.004, True), connector("b", 0.004, True))
    root = joined.root
    if change == "twice":
        root = replace(root, inlets=(root.inlets[0], root.inlets[0]))
    elif change == "empty":
        low = Common(name="low", inlets=(), segments=root.segments)
        root = replace(root, inlets=(*root.inlets, low))
    else:
        root = replace(root, segments=(replace(root.segments[0], length_m=-1.0),))
    with pytest.raises(OutOfRange, match=text):
        solve_tree(replace(joined, root=root))


def test_which_balances_hold_is_told_by_their_eigenvalues() -> None:
    one = [[1.0, 0.0], [0.0, 1.0]]
    assert holds([[-1.0, 5.0], [0.0, -2.0]], one)  # -1 and -2
    assert not holds([[-1.0, 3.0], [3.0, -1.0]], one)  # 2 and -4
    assert holds([[-0.1, 4.0], [-4.0, -0.1]], one)  # -0.1 +- 4i
    assert not holds([[0.1, 4.0], [-4.0, 0.1]], one)
    assert not holds([[0.0, 0.0], [0.0, 0.0]], one)
    assert solved([[0.0, 2.0], [4.0, 0.0]], [2.0, 8.0]) == pytest.approx([2.0, 1.0])
    assert solved([[1.0, 1.0], [1.0, 1.0]], [1.0, 2.0]) is None


def test_a_real_pair_behaves() -> None:
    # Regression alone: an invented heater and its like on 5 in of vent.
    found = solve_tree(pair(connector("a", 0.004, True), connector("b", 0.004, True)))
    assert set(words(found).values()) == {"drafting"}
    assert heater().flue.co2_dry > found.at.shared[0].co2_dry > 0.0
