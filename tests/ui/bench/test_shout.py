from __future__ import annotations

import itertools

import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer
from partsbench.ui.bench.shout import Shout
from partsbench.ui.theme import Theme


def picture(shout: Shout) -> QImage:
    return shout.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)


def edge_changes(image: QImage) -> int:
    """How often light and dark change along a line just inside the upper edge."""
    row = [image.pixelColor(x, 12).lightness() for x in range(20, image.width() - 20)]
    return sum(abs(a - b) > 60 for a, b in itertools.pairwise(row))


@pytest.fixture
def shout(theme: Theme, qtbot: QtBot) -> Shout:
    made = Shout()
    qtbot.addWidget(made)
    made.resize(500, 200)
    return made


def test_word_and_line_are_told_to_a_screen_reader(shout: Shout) -> None:
    shout.show_answer(Answer.GO, "scan again to record")
    assert shout.accessibleName() == "GO. scan again to record"
    shout.show_answer(None, "A first scan shows.")
    assert shout.word == ""


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_go_is_calm_and_the_stops_have_a_border_without_colour(shout: Shout) -> None:
    changes = {}
    for answer in Answer:
        shout.show_answer(answer)
        changes[answer] = edge_changes(picture(shout))
    assert changes[Answer.GO] == 0
    assert all(changes[a] > 8 for a in Answer if a is not Answer.GO), changes


def test_no_two_answers_look_alike_in_grey(shout: Shout) -> None:
    seen = []
    for answer in Answer:
        shout.show_answer(answer)
        seen.append(bytes(picture(shout).constBits()))
    assert len(set(seen)) == len(Answer)
