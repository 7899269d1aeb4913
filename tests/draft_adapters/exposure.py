"""Carbon monoxide in the blood, and when alarms may and must sound."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fluewright.capacity import KBTU_H_W
from fluewright.draft.alarm import alarm_window
from fluewright.draft.carboxyhemoglobin import (
    HEAVY_WORK,
    LIGHT_WORK,
    LYING_STILL,
    RESTING,
    cohb,
)
from fluewright.draft.co_history import History, constant
from fluewright.draft.co_release import co_release

MG_M3_PPM = 1 / 1.145  # at 25 degC, as the page printed that lists the WHO figures in both
PEOPLE = {
    "rest": RESTING,
    "light work": LIGHT_WORK,
    "heavy work": HEAVY_WORK,
    "lying still": LYING_STILL,
}


def cohb_after(given: Mapping[str, Any]) -> float:
    """Carboxyhemoglobin after breathing one concentration for a while. [%]"""
    ppm = given["ppm"] if "ppm" in given else given["mg_m3"] * MG_M3_PPM
    return cohb(constant(ppm, given["minutes"] * 60.0), PEOPLE[given["person"]])[-1]


def cohb_stays_below(given: Mapping[str, Any]) -> str:
    """Whether carboxyhemoglobin keeps to a bound, in words."""
    return "not above" if cohb_after(given) <= given["bound_percent"] else "above"


def cohb_rise_each(given: Mapping[str, Any]) -> float:
    """Mean rise from one exposure to the next of a row with pauses in clean air. [%]"""
    times, ppm = [0.0], [0.0]
    for _ in range(given["times"]):
        start = times[-1]
        on, off = given["minutes"] * 60.0, given["pause_minutes"] * 60.0
        times += [start, start + on, start + on, start + on + off]
        ppm += [given["ppm"], given["ppm"], 0.0, 0.0]
    percent = cohb(History(times_s=tuple(times), ppm=tuple(ppm)), PEOPLE[given["person"]])
    return (percent[-2] - percent[0]) / given["times"]


def alarm_minutes(given: Mapping[str, Any]) -> float | str:
    """When an alarm may or must sound at one concentration. [min]"""
    window = alarm_window(constant(given["ppm"], given["minutes"] * 60.0))
    at = window.may_s if given["bound"] == "may" else window.must_s
    return "silent" if at is None else at / 60.0


def release_m3_h(given: Mapping[str, Any]) -> float:
    """Carbon monoxide given off when all gas spills. [m3/h at 0 degC]"""
    flow = co_release(
        given["air_free_ppm"],
        given["dry_m3_mj"] * 1e-6,
        given["input_kbtu_h"] * KBTU_H_W,
        multiplier=given["multiplier"],
    )
    return flow * 3600.0


ADAPTERS = {
    "co_release": release_m3_h,
    "cohb_after": cohb_after,
    "cohb_stays_below": cohb_stays_below,
    "cohb_rise_each": cohb_rise_each,
    "alarm_minutes": alarm_minutes,
}
