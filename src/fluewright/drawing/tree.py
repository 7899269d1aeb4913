"""Several appliances on one common vent, laid into one plane.

The trunk is laid out once. Each connector is hung on the place where it enters, to the right or
to the left of it, as it comes out clear; a run is drawn longer where two appliances would stand
in the same place. The floor of the first appliance is y = 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product

from fluewright.drawing.route import NOMINAL_HOOD_M, Leg, Route, lay_out, legs_from, outer_radius
from fluewright.drawing.scene import Point
from fluewright.drawing.words import wall_of
from fluewright.frozen import frozen
from fluewright.geometry import Trace, trace
from fluewright.joining import JUNCTIONS, entry_index, is_out, trunk, whole
from fluewright.quantity import Dimension, Measured
from fluewright.survey import Appliance, Chimney, Common, Path, Piece, Survey

HEATER_HALF_M = 0.25  # outline of the appliance, not surveyed
COLLAR_M = 0.05  # of a tee's branch, as drawn
BESIDE_M = 0.06  # least air between two appliances
STEP_M = 0.05  # how finely a chain is looked at for what it would run into
STRETCH_M = 0.15
FARTHEST_STRETCH_M = 3.0
MOST_TRIED = 5  # more connectors than this are put right and left in turn
SAME_FLOOR_M = 0.06
FIRST_HOOD_M = 0.4  # no hood outlet stands lower over its floor than this, as drawn


@frozen
class Branch:
    """One appliance and its own pieces, laid out."""

    path: Path
    appliance: Appliance
    found: Trace  # the whole way of its gas
    route: Route
    side: float = 1.0  # 1: stands right of where its gas goes, which flows left; -1: the other way
    floor: float = 0.0
    gone: bool = False
    stub: tuple[Point, ...] = ()  # from the end of the connector into the trunk
    through: bool = True  # not from below into a level piece

    @property
    def from_below(self) -> bool:
        """Whether its end lies behind a level trunk, which it enters from below."""
        return len(self.stub) == 1 and not self.through

    @property
    def name(self) -> str:
        """Name of the appliance in the survey."""
        return self.path.from_

    def moved(self, dx: float, dy: float) -> Branch:
        """The same elsewhere."""

        def put(p: Point) -> Point:
            return p[0] + dx, p[1] + dy

        legs = tuple(leg.put((dx, dy)) for leg in self.route.legs)
        route = replace(self.route, legs=legs, start=put(self.route.start))
        return replace(self, route=route, floor=self.floor + dy, stub=tuple(map(put, self.stub)))


@frozen
class Tree:
    """Everything that one sheet draws: a lone path, or a common vent with its appliances."""

    name: str
    path: Path  # the one that holds vent, chimney and roof
    branches: tuple[Branch, ...]
    trunk: Route | None = None

    @property
    def legs(self) -> tuple[Leg, ...]:
        """Every piece that is there today, connectors first."""
        own = tuple(leg for b in self.live for leg in b.route.legs)
        return own + (self.trunk.legs if self.trunk else ())

    @property
    def live(self) -> tuple[Branch, ...]:
        """The appliances that are there."""
        return tuple(b for b in self.branches if not b.gone)

    @property
    def first(self) -> Branch | None:
        """The appliance that stands for the others where one must."""
        return next(iter((*self.live, *self.branches)), None)

    @property
    def main(self) -> Route:
        """The chain that ends in the open air."""
        if self.trunk is not None:
            return self.trunk
        assert self.first is not None
        return self.first.route


def sheets(survey: Survey) -> tuple[str, ...]:
    """What is drawn on a sheet of its own: each common vent, each path that joins none."""
    names = [p.joins if p.joins in survey.common else p.from_ for p in survey.paths]
    return tuple(dict.fromkeys(name for name in (*names, *survey.common) if name))


def with_roof(survey: Survey, name: str) -> Path:
    """The path of a sheet that holds vent, cap and roof: a common vent's trunk, or a lone path."""
    common = survey.common.get(name)
    return trunk(name, common) if common else next(p for p in survey.paths if p.from_ == name)


def is_chimney(survey: Survey, name: str) -> bool:
    """Whether a sheet's gas ends in a chimney, whose top follows a rule of its own."""
    path = with_roof(survey, name)
    brick = any(wall_of(piece) == "masonry" for piece in path.pieces)
    return brick or isinstance(path.chimney, Chimney)


