"""An ensemble: one model with its inputs drawn by chance, chunk by chunk.

``chunks`` gives each chunk as soon as it is there. The caller shows how far it is, keeps what it
got (``Chunk.plain`` is JSON), stops when it likes, and hands back what it kept to go on. Samples
are the same for the same seed, whatever the chunks, workers and stops.
"""

from __future__ import annotations

import hashlib
import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import asdict, dataclass
from typing import Any, Protocol

import numpy as np

from fluewright.draft.kernel import FLUE_KG_S
from fluewright.draft.system import Lone
from fluewright.ensemble import loops
from fluewright.ensemble.backend import Name, backend
from fluewright.ensemble.built import Built, built
from fluewright.ensemble.cases import Floats
from fluewright.ensemble.draws import Drawn, Mode, draw
from fluewright.ensemble.outcome import (
    Influence,
    Outcome,
    percentiles_of,
    rank_influence,
    share_of,
)
from fluewright.ensemble.states import states
from fluewright.errors import FluewrightError, OutOfRange

FIELDS = ("margin_pa", "flow_kg_s", "draft_pa", "dilution", "wet", "spills", "fails_to_start")
Starts = Callable[[Lone], bool | None]


class Model(Protocol):
    """What an ensemble runs: ``draft.from_survey.Modelled`` is one."""

    @property
    def inputs(self) -> Sequence[Drawn]:
        """What is drawn."""
        ...

    def build(self, values: Mapping[str, float]) -> Lone:
        """The system where the inputs have these values."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is to be run.

    Attributes:
        samples: how many.
        seed: any integer; the only source of chance.
        chunk: samples that come at a time.
        mode: how inputs are drawn, see ``draws.draw``.
        backend: None takes the quickest that can be had.
        starts: says of one system whether it takes over after a start from cold, None where that
            is not known; it is asked of every sample. None: it is not asked.
    """

    samples: int
    seed: int
    chunk: int = 1000
    mode: Mode = "spread"
    backend: Name | None = None
    starts: Starts | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Chunk:
    """Results of samples ``first`` up to ``last``; None where a sample has none.

    ``stamp`` tells which ensemble they belong to. ``results`` holds one row for each of
    ``FIELDS``, ``unsolved`` and ``refused`` reasons with the number of samples.
    """

    stamp: str
    first: int
    last: int
    results: dict[str, list[float | None]]
    unsolved: dict[str, int]
    refused: dict[str, int]

    def plain(self) -> dict[str, Any]:
        """As JSON takes it; ``Chunk(**plain)`` is the chunk again."""
        return asdict(self)


def chunks(
    model: Model, plan: Plan, done: Iterable[Chunk] = (), pool: Executor | None = None
) -> Iterator[Chunk]:
    """The chunks that are not there yet, each as soon as it is, in order.

    Args:
        model: what is run.
        plan: how many samples, and their seed.
        done: chunks of an earlier run, in any order and of any size.
        pool: workers that share the chunks out; None runs here. The model must travel there.
    Returns:
        An iterator; what has not been asked for is not computed (without a pool).
    Raises:
        OutOfRange: chunks that belong to another ensemble, or overlap.
    """
    mark = stamp(model, plan)
    spans = _missing(plan, done, mark)
    if pool is None:
        yield from (chunk(model, plan, *span, mark) for span in spans)
        return
    work = [pool.submit(chunk, model, plan, *span, mark) for span in spans]
    try:
        for one in work:
            yield one.result()
    finally:
        for one in work:
            one.cancel()


def chunk(model: Model, plan: Plan, first: int, last: int, mark: str) -> Chunk:
    """Results of samples ``first`` up to ``last``."""
    values = draw(model.inputs, plan.seed, first, last, plan.mode)
    made = built(model.build, values, last - first)
    way = backend(plan.backend)
    flow, codes = (np.asarray(part) for part in way.settled(made.cases))
    solved = codes < loops.NO_RANGE
    columns = _columns(made, flow, np.asarray(way.margins(made.cases)))
    results: dict[str, list[float | None]] = {}
    for name in FIELDS[:-1]:
        row = np.full(last - first, np.nan)
        row[made.kept] = np.where(solved, columns[name], np.nan)
        results[name] = [x if math.isfinite(x) else None for x in row.tolist()]
    refused = dict(made.refused)
    results[FIELDS[-1]] = [None] * (last - first)
    if plan.starts is not None:
        results[FIELDS[-1]] = _starts(model, plan, values, refused)
    reasons = [loops.REASONS[int(code)] for code in codes[~solved]]
    return Chunk(
        stamp=mark,
        first=first,
        last=last,
        results=results,
        unsolved={reason: reasons.count(reason) for reason in sorted(set(reasons))},
        refused=refused,
    )


def _columns(made: Built, flow: Floats, margin: Floats) -> dict[str, Floats]:
    """What is told of each system."""
    like = states(made, flow)
    burns = made.cases.par[:, FLUE_KG_S] > 0.0
    return {
        "margin_pa": margin,
        "flow_kg_s": flow,
        "draft_pa": like.draft_pa,
        "dilution": like.dilution,
        "wet": like.wet,
        "spills": np.where(burns, (margin < 0.0) | (like.spilled > 0.0), np.nan),
    }


