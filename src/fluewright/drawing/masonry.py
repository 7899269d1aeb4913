"""A masonry chimney beyond its flue: foot, thimble, crown, and brick around a vent of metal."""

from __future__ import annotations

from fluewright.drawing.pipes import half_widths, liner_room, masonry_lines, masonry_wall
from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen, Polygon, View
from fluewright.drawing.words import Style, value_text
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Chimney, Thimble

CROWN_MM = 1.3
SLEEVE_MM = 0.55  # between a connector and the thimble around it
AROUND_MM = 1.2  # between a metal vent and the brick that it stands in
LINER_WORDS = {
    "clay": "lined with clay",
    "metal": "lined with smooth metal",
    "corrugated": "lined with corrugated metal",
    "none": "not lined",
    "unknown": "lining not known",
}
FOOT_M = 0.15  # least height of a foot that is worth drawing


def chimney_legs(plan: Plan) -> list[Leg]:
    """The pieces of the flue that are brick."""
    return [leg for leg in plan.main.legs if leg.liner]


def flue_half(leg: Leg, view: View) -> float:
    """Half the width of a piece inside the brick, where it is brick. [mm]"""
    half = half_widths(leg, view)[1]
    return half - masonry_wall(view) if leg.liner else half


def flue_text(plan: Plan, style: Style) -> str:
    """What a flue of brick is, in a few words: its clear size and its liner."""
    legs, chimney = chimney_legs(plan), plan.path.chimney
    size = "size ?"
    if isinstance(legs[0].piece.diameter, Measured):
        size = value_text(legs[0].piece.diameter, style)
    elif isinstance(chimney, Chimney) and isinstance(chimney.flue_area, Measured):
        size = value_text(chimney.flue_area, style)
    return f"{size} masonry flue, {LINER_WORDS[legs[0].liner]}"


def foot(plan: Plan, view: View) -> list[Item]:
    """The chimney below its lowest inlet, down to the floor; dashed, for nobody measured it."""
    legs = chimney_legs(plan)
    if not legs or legs[0].is_flat or legs[0].start[1] < FOOT_M:
        return []
    x, y = view.to_sheet(legs[0].start)
    floor = view.to_sheet((0.0, 0.0))[1]
    half = half_widths(legs[0], view)[0]
    blank = ((x - half, floor), (x + half, floor), (x + half, y), (x - half, y))
    wall = masonry_wall(view)
    return [
        Polygon(blank, None, fill=Ink.PAPER, layer="pipe"),
        *masonry_lines([(x, floor), (x, y)], (half, half), wall, Dash.DASHED),
    ]


def crown(plan: Plan, view: View) -> list[Item]:
    """The slab that sheds water from the top of the brick; the flue stands through it."""
    legs = chimney_legs(plan)
    if not legs or legs[-1].is_flat:
        return []
    last = legs[-1]
    x, y = view.to_sheet(last.end)
    half = half_widths(last, view)[1]
    inner = half - masonry_wall(view) - liner_room(last, view)
    low, high = y - CROWN_MM * 1.6, y - CROWN_MM * 0.6
    items: list[Item] = []
    for side in (-1.0, 1.0):
        out, core = x + side * (half + 0.9), x + side * (inner + 0.25)
        box = ((core, low), (out, low), (out, low + 0.5), (core, high))
        items.append(Polygon(box, Pen.MIDDLE, Ink.INK, Ink.PAPER, layer="pipe"))
    return items


def casing(plan: Plan, view: View) -> list[Item]:
    """Brick around a vent that is no brick itself, where the survey tells of a masonry chimney."""
    chimney = plan.path.chimney
    if not isinstance(chimney, Chimney) or chimney.kind != "masonry" or chimney_legs(plan):
        return []
    upright = [
        leg
        for leg in plan.main.legs
        if leg.piece.role == "vent" and leg.piece.part != "cap" and not leg.is_flat
    ]
    if not upright:
        return []
    wall = masonry_wall(view)
    half = max(half_widths(leg, view)[0] for leg in upright) + AROUND_MM + wall
    points = [view.to_sheet(upright[0].start), view.to_sheet(upright[-1].end)]
    return masonry_lines(points, (half, half), wall)


def thimbles(plan: Plan, view: View) -> list[Item]:
    """The sleeve around each connector where it goes through the brick."""
    items: list[Item] = []
    for branch in plan.tree.live:
        legs = branch.route.legs
        own = [leg for leg in legs if not leg.liner]
        into = next(iter(chimney_legs(plan)), None)
        if not own or into is None or not own[-1].is_flat:
            continue
        seen = branch.path.connector.thimble
        if seen is ABSENT:
            continue
        items += _sleeve(own[-1], into, view, known=isinstance(seen, Thimble))
    return items


def _sleeve(last: Leg, into: Leg, view: View, *, known: bool) -> list[Item]:
    """Two strokes along the connector, as long as the brick is thick, with a flange outside."""
    x, y = view.to_sheet(last.end)
    out = 1.0 if last.start[0] > last.end[0] else -1.0
    half = half_widths(last, view)[1] + SLEEVE_MM
    far = x + out * (masonry_wall(view) + liner_room(into, view) + 0.7)
    dash, ink = (Dash.SOLID, Ink.INK) if known else (Dash.FINE, Ink.UNKNOWN)
    items: list[Item] = []
    for side in (-1.0, 1.0):
        level = y + side * half
        items.append(Line((x, level), (far, level), Pen.FIRM, ink, dash, "thimble"))
        items.append(Line((far, level), (far, level + side * 0.9), Pen.FIRM, ink, dash, "thimble"))
    return items