def lay_tree(survey: Survey, name: str) -> Tree:
    """The sheet of that name laid out.

    Args:
        survey: the whole survey.
        name: of a common vent, or of the appliance of a path that joins none.
    """
    common = survey.common.get(name)
    if common is None:
        return _lone(survey, name)
    path = trunk(name, common)
    route = Route(legs_from(trace(path, None), (0.0, 0.0)), (0.0, 0.0), True)
    joined = [p for p in survey.paths if p.joins == name]
    joined.sort(key=lambda p: (entry_index(p, common), not _is_through(p, common)))
    if not joined:
        return Tree(name, path, (), replace(route, legs=_raised(route.legs, NOMINAL_HOOD_M)))
    return _on_floor(Tree(name, path, _placed(survey, joined, common, route), route))


def _lone(survey: Survey, name: str) -> Tree:
    path = with_roof(survey, name)
    owner = survey.appliance_of(path)
    found = trace(path, _on_top(owner))
    route = lay_out(found, owner.hood.height_above_floor if owner.hood else None)
    return Tree(name, path, (Branch(path, owner, found, route),))


def _on_top(owner: Appliance) -> bool | None:
    return owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None


def _raised(legs: tuple[Leg, ...], up: float) -> tuple[Leg, ...]:
    return tuple(leg.put((0.0, up)) for leg in legs)


def _is_through(path: Path, common: Common) -> bool:
    """Whether its gas comes in straight from below (or behind), and not by a branch."""
    way = path.enters.way if path.enters else None
    if way == "through" or not common.pieces:
        return way == "through"
    piece = common.pieces[entry_index(path, common)]
    return way is None and piece.part not in JUNCTIONS and wall_of(piece) != "masonry"


def _placed(
    survey: Survey, joined: Sequence[Path], common: Common, route: Route
) -> tuple[Branch, ...]:
    """Every connector on the side where all of them come out clear."""
    turns = [1.0 if i % 2 == 0 else -1.0 for i in range(len(joined))]
    tried: Iterator[tuple[float, ...]] = (
        product((1.0, -1.0), repeat=len(joined))
        if len(joined) <= MOST_TRIED
        else iter([tuple(turns)])
    )
    best: tuple[float, tuple[Branch, ...]] | None = None
    for sides in tried:
        branches: list[Branch] = []
        cost = 0.01 * sum(a != b for a, b in zip(sides, turns, strict=True))
        for path, side in zip(joined, sides, strict=True):
            branch, more = _clear_of(_hung(survey, path, common, route, side), branches, route)
            branches.append(branch)
            cost += more
        if best is None or cost < best[0]:
            best = cost, tuple(branches)
    assert best is not None
    return best[1]


def _hung(survey: Survey, path: Path, common: Common, route: Route, side: float) -> Branch:
    """One connector, its end where it enters the trunk."""
    owner = survey.appliance_of(path)
    found = trace(whole(survey, path), _on_top(owner))
    entered = route.legs[entry_index(path, common)] if route.legs else None
    legs = legs_from(_own(path, owner, common, entered), (0.0, 0.0))
    if entered is not None and _from_beside(entered, path, common, legs):
        legs = _lowered(legs, outer_radius(entered) + COLLAR_M)
    last = legs[-1] if legs else None
    stub = _stub(entered, _is_through(path, common), side, last) if entered else ((0.0, 0.0),)
    span = legs[-1].end if legs else (0.0, 0.0)
    start = stub[0][0] - side * span[0], stub[0][1] - span[1]
    gone = is_out(survey, path)
    if not legs:  # nothing is told of its connector: the appliance alone, beside the trunk
        start = stub[0][0] + side * 3 * HEATER_HALF_M, stub[0][1] - HEATER_HALF_M
    own = tuple(leg.put(start, side) for leg in legs)
    height = owner.hood.height_above_floor if owner.hood else None
    known = isinstance(height, Measured) and height.value > 0.1
    floor = start[1] - (height.value if isinstance(height, Measured) and known else NOMINAL_HOOD_M)
    through = _is_through(path, common) or entered is None
    through |= entered is not None and not entered.is_flat
    return Branch(
        path, owner, found, Route(own, start, known), side, floor, gone, stub if legs else (),
        through,
    )  # fmt: skip


