from __future__ import annotations

from collections.abc import Iterable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.outcomes import Done, NotYours, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.bench import look
from partsbench.services.acts.history import (
    correct,
    history,
    last_change,
    next_redo,
    redo,
    redo_own,
    undo,
    undo_own,
)
from partsbench.services.acts.places import put
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.clients import set_client
from partsbench.services.books.exchange import check_book
from partsbench.services.known.state import Where, part_state, piece_state
from partsbench.services.plan import asking
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.store import promises
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron, quill, shop_at

DAY = timedelta(days=1)


def done(shop: Shop, piece: Piece, short: str, face: str = "front") -> list[str]:
    part = piece.part(short)
    assert part is not None
    found = next(f for f in part_state(shop, piece, part).faces if f.name == face)
    return [m.step for m in found.marks]


def test_the_journal_reads_newest_first_in_sentences(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag, face="front")
    take_out(shop, piece.tag, ["D2"])
    said = [e.sentence for e in history(shop, piece.tag)]
    assert said[:2] == ["Heron D2 taken out", "Heron D1 washed (front)"]
    assert len(history(shop, piece.tag, limit=1)) == 1


def test_the_journal_of_one_piece_leaves_out_the_others(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    take_out(shop, other.tag, ["D2"])
    assert all(e.tag == piece.tag for e in history(shop, piece.tag))
    assert len(history(shop)) == 3


def test_undo_and_redo_say_what_they_did(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    said = undo(shop)
    assert isinstance(said, Done) and said.sentence.startswith("Undone: Heron D1 washed")
    assert done(shop, piece, "D1") == []
    following = next_redo(shop)
    assert following is not None and following.sentence.startswith("Heron D1 washed")
    assert isinstance(redo(shop), Done)
    assert done(shop, piece, "D1") == ["wash"]
    assert redo(shop) == Refused("There is nothing to redo.")


def test_an_empty_book_has_nothing_to_undo(shop: Shop) -> None:
    assert undo(shop) == Refused("There is nothing to undo.")
    assert last_change(shop) is None


def test_undo_works_after_a_restart(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    shop.close()
    again = shop_at(book_path)
    assert isinstance(undo(again), NotYours)
    again.who = "Wren"
    assert isinstance(undo(again), Done)
    assert done(again, piece, "D1") == []
    again.close()


def test_that_was_d6_not_d5_keeps_the_time_of_the_movement(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    taken = clock.now
    take_out(shop, piece.tag, ["D5"])
    clock.pass_time(hours=2)
    assert isinstance(correct(shop, piece.tag, "D5", "D6"), Done)
    state = piece_state(shop, piece)
    assert state.of("D5").where is Where.IN
    moved = state.of("D6").moved
    assert moved is not None and moved.at == taken


def test_that_was_d3_not_d1_moves_the_marks_of_its_faces(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    at = clock.now - timedelta(minutes=30)
    record(shop, "D1", here=piece.tag, at=at)
    correct(shop, piece.tag, "d1", "d3")
    assert done(shop, piece, "D1") == []
    assert done(shop, piece, "D3") == ["wash"]
    part = piece.part("D3")
    assert part is not None
    assert {m.at for f in part_state(shop, piece, part).faces for m in f.marks} == {at}


def test_a_correction_stays_visible_and_can_be_undone(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D5"])
    correct(shop, piece.tag, "D5", "D6")
    said = [e.sentence for e in history(shop, piece.tag)]
    assert said[:2] == ["Heron: that was D6, not D5", "Heron D5 taken out"]
    undo(shop)
    assert piece_state(shop, piece).of("D5").where is Where.OUT


def test_a_step_cannot_be_moved_to_a_face_that_has_not_come_to_it(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    record(shop, "D1", here=piece.tag)
    said = correct(shop, piece.tag, "D1", "D3")
    assert isinstance(said, Refused)
    assert done(shop, piece, "D1") == ["wash", "rinse"]


def test_a_step_cannot_be_moved_to_another_finish(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    assert isinstance(correct(shop, piece.tag, "D1", "D4"), Refused)
    assert isinstance(correct(shop, piece.tag, "D1", "P1"), Refused)


def test_nothing_recorded_and_no_such_part_are_refused(shop: Shop) -> None:
    piece = heron(shop)
    assert correct(shop, piece.tag, "D5", "D6") == Refused("Nothing is recorded of D5.")
    assert isinstance(correct(shop, piece.tag, "D5", "D99"), Refused)
    assert isinstance(correct(shop, piece.tag, "D5", "D5"), Refused)
    assert isinstance(correct(shop, "ZZZ9", "D5", "D6"), Refused)


def test_a_drawer_alone_corrected_is_at_its_own_home(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D5", "D6"])
    bring_home(shop, piece.tag, "D5")
    correct(shop, piece.tag, "D5", "D6")
    state = piece_state(shop, piece)
    assert state.seated() == {6: "D6"}
    assert state.of("D5").where is Where.OUT


def test_a_home_that_was_scanned_stays_the_one_scanned(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D5", "D6"])
    bring_home(shop, piece.tag, "D5", "H5")
    correct(shop, piece.tag, "D5", "D6")
    assert piece_state(shop, piece).of("D6").where is Where.WRONG
    correct(shop, piece.tag, "D6", "D5")
    assert piece_state(shop, piece).of("D5").where is Where.HOME


def test_a_place_moves_as_it_is(shop: Shop) -> None:
    piece = heron(shop)
    put(shop, "rack 2", ["D5"], here=piece.tag)
    correct(shop, piece.tag, "D5", "D6")
    assert piece_state(shop, piece).of("D6").place == "rack 2"


def test_the_latest_record_is_the_one_that_moves(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    record(shop, "D1", here=piece.tag)
    correct(shop, piece.tag, "D1", "D3")
    assert done(shop, piece, "D3") == ["wash"]
    assert piece_state(shop, piece).of("D1").where is Where.OUT


def test_two_windows_share_one_undo_list(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    second = shop_at(book_path, who="Wren")
    take_out(shop, piece.tag, ["D1"])
    take_out(second, piece.tag, ["D2"])
    undo(shop)
    assert piece_state(second, piece).of("D2").where is Where.IN
    assert piece_state(second, piece).of("D1").where is Where.OUT
    second.close()


ACTS = st.lists(
    st.tuples(st.sampled_from(["record", "out", "home", "undo"]), st.integers(1, 7)), max_size=8
)


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(acts=ACTS)
def test_undoing_everything_ends_where_it_began(shop: Shop, acts: list[tuple[str, int]]) -> None:
    piece = heron(shop)
    before = look(shop, "D1", here=piece.tag)
    for act, number in acts:
        if act == "record":
            record(shop, f"D{number}", here=piece.tag)
        elif act == "out":
            take_out(shop, piece.tag, [f"D{number}"])
        elif act == "home":
            bring_home(shop, piece.tag, f"D{number}", "H1")
        elif _undoable(shop):
            undo(shop)
    while _undoable(shop):
        undo(shop)
    assert look(shop, "D1", here=piece.tag) == before
    assert piece_state(shop, piece).seated() == {}
    undo(shop)


def _undoable(shop: Shop) -> bool:
    """Something was done since the piece was taken in."""
    top = last_change(shop)
    return top is not None and not top.sentence.startswith("Took in")


def at_bench(shop: Shop, who: str) -> Shop:
    """The same book with somebody else at it."""
    return Shop(shop.book, shop.clock, who)


def test_undo_of_somebody_elses_change_names_who_and_asks(shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    other = at_bench(shop, "Robin")
    asked = undo(other)
    assert isinstance(asked, NotYours)
    assert asked.sentence.startswith("The latest change was made by Wren: Heron D1 washed")
    assert done(shop, piece, "D1") == ["wash"]
    record(shop, "D3", here=piece.tag)
    assert isinstance(undo(other, asked.record), Refused)
    assert done(shop, piece, "D3") == ["wash"]
    again = undo(other)
    assert isinstance(again, NotYours)
    assert isinstance(undo(other, again.record), Done)
    assert done(shop, piece, "D3") == []


def test_a_change_without_a_name_is_somebody_elses_to_one_with_a_name(shop: Shop) -> None:
    piece = heron(at_bench(shop, ""))
    asked = undo(shop)
    assert isinstance(asked, NotYours) and "somebody who gave no name" in asked.sentence
    assert isinstance(undo(at_bench(shop, "")), Done)
    assert shop.piece(piece.tag) is None


def test_ones_own_is_taken_back_under_the_changes_of_others(shop: Shop) -> None:
    piece, other = heron(shop), at_bench(shop, "Robin")
    record(shop, "D1", here=piece.tag)
    record(other, "D3", here=piece.tag)
    said = undo_own(shop)
    assert isinstance(said, Done) and said.sentence.startswith("Undone: Heron D1 washed")
    assert done(shop, piece, "D1") == [] and done(shop, piece, "D3") == ["wash"]
    assert shop.piece(piece.tag).numbers_fixed
    again = redo_own(shop)
    assert isinstance(again, Done)
    assert done(shop, piece, "D1") == ["wash"] and done(shop, piece, "D3") == ["wash"]
    assert isinstance(undo_own(other), Done)
    assert done(shop, piece, "D3") == []


def test_what_others_went_on_from_stays(shop: Shop) -> None:
    piece, other = heron(shop), at_bench(shop, "Robin")
    record(shop, "D1", here=piece.tag)
    record(other, "D1", here=piece.tag)
    steps = done(shop, piece, "D1")
    said = undo_own(shop)
    assert isinstance(said, Refused) and said.sentence.startswith("Others went on from there")
    assert done(shop, piece, "D1") == steps
    # The piece itself is Wren's, and everything stands on it.
    assert isinstance(undo_own(other), Done)
    assert isinstance(undo_own(shop), Done)
    assert done(shop, piece, "D1") == []


def test_who_recorded_nothing_has_nothing_to_take_back(shop: Shop) -> None:
    heron(shop)
    said = undo_own(at_bench(shop, "Robin"))
    assert said == Refused("There is nothing of Robin to undo.")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["Wren", "Robin"]),
            st.sampled_from(["record", "out", "undo", "undo own", "redo own"]),
            st.integers(1, 4),
        ),
        max_size=12,
    )
)
@settings(max_examples=40)
def test_whoever_takes_back_what_the_history_undone_ends_where_it_began(
    acts: list[tuple[str, str, int]],
) -> None:
    """Own undo in any order with all else: the book stays sound and all of it can be undone."""
    with closing(shop_at(Path(":memory:"), who="Wren")) as shop:
        piece = heron(at_bench(shop, "Ash"))
        start = list(shop.book.connection.iterdump())
        people = {"Wren": shop, "Robin": at_bench(shop, "Robin")}
        for who, act, number in acts:
            mine = people[who]
            if act == "record":
                record(mine, f"D{number}", here=piece.tag)
            elif act == "out":
                take_out(mine, piece.tag, [f"D{number}"])
            elif act == "undo own":
                before = _others(shop, who)
                undo_own(mine)
                assert _others(shop, who) == before
            elif act == "redo own":
                redo_own(mine)
            elif (top := last_change(shop)) and _count(shop) > 1:
                undo(mine, top.id)
        while _count(shop) > 1 and (top := last_change(shop)):
            undo(shop, top.id)
        assert _rows(start) == _rows(shop.book.connection.iterdump())


def _others(shop: Shop, who: str) -> list[tuple[object, ...]]:
    """The records of everybody else."""
    return [
        tuple(r)
        for table in ("mark", "movement")
        for r in shop.book.rows(f"SELECT * FROM {table} WHERE who <> ? ORDER BY id", (who,))
    ]


def _count(shop: Shop) -> int:
    """How many changes stand."""
    found = shop.book.row("SELECT undo_top FROM journal ORDER BY id DESC LIMIT 1")
    count, top = 0, found["undo_top"] if found else None
    while top is not None:
        count += 1
        row = shop.book.row("SELECT undo_below FROM journal WHERE id = ?", (top,))
        top = row[0] if row else None
    return count


def _rows(dump: Iterable[str]) -> list[str]:
    """Everything but the journal."""
    return sorted(
        line for line in dump
        if line.startswith("INSERT") and "journal" not in line and "clock_said" not in line
    )  # fmt: skip


def test_a_piece_that_others_noted_something_of_is_not_taken_back_under_them(shop: Shop) -> None:
    piece, other = heron(shop), at_bench(shop, "Robin")
    assert isinstance(set_client(other, piece.tag, name="Ash"), Done)
    assert isinstance(undo_own(shop), Refused)
    assert shop.piece(piece.tag) is not None
    assert check_book(shop) == []


def mixed(shop: Shop) -> StoredCup:
    made_of = [Poured("colour", "", 1)]
    made = cups.make(shop, "blue", made_of, strained=False, product="paint_water")
    assert isinstance(made, StoredCup)
    return made


def test_what_was_altered_and_what_went_is_as_it_was_under_the_changes_of_others(
    shop: Shop,
) -> None:
    piece, other = heron(shop), at_bench(shop, "Robin")
    mixed(at_bench(shop, "Robin"))
    cups.strained(shop, 1)
    record(other, "D3", here=piece.tag)
    assert isinstance(undo_own(shop), Done)
    stored = cups.find(shop, 1)
    assert isinstance(stored, StoredCup) and not stored.cup.strained
    assert isinstance(redo_own(shop), Done)
    stored = cups.find(shop, 1)
    assert isinstance(stored, StoredCup) and stored.cup.strained

    assert isinstance(asking.note_promise(other, piece.tag, shop.clock() + DAY), Done)
    assert isinstance(asking.drop_promise(shop, piece.tag), Done)
    record(other, "D1", here=piece.tag)
    said = undo_own(shop)
    assert isinstance(said, Done), said
    assert [p.tag for p in promises.promises(shop.book)] == [piece.tag], "it stands again"
    assert check_book(shop) == []


def test_what_somebody_altered_since_is_not_put_back(shop: Shop) -> None:
    piece, other = heron(shop), at_bench(shop, "Robin")
    mixed(shop)
    cups.strained(shop, 1)
    cups.empty(other, 1)
    assert isinstance(undo_own(shop), Refused)
    stored = cups.find(shop, 1)
    assert isinstance(stored, StoredCup) and stored.cup.strained and stored.emptied_at
    assert asking.note_promise(shop, piece.tag, shop.clock() + DAY)
    asking.drop_promise(other, piece.tag)
    said = undo_own(shop)
    assert isinstance(said, Refused) and said.sentence.startswith("Others went on from there")
    assert promises.promises(shop.book) == []
