"""Many vents solved side by side, step by step together: the quick way to their flows.

In the same compilable form as ``draft.kernel``, of which this is the same balance, arranged anew:
what does not change with the flow is worked out once, divisions are few, and ``LANES`` vents go
through each step together, so that a processor works on several at a time. The kernel stays the
reference. A result is taken from here only where it is proved to be the one that the kernel looks
for; every other vent goes to the kernel.

How: with lift and loss coefficient frozen at a flow, the balance gives a next flow in closed form
(drive = c m^2 + k (m - flue)^2). Both change little with the flow, so that a secant over this map
closes on the balance in a few steps.

Proof that a balance is the largest: above it the spare pressure only falls. With the flow, lift
grows only as the gas cools less: by ln m at most ``sum(B n (T - Ta)) / T^2``, n the heat lost over
the heat carried, B the lift's share of 1/T. Losses grow with m^2 less what friction (no more than
m^-0.27 where turbulent) and dilution (T at most as 1/m^0.7) take back: by ln m more than
themselves. Where the first is less than the second at the balance, it is so above.
"""

from __future__ import annotations

import math
from collections.abc import MutableSequence, Sequence

from fluewright.draft.kernel import (
    ALL_FLUE,
    FLUE_KG_S,
    PAR_SIZE,
    TURBULENT,
    Figures,
    Rows,
    operating_flow,
    viscosity,
)  # fmt: skip
from fluewright.ensemble.lockstep_places import (
    LANES,
    S_AMBIENT,
    S_DARCY,
    S_DIAMETER,
    S_EXIT,
    S_HEAT,
    S_HEAT_INV,
    S_LIFT,
    S_LOG,
    S_LOSS,
    S_MEAN,
    S_REYNOLDS,
    S_ROUGH,
    S_SIZE,
    S_SMOOTH,
    S_SPEED,
    V_BEFORE,
    V_CARRIED,
    V_COLD,
    V_ENTRY,
    V_FIT,
    V_FLOW,
    V_FLUE,
    V_FLUE_HEAT,
    V_FLUE_MOLES,
    V_FLUE_POWER,
    V_GAIN,
    V_GAIN_AT,
    V_GAP,
    V_GAS,
    V_HELD,
    V_HOOD,
    V_HOT,
    V_IN,
    V_LIFT,
    V_LOSS,
    V_MOLES,
    V_OPEN,
    V_PLUME,
    V_ROOM_HEAT,
    V_ROOM_MOLES,
    V_ROOM_POWER,
    V_SHARE,
    V_SIZE,
    V_SPARE,
    V_SPEED,
    V_TAKEN,
    Lanes,
    place_system,
    place_vent,
)  # fmt: skip

STEPS = 9  # at most; four or five are usual
EXACT_STEPS = 2  # in which friction is found anew; later it follows from the step before
NEAR, PAST = 1e-4, 1e-12  # last relative step, and its product with that before: the error is less
MOST_COOLED = 4.0  # largest n of one segment
MOST_GROWN = 0.2  # of the Reynolds number, likewise
MOST_RATIO = 0.25  # of change to sum of the temperatures at its ends; so far the series hold


def lost_share(cooling: float) -> float:
    """exp(-n) - 1 for n from 0 to 4, to its last digits: the series of n/16, squared four times."""
    y = -0.0625 * cooling
    p = 1.0 / 3628800.0 + y * (1.0 / 39916800.0 + y * (1.0 / 479001600.0))
    p = 1.0 / 5040.0 + y * (1.0 / 40320.0 + y * (1.0 / 362880.0 + y * p))
    p = 1.0 / 24.0 + y * (1.0 / 120.0 + y * (1.0 / 720.0 + y * p))
    p = y * (1.0 + y * (0.5 + y * (1.0 / 6.0 + y * p)))
    p = p * (p + 2.0)
    p = p * (p + 2.0)
    p = p * (p + 2.0)
    return p * (p + 2.0)


