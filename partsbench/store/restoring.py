"""A copy put in the place of a book: what that would lose, and how it is done whole or not."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from partsbench import files
from partsbench.core.journal_lines import JournalLine
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_file, not_replaced
from partsbench.core.wording import clauses
from partsbench.store import chain, checking, door
from partsbench.store.book import Book, open_book
from partsbench.store.holding import nobody_has
from partsbench.store.journal import entries, note
from partsbench.store.waiting import free_name, shm_of, wal_of


@dataclass(frozen=True, slots=True)
class Loss:
    """What the book has and a copy has not: how many changes, the latest of them first, and how
    many the copy has that the book has not. `unknown` says why the book cannot be asked."""

    count: int = 0
    latest: tuple[JournalLine, ...] = ()
    others: int = 0
    unknown: str = ""


@contextlib.contextmanager
def looked_through(copy: Path, beside: Path) -> Iterator[Book | Refused]:
    """A copy opened on a copy of its own, so that it stays as it is; refused unless it is sound."""
    fault = door.file_fault(copy)
    if fault or not copy.exists():
        yield fault or Refused(no_file(copy))
        return
    with tempfile.TemporaryDirectory(prefix=".partsbench-", dir=beside) as folder:
        own = Path(folder) / "copy"
        shutil.copyfile(copy, own)
        own.chmod(0o600)
        if door.waits_beside(copy):
            shutil.copyfile(wal_of(copy), wal_of(own))
        found = open_book(own)
        if isinstance(found, Refused):
            yield Refused(found.sentence.replace(str(own), str(copy)))
            return
        with contextlib.closing(found):
            wrong = checking.faults(found)
            yield Refused(f"{copy} is damaged: {wrong[0]}.") if wrong else found


def loss(book: Book | None, copy: Book, most: int = 5) -> Loss:
    """What would be lost if the copy were the book."""
    if book is None:
        return Loss(unknown="the book that is there cannot be opened")
    ours, theirs = chain.sums(book.connection), chain.sums(copy.connection)
    common = max((k for k, sum_ in ours.items() if theirs.get(k) == sum_), default=0)
    count = sum(1 for key in ours if key > common)
    others = sum(1 for key in theirs if key > common)
    return Loss(count, tuple(entries(book, limit=min(count, most)) if count else ()), others)


def put_in_place(path: Path, copy: Book, at: datetime, who: str) -> Path | Refused | None:
    """The copy is the book from now on. Gives where the book that was there is kept.

    The book must be closed here, and nobody else may have it open.
    """
    aside: Path | None = None
    with nobody_has(path) as free:
        if not free:
            return Refused(f"A window has {path} open. Close it first; nothing was changed.")
        draft = copy.path.with_name("draft")
        fault = copy.save_copy(draft)
        if fault:
            return Refused(fault.sentence.replace(str(draft), str(path)))
        try:
            when = f"{at.astimezone():%Y-%m-%d-%H%M}"
            if path.exists():
                aside = free_name(path.with_name(f"{path.stem}.before-{when}{path.suffix}"))
                os.link(path, aside)
            for beside in (wal_of, shm_of):
                if aside and beside(path).exists():
                    beside(path).rename(beside(aside))
            draft.replace(path)
            files.put_on_disk(path.absolute().parent)
        except OSError as error:
            return Refused(not_replaced(path, files.why(error)))
    restored = open_book(path)
    if isinstance(restored, Refused):
        return restored
    with contextlib.closing(restored), restored.transaction():
        kept = f"what was there is in {aside.name}" if aside else ""
        note(restored, clauses(["Got back from a copy", kept]), at, who)
    return aside
