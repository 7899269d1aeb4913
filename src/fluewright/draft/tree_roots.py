"""Searching the balances of several flows at once, and telling which of them hold.

Source: Newton's method with halved steps; pseudo-transient continuation (Kelley and Keyes, SIAM J.
Numerical Analysis 35, 1998), which follows the flows as their inertia lets them move; sign of the
eigenvalues by the Cayley transform (textbook).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

Function = Callable[[list[float]], list[float]]
Matrix = list[list[float]]

NEWTON_STEPS = 60
RELAX_STEPS = 60
HALVINGS = 30
CLOSE = 1e-8  # of the first push: near enough for Newton to end it
SQUARINGS = 40
DRIFT_STEPS = 40
GRID = 60  # points of the search along a line, each way


def solved(matrix: Matrix, right: Sequence[float]) -> list[float] | None:
    """Solution of linear equations by elimination with pivots; None where there is no one."""
    size = len(right)
    work = [[*row, right[i]] for i, row in enumerate(matrix)]
    for k in range(size):
        pivot = max(range(k, size), key=lambda i: abs(work[i][k]))
        if not abs(work[pivot][k]) > 0.0:
            return None
        work[k], work[pivot] = work[pivot], work[k]
        for i in range(k + 1, size):
            share = work[i][k] / work[k][k]
            for j in range(k, size + 1):
                work[i][j] -= share * work[k][j]
    found = [0.0] * size
    for k in range(size - 1, -1, -1):
        rest = sum(work[k][j] * found[j] for j in range(k + 1, size))
        found[k] = (work[k][size] - rest) / work[k][k]
    return found if all(math.isfinite(one) for one in found) else None


def slopes(function: Function, at: list[float], here: list[float], scale: list[float]) -> Matrix:
    """Derivatives by a small step toward zero or beyond it."""
    size = len(at)
    found = [[0.0] * size for _ in range(size)]
    for j in range(size):
        step = 1e-7 * abs(at[j]) + 1e-9 * scale[j]
        moved = list(at)
        moved[j] += step
        step = moved[j] - at[j]
        there = function(moved)
        for i in range(size):
            found[i][j] = (there[i] - here[i]) / step
    return found


def newton(function: Function, start: list[float], scale: list[float]) -> list[float]:
    """Where damped Newton steps end; whether that is a root is for the caller to see."""
    at, here = list(start), function(start)
    size = sum(one * one for one in here)
    for _ in range(NEWTON_STEPS):
        if size == 0.0:
            break
        step = solved(slopes(function, at, here, scale), [-one for one in here])
        if step is None:
            break
        if all(abs(s) <= 1e-14 * abs(a) for a, s in zip(at, step, strict=True)):
            break
        share = 1.0
        for _ in range(HALVINGS):
            there = [a + share * s for a, s in zip(at, step, strict=True)]
            left = function(there)
            left_size = sum(one * one for one in left)
            if left_size < size:
                break
            share *= 0.5
        else:
            break
        at, here, size = there, left, left_size
    return at


def relaxed(
    function: Function, start: list[float], scale: list[float], inertia: Matrix
) -> list[float]:
    """Where flows settle that start somewhere and are pushed by what is left of the balance.

    Args:
        function: pressure to spare in each stream. [Pa]
        start: the flows. [kg/s]
        scale: what is a large flow in each. [kg/s]
        inertia: pressure that hastens each by 1 kg/s2. [1/m]
    Returns:
        The flows once nothing pushes them, or after the last step.
    """
    at, here = list(start), function(start)
    size = math.sqrt(sum(one * one for one in here))
    if size == 0.0:
        return at
    first = size
    time = 0.1 * min(inertia[i][i] * one for i, one in enumerate(scale)) / size
    for _ in range(RELAX_STEPS):
        slope = slopes(function, at, here, scale)
        matrix = [
            [inertia[i][j] / time - one for j, one in enumerate(row)] for i, row in enumerate(slope)
        ]
        step = solved(matrix, here)
        if step is None:
            break
        largest = max(abs(s) / c for s, c in zip(step, scale, strict=True))
        share = min(1.0, 0.5 / largest) if largest > 0.0 else 1.0
        at = [a + share * s for a, s in zip(at, step, strict=True)]
        here = function(at)
        left = math.sqrt(sum(one * one for one in here))
        if left <= CLOSE * first:
            break
        time *= min(max(size / left, 0.3), 3.0)
        size = left
    return at


def drifted(
    function: Function, start: list[float], scale: list[float], inertia: Matrix, time_s: float
) -> list[float]:
    """Where flows are after a time, pushed by what is left of the balance. [kg/s]

    Each flow's own resistance is taken at the end of a step, all else at its start, so that a
    stream that turns may pass its standstill, where the pressure jumps.

    Args:
        function: pressure to spare in each stream. [Pa]
        start: the flows. [kg/s]
        scale: what is a large flow in each. [kg/s]
        inertia: pressure that hastens each by 1 kg/s2. [1/m]
        time_s: how long. [s]
    """
    at = list(start)
    step_s = time_s / DRIFT_STEPS
    for _ in range(DRIFT_STEPS):
        here = function(at)
        slope = slopes(function, at, here, scale)
        matrix = [[one / step_s for one in row] for row in inertia]
        for i in range(len(at)):
            matrix[i][i] -= min(slope[i][i], 0.0)
        step = solved(matrix, here)
        if step is None:
            break
        largest = max(abs(s) / c for s, c in zip(step, scale, strict=True))
        share = min(1.0, 0.2 / largest) if largest > 0.0 else 1.0
        at = [a + share * s for a, s in zip(at, step, strict=True)]
    return at


def along_a_line(function: Callable[[float], float], large: float) -> list[float]:
    """Every change of sign of a function of one flow, found on a grid and then by bisection.

    Args:
        function: pressure to spare; above 0 it hastens the flow. [Pa]
        large: a flow at least as large as any that matters. [kg/s]
    Returns:
        The flows, smallest first. [kg/s]
    """
    points = [large * (k / GRID) ** 3 for k in range(-GRID, GRID + 1)]
    low, high = points[0], points[-1]
    for _ in range(60):  # further out, until the losses win either way
        if function(low) > 0.0:
            break
        low *= 2.0
        points.insert(0, low)
    for _ in range(60):
        if function(high) < 0.0:
            break
        high *= 2.0
        points.append(high)
    signs = [function(one) > 0.0 for one in points]
    found: list[float] = []
    for k in range(len(points) - 1):
        if signs[k] == signs[k + 1]:
            continue
        a, b = points[k], points[k + 1]
        for _ in range(200):
            middle = 0.5 * (a + b)
            if middle in (a, b):
                break
            a, b = (middle, b) if (function(middle) > 0.0) == signs[k] else (a, middle)
        found.append(a if abs(function(a)) < abs(function(b)) else b)
    return found


def holds(slope: Matrix, inertia: Matrix) -> bool:
    """Whether a small push away from a balance dies out: no eigenvalue to the right of zero.

    Args:
        slope: derivatives of the pressures to spare by the flows. [Pa s/kg]
        inertia: as in ``relaxed``.
    """
    size = len(slope)
    columns = [solved(inertia, [row[j] for row in slope]) for j in range(size)]
    rates = [[0.0 if one is None else one[i] for one in columns] for i in range(size)]
    norm = max(sum(abs(one) for one in row) for row in rates)
    if not norm > 0.0:
        return False
    less = [[float(i == j) - rates[i][j] / norm for j in range(size)] for i in range(size)]
    more = [[float(i == j) + rates[i][j] / norm for j in range(size)] for i in range(size)]
    turned = [solved(less, [row[j] for row in more]) for j in range(size)]
    if any(one is None for one in turned):
        return False  # an eigenvalue well to the right
    power = [[0.0 if one is None else one[i] for one in turned] for i in range(size)]
    growth = 0.0  # logarithm of the norm of the power, by its exponent
    for k in range(SQUARINGS):
        power = [[sum(a[m] * power[m][j] for m in range(size)) for j in range(size)] for a in power]
        largest = max(abs(one) for row in power for one in row)
        if not largest > 0.0:
            return True
        power = [[one / largest for one in row] for row in power]
        growth += math.log(largest) / 2.0 ** (k + 1)
    return growth < 0.0
