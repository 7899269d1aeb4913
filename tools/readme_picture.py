"""Draw the picture of the README: the elevation of the invented demo house.

Run from the project's root: ``python -m tools.readme_picture``.
"""

from __future__ import annotations

from pathlib import Path

from fluewright import app
from fluewright.render.png import svg_to_png

ROOT = Path(__file__).resolve().parent.parent
POINTS_PER_INCH = 130


def main() -> None:
    job = app.read_job(str(Path(app.DATA) / "demo" / "otter-bend.yaml"))
    svg = app.elevation_svg(job, app.judge_job(job)[0], "letter", "us")
    (ROOT / "docs" / "elevation.png").write_bytes(svg_to_png(svg, POINTS_PER_INCH))


if __name__ == "__main__":
    main()
