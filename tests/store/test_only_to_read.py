"""Where nothing can be written, a book is read, exported and copied elsewhere, and why is told."""

from __future__ import annotations

import ctypes
import json
import os
import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from partsbench.services.books import exchange, pieces
from partsbench.services.shop import open_shop
from partsbench.store.book import Book, open_book
from partsbench.store.waiting import wal_of
from tests.store.test_book import files_of
from tests.support.cut_off import ROOT, cut_off, jobs, opened, take_in
from tests.support.shops import lay_out

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="limits of Linux")

ASKED = """
import json, sys
from pathlib import Path
from partsbench.services.books import clients, exchange, pieces
from partsbench.services.shop import open_shop
shop = open_shop(Path(sys.argv[1]))
tag = pieces.pieces(shop)[0].tag
print(json.dumps({
    "told": shop.told,
    "jobs": [p.codename for p in pieces.pieces(shop)],
    "export": len(exchange.export(shop, tag)),
    "write": clients.set_client(shop, tag, name="Somebody").sentence,
    "copy": exchange.save_copy(shop, Path(sys.argv[2])).sentence,
    "faults": exchange.check_book(shop),
}))
shop.close()
"""


def full() -> None:
    """From here on no file of this process grows."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def as_anybody() -> None:
    """From here on a root, too, may write only where the file's mode lets its owner."""
    for capability in (1, 2):  # of linux/capability.h: to write, and to read, whatever the mode
        ctypes.CDLL(None).prctl(24, capability, 0, 0, 0)  # PR_CAPBSET_DROP; holds after exec


def asked(book: Path, copy: Path, limit: Callable[[], None]) -> dict[str, object]:
    done = subprocess.run(
        [sys.executable, "-c", ASKED, str(book), str(copy)],
        cwd=ROOT,
        preexec_fn=limit,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A book with a piece in a folder of its own."""
    folder = tmp_path / "shelf"
    folder.mkdir()
    shop = open_shop(folder / "b.partsbench")
    assert not isinstance(shop, pieces.Refused)
    lay_out(shop, "Heron", "2 2")
    shop.close()
    return folder / "b.partsbench"


def test_on_a_full_disk_a_book_is_read_and_exported(shelf: Path, tmp_path: Path) -> None:
    before = files_of(shelf.parent)
    found = asked(shelf, tmp_path / "copy", full)
    assert found["jobs"] == ["Heron"]
    assert isinstance(found["export"], int)
    assert found["export"] > 1000
    assert found["faults"] == []
    assert found["told"] == ["b.partsbench can only be read: no file may grow any larger there."]
    assert "the book can only be read: no file may grow" in str(found["write"])
    assert "could not be written: no file may grow" in str(found["copy"])
    assert files_of(shelf.parent) == before
    assert not (tmp_path / "copy").exists()


def test_in_a_read_only_folder_a_book_is_read_and_copied_elsewhere(
    shelf: Path, tmp_path: Path
) -> None:
    shelf.parent.chmod(0o555)
    try:
        found = asked(shelf, tmp_path / "copy.partsbench", as_anybody)
    finally:
        shelf.parent.chmod(0o755)
    assert found["told"] == ["b.partsbench can only be read: its folder may not be written to."]
    assert "Nothing was changed" in str(found["write"])
    assert "Copied the book" in str(found["copy"])
    copy = opened(tmp_path / "copy.partsbench")
    assert jobs(copy) == ["Heron"]
    copy.close()


def test_what_a_cut_off_window_left_is_read_there_too(tmp_path: Path) -> None:
    folder = tmp_path / "shelf"
    folder.mkdir()
    book = folder / "b.partsbench"
    cut_off(book, 0, 4)
    before = files_of(folder)
    assert wal_of(book).stat().st_size
    for file in folder.iterdir():
        if file.name.endswith("-shm"):
            file.unlink()
            before.pop(file.name)
    folder.chmod(0o555)
    script = (
        "import sys; from tests.support.cut_off import *; book = opened(Path(sys.argv[1])); "
        "print(len(jobs(book)), book.told); book.close()"
    )
    try:
        done = subprocess.run(
            [sys.executable, "-c", script, str(book)], cwd=ROOT, preexec_fn=as_anybody,
            capture_output=True, text=True, timeout=60, check=False,
        )  # fmt: skip
    finally:
        folder.chmod(0o755)
    assert done.stdout.startswith("4 ("), done.stderr
    assert files_of(folder) == before


def test_a_new_book_is_its_owners_only_and_whole_or_not_there(tmp_path: Path) -> None:
    book = opened(tmp_path / "new.partsbench")
    take_in(book, "Heron")
    modes = {f.name: f.stat().st_mode & 0o777 for f in tmp_path.iterdir()}
    assert set(modes.values()) == {0o600}
    assert len(modes) == 3
    book.close()
    script = (
        "import sys; from pathlib import Path; from partsbench.store.book import open_book; "
        "print(open_book(Path(sys.argv[1])).sentence)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "other")], cwd=ROOT, timeout=60,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000)),
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert "other cannot be made: no file may grow" in done.stdout, done.stderr
    assert [f.name for f in tmp_path.iterdir()] == ["new.partsbench"]


@pytest.mark.parametrize("size", [0, 4096, 50_000])
def test_a_copy_that_does_not_fit_leaves_nothing(shelf: Path, tmp_path: Path, size: int) -> None:
    there = tmp_path / "other disk"
    there.mkdir()
    script = (
        "import sys, resource; from pathlib import Path; from partsbench.store.book import *; "
        "book = open_book(Path(sys.argv[1])); "
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size})); "
        "print(book.save_copy(Path(sys.argv[2])).sentence)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(shelf), str(there / "copy")], cwd=ROOT, timeout=60,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert "could not be written: no file may grow" in done.stdout, done.stderr
    assert list(there.iterdir()) == []


def test_a_pipe_in_the_place_of_a_book_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "b.partsbench"
    os.mkfifo(pipe)
    found = open_book(pipe)
    assert not isinstance(found, Book)
    assert "no plain file" in found.sentence


def test_an_export_from_a_book_only_read_is_the_same(shelf: Path, tmp_path: Path) -> None:
    shop = open_shop(shelf)
    assert not isinstance(shop, pieces.Refused)
    text = exchange.export(shop, pieces.pieces(shop)[0].tag)
    shop.close()
    assert isinstance(text, str)
    assert asked(shelf, tmp_path / "c", full)["export"] == len(text)
