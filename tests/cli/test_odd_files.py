"""A file that cannot be what is asked of it is told in one line, and nothing was changed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.cli.conftest import Call
from tests.store.test_book import files_of

LONG = "n" * 300
READ = [["take-in"], ["review"], ["keep-path"], ["read"], ["return", "TAG"], ["restore"]]
WRITTEN = [["export", "TAG"], ["save-copy"], ["proof", "TAG", "--out"], ["labels", "TAG", "--out"],
           ["care-sheet", "TAG", "--out"], ["copy-path", "paint", "mine", "--name", "M", "--out"],
           ["verbs", "--out"], ["day-sheet", "--out"]]  # fmt: skip


def words(of: list[str], tag: str) -> list[str]:
    return [tag if word == "TAG" else word for word in of]


def told_in_one_line(call: Call, asked: list[str], folder: Path) -> str:
    before = files_of(folder)
    told = call(*asked)
    assert told.code == 2, (asked, told)
    assert told.err.count("\n") == 1, told.err
    assert len(told.err) < 900
    assert files_of(folder) == before
    return told.err


@pytest.mark.parametrize("of", [*READ, *WRITTEN])
@pytest.mark.parametrize("kind", ["long", "folder", "pipe", "book"])
def test_what_is_no_such_file_is_told(
    call: Call, tag: str, tmp_path: Path, book: Path, of: list[str], kind: str
) -> None:
    file = tmp_path / {"long": LONG, "book": book.name}.get(kind, kind)
    if kind == "folder":
        file.mkdir()
    if kind == "pipe":
        os.mkfifo(file)
    told_in_one_line(call, [*words(of, tag), str(file)], tmp_path)
    if kind == "pipe":
        assert file.is_fifo()


@pytest.mark.parametrize("of", WRITTEN)
def test_a_plain_file_is_written_and_replaced(
    call: Call, tag: str, tmp_path: Path, of: list[str]
) -> None:
    file = tmp_path / "file"
    for _ in range(2):
        told = call(*words(of, tag), file)
        if of == ["save-copy"] and told.code == 2:
            assert "is there already" in told.err
            continue
        assert told.code in (0, 1), told
        assert file.stat().st_size > 100
        file.write_bytes(file.read_bytes()[:5])


@pytest.mark.parametrize("of", WRITTEN)
@pytest.mark.parametrize("kind", ["link", "lost link", "write-protected", "wal"])
def test_what_may_not_be_replaced_stays(
    call: Call, tag: str, tmp_path: Path, book: Path, of: list[str], kind: str
) -> None:
    dear, file = tmp_path / "dear", tmp_path / "file"
    dear.write_text("dear")
    if kind == "link":
        file.symlink_to(dear)
    elif kind == "lost link":
        file.symlink_to(tmp_path / "gone")
    elif kind == "write-protected":
        file.write_text("dear")
        file.chmod(0o444)
    else:
        # A command that looks at its files before it opens the book would replace this one.
        file = book.with_name(f"{book.name}-wal")
        file.touch()
    asked = [*words(of, tag), str(file)]
    told = call(*asked)
    assert told.code == 2, told
    assert told.err.count("\n") == 1
    assert dear.read_text() == "dear"
    assert file.is_symlink() == kind.endswith("link")
    if kind == "write-protected":
        assert file.read_text() == "dear"


@pytest.mark.parametrize("book_name", [LONG, "a/b/c", "pipe", "folder"])
def test_a_book_that_cannot_be_is_told(call: Call, tmp_path: Path, book_name: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    for of in (["pieces"], ["lay-out", "Heron", "--rows", "2"], ["check-book"], ["history"]):
        told_in_one_line(call, [*of, "--book", str(tmp_path / book_name)], tmp_path)


@pytest.mark.parametrize(("name", "size"), [("a.toml", 2_000_001), ("a.json", 10_000_001)])
def test_more_than_is_ever_needed_is_told_before_it_is_read(
    call: Call, tag: str, tmp_path: Path, name: str, size: int
) -> None:
    file = tmp_path / name
    with file.open("wb") as made:
        made.truncate(size)
    assert "too large" in told_in_one_line(call, ["take-in", str(file)], tmp_path)


def test_deep_values_are_told(call: Call, tag: str, tmp_path: Path) -> None:
    file = tmp_path / "a.toml"
    file.write_text("a = " + "[" * 50_000)
    for of in (["take-in"], ["review"], ["keep-path"]):
        assert "too many times over" in told_in_one_line(call, [*of, str(file)], tmp_path)


def test_a_byte_order_mark_is_no_part_of_a_file(call: Call, tag: str, tmp_path: Path) -> None:
    exported, path = tmp_path / "a.json", tmp_path / "p.toml"
    assert call("export", tag, exported).code == 0
    assert call("copy-path", "paint", "mine", "--name", "Mine", "--out", path).code == 0
    for file in (exported, path):
        file.write_bytes(b"\xef\xbb\xbf" + file.read_bytes())
    assert call("keep-path", path).code == 0
    other = tmp_path / "other.partsbench"
    assert call("take-in", exported, "--book", other).code == 0


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        ('fact = "age newer"', "write each as a [[fact]] of its own"),
        ('fact = ["age newer"]', "fact 1: it has a key and a value"),
        (
            'fact = [{ key = "age", value = "newer", of = "D1" }]',
            "fact 1: it has a key and a value",
        ),
        ('fact = [{ key = "age", value = "newer", of = [1] }]', "fact 1: it has a key and a value"),
        ('fact = [{ key = "age", value = 1978 }]', "fact 1: it has a key, a value and a note"),
        ('fact = [{ key = "age", value = "newer", by = "Wren" }]', "fact 1: it has a key, a value"),
        ('fact = [{ key = "age", value = "young" }]', "fact 1: "),
        ('fact = [{ key = "lead", value = "tested free" }]', "fact 1: "),
        ('fact = [{ key = "age", value = "newer", of = ["Q7"] }]', "fact 1: "),
        ('[paths]\ngilt = ["D1"]', "there is no finish path “gilt”"),
    ],
)
def test_what_a_description_says_wrongly_of_a_piece_is_told(
    call: Call, tag: str, tmp_path: Path, fact: str, said: str
) -> None:
    file = tmp_path / "a.toml"
    file.write_text(f'codename = "Rill"\nrows = "2"\n{fact}\n', encoding="utf-8")
    before = call("pieces").out
    told = told_in_one_line(call, ["take-in", str(file)], tmp_path)
    assert said in told
    assert call("pieces").out == before
