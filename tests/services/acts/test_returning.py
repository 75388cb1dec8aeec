from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path

import pytest

from partsbench.core.outcomes import Answer, Done, Refused, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import undo
from partsbench.services.acts.returning import (
    FitResult,
    bring_home,
    by_elimination,
    homes_left,
    missing,
    moves_home,
    moves_sentence,
    open_fits,
    record_fit,
    sits_on_another,
)
from partsbench.services.acts.teardown import stays_in, take_out, teardown
from partsbench.services.books.pieces import add_part
from partsbench.services.known.state import PieceState, Where, piece_state
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import code, heron, made, quill, shop_at, tall_chest

DRAWERS = tuple(f"D{n}" for n in range(1, 8))


def state_of(shop: Shop, tag: str) -> PieceState:
    piece = shop.piece(tag)
    assert piece is not None
    return piece_state(shop, piece)


def missing_now(shop: Shop, tag: str) -> list[str]:
    return [m.part.short for m in missing(state_of(shop, tag))]


def all_out(shop: Shop, piece: Piece, shorts: Sequence[str] = DRAWERS) -> None:
    said = take_out(shop, piece.tag, list(shorts))
    assert said.recorded, said


def pair(shop: Shop, piece: Piece, home: str, part: str) -> str:
    return bring_home(shop, piece.tag, code(piece, part), code(piece, home)).sentence


