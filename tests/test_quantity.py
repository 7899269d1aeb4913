"""Quantities as text: what is read, what is refused and in which words, what is printed."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from fluewright.errors import BadQuantity, OutOfRange
from fluewright.quantity import (
    Dimension,
    Measured,
    Style,
    difference_from_unit,
    difference_to_unit,
    fraction_text,
    from_unit,
    larger,
    parse,
    parse_tolerance,
    show,
    show_difference,
    show_measured,
    show_pitch,
    show_pressure,
    smaller,
    to_unit,
)
from fluewright.units import UNITS

D = Dimension
IN, FT = 0.0254, 0.3048
BTU_H = 1055.05585262 / 3600.0  # International Table Btu: NIST SP 811 (2008), Appendix B
IN_WC = 249.08891  # conventional inch of water (NIST SP 811 prints 249.0889)

# ------------------------------------------------------------------------------------ reading

# text, SI value, name of the unit. Factors written out here again, apart from the table.
READ: dict[Dimension, list[tuple[str, float, str]]] = {
    D.LENGTH: [
        ("17 1/2 in", 17.5 * IN, "in"),
        ("17-1/2 in", 17.5 * IN, "in"),
        ("17.5in", 17.5 * IN, "in"),
        ("17½ in", 17.5 * IN, "in"),
        ("17 ½ in", 17.5 * IN, "in"),
        ("17-½ in", 17.5 * IN, "in"),
        ("17 1⁄2 in", 17.5 * IN, "in"),  # noqa: RUF001
        ('17 1/2"', 17.5 * IN, "in"),
        ("17 1/2''", 17.5 * IN, "in"),
        ("17 1/2″", 17.5 * IN, "in"),
        ("17 1/2”", 17.5 * IN, "in"),
        ("17 1/2 inches", 17.5 * IN, "in"),
        ("17 1/2 In.", 17.5 * IN, "in"),
        ("17 1/2\N{NO-BREAK SPACE}in", 17.5 * IN, "in"),
        ("  17  1/2   in\n", 17.5 * IN, "in"),
        ("6 ft 3 1/2 in", 75.5 * IN, "in"),
        ("6'-3 1/2\"", 75.5 * IN, "in"),
        ("6' - 3 1/2\"", 75.5 * IN, "in"),
        ("6' 3\"", 75.0 * IN, "in"),
        ("6′ 3″", 75.0 * IN, "in"),
        ("6’3”", 75.0 * IN, "in"),  # noqa: RUF001
        ("6ft3in", 75.0 * IN, "in"),
        ("6 ft. 3 in.", 75.0 * IN, "in"),
        ("6 feet 3 inches", 75.0 * IN, "in"),
        ("-6 ft 3 in", -75.0 * IN, "in"),
        ("0 ft 3 in", 3.0 * IN, "in"),
        ("-0 ft 3 in", -3.0 * IN, "in"),
        ("3 ft 11 15/16 in", (47 + 15 / 16) * IN, "in"),
        ("6'", 6 * FT, "ft"),
        ("6 ft", 6 * FT, "ft"),
        ("6.25 ft", 6.25 * FT, "ft"),
        ("5,280 ft", 5280 * FT, "ft"),
        ("1,234.5 in", 1234.5 * IN, "in"),
        ("3/8 in", 0.375 * IN, "in"),
        ("⅜ in", 0.375 * IN, "in"),
        ("⅛ in", 0.125 * IN, "in"),
        ("⅝ in", 0.625 * IN, "in"),
        ("⅞ in", 0.875 * IN, "in"),
        ("¼ in", 0.25 * IN, "in"),
        ("1¾ in", 1.75 * IN, "in"),
        ("-1/2 in", -0.5 * IN, "in"),
        ("−1/2 in", -0.5 * IN, "in"),
        ("–½ in", -0.5 * IN, "in"),
        ("+5 in", 5 * IN, "in"),
        (".5 in", 0.5 * IN, "in"),
        ("5. in", 5 * IN, "in"),
        ("0.018 in", 0.018 * IN, "in"),
        ("444.5 mm", 0.4445, "mm"),
        ("19 MM", 0.019, "mm"),
        ("44.45 cm", 0.4445, "cm"),
        ("5 m", 5.0, "m"),
        ("5 metres", 5.0, "m"),
        ("-0 in", 0.0, "in"),
    ],
    D.SLOPE: [
        ("1/4 in per ft", 0.25 / 12, "in/ft"),
        ("1/4 in/ft", 0.25 / 12, "in/ft"),
        ("1/4 in / ft", 0.25 / 12, "in/ft"),
        ("1/4 inch per foot", 0.25 / 12, "in/ft"),
        ('1/4" per ft', 0.25 / 12, "in/ft"),
        ("¼″/′", 0.25 / 12, "in/ft"),
        ("-1/8 in per ft", -0.125 / 12, "in/ft"),
        ("1/4 in per 12 in", 0.25 / 12, "/12"),
        ("2 cm/m", 0.02, "cm/m"),
        ("20.8 mm/m", 0.0208, "mm/m"),
        ("7/12", 7 / 12, "/12"),
        ("7:12", 7 / 12, "/12"),
        ("7 : 12", 7 / 12, "/12"),
        ("6.5/12", 6.5 / 12, "/12"),
        ("6 1/2 / 12", 6.5 / 12, "/12"),
        ("12/12", 1.0, "/12"),
        ("14/12", 14 / 12, "/12"),
        ("7 in 12", 7 / 12, "/12"),
        ("2 %", 0.02, "%"),
        ("2%", 0.02, "%"),
        ("2 percent", 0.02, "%"),
        ("30 deg", math.tan(math.pi / 6), "deg"),
        ("30°", math.tan(math.pi / 6), "deg"),
        ("-1 deg", -math.tan(math.pi / 180), "deg"),
        ("0.02 ratio", 0.02, "ratio"),
    ],
    D.ANGLE: [("45 deg", 45.0, "deg"), ("45°", 45.0, "deg"), ("22 1/2 degrees", 22.5, "deg")],
    D.AREA: [
        ("96 in2", 96 * IN**2, "in2"),
        ("96 in²", 96 * IN**2, "in2"),
        ("96 in^2", 96 * IN**2, "in2"),
        ("96 sq in", 96 * IN**2, "in2"),
        ("96 sq. in.", 96 * IN**2, "in2"),
        ("96 square inches", 96 * IN**2, "in2"),
        ("10 ft2", 10 * FT**2, "ft2"),
        ("10 sq ft", 10 * FT**2, "ft2"),
        ("620 cm2", 0.062, "cm2"),
        ("620 mm²", 0.00062, "mm2"),
        ("2 m2", 2.0, "m2"),
    ],
    D.VOLUME: [
        ("620 ft3", 620 * FT**3, "ft3"),
        ("620 cu ft", 620 * FT**3, "ft3"),
        ("620 cubic feet", 620 * FT**3, "ft3"),
        ("17.6 m³", 17.6, "m3"),
        ("2 L", 0.002, "L"),
    ],
    D.POWER: [
        ("40,000 Btu/h", 40_000 * BTU_H, "Btu/h"),
        ("40000 Btu/hr", 40_000 * BTU_H, "Btu/h"),
        ("40000 BTU/H", 40_000 * BTU_H, "Btu/h"),
        ("40000 Btuh", 40_000 * BTU_H, "Btu/h"),
        ("40000 Btu per hour", 40_000 * BTU_H, "Btu/h"),
        ("1,250,000 Btu/h", 1_250_000 * BTU_H, "Btu/h"),
        ("40 kBtu/h", 40_000 * BTU_H, "kBtu/h"),
        ("11.7 kW", 11_700.0, "kW"),
        ("900 W", 900.0, "W"),
    ],
    D.PRESSURE: [
        ("3 Pa", 3.0, "Pa"),
        ("-3 Pa", -3.0, "Pa"),
        ("−1.25 Pa", -1.25, "Pa"),
        ("0.1 kPa", 100.0, "kPa"),
        ("-0.02 in w.c.", -0.02 * IN_WC, "in w.c."),
        ("0.02 in. w.c.", 0.02 * IN_WC, "in w.c."),
        ("0.02 in wc", 0.02 * IN_WC, "in w.c."),
        ("0.02 in W.G.", 0.02 * IN_WC, "in w.c."),
        ("0.02 in H2O", 0.02 * IN_WC, "in w.c."),
        ("0.02 in H₂O", 0.02 * IN_WC, "in w.c."),
        ("0.02 inches of water column", 0.02 * IN_WC, "in w.c."),
        ('7" w.c.', 7 * IN_WC, "in w.c."),
    ],
    D.TEMPERATURE: [
        ("24 °F", -40 / 9, "degF"),
        ("24°F", -40 / 9, "degF"),
        ("24 degF", -40 / 9, "degF"),
        ("24 deg F", -40 / 9, "degF"),
        ("24 degrees Fahrenheit", -40 / 9, "degF"),
        ("-40 degF", -40.0, "degF"),
        ("-5 °C", -5.0, "degC"),
        ("-5 degC", -5.0, "degC"),
        ("300 K", 26.85, "K"),
    ],
    D.RATE: [
        ("0.35 ACH", 0.35 / 3600, "ACH"),
        ("0.35 ach", 0.35 / 3600, "ACH"),
        ("0.35 /h", 0.35 / 3600, "ACH"),
    ],
    D.FLOW: [
        ("30 cfm", 30 * FT**3 / 60, "cfm"),
        ("30 CFM", 30 * FT**3 / 60, "cfm"),
        ("30 ft3/min", 30 * FT**3 / 60, "cfm"),
        ("38 cfh", 38 * FT**3 / 3600, "cfh"),
        ("14 L/s", 0.014, "L/s"),
        ("36 m3/h", 0.01, "m3/h"),
        ("-0.01 m³/s", -0.01, "m3/s"),
    ],
    D.TIME: [
        ("5 min", 300.0, "min"),
        ("90 s", 90.0, "s"),
        ("1 min 45 s", 105.0, "s"),
        ("1 h 30 min", 5400.0, "min"),
        ("2 hours", 7200.0, "h"),
        ("3 days", 259_200.0, "d"),
        ("25 yr", 25 * 365.25 * 86_400, "yr"),
    ],
    D.DENSITY: [
        ("8 lb/ft3", 8 * 0.45359237 / FT**3, "lb/ft3"),
        ("8 pounds per cubic foot", 8 * 0.45359237 / FT**3, "lb/ft3"),
        ("1.2 kg/m³", 1.2, "kg/m3"),
    ],
    D.CONDUCTIVITY: [  # 0.1442279 and 1.730735: NIST SP 811 (2008), Appendix B
        ("1 Btu in/(h ft2 F)", 0.1442279, "Btu in/(h ft2 F)"),
        ("1 Btu·in/(h·ft²·°F)", 0.1442279, "Btu in/(h ft2 F)"),
        ("1 Btu-in/hr-ft2-F", 0.1442279, "Btu in/(h ft2 F)"),
        ("1 Btu/(h ft F)", 1.730735, "Btu/(h ft F)"),
        ("0.042 W/(m K)", 0.042, "W/(m K)"),
        ("0.042 W/m·K", 0.042, "W/(m K)"),
    ],
    D.RESISTANCE: [  # 0.1761102: NIST SP 811 (2008), Appendix B
        ("R-8", 8 * 0.1761102, "h ft2 F/Btu"),
        ("R8", 8 * 0.1761102, "h ft2 F/Btu"),
        ("8 h ft2 F/Btu", 8 * 0.1761102, "h ft2 F/Btu"),
        ("8 hr·ft²·°F/Btu", 8 * 0.1761102, "h ft2 F/Btu"),
        ("1.4 m2 K/W", 1.4, "m2 K/W"),
        ("RSI-1.4", 1.4, "m2 K/W"),
    ],
    D.CONCENTRATION: [
        ("9 ppm", 9.0, "ppm"),
        ("8 %", 80_000.0, "vol %"),
        ("8 vol %", 80_000.0, "vol %"),
    ],
    D.EXPLOSIVE: [
        ("20 % LEL", 0.2, "% LEL"),
        ("5 %LEL", 0.05, "% LEL"),
        ("5 %", 0.05, "% LEL"),
        ("12 percent LEL", 0.12, "% LEL"),
    ],
    D.COUNT: [("3", 3.0, "count"), ("0", 0.0, "count"), ("3.0", 3.0, "count")],
}


@pytest.mark.parametrize(
    ("dimension", "text", "value", "unit"),
    [(dimension, *row) for dimension, rows in READ.items() for row in rows],
)
def test_what_people_write_is_read(
    dimension: Dimension, text: str, value: float, unit: str
) -> None:
    read = parse(text, dimension)
    # The three NIST factors above are printed to seven digits; the rest are exact.
    near = 1e-6 if dimension in (D.CONDUCTIVITY, D.RESISTANCE) else 1e-12
    assert read.value == pytest.approx(value, rel=near, abs=1e-12)
    assert (read.tolerance, read.unit) == (None, unit)


def test_every_dimension_has_texts_that_are_read() -> None:
    assert set(READ) == set(Dimension)


@pytest.mark.parametrize("name", UNITS)
def test_every_unit_is_read_by_its_own_name(name: str) -> None:
    if name == "/12":
        return  # a pitch, written 7/12: among the texts above
    read = parse(f"3 {name}", UNITS[name].dimension)
    assert read.unit == name
    assert read.value == from_unit(3.0, name)


@pytest.mark.parametrize("feet", range(1, 100))
def test_feet_and_as_many_inches_are_the_same_number(feet: int) -> None:
    # A limit written in feet and a reading in inches that just meets it must not differ.
    length = parse(f"{feet} ft", D.LENGTH).value
    assert parse(f"{12 * feet} in", D.LENGTH).value == length
    thousands = parse(f"{feet} kBtu/h", D.POWER).value
    assert parse(f"{feet},000 Btu/h", D.POWER).value == thousands


# --------------------------------------------------------------------------------- tolerance


@pytest.mark.parametrize(
    ("dimension", "text", "half_width"),
    [
        (D.LENGTH, "17 1/2 in ± 1/8 in", 0.125 * IN),
        (D.LENGTH, "17 1/2 in +/- 1/8 in", 0.125 * IN),
        (D.LENGTH, "17 1/2 in +- ⅛ in", 0.125 * IN),
        (D.LENGTH, "17½″±⅛″", 0.125 * IN),
        (D.LENGTH, "6 ft 3 in ± 3 mm", 0.003),
        (D.LENGTH, "6 ft 3 in ± 0 in", 0.0),
        (D.LENGTH, "50 in ± 2 %", 1.0 * IN),
        (D.LENGTH, "-50 in ± 2%", 1.0 * IN),
        (D.LENGTH, "50 in ± 2 percent", 1.0 * IN),
        (D.TEMPERATURE, "24 degF ± 2 degF", 10 / 9),
        (D.TEMPERATURE, "24 degF ± 1 degC", 1.0),
        (D.TEMPERATURE, "-5 °C ± 2 K", 2.0),
        (D.SLOPE, "1/4 in per ft ± 1/16 in per ft", 0.0625 / 12),
        (D.SLOPE, "7/12 ± 0.5/12", 0.5 / 12),
        (D.SLOPE, "7/12 ± 2 %", 0.02 * 7 / 12),
        (D.SLOPE, "0 in per ft ± 0.2 deg", math.tan(math.radians(0.2))),
        # about a slope the steeper side is the wider one, and the bound covers both
        (D.SLOPE, "30 deg ± 1 deg", math.tan(math.radians(31)) - math.tan(math.radians(30))),
        (D.SLOPE, "-30 deg ± 1 deg", math.tan(math.radians(31)) - math.tan(math.radians(30))),
        (D.POWER, "40,000 Btu/h ± 2 %", 800 * BTU_H),
        (D.PRESSURE, "-3 Pa ± 0.3 Pa", 0.3),
        (D.PRESSURE, "-0.02 in w.c. ± 0.01 in w.c.", 0.01 * IN_WC),
        (D.RESISTANCE, "R-8 ± 5 %", 0.05 * 8 * 0.17611018),
        (D.CONCENTRATION, "8 % ± 0.3 vol %", 3000.0),
        (D.CONCENTRATION, "9 ppm ± 10 %", 0.9),
        (D.EXPLOSIVE, "5 % LEL ± 2 % LEL", 0.02),
        (D.COUNT, "3 ± 1", 1.0),
    ],
)
def test_tolerance_after_the_value(dimension: Dimension, text: str, half_width: float) -> None:
    read = parse(text, dimension)
    assert read.tolerance == pytest.approx(half_width, rel=1e-7)
    alone = re.split(r"±|\+/-|\+-", text)[0]
    assert read.value == parse(alone, dimension).value


def test_tolerance_alone() -> None:
    assert parse_tolerance("1/16 in", D.LENGTH) == pytest.approx(0.0625 * IN)
    assert parse_tolerance("2 degF", D.TEMPERATURE) == pytest.approx(10 / 9)
    assert parse_tolerance("0.2 deg", D.SLOPE) == pytest.approx(0.00349067, abs=1e-8)
    with pytest.raises(BadQuantity, match=r'^the tolerance "2 %" is a percentage of zero'):
        parse_tolerance("2 %", D.LENGTH)
    with pytest.raises(BadQuantity, match=r'^the tolerance "" is missing after ±'):
        parse_tolerance(" ", D.LENGTH)


# ----------------------------------------------------------------------------------- refusing

LENGTH = "a length such as 17 1/2 in, 6 ft 3 in or 445 mm"
SLOPE = "a slope such as 1/4 in per ft, 7/12 or 2 %"
BOUND = "a length with its tolerance such as 17 1/2 in ± 1/8 in"
BOUNDED = "the reading with its tolerance such as 17 1/2 in ± 1/8 in"
ROUGH = "in it, which is not a measure of how far off it may be"
COMMA = "has a comma that does not stand before three digits"
SIDES = "has a comma that could be a decimal point"
HEAT = "is an amount of heat, where heat per hour is expected"
GAUGE = "is a gauge, which is another thickness for every metal"
THICKNESS = "the thickness that was measured, such as 0.018 in"
THOUSANDS = "has a unit that some read as thousands and some as millions"

# text, what is said about it, what to write
REFUSED: dict[Dimension, list[tuple[str, str, str]]] = {
    D.LENGTH: [
        ("", "has nothing in it", LENGTH),
        ("3/4", "has no unit", "3/4 in or 19 mm"),
        ("17 1/2", "has no unit", "17 1/2 in or 445 mm"),
        ("-10", "has no unit", "-10 in or -254 mm"),
        ("1.234,5 in", COMMA, "1234.5 in if a decimal point is meant"),
        ("1,5 in", COMMA, "1.5 in if a decimal point is meant"),
        ("0,125 in", COMMA, "0.125 in if a decimal point is meant"),
        ("1,23,4 in", COMMA, "123.4 in if a decimal point is meant"),
        (",5 in", "does not start with a number", LENGTH),
        ("1,125 in", SIDES, "1125 in or 1.125 in, whichever is meant"),
        ("1,500 mm", SIDES, "1500 mm or 1.500 mm, whichever is meant"),
        ("1 500 mm", "has a space inside its number", "1500 mm"),
        ("3' 14\"", "has 14 in where less than 12 in is expected", "4 ft 2 in"),
        ("-3' 14 3/4\"", "has 14.75 in where less than 12 in is expected", "-4 ft 2 3/4 in"),
        ("3 ft 12 in", "has 12 in where less than 12 in is expected", "4 ft"),
        ("3.5 ft 2 in", 'has a fraction of "ft" and "in" besides', "3 ft 8 in"),
        ("5 in 3 ft", 'has "in" before "ft"', "3 ft 5 in"),
        ("1 m 20 cm", 'puts "m" and "cm" together', LENGTH),
        ("5'6", "has no unit after its last number", "5 ft 6 in"),
        ("6 ft 3 1/2", "has no unit after its last number", "6 ft 3 1/2 in"),
        ("6 ft 3 bananas", 'has the unit "bananas", which is not known here', LENGTH),
        ("1/0 in", "divides by zero", LENGTH),
        ("3 3/2 in", "has a fraction that is not below 1", "4 1/2 in"),
        ("3/2 in", "has a fraction that is not below 1", "1 1/2 in"),
        ("-8/8 in", "has a fraction that is not below 1", "-1 in"),
        (
            "11/2 in",
            "has a fraction that is not below 1",
            "5 1/2 in or 1 1/2 in, whichever is meant",
        ),
        ("3 Pa", "is a pressure; a length is expected", LENGTH),
        ("40 deg", "is an angle; a length is expected", LENGTH),
        ("96 in2", "is an area; a length is expected", LENGTH),
        ("5 %", "is a percentage; a length is expected", LENGTH),
        ("nan", "is not a number that can be read off anything", LENGTH),
        ("-inf in", "is not a number that can be read off anything", LENGTH),
        ("Infinity", "is not a number that can be read off anything", LENGTH),
        ("1e400 in", "has an exponent in its number; digits are expected", LENGTH),
        ("1E-3 m", "has an exponent in its number; digits are expected", LENGTH),
        ("9" * 25 + " in", "has too many digits", LENGTH),
        ("0." + "0" * 40 + "1 in", "has too many digits", LENGTH),
        ("about 5 in", f'has "about" {ROUGH}', BOUNDED),
        ("approx. 5 in", f'has "approx." {ROUGH}', BOUNDED),
        ("~5 in", f'has "~" {ROUGH}', BOUNDED),
        ("< 5 in", f'has "<" {ROUGH}', BOUNDED),
        ("at least 5 in", f'has "at least" {ROUGH}', BOUNDED),
        ("5-6 in", "is a range", "5 1/2 in ± 1/2 in"),
        ("5–6 in", "is a range", "5 1/2 in ± 1/2 in"),
        ("5 to 6 in", "is a range", "5 1/2 in ± 1/2 in"),
        ("1/2-3/4 in", "is a range", "5/8 in ± 1/8 in"),
        ("5.1-5.2 in", "is a range", "5.15 in ± 0.05 in"),
        ("6-5 in", "looks like a range", BOUNDED),
        ("5 in - 6 in", 'has two values in "in"', BOUNDED),
        ("5 in to 6 in", "looks like a range", BOUNDED),
        ("17 - 1/2 in", "could be one number or two", "17 1/2 in if it is one number"),
        ("12 in in", 'has the unit "in in", which is not known here', LENGTH),
        ("5 mi", 'has the unit "mi", which is not known here', LENGTH),
        ("6 3 in", 'has a second number after "6"', LENGTH),
        ("26 ga", GAUGE, THICKNESS),
        ("26 gauge", GAUGE, THICKNESS),
        ("in", "does not start with a number", LENGTH),
        ("--5 in", "does not start with a number", LENGTH),
        ("1.2.3 in", "has a number that is not clear", LENGTH),
        ("1/2/4 in", "has a number that is not clear", LENGTH),
        ("± 1/8 in", "has nothing before ±", LENGTH),
        ("5 in ± 1 in ± 1 in", "has more than one ±", LENGTH),
    ],
    D.SLOPE: [
        ("1/4", "has no unit", "1/4 in per ft, 1/4 %, or 3/12 if it is rise over run"),
        ("0.02", "has no unit", "0.02 in per ft, 0.02 %, or 0.24/12 if it is rise over run"),
        ("1:48", "is a ratio over something else than 12", SLOPE),
        ("90 deg", "is upright or past it, which is no slope", SLOPE),
        ("level", "does not start with a number", SLOPE),
        ("1/4 in", "is a length; a slope is expected", SLOPE),
    ],
    D.ANGLE: [("45", "has no unit", "45 deg")],
    D.AREA: [
        ("96", "has no unit", "96 in2 or 96 cm2, whichever was read"),
        ("-96 in2", "is below zero, which an area cannot be", "an area such as 96 in2 or 620 cm2"),
        ("96 in", "is a length; an area is expected", "an area such as 96 in2 or 620 cm2"),
    ],
    D.VOLUME: [
        ("620", "has no unit", "620 ft3 or 620 m3, whichever was read"),
    ],
    D.POWER: [
        ("40000", "has no unit", "40000 Btu/h or 40000 kW, whichever was read"),
        ("40,00 Btu/h", COMMA, "40.00 Btu/h if a decimal point is meant"),
        ("11,700 kW", SIDES, "11700 kW or 11.700 kW, whichever is meant"),
        ("40 000 Btu/h", "has a space inside its number", "40000 Btu/h"),
        ("40 BTU", HEAT, "40 Btu/h"),
        ("40 kBtu", HEAT, "40 kBtu/h"),
        ("40 MBH", THOUSANDS, "40 kBtu/h for thousands"),
        ("40 MBtu/h", THOUSANDS, "40 kBtu/h for thousands"),
        ("30,000-40,000 Btu/h", "is a range", "35000 Btu/h ± 5000 Btu/h"),
    ],
    D.PRESSURE: [
        ("3", "has no unit", "3 Pa or 3 in w.c., whichever was read"),
        ("1,250 Pa", SIDES, "1250 Pa or 1.250 Pa, whichever is meant"),
        (
            "29.9 inHg",
            'has the unit "inHg", which is not known here',
            "a pressure such as -0.012 in w.c. or -3 Pa",
        ),
    ],
    D.TEMPERATURE: [
        ("24", "has no unit", "24 degF or 24 degC, whichever was read"),
        ("24 F", "has the unit F, which is not a temperature here", "24 degF"),
        ("10 C", "has the unit C, which is not a temperature here", "10 degC"),
        ("24 deg", "does not say which degrees", "24 degF or 24 degC, whichever was read"),
        (
            "-460 degF",
            "is below absolute zero",
            "a temperature such as 24 degF or -4.4 degC",
        ),
    ],
    D.RATE: [("0.35", "has no unit", "0.35 ACH")],
    D.FLOW: [("30", "has no unit", "30 cfm or 30 L/s, whichever was read")],
    D.TIME: [
        ("5", "has no unit", "5 min or 5 s, whichever was read"),
        ("5 m", "is a length; a time is expected", "a time such as 5 min or 90 s"),
        ("5 min 70 s", "has 70 s where less than 60 s is expected", "6 min 10 s"),
    ],
    D.DENSITY: [("8", "has no unit", "8 lb/ft3 or 8 kg/m3, whichever was read")],
    D.CONDUCTIVITY: [
        ("0.04", "has no unit", "0.04 Btu in/(h ft2 F) or 0.04 W/(m K), whichever was read"),
    ],
    D.RESISTANCE: [
        ("8", "has no unit", "8 h ft2 F/Btu or 8 m2 K/W, whichever was read"),
    ],
    D.CONCENTRATION: [
        ("9", "has no unit", "9 ppm"),
        ("-1 ppm", "is below zero, which a concentration cannot be", "a concentration such as 9 ppm"),  # noqa: E501
    ],
    D.EXPLOSIVE: [
        ("5", "has no unit", "5 % LEL"),
        ("5 ppm", "is a concentration; a share of the explosive limit is expected", "a share of the explosive limit such as 5 % LEL"),  # noqa: E501
    ],
    D.COUNT: [
        ("3.5", "is not a whole number", "a count such as 3"),
        ("-3", "is below zero, which a count cannot be", "a count such as 3"),
        ("3 in", "is a length; a count is expected", "a count such as 3"),
        ("three", "does not start with a number", "a count such as 3"),
    ],
}  # fmt: skip

REFUSED_ROWS = [(dimension, *row) for dimension, rows in REFUSED.items() for row in rows]


def refusal(text: str, dimension: Dimension) -> str:
    with pytest.raises(BadQuantity) as caught:
        parse(text, dimension)
    return str(caught.value)


@pytest.mark.parametrize(("dimension", "text", "why", "write"), REFUSED_ROWS)
def test_what_is_unclear_is_refused(dimension: Dimension, text: str, why: str, write: str) -> None:
    stop = "" if write.endswith(".") else "."
    assert refusal(text, dimension) == f'"{text}" {why}. Write {write}{stop}'


@pytest.mark.parametrize(("dimension", "text", "why", "write"), REFUSED_ROWS)
def test_what_a_refusal_says_to_write_is_read(
    dimension: Dimension, text: str, why: str, write: str
) -> None:
    advice = re.sub(r"^.*such as |,? (?:whichever|if|for thousands).*$", "", write)
    advice = re.sub(r"^or ", "", advice)
    for example_text in re.split(r", or |, | or ", advice):
        parse(re.sub(r" if .*$", "", example_text), dimension)


def test_every_dimension_has_texts_that_are_refused() -> None:
    assert set(REFUSED) == set(Dimension)


@pytest.mark.parametrize(
    ("dimension", "text", "message"),
    [
        (D.LENGTH, "17 in ± 1/8", 'the tolerance "1/8" has no unit. Write 1/8 in or 3 mm.'),
        (D.LENGTH, "17 ± 1/8 in", '"17" has no unit. Write 17 in or 432 mm.'),
        (
            D.LENGTH,
            "17 in ± -1/8 in",
            f'the tolerance "-1/8 in" has a sign of its own. Write {BOUND}.',
        ),
        (D.LENGTH, "17 in ±", f'the tolerance "" is missing after ±. Write {BOUND}.'),
        (
            D.LENGTH,
            "17 in ± 2 Pa",
            f'the tolerance "2 Pa" is a pressure; a length is expected. Write {BOUND}.',
        ),
        (D.LENGTH, "0 in ± 2 %", f'the tolerance "2 %" is a percentage of zero. Write {BOUND}.'),
        (
            D.TEMPERATURE,
            "24 degF ± 2 %",
            'the tolerance "2 %" is a percentage of a temperature, which has no true zero here. '
            "Write a temperature with its tolerance such as 24 degF ± 2 degF.",
        ),
        (
            D.TEMPERATURE,
            "24 degF ± 2",
            'the tolerance "2" has no unit. Write 2 degF or 2 degC, whichever was read.',
        ),
        (
            D.SLOPE,
            "2 % ± 1 %",
            'the tolerance "1 %" could be a percentage of the value or percentage points. '
            "Write a slope with its tolerance such as 1/4 in per ft ± 0.05 in per ft.",
        ),
        (
            D.SLOPE,
            "89 deg ± 2 deg",
            'the tolerance "2 deg" reaches upright, which is no slope. '
            "Write a slope with its tolerance such as 1/4 in per ft ± 0.05 in per ft.",
        ),
        (
            D.CONCENTRATION,
            "8 % ± 1 %",
            'the tolerance "1 %" could be a percentage of the value or percentage points. '
            "Write a concentration with its tolerance such as 9 ppm ± 2 ppm.",
        ),
    ],
)
def test_unclear_tolerance_is_refused(dimension: Dimension, text: str, message: str) -> None:
    assert refusal(text, dimension) == message


def test_a_long_text_is_cut_and_an_unprintable_letter_shown_as_a_question_mark() -> None:
    assert refusal("x" * 300, D.LENGTH).startswith(f'"{"x" * 57}..." is too long for one quantity')
    assert refusal("\x00 in", D.LENGTH).startswith('"? in" does not start with a number')


@given(st.text(max_size=110), st.sampled_from(Dimension))
@example("\N{ARABIC-INDIC DIGIT FIVE} in", D.LENGTH)
@example("5 in ± ²", D.LENGTH)
def test_any_text_is_a_finite_value_or_a_refusal(text: str, dimension: Dimension) -> None:
    check_any(text, dimension)


PIECES = [
    *"0123456789", "10", "1/2", "12", "/", ":", ",", ".", "-", "+", "±", "+/-", " ", "'", '"', "½",
    "′", "%", "(", ")", "^2", "²", "e5", "to", "about", "deg", "°", "F", "in", "ft", "per", "sq",
    "mm", "m", "w.c.", "Btu", "kBtu", "h", "Pa", "min", "s", "ppm", "R-", "RSI", "W", "K", "inf",
    "lb", "cfm", "ga", "\N{NO-BREAK SPACE}", "\n", "\N{MATHEMATICAL DOUBLE-STRUCK DIGIT THREE}",
]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join), st.sampled_from(Dimension))
def test_any_heap_of_pieces_is_a_finite_value_or_a_refusal(text: str, dimension: Dimension) -> None:
    check_any(text, dimension)


def check_any(text: str, dimension: Dimension) -> None:
    said = ""
    try:
        read = parse(text, dimension)
    except BadQuantity as refused:
        said = str(refused)
    if said:
        assert re.search(r"\. Write .+\.$", said), said
        assert said.isprintable()
        return
    assert math.isfinite(read.value)
    assert read.tolerance is None or 0.0 <= read.tolerance < math.inf
    assert read.unit in UNITS


# ----------------------------------------------------------------------------------- printing


@pytest.mark.parametrize(
    ("dimension", "value", "us", "metric"),
    [
        (D.LENGTH, 75.5 * IN, "6 ft 3 1/2 in", "1.918 m"),
        (D.LENGTH, 15 * IN, "15 in", "381 mm"),
        (D.LENGTH, 35.9375 * IN, "35 15/16 in", "913 mm"),
        (D.LENGTH, 36 * IN, "3 ft", "914 mm"),
        (D.LENGTH, 35.98 * IN, "3 ft", "914 mm"),  # rounds up into feet
        (D.LENGTH, 9 * FT, "9 ft", "2.743 m"),
        (D.LENGTH, 47.99 * IN, "4 ft", "1.219 m"),
        (D.LENGTH, 0.0, "0 in", "0 mm"),
        (D.LENGTH, -2 * IN, "-2 in", "-51 mm"),
        (D.LENGTH, -75.5 * IN, "-6 ft 3 1/2 in", "-1.918 m"),
        (D.LENGTH, 0.018 * IN, "0.018 in", "0.46 mm"),
        (D.LENGTH, -0.018 * IN, "-0.018 in", "-0.46 mm"),
        (D.LENGTH, 0.0625 * IN, "1/16 in", "1.59 mm"),
        (D.LENGTH, 0.125 * IN, "1/8 in", "3.17 mm"),
        (D.LENGTH, 0.1 * IN, "0.1 in", "2.54 mm"),
        (D.LENGTH, 0.15 * IN, "1/8 in", "3.81 mm"),
        (D.LENGTH, 1609.344, "5280 ft", "1609 m"),
        (D.SLOPE, 0.125 / 12, "1/8 in per ft", "10.4 mm/m"),
        (D.SLOPE, 0.13 / 12, "0.13 in per ft", "10.8 mm/m"),
        (D.SLOPE, 0.042 / 12, "0.042 in per ft", "3.5 mm/m"),
        (D.SLOPE, -0.5 / 12, "-1/2 in per ft", "-41.7 mm/m"),
        (D.SLOPE, 0.0, "0 in per ft", "0 mm/m"),
        (D.SLOPE, 7 / 12, "7 in per ft", "583 mm/m"),
        (D.ANGLE, 45.0, "45°", "45°"),
        (D.ANGLE, 22.5, "22.5°", "22.5°"),
        (D.AREA, 96 * IN**2, "96 in²", "619 cm²"),
        (D.AREA, 12.57 * IN**2, "12.6 in²", "81.1 cm²"),
        (D.AREA, 120 * FT**2, "120 ft²", "11.1 m²"),
        (D.VOLUME, 620 * FT**3, "620 ft³", "17.6 m³"),
        (D.VOLUME, 1500 * FT**3, "1,500 ft³", "42.5 m³"),
        (D.POWER, 40_000 * BTU_H, "40,000 Btu/h", "11.72 kW"),
        (D.POWER, 350 * BTU_H, "350 Btu/h", "103 W"),
        (D.PRESSURE, -3.0, "-0.012 in w.c.", "-3.0 Pa"),
        (D.PRESSURE, -1.25, "-0.005 in w.c.", "-1.25 Pa"),
        (D.PRESSURE, -0.15, "-0.0006 in w.c.", "-0.15 Pa"),
        (D.PRESSURE, 7 * IN_WC, "7 in w.c.", "1744 Pa"),
        (D.PRESSURE, -0.001, "0 in w.c.", "0.0 Pa"),
        (D.TEMPERATURE, -40 / 9, "24 °F", "-4.4 °C"),
        (D.TEMPERATURE, 0.0, "32 °F", "0 °C"),
        (D.TEMPERATURE, 175.0, "347 °F", "175 °C"),
        (D.FLOW, 30 * FT**3 / 60, "30 cfm", "14.2 L/s"),
        (D.RATE, 0.35 / 3600, "0.35 ACH", "0.35 ACH"),
        (D.TIME, 90.0, "90 s", "90 s"),
        (D.TIME, 300.0, "5 min", "5 min"),
        (D.TIME, 3 * 3600.0, "3 h", "3 h"),
        (D.TIME, 25 * 365.25 * 86_400, "25 yr", "25 yr"),
        (D.DENSITY, 8 * 0.45359237 / FT**3, "8 lb/ft³", "128 kg/m³"),
        (D.CONDUCTIVITY, 0.042, "0.291 Btu in/(h ft² °F)", "0.042 W/(m K)"),
        (D.RESISTANCE, 8 * 0.17611018, "R-8", "1.41 m² K/W"),
        (D.CONCENTRATION, 9.0, "9 ppm", "9 ppm"),
        (D.CONCENTRATION, 80_000.0, "8 vol %", "8 vol %"),
        (D.EXPLOSIVE, 0.2, "20 % LEL", "20 % LEL"),
        (D.COUNT, 3.0, "3", "3"),
    ],
)
def test_what_is_printed(dimension: Dimension, value: float, us: str, metric: str) -> None:
    assert show(value, dimension) == us
    assert show(value, dimension, "metric") == metric


def test_a_named_unit_prints_decimals_of_it() -> None:
    assert show(0.4445, D.LENGTH, unit="in") == "17.5 in"
    assert show(0.4445, D.LENGTH, unit="ft") == "1.458 ft"
    assert show(7 / 12, D.SLOPE, unit="/12") == "7/12"
    assert show(math.tan(math.radians(30)), D.SLOPE, unit="deg") == "30°"
    assert show(0.02, D.SLOPE, unit="%") == "2 %"
    assert show(-40 / 9, D.TEMPERATURE, unit="degF") == "24 °F"
    assert show(11_722.84280688889, D.POWER, unit="kBtu/h") == "40 kBtu/h"
    with pytest.raises(BadQuantity, match=r'^"Pa" is a unit of pressure; give one of length\.$'):
        show(1.0, D.LENGTH, unit="Pa")
    with pytest.raises(BadQuantity, match=r'^"furlong" is not the name of a unit. Write one of: '):
        show(1.0, D.LENGTH, unit="furlong")


def test_what_cannot_be_printed_is_refused() -> None:
    for value in (math.nan, math.inf, -math.inf):
        with pytest.raises(OutOfRange, match=r"cannot be shown\. Give a finite number\.$"):
            show(value, D.LENGTH)
        with pytest.raises(OutOfRange):
            show_pitch(value)
        with pytest.raises(OutOfRange):
            fraction_text(value)
    with pytest.raises(ValueError, match=r'^"si" is not a style of writing'):
        show(1.0, D.LENGTH, "si")  # type: ignore[arg-type]


def test_pressure_both_ways() -> None:
    assert show_pressure(-3.0) == "-3.0 Pa (-0.012 in w.c.)"


def test_pitch() -> None:
    assert [show_pitch(rise / 12) for rise in (0, 3, 6.5, 12, 14)] == [
        "0/12", "3/12", "6.5/12", "12/12", "14/12",
    ]  # fmt: skip


def test_fractions_of_an_inch() -> None:
    numbers = (17.5, 0, 0.5, -0.5, -17.5, 0.0625, 3, 11.99, -0.01, 15.9375)
    assert [fraction_text(number) for number in numbers] == [
        "17 1/2", "0", "1/2", "-1/2", "-17 1/2", "1/16", "3", "12", "0", "15 15/16",
    ]  # fmt: skip
    assert fraction_text(0.09375, parts=32) == "3/32"


@pytest.mark.parametrize(
    ("measured", "us", "metric"),
    [
        (Measured(15 * IN, D.LENGTH, IN / 16), "15 in ± 1/16 in", "381 mm ± 1.59 mm"),
        (Measured(15 * IN, D.LENGTH), "15 in", "381 mm"),
        # a bound is rounded up, never down
        (Measured(15 * IN, D.LENGTH, 0.003), "15 in ± 0.119 in", "381 mm ± 3 mm"),
        (Measured(15 * IN, D.LENGTH, 0.13 * IN), "15 in ± 3/16 in", "381 mm ± 3.31 mm"),
        (Measured(-40 / 9, D.TEMPERATURE, 10 / 9), "24 °F ± 2 °F", "-4.4 °C ± 1.2 °C"),
        (
            Measured(0.25 / 12, D.SLOPE, 0.00349),
            "1/4 in per ft ± 0.042 in per ft",
            "20.8 mm/m ± 3.5 mm/m",
        ),
        (
            Measured(8 * 0.17611018, D.RESISTANCE, 0.17611018),
            "R-8 ± 1 h ft² °F/Btu",
            "1.41 m² K/W ± 0.177 m² K/W",
        ),
    ],
)
def test_measured_values_are_printed_with_their_bound(
    measured: Measured, us: str, metric: str
) -> None:
    assert show_measured(measured) == us
    assert show_measured(measured, "metric") == metric


# Sizes that occur, SI: from and to.
RANGES: dict[Dimension, tuple[float, float]] = {
    D.LENGTH: (-30.0, 3000.0),
    D.SLOPE: (-3.0, 3.0),
    D.ANGLE: (-180.0, 180.0),
    D.AREA: (0.0, 500.0),
    D.VOLUME: (0.0, 2000.0),
    D.POWER: (0.0, 500_000.0),
    D.PRESSURE: (-3000.0, 3000.0),
    D.TEMPERATURE: (-60.0, 2000.0),
    D.RATE: (0.0, 0.01),
    D.FLOW: (-5.0, 5.0),
    D.TIME: (0.0, 3e9),
    D.DENSITY: (0.0, 9000.0),
    D.CONDUCTIVITY: (0.0, 400.0),
    D.RESISTANCE: (0.0, 20.0),
    D.CONCENTRATION: (0.0, 210_000.0),
    D.EXPLOSIVE: (0.0, 1.0),
    D.COUNT: (0.0, 1000.0),
}
SIZES = {
    dimension: st.integers(int(low), int(high)).map(float)
    if dimension is D.COUNT
    else st.floats(low, high) | st.floats(max(low, high / -100_000), high / 100_000)
    for dimension, (low, high) in RANGES.items()
}


def last_step(text: str, dimension: Dimension) -> float:
    """How much the last printed digit or fraction is worth, SI."""
    unit = parse(text, dimension).unit
    if unit in ("in", "ft", "in/ft") and "." not in text:
        step = 1 / 16 if unit != "ft" else 1 / 192
    else:
        decimals = re.search(r"[0-9]+\.?([0-9]*)", text.replace(",", ""))
        assert decimals
        # zeros at the end are left out, so the step may be finer than it looks, never coarser
        step = 10.0 ** -len(decimals[1])
    return difference_from_unit(step, unit)


@pytest.mark.parametrize("dimension", Dimension)
@pytest.mark.parametrize("style", ["us", "metric"])
@given(data=st.data())
def test_what_is_printed_is_read_back(
    dimension: Dimension, style: Style, data: st.DataObject
) -> None:
    value = data.draw(SIZES[dimension])
    text = show(value, dimension, style)
    back = parse(text, dimension).value
    assert abs(back - value) <= 0.5 * last_step(text, dimension) * (1 + 1e-9) + 1e-12 * abs(value)
    # A second time round nothing moves, though 120 min may be said as 2 h; but a slope's decimal
    # may have come near enough to a tape fraction to be said as one.
    again = parse(show(back, dimension, style), dimension).value
    near = 0.0025 / 12 if (dimension, style) == (D.SLOPE, "us") else 1e-12
    assert again == pytest.approx(back, rel=1e-9, abs=near * (1 + 1e-9))


@pytest.mark.parametrize("dimension", Dimension)
@pytest.mark.parametrize("style", ["us", "metric"])
@given(data=st.data())
def test_a_printed_bound_is_read_back_no_smaller(
    dimension: Dimension, style: Style, data: st.DataObject
) -> None:
    value = data.draw(SIZES[dimension])
    bound = abs(data.draw(SIZES[dimension])) / 10.0
    assume(bound > 1e-9 * RANGES[dimension][1])
    read = parse(show_measured(Measured(value, dimension, bound), style), dimension)
    text = show_difference(bound, dimension, style, up=True)
    assert read.tolerance is not None
    step = last_step_of_bound(text, dimension)
    # a thousandth of a step may be dropped: it is the noise of floats
    assert bound - 0.05 * step <= read.tolerance <= bound + step * (1 + 1e-9)


def last_step_of_bound(text: str, dimension: Dimension) -> float:
    """Like `last_step`; a temperature's bound is a difference and may be any size."""
    if dimension is D.TEMPERATURE:
        decimals = re.search(r"[0-9]+\.?([0-9]*)", text)
        assert decimals
        return 10.0 ** -len(decimals[1])
    return last_step(text, dimension) if dimension is not D.COUNT else 1.0


