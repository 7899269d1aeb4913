"""The pieces of a path as stretches: one builder for a connector, a vent, and a common vent."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fluewright.direction import Way as Direction
from fluewright.direction import says_two_things
from fluewright.draft.survey_model.fittings import entry_losses
from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, fixed
from fluewright.draft.survey_model.roofs import roof_of, with_roof
from fluewright.draft.survey_model.stretch import Bore, Change, Loss, Stretch, Way, Zone
from fluewright.draft.survey_model.walls import bore_of, wall_of
from fluewright.draft.survey_model.zones import zone_of_chimney, zone_of_piece
from fluewright.geometry import Placed, Trace, elbow_leg, trace
from fluewright.quantity import Dimension, Measured
from fluewright.survey import ABSENT, Path, Piece, Survey

FITTINGS = ("reducer", "adapter", "tee", "wye")
# Laying length of a fitting that nobody measured; common practice, no source. [m]
FITTING_M = (0.0, 0.1, 0.3)
SQUARE_DEG = 75.0  # bends from here on lead a run along both its legs
HOW_LENGTH = "Measure it along its center line, from joint to joint."
HOW_DIRECTION = "Say whether it runs up, level or down, or measure its tilt or slope."


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What lies before the first piece of a path.

    Attributes:
        bore: the outlet of an appliance, or the end of the connector; None where not known.
        losses: at the start, besides a change of area.
        on_top: whether the gas comes in straight up; None where not known.
        turns: whether the gas comes in from the side.
    """

    bore: Bore | None = None
    losses: tuple[Loss, ...] = ()
    on_top: bool | None = None
    turns: bool = False


def stretches_of(
    survey: Survey, path: Path, start: Start, book: Book, *, own_space: str | None = None
) -> tuple[Stretch, ...]:
    """The pieces of a path in the direction of flow, each as a stretch.

    Args:
        survey: what was seen; for spaces.
        path: a connector, a connector with its vent, or a common vent (``joining.trunk``).
        start: what lies before its first piece.
        book: takes what was used, assumed or is missing.
        own_space: where a connector lies that does not say so: that of its appliance.
    Returns:
        The stretches; meaningless until ``book.finish`` found nothing missing.
    """
    for piece in path.pieces:
        if piece.role is None and piece.part != "cap":
            book.lacks(piece.id, "role", "Say connector or vent.")
            return ()
    found = trace(path, start.on_top)
    pieces = [item for item in found.placed if item.piece.part != "cap"]
    if not pieces:
        book.lacks(path.from_, "way of its gas", "List the pieces from the hood to the cap.")
        return ()
    made: list[Stretch] = []
    before = start.bore
    entered = _entered(path)
    for i, item in enumerate(pieces):
        own = _like(bore_of(item.piece, path, book), before)
        at_start = start.losses if i == 0 else ()
        turned = start.turns if i == 0 else item.piece.id == entered
        losses = entry_losses(pieces, i, before, own, turned, book)
        made.append(
            Stretch(
                name=item.piece.id,
                way=_way(found, item, i, start, book),
                bore=own,
                wall=wall_of(item.piece, path.chimney, book),
                zone=_zone(survey, path, item, own_space, book),
                losses=at_start + (() if item.piece.part == "run" else losses),
                inner=losses if item.piece.part == "run" else (),
                change=None if _turns(losses) else _change(before, own, book),
            )
        )
        before = own
    return with_roof(tuple(made), [item.piece for item in pieces], roof_of(path, book), book)


def _entered(path: Path) -> str | None:
    """The piece of a common vent that a connector enters from its side, in a whole path."""
    if path.joins is None or (path.enters is not None and path.enters.way == "through"):
        return None
    if path.enters is not None and path.enters.at is not None:
        return path.enters.at
    return next((piece.id for piece in path.pieces if piece.role == "vent"), None)


def _turns(losses: tuple[Loss, ...]) -> bool:
    """Whether a loss stands for the turn into a wider flue, its change of area included."""
    return any(loss.on is not None for loss in losses)


def _like(own: Bore, before: Bore | None) -> Bore:
    """The very bore before where both are read alike: one error, and no change of area."""
    return before if before == own and before is not None else own


def _change(before: Bore | None, own: Bore, book: Book) -> Change | None:
    """A change of area; None where both are of one size."""
    if before is None or abs(before.middle_m2 / own.middle_m2 - 1.0) < 1e-6:
        return None
    return Change(
        before=before,
        narrows=own.middle_m2 < before.middle_m2,
        contraction=book.coefficient("fitting.contraction"),
    )


def _zone(survey: Survey, path: Path, item: Placed, own_space: str | None, book: Book) -> Zone:
    if item.piece.wall == "masonry":
        return zone_of_chimney(path.chimney, book)
    return zone_of_piece(survey, item.piece, own_space, book)


# ---------------------------------------------------------------- length and rise


def _way(found: Trace, item: Placed, i: int, start: Start, book: Book) -> Way:
    piece = item.piece
    if piece.part == "elbow":
        return _elbow(found, item, i, start, book)
    if says_two_things(piece):
        how = "What is said of its direction cannot all be true. Read tilt or slope again."
        book.lacks(piece.id, "direction", how)
    if piece.rise is not None or piece.horizontal is not None:
        return _run(piece, book)
    return _straight(found, item, i, book)


