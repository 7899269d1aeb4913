"""The place of an appliance: access, garage, closet, gas pipe, water side, return air."""

from typing import Annotated, Literal

from fluewright.frozen import frozen
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey.kinds import (
    Absent,
    Flow,
    Input,
    LengthOrNone,
    MaybeBore,
    MaybeCount,
    MaybeHeight,
    MaybeLength,
    MaybeYes,
    Reading,
    Volume,
)

ReliefFault = Literal[
    "valve_in_line",
    "smaller_than_outlet",
    "trapped",
    "can_freeze",
    "threaded_end",
    "wrong_material",
]
ReliefEnd = Literal["outside", "floor_drain", "pan", "crawl", "other"]
ReturnFrom = Literal[
    "closet", "bathroom", "toilet_room", "kitchen", "garage", "living_space", "outdoors", "other"
]
ClockedInput = Annotated[Measured, Reading(Dimension.POWER, "meter_clocked")]


@frozen(kw_only=True)
class Access:
    """How a person gets to the appliance, and the room to work at it.

    ``short`` and ``long`` are the sides of an opening, of a platform or of the largest part, as
    it would be carried. ``floor_width`` and the platform are ``none`` where there is none.
    """

    reachable: MaybeYes = None
    depth: MaybeLength = None
    width: MaybeLength = None
    height: MaybeLength = None
    opening_short: MaybeLength = None
    opening_long: MaybeLength = None
    largest_short: MaybeLength = None
    largest_long: MaybeLength = None
    passage_height: MaybeLength = None
    passage_length: MaybeLength = None
    floor_width: LengthOrNone = None
    platform_short: LengthOrNone = None
    platform_long: LengthOrNone = None
    served_from_opening: MaybeYes = None
    light_and_outlet: MaybeYes = None


@frozen(kw_only=True)
class Garage:
    """An appliance in a garage, or in a space that opens into one."""

    opens_into: MaybeYes = None
    ignition_height: MaybeHeight = None
    guarded: MaybeYes = None
    entered_from_outside_only: MaybeYes = None
    air_from_outside: MaybeYes = None
    vent_through_separation: MaybeYes = None
    separation_sealed: MaybeYes = None


@frozen(kw_only=True)
class Closet:
    """The closet that an appliance stands in."""

    off_bedroom_or_bathroom: MaybeYes = None
    sealed_door: MaybeYes = None
    alone: MaybeYes = None


@frozen(kw_only=True)
class Gas:
    """The gas pipe at the appliance, and how much gas it burns.

    ``rate`` is clocked at the meter, ``none`` where nobody did. ``flexible_through_wall`` is
    ``none`` where there is no flexible connector.
    """

    shutoff_distance: LengthOrNone = None
    shutoff_reachable: MaybeYes = None
    sediment_trap: MaybeYes = None
    flexible_through_wall: bool | Absent | NotMeasured | None = None
    rate: ClockedInput | Absent | NotMeasured | None = None
    set_for_altitude: MaybeYes = None
    pilot_stopped_too: MaybeYes = None
    in_pit: MaybeYes = None
    unburned_gas_removed: MaybeYes = None


@frozen(kw_only=True)
class Water:
    """The water side of a heater: relief valve and its pipe, pan, expansion, bracing."""

    relief_valve: MaybeYes = None
    relief_capacity: Input | NotMeasured | None = None
    relief_by_instructions: MaybeYes = None
    relief_faults: tuple[ReliefFault, ...] | Absent | NotMeasured | None = None
    relief_ends: ReliefEnd | None = None
    relief_end_height: MaybeHeight = None
    leak_does_damage: MaybeYes = None
    pan: MaybeYes = None
    pan_drain: MaybeBore = None
    closed_system: MaybeYes = None
    expansion_tank: MaybeYes = None
    straps: MaybeCount = None
    strap_in_upper_third: MaybeYes = None
    strap_in_lower_third: MaybeYes = None
    strap_above_controls: MaybeLength = None


@frozen(kw_only=True)
class ReturnAir:
    """Where a blower takes its air from, as far as it touches the room of an appliance."""

    in_this_space: MaybeYes = None
    taken_from: ReturnFrom | None = None
    excepted: MaybeYes = None
    volume: Volume | NotMeasured | None = None
    input: Input | NotMeasured | None = None
    supply_here: Flow | NotMeasured | None = None
    supply_whole: Flow | NotMeasured | None = None
    inlet_distance: MaybeLength = None
    duct_sealed: MaybeYes = None


@frozen(kw_only=True)
class Setting:
    """How one appliance stands where it stands."""

    access: Access | None = None
    garage: Garage | None = None
    closet: Closet | None = None
    gas: Gas | None = None
    water: Water | None = None
    return_air: ReturnAir | None = None
    resists_vapor: MaybeYes = None
    hung_above_ground: LengthOrNone = None
    anchored: MaybeYes = None
    on_roof: MaybeYes = None
    roof_edge: MaybeLength = None
    guard_height: LengthOrNone = None
    fit_for_outdoors: MaybeYes = None
    above_flood_level: MaybeYes = None
    listed_for_closet: MaybeYes = None
    volume: Volume | NotMeasured | None = None
    listed_for_manufactured_home: MaybeYes = None
    manual_on_site: MaybeYes = None
    extra_device: MaybeYes = None
    cut_framing_unrepaired: bool | Absent | NotMeasured | None = None
    holes_closed: MaybeYes = None
