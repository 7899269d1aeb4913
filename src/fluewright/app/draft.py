"""``draft``: what the engine says of every appliance of a job, beside what the code says."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from fluewright.app.draft_asked import Asked, conditions
from fluewright.app.draft_co import co_asked
from fluewright.app.draft_house import Worked, worked_out
from fluewright.app.draft_shared import shared_vents
from fluewright.app.draft_weather import InYear, Weather, cap_wind, in_year
from fluewright.draft import warm_kernel
from fluewright.draft.assess import GRACE_S, Assessment, assess
from fluewright.draft.from_survey import Modelled, from_survey
from fluewright.draft.spilled_co import SpilledCo, spilled_co
from fluewright.draft.warmup import Arithmetic, Start
from fluewright.errors import CannotModel, FluewrightError, NotSolved, OutOfRange
from fluewright.files.physics import coefficients, default_fuels
from fluewright.finding import Judgement, Verdict
from fluewright.quantity import Style
from fluewright.report import draft_words
from fluewright.survey import Survey

if TYPE_CHECKING:
    from fluewright.ensemble.outcome import Outcome

Progress = Callable[[int, int], None]
NEEDS_FAST = (
    "an ensemble needs NumPy, which is not here. Install the extra: pip install 'fluewright[fast]'."
)
NO_PATH = (
    "No way of its gas is described: where nothing is connected, all of it stays in the room. "
    "Describe its connector and vent (paths)."
)
START_SAMPLES = 400  # a start from cold is followed for so many samples of an ensemble


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """An ensemble: how many samples, from which seed, and the file that keeps it.

    Attributes:
        samples, seed: as they say.
        keep: a JSON file that holds the chunks, so that a run that was stopped goes on.
        progress: is told how many samples of how many are done.
    """

    samples: int
    seed: int = 1
    keep: str | None = None
    progress: Progress | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafted:
    """What the engine says of one appliance.

    Attributes:
        appliance: its id in the survey.
        modelled: the system and its inputs; None where the survey does not suffice.
        assessment: the answer; None where there is none.
        outcome: of the ensemble, where one was asked for.
        year: the hours of a weather file, where one was asked for; no_year: why there are none.
        co: carbon monoxide in its room, where it was asked for; no_co: what to measure first;
            co_note: what else has to be said of the room.
        reason: why there is no answer.
        gaps: what to measure or describe for one.
        signs: of spillage in the past, that the survey tells.
        house: how the house pressure was worked out, where its tightness was given.
    """

    appliance: str
    modelled: Modelled | None = None
    assessment: Assessment | None = None
    outcome: Outcome | None = None
    year: InYear | None = None
    no_year: str = ""
    co: tuple[SpilledCo, ...] = ()
    no_co: str = ""
    co_note: str = ""
    reason: str = ""
    gaps: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    house: Worked | None = None

    @property
    def fails(self) -> bool:
        """Whether there is no answer, or one that no one may leave as it is."""
        return self.assessment is None or self.assessment.fails


def draft_job(
    survey: Survey,
    asked: Asked | None = None,
    appliance: str | None = None,
    spread: Spread | None = None,
    weather: Weather | None = None,
    style: Style = "us",
) -> tuple[Drafted, ...]:
    """What the engine says of each appliance that has a vent to itself, in the survey's order.

    Appliances that share a vent are for ``shared_job``.

    Args:
        survey: what was seen.
        asked: weather and house; the default is 60 degF outdoors, a house at rest, no wind.
        appliance: one alone.
        spread: an ensemble beside the one answer.
        weather: a year of hours; an ensemble draws its weather from them.
        style: units of the bins of outdoor temperature.
    Returns:
        One entry for each appliance.
    Raises:
        BadQuantity: weather or house that cannot be read.
        OutOfRange: no such appliance, or figures that no vent can have.
    """
    asked = asked or Asked()
    names = appliances(survey)
    if appliance is not None and appliance not in names:
        known = ", ".join(names) or "none"
        raise OutOfRange(f"no appliance {appliance!r} that burns. There are: {known}.")
    together = {name for ids in shared_vents(survey).values() for name in ids}
    return tuple(
        _drafted(survey, asked, name, spread, weather, style)
        for name in names
        if name not in together and (appliance is None or name == appliance)
    )


def appliances(survey: Survey) -> tuple[str, ...]:
    """The appliances that were not taken out: those with a path, then those without any."""
    burning = [name for name, one in survey.appliances.items() if one.taken_out is not True]
    led = [path.from_ for path in survey.paths if path.from_ in burning]
    return tuple(dict.fromkeys((*led, *burning)))


def _drafted(
    survey: Survey,
    asked: Asked,
    name: str,
    spread: Spread | None,
    weather: Weather | None,
    style: Style,
) -> Drafted:
    signs = draft_words.signs(survey, name)
    if not any(path.from_ == name for path in survey.paths):
        return Drafted(appliance=name, reason=NO_PATH, signs=signs)
    try:
        model, house, asked = _in_house(survey, asked, name)
    except CannotModel as error:
        return Drafted(appliance=name, reason=str(error), gaps=error.gaps, signs=signs)
    try:
        found = assess(model, start_of())
    except NotSolved as error:
        return Drafted(appliance=name, modelled=model, reason=str(error), signs=signs)
    way = _arithmetic(spread)
    drafted = Drafted(appliance=name, modelled=model, assessment=found, signs=signs, house=house)
    if spread is not None:
        drafted = replace(drafted, outcome=ensemble(survey, asked, name, spread, weather))
    if weather is not None:
        try:
            year = in_year(model, weather, start_of(GRACE_S), style, way)
            drafted = replace(drafted, year=year)
        except (NotSolved, OutOfRange) as error:
            drafted = replace(drafted, no_year=str(error))
    if asked.co is not None:
        gas = co_asked(asked, survey, name)
        if isinstance(gas, str):
            return replace(drafted, no_co=gas)
        co = spilled_co(_modelled(survey, asked, name, usual=True), gas, start_of(), way)
        drafted = replace(drafted, co=co, co_note=gas.note)
    return drafted


def _in_house(survey: Survey, asked: Asked, name: str) -> tuple[Modelled, Worked | None, Asked]:
    """The model, in a house whose pressure is worked out where its tightness is given.

    The question comes back with that pressure in it, so that all that follows takes it.
    """
    model = _modelled(survey, asked, name)
    if asked.tightness is None:
        return model, None, asked
    house = worked_out(model, asked.tightness)
    span = (house.low_pa, house.likely_pa, house.high_pa)
    asked = replace(asked, tightness=None, worked_pa=span)
    return _modelled(survey, asked, name), house, asked


def _modelled(survey: Survey, asked: Asked, name: str, usual: bool = False) -> Modelled:
    """The model; with ``usual`` in usual ranges of weather and house where nobody says."""
    return from_survey(
        survey,
        coefficients(),
        default_fuels(),
        conditions=conditions(asked, survey, usual=usual),
        appliance=name,
    )


def _arithmetic(spread: Spread | None) -> Arithmetic:
    """Compiled where an ensemble loads that anyway; else loading takes longer than it saves."""
    if spread is None:
        return warm_kernel
    try:
        from fluewright.ensemble.warm import COMPILED
    except ImportError:
        return warm_kernel
    return COMPILED


# What the code says of the size of a vent, to stand beside what the engine says.
SIZE_RULES = ("sizing", "capacity", "size", "flow_area", "height_minimum")


def size_findings(judgements: Iterable[Judgement]) -> tuple[str, ...]:
    """The code's answers on size, in words, for the side of the engine's.

    Args:
        judgements: of the same survey.
    Returns:
        One sentence a finding that fails or cannot be told, and one for those that meet.
    """
    found: list[str] = []
    for judgement in judgements:
        title = judgement.edition.title
        about = [f for f in judgement.findings if any(w in f.rule for w in SIZE_RULES)]
        meets = [f for f in about if f.verdict is Verdict.MEETS]
        open_ = [f for f in about if f.verdict in (Verdict.FAILS, Verdict.CANNOT_TELL)]
        found += [f"{title}: {f.subject}: {f.sentence}" for f in open_]
        if meets:
            found.append(f"{title}: {len(meets)} requirements on size are met.")
        if not meets and not open_:
            found.append(f"{title}: no requirement on size applies.")
    return tuple(found)


def start_of(burn_s: float = 1200.0) -> Start:
    """A start from cold, as the coefficients have it."""
    table = coefficients()
    return Start(
        burn_s=burn_s,
        cold_share=table.value("start.share_missing"),
        warm_s=table.value("start.time"),
    )


def ensemble(
    survey: Survey, asked: Asked, name: str, spread: Spread, weather: Weather | None = None
) -> Outcome:
    """Draws every input within its range, weather and house too, and sums up.

    Args:
        survey: what was seen.
        asked: weather and house; where nobody says, a usual range is drawn.
        name: the appliance.
        spread: how many samples.
        weather: hours that outdoor temperature and wind are drawn from.
    Raises:
        FluewrightError: NumPy is not here, or the file that keeps it belongs to another run.
    """
    try:
        from fluewright.ensemble.from_hours import in_hours
        from fluewright.ensemble.run import Chunk, Model, Plan, chunks, summed_up
        from fluewright.ensemble.warm import takes_over
    except ImportError as error:
        raise FluewrightError(f"--spread: {NEEDS_FAST} ({error})") from None
    usual = _modelled(survey, asked, name, usual=True)
    model: Model = usual
    if weather is not None:
        hours = in_hours(usual, weather.year.hours, cap_wind(usual, weather))
        model, name = hours, f"{name}, weather {hours.mark}"
    whole = Plan(samples=spread.samples, seed=spread.seed)
    few = Plan(samples=min(spread.samples, START_SAMPLES), seed=spread.seed, chunk=50,
               starts=takes_over(start_of(GRACE_S)))  # fmt: skip
    goal = whole.samples + few.samples
    told = []
    for plan, key, before in ((whole, name, 0), (few, f"{name}, starts", whole.samples)):
        done = [Chunk(**one) for one in _kept(spread.keep, key)]
        for one in chunks(model, plan, done):
            done.append(one)
            _keep(spread.keep, key, [each.plain() for each in done])
            if spread.progress is not None:
                spread.progress(before + sum(each.last - each.first for each in done), goal)
        told.append(summed_up(model, plan, done))
    return replace(told[0], fails_to_start=told[1].fails_to_start)


def _kept(file: str | None, name: str) -> list[dict[str, Any]]:
    """The chunks of an appliance that a file holds."""
    if file is None or not os.path.exists(file):
        return []
    try:
        with open(file, encoding="utf-8") as text:
            data = json.load(text)
        return list(data["ensembles"].get(name, ()))
    except (ValueError, KeyError, TypeError, AttributeError):
        raise FluewrightError(
            f"{file}: not a file that keeps an ensemble. Name another with --keep."
        ) from None


def _keep(file: str | None, name: str, found: Iterable[dict[str, Any]]) -> None:
    """Writes the chunks of an appliance beside those of others; a stop never leaves half a file."""
    if file is None:
        return
    whole: dict[str, Any] = {"ensembles": {}}
    if os.path.exists(file):
        with open(file, encoding="utf-8") as text:
            whole = json.load(text)
    whole["ensembles"][name] = list(found)
    beside = f"{file}.part"
    with open(beside, "w", encoding="utf-8") as text:
        json.dump(whole, text)
    os.replace(beside, file)
