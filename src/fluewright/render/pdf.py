"""The report as a PDF: PDF/A-2a and PDF/UA-1 at once, the same bytes for the same report."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterable, Mapping
from contextlib import ExitStack
from dataclasses import dataclass, field, fields, is_dataclass
from datetime import UTC, datetime
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any, Literal

import typst

from fluewright.render.fonts import common_glyphs
from fluewright.render.photo import published
from fluewright.render.pictures import (
    Pictures,
    RenderError,
    checked_svg,
    is_photo,
    shape_of,
    size_mm,
)
from fluewright.render.text import printable
from fluewright.report.inputs import CAP_CHART, DRAFT
from fluewright.report.tree import Column, Figure, Report, Table

Paper = Literal["letter", "a4"]
_PAPER = {"letter": ("us-letter", 215.9, 279.4), "a4": ("a4", 210.0, 297.0)}  # name, size in mm
_MARGINS_MM = (41.0, 74.0)  # what the template leaves free beside a picture, and above and below
_SAME_MM = 0.6
_PHOTO_MM = (82.0, 90.0)
_CHART_MM = 80.0
_PX_MM = 25.4 / 110.0  # a small photo is not blown up
_STANDARDS: list[typst.PDFStandard] = ["a-2a", "ua-1"]
_NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)  # a report without a date has the same bytes too

# What the compiler's own serif holds of the letters ours has not: Greek, Cyrillic.
_SERIF = frozenset([*range(0x391, 0x3A2), *range(0x3A3, 0x3CA), *range(0x410, 0x450)])


def render_pdf(report: Report, pictures: Pictures, *, paper: Paper = "letter") -> bytes:
    """The report as a tagged PDF that meets PDF/A-2a and PDF/UA-1.

    Args:
        report: what to set.
        pictures: what its figures show; a photo that cannot be read is named in its place.
        paper: sheet size.

    Raises:
        RenderError: a drawing is no SVG of ours, the date is no date, or the typesetter refuses.
    """
    if paper not in _PAPER:
        raise RenderError(f'"{paper}" is no sheet size. Write letter or a4.')
    stamp = _stamp(report.made_on)
    with ExitStack() as stack:
        root = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="fluewright-")))
        sheet = _Sheet(root, pictures, paper)
        data = sheet.plain(report)
        data["paper"] = _PAPER[paper][0]
        (root / "data.json").write_text(json.dumps(data), encoding="utf-8")
        template = files("fluewright.render") / "report.typ"
        (root / "report.typ").write_bytes(template.read_bytes())
        fonts = stack.enter_context(as_file(files("fluewright") / "data" / "fonts"))
        return _compiled(root, fonts, stamp)


def _compiled(root: Path, fonts: Path, stamp: datetime) -> bytes:
    try:
        made = typst.compile(
            root / "report.typ",
            root=root,
            font_paths=[fonts],
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards=_STANDARDS,
            timestamp=stamp,
        )
    except typst.TypstError as error:
        hints = " ".join(error.hints)
        raise RenderError(f"the report could not be set as PDF: {error.message} {hints}") from error
    if not isinstance(made, bytes):
        raise RenderError("the report could not be set as PDF: the typesetter gave no document.")
    return made


def _stamp(made_on: str | None) -> datetime:
    if made_on is None:
        return _NO_DATE
    try:
        read = datetime.fromisoformat(made_on)
    except ValueError:
        raise RenderError(
            f'the date of the report, "{made_on}", is no date. Write one such as 2026-11-25.'
        ) from None
    return read if read.tzinfo else read.replace(tzinfo=UTC)


@dataclass(slots=True)
class _Sheet:
    """Turns the tree into plain data for the template, and lays its pictures beside it."""

    root: Path
    pictures: Pictures
    paper: Paper
    glyphs: frozenset[int] = field(default_factory=lambda: common_glyphs() | _SERIF)
    laid: int = 0

    def text(self, text: str) -> str:
        """The text with what the fonts lack made visible."""
        return printable(text, self.glyphs)

    def plain(self, node: object) -> Any:
        """The node as lists, dicts, text and numbers."""
        if isinstance(node, Figure):
            return self.figure(node)
        if is_dataclass(node):
            found = {f.name: self.plain(getattr(node, f.name)) for f in fields(node)}
            found["kind"] = type(node).__name__
            if isinstance(node, Table):
                found["widths"] = _widths(node)
            return found
        if isinstance(node, tuple):
            return list(_photos_together(self.plain(one) for one in node))
        return self.text(node) if isinstance(node, str) else node

    def figure(self, figure: Figure) -> dict[str, Any]:
        """The figure with the file and the size of its picture, or with why there is none."""
        data: dict[str, Any] = {
            "kind": "Figure",
            "caption": self.text(figure.caption),
            "alt": self.text(figure.alt),
            "photo": is_photo(figure.picture),
            "file": None,
            "note": "",
            "full": False,
        }
        laid = self.photo(figure) if data["photo"] else self.drawing(figure)
        return data | (laid or {"missing": "The picture could not be read; it is not shown."})

    def photo(self, figure: Figure) -> dict[str, Any] | None:
        """The photo as a file beside the template, with its size in mm."""
        data = self.pictures.photo(figure.picture)
        made = published(data) if data is not None else None
        if made is None:
            return None
        jpeg, width, height = made
        size = _within(width * _PX_MM, height * _PX_MM, *_PHOTO_MM, grow=False)
        return self.lay(jpeg, "jpg", size)

    def drawing(self, figure: Figure) -> dict[str, Any] | None:
        """The drawing as a file beside the template, with its size in mm.

        One made for this sheet has a sheet to itself, so that its scale holds under a ruler.
        """
        svg = self.pictures.svg(figure.picture)
        if not svg:
            return None
        plain = self.text(svg)
        root = checked_svg(plain, figure.picture)
        _, wide, high = _PAPER[self.paper]
        wanted = size_mm(root)
        if wanted and abs(wanted[0] - wide) < _SAME_MM and abs(wanted[1] - high) < _SAME_MM:
            return self.lay(plain.encode(), "svg", (wide, high)) | {"full": True}
        room = (wide - _MARGINS_MM[0], high - _MARGINS_MM[1])
        if figure.picture.startswith(CAP_CHART):
            room = (room[0], _CHART_MM)
        plot = figure.picture.startswith(DRAFT)  # not to scale, and set in the size of the text
        size = _within(*(wanted or shape_of(root, figure.picture)), *room, grow=not plot)
        if plot:
            return self.lay(plain.encode(), "svg", size)
        return self.lay(plain.encode(), "svg", size) | {"note": _scale_note(size, wanted)}

    def lay(self, data: bytes, ending: str, size: tuple[float, float]) -> dict[str, Any]:
        """A new file with these bytes: its name and the size to show it in."""
        self.laid += 1
        name = f"picture-{self.laid}.{ending}"
        (self.root / name).write_bytes(data)
        return {"file": name, "width": size[0], "height": size[1]}


def _scale_note(size: tuple[float, float], wanted: tuple[float, float] | None) -> str:
    """What has to be said of a drawing that is not printed in its own size."""
    if wanted is None or abs(size[0] / wanted[0] - 1.0) < 0.005:
        return ""
    share = round(100.0 * size[0] / wanted[0])
    return f"Printed at {share} % of its size: measure by a scale drawn in it, not by a ruler."


def _within(
    width: float, height: float, most_wide: float, most_high: float, *, grow: bool
) -> tuple[float, float]:
    """The size scaled into the room there is."""
    scale = min(most_wide / width, most_high / height)
    scale = scale if grow else min(scale, 1.0)
    return round(width * scale, 2), round(height * scale, 2)


def _photos_together(nodes: Iterable[Any]) -> Iterable[Any]:
    """Photos that follow one another become one block, so that they stand side by side."""
    run: list[Mapping[str, Any]] = []
    for node in nodes:
        if isinstance(node, dict) and node.get("photo"):
            run.append(node)
            continue
        if run:
            yield {"kind": "Photos", "items": run}
            run = []
        yield node
    if run:
        yield {"kind": "Photos", "items": run}


def _widths(table: Table) -> list[float]:
    """Relative widths of the columns, from the text that stands in them."""
    return [_width(place, column, table) for place, column in enumerate(table.columns)]


def _width(place: int, column: Column, table: Table) -> float:
    cells = [row[place] for row in table.rows]
    if column.numeric:
        parts = [len(part) for cell in cells for part in cell.text.replace("(", "").split("±")]
        return float(min(max(*parts, len(column.title), 10), 20)) + 2
    sizes = [len(cell.text) + len(cell.word) + 6 * bool(cell.word) for cell in cells]
    longest = max(sizes, default=0)
    if longest < 4:
        return 0
    return float(min(max(longest, len(column.title), 10), 40))
