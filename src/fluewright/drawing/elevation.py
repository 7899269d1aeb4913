"""The dimensioned elevation, hood to cap, on one sheet to scale: a path, or a common vent."""

from __future__ import annotations

from dataclasses import replace

from fluewright.drawing.blocks import blocks_of
from fluewright.drawing.chains import level_chains, plumb_chains, right_chains
from fluewright.drawing.chimney_top import TopRule, levels
from fluewright.drawing.column import Lead, column, kind_of, name_beside
from fluewright.drawing.detail import (
    Detail,
    draw_detail,
    fit_detail,
    name_pieces,
    outline,
    place_detail,
)
from fluewright.drawing.dimensions import chain, lane_width
from fluewright.drawing.figure import draw_figure, wall_sample
from fluewright.drawing.floats import draw_floats
from fluewright.drawing.house import around_path
from fluewright.drawing.layout import CLEAR_MM, Canvas, lettering, open_around
from fluewright.drawing.metrics import shorten
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.remarks import description, remarks_of, title_of
from fluewright.drawing.rises import draw_rises
from fluewright.drawing.scene import Ink, Item, Line, Scene, View
from fluewright.drawing.sheet import (
    BLOCK_MM,
    EDGE_MM,
    INNER_MM,
    LEGEND_LEAD_MM,
    MARK_WORDS,
    NOTE_MM,
    SCALES,
    SIZES,
    Scale,
    SheetName,
    Sign,
    frame,
    legend_places,
    legend_rows,
    notes,
    notes_height,
    scale_bar,
    sign_word,
    stop_banner,
    title_block,
)
from fluewright.drawing.tree import Tree, is_chimney, lay_tree
from fluewright.drawing.words import WALL_WORDS, Style, wall_of
from fluewright.finding import Grade, Judgement, Verdict
from fluewright.frozen import frozen
from fluewright.survey import Path, Survey

COLUMN_MM = 54.0
LEADER_ROOM_MM = 6.0
LEGEND_FROM_MM = 42.0  # right of the scale bar
TRIES = 4  # rounds of giving stubborn leaders the right of way


@frozen
class _Sheet:
    """All that is settled before drawing."""

    plan: Plan
    scale: Scale
    paper: Paper
    detail: Detail | None
    legend: list[list[Sign]]
    remarks: list[str]
    foot: float


def elevation(
    survey: Survey,
    of: Path | str,
    judgement: Judgement | None = None,
    *,
    sheet: SheetName = "letter",
    style: Style = "us",
    version: str = "",
    top_rule: TopRule | None = None,
) -> Scene:
    """One sheet: dimensioned elevation to scale, with the marks of its findings.

    A path that joins a common vent is drawn with it and with all that joins it.

    Args:
        survey: the whole survey.
        of: a path of the survey, or the name of what ``sheets`` lists.
        judgement: its numbered findings are marked; None draws the path alone.
        sheet: size of the paper, upright.
        style: feet and inches, or metres.
        version: of the program, for the title block.
        top_rule: how high a chimney must end, drawn beside its top.
    """
    plan = _with_levels(_plan(survey, of, judgement, style), top_rule)
    width, height = SIZES[sheet]
    set_up = _set_up(plan, width, height)
    base, extensions = _base(set_up)
    words, leads = column(
        blocks_of(set_up.plan, set_up.paper), set_up.paper.column_left, set_up.paper.column_right,
        set_up.paper.column_low, set_up.paper.column_high,
    )  # fmt: skip
    base.add(*words)
    not_said = draw_rises(base, plan, set_up.paper.view) if plan.lone is None else []
    leads = _lettered(base, leads)
    canvas, left_out = _with_leaders(set_up, base, leads)
    left_out = [*not_said, *left_out]
    canvas.add(*open_around(extensions, lettering(canvas), CLEAR_MM))
    remarks = list(set_up.remarks)
    if left_out:
        room = width - 2 * EDGE_MM - 2 * INNER_MM
        said = "Not drawn for want of room: " + "; ".join(left_out) + "."
        remarks.append(shorten(said, room, NOTE_MM))
    _draw_foot(canvas, set_up, remarks)
    title = title_of(plan, judgement, set_up.scale, version, sheet)
    canvas.add(*title_block(title, width))
    views = (set_up.paper.view, *((set_up.detail.view,) if set_up.detail else ()))
    name = f"{survey.job.title}: {title.what}"
    return Scene(name, description(plan), width, height, views, tuple(canvas.items))


def _plan(survey: Survey, of: Path | str, judgement: Judgement | None, style: Style) -> Plan:
    name = of if isinstance(of, str) else of.from_
    if isinstance(of, Path) and of.joins in survey.common:
        name = of.joins or name
    tree = lay_tree(survey, name)
    elsewhere = _elsewhere(survey, tree)
    marked = judgement.marked if judgement is not None else ()
    findings = tuple(f for f in marked if f.subject.removesuffix(" joint") not in elsewhere)
    house = around_path(survey, tree)
    said = judgement.findings if judgement is not None else ()
    open_ = sum(f.verdict is Verdict.CANNOT_TELL and not f.number for f in said)
    return Plan(survey, tree, house, findings, style, open_)


