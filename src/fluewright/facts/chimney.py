"""Facts of the chimney: kind, flue, lining, state."""

from __future__ import annotations

from fluewright.facts.base import table

FACTS = table()
