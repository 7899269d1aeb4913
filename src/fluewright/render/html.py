"""The report as one HTML file that needs nothing else: no script, no address, no other file."""

from __future__ import annotations

import base64
import html
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from importlib.resources import files
from itertools import groupby
from typing import Any

from fluewright.frozen import frozen
from fluewright.render.fonts import FAMILY, font_file
from fluewright.render.html_marks import HATCH, bar, mark
from fluewright.render.photo import published
from fluewright.render.pictures import Pictures, RenderError, checked_svg, is_photo, shape_of
from fluewright.render.text import visible
from fluewright.report.inputs import NARROW
from fluewright.report.tree import (
    Block,
    Cell,
    Column,
    Facts,
    Figure,
    FindingBlock,
    Listing,
    Mark,
    MarkedLines,
    Notice,
    Numbers,
    Paragraph,
    Report,
    Section,
    StepLine,
    StepLines,
    Table,
    Tone,
    Working,
)

_FRACTION = re.compile(r"(?<![\d/])\d{1,2}/(?:2|4|8|16|32|64)(?![\d/])")
_ID_REFERENCE = re.compile(r"url\(\s*['\"]?#([^)'\"]+)['\"]?\s*\)")
_FONT_FACE = re.compile(r"@font-face\s*\{[^{}]*\}")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_NOTICE_MARK = {Tone.STOP: Mark.STOP, Tone.HAZARD: Mark.HAZARD, Tone.OPEN: Mark.NOT_KNOWN}


def render_html(report: Report, pictures: Pictures) -> str:
    """The report as the text of one HTML file.

    Args:
        report: what to set.
        pictures: what its figures show; a photo that cannot be read is named in its place.
    Raises:
        RenderError: a drawing is no SVG of ours.
    """
    show = _Page(pictures)
    sections = "\n".join(show.section(section, 2) for section in report.sections)
    contents = "".join(
        f'<li><a href="#{escape(s.anchor)}">{escape(s.title)}</a></li>' for s in report.sections
    )
    return f"""<!DOCTYPE html>
<html lang="{escape(report.language)}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="{escape(report.author)}">
<title>{escape(report.title)}</title>
<style>
{_style()}</style>
</head>
<body>
<a class="skip" href="#main">To the report</a>
{HATCH}
<header>
<h1>{text(report.title)}</h1>
<p class="subtitle">{text(report.subtitle)}</p>
</header>
<main id="main">
{show.blocks(report.opening, 1)}
<nav aria-label="Contents"><ul>{contents}</ul></nav>
{sections}
</main>
<footer><p class="small">{text(report.running)}</p></footer>
</body>
</html>
"""


def escape(plain: str) -> str:
    """The text as it may stand anywhere in HTML, attribute values included."""
    return html.escape(visible(plain))


def text(plain: str) -> str:
    """The text for an element's content, fractions of an inch set as a tape shows them."""
    return _FRACTION.sub(lambda found: f'<span class="fr">{found[0]}</span>', escape(plain))


def _style() -> str:
    faces = []
    for face, weight in (("Regular", 400), ("Bold", 700)):
        data = base64.b64encode(font_file(face, "woff2").read_bytes()).decode()
        faces.append(
            f'@font-face {{ font-family: "{FAMILY}"; font-weight: {weight}; '
            f'src: url("data:font/woff2;base64,{data}") format("woff2"); }}\n'
        )
    css = (files("fluewright.render") / "report.css").read_text(encoding="utf-8")
    return "".join(faces) + css


def _paragraph(node: Paragraph) -> str:
    kind = {Tone.LEAD: "lead", Tone.SMALL: "small"}.get(node.tone, "")
    return f'<p class="{f"inset {kind}".strip()}">{text(node.text)}</p>'


def _notice(node: Notice) -> str:
    shape = _NOTICE_MARK.get(node.tone)
    lines = "".join(f"<p>{text(line)}</p>" for line in node.lines)
    return (
        f'<div class="notice {node.tone}" role="note" aria-label="{escape(node.title)}">'
        f'<p class="head">{mark(shape) if shape else ""}{text(node.title)}</p>{lines}</div>'
    )


def _listing(node: Listing) -> str:
    tag = "ol" if node.ordered else "ul"
    items = "".join(f"<li>{text(item)}</li>" for item in node.items)
    return f'<div class="inset"><{tag}>{items}</{tag}></div>'


def _tag(shape: Mark, word: str, number: int) -> str:
    shown = f"<b>{number}</b>" if number else ""
    return (
        f'<div class="tag">{mark(shape)}{shown}<span class="word {shape}">{text(word)}</span></div>'
    )


def _marked_lines(node: MarkedLines) -> str:
    items = []
    for line in node.items:
        note = f'<br><span class="note">{text(line.note)}</span>' if line.note else ""
        tag = _tag(line.mark, line.word, line.number)
        items.append(f'<li class="row">{tag}<div>{text(line.text)}{note}</div></li>')
    return f'<ul class="lines">{"".join(items)}</ul>'


