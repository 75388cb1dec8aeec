"""Everything the window can be told to do, as one table: menus, tools and the key list use it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QObject, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QLabel, QMenuBar, QToolBar, QWidget

from partsbench.ui.icons import icon
from partsbench.ui.page_table import PAGES, PageEntry
from partsbench.ui.theme import Theme, grown


@dataclass(frozen=True, slots=True)
class ActionEntry:
    """One thing to do. `slot` names the method of the window or of a helper of it that does it;
    `menu` is where it stands.

    opens: module and class of the dialog that the slot `on_door_asked` opens; `of_piece` when it
    needs a piece at work.
    """

    key: str
    text: str
    tip: str
    icon: str
    shortcut: str
    slot: str
    menu: str
    checkable: bool = False
    opens: str = ""
    of_piece: bool = False


ACTIONS = (
    ActionEntry(
        "labels",
        "Print…",
        "Labels, proof, care and day sheets, the verb sheet",
        "labels",
        "Ctrl+P",
        "on_door_asked",
        "Piece",
        opens="partsbench.ui.dialogs.labels_dialog:LabelsDialog",
        of_piece=True,
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
        "copies",
        "Copies, and getting one back…",
        "Copies that are made by themselves: where they go, and getting one back",
        "copy",
        "Ctrl+Shift+S",
        "on_door_asked",
        "Piece",
        opens="partsbench.ui.dialogs.copies_dialog:CopiesDialog",
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
        "on_door_asked",
        "Edit",
        opens="partsbench.ui.find_dialog:FindDialog",
    ),
    ActionEntry(
        "facts",
        "What is known…",
        "Old finish, lead, veneer, conditioner: what is known of the piece",
        "note",
        "Ctrl+E",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.facts_dialog:FactsDialog",
        of_piece=True,
    ),
    ActionEntry(
        "old-finish",
        "Old finish and lead…",
        "What is on the piece, what was tested and how it is worked",
        "note",
        "Ctrl+Shift+E",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.old_finish_dialog:OldFinishDialog",
        of_piece=True,
    ),
    ActionEntry(
        "wood",
        "Wood…",
        "What the piece, or some of its parts, are made of",
        "edit",
        "Ctrl+Shift+W",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.first_dialogs:WoodDialog",
        of_piece=True,
    ),
    ActionEntry(
        "hardware",
        "Pulls, knobs and plates…",
        "Count what is there, front by front",
        "pull",
        "Ctrl+Shift+H",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.first_dialogs:HardwareDialog",
        of_piece=True,
    ),
    ActionEntry(
        "masks",
        "Seams and masks…",
        "Where finish paths meet, and the tape on them",
        "mask",
        "Ctrl+T",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.masks_dialog:MasksDialog",
        of_piece=True,
    ),
    ActionEntry(
        "tins",
        "Tin cards…",
        "Your own times and limits of a product: they win over ours",
        "tin",
        "Ctrl+U",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.tins_dialog:TinsDialog",
    ),
    ActionEntry(
        "cups",
        "Cups…",
        "Mixes in use: what is in them, and the same again",
        "cup",
        "Ctrl+G",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.cups_dialog:CupsDialog",
    ),
    ActionEntry(
        "what-time",
        "What time was it…",
        "When records were made that a wrong clock put in doubt",
        "clock",
        "Ctrl+Shift+T",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.what_time_dialog:WhatTimeDialog",
    ),
    ActionEntry(
        "air",
        "Air and power…",
        "Temperature, humidity, and when the power was off",
        "air",
        "Ctrl+Shift+A",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.air_dialog:AirDialog",
    ),
    ActionEntry(
        "paths",
        "Finish paths…",
        "Copy a finish path and make it your own",
        "layout",
        "Ctrl+Shift+P",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.paths_dialog:PathsDialog",
    ),
    ActionEntry(
        "people",
        "People and places…",
        "Who works here and where things stand, each with a code",
        "client",
        "Ctrl+Shift+N",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.people_dialog:PeopleDialog",
    ),
    ActionEntry(
        "wall",
        "Verb sheet…",
        "Codes for the wall: a whole evening by scanner alone",
        "sheet",
        "Ctrl+Shift+V",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.paper_dialogs:WallDialog",
    ),
    ActionEntry(
        "day-sheet",
        "Day sheet…",
        "The day on paper, with boxes for the pencil",
        "sheet",
        "Ctrl+Shift+D",
        "on_door_asked",
        "Finish",
        opens="partsbench.ui.dialogs.paper_dialogs:DaySheetDialog",
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
        "picture",
        "The last picture…",
        "What was read in the last picture, where and how",
        "picture",
        "Ctrl+Shift+O",
        "on_door_asked",
        "Scan",
        opens="partsbench.ui.dialogs.picture_dialog:LastPicture",
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
        "camera",
        "Camera",
        "A label held before the camera is a scan",
        "camera",
        "Ctrl+Shift+C",
        "on_camera_toggled",
        "Scan",
        checkable=True,
    ),
    ActionEntry(
        "hub",
        "Phones and tablets…",
        "Every phone in the shop as a bench in the hand",
        "phone",
        "Ctrl+Shift+B",
        "on_door_asked",
        "Scan",
        opens="partsbench.ui.dialogs.hub_dialog:HubDialog",
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
        "speech",
        "Speech",
        "Each answer said aloud: number, word, sentence",
        "speech",
        "Ctrl+Shift+L",
        "on_speech_toggled",
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
    ActionEntry(
        "help",
        "Help…",
        "What this page is for, every command, and any word",
        "help",
        "F1",
        "on_door_asked",
        "Help",
        opens="partsbench.ui.dialogs.help_dialog:HelpDialog",
    ),
    ActionEntry(
        "sample",
        "A first job on a sample",
        "A whole job step by step in ten minutes, in a window and book of its own",
        "start",
        "Ctrl+Shift+F1",
        "on_sample_asked",
        "Help",
    ),
    ActionEntry(
        "keys", "Keys", "Every key of the window", "help", "Ctrl+F1", "on_keys_asked", "Help"
    ),
)

BY_KEY = {entry.key: entry for entry in ACTIONS}
MENUS = ("Piece", "Edit", "Page", "Finish", "Scan", "View", "Help")
TOOLS = ("labels", "undo", "redo", "find", "open")
"""What also stands as a button above the page."""


def make_actions(window: QObject, *helpers: QObject) -> dict[str, QAction]:
    """The actions of the table, connected to the methods of the window or of its helpers."""
    made = {}
    for entry in ACTIONS:
        action = _made(window, entry)
        action.setCheckable(entry.checkable)
        does = next(each for each in (window, *helpers) if hasattr(each, entry.slot))
        action.triggered.connect(getattr(does, entry.slot))
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
    bar.setIconSize(QSize(grown(22), grown(22)))
    bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
    at_work = QLabel("At work", bar)
    at_work.setContentsMargins(8, 0, 8, 0)
    bar.addWidget(at_work)
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
