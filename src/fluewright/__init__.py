"""fluewright: gas venting surveyed, judged, drawn and reported.

>>> import fluewright as fw
>>> fw.__version__
'0.1.0'
"""

from __future__ import annotations

import sys
from types import ModuleType
from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from fluewright.api import judge, read_survey

__all__ = ["__version__", "judge", "read_survey"]


class _Front(ModuleType):
    """The package, whose ``judge`` stays the function when the module of that name is loaded."""

    def __setattr__(self, name: str, value: object) -> None:
        if not (name == "judge" and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Front


def __getattr__(name: str) -> object:
    """The public functions, imported when first used."""
    if name in ("judge", "read_survey"):
        from fluewright import api

        return getattr(api, name)
    raise AttributeError(f"fluewright has no {name!r}")
