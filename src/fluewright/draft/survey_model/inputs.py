"""Every number that the engine is given, its range, and where it comes from.

A ``Book`` is filled while a survey is read: with what was measured, what had to be assumed, what
is missing, and what is there and not computed. Nothing enters the model beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fluewright.draft.coefficients import Coefficient, Coefficients, Spread
from fluewright.draft.doubts import Doubts
from fluewright.draft.survey_model.labels import LABELS, tool_words
from fluewright.errors import CannotModel
from fluewright.quantity import Measured

Values = Mapping[str, float]
MEASURED = "measured"
GIVEN = "given"


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One number that a model is built from.

    Attributes:
        name: key for ``build``.
        label: plain words.
        value, low, high: in ``unit``; low and high are bounds.
        origin: "measured", "given" by the caller, or "assumed: " and the source.
        spread: how an ensemble draws it between low and high.
    """

    name: str
    label: str
    value: float
    low: float
    high: float
    unit: str
    origin: str
    spread: Spread = "uniform"


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """Something that the survey does not say: what was taken instead, and how to find out."""

    what: str
    taken: str
    measure: str

    @property
    def text(self) -> str:
        """One line for people."""
        return f"{self.what}: {self.taken}. To know: {self.measure}."


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that may move with one input.

    ``name`` is that input, None where it is fixed. ``grouped`` says that the input runs from -1
    to 1 and moves several figures together, each between its own low and high; otherwise the
    input is the figure itself.
    """

    value: float
    low: float
    high: float
    name: str | None = None
    grouped: bool = False

    def at(self, values: Values) -> float:
        """The number where the inputs have these values. [unit of the figure]

        Plain arithmetic without a branch on the values, so that arrays go through it as well.
        """
        if self.name is None:
            return self.value
        at = values[self.name]
        if not self.grouped:
            return at
        up, down = (at + abs(at)) / 2.0, (at - abs(at)) / 2.0
        return self.value + up * (self.high - self.value) + down * (self.value - self.low)


def fixed(value: float) -> Figure:
    """A number that no input moves."""
    return Figure(value, value, value)


class Book:
    """What a survey gave, filled while it is read."""

    def __init__(self, coefficients: Coefficients) -> None:
        self.coefficients = coefficients
        self.inputs: dict[str, Input] = {}
        self.assumed: list[Assumed] = []
        self.not_modelled: list[str] = []
        self.spills: list[str] = []
        self.past: list[str] = []
        self.unseen: list[str] = []
        self.tested = False
        self._grave: list[str] = []
        self._gaps: list[str] = []

    def coefficient(self, name: str, *, widen: float = 1.0) -> Figure:
        """A coefficient of the table as an input.

        Args:
            name: group and name.
            widen: low is divided and high multiplied by it, where less is known than usual. [-]
        """
        found = self._coefficient(name)
        low, high = found.low / widen, found.high * widen
        self._add(
            Input(
                name=name,
                label=LABELS.get(name, name.replace("_", " ").replace(".", ", ")),
                value=found.value,
                low=low,
                high=high,
                unit=found.unit,
                origin=f"assumed: {found.source}",
                spread="fixed" if low == high else "uniform" if widen > 1.0 else found.spread,
            )
        )
        return Figure(found.value, low, high, name)

    def figure(self, name: str) -> float:
        """The middle of a coefficient that is no input: it moves no steady answer."""
        return self._coefficient(name).value

    def either(self, name: str, label: str, names: Iterable[str], what: Assumed) -> Figure:
        """One input that spans several coefficients, where the survey does not say which holds."""
        found = [self._coefficient(one) for one in names]
        low, high = min(one.low for one in found), max(one.high for one in found)
        middle = sum(one.value for one in found) / len(found)
        return self.assume(name, label, (low, middle, high), found[0].unit, what)

    def assume(
        self, name: str, label: str, span: tuple[float, float, float], unit: str, what: Assumed
    ) -> Figure:
        """A missing measurement that can be taken between bounds; it is listed.

        Args:
            name: key of the input.
            label: plain words.
            span: low, value, high, in ``unit``.
            unit: of the input.
            what: what is listed as assumed.
        """
        low, value, high = span
        self._add(
            Input(
                name=name, label=label, value=value, low=low, high=high, unit=unit,
                origin=f"assumed: not measured, {what.taken}",
                spread="fixed" if low == high else "uniform",
            )
        )  # fmt: skip
        self.note(what)
        return Figure(value, low, high, name)

    def note(self, what: Assumed) -> None:
        """Lists what was assumed."""
        if what not in self.assumed:
            self.assumed.append(what)

    def reading(self, measured: Measured) -> Figure:
        """A length that moves with all others read by its tool: their errors add up. [m]"""
        value, bound = measured.value, measured.tolerance
        if bound == 0.0:
            return fixed(value)
        tool = measured.tool or "stated"
        low = max(value - bound, min(value, 0.0))  # a length is not below zero
        return self.grouped(f"reading.{tool}", (low, value, value + bound), tool)

    def grouped(self, name: str, span: tuple[float, float, float], tool: str) -> Figure:
        """A figure between bounds that moves with all others of its group."""
        estimated = tool in ("estimated", "by eye")
        self._add(
            Input(
                name=name,
                label=f"{tool_words(tool)}, as a share of their tolerance",
                value=0.0, low=-1.0, high=1.0, unit="1",
                origin="assumed: common practice, no source" if estimated else MEASURED,
            )
        )  # fmt: skip
        return Figure(span[1], span[0], span[2], name, True)

    def own(self, measured: Measured, name: str, label: str, unit: str) -> Figure:
        """A reading that is an input by itself. [SI, as ``unit``]"""
        return self.number(name, label, (measured.low, measured.value, measured.high), unit)

    def number(
        self,
        name: str,
        label: str,
        span: tuple[float, float, float],
        unit: str,
        origin: str = MEASURED,
    ) -> Figure:
        """An input between bounds, measured unless another origin is named."""
        low, value, high = span
        spread: Spread = "fixed" if low == high else "uniform"
        self._add(
            Input(
                name=name, label=label, value=value, low=low, high=high, unit=unit,
                origin=origin, spread=spread,
            )
        )  # fmt: skip
        return Figure(value, low, high, name)

    def remark(self, text: str) -> None:
        """Lists something that is there and that the model does not hold."""
        if text not in self.not_modelled:
            self.not_modelled.append(text)

    def grave(self, text: str) -> None:
        """Lists something that is not in the figures and that can stop the vent."""
        self.remark(text)
        if text not in self._grave:
            self._grave.append(text)

    @property
    def doubts(self) -> Doubts:
        """What goes before any figure."""
        return Doubts(
            spills=tuple(self.spills), past=tuple(self.past), grave=tuple(self._grave),
            unseen=tuple(self.unseen), tested=self.tested,
        )  # fmt: skip

    def lacks(self, where: str, what: str, how: str) -> Figure:
        """Something without which nothing can be computed. What it returns never gets out."""
        gap = f"{where}: {what} is not known. {how}"
        if gap not in self._gaps:
            self._gaps.append(gap)
        return fixed(1.0)

    def finish(self) -> None:
        """Raises with everything that is missing.

        Raises:
            CannotModel: something without which nothing can be computed is missing.
        """
        if self._gaps:
            raise CannotModel(self._gaps)

    def _coefficient(self, name: str) -> Coefficient:
        self.coefficients.value(name)  # raises with the name where there is none
        return self.coefficients.numbers[name]

    def _add(self, one: Input) -> None:
        """Adds an input; of two of one name the wider bounds hold."""
        known = self.inputs.get(one.name)
        if known is None or (one.low <= known.low and one.high >= known.high):
            self.inputs[one.name] = one
