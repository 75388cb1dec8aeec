from __future__ import annotations

import sys
from pathlib import Path

import pytest

from partsbench.cli import window
from partsbench.cli.base import BadInputError

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="told on Linux only")


@pytest.fixture
def no_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)


@linux
def test_no_display_is_told_in_one_sentence(no_screen: None, tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="no display"):
        window.open_window(tmp_path / "b.partsbench")


@linux
def test_a_screen_is_known_by_its_variables(
    no_screen: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not window.has_display()
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        with monkeypatch.context() as patch:
            patch.setenv(name, "1")
            assert window.has_display()


@linux
def test_missing_libraries_are_told_by_name_with_the_line_that_installs_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(window, "QT_ALWAYS", {"libNoSuch.so.1": "libnosuch1", "libc.so.6": "libc6"})
    told = window.missing_libraries(on_screen=False)
    assert "libNoSuch.so.1" in told
    assert told.endswith("sudo apt-get install -y libnosuch1")


@linux
def test_nothing_is_missing_where_these_tests_run() -> None:
    assert window.missing_libraries(on_screen=False) == ""
