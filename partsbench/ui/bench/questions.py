"""The one question that a page asks at a time, and who hears its answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QApplication, QPushButton, QToolButton, QWidget

from partsbench.ui.bench.ask import Ask


class Questions:
    """Asks on `page` by its `ask`; `subject` is the part that the question is about.

    While one is open the keyboard is in its field, and then back on the page.
    """

    def __init__(self, page: QWidget, ask: Ask) -> None:
        self._page = page
        self._ask = ask
        self._hear: dict[str, Callable[[str], None]] = {}
        self.subject = ""
        ask.answered.connect(self.on_answered)
        ask.closed.connect(self.on_closed)

    @property
    def kind(self) -> str:
        """What is asked now; "" for nothing."""
        return self._ask.kind

    def heard_by(self, kind: str, hear: Callable[[str], None]) -> None:
        """Let `hear` take the answers to that kind of question."""
        self._hear[kind] = hear

    def about(
        self,
        short: str,
        kind: str,
        question: str,
        choices: Sequence[str] = (),
        *,
        hint: str = "",
        text: str = "",
    ) -> None:
        """Put a question about a part; nothing is asked of no part."""
        if short:
            self.subject = short
            self._ask.ask(kind, question, choices, hint=hint, text=text)
            self._page.setFocusProxy(self._ask.field)

    def refuse(self, sentence: str) -> None:
        """Say what was wrong with the answer; the question stays."""
        self._ask.show_fault(sentence)

    def list(self, lines: Sequence[str]) -> None:
        """Show what was found; the question stays."""
        self._ask.show_list(lines)

    def close(self) -> None:
        self._ask.close_question()

    def on_answered(self, kind: str, text: str) -> None:
        self._hear[kind](text)

    def on_closed(self) -> None:
        self._page.setFocusProxy(None)  # type: ignore[arg-type]  # its stub forgets that None ends it
        self._page.setFocus()

    def come_back(self) -> None:
        """Bring the keyboard from a button back to the page, where Enter goes on with the work."""
        holder = QApplication.focusWidget()
        buttons = QPushButton | QToolButton
        on_a_button = isinstance(holder, buttons) and self._page.isAncestorOf(holder)
        if not self.kind and (on_a_button or holder is None):
            self._page.setFocus()

    def half_made(self) -> dict[str, str]:
        """The entry that is not yet made, to be given back after a crash."""
        if not self.kind:
            return {}
        return {"ask": self.kind, "text": self._ask.text, "part": self.subject}

    def put_text(self, text: str) -> None:
        """Write into the field, as after a restart."""
        self._ask.put_text(text)
