"""What surrounds a piece: outdoors, heated rooms, or a space between the two."""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.draft.survey_model.inputs import Assumed, Book, fixed
from fluewright.draft.survey_model.stretch import Zone
from fluewright.survey import Chimney, Piece, Space, Survey

OUTDOORS, ROOM = Zone(share=fixed(0.0)), Zone(share=fixed(1.0))
# The coefficient of a space that nobody heats.
UNHEATED: Mapping[str, str] = {
    "room": "basement.room_share",
    "closet": "basement.room_share",
    "bedroom": "basement.room_share",
    "bathroom": "basement.room_share",
    "basement": "basement.room_share",
    "garage": "garage.room_share",
    "attic": "attic.room_share",
    "crawl": "crawl.room_share",
    "chase": "chase.room_share",
    "concealed": "chase.room_share",
    "porch": "garage.room_share",
}
INDOORS = ("room", "closet", "bedroom", "bathroom", "basement")


def zone_of_space(survey: Survey, name: str | None, what: str, book: Book) -> Zone:
    """The air of a space of the survey.

    Args:
        survey: what was seen.
        name: of the space; None where nobody said.
        what: what lies there, for the list of what was assumed.
        book: takes what was used and assumed.
    """
    space = survey.spaces.get(name) if name else None
    if space is None:
        return Zone(
            share=book.assume(
                "unsaid.room_share", "surroundings that nobody described, outdoors (0) to room (1)",
                (0.0, 0.5, 1.0), "1",
                Assumed(
                    what=f"space around {what}",
                    taken="anything from outdoors to a heated room",
                    measure="say in which space it lies",
                ),
            )
        )  # fmt: skip
    return _zone(space, name or "", book)


def _zone(space: Space, name: str, book: Book) -> Zone:
    if space.kind == "outdoors":
        return OUTDOORS
    if space.conditioned is True:
        return ROOM
    usual = UNHEATED[space.kind]
    if space.conditioned is False or space.kind not in INDOORS:
        return Zone(share=book.coefficient(usual))
    low = book.coefficients.numbers[usual].low
    return Zone(
        share=book.assume(
            f"{name}.room_share", f"air of {name} between outdoors (0) and heated rooms (1)",
            (low, (low + 2.0) / 3.0, 1.0), "1",
            Assumed(
                what=f"space {name}",
                taken="heated or not",
                measure="say whether it is heated or cooled for people (conditioned)",
            ),
        )
    )  # fmt: skip


def zone_of_chimney(chimney: object, book: Book) -> Zone:
    """What surrounds a masonry chimney below the roof, its sides taken together."""
    exterior = chimney.exterior if isinstance(chimney, Chimney) else None
    if exterior is True:
        return Zone(share=book.coefficient("masonry.exposed_share"), outdoors=True)
    if exterior is False:
        return Zone(share=book.coefficient("masonry.inside_share"))
    least = 1.0 - book.coefficients.numbers["masonry.exposed_share"].high
    return Zone(
        share=book.assume(
            "chimney.room_share", "surroundings of the chimney, outdoors (0) to room (1)",
            (least, (least + 1.0) / 2.0, 1.0), "1",
            Assumed(
                what="sides of the chimney",
                taken="anything from inside the house to three sides outdoors",
                measure="look whether a side of it stands outdoors below the roof (exterior)",
            ),
        )
    )  # fmt: skip


def zone_of_piece(survey: Survey, piece: Piece, own_space: str | None, book: Book) -> Zone:
    """What surrounds a piece that is no masonry.

    Args:
        survey: what was seen.
        piece: of a path.
        own_space: of the appliance: a connector lies there where nobody says otherwise.
        book: takes what was used and assumed.
    """
    name = piece.space
    if name is None and piece.role == "connector":
        name = own_space
    return zone_of_space(survey, name, piece.id, book)
