"""The survey: what a person saw at one appliance and its vent. Decides nothing.

Every field that nobody filled is ``None`` (not known). ``ABSENT`` means somebody looked and it
is not there. ``NotMeasured`` says why a thing could not be seen. These three are never mixed:
only the first two of them may settle a requirement, and only ``ABSENT`` may settle it well.

The file form (YAML, JSON, JSON Schema) is derived from these classes in ``files.py``; a field
added here is at once known there.
"""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.survey.appliance import (
    Appliance,
    DraftNeed,
    Hood,
    LabelSides,
    Regulator,
    Sides,
    Signs,
)
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
    Climate,
    Conductivity,
    Count,
    Covering,
    Density,
    Device,
    DraftKind,
    Ends,
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
    PartKind,
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

__all__ = [
    "ABSENT",
    "Absent",
    "Age",
    "Appliance",
    "ApplianceKind",
    "Area",
    "Bend",
    "Bore",
    "Chase",
    "Clearance",
    "Climate",
    "Conductivity",
    "ConnectorLook",
    "Count",
    "Covering",
    "Damper",
    "Density",
    "Device",
    "DraftKind",
    "DraftNeed",
    "Ends",
    "Fall",
    "Fastening",
    "Fuel",
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
    "NeighborOpening",
    "NonRound",
    "Notched",
    "PartKind",
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
    "Role",
    "Roof",
    "Runs",
    "Screen",
    "Sharing",
    "Sheet",
    "Shield",
    "ShieldForm",
    "Sides",
    "Signs",
    "Site",
    "Space",
    "SpaceKind",
    "Survey",
    "Thimble",
    "Turn",
    "VentLook",
    "Volume",
    "Wall",
]


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
