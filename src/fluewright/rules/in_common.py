"""Conditions of size where several appliances share a vent: each connector, and all together.

The tables and their modifiers are in ``capacity``; here facts go in and an outcome comes out.
"""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.capacity import Capacity, Column
from fluewright.capacity.common_vent import common_vent_input
from fluewright.capacity.connector import connector_input
from fluewright.facts import FactValue, Unknown
from fluewright.finding import Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.rules.in_chimney import METAL
from fluewright.rules.in_table import (
    against,
    bends,
    beyond,
    burner_of,
    looked_up,
    measure,
    no_capacity,
    tables_of,
)
from fluewright.rules.logic import Compare, Cond, Context, FactNum, LimitNum, Outcome, Truth
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.rules.special import SizeSteps
from fluewright.survey import ABSENT

Values = Mapping[str, FactValue]
EXTERIOR, FLOORS, FLUE = "chimney_exterior", "appliances_on_several_floors", "common_min_area"
BY_SEGMENT = "appliances on several floors: each segment has a height of its own"
COLUMNS = {
    (True, True): Column.FAN_NAT,
    (True, False): Column.FAN_FAN,
    (False, True): Column.NAT_NAT,
}


def table_name(values: Values, connectors: str, liner: FactValue = ABSENT) -> str | None:
    """Table by vent and connectors; one single-wall piece takes the strict one.

    Args:
        values: facts of vent and connectors.
        connectors: name of the fact with the kinds of the connectors that count.
        liner: of a masonry chimney; one of metal is read as Type B vent, a bare flue has no table.
    """
    vents, kinds = values["vent_material"], values[connectors]
    vent = set(vents) if isinstance(vents, tuple) else set()
    connector = set(kinds) if isinstance(kinds, tuple) else set()
    if vent in ({"single_wall"}, {"asbestos_cement"}):
        return "M5"
    if not connector <= {*SINGLE, *DOUBLE}:
        return None
    strict = bool(connector & set(SINGLE))
    if vent == {"type_b"} or (vent == {"masonry"} and liner in METAL):
        return "M2" if strict else "M1"
    if vent == {"masonry"} and liner == "clay":
        return "M4" if strict else "M3"
    return None


@frozen
class ConnectorInCommonTable(Cond):
    """The appliance's input lies within what the table permits its connector."""

    bound: str = "max"
    rate: str = "appliance_input"

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (
            "vent_material", "connector_materials", "appliance_category", "common_height",
            "connector_rise", "connector_horizontal", "connector_elbow_angles",
            "connector_min_diameter", "appliance_outlet", self.rate, FLOORS,
            "chimney_liner",
        )  # fmt: skip

    def judge(self, ctx: Context) -> Outcome:
        values, open_ = looked_up(ctx, _with_liner(ctx, self.uses))
        if open_ is not None:
            return open_
        liner = values.get("chimney_liner", ABSENT)
        name = table_name(values, "connector_materials", liner)
        if name is None:
            return beyond(ctx, "no table serves this kind of vent and connector")
        if values[FLOORS] is True:
            return beyond(ctx, BY_SEGMENT)
        table, alone = tables_of(ctx)[name], tables_of(ctx)["T2" if name == "M2" else "T1"]
        height, rise, length = (
            measure(values[fact])
            for fact in ("common_height", "connector_rise", "connector_horizontal")
        )
        if min(height.value, rise.value, length.value) < 0.0:
            return beyond(ctx, "the connector does not rise to the common vent")
        found = connector_input(
            table,
            alone,
            height=height,
            rise=rise,
            length=length,
            diameter=measure(values["connector_min_diameter"]),
            burner=burner_of(values["appliance_category"]),
            elbows=_beyond_two(bends(values["connector_elbow_angles"])),
            outlet=measure(values["appliance_outlet"]),
            liner_corrugated=liner == "corrugated_metal",
        )
        if found.max is None:
            return no_capacity(ctx, found, [found])
        names = ("common_height", "connector_rise", "connector_horizontal")
        return against(ctx, found, measure(values[self.rate]), self.bound, self.rate, names)


def _with_liner(ctx: Context, names: tuple[str, ...]) -> tuple[str, ...]:
    """The liner is asked of a chimney alone."""
    if _is_chimney(ctx):
        return names
    return tuple(name for name in names if name != "chimney_liner")


def _is_chimney(ctx: Context) -> bool:
    """Whether every piece of the vent is masonry, be it described as one piece or as several."""
    vents = ctx.fact("vent_material")
    return isinstance(vents, tuple) and set(vents) == {"masonry"}


def _beyond_two(angles: list[float]) -> list[float]:
    """The elbows that a table does not hold: all but the two largest. [deg]"""
    return sorted(angles, reverse=True)[2:]


