"""Existing or new: which text binds which part of a job, and why.

What was lawful when it was built may stay while it is not dangerous. What is renewed, and what a
renewed appliance hangs on, is judged by today's text. Which text was in force, and what the
authority lets stay, only the authority can say: what is not known here is asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from fluewright.edition import Edition
from fluewright.finding import Applied, Finding, Grade, Verdict
from fluewright.frozen import frozen
from fluewright.joining import is_out
from fluewright.source import Basis, Citation
from fluewright.survey import Absent, Path, Survey

STAYS = Citation("", "", "common practice, no source", Basis.PRACTICE)
CHANGE_RULES = ("replacement_checks",)
CHIMNEY_RULES = ("chimney_examined_before_connection", "existing_chimney_lining_exception")
STAYING = (Grade.DEFECT, Grade.CRAFT, Grade.NOTE)  # what may stay, where the older text let it
WHICH_WAS_IN_FORCE = "Ask the authority which text was in force when it was built."
MAY_IT_STAY = "Ask the authority whether it may stay as it is."
WHAT_IS_DONE = "Say what is being done: inspection, replacement, new or repair."
WHAT_IS_NEW = "Say what is new in this job."


@frozen
class _Part:
    """A part of the installation: its words, the ids that belong to it, whom it serves."""

    what: str
    ids: tuple[str, ...]
    serves: tuple[str, ...]  # appliances
    own: bool  # it belongs to one appliance, and comes with it
    chimney: bool = False


def applied(survey: Survey, today: Edition, built: Edition | None) -> tuple[Applied, ...]:
    """For each part the text that binds it, with the reason; parts alike said together.

    Args:
        survey: the survey; its job says what is done, what is new and when the rest was built.
        today: the edition that it is judged by.
        built: the edition that was in force when it was built, where the job names one that
            this program holds.
    """
    merged: dict[Applied, list[str]] = {}
    for part in _parts(survey):
        merged.setdefault(_of_part(survey, part, today, built), []).append(part.what)
    return tuple(replace(found, parts=tuple(parts)) for found, parts in merged.items())


def may_stay(survey: Survey, today: Edition, built: Edition | None) -> bool:
    """Whether an inspection of what stands, with nothing new, was built under an older text."""
    job = survey.job
    only_looked_at = job.doing == "inspection" and not _new(survey)
    changed = isinstance(job.changed, str) or any(
        one.taken_out is True for one in survey.appliances.values()
    )
    return only_looked_at and not changed and built is not None and built.id != today.id


def marked_as_built(
    findings: Iterable[Finding], older: Sequence[Finding], built: Edition
) -> list[Finding]:
    """Findings that fail today and meet the text they were built under say so; none is weakened.

    What means to shut off, or a hazard, is never marked: danger may not stay under any text.
    """
    met = {(f.rule, f.subject) for f in older if f.verdict is Verdict.MEETS}
    text = (
        f"It meets {built.title}, under which it was built by the job's own word: it may stay if "
        "the authority agrees that it is not dangerous."
    )
    return [
        replace(found, as_built=text)
        if found.verdict is Verdict.FAILS
        and found.grade in STAYING
        and (found.rule, found.subject) in met
        else found
        for found in findings
    ]


def _parts(survey: Survey) -> tuple[_Part, ...]:
    parts: list[_Part] = []
    told = {path.from_: path for path in survey.paths}
    live = [name for name, one in survey.appliances.items() if one.taken_out is not True]
    for name in live:
        path = told.get(name, Path(from_=name))
        pieces = {role: _ids(path, role) for role in ("connector", "vent")}
        parts.append(_Part(f"appliance {name} and its clearances", (name,), (name,), True))
        parts.append(_Part(f"connector of {name}", pieces["connector"], (name,), True))
        if path.joins is None:
            chimney = path.chimney is not None and not isinstance(path.chimney, Absent)
            parts.append(_Part(f"vent of {name}", pieces["vent"], (name,), True, chimney))
    for name, vent in survey.common.items():
        serves = tuple(p.from_ for p in survey.paths if p.joins == name and not is_out(survey, p))
        ids = (name, *(piece.id for piece in vent.pieces))
        chimney = vent.chimney is not None and not isinstance(vent.chimney, Absent)
        if serves:
            parts.append(_Part(f"common vent {name}", ids, serves, False, chimney))
    spaces = dict.fromkeys(survey.appliances[name].space for name in live)
    for space in spaces:
        if space is not None:
            inside = tuple(n for n in live if survey.appliances[n].space == space)
            parts.append(_Part(f"air of {space}", (space,), inside, False))
    return tuple(parts)


def _ids(path: Path, role: str) -> tuple[str, ...]:
    return tuple(piece.id for piece in path.pieces if piece.role == role)


def _new(survey: Survey) -> tuple[str, ...]:
    """What the job calls new. A replacement of the only appliance is of that one."""
    told = survey.job.new
    if isinstance(told, tuple):
        return told
    live = [name for name, one in survey.appliances.items() if one.taken_out is not True]
    replaced = survey.job.doing == "replacement" or survey.job.changed in (
        "replaced_same",
        "replaced_other",
    )
    return (live[0],) if replaced and told is None and len(live) == 1 else ()


def _of_part(survey: Survey, part: _Part, today: Edition, built: Edition | None) -> Applied:
    job, new = survey.job, _new(survey)
    change = _cites(today, (*CHANGE_RULES, *(CHIMNEY_RULES if part.chimney else ())))
    touched = [name for name in part.serves if name in new]
    if job.doing == "new":
        found = _by(today, "all of it is new", (STAYS,))
    elif set(part.ids) & set(new):
        found = _by(today, "new in this job", change)
    elif touched:
        why = "the new appliance hangs on it" if part.own else "a new appliance uses it"
        found = _by(today, f"{why}: it is brought up to today's text where it falls short", change)
    elif _lost_one(survey, part) and not part.own:
        why = "an appliance was taken off or away: what remains is sized and tested again"
        found = _by(today, why, change)
    elif job.doing is None:
        found = _unknown("what is being done is not told", WHAT_IS_DONE)
    elif _is_untold(job.doing, job.new, new):
        found = _unknown("what is new in this job is not told", WHAT_IS_NEW)
    else:
        found = _as_built(survey, built)
    return found


def _is_untold(doing: str, told: object, new: tuple[str, ...]) -> bool:
    """Whether something has to be new, or may be, and nobody says what."""
    if doing == "replacement":
        return not new
    return doing == "repair" and not isinstance(told, tuple | Absent)


def _lost_one(survey: Survey, part: _Part) -> bool:
    """Whether the part served, or held, an appliance that is gone."""
    gone = {name for name, one in survey.appliances.items() if one.taken_out is True}
    by_vent = {p.from_ for p in survey.paths if p.joins in part.ids}
    by_space = {name for name in gone if survey.appliances[name].space in part.ids}
    return bool(gone & (by_vent | by_space))


def _as_built(survey: Survey, built: Edition | None) -> Applied:
    told = survey.job.built_under
    why = "it stands as it was built, and may stay while it is not dangerous"
    if built is not None:
        return replace(_by(built, why, (STAYS,)), ask=MAY_IT_STAY)
    if isinstance(told, str):
        why += f"; the text of {told} is not among those that this program holds"
        return replace(_unknown(why, MAY_IT_STAY), title=f"text in force in {told}")
    return _unknown(f"{why}; which text that was is not known", WHICH_WAS_IN_FORCE)


def _by(edition: Edition, why: str, cites: tuple[Citation, ...]) -> Applied:
    return Applied((), edition.id, edition.title, why, cites)


def _unknown(why: str, ask: str) -> Applied:
    return Applied((), "", "not known", why, (STAYS,), ask)


def _cites(edition: Edition, rules: Sequence[str]) -> tuple[Citation, ...]:
    """Where today's text says that a change brings the rest up; practice where it is silent."""
    found = [
        cite
        for rule in rules
        if rule in edition.requirements
        for cite in edition.requirements[rule].cites
    ]
    return tuple(dict.fromkeys(found)) or (STAYS,)
