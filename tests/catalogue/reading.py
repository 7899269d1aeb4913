"""How a fact of the catalogue is read off the facts of the product.

A ``Read`` names the product's facts that it needs, each with what it may be drawn from, and works
out the catalogue's value. Factors are written here anew, not taken from the product.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random

from tests.catalogue.values import NONE, UNKNOWN, Perhaps, Value

from fluewright.facts import FactValue, Unknown
from fluewright.quantity import Dimension, Measured
from fluewright.survey import ABSENT

D = Dimension
# unit: dimension, SI value of one of it, and what is added before
UNITS: dict[str, tuple[Dimension, float, float]] = {
    "in": (D.LENGTH, 0.0254, 0.0),
    "ft": (D.LENGTH, 0.3048, 0.0),
    "in2": (D.AREA, 0.0254**2, 0.0),
    "ft3": (D.VOLUME, 0.3048**3, 0.0),
    "Btu/h": (D.POWER, 1055.05585262 / 3600, 0.0),
    "deg": (D.ANGLE, 1.0, 0.0),
    "deg F": (D.TEMPERATURE, 5 / 9, -32.0),
    "in/ft": (D.SLOPE, 1 / 12, 0.0),
    "/12": (D.SLOPE, 1 / 12, 0.0),
    "ratio": (D.SLOPE, 1.0, 0.0),
    "count": (D.COUNT, 1.0, 0.0),
    "1/h": (D.RATE, 1 / 3600, 0.0),
    "cfm": (D.FLOW, 0.3048**3 / 60, 0.0),
    "Pa": (D.PRESSURE, 1.0, 0.0),
    "s": (D.TIME, 1.0, 0.0),
    "ppm": (D.CONCENTRATION, 1.0, 0.0),
    "% LEL": (D.EXPLOSIVE, 0.01, 0.0),
    "lb/ft3": (D.DENSITY, 0.45359237 / 0.3048**3, 0.0),
    "Btu-in/(h ft2 F)": (D.CONDUCTIVITY, 1055.05585262 / 3600 * 0.0254 / 0.3048**2 * 1.8, 0.0),
    "h ft2 F/Btu": (D.RESISTANCE, 3600 / 1055.05585262 * 0.3048**2 / 1.8, 0.0),
}


@dataclass(frozen=True, slots=True)
class Flag:
    """A yes-or-no fact."""


@dataclass(frozen=True, slots=True)
class Number:
    """A measured fact, drawn in a unit; ``signed`` where it may be below zero.

    ``whole`` is a count, ``sized`` a diameter that is a table size.
    """

    unit: str
    signed: bool = False
    whole: bool = False
    sized: bool = False


@dataclass(frozen=True, slots=True)
class Word:
    """A fact that is one of these words."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """A fact that is a list of these words; ``?`` is one nobody could tell."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Made:
    """A structure that has a maker of its own, and the numbers in it at which limits lie."""

    make: Callable[[Random], FactValue]
    numbers: Callable[[FactValue], list[tuple[float, str]]]


Kind = Flag | Number | Word | Words | Made
Get = Callable[[str], FactValue]


@dataclass(frozen=True, slots=True)
class Read:
    """What is needed of the product's facts, and how the catalogue's value comes of it."""

    needs: Mapping[str, Kind]
    of: Callable[[Get], Value]


def si(number: float, unit: str) -> float:
    """A number of a unit in SI."""
    _, factor, shift = UNITS[unit]
    return (number + shift) * factor


def in_unit(value: float, unit: str) -> float:
    """An SI value as a number of a unit."""
    _, factor, shift = UNITS[unit]
    return value / factor - shift


def number_of(value: FactValue, unit: str) -> Value:
    """A measure as a number of a unit."""
    if isinstance(value, Unknown):
        return UNKNOWN
    if value is ABSENT:
        return NONE
    if not isinstance(value, Measured) or value.dimension is not UNITS[unit][0]:
        raise TypeError(f"{value!r} is no measure in {unit}")
    return in_unit(value.value, unit)


def num(name: str, unit: str, signed: bool = False, whole: bool = False) -> Read:
    """A measured fact."""
    return Read({name: Number(unit, signed, whole)}, lambda get: number_of(get(name), unit))


def flag(name: str) -> Read:
    """A yes-or-no fact; what is absent is not so."""

    def of(get: Get) -> Value:
        value = get(name)
        if isinstance(value, Unknown):
            return UNKNOWN
        return NONE if value is ABSENT else value is True

    return Read({name: Flag()}, of)


def negative(name: str) -> Read:
    """The opposite of a yes-or-no fact."""
    inner = flag(name)

    def of(get: Get) -> Value:
        found = inner.of(get)
        return found if found is UNKNOWN else found is not True

    return Read(inner.needs, of)


def there(name: str, kind: Kind | None = None) -> Read:
    """Whether a thing was looked for and found."""

    def of(get: Get) -> Value:
        value = get(name)
        if isinstance(value, Unknown):
            return UNKNOWN
        return value is not ABSENT and value != ()

    return Read({name: kind or Word(("there",))}, of)


def somewhere(name: str) -> Read:
    """Whether a fault is at some place."""

    def of(get: Get) -> Value:
        value = get(name)
        if isinstance(value, Unknown):
            return UNKNOWN
        if value is ABSENT or value == ():
            return False
        return True if isinstance(value, tuple) and set(value) != {"?"} else UNKNOWN

    return Read({name: Words(("p1", "p2"))}, of)


def word(name: str, words: Mapping[str, str] | tuple[str, ...]) -> Read:
    """A word, put into the catalogue's."""
    turned = words if isinstance(words, Mapping) else {w: w for w in words}

    def of(get: Get) -> Value:
        value = get(name)
        if isinstance(value, Unknown) or value == "?":
            return UNKNOWN
        if value is ABSENT:
            return NONE
        if isinstance(value, bool):
            return value
        return turned.get(str(value), str(value))

    return Read({name: Word(tuple(turned))}, of)


def words(name: str, translated: Mapping[str, str] | tuple[str, ...]) -> Read:
    """A list of words, each put into the catalogue's."""
    turned = translated if isinstance(translated, Mapping) else {w: w for w in translated}

    def one(item: str) -> Value:
        if item == "?":
            return UNKNOWN
        if item.endswith("?"):
            return Perhaps(turned.get(item[:-1], item[:-1]))
        return turned.get(item, item)

    def of(get: Get) -> Value:
        value = get(name)
        if isinstance(value, Unknown):
            return UNKNOWN
        if value is ABSENT:
            return NONE
        if not isinstance(value, tuple):
            raise TypeError(f"{name} is {value!r}, no list")
        return tuple(one(item) for item in value)

    return Read({name: Words(tuple(turned))}, of)


def fixed(value: Value) -> Read:
    """Always the same: what the edition or the scope of the program settles."""
    return Read({}, lambda get: value)


def bore_area(name: str) -> Read:
    """Inside area of a round pipe from its diameter. [in2]"""

    def of(get: Get) -> Value:
        bore = number_of(get(name), "in")
        return 3.141592653589793 / 4 * bore * bore if isinstance(bore, float) else bore

    return Read({name: Number("in")}, of)


def worked(of: Callable[[Get], Value], **needs: Kind) -> Read:
    """A value worked out of several facts."""
    return Read(needs, of)
