"""The steps of an inspection as a check list: what the survey has settled and what is left."""

from __future__ import annotations

from fluewright.procedure import STATE_WORDS, Marked, State
from fluewright.report.inputs import CheckList
from fluewright.report.tree import Cell, Column, Mark, Paragraph, Section, Table, Tone

_MARKS = {
    State.OPEN: Mark.NOT_KNOWN,
    State.DONE: Mark.MEETS,
    State.NOT_ASKED: Mark.NOT_APPLICABLE,
}


def steps_section(check: CheckList | None) -> tuple[Section, ...]:
    """The check list; nothing where none was handed over."""
    if check is None:
        return ()
    columns = (Column("Step"), Column("What to do"), Column("By this survey"), Column("Source"))
    rows = tuple(_row(one) for one in check.steps)
    note = Paragraph(
        "Done, open and found bad are what this survey says of the requirements that a step "
        "settles. A step by hand is recorded in no field: write down yourself that it was done.",
        Tone.SMALL,
    )
    table = Table(check.procedure.title, columns, rows)
    return (Section("steps", "Check list of the inspection", (note, table)),)


def _row(one: Marked) -> tuple[Cell, ...]:
    worst = one.because[0] if one.because and one.state is State.BAD else None
    mark = Mark(worst.grade.value) if worst else _MARKS.get(one.state)
    word = STATE_WORDS[one.state].split(":")[0]
    state = Cell("", mark, word) if mark else Cell(word)
    danger = "(!) " if one.step.is_stop else ""
    return (
        Cell(str(one.step.number)),
        Cell(f"{danger}{one.step.do}"),
        state,
        Cell(one.step.cite.text()),
    )
