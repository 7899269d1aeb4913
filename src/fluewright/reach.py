"""What of a path this version does not judge, and what in a survey cannot all be so.

Rules answer only what they ask. Where the path is of a kind whose own requirements are not among
them, or where two observations contradict each other, silence would read as a pass: each such
thing is said in one sentence, and no such judgement counts as settled well.
"""

from __future__ import annotations

from itertools import pairwise

from fluewright.geometry import Trace, oddities, trace
from fluewright.joining import JUNCTIONS
from fluewright.quantity import Measured
from fluewright.survey import ABSENT, Appliance, Path, Piece, Survey

HAIR = 0.0016  # two bores nearer than a sixteenth of an inch are one size [m]
NOT_JUDGED = "this version does not judge"
OTHER_PIPE = ("special", "plastic_listed", "plastic_unlisted", "corrugated", "foil")
OUTSIDE_WALL = ("at_wall", "under_eave", "under_parapet")
THROUGH_WALL = ("exterior_wall", "rated_wall")


# Where an appliance of another kind than a water heater may not just stand.
PLACES = {
    "bathroom": "whether it may stand there, and where its air comes from",
    "bedroom": "whether it may stand there, and where its air comes from",
}
JUDGED_THERE = ("storage water heater", "instantaneous water heater")


def look_again(survey: Survey, path: Path, found: Trace | None = None) -> tuple[str, ...]:
    """One sentence for each thing of a path that the rules leave open or that cannot be so.

    Args:
        survey: the whole survey.
        path: one of its paths.
        found: the path with its pieces placed, where somebody has it already.
    """
    owner = survey.appliance_of(path)
    on_top = owner.outlet_on_top if isinstance(owner.outlet_on_top, bool) else None
    whole = (
        *_place(survey, owner),
        *_beyond(path),
        *_contradictions(survey, path),
        *_steps(path),
        *_loose(path),
    )
    return (*(f"{path.from_}: {text}" for text in whole), *oddities(found or trace(path, on_top)))


def of_survey(survey: Survey) -> tuple[str, ...]:
    """The same for the survey as a whole: appliances without a path, or with more than one."""
    starts = [path.from_ for path in survey.paths]
    notes: list[str] = []
    for name in survey.appliances:
        if name not in starts:
            notes.append(
                f"{name}: no path is described for this appliance, so nothing about it was judged"
            )
        elif starts.count(name) > 1:
            notes.append(f"{name}: more than one path starts at this appliance")
    return tuple(notes)


def _place(survey: Survey, owner: Appliance) -> list[str]:
    space = survey.spaces.get(owner.space or "")
    if space is None or space.kind not in PLACES or owner.kind in JUDGED_THERE:
        return []
    return [f"it stands in a space of the kind {space.kind}: {NOT_JUDGED} {PLACES[space.kind]}"]


def _beyond(path: Path) -> list[str]:
    notes: list[str] = []
    notes += _sharing(path)
    vent = {piece.wall for piece in path.pieces if piece.role == "vent"}
    other = sorted(str(wall) for wall in vent & set(OTHER_PIPE))
    if other:
        kinds = ", ".join(other).replace("_", " ")
        notes.append(f"vent of the kind {kinds}: {NOT_JUDGED} all that its instructions ask")
    return notes


def _sharing(path: Path) -> list[str]:
    """A shared vent is judged as one where the survey describes it with all that burns into it."""
    others = path.vent.shares_with
    if not isinstance(others, tuple):
        return []
    said = ", ".join(others).replace("_", " ")
    if path.joins is None:
        return [
            f"the vent is shared ({said}), and not described under common: sizes, entries and "
            "lengths of a shared vent are judged only there, with every appliance on it"
        ]
    if set(others) - {"gas"}:
        return [
            f"the vent is shared ({said}): {NOT_JUDGED} its size with what burns something else "
            "than gas"
        ]
    return []


def _contradictions(survey: Survey, path: Path) -> list[str]:
    notes: list[str] = []
    owner, roof, vent = survey.appliance_of(path), path.roof, path.vent
    passed = _passed(path)
    if passed is not None:
        if roof.ends == "above_roof" and passed.isdisjoint(("roof", *THROUGH_WALL)):
            notes.append("the vent ends above the roof, but passes neither roof nor outside wall")
        if roof.ends in OUTSIDE_WALL and passed.isdisjoint(("roof", *THROUGH_WALL)):
            notes.append("the vent ends outdoors, but passes neither roof nor outside wall")
        if len(_spaces(path.pieces)) > 1 and not passed:
            notes.append("the path lies in more than one space, but passes nothing between them")
    if vent.cap is False and path.pieces and path.pieces[-1].part == "cap":
        notes.append("a cap is listed, and said not to be there")
    hood = owner.hood.present if owner.hood else None
    if hood is True and owner.draft is not None and owner.draft != "draft_hood":
        notes.append("a draft hood is seen on an appliance that is said to draft otherwise")
    return notes


def _passed(path: Path) -> set[str] | None:
    """Everything that connector and vent pass; None where one of them does not say."""
    both = (path.connector.passes, path.vent.passes)
    passed: set[str] = set()
    for one in both:
        if isinstance(one, tuple):
            passed.update(one)
        elif one is not ABSENT:
            return None
    return passed


def _spaces(pieces: tuple[Piece, ...]) -> set[str]:
    return {piece.space for piece in pieces if piece.space is not None and piece.part != "cap"}


def _steps(path: Path) -> list[str]:
    """Neighbors of different size, where no piece is told that leads from one to the other."""
    notes: list[str] = []
    for before, after in pairwise(p for p in path.pieces if p.part != "cap"):
        if _into_branch(path, before, after):
            continue  # the branch of a tee has a size of its own
        end = before.to_diameter if before.part == "reducer" else before.diameter
        if not isinstance(end, Measured) or not isinstance(after.diameter, Measured):
            continue
        if abs(end.value - after.diameter.value) > end.tolerance + after.diameter.tolerance + HAIR:
            notes.append(
                f"{before.id} ends in another size than {after.id} begins with: a reducer is "
                "missing from the list, or put in the wrong way round"
            )
    return notes


def _into_branch(path: Path, before: Piece, after: Piece) -> bool:
    """Whether a connector ends there in the side of a tee or wye of a common vent."""
    from_below = path.enters is not None and path.enters.way == "through"
    enters = path.joins is not None and before.role == "connector" and after.role == "vent"
    return enters and not from_below and after.part in JUNCTIONS


def _loose(path: Path) -> list[str]:
    """Vent joints that hold by tape or friction: each system has its own lock or screws."""
    return [
        f"the joint into {piece.id} holds by {piece.joint.fastening.replace('_', ' ')}: vent is "
        "locked or screwed as its instructions say"
        for piece in path.pieces
        if piece.role == "vent" and piece.part != "cap" and piece.joint is not None
        and piece.joint.fastening in ("tape_only", "friction_only")
    ]  # fmt: skip
