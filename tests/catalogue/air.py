"""Air for burning: random rooms and openings, and the catalogue's figures reckoned from them.

The rules work on one structure of rooms, burners and openings. The catalogue's facts (volume of
the rooms that communicate, free area of the openings of a method) are reckoned here anew, in feet
and inches, from structures of which everything is told. That an untold part leaves a verdict open
is tested with the rules.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from random import Random

from tests.catalogue.reading import Get, Made, Read, in_unit, num, si, word
from tests.catalogue.values import UNKNOWN, Value

from fluewright.facts import FactValue, Unknown
from fluewright.facts.air_ways import AirWays, Burns, Hole, Known, Room
from fluewright.quantity import Dimension, Measured

D = Dimension
SIDES = ("sides", "back", "front")
NEAR_LIMIT = (1.0, 1.0, 1.001, 0.999, 0.5, 2.0)
INPUTS = (20_000.0, 40_000.0, 60_000.0, 100_000.0, 160_000.0)
SHARE = {"none": 1.0, "wood": 0.25, "metal": 0.75}
# Divisors and factors of the texts: where areas and volumes meet their limits.
PER_IN2 = (4000.0, 2000.0, 3000.0, 1000.0, 500.0)
PER_FT3 = (20.0, 20.0, 1000 * 0.6 / 21, 1000 * 0.35 / 21, 40.0)


def _measure(number: float, unit: str, dimension: Dimension) -> Measured:
    return Measured(si(number, unit), dimension)


def made(rng: Random) -> FactValue:
    """A space, perhaps with neighbors, and openings; sizes at and beside their limits."""
    plates = rng.sample(INPUTS, rng.choice((1, 1, 2)))
    load = sum(plates)
    names = ["start", "next", "upper", "bath"][: rng.choice((1, 2, 2, 3, 4))]
    story = {"next": "same", "upper": "other", "bath": "same"}
    holes = [_hole(rng, n, names, story, load) for n in range(rng.choice((0, 1, 2, 2, 3, 4)))]
    rooms = {name: _room(rng, name, load, len(names)) for name in names}
    burners = tuple(
        Burns(f"b{n}", _measure(plate, "Btu/h", D.POWER), rng.random() < 0.4, rng.random() < 0.2)
        for n, plate in enumerate(plates)
    )
    bore = rng.choice((3.0, 4.0, 6.0))
    pipes = _measure(math.pi / 4 * bore * bore, "in2", D.AREA)
    rooms["start"] = Room("start", rooms["start"].kind, rooms["start"].volume, burners, pipes)
    return AirWays("start", rooms, tuple(holes), True)


def _room(rng: Random, name: str, load: float, rooms: int) -> Room:
    volume = load / rng.choice(PER_FT3) / rng.choice((1, 1, rooms)) * rng.choice(NEAR_LIMIT)
    kind = "bathroom" if name == "bath" else rng.choice(("room", "closet", "bedroom"))
    burners: tuple[Burns, ...] = ()
    if name != "start" and rng.random() < 0.2:
        burners = (Burns("more", _measure(20_000.0, "Btu/h", D.POWER), False, False),)
    return Room(name, kind, _measure(volume, "ft3", D.VOLUME), burners, Measured(0.0, D.AREA))


def _hole(rng: Random, n: int, names: list[str], story: dict[str, str], load: float) -> Hole:
    room = rng.choice(("start", "start", "start", rng.choice(names)))
    others = [name for name in names if name != room]
    to = rng.choice((*others, "outdoors", "outdoors"))
    by = rng.choice(("direct", "direct", "vertical_duct", "horizontal_duct"))
    if to != "outdoors" and rng.random() < 0.25:
        by = "doorway"
    cover = rng.choice(("none", "wood", "metal"))
    free = max(load / rng.choice(PER_IN2), rng.choice((0.0, 100.0))) * rng.choice(NEAR_LIMIT)
    named = _measure(free, "in2", D.AREA) if rng.random() < 0.3 else None
    far = story.get(to if room == "start" else room if to == "start" else "next", "same")
    return Hole(
        f"h{n}", room, to, "outdoors" if to == "outdoors" else far, by,
        rng.choice(("none_permanent", "removable_frame_left", "solid")) if by == "doorway" else "",
        _measure(free / SHARE[cover], "in2", D.AREA), named, cover,
        _edge(rng), _edge(rng), _measure(rng.choice((3.0, 3.0, 6.0, 2.99)), "in", D.LENGTH),
    )  # fmt: skip


def _edge(rng: Random) -> Measured:
    return _measure(rng.choice((2.0, 6.0, 12.0, 12.0, 12.01, 40.0)), "in", D.LENGTH)


def number(value: Known, unit: str) -> float:
    """A told reading as a number of a unit."""
    if not isinstance(value, Measured):
        raise TypeError("structures drawn here are told in full")
    return in_unit(value.value, unit)


def free(hole: Hole) -> float:
    """Free area: as named, else the share of its louver. [in2]"""
    if hole.free is not None:
        return number(hole.free, "in2")
    return number(hole.gross, "in2") * SHARE[hole.cover]


def at_least(a: float, b: float) -> bool:
    """Not below, but for rounding."""
    return a >= b - 1e-9 * max(abs(a), abs(b), 1.0)


def reach(ways: AirWays, joins: Callable[[list[Hole]], bool]) -> list[str]:
    """The space and every room that it is joined to, step by step."""
    found = ["start"]
    for room in found:
        for other in ways.rooms:
            between = [h for h in ways.holes if {h.room, h.to} == {room, other}]
            if other not in found and between and joins(between):
                found.append(other)
    return found


def open_doorway(holes: Iterable[Hole]) -> bool:
    """Whether one is a doorway that can take no door."""
    return any(h.by == "doorway" and h.door == "none_permanent" for h in holes)


def one_space(ways: AirWays) -> list[str]:
    """Rooms joined by doorways: one space."""
    return reach(ways, open_doorway)


def load_of(ways: AirWays, rooms: Iterable[str], fan: bool | None = None) -> float:
    """Inputs in rooms, of all burners, or of those with or without a fan. [Btu/h]"""
    return sum(
        number(burner.input, "Btu/h")
        for room in rooms
        for burner in _burners(ways, room)
        if fan is None or burner.fan is fan
    )


def _burners(ways: AirWays, room: str) -> tuple[Burns, ...]:
    burners = ways.rooms[room].burners
    if isinstance(burners, Unknown):
        raise TypeError("structures drawn here are told in full")
    return burners


def communicating(ways: AirWays) -> list[str]:
    """Rooms whose volume counts: through doorways, and through openings large enough."""
    load = load_of(ways, one_space(ways))

    def joins(holes: list[Hole]) -> bool:
        if open_doorway(holes):
            return True
        real = [h for h in holes if h.by != "doorway"]
        if not real:
            return False
        if real[0].leads == "other":
            return at_least(sum(free(h) for h in real), 0.002 * load)
        good = [h for h in real if at_least(free(h), max(100.0, load / 1000)) and wide(h)]
        return any(high(a) and low(b) for a in good for b in good if a is not b)

    return reach(ways, joins)


def high(hole: Hole) -> bool:
    """Starts within 12 in of the top."""
    return at_least(12.0, number(hole.top, "in"))


def low(hole: Hole) -> bool:
    """Starts within 12 in of the bottom."""
    return at_least(12.0, number(hole.bottom, "in"))


def wide(hole: Hole) -> bool:
    """Not narrower than 3 in."""
    return at_least(number(hole.narrow, "in"), 3.0)


def volume(ways: AirWays, rooms: Iterable[str]) -> float:
    """Volume of rooms. [ft3]"""
    return sum(number(ways.rooms[room].volume, "ft3") for room in rooms)


def outdoors(ways: AirWays) -> list[Hole]:
    """Openings of the space to outdoors."""
    own = one_space(ways)
    return [h for h in ways.holes if h.room in own and h.leads == "outdoors" and h.by != "doorway"]


def to_rooms(ways: AirWays, story: str) -> list[list[Hole]]:
    """Openings of the space to rooms of its or another story, room by room."""
    own = one_space(ways)
    found = [h for h in ways.holes if h.room in own and h.leads == story and h.by != "doorway"]
    return [[h for h in found if h.to == room] for room in dict.fromkeys(h.to for h in found)]


def best_two(ways: AirWays, level: bool) -> float:
    """Largest smaller area of a high and a low opening, with or without a level duct. [in2]"""
    found = [
        min(free(a), free(b))
        for a in outdoors(ways)
        for b in outdoors(ways)
        if a is not b and high(a) and low(b) and wide(a) and wide(b)
        if ("horizontal_duct" in (a.by, b.by)) is level
    ]
    return max(found, default=0.0)


def best_one(ways: AirWays) -> float:
    """Largest area of one high opening. [in2]"""
    return max((free(h) for h in outdoors(ways) if high(h) and wide(h)), default=0.0)


def second(holes: list[Hole]) -> float:
    """The smaller of the two largest openings; none where there is one. [in2]"""
    areas = sorted((free(h) for h in holes), reverse=True)
    return areas[1] if len(areas) > 1 else 0.0


def sets(ways: AirWays) -> list[list[Hole]]:
    """Openings that have to work together."""
    return [h for h in (outdoors(ways), *to_rooms(ways, "same")) if len(h) > 1]


def smallest_wet_room(ways: AirWays) -> float:
    """Volume of the smallest bedroom or bathroom that gives air. [ft3]"""
    own = one_space(ways)
    beyond = [h.to for h in ways.holes if h.room in own and h.to in ways.rooms]
    wet = [r for r in (*own, *beyond) if ways.rooms[r].kind in ("bedroom", "bathroom")]
    return min((volume(ways, [room]) for room in wet), default=math.inf)


def _loads(value: FactValue) -> list[tuple[float, str]]:
    """Inputs that limits are worked out from."""
    if not isinstance(value, AirWays):
        return []
    return [(load_of(value, communicating(value)), "Btu/h")] * 2


WAYS = Made(made, _loads)


def of_ways(work: Callable[[AirWays], Value]) -> Read:
    """A figure reckoned from the rooms and openings."""

    def of(get: Get) -> Value:
        ways = get("air_ways")
        return work(ways) if isinstance(ways, AirWays) else UNKNOWN

    return Read({"air_ways": WAYS}, of)


def unvented(ways: AirWays) -> float:
    """Inputs of what burns without a vent in the space. [Btu/h]"""
    return sum(
        number(b.input, "Btu/h")
        for room in one_space(ways)
        for b in _burners(ways, room)
        if b.unvented is True
    )


NAMES: dict[str, Read] = {
    "communicating_volume_ft3": of_ways(lambda w: volume(w, communicating(w))),
    "communicating_input_btuh": of_ways(lambda w: load_of(w, communicating(w))),
    "input_fan_btuh": of_ways(lambda w: load_of(w, communicating(w), True)),
    "input_non_fan_btuh": of_ways(lambda w: load_of(w, communicating(w), False)),
    "total_input_space_btuh": of_ways(lambda w: load_of(w, one_space(w))),
    "outdoor_opening_count": of_ways(lambda w: float(len(outdoors(w)))),
    "outdoor_pair_area_in2": of_ways(lambda w: best_two(w, level=False)),
    "outdoor_pair_level_area_in2": of_ways(lambda w: best_two(w, level=True)),
    "outdoor_one_area_in2": of_ways(best_one),
    "opening_free_area_in2": of_ways(lambda w: second(outdoors(w))),
    "outdoor_level_duct": of_ways(lambda w: any(h.by == "horizontal_duct" for h in outdoors(w))),
    "connector_area_sum_in2": of_ways(
        lambda w: sum(number(w.rooms[r].connectors, "in2") for r in one_space(w))
    ),
    "same_story_opening": of_ways(lambda w: bool(to_rooms(w, "same"))),
    "same_story_area_in2": of_ways(
        lambda w: min((second(h) for h in to_rooms(w, "same")), default=math.inf)
    ),
    "other_story_opening": of_ways(lambda w: bool(to_rooms(w, "other"))),
    "opening_interstory_area_in2": of_ways(
        lambda w: min((sum(map(free, h)) for h in to_rooms(w, "other")), default=math.inf)
    ),
    "openings_paired": of_ways(lambda w: bool(sets(w))),
    "opening_top_distance_in": of_ways(
        lambda w: max((min(number(h.top, "in") for h in s) for s in sets(w)), default=0.0)
    ),
    "opening_bottom_distance_in": of_ways(
        lambda w: max((min(number(h.bottom, "in") for h in s) for s in sets(w)), default=0.0)
    ),
    "bedroom_bath_volume_ft3": of_ways(smallest_wet_room),
    "bedroom_bath_gives_air": of_ways(lambda w: smallest_wet_room(w) < math.inf),
    "rooms_and_openings_told": of_ways(lambda w: True),
    "opening_end": word("opening_leads_to", ("outdoors", "same", "other")),
    "unvented_aggregate_input_btuh": of_ways(unvented),
    "ach": num("ach", "1/h"),
    "mech_air_cfm": num("mech_air_flow", "cfm"),
    "exhaust_fans_total_cfm": num("exhaust_fans", "cfm"),
    **{f"single_opening_clearances_in[{s}]": num(f"clearance_{s}", "in") for s in SIDES},
    "unvented_space_volume_ft3": of_ways(lambda w: volume(w, one_space(w))),
}
