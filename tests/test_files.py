"""Surveys in and out: what a file may say, what it becomes, and that nothing is lost on the way."""

from __future__ import annotations

import dataclasses
import io
import json
import sys
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.survey_maker import Maker

from fluewright.errors import BadSurvey, OutOfRange
from fluewright.files import read_survey, survey_from_bytes, survey_from_text, survey_sha256
from fluewright.files.build import Record, record_of, stated_keys
from fluewright.files.exact import exact_text
from fluewright.files.forms import Form, ListOf, Named
from fluewright.files.quantities import Quantity
from fluewright.files.ranges import plausible
from fluewright.files.schema import schema_text, survey_schema
from fluewright.files.tools import default_tools
from fluewright.files.visit import MOST_FAULTS, Toolbox
from fluewright.files.write import survey_to_data, survey_to_text, write_survey
from fluewright.quantity import Dimension, Measured, NotMeasured
from fluewright.survey import ABSENT, Piece, Survey
from fluewright.tool import half_width, tools_from

ROOT = Path(__file__).parents[1]
SURVEYS = sorted(path for path in (ROOT / "tests" / "surveys").iterdir() if path.is_file())
SCHEMA_FILE = ROOT / "src" / "fluewright" / "data" / "schema" / "survey.schema.json"
IN = 0.0254
TOP = "survey: 1\njob: {title: Invented house}\nappliances:\n  heater: {}\n"


def one_piece(keys: str, more: str = "") -> Piece:
    """The only piece of an invented survey."""
    pieces = f"    pieces:\n      - {{id: c1, role: connector, {keys}}}\n"
    text = f"{TOP}paths:\n  - from: heater\n{pieces}{more}"
    return survey_from_text(text).paths[0].pieces[0]


def lines_of(text: str | bytes, file_name: str = "s.yaml") -> list[str]:
    """What is printed about a text that is no survey."""
    raw = text.encode() if isinstance(text, str) else text
    with pytest.raises(BadSurvey) as caught:
        survey_from_bytes(raw, file_name)
    return str(caught.value).splitlines()


def forms(form: Form) -> list[Form]:
    """A form and all that it is made of."""
    if isinstance(form, Record):
        return [form, *(part for slot in form.slots.values() for part in forms(slot.form))]
    return [form, *(forms(form.item) if isinstance(form, ListOf | Named) else [])]


QUANTITIES = [form for form in forms(record_of(Survey)) if isinstance(form, Quantity)]


# --- readings


def test_written_tolerance_wins_over_the_tool() -> None:
    length = one_piece("part: straight, length: 52 in ± 1/2 in", "tools: {length: tape}").length
    assert length == Measured(
        52 * IN, length.dimension, IN / 2, "tape", ("paths[0].pieces[0].length",)
    )


def test_tool_of_the_survey_gives_the_tolerance() -> None:
    length = one_piece("part: straight, length: 52 in", "tools: {length: tape_awkward}").length
    assert isinstance(length, Measured)
    assert (length.tolerance, length.tool) == (IN / 4, "tape_awkward")


def test_tools_count_wherever_they_stand_in_the_file() -> None:
    text = "tools: {length: laser}\n" + TOP + "paths: [{from: heater, pieces: []}]\nsite: {}\n"
    assert survey_from_text(text).tools == {"length": "laser"}
    first = one_piece("part: straight, length: 1 m", "tools: {length: laser}").length
    assert isinstance(first, Measured)
    assert first.tolerance == 0.002


def test_reading_may_name_its_own_tool_and_photo() -> None:
    more = "photos: [{file: hood.jpg}]\ntools: {length: tape}\n"
    length = one_piece(
        "part: straight, length: {value: 52 in, tool: tape_awkward, photo: hood.jpg}", more
    ).length
    assert isinstance(length, Measured)
    assert (length.tolerance, length.tool) == (IN / 4, "tape_awkward")
    assert length.evidence == ("paths[0].pieces[0].length", "hood.jpg")


def test_tool_nobody_stated_is_a_wide_one() -> None:
    piece = one_piece("part: straight, length: 52 in, slope: 1/4 in per ft, thickness: 0.02 in")
    for reading, tool in (
        (piece.length, "unstated_length"),
        (piece.slope, "unstated_slope"),
        (piece.thickness, "unstated_thickness"),
    ):
        assert isinstance(reading, Measured)
        assert reading.tool == tool
        assert reading.tolerance == half_width(default_tools()[tool], reading.value)
        assert reading.tolerance > 0


def test_stamped_and_counted_things_are_exact() -> None:
    piece = one_piece("part: elbow, diameter: 4 in, angle: 45 deg, joint: {screws: 3}")
    joint = piece.joint
    assert joint is not None
    for reading, tool in (
        (piece.diameter, "stamp"),
        (piece.angle, "fitting"),
        (joint.screws, "count"),
    ):
        assert isinstance(reading, Measured)
        assert (reading.tool, reading.tolerance) == (tool, 0.0)


