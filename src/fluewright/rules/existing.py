"""Rules: existing installations: what is examined and tested before use."""

from __future__ import annotations

from fluewright.rules.base import Rule

RULES: tuple[Rule, ...] = ()
