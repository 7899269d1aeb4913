"""A small model for ensembles, at the top of a module so that it travels to other processes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from tests.draft.systems import heater

from fluewright.draft.system import Lone


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    name: str
    low: float
    value: float
    high: float
    spread: str = "uniform"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heater:
    """The invented water heater with some of its figures drawn."""

    inputs: tuple[Input, ...] = (
        Input(name="room_pa", low=-20.0, value=-1.0, high=0.0),
        Input(name="outdoor_k", low=255.0, value=285.0, high=305.0, spread="triangular"),
        Input(name="flue_k", low=400.0, value=470.0, high=540.0, spread="normal"),
        Input(name="u", low=0.5, value=1.0, high=2.0, spread="loguniform"),
        Input(name="nothing", low=0.0, value=1.0, high=2.0),
        Input(name="still", low=3.0, value=3.0, high=3.0, spread="fixed"),
    )

    def build(self, values: Mapping[str, float]) -> Lone:
        base = heater()
        outdoor_k = values["outdoor_k"]
        first, *middle, last = base.segments
        last = replace(last, ambient_k=outdoor_k)
        pipes = [replace(one, u_w_m2k=one.u_w_m2k * values["u"]) for one in (first, *middle, last)]
        return replace(
            base,
            flue=replace(base.flue, temperature_k=values["flue_k"]),
            segments=tuple(pipes),
            around=replace(base.around, outdoor_k=outdoor_k, room_pa=values["room_pa"]),
        )
