"""Where the answer cannot be written, what was asked is done all the same, and that is told."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import IO, Any

import pytest

from tests.cli.conftest import Call

ROOT = Path(__file__).parents[2]


def run(book: Path, *words: str, out: int | IO[Any]) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", "partsbench", "--book", str(book), *words],
        cwd=ROOT,
        stdout=out,
        stderr=subprocess.PIPE,
        text=True,
        timeout=60,
        check=False,
    )
    return done.returncode, done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_a_full_output_is_told_by_a_code_of_its_own(call: Call, tag: str, book: Path) -> None:
    with Path("/dev/full").open("w") as full:
        code, said = run(book, "out", tag, "D1", out=full)
    assert code == 3
    assert "is done, but the answer could not be written: the disk is full" in said
    assert said.count("\n") == 1
    assert "D1" in call("history").out


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
@pytest.mark.parametrize("words", [["history"], ["parts", "TAG"], ["--help"]])
def test_a_reader_who_has_read_enough_is_no_fault(
    call: Call, tag: str, book: Path, words: list[str]
) -> None:
    read, write = os.pipe()
    os.close(read)
    told = run(book, *(tag if w == "TAG" else w for w in words), out=write)
    os.close(write)
    assert told == (0, "")
