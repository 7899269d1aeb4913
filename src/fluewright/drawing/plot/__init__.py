"""Plots in the language of the drawings: plain numbers to a scene, one function a figure."""

from fluewright.drawing.plot.balance import flow_balance
from fluewright.drawing.plot.path import along_the_path
from fluewright.drawing.plot.spill_map import spill_time_map

__all__ = ["along_the_path", "flow_balance", "spill_time_map"]
