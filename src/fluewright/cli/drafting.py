"""``fluewright draft``."""

from __future__ import annotations

import os
import sys
from typing import Any, cast

import click

from fluewright import __version__
from fluewright.cli.shared import EDITION, JSON, UNITS, clear, print_json
from fluewright.errors import FluewrightError

# Options that are asked in words.
ASKED = ("outdoor", "room", "house_pressure", "wind", "co", "co_o2", "air_changes")
# Options that say nothing without another.
NEEDS = {
    "terrain": "weather", "co_o2": "co", "air_changes": "co", "leakage": "exhaust",
    "exhaust": "leakage", "house_height": "leakage", "cluster": "spread",
}  # fmt: skip


@click.command()
@click.argument("file", type=click.Path())
@click.option("--outdoor", metavar="TEMPERATURE", help='Outdoor air, "85 degF". Default: 60 degF.')
@click.option("--room", metavar="TEMPERATURE", help="Heated rooms. Default: about 70 degF.")
@click.option(
    "--house-pressure", metavar="PRESSURE",
    help='Room less outdoors at the hood, "-3 Pa" under suction. Default: at rest.',
)  # fmt: skip
@click.option(
    "--leakage", metavar="FLOW",
    help='Blower door flow at 50 Pa, "1500 cfm": works the house pressure out, with --exhaust.',
)  # fmt: skip
@click.option("--exhaust", metavar="FLOW", help='All fans that run, dryer too, "200 cfm".')
@click.option("--house-height", metavar="LENGTH", help="For --leakage. Default: one storey.")
@click.option("--wind", metavar="SPEED", help='At the cap, "10 mph". Default: none.')
@click.option(
    "--weather", type=click.Path(), metavar="FILE.epw",
    help="Hours a year in which it spills, does not start or is wet, by this weather file.",
)  # fmt: skip
@click.option(
    "--terrain", type=click.Choice(["open", "suburban", "urban"]),
    help="Around the house, for the wind of --weather. Default: open, the strongest.",
)  # fmt: skip
@click.option(
    "--co", metavar="PPM",
    help="Carbon monoxide measured in the flue: what spilling would bring into the room.",
)  # fmt: skip
@click.option(
    "--co-o2", metavar="PERCENT",
    help="Oxygen measured with --co. Default: --co is air-free.",
)  # fmt: skip
@click.option(
    "--air-changes", metavar="RATE",
    help='Of the room with outdoors, for --co, "0.35 ACH". Default: the survey\'s, or 0.2 to 1.0.',
)  # fmt: skip
@click.option("--appliance", metavar="ID", help="One alone.")
@click.option(
    "--spread", type=click.IntRange(min=1), metavar="N",
    help="Draw all that is not known N times, fans and weather (of --weather) included.",
)  # fmt: skip
@click.option("--seed", type=int, default=1, show_default=True, help="Of --spread.")
@click.option(
    "--keep", type=click.Path(), metavar="FILE",
    help="Keep a --spread in FILE; the same again goes on where it was stopped.",
)  # fmt: skip
@click.option(
    "--cluster", metavar="ADDRESS",
    help="With a folder as FILE: spread its surveys over a Dask scheduler at host:port.",
)  # fmt: skip
@click.option(
    "-o", "--output", "out", type=click.Path(), metavar="FOLDER",
    help="Write the figures there, as SVG.",
)  # fmt: skip
@EDITION
@UNITS
@JSON
@clear
def draft(file: str, editions: tuple[str, ...], units: str, as_json: bool, **options: Any) -> int:
    """Compute whether it drafts, spills or stays wet, beside what the code says of its size.

    FILE may be a folder of surveys, with --spread.
    """
    from fluewright import app
    from fluewright.app import draft as use
    from fluewright.app.draft_asked import Asked
    from fluewright.app.draft_shared import shared_job
    from fluewright.app.draft_weather import weather_of

    _belong(options)
    if os.path.isdir(file):
        return _folder(file, as_json, options)
    job = app.read_job(file)
    asked = Asked(**{name: options[name] for name in ASKED}, tightness=_tightness(options))
    weather = weather_of(options["weather"], options["terrain"])
    style = cast(app.Style, units)
    found = use.draft_job(job.survey, asked, options["appliance"], _spread(options), weather, style)
    shared = shared_job(job.survey, asked, use.start_of(), options["appliance"])
    code = use.size_findings(app.judge_job(job, editions, style))
    drawn = _draw(options["out"], found, style)
    if as_json:
        from fluewright.render.draft_data import drafted_data

        head = {"fluewright": __version__,
                "survey": {"title": job.survey.job.title, "sha256": job.sha256},
                "figures": [one.file for one in drawn]}  # fmt: skip
        print_json(drafted_data(head, found, code, shared))
    else:
        from fluewright.render.draft_text import drafted_text

        title = job.survey.job.title
        click.echo(drafted_text(title, found, code, style, shared), nl=False)
        for one in drawn:
            click.echo(f"{one.file}  {one.what}")
    every: list[Any] = [*found, *shared]
    return 1 if any(one.fails for one in every) or not every else 0


def _tightness(options: dict[str, Any]) -> Any:
    """The house in words, where it is given."""
    from fluewright.app.draft_tightness import Tightness

    if options["leakage"] is None:
        return None
    return Tightness(leakage=options["leakage"], exhaust=options["exhaust"],
                     height=options["house_height"])  # fmt: skip


def _folder(folder: str, as_json: bool, options: dict[str, Any]) -> int:
    """Every survey of a folder as an ensemble."""
    from pathlib import Path

    from fluewright.app.draft_folder import folder_data, folder_outcomes, folder_text

    spread = _spread(options)
    if spread is None:
        raise FluewrightError(f"{folder}: a folder is asked with --spread. Say how many samples.")
    found = folder_outcomes(Path(folder), spread, options["cluster"], spread.progress)
    if as_json:
        print_json({"fluewright": __version__, **folder_data(found)})
    else:
        click.echo(folder_text(found), nl=False)
    return 0 if all(one.outcome is not None for one in found) else 1


def _draw(folder: str | None, found: Any, style: Any) -> list[Any]:
    """The figures, where a folder is named for them."""
    if folder is None:
        return []
    from fluewright.app.draft_pictures import draw_drafted

    return list(draw_drafted(folder, found, style))


def _belong(options: dict[str, Any]) -> None:
    """Refuses an option whose company is missing."""
    for name, other in NEEDS.items():
        if options[name] is not None and options[other] is None:
            flag = name.replace("_", "-")
            raise FluewrightError(f"--{flag} belongs to --{other}. Give --{other} too.")


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
