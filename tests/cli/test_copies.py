from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Call
from tests.support.clock import SetClock
from tests.support.cut_off import cut_off


def test_copies_are_listed_made_and_told(call: Call, tag: str, tmp_path: Path) -> None:
    assert "no folder is chosen" in call("copies").out
    folder = tmp_path / "second"
    folder.mkdir()
    assert call("copies", "--folder", folder).code == 0
    (row,) = call("copies", "--json").json
    assert Path(row["file"]).parent == folder
    told = call("copies").out
    assert row["file"] in told
    assert "All copies of the last 7 days are kept" in told
    assert call("copies", "--folder", tmp_path / "no").code == 2
    assert "the latest has all" in call("check-book").out


def test_a_copy_is_restored_after_saying_what_is_lost(
    call: Call, tag: str, book: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.partsbench"
    call("save-copy", copy)
    call("lay-out", "Quill", "--rows", "2")
    asked = call("restore", copy)
    assert asked.code == 1
    assert "Lost would be 1 change “Took in Quill" in asked.out
    assert "Quill" in call("pieces").out
    done = call("restore", copy, "--yes")
    assert done.code == 0
    assert "is kept as shop.before-" in done.out
    assert "Quill" not in call("pieces").out
    assert call("check-book").code == 0


def test_a_copy_put_over_the_book_by_hand_is_told_once(call: Call, tag: str, book: Path) -> None:
    copy = book.with_name("copy.partsbench")
    call("save-copy", copy)
    cut_off(book, 0, 3)
    shutil.copyfile(copy, book)
    first = call("pieces")
    assert first.code == 0
    assert "They were not used, and are kept as shop.partsbench-wal-put-aside" in first.err
    assert call("pieces").err == ""
    assert call("check-book").code == 0


@pytest.mark.parametrize("words", [["restore"], ["copies", "--folder"]])
def test_what_is_missing_is_asked_for(call: Call, tag: str, words: list[str]) -> None:
    assert call(*words).code == 2


def test_an_empty_file_is_no_book_for_any_command(call: Call, book: Path, tmp_path: Path) -> None:
    book.touch()
    for words in (["lay-out", "Heron", "--rows", "2"], ["pieces"], ["undo"], ["check-book"]):
        told = call(*words)
        assert told.code == 2
        assert "is empty, so it is no book" in told.err
    assert book.stat().st_size == 0
    assert [f.name for f in tmp_path.iterdir()] == [book.name]


def test_a_copy_is_made_when_it_is_asked_for(
    good: Call, call: Call, tag: str, tmp_path: Path, clock: SetClock
) -> None:
    assert call("copies", "--now").err == "partsbench: No folder for copies is chosen.\n"
    folder = tmp_path / "second"
    folder.mkdir()
    good("copies", "--folder", folder)
    good("lay-out", "Quill", "--rows", "2")
    assert f"Copies go to {folder}. " in good("copies").out
    clock.pass_time(hours=1)
    good("copies", "--now")
    assert f"Copies go to {folder}; the latest has all that is in the book." in good("copies").out


def test_a_book_that_cannot_be_opened_is_told_beside_what_its_copy_would_bring(
    good: Call, call: Call, tag: str, book: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.partsbench"
    good("save-copy", copy)
    book.write_bytes(b"a shopping list")
    asked = call("restore", copy, "--json")
    assert asked.code == 1
    assert asked.err.count("\n") == 1 and str(book) in asked.err
    assert "sentence" in asked.json
    assert call("restore", copy, "--yes").code == 0
    assert tag in good("pieces").out
