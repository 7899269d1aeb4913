"""The kernel of the draft engine, compiled from the very source that runs uncompiled.

Numba compiles the functions of ``draft.kernel`` and of ``ensemble.loops``; nothing of the physics
is written a second time. Batches run on several threads, which share no figure that they write.

What was compiled is kept on disk between processes, under a name made from the text of every
source file that goes into it: a change in any of them compiles anew. (Numba by itself looks only
at the file of the outermost function.)
"""

from __future__ import annotations

import functools
import hashlib
import os
import types
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numba
import numpy as np

from fluewright.draft import kernel, system, warm_kernel
from fluewright.ensemble import lockstep, lockstep_places, loops
from fluewright.ensemble.cases import Cases, Floats, Integers
from fluewright.ensemble.loops import MOST_ROOTS

SOURCES: tuple[types.ModuleType, ...] = (
    system,
    kernel,
    warm_kernel,
    loops,
    lockstep_places,
    lockstep,
)
ENTRIES = ("each_", "stand", "start")  # how the names begin of what is called from outside
# Small and called often: put where they are called.
INLINED = {
    "cooled", "entering", "friction", "reversed_hood", "rising", "stretch", "turbulent",
    "velocity_head", "viscosity",
    "advance", "begin", "certain", "enter", "log_ratio", "lost_share", "place_segment",
    "place_system", "place_vent", "rub", "stretch_lanes",
}  # fmt: skip
CHUNK, LARGE = 1024, 8192  # cases that a thread takes at a time, at least and at most


@functools.cache
def compiled(name: str) -> Any:
    """One function of the compiled sources, by its name. It frees the interpreter while it runs."""
    return _namespace()[name]


@functools.cache
def _namespace() -> dict[str, Any]:
    """All names of the sources; each function made anew over this dictionary and to be compiled.

    A function is compiled when it is first called, with all that it calls. Arithmetic stays as
    written: were it reordered for speed, what comes from the disk would differ in the last digit
    from what was just compiled, and a run taken up again from one that went through.
    """
    shared: dict[str, Any] = {"__name__": __name__}
    for module in SOURCES:
        shared.update((k, v) for k, v in vars(module).items() if not k.startswith("__"))
    digest = source_digest()
    for module in SOURCES:
        for name, thing in vars(module).items():
            if isinstance(thing, types.FunctionType) and thing.__module__ == module.__name__:
                again = types.FunctionType(thing.__code__, shared, name)
                shared[name] = numba.njit(
                    again,
                    error_model="numpy",
                    nogil=True,
                    forceinline=name in INLINED,
                )
                if name.startswith(ENTRIES):
                    _keep(shared[name], digest)
    return shared


def source_digest() -> str:
    """Fingerprint of the text of all that is compiled, and of this module, which says how."""
    found = hashlib.sha256()
    for file in (__file__, *(str(module.__file__) for module in SOURCES)):
        found.update(Path(file).read_bytes())
    return found.hexdigest()


def _keep(function: Any, digest: str) -> None:
    """Lets a function be kept on disk under the fingerprint; where nothing can be, it is not."""
    try:
        function.enable_caching()
        cache = function._cache
        cache._cache_file = type(cache._cache_file)(
            cache_path=cache.cache_path,
            filename_base=f"{cache._impl.filename_base}-{digest[:16]}",
            source_stamp=digest,
        )
    except (RuntimeError, AttributeError):  # no folder to write to; another make of Numba
        function._cache = numba.core.caching.NullCache()


def workers() -> int:
    """How many threads a batch runs on: one for each core that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _spread(many: int, work: Callable[[int, int], None]) -> None:
    """Does all cases, in chunks, on all threads. The result does not depend on how many."""
    threads = min(workers(), -(-many // CHUNK))
    if threads <= 1:
        work(0, many)
        return
    with ThreadPoolExecutor(threads) as pool:
        chunk = min(max(many // (4 * threads), CHUNK), LARGE)
        starts = range(0, many, chunk)
        for done in [pool.submit(work, at, min(at + chunk, many)) for at in starts]:
            done.result()


def operating_flows(cases: Cases) -> Floats:
    """The largest flow up each vent at which all pressures balance; 0: there is none. [kg/s]"""
    return _largest(cases, False)


def capacities(cases: Cases) -> Floats:
    """The largest flow of flue gas, of its own temperature, that goes up without spilling. [kg/s]

    The room draws nothing in; 0: the vent takes none.
    """
    return _largest(cases, True)


def _largest(cases: Cases, all_flue: bool) -> Floats:
    """The largest flows, side by side where ``lockstep`` is certain, else by the kernel. [kg/s]"""
    out = np.zeros(len(cases))
    loop, par, rows, counts = compiled("each_largest_flow"), *_arrays(cases)
    size = (lockstep_places.V_SIZE + lockstep_places.S_SIZE * rows.shape[1]) * lockstep_places.LANES

    def work(first: int, last: int) -> None:
        loop(
            first, last, par, rows, counts, all_flue,
            np.zeros(size), np.zeros(kernel.PAR_SIZE), out,
        )  # fmt: skip

    _spread(len(cases), work)
    return out


def margins(cases: Cases) -> Floats:
    """The further suction of each room at which flue gas begins to spill. [Pa]"""
    out = np.zeros(len(cases))
    loop, par, rows, counts = compiled("each_margin"), *_arrays(cases)
    _spread(len(cases), lambda a, b: loop(a, b, par, rows, counts, out))
    return out


def settled(cases: Cases) -> tuple[Floats, Integers]:
    """Where each vent settles when hot, and how that came out: a code of ``loops``. [kg/s, -]"""
    out, codes = np.zeros(len(cases)), np.zeros(len(cases), dtype=np.int64)
    found = np.zeros((len(cases), MOST_ROOTS))
    loop, par, rows, counts = compiled("each_settled"), *_arrays(cases)
    _spread(len(cases), lambda a, b: loop(a, b, par, rows, counts, out, codes, found))
    return out, codes


def all_roots(cases: Cases) -> tuple[Integers, Floats]:
    """How many flows balance each vent, and which, smallest first, then NaN. [-, kg/s]"""
    many, found = np.zeros(len(cases), dtype=np.int64), np.full((len(cases), MOST_ROOTS), np.nan)
    loop, par, rows, counts = compiled("each_roots"), *_arrays(cases)
    _spread(len(cases), lambda a, b: loop(a, b, par, rows, counts, many, found))
    return many, np.sort(found, axis=1)


def _arrays(cases: Cases) -> tuple[Floats, Floats, Integers]:
    """The figures in the one layout that is compiled for."""
    return (
        np.ascontiguousarray(cases.par, dtype=np.float64),
        np.ascontiguousarray(cases.rows, dtype=np.float64),
        np.ascontiguousarray(cases.counts, dtype=np.int64),
    )
