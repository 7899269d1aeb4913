"""Ensembles: the same for the same seed, resumable, and right where the answer is known."""

from __future__ import annotations

import json
import math
import multiprocessing
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import islice
from random import Random

import numpy as np
import pytest
from scipy import stats
from tests.draft.random_systems import random_cases
from tests.draft.small_model import Heater, Input
from tests.draft.systems import heater, random_system

from fluewright.draft.margins import spill_margin
from fluewright.draft.solve import solve
from fluewright.draft.system import Lone
from fluewright.ensemble import compiled
from fluewright.ensemble.built import built
from fluewright.ensemble.draws import draw
from fluewright.ensemble.outcome import percentiles_of, rank_influence, ranks, share_of
from fluewright.ensemble.run import Chunk, Plan, chunks, run, summed_up
from fluewright.ensemble.states import states
from fluewright.errors import NotSolved, OutOfRange

MODEL = Heater()
PLAN = Plan(samples=700, seed=3, chunk=256)
SURE = 3.9  # standard deviations: passed by chance once in ten thousand


@pytest.fixture(scope="module")
def whole() -> list[Chunk]:
    return list(chunks(MODEL, PLAN))


def joined(found: list[Chunk]) -> dict[str, list[float | None]]:
    rows: dict[str, list[float | None]] = {}
    for one in sorted(found, key=lambda one: one.first):
        for name, row in one.results.items():
            rows.setdefault(name, []).extend(row)
    return rows


@pytest.mark.parametrize("size", [1, 97, 5000])
def test_results_do_not_depend_on_the_size_of_chunks(whole: list[Chunk], size: int) -> None:
    plan = replace(PLAN, samples=200 if size == 1 else 700, chunk=size)
    expect = {name: row[: plan.samples] for name, row in joined(whole).items()}
    assert joined(list(chunks(MODEL, plan))) == expect


@pytest.mark.slow
def test_results_do_not_depend_on_how_many_processes_there_are(whole: list[Chunk]) -> None:
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=spawn) as pool:
        assert list(chunks(MODEL, PLAN, pool=pool)) == whole


def test_a_run_that_was_stopped_goes_on_from_what_was_kept(whole: list[Chunk]) -> None:
    started = list(islice(chunks(MODEL, PLAN), 1))
    kept = json.loads(json.dumps([one.plain() for one in started]))
    rest = list(chunks(MODEL, replace(PLAN, chunk=100), [Chunk(**one) for one in kept]))
    assert [(one.first, one.last) for one in rest] == [
        (256, 356), (356, 456), (456, 556), (556, 656), (656, 700),
    ]  # fmt: skip
    assert joined([*started, *rest]) == joined(whole)
    assert summed_up(MODEL, PLAN, [*rest, *started]) == run(MODEL, PLAN)


def test_chunks_of_another_ensemble_are_refused(whole: list[Chunk]) -> None:
    colder = replace(MODEL, inputs=(replace(MODEL.inputs[0], low=-13.0), *MODEL.inputs[1:]))
    for model, plan in ((MODEL, replace(PLAN, seed=4)), (colder, PLAN)):
        with pytest.raises(OutOfRange, match="another model, seed or mode"):
            list(chunks(model, plan, whole))
    with pytest.raises(OutOfRange, match="sample 0 is in two chunks"):
        list(chunks(MODEL, PLAN, [whole[0], whole[0]]))
    with pytest.raises(OutOfRange, match="samples 256 to 511 are missing"):
        summed_up(MODEL, PLAN, [whole[0], whole[2]])


def test_another_seed_gives_other_samples(whole: list[Chunk]) -> None:
    other = joined(list(chunks(MODEL, replace(PLAN, seed=4))))
    assert other["margin_pa"] != joined(whole)["margin_pa"]


def test_progress_is_told_after_each_chunk() -> None:
    told: list[tuple[int, int]] = []
    run(MODEL, PLAN, lambda done, of: told.append((done, of)))
    assert told == [(256, 700), (512, 700), (700, 700)]


def test_share_of_spillage_is_that_of_an_input_whose_law_is_known() -> None:
    """The margin falls pascal for pascal with suction, which is uniform from 0 to 20 Pa."""
    only = replace(
        MODEL,
        inputs=tuple(
            one if one.name == "room_pa" else replace(one, low=one.value, high=one.value)
            for one in MODEL.inputs
        ),
    )
    calm = spill_margin(only.build({one.name: one.value for one in only.inputs})) + 1.0
    expect = (20.0 - calm) / 20.0
    assert 0.1 < expect < 0.9
    found = run(only, Plan(samples=4000, seed=1, chunk=4000))
    assert found.spills.of == 4000
    assert found.spills.share == pytest.approx(
        expect, abs=SURE * math.sqrt(expect * (1.0 - expect) / 4000)
    )
    assert found.spills.low < expect < found.spills.high
    assert [one.name for one in found.influences] == ["room_pa"]
    (suction,) = found.influences
    assert suction.rank_correlation == pytest.approx(1.0)
    assert suction.low_pa == pytest.approx(calm - 20.0)
    assert suction.high_pa == pytest.approx(calm)


def test_what_matters_comes_first_and_what_does_not_last() -> None:
    found = run(MODEL, PLAN)
    names = [one.name for one in found.influences]
    assert names[0] == "room_pa"
    assert names[-1] == "nothing"
    assert "still" not in names
    last = found.influences[-1]
    assert last.swing_pa == 0.0
    assert abs(last.rank_weight) < SURE / math.sqrt(PLAN.samples)
    by_name = {one.name: one for one in found.influences}
    assert by_name["outdoor_k"].rank_weight < -0.1
    assert by_name["u"].rank_weight < 0.0 < by_name["flue_k"].rank_weight


