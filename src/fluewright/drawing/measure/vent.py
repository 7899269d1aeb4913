"""Figures for the vent: its height, leaning parts, walls and kinds, support, where it begins."""

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
    head,
    heater,
    leader,
    lumber,
    not_here,
    ring,
    run,
    slope,
    solid,
    tape,
    word,
)
from fluewright.drawing.pipes import cap
from fluewright.drawing.scene import (
    Arc,
    Circle,
    Dash,
    Ink,
    Item,
    Line,
    Pen,
    Point,
    Polygon,
    around,
)


def _height() -> list[Item]:
    items = slope((26.0, 37.0), (70.0, 43.0))
    items += heater((26.0, 17.0), 2.2, 6.0, 4.0)
    items += run([(26.0, 17.0), (26.0, 22.0), (44.0, 23.4)], 2.2)
    items += run([(44.0, 18.0), (44.0, 52.0)], 2.8, "double") + cap((44.0, 52.0), 2.8)
    items += [Line((29.4, 17.0), (60.0, 17.0), Pen.FINE, Ink.GREY)]
    items += [Line((48.6, 52.0), (60.0, 52.0), Pen.FINE, Ink.GREY)]
    items += tape((58.0, 17.0), (58.0, 52.0))
    items += [along((58.0, 18.0), (58.0, 36.0), "height", ink=Ink.MEASURED)]
    items += [Line((33.0, 13.0), (74.0, 13.0), Pen.FINE, Ink.GREY)]
    items += [Line((46.0, 56.6), (74.0, 56.6), Pen.FINE, Ink.GREY)]
    items += not_here((72.0, 13.0), (72.0, 56.6), 0.4)
    items += [word((4.0, 16.2), "hood outlet", "start"), leader((17.0, 17.0), (23.4, 17.0))]
    items += [word((4.0, 51.2), "lowest opening of the cap", "start")]
    return [*items, leader((31.8, 52.0), (39.8, 52.0)), datum((26.0, 17.0))]


def _lean() -> list[Item]:
    a, b = (26.0, 18.0), (52.0, 44.0)
    items = run([(26.0, 4.0), a, b, (52.0, 57.0)], 4.4, "double")
    items += [center((26.0, 5.0), (26.0, 48.0)), center(a, b)]
    items += [Arc(a, 22.0, 45.0, 90.0, Pen.MIDDLE, Ink.MEASURED)]
    items += [head(around(a, 22.0, 46.0), (0.68, -0.73), Ink.MEASURED)]
    items += [word((34.6, 42.4), "lean", "start", Ink.MEASURED), datum(a)]
    items += [word((17.6, 45.0), "upright"), leader((22.0, 45.4), (25.4, 44.0))]
    items += [Line((26.0, 18.0), (66.0, 18.0), Pen.FINE, Ink.GREY, Dash.CENTER)]
    items += [Arc(a, 30.0, 0.0, 45.0, Pen.THIN, Ink.GREY, Dash.FINE)]
    return items + cross(around(a, 30.0, 20.0))


def _elbows() -> list[Item]:
    low: list[Point] = [(18.0, 17.0), (18.0, 28.0), (40.0, 29.5), (40.0, 36.0)]
    high: list[Point] = [(40.0, 36.0), (40.0, 40.0), (50.0, 48.0), (50.0, 53.0)]
    items = heater((18.0, 17.0), 2.8, 8.0, 3.0) + run(low, 2.8)
    items += run(high, 3.2, "double") + cap((50.0, 53.0), 3.2)
    items += ring(low[1], 10.0, "1", 120.0) + ring(low[2], 12.0, "2", 330.0)
    items += ring(high[1], 12.0, "3", 160.0) + ring(high[2], 13.0, "4", 340.0)
    items += [Circle(p, 0.7, None, fill=Ink.MEASURED) for p in (low[1], low[2], high[1], high[2])]
    return items


