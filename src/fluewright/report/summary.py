"""What comes first: danger, then the state of things in plain words, what to do and who does it.

The sentences on carbon monoxide and smell of gas are the common advice of emergency services;
common practice, no single source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fluewright.finding import Finding, Grade, Judgement, MeasureNext, Verdict
from fluewright.judge import CAUTIONS
from fluewright.report.findings import Shown, marked_line, unanswered, union
from fluewright.report.several import appliance_texts, names_concerned
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

# About how much of the first page there is to spend, in lines, and how long a line is. A renderer
# may set it otherwise; the tests of the PDF hold that the summary stays on one sheet.
_LINE = 84
_ROOM = 42.0
_MORE = 1.2
_LONGEST = 3 * _LINE
_ITEM = 2 * _LINE
_TITLE_LINE = 48

GENERAL_CAUTION = CAUTIONS[0]  # stands once, on the first page

_UNWELL = (
    "Headache, dizziness, nausea or confusion can be carbon monoxide: get everybody into fresh "
    "air and call the emergency number. Do the same when a CO alarm sounds."
)

_LEAVE_LINES = (
    "Gas or carbon monoxide was found in the house. Everybody leaves; touch no switch, plug or "
    "phone inside, and leave doors open.",
    "Shut the gas or the appliance off only where that is on the way out. Call the gas company or "
    "the emergency number from outside.",
    "Nobody goes back in or turns it on until it is repaired and tested.",
    _UNWELL,
)
STOP_LINES = (
    "Shut the appliance off at its control or gas valve, open windows and doors, leave the house, "
    "and call from outside: the gas company or a licensed contractor.",
    "Does anybody feel unwell, or a CO alarm sound? Then do nothing else first: everybody out, and "
    "call the emergency number. Headache, dizziness, nausea or confusion can be carbon monoxide.",
    "If you smell gas, touch no switch and light nothing: leave first, call from outside.",
    "It stays off until a licensed contractor has repaired it and tested it.",
)

_INVENTED = "Invented job: this house and all that was seen in it are made up"

_IS_REPAIRED = {False: "it is repaired", True: "they are repaired"}
HAZARD_LINES = (
    "Do not rely on this appliance until a licensed contractor has put right what is marked "
    "Hazard. Ask the contractor or the gas company whether it may run at all until then.",
    _UNWELL,
)

_WHO = (
    "A licensed contractor (plumbing, heating or mechanical, as the law of the place says) must do "
    "all that is marked Shut it off, Hazard or Defect. Ask the building department whether the "
    "work needs a permit."
)
_NAMES = "Each mark, and each piece by its short name, is shown on the drawing."
_WHO_CRAFT = "Who: whoever services the appliance, at the next visit."
_WHO_OPEN = "Have what is not known yet answered by somebody licensed for this work."
NO_TEST = (
    "Right dimensions are no test of draft: a vent without a fault in this list can still spill. "
    "Have a licensed contractor test it for spillage, with fans running and the house closed."
)
_ALARM = (
    "Have a carbon monoxide alarm outside every sleeping room and on every floor. "
    "If one sounds, or anybody feels unwell: everybody out, and call the emergency number."
)
_ASBESTOS = (
    "A pipe here may hold asbestos. Do not cut, drill, brush or move it; only a licensed "
    "abatement contractor may."
)


def notices(survey: Survey, judgements: Sequence[Judgement]) -> tuple[Notice, ...]:
    """The notices that stand first in every report, the gravest on top."""
    fails = [finding for finding, _ in union(judgements, Verdict.FAILS)]
    unclear = [finding for finding, _ in union(judgements, Verdict.CANNOT_TELL)]
    grades = {finding.grade for finding in fails}
    found: list[Notice] = []
    if any(judgement.must_leave for judgement in judgements):
        found.append(Notice("Leave the house now", _LEAVE_LINES, Tone.STOP))
    elif Grade.STOP in grades:
        of = names_concerned(survey, [f for f in fails if f.grade is Grade.STOP])
        title = f"Shut off now: {of}" if of else "Shut it off now"
        found.append(Notice(title, STOP_LINES, Tone.STOP))
    elif Grade.HAZARD in grades:
        of = names_concerned(survey, [f for f in fails if f.grade is Grade.HAZARD])
        title = f"Do not rely on {of or 'it'} until {_IS_REPAIRED[' and ' in of]}"
        found.append(Notice(title, HAZARD_LINES, Tone.HAZARD))
    grave = [finding for finding in unclear if finding.grade is Grade.STOP]
    if grave:
        found.append(_open_notice(grave, alone=not found))
    if survey.job.invented:
        found.append(Notice(_INVENTED, (), Tone.INVENTED))
    return tuple(found)


def _open_notice(grave: Sequence[Finding], alone: bool) -> Notice:
    titles = [f"“{shorten(finding.title, 60)}”" for finding in grave]
    shown = list(dict.fromkeys(titles))
    more = [f"{len(shown) - 3} more"] if len(shown) > 3 else []
    line = (
        f"Not known yet, and a reason to shut it off if it fails: {joined(shown[:3] + more)}. "
        "Until somebody has looked, nobody can say that the appliance may run."
    )
    lines = (line, _UNWELL) if alone else (line,)
    return Notice("Grave questions without an answer", lines, Tone.OPEN)


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
    elif not any(judgement.findings for judgement in judgements):
        text = "Nothing was examined: the survey describes no path"
    else:
        text = "Nothing that was examined was found to fail"
    text += f", {count_text(len(unclear), 'question')} without an answer"
    notes = {note for judgement in judgements for note in judgement.notes}
    if notes:
        text += f", {count_text(len(notes), 'thing')} to look at again"
    if left:
        text += f", {count_text(left, 'requirement')} of the code not examined"
    return text + "."


def summary_sections(
    survey: Survey,
    judgements: Sequence[Judgement],
    shown: Shown,
    also: Sequence[Notice] = (),
) -> tuple[Section, ...]:
    """The first page for an owner: found, to do, not known, as much as one page holds.

    Args:
        survey: what was seen.
        judgements: one for each edition.
        shown: how findings are shown.
        also: further notices that stand over it, and take room.
    """
    found = _found_lines(judgements, shown)
    remedies, who = _remedies(judgements, shown), _who(survey, judgements)
    unclear = _open_texts(judgements, shown)
    above = (*notices(survey, judgements), *also)
    room = _ROOM - sum(map(_notice_cost, above)) - sum(map(_cost, who))
    room -= 2.0 * (len(survey.job.title) // _TITLE_LINE) + (_MORE if found else 0.0)
    each = appliance_texts(survey, judgements, shown)
    room -= sum(map(_cost, each))
    texts = [[line.text + line.note for line in found], remedies, unclear]
    kept = _share(room, [[_cost(text) for text in one] for one in texts])
    return (
        Section("found", "What was found", _found(judgements, each, found, kept[0])),
        Section("to-do", "What to do, and who must do it", _to_do(remedies, kept[1], who)),
        Section("not-known", "What is not known yet", _not_known(judgements, unclear, kept[2])),
    )


def _cost(text: str) -> float:
    return 1.3 + len(text) // _LINE


def _notice_cost(notice: Notice) -> float:
    return 2.0 + sum(_cost(line) for line in notice.lines)


def _share(room: float, costs: Sequence[Sequence[float]]) -> list[int]:
    """How many items of each list fit into the room; at least the first one of each."""
    if sum(map(sum, costs)) <= room:
        return [len(one) for one in costs]
    kept = [min(1, len(one)) for one in costs]
    room -= _MORE * len(costs) + sum(sum(one[:1]) for one in costs)
    fits = True
    while fits:
        fits = False
        for place, one in enumerate(costs):
            if kept[place] < len(one) and one[kept[place]] <= room:
                room -= one[kept[place]]
                kept[place] += 1
                fits = True
    return kept


def _found_lines(judgements: Sequence[Judgement], shown: Shown) -> list[MarkedLine]:
    lines = []
    for finding, note in union(judgements, Verdict.FAILS):
        line = marked_line(finding, shown, shorten(note, _LINE))
        lines.append(replace(line, text=shorten(line.text, _LONGEST)))
    return lines


def _found(
    judgements: Sequence[Judgement], each: Sequence[str], lines: Sequence[MarkedLine], kept: int
) -> tuple[Block, ...]:
    state: tuple[Block, ...] = (Paragraph(state_text(judgements), Tone.LEAD),)
    if each:
        state = (*state, Listing(tuple(each)))
    if not lines:
        return state
    more = _and_more(len(lines) - kept, "finding")
    return (*state, MarkedLines(tuple(lines[:kept])), Paragraph(_NAMES, Tone.SMALL), *more)


def _remedies(judgements: Sequence[Judgement], shown: Shown) -> list[str]:
    found = []
    for finding, _ in union(judgements, Verdict.FAILS):
        number = shown.number(finding)
        for remedy in finding.remedies[:1]:
            found.append(shorten(f"Mark {number}: {remedy}" if number else remedy, _ITEM))
    return found


def _who(survey: Survey, judgements: Sequence[Judgement]) -> list[str]:
    grades = {finding.grade for finding, _ in union(judgements, Verdict.FAILS)}
    lines = []
    if grades & {Grade.STOP, Grade.HAZARD, Grade.DEFECT}:
        lines.append(_WHO)
    elif grades:
        lines.append(_WHO_CRAFT)
    elif union(judgements, Verdict.CANNOT_TELL):
        lines.append(_WHO_OPEN)
    if is_quiet(judgements):
        lines += [NO_TEST, _ALARM]
    if any(piece.wall == "asbestos_cement" for path in survey.paths for piece in path.pieces):
        lines.append(_ASBESTOS)
    return lines


def is_quiet(judgements: Sequence[Judgement]) -> bool:
    """Whether nothing that fails, under any edition, asks to shut it off or not to rely on it."""
    grades = {finding.grade for finding, _ in union(judgements, Verdict.FAILS)}
    return not grades & {Grade.STOP, Grade.HAZARD}


def _to_do(remedies: Sequence[str], kept: int, who: Sequence[str]) -> tuple[Block, ...]:
    items = (*who, *remedies[:kept])
    return (Listing(items), *_and_more(len(remedies) - kept, "repair"))


def _open_texts(judgements: Sequence[Judgement], shown: Shown) -> list[str]:
    steps = [shorten(_open_text(step, shown), _ITEM) for step, _ in judgements[0].next_steps]
    return steps or [
        shorten(f"{finding.title}: {finding.sentence}", _ITEM)
        for finding in unanswered(judgements[0])
    ]


def _open_text(step: MeasureNext, shown: Shown) -> str:
    name = shown.named(step.subject)
    return f"{step.label}, {name}: {step.why}" if step.why else f"{step.label}, {name}"


def _not_known(
    judgements: Sequence[Judgement], texts: Sequence[str], kept: int
) -> tuple[Block, ...]:
    first: Block = Listing(tuple(texts[:kept]))
    if not texts:
        first = Paragraph("No question that was asked is open.")
    caution = Paragraph(GENERAL_CAUTION, Tone.SMALL)
    return (first, *_and_more(len(texts) - kept, "question"), *_left(judgements), caution)


def _left(judgements: Sequence[Judgement]) -> tuple[Block, ...]:
    left = [j for j in judgements if j.not_examined]
    if not left:
        return ()
    parts = [f"{count_text(len(j.not_examined), 'requirement')} of {j.edition.title}" for j in left]
    return (Paragraph(f"Not examined at all: {shorten(joined(parts), 2 * _LINE)}.", Tone.SMALL),)


def _and_more(number: int, one: str) -> tuple[Block, ...]:
    if not number:
        return ()
    return (Paragraph(f"And {count_text(number, f'more {one}')} further on.", Tone.SMALL),)
