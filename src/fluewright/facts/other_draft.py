"""Facts of appliances that a fan drives, direct-vent and condensing ones, and their outlets."""

from __future__ import annotations

from fluewright.facts.base import table

FACTS = table()
