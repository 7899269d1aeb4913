"""Drawings: a survey as sheets of lines and lettering, in no file format."""

from fluewright.cap_place import CapLimits, cap_region
from fluewright.drawing.cap_chart import cap_chart
from fluewright.drawing.chimney_top import TopRule
from fluewright.drawing.elevation import elevation
from fluewright.drawing.layout import layout_check
from fluewright.drawing.scene import Scene
from fluewright.drawing.tree import is_chimney, sheets, with_roof

__all__ = [
    "CapLimits",
    "Scene",
    "TopRule",
    "cap_chart",
    "cap_region",
    "elevation",
    "is_chimney",
    "layout_check",
    "sheets",
    "with_roof",
]
