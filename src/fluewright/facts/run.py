"""Facts of the connector and the vent, piece by piece and as a whole."""

from __future__ import annotations

from fluewright import geometry
from fluewright.direction import hides_bends, says_two_things
from fluewright.facts.base import NOT_RECORDED, FactValue, Unknown, View, same_length, seen, table
from fluewright.facts.joint import UNSEEN, blocked, holes, joint_fact, parted, places
from fluewright.joining import former_members, members
from fluewright.quantity import Dimension, Measured, NotMeasured, larger, smaller
from fluewright.survey import ABSENT, Clearance, Piece, Shield

METALS = ("galvanized", "aluminum", "stainless")


def connector_material(piece: Piece) -> str:
    """Material word of a connector piece; ``?`` where nobody could tell."""
    if piece.wall is None or isinstance(piece.wall, NotMeasured):
        return UNSEEN
    if piece.wall == "single":
        return f"single_wall_{piece.metal}" if piece.metal in METALS else "single_wall"
    return str(piece.wall)


def vent_material(piece: Piece) -> str:
    """Material word of a vent piece; ``?`` where nobody could tell."""
    if piece.wall is None or isinstance(piece.wall, NotMeasured):
        return UNSEEN
    return "single_wall" if piece.wall == "single" else str(piece.wall)


def _starts_on_outlet(view: View, role: str) -> bool:
    """Whether a connector was looked for and there is none: the vent starts on the outlet."""
    direct = view.path.connector.attached_directly is True
    return role == "connector" and direct and bool(view.trace.of_role("vent"))


def _materials(view: View, role: str) -> FactValue:
    parts = view.trace.of_role(role)
    if not parts and _starts_on_outlet(view, role):
        return ()
    if not parts:
        return Unknown(f"no piece of the {role} is described")
    word = connector_material if role == "connector" else vent_material
    return tuple(word(p.piece) for p in parts)


def _spaces(view: View, role: str) -> FactValue:
    parts = view.trace.of_role(role)
    if not parts and _starts_on_outlet(view, role):
        return ()
    if not parts:
        return Unknown(f"no piece of the {role} is described")
    kinds: list[str] = []
    for item in parts:
        name = item.piece.space
        space = view.survey.spaces.get(name) if name else None
        kinds.extend((UNSEEN,) if space is None else _space_words(space.kind, space.conditioned))
    return tuple(kinds)


INDOORS = ("room", "closet", "bedroom", "bathroom", "garage", "basement", "porch")


def _space_words(kind: str, conditioned: object) -> tuple[str, ...]:
    """A space by its kind, and for rooms whether it is heated or cooled for people.

    A room that nobody told about is a room, and perhaps unconditioned.
    """
    if kind not in INDOORS:
        return (kind,)
    if conditioned is True:
        return ("room", "conditioned")
    return ("room", "unconditioned" if conditioned is False else f"unconditioned{UNSEEN}")


def _extreme_bore(view: View, role: str, pick: object) -> FactValue:
    bores: list[Measured] = []
    for item in view.trace.of_role(role):
        piece = item.piece
        if not isinstance(piece.diameter, Measured):
            return Unknown(f"diameter of {piece.id} not recorded")
        bores.append(piece.diameter)
        if piece.part == "reducer":
            if not isinstance(piece.to_diameter, Measured):
                return Unknown(f"far diameter of {piece.id} not recorded")
            bores.append(piece.to_diameter)
    if not bores:
        return Unknown(f"no piece of the {role} is described")
    return smaller(*bores) if pick is min else larger(*bores)


def _size_change(view: View) -> FactValue:
    """Where the connector becomes larger: all of it at the outlet, or some of it later."""
    outlet = view.appliance.outlet_diameter
    parts = view.trace.of_role("connector")
    if not isinstance(outlet, Measured) or not parts:
        return Unknown("outlet or connector sizes not recorded")
    first = parts[0].piece
    start = first.to_diameter if first.part == "reducer" else first.diameter
    if not isinstance(start, Measured):
        return Unknown(f"diameter of {first.id} not recorded")
    widest = _extreme_bore(view, "connector", max)
    if not isinstance(widest, Measured):
        return widest
    at_once = start.value > outlet.value + 1e-6 and widest.value <= start.value + 1e-6
    return "at_draft_hood" if at_once else "downstream"


