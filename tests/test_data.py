"""Every data file of the package loads, agrees with the others, and is read by something."""

from __future__ import annotations

from pathlib import Path

import pytest
from tools.check_data import CHECKS, results

RESULTS = list(results())


@pytest.mark.parametrize(("name", "text", "right"), RESULTS, ids=[name for name, _, _ in RESULTS])
def test_data_file_is_right(name: str, text: str, right: bool) -> None:
    assert right, f"{name}: {text}"


def test_every_kind_of_data_is_there() -> None:
    found = {Path(name).parent.as_posix() for name, _, _ in RESULTS}
    assert found >= {Path(like).parent.as_posix() for like in CHECKS}


@pytest.mark.parametrize(
    ("name", "content", "complaint"),
    [
        ("notes.csv", "a,b", "nothing here reads it"),
        ("editions/nowhere_1900.toml", "", "is not an edition this program knows"),
        ("tables/T99.csv", "", "no loader asks for it"),
        ("fonts/Bad.ttf", "text", "first bytes"),
        ("schema/x.schema.json", '{"type": "nonsense"}', "nonsense"),
        ("templates/x.yaml", "survey: 1\npath: []", "path"),
        ("demo/photos/x.jpg", "", "no demo survey shows it"),
    ],
)
def test_a_wrong_or_stray_data_file_is_told(
    tmp_path: Path, name: str, content: str, complaint: str
) -> None:
    file = tmp_path / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(content, encoding="utf-8")
    ((found, text, right),) = results(tmp_path)
    assert (found, right) == (name, False)
    assert complaint in text
