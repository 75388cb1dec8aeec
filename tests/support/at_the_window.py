"""The worker of an evening in front of the real window: each scan is typed as a scanner does."""

from __future__ import annotations

from dataclasses import dataclass, field

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.ui.main_window import MainWindow
from tests.support.evening import BETWEEN, Worker
from tests.support.scanner import Typist


@dataclass
class WindowWorker(Worker):
    """`said` is what the window was answered with, whichever page or verb it came from."""

    window: MainWindow | None = None
    hands: Typist | None = None
    heard: list[Outcome | Done | Refused] = field(default_factory=list)

    def __post_init__(self) -> None:
        assert self.window is not None
        self.session = self.window.listening.evening.session
        self.window.page().answered.connect(self.on_answered)

    def on_answered(self, answer: object) -> None:
        if isinstance(answer, Outcome):
            self.said.append(answer)
        elif isinstance(answer, Done | Refused):
            self.heard.append(answer)

    def scan(self, text: str) -> Outcome:
        assert self.hands is not None
        self.scans += 1
        self.clock.now += BETWEEN
        self.hands.scan(text)
        return self.said[-1]
