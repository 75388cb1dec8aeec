"""Which windows are open on a book, and which were cut off: a file beside it for each of them.

The file is locked for as long as the window's program lives, and taken away when the window is
closed. One that is there and not locked is all that is left of a window whose program died, or
whose machine did. The lock is the system's: it goes with the program, however that ends.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Final

from partsbench.store.journal import text_time, time_text

MOST_WINDOWS: Final = 100
LOCKED_BYTE: Final = 1 << 20
"""Beyond all that is written: where Windows locks, nobody else may read."""


class WindowMark:
    """The mark of one open window; `close` it when the window is closed."""

    def __init__(self, path: Path, descriptor: int) -> None:
        self.path = path
        self._descriptor = descriptor

    def close(self) -> None:
        """The window is closed as it should be: nothing is left of it."""
        with contextlib.suppress(OSError):
            self.path.unlink()
        self.let_go()
        # Windows takes no file away that is open.
        self.path.unlink(missing_ok=True)

    def let_go(self) -> None:
        """The file stays, unlocked: what the system does for a program that died."""
        with contextlib.suppress(OSError):
            os.close(self._descriptor)


def mark_window(book: Path, now: datetime) -> WindowMark | None:
    """Mark that a window is open from `now` on; None beside a book that can have no mark, as one
    in memory or in a folder that may not be written to."""
    if not book.is_file():
        return None
    for number in range(1, MOST_WINDOWS):
        path = book.with_name(f"{book.name}-window{number}")
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o644)
        except OSError:
            return None
        if _locked(descriptor) and _is_at(path, descriptor) and not os.read(descriptor, 1):
            os.write(descriptor, time_text(now).encode())
            os.fsync(descriptor)
            return WindowMark(path, descriptor)
        os.close(descriptor)
    return None


def cut_off(book: Path) -> list[datetime]:
    """When the windows were opened that were never closed and whose programs are gone."""
    return [opened for _, opened in _left(book)]


def forget_cut_off(book: Path) -> None:
    """Take away what is left of windows that were cut off."""
    for path, _ in _left(book):
        with contextlib.suppress(OSError):
            path.unlink()


def _left(book: Path) -> Iterator[tuple[Path, datetime]]:
    """A mark without a word in it is of a window that is just being opened."""
    try:
        found = sorted(p for p in book.parent.iterdir() if p.name.startswith(f"{book.name}-window"))
    except OSError:
        return
    for path in found:
        opened = _opened(path)
        if opened:
            yield path, opened


def _opened(path: Path) -> datetime | None:
    """When the window of a mark was opened; None while it lives."""
    try:
        descriptor = os.open(path, os.O_RDWR)
    except OSError:
        return None
    try:
        words = os.read(descriptor, 64) if _locked(descriptor) else b""
        return text_time(words.decode())
    except (OSError, ValueError):
        return None
    finally:
        os.close(descriptor)


def _is_at(path: Path, descriptor: int) -> bool:
    """Whether the file is still there by that name: another window may have taken it away."""
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except OSError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _locked(descriptor: int) -> bool:
        """Lock the file if nobody else has it locked."""
        os.lseek(descriptor, LOCKED_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        finally:
            os.lseek(descriptor, 0, os.SEEK_SET)
        return True
else:
    import fcntl

    def _locked(descriptor: int) -> bool:
        """Lock the file if nobody else has it locked."""
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
