"""The chart of where a cap may stand: the wall on its side, the roof below, today's cap, moves."""

from __future__ import annotations

from fluewright.cap_place import (
    CapLimits,
    CapRegion,
    Place,
    cap_region,
    site_of,
)
from fluewright.drawing.cap_base import WALL_MM, Chart
from fluewright.drawing.cap_parts import draw_chart
from fluewright.drawing.layout import Canvas
from fluewright.drawing.metrics import wrap
from fluewright.drawing.scene import (
    Ink,
    Scene,
    Text,
    View,
)
from fluewright.drawing.sheet import (
    BLOCK_MM,
    CAUTION,
    EDGE_MM,
    INNER_MM,
    SCALES,
    SIZES,
    Scale,
    SheetName,
    Title,
    frame,
    notes,
    notes_height,
    stop_banner,
    title_block,
)
from fluewright.drawing.words import Style
from fluewright.survey import Path, Survey

ANSWER_MM, ANSWER_LEAD_MM = 2.9, 4.3
AXIS_MM = 12.0
OVER_M = 0.45  # air above the highest thing shown
LOWEST_TOP_M = 1.5
HEAD_MM = 16.0

NOTE = (
    "Heights count from the highest point where the pipe crosses the roof, wherever it stands; "
    "distances are level, from the face of the wall to the nearest face of pipe or cap. The region "
    "takes every bound of a reading on the strict side. A move sideways needs offset fittings: "
    "length, elbows and sizing are then to be judged anew."
)


def cap_chart(
    survey: Survey,
    path: Path,
    limits: CapLimits,
    *,
    sheet: SheetName = "letter",
    style: Style = "us",
    edition: str = "",
    version: str = "",
    stop: bool = False,
) -> Scene:
    """The sheet that shows where this path's cap may stand, and the ways there from today.

    Args:
        survey: the whole survey.
        path: the path whose cap is looked at.
        limits: of one edition.
        sheet: size of the paper, upright.
        style: feet and inches, or metres.
        edition: its title, for the title block.
        version: of the program, for the title block.
        stop: the appliance must be shut off: say so along the head.
    """
    width, height = SIZES[sheet]
    region = cap_region(site_of(path, limits), limits)
    left, right = EDGE_MM + INNER_MM, width - EDGE_MM - INNER_MM
    answers = _answers(region, style)
    lines = [line for answer in answers for line in wrap(answer, right - left, ANSWER_MM)]
    remarks = [NOTE, CAUTION]
    foot = EDGE_MM + BLOCK_MM + 2.5 + notes_height(remarks, right - left)
    low = foot + 4.0 + ANSWER_LEAD_MM * len(lines) + 4.0
    banner, banner_mm = stop_banner(width, height - EDGE_MM - 1.0) if stop else ([], 0.0)
    top = height - EDGE_MM - HEAD_MM - banner_mm
    scale, chart = _fit(region, style, (left, right), (low, top))
    canvas = Canvas(width, height)
    canvas.add(*frame(width, height))
    draw_chart(canvas, chart, banner_mm)
    canvas.add(*banner)
    y = low - 6.0
    for n, line in enumerate(lines):
        face = "bold" if n == 0 else "regular"
        canvas.add(
            Text((left, y), line, ANSWER_MM, face="bold" if face == "bold" else "regular",
                 ink=_ink(region) if n == 0 else Ink.INK, layer="answer")
        )  # fmt: skip
        y -= ANSWER_LEAD_MM
    canvas.add(*notes(remarks, left, foot, right - left))
    title = _title(survey, path, scale, (edition, version), sheet)
    canvas.add(*title_block(title, width))
    return Scene(
        f"{survey.job.title}: {title.what}",
        " ".join(answers),
        width,
        height,
        (chart.view,),
        tuple(canvas.items),
    )


def _ink(region: CapRegion) -> Ink:
    return {Place.INSIDE: Ink.INK, Place.OUTSIDE: Ink.ALARM, Place.CANNOT_TELL: Ink.UNKNOWN}[
        region.place
    ]


