"""Everything the engine says of one appliance on one vent: the answer to ``draft``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, Protocol

from fluewright.draft.doubts import Doubts
from fluewright.draft.margins import Limits, limits, spill_margin
from fluewright.draft.solve import Solved, solve
from fluewright.draft.system import Lone
from fluewright.draft.warmup import Start, Thresholds, Warmup, thresholds, warm_up

OUTDOOR = "outdoor_k"  # the input that the weather moves
WARMEST_K = 316.5  # 110 degF: how far up the outdoor temperature is tried
ROUGH_STEP_S = 4.0  # step of the runs that only look for a threshold
GRACE_S = 300.0  # spillage after this long counts (NFPA 54-2012 11.6, read in a state reprint)
# What field practice lets the room of a water heater alone on its vent reach with the house closed
# and all fans on (weatherization test tables, read on a practitioner page).
FANS_PA = 2.0
WARM_EVENING_K = 302.6  # 85 degF: the weather in which a vent has least to start on (assumed)

Hot = Literal["drafts", "spills", "cannot_tell"]


class Inputs(Protocol):
    """What a model says of one of its inputs."""

    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def label(self) -> str: ...  # noqa: D102
    @property
    def value(self) -> float: ...  # noqa: D102
    @property
    def low(self) -> float: ...  # noqa: D102
    @property
    def high(self) -> float: ...  # noqa: D102
    @property
    def unit(self) -> str: ...  # noqa: D102


class Model(Protocol):
    """A system as a function of its inputs, such as ``from_survey`` makes."""

    @property
    def system(self) -> Lone: ...  # noqa: D102
    @property
    def doubts(self) -> Doubts: ...  # noqa: D102
    @property
    def inputs(self) -> tuple[Inputs, ...]: ...  # noqa: D102

    def build(self, values: Mapping[str, float], *, firing: bool = True) -> Lone: ...  # noqa: D102


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """The margin where one input stands at either end of its range, all others in the middle."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    at_low_pa: float
    at_high_pa: float

    @property
    def reach_pa(self) -> float:
        """How far it moves the margin. [Pa]"""
        return abs(self.at_high_pa - self.at_low_pa)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """What the engine says of one appliance in one weather and house.

    Attributes:
        hot: whether it drafts once hot, at every input within its range; what was seen of the
            vent goes before what is computed.
        computed: the same by the figures alone.
        doubts: what was seen, or that nobody looked at.
        solved: all steady states and the hot one.
        margin_low_pa, margin_high_pa: the margin with all inputs at their worst and best ends.
        moved: what each input does to the margin, the strongest first.
        limits: what alone would bring it to spill.
        start: a start from cold, or None where there is no draft hood.
        thresholds: the suctions that it withstands, likewise.
        worst_start: a start with all inputs at the ends that lower the margin, likewise.
        warm: the same on a warm evening, where the weather asked for is cooler.
        no_start: why there is no start.
    """

    hot: Hot
    solved: Solved
    margin_low_pa: float
    margin_high_pa: float
    moved: tuple[Moved, ...]
    limits: Limits
    start: Warmup | None
    thresholds: Thresholds | None
    warm: Thresholds | None = None
    worst_start: Warmup | None = None
    no_start: str = ""
    computed: Hot = "cannot_tell"
    doubts: Doubts = field(default_factory=Doubts)

    @property
    def late(self) -> bool:
        """Whether it still spills after the grace of a start, or never takes over."""
        return _late(self.start)

    @property
    def may_be_late(self) -> bool:
        """Whether it is late with all that is not known at its worst."""
        return self.late or _late(self.worst_start)

    @property
    def fails_warm(self) -> bool:
        """Whether it does not take over on a warm evening even without suction."""
        return self.warm is not None and self.warm.establishing_pa is None

    @property
    def fans_may_stop_it(self) -> bool:
        """Whether it starts only with less suction than field practice lets a house reach."""
        told = [one for one in (self.thresholds, self.warm) if one is not None]
        return any(one.establishing_pa is None or one.establishing_pa < FANS_PA for one in told)

    @property
    def fails(self) -> bool:
        """Whether anything was found that no one may leave as it is, or that cannot be told."""
        if self.hot != "drafts" or self.may_be_late or self.fails_warm:
            return True
        # Only a test tells whether the fans of this house stop it.
        return self.fans_may_stop_it and not self.doubts.tested


