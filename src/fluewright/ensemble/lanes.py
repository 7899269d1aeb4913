"""A function of plain numbers run for many samples at once, its source untouched.

It is called with arrays in place of numbers. Arithmetic goes through them; where it asks whether
something holds and the samples do not agree, they are parted in two and each part runs anew. What
takes plain numbers alone (``math.exp``) runs sample by sample, slower, with the same result.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

import numpy as np

from fluewright.ensemble.cases import Floats, Integers
from fluewright.errors import FluewrightError

MOST_PARTINGS = 64  # then every sample that is left runs on its own
T = TypeVar("T")


class Parted(Exception):
    """No error but a call for another run: the samples do not agree.

    ``yes`` says which of them answer the question with yes.
    """

    def __init__(self, yes: np.ndarray) -> None:
        super().__init__("the samples do not agree")
        self.yes = yes


class Lanes(np.ndarray):
    """One number for each sample."""

    def __bool__(self) -> bool:
        yes = np.asarray(self, dtype=bool)
        if yes.all():
            return True
        if not yes.any():
            return False
        raise Parted(yes)

    def __format__(self, how: str) -> str:
        return format(float(self.flat[0]), how)  # in messages: the first sample stands for all


def for_each(
    function: Callable[[dict[str, float]], T], values: Mapping[str, Floats], many: int
) -> list[tuple[Integers, T | FluewrightError]]:
    """The results of a function for many samples, as few groups as it allows.

    Args:
        function: takes one number for each name.
        values: the numbers of all samples, by name.
        many: how many samples there are.
    Returns:
        Groups: which samples, and what came out, numbers or arrays of that length; or the error
        of this package that it raised for them.
    """
    done: list[tuple[Integers, T | FluewrightError]] = []
    left, partings = [np.arange(many)], 0
    while left:
        which = left.pop()
        if len(which) == 0:
            continue
        if len(which) == 1 or partings > MOST_PARTINGS:
            done += _singly(function, values, which)
            continue
        group = {name: lane[which].view(Lanes) for name, lane in values.items()}
        try:
            with np.errstate(all="raise", under="ignore"):
                done.append((which, function(group)))  # type: ignore[arg-type]
        except Parted as parted:
            partings += 1
            left += [which[parted.yes], which[~parted.yes]]
        except FluewrightError as error:
            done.append((which, error))
        except (TypeError, ValueError, ArithmeticError):
            done += _singly(function, values, which)
    return done


def _singly(
    function: Callable[[dict[str, float]], T], values: Mapping[str, Floats], which: Integers
) -> list[tuple[Integers, T | FluewrightError]]:
    """The same, sample by sample."""
    done: list[tuple[Integers, T | FluewrightError]] = []
    for i in which.tolist():
        try:
            found: T | FluewrightError = function(
                {name: float(lane[i]) for name, lane in values.items()}
            )
        except FluewrightError as error:
            found = error
        done.append((np.array([i]), found))
    return done
