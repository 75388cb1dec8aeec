from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from partsbench.core.bench.events import Push, Took
from partsbench.core.bench.state import WHATEVER_NEXT
from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.outcomes import Done, Outcome, Refused, Tone
from partsbench.services.acts.history import history, undo
from partsbench.services.books import pieces
from partsbench.services.books.pieces import give_path
from partsbench.services.known import climate
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.answer_bar import manner_of
from partsbench.ui.pages.bench_page import BenchPage
from partsbench.ui.theme import CAPITAL_SHARE, Theme, words_at
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, heron, made, quill
from tests.support.steps import bring


@pytest.fixture
def page(shop: Shop, theme: Theme, qtbot: QtBot) -> BenchPage:
    page = BenchPage(shop)
    qtbot.addWidget(page)
    page.resize(1280, 590)
    page.show()
    qtbot.waitExposed(page)
    page.show_piece(heron(shop).tag)
    return page


@pytest.fixture
def heard(page: BenchPage) -> list[object]:
    answers: list[object] = []
    page.answered.connect(answers.append)
    return answers


def sentence(answer: object) -> str:
    assert isinstance(answer, Outcome)
    return answer.sentence


def marks(page: BenchPage, short: str, face: str = "front") -> list[str]:
    piece = page.work.piece()
    part = piece.part(short) if piece else None
    assert piece and part
    faces = part_state(page.shop, piece, part).faces
    return [f"{m.kind} {m.step}" for f in faces if f.name == face for m in f.marks]


def test_a_first_scan_shows_and_records_nothing(page: BenchPage) -> None:
    before = len(history(page.shop))
    page.scanned("D1")
    assert page.board.number.text() == "D1"
    assert page.board.shout.word == "GO"
    assert page.board.operation.text() == "Wash"
    assert len(history(page.shop)) == before


def test_a_homes_label_is_named_and_not_asked_about(page: BenchPage, shop: Shop) -> None:
    piece = shop.piece(page.tag)
    assert piece is not None
    page.scanned(code(piece, "H3"))
    assert page.board.number.text() == "H3"
    page.scanned("nothing of ours")
    assert page.board.number.text() == "?"


@pytest.mark.parametrize("size", [(1280, 590), (530, 300), (2400, 1300)])
def test_while_nothing_is_shown_the_page_asks_on_one_line(
    page: BenchPage, size: tuple[int, int], qtbot: QtBot
) -> None:
    page.resize(*size)
    qtbot.waitUntil(lambda: page.board.number.width() > 0)
    number = page.board.number
    assert number.lines() == ["Scan a part"]
    asked_beside = number.x() < page.board.shout.x()
    assert not asked_beside, "the whole width is its own"
    page.scanned("D1")
    assert number.lines() == ["D1"]


def test_a_second_scan_of_the_same_part_records(page: BenchPage) -> None:
    page.scanned("D1")
    page.scanned("D1")
    assert marks(page, "D1") == ["done wash"]
    assert page.board.shout.line.startswith("recorded")
    assert page.board.operation.text() == "D1 washed. Next: Rinse with clear water."


def test_a_third_scan_only_shows_again(page: BenchPage) -> None:
    for _ in range(3):
        page.scanned("D1")
    assert marks(page, "D1") == ["done wash"]
    assert page.shown.armed


def test_another_part_between_two_scans_records_neither(page: BenchPage) -> None:
    page.scanned("D1")
    page.scanned("D3")
    page.scanned("D1")
    assert marks(page, "D1") == marks(page, "D3") == []


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_R, Qt.Key.Key_Enter])
def test_a_key_records_what_is_shown(page: BenchPage, qtbot: QtBot, key: Qt.Key) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, key)
    assert marks(page, "D1") == ["done wash"]


