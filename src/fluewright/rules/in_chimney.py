"""Conditions of size where the vent is a chimney: clay flues by area, metal liners by diameter."""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.capacity import KBTU_H_W, Capacity, Cell, permitted_input, table_size
from fluewright.capacity.exterior import ExteriorBound, exterior_bound
from fluewright.capacity.flue import bore_area_in2, too_large, too_small
from fluewright.capacity.sizing import MOST_OUTLET_AREAS
from fluewright.facts import FactValue, Unknown
from fluewright.finding import Sense
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, show_measured
from fluewright.rules.in_table import (
    against,
    bends,
    beyond,
    burner_of,
    compared,
    looked_up,
    measure,
    no_capacity,
    tables_of,
)
from fluewright.rules.logic import Cond, Context, Node, Outcome, Truth
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.source import Step
from fluewright.survey import ABSENT

METAL = ("smooth_metal", "corrugated_metal")


def _table(values: Mapping[str, FactValue], clay: bool) -> str | None:
    kinds = values["connector_materials"]
    connector = set(kinds) if isinstance(kinds, tuple) else set()
    if not connector or not connector <= {*SINGLE, *DOUBLE}:
        return None
    strict = bool(connector & set(SINGLE))
    return ("T4" if strict else "T3") if clay else ("T2" if strict else "T1")


@frozen
class InChimneyTable(Cond):
    """The input lies within what the table permits a chimney of one appliance.

    A clay-lined flue is read by its connector's diameter and needs an area for it; a metal liner
    is read as Type B vent, a corrugated one with its cut.
    """

    bound: str = "max"
    strict: bool = False
    lined: str = ""  # clay or metal, where the rule is asked of that alone

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (
            "chimney_liner", "connector_materials", "appliance_category", "vent_height",
            "vent_lateral", "elbows", "connector_min_diameter", "appliance_outlet",
            "appliance_input", *(() if self.lined == "metal" else ("chimney_flue_area",)),
            *(() if self.lined == "clay" else ("vent_min_diameter",)),
        )  # fmt: skip

    def judge(self, ctx: Context) -> Outcome:
        liner = ctx.fact("chimney_liner")
        if isinstance(liner, Unknown):
            return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("chimney_liner", liner.reason),))
        clay = liner == "clay"
        if not clay and liner not in METAL:
            return beyond(ctx, "no table serves a flue without a liner")
        left = "vent_min_diameter" if clay else "chimney_flue_area"
        values, open_ = looked_up(ctx, tuple(name for name in self.uses if name != left))
        if open_ is not None:
            return open_
        name = _table(values, clay)
        if name is None:
            return beyond(ctx, "no table serves this kind of connector on a chimney")
        if measure(values["vent_height"]).value < 0.0 or measure(values["vent_lateral"]).value < 0:
            return beyond(ctx, "the path does not rise above its outlet")
        if clay and (fault := self._flue(ctx, values, name)):
            return fault
        found = self._permitted(ctx, values, name, clay, corrugated=liner == "corrugated_metal")
        if found.max is None:
            return no_capacity(ctx, found, [found])
        lengths = ("vent_height", "vent_lateral")
        burnt = measure(values["appliance_input"])
        return against(ctx, found, burnt, self.bound, "appliance_input", lengths, self.strict)

    def _permitted(
        self, ctx: Context, values: Mapping[str, FactValue], name: str, clay: bool, corrugated: bool
    ) -> Capacity:
        bore = measure(values["connector_min_diameter" if clay else "vent_min_diameter"])
        outlet = measure(values["appliance_outlet"])
        return permitted_input(
            tables_of(ctx)[name],
            height=measure(values["vent_height"]),
            lateral=measure(values["vent_lateral"]),
            diameter=bore,
            burner=burner_of(values["appliance_category"]),
            elbows=bends(values["elbows"]) or [90.0],
            connector_diameter=None if clay else measure(values["connector_min_diameter"]),
            liner_corrugated=corrugated,
            downsized=bore.value < outlet.value - 1e-6,
        )

    def _flue(self, ctx: Context, values: Mapping[str, FactValue], name: str) -> Outcome | None:
        """Why the flue is, or may be, too small for its connector or too large for the outlet."""
        area, outlet = measure(values["chimney_flue_area"]), measure(values["appliance_outlet"])
        size = table_size(measure(values["connector_min_diameter"]))
        least = tables_of(ctx)[name].least_flue_in2.get(size) if size is not None else None
        words = too_small(area, least, name, size or 0.0) if least else None
        words = words or too_large(area, outlet, "the outlet")
        if words is None:
            return None
        if "may be" not in words:
            return Outcome(Truth.NO, steps=(Step(words.rstrip(".")),))
        return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for("chimney_flue_area", words),))


