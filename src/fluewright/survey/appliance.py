"""The appliance: data plate, draft hood, clearances, traces."""

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.existing import Checks
from fluewright.survey.kinds import (
    Absent,
    ApplianceKind,
    DraftKind,
    Fuel,
    Input,
    MaybeBore,
    MaybeCount,
    MaybeHeight,
    MaybeLength,
    MaybeYes,
    Pressure,
    PrintedOrNone,
    PrintedPressure,
)
from fluewright.survey.setting import Setting


@frozen(kw_only=True)
class Sides:
    """Distances round an appliance, and from its draft hood, to what can burn."""

    front: MaybeLength = None
    back: MaybeLength = None
    sides: MaybeLength = None
    top: MaybeLength = None
    hood: MaybeLength = None


@frozen(kw_only=True)
class LabelSides:
    """Distances that the data plate asks for on the four sides."""

    front: PrintedOrNone = None
    back: PrintedOrNone = None
    sides: PrintedOrNone = None
    top: PrintedOrNone = None


@frozen(kw_only=True)
class Hood:
    """The draft hood: how it sits and how free its relief opening is."""

    present: MaybeYes = None
    altered: MaybeYes = None
    upright: MaybeYes = None
    reachable: MaybeYes = None
    relief_clearance: MaybeLength = None
    label_clearance: PrintedOrNone = None
    height_above_floor: MaybeHeight = None
    same_room: MaybeYes = None


@frozen(kw_only=True)
class Signs:
    """Traces of what happened before today."""

    scorch: MaybeYes = None
    stains: MaybeYes = None


@frozen(kw_only=True)
class DraftNeed:
    """The draft that the appliance instructions name, and what was measured."""

    needed: PrintedPressure | NotMeasured | None = None
    measured: Pressure | NotMeasured | None = None


@frozen(kw_only=True)
class Regulator:
    """A barometric draft regulator."""

    per_instructions: MaybeYes = None


@frozen(kw_only=True)
class Appliance:
    """One gas appliance, mostly as its data plate says."""

    kind: ApplianceKind | None = None
    taken_out: MaybeYes = None
    fuel: Fuel | None = None
    input: Input | NotMeasured | None = None
    input_low: Input | Absent | NotMeasured | None = None
    draft: DraftKind | None = None
    direct_vent: MaybeYes = None
    instructions_followed: MaybeYes = None
    low_limit: MaybeYes = None
    listed: MaybeYes = None
    listed_for_type_b: MaybeYes = None
    conversion_burner: MaybeYes = None
    outlet_diameter: MaybeBore = None
    outlet_on_top: MaybeYes = None
    outlet_count: MaybeCount = None
    safety_shutoff: MaybeYes = None
    burns_solid_fuel_too: MaybeYes = None
    spill_device_manual_reset: MaybeYes = None
    space: str | None = None
    connected: MaybeYes = None
    may_run_unvented: MaybeYes = None
    hood: Hood | None = None
    clearances: Sides | None = None
    label_clearances: LabelSides | None = None
    floor_combustible: MaybeYes = None
    floor_protected: MaybeYes = None
    signs: Signs | None = None
    checks: Checks | None = None
    barometric_regulator: Regulator | Absent | NotMeasured | None = None
    draft_need: DraftNeed | Absent | NotMeasured | None = None
    plastic_named: MaybeYes = None
    condensate_drain: MaybeYes = None
    regulator_vents_into_flue: MaybeYes = None
    setting: Setting | None = None
