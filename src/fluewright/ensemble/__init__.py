"""Many vents at once: compiled and array forms of the draft engine, and what chance makes of one.

The only place for NumPy and Numba (extra ``fast``); solving many also runs without both, slower.
Chance enters only through a seed that the caller gives.
"""
