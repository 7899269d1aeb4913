"""What Python callers use: the same objects that the command line prints."""

from __future__ import annotations

import os

from fluewright import app, files
from fluewright.finding import Judgement
from fluewright.judge import judge as _judge
from fluewright.survey import Survey


def read_survey(path: str | os.PathLike[str]) -> Survey:
    """The survey in a file.

    Args:
        path: a YAML or JSON survey file.
    Returns:
        The survey, with every reading in SI and with its tolerance.
    Raises:
        BadSurvey: with every fault of the file, each with line and path.
    """
    return files.read_survey(path)


def judge(survey: Survey, edition: str = app.DEFAULT_EDITION) -> Judgement:
    """The survey judged by one edition.

    Args:
        survey: what was seen.
        edition: id of an edition, see ``fluewright editions``.
    Returns:
        Findings, gravest first, with what to measure next and what nobody examined.
    Raises:
        NoSuchEdition: no such edition.
        BadSurvey: its job names neither a year nor an edition for what was built earlier.
    """
    built = app.built_under(survey)
    return _judge(survey, app.edition(edition), app.library_for(survey), built=built)
