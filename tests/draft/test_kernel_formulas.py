"""The formulas inlined in the kernel are those of the readable modules, to rounding."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft import gas, heat, kernel, losses

ROUNDING = 1e-12  # relative: the same formula, other order of operations
KELVIN = st.floats(200.0, 1500.0)
FLOW = st.floats(1e-5, 0.5)


@given(st.floats(1e-3, 1e7), st.floats(0.0, 0.1))
def test_friction(number: float, rough: float) -> None:
    plain = losses.friction(number, rough)
    assert kernel.friction(number, rough) == pytest.approx(plain, rel=ROUNDING)


@given(KELVIN, KELVIN, st.one_of(st.just(0.0), st.floats(1e-12, 700.0)))
def test_cooling(gas_k: float, ambient_k: float, decay: float) -> None:
    end, mean, inverse = kernel.cooled(gas_k, ambient_k, decay)
    plain = heat.mean_inverse_temperature(gas_k, ambient_k, decay)
    assert end == pytest.approx(heat.outlet_temperature(gas_k, ambient_k, decay), rel=ROUNDING)
    assert mean == pytest.approx(heat.mean_temperature(gas_k, ambient_k, decay), rel=ROUNDING)
    assert inverse == pytest.approx(plain, rel=ROUNDING, abs=0.0)


@given(FLOW, KELVIN, st.floats(27.0, 30.0), st.floats(1e-3, 0.2))
def test_velocity_head(flow: float, gas_k: float, molar: float, area: float) -> None:
    plain = losses.velocity_head(losses.mass_flux(flow, area), gas_k, molar, 101325.0)
    found = kernel.velocity_head(flow, gas_k, molar, area, 101325.0)
    assert found == pytest.approx(plain, rel=ROUNDING, abs=0.0)


@given(KELVIN)
def test_viscosity(kelvin: float) -> None:
    assert kernel.viscosity(kelvin) == pytest.approx(gas.viscosity(kelvin), rel=ROUNDING, abs=0.0)


@given(FLOW, KELVIN, KELVIN, st.floats(0.05, 0.5), st.floats(0.0, 12.0), st.floats(0.0, 3e-3))
def test_friction_and_decay_of_a_whole_segment(
    flow: float, gas_k: float, ambient_k: float, diameter: float, u: float, rough: float
) -> None:
    molar, cp, length, air_pa = 28.4, 1080.0, 3.0, 98000.0
    area = 0.25 * math.pi * diameter**2
    row, par = [0.0] * kernel.ROW_SIZE, [0.0] * kernel.PAR_SIZE
    row[kernel.LENGTH], row[kernel.DIAMETER], row[kernel.AREA] = length, diameter, area
    row[kernel.AMBIENT], row[kernel.HEAT] = ambient_k, u * math.pi * diameter
    row[kernel.ROUGH] = rough
    par[kernel.AIR_PA], par[kernel.OUT_K], par[kernel.OUT_MOLAR] = air_pa, 280.0, 28.965
    end, mean, _, lost = kernel.stretch(flow, gas_k, molar, cp, row, par)

    decay = heat.decay_number(u, math.pi * diameter, length, flow, cp)
    plain_mean = heat.mean_temperature(gas_k, ambient_k, decay)
    assert end == pytest.approx(heat.outlet_temperature(gas_k, ambient_k, decay), rel=ROUNDING)
    assert mean == pytest.approx(plain_mean, rel=ROUNDING)
    plain = losses.wall_friction(
        flux_kg_sm2=losses.mass_flux(flow, area),
        length_m=length,
        diameter_m=diameter,
        roughness_m=rough,
        viscosity_pa_s=gas.viscosity(plain_mean),
        density_kg_m3=gas.density(air_pa, molar, plain_mean),
    )
    assert lost == pytest.approx(plain, rel=1e-10, abs=0.0)
