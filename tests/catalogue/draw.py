"""Random sets of the product's facts: unknown, absent, every word, numbers at and beside limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random

from tests.catalogue.reading import UNITS, Flag, Kind, Number, Word, Words, in_unit, si

from fluewright.facts import FactValue, Unknown
from fluewright.quantity import Dimension, Measured
from fluewright.survey import ABSENT

SILENT = Unknown("not recorded")
TOLD = ("elbows",)  # lists whose every element is known where the list is
PERHAPS = ("connector_path_spaces", "vent_path_spaces")  # whose words may be doubtful
ABSENT_SHARE = 0.06
BESIDE = (1.0, 1.0, 1.0, 1.001, 0.999)  # at the limit, just above, just below
ORDINARY = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0, 20.0, 30.0)
SIZES = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 14.0)


@dataclass(frozen=True, slots=True)
class Scheme:
    """What the facts of one rule are drawn from."""

    kinds: Mapping[str, Kind]
    numbers: tuple[float, ...]  # figures that stand in the check
    cases: Sequence[Mapping[str, FactValue]]  # facts of the rule's own cases, without tolerance
    sure: frozenset[str] = frozenset()  # facts that are never "none"


def drawn(scheme: Scheme, rng: Random) -> dict[str, FactValue]:
    """One set of facts: all at random, or a case of the rule with some facts drawn anew."""
    facts: dict[str, FactValue] = {}
    names = list(scheme.kinds)
    if scheme.cases and rng.random() < 0.6:
        facts.update(rng.choice(scheme.cases))
        names = rng.sample(names, min(len(names), rng.choice((0, 1, 1, 2, 2, 3, 4))))
    else:
        rng.shuffle(names)
    silent = rng.choice((0.0, 0.0, 0.1, 0.3))
    for name in names:
        if rng.random() < silent:
            facts[name] = SILENT
        elif name not in scheme.sure and rng.random() < ABSENT_SHARE:
            facts[name] = ABSENT
        else:
            facts[name] = _value(scheme, name, facts, rng)
    return facts


def exact(value: FactValue) -> FactValue:
    """A fact without its tolerance."""
    if not isinstance(value, Measured):
        return value
    return replace(value, tolerance=0.0, tool=None, evidence=())


def _value(scheme: Scheme, name: str, facts: Mapping[str, FactValue], rng: Random) -> FactValue:
    kind = scheme.kinds[name]
    if isinstance(kind, Flag):
        return rng.random() < 0.5
    if isinstance(kind, Word):
        return rng.choice(kind.words)
    if isinstance(kind, Words):
        found = _list(kind, rng, name in PERHAPS)
        if name in TOLD:
            found = tuple(w for w in found if w != "?")
        return found if found or name not in scheme.sure else (rng.choice(kind.words),)
    return _number(scheme, kind, facts, rng)


def _list(kind: Words, rng: Random, perhaps: bool) -> tuple[str, ...]:
    found = rng.choices(kind.words, k=rng.choice((0, 1, 1, 1, 2, 2, 3))) if kind.words else []
    if rng.random() < 0.08:
        found.append("?")
    if perhaps and found and rng.random() < 0.05:
        found[-1] = found[-1].removesuffix("?") + "?"
    return tuple(found)


def _number(scheme: Scheme, kind: Number, facts: Mapping[str, FactValue], rng: Random) -> FactValue:
    dimension = UNITS[kind.unit][0]
    others = [v for v in facts.values() if isinstance(v, Measured) and v.dimension is dimension]
    if others and rng.random() < 0.5 and dimension is not Dimension.TEMPERATURE:
        amount = in_unit(rng.choice(others).value, kind.unit)
        amount *= rng.choice((1.0, 1.0, *(n for n in scheme.numbers if n < 25)))
        amount += rng.choice((0.0, 0.0, *(n for n in scheme.numbers if n < 25)))
    else:
        amount = rng.choice(
            (
                *scheme.numbers,
                *scheme.numbers,
                *scheme.numbers,
                *(SIZES if kind.unit == "in" else ORDINARY),
            )
        )
        amount *= rng.choice((1.0, 1.0, 1.0, 1.0, 0.5, 2.0, 12.0))
    amount *= rng.choice(BESIDE)
    if kind.signed and rng.random() < 0.4:
        amount = -amount
    if kind.whole:
        amount = float(round(amount))
    return Measured(si(amount, kind.unit), dimension)
