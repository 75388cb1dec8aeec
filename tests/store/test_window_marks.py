"""A window leaves a mark beside its book only when it was cut off; each window has its own."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from partsbench.store.window_marks import MOST_WINDOWS, cut_off, forget_cut_off, mark_window
from tests.store.conftest import NOW

ELSEWHERE = """
import os, signal, sys
from datetime import datetime
from pathlib import Path
from partsbench.store.window_marks import mark_window
mark = mark_window(Path(sys.argv[1]), datetime.fromisoformat(sys.argv[2]))
assert mark
if sys.argv[3] == "closed":
    mark.close()
else:
    os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "b.partsbench"
    path.write_bytes(b"")
    return path


def window_elsewhere(book: Path, end: str) -> None:
    """Another program opens a window on the book, and ends."""
    subprocess.run([sys.executable, "-c", ELSEWHERE, str(book), NOW.isoformat(), end],
                   check=False, timeout=60)  # fmt: skip


def test_a_program_that_was_killed_is_told_and_one_that_was_closed_is_not(book: Path) -> None:
    window_elsewhere(book, "closed")
    assert cut_off(book) == []
    window_elsewhere(book, "killed")
    assert cut_off(book) == [NOW]
    assert cut_off(book) == [NOW], "looking takes nothing away"
    forget_cut_off(book)
    assert cut_off(book) == []
    assert [p.name for p in book.parent.iterdir()] == [book.name]


def test_an_open_window_is_no_sign_of_a_cut(book: Path) -> None:
    first = mark_window(book, NOW)
    second = mark_window(book, NOW + timedelta(hours=1))
    assert first and second and first.path != second.path
    assert cut_off(book) == []
    forget_cut_off(book)
    assert first.path.exists() and second.path.exists()
    first.close()
    second.close()
    assert [p.name for p in book.parent.iterdir()] == [book.name]


def test_closing_one_window_leaves_the_mark_of_another(book: Path) -> None:
    first = mark_window(book, NOW)
    second = mark_window(book, NOW + timedelta(hours=1))
    assert first and second
    second.let_go()
    first.close()
    assert cut_off(book) == [NOW + timedelta(hours=1)]
    third = mark_window(book, NOW + timedelta(hours=2))
    assert third and third.path != second.path, "it takes the place of none that was cut off"
    third.close()
    assert cut_off(book) == [NOW + timedelta(hours=1)]


def test_a_book_in_memory_has_no_window(tmp_path: Path) -> None:
    assert mark_window(Path(":memory:"), NOW) is None
    assert cut_off(Path(":memory:")) == []


def test_a_file_without_sense_is_no_window(book: Path) -> None:
    (book.parent / f"{book.name}-window7").write_bytes(b"\xff not a time")
    (book.parent / f"{book.name}-window8").write_bytes(b"")
    assert cut_off(book) == []


def test_what_stands_in_the_place_of_a_mark_is_no_window_and_lets_none_be_made(book: Path) -> None:
    in_the_way = book.parent / f"{book.name}-window1"
    in_the_way.mkdir()
    assert cut_off(book) == []
    forget_cut_off(book)
    assert in_the_way.is_dir()
    assert mark_window(book, NOW) is None, "the window opens all the same"


def test_a_folder_that_is_gone_has_no_windows(tmp_path: Path) -> None:
    gone = tmp_path / "stick" / "b.partsbench"
    assert mark_window(gone, NOW) is None
    assert cut_off(gone) == []


def test_so_many_windows_have_a_mark_and_one_more_has_none(book: Path) -> None:
    marks = [mark_window(book, NOW) for _ in range(MOST_WINDOWS)]
    assert marks[-1] is None
    open_ones = [mark for mark in marks if mark]
    assert len({mark.path for mark in open_ones}) == len(open_ones) == MOST_WINDOWS - 1
    closed = open_ones.pop(3)
    closed.close()
    again = mark_window(book, NOW)
    assert again and again.path == closed.path
    for mark in (*open_ones, again):
        mark.close()
    assert [p.name for p in book.parent.iterdir()] == [book.name]
