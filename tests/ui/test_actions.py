from __future__ import annotations

from collections import Counter

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QLineEdit

from partsbench.resources import asset
from partsbench.ui.actions import ACTIONS, MENUS, PAGES
from partsbench.ui.icons import icon
from partsbench.ui.keys_dialog import lines
from partsbench.ui.main_window import MainWindow
from partsbench.ui.theme import DARK, LIGHT, Theme


def test_every_action_has_text_tip_icon_and_a_shortcut_of_its_own(window: MainWindow) -> None:
    made = {**window.actions_by_key, **window.page_actions}
    assert len(made) == len(ACTIONS) + len(PAGES)
    for key, action in made.items():
        assert action.text(), key
        assert action.statusTip(), key
        assert not action.icon().isNull(), key
        assert not action.shortcut().isEmpty(), key
    shortcuts = Counter(a.shortcut().toString() for a in made.values())
    assert [keys for keys, times in shortcuts.items() if times > 1] == []


def test_every_action_stands_in_a_menu(window: MainWindow) -> None:
    assert {a.menu for a in ACTIONS} <= set(MENUS)
    bar = window.menuBar()
    shown = {a.objectName() for menu in bar.actions() for a in menu.menu().actions()}
    assert shown >= {f"action-{e.key}" for e in (*ACTIONS, *PAGES)}


def test_no_shortcut_is_a_bare_letter_that_a_scanner_could_send() -> None:
    for entry in (*ACTIONS, *PAGES):
        assert entry.shortcut.startswith(("Ctrl+", "F")), entry
        assert QKeySequence(entry.shortcut).count() == 1


def test_every_icon_is_drawn_in_the_ink_of_its_theme(theme: Theme) -> None:
    for entry in (*ACTIONS, *PAGES):
        assert asset(f"icons/{entry.icon}.svg").is_file()
        for each in (LIGHT, DARK):
            image = icon(entry.icon, each).pixmap(48, 48).toImage()
            seen = {
                image.pixelColor(x, y).name().upper()
                for x in range(image.width())
                for y in range(image.height())
                if image.pixelColor(x, y).alpha() == 255
            }
            assert each.ink in seen, (entry.icon, each.name)


def test_the_list_of_keys_names_every_action() -> None:
    said = " ".join(what for _, what in lines())
    for entry in ACTIONS:
        assert entry.tip in said
    for page in PAGES:
        assert page.tip in said


def test_paste_in_a_field_is_the_fields_own(window: MainWindow) -> None:
    """Ctrl+V in a text field pastes there; the window takes it only where no field wants it."""
    from PySide6.QtGui import QGuiApplication
    from PySide6.QtTest import QTest

    window.show_page("start")
    field = window.findChild(QLineEdit, "codename-field")
    assert field is not None
    QGuiApplication.clipboard().setText("Larch")
    field.setFocus()
    field.selectAll()
    QTest.keySequence(field, QKeySequence(QKeySequence.StandardKey.Paste))
    assert field.text() == "Larch"


def test_the_pages_are_numbered_as_they_stand_in_the_rail() -> None:
    numbers = [f"Ctrl+{n}" for n in "1234567890"]
    assert [page.shortcut for page in PAGES] == [*numbers, "Ctrl+Shift+M", "Ctrl+Shift+K"]
