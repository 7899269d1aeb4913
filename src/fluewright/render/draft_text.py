"""What the draft engine found, as text for a terminal: danger first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Protocol

from fluewright.draft.assess import Assessment
from fluewright.draft.assess_tree import TreeAssessment
from fluewright.draft.exposure import CAUTIONS as CO_CAUTIONS
from fluewright.draft.from_survey import Modelled
from fluewright.draft.from_survey_tree import ModelledTree
from fluewright.draft.spilled_co import SpilledCo
from fluewright.draft.venting_year import VentingYear
from fluewright.quantity import Style
from fluewright.render.plain import wrapped
from fluewright.report import draft_co_words as co_words
from fluewright.report import draft_weather_words as weather_words
from fluewright.report import draft_words as words
from fluewright.report import draft_words_tree as tree_words

if TYPE_CHECKING:
    from fluewright.ensemble.outcome import Outcome, Share


class InYear(Protocol):
    """The hours of a weather file: ``app.draft_weather.InYear``."""

    @property
    def weather(self) -> weather_words.Weather: ...  # noqa: D102
    @property
    def found(self) -> VentingYear: ...  # noqa: D102


class Drafted(Protocol):
    """What is shown of one appliance: ``app.draft.Drafted``."""

    @property
    def appliance(self) -> str: ...  # noqa: D102
    @property
    def modelled(self) -> Modelled | None: ...  # noqa: D102
    @property
    def assessment(self) -> Assessment | None: ...  # noqa: D102
    @property
    def outcome(self) -> Outcome | None: ...  # noqa: D102
    @property
    def year(self) -> InYear | None: ...  # noqa: D102
    @property
    def no_year(self) -> str: ...  # noqa: D102
    @property
    def co(self) -> tuple[SpilledCo, ...]: ...  # noqa: D102
    @property
    def no_co(self) -> str: ...  # noqa: D102
    @property
    def co_note(self) -> str: ...  # noqa: D102
    @property
    def reason(self) -> str: ...  # noqa: D102
    @property
    def signs(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def gaps(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def house(self) -> words.WorkedHouse | None: ...  # noqa: D102


class SharedDraft(Protocol):
    """What is shown of a vent that several share: ``app.draft_shared.SharedDraft``."""

    @property
    def common(self) -> str: ...  # noqa: D102
    @property
    def appliances(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def modelled(self) -> ModelledTree | None: ...  # noqa: D102
    @property
    def assessment(self) -> TreeAssessment | None: ...  # noqa: D102
    @property
    def reason(self) -> str: ...  # noqa: D102
    @property
    def gaps(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def signs(self) -> tuple[str, ...]: ...  # noqa: D102


def drafted_text(
    title: str,
    found: Sequence[Drafted],
    code: Sequence[str],
    style: Style = "us",
    shared: Sequence[SharedDraft] = (),
) -> str:
    """All appliances for reading, the code's answer beside them, cautions at the end.

    Args:
        title: of the job.
        found: one entry an appliance.
        code: what the code says of the size, one sentence an entry.
        style: units.
        shared: one entry a vent that several appliances share.
    """
    lines = [title, ""]
    for vent in shared:
        lines += [*_shared(vent, style), ""]
    for one in sorted(found, key=_gravity):
        lines += [*_one(one, style), ""]
    if not found and not shared:
        lines += ["No appliance that burns is described.", ""]
    lines += ["What the code says of the size", *_items(code), ""]
    for text in words.CAUTIONS:
        lines += wrapped(text)
    return "\n".join(lines) + "\n"


def _shared(vent: SharedDraft, style: Style) -> Iterator[str]:
    """A shared vent: danger first, then the answer, then the rest."""
    name = f"{', '.join(vent.appliances)} on {vent.common}"
    for text in vent.signs:
        yield from wrapped(text)
    found, model = vent.assessment, vent.modelled
    if found is None or model is None:
        yield from wrapped(f"{name}: no answer. {vent.reason}")
        yield from _items(vent.gaps)
        return
    for text in tree_words.danger(found):
        yield from wrapped(text)
    yield from wrapped(f"{name}: {tree_words.answer(found, style)}")
    yield ""
    yield from _block("Once hot", tuple(tree_words.hot(found, style)))
    yield from _block("From cold", tuple(tree_words.starts(found)))
    yield from _block("What moves the margin most", tuple(tree_words.matters(found)))
    yield from _block("Reckoned with", tuple(tree_words.reckoned_with(model, style)))


def _gravity(one: Drafted) -> tuple[int, str]:
    found = one.assessment
    if found is None:
        return (0 if one.signs else 2), one.appliance
    danger = words.danger(found)
    return (0 if words.SHUT_OFF in danger else 1 if danger else 3), one.appliance


def _one(one: Drafted, style: Style) -> Iterator[str]:
    found, model = one.assessment, one.modelled
    for text in one.signs:
        yield from wrapped(f"{one.appliance}: {text}")
    if found is None or model is None:
        yield from wrapped(f"{one.appliance}: no answer. {one.reason}")
        yield from wrapped(words.unanswered(one.signs))
        yield from _items(one.gaps)
        if model is not None:
            yield from _items(words.reckoned_with(model, style))
        return
    yield from wrapped(f"{one.appliance}: {words.answer(found, style)}")
    for text in words.danger(found):
        yield from wrapped(text)
    yield from _items(words.first(found.doubts))
    yield ""
    yield from _block("Once hot", words.hot(found, style))
    yield from _block("From cold", words.start(found, style))
    yield from _block("What alone would make it spill", words.alone(found, style))
    yield from _block("What moves the margin most", words.matters(found))
    if one.outcome is not None:
        doubt = (words.NOT_SAMPLED,) if found.doubts.any else ()
        yield from _block("How sure", (*doubt, *chances(one.outcome)))
    yield from _year(one, style)
    yield from _co(one)
    reckoned = tuple(words.reckoned_with(model, style))
    if one.house is not None:
        reckoned = (*words.house(one.house, style), *reckoned)
    yield from _block("Reckoned with", reckoned)


def _year(one: Drafted, style: Style) -> Iterator[str]:
    """The hours of a year, or why there are none."""
    if one.no_year:
        yield from _block("Over a year of weather", (f"no answer: {one.no_year}",))
    if one.year is None:
        return
    found = one.year.found
    yield from _block("Over a year of weather", weather_words.lines(found, one.year.weather, style))
    yield ""
    for text in weather_words.table(found, style):
        yield f"    {text}"
    yield ""


def _co(one: Drafted) -> Iterator[str]:
    """Carbon monoxide in the room, cautions first."""
    if one.no_co:
        yield from _block("Carbon monoxide in the room", (f"no answer: {one.no_co}",))
    if not one.co:
        return
    yield from _block("Carbon monoxide in the room: heed first", CO_CAUTIONS)
    for scenario in one.co:
        title = f"Carbon monoxide in the room, {scenario.name}"
        yield from _block(title, co_words.scenario(scenario))
    known = next((scenario.found for scenario in one.co if scenario.found is not None), None)
    if known is not None:
        yield from _block("That carbon monoxide rests on", (one.co_note, *co_words.rests_on(known)))


def chances(outcome: Outcome) -> Iterator[str]:
    """What the ensemble says, one line a question."""
    yield f"{outcome.samples} samples of all that is not known, weather and fans included:"
    yield f"it spills hot in {_share(outcome.spills)}"
    yield f"it does not take over within 5 min from cold in {_share(outcome.fails_to_start)}"
    yield f"walls stay wet hot in {_share(outcome.wet)}"
    if outcome.margin_pa is not None:
        low, high = outcome.margin_pa.p5, outcome.margin_pa.p95
        yield f"nine of ten margins lie between {low:.1f} and {high:.1f} Pa"
    top = ", ".join(one.name for one in outcome.influences[:3])
    yield f"what matters most: {top}"
    for reason, count in (*outcome.unsolved, *outcome.refused):
        yield f"{count} samples have no answer: {reason}"


def _share(one: Share) -> str:
    if one.share is None:
        return "a share that is not known"
    return (
        f"{100.0 * one.share:.1f} % of them "
        f"({100.0 * one.low:.1f} to {100.0 * one.high:.1f} %, chance alone)"
    )


def _block(title: str, texts: Sequence[str]) -> Iterator[str]:
    if not texts:
        return
    yield title
    yield from _items(texts)


def _items(texts: Sequence[str] | Iterator[str]) -> Iterator[str]:
    for text in texts:
        yield from wrapped(text, indent="    ", first="  - ")
