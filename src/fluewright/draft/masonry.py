"""Heat in a masonry chimney: what its wall lets through in the end, and how it warms up.

A wall is a row of layers from the flue outward: solid ones that store heat and air spaces that
only resist. Everything is per inside area, and areas grow outward in proportion to the distance
from the axis, which holds for a round flue and for a square one of the same hydraulic radius.
Without a radius the wall is plane.

Each layer is cut into cells with their node in the middle. Neighbors exchange what conduction
between their nodes passes, so heat is only moved, never made: what the wall stores is what came
in less what went out, to rounding.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fluewright.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """A solid layer: thickness [m], conductivity [W/(m K)], density [kg/m3], heat [J/(kg K)]."""

    name: str
    thickness_m: float
    conductivity_w_mk: float
    density_kg_m3: float
    heat_j_kgk: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """An air space: thickness [m] and resistance per its own area [m2 K/W]. It stores nothing."""

    name: str
    thickness_m: float
    resistance_m2k_w: float


Wall = Sequence[Layer | Space]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A wall cut into cells, per inside area.

    Attributes:
        stores: heat that each cell stores. [J/(m2 K)]
        links: conductance from each node to the next. [W/(m2 K)]
        inner: from the inside face to the first node. [W/(m2 K)]
        outer: from the last node to the outside face. [W/(m2 K)]
        outer_area: outside face over inside face. [-]
    """

    stores: tuple[float, ...]
    links: tuple[float, ...]
    inner: float
    outer: float
    outer_area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Films:
    """What the wall meets on either side during a step.

    Attributes:
        gas_k: in the flue. [K]
        inside_w_m2k: film from gas to wall. [W/(m2 K)]
        ambient_k: outside. [K]
        outside_w_m2k: film per outside area. [W/(m2 K)]
    """

    gas_k: float
    inside_w_m2k: float
    ambient_k: float
    outside_w_m2k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Advanced:
    """A wall after a step: node temperatures [K], heat that came in and went out [J/m2]."""

    nodes_k: tuple[float, ...]
    heat_in_j_m2: float
    heat_out_j_m2: float


# ---------------------------------------------------------------- steady


def wall_resistance(wall: Wall, radius_m: float | None = None) -> float:
    """Resistance of a wall per inside area. [m2 K/W]

    Sum of t/k of a plane wall, of (r/k) ln(r2/r1) around a flue.

    Args:
        wall: layers from the flue outward.
        radius_m: hydraulic radius of the flue; None: plane. [m]

    Raises:
        OutOfRange: no layer, or a size or property is not above zero.
    """
    _check(wall, radius_m)
    return sum(_resistance(one, start, radius_m) for one, start in _starts(wall))


def outer_area(wall: Wall, radius_m: float | None = None) -> float:
    """Outside face over inside face of a wall. [-]

    Raises:
        OutOfRange: no layer, or a size or property is not above zero.
    """
    _check(wall, radius_m)
    return _area(sum(one.thickness_m for one in wall), radius_m)


def effective_ambient(sides: Sequence[tuple[float, float]]) -> float:
    """Temperature that the outside of a chimney sees, sides weighed by their share. [K]

    Exact where all sides lose heat alike; a side in wind counts for somewhat more.

    Args:
        sides: share of the outside [-] and temperature there [K]. An exterior chimney has 3 of
            4 sides outdoors, an interior one none.

    Raises:
        OutOfRange: shares do not add up to one, or a share is below zero.
    """
    whole = math.fsum(share for share, _ in sides)
    if not abs(whole - 1.0) <= 1e-9 or min(share for share, _ in sides) < 0.0:
        raise OutOfRange(
            f"shares of the chimney's sides add up to {whole:g}. They must make 1, none below 0."
        )
    return math.fsum(share * kelvin for share, kelvin in sides)


# ---------------------------------------------------------------- cells


