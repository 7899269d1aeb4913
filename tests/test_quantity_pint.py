"""Every factor of the unit table against pint, an independent table of units."""

from __future__ import annotations

import pint
import pytest

from fluewright.quantity import Dimension, difference_from_unit, from_unit
from fluewright.units import UNITS

D = Dimension
REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()

SI = {
    D.LENGTH: "m",
    D.SLOPE: "dimensionless",
    D.ANGLE: "degree",
    D.AREA: "m**2",
    D.VOLUME: "m**3",
    D.POWER: "W",
    D.PRESSURE: "Pa",
    D.TEMPERATURE: "degC",
    D.FLOW: "m**3/s",
    D.TIME: "s",
    D.DENSITY: "kg/m**3",
    D.CONDUCTIVITY: "W/m/K",
    D.RESISTANCE: "m**2*K/W",
    D.CONCENTRATION: "ppm",
    D.EXPLOSIVE: "dimensionless",
    D.COUNT: "dimensionless",
    D.RATE: "1/second",
}
# Our name -> pint's, where pint would not read ours or would read something else.
# Btu_it is the International Table Btu; pint's plain Btu is another, 1055.056 J.
AS_PINT = {
    "in/ft": "inch/foot",
    "/12": "inch/foot",
    "%": "percent",
    "% LEL": "percent",
    "ratio": "dimensionless",
    "deg": "degree",
    "in2": "inch**2",
    "ft2": "foot**2",
    "mm2": "mm**2",
    "cm2": "cm**2",
    "m2": "m**2",
    "ft3": "foot**3",
    "m3": "m**3",
    "L": "liter",
    "Btu/h": "Btu_it/hour",
    "kBtu/h": "1000*Btu_it/hour",
    "K": "kelvin",
    "cfm": "foot**3/minute",
    "ACH": "1/hour",
    "cfh": "foot**3/hour",
    "L/s": "liter/second",
    "m3/h": "m**3/hour",
    "m3/s": "m**3/s",
    "h": "hour",
    "d": "day",
    "yr": "julian_year",
    "lb/ft3": "pound/foot**3",
    "kg/m3": "kg/m**3",
    "Btu in/(h ft2 F)": "Btu_it*inch/hour/foot**2/delta_degF",
    "Btu/(h ft F)": "Btu_it/hour/foot/delta_degF",
    "W/(m K)": "W/m/K",
    "h ft2 F/Btu": "hour*foot**2*delta_degF/Btu_it",
    "m2 K/W": "m**2*K/W",
    "vol %": "percent",
    "count": "dimensionless",
    # conventional inch of water: 1000 kg/m3 at standard gravity
    "in w.c.": "inch*standard_gravity*1000*kg/m**3",
}


@pytest.mark.parametrize("name", UNITS)
def test_factor_agrees_with_pint(name: str) -> None:
    unit = UNITS[name]
    theirs = AS_PINT.get(name, name)
    if unit.dimension is D.TEMPERATURE:
        for number in (-40.0, 0.0, 24.0, 350.0):
            level = REGISTRY.Quantity(number + 300.0, theirs).to("degC").magnitude
            assert from_unit(number + 300.0, name) == pytest.approx(level, rel=1e-12, abs=1e-9)
        step = REGISTRY.Quantity(1.0, theirs if name == "K" else f"delta_{theirs}")
        assert difference_from_unit(1.0, name) == pytest.approx(step.to("kelvin").magnitude)
        return
    exact = REGISTRY.Quantity(1.0, "dimensionless") * REGISTRY.parse_expression(theirs)
    factor = exact.to(SI[unit.dimension]).magnitude
    assert from_unit(1.0, name) == pytest.approx(factor, rel=1e-12)
