"""Conditions and numbers that are more than one fact against one limit."""

from __future__ import annotations

import math

from fluewright.capacity import size_steps, table_size
from fluewright.edition import KeyedLimit
from fluewright.facts import FactValue, Unknown
from fluewright.finding import MeasureNext
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured
from fluewright.rules.logic import UNSEEN, Cond, Context, FactNum, Num, Outcome, Truth
from fluewright.source import Step
from fluewright.survey import ABSENT


@frozen
class BoreArea(Num):
    """Inside area of a round pipe from its diameter. [m2]"""

    name: str
    factor: float = 1.0

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        bore = FactNum(self.name).value(ctx)
        if isinstance(bore, Unknown):
            return bore
        low, high = (math.pi / 4 * d * d * self.factor for d in (max(0.0, bore.low), bore.high))
        return Measured(
            (low + high) / 2, Dimension.AREA, (high - low) / 2, bore.tool, bore.evidence
        )


@frozen
class FlowArea(Num):
    """Clear area of the vent: of a masonry flue as measured, else from its diameter. [m2]"""

    name: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("vent_material", "chimney_liner", "chimney_flue_area", self.name)

    def fact_name(self) -> str:
        return self.name

    def value(self, ctx: Context) -> Measured | Unknown:
        vents = ctx.fact("vent_material")
        if isinstance(vents, Unknown):
            return Unknown(vents.reason, (ctx.ask_for("vent_material", vents.reason),))
        if not isinstance(vents, tuple) or "masonry" not in vents:
            return BoreArea(self.name).value(ctx)
        liner = ctx.fact("chimney_liner")
        if isinstance(liner, Unknown):
            return Unknown(liner.reason, (ctx.ask_for("chimney_liner", liner.reason),))
        if liner in ("smooth_metal", "corrugated_metal"):
            return BoreArea(self.name).value(ctx)
        area = FactNum("chimney_flue_area").value(ctx)
        if isinstance(area, Unknown):
            return Unknown(area.reason, (ctx.ask_for("chimney_flue_area", area.reason),))
        if set(vents) == {"masonry"}:
            return area
        why = "part of it is masonry, part is pipe"
        return Unknown(why, (ctx.ask_for("vent_material", why),))


@frozen
class SizeSteps(Num):
    """Table sizes from one diameter up to another. [pieces]"""

    small: str
    large: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return (self.small, self.large)

    def fact_name(self) -> str:
        return self.large

    def value(self, ctx: Context) -> Measured | Unknown:
        sizes: list[float] = []
        for name in (self.small, self.large):
            bore = FactNum(name).value(ctx)
            if isinstance(bore, Unknown):
                return bore
            size = table_size(bore)
            if size is None:
                return Unknown("the diameter is no table size; read the size mark")
            sizes.append(size)
        return Measured(float(size_steps(sizes[0], sizes[1])), Dimension.COUNT)


@frozen
class PermittedVent(Cond):
    """Every vent section is of a kind that the table allows for the appliance."""

    key: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("appliance_row", "vent_material")

    def limits(self) -> dict[str, tuple[str, Dimension, Dimension | None]]:
        """The table that the edition must state."""
        return {self.key: ("keyed", Dimension.COUNT, None)}

    def judge(self, ctx: Context) -> Outcome:
        row, kinds = ctx.fact("appliance_row"), ctx.fact("vent_material")
        for name, value in (("appliance_row", row), ("vent_material", kinds)):
            if isinstance(value, Unknown):
                return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for(name, value.reason),))
        table = ctx.limit(self.key)
        if not isinstance(table, KeyedLimit) or not isinstance(row, str):
            raise TypeError(f"limit {self.key} is not a keyed table")
        return self._of(ctx, kinds, table, row)

    def _of(self, ctx: Context, kinds: FactValue, table: KeyedLimit, row: str) -> Outcome:
        listed = kinds if isinstance(kinds, tuple) else ()
        words = {k: table.rows.get(row, {}).get(k, "no") for k in listed if k != UNSEEN}
        if "no" in words.values():
            return Outcome(Truth.NO)
        missing = tuple(
            MeasureNext(
                "", f"use of {kind.replace('_', ' ')}", ctx.subject, str(word), "", ask=True
            )
            for kind, word in words.items()
            if word != "yes"
        )
        if UNSEEN in listed or not listed:
            missing += (ctx.ask_for("vent_material", "not told for every section"),)
        return Outcome(Truth.UNKNOWN if missing else Truth.YES, missing=missing)


@frozen
class NoSingleFigure(Cond):
    """The clearance table has this word, not a figure, for appliance and kind of connector."""

    key: str
    word: str

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("appliance_clearance_row", "piece_material")

    def limits(self) -> dict[str, tuple[str, Dimension, Dimension | None]]:
        """The table that the edition must state."""
        return {self.key: ("keyed", Dimension.LENGTH, None)}

    def judge(self, ctx: Context) -> Outcome:
        row, kind = ctx.fact("appliance_clearance_row"), ctx.fact("piece_material")
        for name, value in (("appliance_clearance_row", row), ("piece_material", kind)):
            if isinstance(value, Unknown):
                return Outcome(Truth.UNKNOWN, missing=(ctx.ask_for(name, value.reason),))
        table = ctx.limit(self.key)
        if not isinstance(table, KeyedLimit):
            raise TypeError(f"limit {self.key} is not a keyed table")
        cell = table.cell(str(row), str(kind))
        if cell != self.word:
            return Outcome(Truth.NO)
        place = f"{row} and {kind}".replace("_", " ")
        return Outcome(Truth.YES, steps=(Step(f"table for {place}: {cell.replace('_', ' ')}"),))


@frozen
class ReducedClearance(Num):
    """Clearance left by a shield: from the unprotected figure, the shield and the column. [m]"""

    key: str
    unprotected: str = "connector.clearance"

    @property
    def uses(self) -> tuple[str, ...]:
        """Facts looked up."""
        return ("appliance_clearance_row", "protection_form", "protection_column")

    def limits(self) -> dict[str, tuple[str, Dimension, Dimension | None]]:
        """Both tables that the edition must state."""
        keyed: tuple[str, Dimension, Dimension | None] = ("keyed", Dimension.LENGTH, None)
        return {self.key: keyed, self.unprotected: keyed}

    def fact_name(self) -> str:
        return "protection_form"

    def value(self, ctx: Context) -> Measured | Unknown:
        words: list[str] = []
        for name in self.uses:
            found = ctx.fact(name)
            if isinstance(found, Unknown):
                return Unknown(found.reason, (ctx.ask_for(name, found.reason),))
            words.append("none" if found is ABSENT else str(found))
        plain, reduced = ctx.limit(self.unprotected), ctx.limit(self.key)
        if not isinstance(plain, KeyedLimit) or not isinstance(reduced, KeyedLimit):
            raise TypeError("clearance tables are not keyed")
        before = plain.cell(words[0], "single_wall")
        if isinstance(before, str):
            return Unknown(before)
        inches = round(before / 0.0254)
        cell = reduced.cell(words[1], f"from_{inches}_{words[2]}")
        return Measured(cell, Dimension.LENGTH) if isinstance(cell, float) else Unknown(cell)
