"""Rules: the size of chimneys and liners, and what is left on one when an appliance is gone."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade, Sense
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.chimney import BY_TABLES, CHIMNEY, MASONRY, ONE_REMOVED, OUTSIDE
from fluewright.rules.in_chimney import InChimneyTable, LeftAlone, WithinExterior
from fluewright.rules.in_common import AllInCommonTable
from fluewright.rules.logic import (
    LimitNum,
    RuleMeets,
    Times,
    When,
    all_in,
    any_in,
    at_least,
    at_most,
    count,
    fact,
    gone,
    no,
    one_of,
    yes,
)
from fluewright.rules.sizing import IN_COMMON
from fluewright.rules.special import BoreArea, FlowArea

PATH = Scope.PATH
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT

RULES = (
    Rule(
        "mechanical_draft_chimney_engineered",
        "A chimney with a draft fan is sized by a design",
        DEFECT,
        PATH,
        applies=yes("mech_draft_present") & CHIMNEY,
        needs=one_of("sizing_method", "engineered") & yes("sizing_document_on_file"),
        fails="A fan draws on a chimney that no design sizes.",
        meets="The chimney with its fan is sized by a design.",
        remedy="Have it designed.",
        not_asked="No chimney with a draft fan.",
    ),
    Rule(
        "corrugated_liner_20_percent",
        "A corrugated liner carries the input after its cut",
        HAZARD,
        PATH,
        applies=CHIMNEY & one_of("chimney_liner", "corrugated_metal") & BY_TABLES,
        needs=When(yes("vent_serves_one"), InChimneyTable("max", lined="metal"))
        & When(no("vent_serves_one"), AllInCommonTable(metal=True)),
        fails="The input is {measured}; the corrugated liner permits {bound}: {gap} beyond.",
        meets="The input is {measured}; the corrugated liner permits {bound}.",
        remedy="Fit a larger liner of a permitted size.",
        not_asked="No corrugated liner, or not sized by the tables.",
    ),
    Rule(
        "exterior_masonry_chimney_single",
        "An outside clay-lined chimney of one appliance keeps all its conditions",
        HAZARD,
        PATH,
        applies=MASONRY & OUTSIDE & yes("vent_serves_one") & BY_TABLES,
        needs=all_in("connector_materials", "type_b")
        & at_most(
            fact("connector_total_length"),
            Times(fact("connector_min_diameter"), count("chimney.outside_connector_per_diameter")),
            "connector",
            "ft",
        )
        & yes("draft_hood_present")
        & InChimneyTable("max", strict=True, lined="clay")
        & When(
            yes("is_water_heater"),
            at_least(
                fact("design_temp_99"),
                LimitNum("chimney.outside_design_temperature_min", Dimension.TEMPERATURE),
                "winter design temperature",
                "degF",
            ),
        )
        & When(
            no("is_water_heater"),
            WithinExterior(("T6", "T6"), "appliance_input", "vent_height", Sense.AT_LEAST),
        ),
        fails="The outside chimney does not keep its conditions: {measured}, {bound}.",
        meets="The outside chimney keeps its conditions.",
        remedy="Line it with a listed liner of a permitted size.",
        not_asked="No outside clay-lined chimney of one appliance sized by the tables.",
    ),
    Rule(
        "exterior_masonry_chimney_common",
        "An outside clay-lined chimney of several appliances keeps all its conditions",
        HAZARD,
        PATH,
        applies=MASONRY & OUTSIDE & no("vent_serves_one") & BY_TABLES,
        needs=all_in("common_connector_materials", "type_b")
        & any_in("common_burners", "nat")
        & at_least(
            fact("design_temp_99"),
            LimitNum("chimney.outside_design_temperature_min", Dimension.TEMPERATURE),
            "winter design temperature",
            "degF",
        )
        & WithinExterior(("M6", "M8"), "common_input", "common_height", Sense.AT_MOST)
        & (
            gone("space_heating_input")
            | WithinExterior(("M7", "M9"), "space_heating_input", "common_height", Sense.AT_LEAST)
        )
        & IN_COMMON,
        fails="The outside chimney does not keep its conditions: {measured}, {bound}.",
        meets="The outside chimney keeps its conditions.",
        remedy="Line it with a listed liner of a permitted size.",
        not_asked="No outside clay-lined chimney of several appliances sized by the tables.",
    ),
    Rule(
        "orphaned_appliance_resize",
        "What is left on a vent after one appliance is gone is sized anew and tested",
        HAZARD,
        PATH,
        applies=ONE_REMOVED,
        needs=LeftAlone(
            (
                one_of("sizing_method", "engineered")
                | at_most(
                    FlowArea("vent_max_diameter"),
                    BoreArea("appliance_outlet").times(count("vent.area_times_outlet_max")),
                    "flue area",
                    "in2",
                )
            )
            & RuleMeets("vent_sized_by_accepted_method")
            & RuleMeets("post_removal_common_vent_test")
        ),
        fails="After one appliance was taken off, the vent is not of a size for {name}, or was not "
        "tested: {measured}, {limit} at most.",
        meets="The vent is of a size for what is left on it, and was tested.",
        remedy="Fit a listed liner or a vent of a size for what is left, and test it.",
        not_asked="No appliance was taken off this vent.",
    ),
)
