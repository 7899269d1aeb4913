"""Rules: whether vent and connector are of a size that an accepted method permits."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.rules.base import Rule
from fluewright.rules.connector import LISTED_DEVICES
from fluewright.rules.in_chimney import InChimneyTable
from fluewright.rules.in_common import AllInCommonTable, ConnectorInCommonTable
from fluewright.rules.in_table import Downsized, InTable
from fluewright.rules.logic import (
    Cond,
    Doubt,
    NotAgainst,
    RuleMeets,
    When,
    all_in,
    any_in,
    at_least,
    fact,
    gone,
    no,
    none_in,
    one_of,
    there,
    yes,
)
from fluewright.rules.material import NATURAL

PATH = Scope.PATH
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT


def _by_method(tables: Cond) -> Cond:
    """The size holds by the method used; figures of another method stay out of the sentence."""
    return (
        one_of("sizing_method", "tables", "area_rule", "engineered")
        & When(one_of("sizing_method", "tables"), tables)
        & When(
            one_of("sizing_method", "area_rule"),
            no("fan_assisted") & RuleMeets("vent_area_single_draft_hood"),
        )
        & When(one_of("sizing_method", "engineered"), yes("sizing_document_on_file"))
    )


MASONRY = any_in("vent_material", "masonry")
# A flue without metal liner has an area and no size: only its connector may be a size below.
FLUE = MASONRY & ~one_of("chimney_liner", "smooth_metal", "corrugated_metal")
CLAY_OUTSIDE = MASONRY & one_of("chimney_liner", "clay") & yes("chimney_exterior")


def _pipe_or_chimney(pipe: Cond, chimney: Cond) -> Cond:
    """A pipe by its tables; a chimney by those for it, an exterior clay one by its own rule."""
    return (
        When(~MASONRY, pipe)
        & When(CLAY_OUTSIDE, RuleMeets("exterior_masonry_chimney_single"))
        & When(MASONRY & ~CLAY_OUTSIDE, chimney)
    )


_ENGINEERED = one_of("sizing_method", "engineered") & yes("sizing_document_on_file")
TURN = (
    "Whether the elbow by which the manifold turns up counts as one of the common vent's, beside "
    "the tenth that is taken off for a manifold."
)
ALL_TOGETHER = Doubt(AllInCommonTable(), AllInCommonTable(turn=False), TURN)
IN_COMMON = ConnectorInCommonTable("max") & ConnectorInCommonTable("min")
HOODS_ALONE = none_in("common_burners", "fan")


def _shared(tables: Cond, area: Cond) -> Cond:
    """A vent that several appliances share, by the method used."""
    return (
        one_of("sizing_method", "tables", "area_rule", "engineered")
        & When(one_of("sizing_method", "tables"), tables)
        & When(one_of("sizing_method", "area_rule"), HOODS_ALONE & area)
        & When(one_of("sizing_method", "engineered"), _ENGINEERED)
    )


def _alone_or_shared(tables: Cond) -> Cond:
    """A vent of one appliance by its method; a shared one with every appliance on it."""
    return When(yes("vent_serves_one"), _by_method(tables)) & When(
        no("vent_serves_one"),
        _shared(
            When(CLAY_OUTSIDE, RuleMeets("exterior_masonry_chimney_common"))
            & When(~CLAY_OUTSIDE, ALL_TOGETHER),
            RuleMeets("vent_area_two_draft_hoods"),
        ),
    )


_INPUT_FAILS = (
    "The input is {measured}; the table permits {bound} for this height, run and size: {gap} "
    "beyond."
)
_INPUT_MEETS = "The input is {measured}; the table permits {bound} for this height, run and size."

RULES = (
    Rule(
        "vent_sized_by_accepted_method",
        "The vent is of a size that an accepted method permits",
        HAZARD,
        PATH,
        applies=NATURAL,
        needs=_alone_or_shared(
            _pipe_or_chimney(
                InTable("vent_min_diameter", "max") & InTable("vent_max_diameter", "min"),
                InChimneyTable("max") & InChimneyTable("min"),
            )
        ),
        fails=_INPUT_FAILS,
        meets=_INPUT_MEETS,
        remedy="Change the vent to a permitted size, height or run; or have it engineered.",
        not_asked="Not a natural-draft appliance.",
    ),
    Rule(
        "connector_single_appliance_size",
        "The connector is of a size that an accepted method permits",
        DEFECT,
        PATH,
        applies=NATURAL & yes("connector_present"),
        needs=When(
            yes("vent_serves_one"),
            _by_method(
                _pipe_or_chimney(InTable("connector_min_diameter", "max"), InChimneyTable("max"))
            ),
        )
        & When(
            no("vent_serves_one"),
            _shared(IN_COMMON, NotAgainst("connector_not_smaller_than_draft_hood")),
        ),
        fails=_INPUT_FAILS,
        meets=_INPUT_MEETS,
        remedy="Fit connector pipe of a permitted size.",
        not_asked="Not a natural-draft appliance with a connector.",
    ),
    Rule(
        "vent_downsizing_conditions",
        "A size below the outlet is used only under all its conditions",
        HAZARD,
        PATH,
        applies=yes("vent_serves_one")
        & ~one_of("sizing_method", "engineered")
        & (
            (~FLUE & ~at_least(fact("vent_min_diameter"), fact("appliance_outlet")))
            | (
                yes("connector_present")
                & ~at_least(fact("connector_min_diameter"), fact("appliance_outlet"))
            )
        ),
        needs=one_of("sizing_method", "tables")
        & (FLUE | Downsized("vent_min_diameter"))
        & (no("connector_present") | Downsized("connector_min_diameter")),
        fails="Pipe smaller than the outlet is used without meeting every condition for it.",
        meets="Pipe smaller than the outlet meets every condition for it.",
        remedy="Fit pipe of at least the outlet's size.",
        not_asked="Nothing is smaller than the outlet, or an engineered system.",
    ),
    Rule(
        "zero_lateral_no_elbows",
        "A vent sized as straight up has no elbow",
        DEFECT,
        PATH,
        applies=one_of("sizing_method", "tables") & yes("vent_serves_one") & gone("elbows"),
        needs=yes("straight_up"),
        fails="Sized as a straight vent, but it does not leave a top outlet straight up.",
        meets="The vent goes straight up from a top outlet.",
        remedy="Size it with its lateral and elbows.",
        not_asked="The vent has elbows and is sized with them.",
    ),
    Rule(
        "tables_not_used_with_obstructions",
        "Nothing in the gas way makes the tables void",
        DEFECT,
        PATH,
        applies=one_of("sizing_method", "tables"),
        needs=gone("device_in_flue")
        | (
            all_in("device_in_flue", *LISTED_DEVICES)
            & (
                none_in("device_in_flue", "vent_damper_listed")
                | yes("auto_damper_per_instructions")
            )
        ),
        fails="A device in the gas way makes the sizing tables void.",
        meets="Nothing in the gas way makes the sizing tables void.",
        remedy="Take it out, or have the vent engineered.",
        not_asked="Not sized by the tables.",
    ),
    Rule(
        "multiple_input_rates",
        "A staged burner keeps within the table at its lowest and highest rate",
        DEFECT,
        PATH,
        applies=NATURAL
        & there("appliance_input_min")
        & one_of("sizing_method", "tables")
        & yes("vent_serves_one"),
        needs=InTable("vent_min_diameter", "max", strict=True)
        & InTable("vent_max_diameter", "min", "appliance_input_min", strict=True),
        fails="The lowest or highest rate lies outside the table: {measured}; it permits {bound}.",
        meets="Both rates lie within the table.",
        remedy="Change the size of the vent, or have it engineered.",
        not_asked="One rate only, or not sized by the tables.",
    ),
)
