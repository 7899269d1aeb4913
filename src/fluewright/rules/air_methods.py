"""The ways in which a code lets a space get its air, each as a condition with its arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field, replace

from fluewright.facts import Unknown
from fluewright.facts.air_ways import AirWays, Known
from fluewright.finding import Comparison, Limit, MeasureNext, Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, show_measured
from fluewright.rules.air_sum import (
    LIMITS,
    THOUSAND,
    compared,
    exact,
    figure,
    input_of,
    joined,
    per,
    volume_of,
)
from fluewright.rules.base import LimitSpec
from fluewright.rules.logic import Cond, Context, Node, Outcome, Truth
from fluewright.source import Step
from fluewright.survey import ABSENT

UNITS = {Dimension.VOLUME: "ft3", Dimension.AREA: "in2", Dimension.FLOW: "cfm"}
Work = Callable[[Context, AirWays], Outcome]


@frozen
class ByAir(Cond):
    """A condition that is worked out over rooms and openings."""

    work: Work
    more: tuple[str, ...] = ()  # facts besides the rooms and openings
    figures: Mapping[str, LimitSpec] = field(default_factory=lambda: LIMITS, hash=False)

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("air_ways", *self.more)

    def limits(self) -> Mapping[str, LimitSpec]:
        """The figures that the edition must state."""
        return self.figures

    def judge(self, ctx: Context) -> Outcome:
        ways = ctx.fact("air_ways")
        if isinstance(ways, AirWays):
            found = ctx.once(self.work, ways)
            asks = (m if m.subject else replace(m, subject=ctx.subject) for m in found.missing)
            return found._replace(missing=tuple(dict.fromkeys(asks)))
        why = ways.reason if isinstance(ways, Unknown) else "not told"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("air_ways", why),))


def missing(found: Unknown, *more: Unknown) -> Outcome:
    """Open, with the questions of what is not known."""
    return Outcome(Truth.UNKNOWN, missing=tuple(q for u in (found, *more) for q in u.asks))


def enough(label: str, have: Known, need: Known, steps: tuple[Step, ...] = ()) -> Outcome:
    """Whether there is as much as is needed, with both numbers; what is open is asked."""
    unknown = [side for side in (need, have) if isinstance(side, Unknown)]
    if unknown:
        return missing(*unknown)
    if isinstance(have, Unknown) or isinstance(need, Unknown):
        raise TypeError("handled above")
    margin = Measured(
        have.value - need.value, have.dimension, have.tolerance + need.tolerance, have.tool
    )
    limit = Limit(need.value, UNITS[have.dimension], Sense.AT_LEAST)
    found = Comparison(label, have, limit, margin)
    truth = compared(have, need)
    if truth is not Truth.UNKNOWN:
        return Outcome(truth, (found,), steps=steps)
    how = "measure more closely what it is worked out from: the working names each part"
    why = f"{show_measured(margin)} from what is needed, inside the tolerance"
    return Outcome(truth, (found,), (MeasureNext("", label, "", how, why),), steps)


def over_rooms(ctx: Context, ways: AirWays, judge: Callable[[tuple[str, ...]], Outcome]) -> Outcome:
    """Judged for the rooms that surely count; open where rooms that perhaps do change it.

    A room more without a burner only adds volume; with one it adds to what is needed too.
    """
    rooms = joined(ctx, ways)
    sure = judge(rooms.sure)
    more = [name for name in rooms.perhaps if name not in rooms.sure]
    if not more or (sure.truth is Truth.YES and not any(ways.rooms[n].burners for n in more)):
        return _if_told(ways, sure)
    other = judge(rooms.perhaps)
    if other.truth is sure.truth:
        return _if_told(ways, sure)
    return Outcome(Truth.UNKNOWN, missing=(*rooms.asks, *sure.missing, *other.missing))


def _if_told(ways: AirWays, found: Outcome) -> Outcome:
    """Too little is too little only where the openings of the space were looked at."""
    if found.truth is Truth.NO and isinstance(ways.told, Unknown):
        return missing(ways.told)
    return found


def _rooms_step(ways: AirWays, rooms: tuple[str, ...]) -> Step:
    parts = []
    for name in rooms:
        volume = ways.rooms[name].volume
        text = show_measured(volume) if isinstance(volume, Measured) else "not known"
        parts.append(f"{name} {text}")
    return Step(f"rooms that count: {', '.join(parts)}")


def standard_need(ctx: Context, ways: AirWays, rooms: tuple[str, ...]) -> Known:
    """Volume by the standard method. [m3]"""
    load = input_of(ways, rooms)
    if isinstance(load, Unknown):
        return load
    return per(load, THOUSAND, figure(ctx, "air.volume_per_thousand"), Dimension.VOLUME)


def known_need(ctx: Context, ways: AirWays, rooms: tuple[str, ...]) -> Known:
    """Volume by the known-infiltration method. [m3]"""
    fan = input_of(ways, rooms, lambda burner: burner.fan)
    plain = input_of(ways, rooms, lambda b: b.fan if isinstance(b.fan, Unknown) else not b.fan)
    changes = ctx.fact("ach")
    if isinstance(fan, Unknown):
        return fan
    if isinstance(plain, Unknown):
        return plain
    if not isinstance(changes, Measured):
        why = changes.reason if isinstance(changes, Unknown) else "nobody measured it"
        return Unknown(why, (ctx.ask_for("ach", why),))
    flow = per(plain, THOUSAND, figure(ctx, "air.infiltration_no_fan"), Dimension.FLOW) + per(
        fan, THOUSAND, figure(ctx, "air.infiltration_fan"), Dimension.FLOW
    )
    cap = figure(ctx, "air.air_changes_cap")
    fast, slow = min(changes.high, cap), min(changes.low, cap)
    if slow <= 0.0:
        return Unknown("its tolerance reaches down to none", (ctx.ask_for("ach", "too vague"),))
    if fast == slow and flow.tolerance == 0.0:
        return exact(flow.value / fast, Dimension.VOLUME)
    return Measured.between(flow.low / fast, flow.high / slow, Dimension.VOLUME, changes.tool)


def indoor_need(ctx: Context, ways: AirWays, rooms: tuple[str, ...]) -> Known:
    """Volume by the measured air changes, or by the standard method where nobody measured. [m3]"""
    changes = ctx.fact("ach")
    if isinstance(changes, Measured):
        return known_need(ctx, ways, rooms)
    if changes is ABSENT:
        return standard_need(ctx, ways, rooms)
    why = changes.reason if isinstance(changes, Unknown) else "not told"
    return Unknown(why, (ctx.ask_for("ach", why),))


def standard(ctx: Context, ways: AirWays) -> Outcome:
    """Indoor volume by the standard method, where the house is not known to be tight."""
    loose = not_tight(ctx)
    if loose.truth is Truth.NO:
        return loose
    volume = over_rooms(
        ctx, ways, lambda rooms: _by_volume(ways, rooms, standard_need(ctx, ways, rooms))
    )
    if volume.truth is not Truth.YES:
        return volume
    return volume._replace(truth=loose.truth, missing=loose.missing) if loose.missing else volume


def not_tight(ctx: Context) -> Outcome:
    """The standard method may be used: nobody measured, or the house leaks enough."""
    changes = ctx.fact("ach")
    if changes is ABSENT:
        return Outcome(Truth.YES, steps=(Step("air changes of the house: not measured"),))
    if not isinstance(changes, Measured):
        why = changes.reason if isinstance(changes, Unknown) else "not told"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("ach", why),))
    truth = compared(changes, exact(figure(ctx, "air.air_changes_tight"), Dimension.RATE))
    step = Step(f"air changes of the house: {show_measured(changes)}")
    if truth is Truth.UNKNOWN:
        asks = (ctx.ask_for("ach", "its tolerance reaches across the limit"),)
        return Outcome(truth, missing=asks, steps=(step,))
    return Outcome(truth, steps=(step,))


def known_infiltration(ctx: Context, ways: AirWays) -> Outcome:
    """Indoor volume by the known air change rate of the house."""
    changes = ctx.fact("ach")
    if changes is ABSENT:
        return Outcome(Truth.NO, steps=(Step("air changes of the house: not measured"),))
    return over_rooms(
        ctx, ways, lambda rooms: _by_volume(ways, rooms, known_need(ctx, ways, rooms))
    )


def _by_volume(ways: AirWays, rooms: tuple[str, ...], need: Known) -> Outcome:
    steps = (*load_steps(ways, rooms), _rooms_step(ways, rooms))
    return enough("room volume", volume_of(ways, rooms), need, steps)


def load_steps(ways: AirWays, rooms: tuple[str, ...]) -> tuple[Step, ...]:
    """A line of working with the inputs of rooms; none where one is not known."""
    load = input_of(ways, rooms)
    return () if isinstance(load, Unknown) else (Step(f"inputs: {show_measured(load)}"),)


# Supply by a fan, and by design


def supplied(ctx: Context, ways: AirWays) -> Outcome:
    """A fan brings the outdoor air: for the burners, and for what exhaust fans take out."""
    have = ctx.fact("mech_air_flow")
    if have is ABSENT:
        return Outcome(Truth.NO, steps=(Step("fan that brings outdoor air: none"),))
    out = ctx.fact("exhaust_fans")
    load = input_of(ways, joined(ctx, ways).sure)
    if not isinstance(have, Measured):
        why = have.reason if isinstance(have, Unknown) else "not told"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("mech_air_flow", why),))
    if isinstance(load, Unknown):
        return missing(load)
    burned = per(load, THOUSAND, figure(ctx, "air.supply_per_thousand"), Dimension.FLOW)
    if out is ABSENT:
        out = exact(0.0, Dimension.FLOW)
    if not isinstance(out, Measured):
        short = compared(have, burned) is Truth.NO
        if short:
            return enough("flow of the air fan", have, burned)
        why = out.reason if isinstance(out, Unknown) else "not told"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("exhaust_fans", why),))
    steps = (
        Step(f"inputs: {show_measured(load)}"),
        Step(f"air for the burners: {show_measured(burned)}; exhaust: {show_measured(out)}"),
    )
    return enough("flow of the air fan", have, burned + out, steps)


def share_of(found: Outcome) -> float:
    """How near an outcome comes to what it needs; the placement alone at fault is nearest."""
    if not found.comparisons:
        return 0.0
    comparison = found.comparisons[0]
    return comparison.margin.value / (abs(comparison.limit.value) or 1.0)


@frozen
class OneWay(Cond):
    """Met as soon as one way is; failing only when all fail; else asks for the first open one.

    The ways stand in the order in which they are cheap to learn, so that nobody is sent up a
    ladder for what a tape on the floor can tell.
    """

    ways: tuple[tuple[str, Cond], ...]

    def parts(self) -> tuple[Node, ...]:
        return tuple(cond for _, cond in self.ways)

    def judge(self, ctx: Context) -> Outcome:
        found = [(name, cond.judge(ctx)) for name, cond in self.ways]
        for name, one in found:
            if one.truth is Truth.YES:
                return one._replace(steps=(Step(f"way that is met: {name}"), *one.steps))
        open_ = [(name, one) for name, one in found if one.truth is Truth.UNKNOWN]
        if open_:
            names = ", ".join(name for name, _ in open_)
            first = open_[0][1]
            return first._replace(steps=(Step(f"ways still open: {names}"), *first.steps))
        told = ((name, _told(one)) for name, one in found if one.steps or one.comparisons)
        steps = tuple(
            Step(text if text.startswith(name) else f"{name}: {text}") for name, text in told
        )
        best = max((one for _, one in found), key=lambda o: (bool(o.comparisons), share_of(o)))
        return Outcome(Truth.NO, best.comparisons[:1], steps=steps)


def _told(found: Outcome) -> str:
    """A way that is not met, in one line: what is there against what is needed."""
    lines = [step.what for step in found.steps]
    for c in found.comparisons[:1]:
        need = Measured(c.limit.value, c.dimension)
        short = Measured(max(0.0, -c.margin.value), c.dimension)
        lines.append(
            f"{show_measured(c.measured)} there, {show_measured(need)} needed, "
            f"{show_measured(short)} short"
        )
    return "; ".join(lines)
