"""Concentration in a room, or in an appliance room and the dwelling beside it, over time.

Each room is mixed through. While the release stays the same the balance is linear, so every
value at a moment of the answer is exact; between the moments, which stand close where the curve
bends, a straight line is within 1e-4 of the change (see ``_moments``).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fluewright.draft.co_history import MOST_PPM, History
from fluewright.errors import NotSolved, OutOfRange

FIRST_STEP = 0.01  # of the fastest time constant
GROWTH, STRIDE = 1.2, 10  # steps grow by a fifth every ten, so one exponential serves ten
LONGEST_STEP_S = 60.0  # so that curves drawn over it, and the blood computed on it, are smooth
MOST_MOMENTS = 200_000

Matrix = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A room with the outdoor air that enters it.

    Attributes:
        name: for labels.
        volume_m3: of air. [m3]
        outdoor_m3_s: outdoor air that enters it directly. [m3/s]
        start_ppm: concentration at the beginning; None: that of the outdoor air. [ppm]
    """

    name: str
    volume_m3: float
    outdoor_m3_s: float
    start_ppm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rooms:
    """The room of the appliance, and the dwelling beside it where it is another.

    Attributes:
        appliance: room that receives the gas.
        dwelling: room beside it; None: one room only.
        to_dwelling_m3_s, from_dwelling_m3_s: air between the two, either way. [m3/s]
        outdoor_ppm: concentration in the outdoor air. [ppm]
    """

    appliance: Zone
    dwelling: Zone | None = None
    to_dwelling_m3_s: float = 0.0
    from_dwelling_m3_s: float = 0.0
    outdoor_ppm: float = 0.0

    @property
    def zones(self) -> tuple[Zone, ...]:
        """One zone or two, that of the appliance first."""
        return (self.appliance,) if self.dwelling is None else (self.appliance, self.dwelling)


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Concentration in each zone over time, that of the appliance first."""

    histories: tuple[History, ...]


def rates(rooms: Rooms) -> Matrix:
    """Coefficients of d(excess)/dt, excess being the concentration above outdoors. [1/s]

    Source: species balance of each zone; what enters a zone pushes as much out of it.

    Args:
        rooms: the zones and the air between them.
    Returns:
        A square matrix; diagonal never positive, the others never negative.
    Raises:
        OutOfRange: a volume or a flow that cannot be, or a zone out of which more air is drawn
            by the other than enters it.
    """
    for zone in rooms.zones:
        if not 0.1 <= zone.volume_m3 <= 1e6:
            raise OutOfRange(f"{zone.name}: {zone.volume_m3:g} m3. Allowed: 0.1 to 1e6 m3.")
        if not 0.0 <= zone.outdoor_m3_s <= 1e4:
            raise OutOfRange(
                f"{zone.name}: {zone.outdoor_m3_s:g} m3/s of outdoor air. Not below 0."
            )
    there, back = rooms.to_dwelling_m3_s, rooms.from_dwelling_m3_s
    if not (0.0 <= there <= 1e4 and 0.0 <= back <= 1e4):
        raise OutOfRange(f"between the rooms: {there:g} and {back:g} m3/s. Allowed: 0 and more.")
    one = rooms.appliance
    if rooms.dwelling is None:
        if there or back:
            raise OutOfRange("between the rooms: air flows to a dwelling that is not described.")
        return ((-one.outdoor_m3_s / one.volume_m3,),)
    two = rooms.dwelling
    for zone, out, into in ((one, there, back), (two, back, there)):
        if out > (zone.outdoor_m3_s + into) * (1 + 1e-12):
            raise OutOfRange(
                f"{zone.name}: {out:g} m3/s leave it for the other room, "
                f"{zone.outdoor_m3_s + into:g} enter. Raise its outdoor air or the flow back."
            )
    return (
        (-(one.outdoor_m3_s + back) / one.volume_m3, back / one.volume_m3),
        (there / two.volume_m3, -(two.outdoor_m3_s + there) / two.volume_m3),
    )


def steady_ppm(rooms: Rooms, release_m3_s: float) -> tuple[float, ...]:
    """Concentration in each zone that an endless release ends at. [ppm]

    Source: the balance of ``rates`` at rest.

    Args:
        rooms: the zones and the air between them.
        release_m3_s: CO given to the room of the appliance, at room conditions. [m3/s]
    Returns:
        One figure a zone, that of the appliance first. [ppm]
    Raises:
        NotSolved: no outdoor air reaches a zone, so the concentration never settles.
        OutOfRange: see ``rates``.
    """
    matrix = rates(rooms)
    push = _push(rooms, release_m3_s)
    if len(matrix) == 1:
        factor = -matrix[0][0]
        excess: tuple[float, ...] = (push,) if factor > 0.0 else ()
    else:
        (a, b), (c, d) = matrix
        factor = a * d - b * c
        excess = (-d * push, c * push)
    # Rounding of the determinant leaves a trace where it is zero in truth.
    if factor <= 1e-14 * math.prod(-matrix[i][i] for i in range(len(matrix))):
        raise NotSolved(
            "steady concentration: no outdoor air reaches the room, so it rises for as long as "
            "carbon monoxide is released. Compute it over time, or state the air change."
        )
    return tuple(_possible(rooms.outdoor_ppm + part / factor) for part in excess)


def over_time(rooms: Rooms, release: Sequence[tuple[float, float]]) -> Air:
    """Concentration in each zone while the release changes in steps. [s, ppm]

    Source: exact solution of the linear balance over each stretch: exponential of a matrix
    without negative terms, summed and squared, so that nothing cancels and nothing can come
    out below zero.
    Valid: zones mixed through, constant air flows; the volume of the CO itself is neglected.

    Args:
        rooms: the zones and the air between them.
        release: (duration, CO given to the room of the appliance at room conditions). [(s, m3/s)]
    Returns:
        A history for each zone, that of the appliance first, all on the same moments.
    Raises:
        OutOfRange: no stretch, a negative one, too many moments, a concentration above pure CO;
            see also ``rates``.
    """
    matrix = rates(rooms)
    now = tuple(_start(rooms, zone) for zone in rooms.zones)
    clock = 0.0
    times, found = [0.0], [now]
    if not release or not all(0.0 < one[0] < math.inf and one[1] >= 0.0 for one in release):
        raise OutOfRange("release: give (duration above 0 s, release of 0 m3/s or more) pairs.")
    if sum(one[0] for one in release) > MOST_MOMENTS * LONGEST_STEP_S:
        raise OutOfRange(f"release: more than {MOST_MOMENTS:,} moments. Compute less at once.")
    for duration, flow in release:
        push = _push(rooms, flow)
        step, held = math.nan, matrix
        for length in _moments(duration, max(-matrix[i][i] for i in range(len(matrix)))):
            if length != step:
                step, held = length, _exponential(_with_push(matrix, push), length)
            now = tuple(
                sum(row[i] * now[i] for i in range(len(now))) + row[-1] for row in held[:-1]
            )
            clock += length
            times.append(clock)
            found.append(tuple(now))
        if len(times) > MOST_MOMENTS:
            raise OutOfRange(f"release: more than {MOST_MOMENTS:,} moments. Compute less at once.")
    return Air(
        histories=tuple(
            History(
                times_s=tuple(times),
                ppm=tuple(_possible(rooms.outdoor_ppm + one[i]) for one in found),
            )
            for i in range(len(now))
        )
    )


def _start(rooms: Rooms, zone: Zone) -> float:
    """Concentration above outdoors at the beginning."""
    if not 0.0 <= rooms.outdoor_ppm <= MOST_PPM:
        raise OutOfRange(f"outdoor air: {rooms.outdoor_ppm:g} ppm. Allowed: 0 to 1,000,000 ppm.")
    excess = 0.0 if zone.start_ppm is None else zone.start_ppm - rooms.outdoor_ppm
    if not excess >= 0.0:
        raise OutOfRange(
            f"{zone.name}: starts with {zone.start_ppm} ppm, less than the {rooms.outdoor_ppm:g} "
            "outdoors. Allowed: the outdoor concentration and more."
        )
    return excess


def _push(rooms: Rooms, release_m3_s: float) -> float:
    """How fast the release alone raises the concentration. [ppm/s]"""
    if not 0.0 <= release_m3_s < math.inf:
        raise OutOfRange(f"release: {release_m3_s:g} m3/s. Allowed: 0 and more.")
    return release_m3_s / rooms.appliance.volume_m3 * 1e6


def _possible(ppm: float) -> float:
    """The concentration, unless there would be more CO than air."""
    if not ppm <= MOST_PPM:
        raise OutOfRange(
            f"room: {ppm:.3g} ppm, more than pure carbon monoxide. Check release, volume and air."
        )
    return ppm


def _moments(duration_s: float, fastest: float) -> Iterator[float]:
    """Steps that stand close after a change and widen as the curve straightens. [s]

    A decay of rate k bends by k2 e^-kt; over a step of h0 + g t a chord leaves it by at most
    (h0 + g t)^2 k^2 e^-kt / 8 of the change, below 1e-4 for h0 = 0.01 / k and g = 0.02. Growing
    by a fifth every ten steps keeps to that.
    """
    step = min(FIRST_STEP / fastest, LONGEST_STEP_S) if fastest > 0.0 else LONGEST_STEP_S
    left, taken = duration_s, 0
    while left > step * 1.5:
        yield step
        left -= step
        taken += 1
        if taken % STRIDE == 0:
            step = min(step * GROWTH, LONGEST_STEP_S)
    yield left


def _with_push(matrix: Matrix, push: float) -> Matrix:
    """The balance with its release as one more unknown that never changes."""
    first = (*matrix[0], push)
    return (first, *((*row, 0.0) for row in matrix[1:]), (0.0,) * (len(matrix) + 1))


def _exponential(matrix: Matrix, step_s: float) -> Matrix:
    """Exponential of a matrix times a step, its terms off the diagonal not being negative.

    The diagonal is lifted until no term is negative, so that the series has no cancellation,
    and the lift is taken off again as a scalar.
    """
    size = range(len(matrix))
    lift = max(-matrix[i][i] for i in size)
    halvings = max(0, math.ceil(math.log2(max(lift * step_s, 1e-300) / 0.5)))
    part = step_s / 2**halvings
    base = tuple(
        tuple((matrix[i][j] + (lift if i == j else 0.0)) * part for j in size) for i in size
    )
    term: Matrix = tuple(tuple(1.0 if i == j else 0.0 for j in size) for i in size)
    total = term
    bound, n = 1.0, 1  # rows sum to lift times part, half at most; the release comes in once
    while bound > 1e-18:
        term = tuple(tuple(x / n for x in row) for row in _times(term, base))
        total = tuple(
            tuple(x + y for x, y in zip(r, s, strict=True))
            for r, s in zip(total, term, strict=True)
        )
        n += 1
        bound *= lift * part / n
    shrink = math.exp(-lift * part)
    total = tuple(tuple(x * shrink for x in row) for row in total)
    for _ in range(halvings):
        total = _times(total, total)
    return total


def _times(one: Matrix, two: Matrix) -> Matrix:
    """Product of two square matrices."""
    size = range(len(one))
    return tuple(tuple(sum(one[i][k] * two[k][j] for k in size) for j in size) for i in size)
