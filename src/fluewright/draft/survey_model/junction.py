"""Where connectors enter a common vent: its pieces cut into what lies below and above a junction.

Streams meet at the center line of a tee's branch. What comes straight through has the part of the
tee below that center to itself, and pays for going through; the part above belongs to all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, Values, fixed
from fluewright.draft.survey_model.roofs import SHORT_M
from fluewright.draft.survey_model.stretch import Loss, OverRoof, Stretch, Way
from fluewright.joining import JUNCTIONS
from fluewright.quantity import Measured
from fluewright.survey import Piece

NOTHING = fixed(0.0)
NOWHERE = Way(length=NOTHING, ups=(NOTHING,))


@dataclass(frozen=True, slots=True)
class Rest(Figure):
    """What a figure leaves of a whole one, not below zero."""

    whole: Figure = NOTHING
    part: Figure = NOTHING

    def at(self, values: Values) -> float:
        """The difference where the inputs have these values. [unit of both]"""
        left = self.whole.at(values) - self.part.at(values)
        return (left + abs(left)) / 2.0


@dataclass(frozen=True, slots=True)
class Share(Figure):
    """A share of a figure, or what the share leaves of it."""

    whole: Figure = NOTHING
    share: Figure = NOTHING
    left: bool = False

    def at(self, values: Values) -> float:
        """The product where the inputs have these values. [unit of the whole]"""
        share = self.share.at(values)
        return self.whole.at(values) * (1.0 - share if self.left else share)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A piece of a common vent that connectors enter.

    Attributes:
        below: what a stream that comes through from below has to itself, up to where all meet;
            None where that is nothing.
        above: from there to its end.
    """

    below: Stretch | None
    above: Stretch


def cut(piece: Piece, made: Stretch, book: Book) -> Cut:
    """A piece of a common vent, cut where a connector enters it.

    Args:
        piece: as surveyed.
        made: the whole of it, as what comes from below finds it.
        book: takes what was assumed.
    """
    if piece.part in JUNCTIONS:
        low, high = _legs(piece, made, book)
        upper = replace(made, way=high, losses=(), change=None, roof=_roof(made, high, 0.0))
        lower = replace(made, name=f"{made.name} below its branch", way=low,
                        roof=_roof(made, low, high.middle_rise_m))  # fmt: skip
        return Cut(below=lower, above=upper)
    if piece.part in ("elbow", "run"):  # its own bends are for all that go through it
        below = entry(replace(made, losses=(), inner=()), made.name)
        return Cut(below=below, above=replace(made, change=None))
    return Cut(below=entry(made, made.name), above=replace(made, losses=(), change=None))


def entry(seen: Stretch, of: str) -> Stretch | None:
    """What it costs to enter a piece, as a stretch of no length; None where that is nothing.

    Args:
        seen: the piece as the stream that enters finds it.
        of: whose stream it is.
    """
    if not seen.losses and seen.change is None:
        return None
    name = f"{of} into {seen.name}" if of != seen.name else f"into {seen.name}"
    return replace(seen, name=name, way=NOWHERE, inner=(), roof=None)


def way_in(
    piece: Piece, seen: Stretch, cuts: Cut, name: str, way: str | None, free: bool, book: Book
) -> Stretch | None:
    """The last stretch of a connector, into the common vent.

    Args:
        piece: of the common vent, that it enters.
        seen: the piece as its gas finds it.
        cuts: the piece, cut.
        name: of the appliance.
        way: as surveyed: through, side, or None.
        free: whether nothing else is known to come through from below.
        book: takes what was assumed.
    """
    if piece.part in ("elbow", "run"):
        return entry(replace(seen, losses=(), inner=()), name)
    if piece.part not in JUNCTIONS or way == "side" or (way is None and not free):
        return entry(seen, name)
    assert cuts.below is not None
    end = replace(cuts.below, name=f"{name} through {piece.id}")
    if way == "through":
        return replace(end, losses=seen.losses, change=seen.change)
    return _either_way(piece, seen, end, name, book)


def _either_way(piece: Piece, seen: Stretch, end: Stretch, name: str, book: Book) -> Stretch:
    """Into a tee, nobody says whether by its branch or straight through."""
    loss = book.either(
        f"{name}.entry", f"loss where {name} enters {piece.id}", ("fitting.through", "fitting.tee"),
        Assumed(
            what=f"how {name} enters {piece.id}",
            taken="by its branch or straight through it",
            measure="look, and say through or side (enters.way)",
        ),
    )  # fmt: skip
    share = book.number(
        f"{name}.through", f"{name} through {piece.id}: by its branch (0) or from below (1)",
        (0.0, 0.0, 1.0), "1", "assumed: not measured, by its branch or straight through it",
    )  # fmt: skip
    assert end.way.length is not None or end.way.rise is not None
    on = seen.losses[0].on if seen.losses else None
    return replace(
        end, way=_shared(end.way, share, left=False), losses=(Loss(coefficient=loss, on=on),),
        change=None, roof=None,
    )  # fmt: skip


def _legs(piece: Piece, made: Stretch, book: Book) -> tuple[Way, Way]:
    """The ways below and above the center of a tee's branch."""
    whole = made.way.length
    if isinstance(piece.leg, Measured) and whole is not None:
        upper = book.reading(piece.leg)
        low = max(whole.low - upper.high, 0.0), max(whole.high - upper.low, 0.0)
        rest = Rest(max(whole.value - upper.value, 0.0), *low, whole=whole, part=upper)
        return replace(made.way, length=rest), replace(made.way, length=upper)
    share = book.assume(
        f"{piece.id}.leg", f"share of {piece.id} above the center of its branch",
        (0.0, 0.5, 1.0), "1",
        Assumed(
            what=f"center of the branch of {piece.id}",
            taken="anywhere along it",
            measure="measure from that center to its far end (leg)",
        ),
    )  # fmt: skip
    return _shared(made.way, share, left=True), _shared(made.way, share, left=False)


def _shared(way: Way, share: Figure, *, left: bool) -> Way:
    def part(whole: Figure | None) -> Figure | None:
        if whole is None:
            return None
        value = whole.value * (1.0 - share.value if left else share.value)
        ends = (min(whole.low, 0.0), max(whole.high, 0.0))
        return Share(value, *ends, whole=whole, share=share, left=left)

    return replace(
        way, length=part(way.length), rise=part(way.rise), horizontal=part(way.horizontal)
    )


def _roof(made: Stretch, way: Way, above_m: float) -> OverRoof | None:
    """Where the roof cuts a part of a piece; nowhere where that part hardly rises."""
    if made.roof is None or way.middle_rise_m <= SHORT_M:
        return None
    return replace(made.roof, above_m=made.roof.above_m + above_m, rise_m=way.middle_rise_m)
