"""Where a cap may stand, against the worked examples of a roof and a wall done by hand.

Limits as the Uniform Mechanical Code 2012, 802.6.2(1) and Table 802.6.2 have them (read in the
text of the 2013 California Mechanical Code): 8 ft from a wall, 2 ft over the roof and over any
part of a building within 10 ft; 1.0 ft up to 6/12, 1.25 ft over 6/12 to 7/12, and so on.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.cap_place import CapLimits, CapSite, Place, Thing, cap_region, site_of
from fluewright.quantity import Dimension, Measured
from fluewright.survey import ABSENT, Near, Path, Piece, Roof

FOOT = 0.3048
INCH = 0.0254
LIMITS = CapLimits(
    wall_from_m=8 * FOOT,
    pitch_table=(
        (6.0, 1.0 * FOOT), (7.0, 1.25 * FOOT), (8.0, 1.5 * FOOT), (9.0, 2.0 * FOOT),
        (12.0, 4.0 * FOOT),
    ),
    near_above_roof_m=2 * FOOT,
    near_above_building_m=2 * FOOT,
    near_within_m=10 * FOOT,
    table_up_to_m=12 * INCH,
)  # fmt: skip


def ft(value: float, bound: float = 0.0) -> Measured:
    return Measured(value * FOOT, Dimension.LENGTH, bound * FOOT)


def site(
    height: Measured | None, wall_ft: Measured | None, top: Measured | None = None, **other: object
) -> CapSite:
    """A roof of 4/12 whose ridge stands right at the pipe, so that only the wall counts."""
    values: dict[str, object] = {
        "height": height,
        "pitch": Measured(4 / 12, Dimension.SLOPE),
        "ridge_m": (0.0, 0.0),
        "wall": Thing("wall", wall_ft, top) if wall_ft or top else None,
        "others": (),
        "looked_around": True,
        "table_serves": True,
    }
    return CapSite(**{**values, **other})  # type: ignore[arg-type]


def test_far_from_a_wall_the_pitch_table_decides() -> None:
    region = cap_region(site(ft(1.0), ft(8.0), ft(6.0)), LIMITS)
    assert region.place is Place.INSIDE
    assert region.up is None
    low = cap_region(site(ft(0.99), ft(8.0), ft(6.0)), LIMITS)
    assert low.place is Place.OUTSIDE
    assert low.up is not None
    assert low.up.up_m == pytest.approx(0.01 * FOOT)


def test_near_a_wall_two_feet_over_its_top() -> None:
    """Wall 5 ft away, 6 ft high: 8 ft needed; 15 in there: 81 in up, or 3 ft away and up 0."""
    region = cap_region(site(ft(1.25), ft(5.0), ft(6.0)), LIMITS)
    assert region.place is Place.OUTSIDE
    assert region.up is not None
    assert region.up.up_m == pytest.approx(6.75 * FOOT)
    assert region.sideways is not None
    assert region.sideways.sideways_m == pytest.approx(3.0 * FOOT)
    assert region.shortest == region.sideways


def test_the_way_in_may_be_sideways_and_up() -> None:
    """Wall 7 ft away, cap at 6 in: 1 ft sideways and 6 in up, 13.4 in together."""
    region = cap_region(site(ft(0.5), ft(7.0), ft(6.0)), LIMITS)
    assert region.sideways is None
    assert region.shortest is not None
    assert region.shortest.sideways_m == pytest.approx(1.0 * FOOT)
    assert region.shortest.up_m == pytest.approx(0.5 * FOOT)
    assert region.shortest.length_m == pytest.approx((1 + 0.25) ** 0.5 * FOOT)


def test_worked_example_wall_of_a_higher_storey() -> None:
    """Lower roof 4/12, wall 6 ft away, highest part within 10 ft at 10.7 ft: 12.7 ft needed."""
    region = cap_region(site(ft(1.0), ft(6.0), ft(10.7)), LIMITS)
    (step,) = (s for s in region.steps if s.start_m <= 6 * FOOT < s.end_m)
    assert step.needed_m == pytest.approx(12.7 * FOOT)
    assert region.sideways is not None
    assert region.sideways.sideways_m == pytest.approx(2.0 * FOOT)


@pytest.mark.parametrize(
    ("ridge_ft", "needed_ft"), [(12.0, 7.0), (4.0, 4.0)], ids=["ridge far", "ridge near"]
)
def test_worked_example_roof_climbing_past_a_near_wall(ridge_ft: float, needed_ft: float) -> None:
    """6/12: at 10 ft the roof is 5 ft up, a ridge 4 ft away 2 ft up; and 2 ft over that."""
    reach = min(10.0, ridge_ft) * FOOT
    made = site(ft(1), ft(5), ft(0.5), pitch=Measured(0.5, Dimension.SLOPE), ridge_m=(reach, reach))
    step = cap_region(made, LIMITS).steps[0]
    assert step.needed_m == pytest.approx(needed_ft * FOOT)
    assert step.enough_m == pytest.approx(needed_ft * FOOT)


@pytest.mark.parametrize(
    ("height_ft", "bound_ft", "place"),
    [(1.2, 0.1, Place.INSIDE), (1.05, 0.1, Place.CANNOT_TELL), (0.8, 0.1, Place.OUTSIDE)],
)
def test_a_bound_astride_the_limit_cannot_tell(
    height_ft: float, bound_ft: float, place: Place
) -> None:
    assert cap_region(site(ft(height_ft, bound_ft), ft(9.0), ft(6.0)), LIMITS).place is place


@pytest.mark.parametrize(
    ("away_ft", "bound_ft", "place"),
    [(8.2, 0.1, Place.INSIDE), (8.05, 0.1, Place.CANNOT_TELL), (7.8, 0.1, Place.OUTSIDE)],
)
def test_a_distance_astride_the_limit_cannot_tell(
    away_ft: float, bound_ft: float, place: Place
) -> None:
    assert cap_region(site(ft(1.5), ft(away_ft, bound_ft), ft(6.0)), LIMITS).place is place


def test_a_pitch_astride_a_row_asks_for_the_higher() -> None:
    made = site(ft(1.1), None, pitch=Measured(0.5, Dimension.SLOPE, 0.02))
    region = cap_region(made, LIMITS)
    assert region.place is Place.CANNOT_TELL
    assert region.up is not None
    assert region.up.up_m == pytest.approx(0.15 * FOOT)


def test_a_roof_steeper_than_the_table_has_no_height() -> None:
    region = cap_region(site(ft(9), None, pitch=Measured(2.5, Dimension.SLOPE)), LIMITS)
    assert region.place is Place.CANNOT_TELL
    assert region.steps[0].why == "steeper than the table goes: an engineer decides"


def test_what_is_not_known_is_never_inside() -> None:
    high = ft(50)
    assert cap_region(site(None, ft(9), ft(6)), LIMITS).place is Place.CANNOT_TELL
    assert cap_region(site(high, ft(5), None), LIMITS).place is Place.CANNOT_TELL
    assert cap_region(site(high, None, ft(6)), LIMITS).place is Place.INSIDE  # over all of it
    assert cap_region(site(ft(3), None, ft(6)), LIMITS).place is Place.CANNOT_TELL
    assert cap_region(site(high, None, pitch=None), LIMITS).place is Place.CANNOT_TELL
    assert cap_region(site(high, None, looked_around=False), LIMITS).place is Place.CANNOT_TELL
    listed = cap_region(site(ft(1.5), None, table_serves=None), LIMITS)
    assert listed.place is Place.CANNOT_TELL


def test_a_large_vent_or_unlisted_cap_takes_the_near_rule_everywhere() -> None:
    region = cap_region(site(ft(1.5), ft(12), ft(6), table_serves=False), LIMITS)
    assert region.place is Place.OUTSIDE
    assert region.up is not None
    assert region.up.up_m == pytest.approx(0.5 * FOOT)  # the wall lies outside the circle


def test_moving_away_from_one_wall_may_come_near_another() -> None:
    """Second wall 9 ft away, 3 ft high, direction not known.

    At 8 ft from the first the second may be 6 ft away, so the near rule holds and the first is
    still within 10 ft: 8 ft needed. Just past 10 ft only the second counts: 3 ft and 2 ft over
    it, 3.75 ft up and 5 ft sideways; that is shorter than 6.75 ft straight up.
    """
    second = Thing("parapet", ft(9), ft(3))
    region = cap_region(site(ft(1.25), ft(5), ft(6), others=(second,)), LIMITS)
    assert region.sideways is None
    assert region.shortest is not None
    assert region.shortest.sideways_m == pytest.approx(5 * FOOT, abs=1e-5)
    assert region.shortest.up_m == pytest.approx(3.75 * FOOT)


def test_the_site_is_read_from_the_survey() -> None:
    path = Path(
        from_="heater",
        pieces=(
            Piece(id="v", part="straight", role="vent", diameter=ft(4 / 12)),
            Piece(id="cap", part="cap", listed=True),
        ),
        roof=Roof(
            pitch=Measured(7 / 12, Dimension.SLOPE), cap_above_penetration=ft(1.25), ridge=ABSENT,
            near=(
                Near(kind="parapet", horizontal=ft(9)),
                Near(kind="wall", horizontal=ft(5), top_above_penetration=ft(6)),
                Near(kind="eave", horizontal=ft(2), top_above_penetration=ft(1)),
            ),
        ),
    )  # fmt: skip
    made = site_of(path, LIMITS)
    assert made.wall == Thing("wall", ft(5), ft(6))
    assert [t.name for t in made.others] == ["parapet", "eave"]
    assert made.ridge_m == (10 * FOOT, 10 * FOOT)
    assert made.table_serves is True
    assert cap_region(made, LIMITS).missing == ("top of the parapet over the roof at the vent",)


def test_a_survey_without_a_roof_names_what_to_measure() -> None:
    region = cap_region(site_of(Path(from_="heater"), LIMITS), LIMITS)
    assert region.place is Place.CANNOT_TELL
    assert len(region.missing) == 4
    assert region.boundary == ()


feet = st.floats(0.0, 14.0)
bounds = st.floats(0.0, 0.5)


@given(height=feet, away=feet, top=feet, b1=bounds, b2=bounds, b3=bounds, pitch=st.floats(0, 1))
def test_after_any_move_the_cap_stands_inside(
    height: float, away: float, top: float, b1: float, b2: float, b3: float, pitch: float
) -> None:
    b2 = min(b2, away)  # no distance is less than nothing
    made = site(
        ft(height, b1), ft(away, b2), ft(top, b3), pitch=Measured(pitch, Dimension.SLOPE, 0.01)
    )
    region = cap_region(made, LIMITS)
    for move in (region.up, region.sideways, region.shortest):
        if move is None:
            continue
        at = Measured(away * FOOT + move.sideways_m, Dimension.LENGTH, b2 * FOOT)
        up = Measured(height * FOOT + move.up_m, Dimension.LENGTH, b1 * FOOT)
        moved = site(up, at, ft(top, b3), pitch=made.pitch)
        assert cap_region(moved, LIMITS).place is Place.INSIDE
    if region.place is Place.INSIDE:
        assert region.up is region.sideways is region.shortest is None
    elif region.shortest is not None and region.up is not None:
        assert region.shortest.length_m <= region.up.length_m + 1e-12


@given(height=feet, away=feet, top=feet, more=bounds)
def test_a_wider_bound_never_turns_cannot_tell_into_an_answer(
    height: float, away: float, top: float, more: float
) -> None:
    exact = cap_region(site(ft(height), ft(away), ft(top)), LIMITS).place
    wide = cap_region(site(ft(height, more), ft(away, more), ft(top, more)), LIMITS).place
    assert wide in (exact, Place.CANNOT_TELL)
