"""Facts of the common vent and of each connector on it."""

from __future__ import annotations

import math
from collections.abc import Callable

from fluewright import geometry_common as shared_geometry
from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, same_length, seen, table
from fluewright.facts.run import NO_PIECE_OF_OTHERS, connector_material
from fluewright.geometry import elbow_angles
from fluewright.geometry_common import Joined, Shared
from fluewright.joining import JUNCTIONS, former_members
from fluewright.quantity import Dimension, Measured, NotMeasured, larger, smaller
from fluewright.survey import ABSENT, SharedFlue

NOT_COMMON = "the vent that is shared is not described under common"
FAN, HOOD = "fan", "nat"


def _of_common(view: View, ask: Callable[[Shared], FactValue]) -> FactValue:
    """A fact of the common vent; not known where the survey describes none."""
    return Unknown(NOT_COMMON) if view.shared is None else ask(view.shared)


def _count(view: View) -> FactValue:
    """How many appliances burn into the vent."""
    if view.shared is not None:
        if len(view.shared.joined) == 1 and not former_members(view.survey, view.common):
            return Unknown("a common vent, and one path alone is said to join it")
        described = sum(bool(one.path.pieces) for one in view.shared.joined)
        if described < 2 <= len(view.shared.joined):
            return Unknown(NO_PIECE_OF_OTHERS)
        return _number(len(view.shared.joined))
    alone = seen(view.path.vent.shares_with)
    return Measured(1.0, Dimension.COUNT) if alone is ABSENT else Unknown(NOT_COMMON)


def _rise(view: View) -> FactValue:
    return _of_common(
        view, lambda found: same_length(shared_geometry.connector_rise(found, view.path.from_))
    )


def _bore(found: Shared, pick: Callable[..., Measured]) -> FactValue:
    bores: list[Measured] = []
    for one in found.joined:
        bore = shared_geometry.end_bore(one)
        if isinstance(bore, NotMeasured):
            return Unknown(f"{bore.reason} not recorded")
        bores.append(bore)
    return pick(*bores) if bores else Unknown("no appliance is said to join it")


def _outlets(view: View) -> tuple[Measured, ...] | Unknown:
    """Outlet diameters of every appliance on the vent."""
    if view.shared is None:
        return Unknown(NOT_COMMON)
    found: list[Measured] = []
    for one in view.shared.joined:
        outlet = seen(view.survey.appliances[one.name].outlet_diameter)
        if not isinstance(outlet, Measured):
            return Unknown(f"outlet of {one.name} not recorded")
        found.append(outlet)
    return tuple(found) or Unknown("no appliance is said to join it")


def _outlet(view: View, pick: Callable[..., Measured]) -> FactValue:
    found = _outlets(view)
    return found if isinstance(found, Unknown) else pick(*found)


def bore_area(bore: Measured) -> Measured:
    """Inside area of a round pipe. [m2]"""
    low, high = (math.pi / 4 * d * d for d in (max(0.0, bore.low), bore.high))
    return Measured.between(low, high, Dimension.AREA, bore.tool, bore.evidence)


def _area(bore: FactValue) -> FactValue:
    return bore_area(bore) if isinstance(bore, Measured) else bore


def _larger_and_half(first: list[Measured], all_: list[Measured]) -> Measured:
    """Area of the largest of some, and half that of the smaller ones of all. [m2]"""
    areas = sorted((bore_area(bore) for bore in all_), key=lambda area: area.value)
    most = larger(*(bore_area(bore) for bore in first))
    low = most.low + sum(area.low for area in areas[:-1]) / 2
    high = most.high + sum(area.high for area in areas[:-1]) / 2
    return Measured.between(low, high, Dimension.AREA, most.tool, most.evidence)


def _outlets_needed(view: View) -> FactValue:
    found = _outlets(view)
    return found if isinstance(found, Unknown) else _larger_and_half(list(found), list(found))


