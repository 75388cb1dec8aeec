from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from partsbench.core.outcomes import Answer, Tone
from partsbench.services.acts.history import history, undo
from partsbench.services.acts.teardown import Teardown, stays_in, take_out, teardown
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.shops import code, heron, quill, tall_chest


def now(shop: Shop, tag: str) -> Teardown:
    piece = shop.piece(tag)
    assert piece is not None
    return teardown(piece_state(shop, piece))


def counts(state: Teardown) -> dict[str, tuple[int, int]]:
    return {c.name: (c.out, c.of) for c in state.counts}


def test_the_first_to_pull_is_named_with_hint_and_place_for_its_label(shop: Shop) -> None:
    piece = heron(shop)
    state = now(shop, piece.tag)
    assert state.next is not None and state.next.short == "D1"
    assert "One drawer open at a time" in state.hint
    assert state.stick == "on the back"
    assert counts(state) == {"openings": (0, 7), "legs": (0, 4), "other parts": (0, 8)}


def test_a_scan_takes_out_and_names_the_next(shop: Shop) -> None:
    piece = heron(shop)
    said = take_out(shop, piece.tag, [code(piece, "D1")])
    assert (said.answer, said.tone, said.recorded) == (Answer.GO, Tone.RECORDED, True)
    assert said.sentence == "D1 out. Next: D2."
    assert counts(now(shop, piece.tag))["openings"] == (1, 7)


def test_out_of_order_is_fine(shop: Shop) -> None:
    piece = heron(shop)
    said = take_out(shop, piece.tag, ["D6"])
    assert said.sentence == "D6 out. Next: D1."


def test_a_second_scan_of_what_is_out_records_nothing(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    before = len(history(shop, piece.tag))
    said = take_out(shop, piece.tag, ["D1"])
    assert (said.recorded, said.tone) == (False, Tone.QUIET)
    assert len(history(shop, piece.tag)) == before


def test_several_go_out_together_or_none_does(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    said = take_out(shop, piece.tag, [code(piece, "D1"), code(other, "D2")])
    assert said.answer is Answer.OTHER_JOB
    assert now(shop, piece.tag).counts[0].out == 0
    assert take_out(shop, piece.tag, ["D1", "D2", "D1"]).sentence.startswith("D1, D2 out.")


def test_a_home_label_and_the_carcase_do_not_come_out(shop: Shop) -> None:
    piece = heron(shop)
    assert "label of a home" in take_out(shop, piece.tag, [code(piece, "H1")]).sentence
    assert "stays where it stands" in take_out(shop, piece.tag, ["C1"]).sentence


def test_what_stays_in_is_dealt_with_and_counts_as_home(shop: Shop) -> None:
    piece = heron(shop)
    said = stays_in(shop, piece.tag, "D1")
    assert said.recorded
    state = now(shop, piece.tag)
    assert state.next is not None and state.next.short == "D2"
    whole = shop.piece(piece.tag)
    assert whole is not None
    assert piece_state(shop, whole).of("D1").where is Where.HOME


def test_hidden_drawers_come_after_their_door(shop: Shop, tmp_path: Path) -> None:
    piece = tall_chest(shop, tmp_path)
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    state = now(shop, piece.tag)
    assert state.next is not None and state.next.short == "G1"
    assert "2 inside (D4, D5)" in state.hint
    take_out(shop, piece.tag, ["G1"])
    state = now(shop, piece.tag)
    assert state.next is not None and state.next.short == "D4"
    assert (counts(state)["hidden"], counts(state)["openings"]) == ((0, 2), (4, 4))


def test_all_out_or_stays_in_is_finished(shop: Shop) -> None:
    piece = heron(shop)
    order = [p.short for p in now(shop, piece.tag).order]
    take_out(shop, piece.tag, order[:-1])
    assert not now(shop, piece.tag).finished
    stays_in(shop, piece.tag, order[-1])
    assert now(shop, piece.tag).finished


def test_out_at_a_stated_time_and_never_in_the_future(shop: Shop, clock: SetClock) -> None:
    piece = heron(shop)
    early = clock.now - timedelta(hours=1)
    take_out(shop, piece.tag, ["D1"], at=early)
    moved = piece_state(shop, piece).of("D1").moved
    assert moved is not None and moved.at == early
    said = take_out(shop, piece.tag, ["D2"], at=clock.now + timedelta(minutes=5))
    assert not said.recorded


def test_out_to_a_place_says_where(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"], place="rack 2")
    state = piece_state(shop, piece)
    assert state.of("D1").place == "rack 2"
    assert state.of("P1").where is Where.OUT
    assert state.of("P1").place == "rack 2"


def test_an_undone_teardown_is_in_the_piece_again(shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    undo(shop)
    assert piece_state(shop, piece).of("D1").where is Where.IN
    assert now(shop, piece.tag).counts[0].out == 0