def _starts(
    model: Model, plan: Plan, values: Mapping[str, Floats], refused: dict[str, int]
) -> list[float | None]:
    """1 for each sample that fails to take over from cold, 0 for each that does.

    Why a start cannot be computed is counted in ``refused``; systems that cannot be made are
    there already.
    """
    told: list[float | None] = []
    for i in range(len(next(iter(values.values()), ()))):
        try:
            system = model.build({name: float(lane[i]) for name, lane in values.items()})
        except FluewrightError:
            told.append(None)
            continue
        try:
            takes_over = plan.starts(system) if plan.starts is not None else None
        except FluewrightError as error:
            takes_over = None
            refused[str(error)] = refused.get(str(error), 0) + 1
        told.append(None if takes_over is None else float(not takes_over))
    return told


def stamp(model: Model, plan: Plan) -> str:
    """What chunks of one ensemble share: seed, mode, inputs, and the system in the middle."""
    told = [repr(plan.seed), plan.mode, repr(getattr(plan.starts, "args", plan.starts is not None))]
    told += [repr((i.name, i.low, i.value, i.high, i.spread)) for i in model.inputs]
    told.append(repr(model.build({one.name: one.value for one in model.inputs})))
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:32]


def _missing(plan: Plan, done: Iterable[Chunk], mark: str) -> list[tuple[int, int]]:
    """The spans of samples that no chunk holds, cut to size."""
    spans: list[tuple[int, int]] = []
    at = 0
    for one in sorted(done, key=lambda one: one.first):
        if one.stamp != mark:
            raise OutOfRange("ensemble: a chunk belongs to another model, seed or mode.")
        if one.first < at:
            raise OutOfRange(f"ensemble: sample {one.first} is in two chunks.")
        spans.append((at, min(one.first, plan.samples)))
        at = one.last
    spans.append((at, plan.samples))
    return [
        (a, min(a + plan.chunk, end)) for start, end in spans for a in range(start, end, plan.chunk)
    ]


def summed_up(model: Model, plan: Plan, found: Iterable[Chunk]) -> Outcome:
    """What all chunks together say.

    Args:
        model: what was run.
        plan: as it was run.
        found: all its chunks, in any order.
    Returns:
        Shares, percentiles and the ranking of the inputs.
    Raises:
        OutOfRange: samples are missing, or chunks belong to another ensemble.
    """
    parts = sorted(found, key=lambda one: one.first)
    if left := _missing(plan, parts, stamp(model, plan)):
        raise OutOfRange(f"ensemble: samples {left[0][0]} to {left[0][1] - 1} are missing.")
    rows = {
        name: np.array([x for one in parts for x in one.results[name]], dtype=np.float64)
        for name in FIELDS
    }
    rows = {name: row[: plan.samples] for name, row in rows.items()}
    drawn = draw(model.inputs, plan.seed, 0, plan.samples, plan.mode)
    return Outcome(
        samples=plan.samples,
        spills=share_of(rows["spills"]),
        fails_to_start=share_of(rows["fails_to_start"]),
        wet=share_of(rows["wet"]),
        margin_pa=percentiles_of(rows["margin_pa"]),
        flow_kg_s=percentiles_of(rows["flow_kg_s"]),
        draft_pa=percentiles_of(rows["draft_pa"]),
        dilution=percentiles_of(rows["dilution"]),
        influences=_influences(model, plan, drawn, rows["margin_pa"]),
        unsolved=_counted(one.unsolved for one in parts),
        refused=_counted(one.refused for one in parts),
    )


def run(model: Model, plan: Plan, progress: Callable[[int, int], None] | None = None) -> Outcome:
    """A whole ensemble at once.

    Args:
        model: what is run.
        plan: how many samples, and their seed.
        progress: is told after each chunk how many samples of how many are done.
    Returns:
        Shares, percentiles and the ranking of the inputs.
    """
    found: list[Chunk] = []
    for one in chunks(model, plan):
        found.append(one)
        if progress is not None:
            progress(one.last, plan.samples)
    return summed_up(model, plan, found)


def _influences(
    model: Model, plan: Plan, drawn: Mapping[str, Floats], margin: Floats
) -> tuple[Influence, ...]:
    """All inputs that vary, by how far the margin swings with each."""
    moving = [one for one in model.inputs if one.high > one.low and one.spread != "fixed"]
    usual = {one.name: np.full(2 * len(moving), one.value) for one in model.inputs}
    for j, one in enumerate(moving):
        usual[one.name][2 * j : 2 * j + 2] = one.low, one.high
    ends: list[float | None] = [None] * (2 * len(moving))
    if moving:
        made = built(model.build, usual, 2 * len(moving))
        told = np.asarray(backend(plan.backend).margins(made.cases)).tolist()
        for i, margin_pa in zip(made.kept.tolist(), told, strict=True):
            ends[i] = margin_pa if math.isfinite(margin_pa) else None
    by_rank = rank_influence({one.name: drawn[one.name] for one in moving}, margin)
    found = [
        Influence(
            name=one.name,
            rank_correlation=by_rank[one.name][0],
            rank_weight=by_rank[one.name][1],
            low_pa=ends[2 * j],
            high_pa=ends[2 * j + 1],
        )
        for j, one in enumerate(moving)
    ]
    return tuple(sorted(found, key=lambda one: (-one.swing_pa, -abs(one.rank_weight))))


def _counted(parts: Iterable[Mapping[str, int]]) -> tuple[tuple[str, int], ...]:
    """Reasons with their numbers, the most frequent first."""
    total: dict[str, int] = {}
    for reason, many in itertools.chain.from_iterable(part.items() for part in parts):
        total[reason] = total.get(reason, 0) + many
    return tuple(sorted(total.items(), key=lambda item: (-item[1], item[0])))
