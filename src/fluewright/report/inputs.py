"""What the report is handed beside the survey and the judgements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from fluewright.frozen import frozen
from fluewright.procedure import Marked, Procedure

# Names of pictures begin so; then the name of the sheet, or the file of the photo.
ELEVATION, CAP_CHART, PHOTO = "elevation:", "cap_chart:", "photo:"


@frozen
class Figures:
    """Which pictures will be handed to the renderer: the drawings in words, photo files.

    A drawing goes by the name of its sheet: that of a common vent, or of a lone appliance.
    """

    elevations: Mapping[str, str] = field(default_factory=dict)
    cap_charts: Mapping[str, str] = field(default_factory=dict)
    photos: tuple[str, ...] = ()


@frozen
class Precautions:
    """What to heed before going up, with its heading; worked out elsewhere."""

    heading: str
    lines: tuple[str, ...]


@frozen
class CheckList:
    """The steps of an inspection, each with how far the survey has settled it."""

    procedure: Procedure
    steps: tuple[Marked, ...]


@frozen
class Provenance:
    """What the report was made from. ``made_on`` is an ISO date, such as 2026-11-25."""

    program_version: str
    survey_file: str = ""
    made_on: str | None = None
