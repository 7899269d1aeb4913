"""Single questions about the openings of a space: between rooms, where they start, bedrooms."""

from __future__ import annotations

from fluewright.facts import Unknown
from fluewright.facts.air_ways import AirWays, Hole, Known, asking
from fluewright.finding import Comparison, Limit, Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, from_unit, show_measured, smaller
from fluewright.rules.air_methods import (
    enough,
    indoor_need,
    load_steps,
    missing,
)
from fluewright.rules.air_outdoors import two_need
from fluewright.rules.air_sum import (
    THOUSAND,
    compared,
    exact,
    figure,
    free_area,
    input_of,
    joined,
    one_space,
    outdoor_holes,
    per,
    same_story_need,
    summed,
)
from fluewright.rules.logic import Context, FactNum, LimitNum, Node, Num, Outcome, Truth
from fluewright.source import Step
from fluewright.survey import ABSENT

CUBIC_FOOT = from_unit(1.0, "ft3")


def indoor_holes(ways: AirWays, story: str) -> dict[str, list[Hole]] | Unknown:
    """Openings of the space to other rooms on the same or another story, by room."""
    if isinstance(ways.told, Unknown):
        return ways.told
    found: dict[str, list[Hole]] = {}
    for hole in ways.holes:
        if hole.room not in one_space(ways) or hole.by == "doorway":
            continue
        if not hole.leads:
            how = "trace it, and see on which story the other room is"
            return asking("where the opening leads", hole.name, how)
        if hole.leads == story:
            found.setdefault(hole.to, []).append(hole)
    return found


def has_same_story(ctx: Context, ways: AirWays) -> Outcome:
    """Whether the space opens to a room on its story."""
    return _has(ways, "same")


def has_other_story(ctx: Context, ways: AirWays) -> Outcome:
    """Whether the space opens to a room on another story."""
    return _has(ways, "other")


def _has(ways: AirWays, story: str) -> Outcome:
    found = indoor_holes(ways, story)
    if isinstance(found, Unknown):
        return missing(found)
    return Outcome(Truth.YES if found else Truth.NO)


def same_story(ctx: Context, ways: AirWays) -> Outcome:
    """Two openings to each room on the same story, each large enough."""
    rooms, load = indoor_holes(ways, "same"), input_of(ways, one_space(ways))
    if isinstance(rooms, Unknown):
        return missing(rooms)
    if isinstance(load, Unknown):
        return missing(load)
    need = same_story_need(ctx, load)
    return worst([_second(ctx, ways, name, holes, need) for name, holes in rooms.items()])


def _second(ctx: Context, ways: AirWays, room: str, holes: list[Hole], need: Known) -> Outcome:
    """The smaller of the two largest openings decides."""
    areas = [free_area(ctx, hole) for hole in holes]
    unknown = [a for a in areas if isinstance(a, Unknown)]
    if isinstance(need, Unknown):
        return missing(need)
    if len(holes) < 2:
        text = f"one opening to {room}; two of {show_measured(need)} free area each are needed"
        return Outcome(Truth.NO, steps=(Step(text),))
    if unknown:
        return missing(*unknown)
    known_ = sorted((a for a in areas if isinstance(a, Measured)), key=lambda a: -a.value)
    steps = (*load_steps(ways, one_space(ways)), Step(f"openings to {room}: {len(holes)}"))
    return enough("free area of the smaller opening", smaller(*known_[:2]), need, steps)


def other_story(ctx: Context, ways: AirWays) -> Outcome:
    """Openings to a room on another story, together large enough."""
    rooms, load = indoor_holes(ways, "other"), input_of(ways, one_space(ways))
    if isinstance(rooms, Unknown):
        return missing(rooms)
    if isinstance(load, Unknown):
        return missing(load)
    need = per(load, THOUSAND, figure(ctx, "air.other_story_per_thousand"), Dimension.AREA)
    found = []
    for name, holes in rooms.items():
        total = summed([free_area(ctx, hole) for hole in holes], Dimension.AREA)
        steps = (*load_steps(ways, one_space(ways)), Step(f"openings to {name}: {len(holes)}"))
        found.append(enough("free area of the openings together", total, need, steps))
    return worst(found)


def worst(found: list[Outcome]) -> Outcome:
    """Kleene's AND that keeps the numbers of the one that decides."""
    for truth in (Truth.NO, Truth.UNKNOWN):
        chosen = [o for o in found if o.truth is truth]
        if chosen:
            return chosen[0]
    return found[0] if found else Outcome(Truth.YES)


def two_sets(ctx: Context, ways: AirWays) -> list[list[Hole]] | Unknown:
    """The sets of openings that must lie high and low: outdoors, and to each room of the story."""
    outdoors, rooms = outdoor_holes(ways), indoor_holes(ways, "same")
    if isinstance(outdoors, Unknown):
        return outdoors
    if isinstance(rooms, Unknown):
        return rooms
    return [h for h in (outdoors, *rooms.values()) if len(h) > 1]


def has_two(ctx: Context, ways: AirWays) -> Outcome:
    """Whether two openings work together."""
    found = two_sets(ctx, ways)
    if isinstance(found, Unknown):
        return missing(found)
    return Outcome(Truth.YES if found else Truth.NO)


def placed(ctx: Context, ways: AirWays) -> Outcome:
    """Of each set one opening starts near the top and one near the bottom."""
    found = two_sets(ctx, ways)
    if isinstance(found, Unknown):
        return missing(found)
    ends = []
    for holes in found:
        ends.append(_starts(ctx, "distance from the top", [h.top for h in holes]))
        ends.append(_starts(ctx, "distance from the bottom", [h.bottom for h in holes]))
    return _least_spare(ends)


