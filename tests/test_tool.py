"""Default tolerances: the table that ships, and how a table is read."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest

from fluewright.errors import BadEdition, OutOfRange
from fluewright.quantity import Dimension
from fluewright.tool import NARROWER, Tool, half_width, tools_from

TABLE = Path(__file__).parents[1] / "src" / "fluewright" / "data" / "tools.toml"
TOOLS = tools_from(tomllib.loads(TABLE.read_text(encoding="utf-8")))
IN = 0.0254

KINDS = [*(str(dimension) for dimension in Dimension), *NARROWER]
# SI values that occur, small to large, where a share of the value could pass the fixed bound
VALUES = {
    Dimension.SLOPE: (0.0, 0.02, 0.6, 3.0),
    Dimension.TEMPERATURE: (-40.0, 0.0, 20.0, 300.0, 1000.0),
    Dimension.PRESSURE: (-50.0, -3.0, 0.0, 1000.0, 4000.0),
    Dimension.CONCENTRATION: (0.0, 9.0, 70.0, 1000.0, 209_000.0),
}


@pytest.mark.parametrize("kind", KINDS)
def test_no_tool_of_a_kind_is_wider_than_the_one_not_stated(kind: str) -> None:
    unstated = TOOLS[f"unstated_{kind}"]
    assert unstated.measures == kind
    dimension = unstated.dimension
    assert dimension is not None
    for tool in TOOLS.values():
        # `unstated_height` and the like stand for a narrower thing of the dimension
        if tool.measures in (kind, "any") and not tool.id.startswith("unstated_"):
            for value in VALUES.get(dimension, (0.0, 0.1, 1.0, 100.0)):
                assert half_width(tool, value) <= half_width(unstated, value), tool.id


@pytest.mark.parametrize(
    ("tool", "value", "expected"),
    [
        # the table's own texts, worked out here by hand
        ("tape", 2.0, IN / 16),
        ("tape_awkward", 2.0, IN / 4),
        ("stamp", 0.1016, 0.0),
        ("digital_level", 0.0, 0.00349),  # tan 0.2 deg
        ("phone_level", 0.0, 0.01746),  # tan 1 deg
        ("pitch_gauge", 7 / 12, 0.5 / 12),
        ("manometer", -3.0, 0.25),
        ("manometer", 1000.0, 10.0),  # 1 % takes over
        ("analyzer_draft", -3.0, 0.02 * 249.08891),
        ("co_meter", 9.0, 2.0),
        ("co_meter", 100.0, 10.0),  # 10 % takes over
        ("thermometer", -5.0, 1.0),
        ("unstated_area", 0.06, 0.006),
        ("plate", 11_000.0, 0.0),
    ],
)
def test_half_width(tool: str, value: float, expected: float) -> None:
    assert half_width(TOOLS[tool], value) == pytest.approx(expected, rel=1e-3)


def test_a_fixed_angle_is_a_wider_ratio_where_the_slope_is_steep() -> None:
    exact = math.tan(math.radians(30.2)) - math.tan(math.radians(30.0))
    steep = half_width(TOOLS["digital_level"], math.tan(math.radians(30.0)))
    assert steep == pytest.approx(exact, rel=1e-9)
    falling = half_width(TOOLS["digital_level"], -math.tan(math.radians(30.0)))
    assert falling == steep
    with pytest.raises(OutOfRange, match=r"^phone_level: a slope of 100 is too near upright"):
        half_width(TOOLS["phone_level"], 100.0)


def test_every_tool_says_what_its_figure_rests_on() -> None:
    for tool in TOOLS.values():
        assert tool.title
        assert tool.note.endswith("."), tool.id
        assert tool.basis in ("read", "memory", "practice")


def row(**changed: object) -> dict[str, object]:
    plain = {"title": "T", "measures": "length", "half_width": "1 mm", "basis": "practice"}
    return {**plain, "note": "N.", **changed}


def test_a_table_is_read() -> None:
    read = tools_from({"rule": row(half_width="2 ppm or 10 %", measures="concentration")})
    assert read == {"rule": Tool("rule", "T", "concentration", 2.0, False, "practice", "N.", 0.1)}


@pytest.mark.parametrize(
    ("name", "entry", "message"),
    [
        (
            "Rule",
            row(),
            "tools.Rule: the id is not plain lower-case words. Write for example steel_tape.",
        ),
        (
            "rule",
            3,
            "tools.rule: 3 is not a table. Write title, measures, half_width, basis, note.",
        ),
        (
            "rule",
            {"title": "T", "color": "red"},
            "tools.rule: measures is missing, half_width is missing, basis is missing, "
            "note is missing, color is unknown. "
            "Write title, measures, half_width, basis, note.",
        ),
        ("rule", row(title=" "), "tools.rule: title must be a text that is not empty."),
        ("rule", row(half_width=2), "tools.rule: half_width must be a text that is not empty."),
        (
            "rule",
            row(basis="hearsay"),
            'tools.rule: basis "hearsay" is not known. Write one of: read, memory, practice.',
        ),
        (
            "rule",
            row(half_width="1/16"),
            'tools.rule: the tolerance "1/16" has no unit. Write 1/16 in or 2 mm.',
        ),
        (
            "rule",
            row(half_width="1 mm or 2 mm"),
            'tools.rule: half_width "1 mm or 2 mm" is not clear. Write for example 2 ppm or 10 %.',
        ),
        (
            "rule",
            row(half_width="2 %", measures="temperature"),
            "tools.rule: half_width of a temperature cannot be a share alone. Write 1 degC.",
        ),
        (
            "rule",
            row(measures="any"),
            'tools.rule: half_width "1 mm" needs one kind of value. Write 0 or a share, 2 %.',
        ),
    ],
)
def test_a_faulty_entry_is_named(name: str, entry: object, message: str) -> None:
    with pytest.raises(BadEdition) as caught:
        tools_from({name: entry})
    assert str(caught.value) == message


def test_all_faulty_entries_are_named_at_once() -> None:
    with pytest.raises(BadEdition) as caught:
        tools_from({"one": 1, "two": row(), "three": row(measures="mass")})
    lines = str(caught.value).splitlines()
    assert [line.split(":")[0] for line in lines] == ["tools.one", "tools.three"]
    assert lines[1].startswith('tools.three: measures "mass" is not known. Write one of: length, ')
