"""The figures of many systems, side by side, and what the backends share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fluewright.draft.kernel import ALL_FLUE, FLUE_KG_S, PAR_SIZE, ROW_SIZE

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cases:
    """Systems as ``draft.kernel`` takes them, one after the other.

    Attributes:
        par: figures of each system; [case, figure].
        rows: figures of each of its segments, from hood to cap; [case, segment, figure].
            Where a system has fewer segments than others, what follows its own is not looked at.
        counts: how many segments each has.
    """

    par: Floats
    rows: Floats
    counts: Integers

    def __post_init__(self) -> None:
        many = len(self.par)
        fits = (
            self.par.shape == (many, PAR_SIZE)
            and self.rows.ndim == 3
            and self.rows.shape[::2] == (many, ROW_SIZE)
            and self.counts.shape == (many,)
        )
        if not fits:
            raise ValueError(
                f"cases: par {self.par.shape}, rows {self.rows.shape} and counts "
                f"{self.counts.shape} do not belong together."
            )
        if many and not 1 <= self.counts.min() <= self.counts.max() <= self.rows.shape[1]:
            raise ValueError("cases: a system has no segment, or more than its rows hold.")

    def __len__(self) -> int:
        return len(self.par)

    def part(self, first: int, last: int) -> Cases:
        """The cases from ``first`` up to ``last``, without copying them."""
        return Cases(
            par=self.par[first:last], rows=self.rows[first:last], counts=self.counts[first:last]
        )

    def all_flue(self) -> Cases:
        """The same vents where all that flows is flue gas, however much that is."""
        par = self.par.copy()
        par[:, FLUE_KG_S] = ALL_FLUE
        return Cases(par=par, rows=self.rows, counts=self.counts)


def stack(figures: Sequence[tuple[Sequence[float], Sequence[Sequence[float]]]]) -> Cases:
    """Cases from the figures of each system, such as ``draft.solve.figures`` gives.

    Args:
        figures: ``par`` and ``rows`` of each.
    Returns:
        All of them, the shorter ones filled up.
    """
    most = max((len(rows) for _, rows in figures), default=1)
    filled = np.zeros((len(figures), most, ROW_SIZE))
    for i, (_, rows) in enumerate(figures):
        filled[i, : len(rows)] = rows
    par = np.array([par for par, _ in figures], dtype=np.float64).reshape(len(figures), PAR_SIZE)
    counts = np.array([len(rows) for _, rows in figures], dtype=np.int64)
    return Cases(par=par, rows=filled, counts=counts)
