"""Carbon monoxide from one appliance whose gas comes into its room: as computed, and all of it.

Each is a range: from the mild end of everything, with the flame burning as it was measured, to
the grave end, with the flame burning as badly as spilled gas was seen to make it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.draft import warm_kernel
from fluewright.draft.assess import effects
from fluewright.draft.co_release import VITIATION, Spell, cycles
from fluewright.draft.co_room import Rooms, Zone
from fluewright.draft.combustion import products
from fluewright.draft.exposure import ExposureRange, Scenario, exposure_between
from fluewright.draft.from_survey import Modelled
from fluewright.draft.solve import solve
from fluewright.draft.system import Lone
from fluewright.draft.warmup import Arithmetic, Start, warm_up
from fluewright.errors import NotSolved, OutOfRange

MOLAR_M3_KMOL = 22.413962  # ideal gas at 0 degC and 101.325 kPa
# A storage water heater that draws keep busy, for a night's sleep. Common practice, no source.
BURN_S, REST_S, COUNT = 1200.0, 2400.0, 8
# Air changes of a dwelling that nobody measured, from tight to leaky. Assumed, no source.
USUAL_AIR_CHANGES_S = (0.2 / 3600.0, 1.0 / 3600.0)
FAN = "A fan drives its gas into the vent: what leaks out of that is not computed."

Ends = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoAsked:
    """What has to be known of the gas and the room, each from its low to its high end.

    Attributes:
        air_free_ppm: CO in the air-free flue gas. [ppm]
        room: its name.
        volume_m3: of the room. [m3]
        air_changes_s: with outdoor air. [1/s]
        note: what else has to be said of the room.
    """

    air_free_ppm: Ends
    room: str
    volume_m3: Ends
    air_changes_s: Ends
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpilledCo:
    """One scenario.

    Attributes:
        name: "as computed" or "all of it spills".
        what: what spills for how long, at either end, in words.
        found: both exposures; None where there are none.
        reason: why not.
    """

    name: str
    what: str
    found: ExposureRange | None = None
    reason: str = ""

    @property
    def spills(self) -> bool:
        """Whether anything spills, at the grave end at least."""
        return self.found is not None and any(flow > 0.0 for _, flow in self.found.high.release)


def spilled_co(
    model: Modelled,
    asked: CoAsked,
    start: Start,
    arithmetic: Arithmetic = warm_kernel,
) -> tuple[SpilledCo, ...]:
    """CO in the room and in the blood, where it spills as computed and where all of it spills.

    Source: `draft.exposure`; start and hot state with every input at its good and its bad end.
    Valid: mixed room, constant air change, the spillage of every start the same.

    Args:
        model: the appliance, weather and house among its inputs with their ranges.
        asked: gas and room.
        start: from cold; ``burn_s`` is not looked at.
        arithmetic: of the starts.
    Returns:
        Two scenarios, the graver first.
    """
    whole = _range(
        model, asked, "all of it spills",
        (cycles(BURN_S, REST_S, COUNT, 1.0),
         (Spell(duration_s=(BURN_S + REST_S) * COUNT, spilled=1.0),)),
        f"all flue gas, {_rhythm()} to without a stop, {_hours():g} h",
    )  # fmt: skip
    name = "as computed"
    if model.system.hood is None:
        return whole, SpilledCo(name=name, what="", reason=FAN)
    try:
        mild, grave = _computed(model, replace(start, burn_s=BURN_S), arithmetic)
    except (NotSolved, OutOfRange) as error:
        return whole, SpilledCo(name=name, what="", reason=str(error))
    burns = tuple(cycles(BURN_S, REST_S, COUNT, pairs) for pairs in (mild, grave))
    what = (
        f"{_said(mild)} to {_said(grave)} of each burn, {_rhythm()}, {_hours():g} h; weather, fans "
        "and all inputs at their good and at their bad ends"
    )
    return whole, _range(model, asked, name, (burns[0], burns[1]), what)


Pairs = tuple[tuple[float, float], ...]


def _computed(model: Modelled, start: Start, arithmetic: Arithmetic) -> tuple[Pairs, Pairs]:
    """What spills of a burn with all inputs at their good ends, and at their bad ones."""
    good, bad = dict[str, float](), dict[str, float]()
    for one in effects(model):
        at = (one.low, one.high) if one.at_low_pa < one.at_high_pa else (one.high, one.low)
        bad[one.name], good[one.name] = at
    mild = _burn(model.build(good), start, arithmetic, grave=False)
    grave = _burn(model.build(bad), start, arithmetic, grave=True)
    seconds = max(mild[0][0], grave[0][0])
    return mild, ((seconds, 1.0), (math.inf, max(mild[1][1], grave[1][1])))


def _burn(system: Lone, start: Start, arithmetic: Arithmetic, *, grave: bool) -> Pairs:
    """All that spills at the start, then the share of a hot vent.

    The grave end lets all of the gas spill until spillage ends, the mild end as much as adds up
    to the same gas.
    """
    course = warm_up(system, start, arithmetic)
    if course.spills_s is None:
        spilt = start.burn_s if grave else course.flue_s
        return (min(spilt, start.burn_s), 1.0), (math.inf, solve(system).at.spilled)
    seconds = course.spills_s if grave and course.flue_s > 0.0 else course.flue_s
    return (seconds, 1.0), (math.inf, solve(system).at.spilled)


def _range(
    model: Modelled,
    asked: CoAsked,
    name: str,
    spells: tuple[Sequence[Spell], Sequence[Spell]],
    what: str,
) -> SpilledCo:
    """The two ends of one scenario, or why there are none."""
    ends = [_scenario(model, asked, name, tuple(spells[end]), end) for end in (0, 1)]
    try:
        return SpilledCo(name=name, what=what, found=exposure_between(*ends))
    except (NotSolved, OutOfRange) as error:
        return SpilledCo(name=name, what=what, reason=str(error))


def _scenario(
    model: Modelled, asked: CoAsked, name: str, spells: tuple[Spell, ...], end: int
) -> Scenario:
    """One end: 0 the mild, 1 the grave."""
    flame, around = model.plan.flame, model.system.around
    burned = products(flame.fuel, o2_dry=0.0)
    given = (flame.input_w.low, flame.input_w.high)[end]
    rate = 1.0 if flame.rate is None else (flame.rate.low, flame.rate.high)[end]
    volume = asked.volume_m3[1 - end]
    air = Zone(
        name=asked.room, volume_m3=volume, outdoor_m3_s=volume * asked.air_changes_s[1 - end]
    )
    return Scenario(
        name=f"{name}, {('mild', 'grave')[end]} end",
        air_free_ppm=asked.air_free_ppm[end],
        dry_m3_j=burned.kmol_j * (1.0 - burned.gas.water) * MOLAR_M3_KMOL,
        input_w=given * rate,
        spells=spells,
        rooms=Rooms(appliance=air),
        multiplier=(VITIATION.low, VITIATION.high)[end],
        room_k=around.room_k,
        air_pa=around.air_pa,
    )


def _said(pairs: Pairs) -> str:
    """What spills of a burn, in words."""
    (seconds, _), (_, then) = pairs
    if seconds >= BURN_S:
        return "all"
    after = f" and {100.0 * then:.0f} % of the rest" if then > 0.0 else ""
    return f"{seconds:.0f} s{after}"


def _rhythm() -> str:
    return f"{BURN_S / 60.0:g} min in every {(BURN_S + REST_S) / 60.0:g}"


def _hours() -> float:
    return COUNT * (BURN_S + REST_S) / 3600.0
