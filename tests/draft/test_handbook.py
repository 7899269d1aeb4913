"""Hand methods by hand: the chimney handbook, BS 5440-1 and a segment by EN 13384-1.

Values that somebody printed stand in ``tests/published/draft_losses.toml``. Those here are our
own arithmetic on the same equations.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.draft import en13384, handbook, heat, losses
from fluewright.errors import OutOfRange

# ---------------------------------------------------------------- chimney handbook


def test_theoretical_draft_by_hand() -> None:
    # 0.2554 x 29.92 x 10 x (1/520 - 1/820) = 76.41568 x 7.03565e-4 = 0.0537634 in w.c.
    found = handbook.theoretical_draft(29.92, 10.0, 520.0, 820.0)
    assert found == pytest.approx(0.0537634, rel=1e-5)
    # the same in SI: 10 ft, 29.92 in Hg at 3386.39 Pa; 249.09 Pa an inch of water
    si = handbook.theoretical_draft_pa(3.048, 520 / 1.8, 820 / 1.8, 29.92 * 3386.39)
    assert si / 249.09 == pytest.approx(found, rel=3e-3)  # 0.2554 is 0.23 % over its physics


def test_printed_factors_are_their_own_physics() -> None:
    # 19.6350 x sqrt(2 x 32.174 x 5.2 x 1.325) = 19.6350 x 21.0561
    assert pytest.approx(413.43, abs=0.01) == handbook.MASS_FACTOR_LB_H
    # density and draft: 1.325 / 5.2 = 0.25481, where 0.2554 is printed
    assert pytest.approx(1.325 / 5.2, rel=0.003) == handbook.DRAFT_FACTOR
    assert pytest.approx(handbook.MASS_FACTOR_LB_H, rel=0.002) == handbook.CAPACITY_FACTOR / 1000
    # SI factor: 9.80665 x 28.965 / 8314.46 = 0.0341635; 0.03413 printed elsewhere
    assert handbook.theoretical_draft_pa(1.0, 1.0, 1e300, 1.0) == pytest.approx(0.0341635, rel=1e-5)


def test_mass_ratio_by_hand() -> None:
    # 0.705 (0.159 + 10.72/5.3) = 0.705 x 2.181642; 0.706 (0.144 + 12.61/6) = 0.706 x 2.245667
    assert handbook.mass_ratio("natural_gas", 5.3) == pytest.approx(1.53806, rel=1e-5)
    assert handbook.mass_ratio("lp_gas", 6.0) == pytest.approx(1.58544, rel=1e-5)


def test_capacity_by_hand() -> None:
    # 4 in, 10 ft: K 3.6; 0.0537634 x 29.92 / (3.6 x 820) = 5.44922e-4, root 0.0233436;
    # 4.13e5 x 16 / 1.5381 x 0.0233436 = 100289
    draft = handbook.theoretical_draft(29.92, 10.0, 520.0, 820.0)
    common = {"barometer_inhg": 29.92}
    found = handbook.capacity(
        diameter_in=4.0, mass_lb_kbtu=1.5381, draft_inwc=draft, losses=3.6, gas_r=820.0, **common
    )
    assert found == pytest.approx(100289.0, rel=1e-4)
    # 6 in, 20 ft, 8 % carbon dioxide: K = 1.5 + 0.4 x 20 / 6 = 2.83333
    draft = handbook.theoretical_draft(29.92, 20.0, 520.0, 800.0)
    found = handbook.capacity(
        diameter_in=6.0,
        mass_lb_kbtu=handbook.mass_ratio("natural_gas", 8.0),
        draft_inwc=draft,
        losses=handbook.resistance(length_ft=20.0, diameter_in=6.0),
        gas_r=800.0,
        **common,
    )
    assert found == pytest.approx(518424.0, rel=1e-4)


def test_resistance_by_hand() -> None:
    # 30 ft of 5 in: 0.4 x 30 / 5 = 2.4; with inlet 0.5, two elbows of 0.75, cap 0.5, exit 1: 5.9
    assert handbook.resistance(
        length_ft=30.0, diameter_in=5.0, inlet=0.0, exit_head=0.0
    ) == pytest.approx(2.4)
    full = handbook.resistance(length_ft=30.0, diameter_in=5.0, elbows=2, cap=0.5)
    assert full == pytest.approx(5.9)


def test_screening_form_by_hand() -> None:
    # 10 ft, 5 ft, 4 in, 2 elbows: 1.954 + 1.828 + 0.681 x 3.75 = 6.33575;
    # 3.8258 x 16 x sqrt(10 / 6.33575) = 61.2128 x 1.256321 = 76.903
    found = handbook.screening_capacity(height_ft=10.0, lateral_ft=5.0, diameter_in=4.0, elbows=2)
    assert found == pytest.approx(76.903, rel=1e-4)


# ---------------------------------------------------------------- BS 5440-1


def test_equivalent_height_by_hand() -> None:
    # 100 mm, 2.0 m up, 2.5 m of pipe, a bend, a terminal: 1.95 + 1.22 + 0.6 = 3.77;
    # 2.0 x 5 / (5 - 0.78 x 2 + 3.77) = 10 / 7.21
    small = handbook.BS_5440_FACTORS[100]
    fittings = 2.5 * small.pipe + small.bend_90 + small.terminal
    ends = small.inlet + small.outlet
    found = handbook.equivalent_height(
        height_m=2.0, fittings=fittings, actual_ends=ends, reference_ends=ends,
        reference_pipe=small.pipe,
    )  # fmt: skip
    assert found == pytest.approx(10 / 7.21, rel=1e-12)
    # 125 mm, 4.0 m up, 5.0 m of pipe, two 45 degree bends, a terminal: 1.25 + 0.5 + 0.25 = 2.0;
    # 4 x 2 / (2 - 1 + 2) = 2.66667
    large = handbook.BS_5440_FACTORS[125]
    fittings = 5.0 * large.pipe + 2 * large.bend_45 + large.terminal
    ends = large.inlet + large.outlet
    found = handbook.equivalent_height(
        height_m=4.0, fittings=fittings, actual_ends=ends, reference_ends=ends,
        reference_pipe=large.pipe,
    )  # fmt: skip
    assert found == pytest.approx(8 / 3, rel=1e-12)


@given(st.floats(0.5, 30.0), st.sampled_from([100, 125]), st.floats(0.0, 5.0))
def test_a_straight_flue_of_the_reference_size_is_its_own_height(
    height: float, size: int, more: float
) -> None:
    one = handbook.BS_5440_FACTORS[size]
    ends = one.inlet + one.outlet

    def equivalent(extra: float) -> float:
        return handbook.equivalent_height(
            height_m=height, fittings=one.pipe * height + extra, actual_ends=ends,
            reference_ends=ends, reference_pipe=one.pipe,
        )  # fmt: skip

    assert equivalent(0.0) == pytest.approx(height, rel=1e-12)
    assert equivalent(more) <= height * (1 + 1e-12)


# ---------------------------------------------------------------- EN 13384-1

# Own arithmetic, every step, no published example. Properties at the settled mean temperature.
FIRST = en13384.Segment(
    diameter_m=0.10, outer_m=0.16, height_m=5.0, length_m=5.0, roughness_m=1e-3,
    resistance_m2k_w=0.40, outside_w_m2k=8.0, losses=1.0, flow_kg_s=0.0121, co2_percent=4.0,
    inlet_c=150.0, ambient_c=15.0, outdoor_c=15.0, air_pa=97000.0,
)  # fmt: skip
SECOND = en13384.Segment(
    diameter_m=0.13, outer_m=0.19, height_m=8.0, length_m=8.0, roughness_m=1e-3,
    resistance_m2k_w=0.22, outside_w_m2k=23.0, losses=1.5, flow_kg_s=0.020, co2_percent=5.3,
    inlet_c=120.0, ambient_c=0.0, outdoor_c=15.0, air_pa=97000.0,
)  # fmt: skip


@pytest.mark.parametrize(
    ("segment", "name", "value", "tolerance"),
    [
        (FIRST, "reynolds", 7428.49, 1e-4),
        (FIRST, "nusselt", 28.0149, 1e-4),
        (FIRST, "cooling", 0.344182, 1e-4),
        (FIRST, "mean_c", 129.219, 1e-4),
        (FIRST, "outlet_c", 110.688, 1e-4),
        (FIRST, "draft_pa", 16.8096, 1e-4),
        (FIRST, "resistance_pa", 6.96193, 1e-4),
        (SECOND, "cooling", 0.610197, 1e-4),
        (SECOND, "outlet_c", 65.1893, 1e-4),
        (SECOND, "draft_pa", 20.1616, 1e-4),
        (SECOND, "resistance_pa", 7.45917, 1e-4),
    ],
)
def test_segment_against_a_second_calculation(
    segment: en13384.Segment, name: str, value: float, tolerance: float
) -> None:
    # another program's arithmetic on the same equations, printed with six digits
    assert getattr(en13384.segment(segment), name) == pytest.approx(value, rel=tolerance)


def test_segment_by_hand() -> None:
    # first segment at 129.22 degC: eta = 15e-6 + 6.07334e-6 - 3.3396e-7 = 2.073938e-5;
    # Re = 4 x 0.0121 / (pi x 0.1 x 2.073938e-5) = 7428.5
    found = en13384.segment(FIRST)
    assert found.reynolds == pytest.approx(4 * 0.0121 / (math.pi * 0.1 * 2.073938e-5), rel=1e-5)
    # weight: outdoor air 97000/(288 x 288.15) = 1.168862; gas 97000/(291.8016 x 402.37) = 0.826147
    # 5 x 9.81 x 0.342715 = 16.8102
    assert found.draft_pa == pytest.approx(16.8102, rel=2e-4)
    # the exponential law is the engine's own
    outlet = heat.outlet_temperature(423.15, 288.15, found.cooling)
    assert found.outlet_c + 273.15 == pytest.approx(outlet, rel=1e-12)
    # wall at the outlet lies between surroundings and gas
    assert 15.0 < found.wall_c < found.outlet_c


def test_properties_against_cantera() -> None:
    import cantera

    # 5.3 % carbon dioxide, natural gas, 9.34 % water, 11.60 % oxygen in the dry gas
    dry = 1.0 - 0.0934
    inert = (1.0 - 0.053 - 0.116) * dry
    gas = cantera.Solution("gri30.yaml")
    gas.TPX = (
        473.15,
        101325.0,
        {
            "CO2": 0.053 * dry,
            "O2": 0.116 * dry,
            "H2O": 0.0934,
            "N2": 0.988 * inert,
            "AR": 0.012 * inert,  # as in air
        },
    )
    constant = cantera.gas_constant / gas.mean_molecular_weight
    assert en13384.gas_constant(5.3) == pytest.approx(constant, rel=5e-4)
    assert en13384.heat_capacity(200.0, 5.3) == pytest.approx(gas.cp_mass, rel=0.006)
    # The standard's own simplifications, worth knowing: both low.
    assert en13384.conductivity(200.0) / gas.thermal_conductivity == pytest.approx(0.93, abs=0.02)
    assert en13384.viscosity(200.0) / gas.viscosity == pytest.approx(0.95, abs=0.02)


def test_dew_point_against_coolprop() -> None:
    from CoolProp.CoolProp import PropsSI

    for vapor in (0.0934 * 101325.0, 0.1345 * 101325.0):
        exact = PropsSI("T", "P", vapor, "Q", 1, "Water") - 273.15
        assert en13384.dew_point(vapor) == pytest.approx(exact, abs=0.05)  # a fit of three numbers


def test_flue_gas_by_hand() -> None:
    # 8 %: 3.72/8 + 0.053 = 0.518 g/s per kW
    assert en13384.mass_flow(8.0, 10.0) == pytest.approx(5.18)
    # 200 degC, 5.3 %: (1011 + 10 + 12 + (23 + 3 - 0.28) 5.3) / 1.07526 = 1169.316 / 1.07526
    assert en13384.heat_capacity(200.0, 5.3) == pytest.approx(1087.47, rel=1e-5)


def test_the_engines_friction_is_the_standards() -> None:
    # Turbulent flow of the two segments: Swamee and Jain lies 2 to 2.5 % over Colebrook.
    for one in (FIRST, SECOND):
        number = en13384.segment(one).reynolds
        rough = one.roughness_m / one.diameter_m
        ratio = losses.friction(number, rough) / losses.colebrook(number, rough)
        assert 1.0 < ratio < 1.025


# ---------------------------------------------------------------- what is refused

CAPACITY: dict[str, Any] = {
    "diameter_in": 4.0, "mass_lb_kbtu": 1.5, "draft_inwc": 0.05, "barometer_inhg": 29.92,
    "losses": 3.6, "gas_r": 820.0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: handbook.theoretical_draft(29.92, 10.0, 0.0, 820.0), "outdoor_r is 0"),
        (lambda: handbook.theoretical_draft_pa(1.0, 288.0, -1.0), "gas_k is -1"),
        (lambda: handbook.mass_ratio("lp_gas", 0.0), "co2_percent is 0"),
        (lambda: handbook.capacity(**{**CAPACITY, "draft_inwc": -0.01}), "draft_inwc is -0.01"),
        (lambda: handbook.resistance(length_ft=1.0, diameter_in=0.0), "diameter_in is 0"),
        (
            lambda: handbook.screening_capacity(
                height_ft=10.0, lateral_ft=-1.0, diameter_in=4.0, elbows=0
            ),
            "none may be below zero",
        ),
        (
            lambda: handbook.equivalent_height(
                height_m=20.0, fittings=1.0, actual_ends=2.0, reference_ends=5.0,
                reference_pipe=0.78,
            ),
            "does not reach so far",
        ),
        (lambda: en13384.segment(replace(FIRST, flow_kg_s=0.0)), "must be above zero"),
        (lambda: en13384.segment(replace(FIRST, flow_kg_s=1e-4)), "not turbulent"),
        (lambda: en13384.mass_flow(0.0, 10.0), "carbon dioxide is 0 %"),
        (lambda: en13384.dew_point(0.0), "vapor pressure is 0 Pa"),
    ],
)  # fmt: skip
def test_what_is_refused_is_named(call: object, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()  # type: ignore[operator]
