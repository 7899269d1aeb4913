"""Air from outdoors through openings: two, one, or fewer for what the rooms already hold."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations

from fluewright.facts import Unknown
from fluewright.facts.air_ways import AirWays, Hole, Known, asking
from fluewright.finding import MeasureNext
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, show_measured, smaller
from fluewright.rules.air_methods import (
    enough,
    indoor_need,
    load_steps,
    missing,
    over_rooms,
    share_of,
)
from fluewright.rules.air_sum import (
    SQUARE_INCH,
    every,
    exact,
    figure,
    free_area,
    input_of,
    near_edge,
    one_space,
    outdoor_holes,
    per,
    volume_of,
    wide,
)
from fluewright.rules.logic import Context, Outcome, Truth
from fluewright.source import Step


@frozen
class Way:
    """Openings that together would do: their least free area against what each needs."""

    have: Known
    need: Known
    placed: Truth
    asks: tuple[MeasureNext, ...]
    steps: tuple[Step, ...]
    kind: str


def outdoor_need(ctx: Context, ways: AirWays, key: str) -> Known:
    """Free area of an opening by an input for each square inch. [m2]"""
    load = input_of(ways, one_space(ways))
    if isinstance(load, Unknown):
        return load
    return per(load, figure(ctx, key), SQUARE_INCH, Dimension.AREA)


def two_need(ctx: Context, ways: AirWays, holes: tuple[Hole, ...]) -> Known:
    """Free area of each of two openings; one level duct asks the larger figure of both."""
    if any(not hole.by for hole in holes):
        hole = next(h for h in holes if not h.by)
        return asking("kind of the opening", hole.name, "look: straight through, or by a duct")
    level = any(hole.by == "horizontal_duct" for hole in holes)
    kind = "horizontal" if level else "direct"
    return outdoor_need(ctx, ways, f"air.outdoor_{kind}_per_in2")


def one_need(ctx: Context, ways: AirWays) -> Known:
    """Free area of a single opening: by input, and by the connectors in the space. [m2]"""
    by_input = outdoor_need(ctx, ways, "air.outdoor_single_per_in2")
    parts = [ways.rooms[name].connectors for name in one_space(ways)]
    pipes = exact(0.0, Dimension.AREA)
    for part in parts:
        if isinstance(part, Unknown):
            return part
        pipes = pipes + part
    if isinstance(by_input, Unknown):
        return by_input
    low, high = max(by_input.low, pipes.low), max(by_input.high, pipes.high)
    if low == high:
        return exact(low, Dimension.AREA)
    return Measured.between(low, high, Dimension.AREA, pipes.tool)


def ways_out(ctx: Context, ways: AirWays, two: bool) -> list[Way] | Unknown:
    """Every choice of two openings, or of one, that lead outdoors."""
    return ctx.once(_pairs_out if two else _singles_out, ways)


def _pairs_out(ctx: Context, ways: AirWays) -> list[Way] | Unknown:
    holes = outdoor_holes(ways)
    if isinstance(holes, Unknown):
        return holes
    return [_two(ctx, ways, high, low) for high, low in permutations(holes, 2)]


def _singles_out(ctx: Context, ways: AirWays) -> list[Way] | Unknown:
    holes = outdoor_holes(ways)
    if isinstance(holes, Unknown):
        return holes
    return [_one(ctx, ways, hole) for hole in holes]


def _two(ctx: Context, ways: AirWays, high: Hole, low: Hole) -> Way:
    areas = [free_area(ctx, hole) for hole in (high, low)]
    placed = every(
        near_edge(ctx, high.top), near_edge(ctx, low.bottom), wide(ctx, high), wide(ctx, low)
    )
    known_ = [a for a in areas if isinstance(a, Measured)]
    have: Known = (
        smaller(*known_)
        if len(known_) == len(areas)
        else Unknown("", tuple(q for a in areas if isinstance(a, Unknown) for q in a.asks))
    )
    asks = _asks(high.top, low.bottom, high.narrow, low.narrow)
    steps = (*_area_steps(ctx, high), *_area_steps(ctx, low))
    need = two_need(ctx, ways, (high, low))
    return Way(have, need, placed, asks, steps, "two openings outdoors")


def _one(ctx: Context, ways: AirWays, hole: Hole) -> Way:
    placed = every(near_edge(ctx, hole.top), wide(ctx, hole))
    return Way(free_area(ctx, hole), one_need(ctx, ways), placed, _asks(hole.top, hole.narrow),
               _area_steps(ctx, hole), "one opening outdoors")  # fmt: skip


def _asks(*readings: Known) -> tuple[MeasureNext, ...]:
    return tuple(q for r in readings if isinstance(r, Unknown) for q in r.asks)


def _area_steps(ctx: Context, hole: Hole) -> tuple[Step, ...]:
    area = free_area(ctx, hole)
    if isinstance(area, Unknown):
        return ()
    of = ""
    if hole.free is None and hole.cover in ("wood", "metal") and isinstance(hole.gross, Measured):
        share = figure(ctx, f"air.free_share_{hole.cover}")
        of = f" = {share:.0%} of {show_measured(hole.gross)} ({hole.cover} louver)"
    return (Step(f"free area of {hole.name}: {show_measured(area)}{of}"),)


Factor = Callable[[Measured], Known]


def _best(ways: AirWays, found: list[Way] | Unknown, factor: Factor, absent: Step) -> Outcome:
    """Met by the first choice that does; failing only where none can."""
    if isinstance(found, Unknown):
        return missing(found)
    loads = load_steps(ways, one_space(ways))
    results = [_judged(loads, way, factor) for way in found]
    for truth in (Truth.YES, Truth.UNKNOWN):
        chosen = [r for r in results if r.truth is truth]
        if chosen:
            return chosen[0]
    if not results:
        return Outcome(Truth.NO, steps=(absent,))
    return max(results, key=share_of)


def _judged(loads: tuple[Step, ...], way: Way, factor: Factor) -> Outcome:
    need = factor(way.need) if isinstance(way.need, Measured) else way.need
    area = enough(f"free area ({way.kind})", way.have, need, (*loads, *way.steps))
    if area.truth is Truth.NO:
        return area
    if way.placed is Truth.NO:
        text = f"{way.kind}: not where the air can move, or too narrow to count"
        return Outcome(Truth.NO, steps=(*area.steps, Step(text)))
    if way.placed is Truth.UNKNOWN:
        return Outcome(Truth.UNKNOWN, missing=(*area.missing, *way.asks), steps=area.steps)
    return area


def _whole(need: Measured) -> Known:
    return need


def outdoor_two(ctx: Context, ways: AirWays) -> Outcome:
    """Two openings outdoors, high and low."""
    return _best(ways, ways_out(ctx, ways, two=True), _whole, _none_there(ctx, ways, two=True))


def outdoor_one(ctx: Context, ways: AirWays) -> Outcome:
    """One opening outdoors, high."""
    return _best(ways, ways_out(ctx, ways, two=False), _whole, _none_there(ctx, ways, two=False))


def _none_there(ctx: Context, ways: AirWays, two: bool) -> Step:
    """No such openings are there, and how large they would have to be."""
    kind = "direct" if two else "single"
    need = outdoor_need(ctx, ways, f"air.outdoor_{kind}_per_in2")
    words = "two openings outdoors" if two else "one opening outdoors"
    if isinstance(need, Unknown):
        return Step(f"{words}: not there")
    each = "each" if two else "at least"
    return Step(f"{words}: not there; {show_measured(need)} {each} would be needed")


def combined(ctx: Context, ways: AirWays) -> Outcome:
    """Outdoor openings, reduced by the share of the volume that is there indoors."""
    return over_rooms(ctx, ways, lambda rooms: _combined(ctx, ways, rooms))


def _combined(ctx: Context, ways: AirWays, rooms: tuple[str, ...]) -> Outcome:
    share = indoor_share(ctx, ways, rooms)
    absent = Step("openings outdoors: none")
    if isinstance(share, Unknown):
        open_: Unknown = share
        tries = [
            _best(ways, ways_out(ctx, ways, t), lambda _: open_, absent) for t in (True, False)
        ]
        # No share of the volume helps where no opening lies right.
        return tries[1] if all(t.truth is Truth.NO for t in tries) else missing(share)
    low, high = (min(1.0, max(0.0, s)) for s in share)

    def factor(need: Measured) -> Known:
        if low == high:
            return need.scaled(1.0 - low)
        ends = need.low * (1.0 - high), need.high * (1.0 - low)
        return Measured.between(*ends, Dimension.AREA, need.tool, need.evidence)

    text = f"{1.0 - high:.2f}" if high - low < 0.005 else f"{1.0 - high:.2f} to {1.0 - low:.2f}"
    step = Step(f"reduction factor 1 - volume there / volume needed: {text}")
    tries = [_best(ways, ways_out(ctx, ways, two), factor, absent) for two in (True, False)]
    for truth in (Truth.YES, Truth.UNKNOWN):
        chosen = [t for t in tries if t.truth is truth]
        if chosen:
            return chosen[0]._replace(steps=(step, *chosen[0].steps))
    best = max(tries, key=lambda t: (bool(t.comparisons), share_of(t)))
    return best._replace(steps=(step, *best.steps))


def indoor_share(
    ctx: Context, ways: AirWays, rooms: tuple[str, ...]
) -> tuple[float, float] | Unknown:
    """Volume there over volume needed, least and greatest."""
    need = indoor_need(ctx, ways, rooms)
    volume = volume_of(ways, rooms)
    if isinstance(need, Unknown):
        return need
    if isinstance(volume, Unknown):
        return volume
    if need.low <= 0.0:
        return Unknown("no input in the space", asking("rated input", ways.start, "plates").asks)
    return volume.low / need.high, volume.high / need.low
