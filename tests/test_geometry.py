"""Lengths and heights of a path: worked by hand from what the code's words mean, and by chance.

The worked figures are ours: derived by hand from the definitions of lengths and heights (UMC 2012
802.6.1, 802.10.7, 803.1.3; UPC 2012 509.6.1, 510.1.2), not printed by any standard.
"""

from __future__ import annotations

import math
from random import Random
from typing import Any, Literal

import pytest

from fluewright import geometry
from fluewright.facts import Scope, subjects
from fluewright.facts.terminal import FACTS as TERMINAL
from fluewright.geometry import ELBOW_COLLAR_M, ELBOW_DOUBT_M, Trace
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Appliance, Job, Near, Path, Piece, Roof, Survey

FT, IN = 0.3048, 0.0254


def length(value_m: float, tolerance_m: float = 0.0) -> Measured:
    return Measured(value_m, Dimension.LENGTH, tolerance_m)


def angle(value: float, tolerance: float = 0.0) -> Measured:
    return Measured(value, Dimension.ANGLE, tolerance)


def slope(value: float, tolerance: float = 0.0) -> Measured:
    return Measured(value, Dimension.SLOPE, tolerance)


def up(name: str, feet: float, role: Literal["connector", "vent"] = "connector") -> Piece:
    return Piece(id=name, part="straight", role=role, runs="up", length=length(feet * FT))


def corner(name: str, degrees: float, role: Literal["connector", "vent"] = "connector") -> Piece:
    """An elbow without length: the runs beside it are given to the corner of the center line."""
    return Piece(id=name, part="elbow", role=role, angle=angle(degrees), leg=length(0.0))


def over(name: str, feet: float, fall: float = 0.25 / 12) -> Piece:
    """A run of so many feet level, climbing 1/4 in per ft unless told otherwise."""
    along = feet * FT * math.hypot(1.0, fall)
    return Piece(
        id=name, part="straight", role="connector", length=length(along), slope=slope(fall)
    )


def feet(found: geometry.Length) -> float:
    assert isinstance(found, Measured), found
    return found.value / FT


# Hood outlet at 5.0 ft, 1.0 ft up, 3.0 ft east and 2.0 ft north at 1/4 in per ft, then up to 7.5 ft
# where the vent starts; lowest opening of the cap at 17.5 ft.
CLIMB_FT = 5.0 * 0.25 / 12
CONNECTOR = (
    up("c1", 1.0),
    corner("e1", 90.0),
    over("c2", 3.0),
    corner("e2", 90.0),
    over("c3", 2.0),
    corner("e3", 90.0),
    up("c4", 1.5 - CLIMB_FT),
)


def traced(*vent: Piece) -> Trace:
    return geometry.trace(Path(from_="heater", pieces=(*CONNECTOR, *vent)), True)


def test_the_worked_connector() -> None:
    found = traced(up("v1", 10.0, "vent"))
    assert feet(geometry.connector_horizontal(found)) == pytest.approx(5.0)  # 3 + 2, not 3.6
    assert feet(geometry.vent_height(found)) == pytest.approx(12.5)  # 17.5 - 5.0
    assert feet(geometry.height_above_connector(found)) == pytest.approx(10.0)  # 17.5 - 7.5
    assert feet(geometry.lateral(found)) == pytest.approx(5.0)
    assert feet(geometry.horizontal_for_75_percent(found)) == pytest.approx(5.0)
    # 1.0 + 5.0 + 1.5 = 7.5 ft, less the 0.10 ft that the runs climb instead of the last upright.
    assert feet(geometry.connector_center_line(found)) == pytest.approx(7.5, abs=0.11)
    assert feet(geometry.first_rise(found)) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("degrees", "counts"),
    [(45.0, 5.0), (60.0, 8.0)],  # a 45 degree run is not horizontal, a 60 degree run is
)
def test_the_worked_offset(degrees: float, counts: float) -> None:
    along = 3.0 / math.sin(math.radians(degrees))
    offset = Piece(
        id="v2", part="straight", role="vent", tilt=angle(degrees), length=length(along * FT)
    )
    vent = (up("v1", 4.0, "vent"), corner("o1", degrees, "vent"), offset)
    found = traced(*vent, corner("o2", degrees, "vent"), up("v3", 3.0, "vent"))
    assert feet(geometry.lateral(found)) == pytest.approx(8.0)  # 5.0 + 3.0 at any angle
    assert feet(geometry.horizontal_for_75_percent(found)) == pytest.approx(counts)


def test_an_offset_by_listed_fittings_is_as_steep_as_they_are() -> None:
    """A gauge that reads 45 ± 5 on pipe between two 45 degree fittings says nothing against it."""
    offset = Piece(id="v2", part="straight", role="vent", tilt=angle(45.0, 5.0), length=length(1.0))
    vent = (up("v1", 4.0, "vent"), corner("o1", 45.0, "vent"), offset)
    found = traced(*vent, corner("o2", 45.0, "vent"), up("v3", 3.0, "vent"))
    assert geometry.horizontal_for_75_percent(found) == geometry.connector_horizontal(found)