def grid_from(wall: Wall, nodes: int, radius_m: float | None = None) -> Grid:
    """The wall cut into a number of cells, the finer where heat creeps slowest.

    Every solid layer has one at least; each further one goes to the layer whose cells are
    thickest for their diffusivity.

    Args:
        wall: layers from the flue outward, the first and the last solid.
        nodes: in all.
        radius_m: hydraulic radius of the flue; None: plane. [m]

    Returns:
        Cells, their conductances, per inside area.

    Raises:
        OutOfRange: fewer nodes than solid layers, an air space at a face, or a bad size.
    """
    _check(wall, radius_m)
    solid = [one for one in wall if isinstance(one, Layer)]
    if not isinstance(wall[0], Layer) or not isinstance(wall[-1], Layer):
        raise OutOfRange("an air space lies at a face of the wall. Begin and end with a layer.")
    if nodes < len(solid):
        raise OutOfRange(
            f"{nodes} nodes for {len(solid)} solid layers. Give one for each at least."
        )
    counts = _shared_out(solid, nodes)
    stores: list[float] = []
    resistances = [0.0]  # before each node, and behind the last
    at = iter(counts)
    for one, start in _starts(wall):
        if isinstance(one, Space):
            resistances[-1] += _resistance(one, start, radius_m)
            continue
        count = next(at)
        cell = one.thickness_m / count
        for i in range(count):
            left = start + i * cell
            middle = left + 0.5 * cell
            resistances[-1] += _between(left, middle, one.conductivity_w_mk, radius_m)
            resistances.append(_between(middle, left + cell, one.conductivity_w_mk, radius_m))
            stores.append(one.density_kg_m3 * one.heat_j_kgk * cell * _area(middle, radius_m))
    return Grid(
        stores=tuple(stores),
        links=tuple(1.0 / one for one in resistances[1:-1]),
        inner=1.0 / resistances[0],
        outer=1.0 / resistances[-1],
        outer_area=outer_area(wall, radius_m),
    )


def advanced(
    nodes_k: Sequence[float], grid: Grid, films: Films, seconds: float, implicit: float = 1.0
) -> Advanced:
    """The wall a moment later.

    One step of a scheme that cannot blow up: wholly implicit (1, no overshoot at any step) or
    Crank and Nicolson's (0.5, more exact, may ripple where a step is long for a cell).

    Args:
        nodes_k: temperatures now. [K]
        grid: the cells.
        films: what the wall meets, held through the step.
        seconds: length of the step. [s]
        implicit: share of the conduction taken at the end of the step, 0.5 to 1.

    Returns:
        Node temperatures, and the heat that passed either face, per inside area.

    Raises:
        OutOfRange: a step or film not above zero, or as many temperatures as there are cells not.
    """
    if len(nodes_k) != len(grid.stores):
        raise OutOfRange(f"{len(nodes_k)} temperatures for {len(grid.stores)} cells.")
    if not (seconds > 0.0 and 0.5 <= implicit <= 1.0):
        raise OutOfRange(f"step of {seconds:g} s, implicit {implicit:g}: above 0, and 0.5 to 1.")
    inner, outer = _faces(grid, films)
    flows = _flows(nodes_k, grid, films, inner, outer)
    # Solve for the change d: store d / dt - implicit (flow in less flow out of d) = flows now
    ends = (inner, *grid.links, outer)
    diagonal = [
        store / seconds + implicit * (left + right)
        for store, (left, right) in zip(grid.stores, pairwise(ends), strict=True)
    ]
    coupling = [-implicit * link for link in grid.links]
    change = _tridiagonal(coupling, diagonal, [a - b for a, b in pairwise(flows)])
    new = tuple(t + d for t, d in zip(nodes_k, change, strict=True))
    return Advanced(
        nodes_k=new,
        heat_in_j_m2=seconds * (flows[0] - implicit * inner * change[0]),
        heat_out_j_m2=seconds * (flows[-1] + implicit * outer * change[-1]),
    )


def inner_face(nodes_k: Sequence[float], grid: Grid, films: Films) -> float:
    """Temperature of the face to the flue, between gas and first node. [K]

    Args:
        nodes_k: of the cells. [K]
        grid: the cells.
        films: what the wall meets.

    Raises:
        OutOfRange: a film is not above zero.
    """
    _faces(grid, films)
    h = films.inside_w_m2k
    return (h * films.gas_k + grid.inner * nodes_k[0]) / (h + grid.inner)


def steady_nodes(grid: Grid, films: Films) -> tuple[float, ...]:
    """Node temperatures that no longer change. [K]

    Args:
        grid: the cells.
        films: what the wall meets.

    Raises:
        OutOfRange: a film is not above zero.
    """
    inner, outer = _faces(grid, films)
    steps = [1.0 / one for one in (inner, *grid.links, outer)]
    passing = (films.gas_k - films.ambient_k) / math.fsum(steps)
    found = []
    here = films.gas_k
    for step in steps[:-1]:
        here -= passing * step
        found.append(here)
    return tuple(found)


