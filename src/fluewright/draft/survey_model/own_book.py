"""The book of one of several appliances: what is its own goes by its name."""

from __future__ import annotations

from dataclasses import replace

from fluewright.draft.survey_model.inputs import Assumed, Book, Figure, Input

# Inputs that are each appliance's own, by the start of their name; all others are one for all.
OWN = (
    "flue.rate_to_plate", "flue.o2_dry", "flue.co2_dry", "flue.fan_co2_dry", "flue.efficiency",
    "hood.", "connector.", "shape.connector",
)  # fmt: skip
UNNAMED = ("excess air of the flame", "shape of the flat connector")


class OwnBook(Book):
    """Fills the book of a common vent with what one appliance brings.

    Two appliances burn with different excess air, under different hoods: those inputs are kept
    apart. Coefficients of pipes and fittings, and the errors of a tool, are the same for all.
    """

    def __init__(self, whole: Book, owner: str) -> None:
        super().__init__(whole.coefficients)
        self.inputs, self.assumed = whole.inputs, whole.assumed
        self.not_modelled, self._gaps = whole.not_modelled, whole._gaps
        self.spills, self.past = whole.spills, whole.past
        self.unseen, self._grave = whole.unseen, whole._grave
        self._whole, self._owner = whole, owner

    def coefficient(self, name: str, *, widen: float = 1.0) -> Figure:
        """A coefficient of the table as an input; see ``Book``."""
        return self._mine(super().coefficient(name, widen=widen))

    def assume(
        self, name: str, label: str, span: tuple[float, float, float], unit: str, what: Assumed
    ) -> Figure:
        """A missing measurement between bounds; see ``Book``."""
        return self._mine(super().assume(name, label, span, unit, what))

    def number(
        self,
        name: str,
        label: str,
        span: tuple[float, float, float],
        unit: str,
        origin: str = "measured",
    ) -> Figure:
        """An input between bounds; see ``Book``."""
        return self._mine(super().number(name, label, span, unit, origin))

    def note(self, what: Assumed) -> None:
        """Lists what was assumed, of which appliance."""
        if what.what in UNNAMED:
            what = replace(what, what=f"{what.what} of {self._owner}")
        super().note(what)

    def remark(self, text: str) -> None:
        """Lists what the model does not hold, of which appliance."""
        super().remark(self._of_whom(text))

    def grave(self, text: str) -> None:
        """Lists what can stop the vent and is not in the figures, of which appliance."""
        super().grave(self._of_whom(text))

    def _of_whom(self, text: str) -> str:
        own = "connector" in text and self._owner not in text and "joint at" not in text
        return f"{self._owner}: {text}" if own else text

    def lacks(self, where: str, what: str, how: str) -> Figure:
        """Something without which nothing can be computed, of which appliance."""
        return super().lacks(f"{self._owner}: {where}" if where == "flue gas" else where, what, how)

    def _mine(self, figure: Figure) -> Figure:
        if figure.name is None or not figure.name.startswith(OWN):
            return figure
        return replace(figure, name=f"{self._owner}.{figure.name}")

    def _add(self, one: Input) -> None:
        if one.name.startswith(OWN):
            label = f"{self._owner}: {one.label}"
            one = replace(one, name=f"{self._owner}.{one.name}", label=label)
        super()._add(one)
