from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray

from partsbench.ui.settings import Settings


def test_what_is_put_comes_back_as_it_was_in_another_process(tmp_path: Path) -> None:
    """The file is read afresh: an ini knows only texts, so types must be asked for."""
    first = Settings(tmp_path / "w.ini")
    first.put("view/sound", False)
    first.put("at/tag", "0123")
    first.put_geometry(QByteArray(b"\x01\x02"))
    first.put_entry("start", {"rows": "2 2 3", "title": 'a, b; "c"', "legs": "4"})
    first.write_now()
    again = Settings(tmp_path / "w.ini")
    assert again.flag("view/sound", True) is False
    assert again.text("at/tag") == "0123"
    assert again.geometry() == QByteArray(b"\x01\x02")
    assert again.entry("start") == {"rows": "2 2 3", "title": 'a, b; "c"', "legs": "4"}


def test_an_entry_that_is_done_is_gone_and_others_stay(tmp_path: Path) -> None:
    settings = Settings(tmp_path / "w.ini")
    settings.put_entry("start", {"rows": "2"})
    settings.put_entry("bench", {"note": "x"})
    settings.put_entry("start", {})
    settings.write_now()
    again = Settings(tmp_path / "w.ini")
    assert (again.entry("start"), again.entry("bench")) == ({}, {"note": "x"})


def test_a_file_that_is_not_there_or_nonsense_gives_the_usual(tmp_path: Path) -> None:
    file = tmp_path / "w.ini"
    file.write_bytes(b"\x00\xff not an ini [[[")
    settings = Settings(file)
    assert settings.text("at/page", "start") == "start"
    assert settings.flag("view/sound", True) is True
    assert settings.geometry().isEmpty()
