"""Numbers as sentences say them: one reading, its limit, and how far apart they are."""

from __future__ import annotations

from functools import cache

from fluewright.finding import Comparison, Sense
from fluewright.quantity import (
    Dimension,
    Measured,
    Style,
    difference_to_unit,
    show,
    show_difference,
    to_unit,
)


def said(value: float, dimension: Dimension, style: Style = "us") -> str:
    """A number as people write it."""
    if dimension is Dimension.COUNT and abs(value - round(value)) < 1e-9:
        return str(round(value))
    return show(value, dimension, style)


def reading(measured: Measured, style: Style = "us") -> str:
    """A reading with its tolerance, where it has one."""
    text = said(measured.value, measured.dimension, style)
    if measured.tolerance <= 1e-12:
        return text
    bound = show_difference(measured.tolerance, measured.dimension, style, up=True)
    return f"{text} ± {bound}"


def gap(margin: Measured, style: Style = "us") -> str:
    """How far a reading is from its limit, without sign."""
    if margin.dimension is Dimension.COUNT:
        return said(abs(margin.value), margin.dimension, style)
    return show_difference(abs(margin.value), margin.dimension, style)


_MARKS = ("{measured}", "{limit}", "{bound}", "{gap}")


def in_words(found: Comparison | None, style: Style = "us") -> dict[str, str]:
    """The numbers of a comparison by the marks that stand for them in a rule's sentence."""
    if found is None:
        return {}
    limit = said(found.limit.value, found.dimension, style)
    side = "at least" if found.limit.sense is Sense.AT_LEAST else "at most"
    return {
        "measured": reading(found.measured, style),
        "limit": limit,
        "bound": f"{side} {limit}",
        "gap": gap(found.margin, style),
    }


@cache  # as many as the rules hold
def _wants_number(template: str) -> bool:
    return any(mark in template for mark in _MARKS)


def filled(template: str, name: str, words: dict[str, str], places: tuple[str, ...] = ()) -> str:
    """A rule's sentence with name and numbers; empty when a number is wanted and none decided."""
    if not words and _wants_number(template):
        return ""
    where = f" at {', '.join(places)}" if places else ""
    return template.format(name=name, where=where, **words)


def numbers(found: Comparison) -> dict[str, dict[str, object]]:
    """Reading, limit and margin in the limit's printed unit, as JSON carries them."""
    unit = found.limit.unit or _plain_unit(found.dimension)
    return {
        "measured": {
            "value": round(to_unit(found.measured.value, unit), 6),
            "unit": unit,
            "tolerance": round(difference_to_unit(found.measured.tolerance, unit), 6),
        },
        "limit": {
            "value": round(to_unit(found.limit.value, unit), 6),
            "unit": unit,
            "sense": found.limit.sense.value,
        },
        "margin": {
            "value": round(difference_to_unit(found.margin.value, unit), 6),
            "unit": unit,
            "tolerance": round(difference_to_unit(found.margin.tolerance, unit), 6),
        },
    }


PLAIN_UNITS = {
    Dimension.LENGTH: "in",
    Dimension.SLOPE: "in/ft",
    Dimension.AREA: "in2",
    Dimension.CONCENTRATION: "ppm",
    Dimension.EXPLOSIVE: "% LEL",
    Dimension.TIME: "s",
    Dimension.VOLUME: "ft3",
    Dimension.FLOW: "cfm",
    Dimension.RATE: "ACH",
    Dimension.POWER: "kBtu/h",
    Dimension.PRESSURE: "Pa",
    Dimension.TEMPERATURE: "degF",
    Dimension.COUNT: "count",
    Dimension.ANGLE: "deg",
    Dimension.DENSITY: "lb/ft3",
    Dimension.CONDUCTIVITY: "Btu in/(h ft2 F)",
    Dimension.RESISTANCE: "h ft2 F/Btu",
}


METRIC_UNITS = {
    Dimension.LENGTH: "mm",
    Dimension.SLOPE: "mm/m",
    Dimension.AREA: "cm2",
    Dimension.CONCENTRATION: "ppm",
    Dimension.EXPLOSIVE: "% LEL",
    Dimension.TIME: "s",
    Dimension.VOLUME: "m3",
    Dimension.FLOW: "L/s",
    Dimension.RATE: "ACH",
    Dimension.POWER: "kW",
    Dimension.PRESSURE: "Pa",
    Dimension.TEMPERATURE: "degC",
    Dimension.COUNT: "count",
    Dimension.ANGLE: "deg",
    Dimension.DENSITY: "kg/m3",
    Dimension.CONDUCTIVITY: "W/(m K)",
    Dimension.RESISTANCE: "m2 K/W",
}


def _plain_unit(dimension: Dimension) -> str:
    return PLAIN_UNITS[dimension]
