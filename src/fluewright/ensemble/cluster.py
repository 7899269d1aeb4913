"""A folder of surveys spread over a cluster (extra ``cluster``): one task for each file.

Each survey keeps its own seed, made of the common one and its name, so that what comes out does
not depend on how many workers there are or on which other surveys lie in the folder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from distributed import Client, as_completed

from fluewright.ensemble.folder import Read, Told, one
from fluewright.ensemble.run import Plan

Progress = Callable[[int, int], None]


def spread(
    folder: Path, read: Read, plan: Plan, client: Client, progress: Progress | None = None
) -> tuple[Told, ...]:
    """Runs an ensemble for every survey of a folder, on the workers of a cluster.

    Args:
        folder: its ``*.yaml`` files are the surveys; the workers must see the same folder.
        read: makes the model of a file; it must travel to the workers.
        plan: samples and common seed.
        client: of the cluster.
        progress: is told after each file how many of how many are done.
    Returns:
        One entry for each file, in the order of their names.
    Raises:
        Exception: whatever else than a ``FluewrightError`` a worker meets.
    """
    files = sorted(folder.glob("*.yaml"))
    work = [client.submit(one, file, read, plan, pure=False) for file in files]
    found: list[Told] = []
    for done in _each_done(work):
        found.append(done.result())
        if progress is not None:
            progress(len(found), len(files))
    return tuple(sorted(found, key=lambda told: told.file))


def _each_done(work: list[Any]) -> Iterator[Any]:
    """The tasks as they finish; those not asked for any more are called off."""
    try:
        yield from as_completed(work)  # type: ignore[no-untyped-call]
    finally:
        for task in work:
            if not task.done():
                task.cancel()
