"""What each figure is drawn from: plain numbers in the caller's units, and words.

Nothing here is converted: a ``Measure`` says what the numbers are and in which unit, and
``also`` asks for a second scale beside the first. A number that nobody knows is left out where
the field allows ``None``; it is never a zero.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Size = Literal["column", "phone"]
Branch = Literal["drafting", "spilling", "stalled", "reversed"]
SpillClass = Literal["short", "over_1", "over_5", "never", "unknown"]
Shared = Literal["auto", "height", "along"]

COMPUTED = "Computed from the survey, not measured. What a test at the appliance shows goes first."
CO_CAUTION = (
    "Computed, not measured. Carbon monoxide harms before an alarm sounds. Where it is suspected: "
    "everyone out, call for help, leave the appliance off."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Also:
    """A second unit for the same scale: second = first * times + plus."""

    unit: str
    times: float
    plus: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What a scale shows, its unit, and a second unit where it is asked for."""

    name: str
    unit: str = ""
    also: Also | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What every figure says.

    Attributes:
        title: what is shown, in a few words.
        answer: what it comes to, said first; danger goes before all else.
        alarm: whether the answer is a hazard.
        notes: lines under the figure.
        caution: what to mind, under the notes.
        size: ``column`` of a Letter or A4 report, or ``phone``.
    """

    title: str
    answer: str
    alarm: bool = False
    notes: tuple[str, ...] = ()
    caution: str = COMPUTED
    size: Size = "column"


# ------------------------------------------------------------------- along the path


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner of the simplified path.

    ``name`` and ``wall`` are those of the stretch that starts here (a word of ``WALL_WORDS``);
    both are empty at the last corner.
    """

    x: float
    z: float
    name: str = ""
    wall: str = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """What holds at one place of the path, counted along it from the hood.

    ``dew`` is None where the gas holds no water that is known.
    """

    along: float
    height: float
    gas: float
    dew: float | None
    wall: float | None = None
    pressure: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongThePath(Figure):
    """Temperatures and pressure beside the path, from the hood to the cap.

    Attributes:
        path: corners, hood first, cap last, in the unit of ``length``.
        stations: at least one, hood first.
        pressure: vent less surroundings.
        shared: what stands on the upright scale; ``auto`` takes the height where the path rises
            for the most part, else the length along it.
        hood: whether it starts at a draft hood.
        cap: whether it ends at a cap.
    """

    path: tuple[Corner, ...]
    stations: tuple[Station, ...]
    length: Measure = field(default_factory=lambda: Measure(name="Height", unit="m"))
    temperature: Measure = field(default_factory=lambda: Measure(name="Temperature", unit="°C"))
    pressure: Measure = field(default_factory=lambda: Measure(name="Pressure", unit="Pa"))
    shared: Shared = "auto"
    hood: bool = True
    cap: bool = True


# ------------------------------------------------------------------- balance of flow


@dataclass(frozen=True, slots=True, kw_only=True)
class Root:
    """A flow at which the vent can stay (stable) or only passes through (not stable)."""

    flow: float
    pressure: float
    branch: Branch
    stable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowBalance(Figure):
    """Draft to be had and pressure lost against the flow in the vent, with every balance.

    Attributes:
        available: (flow, pressure) of the draft to be had, rising in flow; below zero the flow
            comes down the vent.
        lost: (flow, pressure) of what the flow uses up, negative for a flow down.
        roots: every balance found.
        demand: flow of the flue gas that has to go up; None where the appliance stands idle.
        operating: which of the roots it runs at; None where that is not known.
        margin_pa: draft that is to spare at ``demand``, negative where it lacks. [Pa]
    """

    available: tuple[tuple[float, float], ...]
    lost: tuple[tuple[float, float], ...]
    roots: tuple[Root, ...] = ()
    demand: float | None = None
    operating: int | None = None
    margin_pa: float | None = None
    flow: Measure = field(default_factory=lambda: Measure(name="Flow in the vent", unit="g/s"))
    pressure: Measure = field(default_factory=lambda: Measure(name="Pressure", unit="Pa"))


