"""Refusing a quantity: one plain sentence on what is wrong, one on what to write instead."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from fluewright.errors import BadQuantity
from fluewright.frozen import frozen
from fluewright.units import Dimension, Unit, find_elsewhere, from_unit, plain_spelling

D = Dimension

# what to call a thing of the dimension, an example of it, an example of a tolerance
_SAYING: dict[Dimension, tuple[str, str, str]] = {
    D.LENGTH: ("a length", "17 1/2 in, 6 ft 3 in or 445 mm", "17 1/2 in ± 1/8 in"),
    D.SLOPE: ("a slope", "1/4 in per ft, 7/12 or 2 %", "1/4 in per ft ± 0.05 in per ft"),
    D.ANGLE: ("an angle", "45 deg", "45 deg ± 1 deg"),
    D.AREA: ("an area", "96 in2 or 620 cm2", "96 in2 ± 4 in2"),
    D.VOLUME: ("a volume", "620 ft3 or 17.6 m3", "620 ft3 ± 20 ft3"),
    D.POWER: ("a heat rate", "40,000 Btu/h or 11.7 kW", "40,000 Btu/h ± 2 %"),
    D.PRESSURE: ("a pressure", "-0.012 in w.c. or -3 Pa", "-3 Pa ± 0.3 Pa"),
    D.TEMPERATURE: ("a temperature", "24 degF or -4.4 degC", "24 degF ± 2 degF"),
    D.FLOW: ("a flow", "30 cfm or 14 L/s", "30 cfm ± 3 cfm"),
    D.RATE: ("an air change rate", "0.35 ACH or 0.35 per h", "0.35 ACH ± 0.05 ACH"),
    D.TIME: ("a time", "5 min or 90 s", "5 min ± 2 s"),
    D.DENSITY: ("a density", "8 lb/ft3 or 128 kg/m3", "8 lb/ft3 ± 1 lb/ft3"),
    D.CONDUCTIVITY: (
        "a conductivity",
        "0.29 Btu in/(h ft2 F) or 0.042 W/(m K)",
        "0.042 W/(m K) ± 5 %",
    ),
    D.RESISTANCE: ("a thermal resistance", "R-8 or 1.4 m2 K/W", "R-8 ± 0.5 h ft2 F/Btu"),
    D.CONCENTRATION: ("a concentration", "9 ppm", "9 ppm ± 2 ppm"),
    D.EXPLOSIVE: ("a share of the explosive limit", "5 % LEL", "5 % LEL ± 2 % LEL"),
    D.COUNT: ("a count", "3", "3 ± 1"),
}

# the same number in either unit: which one was read, only the writer knows
_EITHER: dict[Dimension, tuple[str, ...]] = {
    D.ANGLE: ("deg",),
    D.AREA: ("in2", "cm2"),
    D.VOLUME: ("ft3", "m3"),
    D.POWER: ("Btu/h", "kW"),
    D.PRESSURE: ("Pa", "in w.c."),
    D.TEMPERATURE: ("degF", "degC"),
    D.FLOW: ("cfm", "L/s"),
    D.RATE: ("ACH",),
    D.TIME: ("min", "s"),
    D.DENSITY: ("lb/ft3", "kg/m3"),
    D.CONDUCTIVITY: ("Btu in/(h ft2 F)", "W/(m K)"),
    D.RESISTANCE: ("h ft2 F/Btu", "m2 K/W"),
    D.CONCENTRATION: ("ppm",),
    D.EXPLOSIVE: ("% LEL",),
}

# unit word (plain spelling) -> why it is refused, and the units to write instead
_REFUSED: dict[str, tuple[str, str]] = {
    "f": ("has the unit F, which is not a temperature here", "{n} degF"),
    "c": ("has the unit C, which is not a temperature here", "{n} degC"),
    "btu": ("is an amount of heat, where heat per hour is expected", "{n} Btu/h"),
    "kbtu": ("is an amount of heat, where heat per hour is expected", "{n} kBtu/h"),
} | dict.fromkeys(
    ("mbh", "mbtu", "mbtu/h", "mbtuh"),
    ("has a unit that some read as thousands and some as millions", "{n} kBtu/h for thousands"),
)
_GAUGE = frozenset({"ga", "gauge", "gage", "gauges", "g"})

# Patterns stay texts: one is compiled when a refusal first needs it, not on import.
_ROUGH = (
    r"(?i:about|approx\w*\.?|circa|ca\.?|around|roughly|nearly|almost|some|over|under|at least"
    r"|at most|up to|less than|more than|max\w*\.?|min\w*\.?|[~≈<>≤≥])(?![a-zA-Z])\s*"
)
_COMMA = r"[+-]?(?P<head>[0-9][0-9.,]*,[0-9.,]*)(?P<rest>.*)"
_ENDLESS = r"(?i:[+-]?\s?(?:nan|inf|infinity)\b|[+-]?∞)"
_EXPONENT = r"[+-]?[0-9.,]+[eE][+-]?[0-9]+"
_RANGE = (
    r"(?:-|to\b|\.\.+)\s?"
    r"(?P<top>[0-9][0-9,]*(?:\.[0-9]+)?(?:[ -][0-9]+/[0-9]+|/[0-9]+)?)\s?(?P<word>.*)"
)
_RANGE_OF_UNITS = r"[^0-9]+?\s?(?:-|\bto\b)\s?[0-9].*"
_SPACED = r"(?P<groups>[0-9]{3}(?: [0-9]{3})*)(?: ?(?P<word>[^0-9/. ].*))?"
_LOOSE_FRACTION = r"-\s?(?P<fraction>[0-9]+/[0-9]+)\s?(?P<word>.*)"


@frozen
class Asked:
    """The text under question, as it is quoted, and what it should have been."""

    shown: str
    dimension: Dimension
    tolerance: bool = False

    @property
    def kind(self) -> str:
        """The dimension in words: ``a length``."""
        return _SAYING[self.dimension][0]

    @property
    def example(self) -> str:
        """What a person may write."""
        kind, plain, bounded = _SAYING[self.dimension]
        if self.tolerance:
            return f"{kind} with its tolerance such as {bounded}"
        return f"{kind} such as {plain}"

    def bad(self, why: str, write: str | None = None) -> BadQuantity:
        """The refusal: the text, what is wrong with it, what to write."""
        kept = self.shown if len(self.shown) <= 60 else self.shown[:57] + "..."
        where = f'the tolerance "{kept}"' if self.tolerance else f'"{kept}"'
        advice = f"Write {write or self.example}".removesuffix(".")
        said = f"{where} {why}. {advice}."
        return BadQuantity("".join(letter if letter.isprintable() else "?" for letter in said))

    def improper(self, lead: str, top: str, bottom: int, word: str) -> BadQuantity:
        """A fraction of one or more, such as 11/2 for 1 1/2."""
        sign = "-" if lead.startswith("-") else ""
        total = Fraction(int(top), bottom) + int(lead.lstrip("+-") or 0)
        write = f"{sign}{_mixed(total)} {word}".rstrip()
        if not lead.lstrip("+-") and len(top) > 1 and 0 < int(top[1:]) < bottom:
            write += f" or {sign}{top[0]} {top[1:]}/{bottom} {word}, whichever is meant"
        return self.bad("has a fraction that is not below 1", write)

    def unclear_comma(self, number: str, word: str) -> BadQuantity:
        """``1,125 in``: thousands to one reader, a decimal point to another."""
        whole, part = number.replace(",", ""), number.replace(",", ".")
        write = f"{whole} {word} or {part} {word}, whichever is meant"
        return self.bad("has a comma that could be a decimal point", write)

    def two_values(self, unit: Unit) -> BadQuantity:
        """``5 in - 6 in``: the same unit twice."""
        return self.bad(f'has two values in "{unit.name}"', _bounded(self))

    def no_last_unit(self, number: str, first: Unit, last: str) -> BadQuantity:
        """``5'6``: a number at the end with nothing behind it."""
        small = {"ft": "in", "h": "min", "min": "s"}.get(first.name)
        write = f"{number.strip()} {first.name} {last.strip()} {small}" if small else None
        return self.bad("has no unit after its last number", write)

    def wrong_order(self, number: str, first: Unit, last: str, second: Unit) -> BadQuantity:
        """``5 in 3 ft``: the smaller unit first."""
        write = f"{last.strip()} {second.name} {number.strip()} {first.name}"
        return self.bad(f'has "{first.name}" before "{second.name}"', write)

    def broken_larger(
        self, number: float, first: Unit, smaller: float, second: Unit, many: int
    ) -> BadQuantity:
        """``3.5 ft 2 in``: a part of a foot, and inches besides."""
        write = _paired(number, first, smaller, second, many)
        return self.bad(f'has a fraction of "{first.name}" and "{second.name}" besides', write)

    def too_many(
        self, number: float, first: Unit, smaller: float, second: Unit, many: int
    ) -> BadQuantity:
        """``3' 14"``: the smaller part makes a whole larger one."""
        write = _paired(number, first, smaller, second, many)
        name = second.name
        why = f"has {_short(smaller)} {name} where less than {many} {name} is expected"
        return self.bad(why, write)


