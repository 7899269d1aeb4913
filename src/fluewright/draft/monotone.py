"""The root of a function that never falls: bracketed, then closed in until floats end.

Interpolate, truncate, project (Oliveira and Takahashi, ACM Transactions on Mathematical
Software 47(1), 2021): as fast as a secant where the function is smooth, never more than a few
steps slower than halving where it is not.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from fluewright.errors import NotSolved

_STEPS = 200
_TRUNCATE, _POWER, _SLACK = 0.2, 2.0, 1


@dataclass(frozen=True, slots=True)
class Root:
    """Where the function is nearest to zero, its value there, and how often it was called."""

    x: float
    value: float
    calls: int


def rising_root(
    function: Callable[[float], float],
    guess: float,
    step: float,
    limit: float,
    what: str,
    enough: float = 0.0,
) -> Root:
    """The root of a function that never falls. [unit of its argument]

    Args:
        function: finite everywhere between minus limit and limit.
        guess: where to begin.
        step: first step of the search for a bracket, more than zero.
        limit: a root farther from zero is not looked for.
        what: name of the quantity, for messages.
        enough: a value this near to zero is taken as the root; 0: as near as floats allow.
    Returns:
        The root with the value left over; the caller judges whether that is small.
    Raises:
        NotSolved: the function does not change its sign, or is no number somewhere.
    """
    calls = 0

    def at(x: float) -> float:
        nonlocal calls
        calls += 1
        value = function(x)
        if not math.isfinite(value):
            raise NotSolved(f"{what}: the balance is no number at {x:g}. Check flows and openings.")
        return value

    low, f_low, high, f_high = _bracket(at, guess, step, limit, what)
    x, value = (low, f_low) if abs(f_low) <= abs(f_high) else (high, f_high)
    if abs(value) > enough:
        x, value = _close_in(at, low, f_low, high, f_high, enough)
    return Root(x, value, calls)


def _bracket(
    at: Callable[[float], float], guess: float, step: float, limit: float, what: str
) -> tuple[float, float, float, float]:
    """Two places between which the sign changes, and the values there."""
    x = min(max(guess, -limit), limit)
    f = at(x)
    way = -1.0 if f > 0.0 else 1.0
    while f != 0.0:
        further = min(max(x + way * step, -limit), limit)
        f_further = at(further)
        if f_further * way >= 0.0:
            return (x, f, further, f_further) if way > 0.0 else (further, f_further, x, f)
        if abs(further) >= limit:
            side = "below" if way < 0.0 else "above"
            raise NotSolved(
                f"{what}: nothing balances, even at {further:g} ({side} is not looked for). "
                "Too little air can come in for what goes out; check openings, units and fans."
            )
        x, f, step = further, f_further, step * 2.0
    return x, f, x, f


def _close_in(
    at: Callable[[float], float],
    low: float,
    f_low: float,
    high: float,
    f_high: float,
    enough: float,
) -> tuple[float, float]:
    """Narrows a bracket until no float lies inside; the end with the smaller value."""
    width = high - low
    k1 = _TRUNCATE / width
    for j in range(_STEPS):
        middle = 0.5 * (low + high)
        if not low < middle < high:
            break
        radius = max(0.5 * (width * 2.0 ** (_SLACK - j) - (high - low)), 0.0)
        false = (f_high * low - f_low * high) / (f_high - f_low)
        side = math.copysign(1.0, middle - false)
        moved = min(k1 * (high - low) ** _POWER, abs(middle - false))
        x = false + side * moved
        if abs(x - middle) > radius:
            x = middle - side * radius
        if not low < x < high:
            x = middle
        f = at(x)
        if abs(f) <= enough:
            return x, f
        if f > 0.0:
            high, f_high = x, f
        else:
            low, f_low = x, f
    return (low, f_low) if -f_low <= f_high else (high, f_high)
