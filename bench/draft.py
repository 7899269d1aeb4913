"""Time the draft engine: compiled against one solve at a time, an ensemble, a survey, a start.

Run with ``make bench``. Machines are noisy: read the ratios, taken in one run, not the seconds.
Goals, on two cores: the capacity of two segments with constant friction at least 300 times, the
operating point with a hood and four segments at least 40 times SciPy's ``brentq`` over the same
residual; an ensemble of 10,000 samples under 1 s; one solve in plain Python under 2 ms; a start of
20 minutes under 50 ms.

``brentq`` runs one case at a time over ``kernel.rising`` as it stands, the very residual of the
uncompiled solver, with its own default tolerances (xtol 2e-12, rtol 8.9e-16), between the
flow at which ``kernel.beyond`` finds that the losses win and a tenth of it: a bracket that holds
for every case here without knowing the answer. Finding it is not counted against ``brentq``.

The bound is the time that the transcendental functions of a solve take alone, those written as
series included: how many are called, counted, times what each takes in a compiled loop on the same
machine, on one core.
"""

from __future__ import annotations

import math
import time
import types
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numba
import numpy as np
from scipy.optimize import brentq

from fluewright import app
from fluewright.draft import kernel
from fluewright.draft.from_survey import Conditions, from_survey
from fluewright.draft.solve import solve
from fluewright.draft.warmup import Start, warm_up
from fluewright.ensemble import compiled, lockstep, lockstep_places
from fluewright.ensemble.cases import Cases
from fluewright.ensemble.run import Plan, run
from fluewright.ensemble.warm import COMPILED
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels

CASES, SCALAR, REPEATS, ROUNDS, SAMPLES = 40_000, 300, 7, 15, 10_000
LOWEST = 0.1  # of the flow at which losses win: drive wins there in all cases of this bench
FUNCTIONS = ("lost_share", "log_ratio", "expm1", "log1p", "log", "pow", "sqrt")


