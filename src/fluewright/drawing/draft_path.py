"""The path of the gas with what the engine finds along it, ready to be drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.draft.assess import Assessment
from fluewright.draft.from_survey import Modelled
from fluewright.draft.solve import Operating, wall_temperature
from fluewright.draft.solve import Station as Stretch
from fluewright.draft.survey_model.stretch import Stretch as Piece
from fluewright.draft.system import (
    AIR_KG_KMOL,
    GAS_CONSTANT_J_KMOL_K,
    GRAVITY_M_S2,
    WATER_KG_KMOL,
    Around,
    Segment,
)
from fluewright.drawing import draft_units as units
from fluewright.drawing.draft_words import (
    answer_words,
    conditions_words,
    is_danger,
    temperature_words,
)
from fluewright.drawing.plot.data import AlongThePath, Corner, Size, Station
from fluewright.drawing.words import WALL_WORDS, Style

PARTS = 6  # straight parts that the curve of a stretch is drawn in
NOTHING_PA = 0.05  # a pressure below it is none: no gauge shows it
WALLS = {  # what the engine takes for a wall, and how the drawing shows it
    "wall_u.single_galvanized": "single",
    "wall_u.single_aluminum": "single",
    "wall_u.type_b": "type_b",
    "wall_u.type_b_half_inch": "listed_connector",
    "wall_u.factory_chimney": "factory_built_chimney",
    "wall_u.clay_tile": "masonry",
    "wall_u.clay_pipe": "asbestos_cement",
    "wall_u.liner_in_masonry": "corrugated",
}
LINER = "wall_u.liner_in_masonry"


@dataclass(frozen=True, slots=True)
class Way:
    """A stretch of the path as drawn: where it lies, what it is."""

    segment: Segment
    found: Stretch
    start: tuple[float, float]
    end: tuple[float, float]
    along: float
    wall: str
    name: str
    indoors: bool


def along_the_path(
    modelled: Modelled, assessment: Assessment, style: Style, size: Size = "column"
) -> AlongThePath:
    """Gas, wall, dew point and pressure from the hood to the cap, at the state it runs at.

    The path is drawn to its heights; turns to the side are laid out into one plane.

    Args:
        modelled: the system.
        assessment: what was found of it.
        style: units.
        size: of the sheet.
    """
    at, danger = assessment.solved.at, is_danger(assessment)
    ways = ways_of(modelled, at, style)
    high, warm = (
        units.height("Height over the hood", style),
        units.temperature("Temperature", style),
    )
    pressed = units.pressure("Pressure", style)
    path = [
        Corner(x=high.of(one.start[0]), z=high.of(one.start[1]), name=one.name, wall=one.wall)
        for one in ways
    ]
    path.append(Corner(x=high.of(ways[-1].end[0]), z=high.of(ways[-1].end[1])))
    stations = tuple(
        Station(
            along=high.of(along),
            height=high.of(height),
            gas=warm.of(gas),
            dew=None if at.dew_k is None else warm.of(at.dew_k),
            wall=None if wall is None else warm.of(wall),
            pressure=pressed.of(pressure),
        )
        for along, height, gas, wall, pressure in _stations(modelled, ways)
    )
    return AlongThePath(
        title="Along the path, burner on and hot",
        answer=answer_words(assessment, style) if danger else _gas_words(assessment, ways, style),
        alarm=danger,
        notes=(
            *((_gas_words(assessment, ways, style),) if danger else ()),
            conditions_words(modelled, style),
            "Pressure: inside the vent, less that of the air around it: of the room where it is in "
            "the room, else of the outdoors at that height. Sideways runs are laid into one plane.",
        ),
        path=tuple(path),
        stations=stations,
        length=high.measure,
        temperature=warm.measure,
        pressure=pressed.measure,
        hood=modelled.system.hood is not None,
        size=size,
    )


def ways_of(modelled: Modelled, at: Operating, style: Style) -> tuple[Way, ...]:
    """The stretches that have a length, with their places and names. [m]"""
    owners = _owners(modelled)
    x = z = along = 0.0
    ways: list[Way] = []
    for segment, found in zip(modelled.system.segments, at.stations, strict=True):
        if not segment.length_m > 0.0:
            continue
        aside = math.sqrt(max(segment.length_m**2 - segment.rise_m**2, 0.0))
        end = (x + aside, z + segment.rise_m)
        piece = owners.get(segment.name)
        key = piece.wall.u.name if piece else None
        wall = WALLS.get(key or "", "unknown")
        said = "liner" if key == LINER else WALL_WORDS[wall]
        bore = units.bore_words(segment.diameter_m, segment.area_m2, style)
        ways.append(
            Way(
                segment=segment,
                found=found,
                start=(x, z),
                end=end,
                along=along,
                wall=wall,
                name=f"{bore} {said}" if segment.area_m2 is None else f"{said}, {bore}",
                indoors=piece is not None
                and not segment.name.endswith("over the roof")
                and not piece.zone.outdoors
                and piece.zone.share.value >= 1.0,
            )
        )
        along += math.dist((x, z), end)
        x, z = end
    return tuple(ways)


def _owners(modelled: Modelled) -> dict[str, Piece]:
    """The piece of the plan that each segment comes from, by the name of the segment."""
    plan, values = modelled.plan, modelled.values
    rooms_k = plan.house.room_k.at(values)
    return {
        segment.name: piece
        for piece in plan.stretches
        for segment in piece.segments(values, modelled.system.around.outdoor_k, rooms_k)
    }


def _stations(
    modelled: Modelled, ways: tuple[Way, ...]
) -> Iterator[tuple[float, float, float, float | None, float]]:
    """Places from the hood on: length along, height, gas, wall, pressure. [m, m, K, K, Pa]"""
    for one in ways:
        for n in range(PARTS + 1):
            t = n / PARTS
            height = one.start[1] + (one.end[1] - one.start[1]) * t
            gas = gas_at(one.found, one.segment.ambient_k, t)
            pressure = one.found.start_pa + (one.found.end_pa - one.found.start_pa) * t
            if one.indoors:
                pressure -= room_pressure(modelled.system.around, height)
            pressure = pressure if abs(pressure) >= NOTHING_PA else 0.0
            along = one.along + math.dist(one.start, one.end) * t
            yield along, height, gas, wall_temperature(one.segment, gas), pressure


def gas_at(found: Stretch, ambient_k: float, share: float) -> float:
    """Temperature of the gas part of the way along a stretch. [K]

    It decays towards what is around it, so that the excess is geometric between the ends.
    """
    first, last = found.start_k - ambient_k, found.end_k - ambient_k
    if first * last <= 0.0:
        return found.start_k + (found.end_k - found.start_k) * share
    return ambient_k + first * float((last / first) ** share)


def room_pressure(around: Around, height_m: float) -> float:
    """Pressure of the room at a height over the hood, less outdoors at that height. [Pa]"""
    air = around.air_pa / GAS_CONSTANT_J_KMOL_K
    molar = AIR_KG_KMOL + around.room_water * (WATER_KG_KMOL - AIR_KG_KMOL)
    outdoors, room = air * AIR_KG_KMOL / around.outdoor_k, air * molar / around.room_k
    return around.room_pa + GRAVITY_M_S2 * height_m * (outdoors - room)


def _gas_words(assessment: Assessment, ways: tuple[Way, ...], style: Style) -> str:
    """How warm the gas is and where it is wet, in the state that is drawn."""
    at = assessment.solved.at
    if at.root.flow_kg_s <= 0.0:
        return "No gas goes up the vent: outdoor air stands in it or comes down."
    ends = ways[0].found.start_k, ways[-1].found.end_k
    first, last = (temperature_words(kelvin, style) for kelvin in ends)
    said = f"Where it drafts, the gas goes in at {first} and out at {last}. "
    wet = dict.fromkeys(one.name for one in ways if one.found.wet)
    if wet:
        return f"{said}Water condenses on the wall of: {'; '.join(wet)}."
    if at.wet is None:
        return said + "Whether the wall stays dry is not known everywhere."
    return said + "The wall stays dry all the way, once hot."
