"""A folder of surveys as ensembles: the same here and on a cluster."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fluewright.app.draft import Spread
from fluewright.app.draft_folder import folder_outcomes
from fluewright.errors import FluewrightError

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("otter-bend", "larch-attic", "alder-court"):
        shutil.copy(DEMO / f"{name}.yaml", tmp_path)
    return tmp_path


def test_every_file_has_an_outcome_or_a_reason(folder: Path) -> None:
    seen: list[tuple[int, int]] = []
    spread = Spread(samples=100, seed=3)
    found = folder_outcomes(folder, spread, progress=lambda i, n: seen.append((i, n)))
    assert [one.file for one in found] == [
        "alder-court.yaml",
        "larch-attic.yaml",
        "otter-bend.yaml",
    ]
    assert found[0].outcome is None
    assert "2 appliances burn" in str(found[0].reason)
    assert all(one.outcome is not None and one.outcome.samples == 100 for one in found[1:])
    assert seen == [(1, 3), (2, 3), (3, 3)]


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_a_cluster_of_two_workers_gives_the_same(folder: Path) -> None:
    distributed = pytest.importorskip("distributed")
    here = folder_outcomes(folder, Spread(samples=60, seed=3))
    with (
        distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        there = folder_outcomes(folder, Spread(samples=60, seed=3), cluster=client)
    assert there == here


def test_an_empty_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FluewrightError, match="no survey"):
        folder_outcomes(tmp_path, Spread(samples=10))
