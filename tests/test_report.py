"""The report as a tree: what leads for whom, what is never left out, what is never said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

import pytest
from tests.report_jobs import (
    CAP_LOW,
    CAUTIONS,
    FIGURES,
    FINDINGS,
    FIRST_RISE,
    HASHES,
    INCH,
    LISTED_CAP,
    OPEN_JOINT,
    PRECAUTIONS,
    PROVENANCE,
    RUN_LENGTH,
    SLOPE,
    SPILL,
    SURVEY,
    SURVEY_HASH,
    cite,
    inches,
    judgement,
    length,
)

from fluewright.finding import (
    Comparison,
    Grade,
    Judgement,
    Limit,
    NotExamined,
    Sense,
    Verdict,
)
from fluewright.quantity import Dimension, Measured
from fluewright.report.editions import side_by_side
from fluewright.report.findings import margin_bar
from fluewright.report.summary import GENERAL_CAUTION
from fluewright.report.tree import (
    MARK_WORDS,
    Audience,
    FindingBlock,
    Mark,
    Notice,
    Report,
    Section,
    Table,
    Tone,
    mark_of,
)
from fluewright.report.whole import build
from fluewright.report.words import cite_text, count_text, margin_text, natural, shorten
from fluewright.source import Basis, Citation, Step
from fluewright.survey import Survey

BANNED = re.compile(
    r"\b(safe|safely|compliant|compliance|complies|certified|guaranteed?)\b", re.IGNORECASE
)


Node = TypeVar("Node")


def report(audience: Audience, *judgements: Judgement, survey: Survey = SURVEY) -> Report:
    return build(
        survey,
        judgements or (judgement(),),
        audience=audience,
        provenance=PROVENANCE,
        figures=FIGURES,
        precautions=PRECAUTIONS,
    )


def texts(node: object) -> Iterator[str]:
    """Every text of a tree, in order."""
    if isinstance(node, str):
        yield node
    elif isinstance(node, tuple):
        for one in node:
            yield from texts(one)
    elif is_dataclass(node):
        for field in fields(node):
            yield from texts(getattr(node, field.name))


def nodes(node: object, kind: type[Node]) -> list[Node]:
    """Every node of a kind, in order."""
    found = [node] if isinstance(node, kind) else []
    if isinstance(node, tuple):
        found += [hit for one in node for hit in nodes(one, kind)]
    elif is_dataclass(node):
        found += [hit for f in fields(node) for hit in nodes(getattr(node, f.name), kind)]
    return found


def anchors(made: Report) -> list[str]:
    return [section.anchor for section in made.sections]


def other_edition() -> Judgement:
    """As the first, but the joist has to be farther away, and the first rise is not asked for."""
    joist = length("distance to the joist", 6, 0.125, 9, Sense.AT_LEAST)
    found = [
        replace(finding, cites=tuple(replace(c, edition="2021") for c in finding.cites))
        for finding in FINDINGS
        if finding is not FIRST_RISE
    ]
    found = [
        replace(finding, comparison=joist, verdict=Verdict.FAILS, sentence="9 in needed, 6 in.")
        if finding.rule == "connector_clearance"
        else finding
        for finding in found
    ]
    return judgement(tuple(found), "umc_2021")


@pytest.mark.parametrize(
    ("audience", "order"),
    [
        (Audience.OWNER, ["found", "to-do", "not-known", "drawing", "findings", "provenance"]),
        (
            Audience.TRADE,
            ["repairs", "dimensions", "next", "precautions", "findings", "provenance"],
        ),
        (Audience.OFFICIAL, ["provenance", "coverage", "findings", "meets", "workings"]),
    ],
)
def test_each_reader_is_shown_first_what_that_reader_needs(
    audience: Audience, order: list[str]
) -> None:
    shown = anchors(report(audience))
    assert shown[0] == order[0]
    assert [anchor for anchor in shown if anchor in order] == order


@pytest.mark.parametrize("audience", Audience)
def test_what_has_to_be_shut_off_stands_before_everything_else(audience: Audience) -> None:
    first = report(audience).opening[0]
    assert isinstance(first, Notice)
    assert (first.tone, first.title) == (Tone.STOP, "Shut it off now")
    for word in ("Shut the appliance off", "open windows and doors", "leave", "call"):
        assert word in first.lines[0]


@pytest.mark.parametrize("audience", Audience)
def test_a_stop_under_the_second_edition_alone_still_leads(audience: Audience) -> None:
    quiet = judgement((RUN_LENGTH,))
    made = report(audience, quiet, judgement((OPEN_JOINT,), "umc_2021"))
    assert isinstance(made.opening[0], Notice)
    assert made.opening[0].tone is Tone.STOP
    assert OPEN_JOINT.sentence in list(texts(made))


def test_a_hazard_is_told_as_a_hazard_and_not_as_a_stop() -> None:
    tones = [notice.tone for notice in nodes(report(Audience.OWNER, judgement((CAP_LOW,))), Notice)]
    assert Tone.HAZARD in tones
    assert Tone.STOP not in tones


@pytest.mark.parametrize("audience", Audience)
def test_an_open_grave_question_is_never_taken_for_an_answer(audience: Audience) -> None:
    made = report(audience, judgement((SPILL,)))
    lines = [line for notice in nodes(made.opening, Notice) for line in notice.lines]
    assert any("nobody can say that the appliance may run" in line for line in lines)
    assert any("1 question without an answer" in text for text in texts(made))


@pytest.mark.parametrize("audience", Audience)
def test_where_nothing_grave_fails_it_says_that_this_is_no_test_of_draft(
    audience: Audience,
) -> None:
    quiet = list(texts(report(audience, judgement((RUN_LENGTH, LISTED_CAP)))))
    assert any("no test of draft" in text and "spillage" in text for text in quiet)
    assert not any("no test of draft" in text for text in texts(report(audience)))


def test_an_owner_is_always_told_what_to_do_when_somebody_feels_unwell() -> None:
    for findings in ((RUN_LENGTH,), (SPILL,), (CAP_LOW,), (OPEN_JOINT,)):
        found = list(texts(report(Audience.OWNER, judgement(findings))))
        assert any("call the emergency number" in text for text in found), findings


def test_an_owner_has_the_grave_open_questions_in_full_and_the_rest_as_what_to_measure() -> None:
    small = replace(SPILL, rule="small", grade=Grade.CRAFT, number=0)
    job = judgement((SPILL, small))

    def rules(audience: Audience) -> list[str]:
        made = report(audience, job)
        section = next(one for one in made.sections if one.anchor == "findings")
        return [block.rule or block.title for block in nodes(section, FindingBlock)]

    assert len(rules(Audience.OWNER)) == 1
    assert len(rules(Audience.TRADE)) == len(rules(Audience.OFFICIAL)) == 2
    assert any("1 more requirement not known yet" in t for t in texts(report(Audience.OWNER, job)))


def test_who_must_do_it_stands_before_what_to_do() -> None:
    to_do = next(one for one in report(Audience.OWNER).sections if one.anchor == "to-do")
    assert next(texts(to_do.blocks)).startswith("A licensed contractor")
    nothing = report(Audience.OWNER, judgement((RUN_LENGTH, LISTED_CAP)))
    assert not any("what is not known yet answered" in text for text in texts(nothing))


def test_nothing_found_wrong_is_no_clean_bill() -> None:
    made = report(Audience.OWNER, judgement((RUN_LENGTH, LISTED_CAP)))
    lead = next(text for text in texts(made) if text.startswith("Nothing that was examined"))
    assert lead == (
        "Nothing that was examined was found to fail, 0 questions without an answer, "
        "1 thing to look at again, 2 requirements of the code not examined."
    )


@pytest.mark.parametrize("audience", Audience)
def test_every_failing_sentence_caution_and_hash_is_in_the_report(audience: Audience) -> None:
    said = "\n".join(texts(report(audience, judgement(), other_edition())))
    for finding in FINDINGS:
        if finding.verdict in (Verdict.FAILS, Verdict.CANNOT_TELL):
            assert finding.sentence in said
    for text in (
        *CAUTIONS,
        *PRECAUTIONS.lines,
        SURVEY_HASH,
        *HASHES.values(),
        "9 in needed, 6 in.",
    ):
        assert text in said


@pytest.mark.parametrize("audience", Audience)
def test_what_was_not_seen_and_not_examined_is_said(audience: Audience) -> None:
    said = "\n".join(texts(report(audience)))
    assert "c3, clearance, distance" in said
    assert "the ceiling board hides the joist" in said
    assert "The run says 52 in, but its two ends stand 54 in apart." in said
    assert (
        "UMC 2012: 9 requirements examined, 9 answers: 4 fail, 2 not known yet, 2 meet, "
        "1 does not apply. 2 listed for this edition and not examined." in said
    )
    assert "lost.jpg" in said


def test_the_official_has_every_requirement_left_out_and_others_have_them_counted() -> None:
    left = tuple(NotExamined(f"802.{place}", "comes later") for place in range(1, 31))
    judged = replace(judgement(), not_examined=left)
    official = list(texts(report(Audience.OFFICIAL, judged)))
    assert all(one.at in official for one in left)
    trade = list(texts(report(Audience.TRADE, judged)))
    assert "30 requirements: comes later" in trade
    assert "802.17" not in trade


@pytest.mark.parametrize("audience", Audience)
def test_the_report_never_calls_a_job_by_a_word_that_promises(audience: Audience) -> None:
    for made in (report(audience), report(audience, judgement((RUN_LENGTH,)))):
        assert [text for text in texts(made) if BANNED.search(text)] == []


def test_the_owner_is_spared_workings_and_rule_names_and_the_official_gets_them_all() -> None:
    blocks = {audience: nodes(report(audience), FindingBlock) for audience in Audience}
    assert {b.working for b in blocks[Audience.OWNER]} == {None}
    assert {b.rule for b in blocks[Audience.OWNER]} == {""}
    assert ("Short by", "9 in") in next(
        b.working.steps for b in blocks[Audience.OFFICIAL] if b.rule == "cap_height"
    )
    assert "75 % of it" in list(texts(report(Audience.OFFICIAL)))


def test_the_trade_is_shown_how_a_failing_number_came_about_and_no_more() -> None:
    told = replace(OPEN_JOINT, working=(Step("open joints: c2"),))
    blocks = nodes(report(Audience.TRADE, judgement((told, CAP_LOW, SPILL))), FindingBlock)
    assert [block.working is not None for block in blocks] == [False, True, False]


def test_the_official_reads_the_findings_in_the_order_of_the_text() -> None:
    first = [b.cites[0] for b in nodes(report(Audience.OFFICIAL), FindingBlock)]
    assert first == [
        "UMC 2012 802.6.2 (1)",
        "UMC 2012 802.10.5 [NFPA 54-2012 12.11.7]",
        "UMC 2012 802.10.6 [NFPA 54-2012 12.11.8]",
        "UMC 2012 Appendix B (from memory: verify with the adopted text)",
        "UMC 2012 Table 802.7.3.4 (1) (from memory: verify with the adopted text)",
        "common practice, no code text",
    ]


def test_editions_stand_side_by_side_with_their_differences_first() -> None:
    made = report(Audience.OFFICIAL, judgement(), other_edition())
    section = next(s for s in made.sections if s.anchor == "editions")
    differ, same = nodes(section.blocks, Table)
    assert differ.caption == "Where the editions differ"
    rows = [[cell.text or cell.word for cell in row] for row in differ.rows]
    assert rows == [
        ["4", "Connector rises before its first elbow, c1 (connector straight)",
         "at least 12 in; 3 in short (± 1/8 in)", "not among this edition's findings"],
        ["5", "Connector keeps clear of what can burn, c3 (connector straight)",
         "at least 6 in; 0 in to spare (± 1/8 in)", "at least 9 in; 3 in short (± 1/8 in)"],
    ]  # fmt: skip
    assert len(same.rows) == 4


def test_an_edition_that_changes_an_answer_comes_before_one_that_changes_a_limit() -> None:
    higher = replace(CAP_LOW, comparison=length("height of the cap", 15, 0.25, 36, Sense.AT_LEAST))
    other = judgement((OPEN_JOINT, higher, SLOPE), "umc_2021")
    made = report(Audience.OFFICIAL, judgement((OPEN_JOINT, CAP_LOW, SLOPE, FIRST_RISE)), other)
    table = nodes(next(s for s in made.sections if s.anchor == "editions").blocks, Table)[0]
    assert [row[0].text for row in table.rows] == ["4", "2"]


def test_the_gravest_difference_leads_and_what_never_applies_comes_last() -> None:
    off = replace(SLOPE, verdict=Verdict.NOT_APPLICABLE, comparison=None, remedies=())
    good = replace(CAP_LOW, verdict=Verdict.MEETS, comparison=None, remedies=())
    first = judgement((off, good, OPEN_JOINT))
    other = judgement((), "umc_2021")
    differ, same = side_by_side((first, other))
    assert [found.rule for found, _ in differ] == [OPEN_JOINT.rule, good.rule, off.rule]
    assert same == []


def test_the_owner_is_shown_where_editions_differ_on_what_is_wrong_or_open() -> None:
    fewer = judgement(tuple(f for f in FINDINGS if f not in (FIRST_RISE, LISTED_CAP)), "umc_2021")
    (table,) = nodes(
        next(
            s for s in report(Audience.OWNER, judgement(), fewer).sections if s.anchor == "editions"
        ).blocks,
        Table,
    )
    assert [row[0].text for row in table.rows] == ["4"]


def test_editions_that_agree_on_what_is_wrong_say_so_to_the_owner() -> None:
    said = list(texts(report(Audience.OWNER, judgement(), judgement(edition="umc_2021"))))
    assert "The editions find the same things wrong and the same open." in said


def test_a_finding_of_another_edition_alone_says_whose_it_is() -> None:
    made = report(Audience.OWNER, judgement(), other_edition())
    notes = [text for text in texts(made.sections[0]) if text.startswith("by ")]
    assert notes == ["by UMC 2021"]


def test_judgements_of_two_surveys_are_refused() -> None:
    strange = replace(judgement(), survey_sha256="0" * 64)
    with pytest.raises(ValueError, match="judgements of one survey, got those of 2"):
        report(Audience.OWNER, judgement(), strange)


def test_pipes_that_may_hold_asbestos_are_for_a_licensed_person() -> None:
    path = SURVEY.paths[0]
    old = replace(path.pieces[3], wall="asbestos_cement")
    survey = replace(SURVEY, paths=(replace(path, pieces=(*path.pieces[:3], old)),))
    said = "\n".join(texts(report(Audience.OWNER, survey=survey)))
    assert "only a licensed abatement contractor may" in said


@pytest.mark.parametrize(
    ("now", "limit", "sense", "fails_left", "side"),
    [
        (15.0, 24.0, Sense.AT_LEAST, True, "left"),
        (30.0, 24.0, Sense.AT_LEAST, True, "right"),
        (95.0, 90.0, Sense.AT_MOST, False, "right"),
        (52.0, 90.0, Sense.AT_MOST, False, "left"),
    ],
)
def test_the_bar_has_the_reading_on_its_side_of_the_limit(
    now: float, limit: float, sense: Sense, fails_left: bool, side: str
) -> None:
    bar = margin_bar(length("x", now, 0.5, limit, sense))
    assert bar.fails_left is fails_left
    assert ("left" if bar.reading_at < bar.limit_at else "right") == side
    assert 0.0 <= bar.low_at < bar.reading_at < bar.high_at <= 1.0


def test_the_whisker_crosses_the_limit_where_the_answer_is_open() -> None:
    bar = margin_bar(length("x", 6.05, 0.125, 6, Sense.AT_LEAST))
    assert bar.low_at < bar.limit_at < bar.reading_at


def test_a_bar_can_be_drawn_for_a_limit_of_zero_met_exactly() -> None:
    bar = margin_bar(length("gap", 0, 0, 0, Sense.AT_MOST))
    assert (bar.reading_at, bar.low_at, bar.high_at) == (0.5, 0.5, 0.5)


def test_a_margin_in_another_dimension_than_the_reading_keeps_its_own_unit() -> None:
    assert SLOPE.comparison is not None
    assert margin_text(SLOPE.comparison) == "9/16 in short (± 3/16 in)"


def test_a_metric_limit_is_answered_in_metric() -> None:
    over = Comparison(
        "run",
        Measured(2.5, Dimension.LENGTH, 0.005),
        Limit(2.0, "mm", Sense.AT_MOST),
        Measured(-0.5, Dimension.LENGTH, 0.005),
    )
    assert margin_text(over) == "500 mm over (± 5 mm)"


@pytest.mark.parametrize(
    ("given", "text"),
    [
        (cite("802.6"), "UMC 2012 802.6"),
        (cite("802.6", Basis.MEMORY), "UMC 2012 802.6 (from memory: verify with the adopted text)"),
        (Citation("", "", "", Basis.PRACTICE), "common practice, no code text"),
        (
            Citation("common practice", "", "three screws", Basis.PRACTICE),
            "common practice three screws (no code text)",
        ),
        (
            Citation("instructions", "", "p. 12", Basis.INSTRUCTIONS),
            "instructions p. 12 (the maker's instructions decide)",
        ),
    ],
)
def test_a_citation_says_how_well_it_is_known(given: Citation, text: str) -> None:
    assert cite_text(given) == text


def test_places_are_sorted_as_people_number_them() -> None:
    assert sorted(["802.10", "802.6.2", "802.6", "B.1"], key=natural) == [
        "802.6",
        "802.6.2",
        "802.10",
        "B.1",
    ]


def test_long_text_is_cut_at_a_word_and_shows_it() -> None:
    assert shorten("one two three four", 10) == "one two…"
    assert shorten("x" * 50, 10) == "x" * 9 + "…"
    assert shorten("a\n b", 10) == "a b"


def test_one_is_counted_as_one() -> None:
    assert count_text(1, "answer") == "1 answer"
    assert count_text(2, "answer") == "2 answers"


@pytest.mark.parametrize(
    ("verdict", "grade", "mark", "word"),
    [
        (Verdict.FAILS, Grade.STOP, Mark.STOP, "Shut it off"),
        (Verdict.FAILS, Grade.CRAFT, Mark.CRAFT, "Workmanship"),
        (Verdict.CANNOT_TELL, Grade.STOP, Mark.NOT_KNOWN, "Not known yet"),
        (Verdict.MEETS, Grade.STOP, Mark.MEETS, "Meets"),
        (Verdict.NOT_APPLICABLE, Grade.NOTE, Mark.NOT_APPLICABLE, "Does not apply"),
    ],
)
def test_a_mark_is_the_grade_of_what_fails_and_else_the_verdict(
    verdict: Verdict, grade: Grade, mark: Mark, word: str
) -> None:
    assert mark_of(verdict, grade) is mark
    assert MARK_WORDS[mark] == word


@pytest.mark.parametrize("audience", Audience)
def test_the_general_caution_stands_once_and_on_the_first_page(audience: Audience) -> None:
    judged = replace(judgement(), cautions=(GENERAL_CAUTION, *CAUTIONS))
    made = report(audience, judged)
    assert list(texts(made)).count(GENERAL_CAUTION) == 1
    first = made.sections[:3] if audience is Audience.OWNER else made.opening
    assert GENERAL_CAUTION in list(texts(first))


def test_every_anchor_of_a_report_is_its_own() -> None:
    for audience in Audience:
        made = report(audience, judgement(), other_edition())
        names = [n.anchor for n in nodes(made, Section)] + [
            n.anchor for n in nodes(made, FindingBlock)
        ]
        assert len(names) == len(set(names))


def test_readings_are_shown_in_the_unit_of_the_house() -> None:
    assert inches(15).value == pytest.approx(15 * INCH)
    (block,) = (b for b in nodes(report(Audience.OWNER), FindingBlock) if b.number == 2)
    numbers = block.numbers
    assert (numbers.measured, numbers.measured_off, numbers.limit) == (
        "15 in",
        "± 1/4 in",
        "at least 24 in",
    )
