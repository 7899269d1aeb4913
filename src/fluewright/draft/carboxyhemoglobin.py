"""Carbon monoxide in the blood from the air that is breathed: Coburn, Forster and Kane (1965).

The blood of an average adult, mixed through, takes up CO against the back pressure of what it
holds. Children, the unborn, smokers and the ill differ; no figure here says that somebody is
out of danger.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fluewright.draft.co_history import History
from fluewright.errors import NotSolved, OutOfRange

MMHG_PA = 101_325.0 / 760.0
ML_MIN_M3_S = 1e-6 / 60.0
WATER_PA = 47.0 * MMHG_PA  # vapor in the lungs at body temperature, textbook
STANDARD_PA = 101_325.0
ERROR = 1e-10  # of the capacity of the blood, in each step


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """What the equation asks of a person; defaults are the equation's usual constants.

    Attributes:
        name: for labels.
        basis: where the figures come from.
        ventilation_m3_s: alveolar ventilation. [m3/s]
        diffusing_m3_s_pa: diffusing capacity of the lungs for CO. [m3/(s Pa)]
        blood_m3: volume of blood. [m3]
        own_m3_s: CO that the body makes. [m3/s]
        affinity: of hemoglobin for CO, over that for oxygen. [-]
        oxygen_pa: mean pressure of oxygen in the lung capillaries. [Pa]
        capacity: gas that hemoglobin can bind per blood. [m3/m3]
        start_percent: carboxyhemoglobin at the beginning. [% of capacity]
    """

    name: str
    basis: str
    ventilation_m3_s: float
    diffusing_m3_s_pa: float
    blood_m3: float = 5500e-6
    own_m3_s: float = 0.007 * ML_MIN_M3_S
    affinity: float = 218.0
    oxygen_pa: float = 100.0 * MMHG_PA
    capacity: float = 0.2
    start_percent: float = 0.8


def _person(name: str, basis: str, liters_min: float, diffusing: float) -> Person:
    """A person from ventilation in l/min and diffusing capacity in ml/(min mmHg)."""
    return Person(
        name=name,
        basis=basis,
        ventilation_m3_s=liters_min * 1000.0 * ML_MIN_M3_S,
        diffusing_m3_s_pa=diffusing * ML_MIN_M3_S / MMHG_PA,
    )


# Blood volume, own production, capacity and oxygen pressure over affinity (2.3 mmHg) also stand
# in the worked form of a state occupational health laboratory (2002), read; start 0.8 % and
# affinity on a public page on CO, read, which has a capacity of 0.22 instead.
_ACTIVITY = (
    "activity level of the criteria document on CO of the US National Institute for Occupational "
    "Safety and Health, 1972; from memory"
)
# RESTING takes up about 40 % more than was measured in men at rest (Tikuisis 1987, see the
# published checks), so it errs on the grave side; LYING_STILL comes within 20 %.
RESTING = _person("adult at rest", _ACTIVITY, 6.0, 30.0)
LIGHT_WORK = _person("adult at light work", _ACTIVITY, 18.0, 40.0)
HEAVY_WORK = _person("adult at heavy work", _ACTIVITY, 30.0, 60.0)
WORKING = _person("adult at work", "assumed, between light and heavy work", 20.0, 60.0)
LYING_STILL = _person(
    "young adult lying still",
    "ventilation 6 l/min as breathed, brought to dry gas at 0 degC, and diffusing capacity 20: "
    "public code for workplace blood tests, read; attribution to its method from memory",
    6.0 * 713.0 / 760.0 * 273.15 / 310.15,
    20.0,
)
PEOPLE = (RESTING, LIGHT_WORK, HEAVY_WORK, WORKING, LYING_STILL)


def cohb(history: History, person: Person, air_pa: float = STANDARD_PA) -> tuple[float, ...]:
    """Carboxyhemoglobin at the moments of a history. [% of capacity]

    Source: Coburn, Forster, Kane, J. Clin. Invest. 44 (1965) 1899, with oxyhemoglobin as what
    carboxyhemoglobin leaves (non-linear form); solved by a fourth-order Runge-Kutta method whose
    steps are halved until two halves agree with the whole to 1e-10 of the capacity.
    Valid: an adult with constant breathing; blood mixed through, so the first minutes of a high
    concentration are uncertain. A person who faints no longer breathes as assumed.

    Args:
        history: concentration breathed. [ppm]
        person: see ``PEOPLE``.
        air_pa: barometric pressure; it acts on CO alone, oxygen pressure is the person's. [Pa]
    Returns:
        One figure for each moment of the history, above 0 and below 100. [%]
    Raises:
        OutOfRange: a figure of the person or of the air that cannot be.
        NotSolved: the steps became too short to go on.
    """
    _check(person, air_pa)
    full = person.capacity
    x = person.start_percent / 100.0 * full
    found, step = [x], math.inf
    for t0, t1, c0, c1 in history.intervals():
        x, step = _advance(person, air_pa, x, t1 - t0, (c0, c1), step)
        found.append(x)
    return tuple(100.0 * one / full for one in found)


def cohb_linear(history: History, person: Person, air_pa: float = STANDARD_PA) -> tuple[float, ...]:
    """Carboxyhemoglobin with oxyhemoglobin held at the full capacity. [% of capacity]

    Source: as ``cohb``, linear form: exact over each interval.
    Valid: as a check up to about 10 %; above it figures come out too high.

    Args:
        history: concentration breathed. [ppm]
        person: see ``PEOPLE``.
        air_pa: barometric pressure. [Pa]
    Returns:
        One figure for each moment of the history. [%]
    Raises:
        OutOfRange: as ``cohb``; or a figure of 100 % and more, where the linear form means nothing.
    """
    _check(person, air_pa)
    resistance, back, full = _resistance(person, air_pa), _back(person), person.capacity
    k = back / (full * resistance * person.blood_m3)
    x = person.start_percent / 100.0 * full
    found = [x]
    for t0, t1, c0, c1 in history.intervals():
        span = t1 - t0
        if span > 0.0:
            gain = [(person.own_m3_s + _inhaled(c, air_pa) / resistance) for c in (c0, c1)]
            slope = (gain[1] - gain[0]) / span / person.blood_m3 / k
            level = (gain[0] / person.blood_m3 - slope) / k
            x = level + slope * span + (x - level) * math.exp(-k * span)
        found.append(x)
    if not max(found) < full:
        raise OutOfRange("linear carboxyhemoglobin: 100 % or more. Use the non-linear form, cohb.")
    return tuple(100.0 * one / full for one in found)


def cohb_steady(ppm: float, person: Person, air_pa: float = STANDARD_PA) -> float:
    """Carboxyhemoglobin after breathing one concentration without end. [% of capacity]

    Source: the equation of ``cohb`` at rest.

    Args:
        ppm: concentration breathed. [ppm]
        person: see ``PEOPLE``.
        air_pa: barometric pressure. [Pa]
    Returns:
        The level that the blood tends to. [%]
    Raises:
        OutOfRange: as ``cohb``, or a concentration below 0 or above 1,000,000 ppm.
    """
    _check(person, air_pa)
    if not 0.0 <= ppm <= 1e6:
        raise OutOfRange(f"carboxyhemoglobin: {ppm} ppm. Allowed: 0 to 1,000,000 ppm.")
    pressure = _inhaled(ppm, air_pa) + person.own_m3_s * _resistance(person, air_pa)
    ratio = pressure / _back(person)
    return 100.0 * ratio / (1.0 + ratio)


def first_at(times_s: Sequence[float], values: Sequence[float], level: float) -> float | None:
    """When values that are joined by straight lines first reach a level; None: not in them. [s]"""
    if values[0] >= level:
        return times_s[0]
    for (t0, v0), (t1, v1) in pairwise(zip(times_s, values, strict=True)):
        if v1 >= level:
            return t0 + (t1 - t0) * (level - v0) / (v1 - v0)
    return None


def _resistance(person: Person, air_pa: float) -> float:
    """From air to blood: of the lung's membrane and of its ventilation. [Pa s/m3]"""
    return 1.0 / person.diffusing_m3_s_pa + (air_pa - WATER_PA) / person.ventilation_m3_s


