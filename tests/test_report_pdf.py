"""The report as PDF: its standards, its bytes, its words, and what hostile text does to it."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, get_args

import pytest
from PIL import Image
from pypdf import PdfReader
from tests.report_jobs import (
    CAP_LOW,
    CAUTIONS,
    CHART_SVG,
    ELEVATION_SVG,
    FIGURES,
    FINDINGS,
    HASHES,
    OPEN_JOINT,
    PRECAUTIONS,
    PROVENANCE,
    SPILL,
    SURVEY,
    SURVEY_HASH,
    judgement,
    photo,
)
from tests.test_report import BANNED, other_edition

from fluewright.finding import Judgement, Verdict
from fluewright.render.fonts import common_glyphs
from fluewright.render.pdf import _SERIF, Paper, render_pdf
from fluewright.render.photo import LONGEST_PX, published
from fluewright.render.pictures import Pictures, RenderError
from fluewright.render.text import printable, visible
from fluewright.report.summary import GENERAL_CAUTION
from fluewright.report.tree import Audience
from fluewright.report.whole import build
from fluewright.survey import Survey

PAPERS: tuple[Paper, ...] = get_args(Paper)


@cache
def pictures() -> Pictures:
    photos = {"hood.jpg": photo(800, 600), "run.jpg": photo(400, 600, orientation=6)}
    return Pictures({"heater": ELEVATION_SVG}, {"heater": CHART_SVG}, photos)


def pdf(
    audience: Audience = Audience.OWNER,
    *judgements: Judgement,
    survey: Survey = SURVEY,
    paper: Paper = "letter",
    shown: Pictures | None = None,
    made_on: str | None = "2026-11-25",
) -> bytes:
    made = build(
        survey,
        judgements or (judgement(),),
        audience=audience,
        provenance=replace(PROVENANCE, made_on=made_on),
        figures=FIGURES,
        precautions=PRECAUTIONS,
    )
    return render_pdf(made, shown or pictures(), paper=paper)


@cache
def usual(audience: Audience) -> bytes:
    return pdf(audience, judgement(), other_edition())


def reader(data: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(data))


def words(data: bytes, *pages: int) -> str:
    """The text of all or some pages, with every space and line end taken out."""
    read = reader(data)
    chosen = [read.pages[page] for page in pages] if pages else list(read.pages)
    return squeezed("".join(page.extract_text() for page in chosen))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text.replace("\u2044", "/"))


@pytest.mark.parametrize("audience", Audience)
def test_every_failing_sentence_caution_and_hash_can_be_read_in_the_pdf(audience: Audience) -> None:
    said = words(usual(audience))
    wrong = [f.sentence for f in FINDINGS if f.verdict is Verdict.FAILS]
    for text in (SURVEY.job.title, *wrong, *CAUTIONS, SURVEY_HASH, *HASHES.values()):
        assert squeezed(text) in said


@pytest.mark.parametrize("audience", Audience)
def test_no_word_of_the_pdf_promises_anything(audience: Audience) -> None:
    assert BANNED.search("".join(p.extract_text() for p in reader(usual(audience)).pages)) is None


def test_it_says_that_it_is_pdf_a_2a_and_pdf_ua_1() -> None:
    xmp = reader(usual(Audience.OWNER)).xmp_metadata
    assert xmp is not None
    text = xmp.stream.get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part>" in text
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in text
    assert "<pdfuaid:part>1</pdfuaid:part>" in text


def test_it_is_tagged_named_and_in_english() -> None:
    read = reader(usual(Audience.OFFICIAL))
    root: Any = read.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert read.metadata is not None
    assert read.metadata.title == "Fern Hollow 12, utility room"
    assert read.metadata.author == "fluewright 0.1.0"


def structure(data: bytes) -> list[tuple[str, str]]:
    """Role and alternative text of every element of the structure tree, in order."""
    found: list[tuple[str, str]] = []

    def walk(node: Any) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for one in node:
                walk(one)
        elif isinstance(node, dict):
            if "/S" in node:
                found.append((str(node["/S"]), str(node.get("/Alt", ""))))
            if "/K" in node:
                walk(node["/K"])

    root: Any = reader(data).trailer["/Root"]
    walk(root["/StructTreeRoot"])
    return found


@pytest.mark.parametrize("audience", Audience)
def test_headings_go_down_one_level_at_a_time(audience: Audience) -> None:
    levels = [int(role[2:]) for role, _ in structure(usual(audience)) if re.match(r"/H\d", role)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_pictures_have_words_and_tables_have_heads() -> None:
    found = structure(usual(Audience.TRADE))
    alts = [alt for role, alt in found if role == "/Figure"]
    assert FIGURES.elevations["heater"] in alts
    assert FIGURES.cap_charts["heater"] in alts
    assert all(alts)
    assert "/TH" in [role for role, _ in found]


def test_the_same_report_has_the_same_bytes() -> None:
    assert pdf(Audience.TRADE) == pdf(Audience.TRADE)


def test_a_report_without_a_date_has_the_same_bytes_too() -> None:
    assert pdf(made_on=None) == pdf(made_on=None)


def test_the_date_of_the_document_is_that_of_the_report() -> None:
    metadata = reader(pdf(made_on="2024-02-03")).metadata
    assert metadata is not None
    assert metadata.creation_date is not None
    assert metadata.creation_date.date().isoformat() == "2024-02-03"


def test_a_date_that_is_none_is_refused() -> None:
    with pytest.raises(RenderError, match=r'"soon", is no date. Write one such as 2026-11-25'):
        pdf(made_on="soon")


@pytest.mark.parametrize(
    ("paper", "points"), [("letter", (612.0, 792.0)), ("a4", (595.28, 841.89))]
)
def test_sheets_have_the_size_that_was_asked_for(paper: Paper, points: tuple[float, float]) -> None:
    box = reader(pdf(paper=paper)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(points, abs=0.1)


@pytest.mark.parametrize("audience", Audience)
def test_the_number_of_pages_stays_sensible(audience: Audience) -> None:
    assert 4 <= len(reader(usual(audience)).pages) <= 9


def crowded(words_each: int, questions: int) -> Judgement:
    """Thirty things wrong, each told in so many words, and grave questions beside them."""
    told = "so many words " * (words_each // 3)
    many = [
        replace(
            (OPEN_JOINT, CAP_LOW)[place % 2],
            rule=f"rule_{place}",
            sentence=f"Thing {place} is wrong {told}",
            remedies=(f"Mend thing {place} by work {told}",),
            number=place,
        )
        for place in range(1, 31)
    ]
    steps = tuple(
        (replace(step, label=step.label + told, why="hard to see " + told), rules)
        for step, rules in judgement().next_steps * 4
    )
    title = "A question that takes a great many words to ask, number "
    grave = [replace(SPILL, rule=f"open_{n}", title=f"{title}{n}") for n in range(questions)]
    return replace(judgement((*many, *grave)), next_steps=steps)


FIRST_PAGE = ("Shut it off now", "What was found", "What is not known yet", GENERAL_CAUTION)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_owner_has_the_whole_summary_on_the_first_page(paper: Paper) -> None:
    data = pdf(Audience.OWNER, paper=paper)
    first = words(data, 0)
    for text in (*FIRST_PAGE, *(f.sentence for f in FINDINGS if f.verdict is Verdict.FAILS)):
        assert squeezed(text) in first
    assert squeezed("The drawing") not in first


@pytest.mark.parametrize("questions", [0, 4])
@pytest.mark.parametrize("words_each", [0, 9, 12, 15, 18, 21, 60])
def test_however_much_is_wrong_the_summary_stays_on_the_first_page(
    words_each: int, questions: int
) -> None:
    crowd = crowded(words_each, questions)
    job = replace(SURVEY.job, title="A house with a long name " * (1 + words_each // 9))
    other = replace(crowd, edition=other_edition().edition)
    first = words(pdf(Audience.OWNER, crowd, other, survey=replace(SURVEY, job=job)), 0)
    for text in FIRST_PAGE:
        assert squeezed(text) in first


HOSTILE = (
    "#let x = 1 #panic()",
    "<script>alert(1)</script>",
    "$math_2^x$ and `code` and *bold* and _it_",
    "= heading\n== another",
    "@ref <label> //comment /* x */ \\u{41} \\",
    '#read("/etc/passwd") #image("x.png")',
    "]) #pagebreak() ([",
)


def spoiled(text: str) -> bytes:
    """A report in which this text stands wherever a person may write."""
    job = replace(SURVEY.job, title=text, by=text, visit=text)
    photos = tuple(replace(one, shows=text) for one in SURVEY.photos)
    finding = replace(
        CAP_LOW, title=text, subject=text, sentence=text, remedies=(text, text), photos=(text,)
    )
    judged = replace(judgement((finding,)), cautions=(text,), notes=(text,))
    return pdf(Audience.OFFICIAL, judged, survey=replace(SURVEY, job=job, photos=photos))


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_comes_out_as_it_was_written(text: str) -> None:
    assert words(spoiled(text)).count(squeezed(text)) >= 8


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("nest 🐦 in cap", "nest[U+1F426]incap"),
        ("日本 house", "[U+65E5][U+672C]house"),
        ("read \u202e1234", "read[U+202E]1234"),
        ("bell \x07 nul \x00", "bell[U+0007]nul[U+0000]"),
        ("cafe\u0301", "café"),
        ("a\u0323b", "[U+1EA1]b"),
        ("Дом, Σπίτι", "Дом,Σπίτι"),
    ],
)
def test_a_character_that_no_font_holds_is_shown_by_its_number(text: str, shown: str) -> None:
    assert shown in words(spoiled(text))


def test_every_character_that_counts_as_printable_can_be_set() -> None:
    held = sorted(common_glyphs() | _SERIF)
    text = " ".join(chr(point) for point in held if visible(chr(point)) == chr(point))
    assert "[U+" not in printable(text, frozenset(held))
    assert len(reader(spoiled(text)).pages) > 1


def test_a_word_without_end_is_broken_and_not_cut() -> None:
    assert "x" * 400 in words(spoiled("x" * 400))


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler's pdftotext")
def test_a_long_word_stays_within_the_sheet(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(spoiled("W" * 400))
    command = ["pdftotext", "-bbox", tmp_path / "a.pdf", "-"]
    done = subprocess.run(command, capture_output=True, check=True, text=True)
    ends = [float(x) for x in re.findall(r'xMax="([\d.]+)"', done.stdout)]
    assert max(ends) <= 612.0 - 50.0


def test_lines_that_reorder_or_hide_are_made_visible_and_others_left() -> None:
    assert visible("plain text\nwith ½ and ≥") == "plain text\nwith ½ and ≥"
    assert visible("a\u2066b\u200bc") == "a[U+2066]b[U+200B]c"


def test_photos_are_turned_made_small_and_stripped_of_their_place() -> None:
    made = published(photo(3000, 2000, orientation=6))
    assert made is not None
    data, width, height = made
    with Image.open(io.BytesIO(data)) as opened:
        assert opened.size == (width, height)
        assert not opened.getexif()
        assert opened.format == "JPEG"
    assert max(width, height) == LONGEST_PX
    assert height > width
    assert b"Exif" not in data


def test_a_photo_that_is_no_picture_is_named_and_does_not_stop_the_report() -> None:
    broken = Pictures(
        {"heater": ELEVATION_SVG}, {"heater": CHART_SVG}, {"hood.jpg": b"not a picture"}
    )
    said = words(pdf(shown=broken))
    assert said.count(squeezed("The picture could not be read; it is not shown.")) == 2
    assert squeezed("gap behind the elbow") in said


def test_a_picture_with_holes_is_laid_on_white() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(out, "PNG")
    made = published(out.getvalue())
    assert made is not None
    with Image.open(io.BytesIO(made[0])) as opened:
        assert opened.getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("svg", "message"),
    [
        ("<svg", "not well-formed SVG"),
        ("<!DOCTYPE svg><svg/>", "declares a document type"),
        ('<svg xmlns="http://www.w3.org/2000/svg"/>', "states no size"),
        (ELEVATION_SVG.replace("<title>", "<script>x</script><title>"), "element script"),
        (ELEVATION_SVG.replace("<rect", '<rect onclick="x"'), "attribute onclick"),
        (ELEVATION_SVG.replace("<rect", '<use href="a.svg#b"/><rect'), "attribute href"),
        (ELEVATION_SVG.replace("<rect", '<rect fill="url(http://x.test/)"'), "attribute fill"),
    ],
)
def test_a_drawing_that_is_not_ours_is_refused(svg: str, message: str) -> None:
    with pytest.raises(RenderError, match=message):
        pdf(shown=Pictures({"heater": svg}, {"heater": CHART_SVG}))


def test_a_drawing_may_hold_letters_that_no_font_has() -> None:
    svg = ELEVATION_SVG.replace("52 in", "🐦 \x07")
    assert reader(pdf(shown=Pictures({"heater": svg}, {"heater": CHART_SVG}))).pages


@pytest.mark.parametrize(
    ("size", "paper", "note"),
    [
        ('width="215.9mm" height="279.4mm"', "letter", ""),
        ('width="210mm" height="297mm"', "a4", ""),
        ('width="210mm" height="297mm"', "letter", "Printed at 69 % of its size"),
        ('width="90mm" height="100mm"', "letter", "Printed at 194 % of its size"),
        ("", "letter", ""),
    ],
)
def test_a_drawing_made_for_the_sheet_fills_it_and_another_says_its_scale(
    size: str, paper: Paper, note: str
) -> None:
    svg = ELEVATION_SVG.replace("<svg ", f"<svg {size} ")
    data = pdf(paper=paper, shown=Pictures({"heater": svg}, {"heater": CHART_SVG}))
    page = next(p for p in reader(data).pages[1:] if "The drawing" in p.extract_text())
    said = page.extract_text()
    assert ("Printed at" in said) is bool(note)
    assert squeezed(note) in squeezed(said)
    assert ("Where the cap" in said) is False
    assert FIGURES.elevations["heater"] in [
        alt for role, alt in structure(data) if role == "/Figure"
    ]


def test_a_sheet_size_nobody_knows_is_refused() -> None:
    with pytest.raises(RenderError, match=r'"a3" is no sheet size. Write letter or a4.'):
        pdf(paper="a3")  # type: ignore[arg-type]
