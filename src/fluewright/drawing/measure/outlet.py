"""Figures for outlets in a wall and for a vent in a stud space."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    across,
    along,
    box,
    datum,
    end_on,
    flow,
    leader,
    level,
    lumber,
    not_here,
    run,
    slope,
    solid,
    tape,
    word,
)
from fluewright.drawing.scene import Dash, Ink, Item, Line, Pen


def _window(low: tuple[float, float], high: tuple[float, float]) -> list[Item]:
    """A sash window seen from outside."""
    middle = (low[1] + high[1]) / 2
    inner = box((low[0] + 1.4, low[1] + 1.4), (high[0] - 1.4, high[1] - 1.4), Pen.THIN)
    return [box(low, high), inner, Line((low[0], middle), (high[0], middle), Pen.THIN)]


def _openings() -> list[Item]:
    items: list[Item] = _window((30.0, 24.0), (50.0, 42.0))
    items += end_on((40.0, 10.0), 2.2) + end_on((70.0, 33.0), 2.2) + end_on((40.0, 52.0), 2.2)
    items += [along((40.0, 12.2), (40.0, 24.0), "below", under=True)]
    items += tape((40.0, 12.2), (40.0, 24.0))
    items += tape((67.8, 33.0), (50.0, 33.0), "beside")
    items += [along((40.0, 49.8), (40.0, 42.0), "above", under=True)]
    items += tape((40.0, 49.8), (40.0, 42.0))
    items += [word((14.0, 33.0), "window, door"), word((14.0, 29.0), "or inlet")]
    items += [leader((24.5, 33.0), (29.5, 33.0))]
    items += [word((52.0, 9.0), "outlet"), leader((46.5, 9.8), (42.6, 10.0))]
    return [*items, *slope((4.0, 3.0), (76.0, 3.0))]


def _ground() -> list[Item]:
    items: list[Item] = solid((10.0, 5.0), (17.0, 56.0))
    items += slope((17.0, 5.0), (76.0, 5.0))
    items += run([(4.0, 40.0), (26.0, 40.0)], 2.8)
    items += [box((26.0, 35.6), (28.0, 44.4), Pen.FIRM)]
    items += run([(4.0, 24.0), (24.0, 24.0)], 2.4)
    items += [box((24.0, 20.4), (25.6, 27.6), Pen.FIRM)]
    items += flow((31.0, 42.5), (38.0, 42.5)) + flow((33.0, 25.5), (27.0, 25.5))
    items += [word((48.0, 43.5), "burnt gas"), word((40.0, 26.5), "air")]
    items += [Line((28.0, 35.6), (66.0, 35.6), Pen.FINE, Ink.GREY)]
    items += [Line((25.6, 20.4), (50.0, 20.4), Pen.FINE, Ink.GREY)]
    items += tape((62.0, 35.6), (62.0, 13.0), "outlet") + tape((46.0, 20.4), (46.0, 13.0))
    items += [word((53.5, 16.0), "intake")]
    items += [level((19.0, 13.0), (76.0, 13.0)), word((30.0, 8.6), "usual snow")]
    items += not_here((71.0, 40.0), (71.0, 13.0))
    return [*items, Line((38.0, 40.0), (73.0, 40.0), Pen.FINE, Ink.GREY)]


def _straight() -> list[Item]:
    items: list[Item] = _window((42.0, 32.0), (66.0, 54.0))
    items += end_on((16.0, 14.0), 2.6)
    items += [Line((42.0, 32.0), (42.0, 14.0), Pen.FINE, Ink.GREY)]
    items += not_here((18.6, 14.0), (42.0, 14.0)) + not_here((46.0, 14.0), (46.0, 32.0))
    items += [datum((42.0, 32.0))]
    items += tape((18.4, 15.7), (41.3, 31.4), "shortest")
    items += [word((16.0, 6.5), "outlet"), word((54.0, 57.0), "any opening for air")]
    return items


def _stud_space() -> list[Item]:
    items: list[Item] = []
    items += [box((22.0, 3.0), (26.0, 36.0)), box((54.0, 3.0), (58.0, 36.0))]
    items += [box((22.0, 40.0), (26.0, 57.0)), box((54.0, 40.0), (58.0, 57.0))]
    items += solid((10.0, 36.0), (31.0, 40.0)) + solid((49.0, 36.0), (70.0, 40.0))
    items += lumber((26.0, 31.0), (32.0, 35.5)) + lumber((48.0, 31.0), (54.0, 35.5))
    items += run([(40.0, 3.0), (40.0, 57.0)], 4.6, "double")
    items += [
        Line((31.0, 30.4), (35.4, 30.4), Pen.FIRM, Ink.INK, Dash.FINE),
        Line((44.6, 30.4), (49.0, 30.4), Pen.FIRM, Ink.INK, Dash.FINE),
    ]
    items += [across((40.0, 54.0), (0.0, 1.0), 8.0, Pen.HEAVY)]
    items += flow((33.8, 8.0), (33.8, 27.0)) + flow((46.2, 8.0), (46.2, 27.0))
    items += flow((33.8, 32.0), (33.8, 48.0)) + flow((46.2, 32.0), (46.2, 48.0))
    items += [word((11.0, 26.0), "header plate"), leader((18.0, 28.4), (28.0, 32.5))]
    items += [
        word((68.5, 20.0), "air stays"),
        word((68.5, 16.2), "open"),
        leader((61.5, 20.0), (47.2, 20.0)),
    ]
    items += [word((11.0, 49.5), "firestop"), leader((17.0, 51.4), (31.4, 53.8))]
    return items


FIGURES = (
    Figure("outlet-openings", "Distances of an outlet from a window",
           "A window seen from outside, with three outlets: one below it, one beside it, one above "
           "it. Each tape runs from the outlet to the nearest edge of the window.", _openings),
    Figure("outlet-ground", "Height of outlet and air intake above the ground",
           "Outlet and air intake stand out of a wall. The tapes run upright from the usual level "
           "of snow to the lowest edge of each; from the center line is crossed out.", _ground),
    Figure("outlet-straight", "Shortest way from an outlet to an opening",
           "An outlet low beside a window. The tape goes slanting to the nearest corner; the level "
           "and the upright way are crossed out.", _straight),
    Figure("stud-space", "A vent for a wall furnace in its stud space",
           "Section of a stud wall through a ceiling: the double-wall vent between the studs, its "
           "header plate with open spacers below the ceiling, air passing on both sides, and the "
           "firestop above.",
           _stud_space),
)  # fmt: skip