def why_no_number(asked: Asked, text: str) -> BadQuantity:
    """The refusal of a text in which no number could be read at the start."""
    if not text:
        return asked.bad("has nothing before ±")
    if re.match(_ENDLESS, text):
        return asked.bad("is not a number that can be read off anything")
    rough = re.match(_ROUGH, text)
    if rough is not None:
        return asked.bad(
            f'has "{rough[0].strip()}" in it, which is not a measure of how far off it may be',
            _bounded(asked),
        )
    if re.match(_EXPONENT, text):
        return asked.bad("has an exponent in its number; digits are expected")
    comma = re.match(_COMMA, text)
    if comma is not None:
        return _misplaced_comma(asked, text, comma)
    if text[:1].isdigit():
        return asked.bad("has a number that is not clear")
    return asked.bad("does not start with a number")


def _misplaced_comma(asked: Asked, text: str, comma: re.Match[str]) -> BadQuantity:
    """The refusal of a comma that does not stand before a group of three digits."""
    head = comma["head"].rstrip(",.")
    whole, _, part = head.rpartition(",")
    why = "has a comma that does not stand before three digits"
    if not part.isdigit() or not whole.replace(".", "").replace(",", "").isdigit():
        return asked.bad(why)
    sign = "-" if text.startswith("-") else ""
    point = f"{sign}{whole.replace('.', '').replace(',', '')}.{part}"
    return asked.bad(why, f"{point}{comma['rest']} if a decimal point is meant")


