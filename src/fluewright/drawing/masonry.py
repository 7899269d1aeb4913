"""A masonry chimney beyond its flue: foot, cleanout, thimble, crown, brick around a metal liner."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.drawing.dimensions import SMALL_MM, TEXT_MM
from fluewright.drawing.layout import Canvas
from fluewright.drawing.metrics import text_width
from fluewright.drawing.pipes import half_widths, liner_room, masonry_lines, masonry_wall
from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen, Point, Polygon, Text, View
from fluewright.drawing.words import Style, bound_text, value_text
from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Chimney, Cleanout, Thimble

CROWN_MM = 1.3
SLEEVE_MM = 0.55  # between a connector and the thimble around it
AROUND_MM = 1.2  # between a metal vent and the brick that it stands in
FOOT_M = 0.15  # least height of a foot that is worth drawing
REACH_MM = 9.0  # of a level beyond the chimney
DOOR_M = 0.20  # height of a cleanout's door as drawn
LINER_WORDS = {
    "clay": "lined with clay",
    "metal": "lined with smooth metal",
    "corrugated": "lined with corrugated metal",
    "none": "not lined",
    "unknown": "lining not known",
}


@frozen
class Brick:
    """The brick of a chimney on the sheet, from its lowest inlet to its top. [mm]"""

    x: float
    low: float
    high: float
    half: float  # to the outside
    core: float  # to the inside of what carries the gas
    around: bool  # it stands around a vent of metal


def chimney_legs(plan: Plan) -> list[Leg]:
    """The pieces of the flue that are brick."""
    return [leg for leg in plan.main.legs if leg.liner]


def brick(plan: Plan, view: View) -> Brick | None:
    """Where the brick stands; None where there is none."""
    wall = masonry_wall(view)
    legs = [leg for leg in chimney_legs(plan) if not leg.is_flat]
    if legs:
        (x, low), high = view.to_sheet(legs[0].start), view.to_sheet(legs[-1].end)[1]
        half = half_widths(legs[0], view)[0]
        return Brick(x, low, high, half, half - wall - liner_room(legs[0], view), False)
    chimney = plan.path.chimney
    if not isinstance(chimney, Chimney) or chimney.kind != "masonry":
        return None
    upright = [
        leg
        for leg in plan.main.legs
        if leg.piece.role == "vent" and leg.piece.part != "cap" and not leg.is_flat
    ]
    if not upright:
        return None
    last = upright[-1]
    same = [leg for leg in upright if abs(leg.end[0] - last.end[0]) < 0.02]
    (x, high), low = view.to_sheet(last.end), view.to_sheet(same[0].start)[1]
    core = max(half_widths(leg, view)[0] for leg in same)
    return Brick(x, low, high, core + AROUND_MM + wall, core, True)


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
    found = brick(plan, view)
    floor = view.to_sheet((0.0, 0.0))[1]
    if found is None or found.low - floor < FOOT_M * view.mm_per_m:
        return []
    x, half = found.x, found.half
    blank = ((x - half, floor), (x + half, floor), (x + half, found.low), (x - half, found.low))
    ends: list[Point] = [(x, floor), (x, found.low)]
    return [
        Polygon(blank, None, fill=Ink.PAPER, layer="pipe"),
        *masonry_lines(ends, (half, half), masonry_wall(view), Dash.DASHED),
        *_door(plan, found, floor, view),
    ]


def _cleanout(plan: Plan) -> Cleanout | str | None:
    """The cleanout; ``none`` where there is none, ``unknown`` where nobody looked."""
    chimney = plan.path.chimney
    if not isinstance(chimney, Chimney):
        return "unknown" if chimney is None else None
    if chimney.cleanout is ABSENT:
        return "none"
    return chimney.cleanout if isinstance(chimney.cleanout, Cleanout) else "unknown"


def _door_top(plan: Plan, found: Brick, floor: float, view: View) -> float:
    """Height of the upper edge of the cleanout's door on the sheet. [mm]"""
    seen = _cleanout(plan)
    door = DOOR_M * view.mm_per_m
    if isinstance(seen, Cleanout) and isinstance(seen.below_inlet, Measured):
        return max(found.low - seen.below_inlet.value * view.mm_per_m, floor + 0.5 * door)
    return min(floor + 1.5 * door, found.low - 1.0)


def _door(plan: Plan, found: Brick, floor: float, view: View) -> list[Item]:
    """The door of the cleanout, in the brick on the left."""
    seen = _cleanout(plan)
    if seen is None or seen == "none":
        return []
    high = _door_top(plan, found, floor, view)
    low = max(floor + 0.2, high - DOOR_M * view.mm_per_m)
    out, inner = found.x - found.half - 0.5, found.x - found.half + masonry_wall(view)
    known = isinstance(seen, Cleanout)
    pen, ink, dash = (
        (Pen.FIRM, Ink.INK, Dash.SOLID) if known else (Pen.THIN, Ink.UNKNOWN, Dash.FINE)
    )
    box = ((out, low), (inner, low), (inner, high), (out, high))
    return [Polygon(box, pen, ink, Ink.PAPER, dash, layer="cleanout")]