def _least_spare(found: list[Outcome]) -> Outcome:
    decided = worst(found)
    if decided.truth is not Truth.YES:
        return decided
    return min(found, key=lambda o: o.comparisons[0].margin.value)


def _starts(ctx: Context, label: str, distances: list[Known]) -> Outcome:
    most = figure(ctx, "air.opening_edge_max")
    known_ = [d for d in distances if isinstance(d, Measured)]
    open_ = tuple(q for d in distances if isinstance(d, Unknown) for q in d.asks)
    nearest = min(known_, key=lambda d: d.value, default=None)
    if nearest is None:
        return Outcome(Truth.UNKNOWN, missing=open_)
    margin = Measured(most - nearest.value, Dimension.LENGTH, nearest.tolerance, nearest.tool)
    limit = Limit(most, "in", Sense.AT_MOST)
    truth = compared(exact(most, Dimension.LENGTH), nearest)
    comparison = (Comparison(label, nearest, limit, margin),)
    if truth is Truth.NO and open_:
        return Outcome(Truth.UNKNOWN, missing=open_)
    if truth is Truth.UNKNOWN:
        why = "the tolerance reaches across the limit"
        asks = asking(label, "", "tape once more, from the same edge", why).asks
        return Outcome(truth, comparison, asks)
    return Outcome(truth, comparison)


def has_level_duct(ctx: Context, ways: AirWays) -> Outcome:
    """Whether an opening outdoors is the end of a level duct."""
    holes = outdoor_holes(ways)
    if isinstance(holes, Unknown):
        return missing(holes)
    if any(hole.by == "horizontal_duct" for hole in holes):
        return Outcome(Truth.YES)
    vague = next((hole for hole in holes if not hole.by), None)
    if vague is not None:
        how = "look: straight through, or by a duct, and which way it runs"
        return missing(asking("kind of the opening", vague.name, how))
    return Outcome(Truth.NO)


def two_areas(ctx: Context, ways: AirWays) -> Outcome:
    """Two openings outdoors, each large enough; where they start is another question."""
    holes = outdoor_holes(ways)
    if isinstance(holes, Unknown):
        return missing(holes)
    need = two_need(ctx, ways, tuple(holes))
    return _second(ctx, ways, "the outdoors", holes, need)


def bedroom_volume(ctx: Context, ways: AirWays) -> Outcome:
    """Each bedroom or bathroom that gives air has the whole volume itself."""
    own = one_space(ways)
    beyond = {h.to for h in ways.holes if h.room in own and h.to in ways.rooms}
    rooms = [
        ways.rooms[name]
        for name in dict.fromkeys((*own, *beyond))
        if ways.rooms[name].kind in ("bedroom", "bathroom")
    ]
    served = joined(ctx, ways).sure
    need = indoor_need(ctx, ways, served)
    found = []
    for room in rooms:
        steps = (*load_steps(ways, served), Step(f"the room that gives the air: {room.name}"))
        found.append(enough("volume of that room", room.volume, need, steps))
    return worst(found)


def has_unvented(ctx: Context, ways: AirWays) -> Outcome:
    """Whether something in the space burns without a vent."""
    burners = [ways.rooms[name].burners for name in one_space(ways)]
    told = [b for group in burners if not isinstance(group, Unknown) for b in group]
    if any(b.unvented is True for b in told):
        return Outcome(Truth.YES)
    unknown = [g for g in burners if isinstance(g, Unknown)]
    unknown += [b.unvented for b in told if isinstance(b.unvented, Unknown)]
    return missing(*unknown) if unknown else Outcome(Truth.NO)


def unvented_load(ctx: Context, ways: AirWays) -> Outcome:
    """Room volume against the inputs that burn without a vent."""
    rooms = one_space(ways)
    load = input_of(ways, rooms, lambda burner: burner.unvented)
    volume = summed([ways.rooms[name].volume for name in rooms], Dimension.VOLUME)
    if isinstance(load, Unknown):
        return missing(load)
    each = figure(ctx, "air.unvented_per_cubic_foot")
    need = per(load, each, CUBIC_FOOT, Dimension.VOLUME)
    steps = (Step(f"inputs without a vent: {show_measured(load)}"),)
    return enough("room volume", volume, need, steps)


@frozen
class CreditedArea(Num):
    """Free area that may be counted: what the maker names, else the share of the louver. [m2]"""

    maker: str
    gross: str
    louver: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (self.maker, self.gross, self.louver)

    def fact_name(self) -> str:
        return self.gross

    def parts(self) -> tuple[Node, ...]:
        return tuple(
            LimitNum(f"air.free_share_{kind}", Dimension.SLOPE) for kind in ("wood", "metal")
        )

    def value(self, ctx: Context) -> Measured | Unknown:
        named = ctx.fact(self.maker)
        if isinstance(named, Measured):
            return named
        if named is not ABSENT:
            why = named.reason if isinstance(named, Unknown) else "not told"
            return Unknown(why, (ctx.ask_for(self.maker, why),))
        whole, kind = FactNum(self.gross).value(ctx), ctx.fact(self.louver)
        if isinstance(whole, Unknown):
            return Unknown(whole.reason, (ctx.ask_for(self.gross, whole.reason),))
        if isinstance(kind, Unknown):
            return Unknown(kind.reason, (ctx.ask_for(self.louver, kind.reason),))
        share = LimitNum(f"air.free_share_{kind}", Dimension.SLOPE).value(ctx)
        return whole.scaled(share.value) if isinstance(share, Measured) else share
