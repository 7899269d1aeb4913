"""Several appliances: a sheet for each way to the open air, and words that say whose it is."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from drawing_trees import TEXTS, tree_survey
from fluewright import app
from fluewright.cli import main
from fluewright.joining import concerned
from fluewright.report.several import appliance_texts, names_concerned
from fluewright.report.spoken import spoken
from fluewright.report.tree import Audience

LONE = """  - from: dryer
    pieces:
      - {id: d1, part: straight, role: vent, wall: type_b, diameter: 4 in, length: 9 ft, runs: up}
      - {id: d9, part: cap, listed: yes}
    roof: {ends: above_roof, pitch: 4/12}
"""
BOTH = (
    TEXTS["two"]
    .replace("paths:\n", "paths:\n" + LONE)
    .replace("appliances:\n", "appliances:\n  dryer: {kind: room heater, space: cellar}\n")
)


@pytest.fixture
def job(tmp_path: Path) -> str:
    file = tmp_path / "both.yaml"
    file.write_text(BOTH)
    return str(file)


def run(*args: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, list(args))
    return done.exit_code, done.output


def test_draw_writes_a_sheet_for_each(job: str, tmp_path: Path) -> None:
    code, said = run("draw", job, "-o", str(tmp_path / "out.svg"))
    assert code == 0
    assert "dimensioned elevation of dryer" in said
    assert "dimensioned elevation of trunk" in said
    assert "path from dryer" in (tmp_path / "out.svg").read_text()
    assert "common vent trunk" in (tmp_path / "out-2.svg").read_text()


@pytest.mark.parametrize("asked", ["trunk", "heater"])
def test_one_sheet_may_be_asked_for(job: str, tmp_path: Path, asked: str) -> None:
    code, _ = run("draw", job, "-o", str(tmp_path / "one.svg"), "--path", asked)
    assert code == 0
    assert "common vent trunk" in (tmp_path / "one.svg").read_text()
    assert not (tmp_path / "one-2.svg").exists()


def test_a_sheet_that_is_not_there_is_a_clear_error(job: str, tmp_path: Path) -> None:
    code, said = run("draw", job, "-o", str(tmp_path / "one.svg"), "--path", "chimney")
    assert code == 2
    assert '"chimney" is no common vent' in said
    assert "trunk" in said
    assert not (tmp_path / "one.svg").exists()


def test_a_chimney_has_no_chart_made_for_gas_vents(tmp_path: Path) -> None:
    file = tmp_path / "orphan.yaml"
    file.write_text(TEXTS["orphan"])
    code, said = run("draw", str(file), "-o", str(tmp_path / "one.svg"), "--chart")
    assert code == 2
    assert "ends in a chimney" in said
    assert app.chart_names(app.read_job(str(file))) == ()


def test_the_report_shows_each_sheet_and_says_how_each_appliance_stands(job: str) -> None:
    read = app.read_job(job)
    tree, pictures = app.report_tree(
        read, app.judge_job(read), Audience.OWNER.value, "letter", "us", "2026-11-28"
    )
    assert set(pictures.elevations) == {"dryer", "trunk"}
    assert set(pictures.cap_charts) == {"dryer", "trunk"}
    (found,) = [s for s in tree.sections if s.anchor == "found"]
    text = str(found)
    for said in (
        "furnace (furnace), on the common vent trunk: 1 thing found wrong, the gravest marked Haz",
        "heater (storage water heater), on the common vent trunk: 1 thing found wrong, the grave",
    ):
        assert said in text, said
    # The tape is on the furnace's connector; the heater shares the vent, the dryer does not.
    assert "Do not rely on heater and furnace until they are repaired" in str(tree.opening)


def test_of_one_appliance_nothing_is_said_twice() -> None:
    made = app.read_job(app.DATA + "/demo/otter-bend.yaml")
    (found,) = app.judge_job(made)
    assert spoken(made.survey, found) == found
    assert names_concerned(made.survey, found.findings) == ""


def test_text_says_of_which_appliance_it_speaks(job: str) -> None:
    _, said = run("judge", job, "--full")
    text = " ".join(said.split())
    assert "manual damper in the connector (furnace)." in text
    assert "manual damper in the connector (heater)." in text
    assert "(the common vent trunk)" in text


def test_whom_a_finding_concerns() -> None:
    two = tree_survey("two")
    assert concerned(two, "c1 joint") == ("heater",)
    assert concerned(two, "furnace") == ("furnace",)
    assert set(concerned(two, "v1")) == {"heater", "furnace"}
    assert set(concerned(two, "trunk")) == {"heater", "furnace"}
    assert set(concerned(two, "house")) == {"heater", "furnace"}
    assert concerned(tree_survey("orphan"), "k1") == ("heater",)


def test_what_was_taken_out_is_named_and_not_judged() -> None:
    from fluewright.report.findings import Shown
    from fluewright.report.words import subject_names

    made = tree_survey("orphan")
    shown = Shown(Audience.OWNER, subject_names(made), {})
    texts = appliance_texts(made, [], shown)
    assert "old_furnace (furnace), on the common vent chimney: taken out, and not judged." in texts
