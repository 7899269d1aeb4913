"""Settings of the property tests: the same examples in every run, so a red test is red again.

A longer search with fresh examples: ``pytest --hypothesis-profile search``; a failing example is
printed as a ``reproduce_failure`` line.
"""

from __future__ import annotations

from hypothesis import settings

settings.register_profile(
    "ci", derandomize=True, database=None, deadline=None, max_examples=60, print_blob=True
)
settings.register_profile(
    "search", database=None, deadline=None, max_examples=5000, print_blob=True
)
settings.load_profile("ci")