def _back(person: Person) -> float:
    """Back pressure of CO when half the hemoglobin holds it. [Pa]"""
    return person.oxygen_pa / person.affinity


def _inhaled(ppm: float, air_pa: float) -> float:
    """Pressure of CO in air made moist by the airways. [Pa]"""
    return ppm * 1e-6 * (air_pa - WATER_PA)


def _advance(
    person: Person,
    air_pa: float,
    x: float,
    span: float,
    ends: tuple[float, float],
    step: float,
) -> tuple[float, float]:
    """Blood at the end of an interval, and the step that served, for the next one."""
    if span <= 0.0:
        return x, step
    resistance, back, full = _resistance(person, air_pa), _back(person), person.capacity
    own, blood = person.own_m3_s, person.blood_m3
    p0, p1 = _inhaled(ends[0], air_pa), _inhaled(ends[1], air_pa)

    def rate(t: float, now: float) -> float:
        if now >= full:
            return math.nan  # a trial step that went too far: it is halved
        inhaled = p0 + (p1 - p0) * t / span
        return (own + (inhaled - now * back / (full - now)) / resistance) / blood

    def leap(t: float, now: float, h: float) -> float:
        a = rate(t, now)
        b = rate(t + h / 2, now + h / 2 * a)
        c = rate(t + h / 2, now + h / 2 * b)
        d = rate(t + h, now + h * c)
        return now + h / 6 * (a + 2 * b + 2 * c + d)

    t = 0.0
    while t < span:
        h = min(step, span - t)
        whole = leap(t, x, h)
        halves = leap(t + h / 2, leap(t, x, h / 2), h / 2)
        wrong = abs(halves - whole) / 15.0
        if not (wrong <= ERROR * full and 0.0 < halves < full):
            step = h / 2
            if step < 1e-9 * span:
                raise NotSolved(
                    f"carboxyhemoglobin: no step is short enough near {100 * x / full:.1f} % at "
                    f"{max(ends):g} ppm. Check the concentration and the person's figures."
                )
            continue
        x = halves
        t = span if h >= span - t else t + h
        step = max(step, h) if wrong > ERROR * full / 64.0 else 2.0 * max(step, h)
    return x, step


def _check(person: Person, air_pa: float) -> None:
    """Refuse figures that no person or air has."""
    for what, value, low, high in (
        ("air pressure", air_pa, 4e4, 1.2e5),
        ("ventilation", person.ventilation_m3_s, 1e-6, 5e-3),
        ("diffusing capacity", person.diffusing_m3_s_pa, 1e-10, 1e-7),
        ("blood volume", person.blood_m3, 1e-4, 2e-2),
        ("own production of CO", person.own_m3_s, 0.0, 1e-8),
        ("affinity", person.affinity, 50.0, 500.0),
        ("oxygen pressure", person.oxygen_pa, 1e3, 1e5),
        ("capacity", person.capacity, 0.02, 0.4),
    ):
        if not low <= value <= high:
            raise OutOfRange(f"{person.name}: {what} {value:g}. Allowed: {low:g} to {high:g} (SI).")
    if not 0.0 < person.start_percent < 100.0:
        raise OutOfRange(f"{person.name}: starts at {person.start_percent} %. Above 0, below 100.")
