"""The command line: parse, call a use case, show.

Exit 0: done and nothing fails; 1: something fails or cannot be told; 2: bad usage or input, with
one clear message per fault. A drawing or report that was written is done.
"""

from __future__ import annotations

import os
from typing import Any, cast

import click

from fluewright import __version__
from fluewright.cli.drafting import draft
from fluewright.cli.shared import EDITION, JSON, SHEET, UNITS, clear, print_json

CONTEXT = {"help_option_names": ["-h", "--help"], "max_content_width": 92}


@click.group(context_settings=CONTEXT)
@click.version_option(__version__, "-V", "--version")
def main() -> None:
    """Survey, judge, draw and report the venting of a gas appliance.

    FILE is a survey (YAML or JSON); - reads standard input.
    """


@main.command()
@click.argument("file", type=click.Path())
@click.option("--coarse", is_flag=True, help="The shortest survey: three lengths and a diameter.")
@clear
def new(file: str, coarse: bool) -> int:
    """Write a survey to fill in, with every line explained, to FILE; - prints it."""
    from fluewright.app import produce

    if file == "-":
        click.echo(produce.template_text(coarse), nl=False)
        return 0
    produce.new_survey(file, coarse)
    click.echo(f"{file}: fill it in, then: fluewright check {file}")
    return 0


@main.command()
@click.argument("directory", type=click.Path(), default="out")
@click.option("--job", default="otter-bend", help="Name of an invented job, or all.")
@clear
def demo(directory: str, job: str) -> int:
    """Judge, draw and report an invented job into DIRECTORY.

    With --job all each job goes into a folder of its own there.
    """
    from fluewright.app import produce

    jobs = produce.demo_jobs() if job == "all" else (job,)
    for name in jobs:
        folder = os.path.join(directory, name) if job == "all" else directory
        for written in produce.demo(folder, lambda text: click.echo(text, err=True), name):
            click.echo(f"{written.file:<32} {written.what}")
    click.echo("Every house is invented. Nothing here is advice about a real place.")
    return 0


@main.command()
@click.argument("file", type=click.Path())
@JSON
@clear
def check(file: str, as_json: bool) -> int:
    """Read FILE and say what is wrong with it, and what is still worth measuring.

    Exit 0 where it reads well, however much is left to measure; 1 where it contradicts itself.
    """
    from fluewright import app

    job = app.read_job(file)
    judgement = app.judge_job(job)[0]
    if as_json:
        from fluewright.render.data import step_data

        print_json(
            {
                "survey": {"title": job.survey.job.title, "sha256": job.sha256},
                "notes": list(judgement.notes),
                "next": [
                    {**step_data(step), "settles": list(rules)}
                    for step, rules in judgement.next_steps
                ],
                "before_going_up": list(app.heed(job)),
                "cautions": list(judgement.cautions),
            }
        )
    else:
        from fluewright.render.plain import check_text
        from fluewright.report.spoken import spoken

        judgement = spoken(job.survey, judgement)
        click.echo(check_text(job.file, judgement, app.heed(job)), nl=False)
    return 1 if judgement.notes else 0


@main.command()
@click.argument("file", type=click.Path())
@EDITION
@click.option("--full", is_flag=True, help="Show also what meets and what was not examined.")
@UNITS
@JSON
@clear
def judge(file: str, editions: tuple[str, ...], full: bool, units: str, as_json: bool) -> int:
    """Judge the survey in FILE against one edition, or several side by side."""
    from fluewright import app

    job = app.read_job(file)
    judgements = app.judge_job(job, editions, cast(app.Style, units))
    if as_json:
        from fluewright.render.data import judgements_data

        print_json(judgements_data(judgements, __version__))
    else:
        from fluewright.render.plain import judgements_text
        from fluewright.report.spoken import spoken

        told = [spoken(job.survey, judgement) for judgement in judgements]
        click.echo(judgements_text(told, full=full), nl=False)
    return 0 if all(j.is_settled_well for j in judgements) else 1


main.add_command(draft)


@main.command()
@click.argument("edition", required=False, metavar="[ID]")
@JSON
@clear
def editions(edition: str | None, as_json: bool) -> int:
    """List the editions, or show what edition ID judges and leaves out."""
    from fluewright.app import show

    data = show.editions_data(edition)
    if as_json:
        print_json(data)
    else:
        click.echo(show.editions_text(data), nl=False)
    return 0


@main.command()
@click.argument("id", required=False, metavar="[ID]")
@click.argument("file", required=False, type=click.Path())
@EDITION
@JSON
@clear
def steps(id: str | None, file: str | None, editions: tuple[str, ...], as_json: bool) -> int:
    """List the inspections, or print the steps of ID; with FILE marked by what it settles.

    Danger stops come first. Exit 1 where a step was found bad.
    """
    from fluewright.app import steps as lists

    if id is None:
        if as_json:
            print_json(lists.list_data())
        else:
            click.echo(lists.list_text(), nl=False)
        return 0
    done = None if file is None else lists.judged(id, file, editions)
    if as_json:
        print_json(lists.steps_data(id, done))
    else:
        click.echo(lists.steps_text(id, done), nl=False)
    return 1 if done and any(lists.is_bad(one) for one in done) else 0


