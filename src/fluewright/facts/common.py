"""Facts of the common vent and of each connector on it."""

from __future__ import annotations

from fluewright.facts.base import table

FACTS = table()
