"""Everything the window can be told to do, as one table: menus, tools and the key list use it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QObject, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QLabel, QMenuBar, QToolBar, QWidget

from partsbench.ui.icons import icon
from partsbench.ui.theme import Theme


@dataclass(frozen=True, slots=True)
class PageEntry:
    """A page of the window. `where` is its module and class, imported when first shown."""

    key: str
    title: str
    tip: str
    icon: str
    where: str
    shortcut: str


PAGES = (
    PageEntry(
        "start",
        "New piece",
        "Take in a piece: how many drawers in each row",
        "start",
        "partsbench.ui.pages.start_page:StartPage",
        "Ctrl+1",
    ),
    PageEntry(
        "layout",
        "Layout",
        "Draw the front and brush finish paths on",
        "layout",
        "partsbench.ui.pages.layout_page:LayoutPage",
        "Ctrl+2",
    ),
    PageEntry(
        "teardown",
        "Teardown",
        "Take the piece apart: a scan says a part is out",
        "teardown",
        "partsbench.ui.pages.teardown_page:TeardownPage",
        "Ctrl+3",
    ),
    PageEntry(
        "bench",
        "Bench",
        "Scan a part: what it is, its next step, and recording it",
        "bench",
        "partsbench.ui.pages.bench_page:BenchPage",
        "Ctrl+4",
    ),
    PageEntry(
        "return",
        "Return",
        "Bring every part back to its own home",
        "return",
        "partsbench.ui.pages.return_page:ReturnPage",
        "Ctrl+5",
    ),
    PageEntry(
        "pieces",
        "Pieces",
        "All pieces of this book",
        "pieces",
        "partsbench.ui.pages.pieces_page:PiecesPage",
        "Ctrl+6",
    ),
    PageEntry(
        "sums",
        "Sums",
        "Will it still fit, whose drawer is this, which pulls, how much to mix",
        "sums",
        "partsbench.ui.pages.sums_page:SumsPage",
        "Ctrl+8",
    ),
    PageEntry(
        "ledger",
        "Ledger",
        "Hours, costs, offers, the floor price, and the handover",
        "ledger",
        "partsbench.ui.pages.ledger_page:LedgerPage",
        "Ctrl+9",
    ),
)


@dataclass(frozen=True, slots=True)
class ActionEntry:
    """One thing to do. `slot` is the name of the window's method; `menu` where it stands."""

    key: str
    text: str
    tip: str
    icon: str
    shortcut: str
    slot: str
    menu: str
    checkable: bool = False


