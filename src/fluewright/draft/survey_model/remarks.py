"""What a survey tells that the model does not hold, in words: it is never passed over.

What can stop a vent is ``grave``: beside it no computed draft is an answer. So is what nobody
looked at. Both go first; the rest is listed with the figures.
"""

from __future__ import annotations

from fluewright.draft.survey_model.inputs import Assumed, Book
from fluewright.quantity import Measured
from fluewright.survey import (
    ABSENT,
    Appliance,
    Chimney,
    Damper,
    Joint,
    Path,
    Piece,
    Regulator,
    Survey,
)

LEAKS = "air drawn in there cools and slows the gas: not in the figures"
NARROW = "what it takes off the free area is not in the figures: the draft is weaker than computed"


def remark_path(path: Path, book: Book) -> None:
    """Lists gaps, blockage and devices of a path.

    Args:
        path: as surveyed.
        book: takes the remarks.
    """
    unseen: list[str] = []
    for piece in path.pieces:
        _piece(piece, book)
        if not _looked_at(piece):
            unseen.append(piece.id)
    if unseen:
        names = ", ".join(unseen)
        book.unseen.append(f"whether {names} and their joints are whole, tight and clear")
        book.note(
            Assumed(
                what=f"state of {names}",
                taken="whole, tight and clear, which nobody looked at",
                measure="look for holes, dents, open joints and what blocks them; look up or down "
                "the vent",
            )
        )
    _connector(path, book)
    _vent(path, book)
    if any(piece.role == "vent" for piece in path.pieces) and not isinstance(
        path.vent.blocked, bool
    ):
        book.unseen.append("whether anything blocks the vent")
    if isinstance(path.chimney, Chimney):
        _chimney(path.chimney, book)


def remark_appliance(survey: Survey, name: str, book: Book, *, room_given: bool) -> None:
    """Lists what was found at an appliance and in its room that the model does not hold.

    Args:
        survey: as seen.
        name: of the appliance.
        book: takes the remarks.
        room_given: whether the caller says what the pressure of the room is.
    """
    appliance = survey.appliances[name]
    if isinstance(appliance.barometric_regulator, Regulator):
        book.grave(f"{name}: a barometric draft regulator opens its vent to the room")
    if appliance.connected is False:
        book.spills.append(f"nothing is connected to the outlet of {name}")
    _hood(name, appliance, book)
    _checks(name, appliance, book)
    count = appliance.outlet_count
    if isinstance(count, Measured) and count.value > 1.0:
        book.remark(f"{name}: its outlets are gathered; one outlet of the stated size is computed")
    if not room_given:
        _room(survey, name, appliance, book)


def _hood(name: str, appliance: Appliance, book: Book) -> None:
    """The draft hood, where there is to be one."""
    if appliance.draft != "draft_hood":
        return
    hood = appliance.hood
    if hood is not None and hood.altered is True:
        book.grave(f"{name}: its draft hood was altered; the figures are for a whole one")
    if hood is not None and hood.upright is False:
        book.grave(
            f"{name}: its draft hood does not sit upright; the figures are for one that does"
        )
    looked = () if hood is None else (hood.present, hood.altered, hood.upright)
    if not looked or any(not isinstance(one, bool) for one in looked):
        book.unseen.append(f"whether the draft hood of {name} is there, whole and upright")


def _checks(name: str, appliance: Appliance, book: Book) -> None:
    """What was tried with the burner on, and what past spillage left."""
    signs, checks = appliance.signs, appliance.checks
    if signs is not None and signs.scorch is True:
        book.past.append(f"scorching at {name}")
    if signs is not None and signs.stains is True:
        book.past.append(f"stains or rust at {name}")
    if checks is None:
        return
    if checks.spills is True:
        book.spills.append(f"the survey's own test saw {name} spill")
    if checks.spills_with_all_on is True:
        book.spills.append(f"the survey's own test with all appliances on saw {name} spill")
    if checks.flame_normal is False:
        book.grave(f"{name}: its flame is not normal; complete combustion is computed")
    book.tested = checks.spills is False


