"""The section of docs/validation.md on situations that somebody measured.

The cases and their computation are those of the tests (tests/measured). Figures are written
with three digits at most, so that the page is the same on every machine.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable

from tests.measured.runner import Case, Found, Input, cases, run

HEAD = """## Measured cases

Situations that somebody measured, beside what the draft engine computes for them. Most sources
were seen as an abstract or a page only, and none describes its vent in full: what it leaves out
is assumed with a range, and everything is computed over all of these ranges together. So both
sides are bands. *Inside*: all that was computed lies in the measured band. *Overlaps*: part of
it does, what was assumed decides. *Outside*: none of it does. Nothing was adjusted to come
closer; what is not inside is explained. No case here was measured on the vent of a job, and an
overlap with a wide band proves little: these cases show gross faults, they do not confirm a
margin of a pascal.

Basis of a figure: read (seen in the source's own text), abstract, secondary (in a page that
quotes it), practice (trade page), memory, derived (our arithmetic), assumed (ours)."""


def section() -> list[str]:
    """The lines of the section."""
    done = [(case, run(case)) for case in cases()]
    counts = Counter(one.verdict for _, found in done for one in found)
    said = ", ".join(f"{counts[word]} {word}" for word in ("inside", "overlaps", "outside"))
    lines = [HEAD, "", f"{len(done)} cases with {sum(counts.values())} figures: {said}, "
             f"{counts['not measured']} shown without a measurement.", ""]  # fmt: skip
    for case, found in done:
        lines += _case(case, found)
    return lines


def _case(case: Case, found: Iterable[Found]) -> list[str]:
    head = ("figure", "measured", "band and its basis", "computed, middle (low to high)", "verdict")
    rows = [_row(head), _row("---" for _ in head), *(_row(_cells(one)) for one in found)]
    why = [
        f"- {one.outcome.title}, {one.verdict}: {one.outcome.explanation}"
        for one in found
        if one.outcome.explanation
    ]
    return [
        f"### {case.title}",
        "",
        f"Measured: {case.measured}",
        "",
        f"Source: {case.source} ({case.known}).",
        "",
        f"Assumed: {case.assumed}",
        "",
        f"Put in: {'; '.join(_input(one) for one in case.inputs)}.",
        "",
        *rows,
        "",
        *([*why, ""] if why else []),
    ]


def _input(one: Input) -> str:
    span = f" ({one.low:g} to {one.high:g})" if one.varies else ""
    unit = "" if one.unit == "1" else one.unit
    note = f", {one.note}" if one.note else ""
    return f"{one.name} {one.value:g}{span} {unit}".rstrip() + f" [{one.known}{note}]"


def _cells(one: Found) -> tuple[str, ...]:
    out = one.outcome
    measured = "" if out.value is None else f"{figure(out.value)} {out.unit}".rstrip()
    word = one.verdict if one.verdict in ("inside", "not measured") else f"**{one.verdict}**"
    span = f"{figure(one.middle)} ({figure(one.low)} to {figure(one.high)}) {out.unit}".rstrip()
    band = f"{_band(out.low, out.high)}: {out.band} [{out.known}]".lstrip(": ")
    return (out.title, measured, band, span, word)


def _band(low: float, high: float) -> str:
    if math.isinf(low) and math.isinf(high):
        return ""
    if math.isinf(low):
        return f"below {figure(high)}"
    return f"above {figure(low)}" if math.isinf(high) else f"{figure(low)} to {figure(high)}"


def figure(value: float) -> str:
    """Three digits, without a power of ten."""
    if value == 0.0:
        return "0"
    digits = 2 - math.floor(math.log10(abs(value)))
    rounded = round(value, digits)
    text = f"{rounded:.{max(digits, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _row(fields: Iterable[str]) -> str:
    return "| " + " | ".join(field.replace("|", "/") for field in fields) + " |"
