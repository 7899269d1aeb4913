"""Every published check, through the same computation that docs/validation.md shows."""

from __future__ import annotations

import pytest
from tests import published_checks
from tests.published_adapters import ADAPTERS

CHECKS = [
    pytest.param(check, id=f"{name}: {check.id}")
    for name in published_checks.names()
    for check in published_checks.load(name)
]


@pytest.mark.parametrize("check", CHECKS)
def test_published_value_comes_out(check: published_checks.Check) -> None:
    computed = ADAPTERS[check.checks](check.given)
    assert check.agrees(computed), f"{check.source}: {check.expect} printed, {computed} computed"