# ---------------------------------------------------------------- the arithmetic


def _faces(grid: Grid, films: Films) -> tuple[float, float]:
    """Conductance from gas to first node, and from last node to outdoors. [W/(m2 K)]"""
    if not (films.inside_w_m2k > 0.0 and films.outside_w_m2k > 0.0):
        raise OutOfRange(
            f"films {films.inside_w_m2k:g} and {films.outside_w_m2k:g} W/(m2 K) must be above zero."
        )
    outside = films.outside_w_m2k * grid.outer_area
    return (
        1.0 / (1.0 / films.inside_w_m2k + 1.0 / grid.inner),
        1.0 / (1.0 / outside + 1.0 / grid.outer),
    )


def _flows(
    nodes_k: Sequence[float], grid: Grid, films: Films, inner: float, outer: float
) -> list[float]:
    """Heat flow into the first cell, between cells, out of the last. [W/m2]"""
    between = [link * (a - b) for link, (a, b) in zip(grid.links, pairwise(nodes_k), strict=True)]
    first = inner * (films.gas_k - nodes_k[0])
    return [first, *between, outer * (nodes_k[-1] - films.ambient_k)]


def _tridiagonal(
    coupling: Sequence[float], diagonal: Sequence[float], right: Sequence[float]
) -> list[float]:
    """Solution of a symmetric tridiagonal system, the diagonal dominant (Thomas)."""
    pivots, values = [diagonal[0]], [right[0]]
    for link, own, value in zip(coupling, diagonal[1:], right[1:], strict=True):
        share = link / pivots[-1]
        pivots.append(own - share * link)
        values.append(value - share * values[-1])
    found = [values[-1] / pivots[-1]]
    for link, pivot, value in zip(
        reversed(coupling), reversed(pivots[:-1]), reversed(values[:-1]), strict=True
    ):
        found.append((value - link * found[-1]) / pivot)
    return found[::-1]


def _starts(wall: Wall) -> list[tuple[Layer | Space, float]]:
    """Each layer with its distance from the inside face. [m]"""
    found = []
    start = 0.0
    for one in wall:
        found.append((one, start))
        start += one.thickness_m
    return found


def _area(depth_m: float, radius_m: float | None) -> float:
    """Area at a depth over the inside area. [-]"""
    return 1.0 if radius_m is None else 1.0 + depth_m / radius_m


def _between(left_m: float, right_m: float, conductivity: float, radius_m: float | None) -> float:
    """Resistance between two depths of a layer, per inside area. [m2 K/W]"""
    if radius_m is None:
        return (right_m - left_m) / conductivity
    return radius_m / conductivity * math.log1p((right_m - left_m) / (radius_m + left_m))


def _resistance(one: Layer | Space, start_m: float, radius_m: float | None) -> float:
    """Resistance of a whole layer, per inside area. [m2 K/W]"""
    if isinstance(one, Space):
        return one.resistance_m2k_w / _area(start_m + 0.5 * one.thickness_m, radius_m)
    return _between(start_m, start_m + one.thickness_m, one.conductivity_w_mk, radius_m)


def _shared_out(solid: Sequence[Layer], nodes: int) -> list[int]:
    """How many cells each solid layer has."""

    def slowness(one: Layer) -> float:
        diffusivity = one.conductivity_w_mk / (one.density_kg_m3 * one.heat_j_kgk)
        return one.thickness_m / math.sqrt(diffusivity)

    counts = [1] * len(solid)
    for _ in range(nodes - len(solid)):
        worst = max(range(len(solid)), key=lambda i: slowness(solid[i]) / counts[i])
        counts[worst] += 1
    return counts


def _check(wall: Wall, radius_m: float | None) -> None:
    """Refuse a wall that is none."""
    if not wall:
        raise OutOfRange("the wall has no layer.")
    if radius_m is not None and not 0.0 < radius_m < math.inf:
        raise OutOfRange(f"hydraulic radius of the flue is {radius_m:g} m, not above zero.")
    for one in wall:
        figures = (
            (one.thickness_m, one.resistance_m2k_w)
            if isinstance(one, Space)
            else (one.thickness_m, one.conductivity_w_mk, one.density_kg_m3, one.heat_j_kgk)
        )
        if not all(0.0 < figure < math.inf for figure in figures):
            raise OutOfRange(f"layer {one.name}: every size and property must be above zero.")
