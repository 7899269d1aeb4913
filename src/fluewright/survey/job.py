"""The job and the place: title, editions, climate, the spaces of the house."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.air import Air
from fluewright.survey.kinds import (
    Absent,
    AirChanges,
    Changed,
    Climate,
    Fuel,
    Height,
    MaybeHeight,
    MaybeYes,
    SpaceKind,
    Volume,
)


@frozen(kw_only=True)
class Job:
    """What this survey is about, and the edition it is to be judged by."""

    title: str
    seen: str | None = None
    by: str | None = None
    visit: str | None = None
    doing: Literal["inspection", "replacement", "new", "repair"] | None = None
    new: tuple[str, ...] | Absent | NotMeasured | None = None
    built_under: str | NotMeasured | None = None
    changed: Changed | Absent | NotMeasured | None = None
    permit_on_record: MaybeYes = None
    edition: str | None = None
    occupancy: Literal["dwelling", "residential", "commercial"] | None = None
    invented: bool = False


@frozen(kw_only=True)
class Site:
    """The place: what its air and its winter are like."""

    elevation: Height | NotMeasured | None = None
    winter_design: Climate | NotMeasured | None = None
    solid_fuel_common: MaybeYes = None
    condensation_known: MaybeYes = None
    air_changes: AirChanges | Absent | NotMeasured | None = None
    gas: Fuel | None = None
    bracing_required: MaybeYes = None
    flood_area: MaybeYes = None
    manufactured_home: MaybeYes = None
    alarm_outside_bedrooms: MaybeYes = None
    alarm_on_each_level: MaybeYes = None


@frozen(kw_only=True)
class Space:
    """A room, attic, chase or other space that the path lies in or passes."""

    kind: SpaceKind
    conditioned: MaybeYes = None
    ceiling: MaybeHeight = None
    volume: Volume | NotMeasured | None = None
    air: Air | None = None
