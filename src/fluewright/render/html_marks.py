"""The marks of findings and their margin bars as small inline SVG; colors come from the page."""

from __future__ import annotations

from fluewright.report.tree import MarginBar, Mark

HATCH = (
    '<svg class="defs" aria-hidden="true" focusable="false"><defs>'
    '<pattern id="hatch" width="4" height="4" patternUnits="userSpaceOnUse">'
    '<path class="hatch" d="M0 4L4 0" stroke-width=".8"></path></pattern></defs></svg>'
)

_ALARM, _INK, _UNKNOWN = "var(--alarm)", "var(--ink)", "var(--unknown)"
_SHAPES = {
    Mark.STOP: f'<circle class="fill" cx="10" cy="10" r="10" fill="{_ALARM}"></circle>'
    '<rect class="gap" x="3.6" y="8.1" width="12.8" height="3.8" fill="var(--paper)"></rect>',
    Mark.HAZARD: f'<path class="fill" d="M0 1H20L10 20Z" fill="{_ALARM}"></path>',
    Mark.DEFECT: f'<rect class="fill" x="1" y="1" width="18" height="18" fill="{_INK}"></rect>',
    Mark.CRAFT: '<rect class="line" x="2" y="2" width="16" height="16" fill="none" '
    f'stroke="{_INK}" stroke-width="2"></rect>',
    Mark.NOTE: '<circle class="line" cx="10" cy="10" r="6" fill="none" '
    f'stroke="{_INK}" stroke-width="2"></circle>',
    Mark.NOT_KNOWN: '<circle class="line" cx="10" cy="10" r="8.6" fill="none" '
    f'stroke="{_UNKNOWN}" stroke-width="2" stroke-dasharray="5.4 3.6"></circle>'
    f'<circle class="fill" cx="10" cy="10" r="2.6" fill="{_UNKNOWN}"></circle>',
    Mark.MEETS: '<path class="line" d="M2 11L8 17L18 3" fill="none" stroke="var(--grey)" '
    'stroke-width="1.6"></path>',
    Mark.NOT_APPLICABLE: '<path class="line" d="M3 10H17" fill="none" stroke="var(--grey)" '
    'stroke-width="1.6"></path>',
}

_WIDTH, _HEIGHT, _MIDDLE = 200, 28, 14


def mark(kind: Mark) -> str:
    """The shape of a mark. Its word stands beside it, so a screen reader passes it over."""
    return (
        f'<svg class="mark" viewBox="0 0 20 20" aria-hidden="true" focusable="false">'
        f"{_SHAPES[kind]}</svg>"
    )


def bar(it: MarginBar) -> str:
    """Limit, reading, tolerance and failing side. The numbers beside it say the same in words."""

    def x(share: float) -> str:
        return f"{share * _WIDTH:.1f}"

    start, end = (0.0, it.limit_at) if it.fails_left else (it.limit_at, 1.0)
    whisker = (
        ""
        if it.high_at - it.low_at < 0.01
        else (
            f'<path class="read" d="M{x(it.low_at)} {_MIDDLE}H{x(it.high_at)}'
            f"M{x(it.low_at)} {_MIDDLE - 4}v8M{x(it.high_at)} {_MIDDLE - 4}v8"
            '" stroke-width="2"></path>'
        )
    )
    return (
        f'<svg class="bar" viewBox="0 0 {_WIDTH} {_HEIGHT}" aria-hidden="true" focusable="false">'
        f'<rect x="{x(start)}" y="5" width="{x(end - start)}" height="18" '
        'fill="url(#hatch)"></rect>'
        f'<path class="edge" d="M0 {_MIDDLE}H{_WIDTH}" stroke-width="1"></path>'
        f'<path class="edge" d="M{x(it.limit_at)} 0V{_HEIGHT}" stroke-width="3"></path>'
        f'{whisker}<circle class="read" cx="{x(it.reading_at)}" cy="{_MIDDLE}" r="4.5"></circle>'
        "</svg>"
    )
