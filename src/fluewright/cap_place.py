"""Where a cap may stand: the heights a roof and a wall ask for, and the way there from today.

Distances count from the face of the wall, heights from the highest point where the pipe crosses
the roof. Limits are handed in; this module knows none.

Working readings, all on the strict side: the roof climbs toward the wall or away from it, so a
part of the building whose direction is not known may come nearer when the vent moves; exactly the
far distance counts as far enough; a thing exactly at the edge of the circle lies within it.
"""

from __future__ import annotations

import math
from enum import StrEnum
from itertools import pairwise

from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Path

UPRIGHT = ("wall", "parapet", "dormer", "chimney", "neighbor_wall", "equipment")
SAME_M = 1e-9
JUST_PAST_M = 1e-6  # exactly at the edge of the circle still lies within it
PAST_M = 1.2  # how far beyond the last step the region is followed
Bounds = tuple[float, float | None]  # least and most; None where there is no most


@frozen
class CapLimits:
    """What one edition asks of a gas vent over a roof.

    ``pitch_table`` holds rows of (up to this pitch, in 12; height over the roof).
    """

    wall_from_m: float
    pitch_table: tuple[tuple[float, float], ...]
    near_above_roof_m: float
    near_above_building_m: float
    near_within_m: float
    table_up_to_m: float  # largest vent that the pitch table serves


@frozen
class Thing:
    """A part of a building near the vent."""

    name: str
    away: Measured | None
    top: Measured | None
    upright: bool = True  # a roof slope or an eave alone is no wall


@frozen
class CapSite:
    """A roof and what stands on it, as far as it is known.

    ``ridge_m`` is how far the roof climbs on: least and most; ``table_serves`` says whether the
    pitch table serves this vent at all, None where not known.
    """

    height: Measured | None
    pitch: Measured | None
    ridge_m: Bounds
    wall: Thing | None
    others: tuple[Thing, ...]
    looked_around: bool
    table_serves: bool | None


class Place(StrEnum):
    """Whether today's cap stands where it may."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    CANNOT_TELL = "cannot_tell"


@frozen
class Step:
    """Between two distances from the wall: the height that is surely needed, and surely enough.

    ``enough_m`` None: nothing known is surely enough, and ``why`` says so.
    """

    start_m: float
    end_m: float
    needed_m: float
    enough_m: float | None
    near: bool
    why: str = ""


@frozen
class Move:
    """A move after which the cap stands where it may, whatever the bounds of the readings."""

    sideways_m: float
    up_m: float

    @property
    def length_m(self) -> float:
        """Straight distance."""
        return math.hypot(self.sideways_m, self.up_m)


@frozen
class CapRegion:
    """The region where the cap may stand, today's place, and the ways in."""

    site: CapSite
    limits: CapLimits
    steps: tuple[Step, ...]
    place: Place
    up: Move | None
    sideways: Move | None
    shortest: Move | None
    missing: tuple[str, ...]

    @property
    def boundary(self) -> tuple[tuple[float, float], ...]:
        """Edge of what is surely allowed, as (distance, height); ends where nothing is. [m]"""
        points: list[tuple[float, float]] = []
        for step in self.steps:
            if step.enough_m is not None:
                points += [(step.start_m, step.enough_m), (step.end_m, step.enough_m)]
        return tuple(points)


def site_of(path: Path, limits: CapLimits) -> CapSite:
    """The site of a path's cap, from the survey.

    Args:
        path: the path with its roof.
        limits: needed for the largest size that the pitch table serves.
    """
    roof = path.roof
    near = roof.near if isinstance(roof.near, tuple) else ()
    things = [
        Thing(
            n.kind.replace("_", " "),
            _read(n.horizontal),
            _read(n.top_above_penetration),
            n.kind in UPRIGHT,
        )
        for n in near
    ]
    walls = [t for t, n in zip(things, near, strict=True) if n.kind in UPRIGHT]
    wall = min(walls, key=lambda t: t.away.value if t.away else -1.0, default=None)
    others = tuple(t for t in things if t is not wall)
    return CapSite(
        _read(roof.cap_above_penetration),
        _read(roof.pitch),
        _ridge(path, limits.near_within_m),
        wall,
        others,
        isinstance(roof.near, tuple) or roof.near is ABSENT,
        _table_serves(path, limits.table_up_to_m),
    )


def _read(value: object) -> Measured | None:
    return value if isinstance(value, Measured) else None


def _ridge(path: Path, within_m: float) -> Bounds:
    """How far uphill the roof goes on, no further than it matters."""
    ridge = path.roof.ridge
    if isinstance(ridge, Measured):
        return min(within_m, max(0.0, ridge.low)), min(within_m, max(0.0, ridge.high))
    return (within_m if ridge is ABSENT else 0.0), within_m


