"""Files that a person names: read up to a size, written whole or not at all, never over a device.

Only a plain file is read or replaced: a pipe or a device may give without end, or be the machine's.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_folder, not_written

BOOK: Final = ".partsbench"
"""How the names of books and their copies end."""
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
_ANYBODY_WRITES: Final = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH


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
        shut = error.errno in (errno.EACCES, errno.EPERM)
        return "its folder may not be written to" if shut else why(error)
    return ""


def is_there(path: Path) -> bool:
    """Whether anything bears that name; False for a name that nothing can bear."""
    try:
        path.lstat()
    except (OSError, ValueError):
        return False
    return True


def itself(path: Path) -> Path:
    """The file that a link leads to; any other path as it is."""
    return Path(os.path.realpath(path)) if path.is_symlink() else path


def put_on_disk(folder: Path) -> None:
    """Makes sure that names given in a folder outlive a power cut, where the system can do that."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


# Reading


def read(path: Path, most: int) -> bytes | Refused:
    """What a plain file of at most so many bytes holds."""
    try:
        # A pipe without a writer would keep an open that waits.
        descriptor = os.open(
            path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        )
        with os.fdopen(descriptor, "rb") as file:
            found = os.fstat(file.fileno())
            if not stat.S_ISREG(found.st_mode):
                return Refused(f"{path} is no plain file.")
            data = file.read(most + 1)
    except OSError as error:
        return Refused(f"{path}: {error.strerror or error}.")
    if len(data) > most:
        return Refused(f"{path} is too large: at most {_size(most)} are read.")
    return data


def read_text(path: Path, most: int) -> str | Refused:
    """The text of a file in UTF-8, without the mark that some editors put at its beginning."""
    data = read(path, most)
    return data if isinstance(data, Refused) else text_of(data, path)


def text_of(data: bytes, path: Path) -> str | Refused:
    try:
        # As from any text file, each kind of line end is one.
        return data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        return Refused(f"{path}: not a text file.")


def _size(count: int) -> str:
    return f"{count / 1e6:g} MB" if count >= 100_000 else f"{count / 1e3:g} kB"


# Writing


def target_fault(path: Path) -> Refused | None:
    """Why no file of that name may be written. Looks at it, opens nothing."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        if path.absolute().parent.is_dir():
            return None
        return Refused(no_folder(path.absolute().parent))
    except NotADirectoryError:
        return Refused(no_folder(path.absolute().parent))
    except (OSError, ValueError) as error:
        reason = why(error) if isinstance(error, OSError) else "that is no name"
        return Refused(f"{path} cannot be written: {reason}.")
    if stat.S_ISDIR(found.st_mode):
        return Refused(f"{path} is a folder.")
    if stat.S_ISLNK(found.st_mode):
        return Refused(f"{path} is a link; name the file itself, or another.")
    if not stat.S_ISREG(found.st_mode):
        return Refused(f"{path} is no plain file, but a device, a pipe or the like.")
    # Whoever may do everything may do this too, but did not mean it.
    if not found.st_mode & _ANYBODY_WRITES or not os.access(path, os.W_OK):
        return Refused(f"{path} is there already and is write-protected.")
    return None


@contextlib.contextmanager
def draft(path: Path, data: bytes) -> Iterator[None]:
    """Puts `data` on the disk, runs what is inside, and only then lets it take its name.

    So a file is whole or not there, and what the inside refuses leaves none. OSError when it
    cannot be written, before what is inside is run unless the name itself cannot be given.
    """
    handle, name = tempfile.mkstemp(prefix=".partsbench-", dir=path.absolute().parent)
    waiting = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        waiting.chmod(0o666 & ~_umask())
        yield
        waiting.replace(path)
    finally:
        waiting.unlink(missing_ok=True)


def write(path: Path, data: bytes) -> Refused | None:
    """A whole file of that name, or why there is none. What stood there stays until then."""
    fault = target_fault(path)
    if fault:
        return fault
    try:
        with draft(path, data):
            pass
    except OSError as error:
        return Refused(not_written(path, why(error)))
    return None


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
