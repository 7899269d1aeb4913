"""The survey: what a person saw at one appliance and its vent. Decides nothing.

Every field that nobody filled is ``None`` (not known). ``ABSENT`` means somebody looked and it
is not there. ``NotMeasured`` says why a thing could not be seen. These three are never mixed:
only the first two of them may settle a requirement, and only ``ABSENT`` may settle it well.

The file form (YAML, JSON, JSON Schema) is derived from these classes in ``files.py``; a field
added here is at once known there.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Annotated, Literal

from fluewright.quantity import Dimension, Measured, NotMeasured


class Absent(Enum):
    """Looked for and not there. Written ``none`` in a survey file."""

    ABSENT = "none"


ABSENT = Absent.ABSENT


@dataclass(frozen=True, slots=True)
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
Volume = Annotated[Measured, Reading(Dimension.VOLUME, "volume")]
Input = Annotated[Measured, Reading(Dimension.POWER, "plate")]
Pressure = Annotated[Measured, Reading(Dimension.PRESSURE, "pressure")]
Climate = Annotated[Measured, Reading(Dimension.TEMPERATURE, "published")]
PrintedTemperature = Annotated[Measured, Reading(Dimension.TEMPERATURE, "stamp")]
Density = Annotated[Measured, Reading(Dimension.DENSITY, "stamp")]
Conductivity = Annotated[Measured, Reading(Dimension.CONDUCTIVITY, "stamp")]
Resistance = Annotated[Measured, Reading(Dimension.RESISTANCE, "stamp")]
Age = Annotated[Measured, Reading(Dimension.TIME, "age")]
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
]
Metal = Literal["galvanized", "aluminum", "stainless"]
PartKind = Literal["straight", "run", "elbow", "reducer", "tee", "adapter", "cap"]
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What this survey is about, and the edition it is to be judged by."""

    title: str
    seen: str | None = None
    by: str | None = None
    visit: str | None = None
    doing: Literal["inspection", "replacement", "new", "repair"] | None = None
    edition: str | None = None
    occupancy: Literal["dwelling", "residential", "commercial"] | None = None
    invented: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """The place: what its air and its winter are like."""

    elevation: Height | NotMeasured | None = None
    winter_design: Climate | NotMeasured | None = None
    solid_fuel_common: MaybeYes = None
    condensation_known: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A room, attic, chase or other space that the path lies in or passes."""

    kind: SpaceKind
    conditioned: MaybeYes = None
    ceiling: MaybeHeight = None
    volume: Volume | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Distances on the four sides of an appliance."""

    front: MaybeLength = None
    back: MaybeLength = None
    sides: MaybeLength = None
    top: MaybeLength = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSides:
    """Distances that the data plate asks for on the four sides."""

    front: PrintedOrNone = None
    back: PrintedOrNone = None
    sides: PrintedOrNone = None
    top: PrintedOrNone = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hood:
    """The draft hood: how it sits and how free its relief opening is."""

    present: MaybeYes = None
    altered: MaybeYes = None
    upright: MaybeYes = None
    reachable: MaybeYes = None
    relief_clearance: MaybeLength = None
    label_clearance: PrintedOrNone = None
    height_above_floor: MaybeHeight = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Signs:
    """Traces of what happened before today."""

    scorch: MaybeYes = None
    stains: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftNeed:
    """The draft that the appliance instructions name, and what was measured."""

    needed: Pressure | NotMeasured | None = None
    measured: Pressure | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Regulator:
    """A barometric draft regulator."""

    per_instructions: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Appliance:
    """One gas appliance, mostly as its data plate says."""

    kind: ApplianceKind | None = None
    fuel: Fuel | None = None
    input: Input | NotMeasured | None = None
    input_low: Input | Absent | NotMeasured | None = None
    draft: DraftKind | None = None
    listed: MaybeYes = None
    listed_for_type_b: MaybeYes = None
    conversion_burner: MaybeYes = None
    outlet_diameter: MaybeBore = None
    outlet_on_top: MaybeYes = None
    space: str | None = None
    connected: MaybeYes = None
    may_run_unvented: MaybeYes = None
    hood: Hood | None = None
    clearances: Sides | None = None
    label_clearances: LabelSides | None = None
    floor_combustible: MaybeYes = None
    floor_protected: MaybeYes = None
    signs: Signs | None = None
    barometric_regulator: Regulator | Absent | NotMeasured | None = None
    draft_need: DraftNeed | Absent | NotMeasured | None = None
    plastic_named: MaybeYes = None
    condensate_drain: MaybeYes = None
    regulator_vents_into_flue: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shield:
    """Protection between a pipe and a combustible surface."""

    form: ShieldForm
    gap_behind: MaybeLength = None
    gap_to_pipe: MaybeLength = None
    edges_open: MaybeYes = None
    spacers_clear: MaybeYes = None
    reaches_far_enough: MaybeYes = None
    blocks_air_or_service: MaybeYes = None
    wool_density: Density | NotMeasured | None = None
    wool_melting_point: PrintedTemperature | NotMeasured | None = None
    conductivity: Conductivity | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """Nearest combustible thing to a piece, pipe surface to that surface, shields ignored."""

    distance: MaybeLength = None
    to: str | None = None
    shield: Shield | Absent | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """The joint at the upstream end of a piece."""

    fastening: Fastening | None = None
    screws: MaybeCount = None
    male_end: Literal["downstream", "upstream"] | None = None
    gap: LengthOrNone = None
    tape: Literal["foil", "duct", "cloth"] | Absent | NotMeasured | None = None
    approved: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the path, or a whole ``run`` seen as one (coarse survey).

    Lengths are laying lengths: what is seen from joint to joint along the centre line. A
    ``run`` states its rise and its horizontal length instead.
    """

    id: str
    part: PartKind
    role: Role | None = None
    wall: Wall | NotMeasured | None = None
    metal: Metal | NotMeasured | None = None
    thickness: MaybeSheet = None
    diameter: MaybeBore = None
    to_diameter: MaybeBore = None
    length: MaybeLength = None
    runs: Runs | None = None
    slope: Fall | NotMeasured | None = None
    tilt: Turn | NotMeasured | None = None
    rise: MaybeLength = None
    horizontal: MaybeLength = None
    angle: Bend | NotMeasured | None = None
    leg: MaybeLength = None
    elbows: tuple[Bend, ...] | Absent | NotMeasured | None = None
    space: str | None = None
    clearance: Clearance | Absent | NotMeasured | None = None
    listed_clearance: PrintedOrNone = None
    joint: Joint | None = None
    holes: MaybeYes = None
    crushed: MaybeYes = None
    listed: MaybeYes = None
    approved: MaybeYes = None
    clear: MaybeYes = None
    free_area: MaybeArea = None
    shroud: Literal["listed", "unlisted"] | Absent | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Thimble:
    """The sleeve where a pipe passes a wall or roof."""

    diameter: MaybeLength = None
    ventilated: MaybeYes = None
    above_roof: MaybeLength = None
    below_roof: MaybeLength = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NonRound:
    """A pipe that is not round: its free area, narrowest inside width, and what it replaces."""

    area: MaybeArea = None
    narrowest: MaybeLength = None
    replaces: MaybeBore = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Damper:
    """An automatic vent damper."""

    listed: MaybeYes = None
    per_instructions: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectorLook:
    """What was looked at on the connector as a whole."""

    attached_directly: MaybeYes = None
    supported: MaybeYes = None
    support_spacing: MaybeLength = None
    manual_spacing: PrintedOrNone = None
    manual_first_rise: PrintedOrNone = None
    accessible: MaybeYes = None
    dips: MaybeYes = None
    wrapped: MaybeYes = None
    manual_damper: MaybeYes = None
    automatic_damper: Damper | Absent | NotMeasured | None = None
    equal_insulation_listed: MaybeYes = None
    passes: tuple[Passage, ...] | Absent | NotMeasured | None = None
    wall_combustible: MaybeYes = None
    wall_cut_back: MaybeYes = None
    wall_gap_sealed: MaybeYes = None
    thimble: Thimble | Absent | NotMeasured | None = None
    run_to_thimble: MaybeLength = None
    non_round: NonRound | Absent | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InsulationShield:
    """The sleeve that keeps loose insulation off a vent."""

    present: MaybeYes = None
    above_insulation: MaybeLength = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Notched:
    """A vent hidden in bored or notched framing."""

    to_edge: MaybeLength = None
    plates: MaybeYes = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Chase:
    """The enclosure of a vent outdoors or through floors."""

    unventilated: MaybeYes = None
    insulation: Resistance | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """A fine screen around the space a vent blows into."""

    mesh: MaybeLength = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VentLook:
    """What was looked at on the vent as a whole, and on the flue it may share."""

    mark: MaybeYes = None
    instructions_followed: MaybeYes = None
    makes_mixed: MaybeYes = None
    listed_adapter: MaybeYes = None
    material_approved: MaybeYes = None
    passes: tuple[Passage, ...] | Absent | NotMeasured | None = None
    firestops: MaybeYes = None
    insulation_shield: InsulationShield | Absent | NotMeasured | None = None
    notched_framing: Notched | Absent | NotMeasured | None = None
    through_flashing: MaybeYes = None
    flashing_tight: MaybeYes = None
    storm_collar: MaybeYes = None
    supported: MaybeYes = None
    braced: MaybeYes = None
    screws_through_inner_wall: InnerScrews | Absent | NotMeasured | None = None
    in_air_duct: MaybeYes = None
    exposed_below_roof: MaybeYes = None
    chase: Chase | Absent | NotMeasured | None = None
    outdoor_insulated: MaybeYes = None
    engineered: MaybeYes = None
    screened_space: Screen | Absent | NotMeasured | None = None
    gas_only_label: MaybeYes = None
    asbestos_assessed: MaybeYes = None
    devices: tuple[Device, ...] | Absent | NotMeasured | None = None
    shares_with: tuple[Sharing, ...] | Absent | NotMeasured | None = None
    fireplace_sealed: MaybeYes = None
    listed_for_fireplace_flue: MaybeYes = None
    exhaust_joins: MaybeYes = None
    positive_pressure: MaybeYes = None
    draft_fan: MaybeYes = None
    blocked: MaybeYes = None
    sizing: Literal["tables", "area_rule", "engineered"] | None = None
    sizing_document: MaybeYes = None
    wall_gap_sealed: MaybeYes = None
    thimble: Thimble | Absent | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """Something that stands up near the vent over the roof."""

    kind: NearKind
    horizontal: MaybeLength = None
    top_above_penetration: MaybeHeight = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Intake:
    """An air intake near the vent outlet: fed by a fan, or by gravity."""

    kind: Literal["fan", "gravity"]
    horizontal: MaybeLength = None
    outlet_above: MaybeHeight = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NeighborOpening:
    """An opening of the neighboring building that can be opened (terminal in a wall)."""

    horizontal: MaybeLength = None
    above_terminal: MaybeHeight = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Roof:
    """Where the vent ends, and what is around that place."""

    ends: Ends | None = None
    pitch: Pitch | NotMeasured | None = None
    covering: Covering | None = None
    age: Age | NotMeasured | None = None
    wet_or_iced: MaybeYes = None
    deck_combustible: MaybeYes = None
    cap_above_penetration: MaybeHeight = None
    ridge: LengthOrNone = None
    near: tuple[Near, ...] | Absent | NotMeasured | None = None
    intakes: tuple[Intake, ...] | Absent | NotMeasured | None = None
    neighbor_opening: NeighborOpening | Absent | NotMeasured | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """The way of the burnt gas from one appliance to the open air, in the direction of flow."""

    from_: str
    pieces: tuple[Piece, ...] = ()
    connector: ConnectorLook = ConnectorLook()  # noqa: RUF009 (frozen, so it may be shared)
    vent: VentLook = VentLook()  # noqa: RUF009
    roof: Roof = Roof()  # noqa: RUF009


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture of one thing in the survey."""

    file: str
    of: str | None = None
    shows: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """One job as seen on one visit."""

    job: Job
    site: Site = Site()  # noqa: RUF009
    spaces: dict[str, Space]
    appliances: dict[str, Appliance]
    paths: tuple[Path, ...]
    photos: tuple[Photo, ...] = ()
    tools: dict[str, str]

    def appliance_of(self, path: Path) -> Appliance:
        """The appliance that a path starts from. The file reader made sure that it exists."""
        return self.appliances[path.from_]