def log_ratio(s: float) -> float:
    """ln((1 + s) / (1 - s)) for s within 0.25 of 0, to its last digits: 2 artanh(s), a series."""
    q = s * s
    p = 1.0 / 19.0 + q * (1.0 / 21.0 + q * (1.0 / 23.0 + q * (1.0 / 25.0)))
    p = 1.0 / 13.0 + q * (1.0 / 15.0 + q * (1.0 / 17.0 + q * p))
    p = 1.0 / 7.0 + q * (1.0 / 9.0 + q * (1.0 / 11.0 + q * p))
    return 2.0 * s * (1.0 + q * (1.0 / 3.0 + q * (0.2 + q * p)))


def enter(lanes: Lanes) -> None:
    """Begins a step: the gas that goes up each vent at its present flow."""
    for j in range(LANES):
        extra = lanes[V_FLOW * LANES + j] - lanes[V_FLUE * LANES + j]
        carried = lanes[V_FLUE_HEAT * LANES + j] + extra * lanes[V_ROOM_HEAT * LANES + j]
        power = lanes[V_FLUE_POWER * LANES + j] + extra * lanes[V_ROOM_POWER * LANES + j]
        share = 1.0 / carried
        gas_k = power * share
        lanes[V_MOLES * LANES + j] = (
            lanes[V_FLUE_MOLES * LANES + j] + extra * lanes[V_ROOM_MOLES * LANES + j]
        )
        lanes[V_CARRIED * LANES + j] = carried
        lanes[V_SHARE * LANES + j] = share
        lanes[V_IN * LANES + j] = gas_k
        lanes[V_GAS * LANES + j] = gas_k
        lanes[V_LIFT * LANES + j] = 0.0
        lanes[V_LOSS * LANES + j] = lanes[V_ENTRY * LANES + j] * gas_k
        lanes[V_SPEED * LANES + j] = 0.0
        lanes[V_HELD * LANES + j] = lanes[V_FIT * LANES + j]


def stretch_lanes(lanes: Lanes, own: Sequence[float]) -> None:
    """One segment of each vent: ``kernel.stretch``. ``own`` holds its figures."""
    for j in range(LANES):
        gas_k, ambient = lanes[V_GAS * LANES + j], own[S_AMBIENT * LANES + j]
        exponent = own[S_HEAT * LANES + j] * lanes[V_SHARE * LANES + j]
        change = (gas_k - ambient) * lost_share(exponent)
        end_k = gas_k + change
        ratio = change / (gas_k + end_k)
        inverse = lanes[V_CARRIED * LANES + j] * own[S_HEAT_INV * LANES + j]
        mean_k = ambient - change * inverse
        lanes[V_GAS * LANES + j] = end_k
        lanes[V_LIFT * LANES + j] += own[S_LIFT * LANES + j] * (1.0 + log_ratio(ratio) * inverse)
        lanes[V_LOSS * LANES + j] += (
            own[S_LOSS * LANES + j] * own[S_DARCY * LANES + j] * mean_k
            + own[S_EXIT * LANES + j] * end_k
        )
        lanes[V_SPEED * LANES + j] += own[S_SPEED * LANES + j] * change
        held = (exponent <= MOST_COOLED) & (abs(ratio) <= MOST_RATIO)
        lanes[V_HELD * LANES + j] = lanes[V_HELD * LANES + j] if held else 0.0