def _manifold_needed(view: View) -> FactValue:
    """Area that a manifold needs: the larger connector and half the smaller outlets."""
    found = _outlets(view)
    if isinstance(found, Unknown) or view.shared is None:
        return found if isinstance(found, Unknown) else Unknown(NOT_COMMON)
    largest = _bore(view.shared, larger)
    if not isinstance(largest, Measured):
        return largest
    return _larger_and_half([largest], list(found))


def _area_of(view: View, name: str) -> FactValue:
    """Clear area at the narrowest or widest place of the vertical part; a flue's own area."""
    chimney = view.path.chimney
    flue = getattr(chimney, "flue_area", None)
    parts = view.trace.of_role("vent") if view.shared is None else view.shared.trunk.placed
    pieces = [item.piece for item in parts if item.piece.part != "cap"]
    if flue is not None and pieces and all(piece.wall == "masonry" for piece in pieces):
        return seen(flue)
    bores: list[Measured] = []
    for piece in pieces:
        if not isinstance(piece.diameter, Measured):
            return Unknown(f"diameter of {piece.id} not recorded")
        bores.append(piece.diameter)
    if not bores:
        return Unknown("no piece of the vent is described")
    return bore_area(smaller(*bores) if name == "min" else larger(*bores))


def _total_input(view: View) -> FactValue:
    """Input of all appliances on the vent together. [W]"""
    if view.shared is None:
        return Unknown(NOT_COMMON)
    value = tolerance = 0.0
    for one in view.shared.joined:
        burnt = seen(view.survey.appliances[one.name].input)
        if not isinstance(burnt, Measured):
            return Unknown(f"input of {one.name} not recorded")
        value, tolerance = value + burnt.value, tolerance + burnt.tolerance
    return Measured(value, Dimension.POWER, tolerance)


def _kinds(view: View) -> FactValue:
    """Burner kinds of the appliances: fan or nat, one word each."""
    if view.shared is None:
        return Unknown(NOT_COMMON)
    words: list[str] = []
    for one in view.shared.joined:
        draft = view.survey.appliances[one.name].draft
        if draft not in ("draft_hood", "fan_assisted"):
            return Unknown(f"kind of draft of {one.name} not recorded, or of another category")
        words.append(FAN if draft == "fan_assisted" else HOOD)
    return tuple(words)


def _connector_kinds(view: View) -> FactValue:
    """Wall kind of every connector piece of every appliance on the vent."""
    if view.shared is None:
        return Unknown(NOT_COMMON)
    words = [
        connector_material(item.piece)
        for one in view.shared.joined
        for item in one.trace.of_role("connector")
    ]
    return tuple(dict.fromkeys(words)) or Unknown("no piece of the connectors is described")


def _elbows(view: View) -> FactValue:
    if view.shared is None:
        return Unknown(NOT_COMMON)
    found = shared_geometry.elbows(view.shared)
    if isinstance(found, NotMeasured):
        return Unknown(f"{found.reason} not recorded")
    return tuple(f"{angle:g}" for angle in found)


def _connector_elbows(view: View) -> FactValue:
    found = elbow_angles(view.trace, "connector")
    if isinstance(found, NotMeasured):
        return Unknown(f"{found.reason} not recorded")
    return tuple(f"{angle:g}" for angle in found)


def _junctions(view: View) -> FactValue:
    """How the connectors join: made fittings where each enters a tee or wye, else as looked at."""
    told = _look(view, "made_fittings")
    if told is False or view.shared is None:
        return told
    pieces = view.shared.trunk.placed
    for one in view.shared.joined:
        way = one.path.enters.way if one.path.enters else None
        if one.enters >= len(pieces):
            return told
        if way == "through" and one.enters == 0:
            continue
        if pieces[one.enters].piece.part not in JUNCTIONS:
            return told
    return True if pieces else told


def _look(view: View, name: str) -> FactValue:
    """What was looked at where a vent is shared."""
    found = view.path.vent.shared_flue
    if not isinstance(found, SharedFlue):
        return Unknown(NOT_RECORDED) if found is None else seen(found)
    return seen(getattr(found, name))