# ------------------------------------------------------------------- map of spill time


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOfTest:
    """Weather and house when the test was made."""

    outdoor: float
    house: float
    words: str = "the day of the test"


@dataclass(frozen=True, slots=True, kw_only=True)
class SpillTimeMap(Figure):
    """How long it spills after a cold start, over weather and house pressure.

    Attributes:
        outdoor: temperatures of the columns, rising.
        house: pressures of the rows, rising; negative is suction.
        classes: one row for each of ``house``, one class for each of ``outdoor``: ``short`` (no
            spillage beyond 60 s), ``over_1`` and ``over_5`` (minutes), ``never`` (draft does not
            establish), ``unknown`` (not solved).
        tests: days on which it was tested.
    """

    outdoor: tuple[float, ...]
    house: tuple[float, ...]
    classes: tuple[tuple[SpillClass, ...], ...]
    tests: tuple[DayOfTest, ...] = ()
    outdoor_measure: Measure = field(default_factory=lambda: Measure(name="Outdoors", unit="°C"))
    house_measure: Measure = field(
        default_factory=lambda: Measure(name="House pressure", unit="Pa")
    )


# ------------------------------------------------------------------- warm-up


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """What holds at one time after the burner lights. ``spilled`` is a share from 0 to 1.

    ``dew`` is None while no gas goes up.
    """

    time: float
    flow: float
    wall: float
    dew: float | None
    spilled: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WarmupTrace(Figure):
    """Flow, wall and spillage after a cold start.

    Attributes:
        moments: in order of time.
        demand: flow of the flue gas that has to go up.
        established: time from which nothing spills; None where that does not come.
    """

    moments: tuple[Moment, ...]
    demand: float | None = None
    established: float | None = None
    time: Measure = field(
        default_factory=lambda: Measure(name="Time after the burner lights", unit="min")
    )
    flow: Measure = field(default_factory=lambda: Measure(name="Flow in the vent", unit="g/s"))
    temperature: Measure = field(default_factory=lambda: Measure(name="Temperature", unit="°C"))


# ------------------------------------------------------------------- what matters most


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What one input does to the result at each end of its range.

    ``low`` and ``high`` are the input's values in words (``2 ft``); ``at_low`` and ``at_high``
    the result there.
    """

    name: str
    low: str
    high: str
    at_low: float
    at_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A line that a result is held against; ``fails`` says on which side it is worse."""

    value: float
    words: str
    fails: Literal["below", "above"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tornado(Figure):
    """What each input moves a result by, the greatest first."""

    effects: tuple[Effect, ...]
    base: float
    result: Measure
    base_words: str = "as surveyed"
    limit: Limit | None = None


# ------------------------------------------------------------------- carbon monoxide


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A level with a word beside it."""

    value: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Breath:
    """Room CO and what is bound in the blood at one time."""

    time: float
    co_ppm: float
    cohb_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmWindow:
    """Between which times an alarm first sounds.

    ``start`` None: none has to sound in the time shown. ``to`` None: it may come after the end of
    the plot.
    """

    start: float | None
    to: float | None = None
    words: str = "an alarm first sounds in here"


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposurePlot(Figure):
    """Carbon monoxide in the room and in the blood over time.

    ``window`` None says that nobody worked out when an alarm sounds.
    """

    caution: str = CO_CAUTION
    breaths: tuple[Breath, ...]
    window: AlarmWindow | None = None
    room_levels: tuple[Level, ...] = ()
    blood_levels: tuple[Level, ...] = ()
    time: Measure = field(default_factory=lambda: Measure(name="Time", unit="min"))


# ------------------------------------------------------------------- chances


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """A probability from 0 to 1 with the ends of its 95 % interval."""

    name: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HourBin:
    """Hours a year in one span of outdoor temperature, and those in which it spills."""

    words: str
    hours: float
    spilled: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbabilityBars(Figure):
    """How probable it is that it spills, fails to draft, or runs wet; and hours a year by weather.

    ``bins`` run from cold to warm; ``bin_title`` says what they are and in which unit.
    """

    chances: tuple[Chance, ...]
    bins: tuple[HourBin, ...] = ()
    bin_title: str = "Outdoors, °C"
