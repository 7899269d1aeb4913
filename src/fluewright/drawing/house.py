"""What stands around the path: floor, ceiling, roof at its pitch, walls near the cap."""

from __future__ import annotations

from fluewright.drawing.route import Route, outer_radius
from fluewright.drawing.scene import Point
from fluewright.drawing.tree import HEATER_HALF_M, Tree
from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.survey import Near, Path, Survey

NOMINAL_PITCH = 4 / 12
NOMINAL_CAP_M = 0.30
NOMINAL_NEAR_M = 1.0
UPRIGHT_OVER_M = 0.5  # an upright is drawn so far above the cap, then broken off
FARTHEST_DRAWN_M = 3.4  # beyond this nothing on the roof bears on the cap; it is noted instead
ROOF_LEFT_M = 0.45
ROOF_RIGHT_M = 1.25
END_WALL_M = 0.12  # thickness of an outside wall as drawn


@frozen
class Upright:
    """A wall or the like near the cap, as drawn."""

    near: Near
    x: float
    foot: float
    top: float
    known: bool  # both its distance and its top were measured
    broken: bool  # it goes on above what is drawn
    away: int  # +1 uphill of the vent, -1 downhill


@frozen
class RoofShape:
    """The roof in the plane of the drawing; it climbs to the right."""

    axis: float
    edge: float  # where the uphill side of the pipe crosses it
    level: float  # its height there
    pitch: float
    pitch_known: bool
    level_known: bool
    left: float
    right: float
    ridge: float | None
    uprights: tuple[Upright, ...]
    too_far: tuple[Near, ...]

    def height(self, x: float) -> float:
        """Height of the roof surface at a place. [m]"""
        if self.ridge is not None and x > self.ridge:
            return self.height(self.ridge) - (x - self.ridge) * self.pitch
        return self.level + (x - self.edge) * self.pitch

    def line(self) -> tuple[Point, ...]:
        """The roof surface from eave side to the right."""
        xs = [self.left, self.right]
        if self.ridge is not None and self.left < self.ridge < self.right:
            xs.insert(1, self.ridge)
        return tuple((x, self.height(x)) for x in xs)


@frozen
class House:
    """Everything around the path."""

    ceiling: float | None
    ceiling_known: bool
    roof: RoofShape | None
    ends: str  # words for an end that is not above the roof
    end_wall: float | None  # inner face of the outside wall that the path ends at
    left: float
    right: float
    top: float
    bottom: float  # the floor, or lower where the path falls below it


END_WORDS = {
    "at_wall": "ends at a wall",
    "under_eave": "ends under an eave",
    "under_parapet": "ends under a parapet",
    "attic": "ends in the attic",
    "crawl": "ends in the crawl space",
    "wall_cavity": "ends in a wall cavity",
    "garage": "ends in the garage",
    "room": "ends in the room",
}


def around_path(survey: Survey, tree: Tree, *, ridge: bool = True) -> House:
    """The house as far as it is drawn with this sheet, its ridge too or not."""
    path, route = tree.path, tree.main
    roof = _roof(path, route, ridge) if path.roof.ends in (None, "above_roof") else None
    gone = [leg for b in tree.branches if b.gone for leg in b.route.legs]
    legs = [*tree.legs, *gone]
    starts = [b.route.start for b in tree.branches] or [route.start]
    xs = [p[0] for leg in legs for p in leg.points] + [x for x, _ in starts]
    ys = [p[1] for leg in legs for p in leg.points] + [y for _, y in starts]
    widest = max((outer_radius(leg) for leg in legs), default=0.05)
    left, right, top = min(xs) - widest - 0.1, max(xs), max(ys) + 0.25
    if tree.trunk is not None:
        left = min(left, *(x - HEATER_HALF_M - 0.1 for x, _ in starts))
        right = max(right + widest, *(x + HEATER_HALF_M for x, _ in starts))
    else:
        right = HEATER_HALF_M
    right += 0.1
    bottom = min(0.0, min(ys) - widest - 0.1) if min(ys) < widest else 0.0
    bottom = min([bottom, *(b.floor for b in tree.branches)])
    if roof is not None:
        left, right = min(left, roof.left), max(right, roof.right)
        line = [y for _, y in roof.line()]
        top = max([top, *line, *(u.top + 0.1 for u in roof.uprights)])
        bottom = min([bottom, *line, *(min(u.foot, u.top) for u in roof.uprights)])
    level, known = _ceiling(survey, tree, roof)
    top = max(top, level or 0.0)
    wall = _end_wall(path, route)
    if wall is not None:
        top = max(top, route.end[1] + 0.6)
    return House(level, known, roof, _end_words(path), wall, left, right, top, bottom)


