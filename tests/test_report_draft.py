"""The draft engine in a report: danger first, beside the code, cautions, and why there is none."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest
from pypdf import PdfReader
from tests.demo_jobs import plain
from tests.report_jobs import PROVENANCE, judgement
from tests.test_report import BANNED

from fluewright import app
from fluewright.app.draft_report import drafts_of
from fluewright.draft.assess import assess
from fluewright.draft.from_survey import Conditions, from_survey
from fluewright.draft.spill_map import SpillTimes, spill_times
from fluewright.drawing.draft_figures import class_of
from fluewright.files import survey_from_text
from fluewright.files.physics import coefficients, default_fuels
from fluewright.quantity import Style
from fluewright.render.html import render_html
from fluewright.render.pdf import render_pdf
from fluewright.render.pictures import Pictures
from fluewright.report import draft_words as words
from fluewright.report.draft import COMPUTED_TITLE, draft_notices, draft_sections
from fluewright.report.inputs import NARROW, Draft, Drafts, Drawn
from fluewright.report.summary import STOP_LINES
from fluewright.report.tree import (
    Audience,
    Block,
    Figure,
    Listing,
    Notice,
    Paragraph,
    Report,
    Section,
    Table,
    Tone,
)
from fluewright.report.whole import build
from fluewright.survey import Survey

AUDIENCES: tuple[Audience, ...] = tuple(Audience)
STRONG = Conditions(outdoor_k=300.0, room_pa=-20.0)  # it spills, hot and from cold
DRAWN = {name: Drawn(f"Title of {name}", f"All of {name}") for name in ("path", "balance")}


@cache
def survey(name: str) -> Survey:
    return survey_from_text(json.dumps(plain(name), default=str), "demo.json")


@cache
def draft(name: str, conditions: Conditions | None = None) -> Draft:
    model = from_survey(
        survey(name), coefficients(), default_fuels(), conditions=conditions, appliance="heater"
    )
    return Draft(appliance="heater", modelled=model, assessment=assess(model), figures=DRAWN)


def section(*drafts: Draft, audience: Audience = Audience.TRADE, style: Style = "us") -> Section:
    (made,) = draft_sections(Drafts(drafts, ("the size of the vent is met",), style), audience)
    return made


def said(blocks: tuple[Block, ...]) -> str:
    """All words of some blocks, in order."""
    parts: list[str] = []
    for one in blocks:
        if isinstance(one, Paragraph):
            parts.append(one.text)
        elif isinstance(one, Notice):
            parts += [one.title, *one.lines]
        elif isinstance(one, Listing):
            parts += one.items
        elif isinstance(one, Table):
            parts += [one.caption, *(cell.text for row in one.rows for cell in row)]
        elif isinstance(one, Figure):
            parts.append(one.caption)
    return "\n".join(parts)


def report(audience: Audience, *drafts: Draft) -> Report:
    return build(
        survey("otter-bend"), (judgement(),), audience=audience, provenance=PROVENANCE,
        drafts=Drafts(drafts),
    )  # fmt: skip


# ------------------------------------------------------------------- what it says


def test_where_it_spills_danger_and_what_to_do_come_first() -> None:
    first = section(draft("otter-bend", STRONG)).blocks[0]
    assert isinstance(first, Notice)
    assert first.tone is Tone.STOP
    assert "spills" in first.title
    assert first.lines == STOP_LINES
    assert "call from outside" in first.lines[0]


def test_signs_of_past_spillage_come_before_any_figure() -> None:
    seen = replace(draft("otter-bend"), signs=("Scorching seen.",))
    first = section(seen).blocks[0]
    assert isinstance(first, Notice)
    assert first.lines == ("Scorching seen.",)


@pytest.mark.parametrize("style", get_args(Style))
@pytest.mark.parametrize("name", ["otter-bend-repaired", "larch-attic"])
def test_the_answer_holds_all_that_was_asked_for(name: str, style: Style) -> None:
    made = section(draft(name), style=style)
    text = said(made.blocks)
    first = made.blocks[0]
    if name != "kiln-street":
        assert isinstance(first, Paragraph)
    else:  # what was found there goes before every figure
        assert isinstance(first, Notice)
        assert first.title.startswith("It cannot be told whether it drafts, and it may not")
        assert isinstance(made.blocks[1], Listing)
    for wanted in (
        "Flow up the vent", "Room air drawn in at the hood", "Draft at the start of the connector",
        "Carbon dioxide in the vent", "Dew point", "Walls wet", "at its worst", "at its best",
        "withstands idle", "withstands from cold", "withstands once hot", "lets fans reach",
        "From cold", "What alone would make it spill", "What matters most", "reckoned with",
        "What the code says of the size", "neither overrules the other", "not measured",
        "only a test at the appliance", "no approval and no pass",
    ):  # fmt: skip
        assert wanted in text, wanted
    assert not BANNED.search(text)
    assert ("w.c." in text) == (style == "us")
    assert not re.search(r"(?<![\w.])-\d", text)  # true minus signs


def test_figures_of_the_tables_are_those_of_the_engine() -> None:
    one = draft("otter-bend")
    assert one.assessment is not None
    rows = {
        row[0].text: row[1].text
        for block in section(one, style="metric").blocks
        if isinstance(block, Table)
        for row in block.rows
    }
    at = one.assessment.solved.at
    assert rows["Flow up the vent"] == f"{1000.0 * at.root.flow_kg_s:.1f} g/s"
    assert rows["Draft at the start of the connector"] == f"{-at.draft_pa:.1f} Pa"
    assert rows["To spare once hot"] == f"{one.assessment.solved.margin_pa:.1f} Pa"
    limits = one.assessment.thresholds
    assert limits is not None
    assert limits.establishing_pa is not None
    assert rows["Suction it withstands from cold, to take over within 5 min"] == (
        f"{limits.establishing_pa:.1f} Pa"
    )


def test_five_inputs_and_no_more_are_said_to_matter() -> None:
    tables = [block for block in section(draft("otter-bend")).blocks if isinstance(block, Table)]
    (matters,) = [one for one in tables if one.caption.startswith("What matters most")]
    assert len(matters.rows) == 5


def test_what_was_seen_leads_and_no_figure_makes_it_better() -> None:
    """Otter Bend has an open joint: it would draft by the figures, and that is not the answer."""
    made = section(draft("otter-bend"))
    first, second = made.blocks[:2]
    assert isinstance(first, Notice)
    assert first.tone is Tone.HAZARD
    assert words.MEND_FIRST in first.lines
    assert isinstance(second, Listing)
    assert any("c4 stands open" in item for item in second.items)


def test_an_appliance_seen_to_spill_is_shut_off_also_without_an_answer() -> None:
    none = Draft(appliance="heater", reason="It lacks.", signs=(words.SAW_IT_SPILL,))
    (notice,) = draft_notices(Drafts((none,)))
    assert notice.tone is Tone.STOP
    assert words.SHUT_OFF in notice.lines
    assert words.SAW_IT_SPILL in " ".join(notice.lines)
    assert draft_notices(Drafts((Draft(appliance="heater", reason="It lacks."),))) == ()


def test_no_answer_says_why_and_what_is_missing_and_is_no_pass() -> None:
    none = Draft(appliance="heater", reason="It lacks.", gaps=("c1: measure the inside diameter",))
    made = section(none)
    first = made.blocks[0]
    assert isinstance(first, Notice)
    assert first.tone is Tone.OPEN
    assert "nobody can say" in first.title
    text = said(made.blocks)
    assert "measure the inside diameter" in text
    assert "only a test at the appliance can tell" in text
    only = Draft(appliance="heater", reason="no flow was found")
    assert "no flow was found" in said(section(only).blocks)


def test_of_several_those_that_spill_come_first_and_each_is_named() -> None:
    bad = replace(draft("otter-bend", STRONG), appliance="old_furnace")
    quiet = replace(draft("otter-bend-repaired"), appliance="attic_heater")
    made = section(quiet, Draft(appliance="dryer", reason="no path"), bad)
    assert [part.title for part in made.sections] == ["Old furnace", "Dryer", "Attic heater"]
    first = made.blocks[0]
    assert isinstance(first, Listing)
    assert first.items[0].startswith("Old furnace: It spills")
    assert "not computed" in first.items[1]


def test_an_owner_is_spared_the_figures_for_a_gauge() -> None:
    def names(audience: Audience) -> list[str]:
        blocks = section(draft("otter-bend"), audience=audience).blocks
        return [block.picture for block in blocks if isinstance(block, Figure)]

    assert names(Audience.OWNER) == ["draft:heater/path"]
    assert names(Audience.TRADE) == ["draft:heater/path", "draft:heater/balance"]


def test_figures_that_cannot_be_drawn_are_said() -> None:
    one = replace(draft("otter-bend"), figures={}, no_figures="a number is not finite")
    assert "a number is not finite" in said(section(one).blocks)


# ------------------------------------------------------------------- in the report


@pytest.mark.parametrize("audience", AUDIENCES)
def test_it_stands_beside_the_findings_and_spillage_on_the_first_page(audience: Audience) -> None:
    made = report(audience, draft("otter-bend", STRONG))
    names = [part.anchor for part in made.sections]
    assert names[names.index("draft") - 1] == "findings"
    titles = [block.title for block in made.opening if isinstance(block, Notice)]
    assert f"{COMPUTED_TITLE}: heater spills into the room" in titles
    assert "draft" not in [part.anchor for part in report(audience).sections]


def test_a_quiet_answer_is_no_notice_and_never_takes_one_away() -> None:
    quiet = Drafts((draft("otter-bend-repaired"),))
    assert draft_notices(quiet) == ()
    with_it, without = report(Audience.OWNER, *quiet.each), report(Audience.OWNER)
    assert with_it.opening == without.opening


def test_a_doubt_is_not_said_over_where_the_report_says_to_shut_it_off() -> None:
    made = report(Audience.OWNER, draft("otter-bend"))  # the judgement holds a reason to stop
    titles = [block.title for block in made.opening if isinstance(block, Notice)]
    assert titles[0].startswith("Shut it off now")
    assert not any(title.startswith(COMPUTED_TITLE) for title in titles)
    mild = build(
        survey("otter-bend"), (judgement(()),), audience=Audience.OWNER, provenance=PROVENANCE,
        drafts=Drafts((draft("otter-bend"),)),
    )  # fmt: skip
    titles = [block.title for block in mild.opening if isinstance(block, Notice)]
    assert any(title.startswith(COMPUTED_TITLE) for title in titles)


@cache
def whole(name: str) -> tuple[Report, Pictures]:
    job = app.read_job(str(Path(app.DATA) / "demo" / f"{name}.yaml"))
    found = app.judge_job(job)
    return app.report_tree(job, found, "trade", "letter", "us", "2026-11-28")


def test_html_and_pdf_hold_the_section_and_its_figures() -> None:
    tree, pictures = whole("otter-bend")
    names = [f"heater/{name}" for name in ("balance", "map", "matters", "path", "start")]
    assert sorted(pictures.drafts) == sorted([*names, *(name + NARROW for name in names)])
    text = render_html(tree, pictures)
    assert "Will it draft" in text
    assert len(re.findall(r'class="drawing wide" id="draft-heater-2f-\w+-drawing"', text)) == 5
    assert text.count('class="drawing narrow"') == 5  # a phone shows lettering it can read
    assert ".narrow { display: none; }" in text
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert "The picture could not be read" not in text
    pages = PdfReader(io.BytesIO(render_pdf(tree, pictures))).pages
    spoken = " ".join(" ".join(page.extract_text() for page in pages).split())
    for title in ("Along the path", "Where the flow settles", "A start from cold",
                  "What matters most", "Starts from cold in other weather"):  # fmt: skip
        assert title in spoken
    assert "Printed at" not in spoken  # a plot is not to scale and never blown up


def test_a_shared_vent_is_one_entry_that_names_all_that_burn_into_it() -> None:
    job = app.read_job(f"{app.DATA}/demo/alder-court.yaml")
    drafts, scenes = drafts_of(job, (), "us")
    [one] = drafts.each
    assert one.appliance == "heater and furnace"
    assert one.shared is not None
    assert one.fails
    assert scenes == {}
    [section] = draft_sections(drafts, Audience.OWNER)
    assert section.title == "Will it draft"
    [notice] = draft_notices(drafts)
    assert notice.title == "Seen in a test: heater and furnace spill into the room"


def test_one_job_is_worked_out_once_for_several_reports() -> None:
    job = app.read_job(f"{app.DATA}/demo/larch-attic.yaml")
    first, _ = drafts_of(job, (), "us")
    again, _ = drafts_of(job, (), "us")
    assert first.each[0].assessment is again.each[0].assessment


def test_the_quick_map_of_a_report_is_at_most_a_step_from_a_fine_one() -> None:
    """Own output against own output at a tenth of the step: a check of the step alone."""
    model = draft("otter-bend").modelled
    assert model is not None
    start = app_start(1.0)
    line: tuple[Any, Any] = ((277.59, 299.82), (-2.0, -1.0, 0.0))
    fine = spill_times(model, start, *line)
    rough = spill_times(model, app_start(10.0), *line)
    for a, b in zip(flat(fine), flat(rough), strict=True):
        if a is None or b is None:
            assert class_of(a) == class_of(b) == "never"
        else:
            assert abs(a - b) <= 15.0


def app_start(step_s: float) -> Any:
    from fluewright.app.draft import start_of

    return replace(start_of(600.0), step_s=step_s)


def flat(times: SpillTimes) -> list[float | None]:
    return [one for row in times.spills_s for one in row]