def test_the_big_button_records(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    assert page.board.record_button.text() == "Record: washed  (Enter)"
    qtbot.mouseClick(page.board.record_button, Qt.MouseButton.LeftButton)
    assert marks(page, "D1") == ["done wash"]


def test_number_and_word_are_read_from_two_to_three_metres(page: BenchPage) -> None:
    page.scanned("D1")
    needed = words_at(3.0)
    board = page.board
    assert board.number.height() * CAPITAL_SHARE > needed
    assert board.shout.height() * 0.5 > needed


def test_another_jobs_part_is_the_largest_thing_on_the_page(
    page: BenchPage, shop: Shop, heard: list[object]
) -> None:
    other = quill(shop)
    page.scanned("D1")
    page.scanned(code(other, "D2"))
    assert page.board.shout.word == "OTHER JOB"
    assert "Quill D2" in page.board.operation.text()
    assert isinstance(heard[-1], Outcome) and heard[-1].tone is Tone.FOREIGN
    page.scanned("D1")
    assert marks(page, "D1") == []


def test_a_misread_label_loses_nothing(page: BenchPage) -> None:
    piece = page.work.piece()
    assert piece is not None
    label = code(piece, "D1")
    page.scanned(label)
    page.scanned(label[:-1] + ("A" if label[-1] != "A" else "B"))
    assert page.board.shout.word == "STOP"
    assert not page.shown.armed
    assert marks(page, "D1") == []


def test_cautions_are_said_once_in_a_session(page: BenchPage) -> None:
    page.scanned("D1")
    assert "Alkaline cleaner" in page.board.cautions.text()
    assert page.board.cautions.text().startswith("Is this so? Pulls, plates and locks are off.")
    page.scanned("D3")
    assert page.board.cautions.text().startswith("Is this so? Pulls, plates and locks are off.")
    assert "Alkaline cleaner" not in page.board.cautions.text(), "a caution is said once"
    for _ in range(2):
        page.scanned("D3")
    page.scanned("D1")
    assert page.board.cautions.text() == "", "it was confirmed for this batch"


def test_one_face_is_chosen_and_recorded_alone(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    chip = page.findChild(QToolButton, "face-front")
    assert chip is not None
    qtbot.mouseClick(chip, Qt.MouseButton.LeftButton)
    page.scanned("D1")
    assert marks(page, "D1") == ["done wash"]
    assert marks(page, "D1", "top edge") == []


def test_an_optional_step_is_skipped_by_key(page: BenchPage, qtbot: QtBot, clock: SetClock) -> None:
    for _ in range(4):
        page.scanned("D1")
    clock.pass_time(hours=13)
    page.scanned("D1")
    assert page.board.skip_button.isEnabled()
    qtbot.keyClick(page, Qt.Key.Key_S)
    assert marks(page, "D1")[-1] == "done rinse", "the headline is a step that is due"
    page.board.choices.chosen.emit("fill")
    qtbot.keyClick(page, Qt.Key.Key_S)
    assert marks(page, "D1")[-1] == "skipped fill"


def test_an_optional_step_is_chosen_and_recorded(
    page: BenchPage, qtbot: QtBot, clock: SetClock
) -> None:
    for _ in range(4):
        page.scanned("D1")
    clock.pass_time(hours=13)
    page.scanned("D1")
    button = page.findChild(QPushButton, "step-fill")
    assert button is not None
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert page.board.operation.text() == "Fill dents, chips, old holes"
    page.scanned("D1")
    assert marks(page, "D1")[-1] == "done fill"


def test_what_is_due_cannot_be_skipped(page: BenchPage, qtbot: QtBot, heard: list[object]) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_S)
    assert sentence(heard[-1]) == "Wash cannot be left out of this path."


def test_a_stated_time_goes_into_the_next_record_only(
    page: BenchPage, qtbot: QtBot, clock: SetClock
) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_A)
    page.ask.answered.emit("time", "20 min ago")
    assert (
        page.at_bench.state.at is not None
        and (clock.now - page.at_bench.state.at).total_seconds() == 1200
    )
    qtbot.keyClick(page, Qt.Key.Key_Return)
    piece = page.work.piece()
    part = piece.part("D1") if piece else None
    assert piece and part
    mark = part_state(page.shop, piece, part).faces[0].marks[0]
    assert (clock.now - mark.at).total_seconds() == 1200
    assert page.at_bench.state.at is None


def test_a_time_still_to_come_is_refused_where_it_was_typed(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_A)
    page.ask.answered.emit("time", "2099-01-01 10:00")
    assert page.ask.kind == "time"
    assert page.at_bench.state.at is None


