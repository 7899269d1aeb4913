"""Malformed surveys: the text of every message, each file with the lines it must give.

``tests/cases/bad/NN_name.yaml`` or ``.json`` stands beside ``NN_name.txt``, which holds exactly
what is printed. All houses are invented.
"""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest
from ruamel.yaml import YAML

from fluewright.errors import BadSurvey
from fluewright.files import survey_bytes, survey_from_bytes
from fluewright.files.schema import survey_schema

BAD = Path(__file__).parent / "cases" / "bad"
FILES = sorted(path for path in BAD.iterdir() if path.suffix in (".yaml", ".json"))

# Faults of names, order, units and ranges are for the reader alone; these the schema sees too.
SEEN_BY_SCHEMA = [
    path
    for path in FILES
    if path.stem[3:]
    in {
        "unknown_keys",
        "empty_list",
        "missing_keys",
        "bad_ids",
        "empty_values",
        "wrong_shapes",
        "wrong_shapes_inside",
        "wrong_words",
        "neither_yes_nor_no",
        "not_known_where_it_must_be",
        "none_where_it_says_nothing",
        "no_unit",
        "reading_without_tool",
        "no_version",
        "nothing_but_a_version",
        "version_is_a_word",
        "a_list",
    }
]


def test_there_is_a_text_for_each_file_and_no_other() -> None:
    assert len(FILES) >= 45
    assert {path.stem for path in FILES} == {path.stem for path in BAD.glob("*.txt")}
    assert len(SEEN_BY_SCHEMA) == 17


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_malformed_survey_gives_these_lines(path: Path) -> None:
    with pytest.raises(BadSurvey) as caught:
        survey_from_bytes(survey_bytes(path), path.name)
    assert f"{caught.value}\n" == path.with_suffix(".txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_faults_stand_in_the_order_of_the_file(path: Path) -> None:
    with pytest.raises(BadSurvey) as caught:
        survey_from_bytes(survey_bytes(path), path.name)
    lines = [fault.line or 0 for fault in caught.value.faults]
    assert lines == sorted(lines)


@pytest.mark.parametrize("path", SEEN_BY_SCHEMA, ids=lambda path: path.stem)
def test_schema_refuses_it_too(path: Path) -> None:
    data = YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8"))
    assert not jsonschema.Draft202012Validator(survey_schema()).is_valid(data)
