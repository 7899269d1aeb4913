"""Masonry walls: analytic solutions of conduction as oracles, hand calculations, conservation."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import erfc

from fluewright.draft import masonry
from fluewright.draft.masonry import Films, Grid, Layer, Space
from fluewright.errors import OutOfRange

TILE = Layer(
    name="tile", thickness_m=0.016, conductivity_w_mk=1.25, density_kg_m3=2000.0, heat_j_kgk=840.0
)
AIR = Space(name="air", thickness_m=0.025, resistance_m2k_w=0.15)
BRICK = Layer(
    name="brick", thickness_m=0.092, conductivity_w_mk=0.8, density_kg_m3=1800.0, heat_j_kgk=840.0
)
CHIMNEY = (TILE, AIR, BRICK)
FILMS = Films(gas_k=420.0, inside_w_m2k=10.0, ambient_k=275.0, outside_w_m2k=23.0)
RADIUS = st.one_of(st.none(), st.floats(0.05, 1.0))


def run(
    grid: Grid, films: Films, start_k: float, seconds: float, step_s: float, implicit: float = 1.0
) -> tuple[float, ...]:
    nodes = (start_k,) * len(grid.stores)
    for _ in range(round(seconds / step_s)):
        nodes = masonry.advanced(nodes, grid, films, step_s, implicit).nodes_k
    return nodes


# ---------------------------------------------------------------- steady


def test_resistance_by_hand() -> None:
    # plane: 0.016/1.25 + 0.15 + 0.092/0.8 = 0.0128 + 0.15 + 0.115 = 0.2778
    assert masonry.wall_resistance(CHIMNEY) == pytest.approx(0.2778, rel=1e-12)
    # around a flue of 0.1 m radius: 0.1/1.25 ln 1.16 = 0.0118736; air at 0.1285: 0.15/1.285 =
    # 0.1167315; brick from 0.141 to 0.233: 0.1/0.8 ln(1.652482) = 0.0627845
    found = masonry.wall_resistance(CHIMNEY, 0.1)
    assert found == pytest.approx(0.0118736 + 0.1167315 + 0.0627845, rel=1e-5)
    assert masonry.outer_area(CHIMNEY, 0.1) == pytest.approx(2.33)
    assert masonry.outer_area(CHIMNEY) == 1.0


def test_ambient_of_an_exterior_chimney_by_hand() -> None:
    # three sides at 263 K, one at 294 K
    assert masonry.effective_ambient([(0.75, 263.0), (0.25, 294.0)]) == pytest.approx(270.75)


@given(RADIUS, st.integers(2, 30))
def test_steady_nodes_pass_what_the_resistance_lets_through(
    radius: float | None, nodes: int
) -> None:
    grid = masonry.grid_from(CHIMNEY, nodes, radius)
    found = masonry.steady_nodes(grid, FILMS)
    area = masonry.outer_area(CHIMNEY, radius)
    whole = 1 / FILMS.inside_w_m2k + masonry.wall_resistance(CHIMNEY, radius)
    whole += 1 / (FILMS.outside_w_m2k * area)
    passing = (FILMS.gas_k - FILMS.ambient_k) / whole
    face = masonry.inner_face(found, grid, FILMS)
    assert FILMS.inside_w_m2k * (FILMS.gas_k - face) == pytest.approx(passing, rel=1e-9)
    after = masonry.advanced(found, grid, FILMS, 1e4)
    assert after.nodes_k == pytest.approx(found, abs=1e-8)
    assert after.heat_in_j_m2 == pytest.approx(1e4 * passing, rel=1e-9)
    assert after.heat_out_j_m2 == pytest.approx(1e4 * passing, rel=1e-9)


def test_cells_by_hand() -> None:
    grid = masonry.grid_from((TILE,), 2)
    # two cells of 8 mm: 2000 x 840 x 0.008 = 13440 J/(m2 K); 1.25/0.008, half a cell to the faces
    assert grid.stores == pytest.approx((13440.0, 13440.0))
    assert grid.links == pytest.approx((156.25,))
    assert (grid.inner, grid.outer) == pytest.approx((312.5, 312.5))


@given(RADIUS, st.integers(2, 40))
def test_cells_store_all_that_the_layers_hold(radius: float | None, nodes: int) -> None:
    grid = masonry.grid_from(CHIMNEY, nodes, radius)
    assert len(grid.stores) == nodes
    whole = 0.0
    start = 0.0
    for one in CHIMNEY:
        if isinstance(one, Layer):
            middle = start + 0.5 * one.thickness_m
            area = 1.0 if radius is None else 1.0 + middle / radius
            whole += one.density_kg_m3 * one.heat_j_kgk * one.thickness_m * area
        start += one.thickness_m
    assert math.fsum(grid.stores) == pytest.approx(whole, rel=1e-12)


# ---------------------------------------------------------------- warming up


@settings(max_examples=60)
@given(
    st.lists(st.floats(230.0, 600.0), min_size=7, max_size=7),
    RADIUS,
    st.floats(0.1, 1e6),
    st.floats(0.5, 1.0),
    st.floats(230.0, 900.0),
    st.floats(230.0, 320.0),
)
def test_heat_is_moved_and_never_made(
    nodes: list[float],
    radius: float | None,
    seconds: float,
    implicit: float,
    gas_k: float,
    ambient_k: float,
) -> None:
    grid = masonry.grid_from(CHIMNEY, 7, radius)
    films = Films(gas_k=gas_k, inside_w_m2k=12.0, ambient_k=ambient_k, outside_w_m2k=8.0)
    after = masonry.advanced(nodes, grid, films, seconds, implicit)
    terms = [
        store * (new - old)
        for store, new, old in zip(grid.stores, after.nodes_k, nodes, strict=True)
    ]
    left = after.heat_in_j_m2 - after.heat_out_j_m2
    size = sum(map(abs, terms)) + abs(after.heat_in_j_m2) + abs(after.heat_out_j_m2)
    assert math.fsum(terms) == pytest.approx(left, abs=1e-11 * size)


@given(st.lists(st.floats(230.0, 600.0), min_size=5, max_size=5), st.floats(0.1, 1e7), RADIUS)
def test_an_implicit_step_of_any_length_stays_between_what_was_there(
    nodes: list[float], seconds: float, radius: float | None
) -> None:
    grid = masonry.grid_from(CHIMNEY, 5, radius)
    after = masonry.advanced(nodes, grid, FILMS, seconds).nodes_k
    low, high = min(*nodes, FILMS.ambient_k), max(*nodes, FILMS.gas_k)
    assert low - 1e-9 <= min(after) <= max(after) <= high + 1e-9


def semi_infinite(depth: float, seconds: float, film: float, one: Layer) -> float:
    """Share of the way to the gas, with a film (Carslaw and Jaeger, Conduction of Heat, 2.7)."""
    k = one.conductivity_w_mk
    diffusivity = k / (one.density_kg_m3 * one.heat_j_kgk)
    root = math.sqrt(diffusivity * seconds)
    eta, group = depth / (2 * root), film * root / k
    return float(erfc(eta) - math.exp(film * depth / k + group**2) * erfc(eta + group))


@pytest.mark.parametrize("implicit", [0.5, 1.0])
def test_thick_wall_against_the_half_space(implicit: float) -> None:
    # 0.4 m of brick, ten minutes: heat reaches 2 sqrt(a t) = 36 mm, so the back is not felt.
    wall = (
        Layer(
            name="brick",
            thickness_m=0.4,
            conductivity_w_mk=0.8,
            density_kg_m3=1800.0,
            heat_j_kgk=840.0,
        ),
    )
    grid = masonry.grid_from(wall, 200)
    films = Films(gas_k=400.0, inside_w_m2k=12.0, ambient_k=280.0, outside_w_m2k=8.0)
    nodes = run(grid, films, 280.0, 600.0, 2.0, implicit)
    for i in range(0, 30, 3):
        exact = 280.0 + 120.0 * semi_infinite((i + 0.5) * 0.002, 600.0, 12.0, wall[0])
        assert nodes[i] == pytest.approx(exact, abs=0.05)  # of 120 K; cells of 2 mm, steps of 2 s
    face = masonry.inner_face(nodes, grid, films)
    exact = 280.0 + 120.0 * semi_infinite(0.0, 600.0, 12.0, wall[0])
    assert face == pytest.approx(exact, abs=0.05)


def slab(depth: float, seconds: float, film: float, one: Layer) -> float:
    """Share of the way to 1 of a slab heated at one face through a film, lagged at the other.

    Series of eigenvalues z tan z = Bi (Carslaw and Jaeger, Conduction of Heat, 3.11).
    """
    k, thick = one.conductivity_w_mk, one.thickness_m
    biot = film * thick / k
    fourier = k / (one.density_kg_m3 * one.heat_j_kgk) * seconds / thick**2
    total = 0.0
    for n in range(60):
        low, high = n * math.pi, (n + 0.5) * math.pi
        z = brentq(lambda z: z * math.sin(z) - biot * math.cos(z), low, high, xtol=1e-14)
        weight = 4 * math.sin(z) / (2 * z + math.sin(2 * z))
        total += weight * math.exp(-z * z * fourier) * math.cos(z * (1 - depth / thick))
    return 1.0 - total


def worst_error(nodes: int, seconds: float, step: float, implicit: float) -> float:
    wall = (BRICK,)
    grid = masonry.grid_from(wall, nodes)
    films = Films(gas_k=400.0, inside_w_m2k=12.0, ambient_k=280.0, outside_w_m2k=1e-9)
    found = run(grid, films, 280.0, seconds, step, implicit)
    cell = BRICK.thickness_m / nodes
    exact = [280.0 + 120.0 * slab((i + 0.5) * cell, seconds, 12.0, BRICK) for i in range(nodes)]
    return max(abs(a - b) for a, b in zip(found, exact, strict=True))


def test_slab_against_its_series_and_the_order_of_the_cells() -> None:
    # Ten minutes and two hours. Halving the cells quarters the error (second order).
    assert worst_error(40, 600.0, 2.0, 0.5) < 0.02
    assert worst_error(40, 7200.0, 10.0, 0.5) < 0.005
    coarse, fine = (worst_error(n, 3600.0, 5.0, 0.5) for n in (5, 10))
    assert 3.5 < coarse / fine < 4.5


def test_order_of_the_steps() -> None:
    # With the same cells the two schemes meet as the step goes to nothing: the implicit one in
    # proportion to the step, Crank and Nicolson's with its square.
    grid = masonry.grid_from((BRICK,), 10)
    films = Films(gas_k=400.0, inside_w_m2k=12.0, ambient_k=280.0, outside_w_m2k=8.0)
    exact = run(grid, films, 280.0, 1200.0, 0.5, 0.5)[0]
    errors = {
        implicit: [abs(run(grid, films, 280.0, 1200.0, s, implicit)[0] - exact) for s in (60, 30)]
        for implicit in (0.5, 1.0)
    }
    assert errors[1.0][0] / errors[1.0][1] == pytest.approx(2.0, rel=0.15)
    assert errors[0.5][0] / errors[0.5][1] == pytest.approx(4.0, rel=0.3)
    assert errors[0.5][0] < errors[1.0][0]


def test_five_nodes_follow_a_chimney_that_warms_up() -> None:
    # What the engine uses against what it would cost to be right: a 10 minute firing.
    few, many = masonry.grid_from(CHIMNEY, 5, 0.1), masonry.grid_from(CHIMNEY, 120, 0.1)
    cold = FILMS.ambient_k
    ends = []
    for grid, step in ((few, 5.0), (many, 1.0)):
        nodes = run(grid, FILMS, cold, 600.0, step)
        ends.append(masonry.inner_face(nodes, grid, FILMS) - cold)
    rise = FILMS.gas_k - cold
    assert abs(ends[0] - ends[1]) < 0.01 * rise


def test_cells_are_shared_out_to_the_slow_layer() -> None:
    grid = masonry.grid_from(CHIMNEY, 5)
    # tile 16 mm: t/sqrt(a) = 0.016/sqrt(7.44e-7) = 18.5; brick 0.092/sqrt(5.29e-7) = 126: 1 and 4
    assert grid.stores[0] == pytest.approx(2000 * 840 * 0.016)
    assert grid.stores[1:] == pytest.approx((1800 * 840 * 0.023,) * 4)
    # of two layers alike in thickness the one in which heat creeps more slowly is cut first
    pair = tuple(replace(one, thickness_m=0.05) for one in (TILE, BRICK))
    assert masonry.grid_from(pair, 3).stores[1:] == pytest.approx((1800 * 840 * 0.025,) * 2)


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: masonry.wall_resistance(()), "the wall has no layer"),
        (lambda: masonry.wall_resistance(CHIMNEY, 0.0), "hydraulic radius of the flue is 0 m"),
        (lambda: masonry.grid_from((TILE, AIR), 3), "air space lies at a face"),
        (lambda: masonry.grid_from(CHIMNEY, 1), "1 nodes for 2 solid layers"),
        (
            lambda: masonry.wall_resistance((Space(name="x", thickness_m=1, resistance_m2k_w=0),)),
            "layer x: every size",
        ),
        (lambda: masonry.effective_ambient([(0.5, 280.0), (0.6, 290.0)]), "add up to 1.1"),
        (lambda: masonry.effective_ambient([(1.5, 280.0), (-0.5, 290.0)]), "none below 0"),
        (
            lambda: masonry.advanced((300.0,), masonry.grid_from((TILE,), 2), FILMS, 1.0),
            "1 temperatures for 2 cells",
        ),
        (
            lambda: masonry.advanced((300.0,) * 2, masonry.grid_from((TILE,), 2), FILMS, 0.0),
            "step of 0 s",
        ),
        (
            lambda: masonry.advanced((300.0,) * 2, masonry.grid_from((TILE,), 2), FILMS, 1.0, 0.4),
            "implicit 0.4",
        ),
        (
            lambda: masonry.steady_nodes(
                masonry.grid_from((TILE,), 2),
                Films(gas_k=400.0, inside_w_m2k=0.0, ambient_k=280.0, outside_w_m2k=8.0),
            ),
            "must be above zero",
        ),
    ],
)
def test_what_is_refused_is_named(call: object, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()  # type: ignore[operator]
