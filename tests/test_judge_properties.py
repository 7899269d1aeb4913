"""Relations that must hold for every survey: units, coarse against detailed, tolerances."""

from __future__ import annotations

import dataclasses
import io
import math
import re
from pathlib import Path as File
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from fluewright import app, geometry
from fluewright.errors import BadQuantity
from fluewright.files import read_survey, survey_from_text
from fluewright.finding import Judgement, Verdict
from fluewright.judge import judge
from fluewright.quantity import Dimension, Measured, NotMeasured, difference_to_unit, parse, to_unit
from fluewright.survey import ABSENT, Path, Piece, Survey

DEMO = File(app.DATA) / "demo"
SURVEYS = ("otter-bend.yaml", "otter-bend-repaired.yaml")
METRIC = {
    Dimension.LENGTH: "mm",
    Dimension.POWER: "kW",
    Dimension.SLOPE: "mm/m",
    Dimension.TEMPERATURE: "degC",
    Dimension.TIME: "d",
    Dimension.VOLUME: "m3",
}


def verdicts(judgement: Judgement) -> dict[tuple[str, str], str]:
    return {(f.rule, f.subject): f.verdict.value for f in judgement.findings}


def judged(survey: Survey, edition: str = "umc_2012") -> Judgement:
    return judge(survey, app.edition(edition), app.library())


# ------------------------------------------------------------------- units


def in_metric(text: str) -> str:
    """A quantity said again in metric units; any other text as it is."""
    for dimension, unit in METRIC.items():
        try:
            got = parse(text, dimension)
        except BadQuantity:
            continue
        said = f"{to_unit(got.value, unit):.9f} {unit}"
        if got.tolerance is not None:
            said += f" ± {difference_to_unit(got.tolerance, unit):.9f} {unit}"
        return said
    return text


def converted(node: Any, key: str = "") -> Any:
    if isinstance(node, dict):
        return {k: converted(v, str(k)) for k, v in node.items()}
    if isinstance(node, list):
        return [converted(v, key) for v in node]
    if (
        isinstance(node, str)
        and re.search(r"\d", node)
        and key not in ("title", "seen", "angle", "tilt")
    ):
        return in_metric(node)
    return node


def test_verdicts_do_not_depend_on_the_units_written() -> None:
    for name in SURVEYS:
        data = YAML(typ="safe", pure=True).load((DEMO / name).read_text(encoding="utf-8"))
        out = io.StringIO()
        YAML(typ="safe", pure=True).dump(converted(data), out)
        text = out.getvalue()
        assert " in\n" not in text
        assert " ft" not in text
        assert text.count(" mm") > 25
        there = judged(survey_from_text(text, name))
        assert verdicts(there) == verdicts(judged(read_survey(DEMO / name)))


def test_metric_sentences_say_the_same_verdicts() -> None:
    survey = read_survey(DEMO / "otter-bend.yaml")
    metric = judge(survey, app.edition("umc_2012"), app.library(), style="metric")
    assert verdicts(metric) == verdicts(judged(survey))
    slope = next(f for f in metric.findings if f.rule == "connector_upward_slope" and f.number)
    assert slope.sentence.startswith("Connector c3 climbs 10.4 mm/m ± 3.5 mm/m; 20.8 mm/m needed")
    assert slope.comparison is not None
    assert slope.comparison.limit.unit == "mm/m"


# ------------------------------------------------- coarse against detailed


def length(metres: float) -> Measured:
    return Measured(metres, Dimension.LENGTH)


def ratio(value: float) -> Measured:
    return Measured(value, Dimension.SLOPE)


def angle(value: float) -> Measured:
    return Measured(value, Dimension.ANGLE)


sizes = st.floats(0.05, 2.0)


@st.composite
def detailed(draw: st.DrawFn) -> tuple[Piece, ...]:
    """A connector that goes up, over and up, then a vent with or without an offset."""
    common: dict[str, Any] = {
        "wall": "single",
        "metal": "galvanized",
        "diameter": length(0.1016),
        "role": "connector",
    }
    pieces = [Piece(id="c1", part="straight", length=length(draw(sizes)), runs="up", **common)]
    for i in range(draw(st.integers(1, 3))):
        leg = length(draw(st.floats(0.05, 0.2)))
        slope = ratio(draw(st.floats(-0.02, 0.1)))
        pieces += [
            Piece(id=f"e{i}a", part="elbow", angle=angle(90.0), leg=leg, **common),
            Piece(
                id=f"l{i}", part="straight", runs="level", slope=slope,
                length=length(draw(sizes)), **common,
            ),
            Piece(id=f"e{i}b", part="elbow", angle=angle(90.0), leg=leg, **common),
            Piece(id=f"u{i}", part="straight", runs="up", length=length(draw(sizes)), **common),
        ]  # fmt: skip
    common |= {"wall": "type_b", "role": "vent"}
    pieces.append(Piece(id="v1", part="straight", length=length(draw(sizes)), runs="up", **common))
    if draw(st.booleans()):
        leg = length(draw(st.floats(0.05, 0.2)))
        pieces += [
            Piece(id="o1", part="elbow", angle=angle(45.0), leg=leg, **common),
            Piece(id="v2", part="straight", tilt=angle(45.0), length=length(draw(sizes)), **common),
            Piece(id="o2", part="elbow", angle=angle(45.0), leg=leg, **common),
        ]
    pieces.append(Piece(id="v3", part="straight", length=length(draw(sizes)), runs="up", **common))
    return tuple(pieces)


