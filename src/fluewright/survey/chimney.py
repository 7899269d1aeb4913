"""A chimney: what it is made of, its flue, its lining and its state."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import Absent, LengthOrNone, MaybeArea, MaybeLength, MaybeYes

Liner = Literal["clay", "smooth_metal", "corrugated_metal"]


@frozen(kw_only=True)
class Cleanout:
    """The cleanout at the foot of a chimney; ``below_inlet`` is its upper edge below the inlet."""

    tight: MaybeYes = None
    below_inlet: MaybeLength = None


@frozen(kw_only=True)
class Chimney:
    """A chimney that the vent is, or stands in. ``flue_area`` is the clear area inside the flue.

    ``exterior`` is one with a side outdoors below the roof line; ``outside_walls`` one that
    stands wholly outside the outer walls: the first counts for size, the second for clearance.
    """

    kind: Literal["masonry", "factory_built", "metal"] | NotMeasured | None = None
    exterior: MaybeYes = None
    outside_walls: MaybeYes = None
    as_instructed: MaybeYes = None
    listed_for_pressure: MaybeYes = None
    liner: Liner | Absent | NotMeasured | None = None
    liner_sound: MaybeYes = None
    liner_label: MaybeYes = None
    liner_adapter_listed: MaybeYes = None
    liner_listed_for_contact: MaybeYes = None
    liner_below_inlet: MaybeLength = None
    masonry_sound: MaybeYes = None
    flue_area: MaybeArea = None
    clear: MaybeYes = None
    served: Literal["gas_only", "oil", "solid"] | NotMeasured | None = None
    cleaned: MaybeYes = None
    cleanout: Cleanout | Absent | NotMeasured | None = None
    to_framing: LengthOrNone = None
    connector_end: Literal["flush", "short", "projects", "bottomed"] | NotMeasured | None = None
    inlet_thimble: MaybeYes = None
    inlet_fixed: MaybeYes = None
    round_liner: Literal["other_vent", "combustion_air"] | Absent | NotMeasured | None = None
    rain_cap_area: MaybeArea = None
    hood_accessory_listed: bool | Absent | NotMeasured | None = None
    old_openings_closed: MaybeYes = None
