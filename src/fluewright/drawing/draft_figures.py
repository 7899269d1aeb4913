"""The answer of the draft engine as figures: one scene for each question.

Nothing is computed here that the engine does not say; the balance is only sampled over the flow.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Protocol

from fluewright.draft.assess import GRACE_S, Assessment, Moved
from fluewright.draft.from_survey import Modelled
from fluewright.draft.spill_map import SpillTimes
from fluewright.draft.warmup import Warmup
from fluewright.drawing import draft_units as units
from fluewright.drawing import plot
from fluewright.drawing.draft_balance import flow_balance
from fluewright.drawing.draft_path import along_the_path
from fluewright.drawing.draft_words import (
    conditions_words,
    is_danger,
    led_by_doubt,
    minutes_words,
    pressure_words,
    start_words,
    temperature_words,
)
from fluewright.drawing.plot.chances import percent
from fluewright.drawing.plot.data import (
    Chance,
    DayOfTest,
    Effect,
    Limit,
    Measure,
    Moment,
    ProbabilityBars,
    Size,
    SpillClass,
    SpillTimeMap,
    Tornado,
    WarmupTrace,
)
from fluewright.drawing.scene import Scene
from fluewright.drawing.words import Style

SHORT_S = 60.0
LATE = ("over_5", "never")
MOST_EFFECTS = 10
MOST_MOMENTS = 160
PATH, BALANCE, START, MATTERS, MAP, CHANCES = "path", "balance", "start", "matters", "map", "odds"


class Share(Protocol):
    """How many samples show something, as ``ensemble.outcome.Share``."""

    @property
    def of(self) -> int: ...  # noqa: D102
    @property
    def share(self) -> float | None: ...  # noqa: D102
    @property
    def low(self) -> float: ...  # noqa: D102
    @property
    def high(self) -> float: ...  # noqa: D102


class Outcome(Protocol):
    """What an ensemble says, as ``ensemble.outcome.Outcome``."""

    @property
    def samples(self) -> int: ...  # noqa: D102
    @property
    def spills(self) -> Share: ...  # noqa: D102
    @property
    def fails_to_start(self) -> Share: ...  # noqa: D102
    @property
    def wet(self) -> Share: ...  # noqa: D102


def figures_of(
    modelled: Modelled,
    assessment: Assessment,
    style: Style,
    outcome: Outcome | None = None,
    spill_times: SpillTimes | None = None,
    size: Size = "column",
) -> tuple[tuple[str, Scene], ...]:
    """Every figure that the answer gives, each under its name, the most telling first.

    Args:
        modelled: the system and its inputs.
        assessment: what the engine says of it.
        style: units.
        outcome: of an ensemble, where there is one.
        spill_times: over weather and house, where they were computed.
        size: ``column`` of a report, or ``phone``.
    Returns:
        Names and scenes; a fan-assisted appliance has neither balance nor start.
    Raises:
        OutOfRange: a number that cannot be drawn.
    """
    made = [(PATH, plot.along_the_path(along_the_path(modelled, assessment, style, size)))]
    if modelled.system.hood is not None:
        made.append((BALANCE, plot.flow_balance(flow_balance(modelled, assessment, style, size))))
    if assessment.start is not None:
        trace = warmup_trace(modelled, assessment, assessment.start, style, size)
        made.append((START, plot.warmup_trace(trace)))
    if assessment.moved:
        made.append((MATTERS, plot.tornado(tornado(modelled, assessment, style, size))))
    if spill_times is not None:
        figure = spill_time_map(modelled, spill_times, style, size)
        figure = replace(figure, answer=led_by_doubt(assessment, figure.answer))
        made.append((MAP, plot.spill_time_map(figure)))
    if outcome is not None:
        bars = probability_bars(outcome, size)
        if bars.chances:
            made.append((CHANCES, plot.probability_bars(bars)))
    return tuple(made)


# ------------------------------------------------------------------- a start from cold


def warmup_trace(
    modelled: Modelled, assessment: Assessment, course: Warmup, style: Style, size: Size = "column"
) -> WarmupTrace:
    """Flow, coldest wall with dew point, and share spilled after a start. [min, lb/h or g/s]"""
    scale = units.flow("Flow up the vent", style)
    warm = units.temperature("Coldest wall", style)
    moments = tuple(
        Moment(
            time=course.at_s[n] / 60.0,
            flow=scale.of(course.flow_kg_s[n]),
            wall=warm.of(course.coldest_k[n]),
            dew=_shown(course.dew_k[n], warm),
            spilled=min(max(course.spilt[n], 0.0), 1.0),
        )
        for n in _kept(course)
    )
    ends = course.spills_s
    wet = f"The wall is wet for {minutes_words(course.wet_s)}." if course.wet_s else ""
    if course.wet_s and course.wet_s >= 0.98 * course.at_s[-1]:
        wet = "The wall is wet all the time computed."
    return WarmupTrace(
        title="A start from cold",
        answer=led_by_doubt(assessment, f"{start_words(assessment)} {wet}".rstrip()),
        alarm=is_danger(assessment),
        notes=(
            "The vent stood cold for an hour. " + conditions_words(modelled, style),
        ),
        moments=moments,
        demand=scale.of(modelled.system.flue.mass_kg_s),
        established=ends / 60.0 if ends else None,
        flow=scale.measure,
        temperature=warm.measure,
        size=size,
    )  # fmt: skip


def _shown(kelvin: float | None, scale: units.Scale) -> float | None:
    return None if kelvin is None else scale.of(kelvin)


def _kept(course: Warmup) -> list[int]:
    """Moments enough for a smooth line, with every one at which something begins or ends."""
    many = len(course.at_s)
    step = max(1, many // MOST_MOMENTS)
    kept = {*range(0, many, step), many - 1}
    for n, (a, b) in enumerate(pairwise(zip(course.spilt, course.dew_k, strict=True))):
        if (a[0] > 0.0) != (b[0] > 0.0) or (a[1] is None) != (b[1] is None):
            kept |= {n, n + 1}
    return sorted(kept)


# ------------------------------------------------------------------- what matters most


def tornado(
    modelled: Modelled, assessment: Assessment, style: Style, size: Size = "column"
) -> Tornado:
    """What each input does to the draft to spare, the ten strongest. [Pa]"""
    scale = units.pressure("Draft to spare, once hot", style)
    strongest = assessment.moved[:MOST_EFFECTS]
    first = strongest[0]
    left = len(assessment.moved) - len(strongest)
    worst = min((first.at_low_pa, first.at_high_pa))
    answer = (
        f"Most depends on: {label_words(first)}. With that alone at its worst end "
        + (f"{pressure_words(worst, style)} is left." if worst >= 0.0
           else f"it spills: {pressure_words(-worst, style)} is lacking.")
    )  # fmt: skip
    more = (f"{left} more inputs move it less.",) if left else ()
    if any(one.unit == "W/(m2 K)" for one in strongest):
        more = (f"U: heat loss in {units.U_UNIT[style]}.", *more)
    return Tornado(
        title="What matters most",
        answer=led_by_doubt(assessment, answer),
        alarm=assessment.solved.margin_pa < 0.0,
        notes=(*more, "Each input alone, from end to end of its range; the others in the middle."),
        effects=tuple(
            Effect(
                name=_capital(label_words(one)),
                low=units.input_words(one.name, one.low, one.unit, style),
                high=units.input_words(one.name, one.high, one.unit, style),
                at_low=scale.of(one.at_low_pa),
                at_high=scale.of(one.at_high_pa),
            )
            for one in strongest
        ),
        base=scale.of(assessment.solved.margin_pa),
        result=scale.measure,
        base_words="at the figures taken",
        limit=Limit(value=0.0, words="spills", fails="below"),
        size=size,
    )


def label_words(one: Moved) -> str:
    """The name of an input for people."""
    return one.label.removesuffix(", as a share of their tolerance")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# ------------------------------------------------------------------- weather and house


def spill_time_map(
    modelled: Modelled, times: SpillTimes, style: Style, size: Size = "column"
) -> SpillTimeMap:
    """Classes of spill time over outdoor temperature and house pressure. [degF or degC, Pa]"""
    outdoor, house = units.temperature("Outdoors", style), units.pressure("House", style)
    around = modelled.system.around
    followed = minutes_words(times.burn_s)
    here = DayOfTest(
        outdoor=outdoor.of(around.outdoor_k), house=around.room_pa, words="as computed above"
    )
    within = (
        times.outdoor_k[0] <= around.outdoor_k <= times.outdoor_k[-1]
        and times.room_pa[0] <= around.room_pa <= times.room_pa[-1]
    )
    return SpillTimeMap(
        title="Starts from cold in other weather, with fans on",
        answer=_map_answer(modelled, times, style),
        alarm=all(s is None or s > GRACE_S for row in times.spills_s for s in row),
        notes=(
            f"It fails where it spills longer than {minutes_words(GRACE_S)}. Never drafts: not "
            f"within the {followed} computed. House pressure below zero is suction, as from "
            "kitchen, bath and dryer fans.",
        ),
        outdoor=tuple(round(outdoor.of(k), 2) for k in times.outdoor_k),
        house=times.room_pa,
        classes=tuple(tuple(class_of(s) for s in row) for row in times.spills_s),
        tests=(here,) if within else (),
        outdoor_measure=outdoor.measure,
        house_measure=Measure(name="House pressure", unit="Pa", also=house.measure.also),
        size=size,
    )


def class_of(spills_s: float | None) -> SpillClass:
    """The class of a spill time."""
    if spills_s is None:
        return "never"
    return "over_5" if spills_s > GRACE_S else "over_1" if spills_s > SHORT_S else "short"


def _map_answer(modelled: Modelled, times: SpillTimes, style: Style) -> str:
    """In which weather it fails with no fan on, and at which suction in the weather computed."""
    calm = min(range(len(times.room_pa)), key=lambda n: abs(times.room_pa[n]))
    failing = [
        outdoor
        for outdoor, seconds in zip(times.outdoor_k, times.spills_s[calm], strict=True)
        if class_of(seconds) in LATE
    ]
    said = (
        f"With no fan on it already fails at {temperature_words(failing[0], style)} outdoors."
        if failing
        else "With no fan on it takes over in all weather shown."
    )
    now = modelled.system.around.outdoor_k
    near = min(range(len(times.outdoor_k)), key=lambda n: abs(times.outdoor_k[n] - now))
    weak = [
        pressure
        for pressure, row in zip(times.room_pa, times.spills_s, strict=True)
        if class_of(row[near]) in LATE
    ]
    here = temperature_words(times.outdoor_k[near], style)
    if not weak:
        return f"{said} At {here} no suction shown keeps it from that."
    return f"{said} At {here} it fails from a house pressure of {pressure_words(max(weak), style)}."


# ------------------------------------------------------------------- chances


def probability_bars(outcome: Outcome, size: Size = "column") -> ProbabilityBars:
    """How probable spillage, a failed start and a wet wall are over all that was drawn. [-]"""
    named = (
        ("Spills once hot", outcome.spills),
        ("Does not take over from cold", outcome.fails_to_start),
        ("Wet wall once hot", outcome.wet),
    )
    chances = tuple(
        Chance(name=name, value=one.share, low=one.low, high=one.high)
        for name, one in named
        if one.share is not None
    )
    bad = [one for one in chances[:2] if one.value >= 0.5]
    return ProbabilityBars(
        title="How probable it is",
        answer=_odds_words(outcome),
        alarm=bool(bad),
        notes=(
            f"{outcome.samples:,} draws of weather, house and what is not known of the vent. The "
            "interval holds chance alone, not what the model leaves out.",
        ),
        chances=chances,
        size=size,
    )


def _odds_words(outcome: Outcome) -> str:
    """How many of the draws spill or fail to start, the worse one first."""
    told = [
        (one.share, words)
        for one, words in (
            (outcome.spills, "spill once hot"),
            (outcome.fails_to_start, "do not take over from cold"),
        )
        if one.share is not None
    ]
    if not told:
        return "Whether it spills is known of none of the draws."
    told.sort(key=lambda one: -one[0])
    return "Of all draws " + " and ".join(f"{percent(n)} {words}" for n, words in told) + "."
