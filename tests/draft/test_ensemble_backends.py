"""The compiled, the array and the plain form of the draft engine give the same numbers."""

from __future__ import annotations

import math
import subprocess
import sys
import types
from dataclasses import replace
from pathlib import Path
from random import Random

import numpy as np
import pytest
from tests.draft.random_systems import random_cases
from tests.draft.systems import random_system

from fluewright.draft import kernel
from fluewright.draft.solve import figures, solve
from fluewright.draft.system import Lone
from fluewright.ensemble import backend as backends
from fluewright.ensemble import compiled, loops, plain, vectorised
from fluewright.ensemble.balance import balance
from fluewright.ensemble.cases import Cases, stack
from fluewright.errors import NotSolved

RELATIVE = 1e-9  # what the forms promise; they differ by rounding and by how a root is narrowed
MANY = 2_000
CASES = random_cases(MANY, seed=4)


def apart(one: object, other: object) -> float:
    """Largest relative difference; infinity where only one is NaN."""
    a, b = np.asarray(one, dtype=float), np.asarray(other, dtype=float)
    same = (a == b) | (np.isnan(a) & np.isnan(b))
    with np.errstate(invalid="ignore"):
        found = np.where(same, 0.0, np.abs(a - b) / np.maximum(np.abs(a), np.abs(b)))
    return float(np.max(np.where(np.isnan(found), np.inf, found)))


@pytest.fixture(scope="module")
def of_each() -> dict[str, backends.Backend]:
    return {name: backends.backend(name) for name in backends.MODULES}


@pytest.mark.slow
@pytest.mark.parametrize("what", ["operating_flows", "capacities", "settled", "all_roots"])
def test_all_backends_agree(of_each: dict[str, backends.Backend], what: str) -> None:
    found = {name: getattr(one, what)(CASES) for name, one in of_each.items()}
    first = found["plain"] if isinstance(found["plain"], tuple) else (found["plain"],)
    for name in ("compiled", "arrays"):
        other = found[name] if isinstance(found[name], tuple) else (found[name],)
        assert [apart(a, b) < RELATIVE for a, b in zip(first, other, strict=True)] == [
            True for _ in first
        ], name


def test_margins_agree_to_a_billionth_of_the_largest_pressure(
    of_each: dict[str, backends.Backend],
) -> None:
    flue = CASES.par[:, kernel.FLUE_KG_S]
    size = balance(np.where(flue > 0.0, flue, 1.0), CASES).largest_pa
    plainly = np.asarray(of_each["plain"].margins(CASES))
    assert np.isinf(plainly).sum() == (flue == 0.0).sum() > 20
    for name in ("compiled", "arrays"):
        found = of_each[name].margins(CASES)
        assert np.array_equal(np.isinf(found), np.isinf(plainly))
        known = ~np.isinf(found)
        assert np.max(np.abs(found[known] - plainly[known]) / size[known]) < RELATIVE


def test_every_kind_of_state_is_among_the_random_systems() -> None:
    _, codes = compiled.settled(CASES)
    for code in (loops.DRAFTING, loops.SPILLING, loops.STALLED, loops.REVERSED):
        assert (codes == code).any(), code
    many, _ = compiled.all_roots(CASES)
    assert {1, 2, 3} <= set(many.tolist())


def test_the_largest_flow_is_the_largest_of_all_roots() -> None:
    many, roots = compiled.all_roots(CASES)
    largest = np.max(np.where(roots > 0.0, roots, 0.0), axis=1)
    assert apart(compiled.operating_flows(CASES)[many >= 0], largest[many >= 0]) < RELATIVE


def test_at_its_capacity_a_vent_has_nothing_to_spare_and_draws_nothing_in() -> None:
    most = compiled.capacities(CASES)
    some = most > 0.0
    assert some.sum() > MANY / 4
    par = CASES.par[some].copy()
    par[:, kernel.FLUE_KG_S] = most[some]
    par[:, kernel.RELIEF_M2] = 0.01
    full = Cases(par=par, rows=CASES.rows[some], counts=CASES.counts[some])
    at = balance(most[some], full)
    assert np.max(np.abs(at.spare_pa) / at.largest_pa) < RELATIVE


def test_capacity_of_a_vent_that_loses_no_heat_is_the_closed_formula() -> None:
    """One straight pipe: rise g (rho_out - rho) = (K_cap + 1 + f L/D) G^2 / (2 rho A^2)."""
    par = [0.0] * kernel.PAR_SIZE
    par[kernel.FLUE_KG_S], par[kernel.FLUE_K], par[kernel.FLUE_MOLAR] = 0.01, 450.0, 28.0
    par[kernel.FLUE_CP], par[kernel.RELIEF_M2], par[kernel.AIR_PA] = 1080.0, 0.01, 101325.0
    par[kernel.OUT_K], par[kernel.ROOM_K], par[kernel.CAP_LOSS] = 280.0, 293.0, 0.5
    par[kernel.ROOM_MOLAR] = par[kernel.OUT_MOLAR] = 28.965
    par[kernel.ROOM_CP] = par[kernel.OUT_CP] = 1006.0
    area = math.pi / 4.0 * 0.1**2
    rows = [[5.0, 5.0, 0.1, area, 280.0, 0.0, 0.0, -1.0, 0.03]]
    density = 101325.0 * 28.0 / (8314.462618 * 450.0)
    outdoors = 101325.0 * 28.965 / (8314.462618 * 280.0)
    driven = 5.0 * 9.80665 * (outdoors - density)
    by_hand = area * math.sqrt(2.0 * density * driven / (1.5 + 0.03 * 50.0))
    for name in backends.MODULES:
        (found,) = backends.backend(name).capacities(stack([(par, rows)]))
        assert found == pytest.approx(by_hand, rel=1e-12), name


