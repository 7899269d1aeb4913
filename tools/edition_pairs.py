"""How two editions differ, by their data alone; and docs/edition-differences.md, which lists it.

What the data says is one half, what the findings of the demos show the other; the tests hold the
two against each other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from pathlib import Path

from tools.markdown import MADE, table

from fluewright import app
from fluewright.api import read_survey
from fluewright.edition import Edition, KeyedLimit, LimitValue, NumberLimit, StepLimit, WordLimit
from fluewright.explain.tree import plain, short_name
from fluewright.finding import Finding, Judgement
from fluewright.judge import judge
from fluewright.rules import RULES, Rule
from fluewright.rules.condition import NotAgainst, RuleMeets
from fluewright.rules.logic import walk
from fluewright.units import to_unit

Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which the data of two editions differs for a rule."""

    rule: str
    what: str  # "asked", or the limit
    first: str
    second: str


def leans_on(rule: Rule) -> tuple[Rule, ...]:
    """A rule and every rule whose outcome it uses."""
    found: dict[str, Rule] = {}
    todo = [rule]
    while todo:
        one = todo.pop()
        if one.id in found:
            continue
        found[one.id] = one
        for part in (one.applies, one.needs):
            todo += [RULES[n.rule] for n in walk(part) if isinstance(n, RuleMeets | NotAgainst)]
    return tuple(found.values())


def same(a: LimitValue, b: LimitValue) -> bool:
    """Whether two limits say the same, wherever they stand."""
    if isinstance(a, NumberLimit) and isinstance(b, NumberLimit):
        return a.value == b.value
    if isinstance(a, StepLimit) and isinstance(b, StepLimit):
        return (a.rows, a.beyond) == (b.rows, b.beyond)
    if isinstance(a, KeyedLimit) and isinstance(b, KeyedLimit):
        return a.rows == b.rows
    return replace(a, cite=b.cite) == b


def limits_that_differ(rule: Rule, a: Edition, b: Edition) -> tuple[str, ...]:
    """Limits of a rule, or of one that it leans on, in which two editions differ."""
    keys = dict.fromkeys(key for one in leans_on(rule) for key in one.limits())
    return tuple(key for key in keys if not same(a.limits[key], b.limits[key]))


def differences(a: Edition, b: Edition) -> tuple[Difference, ...]:
    """Every rule for which the data of two editions differs, and how, in the order of the rules.

    A rule that neither asks does not count, whatever its limits. The capacity tables are the same
    for every edition: only their places differ.
    """
    found: list[Difference] = []
    for rule in RULES.values():
        asked = [not edition.requirements[rule.id].absent for edition in (a, b)]
        if not any(asked):
            continue
        if asked[0] is not asked[1]:
            words = ["asked" if one else "not asked" for one in asked]
            found.append(Difference(rule.id, "asked", *words))
            continue
        for key in limits_that_differ(rule, a, b):
            found.append(Difference(rule.id, key, said(a.limits[key]), said(b.limits[key])))
    return tuple(found)


def said(limit: LimitValue) -> str:
    """A limit in one line."""
    if isinstance(limit, NumberLimit):
        return limit.text
    if isinstance(limit, WordLimit):
        return plain(limit.word)
    if isinstance(limit, StepLimit):
        steps = ", ".join(f"{to_unit(value, limit.unit):g}" for _, value in limit.rows)
        more = "" if math.isinf(limit.rows[-1][0]) else f"; then {limit.beyond}"
        return f"{steps} {limit.unit}{more}"
    return "its own table"


def outcome(finding: Finding | None) -> tuple[object, ...]:
    """What a reader sees of a finding besides its places: verdict, numbers, sentence, questions."""
    if finding is None:
        return ()
    numbers: tuple[object, ...] = ()
    if finding.comparison is not None:
        c = finding.comparison
        numbers = (c.limit.value, c.limit.sense, c.margin.value, c.margin.tolerance)
    asked = tuple((m.label, m.how, m.why) for m in finding.measure_next)
    return (finding.verdict, numbers, finding.sentence, asked)


def changed(a: Judgement, b: Judgement) -> dict[Key, tuple[Finding | None, Finding | None]]:
    """Findings of one survey that differ between two editions, by rule and subject."""
    first, second = ({(f.rule, f.subject): f for f in one.findings} for one in (a, b))
    return {
        key: (first.get(key), second.get(key))
        for key in (*first, *(key for key in second if key not in first))
        if outcome(first.get(key)) != outcome(second.get(key))
    }


@cache
def judged_demos() -> Mapping[str, Mapping[str, Judgement]]:
    """Every invented job judged by every edition: file name, then edition id."""
    books = [app.edition(name) for name in app.edition_ids()]
    found: dict[str, Mapping[str, Judgement]] = {}
    for path in sorted((Path(app.DATA) / "demo").glob("*.yaml")):
        survey = read_survey(path)
        library = app.library_for(survey)
        found[path.stem] = {book.id: judge(survey, book, library) for book in books}
    return found


def page(editions: Sequence[Edition], judgements: Mapping[str, Mapping[str, Judgement]]) -> str:
    """The page: each pair of editions, the rules that differ, and how many findings show it.

    Args:
        editions: all editions.
        judgements: for each demo its judgement by each edition.
    """
    pairs = list(combinations(editions, 2))
    alike = [pair for pair in pairs if not differences(*pair)]
    lines = [
        "# Where the editions differ",
        "",
        MADE,
        "",
        "For each two editions: the rules for which their data differs, and how. The last column "
        "counts the findings that differ over all invented jobs. A change of edition changes no "
        "other finding; a test holds that. The capacity tables are the same for all.",
        "",
        "A limit is the same for two editions as far as it is known: a figure from memory is "
        "marked on the page of its [rule](rules/index.md), and may be wrong.",
    ]
    for pair in pairs:
        if pair not in alike:
            lines += ["", f"## {short_name(pair[0])} and {short_name(pair[1])}", ""]
            lines += _pair(*pair, judgements.values())
    if alike:
        lines += ["", "## No difference known", ""]
        lines += [f"* {short_name(a)} and {short_name(b)}" for a, b in alike]
    return "\n".join([*lines, ""])


def _pair(a: Edition, b: Edition, demos: Iterable[Mapping[str, Judgement]]) -> Iterator[str]:
    counts: dict[str, int] = {}
    for by_edition in demos:
        for rule, _ in changed(by_edition[a.id], by_edition[b.id]):
            counts[rule] = counts.get(rule, 0) + 1
    rows = (
        (
            f"[{RULES[d.rule].title}](rules/{d.rule}.md)",
            "" if d.what == "asked" else f"`{d.what}`",
            d.first,
            d.second,
            counts.get(d.rule, 0),
        )
        for d in differences(a, b)
    )
    yield from table(("rule", "limit", short_name(a), short_name(b), "findings"), rows)
