"""Facts of appliances that a fan drives, direct-vent and condensing ones, and their outlets."""

from __future__ import annotations

import math

from fluewright.facts.base import NOT_RECORDED, FactValue, Getter, Unknown, View, seen, table
from fluewright.geometry import between
from fluewright.quantity import Measured, smaller
from fluewright.survey import ABSENT, Absent, Clearance, Intake, NearOpening, Roof, Terminal

NOT_ALL_TOLD = "not told for every door, window and gravity inlet"
ROOF = "path.roof."
TERMINAL = ROOF + "terminal."
FAN, BW = "path.vent.fan.", "path.vent.type_bw."


def openings_near_outlet(roof: Roof) -> tuple[tuple[str, NearOpening | Intake | None], ...]:
    """Every opening through which gas may come back in, with its name.

    Doors and windows stand under the terminal, inlets there or among the intakes. Where one of the
    two lists is missing, or there is nothing, ``roof`` stands in and holds no opening.
    """
    doors = roof.terminal.openings if isinstance(roof.terminal, Terminal) else None
    listed = doors if isinstance(doors, tuple) else ()
    intakes = roof.intakes if isinstance(roof.intakes, tuple) else ()
    gravity = tuple(i for i in intakes if i.kind == "gravity")
    found: list[tuple[str, NearOpening | Intake | None]] = []
    things: tuple[NearOpening | Intake, ...] = (*listed, *gravity)
    for thing in things:
        kind = thing.kind if isinstance(thing, NearOpening) else "inlet"
        count = 1 + sum(name.startswith(f"{kind} ") for name, _ in found)
        found.append((f"{kind} {count}", thing))
    told = isinstance(doors, tuple | Absent) and isinstance(roof.intakes, tuple | Absent)
    return tuple(found) if found and told else (*found, ("roof", None))


def _near(view: View) -> FactValue:
    """Whether there is an opening near the outlet: this one, or any of the lists."""
    if isinstance(view.thing, NearOpening | Intake):
        return True
    roof = view.path.roof
    doors = _of_terminal(view, "openings")
    if isinstance(doors, Unknown):
        return doors
    if not isinstance(roof.intakes, tuple | Absent):
        reason = seen(roof.intakes)
        return Unknown(
            f"air intakes: {reason.reason if isinstance(reason, Unknown) else NOT_RECORDED}"
        )
    return ABSENT


def _of_terminal(view: View, name: str) -> FactValue:
    """A field of the terminal record, or why it is not known."""
    terminal = view.path.roof.terminal
    return seen(getattr(terminal, name)) if isinstance(terminal, Terminal) else seen(terminal)


def _of_opening(name: str) -> Getter:
    def get(view: View) -> FactValue:
        if not isinstance(view.thing, NearOpening | Intake):
            return Unknown(NOT_ALL_TOLD)
        return seen(getattr(view.thing, name))

    return get


def _outlet_below(view: View) -> FactValue:
    """How far the outlet is below the opening: the height above it, turned round."""
    above = _of_opening("outlet_above")(view)
    if not isinstance(above, Measured):
        return above
    return Measured(-above.value, above.dimension, above.tolerance, above.tool, above.evidence)


def _straight(view: View) -> FactValue:
    """Shortest straight distance to the opening: as taped, else from level and upright."""
    if isinstance(view.thing, NearOpening) and view.thing.straight is not None:
        return seen(view.thing.straight)
    level, up = _of_opening("horizontal")(view), _of_opening("outlet_above")(view)
    if not isinstance(level, Measured):
        return level
    if not isinstance(up, Measured):
        return up
    near = 0.0 if up.low <= 0.0 <= up.high else min(abs(up.low), abs(up.high))
    far = max(abs(up.low), abs(up.high))
    return between(
        math.hypot(max(0.0, level.low), near), math.hypot(max(0.0, level.high), far), level
    )


def _direct(view: View) -> FactValue:
    """Whether the burner's air and gas are one closed system with the outdoors."""
    appliance = view.appliance
    if appliance.draft == "direct_vent":
        return True
    if appliance.draft in ("draft_hood", "fan_assisted"):
        return False
    return seen(appliance.direct_vent)


def _unlisted_row(view: View) -> FactValue:
    """Row of the table for unlisted furnaces and boilers."""
    kind, low = view.appliance.kind, seen(view.appliance.low_limit)
    if kind is None:
        return Unknown(NOT_RECORDED)
    if kind not in ("furnace", "boiler"):
        return ABSENT
    if not isinstance(low, bool):
        return Unknown("the setting of its limit control is not recorded")
    if not low:
        return "other"
    return "furnace_low_limit" if kind == "furnace" else "boiler_low_limit"


