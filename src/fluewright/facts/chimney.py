"""Facts of the chimney: kind, flue, lining, state."""

from __future__ import annotations

from collections.abc import Callable

from fluewright import geometry
from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, same_length, seen, table
from fluewright.joining import former_members, members
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Chimney, Cleanout, Survey

METAL_LINERS = ("smooth_metal", "corrugated_metal")
WATER_HEATERS = ("storage water heater", "instantaneous water heater")
PIPE = ("type_b", "type_l", "special", "plastic_listed")  # vents that may stand in an old flue
HIDDEN = ("chase", "concealed")  # spaces that may be an old flue
KIND_OF_WALL = {
    "masonry": "masonry",
    "factory_built_chimney": "factory_built",
    "metal_chimney": "metal",
}


def _walls(view: View) -> tuple[str, ...] | None:
    """Wall kinds of the vent pieces, cap left out; None where one of them is not told."""
    parts = [item.piece for item in view.trace.of_role("vent")]
    walls = [piece.wall for piece in parts if piece.part != "cap"]
    if not walls or any(not isinstance(wall, str) for wall in walls):
        return None
    return tuple(str(wall) for wall in walls)


def _kind(view: View) -> FactValue:
    """Kind of chimney that the gas goes up in; none where pipe goes all the way.

    What the pieces are goes before what is told of a chimney: Type B inside an old flue is a gas
    vent, and no chimney. A masonry piece may be of a chimney that was told to be of another kind.
    """
    chimney, walls = view.path.chimney, _walls(view)
    told = chimney.kind if isinstance(chimney, Chimney) else None
    kinds = {KIND_OF_WALL[wall] for wall in walls or () if wall in KIND_OF_WALL}
    if len(kinds) > 1:
        return Unknown("its pieces are of more than one kind of chimney")
    if kinds:
        kind = kinds.pop()
        return told if kind == "masonry" and isinstance(told, str) else kind
    if walls is not None:
        return ABSENT
    if told is not None:
        return seen(told)
    if chimney is ABSENT:
        return ABSENT
    return seen(chimney) if isinstance(chimney, NotMeasured) else Unknown(NOT_RECORDED)


def _of(name: str) -> Callable[[View], FactValue]:
    """A property of the chimney; not known where no chimney is described."""

    def get(view: View) -> FactValue:
        chimney = view.path.chimney
        if isinstance(chimney, Chimney):
            return seen(getattr(chimney, name))
        return Unknown(NOT_RECORDED) if chimney is None else seen(chimney)

    return get


def _lined(view: View) -> FactValue:
    liner = _of("liner")(view)
    if isinstance(liner, Unknown):
        return liner
    return liner is not ABSENT


def _vent_in_flue(view: View) -> FactValue:
    """Whether a metal liner, or a vent pipe, stands in a masonry flue with room around it."""
    chimney, walls = view.path.chimney, _walls(view)
    if walls is None:
        return Unknown("wall kind of the vent not recorded")
    if "masonry" in walls:
        liner = _of("liner")(view)
        return liner if isinstance(liner, Unknown) else liner in METAL_LINERS
    if not any(wall in PIPE for wall in walls) or chimney is ABSENT:
        return False
    if isinstance(chimney, Chimney):
        return True if chimney.kind is None else _is(seen(chimney.kind), "masonry")
    if isinstance(chimney, NotMeasured):
        return Unknown(chimney.reason)
    return False if _in_sight(view) else Unknown("whether it runs up inside an old flue")


def _is(value: FactValue, word: str) -> FactValue:
    return value if isinstance(value, Unknown) else value == word


def _in_sight(view: View) -> bool:
    """Whether every piece of the vent lies in a space where no old flue can hide it."""
    parts = [item.piece for item in view.trace.of_role("vent") if item.piece.part != "cap"]
    spaces = [view.survey.spaces.get(piece.space or "") for piece in parts]
    return all(space is not None and space.kind not in HIDDEN for space in spaces)


def _cleanout(name: str) -> Callable[[View], FactValue]:
    def get(view: View) -> FactValue:
        found = view.path.chimney.cleanout if isinstance(view.path.chimney, Chimney) else None
        if isinstance(found, Cleanout):
            return seen(getattr(found, name))
        return Unknown(NOT_RECORDED) if found is None else seen(found)

    return get


def _has_cleanout(view: View) -> FactValue:
    found = _of("cleanout")(view)
    return False if found is ABSENT else found


def _is_water_heater(view: View) -> FactValue:
    kind = view.appliance.kind
    return Unknown(NOT_RECORDED) if kind is None else kind in WATER_HEATERS


def _load(survey: Survey, names: tuple[str, ...]) -> FactValue:
    """Input of several appliances together. [W]"""
    value = tolerance = 0.0
    for name in names:
        burnt = seen(survey.appliances[name].input)
        if not isinstance(burnt, Measured):
            return Unknown(f"input of {name} not recorded")
        value, tolerance = value + burnt.value, tolerance + burnt.tolerance
    return Measured(value, Dimension.POWER, tolerance)


