"""What a rule is: one requirement, for which thing it is asked, and the words it answers in."""

from __future__ import annotations

from fluewright.facts import Scope
from fluewright.finding import Grade
from fluewright.frozen import frozen
from fluewright.quantity import Dimension
from fluewright.rules.logic import (
    AllOf,
    Always,
    AnyOf,
    Cond,
    KeyedNum,
    LimitNum,
    StepNum,
    Word,
    walk,
)

LimitSpec = tuple[str, Dimension, Dimension | None]


@frozen
class Rule:
    """One requirement.

    ``applies`` is when it is asked at all, ``needs`` what it asks. ``fails`` and ``meets`` are
    sentences; ``{name}`` is the thing judged, and where a number decides, ``{measured}``,
    ``{limit}``, ``{bound}`` (the limit with its side) and ``{gap}`` (how far beyond or within) are
    filled in.
    """

    id: str
    title: str
    grade: Grade
    per: Scope
    needs: Cond
    fails: str
    meets: str
    remedy: str
    applies: Cond = Always()
    not_asked: str = ""  # sentence where it does not apply

    @property
    def is_manifold(self) -> bool:
        """Whether it asks several things at once, so that a failure must say which."""
        return isinstance(self.needs, AllOf | AnyOf)

    def limits(self) -> dict[str, LimitSpec]:
        """Limits that an edition must state for this rule: key to (kind, value, argument)."""
        found: dict[str, LimitSpec] = {}
        for part in (self.applies, self.needs):
            for node in walk(part):
                if isinstance(node, LimitNum):
                    found[node.key] = ("number", node.dimension, None)
                elif isinstance(node, StepNum):
                    found[node.key] = ("steps", node.dimension, node.by_dimension)
                elif isinstance(node, KeyedNum):
                    found[node.key] = ("keyed", node.dimension, None)
                elif isinstance(node, Word):
                    found[node.key] = ("word", Dimension.COUNT, None)
                extra = getattr(node, "limits", None)
                if callable(extra):
                    found.update(extra())
        return found

    def facts(self) -> tuple[str, ...]:
        """Names of the facts this rule may look up, in order, each once."""
        names: dict[str, None] = {}
        for part in (self.applies, self.needs):
            for node in walk(part):
                for attribute in ("name", "row", "column"):
                    value = getattr(node, attribute, None)
                    if isinstance(value, str) and not value.startswith("="):
                        names[value] = None
                for name in getattr(node, "uses", ()):
                    names[name] = None
        return tuple(names)


def registry(*groups: tuple[Rule, ...]) -> dict[str, Rule]:
    """All rules by id.

    Raises:
        ValueError: an id stands twice.
    """
    found: dict[str, Rule] = {}
    for group in groups:
        for rule in group:
            if rule.id in found:
                raise ValueError(f"rule {rule.id} stands twice")
            found[rule.id] = rule
    return found
