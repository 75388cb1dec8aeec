"""An evening by scanner alone: verbs, people, places, cups and reasons, each with its tone."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from partsbench.core.bench.state import Hand, Mode, Waits
from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.outcomes import Answer, Tone
from partsbench.core.verbs import Sort, WallCode
from partsbench.services.acts import bench, places
from partsbench.services.acts.history import history, undo
from partsbench.services.books.pieces import give_path
from partsbench.services.heard.session import Session
from partsbench.services.known import people
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.store.room import Person, Place
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.evening import Worker
from tests.support.shops import code, heron, quill
from tests.support.steps import bring
from tests.support.wall import verb_named


@pytest.fixture
def worker(shop: Shop, clock: SetClock) -> Worker:
    return Worker(shop, clock, heron(shop).tag)


def test_two_scans_record_and_each_answer_has_its_tone(worker: Worker) -> None:
    assert worker.part("D1").tone is Tone.ASK
    assert worker.part("D1").tone is Tone.RECORDED
    worker.part("D1")
    assert worker.part("D1").sentence.startswith("D1 rinsed")
    assert worker.part("D1").tone is Tone.WAIT


def test_a_verb_records_each_part_and_refuses_what_is_not_at_it(worker: Worker) -> None:
    assert worker.verb("WASHED").tone is Tone.VERB_ON
    assert [worker.part(d).recorded for d in ("D1", "D3", "D2")] == [True] * 3
    again = worker.part("D1")
    assert (again.recorded, again.tone) == (False, Tone.REFUSED)
    assert "Rinse with clear water comes next" in again.sentence


def test_under_home_a_drawer_in_a_wrong_opening_is_not_said_to_be_home(
    worker: Worker, shop: Shop
) -> None:
    piece = shop.piece(worker.tag)
    assert piece is not None
    h1 = code(piece, "H1")
    for short in ("D1", "D2"):
        worker.verb("OUT")
        worker.part(short)
    worker.verb("HOME")
    waits = worker.scan(h1)
    assert (waits.answer, waits.recorded) == (Answer.GO, False)
    assert waits.sentence == "H1 waits: scan what goes in."
    wrong = worker.part("D2")
    assert wrong.answer is Answer.STOP
    assert "D2 lives in H2" in wrong.sentence and "H1 wants D1" in wrong.sentence
    worker.scan(h1)
    assert worker.part("D1").sentence.startswith("D1 is home.")
    assert worker.part("D2").sentence.startswith("D2 is home.")


def test_a_verb_goes_off_by_itself_and_is_heard(worker: Worker, clock: SetClock) -> None:
    worker.verb("WASHED")
    assert worker.session.tick() is None
    clock.pass_time(minutes=4)
    off = worker.session.tick()
    assert off is not None
    assert (off.tone, worker.session.verb) == (Tone.VERB_OFF, "")
    assert worker.part("D1").tone is Tone.ASK


def test_undo_by_scan(worker: Worker, shop: Shop) -> None:
    worker.verb("WASHED")
    worker.part("D1")
    assert worker.verb("UNDO").sentence.startswith("Undone: Heron D1 washed")
    assert bench.look(shop, "D1", here=worker.tag).step == "wash"
    assert worker.verb("REDO").recorded


def test_insisting_takes_a_reason_and_only_what_was_refused(worker: Worker, shop: Shop) -> None:
    worker.verb("DONE")
    worker.part("D1")
    worker.part("D1")
    refused = worker.part("D1")
    assert (refused.answer, refused.tone) == (Answer.WAIT, Tone.REFUSED)
    worker.verb("INSIST")
    said = worker.reason("the tin says so")
    assert said.recorded
    row = shop.book.row("SELECT note FROM insisted")
    assert row["note"] == "the tin says so (not dry yet)"
    assert worker.session.verb == ""


def test_a_face_is_sent_back_alone_and_says_where_it_went(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    bring(shop, clock, worker.tag, "D1", "sand_400")
    worker.verb("SENT BACK")
    worker.reason("run or sag")
    worker.face("front")
    assert worker.part("D1").recorded
    assert bench.look(shop, "D1", here=worker.tag, face="front").step == "sand_220"
    assert bench.look(shop, "D1", here=worker.tag, face="top edge").step == "sand_400"


def test_a_blotch_goes_back_to_bare_wood(worker: Worker, shop: Shop, clock: SetClock) -> None:
    bring(shop, clock, worker.tag, "D2", "clear_2")
    worker.verb("SENT BACK")
    worker.reason("blotchy or wrong colour")
    assert worker.part("D2").recorded
    assert bench.look(shop, "D2", here=worker.tag).step == "sand_150"


def test_people_mark_what_they_did(worker: Worker, shop: Shop) -> None:
    finch = people.add_person(shop, "Finch", ["rinse"])
    assert isinstance(finch, Person)
    assert worker.scan(people.person_code(finch)).sentence == "Finch is at the bench."
    worker.verb("DONE")
    assert worker.part("D1").sentence == "Finch does not do this: wash."
    wren = people.add_person(shop, "Wren")
    assert isinstance(wren, Person)
    worker.scan(people.person_code(wren))
    worker.verb("DONE")
    worker.part("D1")
    assert history(shop, worker.tag)[0].who == "Wren"


def test_places_take_parts_and_find_them_again(worker: Worker, shop: Shop) -> None:
    rack = people.add_place(shop, "rack 2")
    assert isinstance(rack, Place)
    worker.verb("OUT")
    worker.part("D1")
    worker.scan(people.place_code(rack))
    assert worker.part("D1").recorded
    (found,) = places.find(shop, "D1", worker.tag)
    assert found.where == "at rack 2"
    worker.verb("HOME")
    assert worker.part("D1").recorded


def test_the_cup_in_hand_goes_with_coats_and_with_nothing_else(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    made = cups.make(
        shop, "blue", [Poured("colour", "17", 1)], strained=False, product="paint_water"
    )
    assert isinstance(made, StoredCup)
    bring(shop, clock, worker.tag, "D1", "sand_150")
    assert "Not strained" in worker.scan(cups.code(made)).sentence
    assert worker.verb("CUP STRAINED").recorded
    worker.verb("DONE")
    worker.part("D1")
    worker.part("D1")
    rows = shop.book.rows("SELECT DISTINCT step FROM mark WHERE cup IS NOT NULL")
    assert [r["step"] for r in rows] == ["colour_1"]
    assert worker.verb("CUP EMPTY").recorded
    assert worker.verb("CUP EMPTY").tone is Tone.REFUSED


def test_a_load_is_proposed_and_ended_by_scan(worker: Worker, shop: Shop, clock: SetClock) -> None:
    for short in ("D1", "D3"):
        for _ in range(2):
            record(shop, short, here=worker.tag)
    clock.pass_time(hours=12)
    worker.verb("SANDED")
    worker.part("D1")
    worker.part("D3")
    assert worker.verb("NEXT LOAD").sentence == "Load 1: D1, D3."
    worker.verb("ALL EXCEPT 1")
    coated = worker.part("D3")
    assert worker.said[-2].unconfirmed and "Is this so?" in worker.said[-2].sentence
    assert coated.sentence.startswith("Heron: load 1 coated, 5 faces, all except D3. Next: Sand")
    assert coated.then is Answer.WAIT
    assert worker.verb("END").tone is Tone.VERB_OFF


def test_the_strip_is_scanned_the_next_morning(worker: Worker, shop: Shop, clock: SetClock) -> None:
    bring(shop, clock, worker.tag, "D1", "colour_1")
    strip = worker.verb("NEXT LOAD").code
    fresh = Worker(shop, clock, "")
    clock.pass_time(hours=9)
    assert fresh.scan(strip).sentence == "Load 1: D1."
    assert fresh.verb("END").recorded


def test_another_job_is_told_until_it_is_made_the_piece_at_work(worker: Worker, shop: Shop) -> None:
    other = quill(shop)
    give_path(shop, other.tag, "paint", ["D1"])
    foreign = worker.scan(code(other, "D1"))
    assert (foreign.answer, foreign.tone) == (Answer.OTHER_JOB, Tone.FOREIGN)
    worker.verb("THIS PIECE")
    assert worker.scan(code(other, "D1")).sentence == f"Quill {other.tag} is at work."
    assert worker.scan(code(other, "D1")).answer is Answer.GO


def test_cautions_and_warnings_are_said_once_in_an_evening(worker: Worker) -> None:
    assert worker.part("D1").cautions
    assert worker.part("D3").cautions == ()


def test_unknown_codes_of_the_wall_are_told_and_change_nothing(worker: Worker, shop: Shop) -> None:
    before = len(history(shop))
    for sort in (Sort.PERSON, Sort.CUP, Sort.LOAD, Sort.PLACE, Sort.VERB, Sort.REASON, Sort.FACE):
        said = worker.scan(str(WallCode(sort, 300)))
        assert said.tone in (Tone.REFUSED, Tone.UNKNOWN), (sort, said)
    assert worker.part("D1").tone is Tone.ASK
    assert len(history(shop)) == before


def test_hands_on_time_is_started_and_ended_by_scan(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    assert worker.verb("START WORK").recorded
    clock.pass_time(minutes=50)
    assert worker.verb("STOP WORK").recorded
    row = shop.book.row("SELECT begun, ended FROM work")
    assert row["ended"] > row["begun"]


def test_a_note_made_late_counts_from_its_own_time(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    worker.session.scan("D1", clock.now - timedelta(hours=13))
    clock.pass_time(seconds=5)
    worker.session.scan("D1", clock.now - timedelta(hours=13))
    said = Session(shop, worker.tag).scan("D1")
    assert said[-1].step == "rinse"


@pytest.mark.parametrize("text", ["", "hello", "VERB-X01AB", "VERB"])
def test_what_is_no_code_is_told(worker: Worker, text: str) -> None:
    assert worker.scan(text).tone in (Tone.UNKNOWN, Tone.MISREAD)


def test_a_wait_that_is_over_is_shown_before_a_scan_records_it(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    for _ in range(4):
        worker.part("D1")
    wait = worker.part("D1")
    assert wait.answer is Answer.WAIT and wait.until is not None
    clock.now = wait.until - timedelta(seconds=50)
    assert worker.part("D1").tone is Tone.WAIT, "shown anew after the idle time"
    clock.pass_time(seconds=20)
    before = len(history(shop))
    piece = shop.piece(worker.tag)
    assert piece is not None
    assert worker.session.scan(code(piece, "D1"))[-1].answer is Answer.GO
    assert len(history(shop)) == before


@pytest.mark.parametrize(("verb", "waits"), [("", Waits.ARMED), ("WASHED", Waits.ASKED)])
def test_a_label_that_is_only_seen_again_records_nothing_and_what_waits_stays(
    worker: Worker, shop: Shop, clock: SetClock, verb: str, waits: Waits
) -> None:
    if verb:
        worker.verb(verb)
    piece = shop.piece(worker.tag)
    assert piece is not None
    d1, d2 = code(piece, "D1"), code(piece, "D2")
    worker.scan(d1)
    before = shop.book.newest()
    assert worker.session.state.hand.waits is waits
    assert worker.session.see_again(d1) == []
    assert worker.session.state.hand.waits is waits
    shown = worker.session.see_again(d2)
    assert [said.part for said in shown] == ([] if verb else ["D2"])
    assert worker.session.state.hand.part == ("D1" if verb else "D2")
    assert shop.book.newest() == before


def test_one_that_is_no_longer_armed_is_shown_and_armed_when_it_is_seen_again(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    piece = shop.piece(worker.tag)
    assert piece is not None
    worker.scan(code(piece, "D1"))
    clock.pass_time(minutes=2)
    worker.session.tick()
    assert worker.session.state.hand.waits is Waits.SHOWN
    assert [said.part for said in worker.session.see_again(code(piece, "D1"))] == ["D1"]
    assert worker.session.state.hand.waits is Waits.ARMED


def test_what_was_just_recorded_stays_shown_as_recorded(worker: Worker, shop: Shop) -> None:
    worker.part("D1")
    assert worker.part("D1").recorded
    piece = shop.piece(worker.tag)
    assert piece is not None
    assert worker.session.see_again(code(piece, "D1")) == []
    assert worker.session.state.hand.waits is Waits.RECORDED


@pytest.mark.parametrize("verb", ["", "HOME", "PLACE", "OUT"])
@pytest.mark.parametrize("mode", [Mode.TEARDOWN, Mode.RETURN])
def test_where_a_scan_would_record_what_is_seen_again_does_nothing(
    worker: Worker, shop: Shop, mode: Mode, verb: str
) -> None:
    piece = shop.piece(worker.tag)
    assert piece is not None
    worker.session.turn(mode, worker.tag)
    if verb == "PLACE":
        rack = people.add_place(shop, "rack 2")
        assert isinstance(rack, Place)
        worker.scan(people.place_code(rack))
    elif verb:
        worker.verb(verb)
    before = shop.book.newest()
    for short in ("D1", "H1", "D1", "D2"):
        text = str(piece.home_code(1)) if short == "H1" else code(piece, short)
        worker.session.see_again(text)
    assert shop.book.newest() == before


def test_a_tick_of_the_load_stays_when_its_part_is_seen_again(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    piece = shop.piece(worker.tag)
    assert piece is not None
    bring(shop, clock, piece.tag, "D1", "colour_1")
    bring(shop, clock, piece.tag, "D3", "colour_1")
    worker.verb("NEXT LOAD")
    worker.session.turn(Mode.LOAD, worker.tag)
    worker.scan(code(piece, "D1"))
    ticked = worker.session.state
    assert ticked.left_out
    for short in ("D1", "D3"):
        worker.session.see_again(code(piece, short))
    worker.session.state = replace(ticked, hand=Hand())
    worker.session.see_again(code(piece, "D1"))
    assert worker.session.state.left_out == ticked.left_out


def test_a_code_of_the_wall_that_is_seen_again_is_not_heard(worker: Worker, shop: Shop) -> None:
    worker.verb("WASHED")
    worker.part("D1")
    before = shop.book.newest()
    assert worker.session.see_again(verb_named("UNDO").code) == []
    assert shop.book.newest() == before


@pytest.mark.parametrize("first", [Mode.BENCH, Mode.RETURN])
def test_a_home_that_is_scanned_once_more_waits_for_its_part(
    shop: Shop, clock: SetClock, first: Mode
) -> None:
    """Its label was read at the bench, or the scanner did not chirp and it is scanned again: what
    goes in is recorded, and not answered with “Scan the part.”."""
    piece = heron(shop)
    session = Session(shop)
    session.turn(first, piece.tag)
    session.scan(code(piece, "H2"))
    session.turn(Mode.RETURN, piece.tag)
    clock.pass_time(seconds=5)
    (waits,) = session.scan(code(piece, "H2"))
    assert (waits.answer, waits.sentence) == (Answer.GO, "H2 waits: scan what goes in.")
    clock.pass_time(seconds=5)
    (home,) = session.scan(code(piece, "D2"))
    assert home.recorded and home.sentence.startswith("D2 is home.")


def test_without_a_piece_at_work_no_load_is_proposed(shop: Shop, clock: SetClock) -> None:
    heron(shop)
    nobody = Worker(shop, clock, "")
    said = nobody.verb("NEXT LOAD")
    assert (said.tone, said.recorded) == (Tone.REFUSED, False)
    assert shop.book.row("SELECT count(*) FROM load")[0] == 0


def test_a_cup_that_the_load_does_not_take_is_told_whichever_is_scanned_first(
    worker: Worker, shop: Shop, clock: SetClock
) -> None:
    oil = cups.make(shop, "oil", [Poured("oil", "", 1)], strained=True, product="clear_oil")
    assert isinstance(oil, StoredCup)
    bring(shop, clock, worker.tag, "D1", "colour_1")
    strip = worker.verb("NEXT LOAD").code
    cup_last = worker.scan(cups.code(oil))
    cup_first = worker.scan(strip)
    for said in (cup_last, cup_first):
        assert (said.answer, said.tone) == (Answer.STOP, Tone.HOLD)
        assert said.sentence.startswith("Not with this cup: ")
    worker.cup(0)
    assert worker.scan(strip).sentence == "Load 1: D1."


def test_a_place_whose_code_was_taken_back_takes_no_part(worker: Worker, shop: Shop) -> None:
    rack = people.add_place(shop, "rack 2")
    assert isinstance(rack, Place)
    worker.scan(people.place_code(rack))
    undo(shop)
    said = worker.part("D1")
    assert (said.sentence, said.recorded) == ("No place has that number.", False)
    assert worker.scan(people.place_code(rack)).sentence == "No place has that number."


@pytest.mark.parametrize("verb", ["NO MASK NEEDED", "BARE WOOD", "TRIED READY", "SENT BACK"])
def test_what_is_said_of_parts_is_said_of_no_home_and_of_no_other_job(
    worker: Worker, shop: Shop, verb: str
) -> None:
    piece, other = shop.piece(worker.tag), quill(shop)
    assert piece is not None
    before = shop.book.newest()
    for text in (str(piece.home_code(1)), code(other, "D1"), "K7Q4-D99A0", "D99"):
        worker.verb(verb)
        if verb == "SENT BACK":
            worker.reason("run or sag")
        said = worker.scan(text)
        assert not said.recorded and said.answer is not Answer.GO, said
    assert shop.book.newest() == before
