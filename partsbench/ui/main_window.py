"""The window: pages, the piece at work, scans from anywhere, and the last answer."""

from __future__ import annotations

import time
from importlib import import_module

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QScrollArea,
    QStackedWidget,
    QToolBar,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.codes import Code
from partsbench.reading.bursts import Scan
from partsbench.reading.repeats import Repeats
from partsbench.services import history
from partsbench.services.pieces import pieces
from partsbench.services.shop import Shop, warm_up
from partsbench.ui import actions as tables
from partsbench.ui import asking
from partsbench.ui import theme as themes
from partsbench.ui.answer_bar import AnswerBar
from partsbench.ui.intake import Intake
from partsbench.ui.keeper import Keeper
from partsbench.ui.pages.page import Page
from partsbench.ui.piece_chooser import PieceChooser
from partsbench.ui.rail import Rail
from partsbench.ui.scan_filter import ScanFilter
from partsbench.ui.settings import Settings
from partsbench.ui.tones import Tones, tone_of

SMALLEST = QSize(480, 320)
USUAL = QSize(1280, 760)
LATER_MS = 300
"""So long after the window stands, what the first change needs is loaded."""


class MainWindow(QMainWindow):
    """Owns the pages and passes scans, answers and the piece at work between them."""

    def __init__(self, shop: Shop, settings: Settings) -> None:
        super().__init__()
        self.shop = shop
        self.settings = settings
        self.tag = ""
        self.pages: dict[str, Page] = {}
        self._key = ""
        self._repeats = Repeats()
        self.actions_by_key = tables.make_actions(self)
        self.page_actions = tables.make_page_actions(self)
        self._tones = Tones(self)
        self.intake = Intake(shop, self)
        self.scans = ScanFilter(self)
        self._keeper = Keeper(shop, settings, self.pages)
        self.answer_bar = AnswerBar(self)
        self.chooser = PieceChooser(shop, self)
        self._stack = QStackedWidget(self)
        self._build()
        self._connect()
        self._dress()
        self._restore()

    # Pages and pieces

    def page(self) -> Page:
        """The page in front."""
        return self.pages[self._key]

    def page_key(self) -> str:
        return self._key

    def show_page(self, key: str, tag: str = "") -> None:
        """Bring a page to the front, with the piece of that tag if one is given."""
        self.tag = tag or self.tag
        page = self._page(key)
        self._key = key
        self.page_actions[key].setChecked(True)
        self._stack.setCurrentWidget(self._frame_of(page))
        page.show_piece(self.tag)
        self._keeper.at(key, self.tag)
        self._show_header()

    def show_piece(self, tag: str) -> None:
        """Make a piece the one at work on the page in front."""
        self.show_page(self._key, tag)

    def _page(self, key: str) -> Page:
        if key not in self.pages:
            entry = next(e for e in tables.PAGES if e.key == key)
            module, name = entry.where.split(":")
            page: Page = getattr(import_module(module), name)(self.shop)
            page.setObjectName(f"page-{key}")
            page.answered.connect(self.on_answered)
            page.changed.connect(self.on_changed)
            page.page_asked.connect(self.on_page_asked)
            self.pages[key] = page
            self._stack.addWidget(_framed(page))
            page.show_piece(self.tag)
            state = self.settings.entry(key)
            if state:
                page.restore_state(state)
        return self.pages[key]

    def _frame_of(self, page: Page) -> QWidget:
        frames = (self._stack.widget(i) for i in range(self._stack.count()))
        return next(f for f in frames if isinstance(f, QScrollArea) and f.widget() is page)

    # Scans and answers

    def take_code(self, text: str) -> None:
        """Give a code to the dialog in front if it takes codes, else to the page in front."""
        modal = QApplication.activeModalWidget()
        (getattr(modal, "scanned", None) or self.page().scanned)(text)

    def on_scanned(self, scan: Scan) -> None:
        text = str(scan.code) if isinstance(scan.code, Code) else scan.text
        if self._repeats.counts(text, time.monotonic()):
            self.take_code(text)

    def on_answered(self, answer: Outcome | Done | Refused | str) -> None:
        self.answer_bar.show_answer(answer)
        if not isinstance(answer, str):
            self._tones.sound(tone_of(answer))

    def on_changed(self) -> None:
        self.tag = self.page().tag or self.tag
        self._keeper.at(self._key, self.tag)
        self.page().refresh()
        self._show_header()
        self._keeper.keep()

    def on_book_changed_elsewhere(self) -> None:
        self.page().refresh()
        self._show_header()

    # Actions

    def on_page_action_triggered(self, action: QAction) -> None:
        self.show_page(action.objectName().removeprefix("action-"))

    def on_page_asked(self, key: str, tag: str) -> None:
        if key == "labels":
            self.show_page(self._key, tag)
            self.on_labels_asked()
        else:
            self.show_page(key, tag)

    def on_piece_chosen(self, tag: str) -> None:
        self.show_page("bench" if self._key in ("start", "pieces") else self._key, tag)

    def on_labels_asked(self) -> None:
        if not self.tag:
            self.on_answered(Refused("No piece is at work; take one in or choose one first."))
            return
        from partsbench.ui.dialogs.labels_dialog import LabelsDialog

        dialog = LabelsDialog(self.shop, self.tag, self)
        dialog.finished.connect(self.on_changed)
        dialog.open()

    def on_take_in_asked(self) -> None:
        files = asking.ask_pieces(self)
        if files:
            self.intake.take_files(files)

    def on_copy_asked(self) -> None:
        from partsbench.services.exchange import save_copy

        target = asking.ask_new_file(self, "Save a copy of the book", "copy.partsbench")
        if target:
            self.on_answered(save_copy(self.shop, target))

    def on_undo_asked(self) -> None:
        self._turn(history.undo(self.shop))

    def on_redo_asked(self) -> None:
        self._turn(history.redo(self.shop))

    def _turn(self, turned: Done | Refused) -> None:
        self._repeats.forget()
        self.on_answered(turned)
        if isinstance(turned, Done):
            self.on_changed()

    def on_find_asked(self) -> None:
        from partsbench.ui.find_dialog import FindDialog

        dialog = FindDialog(self.shop, self.tag, self)
        dialog.part_chosen.connect(self.on_part_found)
        dialog.open()

    def on_part_found(self, tag: str, short: str) -> None:
        self.show_page("bench", tag)
        self.page().scanned(short)

    def on_scan_field_asked(self) -> None:
        self.answer_bar.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.answer_bar.field.selectAll()

    def on_open_asked(self) -> None:
        files = asking.ask_pictures(self)
        if files:
            self.intake.take_files(files)

    def on_paste_asked(self) -> None:
        self.intake.take(QGuiApplication.clipboard().mimeData())

    def on_pieces_taken_in(self, tag: str) -> None:
        self.show_page("layout" if self._key == "start" else self._key, tag)

    def on_dark_toggled(self, dark: bool) -> None:
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        themes.use(app, themes.DARK if dark else themes.LIGHT)
        self.settings.put("view/theme", "dark" if dark else "light")

    def on_sound_toggled(self, on: bool) -> None:
        self._tones.on = on
        self.settings.put("view/sound", on)

    def on_full_screen_toggled(self, full: bool) -> None:
        if full:
            self.showFullScreen()
        else:
            self.showNormal()

    def on_keys_asked(self) -> None:
        from partsbench.ui.keys_dialog import KeysDialog

        KeysDialog(self).open()

    def on_window_stands(self) -> None:
        warm_up(self.shop)

    # Qt

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.intake.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.intake.take(event.mimeData())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_stack"):
            self._dress()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._keeper.keep()
        self._keeper.stop()
        self.settings.put_geometry(self.saveGeometry())
        self.settings.write_now()
        self.intake.looker.wait()
        super().closeEvent(event)

    # Building

    def _build(self) -> None:
        self.setObjectName("main-window")
        self.setMinimumSize(SMALLEST)
        self.setAcceptDrops(True)
        self._build_menus()
        self.addToolBar(self._tools())
        whole = QWidget(self)
        self.setCentralWidget(whole)
        down = QVBoxLayout(whole)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(0)
        across = QHBoxLayout()
        down.addLayout(across, 1)
        down.addWidget(self.answer_bar)
        across.setSpacing(0)
        self.rail = Rail(self.page_actions.values(), whole)
        across.addWidget(self.rail)
        across.addWidget(self._stack, 1)

    def _build_menus(self) -> None:
        for title in tables.MENUS:
            menu = self.menuBar().addMenu(f"&{title}")
            menu.setToolTipsVisible(True)
            if title == "Page":
                menu.addActions(list(self.page_actions.values()))
            for entry in tables.ACTIONS:
                if entry.menu == title:
                    menu.addAction(self.actions_by_key[entry.key])

    def _tools(self) -> QToolBar:
        bar = QToolBar("Tools")
        bar.setObjectName("tools")
        bar.setMovable(False)
        bar.setIconSize(QSize(22, 22))
        bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        bar.addWidget(QLabel("  At work  "))
        bar.addWidget(self.chooser)
        for key in tables.TOOLS:
            bar.addAction(self.actions_by_key[key])
        return bar

    def _connect(self) -> None:
        for action in self.page_actions.values():
            action.actionGroup().triggered.connect(self.on_page_action_triggered)
            break
        self.chooser.piece_chosen.connect(self.on_piece_chosen)
        self.answer_bar.code_typed.connect(self.take_code)
        self.scans.scanned.connect(self.on_scanned)
        self.intake.answered.connect(self.on_answered)
        self.intake.code_read.connect(self.take_code)
        self.intake.pieces_taken_in.connect(self.on_pieces_taken_in)
        self._keeper.book_changed_elsewhere.connect(self.on_book_changed_elsewhere)
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        self.scans.watch_all(app)
        QTimer.singleShot(LATER_MS, self, self.on_window_stands)

    def _dress(self) -> None:
        theme = themes.theme_of(self)
        tables.tint(self.page_actions, tables.PAGES, theme)
        tables.tint(self.actions_by_key, tables.ACTIONS, theme)

    def _restore(self) -> None:
        self.resize(USUAL)
        self.restoreGeometry(self.settings.geometry())
        self.actions_by_key["dark"].setChecked(themes.theme_of(self) is themes.DARK)
        self.actions_by_key["sound"].setChecked(self.settings.flag("view/sound", True))
        known = {p.tag for p in pieces(self.shop)}
        tag = self.settings.text("at/tag")
        key = self.settings.text("at/page")
        if key not in self.page_actions or (tag not in known and key not in ("start", "pieces")):
            key = "pieces" if known else "start"
        self.show_page(key, tag if tag in known else "")

    def _show_header(self) -> None:
        self.chooser.show_pieces(self.tag)
        at_work = self.chooser.currentText() if self.tag else "partsbench"
        self.setWindowTitle(f"{at_work} · partsbench" if self.tag else at_work)
        for key, entry in (
            ("undo", history.last_change(self.shop)),
            ("redo", history.next_redo(self.shop)),
        ):
            action = self.actions_by_key[key]
            action.setEnabled(entry is not None)
            row = next(a for a in tables.ACTIONS if a.key == key)
            words = f"{row.text}: {entry.sentence}" if entry else row.tip
            action.setToolTip(f"{words} ({row.shortcut})")


def _framed(page: Page) -> QScrollArea:
    """A page that scrolls where the window is too small for it."""
    frame = QScrollArea()
    frame.setWidget(page)
    frame.setWidgetResizable(True)
    frame.setFrameShape(QScrollArea.Shape.NoFrame)
    frame.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return frame
