"""Figures for air: openings high and low, joined rooms, louvers, ducts, inlets."""

from __future__ import annotations

from fluewright.drawing.measure.parts import (
    Figure,
    box,
    cross,
    end_on,
    flow,
    heater,
    leader,
    level,
    not_here,
    run,
    slope,
    solid,
    tape,
    word,
)
from fluewright.drawing.scene import Ink, Item, Line, Pen


def _high_and_low() -> list[Item]:
    """Section of a closet: the wall between two ceilings, with an opening near each end."""
    items: list[Item] = solid((4.0, 54.0), (76.0, 57.0)) + slope((4.0, 5.0), (76.0, 5.0))
    items += solid((44.0, 20.0), (47.0, 42.0)) + solid((44.0, 50.0), (47.0, 54.0))
    items += solid((44.0, 5.0), (47.0, 10.0))
    items += [*run([(16.0, 33.0), (16.0, 54.0)], 2.2), *heater((16.0, 33.0), 2.2, 8.0, 5.0)]
    items += flow((40.0, 46.0), (54.0, 46.0)) + flow((54.0, 15.0), (40.0, 15.0))
    items += tape((58.0, 54.0), (58.0, 50.0)) + tape((58.0, 5.0), (58.0, 10.0))
    items += [Line((47.0, 50.0), (60.0, 50.0), Pen.FINE, Ink.GREY)]
    items += [Line((47.0, 10.0), (60.0, 10.0), Pen.FINE, Ink.GREY)]
    items += [word((63.0, 50.6), "to its start", "start", Ink.MEASURED)]
    items += [word((63.0, 6.6), "to its start", "start", Ink.MEASURED)]
    items += not_here((33.0, 46.0), (33.0, 54.0))
    items += [Line((31.0, 46.0), (44.0, 46.0), Pen.FINE, Ink.GREY)]
    return [*items, word((66.0, 30.0), "other room"), word((66.0, 26.2), "or outdoors")]


def _joined() -> list[Item]:
    """Plan of four rooms: an open doorway, two grilles, and a door that shuts one out."""
    items: list[Item] = solid((3.0, 55.0), (77.0, 57.0)) + solid((3.0, 3.0), (77.0, 5.0))
    items += solid((3.0, 5.0), (5.0, 55.0)) + solid((75.0, 5.0), (77.0, 55.0))
    items += solid((28.0, 5.0), (30.0, 14.0)) + solid((28.0, 22.0), (30.0, 38.0))
    items += solid((28.0, 46.0), (30.0, 55.0))
    items += solid((52.0, 5.0), (54.0, 12.0)) + solid((52.0, 22.0), (54.0, 55.0))
    items += solid((5.0, 29.0), (28.0, 31.0))
    items += end_on((13.0, 45.0), 4.0)
    items += [box((28.4, 38.0), (29.6, 46.0), Pen.THIN)]
    items += [Line((28.4, y), (29.6, y), Pen.FINE) for y in (39.6, 41.2, 42.8, 44.4)]
    items += [Line((53.0, 12.0), (53.0, 22.0), Pen.HEAVY)]
    items += cross((53.0, 17.0))
    items += flow((36.0, 42.0), (23.0, 42.0)) + flow((36.0, 18.0), (23.0, 18.0))
    items += [word((15.0, 34.6), "appliance"), word((16.0, 24.5), "counts")]
    items += [word((41.0, 32.0), "counts"), word((41.0, 48.5), "grilles")]
    items += [leader((36.4, 48.0), (30.4, 44.0))]
    items += [word((41.0, 9.4), "no door"), leader((36.0, 10.6), (30.4, 15.6))]
    return [*items, word((64.6, 33.0), "does not"), word((64.6, 29.2), "count")]


def _narrow() -> list[Item]:
    """An opening seen from the front, and a duct behind it that is narrower."""
    items: list[Item] = [box((8.0, 20.0), (40.0, 40.0), Pen.FIRM)]
    items += [box((9.6, 21.6), (38.4, 38.4), Pen.THIN), word((24.0, 12.5), "opening")]
    items += tape((14.0, 21.6), (14.0, 38.4)) + not_here((9.6, 44.5), (38.4, 44.5))
    items += [box((50.0, 24.0), (74.0, 33.0), Pen.FIRM), word((62.0, 12.5), "duct behind it")]
    items += [*tape((54.0, 24.0), (54.0, 33.0)), word((64.5, 27.6), "narrowest", ink=Ink.MEASURED)]
    return items + not_here((50.0, 44.5), (74.0, 44.5))


