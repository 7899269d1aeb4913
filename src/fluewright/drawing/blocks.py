"""Which findings hang where: blocks of the margin column, from the cap down to the floor."""

from __future__ import annotations

from fluewright.drawing.column import Block
from fluewright.drawing.house import HEATER_HALF_M
from fluewright.drawing.pipes import cap_targets, half_widths
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Point, View
from fluewright.drawing.words import joint_text, piece_text
from fluewright.finding import Finding
from fluewright.rules.place import place_of


def region(finding: Finding, plan: Plan) -> str:
    """The place of a finding: a piece id, ``cap``, ``vent``, ``connector``, or another word."""
    subject = finding.subject
    ids = {leg.piece.id for leg in plan.route.legs}
    if subject in ids:
        return subject
    if subject.removesuffix(" joint") in ids:
        return subject.removesuffix(" joint")
    if subject.startswith(("cap", "roof", "intake", "door", "window", "inlet")):
        return "cap"
    if subject in ("connector", "vent"):
        return subject
    if subject == plan.path.from_ or subject in ("heater", "appliance", "hood"):
        return finding.place or place_of(finding.rule)
    return "elsewhere"


def blocks_of(plan: Plan, paper: Paper) -> list[Block]:
    """The blocks in order from the top of the column."""
    held: dict[str, list[Finding]] = {}
    for finding in plan.findings:
        held.setdefault(region(finding, plan), []).append(finding)
    view = paper.view
    blocks: list[Block] = []
    cap_done = False
    for leg in reversed(plan.route.legs):
        own = held.pop(leg.piece.id, [])
        if leg.piece.part == "cap":
            own += held.pop("cap", [])
            cap_done = True
        blocks.append(_piece_block(leg, own, plan, view))
    if not cap_done and held.get("cap"):
        end = view.to_sheet(plan.route.end)
        blocks.insert(0, _whole("Top", "", held.pop("cap"), (end,), end[1]))
    blocks = _insert_wholes(blocks, held, plan, view)
    blocks.append(_appliance(held.pop("appliance", []), plan, view))
    rest = [finding for group in held.values() for finding in group]
    if rest:
        blocks.append(Block("Elsewhere", _names(rest), "", tuple(rest), (), -1e3))
    return blocks


def _names(findings: list[Finding]) -> str:
    return ", ".join(dict.fromkeys(f.subject.replace("_", " ") for f in findings))


def _insert_wholes(
    blocks: list[Block], held: dict[str, list[Finding]], plan: Plan, view: View
) -> list[Block]:
    """Findings on the vent or the connector as a whole, beside their middle piece."""
    for role in ("vent", "connector"):
        own = held.pop(role, [])
        if not own:
            continue
        legs = [
            leg for leg in plan.route.legs if leg.piece.role == role and leg.piece.part != "cap"
        ]
        if not legs:
            held.setdefault("appliance", []).extend(own)
            continue
        leg = max(legs, key=_size)
        name = next(i for i, b in enumerate(blocks) if b.name == leg.piece.id)
        spots = _targets(leg, view, (0.3, 0.2, 0.4, 0.1))
        whole = _whole(role.capitalize(), "as a whole", own, spots, spots[0][1] + 2.0)
        blocks.insert(name if leg.is_flat or role == "connector" else name + 1, whole)
    return blocks


def _size(leg: Leg) -> float:
    return abs(leg.end[0] - leg.start[0]) + abs(leg.end[1] - leg.start[1])


def _whole(
    name: str, words: str, findings: list[Finding], targets: tuple[Point, ...], wanted: float
) -> Block:
    return Block(name, words, "", tuple(findings), targets, wanted)


def _targets(leg: Leg, view: View, parts: tuple[float, ...]) -> tuple[Point, ...]:
    """Places on the near skin of a piece: its right side, or the top of a level run."""
    half = half_widths(leg, view)[0]
    x, y = view.to_sheet(leg.middle)
    if leg.piece.part == "elbow" and not leg.in_plan:
        return ((x, y),)
    if len(leg.points) != 2:
        return ((x, y + half) if leg.is_flat else (x + half, y),)
    spots: list[Point] = []
    (x1, y1), (x2, y2) = leg.points
    for part in parts:
        x, y = view.to_sheet((x1 + (x2 - x1) * part, y1 + (y2 - y1) * part))
        spots.append((x, y + half) if leg.is_flat else (x + half, y))
    return tuple(spots)


def _piece_block(leg: Leg, findings: list[Finding], plan: Plan, view: View) -> Block:
    piece = leg.piece
    joint = joint_text(piece.joint, plan.style)
    targets = _targets(leg, view, (0.5, 0.4, 0.6, 0.25, 0.75))
    if piece.part == "cap":
        targets = cap_targets(view.to_sheet(leg.end), half_widths(leg, view)[0])
    detail = f"joint: {joint}" if joint else ""
    if leg.shape_open:
        detail = "the way between its ends is not recorded"
    lift = 8.0 if leg.is_flat else 0.0
    return Block(
        piece.id,
        piece_text(piece, plan.style),
        detail,
        tuple(findings),
        targets,
        targets[0][1] + lift,
    )


def _appliance(findings: list[Finding], plan: Plan, view: View) -> Block:
    spots = tuple(
        view.to_sheet((HEATER_HALF_M, plan.route.start[1] * part))
        for part in (0.55, 0.4, 0.25, 0.7)
    )
    kind = (plan.appliance.kind or "appliance, kind not known").replace("_", " ")
    hood = {"draft_hood": ", draft hood"}.get(plan.appliance.draft or "", "")
    return Block(plan.path.from_, kind + hood, "", tuple(findings), spots, spots[0][1])
