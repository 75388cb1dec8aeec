"""Keeps an open book from being tidied away by another process that thinks it is alone.

SQLite holds its locks by fcntl, and POSIX drops all of a process's fcntl locks on a file as soon as
the process closes any descriptor of that file. Something in the program may do just that: a file
dialog looks into each file of a folder to choose its icon. The next command that closes the book
then takes itself for the last one and removes the file of waiting changes (`-wal`) under the open
window, whose later changes go nowhere. (SQLite documentation, "How To Corrupt An SQLite Database
File", section 2.2; the bytes: its source, os_unix.c; both from memory.)

Locks of an open file description (Linux, fcntl(2)) are not dropped so. Where there are none, a
change is refused once the files are found gone: `Hold.lost`.
"""

from __future__ import annotations

import contextlib
import os
import struct
from pathlib import Path
from typing import Final

SHARED_BYTES: Final = (0x40000000 + 2, 510)
"""First and count of the bytes in the book that each open connection locks for reading."""
SHM_OPEN_BYTE: Final = (128, 1)
"""The byte of the `-shm` file that is locked for reading while anybody has it open."""


class Hold:
    """A second, steadier lock on a book whose connection is open.

    `release` it before the connection closes and `close` it after.
    """

    def __init__(self, path: Path) -> None:
        self._files = path, path.with_name(path.name + "-wal")
        self._were = tuple(map(_identity, self._files))
        self._held: list[tuple[int, tuple[int, int]]] = []
        for file, span in (
            (path, SHARED_BYTES),
            (path.with_name(path.name + "-shm"), SHM_OPEN_BYTE),
        ):
            if _HAS_STEADY_LOCKS and file.exists():
                self._held.append((os.open(file, os.O_RDONLY), span))
                _lock(*self._held[-1], shared=True)

    def lost(self) -> bool:
        """True when the files are no longer those that were opened: changes would go nowhere."""
        return tuple(map(_identity, self._files)) != self._were

    def release(self) -> None:
        """Let go, so that the connection may tidy up if it is the last one."""
        for descriptor, span in self._held:
            _lock(descriptor, span, shared=False)

    def close(self) -> None:
        """Only after the connection: closing a descriptor drops the connection's own locks."""
        for descriptor, _ in self._held:
            os.close(descriptor)
        self._held.clear()


def _identity(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


try:
    from fcntl import F_OFD_SETLK, F_RDLCK, F_UNLCK, fcntl
except ImportError:
    _HAS_STEADY_LOCKS = False

    def _lock(descriptor: int, span: tuple[int, int], *, shared: bool) -> None:
        """There are no such locks here."""
else:
    _HAS_STEADY_LOCKS = True

    def _lock(descriptor: int, span: tuple[int, int], *, shared: bool) -> None:
        """Some network file systems know no locks; then there is nothing to keep."""
        kind = F_RDLCK if shared else F_UNLCK
        # struct flock: type, whence, start, length, process (0: the description's own).
        asked = struct.pack("hhqqi4x", kind, os.SEEK_SET, *span, 0)
        with contextlib.suppress(OSError):
            fcntl(descriptor, F_OFD_SETLK, asked)
