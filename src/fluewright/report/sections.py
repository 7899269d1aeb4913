"""The sections that every report has: findings, next steps, drawing, photos, what was not seen."""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.finding import Finding, Grade, Judgement, MeasureNext
from fluewright.report.findings import (
    Shown,
    citation_order,
    failing,
    finding_blocks,
    unanswered,
)
from fluewright.report.inputs import CAP_CHART, ELEVATION, PHOTO, Figures, Precautions
from fluewright.report.tree import (
    Audience,
    Block,
    Figure,
    Listing,
    Paragraph,
    Section,
    StepLine,
    StepLines,
    Tone,
)
from fluewright.report.words import common_name, count_text, joined, subject_names
from fluewright.survey import Survey


def findings_section(judgement: Judgement, shown: Shown) -> Section:
    """What fails and what is open, in full; for an official in the order of the text."""
    open_ = unanswered(judgement)
    short = shown.audience is Audience.OWNER and bool(judgement.next_steps)
    told = [f for f in open_ if not short or _is_told(f, shown)]
    findings: Sequence[Finding] = (*failing(judgement), *told)
    official = shown.audience is Audience.OFFICIAL
    if official:
        findings = sorted(findings, key=citation_order)
    title = "Findings by place in the text" if official else "Findings"
    head = Paragraph(
        f"Judged by {judgement.edition.title}. The bar shows the reading (dot) with its "
        "tolerance (whisker) beside the limit (upright line); the failing side is hatched.",
        Tone.SMALL,
    )
    left = len(open_) - len(told)
    more: tuple[Block, ...] = ()
    if left:
        text = (
            f"{count_text(left, 'more requirement')} not known yet: what would settle them stands "
            "under “What to measure or ask next”."
        )
        more = (Paragraph(text),)
    if not findings and not left:
        text = "Nothing that was examined fails, and no question that was asked is open."
        if judgement.notes:
            text += " But something is not judged, or does not fit together: it is listed below."
        if not judgement.findings:
            text = "Nothing was examined: the survey describes no path."
        none = Paragraph(text)
        return Section("findings", title, (none,))
    return Section("findings", title, (head, *finding_blocks(findings, shown), *more))


def _is_told(finding: Finding, shown: Shown) -> bool:
    """Whether an owner is told an open question in full: it is on the drawing, or it is grave."""
    return bool(shown.number(finding)) or finding.grade is Grade.STOP


def next_section(judgement: Judgement, shown: Shown) -> tuple[Section, ...]:
    """What to measure or ask next, the most telling first, and the tools to bring."""
    if not judgement.next_steps:
        return ()
    titles = {finding.rule: finding.title for finding in judgement.findings}
    steps = tuple(_step_line(step, rules, titles, shown) for step, rules in judgement.next_steps)
    tools = list(dict.fromkeys(step.tool for step, _ in judgement.next_steps if step.tool))
    blocks: tuple[Block, ...] = (StepLines(steps),)
    if tools and shown.audience is not Audience.OWNER:
        blocks = (Paragraph(f"Bring: {'; '.join(tools)}."), *blocks)
    return (Section("next", "What to measure or ask next", blocks),)


def _step_line(
    step: MeasureNext, rules: Sequence[str], titles: dict[str, str], shown: Shown
) -> StepLine:
    subject = shown.named(step.subject)
    if shown.audience is Audience.OWNER:
        settles = count_text(len(rules), "question") if rules else ""
    else:
        settles = "; ".join(dict.fromkeys(titles.get(rule, rule) for rule in rules))
    return StepLine(
        title=f"{step.label}, {subject}" if subject else step.label,
        how=step.how,
        why=step.why,
        tool=step.tool,
        ask=step.ask,
        settles=settles,
    )


def figure_sections(survey: Survey, judgement: Judgement, figures: Figures) -> tuple[Section, ...]:
    """The measured drawings and the charts of where each cap may stand."""
    drawn: list[Block] = []
    for name, alt in figures.elevations.items():
        caption = f"{_capital(_way(survey, name))}, seen square on, true to scale."
        if any(finding.number for finding in judgement.findings):
            caption += " The numbers are those of the findings."
        drawn.append(Figure(ELEVATION + name, caption, alt))
    charts: list[Block] = []
    for name, alt in figures.cap_charts.items():
        caption = f"Where the cap may stand by {judgement.edition.title}, and where it stands."
        if len(figures.cap_charts) > 1:
            caption = f"{_capital(_way(survey, name))}. {caption}"
        charts.append(Figure(CAP_CHART + name, caption, alt))
    found: list[Section] = []
    if drawn:
        title = "The drawing" if len(drawn) == 1 else "The drawings"
        found.append(Section("drawing", title, tuple(drawn), new_page=True))
    if charts:
        title = "Where the cap stands" if len(charts) == 1 else "Where the caps stand"
        found.append(Section("cap", title, tuple(charts)))
    return tuple(found)


def _way(survey: Survey, name: str) -> str:
    """What one sheet shows, in words."""
    if name not in survey.common:
        if len(survey.appliances) == 1:
            return "the path from the draft hood to the cap"
        return f"the path from {subject_names(survey).get(name, name)} to the cap"
    on_it = [
        f"{path.from_} (taken out)" if survey.appliance_of(path).taken_out is True else path.from_
        for path in survey.paths
        if path.joins == name
    ]
    spoken = joined([text.replace("_", " ") for text in on_it])
    return f"{common_name(name)} with {spoken}" if spoken else common_name(name)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def photos_section(
    survey: Survey, judgement: Judgement, figures: Figures, shown: Shown
) -> tuple[Section, ...]:
    """The photos with their captions and the marks they belong to."""
    if not survey.photos:
        return ()
    blocks: list[Block] = []
    missing: list[str] = []
    for photo in survey.photos:
        marks = sorted(
            finding.number
            for finding in judgement.findings
            if finding.number and photo.file in finding.photos
        )
        of = shown.names.get(photo.of, photo.of) if photo.of else ""
        caption = ": ".join(part for part in (of, photo.shows) if part) or photo.file
        if marks:
            caption += f" (mark {', '.join(map(str, marks))})"
        if photo.file in figures.photos:
            blocks.append(Figure(PHOTO + photo.file, caption, f"Photo. {caption}"))
        else:
            missing.append(f"{photo.file}: {caption}")
    if missing:
        blocks.append(Paragraph("Named in the survey, but the picture was not handed over:"))
        blocks.append(Listing(tuple(missing)))
    return (Section("photos", "Photos", tuple(blocks)),)


def precautions_section(precautions: Precautions | None) -> tuple[Section, ...]:
    """What to heed before going up."""
    if precautions is None or not precautions.lines:
        return ()
    return (Section("precautions", precautions.heading, (Listing(precautions.lines),)),)
