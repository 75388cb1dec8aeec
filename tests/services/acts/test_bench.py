from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from partsbench.core.outcomes import Answer, Refused, Tone
from partsbench.services.acts.bench import look, send_back, stated
from partsbench.services.acts.history import history
from partsbench.services.books.pieces import retire_part
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import hand_out, make_sheet
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, heron, lay_out, made, quill, shop_at
from tests.support.steps import bring


def face_step(shop: Shop, tag: str, short: str, face: str) -> str:
    """The name of the step that is next on a face, read anew from the book."""
    piece = shop.piece(tag)
    part = piece.part(short) if piece else None
    assert piece and part
    state = next(f for f in part_state(shop, piece, part).faces if f.name == face)
    return state.progress.next.key if state.progress.next else ""


def reprint(shop: Shop, tag: str, short: str) -> None:
    sheet = make_sheet(shop, tag, only=[short], reprint=True)
    assert not isinstance(sheet, Refused), sheet
    hand_out(shop, sheet)


def wrong_check(label: str) -> str:
    return label[:-1] + ("A" if label[-1] != "A" else "B")


def test_a_first_scan_shows_home_and_next_step_and_records_nothing(shop: Shop) -> None:
    piece = heron(shop)
    shown = look(shop, code(piece, "D2"), here=piece.tag)
    assert (shown.answer, shown.tone, shown.recorded) == (Answer.GO, Tone.ASK, False)
    assert "row 1, right" in shown.sentence
    assert shown.step == "wash"
    assert len(history(shop, piece.tag)) == 1


def test_recording_moves_every_face_that_is_worked_together(shop: Shop) -> None:
    piece = heron(shop)
    said = record(shop, code(piece, "D1"), here=piece.tag)
    assert said.recorded
    assert said.sentence.startswith("D1 washed. Next: Rinse")
    assert {face_step(shop, piece.tag, "D1", f) for f in said.faces} == {"rinse"}
    assert len(said.faces) == 5


def test_one_face_alone_can_be_recorded(shop: Shop) -> None:
    piece = heron(shop)
    said = record(shop, "d1", here=piece.tag, face="front")
    assert said.faces == ("front",)
    assert face_step(shop, piece.tag, "D1", "front") == "rinse"
    assert face_step(shop, piece.tag, "D1", "top edge") == "wash"


def test_the_lane_is_that_of_the_least_advanced_face(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag, face="front")
    shown = look(shop, "D1", here=piece.tag)
    assert "front" not in shown.faces
    assert shown.step == "wash"


def test_a_face_that_does_not_exist_is_refused_with_those_that_do(shop: Shop) -> None:
    piece = heron(shop)
    said = record(shop, "D1", here=piece.tag, face="lid")
    assert said.answer is Answer.STOP
    assert "it has front" in said.sentence