@pytest.mark.slow
def test_a_hundred_thousand_random_systems_balance_or_say_why_not() -> None:
    """Residuals are of the array formulation, flows of the compiled one."""
    cases = random_cases(100_000, seed=11)
    flows, codes = compiled.settled(cases)
    assert not np.isnan(flows).any()
    solved = codes <= loops.REVERSED
    assert set(np.unique(codes[~solved]).tolist()) <= set(loops.REASONS)
    assert (flows[~solved] == 0.0).all()
    assert solved.mean() > 0.97
    # A forced appliance has its own flow, whatever the pressures; a stalled vent has none.
    moving = solved & (flows != 0.0)
    part = Cases(par=cases.par[moving], rows=cases.rows[moving], counts=cases.counts[moving])
    flow, flue = flows[moving], part.par[:, kernel.FLUE_KG_S]
    at = balance(flow, part)
    hooded = np.isfinite(part.par[:, kernel.RELIEF_M2])
    momentum = (np.abs(at.spare_pa) / at.largest_pa)[hooded]
    energy = np.abs(at.brought_w - at.left_w - at.lost_w) / np.maximum(at.brought_w, at.left_w)
    up = np.maximum(flow, 0.0)
    kept, drawn = np.minimum(up, flue), np.maximum(up - flue, 0.0)
    mass = np.abs(kept + drawn - up) / np.abs(flow)
    for residual in (momentum, energy, mass):
        assert not np.isnan(residual).any()
        assert residual.max() < 1e-9


def test_results_do_not_depend_on_how_many_threads_there_are(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    several = compiled.settled(CASES)
    monkeypatch.setattr(compiled, "workers", lambda: 1)
    alone = compiled.settled(CASES)
    assert all(np.array_equal(a, b) for a, b in zip(several, alone, strict=True))


def test_no_cases_give_no_results() -> None:
    none = CASES.part(0, 0)
    for module in (compiled, vectorised, plain):
        assert len(module.operating_flows(none)) == len(module.settled(none)[0]) == 0
        assert len(module.all_roots(none)[0]) == len(module.margins(none)) == 0


def test_figures_that_do_not_belong_together_are_refused() -> None:
    with pytest.raises(ValueError, match="do not belong together"):
        Cases(par=CASES.par, rows=CASES.rows[:5], counts=CASES.counts)
    with pytest.raises(ValueError, match="no segment, or more"):
        Cases(par=CASES.par, rows=CASES.rows, counts=CASES.counts * 0)


def test_what_is_kept_on_disk_is_compiled_anew_when_any_source_changes(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    function = compiled.compiled("each_margin")
    kept = function._cache._cache_file
    assert kept._source_stamp == compiled.source_digest()
    assert compiled.source_digest()[:16] in kept._index_name
    for module in compiled.SOURCES:
        changed = tmp_path / "changed.py"
        changed.write_text(Path(str(module.__file__)).read_text() + "\n")
        other = types.SimpleNamespace(__file__=str(changed))
        sources = tuple(other if one is module else one for one in compiled.SOURCES)
        with monkeypatch.context() as patch:
            patch.setattr(compiled, "SOURCES", sources)
            assert compiled.source_digest() != kept._source_stamp


@pytest.mark.parametrize(
    ("absent", "name"), [((), "compiled"), (("numba",), "arrays"), (("numba", "numpy"), "plain")]
)
def test_the_quickest_backend_that_can_be_had_is_taken(
    monkeypatch: pytest.MonkeyPatch, absent: tuple[str, ...], name: str
) -> None:
    there = backends.importlib.util.find_spec
    monkeypatch.setattr(
        backends.importlib.util, "find_spec", lambda one: None if one in absent else there(one)
    )
    assert backends.backend().name == name
    for one in absent:
        with pytest.raises(ModuleNotFoundError, match=rf"needs .*{one}.*fluewright\[fast\]"):
            backends.backend("compiled")


def test_the_plain_backend_works_where_numpy_cannot_be_had() -> None:
    program = (
        "import sys\n"
        "sys.modules.update(dict.fromkeys(('numpy', 'numba')))\n"
        "from types import SimpleNamespace\n"
        "import importlib.util\n"
        "from fluewright.ensemble.plain import operating_flows\n"
        "class Lists(SimpleNamespace):\n"
        "    def __len__(self): return len(self.par)\n"
        f"cases = Lists(par={CASES.par[:3].tolist()!r}, rows={CASES.rows[:3].tolist()!r},\n"
        f"              counts={CASES.counts[:3].tolist()!r})\n"
        "print(operating_flows(cases))\n"
    ).replace("inf", "float('inf')")
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=False, text=True
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip() == str(plain.operating_flows(CASES.part(0, 3)))


def told(system: Lone) -> tuple[float, str]:
    """Flow and branch by the scalar solver; 0 and its message where it finds none."""
    try:
        root = solve(system).at.root
    except NotSolved as reason:
        return 0.0, str(reason)
    return root.flow_kg_s, root.branch


def test_where_a_vent_settles_is_what_the_scalar_solver_says() -> None:
    chance = Random(8)
    systems = [random_system(chance) for _ in range(300)]
    systems += [replace(one, hood=None) for one in systems[:60]]
    flows, codes = compiled.settled(stack([figures(system) for system in systems]))
    words = {0: "drafting", 1: "spilling", 2: "stalled", 3: "reversed", **loops.REASONS}
    for system, flow, code in zip(systems, flows, codes, strict=True):
        expect, word = told(system)
        assert words[int(code)] in word
        assert flow == pytest.approx(expect, rel=RELATIVE, abs=0.0)
    assert {0, 1, 3, loops.IDLE_WITHOUT_HOOD} <= set(codes.tolist())
