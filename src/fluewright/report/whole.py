"""Everything that was found, as a report for one kind of reader: a tree, without layout."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fluewright.finding import Judgement
from fluewright.frozen import frozen
from fluewright.report.draft import draft_notices, draft_sections
from fluewright.report.editions import editions_section
from fluewright.report.findings import Shown, drawn_numbers
from fluewright.report.inputs import (
    CheckList,
    Drafts,
    Figures,
    Precautions,
    Provenance,
)
from fluewright.report.sections import (
    figure_sections,
    findings_section,
    next_section,
    photos_section,
    precautions_section,
)
from fluewright.report.several import appliance_texts
from fluewright.report.steps import steps_section
from fluewright.report.summary import (
    GENERAL_CAUTION,
    NO_TEST,
    is_quiet,
    notices,
    state_text,
    summary_sections,
)
from fluewright.report.tables import (
    dimensions_section,
    meets_sections,
    repairs_section,
    workings_section,
)
from fluewright.report.tree import (
    Audience,
    Block,
    Listing,
    Notice,
    Paragraph,
    Report,
    Section,
    Tone,
)
from fluewright.report.unseen import (
    applied_section,
    cautions_section,
    coverage_section,
    provenance_section,
    unseen_section,
)
from fluewright.report.words import shorten, subject_names
from fluewright.survey import Survey

_TITLE = 90
_SUBTITLE_LENGTH = 200
_SUBTITLE = {
    Audience.OWNER: "For the owner",
    Audience.TRADE: "For the person who repairs it",
    Audience.OFFICIAL: "For the official",
}


def build(
    survey: Survey,
    judgements: Sequence[Judgement],
    *,
    audience: Audience,
    provenance: Provenance,
    figures: Figures = Figures(),  # noqa: B008 (frozen)
    precautions: Precautions | None = None,
    check_list: CheckList | None = None,
    drafts: Drafts = Drafts(),  # noqa: B008 (frozen)
) -> Report:
    """The report for one audience, as a tree.

    Args:
        survey: what was seen.
        judgements: one for each edition, the leading one first; all of the same survey.
        audience: decides what leads and how much working is shown.
        provenance: what the report is made from.
        figures: which pictures the renderer will be handed.
        precautions: what to heed before going up.
        check_list: the steps of the inspection that fits.
        drafts: what the draft engine says of each appliance.

    Raises:
        ValueError: no judgement, or judgements of different surveys.
    """
    hashes = {judgement.survey_sha256 for judgement in judgements}
    if len(hashes) != 1:
        raise ValueError(f"a report takes judgements of one survey, got those of {len(hashes)}")
    first = judgements[0]
    shown = Shown(audience, subject_names(survey), drawn_numbers(first))
    parts = _Parts(survey, judgements, shown, provenance, figures, precautions, check_list, drafts)
    order = {Audience.OWNER: _owner, Audience.TRADE: _trade, Audience.OFFICIAL: _official}
    title = shorten(survey.job.title, _TITLE)
    return Report(
        title=title,
        subtitle=_subtitle(survey, judgements, audience),
        audience=audience,
        opening=_opening(parts),
        sections=order[audience](parts),
        running=f"{shorten(title, 60)} · survey {first.survey_sha256[:12]}",
        author=f"fluewright {provenance.program_version}",
        made_on=provenance.made_on,
    )


@frozen
class _Parts:
    """What the sections are made from."""

    survey: Survey
    judgements: Sequence[Judgement]
    shown: Shown
    provenance: Provenance
    figures: Figures
    precautions: Precautions | None
    check_list: CheckList | None
    drafts: Drafts

    @property
    def first(self) -> Judgement:
        """The judgement that leads."""
        return self.judgements[0]


def _owner(parts: _Parts) -> tuple[Section, ...]:
    first, shown = parts.first, parts.shown
    second, *others = (
        *figure_sections(parts.survey, first, parts.figures),
        findings_section(first, shown),
    )
    return (
        *summary_sections(parts.survey, parts.judgements, shown, _computed(parts)),
        replace(second, new_page=True),
        *others,
        *draft_sections(parts.drafts, shown.audience),
        *next_section(first, shown),
        *precautions_section(parts.precautions),
        *photos_section(parts.survey, first, parts.figures, shown),
        *editions_section(parts.judgements, shown),
        *_ending(parts),
        provenance_section(parts.survey, parts.judgements, parts.provenance),
    )


def _trade(parts: _Parts) -> tuple[Section, ...]:
    first, shown = parts.first, parts.shown
    return (
        *repairs_section(first, shown),
        *dimensions_section(first, shown),
        *next_section(first, shown),
        *precautions_section(parts.precautions),
        findings_section(first, shown),
        *draft_sections(parts.drafts, shown.audience),
        *figure_sections(parts.survey, first, parts.figures),
        *photos_section(parts.survey, first, parts.figures, shown),
        *editions_section(parts.judgements, shown),
        *steps_section(parts.check_list),
        *_ending(parts),
        provenance_section(parts.survey, parts.judgements, parts.provenance),
    )


def _official(parts: _Parts) -> tuple[Section, ...]:
    first, shown = parts.first, parts.shown
    return (
        provenance_section(parts.survey, parts.judgements, parts.provenance),
        coverage_section(parts.judgements),
        *editions_section(parts.judgements, shown),
        findings_section(first, shown),
        *draft_sections(parts.drafts, shown.audience),
        *figure_sections(parts.survey, first, parts.figures),
        *photos_section(parts.survey, first, parts.figures, shown),
        *next_section(first, shown),
        *precautions_section(parts.precautions),
        *meets_sections(first, shown),
        *workings_section(first, shown),
        *steps_section(parts.check_list),
        *_ending(parts),
    )


def _ending(parts: _Parts) -> tuple[Section, ...]:
    return (
        *applied_section(parts.first),
        *unseen_section(parts.survey, parts.judgements, parts.shown),
        *cautions_section(parts.judgements),
    )


def _subtitle(survey: Survey, judgements: Sequence[Judgement], audience: Audience) -> str:
    job = survey.job
    parts = [
        _SUBTITLE[audience],
        f"seen {job.seen}" if job.seen else "",
        f"by {job.by}" if job.by else "",
        job.visit or "",
        ", ".join(judgement.edition.title for judgement in judgements),
    ]
    return shorten(" · ".join(part for part in parts if part), _SUBTITLE_LENGTH)


def _computed(parts: _Parts) -> tuple[Notice, ...]:
    """What the engine adds to the notices: no doubt where the house says already to shut it off."""
    told = notices(parts.survey, parts.judgements)
    off = any(one.tone is Tone.STOP for one in told) and len(parts.survey.appliances) == 1
    return tuple(one for one in draft_notices(parts.drafts) if one.tone is Tone.STOP or not off)


def _opening(parts: _Parts) -> tuple[Block, ...]:
    survey, judgements, shown = parts.survey, parts.judgements, parts.shown
    told = notices(survey, judgements)
    grave = [one for one in told if one.tone is not Tone.INVENTED]
    rest = [one for one in told if one.tone is Tone.INVENTED]
    blocks: list[Block] = [*grave, *_computed(parts), *rest]
    if shown.audience is not Audience.OWNER:
        blocks.append(Paragraph(state_text(judgements), Tone.LEAD))
        each = appliance_texts(survey, judgements, shown)
        blocks += [Listing(each)] if each else []
        if is_quiet(judgements):
            blocks.append(Paragraph(NO_TEST))
        blocks.append(Paragraph(GENERAL_CAUTION, Tone.SMALL))
    return tuple(blocks)
