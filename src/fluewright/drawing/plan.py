"""What a sheet is made from, settled before the first line is drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from fluewright.drawing.house import House
from fluewright.drawing.route import Leg, Route
from fluewright.drawing.scene import View
from fluewright.drawing.words import Style
from fluewright.finding import Finding
from fluewright.geometry import Trace
from fluewright.survey import Appliance, Path, Survey


@dataclass(frozen=True, slots=True)
class Plan:
    """One path of a survey, laid out, with its findings."""

    survey: Survey
    path: Path
    appliance: Appliance
    found: Trace
    route: Route
    house: House
    findings: tuple[Finding, ...]
    style: Style
    open_answers: int = 0  # requirements that are not known yet and carry no mark

    def of(self, *subjects: str) -> tuple[Finding, ...]:
        """The numbered findings of some subjects."""
        return tuple(f for f in self.findings if f.subject in subjects)

    def first(self, test: Callable[[Leg], bool]) -> Leg | None:
        """The first piece that passes a test."""
        return next((leg for leg in self.route.legs if test(leg)), None)


@dataclass(frozen=True, slots=True)
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
