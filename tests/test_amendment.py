"""A jurisdiction's amendments over an edition: limits changed, requirements added and struck."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from fluewright import app
from fluewright.cli import main
from fluewright.edition import NumberLimit, StepLimit
from fluewright.errors import BadEdition

ROOT = Path(__file__).resolve().parent.parent
BROOK = str(ROOT / "docs" / "examples" / "brook-valley.toml")
STONE = str(ROOT / "docs" / "examples" / "stone-county.toml")
REPAIRED = str(Path(app.DATA) / "demo" / "otter-bend-repaired.yaml")
HEAD = """
[amendment]
id = "somewhere"
title = "an invented text"
over = "umc_2012"
document = "Text"
year = "2026"
"""


def judged(edition: str) -> dict[str, set[str]]:
    """Verdicts of each rule, over all that it was asked of."""
    got = CliRunner().invoke(main, ["judge", REPAIRED, "--edition", edition, "--json"])
    found: dict[str, set[str]] = {}
    for finding in json.loads(got.stdout)["findings"]:
        found.setdefault(finding["rule"], set()).add(finding["verdict"])
    return found


def test_a_changed_limit_decides_and_is_cited_before_the_edition() -> None:
    made, base = app.edition(BROOK), app.edition("umc_2012")
    limit = made.limits["connector.slope_min"]
    assert isinstance(limit, NumberLimit)
    assert limit.value == pytest.approx(0.5 / 12)
    cites = made.requirements["connector_upward_slope"].cites
    assert [c.document for c in cites] == ["Brook Valley Code", "UMC"]
    changed = {k for k in base.limits if made.limits[k] is not base.limits[k]}
    assert changed == {"connector.slope_min", "vent.insulation_shield_above_min"}
    assert base.requirements["connector_upward_slope"].cites[0].document == "UMC"


def test_a_changed_limit_turns_the_verdict() -> None:
    assert judged(BROOK)["connector_upward_slope"] == {"fails", "not_applicable"}
    assert judged("umc_2012")["connector_upward_slope"] == {"meets", "not_applicable"}
    assert app.edition(BROOK).id == "umc_2012+brook_valley_2026"


def test_an_added_requirement_is_judged() -> None:
    assert "attic_insulation_shield" not in judged("umc_2012")
    assert judged(BROOK)["attic_insulation_shield"] == {"meets"}


def test_a_struck_requirement_is_listed_as_not_examined_with_its_place() -> None:
    made = app.edition(STONE)
    rule = "gas_vent_marking_where_solid_fuel_common"
    assert made.requirements[rule].absent == (
        "struck by Stone County Rules 2025 G-9(c): the county labels appliances, not vents"
    )
    got = CliRunner().invoke(main, ["judge", REPAIRED, "--edition", STONE, "--full"])
    assert "struck by Stone County Rules 2025 G-9(c)" in " ".join(got.stdout.split())


def test_a_step_table_is_changed_whole() -> None:
    limit = app.edition(STONE).limits["roof.pitch_height"]
    assert isinstance(limit, StepLimit)
    assert limit.at(5 / 12) == pytest.approx(3 * 0.3048)
    assert judged(STONE)["gas_vent_height_by_roof_pitch"] == {"fails"}


def test_the_hash_stands_for_both_files(tmp_path: Path) -> None:
    other = tmp_path / "brook.toml"
    other.write_text(Path(BROOK).read_text() + "\n# a remark\n")
    assert app.edition(str(other)).sha256 != app.edition(BROOK).sha256


def test_draw_and_report_take_an_amended_edition(tmp_path: Path) -> None:
    for words in (
        ["draw", REPAIRED, "--chart", "-o", str(tmp_path / "chart.svg"), "--edition", STONE],
        ["report", REPAIRED, "-o", str(tmp_path / "r.html"), "--edition", STONE],
    ):
        assert CliRunner().invoke(main, words).exit_code == 0
    assert "Stone County" in (tmp_path / "r.html").read_text()


FAULTS = [
    (
        HEAD + '[limit."connector.slope"]\nvalue = "1 in per ft"\nat = "1"\nbasis = "read"\n',
        ["limit connector.slope is used by no rule."],
    ),
    (
        HEAD + '[limit."connector.slope_min"]\nvalue = "1 in per ft"\nbasis = "read"\n',
        ["limit connector.slope_min: the place (at) is missing. Add the section."],
    ),
    (
        HEAD + '[requirement.attic_insulation_shield]\ncites = [{at = "1", basis = "read"}]\n',
        [
            "requirement attic_insulation_shield is added, but its limit "
            "vent.insulation_shield_above_min is not stated."
        ],
    ),
    (
        HEAD + '[requirement.connector_slope]\nstruck = "x"\n[requirement.vent_cap_listed]\n',
        [
            "requirement connector_slope is not a registered rule.",
            "requirement vent_cap_listed has neither cites nor struck. Add one with its place.",
        ],
    ),
    (
        HEAD.replace('year = "2026"', 'yaer = "2026"'),
        [
            "amendment.yaer is not known. Known here: document, id, invented, over, title, year.",
            "amendment.year is missing",
        ],
    ),
]


@pytest.mark.parametrize(("text", "faults"), FAULTS)
def test_every_fault_is_named(text: str, faults: list[str], tmp_path: Path) -> None:
    file = tmp_path / "some.toml"
    file.write_text(text)
    with pytest.raises(BadEdition) as caught:
        app.edition(str(file))
    lines = str(caught.value).removeprefix(f"{file}: ").splitlines()
    assert lines == [f"amendment somewhere: {fault}" for fault in faults]


def test_a_file_that_names_no_edition_or_is_not_there_is_one_clear_line(tmp_path: Path) -> None:
    file = tmp_path / "some.toml"
    file.write_text(HEAD.replace('over = "umc_2012"\n', ""))
    for edition, text in (
        (str(file), "amendment.over is missing. Write the id of the edition, umc_2012."),
        (str(tmp_path / "no.toml"), "the amendment file cannot be read: No such file"),
    ):
        got = CliRunner().invoke(main, ["judge", REPAIRED, "--edition", edition])
        assert got.exit_code == 2
        assert text in got.stderr
        assert got.stderr.count("\n") == 1
