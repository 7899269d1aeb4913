"""Figures of weather and carbon monoxide: the grave end, said first, in a plot that fits."""

from __future__ import annotations

from typing import get_args

import pytest
from tests.draft.test_spilled_co import told
from tests.draft.test_venting_year import year

from fluewright.draft.spilled_co import SpilledCo
from fluewright.drawing import plot
from fluewright.drawing.draft_year_co import exposure_figure, year_bars
from fluewright.drawing.layout import layout_check
from fluewright.drawing.plot.data import Size
from fluewright.drawing.words import Style
from fluewright.errors import OutOfRange

SIZES: tuple[Size, ...] = get_args(Size)
STYLES: tuple[Style, ...] = get_args(Style)
PLACE = "Weather of Invented Hollow (invented for tests)"


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("room_pa", [0.0, -5.0])
def test_bars_of_a_year_fit_and_hold_the_bad_end(size: Size, style: Style, room_pa: float) -> None:
    found = year(room_pa)
    figure = year_bars(found, PLACE, style, size)
    assert not layout_check(plot.probability_bars(figure))
    assert found.fails_to_start is not None
    assert sum(one.spilled for one in figure.bins) == pytest.approx(found.fails_to_start.high)
    assert figure.alarm
    assert f"{found.fails_to_start.high:,.0f} hours a year" in figure.answer
    assert "Few hours are no pass" in figure.caution


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("room_pa", "scenario"), [(0.0, 0), (-3.0, 0), (-3.0, 1), (-20.0, 1)])
def test_exposures_fit_and_draw_the_grave_end(size: Size, room_pa: float, scenario: int) -> None:
    one = told(room_pa)[scenario]
    figure = exposure_figure(one, size)
    assert not layout_check(plot.exposure_plot(figure))
    assert figure.alarm
    assert one.found is not None
    rooms = one.found.high.rooms[0].values
    assert max(breath.co_ppm for breath in figure.breaths) <= max(rooms)
    assert figure.breaths[0].time == 0.0
    blood = max(figure.breaths, key=lambda breath: breath.cohb_percent).cohb_percent
    if one.found.high.reached[-1].at_s is not None:  # the gravest level stands in the plot
        assert blood > 30.0
    assert "Carbon monoxide harms before an alarm sounds" in figure.caution


def test_a_scenario_without_figures_is_not_drawn() -> None:
    with pytest.raises(OutOfRange, match="has no figures: why"):
        exposure_figure(SpilledCo(name="as computed", what="", reason="why"))
    with pytest.raises(OutOfRange, match="nothing spills, so there is nothing to draw"):
        exposure_figure(told(0.0)[1])