@pytest.mark.parametrize("key", [Qt.Key.Key_N, Qt.Key.Key_P, Qt.Key.Key_B])
def test_what_was_wrong_with_an_answer_moves_nothing_above_it(
    page: BenchPage, qtbot: QtBot, key: Qt.Key
) -> None:
    def stand() -> list[QRect]:
        QApplication.processEvents()
        board = page.board
        return [w.geometry() for w in (board.number, board.shout, board.operation, board.map)]

    for _ in range(2):
        page.scanned("D1")
    before = stand()
    qtbot.keyClick(page, key)
    assert page.ask.isVisible()
    assert stand() == before
    page.questions.refuse("There is no place of that name.")
    assert page.ask.fault and stand() == before


def test_sent_back_asks_for_the_step_and_the_reason(page: BenchPage, qtbot: QtBot) -> None:
    for _ in range(2):
        page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_B)
    assert page.ask.kind == "back to"
    page.ask.answered.emit("back to", "Wash")
    page.ask.answered.emit("back why", "")
    assert page.ask.kind == "back why"
    page.ask.answered.emit("back why", "missed a spot")
    assert marks(page, "D1") == ["done wash", "sent_back wash"]


def test_faces_on_different_paths_are_asked_for_before_the_step(
    page: BenchPage, qtbot: QtBot
) -> None:
    give_path(page.shop, page.tag, "stain", ["D1 left edge"])
    for face in ("front", "left edge"):
        record(page.shop, "D1", here=page.tag, face=face, confirmed=True)
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_B)
    assert page.ask.kind == "back of"
    page.ask.answered.emit("back of", "underside")
    assert page.ask.kind == "back of"
    page.ask.answered.emit("back of", "left edge")
    assert page.ask.kind == "back to"
    page.ask.answered.emit("back to", "Wash")
    page.ask.answered.emit("back why", "missed a spot")
    assert marks(page, "D1", "left edge") == ["done wash", "sent_back wash"]
    assert marks(page, "D1") == ["done wash"]


def test_that_was_d3_not_d1(page: BenchPage, qtbot: QtBot) -> None:
    for _ in range(2):
        page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_T)
    page.ask.answered.emit("that was", "D3")
    assert marks(page, "D1") == []
    assert marks(page, "D3") == ["done wash"]
    assert (page.shown.short, page.shown.armed, page.ask.kind) == ("D3", False, "")
    assert page.board.number.text() == "D3"
    assert page.board.operation.text() == "Rinse with clear water"


def test_a_scan_answers_which_part_it_was(page: BenchPage, qtbot: QtBot, shop: Shop) -> None:
    other = quill(shop)
    piece = page.work.piece()
    assert piece is not None
    for _ in range(2):
        page.scanned(code(piece, "D1"))
    qtbot.keyClick(page, Qt.Key.Key_T)
    for wrong in (code(other, "D2"), code(piece, "H5"), code(piece, "D1")):
        page.scanned(wrong)
        assert page.ask.kind == "that was"
        assert (page.shown.short, marks(page, "D1")) == ("D1", ["done wash"])
    page.scanned(code(piece, "D3"))
    assert (page.ask.kind, page.shown.short) == ("", "D3")
    assert (marks(page, "D1"), marks(page, "D3")) == ([], ["done wash"])


def test_a_scan_is_no_answer_to_another_question(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_N)
    page.scanned("D3")
    assert (page.ask.kind, page.ask.text, page.questions.subject) == ("note", "", "D1")
    assert marks(page, "D3") == []


