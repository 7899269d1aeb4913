"""Judgements as plain data for JSON, in the form that ``judgement.schema.json`` publishes."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.facts import FACTS, written
from fluewright.finding import Applied, Finding, Judgement, MeasureNext, Verdict
from fluewright.source import Citation, Step
from fluewright.words import numbers


def judgement_data(judgement: Judgement, version: str) -> dict[str, object]:
    """One judgement as the command line prints it."""
    return {
        "fluewright": version,
        "survey": {"title": judgement.survey_title, "sha256": judgement.survey_sha256},
        "edition": {
            "id": judgement.edition.id,
            "title": judgement.edition.title,
            "sha256": judgement.edition.sha256,
        },
        "findings": [finding_data(f) for f in judgement.findings],
        "next": [
            {**step_data(step), "settles": list(rules)} for step, rules in judgement.next_steps
        ],
        "not_examined": [{"at": n.at, "why": n.why} for n in judgement.not_examined],
        "notes": list(judgement.notes),
        "applied": [applied_data(one) for one in judgement.applied],
        "counts": {v.value: judgement.count(v) for v in Verdict},
        "cautions": list(judgement.cautions),
    }


def judgements_data(judgements: Sequence[Judgement], version: str) -> object:
    """One judgement as it is; several as a list in the order asked."""
    found = [judgement_data(j, version) for j in judgements]
    return found[0] if len(found) == 1 else found


def finding_data(finding: Finding) -> dict[str, object]:
    """One finding; measured, limit and margin are null where no number decides."""
    data: dict[str, object] = {
        "rule": finding.rule,
        "title": finding.title,
        "subject": finding.subject,
        "verdict": finding.verdict.value,
        "grade": finding.grade.value,
        "number": finding.number or None,
        "sentence": finding.sentence,
        "measured": None,
        "limit": None,
        "margin": None,
    }
    if finding.comparison is not None:
        data.update(numbers(finding.comparison))
    data["cites"] = [cite_data(c) for c in finding.cites]
    data["measure_next"] = [step_data(m) for m in finding.measure_next]
    data["remedies"] = list(finding.remedies)
    data["as_built"] = finding.as_built or None
    data["working"] = [working_data(s) for s in finding.working]
    data["photos"] = list(finding.photos)
    return data


def applied_data(one: Applied) -> dict[str, object]:
    """Which text binds some parts; the edition is null where it is not known or not held."""
    return {
        "parts": list(one.parts),
        "edition": one.edition or None,
        "title": one.title,
        "why": one.why,
        "cites": [cite_data(c) for c in one.cites],
        "ask": one.ask or None,
    }


def cite_data(cite: Citation) -> dict[str, object]:
    """One citation."""
    return {
        "document": cite.document,
        "edition": cite.edition,
        "at": cite.at,
        "base": cite.base,
        "basis": cite.basis.value,
    }


def step_data(step: MeasureNext) -> dict[str, object]:
    """One thing to measure or ask next."""
    return {
        "fact": step.fact,
        "label": step.label,
        "subject": step.subject,
        "how": step.how,
        "why": step.why,
        "tool": step.tool,
        "ask": step.ask,
        "write": where_written(step),
    }


def where_written(step: MeasureNext) -> str:
    """Where in the survey file the answer goes; empty where a person or paper answers."""
    return written(FACTS[step.fact].route) if step.fact in FACTS else ""


def working_data(step: Step) -> dict[str, object]:
    """One line of a working."""
    value = None if step.value is None else round(step.value, 6)
    return {"step": step.what, "value": value, "unit": step.unit}