def test_an_offset_that_may_be_steep_may_count() -> None:
    offset = Piece(id="v1", part="straight", role="vent", tilt=angle(45.0, 5.0), length=length(1.0))
    counted = geometry.horizontal_for_75_percent(traced(offset))
    connector = geometry.connector_horizontal(traced(offset))
    assert isinstance(counted, Measured)
    assert isinstance(connector, Measured)
    assert counted.low == pytest.approx(connector.low)
    assert counted.high == pytest.approx(connector.high + math.sin(math.radians(50.0)))


def test_a_run_said_to_go_up_still_counts_its_sideways_part() -> None:
    run = Piece(
        id="v1", part="run", role="vent", runs="up", rise=length(3.0), horizontal=length(2.0),
        elbows=(angle(90.0), angle(90.0)),
    )  # fmt: skip
    found = traced(run)
    counted = geometry.horizontal_for_75_percent(found)
    assert feet(counted) == pytest.approx(5.0 + 2.0 / FT)
    assert isinstance(geometry.offset_angles(found), NotMeasured)


def test_a_straight_run_has_the_angle_of_its_rise_over_its_run() -> None:
    run = Piece(
        id="v1", part="run", role="vent", rise=length(1.0), horizontal=length(2.0), elbows=ABSENT
    )
    found = traced(run)
    angles = geometry.offset_angles(found)
    assert isinstance(angles, tuple)
    assert [a.value for a in angles] == [pytest.approx(math.degrees(math.atan2(2.0, 1.0)))]


CONTRADICTORY: tuple[dict[str, Any], ...] = (
    {"runs": "up", "slope": slope(0.25 / 12)},
    {"runs": "down", "tilt": angle(10.0)},
    {"tilt": angle(100.0), "slope": slope(0.04)},
    {"runs": "level", "tilt": angle(20.0)},
)


@pytest.mark.parametrize("said", CONTRADICTORY)
def test_a_piece_that_says_two_things_has_no_direction(said: dict[str, Any]) -> None:
    piece = Piece(id="v1", part="straight", role="vent", length=length(1.0), **said)
    found = traced(piece)
    assert isinstance(geometry.vent_height(found), NotMeasured)
    assert geometry.oddities(found) == ("v1: what is said of its direction cannot all be true",)


def test_a_vent_that_leads_downward_is_remarked() -> None:
    piece = Piece(id="v2", part="straight", role="vent", length=length(1.0), runs="down")
    assert geometry.oddities(traced(piece)) == ("v2: here the vent leads the gas downward",)


# ------------------------------------------------------------- over the roof


def needed_ft(roof: Roof, above_ft: float) -> float:
    """Height over the roof at which the outlet stands so far over everything within 10 ft."""
    outlet = 20.0
    survey = Survey(
        job=Job(title="t"), spaces={}, appliances={"heater": Appliance()}, tools={},
        paths=(Path(from_="heater", roof=roof),),
    )  # fmt: skip
    ((_, view),) = subjects(survey, survey.paths[0])[Scope.PATH]
    over_all = TERMINAL["above_building_within_10ft"].get(view)
    assert isinstance(over_all, Measured)
    return outlet - over_all.value / FT + above_ft


def roof(pitch: float, **said: Any) -> Roof:
    return Roof(cap_above_penetration=length(20.0 * FT), pitch=slope(pitch), **said)


def test_ridge_and_slope_within_the_circle() -> None:
    """6/12: the slope is 5.0 ft up at 10 ft; a ridge 4 ft away is 2.0 ft up. 2.0 ft over each."""
    assert needed_ft(roof(0.5, near=ABSENT, ridge=length(12 * FT)), 2.0) == pytest.approx(7.0)
    assert needed_ft(roof(0.5, near=ABSENT, ridge=length(4 * FT)), 2.0) == pytest.approx(4.0)
    assert needed_ft(roof(0.0, near=ABSENT, ridge=ABSENT), 2.0) == pytest.approx(2.0)


def test_the_upper_roof_within_the_circle() -> None:
    """Eave 9.0 ft up, 5 ft of upper roof at 4/12 inside the circle: 10.7 ft, outlet at 12.7 ft."""
    near = (
        Near(kind="wall", horizontal=length(6 * FT), top_above_penetration=length(9.0 * FT)),
        Near(
            kind="roof", horizontal=length(5 * FT),
            top_above_penetration=length((9.0 + 5 * 4 / 12) * FT),
        ),
    )  # fmt: skip
    assert needed_ft(roof(4 / 12, near=near, ridge=length(6 * FT)), 2.0) == pytest.approx(
        12.7, abs=0.05
    )


# ---------------------------------------------------------- estimated elbows


