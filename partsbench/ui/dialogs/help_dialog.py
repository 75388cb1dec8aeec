"""Help: the pages at the left, a field that finds any word, and the page of where one stands."""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QTextCursor
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QTextBrowser, QVBoxLayout, QWidget

from partsbench import help as helps
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.theme import grown, sized

WIDE, TALL, LIST_WIDE = 980, 660, 280


@runtime_checkable
class Helped(Protocol):
    """What stands on a page: the window, by the page in front."""

    def page_key(self) -> str: ...


class HelpDialog(FittingDialog):
    """Opens on the page of help that `parent` names; typing in the field lists what was found."""

    def __init__(
        self, _shop: Shop | None, _tag: str, parent: QWidget | None = None, key: str = ""
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Help")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._lines: list[tuple[str, helps.HelpPage, str]] = []
        self.field = QLineEdit()
        self.field.setObjectName("help-field")
        self.field.setAccessibleName("Find in the help: a word or a command")
        self.field.setPlaceholderText("A word or a command")
        self.field.setClearButtonEnabled(True)
        self.field.textChanged.connect(self.on_text_changed)
        self.said = QLabel()
        self.said.setWordWrap(True)
        self.list = Lines("help-list", "Pages of help", empty="Nothing found.")
        self.list.picked.connect(self.on_line_picked)
        self.text = QTextBrowser()
        self.text.setObjectName("help-text")
        self.text.setAccessibleName("The page")
        self.text.setFont(sized(0.6))
        self.text.setOpenExternalLinks(False)
        self._lay_out()
        here = key or (parent.page_key() if isinstance(parent, Helped) else "")
        self.show_page(here)

    def _lay_out(self) -> None:
        left = QWidget()
        left.setFixedWidth(grown(LIST_WIDE))
        down = QVBoxLayout(left)
        down.setContentsMargins(0, 0, 0, 0)
        for widget in (self.field, self.said, self.list):
            down.addWidget(widget)
        across = QHBoxLayout(self)
        across.addWidget(left)
        across.addWidget(self.text, 1)
        self.resize(WIDE, TALL)

    def show_page(self, key: str) -> None:
        """Every page in the list, with that one open; the first when there is none of that key."""
        self._lines = [(p.title, p, "") for p in helps.pages()]
        keys = [p.key for p in helps.pages()]
        self._show_lines(keys.index(key) if key in keys else 0)
        self.said.setText("Every page")

    def on_text_changed(self, words: str) -> None:
        if not words.strip():
            self.show_page("")
            return
        found = helps.find(words)
        self._lines = [(_line(p), p.page, p.text) for p in found]
        self._show_lines(0)
        self.said.setText("1 place" if len(found) == 1 else f"{len(found)} places")

    def _show_lines(self, row: int) -> None:
        self.list.show_lines([line for line, _, _ in self._lines])
        if self._lines:
            self.list.choose(row)
            self.on_line_picked(row)
        else:
            self.text.clear()

    def on_line_picked(self, row: int) -> None:
        """The whole page is shown, at the place that was found."""
        if not 0 <= row < len(self._lines):
            return
        _, page, place = self._lines[row]
        self.text.setMarkdown(page.text)
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        if place:
            self._go_to(place)

    def _go_to(self, place: str) -> None:
        """Choose the line of the shown page that begins like that passage, and put it on top."""
        wanted = _letters(place)
        block = self.text.document().begin()
        while block.isValid():
            said = _letters(block.text())
            if said and wanted.startswith(said):
                cursor = QTextCursor(block)
                cursor.select(QTextCursor.SelectionType.BlockUnderCursor)
                self.text.setTextCursor(cursor)
                bar = self.text.verticalScrollBar()
                bar.setValue(bar.value() + self.text.cursorRect(cursor).top() - 24)
                return
            block = block.next()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.field.hasFocus():
            self.list.setFocus()
        if event.key() != Qt.Key.Key_F1:  # it is open
            super().keyPressEvent(event)


def _line(found: helps.Passage) -> str:
    """How a place is listed: its page, and the command or heading."""
    place = found.of or found.heading
    return found.page.title if place == found.page.title else f"{found.page.title}: {place}"


def _letters(text: str) -> str:
    """The text without what Markdown and line ends change."""
    return "".join(c for c in text if c.isalnum())
