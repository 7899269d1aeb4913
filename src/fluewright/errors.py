"""The few exceptions a caller can meet.

Each says where it happened, what was found, what is allowed, and what to do.
"""

from __future__ import annotations

from collections.abc import Sequence

from fluewright.frozen import frozen


class FluewrightError(Exception):
    """Base of every error that this package raises on purpose."""


class BadQuantity(FluewrightError):
    """A text that is not a quantity of the expected kind. Its message says what to write."""


class OutOfRange(FluewrightError):
    """A number outside what a formula or table allows."""


class BadEdition(FluewrightError):
    """An edition or table file that lacks something or holds something unknown."""


class NoSuchEdition(FluewrightError):
    """An edition id that this program does not know."""


class NoSuchRule(FluewrightError):
    """A rule id that no registry entry carries."""


class NoSuchProcedure(FluewrightError):
    """An id that no list of steps carries."""


class NotSolved(FluewrightError):
    """A balance of the draft engine that was not found. Its message says why and what to check."""


class CannotModel(NotSolved):
    """A survey that lacks what the draft engine cannot do without; carries every gap found."""

    def __init__(self, gaps: Sequence[str]) -> None:
        self.gaps = tuple(gaps)
        super().__init__("\n".join(self.gaps))


@frozen
class Fault:
    """One problem of an input file: where it stands, and one sentence on what to do."""

    path: str
    message: str
    line: int | None = None

    def text(self, file: str) -> str:
        """One line: ``file:line path: message``."""
        place = file if self.line is None else f"{file}:{self.line}"
        return f"{place} {self.path}: {self.message}" if self.path else f"{place}: {self.message}"


class BadFile(FluewrightError):
    """A file of people that cannot be read; carries every fault found, in file order."""

    def __init__(self, file: str, faults: Sequence[Fault]) -> None:
        self.file = file
        self.faults = tuple(faults)
        super().__init__("\n".join(fault.text(file) for fault in self.faults))


class BadSurvey(BadFile):
    """A survey that cannot be read; carries every fault found, in file order."""


class BadWeather(BadFile):
    """A weather file that cannot be read; carries every fault found, in file order."""
