"""A masonry flue in a start from cold: its wall holds layers, and they take the heat."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from fluewright.draft.from_survey import from_survey
from fluewright.draft.warmup import Start, warm_up
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


@pytest.mark.parametrize("name", ["kiln-street", "north-gable"])
def test_a_chimney_has_layers_and_a_metal_connector_has_none(name: str) -> None:
    survey = read_survey(str(DEMO / f"{name}.yaml"))
    system = from_survey(survey, coefficients(), default_fuels()).system
    flue = [one for one in system.segments if one.nodes]
    assert flue
    assert len(flue) < len(system.segments)
    for one in flue:
        # Tile of 16 mm and brick of 92 mm, by hand: 0.016 x 2000 x 840 + 0.092 x 1800 x 840.
        whole = sum(node.store_j_m2k for node in one.nodes)
        assert whole == pytest.approx(26_880 + 139_104, rel=1e-9) or whole == pytest.approx(139_104)


def test_layers_warm_more_slowly_than_a_liner_would() -> None:
    survey = read_survey(str(DEMO / "kiln-street.yaml"))
    system = from_survey(survey, coefficients(), default_fuels()).system
    thin = tuple(
        replace(one, nodes=(), wall_j_m2k=850.0) if one.nodes else one for one in system.segments
    )
    start = Start(burn_s=180.0, step_s=3.0)
    layered, liner = warm_up(system, start), warm_up(replace(system, segments=thin), start)
    at_a_minute = next(i for i, t in enumerate(layered.at_s) if t >= 60.0)
    assert layered.coldest_k[0] == pytest.approx(liner.coldest_k[0], abs=1.5)
    assert layered.coldest_k[at_a_minute] < liner.coldest_k[at_a_minute] - 0.3