def _level(view: View) -> FactValue:
    if view.placed is None:
        return Unknown(NOT_RECORDED)
    if view.placed.piece.part == "elbow":
        return False
    level = view.placed.is_level
    return Unknown("direction not recorded") if level is None else level


def _runs_down(view: View) -> FactValue:
    if view.placed is None:
        return Unknown(NOT_RECORDED)
    falls = view.placed.runs_down
    # Where only its rise over run is not known either, the slope is asked for, once.
    return False if falls is None else falls


def _any_level(view: View) -> FactValue:
    parts = view.trace.of_role("connector")
    if not parts and _starts_on_outlet(view, "connector"):
        return False
    levels = [p.is_level for p in parts]
    if any(level is True for level in levels):
        return True
    if not parts or None in levels:
        return Unknown("direction of every connector piece is not recorded")
    return False


def _slope(view: View) -> FactValue:
    """Slope of a level piece: as read, else rise over horizontal of a run that states both."""
    item = view.placed
    if item is None:
        return Unknown(NOT_RECORDED)
    piece = item.piece
    if says_two_things(piece):
        return Unknown("what is said of its direction cannot all be true")
    if item.runs_down:
        return Unknown("it falls: a slope does not describe it")
    if piece.slope is not None:
        return seen(piece.slope)
    if hides_bends(piece):
        return Unknown("a run with elbows hides its slope: read it on each level piece")
    if isinstance(item.rise, Measured) and isinstance(item.horizontal, Measured):
        return _over(item.rise, item.horizontal)
    if piece.tilt is not None:
        return Unknown("slope not recorded")
    return Unknown(NOT_RECORDED)


def _over(rise: Measured, run: Measured) -> FactValue:
    if run.low <= 0:
        return Unknown("horizontal length is smaller than its tolerance")
    corners = [r / h for r in (rise.low, rise.high) for h in (run.low, run.high)]
    low, high = min(corners), max(corners)
    return Measured((low + high) / 2, Dimension.SLOPE, (high - low) / 2, rise.tool, rise.evidence)


def _clearance(view: View) -> Clearance | None:
    item = view.placed
    if item is None or not isinstance(item.piece.clearance, Clearance):
        return None
    return item.piece.clearance


def _clearance_distance(view: View) -> FactValue:
    if view.placed is None:
        return Unknown(NOT_RECORDED)
    found = _clearance(view)
    return seen(view.placed.piece.clearance) if found is None else seen(found.distance)


def _shield(view: View, name: str) -> FactValue:
    """A property of the shield; ABSENT when there is no shield, or nothing to shield."""
    if view.placed is None:
        return Unknown(NOT_RECORDED)
    found = _clearance(view)
    if found is None:
        return seen(view.placed.piece.clearance)
    if not isinstance(found.shield, Shield):
        return seen(found.shield)
    return seen(getattr(found.shield, name))


def _column(view: View) -> FactValue:
    """Column of the reduction table: vertical pipe counts as side, level pipe as above."""
    if view.placed is None or view.placed.piece.part == "elbow":
        return "above"  # an elbow is beside and below at once: the larger figure
    level = view.placed.is_level
    if level is None:
        return Unknown("direction of the piece not recorded")
    return "above" if level else "side"


def _connector_untold(view: View) -> bool:
    """Whether a path joins a common vent with no piece of its own, and nobody says it starts so."""
    own = view.trace.of_role("connector")
    return bool(view.path.joins) and not own and view.path.connector.attached_directly is not True


def _connector_present(view: View) -> FactValue:
    if view.trace.of_role("connector"):
        return True
    if _connector_untold(view):
        return Unknown("no piece of the connector is described")
    return False if view.trace.placed else Unknown("no piece of the path is described")


def _elbows(view: View, role: str | None) -> FactValue:
    if role != "vent" and _connector_untold(view):
        return Unknown("no piece of the connector is described")
    angles = geometry.elbow_angles(view.trace, role)
    if isinstance(angles, NotMeasured):
        return Unknown(angles.reason + " not recorded")
    return tuple(f"{a:g}" for a in angles)