def _table_serves(path: Path, up_to_m: float) -> bool | None:
    """Whether the pitch table serves this vent: listed cap, not too large."""
    cap = path.pieces[-1] if path.pieces and path.pieces[-1].part == "cap" else None
    listed = cap.listed if cap is not None and isinstance(cap.listed, bool) else None
    sizes = [p.diameter for p in path.pieces if p.role == "vent" and p.part != "cap"]
    if listed is False or any(isinstance(s, Measured) and s.low > up_to_m for s in sizes):
        return False
    known = [s for s in sizes if isinstance(s, Measured) and s.high <= up_to_m]
    return True if listed and sizes and len(known) == len(sizes) else None


def cap_region(site: CapSite, limits: CapLimits) -> CapRegion:
    """The region where the cap may stand, whether it stands there today, and the ways in.

    Args:
        site: roof and surroundings.
        limits: of one edition.
    Returns:
        Steps of needed height by distance from the wall; the verdict on today's cap holds for
        every value that the readings allow. Lengths in m.
    """
    steps = _steps(site, limits)
    place = _place(site, steps)
    up = sideways = shortest = None
    if place is not Place.INSIDE:
        moves = _moves(site, steps)
        up = next((m for m in moves if m.sideways_m == 0.0), None)
        sideways = next((m for m in moves if m.up_m == 0.0), None)
        shortest = min(moves, key=lambda m: (m.length_m, m.sideways_m), default=None)
    missing = _missing(site)
    return CapRegion(site, limits, steps, place, up, sideways, shortest, missing)


def _missing(site: CapSite) -> tuple[str, ...]:
    """What is still to measure, in the order of what it settles."""
    lacks: list[str] = []
    if site.height is None:
        lacks.append("height of the cap opening over the roof, at the uphill side of the pipe")
    if not site.looked_around:
        lacks.append("what stands up from the roof near the vent, and how far away")
    if site.pitch is None:
        lacks.append("pitch of the roof")
    for thing in (*((site.wall,) if site.wall else ()), *site.others):
        if thing.away is None:
            lacks.append(f"level distance from the pipe to the {thing.name}")
        if thing.top is None:
            lacks.append(f"top of the {thing.name} over the roof at the vent")
    if site.table_serves is None:
        lacks.append("whether the cap is listed, and the size of the vent")
    return tuple(lacks)


def _steps(site: CapSite, limits: CapLimits) -> tuple[Step, ...]:
    edges = {0.0}
    here = site.wall.away.value if site.wall and site.wall.away else None
    if site.wall is not None:
        edges |= {limits.wall_from_m, limits.near_within_m + JUST_PAST_M}
        for thing in site.others:
            if here is not None and thing.away is not None:
                edges |= _turns(thing.away, here, limits.near_within_m)
                edges |= _turns(thing.away, here, limits.wall_from_m)
    far = max(edges) + PAST_M
    if here is not None:
        far = max(far, here + PAST_M)
    stops = [*sorted(e for e in edges if 0.0 <= e < far), far]
    steps: list[Step] = []
    for start, end in pairwise(stops):
        step = _step(site, limits, start, end, here)
        last = steps[-1] if steps else None
        if last and (last.needed_m, last.enough_m, last.near) == (
            step.needed_m, step.enough_m, step.near,
        ):  # fmt: skip
            steps[-1] = Step(last.start_m, end, last.needed_m, last.enough_m, last.near, last.why)
        else:
            steps.append(step)
    return tuple(steps)


def _turns(away: Measured, here: float, within: float) -> set[float]:
    """Distances from the wall at which a thing may enter or surely leaves the circle."""
    shifts = (away.low - within, within - away.high, away.high - within, within - away.low)
    return {x for s in shifts for x in (here - s, here + s) if x > SAME_M}


def _step(site: CapSite, limits: CapLimits, start: float, end: float, here: float | None) -> Step:
    middle = (start + end) / 2
    moved = 0.0 if here is None else abs(middle - here)
    is_far = site.wall is None or start >= limits.wall_from_m - SAME_M
    near = _near_height(site, limits, middle, moved)
    if not is_far or site.table_serves is False:
        return Step(start, end, near[0], near[1], True, near[2])
    table = _table_height(site, limits)
    crowded = _is_crowded(site, limits, middle, moved)
    if crowded:
        return Step(start, end, near[0], near[1], True, near[2])
    if site.table_serves is None or not site.looked_around or crowded is None:
        enough = None if near[1] is None or table[1] is None else max(near[1], table[1])
        why = near[2] or table[2]
        if not site.looked_around:
            enough, why = None, "nobody recorded what stands near the vent"
        return Step(start, end, min(near[0], table[0]), enough, False, why)
    return Step(start, end, table[0], table[1], False, table[2])


