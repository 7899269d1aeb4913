"""Drawings: a survey as sheets of lines and lettering, in no file format."""

from fluewright.drawing.elevation import elevation
from fluewright.drawing.layout import layout_check
from fluewright.drawing.scene import Scene

__all__ = ["Scene", "elevation", "layout_check"]
