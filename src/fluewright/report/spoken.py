"""Sentences that say of which appliance or common vent they speak."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fluewright.finding import Finding, Judgement
from fluewright.report.words import named, spoken_names
from fluewright.survey import Survey


def spoken(survey: Survey, judgement: Judgement) -> Judgement:
    """The same judgement, its sentences saying of which appliance or common vent they speak.

    Only where there are several appliances: otherwise nothing changes.
    """
    names = spoken_names(survey)
    if not names:
        return judgement
    findings = tuple(_spoken_finding(f, names) for f in judgement.findings)
    steps = tuple(
        (replace(step, subject=named(names, step.subject)), rules)
        for step, rules in judgement.next_steps
    )
    return replace(judgement, findings=findings, next_steps=steps)


def _spoken_finding(finding: Finding, names: Mapping[str, str]) -> Finding:
    of = names.get(finding.subject, "")
    if not of or of in finding.sentence or not finding.sentence:
        return finding
    return replace(finding, sentence=f"{finding.sentence.removesuffix('.')} ({of}).")
