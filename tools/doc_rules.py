"""The pages of docs/rules, from the explanation of each rule; and docs/editions.md."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from tools.markdown import MADE, cell, table

from fluewright.drawing.measure import Figure
from fluewright.edition import Edition
from fluewright.explain import Explanation, place_text
from fluewright.explain.tree import BASIS_WORDS, LimitEntry, capital, short_name
from fluewright.finding import GRADE_WORDS, Grade
from fluewright.rules import RULES
from fluewright.rules.answers import is_asked
from fluewright.source import Basis, Citation

SUBJECTS = {
    "existing": "What exists: tests, changes, records",
    "material": "Kinds of pipe, draft hood, foreign connections",
    "connector": "The connector",
    "vent": "The vent",
    "clearance": "Distances to what can burn",
    "common": "Several appliances on one vent",
    "chimney": "Chimneys and liners",
    "termination": "Where the vent ends",
    "sizing": "Size",
    "air": "Air for burning, venting and diluting",
    "setting": "Where it stands: access, garage, gas pipe, water side, return air",
    "other_draft": "Fan-driven, direct-vent, condensing and unlisted appliances",
}


def rule_page(found: Explanation, figure: Figure | None = None) -> str:
    """One rule as a page, with the figure that shows how it is measured."""
    lines = [
        f"# {found.title}",
        "",
        MADE,
        "",
        f"`{found.id}`. Where it fails: **{found.grade_word}** (`{found.grade.value}`). "
        f"Judged for {found.subject}.",
    ]
    for caution in found.cautions[:-1]:
        lines += ["", f"> {caution}"]
    for head, text in (
        ("What it asks", found.asks),
        ("Why it matters", found.why),
        ("How to recognize and measure it", found.recognize),
        ("Where it is not asked", found.not_asked),
    ):
        if text:
            lines += ["", f"## {head}", "", text]
        if figure and text == found.recognize:
            lines += ["", f"![{figure.alt}](figures/{figure.name}.svg)"]
    lines += ["", "## What to record", ""]
    lines += [f"* {item.label}: {item.how}" for item in found.record]
    lines += list(_limits(found))
    lines += ["", "## Where it is written", ""]
    lines += [f"* {place.title}: {place_text(place)}" for place in found.places]
    if found.leans_on:
        lines += ["", "It uses the outcome of", ""]
        lines += [f"* [{title}]({rule}.md)" for rule, title in found.leans_on]
    lines += ["", "## What to do", "", found.remedy, "", found.cautions[-1], ""]
    return "\n".join([*lines, "[All rules](index.md)", ""])


def _limits(found: Explanation) -> Iterator[str]:
    if not found.limits:
        return
    yield from ("", "## Limits", "")
    heads = ("limit", *(entry.edition for entry in found.limits[0].entries))
    rows = ((capital(row.words), *map(_entry, row.entries)) for row in found.limits)
    yield from table(heads, rows)
    for one in found.tables:
        yield from ("", f"{capital(one.limit)}: {', '.join(one.editions)}", "")
        head, *body = one.rows
        yield from table(head, body)
        if one.beyond:
            yield from ("", f"{capital(one.beyond)}.")


def _entry(entry: LimitEntry) -> str:
    basis = f" ({entry.basis})" if entry.basis else ""
    return f"**{entry.text}**; {entry.place}{basis}"


def index_page(groups: Mapping[str, Sequence[Explanation]]) -> str:
    """All rules by subject."""
    count = sum(len(found) for found in groups.values())
    grades = Counter(e.grade for found in groups.values() for e in found)
    lines = [
        "# Rules",
        "",
        MADE,
        "",
        f"{count} requirements are judged. What an edition asks and nobody judges yet stands in "
        "[editions](../editions.md).",
        "",
        *table(
            ("grade", "word", "rules"),
            ((f"`{grade.value}`", GRADE_WORDS[grade], grades[grade]) for grade in Grade),
        ),
    ]
    for subject, found in groups.items():
        lines += ["", f"## {SUBJECTS[subject]}", ""]
        rows = ((f"[{e.title}]({e.id}.md)", f"`{e.id}`", e.grade_word, _missing(e)) for e in found)
        lines += table(("rule", "id", "where it fails", "not asked in"), rows)
    return "\n".join([*lines, ""])


def _missing(found: Explanation) -> str:
    return ", ".join(place.id for place in found.places if place.absent)


def editions_page(editions: Iterable[Edition]) -> str:
    """What each edition judges, lacks and leaves unexamined."""
    lines = [
        "# Editions",
        "",
        MADE,
        "",
        "An edition stands alone: it states every limit and a place for every rule, or says that "
        "it does not ask it and why. How well a place is known: "
        + "; ".join(f"`{basis.value}`, {words}" for basis, words in BASIS_WORDS.items())
        + ". A figure from memory is to be looked up in the adopted text before anybody relies "
        "on it. A new one: [add an edition](add-an-edition.md).",
    ]
    for edition in editions:
        lines += list(_edition(edition))
    return "\n".join([*lines, ""])


def _edition(edition: Edition) -> Iterator[str]:
    asked = [r for r, entry in edition.requirements.items() if not entry.absent]
    absent = [(r, entry.absent) for r, entry in edition.requirements.items() if entry.absent]
    cites = [c for r in asked for c in edition.requirements[r].cites]
    used = dict.fromkeys(key for r in asked for key in RULES[r].limits())
    limits = [edition.limits[key].cite for key in used]
    yield from ("", f"## {edition.title}", "")
    of_people = [r for r in asked if is_asked(RULES[r])]
    yield (
        f"`{edition.id}`, shown as {short_name(edition)}. {len(asked) - len(of_people)} "
        f"requirements are judged, {len(of_people)} put as questions to a person or a paper, "
        f"{len(absent)} are not asked by it, {len(edition.unexamined)} of its requirements are "
        "not examined."
    )
    yield ""
    yield from table(
        ("how known", "places", "limits"),
        (
            (f"`{b.value}`", _count(cites, b), _count(limits, b))
            for b in Basis
            if b in _of([*cites, *limits])
        ),
    )
    if of_people:
        yield from ("", "### Put as a question", "")
        yield from (f"* [{RULES[r].title}](rules/{r}.md)" for r in of_people)
    if absent:
        yield from ("", "### Not asked by it", "")
        yield from (f"* [{RULES[r].title}](rules/{r}.md): {why}" for r, why in absent)
    yield from ("", "### Not examined", "")
    for why in dict.fromkeys(reason for _, _, reason in edition.unexamined):
        yield from (f"{capital(why)}:", "")
        yield from (f"* {cell(at)}" for _, at, reason in edition.unexamined if reason == why)
        yield ""


def _of(cites: Iterable[Citation]) -> set[Basis]:
    return {cite.basis for cite in cites}


def _count(cites: Iterable[Citation], basis: Basis) -> int:
    return sum(cite.basis is basis for cite in cites)
