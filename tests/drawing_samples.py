"""Invented surveys for the tests of drawings; every house and reading in them is made up."""

from __future__ import annotations

import random
from dataclasses import replace

from fluewright.finding import EditionInfo, Finding, Grade, Judgement, Verdict
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import (
    ABSENT,
    Appliance,
    Clearance,
    Hood,
    Job,
    Joint,
    Near,
    Path,
    Piece,
    Roof,
    Space,
    Survey,
)

INCH = 0.0254
FOOT = 0.3048


def m(inches: float, bound: float = 1 / 8) -> Measured:
    """A tape reading in inches."""
    return Measured(inches * INCH, Dimension.LENGTH, bound * INCH, "tape")


def size(inches: float) -> Measured:
    return Measured(inches * INCH, Dimension.LENGTH, 0.0, "stamp")


def slope(inches_per_foot: float) -> Measured:
    return Measured(inches_per_foot / 12, Dimension.SLOPE, 0.002, "level")


def angle(degrees: float) -> Measured:
    return Measured(degrees, Dimension.ANGLE)


def count(n: int) -> Measured:
    return Measured(float(n), Dimension.COUNT)


def survey(
    pieces: tuple[Piece, ...],
    roof: Roof | None = None,
    *,
    title: str = "Juniper Lane 7, utility room",
    hood_in: float | None = 62.0,
    ceiling_ft: float | None = 8.0,
    draft: str | None = "draft_hood",
) -> Survey:
    hood = Hood(height_above_floor=m(hood_in, 1 / 4) if hood_in else None)
    heater = Appliance(
        kind="storage water heater",
        fuel="natural gas",
        draft=draft,
        outlet_diameter=size(4),  # type: ignore[arg-type]
        outlet_on_top=True,
        space="utility",
        hood=hood,
    )
    room = Space(kind="room", ceiling=m(ceiling_ft * 12, 1 / 4) if ceiling_ft else None)
    job = Job(
        title=title,
        seen="2026-11-20",
        by="A. Example",
        visit="as found",
        edition="umc_2012",
        invented=True,
    )
    path = Path(from_="heater", pieces=pieces, roof=roof or Roof())
    return Survey(
        job=job, spaces={"utility": room}, appliances={"heater": heater}, paths=(path,), tools={}
    )


def finding(
    number: int,
    subject: str,
    grade: Grade,
    title: str,
    *,
    known: bool = True,
    rule: str = "invented_rule",
) -> Finding:
    verdict = Verdict.FAILS if known else Verdict.CANNOT_TELL
    return Finding(rule, title, subject, verdict, grade, title, number=number)


def judged(*findings: Finding) -> Judgement:
    edition = EditionInfo("umc_2012", "UMC 2012", "0" * 64)
    return Judgement("", "0" * 64, edition, findings, (), (), ())


def coarse() -> tuple[Survey, Judgement]:
    """Three lengths and a diameter."""
    pieces = (
        Piece(
            id="c",
            part="run",
            role="connector",
            wall="single",
            diameter=size(4),
            rise=m(22, 0.5),
            horizontal=m(60, 1),
        ),
        Piece(
            id="v",
            part="run",
            role="vent",
            wall="type_b",
            diameter=size(4),
            rise=m(108, 2),
            horizontal=m(0, 0),
            elbows=ABSENT,
        ),
        Piece(id="cap", part="cap"),
    )
    found = [
        finding(i, s, Grade.DEFECT, t, known=False)
        for i, (s, t) in enumerate(
            [
                ("c", "Slope of the connector"),
                ("c", "Screws at the joints"),
                ("c", "Clearance"),
                ("v", "Clearance of the vent"),
                ("heater", "Air for burning"),
                ("heater", "Relief opening"),
                ("cap", "Height over the roof"),
                ("cap", "Listed cap"),
                ("utility", "Room volume"),
            ],
            1,
        )
    ]
    return survey(pieces), judged(*found)