@pytest.mark.parametrize("name", UNITS)
@given(number=st.floats(-1e6, 1e6))
def test_units_convert_both_ways(name: str, number: float) -> None:
    assert to_unit(from_unit(number, name), name) == pytest.approx(number, rel=1e-12, abs=1e-9)
    there = difference_from_unit(number, name)
    assert difference_to_unit(there, name) == pytest.approx(number, rel=1e-12)


def test_a_difference_of_temperature_has_no_zero() -> None:
    assert from_unit(24.0, "degF") == pytest.approx(-40 / 9)
    assert difference_from_unit(18.0, "degF") == pytest.approx(10.0)
    assert difference_to_unit(10.0, "degF") == pytest.approx(18.0)
    assert show_difference(10.0, D.TEMPERATURE) == "18 °F"
    assert show_difference(-10.0, D.TEMPERATURE, "metric") == "-10 °C"


# -------------------------------------------------------------------------------- arithmetic


def tape(inches: float, bound: float = 0.0625, photo: str = "a") -> Measured:
    return Measured(inches * IN, D.LENGTH, bound * IN, "tape", (photo,))


def test_bounds_add_in_sums_and_differences() -> None:
    total = tape(10) + tape(4, 0.25, "b")
    assert total.value == pytest.approx(14 * IN)
    assert total.tolerance == pytest.approx(0.3125 * IN)
    assert total.evidence == ("a", "b")
    rest = tape(10) - tape(4, 0.25, "b")
    assert rest.value == pytest.approx(6 * IN)
    assert rest.tolerance == pytest.approx(0.3125 * IN)


