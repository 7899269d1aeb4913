"""A scene as one SVG file: millimetres, real text, the face embedded."""

from __future__ import annotations

import base64
from functools import cache
from html import escape
from importlib.resources import files

from fluewright.drawing.scene import Arc, Circle, Ink, Line, Plain, Point, Polygon, Scene, Text

FAMILY = "Fluewright Sans"
# Accents keep apart in grey and for the color-blind; all reach 4.5 : 1 on the paper.
COLORS = {
    Ink.INK: "#1a1a1a",
    Ink.GREY: "#6b6b6b",
    Ink.LIGHT: "#e9e6df",
    Ink.PAPER: "#ffffff",
    Ink.ALARM: "#c5341b",
    Ink.MEASURED: "#1d4e9a",
    Ink.UNKNOWN: "#8a5a00",
}
_FACES = (
    ("Regular", "400", "normal"),
    ("Bold", "700", "normal"),
    ("Italic", "400", "italic"),
)


def to_svg(scene: Scene, *, embed_fonts: bool = True) -> str:
    """The sheet as SVG text; the same scene gives the same bytes.

    Args:
        scene: the sheet.
        embed_fonts: put the face into the file, so that it looks the same everywhere; without
            it the file is small and falls back on the reader's sans serif.
    """
    width, height = _n(scene.width_mm), _n(scene.height_mm)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="sheet-title sheet-desc" '
        'xml:lang="en">',
        f'<title id="sheet-title">{escape(scene.title)}</title>',
        f'<desc id="sheet-desc">{escape(scene.description)}</desc>',
        f"<style>{_style(scene, embed_fonts)}</style>",
        f'<rect width="{width}" height="{height}" fill="{COLORS[Ink.PAPER]}"/>',
    ]
    layer = ""
    for item in scene.plain():
        if item.layer != layer:
            if layer:
                lines.append("</g>")
            layer = item.layer
            lines.append(f'<g class="{escape(layer)}">')
        lines.append(_element(item, scene.height_mm))
    if layer:
        lines.append("</g>")
    lines.append("</svg>")
    return "\n".join(lines) + "\n"


def _style(scene: Scene, embed: bool) -> str:
    used = {item.face for item in scene.plain() if isinstance(item, Text)}
    rules = [_font_face(*face) for face in _FACES if embed and face[0].lower() in used]
    rules.append(
        f'text{{font-family:"{FAMILY}","Helvetica","Arial",sans-serif;font-kerning:none;'
        "white-space:pre}"
        "line,polyline,polygon,circle,path{stroke-linecap:butt;stroke-linejoin:round}"
    )
    return "".join(rules)


@cache
def _font_face(name: str, weight: str, style: str) -> str:
    file = files("fluewright") / "data" / "fonts" / f"FluewrightSans-{name}.woff2"
    data = base64.b64encode(file.read_bytes()).decode("ascii")
    return (
        f'@font-face{{font-family:"{FAMILY}";font-weight:{weight};font-style:{style};'
        f'src:url(data:font/woff2;base64,{data}) format("woff2")}}'
    )


def _n(value: float) -> str:
    """A number with at most three decimals, none for nothing."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _points(points: tuple[Point, ...], height: float) -> str:
    return " ".join(f"{_n(x)},{_n(height - y)}" for x, y in points)


def _paint(item: Line | Polygon | Circle | Arc) -> str:
    fill = item.fill if isinstance(item, Polygon | Circle) else None
    words = [f'fill="{COLORS[fill] if fill else "none"}"']
    if item.pen is not None:
        words.append(f'stroke="{COLORS[item.ink]}" stroke-width="{_n(item.pen.value)}"')
        if item.dash.value:
            words.append(f'stroke-dasharray="{" ".join(_n(v) for v in item.dash.value)}"')
    return " ".join(words)


def _element(item: Plain, height: float) -> str:
    if isinstance(item, Text):
        return _text(item, height)
    if isinstance(item, Line):
        (x1, y1), (x2, y2) = item.a, item.b
        ends = f'x1="{_n(x1)}" y1="{_n(height - y1)}" x2="{_n(x2)}" y2="{_n(height - y2)}"'
        return f"<line {ends} {_paint(item)}/>"
    if isinstance(item, Circle):
        x, y = item.center
        return f'<circle cx="{_n(x)}" cy="{_n(height - y)}" r="{_n(item.radius)}" {_paint(item)}/>'
    if isinstance(item, Arc):
        return f'<polyline points="{_points(item.points(), height)}" {_paint(item)}/>'
    name = "polygon" if item.closed else "polyline"
    return f'<{name} points="{_points(item.points, height)}" {_paint(item)}/>'


def _text(item: Text, height: float) -> str:
    x, y = _n(item.at[0]), _n(height - item.at[1])
    words = [f'x="{x}" y="{y}" font-size="{_n(item.size_mm)}" fill="{COLORS[item.ink]}"']
    if item.anchor != "start":
        words.append(f'text-anchor="{item.anchor}"')
    if item.face == "bold":
        words.append('font-weight="700"')
    elif item.face == "italic":
        words.append('font-style="italic"')
    if item.rotation_deg:
        words.append(f'transform="rotate({_n(-item.rotation_deg)} {x} {y})"')
    return f"<text {' '.join(words)}>{escape(item.text)}</text>"