def fine() -> tuple[Survey, Judgement]:
    """Twelve pieces with defects."""
    pieces = (
        Piece(
            id="c1",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            length=m(14),
            runs="up",
            joint=Joint(screws=count(2), male_end="downstream"),
        ),
        Piece(
            id="c2",
            part="elbow",
            angle=angle(90),
            role="connector",
            wall="single",
            diameter=size(4),
            joint=Joint(screws=count(1), male_end="upstream", tape="foil", gap=m(3 / 8, 1 / 16)),
        ),
        Piece(
            id="c3",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            length=m(24),
            slope=slope(1 / 8),
            runs="level",
            joint=Joint(screws=count(3), male_end="downstream"),
        ),
        Piece(
            id="c4",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            length=m(28),
            slope=slope(1 / 8),
            runs="level",
            clearance=Clearance(distance=m(5, 1 / 4), to="joist"),
            joint=Joint(fastening="tape_only", tape="foil", male_end="downstream"),
        ),
        Piece(
            id="c5",
            part="elbow",
            angle=angle(90),
            role="connector",
            wall="single",
            diameter=size(4),
            joint=Joint(screws=count(2), male_end="downstream"),
        ),
        Piece(
            id="a1",
            part="adapter",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(6),
            runs="up",
            joint=Joint(screws=count(3)),
        ),
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(36),
            runs="up",
            clearance=Clearance(distance=m(1 / 2, 1 / 8), to="framing"),
            joint=Joint(fastening="listed_lock"),
        ),
        Piece(
            id="v2",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(36),
            runs="up",
            joint=Joint(fastening="listed_lock"),
        ),
        Piece(
            id="v3",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(18),
            runs="up",
            joint=Joint(fastening="listed_lock"),
        ),
        Piece(id="cap", part="cap", listed=True),
    )
    roof = Roof(
        ends="above_roof",
        pitch=Measured(7 / 12, Dimension.SLOPE, 0.02),
        covering="concrete tile",
        cap_above_penetration=m(15, 1 / 2),
        ridge=m(110, 2),
        near=(Near(kind="wall", horizontal=m(60, 1), top_above_penetration=m(72, 2)),),
    )
    found = (
        finding(1, "heater", Grade.STOP, "Spills with the burner on after five minutes"),
        finding(2, "cap", Grade.HAZARD, "Cap too low near a wall"),
        finding(3, "c2 joint", Grade.HAZARD, "Open gap in a connector joint"),
        finding(4, "c4", Grade.DEFECT, "Too near to what can burn"),
        finding(5, "c3", Grade.DEFECT, "Connector climbs too little"),
        finding(6, "c1", Grade.DEFECT, "Fewer than three screws"),
        finding(7, "c2 joint", Grade.DEFECT, "Fewer than three screws"),
        finding(8, "c2 joint", Grade.CRAFT, "Crimp faces against the flow"),
        finding(9, "c4", Grade.CRAFT, "Tape alone holds the joint"),
        finding(10, "v1", Grade.DEFECT, "Clearance of the vent"),
        finding(11, "v2", Grade.NOTE, "Support of the vent", known=False),
        finding(12, "vent", Grade.NOTE, "Label of the vent", known=False),
        finding(13, "utility", Grade.DEFECT, "Air for burning", known=False),
        finding(14, "connector", Grade.NOTE, "Connector can be reached"),
    )
    return survey(pieces, roof), judged(*found)


def missing() -> tuple[Survey, Judgement]:
    """A path whose lengths nobody could see."""
    pieces = (
        Piece(id="c1", part="straight", role="connector", diameter=size(4), runs="up"),
        Piece(
            id="c2",
            part="elbow",
            angle=angle(90),
            role="connector",
            wall="single",
            diameter=size(4),
        ),
        Piece(
            id="c3",
            part="straight",
            role="connector",
            wall="corrugated",
            diameter=size(4),
            length=m(40),
            runs="level",
        ),
        Piece(id="c4", part="elbow", role="connector", wall="single"),
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="masonry",
            diameter=size(8),
            length=NotMeasured("inside the chimney"),
            runs="up",
        ),
    )
    roof = Roof(near=(Near(kind="parapet", horizontal=m(40, 1)),))
    found = (
        finding(1, "c1", Grade.DEFECT, "Length of the first rise", known=False),
        finding(2, "c4", Grade.DEFECT, "Angle of the elbow", known=False),
        finding(3, "v1", Grade.HAZARD, "Lining of the chimney", known=False),
        finding(
            4,
            "heater",
            Grade.HAZARD,
            "Cap too low near a parapet",
            known=False,
            rule="vent_cap_near_wall",
        ),
    )
    return survey(pieces, roof, hood_in=None, ceiling_ft=None, draft=None), judged(*found)


