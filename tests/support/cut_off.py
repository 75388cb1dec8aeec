"""Writes to a book and is killed: `python -m tests.support.cut_off BOOK FIRST LAST`.

What it leaves beside the book is what a window leaves whose program died.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

from partsbench.store.book import Book, open_book
from partsbench.store.journal import change
from tests.store.conftest import NOW

ROOT = Path(__file__).parents[2]


def take_in(book: Book, *codenames: str) -> None:
    """A job for each codename, each a change of its own."""
    for codename in codenames:
        with change(book, f"Took in {codename}", NOW, "me") as entry:
            entry.insert("job", {"codename": codename, "created_at": "2026-03-14T09:30:00Z"})


def jobs(book: Book) -> list[str]:
    return [r["codename"] for r in book.rows("SELECT codename FROM job ORDER BY id")]


def opened(path: Path) -> Book:
    book = open_book(path)
    assert isinstance(book, Book), book
    return book


def cut_off(path: Path, first: int, last: int) -> None:
    """Record jobs J{first} to J{last} in a process that is killed before it closes the book."""
    told = subprocess.run(
        [sys.executable, "-m", "tests.support.cut_off", str(path), str(first), str(last)],
        cwd=ROOT,
        timeout=60,
        check=False,
        capture_output=True,
        text=True,
    )
    assert told.returncode == -signal.SIGKILL, told.stderr


if __name__ == "__main__":
    take_in(
        opened(Path(sys.argv[1])), *(f"J{n}" for n in range(int(sys.argv[2]), int(sys.argv[3])))
    )
    os.kill(os.getpid(), signal.SIGKILL)
