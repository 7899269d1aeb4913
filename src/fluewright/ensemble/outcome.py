"""What an ensemble says: shares with their intervals, percentiles, and which inputs matter."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from fluewright.ensemble.cases import Floats

WILSON_Z = 1.959963984540054  # 95 %, both sides
PERCENTS = (5.0, 25.0, 50.0, 75.0, 95.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How many samples show something.

    Attributes:
        count, of: how many, of how many for which it is known.
        share: one over the other; None where it is known for none. [-]
        low, high: bounds of the share, 95 %, by Wilson. They hold chance alone: what inputs and
            model do not know of the vent is not in them. [-]
    """

    count: int
    of: int
    share: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Percentiles:
    """Values that 5, 25, 50, 75 and 95 % of the samples lie below; of how many samples."""

    of: int
    p5: float
    p25: float
    p50: float
    p75: float
    p95: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Influence:
    """How one input moves the margin.

    Attributes:
        name: of the input.
        rank_correlation: Spearman's, over all samples. [-]
        rank_weight: standardized coefficient of a regression of ranks on the ranks of all inputs
            together: what is its own where inputs move together. [-]
        low_pa, high_pa: margin with this input at its low and at its high and all others at their
            value; None where there is no margin. [Pa]
    """

    name: str
    rank_correlation: float
    rank_weight: float
    low_pa: float | None
    high_pa: float | None

    @property
    def swing_pa(self) -> float:
        """How far the margin moves between the ends. [Pa]"""
        if self.low_pa is None or self.high_pa is None:
            return 0.0
        return abs(self.high_pa - self.low_pa)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What all samples together say; it is no promise about the vent.

    Attributes:
        samples: how many were drawn.
        spills: flue gas comes into the room when hot (margin below 0).
        fails_to_start: it does not take over after a start from cold; of the samples that were
            asked.
        wet: water condenses on an inside wall when hot.
        margin_pa, flow_kg_s, draft_pa, dilution: percentiles; None where no sample has one.
        influences: inputs, the one that matters most first.
        unsolved: reason and number of samples without a solution.
        refused: message and number of samples with figures that no vent can have, or for which no
            start can be computed.
    """

    samples: int
    spills: Share
    fails_to_start: Share
    wet: Share
    margin_pa: Percentiles | None
    flow_kg_s: Percentiles | None
    draft_pa: Percentiles | None
    dilution: Percentiles | None
    influences: tuple[Influence, ...]
    unsolved: tuple[tuple[str, int], ...]
    refused: tuple[tuple[str, int], ...]


def share_of(told: Floats) -> Share:
    """Share of ones among zeros and ones; NaN does not count.

    Source: Wilson's score interval (Journal of the American Statistical Association 22, 1927).
    """
    known = told[~np.isnan(told)]
    count, of = int(known.sum()), len(known)
    if of == 0:
        return Share(count=0, of=0, share=None, low=0.0, high=1.0)
    p, z = count / of, WILSON_Z
    middle = (p + z * z / (2 * of)) / (1.0 + z * z / of)
    half = z / (1.0 + z * z / of) * math.sqrt(p * (1.0 - p) / of + z * z / (4.0 * of * of))
    low, high = max(0.0, middle - half), min(1.0, middle + half)
    return Share(
        count=count, of=of, share=p, low=low if count else 0.0, high=high if count < of else 1.0
    )


def percentiles_of(values: Floats) -> Percentiles | None:
    """Percentiles of what is known; straight between neighbors."""
    known = values[np.isfinite(values)]
    if not len(known):
        return None
    at = [float(one) for one in np.percentile(known, PERCENTS)]
    return Percentiles(of=len(known), p5=at[0], p25=at[1], p50=at[2], p75=at[3], p95=at[4])


def ranks(values: Floats) -> Floats:
    """Ranks from 1, equal values sharing their mean."""
    order = np.argsort(values, kind="stable")
    line = values[order]
    starts = np.concatenate([[True], line[1:] != line[:-1]])
    group = np.cumsum(starts) - 1
    first = np.nonzero(starts)[0]
    size = np.diff(np.append(first, len(line)))
    found = np.empty(len(values))
    found[order] = (first + (size + 1) / 2.0)[group]
    return found


def rank_influence(drawn: Mapping[str, Floats], result: Floats) -> dict[str, tuple[float, float]]:
    """Spearman's correlation and the weight in a regression of ranks, by input.

    Source: Spearman (1904); standardized rank regression of Iman and Conover (Technometrics 21,
    1979). An input that does not vary has 0 of both.

    Args:
        drawn: values of the samples, by input.
        result: what came out of each; where it is not finite the sample does not count.
    """
    found = dict.fromkeys(drawn, (0.0, 0.0))
    known = np.isfinite(result)
    if known.sum() < 3 or np.ptp(result[known]) == 0.0:
        return found
    moving = [name for name, values in drawn.items() if np.ptp(values[known]) > 0.0]
    if not moving:
        return found
    scaled = np.stack([_standard(ranks(drawn[name][known])) for name in moving], axis=1)
    target = _standard(ranks(result[known]))
    single = scaled.T @ target / len(target)
    joint = np.linalg.lstsq(scaled, target, rcond=None)[0]
    pairs = zip(single.tolist(), joint.tolist(), strict=True)
    return found | dict(zip(moving, pairs, strict=True))


def _standard(values: Floats) -> Floats:
    """Values about their mean, in standard deviations."""
    return np.asarray((values - values.mean()) / values.std())
