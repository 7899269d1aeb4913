"""The closed table of units: what each is worth in SI, and how people spell it.

Nothing outside this table is a unit to this program; there are no prefixes to combine.

Source of the factors: NIST Special Publication 811 (2008), Appendix B: inch, foot, pound and
International Table Btu exact; conventional inch of water = 25.4 mm x 1000 kg/m3 x 9.80665 m/s2.
"""

from __future__ import annotations

import re
from enum import StrEnum

from fluewright.errors import BadQuantity
from fluewright.frozen import frozen


class Dimension(StrEnum):
    """What kind of thing a number measures, with the SI unit that is used inside."""

    LENGTH = "length"  # m
    SLOPE = "slope"  # rise over run, ratio
    ANGLE = "angle"  # degrees (geometry is printed and read in degrees everywhere)
    AREA = "area"  # m2
    VOLUME = "volume"  # m3
    POWER = "power"  # W
    PRESSURE = "pressure"  # Pa
    TEMPERATURE = "temperature"  # degrees Celsius (a level, not a difference)
    FLOW = "flow"  # m3/s
    RATE = "rate"  # 1/s, how often an hour the air of a house changes
    TIME = "time"  # s
    DENSITY = "density"  # kg/m3
    CONDUCTIVITY = "conductivity"  # W/(m K)
    RESISTANCE = "resistance"  # m2 K/W
    CONCENTRATION = "concentration"  # parts per million by volume
    EXPLOSIVE = "explosive"  # share of the lower explosive limit of the gas, ratio
    COUNT = "count"  # pieces


D = Dimension

INCH_M = 0.0254
FOOT_M = 0.3048
BTU_J = 1055.05585262
POUND_KG = 0.45359237
HOUR_S = 3600.0
DAY_S = 86_400.0
YEAR_S = 365.25 * DAY_S


@frozen
class Unit:
    """One unit: SI value = (number + ``offset``) x ``top`` / ``bottom``.

    The factor is kept as two whole numbers where it can be, so that 24 in and 2 ft give the
    same float: a limit met exactly has to be met.
    """

    name: str
    dimension: Dimension
    top: float
    bottom: float = 1.0
    offset: float = 0.0

    def si(self, number: float) -> float:
        """The number of this unit as an SI value."""
        return (number + self.offset) * self.top / self.bottom

    def si_difference(self, number: float) -> float:
        """A difference of so many of this unit as an SI difference."""
        return number * self.top / self.bottom

    def number(self, value: float) -> float:
        """The SI value as a number of this unit."""
        return value * self.bottom / self.top - self.offset

    def number_of_difference(self, value: float) -> float:
        """The SI difference as a number of this unit."""
        return value * self.bottom / self.top


# A slope written in degrees: the ratio is the tangent, so no factor serves. The reader of text
# treats this one apart; it is not in UNITS, where "deg" is the plain angle.
SLOPE_DEG = Unit("deg", D.SLOPE, 1.0)
# Units of which thousands are ordinary here, so that a single comma before three digits groups
# them. With any other, 1,125 in could be an inch and an eighth.
THOUSANDS = frozenset({"Btu/h", "W", "ft", "in2", "ft2", "ft3", "cfm", "cfh", "ppm", "d"})
PERCENT_NAMES = ("%", "vol %")

_FT2 = FOOT_M**2
_FT3 = FOOT_M**3
_RANKINE_K = 5.0 / 9.0
_BTU_H_W = BTU_J / HOUR_S

_OF_WATER = ("in water", "in of water", "in of wc", "in water column", "in of water column")

