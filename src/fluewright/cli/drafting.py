"""``fluewright draft``."""

from __future__ import annotations

import sys
from typing import Any, cast

import click

from fluewright import __version__
from fluewright.cli.shared import EDITION, JSON, UNITS, clear, print_json
from fluewright.errors import FluewrightError


@click.command()
@click.argument("file", type=click.Path())
@click.option("--outdoor", metavar="TEMPERATURE", help='Outdoor air, "85 degF". Default: 60 degF.')
@click.option("--room", metavar="TEMPERATURE", help="Heated rooms. Default: about 70 degF.")
@click.option(
    "--house-pressure", metavar="PRESSURE",
    help='Room less outdoors at the hood, "-3 Pa" under suction. Default: at rest.',
)  # fmt: skip
@click.option("--wind", metavar="SPEED", help='At the cap, "10 mph". Default: none.')
@click.option("--appliance", metavar="ID", help="One alone.")
@click.option(
    "--spread", type=click.IntRange(min=1), metavar="N",
    help="Draw all that is not known N times, weather and fans included.",
)  # fmt: skip
@click.option("--seed", type=int, default=1, show_default=True, help="Of --spread.")
@click.option(
    "--keep", type=click.Path(), metavar="FILE",
    help="Keep a --spread in FILE; the same again goes on where it was stopped.",
)  # fmt: skip
@EDITION
@UNITS
@JSON
@clear
def draft(file: str, editions: tuple[str, ...], units: str, as_json: bool, **options: Any) -> int:
    """Compute whether it drafts, spills or stays wet, beside what the code says of its size."""
    from fluewright import app
    from fluewright.app import draft as use
    from fluewright.app.draft_asked import Asked

    job = app.read_job(file)
    asked = Asked(outdoor=options["outdoor"], room=options["room"],
                  house_pressure=options["house_pressure"], wind=options["wind"])  # fmt: skip
    spread = _spread(options)
    found = use.draft_job(job.survey, asked, options["appliance"], spread)
    code = use.size_findings(app.judge_job(job, editions, cast(app.Style, units)))
    if as_json:
        from fluewright.render.draft_data import drafted_data

        head = {"fluewright": __version__,
                "survey": {"title": job.survey.job.title, "sha256": job.sha256}}  # fmt: skip
        print_json(drafted_data(head, found, code))
    else:
        from fluewright.render.draft_text import drafted_text

        title = job.survey.job.title
        click.echo(drafted_text(title, found, code, cast(app.Style, units)), nl=False)
    return 1 if any(one.fails for one in found) or not found else 0


def _spread(options: dict[str, Any]) -> Any:
    """The ensemble that is asked for, with its progress on standard error."""
    from fluewright.app.draft import Spread

    if options["spread"] is None:
        if options["keep"] is not None:
            raise FluewrightError("--keep keeps a --spread. Say how many samples.")
        return None

    def tell(done: int, goal: int) -> None:
        end = "\n" if done >= goal else "\r"
        click.echo(f"  {done:,} of {goal:,} samples{end}", err=True, nl=False)

    seen = sys.stderr is not None and sys.stderr.isatty()
    return Spread(samples=options["spread"], seed=options["seed"], keep=options["keep"],
                  progress=tell if seen else None)  # fmt: skip
