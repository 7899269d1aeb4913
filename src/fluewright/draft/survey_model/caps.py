"""The end of a path: what a cap costs besides the velocity head that every open end loses."""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, Values
from fluewright.draft.survey_model.stretch import Bore
from fluewright.quantity import Measured
from fluewright.survey import Chimney, Path, Piece

CAP_AREAS = 2.0  # free area of the caps behind the handbook's losses, over that of the pipe; ours
WIDE = 2.5  # times the pipe: from here on the free area adds nothing, whatever its reading
DISCHARGE = 0.6  # sharp-edged opening, hydraulics handbooks, from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """Loss of a cap, and its free area where that was measured."""

    loss: Figure
    free: Figure | None = None

    def at(self, values: Values, end: Bore) -> float:
        """The loss on the velocity head in the last piece, besides the exit head. [-]

        A free area of less than twice that of the pipe adds the head of the jet through it,
        (A / (0.6 F))2 - 1 / 1.44. Source: orifice equation; that the handbook's caps have twice
        the area of the pipe is an assumption.
        """
        loss = self.loss.at(values)
        if self.free is None:
            return loss
        ratio = end.area_m2(values) / (DISCHARGE * self.free.at(values))
        more = ratio * ratio - (1.0 / (DISCHARGE * CAP_AREAS)) ** 2
        return loss + (more + abs(more)) / 2.0


def cap_of(path: Path, end: Bore, book: Book) -> Cap:
    """The cap of a path, by its listing and its free area.

    Args:
        path: with its cap as the last piece, if the survey lists one.
        end: bore of the piece below it.
        book: takes what was used and assumed.
    """
    last = path.pieces[-1] if path.pieces else None
    if last is not None and last.part == "cap":
        free = _free(last, path)
        if free is not None and free.low >= WIDE * end.middle_m2:
            free = None  # wider than what could matter
        area = book.own(free, "cap.free", "free area of the cap", "m2") if free else None
        return Cap(loss=_listed(last, book), free=area)
    if path.vent.cap is False:
        return Cap(loss=book.coefficient("cap.open"))
    return Cap(loss=_unknown(path.vent.cap is True, book))


def _listed(piece: Piece, book: Book) -> Figure:
    if piece.listed is True:
        return book.coefficient("cap.listed")
    if piece.listed is False:
        return book.coefficient("cap.unlisted")
    return _unknown(True, book)


def _unknown(there: bool, book: Book) -> Figure:
    names = ("cap.listed", "cap.unlisted") if there else ("cap.open", "cap.unlisted")
    return book.either(
        "cap.unknown", "loss of the cap", names,
        Assumed(
            what="cap, its kind not known" if there else "cap, whether there is one",
            taken="from a listed one to the worst" if there else "from none to the worst",
            measure="look: is there a cap, and does it bear a listing mark",
        ),
    )  # fmt: skip


def _free(piece: Piece, path: Path) -> Measured | None:
    """Free area of the cap, or under the rain cap of a chimney. [m2]"""
    area = piece.free_area
    if area is None and piece.wall == "masonry" and isinstance(path.chimney, Chimney):
        area = path.chimney.rain_cap_area
    return area if isinstance(area, Measured) and area.low > 0.0 else None
