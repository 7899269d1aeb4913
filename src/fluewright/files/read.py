"""Survey file -> `Survey`, or every fault of it at once, in the order of the file."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Mapping
from typing import cast

from fluewright.errors import BadSurvey, Fault
from fluewright.files.build import record_of
from fluewright.files.cross import cross_check
from fluewright.files.nodes import BadForm, Node
from fluewright.files.text_in import tree_of
from fluewright.files.tools import default_tools
from fluewright.files.visit import MOST_FAULTS, Toolbox, TooManyFaults, Visit, described
from fluewright.survey import Survey
from fluewright.tool import Tool

VERSION = 1
MOST_BYTES = 5_000_000
STDIN = "-"
STOPPED = f"reading stopped after {MOST_FAULTS} faults. Mend these first."

# What YAML 1.2.2 lets a text hold (5.1), without the line breaks that only YAML 1.1 knew.
_NO_TEXT = "[^\t\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"


def read_survey(source: str | os.PathLike[str], tools: Mapping[str, Tool] | None = None) -> Survey:
    """The survey in a file, or on standard input where the source is ``-``.

    Args:
        source: path of a YAML or JSON file, or ``-``.
        tools: the tools that readings may name; None: those of this package.
    Raises:
        BadSurvey: with every fault of the file, each with line and path.
    """
    return survey_from_bytes(survey_bytes(source), file_name(source), tools)


def file_name(source: str | os.PathLike[str]) -> str:
    """What messages call a source: its path, or ``stdin``."""
    return "stdin" if source == STDIN else os.fspath(source)


def survey_bytes(source: str | os.PathLike[str]) -> bytes:
    """What a survey file holds, unread; ``-`` takes standard input.

    Raises:
        BadSurvey: there is no such file, or it cannot be read or is too large.
    """
    name = file_name(source)
    try:
        if source == STDIN:
            raw = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with open(source, "rb") as file:
                raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise _one_fault(name, "there is no such file. Look at the path.") from None
    except IsADirectoryError:
        raise _one_fault(name, "this is a directory. Name a survey file in it.") from None
    except (OSError, ValueError) as error:  # ValueError: a path with a zero byte in it
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _one_fault(name, f"the file cannot be read: {why}.") from None
    return raw


def survey_sha256(raw: bytes) -> str:
    """SHA-256 of a survey file's bytes, in hexadecimal digits."""
    import hashlib

    return hashlib.sha256(raw).hexdigest()


def survey_from_bytes(
    raw: bytes, file_name: str, tools: Mapping[str, Tool] | None = None
) -> Survey:
    """The survey in the bytes of a file; see `survey_from_text`.

    Raises:
        BadSurvey: with every fault of the file.
    """
    if len(raw) > MOST_BYTES:
        message = f"the file is larger than {MOST_BYTES // 1_000_000} MB. A survey has a few kB."
        raise _one_fault(file_name, message)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = f"the byte {raw[error.start]:#04x} is not UTF-8. Save the file as UTF-8."
        raise _one_fault(file_name, message, line) from None
    return survey_from_text(text, file_name, tools)


def survey_from_text(
    text: str, file_name: str = "survey", tools: Mapping[str, Tool] | None = None
) -> Survey:
    """The survey in a text.

    Args:
        text: YAML or JSON; JSON if the file name ends so, or if it is JSON.
        file_name: what messages call it.
        tools: the tools that readings may name; None: those of this package.
    Raises:
        BadSurvey: with every fault, in the order of the text.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    try:
        return _survey(text, file_name, default_tools() if tools is None else tools)
    except BadForm as error:
        raise BadSurvey(file_name, [error.fault]) from None


def _survey(text: str, file_name: str, tools: Mapping[str, Tool]) -> Survey:
    odd = _odd_letter(text)
    if odd:
        message = f"U+{ord(odd[0]):04X} is no character of a text. Take it out."
        raise BadForm(message, text.count("\n", 0, odd.start()) + 1)
    tree = tree_of(text, True if file_name.lower().endswith(".json") else None)
    root = tree.root
    if root is None or root.value is None:
        raise BadForm('the file is empty. Begin with "survey: 1", or with "fluewright new".')
    if not isinstance(root.value, dict):
        message = f"{described(root)} stands here, where keys such as survey, job and paths"
        raise BadForm(f"{message} are expected.", root.line)
    visit = Visit(Toolbox(tools, photos=_photo_files(root.value)), list(tree.faults))
    held = _without_version(root, root.value, visit)
    # Tools first: what they are decides the bounds of all other readings.
    first = {key: node for key, node in held.items() if key == "tools"}
    root.value = first | held
    try:
        found = record_of(Survey).read(root, "", visit)
        cross_check(held, visit)
    except TooManyFaults:
        raise BadSurvey(file_name, [*_sorted(visit), Fault("", STOPPED)]) from None
    if visit.faults:
        raise BadSurvey(file_name, _sorted(visit))
    return cast(Survey, found)


def _odd_letter(text: str) -> re.Match[str] | None:
    """The first character that no text may hold.

    All that can be printed may stand in it; for most texts that spares the pattern, which takes
    long to compile.
    """
    return None if text.replace("\n", "").isprintable() else re.search(_NO_TEXT, text)


def _sorted(visit: Visit) -> list[Fault]:
    """The faults in the order of the file; those of one place in the order they were found."""
    return [fault for _, fault in sorted(visit.faults, key=lambda placed: placed[0])]


def _without_version(root: Node, held: dict[str, Node], visit: Visit) -> dict[str, Node]:
    """The keys of the file but ``survey``, whose version is checked."""
    version = held.get("survey")
    if version is None:
        visit.fault(root, "", f'"survey" is missing. Begin the file with "survey: {VERSION}".')
        return held
    number = version.value
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        message = f"{described(version)} stands here, where the form's version is expected."
        message += f" Write {VERSION}."
        visit.fault(version, "survey", message)
    elif number > VERSION:
        raise BadForm(
            f"version {number} of the survey's form is newer than this program, which reads "
            f"{VERSION}. Use a newer fluewright.",
            version.line,
            "survey",
        )
    return {key: node for key, node in held.items() if key != "survey"}


def _photo_files(held: Mapping[str, Node]) -> frozenset[str]:
    """Files of the photos that the survey lists, as far as they can be read."""
    photos = held.get("photos")
    listed = photos.value if photos is not None and isinstance(photos.value, list) else []
    files = (photo.value.get("file") for photo in listed if isinstance(photo.value, dict))
    return frozenset(file.value for file in files if file and isinstance(file.value, str))


def _one_fault(name: str, message: str, line: int | None = None) -> BadSurvey:
    return BadSurvey(name, [Fault("", message, line)])
