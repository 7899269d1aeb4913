"""The command line as people and programs use it: exits, texts, JSON, errors without traceback."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from fluewright import app
from fluewright.cli import main

DEMO = Path(app.DATA) / "demo"
AS_FOUND, REPAIRED = str(DEMO / "otter-bend.yaml"), str(DEMO / "otter-bend-repaired.yaml")
BANNED = ("compliant", "certified", "guaranteed", "is safe", "are safe")


def run(*words: str, stdin: str | None = None) -> Result:
    return CliRunner().invoke(main, list(words), input=stdin, catch_exceptions=False)


def schema(name: str) -> dict[str, Any]:
    data: dict[str, Any] = json.loads((Path(app.DATA) / "schema" / name).read_text())
    return data


def test_judge_puts_danger_first_and_says_what_to_do() -> None:
    got = run("judge", AS_FOUND)
    assert got.exit_code == 1
    body = got.stdout.split("\n", 3)[3]
    assert body.startswith("SHUT IT OFF.  Shut the appliance off now, open windows and doors")
    assert "Connector c3 climbs 1/8 in per ft" in got.stdout
    assert "1/4 in per ft needed: 1/8 in per ft too flat" in " ".join(got.stdout.split())
    assert "UMC 2012 802.10.6 [NFPA 54-2012 12.11.8]" in got.stdout
    assert "Measure or ask next" in got.stdout
    assert re.search(r"Not examined: \d", got.stdout)
    assert "authority having" in got.stdout
    assert not [word for word in BANNED if word in got.stdout.lower()]


def test_judge_of_the_repaired_house_exits_0() -> None:
    got = run("judge", REPAIRED)
    assert got.exit_code == 0
    assert "Nothing that was examined fails. That is no test of draft" in got.stdout


@pytest.mark.parametrize(
    "file", [AS_FOUND, REPAIRED, str(Path(app.DATA) / "templates/coarse.yaml")]
)
@pytest.mark.parametrize("edition", ["umc_2012", "irc_2021"])
def test_json_of_judge_keeps_the_published_schema(file: str, edition: str) -> None:
    got = run("judge", file, "--edition", edition, "--json")
    data = json.loads(got.stdout)
    jsonschema.Draft202012Validator(schema("judgement.schema.json")).validate(data)
    counts: dict[str, int] = dict.fromkeys(data["counts"], 0)
    for finding in data["findings"]:
        counts[finding["verdict"]] += 1
    assert counts == data["counts"]
    assert data["edition"]["id"] == edition


def test_json_of_one_finding_is_what_the_contract_says() -> None:
    data = json.loads(run("judge", AS_FOUND, "--json").stdout)
    slope = next(f for f in data["findings"] if f["rule"] == "connector_upward_slope")
    assert (slope["subject"], slope["verdict"], slope["grade"]) == ("c3", "fails", "defect")
    assert slope["measured"] == {
        "value": 0.125,
        "unit": "in/ft",
        "tolerance": pytest.approx(0.042, abs=5e-4),
    }
    assert slope["limit"] == {"value": 0.25, "unit": "in/ft", "sense": "at_least"}
    assert slope["margin"] == {
        "value": -0.125,
        "unit": "in/ft",
        "tolerance": pytest.approx(0.042, abs=5e-4),
    }
    assert slope["cites"][0] == {
        "document": "UMC", "edition": "2012", "at": "802.10.6",
        "base": "NFPA 54-2012 12.11.8", "basis": "read",
    }  # fmt: skip


def test_two_editions_give_a_list_and_show_danger_then_what_differs() -> None:
    words = ("judge", AS_FOUND, "--edition", "umc_2012", "--edition", "irc_2021")
    assert [j["edition"]["id"] for j in json.loads(run(*words, "--json").stdout)] == [
        "umc_2012",
        "irc_2021",
    ]
    text = run(*words).stdout
    assert text.startswith("SHUT IT OFF.  ")
    assert text.index("what differs first") < text.index("judged by")
    assert "SHUT IT OFF" not in run("judge", REPAIRED, *words[2:]).stdout


def test_several_editions_are_one_table_with_what_differs_before_the_rest() -> None:
    words = ("judge", AS_FOUND, "--edition", "umc_2012", "--edition", "irc_2021")
    by_edition = [
        {(f["rule"], f["subject"]): f["verdict"] for f in one["findings"]}
        for one in json.loads(run(*words, "--json").stdout)
    ]
    lines = run(*words).stdout.split("judged by")[0].splitlines()
    told = {"meets": "meets", "fails": "FAILS", "cannot_tell": "not", "not_applicable": "not"}
    seen = set()
    heads = [i for i, line in enumerate(lines) if line.startswith("  ") and line.endswith(")")]
    start = next(i for i, line in enumerate(lines) if "the same in all" in line)
    for i in (i for i in heads if i < start):
        rule, _, subject = lines[i].strip().removesuffix(")").partition(" (")
        cells = lines[i + 1].split()
        answers = [one.get((rule, subject), "absent") for one in by_edition]
        assert cells[0] == told.get(answers[0], "absent"), lines[i]
        assert cells[-1].removesuffix("asked") in (told.get(answers[1], "absent"), "")
        seen.add((rule, subject))
    differ = {
        key
        for key in by_edition[0].keys() | by_edition[1].keys()
        if by_edition[0].get(key) != by_edition[1].get(key)
    }
    assert differ
    assert differ <= seen
    assert (
        f"the same in all: {len(by_edition[0].keys() | by_edition[1].keys()) - len(seen)}"
        in (lines[start])
    )
    alike = [line for line in lines[start + 1 :] if line.startswith("    FAILS")]
    fails = [k for k, verdict in by_edition[0].items() if verdict == "fails" and k not in seen]
    assert len(alike) == len(fails) > 0


def test_columns_of_all_editions_stay_under_each_other() -> None:
    ids = [one["id"] for one in json.loads(run("editions", "--json").stdout)]
    words = [word for one in ids for word in ("--edition", one)]
    lines = run("judge", AS_FOUND, *words).stdout.split("judged by")[0].splitlines()
    head = next(line for line in lines if line.startswith(f"    {ids[0]} "))
    starts = [head.index(one) for one in ids]
    row = lines[lines.index(head) + 2]
    assert all(row[at - 1] == " " and row[at] != " " for at in starts)
    assert max(map(len, lines)) <= 92


def test_standard_input_is_read() -> None:
    got = run("judge", "-", stdin=Path(AS_FOUND).read_text())
    assert got.exit_code == 1
    assert "SHUT IT OFF" in got.stdout


def test_check_lists_what_is_still_worth_measuring() -> None:
    got = run("check", AS_FOUND)
    assert got.exit_code == 0
    assert "1 things still to learn" not in got.stdout
    assert "distance from the relief opening" in got.stdout
    assert "Do not walk this roof" in got.stdout
    assert got.stdout.startswith("SHUT IT OFF.  ")
    assert "call the emergency number from outside" in " ".join(got.stdout.split())
    data = json.loads(run("check", AS_FOUND, "--json").stdout)
    assert data["next"][0]["settles"] == ["draft_hood_relief_clearance"]
    assert data["cautions"][0].startswith("Shut the appliance off now")


@pytest.mark.parametrize("folder", ["near", "far/" + "down/" * 20])
def test_lines_fit_however_long_the_name_of_the_file_is(folder: str, tmp_path: Path) -> None:
    file = tmp_path / folder / "a.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(Path(AS_FOUND).read_text())
    lines = run("check", str(file)).stdout.splitlines()
    assert sum(str(file) in line for line in lines) == 1
    assert max(len(line) for line in lines if str(file) not in line) <= 92


@pytest.mark.parametrize("words", [("new",), ("new", "--coarse")])
def test_a_new_survey_reads_well_and_is_never_written_over(
    words: tuple[str, ...], tmp_path: Path
) -> None:
    file = str(tmp_path / "job.yaml")
    assert run(*words, file).exit_code == 0
    assert run("check", file).exit_code == 0
    assert run("judge", file).exit_code == 1  # nothing known is no pass
    again = run(*words, file)
    assert again.exit_code == 2
    assert again.stderr == f"{file} is there already. Name a new file; nothing is written over.\n"


ERRORS = [
    (("judge", "nowhere.yaml"), "nowhere.yaml: there is no such file. Look at the path.\n"),
    (
        ("judge", AS_FOUND, "--edition", "umc"),
        '"umc" is not an edition this program knows. Known: ',
    ),
    (("explain", "connector_slope"), '"connector_slope" is no rule of this program. Did you mean '),
    (
        ("draw", AS_FOUND, "-o", "x.bmp"),
        'x.bmp: ".bmp" cannot be written here. Use .svg or .png.\n',
    ),
    (
        ("report", AS_FOUND, "-o", "x.doc"),
        'x.doc: ".doc" cannot be written here. Use .pdf or .html.\n',
    ),
    (
        ("capacity", "--vent", "type_b", "--connector", "none", "--burner", "draft_hood",
         "--height", "10", "--lateral", "0 ft", "--diameter", "4 in"),
        '--height: "10" has no unit.',
    ),
]  # fmt: skip


@pytest.mark.parametrize(("words", "start"), ERRORS)
def test_bad_input_exits_2_with_one_clear_line(words: tuple[str, ...], start: str) -> None:
    got = run(*words)
    assert got.exit_code == 2
    assert got.stderr.startswith(start), got.stderr
    assert got.stderr.count("\n") == 1
    assert "Traceback" not in got.output


def test_every_fault_of_a_survey_is_shown_with_its_line(tmp_path: Path) -> None:
    text = (
        Path(AS_FOUND)
        .read_text()
        .replace("pitch: 5/12", "pitch: 5")
        .replace("runs: level", "runs: flat")
    )
    file = tmp_path / "job.yaml"
    file.write_text(text)
    got = run("judge", str(file))
    assert got.exit_code == 2
    lines = got.stderr.splitlines()
    assert len(lines) == 2
    assert all(line.startswith(f"{file}:") for line in lines)
    assert "paths[0].pieces[2].runs" in lines[0]
    assert "paths[0].roof.pitch" in lines[1]


def test_editions_are_listed_and_shown_whole() -> None:
    ids = [row["id"] for row in json.loads(run("editions", "--json").stdout)]
    assert ids == list(app.edition_ids())
    text = run("editions", "umc_2012").stdout
    assert "not examined:" in text
    assert "connector_upward_slope" in text


def test_explain_gives_the_limit_of_each_edition_and_the_remedy() -> None:
    text = " ".join(run("explain", "connector_upward_slope").stdout.split())
    for part in ("1/4 in per ft", "802.10.6", "G2427.10.7", "from memory", "digital level"):
        assert part in text
    json.loads(run("explain", "connector_upward_slope", "--json").stdout)


def test_capacity_is_the_contract_example() -> None:
    words = (
        "capacity", "--vent", "type_b", "--connector", "single_wall", "--burner", "draft_hood",
        "--height", "10 ft", "--lateral", "5 ft", "--diameter", "5 in", "--json",
    )  # fmt: skip
    got = run(*words)
    data = json.loads(got.stdout)
    assert got.exit_code == 0
    assert data["table"] == "803.1.3(2)"
    assert data["max"] == {"value": 122, "unit": "kBtu/h", "tolerance": 0}
    assert data["reason"] is None


def test_capacity_outside_the_table_gives_the_reason_and_exit_1() -> None:
    words = (
        "capacity", "--vent", "type_b", "--connector", "type_b", "--burner", "draft_hood",
        "--height", "5 ft", "--lateral", "2 ft", "--diameter", "4 in", "--json",
    )  # fmt: skip
    got = run(*words)
    data = json.loads(got.stdout)
    assert got.exit_code == 1
    assert data["max"] is None
    assert "engineer" in data["reason"]


def test_capacity_answers_for_a_common_vent_and_a_masonry_chimney() -> None:
    words = ("capacity", "--burner", "draft_hood", "--height", "30 ft", "--lateral", "0 ft",
             "--diameter", "6 in", "--json")  # fmt: skip
    asked = {
        ("--vent", "type_b", "--connector", "single_wall", "--shared", "nat_nat"): (
            "803.1.3(8)",
            257,
        ),
        ("--vent", "type_b", "--connector", "single_wall", "--rise", "3 ft"): ("803.1.3(8)", 172),
    }
    for more, (table, most) in asked.items():
        data = json.loads(run(*words, *more).stdout)
        assert (data["table"], data["max"]["value"]) == (table, most)
    chimney = (*words, "--vent", "masonry", "--connector", "type_b", "--flue-area", "38 in2")
    assert json.loads(run(*chimney).stdout)["table"] == "803.1.3(3)"


def test_capacity_says_how_well_it_is_known_and_what_it_is_not() -> None:
    words = (
        "capacity", "--vent", "type_b", "--connector", "single_wall", "--burner", "draft_hood",
        "--height", "10 ft", "--lateral", "5 ft", "--diameter", "5 in", "--edition",
    )  # fmt: skip
    for edition, basis in (("umc_2012", "read"), ("irc_2021", "memory")):
        data = json.loads(run(*words, edition, "--json").stdout)
        text = run(*words, edition).stdout
        assert data["basis"] == basis
        assert ("not in the text of this edition: verify" in text) == (basis == "memory")
        assert "can still spill" in data["cautions"][0]
        assert all(line in text for line in data["cautions"])
    none = run(*words, "umc_2012", "--rise", "2 ft", "--shared", "nat_nat")
    assert none.exit_code == 1
    assert "Table" not in none.stdout
    assert "can still spill" not in none.stdout
    below = run(*words, "umc_2012", "--height", "-10 ft")
    assert below.stderr == '--height: "-10 ft" is below zero. Write zero or more.\n'


def test_explain_finds_a_rule_by_a_part_of_its_id() -> None:
    assert "Did you mean connector_upward_slope?" in run("explain", "slope").stderr


def test_draw_writes_svg_and_png_and_keeps_the_old_file_on_failure(tmp_path: Path) -> None:
    for name, start in (("a.svg", b"<?xml"), ("a.png", b"\x89PNG")):
        file = tmp_path / name
        assert run("draw", AS_FOUND, "-o", str(file)).exit_code == 0
        assert file.read_bytes().startswith(start)
    chart = tmp_path / "chart.svg"
    assert run("draw", AS_FOUND, "--chart", "-o", str(chart), "--units", "metric").exit_code == 0
    assert not list(tmp_path.glob("*.part"))


@pytest.mark.parametrize("words", [("draw", AS_FOUND), ("report", AS_FOUND)])
def test_an_output_that_cannot_be_written_is_named_and_leaves_nothing(
    tmp_path: Path, words: tuple[str, ...]
) -> None:
    ending = ".svg" if words[0] == "draw" else ".html"
    folder, blocked = tmp_path / f"a{ending}", tmp_path / "file"
    folder.mkdir()
    blocked.write_text("")
    got = run(*words, "-o", str(folder))
    assert got.exit_code == 2
    assert got.stderr == f"{folder}: this is a directory; name a file in it\n"
    got = run(*words, "-o", str(blocked / f"b{ending}"))
    assert got.exit_code == 2
    assert got.stderr.startswith(f"{blocked / f'b{ending}'}: ")
    got = run(*words, "-o", str(tmp_path / "bare"))
    assert got.exit_code == 2
    assert "bare: the name has no ending. Use ." in got.stderr
    assert sorted(p.name for p in tmp_path.iterdir()) == [folder.name, "file"]


def test_new_prints_the_template_where_no_file_is_named() -> None:
    got = run("new", "-", "--coarse")
    assert got.exit_code == 0
    assert got.stdout == (Path(app.DATA) / "templates/coarse.yaml").read_text()


def test_report_writes_pdf_and_html_with_photos(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "job")
    survey = str(tmp_path / "job" / "otter-bend.yaml")
    for name, audience in (("r.pdf", "owner"), ("r.html", "official")):
        file = tmp_path / name
        assert run("report", survey, "-o", str(file), "--for", audience).exit_code == 0
        assert file.stat().st_size > 50_000
    assert "Foil tape over an open joint" in (tmp_path / "r.html").read_text()


def test_demo_writes_what_it_says(tmp_path: Path) -> None:
    got = run("demo", str(tmp_path / "out"))
    assert got.exit_code == 0
    named = [line.split()[0] for line in got.stdout.splitlines() if line.startswith(str(tmp_path))]
    for name in ("report.pdf", "elevation.svg", "cap-chart.svg"):
        assert str(tmp_path / "out" / name) in named
    assert all(Path(file).stat().st_size > 500 for file in named)
    assert "invented" in got.stdout


def test_a_photo_outside_the_folder_of_the_survey_is_not_read(tmp_path: Path) -> None:
    secret = tmp_path / "secret.jpg"
    shutil.copy(DEMO / "photos" / "hood-rust.jpg", secret)
    folder = tmp_path / "job"
    folder.mkdir()
    text = Path(AS_FOUND).read_text().replace("photos/hood-rust.jpg", "../secret.jpg")
    (folder / "job.yaml").write_text(text)
    assert "../secret.jpg" not in app._photos(app.read_job(str(folder / "job.yaml")))


@pytest.mark.parametrize("json_too", [(), ("--json",)])
def test_a_terminal_without_the_letters_still_gets_every_answer(json_too: tuple[str, ...]) -> None:
    words = [sys.executable, "-m", "fluewright.cli", "judge", AS_FOUND, "--full", *json_too]
    env = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    got = subprocess.run(words, capture_output=True, env=env, check=False)
    assert got.returncode == 1, got.stderr
    assert b"Traceback" not in got.stderr
    if json_too:
        found = json.loads(got.stdout)["findings"]
        assert any("\u00b1" in finding["sentence"] for finding in found)


def test_a_closed_standard_input_reads_as_empty() -> None:
    words = f"{sys.executable} -m fluewright.cli judge - <&-"
    got = subprocess.run(words, shell=True, capture_output=True, text=True, check=False)
    assert got.returncode == 2
    assert got.stderr.startswith("stdin: the file is empty.")


@pytest.mark.parametrize("before", ["", "import fluewright.judge, fluewright.app\n"])
def test_python_callers_judge_as_the_readme_says(before: str) -> None:
    code = (
        f"{before}import fluewright as fw\n"
        f"survey = fw.read_survey({AS_FOUND!r})\n"
        "judgement = fw.judge(survey, edition='umc_2012')\n"
        "print(judgement.findings[0].verdict.value, judgement.findings[0].grade.value)"
    )
    got = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (got.stdout, got.stderr) == ("fails stop\n", "")