def _title(survey: Survey, path: Path, scale: Scale, said: tuple[str, str], sheet: str) -> Title:
    job = survey.job
    cells = (
        ("Seen", job.seen or "not stated"),
        ("By", job.by or "not stated"),
        ("Visit", job.visit or "not stated"),
        ("Judged by", said[0] or "limits as given"),
        ("Scale", scale.name),
        ("Sheet", {"letter": "Letter", "a4": "A4"}[sheet]),
    )
    return Title(
        job.title, f"Where the cap of {_of(survey, path)} may stand", cells, job.invented,
        f"fluewright {said[1]}".strip(),
    )  # fmt: skip


def _of(survey: Survey, path: Path) -> str:
    common = path.from_ in survey.common
    return f"the common vent {path.from_}" if common else f"the path from {path.from_}"


def _answers(region: CapRegion, style: Style) -> list[str]:
    """The verdict first, then the ways in, then what to measure."""
    chart = Chart(region, style, View("", "", 1.0, (0.0, 0.0)), 0.0, 0.0)
    heads = {
        Place.INSIDE: "Today's cap stands within the region, whatever the bounds of the readings.",
        Place.OUTSIDE: "Today's cap stands outside the region.",
        Place.CANNOT_TELL: "Whether today's cap stands within the region cannot be told yet.",
    }
    lines = [heads[region.place]]
    if region.site.wall is not None or region.site.table_serves is False:
        lines.append(_rule(region, chart))
    if region.up is not None:
        lines.append(f"Straight up: {chart.at_least(region.up.up_m)}.")
    if region.sideways is not None:
        lines.append(
            f"Straight away from the wall: {chart.at_least(region.sideways.sideways_m)}, "
            "at the height over the roof that it has."
        )
    short = region.shortest
    if short is not None and short.up_m > 0 and short.sideways_m > 0:
        lines.append(
            f"Shortest: {chart.at_least(short.sideways_m)} away from the wall and "
            f"{chart.at_least(short.up_m)} up."
        )
    if region.place is not Place.INSIDE and short is None and chart.place_known:
        why = "; ".join(dict.fromkeys(s.why for s in region.steps if s.why))
        lines.append(f"No move can be named: {why or 'no place is surely within the region'}.")
    if region.missing:
        lines.append("Measure next: " + "; ".join(region.missing) + ".")
    return lines


def _rule(region: CapRegion, chart: Chart) -> str:
    """What the limits ask for near a wall, in words."""
    limits, wall = region.limits, region.site.wall
    asks = (
        f"the opening has to stand {chart.length(limits.near_above_roof_m)} over the roof and "
        f"{chart.length(limits.near_above_building_m)} over every part of a building within "
        f"{chart.length(limits.near_within_m)}"
    )
    if wall is None or region.site.table_serves is False:
        return f"For a large vent, or one without a listed cap: {asks}, at any distance."
    far = chart.length(limits.wall_from_m)
    return f"Nearer than {far} to the {wall.name}: {asks}. From {far} on the pitch decides."


def _fit(
    region: CapRegion, style: Style, across: tuple[float, float], up: tuple[float, float]
) -> tuple[Scale, Chart]:
    site = region.site
    limits = region.limits
    right_m = max(limits.wall_from_m + 0.9, limits.near_within_m + 0.4) if site.wall else 2.4
    heights = [s.enough_m if s.enough_m is not None else s.needed_m for s in region.steps]
    if site.height is not None:
        heights.append(site.height.high)
    if site.wall is not None and site.wall.top is not None:
        heights.append(site.wall.top.high)
    if site.wall is not None and site.wall.away is not None:
        right_m = max(right_m, site.wall.away.high + 0.6)
    top_m = max(LOWEST_TOP_M, *heights) + OVER_M
    room_x = across[1] - across[0] - WALL_MM - AXIS_MM
    room_y = up[1] - up[0] - AXIS_MM
    scales = SCALES[style]
    scale = next(
        (s for s in scales if right_m * s.mm_per_m <= room_x and top_m * s.mm_per_m <= room_y),
        scales[-1],
    )
    spare = max(0.0, room_x - right_m * scale.mm_per_m) / 2
    tall = max(0.0, room_y - top_m * scale.mm_per_m)
    origin = (across[0] + WALL_MM + spare, up[0] + AXIS_MM + tall * 0.4)
    return scale, Chart(
        region, style, View("chart", scale.name, scale.mm_per_m, origin), right_m, top_m
    )
