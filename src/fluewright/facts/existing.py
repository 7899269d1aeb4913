"""Facts of what was tested and examined at an existing installation."""

from __future__ import annotations

from fluewright.facts.base import table

FACTS = table()
