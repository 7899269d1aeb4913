"""``fluewright draft`` on shared vents, houses that are worked out, and folders of surveys."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from click.testing import CliRunner, Result

from fluewright.cli import main

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


def draft(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["draft", *arguments])


def test_a_shared_vent_is_answered_as_one_with_every_combination() -> None:
    found = json.loads(draft(str(DEMO / "alder-court.yaml"), "--json").stdout)
    assert found["appliances"] == []
    [vent] = found["shared"]
    assert {tuple(sorted(one["burning"])) for one in vent["combinations"]} == {
        ("furnace",), ("heater",), ("furnace", "heater"),
    }  # fmt: skip
    assert vent["answer"]
    assert vent["fails"] is True  # it cannot be told, with so little known of it


def test_a_shared_vent_says_first_what_to_do() -> None:
    [vent] = json.loads(draft(str(DEMO / "alder-court.yaml"), "--json").stdout)["shared"]
    text = " ".join(draft(str(DEMO / "alder-court.yaml")).stdout.split())
    assert vent["do_first"]
    assert text.index(vent["do_first"][0]) < text.index("Once hot")
    assert "This is no approval and no pass." in text


def test_a_house_that_is_worked_out_shows_its_pressure_and_moves_the_answer() -> None:
    job = str(DEMO / "otter-bend.yaml")
    house = ("--leakage", "1200 cfm", "--exhaust", "250 cfm")
    text = " ".join(draft(job, *house).stdout.split())
    assert "House pressure at the hood worked out: -4." in text
    [calm] = json.loads(draft(job, "--json").stdout)["appliances"]
    [fans] = json.loads(draft(job, "--json", *house).stdout)["appliances"]
    assert calm["start"]["establishes"]
    assert not fans["start"]["establishes"]


def test_a_house_is_given_whole_or_not_at_all() -> None:
    job = str(DEMO / "otter-bend.yaml")
    found = draft(job, "--leakage", "1200 cfm")
    assert found.exit_code == 2
    assert "--leakage belongs to --exhaust" in found.stderr
    both = draft(job, "--leakage", "1200 cfm", "--exhaust", "9 cfm", "--house-pressure", "-1 Pa")
    assert both.exit_code == 2
    assert "give one, measured or worked out" in both.stderr


def test_a_folder_is_one_line_a_survey(tmp_path: Path) -> None:
    for name in ("otter-bend", "alder-court"):
        shutil.copy(DEMO / f"{name}.yaml", tmp_path)
    found = draft(str(tmp_path), "--spread", "80")
    assert found.exit_code == 1  # one of them has no answer
    assert "otter-bend.yaml" in found.stdout
    assert "2 appliances burn" in found.stdout
    data = json.loads(draft(str(tmp_path), "--spread", "80", "--json").stdout)
    assert [one["file"] for one in data["surveys"]] == ["alder-court.yaml", "otter-bend.yaml"]


def test_a_folder_without_samples_says_what_it_needs(tmp_path: Path) -> None:
    found = draft(str(tmp_path))
    assert found.exit_code == 2
    assert "a folder is asked with --spread" in found.stderr


def test_fans_asked_for_never_leave_a_shared_vent_in_a_house_at_rest() -> None:
    house = ("--leakage", "900 cfm", "--exhaust", "400 cfm")
    found = draft(str(DEMO / "alder-court.yaml"), "--json", *house)
    assert found.exit_code == 1
    [vent] = json.loads(found.stdout)["shared"]
    assert vent["answer"] is None
    assert "--house-pressure" in vent["reason"]


def test_samples_are_drawn_in_the_house_that_was_worked_out() -> None:
    job = str(DEMO / "otter-bend.yaml")
    house = ("--leakage", "500 cfm", "--exhaust", "400 cfm", "--outdoor", "60 degF")
    [fans] = json.loads(draft(job, "--json", "--spread", "60", *house).stdout)["appliances"]
    [rest] = json.loads(draft(job, "--json", "--spread", "60", "--house-pressure", "0 Pa",
                              "--outdoor", "60 degF").stdout)["appliances"]  # fmt: skip
    gap = rest["ensemble"]["margin_pa"]["p50"] - fans["ensemble"]["margin_pa"]["p50"]
    assert gap > 6.0  # usual fans alone would draw 0 to 4 Pa of suction