def _ceiling(survey: Survey, tree: Tree, roof: RoofShape | None) -> tuple[float | None, bool]:
    """Height of the ceiling over the first appliance, and whether it was measured."""
    first = next((b for b in tree.live if b.floor == 0.0), tree.first)
    space = survey.spaces.get(first.appliance.space or "") if first is not None else None
    ceiling = space.ceiling if space is not None else None
    if isinstance(ceiling, Measured) and first is not None:
        return first.floor + ceiling.value, True
    return _guess(tree, roof), False


def _end_wall(path: Path, route: Route) -> float | None:
    """Inner face of the outside wall that a path ends at."""
    if path.roof.ends not in ("at_wall", "under_eave", "under_parapet") or not route.legs:
        return None
    last = next((leg for leg in reversed(route.legs) if leg.piece.part != "cap"), None)
    flat = last is not None and last.is_flat
    return route.end[0] + (END_WALL_M + 0.15 if flat else END_WALL_M)


def _end_words(path: Path) -> str:
    return END_WORDS.get(path.roof.ends or "", "")


def _guess(tree: Tree, roof: RoofShape | None) -> float | None:
    """Where a ceiling nobody measured is drawn: over the connectors, under the roof."""
    starts = [b.route.start[1] for b in tree.branches] or [tree.main.start[1]]
    seams = [leg.end[1] for leg in tree.legs if leg.piece.role == "connector"]
    level = max(*starts, *seams, max(starts) + 0.3) + 0.3 if seams else max(starts) + 0.6
    if roof is None or level > roof.height(roof.axis) - 0.3:
        return None
    return level


def _roof(path: Path, route: Route, with_ridge: bool) -> RoofShape:
    seen = path.roof
    axis, opening = route.end
    half = outer_radius(route.legs[-1]) if route.legs else 0.05
    known = isinstance(seen.cap_above_penetration, Measured)
    above = seen.cap_above_penetration
    level = opening - (above.value if isinstance(above, Measured) else NOMINAL_CAP_M)
    pitch = seen.pitch.value if isinstance(seen.pitch, Measured) else NOMINAL_PITCH
    left = min(axis - ROOF_LEFT_M, axis - half - 0.25)
    bare = RoofShape(
        axis, axis + half, level, pitch, isinstance(seen.pitch, Measured), known,
        left, axis + ROOF_RIGHT_M, None, (), (),
    )  # fmt: skip
    ridge = None
    if (
        with_ridge
        and isinstance(seen.ridge, Measured)
        and seen.ridge.value <= FARTHEST_DRAWN_M
        and pitch > 0.02
    ):
        ridge = axis + half + seen.ridge.value
    near = seen.near if isinstance(seen.near, tuple) else ()
    return _with_near(bare, ridge, near, (half, opening))


def _with_near(
    bare: RoofShape, ridge: float | None, near: tuple[Near, ...], pipe: tuple[float, float]
) -> RoofShape:
    """The roof with what stands on it; ``pipe`` is half the pipe and the height of its opening."""
    half, opening = pipe
    right = max(bare.right, ridge + 0.4) if ridge is not None else bare.right
    plain = RoofShape(
        bare.axis, bare.edge, bare.level, bare.pitch, bare.pitch_known, bare.level_known,
        bare.left, right, ridge, (), (),
    )  # fmt: skip
    uprights: list[Upright] = []
    too_far: list[Near] = []
    left = bare.left
    for item in near:
        away = item.horizontal.value if isinstance(item.horizontal, Measured) else NOMINAL_NEAR_M
        if away > FARTHEST_DRAWN_M:
            too_far.append(item)
            continue
        taken = [u.x for u in uprights if u.away > 0]
        side = -1 if any(abs(bare.edge + away - x) < 0.45 for x in taken) else 1
        x = bare.edge + away if side > 0 else bare.axis - half - away
        if side < 0 and any(u.away < 0 and abs(u.x - x) < 0.45 for u in uprights):
            too_far.append(item)
            continue
        upright = _upright(plain, item, x, side, opening)
        uprights.append(upright)
        if side > 0:
            right = max(right, x + 0.25)
        left = min(left, x - 0.2) if side < 0 else left
    return RoofShape(
        bare.axis, bare.edge, bare.level, bare.pitch, bare.pitch_known, bare.level_known,
        left, right, ridge, tuple(uprights), tuple(too_far),
    )  # fmt: skip


def _upright(roof: RoofShape, near: Near, x: float, side: int, opening: float) -> Upright:
    foot = roof.height(x)
    known = isinstance(near.horizontal, Measured) and isinstance(
        near.top_above_penetration, Measured
    )
    top = (
        roof.level + near.top_above_penetration.value
        if isinstance(near.top_above_penetration, Measured)
        else foot + 0.6
    )
    most = max(opening, foot) + UPRIGHT_OVER_M
    return Upright(near, x, foot, min(top, most), known, top > most, side)
