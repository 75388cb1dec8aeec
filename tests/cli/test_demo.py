from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from tests.cli.conftest import Call

PAGES = ("layout", "teardown", "bench", "sums", "return")


@pytest.mark.long
def test_the_demo_runs_the_main_job(call: Call, tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    ran = call("demo", "--out", folder)
    assert (ran.code, ran.err) == (0, "")
    for said in ("Took in Heron", "codes back", "OTHER JOB", "Moves:", "Three moves", "are home"):
        assert said in ran.out
    for name in ("labels.pdf", "proof.pdf"):
        with pypdfium2.PdfDocument(folder / name) as document:
            assert len(document) >= 1
    for page in PAGES:
        with Image.open(folder / f"{page}.png") as picture:
            assert picture.width >= 1280
            assert len(picture.convert("L").getcolors() or []) > 20
    with closing(sqlite3.connect(folder / "demo.partsbench")) as book:
        assert book.execute("SELECT count(*) FROM mark").fetchone()[0] > 300
    assert {p.name for p in folder.iterdir()} == {
        "labels.pdf", "labels.png", "proof.pdf", "film.gif", "camera.png", "demo.partsbench",
        *(f"{p}.png" for p in PAGES),
    }  # fmt: skip
    again = call("demo", "--out", folder, "--no-window")
    assert again.code == 0


def test_a_folder_that_cannot_be_made_is_told(call: Call, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    ran = call("demo", "--out", tmp_path / "file" / "demo")
    assert (ran.code, ran.err.count("\n")) == (2, 1)


def test_the_sample_opens_guided_on_a_book_of_its_own_and_begins_anew_when_asked(
    call: Call, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[tuple[Path, bool]] = []

    def open_window(path: Path, *, make_folder: bool, guided: bool) -> int:
        opened.append((path, guided))
        return 0

    own = tmp_path / "data" / "sample.partsbench"
    own.parent.mkdir()
    own.write_text("half done")
    monkeypatch.setattr("partsbench.app.sample_book", lambda: own)
    monkeypatch.setattr("partsbench.cli.demo.open_window", open_window)
    assert call("sample").code == 0
    assert opened == [(own, True)]
    assert own.read_text() == "half done"
    assert call("sample", "--anew").code == 0
    assert not own.exists()
    assert own != book
