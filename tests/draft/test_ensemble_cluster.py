"""A folder of surveys spread over a local cluster of two workers."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import distributed
import pytest
from tests.draft.small_model import Heater

from fluewright.ensemble.cluster import spread
from fluewright.ensemble.folder import one, own_seed
from fluewright.ensemble.run import Plan, run
from fluewright.errors import OutOfRange

PLAN = Plan(samples=120, seed=9)


def read(file: Path) -> Heater:
    """A stand-in for reading a survey: the file says how much suction there may be."""
    text = file.read_text()
    if text.startswith("no"):
        raise OutOfRange(f"{file.name}: no survey.")
    model = Heater()
    return replace(model, inputs=(replace(model.inputs[0], low=-float(text)), *model.inputs[1:]))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for i, text in enumerate(("8", "12", "16", "20", "no survey")):
        (tmp_path / f"job-{i}.yaml").write_text(text)
    (tmp_path / "note.txt").write_text("not looked at")
    return tmp_path


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::DeprecationWarning")
def test_a_cluster_gives_what_one_machine_gives(folder: Path) -> None:
    told: list[tuple[int, int]] = []
    with (
        distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        found = spread(folder, read, PLAN, client, lambda done, of: told.append((done, of)))
    assert found == tuple(one(file, read, PLAN) for file in sorted(folder.glob("*.yaml")))
    assert told == [(i, 5) for i in (1, 2, 3, 4, 5)]
    assert [entry.file for entry in found] == [f"job-{i}.yaml" for i in range(5)]
    assert [entry.reason for entry in found] == [None] * 4 + ["job-4.yaml: no survey."]
    own = replace(PLAN, seed=own_seed(9, "job-1.yaml"))
    assert found[1].outcome == run(read(folder / "job-1.yaml"), own)
    shares = [entry.outcome.spills.share for entry in found[:4] if entry.outcome]
    assert shares[0] < 0.1 < shares[3]


def test_what_is_no_error_of_this_package_gets_out(folder: Path) -> None:
    def broken(file: Path) -> Heater:
        raise RuntimeError(file.name)

    with pytest.raises(RuntimeError, match=r"job-0\.yaml"):
        one(folder / "job-0.yaml", broken, PLAN)
