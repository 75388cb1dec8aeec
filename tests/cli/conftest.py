"""Commands run as a person runs them, in this process, on a book of their own."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from partsbench.cli.group import run
from tests.support.clock import SetClock


@dataclass(frozen=True)
class Ran:
    """What a command gave: exit code, standard output and standard error."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)

    @property
    def last(self) -> str:
        return self.out.splitlines()[-1]


Call = Callable[..., Ran]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return tmp_path / "shop.partsbench"


@pytest.fixture
def call(
    book: Path,
    clock: SetClock,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> Call:
    """Runs a command on the test's book; `stdin` is what is piped in."""
    monkeypatch.setenv("PARTSBENCH_BOOK", str(book))

    def call(*words: str | Path, stdin: str = "") -> Ran:
        monkeypatch.setattr("sys.stdin", io.StringIO(stdin))
        capsys.readouterr()
        code = run([str(word) for word in words], clock)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return call


@pytest.fixture
def good(call: Call) -> Call:
    """The same for commands that must do what they are told."""

    def good(*words: str | Path, stdin: str = "") -> Ran:
        ran = call(*words, stdin=stdin)
        assert ran.code == 0, ran
        assert ran.err == "", ran
        return ran

    return good


@pytest.fixture
def tag(good: Call) -> str:
    """A chest of 2 over 2 over 3 with legs, pulls and a top, some of it painted and stained."""
    return good(
        "lay-out", "Heron", "--rows", "2 2 3", "--legs", "4", "--pulls", "2", "--top",
        "--age", "newer",
        "--paint", "D1,D3", "--stain", "D2,top",
    ).last  # fmt: skip


def parts_of(good: Call, tag: str) -> dict[str, Any]:
    """The parts of a piece as `parts --json` lists them, by number."""
    return {part["number"]: part for part in good("parts", tag, "--json").json}