def _steep_offsets(view: View) -> FactValue:
    """How many vent offsets lie more than 45 degrees from vertical."""
    return _count_over(view, 45.0)


def _too_steep_offsets(view: View) -> FactValue:
    return _count_over(view, 60.0)


def _count_over(view: View, bound: float) -> FactValue:
    angles = geometry.offset_angles(view.trace)
    if isinstance(angles, NotMeasured):
        return Unknown(angles.reason + " not recorded")
    sure = sum(a.low > bound + 1e-9 for a in angles)
    may = sum(a.high > bound + 1e-9 for a in angles)
    return Measured((sure + may) / 2, Dimension.COUNT, (may - sure) / 2)


def _straight_up(view: View) -> FactValue:
    """Whether connector and vent are one straight vertical from a top outlet."""
    elbows = _elbows(view, None)
    if isinstance(elbows, Unknown):
        return elbows
    top = seen(view.appliance.outlet_on_top)
    if elbows != () or top is False:
        return False
    return True if top is True else Unknown("whether the outlet is on top is not recorded")


def _sharing(view: View) -> FactValue:
    """What else burns into this vent: as told, and every other appliance that joins it."""
    told = seen(view.path.vent.shares_with)
    others = len(members(view.survey, view.common)) - 1 if view.common else 0
    if others < 1 or isinstance(told, Unknown):
        return told
    words = told if isinstance(told, tuple) else ()
    return tuple(dict.fromkeys((*words, "gas")))


NO_PIECE_OF_OTHERS = "no piece of the others that join it is described: see whether they are there"


def _alone(view: View) -> FactValue:
    """Whether no other appliance uses this vent.

    A common vent that one path alone joins is that of one appliance only where the others are
    told to be gone; else somebody is missing from the survey. One that joins it with no piece
    described may be gone without anybody having said so.
    """
    if view.common:
        joined = members(view.survey, view.common)
        if sum(bool(path.pieces) for path in joined) > 1:
            return False
        if len(joined) > 1:
            return Unknown(NO_PIECE_OF_OTHERS)
        if not former_members(view.survey, view.common):
            return Unknown("a common vent, and one path alone is said to join it")
    shared = seen(view.path.vent.shares_with)
    if shared is ABSENT:
        return True
    return shared if isinstance(shared, Unknown) else False


def _sizing(view: View) -> FactValue:
    return seen(view.path.vent.sizing)


