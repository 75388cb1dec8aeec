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
import ctypes
import errno
import os
import sqlite3
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from partsbench.store.waiting import HEADER_BYTES, STAMP_AT, in_header, shm_of, wal_of

SHARED_BYTES: Final = (0x40000000 + 2, 510)
"""First and count of the bytes in the book that each open connection locks for reading."""
SHM_OPEN_BYTE: Final = (128, 1)
"""The byte of the `-shm` file that is locked for reading while anybody has it open."""


_PIECE: Final = 1 << 20


class BookHold:
    """A second, steadier lock on a book whose connection is open, and an eye on its header.

    `release` it before the connection closes and `close` it after.
    """

    def __init__(self, path: Path) -> None:
        self._files = path, wal_of(path)
        self._were = tuple(map(_identity, self._files))
        self._book = _open(path, os.O_RDWR)
        if self._book is None:
            self._book = _open(path, os.O_RDONLY)
        self._held: list[tuple[int, tuple[int, int]]] = []
        for descriptor, span in (
            (self._book, SHARED_BYTES),
            (_open(shm_of(path), os.O_RDONLY), SHM_OPEN_BYTE),
        ):
            if descriptor is not None:
                self._held.append((descriptor, span))
                _lock(descriptor, span, shared=True)

    def lost(self) -> bool:
        """True when the files are no longer those that were opened: changes would go nowhere."""
        return tuple(map(_identity, self._files)) != self._were

    def version(self) -> int | None:
        """`user_version` as the file itself bears it now; None for a book that is no file."""
        if self._book is None:
            return None
        os.lseek(self._book, 0, os.SEEK_SET)
        return in_header(os.read(self._book, HEADER_BYTES)) or 0

    def pieces(self) -> Iterator[bytes]:
        """The whole file, through the descriptor that is held: to close another would drop the
        connection's locks."""
        if self._book is None:
            return
        os.lseek(self._book, 0, os.SEEK_SET)
        while piece := os.read(self._book, _PIECE):
            yield piece

    def write_version(self, version: int) -> None:
        """Puts it into the file and on the disk. OSError when that cannot be."""
        assert self._book is not None
        os.lseek(self._book, STAMP_AT, os.SEEK_SET)
        os.write(self._book, version.to_bytes(4, "big"))
        os.fsync(self._book)

    def nothing_waits(self) -> bool:
        """True when the file of waiting changes is there and empty."""
        try:
            return self._files[1].stat().st_size == 0
        except OSError:
            return False

    def close_without_tidying(self, connection: sqlite3.Connection) -> None:
        """Closes a connection whose book was taken from under it: nothing that waits is put onto
        what lies there now, and nothing is taken away."""
        if _HAS_STEADY_LOCKS:
            # The connection takes itself for the last one only when it gets this lock.
            connection.close()
        else:
            # Left open until the program ends, which then tidies nothing either.
            ctypes.pythonapi.Py_IncRef(ctypes.py_object(connection))
        self.close()

    def release(self) -> None:
        """Let go, so that the connection may tidy up if it is the last one."""
        for descriptor, span in self._held:
            _lock(descriptor, span, shared=False)

    def close(self) -> None:
        """Only after the connection: closing a descriptor drops the connection's own locks."""
        for descriptor, _ in self._held:
            os.close(descriptor)
        self._held.clear()
        self._book = None


@contextlib.contextmanager
def nobody_has(path: Path) -> Iterator[bool]:
    """Keeps a book from being opened meanwhile; False when somebody has it open already.

    Where there are no steady locks, what is open cannot be renamed (Windows) or is told by the
    change itself (`Hold.lost`).
    """
    descriptor = _open(path, os.O_RDWR) if _HAS_STEADY_LOCKS else None
    if descriptor is None:
        yield True
        return
    try:
        yield _lock(descriptor, SHARED_BYTES, shared=False, alone=True)
    finally:
        os.close(descriptor)


def _open(file: Path, how: int) -> int | None:
    try:
        return os.open(file, how | getattr(os, "O_BINARY", 0))
    except OSError:
        return None


def _identity(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


try:
    from fcntl import F_OFD_SETLK, F_RDLCK, F_UNLCK, F_WRLCK, fcntl
except ImportError:
    _HAS_STEADY_LOCKS = False

    def _lock(descriptor: int, span: tuple[int, int], *, shared: bool, alone: bool = False) -> bool:
        """There are no such locks here."""
        return True
else:
    _HAS_STEADY_LOCKS = True

    def _lock(descriptor: int, span: tuple[int, int], *, shared: bool, alone: bool = False) -> bool:
        """Neither shared nor alone lets go. False when another one has it. Some network file
        systems know no locks; then there is nothing to keep."""
        kind = F_RDLCK if shared else F_WRLCK if alone else F_UNLCK
        # struct flock: type, whence, start, length, process (0: the description's own).
        asked = struct.pack("hhqqi4x", kind, os.SEEK_SET, *span, 0)
        try:
            fcntl(descriptor, F_OFD_SETLK, asked)
        except OSError as error:
            return error.errno not in (errno.EACCES, errno.EAGAIN)
        return True
