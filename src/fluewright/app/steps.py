"""Inspections as lists of steps: which there are, and how far a survey has come with one."""

from __future__ import annotations

import os
import textwrap
from collections import Counter
from collections.abc import Sequence
from functools import cache

from fluewright import app
from fluewright.errors import NoSuchProcedure
from fluewright.joining import former_members
from fluewright.procedure import (
    STATE_WORDS,
    Marked,
    Procedure,
    State,
    Stepwise,
    marked,
    procedure_from,
)
from fluewright.survey import Survey

WIDTH = 92
FIRST = "existing_2015"
AFTER_REMOVAL = "after_removal"
SIGNS = {
    State.BAD: "BAD ",
    State.OPEN: "open",
    State.DONE: "done",
    State.NOT_ASKED: " -- ",
    State.BY_HAND: "hand",
}
CAUTION = (
    "This is no training and no license. Work on gas is for licensed people where the law says so. "
    "Danger comes first: at a bad answer to a step marked (!) shut off, air the house, leave, and "
    "call from outside."
)


@cache
def procedures() -> dict[str, Procedure]:
    """Every list of steps by its id."""
    folder = os.path.join(app.DATA, "procedures")
    names = sorted(name for name in os.listdir(folder) if name.endswith(".toml"))
    found = (procedure_from(app.data_table("procedures", name)) for name in names)
    return {one.id: one for one in found}


def procedure(id: str) -> Procedure:
    """The list of steps of this id.

    Raises:
        NoSuchProcedure: there is none; names those that there are.
    """
    if id not in procedures():
        raise NoSuchProcedure(f'"{id}" is no list of steps. Known: {", ".join(procedures())}.')
    return procedures()[id]


def fitting(survey: Survey) -> Procedure:
    """The list that fits a survey: the one after a removal where a common vent lost a member."""
    removed = any(former_members(survey, name) for name in survey.common)
    return procedure(AFTER_REMOVAL if removed or survey.job.changed == "one_removed" else FIRST)


def list_text() -> str:
    """Every list of steps in one line each."""
    lines = [
        f"{one.id:<16} {len(one.steps):>2} steps  {one.title}" for one in procedures().values()
    ]
    lines += ["", "fluewright steps ID prints one; with a survey FILE it marks what is done."]
    return "\n".join(lines) + "\n"


def list_data() -> list[dict[str, object]]:
    """The same as data."""
    return [{"id": p.id, "title": p.title, "steps": len(p.steps)} for p in procedures().values()]


def judged(id: str, file: str, editions: Sequence[str]) -> tuple[Marked, ...]:
    """The steps of a list with how far the survey in a file has settled each."""
    job = app.read_job(file)
    return marked(procedure(id), job.survey, app.judge_job(job, editions)[0])


def is_bad(one: Marked) -> bool:
    """Whether the survey says of a step that it was found bad."""
    return one.state is State.BAD


def steps_text(id: str, done: Sequence[Marked] | None = None) -> str:
    """One list for reading, marked where a survey was judged."""
    found = procedure(id)
    lines = [*_wrapped(found.title), ""]
    lines += [line for text in found.before for line in _wrapped(text, "    ", "  - ")]
    lines.append("")
    rows = done if done is not None else [None] * len(found.steps)
    for step, row in zip(found.steps, rows, strict=True):
        lines += _step_lines(step, row)
    if done is not None:
        counts = Counter(one.state for one in done)
        words = ", ".join(f"{counts[state]} {STATE_WORDS[state].split(':')[0]}" for state in State)
        lines += ["", *_wrapped(f"By this survey: {words}.")]
    cites = "; ".join(cite.text() for cite in found.cites)
    return "\n".join([*lines, "", *_wrapped(f"After {cites}."), *_wrapped(CAUTION)]) + "\n"


def steps_data(id: str, done: Sequence[Marked] | None = None) -> dict[str, object]:
    """One list as data; the state is null where no survey was judged."""
    found = procedure(id)
    rows = done if done is not None else [None] * len(found.steps)
    return {
        "id": found.id,
        "title": found.title,
        "before": list(found.before),
        "cites": [cite.text() for cite in found.cites],
        "steps": [
            {
                "number": step.number,
                "do": step.do,
                "bad": step.bad or None,
                "stop": step.is_stop,
                "requirements": list(step.rules),
                "kinds": list(step.kinds),
                "cite": step.cite.text(),
                "state": row.state.value if row else None,
                "because": [f.sentence for f in row.because] if row else [],
            }
            for step, row in zip(found.steps, rows, strict=True)
        ],
        "caution": CAUTION,
    }


def _step_lines(step: Stepwise, row: Marked | None) -> list[str]:
    sign = f"[{SIGNS[row.state]}] " if row else ""
    danger = "(!) " if step.is_stop else ""
    lines = _wrapped(f"{sign}{danger}{step.do}", " " * 5, f"{step.number:>3}  ")
    if step.kinds:
        lines += _wrapped(f"for: {', '.join(step.kinds)}", " " * 9)
    if step.bad:
        lines += _wrapped(f"bad: {step.bad}", " " * 9)
    for found in row.because if row else ():
        lines += _wrapped(f"{found.subject}: {found.sentence}", " " * 9, " " * 7 + "> ")
    settles = ", ".join(step.rules) or "no requirement; write down that it was done"
    return [*lines, *_wrapped(f"settles: {settles} · {step.cite.text()}", " " * 9)]


def _wrapped(text: str, indent: str = "", first: str | None = None) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