def test_evidence_is_named_once_and_the_widest_tool_kept() -> None:
    laser = Measured(1.0, D.LENGTH, 0.002, "laser", ("b", "a"))
    assert (tape(10) + laser).evidence == ("a", "b")
    assert (tape(10) + laser).tool == "laser"
    assert (tape(10) + Measured(1.0, D.LENGTH)).tool == "tape"
    assert (Measured(1.0, D.LENGTH) + Measured(1.0, D.LENGTH)).tool is None


def test_scaled() -> None:
    assert tape(10).scaled(-2.0) == Measured(-20 * IN, D.LENGTH, 0.125 * IN, "tape", ("a",))


def test_between() -> None:
    span = Measured.between(1.0, 2.0, D.LENGTH)
    assert (span.low, span.value, span.high) == (1.0, 1.5, 2.0)
    with pytest.raises(OutOfRange, match="give the lower end first"):
        Measured.between(2.0, 1.0, D.LENGTH)


def test_smaller_and_larger_keep_what_the_bounds_leave_open() -> None:
    first, second = Measured.between(1.0, 4.0, D.LENGTH), Measured.between(2.0, 3.0, D.LENGTH)
    least, most = smaller(first, second), larger(first, second)
    assert (least.low, least.high) == (1.0, 3.0)
    assert (most.low, most.high) == (2.0, 4.0)
    assert smaller(first) is first


