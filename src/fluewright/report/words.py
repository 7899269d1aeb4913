"""Small sentences of the report: numbers, places in the text, names of what was looked at."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from fluewright.finding import Comparison, Limit, Sense
from fluewright.quantity import Measured, Style, show, show_difference
from fluewright.source import Basis, Citation, Step
from fluewright.survey import Survey

_METRIC_NAMES = (
    "mm, cm, m, mm/m, cm/m, mm2, cm2, m2, m3, L, W, kW, Pa, kPa, degC, K, L/s, m3/h, m3/s, kg/m3, "
    "W/(m K), m2 K/W"
)
_METRIC = frozenset(_METRIC_NAMES.split(", "))
_UNIT = {"degF": "°F", "degC": "°C", "deg": "°", "count": "", "in/ft": "in per ft"}
_POWER = re.compile(r"(?<=\b(?:in|ft|mm|cm))[23]\b|(?<=\bm)[23]\b")
_SUPERSCRIPT = {"2": "²", "3": "³"}


def decimal_text(number: float, unit: str) -> str:
    """A number that already stands in its unit, in decimals."""
    name = _POWER.sub(lambda found: _SUPERSCRIPT[found[0]], _UNIT.get(unit, unit))
    text = f"{number:,.0f}" if abs(number) >= 1e4 else f"{number:.5g}"
    return minus(f"{text}{'' if name == '°' else ' '}{name}".rstrip())


def minus(text: str) -> str:
    """The text with a true minus sign before its number."""
    return f"−{text[1:]}" if text.startswith("-") else text


def style_of(limit: Limit) -> Style:
    """Whether a limit is printed in metric units."""
    return "metric" if limit.unit in _METRIC else "us"


def reading_parts(comparison: Comparison) -> tuple[str, str]:
    """The reading, and its bound with ±, in the style of its limit; '' where it has none."""
    measured, style = comparison.measured, style_of(comparison.limit)
    value = minus(show(measured.value, measured.dimension, style))
    return value, _bound_text(measured, style)


def _bound_text(measured: Measured, style: Style) -> str:
    if not measured.tolerance:
        return ""
    return f"± {show_difference(measured.tolerance, measured.dimension, style, up=True)}"


def reading_text(comparison: Comparison) -> str:
    """``15 in ± 1/4 in``."""
    return " ".join(part for part in reading_parts(comparison) if part)


def limit_text(comparison: Comparison) -> str:
    """``at least 24 in``."""
    limit = comparison.limit
    side = "at least" if limit.sense is Sense.AT_LEAST else "at most"
    return f"{side} {minus(show(limit.value, comparison.dimension, style_of(limit)))}"


def margin_parts(comparison: Comparison) -> tuple[str, str]:
    """``9 in short``, and its bound with ±; '' where it has none."""
    margin, style = comparison.margin, style_of(comparison.limit)
    if margin.value >= 0:
        word = "to spare"
    else:
        word = "short" if comparison.limit.sense is Sense.AT_LEAST else "over"
    value = f"{show_difference(abs(margin.value), margin.dimension, style)} {word}"
    return value, _bound_text(margin, style)


def margin_text(comparison: Comparison) -> str:
    """``9 in short (± 1/4 in)``, ``2 in to spare``."""
    value, bound = margin_parts(comparison)
    return f"{value} ({bound})" if bound else value


def step_text(step: Step) -> tuple[str, str]:
    """What was done, and its number; the number is '' where the step has none."""
    return step.what, "" if step.value is None else decimal_text(step.value, step.unit)


_BASIS = {
    Basis.MEMORY: "from memory: verify with the adopted text",
    Basis.PRACTICE: "common practice, no code text",
    Basis.LISTING: "the listing or its mark decides",
    Basis.INSTRUCTIONS: "the maker's instructions decide",
    Basis.MODEL: "computed by this program, no code text",
}


def cite_text(cite: Citation) -> str:
    """Where it is written, and how well that is known."""
    place = " ".join(part for part in (cite.document, cite.edition, cite.at) if part)
    if cite.base:
        place += f" [{cite.base}]"
    basis = _BASIS.get(cite.basis, "")
    if not place:
        return basis
    if cite.basis is Basis.PRACTICE and place.lower().startswith("common practice"):
        basis = "no code text"
    return f"{place} ({basis})" if basis else place


_DIGITS = re.compile(r"(\d+)")


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key that puts 802.6 before 802.10."""
    parts = _DIGITS.split(text)
    return tuple((1, int(part), "") if part.isdigit() else (0, 0, part) for part in parts)


def subject_names(survey: Survey) -> dict[str, str]:
    """For each piece, appliance and common vent, its id with what it is."""
    names = {
        key: f"{key} ({appliance.kind})" if appliance.kind else key
        for key, appliance in survey.appliances.items()
    }
    for piece in survey.every_piece():
        kind = " ".join(part for part in (piece.role, piece.part) if part)
        names[piece.id] = f"{piece.id} ({piece.part if piece.role is None else kind})"
    names |= {name: common_name(name) for name in survey.common}
    return names


def common_name(name: str) -> str:
    """What sentences call a common vent."""
    return f"the common vent {name.replace('_', ' ')}"


def named(names: Mapping[str, str], subjects: str) -> str:
    """Subjects in a row, as they are named; a common vent always as one."""
    parts = subjects.split(", ")
    spoken = (names.get(part, part) for part in parts)
    common = common_name("")
    return ", ".join(
        said if said.startswith(common) else part for part, said in zip(parts, spoken, strict=True)
    )


def spoken_names(survey: Survey) -> dict[str, str]:
    """What sentences call the appliances and common vents, where there are several appliances."""
    if len(survey.appliances) < 2 and not survey.common:
        return {}
    names = {name: name.replace("_", " ") for name in survey.appliances}
    return names | {name: common_name(name) for name in survey.common}


def count_text(number: int, one: str, many: str = "") -> str:
    """``1 requirement``, ``3 requirements``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def joined(parts: Sequence[str]) -> str:
    """``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def shorten(text: str, most: int) -> str:
    """The text on one line, cut at a word with an ellipsis where it is longer than allowed."""
    flat = " ".join(text.split())
    if len(flat) <= most:
        return flat
    head = flat[: most - 1]
    at_word = head.rsplit(" ", 1)[0]
    return (at_word if len(at_word) > most // 2 else head).rstrip(" ,;:") + "…"