def test_find_lists_where_it_is(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D6")
    qtbot.keyClick(page, Qt.Key.Key_P)
    page.ask.answered.emit("place", "rack 2")
    qtbot.keyClick(page, Qt.Key.Key_F)
    page.ask.answered.emit("find", "d6")
    listed = page.ask.findChild(object, "ask-list")
    assert listed is not None and "Heron D6: at rack 2" in listed.text()


def test_the_last_four_records_and_undo(page: BenchPage, qtbot: QtBot) -> None:
    for short in ("D1", "D1", "D3", "D3"):
        page.scanned(short)
    assert page.board.records.text().splitlines()[0].endswith("Heron D3 washed (5 faces)")
    qtbot.keyClick(page, Qt.Key.Key_U)
    assert marks(page, "D3") == []
    assert page.board.shout.word == ""
    qtbot.keyClick(page, Qt.Key.Key_Y)
    assert marks(page, "D3") == ["done wash"]


def test_an_undo_elsewhere_takes_the_answer_away(page: BenchPage, shop: Shop) -> None:
    for _ in range(2):
        page.scanned("D1")
    undo(shop)
    page.refresh()
    assert page.board.shout.word == ""


def test_keep_recording_records_each_part_once(
    page: BenchPage, qtbot: QtBot, heard: list[object]
) -> None:
    qtbot.keyClick(page, Qt.Key.Key_K)
    page.ask.answered.emit("keep", WHATEVER_NEXT)
    assert page.at_bench.verb == "KEEP RECORDING: whatever comes next"
    on = "KEEP RECORDING, whatever comes next: each part scanned now is recorded so."
    assert page.board.shout.line == on
    page.scanned("D1")
    assert page.board.shout.word == "SURE?" and marks(page, "D1") == []
    for short in ("D1", "D3", "D2", "D1"):
        page.scanned(short)
    assert marks(page, "D1") == marks(page, "D3") == ["done wash"]
    assert sentence(heard[-1]) == "D1 is recorded in this run already."
    qtbot.keyClick(page, Qt.Key.Key_K)
    page.scanned("D1")
    assert marks(page, "D1") == ["done wash"]


def test_keep_recording_one_step_refuses_parts_that_are_not_at_it(
    page: BenchPage, qtbot: QtBot
) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_K)
    page.ask.answered.emit("keep", "Wash")
    for short in ("D1", "D1", "D3"):
        page.scanned(short)
    qtbot.keyClick(page, Qt.Key.Key_K)
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_K)
    page.ask.answered.emit("keep", "Rinse with clear water")
    page.scanned("D2")
    assert page.board.shout.word == "STOP"
    assert marks(page, "D2") == []


def test_keep_recording_goes_off_when_idle_with_a_tone_of_its_own(
    page: BenchPage, clock: SetClock, heard: list[object]
) -> None:
    page.keep.hear("")
    clock.pass_time(minutes=2, seconds=59)
    page.on_beat()
    assert page.at_bench.verb
    clock.pass_time(seconds=1)
    page.on_beat()
    last = heard[-1]
    assert isinstance(last, Outcome) and last.tone is Tone.VERB_OFF
    assert page.at_bench.verb == ""
    page.scanned("D1")
    assert marks(page, "D1") == []


def test_the_idle_time_can_be_set(page: BenchPage) -> None:
    page.board.minutes.setValue(12)
    assert page.at_bench.state.idle == timedelta(minutes=12)
    assert page.saved_state()["minutes"] == "12"


def test_a_tile_of_the_small_drawing_is_as_good_as_a_scan(page: BenchPage) -> None:
    page.board.view.pressed.emit("H3")
    assert page.shown.short == "D3"
    assert marks(page, "D3") == []


