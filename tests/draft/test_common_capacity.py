"""Capacity of a vent that appliances share, by the model: limits and likeness."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tools.capacity_cells import FOOT_M, INCH_M

from fluewright.draft.capacity_model import Arrangement, carried_input
from fluewright.draft.common_capacity import (
    CommonArrangement,
    Connector,
    common_capacity,
    connector_capacity,
    each_capacity,
)
from fluewright.errors import NotSolved, OutOfRange
from fluewright.files.physics import code_bases


def connector(kind: str = "code_nat", size_in: float = 4.0, **more: object) -> Connector:
    made = Connector(
        basis=code_bases()[kind], diameter_m=size_in * INCH_M, rise_m=1.0 * FOOT_M,
        lateral_m=4.0 * FOOT_M, wall="type_b",
    )  # fmt: skip
    return replace(made, **more)  # type: ignore[arg-type]


def shared(*connectors: Connector, size_in: float = 5.0, tee: float = 1.25) -> CommonArrangement:
    return CommonArrangement(
        height_m=15.0 * FOOT_M, diameter_m=size_in * INCH_M, vent="type_b",
        basis=code_bases()["code_nat"], connectors=connectors, tee_loss=tee,
    )  # fmt: skip


def test_one_connector_of_the_vents_size_is_the_vent_of_one_appliance() -> None:
    # Rise of nearly nothing, two elbows, no tee: the arrangement of Table 13.1(a), its model.
    given = shared(connector(rise_m=1e-9), size_in=4.0, tee=0.0)
    lone = Arrangement(height_m=given.height_m, lateral_m=4.0 * FOOT_M, diameter_m=4.0 * INCH_M,
                       vent="type_b", connector="type_b", elbows_deg=(90.0, 90.0))  # fmt: skip
    want = carried_input(lone, code_bases()["code_nat"]).input_w
    # The second elbow meets the gas before instead of after it has cooled in the lateral.
    assert common_capacity(given).input_w == pytest.approx(want, rel=0.02)


def test_like_appliances_are_at_capacity_together() -> None:
    given = shared(connector(), connector())
    together, each = common_capacity(given), each_capacity(given)
    assert each.inputs_w[0] == pytest.approx(each.inputs_w[1], rel=1e-9)
    assert each.input_w == pytest.approx(together.input_w, rel=1e-7)
    assert together.foot_pa < 0.0
    alone = connector_capacity(given, 1, [together.inputs_w[0]])
    assert alone.input_w == pytest.approx(together.input_w, rel=1e-7)
    more = connector_capacity(given, 1, [0.5 * together.inputs_w[0]])
    assert more.inputs_w[1] > together.inputs_w[1]
    assert more.spare_pa[1] == pytest.approx(0.0, abs=1e-6)


def test_shares_say_who_is_bound() -> None:
    given = shared(connector(share=3.0), connector(share=1.0))
    found = common_capacity(given)
    assert found.inputs_w[0] == pytest.approx(3.0 * found.inputs_w[1])
    assert found.spare_pa[0] == pytest.approx(0.0, abs=1e-6)
    assert found.spare_pa[1] > 0.1
    assert found.input_w < common_capacity(shared(connector(), connector())).input_w


def test_room_air_through_an_idle_hood_costs_capacity() -> None:
    idle = each_capacity(shared(connector(), connector(idle=True)))
    none = each_capacity(shared(connector()))
    assert idle.inputs_w[1] == 0.0
    assert 0.0 < idle.inputs_w[0] < none.inputs_w[0]


def test_a_square_flue_carries_less_than_a_round_one_of_its_area() -> None:
    # Of equal areas the square has the longer edge: more friction and more wall to lose heat to.
    round_one = shared(connector(), connector(), size_in=6.0)
    area_m2 = math.pi / 4.0 * round_one.diameter_m**2
    square = replace(round_one, diameter_m=math.sqrt(area_m2), area_m2=area_m2)
    more, less = each_capacity(round_one).input_w, each_capacity(square).input_w
    assert 0.9 * more < less < more
    assert each_capacity(replace(round_one, area_m2=area_m2)).input_w == pytest.approx(more)


def test_height_rise_and_size_carry_more() -> None:
    vent = shared(connector(), connector())
    less = each_capacity(vent).input_w
    risen = connector(rise_m=3.0 * FOOT_M)
    for more in (
        replace(vent, height_m=1.5 * vent.height_m),
        replace(vent, diameter_m=1.2 * vent.diameter_m),
        replace(vent, connectors=(connector(size_in=5.0), connector(size_in=5.0))),
    ):
        assert each_capacity(more).input_w > 1.02 * less
    idle = replace(vent, connectors=(connector(), connector(idle=True)))
    lifted = replace(vent, connectors=(risen, connector(rise_m=3.0 * FOOT_M, idle=True)))
    assert each_capacity(lifted).input_w > each_capacity(idle).input_w
    assert (
        each_capacity(replace(vent, connectors=(connector(wall="single_wall"),) * 2)).input_w < less
    )


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRange, match="leaves nothing above the connectors"):
        common_capacity(shared(connector(rise_m=10.0, lateral_m=0.0)))
    with pytest.raises(OutOfRange, match="share of at least 0"):
        common_capacity(shared(connector(share=-1.0)))
    with pytest.raises(OutOfRange, match="all appliances are idle"):
        each_capacity(shared(connector(idle=True)))
    with pytest.raises(OutOfRange, match="connector 1 with 0 others of 2"):
        connector_capacity(shared(connector(), connector()), 1, [])
    with pytest.raises(OutOfRange, match="wall 'brass'"):
        common_capacity(shared(connector(wall="brass")))
    heavy = replace(code_bases()["code_nat"], molar_kg_kmol=30.0)  # cooled, it sinks
    with pytest.raises(NotSolved, match="no input is carried"):
        common_capacity(shared(connector(basis=heavy, rise_m=0.0, lateral_m=1e4, size_in=0.5)))
