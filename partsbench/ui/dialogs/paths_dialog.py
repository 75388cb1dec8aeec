"""Finish paths: a shipped one copied, edited as table or text, and what the rules find in it."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QFontDatabase, QTextCursor
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QTabWidget, QVBoxLayout, QWidget

from partsbench.core.finish.path_text import StepEdit
from partsbench.core.outcomes import Done, Refused
from partsbench.core.wording import notes
from partsbench.services.books import own_paths
from partsbench.services.books.own_paths import StepOffer
from partsbench.services.known.review import Reviewed
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.dialogs.steps_model import LEVELS
from partsbench.ui.dialogs.steps_table import StepsTable
from partsbench.ui.layout.fields import heading, labelled, quiet
from partsbench.ui.theme import grown

PAUSE_MS = 250
NOT_KEPT = "The text that was there was not kept: Ctrl+Z in the text brings it back."
SHIPPED = "Shipped paths stay as they are: copy one under a name of your own, then edit it."


class PathsDialog(ShopDialog):
    """Paths at the left, table or text in the middle, what is found below it as one types.

    The text is what is kept and what undo goes back in; the table shows it and edits it.
    """

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="paths-dialog", title="Finish paths")
        self.list = Lines("paths-list", "Finish paths")
        self.key = text_field("path-key", "Key of the copy", "blue_chest")
        self.name = text_field("path-name", "Name of the copy", "Blue chest paint")
        self.text = QPlainTextEdit()
        self.table = StepsTable()
        self.forms = QTabWidget()
        self.found = Lines("path-findings", "What the rules find")
        self._keys: list[str] = []
        self._key_is_own = False
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self.on_text_stood_still)
        self._build()
        self.add_button("Copy it", "path-copy", self.on_copy_asked)
        self.drop = self.add_button("Take out", "path-drop", self.on_drop_asked)
        self.save = self.add_button("Keep this path", "path-save", self.on_save_asked)
        self.resize(1240, 720)
        self.refresh()
        self.list.choose(0)

    def _build(self) -> None:
        self.list.picked.connect(self.on_path_picked)
        self.list.setMinimumWidth(grown(170))
        self.text.setObjectName("path-text")
        self.text.setAccessibleName("Text of the path")
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.text.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.text.setTabChangesFocus(True)
        self.text.textChanged.connect(self.on_text_changed)
        self.table.asked.connect(self.on_edit_asked)
        self.table.adding.connect(self.on_adding_asked)
        self.table.undoing.connect(self.on_undo_asked)
        self.table.redoing.connect(self.on_redo_asked)
        self.forms.setObjectName("path-forms")
        self.forms.setAccessibleName("The path as table or as text")
        self.forms.addTab(self.table, "&Table")
        self.forms.addTab(self.text, "Te&xt")
        self.found.setMaximumHeight(grown(150))
        self.found.picked.connect(self.on_finding_picked)
        self.name.textEdited.connect(self.on_name_edited)
        self.key.textEdited.connect(self.on_key_edited)
        left = QVBoxLayout()
        left.addWidget(heading("Paths"))
        left.addWidget(self.list, 1)
        left.addWidget(quiet(SHIPPED))
        left.addLayout(labelled("Name", self.name))
        left.addLayout(labelled("Key", self.key))
        right = QVBoxLayout()
        right.addWidget(self.forms, 3)
        right.addWidget(heading("What the rules find"))
        right.addWidget(self.found, 1)
        both = QHBoxLayout()
        both.addLayout(left, 2)
        both.addLayout(right, 7)
        self.content.addLayout(both)

    # Showing

    def refresh(self) -> None:
        own = own_paths.own(self.shop)
        known = {k: p for k, p in self.shop.paths.items() if p.steps}
        self._keys = [*own, *(k for k in known if k not in own)]
        self.list.show_lines(
            [notes(known[k].name, "your own" * (k in own)) for k in self._keys if k in known]
        )

    def chosen(self) -> str:
        place = self.list.row()
        return self._keys[place] if 0 <= place < len(self._keys) else ""

    def on_path_picked(self, _place: int) -> None:
        text = own_paths.text_of(self.shop, self.chosen())
        if isinstance(text, str):
            self._put(text)
        if hasattr(self, "drop"):
            self.drop.setEnabled(self.chosen() in own_paths.own(self.shop))

    def _put(self, text: str) -> None:
        """Another text; one that was changed and not kept is a step back in the editor's undo."""
        changed = self.text.document().isModified()
        if changed:
            self._write(text)
        else:
            self.text.setPlainText(text)
        self.text.document().setModified(False)
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        self.on_text_stood_still()
        if changed:
            self.say(NOT_KEPT)

    def _write(self, text: str) -> None:
        """Another text, as one step of the editor's undo."""
        cursor = QTextCursor(self.text.document())
        cursor.select(QTextCursor.SelectionType.Document)
        cursor.insertText(text)

    def on_name_edited(self, name: str) -> None:
        """The key follows the name, as long as it was not typed."""
        if not self._key_is_own:
            self.key.setText(key_from(name))

    def on_key_edited(self, key: str) -> None:
        self._key_is_own = bool(key)

    def on_text_changed(self) -> None:
        self._pause.start()

    def on_text_stood_still(self) -> None:
        """Read and review what stands there; a fault names its line."""
        self._pause.stop()
        found = own_paths.check(self.text.toPlainText())
        self.found.show_lines(finding_lines(found))
        self.table.show_path(found)
        if hasattr(self, "save"):
            self.save.setEnabled(not found.faults)

    def on_finding_picked(self, place: int) -> None:
        """Go to the line that a fault names, or to the step that a finding means."""
        lines = self.found.lines()
        named = re.match(r"line (\d+),", lines[place]) if 0 <= place < len(lines) else None
        if named:
            self.forms.setCurrentWidget(self.text)
            block = self.text.document().findBlockByNumber(int(named[1]) - 1)
            self.text.setTextCursor(QTextCursor(block))
            self.text.centerCursor()
            return
        found = own_paths.check(self.text.toPlainText())
        if found.path and 0 <= place < len(found.findings):
            self.table.choose(found.path.index(found.findings[place].where) or 0)

    # The table

    def on_edit_asked(self, edit: StepEdit) -> None:
        """Write an edit of the table into the text, or say why it cannot be."""
        text = own_paths.edited(self.text.toPlainText(), edit)
        if isinstance(text, Refused):
            self.say(text.sentence, fault=True)
            return
        self.say("")
        self._write(text)
        self.on_text_stood_still()

    def on_adding_asked(self, row: int, offer: StepOffer) -> None:
        self.on_edit_asked(own_paths.adding(self.text.toPlainText(), row, offer))

    def on_undo_asked(self) -> None:
        """One step back, whether it was made in the table or in the text."""
        self.text.undo()
        self.on_text_stood_still()

    def on_redo_asked(self) -> None:
        self.text.redo()
        self.on_text_stood_still()

    # Doing

    def on_copy_asked(self) -> None:
        key, name = self.key.text().strip(), self.name.text().strip()
        if not re.fullmatch(r"[a-z][a-z0-9_]*", key) or not name:
            self.say("Give the copy a name, and a key in small letters (blue_chest).", fault=True)
            (self.key if name else self.name).setFocus(Qt.FocusReason.OtherFocusReason)
            return
        text = own_paths.copy_text(self.shop, self.chosen(), key, name)
        if isinstance(text, Refused):
            self.settle(text)
            return
        self._put(text)
        self.say(f"{name} is copied: edit it, then keep it.")
        in_table = self.forms.currentWidget() is self.table
        (self.table.view if in_table else self.text).setFocus()

    def on_save_asked(self) -> None:
        answer = own_paths.save(self.shop, self.text.toPlainText())
        if isinstance(answer, Done):
            self.text.document().setModified(False)
        self.settle(answer)

    def on_drop_asked(self) -> None:
        self.settle(own_paths.drop(self.shop, self.chosen()))


def key_from(name: str) -> str:
    """`Blue chest, 2 coats` is `blue_chest_2_coats`: small letters, and one of them first."""
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_").lstrip("0123456789_")


def finding_lines(found: Reviewed) -> list[str]:
    """Faults with their line, or findings with level, rule, reason and source."""
    if found.faults:
        return list(found.faults)
    told = [f"{LEVELS[f.level]}, {f.rule}: {f.reason} ({f.source.cited})" for f in found.findings]
    steps = len(found.path.steps) if found.path else 0
    return told or [f"Nothing: {steps} steps, each figure with its source."]
