"""Every fact says where in the survey file its answer goes, and that place exists."""

from __future__ import annotations

import dataclasses
import types
import typing

import pytest

from fluewright.facts import FACTS, written
from fluewright.survey import Appliance, Intake, Opening, Path, Piece, Survey

STARTS = {
    "appliance": Appliance,
    "path": Path,
    "placed.piece": Piece,
    "intake": Intake,
    "thing": Opening,
    "survey": Survey,
}


def classes_in(hint: object) -> list[type]:
    """Data classes that a field may hold."""
    if isinstance(hint, type):
        return [hint] if dataclasses.is_dataclass(hint) else []
    if isinstance(hint, types.UnionType) or typing.get_origin(hint) is not None:
        return [c for part in typing.get_args(hint) for c in classes_in(part)]
    return []


def resolves(holders: list[type], keys: list[str]) -> bool:
    if not keys:
        return True
    for holder in holders:
        hints = typing.get_type_hints(holder)
        if keys[0] in hints and resolves(classes_in(hints[keys[0]]), keys[1:]):
            return True
    return False


@pytest.mark.parametrize("name", FACTS)
def test_the_route_of_a_fact_leads_to_fields_of_the_survey(name: str) -> None:
    route = FACTS[name].route
    assert route, name
    for part in route.split("; "):
        first, *more = part.split(", ")
        start = next(s for s in STARTS if first.startswith(s + "."))
        keys = first.removeprefix(start + ".").split(".")
        assert resolves([STARTS[start]], keys), part
        for sibling in more:
            assert resolves([STARTS[start]], [*keys[:-1], sibling]), f"{part}: {sibling}"


def test_the_place_is_said_in_words_of_the_file() -> None:
    assert written("appliance.hood.altered") == "hood.altered of the appliance"
    assert written("survey.job.occupancy") == "job.occupancy"
    assert (
        written("path.vent.blocked; placed.piece.crushed")
        == "vent.blocked of the path; crushed of the piece"
    )
