"""Rises, heights, manifold, offsets and elbows of a common vent, each worked out by hand."""

from __future__ import annotations

from typing import Any

import pytest
from tests.common_surveys import Data, common_data, survey_of, verdict_of

from fluewright import geometry_common as geometry
from fluewright.finding import Verdict
from fluewright.geometry_common import Shared, shared
from fluewright.quantity import Measured, NotMeasured

FOOT, INCH = 0.3048, 0.0254


def told(**more: Any) -> Data:
    """Two hoods on 12 ft of vent: rises 2 ft and 3 ft to the center of the tee."""
    given = {
        "appliances": [
            {"input_kbtu_h": 40, "draft": "draft_hood", "outlet_in": 4, "connector_in": 4,
             "rise_ft": 2, "length_ft": 3, "wall": "single"},
            {"input_kbtu_h": 90, "draft": "draft_hood", "outlet_in": 5, "connector_in": 5,
             "rise_ft": 3, "length_ft": 5, "wall": "single"},
        ],
        "height_ft": 12, "vent_in": 6, "wall": "type_b",
    }  # fmt: skip
    return common_data(given | more)


def placed(data: Data) -> Shared:
    found = shared(survey_of(data), "trunk")
    assert found is not None
    return found


def feet(value: Measured | NotMeasured) -> float:
    assert isinstance(value, Measured), value
    return value.value / FOOT


def test_rise_is_to_the_center_where_the_gases_meet_from_either_side() -> None:
    found = placed(told())
    assert feet(geometry.connector_rise(found, "a")) == pytest.approx(2.0)
    # Through from below: 2.5 ft of its own and half a foot of the tee.
    assert feet(geometry.connector_rise(found, "b")) == pytest.approx(3.0)


def test_without_the_center_of_the_tee_the_rise_is_anything_in_it() -> None:
    data = told()
    del data["common"]["trunk"]["pieces"][0]["leg"]
    found = placed(data)
    rise = geometry.connector_rise(found, "b")
    assert isinstance(rise, Measured)
    assert (rise.low / FOOT, rise.high / FOOT) == pytest.approx((2.5, 3.5))
    assert feet(geometry.connector_rise(found, "a")) == pytest.approx(2.0)


def test_without_the_way_in_the_rise_reaches_over_the_tee() -> None:
    data = told()
    del data["paths"][0]["enters"]["way"]
    rise = geometry.connector_rise(placed(data), "a")
    assert isinstance(rise, Measured)
    assert (rise.low / FOOT, rise.high / FOOT) == pytest.approx((2.0, 3.0))


def test_height_counts_from_the_highest_outlet() -> None:
    # The water heater's outlet lies 1 ft over the furnace's: 12 ft is the lesser height.
    assert feet(geometry.common_height(placed(told()))) == pytest.approx(12.0)


def test_an_appliance_that_was_taken_out_has_no_height() -> None:
    data = told()
    data["appliances"]["a"]["taken_out"] = True
    found = placed(data)
    assert [one.name for one in found.joined] == ["b"]
    assert feet(geometry.common_height(found)) == pytest.approx(13.0)


def test_a_piece_without_its_length_leaves_the_height_open() -> None:
    data = told()
    del data["common"]["trunk"]["pieces"][1]["length"]
    assert isinstance(geometry.common_height(placed(data)), NotMeasured)


def test_offset_and_its_elbows() -> None:
    found = placed(told(offset_ft=4, offset_deg=60))
    assert feet(geometry.offset_length(found)) == pytest.approx(4.0)
    assert geometry.elbows(found) == pytest.approx((60.0, 60.0))
    assert feet(geometry.common_height(found)) == pytest.approx(12.0)
    assert geometry.manifold(found) == ()
    assert feet(geometry.manifold_length(found)) == 0.0


def test_a_straight_vent_has_neither() -> None:
    found = placed(told())
    assert feet(geometry.offset_length(found)) == 0.0
    assert geometry.elbows(found) == ()


def manifolded() -> Data:
    """A level tee of 1 ft, 3 ft of level pipe, an elbow up, then the vent."""
    data = told()
    like = {"role": "vent", "wall": "type_b", "diameter": "6 in ± 0 in"}
    level = {"length": "3 ft ± 0 ft", "runs": "level", "slope": "0 in per ft ± 0 in per ft"}
    pieces = data["common"]["trunk"]["pieces"]
    pieces[0].update(runs="level", slope="0 in per ft ± 0 in per ft")
    pieces[1:1] = [
        {"id": "m1", "part": "straight"} | like | level,
        {"id": "m2", "part": "elbow", "angle": "90 deg", "leg": "6 in ± 0 in"} | like,
    ]
    return data