def _step(place: int, step: StepLine) -> str:
    lines = [f"<b>{text(step.title)}</b>"]
    lines += [text(step.how)] if step.how else []
    lines += [f"With: {text(step.tool)}"] if step.tool else []
    lines += [f'<span class="note">{text(step.why)}</span>'] if step.why else []
    if step.settles:
        lines.append(f'<span class="note">Helps to settle: {text(step.settles)}</span>')
    word = "Ask" if step.ask else "Measure"
    tag = f'<div class="tag"><b>{place}</b><span class="word not_known">{word}</span></div>'
    return f'<li class="row">{tag}<div>{"<br>".join(lines)}</div></li>'


def _steps(node: StepLines) -> str:
    items = "".join(_step(place, step) for place, step in enumerate(node.items, start=1))
    return f'<ol class="lines">{items}</ol>'


def _facts(node: Facts) -> str:
    pairs = "".join(f"<dt>{text(name)}</dt><dd>{text(value)}</dd>" for name, value in node.pairs)
    return f'<dl class="facts">{pairs}</dl>'


def _working(node: Working) -> str:
    if not any(value for _, value in node.steps):
        return _listing(Listing(tuple(what for what, _ in node.steps)))
    columns = (Column("Step"), Column("Result", numeric=True))
    rows = tuple((Cell(what), Cell(value)) for what, value in node.steps)
    return _rows(columns, rows, "inset")


def _table(node: Table) -> str:
    return _rows(node.columns, node.rows, "", node.caption)


def _rows(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], kind: str, caption: str = ""
) -> str:
    """A table. Its roles are spelled out because a narrow page stacks the cells."""
    heads = "".join(
        f'<th scope="col" role="columnheader">{text(column.title)}</th>' for column in columns
    )
    body = "".join(f'<tr role="row">{"".join(map(_cell, row, columns))}</tr>' for row in rows)
    title = f"<caption>{text(caption)}</caption>" if caption else ""
    return (
        f'<table role="table" class="{kind}">{title}'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{body}</tbody></table>'
    )


def _cell(cell: Cell, column: Column) -> str:
    word = f'<span class="word {cell.mark}">{text(cell.word)}</span>'
    short = len(cell.text) < 4  # the number of the mark, which stands before its word
    keep = "keep" if (short if cell.mark else column.numeric and len(cell.text) < 26) else ""
    if cell.mark is None:
        inner = text(cell.text)
    elif short:
        inner = f"{mark(cell.mark)}<b>{text(cell.text)}</b> {word}"
    else:
        inner = f"{mark(cell.mark)}{word}<br>{text(cell.text)}"
    kind = keep if inner else "none"
    head = escape(column.title)
    return f'<td role="cell" class="{kind}" data-head="{head}"><div>{inner}</div></td>'


def _numbers(node: Numbers) -> str:
    parts = (
        ("Measured", node.measured, node.measured_off),
        ("Limit", node.limit, ""),
        ("Margin", node.margin, node.margin_off),
    )
    pairs = "".join(
        f"<dl><dt>{name}</dt><dd>{text(value)}{_bound(off)}</dd></dl>" for name, value, off in parts
    )
    return f'<div class="numbers">{bar(node.bar)}{pairs}</div>'


def _bound(bound: str) -> str:
    return f" <small>{text(bound)}</small>" if bound else ""


def _finding(node: FindingBlock, level: int) -> str:
    cites = "; ".join(node.cites)
    head = (
        f'<h{level}>{text(node.title)}</h{level}> <span class="small">{text(node.subject)}</span>'
    )
    parts = [f"<div>{head}</div>"]
    if node.cites_lead:
        parts.append(f"<p><b>{text(cites)}</b></p>")
    parts.append(f'<p class="sentence">{text(node.sentence)}</p>')
    if node.numbers is not None:
        parts.append(_numbers(node.numbers))
    for place, remedy in enumerate(node.remedies):
        label = "Or" if place else "What to do"
        parts.append(f'<p><span class="label">{label}</span>{text(remedy)}</p>')
    for step in node.next_steps:
        parts.append(f'<p><span class="label">To settle it</span>{text(step)}</p>')
    last = ["" if node.cites_lead else cites, f"rule {node.rule}" if node.rule else "", node.photos]
    small = " · ".join(part for part in last if part)
    if small:
        parts.append(f'<p class="small">{text(small)}</p>')
    tag = _tag(node.mark, node.word, node.number)
    working = _working(node.working) if node.working else ""
    return (
        f'<article class="finding" id="{escape(node.anchor)}"><div class="row">{tag}'
        f"<div>{''.join(parts)}</div></div>{working}</article>"
    )


_SIMPLE: dict[type, Callable[[Any], str]] = {
    Paragraph: _paragraph,
    Notice: _notice,
    Listing: _listing,
    MarkedLines: _marked_lines,
    StepLines: _steps,
    Facts: _facts,
    Table: _table,
    Working: _working,
}