def test_escape_forgets_the_part(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    page.scanned("D1")
    assert marks(page, "D1") == []
    assert page.shown.armed


def test_a_crash_brings_back_the_part_but_records_nothing(
    page: BenchPage, shop: Shop, qtbot: QtBot
) -> None:
    page.scanned("D1")
    page.about.ask_note("D1")
    page.ask.put_text("lifting ven")
    again = BenchPage(shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    again.restore_state(page.saved_state())
    assert (again.shown.short, again.shown.armed) == ("D1", False)
    assert (again.ask.kind, again.ask.text) == ("note", "lifting ven")
    assert marks(again, "D1") == []


def test_after_a_press_enter_goes_on_with_the_work(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    page.board.time_button.setFocus()
    page.scanned("D3")
    assert page.hasFocus()


def test_without_a_piece_a_scan_says_what_it_is(page: BenchPage) -> None:
    piece = page.work.piece()
    assert piece is not None
    page.show_piece("")
    page.scanned(code(piece, "D1"))
    assert page.board.shout.word == "GO"
    assert not page.shown.armed


def test_a_wait_tells_how_long_and_records_nothing(page: BenchPage, clock: SetClock) -> None:
    for _ in range(4):
        page.scanned("D1")
    clock.pass_time(hours=2)
    for _ in range(3):
        page.scanned("D1")
    assert page.board.shout.word == "WAIT"
    assert page.board.operation.text() == "Sand filler level, scuff all at 150"
    assert page.board.figure.text().startswith("10 h 00, at ")
    assert marks(page, "D1") == ["done wash", "done rinse"]


def test_what_is_held_is_recorded_when_insisted_with_a_reason(
    page: BenchPage, qtbot: QtBot
) -> None:
    for _ in range(5):
        page.scanned("D1")
    assert page.board.insist_button.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_I)
    page.ask.answered.emit("insist", "")
    assert page.ask.kind == "insist"
    page.ask.answered.emit("insist", "tried, it is ready")
    assert marks(page, "D1")[-1] == "done sand_150"
    assert not page.board.insist_button.isVisible()


def test_nothing_held_cannot_be_insisted_upon(page: BenchPage, qtbot: QtBot) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_I)
    assert page.ask.kind == ""


def test_a_second_scan_long_after_the_first_is_a_first_one(
    page: BenchPage, clock: SetClock
) -> None:
    page.scanned("D1")
    assert page.board.shout.line == "scan again to record"
    clock.pass_time(seconds=60)
    page.on_beat()
    assert page.board.shout.line == "scan twice to record"
    page.scanned("D1")
    assert marks(page, "D1") == []


def test_enter_goes_to_the_bench_of_another_jobs_part(
    page: BenchPage, shop: Shop, qtbot: QtBot
) -> None:
    other = quill(shop)
    page.page_asked.connect(page_shown(page))
    page.scanned(code(other, "D2"))
    assert page.board.record_button.text() == f"Go to Quill {other.tag}  (Enter)"
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert (page.tag, page.shown.short) == (other.tag, "D2")


def test_a_record_has_a_mark_of_its_own_and_what_waits_next_stands_below(
    page: BenchPage, clock: SetClock, heard: list[object]
) -> None:
    for _ in range(4):
        page.scanned("D1")
    assert marks(page, "D1") == ["done wash", "done rinse"]
    assert page.board.shout.word == "DONE"
    assert page.board.shout.line == f"recorded {clock.now.astimezone():%H:%M}"
    assert "D1 rinsed. Next: Sand filler level" in page.board.operation.text()
    assert "WAIT 12 h, not before" in page.board.operation.text()
    assert page.board.figure.text() == ""
    assert isinstance(heard[-1], Outcome) and manner_of(heard[-1]).word == "DONE"


def test_what_was_sent_back_is_done_and_what_holds_it_stands_below(
    page: BenchPage, qtbot: QtBot, clock: SetClock, heard: list[object]
) -> None:
    bring(page.shop, clock, page.tag, "D2", "wipe")
    page.scanned("D2")
    qtbot.keyClick(page, Qt.Key.Key_B)
    page.ask.answered.emit("back to", "Sand 220, last grit")
    page.ask.answered.emit("back why", "wrong colour")
    assert marks(page, "D2")[-1] == "sent_back sand_220"
    assert page.board.shout.word == "DONE"
    assert page.board.shout.line == f"recorded {clock.now.astimezone():%H:%M}"
    assert page.board.operation.text().endswith("STOP: stained and not wiped.")
    assert isinstance(heard[-1], Outcome) and manner_of(heard[-1]).word == "DONE"


def test_where_no_step_is_left_nothing_says_go(
    page: BenchPage, clock: SetClock, heard: list[object]
) -> None:
    while record(page.shop, "D1", here=page.tag, insist="tried, it is ready").step:
        clock.pass_time(days=2)
    page.scanned("D1")
    assert (page.board.shout.word, page.board.operation.text()) == ("FINISHED", "Finished")
    assert isinstance(heard[-1], Outcome) and manner_of(heard[-1]).word == "FINISHED"
    page.scanned("D4")
    assert (page.board.shout.word, page.board.operation.text()) == ("", "No finish planned")
    assert page.board.shout.line == "There is no step to record."
    assert isinstance(heard[-1], Outcome) and manner_of(heard[-1]).word == ""


def test_a_record_of_an_earlier_time_shows_that_time(
    page: BenchPage, qtbot: QtBot, clock: SetClock
) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_A)
    page.ask.answered.emit("time", "20 min ago")
    qtbot.keyClick(page, Qt.Key.Key_Return)
    stated = (clock.now - timedelta(minutes=20)).astimezone()
    assert page.board.shout.line == f"recorded {stated:%H:%M}"


