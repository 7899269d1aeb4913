"""Draws of inputs by chance, each a function of seed, input and place in the row alone.

Draw ``i`` of an input is the same whoever draws it, in whatever order and company: workers may
share the row out, a run may be taken up again, and an input that joins does not move the others.

Source: Philox4x64-10, a random number as a function of a counter (Salmon and others, SC 2011), as
NumPy has it.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable
from statistics import NormalDist
from typing import Literal, Protocol

import numpy as np

from fluewright.ensemble.cases import Floats
from fluewright.errors import OutOfRange

Mode = Literal["spread", "bounds"]
WORDS = 4  # numbers that one count gives
NORMAL_BOUND = 2.0  # bounds of a normal spread, in standard deviations: about 95 % (GUM 4.3.4)


class Drawn(Protocol):
    """An input as a model lists it, such as ``draft.from_survey`` does."""

    @property
    def name(self) -> str:
        """Key of the value."""
        ...

    @property
    def low(self) -> float:
        """Lower bound."""
        ...

    @property
    def value(self) -> float:
        """Most likely or measured value."""
        ...

    @property
    def high(self) -> float:
        """Upper bound."""
        ...

    @property
    def spread(self) -> str:
        """One of fixed, uniform, triangular, loguniform, normal."""
        ...


def uniforms(seed: int, name: str, first: int, last: int) -> Floats:
    """Numbers between 0 and 1, neither included, for draws ``first`` up to ``last``.

    Args:
        seed: any integer.
        name: of the input; every name has a row of its own.
        first: place of the first draw in the row.
        last: place after the last.
    """
    key = int.from_bytes(hashlib.sha256(f"{seed}:{name}".encode()).digest()[:16], "little")
    start = first // WORDS
    words = np.random.Philox(key=key, counter=start).random_raw(
        (last + WORDS - 1) // WORDS * WORDS - start * WORDS
    )
    kept = words[first - start * WORDS :][: last - first]
    return (kept >> np.uint64(11)).astype(np.float64) * 2.0**-53 + 2.0**-54


def draw(
    inputs: Iterable[Drawn], seed: int, first: int, last: int, mode: Mode = "spread"
) -> dict[str, Floats]:
    """Values of all inputs for draws ``first`` up to ``last``.

    Args:
        inputs: what is drawn, with its bounds.
        seed: any integer.
        first: place of the first draw.
        last: place after the last.
        mode: "spread" draws each by its own distribution; "bounds" puts each at one of its ends,
            either as often, to see how far things can go.
    Returns:
        By name, one value a draw.
    Raises:
        OutOfRange: bounds that do not enclose the value, or a spread that is not known.
    """
    return {one.name: _values(one, uniforms(seed, one.name, first, last), mode) for one in inputs}


def _values(one: Drawn, share: Floats, mode: Mode) -> Floats:
    low, value, high = one.low, one.value, one.high
    if not (math.isfinite(low) and low <= value <= high < math.inf):
        raise OutOfRange(f"input {one.name}: {low:g}, {value:g}, {high:g}: not in this order.")
    if one.spread == "fixed" or low == high:
        return np.full(len(share), value)
    if mode == "bounds":
        return np.where(share < 0.5, low, high)
    return _spread(one, share).clip(low, high)


def _spread(one: Drawn, share: Floats) -> Floats:
    """Values that a share of all draws lies below: the inverse of the distribution."""
    low, value, high = one.low, one.value, one.high
    width = high - low
    if one.spread == "uniform":
        return low + share * width
    if one.spread == "triangular":
        at = (value - low) / width
        rising = low + np.sqrt(share * width * (value - low))
        falling = high - np.sqrt((1.0 - share) * width * (high - value))
        return np.where(share < at, rising, falling)
    if one.spread == "loguniform" and low > 0.0:
        return low * (high / low) ** share
    if one.spread == "normal":
        usual = NormalDist(value, width / (2.0 * NORMAL_BOUND))
        below, above = usual.cdf(low), usual.cdf(high)
        return np.array([usual.inv_cdf(p) for p in (below + share * (above - below)).tolist()])
    raise OutOfRange(
        f"input {one.name}: spread {one.spread!r} from {low:g}; write fixed, uniform, triangular, "
        "normal, or loguniform above 0."
    )
