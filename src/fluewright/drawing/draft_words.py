"""What the engine says of one appliance, in sentences that a plumber reads; danger first."""

from __future__ import annotations

import re

from fluewright.draft.assess import GRACE_S, Assessment
from fluewright.draft.from_survey import Modelled
from fluewright.drawing.words import Style
from fluewright.quantity import Dimension
from fluewright.quantity_out import show, show_pressure

ZERO_C = 273.15
_MINUS = re.compile(r"(?<![\w.])-(?=\d)")
HOT_SPILLS, HOT_UNKNOWN = "spills", "cannot_tell"


def minus(text: str) -> str:
    """The text with true minus signs before its numbers."""
    return _MINUS.sub("\u2212", text)


def pressure_words(pressure_pa: float, style: Style) -> str:
    """A pressure: ``11.0 Pa (0.044 in w.c.)``, in metric without the inches."""
    if style == "us":
        return minus(show_pressure(pressure_pa))
    return minus(show(pressure_pa, Dimension.PRESSURE, "metric"))


def temperature_words(kelvin: float, style: Style) -> str:
    """A temperature to the whole degree: ``60 °F (16 °C)``, in metric without the first."""
    celsius = kelvin - ZERO_C
    metric = f"{celsius:.0f} °C"
    us = f"{celsius * 1.8 + 32.0:.0f} °F"
    return minus(f"{us} ({metric})" if style == "us" else metric).replace("\u22120 ", "0 ")


def minutes_words(seconds: float) -> str:
    """A time after a start: ``40 s``, ``3 min``."""
    if seconds < 120.0:
        return f"{seconds:.0f} s"
    return f"{seconds / 60.0:.1f}".removesuffix(".0") + " min"


def hot_words(found: Assessment, style: Style) -> str:
    """Whether all the gas goes up once the vent is hot, and by how much, by the figures alone."""
    margin = found.solved.margin_pa
    low, high = (
        pressure_words(bound, style) for bound in (found.margin_low_pa, found.margin_high_pa)
    )
    lacks = pressure_words(-margin, style)
    fan = found.start is None
    if found.computed == HOT_SPILLS:
        what = "presses on the joints of the vent" if fan else "comes into the room"
        return (
            f"Once hot it spills: gas {what}. {lacks} of draft is lacking, and some is at every "
            "figure within its range."
        )
    if found.computed == HOT_UNKNOWN and margin < 0.0:
        return (
            f"Once hot it spills at the figures taken: {lacks} of draft is lacking. Within the "
            f"range of the figures it may draft, up to {high} to spare."
        )
    spare = pressure_words(margin, style)
    if found.computed == HOT_UNKNOWN:
        worst = pressure_words(-found.margin_low_pa, style)
        return (
            f"Not known whether it drafts once hot: {spare} to spare at the figures taken, but "
            f"{worst} lacking where all of them are at their worst."
        )
    return (
        f"Once hot all the gas goes up, with {spare} to spare; {low} where all figures are at "
        f"their worst, {high} at their best."
    )


def start_words(found: Assessment) -> str:
    """What happens after a start from cold. In words."""
    if found.start is None:
        return found.no_start
    seconds = found.start.spills_s
    followed = minutes_words(found.start.at_s[-1]) if found.start.at_s else ""
    if found.may_be_late and not found.late:
        return (
            f"From cold it spills longer than {minutes_words(GRACE_S)} where all that is not known "
            "is at its worst."
        )
    if seconds is None:
        return (
            f"From cold the vent does not take over within {followed}: gas goes on spilling into "
            "the room."
        )
    if seconds > GRACE_S:
        return (
            f"From cold gas spills into the room for {minutes_words(seconds)}, longer than the "
            f"{minutes_words(GRACE_S)} that a test allows."
        )
    if seconds > 0.0:
        return f"From cold gas spills for {minutes_words(seconds)}, then all of it goes up."
    if found.start.idle_kg_s <= 0.0:
        return (
            "Idle, outdoor air comes down the vent; from cold it turns within seconds, in which "
            "some gas spills."
        )
    return "From cold nothing spills: the vent draws before the burner lights."


def seen_words(found: Assessment) -> str:
    """What was seen of the vent that goes before every figure; empty where nothing was."""
    doubts = found.doubts
    if doubts.spills:
        return f"It spills: {'; '.join(doubts.spills)}."
    if doubts.grave or doubts.past:
        return f"It may spill: {'; '.join((*doubts.past, *doubts.grave))}."
    return f"Not known: {'; '.join(doubts.unseen)}." if doubts.unseen else ""


def doubt_words(found: Assessment) -> str:
    """The same in one short sentence, for the figures after the first."""
    doubts = found.doubts
    if doubts.spills:
        return f"It spills: {'; '.join(doubts.spills)}. The figures do not hold what lets it."
    if doubts.grave:
        return "What was found there can stop the vent and is not in these figures."
    if doubts.past:
        return "It has spilled before, whatever these figures say."
    if doubts.unseen:
        return "These figures are for a vent that is whole and clear; nobody looked at all of it."
    return ""


def is_danger(found: Assessment) -> bool:
    """Whether gas comes into the room, or what is not known or was seen says that it may."""
    figures = found.solved.margin_pa < 0.0 or found.may_be_late
    return found.hot == HOT_SPILLS or figures or found.doubts.any


def led_by_doubt(found: Assessment, text: str) -> str:
    """A sentence of the figures after what goes before them."""
    return " ".join(part for part in (doubt_words(found), text) if part)


def answer_words(found: Assessment, style: Style) -> str:
    """The whole answer: what was seen first, then of hot and cold the graver one."""
    hot, start = hot_words(found, style), start_words(found)
    spills = found.computed == HOT_SPILLS or found.solved.margin_pa < 0.0
    said = f"{start} {hot}" if found.may_be_late and not spills else f"{hot} {start}"
    seen = seen_words(found)
    return f"{seen} By the figures alone: {said}" if seen else said


def conditions_words(modelled: Modelled, style: Style) -> str:
    """Weather and house that the figures hold for. In words."""
    around = modelled.system.around
    wind = around.cap_pa
    house = (
        "house neither under suction nor pressure" if around.room_pa == 0.0
        else f"house at {pressure_words(around.room_pa, style)}"
    )  # fmt: skip
    windy = "no wind" if wind == 0.0 else f"wind of {pressure_words(wind, style)} at the cap"
    return (
        f"Outdoors {temperature_words(around.outdoor_k, style)}, at the appliance "
        f"{temperature_words(around.room_k, style)}, {house}, {windy}."
    )
