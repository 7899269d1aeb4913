"""The few Markdown forms that the generated pages use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

MADE = "*Made by `make docs`. Do not edit.*"


def cell(value: object) -> str:
    """A value as one cell of a table."""
    return " ".join(str(value).split()).replace("|", "\\|")


def table(head: Iterable[object], rows: Iterable[Iterable[object]]) -> Iterator[str]:
    """A table, one line a row."""
    heads = [cell(h) for h in head]
    yield f"| {' | '.join(heads)} |"
    yield f"|{'---|' * len(heads)}"
    for row in rows:
        yield f"| {' | '.join(cell(c) for c in row)} |"
