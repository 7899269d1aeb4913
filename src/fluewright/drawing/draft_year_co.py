"""Hours of a weather file, and carbon monoxide from spilled gas, as figures."""

from __future__ import annotations

from fluewright.draft.alarm import AlarmWindow as Window
from fluewright.draft.exposure import Exposure, Series, Threshold
from fluewright.draft.spilled_co import SpilledCo
from fluewright.draft.venting_year import Bin, VentingYear
from fluewright.drawing.plot.data import (
    CO_CAUTION,
    AlarmWindow,
    Breath,
    ExposurePlot,
    HourBin,
    Level,
    ProbabilityBars,
    Size,
)
from fluewright.drawing.words import Style
from fluewright.errors import OutOfRange

ICE_K = 273.15
MOST_BREATHS = 160
YEAR_CAUTION = (
    "Computed from the survey, not measured. Few hours are no pass: one start that does not take "
    "over can be the one that harms."
)
# Short enough to stand at a line of the plot; the full words are in the answer of the command.
BLOOD_WORDS = {2.5: "not to be exceeded", 10.0: "headache may begin", 30.0: "confusion, fainting"}
ALARM_PPM = 70.0


def year_bars(
    found: VentingYear, place: str, style: Style, size: Size = "column"
) -> ProbabilityBars:
    """Hours a year in which it may spill, hot or for longer than a start may. [h/year]

    The bars show the bad end: wind against the cap, and hours that cannot be told.

    Args:
        found: the hours.
        place: where the weather was measured.
        style: units.
        size: of the figure.
    """
    worst = found.fails_to_start or found.spills
    total = max(worst.high, found.spills.high)
    minutes = f"{found.within_s / 60.0:.0f} min"
    what = "spills hot" if found.fails_to_start is None else f"spills over {minutes} from cold"
    return ProbabilityBars(
        title="Over a year of weather",
        answer=(
            f"In up to {total:,.0f} hours a year it {what} if the wind holds it back; in still air "
            f"in {worst.still:,.0f}."
        ),
        alarm=total > 0.0,
        notes=(
            f"{place}. From a typical year, not a design value: extremes and gusts are not in it.",
            _missing(found),
        ),
        caution=YEAR_CAUTION,
        chances=(),
        bins=tuple(
            HourBin(words=_words(one, style), hours=one.hours, spilled=_bad(one))
            for one in found.bins
        ),
        bin_title=f"Outdoors, {'°F' if style == 'us' else '°C'}, from",
        size=size,
    )  # fmt: skip


def _bad(one: Bin) -> float:
    high = one.spills.high
    return min(
        one.hours, high if one.fails_to_start is None else max(high, one.fails_to_start.high)
    )


def _missing(found: VentingYear) -> str:
    if not found.without:
        return "No hour lacks temperature or wind."
    return (
        f"{found.without:,} of {found.record:,} hours lack temperature or wind: where the "
        "temperature is known they are counted as spilling, else in no bar."
    )


def _words(one: Bin, style: Style) -> str:
    """Where a bin begins."""
    if one.from_k is None:
        return "below"
    celsius = one.from_k - ICE_K
    return f"{celsius * 1.8 + 32.0 if style == 'us' else celsius:.0f}".replace("-", "\u2212")


def exposure_figure(one: SpilledCo, size: Size = "column") -> ExposurePlot:
    """CO in the room and in the blood at the grave end of a scenario. [min, ppm, %]

    Args:
        one: the scenario.
        size: of the figure.
    Raises:
        OutOfRange: it has no figures, or nothing spills at either end: an empty plot would read
            as an all-clear.
    """
    if one.found is None:
        raise OutOfRange(f"exposure: {one.name} has no figures: {one.reason}")
    if not one.spills:
        raise OutOfRange(f"exposure: {one.name}: nothing spills, so there is nothing to draw.")
    grave, mild = one.found.high, one.found.low
    blood = max(grave.blood, key=lambda series: series.highest)
    return ExposurePlot(
        title=f"Carbon monoxide, {one.name}: the grave end",
        answer=_answer(grave, mild, blood),
        alarm=True,
        breaths=_breaths(grave, blood),
        window=_window(grave.alarm),
        room_levels=(Level(value=ALARM_PPM, words="an alarm must sound within 4 h"),),
        blood_levels=tuple(_level(line) for line in grave.blood_lines),
        notes=(
            f"Spills at either end: {one.what}. Grave end drawn, the flame burning up to 20 times "
            f"worse in its own gas; blood of an {blood.label}.",
        ),
        caution=CO_CAUTION,
        size=size,
    )


def _answer(grave: Exposure, mild: Exposure, blood: Series) -> str:
    room = grave.rooms[grave.breathed].highest
    least = mild.rooms[mild.breathed].highest
    reached = [
        one.at_s
        for one in grave.reached
        if one.person == blood.label and one.level.value == 10.0 and one.at_s is not None
    ]
    when = (
        f"headache may begin after {reached[0] / 60.0:.0f} min."
        if reached
        else "10 % in the blood is not reached in the time shown; longer or worse may reach it."
    )
    low = "under 1" if least < 1.0 else f"{float(f'{least:.2g}'):,.0f}"
    hours, high = grave.times_s[-1] / 3600.0, f"{float(f'{room:.2g}'):,.0f}"
    return f"In {hours:.0f} h the room comes to {low} to {high} ppm. At the grave end {when}"


def _breaths(one: Exposure, blood: Series) -> tuple[Breath, ...]:
    room = one.rooms[one.breathed].values
    many = sum(at <= _end(one, blood) for at in one.times_s)
    keep = sorted({*range(0, many, -(-many // MOST_BREATHS)), many - 1})
    return tuple(
        Breath(time=one.times_s[n] / 60.0, co_ppm=room[n], cohb_percent=blood.values[n])
        for n in keep
    )


def _end(one: Exposure, blood: Series) -> float:
    """Where the plot ends: an hour, or three times as long as the gravest level takes. [s]"""
    gravest = one.blood_lines[-1]
    at = next(
        reached.at_s
        for reached in one.reached
        if reached.person == blood.label and reached.level == gravest
    )
    return one.times_s[-1] if at is None else min(max(3600.0, 3.0 * at), one.times_s[-1])


def _window(alarm: Window) -> AlarmWindow:
    if alarm.may_s is None:
        return AlarmWindow(start=None)
    end = None if alarm.must_s is None else alarm.must_s / 60.0
    return AlarmWindow(start=alarm.may_s / 60.0, to=end)


def _level(line: Threshold) -> Level:
    return Level(value=line.value, words=BLOOD_WORDS.get(line.value, line.label))
