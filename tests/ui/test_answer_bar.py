from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.ui.answer_bar import MANNERS, AnswerBar, manner_of
from partsbench.ui.theme import Theme


@pytest.fixture
def bar(qtbot: QtBot, theme: Theme) -> AnswerBar:
    made = AnswerBar()
    qtbot.addWidget(made)
    made.resize(1280, 72)
    made.show()
    return made


def test_every_answer_has_a_word_and_a_mark_of_its_own() -> None:
    assert set(MANNERS) == set(Answer)
    assert len({m.word for m in MANNERS.values()}) == len(Answer)
    assert len({m.mark for m in MANNERS.values()}) == len(Answer)
    assert all(answer.value == MANNERS[answer].word for answer in Answer)


def test_word_sentence_reason_and_source_are_shown(bar: AnswerBar) -> None:
    bar.show_answer(Outcome(Answer.WAIT, Tone.ASK, "Dry until 17:40.", "Base coat", "the tin"))
    assert bar.word.text() == "WAIT"
    assert bar.sentence.text() == "Dry until 17:40."
    assert bar.because.text() == "Base coat  ·  the tin"
    assert bar.showing() == "WAIT Dry until 17:40."


def test_done_and_refused_are_told_apart_by_word(bar: AnswerBar) -> None:
    bar.show_answer(Done("Heron is in the book."))
    assert bar.showing() == "DONE Heron is in the book."
    assert not bar.because.isVisible()
    bar.show_answer(Refused("Nothing to undo."))
    assert bar.showing() == "NOT DONE Nothing to undo."
    assert manner_of("Ready.").word == ""


def test_what_stops_the_work_fills_the_width(bar: AnswerBar, theme: Theme) -> None:
    def ground_at_the_end() -> str:
        image = bar.grab().toImage()
        return image.pixelColor(image.width() - 4, image.height() // 2).name().upper()

    bar.show_answer(Outcome(Answer.GO, Tone.ASK, "Next: wash."))
    assert ground_at_the_end() == theme.raised
    bar.show_answer(Outcome(Answer.OTHER_JOB, Tone.FOREIGN, "This is Larch D5."))
    assert ground_at_the_end() == theme.foreign


@pytest.mark.parametrize("width", [480, 640, 1280])
def test_no_word_of_a_long_sentence_is_cut(bar: AnswerBar, width: int) -> None:
    bar.resize(width, 72)
    sentence = "This is Larch D5 (left nightstand), of another job. Its home there: row 3, left."
    bar.show_answer(Outcome(Answer.OTHER_JOB, Tone.FOREIGN, sentence, "Heron K7Q4 is at work."))
    bar.resize(width, bar.heightForWidth(width) if bar.hasHeightForWidth() else 200)
    label = bar.sentence
    assert label.heightForWidth(label.width()) <= label.height()
    longest = max(sentence.split(), key=label.fontMetrics().horizontalAdvance)
    assert label.fontMetrics().horizontalAdvance(longest) <= label.width()


def test_the_strip_is_as_high_with_an_answer_as_without(bar: AnswerBar) -> None:
    """So that the page above it does not move when something is told."""

    def high() -> int:
        found = bar.heightForWidth(1280) if bar.hasHeightForWidth() else bar.sizeHint().height()
        return max(found, bar.minimumHeight())

    bar.resize(1280, 72)
    heights = []
    for answer in ("Ready.", Refused("No step of D1 is behind it yet."),
                   Outcome(Answer.STOP, Tone.REFUSED, "Scan a part first."),
                   Outcome(Answer.WAIT, Tone.WAIT, "Wet.", "It needs 12 h.")):  # fmt: skip
        for on_page in (False, True):
            bar.show_answer(answer, on_page=on_page)
            heights.append(high())
    assert heights == [heights[0]] * 8


def test_a_typed_code_is_given_on_and_the_field_emptied(bar: AnswerBar) -> None:
    typed: list[str] = []
    bar.code_typed.connect(typed.append)
    QTest.keyClicks(bar.field, " d5 ")
    QTest.keyClick(bar.field, Qt.Key.Key_Return)
    QTest.keyClick(bar.field, Qt.Key.Key_Return)
    assert typed == ["d5"]
    assert bar.field.text() == ""