def _from_beside(entered: Leg, path: Path, common: Common, legs: tuple[Leg, ...]) -> bool:
    """Whether a connector comes level to the side of a level trunk, and is drawn below it."""
    into_branch = entered.piece.part in JUNCTIONS and not _is_through(path, common)
    return into_branch and entered.is_flat and bool(legs) and legs[-1].is_flat


def _lowered(legs: tuple[Leg, ...], by: float) -> tuple[Leg, ...]:
    """The connector ending lower by as much as its last upright stretch can be drawn shorter."""
    for i in range(len(legs) - 1, -1, -1):
        leg = legs[i]
        up = leg.points[1][1] - leg.points[0][1]
        if leg.piece.part == "elbow" or up < by + STEP_M or leg.points[1][0] != leg.points[0][0]:
            continue
        down = (0.0, -by)
        moved = leg.put(down)
        shorter = replace(moved, points=(leg.points[0], *moved.points[1:]), untrue="shorter")
        return (*legs[:i], shorter, *(after.put(down) for after in legs[i + 1 :]))
    return legs


def _own(path: Path, owner: Appliance, common: Common, entered: Leg | None) -> Trace:
    """The connector's pieces placed, with the way in which the last one leads on."""
    after = _lead_in(entered, _is_through(path, common))
    pieces = (*path.pieces, after) if after is not None else path.pieces
    found = trace(replace(path, pieces=pieces), _on_top(owner))
    return replace(found, placed=found.placed[: len(path.pieces)])


def _lead_in(entered: Leg | None, through: bool) -> Piece | None:
    """A piece as the branch lies: level into a tee, slanting into a wye, else as the trunk."""
    if entered is None:
        return None
    tilt = 90.0
    if through:
        dx, dy = entered.end[0] - entered.start[0], entered.end[1] - entered.start[1]
        tilt = math.degrees(math.atan2(abs(dx), dy))
    elif entered.is_flat:
        tilt = 0.0
    elif entered.piece.part == "wye":
        tilt = 45.0
    short = Measured(0.1, Dimension.LENGTH)
    lean = Measured(tilt, Dimension.ANGLE)
    return Piece(id="branch", part="straight", role="vent", length=short, tilt=lean)


def _stub(entered: Leg, through: bool, side: float, last: Leg | None) -> tuple[Point, ...]:
    """From the end of a connector to the middle of the piece that it enters.

    Its end stands at the height of the branch's center line, as heights are counted; only a level
    connector is drawn below the level trunk that it enters from beside.
    """
    if through or (entered.piece.part not in JUNCTIONS and wall_of(entered.piece) != "masonry"):
        return (entered.start,)
    center = _center(entered)
    reach = outer_radius(entered) + COLLAR_M
    if wall_of(entered.piece) == "masonry":
        return (entered.start[0] + side * entered.radius_m, entered.start[1]), entered.start
    if entered.is_flat:
        beside = last is not None and last.is_flat
        return ((center[0], center[1] - reach), center) if beside else (center,)
    if entered.piece.part == "wye":
        reach += (last.end_radius_m if last else 0.0) * 0.5
        return (center[0] + side * reach, center[1]), (center[0], center[1] + reach)
    return (center[0] + side * reach, center[1]), center


def _center(leg: Leg) -> Point:
    """Where the center line of a branch meets the run of a tee; its middle where not measured."""
    far, length = leg.piece.leg, leg.piece.length
    share = 0.5
    if isinstance(far, Measured) and isinstance(length, Measured) and length.value > 0:
        share = min(1.0, max(0.0, 1.0 - far.value / length.value))
    (x1, y1), (x2, y2) = leg.start, leg.end
    return x1 + (x2 - x1) * share, y1 + (y2 - y1) * share


# ---------------------------------------------------------------- standing clear


def _clear_of(branch: Branch, others: Sequence[Branch], route: Route) -> tuple[Branch, float]:
    """The branch, its level run drawn longer until it stands clear; and what that costs."""
    taken = [_marks(other) for other in others] + [_marks_of_trunk(route, branch)]
    boxes = [_body(other) for other in others]
    best = branch, _hits(branch, taken, boxes) * 10.0
    run = _longest_run(branch)
    more = STRETCH_M
    while best[1] >= 10.0 and run is not None and more <= FARTHEST_STRETCH_M:
        tried = _stretched(branch, run, more)
        cost = _hits(tried, taken, boxes) * 10.0 + more
        if cost < best[1]:
            best = tried, cost
        more += STRETCH_M
    return best


