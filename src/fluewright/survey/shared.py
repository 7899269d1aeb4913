"""What several appliances share: the common vent, and where each of them enters it."""

from typing import Literal

from fluewright.frozen import frozen
from fluewright.quantity import NotMeasured
from fluewright.survey.chimney import Chimney
from fluewright.survey.kinds import Absent
from fluewright.survey.pipe import Piece, VentLook
from fluewright.survey.roof import Roof


@frozen(kw_only=True)
class Entry:
    """Where and how a connector enters a common vent.

    ``at`` is a piece of the common vent, its first one where it is not said. ``way`` says how the
    gas comes in: straight ``through`` from below, or from the ``side`` into the branch of a tee.
    """

    at: str | None = None
    way: Literal["through", "side"] | None = None


@frozen(kw_only=True)
class Common:
    """A vent or chimney for several appliances: from its first junction to the open air."""

    pieces: tuple[Piece, ...] = ()
    vent: VentLook = VentLook()
    chimney: Chimney | Absent | NotMeasured | None = None
    roof: Roof = Roof()