def test_unknown_misread_foreign_and_replaced_get_four_different_answers(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    old = code(piece, "D4")
    sheet = make_sheet(shop, piece.tag, only=["D4"])
    assert not isinstance(sheet, Refused), sheet
    hand_out(shop, sheet)
    reprint(shop, piece.tag, "D4")
    texts = ["hello", wrong_check(code(piece, "D1")), code(other, "D1"), old]
    answers = [look(shop, text, here=piece.tag) for text in texts]
    assert [a.tone for a in answers] == [Tone.UNKNOWN, Tone.MISREAD, Tone.FOREIGN, Tone.REPLACED]
    assert len({a.sentence for a in answers}) == 4
    assert not any(a.recorded for a in answers)


def test_a_code_of_another_book_is_unknown(shop: Shop, tmp_path: Path) -> None:
    elsewhere = shop_at(tmp_path / "other.partsbench")
    foreign = code(quill(elsewhere), "D1")
    elsewhere.close()
    said = look(shop, foreign)
    assert said.tone is Tone.UNKNOWN
    assert "no job of this book" in said.sentence


def test_another_jobs_part_is_named_with_its_own_home(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    said = record(shop, code(other, "D2"), here=piece.tag)
    assert said.answer is Answer.OTHER_JOB
    assert "Quill D2" in said.sentence
    assert "row 1, right" in said.sentence
    assert len(history(shop, other.tag)) == 1


def test_the_new_label_works_and_the_old_says_when_it_was_replaced(shop: Shop) -> None:
    piece = heron(shop)
    old = code(piece, "D4")
    reprint(shop, piece.tag, "D4")  # never printed before: the first printing
    reprint(shop, piece.tag, "D4")
    now = shop.piece(piece.tag)
    assert now is not None
    assert look(shop, code(now, "D4"), here=piece.tag).answer is Answer.GO
    said = look(shop, old, here=piece.tag)
    assert "replaced on 04 Mar" in said.sentence


def test_a_retired_part_is_told_with_its_reason(shop: Shop) -> None:
    piece = heron(shop)
    label = code(piece, "P1")
    record(shop, "D1", here=piece.tag)
    retire_part(shop, piece.tag, "P1", "lost in the van")
    said = look(shop, label, here=piece.tag)
    assert said.tone is Tone.REPLACED
    assert "lost in the van" in said.sentence


def test_a_home_label_names_who_lives_there(shop: Shop) -> None:
    piece = heron(shop)
    for text in (code(piece, "H5"), "h5"):
        said = look(shop, text, here=piece.tag)
        assert (said.home, said.recorded) == (5, False)
        assert "D5 lives here" in said.sentence


def test_work_can_be_stated_for_an_earlier_time(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    earlier = clock.now - timedelta(hours=2)
    record(shop, "D1", here=piece.tag, at=earlier)
    part = piece.part("D1")
    assert part is not None
    assert {m.at for f in part_state(shop, piece, part).faces for m in f.marks} == {earlier}


def test_a_time_still_to_come_is_refused(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    said = record(shop, "D1", here=piece.tag, at=clock.now + timedelta(minutes=1))
    assert (said.answer, said.recorded) == (Answer.STOP, False)
    assert face_step(shop, piece.tag, "D1", "front") == "wash"


@pytest.mark.parametrize(("text", "minutes"), [("20 min ago", 20), ("2 h ago", 120), ("now", 0)])
def test_times_are_stated_in_words(shop: Shop, clock: SetClock, text: str, minutes: int) -> None:
    assert stated(shop, text) == clock.now - timedelta(minutes=minutes)


def test_a_stated_time_to_come_or_that_is_none_is_refused(shop: Shop, clock: SetClock) -> None:
    later = (clock.now + timedelta(days=1)).strftime("%Y-%m-%d %H:%M")
    assert isinstance(stated(shop, later), Refused)
    assert isinstance(stated(shop, "teatime"), Refused)
    assert isinstance(stated(shop, "14:20"), datetime | Refused)


def test_an_optional_step_is_left_out_or_chosen(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    for short in ("D1", "D3"):
        record(shop, short, here=piece.tag)
        record(shop, short, here=piece.tag)
    clock.pass_time(hours=13)
    left_out = record(shop, "D1", here=piece.tag, step="fill", skip=True)
    assert "left out" in left_out.sentence
    assert record(shop, "D3", here=piece.tag, step="fill").sentence.startswith("D3 filled")
    assert face_step(shop, piece.tag, "D3", "front") == "sand_150"


def test_a_step_that_is_due_cannot_be_left_out(shop: Shop) -> None:
    piece = heron(shop)
    said = record(shop, "D1", here=piece.tag, skip=True)
    assert "cannot be left out" in said.sentence
    assert not said.recorded


def test_a_later_step_cannot_be_recorded_yet(shop: Shop) -> None:
    piece = heron(shop)
    said = record(shop, "D1", here=piece.tag, step="colour_1")
    assert said.answer is Answer.STOP
    assert said.sentence.startswith("Wash comes next")


def test_what_is_left_out_is_told_so_that_it_can_be_read(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=13)
    said = record(shop, "D1", here=piece.tag, step="fill", skip=True)
    assert said.sentence.startswith("D1: left out Fill dents, chips, old holes. Next: ")
    told = history(shop)[0].sentence
    assert told.startswith("Heron D1: left out Fill dents, chips, old holes (front, ")


def test_an_optional_step_goes_only_to_faces_that_may_still_take_it(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=13)
    record(shop, "D1", here=piece.tag, step="fill", face="front")
    said = record(shop, "D1", here=piece.tag, step="fill")
    assert said.recorded
    assert "front" not in said.faces
    assert len(said.faces) == 4


def test_sent_back_keeps_what_was_done_and_asks_why(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    assert not send_back(shop, "D1", "wash", " ", here=piece.tag).recorded
    said = send_back(shop, "D1", "wash", "grease left", here=piece.tag, face="front")
    assert said.recorded
    assert face_step(shop, piece.tag, "D1", "front") == "wash"
    part = piece.part("D1")
    assert part is not None
    front = next(f for f in part_state(shop, piece, part).faces if f.name == "front")
    assert [m.kind for m in front.marks] == ["done", "done", "sent_back"]
    assert front.marks[-1].note == "grease left"


def test_what_was_sent_back_says_whether_its_next_step_may_be_done(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    bring(shop, clock, piece.tag, "D2", "stain")
    assert record(shop, "D2", here=piece.tag).step == "wipe"
    said = send_back(shop, "D2", "sand_220", "blotchy", here=piece.tag)
    seen = look(shop, "D2", here=piece.tag)
    assert (seen.answer, seen.held[0]) == (Answer.STOP, "open loop")
    assert seen.because.startswith("stained and not wiped; Stain, in sections first needs")
    assert (said.answer, said.then, said.step) == (Answer.GO, Answer.STOP, "sand_220")
    assert said.sentence.startswith(
        "D2 sent back to Sand 220, last grit: blotchy. Next: Sand 220, last grit ("
    )
    assert said.sentence.endswith("(trade press).")
    assert said.done_at == clock.now


def test_what_may_be_done_again_at_once_says_no_more_than_that(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    back = send_back(shop, "D1", "wash", "greasy", here=piece.tag, face="front")
    assert (back.then, back.step, back.faces) == (Answer.GO, "wash", ("front",))
    assert back.sentence == "D1 sent back to Wash: greasy. Next: Wash (front)."


def test_a_face_is_not_sent_back_to_what_it_has_not_done(shop: Shop) -> None:
    piece = heron(shop)
    said = send_back(shop, "D1", "wash", "grease", here=piece.tag)
    assert said.answer is Answer.STOP
    assert not said.recorded


def test_a_part_without_a_finish_has_no_step_to_record(shop: Shop) -> None:
    piece = heron(shop)
    assert look(shop, "D4", here=piece.tag).step is None
    assert not record(shop, "D4", here=piece.tag).recorded


def test_a_path_runs_to_its_end_and_then_says_so(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("clear", ["D1"])]))
    steps = [s for s in shop.path("clear").steps if not s.optional]
    for step in steps:
        assert record(shop, "D1", here=piece.tag).recorded, step.key
        clock.pass_time(hours=13)
    said = record(shop, "D1", here=piece.tag)
    assert said.sentence == "Every step is done."


def test_the_first_record_fixes_the_numbers(shop: Shop) -> None:
    piece = heron(shop)
    assert not piece.numbers_fixed
    record(shop, "D1", here=piece.tag)
    now = shop.piece(piece.tag)
    assert now is not None and now.numbers_fixed


def test_a_second_window_sees_what_the_first_recorded(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    second = shop_at(book_path)
    record(shop, "D1", here=piece.tag)
    assert record(second, "D1", here=piece.tag).sentence.startswith("D1 rinsed")
    assert face_step(shop, piece.tag, "D1", "front") == "sand_150"
    second.close()


def test_a_record_says_how_long_the_next_step_waits(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    said = record(shop, "D1", here=piece.tag)
    shown = look(shop, "D1", here=piece.tag)
    assert (said.answer, said.then, shown.answer) == (Answer.GO, Answer.WAIT, Answer.WAIT)
    assert shown.until == clock.now + timedelta(hours=12)
    at = shown.until.astimezone()
    assert said.sentence.startswith("D1 rinsed. Next: Sand filler level, scuff all at 150 (")
    assert f"), WAIT 12 h, not before {at:%H:%M}." in said.sentence.replace(f"{at:%a} ", "")
    assert (said.step, said.until) == (shown.step, None)


def test_a_record_of_earlier_work_answers_for_what_is_next_as_of_now(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    earlier = clock.now - timedelta(hours=13)
    record(shop, "D1", here=piece.tag, at=earlier)
    said = record(shop, "D1", here=piece.tag, at=earlier)
    assert (said.then, said.done_at) == (Answer.GO, earlier)
    assert "WAIT" not in said.sentence
