"""Where a job has several appliances: how each of them stands, and whom a danger concerns."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.finding import GRADE_WORDS, Finding, Grade, Judgement, Verdict
from fluewright.joining import concerned, members
from fluewright.report.findings import Shown, union
from fluewright.report.words import common_name, count_text, joined
from fluewright.survey import Survey


def names_concerned(survey: Survey, findings: Sequence[Finding]) -> str:
    """The appliances that findings bear on; empty where there is but one appliance.

    What is wrong at one appliance bears on all that share its vent: the gas of each may come out
    at the hood of another.
    """
    live = [name for name, owner in survey.appliances.items() if owner.taken_out is not True]
    if len(live) < 2:
        return ""
    found = {name for finding in findings for name in concerned(survey, finding.subject)}
    shared = {path.joins for path in survey.paths if path.joins and path.from_ in found}
    found |= {path.from_ for name in shared for path in members(survey, name)}
    return joined([name.replace("_", " ") for name in live if name in found])


def appliance_texts(
    survey: Survey, judgements: Sequence[Judgement], shown: Shown
) -> tuple[str, ...]:
    """One sentence for each appliance where there are several: how it stands."""
    if len(survey.appliances) < 2:
        return ()
    return tuple(_text(survey, judgements, shown, name) for name in survey.appliances)


def _text(survey: Survey, judgements: Sequence[Judgement], shown: Shown, name: str) -> str:
    joins = next((p.joins for p in survey.paths if p.from_ == name and p.joins), None)
    head = shown.names.get(name, name) + (f", on {common_name(joins)}" if joins else "")
    if survey.appliances[name].taken_out is True:
        return f"{head}: taken out, and not judged."
    fails, open_ = (
        [f for f, _ in union(judgements, verdict) if name in concerned(survey, f.subject)]
        for verdict in (Verdict.FAILS, Verdict.CANNOT_TELL)
    )
    said = "nothing that was examined was found to fail"
    if fails:
        worst = GRADE_WORDS[min((f.grade for f in fails), key=tuple(Grade).index)]
        said = f"{count_text(len(fails), 'thing')} found wrong, the gravest marked {worst}"
    return f"{head}: {said}; {count_text(len(open_), 'question')} without an answer."