@given(
    st.lists(st.tuples(st.floats(-9, 9), st.floats(0, 3), st.floats(-1, 1)), min_size=2, max_size=4)
)
def test_true_values_within_their_bounds_give_a_result_within_its_bound(
    rows: list[tuple[float, float, float]],
) -> None:
    parts = [Measured(value, D.LENGTH, bound) for value, bound, _ in rows]
    true = [value + bound * place for value, bound, place in rows]
    for result, exact in (
        (parts[0] + parts[1], true[0] + true[1]),
        (parts[0] - parts[1], true[0] - true[1]),
        (parts[0].scaled(-3.0), -3.0 * true[0]),
        (smaller(*parts), min(true)),
        (larger(*parts), max(true)),
    ):
        assert result.low - 1e-9 <= exact <= result.high + 1e-9


def test_kinds_do_not_mix() -> None:
    pressure = Measured(3.0, D.PRESSURE)
    with pytest.raises(TypeError, match=r"^length and pressure cannot be added: both must be"):
        tape(10) + pressure
    with pytest.raises(TypeError, match=r"^length and pressure cannot be subtracted"):
        tape(10) - pressure
    with pytest.raises(TypeError, match=r"^length and pressure cannot be compared"):
        smaller(tape(10), pressure)
    with pytest.raises(TypeError, match=r"^2\.0 is not a Measured\. Wrap a plain SI number"):
        tape(10) + 2.0  # type: ignore[operator]


def test_temperatures_are_not_added() -> None:
    warm = Measured(20.0, D.TEMPERATURE, 1.0)
    level = r"^temperature cannot be (added|subtracted|scaled): it is a level"
    with pytest.raises(TypeError, match=level):
        warm + warm
    with pytest.raises(TypeError, match=level):
        warm - warm
    with pytest.raises(TypeError, match=level):
        warm.scaled(2.0)
    assert larger(warm, Measured(25.0, D.TEMPERATURE)).low == 25.0


@pytest.mark.parametrize(
    ("value", "tolerance"),
    [(1.0, -0.1), (1.0, math.nan), (1.0, math.inf), (math.nan, 0.0), (math.inf, 0.0)],
)
def test_a_measured_value_is_finite_and_its_bound_not_negative(
    value: float, tolerance: float
) -> None:
    with pytest.raises(OutOfRange, match="is not a measured value"):
        Measured(value, D.LENGTH, tolerance)
