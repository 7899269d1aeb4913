"""What a fact is, for which thing it is asked, and how a survey's silence is told apart.

A fact is a measure, yes or no, a word, a list of words, ``ABSENT`` (looked for, not there), or
``Unknown`` with the reason.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum

from fluewright.facts.routes import WORKED_OUT
from fluewright.finding import MeasureNext
from fluewright.frozen import frozen
from fluewright.geometry import Placed, Trace
from fluewright.geometry_common import Shared
from fluewright.quantity import Measured, NotMeasured
from fluewright.survey import ABSENT, Absent, Appliance, Intake, Path, Survey


class Scope(StrEnum):
    """The kind of thing that a requirement is judged for, once each."""

    PATH = "path"
    CONNECTOR_PIECE = "connector piece"
    VENT_PIECE = "vent piece"
    JOINT = "joint"
    INTAKE = "intake"
    NEAR_OPENING = "opening near the outlet"
    COMMON = "common vent"
    SPACE = "space"
    OPENING = "opening"
    HOUSE = "house"


@frozen
class Unknown:
    """Not known, and why; ``asks`` names what to learn where it is not the fact itself."""

    reason: str
    asks: tuple[MeasureNext, ...] = ()


class Structure:
    """Base of a fact that is several things and how they hang together, not one value."""

    __slots__ = ()


FactValue = Measured | bool | str | tuple[str, ...] | Absent | Unknown | Structure


@frozen
class View:
    """One thing of the survey with everything around it that its facts need."""

    survey: Survey
    path: Path
    appliance: Appliance
    trace: Trace
    placed: Placed | None = None
    intake: Intake | None = None
    common: str = ""  # name of the common vent that is asked about, or that the path joins
    space: str = ""  # name of the space
    shared: Shared | None = None  # that common vent with all its appliances, placed
    thing: object | None = None  # the one opening, duct or other thing of it


@frozen
class Fact:
    """A named fact: what people call it, how to learn it, and where the survey keeps it."""

    name: str
    label: str
    how: str
    get: Callable[[View], FactValue]
    route: str = ""  # the field or fields of the survey that settle it


NOT_RECORDED = "not recorded in the survey"
_OneValue = Measured | bool | str | Absent
_Silent = NotMeasured | Absent


def seen(value: object) -> FactValue:
    """A survey field as a fact value."""
    if value is None:
        return Unknown(NOT_RECORDED)
    if isinstance(value, NotMeasured):
        return Unknown(value.reason)
    if isinstance(value, _OneValue):
        return value
    if isinstance(value, tuple):
        return tuple(str(v) for v in value)
    return True  # a described thing is there


def field(route: str) -> Callable[[View], FactValue]:
    """A getter that follows a dotted route from the view and stops where the survey is silent."""
    names = route.split(".")

    def get(view: View) -> FactValue:
        value: object = view
        for name in names:
            value = getattr(value, name)
            if value is None or isinstance(value, _Silent):
                return seen(value)
        return seen(value)

    return get


def same_length(value: Measured | NotMeasured) -> FactValue:
    """A geometric result as a fact value."""
    return Unknown(value.reason + " not recorded") if isinstance(value, NotMeasured) else value


Getter = Callable[[View], FactValue]
Table = Mapping[str, Fact]


def table(*rows: tuple[str, str, str, str | Getter]) -> dict[str, Fact]:
    """A table of facts from rows (name, label, how, route or getter).

    Raises:
        ValueError: a name stands twice.
    """
    facts: dict[str, Fact] = {}
    for name, label, how, source in rows:
        if name in facts:
            raise ValueError(f"fact {name} stands twice")
        if isinstance(source, str):
            facts[name] = Fact(name, label, how, field(source), source)
        else:
            facts[name] = Fact(name, label, how, source, WORKED_OUT.get(name, ""))
    return facts


def registry(*tables: Table) -> dict[str, Fact]:
    """All facts by name.

    Raises:
        ValueError: a name stands in two tables.
    """
    facts: dict[str, Fact] = {}
    for one in tables:
        for name, fact in one.items():
            if name in facts:
                raise ValueError(f"fact {name} stands twice")
            facts[name] = fact
    return facts


def or_absent(value: object) -> bool:
    """Whether a survey field says that the thing is not there."""
    return value is ABSENT
