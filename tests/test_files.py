"""Only plain files are read and replaced; what is written is whole or not there."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from partsbench import files
from partsbench.core.outcomes import Refused

ROOT = Path(__file__).parents[1]
PIPES = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes by name here")


def said(found: object) -> str:
    assert isinstance(found, Refused), found
    return found.sentence


@PIPES
def test_a_pipe_is_neither_read_nor_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "piece.toml"
    os.mkfifo(pipe)
    assert "no plain file" in said(files.read(pipe, 100))


@PIPES
def test_a_pipe_that_gives_without_end_is_left_alone(tmp_path: Path) -> None:
    pipe = tmp_path / "piece.toml"
    os.mkfifo(pipe)
    held = os.open(pipe, os.O_RDWR | os.O_NONBLOCK)
    os.write(held, b"x" * 1000)
    found: list[object] = []
    reader = threading.Thread(target=lambda: found.append(files.read(pipe, 100)), daemon=True)
    reader.start()
    reader.join(10)
    os.close(held)
    assert "no plain file" in said(found[0])


def test_a_file_is_read_up_to_its_size_and_no_further(tmp_path: Path) -> None:
    file = tmp_path / "some"
    file.write_bytes(b"1234567890")
    assert files.read(file, 10) == b"1234567890"
    assert "too large" in said(files.read(file, 9))
    with file.open("r+b") as grown:
        grown.truncate(10**12)
    assert "at most 2 MB" in said(files.read(file, 2_000_000))


def test_a_byte_order_mark_and_the_line_ends_of_other_systems_are_no_text(tmp_path: Path) -> None:
    file = tmp_path / "some"
    file.write_bytes(b"\xef\xbb\xbfone\r\ntwo\rthree\n")
    assert files.read_text(file, 100) == "one\ntwo\nthree\n"
    file.write_bytes(b"\xff\xfe1")
    assert "not a text file" in said(files.read_text(file, 100))


@pytest.mark.parametrize("name", ["a" * 300, "no/such/folder", "\0"])
def test_a_name_that_cannot_be_is_told_before_anything_is_done(tmp_path: Path, name: str) -> None:
    assert said(files.target_fault(tmp_path / name))
    assert list(tmp_path.iterdir()) == []


@PIPES
def test_what_is_no_plain_file_is_never_replaced(tmp_path: Path) -> None:
    pipe, dear = tmp_path / "pipe", tmp_path / "dear"
    os.mkfifo(pipe)
    dear.write_text("dear")
    link = tmp_path / "link"
    link.symlink_to(dear)
    (tmp_path / "nowhere").symlink_to(tmp_path / "gone")
    for name, word in (("pipe", "plain"), ("link", "link"), ("nowhere", "link"), (".", "folder")):
        assert word in said(files.write(tmp_path / name, b"new"))
    assert pipe.is_fifo()
    assert link.is_symlink()
    assert dear.read_text() == "dear"
    assert len(list(tmp_path.iterdir())) == 4


def test_a_write_protected_file_stays_also_for_one_who_may_do_everything(tmp_path: Path) -> None:
    dear = tmp_path / "dear"
    dear.write_text("dear")
    dear.chmod(0o444)
    assert "write-protected" in said(files.write(dear, b"new"))
    assert dear.read_text() == "dear"


def test_a_plain_file_is_replaced_whole(tmp_path: Path) -> None:
    file = tmp_path / "some"
    file.write_text("old")
    assert files.write(file, b"new") is None
    assert file.read_bytes() == b"new"
    assert [f.name for f in tmp_path.iterdir()] == ["some"]


def test_what_fails_inside_leaves_the_old_file(tmp_path: Path) -> None:
    file = tmp_path / "some"
    file.write_text("old")
    with pytest.raises(ZeroDivisionError), files.draft(file, b"new"):
        raise ZeroDivisionError
    assert file.read_text() == "old"
    assert [f.name for f in tmp_path.iterdir()] == ["some"]


def test_a_disk_that_takes_no_more_leaves_the_old_file_and_is_told(tmp_path: Path) -> None:
    file = tmp_path / "some"
    file.write_text("old")
    run = subprocess.run(
        [sys.executable, "-c", "import sys; from pathlib import Path; from partsbench import files;"
         "print(files.write(Path(sys.argv[1]), bytes(5000)).sentence)", str(file)],
        cwd=ROOT, check=True, timeout=60, capture_output=True, text=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096)),
    )  # fmt: skip
    assert "may grow any larger" in run.stdout
    assert file.read_text() == "old"
    assert [f.name for f in tmp_path.iterdir()] == ["some"]
