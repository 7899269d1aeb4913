"""What carbon monoxide from spilled gas comes to, as sentences: cautions first, no reassurance."""

from __future__ import annotations

from collections.abc import Iterator

from fluewright.draft.exposure import Exposure, ExposureRange, Reached
from fluewright.draft.spilled_co import SpilledCo

NOT_FAR = "not in the time computed"
NOTHING = (
    "nothing spills at either end of weather, house and inputs: that comes from the figures taken, "
    "not from a test. Go by what spills all of it, and by what is seen and measured"
)


def minutes(seconds: float | None) -> str:
    """A time since the first start; hours from two of them on."""
    if seconds is None:
        return NOT_FAR
    if seconds < 60.0:
        return "under 1 min"
    return f"{seconds / 60.0:.0f} min" if seconds < 7200.0 else f"{seconds / 3600.0:.1f} h"


def ppm(value: float) -> str:
    """A concentration to two figures or so: it is known no better."""
    return f"{float(f'{value:.2g}'):,.0f} ppm" if value >= 1.0 else "under 1 ppm"


def scenario(one: SpilledCo) -> tuple[str, ...]:
    """What is reached when, the grave end first."""
    if one.found is None:
        return (f"no figures: {one.reason}",)
    low, high = one.found.low, one.found.high
    if not one.spills:
        return (NOTHING,)
    return (
        f"spills: {one.what}",
        f"room CO: highest {ppm(_highest(high))} at the grave end, {ppm(_highest(low))} at the "
        "mild end",
        *_alarm(one.found),
        *_blood(one.found),
    )


def _highest(one: Exposure) -> float:
    return one.rooms[one.breathed].highest


def _alarm(found: ExposureRange) -> Iterator[str]:
    grave, mild = found.high.alarm, found.low.alarm
    yield f"an alarm in that air may sound {_ends(grave.may_s, mild.may_s, 'after')}"
    yield (
        f"it has to sound {_ends(grave.must_s, mild.must_s, 'by')}; below 70 ppm it never has to"
    )


def _ends(grave: float | None, mild: float | None, word: str) -> str:
    """One moment at either end."""
    if grave is None:
        return f"{NOT_FAR} at either end"
    soft = NOT_FAR if mild is None else f"{word} {minutes(mild)}"
    return f"{word} {minutes(grave)} at the grave end, {soft} at the mild end"


def _blood(found: ExposureRange) -> Iterator[str]:
    for bad, good in zip(found.high.reached, found.low.reached, strict=True):
        yield _when(bad, good)


def _when(bad: Reached, good: Reached) -> str:
    words = f"{bad.level.value:g} % of the blood of an {bad.person} ({bad.level.label})"
    if bad.at_s is None:
        return f"{words}: {NOT_FAR}; longer or worse spillage may reach it"
    return f"{words}: {_ends(bad.at_s, good.at_s, 'after')}"


def rests_on(found: ExposureRange) -> tuple[str, ...]:
    """Inputs of both ends, what is the same said once."""
    low, high = found.low.assumptions, found.high.assumptions
    said = [f"grave end: {text}" for text in high if text not in low]
    said += [f"mild end: {text}" for text in low if text not in high]
    return (*said, *(text for text in high if text in low))
