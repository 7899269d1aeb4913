"""Which findings hang where: blocks of the margin column, from the cap down to the floor."""

from __future__ import annotations

from fluewright.drawing.column import Block
from fluewright.drawing.masonry import flue_text
from fluewright.drawing.pipes import cap_targets, half_widths
from fluewright.drawing.plan import Paper, Plan
from fluewright.drawing.route import Leg
from fluewright.drawing.scene import Point, View
from fluewright.drawing.tree import HEATER_HALF_M, Branch
from fluewright.drawing.words import joint_text, piece_text
from fluewright.finding import Finding
from fluewright.rules.place import place_of

APPLIANCE = "appliance"
CONNECTOR = "connector"


def region(finding: Finding, plan: Plan) -> str:
    """The place of a finding: a piece id, ``cap``, ``vent``, ``connector``, or another word.

    What is of one appliance among several carries its name: ``heater connector``.
    """
    subject = finding.subject
    ids = {leg.piece.id for leg in plan.legs}
    if subject in ids:
        return subject
    if subject.removesuffix(" joint") in ids:
        return subject.removesuffix(" joint")
    if subject.startswith(("cap", "roof", "intake", "door", "window", "inlet")):
        return "cap"
    names = {b.name for b in plan.tree.branches}
    if subject in names:
        return _own(subject, finding.place or place_of(finding.rule), plan)
    if subject in ("connector", "vent"):
        return subject if plan.lone is not None or subject == "vent" else "elsewhere"
    if subject in ("heater", "appliance", "hood") and plan.lone is not None:
        return _own(plan.lone.name, finding.place or place_of(finding.rule), plan)
    if subject == plan.tree.name:
        place = finding.place or place_of(finding.rule)
        return "cap" if place == "cap" else "vent"
    return "elsewhere"


def _own(name: str, place: str, plan: Plan) -> str:
    if place not in (APPLIANCE, CONNECTOR):
        return place
    return place if plan.lone is not None else f"{name} {place}"


def blocks_of(plan: Plan, paper: Paper) -> list[Block]:
    """The blocks in order from the top of the column."""
    held: dict[str, list[Finding]] = {}
    for finding in plan.findings:
        held.setdefault(region(finding, plan), []).append(finding)
    view = paper.view
    blocks: list[Block] = []
    cap_done = False
    for leg, lettered in _legs(plan):
        own = held.pop(leg.piece.id, [])
        if leg.piece.part == "cap":
            own += held.pop("cap", [])
            cap_done = True
        blocks.append(_piece_block(leg, own, plan, view, lettered))
    if not cap_done and held.get("cap"):
        end = view.to_sheet(plan.main.end)
        blocks.insert(0, _whole("Top", "", held.pop("cap"), (end,), end[1]))
    blocks = _insert_wholes(blocks, held, plan, view)
    if plan.lone is not None:
        blocks.append(_appliance(plan.lone, held.pop(APPLIANCE, []), view))
    else:
        blocks += [
            _appliance(b, held.pop(f"{b.name} {APPLIANCE}", []), view, lettered=b.side < 0)
            for b in plan.tree.branches
        ]
        blocks.sort(key=lambda block: -block.wanted)
    rest = [finding for group in held.values() for finding in group]
    if rest:
        blocks.append(Block("Elsewhere", _names(rest), "", tuple(rest), (), -1e3))
    return blocks


def _legs(plan: Plan) -> list[tuple[Leg, bool]]:
    """The pieces from the cap down; and whether each carries its name beside it, and no leader."""
    if plan.lone is not None:
        return [(leg, False) for leg in reversed(plan.legs)]
    trunk = [(leg, False) for leg in reversed(plan.main.legs)]
    own = [(leg, b.side < 0) for b in plan.tree.live for leg in reversed(b.route.legs)]
    return trunk + own


def _names(findings: list[Finding]) -> str:
    return ", ".join(dict.fromkeys(f.subject.replace("_", " ") for f in findings))


def _insert_wholes(
    blocks: list[Block], held: dict[str, list[Finding]], plan: Plan, view: View
) -> list[Block]:
    """Findings on the vent or a connector as a whole, beside their middle piece."""
    if plan.lone is not None:
        whole: list[tuple[str, str, tuple[Leg, ...], str]] = [
            (role, role.capitalize(), tuple(leg for leg in plan.legs if leg.piece.role == role),
             APPLIANCE)
            for role in ("vent", CONNECTOR)
        ]  # fmt: skip
    else:
        whole = [("vent", "Common vent", plan.main.legs, "elsewhere")]
        whole += [
            (f"{b.name} {CONNECTOR}", f"Connector of {b.name}", b.route.legs,
             f"{b.name} {APPLIANCE}")
            for b in plan.tree.live
        ]  # fmt: skip
    for key, name, chain, otherwise in whole:
        own = held.pop(key, [])
        legs = [leg for leg in chain if leg.piece.part != "cap"]
        if own and not legs:
            held.setdefault(otherwise, []).extend(own)
        elif own:
            leg = max(legs, key=_size)
            at = next(i for i, b in enumerate(blocks) if b.name == leg.piece.id)
            spots = _targets(leg, view, (0.3, 0.2, 0.4, 0.1))
            words = "as a whole" if plan.lone is not None else ""
            block = _whole(name, words, own, spots, spots[0][1] + 2.0)
            blocks.insert(at if leg.is_flat or key.endswith(CONNECTOR) else at + 1, block)
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


def _piece_block(
    leg: Leg, findings: list[Finding], plan: Plan, view: View, lettered: bool
) -> Block:
    piece = leg.piece
    joint = joint_text(piece.joint, plan.style)
    targets = _targets(leg, view, (0.5, 0.4, 0.6, 0.25, 0.75))
    if piece.part == "cap":
        targets = cap_targets(view.to_sheet(leg.end), half_widths(leg, view)[0])
    detail = f"joint: {joint}" if joint else ""
    if leg.shape_open:
        detail = "the way between its ends is not recorded"
    lift = 8.0 if leg.is_flat else 0.0
    words = flue_text(plan, plan.style) if leg.liner else piece_text(piece, plan.style)
    wanted = targets[0][1] + lift
    return Block(piece.id, words, detail, tuple(findings), targets, wanted, lettered)


def _appliance(
    branch: Branch, findings: list[Finding], view: View, *, lettered: bool = False
) -> Block:
    start, floor = branch.route.start, branch.floor
    tall = start[1] - floor
    spots = tuple(
        view.to_sheet((start[0] + out * HEATER_HALF_M, floor + tall * part))
        for out in ((1.0, -1.0) if lettered else (1.0,))
        for part in (0.55, 0.4, 0.25, 0.7)
    )
    kind = (branch.appliance.kind or "appliance, kind not known").replace("_", " ")
    hood = {"draft_hood": ", draft hood"}.get(branch.appliance.draft or "", "")
    words = f"{kind}, taken out" if branch.gone else kind + hood
    return Block(branch.name, words, "", tuple(findings), spots, spots[0][1], lettered)
