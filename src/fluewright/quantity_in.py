"""Reading quantities: the text a person writes becomes an SI value, or a refusal that says why.

What could be read in two ways is refused, never guessed: a wrong length here moves a vent.
"""

from __future__ import annotations

import math
import re

from fluewright.frozen import frozen
from fluewright.refusal import Asked, why_no_number, why_no_unit
from fluewright.units import (
    PERCENT_NAMES,
    SLOPE_DEG,
    THOUSANDS,
    UNITS,
    Dimension,
    Unit,
    find_elsewhere,
    find_unit,
)

D = Dimension


@frozen
class Parsed:
    """A quantity as written: SI value, SI half-width if one was written, and the unit's name.

    ``unit`` is a name of the unit table; feet with inches give ``in``, a pitch gives ``/12``.
    """

    value: float
    tolerance: float | None
    unit: str


_LONGEST = 100  # characters; the longest sensible text has about half as many
_MOST_DIGITS = 24

_SAME = str.maketrans(
    {
        "½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅕": " 1/5",
        "⅖": " 2/5", "⅗": " 3/5", "⅘": " 4/5", "⅙": " 1/6", "⅚": " 5/6", "⅐": " 1/7",
        "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⅑": " 1/9", "⅒": " 1/10",
        "\N{FRACTION SLASH}": "/", "\N{DIVISION SLASH}": "/", "\N{RATIO}": ":",
        "′": "'", "\N{LEFT SINGLE QUOTATION MARK}": "'", "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "″": '"', "“": '"', "”": '"',
        "−": "-", "–": "-", "\N{HYPHEN}": "-", "\N{NON-BREAKING HYPHEN}": "-",
        "·": "*", "⋅": "*", "×": "*", "²": "2", "³": "3", "₂": "2", "º": "°", "˚": "°",
    }
)  # fmt: skip

_PLUS_MINUS = re.compile(r"±|\+\s?/\s?-|\+-")
_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s?"
    r"(?:(?:(?P<whole>[0-9]+)(?:\s|-\s?))?(?P<top>[0-9]+)\s?/\s?(?P<bottom>[0-9]+)"
    r"|(?P<plain>(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+))"
    r"(?![0-9.,]|\s?/\s?[0-9]|[eE][+-]?[0-9])"
)
_PITCH = re.compile(
    r"(?P<rise>[+-]?\s?(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?))\s?[/:]\s?12"
)
_R_VALUE = re.compile(r"[rR]\s?-?\s?(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?)")
_RSI = re.compile(r"RSI\s?-?\s?(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?)")
_PERCENT = re.compile(
    r"(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})\s?(?:%|percent)", re.IGNORECASE
)
_TWO = re.compile(r"(?P<first>[A-Za-z.'\"]+)\s*-?\s*(?P<rest>\.?[0-9].*)")

# larger unit, smaller unit, how many of the smaller make one of the larger
_PAIRS = {("ft", "in"): 12, ("min", "s"): 60, ("h", "min"): 60}

_BELOW_ZERO = frozenset({D.LENGTH, D.SLOPE, D.ANGLE, D.PRESSURE, D.TEMPERATURE, D.FLOW})


def parse(text: str, dimension: Dimension) -> Parsed:
    """The quantity a person wrote, in SI units of the dimension.

    Args:
        text: a number with its unit and, if known, ``±`` and how far off it may be.
        dimension: what the number has to measure.

    Raises:
        BadQuantity: the text is not such a quantity, or could mean two things.

    >>> parse("17 1/2 in ± 1/8 in", Dimension.LENGTH)
    Parsed(value=0.4445, tolerance=0.003175, unit='in')
    """
    asked = Asked(" ".join(text.split()), dimension)
    plain = _plain(asked)
    if not plain:
        raise asked.bad("has nothing in it")
    parts = _PLUS_MINUS.split(plain)
    if len(parts) == 1:
        value, unit = _level(asked, plain)
        return Parsed(value, None, unit.name)
    if len(parts) > 2:
        raise asked.bad("has more than one ±")
    head, tail = parts[0].strip(), parts[1].strip()
    value, unit = _level(Asked(head, dimension) if head else asked, head)
    tolerance = _tolerance(Asked(tail, dimension, tolerance=True), tail, value, unit)
    return Parsed(value, tolerance, unit.name)


def parse_tolerance(text: str, dimension: Dimension) -> float:
    """The SI half-width that the text gives about zero: ``1/16 in``, ``2 degF``, ``0.2 deg``.

    Raises:
        BadQuantity: the text is not such a bound; a percentage is none, for want of a value.

    >>> parse_tolerance("1/8 in", Dimension.LENGTH)
    0.003175
    """
    asked = Asked(" ".join(text.split()), dimension, tolerance=True)
    return _tolerance(asked, _plain(asked), 0.0, None)


def _plain(asked: Asked) -> str:
    """The text with single spaces, and typographic marks as their plain letters."""
    if len(asked.shown) > _LONGEST:
        raise asked.bad("is too long for one quantity")
    shown = asked.shown
    plain = shown if shown.isascii() else " ".join(shown.translate(_SAME).split())
    return plain.replace("''", '"')


