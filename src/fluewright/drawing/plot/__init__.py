"""Plots in the language of the drawings: plain numbers to a scene, one function a figure."""

from fluewright.drawing.plot.balance import flow_balance
from fluewright.drawing.plot.chances import probability_bars
from fluewright.drawing.plot.exposure import exposure_plot
from fluewright.drawing.plot.path import along_the_path
from fluewright.drawing.plot.spill_map import spill_time_map
from fluewright.drawing.plot.tornado import tornado
from fluewright.drawing.plot.warmup import warmup_trace

__all__ = [
    "along_the_path",
    "exposure_plot",
    "flow_balance",
    "probability_bars",
    "spill_time_map",
    "tornado",
    "warmup_trace",
]
