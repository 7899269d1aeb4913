"""The question of the capacity tables, and which table answers it."""

from __future__ import annotations

from typing import Literal

from fluewright.capacity.library import COMMON_PART, COMMON_VENT, MASONRY, Group
from fluewright.capacity.sizing import Burner
from fluewright.errors import OutOfRange
from fluewright.frozen import frozen
from fluewright.quantity import Measured

VENTS = ("type_b", "single_wall", "masonry")
CONNECTORS = ("type_b", "single_wall", "none")
LINERS = ("none", "corrugated")
METHODS = ("table", "lower_row")
SHARED = ("fan_fan", "fan_nat", "nat_nat")
Shared = Literal["fan_fan", "fan_nat", "nat_nat"]
NO_LINER = "A liner belongs to a masonry chimney, not to a single-wall vent."
NEEDS_CONNECTOR = (
    "The tables for masonry chimneys are for a connector: say whether it is type_b or "
    "single_wall. A corrugated liner is sized as a Type B vent, with a cut: give the liner."
)


@frozen
class Query:
    """What is asked. Words as on the command line; lengths in metres.

    ``extra_elbows`` are the angles beyond the two right-angle elbows that an entry with a
    lateral holds. On a masonry chimney ``diameter`` is the connector's and ``flue_area`` the
    flue's; ``outlet`` is the diameter of the draft hood outlet or flue collar. ``rise``
    asks for a connector of a common vent, ``shared`` for the common vent itself: there
    ``lateral`` is its offset, ``connector_diameter`` that of the largest connector, ``outlet``
    the smallest, and every elbow counts as an extra one.
    """

    vent: str
    connector: str
    burner: Burner
    height: Measured
    lateral: Measured
    diameter: Measured
    edition: str
    connector_diameter: Measured | None = None
    flue_area: Measured | None = None
    outlet: Measured | None = None
    extra_elbows: tuple[float, ...] = ()
    liner: str = "none"
    rise: Measured | None = None
    shared: Shared | None = None
    manifold: Measured | None = None
    method: str = "table"


def groups_for(query: Query) -> tuple[Group, ...]:
    """The groups of tables that the question needs beside those always loaded."""
    masonry = (MASONRY,) if query.vent == "masonry" and query.liner == "none" else ()
    return (*masonry, COMMON_VENT) if is_common(query) else masonry


def is_common(query: Query) -> bool:
    """Whether the question is about two or more appliances on one vent."""
    return query.rise is not None or query.shared is not None


def check_words(query: Query) -> None:
    """Refuse a word that is not known.

    Raises:
        OutOfRange: says which, and what to write.
    """
    for name, given, known in (
        ("vent", query.vent, VENTS),
        ("connector", query.connector, CONNECTORS),
        ("liner", query.liner, LINERS),
        ("method", query.method, METHODS),
        ("shared", query.shared or SHARED[0], SHARED),
    ):
        if given not in known:
            raise OutOfRange(f"capacity: {name} is {given!r}. Write {', '.join(known)}.")


def table_for(query: Query) -> tuple[str | None, str]:
    """The table for the kinds of vent and connector, or why there is none."""
    lined = query.liner == "corrugated"
    if query.vent == "single_wall" and lined:
        return None, NO_LINER
    if is_common(query):
        return _common_table(query, "type_b" if lined else query.vent)
    if query.manifold is not None:
        return None, "A manifold belongs to a common vent: say which appliances share it."
    if query.vent == "masonry" and not lined:
        return _chimney_table(query)
    for given, name in ((query.flue_area, "A flue area"), (query.outlet, "An outlet")):
        if given is not None:
            return None, (
                f"{name} belongs to a masonry chimney or a common vent. Give the vent's diameter "
                "alone."
            )
    if query.vent == "single_wall":
        return "T5", ""
    return ("T2" if query.connector == "single_wall" else "T1"), ""


def _chimney_table(query: Query) -> tuple[str | None, str]:
    """The table for a tile-lined chimney, or what is missing to choose one."""
    if query.connector == "none":
        return None, NEEDS_CONNECTOR
    if query.connector_diameter is not None:
        return None, (
            "A masonry flue has an area, its connector a diameter. Give the connector's as the "
            "diameter and leave the connector diameter out."
        )
    if query.flue_area is None:
        return None, (
            "The tables for masonry chimneys hold for a flue of some least inside area: give the "
            "flue area. For a clay tile it is that of the clear inside, not of the nominal size."
        )
    return ("T4" if query.connector == "single_wall" else "T3"), ""


def _common_table(query: Query, vent: str) -> tuple[str | None, str]:
    """The table for a connector of a common vent, or for the common vent itself."""
    if query.rise is not None and query.shared is not None:
        return None, (
            "A rise is that of one connector; the appliances that share are asked for the common "
            "vent itself. Ask for one at a time."
        )
    if vent == "masonry" and query.connector == "none":
        return None, NEEDS_CONNECTOR
    if query.flue_area is not None and (vent != "masonry" or query.shared is None):
        return None, "A flue area is asked of a masonry chimney that is the common vent itself."
    if query.rise is not None and (query.connector_diameter or query.manifold):
        return None, (
            "With a rise the diameter is the connector's own: leave the connector diameter and "
            "the manifold out. They belong to the common vent itself."
        )
    single_wall = query.connector == "single_wall"
    name = {
        "type_b": "M2" if single_wall else "M1",
        "masonry": "M4" if single_wall else "M3",
        "single_wall": "M5",
    }[vent]
    return name + (COMMON_PART if query.shared else ""), ""
