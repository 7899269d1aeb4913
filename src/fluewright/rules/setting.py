"""Rules: the place of the appliance and what surrounds it."""

from __future__ import annotations

from fluewright.rules.base import Rule

RULES: tuple[Rule, ...] = ()
