"""Survey and geometry to named facts: the one place that knows both their words.

A requirement asks for facts by name. Each is looked up once for each thing it belongs to; one
that is not known says why, and how to learn it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fluewright.facts import (
    air,
    appliance,
    chimney,
    common,
    existing,
    other_draft,
    run,
    setting,
    terminal,
)
from fluewright.facts.base import Fact, FactValue, Scope, Unknown, View, registry
from fluewright.facts.routes import written
from fluewright.geometry import Trace, trace
from fluewright.geometry_common import Shared, shared
from fluewright.joining import members, trunk, whole
from fluewright.survey import Appliance, Chimney, Common, Path, Survey

FACTS: dict[str, Fact] = registry(
    appliance.FACTS,
    run.FACTS,
    terminal.FACTS,
    common.FACTS,
    chimney.FACTS,
    air.FACTS,
    setting.FACTS,
    existing.FACTS,
    other_draft.FACTS,
)

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
            "terminal_to_",
            "opening_",
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
    "shared_subjects",
    "subjects",
    "written",
]


def subjects(survey: Survey, path: Path) -> dict[Scope, list[tuple[str, View]]]:
    """Everything on a path that requirements are judged for, by kind, with its name.

    Args:
        survey: the whole survey.
        path: one of its paths; what it shares with others is looked at as part of it.
    Returns:
        For each scope the list of (name, view); empty where there is no such thing.
    """
    path = whole(survey, path)
    owner = survey.appliance_of(path)
    on_top = owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None
    common_vent = shared(survey, path.joins) if path.joins else None
    everything = View(
        survey, path, owner, _traced(path, on_top, common_vent), common=path.joins or "",
        shared=common_vent,
    )  # fmt: skip
    found: dict[Scope, list[tuple[str, View]]] = {Scope.PATH: [(path.from_, everything)]}
    connector = list(_pieces(everything, "connector"))
    vent = list(_pieces(everything, "vent"))
    # Where nothing is described the whole stands in: its facts are unknown, never silent. Only a
    # vent that was seen to start on the outlet has no connector to ask of.
    direct = path.connector.attached_directly is True and bool(vent)
    found[Scope.CONNECTOR_PIECE] = connector or ([] if direct else [("connector", everything)])
    found[Scope.VENT_PIECE] = vent or [("vent", everything)]
    into = [] if _into_flue(everything) else vent[:1]
    found[Scope.JOINT] = (connector + into) or [("connector", everything)]
    intakes = path.roof.intakes
    listed = intakes if isinstance(intakes, tuple) else ()
    found[Scope.INTAKE] = [
        (f"intake {i + 1}", replace(everything, intake=intake)) for i, intake in enumerate(listed)
    ] or [("roof", everything)]
    found[Scope.NEAR_OPENING] = [
        (name + _of_which(survey, path), replace(everything, thing=thing))
        for name, thing in other_draft.openings_near_outlet(path.roof)
    ]
    return found


def shared_subjects(survey: Survey) -> dict[Scope, list[tuple[str, View]]]:
    """Everything that belongs to no single path: common vents, spaces, openings, the house.

    Args:
        survey: the whole survey.
    Returns:
        For each scope the list of (name, view); empty where there is no such thing.
    """
    found: dict[Scope, list[tuple[str, View]]] = {Scope.COMMON: []}
    for name, vent in survey.common.items():
        if not members(survey, name):
            continue
        found[Scope.COMMON].append((name, _common_view(survey, name, vent)))
    nothing = Path(from_="")
    house = View(survey, nothing, Appliance(), Trace(nothing, ()))
    found[Scope.HOUSE] = [("house", house)]
    found[Scope.SPACE] = [
        (name, replace(house, space=name)) for name in air.spaces_with_appliances(survey)
    ]
    found[Scope.OPENING] = [
        (name, replace(house, space=space, thing=thing))
        for name, space, thing in air.openings(survey)
    ]
    return found


def _into_flue(view: View) -> bool:
    """Whether the connector ends in a masonry flue: its inlet is judged, and no pipe joint."""
    parts = view.trace.of_role("vent")
    told = view.path.chimney
    metal = isinstance(told, Chimney) and told.liner in chimney.METAL_LINERS
    return bool(parts) and parts[0].piece.wall == "masonry" and not metal


def _of_which(survey: Survey, path: Path) -> str:
    """Whose outlet is meant, where there is more than one path."""
    return f" of {path.joins or path.from_}" if len(survey.paths) > 1 else ""


def _traced(path: Path, on_top: bool | None, common_vent: Shared | None) -> Trace:
    """The path with its pieces placed, taken from the common vent where that has done it."""
    for one in common_vent.joined if common_vent else ():
        if one.path.from_ == path.from_ and one.trace.path == path:
            return one.trace
    return trace(path, on_top)


def _common_view(survey: Survey, name: str, vent: Common) -> View:
    common_vent = shared(survey, name)
    path = trunk(name, vent)
    placed = common_vent.trunk if common_vent else trace(path, None)
    return View(survey, path, Appliance(), placed, common=name, shared=common_vent)


def _pieces(whole_view: View, role: str) -> Iterator[tuple[str, View]]:
    for item in whole_view.trace.of_role(role):
        yield item.piece.id, replace(whole_view, placed=item)
