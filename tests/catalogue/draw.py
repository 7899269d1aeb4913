"""Random sets of the product's facts: unknown, absent, every word, numbers at and beside limits."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random

from tests.catalogue.reading import UNITS, Flag, Kind, Made, Number, Word, Words, in_unit, si

from fluewright.facts import FactValue, Unknown
from fluewright.quantity import Measured
from fluewright.survey import ABSENT

Others = list[tuple[float, str]]  # numbers drawn before, each with its unit
SILENT = Unknown("not recorded")
PERHAPS = ("connector_path_spaces", "vent_path_spaces")  # whose words may be doubtful
ABSENT_SHARE = 0.06
BESIDE = (1.0, 1.0, 1.0, 1.001, 0.9985)  # at the limit, just above, just below
ORDINARY = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0, 20.0, 30.0)
SIZES = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0)


@dataclass(frozen=True, slots=True)
class Scheme:
    """What the facts of one rule are drawn from."""

    kinds: Mapping[str, Kind]
    numbers: tuple[float, ...]  # figures that stand in the check
    cases: Sequence[Mapping[str, FactValue]]  # facts of the rule's own cases, without tolerance
    sure: frozenset[str] = frozenset()  # facts that are never "none"
    told: frozenset[str] = frozenset()  # lists whose every element is known where the list is


def drawn(scheme: Scheme, rng: Random) -> dict[str, FactValue]:
    """One set of facts: all at random, or a case of the rule with some facts drawn anew."""
    facts: dict[str, FactValue] = {}
    names = list(scheme.kinds)
    if scheme.cases and rng.random() < 0.6:
        facts.update(rng.choice(scheme.cases))
        whole = [name for name in names if _anew(scheme.kinds[name], facts.get(name, SILENT))]
        names = rng.sample(names, min(len(names), rng.choice((0, 1, 1, 2, 2, 3, 4))))
        names += [name for name in whole if name not in names]
    else:
        rng.shuffle(names)
    silent = rng.choice((0.0, 0.0, 0.1, 0.3))
    others: Others = []
    for name, value in facts.items():
        if not isinstance(scheme.kinds.get(name), Made):  # a structure is drawn anew
            _note(scheme, name, value, others)
    for name in names:
        if rng.random() < silent:
            facts[name] = SILENT
        elif name not in scheme.sure and rng.random() < ABSENT_SHARE:
            facts[name] = ABSENT
        else:
            facts[name] = _value(scheme, name, others, rng)
            _note(scheme, name, facts[name], others)
    high, low = facts.get("vent_height"), facts.get("vent_height_above_connector")
    if isinstance(high, Measured) and isinstance(low, Measured) and low.value > high.value:
        # A connector enters above the outlet, never below it.
        facts["vent_height"], facts["vent_height_above_connector"] = low, high
    return facts


def _anew(kind: Kind, value: FactValue) -> bool:
    """Whether a fact of a case has to be drawn: a structure, or a size that is in no table."""
    if isinstance(kind, Made):
        return True
    if not isinstance(kind, Number) or not kind.sized or not isinstance(value, Measured):
        return False
    return all(abs(in_unit(value.value, kind.unit) - size) > 1e-6 for size in SIZES)


def exact(value: FactValue) -> FactValue:
    """A fact without its tolerance."""
    if not isinstance(value, Measured):
        return value
    return replace(value, tolerance=0.0, tool=None, evidence=())


def _note(scheme: Scheme, name: str, value: FactValue, others: Others) -> None:
    """Keep a number for those drawn after it."""
    kind = scheme.kinds.get(name)
    if isinstance(kind, Made):
        others.extend(kind.numbers(value))
    if isinstance(value, Measured) and isinstance(kind, Number):
        others.append((in_unit(value.value, kind.unit), kind.unit))


def _value(scheme: Scheme, name: str, others: Others, rng: Random) -> FactValue:
    kind = scheme.kinds[name]
    if isinstance(kind, Made):
        return kind.make(rng)
    if isinstance(kind, Flag):
        return rng.random() < 0.5
    if isinstance(kind, Word):
        return rng.choice(kind.words)
    if isinstance(kind, Words):
        found = _list(kind, rng, name in PERHAPS)
        if name in scheme.told:
            found = tuple(w for w in found if w != "?")
        return found if found or name not in scheme.sure else (rng.choice(kind.words),)
    return _number(scheme, kind, others, rng)


def _list(kind: Words, rng: Random, perhaps: bool) -> tuple[str, ...]:
    found = rng.choices(kind.words, k=rng.choice((0, 1, 1, 1, 2, 2, 3))) if kind.words else []
    if rng.random() < 0.08:
        found.append("?")
    if perhaps and found and rng.random() < 0.05:
        found[-1] = found[-1].removesuffix("?") + "?"
    return tuple(found)


def _number(scheme: Scheme, kind: Number, others: Others, rng: Random) -> FactValue:
    if kind.sized:
        return Measured(si(rng.choice(SIZES), kind.unit), UNITS[kind.unit][0])
    amount = _from_others(scheme, kind, others, rng) if rng.random() < 0.5 else None
    if amount is None:
        usual = SIZES if kind.unit == "in" else ORDINARY
        amount = rng.choice((*scheme.numbers, *scheme.numbers, *scheme.numbers, *usual))
        amount *= rng.choice((1.0, 1.0, 1.0, 1.0, 0.5, 2.0, 12.0))
    amount *= rng.choice(BESIDE)
    if kind.signed and rng.random() < 0.4:
        amount = -amount
    if kind.whole:
        amount = float(round(amount))
    return Measured(si(amount, kind.unit), UNITS[kind.unit][0])


def _from_others(scheme: Scheme, kind: Number, others: Others, rng: Random) -> float | None:
    """A number made of those drawn before and of those in the check: where a limit may lie."""
    if not others:
        return None
    amount, unit = rng.choice(others)
    if unit == "in" and kind.unit == "in2":
        amount *= amount * math.pi / 4
    figures = [number for number in scheme.numbers if number]
    if figures and rng.random() < 0.6:
        by = rng.choice(figures)
        amount = rng.choice((amount * by, amount / by, amount + by, amount * math.sqrt(by)))
    return amount