def best(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Shortest of some runs, in seconds."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def cases(segments: int, constant: bool) -> Cases:
    """Ordinary vents: a connector, then a pipe that rises, cut into segments."""
    chance = np.random.default_rng(1)
    par, rows = np.zeros((CASES, kernel.PAR_SIZE)), np.zeros((CASES, segments, kernel.ROW_SIZE))
    for place, low, high in (
        (kernel.FLUE_KG_S, 0.004, 0.009), (kernel.FLUE_K, 430.0, 520.0),
        (kernel.FLUE_MOLAR, 28.0, 28.3), (kernel.FLUE_CP, 1080.0, 1100.0),
        (kernel.RELIEF_M2, 0.005, 0.010), (kernel.PLUME_M, 0.1, 0.3),
        (kernel.OUT_K, 265.0, 290.0), (kernel.ROOM_K, 291.0, 296.0),
        (kernel.AIR_PA, 9e4, 1.013e5), (kernel.ROOM_PA, -1.0, 0.0), (kernel.CAP_LOSS, 0.5, 1.5),
        (kernel.ROOM_MOLAR, 28.85, 28.9), (kernel.ROOM_CP, 1006.0, 1006.0),
        (kernel.OUT_MOLAR, 28.965, 28.965), (kernel.OUT_CP, 1006.0, 1006.0),
    ):  # fmt: skip
        par[:, place] = chance.uniform(low, high, CASES)
    diameter = chance.uniform(0.10, 0.15, (CASES, 1))
    length = chance.uniform(0.5, 2.5, (CASES, segments))
    rows[..., kernel.LENGTH] = length
    rows[..., kernel.RISE] = length
    rows[:, 0, kernel.RISE] = 0.05 * length[:, 0]
    rows[..., kernel.DIAMETER] = diameter
    rows[..., kernel.AREA] = math.pi / 4.0 * diameter**2
    rows[..., kernel.AMBIENT] = par[:, kernel.OUT_K, None]
    rows[..., kernel.HEAT] = math.pi * diameter * chance.uniform(2.0, 6.0, (CASES, segments))
    rows[..., kernel.ENTRY] = chance.uniform(0.2, 0.8, (CASES, segments))
    rows[..., kernel.ROUGH] = -1.0 if constant else 1.5e-4
    rows[..., kernel.DARCY] = 0.03
    return Cases(par=par, rows=rows, counts=np.full(CASES, segments))


@dataclass(frozen=True, slots=True)
class Calls:
    """Transcendental functions of one call, on average, by name."""

    of: Mapping[str, float]


def counted(given: Cases, many: int = 2 * lockstep_places.LANES) -> Calls:
    """What the quick solver calls for one case: run uncompiled with counters in its functions."""
    found = dict.fromkeys(FUNCTIONS, 0)

    def counter(name: str, own: Callable[..., float]) -> Callable[..., float]:
        def call(*args: float) -> float:
            found[name] += 1
            return float(own(*args))

        return call

    shared: dict[str, object] = {}
    for module in (kernel, lockstep_places, lockstep):
        shared.update(vars(module))
        for name, thing in vars(module).items():
            if isinstance(thing, types.FunctionType) and thing.__module__ == module.__name__:
                shared[name] = types.FunctionType(thing.__code__, shared, name)
    names = {name: counter(name, getattr(math, name)) for name in ("sqrt", "log", "expm1", "log1p")}
    shared["math"] = types.SimpleNamespace(**{**vars(math), **names})
    for name in ("lost_share", "log_ratio"):
        shared[name] = counter(name, getattr(lockstep, name))
    size = lockstep_places.V_SIZE + lockstep_places.S_SIZE * given.rows.shape[1]
    with np.errstate(all="ignore"):
        shared["each_largest_flow"](  # type: ignore[operator]
            0, many, given.par, given.rows, given.counts, False,
            np.zeros(size * lockstep_places.LANES), np.zeros(kernel.PAR_SIZE), np.zeros(many),
        )  # fmt: skip
    found["pow"] = found["log"]  # the two of a friction factor; the power is an operator there
    return Calls({name: calls / many for name, calls in found.items()})


def rates() -> dict[str, float]:
    """Time of one call of each function in a compiled loop over what the cache holds. [s]"""
    values = np.random.default_rng(1).uniform(0.05, 0.25, 1024)

    def timed(function: Callable[[float], float]) -> float:
        @numba.njit(error_model="numpy")
        def loop(values: np.ndarray, out: np.ndarray) -> None:
            for i in range(len(values)):
                out[i] = function(values[i])

        out = np.zeros(len(values))
        loop(values, out)
        return best(lambda: loop(values, out), 200) / len(values)

    forms = {
        "lost_share": lockstep.lost_share, "log_ratio": lockstep.log_ratio,
        "expm1": lambda x: math.expm1(x), "log1p": lambda x: math.log1p(x),
        "log": lambda x: math.log(x), "pow": lambda x: x**0.9, "sqrt": lambda x: math.sqrt(x),
    }  # fmt: skip
    return {name: timed(numba.njit(form)) for name, form in forms.items()}


def against_brentq(title: str, given: Cases, goal: float, speed: Mapping[str, float]) -> None:
    """Times the compiled solver and SciPy's over the same residual, and prints how they compare."""
    flows = compiled.operating_flows(given)
    assert (flows > 0.0).all()
    singles = list(
        zip(given.par[:SCALAR].tolist(), given.rows[:SCALAR].tolist(), flows.tolist(), strict=False)
    )

    brackets = []
    for par, rows, _ in singles:
        high = kernel.beyond(1.0, par, rows, len(rows))
        brackets.append((LOWEST * high, high))  # of unlike sign, or brentq refuses

    def wide() -> list[float]:
        return [
            brentq(kernel.rising, low, high, args=(par, rows, len(rows)))
            for (par, rows, _), (low, high) in zip(singles, brackets, strict=True)
        ]

    def narrow() -> list[float]:
        return [
            brentq(kernel.rising, 0.4 * flow, 3.0 * flow, args=(par, rows, len(rows)))
            for par, rows, flow in singles
        ]

    def plain() -> list[float]:
        return [kernel.operating_flow(par, rows, len(rows)) for par, rows, _ in singles]

    for way, near in ((wide, 2e-9), (narrow, 2e-9), (plain, 1e-9)):
        apart = np.max(np.abs(np.array(way()) / flows[:SCALAR] - 1.0))
        assert apart < near, apart
    one, size = compiled.compiled("each_largest_flow"), lockstep_places.V_SIZE
    lanes = np.zeros((size + lockstep_places.S_SIZE * given.rows.shape[1]) * lockstep_places.LANES)
    own, out = np.zeros(kernel.PAR_SIZE), np.zeros(CASES)
    ways = (
        wide, narrow, plain,
        lambda: compiled.operating_flows(given),
        lambda: one(0, CASES, given.par, given.rows, given.counts, False, lanes, own, out),
    )  # fmt: skip
    many = np.array([SCALAR, SCALAR, SCALAR, CASES, CASES])
    rounds = np.array([[best(way, 1) for way in ways] for _ in range(ROUNDS)]) / many
    ratios = np.median(rounds[:, :3] / rounds[:, 3:4], axis=0)
    lowest = np.min(rounds[:, 0] / rounds[:, 3])
    times, calls = rounds.min(axis=0), counted(given)
    bound = sum(number * speed[name] for name, number in calls.of.items())
    told = ", ".join(f"{number:.0f} {name}" for name, number in calls.of.items() if number >= 0.5)
    print(f"{title}: {ratios[0]:.0f} times brentq (goal {goal:.0f}) on {compiled.workers()} cores,")
    print(f"  median of {ROUNDS} rounds in turn, {lowest:.0f} in the worst of them; "
          f"{ratios[1]:.0f} times brentq")  # fmt: skip
    print(f"  told where the root is, {ratios[2]:.0f} times the solver of the kernel uncompiled")
    print("  one case, shortest: "
          + ", ".join(f"{seconds * 1e6:.3f}" for seconds in times)
          + " us (brentq, told, uncompiled, compiled on all cores, on one)")  # fmt: skip
    print(f"  bound on one core {bound * 1e6:.3f} us ({told}): {times[4] / bound:.1f} times that")


def of_a_survey() -> None:
    """Times one solve, an ensemble and a start of a job that comes with the package."""
    text = app.DATA + "/demo/otter-bend.yaml"
    conditions = Conditions(outdoor_k=(255.0, 285.0, 303.0), room_pa=(-6.0, -1.0, 0.0))
    survey = read_survey(Path(text))
    model = from_survey(survey, coefficients(), default_fuels(), conditions=conditions)
    print(f"survey with {len(model.system.segments)} segments and {len(model.inputs)} inputs")
    solving = best(lambda: solve(model.system), 20)
    print(f"  solve, plain Python: {solving * 1e3:.2f} ms (goal 2)")
    plan = Plan(samples=SAMPLES, seed=1, chunk=2500)
    run(model, Plan(samples=100, seed=1))  # compiled
    ensemble = best(lambda: run(model, plan), 3)
    print(f"  ensemble of {SAMPLES} samples: {ensemble:.2f} s (goal 1)")
    start = Start(burn_s=1200.0)
    warm_up(model.system, start, COMPILED)
    quick = best(lambda: warm_up(model.system, start, COMPILED), 3)
    slow = best(lambda: warm_up(model.system, start), 1)
    print(f"  start of 20 minutes: {quick * 1e3:.1f} ms compiled (goal 50), {slow * 1e3:.0f} plain")


def main() -> None:
    """Prints all of it."""
    speed = rates()
    told = ", ".join(f"{name} {seconds * 1e9:.1f}" for name, seconds in speed.items())
    print(f"nanoseconds a call, compiled: {told}")
    two = cases(2, constant=True)
    against_brentq("capacity, two segments of constant friction", two.all_flue(), 300.0, speed)
    four = cases(4, constant=False)
    against_brentq("operating point, hood and four segments", four, 40.0, speed)
    of_a_survey()


if __name__ == "__main__":
    main()