def _names(view: View, past: bool) -> tuple[str, ...]:
    """Appliances on the vent, today or with those that were taken out."""
    if not view.common:
        return (view.path.from_,)
    paths = members(view.survey, view.common)
    if past:
        paths += former_members(view.survey, view.common)
    return tuple(path.from_ for path in paths)


def _space_heaters(view: View) -> FactValue:
    """Least input of the appliances on the vent that heat rooms; none where none does."""
    found: list[Measured] = []
    for name in _names(view, past=False):
        appliance = view.survey.appliances.get(name)
        if appliance is None or appliance.kind is None:
            return Unknown(f"kind of {name} not recorded")
        if appliance.kind in WATER_HEATERS:
            continue
        burnt = seen(appliance.input)
        if not isinstance(burnt, Measured):
            return Unknown(f"input of {name} not recorded")
        found.append(burnt)
    return min(found, key=lambda one: one.low) if found else ABSENT


# fmt: off
FACTS = table(
    ("chimney_kind", "kind of chimney", "look; none where the vent is pipe all the way", _kind),
    ("chimney_exterior", "whether a side of the chimney is outdoors below the roof line", "look round the house", _of("exterior")),
    ("chimney_entirely_outside_walls", "whether the chimney stands wholly outside the walls", "look", _of("outside_walls")),
    ("chimney_as_instructed", "whether the chimney is built as its listing or standard says", "compare with its instructions or design record", _of("as_instructed")),
    ("factory_built_for_pressure", "whether the factory-built chimney is listed for pressure", "read its mark and instructions", _of("listed_for_pressure")),
    ("chimney_liner", "liner of the flue", "camera, or lamp and mirror, from inlet, cleanout and top; none where the flue is bare", _of("liner")),
    ("chimney_lined", "whether the flue is lined", "camera, or lamp and mirror", _lined),
    ("chimney_liner_sound", "state of the liner", "camera: no crack, gap, missing joint or spall", _of("liner_sound")),
    ("chimney_masonry_sound", "state of the masonry", "look inside and out: mortar, cracks through, smoke marks", _of("masonry_sound")),
    ("liner_label_present", "gas-only label at the liner", "look at the connection", _of("liner_label")),
    ("liner_adapter_listed", "listed adapter to the liner", "read its mark", _of("liner_adapter_listed")),
    ("chimney_zero_clearance_liner", "whether the liner is listed for chimneys against what can burn", "read its listing", _of("liner_listed_for_contact")),
    ("clay_liner_below_inlet", "start of the clay liner below the lowest inlet", "camera and tape", _of("liner_below_inlet")),
    ("chimney_flue_area", "clear area inside the flue", "measure width and depth inside the liner", _of("flue_area")),
    ("chimney_passage_clear", "whether the flue is clear", "camera, or lamp and mirror", _of("clear")),
    ("chimney_previous_fuel", "what the chimney served", "ask; look for soot", _of("served")),
    ("chimney_cleaned", "whether the chimney was cleaned", "ask for the record, or look", _of("cleaned")),
    ("chimney_cleanout_present", "cleanout", "look at the foot", _has_cleanout),
    ("chimney_cleanout_tight", "tightness of the cleanout", "look, smoke", _cleanout("tight")),
    ("cleanout_below_inlet", "upper edge of the cleanout below the lowest inlet", "tape", _cleanout("below_inlet")),
    ("masonry_clearance", "distance from the masonry to framing", "tape; none where nothing that can burn is near", _of("to_framing")),
    ("connector_insertion_into_flue", "where the connector ends in the flue", "camera or mirror through the thimble", _of("connector_end")),
    ("chimney_inlet_thimble", "thimble at the inlet", "look", _of("inlet_thimble")),
    ("thimble_secured", "whether connector and thimble hold", "tug at it", _of("inlet_fixed")),
    ("vent_in_masonry_flue", "whether liner or vent pipe stands in a masonry flue", "look at top and inlet", _vent_in_flue),
    ("annulus_used_for", "use of the room around the liner", "look at top and foot; none when nothing uses it", _of("round_liner")),
    ("chimney_rain_cap_free_area", "free area under the rain cap", "tape round and up", _of("rain_cap_area")),
    ("conversion_accessory_listed", "listing of a draft hood conversion accessory", "read its mark; none where there is none", _of("hood_accessory_listed")),
    ("abandoned_openings_closed", "whether inlets no longer used are closed", "look for open tees and thimbles", _of("old_openings_closed")),
    ("connector_total_length", "whole length of the connector", "tape along the center line, upright parts too", lambda v: same_length(geometry.connector_center_line(v.trace))),
    ("is_water_heater", "whether it heats water", "read the data plate", _is_water_heater),
    ("space_heating_input", "least input of the room-heating appliances on the vent", "read every data plate", _space_heaters),
    ("load_before", "input on this vent before an appliance was taken out", "read or find out the input of what was taken out", lambda v: _load(v.survey, _names(v, past=True))),
    ("load_now", "input on this vent today", "read every data plate", lambda v: _load(v.survey, _names(v, past=False))),
)
# fmt: on
