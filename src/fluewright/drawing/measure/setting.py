"""Figures for the place of an appliance: garage, way into an attic, straps, pan."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    along,
    box,
    leader,
    level,
    not_here,
    solid,
    tape,
    word,
)
from fluewright.drawing.scene import Circle, Dash, Ink, Item, Line, Pen


def _garage() -> list[Item]:
    items = solid((2.0, 4.0), (78.0, 8.0))
    items += [box((46.0, 8.0), (70.0, 20.0)), box((48.0, 20.0), (68.0, 54.0))]
    items += [Line((52.0, 25.0), (64.0, 25.0), Pen.HEAVY), word((58.0, 27.0), "burner")]
    items += tape((40.0, 8.0), (40.0, 25.0), "height")
    items += [level((40.0, 25.0), (52.0, 25.0))]
    items += not_here((74.0, 20.0), (74.0, 25.0))
    items += [word((58.0, 13.0), "stand")]
    items += [box((16.0, 8.0), (19.0, 34.0), Pen.FIRM, Ink.LIGHT)]
    items += [word((17.5, 36.0), "post"), word((7.5, 22.0), "car", ink=Ink.GREY)]
    return items


def _passage() -> list[Item]:
    items: list[Item] = [
        box((6.0, 10.0), (20.0, 24.0)),
        box((58.0, 30.0), (72.0, 50.0)),
    ]
    items += [box((20.0, 13.0), (48.0, 21.0), Pen.THIN, Ink.LIGHT)]
    items += [box((40.0, 21.0), (48.0, 36.0), Pen.THIN, Ink.LIGHT)]
    items += [box((44.0, 36.0), (58.0, 46.0), Pen.THIN, Ink.LIGHT)]
    items += tape((20.0, 17.0), (46.0, 17.0), "along the middle")
    items += tape((46.0, 17.0), (46.0, 41.0))
    items += tape((46.0, 41.0), (58.0, 41.0))
    items += not_here((20.0, 22.0), (57.0, 47.0))
    items += tape((6.0, 6.0), (20.0, 6.0))
    items += tape((3.0, 10.0), (3.0, 24.0))
    items += [word((13.0, 16.0), "way in"), word((65.0, 39.0), "heater")]
    items += tape((22.6, 13.0), (22.6, 21.0))
    items += [word((29.0, 8.6), "floor"), leader((26.4, 10.4), (23.6, 14.0))]
    return items


def _straps() -> list[Item]:
    items = solid((2.0, 2.0), (78.0, 5.0))
    items += solid((60.0, 5.0), (64.0, 57.0))
    items += [box((28.0, 5.0), (52.0, 53.0))]
    for low in (21.0, 37.0):
        items += [Line((20.0, low), (60.0, low), Pen.FINE, Ink.GREY, Dash.DASHED)]
    for low in (15.5, 44.0):
        items += [box((28.0, low), (60.0, low + 2.2), Pen.FIRM, Ink.LIGHT)]
    items += [box((37.0, 6.5), (43.0, 11.0)), word((32.6, 8.0), "control", "middle")]
    items += tape((46.0, 11.0), (46.0, 15.5))
    items += [
        word((40.0, 48.5), "upper third"),
        word((40.0, 28.0), "middle third", ink=Ink.GREY),
    ]
    items += tape((16.0, 5.0), (16.0, 53.0), "height of the tank")
    items += [along((66.5, 8.0), (66.5, 50.0), "framing", under=True, ink=Ink.INK)]
    return items


def _pan() -> list[Item]:
    items = solid((2.0, 6.0), (78.0, 10.0))
    items += [box((18.0, 10.6), (62.0, 11.8), Pen.FIRM)]
    items += [
        box((18.0, 10.6), (19.2, 18.0), Pen.FIRM),
        box((60.8, 10.6), (62.0, 18.0), Pen.FIRM),
    ]
    items += [box((28.0, 12.0), (52.0, 54.0)), word((40.0, 34.0), "tank")]
    items += [box((62.0, 12.0), (74.0, 16.0), Pen.MIDDLE)]
    items += [Circle((74.0, 14.0), 2.0, Pen.MIDDLE, Ink.INK, Ink.PAPER)]
    items += [
        word((67.5, 24.0), "bore of the drain"),
        leader((70.0, 23.2), (73.4, 16.4)),
    ]
    items += [
        Line((28.0, 48.0), (12.0, 48.0), Pen.HEAVY),
        Line((12.0, 48.0), (12.0, 22.0), Pen.HEAVY),
    ]
    items += [word((13.0, 51.0), "relief pipe"), word((10.0, 17.5), "not the pan")]
    return items


FIGURES = (
    Figure("garage-flame", "A heater in a garage",
           "The tape runs from the garage floor to the burner, not from the top of the stand; a "
           "post stands between the heater and the car.", _garage),
    Figure("attic-passage", "Way to an appliance in an attic",
           "From above: both sides of the way in, the width of the floor, and the length along the "
           "middle of the passage round its corners; the straight way is crossed out.", _passage),
    Figure("straps", "Straps of a tank",
           "The height of the tank in three parts, a strap in the upper and one in the lower "
           "third, both to the framing, and the tape from the control up to the lower strap.",
           _straps),
    Figure("pan", "Pan under a heater",
           "The tank in a pan on a floor, the bore of its drain, and a relief pipe that does not "
           "end in the pan.", _pan),
)  # fmt: skip
