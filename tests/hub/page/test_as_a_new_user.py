"""The README's way from nothing to the first scan by phone: its commands, then a real browser."""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.support.chromium import Chromium
from tests.support.phone_film import film
from tests.support.phone_page import NEEDS_BROWSER, look, part

pytestmark = NEEDS_BROWSER
README = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
COMMAND = re.compile(r"`(?:\.venv/bin/)?partsbench ([^`]+)`")


def lines() -> list[str]:
    """The numbered lines of that part of the README."""
    told = README.split("## From nothing to the first scan by phone")[1].split("\n## ")[0]
    return re.split(r"\n(?=\d\. )", told.strip())[-6:]


def commands() -> list[list[str]]:
    """What they have a person type, but for the installing."""
    return [shlex.split(words) for line in lines() for words in COMMAND.findall(line)]


def ran(words: list[str], book: Path) -> str:
    line = [sys.executable, "-m", "partsbench", *words, "--book", str(book)]
    return subprocess.run(line, check=True, capture_output=True, text=True, timeout=120).stdout


@contextmanager
def switched_on(words: list[str], book: Path) -> Iterator[dict[str, str]]:
    line = [sys.executable, "-m", "partsbench", *words, "--json", "--port", "0"]
    line += ["--host", "127.0.0.1", "--book", str(book)]
    at_work = subprocess.Popen(line, stdout=subprocess.PIPE, text=True)
    assert at_work.stdout is not None
    try:
        yield json.loads("".join(iter(at_work.stdout.readline, "}\n")) + "}")
    finally:
        at_work.terminate()
        at_work.wait(30)
        at_work.stdout.close()


def test_six_lines_lead_from_nothing_to_the_first_scan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert len(lines()) == 6
    book = tmp_path / "b.partsbench"
    monkeypatch.chdir(tmp_path)
    *before, hub = commands()
    for words in before:
        ran(words, book)
    (seen,) = json.loads(ran(["read", "labels.pdf", "--json"], book))
    d1 = next(code for code in seen["codes"] if "-D01" in code)
    assert hub == ["hub"]
    with switched_on(hub, book) as told:
        browser = Chromium(tmp_path, film=film(tmp_path / "film.mjpeg", [("", 1), (d1, 3)]))
        try:
            tab = browser.open(told["pair"], warned=True)
            tab.wait("!document.querySelector('#pairing').hidden")
            tab.fill("#pair-name", "my phone")
            tab.fill("#pair-person", "Wren")
            tab.press("#pair-form button", "Pair")
            tab.wait("document.querySelector('#piece').value")
            tab.press("#camera", "Camera")
            part(tab, "D1", "GO")
            look(tab, "first-scan")
        finally:
            browser.close()
