"""The report as HTML: one file, well-formed, with nothing to fetch and nothing that runs."""

from __future__ import annotations

import base64
import io
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from PIL import Image
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
    SURVEY,
    SURVEY_HASH,
    judgement,
    photo,
)
from tests.test_report import BANNED, other_edition

from fluewright.finding import Judgement, Verdict
from fluewright.render.html import render_html
from fluewright.render.html_marks import bar, mark
from fluewright.render.pictures import Pictures, RenderError
from fluewright.report.tree import Audience, MarginBar, Mark
from fluewright.report.whole import build
from fluewright.source import Step
from fluewright.survey import Survey

VOID = {"meta", "br", "img", "link", "hr", "input"}


class Reader(HTMLParser):
    """Reads a page strictly: every element closed, in order."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.faults: list[str] = []
        self.feed(page)
        self.close()
        self.faults += [f"not closed: {tag}" for tag in self.open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        if len(names) != len(set(names)):
            self.faults.append(f"{tag} has an attribute twice")
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"closed out of order: {tag}")

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] not in ("style", "title"):
            self.words.append(data)

    @property
    def text(self) -> str:
        return "".join(self.words)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]


@cache
def pictures() -> Pictures:
    photos = {"hood.jpg": photo(800, 600), "run.jpg": photo(400, 600, orientation=6)}
    return Pictures({"heater": ELEVATION_SVG}, {"heater": CHART_SVG}, photos)


def html(
    audience: Audience,
    *judgements: Judgement,
    survey: Survey = SURVEY,
    shown: Pictures | None = None,
) -> str:
    made = build(
        survey,
        judgements or (judgement(), other_edition()),
        audience=audience,
        provenance=PROVENANCE,
        figures=FIGURES,
        precautions=PRECAUTIONS,
    )
    return render_html(made, shown or pictures())


@cache
def page(audience: Audience) -> Reader:
    return Reader(html(audience))


@pytest.mark.parametrize("audience", Audience)
def test_it_is_well_formed_and_every_name_is_given_once(audience: Audience) -> None:
    read = page(audience)
    assert read.faults == []
    names = [attributes["id"] for _, attributes in read.tags if "id" in attributes]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("audience", Audience)
def test_every_reference_of_the_page_leads_to_something_in_it(audience: Audience) -> None:
    read = page(audience)
    names = {attributes.get("id") for _, attributes in read.tags}
    links = [a["href"] for a in read.all("a")]
    labels = [a["aria-labelledby"] for _, a in read.tags if "aria-labelledby" in a]
    assert links
    assert {str(link).removeprefix("#") for link in links} | set(labels) <= names


@pytest.mark.parametrize("audience", Audience)
def test_nothing_in_it_runs_or_is_fetched(audience: Audience) -> None:
    text = html(audience)
    assert re.findall(r"(?:https?:)?//[a-z]", re.sub(r"base64,[A-Za-z0-9+/=]*", "", text)) == []
    read = page(audience)
    assert {"script", "link", "iframe", "object", "base", "form"}.isdisjoint(
        tag for tag, _ in read.tags
    )
    for tag, attributes in read.tags:
        assert [name for name in attributes if name.startswith("on")] == []
        for name in ("src", "href"):
            value = attributes.get(name)
            assert value is None or value.startswith(("#", "data:image/")), (tag, value)
    addresses = re.findall(r"url\(([^)]*)\)", text)
    assert all(one.startswith(('"data:font/', "#")) for one in addresses)


@pytest.mark.parametrize("audience", Audience)
def test_headings_go_down_one_level_at_a_time_and_start_with_one(audience: Audience) -> None:
    levels = [int(tag[1]) for tag, _ in page(audience).tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("audience", Audience)
def test_it_has_landmarks_table_heads_and_words_for_pictures(audience: Audience) -> None:
    read = page(audience)
    for tag in ("header", "nav", "main", "footer"):
        assert len(read.all(tag)) == 1
    assert read.all("html") == [{"lang": "en"}]
    assert {cell.get("scope") for cell in read.all("th")} == {"col"}
    assert len(read.all("img")) == 2
    assert all(picture["alt"] for picture in read.all("img"))
    for drawing in read.all("svg"):
        assert drawing.get("aria-hidden") == "true" or drawing.get("aria-label")
    assert FIGURES.elevations["heater"] in [
        drawing.get("aria-label") for drawing in read.all("svg")
    ]


@pytest.mark.parametrize("audience", Audience)
def test_every_failing_sentence_caution_and_hash_can_be_read(audience: Audience) -> None:
    said = page(audience).text
    wrong = [f.sentence for f in FINDINGS if f.verdict is Verdict.FAILS]
    for text in (SURVEY.job.title, *wrong, *CAUTIONS, SURVEY_HASH, *HASHES.values()):
        assert text in said


@pytest.mark.parametrize("audience", Audience)
def test_no_word_of_the_page_promises_anything(audience: Audience) -> None:
    assert BANNED.search(page(audience).text) is None


@pytest.mark.parametrize("audience", Audience)
def test_what_has_to_be_shut_off_is_the_first_thing_in_the_main_part(audience: Audience) -> None:
    read = page(audience)
    place = next(n for n, (tag, _) in enumerate(read.tags) if tag == "main")
    assert read.tags[place + 1][1]["aria-label"] == "Shut it off now"


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "</style><img src=x onerror=alert(1)>",
        '" onmouseover="alert(1)',
        "' & &lt; &amp;",
        "<!-- --> ]]> <svg/onload=x>",
    ],
)
def test_hostile_text_comes_out_as_it_was_written(text: str) -> None:
    job = replace(SURVEY.job, title=text, by=text)
    photos = tuple(replace(one, shows=text) for one in SURVEY.photos)
    finding = replace(CAP_LOW, title=text, subject=text, sentence=text, remedies=(text,))
    judged = replace(judgement((finding,)), cautions=(text,))
    read = Reader(html(Audience.TRADE, judged, survey=replace(SURVEY, job=job, photos=photos)))
    assert read.faults == []
    assert read.text.count(text) >= 7
    assert read.all("script") == []
    assert len(read.all("img")) == 2
    assert any(text in str(picture["alt"]) for picture in read.all("img"))


def test_marks_that_hide_or_reorder_are_made_visible() -> None:
    finding = replace(CAP_LOW, sentence="limit \u202e51 in\x07")
    assert "limit [U+202E]51 in[U+0007]" in Reader(html(Audience.OWNER, judgement((finding,)))).text


def test_fractions_of_a_tape_are_set_as_fractions_and_dates_are_not() -> None:
    finding = replace(CAP_LOW, sentence="3/8 in at 7/12 on 11/2/2026 and 17 1/2 in")
    text = html(Audience.OWNER, judgement((finding,)))
    assert (
        '<span class="fr">3/8</span> in at 7/12 on 11/2/2026 and 17 <span class="fr">1/2</span> in'
        in text
    )


def test_photos_lose_the_place_where_they_were_taken() -> None:
    source = str(page(Audience.OWNER).all("img")[1]["src"])
    data = base64.b64decode(source.partition("base64,")[2])
    with Image.open(io.BytesIO(data)) as opened:
        assert opened.size == (600, 400)
        assert not opened.getexif()


def test_a_photo_that_is_no_picture_is_named_in_its_place() -> None:
    read = Reader(
        html(
            Audience.OWNER,
            shown=Pictures({"heater": ELEVATION_SVG}, {"heater": CHART_SVG}, {"hood.jpg": b""}),
        )
    )
    assert read.text.count("The picture could not be read; it is not shown.") == 2


def test_names_and_styles_of_a_drawing_stay_its_own() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="20mm" id="main">'
        "<style>@font-face{font-family:X;src:url(data:font/woff2;base64,AA)}"
        "text, path{fill:red}</style>"
        '<defs><pattern id="hatch"/></defs><path id="p" fill="url(#hatch)"/>'
        '<use href="#p"/></svg>'
    )
    text = html(Audience.OWNER, shown=Pictures({"heater": svg}, {"heater": svg}))
    assert Reader(text).faults == []
    assert 'id="elevation-heater-hatch"' in text
    assert 'fill="url(#cap-chart-heater-hatch)"' in text
    assert 'href="#elevation-heater-p"' in text
    assert "#elevation-heater-drawing text, #elevation-heater-drawing path {fill:red}" in text
    assert 'viewBox="0 0 10 20"' in text


def test_a_drawing_with_a_script_is_refused() -> None:
    svg = CHART_SVG.replace("<circle", "<script>x</script><circle")
    with pytest.raises(
        RenderError, match="drawing cap_chart:heater: element script is not allowed"
    ):
        html(Audience.OWNER, shown=Pictures({"heater": ELEVATION_SVG}, {"heater": svg}))


def test_a_drawing_whose_style_reaches_beyond_plain_rules_is_refused() -> None:
    svg = ELEVATION_SVG.replace("<title>", "<style>@media print{text{fill:red}}</style><title>")
    with pytest.raises(RenderError, match="drawing elevation:heater: its style sheet holds more"):
        html(Audience.OWNER, shown=Pictures({"heater": svg}, {"heater": CHART_SVG}))


def test_the_same_report_has_the_same_text() -> None:
    assert html(Audience.TRADE) == html(Audience.TRADE)


def test_a_working_without_numbers_is_a_list_and_not_a_table() -> None:
    step = Step("open joints: c2")
    for steps, tables in (((step,), 0), ((step, Step("gap", 0.375, "in")), 1)):
        finding = replace(OPEN_JOINT, working=steps)
        text = html(Audience.OFFICIAL, judgement((finding,)))
        article = text[text.index("<article") : text.index("</article>")]
        assert article.count("<table") == tables
        assert "open joints: c2" in article


def test_there_is_a_shape_for_every_mark_and_no_two_are_alike() -> None:
    assert len({mark(kind) for kind in Mark}) == len(Mark)


@pytest.mark.parametrize(("fails_left", "start"), [(True, "0.0"), (False, "100.0")])
def test_the_failing_side_of_the_bar_is_hatched(fails_left: bool, start: str) -> None:
    drawn = bar(MarginBar(0.5, 0.25, 0.2, 0.3, fails_left))
    assert f'<rect x="{start}" y="5" width="100.0"' in drawn
    assert 'cx="50.0"' in drawn
    assert "M40.0 14H60.0" in drawn
