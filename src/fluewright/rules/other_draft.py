"""Rules: appliances that a fan drives, direct-vent and condensing ones."""

from __future__ import annotations

from fluewright.rules.base import Rule

RULES: tuple[Rule, ...] = ()
