"""Survey and geometry to named facts: the one place that knows both their words.

A requirement asks for facts by name. Each is looked up once for each thing it belongs to; one
that is not known says why, and how to learn it.
"""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.facts import appliance, run, terminal
from fluewright.facts.base import Fact, FactValue, Scope, Unknown, View
from fluewright.facts.routes import written
from fluewright.geometry import trace
from fluewright.survey import Path, Survey

FACTS: dict[str, Fact] = {**appliance.FACTS, **run.FACTS, **terminal.FACTS}

# Facts that differ from piece to piece, or from intake to intake; all others are of the path.
OF_ONE_THING = frozenset(
    name
    for name in FACTS
    if name.startswith(
        (
            "piece_",
            "joint_",
            "protection_",
            "shield_to_",
            "shield_blocks_",
            "vent_piece_",
            "intake_",
            "vent_above_intake",
        )
    )
)

__all__ = [
    "FACTS",
    "OF_ONE_THING",
    "Fact",
    "FactValue",
    "Scope",
    "Unknown",
    "View",
    "subjects",
    "written",
]


def subjects(survey: Survey, path: Path) -> dict[Scope, list[tuple[str, View]]]:
    """Everything on a path that requirements are judged for, by kind, with its name.

    Args:
        survey: the whole survey.
        path: one of its paths.
    Returns:
        For each scope the list of (name, view); empty where there is no such thing.
    """
    owner = survey.appliance_of(path)
    on_top = owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None
    whole = View(survey, path, owner, trace(path, on_top))
    found: dict[Scope, list[tuple[str, View]]] = {Scope.PATH: [(path.from_, whole)]}
    connector = list(_pieces(whole, "connector"))
    vent = list(_pieces(whole, "vent"))
    # Where nothing is described the whole stands in: its facts are unknown, never silent. Only a
    # vent that was seen to start on the outlet has no connector to ask of.
    direct = path.connector.attached_directly is True and bool(vent)
    found[Scope.CONNECTOR_PIECE] = connector or ([] if direct else [("connector", whole)])
    found[Scope.VENT_PIECE] = vent or [("vent", whole)]
    found[Scope.JOINT] = (connector + vent[:1]) or [("connector", whole)]
    intakes = path.roof.intakes
    listed = intakes if isinstance(intakes, tuple) else ()
    found[Scope.INTAKE] = [
        (f"intake {i + 1}", View(survey, path, owner, whole.trace, intake=intake))
        for i, intake in enumerate(listed)
    ] or [("roof", whole)]
    return found


def _pieces(whole: View, role: str) -> Iterator[tuple[str, View]]:
    for item in whole.trace.of_role(role):
        yield item.piece.id, View(whole.survey, whole.path, whole.appliance, whole.trace, item)
