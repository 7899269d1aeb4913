"""Time the judging: the whole command, and judgements in process, each against a baseline.

The baselines are a bare interpreter and a bare loop over the rules.

Run with ``make bench``. Machines are noisy: read the ratios, taken in one run, not the seconds.
Goals: whole command under 0.40 s from a warm disk with byte-code; in process under 30 ms for two
appliances on one vent, and under 10 ms for a survey of 20 pieces, with all rules. The latter is
shown for as many rules as there were at first too, to compare with older figures.
"""

from __future__ import annotations

import dataclasses
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from fluewright import app
from fluewright.facts import subjects
from fluewright.files import read_survey
from fluewright.judge import judge
from fluewright.rules import RULES
from fluewright.survey import Survey

DEMO = Path(app.DATA) / "demo" / "otter-bend.yaml"
TWO = Path(app.DATA) / "demo" / "alder-court.yaml"
FIRST_RULES = 106
PROCESSES, CALLS = 21, 60
PIECES = 20


def seconds(run: Callable[[], object], times: int) -> float:
    """Median time of one call."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def command(*words: str) -> Callable[[], object]:
    """A whole process, with byte-code allowed, its output thrown away."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def run() -> object:
        return subprocess.run(words, env=env, check=False, stdout=subprocess.DEVNULL)

    run()  # warm the disk and write the byte-code
    return run


def long_survey() -> Survey:
    """The demo survey with its level connector cut into pieces, 20 in all."""
    survey = read_survey(DEMO)
    path = survey.paths[0]
    more = [
        dataclasses.replace(path.pieces[2], id=f"x{i}") for i in range(PIECES - len(path.pieces))
    ]
    pieces = (*path.pieces[:3], *more, *path.pieces[3:])
    return dataclasses.replace(survey, paths=(dataclasses.replace(path, pieces=pieces),))


def bare_loop(survey: Survey) -> Callable[[], object]:
    """One do-nothing call for every rule and every thing it is asked of."""
    things = {scope: len(found) for scope, found in subjects(survey, survey.paths[0]).items()}
    calls = [rule for rule in RULES.values() for _ in range(things.get(rule.per, 0))]

    def nothing(rule: object) -> object:
        return rule

    return lambda: [nothing(rule) for rule in calls]


def line(what: str, taken: float, against: str, baseline: float, goal: float) -> None:
    met = "within" if taken < goal else "OVER"
    print(
        f"{what:<44} {taken * 1000:9.2f} ms = {taken / baseline:7.1f} x {against} "
        f"({baseline * 1000:.3f} ms); goal {goal * 1000:.0f} ms: {met}"
    )


def main() -> None:
    program = str(Path(sys.executable).with_name("fluewright"))
    bare = seconds(command(sys.executable, "-c", "pass"), PROCESSES)
    whole = seconds(command(program, "judge", str(DEMO)), PROCESSES)
    line("fluewright judge, whole process, median", whole, "python -c pass", bare, 0.40)

    survey = long_survey()
    edition, library = app.edition("umc_2012"), app.library()
    loop = seconds(bare_loop(survey), CALLS)
    inside = seconds(lambda: judge(survey, edition, library), CALLS)
    pieces = len(survey.paths[0].pieces)
    share = FIRST_RULES / len(RULES)
    what = f"judge, {pieces} pieces, {len(RULES)} rules, median"
    line(what, inside, "bare loop over rules", loop, 0.010)
    what = f"judge, {pieces} pieces, as for {FIRST_RULES} rules, median"
    line(what, inside * share, "bare loop over rules", loop * share, 0.010)

    both = read_survey(TWO)
    tables = app.library_for(both)
    taken = seconds(lambda: judge(both, edition, tables), CALLS)
    line(f"judge, two appliances, {len(RULES)} rules, median", taken, "the bare loop", loop, 0.030)


if __name__ == "__main__":
    main()
