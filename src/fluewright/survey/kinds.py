"""The words and readings that a survey may hold, and what says that a thing is not there."""

from enum import Enum
from typing import Annotated, Literal

from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, NotMeasured


class Absent(Enum):
    """Looked for and not there. Written ``none`` in a survey file."""

    ABSENT = "none"


ABSENT = Absent.ABSENT


@frozen
class Reading:
    """How the text of a field becomes a ``Measured``: its dimension, and what reads it.

    ``by`` is the entry of the survey's ``tools`` that gives the tolerance, or the name of a
    tool itself where only one makes sense (a stamp, a data plate, a count).
    """

    dimension: Dimension
    by: str


Length = Annotated[Measured, Reading(Dimension.LENGTH, "length")]
Height = Annotated[Measured, Reading(Dimension.LENGTH, "height")]
Bore = Annotated[Measured, Reading(Dimension.LENGTH, "stamp")]
Sheet = Annotated[Measured, Reading(Dimension.LENGTH, "thickness")]
Printed = Annotated[Measured, Reading(Dimension.LENGTH, "stamp")]
Fall = Annotated[Measured, Reading(Dimension.SLOPE, "slope")]
Pitch = Annotated[Measured, Reading(Dimension.SLOPE, "pitch")]
Turn = Annotated[Measured, Reading(Dimension.ANGLE, "angle")]
Bend = Annotated[Measured, Reading(Dimension.ANGLE, "fitting")]
Area = Annotated[Measured, Reading(Dimension.AREA, "area")]
PrintedArea = Annotated[Measured, Reading(Dimension.AREA, "stamp")]
Flow = Annotated[Measured, Reading(Dimension.FLOW, "flow")]
AirChanges = Annotated[Measured, Reading(Dimension.RATE, "rate")]
Volume = Annotated[Measured, Reading(Dimension.VOLUME, "volume")]
Input = Annotated[Measured, Reading(Dimension.POWER, "plate")]
Pressure = Annotated[Measured, Reading(Dimension.PRESSURE, "pressure")]
PrintedPressure = Annotated[Measured, Reading(Dimension.PRESSURE, "stamp")]
Climate = Annotated[Measured, Reading(Dimension.TEMPERATURE, "published")]
PrintedTemperature = Annotated[Measured, Reading(Dimension.TEMPERATURE, "stamp")]
Density = Annotated[Measured, Reading(Dimension.DENSITY, "stamp")]
Conductivity = Annotated[Measured, Reading(Dimension.CONDUCTIVITY, "stamp")]
Resistance = Annotated[Measured, Reading(Dimension.RESISTANCE, "stamp")]
Age = Annotated[Measured, Reading(Dimension.TIME, "age")]
Seconds = Annotated[Measured, Reading(Dimension.TIME, "time")]
Parts = Annotated[Measured, Reading(Dimension.CONCENTRATION, "concentration")]
Oxygen = Annotated[Measured, Reading(Dimension.CONCENTRATION, "oxygen")]
Explosive = Annotated[Measured, Reading(Dimension.EXPLOSIVE, "explosive")]
Count = Annotated[Measured, Reading(Dimension.COUNT, "count")]

MaybeLength = Length | NotMeasured | None
LengthOrNone = Length | Absent | NotMeasured | None
MaybeHeight = Height | NotMeasured | None
MaybeBore = Bore | NotMeasured | None
MaybeSheet = Sheet | NotMeasured | None
MaybePrinted = Printed | NotMeasured | None
PrintedOrNone = Printed | Absent | NotMeasured | None
MaybeCount = Count | NotMeasured | None
MaybeArea = Area | NotMeasured | None
MaybeYes = bool | NotMeasured | None

Fuel = Literal["natural gas", "propane"]
ApplianceKind = Literal[
    "storage water heater",
    "instantaneous water heater",
    "furnace",
    "boiler",
    "room heater",
    "wall furnace",
    "other",
]
DraftKind = Literal["draft_hood", "fan_assisted", "direct_vent", "power_vented", "condensing"]
Changed = Literal["replaced_same", "replaced_other", "one_removed", "added"]
SpaceKind = Literal[
    "room",
    "closet",
    "bedroom",
    "bathroom",
    "garage",
    "basement",
    "attic",
    "crawl",
    "chase",
    "concealed",
    "porch",
    "outdoors",
]
Wall = Literal[
    "single",
    "type_b",
    "type_l",
    "type_bw",
    "special",
    "listed_connector",
    "corrugated",
    "foil",
    "plastic_listed",
    "plastic_unlisted",
    "asbestos_cement",
    "masonry",
    "factory_built_chimney",
    "metal_chimney",
]
Metal = Literal["galvanized", "aluminum", "stainless"]
PartKind = Literal["straight", "run", "elbow", "reducer", "tee", "wye", "adapter", "cap"]
Role = Literal["connector", "vent"]
Runs = Literal["up", "level", "down"]
Fastening = Literal["screws", "listed_lock", "rivets", "tape_only", "friction_only", "open"]
Passage = Literal["ceiling", "floor", "interior_wall", "exterior_wall", "rated_wall", "roof"]
Ends = Literal[
    "above_roof",
    "at_wall",
    "under_eave",
    "under_parapet",
    "attic",
    "crawl",
    "wall_cavity",
    "garage",
    "room",
]
ShieldForm = Literal[
    "masonry_3_5in_no_air_gap",
    "insulation_board_over_1in_batts",
    "sheet_metal_over_1in_batts_air_gap",
    "masonry_3_5in_air_gap",
    "sheet_metal_air_gap",
    "insulation_board_air_gap",
    "two_sheet_metal_air_gaps",
    "batts_between_two_sheets_air_gap",
]
NearKind = Literal[
    "wall", "parapet", "dormer", "chimney", "neighbor_wall", "equipment", "roof", "eave"
]
Device = Literal[
    "draft_regulator_listed",
    "vent_damper_listed",
    "safety_control_listed",
    "heat_reclaimer_listed",
    "heat_reclaimer_unlisted",
    "economizer",
    "baffle",
    "other",
]
InnerScrews = Literal["transition_only", "other_joint"]
Sharing = Literal[
    "gas", "oil", "solid_fuel_appliance", "masonry_fireplace", "factory_built_fireplace"
]
Covering = Literal[
    "asphalt shingle",
    "wood shake",
    "concrete tile",
    "clay tile",
    "slate",
    "metal",
    "membrane",
    "fiber cement",
]
