"""Arithmetic of air: inputs, volumes and free areas summed over rooms and openings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import combinations

from fluewright.edition import NumberLimit
from fluewright.facts import Unknown
from fluewright.facts.air_ways import AirWays, Burns, Hole, Known, Room, asking
from fluewright.finding import CLOSE, MeasureNext
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, from_unit
from fluewright.rules.base import LimitSpec
from fluewright.rules.logic import Context, Truth

THOUSAND = from_unit(1000.0, "Btu/h")  # the codes count inputs in thousands of Btu/h [W]
SQUARE_INCH = from_unit(1.0, "in2")  # and openings in square inches [m2]


def _numbers(dimension: Dimension, *keys: str) -> dict[str, LimitSpec]:
    return {key: ("number", dimension, None) for key in keys}


# Spaces whose volume is no room air, whatever opens to them.
NO_ROOMS = ("outdoors", "attic", "crawl", "chase", "concealed", "porch")
# Every figure that the arithmetic takes from an edition.
LIMITS: Mapping[str, LimitSpec] = {
    **_numbers(Dimension.VOLUME, "air.volume_per_thousand"),
    **_numbers(Dimension.FLOW, "air.infiltration_no_fan", "air.infiltration_fan",
               "air.supply_per_thousand"),
    **_numbers(Dimension.RATE, "air.air_changes_cap", "air.air_changes_tight"),
    **_numbers(Dimension.AREA, "air.same_story_per_thousand", "air.same_story_area_min",
               "air.other_story_per_thousand"),
    **_numbers(Dimension.POWER, "air.outdoor_direct_per_in2", "air.outdoor_horizontal_per_in2",
               "air.outdoor_single_per_in2"),
    **_numbers(Dimension.LENGTH, "air.opening_edge_max", "air.opening_narrowest_min"),
    **_numbers(Dimension.SLOPE, "air.free_share_wood", "air.free_share_metal"),
}  # fmt: skip
UNVENTED: Mapping[str, LimitSpec] = _numbers(Dimension.POWER, "air.unvented_per_cubic_foot")


def figure(ctx: Context, key: str) -> float:
    """A figure of the edition in SI."""
    entry = ctx.limit(key)
    if not isinstance(entry, NumberLimit):
        raise TypeError(f"limit {key} is not a single number")
    return entry.value


def exact(value: float, dimension: Dimension) -> Measured:
    """A number without doubt."""
    return Measured(value, dimension)


def summed(parts: Iterable[Known], dimension: Dimension) -> Known:
    """The sum; not known as soon as one part is not, with every question that is open."""
    total, asks, why = exact(0.0, dimension), list[MeasureNext](), ""
    for part in parts:
        if isinstance(part, Unknown):
            asks += part.asks
            why = why or part.reason
        else:
            total = total + part
    return Unknown(why, tuple(asks)) if asks else total


def per(amount: Measured, by: float, times: float, dimension: Dimension) -> Measured:
    """``amount`` / ``by`` x ``times``, as a thing of another dimension."""
    return Measured(
        amount.value / by * times, dimension, amount.tolerance / by * abs(times), amount.tool,
        amount.evidence,
    )  # fmt: skip


def compared(left: Known, right: Known) -> Truth:
    """Whether left is not below right."""
    if isinstance(left, Unknown) or isinstance(right, Unknown):
        return Truth.UNKNOWN
    if left.low - right.high >= -CLOSE:
        return Truth.YES
    return Truth.NO if left.high - right.low < -CLOSE else Truth.UNKNOWN


def input_of(
    ways: AirWays, rooms: Iterable[str], wanted: Callable[[Burns], bool | Unknown] | None = None
) -> Known:
    """Summed input of the burners in rooms, of all or of those that are wanted. [W]"""
    parts: list[Known] = []
    for name in rooms:
        burners = ways.rooms[name].burners
        if isinstance(burners, Unknown):
            parts.append(burners)
            continue
        for burner in burners:
            take = True if wanted is None else wanted(burner)
            if isinstance(take, Unknown):
                parts.append(take)
            elif take:
                parts.append(burner.input)
    return summed(parts, Dimension.POWER)


def volume_of(ways: AirWays, rooms: Iterable[str]) -> Known:
    """Summed volume of rooms. [m3]"""
    return summed((ways.rooms[name].volume for name in rooms), Dimension.VOLUME)


def free_area(ctx: Context, hole: Hole) -> Known:
    """Free area: as its maker says, else the share that the edition credits. [m2]"""
    if hole.free is not None:
        return hole.free
    if isinstance(hole.gross, Unknown) or hole.cover == "none":
        return hole.gross
    if not hole.cover:
        return asking("louver or grille", hole.name, "look: wood, metal, or none")
    return hole.gross.scaled(figure(ctx, f"air.free_share_{hole.cover}"))


# Rooms that count as one space


def one_space(ways: AirWays) -> tuple[str, ...]:
    """The space with all rooms joined to it by doorways that can take no door."""
    return _reached(ways, lambda holes: _doorway(holes))


def _doorway(holes: list[Hole]) -> Truth:
    doors = [hole.door for hole in holes if hole.by == "doorway"]
    return Truth.YES if "none_permanent" in doors else Truth.NO


def _reached(
    ways: AirWays, joins: Callable[[list[Hole]], Truth], perhaps: bool = False
) -> tuple[str, ...]:
    good = (Truth.YES, Truth.UNKNOWN) if perhaps else (Truth.YES,)
    found, queue = {ways.start: None}, [ways.start]
    while queue:
        room = queue.pop(0)
        for other, holes in _neighbors(ways, room):
            if other not in found and joins(holes) in good:
                found[other] = None
                queue.append(other)
    return tuple(found)


def _neighbors(ways: AirWays, room: str) -> Iterator[tuple[str, list[Hole]]]:
    """Other rooms that something opens to from a room, with every opening between the two."""
    between: dict[str, list[Hole]] = {}
    for hole in ways.holes:
        if hole.leads == "outdoors" or room not in (hole.room, hole.to):
            continue
        other = hole.to if hole.room == room else hole.room
        if other in ways.rooms and ways.rooms[other].kind not in NO_ROOMS:
            between.setdefault(other, []).append(hole)
    yield from between.items()


@frozen
class Joined:
    """Rooms that surely count, rooms that perhaps do, and what would tell."""

    sure: tuple[str, ...]
    perhaps: tuple[str, ...]
    asks: tuple[MeasureNext, ...]


def joined(ctx: Context, ways: AirWays) -> Joined:
    """The rooms whose volume counts: through doorways, and openings of the size asked for."""
    return ctx.once(_joined, ways)


def _joined(ctx: Context, ways: AirWays) -> Joined:
    served = input_of(ways, one_space(ways))
    questions: dict[MeasureNext, None] = {}

    def enough(holes: list[Hole]) -> Truth:
        truth, asks = joins(ctx, holes, served)
        questions.update(dict.fromkeys(asks))
        return truth

    sure = _reached(ways, enough)
    questions.clear()
    perhaps = _reached(ways, enough, perhaps=True)
    asks = tuple(questions) if len(perhaps) > len(sure) else ()
    return Joined(sure, perhaps, asks)


def joins(ctx: Context, holes: list[Hole], served: Known) -> tuple[Truth, tuple[MeasureNext, ...]]:
    """Whether the openings between two rooms join them, and what is not known of them."""
    if _doorway(holes) is Truth.YES:
        return Truth.YES, ()
    real = [hole for hole in holes if hole.by != "doorway"]
    doorway = next((h for h in holes if h.by == "doorway" and not h.door), None)
    if doorway is not None:
        how = "look: frame and hinges of a door that was taken off, or a finished opening"
        return Truth.UNKNOWN, asking("door of the doorway", doorway.name, how).asks
    if not real:
        return Truth.NO, ()
    asks = tuple(q for h in real for q in _open_questions(ctx, h))
    if isinstance(served, Unknown):
        return Truth.UNKNOWN, (*served.asks, *asks)
    if any(not hole.leads for hole in real):
        how = "see on which story the two rooms are"
        return Truth.UNKNOWN, asking("story of the two rooms", real[0].name, how).asks
    if real[0].leads == "other":
        need = per(served, THOUSAND, figure(ctx, "air.other_story_per_thousand"), Dimension.AREA)
        return compared(summed([free_area(ctx, h) for h in real], Dimension.AREA), need), asks
    return high_and_low(ctx, real, same_story_need(ctx, served)), asks


def same_story_need(ctx: Context, served: Measured) -> Measured:
    """Free area of each of two openings between rooms of one story. [m2]"""
    need = per(served, THOUSAND, figure(ctx, "air.same_story_per_thousand"), Dimension.AREA)
    least = figure(ctx, "air.same_story_area_min")
    low, high = max(need.low, least), max(need.high, least)
    if low == high:
        return exact(low, Dimension.AREA)
    return Measured.between(low, high, Dimension.AREA, need.tool, need.evidence)


def _open_questions(ctx: Context, hole: Hole) -> tuple[MeasureNext, ...]:
    readings = (free_area(ctx, hole), hole.top, hole.bottom, hole.narrow)
    return tuple(q for r in readings if isinstance(r, Unknown) for q in r.asks)


def high_and_low(ctx: Context, holes: list[Hole], need: Measured) -> Truth:
    """Whether one opening starts near the top and another near the bottom, both large enough."""
    found = [_pair(ctx, a, b, need) for x, y in combinations(holes, 2) for a, b in ((x, y), (y, x))]
    if Truth.YES in found:
        return Truth.YES
    return Truth.UNKNOWN if Truth.UNKNOWN in found else Truth.NO


def _pair(ctx: Context, high: Hole, low: Hole, need: Measured) -> Truth:
    return every(
        near_edge(ctx, high.top),
        near_edge(ctx, low.bottom),
        *(compared(free_area(ctx, hole), need) for hole in (high, low)),
        *(wide(ctx, hole) for hole in (high, low)),
    )


def every(*truths: Truth) -> Truth:
    """Kleene's AND."""
    if Truth.NO in truths:
        return Truth.NO
    return Truth.UNKNOWN if Truth.UNKNOWN in truths else Truth.YES


