"""Rules: air for burning, venting and diluting."""

from __future__ import annotations

from fluewright.rules.base import Rule

RULES: tuple[Rule, ...] = ()
