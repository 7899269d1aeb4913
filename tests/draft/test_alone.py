"""The solver runs on the standard library alone, and the compiled kernels give its numbers."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from tests.draft.systems import heater

from fluewright.draft.solve import figures

ROOT = Path(__file__).parents[2]
OUTDOORS_F = (0.0, 40.0, 60.0, 90.0)
ABSENT = ["numpy", "numba", "scipy", "ruamel", "click", "PIL", "typst", "pydantic"]
PROGRAM = f"""
import sys
sys.modules.update(dict.fromkeys({ABSENT!r}))
sys.path[:0] = [{str(ROOT)!r}, {str(ROOT / "src")!r}]
import json
from fluewright.draft.margins import spill_margin
from fluewright.draft.solve import solve
from tests.draft.systems import heater
found = []
for outdoor in {OUTDOORS_F!r}:
    system = heater(outdoor, -1.0)
    found.append((solve(system).at.root.flow_kg_s, spill_margin(system)))
print(json.dumps(found))
"""


def test_the_solver_alone_gives_the_numbers_of_the_compiled_kernels() -> None:
    pytest.importorskip("numba")
    from fluewright.ensemble.backend import backend
    from fluewright.ensemble.cases import stack

    command = [sys.executable, "-I", "-c", PROGRAM]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    alone = json.loads(done.stdout)
    cases = stack([figures(heater(outdoor, -1.0)) for outdoor in OUTDOORS_F])
    way = backend("compiled")
    flows, margins = way.operating_flows(cases), way.margins(cases)
    for (flow, margin), fast, spare in zip(alone, flows, margins, strict=True):
        assert flow == pytest.approx(float(fast), rel=1e-9)
        assert margin == pytest.approx(float(spare), rel=1e-9)
