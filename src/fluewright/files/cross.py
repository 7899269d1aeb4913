"""What has to agree between parts of a survey: names, the order of pieces, what a part states.

Works on the nodes of the file, so that it says all it can about a file that has other faults.
"""

from __future__ import annotations

from collections.abc import Mapping

from fluewright.files.forms import good_id
from fluewright.files.nodes import Node
from fluewright.files.visit import Visit, nearest, quoted

Held = Mapping[str, Node]

_DIRECTION = "Pieces stand in the direction of flow"
_RUN_ONLY = ("rise", "horizontal", "elbows")
_CAP_ONLY = ("free_area", "shroud")
_TURN = ("angle", "leg")

# Keys that would go unheard on a part, and what to write instead.
NOT_ON: dict[str, tuple[tuple[str, ...], str]] = {
    "straight": (
        (*_RUN_ONLY, *_TURN, *_CAP_ONLY, "to_diameter"),
        "A straight piece states its length, and runs, slope or tilt; "
        "with rise and horizontal, or with elbows in it, write part: run.",
    ),
    "run": (
        (*_TURN, *_CAP_ONLY, "to_diameter"),
        "A run states its rise, its horizontal length and its elbows.",
    ),
    "elbow": (
        (*_RUN_ONLY, *_CAP_ONLY, "length", "to_diameter"),
        "An elbow states its angle, and its leg from center to face if it was measured.",
    ),
    "reducer": ((*_RUN_ONLY, *_TURN, *_CAP_ONLY), "A reducer states its length and to_diameter."),
    "adapter": ((*_RUN_ONLY, *_TURN, *_CAP_ONLY), "An adapter states its length."),
    "tee": (
        (*_RUN_ONLY, *_CAP_ONLY, "angle"),
        "A tee states its length, and its leg from the center of the branch to its far end; "
        "where one appliance alone turns in a tee, write part: elbow.",
    ),
    "wye": (
        (*_RUN_ONLY, *_CAP_ONLY),
        "A wye states its length, the angle of its branch, and its leg from where the center "
        "lines meet to its far end.",
    ),
    "cap": (
        (*_RUN_ONLY, *_TURN, "length", "to_diameter", "runs", "slope", "tilt"),
        "The height to the opening of a cap belongs to the last pipe's length.",
    ),
}


def cross_check(held: Held, visit: Visit) -> None:
    """Note every place where two parts of the survey do not agree.

    Args:
        held: the keys of the file.
        visit: takes the faults.
    """
    appliances = _mapping(held.get("appliances"))
    spaces = _mapping(held.get("spaces"))
    if "appliances" in held and held["appliances"].value == {}:
        message = "no appliance is named. Write an id and below it what the data plate says."
        visit.fault(held["appliances"], "appliances", message)
    common = _mapping(held.get("common"))
    _check_openings(spaces, visit)
    names = list(appliances)
    for name, appliance in appliances.items():
        _refers(_mapping(appliance), "space", f"appliances.{name}", spaces, "space", visit)
    ids: dict[str, int] = {}
    for i, path in enumerate(_items(held.get("paths"))):
        where, inside = f"paths[{i}]", _mapping(path)
        _refers(inside, "from", where, appliances, "appliance", visit)
        _check_pieces(inside, f"{where}.pieces", spaces, ids, visit)
        _check_joining(inside, where, common, visit)
    for name, vent in common.items():
        _check_pieces(_mapping(vent), f"common.{name}.pieces", spaces, ids, visit)
    names += ids
    names += common
    for i, node in enumerate(_items(_mapping(held.get("job")).get("new"))):
        known = dict.fromkeys(names, node)
        _names(node, f"job.new[{i}]", known, "appliance, piece or common vent", visit)
    for i, photo in enumerate(_items(held.get("photos"))):
        known = dict.fromkeys(names, photo)
        _refers(_mapping(photo), "of", f"photos[{i}]", known, "piece or appliance", visit)


def _check_openings(spaces: Held, visit: Visit) -> None:
    """An opening for air leads to another space that is named, and has a name of its own."""
    for name, space in spaces.items():
        seen: set[str] = set()
        for i, node in enumerate(_items(_mapping(_mapping(space).get("air")).get("openings"))):
            where, opening = f"spaces.{name}.air.openings[{i}]", _mapping(node)
            _refers(opening, "to", where, spaces, "space", visit)
            if _word(opening, "to") == name:
                message = "it leads to the space it is in. Name the space on its other side."
                visit.fault(opening["to"], f"{where}.to", message)
            own = _word(opening, "id")
            if own is not None and own in seen:
                message = f"{quoted(own)} stands twice in this space. Give each opening its own."
                visit.fault(opening["id"], f"{where}.id", message)
            seen.add(own or "")


