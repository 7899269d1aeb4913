"""An explanation as text for a terminal, and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from fluewright.explain.tree import (
    BASIS_WORDS,
    CAUTION,
    EditionPlace,
    Explanation,
    LimitRow,
    Table,
    capital,
    where,
)


def explain_text(found: Explanation, width: int = 80) -> str:
    """The explanation for a terminal, in lines no longer than the width where words allow."""
    lines = [
        *_wrapped(found.title, width),
        *_wrapped(f"Where it fails: {found.grade_word}. Rule {found.id}.", width),
    ]
    for caution in found.cautions[:-1]:
        lines += ["", *_wrapped(caution, width)]
    for head, text in (
        ("What it asks", found.asks),
        ("Why it matters", found.why),
        ("How to recognize and measure it", found.recognize),
        ("Where it is not asked", found.not_asked),
    ):
        if text:
            lines += ["", head, *_wrapped(text, width, "  ")]
    lines += ["", *_wrapped(f"What to record, for {found.subject}", width)]
    for item in found.record:
        lines += _item(f"{item.label}: {item.how}", width)
    lines += [*_limit_lines(found, width), "", "Where it is written"]
    for place in found.places:
        lines += _item(f"{place.title}: {place_text(place)}", width)
    if found.leans_on:
        lines += ["", "It uses the outcome of"]
        for rule, title in found.leans_on:
            lines += _item(f"{title} ({rule})", width)
    lines += ["", "What to do", *_wrapped(found.remedy, width, "  "), ""]
    return "\n".join([*lines, *_wrapped(CAUTION, width)]) + "\n"


def place_text(place: EditionPlace) -> str:
    """Citations of one edition in one line, each with its basis; or why there is none."""
    if place.absent:
        return f"not asked: {place.absent}"
    return "; ".join(
        f"{where(cite)}{f' [{cite.base}]' if cite.base else ''} ({BASIS_WORDS[cite.basis]})"
        for cite in place.cites
    )


def _limit_lines(found: Explanation, width: int) -> Iterator[str]:
    if not found.limits:
        return
    yield from ("", "Limits")
    for row in found.limits:
        yield from _wrapped(capital(row.words), width, "  ")
        wide = max((len(entry.edition) for entry in row.entries), default=0)
        for entry in row.entries:
            basis = f" ({entry.basis})" if entry.basis else ""
            text = f"{entry.edition:<{wide}}  {entry.text}; {entry.place}{basis}"
            yield from textwrap.wrap(
                text, width, initial_indent="    ", subsequent_indent=" " * (wide + 6)
            )
    for table in found.tables:
        yield ""
        yield from _wrapped(f"{capital(table.limit)}: {', '.join(table.editions)}", width, "  ")
        yield from _table_lines(table, width)


def _table_lines(table: Table, width: int) -> Iterator[str]:
    """Aligned columns; where they do not fit, a paragraph a row."""
    wide = [max(len(cell) for cell in column) for column in zip(*table.rows, strict=True)]
    head, *body = table.rows
    if 4 + sum(wide) + 2 * (len(wide) - 1) <= width:
        for row in table.rows:
            cells = (f"{cell:<{w}}" for cell, w in zip(row, wide, strict=True))
            yield ("    " + "  ".join(cells)).rstrip()
    else:
        for row in body:
            pairs = zip(head[1:], row[1:], strict=True)
            text = "; ".join(f"{column}: {cell}" for column, cell in pairs)
            yield from textwrap.wrap(
                f"{row[0]} - {text}", width, initial_indent="    ", subsequent_indent="      "
            )
    if table.beyond:
        yield from _wrapped(capital(table.beyond) + ".", width, "    ")


def _wrapped(text: str, width: int, indent: str = "") -> list[str]:
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent)


def _item(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent="  - ", subsequent_indent="    ")


def explain_json(found: Explanation) -> dict[str, object]:
    """The explanation as plain data."""
    return {
        "rule": found.id,
        "title": found.title,
        "grade": found.grade.value,
        "grade_word": found.grade_word,
        "subject": found.subject,
        "asks": found.asks,
        "why": found.why,
        "recognize": found.recognize,
        "not_asked": found.not_asked,
        "record": [{"fact": r.fact, "label": r.label, "how": r.how} for r in found.record],
        "limits": [_limit_json(row) for row in found.limits],
        "tables": [_table_json(table) for table in found.tables],
        "editions": [_place_json(place) for place in found.places],
        "leans_on": [rule for rule, _ in found.leans_on],
        "remedy": found.remedy,
        "cautions": list(found.cautions),
    }


def _table_json(table: Table) -> dict[str, object]:
    return {
        "limit": table.limit,
        "editions": list(table.editions),
        "rows": [list(row) for row in table.rows],
        "beyond": table.beyond,
    }


def _limit_json(row: LimitRow) -> dict[str, object]:
    return {
        "limit": row.key,
        "words": row.words,
        "editions": [
            {
                "edition": entry.edition,
                "text": entry.text,
                "value": entry.value,
                "unit": entry.unit,
                "at": entry.place,
                "basis": entry.basis,
            }
            for entry in row.entries
        ],
    }


def _place_json(place: EditionPlace) -> dict[str, object]:
    return {
        "id": place.id,
        "title": place.title,
        "absent": place.absent,
        "cites": [
            {
                "document": cite.document,
                "edition": cite.edition,
                "at": cite.at,
                "basis": cite.basis.value,
                "base": cite.base,
            }
            for cite in place.cites
        ],
    }