def assess(model: Model, start: Start | None = None) -> Assessment:
    """Steady states, margins, start and what matters most, of one appliance. [Pa, s]

    Source: `draft.solve`, `draft.margins`, `draft.warmup`; the range of the margin is the sum of
    what the inputs do one at a time, all to the bad or all to the good; its lower end is at
    most what they do together.

    Args:
        model: the system and its inputs with their ranges.
        start: how the appliance starts; the default holds for a storage water heater.
    Returns:
        The whole answer.
    Raises:
        NotSolved: no balance was found, and why.
        OutOfRange: a figure that no vent can have.
    """
    start = start or Start()
    system = model.system
    solved = solve(system)
    margin = solved.margin_pa
    moved = effects(model)
    worst = _worst(moved)
    low = margin - sum(max(margin - min(m.at_low_pa, m.at_high_pa), 0.0) for m in moved)
    low = min(low, spill_margin(model.build(worst)))
    high = margin + sum(max(max(m.at_low_pa, m.at_high_pa) - margin, 0.0) for m in moved)
    computed: Hot = "drafts" if low >= 0.0 else "spills" if high < 0.0 else "cannot_tell"
    course, suctions, warm, why = None, None, None, "A fan-assisted appliance has its own fan."
    badly = None
    if system.hood is not None:
        course, suctions, why = warm_up(system, start), _suctions(system, start), ""
        badly = warm_up(model.build(worst), replace(start, step_s=max(start.step_s, ROUGH_STEP_S)))
        if system.around.outdoor_k < WARM_EVENING_K:
            warm = _suctions(model.build({OUTDOOR: WARM_EVENING_K}), start)
    return Assessment(
        hot=_weighed(computed, model.doubts),
        solved=solved,
        margin_low_pa=low,
        margin_high_pa=high,
        moved=moved,
        limits=limits(system, lambda outdoor_k: model.build({OUTDOOR: outdoor_k}), WARMEST_K),
        start=course,
        thresholds=suctions,
        worst_start=badly,
        warm=warm,
        no_start=why,
        computed=computed,
        doubts=model.doubts,
    )


def _late(start: Warmup | None) -> bool:
    if start is None:
        return False
    return start.spills_s is None or start.spills_s > GRACE_S


def _weighed(computed: Hot, doubts: Doubts) -> Hot:
    """What is computed, after what was seen: that never makes it better."""
    if doubts.spills:
        return "spills"
    return "cannot_tell" if computed == "drafts" and doubts.any else computed


def _worst(moved: Iterable[Moved]) -> dict[str, float]:
    """Every input at the end that lowers the margin; at the upper one where that is no matter."""
    return {one.name: one.low if one.at_low_pa < one.at_high_pa else one.high for one in moved}


def effects(model: Model) -> tuple[Moved, ...]:
    """What each input does to the margin between the ends of its range, the strongest first.

    Args:
        model: the system and its inputs.
    Returns:
        One entry for each input that has a range.
    Raises:
        NotSolved: an end at which there is no vent.
    """
    found: list[Moved] = []
    for one in model.inputs:
        if not one.low < one.high:
            continue
        ends = [spill_margin(model.build({one.name: value})) for value in (one.low, one.high)]
        found.append(
            Moved(
                name=one.name,
                label=one.label,
                unit=one.unit,
                low=one.low,
                high=one.high,
                at_low_pa=ends[0],
                at_high_pa=ends[1],
            )
        )
    return tuple(sorted(found, key=lambda one: -one.reach_pa))


def _suctions(system: Lone, start: Start) -> Thresholds:
    """The three thresholds, with the coarse step that a search can afford."""
    rough = replace(start, step_s=max(start.step_s, ROUGH_STEP_S))
    return thresholds(system, rough, GRACE_S)
