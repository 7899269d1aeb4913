"""Photos as they are published: small, upright, and without the place where they were taken."""

from __future__ import annotations

import io

from PIL import Image, ImageOps

LONGEST_PX = 1600
_QUALITY = 82


def published(data: bytes) -> tuple[bytes, int, int] | None:
    """The photo as JPEG with its width and height in pixels, or None where it is no picture.

    Nothing but the pixels is kept: EXIF, and the position in it, are left behind. A photo turned
    by its EXIF orientation is turned for good.
    """
    try:
        with Image.open(io.BytesIO(data)) as opened:
            opened.draft("RGB", (LONGEST_PX, LONGEST_PX))
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((LONGEST_PX, LONGEST_PX))
            plain = _on_paper(upright)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None  # the caller says so in the picture's place
    kept = Image.new("RGB", plain.size)
    kept.paste(plain)
    out = io.BytesIO()
    kept.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue(), kept.width, kept.height


def _on_paper(picture: Image.Image) -> Image.Image:
    """The picture in plain RGB; what is transparent lies on white."""
    if picture.mode not in ("RGBA", "LA", "PA") and "transparency" not in picture.info:
        return picture.convert("RGB")
    paper = Image.new("RGBA", picture.size, "white")
    paper.alpha_composite(picture.convert("RGBA"))
    return paper.convert("RGB")