def test_a_manifold_is_the_level_part_ahead_of_the_vertical_vent() -> None:
    found = placed(manifolded())
    assert [item.piece.id for item in geometry.manifold(found)][:2] == ["t1", "m1"]
    assert [item.piece.id for item in geometry.after_manifold(found)][-2:] == ["v1", "cap"]
    # The tee 1 ft and the pipe 3 ft.
    assert feet(geometry.manifold_length(found)) == pytest.approx(4.0)
    assert geometry.elbows(found) == (90.0,)
    assert feet(geometry.offset_length(found)) == pytest.approx(0.0)


def test_where_a_connector_ends_in_a_reducer_its_wide_end_enters() -> None:
    data = told()
    data["paths"][0]["pieces"].append(
        {"id": "r", "part": "reducer", "role": "connector", "wall": "single",
         "diameter": "4 in ± 0 in", "to_diameter": "5 in ± 0 in", "length": "6 in ± 0 in",
         "runs": "up"}
    )  # fmt: skip
    bore = geometry.end_bore(placed(data).joined[0])
    assert isinstance(bore, Measured)
    assert bore.value / INCH == pytest.approx(5.0)


SIZED = "vent_sized_by_accepted_method"


def test_silence_about_one_appliance_leaves_the_common_vent_open() -> None:
    assert verdict_of(told(), SIZED, "b") is Verdict.MEETS
    for strike in ("input", "draft"):
        data = told()
        del data["appliances"]["a"][strike]
        assert verdict_of(data, SIZED, "b") is Verdict.CANNOT_TELL, strike


def test_a_common_vent_that_one_path_alone_joins_is_no_vent_of_one() -> None:
    data = told()
    del data["paths"][0]
    assert verdict_of(data, SIZED, "b") is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    ("flue", "exterior", "verdict"),
    [
        # 38 in2, two hoods: 129 at 10 ft, 150 at 15 ft; at 12 ft 137.4 kBtu/h, and 130 burn
        ("38 in2 ± 0 in2", False, Verdict.MEETS),
        # 28 in2: 89 and 105, at 12 ft 95.4 kBtu/h; and perhaps 38
        ("36 in2 ± 1 in2", False, Verdict.FAILS),
        ("36 in2 ± 3 in2", False, Verdict.CANNOT_TELL),
        (None, False, Verdict.CANNOT_TELL),
        ("38 in2 ± 0 in2", None, Verdict.CANNOT_TELL),
    ],
)
def test_an_interior_chimney_goes_by_the_area_of_its_flue(
    flue: str | None, exterior: bool | None, verdict: Verdict
) -> None:
    data = told(wall="masonry")
    trunk = data["common"]["trunk"]
    for piece in trunk["pieces"]:
        piece.pop("diameter", None)
    trunk["chimney"] = {"kind": "masonry", "liner": "clay"} | ({"flue_area": flue} if flue else {})
    if exterior is not None:
        trunk["chimney"]["exterior"] = exterior
    assert verdict_of(data, SIZED, "b") is verdict


def test_an_exterior_chimney_has_no_figure_of_the_tables_for_interior_ones() -> None:
    data = told(wall="masonry")
    chimney = {"kind": "masonry", "liner": "clay", "flue_area": "38 in2 ± 0 in2", "exterior": True}
    data["common"]["trunk"]["chimney"] = chimney
    assert verdict_of(data, SIZED, "b") is not Verdict.MEETS


@pytest.mark.parametrize(
    ("spaces", "told_floors", "verdict"),
    [
        (("cellar", "cellar"), None, Verdict.MEETS),  # one room, so one floor
        (("cellar", "hall"), None, Verdict.CANNOT_TELL),
        (("cellar", "hall"), False, Verdict.MEETS),
        (("cellar", "hall"), True, Verdict.CANNOT_TELL),
    ],
)
def test_the_tables_for_one_floor_are_used_on_one_floor_alone(
    spaces: tuple[str, str], told_floors: bool | None, verdict: Verdict
) -> None:
    data = told()
    data["spaces"]["hall"] = {"kind": "room"}
    for name, space in zip("ab", spaces, strict=True):
        data["appliances"][name]["space"] = space
    if told_floors is not None:
        data["common"]["trunk"]["vent"]["shared_flue"] = {"several_floors": told_floors}
    assert verdict_of(data, SIZED, "b") is verdict
