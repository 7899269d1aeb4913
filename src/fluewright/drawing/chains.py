"""Which dimensions a sheet carries: chains of readings, and the sums that the rules ask for."""

from __future__ import annotations

from fluewright.drawing.dimensions import Span
from fluewright.drawing.pipes import half_widths
from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import View
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


def plumb_chains(plan: Plan, view: View) -> list[list[Span]]:
    """The plumb lanes, nearest to the figure first."""
    pieces, parts = _pieces(plan, view), _parts(plan, view)
    if [round(s.end, 2) for s in parts] == [round(s.end, 2) for s in pieces]:
        parts = []
    if len(parts) == 1:  # next to H it would say the same again
        parts = []
    lanes = [[_floor(plan, view), *pieces], parts, _whole(plan, view)]
    return [lane for lane in lanes if lane]


def level_chains(plan: Plan, view: View) -> list[list[Span]]:
    """The level lanes under the figure, nearest first."""
    legs = [leg for leg in plan.route.legs if leg.start[0] - leg.end[0] > SMALLEST_M]
    if not legs:
        return []
    lanes = [[_level(leg, plan, view) for leg in reversed(legs)]]
    if len(legs) > 1:
        lanes.append(_level_sums(plan, view))
    return [lane for lane in lanes if lane]


def _words(value: Length, plan: Plan, lead: str = "") -> tuple[str, str, bool]:
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


def _pieces(plan: Plan, view: View) -> list[Span]:
    """Piece by piece from the hood outlet up."""
    spans: list[Span] = []
    for leg in plan.route.legs:
        if leg.end[1] - leg.start[1] < SMALLEST_M:
            continue
        value, read = _shown(leg, leg.rise, True)
        text, small, known = _words(value, plan)
        if isinstance(value, Measured) and value.tool == "estimated":
            small = ""
        a, b = view.to_sheet(leg.start), view.to_sheet(leg.end)
        half = half_widths(leg, view)[0]
        lower = None if spans and abs(spans[-1].end - a[1]) < 0.3 else a[0] - half
        if not spans:
            lower = None  # the floor's own dimension ends at the hood outlet
        spans.append(Span(a[1], b[1], text, small, known, read, lower, b[0] - half))
    return spans


def _floor(plan: Plan, view: View) -> Span:
    """Height of the hood outlet over the floor."""
    floor, start = view.to_sheet((0.0, 0.0)), view.to_sheet(plan.route.start)
    hood = plan.appliance.hood
    height = hood.height_above_floor if hood is not None else None
    known = isinstance(height, Measured)
    text = value_text(height, plan.style) if isinstance(height, Measured) else "?"
    small = bound_text(height, plan.style) if isinstance(height, Measured) else ""
    reach = view.to_sheet((plan.house.left, 0.0))[0]
    return Span(floor[1], start[1], text, small, known, True, reach, start[0] - 2.0)


def _parts(plan: Plan, view: View) -> list[Span]:
    """Rise of the connector, height of the vent: as the rules speak of them."""
    route, spans = plan.route, list[Span]()
    seam = route.seam
    if seam is None:
        return spans
    start, at, end = (view.to_sheet(p) for p in (route.start, seam, route.end))
    rise = total((p.rise for p in plan.found.of_role("connector")), "rise")
    if seam[1] - route.start[1] > SMALLEST_M and seam[1] > route.start[1]:
        words = _words(rise, plan)
        spans.append(Span(start[1], at[1], words[0], words[1], words[2], False, None, at[0] - 4.0))
    if route.end[1] > seam[1] + SMALLEST_M:
        words = _words(height_above_connector(plan.found), plan)
        spans.append(Span(at[1], end[1], words[0], words[1], words[2], False, None, None))
    return spans


def _whole(plan: Plan, view: View) -> list[Span]:
    """H, from the hood outlet to the lowest discharge opening."""
    route = plan.route
    if not route.legs or route.end[1] - route.start[1] < SMALLEST_M:
        return []
    start, end = view.to_sheet(route.start), view.to_sheet(route.end)
    text, small, known = _words(vent_height(plan.found), plan, "H = ")
    return [Span(start[1], end[1], text, small, known, False, start[0] - 2.0, end[0] - 4.0)]


def _level(leg: Leg, plan: Plan, view: View) -> Span:
    value, read = _shown(leg, leg.side, False)
    text, small, known = _words(value, plan)
    if isinstance(value, Measured) and value.tool == "estimated":
        small = ""
    a, b = view.to_sheet(leg.end), view.to_sheet(leg.start)
    floor = view.to_sheet((0.0, plan.house.bottom))[1] - 2.0
    half = half_widths(leg, view)[0]
    return Span(
        a[0], b[0], text, small, known, read,
        _base(a[0], a[1] - half, floor, view), _base(b[0], b[1] - half, floor, view),
    )  # fmt: skip


def _base(x: float, y: float, floor: float, view: View) -> float:
    """Where an extension line starts: under the floor where the appliance stands in its way."""
    axis = view.to_sheet((0.0, 0.0))[0]
    return floor if abs(x - axis) < 0.27 * view.mm_per_m else y


def _level_sums(plan: Plan, view: View) -> list[Span]:
    """Horizontal length of the connector, and the lateral of the whole path."""
    route = plan.route
    end, start = view.to_sheet(route.end), view.to_sheet(route.start)
    connector = [leg for leg in route.legs if leg.piece.role == "connector"]
    vent = [leg for leg in route.legs if leg.piece.role == "vent" and leg.piece.part != "cap"]
    whole = _words(lateral(plan.found), plan, "L = ")
    if connector and vent:
        seam = view.to_sheet(connector[-1].end)
        first = _words(connector_horizontal(plan.found), plan, "connector ")
        if start[0] - seam[0] > 2.0 and seam[0] - end[0] > 2.0:
            offset = total((p.horizontal for p in plan.found.of_role("vent")), "offset")
            other = _words(offset, plan, "vent ")
            return [
                Span(end[0], seam[0], other[0], other[1], other[2]),
                Span(seam[0], start[0], first[0], first[1], first[2]),
            ]
    if start[0] - end[0] < 2.0:
        return []
    return [Span(end[0], start[0], whole[0], whole[1], whole[2])]