def _with_levels(plan: Plan, rule: TopRule | None) -> Plan:
    """The heights that the top must reach, where it is a chimney's, and room for them."""
    if rule is None or not is_chimney(plan.survey, plan.tree.name):
        return plan
    found = tuple(levels(plan.house.roof, rule, plan.style))
    top = max([plan.house.top, *(level.y + 0.15 for level in found)])
    return replace(plan, levels=found, house=replace(plan.house, top=top))


def _elsewhere(survey: Survey, tree: Tree) -> set[str]:
    """Names of what other sheets draw."""
    here = {tree.name, *(b.name for b in tree.branches)}
    names = {path.from_ for path in survey.paths} | set(survey.common)
    own = {piece.id for b in tree.branches for piece in b.path.pieces}
    own |= {piece.id for piece in tree.path.pieces}
    return (names - here) | {piece.id for piece in survey.every_piece()} - own


def _set_up(plan: Plan, width: float, height: float) -> _Sheet:
    """Scale and places; the ridge is left out where it would make everything else smaller."""
    room = width - 2 * EDGE_MM - 2 * INNER_MM
    legend = legend_rows(_signs(plan), room - LEGEND_FROM_MM)
    head = height - EDGE_MM - INNER_MM - (_banner_height(plan, width))
    house = around_path(plan.survey, plan.tree, ridge=False)
    tops = [level.y + 0.15 for level in plan.levels]
    bare = replace(plan, house=replace(house, top=max([house.top, *tops])))
    taken = max(notes_height([*remarks_of(one), "left out"], room) for one in (plan, bare))
    foot = EDGE_MM + BLOCK_MM + 2.0 + taken
    foot += max(6.0, LEGEND_LEAD_MM * len(legend)) + 2.5
    best = _fit(plan, width, height, foot, head)
    if plan.house.roof is not None and plan.house.roof.ridge is not None:
        other = _fit(bare, width, height, foot, head)
        if other[0].times < best[0].times or (other[2] is not None and best[2] is None):
            plan, best = bare, other
    scale, paper, detail = best
    return _Sheet(plan, scale, paper, detail, legend, remarks_of(plan), foot)


def _fit(
    plan: Plan, width: float, height: float, low: float, high: float
) -> tuple[Scale, Paper, Detail | None]:
    """The largest usual scale at which figure and lanes fit the sheet; a detail if room is left."""
    house = plan.house
    left, right = EDGE_MM + INNER_MM, width - EDGE_MM - INNER_MM
    column_left = right - COLUMN_MM
    scales = SCALES[plan.style]
    for scale in scales:
        view = View("elevation", scale.name, scale.mm_per_m, (0.0, 0.0))
        beside = sum(lane_width(s) for s in plumb_chains(plan, view)) + 3.0
        right_of = sum(lane_width(s) for s in right_chains(plan, view))
        right_of += 2.0 if right_of else 0.0
        under = sum(lane_width(s) for s in level_chains(plan, view)) + 7.0
        wide = (house.right - house.left) * scale.mm_per_m
        tall = (house.top - house.bottom) * scale.mm_per_m
        spare_x = column_left - LEADER_ROOM_MM - left - beside - wide - right_of
        spare_y = high - low - under - 4.0 - tall
        if (spare_x >= 0 and spare_y >= 0) or scale is scales[-1]:
            break
    spare_x, spare_y = max(0.0, spare_x), max(0.0, spare_y)
    found = fit_detail(plan, scale, scales, column_left - LEADER_ROOM_MM - left, spare_y)
    raised = found[1] if found else 0.0
    edge = left + beside + spare_x * 0.5
    y0 = low + under + raised + min((spare_y - raised) * 0.5, 30.0)
    origin = (edge - house.left * scale.mm_per_m, y0 - house.bottom * scale.mm_per_m)
    view = View("elevation", scale.name, scale.mm_per_m, origin)
    paper = Paper(width, height, view, edge, column_left, right, low, high)
    if found is None:
        return scale, paper, None
    middle = (left + column_left - LEADER_ROOM_MM) / 2
    return (
        scale,
        paper,
        place_detail(plan, found[0], middle, low + (y0 - low - under - raised) * 0.5),
    )


def _base(set_up: _Sheet) -> tuple[Canvas, list[Line]]:
    """Everything that does not depend on finding a clear place, and the extension lines."""
    plan, paper = set_up.plan, set_up.paper
    canvas = Canvas(paper.width, paper.height)
    canvas.add(*frame(paper.width, paper.height))
    if _stops(plan):
        canvas.add(*stop_banner(paper.width, paper.height - EDGE_MM - 1.0)[0])
    draw_figure(canvas, plan, paper)
    extensions = _draw_chains(canvas, plan, paper)
    if set_up.detail is not None:
        canvas.add(*outline(plan, paper.view))
        draw_detail(canvas, plan, set_up.detail)
    return canvas, extensions


