"""Every requirement that this version judges, and the language they are written in."""

from __future__ import annotations

from fluewright.edition import Needed
from fluewright.rules import (
    air,
    chimney,
    chimney_size,
    clearance,
    common,
    connector,
    existing,
    hood,
    material,
    other_draft,
    setting,
    setting_services,
    sizing,
    termination,
    vent,
)
from fluewright.rules.base import LimitSpec, Rule, registry

RULES: dict[str, Rule] = registry(
    vent.RULES,
    material.RULES,
    hood.RULES,
    connector.RULES,
    clearance.RULES,
    termination.RULES,
    sizing.RULES,
    common.RULES,
    chimney.RULES,
    chimney_size.RULES,
    air.RULES,
    setting.RULES,
    setting_services.RULES,
    existing.RULES,
    other_draft.RULES,
)

__all__ = ["RULES", "Rule", "needed", "users"]


def needed() -> Needed:
    """What every edition must state for these rules.

    Raises:
        ValueError: two rules use one limit as different kinds.
    """
    limits: dict[str, LimitSpec] = {}
    for rule in RULES.values():
        for key, spec in rule.limits().items():
            if limits.setdefault(key, spec) != spec:
                raise ValueError(f"limit {key} is used as {spec} and as {limits[key]}")
    return Needed(tuple(RULES), limits)


def users() -> dict[str, tuple[str, ...]]:
    """For each limit the ids of the rules that use it."""
    found: dict[str, tuple[str, ...]] = {}
    for rule in RULES.values():
        for key in rule.limits():
            found[key] = (*found.get(key, ()), rule.id)
    return found