# each unit (name, dimension, top, bottom, offset) and its other spellings in plain form
_ROWS: tuple[tuple[Unit, tuple[str, ...]], ...] = (
    (Unit("in", D.LENGTH, 254.0, 10_000.0), ()),
    (Unit("ft", D.LENGTH, 3048.0, 10_000.0), ()),
    (Unit("mm", D.LENGTH, 1.0, 1000.0), ()),
    (Unit("cm", D.LENGTH, 1.0, 100.0), ()),
    (Unit("m", D.LENGTH, 1.0), ()),
    (Unit("in/ft", D.SLOPE, 1.0, 12.0), ("in/1 ft", "in/1ft")),
    (
        Unit("/12", D.SLOPE, 1.0, 12.0),
        ("in/12 in", "in/12in", "in 12", "in/12", "on 12", "in in 12 in"),
    ),
    (Unit("mm/m", D.SLOPE, 1.0, 1000.0), ()),
    (Unit("cm/m", D.SLOPE, 1.0, 100.0), ()),
    (Unit("%", D.SLOPE, 1.0, 100.0), ()),
    (Unit("ratio", D.SLOPE, 1.0), ()),
    (Unit("deg", D.ANGLE, 1.0), ()),
    (Unit("in2", D.AREA, 64_516.0, 1e8), ("sqin",)),
    (Unit("ft2", D.AREA, 9_290_304.0, 1e8), ("sqft",)),
    (Unit("mm2", D.AREA, 1.0, 1e6), ()),
    (Unit("cm2", D.AREA, 1.0, 1e4), ()),
    (Unit("m2", D.AREA, 1.0), ()),
    (Unit("ft3", D.VOLUME, 28_316_846_592.0, 1e12), ("cuft",)),
    (Unit("m3", D.VOLUME, 1.0), ()),
    (Unit("L", D.VOLUME, 1.0, 1000.0), ()),
    (Unit("Btu/h", D.POWER, 52_752_792_631.0, 1.8e11), ("btuh",)),
    (Unit("kBtu/h", D.POWER, 52_752_792_631.0, 1.8e8), ("kbtuh",)),
    (Unit("W", D.POWER, 1.0), ()),
    (Unit("kW", D.POWER, 1000.0), ()),
    (Unit("Pa", D.PRESSURE, 1.0), ()),
    (Unit("kPa", D.PRESSURE, 1000.0), ()),
    (
        Unit("in w.c.", D.PRESSURE, 24_908_891.0, 1e5),
        ("in wc", "inwc", "in wg", "inwg", "in h2o", "inh2o", "iwc", *_OF_WATER),
    ),
    (Unit("degF", D.TEMPERATURE, 5.0, 9.0, -32.0), ()),
    (Unit("degC", D.TEMPERATURE, 1.0), ()),
    (Unit("K", D.TEMPERATURE, 1.0, 1.0, -273.15), ()),
    (Unit("cfm", D.FLOW, _FT3, 60.0), ("ft3/min",)),
    (Unit("cfh", D.FLOW, _FT3, HOUR_S), ("ft3/h",)),
    (Unit("L/s", D.FLOW, 1.0, 1000.0), ()),
    (Unit("m3/h", D.FLOW, 1.0, HOUR_S), ()),
    (Unit("m3/s", D.FLOW, 1.0), ()),
    (Unit("ACH", D.RATE, 1.0, HOUR_S), ("/h", "1/h", "air changes/h")),
    (Unit("s", D.TIME, 1.0), ()),
    (Unit("min", D.TIME, 60.0), ()),
    (Unit("h", D.TIME, HOUR_S), ()),
    (Unit("d", D.TIME, DAY_S), ()),
    (Unit("yr", D.TIME, YEAR_S), ()),
    (Unit("lb/ft3", D.DENSITY, POUND_KG, _FT3), ("pcf",)),
    (Unit("kg/m3", D.DENSITY, 1.0), ()),
    (
        Unit("Btu in/(h ft2 F)", D.CONDUCTIVITY, _BTU_H_W * INCH_M, _FT2 * _RANKINE_K),
        ("btu in/h ft2 f", "btu in/h ft2 degf", "btu in/h/ft2/f", "btu in/h/ft2/degf"),
    ),
    (
        Unit("Btu/(h ft F)", D.CONDUCTIVITY, _BTU_H_W, FOOT_M * _RANKINE_K),
        ("btu/h ft f", "btu/h ft degf", "btu/h/ft/f", "btu/h/ft/degf"),
    ),
    (
        Unit("W/(m K)", D.CONDUCTIVITY, 1.0),
        ("w/m k", "w/mk", "w/m/k", "w/m c", "w/m degc", "w/m/degc"),
    ),
    (
        Unit("h ft2 F/Btu", D.RESISTANCE, _FT2 * _RANKINE_K, _BTU_H_W),
        ("h ft2 degf/btu", "ft2 h f/btu", "ft2 h degf/btu", "ft2 f h/btu", "ft2 degf h/btu"),
    ),
    (Unit("m2 K/W", D.RESISTANCE, 1.0), ("m2k/w", "m2 degc/w", "m2 c/w")),
    (Unit("ppm", D.CONCENTRATION, 1.0), ("ppmv",)),
    (Unit("vol %", D.CONCENTRATION, 10_000.0), ("%", "% vol", "vol%", "%vol")),
    (Unit("% LEL", D.EXPLOSIVE, 1.0, 100.0), ("%lel", "lel %", "%")),
    (Unit("count", D.COUNT, 1.0), ()),
)

UNITS: dict[str, Unit] = {unit.name: unit for unit, _ in _ROWS}