@pytest.mark.parametrize(
    ("tools", "tool"),
    [
        ("{}", "unstated_height"),
        ("{length: tape}", "tape"),
        ("{length: tape, height: laser}", "laser"),
    ],
)
def test_heights_are_read_with_the_tape_unless_said_otherwise(tools: str, tool: str) -> None:
    text = f"{TOP}spaces: {{hall: {{kind: room, ceiling: 8 ft}}}}\npaths: []\ntools: {tools}\n"
    ceiling = survey_from_text(text).spaces["hall"].ceiling
    assert isinstance(ceiling, Measured)
    assert ceiling.tool == tool


def test_no_tape_gives_an_elevation() -> None:
    text = f"{TOP}site: {{elevation: 5000 ft}}\npaths: []\ntools: {{length: tape, height: tape}}\n"
    elevation = survey_from_text(text).site.elevation
    assert isinstance(elevation, Measured)
    assert elevation.tool == "unstated_elevation"
    assert elevation.tolerance >= 50 * 12 * IN


def test_slope_too_steep_for_its_tool_is_a_fault() -> None:
    loose = {
        "title": "Somebody's eye",
        "measures": "slope",
        "half_width": "50 deg",
        "basis": "practice",
        "note": "invented for this test",
    }
    tools = {**default_tools(), **tools_from({"eye": loose})}
    text = f"{TOP}paths: [{{from: heater, roof: {{pitch: {{value: 12/12, tool: eye}}}}}}]\n"
    with pytest.raises(BadSurvey, match=r"^s:5 paths\[0\]\.roof\.pitch\.value: eye: a slope of 1 "):
        survey_from_text(text, "s", tools)


# --- what stands instead of a reading


def test_not_known_absent_and_not_filled_are_three_things() -> None:
    joint = one_piece('part: straight, joint: {gap: none, tape: "?", screws: "? behind"}').joint
    assert joint is not None
    assert joint.gap is ABSENT
    assert joint.tape == NotMeasured("reason not given")
    assert joint.screws == NotMeasured("behind")
    assert joint.fastening is None


@pytest.mark.parametrize(
    ("text", "meant"),
    [("yes", True), ("true", True), ("YES", True), ("no", False), ("false", False), ("No", False)],
)
def test_yes_and_no(text: str, meant: bool) -> None:
    assert one_piece(f"part: straight, holes: {text}").holes is meant


def test_coarse_survey_is_a_survey() -> None:
    survey = read_survey(ROOT / "tests" / "surveys" / "invented_coarse.yaml")
    assert survey.spaces == survey.tools == {}
    assert survey.paths[0].pieces[0].wall is None


def test_yaml_keeps_dates_and_words_as_text() -> None:
    text = TOP.replace("title: Invented house", "title: 12 Elm, seen: 2026-11-20, by: off")
    job = survey_from_text(text + "paths: []\n").job
    assert (job.title, job.seen, job.by) == ("12 Elm", "2026-11-20", "off")


def test_alias_repeats_a_value_in_its_own_place() -> None:
    text = (
        TOP + "paths:\n  - from: heater\n    pieces:\n"
        "      - {id: c1, part: run, role: vent, length: &l 14 in, clearance: &c {to: joist}}\n"
        "      - {id: c2, part: run, role: vent, length: *l, clearance: *c}\n"
    )
    second = survey_from_text(text).paths[0].pieces[1]
    assert isinstance(second.length, Measured)
    assert second.length.evidence == ("paths[0].pieces[1].length",)
    assert second.clearance is not None


# --- files


@pytest.mark.parametrize("path", SURVEYS, ids=lambda path: path.name)
def test_survey_file_reads_the_same_after_writing(path: Path, tmp_path: Path) -> None:
    survey = read_survey(path)
    assert survey.job.invented
    write_survey(survey, tmp_path / "again.yaml")
    assert read_survey(tmp_path / "again.yaml") == survey
    (tmp_path / "again.json").write_text(json.dumps(survey_to_data(survey), indent="\t"))
    assert read_survey(tmp_path / "again.json") == survey


def test_writing_keeps_the_text_that_a_person_would_write() -> None:
    survey = read_survey(ROOT / "tests" / "surveys" / "invented_coarse.yaml")
    assert survey_to_text(survey) == (
        "survey: 1\n"
        "job: {title: Larch Lane 3 (invented), invented: yes}\n"
        "appliances:\n"
        "  furnace: {fuel: propane, input: 60 kBtu/h}\n"
        "paths:\n"
        "  - from: furnace\n"
        "    pieces:\n"
        "      - id: all\n"
        "        part: run\n"
        "        role: vent\n"
        "        diameter: 5 in\n"
        "        rise: 17 ft\n"
        "        horizontal: 6 ft ± 1 ft\n"
        "        elbows: [90 deg, 45 deg]\n"
    )


