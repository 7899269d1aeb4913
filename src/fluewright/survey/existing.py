"""What was read on entering the house, and what was tested at each appliance."""

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import Absent, Explosive, MaybeYes, Oxygen, Parts, Seconds


@frozen(kw_only=True)
class OnEntry:
    """What the instruments showed in the air of the house, before anything was touched."""

    co: Parts | NotMeasured | None = None
    gas: Explosive | NotMeasured | None = None


@frozen(kw_only=True)
class Checks:
    """What was tried and looked at on one appliance in use, and what papers say of it.

    ``pilot_gas_off`` is the time from the pilot going out to main gas that no longer flows;
    ``none`` where there is no standing pilot. ``flue_co`` with ``flue_oxygen`` is a reading as
    measured, ``flue_co_air_free`` one that the analyzer has worked out.
    """

    gas_leak: MaybeYes = None
    patched: MaybeYes = None
    under_water: MaybeYes = None
    flammables_near: MaybeYes = None
    pilot_gas_off: Seconds | Absent | NotMeasured | None = None
    ignition_as_instructed: MaybeYes = None
    flame_normal: MaybeYes = None
    spills: MaybeYes = None
    other_gas_in_room: MaybeYes = None
    spills_with_all_on: MaybeYes = None
    flue_co: Parts | NotMeasured | None = None
    flue_oxygen: Oxygen | NotMeasured | None = None
    flue_co_air_free: Parts | NotMeasured | None = None
    tested_after_removal: MaybeYes = None
    rechecked: MaybeYes = None
    gas_pipe_checked: MaybeYes = None
    all_steps_recorded: MaybeYes = None
