"""Will it draft, spill or condense: the physics of one appliance, its vent and its house.

Physics alone: no code text and no table of capacities. Plain floats in SI, the standard
library only. `docs/draft-physics.md` says what is computed, `docs/coefficients.md` from what.
"""
