"""Many systems from one model: its own ``build``, run on arrays of inputs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from fluewright.draft.kernel import PAR_SIZE, ROW_SIZE
from fluewright.draft.solve import figures
from fluewright.draft.system import Lone
from fluewright.ensemble.cases import Cases, Floats, Integers
from fluewright.ensemble.lanes import for_each
from fluewright.errors import FluewrightError

Build = Callable[[Mapping[str, float]], Lone]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Built:
    """Systems of the samples that make one.

    Attributes:
        kept: which samples they are.
        cases: their figures.
        flue_water, room_water: mole fraction of vapor in flue gas and room air. [-]
        films: inside film of each segment, NaN where not asked for. [W/(m2 K)]
        refused: message and number of samples for figures that no vent can have.
        groups: in how many runs of ``build`` they were made.
    """

    kept: Integers
    cases: Cases
    flue_water: Floats
    room_water: Floats
    films: Floats
    refused: dict[str, int]
    groups: int


def built(build: Build, values: Mapping[str, Floats], many: int) -> Built:
    """The systems of many samples.

    Args:
        build: makes one system from one value for each input.
        values: of all samples, by name of the input.
        many: how many samples there are.
    Returns:
        The systems, and why others could not be made.
    """
    groups = for_each(lambda one: _parts(build(one)), values, many)
    most = max((len(found[1]) for _, found in groups if isinstance(found, tuple)), default=1)
    par, rows = np.zeros((many, PAR_SIZE)), np.zeros((many, most, ROW_SIZE))
    water, films = np.zeros((many, 2)), np.full((many, most), np.nan)
    counts, refused = np.zeros(many, dtype=np.int64), dict[str, int]()
    for which, found in groups:
        if isinstance(found, FluewrightError):
            refused[str(found)] = refused.get(str(found), 0) + len(which)
            continue
        own_par, own_rows, own_water, own_films = found
        counts[which] = len(own_rows)
        for j, value in enumerate(own_par):
            par[which, j] = value
        for i, row in enumerate(own_rows):
            for j, value in enumerate(row):
                rows[which, i, j] = value
            films[which, i] = np.nan if own_films[i] is None else own_films[i]
        water[which, 0], water[which, 1] = own_water
    kept = np.nonzero(counts)[0]
    return Built(
        kept=kept,
        cases=Cases(par=par[kept], rows=rows[kept], counts=counts[kept]),
        flue_water=water[kept, 0],
        room_water=water[kept, 1],
        films=films[kept],
        refused=refused,
        groups=len(groups),
    )


def _parts(
    system: Lone,
) -> tuple[list[float], list[list[float]], tuple[float, float], list[float | None]]:
    """Figures of a system, and what its wetness takes besides."""
    par, rows = figures(system)
    films = [segment.inside_w_m2k for segment in system.segments]
    return par, rows, (system.flue.water, system.around.room_water), films
