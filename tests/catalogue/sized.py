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
from fluewright.rules.in_table import InTable
from fluewright.rules.outcome import Truth

NEEDS: Mapping[str, Kind] = {
    "vent_material": Words(("type_b", "type_b", "single_wall", "type_l")),
    "connector_materials": Words(("type_b", "single_wall_galvanized", "type_l", "corrugated")),
    "connector_present": Flag(),
    "appliance_category": Word(("draft_hood", "I_fan")),
    "vent_height": Number("ft"),
    "vent_lateral": Number("ft"),
    "elbows": Words(("45", "90")),
    "straight_up": Flag(),
    "appliance_input": Number("Btu/h"),
    "appliance_input_min": Number("Btu/h"),
    "appliance_outlet": Number("in"),
}


def _truth(cond: InTable, get: Get) -> Truth:
    facts = {name: get(name) for name in cond.uses}
    nothing = cast(View, None)
    book = rule_cases.edition("umc_2012")
    return cond.judge(Asked("p1", nothing, book, rule_cases.library(), given=facts)).truth


def _needs(*conds: InTable) -> dict[str, Kind]:
    names = [name for cond in conds for name in cond.uses]
    return {name: NEEDS.get(name, Number("in")) for name in names}


def holds(*conds: InTable) -> Read:
    """Whether the input lies within the table, by all of these bounds."""

    def of(get: Get) -> Value:
        found = [_truth(cond, get) for cond in conds]
        if Truth.NO in found:
            return False
        return UNKNOWN if Truth.UNKNOWN in found else True

    return Read(_needs(*conds), of)


def verdict(*conds: InTable) -> Read:
    """The same as a verdict word."""
    inner = holds(*conds)

    def of(get: Get) -> Value:
        found = inner.of(get)
        return found if found is UNKNOWN else "pass" if found is True else "fail"

    return Read(inner.needs, of)


def capacity(cond: InTable, equal: bool = True) -> Read:
    """A capacity that the input is within just where the module says so.

    ``equal`` where the module lets input and capacity be equal, as the check has to.
    """

    def of(get: Get) -> Value:
        found, rate = _truth(cond, get), number_of(get(cond.rate), "Btu/h")
        if found is Truth.UNKNOWN or not isinstance(rate, float):
            return UNKNOWN
        above = rate if equal else rate * 2 + 1
        return above if found is Truth.YES else rate / 2 - 1

    return Read(_needs(cond), of)
