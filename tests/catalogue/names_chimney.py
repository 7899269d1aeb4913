"""Facts of the catalogue about chimneys, and about their sizing."""

from __future__ import annotations

from tests.catalogue.reading import Read, flag, word
from tests.catalogue.sized import holds

from fluewright.finding import Sense
from fluewright.rules.in_chimney import InChimneyTable, WithinExterior
from fluewright.rules.in_common import AllInCommonTable
from fluewright.rules.in_table import InTable

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
    "vent_in_masonry_flue": flag("vent_in_masonry_flue"),
}
