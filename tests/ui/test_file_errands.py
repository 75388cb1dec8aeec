"""The sample is started as a program of its own."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QProcess

from partsbench.core.outcomes import Refused
from partsbench.ui.main_window import MainWindow


@pytest.mark.parametrize("begins", [True, False])
def test_the_sample_opens_in_a_process_of_its_own(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, begins: bool
) -> None:
    started: list[list[str]] = []
    told: list[object] = []

    def start(program: str, words: list[str]) -> tuple[bool, int]:
        started.append(words)
        return begins, 1

    monkeypatch.setattr(QProcess, "startDetached", start)
    window._files.answered.connect(told.append)
    window.page()
    window.actions_by_key["sample"].trigger()
    assert started == [["-m", "partsbench", "sample"]]
    assert isinstance(told[0], str if begins else Refused)