def _straight(found: Trace, item: Placed, i: int, book: Book) -> Way:
    piece = item.piece
    if isinstance(piece.length, Measured):
        length = book.reading(piece.length)
    elif piece.part in FITTINGS:
        length = book.assume(
            f"{piece.id}.length", f"length of {piece.id}", FITTING_M, "m",
            Assumed(what=f"length of {piece.id}", taken="0 to 0.3 m", measure=HOW_LENGTH),
        )  # fmt: skip
    else:
        length = book.lacks(piece.id, "length", HOW_LENGTH)
    if item.out is not None:
        source = piece if piece.runs or piece.tilt or piece.slope else _earlier(found, i)
        return Way(length=length, ups=(_up(item.out, source, book),))
    if piece.part in FITTINGS:
        return Way(length=length, ups=(_any_way(piece.id, book),))
    return Way(length=length, ups=(book.lacks(piece.id, "direction", HOW_DIRECTION),))


def _earlier(found: Trace, i: int) -> Piece:
    """The piece whose direction a fitting carries on."""
    return found.placed[max(i - 1, 0)].piece


def _up(way: Direction, source: Piece, book: Book) -> Figure:
    """Share of a length that goes up, moving with the reading of its direction. [-]"""
    low, high = way.up
    middle = _cosine(way)
    if low == high:
        return fixed(middle)
    for read in (source.tilt, source.slope):
        if isinstance(read, Measured):
            tool = read.tool or "stated"
            return book.grouped(f"reading.{tool}", (low, middle, high), tool)
    book.note(
        Assumed(
            what=f"slope of {source.id}",
            taken="level by eye, climbing or falling by up to 5 degrees",
            measure="lay a level on it and read its slope",
        )
    )
    return book.grouped("reading.by_eye", (low, middle, high), "by eye")


def _cosine(way: Direction) -> float:
    return Direction(way.value, way.value, way.value).up[0]


def _any_way(name: str, book: Book) -> Figure:
    return book.assume(
        f"{name}.direction", f"share of {name} that goes up", (0.0, 0.5, 1.0), "1",
        Assumed(what=f"direction of {name}", taken="level to upright", measure=HOW_DIRECTION),
    )  # fmt: skip


def _elbow(found: Trace, item: Placed, i: int, start: Start, book: Book) -> Way:
    """Both legs of an elbow, each in the direction of the pipe beside it."""
    piece = item.piece
    leg = elbow_leg(piece)
    if not isinstance(leg, Measured):
        leg = _leg_at_most(piece, book)
    length = book.reading(leg.scaled(2.0))
    into = _elbow_side(item.into, found, i - 1, piece, book)
    if i == 0 and item.into is None and start.on_top is False:
        into = fixed(0.0)  # the outlet points sideways
    return Way(length=length, ups=(into, _elbow_side(item.out, found, i + 1, piece, book)))


def _leg_at_most(piece: Piece, book: Book) -> Measured:
    """Leg of an elbow of unknown angle: that of a 90 degree one, or anything shorter. [m]"""
    whole = elbow_leg(replace(piece, angle=Measured(90.0, Dimension.ANGLE)))
    if not isinstance(whole, Measured):  # no diameter, which is missing already
        return Measured(0.1, Dimension.LENGTH)
    return Measured.between(0.0, whole.high, Dimension.LENGTH, "estimated", whole.evidence)


def _elbow_side(way: Direction | None, found: Trace, at: int, piece: Piece, book: Book) -> Figure:
    if way is not None:
        beside = found.placed[at].piece if 0 <= at < len(found.placed) else piece
        return _up(way, beside, book)
    return _any_way(piece.id, book)


def _run(piece: Piece, book: Book) -> Way:
    """A stretch that states its rise, and its horizontal length or its center line."""
    name = piece.id
    if not isinstance(piece.rise, Measured):
        how = "Measure the height from its lower to its upper end."
        return Way(length=book.lacks(name, "rise", how), ups=(fixed(1.0),))
    if isinstance(piece.length, Measured):
        return _run_by_length(piece, piece.rise, piece.length, book)
    if not isinstance(piece.horizontal, Measured):
        how = "Measure how far it goes sideways, or its length along the center line."
        return Way(length=book.lacks(name, "horizontal length", how), ups=(fixed(1.0),))
    rise = book.own(piece.rise, f"{name}.rise", f"rise of {name}", "m")
    reach = piece.horizontal
    ends = (max(reach.low, 0.0), max(reach.value, 0.0), max(reach.high, 0.0))
    aside = book.number(f"{name}.horizontal", f"horizontal length of {name}", ends, "m")
    return Way(rise=rise, horizontal=aside, bend=_bend(piece, book))


def _bend(piece: Piece, book: Book) -> Figure:
    """How far a run follows both its legs instead of the slant. [-]"""
    if piece.elbows is ABSENT or piece.part != "run":
        return fixed(0.0)
    bends = piece.elbows if isinstance(piece.elbows, tuple) else ()
    square = bool(bends) and all(one.low >= SQUARE_DEG for one in bends)
    name = piece.id
    return book.assume(
        f"{name}.bend", f"how {name} goes: along the slant (0) or along both legs (1)",
        (0.6, 1.0, 1.0) if square else (0.0, 0.5, 1.0), "1",
        Assumed(
            what=f"length of {name} along its center line",
            taken="near its rise and its horizontal length together" if square
            else "between the slant and both legs together",
            measure="measure it from joint to joint",
        ),
    )  # fmt: skip


def _run_by_length(piece: Piece, rise: Measured, length: Measured, book: Book) -> Way:
    """Length and the share of it that goes up, which cannot be more than all of it."""
    name = piece.id
    along = book.own(length, f"{name}.length", f"length of {name}", "m")
    ends = [_within_one(r / n) for r in (rise.low, rise.high) for n in (length.low, length.high)]
    middle = _within_one(rise.value / length.value)
    label = f"rise of {name} over its length"
    up = book.number(f"{name}.up", label, (min(ends), middle, max(ends)), "1")
    return Way(length=along, ups=(up,))


def _within_one(share: float) -> float:
    return min(1.0, max(-1.0, share))
