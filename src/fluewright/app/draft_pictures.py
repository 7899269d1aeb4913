"""``draft -o``: the answer as figures, one SVG file each."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import replace

from fluewright.app.draft import Drafted, start_of
from fluewright.app.writing import Written, write_text
from fluewright.draft import warm_kernel
from fluewright.draft.spill_map import COARSE_STEP_S, SpillTimes, spill_times
from fluewright.draft.warmup import Arithmetic
from fluewright.drawing import plot
from fluewright.drawing.draft_figures import figures_of
from fluewright.drawing.draft_year_co import exposure_figure, year_bars
from fluewright.drawing.scene import Scene
from fluewright.errors import FluewrightError
from fluewright.quantity import Style
from fluewright.render.svg import to_svg

MAP_BURN_S = 600.0  # how long the starts of the map are followed
WHAT = {
    "path": "temperature and pressure along the path",
    "balance": "flow against demand, with all roots",
    "start": "a start from cold",
    "matters": "what moves the margin most",
    "map": "starts over weather and house pressure",
    "odds": "how probable it is",
    "year": "hours a year by outdoor temperature",
    "co-all": "carbon monoxide where all of it spills",
    "co-computed": "carbon monoxide where it spills as computed",
}


def draw_drafted(folder: str, found: Sequence[Drafted], style: Style) -> list[Written]:
    """Every figure of every appliance, as FOLDER/APPLIANCE-FIGURE.svg.

    Args:
        folder: made where it is not there.
        found: what the engine says.
        style: units.
    Returns:
        Every file written, with what it is.
    Raises:
        FluewrightError: the folder is a file.
        OSError: a file cannot be written.
    """
    if os.path.exists(folder) and not os.path.isdir(folder):
        raise FluewrightError(f"{folder}: a file of this name is there. Name a folder.")
    written = []
    for one in found:
        for name, scene in _scenes(one, style):
            file = os.path.join(folder, f"{one.appliance}-{name}.svg")
            write_text(file, to_svg(scene))
            written.append(Written(file, f"{one.appliance}: {WHAT[name]}"))
    return written


def _scenes(one: Drafted, style: Style) -> Iterator[tuple[str, Scene]]:
    if one.modelled is None or one.assessment is None:
        return
    yield from figures_of(one.modelled, one.assessment, style, one.outcome, _map(one))
    if one.year is not None:
        station = one.year.weather.year.station
        place = f"Weather of {station.city} ({station.source})"
        yield "year", plot.probability_bars(year_bars(one.year.found, place, style))
    for name, scenario in zip(("co-all", "co-computed"), one.co, strict=False):
        if scenario.spills:
            yield name, plot.exposure_plot(exposure_figure(scenario))


def _map(one: Drafted) -> SpillTimes | None:
    """Starts over weather and house; None without a draft hood."""
    if one.modelled is None or one.modelled.system.hood is None:
        return None
    way: Arithmetic = warm_kernel
    try:  # fifty starts: compiled where that can be had
        from fluewright.ensemble.warm import COMPILED

        way = COMPILED
    except ImportError:
        pass
    start = replace(start_of(MAP_BURN_S), step_s=COARSE_STEP_S)
    return spill_times(one.modelled, start, arithmetic=way)