def _spellings() -> dict[Dimension, dict[str, Unit]]:
    """For each dimension, every plain spelling with its unit."""
    table: dict[Dimension, dict[str, Unit]] = {dimension: {} for dimension in Dimension}
    for unit, others in _ROWS:
        for spelling in (unit.name.lower(), *others):
            table[unit.dimension][spelling] = unit
    table[D.LENGTH]["'"] = UNITS["ft"]
    table[D.LENGTH]['"'] = UNITS["in"]
    for dimension, degree in ((D.SLOPE, SLOPE_DEG), (D.ANGLE, UNITS["deg"])):
        table[dimension]["deg"] = degree
        table[dimension]["°"] = degree
    table[D.TEMPERATURE]["°f"] = UNITS["degF"]
    table[D.TEMPERATURE]["°c"] = UNITS["degC"]
    table[D.POWER]["btu/hr"] = UNITS["Btu/h"]
    table[D.SLOPE]["in per ft"] = UNITS["in/ft"]
    return table


_SPELLED = _spellings()

_SAME_WORDS = {
    "in": 'inch inches "',
    "ft": "foot feet '",
    "mm": "millimeter millimeters millimetre millimetres",
    "cm": "centimeter centimeters centimetre centimetres",
    "m": "meter meters metre metres",
    "l": "liter liters litre litres",
    "h": "hr hrs hour hours",
    "min": "mins minute minutes",
    "s": "sec secs second seconds",
    "d": "day days",
    "yr": "yrs year years",
    "deg": "degree degrees °",
    "f": "fahrenheit",
    "c": "celsius",
    "k": "kelvin",
    "btu": "btus",
    "pa": "pascal pascals",
    "w": "watt watts",
    "kw": "kilowatt kilowatts",
    "lb": "lbs pound pounds",
    "sq": "square",
    "cu": "cubic",
    "/": "per",
    "%": "percent",
}
_WORDS = {word: short for short, words in _SAME_WORDS.items() for word in words.split()}

_DOT = re.compile(r"(?<=[a-z])\.(?!\.)")
_JOIN = re.compile(r"(?<=[a-z0-9])\s*[*-]\s*(?=[a-z°])")
_POWER = re.compile(r"\^(?=[23])")
_WORD = re.compile(r"[a-z]+|[\"'°]")
_SLASH = re.compile(r"\s*/\s*")
_SQUARE = re.compile(r"\b(sq|cu) ([a-z]+)\b")
_DEGREE = re.compile(r"\bdeg ?([fck])\b")


def plain_spelling(text: str) -> str:
    """The unit text with spelling differences removed: ``Sq. Inches`` becomes ``in2``."""
    text = _JOIN.sub(" ", _DOT.sub("", text.lower()))
    text = _POWER.sub("", text)
    head, opened, tail = text.partition("/(")
    if opened and tail.endswith(")"):
        text = f"{head}/{tail[:-1]}"
    text = _WORD.sub(lambda found: _WORDS.get(found[0], found[0]), text)
    text = _SLASH.sub("/", " ".join(text.split()))
    text = _SQUARE.sub(lambda found: found[2] + ("2" if found[1] == "sq" else "3"), text)
    return _DEGREE.sub(r"deg\1", text)


def find_unit(text: str, dimension: Dimension) -> Unit | None:
    """The unit of this dimension that the text spells, or None."""
    table = _SPELLED[dimension]
    return table.get(text.lower()) or table.get(plain_spelling(text))


def find_elsewhere(text: str) -> Unit | None:
    """The unit of any dimension that the text spells, or None."""
    plain = plain_spelling(text)
    found = [table[plain] for table in _SPELLED.values() if plain in table]
    return next((unit for unit in found if unit is not SLOPE_DEG), None)


def unit_named(name: str) -> Unit:
    """The unit of exactly this name.

    Raises:
        BadQuantity: the name is not in the table.
    """
    try:
        return UNITS[name]
    except KeyError:
        known = ", ".join(UNITS)
        raise BadQuantity(f'"{name}" is not the name of a unit. Write one of: {known}.') from None


def to_unit(value: float, unit: str) -> float:
    """The SI value as a number of the named unit.

    >>> round(to_unit(0.4445, "in"), 6)
    17.5
    """
    return unit_named(unit).number(value)


def from_unit(value: float, unit: str) -> float:
    """The number of the named unit as an SI value.

    >>> from_unit(17.5, "in")
    0.4445
    """
    return unit_named(unit).si(value)


def difference_to_unit(value: float, unit: str) -> float:
    """An SI difference (tolerance, margin) as a number of the named unit.

    Differs from `to_unit` for temperatures alone: 10 K is 18 degF as a difference.
    """
    return unit_named(unit).number_of_difference(value)


def difference_from_unit(value: float, unit: str) -> float:
    """A difference given in the named unit as an SI difference."""
    return unit_named(unit).si_difference(value)
