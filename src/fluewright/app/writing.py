"""Files written whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os

from fluewright.frozen import frozen


@frozen
class Written:
    """A file that was written, and what it is."""

    file: str
    what: str


def write_text(file: str, text: str) -> None:
    """Write a text file whole or not at all."""
    write_bytes(file, text.encode("utf-8"))


def write_bytes(file: str, raw: bytes) -> None:
    """Write a file whole or not at all: a half-written one never takes the old one's place.

    Raises:
        OSError: it cannot be written; names the file asked for. Nothing is left behind.
    """
    part = f"{file}.part"
    try:
        if os.path.isdir(file):
            raise IsADirectoryError(errno.EISDIR, "this is a directory; name a file in it")
        os.makedirs(os.path.dirname(file) or ".", exist_ok=True)
        try:
            with open(part, "wb") as out:
                out.write(raw)
            os.replace(part, file)
        except BaseException:
            with contextlib.suppress(OSError):
                os.remove(part)
            raise
    except OSError as error:
        raise OSError(error.errno, error.strerror, file) from error