def _is_crowded(site: CapSite, limits: CapLimits, x: float, moved: float) -> bool | None:
    """Whether another upright is nearer than the far distance; None where it may be."""
    spans = [s for s in _distances(site, x, moved) if s[0].upright and s[0] is not site.wall]
    if any(most is not None and most < limits.wall_from_m - SAME_M for _, _, most in spans):
        return True
    return None if any(least < limits.wall_from_m - SAME_M for _, least, _ in spans) else False


def _table_height(site: CapSite, limits: CapLimits) -> tuple[float, float | None, str]:
    """Height that the pitch table asks for: least, most, and why there is no most."""
    least = min(height for _, height in limits.pitch_table)
    if site.pitch is None:
        return least, None, "the pitch is not known"
    low = _row(limits, max(0.0, site.pitch.low) * 12)
    high = _row(limits, max(0.0, site.pitch.high) * 12)
    if low is None:
        return least, None, "steeper than the table goes: an engineer decides"
    return low, high, "" if high is not None else "the table may end below this pitch"


def _row(limits: CapLimits, pitch_in_12: float) -> float | None:
    for up_to, height in sorted(limits.pitch_table):
        if pitch_in_12 <= up_to + SAME_M:
            return height
    return None


def _near_height(
    site: CapSite, limits: CapLimits, x: float, moved: float
) -> tuple[float, float | None, str]:
    """Height needed over roof and building: least, most, and why there is no most."""
    within = limits.near_within_m
    pitch = site.pitch
    low = max(0.0, pitch.low) * site.ridge_m[0] if pitch is not None else 0.0
    high: float | None = None
    why = "the pitch is not known"
    if pitch is not None:
        high, why = max(0.0, pitch.high) * (site.ridge_m[1] or 0.0), ""
    for thing, least, most in _distances(site, x, moved):
        if least > within + SAME_M:
            continue
        if thing.top is None:
            high, why = None, f"the top of the {thing.name} is not known"
            continue
        if most is not None and most <= within + SAME_M:
            low = max(low, thing.top.low)
        high = None if high is None else max(high, thing.top.high)
    needed = max(limits.near_above_roof_m, low + limits.near_above_building_m)
    if high is None:
        return needed, None, why
    return needed, max(limits.near_above_roof_m, high + limits.near_above_building_m), ""


def _distances(site: CapSite, x: float, moved: float) -> list[tuple[Thing, float, float | None]]:
    """Each thing with the least and most distance it may have from a cap at x."""
    found: list[tuple[Thing, float, float | None]] = []
    if site.wall is not None:
        found.append((site.wall, x, x))
    for thing in site.others:
        if thing.away is None:
            found.append((thing, 0.0, None))
        else:
            found.append((thing, max(0.0, thing.away.low - moved), thing.away.high + moved))
    return found


def _within(steps: tuple[Step, ...], low: float, high: float) -> list[Step]:
    """The steps that a span of distances touches."""
    return [s for s in steps if low < s.end_m - SAME_M and high >= s.start_m - SAME_M]


def _span(site: CapSite, steps: tuple[Step, ...]) -> tuple[float, float]:
    """Distances from the wall that today's cap may have."""
    if site.wall is None:
        return 0.0, 0.0
    if site.wall.away is None:
        return 0.0, steps[-1].end_m - 2 * SAME_M
    return max(0.0, site.wall.away.low), site.wall.away.high


def _place(site: CapSite, steps: tuple[Step, ...]) -> Place:
    if site.height is None:
        return Place.CANNOT_TELL
    touched = _within(steps, *_span(site, steps))
    if all(s.enough_m is not None and site.height.low >= s.enough_m - SAME_M for s in touched):
        return Place.INSIDE
    if all(site.height.high < s.needed_m - SAME_M for s in touched):
        return Place.OUTSIDE
    return Place.CANNOT_TELL


def _moves(site: CapSite, steps: tuple[Step, ...]) -> list[Move]:
    """Straight up, and to the near edge of every step further from the wall."""
    if site.height is None:
        return []
    if site.wall is not None and site.wall.away is None:
        return []
    low, high = _span(site, steps)
    starts = [low, *(s.start_m for s in steps if s.start_m > low + SAME_M)]
    moves: list[Move] = []
    for start in starts:
        shift = start - low
        need = _most([s.enough_m for s in _within(steps, start, high + shift)])
        if need is not None:
            moves.append(Move(shift, max(0.0, need - site.height.low)))
    return moves


def _most(heights: list[float | None]) -> float | None:
    known = [height for height in heights if height is not None]
    return max(known) if known and len(known) == len(heights) else None
