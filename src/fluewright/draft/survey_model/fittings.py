"""What elbows, tees, wyes and the way into a flue cost, as losses at the start of a piece."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.draft.survey_model.inputs import Assumed, Book
from fluewright.draft.survey_model.stretch import Bore, Loss
from fluewright.geometry import Placed
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Absent, Piece

TURN_FROM_DEG = 30.0  # a change of direction from here on is a turn
UNKNOWN_ELBOWS = (0.0, 2.0, 4.0)  # of a run that goes sideways and says nothing; ours
JUNCTION = {"tee": "fitting.tee", "wye": "fitting.wye"}


def entry_losses(
    pieces: Sequence[Placed],
    i: int,
    before: Bore | None,
    own: Bore,
    turned: bool,
    book: Book,
) -> tuple[Loss, ...]:
    """What a piece costs besides friction and a plain change of area.

    Args:
        pieces: of the path, without its cap.
        i: place of the piece.
        before: bore before it, where that is known.
        own: its own bore.
        turned: whether the gas is known to come in from the side.
        book: takes what was used and assumed.
    """
    item = pieces[i]
    piece = item.piece
    if piece.part == "elbow":
        return _elbow(item, book)
    if piece.part == "run":
        return _run(piece, book)
    turning = turned or (i > 0 and _turns_between(pieces[i - 1], item))
    if piece.part in JUNCTION:
        if turning:
            return (_on_smaller(JUNCTION[piece.part], before, own, book),)
        return (Loss(coefficient=book.coefficient("fitting.through")),)
    into_flue = piece.wall == "masonry" and i > 0 and pieces[i - 1].piece.wall != "masonry"
    if turned or (into_flue and turning):
        return (_on_smaller("fitting.tee", before, own, book),)
    return _bent(pieces[i - 1], item, book) if turning and not into_flue else ()


def _on_smaller(name: str, before: Bore | None, own: Bore, book: Book) -> Loss:
    """A loss on the velocity head of the smaller of two bores."""
    smaller = before if before is not None and before.middle_m2 < own.middle_m2 else own
    return Loss(coefficient=book.coefficient(name), on=smaller)


def by_angle(angle_deg: float, book: Book) -> tuple[Loss, ...]:
    """The loss of an elbow, by straight lines through 0, 45 and 90 degrees.

    A sharper turn counts as a 90 degree elbow and another one. The tolerance of the angle is
    left out: the range of the two coefficients is wider.
    """
    if angle_deg > 90.0:
        return by_angle(90.0, book) + by_angle(min(angle_deg - 90.0, 90.0), book)
    far = max(angle_deg - 45.0, 0.0) / 45.0
    near = angle_deg / 45.0 if angle_deg <= 45.0 else 1.0 - far
    parts = (("elbow.loss_45", near), ("elbow.loss_90", far))
    return tuple(
        Loss(coefficient=book.coefficient(name), weight=share) for name, share in parts if share > 0
    )


def turn(one: Placed, other: Placed) -> float | None:
    """By how much two pieces differ in direction at least; None where not known. [deg]"""
    if one.tilt_out is None or other.tilt_out is None:
        return None
    return abs(one.tilt_out - other.tilt_out)


def _turns_between(one: Placed, item: Placed) -> bool:
    """Whether the gas turns between two pieces, of which neither hides a bend at its end."""
    if one.piece.part in ("elbow", "run"):
        # Direction after an elbow is that of the next piece by its own word; into a flue an
        # elbow or a run leads in from the side where nobody says otherwise.
        if item.piece.wall != "masonry" or one.piece.wall == "masonry":
            return False
        return one.piece.part == "run"
    angle = turn(one, item)
    return angle is not None and angle > TURN_FROM_DEG


def _elbow(item: Placed, book: Book) -> tuple[Loss, ...]:
    piece = item.piece
    if isinstance(piece.angle, Measured):
        return by_angle(piece.angle.value, book)
    least = 0.0
    if item.tilt_in is not None and item.tilt_out is not None:
        least = _least_share(min(abs(item.tilt_out - item.tilt_in), 90.0), book)
    share = book.assume(
        f"{piece.id}.turn", f"turn of {piece.id}, in 90 degree elbows",
        (least, max(least, 0.5), 1.0), "1",
        Assumed(
            what=f"angle of {piece.id}",
            taken="anything up to 90 degrees",
            measure="read it off the fitting, or with an angle finder",
        ),
    )  # fmt: skip
    return (Loss(coefficient=book.coefficient("elbow.loss_90"), count=share),)


def _least_share(angle_deg: float, book: Book) -> float:
    """Least loss of an elbow of an angle over the least one of 90 degrees. [-]"""
    known = book.coefficients.numbers
    small, large = known["elbow.loss_45"].low, known["elbow.loss_90"].low
    if angle_deg <= 45.0:
        return small / large * angle_deg / 45.0
    far = angle_deg / 45.0 - 1.0
    return small / large * (1.0 - far) + far


def _run(piece: Piece, book: Book) -> tuple[Loss, ...]:
    """The elbows of a run seen as one; where nobody counted them, any number up to four."""
    if isinstance(piece.elbows, tuple):
        return tuple(loss for bend in piece.elbows for loss in by_angle(bend.value, book))
    if isinstance(piece.elbows, Absent):
        assert piece.elbows is ABSENT
        return ()
    upright = isinstance(piece.horizontal, Measured) and piece.horizontal.low <= 0.0
    low, middle, high = (0.0, 0.0, 2.0) if upright else UNKNOWN_ELBOWS
    count = book.assume(
        f"{piece.id}.elbows", f"number of 90 degree elbows in {piece.id}", (low, middle, high), "1",
        Assumed(
            what=f"elbows of {piece.id}",
            taken=f"{low:.0f} to {high:.0f} of 90 degrees",
            measure="count them and note their angles",
        ),
    )  # fmt: skip
    return (Loss(coefficient=book.coefficient("elbow.loss_90"), count=count),)


def _bent(one: Placed, item: Placed, book: Book) -> tuple[Loss, ...]:
    """A turn between two straight pieces with no elbow listed between them."""
    angle = turn(one, item) or 0.0
    book.note(
        Assumed(
            what=f"turn between {one.piece.id} and {item.piece.id}",
            taken=f"an elbow of {angle:.0f} degrees, which the survey does not list",
            measure="look for it and list it",
        )
    )
    return by_angle(angle, book)
