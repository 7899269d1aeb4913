"""A finding as a block of the report, with its margin bar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fluewright.finding import CLOSE, Comparison, Finding, Grade, Judgement, Sense, Verdict
from fluewright.frozen import frozen
from fluewright.report.tree import (
    MARK_WORDS,
    Audience,
    FindingBlock,
    MarginBar,
    MarkedLine,
    Numbers,
    Working,
    mark_of_finding,
)
from fluewright.report.words import (
    cite_text,
    limit_text,
    margin_parts,
    named,
    natural,
    reading_parts,
    step_text,
)
from fluewright.source import Basis

_ROOM = 1.15  # how far the bar reaches beyond what it shows
_LEAST_SPAN = 0.25  # of the limit, so that a small margin looks small


@frozen
class Shown:
    """How findings are shown here: for whom, by what names, and by which numbers."""

    audience: Audience
    names: Mapping[str, str]
    numbers: Mapping[tuple[str, str], int]

    def number(self, finding: Finding) -> int:
        """The finding's mark in the drawing; 0 where the drawing does not show it."""
        return self.numbers.get((finding.rule, finding.subject), 0)

    def subject(self, finding: Finding) -> str:
        """What the finding is about, in words."""
        return self.named(finding.subject)

    def named(self, subjects: str) -> str:
        """One subject in words; of several, common vents in words and the rest by name."""
        return self.names.get(subjects) or named(self.names, subjects)


def drawn_numbers(judgement: Judgement) -> dict[tuple[str, str], int]:
    """The numbers that the drawing shows: those of the first judgement."""
    return {(f.rule, f.subject): f.number for f in judgement.findings if f.number}


def failing(judgement: Judgement) -> tuple[Finding, ...]:
    """What fails, in the judgement's order: gravest first."""
    return tuple(f for f in judgement.findings if f.verdict is Verdict.FAILS)


def unanswered(judgement: Judgement) -> tuple[Finding, ...]:
    """What could not be told, in the judgement's order."""
    return tuple(f for f in judgement.findings if f.verdict is Verdict.CANNOT_TELL)


def union(judgements: Sequence[Judgement], verdict: Verdict) -> tuple[tuple[Finding, str], ...]:
    """What has this verdict under any edition, gravest first; named is who alone says so."""
    rank = {grade: place for place, grade in enumerate(Grade)}
    seen: dict[tuple[str, str], tuple[Finding, str]] = {}
    for judgement in judgements:
        alone = "" if judgement is judgements[0] else f"by {judgement.edition.title}"
        for finding in judgement.findings:
            if finding.verdict is verdict:
                seen.setdefault((finding.rule, finding.subject), (finding, alone))
    return tuple(sorted(seen.values(), key=lambda pair: rank[pair[0].grade]))


def margin_bar(comparison: Comparison) -> MarginBar:
    """The bar of one comparison: the limit in the middle, the reading to scale beside it."""
    limit, measured = comparison.limit.value, comparison.measured
    reach = _ROOM * (abs(measured.value - limit) + measured.tolerance)
    span = max(reach, _LEAST_SPAN * abs(limit), CLOSE)

    def at(value: float) -> float:
        return round(0.5 + (value - limit) / (2 * span), 4)

    return MarginBar(
        limit_at=0.5,
        reading_at=at(measured.value),
        low_at=at(measured.low),
        high_at=at(measured.high),
        fails_left=comparison.limit.sense is Sense.AT_LEAST,
    )


def numbers_of(comparison: Comparison) -> Numbers:
    """The numbers of a comparison as text, in the style of its limit."""
    measured, measured_off = reading_parts(comparison)
    margin, margin_off = margin_parts(comparison)
    return Numbers(
        label=comparison.label,
        measured=measured,
        measured_off=measured_off,
        limit=limit_text(comparison),
        margin=margin,
        margin_off=margin_off,
        bar=margin_bar(comparison),
    )


def cites_of(finding: Finding) -> tuple[str, ...]:
    """Where the finding is written; says so where nothing is cited."""
    return tuple(cite_text(c) for c in finding.cites) or ("no source given",)


def citation_order(finding: Finding) -> tuple[object, ...]:
    """Sort key: by document and place, common practice last."""
    if not finding.cites:
        return (2, "", (), finding.subject)
    first = finding.cites[0]
    last = first.basis in (Basis.PRACTICE, Basis.MODEL)
    return (int(last), first.document, natural(f"{first.edition} {first.at}"), finding.subject)


def _photo_text(photos: Sequence[str]) -> str:
    return f"Photos: {', '.join(photos)}" if photos else ""


def finding_block(finding: Finding, shown: Shown, anchor: str) -> FindingBlock:
    """One finding as far as this audience is shown it."""
    full = shown.audience is Audience.OFFICIAL
    fails = finding.verdict is Verdict.FAILS
    working = tuple(step_text(step) for step in finding.working)
    computed = fails and any(step.value is not None for step in finding.working)
    keep = working and (full or (computed and shown.audience is Audience.TRADE))
    mark = mark_of_finding(finding)
    return FindingBlock(
        anchor=anchor,
        mark=mark,
        word=MARK_WORDS[mark],
        number=shown.number(finding),
        title=f"Asked: {finding.title}",
        subject=shown.subject(finding),
        sentence=f"{finding.sentence} {finding.as_built}".rstrip(),
        numbers=numbers_of(finding.comparison) if finding.comparison else None,
        remedies=finding.remedies if fails else (),
        next_steps=tuple(_next_text(step.label, step.how) for step in finding.measure_next),
        cites=cites_of(finding),
        cites_lead=full,
        rule="" if shown.audience is Audience.OWNER else finding.rule,
        working=Working(working) if keep else None,
        photos=_photo_text(finding.photos),
    )


def _next_text(label: str, how: str) -> str:
    return f"{label}: {how}" if how else label


def marked_line(finding: Finding, shown: Shown, note: str = "") -> MarkedLine:
    """One finding in one line: what was found, in the judgement's own sentence."""
    mark = mark_of_finding(finding)
    return MarkedLine(mark, MARK_WORDS[mark], shown.number(finding), finding.sentence, note)


def finding_blocks(
    findings: Sequence[Finding], shown: Shown, prefix: str = "finding"
) -> tuple[FindingBlock, ...]:
    """The findings in full, in the order given; ``prefix`` keeps their anchors apart."""
    return tuple(
        finding_block(finding, shown, f"{prefix}-{place}")
        for place, finding in enumerate(findings, start=1)
    )