def _room(survey: Survey, name: str, appliance: Appliance, book: Book) -> None:
    """What pulls or starves the room of an appliance, where its pressure is not given."""
    space = survey.spaces.get(appliance.space or "")
    air = space.air if space is not None else None
    book.note(
        Assumed(
            what=f"pressure of the room of {name}",
            taken="that of outdoors: no fan on, and all the air that flame and hood take let in",
            measure="read it with the house closed and all fans on (--house-pressure)",
        )
    )
    # A spillage test that was passed with the fans on has the room's suction in it.
    tell = book.remark if book.tested else book.grave
    if air is not None and isinstance(air.exhaust, Measured) and air.exhaust.high > 0.0:
        tell(f"a fan draws air out of the room of {name}: its suction is not in the figures")
    no_way_in = air is not None and air.openings is ABSENT and air.supply in (ABSENT, None)
    if space is not None and space.kind == "closet" and no_way_in:
        tell(
            f"{name} stands in a closet without an opening for air: its suction is not in the "
            "figures"
        )
    closet = appliance.setting.closet if appliance.setting else None
    if closet is not None and closet.sealed_door is True and no_way_in:
        tell(f"the door of {name} is sealed and no opening lets air in")
    back = appliance.setting.return_air if appliance.setting else None
    if back is not None and back.in_this_space is True:
        tell(
            f"air is drawn back to a furnace from the room of {name}: its suction is not in the "
            "figures"
        )


def _looked_at(piece: Piece) -> bool:
    """Whether somebody saw that a piece, and the joint at its start, is or is not as it should."""
    looked = (piece.clear,) if piece.part == "cap" else (piece.crushed, piece.holes)
    if any(not isinstance(one, bool) for one in looked):
        return False
    joint = piece.joint
    if joint is None:
        return False
    if joint.fastening is None and piece.wall != "masonry":
        return False
    if piece.part == "run" and piece.wall != "masonry":
        return False  # a run seen as one hides all its joints but the first
    return _stands_open(joint) or joint.gap is ABSENT


def _stands_open(joint: Joint) -> bool:
    gap = joint.gap
    return joint.fastening == "open" or (isinstance(gap, Measured) and gap.high > 0.0)


def _piece(piece: Piece, book: Book) -> None:
    if piece.crushed is True:
        book.grave(f"{piece.id} is crushed: {NARROW}")
    if piece.holes is True:
        book.grave(f"{piece.id} has holes: {LEAKS}")
    if piece.clear is False:
        book.grave(f"{piece.id} is not clear: {NARROW}")
    if piece.shroud is not None and isinstance(piece.shroud, str):
        book.remark(f"{piece.id} has a shroud: its resistance is not in the figures")
    if piece.joint is not None and _stands_open(piece.joint):
        book.grave(f"the joint at the start of {piece.id} stands open: {LEAKS}")


def _connector(path: Path, book: Book) -> None:
    look = path.connector
    if look.dips is True:
        book.grave("the connector dips or sags: water that collects there can close it")
    if look.wrapped is True:
        book.remark("the connector is wrapped: the figures are for bare pipe, which cools faster")
    if look.manual_damper is True:
        book.grave("a hand damper stands in the connector and can close it")
    damper = look.automatic_damper
    if isinstance(damper, Damper):
        text = "an automatic damper stands in the connector: its resistance is not in the figures"
        sound = damper.listed is True and damper.per_instructions is True
        (book.remark if sound else book.grave)(text)


def _vent(path: Path, book: Book) -> None:
    look = path.vent
    if look.blocked is True:
        book.grave(f"the vent is blocked: {NARROW}")
    if isinstance(look.devices, tuple):
        for device in look.devices:
            words = device.replace("_", " ")
            book.grave(f"{words} in the vent: its resistance and leaks are not in the figures")
    if look.exhaust_joins is True:
        book.grave("an exhaust joins the vent: what it blows in is not in the figures")
    if look.positive_pressure is True:
        book.grave("the vent is under pressure: the figures are for a natural draft")
    if look.draft_fan is True:
        how = "The survey has a fan in the vent; this engine computes natural draft."
        book.lacks("vent", "a natural draft", how)
    if isinstance(look.shares_with, tuple):
        others = [one for one in look.shares_with if one != "gas"]
        if others:
            book.grave("something else burns into the flue: its gas is not in the figures")


def _chimney(chimney: Chimney, book: Book) -> None:
    if chimney.clear is False:
        book.grave(f"the flue is not clear: {NARROW}")
    elif chimney.clear is not True:
        book.unseen.append("whether the flue is clear")
    if chimney.masonry_sound is False or chimney.liner_sound is False:
        book.grave(f"the chimney or its lining is not sound: {LEAKS}")
    if chimney.old_openings_closed is False:
        book.grave(f"old openings of the flue are not closed: {LEAKS}")
    if chimney.connector_end in ("projects", "bottomed"):
        book.grave(f"the connector narrows the flue where it ends: {NARROW}")
    if chimney.connector_end == "short":
        book.grave(f"the connector ends short of the flue: {LEAKS}")
    cleanout = chimney.cleanout
    if getattr(cleanout, "tight", None) is False:
        book.grave(f"the cleanout is not tight: {LEAKS}")
    if isinstance(chimney.round_liner, str):
        book.remark("something else runs beside the liner: its heat is not in the figures")
