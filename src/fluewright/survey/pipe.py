"""Connector and vent, piece by piece and as a whole."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import (
    Absent,
    Bend,
    Conductivity,
    Density,
    Device,
    Fall,
    Fastening,
    InnerScrews,
    LengthOrNone,
    MaybeArea,
    MaybeBore,
    MaybeCount,
    MaybeLength,
    MaybeSheet,
    MaybeYes,
    Metal,
    PartKind,
    Passage,
    PrintedOrNone,
    PrintedTemperature,
    Resistance,
    Role,
    Runs,
    Sharing,
    ShieldForm,
    Turn,
    Wall,
)
from fluewright.survey.terminal import Fan, TypeBW


@frozen(kw_only=True)
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


@frozen(kw_only=True)
class Clearance:
    """Nearest combustible thing to a piece, pipe surface to that surface, shields ignored."""

    distance: MaybeLength = None
    to: str | None = None
    shield: Shield | Absent | NotMeasured | None = None


@frozen(kw_only=True)
class Joint:
    """The joint at the upstream end of a piece."""

    fastening: Fastening | None = None
    screws: MaybeCount = None
    male_end: Literal["downstream", "upstream"] | None = None
    gap: LengthOrNone = None
    tape: Literal["foil", "duct", "cloth"] | Absent | NotMeasured | None = None
    approved: MaybeYes = None


@frozen(kw_only=True)
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


@frozen(kw_only=True)
class Thimble:
    """The sleeve where a pipe passes a wall or roof."""

    diameter: MaybeLength = None
    ventilated: MaybeYes = None
    above_roof: MaybeLength = None
    below_roof: MaybeLength = None


@frozen(kw_only=True)
class NonRound:
    """A pipe that is not round: its free area, narrowest inside width, and what it replaces."""

    area: MaybeArea = None
    narrowest: MaybeLength = None
    replaces: MaybeBore = None


@frozen(kw_only=True)
class Damper:
    """An automatic vent damper."""

    listed: MaybeYes = None
    per_instructions: MaybeYes = None


@frozen(kw_only=True)
class ConnectorLook:
    """What was looked at on the connector as a whole."""

    attached_directly: MaybeYes = None
    shorter_way: MaybeYes = None
    supported: MaybeYes = None
    support_spacing: MaybeLength = None
    manual_spacing: PrintedOrNone = None
    manual_first_rise: PrintedOrNone = None
    accessible: MaybeYes = None
    dips: MaybeYes = None
    smooth_inside: MaybeYes = None
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


@frozen(kw_only=True)
class InsulationShield:
    """The sleeve that keeps loose insulation off a vent."""

    present: MaybeYes = None
    above_insulation: MaybeLength = None


@frozen(kw_only=True)
class Notched:
    """A vent hidden in bored or notched framing."""

    to_edge: MaybeLength = None
    plates: MaybeYes = None


@frozen(kw_only=True)
class Chase:
    """The enclosure of a vent outdoors or through floors."""

    unventilated: MaybeYes = None
    insulation: Resistance | NotMeasured | None = None


@frozen(kw_only=True)
class Screen:
    """A fine screen around the space a vent blows into."""

    mesh: MaybeLength = None


@frozen(kw_only=True)
class SharedFlue:
    """What was looked at where several appliances use one vent or flue."""

    made_fittings: MaybeYes = None
    fittings_full_size: MaybeYes = None
    fittings_same_kind: MaybeYes = None
    same_level: MaybeYes = None
    entry_angle: Turn | Absent | NotMeasured | None = None
    smaller_enters_higher: MaybeYes = None
    no_headroom_higher: MaybeYes = None
    manifold_high: MaybeYes = None
    several_floors: MaybeYes = None
    floors_engineered: MaybeYes = None
    rooms_separated: MaybeYes = None
    reduced_above_offset: MaybeYes = None
    one_fitting_close: MaybeYes = None


@frozen(kw_only=True)
class VentLook:
    """What was looked at on the vent as a whole, and on the flue it may share."""

    cap: MaybeYes = None
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
    shared_flue: SharedFlue | Absent | NotMeasured | None = None
    fireplace_sealed: MaybeYes = None
    listed_for_fireplace_flue: MaybeYes = None
    exhaust_joins: MaybeYes = None
    positive_pressure: MaybeYes = None
    draft_fan: MaybeYes = None
    fan: Fan | NotMeasured | None = None
    type_bw: TypeBW | NotMeasured | None = None
    blocked: MaybeYes = None
    sizing: Literal["tables", "area_rule", "engineered"] | None = None
    sizing_document: MaybeYes = None
    wall_gap_sealed: MaybeYes = None
    thimble: Thimble | Absent | NotMeasured | None = None
