"""A start from cold, compiled: the arithmetic of ``draft.warm_kernel`` on arrays.

``draft.warmup.warm_up(system, start, COMPILED)`` gives what it gives without, many times quicker;
``takes_over`` is what an ensemble asks of each sample.
"""

from __future__ import annotations

from collections.abc import Callable, MutableSequence, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np

from fluewright.draft.system import Lone
from fluewright.draft.warmup import Arithmetic, Start, warm_up
from fluewright.ensemble.cases import Floats
from fluewright.ensemble.compiled import compiled

Lists = Sequence[MutableSequence[float]]


@dataclass(frozen=True, slots=True)
class _Compiled:
    """``stand`` and ``start`` of ``draft.warm_kernel``, compiled; they take the same lists."""

    def stand(
        self, par: Sequence[float], rows: Lists, count: int, walls: Lists, *rest: Any
    ) -> float:
        """Lets a vent stand idle for a number of steps. The last flow. [kg/s]"""
        stores, passes, around_k, nodes, steps, work = rest
        cells, inside = _padded(rows), _padded(walls)
        flow = compiled("stand")(
            np.array(par), cells, count, inside, _padded(stores), _padded(passes),
            np.array(around_k), np.array(nodes), steps, np.array(work),
        )  # fmt: skip
        _back(cells, rows)
        _back(inside, walls)
        return float(flow)

    def start(
        self, par: Sequence[float], rows: Lists, count: int, walls: Lists, *rest: Any
    ) -> float:
        """Burns for a number of steps and records what happens. The last flow. [kg/s]"""
        stores, passes, around_k, nodes, figures, flow, steps, work, record = rest
        cells, inside, told = _padded(rows), _padded(walls), _padded(record)
        last = compiled("start")(
            np.array(par), cells, count, inside, _padded(stores), _padded(passes),
            np.array(around_k), np.array(nodes), np.array(figures), flow, steps, np.array(work),
            told,
        )  # fmt: skip
        _back(cells, rows)
        _back(inside, walls)
        _back(told, record)
        return float(last)


COMPILED: Arithmetic = _Compiled()


def takes_over(start: Start) -> Callable[[Lone], bool | None]:
    """For ``run.Plan.starts``: whether all flue gas goes up the vent by the end of a start.

    Args:
        start: how the appliance starts, and how long it may spill.
    Returns:
        A function of one system; it says None of an appliance without a draft hood or that is
        off.
    """
    return partial(_takes_over, start)


def _takes_over(start: Start, system: Lone) -> bool | None:
    if system.hood is None or not system.flue.mass_kg_s > 0.0:
        return None
    return warm_up(system, start, COMPILED).establishes


def _padded(lists: Sequence[Sequence[float]]) -> Floats:
    """Rows of different lengths as an array, the shorter filled up."""
    filled = np.zeros((len(lists), max(len(one) for one in lists)))
    for i, one in enumerate(lists):
        filled[i, : len(one)] = one
    return filled


def _back(changed: Floats, lists: Lists) -> None:
    """Writes what was changed back into the lists that it came from."""
    for row, one in zip(changed.tolist(), lists, strict=True):
        one[:] = row[: len(one)]
