"""What stands round an outlet in a wall, and what drives the gas to it."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import Absent, LengthOrNone, MaybeHeight, MaybeLength, MaybeYes


@frozen(kw_only=True)
class NearOpening:
    """A door, window or other opening of the house near the outlet."""

    kind: Literal["door", "window", "inlet"]
    horizontal: MaybeLength = None
    outlet_above: MaybeHeight = None
    straight: MaybeLength = None


@frozen(kw_only=True)
class Terminal:
    """The outlet of a vent that a fan drives, of a direct vent, or of wet gas."""

    openings: tuple[NearOpening, ...] | Absent | NotMeasured | None = None
    above_ground: MaybeHeight = None
    air_intake_above_ground: LengthOrNone = None
    beside_public_walk: MaybeYes = None
    moisture_harms: MaybeYes = None


@frozen(kw_only=True)
class Fan:
    """A draft fan in the vent."""

    listed: MaybeYes = None
    interlocked: MaybeYes = None
    tight: MaybeYes = None


@frozen(kw_only=True)
class TypeBW:
    """How a vent for a wall furnace sits in its stud space."""

    top_or_single_story: MaybeYes = None
    listed_multistory: MaybeYes = None
    header_plate: MaybeYes = None
    spacers_open: MaybeYes = None
    firestops_above: MaybeYes = None
