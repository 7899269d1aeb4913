"""A folder of surveys as ensembles, on this machine or spread over a cluster."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.app.draft import NEEDS_FAST, Spread, appliances
from fluewright.app.draft_asked import Asked, conditions
from fluewright.draft.from_survey import Modelled, from_survey
from fluewright.errors import CannotModel, FluewrightError
from fluewright.files import read_survey
from fluewright.files.physics import coefficients, default_fuels
from fluewright.render.draft_data import plain
from fluewright.report.draft_words import CAUTIONS

if TYPE_CHECKING:
    from fluewright.ensemble.folder import Told

Progress = Callable[[int, int], None]
NO_CLUSTER = (
    "a cluster needs the extra: pip install 'fluewright[fast,cluster]'. Without --cluster the "
    "folder is worked through here."
)


def model_of(file: Path) -> Modelled:
    """The one appliance of a survey file, in the usual range of weather and house.

    Args:
        file: a survey.
    Raises:
        FluewrightError: a survey that cannot be read or does not suffice.
        CannotModel: several appliances, which are asked for one at a time.
    """
    survey = read_survey(str(file))
    names = appliances(survey)
    if len(names) != 1:
        raise CannotModel((f"{file.name}: {len(names)} appliances burn. Ask for one file each.",))
    return from_survey(
        survey,
        coefficients(),
        default_fuels(),
        conditions=conditions(Asked(), survey, usual=True),
        appliance=names[0],
    )


def folder_outcomes(
    folder: Path, spread: Spread, cluster: str | Any | None = None, progress: Progress | None = None
) -> tuple[Told, ...]:
    """An ensemble for every survey of a folder, in the order of the names.

    Args:
        folder: with ``*.yaml`` surveys; workers of a cluster must see the same folder.
        spread: samples and common seed.
        cluster: address of a scheduler, or a client of one; None works here.
        progress: is told how many files of how many are done.
    Returns:
        One entry a file; a file without an answer says why.
    Raises:
        FluewrightError: no survey lies there, or the cluster cannot be reached.
    """
    files = sorted(folder.glob("*.yaml"))
    if not files:
        raise FluewrightError(f"{folder}: no survey (*.yaml) lies there.")
    if cluster is None:
        return tuple(_here(files, spread, progress))
    try:
        from distributed import Client

        from fluewright.ensemble.cluster import spread as over_cluster
        from fluewright.ensemble.run import Plan
    except ImportError as error:
        raise FluewrightError(f"--cluster: {NO_CLUSTER} ({error})") from None
    plan = Plan(samples=spread.samples, seed=spread.seed)
    make: Any = Client  # the package has no types
    try:
        client = make(cluster, timeout="10s") if isinstance(cluster, str) else cluster
    except (OSError, TimeoutError) as error:
        raise FluewrightError(f"--cluster: {cluster} does not answer ({error}).") from None
    return over_cluster(folder, model_of, plan, client, progress)


def _here(files: Sequence[Path], spread: Spread, progress: Progress | None) -> Sequence[Told]:
    try:
        from fluewright.ensemble.folder import one
        from fluewright.ensemble.run import Plan
    except ImportError as error:
        raise FluewrightError(f"--spread: {NEEDS_FAST} ({error})") from None
    plan = Plan(samples=spread.samples, seed=spread.seed)
    found = []
    for i, file in enumerate(files, 1):
        found.append(one(file, model_of, plan))
        if progress is not None:
            progress(i, len(files))
    return found


def folder_text(found: Sequence[Told]) -> str:
    """One line a survey: how often it spills hot, and the middle of its margins."""
    lines = [f"{'survey':<32}{'spills hot':>12}{'margin, 5 to 95 %':>24}", ""]
    for one in found:
        out = one.outcome
        if out is None:
            lines.append(f"{one.file:<32}  no answer: {one.reason}")
            continue
        share = "not known" if out.spills.share is None else f"{100.0 * out.spills.share:.1f} %"
        span = out.margin_pa
        margin = "" if span is None else f"{span.p5:.1f} to {span.p95:.1f} Pa"
        lines.append(f"{one.file:<32}{share:>12}{margin:>24}")
    lines += ["", *CAUTIONS]
    return "\n".join(lines) + "\n"


def folder_data(found: Sequence[Told]) -> dict[str, object]:
    """The same as data."""
    surveys = [
        {"file": one.file, "reason": one.reason, "ensemble": plain(one.outcome)} for one in found
    ]
    return {"surveys": surveys, "cautions": list(CAUTIONS)}