def _level(asked: Asked, text: str) -> tuple[float, Unit]:
    """The SI value of the text before any ±, checked for what its dimension allows."""
    number, unit = _amount(asked, text)
    if unit is SLOPE_DEG:
        if abs(number) >= 90.0:
            raise asked.bad("is upright or past it, which is no slope")
        value = math.tan(math.radians(number))
    else:
        value = unit.si(number)
    if value < 0.0 and asked.dimension not in _BELOW_ZERO:
        raise asked.bad(f"is below zero, which {asked.kind} cannot be")
    if asked.dimension is D.TEMPERATURE and value < -273.15:
        raise asked.bad("is below absolute zero")
    if asked.dimension is D.COUNT and not value.is_integer():
        raise asked.bad("is not a whole number")
    return value + 0.0, unit  # + 0.0 makes -0.0 plain zero


def _amount(asked: Asked, text: str) -> tuple[float, Unit]:
    """The number and its unit as written, before the unit is applied."""
    special = _without_unit(asked, text)
    if special is not None:
        return special
    found = _NUMBER.match(text)
    if found is None:
        raise why_no_number(asked, text)
    number = _number(asked, found, text[found.end() :].strip())
    word = text[found.end() :].strip()
    if not word and asked.dimension is D.COUNT:
        return number, UNITS["count"]
    unit = find_unit(word, asked.dimension) if word else None
    if unit is not None:
        digits = found["plain"] or ""
        if digits.count(",") == 1 and "." not in digits and unit.name not in THOUSANDS:
            raise asked.unclear_comma(found[0].strip(), word)
        return number, unit
    two = _TWO.fullmatch(word)
    if two is not None and find_elsewhere(word) is None:
        first = find_unit(two["first"], asked.dimension)
        if first is not None:
            return _pair(asked, found, number, first, two["rest"])
    raise why_no_unit(asked, text[: found.end()], number, word)


def _without_unit(asked: Asked, text: str) -> tuple[float, Unit] | None:
    """What carries no unit word: a pitch such as 7/12 as a slope, R-8 as a resistance."""
    if asked.dimension is D.SLOPE:
        pitch = _PITCH.fullmatch(text)
        rise = _NUMBER.fullmatch(pitch["rise"]) if pitch else None
        if rise is not None:
            return _number(asked, rise, "in per ft"), UNITS["/12"]
    elif asked.dimension is D.RESISTANCE:
        for pattern, name in ((_R_VALUE, "h ft2 F/Btu"), (_RSI, "m2 K/W")):
            found = pattern.fullmatch(text)
            if found is not None:
                return float(found["number"]), UNITS[name]
    return None


def _number(asked: Asked, found: re.Match[str], word: str) -> float:
    """The value of a matched number; ``word`` is the unit text, for the advice."""
    if len(found[0]) > _MOST_DIGITS:
        raise asked.bad("has too many digits")
    sign = -1.0 if found["sign"] == "-" else 1.0
    if found["plain"] is not None:
        return sign * float(found["plain"].replace(",", ""))
    whole, top, bottom = int(found["whole"] or 0), int(found["top"]), int(found["bottom"])
    if bottom == 0:
        raise asked.bad("divides by zero")
    if top >= bottom:
        raise asked.improper(found["sign"] + (found["whole"] or ""), found["top"], bottom, word)
    return sign * (whole + top / bottom)


def _pair(
    asked: Asked, found: re.Match[str], number: float, first: Unit, rest: str
) -> tuple[float, Unit]:
    """Feet with inches, hours with minutes, minutes with seconds, in the smaller unit."""
    inner = _NUMBER.match(rest)
    if inner is None:
        raise why_no_number(asked, rest)
    word = rest[inner.end() :].strip()
    smaller = _number(asked, inner, word)
    if not word:
        raise asked.no_last_unit(found[0], first, inner[0])
    second = find_unit(word, asked.dimension)
    if second is None:
        raise why_no_unit(asked, inner[0], smaller, word)
    if second is first:
        raise asked.two_values(first)
    many = _PAIRS.get((first.name, second.name))
    if many is None:
        if (second.name, first.name) in _PAIRS:
            raise asked.wrong_order(found[0], first, inner[0], second)
        raise asked.bad(f'puts "{first.name}" and "{second.name}" together')
    if not abs(number).is_integer():
        raise asked.broken_larger(number, first, smaller, second, many)
    if smaller >= many:
        raise asked.too_many(number, first, smaller, second, many)
    total = abs(number) * many + smaller
    return (-total if found["sign"] == "-" else total), second


def _tolerance(asked: Asked, text: str, value: float, unit: Unit | None) -> float:
    """The SI half-width that the text after ± gives for this value."""
    if not text:
        raise asked.bad("is missing after ±")
    if text[0] in "+-":
        raise asked.bad("has a sign of its own")
    percent = _PERCENT.fullmatch(text)
    if percent is not None:
        return _share(asked, float(percent["number"]), value, unit)
    number, own = _amount(asked, text)
    if own is not SLOPE_DEG:
        return own.si_difference(number)
    # A bound in degrees about a slope: the steeper side is the wider one.
    steepest = math.atan(abs(value)) + math.radians(number)
    if steepest >= math.pi / 2.0:
        raise asked.bad("reaches upright, which is no slope")
    return math.tan(steepest) - abs(value)


def _share(asked: Asked, percent: float, value: float, unit: Unit | None) -> float:
    """The half-width written as a percentage of the value."""
    if asked.dimension is D.TEMPERATURE:
        raise asked.bad("is a percentage of a temperature, which has no true zero here")
    if unit is not None and unit.name in PERCENT_NAMES:
        raise asked.bad("could be a percentage of the value or percentage points")
    if value == 0.0:
        raise asked.bad("is a percentage of zero")
    return abs(value) * percent / 100.0