def cleanout_words(canvas: Canvas, plan: Plan, view: View) -> list[str]:
    """What is known of the cleanout, beside its door; what found no place is returned."""
    found = brick(plan, view)
    floor = view.to_sheet((0.0, 0.0))[1]
    seen = _cleanout(plan)
    if found is None or seen is None or found.low - floor < FOOT_M * view.mm_per_m:
        return []
    words, more, ink = "no cleanout", "", Ink.INK
    if isinstance(seen, Cleanout):
        below = seen.below_inlet
        words, more = "cleanout", "distance below the inlet ?"
        if isinstance(below, Measured):
            bound = bound_text(below, plan.style)
            more = f"{value_text(below, plan.style)} {bound} below inlet".replace("  ", " ")
    elif seen == "unknown":
        words, ink = "cleanout ?", Ink.UNKNOWN
    y = _door_top(plan, found, floor, view) - 1.5

    def groups() -> Iterator[tuple[Item, ...]]:
        half = max(text_width(words, TEXT_MM), text_width(more, SMALL_MM)) / 2 + 1.4
        for dy in (0.0, 4.0, -3.0, -6.0, 8.0, -10.0, -14.0, -18.0, -22.0):
            for side in (1.0, -1.0):
                for away in (0.0, 4.0, 9.0):
                    at = found.x + side * (found.half + half + away), y + dy
                    items: list[Item] = [Text(at, words, TEXT_MM, "middle", ink=ink)]
                    if more:
                        under = at[0], at[1] - SMALL_MM - 0.6
                        items.append(Text(under, more, SMALL_MM, "middle", ink=Ink.MEASURED))
                    yield tuple(items)

    return [] if canvas.place(groups()) else [f"{words} {more}".strip()]


def crown(plan: Plan, view: View) -> list[Item]:
    """The slab that sheds water from the top of the brick; the flue stands through it."""
    found = brick(plan, view)
    if found is None:
        return []
    low, high = found.high - CROWN_MM * 1.6, found.high - CROWN_MM * 0.6
    items: list[Item] = []
    for side in (-1.0, 1.0):
        out, core = found.x + side * (found.half + 0.9), found.x + side * (found.core + 0.25)
        box = ((core, low), (out, low), (out, low + 0.5), (core, high))
        items.append(Polygon(box, Pen.MIDDLE, Ink.INK, Ink.PAPER, layer="pipe"))
    return items


def casing(plan: Plan, view: View) -> list[Item]:
    """Brick around a vent that is no brick itself, where the survey tells of a masonry chimney."""
    found = brick(plan, view)
    if found is None or not found.around:
        return []
    ends: list[Point] = [(found.x, found.low), (found.x, found.high - CROWN_MM)]
    return masonry_lines(ends, (found.half, found.half), masonry_wall(view))


def thimbles(plan: Plan, view: View) -> list[Item]:
    """The sleeve around each connector where it goes through the brick."""
    found = brick(plan, view)
    items: list[Item] = []
    for branch in plan.tree.live if found is not None else ():
        own = [leg for leg in branch.route.legs if not leg.liner and leg.piece.role == "connector"]
        told = _thimble(plan, branch.path.connector.thimble)
        if own and own[-1].is_flat and told is not None and found is not None:
            items += _sleeve(own[-1], found, view, known=told)
    return items


def _thimble(plan: Plan, of_connector: object) -> bool | None:
    """Whether a thimble is known to be there; None where it is known that there is none."""
    chimney = plan.path.chimney
    seen = chimney.inlet_thimble if isinstance(chimney, Chimney) else None
    if seen is False or (seen is not True and of_connector is ABSENT):
        return None
    return seen is True or isinstance(of_connector, Thimble)


def _sleeve(last: Leg, into: Brick, view: View, *, known: bool) -> list[Item]:
    """Two strokes along the connector, as long as the brick is thick, with a flange outside."""
    y = view.to_sheet(last.end)[1]
    out = 1.0 if last.start[0] > last.end[0] else -1.0
    half = half_widths(last, view)[1] + SLEEVE_MM
    near, far = into.x + out * (into.half - masonry_wall(view)), into.x + out * (into.half + 0.7)
    dash, ink = (Dash.SOLID, Ink.INK) if known else (Dash.FINE, Ink.UNKNOWN)
    items: list[Item] = []
    for side in (-1.0, 1.0):
        level = y + side * half
        items.append(Line((near, level), (far, level), Pen.FIRM, ink, dash, "thimble"))
        items.append(Line((far, level), (far, level + side * 0.9), Pen.FIRM, ink, dash, "thimble"))
    return items


def draw_levels(canvas: Canvas, plan: Plan, view: View) -> list[str]:
    """The levels as dashed strokes with their words; what found no place is returned."""
    found = brick(plan, view)
    half = found.half if found is not None else flue_half(plan.main.legs[-1], view)
    left_out: list[str] = []
    x, top = view.to_sheet(plan.main.end)
    for level in plan.levels:
        y = view.to_sheet((0.0, level.y))[1]
        ink = Ink.ALARM if y > top + 0.05 else Ink.GREY
        if not canvas.place(_groups((x, y), level.words, half, ink)):
            left_out.append(level.words)
    return left_out


def _groups(
    at: tuple[float, float], words: str, half: float, ink: Ink
) -> Iterator[tuple[Item, ...]]:
    x, y = at
    wide = text_width(words, TEXT_MM)
    stroke = Line((x - half - REACH_MM, y), (x + half + REACH_MM, y), Pen.THIN, ink, Dash.FINE,
                  "level")  # fmt: skip
    for dy in (-0.36 * TEXT_MM, 1.2, -2.6, 3.5, -5.5):
        for side, away in ((1.0, 1.2), (-1.0, 1.2), (1.0, 5.0), (-1.0, 5.0), (1.0, 10.0)):
            middle = x + side * (half + REACH_MM + away + wide / 2)
            text = Text((middle, y + dy), words, TEXT_MM, "middle", ink=Ink.INK, layer="level")
            yield stroke, text
    for dy in (1.0, -2.8):
        yield stroke, Text((x + half + wide / 2 + 1.0, y + dy), words, TEXT_MM, "middle",
                           layer="level")  # fmt: skip
