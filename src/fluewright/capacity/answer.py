"""One question of the capacity tables, answered with its citations and working."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fluewright.capacity.between import KBTU_H, Method
from fluewright.capacity.flue import seven_times_step, too_large, too_small
from fluewright.capacity.library import Library
from fluewright.capacity.permitted import Capacity, permitted_input
from fluewright.capacity.query import Query, check_words, is_common, table_for
from fluewright.capacity.sizing import table_size
from fluewright.capacity.table import KBTU_H_W, CapacityTable, Column
from fluewright.frozen import frozen
from fluewright.quantity import Measured
from fluewright.source import Basis, Citation, Step

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
COMMON_HOLDS = (
    ("common_altitude", HOLDS_WHERE[0][1]),
    (
        "common_height",
        "height is that above the highest draft hood outlet or flue collar of all appliances, "
        "which stand on one floor",
    ),
    (
        "common_exposure",
        "holds only where no part of the vent below the roof line is exposed to the outdoors",
    ),
)
TOGETHER = ("common_altitude", "the maximum is for the inputs of all appliances together")
LEAST_AREA = (
    "common_least_area",
    "holds only where the common vent has at least the area of its largest connector",
)
CONNECTOR_SIZE = (
    "common_connector_size",
    "holds only where the connector is not smaller than the outlet of its appliance, and at most "
    "two table sizes over it",
)
CONNECTOR_RISE = (
    "common_rise",
    "rise is that from this appliance's outlet to the center line where the gases join",
)


@frozen
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
    check_words(query)
    table, reason = table_for(query)
    if table is None:
        return CapacityAnswer(None, None, None, reason, Basis.READ, (), ())
    place = library.place(table, query.edition)
    if is_common(query):
        found = _shared(library, table, query)
    elif fault := _flue_fault(library, table, query):
        found = Capacity(table, None, None, fault, (), Basis.READ, (), frozenset({"two_diameters"}))
    else:
        found = _alone(library.tables[table], query)
    note = f"; {place.note}" if place.note else ""
    head = Step(f"table {table}, {place.citation.text()}{note}: {library.info(table).title}")
    flue: tuple[Step, ...] = ()
    if query.flue_area is not None and found.reason is None and not is_common(query):
        flue = (seven_times_step(query.outlet, query.flue_area),)
        found = replace(found, rules=found.rules | {"two_diameters"})
    return CapacityAnswer(
        place.number,
        found.min,
        found.max,
        found.reason,
        found.basis,
        _cites(library, table, query, found),
        (head, *found.working, *flue, *_presupposed(query, found)),
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
    least = library.info(table).least_flue_in2
    size = table_size(query.diameter, library.tables[table].sizes)
    if query.flue_area is None or not least or size is None:
        return None  # what is no size has a reason of its own
    outlet = query.outlet or query.diameter
    what = "the outlet" if query.outlet else "the connector, which stands for an outlet not given"
    return too_small(query.flue_area, least[size], table, size) or too_large(
        query.flue_area, outlet, what
    )


def _shared(library: Library, table: str, query: Query) -> Capacity:
    """What the tables for two or more appliances permit a connector or the common vent."""
    from fluewright.capacity.common_vent import common_vent_input  # judging never needs these
    from fluewright.capacity.connector import connector_input

    lined = query.liner == "corrugated"
    how = Method.LOWER_ROW if query.method == "lower_row" else Method.INTERPOLATE
    if query.rise is not None:
        return connector_input(
            library.tables[table],
            library.tables[f"T{table[1:]}"],
            height=query.height,
            rise=query.rise,
            length=query.lateral,
            diameter=query.diameter,
            burner=query.burner,
            elbows=query.extra_elbows,
            outlet=query.outlet,
            liner_corrugated=lined,
            method=how,
        )
    return common_vent_input(
        library.tables[table],
        Column(str(query.shared)),
        height=query.height,
        diameter=query.diameter,
        flue_area=query.flue_area,
        offset=query.lateral,
        elbows=query.extra_elbows,
        manifold=query.manifold,
        connector=query.connector_diameter,
        outlet=query.outlet,
        liner_corrugated=lined,
        method=how,
    )


def _cites(library: Library, table: str, query: Query, found: Capacity) -> tuple[Citation, ...]:
    """The tables read, then the rules used in the order of the index."""
    names = dict.fromkeys((table, *(cell.table for cell in found.cells)))
    used = set(found.rules)
    if found.reason is None:
        used |= {rule for rule, _ in _holds_where(query)}
    return (
        *(library.place(name, query.edition).citation for name in names),
        *(library.section(rule, query.edition) for rule in library.sections if rule in used),
    )


def _presupposed(query: Query, found: Capacity) -> tuple[Step, ...]:
    return () if found.reason else tuple(Step(words) for _, words in _holds_where(query))


def _holds_where(query: Query) -> tuple[tuple[str, str], ...]:
    if not is_common(query):
        return HOLDS_WHERE
    if query.rise is not None:
        size = () if query.outlet else (CONNECTOR_SIZE,)
        return (*COMMON_HOLDS, CONNECTOR_RISE, *size)
    area = () if query.connector_diameter else (LEAST_AREA,)
    return (TOGETHER, *COMMON_HOLDS, *area)


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
