"""The survey: what a person saw at one appliance and its vent. Decides nothing.

Every field that nobody filled is ``None`` (not known). ``ABSENT`` means somebody looked and it
is not there. ``NotMeasured`` says why a thing could not be seen. These three are never mixed:
only the first two of them may settle a requirement, and only ``ABSENT`` may settle it well.

The file form (YAML, JSON, JSON Schema) is derived from these classes in ``files``; a field added
here is at once known there. For that every annotation is needed as what it means: the modules of
this package do not keep them as text (no ``from __future__ import annotations``), which would have
to be compiled anew at every start.
"""

from dataclasses import field

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.air import Air, Burner, Duct, Opening, Supply
from fluewright.survey.appliance import (
    Appliance,
    DraftNeed,
    Hood,
    LabelSides,
    Regulator,
    Sides,
    Signs,
)
from fluewright.survey.chimney import Chimney, Cleanout
from fluewright.survey.existing import Checks, OnEntry
from fluewright.survey.job import (
    Job,
    Site,
    Space,
)
from fluewright.survey.kinds import (
    ABSENT,
    Absent,
    Age,
    ApplianceKind,
    Area,
    Bend,
    Bore,
    Changed,
    Climate,
    Conductivity,
    Count,
    Covering,
    Density,
    Device,
    DraftKind,
    Ends,
    Explosive,
    Fall,
    Fastening,
    Fuel,
    Height,
    InnerScrews,
    Input,
    Length,
    LengthOrNone,
    MaybeArea,
    MaybeBore,
    MaybeCount,
    MaybeHeight,
    MaybeLength,
    MaybePrinted,
    MaybeSheet,
    MaybeYes,
    Metal,
    NearKind,
    Oxygen,
    PartKind,
    Parts,
    Passage,
    Pitch,
    Pressure,
    Printed,
    PrintedOrNone,
    PrintedTemperature,
    Reading,
    Resistance,
    Role,
    Runs,
    Seconds,
    Sharing,
    Sheet,
    ShieldForm,
    SpaceKind,
    Turn,
    Volume,
    Wall,
)
from fluewright.survey.pipe import (
    Chase,
    Clearance,
    ConnectorLook,
    Damper,
    InsulationShield,
    Joint,
    NonRound,
    Notched,
    Piece,
    Screen,
    SharedFlue,
    Shield,
    Thimble,
    VentLook,
)
from fluewright.survey.roof import (
    Intake,
    Near,
    NeighborOpening,
    Roof,
)
from fluewright.survey.setting import (
    Access,
    Closet,
    Garage,
    Gas,
    ReturnAir,
    Setting,
    Water,
)
from fluewright.survey.shared import Common, Entry
from fluewright.survey.terminal import Fan, NearOpening, Terminal, TypeBW

__all__ = [
    "ABSENT",
    "Absent",
    "Access",
    "Age",
    "Air",
    "Appliance",
    "ApplianceKind",
    "Area",
    "Bend",
    "Bore",
    "Burner",
    "Changed",
    "Chase",
    "Checks",
    "Chimney",
    "Cleanout",
    "Clearance",
    "Climate",
    "Closet",
    "Common",
    "Conductivity",
    "ConnectorLook",
    "Count",
    "Covering",
    "Damper",
    "Density",
    "Device",
    "DraftKind",
    "DraftNeed",
    "Duct",
    "Ends",
    "Entry",
    "Explosive",
    "Fall",
    "Fan",
    "Fastening",
    "Fuel",
    "Garage",
    "Gas",
    "Height",
    "Hood",
    "InnerScrews",
    "Input",
    "InsulationShield",
    "Intake",
    "Job",
    "Joint",
    "LabelSides",
    "Length",
    "LengthOrNone",
    "MaybeArea",
    "MaybeBore",
    "MaybeCount",
    "MaybeHeight",
    "MaybeLength",
    "MaybePrinted",
    "MaybeSheet",
    "MaybeYes",
    "Metal",
    "Near",
    "NearKind",
    "NearOpening",
    "NeighborOpening",
    "NonRound",
    "Notched",
    "OnEntry",
    "Opening",
    "Oxygen",
    "PartKind",
    "Parts",
    "Passage",
    "Path",
    "Photo",
    "Piece",
    "Pitch",
    "Pressure",
    "Printed",
    "PrintedOrNone",
    "PrintedTemperature",
    "Reading",
    "Regulator",
    "Resistance",
    "ReturnAir",
    "Role",
    "Roof",
    "Runs",
    "Screen",
    "Seconds",
    "Setting",
    "SharedFlue",
    "Sharing",
    "Sheet",
    "Shield",
    "ShieldForm",
    "Sides",
    "Signs",
    "Site",
    "Space",
    "SpaceKind",
    "Supply",
    "Survey",
    "Terminal",
    "Thimble",
    "Turn",
    "TypeBW",
    "VentLook",
    "Volume",
    "Wall",
    "Water",
]


@frozen(kw_only=True)
class Path:
    """The way of the burnt gas from one appliance, in the direction of flow.

    It leads to the open air, or up to a common vent that it ``joins``: then cap, vent and roof
    are described there, once for all appliances on it.
    """

    from_: str
    joins: str | None = None
    enters: Entry | None = None
    pieces: tuple[Piece, ...] = ()
    connector: ConnectorLook = ConnectorLook()
    vent: VentLook = VentLook()
    chimney: Chimney | Absent | NotMeasured | None = None
    roof: Roof = Roof()


@frozen(kw_only=True)
class Photo:
    """A picture of one thing in the survey."""

    file: str
    of: str | None = None
    shows: str = ""


@frozen(kw_only=True)
class Survey:
    """One job as seen on one visit."""

    job: Job
    on_entry: OnEntry | NotMeasured | None = None
    site: Site = Site()
    spaces: dict[str, Space]
    appliances: dict[str, Appliance]
    paths: tuple[Path, ...]
    common: dict[str, Common] = field(default_factory=dict)
    photos: tuple[Photo, ...] = ()
    tools: dict[str, str]

    def appliance_of(self, path: Path) -> Appliance:
        """The appliance that a path starts from. The file reader made sure that it exists."""
        return self.appliances[path.from_]

    def every_piece(self) -> tuple[Piece, ...]:
        """The pieces of all paths and common vents."""
        own = tuple(piece for path in self.paths for piece in path.pieces)
        return own + tuple(piece for vent in self.common.values() for piece in vent.pieces)
