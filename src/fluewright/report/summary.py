"""What comes first: danger, then the state of things in plain words, what to do and who does it.

The sentences on carbon monoxide and smell of gas are the common advice of emergency services;
common practice, no single source.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from fluewright.finding import Finding, Grade, Judgement, MeasureNext, Verdict
from fluewright.report.findings import Shown, marked_line, unanswered
from fluewright.report.tree import (
    Block,
    Listing,
    MarkedLine,
    MarkedLines,
    Notice,
    Paragraph,
    Section,
    Tone,
)
from fluewright.report.words import count_text, joined, shorten
from fluewright.survey import Survey

T = TypeVar("T")

LINE = 92  # characters in a line of the first page, about
_FOUND_LINES = 14
_DO_LINES = 9
_OPEN_LINES = 5
_LONGEST_ITEM = 3 * LINE

GENERAL_CAUTION = (
    "This report says what was examined on one visit, what was found, and what was not seen. It "
    "is no permit and no approval. The code as adopted where the house stands, the listing, the "
    "makers' instructions and the authority having jurisdiction decide. Work on gas appliances "
    "and their vents is for people licensed to do it."
)

_UNWELL = (
    "Headache, dizziness, nausea or confusion can be carbon monoxide: get everybody into fresh "
    "air and call the emergency number. Do the same when a CO alarm sounds."
)

_STOP_LINES = (
    "Shut the appliance off, open windows and doors, leave the house, and call from outside: the "
    "gas company or a licensed contractor, or the emergency number if anybody feels unwell.",
    _UNWELL,
    "If you smell gas, touch no switch and light nothing: leave first, call from outside.",
    "It stays off until a licensed contractor has repaired it and tested it.",
)

_HAZARD_LINES = (
    "Do not rely on this appliance until a licensed contractor has put right what is marked "
    "Hazard. Ask the contractor or the gas company whether it may run at all until then.",
    _UNWELL,
)

_WHO = (
    "Who: a licensed contractor (plumbing, heating or mechanical, as the law of the place says) "
    "for all that is marked Shut it off, Hazard or Defect. Ask the building department whether "
    "the work needs a permit."
)
_WHO_CRAFT = "Who: whoever services the appliance, at the next visit."
_ASBESTOS = (
    "A pipe here may hold asbestos. Do not cut, drill, brush or move it; only a licensed "
    "abatement contractor may."
)


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


def notices(survey: Survey, judgements: Sequence[Judgement]) -> tuple[Notice, ...]:
    """The notices that stand first in every report, the gravest on top."""
    fails = [finding for finding, _ in union(judgements, Verdict.FAILS)]
    unclear = [finding for finding, _ in union(judgements, Verdict.CANNOT_TELL)]
    grades = {finding.grade for finding in fails}
    found: list[Notice] = []
    if Grade.STOP in grades:
        found.append(Notice("Shut it off now", _STOP_LINES, Tone.STOP))
    elif Grade.HAZARD in grades:
        found.append(Notice("Do not rely on it until it is repaired", _HAZARD_LINES, Tone.HAZARD))
    grave = [finding for finding in unclear if finding.grade is Grade.STOP]
    if grave:
        found.append(_open_notice(grave))
    if survey.job.invented:
        found.append(
            Notice(
                "Invented job",
                ("This house and everything seen in it are made up, to show how a report looks.",),
                Tone.INVENTED,
            )
        )
    return tuple(found)


def _open_notice(grave: Sequence[Finding]) -> Notice:
    titles = [f"“{shorten(finding.title, 60)}”" for finding in grave]
    shown = list(dict.fromkeys(titles))
    more = [f"{len(shown) - 3} more"] if len(shown) > 3 else []
    line = (
        f"Not known yet, and a reason to shut it off if it fails: {joined(shown[:3] + more)}. "
        "Until somebody has looked, nobody can say that the appliance may run."
    )
    return Notice("Grave questions without an answer", (line,), Tone.OPEN)


def examined(judgement: Judgement) -> int:
    """How many requirements got an answer of any kind."""
    return len({finding.rule for finding in judgement.findings})


def coverage_text(judgement: Judgement) -> str:
    """How many requirements were examined, with what result, and how many were not."""
    count = judgement.count
    listed = len(judgement.not_examined)
    parts = (
        f"{count(Verdict.FAILS)} {'fails' if count(Verdict.FAILS) == 1 else 'fail'}",
        f"{count(Verdict.CANNOT_TELL)} not known yet",
        f"{count(Verdict.MEETS)} {'meets' if count(Verdict.MEETS) == 1 else 'meet'}",
        f"{count(Verdict.NOT_APPLICABLE)} "
        f"{'does' if count(Verdict.NOT_APPLICABLE) == 1 else 'do'} not apply",
    )
    return (
        f"{judgement.edition.title}: {count_text(examined(judgement), 'requirement')} examined, "
        f"{count_text(len(judgement.findings), 'answer')}: {', '.join(parts)}. {listed} listed "
        "for this edition and not examined."
    )


def state_text(judgements: Sequence[Judgement]) -> str:
    """The state of things in one sentence; what was not examined is never left out."""
    fails, unclear = union(judgements, Verdict.FAILS), union(judgements, Verdict.CANNOT_TELL)
    left = max(len(judgement.not_examined) for judgement in judgements)
    if fails:
        text = f"{count_text(len(fails), 'thing')} found wrong"
    else:
        text = "Nothing that was examined was found to fail"
    text += f", {count_text(len(unclear), 'question')} without an answer"
    if left:
        text += f", {count_text(left, 'requirement')} of the code not examined"
    return text + "."


def summary_sections(
    survey: Survey, judgements: Sequence[Judgement], shown: Shown
) -> tuple[Section, ...]:
    """The first page for an owner: found, to do, not known."""
    caution = Paragraph(GENERAL_CAUTION, Tone.SMALL)
    return (
        Section("found", "What was found", _found(judgements, shown)),
        Section("to-do", "What to do, and who must do it", (_to_do(survey, judgements, shown),)),
        Section("not-known", "What is not known yet", (*_not_known(judgements, shown), caution)),
    )


def _found(judgements: Sequence[Judgement], shown: Shown) -> tuple[Block, ...]:
    lines = [
        _short(marked_line(finding, shown, note))
        for finding, note in union(judgements, Verdict.FAILS)
    ]
    state = Paragraph(state_text(judgements), Tone.LEAD)
    if not lines:
        return (state,)
    kept = _within(lines, [line.text + line.note for line in lines], _FOUND_LINES)
    blocks: tuple[Block, ...] = (state, MarkedLines(tuple(kept)))
    return blocks + _and_more(len(lines) - len(kept), "finding")


def _short(line: MarkedLine) -> MarkedLine:
    text = shorten(line.text, _LONGEST_ITEM)
    return MarkedLine(line.mark, line.word, line.number, text, shorten(line.note, LINE))


def _to_do(survey: Survey, judgements: Sequence[Judgement], shown: Shown) -> Listing:
    fails = [finding for finding, _ in union(judgements, Verdict.FAILS)]
    remedies = [
        shorten(f"{f'Mark {number}: ' if (number := shown.number(f)) else ''}{f.remedies[0]}", 170)
        for f in fails
        if f.remedies
    ]
    items = list(_within(remedies, remedies, _DO_LINES))
    if len(items) < len(remedies):
        items.append(f"{len(remedies) - len(items)} more, with the findings.")
    grades = {finding.grade for finding in fails}
    if grades & {Grade.STOP, Grade.HAZARD, Grade.DEFECT}:
        items.append(_WHO)
    elif fails:
        items.append(_WHO_CRAFT)
    if any(piece.wall == "asbestos_cement" for path in survey.paths for piece in path.pieces):
        items.append(_ASBESTOS)
    if not fails:
        items.append("Have the open questions below answered by somebody licensed for this work.")
    return Listing(tuple(items))


def _not_known(judgements: Sequence[Judgement], shown: Shown) -> tuple[Block, ...]:
    steps = judgements[0].next_steps
    texts = [shorten(_open_text(step, shown), 170) for step, _ in steps]
    if not texts:
        texts = [
            shorten(f"{finding.title}: {finding.sentence}", 170)
            for finding in unanswered(judgements[0])
        ]
    if not texts:
        return (Paragraph("No question that was asked is open."), *_left(judgements))
    kept = _within(texts, texts, _OPEN_LINES)
    blocks: tuple[Block, ...] = (Listing(tuple(kept)),)
    return blocks + _and_more(len(texts) - len(kept), "question") + _left(judgements)


def _open_text(step: MeasureNext, shown: Shown) -> str:
    name = shown.names.get(step.subject, step.subject)
    return f"{step.label}, {name}: {step.why}" if step.why else f"{step.label}, {name}"


def _left(judgements: Sequence[Judgement]) -> tuple[Block, ...]:
    left = [j for j in judgements if j.not_examined]
    if not left:
        return ()
    parts = [f"{len(j.not_examined)} requirements of {j.edition.title}" for j in left[:2]]
    return (Paragraph(f"Not examined at all: {shorten(joined(parts), 2 * LINE)}.", Tone.SMALL),)


def _and_more(number: int, one: str) -> tuple[Block, ...]:
    if not number:
        return ()
    return (Paragraph(f"And {count_text(number, f'more {one}')} further on.", Tone.SMALL),)


def _within(items: Sequence[T], texts: Sequence[str], lines: int) -> Sequence[T]:
    """The first items that fit in so many printed lines; the first one always."""
    used = 0
    for place, text in enumerate(texts):
        used += 1 + len(text) // LINE
        if used > lines and place:
            return items[:place]
    return items
