"""Finish paths: a shipped one copied, its text edited, and what the rules find wrong with it."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QFontDatabase, QTextCursor
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from partsbench.core.finish.findings import Level
from partsbench.core.outcomes import Done, Refused
from partsbench.services import own_paths
from partsbench.services.review import Reviewed
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import heading, labelled, quiet

PAUSE_MS = 250
LEVELS = {Level.HOLD: "HOLD", Level.WARN: "WARNING", Level.ADVISE: "ADVICE"}
NOT_KEPT = "The text that was there was not kept: Ctrl+Z in the text brings it back."
SHIPPED = "Shipped paths stay as they are: copy one under a name of your own, then edit it."


class PathsDialog(ShopDialog):
    """Paths at the left, the text in the middle, what is found below it as one types."""

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="paths-dialog", title="Finish paths")
        self.list = Lines("paths-list", "Finish paths")
        self.key = text_field("path-key", "Key of the copy", "blue_chest")
        self.name = text_field("path-name", "Name of the copy", "Blue chest paint")
        self.text = QPlainTextEdit()
        self.found = Lines("path-findings", "What the rules find")
        self._keys: list[str] = []
        self._key_is_own = False
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self.on_text_stood_still)
        self._build()
        self.add_button("Copy it", "path-copy", self.on_copy_asked)
        self.drop = self.add_button("Take out", "path-drop", self.on_drop_asked)
        self.save = self.add_button("Keep this path", "path-save", self.on_save_asked)
        self.resize(1080, 680)
        self.refresh()
        self.list.choose(0)

    def _build(self) -> None:
        self.list.picked.connect(self.on_path_picked)
        self.text.setObjectName("path-text")
        self.text.setAccessibleName("Text of the path")
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.text.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.text.setTabChangesFocus(True)
        self.text.textChanged.connect(self.on_text_changed)
        self.found.setMaximumHeight(190)
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
        right.addWidget(self.text, 3)
        right.addWidget(heading("What the rules find"))
        right.addWidget(self.found, 1)
        both = QHBoxLayout()
        both.addLayout(left, 2)
        both.addLayout(right, 5)
        self.content.addLayout(both)

    # Showing

    def refresh(self) -> None:
        own = own_paths.own(self.shop)
        known = {k: p for k, p in self.shop.paths.items() if p.steps}
        self._keys = [*own, *(k for k in known if k not in own)]
        self.list.show_lines(
            [f"{known[k].name}{', your own' if k in own else ''}" for k in self._keys if k in known]
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
            cursor = QTextCursor(self.text.document())
            cursor.select(QTextCursor.SelectionType.Document)
            cursor.insertText(text)
        else:
            self.text.setPlainText(text)
        self.text.document().setModified(False)
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        self.on_text_stood_still()
        if changed:
            self.say(NOT_KEPT)

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
        if hasattr(self, "save"):
            self.save.setEnabled(not found.faults)

    def on_finding_picked(self, place: int) -> None:
        """Go to the line that a fault names."""
        lines = self.found.lines()
        named = re.match(r"line (\d+),", lines[place]) if 0 <= place < len(lines) else None
        if named:
            block = self.text.document().findBlockByNumber(int(named[1]) - 1)
            self.text.setTextCursor(QTextCursor(block))
            self.text.centerCursor()

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
        self.text.setFocus()

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
