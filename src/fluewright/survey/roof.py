"""Where the vent ends, and what stands around that place."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import (
    Absent,
    Age,
    Covering,
    Ends,
    LengthOrNone,
    MaybeHeight,
    MaybeLength,
    MaybeYes,
    NearKind,
    Pitch,
)
from fluewright.survey.terminal import Terminal


@frozen(kw_only=True)
class Near:
    """Something that stands up near the vent over the roof."""

    kind: NearKind
    horizontal: MaybeLength = None
    top_above_penetration: MaybeHeight = None


@frozen(kw_only=True)
class Intake:
    """An air intake near the vent outlet: fed by a fan, or by gravity."""

    kind: Literal["fan", "gravity"]
    horizontal: MaybeLength = None
    outlet_above: MaybeHeight = None


@frozen(kw_only=True)
class NeighborOpening:
    """An opening of the neighboring building that can be opened (terminal in a wall)."""

    horizontal: MaybeLength = None
    above_terminal: MaybeHeight = None


@frozen(kw_only=True)
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
    terminal: Terminal | NotMeasured | None = None
