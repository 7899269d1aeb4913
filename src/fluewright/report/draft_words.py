"""What the draft engine found, as sentences: danger first, then what it was reckoned with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from fluewright.draft.assess import FANS_PA, GRACE_S, WARM_EVENING_K, Assessment, Moved
from fluewright.draft.doubts import Doubts
from fluewright.draft.from_survey import Modelled
from fluewright.draft.solve import Operating
from fluewright.draft.survey_model.inputs import Assumed
from fluewright.draft.system import Around
from fluewright.draft.warmup import Warmup
from fluewright.quantity import Dimension, Style, show
from fluewright.survey import Survey

ZERO_K = 273.15
PA_PER_INCH_WC = 249.08891
SURE_PA = 2.0  # a margin of less than this is gone with a door, a gust or a fan (assumed)

SHUT_OFF = (
    "Shut the appliance off now, open windows and doors, leave the house, and call from outside: "
    "the gas company or a licensed contractor."
)
MEND_FIRST = (
    "Keep the appliance off until this is put right and it passes a spillage test with the house "
    "closed and fans running."
)
TEST_FIRST = (
    "Do not rely on it before it passes a spillage test with the house closed and fans running."
)
COMPUTED = (
    "Computed from the survey, not measured: only a test at the appliance shows whether it drafts. "
    "Spillage seen, soot, stains or anybody unwell count more than any figure here."
)
APART = (
    "The code's answer and this one are worked out apart, and neither overrules the other: a vent "
    "of a permitted size can spill, and one that drafts can still break the code."
)
NO_PASS = (
    "This is no approval and no pass. The adopted local code, the listing and the maker's "
    "instructions, the authority having jurisdiction and licensed practice decide."
)
SAW_IT_SPILL = "The survey's own test saw it spill."
NOT_SAMPLED = (
    "what was seen of the vent, or not looked at, is in none of these samples: the answer above "
    "goes before them"
)
CAUTIONS = (COMPUTED, APART, NO_PASS)


def pressure(value_pa: float, style: Style = "us") -> str:
    """A pressure as a gauge for it reads, both ways in US style: ``4.6 Pa (0.018 in w.c.)``."""
    shown = f"{value_pa:.1f} Pa"
    if style == "metric":
        return shown
    return f"{shown} ({value_pa / PA_PER_INCH_WC:.3f} in w.c.)"


def temperature(kelvin: float, style: Style = "us") -> str:
    """A temperature as people read it."""
    return show(kelvin - ZERO_K, Dimension.TEMPERATURE, style)


def span(seconds: float) -> str:
    """A time as a stopwatch shows it: seconds up to two minutes, then minutes."""
    return f"{seconds:.0f} s" if seconds < 120.0 else f"{seconds / 60.0:.0f} min"


def answer(found: Assessment, style: Style = "us") -> str:
    """The answer in one sentence."""
    margin = found.solved.margin_pa
    if found.doubts.spills:
        return f"It spills: {'; '.join(found.doubts.spills)}."
    if found.hot == "spills":
        return "It spills: even hot, part of its flue gas comes into the room."
    if found.doubts.any:
        return doubted(found.doubts)
    if found.late:
        return "It may not start: from cold it spills for too long, though hot it would draft."
    if found.hot == "cannot_tell":
        return (
            "It cannot be told whether it drafts: the margin to spilling, "
            f"{pressure(margin, style)}, is smaller than what is not known."
        )
    return _drafting(found, style)


def _drafting(found: Assessment, style: Style) -> str:
    """The answer where it drafts once hot: what may keep it from starting goes first."""
    if found.may_be_late:
        return (
            "It cannot be told whether it starts: with all that is not known at its worst it "
            "spills for too long from cold, though hot it drafts."
        )
    if found.fails_warm:
        return (
            "It may not start on a warm evening, though it drafts in the weather and house that "
            "were asked for."
        )
    worst = min(found.solved.margin_pa, found.margin_low_pa)
    if worst < SURE_PA:
        return f"It drafts, with little to spare: at worst {pressure(worst, style)}."
    if found.fans_may_stop_it:
        return (
            "A closed house with its fans on may keep it from starting, though it drafts in the "
            "weather and house that were asked for."
        )
    return "It drafts in this weather and house, hot and from cold."


def doubted(doubts: Doubts) -> str:
    """The answer where what was seen, or not looked at, goes before the figures."""
    if doubts.grave:
        return (
            "It cannot be told whether it drafts, and it may not: what was found there can stop "
            "the vent, and the figures do not hold it."
        )
    if doubts.past:
        return "It cannot be told whether it drafts: it has spilled before, whatever is computed."
    return (
        "It cannot be told whether it drafts: nobody looked at what can stop it, and the figures "
        "are for a vent that is whole and clear."
    )


def first(doubts: Doubts) -> tuple[str, ...]:
    """What was seen, or not looked at, that goes before any figure."""
    return (*doubts.grave, *(f"Not known: {text}." for text in doubts.unseen))


def danger(found: Assessment) -> tuple[str, ...]:
    """What to do first, where anything spills or may; empty where nothing does."""
    if found.hot == "spills" or (found.start is not None and found.start.spills_s is None):
        return (SHUT_OFF,)
    if found.doubts.grave or found.doubts.past:
        return (MEND_FIRST,)
    return (TEST_FIRST,) if found.fails else ()


def unanswered(signs: Sequence[str]) -> str:
    """What to do where there is no answer: that nothing was computed is no reason to rely on it."""
    return SHUT_OFF if SAW_IT_SPILL in signs else TEST_FIRST


def hot(found: Assessment, style: Style = "us") -> tuple[str, ...]:
    """How it works once hot, and how far from spilling."""
    at = found.solved.at
    lines = [_flow(at), _draft(at, style), _wet(at, style)]
    margin = found.solved.margin_pa
    if margin >= 0.0:
        lines.append(
            f"To spare: {pressure(margin, style)} more suction in the room, or that much wind "
            "against the cap, before it begins to spill."
        )
    else:
        lines.append(f"It lacks {pressure(-margin, style)} to carry all of its flue gas.")
    lines.append(
        f"With all that is not known at its worst that is {pressure(found.margin_low_pa, style)}, "
        f"at its best {pressure(found.margin_high_pa, style)}."
    )
    others = [r for r in found.solved.roots if r.stable and r != at.root]
    if any(root.branch == "reversed" for root in others):
        lines.append(
            "The same vent can also stand reversed, outdoor air coming down, if a fan or a gust "
            "once turned it: then all flue gas comes into the room."
        )
    return tuple(line for line in lines if line)


def _flow(at: Operating) -> str:
    grams = 1000.0 * at.root.flow_kg_s
    if at.spilled > 0.0:
        return f"{100.0 * at.spilled:.0f} % of the flue gas goes into the room."
    return (
        f"{grams:.1f} g/s go up the vent: all of the flue gas and {at.dilution:.1f} times as much "
        f"room air; carbon dioxide there {100.0 * at.co2_dry:.1f} %."
    )


def _draft(at: Operating, style: Style) -> str:
    place = "Draft at the start of the connector"
    gas = temperature(at.gas_k, style)
    if at.draft_pa > 0.0:
        return f"{place}: none, {pressure(at.draft_pa, style)} over the room; gas there {gas}."
    return f"{place}: {pressure(-at.draft_pa, style)}; gas there {gas}."


def _wet(at: Operating, style: Style) -> str:
    if at.dew_k is None:
        return ""
    dew = temperature(at.dew_k, style)
    if at.wet is None:
        return f"Dew point of the gas {dew}; whether walls stay wet is not known."
    if at.wet:
        names = ", ".join(one.name for one in at.stations if one.wet)
        return f"Water condenses, even hot, in {names} (dew point {dew})."
    return f"Walls stay above the dew point, {dew}, once hot."


def start(found: Assessment, style: Style = "us") -> tuple[str, ...]:
    """What happens after a start from cold, and the suctions it withstands."""
    if found.start is None:
        return (found.no_start,)
    lines = [_course(found.start), _wet_time(found.start)]
    if found.may_be_late and not found.late:
        lines.append("With all that is not known at its worst it spills for longer than 5 min.")
    if found.thresholds is not None:
        limits = found.thresholds
        starts = limits.establishing_pa
        if limits.standing_pa > 0.0:
            lines.append(f"Idle, outdoor air comes down from {pressure(limits.standing_pa, style)} "
                         "of suction on.")  # fmt: skip
        else:
            lines.append("Idle, outdoor air comes down without any suction: it is the warmer side.")
        lines.append(
            f"It does not take over from cold within {span(limits.within_s)}."
            if starts is None
            else f"It takes over from cold within {span(limits.within_s)} up to "
            f"{pressure(starts, style)} of suction; hot it holds up to "
            f"{pressure(max(limits.hot_pa, 0.0), style)}."
        )
    if found.warm is not None:
        warm = found.warm.establishing_pa
        lines.append(
            f"On a warm evening, {temperature(WARM_EVENING_K, style)} outdoors, it does not take "
            "over from cold even without suction."
            if warm is None
            else f"On a warm evening, {temperature(WARM_EVENING_K, style)} outdoors, it takes over "
            f"from cold only up to {pressure(warm, style)} of suction."
        )
    if found.fans_may_stop_it:
        lines.append(
            f"Field practice lets fans bring the room to {pressure(FANS_PA, style)} of suction "
            "for a water heater alone on its vent: that is more. Test it with the house closed and "
            "all fans on."
        )
    return tuple(line for line in lines if line)


def _course(one: Warmup) -> str:
    ran = span(one.at_s[-1])
    if one.spills_s is None:
        return f"From cold it spills for all of {ran}: the vent does not take over."
    if one.flue_s < 1.0:
        return (
            "From cold it takes over within seconds; the time in which the gas stops and turns is "
            "not in this."
        )
    grace = "" if one.spills_s <= GRACE_S else ", longer than the 5 min after which it counts"
    return f"From cold it spills for {span(one.spills_s)}{grace}."


def _wet_time(one: Warmup) -> str:
    if one.wet_s <= 0.0:
        return ""
    return f"Walls are wet for {span(one.wet_s)} of the first {span(one.at_s[-1])}."


def alone(found: Assessment, style: Style = "us") -> tuple[str, ...]:
    """What alone would bring it to spill."""
    limit = found.limits
    if found.solved.margin_pa < 0.0:
        return (f"It would carry {100.0 * limit.input_share:.0f} % of its heat rate.",)
    lines = [
        f"the room {pressure(limit.suction_pa, style)} further under suction",
        f"wind that pushes with {pressure(limit.adverse_wind_pa, style)} at the cap",
        f"a blockage that leaves {100.0 * limit.open_share:.0f} % of the narrowest part open",
        f"{limit.input_share:.1f} times its heat rate",
    ]
    if limit.outdoor_k is not None:
        lines.append(f"outdoor air above {temperature(limit.outdoor_k, style)}")
    return tuple(lines)


def matters(found: Assessment, most: int = 5) -> tuple[str, ...]:
    """What moves the margin most, each with what it does between its ends."""
    return tuple(moved(one) for one in found.moved[:most] if one.reach_pa >= 0.05)


def moved(one: Moved) -> str:
    """What an input does to the margin between its ends."""
    return (
        f"{one.label}: {value(one.low, one.unit)} to {value(one.high, one.unit)} moves it from "
        f"{one.at_low_pa:.1f} to {one.at_high_pa:.1f} Pa"
    )


def value(number: float, unit: str, style: Style = "us") -> str:
    """A value of an input as people read it."""
    if unit == "K":
        return temperature(number, style)
    if unit == "m" and abs(number) >= 0.01:
        return show(number, Dimension.LENGTH, style)
    if unit == "W":
        return show(number, Dimension.POWER, style)
    if unit in ("mol/mol", "W/W"):
        return f"{100.0 * number:.1f} %"
    return f"{number:.3g}" if unit == "1" else f"{number:.3g} {unit}"


def signs(survey: Survey, appliance: str) -> tuple[str, ...]:
    """What was seen of past spillage: it goes before any figure."""
    seen, checks = survey.appliances[appliance].signs, survey.appliances[appliance].checks
    tested = checks is not None and True in (checks.spills, checks.spills_with_all_on)
    told = (SAW_IT_SPILL,) if tested else ()
    found = []
    if seen is not None and seen.scorch is True:
        found.append("scorching")
    if seen is not None and seen.stains is True:
        found.append("stains or rust")
    if not found:
        return told
    return (
        *told,
        f"{' and '.join(found).capitalize()} seen where gas spills: it has spilled before, "
        "whatever is computed here.",
    )


def reckoned_with(model: Modelled, style: Style = "us") -> Iterator[str]:
    """Weather, house, what was assumed, and what is not in the figures."""
    yield surroundings(model.system.around, style)
    gust = next((one for one in model.inputs if one.name == "wind_pa"), None)
    if gust is not None and gust.low < gust.high:
        yield (
            f"Wind at the cap from {gust.low:.1f} to {gust.high:.1f} Pa, positive holds the gas "
            "back: only the margin at its worst and at its best holds it, no start does."
        )
    # What is grave stands before all figures.
    rest = [text for text in model.not_modelled if text not in model.doubts.grave]
    yield from left_open(model.assumed, rest)


def surroundings(around: Around, style: Style = "us") -> str:
    """Weather and house in one sentence."""
    suction = -around.room_pa
    house = "at rest" if abs(suction) < 0.05 else (
        f"{pressure(suction, style)} under suction" if suction > 0
        else f"{pressure(-suction, style)} under pressure"
    )  # fmt: skip
    wind = "no wind" if abs(around.cap_pa) < 0.05 else (
        f"wind {'against' if around.cap_pa > 0 else 'helping at'} the cap, "
        f"{pressure(abs(around.cap_pa), style)}"
    )  # fmt: skip
    return (
        f"{temperature(around.outdoor_k, style)} outdoors, "
        f"{temperature(around.room_k, style)} at the appliance, the house {house}, {wind}."
    )


def left_open(assumed: Iterable[Assumed], not_modelled: Iterable[str]) -> Iterator[str]:
    """What was assumed, and what is not in the figures."""
    for one in assumed:
        yield f"Assumed: {one.text}"
    for text in not_modelled:
        yield f"Not in the figures: {text.removesuffix(': not in the figures')}"


class WorkedHouse(Protocol):
    """A house pressure that was worked out: ``app.draft_house.Worked``."""

    @property
    def low_pa(self) -> float: ...  # noqa: D102
    @property
    def likely_pa(self) -> float: ...  # noqa: D102
    @property
    def high_pa(self) -> float: ...  # noqa: D102
    @property
    def with_vent(self) -> bool: ...  # noqa: D102


def house(found: WorkedHouse, style: Style = "us") -> tuple[str, ...]:
    """How the pressure of the house was worked out."""
    vent = "" if found.with_vent else "; the vent's own flow is not in it"
    return (
        f"House pressure at the hood worked out: {pressure(found.likely_pa, style)}, from "
        f"{found.low_pa:.1f} to {found.high_pa:.1f} Pa by where its leaks are{vent}. Inner doors "
        "open: a closed one needs a pressure that is measured.",
    )
