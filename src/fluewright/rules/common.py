"""Rules: connectors and common vent of several appliances."""

from __future__ import annotations

from fluewright.rules.base import Rule

RULES: tuple[Rule, ...] = ()
