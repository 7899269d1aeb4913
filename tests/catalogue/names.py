"""Where each fact of the catalogue stands among the facts of the product.

A fact of the same name (a unit at the end left off) needs no row. ``NAMES`` holds the others,
``OF_RULE`` those that a single rule reads elsewhere, ``NOT_SURVEYED`` those that no survey here
records: they are unknown, and a rule that rests on one can only ask.
"""

from __future__ import annotations

from functools import cache

from tests.catalogue import (
    air,
    names_chimney,
    names_common,
    names_other,
    names_path,
    names_setting,
    sized,
)
from tests.catalogue.judge import fact_kinds
from tests.catalogue.reading import UNITS, Kind, Read, fixed, flag, num, word, words
from tests.catalogue.values import UNKNOWN

from fluewright.facts import FACTS

SUFFIXES = (
    "_in_per_ft", "_rise_in_12", "_lb_ft3", "_in2", "_ft3", "_btuh", "_in", "_ft", "_f", "_deg",
    "_cfm", "_ppm", "_s", "_pct",
)  # fmt: skip
NAMES: dict[str, Read] = {
    **names_path.NAMES,
    **names_other.NAMES,
    **names_common.NAMES,
    **air.NAMES,
    **names_chimney.NAMES,
    **names_setting.NAMES,
}
OF_RULE: dict[tuple[str, str], Read] = {
    **names_path.OF_RULE,
    **names_common.OF_RULE,
    **names_chimney.OF_RULE,
}
NOT_SURVEYED: dict[str, str] = {**names_path.NOT_SURVEYED}
# Facts that only the product names; a rule that asks them has them in its check too.
KINDS: dict[str, Kind] = {**names_path.KINDS}
# Facts of which no survey says "none".
NEVER_ABSENT: frozenset[str] = (
    frozenset(names_path.NEVER_ABSENT) | sized.SURE | names_setting.NEVER_ABSENT
)
SIZED = names_common.SIZED


class NoName(LookupError):
    """A fact of the catalogue that has no counterpart yet."""


@cache
def read_of(rule: str, name: str) -> Read:
    """How a rule reads a fact of the catalogue.

    Raises:
        NoName: nothing says how.
    """
    if (rule, name) in OF_RULE:
        return OF_RULE[rule, name]
    if name in NAMES:
        return NAMES[name]
    if name in NOT_SURVEYED:
        return fixed(UNKNOWN)
    found = _same_name(name)
    if found is None:
        raise NoName(name)
    return found


def _same_name(name: str) -> Read | None:
    """A fact of the same name."""
    bare = name.partition("[")[0]
    kind = fact_kinds()[bare]
    ours = _stripped(name.replace("[", "_").replace("]", ""))
    if ours is None:
        return None
    if kind == "yes or no":
        return flag(ours)
    if isinstance(kind, str) and kind in UNITS:
        return num(ours, kind)
    if isinstance(kind, dict) and "fields" in kind:
        return num(ours, kind["fields"])
    if isinstance(kind, dict) and "word" in kind:
        return word(ours, tuple(w for w in kind["word"] if w != "none"))
    if isinstance(kind, dict) and "list" in kind:
        return words(ours, tuple(w for w in kind["list"] if w != "none"))
    return None


def _stripped(name: str) -> str | None:
    if name in FACTS:
        return name
    for suffix in SUFFIXES:
        if name.endswith(suffix) and name.removesuffix(suffix) in FACTS:
            return name.removesuffix(suffix)
    return None
