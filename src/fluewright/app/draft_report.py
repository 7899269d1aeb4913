"""What the draft engine adds to a report: its answer for every appliance, and the figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from fluewright.app import Job
from fluewright.app.draft import appliances, draft_job, size_findings, start_of
from fluewright.app.draft_asked import Asked
from fluewright.app.draft_shared import SharedDraft, shared_job, shared_vents
from fluewright.draft.assess import Assessment
from fluewright.draft.from_survey import Modelled
from fluewright.draft.spill_map import SpillTimes, spill_times
from fluewright.drawing.draft_figures import figures_of
from fluewright.drawing.scene import Scene
from fluewright.errors import FluewrightError
from fluewright.finding import Judgement
from fluewright.quantity import Style
from fluewright.report import draft_words, draft_words_tree
from fluewright.report.inputs import NARROW, Draft, Drafts, Drawn
from fluewright.survey import Survey

# A map that is quick enough for every report: 20 to 100 degF, and calm to 5 Pa of suction.
OUTDOOR_K = (266.48, 277.59, 288.71, 299.82, 310.93)
ROOM_PA = (-5.0, -4.0, -3.0, -2.0, -1.0, 0.0)
BURN_S, STEP_S = 600.0, 10.0


@dataclass(frozen=True)
class _Of:
    """One survey and style: what they come to is worked out once for several reports."""

    sha256: str
    style: Style
    survey: Survey = field(compare=False)


def drafts_of(
    job: Job, judgements: Sequence[Judgement], style: Style
) -> tuple[Drafts, dict[str, Scene]]:
    """The answer for every appliance that burns, and its figures by appliance and name.

    What cannot be computed or drawn is said in the answer of that appliance.

    Args:
        job: the survey with its checksum.
        judgements: for what the code says of the size.
        style: units.
    """
    each, scenes = _worked_out(_Of(job.sha256, style, job.survey))
    return Drafts(each, size_findings(judgements), style), dict(scenes)


@lru_cache(maxsize=4)
def _worked_out(of: _Of) -> tuple[tuple[Draft, ...], Mapping[str, Scene]]:
    drafts = [_shared(one, of.style) for one in shared_job(of.survey, Asked(), start_of())]
    together = {name for ids in shared_vents(of.survey).values() for name in ids}
    scenes: dict[str, Scene] = {}
    for name in appliances(of.survey):
        if name in together:
            continue
        draft, drawn = _one(of.survey, name, of.style)
        drafts.append(draft)
        scenes |= {f"{name}/{key}": scene for key, scene in drawn.items()}
    return tuple(drafts), scenes


def _shared(one: SharedDraft, style: Style) -> Draft:
    """A shared vent, with the names of all that burn into it."""
    reckoned: tuple[str, ...] = ()
    if one.modelled is not None:
        reckoned = tuple(draft_words_tree.reckoned_with(one.modelled, style))
    return Draft(
        appliance=" and ".join(one.appliances),
        reason=one.reason,
        gaps=one.gaps,
        signs=one.signs,
        shared=one.assessment,
        reckoned=reckoned,
    )


def _one(survey: Survey, name: str, style: Style) -> tuple[Draft, dict[str, Scene]]:
    try:
        (found,) = draft_job(survey, appliance=name)
    except FluewrightError as error:  # figures that no vent can have
        signs = draft_words.signs(survey, name)
        return Draft(appliance=name, reason=str(error), signs=signs), {}
    drawn: dict[str, Scene] = {}
    missing = ""
    if found.modelled is not None and found.assessment is not None:
        try:
            drawn = _drawn(found.modelled, found.assessment, style)
        except FluewrightError as error:
            missing = str(error)
    draft = Draft(
        appliance=name,
        modelled=found.modelled,
        assessment=found.assessment,
        reason=found.reason,
        gaps=found.gaps,
        signs=found.signs,
        figures={
            key: Drawn(scene.title, scene.description)
            for key, scene in drawn.items()
            if not key.endswith(NARROW)
        },
        no_figures=missing,
    )
    return draft, drawn


def _drawn(model: Modelled, found: Assessment, style: Style) -> dict[str, Scene]:
    """The figures by name, and each again for a narrow page."""
    times = _map(model)
    drawn = dict(figures_of(model, found, style, spill_times=times))
    phone = figures_of(model, found, style, spill_times=times, size="phone")
    return drawn | {name + NARROW: scene for name, scene in phone}


def _map(model: Modelled) -> SpillTimes | None:
    """Spill times over weather and house; none for an appliance that starts by its own fan."""
    if model.system.hood is None:
        return None
    start = replace(start_of(BURN_S), step_s=STEP_S)
    return spill_times(model, start, OUTDOOR_K, ROOM_PA)
