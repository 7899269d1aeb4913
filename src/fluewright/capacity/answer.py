"""One question of the capacity tables, answered with its citations and working."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.capacity.between import KBTU_H, Method
from fluewright.capacity.flue import seven_times_step, too_large, too_small
from fluewright.capacity.library import MASONRY, Group, Library
from fluewright.capacity.permitted import Capacity, permitted_input
from fluewright.capacity.sizing import Burner, table_size
from fluewright.capacity.table import KBTU_H_W, CapacityTable
from fluewright.errors import OutOfRange
from fluewright.quantity import Measured
from fluewright.source import Basis, Citation, Step

VENTS = ("type_b", "single_wall", "masonry")
CONNECTORS = ("type_b", "single_wall", "none")
LINERS = ("none", "corrugated")
METHODS = ("table", "lower_row", "model")

# What the tables presuppose and a figure cannot tell: the section's key, and the words.
HOLDS_WHERE = (
    (
        "altitude",
        "compare the maximum with the input rating at sea level, the minimum with the input "
        "derated for altitude",
    ),
    (
        "exposure",
        "holds only where no part of the vent below the roof line is exposed to the outdoors, "
        "and for one appliance alone on its vent",
    ),
)


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked. Words as on the command line; lengths in metres.

    ``extra_elbows`` are the angles beyond the two right-angle elbows that an entry with a
    lateral holds. On a masonry chimney ``diameter`` is the connector's and ``flue_area`` the
    flue's; ``outlet`` is the diameter of the draft hood outlet or flue collar. ``rise`` and
    ``shared`` belong to a common vent.
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
    shared: str | None = None
    method: str = "table"


@dataclass(frozen=True, slots=True)
class CapacityAnswer:
    """The answer: the table by its printed number, bounds or the reason for none."""

    table: str | None
    min: Measured | None
    max: Measured | None
    reason: str | None
    basis: Basis
    cites: tuple[Citation, ...]
    working: tuple[Step, ...]

    def as_json(self) -> dict[str, object]:
        """The answer as the command line prints it, capacities in thousands of Btu/h."""
        return {
            "table": self.table,
            "min": _quantity(self.min),
            "max": _quantity(self.max),
            "reason": self.reason,
            "basis": self.basis.value,
            "cites": [
                {
                    "document": cite.document,
                    "edition": cite.edition,
                    "at": cite.at,
                    "basis": cite.basis.value,
                }
                for cite in self.cites
            ],
            "working": [
                {"step": step.what, "value": _rounded(step.value), "unit": step.unit}
                for step in self.working
            ],
        }


def capacity_query(library: Library, query: Query) -> CapacityAnswer:
    """The input that the tables permit, or why they do not say.

    Source: the tables of the library; their places by edition stand in its index.

    Args:
        library: the tables with their index.
        query: the question.

    Returns:
        Bounds in watts with citations and working, or the reason for none. Never a figure from
        outside a table.

    Raises:
        OutOfRange: a word that is not known, or a number that no table can have.
        BadEdition: the index does not know the edition.
    """
    _check_words(query)
    table, reason = _table_for(query)
    if table is None:
        return CapacityAnswer(None, None, None, reason, Basis.READ, (), ())
    place = library.place(table, query.edition)
    if fault := _flue_fault(library, table, query):
        found = Capacity(table, None, None, fault, (), Basis.READ, (), frozenset({"two_diameters"}))
    else:
        found = _alone(library.tables[table], query)
    note = f"; {place.note}" if place.note else ""
    head = Step(f"table {table}, {place.citation.text()}{note}: {library.infos[table].title}")
    flue: tuple[Step, ...] = ()
    if query.flue_area is not None and found.reason is None:
        flue = (seven_times_step(query.outlet, query.flue_area),)
        found = replace(found, rules=found.rules | {"two_diameters"})
    return CapacityAnswer(
        place.number,
        found.min,
        found.max,
        found.reason,
        found.basis,
        (place.citation, *_sections(library, query.edition, found)),
        (head, *found.working, *flue, *_presupposed(found)),
    )


def _alone(table: CapacityTable, query: Query) -> Capacity:
    """What the table of one appliance alone permits."""
    elbows: Sequence[float] = ()
    if query.extra_elbows or query.lateral.value > 0:
        elbows = (90.0, 90.0, *query.extra_elbows)
    return permitted_input(
        table,
        height=query.height,
        lateral=query.lateral,
        diameter=query.diameter,
        burner=query.burner,
        elbows=elbows,
        connector_diameter=query.connector_diameter,
        liner_corrugated=query.liner == "corrugated",
        method=Method.LOWER_ROW if query.method == "lower_row" else Method.INTERPOLATE,
    )


def _flue_fault(library: Library, table: str, query: Query) -> str | None:
    """Why the flue of a masonry chimney rules the table out, or None."""
    least = library.infos[table].least_flue_in2
    size = table_size(query.diameter, library.tables[table].sizes)
    if query.flue_area is None or not least or size is None:
        return None  # what is no size has a reason of its own
    outlet = query.outlet or query.diameter
    what = "the outlet" if query.outlet else "the connector, which stands for an outlet not given"
    return too_small(query.flue_area, least[size], table, size) or too_large(
        query.flue_area, outlet, what
    )


def groups_for(query: Query) -> tuple[Group, ...]:
    """The groups of tables that the question needs beside those always loaded."""
    return (MASONRY,) if query.vent == "masonry" and query.liner == "none" else ()


def _check_words(query: Query) -> None:
    for name, given, known in (
        ("vent", query.vent, VENTS),
        ("connector", query.connector, CONNECTORS),
        ("liner", query.liner, LINERS),
        ("method", query.method, METHODS),
    ):
        if given not in known:
            raise OutOfRange(f"capacity: {name} is {given!r}. Write {', '.join(known)}.")


def _table_for(query: Query) -> tuple[str | None, str]:
    """The table for the kinds of vent and connector, or why there is none."""
    lined = query.liner == "corrugated"
    if query.method == "model":
        return None, "The model is not in this version: ask the tables."
    if query.shared is not None or query.rise is not None:
        return None, "The tables for common vents are not in this version."
    if query.vent == "masonry" and not lined:
        return _chimney_table(query)
    if query.flue_area is not None:
        return None, "A flue area belongs to a masonry chimney. Give the vent's diameter alone."
    if query.vent == "single_wall":
        if lined:
            return None, "A liner belongs to a masonry chimney, not to a single-wall vent."
        return "T5", ""
    return ("T2" if query.connector == "single_wall" else "T1"), ""


def _chimney_table(query: Query) -> tuple[str | None, str]:
    """The table for a tile-lined chimney, or what is missing to choose one."""
    if query.connector == "none":
        return None, (
            "The tables for masonry chimneys are for a connector: say whether it is type_b or "
            "single_wall. A corrugated liner is sized as a Type B vent, with a cut: give the liner."
        )
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


def _sections(library: Library, edition: str, found: Capacity) -> tuple[Citation, ...]:
    """Citations of the rules used, in the order of the index."""
    used = set(found.rules)
    if found.reason is None:
        used |= {rule for rule, _ in HOLDS_WHERE}
    return tuple(library.section(rule, edition) for rule in library.sections if rule in used)


def _presupposed(found: Capacity) -> tuple[Step, ...]:
    return () if found.reason else tuple(Step(words) for _, words in HOLDS_WHERE)


def _quantity(bound: Measured | None) -> dict[str, object] | None:
    if bound is None:
        return None
    return {
        "value": _rounded(bound.value / KBTU_H_W),
        "unit": KBTU_H,
        "tolerance": _rounded(bound.tolerance / KBTU_H_W),
    }


def _rounded(value: float | None) -> float | None:
    """Without the rounding of the way to watts and back."""
    return None if value is None else round(value, 6)