def test_opening_then_its_drawer_is_a_quiet_right(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    said = bring_home(shop, piece.tag, code(piece, "D2"), code(piece, "H2"))
    assert (said.answer, said.tone, said.recorded) == (Answer.GO, Tone.QUIET, True)
    assert said.sentence == "D2 is home. 6 still missing."


def test_a_wrong_drawer_is_told_where_it_lives_and_who_belongs_here(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    said = bring_home(shop, piece.tag, code(piece, "D2"), code(piece, "H1"))
    assert (said.answer, said.tone) == (Answer.STOP, Tone.REFUSED)
    assert said.sentence == "D2 lives in H2, row 1, right. H1 wants D1."
    assert state_of(shop, piece.tag).of("D2").where is Where.WRONG
    assert "D2" in missing_now(shop, piece.tag)


def test_a_drawer_alone_goes_into_its_own_home(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    assert bring_home(shop, piece.tag, "D6").home == 6
    assert state_of(shop, piece.tag).seated() == {6: "D6"}


def test_a_namesake_of_another_job_is_refused_with_its_home(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    all_out(shop, piece)
    said = bring_home(shop, piece.tag, code(other, "D4"), code(piece, "H4"))
    assert said.answer is Answer.OTHER_JOB
    assert "Quill D4" in said.sentence
    assert "row 2, right" in said.sentence
    assert state_of(shop, piece.tag).of("D4").where is Where.OUT


def test_a_ring_of_three_comes_home_in_four_moves(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    for home, part in (("H1", "D2"), ("H2", "D3"), ("H3", "D1")):
        pair(shop, piece, home, part)
    state = state_of(shop, piece.tag)
    assert len(moves_home(state)) == 4
    assert moves_sentence(state).endswith("Four moves.")


def test_following_the_moves_ends_with_all_at_home(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    order = ("D3", "D1", "D2", "D5", "D4", "D7", "D6")
    for number, part in enumerate(order, 1):
        pair(shop, piece, f"H{number}", part)
    todo = moves_home(state_of(shop, piece.tag))
    assert len(todo) == 7 + 3
    for move in todo:
        if isinstance(move.target, int):
            pair(shop, piece, f"H{move.target}", move.part)
    assert missing_now(shop, piece.tag) == []
    assert moves_sentence(state_of(shop, piece.tag)) == "No part sits in a wrong home."


def test_the_last_one_scanned_into_a_home_sits_there(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    pair(shop, piece, "H1", "D2")
    pair(shop, piece, "H1", "D1")
    state = state_of(shop, piece.tag)
    assert state.seated() == {1: "D1"}
    assert state.of("D2").where is Where.OUT


def test_complete_only_when_every_part_taken_off_is_home(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, [p.short for p in teardown(state_of(shop, piece.tag)).order])
    for part in piece.present:
        if part.short not in ("P3", "C1"):
            bring_home(shop, piece.tag, part.short)
    left = missing(state_of(shop, piece.tag))
    assert [m.sentence for m in left] == ["P3 (pull): is out"]
    bring_home(shop, piece.tag, "P3", "D3")
    assert missing_now(shop, piece.tag) == []


def test_a_drawer_never_scanned_while_its_siblings_came_out_is_missing(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, DRAWERS[:6])
    for short in DRAWERS[:6]:
        bring_home(shop, piece.tag, short)
    left = missing(state_of(shop, piece.tag))
    assert [(m.part.short, m.why) for m in left] == [("D7", "was never scanned")]


def test_what_was_told_to_stay_in_is_not_missing(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, DRAWERS[:6])
    stays_in(shop, piece.tag, "D7")
    for short in DRAWERS[:6]:
        bring_home(shop, piece.tag, short)
    assert missing_now(shop, piece.tag) == []


def test_legs_that_never_came_off_are_not_missing(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    assert not {m for m in missing_now(shop, piece.tag) if m.startswith("L")}


def test_bags_and_keys_are_accounted_for_by_name(shop: Shop) -> None:
    piece = heron(shop)
    made(add_part(shop, piece.tag, Family.BAG, Home(HomeKind.ON_PIECE), "bag of screws"))
    made(add_part(shop, piece.tag, Family.LOCK, Home(HomeKind.ON_PIECE), "key"))
    all_out(shop, piece, ["B1", "K1"])
    names = [m.sentence for m in missing(state_of(shop, piece.tag)) if m.part.short in "B1 K1"]
    assert names == ["K1 (key): is out", "B1 (bag of screws): is out"]


def test_what_is_out_is_missing_by_the_place_it_was_last_seen(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"], place="rack 2")
    assert missing(state_of(shop, piece.tag))[0].why == "last seen at rack 2"


def test_a_pull_rides_home_on_its_drawer_unless_it_was_taken_off(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, ["D1", "D2", "P2"])
    bring_home(shop, piece.tag, "D1")
    bring_home(shop, piece.tag, "D2")
    state = state_of(shop, piece.tag)
    assert state.of("P1").where is Where.HOME
    assert state.of("P2").where is Where.OUT


def test_a_pull_goes_onto_its_own_drawer_only(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, ["P2"])
    said = bring_home(shop, piece.tag, "P2", "D3")
    assert not said.recorded
    assert said.sentence == "P2 does not belong on D3; it lives on D2, middle."
    assert bring_home(shop, piece.tag, "P2", "D2").recorded


def test_a_part_sits_on_another_drawer_only_where_it_sits_on_one(shop: Shop) -> None:
    piece = heron(shop)

    def wrong(short: str, host: str) -> bool:
        part, on = piece.part(short), piece.part(host)
        assert part is not None and on is not None
        return sits_on_another(piece, part, on)

    assert wrong("P2", "D3")
    assert not wrong("P2", "D2"), "its own"
    assert not wrong("D2", "D3"), "a drawer sits on none"
    assert not wrong("P2", "L1") and not wrong("P2", "P3"), "nothing sits on these"


def test_a_pull_cannot_fill_an_opening(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, ["D2", "P2"])
    bring_home(shop, piece.tag, "D2", "H2")
    said = bring_home(shop, piece.tag, "P2", "H2")
    assert not said.recorded
    assert said.sentence == "P2 lives on D2, middle; scan it alone."
    assert state_of(shop, piece.tag).seated() == {2: "D2"}


def test_a_drawer_is_not_scanned_into_another_drawer(shop: Shop) -> None:
    piece = heron(shop)
    said = bring_home(shop, piece.tag, "D2", "D3")
    assert said.sentence == "D3 is a part; scan the home label of the opening."


def test_a_home_label_in_the_place_of_a_part_is_refused(shop: Shop) -> None:
    piece = heron(shop)
    said = bring_home(shop, piece.tag, code(piece, "H2"), code(piece, "H1"))
    assert not said.recorded


def test_a_fixed_leg_goes_to_its_own_corner(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, ["L1", "L2"])
    said = pair(shop, piece, "H8", "L2")
    assert said == "L2 lives in H9, front right corner. H8 wants L1."


def test_equal_legs_go_to_any_corner(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    legs = ["L1", "L2", "L3", "L4"]
    all_out(shop, piece, legs)
    for home, leg in (("H9", "L1"), ("H8", "L2"), ("H11", "L3"), ("H10", "L4")):
        assert bring_home(shop, piece.tag, leg, home).answer is Answer.GO
    assert missing_now(shop, piece.tag) == []


def test_an_equal_leg_alone_takes_a_free_corner(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    all_out(shop, piece, ["L1", "L2", "L3", "L4"])
    bring_home(shop, piece.tag, "L1", "H9")
    for leg in ("L2", "L3", "L4"):
        bring_home(shop, piece.tag, leg)
    assert missing_now(shop, piece.tag) == []
    assert len(state_of(shop, piece.tag).seated()) == 4


def test_an_equal_leg_in_a_drawers_home_still_gets_a_corner_in_the_moves(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    all_out(shop, piece, ["D1", "L1", "L2"])
    bring_home(shop, piece.tag, "L1", "H9")
    bring_home(shop, piece.tag, "L2", "H1")
    todo = moves_home(state_of(shop, piece.tag))
    assert [(m.part, m.source, m.target) for m in todo] == [("L2", 1, 8)]


def test_elimination_takes_the_one_left_of_its_size(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece, DRAWERS)
    for short in DRAWERS[1:]:
        bring_home(shop, piece.tag, short)
    said = by_elimination(shop, piece.tag)
    assert isinstance(said, Done)
    assert said.sentence == "D1 home by elimination."
    moved = state_of(shop, piece.tag).of("D1").moved
    assert moved is not None and moved.how == "by elimination"


def test_elimination_refuses_two_that_could_be_exchanged(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    for short in ("D1", "D2", "D3", "D4", "D5"):
        bring_home(shop, piece.tag, short)
    said = by_elimination(shop, piece.tag)
    assert isinstance(said, Refused)
    assert said.sentence.startswith("D6, D7 could sit in each other's homes")


def test_elimination_works_on_a_piece_that_was_never_scanned_out(shop: Shop) -> None:
    piece = heron(shop)
    assert len(missing_now(shop, piece.tag)) == 11
    for short in ("D2", "D3", "D4", "D6", "D7", "L2", "L3", "L4"):
        bring_home(shop, piece.tag, short)
    said = by_elimination(shop, piece.tag)
    assert isinstance(said, Done)
    assert missing_now(shop, piece.tag) == []


def test_elimination_does_not_fill_a_home_where_something_else_was_seen(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    for short in ("D2", "D3", "D4", "D6", "D7"):
        bring_home(shop, piece.tag, short)
    pair(shop, piece, "H1", "D5")
    said = by_elimination(shop, piece.tag)
    assert said == Refused("D1, D5 cannot be told: scan them.")
    state = state_of(shop, piece.tag)
    assert state.of("D1").where is Where.OUT
    assert state.of("D5").where is Where.WRONG


def test_elimination_gives_equal_legs_corners_of_their_own(shop: Shop) -> None:
    piece = heron(shop, equal_legs=True)
    all_out(shop, piece, ["L1", "L2", "L3", "L4"])
    bring_home(shop, piece.tag, "L1", "H9")
    by_elimination(shop, piece.tag)
    assert len(state_of(shop, piece.tag).seated()) == 4


def test_nothing_missing_has_nothing_to_eliminate(shop: Shop) -> None:
    piece = heron(shop)
    for part in piece.present:
        if part.family in (Family.DRAWER, Family.LEG):
            bring_home(shop, piece.tag, part.short)
    assert by_elimination(shop, piece.tag) == Refused("Nothing is missing.")


@pytest.mark.parametrize("result", list(FitResult))
def test_a_fit_stays_open_until_it_runs_free(shop: Shop, result: FitResult) -> None:
    piece = heron(shop)
    assert isinstance(record_fit(shop, piece.tag, "D1", result), Done)
    open_now = open_fits(state_of(shop, piece.tag))
    assert bool(open_now) is (result is not FitResult.FREE)
    record_fit(shop, piece.tag, "D1", FitResult.FREE)
    assert open_fits(state_of(shop, piece.tag)) == []


def test_a_fit_of_no_part_is_refused(shop: Shop) -> None:
    piece = heron(shop)
    assert isinstance(record_fit(shop, piece.tag, "D99", FitResult.FREE), Refused)


def test_homes_left_name_who_they_wait_for(shop: Shop, tmp_path: Path) -> None:
    piece = tall_chest(shop, tmp_path)
    all_out(shop, piece, ["D1", "D2", "D3", "G1", "D4", "D5"])
    bring_home(shop, piece.tag, "D2")
    left = homes_left(state_of(shop, piece.tag))
    assert sorted(left.values()) == ["D1", "D3", "D4", "D5", "G1"]


def test_a_shelf_shares_an_opening_with_its_drawer(shop: Shop) -> None:
    piece = heron(shop)
    made(add_part(shop, piece.tag, Family.RUNNER, Home(HomeKind.OPENING, 1, "left"), "runner"))
    made(add_part(shop, piece.tag, Family.SHELF, Home(HomeKind.OPENING, 1), "shelf"))
    all_out(shop, piece, ["D1", "D2", "R1", "S1"])
    for short in ("D1", "R1", "S1"):
        bring_home(shop, piece.tag, short)
    bring_home(shop, piece.tag, "S1", "H2")
    state = state_of(shop, piece.tag)
    assert state.seated() == {1: "D1"}
    assert [m.sentence for m in missing(state) if m.part.short == "S1"] == [
        "S1 (shelf): sits in H2, lives in row 1, left"
    ]
    assert moves_home(state) == []


def test_a_return_in_the_future_is_refused_and_a_stated_one_kept(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    late = bring_home(shop, piece.tag, "D1", at=clock.now + timedelta(hours=1))
    assert not late.recorded
    clock.pass_time(hours=3)
    early = clock.now - timedelta(hours=1)
    bring_home(shop, piece.tag, "D1", at=early)
    moved = state_of(shop, piece.tag).of("D1").moved
    assert moved is not None and moved.at == early


def test_undo_brings_the_drawer_back_to_the_bench(shop: Shop) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    bring_home(shop, piece.tag, "D1")
    undo(shop)
    assert state_of(shop, piece.tag).of("D1").where is Where.OUT


def test_two_windows_fill_one_front(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    all_out(shop, piece)
    second = shop_at(book_path)
    for place, short in enumerate(DRAWERS):
        bring_home(second if place % 2 else shop, piece.tag, short)
    assert missing_now(shop, piece.tag) == missing_now(second, piece.tag) == []
    second.close()
