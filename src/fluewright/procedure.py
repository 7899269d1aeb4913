"""Inspections as lists of steps in order, and how far a judgement has settled each step."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum

from fluewright.errors import BadEdition
from fluewright.finding import Finding, Grade, Judgement, Verdict
from fluewright.frozen import frozen
from fluewright.rules import RULES
from fluewright.source import Basis, Citation
from fluewright.survey import Survey

TOP = {"procedure", "step"}
HEAD_KEYS = {"id", "title", "document", "edition", "before", "cites"}
STEP_KEYS = {"do", "bad", "rules", "kinds", "stop", "at", "basis", "document", "edition"}
CITE_KEYS = {"at", "basis", "document", "edition"}


class State(StrEnum):
    """How far a step has come, by the survey alone."""

    BAD = "found_bad"
    OPEN = "open"
    DONE = "done"
    NOT_ASKED = "not_asked"
    BY_HAND = "by_hand"


STATE_WORDS = {
    State.BAD: "found bad",
    State.OPEN: "open",
    State.DONE: "done",
    State.NOT_ASKED: "not asked here",
    State.BY_HAND: "by hand: no field of the survey records it",
}


@frozen
class Stepwise:
    """One step: what to do, what would be bad, and the requirements that it settles.

    ``kinds`` names the kinds of appliance it is for; empty where it is for all.
    """

    number: int
    do: str
    bad: str
    rules: tuple[str, ...]
    kinds: tuple[str, ...]
    cite: Citation
    stop: bool = False

    @property
    def is_stop(self) -> bool:
        """Whether a bad answer means to shut off and leave."""
        return self.stop or any(RULES[rule].grade is Grade.STOP for rule in self.rules)


@frozen
class Procedure:
    """A whole inspection: what to heed before it, and its steps in order."""

    id: str
    title: str
    before: tuple[str, ...]
    cites: tuple[Citation, ...]
    steps: tuple[Stepwise, ...]


@frozen
class Marked:
    """A step with its state, and the findings that made it so."""

    step: Stepwise
    state: State
    because: tuple[Finding, ...]


def procedure_from(data: Mapping[str, object]) -> Procedure:
    """A procedure from its parsed file.

    Raises:
        BadEdition: something is missing, unknown, without source, or names no requirement;
            every problem is listed, one a line.
    """
    head, raw = data.get("procedure"), data.get("step")
    if not isinstance(head, Mapping) or not isinstance(raw, list) or not raw:
        raise BadEdition("a procedure needs a table [procedure] and at least one [[step]].")
    name = str(head.get("id", "?"))
    problems = _unknown("", data, TOP) + _unknown("procedure.", head, HEAD_KEYS)
    problems += [f"procedure.{k} is missing" for k in ("id", "title", "cites") if not head.get(k)]
    whole = (str(head.get("document", "")), str(head.get("edition", "")))
    raw_cites = head.get("cites", [])
    cites = [_cite("procedure", c, whole, CITE_KEYS, problems) for c in _list(raw_cites)]
    steps = [_step(i, entry, whole, problems) for i, entry in enumerate(raw, 1)]
    if problems:
        raise BadEdition("\n".join(f"procedure {name}: {p}" for p in problems))
    before = tuple(str(text) for text in _list(head.get("before", [])))
    return Procedure(name, str(head["title"]), before, tuple(cites), tuple(steps))


def marked(found: Procedure, survey: Survey, judgement: Judgement) -> tuple[Marked, ...]:
    """Each step with how far the survey has settled it, by the judgement of its requirements."""
    kinds: set[str | None] = {
        one.kind for one in survey.appliances.values() if one.taken_out is not True
    }
    return tuple(_marked(step, kinds, judgement.findings) for step in found.steps)


def _marked(step: Stepwise, kinds: set[str | None], findings: Sequence[Finding]) -> Marked:
    if step.kinds and None not in kinds and kinds.isdisjoint(step.kinds):
        return Marked(step, State.NOT_ASKED, ())
    if not step.rules:
        return Marked(step, State.BY_HAND, ())
    told = [f for f in findings if f.rule in step.rules]
    for verdict, state in ((Verdict.FAILS, State.BAD), (Verdict.CANNOT_TELL, State.OPEN)):
        because = tuple(f for f in told if f.verdict is verdict)
        if because:
            return Marked(step, state, because)
    met = any(f.verdict is Verdict.MEETS for f in told)
    if not told:  # the edition lacks its requirements, so that nobody judged it
        return Marked(step, State.BY_HAND, ())
    return Marked(step, State.DONE if met else State.NOT_ASKED, ())


def _step(number: int, entry: object, whole: tuple[str, str], problems: list[str]) -> Stepwise:
    where = f"step {number}"
    if not isinstance(entry, Mapping):
        problems.append(f"{where}: a table is expected.")
        entry = {}
    problems += _unknown(f"{where}: ", entry, STEP_KEYS)
    if not entry.get("do"):
        problems.append(f"{where}: do is missing. Say what is to be done.")
    rules = tuple(str(rule) for rule in _list(entry.get("rules", [])))
    problems += [f"{where}: {rule} is no requirement." for rule in rules if rule not in RULES]
    cite = _cite(where, entry, whole, STEP_KEYS, problems)
    kinds = tuple(str(kind) for kind in _list(entry.get("kinds", [])))
    return Stepwise(
        number,
        str(entry.get("do", "")),
        str(entry.get("bad", "")),
        rules,
        kinds,
        cite,
        entry.get("stop") is True,
    )


def _cite(
    where: str, raw: object, whole: tuple[str, str], known: set[str], problems: list[str]
) -> Citation:
    entry = raw if isinstance(raw, Mapping) else {}
    problems += _unknown(f"{where}: ", entry, known)
    at, basis = str(entry.get("at", "")), str(entry.get("basis", ""))
    if not at:
        problems.append(f"{where}: the place (at) is missing.")
    if basis not in {b.value for b in Basis}:
        words = ", ".join(b.value for b in Basis)
        problems.append(f'{where}: basis "{basis}" is not known. Write one of {words}.')
        basis = Basis.MEMORY
    document = str(entry.get("document", whole[0]))
    year = str(entry.get("edition", "" if "document" in entry else whole[1]))
    return Citation(document, year, at, Basis(basis))


def _unknown(where: str, data: Mapping[str, object], known: set[str]) -> list[str]:
    named = ", ".join(sorted(known))
    return [f"{where}{key} is not known. Known here: {named}." for key in data if key not in known]


def _list(value: object) -> Iterable[object]:
    return value if isinstance(value, list) else ()
