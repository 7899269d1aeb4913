"""Vents solved side by side have the flows that the kernel finds for each alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.draft.random_systems import random_cases

from fluewright.draft import kernel
from fluewright.ensemble import compiled, lockstep, lockstep_places
from fluewright.ensemble.cases import Cases

SAME = 1e-11  # of each flow: rounding, much less than the 1e-9 that the forms promise
MANY = 2_000


def ordinary(many: int, seed: int, rough: bool) -> Cases:
    """Vents of the kind met in houses: hot gas, rising, no segment without heat loss."""
    cases = random_cases(many, seed, segments=4)
    chance = np.random.default_rng(seed)
    par, rows = cases.par.copy(), cases.rows.copy()
    par[:, kernel.FLUE_K] = chance.uniform(400.0, 560.0, many)
    par[:, kernel.FLUE_MOLAR] = chance.uniform(27.6, 28.4, many)
    par[:, kernel.FLUE_KG_S] = chance.uniform(0.004, 0.01, many)
    par[:, kernel.RELIEF_M2] = chance.uniform(0.005, 0.015, many)
    par[:, kernel.ROOM_K] = chance.uniform(288.0, 298.0, many)
    par[:, kernel.ROOM_PA] = chance.uniform(-3.0, 0.0, many)
    par[:, kernel.CAP_PA] = 0.0
    rows[..., kernel.LENGTH] = chance.uniform(0.3, 2.5, rows.shape[:2])
    rows[..., kernel.RISE] = rows[..., kernel.LENGTH] * chance.uniform(0.3, 1.0, rows.shape[:2])
    rows[..., kernel.DIAMETER] = chance.uniform(0.10, 0.16, (many, 1))
    rows[..., kernel.AREA] = math.pi / 4.0 * rows[..., kernel.DIAMETER] ** 2
    rows[..., kernel.AMBIENT] = chance.uniform(260.0, 295.0, rows.shape[:2])
    rows[..., kernel.HEAT] = chance.uniform(0.5, 2.5, rows.shape[:2])
    if not rough:
        rows[..., kernel.ROUGH] = -1.0
    return Cases(par=par, rows=rows, counts=cases.counts)


def by_kernel(cases: Cases) -> np.ndarray:
    """Each solved alone, with the kernel as it stands compiled."""
    out = np.zeros(len(cases))
    compiled.compiled("each_operating_flow")(
        0, len(cases), cases.par, cases.rows, cases.counts, out
    )
    return out


def side_by_side(cases: Cases, all_flue: bool) -> tuple[np.ndarray, float]:
    """The flows, and the share of them for which the kernel was needed."""
    out = np.zeros(len(cases))
    places = lockstep_places.V_SIZE + lockstep_places.S_SIZE * cases.rows.shape[1]
    left = compiled.compiled("each_largest_flow")(
        0, len(cases), cases.par, cases.rows, cases.counts, all_flue,
        np.zeros(places * lockstep_places.LANES), np.zeros(kernel.PAR_SIZE), out,
    )  # fmt: skip
    return out, left / len(cases)


def apart(found: np.ndarray, expected: np.ndarray) -> float:
    """Largest relative difference; infinity where only one is 0."""
    assert not np.isnan(found).any()
    assert np.array_equal(found == 0.0, expected == 0.0)
    some = expected > 0.0
    return float(np.max(np.abs(found[some] / expected[some] - 1.0)))


@pytest.mark.parametrize("rough", [True, False])
@pytest.mark.parametrize("all_flue", [True, False])
def test_ordinary_vents_seldom_need_the_kernel_and_have_its_flows(
    all_flue: bool, rough: bool
) -> None:
    cases = ordinary(MANY, 5, rough)
    found, by_the_kernel = side_by_side(cases, all_flue)
    assert by_the_kernel < 0.4
    expected = by_kernel(cases.all_flue() if all_flue else cases)
    assert apart(found, expected) < SAME


@pytest.mark.parametrize("all_flue", [True, False])
def test_strange_vents_have_the_flows_of_the_kernel(all_flue: bool) -> None:
    cases = random_cases(20_000, seed=21)
    found, by_the_kernel = side_by_side(cases, all_flue)
    assert 0.0 < by_the_kernel < 1.0
    expected = by_kernel(cases.all_flue() if all_flue else cases)
    assert apart(found, expected) < SAME


def test_pressures_balance_at_the_flows_found() -> None:
    cases = ordinary(300, 6, rough=True)
    for given in (cases, cases.all_flue()):
        found = compiled.operating_flows(given)
        for flow, par, rows, count in zip(
            found.tolist(), given.par.tolist(), given.rows.tolist(), given.counts, strict=True
        ):
            if flow > 0.0:
                assert abs(kernel.rising(flow, par, rows, count)) < 1e-9


def test_a_result_does_not_depend_on_its_neighbors() -> None:
    cases = ordinary(130, 7, rough=True)
    together = compiled.capacities(cases)
    alone = [compiled.capacities(cases.part(i, i + 1))[0] for i in range(len(cases))]
    assert np.array_equal(together, alone)


def test_without_loss_of_heat_or_in_a_hotter_attic_the_kernel_is_asked() -> None:
    cases = ordinary(200, 8, rough=False)
    rows = cases.rows.copy()
    rows[:, 0, kernel.HEAT] = 0.0
    assert side_by_side(replace(cases, rows=rows), True)[1] == 1.0
    rows = cases.rows.copy()
    rows[:, 0, kernel.AMBIENT] = 700.0
    assert side_by_side(replace(cases, rows=rows), True)[1] == 1.0


def test_series_are_good_to_the_last_digits() -> None:
    """Against ``math``; 1e-15 is some 5 units of rounding."""
    for exponent in np.geomspace(1e-9, lockstep.MOST_COOLED, 4001).tolist():
        assert lockstep.lost_share(exponent) == pytest.approx(math.expm1(-exponent), rel=1e-15)
    for grown in np.linspace(-0.45, 0.45, 1001).tolist():  # how a power of a ratio is taken
        assert lockstep.lost_share(grown) == pytest.approx(math.expm1(-grown), rel=2e-15, abs=0.0)
    for s in np.linspace(-lockstep.MOST_RATIO, lockstep.MOST_RATIO, 4001).tolist():
        assert lockstep.log_ratio(s) == pytest.approx(2.0 * math.atanh(s), rel=1e-15)
