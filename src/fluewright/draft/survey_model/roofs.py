"""Where a vent leaves the roof, and what it ends in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, fixed
from fluewright.draft.survey_model.stretch import OverRoof, Stretch
from fluewright.quantity import Measured
from fluewright.survey import Path, Piece

# Height of an outlet over the roof that nobody measured; common practice, no source. [m]
OVER_ROOF_M = (0.1, 0.6, 1.8)
SHORT_M = 0.02  # a piece that rises less is on one side of the roof
INSIDE = ("attic", "crawl", "wall_cavity", "garage", "room")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofCut:
    """Whether a path goes through a roof, and how far its outlet was read to stand over it."""

    through: bool
    reading: Measured | None = None

    @property
    def highest_m(self) -> float:
        """What the outlet stands over the roof at most. [m]"""
        return OVER_ROOF_M[2] if self.reading is None else self.reading.high

    def height(self, book: Book) -> Figure:
        """Height of the outlet over the roof. [m]"""
        label = "height of the outlet over the roof"
        if self.reading is not None:
            return book.own(self.reading, "roof.over", label, "m")
        return book.assume(
            "roof.over",
            label,
            OVER_ROOF_M,
            "m",
            Assumed(
                what=label,
                taken="0.1 to 1.8 m",
                measure="measure from the roof, uphill of the pipe, to the cap's lowest opening",
            ),
        )


def roof_of(path: Path, book: Book) -> RoofCut:
    """How much of a path stands over the roof, from its place of ending."""
    roof = path.roof
    if path.pieces and all(p.role == "connector" for p in path.pieces if p.part != "cap"):
        return RoofCut(through=False)
    if roof.ends in INSIDE:
        where = str(roof.ends).replace("_", " ")
        book.lacks(
            path.from_, "way to the open air",
            f"The survey says that it ends in the {where}: all gas stays in the house.",
        )  # fmt: skip
    if roof.ends is not None and roof.ends != "above_roof":
        book.grave("the vent ends at a wall or under an eave: wind and eddies there are not in it")
        return RoofCut(through=False)
    if roof.ends is None:
        book.note(
            Assumed(
                what="where the vent ends",
                taken="in the open air over the roof",
                measure="look, and say where it ends (roof.ends)",
            )
        )
    over = roof.cap_above_penetration
    return RoofCut(through=True, reading=over if isinstance(over, Measured) else None)


def with_roof(
    made: tuple[Stretch, ...], pieces: Sequence[Piece], cut: RoofCut, book: Book
) -> tuple[Stretch, ...]:
    """The stretches, cut where the roof may be; what is said to be outdoors is left as it is.

    Args:
        made: in the direction of flow.
        pieces: of the survey, one for each.
        cut: where the roof may be.
        book: takes the height over the roof where it cuts something.
    """
    if not cut.through:
        return made
    found = list(made)
    above = 0.0
    for i in range(len(made) - 1, -1, -1):
        if above >= cut.highest_m or pieces[i].role == "connector":
            break
        rise = made[i].way.middle_rise_m
        outdoors = made[i].zone.share == fixed(0.0) and not made[i].zone.outdoors
        if rise > SHORT_M and not outdoors:
            over = OverRoof(height=cut.height(book), above_m=above, rise_m=rise)
            found[i] = replace(made[i], roof=over)
        above += max(rise, 0.0)
    return tuple(found)