def why_no_unit(asked: Asked, number_text: str, number: float, word: str) -> BadQuantity:
    """The refusal of a number whose unit is missing, unknown, or of another dimension."""
    number_text = number_text.strip()
    if not word:
        return asked.bad("has no unit", _with_a_unit(asked.dimension, number_text, number))
    plain = plain_spelling(word)
    if plain in _GAUGE and asked.dimension is D.LENGTH:
        return asked.bad(
            "is a gauge, which is another thickness for every metal",
            "the thickness that was measured, such as 0.018 in",
        )
    if plain in _REFUSED and asked.dimension in (D.POWER, D.TEMPERATURE):
        why, write = _REFUSED[plain]
        return asked.bad(why, write.format(n=number_text))
    if plain == "deg" and asked.dimension is D.TEMPERATURE:
        write = f"{number_text} degF or {number_text} degC, whichever was read"
        return asked.bad("does not say which degrees", write)
    if plain == "%":
        return asked.bad(f"is a percentage; {asked.kind} is expected")
    if word.startswith(":"):
        return asked.bad("is a ratio over something else than 12")
    other = find_elsewhere(word)
    if other is not None:
        return asked.bad(f"is {_SAYING[other.dimension][0]}; {asked.kind} is expected")
    return _range(asked, number_text, number, word) or _strange(asked, number_text, word)


