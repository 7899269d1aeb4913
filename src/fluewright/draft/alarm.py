"""When a household carbon monoxide alarm may sound, and when it must.

Windows of UL 2034, as several alarm manuals print them (read there; the standard itself not
seen). They are tested at constant concentrations alone; what is made of other histories here
stands with ``alarm_window``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from fluewright.draft.co_history import History

MINUTE_S, DAY_S = 60.0, 86_400.0
SOURCE = "UL 2034, alarm points as printed in alarm manuals (read)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """At this concentration no alarm before ``may_s``, and one by ``must_s`` (None: no duty)."""

    ppm: float
    may_s: float
    must_s: float | None


POINTS = (
    Point(ppm=30.0, may_s=30.0 * DAY_S, must_s=None),
    Point(ppm=70.0, may_s=60.0 * MINUTE_S, must_s=240.0 * MINUTE_S),
    Point(ppm=150.0, may_s=10.0 * MINUTE_S, must_s=50.0 * MINUTE_S),
    Point(ppm=400.0, may_s=4.0 * MINUTE_S, must_s=15.0 * MINUTE_S),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmWindow:
    """Earliest and latest moment of an alarm that keeps the windows; None: not in the history.

    Attributes:
        may_s: earliest moment at which it may sound. [s]
        must_s: latest moment by which it has to sound. [s]
        may_why, must_why: how that was found, or why there is none.
        source: of the windows.
    """

    may_s: float | None
    must_s: float | None
    may_why: str
    must_why: str
    source: str = SOURCE


def alarm_window(history: History) -> AlarmWindow:
    """When an alarm in this air may sound and when it must. [s]

    Source: ``POINTS``. Between the points, and while the concentration changes, both ends are
    taken to the outside, for an alarm that never sounds later in more CO:

    - must: the concentration has stood at 70, 150 or 400 ppm or above without a break for the
      whole time of that point. A dip below starts the count again, and 399 ppm counts as 150.
    - may: time counts at the rate of the next point above (120 ppm as 150), adds up and is
      not lost in dips; above 400 ppm nothing holds an alarm back.

    Valid: an alarm in this very air, with power, not past its life. A faulty one does neither.

    Args:
        history: concentration at the alarm. [ppm]
    Returns:
        Both moments, counted as the history counts, each with its reason.
    """
    musts = [(must, point) for point in POINTS if (must := _must(history, point)) is not None]
    may = _may(history)
    if musts:
        at, point = min(musts, key=lambda one: one[0])
        assert point.must_s is not None
        must_why = f"{point.ppm:g} ppm or more for {point.must_s / MINUTE_S:g} min without a break"
    else:
        must_why = (
            f"no alarm is demanded in this history: its highest is {max(history.ppm):.3g} ppm, and "
            "70 ppm or more never lasted as long as an alarm has time. That demands no alarm; it "
            "does not say that the air does no harm"
        )
    may_why = (
        "so early if it is as quick as the windows allow"
        if may is not None
        else "before the end of this history it has to keep silent"
    )
    return AlarmWindow(
        may_s=may,
        must_s=at if musts else None,
        may_why=may_why,
        must_why=must_why,
    )


def _must(history: History, point: Point) -> float | None:
    """When the concentration has stood at a point for the whole of its time."""
    if point.must_s is None:
        return None
    since: float | None = None
    for start, end, low in _parts(history):
        if low < point.ppm:
            since = None
            continue
        since = start if since is None else since
        if end - since >= point.must_s:
            return since + point.must_s
    return None


def _may(history: History) -> float | None:
    """When the shortest times of the points, added up as shares, come to one."""
    share = 0.0
    for start, end, low in _parts(history):
        needed = next((point.may_s for point in POINTS if low <= point.ppm), 0.0)
        if needed == 0.0:
            return start
        gain = (end - start) / needed
        if share + gain >= 1.0:
            return start + (1.0 - share) * needed
        share += gain
    return None


def _parts(history: History) -> Iterator[tuple[float, float, float]]:
    """Parts of the history between crossings of the points, with a concentration inside each.

    A part that lies on a point is given as that point; one between two points as its middle.
    """
    levels = [point.ppm for point in POINTS]
    for t0, t1, c0, c1 in history.intervals():
        cuts = [0.0, 1.0]
        if c0 != c1:
            cuts += [s for level in levels if 0.0 < (s := (level - c0) / (c1 - c0)) < 1.0]
        cuts.sort()
        for one, two in pairwise(cuts):
            middle = c0 + (c1 - c0) * (one + two) / 2.0
            yield t0 + (t1 - t0) * one, t0 + (t1 - t0) * two, middle