def lumped(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The same path as one run of connector and one of vent, measured end to end by hand."""
    made = []
    for role in ("connector", "vent"):
        up = over = 0.0
        bends = []
        tilts = [0.0]
        for piece in (p for p in pieces if p.role == role):
            if piece.part == "elbow":
                assert isinstance(piece.angle, Measured)
                assert isinstance(piece.leg, Measured)
                bends.append(piece.angle)
                tilted = math.radians(piece.angle.value)
                if piece.angle.value == 90.0:  # up into level or back: its slope is its neighbor's
                    near = next(q for q in pieces if q.id == f"l{piece.id[1]}")
                    assert isinstance(near.slope, Measured)
                    tilted = math.pi / 2 - math.atan(near.slope.value)
                up += piece.leg.value * (1 + math.cos(tilted))
                over += piece.leg.value * math.sin(tilted)
                continue
            assert isinstance(piece.length, Measured)
            tilt = 0.0
            if isinstance(piece.slope, Measured):
                tilt = math.pi / 2 - math.atan(piece.slope.value)
            elif isinstance(piece.tilt, Measured):
                tilt = math.radians(piece.tilt.value)
                tilts.append(piece.tilt.value)
            up += piece.length.value * math.cos(tilt)
            over += piece.length.value * math.sin(tilt)
        first = next(p for p in pieces if p.role == role)
        made.append(
            Piece(
                id=role, part="run", role=first.role, wall=first.wall, metal=first.metal,
                diameter=first.diameter, rise=length(up), horizontal=length(over),
                elbows=tuple(bends) or ABSENT, tilt=angle(max(tilts)) if role == "vent" else None,
            )
        )  # fmt: skip
    return tuple(made)


HEIGHTS = (
    geometry.vent_height,
    geometry.height_above_connector,
    geometry.connector_horizontal,
    geometry.lateral,
    geometry.horizontal_for_75_percent,
)
BY_LENGTH = (
    "gas_vent_minimum_height",
    "connector_length_single_wall",
    "vent_total_lateral_75_percent",
    "vent_sized_by_accepted_method",
    "connector_single_appliance_size",
    "vent_offset_angle",
    "zero_lateral_no_elbows",
)


@given(detailed())
def test_coarse_and_detailed_surveys_give_the_same_heights_and_verdicts(
    pieces: tuple[Piece, ...],
) -> None:
    survey = read_survey(DEMO / "otter-bend-repaired.yaml")
    cap = survey.paths[0].pieces[-1]
    paths = [
        dataclasses.replace(survey.paths[0], pieces=(*made, cap))
        for made in (pieces, lumped(pieces))
    ]
    traces = [geometry.trace(p, True) for p in paths]
    for height in HEIGHTS:
        one, other = (height(t) for t in traces)
        assert not isinstance(one, NotMeasured)
        assert not isinstance(other, NotMeasured)
        assert math.isclose(one.value, other.value, rel_tol=1e-9, abs_tol=1e-9), height.__name__
    found = [
        {
            f.rule: f.verdict
            for f in judged(dataclasses.replace(survey, paths=(p,))).findings
            if f.rule in BY_LENGTH
        }
        for p in paths
    ]
    assert found[0] == found[1]


# ---------------------------------------------------------------- tolerance


def scaled(node: Any, factor: float) -> Any:
    """The survey with every tolerance times a factor."""
    if isinstance(node, Measured):
        return dataclasses.replace(node, tolerance=node.tolerance * factor)
    if dataclasses.is_dataclass(node) and not isinstance(node, type):
        changes = {f.name: scaled(getattr(node, f.name), factor) for f in dataclasses.fields(node)}
        return dataclasses.replace(node, **changes)
    if isinstance(node, tuple):
        return tuple(scaled(v, factor) for v in node)
    if isinstance(node, dict):
        return {k: scaled(v, factor) for k, v in node.items()}
    return node


@settings(max_examples=40)
@given(
    st.sampled_from(SURVEYS),
    st.floats(0.0, 30.0),
    st.floats(0.0, 1.0),
    st.sampled_from(["umc_2012", "irc_2021"]),
)
def test_tightening_a_tolerance_only_settles_what_was_open(
    name: str, wide: float, share: float, edition: str
) -> None:
    survey = read_survey(DEMO / name)
    before = verdicts(judged(scaled(survey, wide), edition))
    after = verdicts(judged(scaled(survey, wide * share), edition))
    for key, verdict in before.items():
        if verdict in (Verdict.MEETS, Verdict.FAILS):
            assert after.get(key) == verdict, key


def test_a_path_of_the_demo_is_what_the_survey_says() -> None:
    path = read_survey(DEMO / "otter-bend.yaml").paths[0]
    assert isinstance(path, Path)
    assert [p.id for p in path.pieces] == ["c1", "c2", "c3", "c4", "v1", "v2", "cap"]
