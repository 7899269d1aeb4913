"""The pages: generated ones up to date, links that lead somewhere, and an edition added by data."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from tools import doc_survey, docs
from tools.markdown import table

from fluewright import app
from fluewright.cli import main
from fluewright.errors import BadEdition
from fluewright.rules import RULES

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
PAGES = sorted([*DOCS.rglob("*.md"), ROOT / "CONTRIBUTING.md"])
LINK = re.compile(r"\]\(([^)#\s]+)(#[\w-]+)?\)")


@pytest.fixture
def docs_copy(tmp_path: Path) -> Path:
    copy = tmp_path / "docs"
    shutil.copytree(DOCS, copy)
    docs.write(copy)
    return copy


# ---------------------------------------------------------------- generated pages


def test_generated_pages_are_up_to_date() -> None:
    assert docs.faults() == []


def test_every_rule_has_a_page_and_a_line_in_the_index(docs_copy: Path) -> None:
    index = (docs_copy / "rules" / "index.md").read_text(encoding="utf-8")
    for rule in RULES:
        assert (docs_copy / "rules" / f"{rule}.md").exists()
        assert f"({rule}.md)" in index


def test_a_page_out_of_date_is_named(docs_copy: Path) -> None:
    assert docs.faults(docs_copy) == []
    (docs_copy / "rules" / "vent_parts_sound.md").write_text("old", encoding="utf-8")
    (docs_copy / "commands.md").unlink()
    (docs_copy / "rules" / "gone.md").write_text("a rule that was", encoding="utf-8")
    assert docs.faults(docs_copy) == [
        "docs/rules/vent_parts_sound.md is out of date: run make docs",
        "docs/commands.md is missing: run make docs",
        "docs/rules/gone.md belongs to no rule: run make docs",
    ]
    docs.write(docs_copy)
    assert docs.faults(docs_copy) == []
    assert not (docs_copy / "rules" / "gone.md").exists()


def test_the_hand_written_part_of_the_survey_page_stays(docs_copy: Path) -> None:
    page = docs_copy / "survey.md"
    page.write_text("Mine.\n" + page.read_text(encoding="utf-8"), encoding="utf-8")
    docs.write(docs_copy)
    assert page.read_text(encoding="utf-8").startswith("Mine.\n# The survey file")


def test_a_survey_page_without_its_mark_is_refused(docs_copy: Path) -> None:
    (docs_copy / "survey.md").write_text("# The survey file\n", encoding="utf-8")
    with pytest.raises(ValueError, match=r"docs/survey\.md: the line .* is missing"):
        docs.pages(docs_copy)


def test_a_field_without_words_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    words = {k: v for k, v in doc_survey.WORDS.items() if k != "job.title"}
    monkeypatch.setattr(doc_survey, "WORDS", words)
    with pytest.raises(KeyError, match=r"no words in tools/survey_words\.py for job\.title"):
        list(doc_survey.sections())


def test_words_for_a_field_that_is_gone_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doc_survey, "WORDS", {**doc_survey.WORDS, "job.color": "red"})
    with pytest.raises(KeyError, match=r"no field job\.color"):
        list(doc_survey.sections())


def test_every_command_and_option_is_on_its_page() -> None:
    page = (DOCS / "commands.md").read_text(encoding="utf-8")
    for name, command in main.commands.items():
        assert f"## fluewright {name}\n" in page
        section = page.split(f"## fluewright {name}\n")[1].split("\n## ")[0]
        for parameter in command.params:
            if parameter.param_type_name == "option":
                assert all(f"`{option}`" in section for option in parameter.opts)


def test_a_bar_in_a_cell_does_not_split_it() -> None:
    assert list(table(("a",), [("x|y",)])) == ["| a |", "|---|", "| x\\|y |"]


# ---------------------------------------------------------------- every page


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    text = re.sub(r"^    .*$", "", page.read_text(encoding="utf-8"), flags=re.M)
    dead = [
        target
        for target, _ in LINK.findall(text)
        if not target.startswith("http") and not (page.parent / target).exists()
    ]
    assert dead == []


def test_every_hand_written_page_is_reached_from_the_index() -> None:
    index = (DOCS / "index.md").read_text(encoding="utf-8")
    reached = {(DOCS / target).resolve() for target, _ in LINK.findall(index)}
    alone = [
        page.relative_to(ROOT).as_posix()
        for page in DOCS.rglob("*.md")
        if page.resolve() not in reached and page.name != "index.md" and page.parent.name != "rules"
    ]
    assert alone == []


# ---------------------------------------------------------------- an edition is data alone


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the package's data that the program reads instead of its own."""
    copy = tmp_path / "data"
    shutil.copytree(app.DATA, copy, ignore=shutil.ignore_patterns("fonts", "photos"))
    monkeypatch.setattr(app, "DATA", str(copy))
    app.edition.cache_clear()
    app.tables.cache_clear()
    yield copy
    app.edition.cache_clear()
    app.tables.cache_clear()