def page_shown(page: BenchPage) -> Callable[[str, str], None]:
    """What the window does when a page asks for another piece."""

    def shown(key: str, tag: str) -> None:
        assert key == "bench"
        page.show_piece(tag)

    return shown


def test_what_is_rarely_wanted_is_shown_by_a_key_and_put_away_by_escape(
    page: BenchPage, qtbot: QtBot
) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_M)
    assert page.board.more.isVisible() and not page.board.told.isVisible()
    assert page.board.more_button.text().startswith("Less")
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert not page.board.more.isVisible() and page.board.told.isVisible()
    assert page.shown.short == "D1", "the first Esc only closed that"
    qtbot.keyClick(page, Qt.Key.Key_M)
    qtbot.keyClick(page, Qt.Key.Key_M)
    assert not page.board.more.isVisible()


def test_a_stated_time_is_there_after_a_crash(
    page: BenchPage, shop: Shop, qtbot: QtBot, clock: SetClock
) -> None:
    page.scanned("D1")
    earlier = clock.now - timedelta(minutes=20)
    page.push(Push.AT, at=earlier)
    again = BenchPage(shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    again.restore_state(page.saved_state())
    assert again.at_bench.state.at == earlier
    assert marks(again, "D1") == []


def test_what_holds_an_old_finish_is_asked_about_on_enter(
    shop: Shop, theme: Theme, qtbot: QtBot, clock: SetClock
) -> None:
    piece = made(pieces.lay_out(shop, "Rill", "2", paths=[("paint", ["D1"])]))
    bench = BenchPage(shop)
    qtbot.addWidget(bench)
    bench.show()
    bench.show_piece(piece.tag)
    asked: list[tuple[str, str]] = []
    bench.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    for _ in range(4):
        bench.scanned("D1")
    assert bench.board.shout.word != "GO" and asked == []
    clock.pass_time(hours=13)
    bench.scanned("D1")
    assert bench.board.record_button.text().startswith("Say what is on it")
    before = shop.book.newest()
    qtbot.keyClick(bench, Qt.Key.Key_Return)
    assert asked == [("old-finish", piece.tag)]
    assert shop.book.newest() == before


def test_a_reason_that_lifts_one_hold_asks_for_the_next(
    page: BenchPage, qtbot: QtBot, clock: SetClock
) -> None:
    """Dew would form, and the cup in hand holds something else."""
    bring(page.shop, clock, page.tag, "D1", "colour_1")
    assert isinstance(climate.note(page.shop, 20, 80, surface_c=17), Done)
    clear = cups.make(page.shop, "clear", [Poured("clear", "", 1)], strained=True,
                      product="clear_oil")  # fmt: skip
    assert isinstance(clear, StoredCup)
    page.at_bench.take(Took(cup=clear.number))
    page.scanned("D1")
    seen = page.outcome
    assert seen is not None and len(seen.held) == 2, seen
    qtbot.keyClick(page, Qt.Key.Key_I)
    before = marks(page, "D1")
    asked = []
    for _ in seen.held:
        assert page.ask.kind == "insist" and marks(page, "D1") == before
        asked.append(page.ask.question)
        page.ask.answered.emit("insist", "tried, it is ready")
    assert asked[0] != asked[1], "each hold is asked about by itself"
    assert page.ask.kind == "" and marks(page, "D1")[-1] == "done colour_1"


def test_back_is_asked_for_only_where_something_is_behind(
    page: BenchPage, qtbot: QtBot, heard: list[object]
) -> None:
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_B)
    assert page.ask.kind == ""
    assert heard[-1] == Refused("No step of D1 is behind it yet.")
    page.scanned("D1")
    qtbot.keyClick(page, Qt.Key.Key_B)
    page.ask.answered.emit("back to", "Polish the brass")
    assert (page.ask.kind, page.ask.fault) == ("back to", "Choose one of the steps.")
    assert marks(page, "D1") == ["done wash"]
