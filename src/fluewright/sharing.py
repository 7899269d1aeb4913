"""Findings about what several appliances share, said once and not once for each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from fluewright.facts import FACTS
from fluewright.finding import Finding, MeasureNext
from fluewright.rules import RULES
from fluewright.rules.place import place_of
from fluewright.survey import Path

ByPath = Sequence[tuple[Path, Sequence[Finding]]]


@cache
def _looks_at_shared_parts(rule: str) -> bool:
    """Whether a rule is about vent or cap, and asks nothing of the appliance or its connector."""
    routes = (FACTS[name].route for name in RULES[rule].facts() if name in FACTS)
    own = any("appliance." in route or "path.connector" in route for route in routes)
    return place_of(rule) in ("cap", "vent") and not own


def said_once(by_path: ByPath) -> list[Finding]:
    """The findings of all paths, with one for all where appliances share what it is about.

    A finding about a piece, the vent or the cap of a common vent is the same for every appliance
    on it, unless it hangs on the appliance: then each keeps its own.

    Args:
        by_path: each path with its findings.
    Returns:
        Findings in the order given; one said for all appliances names the common vent.
    """
    if not any(path.joins for path, _ in by_path):
        return [found for _, findings in by_path for found in findings]
    alike = _alike(by_path)
    kept: list[Finding] = []
    said: set[tuple[object, ...]] = set()
    for path, findings in by_path:
        for found in findings:
            one = found
            if path.joins and found.subject == path.from_ and (path.joins, found.rule) in alike:
                one = _of_all(found, path.joins)
            key = (path.joins, *_content(one), one.subject)
            if path.joins is None or key not in said:
                kept.append(one)
            said.add(key)
    return kept


def _alike(by_path: ByPath) -> set[tuple[str, str]]:
    """Common vent and rule where every appliance has the same answer about what they share."""
    answers: dict[tuple[str, str], set[tuple[object, ...]]] = {}
    for path, findings in by_path:
        for found in findings:
            if path.joins and found.subject == path.from_ and _looks_at_shared_parts(found.rule):
                answers.setdefault((path.joins, found.rule), set()).add(_content(found))
    return {key for key, different in answers.items() if len(different) == 1}


def _content(found: Finding) -> tuple[object, ...]:
    """What a finding says, whoever it says it of."""
    asked = tuple((step.label, step.how, step.tool) for step in found.measure_next)
    return (found.rule, found.verdict, found.sentence, asked)


def _of_all(found: Finding, name: str) -> Finding:
    """The finding as one of the common vent."""

    def of_vent(step: MeasureNext) -> MeasureNext:
        return replace(step, subject=name) if step.subject == found.subject else step

    return replace(found, subject=name, measure_next=tuple(map(of_vent, found.measure_next)))
