"""Scales and numbers of the draft figures: trade units first, SI beside them, or SI alone."""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.drawing.draft_words import ZERO_C, minus, pressure_words, temperature_words
from fluewright.drawing.plot.data import Also, Measure
from fluewright.drawing.words import Style
from fluewright.quantity import Dimension
from fluewright.quantity_out import show

FOOT_M, LB_KG, INCH_WC_PA = 0.3048, 0.45359237, 249.08891
U_UNIT = {"us": "Btu/(h ft² °F)", "metric": "W/(m² K)"}
BTU_H_FT2_F = 5.678263  # W/(m2 K) in one Btu/(h ft2 degF)
LONG_M = 3.0  # from here on a height is said in feet, below it in inches


@dataclass(frozen=True, slots=True)
class Scale:
    """SI numbers on a scale: shown = SI * times + plus."""

    measure: Measure
    times: float = 1.0
    plus: float = 0.0

    def of(self, value: float) -> float:
        """The number as the scale shows it."""
        return value * self.times + self.plus


def temperature(name: str, style: Style) -> Scale:
    """Kelvin as degrees Fahrenheit with Celsius beside, or as Celsius."""
    if style == "metric":
        return Scale(Measure(name=name, unit="°C"), 1.0, -ZERO_C)
    also = Also(unit="°C", times=1.0 / 1.8, plus=-32.0 / 1.8)
    return Scale(Measure(name=name, unit="°F", also=also), 1.8, 32.0 - 1.8 * ZERO_C)


def height(name: str, style: Style) -> Scale:
    """Meters as feet with meters beside, or as meters."""
    if style == "metric":
        return Scale(Measure(name=name, unit="m"))
    return Scale(Measure(name=name, unit="ft", also=Also(unit="m", times=FOOT_M)), 1.0 / FOOT_M)


def pressure(name: str, style: Style) -> Scale:
    """Pascals, with inches of water beside them for the trade."""
    if style == "metric":
        return Scale(Measure(name=name, unit="Pa"))
    return Scale(Measure(name=name, unit="Pa", also=Also(unit="in w.c.", times=1.0 / INCH_WC_PA)))


def flow(name: str, style: Style) -> Scale:
    """Kilograms a second as pounds an hour, or as grams a second."""
    if style == "metric":
        return Scale(Measure(name=name, unit="g/s"), 1000.0)
    return Scale(Measure(name=name, unit="lb/h"), 3600.0 / LB_KG)


def bore_words(diameter_m: float, area_m2: float | None, style: Style) -> str:
    """The size of a pipe: its diameter, or the area of what is not round."""
    if area_m2 is None:
        return show(diameter_m, Dimension.LENGTH, style)
    return show(area_m2, Dimension.AREA, style)


def input_words(name: str, value: float, unit: str, style: Style) -> str:
    """An input as a person says it, such as ``82 %`` or ``U 0.66`` (see `U_UNIT`)."""
    if name.startswith("reading."):
        return "all too long" if value > 0 else "all too short" if value < 0 else "as read"
    if unit in ("W/W", "mol/mol") or name in ("flue.rate_to_plate", "room.humidity"):
        return f"{100.0 * value:.3g} %"
    if unit == "K":
        return temperature_words(value, style)
    if unit == "Pa":
        return pressure_words(value, style)
    if unit == "m2":
        return minus(show(value, Dimension.AREA, style))
    if unit == "m":
        return _length(value, style)
    if unit == "W/(m2 K)":
        return f"U {value / BTU_H_FT2_F:.2f}" if style == "us" else f"U {value:.1f}"
    number = minus(f"{value:.3g}")
    return number if unit == "1" else f"{number} {unit}"


def _length(value: float, style: Style) -> str:
    if style == "metric":
        return minus(f"{value:,.0f} m" if abs(value) >= 10.0 * LONG_M else f"{value:.3g} m")
    if abs(value) >= 10.0 * LONG_M:
        return minus(f"{value / FOOT_M:,.0f} ft")
    if abs(value) >= LONG_M:
        return minus(f"{value / FOOT_M:.3g} ft")
    return minus(f"{12.0 * value / FOOT_M:.3g} in")