def advance(lanes: Lanes) -> int:
    """Ends a step: the next flow of each vent that is not done; returns how many are not."""
    left = 0
    for j in range(LANES):
        flow, before = lanes[V_FLOW * LANES + j], lanes[V_BEFORE * LANES + j]
        moles, hood = lanes[V_MOLES * LANES + j], lanes[V_HOOD * LANES + j]
        molar = flow / moles
        drive = (
            lanes[V_SPARE * LANES + j]
            - molar * lanes[V_PLUME * LANES + j] / lanes[V_IN * LANES + j]
            - molar * lanes[V_LIFT * LANES + j]
        )
        loss = (lanes[V_LOSS * LANES + j] + lanes[V_SPEED * LANES + j]) / molar
        drawn = hood * lanes[V_FLUE * LANES + j]
        both = loss + hood
        square = both * drive - loss * drawn * lanes[V_FLUE * LANES + j]
        target = (drawn + math.sqrt(max(square, 0.0))) / both
        gap = target - flow
        bent = gap - lanes[V_GAP * LANES + j]
        following = flow - gap * (flow - before) / bent
        usual = (following > 0.3 * flow) & (following < 3.0 * flow)
        following = following if usual else max(target, 0.3 * flow)
        going = lanes[V_OPEN * LANES + j] > 0.0
        step = abs(following - flow)
        near = (step < NEAR * flow) & (step * abs(flow - before) < PAST * flow * flow)
        lanes[V_BEFORE * LANES + j] = flow if going else before
        lanes[V_GAP * LANES + j] = gap
        lanes[V_FLOW * LANES + j] = following if going else flow
        lanes[V_OPEN * LANES + j] = 0.0 if near else lanes[V_OPEN * LANES + j]
        left += 1 if going & (not near) else 0
    return left


def certain(j: int, lanes: Lanes) -> bool:
    """Whether the flow found is for sure the largest that balances."""
    flow, gas_k = lanes[V_FLOW * LANES + j], lanes[V_GAS * LANES + j]
    molar = flow / lanes[V_MOLES * LANES + j]
    cold = min(lanes[V_COLD * LANES + j], gas_k)
    # What is drawn in cools the gas, so that only what a loss does to the room's air is left where
    # the heat lost is a smaller share of that carried than the appliance's.
    drawn_k = lanes[V_ROOM_POWER * LANES + j] / lanes[V_ROOM_HEAT * LANES + j]
    diluted = (
        lanes[V_HOT * LANES + j] <= drawn_k
        and lanes[V_TAKEN * LANES + j] <= lanes[V_FLUE_HEAT * LANES + j]
    )
    hot = drawn_k if diluted else lanes[V_IN * LANES + j]
    lost = hot * lanes[V_GAIN * LANES + j] - lanes[V_GAIN_AT * LANES + j]
    gain = molar * lost * lanes[V_SHARE * LANES + j] / (cold * cold)
    loss = flow * flow / molar * (lanes[V_LOSS * LANES + j] + 3.0 * lanes[V_SPEED * LANES + j])
    loss += 2.0 * lanes[V_HOOD * LANES + j] * (flow - lanes[V_FLUE * LANES + j]) * flow
    return (
        lanes[V_OPEN * LANES + j] == 0.0
        and lanes[V_HELD * LANES + j] > 0.0
        and flow > lanes[V_FLUE * LANES + j]
        and gas_k >= lanes[V_HOT * LANES + j]
        and gain < 0.99 * loss
    )


def rub(exact: bool, lanes: Lanes, own: MutableSequence[float]) -> None:
    """Friction of one segment of each vent at its present flow: ``kernel.turbulent``.

    Args:
        exact: whether to find it anew; otherwise its power and its logarithm follow, by series,
            from those of the step before.
        lanes: the vents.
        own: the segment's figures.
    """
    for j in range(LANES):
        gas_k, ambient = lanes[V_GAS * LANES + j], own[S_AMBIENT * LANES + j]
        exponent = own[S_HEAT * LANES + j] * lanes[V_SHARE * LANES + j]
        change = (gas_k - ambient) * lost_share(exponent)
        mean_k = ambient - change * lanes[V_CARRIED * LANES + j] * own[S_HEAT_INV * LANES + j]
        speed = lanes[V_FLOW * LANES + j] * own[S_DIAMETER * LANES + j]
        own[S_MEAN * LANES + j] = speed / viscosity(mean_k)
    if exact:
        for j in range(LANES):
            reynolds = own[S_MEAN * LANES + j]
            smooth = 5.74 / reynolds**0.9
            own[S_REYNOLDS * LANES + j] = reynolds
            own[S_SMOOTH * LANES + j] = smooth
            own[S_LOG * LANES + j] = math.log(own[S_ROUGH * LANES + j] + smooth)
    for j in range(LANES):
        reynolds, smooth = own[S_MEAN * LANES + j], own[S_SMOOTH * LANES + j]
        before, rough = own[S_REYNOLDS * LANES + j], own[S_ROUGH * LANES + j]
        grown = (reynolds - before) / (reynolds + before)
        change = smooth * lost_share(0.9 * log_ratio(grown))
        ratio = change / (2.0 * (rough + smooth) + change)
        logarithm = own[S_LOG * LANES + j] + log_ratio(ratio)
        own[S_REYNOLDS * LANES + j] = reynolds
        own[S_SMOOTH * LANES + j] = smooth + change
        own[S_LOG * LANES + j] = logarithm
        given = rough < 0.0
        factor = 1.3254745276195995 / (logarithm * logarithm)
        own[S_DARCY * LANES + j] = own[S_DARCY * LANES + j] if given else factor
        followed = given | (abs(grown) <= MOST_GROWN)
        lanes[V_FIT * LANES + j] = lanes[V_FIT * LANES + j] if followed else 0.0
        held = followed & (given | (reynolds >= TURBULENT))
        lanes[V_HELD * LANES + j] = lanes[V_HELD * LANES + j] if held else 0.0


