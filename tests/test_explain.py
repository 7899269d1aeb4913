"""Explaining a rule: its words, its limits side by side, and what a faulty word file says."""

from __future__ import annotations

import copy
import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from fluewright import app
from fluewright.edition import StepLimit
from fluewright.errors import BadEdition
from fluewright.explain import Explanation, explain_json, explain_text, explanation, prose_from
from fluewright.finding import Grade
from fluewright.rules import RULES

DATA = Path(__file__).parents[1] / "src" / "fluewright" / "data"
FILES: dict[str, dict[str, Any]] = {
    path.name: tomllib.loads(path.read_text(encoding="utf-8"))
    for path in sorted((DATA / "rules").glob("*.toml"))
}
# Named, so that an edition added to the data changes nothing here.
NAMED = ("irc_2021", "umc_2012")
PROSE = prose_from(FILES)
TEXT_KEYS = ("asks", "why", "recognize", "remedy")


def explained(rule: str, *editions: str) -> Explanation:
    chosen = [app.edition(name) for name in editions or NAMED]
    return explanation(RULES[rule], PROSE[rule], chosen)


def changed(file: str, *keys: str, to: object) -> dict[str, dict[str, Any]]:
    """The word files with one entry changed, or taken out where ``to`` is None."""
    files = copy.deepcopy(FILES)
    inner: dict[str, Any] = files[file]
    for key in keys[:-1]:
        inner = inner[key]
    if to is None:
        del inner[keys[-1]]
    else:
        inner[keys[-1]] = to
    return files


def problems(files: Mapping[str, Mapping[str, object]]) -> list[str]:
    with pytest.raises(BadEdition) as caught:
        prose_from(files)
    return str(caught.value).splitlines()


# ---------------------------------------------------------------- the words


def test_every_rule_has_words() -> None:
    assert list(PROSE) == list(RULES)


@pytest.mark.parametrize("rule", RULES)
def test_what_a_rule_asks_holds_no_figure_of_an_edition(rule: str) -> None:
    # The figures stand beside it, one for each edition; a figure here would contradict one.
    assert re.findall(r"\d", PROSE[rule].asks) == []


@pytest.mark.parametrize("rule", RULES)
def test_words_are_short_and_say_nothing_that_may_not_be_said(rule: str) -> None:
    prose = PROSE[rule]
    for key in TEXT_KEYS:
        text: str = getattr(prose, key)
        assert len(text) < 560, key
        assert text[0].isupper(), key
        assert text[-1] == ".", key
        assert not re.search(r"\b(safe|compliant|certified|guaranteed?)\b", text, re.I), key
        assert not re.search(r"vent connector|[^\x00-\x7f]", text), key


# Gas in the air: whoever goes to a valve or a switch first may light it.
LEAVE_FIRST = {"combustible_gas_entry_level"}


@pytest.mark.parametrize("rule", [r.id for r in RULES.values() if r.grade is Grade.STOP])
def test_danger_comes_first_where_a_fault_means_shutting_off(rule: str) -> None:
    first = "Leave" if rule in LEAVE_FIRST else r"Shut .*\boff\b"
    assert re.match(first, PROSE[rule].remedy)
    text = explain_text(explained(rule))
    assert text.index("shut the appliance off") < text.index("What it asks")


# ---------------------------------------------------------------- faulty word files


@pytest.mark.parametrize(
    ("files", "message"),
    [
        (
            changed("vent.toml", "vent_parts_sound", to=None),
            "rule vent_parts_sound has no words. Add [vent_parts_sound] with asks, why, "
            "recognize, remedy.",
        ),
        (
            changed("vent.toml", "vent_parts_sound", "why", to=None),
            "vent.toml: vent_parts_sound.why is missing or empty. Write one or two sentences.",
        ),
        (
            changed("vent.toml", "vent_parts_sound", "why", to="  "),
            "vent.toml: vent_parts_sound.why is missing or empty. Write one or two sentences.",
        ),
        (
            changed("vent.toml", "vent_parts_sound", "wy", to="Gas."),
            "vent.toml: vent_parts_sound.wy is not known. Known here: asks, why, recognize, "
            "remedy.",
        ),
        (
            changed("vent.toml", "vent_part_sound", to={}),
            "vent.toml: vent_part_sound is not a registered rule. Correct the id or take it out.",
        ),
        (
            changed("vent.toml", "connector_supported", to={}),
            "vent.toml: connector_supported stands twice. Leave it in one file.",
        ),
        (
            changed("vent.toml", "vent_parts_sound", to="Gas."),
            "vent.toml: vent_parts_sound: a table with asks, why, recognize, remedy is expected.",
        ),
        (
            changed("vent.toml", "limits", "vent.height_min", to=None),
            'limit vent.height_min has no words. Add "vent.height_min" under [limits].',
        ),
        (
            changed("vent.toml", "limits", "vent.height_min", to=""),
            "vent.toml: limits.vent.height_min is empty. Say in a few words what the figure is.",
        ),
        (
            changed("vent.toml", "limits", "vent.heigth_min", to="height"),
            "vent.toml: limits.vent.heigth_min is used by no rule. Take it out.",
        ),
        (
            changed("vent.toml", "limits", "connector.slope_min", to="slope"),
            "vent.toml: limits.connector.slope_min stands twice. Leave it in one file.",
        ),
        (
            changed("sizing.toml", "limits", to=3),
            "sizing.toml: limits must be a table of limit keys and their words.",
        ),
    ],
)
def test_a_faulty_word_file_says_where_and_what(
    files: dict[str, dict[str, Any]], message: str
) -> None:
    assert problems(files) == [message]


