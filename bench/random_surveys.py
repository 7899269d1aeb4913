"""Ten thousand random valid surveys: judged without an exception, without a number that is none.

Run with ``make bench``, or ``python -m bench.random_surveys 500`` for fewer. The time is told as a
ratio to reading the same surveys without judging them. Exit status 1 where something was found.
"""

from __future__ import annotations

import sys
import time
import traceback

from tests.random_surveys import text_of, told

from fluewright import app
from fluewright.errors import BadSurvey
from fluewright.files import survey_from_text
from fluewright.judge import judge
from fluewright.render.data import judgement_data
from fluewright.render.plain import judgement_text

SURVEYS, STEP, TOLD = 10_000, 1000, 10


class Tally:
    """What was counted so far."""

    def __init__(self) -> None:
        self.judged = self.refused = 0
        self.raised: list[str] = []
        self.no_numbers: list[str] = []
        self.reading = self.judging = 0.0

    def one(self, seed: int, edition: str) -> None:
        """Read, judge and tell one random survey."""
        text = text_of(seed)
        start = time.perf_counter()
        try:
            survey = survey_from_text(text, "random.json")
        except BadSurvey:
            self.refused += 1
            return
        read = time.perf_counter()
        self.judged += 1
        try:
            found = judge(survey, app.edition(edition), app.library_for(survey))
            judged = time.perf_counter()
            self.no_numbers += [f"seed {seed}, {edition}: {line}" for line in told(found)]
            judgement_data(found, "0")
            if seed % TOLD == 0:  # slower than the judging
                judgement_text(found, full=True)
        except Exception:
            self.raised.append(f"seed {seed}, {edition}:\n{traceback.format_exc()}")
            return
        self.reading += read - start
        self.judging += judged - read

    def lines(self) -> list[str]:
        """The count, and the time as a ratio."""
        return [
            f"random surveys judged {self.judged:6d} ({self.refused} more were refused as invalid)",
            f"exceptions            {len(self.raised):6d}",
            f"numbers that are none {len(self.no_numbers):6d}",
            f"judging takes {self.judging / max(self.reading, 1e-9):.1f} x the reading "
            f"({self.judging / max(self.judged, 1) * 1000:.1f} ms against "
            f"{self.reading / max(self.judged, 1) * 1000:.1f} ms a survey)",
        ]


def main(arguments: list[str]) -> int:
    count = int(arguments[0]) if arguments else SURVEYS
    editions, tally, seed = app.edition_ids(), Tally(), 0
    while tally.judged < count:
        tally.one(seed, editions[seed % len(editions)])
        seed += 1
        if tally.judged and tally.judged % STEP == 0 and sys.stderr.isatty():
            print(f"{tally.judged} of {count}", end="\r", file=sys.stderr)
    print(*tally.lines(), sep="\n")
    print(*tally.raised[:3], *tally.no_numbers[:10], sep="\n")
    return 1 if tally.raised or tally.no_numbers else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
