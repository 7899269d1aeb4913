"""Conditions of size: the input within a capacity table, and a size below the outlet.

The tables and their modifiers are in ``capacity``; here facts go in and an outcome comes out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fluewright.capacity import (
    Burner,
    Capacity,
    CapacityTable,
    Condition,
    Conditions,
    downsizing,
    permitted_input,
)
from fluewright.facts import FactValue, Unknown
from fluewright.finding import Comparison, Limit, MeasureNext, Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.rules.logic import (
    UNSEEN,
    Cond,
    Context,
    Outcome,
    Truth,
)
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.source import Basis, Step

CLOSE_W = 1e-6  # two inputs nearer than this are the same input


@frozen
class InTable(Cond):
    """The input lies within what the capacity table permits.

    ``bound`` is "max" or "min"; ``rate`` the input that is compared; ``strict`` where it may not
    be equal either. The connector check reads the maximum at the connector's diameter, the vent
    check at the vent's: the maximum where it is narrowest, the minimum where it is widest.
    """

    bore: str
    bound: str
    rate: str = "appliance_input"
    strict: bool = False

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (
            "vent_material",
            "connector_materials",
            "connector_present",
            "appliance_category",
            "vent_height",
            "vent_lateral",
            "elbows",
            "straight_up",
            self.rate,
            "appliance_outlet",
            self.bore,
        )

    def judge(self, ctx: Context) -> Outcome:
        values: dict[str, FactValue] = {name: ctx.fact(name) for name in self.uses}
        if values["connector_present"] is False:
            values["connector_materials"] = ()  # the vent starts on the outlet
        missing = tuple(
            v.asks[0] if v.asks else ctx.ask_for(name, v.reason)
            for name, v in values.items()
            if isinstance(v, Unknown) and name != "straight_up"
        )
        missing += tuple(
            ctx.ask_for(name, "not told for every piece")
            for name in ("vent_material", "connector_materials")
            if unseen_in(values[name])
        )
        if missing:
            return Outcome(Truth.UNKNOWN, missing=missing)
        table = _table_for(values)
        if table is None:
            return beyond(ctx, "no table of this version serves this kind of vent and connector")
        top = values["straight_up"]
        if not isinstance(top, Unknown) or values["elbows"] != ():
            return self._compare(ctx, values, table)
        # Without an elbow it may be of the column without lateral, or of the next.
        either = [self._compare(ctx, {**values, "straight_up": up}, table) for up in (True, False)]
        if either[0].truth is either[1].truth:
            return either[1]
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("straight_up", top.reason),))

    def _compare(self, ctx: Context, values: dict[str, FactValue], table: str) -> Outcome:
        height, lateral, bore = (
            measure(values[name]) for name in ("vent_height", "vent_lateral", self.bore)
        )
        outlet, burnt = measure(values["appliance_outlet"]), measure(values[self.rate])
        burner = burner_of(values["appliance_category"])
        elbows = values["elbows"]
        angles = bends(elbows)
        if height.value < 0.0 or lateral.value < 0.0:
            return beyond(ctx, "the path does not rise above its outlet: no table has such a vent")
        if not angles and values["straight_up"] is not True:
            angles = [90.0]  # not straight up from the top: the zero-lateral column is barred

        def at(up: Measured, sideways: Measured) -> Capacity:
            return permitted_input(
                tables_of(ctx)[table],
                height=up,
                lateral=sideways,
                diameter=bore,
                burner=burner,
                elbows=angles,
                downsized=bore.value < outlet.value - 1e-6,
            )

        found = at(height, lateral)
        if found.max is None:
            corners = [at(up, sideways) for up in _ends(height) for sideways in _ends(lateral)]
            return no_capacity(ctx, found, corners)
        return against(
            ctx, found, burnt, self.bound, self.rate, ("vent_height", "vent_lateral"), self.strict
        )


def against(
    ctx: Context,
    found: Capacity,
    burnt: Measured,
    bound: str,
    rate: str,
    lengths: tuple[str, ...],
    strict: bool = False,
) -> Outcome:
    """An input against what a table permits, with the working behind it.

    Args:
        ctx: where facts come from.
        found: the table's answer, which has a maximum.
        burnt: the input. [W]
        bound: "max" or "min".
        rate: name of the fact that the input is.
        lengths: names of the facts whose tolerance reaches into the answer.
        strict: the input may not be equal to the bound either.
    """
    steps = (*found.working, _confidence(found))
    limit = found.max if bound == "max" else found.min
    if limit is None or (bound == "min" and limit.high <= 0):
        return Outcome(Truth.YES, steps=steps)  # the table prints no minimum
    sense = Sense.AT_MOST if bound == "max" else Sense.AT_LEAST
    one = compared(burnt, limit, sense, rate)
    low, high = one.margin.low, one.margin.high
    room = CLOSE_W if strict else -CLOSE_W
    if low >= room:
        return Outcome(Truth.YES, (one,), steps=steps)
    if high < room:
        return Outcome(Truth.NO, (one,), steps=steps)
    return Outcome(Truth.UNKNOWN, (one,), _closer(ctx, one.margin, (rate, *lengths)), steps)


def _closer(ctx: Context, margin: Measured, names: tuple[str, ...]) -> tuple[MeasureNext, ...]:
    """The readings whose tolerance leaves it open; watts do not say how close each must be."""
    why = "the permitted input reaches across the input within the measuring tolerance"
    vague = [name for name in names if measure(ctx.fact(name)).tolerance > 0]
    return tuple(ctx.sharpen(name, measure(ctx.fact(name)), margin) for name in vague) or (
        ctx.ask_for(names[1], why),
    )


KINDS = ("vent_material", "common_connector_materials", "connector_materials")


def looked_up(
    ctx: Context, names: tuple[str, ...]
) -> tuple[Mapping[str, FactValue], Outcome | None]:
    """The facts, or what is still to be learned before a table can be read.

    Args:
        ctx: where facts come from.
        names: the facts that a table needs, every one of them.
    """
    values = {name: ctx.fact(name) for name in names}
    missing = tuple(
        v.asks[0] if v.asks else ctx.ask_for(name, v.reason)
        for name, v in values.items()
        if isinstance(v, Unknown)
    )
    missing += tuple(
        ctx.ask_for(name, "not told for every piece")
        for name in KINDS
        if name in values and unseen_in(values[name])
    )
    return values, Outcome(Truth.UNKNOWN, missing=missing) if missing else None


def bends(elbows: FactValue) -> list[float]:
    """Angles as the tables know them: a turn beyond 90 degrees counts as two. [deg]"""
    given = [float(angle) for angle in elbows] if isinstance(elbows, tuple) else []
    return [part for angle in given for part in (min(angle, 90.0), angle - 90.0) if part > 0.0]


def tables_of(ctx: Context) -> Mapping[str, CapacityTable]:
    """Capacity tables by id.

    Raises:
        TypeError: the context carries none.
    """
    tables = getattr(ctx, "tables", None)
    if not isinstance(tables, Mapping):
        raise TypeError("this context carries no capacity tables")
    return tables


def measure(value: FactValue) -> Measured:
    """A fact that is known to be a measure.

    Raises:
        TypeError: it is none.
    """
    if not isinstance(value, Measured):
        raise TypeError(f"{value!r} is no measure")
    return value


def unseen_in(value: FactValue) -> bool:
    """Whether a list of kinds has a piece that nobody could tell."""
    return isinstance(value, tuple) and UNSEEN in value


def burner_of(category: FactValue) -> Burner:
    """Kind of burner, as the tables name it."""
    return "fan_assisted" if category == "I_fan" else "draft_hood"


def _table_for(values: Mapping[str, FactValue]) -> str | None:
    """Table by vent and connector kind; any single-wall connector piece takes the strict one."""
    vents, connectors = values["vent_material"], values["connector_materials"]
    vent = set(vents) if isinstance(vents, tuple) else set()
    connector = set(connectors) if isinstance(connectors, tuple) else set()
    if vent == {"single_wall"} or vent == {"asbestos_cement"}:
        return "T5" if values["appliance_category"] == "draft_hood" else None
    if vent != {"type_b"}:
        return None
    if not connector <= {*SINGLE, *DOUBLE}:
        return None
    return "T2" if connector & set(SINGLE) else "T1"


def compared(burnt: Measured, bound: Measured, sense: Sense, rate: str) -> Comparison:
    """An input against a bound, the margin on the good side. [W]"""
    sign = 1.0 if sense is Sense.AT_LEAST else -1.0
    margin = Measured(
        sign * (burnt.value - bound.value), Dimension.POWER, burnt.tolerance + bound.tolerance
    )
    return Comparison("input", burnt, Limit(bound.value, "kBtu/h", sense), margin, rate)


def _ends(reading: Measured) -> tuple[Measured, ...]:
    ends = sorted({max(0.0, reading.low), reading.high})
    return tuple(Measured(end, reading.dimension) for end in ends)


def no_capacity(ctx: Context, found: Capacity, corners: Sequence[Capacity]) -> Outcome:
    """Not met where the table says so over the whole tolerance, else not known."""
    if all(_barred(one) for one in (found, *corners)):
        return Outcome(Truth.NO, steps=(Step((found.reason or "").rstrip(".")),))
    asked = _beyond_ask(ctx, found.reason or "no figure")
    return Outcome(Truth.UNKNOWN, (), (asked,), (*found.working, _confidence(found)))


def _barred(found: Capacity) -> bool:
    """Whether the table prints NA: an arrangement without any permitted capacity."""
    return found.max is None and any(c.kbtu_h is None and not c.missing for c in found.cells)


def _confidence(found: Capacity) -> Step:
    if found.basis is Basis.MEMORY:
        return Step("a table figure behind this is not confirmed: verify it in the adopted code")
    return Step("every table figure behind this is confirmed")


def _beyond_ask(ctx: Context, why: str) -> MeasureNext:
    return MeasureNext(
        "", "the size of the vent", ctx.subject, "Ask for an engineered sizing.", why, ask=True
    )


def beyond(ctx: Context, why: str) -> Outcome:
    """Not known, because no table serves it: an engineered sizing is asked for."""
    return Outcome(Truth.UNKNOWN, missing=(_beyond_ask(ctx, why),))


@frozen
class Downsized(Cond):
    """The conditions for a vent or connector smaller than the outlet all hold."""

    bore: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("appliance_category", "appliance_outlet", "vent_height", self.bore)

    def judge(self, ctx: Context) -> Outcome:
        values = {name: ctx.fact(name) for name in self.uses}
        missing = tuple(
            ctx.ask_for(name, v.reason) for name, v in values.items() if isinstance(v, Unknown)
        )
        if missing:
            return Outcome(Truth.UNKNOWN, missing=missing)
        found = downsizing(
            burner=burner_of(values["appliance_category"]),
            outlet=measure(values["appliance_outlet"]),
            diameter=measure(values[self.bore]),
            height=measure(values["vent_height"]),
        )
        return _conditions(ctx, found, values)


def _conditions(ctx: Context, found: Conditions, values: Mapping[str, FactValue]) -> Outcome:
    # The input against FAN Max is judged by the sizing rules; here only the shape conditions.
    bind = [c for c in found.each if c.applies and c.name != "fan_max_times_0_90"]
    steps = tuple(
        Step(f"{c.asks}: {'yes' if c.truth else 'not known' if c.truth is None else 'no'}")
        for c in bind
    )
    if any(c.truth is False for c in bind):
        return Outcome(Truth.NO, steps=steps)
    if all(c.truth for c in bind):
        return Outcome(Truth.YES, steps=steps)
    asked = tuple(m for c in bind if c.truth is None for m in _closer_for(ctx, c, values))
    return Outcome(Truth.UNKNOWN, missing=asked, steps=steps)


# Which reading leaves a condition open, where its margin is in the unit of that reading.
OF = {"height_at_least_10_ft": "vent_height", "hood_outlet_above_4_in": "appliance_outlet"}


def _closer_for(
    ctx: Context, open_: Condition, values: Mapping[str, FactValue]
) -> tuple[MeasureNext, ...]:
    """What to measure to settle a condition of size."""
    name = OF.get(open_.name)
    if name is not None and open_.margin is not None and open_.certain:
        return (ctx.sharpen(name, measure(values[name]), open_.margin),)
    why = "it may be a size below the outlet or not, within the measuring tolerance"
    return tuple(
        ctx.ask_for(bore, why)
        for bore, value in values.items()
        if bore.endswith(("_diameter", "_outlet")) and measure(value).tolerance > 0
    )