def _lettered(canvas: Canvas, leads: list[Lead]) -> list[Lead]:
    """Names beside their places; the leaders that are still wanted."""
    return [lead for lead in leads if not (lead.block.lettered and name_beside(canvas, lead))]


def _with_leaders(set_up: _Sheet, base: Canvas, leads: list[Lead]) -> tuple[Canvas, list[str]]:
    """Words that float, then leaders around them; a leader that finds no way goes first."""
    first: list[Lead] = []
    for _ in range(TRIES):
        canvas = base.copy()
        for lead in first:
            canvas.place(lead.options(), tidy=False)
        detail = set_up.detail.view if set_up.detail else None
        left_out = draw_floats(canvas, set_up.plan, set_up.paper, detail)
        if set_up.detail is not None:
            name_pieces(canvas, set_up.plan, set_up.detail)
        stuck = [
            lead
            for lead in leads
            if lead not in first and not canvas.place(lead.options(), tidy=False)
        ]
        if not stuck:
            return canvas, left_out
        first += stuck
    return _with_leaders_first(set_up, base, leads)


def _with_leaders_first(
    set_up: _Sheet, base: Canvas, leads: list[Lead]
) -> tuple[Canvas, list[str]]:
    """All leaders, then what still finds a clear place."""
    canvas = base.copy()
    for lead in leads:
        # One that finds no way at all is left out: the block names its piece all the same.
        canvas.place(lead.options(), tidy=False)
    detail = set_up.detail.view if set_up.detail else None
    left_out = draw_floats(canvas, set_up.plan, set_up.paper, detail)
    if set_up.detail is not None:
        name_pieces(canvas, set_up.plan, set_up.detail)
    return canvas, left_out


def _draw_chains(canvas: Canvas, plan: Plan, paper: Paper) -> list[Line]:
    """The chains; their extension lines are handed back, to be left open at all words."""
    items: list[Item] = []
    lane = paper.figure_left - 2.0
    for spans in plumb_chains(plan, paper.view):
        lane -= 3.3
        items += chain(spans, lane, True, (paper.column_low, paper.column_high))
        lane -= lane_width(spans) - 3.3
    lane = paper.view.to_sheet((plan.house.right, 0.0))[0] + 2.0
    for spans in right_chains(plan, paper.view):
        lane += 3.3
        items += chain(spans, lane, True, (paper.column_low, paper.column_high), 1.0)
        lane += lane_width(spans) - 3.3
    lane = paper.view.to_sheet((0.0, plan.house.bottom))[1] - 4.0
    for spans in level_chains(plan, paper.view):
        lane -= 3.3
        items += chain(spans, lane, False, (EDGE_MM + 1.0, paper.column_left - 4.0))
        lane -= lane_width(spans) - 3.3
    later = [item for item in items if isinstance(item, Line) and item.layer == "extension"]
    canvas.add(*(item for item in items if item not in later))
    return later


def _stops(plan: Plan) -> bool:
    return any(f.verdict is Verdict.FAILS and f.grade is Grade.STOP for f in plan.findings)


def _banner_height(plan: Plan, width: float) -> float:
    return stop_banner(width, 0.0)[1] if _stops(plan) else 0.0


def _signs(plan: Plan) -> list[Sign]:
    walls = dict.fromkeys(wall_of(leg.piece) for leg in plan.legs if leg.piece.part != "cap")
    signs = [Sign(WALL_WORDS[wall], wall=wall) for wall in walls]
    signs += [
        Sign("read", ink=Ink.MEASURED),
        Sign("worked out", ink=Ink.INK),
        Sign("not measured", ink=Ink.UNKNOWN),
    ]
    kinds = {kind_of(f) for f in plan.findings}
    signs += [Sign(word, mark=kind) for kind, word in MARK_WORDS.items() if kind in kinds]
    return signs


def _draw_foot(canvas: Canvas, set_up: _Sheet, remarks: list[str]) -> None:
    paper, legend = set_up.paper, set_up.legend
    left, right = EDGE_MM + INNER_MM, paper.width - EDGE_MM - INNER_MM
    top = set_up.foot - 2.0
    for sign, x, base in legend_places(legend, left + LEGEND_FROM_MM, top):
        canvas.add(*sign_word(sign, x, base))
        if sign.wall:
            canvas.add(*wall_sample(sign.wall, x, base + 0.7))
    canvas.add(*scale_bar(left + 1.0, top - 5.0, paper.view, set_up.plan.style))
    below = top - max(6.0, LEGEND_LEAD_MM * len(legend)) - 0.5
    canvas.add(*notes(remarks, left, below, right - left))
