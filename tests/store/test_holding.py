"""An open book stays whole when its own program looks into its files, or somebody takes them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from partsbench.store.book import Book, BookWriteError, open_book
from partsbench.store.journal import change
from tests.store.conftest import NOW

ANOTHER_COMMAND = """
import sys
from pathlib import Path
from partsbench.store.book import open_book
book = open_book(Path(sys.argv[1]))
book.rows("SELECT * FROM job")
book.close()
"""


def take_in(book: Book, codename: str) -> None:
    with change(book, f"Took in {codename}", NOW, "me") as entry:
        entry.insert("job", {"codename": codename, "created_at": "2026-03-14T09:30:00Z"})


def look_into_every_file(folder: Path) -> None:
    """As a file dialog does for its icons; POSIX then drops the process's own locks."""
    for file in folder.iterdir():
        file.read_bytes()


def run_another_command(path: Path) -> None:
    subprocess.run([sys.executable, "-c", ANOTHER_COMMAND, str(path)], check=True, timeout=60)


def seen_from_outside(path: Path) -> list[str]:
    script = (
        "import sqlite3, sys\n"
        "for row in sqlite3.connect(sys.argv[1]).execute('SELECT codename FROM job'):\n"
        "    print(row[0])\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", script, str(path)],
        check=True,
        timeout=60,
        capture_output=True,
        text=True,
    )
    return told.stdout.split()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="steady locks are Linux's")
def test_a_command_that_ends_leaves_the_changes_of_a_window_that_looked_into_the_folder(
    path: Path, book: Book
) -> None:
    take_in(book, "Heron")
    look_into_every_file(path.parent)
    run_another_command(path)
    take_in(book, "Quill")
    assert seen_from_outside(path) == ["Heron", "Quill"]


def test_the_last_to_close_tidies_up(path: Path, book: Book) -> None:
    other = open_book(path)
    assert isinstance(other, Book)
    take_in(other, "Heron")
    other.close()
    assert path.with_name(path.name + "-wal").exists()
    book.close()
    assert [f.name for f in path.parent.iterdir()] == [path.name]


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file where it is")
def test_a_change_to_a_book_that_was_replaced_is_refused(path: Path, book: Book) -> None:
    take_in(book, "Heron")
    copy = path.with_name("copy.partsbench")
    assert book.save_copy(copy) is None
    copy.replace(path)
    with pytest.raises(BookWriteError, match="open the book again"):
        take_in(book, "Quill")


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file where it is")
def test_a_change_is_refused_when_its_waiting_changes_would_go_nowhere(
    path: Path, book: Book
) -> None:
    take_in(book, "Heron")
    path.with_name(path.name + "-wal").unlink()
    with pytest.raises(BookWriteError, match="open the book again"):
        take_in(book, "Quill")
