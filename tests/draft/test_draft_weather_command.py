"""``fluewright draft`` with weather, carbon monoxide and figures; all weather is invented."""

from __future__ import annotations

import importlib
import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from tests.invented_weather import invented_epw

from fluewright.cli import main

DEMO = Path(__file__).parents[2] / "src" / "fluewright" / "data" / "demo"
WORDS = ("safe", "safely", "compliant", "certified", "guaranteed", "harmless")


def draft(*arguments: str, job: str = "otter-bend") -> Result:
    return CliRunner().invoke(main, ["draft", str(DEMO / f"{job}.yaml"), *arguments])


def one(*arguments: str) -> dict[str, Any]:
    found = json.loads(draft("--json", *arguments).stdout)
    return dict(found["appliances"][0])


@pytest.fixture(scope="module")
def weather(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("weather") / "invented.epw"
    file.write_text(invented_epw(missing=40), encoding="utf-8")
    return str(file)


def test_hours_are_told_with_their_doubt_and_their_caution(weather: str) -> None:
    text = " ".join(draft("--weather", weather).stdout.split())
    assert "Over a year of weather" in text
    assert "40 of 8,760 hours lack temperature or wind" in text
    assert "from typical year, not a published design value" in text
    assert "gusts are not in it" in text
    assert "Few hours are no pass" in text
    assert "the strongest wind: nobody said --terrain" in text
    assert not set(WORDS) & set(text.lower().split())


def test_json_holds_counts_bins_and_where_they_come_from(weather: str) -> None:
    year = one("--weather", weather, "--terrain", "urban")["year"]
    assert year["station"]["city"] == "Invented Hollow"
    assert year["wind"]["terrain"] == year["terrain"] == "urban"
    for name in ("spills", "fails_to_start", "wet"):
        count = year[name]
        assert 40.0 <= count["untold"] <= count["high"] <= 8760.0
        assert 0.0 <= count["low"] <= count["still"] + count["untold"]
        assert sum(part[name]["low"] for part in year["bins"]) == pytest.approx(count["low"])


def test_fans_and_warmth_take_hours_away(weather: str, tmp_path: Path) -> None:
    hot = tmp_path / "hot.epw"
    hot.write_text(invented_epw(warmer=8.0), encoding="utf-8")
    calm = one("--weather", weather)["year"]["fails_to_start"]["still"]
    fans = one("--weather", weather, "--house-pressure", "-2 Pa")["year"]["fails_to_start"]["still"]
    warm = one("--weather", str(hot), "--house-pressure", "-2 Pa")["year"]["fails_to_start"][
        "still"
    ]
    assert calm < fans < warm


def test_metric_bins_are_metric(weather: str) -> None:
    text = draft("--weather", weather, "--units", "metric").stdout
    table = text[text.index("outdoors") :]
    assert "°F" not in text
    assert "-5 to 0 °C" in table


def test_an_ensemble_draws_its_weather_from_the_file(weather: str, tmp_path: Path) -> None:
    kept = tmp_path / "kept.json"
    found = one("--weather", weather, "--spread", "60", "--keep", str(kept))["ensemble"]
    names = {influence["name"] for influence in found["influences"]}
    assert {"weather.hour", "wind.cap"} <= names
    assert "outdoor_k" not in names
    usual = one("--spread", "60", "--keep", str(kept))["ensemble"]
    assert usual["margin_pa"] != found["margin_pa"]
    assert one("--weather", weather, "--spread", "60", "--keep", str(kept))["ensemble"] == found


def test_carbon_monoxide_comes_after_its_cautions() -> None:
    text = draft("--co", "120", "--co-o2", "8").stdout
    heed, whole, computed, rests = (
        text.index(words)
        for words in (
            "heed first", "in the room, all of it spills", "in the room, as computed",
            "That carbon monoxide rests on",
        )
    )  # fmt: skip
    assert heed < text.index("An appliance that spills is shut off") < whole < computed < rests
    flat = " ".join(text.split())
    assert "it has to sound by" in flat
    assert "194.4 ppm of CO in the air-free flue gas" in flat
    assert "0.2 changes an hour" in flat
    assert not set(WORDS) & set(flat.lower().split())


def test_carbon_monoxide_in_json_has_both_ends_in_order() -> None:
    found = one("--co", "120", "--air-changes", "0.35 ACH")["co"]
    assert "shut off" in found["heed_first"][0]
    for scenario in found["scenarios"]:
        mild, grave = scenario["mild"], scenario["grave"]
        assert mild["room"][0]["highest"] <= grave["room"][0]["highest"]
        assert len(grave["times"]["values"]) == len(grave["blood"][0]["values"]) <= 122
    assert found["scenarios"][0]["grave"]["alarm"]["must_s"] is not None


def test_without_a_volume_it_asks_for_one(tmp_path: Path) -> None:
    text = (DEMO / "otter-bend.yaml").read_text(encoding="utf-8")
    bare = tmp_path / "bare.yaml"
    bare.write_text(text.replace("    volume: 240 ft3\n", ""), encoding="utf-8")
    found = CliRunner().invoke(main, ["draft", str(bare), "--co", "120"])
    assert "Measure length, width and height of laundry" in found.stdout
    assert "That carbon monoxide rests on" not in found.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--weather", "nowhere.epw"), "nowhere.epw: there is no such file. Look at the path."),
        (("--terrain", "urban"), "--terrain belongs to --weather. Give --weather too."),
        (("--co-o2", "8"), "--co-o2 belongs to --co. Give --co too."),
        (("--air-changes", "0.3 ACH"), "--air-changes belongs to --co."),
        (("--co", "lots"), "--co: "),
        (("--co", "120", "--co-o2", "21"), "no flue gas was drawn"),
    ],
)
def test_bad_questions_get_one_clear_line(arguments: tuple[str, ...], words: str) -> None:
    found = draft(*arguments)
    assert found.exit_code == 2
    assert words in found.stderr
    assert len(found.stderr.strip().splitlines()) == 1