def _level_parts() -> list[Item]:
    items = heater((14.0, 17.0), 2.2, 6.0, 4.0)
    items += run([(14.0, 17.0), (14.0, 22.0), (32.0, 23.4)], 2.2)
    path: list[Point] = [(32.0, 18.0), (32.0, 30.0), (46.0, 37.0), (46.0, 53.0)]
    items += run(path, 2.8, "double") + cap((46.0, 53.0), 2.8)
    items += [center((14.0, 22.0), (32.0, 23.4)), center(*path[1:3])]
    items += [Line((46.0, 33.5), (46.0, 9.0), Pen.FINE, Ink.GREY)]
    items += [Line((32.0, 16.5), (32.0, 9.0), Pen.FINE, Ink.GREY)]
    items += [Line((14.0, 25.5), (14.0, 32.0), Pen.FINE, Ink.GREY)]
    items += [Line((32.0, 24.6), (32.0, 32.0), Pen.FINE, Ink.GREY)]
    items += tape((14.0, 31.0), (32.0, 31.0), "one")
    items += tape((32.0, 11.0), (46.0, 11.0), "two", under=True)
    items += tape((46.0, 23.4), (46.0, 53.0), "height", -14.0, under=True)
    return [*items, datum((32.0, 23.4))]


def _boundary() -> list[Item]:
    items: list[Item] = []
    for x, plain in ((20.0, False), (60.0, True)):
        for low, high in ((x - 18.0, x - 4.5), (x + 7.5, x + 18.0)):
            items += solid((low, 33.0), (high, 36.0), 60.0)
        items += heater((x - 6.0, 17.0), 2.2, 6.0, 3.0)
        items += run([(x - 6.0, 17.0), (x - 6.0, 22.0), (x + 1.5, 22.8), (x + 1.5, 27.0)], 2.2)
        if plain:
            items += run([(x + 1.5, 27.0), (x + 1.5, 53.0)], 2.2)
        else:
            items += run([(x + 1.5, 27.0), (x + 1.5, 53.0)], 2.8, "double")
            items += [across((x + 1.5, 27.0), (0.0, 1.0), 4.4, Pen.HEAVY)]
    items += cross((61.5, 43.0), 3.4)
    items += [word((11.0, 44.0), "vent"), leader((14.0, 44.8), (18.4, 44.8))]
    items += [word((32.0, 14.0), "connector"), leader((29.0, 16.4), (23.0, 21.0))]
    return [*items, word((40.0, 39.0), "ceiling")]


def _walls() -> list[Item]:
    items: list[Item] = [word((20.0, 53.0), "one sheet"), word((59.0, 53.0), "two walls")]
    for x, double in ((20.0, False), (59.0, True)):
        for way in (-1, 1):
            sides = (12.0, 9.0) if double else (12.0,)
            items += [
                Line((x + way * side, 4.0), (x + way * side, 38.0), Pen.FIRM) for side in sides
            ]
        items += [_oval(x, 38.0, 12.0)] + ([_oval(x, 38.0, 9.0)] if double else [])
    items += [box((53.0, 14.0), (65.0, 22.0), Pen.THIN, Ink.LIGHT), word((59.0, 17.2), "stamp")]
    items += [word((40.0, 43.0), "cut end"), leader((36.0, 42.0), (32.4, 39.6))]
    return [*items, leader((44.0, 42.0), (47.4, 39.6))]


def _oval(x: float, y: float, half: float) -> Polygon:
    """A round end seen at a slant."""
    ring_points = [around((0.0, 0.0), half, 12.0 * i) for i in range(30)]
    return Polygon(
        tuple((x + dx, y + dy * 0.28) for dx, dy in ring_points), Pen.FIRM, fill=Ink.PAPER
    )


def _arrow() -> list[Item]:
    items: list[Item] = []
    for x, wrong in ((22.0, False), (58.0, True)):
        items += run([(x, 4.0), (x, 56.0)], 8.0, "double")
        items += [across((x, y), (0.0, 1.0), 8.6, Pen.FIRM) for y in (20.0, 41.0)]
        ends = ((x, 25.0), (x, 36.0))
        items += flow(*(ends if not wrong else (ends[1], ends[0])))
        items += flow((x, 7.0), (x, 15.0)) + flow((x, 45.0), (x, 53.0))
    return items + cross((58.0, 30.5), 4.0)


