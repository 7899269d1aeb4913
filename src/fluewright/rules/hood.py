"""Rules: the kind of connector, the draft hood and what belongs to it."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade, Sense
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Compare,
    KeyedNum,
    LimitNum,
    RuleMeets,
    all_in,
    any_in,
    at_least,
    fact,
    length,
    no,
    none_in,
    one_of,
    there,
    yes,
)
from fluewright.rules.material import DOUBLE, HOODED, NATURAL, SINGLE
from fluewright.rules.special import BoreArea

PATH, PIECE = Scope.PATH, Scope.CONNECTOR_PIECE
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT

RULES = (
    Rule(
        "connector_sheet_thickness_residential",
        "The connector in a heated space is thick enough",
        DEFECT,
        PIECE,
        applies=NATURAL
        & yes("connector_present")
        & none_in("connector_path_spaces", "attic", "crawl", "unconditioned", "outdoors"),
        needs=one_of("piece_material", *DOUBLE, "listed_connector")
        | (
            one_of("piece_material", *SINGLE)
            & at_least(
                fact("piece_thickness"),
                KeyedNum("connector.sheet_min", "piece_metal", "=residential", Dimension.LENGTH),
                "sheet thickness",
            )
        ),
        fails="Connector piece {name} is {measured} thick, {limit} needed for its metal.",
        meets="Connector piece {name} is of an allowed kind and thickness.",
        remedy="Replace the piece with thicker pipe or Type B.",
        not_asked="No connector of a Category I appliance in a heated space.",
    ),
    Rule(
        "connector_material_general",
        "The connector is made for the gas it carries, no duct, foil or plumbing pipe",
        HAZARD,
        PATH,
        applies=yes("connector_present"),
        needs=none_in("connector_materials", "foil", "plastic_unlisted")
        & (
            none_in("connector_materials", "plastic_listed")
            | RuleMeets("plastic_vent_only_where_appliance_listed")
        ),
        fails="Part of the connector is foil, duct or plastic.",
        meets="The connector is of a kind made for the gas it carries.",
        remedy="Replace that part with connector pipe.",
        not_asked="There is no connector.",
    ),
    Rule(
        "connector_in_unconditioned_space_double_wall",
        "In attic, crawl space or unheated place the connector is listed double wall",
        HAZARD,
        PATH,
        applies=NATURAL & yes("connector_present"),
        needs=all_in("connector_materials", *DOUBLE)
        | yes("connector_listed_equal_insulation")
        | (
            none_in("connector_path_spaces", "attic", "crawl", "outdoors")
            & (
                none_in("connector_path_spaces", "unconditioned")
                | (
                    all_in("connector_materials", *SINGLE, *DOUBLE)
                    & at_least(
                        fact("design_temp_99"),
                        LimitNum(
                            "connector.single_wall_design_temperature_min", Dimension.TEMPERATURE
                        ),
                        "winter design temperature",
                    )
                )
            )
        ),
        fails="Single-wall connector lies in an attic, crawl space, outdoors or a place too cold "
        "for it.",
        meets="The connector is of a kind allowed where it lies.",
        remedy="Replace that part with Type B connector.",
        not_asked="No connector of a Category I appliance.",
    ),
    Rule(
        "connector_no_site_insulation",
        "The connector is not wrapped",
        DEFECT,
        PATH,
        applies=yes("connector_present"),
        needs=no("connector_site_insulated"),
        fails="The connector is wrapped.",
        meets="The connector is bare.",
        remedy="Have the wrap checked for asbestos before anyone touches it; then take it off "
        "or fit a listed connector.",
        not_asked="There is no connector.",
    ),
    Rule(
        "non_round_pipe_equivalent",
        "Flat pipe has the area of the round pipe it replaces and is not too flat",
        DEFECT,
        PATH,
        applies=there("non_round"),
        needs=at_least(fact("non_round_narrowest"), length("vent.flat_width_min"), "inside width")
        & Compare(
            fact("non_round_area"),
            Sense.AT_LEAST,
            BoreArea("non_round_replaces"),
            "inside area",
            "in2",
        ),
        fails="The flat pipe is too narrow: {measured}, {limit} needed.",
        meets="The flat pipe is wide enough.",
        remedy="Replace it with round pipe.",
        not_asked="All pipe is round.",
    ),
    Rule(
        "draft_hood_required_and_unaltered",
        "The draft hood is there, as the maker made it",
        HAZARD,
        PATH,
        applies=one_of("appliance_category", "draft_hood"),
        needs=yes("draft_hood_present") & no("draft_hood_altered"),
        fails="The draft hood of {name} is missing or altered.",
        meets="The draft hood of {name} is there and unaltered.",
        remedy="Fit the hood that belongs to the appliance.",
        not_asked="{name} has no draft hood by design.",
    ),
    Rule(
        "draft_hood_position",
        "The draft hood sits as designed, its relief opening free and in reach",
        HAZARD,
        PATH,
        applies=HOODED | yes("barometric_regulator_present"),
        needs=yes("draft_hood_orientation_ok") & yes("draft_hood_relief_accessible"),
        fails="The draft hood is tilted, shut in or out of reach.",
        meets="The draft hood sits as designed and can be reached.",
        remedy="Set it level, clear its opening, make room for the smoke check.",
        not_asked="Neither draft hood nor draft regulator.",
    ),
    Rule(
        "draft_control_device_installation",
        "A draft regulator is fitted as instructed, never in place of a draft hood",
        HAZARD,
        PATH,
        applies=yes("barometric_regulator_present"),
        needs=yes("draft_control_per_instructions") & ~one_of("appliance_category", "draft_hood"),
        fails="A draft regulator is fitted where it may not be, or against its instructions.",
        meets="The draft regulator is fitted as instructed.",
        remedy="Take it out or refit it to its instructions.",
        not_asked="No draft regulator.",
    ),
    Rule(
        "condensate_drain_category_i_iii",
        "There is a drain where condensation in vents is a known problem",
        DEFECT,
        PATH,
        applies=one_of("appliance_category", "draft_hood", "I_fan", "III")
        & yes("condensation_problem_local"),
        needs=yes("condensate_drain_present"),
        fails="No drain, where condensation in vents is a known problem.",
        meets="A condensate drain is there.",
        remedy="Fit a drain and lead it away.",
        not_asked="Condensation in vents is no known problem there.",
    ),
    Rule(
        "corrugated_connector_size",
        "A corrugated connector is not smaller than the outlet",
        DEFECT,
        PATH,
        applies=any_in("connector_materials", "corrugated"),
        needs=at_least(
            fact("connector_min_diameter"), fact("appliance_outlet"), "inside diameter", "in"
        ),
        fails="The corrugated connector is {measured} wide, the outlet {limit}.",
        meets="The corrugated connector is as wide as the outlet.",
        remedy="Fit a connector of the outlet's size.",
        not_asked="No corrugated connector.",
    ),
)