def _hood_distance(view: View) -> FactValue:
    hood, sides = view.appliance.hood, view.appliance.clearances
    if hood is not None and hood.present is False:
        return ABSENT
    return Unknown(NOT_RECORDED) if sides is None else seen(sides.hood)


def _connector_distance(view: View) -> FactValue:
    """Least distance of single-wall connector pieces to what can burn; ABSENT where none is near.

    A piece whose wall nobody told may be single wall: then nothing is known.
    """
    pieces = view.trace.of_role("connector")
    if not pieces and not view.trace.placed:
        return Unknown("no piece of the path is described")
    found: list[Measured] = []
    for item in pieces:
        piece = item.piece
        if not isinstance(piece.wall, str):
            return Unknown(f"wall of {piece.id} not recorded")
        if piece.wall != "single" or piece.clearance is ABSENT:
            continue
        near = piece.clearance
        distance = near.distance if isinstance(near, Clearance) else None
        if not isinstance(distance, Measured):
            return Unknown(f"distance of {piece.id} to what can burn not recorded")
        found.append(distance)
    return smaller(*found) if found else ABSENT


# fmt: off
FACTS = table(
    ("direct_vent_appliance", "whether the burner draws its air through a pipe of its own from outdoors", "look for the air pipe and a closed burner; read the data plate", _direct),
    ("appliance_instructions_followed", "whether vent and outlet follow the appliance instructions", "compare kind, size, length and outlet with the instructions; `?` when they are not at hand", "appliance.instructions_followed"),
    ("mech_draft_listed", "listing of the draft fan", "read the mark on the fan unit", FAN + "listed"),
    ("mech_draft_interlocked", "whether the gas stops when the draft fan does", "a licensed person stops the fan or blocks its proving switch: the main gas must stop", FAN + "interlocked"),
    ("positive_pressure_parts_tight", "whether the pipe after the fan is tight", "joints after the fan sealed as instructed; smoke or solution with the fan on", FAN + "tight"),
    ("bw_top_or_single_story", "whether the wall furnace is in a one-story house or on the top story", "look", BW + "top_or_single_story"),
    ("bw_vent_listed_multistory", "whether the vent is listed for several stories", "read the mark and instructions of the vent", BW + "listed_multistory"),
    ("bw_header_plate_attached", "whether the vent is fastened to a solid header plate", "look in the stud space", BW + "header_plate"),
    ("bw_first_ceiling_spacers_open", "whether the plate spacers leave the stud space open at the first ceiling", "look from the attic or the story above", BW + "spacers_open"),
    ("bw_firestops_above", "whether every later floor or ceiling has a firestop spacer", "look at each; yes where none follows", BW + "firestops_above"),
    ("unlisted_furnace_row", "row of the table for unlisted furnaces and boilers", "read the kind, and the setting of the limit control", _unlisted_row),
    ("draft_hood_distance", "distance from the draft hood to what can burn", "tape; the nearest wood, paper or sheathing", _hood_distance),
    ("single_wall_connector_distance", "least distance from the single-wall connector to what can burn", "tape along the whole connector, shields ignored", _connector_distance),
    ("opening_near_outlet", "doors, windows and gravity inlets near the outlet", "look round the outlet on every side; none when there are none", _near),
    ("opening_horizontal", "level distance from the outlet to the opening", "tape, to its nearest edge", _of_opening("horizontal")),
    ("opening_below_terminal", "height of the outlet above the top of the opening", "tape; negative below its lower edge, zero between the two", _of_opening("outlet_above")),
    ("opening_above_terminal", "depth of the outlet below the lower edge of the opening", "tape, bottom of the opening down to the outlet", _outlet_below),
    ("terminal_to_air_opening", "shortest straight distance from the outlet to the opening", "tape, any direction", _straight),
    ("terminal_above_grade", "height of the outlet above the ground", "tape, bottom of the outlet to the finished ground, or to the snow that is usual there", TERMINAL + "above_ground"),
    ("air_intake_above_grade", "height of the air intake above the ground", "tape, as for the outlet; none where there is no intake of its own at the wall", TERMINAL + "air_intake_above_ground"),
    ("terminal_over_public_walkway", "whether the outlet is beside or over a public walk", "look", TERMINAL + "beside_public_walk"),
    ("condensate_nuisance", "whether its moisture harms a walk, a regulator, a relief valve or other equipment", "look below and beside the outlet for a path, meter, regulator, relief valve or equipment, and for stains and ice", TERMINAL + "moisture_harms"),
    ("connector_shorter_way", "whether a clearly shorter or straighter way was practical", "trace the connector; look whether something stands in the direct way", "path.connector.shorter_way"),
)
# fmt: on
