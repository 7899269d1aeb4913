"""``draft --co``: what was measured in the flue and in the house, made figures of the exposure."""

from __future__ import annotations

import re

from fluewright.app.draft_asked import Asked
from fluewright.draft.co_release import air_free_from_o2
from fluewright.draft.spilled_co import USUAL_AIR_CHANGES_S, CoAsked, Ends
from fluewright.errors import BadQuantity, OutOfRange
from fluewright.quantity import Dimension, Measured, parse
from fluewright.survey import Survey

_BARE = re.compile(r"\s*\d+(?:\.\d+)?\s*")
_PERCENT = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(?:%|percent)?\s*")


def co_asked(asked: Asked, survey: Survey, appliance: str) -> CoAsked | str:
    """Gas and room of an appliance, or what to measure first.

    Args:
        asked: in words; ``co`` is there.
        survey: for the room.
        appliance: its id.
    Raises:
        BadQuantity: it names the option and says what to write.
    """
    gas, air = air_free(asked), _air_changes(asked, survey)
    name = survey.appliances[appliance].space
    space = survey.spaces.get(name) if name else None
    if name is None or space is None:
        return "Say in which room it stands (space), and measure the volume of that."
    if space.kind == "outdoors":
        return "It stands outdoors: no room fills with its gas."
    if not isinstance(space.volume, Measured) or space.volume.value <= 0.0:
        return f"Measure length, width and height of {name} (spaces.{name}.volume)."
    volume = max(space.volume.low, 0.5 * space.volume.value), space.volume.high
    note = f"the air of {name} alone, its door shut, mixed through"
    if space.kind == "closet" or (space.air is not None and isinstance(space.air.openings, tuple)):
        note += (
            "; its openings may change more air than was reckoned with, or lead the gas to rooms "
            "where people sleep"
        )
    return CoAsked(air_free_ppm=gas, room=name, volume_m3=volume, air_changes_s=air, note=note)


def air_free(asked: Asked) -> Ends:
    """CO in the air-free flue gas, from its low to its high end. [ppm]"""
    text = asked.co or ""
    got = _read("--co", f"{text.strip()} ppm" if _BARE.fullmatch(text) else text,
                Dimension.CONCENTRATION)  # fmt: skip
    if asked.co_o2 is None:
        return got
    found = _PERCENT.fullmatch(asked.co_o2)
    if found is None:
        raise BadQuantity(
            f'--co-o2: "{asked.co_o2}" is not a share of oxygen. Write a percentage, such as 7.5.'
        )
    oxygen = float(found[1]) / 100.0
    try:
        return air_free_from_o2(got[0], oxygen), air_free_from_o2(got[1], oxygen)
    except OutOfRange as error:
        raise BadQuantity(f"--co-o2: {error}") from None


def _air_changes(asked: Asked, survey: Survey) -> Ends:
    """Air changes as asked, else of the survey, else a usual range. [1/s]"""
    if asked.air_changes is not None:
        return _read("--air-changes", asked.air_changes, Dimension.RATE)
    known = survey.site.air_changes
    if isinstance(known, Measured):
        return max(known.low, 0.0), known.high
    return USUAL_AIR_CHANGES_S


def _read(option: str, text: str, dimension: Dimension) -> Ends:
    try:
        got = parse(text, dimension)
    except BadQuantity as error:
        raise BadQuantity(f"{option}: {error}") from None
    half = got.tolerance or 0.0
    return max(got.value - half, 0.0), got.value + half