def _support() -> list[Item]:
    items = lumber((4.0, 20.0), (20.0, 34.0)) + lumber((60.0, 20.0), (76.0, 34.0))
    items += run([(40.0, 3.0), (40.0, 57.0)], 8.0, "double")
    for way in (-1, 1):
        x = 40.0 + way * 8.0
        items += [Polygon(((x, 46.0), (x, 35.2), (x + way * 22.0, 35.2)), Pen.HEAVY, closed=False)]
        items += [Circle((x, 42.0), 0.9, None, fill=Ink.INK)]
        items += [Circle((x + way * 18.0, 35.6), 0.9, None, fill=Ink.INK)]
    items += [word((66.0, 45.0), "support plate"), leader((58.0, 44.4), (52.0, 36.2))]
    return [*items, word((12.0, 14.0), "joist"), leader((12.0, 16.4), (12.0, 19.6))]


def _flat() -> list[Item]:
    shape = tuple(
        (24.0 + dx + (7.0 if dx > 0 else -7.0), 30.0 + dy)
        for dx, dy in (around((0.0, 0.0), 8.0, 7.5 + 15.0 * i) for i in range(24))
    )
    items: list[Item] = [Polygon(shape, Pen.FIRM, fill=Ink.PAPER)]
    items += tape((24.0, 22.1), (24.0, 37.9))
    items += [word((29.4, 29.2), "inside", ink=Ink.MEASURED)]
    items += [Line((42.0, 30.0), (50.0, 30.0), Pen.THIN, Ink.GREY, Dash.FINE)]
    items += end_on((63.0, 30.0), 11.0)
    return [*items, word((24.0, 47.0), "flat pipe"), word((63.0, 47.0), "round of like area")]


def _thickness() -> list[Item]:
    frame = (
        (3.0, 44.0), (27.0, 44.0), (27.0, 39.0), (26.0, 39.0), (26.0, 31.0), (23.5, 31.0),
        (23.5, 39.0), (7.5, 39.0), (7.5, 20.0), (23.5, 20.0), (23.5, 28.0), (26.0, 28.0),
        (26.0, 20.0), (27.0, 20.0), (27.0, 15.0), (3.0, 15.0),
    )  # fmt: skip
    items: list[Item] = [Polygon(frame, Pen.MIDDLE), box((22.0, 4.0), (27.5, 15.0))]
    items += [Line((22.0, y), (27.5, y), Pen.FINE) for y in (6.0, 8.0, 10.0, 12.0)]
    items += [box((13.0, 28.0), (50.0, 31.0), Pen.FIRM, Ink.LIGHT)]
    crimp = tuple((50.0 + 3.0 * i, 29.5 + (2.5 if i % 2 else -2.5)) for i in range(1, 9))
    items += [Polygon(((50.0, 29.5), *crimp), Pen.HEAVY, closed=False)]
    items += tape((34.0, 28.0), (34.0, 31.0))
    items += [word((42.0, 40.0), "flat sheet"), leader((40.0, 39.0), (38.0, 31.6))]
    items += [word((62.0, 40.0), "crimp"), leader((62.0, 39.0), (62.0, 33.0))]
    items += [word((15.0, 48.0), "cut end"), leader((15.0, 47.0), (13.4, 31.4))]
    return items + cross((62.0, 21.0), 2.6)


def _corrugated() -> list[Item]:
    items: list[Item] = []
    for way in (-1, 1):
        folds = tuple((40.0 + way * (11.0 if i % 2 else 14.5), 4.0 + 2.6 * i) for i in range(17))
        items += [Polygon(folds, Pen.FIRM, closed=False)]
    items += tape((29.0, 22.2), (51.0, 22.2), "inside the ribs")
    items += [Line((25.5, 46.5), (25.5, 53.0), Pen.FINE, Ink.GREY)]
    items += [Line((54.5, 46.5), (54.5, 53.0), Pen.FINE, Ink.GREY)]
    return items + not_here((25.5, 51.5), (54.5, 51.5))


def _draft() -> list[Item]:
    items = heater((20.0, 24.0), 4.0, 12.0, 3.0)
    items += run([(20.0, 24.0), (20.0, 46.0), (60.0, 50.0)], 4.0)
    items += [Line((24.0, 34.0), (44.0, 34.0), Pen.MIDDLE, Ink.MEASURED)]
    items += [Line((18.0, 34.0), (24.0, 34.0), Pen.FIRM, Ink.MEASURED)]
    items += [Line((44.0, 34.0), (44.0, 28.0), Pen.MIDDLE, Ink.MEASURED)]
    items += [box((37.0, 14.0), (51.0, 28.0)), Circle((44.0, 22.0), 4.4, Pen.THIN, Ink.MEASURED)]
    items += [Line((44.0, 22.0), (41.2, 24.4), Pen.FIRM, Ink.MEASURED)]
    items += [word((57.0, 20.2), "manometer", "start"), leader((56.4, 21.0), (51.6, 21.0))]
    return [
        *items,
        word((57.0, 33.2), "above the hood", "start"),
        leader((56.4, 34.0), (45.0, 34.0)),
    ]