def _side_entries(found: Shared) -> list[Joined]:
    """The connectors that come in through an opening, not straight from below."""
    return [j for j in found.joined if not (j.path.enters and j.path.enters.way == "through")]


def _openings_count(view: View) -> FactValue:
    """How many connectors come into the vertical part through openings of their own."""
    if view.shared is None:
        return Unknown(NOT_COMMON) if _alone_told(view) is not True else _number(1)
    if shared_geometry.manifold(view.shared):
        return _number(1)
    return _number(len(view.shared.joined))


def _number(value: int) -> Measured:
    return Measured(float(value), Dimension.COUNT)


def _alone_told(view: View) -> bool | None:
    return True if seen(view.path.vent.shares_with) is ABSENT else None


def _same_level(view: View) -> FactValue:
    """Whether two openings lie at one level, from where the connectors enter, else as seen."""
    told = _look(view, "same_level")
    if not isinstance(told, Unknown) or view.shared is None:
        return told
    if any(one.path.enters is None or one.path.enters.at is None for one in view.shared.joined):
        return Unknown("where each connector enters is not recorded")
    at = [one.enters for one in _side_entries(view.shared)]
    return len(set(at)) < len(at)


def _smaller_higher(view: View) -> FactValue:
    """Whether no larger connector enters above a smaller one."""
    told = _look(view, "smaller_enters_higher")
    if not isinstance(told, Unknown) or view.shared is None:
        return told
    placed: list[tuple[int, int, Measured]] = []
    for one in view.shared.joined:
        enters = one.path.enters
        bore = shared_geometry.end_bore(one)
        if enters is None or enters.at is None or enters.way is None:
            return Unknown("where and how each connector enters is not recorded")
        if isinstance(bore, NotMeasured):
            return Unknown(f"{bore.reason} not recorded")
        placed.append((one.enters, 0 if enters.way == "through" else 1, bore))
    pairs = [(a, b) for a in placed for b in placed if a[2].high < b[2].low]
    return all(small[:2] >= big[:2] for small, big in pairs)


def _fitting(view: View, name: str, alike: Callable[[Shared, int], bool | None]) -> FactValue:
    """Whether every tee and wye of the vent is as the vent is; else as looked at."""
    told = _look(view, name)
    if not isinstance(told, Unknown) or view.shared is None:
        return told
    at = [i for i, p in enumerate(view.shared.trunk.placed) if p.piece.part in JUNCTIONS]
    answers = [alike(view.shared, i) for i in at]
    if not answers or None in answers:
        return Unknown("the tees and their neighbors are not all described")
    return all(answers)


def _same_bore(found: Shared, at: int) -> bool | None:
    """Whether a tee is as wide as the piece after it."""
    pieces = found.trunk.placed
    if at + 1 >= len(pieces) or pieces[at + 1].piece.part == "cap":
        return None
    own, after = pieces[at].piece.diameter, pieces[at + 1].piece.diameter
    if not isinstance(own, Measured) or not isinstance(after, Measured):
        return None
    return own.high >= after.low


def _same_wall(found: Shared, at: int) -> bool | None:
    pieces = found.trunk.placed
    if at + 1 >= len(pieces) or pieces[at + 1].piece.part == "cap":
        return None
    own, after = pieces[at].piece.wall, pieces[at + 1].piece.wall
    known = isinstance(own, str) and isinstance(after, str)
    return own == after if known else None


def _several_floors(view: View) -> FactValue:
    """As looked at; appliances in one space stand on one floor."""
    told = _look(view, "several_floors")
    if not isinstance(told, Unknown) or view.shared is None:
        return told
    spaces = {view.survey.appliances[one.name].space for one in view.shared.joined}
    return False if len(spaces) == 1 and None not in spaces else told


def _has_manifold(view: View) -> FactValue:
    """Whether connectors join ahead of the vertical part."""
    if view.shared is None:
        return Unknown(NOT_COMMON) if _alone_told(view) is not True else False
    if not view.shared.trunk.placed:
        return Unknown("no piece of the common vent is described")
    first = view.shared.trunk.placed[0]
    if first.is_level is None:
        return Unknown(f"direction of {first.piece.id} not recorded")
    return bool(shared_geometry.manifold(view.shared))