@frozen
class WithinExterior(Cond):
    """An input beside the bound that winter sets an exterior clay-lined chimney.

    ``tables`` names the table for hoods alone and the one with a fan-assisted appliance too.
    """

    tables: tuple[str, str]
    rate: str
    height: str
    sense: Sense

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        more = ("design_temp_99",) if self.sense is Sense.AT_LEAST else ()
        burners = ("common_burners",) if self.tables[0] != self.tables[1] else ()
        return (self.height, "chimney_flue_area", self.rate, *more, *burners)

    def judge(self, ctx: Context) -> Outcome:
        values, open_ = looked_up(ctx, self.uses)
        if open_ is not None:
            return open_
        burners = values.get("common_burners", ())
        fan = isinstance(burners, tuple) and "fan" in burners
        if values[self.rate] is ABSENT:
            return Outcome(Truth.YES)  # no such appliance: nothing to compare
        winter = values.get("design_temp_99")
        found = exterior_bound(
            tables_of(ctx)[self.tables[1 if fan else 0]],
            height=measure(values[self.height]),
            flue_area=measure(values["chimney_flue_area"]),
            winter_design=measure(winter) if winter is not None else None,
        )
        return self._against(ctx, found, measure(values[self.rate]))

    def _against(self, ctx: Context, found: ExteriorBound, burnt: Measured) -> Outcome:
        """Met by the strict cell around the readings, failed only by the loose one too."""
        figures = [c.kbtu_h for c in found.cells if c.kbtu_h is not None and not _barred(c)]
        if found.bound is None and not (found.cells and figures):
            words = (found.reason or "no figure").rstrip(".")
            if found.cells:
                return Outcome(Truth.NO, steps=(Step(words),))
            return beyond(ctx, words)
        pick = max if self.sense is Sense.AT_MOST else min
        loose = Measured(pick(figures) * KBTU_H_W, Dimension.POWER)
        far = compared(burnt, loose, self.sense, self.rate)
        if far.margin.high <= 1e-6:  # below the most, above the least: equal is not enough
            return Outcome(Truth.NO, (far,), steps=found.working)
        if found.bound is not None:
            near = compared(burnt, found.bound, self.sense, self.rate)
            if near.margin.low > 1e-6:
                return Outcome(Truth.YES, (near,), steps=found.working)
        asked = (ctx.sharpen(self.rate, burnt, far.margin),)
        if burnt.tolerance == 0.0:
            why = "between two entries of the table, of which one permits it"
            asked = (ctx.ask_for(self.height, why),)
        return Outcome(Truth.UNKNOWN, (), asked, found.working)


def _barred(cell: Cell) -> bool:
    """Whether the table says NA, in one of its prints."""
    return cell.kbtu_h is None or cell.differ.endswith("=NA")


@frozen
class LeftAlone(Cond):
    """A condition on what is left on a flue; its working shows the flue before and after.

    What burned into it before decides nothing, so that it may be unknown.
    """

    needs: Cond
    shown: tuple[str, ...] = ("load_before", "load_now", "chimney_flue_area", "appliance_outlet")

    def parts(self) -> tuple[Node, ...]:
        return (self.needs,)

    def judge(self, ctx: Context) -> Outcome:
        found = self.needs.judge(ctx)
        steps = []
        for name in self.shown:
            value = ctx.fact(name)
            text = show_measured(value) if isinstance(value, Measured) else "not known"
            steps.append(Step(f"{ctx.label(name)}: {text}"))
        return found._replace(steps=(*steps, *self._range(ctx), *found.steps))

    def _range(self, ctx: Context) -> tuple[Step, ...]:
        """Flue areas permitted for connector and outlet, where both are known."""
        bore, outlet = ctx.fact("connector_min_diameter"), ctx.fact("appliance_outlet")
        size = table_size(bore) if isinstance(bore, Measured) else None
        if size is None or not isinstance(outlet, Measured) or "T3" not in tables_of(ctx):
            return ()
        least = tables_of(ctx)["T3"].least_flue_in2.get(size)
        if least is None:
            return ()
        most = MOST_OUTLET_AREAS * bore_area_in2(outlet.value)
        return (
            Step(
                f"a clay flue for a connector of {size:g} in and this outlet has {least:g} to "
                f"{most:.4g} in2"
            ),
        )
