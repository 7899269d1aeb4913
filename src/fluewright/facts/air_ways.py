"""Rooms and the openings between them, as the rules on combustion air reckon with them.

What is credited of an opening, and which rooms count as joined, are for the edition to say: here
stands only what was seen.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from fluewright.facts.base import NOT_RECORDED, FactValue, Structure, Unknown, View
from fluewright.finding import MeasureNext
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Air, Appliance, Opening, Space, Survey

Known = Measured | Unknown
NOT_IN_THE_SURVEY = Air()


@frozen
class Burns:
    """One burner that takes its air from a room. ``fan`` is whether a fan moves its gas."""

    name: str
    input: Known
    fan: bool | Unknown
    unvented: bool | Unknown


@frozen
class Room:
    """A space: its volume, its burners, and the area of the connectors in it."""

    name: str
    kind: str
    volume: Known
    burners: tuple[Burns, ...] | Unknown
    connectors: Known


@frozen
class Hole:
    """An opening for air between a room and another, or the outdoors.

    ``leads`` is outdoors, same, other (story) or empty where not known; ``by`` is direct,
    vertical_duct, horizontal_duct, doorway or empty; ``cover`` is wood, metal, none or empty.
    """

    name: str
    room: str
    to: str
    leads: str
    by: str
    door: str
    gross: Known
    free: Measured | None
    cover: str
    top: Known
    bottom: Known
    narrow: Known


@frozen
class AirWays(Structure):
    """A space with appliances, every other room, and every opening. ``told``: its own are."""

    start: str
    rooms: Mapping[str, Room]
    holes: tuple[Hole, ...]
    told: bool | Unknown


def asking(label: str, subject: str, how: str, why: str = NOT_RECORDED) -> Unknown:
    """Not known, with the question that settles it."""
    return Unknown(why, (MeasureNext("", label, subject, how, why),))


def known(value: object, label: str, subject: str, how: str) -> Known:
    """A reading of the survey, or the question for it."""
    if isinstance(value, Measured):
        return value
    why = value.reason if isinstance(value, NotMeasured) else NOT_RECORDED
    return asking(label, subject, how, why)


def air_of(space: Space | None) -> Air:
    """What is told of a space's air; nothing where nobody wrote of it."""
    return space.air if space is not None and space.air is not None else NOT_IN_THE_SURVEY


def air_ways(view: View) -> FactValue:
    """The rooms and openings round the space of a view."""
    survey = view.survey
    name = view.space or view.appliance.space
    if name is None or name not in survey.spaces:
        return Unknown("the survey does not say in which space it stands")
    rooms = {key: _room(survey, key, space) for key, space in survey.spaces.items()}
    holes = tuple(
        _hole(survey, key, opening)
        for key, space in survey.spaces.items()
        for opening in listed(space)
    )
    own = air_of(survey.spaces[name]).openings
    told: bool | Unknown = own is ABSENT or isinstance(own, tuple)
    if not told:
        how = (
            "look for grilles, louvers, ducts and doorways without a door; none where there is none"
        )
        why = own.reason if isinstance(own, NotMeasured) else NOT_RECORDED
        told = asking("openings for air", name, how, why)
    return AirWays(name, rooms, holes, told)


def listed(space: Space) -> tuple[Opening, ...]:
    """The openings that are described for a space."""
    openings = air_of(space).openings
    return openings if isinstance(openings, tuple) else ()


def takes_room_air(appliance: Appliance) -> bool | None:
    """Whether an appliance burns the air of its space; None where its draft is not known."""
    return None if appliance.draft is None else appliance.draft != "direct_vent"


def standing_in(survey: Survey, space: str) -> dict[str, Appliance]:
    """The appliances in a space that were not taken out."""
    return {
        name: a
        for name, a in survey.appliances.items()
        if a.space == space and a.taken_out is not True
    }


def _room(survey: Survey, name: str, space: Space) -> Room:
    volume = known(space.volume, "volume of the room", name, "length times width times height")
    return Room(name, space.kind, volume, _burners(survey, name), _connectors(survey, name))


