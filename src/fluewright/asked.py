"""The context of one thing judged: its facts, each looked up once, and the edition's limits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import cast

from fluewright.capacity import CapacityTable
from fluewright.edition import Edition, LimitValue
from fluewright.facts import FACTS, OF_ONE_THING, FactValue, Unknown, View
from fluewright.finding import CLOSE, MeasureNext
from fluewright.frozen import frozen
from fluewright.quantity import Measured, Style
from fluewright.rules import RULES, Rule
from fluewright.rules.logic import Outcome, Truth
from fluewright.rules.outcome import NO, UNKNOWN, YES, Context, Given, Result
from fluewright.source import Step
from fluewright.tool import Tool, half_width
from fluewright.words import gap


@frozen
class Library:
    """What judging needs besides the survey: tools with their tolerances, capacity tables."""

    tools: Mapping[str, Tool]
    tables: Mapping[str, CapacityTable]


NOT_ASKED = Outcome(NO)


@dataclass(slots=True)
class Asked:
    """The context of one thing judged: looks each fact up once."""

    subject: str
    view: View
    edition: Edition
    library: Library
    name: str = ""  # what sentences call the thing; the subject where empty
    style: Style = "us"
    known: dict[str, FactValue] = field(default_factory=dict)
    of_path: dict[str, FactValue] = field(default_factory=dict)  # shared along one path
    given: Mapping[str, FactValue] | None = None  # facts stated outright, for cases
    outcomes: dict[str, tuple[Truth, Outcome]] = field(default_factory=dict)
    worked: dict[object, tuple[object, object]] = field(default_factory=dict)

    @property
    def tables(self) -> Mapping[str, CapacityTable]:
        """Capacity tables by id."""
        return self.library.tables

    def fact(self, name: str) -> FactValue:
        """Value of a fact for this thing."""
        if self.given is not None:
            return self.given.get(name, Unknown("not recorded in the case"))
        held = self.known if name in OF_ONE_THING else self.of_path
        value = held.get(name)
        if value is None:  # which no fact is
            value = held[name] = FACTS[name].get(self.view)
        return value

    def label(self, name: str) -> str:
        """What people call a fact."""
        found = FACTS.get(name)
        return found.label if found else name

    def ask_for(self, name: str, why: str) -> MeasureNext:
        """What to do to learn a fact."""
        found = FACTS.get(name)
        if found is None:
            return MeasureNext(name, name, self.subject, "", why)
        return MeasureNext(name, found.label, self.subject, found.how, why)

    def sharpen(self, name: str, reading_: Measured, margin: Measured) -> MeasureNext:
        """Which better reading of a fact would settle a margin inside its tolerance."""
        found = FACTS.get(name)
        label = found.label if found else name
        how = found.how if found else "measure again"
        spare = abs(margin.value)
        side = "to spare" if margin.value >= 0 else "short"
        why = f"{gap(margin, self.style)} {side}, inside the measuring tolerance"
        if spare <= CLOSE:
            how = "it sits on the line: no tool settles it; build it clear of the limit"
            return MeasureNext(name, label, self.subject, how, why)
        own = self.fact(name) if found else None
        if not isinstance(own, Measured) or own.dimension is not margin.dimension:
            # A pitch that decides a height, a diameter an area: the margin is no bound for it.
            return MeasureNext(name, label, self.subject, f"{how}, more closely", why)
        others = max(0.0, margin.tolerance - reading_.tolerance)
        tool = self._tool_for(reading_, spare - others)
        return MeasureNext(
            name, label, self.subject, f"{how}, to within {gap(margin, self.style)}", why, tool
        )

    def _tool_for(self, reading_: Measured, needed: float) -> str:
        """The coarsest tool that is good enough, by title; empty where none is known.

        A tool that the survey already names goes before one that must be fetched.
        """
        own = set(self.view.survey.tools.values()) if self.given is None else set()
        good = [
            (tool.id in own, half_width(tool, reading_.value), tool.title)
            for tool in self.library.tools.values()
            if tool.measures == reading_.dimension.value
            and not tool.id.startswith("unstated")
            and 0.0 < half_width(tool, reading_.value) <= needed
        ]
        return max(good)[2] if good else ""

    def limit(self, key: str) -> LimitValue:
        """Limit of the edition."""
        return self.edition.limits[key]

    def once(self, work: Callable[[Context, Given], Result], given: Given) -> Result:
        """What a work on a fact of this thing gives; done once, however many rules ask."""
        held = self.worked.get(work)
        if held is None or held[0] is not given:
            held = self.worked[work] = given, work(self, given)
        return cast("Result", held[1])

    def outcome_of(self, rule: str, not_asked: Truth) -> Outcome:
        """Outcome of another requirement for this thing, as one line and without its numbers."""
        gate, outcome = self.judged(RULES[rule])
        if gate is NO:
            return Outcome(not_asked, steps=(Step(f"{RULES[rule].title}: not asked"),))
        told = {YES: "so", NO: "not so", UNKNOWN: "not known"}[outcome.truth]
        step = Step(f"{RULES[rule].title}: {told}")
        return Outcome(outcome.truth, missing=outcome.missing, steps=(step,))

    def judged(self, rule: Rule) -> tuple[Truth, Outcome]:
        """Whether a requirement is asked of this thing, and its outcome; worked out once."""
        known = self.outcomes.get(rule.id)
        if known is None:
            gate = rule.applies.holds(self)
            part = rule.needs if gate is YES else rule.applies
            outcome = part.judge(self) if gate is not NO else NOT_ASKED
            known = self.outcomes[rule.id] = gate, outcome
        return known
