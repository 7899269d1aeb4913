"""Pressures of several zones: one zone as before, SciPy as oracle, hand cases, refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import fsolve

from fluewright.draft.house import Fan, House, Opening, Vent, house_pressure, opening_flow
from fluewright.draft.leakage import Leakage, air_density
from fluewright.draft.zones import OUTDOORS, Link, Moved, Zone, solved, zone_pressures
from fluewright.errors import NotSolved, OutOfRange

ROOM = 293.15


def link(inner: str, outer: str, c: float, n: float = 0.65, height: float = 0.0) -> Link:
    leak = Leakage(c=c, n=n)
    return Link(name=f"{inner} to {outer}", inner=inner, outer=outer, leak=leak, height_m=height)


def zone(name: str, exhaust: float = 0.0, air_k: float = ROOM, **more: object) -> Zone:
    fans = (Fan(name=f"fan of {name}", flow_m3_s=exhaust),) if exhaust else ()
    return Zone(name=name, air_k=air_k, fans=fans, **more)  # type: ignore[arg-type]


def test_one_zone_settles_as_a_house_does() -> None:
    found = zone_pressures(
        [zone("house", 0.05)],
        [link("house", OUTDOORS, 0.04), link("house", OUTDOORS, 0.02, height=6.0)], 263.15,
    )  # fmt: skip
    leaks = [Leakage(c=0.04, n=0.65), Leakage(c=0.02, n=0.65)]
    alone = house_pressure(
        House(
            indoor_k=ROOM, outdoor_k=263.15, fans=(Fan(name="f", flow_m3_s=0.05),),
            openings=(Opening(name="a", leak=leaks[0]),
                      Opening(name="b", leak=leaks[1], height_m=6.0)),
        )
    )  # fmt: skip
    assert found.zones["house"].floor_pa == pytest.approx(alone.floor_pa, abs=1e-9)
    assert found.zones["house"].at(2.0) == pytest.approx(alone.floor_pa + 2 * alone.gradient_pa_m)


def test_a_closet_behind_its_grille_by_hand() -> None:
    # A closet with a dryer of 0.06 m3/s, a grille of 0.03 m3/(s Pa^0.5) to the house, and a house
    # leak of 0.06 m3/(s Pa^0.5) to outdoors, all air alike: across the grille (0.06/0.03)^2 = 4 Pa,
    # across the house (0.06/0.06)^2 = 1 Pa. The closet stands 5 Pa below outdoors.
    found = zone_pressures(
        [zone("closet", 0.06), zone("house")],
        [link("closet", "house", 0.03, 0.5), link("house", OUTDOORS, 0.06, 0.5)], ROOM,
    )  # fmt: skip
    assert found.zones["house"].floor_pa == pytest.approx(-1.0, abs=1e-9)
    assert found.zones["closet"].floor_pa == pytest.approx(-5.0, abs=1e-9)


def test_a_closed_door_with_a_supply_behind_it_presses_the_rest_down() -> None:
    # An air handler takes 0.1 m3/s from the hall and gives it to a bedroom behind a closed door
    # (undercut 0.02 m3/(s Pa^0.5)); neither zone alone sees a fan to outdoors.
    links = [
        link("bedroom", "hall", 0.02, 0.5), link("bedroom", OUTDOORS, 0.01),
        link("hall", OUTDOORS, 0.03),
    ]  # fmt: skip
    handler = [Moved(name="handler", out_of="hall", into="bedroom", flow_m3_s=0.1)]
    found = zone_pressures([zone("bedroom"), zone("hall")], links, ROOM, handler)
    assert found.zones["bedroom"].floor_pa > 1.0
    assert found.zones["hall"].floor_pa < -1.0
    wide = [link("bedroom", "hall", 2.0, 0.5), *links[1:]]  # door open
    opened = zone_pressures([zone("bedroom"), zone("hall")], wide, ROOM, handler)
    assert abs(opened.zones["hall"].floor_pa) < 0.01
    assert opened.residual < 1e-9


def test_a_measured_pressure_is_kept_and_what_it_leaves_open_is_said() -> None:
    links = [link("closet", "house", 0.03, 0.5), link("house", OUTDOORS, 0.06, 0.5)]
    zones = [zone("closet", 0.06, measured_pa=-7.0), zone("house")]
    found = zone_pressures(zones, links, ROOM)
    closet = found.zones["closet"]
    assert (closet.floor_pa, closet.measured) == (-7.0, True)
    assert closet.residual > 0.01  # 7 Pa ask for more air than the fan that was described
    assert found.zones["house"].residual < 1e-9


def test_a_vent_in_the_closet_answers_to_its_pressure() -> None:
    law = Leakage(c=0.01, n=0.5)
    density = air_density(ROOM)

    def up(pa: float) -> float:
        return opening_flow(law, pa + 3.0, density, density)

    found = zone_pressures(
        [zone("closet", vents=(Vent(name="vent", height_m=1.0, outflow=up),)), zone("house")],
        [link("closet", "house", 0.03, 0.5), link("house", OUTDOORS, 0.06, 0.5)], ROOM,
    )  # fmt: skip
    # In series: 0.01 sqrt(3 - q) = 0.03 sqrt(a) = 0.06 sqrt(b), q = a + b
    flow = math.sqrt(3.0 / (1 / 0.01**2 + 1 / 0.03**2 + 1 / 0.06**2))
    passed = {one.name: one.mass_kg_s for one in found.flows}
    assert passed["vent"] == pytest.approx(flow * density, rel=1e-9)


@st.composite
def networks(draw: st.DrawFn) -> tuple[list[Zone], list[Link], float]:
    """Two to four zones in a row, each with leaks, of any size and height."""
    sizes, heights, exponents = st.floats(1e-3, 1.0), st.floats(0.0, 6.0), st.floats(0.5, 1.0)
    names = ["a", "b", "c", "d"][: draw(st.integers(2, 4))]
    zones = [
        zone(name, draw(st.floats(-0.1, 0.1)), draw(st.floats(285.0, 310.0))) for name in names
    ]
    pairs = [*zip(names, [*names[1:], OUTDOORS], strict=True), (names[0], OUTDOORS)]
    links = [link(i, o, draw(sizes), draw(exponents), draw(heights)) for i, o in pairs * 2]
    return zones, links, draw(st.floats(250.0, 310.0))


def left_over(
    zones: list[Zone], links: list[Link], outdoor_k: float, at: list[float]
) -> list[float]:
    """Mass out less mass in of each zone, written once more."""
    density = {z.name: air_density(z.air_k) for z in zones} | {OUTDOORS: air_density(outdoor_k)}
    pressure = {z.name: p for z, p in zip(zones, at, strict=True)} | {OUTDOORS: 0.0}
    total = dict.fromkeys(pressure, 0.0)
    for z in zones:
        for fan in z.fans:
            source = z.name if fan.flow_m3_s > 0 else OUTDOORS
            total[z.name] += density[source] * fan.flow_m3_s
    for one in links:
        lift = 9.80665 * (density[one.outer] - density[one.inner]) * one.height_m
        dp = pressure[one.inner] - pressure[one.outer] + lift
        mass = opening_flow(one.leak, dp, density[one.inner], density[one.outer])
        total[one.inner] += mass
        total[one.outer] -= mass
    return [total[z.name] for z in zones]


@given(networks())
def test_every_network_balances_where_scipy_agrees(
    net: tuple[list[Zone], list[Link], float],
) -> None:
    zones, links, outdoor_k = net
    found = zone_pressures(zones, links, outdoor_k)
    assert found.residual < 1e-9
    at = [found.zones[z.name].floor_pa for z in zones]
    flows = [abs(one.mass_kg_s) for one in found.flows]
    # where next to nothing flows there is only the rounding of the pressures
    assert left_over(zones, links, outdoor_k, at) == pytest.approx(
        [0.0] * len(at), abs=1e-9 * max(*flows, 1e-4)
    )
    # fsolve from nearby stays there: it stops at 1e-10 of the pressures
    start = [p + 0.01 for p in at]
    oracle, _, flag, _ = fsolve(
        lambda p: left_over(zones, links, outdoor_k, list(p)), start, xtol=1e-12, full_output=True
    )
    if flag == 1:
        assert list(oracle) == pytest.approx(at, rel=1e-6, abs=1e-6)


@given(networks(), st.floats(0.01, 0.2))
def test_more_exhaust_in_one_zone_lowers_every_zone(
    net: tuple[list[Zone], list[Link], float], extra: float
) -> None:
    zones, links, outdoor_k = net
    first = zones[0]
    more = Zone(name="a", air_k=first.air_k, fans=(*first.fans, Fan(name="more", flow_m3_s=extra)))
    before = zone_pressures(zones, links, outdoor_k).zones
    after = zone_pressures([more, *zones[1:]], links, outdoor_k).zones
    assert after["a"].floor_pa < before["a"].floor_pa
    assert all(after[n].floor_pa <= before[n].floor_pa + 1e-9 for n in before)


def test_a_zone_that_nothing_joins_is_not_solved() -> None:
    with pytest.raises(NotSolved, match="no opening joins closet to outdoors"):
        zone_pressures([zone("closet", 0.1), zone("house")], [link("house", OUTDOORS, 0.1)], ROOM)


@pytest.mark.parametrize(
    ("zones", "links", "said"),
    [
        ([zone("a"), zone("a")], [link("a", OUTDOORS, 0.1)], "a name of its own"),
        ([zone("outdoors")], [], "a name of its own"),
        ([zone("a")], [link("a", "b", 0.1)], "joins a and b"),
        ([zone("a")], [link("a", "a", 0.1)], "joins a and a"),
    ],
)
def test_names_that_do_not_fit_are_refused(zones: list[Zone], links: list[Link], said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        zone_pressures(zones, links, ROOM)


def test_a_vent_that_flips_is_not_solved() -> None:
    flips = Vent(name="v", height_m=0.0, outflow=lambda pa: 0.05 if pa > -2.0 else -0.05)
    with pytest.raises(NotSolved, match="mass left over"):
        zone_pressures([zone("a", 0.05, vents=(flips,))], [link("a", OUTDOORS, 0.03)], ROOM)


def test_linear_systems() -> None:
    assert solved([[0.0, 2.0], [1.0, 1.0]], [2.0, 3.0]) == [2.0, 1.0]
    assert solved([[1.0, 1.0], [1.0, 1.0]], [1.0, 2.0]) is None