def test_computed_reading_is_written_with_its_bound_and_without_its_tool() -> None:
    survey = read_survey(ROOT / "tests" / "surveys" / "invented_coarse.yaml")
    path = survey.paths[0]
    rise = Measured(5.0, Dimension.LENGTH, 0.125, "estimated", ("c1", "c2"))
    piece = dataclasses.replace(path.pieces[0], rise=rise)
    changed = dataclasses.replace(survey, paths=(dataclasses.replace(path, pieces=(piece,)),))
    assert "        rise: 5 m ± 125 mm\n" in survey_to_text(changed)


def test_number_with_too_many_digits_is_refused_when_written() -> None:
    with pytest.raises(OutOfRange, match=r"^length 1e-30 \(SI\) has too many digits"):
        exact_text(1e-30, None, Dimension.LENGTH, ("in",))


def test_standard_input_is_read_like_a_file(monkeypatch: pytest.MonkeyPatch) -> None:
    class Stdin:
        buffer = io.BytesIO(b"survey: 1\njob: 3\n")

    monkeypatch.setattr(sys, "stdin", Stdin())
    with pytest.raises(BadSurvey) as caught:
        read_survey("-")
    assert str(caught.value).splitlines()[-1] == (
        "stdin:2 job: 3 stands here, where a mapping with keys such as title is expected."
    )


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("none.yaml", "there is no such file. Look at the path."),
        ("", "this is a directory. Name a survey file in it."),
        ("a\0b", "the file cannot be read: embedded null byte."),
        ("n" * 300, "the file cannot be read: File name too long."),
    ],
)
def test_file_that_cannot_be_read(tmp_path: Path, name: str, message: str) -> None:
    path = f"{tmp_path}/{name}"
    with pytest.raises(BadSurvey) as caught:
        read_survey(path)
    assert str(caught.value) == f"{path}: {message}"


def test_file_that_is_too_large() -> None:
    expected = ["s.yaml: the file is larger than 5 MB. A survey has a few kB."]
    assert lines_of(b"#" * 5_000_001) == expected


def test_file_that_is_not_utf8() -> None:
    line = "the byte 0xb0 is not UTF-8. Save the file as UTF-8."
    assert lines_of(b"survey: 1\n# 90\xb0\n") == [f"s.yaml:2: {line}"]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark_change_nothing(ending: str, mark: str) -> None:
    text = mark + ending.join(
        ["survey: 1", "job:", "  titel: x", "paths: []", "appliances: {a: 1}"]
    )
    lines = lines_of(text.encode())
    assert lines[0] == 's.yaml:2 job: "title" is missing. Write title: text.'
    assert lines[1] == 's.yaml:3 job.titel: unknown key "titel". Did you mean "title"?'
    assert lines[2].startswith("s.yaml:5 appliances.a: 1 stands here")


def test_json_is_told_from_yaml_by_what_it_holds() -> None:
    survey = read_survey(ROOT / "tests" / "surveys" / "invented_as_json.json")
    assert survey_from_text(json.dumps(survey_to_data(survey)), "stdin") == survey
    flow = "{survey: 1, job: {title: x}, appliances: {a: {}}, paths: []}"
    assert survey_from_text(flow, "stdin").job.title == "x"
    assert lines_of(flow, "s.json")[0].startswith("s.json:1: cannot be read as JSON: ")


def test_reading_stops_at_very_many_faults() -> None:
    lines = lines_of("survey: 1\n" + "".join(f"key{i}: 1\n" for i in range(2 * MOST_FAULTS)))
    assert len(lines) == MOST_FAULTS + 1
    assert lines[-1] == "s.yaml: reading stopped after 500 faults. Mend these first."


def test_sha256_is_that_of_the_bytes() -> None:
    # NIST FIPS 180-2, appendix B.1 (the digest of "abc")
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert survey_sha256(b"abc") == expected


# --- every field


def test_invented_surveys_touch_every_field() -> None:
    """What the next test tries: many surveys together fill every key of every class."""
    seen: set[tuple[str, str]] = set()

    def walk(form: Form, data: object) -> None:
        if isinstance(form, Record) and isinstance(data, dict):
            for key, slot in form.slots.items():
                if key in data:
                    seen.add((form.made.__name__, key))
                    walk(slot.form, data[key])
        elif isinstance(form, ListOf) and isinstance(data, list):
            for item in data:
                walk(form.item, item)
        elif isinstance(form, Named) and isinstance(data, dict):
            for item in data.values():
                walk(form.item, item)

    for seed in range(600):
        walk(record_of(Survey), Maker(seed).survey())
    every = {
        (form.made.__name__, key)
        for form in forms(record_of(Survey))
        if isinstance(form, Record)
        for key in form.slots
    }
    assert every - seen == set()