def tall() -> tuple[Survey, Judgement]:
    """A tall vent with an offset, through an attic, under a steep roof."""
    pieces = (
        Piece(
            id="c1",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            length=m(18),
            runs="up",
            joint=Joint(screws=count(3), male_end="downstream"),
        ),
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(96, 1),
            runs="up",
            joint=Joint(screws=count(3)),
        ),
        Piece(id="v2", part="elbow", angle=angle(45), role="vent", wall="type_b", diameter=size(4)),
        Piece(
            id="v3",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(36, 1),
            tilt=Measured(45, Dimension.ANGLE, 1),
        ),
        Piece(id="v4", part="elbow", angle=angle(45), role="vent", wall="type_b", diameter=size(4)),
        Piece(
            id="v5",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(120, 1),
            runs="up",
        ),
        Piece(id="cap", part="cap", listed=True),
    )
    roof = Roof(
        ends="above_roof",
        pitch=Measured(1.0, Dimension.SLOPE, 0.02),
        cap_above_penetration=m(30, 1),
        ridge=m(48, 2),
        near=ABSENT,
    )
    found = (
        finding(1, "v3", Grade.DEFECT, "Offset steeper than allowed for the sizing used here"),
        finding(2, "cap", Grade.DEFECT, "Cap too low for this pitch"),
    )
    return survey(pieces, roof), judged(*found)


def metric() -> tuple[Survey, Judgement]:
    """The fine survey with other surroundings; drawn in metres."""
    base, found = fine()
    path = base.paths[0]
    flat = replace(
        path,
        roof=Roof(
            ends="above_roof",
            pitch=Measured(0.02, Dimension.SLOPE, 0.005),
            cap_above_penetration=m(10, 1 / 2),
            near=(
                Near(kind="parapet", horizontal=m(30, 1), top_above_penetration=m(24, 1)),
                Near(kind="equipment", horizontal=m(96, 1), top_above_penetration=m(40, 1)),
            ),
        ),
    )
    return replace(base, paths=(flat,)), found


def straight_up() -> tuple[Survey, Judgement]:
    """Two plumb pieces and no connector run."""
    pieces = (
        Piece(
            id="c1",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            to_diameter=size(5),
            length=m(20),
            runs="up",
        ),
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(5),
            length=m(96),
            runs="up",
        ),
        Piece(id="cap", part="cap", listed=False),
    )
    roof = Roof(pitch=Measured(4 / 12, Dimension.SLOPE, 0.02), cap_above_penetration=m(20))
    return survey(pieces, roof), judged()


def at_wall() -> tuple[Survey, Judgement]:
    """A path that falls, runs level and ends at an outside wall, below the floor at last."""
    pieces = (
        Piece(
            id="c1",
            part="straight",
            role="connector",
            wall="single",
            diameter=size(4),
            length=m(12),
            runs="up",
        ),
        Piece(
            id="c2",
            part="elbow",
            angle=angle(90),
            role="connector",
            wall="single",
            diameter=size(4),
        ),
        Piece(
            id="c3",
            part="straight",
            role="connector",
            wall="plastic_unlisted",
            diameter=size(4),
            length=m(30),
            runs="level",
            slope=slope(-1 / 4),
        ),
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="asbestos_cement",
            diameter=size(5),
            length=m(40),
            runs="level",
            slope=slope(1 / 4),
        ),
    )
    return survey(pieces, Roof(ends="at_wall")), judged()


def giant() -> tuple[Survey, Judgement]:
    """A length with a wrong unit, far too long for any sheet: still on the sheet."""
    pieces = (
        Piece(
            id="v1",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(6000),
            runs="up",
        ),
        Piece(
            id="v2",
            part="straight",
            role="vent",
            wall="type_b",
            diameter=size(4),
            length=m(90),
            runs="down",
        ),
        Piece(id="cap", part="cap"),
    )
    return survey(pieces, Roof(pitch=Measured(1.75, Dimension.SLOPE, 0.02))), judged()


SAMPLES = {
    "coarse": coarse,
    "fine": fine,
    "missing": missing,
    "tall": tall,
    "metric": metric,
    "straight": straight_up,
    "at_wall": at_wall,
    "giant": giant,
}


