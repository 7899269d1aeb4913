"""Use cases that write files: a new survey, drawings, reports, the demo."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import date

from fluewright import app
from fluewright.app import DATA, For, Job, Sheet, Style, Written, write_bytes, write_text
from fluewright.errors import FluewrightError
from fluewright.finding import Judgement

Progress = Callable[[str], None]
DEMO = os.path.join(DATA, "demo")
DEMO_SURVEY = "otter-bend.yaml"
TWIN = "-repaired"  # what the name of a repaired house ends in


class BadOutput(FluewrightError):
    """An output file that this command cannot write."""


def template_text(coarse: bool) -> str:
    """A survey to fill in, as text."""
    name = "coarse.yaml" if coarse else "full.yaml"
    with open(os.path.join(DATA, "templates", name), encoding="utf-8") as template:
        return template.read()


def new_survey(file: str, coarse: bool) -> None:
    """Write a survey to fill in; never over an existing file."""
    if os.path.exists(file):
        raise BadOutput(f"{file} is there already. Name a new file; nothing is written over.")
    write_text(file, template_text(coarse))


def _ending(file: str, allowed: Sequence[str]) -> str:
    ending = os.path.splitext(file)[1].lower()
    if ending not in allowed:
        found = f'"{ending}" cannot be written here' if ending else "the name has no ending"
        raise BadOutput(f"{file or 'output'}: {found}. Use {' or '.join(allowed)}.")
    return ending


def draw(
    job: Job,
    out: str,
    chart: bool,
    editions: Sequence[str],
    sheet: Sheet,
    style: Style,
    path: str | None = None,
) -> list[Written]:
    """Every sheet of a survey, or one of them, each into a file of its own, SVG or PNG.

    Args:
        job: the survey.
        out: the first file; the others have -2, -3 ... before the ending.
        chart: the cap charts instead of the elevations.
        editions: the first of them judges.
        sheet: size of the paper.
        style: units.
        path: draw the sheet of this common vent or appliance alone.
    """
    from fluewright.render.svg import to_svg

    ending = _ending(out, (".svg", ".png"))
    names = app.chart_names(job, path) if chart else app.sheet_names(job, path)
    if not names:
        raise BadOutput(
            f"{job.file}: the cap chart is for gas vents, and this ends in a chimney. "
            "The elevation shows how high a chimney must end: leave out --chart."
        )
    judgement = app.judge_job(job, editions, style)[0]
    written: list[Written] = []
    for n, name in enumerate(names, 1):
        file = out if n == 1 else f"{out[: -len(ending)]}-{n}{out[-len(ending) :]}"
        make = app.cap_chart_scene if chart else app.elevation_scene
        svg = to_svg(make(job, judgement, sheet, style, name))
        if ending == ".svg":
            write_text(file, svg)
        else:
            from fluewright.render.png import svg_to_png

            write_bytes(file, svg_to_png(svg))
        what = "cap chart" if chart else "dimensioned elevation"
        written.append(Written(file, what if len(names) == 1 else f"{what} of {name}"))
    return written


def report(
    job: Job,
    out: str,
    audience: For,
    editions: Sequence[str],
    sheet: Sheet,
    style: Style,
    judgements: tuple[Judgement, ...] | None = None,
) -> Written:
    """The report into one file, PDF or HTML by its ending."""
    ending = _ending(out, (".pdf", ".html"))
    found = judgements if judgements is not None else app.judge_job(job, editions, style)
    tree, pictures = app.report_tree(job, found, audience, sheet, style, _seen_on(job))
    if ending == ".pdf":
        from fluewright.render.pdf import render_pdf

        write_bytes(out, render_pdf(tree, pictures, paper=sheet))
    else:
        from fluewright.render.html import render_html

        write_text(out, render_html(tree, pictures))
    return Written(out, f"report for the {audience}")


def _seen_on(job: Job) -> str:
    """Date of the report: today. The survey's own date stands in the title."""
    return date.today().isoformat()


def demo_jobs() -> tuple[str, ...]:
    """Names of the invented jobs that ship, the main one first."""
    names = {os.path.splitext(name)[0] for name in os.listdir(DEMO) if name.endswith(".yaml")}
    first = os.path.splitext(DEMO_SURVEY)[0]
    others = (n for n in names if not n.endswith(TWIN) and n != first)
    return (first, *sorted(others))


def demo(folder: str, progress: Progress, name: str = "otter-bend") -> list[Written]:
    """An invented job into a folder: survey, photos, judgement, drawings, reports.

    Args:
        folder: made where it is not there.
        progress: told of each step that takes a while.
        name: one of ``demo_jobs()``.
    Returns:
        Every file written, with what it is.
    Raises:
        BadOutput: there is no job of that name.
    """
    if name not in demo_jobs():
        raise BadOutput(f'there is no demo job "{name}". Choose {", ".join(demo_jobs())}.')
    os.makedirs(folder, exist_ok=True)
    written: list[Written] = []
    for file, what in (
        (f"{name}.yaml", "survey of an invented house with planted defects"),
        (f"{name}{TWIN}.yaml", "the same house repaired"),
    ):
        _copy(os.path.join(DEMO, file), os.path.join(folder, file))
        written.append(Written(os.path.join(folder, file), what))
    job = app.read_job(os.path.join(folder, f"{name}.yaml"))
    _copy_photos(job, folder)
    progress(f"judging {name} by one edition")
    judgements = app.judge_job(job)
    written.append(_judgement_text(folder, judgements))
    progress("drawing elevation and cap chart")
    at = os.path.join(folder, "elevation.svg")
    written += draw(job, at, False, (), "letter", "us")
    if app.chart_names(job, None):  # a chimney has none
        at = os.path.join(folder, "cap-chart.svg")
        written += draw(job, at, True, (), "letter", "us")
    progress("setting the reports")
    reports: tuple[tuple[str, For], ...] = (
        ("report.pdf", "owner"),
        ("report-official.pdf", "official"),
        ("report.html", "trade"),
    )
    for file, audience in reports:
        at = os.path.join(folder, file)
        written.append(report(job, at, audience, (), "letter", "us", judgements))
    return written


def _copy_photos(job: Job, folder: str) -> None:
    """The photos of a demo job, beside its survey; a job without photos has no such folder."""
    for photo in job.survey.photos:
        os.makedirs(os.path.dirname(os.path.join(folder, photo.file)), exist_ok=True)
        _copy(os.path.join(DEMO, photo.file), os.path.join(folder, photo.file))


def _copy(source: str, target: str) -> None:
    with open(source, "rb") as file:
        write_bytes(target, file.read())


def _judgement_text(folder: str, judgements: tuple[Judgement, ...]) -> Written:
    from fluewright.render.plain import judgements_text

    file = os.path.join(folder, "judgement.txt")
    write_text(file, judgements_text(judgements, full=True))
    return Written(file, "every finding in plain text")