def _check_joining(path: Held, where: str, common: Held, visit: Visit) -> None:
    """A path that joins a common vent ends there: cap, vent and roof are told in one place."""
    _refers(path, "joins", where, common, "common vent", visit)
    name = _word(path, "joins")
    if name is None:
        if "enters" in path:
            message = "it says where the path enters a common vent, but not which. Write joins."
            visit.fault(path["enters"], f"{where}.enters", message)
        return
    for key in ("vent", "roof", "chimney"):
        if key in path:
            message = f"the path joins {quoted(name)}: write its {key} under common.{name}."
            visit.fault(path[key], f"{where}.{key}", message)
    for i, node in enumerate(_items(path.get("pieces"))):
        piece = _mapping(node)
        if _word(piece, "role") == "vent" or _word(piece, "part") == "cap":
            message = (
                f"the path joins {quoted(name)}: up to there all of it is connector. Write what "
                f"comes after under common.{name}.pieces."
            )
            visit.fault(node, f"{where}.pieces[{i}]", message)
    entered = _mapping(path.get("enters"))
    pieces = _items(_mapping(common.get(name)).get("pieces"))
    known = {_word(_mapping(node), "id") or "": node for node in pieces}
    _refers(entered, "at", f"{where}.enters", known, f"piece of {name}", visit)


def _check_pieces(path: Held, where: str, spaces: Held, ids: dict[str, int], visit: Visit) -> None:
    """Check the pieces of one path; findings name a piece by its id, so no two share one."""
    nodes = _items(path.get("pieces"))
    pieces = [_mapping(node) for node in nodes]
    first_vent = ""
    for i, (node, piece) in enumerate(zip(nodes, pieces, strict=True)):
        at = f"{where}[{i}]"
        _check_id(piece, at, ids, visit)
        _check_part(piece, at, i == len(pieces) - 1, visit)
        _refers(piece, "space", at, spaces, "space", visit)
        role = _word(piece, "role")
        if role is None and "role" not in piece and _word(piece, "part") not in (None, "cap"):
            message = '"role" is missing; without it the piece would be judged as neither. '
            visit.fault(node, at, f"{message}Write role: connector or role: vent.")
        if role == "vent":
            first_vent = first_vent or _word(piece, "id") or f"number {i + 1}"
        elif role == "connector" and first_vent:
            message = f"a connector piece comes after the vent piece {quoted(first_vent)}. "
            visit.fault(
                piece["role"], f"{at}.role", f"{message}{_DIRECTION}: first connector, then vent."
            )


def _check_id(piece: Held, where: str, ids: dict[str, int], visit: Visit) -> None:
    name = _word(piece, "id")
    if name is None:
        return
    node = piece["id"]
    if name in ids:
        message = f"the id {quoted(name)} was used on line {ids[name]}. Give each piece its own."
        visit.fault(node, f"{where}.id", message)
    elif good_id(name, node, f"{where}.id", visit):
        ids[name] = node.line


def _check_part(piece: Held, where: str, is_last: bool, visit: Visit) -> None:
    part = _word(piece, "part")
    if part == "cap" and not is_last:
        message = f"the cap is not the last piece. {_DIRECTION}: put it last."
        visit.fault(piece["part"], f"{where}.part", message)
    keys, advice = NOT_ON.get(part or "", ((), ""))
    for key in keys:
        if key in piece:
            message = f'"{key}" does not belong to part: {part}. {advice}'
            visit.fault(piece[key], f"{where}.{key}", message)


def _refers(holder: Held, key: str, where: str, known: Held, called: str, visit: Visit) -> None:
    """Note a name that names nothing."""
    if key in holder:
        _names(holder[key], f"{where}.{key}", known, called, visit)


def _names(node: Node, where: str, known: Held, called: str, visit: Visit) -> None:
    """Note a name that names nothing."""
    name = node.value if isinstance(node.value, str) else None
    if name is None or name in known:
        return
    there = f" The survey names: {', '.join(known)}." if known else " The survey names none."
    message = f"there is no {called} {quoted(name)}.{nearest(name, known)}"
    visit.fault(node, where, f"{message}{there}")


def _mapping(node: Node | None) -> Held:
    return node.value if node is not None and isinstance(node.value, dict) else {}


def _items(node: Node | None) -> list[Node]:
    return node.value if node is not None and isinstance(node.value, list) else []


def _word(holder: Held, key: str) -> str | None:
    node = holder.get(key)
    return node.value if node is not None and isinstance(node.value, str) else None
