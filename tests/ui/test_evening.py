"""Codes of the wall in the window: on every page, seen in the band, and off by themselves."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.finish.cups import Poured
from partsbench.core.outcomes import Answer, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.verbs import REASONS
from partsbench.services.acts.history import history
from partsbench.services.books import pieces
from partsbench.services.heard.session import Session
from partsbench.services.known import people
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.bench.shout import Shout
from partsbench.ui.evening import Evening
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.restart_bar import RestartBar
from partsbench.ui.settings import Settings
from partsbench.ui.theme import words_at
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code, made, quill
from tests.support.wall import verb_named


@pytest.fixture
def heron(shop: Shop) -> Piece:
    return two_finishes(shop)


@pytest.fixture
def another(
    window: MainWindow, shop: Shop, tmp_path: Path, qtbot: QtBot
) -> Callable[[], MainWindow]:
    """Opens a further window on the same book; each goes with the first one."""

    def opened() -> MainWindow:
        made = MainWindow(shop, Settings(tmp_path / "window.ini"))
        qtbot.addWidget(made)
        made.page()
        return made

    return opened


def verb(name: str) -> str:
    return verb_named(name).code


def and_so_it_is(window: MainWindow, text: str) -> None:
    """A scan that asks what has to be so, and a second one that says it is."""
    window.take_code(text)
    assert "Is this so?" in window.answer_bar.showing()
    assert isinstance(window.shop.clock, SetClock)
    window.shop.clock.pass_time(seconds=2)
    window.take_code(text)


def reason(name: str) -> str:
    return next(r.code for r in REASONS if r.name == name)


def steps(shop: Shop, piece: Piece, short: str) -> list[str]:
    now = shop.piece(piece.tag)
    assert now is not None
    return [m.step for m in piece_state(shop, now).of(short).faces[0].marks]


@pytest.mark.parametrize("page", [entry.key for entry in PAGES])
def test_a_verb_of_the_wall_works_on_every_page(
    page: str, window: MainWindow, heron: Piece, shop: Shop
) -> None:
    window.show_page(page, heron.tag)
    window.take_code(verb("WASHED"))
    assert window.band.isVisible()
    assert window.band.text == "WASHED"
    and_so_it_is(window, code(heron, "D1"))
    window.take_code(code(heron, "D2"))
    assert steps(shop, heron, "D1") == ["wash"] == steps(shop, heron, "D2")
    window.take_code(verb("VERB OFF"))
    assert not window.band.isVisible()
    assert window.page_key() == page


def test_out_and_home_by_verb_on_the_bench(window: MainWindow, heron: Piece, shop: Shop) -> None:
    window.show_page("bench", heron.tag)
    for name, where in (("OUT", Where.OUT), ("HOME", Where.HOME)):
        window.take_code(verb(name))
        window.take_code(code(heron, "D3"))
        assert piece_state(shop, heron).of("D3").where is where


def test_the_bench_shows_what_a_verb_recorded(window: MainWindow, heron: Piece) -> None:
    window.show_page("bench", heron.tag)
    window.take_code(verb("WASHED"))
    and_so_it_is(window, code(heron, "D1"))
    page = window.page()
    assert page.board.number.text() == "D1"
    assert page.board.shout.word == "DONE"
    assert page.board.shout.line.startswith("recorded ")
    assert "D1 washed" in window.answer_bar.showing()


def test_without_a_verb_the_page_has_its_own_way(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    window.show_page("teardown", heron.tag)
    window.take_code(code(heron, "D1"))
    assert piece_state(shop, heron).of("D1").where is Where.OUT
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D1"))
    assert steps(shop, heron, "D1") == []
    window.take_code(code(heron, "D1"))
    assert steps(shop, heron, "D1") == ["wash"]


def test_what_the_bench_holds_is_insisted_upon_by_scan(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D1"))
    assert window.page().board.shout.word == "WAIT"
    window.take_code(code(heron, "D1"))
    assert steps(shop, heron, "D1") == ["wash", "rinse"], "refused"
    window.take_code(verb("INSIST"))
    assert window.band.text == "INSIST"
    window.take_code(reason("tried, it is ready"))
    assert steps(shop, heron, "D1")[-1] == "sand_150"
    assert "tried, it is ready" in str(piece_state(shop, heron).of("D1").faces[0].marks[-1])
    assert window.band.text == ""


def test_where_one_of_two_holds_is_left_it_is_said_that_insisting_goes_once_more(
    window: MainWindow, shop: Shop
) -> None:
    piece = made(pieces.lay_out(shop, "Larch", "2 1", paths=[("paint", ["D1", "D2"])]))
    do(shop, piece, "D1", "wash", "rinse")
    window.show_page("bench", piece.tag)
    for text in (verb("DONE"), code(piece, "D1"), verb("INSIST")):
        window.take_code(text)
    both = ("old finish not answered", "not dry yet")
    session, board = window.page().at_bench, window.page().board
    assert session.state.hand.holds == both
    assert session.answers[-1].sentence.startswith("DONE is off. INSIST: scan why")
    window.take_code(reason("the tin says so"))
    assert steps(shop, piece, "D1") == ["wash", "rinse"], "nothing is recorded yet"
    assert session.answers[-1].beside.endswith(
        "1 hold is left: not dry yet. Insisting goes once more, with a reason of its own."
    )
    assert (board.shout.word, board.shout.line) == (
        "STOP",
        "1 hold is left: insisting goes once more",
    )
    window.take_code(reason("the tin says so"))
    assert steps(shop, piece, "D1") == ["wash", "rinse"], "a reason alone lifts nothing"
    window.take_code(verb("INSIST"))
    window.take_code(reason("tried, it is ready"))
    assert steps(shop, piece, "D1")[-1] == "sand_150"
    window.take_code(code(piece, "D2"))
    assert steps(shop, piece, "D2") == [], "DONE does not come back unseen"


def test_a_reason_given_before_two_holds_were_read_lifts_neither(
    window: MainWindow, shop: Shop
) -> None:
    piece = made(pieces.lay_out(shop, "Larch", "2 1", paths=[("paint", ["D1", "D2"])]))
    do(shop, piece, "D1", "wash", "rinse")
    window.show_page("bench", piece.tag)
    for text in (verb("INSIST"), reason("the tin says so"), code(piece, "D1"), verb("INSIST"),
                 reason("tried, it is ready")):  # fmt: skip
        window.take_code(text)
    hand = window.page().at_bench.state.hand
    assert (hand.holds, hand.lifted) == (
        ("not dry yet",), (("old finish not answered", "tried, it is ready"),)
    )  # fmt: skip
    assert steps(shop, piece, "D1") == ["wash", "rinse"]


def test_a_hold_is_forgotten_when_another_part_was_looked_at(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D1"))
    window.take_code(code(heron, "D2"))
    window.take_code(verb("INSIST"))
    window.take_code(reason("tried, it is ready"))
    assert steps(shop, heron, "D1") == ["wash", "rinse"]
    assert steps(shop, heron, "D2") == []


def test_a_verb_goes_off_by_itself_and_is_heard(
    window: MainWindow, heron: Piece, clock: SetClock
) -> None:
    window.show_page("bench", heron.tag)
    window.take_code(verb("SANDED"))
    heard: list[object] = []
    window.listening.went_off.connect(heard.append)
    clock.pass_time(minutes=2)
    window.listening.evening.on_beat()
    assert window.band.text == "SANDED" and heard == []
    clock.pass_time(minutes=2)
    window.listening.evening.on_beat()
    assert not window.band.isVisible()
    assert [o.tone for o in heard] == [Tone.VERB_OFF]
    assert window.answer_bar.showing() == "GO SANDED is off: nothing was scanned for 3 min."


def test_undo_by_scan(window: MainWindow, heron: Piece, shop: Shop) -> None:
    window.show_page("bench", heron.tag)
    window.take_code(verb("WASHED"))
    and_so_it_is(window, code(heron, "D1"))
    window.take_code(verb("UNDO"))
    assert steps(shop, heron, "D1") == []
    window.take_code(verb("REDO"))
    assert steps(shop, heron, "D1") == ["wash"]


def test_this_piece_brings_another_one_to_the_window(window: MainWindow, heron: Piece) -> None:
    other = quill(window.shop)
    window.show_page("bench", heron.tag)
    window.take_code(verb("WASHED"))
    window.take_code(code(other, "D1"))
    assert window.answer_bar.word.text() == Answer.OTHER_JOB.value
    window.take_code(verb("THIS PIECE"))
    window.take_code(code(other, "D1"))
    assert window.tag == other.tag
    assert window.page().tag == other.tag


def test_people_places_and_cups_are_in_the_band(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    finch = people.add_person(shop, "Finch")
    rack = people.add_place(shop, "rack 2")
    cup = cups.make(shop, "deep blue", [Poured("blue", "17", 1)], tint=5)
    assert not any(isinstance(made, Refused) for made in (finch, rack, cup))
    window.show_page("bench", heron.tag)
    window.take_code(people.person_code(finch))
    window.take_code(cups.code(cup))
    assert window.band.isVisible()
    assert window.band.text == ""
    assert window.band.beside == "Cup 1: deep blue, 5 % tint · Finch"
    window.take_code(people.place_code(rack))
    window.take_code(code(heron, "D1"))
    assert piece_state(shop, heron).of("D1").place == "rack 2"
    assert history(shop)[0].who == "Finch"


def test_the_cup_in_hand_is_refused_on_stain_before_the_trigger(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    cup = cups.make(shop, "tinted", [Poured("clear", "", 9), Poured("tint", "", 1)], tint=10,
                    strained=True, product="clear_water")  # fmt: skip
    assert not isinstance(cup, Refused)
    do(shop, heron, "D4", "wash", "rinse", "sand_150", "sand_220")
    do(shop, heron, "D4", "condition", "wipe_condition", "stain", "wipe")
    clock.pass_time(days=8)
    window.show_page("bench", heron.tag)
    window.take_code(cups.code(cup))
    window.take_code(code(heron, "D4"))
    assert window.page().board.shout.word == "STOP"
    assert "takes water-borne clear without tint" in window.answer_bar.because.text()


def test_a_face_of_the_wall_narrows_the_next_part(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    from partsbench.core.verbs import FACES, Sort, WallCode

    window.show_page("bench", heron.tag)
    window.take_code(str(WallCode(Sort.FACE, FACES.index("front") + 1)))
    assert window.band.text == "ONLY THE FRONT"
    window.take_code(code(heron, "D1"))
    assert steps(shop, heron, "D1") == []
    clock.pass_time(seconds=10)
    window.take_code(code(heron, "D1"))
    faces = piece_state(shop, heron).of("D1").faces
    assert [f.name for f in faces if f.marks] == ["front"]


def test_what_is_in_hand_outlives_a_crash_and_a_verb_does_not(
    window: MainWindow, heron: Piece, shop: Shop, tmp_path: Path
) -> None:
    cup = cups.make(shop, "deep blue", [Poured("blue", "17", 1)])
    assert not isinstance(cup, Refused)
    window.show_page("bench", heron.tag)
    window.take_code(cups.code(cup))
    window.take_code(verb("SANDED"))
    again = Evening(Session(shop), Settings(tmp_path / "window.ini"), window.band)
    assert again.session.state.cup == cup.number
    assert again.session.verb == ""
    again.stop()


def test_nothing_is_taken_behind_a_dialog(window: MainWindow, heron: Piece, shop: Shop) -> None:
    window.show_page("bench", heron.tag)
    window.actions_by_key["air"].trigger()
    window.take_code(verb("WASHED"))
    assert window.band.text == ""
    assert "close the dialog first" in window.answer_bar.showing()


def test_after_a_cut_it_is_asked_what_was_done(
    window: MainWindow,
    heron: Piece,
    shop: Shop,
    clock: SetClock,
    another: Callable[[], MainWindow],
) -> None:
    do(shop, heron, "D1", "wash")
    window.page()
    clock.pass_time(minutes=38)
    beside = another()
    assert beside.findChild(RestartBar) is None, "the first window is still open"
    beside.close()
    assert window.mark is not None
    window.mark.let_go()  # as the system does for a program that died
    again = another()
    again.show()
    bar = again.findChild(RestartBar)
    assert bar is not None
    assert "washed" in bar.question.text()
    assert bar.question.text().endswith("?")
    button = bar.findChild(QPushButton, "restart-nothing")
    assert button is not None
    button.click()
    assert not bar.isVisible()
    again.close()
    clock.pass_time(minutes=38)
    assert another().findChild(RestartBar) is None, "it was closed as it should be"


@pytest.mark.parametrize("page", ["teardown", "return"])
def test_what_a_verb_is_answered_with_is_read_from_two_metres(
    page: str, window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    window.show_page(page, heron.tag)
    loud = window.page().loud
    window.take_code(verb("WASHED"))
    assert not loud.isVisible(), "the band says which verb it is"
    and_so_it_is(window, code(heron, "D1"))
    assert (loud.word, loud.about) == ("DONE", "D1")
    assert loud.line == "D1 washed. Next: Rinse with clear water."
    _is_read_from_two_metres(loud)
    window.take_code(verb("SENT BACK"))
    window.take_code(code(heron, "D1"))
    assert loud.word == "STOP", "it was not said why"
    window.take_code(reason("damaged"))
    window.take_code(code(heron, "D1"))
    assert loud.about == "D1" and "D1 sent back to Wash: damaged." in loud.line
    _is_read_from_two_metres(loud)
    window.take_code(verb("UNDO"))
    assert loud.word == "DONE" and "sent back" in loud.line
    window.take_code(verb("VERB OFF"))
    assert not loud.isVisible()


def test_what_a_verb_may_not_record_says_large_until_when(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("teardown", heron.tag)
    loud = window.page().loud
    window.take_code(verb("SANDED"))
    window.take_code(code(heron, "D1"))
    assert loud.word == "WAIT"
    assert "not recorded" in loud.line and "12 h 00, at " in loud.line
    _is_read_from_two_metres(loud)
    window.show_page("day", heron.tag)
    window.show_page("teardown", heron.tag)
    assert not loud.isVisible(), "another page lay between"


def test_on_the_bench_a_verbs_answer_without_a_part_is_large_too(
    window: MainWindow, heron: Piece
) -> None:
    window.show_page("bench", heron.tag)
    loud = window.page().loud
    window.take_code(verb("NO MASK NEEDED"))
    window.take_code(code(heron, "D1"))
    assert loud.isVisible() and "D1" in loud.line
    window.take_code(verb("VERB OFF"))
    window.take_code(code(heron, "D2"))
    assert not loud.isVisible()


def test_with_a_verb_the_idle_bench_says_what_a_scan_does(window: MainWindow, heron: Piece) -> None:
    window.show_page("bench", heron.tag)
    shout = window.page().board.shout
    assert shout.line == "A first scan shows, a second records."
    window.take_code(verb("RINSED"))
    assert shout.line == "RINSED: each part scanned now is recorded so."
    assert window.answer_bar.showing() == f"GO {shout.line}"
    window.take_code(verb("SENT BACK"))
    assert shout.line == "SENT BACK: scan why."
    window.take_code(reason("damaged"))
    assert window.answer_bar.showing() == "GO SENT BACK, damaged: each part scanned now goes back."
    window.take_code(verb("VERB OFF"))
    assert shout.line == "A first scan shows, a second records."


def test_a_verb_puts_the_answer_before_it_away(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("bench", heron.tag)
    board = window.page().board
    window.take_code(code(heron, "D1"))
    assert (board.shout.word, board.number.text()) == ("WAIT", "D1")
    window.take_code(verb("VERB OFF"))
    assert (board.shout.word, board.number.text()) == ("", "Scan a part")
    assert not window.page().shown.armed
    window.take_code(code(heron, "D1"))
    window.take_code(verb("UNDO"))
    assert board.shout.word == ""
    loud = window.page().loud
    assert loud.isVisible() and "rinsed" in loud.line


@pytest.mark.parametrize("page", ["bench", "teardown", "return"])
def test_a_load_is_proposed_and_recorded_in_large_letters(
    page: str, window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    do(shop, heron, "D1", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, heron, "D1", "sand_150")
    window.show_page(page, heron.tag)
    loud = window.page().loud
    window.take_code(verb("NEXT LOAD"))
    assert loud.isVisible()
    assert loud.line == "Load 1: D1. Scan END when it is coated."
    and_so_it_is(window, verb("END"))
    assert loud.isVisible() and loud.word == "DONE", "what has to wait stands in the line"
    assert "load 1 coated, 5 faces. Next: Sand 220, WAIT 4 h" in loud.line


def test_insist_keeps_what_was_refused_until_it_was_said_why(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D1"))
    window.take_code(verb("INSIST"))
    board = window.page().board
    assert (board.shout.word, board.number.text()) == ("WAIT", "D1")
    window.take_code(reason("tried, it is ready"))
    assert steps(shop, heron, "D1")[-1] == "sand_150"


def _is_read_from_two_metres(loud: Shout) -> None:
    assert loud.isVisible()
    assert loud.line_capitals() >= words_at(2.0), (loud.line, loud.line_capitals())
    assert loud.width() > loud.parentWidget().width() * 0.95


def test_the_scan_after_that_was_answers_it_and_the_verb_keeps(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    window.show_page("bench", heron.tag)
    window.take_code(verb("WASHED"))
    and_so_it_is(window, code(heron, "D1"))
    page = window.page()
    page.that_was.ask()
    assert "WASHED waits" in page.ask.question
    clock.pass_time(minutes=2)
    window.take_code(code(heron, "D2"))
    assert page.ask.kind == ""
    assert (steps(shop, heron, "D1"), steps(shop, heron, "D2")) == ([], ["wash"])
    said = window.answer_bar.showing()
    assert "that was D2, not D1" in said and "WASHED is in force again" in said
    clock.pass_time(minutes=2)
    window.listening.evening.on_beat()
    assert window.band.text == "WASHED", "the answer was a scan like any other"
    window.take_code(code(heron, "D3"))
    assert steps(shop, heron, "D3") == ["wash"]


def test_a_wrong_answer_to_that_was_leaves_question_and_verb(
    window: MainWindow, heron: Piece, shop: Shop
) -> None:
    other = quill(shop)
    window.show_page("bench", heron.tag)
    window.take_code(verb("WASHED"))
    and_so_it_is(window, code(heron, "D1"))
    page = window.page()
    page.that_was.ask()
    window.take_code(code(other, "D1"))
    assert page.ask.kind == "that was"
    assert window.band.text == "WASHED"
    window.take_code(verb("VERB OFF"))
    assert window.band.text == "", "a code of the wall is no part"
    assert page.ask.kind == "that was"
    assert steps(shop, heron, "D1") == ["wash"]


def test_closing_one_of_two_windows_leaves_the_question_that_the_other_raises(
    window: MainWindow,
    heron: Piece,
    shop: Shop,
    clock: SetClock,
    another: Callable[[], MainWindow],
) -> None:
    do(shop, heron, "D1", "wash")
    window.page()
    beside = another()
    assert beside.mark is not None
    beside.mark.let_go()  # as the system does for a program that died
    beside.mark = None
    window.close()
    clock.pass_time(minutes=38)
    assert another().findChild(RestartBar) is not None
