"""The ensemble of one survey file of a folder, with a seed of its own.

The seed is made of the common one and the file's name, so that what comes out does not depend on
how many workers there are or on which other surveys lie in the folder.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from fluewright.ensemble.outcome import Outcome
from fluewright.ensemble.run import Model, Plan, run
from fluewright.errors import FluewrightError

Read = Callable[[Path], Model]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What came of one file: an outcome, or why there is none."""

    file: str
    outcome: Outcome | None
    reason: str | None


def one(file: Path, read: Read, plan: Plan) -> Told:
    """The ensemble of one file."""
    try:
        own = replace(plan, seed=own_seed(plan.seed, file.name))
        return Told(file=file.name, outcome=run(read(file), own), reason=None)
    except FluewrightError as error:
        return Told(file=file.name, outcome=None, reason=str(error))


def own_seed(seed: int, name: str) -> int:
    """The seed of one file of a folder."""
    return int.from_bytes(hashlib.sha256(f"{seed}:{name}".encode()).digest()[:8], "little")