ACTIONS = (
    ActionEntry(
        "labels",
        "Print labels…",
        "Labels for the piece at work",
        "labels",
        "Ctrl+P",
        "on_labels_asked",
        "Piece",
    ),
    ActionEntry(
        "take-in",
        "Take in a file…",
        "Take in a piece from a description or an export",
        "take-in",
        "Ctrl+I",
        "on_take_in_asked",
        "Piece",
    ),
    ActionEntry(
        "copy",
        "Save a copy of the book…",
        "The whole book as one file",
        "copy",
        "Ctrl+S",
        "on_copy_asked",
        "Piece",
    ),
    ActionEntry(
        "quit", "Quit", "Close the window; all is kept", "quit", "Ctrl+Q", "close", "Piece"
    ),
    ActionEntry(
        "undo", "Undo", "Take back the latest change", "undo", "Ctrl+Z", "on_undo_asked", "Edit"
    ),
    ActionEntry(
        "redo",
        "Redo",
        "Do again what was undone",
        "redo",
        "Ctrl+Shift+Z",
        "on_redo_asked",
        "Edit",
    ),
    ActionEntry(
        "find",
        "Find a part…",
        "Where a part is: by number, code or old mark",
        "find",
        "Ctrl+F",
        "on_find_asked",
        "Edit",
    ),
    ActionEntry(
        "scan",
        "Type a code",
        "Go to the field for a code",
        "scan",
        "Ctrl+L",
        "on_scan_field_asked",
        "Scan",
    ),
    ActionEntry(
        "open",
        "Read a picture or PDF…",
        "Codes in a photograph or a sheet",
        "open",
        "Ctrl+O",
        "on_open_asked",
        "Scan",
    ),
    ActionEntry(
        "paste",
        "Read what was copied",
        "A copied picture, file or code counts as a scan",
        "paste",
        "Ctrl+V",
        "on_paste_asked",
        "Scan",
    ),
    ActionEntry(
        "dark",
        "Dark",
        "Light letters on a dark ground",
        "theme",
        "Ctrl+D",
        "on_dark_toggled",
        "View",
        checkable=True,
    ),
    ActionEntry(
        "sound",
        "Sound",
        "A tone for each kind of answer",
        "sound",
        "Ctrl+M",
        "on_sound_toggled",
        "View",
        checkable=True,
    ),
    ActionEntry(
        "full-screen",
        "Full screen",
        "The whole screen for the bench",
        "full-screen",
        "F11",
        "on_full_screen_toggled",
        "View",
        checkable=True,
    ),
    ActionEntry(
        "history",
        "History",
        "Every change of the piece at work, at the side",
        "history",
        "Ctrl+H",
        "on_history_toggled",
        "View",
        checkable=True,
    ),
    ActionEntry("keys", "Keys", "Every key of the window", "help", "F1", "on_keys_asked", "Help"),
)

MENUS = ("Piece", "Edit", "Page", "Scan", "View", "Help")
TOOLS = ("labels", "undo", "redo", "find", "open")
"""What also stands as a button above the page."""


def make_actions(window: QObject) -> dict[str, QAction]:
    """The actions of the table, connected to the window's methods."""
    made = {}
    for entry in ACTIONS:
        action = _made(window, entry)
        action.setCheckable(entry.checkable)
        action.triggered.connect(getattr(window, entry.slot))
        made[entry.key] = action
    return made


def make_page_actions(window: QObject) -> dict[str, QAction]:
    """One action for each page, of which one is on at a time."""
    group = QActionGroup(window)
    made = {}
    for entry in PAGES:
        action = _made(window, entry)
        action.setCheckable(True)
        group.addAction(action)
        made[entry.key] = action
    return made


def fill_menus(
    bar: QMenuBar, actions: Mapping[str, QAction], page_actions: Mapping[str, QAction]
) -> None:
    """Every action stands in a menu."""
    for title in MENUS:
        menu = bar.addMenu(f"&{title}")
        menu.setToolTipsVisible(True)
        if title == "Page":
            menu.addActions(list(page_actions.values()))
        menu.addActions([actions[e.key] for e in ACTIONS if e.menu == title])


def make_tools(parent: QWidget, chooser: QWidget, actions: Mapping[str, QAction]) -> QToolBar:
    """The row above the page: the piece at work, and what is wanted most."""
    bar = QToolBar("Tools", parent)
    bar.setObjectName("tools")
    bar.setMovable(False)
    bar.setIconSize(QSize(22, 22))
    bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
    bar.addWidget(QLabel("  At work  ", bar))
    bar.addWidget(chooser)
    bar.addActions([actions[key] for key in TOOLS])
    return bar


def tint(
    actions: Mapping[str, QAction], entries: tuple[ActionEntry | PageEntry, ...], theme: Theme
) -> None:
    """Give the actions their icons in the theme's ink."""
    for entry in entries:
        actions[entry.key].setIcon(icon(entry.icon, theme))


def _made(window: QObject, entry: ActionEntry | PageEntry) -> QAction:
    action = QAction(entry.text if isinstance(entry, ActionEntry) else entry.title, window)
    action.setObjectName(f"action-{entry.key}")
    action.setShortcut(QKeySequence(entry.shortcut))
    action.setToolTip(f"{entry.tip} ({entry.shortcut})")
    action.setStatusTip(entry.tip)
    return action
