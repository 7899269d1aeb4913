"""Facts of the place where the vent ends: roof, cap, walls, intakes."""

from __future__ import annotations

from fluewright.facts.base import NOT_RECORDED, FactValue, Getter, Unknown, View, seen, table
from fluewright.geometry import between, metres
from fluewright.quantity import Measured, NotMeasured, smaller
from fluewright.survey import ABSENT, Absent, Near, Piece

# A slope or an eave alone is not a wall: these stand up from the roof surface.
UPRIGHT = ("wall", "parapet", "dormer", "chimney", "neighbor_wall", "equipment")
ENDS = {
    "above_roof": "above_roof",
    "at_wall": "at_wall",
    "under_eave": "under_eave",
    "under_parapet": "under_parapet_level",
}
CIRCLE_M = 10 * 0.3048  # radius of the "within 10 ft" clause, the same in every edition here


def _cap(view: View) -> Piece | None:
    return view.trace.cap


def _cap_present(view: View) -> FactValue:
    """A path whose pieces end without a cap says nothing: an absent cap is said outright."""
    said = view.path.vent.cap
    if _cap(view) is None:
        missing = Unknown(
            "no cap is listed as the last piece; write vent: {cap: no} if it has none"
        )
        return said if said is False else missing
    return Unknown("it is listed, and said not to be there") if said is False else True


def _of_cap(name: str) -> Getter:
    def get(view: View) -> FactValue:
        cap = _cap(view)
        if cap is None and view.path.vent.cap is False:
            return ABSENT
        return Unknown(NOT_RECORDED) if cap is None else seen(getattr(cap, name))

    return get


def _shroud(view: View) -> FactValue:
    cap = _cap(view)
    if cap is None and view.path.vent.cap is False:
        return ABSENT
    return Unknown(NOT_RECORDED) if cap is None else seen(cap.shroud)


def _nearest_wall(view: View) -> FactValue:
    """Horizontal distance to the nearest upright thing; ABSENT where there is none."""
    near = view.path.roof.near
    if not isinstance(near, tuple):
        return seen(near)
    found: list[Measured] = []
    for thing in near:
        if thing.kind not in UPRIGHT:
            continue
        if not isinstance(thing.horizontal, Measured):
            return Unknown(f"distance to the {thing.kind} not recorded")
        found.append(thing.horizontal)
    return smaller(*found) if found else ABSENT


def _above_building(view: View) -> FactValue:
    """Height of the outlet above the highest part of a building within 10 ft.

    The roof surface uphill counts: up to the ridge, or up to 10 ft away where the ridge is
    further; where the ridge is not recorded it may be anywhere in between.
    """
    roof = view.path.roof
    outlet = roof.cap_above_penetration
    if not isinstance(outlet, Measured):
        return seen(outlet)
    if not isinstance(roof.near, tuple | Absent):
        return seen(roof.near)
    slope_top = _slope_top(view)
    if isinstance(slope_top, Unknown):
        return slope_top
    tops = [slope_top]
    for thing in roof.near if isinstance(roof.near, tuple) else ():
        top = _top_of(thing)
        if isinstance(top, Unknown):
            return top
        tops.append(top)
    high = max(t.high for t in tops)
    low = max(t.low for t in tops)
    return between(outlet.low - high, outlet.high - low, outlet)


def _top_of(thing: Near) -> Measured | Unknown:
    """Top of a thing if it lies within the circle; the penetration level if it lies outside."""
    if not isinstance(thing.horizontal, Measured):
        return Unknown(f"distance to the {thing.kind} not recorded")
    if thing.horizontal.low > CIRCLE_M:
        return metres(0.0)
    if not isinstance(thing.top_above_penetration, Measured):
        return Unknown(f"height of the {thing.kind} not recorded")
    if thing.horizontal.high > CIRCLE_M:  # perhaps inside: from nothing to its whole height
        top = max(0.0, thing.top_above_penetration.high)
        return between(0.0, top, thing.top_above_penetration)
    return thing.top_above_penetration


def _slope_top(view: View) -> Measured | Unknown:
    """Height of the uphill roof surface within 10 ft, above the penetration."""
    roof = view.path.roof
    if not isinstance(roof.pitch, Measured):
        found = seen(roof.pitch)
        return found if isinstance(found, Unknown) else Unknown("pitch not recorded")
    low_run, high_run = 0.0, CIRCLE_M
    if isinstance(roof.ridge, Measured):
        low_run = min(CIRCLE_M, max(0.0, roof.ridge.low))
        high_run = min(CIRCLE_M, roof.ridge.high)
    elif roof.ridge is ABSENT:  # looked: the slope goes on beyond 10 ft
        low_run = CIRCLE_M
    return between(
        low_run * max(0.0, roof.pitch.low), high_run * max(0.0, roof.pitch.high), roof.pitch
    )


def _ends(view: View) -> FactValue:
    ends = view.path.roof.ends
    return Unknown(NOT_RECORDED) if ends is None else ENDS.get(ends, ends)


def _intake(view: View, name: str) -> FactValue:
    if view.intake is None:
        return Unknown(NOT_RECORDED)
    return seen(getattr(view.intake, name))


def _neighbor(view: View, name: str) -> FactValue:
    opening = view.path.roof.neighbor_opening
    if opening is None or isinstance(opening, NotMeasured | Absent):
        return seen(opening)
    return seen(getattr(opening, name))


R = "path.roof."
# fmt: off
FACTS = table(
    ("terminal_position", "where the vent ends", "trace it to the very end and look", _ends),
    ("roof_pitch", "pitch of the roof", "pitch gauge or level on the roof, or from the attic framing", R + "pitch"),
    ("vent_above_roof", "height of the cap opening above the roof", "tape, uphill side of the pipe at the roof to the lowest opening of the cap", R + "cap_above_penetration"),
    ("wall_distance", "distance to the nearest wall or upright thing on the roof", "tape, level, pipe or cap to the nearest face; none when nothing stands there", _nearest_wall),
    ("above_building_within_10ft", "height of the cap above everything within 10 ft", "tape or level and tape: ridge, walls and roof within 10 ft, level", _above_building),
    ("roof_combustible", "whether the roof deck can burn", "look at the deck", R + "deck_combustible"),
    ("cap_present", "cap", "look", _cap_present),
    ("cap_listed", "listing of the cap", "read its mark", _of_cap("listed")),
    ("cap_approved", "approval of the cap", "ask for the listing or approval", _of_cap("approved")),
    ("cap_free_area", "free area of the cap", "product data", _of_cap("free_area")),
    ("cap_clear", "state of the cap", "look for nests, crushed skirt, rust, added mesh, plants, panels, snow", _of_cap("clear")),
    ("shroud", "shroud round the cap", "look; none when there is none", _shroud),
    ("intakes", "air intakes near the outlet", "look around the outlet, roof and wall; none when there are none", R + "intakes"),
    ("intake_kind", "kind of the air intake", "look", lambda v: _intake(v, "kind")),
    ("intake_distance", "level distance from the outlet to the intake", "tape", lambda v: _intake(v, "horizontal")),
    ("vent_above_intake", "height of the outlet above the intake", "tape; negative when the outlet is lower", lambda v: _intake(v, "outlet_above")),
    ("neighbor_opening", "openings of the neighbor building near the outlet", "look; none when there are none", R + "neighbor_opening"),
    ("neighbor_opening_distance", "level distance to the neighbor's opening", "tape", lambda v: _neighbor(v, "horizontal")),
    ("neighbor_opening_above", "height of that opening above the outlet", "tape; negative when it is lower", lambda v: _neighbor(v, "above_terminal")),
)
# fmt: on
