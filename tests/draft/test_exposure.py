"""Carbon monoxide from the flue to the blood: hand cases, SciPy as a second way, what must hold."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from fluewright.draft.alarm import POINTS, alarm_window
from fluewright.draft.carboxyhemoglobin import (
    HEAVY_WORK,
    LYING_STILL,
    MMHG_PA,
    PEOPLE,
    RESTING,
    WORKING,
    Person,
    cohb,
    cohb_linear,
    cohb_steady,
    first_at,
)
from fluewright.draft.co_history import History, constant
from fluewright.draft.co_release import (
    Spell,
    air_free_from_co2,
    air_free_from_o2,
    at_room,
    co_release,
    cycles,
    startup_spill,
)
from fluewright.draft.co_room import Rooms, Zone, over_time, steady_ppm
from fluewright.draft.exposure import CAUTIONS, Scenario, exposure, exposure_between
from fluewright.errors import NotSolved, OutOfRange

KBTU_H_W = 293.07107
DRY_M3_J = 0.21589e-6  # natural gas on the higher heating value, hand case A of combustion
HOUR_S = 3600.0


def room(volume_m3: float = 30.0, changes_h: float = 0.35, **more: float) -> Rooms:
    return Rooms(
        appliance=Zone(
            name="utility room",
            volume_m3=volume_m3,
            outdoor_m3_s=volume_m3 * changes_h / HOUR_S,
            start_ppm=more.pop("start_ppm", None),
        ),
        **more,
    )


def two_rooms(exchange_m3_h: float = 60.0) -> Rooms:
    return Rooms(
        appliance=Zone(name="closet", volume_m3=4.0, outdoor_m3_s=5.0 / HOUR_S),
        dwelling=Zone(name="dwelling", volume_m3=220.0, outdoor_m3_s=70.0 / HOUR_S),
        to_dwelling_m3_s=exchange_m3_h / HOUR_S,
        from_dwelling_m3_s=(exchange_m3_h - 4.0) / HOUR_S,
        outdoor_ppm=1.5,
    )


def water_heater(**more: object) -> Scenario:
    given: dict[str, object] = {
        "name": "all gas spills",
        "air_free_ppm": 200.0,
        "dry_m3_j": DRY_M3_J,
        "input_w": 40 * KBTU_H_W,
        "spells": (Spell(duration_s=4 * HOUR_S, spilled=1.0),),
        "rooms": room(),
    }
    return Scenario(**(given | more))  # type: ignore[arg-type]


# --- hand cases ------------------------------------------------------------------------------
# Worked from the definitions with round inputs. Tolerance: digits to which they were written.


def test_air_free_from_oxygen() -> None:
    # 120 x 20.9 / (20.9 - 9.0)
    assert air_free_from_o2(120.0, 0.09) == pytest.approx(210.756, rel=1e-5)


def test_air_free_from_carbon_dioxide() -> None:
    # 60 x 11.9 / 5.3
    assert air_free_from_co2(60.0, 0.053, 0.119) == pytest.approx(134.717, rel=1e-5)


def test_release_of_a_water_heater_that_spills_all_its_gas() -> None:
    # 200e-6 x 0.21589 m3/MJ x 42.2 MJ/h
    flow = co_release(200.0, DRY_M3_J, 40 * KBTU_H_W)
    assert flow * HOUR_S * 1000.0 == pytest.approx(1.82218, rel=1e-4)


def test_thin_air_gives_the_gas_more_room() -> None:
    # 1 x 293.15 / 273.15 x 101.325 / 80
    assert at_room(1.0, 293.15, 80_000.0) == pytest.approx(1.3593, rel=1e-4)


def test_blood_at_altitude_by_hand() -> None:
    # 600 mmHg: lungs hold 553 dry. 1/B = 1 / (1/30 + 553/6000) = 7.9681; 100 ppm give 0.0553 mmHg;
    # with 0.007 x B = 0.00088 it is 0.05618, times 218 / 100 = 0.12247; over one more: 10.911 %.
    percent = cohb_steady(100.0, RESTING, air_pa=600.0 * MMHG_PA)
    assert percent == pytest.approx(10.911, abs=0.002)
    late = cohb(constant(100.0, 30 * 86_400.0), RESTING, air_pa=600.0 * MMHG_PA)[-1]
    assert late == pytest.approx(percent, rel=1e-6)


def test_room_after_an_hour_and_in_the_end() -> None:
    flow = at_room(co_release(200.0, DRY_M3_J, 40 * KBTU_H_W), 294.15)
    air = over_time(room(), [(HOUR_S, flow)])
    assert air.histories[0].ppm[-1] == pytest.approx(55.1887, rel=1e-4)
    assert steady_ppm(room(), flow)[0] == pytest.approx(186.883, rel=1e-4)


@pytest.mark.parametrize(
    ("person", "ppm", "minutes", "percent"),
    [
        (RESTING, 35, 480, 4.27713),
        (RESTING, 100, 480, 11.1466),
        (RESTING, 70, 240, 5.68824),
        (RESTING, 150, 50, 3.70482),
        (RESTING, 400, 15, 3.27916),
        (WORKING, 150, 50, 8.12493),
        (WORKING, 400, 15, 7.69754),
        (WORKING, 70, 240, 8.93516),
    ],
)
def test_blood_as_computed_apart(
    person: Person, ppm: float, minutes: float, percent: float
) -> None:
    # The same equation solved once outside this program; six digits were kept.
    assert cohb(constant(ppm, minutes * 60.0), person)[-1] == pytest.approx(percent, rel=5e-6)


def test_linear_blood_as_computed_apart() -> None:
    assert cohb_linear(constant(100.0, 480 * 60.0), RESTING)[-1] == pytest.approx(11.7568, rel=5e-6)


def test_furnace_of_the_safety_commission() -> None:
    """Bookkeeping of a report: 0.2 m3/h of CO from 110,000 Btu/h, in a house of 1076 sq ft."""
    house = room(volume_m3=1076 * 0.09290304 * 2.44, changes_h=0.35)
    assert steady_ppm(house, 0.2 / HOUR_S)[0] == pytest.approx(2340, abs=5)
    assert over_time(house, [(HOUR_S, 0.2 / HOUR_S)]).histories[0].ppm[-1] == pytest.approx(
        690, abs=3
    )
    per_ppm = co_release(1.0, DRY_M3_J, 110 * KBTU_H_W)
    for kelvin in (273.15, 294.15):  # the report does not say at which temperature
        assert 7400 <= 0.2 / HOUR_S / at_room(per_ppm, kelvin) <= 8000
    limit = at_room(co_release(400.0, DRY_M3_J, 110 * KBTU_H_W), 294.15)
    assert steady_ppm(house, limit)[0] == pytest.approx(126, abs=1)


# --- release ---------------------------------------------------------------------------------


def test_spillage_after_each_start_and_none_later() -> None:
    found = cycles(600.0, 1200.0, 2, startup_spill(90.0))
    assert [(one.duration_s, one.spilled) for one in found] == [
        (90.0, 1.0), (510.0, 0.0), (1200.0, 0.0),
        (90.0, 1.0), (510.0, 0.0), (1200.0, 0.0),
    ]  # fmt: skip


def test_spillage_that_outlasts_the_burn_is_cut_at_its_end() -> None:
    found = cycles(60.0, 0.0, 1, startup_spill(90.0))
    assert found == (Spell(duration_s=60.0, spilled=1.0),)


def test_silence_about_the_end_of_a_burn_is_refused() -> None:
    with pytest.raises(OutOfRange, match="nothing is said of the last 510 s"):
        cycles(600.0, 0.0, 1, ((90.0, 1.0),))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: air_free_from_o2(10.0, 0.209), "no flue gas was drawn"),
        (lambda: air_free_from_o2(-1.0, 0.05), "CO: -1"),
        (lambda: air_free_from_o2(math.nan, 0.05), "CO: nan"),
        (lambda: air_free_from_co2(10.0, 0.0, 0.119), "carbon dioxide 0"),
        (lambda: air_free_from_co2(10.0, 0.13, 0.119), "at most the ultimate"),
        (lambda: co_release(100.0, DRY_M3_J, 1e4, multiplier=20.5), "multiplier: 20.5"),
        (lambda: co_release(100.0, DRY_M3_J, 1e4, spilled=1.1), "spilled share: 1.1"),
        (lambda: co_release(100.0, 0.2159, 1e4), "dry gas per heat: 0.2159"),
        (lambda: at_room(1e-6, 21.0), "room temperature: 21"),
        (lambda: cycles(0.0, 60.0, 1, 1.0), "burning time: 0"),
        (lambda: cycles(60.0, 60.0, 0, 1.0), "cycles: 0 of them"),
        (lambda: over_time(room(), []), "duration above 0 s"),
        (lambda: over_time(room(), [(60.0, -1e-6)]), "release"),
        (lambda: over_time(room(), [(3e7, 1e-6)]), "moments"),
        (lambda: over_time(room(), [(HOUR_S, 1.0)]), "more than pure carbon monoxide"),
        (lambda: over_time(room(volume_m3=0.0), [(1.0, 0.0)]), "utility room: 0 m3"),
        (lambda: over_time(room(start_ppm=1.0, outdoor_ppm=2.0), [(1.0, 0.0)]), "less than the 2"),
        (lambda: over_time(room(to_dwelling_m3_s=1.0), [(1.0, 0.0)]), "not described"),
        (lambda: cohb(constant(10.0, 60.0), replace(RESTING, start_percent=0.0)), "starts at 0.0"),
        (lambda: cohb(constant(10.0, 60.0), replace(RESTING, capacity=20.0)), "capacity 20"),
        (lambda: cohb_linear(constant(5e4, 6e4), HEAVY_WORK), "non-linear form"),
        (lambda: cohb_steady(-1.0, RESTING), "-1.0 ppm"),
        (lambda: constant(-5.0, 60.0), "-5.0 ppm"),
        (lambda: constant(math.nan, 60.0), "nan ppm"),
        (lambda: History(times_s=(0.0, 5.0, 4.0), ppm=(1.0, 1.0, 1.0)), "moments in order"),
        (lambda: History(times_s=(0.0, 5.0), ppm=(1.0,)), "2 moments and 1"),
        (lambda: exposure(water_heater(spells=())), "no spells"),
        (lambda: exposure(water_heater(breathed="dwelling")), "Allowed: appliance"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call: object, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()  # type: ignore[operator]


def test_more_air_out_of_a_room_than_into_it_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"closet: .* leave it"):
        over_time(replace(two_rooms(), from_dwelling_m3_s=0.0), [(60.0, 0.0)])


# --- rooms: exact, and against SciPy ---------------------------------------------------------


def test_one_room_is_the_exponential_at_every_moment() -> None:
    rooms = room(start_ppm=40.0, outdoor_ppm=3.0)
    k, flow = 0.35 / HOUR_S, 2e-6
    history = over_time(rooms, [(5 * HOUR_S, flow)]).histories[0]
    top = 3.0 + flow / (k * 30.0) * 1e6
    exact = [top + (40.0 - top) * math.exp(-k * t) for t in history.times_s]
    # Products of a few hundred steps: rounding alone.
    assert history.ppm == pytest.approx(exact, rel=1e-12)


def test_a_room_without_air_fills_in_a_straight_line() -> None:
    history = over_time(room(changes_h=0.0), [(HOUR_S, 3e-6)]).histories[0]
    assert history.ppm[-1] == pytest.approx(3e-6 * HOUR_S / 30.0 * 1e6, rel=1e-12)
    with pytest.raises(NotSolved, match="no outdoor air"):
        steady_ppm(room(changes_h=0.0), 3e-6)


def test_two_rooms_without_outdoor_air_have_no_end() -> None:
    closed = Rooms(
        appliance=Zone(name="closet", volume_m3=4.0, outdoor_m3_s=0.0),
        dwelling=Zone(name="dwelling", volume_m3=220.0, outdoor_m3_s=0.0),
        to_dwelling_m3_s=0.01,
        from_dwelling_m3_s=0.01,
    )
    with pytest.raises(NotSolved, match="no outdoor air"):
        steady_ppm(closed, 1e-6)
    one, two = over_time(closed, [(HOUR_S, 1e-6)]).histories
    held = (one.ppm[-1] * 4.0 + two.ppm[-1] * 220.0) * 1e-6
    assert held == pytest.approx(1e-6 * HOUR_S, rel=1e-12)


@pytest.mark.parametrize("exchange_m3_h", [4.0, 60.0, 2000.0])
def test_two_rooms_against_scipy(exchange_m3_h: float) -> None:
    rooms = two_rooms(exchange_m3_h)
    release = [(900.0, 4e-6), (1800.0, 0.0), (900.0, 1e-6)]
    one, two = rooms.zones
    there, back = rooms.to_dwelling_m3_s, rooms.from_dwelling_m3_s

    def balance(_: float, c: np.ndarray, flow: float) -> list[float]:
        leaves = (one.outdoor_m3_s + back, rooms.zones[1].outdoor_m3_s + there)
        return [
            (1e6 * flow + one.outdoor_m3_s * 1.5 + back * c[1] - leaves[0] * c[0]) / 4.0,
            (two.outdoor_m3_s * 1.5 + there * c[0] - leaves[1] * c[1]) / 220.0,
        ]

    found = over_time(rooms, release).histories
    now, clock = np.array([1.5, 1.5]), 0.0
    for duration, flow in release:
        solved = solve_ivp(
            balance, (0, duration), now, "LSODA", args=(flow,), rtol=1e-11, atol=1e-11
        )
        now, clock = solved.y[:, -1], clock + duration
        at = min(range(len(found[0].times_s)), key=lambda i: abs(found[0].times_s[i] - clock))
        # What the integrator leaves over at a tolerance of 1e-11 a step.
        assert [one.ppm[at] for one in found] == pytest.approx(list(now), rel=1e-8)


def test_two_rooms_end_where_the_steady_balance_says() -> None:
    rooms = two_rooms()
    found = over_time(rooms, [(100 * HOUR_S, 2e-6)]).histories
    assert [one.ppm[-1] for one in found] == pytest.approx(steady_ppm(rooms, 2e-6), rel=1e-10)


@pytest.mark.parametrize("rooms", [room(changes_h=8.0), two_rooms(), two_rooms(1000.0)])
def test_chords_between_moments_keep_to_the_curve(rooms: Rooms) -> None:
    """The stated 1e-4 of the change, probed with runs that stop halfway between two moments."""
    whole = over_time(rooms, [(2 * HOUR_S, 4e-6)])
    swing = max(max(one.ppm) for one in whole.histories)
    for i in range(0, len(whole.histories[0].times_s) - 1, 37):
        for zone, history in enumerate(whole.histories):
            middle = (history.times_s[i] + history.times_s[i + 1]) / 2
            exact = over_time(rooms, [(middle, 4e-6)]).histories[zone].ppm[-1]
            assert abs((history.ppm[i] + history.ppm[i + 1]) / 2 - exact) <= 1e-4 * swing


flows = st.floats(0.0, 2e-5)
stretches = st.lists(st.tuples(st.floats(1.0, 4000.0), flows), min_size=1, max_size=6)


@settings(max_examples=40, deadline=None)
@given(
    release=stretches,
    exchange=st.floats(4.0, 3000.0),
    outdoor=st.floats(0.0, 10.0),
)
def test_nothing_is_lost_and_nothing_is_negative(
    release: list[tuple[float, float]], exchange: float, outdoor: float
) -> None:
    """What went in and did not leave is there: the excess balance summed over time."""
    rooms = replace(two_rooms(exchange), outdoor_ppm=outdoor)
    found = over_time(rooms, release).histories
    assert min(min(one.ppm) for one in found) >= outdoor
    there, back = rooms.to_dwelling_m3_s, rooms.from_dwelling_m3_s
    gone = 0.0
    for zone, history, out in zip(rooms.zones, found, (back - there, there - back), strict=True):
        leaves = zone.outdoor_m3_s + out  # outward through walls and windows
        for t0, t1, c0, c1 in history.intervals():
            gone += leaves * (t1 - t0) * ((c0 + c1) / 2 - outdoor) * 1e-6
    held = sum(
        zone.volume_m3 * (history.ppm[-1] - outdoor) * 1e-6
        for zone, history in zip(rooms.zones, found, strict=True)
    )
    given_off = sum(duration * flow for duration, flow in release)
    # The trapezium between moments is within 1e-4 of each change.
    assert gone + held == pytest.approx(given_off, rel=3e-4, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(release=stretches, more=st.floats(1.0, 3.0))
def test_more_release_is_never_less_anywhere(
    release: list[tuple[float, float]], more: float
) -> None:
    one = over_time(two_rooms(), release).histories
    two = over_time(two_rooms(), [(t, flow * more) for t, flow in release]).histories
    for low, high in zip(one, two, strict=True):
        assert all(b >= a * (1 - 1e-12) for a, b in zip(low.ppm, high.ppm, strict=True))


# --- blood -----------------------------------------------------------------------------------


def right_side(person: Person, x: float, ppm: float) -> float:
    """The equation in the units of its authors, written apart: ml, min, mmHg."""
    ml_min = 60e6
    resistance = 1 / (person.diffusing_m3_s_pa * ml_min * MMHG_PA) + 713.0 / (
        person.ventilation_m3_s * ml_min
    )
    inhaled = ppm * 1e-6 * 713.0
    return (0.007 + (inhaled - x * 100.0 / (218.0 * (0.2 - x))) / resistance) / 5500.0


@pytest.mark.parametrize("person", PEOPLE, ids=lambda one: one.name)
@pytest.mark.parametrize("top", [0.0, 50.0, 800.0, 12_000.0])
def test_blood_against_scipy_in_a_rising_and_falling_air(person: Person, top: float) -> None:
    times, ppm = (0.0, 1200.0, 1800.0, 9000.0), (0.0, top, top, top / 10)
    found = cohb(History(times_s=times, ppm=ppm), person)
    x = 0.008 * 0.2
    for i, (start, end) in enumerate(pairwise(times)):
        solved = solve_ivp(
            lambda t, y: [right_side(person, y[0], float(np.interp(60 * t, times, ppm)))],
            (start / 60, end / 60),
            [x],
            "LSODA",
            rtol=1e-11,
            atol=1e-14,
        )
        x = solved.y[0, -1]
        # SciPy's own tolerance, summed over its steps.
        assert found[i + 1] == pytest.approx(500.0 * x, rel=1e-7)


@pytest.mark.parametrize("ppm", [70.0, 1500.0, 7500.0])
def test_blood_against_the_time_it_takes(ppm: float) -> None:
    """In constant air the equation separates: the time to a level is an integral."""
    minutes = 40.0
    reached = cohb(constant(ppm, minutes * 60.0), RESTING)[-1] / 500.0
    took, _ = quad(lambda x: 1.0 / right_side(RESTING, x, ppm), 0.0016, reached, epsabs=1e-10)
    assert took == pytest.approx(minutes, rel=1e-6)  # 1e-10 a step, and the quadrature


def test_linear_blood_against_scipy() -> None:
    times, ppm = (0.0, 1200.0, 1800.0, 9000.0), (0.0, 90.0, 90.0, 10.0)
    found = cohb_linear(History(times_s=times, ppm=ppm), RESTING)
    resistance = 1 / 30.0 + 713.0 / 6000.0

    def rate(t: float, x: list[float]) -> list[float]:
        inhaled = float(np.interp(60 * t, times, ppm)) * 713e-6
        return [(0.007 + (inhaled - x[0] * 100.0 / (218.0 * 0.2)) / resistance) / 5500.0]

    solved = solve_ivp(rate, (0, 150), [0.0016], rtol=1e-10, atol=1e-14, max_step=5.0)
    assert found[-1] == pytest.approx(500.0 * solved.y[0, -1], rel=1e-7)


def test_linear_blood_against_the_form_of_a_laboratory() -> None:
    """A state laboratory turns the linear form around to find the air from the blood.

    Its form (occupational health laboratory, Coburn equation calculator, rev. 1.0 of 2002, read):
    CO = 1316 (0.0046 C - 0.007 B + (0.007 B - 2.3 D) e^(-2.3 t / 5500 B)) / (1 - e^(...)), with C
    the blood in %, D the blood before in ml/ml. It takes CO as dry air at 760 mmHg where we take
    713, and rounds 100 / (218 x 0.2) = 2.294 to 2.3.
    """
    minutes = 240.0
    percent = cohb_linear(constant(70.0, minutes * 60.0), RESTING)[-1]
    b, before = 1 / 30.0 + 713.0 / 6000.0, 0.0016
    fade = math.exp(-2.3 * minutes / (5500.0 * b))
    ppm = 1316.0 * (0.0046 * percent - 0.007 * b + (0.007 * b - 2.3 * before) * fade) / (1 - fade)
    assert ppm * 760.0 / 713.0 == pytest.approx(70.0, rel=0.005)  # the rounding to 2.3


@pytest.mark.parametrize("ppm", [1000.0, 3000.0])
def test_first_minutes_of_much_against_a_correlation_of_measurements(ppm: float) -> None:
    """Stewart and others (1973), as a public page prints it: 3.317e-5 ppm^1.036 RMV t. [%]

    RMV for an alveolar ventilation of 6 l/min by that page: (6000 + 132 x 15) / 0.933 ml/min.
    """
    minutes, breathed = 5.0, (6.0 + 0.132 * 15) / 0.933
    rise = cohb(constant(ppm, minutes * 60.0), RESTING)[-1] - RESTING.start_percent
    # A power law of few volunteers against an equation; 15 breaths a minute is our guess.
    assert rise == pytest.approx(3.317e-5 * ppm**1.036 * breathed * minutes, rel=0.25)


def test_blood_settles_where_the_balance_says() -> None:
    for person in PEOPLE:
        for ppm in (0.0, 9.0, 100.0, 3000.0):
            late = cohb(constant(ppm, 60 * 86_400.0), person)[-1]
            assert late == pytest.approx(cohb_steady(ppm, person), rel=1e-6, abs=1e-6)


def test_the_half_time_in_clean_air_is_a_few_hours() -> None:
    """A textbook figure, from memory: 4 to 5 h at rest in air (320 min)."""
    clean = History(times_s=tuple(60.0 * i for i in range(900)), ppm=(0.0,) * 900)
    poisoned = cohb(clean, replace(LYING_STILL, start_percent=20.0))
    low = next(i for i, value in enumerate(poisoned) if value <= 10.0)
    assert 200 <= low <= 360


@settings(max_examples=40, deadline=None)
@given(
    ppm=st.lists(st.floats(0.0, 50_000.0), min_size=2, max_size=8),
    more=st.floats(0.0, 1000.0),
    person=st.sampled_from(PEOPLE),
)
def test_more_in_the_air_is_never_less_in_the_blood(
    ppm: list[float], more: float, person: Person
) -> None:
    times = tuple(600.0 * i for i in range(len(ppm)))
    one = cohb(History(times_s=times, ppm=tuple(ppm)), person)
    two = cohb(History(times_s=times, ppm=tuple(c + more for c in ppm)), person)
    assert all(0.0 < a < 100.0 for a in one)
    assert all(b >= a - 1e-7 for a, b in zip(one, two, strict=True))


def test_a_level_between_two_moments_is_found_on_the_line() -> None:
    assert first_at((0.0, 10.0, 20.0), (1.0, 1.0, 3.0), 2.0) == 15.0
    assert first_at((0.0, 10.0), (5.0, 1.0), 2.0) == 0.0
    assert first_at((0.0, 10.0), (0.0, 1.0), 2.0) is None


# --- alarm -----------------------------------------------------------------------------------


def minutes_of(history: History) -> tuple[float | None, float | None]:
    window = alarm_window(history)
    return tuple(None if at is None else at / 60.0 for at in (window.may_s, window.must_s))  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("what", "ppm", "may", "must"),
    [
        ("just below the lowest point an alarm is free, not bound", 69.9, 60.0, None),
        ("a level between two points counts as the one below for the duty", 149.0, 10.0, 240.0),
        ("just below the highest point", 399.0, 4.0, 50.0),
        ("above all points nothing holds it back", 401.0, 0.0, 15.0),
        ("just above the quiet level", 30.1, 60.0, None),
        ("at the quiet level it keeps silent", 30.0, None, None),
    ],
)
def test_alarm_in_constant_air(
    what: str, ppm: float, may: float | None, must: float | None
) -> None:
    assert minutes_of(constant(ppm, 5 * HOUR_S)) == (may, must), what


def test_rising_air_sets_the_duty_from_the_crossing_of_a_point() -> None:
    """10 ppm a minute: 70 ppm at 7 min, 150 at 15, 400 at 40; 400 for 15 min ends at 55."""
    may, must = minutes_of(History(times_s=(0.0, 6000.0), ppm=(0.0, 1000.0)))
    assert must == pytest.approx(55.0)
    # Shares: 3 of 43,200 min up to 30 ppm, 4 of 60 up to 70, 8 of 10 up to 150, the rest of 4.
    assert may == pytest.approx(15.0 + 4.0 * (1 - 3 / 43_200 - 4 / 60 - 8 / 10))


def test_a_dip_starts_the_duty_again_but_not_the_freedom() -> None:
    dip = History(
        times_s=(0.0, 3000.0, 3000.0, 3060.0, 3060.0, 30_000.0),
        ppm=(80.0, 80.0, 60.0, 60.0, 80.0, 80.0),
    )
    may, must = minutes_of(dip)
    assert must == pytest.approx(51.0 + 240.0)
    assert may == pytest.approx(10.0)


def test_no_duty_is_not_called_harmless() -> None:
    said = alarm_window(constant(60.0, 8 * HOUR_S)).must_why
    assert "does not say that the air does no harm" in said


@settings(max_examples=60, deadline=None)
@given(ppm=st.lists(st.floats(0.0, 600.0), min_size=2, max_size=12), more=st.floats(0.0, 200.0))
def test_more_in_the_air_never_delays_an_alarm(ppm: list[float], more: float) -> None:
    times = tuple(900.0 * i for i in range(len(ppm)))
    one = alarm_window(History(times_s=times, ppm=tuple(ppm)))
    two = alarm_window(History(times_s=times, ppm=tuple(c + more for c in ppm)))
    for early, late in ((two.may_s, one.may_s), (two.must_s, one.must_s)):
        assert late is None or (early is not None and early <= late + 1e-6)
    if one.must_s is not None:
        assert one.may_s is not None
        assert one.may_s <= one.must_s + 1e-6


def test_points_stand_in_order() -> None:
    assert [point.ppm for point in POINTS] == sorted(point.ppm for point in POINTS)


# --- the whole -------------------------------------------------------------------------------


def test_an_exposure_holds_what_a_plot_needs() -> None:
    found = exposure(water_heater(multiplier=10.0))
    for one in (*found.rooms, *found.blood):
        assert len(one.values) == len(found.times_s)
        assert one.label
        assert one.unit in ("ppm", "%")
    assert found.rooms[0].highest == pytest.approx(
        10 * 186.883 * (1 - math.exp(-0.35 * 4)), rel=1e-4
    )
    assert found.alarm.must_s is not None
    assert all(line.source and line.label for line in (*found.room_lines, *found.blood_lines))
    assert len(found.reached) == len(found.blood) * len(found.blood_lines)
    assert any("times 10 for worse burning" in text for text in found.assumptions)


def test_every_exposure_carries_its_cautions_and_no_all_clear() -> None:
    mild = exposure(water_heater(air_free_ppm=5.0))
    assert mild.cautions == CAUTIONS
    assert "shut off" in CAUTIONS[0]
    words = " ".join((*mild.cautions, *mild.assumptions, *(one.say for one in mild.reached)))
    for never in ("safe", "harmless", "no danger", "acceptable", "compliant"):
        assert not re.search(rf"\b{never}\b", words.lower())
    assert all(one.at_s is None and "may reach it" in one.say for one in mild.reached)


def test_air_of_the_dwelling_can_be_breathed() -> None:
    given = water_heater(rooms=two_rooms(), breathed="dwelling")
    found = exposure(given)
    assert found.breathed == 1
    assert found.rooms[1].highest < found.rooms[0].highest
    assert found.blood[0].highest < exposure(replace(given, breathed="appliance")).blood[0].highest


def test_start_up_spillage_harms_less_than_full_spillage() -> None:
    some = exposure(water_heater(spells=cycles(900.0, 1800.0, 4, startup_spill(120.0))))
    full = exposure(water_heater(spells=cycles(900.0, 1800.0, 4, 1.0)))
    assert some.rooms[0].highest < full.rooms[0].highest
    assert some.blood[0].highest < full.blood[0].highest


@settings(max_examples=12, deadline=None)
@given(share=st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5))
def test_what_lies_between_stays_between(share: list[float]) -> None:
    """Release per volume, air changes and outdoor air drawn between the two sides."""
    low = water_heater(air_free_ppm=50.0, rooms=room(40.0, 1.0, outdoor_ppm=0.5))
    high = water_heater(air_free_ppm=400.0, multiplier=5.0, rooms=room(20.0, 0.2, outdoor_ppm=2.0))

    def between(i: int, one: float, two: float) -> float:
        return one + share[i] * (two - one)

    middle = water_heater(
        air_free_ppm=between(0, 50.0, 400.0),
        multiplier=between(1, 1.0, 5.0),
        rooms=room(between(2, 40.0, 20.0), between(3, 1.0, 0.2), outdoor_ppm=between(4, 0.5, 2.0)),
    )
    bounds, found = exposure_between(low, high), exposure(middle)
    for name in ("rooms", "blood"):
        for low_one, one, high_one in zip(
            getattr(bounds.low, name), getattr(found, name), getattr(bounds.high, name), strict=True
        ):
            for t, value in list(zip(found.times_s, one.values, strict=True))[::25]:
                under = float(np.interp(t, bounds.low.times_s, low_one.values))
                over = float(np.interp(t, bounds.high.times_s, high_one.values))
                slack = 1e-4 * high_one.highest  # of the chords
                assert under - slack <= value <= over + slack


@pytest.mark.parametrize(
    ("high", "says"),
    [
        (water_heater(air_free_ppm=100.0), "less CO per volume"),
        (water_heater(rooms=room(changes_h=0.5)), "utility room loses more a second"),
        (water_heater(rooms=room(volume_m3=31.0)), "less CO per volume"),
        (water_heater(people=(RESTING,)), "people must be the same"),
        (water_heater(rooms=two_rooms()), "as many rooms"),
        (water_heater(spells=(Spell(duration_s=60.0, spilled=1.0),)), "equally long"),
    ],
)
def test_sides_that_bound_nothing_are_refused(high: Scenario, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        exposure_between(water_heater(), high)
