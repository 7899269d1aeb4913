"""How long the command takes to start, and one job to be read, judged, drawn and reported.

``python -m tools.bench`` prints the best of a few runs of each. The figures are of this machine
at this moment: compare two versions on one machine, one after the other.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from fluewright import app
from fluewright.render.html import render_html
from fluewright.render.pdf import render_pdf

COMMAND = Path(sys.executable).with_name("fluewright")
DEMO = Path(app.DATA) / "demo" / "otter-bend.yaml"


def best_ms(run: Callable[[], object], times: int) -> float:
    """Least time of a few runs. [ms]"""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken) * 1000


def command(*arguments: str) -> None:
    done = subprocess.run([COMMAND, *arguments], capture_output=True, check=False, text=True)
    if done.returncode not in (0, 1):  # 1: something of the job fails, which is no fault here
        raise SystemExit(f"{' '.join(arguments)}: exit {done.returncode}\n{done.stderr}")


def main() -> None:
    """Print the times."""
    job = app.read_job(str(DEMO))
    judged = app.judge_job(job)
    tree, pictures = app.report_tree(job, judged, "trade", "letter", "us", "2000-01-01")
    rows: dict[str, tuple[Callable[[], object], int]] = {
        "command: start (--version)": (partial(command, "--version"), 7),
        "command: check": (partial(command, "check", str(DEMO)), 5),
        "command: judge": (partial(command, "judge", str(DEMO)), 5),
        "read the survey": (partial(app.read_job, str(DEMO)), 10),
        "judge by one edition": (partial(app.judge_job, job), 10),
        "draw the elevation": (partial(app.elevation_svg, job, judged[0], "letter", "us"), 5),
        "set the report, HTML": (partial(render_html, tree, pictures), 3),
        "set the report, PDF": (partial(render_pdf, tree, pictures), 3),
    }
    for name, (run, times) in rows.items():
        print(f"{name:28} {best_ms(run, times):8.1f} ms")


if __name__ == "__main__":
    main()