def random_survey(seed: int) -> tuple[Survey, Judgement]:
    """An invented survey from a seed: 1 to 20 pieces, any roof, findings at any place."""
    rng = random.Random(seed)
    pieces: list[Piece] = []
    connectors = rng.randint(0, 9)
    vents = rng.randint(0 if connectors else 1, 10)
    walls = ("single", "type_b", "type_l", "corrugated", "masonry", "plastic_listed", None)
    for i in range(connectors + vents):
        role = "connector" if i < connectors else "vent"
        pieces.append(_random_piece(rng, f"{role[0]}{i + 1}", role, rng.choice(walls)))
    if rng.random() < 0.8:
        pieces.append(Piece(id="cap", part="cap", listed=rng.choice((True, False, None))))
    titles = (
        "Cap",
        "Clearance of the connector to what can burn above it",
        "Slope",
        "Three screws at every joint of a single-wall connector, or the listed lock of it",
        "Relief opening of the draft hood stands in a closet with the laundry",
    )
    subjects = [p.id for p in pieces] + [f"{p.id} joint" for p in pieces]
    subjects += ["heater", "connector", "vent", "roof", "utility", "job"]
    found = tuple(
        finding(
            n + 1,
            rng.choice(subjects),
            rng.choice(list(Grade)),
            rng.choice(titles),
            known=rng.random() < 0.5,
            rule=rng.choice(("x", "connector_x", "vent_cap_x")),
        )
        for n in range(rng.choice((0, 0, 3, 10, 25, 60)))
    )
    made = survey(
        tuple(pieces),
        _random_roof(rng),
        title=rng.choice(("A", "Juniper Lane 7", "A house with a very long name " * 6)),
        hood_in=rng.choice((None, 20, 62, 70)),
        ceiling_ft=rng.choice((None, 7, 8, 12)),
        draft=rng.choice(("draft_hood", "fan_assisted", None)),
    )
    return made, judged(*found)


def _maybe(rng: random.Random, low: float, high: float) -> Measured | NotMeasured | None:
    pick = rng.random()
    if pick < 0.1:
        return None
    if pick < 0.15:
        return NotMeasured("out of reach")
    return m(round(rng.uniform(low, high) * 8) / 8, rng.choice((1 / 16, 1 / 8, 1)))


def _random_piece(rng: random.Random, id_: str, role: str, wall: str | None) -> Piece:
    part = rng.choice(("straight", "straight", "straight", "elbow", "run", "reducer", "tee"))
    bore = rng.choice((size(3), size(4), size(6), size(8), None))
    gap = rng.choice((ABSENT, m(1 / 4, 1 / 16), None))
    joint = rng.choice(
        (
            None,
            Joint(
                screws=count(rng.randint(0, 6)),
                male_end=rng.choice(("upstream", "downstream", None)),
                tape=rng.choice(("foil", ABSENT, None)),
                gap=gap,
            ),
            Joint(fastening=rng.choice(("listed_lock", "tape_only", "open"))),
        )
    )
    near = rng.choice(
        (None, Clearance(distance=_maybe(rng, 0, 20), to=rng.choice(("joist", None))))
    )
    base = Piece(
        id=id_,
        part=part,
        role=role,
        wall=wall,
        diameter=bore,
        joint=joint,  # type: ignore[arg-type]
        clearance=near,
    )
    if part == "elbow":
        return replace(base, angle=rng.choice((angle(45), angle(90), None)))
    if part == "run":
        return replace(
            base,
            rise=_maybe(rng, 0, 90),
            horizontal=_maybe(rng, 0, 60),
            elbows=rng.choice((ABSENT, None, (angle(90),))),
        )
    way = rng.choice(("up", "up", "level", "slope", "tilt", None))
    long = _maybe(rng, 4, 120 if role == "vent" else 50)
    if way in ("up", "level"):
        return replace(base, length=long, runs=way)
    if way == "slope":
        return replace(
            base, length=long, runs="level", slope=slope(rng.choice((-0.25, 0.125, 0.5)))
        )
    if way == "tilt":
        return replace(
            base, length=long, tilt=Measured(rng.choice((30, 45, 60)), Dimension.ANGLE, 1)
        )
    return replace(base, length=long)


def _random_roof(rng: random.Random) -> Roof:
    near = tuple(
        Near(
            kind=rng.choice(("wall", "parapet", "chimney", "eave", "neighbor_wall")),
            horizontal=_maybe(rng, 6, 140),
            top_above_penetration=_maybe(rng, -10, 120),
        )
        for _ in range(rng.choice((0, 1, 1, 2, 4)))
    )
    pitch = rng.choice((None, 0.0, 2 / 12, 4 / 12, 7 / 12, 1.0, 1.5))
    return Roof(
        ends=rng.choice((None, "above_roof", "above_roof", "attic", "at_wall")),
        pitch=None if pitch is None else Measured(pitch, Dimension.SLOPE, 0.02),
        cap_above_penetration=_maybe(rng, 2, 60),
        ridge=rng.choice((None, ABSENT, m(40), m(200))),
        near=near or rng.choice((None, ABSENT)),
    )