def _longest_run(branch: Branch) -> int | None:
    """Which level piece can be drawn longer."""
    flat = [
        (abs(leg.end[0] - leg.start[0]), i)
        for i, leg in enumerate(branch.route.legs)
        if leg.is_flat and leg.piece.part != "elbow"
    ]
    return max(flat)[1] if flat else None


def _stretched(branch: Branch, run: int, more: float) -> Branch:
    """The branch with one level piece drawn longer, and all before it moved away."""
    out = (branch.side * more, 0.0)
    legs = list(branch.route.legs)
    for i in range(run):
        legs[i] = legs[i].put(out)
    moved = legs[run].put(out)
    legs[run] = replace(moved, points=(*moved.points[:-1], legs[run].end), untrue="longer")
    start = branch.route.start[0] + out[0], branch.route.start[1]
    return replace(branch, route=replace(branch.route, legs=tuple(legs), start=start))


def _body(branch: Branch) -> tuple[float, float, float, float]:
    """Left, right, low and high of the appliance as drawn."""
    x, y = branch.route.start
    air = HEATER_HALF_M + BESIDE_M / 2
    return x - air, x + air, branch.floor, y


def _marks(branch: Branch) -> list[tuple[Point, float]]:
    """Places along the connector with the half width there; not those next to the trunk."""
    return [m for leg in branch.route.legs for m in _along(leg)]


def _marks_of_trunk(route: Route, branch: Branch) -> list[tuple[Point, float]]:
    """The same of the trunk; a chimney goes on down to the floor."""
    marks = [m for leg in route.legs for m in _along(leg)]
    if route.legs and wall_of(route.legs[0].piece) == "masonry":
        x, y = route.start
        wide = outer_radius(route.legs[0])
        count = max(1, int((y - branch.floor) / STEP_M))
        marks += [((x, y - i * STEP_M), wide) for i in range(count)]
    return marks


def _along(leg: Leg) -> Iterator[tuple[Point, float]]:
    wide = outer_radius(leg)
    for a, b in pairwise(leg.points):
        count = max(1, int(math.dist(a, b) / STEP_M))
        for i in range(count + 1):
            yield (a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count), wide


def _hits(
    branch: Branch,
    taken: Sequence[Sequence[tuple[Point, float]]],
    boxes: Sequence[tuple[float, float, float, float]],
) -> int:
    """How much of a branch runs into the others: appliances, connectors, the trunk."""
    left, right, low, high = _body(branch)
    own = _marks(branch)
    end = branch.stub[0] if branch.stub else branch.route.start
    hits = 0
    for box in boxes:
        if left < box[1] and box[0] < right and low < box[3] and box[2] < high:
            hits += 20
        hits += sum(
            box[0] < x + wide and x - wide < box[1] and box[2] < y < box[3] for (x, y), wide in own
        )
    for marks in taken:
        for (x, y), wide in marks:
            if left < x + wide and x - wide < right and low < y < high:
                hits += 1
            hits += any(
                math.dist((x, y), p) < wide + half
                and math.dist(p, end) > wide + half + 2 * COLLAR_M
                for p, half in own
            )
    return hits


def _on_floor(tree: Tree) -> Tree:
    """The whole tree, raised so that the first appliance stands on the floor."""
    assert tree.trunk is not None
    order = (*tree.live, *tree.branches)
    first = next((b for b in order if b.route.hood_known), order[0])
    up = -first.floor
    trunk_ = replace(tree.trunk, legs=_raised(tree.trunk.legs, up), start=(tree.trunk.start[0], up))
    branches = tuple(_floored(b.moved(0.0, up)) for b in tree.branches)
    return replace(tree, trunk=trunk_, branches=branches)


def _floored(branch: Branch) -> Branch:
    """On the common floor where nothing says that it stands higher or lower."""
    hood = branch.route.start[1]
    near = abs(branch.floor) < SAME_FLOOR_M
    if near or (not branch.route.hood_known and hood > FIRST_HOOD_M):
        return replace(branch, floor=0.0)
    return branch
