"""How long a start from cold spills, over outdoor temperature and suction of the house."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from fluewright.draft import warm_kernel
from fluewright.draft.system import Lone
from fluewright.draft.warmup import Arithmetic, Start, warm_up
from fluewright.errors import OutOfRange

OUTDOOR, ROOM = "outdoor_k", "room_pa"  # the inputs that weather and house move
# 0 to 100 degF by 20, and calm to the suction of strong fans by 1 Pa.
COARSE_K = (255.37, 266.48, 277.59, 288.71, 299.82, 310.93)
COARSE_PA = (-7.0, -6.0, -5.0, -4.0, -3.0, -2.0, -1.0, 0.0, 1.0)
COARSE_STEP_S = 5.0

Progress = Callable[[int, int], None]


class Model(Protocol):
    """A system as a function of weather and house."""

    def build(self, values: Mapping[str, float]) -> Lone: ...  # noqa: D102


@dataclass(frozen=True, slots=True, kw_only=True)
class SpillTimes:
    """Spill times on a grid.

    Attributes:
        outdoor_k: outdoor temperatures, rising. [K]
        room_pa: pressures of the room less outdoors, rising. [Pa]
        spills_s: one row for each of ``room_pa``, one entry for each of ``outdoor_k``: seconds
            until spillage ends, None where it had not by the end.
        burn_s: how long each start was followed. [s]
    """

    outdoor_k: tuple[float, ...]
    room_pa: tuple[float, ...]
    spills_s: tuple[tuple[float | None, ...], ...]
    burn_s: float


def spill_times(
    model: Model,
    start: Start,
    outdoor_k: Sequence[float] = COARSE_K,
    room_pa: Sequence[float] = COARSE_PA,
    *,
    arithmetic: Arithmetic = warm_kernel,
    progress: Progress | None = None,
) -> SpillTimes:
    """How long a start from cold spills in each weather and house. [s]

    Source: `draft.warmup`, one start for each cell. Suction lowers the pressure to spare at every
    flow by the same amount, so that a vent that has not taken over by the end does not under
    more of it either: the deeper cells of a column are not computed again.

    Args:
        model: with the inputs ``outdoor_k`` and ``room_pa``, and a draft hood.
        start: how the appliance starts, and for how long it is followed.
        outdoor_k: outdoor temperatures, rising. [K]
        room_pa: pressures of the room less outdoors, rising. [Pa]
        arithmetic: as it stands, or ``ensemble.warm.COMPILED``, quicker.
        progress: is told after each column how many of how many are done.
    Returns:
        A time for each cell.
    Raises:
        OutOfRange: an empty grid, one that does not rise, or as `warm_up`.
    """
    for name, line in (("outdoor_k", outdoor_k), ("room_pa", room_pa)):
        if not line or any(b <= a for a, b in pairwise(line)):
            raise OutOfRange(f"spill map: {name} {tuple(line)}: give it rising, one or more.")
    columns: list[list[float | None]] = []
    for done, outdoor in enumerate(outdoor_k, 1):
        column: list[float | None] = []
        for pressure in reversed(room_pa):
            if column and column[-1] is None:
                column.append(None)
                continue
            system = model.build({OUTDOOR: outdoor, ROOM: pressure})
            column.append(warm_up(system, start, arithmetic).spills_s)
        columns.append(column[::-1])
        if progress is not None:
            progress(done, len(outdoor_k))
    return SpillTimes(
        outdoor_k=tuple(outdoor_k),
        room_pa=tuple(room_pa),
        spills_s=tuple(tuple(column[row] for column in columns) for row in range(len(room_pa))),
        burn_s=start.burn_s,
    )
