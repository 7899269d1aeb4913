"""SVG sheets as PNG, by the typesetter that also makes the PDF."""

from __future__ import annotations

import tempfile
from importlib.resources import as_file, files
from pathlib import Path

from fluewright.render.pictures import RenderError, checked_svg, shape_of

DOTS_PER_INCH = 200


def svg_to_png(svg: str, ppi: int = DOTS_PER_INCH) -> bytes:
    """One sheet as PNG.

    Args:
        svg: a sheet as ``to_svg`` writes it.
        ppi: picture points per inch of paper.
    Raises:
        RenderError: it is no sheet of ours, or the typesetter refuses.
    """
    import typst

    width, height = shape_of(checked_svg(svg, "sheet"), "sheet")  # our sheets count in mm
    page = (
        f"#set page(width: {width}mm, height: {height}mm, margin: 0pt)\n"
        '#image("sheet.svg", width: 100%)\n'
    )
    with tempfile.TemporaryDirectory(prefix="fluewright-") as folder:
        root = Path(folder)
        (root / "sheet.svg").write_text(svg, encoding="utf-8")
        (root / "page.typ").write_text(page, encoding="utf-8")
        with as_file(files("fluewright") / "data" / "fonts") as fonts:
            try:
                made = typst.compile(
                    root / "page.typ",
                    root=root,
                    font_paths=[fonts],
                    ignore_system_fonts=True,
                    format="png",
                    ppi=ppi,
                )
            except typst.TypstError as error:
                raise RenderError(f"the sheet could not be set as a picture: {error}") from None
    if not isinstance(made, bytes):
        raise RenderError("the sheet came out as more than one page")
    return made