def _manifold_area(view: View) -> FactValue:
    if view.shared is None:
        return Unknown(NOT_COMMON)
    parts = shared_geometry.manifold(view.shared)
    bores = [item.piece.diameter for item in parts]
    if not bores:
        return ABSENT if view.shared.trunk.placed else Unknown("no piece is described")
    known = [bore for bore in bores if isinstance(bore, Measured)]
    if len(known) < len(bores):
        return Unknown("diameter of the manifold not recorded")
    return bore_area(smaller(*known))


def _outlets_area_sum(view: View) -> FactValue:
    """Area of all outlets of an appliance that has several of one size."""
    outlet, count = seen(view.appliance.outlet_diameter), seen(view.appliance.outlet_count)
    if not isinstance(outlet, Measured) or not isinstance(count, Measured):
        return Unknown("size and number of the outlets are not both recorded")
    area = bore_area(outlet)
    return Measured(area.value * count.value, Dimension.AREA, area.tolerance * count.value)


def _offset_count(view: View) -> FactValue:
    """How many offsets the vertical part has: runs that leave the vertical."""
    if view.shared is None:
        return Unknown(NOT_COMMON)
    parts = [
        item
        for item in shared_geometry.after_manifold(view.shared)
        if item.piece.part not in ("cap", "elbow")
    ]
    if not parts:
        return Unknown("no piece of the common vent is described")
    if any(isinstance(item.horizontal, NotMeasured) for item in parts):
        return Unknown("sideways length of the common vent not recorded")
    count, inside = 0, False
    for item in parts:
        aside = isinstance(item.horizontal, Measured) and item.horizontal.high > 1e-6
        count, inside = count + (aside and not inside), aside
    return _number(count)


def _vent(name: str) -> Callable[[View], FactValue]:
    return lambda view: _look(view, name)


def _is(count: FactValue, number: int) -> FactValue:
    return abs(count.value - number) < 0.5 if isinstance(count, Measured) else count


def _from(count: FactValue, number: int) -> FactValue:
    return count.value > number - 0.5 if isinstance(count, Measured) else count


