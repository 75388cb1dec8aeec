from __future__ import annotations

from pytestqt.qtbot import QtBot

from partsbench.services.known import people
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines
from partsbench.ui.dialogs.people_dialog import PeopleDialog
from partsbench.ui.empty_hint import EmptyHint
from partsbench.ui.theme import Theme


def test_the_hint_stands_while_there_is_no_line(theme: Theme, qtbot: QtBot) -> None:
    lines = Lines("some", "Some", empty="Nothing yet.")
    qtbot.addWidget(lines)
    lines.resize(300, 120)
    lines.show()
    hint = lines.findChild(EmptyHint)
    assert hint is not None
    assert hint.isVisible()
    assert hint.text() == "Nothing yet."
    assert lines.viewport().rect().contains(hint.geometry())
    lines.show_lines(["one"])
    assert not hint.isVisible()
    lines.show_lines([])
    assert hint.isVisible()


def test_a_list_of_people_says_that_none_is_needed_until_there_is_one(
    shop: Shop, theme: Theme, qtbot: QtBot
) -> None:
    dialog = PeopleDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.show()
    hint = dialog.people.findChild(EmptyHint)
    assert hint is not None
    assert hint.isVisible()
    people.add_person(shop, "Wren", [])
    dialog.refresh()
    assert not hint.isVisible()
