"""Facts of the catalogue about chimneys, and about their sizing."""

from __future__ import annotations

from tests.catalogue.reading import Get, Number, Read, Word, Words, bore_area, flag, number_of, word
from tests.catalogue.sized import holds
from tests.catalogue.values import UNKNOWN, Value

from fluewright.facts import Unknown
from fluewright.finding import Sense
from fluewright.rules.in_chimney import InChimneyTable, WithinExterior
from fluewright.rules.in_common import AllInCommonTable
from fluewright.rules.in_table import InTable


def flow_area(bore: str) -> Read:
    """Clear area of a vent: a masonry flue without metal liner by its own, a pipe by its bore."""
    pipe = bore_area(bore)

    def of(get: Get) -> Value:
        vents, liner = get("vent_material"), get("chimney_liner")
        if isinstance(vents, Unknown):
            return UNKNOWN
        if not isinstance(vents, tuple) or "masonry" not in vents:
            return pipe.of(get)
        if isinstance(liner, Unknown):
            return UNKNOWN
        if liner in ("smooth_metal", "corrugated_metal"):
            return pipe.of(get)
        flue = number_of(get("chimney_flue_area"), "in2")
        return flue if set(vents) == {"masonry"} else UNKNOWN

    needs = {
        "vent_material": Words(("type_b", "masonry", "masonry", "corrugated")),
        "chimney_liner": Word(("clay", "smooth_metal", "corrugated_metal")),
        "chimney_flue_area": Number("in2"),
    }
    return Read({**pipe.needs, **needs}, of)


LEAST, MOST = Sense.AT_LEAST, Sense.AT_MOST
NAMES: dict[str, Read] = {
    "all_inputs_within_exterior_table": holds(
        WithinExterior(("M6", "M8"), "common_input", "common_height", MOST)
    ),
    "all_inputs_within_liner_table": holds(AllInCommonTable(metal=True)),
    "chimney_kind": word("chimney_kind", ("masonry", "factory_built", "metal")),
    "chimney_liner": word("chimney_liner", ("clay", "smooth_metal", "corrugated_metal")),
    "clay_flue_within_table": holds(InChimneyTable("max", strict=True, lined="clay")),
    "connector_within_pipe_table": holds(InTable("connector_min_diameter", "max")),
    "flue_input_most_within_table": holds(InChimneyTable("max")),
    "flue_input_within_table": holds(InChimneyTable("max") & InChimneyTable("min")),
    "input_at_least_exterior_minimum": holds(
        WithinExterior(("T6", "T6"), "appliance_input", "vent_height", LEAST)
    ),
    "liner_input_within_table": holds(InChimneyTable("max", lined="metal")),
    "room_heating_input": word("space_heating_input", ()),
    "space_heaters_at_least_exterior_minimum": holds(
        WithinExterior(("M7", "M9"), "space_heating_input", "common_height", LEAST)
    ),
    "vent_area_in2": flow_area("vent_max_diameter"),
    "vent_least_area_in2": flow_area("vent_min_diameter"),
    "vent_in_masonry_flue": flag("vent_in_masonry_flue"),
}
OF_RULE = {("single_wall_cap_capacity", "vent_area_in2"): bore_area("vent_max_diameter")}