def _louver() -> list[Item]:
    """A louver in section: frame, blades, and the gaps between the blades."""
    items: list[Item] = solid((30.0, 50.0), (38.0, 58.0)) + solid((30.0, 2.0), (38.0, 10.0))
    blades = (10.0, 18.0, 26.0, 34.0, 42.0)
    for y in blades:
        items += [Line((31.0, y + 1.0), (37.0, y + 6.6), Pen.HEAVY)]
    items += tape((22.0, 10.0), (22.0, 50.0), "gross")
    items += [Line((20.0, 10.0), (30.0, 10.0), Pen.FINE, Ink.GREY)]
    items += [Line((20.0, 50.0), (30.0, 50.0), Pen.FINE, Ink.GREY)]
    items += tape((36.0, 31.7), (32.0, 36.0))
    items += [word((56.0, 34.0), "free gap", ink=Ink.MEASURED)]
    items += [leader((50.0, 34.6), (40.4, 31.0))]
    items += flow((60.0, 22.0), (42.0, 22.0))
    return [*items, word((62.0, 48.0), "blades fixed"), word((62.0, 44.2), "open")]


def _inlet() -> list[Item]:
    """An inlet in an outside wall: from the ground to its lowest edge."""
    items: list[Item] = solid((12.0, 6.0), (18.0, 28.0)) + solid((12.0, 44.0), (18.0, 57.0))
    items += slope((18.0, 6.0), (76.0, 6.0))
    items += [box((18.0, 26.4), (19.8, 45.6), Pen.FIRM)]
    items += [Line((18.4, y), (19.4, y - 1.2), Pen.THIN) for y in (43.0, 39.0, 35.0, 31.0)]
    items += flow((34.0, 36.0), (22.6, 36.0))
    items += [Line((18.0, 28.0), (50.0, 28.0), Pen.FINE, Ink.GREY)]
    items += tape((46.0, 6.0), (46.0, 28.0), "lowest edge")
    items += not_here((62.0, 6.0), (62.0, 36.0))
    return [*items, level((36.0, 36.0), (66.0, 36.0)), word((30.0, 10.0), "ground")]


def _single() -> list[Item]:
    """Plan of a closet with one opening: room at the sides, behind and in front."""
    items: list[Item] = solid((16.0, 52.0), (64.0, 55.0)) + solid((16.0, 6.0), (19.0, 52.0))
    items += solid((61.0, 6.0), (64.0, 52.0))
    items += [Line((19.0, 7.0), (61.0, 7.0), Pen.HEAVY), word((40.0, 2.4), "door, closed")]
    items += end_on((40.0, 33.0), 11.0)
    items += tape((19.0, 33.0), (29.0, 33.0)) + tape((51.0, 33.0), (61.0, 33.0))
    items += tape((40.0, 44.0), (40.0, 52.0)) + tape((40.0, 22.0), (40.0, 7.0))
    items += [word((24.0, 35.2), "side", ink=Ink.MEASURED)]
    items += [word((56.0, 35.2), "side", ink=Ink.MEASURED)]
    items += [word((42.0, 47.0), "back", "start", Ink.MEASURED)]
    return [*items, word((42.0, 13.6), "front", "start", Ink.MEASURED)]


FIGURES = (
    Figure("air-high-low", "Where a high and a low opening start",
           "Section of a closet with an opening near the ceiling and one near the floor. The tapes "
           "run from the ceiling to the upper edge of the high one and from the floor to the lower "
           "edge of the low one; to the middle is crossed out.", _high_and_low),
    Figure("air-joined", "Which rooms count with the room of the appliance",
           "Plan of a house: a room behind grilles and a room behind a doorway without a door "
           "count, a room behind a closed door does not.", _joined),
    Figure("air-narrow", "Narrowest side of an opening and of its duct",
           "An opening seen from the front and the duct behind it. The tape is set across the "
           "narrowest side, of the duct too; the longer side is crossed out.", _narrow),
    Figure("air-louver", "Gross size and free gap of a louver",
           "Section of a louver: the gross size inside the frame, and the free gap square between "
           "two blades, which is much less.", _louver),
    Figure("air-ground", "Height of an air inlet above the ground",
           "An inlet in an outside wall. The tape runs upright from the ground to its lowest edge; "
           "to the middle is crossed out.", _inlet),
    Figure("air-single", "Room round an appliance with a single opening",
           "Plan of a closet: tapes at both sides and behind the appliance to the walls, and in "
           "front to the closed door.", _single),
)  # fmt: skip
