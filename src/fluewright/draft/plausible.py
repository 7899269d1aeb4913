"""Refuses figures that no vent, flame or weather can have, before anything is computed."""

from __future__ import annotations

from fluewright.draft.system import Around, Flue, Lone, Segment
from fluewright.errors import OutOfRange


def refuse(system: Lone) -> None:
    """Raises where a figure is not one that a vent can have.

    Args:
        system: what is to be solved.
    Raises:
        OutOfRange: it names the segment or field, what was found and what is allowed.
    """
    if not system.segments:
        raise OutOfRange("draft: no segments. Describe at least one between hood and cap.")
    for segment in system.segments:
        refuse_segment(segment)
    refuse_flue(system.flue)
    refuse_around(system.around)
    _within("cap_loss", system.cap_loss, -1.0, 1e6)
    if system.hood is not None:
        _within("hood.relief_m2", system.hood.relief_m2, 1e-9, 10.0)
        _within("hood.plume_m", system.hood.plume_m, 0.0, 3.0)


def refuse_segment(segment: Segment) -> None:
    """Raises where a segment cannot be.

    Args:
        segment: one stretch.
    Raises:
        OutOfRange: it names the segment and the field.
    """
    place = f"segment {segment.name}: "
    _within(f"{place}length_m", segment.length_m, 0.0, 1e5)
    _within(f"{place}diameter_m", segment.diameter_m, 1e-4, 100.0)
    _within(f"{place}ambient_k", segment.ambient_k, 150.0, 1500.0)
    _within(f"{place}u_w_m2k", segment.u_w_m2k, 0.0, 1e5)
    _within(f"{place}entry_loss", segment.entry_loss, -1.0, 1e9)
    _within(f"{place}roughness_m", segment.roughness_m, 0.0, segment.diameter_m)
    _within(f"{place}darcy", segment.darcy, 0.0, 100.0)
    if segment.area_m2 is not None:
        _within(f"{place}area_m2", segment.area_m2, 1e-8, 1e4)
    reach = segment.length_m * (1.0 + 1e-9) + 1e-9
    _within(f"{place}rise_m", segment.rise_m, -reach, reach)


def refuse_flue(flue: Flue) -> None:
    """Raises where an appliance cannot give off such gas.

    Args:
        flue: the gas before dilution.
    Raises:
        OutOfRange: it names the field.
    """
    _within("flue.mass_kg_s", flue.mass_kg_s, 0.0, 1e4)
    _within("flue.temperature_k", flue.temperature_k, 200.0, 2500.0)
    _within("flue.molar_kg_kmol", flue.molar_kg_kmol, 10.0, 60.0)
    _within("flue.cp_j_kgk", flue.cp_j_kgk, 500.0, 3000.0)
    _within("flue.water", flue.water, 0.0, 0.9)
    _within("flue.co2_dry", flue.co2_dry, 0.0, 0.5)


def refuse_around(around: Around) -> None:
    """Raises where weather or house cannot be so.

    Args:
        around: one moment.
    Raises:
        OutOfRange: it names the field.
    """
    _within("around.outdoor_k", around.outdoor_k, 200.0, 350.0)
    _within("around.room_k", around.room_k, 200.0, 400.0)
    _within("around.air_pa", around.air_pa, 3e4, 1.2e5)
    _within("around.room_pa", around.room_pa, -1e4, 1e4)
    _within("around.cap_pa", around.cap_pa, -1e4, 1e4)
    _within("around.room_water", around.room_water, 0.0, 0.5)
    _within("around.outdoor_water", around.outdoor_water, 0.0, 0.5)


def _within(name: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:  # holds for no NaN; arrays go through as well
        raise OutOfRange(f"draft: {name} is {value:g}; {low:g} to {high:g} is allowed.")
