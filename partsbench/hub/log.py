"""Who did what through the hub, and what was turned away: one line each, in a file beside the book.

No secret and no code of a label is written; what was recorded stands in the journal.
"""

from __future__ import annotations

import contextlib
import os
from collections import deque
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

LARGEST = 1_000_000
"""Bytes; then it becomes `….old` and a new one is begun."""


class HubLog:
    """Lines of the log; the newest are kept at hand."""

    def __init__(self, file: Path | None, clock: Callable[[], datetime]) -> None:
        self._file = file
        self._clock = clock
        self.newest: deque[str] = deque(maxlen=200)

    def say(self, address: str, who: str, what: str) -> None:
        """One line; what comes from outside cannot make a second one of it."""
        at = self._clock().strftime("%Y-%m-%dT%H:%M:%SZ")
        line = " ".join(_plain(word) for word in (at, address, who or "-", what))
        self.newest.append(line)
        if self._file is not None:
            with contextlib.suppress(OSError):  # a full disk must not stop the work
                self._write(self._file, line)

    def _write(self, file: Path, line: str) -> None:
        if file.exists() and file.stat().st_size > LARGEST:
            file.replace(file.with_name(f"{file.name}.old"))
        flags = os.O_CREAT | os.O_APPEND | os.O_WRONLY
        with os.fdopen(os.open(file, flags, 0o600), "a", encoding="utf-8") as opened:
            opened.write(f"{line}\n")


def _plain(word: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in word)[:200]
