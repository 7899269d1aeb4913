"""Computations of the draft engine that published checks name, one module a subject.

Each module holds ``ADAPTERS``: name to computation, as in ``tests.published_adapters``.
"""

from __future__ import annotations

import importlib
import pkgutil
from typing import Any

ADAPTERS: dict[str, Any] = {}
for _module in pkgutil.iter_modules(__path__):
    _own = importlib.import_module(f"{__name__}.{_module.name}").ADAPTERS
    assert not ADAPTERS.keys() & _own.keys(), f"{_module.name}: a name is taken"
    ADAPTERS |= _own
