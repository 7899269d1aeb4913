"""The compiled start from cold is the one of the plain arithmetic."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.draft.small_model import Heater
from tests.draft.systems import heater

from fluewright.draft.system import Node
from fluewright.draft.warmup import Start, warm_up
from fluewright.ensemble.run import Plan, run
from fluewright.ensemble.warm import COMPILED, takes_over

START = Start(burn_s=240.0, step_s=2.0)
RELATIVE = 1e-9


@pytest.mark.parametrize("room_pa", [0.0, -1.5, -3.0, -8.0])
@pytest.mark.parametrize("walls", ["metal", "masonry"])
def test_compiled_and_plain_starts_agree(room_pa: float, walls: str) -> None:
    system = heater(40.0, room_pa)
    if walls == "masonry":
        brick = tuple(Node(store_j_m2k=40e3, outward_w_m2k=u) for u in (30.0, 30.0, 8.0))
        last = replace(system.segments[-1], nodes=brick)
        system = replace(system, segments=(*system.segments[:-1], last))
    plain, quick = warm_up(system, START), warm_up(system, START, COMPILED)
    assert quick.idle_kg_s == pytest.approx(plain.idle_kg_s, rel=RELATIVE)
    for name in ("at_s", "flow_kg_s", "spilt", "coldest_k", "dew_k"):
        one, other = ([x or 0.0 for x in getattr(told, name)] for told in (plain, quick))
        assert other == pytest.approx(one, rel=RELATIVE, abs=1e-12), name
    assert (quick.spills_s, quick.wet_s) == (plain.spills_s, plain.wet_s)


def test_an_ensemble_counts_the_starts_that_fail() -> None:
    plan = Plan(samples=40, seed=6, starts=takes_over(START))
    found = run(Heater(), plan)
    # Where the drawn heat loss is more than its inside film allows no start can be computed.
    refused = sum(many for message, many in found.refused if "inside film" in message)
    assert refused > 0
    assert found.fails_to_start.of == 40 - refused
    assert 0 < found.fails_to_start.count < 40 - refused
    never = replace(heater(40.0), hood=None)
    assert takes_over(START)(never) is None