C, V, P = "path.connector.", "path.vent.", "placed.piece."
# fmt: off
FACTS = table(
    ("connector_materials", "wall kind of every connector piece", "read the stamp or look at a cut end of each piece", lambda v: _materials(v, "connector")),
    ("vent_material", "wall kind of every vent piece", "read the stamp on each section; look for two walls at a joint", lambda v: _materials(v, "vent")),
    ("connector_path_spaces", "spaces the connector lies in", "trace the connector through every space", lambda v: _spaces(v, "connector")),
    ("vent_path_spaces", "spaces the vent lies in", "trace the vent through every space", lambda v: _spaces(v, "vent")),
    ("connector_present", "connector", "look", _connector_present),
    ("vent_attached_directly", "whether the vent starts on the outlet itself", "look", C + "attached_directly"),
    ("connector_min_diameter", "smallest inside diameter of the connector", "read the size mark of every piece; never the outside girth of double wall", lambda v: _extreme_bore(v, "connector", min)),
    ("connector_max_diameter", "largest inside diameter of the connector", "read the size mark of every piece", lambda v: _extreme_bore(v, "connector", max)),
    ("vent_min_diameter", "smallest inside diameter of the vent", "read the stamp of every section", lambda v: _extreme_bore(v, "vent", min)),
    ("vent_max_diameter", "largest inside diameter of the vent", "read the stamp of every section", lambda v: _extreme_bore(v, "vent", max)),
    ("connector_size_change", "where the connector gets larger", "look", _size_change),
    ("connector_has_level_run", "whether the connector has a level run", "look", _any_level),
    ("piece_is_level", "direction of the piece", "look: up, or level", _level),
    ("piece_runs_down", "whether the piece runs downward", "look", _runs_down),
    ("piece_slope", "slope of the piece", "digital level on the pipe, or rise over run by tape", _slope),
    ("connector_has_dip", "dips or sags in the connector", "sight along the run; level each section", C + "dips"),
    ("connector_horizontal", "horizontal length of the connector", "tape along the center line, every level piece added up", lambda v: same_length(geometry.connector_horizontal(v.trace))),
    ("connector_first_rise", "rise before the first elbow", "tape from the hood outlet to the first elbow", lambda v: same_length(geometry.first_rise(v.trace))),
    ("vent_height", "height from the hood outlet to the cap opening", "tape each rise, hood outlet to the lowest opening of the cap", lambda v: same_length(geometry.vent_height(v.trace))),
    ("vent_height_above_connector", "height of the vent above the connector entry", "tape from the connector entry to the lowest opening of the cap", lambda v: same_length(geometry.height_above_connector(v.trace))),
    ("vent_lateral", "sideways length of connector and vent", "tape every sideways shift along the center line", lambda v: same_length(geometry.lateral(v.trace))),
    ("vent_horizontal_total", "horizontal length of connector and steep vent offsets", "tape every run more than 45 degrees from vertical", lambda v: same_length(geometry.horizontal_for_75_percent(v.trace))),
    ("elbows", "elbows of connector and vent", "count every change of direction and its angle", lambda v: _elbows(v, None)),
    ("straight_up", "whether the vent goes straight up from a top outlet", "look", _straight_up),
    ("offsets_over_45", "vent offsets more than 45 degrees from vertical", "angle gauge on each offset", _steep_offsets),
    ("offsets_over_60", "vent offsets more than 60 degrees from vertical", "angle gauge on each offset", _too_steep_offsets),
    ("piece_material", "wall kind of the piece", "read the stamp or look at a cut end", lambda v: _piece_word(v, connector_material)),
    ("vent_piece_material", "wall kind of the section", "read the stamp; look for two walls at a joint", lambda v: _piece_word(v, vent_material)),
    ("piece_metal", "metal of the pipe", "magnet and look", P + "metal"),
    ("piece_thickness", "sheet thickness of the pipe", "micrometer or gauge plate at a cut end", P + "thickness"),
    ("piece_clearance", "distance to the nearest thing that can burn", "tape, pipe surface to wood, paper or sheathing, shield ignored", _clearance_distance),
    ("piece_listed_clearance", "clearance printed on the pipe or in its instructions", "read the stamp and instructions; none when both are silent", P + "listed_clearance"),
    ("protection_form", "shield between pipe and combustible surface", "look how the shield is made; none when there is none", lambda v: _shield(v, "form")),
    ("protection_column", "whether the piece is level or upright", "look", _column),
    ("protection_air_gap", "air gap behind the shield", "tape between shield and wall", lambda v: _shield(v, "gap_behind")),
    ("shield_to_pipe_gap", "gap between shield and pipe", "tape", lambda v: _shield(v, "gap_to_pipe")),
    ("protection_edges_open", "open edges of the shield", "look: bottom and top, or side and top, or all round", lambda v: _shield(v, "edges_open")),
    ("protection_spacers_ok", "spacers of the shield", "look: noncombustible and not right opposite the pipe", lambda v: _shield(v, "spacers_clear")),
    ("protection_extent_ok", "how far the shield reaches", "tape from its edge: bare wood must be the full distance away", lambda v: _shield(v, "reaches_far_enough")),
    ("shield_blocks_air_or_service", "whether the shield blocks air, hood or service", "look", lambda v: _shield(v, "blocks_air_or_service")),
    ("protection_insulation_density", "density of the wool", "product data", lambda v: _shield(v, "wool_density")),
    ("protection_insulation_melt", "melting point of the wool", "product data", lambda v: _shield(v, "wool_melting_point")),
    ("protection_insulation_k", "conductivity of the insulation", "product data", lambda v: _shield(v, "conductivity")),
    ("joint_fastening", "how the joint is held", "look at the joint and move it gently, pipe cold", lambda v: joint_fact(v, "fastening")),
    ("joint_screws", "screws in the joint", "count the screw heads", lambda v: joint_fact(v, "screws")),
    ("joint_male_end", "which way the crimped end points", "look", lambda v: joint_fact(v, "male_end")),
    ("joint_tape", "tape on the joint", "look", lambda v: joint_fact(v, "tape")),
    ("joint_means_approved", "whether the authority accepts this fastening", "ask the authority", lambda v: joint_fact(v, "approved")),
    ("corrosion_holes", "holes or rust-through", "look and press lightly with a probe at every piece", lambda v: places(v, holes)),
    ("vent_disconnected", "open joints", "look at every joint, hood joint included", lambda v: places(v, parted)),
    ("vent_blocked_or_crushed", "blockage or crushing", "camera or mirror; compare the shape of the sections", blocked),
    ("connector_supported", "support of the connector", "push lightly; look for hangers", C + "supported"),
    ("connector_support_spacing", "distance between hangers", "tape", C + "support_spacing"),
    ("manual_support_spacing", "hanger spacing in the instructions", "read; none when silent", C + "manual_spacing"),
    ("manual_first_rise", "first rise that the instructions ask", "read; none when silent", C + "manual_first_rise"),
    ("connector_accessible", "reach of the whole connector", "see whether every part can be seen and taken off without opening the building", C + "accessible"),
    ("connector_site_insulated", "wrap added to the connector", "look; old wrap may hold asbestos: do not touch", C + "wrapped"),
    ("manual_damper_present", "manual damper in the connector", "look for a handle or shaft through the pipe", C + "manual_damper"),
    ("auto_damper", "automatic vent damper", "look", C + "automatic_damper"),
    ("auto_damper_listed", "listing of the damper", "read its mark", C + "automatic_damper.listed"),
    ("auto_damper_per_instructions", "whether the damper is fitted as instructed", "compare with the instructions", C + "automatic_damper.per_instructions"),
    ("connector_listed_equal_insulation", "whether the connector is listed as equal to Type B", "read mark and instructions", C + "equal_insulation_listed"),
    ("connector_passes", "what the connector passes through", "trace it", C + "passes"),
    ("exterior_wall_combustible", "whether the outside wall can burn", "look at the wall build-up", C + "wall_combustible"),
    ("wall_cut_back", "whether the wall is cut back and closed noncombustibly", "look", C + "wall_cut_back"),
    ("connector_wall_sealed", "seal around the connector in the outside wall", "look", C + "wall_gap_sealed"),
    ("connector_thimble", "thimble in the wall", "look", C + "thimble"),
    ("connector_thimble_diameter", "inside diameter of the thimble", "tape", C + "thimble.diameter"),
    ("connector_thimble_ventilated", "whether air can move through the thimble", "look", C + "thimble.ventilated"),
    ("run_to_thimble", "length of connector in the room before the thimble", "tape along the pipe", C + "run_to_thimble"),
    ("non_round", "pipe that is not round", "look; none when all is round", C + "non_round"),
    ("non_round_narrowest", "narrowest inside width of the flat pipe", "tape", C + "non_round.narrowest"),
    ("non_round_area", "inside area of the flat pipe", "measure", C + "non_round.area"),
    ("non_round_replaces", "round size it stands for", "read the sizing", C + "non_round.replaces"),
    ("vent_listing_mark", "listing mark on the vent sections", "look on sections and cap", V + "mark"),
    ("vent_instructions_followed", "whether the vent is put together as its instructions say", "compare with the maker's instructions", V + "instructions_followed"),
    ("vent_brands_mixed", "whether sections of different systems are mixed", "compare stamps and locks", V + "makes_mixed"),
    ("listed_adapter_between_makes", "listed adapter between systems", "read its mark", V + "listed_adapter"),
    ("pipe_other_material_approved", "approval of another vent material", "ask for the written approval", V + "material_approved"),
    ("vent_passes", "what the vent passes through", "trace it", V + "passes"),
    ("firestop_present", "firestop spacers", "look at each floor and ceiling opening", V + "firestops"),
    ("insulation_shield", "whether the vent passes insulation, and its shield", "look in the attic; none when no insulation is near", V + "insulation_shield"),
    ("insulation_shield_present", "insulation shield", "look in the attic around the vent", V + "insulation_shield.present"),
    ("insulation_shield_above", "shield above the insulation", "tape from insulation top to shield top", V + "insulation_shield.above_insulation"),
    ("notched_framing", "vent hidden in bored or notched framing", "look; none when it is not", V + "notched_framing"),
    ("vent_to_member_edge", "distance from vent to the face of the framing", "tape", V + "notched_framing.to_edge"),
    ("shield_plate_present", "steel shield plates", "look", V + "notched_framing.plates"),
    ("vent_through_flashing", "whether the pipe itself goes through the flashing", "look on the roof and from the attic", V + "through_flashing"),
    ("flashing_weathertight", "tightness of the flashing", "look on the roof, and for stains below", V + "flashing_tight"),
    ("storm_collar_present", "storm collar", "look on the roof", V + "storm_collar"),
    ("vent_supported", "support of the vent", "look for the support plate, straps, guys", V + "supported"),
    ("vent_braced", "bracing above the roof", "look", V + "braced"),
    ("fastener_through_inner_wall", "screws through the inner wall", "look at the joints; none when there are none", V + "screws_through_inner_wall"),
    ("vent_in_air_duct", "whether the vent lies in an air duct or plenum", "trace it", V + "in_air_duct"),
    ("vent_exposed_below_roofline", "whether the vent runs outdoors below the roof", "look", V + "exposed_below_roof"),
    ("chase", "chase round the vent", "look; none when there is none", V + "chase"),
    ("chase_unventilated", "whether the chase is unventilated", "look", V + "chase.unventilated"),
    ("chase_r_value", "insulation of the chase", "kind and thickness of the insulation", V + "chase.insulation"),
    ("vent_outdoor_insulated", "insulation of the outdoor pipe", "look", V + "outdoor_insulated"),
    ("vent_engineered", "engineering design on file", "ask for the design", V + "engineered"),
    ("screened_space", "fine screen round the outlet", "look; none when there is none", V + "screened_space"),
    ("screen_mesh", "mesh of the screen", "tape", V + "screened_space.mesh"),
    ("gas_vent_label_present", "gas-only label at the connector entry", "look", V + "gas_only_label"),
    ("asbestos_assessed", "assessment of the old cement pipe", "ask for the written assessment", V + "asbestos_assessed"),
    ("device_in_flue", "devices in the gas way", "look inside with a camera; none when there are none", V + "devices"),
    ("flue_shared_with", "what else uses this vent or flue", "trace from top and bottom; none when nothing does", _sharing),
    ("vent_serves_one", "what else uses this vent or flue", "trace from top and bottom; none when nothing does", _alone),
    ("fireplace_opening_sealed", "seal of the fireplace opening", "look for a fixed noncombustible seal", V + "fireplace_sealed"),
    ("appliance_listed_for_fireplace_flue", "listing for a factory-built fireplace flue", "read listing and instructions", V + "listed_for_fireplace_flue"),
    ("dryer_or_fan_exhaust_into_vent", "dryer or fan exhaust into the vent", "trace dryer and fan ducts", V + "exhaust_joins"),
    ("positive_pressure_vent", "whether that part of the vent is under pressure", "look for a fan ahead of it or a Category III or IV appliance on it", V + "positive_pressure"),
    ("mech_draft_present", "fan in the vent", "look", V + "draft_fan"),
    ("sizing_method", "sizing method", "ask the installer, or choose", _sizing),
    ("sizing_document_on_file", "sizing calculation on paper", "ask for it", V + "sizing_document"),
    ("vent_wall_sealed", "seal around the vent in the outside wall", "look", V + "wall_gap_sealed"),
    ("roof_thimble", "thimble in the roof", "look", V + "thimble"),
    ("roof_thimble_above", "thimble above the roof", "tape", V + "thimble.above_roof"),
    ("roof_thimble_below", "thimble below the roof", "tape", V + "thimble.below_roof"),
    ("roof_thimble_ventilated", "whether the roof thimble is ventilated", "look", V + "thimble.ventilated"),
    ("roof_thimble_diameter", "inside diameter of the roof thimble", "tape", V + "thimble.diameter"),
)
# fmt: on


def _piece_word(view: View, word: object) -> FactValue:
    if view.placed is None or not callable(word):
        return Unknown(NOT_RECORDED)
    found = str(word(view.placed.piece))
    return Unknown(NOT_RECORDED) if found == UNSEEN else found
