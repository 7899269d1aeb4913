"""The pictures of a report, handed to its renderers: drawings as SVG text, photos as bytes."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from dataclasses import field

from fluewright.errors import FluewrightError
from fluewright.frozen import frozen
from fluewright.render.text import visible
from fluewright.report.inputs import CAP_CHART, DRAFT, ELEVATION, PHOTO

SVG = "http://www.w3.org/2000/svg"
_NUMBER = re.compile(r"\s*([0-9.]+)\s*(mm|cm|in|pt|px|)\s*")
_ELEMENT_NAMES = (
    "svg g path line polyline polygon rect circle ellipse text tspan title desc defs pattern "
    "clipPath mask use symbol marker style linearGradient stop"
)
_ELEMENTS = frozenset(_ELEMENT_NAMES.split())
_OUTSIDE = re.compile(
    r"url\(\s*['\"]?(?!#|data:font/)|@import|expression\(|javascript:", re.IGNORECASE
)


class RenderError(FluewrightError):
    """A report that could not be set as a document; says what stood in the way."""


@frozen
class Pictures:
    """What the figures of a report show. Photos go by the file name of the survey."""

    elevations: Mapping[str, str] = field(default_factory=dict)  # by the name of the sheet
    cap_charts: Mapping[str, str] = field(default_factory=dict)
    photos: Mapping[str, bytes] = field(default_factory=dict)
    drafts: Mapping[str, str] = field(default_factory=dict)  # by appliance and name: heater/path

    def svg(self, picture: str) -> str:
        """The drawing of this name, '' where there is none."""
        kinds = ((ELEVATION, self.elevations), (CAP_CHART, self.cap_charts), (DRAFT, self.drafts))
        for kind, drawings in kinds:
            if picture.startswith(kind):
                return drawings.get(picture.removeprefix(kind), "")
        return ""

    def photo(self, picture: str) -> bytes | None:
        """The photo of this name."""
        return self.photos.get(picture.removeprefix(PHOTO))


def is_photo(picture: str) -> bool:
    """Whether the name is that of a photo."""
    return picture.startswith(PHOTO)


def checked_svg(text: str, name: str) -> ET.Element:
    """The drawing as a tree, sure to hold no script and to fetch nothing.

    Raises:
        RenderError: it is no SVG, or holds something that a drawing of ours never holds.
    """
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise RenderError(f"drawing {name}: it declares a document type. Hand over plain SVG.")
    try:
        root = ET.fromstring(visible(text))
    except ET.ParseError as error:
        raise RenderError(f"drawing {name}: not well-formed SVG ({error}).") from error
    for element in root.iter():
        _check(element, name)
    return root


def _check(element: ET.Element, name: str) -> None:
    space, _, tag = str(element.tag).rpartition("}")
    if space != "{" + SVG or tag not in _ELEMENTS:
        raise RenderError(f"drawing {name}: element {tag} is not allowed in a report.")
    for key, value in element.attrib.items():
        short = key.rpartition("}")[2].lower()
        outside = short == "href" and not value.startswith("#")
        if short.startswith("on") or outside or _OUTSIDE.search(value):
            raise RenderError(f"drawing {name}: attribute {short} is not allowed in a report.")
    if tag == "style" and _OUTSIDE.search(element.text or ""):
        raise RenderError(f"drawing {name}: its style sheet refers to something outside.")


def size_mm(root: ET.Element) -> tuple[float, float] | None:
    """Width and height that a drawing wants on paper, where it states both in mm."""
    size = [_NUMBER.fullmatch(root.get(key, "")) for key in ("width", "height")]
    if size[0] and size[1] and (size[0][2], size[1][2]) == ("mm", "mm"):
        return float(size[0][1]), float(size[1][1])
    return None


def shape_of(root: ET.Element, name: str) -> tuple[float, float]:
    """Width and height of a drawing, in any one unit: only their ratio is used.

    Raises:
        RenderError: it states neither a viewBox nor a size.
    """
    box = root.get("viewBox", "").replace(",", " ").split()
    if len(box) == 4 and float(box[2]) > 0 and float(box[3]) > 0:
        return float(box[2]), float(box[3])
    size = [_NUMBER.fullmatch(root.get(key, "")) for key in ("width", "height")]
    if size[0] and size[1] and size[0][2] == size[1][2]:
        return float(size[0][1]), float(size[1][1])
    raise RenderError(f"drawing {name}: it states no size. Give it a viewBox.")