@main.command()
@click.argument("rule")
@EDITION
@JSON
@clear
def explain(rule: str, editions: tuple[str, ...], as_json: bool) -> int:
    """Say what RULE asks, why, how to measure it, its limit in each edition, the remedy."""
    from fluewright.app import show

    if as_json:
        print_json(show.explain_data(rule, editions))
    else:
        click.echo(show.explain_text(rule, editions), nl=False)
    return 0


@main.command()
@click.option("--vent", required=True, type=click.Choice(["type_b", "single_wall", "masonry"]))
@click.option("--connector", required=True, type=click.Choice(["type_b", "single_wall", "none"]))
@click.option("--burner", required=True, type=click.Choice(["draft_hood", "fan_assisted"]))
@click.option("--height", required=True, metavar="LENGTH", help='Hood outlet to cap, "10 ft".')
@click.option(
    "--lateral", required=True, metavar="LENGTH",
    help='All sideways length, "5 ft"; with --rise of the connector, with --shared of offsets.',
)  # fmt: skip
@click.option(
    "--diameter", required=True, metavar="LENGTH",
    help='Of the vent, "5 in"; on a chimney and with --rise of the connector.',
)  # fmt: skip
@click.option(
    "--connector-diameter", metavar="LENGTH",
    help="Where it differs from the vent's; with --shared the largest.",
)  # fmt: skip
@click.option("--flue-area", metavar="AREA", help='Clear inside of a chimney flue, "63 in2".')
@click.option(
    "--outlet", metavar="LENGTH",
    help="Diameter of draft hood outlet or flue collar; with --shared the smallest.",
)  # fmt: skip
@click.option(
    "--extra-elbow", "extra_elbows", multiple=True, type=float, metavar="DEGREES",
    help="Each elbow beyond the two that the table holds; with --shared each one.",
)  # fmt: skip
@click.option(
    "--liner", type=click.Choice(["none", "corrugated"]), default="none", show_default=True,
    help="Of a chimney.",
)  # fmt: skip
@click.option("--rise", metavar="LENGTH", help="Asks for a connector of a common vent.")
@click.option(
    "--shared", type=click.Choice(["fan_fan", "fan_nat", "nat_nat"]),
    help="Asks for the common vent itself, by the appliances on it.",
)  # fmt: skip
@click.option("--manifold", metavar="LENGTH", help="With --shared: ahead of the vertical part.")
@click.option("--edition", default="umc_2012", show_default=True, metavar="ID")
@click.option(
    "--method", type=click.Choice(["table", "model"]), default="table", show_default=True,
    help="By the tables, or an engineering estimate for what they do not hold.",
)  # fmt: skip
@JSON
@clear
def capacity(as_json: bool, **options: Any) -> int:
    """Say what appliance input the sizing tables permit, or a model for what they do not hold."""
    from fluewright.app import show

    answer = show.capacity_answer(options)
    if as_json:
        print_json(show.capacity_data(answer))
    else:
        click.echo(show.capacity_text(answer), nl=False)
    return 0 if answer.reason is None else 1


@main.command()
@click.argument("file", type=click.Path())
@click.option("-o", "--output", "out", required=True, type=click.Path(), metavar="OUT.svg|.png")
@click.option("--chart", is_flag=True, help="The cap chart instead of the elevation.")
@click.option(
    "--path", "path", metavar="ID",
    help="Draw the sheet of this appliance or common vent alone; else all of them, "
    "as OUT.svg, OUT-2.svg ...",
)  # fmt: skip
@click.option("--edition", "edition", metavar="ID", help="Edition to judge by.")
@SHEET
@UNITS
@clear
def draw(
    file: str,
    out: str,
    chart: bool,
    path: str | None,
    edition: str | None,
    sheet: str,
    units: str,
) -> int:
    """Draw FILE as dimensioned elevations, or as cap charts: one for each path or common vent."""
    from fluewright import app
    from fluewright.app import produce

    job = app.read_job(file)
    for written in produce.draw(
        job,
        out,
        chart,
        (edition,) if edition else (),
        cast(app.Sheet, sheet),
        cast(app.Style, units),
        path,
    ):
        click.echo(f"{written.file}  {written.what}")
    return 0


@main.command()
@click.argument("file", type=click.Path())
@click.option("-o", "--output", "out", required=True, type=click.Path(), metavar="OUT.pdf|.html")
@click.option(
    "--for", "audience", type=click.Choice(["owner", "trade", "official"]), default="owner",
    show_default=True, help="Who reads it: what leads, and how much working shows.",
)  # fmt: skip
@EDITION
@SHEET
@UNITS
@clear
def report(
    file: str, out: str, audience: str, editions: tuple[str, ...], sheet: str, units: str
) -> int:
    """Report on FILE as PDF or HTML: summary, findings, drawing, cap chart, photos, cautions."""
    from fluewright import app
    from fluewright.app import produce

    job = app.read_job(file)
    written = produce.report(
        job, out, cast(app.For, audience), editions, cast(app.Sheet, sheet), cast(app.Style, units)
    )
    click.echo(f"{written.file}  {written.what}")
    return 0
