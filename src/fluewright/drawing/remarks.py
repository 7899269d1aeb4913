"""What a sheet says in words: remarks, title, and the sheet for those who do not see it."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.drawing.plan import Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.sheet import CAUTION, OPEN_NOTE, Scale, Title
from fluewright.drawing.tree import Branch
from fluewright.drawing.words import value_text
from fluewright.finding import Finding, Judgement
from fluewright.quantity import Measured
from fluewright.survey import Chimney


def remarks_of(plan: Plan) -> list[str]:
    """What stands under the figure."""
    what = "The path is" if plan.lone is not None else "All connectors and the common vent are"
    lines = [
        f"{what} unfolded into one plane: every run shows its true length, turns in plan are "
        "straightened. Outline of the appliance and thickness of floor, ceiling and roof are not "
        "to scale. ± is the bound of a reading; ≈ is an estimate."
    ]
    more = [*_not_to_scale(plan), *_not_drawn(plan)]
    if plan.open_answers:
        count = plan.open_answers
        noun = "answer is" if count == 1 else "answers are"
        lines.insert(0, f"{count} {noun} {OPEN_NOTE}")
    if more:
        lines.append(" ".join(more))
    return [*lines, CAUTION]


def _not_to_scale(plan: Plan) -> list[str]:
    said: list[str] = []
    nominal = [leg.piece.id for leg in plan.legs if leg.nominal]
    if nominal:
        said.append(f"Not to scale, for want of a length: {', '.join(nominal)}.")
    longer = [leg.piece.id for leg in plan.legs if leg.untrue]
    if longer:
        said.append(f"Not at its true length, so that all stands clear: {', '.join(longer)}.")
    unknown = [b.name for b in plan.tree.live if not b.route.hood_known]
    if unknown:
        of = "" if plan.lone is not None else f" of {', '.join(unknown)}"
        said.append(
            f"Height of the hood outlet{of} over the floor not measured: drawn at a usual height."
        )
    chimney = plan.path.chimney
    cased = isinstance(chimney, Chimney) and chimney.kind == "masonry"
    if cased or any(leg.liner for leg in plan.legs):
        said.append(
            "Thickness of the chimney's walls and its foot below the inlet are not to scale."
        )
    gone = [b.name for b in plan.tree.branches if b.gone]
    if gone:
        said.append(f"Dashed: {', '.join(gone)}, taken out, as it was once joined.")
    level = [b.name for b in plan.tree.live if b.stub and _from_beside(b)]
    if level:
        said.append(f"Drawn below the manifold, which it enters from the side: {', '.join(level)}.")
    return said


def _from_beside(branch: Branch) -> bool:
    """Whether a level connector is drawn to enter a level trunk from below."""
    if len(branch.stub) < 2 or not branch.route.legs or not branch.route.legs[-1].is_flat:
        return False
    (x1, y1), (x2, y2) = branch.stub[0], branch.stub[-1]
    return abs(x1 - x2) < abs(y2 - y1) * 0.1


def _not_drawn(plan: Plan) -> list[str]:
    roof = plan.house.roof
    if roof is None:
        return []
    said = [f"Not drawn: {_near_words(near.kind, near.horizontal, plan)}." for near in roof.too_far]
    if roof.ridge is None and isinstance(plan.path.roof.ridge, Measured):
        said.append(f"Not drawn: {_near_words('ridge', plan.path.roof.ridge, plan)}.")
    return said


def _near_words(kind: str, away: object, plan: Plan) -> str:
    where = value_text(away, plan.style) if isinstance(away, Measured) else "not measured how far"
    return f"{kind.replace('_', ' ')} {where} from the vent"


def title_of(
    plan: Plan, judgement: Judgement | None, scale: Scale, version: str, sheet: str
) -> Title:
    """What the title block says."""
    job = plan.survey.job
    cells = (
        ("Seen", job.seen or "not stated"),
        ("By", job.by or "not stated"),
        ("Visit", job.visit or "not stated"),
        ("Judged by", judgement.edition.title if judgement is not None else "not judged"),
        ("Scale", scale.name),
        ("Sheet", {"letter": "Letter", "a4": "A4"}[sheet]),
    )
    return Title(
        job.title,
        f"Elevation of {_what(plan)} to the cap",
        cells,
        job.invented,
        f"fluewright {version}".strip(),
    )


def _what(plan: Plan) -> str:
    lone = plan.lone
    if lone is not None:
        return f"the path from {lone.name} ({lone.appliance.kind or 'appliance of unknown kind'})"
    joined = [f"{b.name} (taken out)" if b.gone else b.name for b in plan.tree.branches]
    names = " and ".join([", ".join(joined[:-1]), joined[-1]] if len(joined) > 1 else joined)
    return f"the common vent {plan.tree.name}, from {names or 'no appliance described'}"


def description(plan: Plan) -> str:
    """The sheet in words, for those who do not see it."""
    chains: list[str] = []
    if plan.lone is None:
        for branch in plan.tree.branches:
            own = _in_words(branch.route.legs)
            gone = " (taken out, dashed)" if branch.gone else ""
            chains.append(f"Connector of {branch.name}{gone}: {own}.")
        chains.append(f"Common vent: {_in_words(plan.main.legs)}.")
    else:
        chains.append(f"{_in_words(plan.legs)}.")
    marks = "; ".join(_said(f) for f in plan.findings)
    return f"Elevation of {_what(plan)}, in the direction of flow: {' '.join(chains)}" + (
        f" Marks: {marks}." if marks else ""
    )


def _in_words(legs: Sequence[Leg]) -> str:
    return "; ".join(f"{leg.piece.id}: {leg.piece.part}" for leg in legs) or "no piece described"


def _said(finding: Finding) -> str:
    return f"{finding.number} at {finding.subject}: {finding.sentence or finding.title}"
