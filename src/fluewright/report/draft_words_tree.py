"""What the draft engine found of a shared vent, as sentences: danger first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fluewright.draft.assess import GRACE_S
from fluewright.draft.assess_tree import Combination, TreeAssessment
from fluewright.draft.from_survey_tree import ModelledTree
from fluewright.draft.tree_warm import Course, TreeStart
from fluewright.quantity import Style
from fluewright.report.draft_words import (
    CAUTIONS,
    MEND_FIRST,
    SHUT_OFF,
    SURE_PA,
    doubted,
    first,
    left_open,
    moved,
    pressure,
    span,
    surroundings,
)
from fluewright.report.words import joined

TEST_FIRST = (
    "Do not rely on it before a spillage test of every appliance, each alone and all together, "
    "with the house closed and fans running."
)
NOT_COMPUTED = (
    "Not computed for a shared vent: whether walls stay wet, a start on a warm evening, the "
    "suctions that a start withstands, samples of what is not known, a year of weather, carbon "
    "monoxide in the room, and figures."
)
OTHERS_GAS = "flue gas of another appliance comes out at the hood of"


def words(found: TreeAssessment, model: ModelledTree, style: Style = "us") -> tuple[str, ...]:
    """All that was found of a shared vent, danger first, cautions last.

    Args:
        found: the answer.
        model: what it was worked out from.
        style: units.
    Returns:
        Plain sentences.
    """
    return (
        *danger(found),
        answer(found, style),
        *first(found.doubts),
        *hot(found, style),
        *starts(found),
        *matters(found),
        *reckoned_with(model, style),
        *CAUTIONS,
    )


def answer(found: TreeAssessment, style: Style = "us") -> str:
    """The answer in one sentence, about the worst combination of what burns."""
    if found.doubts.spills:
        return f"It spills: {'; '.join(found.doubts.spills)}."
    worst = found.worst
    burning = f"{_who(worst.burning)} burning"
    when = f"With {burning}"
    if worst.word == "takes in":
        return f"{when}, {OTHERS_GAS} {joined(_taking(worst))}."
    if worst.word == "spills":
        return f"{when}, it spills even hot: flue gas comes into the room."
    if worst.word == "not solved":
        return f"{when}, no answer: {worst.reason}"
    if found.doubts.any:
        return doubted(found.doubts)
    late = [one for one in found.starts if one.fails]
    if late:
        first = _who(late[0].burning)
        return f"It may not start: from cold, with {first} coming on, gas comes out for too long."
    if worst.word == "cannot_tell":
        return (
            f"{when}, it cannot be told whether all gas goes up: the margin, "
            f"{_margin(worst, style)}, is smaller than what is not known."
        )
    least = worst.margin_pa if worst.margin_low_pa is None else worst.margin_low_pa
    if least is None or least < SURE_PA:
        return f"All gas goes up, with little to spare with {burning}: {_margin(worst, style)}."
    return (
        "All gas goes up in this weather and house, whichever appliances burn, hot and from cold."
    )


def danger(found: TreeAssessment) -> tuple[str, ...]:
    """What to do first, where gas comes out or nobody can tell; empty where neither."""
    spills = any(one.word in ("takes in", "spills") for one in found.combinations)
    never = any(
        course.spills_s is None or course.foreign_kg_s[-1] > 0.0
        for one in found.starts
        for course in one.course.courses
    )
    if spills or never or found.doubts.spills:
        return (SHUT_OFF.replace("the appliance ", "the appliances ", 1),)
    if found.doubts.grave or found.doubts.past:
        return (MEND_FIRST.replace("the appliance ", "the appliances ", 1),)
    return (TEST_FIRST,) if found.fails else ()


def hot(found: TreeAssessment, style: Style = "us") -> Iterator[str]:
    """Every combination of what burns, the gravest first."""
    for one in found.combinations:
        yield f"Hot, with {_who(one.burning)} burning: {_combination(one, style)}"
        if one.otherwise:
            yield (
                f"With {_who(one.burning)} burning the same vent can also stand so that gas comes "
                "out, if a fan or a gust once turned it."
            )


def starts(found: TreeAssessment) -> Iterator[str]:
    """What happens from cold: each appliance alone, the smallest first, then all at once."""
    for one in found.starts:
        yield f"From cold, {_who(one.burning)} coming on: {_start(one.course)}."
    yield NOT_COMPUTED


def matters(found: TreeAssessment, most: int = 5) -> Iterator[str]:
    """What moves the margin of the worst combination most."""
    for one in found.worst.moved[:most]:
        if one.reach_pa >= 0.05:
            yield f"With {_who(found.worst.burning)} burning, {moved(one)}."


def reckoned_with(model: ModelledTree, style: Style = "us") -> Iterator[str]:
    """Weather, house, what was assumed, and what is not in the figures."""
    yield surroundings(model.joined.around, style)
    rest = [text for text in model.not_modelled if text not in model.doubts.grave]
    yield from left_open(model.assumed, rest)


def _combination(one: Combination, style: Style) -> str:
    if one.solved is None:
        return f"no answer. {one.reason}"
    told = [f"{OTHERS_GAS} {name}" for name in _taking(one)]
    for each in one.solved.at.appliances:
        if each.spilled > 0.0:
            told.append(f"{100.0 * each.spilled:.0f} % of the gas of {each.name} goes into a room")
        elif each.flue_kg_s > 0.0:
            told.append(f"all gas of {each.name} goes up")
    margin = one.margin_pa
    if margin is None:
        told.append("how far it is from spilling was not found")
    elif margin < 0.0:
        told.append(f"it lacks {pressure(-margin, style)}")
    else:
        told.append(
            f"{pressure(margin, style)} more suction in the rooms, or wind against the cap, "
            f"until gas can come out, first at {one.solved.first}"
        )
    if one.margin_low_pa is not None and one.margin_high_pa is not None:
        told.append(
            "with all that is not known at its worst that is "
            f"{pressure(one.margin_low_pa, style)}, at its best "
            f"{pressure(one.margin_high_pa, style)}"
        )
    else:
        told.append("what is not known was not run through its range here")
    return f"{'; '.join(told)}."


def _margin(one: Combination, style: Style) -> str:
    if one.margin_pa is None:
        return "which was not found"
    if one.margin_low_pa is None:
        return pressure(one.margin_pa, style)
    return f"{pressure(one.margin_pa, style)}, at worst {pressure(one.margin_low_pa, style)}"


def _taking(one: Combination) -> list[str]:
    """The appliances at whose hood gas of others comes out."""
    if one.solved is None:
        return []
    return [each.name for each in one.solved.at.appliances if each.foreign_kg_s > 0.0]


def _start(course: TreeStart) -> str:
    """One start, appliance by appliance."""
    ran = course.at_s[-1]
    told = [_foreign(one) for one in course.courses if one.foreign_s > 0.0]
    told += [_own(one, ran) for one in course.courses if one.burns]
    return "; ".join(told)


def _own(one: Course, ran_s: float) -> str:
    if one.spills_s is None:
        return f"{one.name} spills for all of {span(ran_s)}, it does not take over"
    if one.spills_s <= 0.0:
        return f"{one.name} takes over within seconds"
    grace = "" if one.spills_s <= GRACE_S else ", longer than the 5 min after which it counts"
    return f"{one.name} spills for {span(one.spills_s)}{grace}"


def _foreign(one: Course) -> str:
    return f"{OTHERS_GAS} {one.name} for {span(one.foreign_s)}"


def _who(names: Sequence[str]) -> str:
    return f"{joined(names)} alone" if len(names) == 1 else joined(names)
