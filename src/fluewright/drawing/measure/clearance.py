"""Figures for distances: to wood, round a shield, through a wall, at the relief opening."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    along,
    box,
    cross,
    datum,
    end_on,
    heater,
    leader,
    lumber,
    not_here,
    run,
    solid,
    tape,
    word,
)
from fluewright.drawing.pipes import cap, hood
from fluewright.drawing.scene import Circle, Dash, Hatch, Ink, Item, Line, Pen, Point, Polygon


def _studs(x: float, lows: tuple[float, ...]) -> list[Item]:
    """Studs in a row one above the other, faced with board on their left."""
    items: list[Item] = [box((x - 1.6, 4.0), (x, 56.0), Pen.THIN, Ink.LIGHT)]
    for low in lows:
        items += lumber((x, low), (x + 7.0, low + 5.0))
    return items


def _to_wood() -> list[Item]:
    items = _studs(64.0, (6.0, 27.5, 49.0))
    items += end_on((22.0, 30.0), 11.0)
    items += [Line((52.0, 12.0), (52.0, 48.0), Pen.HEAVY, Ink.GREY)]
    items += tape((33.2, 30.0), (62.4, 30.0))
    items += [along((33.2, 30.0), (50.0, 30.0), "to the wood", ink=Ink.MEASURED)]
    items += not_here((29.0, 21.0), (51.6, 21.0))
    items += [word((46.0, 51.0), "shield", ink=Ink.GREY), leader((48.5, 50.2), (51.6, 46.0))]
    items += [word((22.0, 13.0), "pipe"), word((73.6, 22.0), "wood")]
    return items


def _stamped() -> list[Item]:
    items = end_on((40.0, 30.0), 12.0, "double")
    items += lumber((4.0, 20.0), (20.0, 40.0)) + lumber((56.0, 20.0), (72.0, 40.0))
    items += tape((52.1, 30.0), (56.0, 30.0))
    items += tape((20.0, 30.0), (27.9, 30.0))
    items += not_here((29.2, 30.0), (50.8, 30.0))
    items += [Line((53.0, 45.0), (54.0, 32.0), Pen.FINE, Ink.MEASURED)]
    items += [word((53.0, 46.2), "the tightest place", ink=Ink.MEASURED)]
    items += [word((40.0, 11.0), "from the outer wall"), leader((40.0, 13.4), (40.0, 17.6))]
    return items


def _shield_gap() -> list[Item]:
    items = _studs(62.0, (6.0, 27.5, 49.0))
    items += end_on((18.0, 30.0), 10.0)
    items += [box((48.0, 13.0), (49.4, 47.0), Pen.MIDDLE, Ink.LIGHT)]
    for y in (17.0, 43.0):
        items += [box((49.4, y - 0.8), (60.4, y + 0.8), Pen.THIN)]
    items += tape((28.2, 30.0), (48.0, 30.0), "to the pipe")
    items += tape((49.4, 30.0), (60.4, 30.0), "air")
    items += [word((34.0, 46.0), "spacer"), leader((39.0, 46.6), (52.0, 43.6))]
    for low, high in (((54.9, 4.5), (54.9, 11.0)), ((54.9, 48.5), (54.9, 55.0))):
        items += [Line(low, high, Pen.THIN, Ink.GREY)]
        tip: Point = high
        wings = ((tip[0] - 1.0, tip[1] - 2.0), tip, (tip[0] + 1.0, tip[1] - 2.0))
        items += [Polygon(wings, Pen.THIN, Ink.GREY, closed=False)]
    items += [word((44.0, 8.0), "open", "end"), leader((44.8, 8.8), (54.0, 8.0))]
    return [*items, word((34.0, 52.4), "open", "end"), leader((34.8, 53.0), (54.0, 52.0))]


def _shield_extent() -> list[Item]:
    items: list[Item] = [box((58.0, 2.0), (66.0, 58.0), Pen.FIRM, Ink.LIGHT)]
    items += [Hatch(((58.0, 2.0), (66.0, 2.0), (66.0, 58.0), (58.0, 58.0)), 90.0, 1.6)]
    items += end_on((20.0, 30.0), 9.0)
    items += [box((50.0, 13.0), (51.6, 47.0), Pen.MIDDLE)]
    items += tape((27.3, 35.4), (58.0, 52.2), "to the first bare wood")
    items += tape((27.3, 24.6), (58.0, 7.8))
    items += not_here((55.0, 30.0), (55.0, 52.0))
    items += [Circle((58.0, 52.2), 0.8, None, fill=Ink.MEASURED)]
    items += [Circle((58.0, 7.8), 0.8, None, fill=Ink.MEASURED)]
    items += [word((42.0, 29.2), "shield"), leader((45.8, 30.0), (49.8, 30.0))]
    return [*items, word((72.0, 29.2), "wood")]


def _wall_thimble() -> list[Item]:
    """A pipe in a larger sleeve through a wall, seen along the wall."""
    items: list[Item] = []
    for low, high in ((2.0, 17.0), (45.0, 58.0)):
        items += solid((34.0, low), (46.0, high))
    items += [Line((30.0, y), (50.0, y), Pen.FIRM, layer="thimble") for y in (17.8, 44.2)]
    items += run([(6.0, 29.5), (60.0, 31.9)], 6.5)
    items += [Line((66.0, 17.8), (51.5, 17.8), Pen.FINE, Ink.GREY)]
    items += [Line((66.0, 44.2), (51.5, 44.2), Pen.FINE, Ink.GREY)]
    items += tape((64.5, 17.8), (64.5, 44.2))
    items += [along((64.5, 17.8), (64.5, 44.2), "inside of thimble", ink=Ink.MEASURED, under=True)]
    items += tape((14.0, 23.4), (14.0, 36.3), "outside")
    items += [word((22.0, 50.0), "thimble"), leader((26.0, 49.4), (31.0, 44.6))]
    items += [word((20.0, 41.0), "pipe"), leader((20.0, 40.0), (20.0, 37.2))]
    return items


def _relief() -> list[Item]:
    items = heater((34.0, 40.0), 5.0, 15.0, 3.0)
    items += run([(34.0, 40.0), (34.0, 54.0)], 5.0)
    items += _studs(64.0, (6.0, 27.5, 49.0))
    rim = 40.0 - 15.0 * 0.62
    items += tape((44.2, rim), (62.4, rim), "clear")
    items += [datum((44.0, rim)), box((4.0, 46.0), (23.0, 48.0), Pen.MIDDLE, Ink.LIGHT)]
    items += tape((24.5, rim), (19.0, 46.0))
    items += not_here((49.3, 14.0), (62.0, 14.0))
    items += [
        word((13.0, 50.0), "shelf"),
        word((12.0, 32.0), "rim"),
        leader((15.0, 32.0), (23.4, rim)),
    ]
    return items


def _hood_parts() -> list[Item]:
    items: list[Item] = [Line((22.0, 8.0), (58.0, 8.0), Pen.MIDDLE)]
    items += run([(40.0, 35.0), (40.0, 52.0)], 9.0) + hood((40.0, 35.0), 9.0, "hood")
    rim = 35.0 - 27.0 * 0.62
    items += [Line((29.0, 35.0), (51.0, 35.0), Pen.HEAVY, Ink.MEASURED)]
    items += [Line((22.0, rim), (58.0, rim), Pen.HEAVY, Ink.MEASURED)]
    items += [Line((31.0, 8.0), (49.0, 8.0), Pen.HEAVY, Ink.MEASURED)]
    items += [word((56.0, 42.0), "connector", "start"), leader((55.4, 43.0), (49.4, 43.0))]
    items += [word((62.0, 34.2), "hood outlet", "start"), leader((61.4, 35.0), (51.4, 35.0))]
    items += [word((3.0, 21.0), "relief opening", "start"), leader((12.0, 20.4), (21.4, rim))]
    items += [word((40.0, 2.8), "flue collar of the appliance"), leader((40.0, 5.2), (40.0, 7.6))]
    for side in (-1, 1):
        x = 40.0 + side * 22.0
        items += [Line((x, 13.0), (x - side * 5.0, 13.0), Pen.THIN, Ink.GREY)]
        wings = ((x - side * 3.4, 14.0), (x - side * 5.0, 13.0), (x - side * 3.4, 12.0))
        items += [Polygon(wings, Pen.THIN, Ink.GREY, closed=False)]
    return [*items, word((64.0, 12.2), "room air", "start", Ink.GREY)]


def _insulation() -> list[Item]:
    items: list[Item] = []
    for low, high in (((4.0, 12.0), (28.0, 26.0)), ((52.0, 12.0), (76.0, 26.0))):
        items += [box(low, high, None)]
        items += [
            _fill(low[0] + 1.0 + 3.1 * i, low[1] + 2.0 + 4.2 * j)
            for i in range(8)
            for j in range(3)
        ]
    items += solid((4.0, 9.0), (30.0, 12.0), 60.0) + solid((50.0, 9.0), (76.0, 12.0), 60.0)
    items += run([(40.0, 3.0), (40.0, 56.0)], 6.5, "double")
    for x in (28.6, 51.4):
        items += [Line((x, 12.0), (x, 42.0), Pen.HEAVY)]
    for x, way in ((28.6, 1), (51.4, -1)):
        items += [Line((x, 12.0), (x + way * 4.4, 12.0), Pen.HEAVY)]
    items += [Line((55.0, 26.0), (70.0, 26.0), Pen.FINE, Ink.GREY)]
    items += [Line((52.6, 42.0), (70.0, 42.0), Pen.FINE, Ink.GREY)]
    items += tape((68.0, 26.0), (68.0, 42.0), "above", under=True)
    items += [word((12.0, 36.0), "shield"), leader((16.4, 36.8), (27.9, 36.8))]
    items += [word((11.0, 29.0), "insulation"), word((15.0, 4.6), "ceiling")]
    return items


def _fill(x: float, y: float) -> Polygon:
    """One tuft of loose insulation."""
    return Polygon(
        ((x, y), (x + 0.8, y + 1.2), (x + 1.6, y), (x + 2.4, y + 1.2)), Pen.FINE, Ink.GREY,
        closed=False, layer="insulation",
    )  # fmt: skip


def _firestop() -> list[Item]:
    items = lumber((4.0, 20.0), (16.0, 38.0)) + lumber((64.0, 20.0), (76.0, 38.0))
    items += solid((4.0, 38.0), (16.0, 41.0)) + solid((64.0, 38.0), (76.0, 41.0))
    items += solid((4.0, 17.0), (16.0, 20.0), 60.0) + solid((64.0, 17.0), (76.0, 20.0), 60.0)
    items += run([(40.0, 3.0), (40.0, 57.0)], 9.0, "double")
    for a, b in ((12.0, 30.4), (49.6, 68.0)):
        items += [Line((a, 16.4), (b, 16.4), Pen.HEAVY)]
    items += tape((16.0, 29.0), (30.9, 29.0), "air") + tape((49.1, 29.0), (64.0, 29.0), "air")
    items += [word((14.0, 8.0), "metal plate"), leader((16.0, 10.6), (22.0, 15.8))]
    for x in (14.0, 66.0):
        items += [Circle((x, 16.0), 0.8, None, fill=Ink.INK)]
    return items


def _plates() -> list[Item]:
    items: list[Item] = [box((4.0, 48.0), (76.0, 51.0)), box((4.0, 9.0), (76.0, 12.0))]
    items += lumber((8.0, 12.0), (18.0, 48.0)) + lumber((62.0, 12.0), (72.0, 48.0))
    items += end_on((38.0, 30.0), 14.0, "double")
    items += [
        Line((21.0, 52.0), (57.0, 52.0), Pen.HEAVY),
        Line((21.0, 8.0), (57.0, 8.0), Pen.HEAVY),
    ]
    items += tape((52.1, 30.0), (62.0, 30.0)) + tape((18.0, 30.0), (23.9, 30.0))
    items += [word((64.0, 54.0), "steel plate"), leader((58.6, 54.0), (54.0, 52.5))]
    return [*items, word((67.0, 3.6), "stud"), leader((67.0, 6.0), (67.0, 11.6))]


def _around() -> list[Item]:
    items: list[Item] = [word((18.0, 54.5), "from the side"), word((59.0, 54.5), "from above")]
    items += solid((2.0, 6.0), (5.0, 50.0)) + solid((5.0, 47.0), (38.0, 50.0))
    items += [Line((2.0, 6.0), (38.0, 6.0), Pen.FIRM)]
    items += heater((23.0, 38.0), 2.6, 8.0, 7.5) + run(
        [(23.0, 38.0), (23.0, 43.0), (38.0, 44.0)], 2.6
    )
    items += tape((5.0, 20.0), (15.0, 20.0), "back") + tape((16.3, 30.2), (16.3, 47.0))
    items += solid((45.0, 46.0), (76.0, 49.0)) + solid((45.0, 10.0), (48.0, 46.0))
    items += [box((68.0, 9.0), (76.0, 13.0), Pen.MIDDLE, Ink.LIGHT)]
    items += [
        Circle((65.0, 31.0), 8.0, Pen.MIDDLE, fill=Ink.PAPER),
        Circle((65.0, 31.0), 2.6, Pen.THIN),
    ]
    items += tape((65.0, 39.0), (65.0, 46.0)) + tape((48.0, 31.0), (57.0, 31.0), "side")
    items += tape((70.5, 25.0), (70.5, 13.0))
    items += [along((70.5, 13.0), (70.5, 23.0), "front", under=True, ink=Ink.MEASURED)]
    return [
        *items,
        word((70.4, 41.4), "back", ink=Ink.MEASURED),
        word((11.8, 38.0), "top", ink=Ink.MEASURED),
    ]


def _roof_thimble() -> list[Item]:
    items: list[Item] = []
    for low, high in ((6.0, 26.4), (53.6, 74.0)):
        items += solid((low, 26.0), (high, 30.0), 60.0)
    items += run([(40.0, 3.0), (40.0, 47.0)], 6.0) + cap((40.0, 47.0), 6.0)
    for x in (27.0, 53.0):
        items += [Line((x, 13.0), (x, 42.0), Pen.FIRM)]
    items += [
        Line((27.0, 42.0), (33.6, 42.0), Pen.FIRM),
        Line((46.4, 42.0), (53.0, 42.0), Pen.FIRM),
    ]
    items += tape((53.0, 30.0), (53.0, 42.0), "above", -8.0, under=True)
    items += tape((53.0, 13.0), (53.0, 26.0), "below", -8.0, under=True)
    items += tape((27.0, 20.0), (34.0, 20.0))
    items += [word((12.0, 38.0), "thimble"), leader((16.8, 38.8), (26.6, 38.8))]
    return [*items, word((12.0, 20.0), "roof deck"), leader((12.0, 22.4), (12.0, 25.6))]


def _hidden_screw() -> list[Item]:
    items: list[Item] = []
    for x, reach in ((21.0, 9.5), (59.0, 4.0)):
        for way in (-1, 1):
            items += [
                Line((x + way * side, 6.0), (x + way * side, 54.0), Pen.FIRM)
                for side in (11.0, 7.0)
            ]
        items += [
            Line((x + 11.0, 30.0), (x + reach, 30.0), Pen.HEAVY),
            Line((x + 11.8, 28.4), (x + 11.8, 31.6), Pen.HEAVY),
            Line((x - 11.0, 26.0), (x + 11.0, 26.0), Pen.THIN, Ink.GREY, Dash.DASHED),
        ]
    items += [word((40.0, 47.0), "inner wall"), leader((33.4, 47.8), (28.4, 46.0))]
    items += [leader((46.6, 47.8), (51.6, 46.0))]
    items += [
        word((21.0, 40.0), "gas way", ink=Ink.GREY),
        word((59.0, 40.0), "gas way", ink=Ink.GREY),
    ]
    return items + cross((60.0, 33.6), 2.2)


FIGURES = (
    Figure("to-wood", "Clearance of a single-wall pipe",
           "The tape runs from the surface of the pipe to the wood behind, as if the shield "
           "between them were not there; from the pipe to the shield is crossed out.", _to_wood),
    Figure("stamped-clearance", "Clearance of a double-wall pipe",
           "Two studs and between them a double-wall pipe from its end. The tape reads from the "
           "outer wall to the nearer stud, the tightest place; across the pipe is crossed out.",
           _stamped),
    Figure("shield-gap", "Air behind a shield",
           "A shield on spacers between pipe and wall. One tape reads the air behind it, another "
           "from the pipe to the shield; bottom and top of the gap are open.", _shield_gap),
    Figure("shield-extent", "How far a shield must reach",
           "The tape runs straight from the surface of the pipe past each edge of the shield to "
           "the first bare wood; the way along the wall is crossed out.", _shield_extent),
    Figure("wall-thimble", "Room in a thimble",
           "A pipe through a wall in a sleeve wider than itself. One tape reads the inside of the "
           "sleeve, another the outside of the pipe; the difference is what counts.",
           _wall_thimble),
    Figure("relief-clearance", "Clearance of the relief opening",
           "The tape starts at the open rim under the draft hood and runs straight to the nearest "
           "surface beside and above it; from the jacket is crossed out.", _relief),
    Figure("hood-parts", "Parts of a draft hood",
           "From below: the flue collar of the appliance, the relief opening at the rim with room "
           "air coming in, and the hood outlet, where the connector starts.", _hood_parts),
    Figure("insulation-shield", "Insulation shield in an attic",
           "A metal collar round the vent keeps the insulation away. The tape reads from the top "
           "of the insulation up to the top of the shield.", _insulation),
    Figure("firestop", "Firestop at a floor or ceiling",
           "A metal plate under the joists closes the opening round the vent; between vent and "
           "wood the air stays open and is taped on both sides.", _firestop),
    Figure("shield-plates", "A vent inside a wall",
           "A wall from above: studs on both sides of the vent, the tape from its outer wall to "
           "each, and steel plates over it on both faces of the wall.", _plates),
    Figure("heater-clearance", "Distances round an appliance",
           "From the side: from the back to the wall and from the top of the jacket to the "
           "ceiling. From above: to the wall at the nearer side, to the wall behind, and to the "
           "nearest thing in front.", _around),
    Figure("roof-thimble", "Thimble at a roof",
           "A sleeve round the pipe through the roof deck, closed at its top. The tape reads how "
           "far it stands above the deck and below it, and the room between it and the pipe.",
           _roof_thimble),
    Figure("screw-depth", "Screws in a double-wall pipe",
           "Left: a screw that ends between the two walls. Right, crossed out: a screw that goes "
           "through the inner wall.", _hidden_screw),
)  # fmt: skip