def test_an_estimated_elbow_says_how_little_it_knows() -> None:
    piece = Piece(id="e", part="elbow", diameter=length(4 * IN), angle=angle(90.0))
    leg = geometry.elbow_leg(piece)
    assert isinstance(leg, Measured)
    assert leg.value == pytest.approx(4 * IN + ELBOW_COLLAR_M)
    assert leg.tolerance >= ELBOW_DOUBT_M
    assert isinstance(geometry.elbow_leg(Piece(id="e", part="elbow")), NotMeasured)


# ----------------------------------------------------------------- by chance

HEIGHTS = (
    geometry.vent_height,
    geometry.height_above_connector,
    geometry.connector_horizontal,
    geometry.lateral,
)
ROLES: tuple[Literal["connector", "vent"], ...] = ("connector", "vent")


class House:
    """A path with every true dimension known, and what a person with tools says of it."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.pieces: list[Piece] = []
        self.sums = dict.fromkeys(
            [(part, role) for part in ("rise", "aside") for role in ROLES], 0.0
        )
        tilts = [0.0]
        for role in ROLES:
            for _ in range(self.chance.randrange(1, 5)):
                tilts.append(self.straight(role, tilts[-1]))

    def said(self, true: float, tolerance: float, dimension: Dimension) -> Measured:
        """A reading that is off by no more than its tolerance."""
        return Measured(true + self.chance.uniform(-tolerance, tolerance), dimension, tolerance)

    def add(self, role: Literal["connector", "vent"], along: float, tilt: float) -> None:
        self.sums["rise", role] += along * math.cos(math.radians(tilt))
        self.sums["aside", role] += along * math.sin(math.radians(tilt))

    def straight(self, role: Literal["connector", "vent"], before: float) -> float:
        """One straight piece, and before it the elbow that turns into it."""
        kind = self.chance.choice(["up", "slope", "tilt", "run", "down"])
        along = self.chance.uniform(0.1, 3.0)
        tilt = {"up": 0.0, "down": 180.0}.get(kind, self.chance.uniform(1.0, 179.0))
        name, words = f"p{len(self.pieces)}", dict[str, Any]()
        if kind in ("up", "down"):
            words["runs"] = kind
        elif kind == "slope":
            tilt = self.chance.uniform(60.0, 120.0)
            rise = math.tan(math.radians(90.0 - tilt))
            words["slope"] = self.said(rise, self.chance.uniform(0.0, 0.05), Dimension.SLOPE)
        elif kind == "tilt":
            words["tilt"] = self.said(tilt, self.chance.uniform(0.0, 5.0), Dimension.ANGLE)
        tolerance = self.chance.uniform(0.0, 0.03)
        if kind == "run":
            words["elbows"] = ABSENT
            for key, share in (("rise", math.cos), ("horizontal", math.sin)):
                true = along * share(math.radians(tilt))
                words[key] = self.said(true, tolerance, Dimension.LENGTH)
        else:
            words["length"] = self.said(along, tolerance, Dimension.LENGTH)
        if abs(tilt - before) > 1.0:
            self.elbow(role, before, tilt)
        self.add(role, along, tilt)
        part: Literal["run", "straight"] = "run" if kind == "run" else "straight"
        self.pieces.append(Piece(id=name, part=part, role=role, **words))
        return tilt

    def elbow(self, role: Literal["connector", "vent"], before: float, after: float) -> None:
        turn = abs(after - before)
        bore = self.chance.choice([3, 4, 5, 6]) * IN
        if turn > 90.0 or self.chance.random() < 0.5:
            leg = self.chance.uniform(0.05, 0.3)
            said: dict[str, Any] = {"leg": self.said(leg, 0.01, Dimension.LENGTH)}
        else:  # nobody measured it: true legs lie within what the estimate allows
            middle = bore * math.tan(math.radians(turn) / 2) + ELBOW_COLLAR_M
            leg = middle + self.chance.uniform(-ELBOW_DOUBT_M, ELBOW_DOUBT_M)
            said = {"diameter": length(bore)}
        self.add(role, leg, before)
        self.add(role, leg, after)
        name = f"p{len(self.pieces)}"
        self.pieces.append(Piece(id=name, part="elbow", role=role, angle=angle(turn), **said))

    def true(self, found: object) -> float:
        sums = self.sums
        return {
            geometry.vent_height: sums["rise", "connector"] + sums["rise", "vent"],
            geometry.height_above_connector: sums["rise", "vent"],
            geometry.connector_horizontal: sums["aside", "connector"],
            geometry.lateral: sums["aside", "connector"] + sums["aside", "vent"],
        }[found]  # type: ignore[index]


def test_what_is_true_lies_within_what_is_told() -> None:
    """3000 paths with every kind of piece, readings off by anything inside their tolerance."""
    told = 0
    for seed in range(3000):
        house = House(seed)
        found = geometry.trace(Path(from_="heater", pieces=tuple(house.pieces)), True)
        for ask in HEIGHTS:
            answer = ask(found)
            if isinstance(answer, NotMeasured):
                continue
            told += 1
            true = house.true(ask)
            assert answer.low - 1e-9 <= true <= answer.high + 1e-9, (seed, ask.__name__)
    assert told > 9000  # nearly all of them are told