def _wall_furnace() -> list[Item]:
    items: list[Item] = [Line((4.0, 6.0), (76.0, 6.0), Pen.FIRM)]
    items += [box((30.0, 8.0), (46.0, 26.0), Pen.MIDDLE)]
    items += [Line((32.0, 11.0 + 2.0 * i), (44.0, 11.0 + 2.0 * i), Pen.FINE) for i in range(4)]
    items += run([(38.0, 26.0), (38.0, 50.0)], 3.0, "double") + cap((38.0, 50.0), 3.0)
    for x in (24.0, 52.0):
        items += [
            Line((x - 1.5, 6.0), (x - 1.5, 40.0), Pen.THIN),
            Line((x + 1.5, 6.0), (x + 1.5, 40.0), Pen.THIN),
        ]
    items += [Line((47.0, 8.0), (66.0, 8.0), Pen.FINE, Ink.GREY)]
    items += [Line((43.0, 50.0), (66.0, 50.0), Pen.FINE, Ink.GREY)]
    items += tape((64.0, 8.0), (64.0, 50.0), "height", under=True)
    items += [Line((29.0, 26.0), (12.0, 26.0), Pen.FINE, Ink.GREY)]
    items += [Line((33.0, 50.0), (12.0, 50.0), Pen.FINE, Ink.GREY)]
    items += not_here((14.0, 26.0), (14.0, 50.0))
    return [*items, datum((46.0, 8.0))]


FIGURES = (
    Figure("vent-height", "Height of a vent",
           "The tape runs upright from the draft hood outlet to the lowest opening of the cap; "
           "from below the hood to the top of the cap is crossed out.", _height),
    Figure("lean", "How far a vent leans",
           "An offset of a vent. The angle is read from upright, not from level, along the center "
           "line of the leaning part.", _lean),
    Figure("elbows", "Elbows counted",
           "A path from the hood to the cap; every change of direction is counted, those of the "
           "connector and those of the vent.", _elbows),
    Figure("level-parts", "Level parts of the whole path",
           "Along the center line the level part of the connector and the level part of a vent "
           "run that leans more than halfway are added; the height is taken from where the "
           "connector enters.", _level_parts),
    Figure("where-vent-starts", "Where the connector ends and the vent starts",
           "Left: the connector ends in the room, and double-wall vent goes through the ceiling. "
           "Right, crossed out: single-wall pipe goes on above the ceiling.", _boundary),
    Figure("walls", "One sheet or two walls",
           "Two pipes at a cut end: one edge of sheet, or two with a gap between them and a stamp "
           "on the outside.", _walls),
    Figure("flow-arrow", "Direction of the arrow on a vent section",
           "Left: the arrow on each section points with the gas. Right, crossed out: a section "
           "stands upside down.", _arrow),
    Figure("support", "Support of a vent",
           "A plate fixed to the vent rests on the joists on both sides and carries its weight.",
           _support),
    Figure("flat-pipe", "Flat pipe",
           "The tape reads the narrowest inside width of a flat pipe, which stands for a round "
           "pipe of like area.", _flat),
    Figure("sheet-thickness", "Thickness of sheet",
           "The sheet is measured where it is flat, at a cut end; over a crimp is crossed out.",
           _thickness),
    Figure("corrugated-size", "Inside of a corrugated connector",
           "The tape reads between the inner tops of the ribs; across the outside is crossed out.",
           _corrugated),
    Figure("draft-reading", "Where draft is read",
           "A tube goes into the connector above the draft hood and leads to a manometer.",
           _draft),
    Figure("wall-furnace-height", "Height over a wall furnace",
           "The tape runs upright from the bottom of the furnace to the lowest opening of the cap; "
           "from the top of the furnace is crossed out.", _wall_furnace),
)  # fmt: skip
