"""Rules: distances to what can burn, and the ways a distance may be reduced."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.quantity import Dimension
from fluewright.rules.base import Rule
from fluewright.rules.logic import (
    Ask,
    Cond,
    Doubt,
    KeyedNum,
    LimitNum,
    Minus,
    NotAgainst,
    Num,
    RuleMeets,
    Val,
    When,
    any_in,
    at_least,
    at_most,
    fact,
    gone,
    length,
    no,
    one_of,
    there,
    val,
    yes,
)
from fluewright.rules.material import DOUBLE, SINGLE
from fluewright.rules.special import NoSingleFigure, ReducedClearance

PATH, PIECE, SECTION = Scope.PATH, Scope.CONNECTOR_PIECE, Scope.VENT_PIECE
HAZARD, DEFECT = Grade.HAZARD, Grade.DEFECT
NEAR = there("piece_clearance")
NOTHING_NEAR = "Nothing that can burn is near {name}."
SINGLE_PIECE = one_of("piece_material", *SINGLE)
LISTED_ROW = one_of("appliance_clearance_row", "listed_draft_hood_or_type_b")
SHIELDED = there("protection_form")
VENTILATED = (
    "sheet_metal_over_1in_batts_air_gap",
    "masonry_3_5in_air_gap",
    "sheet_metal_air_gap",
    "insulation_board_air_gap",
    "two_sheet_metal_air_gaps",
    "batts_between_two_sheets_air_gap",
)
WOOL = (
    "insulation_board_over_1in_batts",
    "sheet_metal_over_1in_batts_air_gap",
    "batts_between_two_sheets_air_gap",
)


def _table_clearance(column: str) -> Num:
    return KeyedNum("connector.clearance", "appliance_clearance_row", column, Dimension.LENGTH)


def _far_enough(required: Num) -> Cond:
    """Distance kept, or a permitted shield that makes a smaller one enough."""
    return at_least(
        fact("piece_clearance"), val("piece_listed_clearance", required), "clearance"
    ) | (SHIELDED & RuleMeets("clearance_reduction_method_allowed"))


def _side(name: str) -> Cond:
    return gone(f"label_{name}") | at_least(
        fact(f"clearance_{name}"), fact(f"label_{name}"), f"{name} clearance", "in"
    )


def _thimble_over(bore: str, thimble: str, key: str) -> Cond:
    return at_least(Minus(fact(thimble), fact(bore)), length(key), "thimble over the pipe")


# The mark on the pipe replaces the table's figure; whether it may also make one smaller that the
# table gives outright, the text leaves open.
_BY_MARK = at_least(
    fact("piece_clearance"),
    val("piece_listed_clearance", _table_clearance("piece_material")),
    "clearance",
    "in",
)
_BY_TABLE = at_least(fact("piece_clearance"), _table_clearance("piece_material"), "clearance", "in")
_MARK_ALONE = NoSingleFigure("connector.clearance", "as_listed")
GOVERNS = (
    "Ask the authority whether the mark on the pipe or the figure of the table governs for this "
    "appliance."
)

STAMPED = (*DOUBLE, "type_bw", "special", "plastic_listed")
OTHER_VENT = Ask(
    "the distance that this kind of vent needs",
    "This version knows only the distance stamped on listed vent. Read the table of the adopted "
    "code for this kind of pipe or chimney, and the appliance instructions.",
)
_UNLISTED_HOOD = one_of("appliance_clearance_row", "unlisted_draft_hood")
_THIMBLE = ("connector_max_diameter", "connector_thimble_diameter")
_ROOF_THIMBLE = ("vent_max_diameter", "roof_thimble_diameter")

CONNECTOR = (
    Rule(
        "connector_clearance_single_wall_draft_hood_6in",
        "Single-wall connector of a listed hood or Type B appliance keeps its distance",
        HAZARD,
        PIECE,
        applies=SINGLE_PIECE & LISTED_ROW & NEAR,
        needs=_far_enough(_table_clearance("=single_wall")),
        fails="Single-wall connector {name} is {measured} from something that can burn; "
        "{limit} needed: {gap} too near.",
        meets="Single-wall connector {name} keeps {measured}; {limit} needed.",
        remedy="Move the pipe or the material, fit Type B connector, or fit a listed shield.",
        not_asked="Not a single-wall piece of such an appliance near anything that can burn.",
    ),
    Rule(
        "connector_clearance_unlisted_or_no_hood",
        "Single-wall connector of any other appliance keeps its larger distance",
        HAZARD,
        PIECE,
        applies=SINGLE_PIECE & ~LISTED_ROW & NEAR,
        needs=_far_enough(_table_clearance("=single_wall")),
        fails="Single-wall connector {name} is {measured} from something that can burn; "
        "{limit} needed for this appliance: {gap} too near.",
        meets="Single-wall connector {name} keeps {measured}; {limit} needed.",
        remedy="Move the pipe or the material, or fit a listed shield.",
        not_asked="Another row of the table applies, or nothing that can burn is near.",
    ),
    Rule(
        "connector_clearance_to_combustibles",
        "Any other connector is allowed for the appliance and keeps its distance",
        HAZARD,
        PIECE,
        applies=~SINGLE_PIECE & NEAR,
        needs=~NoSingleFigure("connector.clearance", "not_permitted")
        & Doubt(_BY_MARK & (_MARK_ALONE | _BY_TABLE), _BY_MARK, GOVERNS),
        fails="Connector {name} is {measured} from something that can burn; {limit} needed: {gap} "
        "too near.",
        meets="Connector {name} keeps {measured}; {limit} needed.",
        remedy="Give it the distance on its mark or of the table; replace a kind that is not "
        "permitted.",
        not_asked="A single-wall piece, or nothing that can burn is near.",
    ),
    Rule(
        "clearance_reduction_method_allowed",
        "A reduced distance stands on a shield of the table, and keeps the table's figure",
        HAZARD,
        PIECE,
        applies=SINGLE_PIECE
        & NEAR
        & SHIELDED
        & ~at_least(
            fact("piece_clearance"),
            val("piece_listed_clearance", _table_clearance("=single_wall")),
        ),
        needs=gone("piece_listed_clearance")
        & at_least(
            fact("piece_clearance"),
            ReducedClearance("clearance.reduced"),
            "reduced clearance",
            "in",
        )
        & NotAgainst("clearance_reduction_air_gap")
        & RuleMeets("clearance_reduction_extent")
        & NotAgainst("clearance_reduction_insulation_properties"),
        fails="The shield at {name} does not allow this distance.",
        meets="The shield at {name} allows {measured}; {limit} needed behind it.",
        remedy="Rebuild the shield as the table asks, or move the pipe.",
        not_asked="No distance is reduced by a shield at {name}.",
    ),
    Rule(
        "clearance_reduction_air_gap",
        "A ventilated shield stands off the wall with open edges",
        HAZARD,
        PIECE,
        applies=NEAR & SHIELDED & one_of("protection_form", *VENTILATED),
        needs=at_least(fact("protection_air_gap"), length("clearance.air_gap_min"), "air gap")
        & at_least(
            fact("shield_to_pipe_gap"), length("clearance.air_gap_min"), "gap shield to pipe"
        )
        & yes("protection_edges_open")
        & yes("protection_spacers_ok"),
        fails="The shield at {name} lacks its air gap, its open edges or its spacers.",
        meets="The shield at {name} has its air gap and open edges.",
        remedy="Set the shield off the wall on noncombustible spacers, edges open.",
        not_asked="No ventilated shield at {name}.",
    ),
    Rule(
        "clearance_reduction_extent",
        "The shield reaches far enough",
        HAZARD,
        PIECE,
        applies=NEAR & SHIELDED,
        needs=yes("protection_extent_ok"),
        fails="Bare material beside the shield at {name} is too near the pipe.",
        meets="The shield at {name} reaches far enough.",
        remedy="Make the shield wider.",
        not_asked="No shield at {name}.",
    ),
    Rule(
        "clearance_reduction_insulation_properties",
        "The insulation in the shield is dense and stands the heat",
        DEFECT,
        PIECE,
        applies=NEAR & SHIELDED & one_of("protection_form", *WOOL, "insulation_board_air_gap"),
        needs=at_most(
            fact("protection_insulation_k"),
            LimitNum("clearance.insulation_conductivity_max", Dimension.CONDUCTIVITY),
            "conductivity",
        )
        & When(
            one_of("protection_form", *WOOL),
            at_least(
                fact("protection_insulation_density"),
                LimitNum("clearance.wool_density_min", Dimension.DENSITY),
                "wool density",
            )
            & at_least(
                fact("protection_insulation_melt"),
                LimitNum("clearance.wool_melting_min", Dimension.TEMPERATURE),
                "melting point",
            ),
        ),
        fails="The insulation in the shield at {name} does not reach its figures.",
        meets="The insulation in the shield at {name} reaches its figures.",
        remedy="Rebuild the shield with the right board or wool.",
        not_asked="No insulation in a shield at {name}.",
    ),
    Rule(
        "reduction_never_cuts_draft_hood_or_air",
        "A shield leaves hood, air and service free",
        HAZARD,
        PIECE,
        applies=NEAR & SHIELDED,
        needs=no("shield_blocks_air_or_service") & NotAgainst("draft_hood_relief_clearance"),
        fails="The shield at {name} shuts in the hood, the air or the service side.",
        meets="The shield at {name} leaves hood, air and service free.",
        remedy="Cut the shield back.",
        not_asked="No shield at {name}.",
    ),
    Rule(
        "thimble_single_wall_exterior_wall",
        "A single-wall connector passes a combustible outside wall in a ventilated thimble",
        HAZARD,
        PATH,
        applies=any_in("connector_materials", *SINGLE)
        & any_in("connector_passes", "exterior_wall")
        & yes("exterior_wall_combustible"),
        needs=(
            there("connector_thimble")
            & yes("connector_thimble_ventilated")
            & (
                (
                    LISTED_ROW
                    & (
                        _thimble_over(*_THIMBLE, "thimble.over_listed")
                        | (
                            at_least(fact("run_to_thimble"), length("thimble.long_run_from"))
                            & _thimble_over(*_THIMBLE, "thimble.over_listed_long_run")
                        )
                    )
                )
                | (_UNLISTED_HOOD & _thimble_over(*_THIMBLE, "thimble.over_unlisted_hood"))
                | _thimble_over(*_THIMBLE, "thimble.over_other")
            )
        )
        | yes("wall_cut_back"),
        fails="The connector passes a combustible wall without the thimble it needs.",
        meets="The connector passes the wall in a thimble wide enough.",
        remedy="Fit a ventilated thimble of the right size, or cut the wall back and close it "
        "with noncombustible material.",
        not_asked="No single-wall connector passes a combustible outside wall.",
    ),
)

VENT = (
    Rule(
        "type_b_vent_clearance_as_listed",
        "The vent keeps the distance stamped on it",
        HAZARD,
        SECTION,
        applies=NEAR,
        needs=When(
            one_of("vent_piece_material", *STAMPED),
            at_least(fact("piece_clearance"), fact("piece_listed_clearance"), "clearance", "in"),
        )
        & When(~one_of("vent_piece_material", *STAMPED), OTHER_VENT),
        fails="Vent {name} is {measured} from framing; its stamp asks {limit}: {gap} too near.",
        meets="Vent {name} keeps {measured}; its stamp asks {limit}.",
        remedy="Give it the distance on its stamp. Framing is not cut back without a sound "
        "structural repair.",
        not_asked=NOTHING_NEAR,
    ),
    Rule(
        "roof_thimble_single_wall",
        "Single-wall pipe passes a combustible roof in a roof thimble",
        HAZARD,
        PATH,
        applies=any_in("vent_material", "single_wall")
        & any_in("vent_passes", "roof")
        & yes("roof_combustible"),
        needs=there("roof_thimble")
        & no("roof_thimble_ventilated")
        & at_least(fact("roof_thimble_above"), length("thimble.above_roof_min"), "above the roof")
        & at_least(fact("roof_thimble_below"), length("thimble.below_roof_min"), "below the roof")
        & (
            (LISTED_ROW & _thimble_over(*_ROOF_THIMBLE, "thimble.over_listed"))
            | (_UNLISTED_HOOD & _thimble_over(*_ROOF_THIMBLE, "thimble.over_unlisted_hood"))
            | _thimble_over(*_ROOF_THIMBLE, "thimble.over_other")
        ),
        fails="Single-wall pipe passes the roof without the thimble it needs.",
        meets="The roof thimble reaches far enough and is wide enough.",
        remedy="Replace the pipe with Type B and its own flashing.",
        not_asked="No single-wall pipe passes a combustible roof.",
    ),
    Rule(
        "attic_insulation_shield",
        "A shield keeps loose insulation off the vent",
        HAZARD,
        PATH,
        applies=there("insulation_shield"),
        needs=yes("insulation_shield_present")
        & at_least(
            fact("insulation_shield_above"),
            length("vent.insulation_shield_above_min"),
            "shield above the insulation",
        ),
        fails="The insulation shield round the vent is missing or too low: {measured} above the "
        "insulation, {limit} needed.",
        meets="The shield stands {measured} above the insulation; {limit} needed.",
        remedy="Fit the maker's shield, higher than the insulation.",
        not_asked="The vent passes no insulation.",
    ),
    Rule(
        "concealed_vent_shield_plates",
        "Nail plates guard a vent hidden close behind a framing face",
        DEFECT,
        PATH,
        applies=there("notched_framing"),
        needs=at_least(
            fact("vent_to_member_edge"), length("vent.to_framing_face_min"), "distance to the face"
        )
        | yes("shield_plate_present"),
        fails="The hidden vent is {measured} behind the face of the framing ({limit} needed) and "
        "has no plates.",
        meets="The hidden vent is deep enough or guarded by plates.",
        remedy="Fit steel plates over the vent.",
        not_asked="The vent is not hidden in bored or notched framing.",
    ),
    Rule(
        "firestop_at_floor_and_ceiling",
        "A firestop closes each floor and ceiling opening round the vent",
        HAZARD,
        PATH,
        applies=any_in("vent_passes", "floor", "ceiling") & ~any_in("vent_material", "type_bw"),
        needs=yes("firestop_present"),
        fails="No firestop where the vent passes a floor or ceiling.",
        meets="Firestops are fitted where the vent passes floors and ceilings.",
        remedy="Fit the maker's firestop spacer; no foam, caulk or wool against the pipe.",
        not_asked="The vent passes no floor or ceiling.",
    ),
)

APPLIANCE = (
    Rule(
        "draft_hood_relief_clearance",
        "The relief opening of the draft hood has room all round",
        HAZARD,
        PATH,
        applies=yes("draft_hood_present"),
        needs=at_least(
            fact("draft_hood_relief_clearance"),
            Val("draft_hood_label_clearance", length("hood.relief_clearance_min")),
            "room round the relief opening",
            "in",
        ),
        fails="The relief opening has {measured} of room; {limit} needed: {gap} too little.",
        meets="The relief opening has {measured} of room; {limit} needed.",
        remedy="Move what stands in the way, or the appliance.",
        not_asked="{name} has no draft hood.",
    ),
    Rule(
        "appliance_clearance_as_listed",
        "The appliance keeps the distances on its plate",
        DEFECT,
        PATH,
        applies=yes("appliance_listed"),
        needs=_side("front") & _side("back") & _side("sides") & _side("top"),
        fails="{name} has {measured} of room on one side; its plate asks {limit}.",
        meets="{name} keeps the distances on its plate.",
        remedy="Move the appliance or what stands beside it.",
        not_asked="The appliance is not listed.",
    ),
    Rule(
        "unlisted_water_heater_clearance",
        "An unlisted water heater keeps its distance",
        DEFECT,
        PATH,
        applies=one_of("appliance_kind", "storage water heater", "instantaneous water heater")
        & no("appliance_listed"),
        needs=at_least(
            fact("clearance_sides"), length("appliance.unlisted_water_heater_clearance_min"), "side"
        )
        & at_least(
            fact("clearance_back"), length("appliance.unlisted_water_heater_clearance_min"), "back"
        )
        & (no("floor_combustible") | yes("combustible_floor_protected")),
        fails="The unlisted water heater has {measured} of room; {limit} needed, and a floor that "
        "cannot burn or is protected.",
        meets="The unlisted water heater keeps {measured}; {limit} needed.",
        remedy="Replace it with a listed one.",
        not_asked="Not an unlisted water heater.",
    ),
)
RULES = CONNECTOR + VENT + APPLIANCE
