"""Figures for the cap: height over the roof, walls and the circle round it, air inlets."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    across,
    along,
    box,
    cross,
    datum,
    end_on,
    leader,
    level,
    not_here,
    run,
    slope,
    solid,
    tape,
    word,
)
from fluewright.drawing.pipes import cap
from fluewright.drawing.scene import Circle, Dash, Ink, Item, Line, Pen, Polygon


def _cap_height() -> list[Item]:
    items = slope((4.0, 5.0), (76.0, 41.0))
    x, half, top = 42.0, 7.0, 46.0
    low, high = 5.0 + (x - half - 4.0) / 2, 5.0 + (x + half - 4.0) / 2
    foot = ((x - half, low), (x + half, high), (x + half, top), (x - half, top))
    items += [Polygon(foot, None, fill=Ink.PAPER)]
    items += [
        Line((x - half, low), (x - half, top), Pen.THIN),
        Line((x + half, high), (x + half, top), Pen.THIN),
    ]
    items += [Line((x + s, 33.0), (x + s, top), Pen.THIN) for s in (1.0 - half, half - 1.0)]
    cone = ((x - 10.0, 19.0), (x - half, 33.0), (x + half, 33.0), (x + 10.0, 29.0))
    items += [Polygon(cone, Pen.THIN, fill=Ink.LIGHT)]
    items += [
        Line((x - half, low), (x - half, 33.0), Pen.FINE, Ink.INK, Dash.FINE),
        Line((x + half, high), (x + half, 33.0), Pen.FINE, Ink.INK, Dash.FINE),
    ]
    items += cap((x, top), half)
    items += [Line((x + half + 3.0, top), (60.0, top), Pen.FINE, Ink.GREY)]
    items += [datum((x + half, high))]
    items += [Line((x + half + 1.5, high), (60.0, high), Pen.FINE, Ink.GREY, Dash.DASHED)]
    items += tape((57.0, high), (57.0, top), "", 0.0)
    items += [along((57.0, high + 4.5), (57.0, top), "height", ink=Ink.MEASURED, under=True)]
    items += [Line((x - half - 3.0, top), (20.0, top), Pen.FINE, Ink.GREY)]
    items += [Line((x - half - 1.0, low), (20.0, low), Pen.FINE, Ink.GREY)]
    items += not_here((22.0, low), (22.0, top))
    items += [Line((x - half - 0.6, 33.0), (27.0, 33.0), Pen.FINE, Ink.GREY)]
    items += not_here((29.0, 33.0), (29.0, top))
    items += [word((71.0, 47.0), "uphill"), word((9.0, 20.0), "downhill")]
    return items


def _near_wall() -> list[Item]:
    items = slope((4.0, 14.0), (62.0, 14.0))
    items += solid((62.0, 6.0), (68.0, 46.0)) + slope((60.0, 46.0), (78.0, 54.0))
    items += run([(28.0, 14.0), (28.0, 48.0)], 3.0, "double") + cap((28.0, 48.0), 3.0)
    items += tape((31.2, 24.0), (62.0, 24.0), "level to the wall")
    items += [Line((28.0, 12.0), (28.0, 5.0), Pen.FINE, Ink.GREY)]
    items += [Line((76.0, 51.0), (76.0, 5.0), Pen.FINE, Ink.GREY, Dash.DASHED)]
    items += [Line((28.0, 6.5), (76.0, 6.5), Pen.THIN, Ink.MEASURED, Dash.DASHED)]
    items += [word((44.0, 2.6), "the circle, level", ink=Ink.MEASURED)]
    items += [Circle((76.0, 53.1), 0.9, None, fill=Ink.MEASURED)]
    items += [level((75.0, 53.1), (20.0, 53.1))]
    items += [word((52.0, 55.0), "highest thing inside", ink=Ink.MEASURED)]
    items += tape((20.0, 53.1), (20.0, 48.0), "")
    return [*items, Line((25.0, 48.0), (18.5, 48.0), Pen.FINE, Ink.GREY)]


def _circle() -> list[Item]:
    items: list[Item] = [word((20.0, 55.0), "from above"), word((60.0, 55.0), "from the side")]
    items += [Circle((20.0, 29.0), 15.0, Pen.MIDDLE, Ink.MEASURED, dash=Dash.DASHED)]
    items += end_on((20.0, 29.0), 2.0)
    items += [box((28.0, 33.0), (39.0, 47.0), Pen.MIDDLE, Ink.LIGHT)]
    items += [Line((3.0, 20.0), (38.0, 20.0), Pen.THIN), word((7.0, 10.0), "ridge")]
    items += [leader((8.0, 12.4), (10.0, 19.6)), word((33.6, 49.0), "wall")]
    items += tape((18.6, 30.4), (9.4, 39.6), "level")
    items += slope((42.0, 8.0), (66.0, 26.0)) + slope((66.0, 26.0), (78.0, 17.0))
    items += run([(52.0, 15.5), (52.0, 46.0)], 2.0) + cap((52.0, 46.0), 2.0)
    items += [level((66.0, 26.0), (55.0, 26.0)), Circle((66.0, 26.0), 0.9, None, fill=Ink.MEASURED)]
    items += [
        *tape((57.5, 26.0), (57.5, 46.0)),
        Line((54.8, 46.0), (59.0, 46.0), Pen.FINE, Ink.GREY),
    ]
    items += [along((60.0, 26.0), (60.0, 46.0), "above it", ink=Ink.MEASURED, under=True)]
    items += [word((72.0, 30.4), "highest"), leader((70.0, 29.8), (66.8, 26.8))]
    items += tape((50.0, 17.0), (50.0, 46.0), "", 3.0)
    items += [Line((49.0, 17.0), (52.8, 17.0), Pen.FINE, Ink.GREY, Dash.DASHED)]
    return [*items, datum((54.0, 17.0))]


def _inlet() -> list[Item]:
    items = slope((4.0, 8.0), (76.0, 8.0))
    items += run([(20.0, 8.0), (20.0, 44.0)], 3.4, "double") + cap((20.0, 44.0), 3.4)
    items += [box((54.0, 8.0), (72.0, 26.0), Pen.MIDDLE)]
    items += [box((54.0, 12.0), (56.4, 22.0), Pen.FIRM, Ink.LIGHT)]
    items += [Line((54.0, 14.0 + 2 * i), (56.4, 14.0 + 2 * i), Pen.FINE) for i in range(4)]
    items += [Circle((64.5, 17.0), 5.0, Pen.THIN)]
    items += [
        Line((61.0, 13.5), (68.0, 20.5), Pen.FIRM),
        Line((61.0, 20.5), (68.0, 13.5), Pen.FIRM),
    ]
    items += [Line((52.8, 22.0), (40.0, 22.0), Pen.FINE, Ink.GREY)]
    items += [Line((26.0, 44.0), (44.0, 44.0), Pen.FINE, Ink.GREY)]
    items += tape((42.0, 22.0), (42.0, 44.0), "above")
    items += tape((23.6, 16.0), (54.0, 16.0), "level")
    for y in (13.0, 19.0):
        items += [Line((46.0, y), (51.4, y), Pen.THIN, Ink.GREY)]
        items += [
            Polygon(((50.0, y + 0.9), (51.4, y), (50.0, y - 0.9)), Pen.THIN, Ink.GREY, closed=False)
        ]
    return [*items, word((64.0, 29.0), "inlet with a fan"), datum((54.0, 22.0))]


def _neighbor() -> list[Item]:
    items = solid((4.0, 4.0), (10.0, 56.0)) + solid((66.0, 4.0), (72.0, 56.0))
    items += [*run([(4.0, 20.0), (16.0, 20.0)], 2.6), box((16.0, 16.4), (17.6, 23.6), Pen.FIRM)]
    items += [
        box((64.8, 34.0), (73.2, 50.0), Pen.MIDDLE),
        Line((64.8, 42.0), (73.2, 42.0), Pen.THIN),
    ]
    items += [Line((17.6, 20.0), (64.0, 20.0), Pen.FINE, Ink.GREY, Dash.DASHED)]
    items += [Line((66.0, 4.0), (66.0, 33.0), Pen.FIRM)]
    items += tape((17.6, 12.0), (66.0, 12.0), "level") + tape((56.0, 20.0), (56.0, 34.0), "above")
    items += [Line((64.0, 34.0), (54.0, 34.0), Pen.FINE, Ink.GREY)]
    items += not_here((18.6, 22.0), (63.0, 40.0))
    return [*items, word((44.0, 49.0), "window or air opening"), leader((60.0, 49.2), (64.4, 46.0))]


def _mesh() -> list[Item]:
    items: list[Item] = []
    for i in range(5):
        for turned in (False, True):
            low, at = 8.0, 12.0 + 11.0 * i
            a, b = ((low + 10.0, at - 2.0), (low + 58.0, at - 2.0)), (at + 8.0, 4.0)
            bar = box(a[0], (a[1][0], a[1][1] + 2.0)) if not turned else box(b, (b[0] + 2.0, 58.0))
            items += [Polygon(bar.points, Pen.THIN, Ink.INK, Ink.LIGHT)]
    items += tape((33.0, 37.5), (42.0, 37.5))
    items += not_here((32.0, 15.5), (43.0, 15.5))
    return items


def _parts() -> list[Item]:
    items = slope((4.0, 10.0), (29.0, 18.6)) + slope((51.0, 26.2), (76.0, 34.8))
    items += run([(40.0, 4.0), (40.0, 50.0)], 6.0, "double") + cap((40.0, 50.0), 5.0)
    items += [Polygon(((19.0, 15.9), (27.0, 18.6), (33.4, 38.0)), Pen.FIRM, closed=False)]
    items += [Polygon(((46.6, 38.0), (52.0, 27.2), (62.0, 30.6)), Pen.FIRM, closed=False)]
    collar = ((31.0, 39.0), (49.0, 39.0), (46.4, 42.4), (33.6, 42.4))
    items += [Polygon(collar, Pen.FIRM, fill=Ink.LIGHT)]
    items += [word((12.0, 43.0), "storm collar"), leader((20.0, 43.4), (30.8, 40.6))]
    items += [word((13.0, 30.0), "flashing"), leader((18.4, 30.4), (30.6, 31.4))]
    items += [Polygon(((56.0, 31.2), (59.0, 32.2), (76.0, 38.0)), Pen.FIRM, closed=False)]
    items += [word((68.0, 44.0), "roofing over it"), leader((66.0, 43.0), (60.0, 33.2))]
    items += [word((14.0, 4.0), "roofing under it"), leader((14.0, 6.6), (18.6, 14.4))]
    return items


def _through() -> list[Item]:
    items: list[Item] = []
    for x, wrong in ((21.0, False), (59.0, True)):
        items += slope((x - 18.0, 20.0), (x - 7.0, 20.0)) + slope((x + 7.0, 20.0), (x + 18.0, 20.0))
        top = 42.0 if not wrong else 12.0
        items += [
            Polygon(((x - 12.0, 20.6), (x - 8.0, 20.6), (x - 5.0, 33.0)), Pen.FIRM, closed=False)
        ]
        items += [
            Polygon(((x + 12.0, 20.6), (x + 8.0, 20.6), (x + 5.0, 33.0)), Pen.FIRM, closed=False)
        ]
        items += run([(x, 3.0), (x, top)], 4.4, "double")
        items += cap((x, 42.0 if not wrong else 33.0), 4.4)
        items += [across((x, top), (0.0, 1.0), 4.4)]
    items += tape((59.0, 12.0), (59.0, 33.0)) + cross((52.0, 46.0), 3.0)
    return items


FIGURES = (
    Figure("cap-height", "Height of a cap over a pitched roof",
           "The tape stands upright from where the roof meets the uphill side of the pipe to the "
           "lowest opening of the cap. From the downhill side and from the top of the flashing "
           "are crossed out.", _cap_height),
    Figure("near-wall", "Distance to a wall, and the highest thing in the circle",
           "The tape runs level from the face of the pipe to the wall. Inside a level distance "
           "round the vent the highest part of the building is found, and a level line from it "
           "shows how far the lowest opening of the cap stands below.", _near_wall),
    Figure("circle", "The circle round a vent",
           "From above: a circle round the vent, with wall and ridge inside it. From the side: a "
           "level line from the highest thing inside, and the tape up from it to the lowest "
           "opening of the cap; also up from the roof at the pipe.", _circle),
    Figure("air-inlet", "Distances to an air inlet",
           "The tape runs level from the vent to the nearest edge of the inlet, and upright from "
           "the top edge of the inlet to the lowest opening of the cap.", _inlet),
    Figure("other-building", "Distances to an opening of another building",
           "The tape runs level from the outlet to the other wall, and upright from the outlet to "
           "the nearest edge of the window; the slanting line is crossed out.", _neighbor),
    Figure("mesh", "Opening of a screen",
           "The tape reads one opening of the mesh between its wires; from the middle of a wire "
           "to the next is crossed out.", _mesh),
    Figure("flashing", "Flashing and storm collar",
           "A pipe through a pitched roof: the flashing goes over the roofing downhill and under "
           "it uphill; the storm collar sits on the pipe above the cone.", _parts),
    Figure("through-roof", "A vent that passes its flashing",
           "Left: the pipe goes through the flashing and stands out of it under its cap. Right, "
           "crossed out: the pipe ends below, and the cap sits on the cone.", _through),
)  # fmt: skip