@frozen
class _Page:
    """Sets blocks that need the pictures or the level of their heading."""

    pictures: Pictures

    def section(self, node: Section, level: int) -> str:
        """A section with its heading, one level below that of the section around it."""
        inner = "\n".join(self.section(part, level + 1) for part in node.sections)
        name, page = escape(node.anchor), ' class="new-page"' if node.new_page else ""
        return (
            f'<section id="{name}" aria-labelledby="{name}-head"{page}>\n'
            f'<h{level} id="{name}-head">{text(node.title)}</h{level}>\n'
            f"{self.blocks(node.blocks, level)}\n{inner}</section>"
        )

    def blocks(self, nodes: Sequence[Block], level: int) -> str:
        """The blocks in order; photos that follow one another stand side by side."""
        return "\n".join(self._blocks(nodes, level))

    def _blocks(self, nodes: Sequence[Block], level: int) -> Iterator[str]:
        for photos, run in groupby(nodes, _photo):
            if photos:
                yield f'<div class="photos">{"".join(self._one(node, level) for node in run)}</div>'
            else:
                yield from (self._one(node, level) for node in run)

    def _one(self, node: Block, level: int) -> str:
        if isinstance(node, Figure):
            return self._figure(node)
        if isinstance(node, FindingBlock):
            return _finding(node, level + 1)
        return _SIMPLE[type(node)](node)

    def _figure(self, node: Figure) -> str:
        made = self._photo(node) if is_photo(node.picture) else self._drawing(node)
        if not made:
            made = "<p>The picture could not be read; it is not shown.</p>"
        return f"<figure>{made}<figcaption>{text(node.caption)}</figcaption></figure>"

    def _photo(self, node: Figure) -> str:
        data = self.pictures.photo(node.picture)
        made = published(data) if data is not None else None
        if made is None:
            return ""
        jpeg, width, height = made
        source = f"data:image/jpeg;base64,{base64.b64encode(jpeg).decode()}"
        return f'<img src="{source}" width="{width}" height="{height}" alt="{escape(node.alt)}">'

    def _drawing(self, node: Figure) -> str:
        svg = self.pictures.svg(node.picture)
        if not svg:
            return ""
        narrow = self.pictures.svg(node.picture + NARROW)
        if not narrow:
            return _framed(svg, node, "")
        phone = replace(node, picture=node.picture + NARROW)
        return _framed(svg, node, " wide") + _framed(narrow, phone, " narrow")


def _framed(svg: str, node: Figure, kind: str) -> str:
    name = f"{_ident(node.picture)}-drawing"
    return f'<div class="drawing{kind}" id="{name}">{_inline(svg, node)}</div>'


def _photo(node: Block) -> bool:
    return isinstance(node, Figure) and is_photo(node.picture)


def _ident(picture: str) -> str:
    """The name of a picture as an id of the page: letters, digits and hyphens alone."""
    kind, _, name = picture.partition(":")
    plain = (c if c.isascii() and c.isalnum() else f"-{ord(c):x}-" for c in name)
    return f"{kind.replace('_', '-')}-{''.join(plain)}"


def _inline(svg: str, node: Figure) -> str:
    """The drawing as part of the page, its names kept apart from those of the page."""
    root = checked_svg(svg, node.picture)
    width, height = shape_of(root, node.picture)
    ident = _ident(node.picture)
    apart = partial(_apart, prefix=f"{ident}-")
    for element in root.iter():
        element.tag = element.tag.rpartition("}")[2]
        element.attrib = {
            key.rpartition("}")[2]: apart(key, value) for key, value in element.items()
        }
        if element.tag == "style":
            element.text = _scoped(element.text or "", f"#{ident}-drawing", node.picture)
    for key in ("width", "height", "aria-labelledby", "aria-describedby"):
        root.attrib.pop(key, None)
    root.set("viewBox", root.get("viewBox", f"0 0 {width:g} {height:g}"))
    root.set("role", "img")
    root.set("aria-label", visible(node.alt))
    return ET.tostring(root, encoding="unicode", short_empty_elements=False)


def _apart(key: str, value: str, *, prefix: str) -> str:
    """An attribute value with the drawing's own names prefixed."""
    if key == "id":
        return prefix + value
    if key.rpartition("}")[2] == "href":
        return f"#{prefix}{value[1:]}"
    return _ID_REFERENCE.sub(lambda found: f"url(#{prefix}{found[1]})", value)


def _scoped(css: str, scope: str, name: str) -> str:
    """The drawing's style rules, kept to the drawing; the page brings the face itself."""
    plain = _FONT_FACE.sub("", css)
    rules = _RULE.findall(plain)
    if _RULE.sub("", plain).strip() or "@" in plain:
        raise RenderError(f"drawing {name}: its style sheet holds more than plain rules.")
    return "".join(
        f"{', '.join(f'{scope} {part.strip()}' for part in selectors.split(','))} {{{body}}}"
        for selectors, body in rules
    )
