"""What waits beside a book goes into that book or into none: it is never mixed, never deleted."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from partsbench.core.outcomes import Refused
from partsbench.store.book import Book, BookWriteError, open_book
from partsbench.store.waiting import (
    form_of,
    in_header,
    look_into,
    put_aside,
    shm_of,
    stamped_anew,
    wal_of,
)
from tests.store.test_book import files_of
from tests.support.cut_off import ROOT, cut_off, jobs, opened, take_in


def aside(path: Path) -> list[Path]:
    return sorted(path.parent.glob("*-put-aside*"))


def saved(path: Path, name: str = "copy.partsbench") -> Path:
    book = opened(path)
    copy = path.with_name(name)
    assert book.save_copy(copy) is None
    book.close()
    return copy


@pytest.fixture
def begun(path: Path) -> Path:
    """A book with three jobs, closed."""
    book = opened(path)
    take_in(book, "Heron", "Quill", "Sedge")
    book.close()
    return path


def test_what_a_window_left_that_was_cut_off_is_in_the_book(begun: Path) -> None:
    cut_off(begun, 0, 5)
    book = opened(begun)
    assert jobs(book)[3:] == [f"J{n}" for n in range(5)]
    assert book.told == ()
    book.close()
    assert aside(begun) == []


@pytest.mark.parametrize("way", ["copied over", "put in its place"])
def test_a_copy_restored_beside_waiting_changes_is_the_book(begun: Path, way: str) -> None:
    copy = saved(begun)
    cut_off(begun, 0, 5)
    waiting = wal_of(begun).read_bytes()
    if way == "copied over":
        shutil.copyfile(copy, begun)
    else:
        copy.replace(begun)
    book = opened(begun)
    assert jobs(book) == ["Heron", "Quill", "Sedge"]
    assert book.faults() == []
    (kept,) = aside(begun)
    assert kept.read_bytes() == waiting
    assert kept.name in book.told[0]
    book.close()


def test_a_plain_copy_of_the_closed_book_restored_is_the_book(begun: Path) -> None:
    """Byte for byte what the changes were made upon: only the stamp tells that it was put back."""
    copy = begun.with_name("plain.partsbench")
    shutil.copyfile(begun, copy)
    cut_off(begun, 0, 5)
    shutil.copyfile(copy, begun)
    book = opened(begun)
    assert jobs(book) == ["Heron", "Quill", "Sedge"]
    assert len(aside(begun)) == 1
    book.close()


def test_a_folder_copied_whole_keeps_its_waiting_changes(begun: Path, tmp_path: Path) -> None:
    cut_off(begun, 0, 5)
    there = tmp_path / "other disk"
    there.mkdir()
    for file in (begun, wal_of(begun)):
        shutil.copyfile(file, there / file.name)
    book = opened(there / begun.name)
    assert len(jobs(book)) == 8
    assert book.told == ()
    book.close()


def test_a_second_window_cut_off_after_the_first_loses_nothing(begun: Path) -> None:
    cut_off(begun, 0, 5)
    cut_off(begun, 5, 9)
    book = opened(begun)
    assert jobs(book)[3:] == [f"J{n}" for n in range(9)]
    book.close()


def test_waiting_changes_of_a_book_that_is_gone_are_kept(begun: Path) -> None:
    cut_off(begun, 0, 5)
    waiting = wal_of(begun).read_bytes()
    begun.unlink()
    book = opened(begun)
    assert jobs(book) == []
    assert [p.read_bytes() for p in aside(begun)] == [waiting]
    book.close()


def test_two_put_aside_stand_beside_one_another(begun: Path) -> None:
    for text in ("one", "two"):
        wal_of(begun).write_text(text)
        put_aside(wal_of(begun))
    assert [p.read_text() for p in aside(begun)] == ["one", "two"]


def test_a_copy_put_over_an_open_book_is_noticed_before_the_next_change(begun: Path) -> None:
    copy = saved(begun)
    book = opened(begun)
    take_in(book, "Teal")
    shutil.copyfile(copy, begun)
    with pytest.raises(BookWriteError, match="open the book again"):
        take_in(book, "Wigeon")
    book.close()
    again = opened(begun)
    assert jobs(again) == ["Heron", "Quill", "Sedge"]
    assert again.faults() == []
    assert len(aside(begun)) == 1
    again.close()


def test_a_copy_put_over_a_book_that_nothing_waits_for_is_noticed_too(begun: Path) -> None:
    copy = saved(begun)
    book = opened(begun)
    shutil.copyfile(copy, begun)
    with pytest.raises(BookWriteError, match="open the book again"):
        take_in(book, "Wigeon")
    book.close()
    again = opened(begun)
    assert jobs(again) == ["Heron", "Quill", "Sedge"]
    again.close()


def test_a_command_beside_an_open_window_refuses_a_book_put_over_it(begun: Path) -> None:
    copy = saved(begun)
    window = opened(begun)
    take_in(window, "Teal")
    shutil.copyfile(copy, begun)
    before = files_of(begun.parent)
    other = open_book(begun)
    assert isinstance(other, Refused)
    assert "Close that window" in other.sentence
    after = files_of(begun.parent)
    assert {k: v for k, v in after.items() if not k.endswith("-shm")} == {
        k: v for k, v in before.items() if not k.endswith("-shm")
    }
    window.close()


def test_a_command_beside_an_open_window_sees_its_changes(begun: Path) -> None:
    window = opened(begun)
    take_in(window, "Teal")
    other = opened(begun)
    take_in(other, "Wigeon")
    take_in(window, "Garganey")
    assert jobs(other) == jobs(window) == ["Heron", "Quill", "Sedge", "Teal", "Wigeon", "Garganey"]
    other.close()
    window.close()


def test_a_change_that_is_taken_back_leaves_the_stamp(begun: Path) -> None:
    one, other = opened(begun), opened(begun)
    with pytest.raises(ZeroDivisionError), one.transaction():
        raise ZeroDivisionError
    take_in(other, "Teal")
    take_in(one, "Wigeon")
    assert jobs(one)[-2:] == ["Teal", "Wigeon"]
    one.close()
    other.close()


def test_a_waiting_file_with_a_spoilt_middle_is_told_and_kept(begun: Path) -> None:
    cut_off(begun, 0, 6)
    wal = wal_of(begun)
    spoilt = bytearray(wal.read_bytes())
    spoilt[len(spoilt) // 2] ^= 4
    wal.write_bytes(spoilt)
    book = opened(begun)
    assert jobs(book)[:3] == ["Heron", "Quill", "Sedge"]
    assert 3 < len(jobs(book)) < 9
    assert "cannot be read" in book.told[0]
    lacking = 9 - len(jobs(book))
    assert f"the last {lacking} cannot" in book.told[0]
    (kept,) = begun.parent.glob("*-spoilt")
    assert kept.read_bytes() == bytes(spoilt)
    book.close()


def test_a_last_change_that_was_cut_off_is_nothing_to_tell(begun: Path) -> None:
    cut_off(begun, 0, 6)
    wal = wal_of(begun)
    wal.write_bytes(wal.read_bytes()[:-6000])
    book = opened(begun)
    assert jobs(book)[3:] == [f"J{n}" for n in range(5)]
    assert book.told == ()
    book.close()


def test_a_last_change_whose_end_is_spoilt_is_told(begun: Path) -> None:
    """It may have been acknowledged: all of it was written."""
    cut_off(begun, 0, 6)
    wal = wal_of(begun)
    wal.write_bytes(wal.read_bytes()[:-10])
    book = opened(begun)
    assert jobs(book)[3:] == [f"J{n}" for n in range(5)]
    assert "the last one cannot be read" in book.told[0]
    book.close()


@pytest.mark.parametrize("spoilt_at", range(8, 16))
@pytest.mark.parametrize("bit", range(8))
def test_a_last_change_that_seems_of_another_time_is_told(
    begun_and_cut: bytes, tmp_path: Path, spoilt_at: int, bit: int
) -> None:
    """One bit of the two numbers that say of which time a frame is, in the last one."""
    wal = bytearray(begun_and_cut)
    page = int.from_bytes(wal[8:12], "big")
    wal[len(wal) - page - 24 + spoilt_at] ^= 1 << bit
    file = tmp_path / "spoilt-wal"
    file.write_bytes(wal)
    found = look_into(file)
    assert (found.changes, found.beyond) == (5, 1)


@pytest.fixture(scope="module")
def begun_and_cut(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """What waits beside a book with six changes of a window that was cut off."""
    path = tmp_path_factory.mktemp("cut") / "shop.partsbench"
    opened(path).close()
    cut_off(path, 0, 6)
    return wal_of(path).read_bytes()


@pytest.mark.parametrize("times", [1, 2, 7])
def test_what_is_left_over_from_earlier_times_is_nothing_to_tell(
    tmp_path: Path, times: int
) -> None:
    """SQLite writes the file from its start again when all of it is in the book."""
    path = tmp_path / "plain.db"
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("CREATE TABLE job (name TEXT)")
    for _ in range(times):
        for number in range(40):
            db.execute("INSERT INTO job VALUES (?)", (f"{number}" * 500,))
        db.execute("PRAGMA wal_checkpoint(RESTART)")
    db.execute("INSERT INTO job VALUES ('the last one')")
    found = look_into(wal_of(path))
    assert (found.readable, found.changes, found.beyond) == (True, 1, 0)
    assert wal_of(path).stat().st_size > 20 * 4096
    db.close()


def test_a_file_made_longer_before_it_was_written_is_nothing_to_tell(
    begun_and_cut: bytes, tmp_path: Path
) -> None:
    file = tmp_path / "long-wal"
    file.write_bytes(begun_and_cut + bytes(3 * 4120))
    assert (look_into(file).changes, look_into(file).beyond) == (6, 0)


def test_rubbish_beside_a_book_is_kept_and_told(begun: Path) -> None:
    wal_of(begun).write_bytes(b"not what SQLite wrote " * 1000)
    book = opened(begun)
    assert jobs(book) == ["Heron", "Quill", "Sedge"]
    assert len(aside(begun)) == 1
    book.close()


def test_looking_into_a_waiting_file_counts_its_changes(begun: Path) -> None:
    cut_off(begun, 0, 6)
    found = look_into(wal_of(begun))
    assert (found.readable, found.changes, found.beyond) == (True, 6, 0)
    assert found.stamps == {in_header(begun.read_bytes())}
    assert found.belongs_to(begun.read_bytes()[:100]) is True
    assert found.belongs_to(b"SQLite") is False


def test_a_stamp_leaves_the_form_and_is_another_each_time() -> None:
    first = stamped_anew(7)
    second = stamped_anew(first)
    assert form_of(first) == form_of(second) == 7
    assert len({7, first, second}) == 3
    assert first < 2**31


def test_a_book_is_stamped_when_its_first_change_waits_and_not_by_looking(begun: Path) -> None:
    before = begun.read_bytes()
    book = opened(begun)
    assert len(jobs(book)) == 3
    book.close()
    assert begun.read_bytes() == before
    book = opened(begun)
    take_in(book, "Teal")
    first = in_header(begun.read_bytes())
    take_in(book, "Wigeon")
    assert in_header(begun.read_bytes()) == first != in_header(before)
    book.close()


@pytest.mark.parametrize("file", [wal_of, shm_of])
def test_a_folder_in_the_books_way_is_named(begun: Path, file: object) -> None:
    in_the_way = file(begun)  # type: ignore[operator]
    in_the_way.mkdir()
    fault = open_book(begun)
    assert isinstance(fault, Refused)
    assert fault.sentence.startswith(f"{in_the_way} is a folder")
    in_the_way.rmdir()
    book = open_book(begun)
    assert isinstance(book, Book)
    book.close()


def test_much_that_waits_goes_into_the_open_book_by_itself(
    begun: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("partsbench.store.book.FOLDED_IN_FROM", 100_000)
    book = opened(begun)
    stamps = set()
    for number in range(40):
        take_in(book, f"J{number}")
        stamps.add(in_header(begun.read_bytes()))
        assert wal_of(begun).stat().st_size < 200_000
    assert len(stamps) > 2
    assert len(jobs(book)) == 43
    book.close()
    assert subprocess.run(
        [sys.executable, "-c", "import sys; from tests.support.cut_off import *; "
         "print(len(jobs(opened(Path(sys.argv[1])))))", str(begun)],
        cwd=ROOT, check=True, capture_output=True, text=True, timeout=60,
    ).stdout.strip() == "43"  # fmt: skip


@pytest.mark.skipif(os.name == "nt", reason="links of POSIX")
def test_a_book_behind_a_link_has_its_waiting_changes(begun: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    link = elsewhere / "link.partsbench"
    link.symlink_to(begun)
    cut_off(link, 0, 3)
    book = opened(link)
    assert jobs(book)[3:] == ["J0", "J1", "J2"]
    take_in(book, "Teal")
    copy = tmp_path / "copy.partsbench"
    assert book.save_copy(copy) is None
    shutil.copyfile(copy, begun)
    with pytest.raises(BookWriteError, match="open the book again"):
        take_in(book, "Wigeon")
    book.close()
    again = opened(link)
    assert jobs(again)[-1] == "Teal"
    again.close()
    assert list(elsewhere.iterdir()) == [link]