@frozen
class AllInCommonTable(Cond):
    """The inputs of all appliances together lie within what the common table permits.

    ``turn`` counts the elbow by which a manifold turns up into the vertical part.
    """

    turn: bool = True
    metal: bool = False  # asked of a metal liner alone

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (
            "vent_material", "common_connector_materials", "common_burners", "common_height",
            *(() if self.metal else (FLUE, EXTERIOR)), "vent_min_diameter",
            "common_offset_length", "common_elbows",
            "manifold_present", "manifold_length", "largest_connector", "smallest_outlet",
            "common_input", "chimney_liner", FLOORS,
        )  # fmt: skip

    def judge(self, ctx: Context) -> Outcome:
        clay = _is_chimney(ctx) and ctx.fact("chimney_liner") == "clay"
        left = {"vent_min_diameter"} if clay else {FLUE, EXTERIOR}
        names = tuple(n for n in _with_liner(ctx, self.uses) if n not in left)
        values, open_ = looked_up(ctx, names)
        if open_ is not None:
            return open_
        name = table_name(values, "common_connector_materials", values.get("chimney_liner", ABSENT))
        if name is None:
            return beyond(ctx, "no table serves this kind of vent and these connectors")
        if values[FLOORS] is True:
            return beyond(ctx, BY_SEGMENT)
        if values.get(EXTERIOR) is True:
            return beyond(ctx, "a clay flue with a side outdoors goes by tables of its own")
        height = measure(values["common_height"])
        if height.value < 0.0:
            return beyond(ctx, "the common vent does not rise above the highest outlet")
        offset = measure(values["common_offset_length"])
        if not self._turns(values) and offset.low <= 0.0 < offset.high:
            # No elbow, and an offset of nothing within its tolerance: perhaps there is none.
            plumb = {**values, "common_offset_length": Measured(0.0, Dimension.LENGTH)}
            either = [self._judged(ctx, one, name, height) for one in (values, plumb)]
            if either[0].truth is not either[1].truth:
                ask = ctx.ask_for("common_elbows", "an offset may be there, without its elbows")
                return Outcome(Truth.UNKNOWN, missing=(ask,))
        return self._judged(ctx, values, name, height)

    def _judged(self, ctx: Context, values: Values, name: str, height: Measured) -> Outcome:
        flue = values.get(FLUE)
        if not isinstance(flue, Measured) or flue.tolerance <= 0.0:
            return self._at(ctx, values, name, height)
        # The table is read at the largest area that the flue holds: where its least and its
        # greatest area lead to different answers, nobody knows.
        ends = (Measured(value, Dimension.AREA) for value in (flue.low, flue.high))
        least, most = (self._at(ctx, {**values, FLUE: end}, name, height) for end in ends)
        if least.truth is most.truth:
            return least
        why = "its least and its greatest area lead to different answers"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for(FLUE, why),))

    def _at(self, ctx: Context, values: Values, name: str, height: Measured) -> Outcome:
        found = self._permitted(ctx, values, name, height)
        if found.max is None:
            return no_capacity(ctx, found, [found])
        burnt, names = measure(values["common_input"]), ("common_height", "common_offset_length")
        return against(ctx, found, burnt, "max", "common_input", names)

    def _turns(self, values: Values) -> list[float]:
        """Elbows that count: all, or all but the one by which a manifold turns up. [deg]"""
        angles = bends(values["common_elbows"])
        return angles[1:] if values["manifold_present"] and not self.turn else angles

    def _permitted(self, ctx: Context, values: Values, name: str, height: Measured) -> Capacity:
        kinds = values["common_burners"]
        words = kinds if isinstance(kinds, tuple) else ()
        manifold = measure(values["manifold_length"]) if values["manifold_present"] else None
        flue = values.get(FLUE)
        bore = values.get("vent_min_diameter", values["largest_connector"])
        return common_vent_input(
            tables_of(ctx)[f"{name}C"],
            COLUMNS["fan" in words, "nat" in words],
            height=height,
            diameter=measure(bore),
            flue_area=measure(flue) if flue is not None else None,
            offset=measure(values["common_offset_length"]),
            elbows=self._turns(values),
            manifold=manifold,
            connector=measure(values["largest_connector"]),
            outlet=measure(values["smallest_outlet"]),
            liner_corrugated=values.get("chimney_liner") == "corrugated_metal",
        )


@frozen
class StepsDown(Cond):
    """A connector is no more table sizes below its collar than is allowed for its size."""

    small: str
    large: str
    one: str  # limit: sizes allowed up to the size of ``wide``
    two: str  # limit: sizes allowed above it
    wide: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (self.small, self.large)

    def limits(self) -> dict[str, tuple[str, Dimension, Dimension | None]]:
        """What the edition must state."""
        return {
            self.one: ("number", Dimension.COUNT, None),
            self.two: ("number", Dimension.COUNT, None),
            self.wide: ("number", Dimension.LENGTH, None),
        }

    def judge(self, ctx: Context) -> Outcome:
        large = FactNum(self.large).value(ctx)
        if isinstance(large, Unknown):
            return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for(self.large, large.reason),))
        wide = LimitNum(self.wide, Dimension.LENGTH).value(ctx)
        edge = wide.value if isinstance(wide, Measured) else 0.0
        keys = [self.two] if large.low > edge else [self.one]
        if large.low <= edge < large.high:
            keys = [self.one, self.two]  # it may be a large collar
        found = [self._steps(ctx, key) for key in keys]
        if len({one.truth for one in found}) == 1:
            return found[0]
        why = "it may be over the size from which more is allowed, or not"
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for(self.large, why),))

    def _steps(self, ctx: Context, key: str) -> Outcome:
        steps, limit = SizeSteps(self.small, self.large), LimitNum(key, Dimension.COUNT)
        return Compare(steps, Sense.AT_MOST, limit, "sizes below the collar").judge(ctx)
