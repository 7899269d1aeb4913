"""docs/steps.md, from the lists of steps of the package."""

from __future__ import annotations

from collections.abc import Iterator

from tools.markdown import MADE, table

from fluewright.app import steps
from fluewright.procedure import Procedure, Stepwise

HEAD = f"""# Inspections, step by step

{MADE}

`fluewright steps` lists them, `fluewright steps ID` prints one, and with the file of a survey it
marks each step as done, open or found bad, by the judgement of the requirements that the step
settles. A step that no requirement settles is done by hand, and nothing in a survey says that it
was.
(!) marks a step whose bad answer means: shut off, air the house, leave, call from outside.

{steps.CAUTION}
"""


def steps_page() -> str:
    """Every list with its steps."""
    lines = [HEAD]
    for one in steps.procedures().values():
        lines += list(_section(one))
    return "\n".join(lines)


def _section(one: Procedure) -> Iterator[str]:
    yield from (f"## {one.title}", "", f"`fluewright steps {one.id}`", "")
    yield from (f"* {text}" for text in one.before)
    yield ""
    yield from table(
        ("step", "what to do", "bad", "settles", "source"), (_row(step) for step in one.steps)
    )
    yield from ("", f"After {'; '.join(cite.text() for cite in one.cites)}.", "")


def _row(step: Stepwise) -> tuple[str, ...]:
    only = f" (of a {' or '.join(step.kinds)})" if step.kinds else ""
    rules = ", ".join(f"[{rule}](rules/{rule}.md)" for rule in step.rules) or "by hand"
    danger = "(!) " if step.is_stop else ""
    return (str(step.number), f"{danger}{step.do}{only}", step.bad, rules, step.cite.text())
