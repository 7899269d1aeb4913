"""What the commands share: options, errors turned into exit 2, JSON on standard output."""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Callable
from functools import wraps
from typing import Any

import click

from fluewright.errors import BadSurvey, FluewrightError

JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of text.")
EDITION = click.option(
    "--edition",
    "editions",
    multiple=True,
    metavar="ID",
    help="Edition to judge by, or an amendment file (.toml) over one; repeatable.",
)
SHEET = click.option(
    "--sheet", type=click.Choice(["letter", "a4"]), default="letter", show_default=True,
    help="Sheet size.",
)  # fmt: skip
UNITS = click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", show_default=True,
    help="Feet and inches, or metric.",
)  # fmt: skip


def clear(run: Callable[..., int | None]) -> Callable[..., None]:
    """Turn the errors that a caller can meet into exit 2 and one line each."""

    @wraps(run)
    def wrapped(*args: Any, **options: Any) -> None:
        try:
            _steady_streams()
            code = run(*args, **options)
        except BadSurvey as error:
            for fault in error.faults:
                click.echo(fault.text(error.file), err=True)
            sys.exit(2)
        except FluewrightError as error:
            click.echo(str(error), err=True)
            sys.exit(2)
        except BrokenPipeError:  # the reader of our output has gone: nothing left to say
            sys.stderr.close()
            sys.exit(1)
        except OSError as error:
            click.echo(
                f"{error.filename or 'standard output'}: {error.strerror or error}", err=True
            )
            sys.exit(2)
        sys.exit(code or 0)

    return wrapped


def _steady_streams() -> None:
    """A closed input reads as empty; a letter that the terminal lacks is shown as a question mark.

    Raises:
        FluewrightError: there is nowhere to write to.
    """
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115
    if sys.stdout is None:
        raise FluewrightError("standard output is closed. Give the answer somewhere to go.")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def print_json(data: object) -> None:
    """Data on standard output; letters that the terminal lacks are escaped."""
    plain = not (sys.stdout.encoding or "").lower().startswith("utf")
    click.echo(json.dumps(data, indent=1, ensure_ascii=plain))
