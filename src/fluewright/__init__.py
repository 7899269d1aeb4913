"""fluewright: gas venting surveyed, judged, drawn and reported.

>>> import fluewright as fw
>>> fw.__version__
'0.1.0'
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from fluewright.api import judge, read_survey

__all__ = ["__version__", "judge", "read_survey"]


def __getattr__(name: str) -> object:
    """The public functions, imported when first used."""
    if name in ("judge", "read_survey"):
        from fluewright import api

        return getattr(api, name)
    raise AttributeError(f"fluewright has no {name!r}")