def test_a_broken_weather_file_is_told_fault_by_fault(tmp_path: Path) -> None:
    broken = tmp_path / "broken.epw"
    lines = invented_epw().splitlines()
    lines[20] = lines[20].replace("1999,1,1,13", "1999,1,1,14")
    broken.write_text("\n".join(lines[:-1]) + "\n", encoding="utf-8")
    found = draft("--weather", str(broken))
    assert found.exit_code == 2
    assert "8759 hours follow the header" in found.stderr


def test_figures_are_written_and_named(weather: str, tmp_path: Path) -> None:
    folder = tmp_path / "out" / "figures"
    found = draft("--weather", weather, "--co", "120", "-o", str(folder), "--json")
    written = json.loads(found.stdout)["figures"]
    assert sorted(written) == sorted(str(file) for file in folder.iterdir())
    names = {Path(file).stem for file in written}
    assert names == {
        f"heater-{name}"
        for name in ("path", "balance", "start", "matters", "map", "year", "co-all", "co-computed")
    }
    for file in written:
        assert ET.parse(file).getroot().tag.endswith("svg")


def test_a_file_where_the_folder_should_be_is_left_alone(tmp_path: Path) -> None:
    there = tmp_path / "there"
    there.write_text("mine", encoding="utf-8")
    found = draft("-o", str(there))
    assert found.exit_code == 2
    assert "a file of this name is there. Name a folder." in found.stderr
    assert there.read_text(encoding="utf-8") == "mine"


def test_without_packages_of_arrays_weather_is_still_told(
    weather: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw = importlib.import_module("fluewright.app.draft")
    from fluewright.draft import warm_kernel

    monkeypatch.setitem(__import__("sys").modules, "fluewright.ensemble.warm", None)
    assert draw._arithmetic(draw.Spread(samples=1)) is warm_kernel
    assert one("--weather", weather)["year"] is not None
