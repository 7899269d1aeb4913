"""From a flue reading to the room, the alarm and the blood: what a plot of an exposure draws.

Every result carries its assumptions and cautions. A low figure is the outcome of assumptions,
never a statement that somebody is out of danger.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from fluewright.draft.alarm import POINTS, SOURCE, AlarmWindow, alarm_window
from fluewright.draft.carboxyhemoglobin import RESTING, WORKING, Person, cohb, first_at
from fluewright.draft.co_history import History
from fluewright.draft.co_release import ICE_K, VITIATION, Spell, at_room, co_release
from fluewright.draft.co_room import Rooms, over_time, rates
from fluewright.draft.system import STANDARD_AIR_PA
from fluewright.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold:
    """A level that a plot draws as a line, with what stands at it and who says so."""

    value: float
    unit: str
    label: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """A curve over the moments of an exposure."""

    label: str
    unit: str
    values: tuple[float, ...]

    @property
    def highest(self) -> float:
        """Greatest value of the curve, in its unit."""
        return max(self.values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """When a person's blood first reaches a level; ``at_s`` None: not in the time computed."""

    person: str
    level: Threshold
    at_s: float | None
    say: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """All that an exposure is computed from.

    Attributes:
        name: for the plot.
        air_free_ppm: CO in the air-free flue gas. [ppm]
        dry_m3_j: dry gas of exact combustion per heat. [m3 at 0 degC and 101.325 kPa, per J]
        input_w: while the burner burns. [W]
        spells: what share spills for how long, in order.
        rooms: where it goes.
        multiplier: of worse burning in spilled gas, within ``VITIATION``. [-]
        room_k, air_pa: of the room air. [K, Pa]
        people: whose blood is computed.
        breathed: air of the "appliance" room or of the "dwelling".
    """

    name: str
    air_free_ppm: float
    dry_m3_j: float
    input_w: float
    spells: tuple[Spell, ...]
    rooms: Rooms
    multiplier: float = 1.0
    room_k: float = 294.15
    air_pa: float = STANDARD_AIR_PA
    people: tuple[Person, ...] = (RESTING, WORKING)
    breathed: str = "appliance"


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """Curves over ``times_s`` with the lines, moments and words that belong to them."""

    name: str
    times_s: tuple[float, ...]
    release: tuple[tuple[float, float], ...]  # (duration [s], CO at room conditions [m3/s])
    rooms: tuple[Series, ...]
    breathed: int  # which of ``rooms`` the people and the alarm are in
    blood: tuple[Series, ...]  # one a person
    alarm: AlarmWindow
    room_lines: tuple[Threshold, ...]
    blood_lines: tuple[Threshold, ...]
    reached: tuple[Reached, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposureRange:
    """A lower and a higher exposure, bounding what ``exposure_between`` says they bound."""

    low: Exposure
    high: Exposure


_REVIEW = "US National Research Council, review of combined CO and cyanide, 2008 (read)"
BLOOD_LINES = (
    Threshold(
        value=2.5,
        unit="%",
        label="level not to be exceeded for the public",
        source="WHO, Air quality guidelines for Europe, 2nd ed. (read in a paper that quotes it)",
    ),
    Threshold(
        value=10.0,
        unit="%",
        label="headache may begin; alarms are set to sound at about this level",
        source=f"{_REVIEW}; {SOURCE}",
    ),
    Threshold(
        value=30.0,
        unit="%",
        label="from here on headache, confusion, unconsciousness, possibly death",
        source=_REVIEW,
    ),
)
ROOM_LINES = tuple(
    Threshold(
        value=point.ppm,
        unit="ppm",
        label=(
            f"an alarm keeps silent for {point.may_s / 86_400:g} days"
            if point.must_s is None
            else f"an alarm sounds after {point.may_s / 60:g} to {point.must_s / 60:g} min"
        ),
        source=SOURCE,
    )
    for point in POINTS
)

# Levels in the unborn are 10 to 15 % above the mother's in balance: WHO, Air quality guidelines
# for Europe, 2nd ed. (excerpt read). The rest is common practice, no source.
CAUTIONS = (
    "An appliance that spills is shut off, whatever these figures say. If an alarm sounds or "
    "somebody feels ill, everyone leaves at once and calls the emergency number from outdoors.",
    "A low figure comes from the assumptions beside it. It replaces neither a carbon monoxide "
    "alarm nor a measurement in the room, and it is no reason to go on using the appliance.",
    "The blood computed is that of an average adult. The unborn, small children, and people with "
    "a sick heart or lungs come to harm earlier; so does anyone who was exposed before.",
    "Burning gets worse when a burner draws in its own gas, and no one can say beforehand by how "
    f"much: up to {VITIATION.high:g} times as much carbon monoxide was found.",
    "An alarm sounds only where it hangs, with power and within its life, and the standard allows "
    "it to keep silent below 70 ppm.",
)


def exposure(scenario: Scenario) -> Exposure:
    """Carbon monoxide in the room and the blood over time, with alarm and levels. [s, ppm, %]

    Source: ``co_release``, ``over_time``, ``cohb`` and ``alarm_window``, one after the other.
    Valid: see there; rooms mixed through, air flows constant, windows and doors as described.

    Args:
        scenario: all inputs.
    Returns:
        Curves, lines, moments, assumptions and cautions, ready to be drawn.
    Raises:
        OutOfRange: an input outside what it can be; the message names it.
        NotSolved: the blood could not be integrated.
    """
    release = _release(scenario)
    air = over_time(scenario.rooms, release)
    where = _where(scenario)
    breathed = air.histories[where]
    blood = tuple(
        Series(label=one.name, unit="%", values=cohb(breathed, one, scenario.air_pa))
        for one in scenario.people
    )
    return Exposure(
        name=scenario.name,
        times_s=breathed.times_s,
        release=release,
        rooms=tuple(
            Series(label=zone.name, unit="ppm", values=one.ppm)
            for zone, one in zip(scenario.rooms.zones, air.histories, strict=True)
        ),
        breathed=where,
        blood=blood,
        alarm=alarm_window(breathed),
        room_lines=ROOM_LINES,
        blood_lines=BLOOD_LINES,
        reached=tuple(_reached(breathed, one, line) for one in blood for line in BLOOD_LINES),
        assumptions=_assumptions(scenario),
        cautions=CAUTIONS,
    )


def exposure_between(low: Scenario, high: Scenario) -> ExposureRange:
    """Two exposures that bound those between them. [s, ppm, %]

    Source: comparison of linear balances without negative terms. The excess over outdoors grows
    with release and start, and falls with each zone's loss rate; so when at every moment
    ``high`` releases at least as much per volume of room, loses no more of it per second and
    passes no less on to the other zone, it is nowhere below ``low``. Blood grows with what is
    breathed, and an alarm then sounds no later.
    Valid: for every exposure whose release per volume of room, air changes per hour, starts and
    outdoor air lie between the two. Flows and volumes taken each for itself do not: a large room
    with little air holds a short burst longer than a small one with the same air. Times, people
    and air pressure are no ranges: both sides have the same.

    Args:
        low: the inputs on the mild side.
        high: the inputs on the grave side.
    Returns:
        Both exposures.
    Raises:
        OutOfRange: inputs that are not in that order, so that the two would bound nothing; and
            as ``exposure``.
    """
    _ordered(low, high)
    return ExposureRange(low=exposure(low), high=exposure(high))


def _release(scenario: Scenario) -> tuple[tuple[float, float], ...]:
    """Durations and CO at room conditions. [(s, m3/s)]"""
    if not scenario.spells:
        raise OutOfRange(f"{scenario.name}: no spells. Say how long the burner burns and spills.")
    return tuple(
        (
            spell.duration_s,
            at_room(
                co_release(
                    scenario.air_free_ppm,
                    scenario.dry_m3_j,
                    scenario.input_w,
                    spilled=spell.spilled,
                    multiplier=scenario.multiplier,
                ),
                scenario.room_k,
                scenario.air_pa,
            ),
        )
        for spell in scenario.spells
    )


def _where(scenario: Scenario) -> int:
    """Which zone is breathed in."""
    names = ("appliance", "dwelling")[: len(scenario.rooms.zones)]
    if scenario.breathed not in names:
        raise OutOfRange(
            f"{scenario.name}: air breathed in {scenario.breathed!r}. Allowed: {', '.join(names)}."
        )
    return names.index(scenario.breathed)


def _reached(history: History, blood: Series, line: Threshold) -> Reached:
    """When one person's blood first comes to a level, in words too."""
    at = first_at(history.times_s, blood.values, line.value)
    if at is not None:
        say = f"{blood.label}: {line.value:g} % of the blood's capacity after {at / 60:.0f} min"
    else:
        hours = history.times_s[-1] / 3600.0
        say = (
            f"{blood.label}: {line.value:g} % was not reached in the {hours:.3g} h computed "
            f"(highest {blood.highest:.2g} %); longer or worse spillage may reach it"
        )
    return Reached(person=blood.label, level=line, at_s=at, say=say)


def _assumptions(scenario: Scenario) -> tuple[str, ...]:
    """What the figures rest on, in words."""
    rooms = scenario.rooms
    air = tuple(
        f"{zone.name}: {zone.volume_m3:.4g} m3, {3600 * zone.outdoor_m3_s / zone.volume_m3:.3g} "
        "changes an hour with outdoor air, mixed through"
        for zone in rooms.zones
    )
    between = (
        (
            f"air between the rooms: {3600 * rooms.to_dwelling_m3_s:.4g} m3/h to the dwelling, "
            f"{3600 * rooms.from_dwelling_m3_s:.4g} m3/h back",
        )
        if rooms.dwelling
        else ()
    )
    return (
        f"{scenario.air_free_ppm:.4g} ppm of CO in the air-free flue gas, times "
        f"{scenario.multiplier:g} for worse burning (scenario; possible: {VITIATION.low:g} to "
        f"{VITIATION.high:g})",
        f"input {scenario.input_w:.4g} W while it burns; spilled gas all goes to "
        f"{rooms.appliance.name} at {scenario.room_k - ICE_K:.0f} degC",
        *air,
        *between,
        f"outdoor air {rooms.outdoor_ppm:g} ppm",
        *(f"{one.name}: starts at {one.start_percent:g} %; {one.basis}" for one in scenario.people),
    )


def _ordered(low: Scenario, high: Scenario) -> None:
    """Refuse two scenarios of which the second does not bound the first from above."""
    for what in ("people", "air_pa", "breathed"):
        if getattr(low, what) != getattr(high, what):
            raise OutOfRange(f"between two exposures: {what} must be the same in both.")
    one, two = rates(low.rooms), rates(high.rooms)
    if len(one) != len(two):
        raise OutOfRange("between two exposures: as many rooms in the one as in the other.")
    wrong = [
        f"{high.rooms.zones[i].name} "
        f"{'loses more a second' if i == j else 'receives less from the other room'} "
        "on the high side"
        for i, (row, other) in enumerate(zip(one, two, strict=True))
        for j, (small, big) in enumerate(zip(row, other, strict=True))
        if big < small - 1e-12 * abs(small)
    ]
    wrong += [
        f"{zone.name} starts lower above outdoors on the high side"
        for i, zone in enumerate(high.rooms.zones)
        if _excess(high, i) < _excess(low, i)
    ]
    if high.rooms.outdoor_ppm < low.rooms.outdoor_ppm:
        wrong.append("outdoor air is cleaner on the high side")
    if not _more_all_along(low, high):
        wrong.append("less CO per volume of room is released on the high side at some moment")
    if wrong:
        raise OutOfRange(f"between two exposures: {'; '.join(wrong)}. Turn these inputs around.")


def _excess(scenario: Scenario, zone: int) -> float:
    """Concentration above outdoors at the beginning. [ppm]"""
    start = scenario.rooms.zones[zone].start_ppm
    return 0.0 if start is None else start - scenario.rooms.outdoor_ppm


def _more_all_along(low: Scenario, high: Scenario) -> bool:
    """Whether the second releases at least as much per volume of its room, all the time."""
    below, above = _release(low), _release(high)
    ends: list[list[float]] = [[0.0], [0.0]]
    for known, release in zip(ends, (below, above), strict=True):
        for duration, _ in release:
            known.append(known[-1] + duration)
    if abs(ends[0][-1] - ends[1][-1]) > 1e-9 * ends[0][-1]:
        raise OutOfRange("between two exposures: both must last equally long.")
    moments = sorted({*ends[0], *ends[1]})
    small, big = low.rooms.appliance.volume_m3, high.rooms.appliance.volume_m3
    for start, end in pairwise(moments):
        if end - start <= 1e-9 * moments[-1]:
            continue
        middle = (start + end) / 2.0
        flows = [
            next(flow for (_, flow), until in zip(one, known[1:], strict=True) if middle < until)
            for one, known in zip((below, above), ends, strict=True)
        ]
        if flows[1] / big < flows[0] / small * (1.0 - 1e-12):
            return False
    return True
