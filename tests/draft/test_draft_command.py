"""``fluewright draft``: what it prints, in which order, and with which exit."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from fluewright.cli import main

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"


def draft(*arguments: str, job: str = "otter-bend") -> Result:
    return CliRunner().invoke(main, ["draft", str(DEMO / f"{job}.yaml"), *arguments])


def one(*arguments: str, job: str = "otter-bend") -> dict[str, object]:
    found = json.loads(draft("--json", *arguments, job=job).stdout)
    return dict(found["appliances"][0])


def test_signs_of_past_spillage_come_before_the_figures() -> None:
    text = draft(job="otter-bend").stdout
    assert text.index("it has spilled before") < text.index("Once hot")
    assert "It drafts" not in text


def test_it_says_what_it_is_not() -> None:
    text = " ".join(draft().stdout.split())
    assert "This is no approval and no pass." in text
    assert "neither overrules the other" in text
    assert "What the code says of the size" in text
    for word in ("safe", "compliant", "certified", "guaranteed"):
        assert word not in text.lower().split()


def test_spillage_says_shut_it_off_and_exits_1() -> None:
    found = draft("--house-pressure", "-30 Pa")
    assert found.exit_code == 1
    text = " ".join(found.stdout.split())
    assert "It spills" in text
    assert "Shut the appliance off now, open windows and doors" in text


def test_calm_and_mild_exits_0_but_warns_of_fans() -> None:
    found = draft(job="otter-bend-repaired")
    assert found.exit_code == 0
    words = " ".join(found.stdout.split())
    assert "A closed house with its fans on may keep it from starting" in words


def test_an_open_joint_goes_before_all_figures_and_exits_1() -> None:
    found = draft(job="otter-bend")
    assert found.exit_code == 1
    words = " ".join(found.stdout.split())
    assert words.index("the joint at the start of c4 stands open") < words.index("Once hot")
    assert "It cannot be told whether it drafts, and it may not" in words
    assert "Keep the appliance off" in words


def test_spillage_seen_in_a_test_outweighs_a_computed_draft() -> None:
    found = draft("--json", job="linen-nook")
    assert found.exit_code == 1
    told = json.loads(found.stdout)["appliances"][0]
    assert told["hot"] == "spills"
    assert told["hot_by_the_figures_alone"] == "drafts"
    assert "own test saw heater spill" in told["answer"]
    assert "Shut the appliance off now" in told["do_first"][0]


def test_what_has_no_answer_still_says_what_to_do_first(tmp_path: Path) -> None:
    text = (DEMO / "linen-nook.yaml").read_text(encoding="utf-8")
    bare = tmp_path / "bare.yaml"
    kept = [line for line in text.splitlines() if "    input:" not in line]
    bare.write_text("\n".join(kept), encoding="utf-8")
    found = CliRunner().invoke(main, ["draft", str(bare), "--json"])
    assert found.exit_code == 1
    [told] = json.loads(found.stdout)["appliances"]
    assert told["answer"] is None
    assert "Shut the appliance off now" in told["do_first"][0]


def test_wind_that_may_push_makes_it_uncertain_and_never_counts_on_suction() -> None:
    calm, windy = one(), one("--wind", "15 mph")
    assert windy["hot"] == "cannot_tell"
    assert windy["fails"] is True
    assert windy["withstands"] == calm["withstands"]


def test_json_holds_every_input_with_its_origin_and_the_residual() -> None:
    found = one()
    inputs = found["inputs"]
    assert isinstance(inputs, list)
    assert all(i["origin"] and i["low"] <= i["value"] <= i["high"] for i in inputs)
    roots = found["roots"]
    assert isinstance(roots, list)
    assert all(abs(root["residual"]["value"]) < 1e-6 for root in roots)


def test_an_ensemble_is_the_same_for_the_same_seed_and_goes_on_where_it_stopped(
    tmp_path: Path,
) -> None:
    kept = tmp_path / "kept.json"
    first = one("--spread", "60", "--seed", "7")["ensemble"]
    again = one("--spread", "60", "--seed", "7", "--keep", str(kept))["ensemble"]
    assert first == again
    data = json.loads(kept.read_text(encoding="utf-8"))
    data["ensembles"]["heater, starts"] = data["ensembles"]["heater, starts"][:1]
    kept.write_text(json.dumps(data), encoding="utf-8")
    assert one("--spread", "60", "--seed", "7", "--keep", str(kept))["ensemble"] == first
    other = one("--spread", "60", "--seed", "8")["ensemble"]
    assert other != first


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--wind", "breezy"), '--wind: "breezy" is not a wind speed. Write a speed'),
        (("--outdoor", "12 ft"), "--outdoor: "),
        (("--house-pressure", "3"), '--house-pressure: "3" has no unit'),
        (("--appliance", "boiler"), "no appliance 'boiler' that burns. There are: heater."),
        (("--keep", "x.json"), "--keep keeps a --spread"),
    ],
)
def test_bad_questions_get_one_clear_line(arguments: tuple[str, ...], words: str) -> None:
    found = draft(*arguments)
    assert found.exit_code == 2
    assert words in found.stderr
    assert len(found.stderr.strip().splitlines()) == 1


def test_a_file_that_keeps_something_else_is_not_written_over(tmp_path: Path) -> None:
    kept = tmp_path / "notes.json"
    kept.write_text('{"mine": 1}', encoding="utf-8")
    found = draft("--spread", "20", "--keep", str(kept))
    assert found.exit_code == 2
    assert "not a file that keeps an ensemble" in found.stderr
    assert kept.read_text(encoding="utf-8") == '{"mine": 1}'


def test_a_survey_without_lengths_says_what_to_measure(tmp_path: Path) -> None:
    text = (DEMO / "otter-bend.yaml").read_text(encoding="utf-8")
    bare = tmp_path / "bare.yaml"
    bare.write_text(
        "\n".join(line for line in text.splitlines() if "input:" not in line), encoding="utf-8"
    )
    found = CliRunner().invoke(main, ["draft", str(bare)])
    assert found.exit_code == 1
    assert "no answer" in found.stdout


def test_metric_units_are_metric() -> None:
    text = draft("--units", "metric").stdout
    assert "°F" not in text
    assert "w.c." not in text


def test_an_ensemble_never_softens_what_was_seen() -> None:
    text = " ".join(draft("--spread", "30").stdout.split())
    assert "it spills hot in" in text
    assert text.index("is in none of these samples") < text.index("it spills hot in")
