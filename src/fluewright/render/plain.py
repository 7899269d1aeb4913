"""What was found as text for a terminal: danger first, then what to do, then the rest."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterator, Sequence

from fluewright.finding import (
    GRADE_WORDS,
    NOT_KNOWN_WORDS,
    Finding,
    Grade,
    Judgement,
    MeasureNext,
    Sense,
    Verdict,
)
from fluewright.judge import CAUTIONS
from fluewright.quantity import Style
from fluewright.render.data import where_written
from fluewright.words import METRIC_UNITS, PLAIN_UNITS, said

WIDTH = 92
# The marks of the drawing, as near as a terminal's letters come to their shapes.
MARKS = {
    Grade.STOP: "(!)",
    Grade.HAZARD: " v ",
    Grade.DEFECT: " # ",
    Grade.CRAFT: "[ ]",
    Grade.NOTE: " o ",
}
NOT_KNOWN_MARK = "(.)"
SHOWN_STEPS = 12
NO_TEST = (
    "That is no test of draft: a vent of the right dimensions can still spill. A spillage test, "
    "with fans running and the house closed, belongs to every job."
)


def judgement_text(judgement: Judgement, *, full: bool = False) -> str:
    """One judgement for reading.

    Args:
        judgement: what was found.
        full: show every next step, what meets, and what was not examined one by one.
    """
    return "\n".join(_lines(judgement, full)) + "\n"


def judgements_text(judgements: Sequence[Judgement], *, full: bool = False) -> str:
    """Several judgements: danger, then what differs between the editions, then each in turn."""
    if len(judgements) == 1:
        return judgement_text(judgements[0], full=full)
    gravest = sorted(judgements, key=lambda one: (not one.must_leave, not one.must_stop))[0]
    banner = _banner(gravest)
    parts = ["\n".join([*banner, *_differences(judgements)]) + "\n"]
    parts += [judgement_text(j, full=full) for j in judgements]
    return "\n".join(parts)


def check_text(file: str, judgement: Judgement, heed: Sequence[str]) -> str:
    """What a survey leaves open, for reading.

    Args:
        file: the survey's name.
        judgement: what was found in it.
        heed: what to heed before going up or taking anything apart.
    """
    left = len(judgement.next_steps)
    lines = _banner(judgement)
    lines += wrapped(f"{file}: reads well. {left} thing{'s' * (left != 1)} still to learn.")
    for note in judgement.notes:
        lines += wrapped(f"Look again: {note}", "  ", first="")
    for i, (step, _) in enumerate(judgement.next_steps, 1):
        lines += wrapped(f"{i:>3}  {step.label} ({step.subject}): {step.how}", " " * 5, first="")
        if write := where_written(step):
            lines += wrapped(f"write {write}", " " * 5)
    lines.append("Before going up or taking anything apart (common practice):")
    for text in (*heed, CAUTIONS[1]):
        lines += wrapped(text, "    ", first="  ")
    return "\n".join(lines) + "\n"


def _banner(judgement: Judgement) -> list[str]:
    """What stands before everything else where the appliance must be shut off."""
    if not judgement.must_stop:
        return []
    head = "LEAVE THE HOUSE." if judgement.must_leave else "SHUT IT OFF."
    return [*wrapped(f"{head}  {judgement.cautions[0]}"), ""]


def _lines(judgement: Judgement, full: bool) -> Iterator[str]:
    yield judgement.survey_title
    yield f"judged by {judgement.edition.title}"
    yield ""
    fails = [f for f in judgement.findings if f.verdict is Verdict.FAILS]
    banner = _banner(judgement)
    yield from banner
    cautions = judgement.cautions[1:] if banner else judgement.cautions
    yield from _failing(fails, judgement)
    yield from _open(judgement, full)
    yield from _rest(judgement, full)
    yield from _applied(judgement)
    yield ""
    for caution in cautions:
        yield from wrapped(caution, "  ")


def _failing(fails: list[Finding], judgement: Judgement) -> Iterator[str]:
    open_ = judgement.count(Verdict.CANNOT_TELL)
    if not judgement.findings:
        yield "Nothing was examined: the survey describes no path."
    elif not fails and open_:
        yield from wrapped(
            f"Nothing is known to fail so far, but {open_} answers are not known: this says "
            "little until they are."
        )
    elif not fails and judgement.notes:
        yield from wrapped(
            "Nothing that was examined fails, but something here is not judged or does not fit "
            f"together: see 'Look again' below. {NO_TEST}"
        )
    elif not fails:
        yield from wrapped(f"Nothing that was examined fails. {NO_TEST}")
    for finding in fails:
        head = f"{finding.number:>3} {MARKS[finding.grade]} {GRADE_WORDS[finding.grade]}: "
        yield from wrapped(head + finding.sentence, " " * 8, first="")
        for remedy in finding.remedies:
            yield from wrapped(f"Do: {remedy}", " " * 8)
        if finding.as_built:
            yield from wrapped(f"As built: {finding.as_built}", " " * 8)
        yield from wrapped(_where(finding), " " * 8)
    yield ""


def _where(finding: Finding) -> str:
    return f"{finding.rule} · {'; '.join(c.text() for c in finding.cites)}"


def _open(judgement: Judgement, full: bool) -> Iterator[str]:
    open_ = [f for f in judgement.findings if f.verdict is Verdict.CANNOT_TELL]
    if not open_:
        return
    yield f"{NOT_KNOWN_WORDS}: {len(open_)}"
    grave = [f for f in open_ if f.grade is Grade.STOP and not f.number]
    if grave and not full:
        yield "     Of these, a bad answer to the following would mean: shut it off."
        for finding in grave:
            yield from wrapped(f"    {NOT_KNOWN_MARK} {finding.sentence}", " " * 8, first="")
    for finding in open_:
        if finding.number or full:
            number = f"{finding.number:>3}" if finding.number else "   "
            yield from wrapped(f"{number} {NOT_KNOWN_MARK} {finding.sentence}", " " * 8, first="")
    yield ""
    yield "Measure or ask next, what settles most first"
    steps = judgement.next_steps if full else judgement.next_steps[:SHOWN_STEPS]
    for i, (step, rules) in enumerate(steps, 1):
        yield from wrapped(f"{i:>3}  {_step(step, rules)}", " " * 5, first="")
    left = len(judgement.next_steps) - len(steps)
    if left:
        yield f"     and {left} more (--full shows all)"
    yield ""


def _step(step: MeasureNext, rules: tuple[str, ...]) -> str:
    text = f"{step.label} ({step.subject}): {step.how}"
    if step.tool:
        text += f". {step.tool} is good enough"
    settles = f"settles {len(rules)}" if len(rules) > 1 else rules[0]
    return f"{text.rstrip('.')}.  [{settles}]"


def _rest(judgement: Judgement, full: bool) -> Iterator[str]:
    meets = [f for f in judgement.findings if f.verdict is Verdict.MEETS]
    yield (
        f"Meets: {len(meets)}.  Does not apply: {judgement.count(Verdict.NOT_APPLICABLE)}.  "
        f"Not examined: {len(judgement.not_examined)} requirements of this edition."
    )
    if full:
        for finding in meets:
            yield from wrapped(f"  ✓ {finding.sentence}", " " * 4, first="")
        for item in judgement.not_examined:
            yield from wrapped(f"  - {item.at} ({item.why})", " " * 4, first="")
    for note in judgement.notes:
        yield from wrapped(f"Look again: {note}", "  ", first="")


def _applied(judgement: Judgement) -> Iterator[str]:
    """Which text binds which part, in one short block."""
    if not judgement.applied:
        return
    yield ""
    yield "Which text applies to which part"
    for one in judgement.applied:
        cites = "; ".join(cite.text() for cite in one.cites)
        text = f"{', '.join(one.parts)}: {one.title}; {one.why} [{cites}]. {one.ask}"
        yield from wrapped(text.rstrip(), "    ", first="  ")


COLUMN = 12  # least width of an edition's column, the space between two included
VERDICT_WORDS = {
    Verdict.FAILS: "FAILS",
    Verdict.CANNOT_TELL: "not known",
    Verdict.MEETS: "meets",
    Verdict.NOT_APPLICABLE: "not asked",
}


def _differences(judgements: Sequence[Judgement]) -> Iterator[str]:
    """One table of all editions: what differs, gravest first, then what all agree on."""
    from fluewright.report.editions import side_by_side

    yield judgements[0].survey_title
    yield "editions side by side, what differs first"
    yield ""
    differ, same = side_by_side(judgements)
    ids = [judgement.edition.id for judgement in judgements]
    wide = max(COLUMN, *(len(id) + 1 for id in ids))
    yield from _cells(ids, wide)
    for found, row in differ:
        yield f"  {found.rule} ({found.subject})"
        words = [VERDICT_WORDS[one.verdict] if one else "absent" for one in row]
        yield from _cells(words, wide)
        yield from _limits(ids, row)
    if not differ:
        yield "  nothing differs"
    yield ""
    counts = Counter(found.verdict for found, _ in same)
    told = ", ".join(f"{counts[v]} {VERDICT_WORDS[v]}" for v in Verdict if counts[v])
    yield from wrapped(f"the same in all: {len(same)}" + (f" ({told})" if told else ""), "  ")
    for found, _ in same:
        if found.verdict in (Verdict.FAILS, Verdict.CANNOT_TELL):
            yield f"    {VERDICT_WORDS[found.verdict]:<{COLUMN}}{found.rule} ({found.subject})"
    yield ""


def _limits(ids: Sequence[str], row: Sequence[Finding | None]) -> Iterator[str]:
    """The limits that the answers of a row stand on, where they differ."""
    found: dict[str, list[str]] = {}
    for id, one in zip(ids, row, strict=True):
        if one is not None and one.comparison is not None:
            limit, dimension = one.comparison.limit, one.comparison.dimension
            side = "at least" if limit.sense is Sense.AT_LEAST else "at most"
            text = f"{side} {said(limit.value, dimension, _style(limit.unit))}"
            found.setdefault(text, []).append(id)
    if len(found) > 1:
        told = "; ".join(f"{text} ({', '.join(by)})" for text, by in found.items())
        yield from wrapped(f"limit: {told}", " " * 6, first=" " * 4)


def _style(unit: str) -> Style:
    return "metric" if unit in METRIC_UNITS.values() and unit not in PLAIN_UNITS.values() else "us"


def _cells(words: Sequence[str], wide: int) -> Iterator[str]:
    """Cells of one row in columns; those that do not fit in the width go on in the next line."""
    fit = max(1, (WIDTH - 4) // wide)
    for start in range(0, len(words), fit):
        yield ("    " + "".join(f"{word:<{wide}}" for word in words[start : start + fit])).rstrip()


def wrapped(text: str, indent: str = "", first: str | None = None) -> list[str]:
    """The text in lines of a terminal's width."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [""]
