"""One interface to the compiled, the array and the plain form of the draft engine.

``compiled`` needs NumPy and Numba, ``arrays`` NumPy, ``plain`` nothing. All give the same numbers,
to 1e-9 of each.
"""

from __future__ import annotations

import importlib
import importlib.util
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

Name = Literal["compiled", "arrays", "plain"]
MODULES: dict[Name, tuple[str, tuple[str, ...]]] = {
    "compiled": ("fluewright.ensemble.compiled", ("numpy", "numba")),
    "arrays": ("fluewright.ensemble.vectorised", ("numpy",)),
    "plain": ("fluewright.ensemble.plain", ()),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Backend:
    """One way to solve many vents; each function takes ``ensemble.cases.Cases``.

    Attributes:
        name: which way it is.
        operating_flows: largest flow up each vent, 0 where none balances. [kg/s]
        capacities: largest flow of flue gas that goes up without spilling. [kg/s]
        margins: further suction of the room at which flue gas begins to spill. [Pa]
        settled: where each settles when hot, and its code (``ensemble.loops``). [kg/s, -]
        all_roots: how many flows balance each, and which, then NaN. [-, kg/s]
    """

    name: Name
    operating_flows: Callable[[Any], Any]
    capacities: Callable[[Any], Any]
    margins: Callable[[Any], Any]
    settled: Callable[[Any], tuple[Any, Any]]
    all_roots: Callable[[Any], tuple[Any, Any]]


def backend(name: Name | None = None) -> Backend:
    """The backend of a name, or the quickest that can be had.

    Args:
        name: None leaves the choice to what is installed.
    Returns:
        The backend.
    Raises:
        ModuleNotFoundError: the one asked for needs a package that is not installed.
    """
    chosen: Name = next(one for one in MODULES if not missing(one)) if name is None else name
    lacking = missing(chosen)
    if lacking:
        raise ModuleNotFoundError(
            f"backend {chosen!r} needs {' and '.join(lacking)}: pip install 'fluewright[fast]'."
        )
    module = importlib.import_module(MODULES[chosen][0])
    return Backend(
        name=chosen,
        operating_flows=module.operating_flows,
        capacities=module.capacities,
        margins=module.margins,
        settled=module.settled,
        all_roots=module.all_roots,
    )


def missing(name: Name) -> Sequence[str]:
    """The packages a backend needs that are not installed."""
    return [one for one in MODULES[name][1] if importlib.util.find_spec(one) is None]