def test_systems_that_cannot_be_are_counted_not_dropped() -> None:
    inputs = (
        *MODEL.inputs[:1],
        replace(MODEL.inputs[1], low=150.0, spread="uniform"),
        *MODEL.inputs[2:],
    )
    found = run(replace(MODEL, inputs=inputs), PLAN)
    refused = sum(many for _, many in found.refused)
    assert 100 < refused < 400  # 50 of 155 K lie below what is allowed
    assert all("outdoor_k" in message or "ambient_k" in message for message, _ in found.refused)
    assert found.spills.of == PLAN.samples - refused


def test_a_start_from_cold_is_asked_where_the_caller_says_how() -> None:
    assert run(MODEL, PLAN).fails_to_start.share is None
    plan = Plan(samples=60, seed=3, starts=lambda system: system.around.room_pa > -8.0)
    found = run(MODEL, plan).fails_to_start
    rooms = [MODEL.inputs[0]]
    assert (found.of, found.count) == (60, sum(x <= -8.0 for x in drawn(rooms, plan)))


def drawn(inputs: list[Input], plan: Plan) -> list[float]:
    return draw(inputs, plan.seed, 0, plan.samples)["room_pa"].tolist()


def pick(systems: list[Lone], values: dict[str, float]) -> Lone:
    return systems[int(values["i"])]  # an array is no index: each sample runs on its own


def test_states_are_those_of_the_scalar_solver() -> None:
    chance = Random(2)
    systems = [random_system(chance) for _ in range(250)] + [heater(60.0, -x) for x in range(20)]
    systems = [one for one in systems if told(one) is not None]
    places = np.arange(float(len(systems)))
    made = built(lambda values: pick(systems, dict(values)), {"i": places}, len(places))
    flow, _ = compiled.settled(made.cases)
    found = states(made, flow)
    seen: set[object] = set()
    for i, system in enumerate(systems):
        at = solve(system).at
        scale = abs(at.draft_pa) + abs(system.around.room_pa) + abs(system.around.cap_pa) + 1.0
        assert found.draft_pa[i] == pytest.approx(at.draft_pa, abs=1e-9 * scale)
        if system.flue.mass_kg_s > 0.0:
            assert found.dilution[i] == pytest.approx(at.dilution, rel=1e-8, abs=1e-9)
            assert found.spilled[i] == pytest.approx(at.spilled, rel=1e-8, abs=1e-9)
        wet = None if math.isnan(found.wet[i]) else bool(found.wet[i])
        assert wet == at.wet
        seen |= {wet, at.root.branch}
    assert {True, False, "drafting", "spilling", "reversed"} <= seen


def told(system: Lone) -> float | None:
    try:
        return solve(system).at.root.flow_kg_s
    except NotSolved:
        return None


@pytest.mark.parametrize(("count", "of"), [(0, 20), (1, 29), (15, 148), (81, 263), (20, 20)])
def test_shares_have_the_interval_of_wilson(count: int, of: int) -> None:
    zeros_and_ones = np.array([1.0] * count + [0.0] * (of - count) + [np.nan] * 7)
    found = share_of(zeros_and_ones)
    oracle = stats.binomtest(count, of).proportion_ci(0.95, "wilson")
    assert (found.count, found.of, found.share) == (count, of, count / of)
    assert found.low == pytest.approx(oracle.low, abs=1e-12)
    assert found.high == pytest.approx(oracle.high, abs=1e-12)


# Newcombe (Statistics in Medicine 17, 1998), table I, method 3; from memory.
@pytest.mark.parametrize(
    ("count", "of", "low", "high"), [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605)]
)
def test_intervals_are_the_published_ones(count: int, of: int, low: float, high: float) -> None:
    found = share_of(np.array([1.0] * count + [0.0] * (of - count)))
    assert (round(found.low, 4), round(found.high, 4)) == (low, high)


def test_a_share_of_nothing_known_is_not_known() -> None:
    found = share_of(np.full(5, np.nan))
    assert (found.share, found.low, found.high) == (None, 0.0, 1.0)
    assert percentiles_of(np.full(5, np.nan)) is None


def test_ranks_and_their_correlation_are_those_of_an_outside_library() -> None:
    chance = np.random.default_rng(1)
    drawn = {"a": chance.normal(size=400), "b": chance.integers(0, 5, 400).astype(float)}
    result = drawn["a"] + 0.3 * drawn["b"] ** 2 + chance.normal(size=400)
    result[7] = np.nan
    known = np.isfinite(result)
    assert np.array_equal(ranks(drawn["b"]), stats.rankdata(drawn["b"]))
    found = rank_influence(drawn, result)
    for name, values in drawn.items():
        expect = stats.spearmanr(values[known], result[known]).statistic
        assert found[name][0] == pytest.approx(expect, rel=1e-12)


def test_nothing_matters_where_nothing_changes() -> None:
    drawn = {"a": np.arange(5.0), "b": np.ones(5)}
    assert rank_influence(drawn, np.ones(5)) == {"a": (0.0, 0.0), "b": (0.0, 0.0)}
    assert rank_influence(drawn, np.arange(5.0))["b"] == (0.0, 0.0)


def test_random_cases_are_the_same_for_the_same_seed() -> None:
    one, two = random_cases(5, seed=1), random_cases(5, seed=1)
    assert np.array_equal(one.par, two.par)
