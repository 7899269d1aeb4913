"""A chimney: what it is made of, its flue, its lining and its state."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fluewright.quantity import NotMeasured
from fluewright.survey.kinds import Absent, MaybeArea, MaybeYes


@dataclass(frozen=True, slots=True, kw_only=True)
class Chimney:
    """A chimney that the vent is, or enters. ``flue_area`` is the clear area inside the flue."""

    kind: Literal["masonry", "factory_built", "metal"] | None = None
    exterior: MaybeYes = None
    liner: Literal["clay", "smooth_metal", "corrugated_metal"] | Absent | NotMeasured | None = None
    flue_area: MaybeArea = None
