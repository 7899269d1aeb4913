"""Random vents as figures: short, tall, tiny, cold, idle, under suction, blown into."""

from __future__ import annotations

import math

import numpy as np

from fluewright.draft import kernel as k
from fluewright.ensemble.cases import Cases


def random_cases(many: int, seed: int, segments: int = 6) -> Cases:
    """Systems within what ``draft.plausible`` allows, every kind of state among them."""
    chance = np.random.default_rng(seed)
    par = np.zeros((many, k.PAR_SIZE))
    for place, low, high in (
        (k.FLUE_K, 300.0, 900.0), (k.FLUE_MOLAR, 27.0, 30.0), (k.FLUE_CP, 1000.0, 1250.0),
        (k.PLUME_M, 0.0, 0.5), (k.OUT_K, 235.0, 318.0), (k.ROOM_K, 278.0, 308.0),
        (k.AIR_PA, 6.5e4, 1.04e5), (k.ROOM_PA, -12.0, 4.0), (k.CAP_PA, -6.0, 8.0),
        (k.CAP_LOSS, 0.0, 3.0), (k.ROOM_MOLAR, 28.6, 28.96), (k.ROOM_CP, 1004.0, 1012.0),
        (k.OUT_MOLAR, 28.9, 28.97), (k.OUT_CP, 1004.0, 1008.0),
    ):  # fmt: skip
        par[:, place] = chance.uniform(low, high, many)
    par[:, k.FLUE_KG_S] = np.exp(chance.uniform(math.log(5e-4), math.log(0.1), many))
    par[chance.random(many) < 0.04, k.FLUE_KG_S] = 0.0
    par[:, k.RELIEF_M2] = np.exp(chance.uniform(math.log(5e-4), math.log(0.1), many))
    par[chance.random(many) < 0.02, k.RELIEF_M2] = math.inf
    par[:, k.MOMENTUM] = chance.integers(0, 2, many)
    calm = chance.random(many) < 0.1
    par[calm, k.ROOM_PA] = par[calm, k.CAP_PA] = 0.0
    return Cases(
        par=par,
        rows=_rows(many, segments, chance),
        counts=chance.integers(1, segments + 1, many),
    )


def _rows(many: int, segments: int, chance: np.random.Generator) -> np.ndarray:
    shape = (many, segments)
    rows = np.zeros((*shape, k.ROW_SIZE))
    length = np.exp(chance.uniform(math.log(0.05), math.log(8.0), shape))
    length *= np.where(chance.random(shape) < 0.02, 50.0, 1.0)  # huge laterals
    diameter = np.where(chance.random(shape) < 0.03, 0.01, chance.uniform(0.07, 0.45, shape))
    slope = np.where(chance.random(shape) < 0.3, 0.0, chance.uniform(-0.3, 1.6, shape))
    rows[..., k.LENGTH] = length
    rows[..., k.RISE] = length * slope.clip(-1.0, 1.0)
    rows[..., k.DIAMETER] = diameter
    rows[..., k.AREA] = math.pi / 4.0 * diameter**2
    rows[..., k.AMBIENT] = chance.uniform(235.0, 318.0, shape)
    rows[..., k.HEAT] = math.pi * diameter * chance.uniform(0.0, 15.0, shape)
    rows[..., k.HEAT] *= chance.random(shape) > 0.1  # some lose nothing
    rows[..., k.ENTRY] = chance.uniform(0.0, 2.0, shape)
    rows[..., k.ROUGH] = np.where(
        chance.random(shape) < 0.25, -1.0, chance.uniform(0.0, 0.003, shape)
    )
    rows[..., k.DARCY] = chance.uniform(0.01, 0.06, shape)
    return rows