def add_edition(data: Path) -> Path:
    """What docs/add-an-edition.md says, steps 1 to 3, for an invented edition."""
    text = (data / "editions" / "umc_2012.toml").read_text(encoding="utf-8")
    for old, new in (
        ('id = "umc_2012"', 'id = "xyz_2030"'),
        ('title = "Uniform Mechanical Code 2012"', 'title = "Invented Code 2030"'),
        ('document = "UMC"\nyear = "2012"', 'document = "XYZ"\nyear = "2030"'),
        ('value = "1/4 in per ft"\nat = "802.10.6"', 'value = "3/8 in per ft"\nat = "7.7"'),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    page = data / "editions" / "xyz_2030.toml"
    page.write_text(text, encoding="utf-8")
    return page


def run(*arguments: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, list(arguments))
    return done.exit_code, done.output


def test_an_edition_is_added_by_one_file(data: Path) -> None:
    add_edition(data)
    survey = str(data / "demo" / "otter-bend-repaired.yaml")
    code, listed = run("editions")
    assert code == 0
    assert "xyz_2030     Invented Code 2030" in listed
    assert "3/8 in per ft; 7.7" in run("explain", "connector_upward_slope")[1]
    code, judged = run("judge", survey, "--edition", "xyz_2030", "--json")
    assert code in (0, 1)
    limits = {
        (one["limit"]["value"], one["limit"]["unit"])
        for one in json.loads(judged)["findings"]
        if one["rule"] == "connector_upward_slope" and one["limit"]
    }
    assert limits == {(0.375, "in/ft")}


def test_what_an_edition_lacks_is_named_all_at_once(data: Path) -> None:
    page = add_edition(data)
    text = page.read_text(encoding="utf-8")
    text = text.replace("[requirement.connector_no_dips_or_sags]", "[unexamined.sags]")
    text = text.replace('[limit."connector.slope_min"]', '[limit."connector.slope_least"]')
    page.write_text(text, encoding="utf-8")
    with pytest.raises(BadEdition) as caught:
        app.edition("xyz_2030")
    assert str(caught.value).splitlines() == [
        "edition xyz_2030: requirement connector_no_dips_or_sags is missing. "
        "Add its cites, or state absent: <reason>.",
        "edition xyz_2030: limit connector.slope_min is missing. Add it with its place and basis.",
        "edition xyz_2030: limit connector.slope_least is used by no rule.",
        "edition xyz_2030: unexamined sags needs at and why.",
    ]
    code, said = run("editions", "xyz_2030")
    assert code == 2
    assert "limit connector.slope_min is missing" in said


def ask_tables(edition: str) -> tuple[int, str]:
    return run(
        "capacity", "--vent", "type_b", "--connector", "type_b", "--burner", "draft_hood",
        "--height", "10 ft", "--lateral", "5 ft", "--diameter", "5 in", "--edition", edition,
    )  # fmt: skip


def test_the_tables_say_that_they_do_not_know_an_edition_yet(data: Path) -> None:
    add_edition(data)
    code, said = ask_tables("xyz_2030")
    assert code == 2
    assert "capacity tables: no edition 'xyz_2030' in the index" in said


def test_the_tables_answer_once_the_index_knows_the_edition(data: Path) -> None:
    add_edition(data)
    index = data / "tables" / "index.toml"
    lines: list[str] = []
    for line in index.read_text(encoding="utf-8").splitlines():
        lines.append(line)
        if line.startswith("umc_2012 ="):
            lines.append(line.replace("umc_2012", "xyz_2030", 1))
    index.write_text("\n".join(lines) + "\n", encoding="utf-8")
    app.tables.cache_clear()
    answers = [ask_tables("xyz_2030"), ask_tables("umc_2012")]
    assert [code for code, _ in answers] == [0, 0]
    figures = [said.splitlines()[0] for _, said in answers]
    assert figures[0] == figures[1]
    assert figures[0].startswith("Most input permitted: ")