@given(st.integers(0, 2**32))
def test_survey_reads_the_same_after_writing(seed: int) -> None:
    data = Maker(seed).survey()
    survey = survey_from_text(json.dumps(data))
    assert survey_from_text(survey_to_text(survey)) == survey
    assert survey_from_text(json.dumps(survey_to_data(survey))) == survey


@given(st.integers(0, 2**32))
def test_schema_agrees_with_the_reader(seed: int) -> None:
    data = Maker(seed).survey()
    written = survey_to_data(survey_from_text(json.dumps(data)))
    for one in (data, written):
        SCHEMA.validate(one)


def test_every_field_of_the_data_classes_has_a_key() -> None:
    for form in forms(record_of(Survey)):
        if isinstance(form, Record):
            names = {field.name for field in dataclasses.fields(form.made)}
            assert {slot.name for slot in form.slots.values()} == names
    assert set(record_of(Survey).slots["paths"].form.item.slots) >= {"from"}  # type: ignore[attr-defined]


@pytest.mark.parametrize("form", QUANTITIES, ids=lambda form: f"{form.field}-{form.by}")
def test_every_reading_has_a_tool_and_a_range(form: Quantity) -> None:
    tool = Toolbox(default_tools()).usual(form.by)
    assert tool.id in (form.by, f"unstated_{form.by}")
    likely = plausible(form.field, form.reading)
    assert likely.low_si < likely.high_si
    assert tool.dimension in (None, form.reading.dimension) or tool.half_width_si == 0


def test_tools_may_be_stated_for_what_is_read_and_nothing_else() -> None:
    assert set(stated_keys(Toolbox(default_tools()))) == {
        "length", "height", "thickness", "slope", "pitch",
        "angle", "area", "volume", "pressure", "age",
        "concentration", "oxygen", "explosive", "time", "flow", "rate",
    }  # fmt: skip


# --- the schema

SCHEMA = jsonschema.Draft202012Validator(survey_schema())


def test_schema_in_the_package_is_current() -> None:
    """Renew: in Python, ``print(schema_text(), end="")`` into the file."""
    assert SCHEMA_FILE.read_text(encoding="utf-8") == schema_text()


def test_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(survey_schema())


# --- whatever is fed in

GOOD = (ROOT / "tests" / "surveys" / "invented_piece_by_piece.yaml").read_text(encoding="utf-8")
TOKENS = [
    *""":-?&*!|>%@`{}[],#'"\\~\t\n""",
    "survey: 1\n", "job:", "title", "paths", "pieces", "id", "part", "from", "---\n", "&a ", "*a",
    "<<: ", "  ", "\n", "\n  ", "\n    ", "- ", "1", "52 in", "none", "yes", "null", "!!str ",
    "\u2028", "\x00", "\ud800", "\ufeff", "é", "|\n", ">-\n", '"\\x1b"', "0x", "1e999", ".nan",
]  # fmt: skip


def reads_or_refuses(text: str, file_name: str = "s") -> None:
    """The only two things that may happen; a refusal can be printed."""
    try:
        result: Survey | BadSurvey = survey_from_text(text, file_name)
    except BadSurvey as fault:
        result = fault
    assert isinstance(result, Survey) or (result.faults and str(result).encode("utf-8"))


@given(st.text(st.characters()), st.sampled_from(["s.yaml", "s.json"]))
def test_any_text_is_read_or_refused(text: str, file_name: str) -> None:
    reads_or_refuses(text, file_name)


@given(st.lists(st.sampled_from(TOKENS), max_size=40).map("".join))
def test_any_heap_of_yaml_is_read_or_refused(text: str) -> None:
    reads_or_refuses(text)
    reads_or_refuses("survey: 1\n" + text)


@given(
    st.integers(0, len(GOOD)),
    st.integers(0, 12),
    st.lists(st.sampled_from(TOKENS), max_size=3).map("".join),
)
def test_survey_with_a_slip_is_read_or_refused(at: int, gone: int, put: str) -> None:
    reads_or_refuses(GOOD[:at] + put + GOOD[at + gone :])


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(
                st.sampled_from([*record_of(Survey).slots, "survey", "pieces", "id"]) | st.text(),
                inner,
                max_size=4,
            )
        ),
        max_leaves=20,
    )
)
def test_any_json_is_read_or_refused(data: object) -> None:
    reads_or_refuses(json.dumps(data), "s.json")


@given(st.binary())
def test_any_bytes_are_read_or_refused(raw: bytes) -> None:
    try:
        survey_from_bytes(raw, "s")
    except BadSurvey as fault:
        faults = fault.faults
    else:
        raise AssertionError("no bytes that chance makes are a survey")
    assert faults
