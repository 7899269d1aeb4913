"""Everything the engine says of the appliances on one shared vent, whichever of them burn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, Protocol

from fluewright.draft.assess import GRACE_S, Inputs, Moved
from fluewright.draft.doubts import Doubts
from fluewright.draft.system import Around
from fluewright.draft.tree import SolvedTree, StateOf, margin_near, solve_states
from fluewright.draft.tree_system import Joined, branches
from fluewright.draft.tree_warm import TreeStart, tree_start
from fluewright.draft.warmup import Start
from fluewright.errors import NotSolved

GRAVE = 3  # of the states so many, the worst, get a range of their margin in any case
WIDER = 1.5  # others too, where the margin is less than so many times the widest fall found there
START_STEP_S = 2.0  # coarser than for one appliance: there are several starts to follow

Word = Literal["drafts", "spills", "takes in", "cannot_tell", "not solved"]


class TreeModel(Protocol):
    """A shared vent as a function of its inputs, such as ``tree_from_survey`` makes."""

    @property
    def joined(self) -> Joined: ...  # noqa: D102
    @property
    def inputs(self) -> tuple[Inputs, ...]: ...  # noqa: D102
    @property
    def doubts(self) -> Doubts: ...  # noqa: D102

    def build(  # noqa: D102
        self, values: Mapping[str, float], *, firing: Mapping[str, bool] | None = None
    ) -> Joined: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """The vent once hot, with some of its appliances burning.

    Attributes:
        burning: their names.
        word: with all inputs in their middle "takes in", gas of one comes out at the hood of
            another, or "spills"; "drafts": at every input within its range, or, without a range,
            far from spilling in the middle of all; "cannot_tell"; "not solved".
        solved: all its balances and the hot one; None where none was found.
        reason: why not; empty where they were.
        margin_low_pa, margin_high_pa: margin with all inputs at their worst and best ends; None
            where they were not looked for, or where no margin was found at some end.
        moved: what each input does to the margin, the strongest first; empty likewise.
        otherwise: whether the vent can also hold a state, at the same figures, in which gas comes
            out.
    """

    burning: tuple[str, ...]
    word: Word
    solved: SolvedTree | None
    reason: str
    margin_low_pa: float | None
    margin_high_pa: float | None
    moved: tuple[Moved, ...]
    otherwise: bool

    @property
    def margin_pa(self) -> float | None:
        """Further suction of all rooms until gas comes out somewhere; below 0 it does. [Pa]"""
        return None if self.solved is None else self.solved.margin_pa

    @property
    def ranged(self) -> bool:
        """Whether the margin has a range."""
        return self.margin_low_pa is not None

    @property
    def fall_pa(self) -> float:
        """How far the margin falls at the worst ends; 0 where that was not looked for. [Pa]"""
        if self.margin_low_pa is None or self.margin_pa is None:
            return 0.0
        return self.margin_pa - self.margin_low_pa

    @property
    def fails(self) -> bool:
        """Whether it is one that no one may leave as it is, or that cannot be told."""
        return self.word != "drafts"


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdStart:
    """A start of some appliances in the cold vent.

    Attributes:
        burning: those that start.
        course: what happens.
    """

    burning: tuple[str, ...]
    course: TreeStart

    @property
    def fails(self) -> bool:
        """Whether gas still comes out somewhere after the grace of a start."""
        return self.course.late(GRACE_S)


@dataclass(frozen=True, slots=True, kw_only=True)
class TreeAssessment:
    """What the engine says of a shared vent in one weather and house.

    Attributes:
        around: that weather and house.
        combinations: of what burns, the gravest first.
        starts: from cold: each appliance alone, the smallest first, then all at once.
        doubts: what was seen, or that nobody looked at: it goes before what is computed.
    """

    around: Around
    combinations: tuple[Combination, ...]
    starts: tuple[ColdStart, ...]
    doubts: Doubts = field(default_factory=Doubts)

    @property
    def worst(self) -> Combination:
        """The gravest combination."""
        return self.combinations[0]

    @property
    def fails(self) -> bool:
        """Whether anything was found that no one may leave as it is, or that cannot be told."""
        if self.doubts.any:
            return True
        return any(one.fails for one in self.combinations) or any(one.fails for one in self.starts)


def assess_tree(model: TreeModel, start: Start | None = None) -> TreeAssessment:
    """Balances, margins and starts of all appliances on a shared vent. [Pa, s]

    Source: `draft.tree`, `draft.tree_warm`; the range of a margin is the sum of what the inputs do
    one at a time, all to the bad or all to the good, and is looked for in the worst states and in
    those that are not far from them.

    Args:
        model: the vent and its inputs with their ranges.
        start: how each appliance starts; the default holds for a storage water heater.
    Returns:
        The whole answer.
    Raises:
        OutOfRange: a figure that no vent can have.
    """
    found: list[Combination] = []
    fall = 0.0
    for i, one in enumerate(solve_states(model.joined)):
        margin = None if one.solved is None else one.solved.margin_pa
        near = margin is None or margin < WIDER * fall
        found.append(_combination(model, one, ranged=i < GRAVE or near))
        fall = max(fall, found[-1].fall_pa)
    return TreeAssessment(
        around=model.joined.around,
        combinations=tuple(sorted(found, key=_gravity)),
        starts=_starts(model.joined, start or Start(burn_s=2.0 * GRACE_S)),
        doubts=model.doubts,
    )


def effects_tree(
    model: TreeModel, burning: tuple[str, ...], near: SolvedTree
) -> tuple[Moved, ...] | None:
    """What each input does to the margin of one state, the strongest first. [Pa]

    Args:
        model: the vent and its inputs.
        burning: names of the appliances that burn.
        near: that state with all inputs at their values.
    Returns:
        One entry for each input that has a range; None where some end has no margin.
    Raises:
        OutOfRange: a figure that no vent can have.
    """
    firing = {one.name: one.name in burning for one in branches(model.joined)}
    usual = model.build({}, firing=firing)
    found: list[Moved] = []
    for one in model.inputs:
        if not one.low < one.high:
            continue
        ends: list[float] = []
        for value in (one.low, one.high):
            there = model.build({one.name: value}, firing=firing)
            try:
                margin = near.margin_pa if there == usual else margin_near(there, near)
            except NotSolved:
                margin = None
            if margin is None:
                return None
            ends.append(margin)
        found.append(
            Moved(
                name=one.name, label=one.label, unit=one.unit, low=one.low, high=one.high,
                at_low_pa=ends[0], at_high_pa=ends[1],
            )
        )  # fmt: skip
    return tuple(sorted(found, key=lambda one: -one.reach_pa))


def _combination(model: TreeModel, one: StateOf, *, ranged: bool) -> Combination:
    solved, moved, low, high = one.solved, None, None, None
    margin = solved.margin_pa if solved is not None else None
    if ranged and solved is not None and margin is not None:
        moved = effects_tree(model, one.burning, solved)
    if moved is not None and margin is not None:
        low = margin - sum(max(margin - min(m.at_low_pa, m.at_high_pa), 0.0) for m in moved)
        high = margin + sum(max(max(m.at_low_pa, m.at_high_pa) - margin, 0.0) for m in moved)
    return Combination(
        burning=one.burning,
        word=_word(solved, low, ranged=ranged),
        solved=solved,
        reason=one.reason or "",
        margin_low_pa=low,
        margin_high_pa=high,
        moved=moved or (),
        otherwise=solved is not None
        and any(root.stable and root.spills and root != solved.at for root in solved.roots),
    )


def _word(solved: SolvedTree | None, low: float | None, *, ranged: bool) -> Word:
    if solved is None:
        return "not solved"
    if any(one.foreign_kg_s > 0.0 for one in solved.at.appliances):
        return "takes in"
    if solved.at.spills:
        return "spills"
    margin = solved.margin_pa
    if margin is None or margin < 0.0 or (ranged and low is None):
        return "cannot_tell"
    return "drafts" if low is None or low >= 0.0 else "cannot_tell"


def _gravity(one: Combination) -> tuple[int, float]:
    rank = ("takes in", "spills", "not solved", "cannot_tell", "drafts").index(one.word)
    least = one.margin_low_pa if one.margin_low_pa is not None else one.margin_pa
    return rank, float("-inf") if least is None else least


def _starts(joined: Joined, start: Start) -> tuple[ColdStart, ...]:
    """Each appliance alone in the cold vent, the smallest first; then all at once."""
    able = [one for one in branches(joined) if one.flue.mass_kg_s > 0.0]
    by_size = sorted(able, key=lambda one: one.flue.mass_kg_s)
    ways: list[tuple[str, ...]] = [(one.name,) for one in by_size]
    if len(able) > 1:
        ways.append(tuple(one.name for one in able))
    rough = Start(
        burn_s=start.burn_s,
        step_s=max(start.step_s, START_STEP_S),
        cold_share=start.cold_share,
        warm_s=start.warm_s,
    )
    return tuple(
        ColdStart(burning=burning, course=tree_start(joined, burning, rough)) for burning in ways
    )