# fmt: off
FACTS = table(
    ("two_appliances_on_vent", "whether two appliances use this vent", "trace every connector; write each appliance with its path", lambda v: _is(_count(v), 2)),
    ("common_height", "height of the common vent above the highest outlet", "tape each rise from the highest outlet to the lowest opening of the cap", lambda v: _of_common(v, lambda c: same_length(shared_geometry.common_height(c)))),
    ("connector_rise", "rise of the connector to where the gases meet", "tape, outlet to the center line of the tee or wye", _rise),
    ("connector_elbow_angles", "elbows of the connector", "count every change of direction and its angle", lambda v: _connector_elbows(v)),
    ("common_input", "input of all appliances on the vent", "read every data plate", _total_input),
    ("common_burners", "burner kinds on the common vent", "look at every appliance: hood, or fan and no hood", _kinds),
    ("common_connector_materials", "wall kind of every connector on the common vent", "read the stamp or look at a cut end of each piece", _connector_kinds),
    ("common_elbows", "elbows of the common vent", "count every change of direction and its angle", _elbows),
    ("common_offset_length", "level length of the offsets of the common vent", "tape every sideways shift of the common vent", lambda v: _of_common(v, lambda c: same_length(shared_geometry.offset_length(c)))),
    ("offset_present", "whether the common vent has an offset", "look", lambda v: _from(_offset_count(v), 1)),
    ("offset_count", "number of offsets in the common vent", "look", _offset_count),
    ("manifold_present", "whether connectors join ahead of the vertical vent", "look", _has_manifold),
    ("manifold_length", "level length of the manifold", "tape from the first junction to the vertical vent", lambda v: _of_common(v, lambda c: same_length(shared_geometry.manifold_length(c)))),
    ("manifold_area", "clear area of the manifold", "read its size mark", _manifold_area),
    ("manifold_area_needed", "area of the larger connector and half the smaller outlets", "read every size mark and outlet", _manifold_needed),
    ("outlets_area_needed", "area of the larger outlet and half the smaller ones", "measure every outlet, inside", _outlets_needed),
    ("outlets_area_sum", "area of all outlets of the appliance", "count and measure its outlets", _outlets_area_sum),
    ("several_outlets", "whether the appliance has several outlets", "look", lambda v: _from(seen(v.appliance.outlet_count), 2)),
    ("common_min_area", "clear area of the vent at its narrowest", "read the stamp of every section, or measure the flue", lambda v: _area_of(v, "min")),
    ("common_max_area", "clear area of the vent at its widest", "read the stamp of every section, or measure the flue", lambda v: _area_of(v, "max")),
    ("largest_connector", "largest connector on the common vent", "read the size mark of every connector where it enters", lambda v: _of_common(v, lambda c: _bore(c, larger))),
    ("smallest_outlet", "smallest outlet of the appliances", "measure every outlet, inside", lambda v: _outlet(v, smaller)),
    ("largest_connector_area", "clear area of the largest connector", "read the size mark of every connector where it enters", lambda v: _area(_of_common(v, lambda c: _bore(c, larger)))),
    ("smallest_outlet_area", "clear area of the smallest outlet", "measure every outlet, inside", lambda v: _area(_outlet(v, smaller))),
    ("several_connectors_into_vent", "whether several connectors enter the vertical vent", "look", lambda v: _from(_openings_count(v), 2)),
    ("connector_openings_same_level", "whether two openings lie at one level", "look; tape from the floor", _same_level),
    ("connector_entry_angle", "angle of entry from vertical", "angle gauge on the entering connector", _vent("entry_angle")),
    ("smaller_connector_enters_higher", "whether the smaller connector enters above the larger", "look", _smaller_higher),
    ("smaller_entry_limited_by_headroom", "whether headroom or clearance left no higher place", "look", _vent("no_headroom_higher")),
    ("connector_junction_made", "whether connectors join in made tees or wyes", "look for a made fitting, not a hole cut in the pipe", _junctions),
    ("tee_opening_equal_common", "whether tees and wyes are as wide as the common vent", "read their size marks", lambda v: _fitting(v, "fittings_full_size", _same_bore)),
    ("tee_material_same", "whether tees and wyes are of the kind of the common vent", "read their stamps", lambda v: _fitting(v, "fittings_same_kind", _same_wall)),
    ("manifold_high", "whether the manifold lies as high as headroom and clearance allow", "look", _vent("manifold_high")),
    ("appliances_on_several_floors", "whether the appliances stand on more than one floor", "look; a basement, attic or crawl space is a floor", _several_floors),
    ("multistory_engineered", "design of the vent through several floors", "ask for the design", _vent("floors_engineered")),
    ("multistory_rooms_separated", "whether the appliance rooms are shut off from living space", "look; their air must not come from living space", _vent("rooms_separated")),
    ("vent_reduced_above_offset", "whether the vent gets smaller above the offset", "read the stamps", _vent("reduced_above_offset")),
    ("oil_gas_single_fitting_close", "one fitting for oil and gas, close to the chimney", "look", _vent("one_fitting_close")),
    ("gas_safety_shutoff_present", "automatic gas shutoff of the appliance", "look for a thermocouple, flame rod or listed gas control", "appliance.safety_shutoff"),
    ("combination_solid_fuel_appliance", "whether the appliance burns gas and solid fuel", "read the plate; look", "appliance.burns_solid_fuel_too"),
    ("manual_reset_spill_shutoff", "spill device that must be reset by hand", "look", "appliance.spill_device_manual_reset"),
    ("smooth_connector_interior", "whether the connector is smooth inside", "look inside", "path.connector.smooth_inside"),
)
# fmt: on
