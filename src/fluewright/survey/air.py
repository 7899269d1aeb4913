"""The air of a space: what brings it in, what takes it out, and what burns it there."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import (
    Absent,
    Flow,
    Input,
    LengthOrNone,
    MaybeArea,
    MaybeHeight,
    MaybeLength,
    MaybeYes,
    PrintedArea,
)


@frozen(kw_only=True)
class Duct:
    """A duct that leads air to or from an opening."""

    material_allowed: MaybeYes = None
    shared_high_and_low: MaybeYes = None
    slopes_down: MaybeYes = None
    serves_one_space: MaybeYes = None
    end_free: MaybeYes = None
    ends_in_attic: MaybeYes = None
    screened_in_attic: MaybeYes = None
    needs_fire_damper: MaybeYes = None


@frozen(kw_only=True)
class Opening:
    """One opening for air: grille, louver, end of a duct, or a doorway without a door.

    ``width`` and ``height`` (or ``area``) are of the hole itself; ``free_area`` is what its maker
    says passes through the cover. ``from_top`` and ``from_bottom`` run from ceiling and floor to
    its nearest edge.
    """

    id: str
    to: str
    by: Literal["direct", "vertical_duct", "horizontal_duct", "doorway"] | None = None
    story: Literal["same", "other"] | None = None
    door: Literal["none_permanent", "frame_left", "louvered", "solid"] | None = None
    width: MaybeLength = None
    height: MaybeLength = None
    area: MaybeArea = None
    narrowest: MaybeLength = None
    louver: Literal["wood", "metal"] | Absent | NotMeasured | None = None
    free_area: PrintedArea | Absent | NotMeasured | None = None
    counted: PrintedArea | Absent | NotMeasured | None = None
    screen: LengthOrNone = None
    from_top: MaybeHeight = None
    from_bottom: MaybeHeight = None
    above_ground: LengthOrNone = None
    fixed_open: MaybeYes = None
    motor_proven: bool | Absent | NotMeasured | None = None
    hand_damper: MaybeYes = None
    duct: Duct | Absent | NotMeasured | None = None


@frozen(kw_only=True)
class Burner:
    """Something else that burns there and takes its air from the space: range, dryer, stove."""

    what: str
    input: Input | NotMeasured | None = None
    fan: MaybeYes = None
    unvented: MaybeYes = None


@frozen(kw_only=True)
class Supply:
    """A fan that brings outdoor air into the space."""

    flow: Flow | NotMeasured | None = None
    interlocked: MaybeYes = None


@frozen(kw_only=True)
class Air:
    """How a space gets its air, and what else uses it."""

    method: (
        Literal[
            "indoor_standard",
            "indoor_known_ach",
            "outdoor_two",
            "outdoor_one",
            "combination",
            "mechanical",
            "engineered",
        ]
        | None
    ) = None
    vented: MaybeYes = None
    burners: tuple[Burner, ...] | Absent | NotMeasured | None = None
    openings: tuple[Opening, ...] | Absent | NotMeasured | None = None
    supply: Supply | Absent | NotMeasured | None = None
    design_on_file: bool | Absent | NotMeasured | None = None
    exhaust: Flow | Absent | NotMeasured | None = None
    vapors: MaybeYes = None
    separate_with_outdoor_air: MaybeYes = None
