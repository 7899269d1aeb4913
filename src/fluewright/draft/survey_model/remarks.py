"""What a survey tells that the model does not hold, in words: it is never passed over."""

from __future__ import annotations

from fluewright.draft.survey_model.inputs import Assumed, Book
from fluewright.quantity import Measured
from fluewright.survey import Appliance, Chimney, Damper, Path, Piece, Regulator

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
        looked = (piece.clear,) if piece.part == "cap" else (piece.crushed, piece.holes)
        if any(not isinstance(one, bool) for one in looked):
            unseen.append(piece.id)
    if unseen:
        book.note(
            Assumed(
                what=f"state of {', '.join(unseen)}",
                taken="whole and clear, which nobody looked at",
                measure="look for holes, dents and what blocks them; look up or down the vent",
            )
        )
    _connector(path, book)
    _vent(path, book)
    if isinstance(path.chimney, Chimney):
        _chimney(path.chimney, book)


def remark_appliance(name: str, appliance: Appliance, book: Book) -> None:
    """Lists what was found at an appliance that the model does not hold."""
    if isinstance(appliance.barometric_regulator, Regulator):
        book.remark(f"{name}: its barometric draft regulator is not in the figures")
    hood = appliance.hood
    if hood is not None and hood.altered is True:
        book.remark(f"{name}: its draft hood was altered; the figures are for a whole one")
    if hood is not None and hood.upright is False:
        book.remark(
            f"{name}: its draft hood does not sit upright; the figures are for one that does"
        )
    count = appliance.outlet_count
    if isinstance(count, Measured) and count.value > 1.0:
        book.remark(f"{name}: its outlets are gathered; one outlet of the stated size is computed")
    if appliance.checks is not None and appliance.checks.flame_normal is False:
        book.remark(f"{name}: its flame is not normal; complete combustion is computed")


def _piece(piece: Piece, book: Book) -> None:
    if piece.crushed is True:
        book.remark(f"{piece.id} is crushed: {NARROW}")
    if piece.holes is True:
        book.remark(f"{piece.id} has holes: {LEAKS}")
    if piece.clear is False:
        book.remark(f"{piece.id} is not clear: {NARROW}")
    if piece.shroud is not None and isinstance(piece.shroud, str):
        book.remark(f"{piece.id} has a shroud: its resistance is not in the figures")
    joint = piece.joint
    if joint is None:
        return
    if isinstance(joint.gap, Measured) and joint.gap.high > 0.0:
        book.remark(f"the joint at the start of {piece.id} stands open: {LEAKS}")
    elif joint.fastening == "open":
        book.remark(f"the joint at the start of {piece.id} is open: {LEAKS}")


def _connector(path: Path, book: Book) -> None:
    look = path.connector
    if look.dips is True:
        book.remark("the connector dips or sags: water and soot that collect there are not in it")
    if look.wrapped is True:
        book.remark("the connector is wrapped: the figures are for bare pipe, which cools faster")
    if look.manual_damper is True:
        book.remark("a hand damper stands in the connector: it is not in the figures")
    if isinstance(look.automatic_damper, Damper):
        book.remark("an automatic damper stands in the connector: its resistance is not in it")


def _vent(path: Path, book: Book) -> None:
    look = path.vent
    if look.blocked is True:
        book.remark(f"the vent is blocked: {NARROW}")
    if isinstance(look.devices, tuple):
        for device in look.devices:
            words = device.replace("_", " ")
            book.remark(f"{words} in the vent: its resistance and leaks are not in the figures")
    if look.exhaust_joins is True:
        book.remark("an exhaust joins the vent: what it blows in is not in the figures")
    if look.draft_fan is True:
        how = "The survey has a fan in the vent; this engine computes natural draft."
        book.lacks("vent", "a natural draft", how)
    if isinstance(look.shares_with, tuple):
        others = [one for one in look.shares_with if one != "gas"]
        if others:
            book.remark("something else burns into the flue: its gas is not in the figures")


def _chimney(chimney: Chimney, book: Book) -> None:
    if chimney.clear is False:
        book.remark(f"the flue is not clear: {NARROW}")
    if chimney.masonry_sound is False or chimney.liner_sound is False:
        book.remark(f"the chimney or its lining is not sound: {LEAKS}")
    if chimney.old_openings_closed is False:
        book.remark(f"old openings of the flue are not closed: {LEAKS}")
    if chimney.connector_end in ("projects", "bottomed"):
        book.remark(f"the connector narrows the flue where it ends: {NARROW}")
    if chimney.connector_end == "short":
        book.remark(f"the connector ends short of the flue: {LEAKS}")
    cleanout = chimney.cleanout
    if getattr(cleanout, "tight", None) is False:
        book.remark(f"the cleanout is not tight: {LEAKS}")
    if isinstance(chimney.round_liner, str):
        book.remark("something else runs beside the liner: its heat is not in the figures")
