"""What a piece is made of, as heat loss, roughness and stored heat; and its bore."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fluewright.draft.masonry import Layer, Space, grid_from
from fluewright.draft.survey_model.inputs import Assumed, Book, Figure
from fluewright.draft.survey_model.stretch import Bore, Wall
from fluewright.draft.system import Node
from fluewright.quantity import Measured
from fluewright.survey import Chimney, NonRound, Path, Piece

# By wall and metal: coefficients of heat loss, roughness, stored heat.
Names = tuple[str, str, str]
STEEL: Names = ("wall_u.single_galvanized", "roughness.galvanized", "wall_heat.single_galvanized")
ALUMINUM: Names = ("wall_u.single_aluminum", "roughness.aluminum", "wall_heat.single_aluminum")
TYPE_B: Names = ("wall_u.type_b", "roughness.aluminum", "wall_heat.type_b_aluminum")
# Type L is double-wall with a stainless liner; its gap is that of Type B or wider.
HALF_INCH: Names = ("wall_u.type_b_half_inch", "roughness.galvanized", "wall_heat.flexible_liner")
FLEXIBLE: Names = ("wall_u.single_aluminum", "roughness.flexible_liner", "wall_heat.flexible_liner")
LINER: Names = ("wall_u.liner_in_masonry", "roughness.flexible_liner", "wall_heat.flexible_liner")
SMOOTH_LINER: Names = (
    "wall_u.liner_in_masonry", "roughness.galvanized", "wall_heat.flexible_liner",
)  # fmt: skip
TILE: Names = ("wall_u.clay_tile", "roughness.clay_tile", "wall_heat.clay_tile")
BRICK: Names = ("wall_u.clay_tile", "roughness.brick", "wall_heat.clay_tile")
FACTORY: Names = ("wall_u.factory_chimney", "roughness.galvanized", "wall_heat.flexible_liner")
PIPE: Names = ("wall_u.clay_pipe", "roughness.clay_tile", "wall_heat.clay_tile")

BY_WALL: Mapping[str, tuple[Names, ...]] = {
    "type_b": (TYPE_B,),
    "type_bw": (TYPE_B,),
    "listed_connector": (TYPE_B,),
    "type_l": (TYPE_B, HALF_INCH),
    "special": (STEEL, HALF_INCH),
    "corrugated": (FLEXIBLE,),
    "foil": (FLEXIBLE,),
    "plastic_listed": (STEEL, TYPE_B),
    "plastic_unlisted": (STEEL, TYPE_B),
    "asbestos_cement": (PIPE,),
    "factory_built_chimney": (FACTORY,),
    "metal_chimney": (STEEL,),
}
BY_METAL: Mapping[str, tuple[Names, ...]] = {
    "galvanized": (STEEL,),
    "stainless": (STEEL,),
    "aluminum": (ALUMINUM,),
}
BY_LINER: Mapping[str, tuple[Names, ...]] = {
    "clay": (TILE,),
    "smooth_metal": (SMOOTH_LINER,),
    "corrugated_metal": (LINER,),
}
MASONRY_NODES = 6
AIR_SPACE_M = 0.0127  # between lining and brick, half an inch (common practice, no source)
# Hydraulic diameter over the root of the area: a square flue 1, a rectangle of one to two 0.94,
# a circle 1.13 (geometry).
MASONRY_SHAPE = (0.94, 1.0, 1.13)


def wall_of(piece: Piece, chimney: object, book: Book) -> Wall:
    """What the wall of a piece does.

    Args:
        piece: of a path.
        chimney: what the path says of one, if anything.
        book: takes what was used and assumed.
    """
    film = book.coefficient("film.inside")
    kind, choices, what = _choices(piece, chimney)
    parts = [
        _one_of(book, f"{group}.{kind}", f"{words}: {what.what}", [one[i] for one in choices], what)
        for i, (group, words) in enumerate(
            (
                ("wall_u", "heat loss"),
                ("roughness", "roughness"),
                ("wall_heat", "heat stored by the wall"),
            )
        )
    ]
    nodes, face = _layers(choices, piece.wall == "masonry", book)
    return Wall(u=parts[0], film=film, rough=parts[1], heat=parts[2], nodes=nodes, face_w_m2k=face)


def _layers(
    choices: tuple[Names, ...], masonry: bool, book: Book
) -> tuple[tuple[Node, ...], float]:
    """The nodes of a masonry wall, and the conductance to the first; none of any other wall.

    They hold for the warm-up: how fast a cold flue takes up heat. Their figures are the middle
    ones, since the air and weather of a start matter far more.
    """
    if not masonry or not any(one in (TILE, BRICK) for one in choices):
        return (), math.inf
    brick = Layer(name="brick", **_stuff("brick", book))
    wall: list[Layer | Space] = [brick]
    if TILE in choices:
        gap = book.figure("air_space.resistance")
        space = Space(name="air space", thickness_m=AIR_SPACE_M, resistance_m2k_w=gap)
        wall = [Layer(name="tile", **_stuff("tile", book)), space, brick]
    grid = grid_from(wall, MASONRY_NODES)
    outer = 1.0 / (1.0 / grid.outer + 1.0 / (book.figure("film.indoor") * grid.outer_area))
    links = (*grid.links, outer)
    nodes = tuple(
        Node(store_j_m2k=store, outward_w_m2k=link)
        for store, link in zip(grid.stores, links, strict=True)
    )
    return nodes, grid.inner


def _stuff(name: str, book: Book) -> dict[str, float]:
    return {
        "thickness_m": book.figure(f"{name}.thickness"),
        "conductivity_w_mk": book.figure(f"{name}.conductivity"),
        "density_kg_m3": book.figure(f"{name}.density"),
        "heat_j_kgk": book.figure(f"{name}.heat"),
    }


def _one_of(book: Book, name: str, label: str, names: list[str], what: Assumed) -> Figure:
    if len(set(names)) == 1:
        return book.coefficient(names[0])
    return book.either(name, label, names, what)


def _choices(piece: Piece, chimney: object) -> tuple[str, tuple[Names, ...], Assumed]:
    """A name for the kind, the rows that may hold, and what to list where they are several."""
    wall = piece.wall
    if wall == "masonry":
        liner = chimney.liner if isinstance(chimney, Chimney) else None
        found = BY_LINER.get(liner) if isinstance(liner, str) else None
        if found is None and liner is not None and not _unknown(liner):
            found = (BRICK,)  # no liner
        choices = found or (TILE, BRICK, LINER, SMOOTH_LINER)
        return (
            "masonry_unknown",
            choices,
            Assumed(
                what="lining of the chimney, liner not known",
                taken="anything from bare brick to a metal liner",
                measure="look down the flue with a light, or from the cleanout with a mirror",
            ),
        )
    if wall == "single":
        metal = piece.metal if isinstance(piece.metal, str) else None
        return (
            "single_unknown",
            BY_METAL.get(metal or "", (STEEL, ALUMINUM)),
            Assumed(
                what="single-wall pipe, metal not known",
                taken="steel or aluminum",
                measure="hold a magnet to it: galvanized steel draws it, aluminum does not",
            ),
        )
    if isinstance(wall, str) and wall in BY_WALL:
        words = wall.replace("_", " ")
        return (
            f"{wall}_like",
            BY_WALL[wall],
            Assumed(
                what=f"wall, {words}",
                taken="between the walls it may be like",
                measure="read the heat loss or the gap from its maker's sheet",
            ),
        )
    return (
        "unknown",
        (STEEL, ALUMINUM, TYPE_B, HALF_INCH, FACTORY, TILE),
        Assumed(
            what="wall, kind of pipe not known",
            taken="anything from an insulated chimney to single-wall steel",
            measure="read the stamp, or look at a joint for a second wall",
        ),
    )


def _unknown(liner: object) -> bool:
    return getattr(liner, "reason", None) is not None


def bore_of(piece: Piece, path: Path, book: Book) -> Bore:
    """The inside of a piece: its diameter, the flue's area, or the area of a flat pipe.

    Args:
        piece: of a path.
        path: it belongs to.
        book: takes what was used, assumed or is missing.
    """
    if isinstance(piece.diameter, Measured) and piece.diameter.low > 0.0:
        return Bore(diameter=book.reading(piece.diameter))
    if piece.wall == "masonry":
        return _flue(piece, path.chimney, book)
    flat = path.connector.non_round
    if isinstance(flat, NonRound) and piece.role == "connector":
        return _flat(piece, flat, book)
    how = "Read the size stamped on it, or measure across it two ways."
    return Bore(diameter=book.lacks(piece.id, "inside diameter", how))


def _flue(piece: Piece, chimney: object, book: Book) -> Bore:
    area = chimney.flue_area if isinstance(chimney, Chimney) else None
    if not isinstance(area, Measured) or area.low <= 0.0:
        how = "Measure width and depth inside the flue at its top (chimney.flue_area)."
        return Bore(diameter=book.lacks(piece.id, "clear area of the flue", how))
    shape = book.assume(
        "shape.masonry", "hydraulic diameter over the root of the flue's area", MASONRY_SHAPE, "1",
        Assumed(
            what="shape of the flue",
            taken="square, within a rectangle of one to two and a circle",
            measure="measure width and depth inside the flue at its top",
        ),
    )  # fmt: skip
    return Bore(area=book.own(area, "flue.area", "clear area of the flue", "m2"), shape=shape)


def _flat(piece: Piece, flat: NonRound, book: Book) -> Bore:
    if not isinstance(flat.area, Measured) or flat.area.low <= 0.0:
        how = "Measure its free area (connector.non_round.area)."
        return Bore(diameter=book.lacks(piece.id, "free area of the flat pipe", how))
    area = book.own(flat.area, "connector.area", "free area of the flat connector", "m2")
    what = Assumed(
        what="shape of the flat connector",
        taken="a rectangle of up to one to five",
        measure="measure its narrowest inside width",
    )
    if isinstance(flat.narrowest, Measured):
        ends = [_shape(flat.area.value, a) for a in (flat.narrowest.low, flat.narrowest.high)]
        middle = _shape(flat.area.value, flat.narrowest.value)
        span = (min(*ends, middle), middle, max(*ends, middle))
        shape = book.number(
            "shape.connector", "hydraulic diameter over the root of the connector's area", span, "1"
        )
        return Bore(area=area, shape=shape)
    label = "hydraulic diameter over the root of the connector's area"
    return Bore(
        area=area, shape=book.assume("shape.connector", label, (0.74, 0.9, 1.13), "1", what)
    )


def _shape(area_m2: float, narrow_m: float) -> float:
    """Hydraulic diameter of a rectangle over the root of its area, 2 / (s + 1/s). [-]"""
    side = max(narrow_m, 1e-6) / area_m2**0.5
    return float(2.0 / (side + 1.0 / side))
