"""Why something cannot be written, in the words of a person."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from pathlib import Path
from typing import Final

FULL: Final = "the disk is full"
_WORDS: Final = {
    errno.ENOSPC: FULL,
    errno.EDQUOT: FULL,
    errno.EFBIG: "no file may grow any larger there",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "it may not be written to",
    errno.EPERM: "it may not be written to",
    errno.ENAMETOOLONG: "its name is too long",
}
_TRIAL_BYTES: Final = 65536
"""As much as SQLite needs beside a book to open it."""


def why(error: OSError) -> str:
    """`the disk is full`."""
    return _WORDS.get(error.errno or 0, "") or (error.strerror or str(error)).lower()


def why_not_into(folder: Path) -> str:
    """Why nothing can be written into a folder, found out by trying; empty when it can."""
    try:
        with tempfile.TemporaryFile(dir=folder, prefix=".partsbench-") as file:
            file.write(os.urandom(_TRIAL_BYTES))
            file.flush()
    except OSError as error:
        return why(error)
    return ""


def put_on_disk(folder: Path) -> None:
    """Makes sure that names given in a folder outlive a power cut, where the system can do that."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
