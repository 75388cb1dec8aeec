"""A whole copy of a book: written under another name, looked through, and only then named."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
from pathlib import Path

from partsbench import files
from partsbench.core.said_often import no_folder
from partsbench.store.waiting import STAMP_AT, stamped_anew


def copy_whole(connection: sqlite3.Connection, target: Path) -> str:
    """Why no copy was made at `target`, where there must be nothing; empty when it was.

    The copy is of one moment, also while others write, readable by its owner only, and bears a
    stamp of its own, so that nothing that waits beside the book is ever taken for the copy's.
    """
    folder = target.absolute().parent
    try:
        if target.exists() or target.is_symlink():
            return f"{target} is there already; choose another name."
        if not folder.is_dir():
            return no_folder(target.parent)
        with tempfile.TemporaryDirectory(prefix=".partsbench-", dir=folder) as inside:
            draft = Path(inside) / "copy"
            os.close(os.open(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
            connection.execute("VACUUM INTO ?", (str(draft),))
            version = int(connection.execute("PRAGMA user_version").fetchone()[0])
            _stamp(draft, stamped_anew(version))
            fault = _unlike(connection, draft)
            if fault:
                return f"{target} was not written: {fault}."
            give_name(draft, target)
        files.put_on_disk(folder)
    except FileExistsError:
        return f"{target} is there already; choose another name."
    except OSError as error:
        return f"{target} could not be written: {files.why(error)}."
    except sqlite3.Error as error:
        return f"{target} could not be written: {files.why_not_into(folder) or _plain(error)}."
    return ""


def _plain(error: sqlite3.Error) -> str:
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    return files.FULL if code == sqlite3.SQLITE_FULL else str(error)


def give_name(draft: Path, target: Path) -> None:
    """Names a file that is whole. FileExistsError rather than putting it over another."""
    try:
        # A link, since a renaming would go over what stands there.
        os.link(draft, target)
    except FileExistsError:
        raise
    except OSError:
        # Some disks know no links.
        if target.exists():
            raise FileExistsError(target) from None
        draft.rename(target)


def _stamp(draft: Path, version: int) -> None:
    with draft.open("r+b") as file:
        file.seek(STAMP_AT)
        file.write(version.to_bytes(4, "big"))
        file.flush()
        os.fsync(file.fileno())


def _unlike(connection: sqlite3.Connection, draft: Path) -> str:
    """What is wrong with a copy when it is read back from the disk; empty when it is whole."""
    uri = f"{draft.resolve().as_uri()}?mode=ro&immutable=1"
    with contextlib.closing(sqlite3.connect(uri, uri=True)) as copy:
        said = copy.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if said != "ok":
            return f"what was read back is damaged ({said})"
    return ""