def begin(
    start: int, many: int, most: int, par: Sequence[Figures], rows: Sequence[Rows],
    counts: Sequence[int], all_flue: bool, lanes: Lanes,
) -> bool:  # fmt: skip
    """Puts vents in the lanes, with a flow to start from; says whether any friction is open."""
    rough = False
    for j in range(LANES):
        i = start + min(j, many - 1)  # lanes left over repeat the last vent
        only = all_flue or par[i][FLUE_KG_S] < 0.0
        place_system(j, par[i], only, lanes)
        flow, also = place_vent(j, par[i], rows[i], counts[i], most, lanes)
        flow = flow if only else 1.5 * par[i][FLUE_KG_S]
        if not flow > 0.0:
            lanes[V_FIT * LANES + j] = 0.0
        lanes[V_OPEN * LANES + j] = lanes[V_FIT * LANES + j]
        lanes[V_FLOW * LANES + j] = flow
        lanes[V_BEFORE * LANES + j] = math.nan  # no secant yet
        lanes[V_GAP * LANES + j] = 0.0
        rough = rough or also
    return rough


def search(most: int, rough: bool, lanes: Lanes) -> None:
    """Steps until every vent in the lanes is done, or for long enough."""
    for step in range(STEPS):
        enter(lanes)
        for k in range(most):
            part = lanes[(V_SIZE + k * S_SIZE) * LANES : (V_SIZE + (k + 1) * S_SIZE) * LANES]
            if rough:
                rub(step < EXACT_STEPS, lanes, part)
            stretch_lanes(lanes, part)
        if advance(lanes) == 0:
            return


def each_largest_flow(
    first: int,
    last: int,
    par: Sequence[Figures],
    rows: Sequence[Rows],
    counts: Sequence[int],
    all_flue: bool,
    lanes: Lanes,
    own: MutableSequence[float],
    out: MutableSequence[float],
) -> int:
    """Writes the largest flow up each vent; 0 where there is none. [kg/s]

    Args:
        first: first case.
        last: the case after the last.
        par: the systems.
        rows: their segments.
        counts: how many each has.
        all_flue: whether all that flows is flue gas, whatever ``par`` says.
        lanes: room to work in, ``V_SIZE + S_SIZE * segments`` times ``LANES`` long.
        own: room for the figures of one system.
        out: takes the flows.
    Returns:
        How many of them the kernel had to find.
    """
    left = 0
    for start in range(first, last, LANES):
        many = min(LANES, last - start)
        most = 1
        for j in range(many):
            most = max(most, counts[start + j])
        rough = begin(start, many, most, par, rows, counts, all_flue, lanes)
        search(most, rough, lanes)
        for j in range(many):
            i = start + j
            if certain(j, lanes):
                out[i] = lanes[V_FLOW * LANES + j]
                continue
            left += 1
            for k in range(PAR_SIZE):
                own[k] = par[i][k]
            if all_flue:
                own[FLUE_KG_S] = ALL_FLUE
            out[i] = operating_flow(own, rows[i], counts[i])
    return left
