"""Facts that the catalogue leaves to the sizing module, asked of the module itself.

The catalogue calls them derived: the capacity of a table after all modifiers, or the verdict of
the sizing. What is compared in the checks is how rule and check use them; that the tables and
their modifiers are right is tested on published examples in test_capacity.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from tests import rule_cases
from tests.catalogue.reading import Flag, Get, Kind, Number, Read, Word, Words, number_of
from tests.catalogue.values import UNKNOWN, Value

from fluewright.asked import Asked
from fluewright.facts import View
from fluewright.rules.condition import Cond
from fluewright.rules.logic import walk
from fluewright.rules.outcome import Truth

NEEDS: Mapping[str, Kind] = {
    "vent_material": Words(("type_b", "type_b", "single_wall", "type_l")),
    "connector_materials": Words(("type_b", "single_wall_galvanized", "type_l", "corrugated")),
    "common_connector_materials": Words(("type_b", "single_wall_galvanized", "type_l")),
    "common_burners": Words(("nat", "fan")),
    "chimney_liner": Word(("clay", "clay", "smooth_metal", "corrugated_metal")),
    "chimney_flue_area": Number("in2"),
    "design_temp_99": Number("deg F"),
    "space_heating_input": Number("Btu/h"),
    "connector_present": Flag(),
    "manifold_present": Flag(),
    "appliance_category": Word(("draft_hood", "I_fan")),
    "vent_height": Number("ft"),
    "common_height": Number("ft"),
    "common_min_area": Number("in2"),
    "common_offset_length": Number("ft"),
    "manifold_length": Number("ft"),
    "connector_rise": Number("ft"),
    "connector_horizontal": Number("ft"),
    "vent_lateral": Number("ft"),
    "elbows": Words(("45", "90")),
    "common_elbows": Words(("45", "90")),
    "connector_elbow_angles": Words(("45", "90")),
    "straight_up": Flag(),
    "appliances_on_several_floors": Flag(),
    "appliance_input": Number("Btu/h"),
    "appliance_input_min": Number("Btu/h"),
    "common_input": Number("Btu/h"),
    "appliance_outlet": Number("in"),
    "largest_connector": Number("in"),
    "smallest_outlet": Number("in"),
}
# Of these no survey says "none", and their lists are always told in full.
SURE = frozenset(NEEDS) - {
    "appliance_input_min",
    "chimney_liner",
    "common_elbows",
    "connector_elbow_angles",
    "elbows",
    "space_heating_input",
}
TOLD = ("elbows", "common_elbows", "connector_elbow_angles", "common_burners")


def _uses(cond: Cond) -> dict[str, Kind]:
    names = {name: None for node in walk(cond) for name in getattr(node, "uses", ())}
    return {name: NEEDS.get(name, Number("in")) for name in names}


def _truth(cond: Cond, get: Get) -> Truth:
    facts = {name: get(name) for name in _uses(cond)}
    nothing = cast(View, None)
    book = rule_cases.edition("umc_2012")
    return cond.judge(Asked("p1", nothing, book, rule_cases.library(), given=facts)).truth


def holds(cond: Cond) -> Read:
    """Whether the input lies within the table."""

    def of(get: Get) -> Value:
        found = _truth(cond, get)
        return UNKNOWN if found is Truth.UNKNOWN else found is Truth.YES

    return Read(_uses(cond), of)


def capacity(cond: Cond, rate: str, equal: bool = True) -> Read:
    """A capacity that the rate is within just where the module says so.

    ``equal`` where the module lets rate and capacity be equal, as the check has to.
    """

    def of(get: Get) -> Value:
        found, burnt = _truth(cond, get), number_of(get(rate), "Btu/h")
        if found is Truth.UNKNOWN or not isinstance(burnt, float):
            return UNKNOWN
        above = burnt if equal else burnt * 2 + 1
        return above if found is Truth.YES else burnt / 2 - 1

    return Read(_uses(cond), of)
