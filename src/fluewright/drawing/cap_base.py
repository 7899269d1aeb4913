"""What all parts of the cap chart stand on: its region, scale and way of saying lengths."""

from __future__ import annotations

from fluewright.cap_place import CapRegion
from fluewright.drawing.metrics import fraction
from fluewright.drawing.scene import Point, View
from fluewright.drawing.words import Style
from fluewright.frozen import frozen
from fluewright.quantity import Dimension, show, show_difference

WALL_MM = 7.0


@frozen
class Chart:
    """A region at a scale."""

    region: CapRegion
    style: Style
    view: View
    right_m: float
    top_m: float

    def at(self, x_m: float, y_m: float) -> Point:
        """A place on the sheet."""
        return self.view.to_sheet((x_m, y_m))

    def length(self, value_m: float) -> str:
        """A limit, as it is said."""
        return fraction(show(value_m, Dimension.LENGTH, self.style))

    def at_least(self, value_m: float) -> str:
        """A length to go, never said shorter than it is."""
        return fraction(show_difference(value_m, Dimension.LENGTH, self.style, up=True))

    @property
    def place_known(self) -> bool:
        """Whether today's place is known, so that a move could start from it."""
        site = self.region.site
        return site.height is not None and (site.wall is None or site.wall.away is not None)
