"""Facts of the place of the appliance and what surrounds it."""

from __future__ import annotations

from fluewright.facts.base import table

FACTS = table()
