"""What the report is handed beside the survey and the judgements."""

from __future__ import annotations

from dataclasses import dataclass

from fluewright.procedure import Marked, Procedure

ELEVATION, CAP_CHART, PHOTO = "elevation", "cap_chart", "photo:"  # names of pictures


@dataclass(frozen=True, slots=True)
class Figures:
    """Which pictures will be handed to the renderer: words for the two drawings, photo files.

    An empty text means that there is no such drawing.
    """

    elevation_alt: str = ""
    cap_chart_alt: str = ""
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Precautions:
    """What to heed before going up, with its heading; worked out elsewhere."""

    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CheckList:
    """The steps of an inspection, each with how far the survey has settled it."""

    procedure: Procedure
    steps: tuple[Marked, ...]


@dataclass(frozen=True, slots=True)
class Provenance:
    """What the report was made from. ``made_on`` is an ISO date, such as 2026-11-25."""

    program_version: str
    survey_file: str = ""
    made_on: str | None = None
