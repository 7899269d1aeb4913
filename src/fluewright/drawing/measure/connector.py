"""Figures for the connector: slope, length, first rise, hangers, joints, sizes."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    across,
    along,
    box,
    center,
    cross,
    datum,
    end_on,
    flow,
    heater,
    leader,
    level,
    not_here,
    ring,
    run,
    slope,
    tape,
    unit,
    word,
)
from fluewright.drawing.pipes import cap, hood
from fluewright.drawing.scene import Circle, Dash, Ink, Item, Line, Pen, Polygon, around


def _slope() -> list[Item]:
    a, b = (10.0, 30.0), (70.0, 38.0)
    items = [*run([a, b], 3.4), center(a, b)]
    way = unit(a, b)
    foot, top = (24.0, 35.3), (54.0, 39.3)
    bar = (foot, top, (top[0] - way[1] * 4, top[1] + way[0] * 4),
           (foot[0] - way[1] * 4, foot[1] + way[0] * 4))  # fmt: skip
    items += [Polygon(bar, Pen.MIDDLE, fill=Ink.LIGHT, layer="level")]
    items += [Circle((38.7, 39.3), 1.1, Pen.THIN, Ink.MEASURED, Ink.PAPER)]
    items += flow((12.0, 30.3), (20.0, 31.35))
    left, right = 12.0, 66.0
    low = 30.3 - 3.4
    items += [level((left, low), (right + 4, low))]
    items += tape((left, low), (right, low), "run", -8.0)
    items += [Line((right, low), (right, 34.0), Pen.MIDDLE, Ink.MEASURED)]
    items += tape((right, low), (right, 34.0), "rise", -6.0, under=True)
    return items


def _sag() -> list[Item]:
    path = [(8.0, 32.0), (24.0, 34.0), (40.0, 29.0), (56.0, 37.0), (72.0, 39.0)]
    items = run(path, 3.4)
    items += [level((8.0, 28.5), (72.0, 35.5))]
    items += tape((40.0, 32.0), (40.0, 25.6), "")
    items += [word((44.0, 21.0), "low place", "start"), leader((43.4, 22.0), (40.6, 25.2))]
    items += [word((8.4, 22.0), "string", "start", Ink.GREY), leader((12.0, 24.2), (15.0, 28.6))]
    items += flow((12.0, 32.5), (20.0, 33.5)) + flow((61.0, 37.6), (69.0, 38.6))
    for x, y in ((8.0, 32.0), (72.0, 39.0)):
        items += [datum((x, y - 3.4))]
    return items


def _length() -> list[Item]:
    items: list[Item] = [word((20.0, 55.0), "from above"), word((59.0, 55.0), "from the side")]
    path = [(8.0, 18.0), (30.0, 18.0), (30.0, 42.0)]
    items += [*run(path, 2.6), center(*path)]
    items += not_here((9.5, 19.6), (28.5, 40.3))
    items += tape((8.0, 18.0), (30.0, 18.0), "one", -7.0, under=True)
    items += tape((30.0, 18.0), (30.0, 42.0), "two", -5.5, under=True)
    items += end_on((30.0, 42.0), 3.4, "double") + end_on((8.0, 18.0), 3.0) + [datum((8.0, 18.0))]
    items += [Line((41.0, 5.0), (41.0, 52.0), Pen.FINE, Ink.LIGHT)]
    items += heater((50.0, 21.0), 1.8, 4.0, 5.0)
    items += run([(50.0, 21.0), (50.0, 26.0), (62.0, 27.0)], 1.8)
    items += run([(62.0, 23.5), (62.0, 46.0)], 2.4, "double") + cap((62.0, 46.0), 2.4)
    items += tape((50.0, 26.0), (62.0, 26.0), "", 6.0)
    items += [word((55.0, 34.0), "length", "middle", Ink.MEASURED)]
    items += tape((62.0, 27.0), (62.0, 46.0), "height", -6.0)
    items += tape((50.0, 21.0), (50.0, 46.0), "", -25.0)
    items += [along((77.9, 21.0), (77.9, 46.0), "or height", ink=Ink.MEASURED)]
    return [*items, datum((50.0, 21.0)), datum((62.0, 27.0))]


def _rise() -> list[Item]:
    items = heater((26.0, 27.0), 4.5, 13.0, 3.0)
    items += run([(26.0, 27.0), (26.0, 48.0), (62.0, 51.0)], 4.5)
    items += [across((26.0, 42.6), (0.0, 1.0), 4.5)]
    items += tape((26.0, 27.0), (26.0, 42.6), "", -16.0)
    items += [along((43.0, 27.0), (43.0, 42.6), "rise", under=True, ink=Ink.MEASURED)]
    items += [datum((26.0, 27.0))]
    items += not_here((63.0, 20.6), (63.0, 50.0)) + not_here((54.0, 27.0), (54.0, 49.0))
    items += [Line((44.0, 27.0), (55.5, 27.0), Pen.FINE, Ink.GREY)]
    items += [word((3.5, 26.2), "hood outlet", "start"), leader((17.0, 27.0), (20.8, 27.0))]
    items += [Line((36.0, 20.6), (64.5, 20.6), Pen.FINE, Ink.GREY)]
    return items


def _hangers() -> list[Item]:
    a, b = (6.0, 24.0), (74.0, 30.0)
    items = slope((4.0, 50.0), (76.0, 50.0), -2.5) + run([a, b], 3.6)
    at = ((14.0, 24.7), (31.0, 26.2), (62.0, 28.9))
    for x, y in at:
        items += [
            Line((x, y + 3.6), (x, 50.0), Pen.HEAVY, layer="hanger"),
            Line((x, y - 3.7), (x, y + 3.7), Pen.HEAVY, layer="hanger"),
        ]
    items += [
        Line((14.0, 20.0), (14.0, 13.0), Pen.FINE, Ink.GREY),
        Line((31.0, 21.5), (31.0, 13.0), Pen.FINE, Ink.GREY),
        Line((62.0, 24.2), (62.0, 13.0), Pen.FINE, Ink.GREY),
    ]
    items += [Line((14.0, 14.0), (31.0, 14.0), Pen.THIN, Ink.GREY, Dash.FINE)]
    items += tape((31.0, 14.0), (62.0, 14.0), "the widest")
    return items


def _screws() -> list[Item]:
    items: list[Item] = [word((22.0, 54.0), "from the end"), word((58.0, 54.0), "from the side")]
    items += end_on((22.0, 28.0), 13.0) + end_on((22.0, 28.0), 11.6)
    for number, angle in (("1", 90.0), ("2", 210.0), ("3", 330.0)):
        spot = around((22.0, 28.0), 13.0, angle)
        inner, outer = around((22.0, 28.0), 10.2, angle), around((22.0, 28.0), 14.2, angle)
        items += [Line(inner, outer, Pen.HEAVY), Circle(outer, 0.9, None, fill=Ink.INK)]
        items += ring(spot, 6.6, number, angle)
    items += run([(58.0, 26.0), (58.0, 8.0)], 9.0) + run([(58.0, 24.0), (58.0, 46.0)], 9.8)
    items += [across((58.0, 24.0), (0.0, 1.0), 9.8, Pen.FIRM)]
    items += [Line((x, 24.0), (x, 30.0), Pen.FINE, Ink.GREY, Dash.FINE) for x in (49.0, 67.0)]
    items += [Circle((58.0, 27.0), 1.0, None, fill=Ink.INK), leader((68.4, 19.2), (58.8, 26.6))]
    items += [word((69.0, 18.0), "screw", "start")]
    return items + flow((58.0, 34.0), (58.0, 42.0))


def _male_end() -> list[Item]:
    items: list[Item] = []
    for x, against in ((22.0, False), (58.0, True)):
        items += run([(x, 4.0), (x, 27.0)], 7.0)
        items += run([(x, 31.0), (x, 54.0)], 7.0)
        low, high, foot = (27.0, 36.0, 31.0) if not against else (22.0, 31.0, 27.0)
        items += [box((x - 6.3, low), (x + 6.3, high), Pen.THIN)]
        items += [
            Line((x - 6.3 + 1.575 * i, low), (x - 6.3 + 1.575 * i, high), Pen.FINE)
            for i in range(9)
        ]
        for side in (-7.0, 7.0):
            ends = (
                ((x + side, foot), (x + side, high))
                if not against
                else ((x + side, low), (x + side, foot))
            )
            items += [Line(*ends, Pen.FIRM)]
        items += flow((x, 8.0), (x, 18.0)) + flow((x, 40.0), (x, 50.0))
    items += [word((22.0, 1.0), "with the gas"), word((58.0, 1.0), "against it: ask")]
    items += [word((40.0, 33.0), "crimp"), leader((36.0, 34.0), (28.0, 32.0))]
    items += [leader((44.0, 32.4), (51.8, 26.5))]
    return items


def _inside() -> list[Item]:
    items = end_on((21.0, 32.0), 13.0)
    items += tape((8.2, 32.0), (33.8, 32.0), "inside")
    items += [word((21.0, 53.0), "one sheet"), word((58.0, 53.0), "two walls")]
    items += [Circle((58.0, 32.0), 14.5, Pen.MIDDLE, fill=Ink.LIGHT)]
    items += [Circle((58.0, 32.0), 12.0, Pen.MIDDLE, fill=Ink.PAPER)]
    items += tape((46.0, 32.0), (70.0, 32.0), "inside")
    items += [Line((43.5, 32.0), (43.5, 11.0), Pen.FINE, Ink.GREY)]
    items += [Line((72.5, 32.0), (72.5, 11.0), Pen.FINE, Ink.GREY)]
    return items + not_here((43.5, 12.0), (72.5, 12.0))


def _steps() -> list[Item]:
    items: list[Item] = []
    base, x = 24.0, 10.5
    for i, radius in enumerate((5.0, 6.4, 7.8, 9.2)):
        items += end_on((x, base + radius), radius)
        if i < 3:
            nearer = x + radius + 0.5 + radius + 2.0
            middle = (x + nearer) / 2
            items += ring((middle, base - 1.0), 7.0, str(i + 1), 270.0)
            items += [Line((x, base - 1.0), (nearer, base - 1.0), Pen.MIDDLE, Ink.MEASURED)]
            items += [Circle((p, base - 1.0), 0.6, None, fill=Ink.MEASURED) for p in (x, nearer)]
            x = nearer
    return [*items, word((10.5, 44.0), "outlet"), leader((10.5, 43.0), (10.5, 34.6))]


def _enlarged() -> list[Item]:
    items: list[Item] = []
    for x, low in ((22.0, 24.0), (58.0, 40.0)):
        items += [Line((x - 13.0, 10.0), (x + 13.0, 10.0), Pen.MIDDLE)]
        if low > 24.0:
            items += run([(x, 24.0), (x, low)], 4.0)
        items += run([(x, low + 4.0), (x, 55.0)], 6.5)
        cone = ((x - 4.0, low), (x + 4.0, low), (x + 6.5, low + 4.0), (x - 6.5, low + 4.0))
        items += [Polygon(cone, Pen.FIRM, fill=Ink.PAPER)]
        items += hood((x, 24.0), 4.0, "hood")
    return items + cross((58.0, 33.0), 4.0)


def _narrow() -> list[Item]:
    items: list[Item] = [Line((22.0, 6.0), (58.0, 6.0), Pen.MIDDLE)]
    items += run([(40.0, 24.0), (40.0, 36.0)], 6.0)
    items += run([(40.0, 40.0), (40.0, 55.0)], 3.6)
    cone = ((34.0, 36.0), (46.0, 36.0), (43.6, 40.0), (36.4, 40.0))
    items += [Polygon(cone, Pen.FIRM, fill=Ink.PAPER)]
    items += hood((40.0, 24.0), 6.0, "hood")
    items += tape((34.3, 30.0), (45.7, 30.0)) + tape((36.4, 47.0), (43.6, 47.0))
    items += [word((56.0, 29.2), "inside the outlet", "start"), leader((55.4, 30.0), (47.0, 30.0))]
    return [*items, word((14.0, 46.2), "narrower", "start"), leader((25.0, 47.0), (35.4, 47.0))]


FIGURES = (
    Figure("slope", "Slope of a connector piece",
           "A leaning pipe with a level lying on top of it. Below, a level line: along it the run, "
           "and upright at the far end the rise toward the vent.", _slope),
    Figure("sag", "A low place in a connector",
           "A pipe that dips between its ends. A string from end to end along its underside shows "
           "the low place; the tape reads from the string down to the pipe.", _sag),
    Figure("connector-length", "Horizontal length of a connector and height of its vent",
           "From above: the tape follows the center line round the corner in two parts; the "
           "straight line from end to end is crossed out. From the side: the level part is the "
           "length; the height is taken from where the connector enters the vent, and also from "
           "the hood outlet, up to the lowest opening of the cap.", _length),
    Figure("first-rise", "First rise of a connector",
           "The tape runs upright from the draft hood outlet to where the elbow begins to turn. "
           "From the rim of the hood, and up to the middle of the level run, are crossed out.",
           _rise),
    Figure("hangers", "Spacing of hangers",
           "A pipe under a ceiling on three hangers. The tape reads along the run from hanger to "
           "hanger; the widest of them counts.", _hangers),
    Figure("joint-screws", "Screws of a joint",
           "A joint from its end, with three screws counted evenly round it, and from the side: "
           "one pipe inside the other, the screw through both.", _screws),
    Figure("male-end", "Which way the crimped end points",
           "Left: the crimped end points with the gas and goes into the next pipe. Right: it "
           "points back against the gas; the instructions say whether it may, for both ways are "
           "in use.",
           _male_end),
    Figure("inside-size", "Inside diameter of a pipe",
           "Two pipes from their ends, one of one sheet and one of two walls. The tape reads "
           "inside the inner wall; across the outside of the double wall is crossed out.",
           _inside),
    Figure("size-steps", "Steps from size to size",
           "Four pipes from their ends, each a size larger than the one before. Beginning with "
           "the outlet the steps between them are counted one, two, three.", _steps),
    Figure("enlarged-at-outlet", "Where a connector gets larger",
           "Left: the increaser stands on the draft hood outlet itself. Right, crossed out: a "
           "narrow piece first and the increaser further up.", _enlarged),
    Figure("narrow-place", "A connector that gets narrower",
           "The inside of the draft hood outlet is compared with the inside of each piece above "
           "it; a narrower piece further along is what to look for.", _narrow),
)  # fmt: skip
