"""One rule and its check, asked about the same facts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from random import Random

from tests import rule_cases
from tests.catalogue.draw import Scheme, drawn, exact
from tests.catalogue.judge import FAIL, NOT_ASKED, OPEN, PASS, Facts, check_of
from tests.catalogue.names import KINDS, NEVER_ABSENT, SIZED, read_of
from tests.catalogue.reading import Kind, Number, Word, Words
from tests.catalogue.sized import TOLD
from tests.catalogue.values import Value

from fluewright.facts import FactValue, Unknown
from fluewright.finding import Verdict
from fluewright.rules import RULES
from fluewright.rules.base import Rule
from fluewright.rules.condition import AllIn, AnyIn, NotAgainst, OneOf, RuleMeets
from fluewright.rules.logic import walk

SAYS = {
    PASS: Verdict.MEETS,
    FAIL: Verdict.FAILS,
    OPEN: Verdict.CANNOT_TELL,
    NOT_ASKED: Verdict.NOT_APPLICABLE,
}
EDITIONS = ("umc_2012", "nfpa54_2012", "upc_2012", "ifgc_2018", "irc_2018")


class NoKind(LookupError):
    """A fact that a rule asks and its check does not name."""


@dataclass
class Found:
    """What came of comparing one rule."""

    rule: str
    verdicts: Counter[Verdict] = field(default_factory=Counter)
    differences: list[str] = field(default_factory=list)


def used_rules(rule: str) -> tuple[Rule, ...]:
    """A rule and every rule that it rests on."""
    found: dict[str, Rule] = {}
    todo = [rule]
    while todo:
        name = todo.pop()
        if name in found:
            continue
        found[name] = RULES[name]
        for part in (RULES[name].applies, RULES[name].needs):
            todo += [n.rule for n in walk(part) if isinstance(n, RuleMeets | NotAgainst)]
    return tuple(found.values())


@cache
def names_in_check(rule: str) -> frozenset[str]:
    """Facts and fields that a check names, and those of the checks it rests on."""
    done: set[str] = set()
    names: set[str] = set()
    todo = [rule]
    while todo:
        one = todo.pop()
        if one in done:
            continue
        done.add(one)
        check = check_of(one)
        todo += check.rules
        names |= check.facts | {f"{name}[{key}]" for name, key in check.fields}
    with_fields = {name.partition("[")[0] for name in names if "[" in name}
    return frozenset(names - with_fields)


def kinds_of(rule: str) -> dict[str, Kind]:
    """What each fact that rule or check looks at is drawn from.

    Raises:
        NoName: a fact of the check has no counterpart.
        NoKind: a fact of the rule is in no reading of the check, and no kind is told.
    """
    kinds: dict[str, Kind] = {}
    for name in sorted(names_in_check(rule)):
        kinds.update(read_of(rule, name).needs)
    rules = used_rules(rule)
    for one in rules:
        for name in one.facts():
            if name in kinds:
                continue
            if name not in KINDS:
                raise NoKind(f"{name} of {one.id}")
            kinds[name] = KINDS[name]
    kinds.update({name: Number("in", sized=True) for name in SIZED.get(rule, ())})
    return _with_words(kinds, rules)


def _with_words(kinds: dict[str, Kind], rules: tuple[Rule, ...]) -> dict[str, Kind]:
    """The words that the rules themselves name are drawn too."""
    for one in rules:
        for part in (one.applies, one.needs):
            for node in walk(part):
                if not isinstance(node, OneOf | AnyIn | AllIn):
                    continue
                kind = kinds[node.name]
                if isinstance(kind, Word | Words):
                    more = sorted(node.words - set(kind.words))
                    kinds[node.name] = type(kind)((*kind.words, *more))
    return kinds


def scheme_of(rule: str) -> Scheme:
    """What the facts of a rule are drawn from."""
    kinds = kinds_of(rule)
    numbers: set[float] = set()
    todo, done = [rule], set()
    while todo:
        one = todo.pop()
        if one not in done:
            done.add(one)
            numbers |= check_of(one).numbers
            todo += check_of(one).rules
    cases = (
        []
        if not (rule_cases.FOLDER / f"{rule}.toml").exists()
        else [
            {name: exact(value) for name, value in case.facts.items() if name in kinds}
            for case in rule_cases.load(rule)
        ]
    )
    return Scheme(kinds, tuple(sorted(numbers)), cases, NEVER_ABSENT, frozenset(TOLD))


def edition_of(rule: str) -> str:
    """The first edition that has the requirement."""
    for name in EDITIONS:
        if not rule_cases.edition(name).requirements[rule].absent:
            return name
    return EDITIONS[0]


def by_check(rule: str, facts: Mapping[str, FactValue]) -> Verdict:
    """Verdict of the check."""
    silent = Unknown("not recorded")

    def read(name: str) -> Value:
        return read_of(rule, name).of(lambda ours: facts.get(ours, silent))

    return SAYS[Facts(read).verdict(rule)]


def compared(rule: str, sets: int) -> Found:
    """A rule and its check on so many random sets of facts."""
    scheme, edition, rng = scheme_of(rule), edition_of(rule), Random(rule)
    found = Found(rule)
    for _ in range(sets):
        facts = drawn(scheme, rng)
        ours = rule_cases.judged(rule, facts, edition).verdict
        theirs = by_check(rule, facts)
        found.verdicts[ours] += 1
        if ours is not theirs:
            told = {k: v for k, v in facts.items() if not isinstance(v, Unknown)}
            found.differences.append(f"{rule}: rule {ours}, check {theirs}: {told}")
    return found
