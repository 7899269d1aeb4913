"""Which dimensions a sheet carries: chains of readings, and the sums that the rules ask for."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.drawing.dimensions import Span
from fluewright.drawing.pipes import half_widths
from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import View
from fluewright.drawing.tree import HEATER_HALF_M, Branch
from fluewright.drawing.words import bound_text, value_text
from fluewright.geometry import (
    Length,
    connector_horizontal,
    height_above_connector,
    lateral,
    total,
    vent_height,
)
from fluewright.quantity import Measured

SMALLEST_M = 0.012
APART_MM = 1.0  # between two chains on one lane

Lanes = list[list[Span]]


def plumb_chains(plan: Plan, view: View) -> Lanes:
    """The plumb lanes on the left, nearest to the figure first."""
    lone = plan.lone
    if lone is None:
        return _tree_plumb(plan, view)
    pieces, parts = _pieces(lone.route.legs, plan, view), _parts(lone, plan, view)
    if [round(s.end, 2) for s in parts] == [round(s.end, 2) for s in pieces]:
        parts = []
    if len(parts) == 1:  # next to H it would say the same again
        parts = []
    lanes = [[_floor(lone, plan, view), *pieces], parts, _whole(lone, plan, view)]
    return [lane for lane in lanes if lane]


def right_chains(plan: Plan, view: View) -> Lanes:
    """The plumb lanes on the right: of the appliances that stand there."""
    if plan.lone is not None:
        return []
    return _packed([[_floor(b, plan, view)] for b in _by_nearness(plan, 1.0)])


def level_chains(plan: Plan, view: View) -> Lanes:
    """The level lanes under the figure, nearest first."""
    if plan.lone is None:
        return _tree_level(plan, view)
    legs = [leg for leg in plan.legs if _runs(leg)]
    if not legs:
        return []
    lanes = [[_level(leg, plan, view) for leg in reversed(legs)]]
    if len(legs) > 1:
        lanes.append(_level_sums(plan.lone, view, plan))
    return [lane for lane in lanes if lane]


# ---------------------------------------------------------------- a common vent


def _tree_plumb(plan: Plan, view: View) -> Lanes:
    """The trunk piece by piece, the hoods on the left over their floor, the whole height."""
    trunk = _pieces(plan.main.legs, plan, view)
    groups = [[_floor(b, plan, view)] for b in _by_nearness(plan, -1.0)]
    lanes = _packed([trunk, *groups])
    live = [b for b in plan.tree.live if b.route.legs or b.stub]
    highest = max(live, key=lambda b: b.route.start[1], default=None)
    if highest is not None and plan.main.legs:
        lanes.append(_whole(highest, plan, view))
    return [lane for lane in lanes if lane]


def _by_nearness(plan: Plan, side: float) -> list[Branch]:
    """The appliances on one side, the one farthest out first."""
    own = [b for b in plan.tree.live if b.side == side]
    return sorted(own, key=lambda b: -side * b.route.start[0])


def _packed(groups: Sequence[list[Span]]) -> Lanes:
    """Chains on as few lanes as they need, in order."""
    lanes: Lanes = []
    for group in groups:
        if not group:
            continue
        low, high = min(s.start for s in group), max(s.end for s in group)
        for lane in lanes:
            if all(s.end + APART_MM < low or high + APART_MM < s.start for s in lane):
                lane.extend(group)
                break
        else:
            lanes.append(list(group))
    for lane in lanes:
        lane.sort(key=lambda s: s.start)
    return lanes


def _tree_level(plan: Plan, view: View) -> Lanes:
    """Level lengths of each connector and of the trunk; below them the sums."""
    chains: list[tuple[str, Sequence[Leg], Length]] = [
        (b.name.replace("_", " "), b.route.legs, connector_horizontal(b.found))
        for b in plan.tree.live
    ]
    trunk = plan.main.legs
    side = total((leg.side for leg in trunk if leg.piece.part != "cap"), "offset")
    flat_first = bool(trunk) and trunk[0].is_flat
    chains.append(("manifold" if flat_first else "offset", trunk, side))
    pieces: Lanes = []
    sums: Lanes = []
    for name, legs, whole in chains:
        flat = [leg for leg in legs if _runs(leg)]
        spans = sorted((_level(leg, plan, view) for leg in flat), key=lambda s: s.start)
        pieces.append(spans)
        if len(spans) > 1:
            text, small, known = dimension_words(whole, plan, f"{name} ")
            sums.append([Span(spans[0].start, spans[-1].end, text, small, known)])
    return [*_packed(pieces), *_packed(sums)]


# ---------------------------------------------------------------- spans


def _runs(leg: Leg) -> bool:
    return abs(leg.start[0] - leg.end[0]) > SMALLEST_M


def dimension_words(value: Length, plan: Plan, lead: str = "") -> tuple[str, str, bool]:
    """A length in words, its bound, and whether it is known."""
    if isinstance(value, Measured):
        return lead + value_text(value, plan.style), bound_text(value, plan.style), True
    return lead + "?", "", False


def _shown(leg: Leg, value: Length, steep: bool) -> tuple[Length, bool]:
    """What a chain says of a piece: its reading where it runs along the lane, else the sum."""
    length = leg.piece.length
    dx, dy = abs(leg.end[0] - leg.start[0]), abs(leg.end[1] - leg.start[1])
    along, across = (dy, dx) if steep else (dx, dy)
    if leg.piece.part != "elbow" and isinstance(length, Measured) and across < 0.06 * along:
        return length, True
    if leg.piece.part == "run":
        return value, True
    center = leg.piece.leg
    if (
        isinstance(center, Measured)
        and isinstance(value, Measured)
        and abs(value.value - center.value) < 0.03 * center.value
    ):
        return center, True  # an elbow between plumb and level: its leg as it was read
    return value, False


def _pieces(legs: Sequence[Leg], plan: Plan, view: View) -> list[Span]:
    """Piece by piece from the first up."""
    spans: list[Span] = []
    for leg in legs:
        if leg.end[1] - leg.start[1] < SMALLEST_M:
            continue
        value, read = _shown(leg, leg.rise, True)
        text, small, known = dimension_words(value, plan)
        if isinstance(value, Measured) and value.tool == "estimated":
            small = ""
        a, b = view.to_sheet(leg.start), view.to_sheet(leg.end)
        half = half_widths(leg, view)[0]
        lower = None if spans and abs(spans[-1].end - a[1]) < 0.3 else a[0] - half
        if not spans and plan.lone is not None:
            lower = None  # the floor's own dimension ends at the hood outlet
        spans.append(Span(a[1], b[1], text, small, known, read, lower, b[0] - half))
    return spans


def _floor(branch: Branch, plan: Plan, view: View) -> Span:
    """Height of the hood outlet over the floor."""
    floor, start = view.to_sheet((0.0, branch.floor)), view.to_sheet(branch.route.start)
    hood = branch.appliance.hood
    height = hood.height_above_floor if hood is not None else None
    known = isinstance(height, Measured)
    text = value_text(height, plan.style) if isinstance(height, Measured) else "?"
    small = bound_text(height, plan.style) if isinstance(height, Measured) else ""
    reach = plan.house.left
    if plan.lone is None and branch.floor == 0.0:
        reach = plan.house.left if branch.side < 0 else plan.house.right
    elif plan.lone is None:
        reach = branch.route.start[0] + branch.side * (HEATER_HALF_M + 0.1)
    out = -2.0 if plan.lone is not None else branch.side * 2.0
    edge = view.to_sheet((reach, 0.0))[0]
    return Span(floor[1], start[1], text, small, known, True, edge, start[0] + out)


def _parts(branch: Branch, plan: Plan, view: View) -> list[Span]:
    """Rise of the connector, height of the vent: as the rules speak of them."""
    route, spans = branch.route, list[Span]()
    seam = route.seam
    if seam is None:
        return spans
    start, at, end = (view.to_sheet(p) for p in (route.start, seam, route.end))
    rise = total((p.rise for p in branch.found.of_role("connector")), "rise")
    if seam[1] - route.start[1] > SMALLEST_M and seam[1] > route.start[1]:
        words = dimension_words(rise, plan)
        spans.append(Span(start[1], at[1], words[0], words[1], words[2], False, None, at[0] - 4.0))
    if route.end[1] > seam[1] + SMALLEST_M:
        words = dimension_words(height_above_connector(branch.found), plan)
        spans.append(Span(at[1], end[1], words[0], words[1], words[2], False, None, None))
    return spans


def _whole(branch: Branch, plan: Plan, view: View) -> list[Span]:
    """H, from the hood outlet to the lowest discharge opening."""
    route, top = branch.route, plan.main.end
    if not plan.legs or top[1] - route.start[1] < SMALLEST_M:
        return []
    start, end = view.to_sheet(route.start), view.to_sheet(top)
    text, small, known = dimension_words(vent_height(branch.found), plan, "H = ")
    return [Span(start[1], end[1], text, small, known, False, start[0] - 2.0, end[0] - 4.0)]


def _level(leg: Leg, plan: Plan, view: View) -> Span:
    value, read = _shown(leg, leg.side, False)
    text, small, known = dimension_words(value, plan)
    if isinstance(value, Measured) and value.tool == "estimated":
        small = ""
    a, b = sorted((view.to_sheet(leg.end), view.to_sheet(leg.start)))
    half = half_widths(leg, view)[0]
    return Span(
        a[0], b[0], text, small, known, read,
        _base(a[0], a[1] - half, plan, view), _base(b[0], b[1] - half, plan, view),
    )  # fmt: skip


def _base(x: float, y: float, plan: Plan, view: View) -> float:
    """Where an extension line starts: under the floor where an appliance stands in its way."""
    floor = view.to_sheet((0.0, plan.house.bottom))[1] - 2.0
    for branch in plan.tree.branches:
        axis = view.to_sheet(branch.route.start)[0]
        if abs(x - axis) < (HEATER_HALF_M + 0.02) * view.mm_per_m:
            return floor
    return y


def _level_sums(branch: Branch, view: View, plan: Plan) -> list[Span]:
    """Horizontal length of the connector, and the lateral of the whole path."""
    route = branch.route
    end, start = view.to_sheet(route.end), view.to_sheet(route.start)
    connector = [leg for leg in route.legs if leg.piece.role == "connector"]
    vent = [leg for leg in route.legs if leg.piece.role == "vent" and leg.piece.part != "cap"]
    whole = dimension_words(lateral(branch.found), plan, "L = ")
    if connector and vent:
        seam = view.to_sheet(connector[-1].end)
        first = dimension_words(connector_horizontal(branch.found), plan, "connector ")
        if start[0] - seam[0] > 2.0 and seam[0] - end[0] > 2.0:
            offset = total((p.horizontal for p in branch.found.of_role("vent")), "offset")
            other = dimension_words(offset, plan, "vent ")
            return [
                Span(end[0], seam[0], other[0], other[1], other[2]),
                Span(seam[0], start[0], first[0], first[1], first[2]),
            ]
    if start[0] - end[0] < 2.0:
        return []
    return [Span(end[0], start[0], whole[0], whole[1], whole[2])]
