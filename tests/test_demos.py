"""Every invented job: what was planted is found, the clean twin is clean, silence is no pass."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.demo_jobs import (
    DEMO,
    SLUGS,
    TWIN,
    by_key,
    judged,
    plain,
    planted,
    routes,
    without,
)

from fluewright.app import produce
from fluewright.errors import BadSurvey
from fluewright.finding import Verdict

FILES = tuple(sorted(path.stem for path in DEMO.glob("*.yaml")))
EDITIONS = ("umc_2012", "irc_2021")


def test_every_job_has_its_clean_twin() -> None:
    assert len(SLUGS) >= 1
    assert set(FILES) == {name for slug in SLUGS for name in (slug, slug + TWIN)}


@pytest.mark.parametrize("slug", SLUGS)
def test_what_was_planted_is_found_and_nothing_else_fails(slug: str) -> None:
    found = judged(plain(slug))
    fails = {(f.rule, f.subject) for f in found.findings if f.verdict is Verdict.FAILS}
    assert fails == planted(slug)
    assert len(fails) >= 6


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("slug", SLUGS)
def test_the_clean_twin_has_nothing_that_fails(slug: str, edition: str) -> None:
    found = judged(plain(slug + TWIN), edition)
    assert [f.sentence for f in found.findings if f.verdict is Verdict.FAILS] == []


@pytest.mark.parametrize("name", FILES)
def test_every_job_says_that_it_is_invented(name: str) -> None:
    assert plain(name)["job"]["invented"] in (True, "yes")


@pytest.mark.parametrize("slug", SLUGS)
def test_every_job_can_be_written_into_a_folder(slug: str, tmp_path: Path) -> None:
    assert set(produce.demo_jobs()) == set(SLUGS)
    written = produce.demo(str(tmp_path), lambda text: None, slug)
    names = {Path(one.file).name for one in written}
    assert {"elevation.svg", "judgement.txt", "report.pdf", "report.html"} <= names
    assert all(Path(one.file).stat().st_size > 1000 for one in written)


@pytest.mark.parametrize("name", FILES)
def test_striking_any_one_key_never_adds_a_pass(name: str) -> None:
    """No requirement that did not read as met reads as met without some key.

    What is asked of a thing that is then called by another name counts as that thing's.
    """
    data = plain(name)
    all_before = by_key(judged(data))
    before = {k for k, f in all_before.items() if f.verdict is Verdict.MEETS}
    met_somewhere = {rule for rule, _ in before}
    tried = 0
    for route in routes(data):
        try:
            after = by_key(judged(without(data, route)))
        except BadSurvey:
            continue  # an unreadable survey is no pass either
        tried += 1
        new = {k for k, f in after.items() if f.verdict is Verdict.MEETS} - before
        # A thing may answer under another name, where the requirement was met before; but that
        # name must not have been there with another answer.
        new = {key for key in new if key[0] not in met_somewhere or key in all_before}
        assert not new, f"without {route}: {new}"
    assert tried > 100