def near_edge(ctx: Context, distance: Known) -> Truth:
    """Whether an opening starts near enough to the top or bottom of its room."""
    return compared(exact(figure(ctx, "air.opening_edge_max"), Dimension.LENGTH), distance)


def wide(ctx: Context, hole: Hole) -> Truth:
    """Whether an opening is not too narrow to count."""
    return compared(hole.narrow, exact(figure(ctx, "air.opening_narrowest_min"), Dimension.LENGTH))


def outdoor_holes(ways: AirWays) -> list[Hole] | Unknown:
    """The openings of the space that lead outdoors."""
    if isinstance(ways.told, Unknown):
        return ways.told
    rooms = one_space(ways)
    own = [h for h in ways.holes if h.room in rooms and h.by != "doorway"]
    lost = next((h for h in own if not h.leads and _beyond_is_open(ways, h)), None)
    if lost is not None:
        how = "trace it to its end: outdoors, a vented attic or crawl space, or another room"
        return asking("where the opening leads", lost.name, how)
    return [h for h in own if h.leads == "outdoors"]


def _beyond_is_open(ways: AirWays, hole: Hole) -> bool:
    """Whether what lies beyond could be outdoors in effect: an attic or crawl space."""
    room: Room | None = ways.rooms.get(hole.to)
    return room is not None and room.kind in ("attic", "crawl")
