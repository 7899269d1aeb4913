"""What a sheet is made from, settled before the first line is drawn."""

from __future__ import annotations

from collections.abc import Callable

from fluewright.drawing.chimney_top import Level
from fluewright.drawing.house import House
from fluewright.drawing.route import Leg, Route
from fluewright.drawing.scene import View
from fluewright.drawing.tree import Branch, Tree
from fluewright.drawing.words import Style
from fluewright.finding import Finding
from fluewright.frozen import frozen
from fluewright.survey import Path, Survey


@frozen
class Plan:
    """One sheet of a survey, laid out, with its findings."""

    survey: Survey
    tree: Tree
    house: House
    findings: tuple[Finding, ...]
    style: Style
    open_answers: int = 0  # requirements that are not known yet and carry no mark
    levels: tuple[Level, ...] = ()  # heights that the top of a chimney must reach

    @property
    def path(self) -> Path:
        """The path that holds vent, chimney and roof."""
        return self.tree.path

    @property
    def legs(self) -> tuple[Leg, ...]:
        """Every piece that is there today, connectors before the trunk."""
        return self.tree.legs

    @property
    def main(self) -> Route:
        """The chain that ends in the open air."""
        return self.tree.main

    @property
    def lone(self) -> Branch | None:
        """The one appliance of a path that joins no other."""
        return self.tree.branches[0] if self.tree.trunk is None else None

    def of(self, *subjects: str) -> tuple[Finding, ...]:
        """The numbered findings of some subjects."""
        return tuple(f for f in self.findings if f.subject in subjects)

    def first(self, test: Callable[[Leg], bool]) -> Leg | None:
        """The first piece that passes a test."""
        return next((leg for leg in self.legs if test(leg)), None)


@frozen
class Paper:
    """Where on the sheet things stand. [mm]"""

    width: float
    height: float
    view: View
    figure_left: float
    column_left: float
    column_right: float
    column_low: float
    column_high: float