def test_every_problem_is_named_at_once() -> None:
    files = changed("vent.toml", "vent_parts_sound", "why", to="")
    del files["connector.toml"]["connector_supported"]
    assert len(problems(files)) == 2


# ---------------------------------------------------------------- the explanation


def test_limits_of_the_editions_stand_side_by_side() -> None:
    # UMC 2012 802.10.6 (read); IRC 2021 G2427.10.7 (from memory): 1/4 in per ft in both.
    (row,) = explained("connector_upward_slope").limits
    assert row.words == "least slope up toward the vent"
    assert [(e.edition, e.text, e.place, e.basis) for e in row.entries] == [
        ("IRC 2021", "1/4 in per ft", "G2427.10.7", "from memory: verify in the adopted text"),
        ("UMC 2012", "1/4 in per ft", "802.10.6", "read in the text"),
    ]
    assert [(e.value, e.unit) for e in row.entries] == [(0.25, "in/ft")] * 2


def test_only_the_editions_asked_for_are_shown() -> None:
    found = explained("connector_upward_slope", "umc_2012")
    assert [p.id for p in found.places] == ["umc_2012"]
    assert [e.edition for e in found.limits[0].entries] == ["UMC 2012"]


def test_editions_that_differ_in_a_word_show_it() -> None:
    (row,) = (
        row for row in explained("vent_offset_angle").limits if row.key == "vent.offset_rules_bind"
    )
    assert [e.text for e in row.entries] == ["area rule", "all"]


def test_an_edition_without_the_requirement_says_why_and_shows_no_figure() -> None:
    found = explained("attic_insulation_shield")
    place = next(p for p in found.places if p.id == "umc_2012")
    assert place.absent == "no sentence on it was found in this edition"
    assert place.cites == ()
    entry = next(e for e in found.limits[0].entries if e.edition == "UMC 2012")
    assert (entry.text, entry.value) == ("not asked", None)
    assert "UMC 2012  not asked; no sentence on it was found" in explain_text(found)


def test_roof_pitch_steps_are_printed_as_a_table() -> None:
    # UMC 2012 Table 802.6.2: 12 in to 6/12, rising to 8 ft at 21/12.
    found = explained("gas_vent_height_by_roof_pitch")
    (table,) = found.tables
    assert table.editions == ("IRC 2021", "UMC 2012")
    assert table.rows[:3] == (
        ("roof pitch up to", "figure"),
        ("6/12", "12 in"),
        ("7/12", "15 in"),
    )
    assert table.rows[-1] == ("21/12", "8 ft")
    assert "    6/12              12 in\n    7/12              15 in\n" in explain_text(found)
    assert "The table ends at 21/12" in explain_text(found)


def test_editions_that_print_different_tables_get_one_each() -> None:
    rule = "gas_vent_height_by_roof_pitch"
    book = app.edition("umc_2012")
    steps = book.limits["roof.pitch_height"]
    assert isinstance(steps, StepLimit)
    shorter = replace(steps, rows=steps.rows[1:], beyond="it ends there")
    other = replace(book, year="1900", limits={**book.limits, "roof.pitch_height": shorter})
    tables = explanation(RULES[rule], PROSE[rule], [book, other]).tables
    assert [table.editions for table in tables] == [("UMC 2012",), ("UMC 1900",)]
    assert tables[1].rows[1] == ("7/12", "15 in")
    assert tables[1].beyond == "it ends there"


def test_clearance_table_names_rows_and_columns_in_words() -> None:
    table = explained("connector_clearance_single_wall_draft_hood_6in", "umc_2012").tables[0]
    assert table.rows[0] == ("", "Type B", "Type L", "listed connector", "single wall")
    assert table.rows[1] == (
        "listed draft hood or Type B", "as listed", "as listed", "as listed", "6 in",
    )  # fmt: skip


def test_what_to_record_comes_from_the_facts() -> None:
    record = explained("connector_screw_count").record
    assert ("joint_screws", "screws in the joint", "count the screw heads") in {
        (r.fact, r.label, r.how) for r in record
    }


def test_rules_that_it_leans_on_are_named() -> None:
    found = explained("clearance_reduction_method_allowed")
    assert [rule for rule, _ in found.leans_on] == [
        "clearance_reduction_air_gap",
        "clearance_reduction_extent",
        "clearance_reduction_insulation_properties",
    ]


@pytest.mark.parametrize("rule", RULES)
def test_text_keeps_to_the_width_and_data_is_json(rule: str) -> None:
    found = explained(rule)
    text = explain_text(found)
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "{" not in text
    for head in ("What it asks", "Why it matters", "How to recognize", "What to do"):
        assert head in text
    assert text.endswith("authority having\njurisdiction decide.\n")
    data = json.loads(json.dumps(explain_json(found)))
    assert data["rule"] == rule
    assert [e["id"] for e in data["editions"]] == list(NAMED)
    assert all(e["absent"] or e["cites"] for e in data["editions"])
