"""What the report is handed beside the survey and the judgements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from fluewright.draft.assess import Assessment
from fluewright.draft.assess_tree import TreeAssessment
from fluewright.draft.from_survey import Modelled
from fluewright.frozen import frozen
from fluewright.procedure import Marked, Procedure
from fluewright.quantity import Style

# Names of pictures begin so; then the name of the sheet, or the file of the photo.
ELEVATION, CAP_CHART, PHOTO, DRAFT = "elevation:", "cap_chart:", "photo:", "draft:"


NARROW = "/phone"  # a picture's name with this at its end: the same for a narrow page


@frozen
class Figures:
    """Which pictures will be handed to the renderer: the drawings in words, photo files.

    A drawing goes by the name of its sheet: that of a common vent, or of a lone appliance.
    """

    elevations: Mapping[str, str] = field(default_factory=dict)
    cap_charts: Mapping[str, str] = field(default_factory=dict)
    photos: tuple[str, ...] = ()


@frozen
class Drawn:
    """A figure in words: its title, and all that it shows."""

    title: str
    alt: str


@frozen
class Draft:
    """What the engine says of one appliance; worked out elsewhere.

    ``assessment`` is None where it has no answer: ``reason`` says why, ``gaps`` what to measure.
    ``signs`` are those of past spillage in the survey, ``no_figures`` why there are none.
    For a vent that several share ``appliance`` names them all, ``shared`` holds the answer and
    ``reckoned`` what it was worked out from.
    """

    appliance: str
    modelled: Modelled | None = None
    assessment: Assessment | None = None
    reason: str = ""
    gaps: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    figures: Mapping[str, Drawn] = field(default_factory=dict)
    no_figures: str = ""
    shared: TreeAssessment | None = None
    reckoned: tuple[str, ...] = ()

    @property
    def fails(self) -> bool:
        """Whether an answer was found that no one may leave as it is."""
        found = self.shared or self.assessment
        return found is not None and found.fails


@frozen
class Drafts:
    """What the engine says of all appliances, beside what the code says of the size.

    ``code`` holds one sentence a finding; ``style`` the units of the answers.
    """

    each: tuple[Draft, ...] = ()
    code: tuple[str, ...] = ()
    style: Style = "us"


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