def _burners(survey: Survey, space: str) -> tuple[Burns, ...] | Unknown:
    found: list[Burns] = []
    for name, a in standing_in(survey, space).items():
        takes = takes_room_air(a)
        if takes is None:
            return asking("how the appliance drafts", name, "read the plate, look for hood or fan")
        if takes:
            plate = known(a.input, "rated input", name, "read the input on the data plate")
            unvented = _no_vent(survey, name, a)
            found.append(Burns(name, plate, a.draft != "draft_hood", unvented))
    others = air_of(survey.spaces[space]).burners
    if isinstance(others, tuple):
        for burner in others:
            plate = known(burner.input, "rated input", burner.what, "read its data plate")
            fan: bool | Unknown = (
                burner.fan
                if isinstance(burner.fan, bool)
                else asking("whether a fan moves its gas", burner.what, "look")
            )
            vented: bool | Unknown = (
                burner.unvented
                if isinstance(burner.unvented, bool)
                else asking("whether it burns without a vent", burner.what, "look")
            )
            found.append(Burns(burner.what, plate, fan, vented))
    elif others is not ABSENT and survey.spaces[space].kind != "outdoors":
        how = "look for range, dryer, stove, fireplace, other heaters; none where there is none"
        why = others.reason if isinstance(others, NotMeasured) else NOT_RECORDED
        return asking("other burners in the space", space, how, why)
    return tuple(found)


def _no_vent(survey: Survey, name: str, appliance: Appliance) -> bool | Unknown:
    if isinstance(appliance.may_run_unvented, bool) and not appliance.may_run_unvented:
        return False
    if isinstance(appliance.connected, bool):
        return not appliance.connected and appliance.may_run_unvented is True
    return asking("whether it burns without a vent", name, "look at its outlet")


def _connectors(survey: Survey, space: str) -> Known:
    """Summed area of the connectors of the appliances in a space, each at its widest. [m2]"""
    total = Measured(0.0, Dimension.AREA)
    for name, appliance in standing_in(survey, space).items():
        if takes_room_air(appliance) is False:
            continue
        pieces = [
            piece
            for path in survey.paths
            if path.from_ == name
            for piece in path.pieces
            if piece.role == "connector"
        ]
        bores = [p.diameter for p in pieces if isinstance(p.diameter, Measured)]
        if not bores or len(bores) < len(pieces):
            return asking("diameter of the connector", name, "read the size mark, inside")
        low, high = (
            max(math.pi / 4 * end * end for end in ends)
            for ends in ([b.low for b in bores], [b.high for b in bores])
        )
        total = total + Measured.between(low, high, Dimension.AREA)
    return total


def leads_to(survey: Survey, opening: Opening) -> str:
    """Outdoors, same or other (story); empty where the survey does not say."""
    space = survey.spaces.get(opening.to)
    if space is None:
        return ""
    if space.kind == "outdoors":
        return "outdoors"
    if space.kind in ("attic", "crawl"):
        vented = air_of(space).vented
        if vented is True:
            return "outdoors"
        return "" if vented is not False else opening.story or ""
    return opening.story or ""


def gross_area(opening: Opening, subject: str) -> Known:
    """Area of the hole: as told, else width times height. [m2]"""
    if isinstance(opening.area, Measured):
        return opening.area
    wide = known(opening.width, "width of the opening", subject, "tape, inside the frame")
    high = known(opening.height, "height of the opening", subject, "tape, inside the frame")
    if isinstance(wide, Unknown):
        return wide
    if isinstance(high, Unknown):
        return high
    low, top = max(0.0, wide.low) * max(0.0, high.low), wide.high * high.high
    if wide.tolerance == 0.0 and high.tolerance == 0.0:
        return Measured(wide.value * high.value, Dimension.AREA)
    return Measured.between(low, top, Dimension.AREA, wide.tool, wide.evidence + high.evidence)


def narrowest(opening: Opening, subject: str) -> Known:
    """Least dimension of an opening or its duct. [m]"""
    if isinstance(opening.narrowest, Measured):
        return opening.narrowest
    if isinstance(opening.width, Measured) and isinstance(opening.height, Measured):
        if opening.width.value <= opening.height.value:
            return opening.width
        return opening.height
    how = "tape, the narrowest side of opening and duct"
    return known(opening.narrowest, "narrowest side of the opening", subject, how)


def _hole(survey: Survey, room: str, opening: Opening) -> Hole:
    subject = named(room, opening)
    louver = opening.louver
    cover = "none" if louver is ABSENT else louver if isinstance(louver, str) else ""
    return Hole(
        subject,
        room,
        opening.to,
        leads_to(survey, opening),
        opening.by or "",
        opening.door or "",
        gross_area(opening, subject),
        opening.free_area if isinstance(opening.free_area, Measured) else None,
        cover,
        known(opening.from_top, "distance from the top", subject,
              "tape from the ceiling to the nearest edge of the opening"),
        known(opening.from_bottom, "distance from the bottom", subject,
              "tape from the floor to the nearest edge of the opening"),
        narrowest(opening, subject),
    )  # fmt: skip


def named(room: str, opening: Opening) -> str:
    """What findings call an opening."""
    return f"{room} {opening.id}"
