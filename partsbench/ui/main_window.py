"""The window: pages, the piece at work, scans from anywhere, and the last answer.

It is shown with the piece at work drawn; pages, scanner and the rest are loaded right after that
first picture (`_stand`).
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.services.restart import WindowMark, window_opened
from partsbench.services.shop import Shop
from partsbench.services.watching import all_pieces, warm_up
from partsbench.ui import actions as tables
from partsbench.ui import theme as themes
from partsbench.ui.answer_bar import AnswerBar
from partsbench.ui.band import Band
from partsbench.ui.keeper import Keeper
from partsbench.ui.page_stack import PageStack
from partsbench.ui.pages.page import Page
from partsbench.ui.piece_chooser import PieceChooser
from partsbench.ui.rail import Rail
from partsbench.ui.settings import Settings

if TYPE_CHECKING:
    from partsbench.ui.history_dock import HistoryDock
    from partsbench.ui.listening import Listening

SMALLEST = QSize(480, 320)
USUAL = QSize(1280, 760)
FRAME = 32
"""So high may the system's title bar be over the window."""
LATER_MS = 300
"""So long after the window stands, what the first change needs is loaded."""
WITHOUT_PIECE = ("start", "pieces")


def first_size(room: QSize) -> QSize:
    """The size of the first start: as usual, or what a smaller screen leaves free.

    The frame that the system draws round a window is not known before it stands.
    """
    frame = QSize(0, FRAME)
    return USUAL.boundedTo(room - frame).expandedTo(SMALLEST)