def _range(asked: Asked, number_text: str, number: float, word: str) -> BadQuantity | None:
    """The refusal of ``5-6 in`` and of ``17 - 1/2 in``; None when it is neither."""
    loose = re.fullmatch(_LOOSE_FRACTION, word)
    if loose is not None and number_text.isdigit() and number >= 1.0:
        write = f"{number_text} {loose['fraction']} {loose['word']}".rstrip()
        return asked.bad("could be one number or two", f"{write} if it is one number")
    found = re.fullmatch(_RANGE, word)
    if found is None:
        if re.fullmatch(_RANGE_OF_UNITS, word):
            return asked.bad("looks like a range", _bounded(asked))
        return None
    low, high = Fraction(number).limit_denominator(10**6), _fraction(found["top"])
    unit = found["word"]
    if high is None or high <= low or not unit:
        return asked.bad("looks like a range", _bounded(asked))
    middle, half = (low + high) / 2, (high - low) / 2
    return asked.bad("is a range", f"{_mixed(middle)} {unit} ± {_mixed(half)} {unit}")


def _bounded(asked: Asked) -> str:
    """Advice to write the reading with its tolerance."""
    return f"the reading with its tolerance such as {_SAYING[asked.dimension][2]}"


def _strange(asked: Asked, number_text: str, word: str) -> BadQuantity:
    """The refusal of what follows the number when nothing better can be said."""
    groups = re.fullmatch(_SPACED, word)
    if groups is not None and re.fullmatch("[+-]?[0-9]{1,3}", number_text):
        whole = "".join([number_text, *groups["groups"].split()])
        return asked.bad(
            "has a space inside its number", f"{whole} {groups['word'] or ''}".rstrip()
        )
    if word[0].isdigit():
        return asked.bad(f'has a second number after "{number_text}"')
    return asked.bad(f'has the unit "{word}", which is not known here')


def _with_a_unit(dimension: Dimension, text: str, number: float) -> str | None:
    """The number with each unit that may have been meant."""
    if dimension is D.LENGTH:
        return f"{text} in or {math.floor(from_unit(number, 'in') * 1000.0 + 0.5)} mm"
    if dimension is D.SLOPE:
        return f"{text} in per ft, {text} %, or {_short(12.0 * number)}/12 if it is rise over run"
    units = _EITHER.get(dimension)
    if units is None:
        return None
    return " or ".join(f"{text} {unit}" for unit in units) + (
        ", whichever was read" if len(units) > 1 else ""
    )


def _paired(number: float, first: Unit, smaller: float, second: Unit, many: int) -> str:
    """The two parts set right: ``3' 14"`` becomes ``4 ft 2 in``."""
    total = abs(Fraction(number).limit_denominator(10**6)) * many
    total += Fraction(smaller).limit_denominator(10**6)
    whole, rest = divmod(total, many)
    sign = "-" if number < 0.0 else ""
    return f"{sign}{whole} {first.name}" + (f" {_mixed(rest)} {second.name}" if rest else "")


def _fraction(text: str) -> Fraction | None:
    """The exact value of ``6``, ``6.5``, ``3/4`` or ``6 1/2``; None for a division by zero."""
    try:
        return sum(
            (Fraction(part) for part in re.split("[ -]", text.replace(",", ""))), Fraction(0)
        )
    except ZeroDivisionError:
        return None


def _mixed(value: Fraction) -> str:
    """``17 1/2`` for a value that a tape shows, else a decimal."""
    if value.denominator in (1, 2, 4, 8, 16, 32, 64):
        whole, rest = divmod(value, 1)
        return " ".join([str(whole)] * (whole > 0 or not rest) + [str(rest)] * (rest > 0))
    return _short(float(value))


def _short(number: float) -> str:
    """A plain decimal without needless zeros."""
    return f"{number:.6f}".rstrip("0").rstrip(".")
