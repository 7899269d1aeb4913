"""What the engine says of every vent that several appliances of a job share."""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.app.draft_asked import Asked, conditions
from fluewright.draft.assess_tree import TreeAssessment, assess_tree
from fluewright.draft.from_survey_tree import ModelledTree, tree_from_survey
from fluewright.draft.warmup import Start
from fluewright.errors import CannotModel, NotSolved
from fluewright.files.physics import coefficients, default_fuels
from fluewright.joining import members
from fluewright.report import draft_words
from fluewright.survey import Survey

MEASURE_IT = (
    "The house pressure is not worked out for a shared vent. Measure it with the house closed and "
    "its fans on, and give --house-pressure."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedDraft:
    """What the engine says of one shared vent.

    Attributes:
        common: its id in the survey.
        appliances: that burn into it.
        modelled: the system and its inputs; None where the survey does not suffice.
        assessment: the answer; None where there is none.
        reason: why there is no answer.
        gaps: what to measure or describe for one.
        signs: of spillage in the past, that the survey tells.
    """

    common: str
    appliances: tuple[str, ...]
    modelled: ModelledTree | None = None
    assessment: TreeAssessment | None = None
    reason: str = ""
    gaps: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()

    @property
    def fails(self) -> bool:
        """Whether there is no answer, or one that no one may leave as it is."""
        return self.assessment is None or self.assessment.fails


def shared_vents(survey: Survey) -> dict[str, tuple[str, ...]]:
    """The common vents that several appliances burn into, with their ids."""
    found = {name: tuple(p.from_ for p in members(survey, name)) for name in survey.common}
    return {name: ids for name, ids in found.items() if len(ids) > 1}


def shared_job(
    survey: Survey, asked: Asked, start: Start, appliance: str | None = None
) -> tuple[SharedDraft, ...]:
    """What the engine says of each shared vent, in the order of the survey.

    Args:
        survey: what was seen.
        asked: weather and house.
        start: how an appliance starts.
        appliance: only the vent that this one burns into.
    Returns:
        One entry a shared vent.
    Raises:
        BadQuantity: weather or house that cannot be read.
    """
    return tuple(
        _one(survey, asked, start, name, ids)
        for name, ids in shared_vents(survey).items()
        if appliance is None or appliance in ids
    )


def _one(
    survey: Survey, asked: Asked, start: Start, name: str, ids: tuple[str, ...]
) -> SharedDraft:
    signs = tuple(f"{one}: {text}" for one in ids for text in draft_words.signs(survey, one))
    if asked.tightness is not None:  # never as if the house were at rest
        return SharedDraft(common=name, appliances=ids, reason=MEASURE_IT, signs=signs)
    try:
        model = tree_from_survey(
            survey,
            coefficients(),
            default_fuels(),
            conditions=conditions(asked, survey),
            common=name,
        )
    except CannotModel as error:
        return SharedDraft(
            common=name, appliances=ids, reason=str(error), gaps=error.gaps, signs=signs
        )
    try:
        found = assess_tree(model, start)
    except NotSolved as error:
        return SharedDraft(
            common=name, appliances=ids, modelled=model, reason=str(error), signs=signs
        )
    return SharedDraft(common=name, appliances=ids, modelled=model, assessment=found, signs=signs)