class MainWindow(QMainWindow):
    """Owns the pages and passes scans, answers and the piece at work between them."""

    def __init__(self, shop: Shop, settings: Settings) -> None:
        super().__init__()
        self.shop = shop
        self.settings = settings
        self.tag = ""
        self._key = ""
        self._stands = False
        self.mark: WindowMark | None = None
        self.actions_by_key = tables.make_actions(self)
        self.page_actions = tables.make_page_actions(self)
        self._stack = PageStack(shop, settings, self)
        self.pages = self._stack.pages
        self._keeper = Keeper(shop, settings, self.pages)
        self.answer_bar = AnswerBar(self)
        self.chooser = PieceChooser(shop, self)
        self._build()
        self._dress()
        self._restore()

    # Pages and pieces

    def page(self) -> Page:
        """The page in front."""
        self._stand()
        return self.pages[self._key]

    def page_key(self) -> str:
        return self._key

    def show_page(self, key: str, tag: str = "") -> None:
        """Bring a page to the front, with the piece of that tag if one is given."""
        self._stand()
        self.tag = tag or self.tag
        self._key = key
        self.page_actions[key].setChecked(True)
        self._stack.bring(key, self.tag)
        self._keeper.at(key, self.tag)
        self._show_header()

    # Scans and answers

    @cached_property
    def listening(self) -> Listening:
        from partsbench.ui.listening import Listening

        made = Listening(self.shop, self, self.settings, self.band)
        made.tones.on = self.actions_by_key["sound"].isChecked()
        made.said.connect(self.on_session_said)
        made.spoke.connect(self.on_answered)
        made.session_begun.connect(self._stack.share)
        made.code_scanned.connect(self.take_code)
        made.intake.code_read.connect(self.take_code)
        made.intake.answered.connect(self.on_answered)
        made.intake.pieces_taken_in.connect(self.on_pieces_taken_in)
        made.intake.pictured.connect(self.answer_bar.glimpse.show_look)
        self.answer_bar.glimpse.clicked.connect(self.actions_by_key["picture"].trigger)
        return made

    def take_code(self, text: str) -> None:
        """Give a code to the page in front, or to the dialog over it if that takes codes.

        Nothing is done behind a dialog: what was recorded there would not be seen.
        """
        modal = QApplication.activeModalWidget()
        self.listening.watch.put_off()
        evening = self.listening.evening
        if modal is None and self.page().asks_for(text):
            evening.wait_on()
        elif modal is None and evening.takes(text):
            tag = evening.scan(text, self.tag)
            if tag != self.tag:
                self.show_page(self._key, tag)
            return
        taker = self.page() if modal is None else modal
        scanned = getattr(taker, "scanned", None)
        if scanned:
            scanned(text)
        else:
            self.on_answered(Refused(f"{text}: close the dialog first, then scan again."))

    def on_session_said(self, answer: Outcome) -> None:
        self.page().take_answer(answer)

    def on_answered(self, answer: Outcome | Done | Refused | str) -> None:
        self.answer_bar.show_answer(answer)
        if not isinstance(answer, str):
            self.listening.sound(answer)

    def on_page_answered(self, answer: Outcome | Done | Refused | str) -> None:
        self.on_answered(answer)
        self.listening.evening.heard(answer)

    def on_changed(self) -> None:
        page = self.page()
        self.tag = page.tag or self.tag
        self._keeper.at(self._key, self.tag)
        page.refresh()
        self._show_header()
        self._keeper.keep()

    def on_book_changed_elsewhere(self) -> None:
        self.page().refresh()
        self._show_header()

    # Actions

    def on_page_action_triggered(self, action: QAction) -> None:
        self.show_page(action.objectName().removeprefix("action-"))
        self.answer_bar.show_answer(f"{action.statusTip()}.")

    def on_page_asked(self, key: str, tag: str) -> None:
        if key in self.actions_by_key:
            self.show_page(self._key, tag)
            self.actions_by_key[key].trigger()
        else:
            self.show_page(key, tag)

    def on_piece_chosen(self, tag: str) -> None:
        self.show_page("bench" if self._key in WITHOUT_PIECE else self._key, tag)

    def on_door_asked(self) -> None:
        """The action that asks is named like its line in the table."""
        from partsbench.ui.doors import open_door

        key = self.sender().objectName().removeprefix("action-")
        open_door(self, next(a for a in tables.ACTIONS if a.key == key))

    def on_dialog_finished(self, _result: int) -> None:
        self.on_changed()

    def on_take_in_asked(self) -> None:
        from partsbench.ui import asking

        files = asking.ask_pieces(self)
        if files:
            self.listening.intake.take_files(files)

    def on_copy_asked(self) -> None:
        from partsbench.services.exchange import save_copy
        from partsbench.ui import asking

        target = asking.ask_new_file(self, "Save a copy of the book", "copy.partsbench")
        if target:
            self.on_answered(save_copy(self.shop, target))

    def on_undo_asked(self) -> None:
        from partsbench.services.history import undo

        self._turn(undo(self.shop))

    def on_redo_asked(self) -> None:
        from partsbench.services.history import redo

        self._turn(redo(self.shop))

    def _turn(self, turned: Done | Refused) -> None:
        self.listening.forget_repeats()
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
        from partsbench.ui import asking

        files = asking.ask_pictures(self)
        if files:
            self.listening.intake.take_files(files)

    def on_paste_asked(self) -> None:
        self.listening.intake.take(QGuiApplication.clipboard().mimeData())

    def on_pieces_taken_in(self, tag: str) -> None:
        self.show_page("layout" if self._key == "start" else self._key, tag)

    def on_dark_toggled(self, dark: bool) -> None:
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        themes.use(app, themes.DARK if dark else themes.LIGHT)
        self.settings.put("view/theme", "dark" if dark else "light")

    def on_sound_toggled(self, on: bool) -> None:
        self.listening.tones.on = on
        self.settings.put("view/sound", on)

    def on_full_screen_toggled(self, full: bool) -> None:
        if full:
            self.showFullScreen()
        else:
            self.showNormal()

    @cached_property
    def history_dock(self) -> HistoryDock:
        from partsbench.ui.history_dock import HistoryDock

        made = HistoryDock(self.shop, self)
        made.panel.answered.connect(self.on_answered)
        made.panel.changed.connect(self.on_changed)
        made.visibilityChanged.connect(self.actions_by_key["history"].setChecked)
        self.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, made)
        return made

    def on_history_toggled(self, shown: bool) -> None:
        self.history_dock.setVisible(shown)
        self.history_dock.show_piece(self.tag)

    def on_keys_asked(self) -> None:
        from partsbench.ui.keys_dialog import KeysDialog

        KeysDialog(self).open()

    # Qt

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.listening.intake.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.listening.intake.take(event.mimeData())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_stack"):
            self._dress()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._keeper.keep()
        self._keeper.stop()
        self.settings.put_geometry(self.saveGeometry())
        self.settings.write_now()
        if self.mark:
            self.mark.close()
        if "listening" in self.__dict__:
            self.listening.stop()
        super().closeEvent(event)

    # Building

    def _build(self) -> None:
        self.setObjectName("main-window")
        self.setMinimumSize(SMALLEST)
        self.setAcceptDrops(True)
        tables.fill_menus(self.menuBar(), self.actions_by_key, self.page_actions)
        self.addToolBar(tables.make_tools(self, self.chooser, self.actions_by_key))
        whole = QWidget(self)
        self.setCentralWidget(whole)
        down = QVBoxLayout(whole)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(0)
        self.band = Band("verb-band", whole)
        down.addWidget(self.band)
        across = QHBoxLayout()
        down.addLayout(across, 1)
        down.addWidget(self.answer_bar)
        across.setSpacing(0)
        self.rail = Rail(self.page_actions.values(), whole)
        across.addWidget(self.rail)
        across.addWidget(self._stack, 1)

    def _dress(self) -> None:
        theme = themes.theme_of(self)
        tables.tint(self.page_actions, tables.PAGES, theme)
        tables.tint(self.actions_by_key, tables.ACTIONS, theme)

    def _restore(self) -> None:
        """Where one was: the page is named, and the piece drawn, before the page is loaded."""
        self.resize(first_size(self.screen().availableSize()))
        self.restoreGeometry(self.settings.geometry())
        self.actions_by_key["dark"].setChecked(themes.theme_of(self) is themes.DARK)
        self.actions_by_key["sound"].setChecked(self.settings.flag("view/sound", True))
        known = {p.tag for p in all_pieces(self.shop)}
        tag, key = self.settings.text("at/tag"), self.settings.text("at/page")
        if key not in self.page_actions or (tag not in known and key not in WITHOUT_PIECE):
            key = "pieces" if known else "start"
        self.tag, self._key = tag if tag in known else "", key
        self.page_actions[key].setChecked(True)
        self.chooser.show_pieces(self.tag)
        curtain = self._stack.hang_curtain(self.shop.piece(self.tag) if self.tag else None)
        curtain.first_painted.connect(self.on_curtain_painted, Qt.ConnectionType.QueuedConnection)

    def on_curtain_painted(self) -> None:
        self._stand()

    def _stand(self) -> None:
        """Load what the first picture did without; the second time does nothing."""
        if self._stands:
            return
        from partsbench.ui.doors import ask_after_restart

        self._stands = True
        self._stack.answered.connect(self.on_page_answered)
        self._stack.changed.connect(self.on_changed)
        self._stack.page_asked.connect(self.on_page_asked)
        self.show_page(self._key, self.tag)
        self._stack.take_curtain_down()
        _ = self.listening
        self.page_actions[self._key].actionGroup().triggered.connect(self.on_page_action_triggered)
        self.chooser.piece_chosen.connect(self.on_piece_chosen)
        self.answer_bar.code_typed.connect(self.take_code)
        self._keeper.book_changed_elsewhere.connect(self.on_book_changed_elsewhere)
        ask_after_restart(self)
        self.mark = window_opened(self.shop)
        QTimer.singleShot(LATER_MS, self, self.on_window_stands)

    def on_window_stands(self) -> None:
        if self.isVisible():
            warm_up(self.shop)
            self.listening.begin()

    def on_bench_asked(self) -> None:
        self.show_page("bench")

    def _show_header(self) -> None:
        from partsbench.services.history import last_change, next_redo

        if "history_dock" in self.__dict__:
            self.history_dock.show_piece(self.tag)
        self.chooser.show_pieces(self.tag)
        at_work = self.chooser.currentText() if self.tag else "partsbench"
        self.setWindowTitle(f"{at_work} · partsbench" if self.tag else at_work)
        for key, entry in (("undo", last_change(self.shop)), ("redo", next_redo(self.shop))):
            action = self.actions_by_key[key]
            action.setEnabled(entry is not None)
            row = next(a for a in tables.ACTIONS if a.key == key)
            words = f"{row.text}: {entry.sentence}" if entry else row.tip
            action.setToolTip(f"{words} ({row.shortcut})")
