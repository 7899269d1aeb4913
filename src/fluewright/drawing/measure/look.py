"""Figures for what is looked at and not taped: cap, end of the path, damper, traces of gas."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    across,
    cross,
    flow,
    heater,
    leader,
    run,
    slope,
    solid,
    wave,
    word,
)
from fluewright.drawing.pipes import cap
from fluewright.drawing.scene import Circle, Ink, Item, Line, Pen, Polygon


def _cap() -> list[Item]:
    items = run([(21.0, 4.0), (21.0, 34.0)], 7.0, "double") + cap((21.0, 34.0), 7.0)
    items += run([(60.0, 4.0), (60.0, 34.0)], 7.0, "double") + cross((60.0, 41.0), 3.4)
    items += [word((41.0, 36.4), "open band"), leader((34.6, 37.2), (31.0, 37.2))]
    items += [word((41.0, 48.0), "lid"), leader((38.4, 48.6), (24.6, 44.6))]
    items += [word((41.0, 24.0), "lowest opening"), leader((36.0, 26.6), (30.8, 33.6))]
    return [*items, *flow((21.0, 10.0), (21.0, 22.0)), *flow((60.0, 10.0), (60.0, 22.0))]


def _ends() -> list[Item]:
    items: list[Item] = slope((14.0, 27.0), (42.0, 42.0)) + slope((42.0, 42.0), (70.0, 27.0))
    items += solid((18.0, 4.0), (20.5, 29.0)) + solid((63.5, 4.0), (66.0, 29.0))
    items += run([(52.0, 4.0), (52.0, 47.0)], 2.2, "double") + cap((52.0, 47.0), 2.2)
    items += run([(40.0, 14.0), (14.0, 16.0)], 2.2) + cross((10.0, 16.4), 2.6)
    items += run([(58.0, 8.0), (58.0, 21.0), (68.4, 21.8)], 1.8) + cross((72.2, 22.0), 2.4)
    items += [word((10.0, 10.0), "wall"), word((72.0, 15.2), "eave")]
    return [*items, word((30.0, 50.0), "above the roof"), leader((39.6, 50.6), (48.4, 49.4))]


def _damper() -> list[Item]:
    items = run([(6.0, 27.0), (74.0, 33.0)], 9.0)
    items += [Line((34.0, 22.0), (46.0, 38.0), Pen.HEAVY), Circle((40.0, 30.0), 1.2, Pen.FIRM)]
    items += [Line((40.0, 14.0), (40.0, 46.0), Pen.MIDDLE)]
    items += [
        Line((40.0, 46.0), (48.0, 46.0), Pen.HEAVY),
        Circle((40.0, 14.0), 0.8, None, fill=Ink.INK),
    ]
    items += flow((12.0, 27.6), (24.0, 28.6)) + cross((58.0, 31.6), 3.4)
    items += [word((60.0, 49.0), "handle"), leader((55.6, 49.0), (48.6, 46.4))]
    return [*items, word((22.0, 10.0), "end of the shaft"), leader((32.4, 11.6), (38.8, 13.6))]


def _traces() -> list[Item]:
    items = heater((40.0, 40.0), 5.0, 19.0, 3.0) + run([(40.0, 40.0), (40.0, 54.0)], 5.0)
    items += [across((40.0, 50.0), (0.0, 1.0), 5.0)]
    rim = 40.0 - 15.0 * 0.62
    items += [Line((30.0, rim), (50.0, rim), Pen.HEAVY, Ink.MEASURED)]
    for x in (25.0, 55.0):
        items += [
            Line((x - 1.2, 25.0), (x - 1.2, 50.0), Pen.FIRM),
            Line((x + 1.2, 25.0), (x + 1.2, 50.0), Pen.FIRM),
        ]
    melted = ((22.4, 25.2), (27.8, 25.2), (27.0, 27.6), (26.0, 26.8), (25.2, 28.0), (23.4, 27.0))
    items += [Polygon(melted, Pen.THIN, fill=Ink.LIGHT)]
    items += [
        Polygon(((52.6, 25.2), (57.4, 25.2), (57.4, 27.6), (52.6, 27.6)), Pen.THIN, fill=Ink.LIGHT)
    ]
    items += [wave((30.0 + 1.6 * i, 24.4), (30.0 + 1.6 * i, 16.0), 0.35) for i in range(4)]
    items += [word((12.0, 31.0), "melted plastic"), leader((16.0, 30.4), (22.4, 27.2))]
    items += [word((10.0, 19.0), "streaks"), leader((14.6, 19.8), (29.2, 19.8))]
    return [
        *items,
        word((68.0, 35.0), "all round the rim"),
        leader((60.0, 34.4), (51.0, rim + 0.3)),
    ]


FIGURES = (
    Figure("cap-seen", "A cap seen from the ground",
           "Left: a cap with its lid and its open band, whose lower edge is the lowest opening. "
           "Right, crossed out: a pipe with a bare end.", _cap),
    Figure("where-it-ends", "Where a vent ends",
           "A house cut through: one vent ends above the roof. Two are crossed out: one ends at "
           "the wall, one under the eave.", _ends),
    Figure("hand-damper", "A damper moved by hand",
           "A plate on a shaft inside the connector, its handle on one side and the end of the "
           "shaft on the other: crossed out.", _damper),
    Figure("traces", "Traces of spilled gas",
           "The top of a heater: the whole rim of the relief opening is looked at, the plastic "
           "collars on the water pipes, one of them melted, and streaks below the rim.", _traces),
)  # fmt: skip
