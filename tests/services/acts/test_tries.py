"""Tries at the bench: written down, heard by the waits, and gone again with an undo."""

from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench, tries
from partsbench.services.acts.history import undo
from partsbench.services.heard.session import Session
from partsbench.services.known.state import part_state
from partsbench.services.rules import own_waits
from partsbench.services.rules.ready import ready, short_time
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code
from tests.support.wall import verb_named


def coated(shop: Shop, clock: SetClock, *shorts: str) -> Piece:
    """Two finishes, with the first colour coat put on now."""
    piece = two_finishes(shop)
    for short in shorts or ("D1",):
        do(shop, piece, short, "wash", "rinse", at=clock.now - timedelta(days=1))
        do(shop, piece, short, "sand_150", "colour_1")
    return piece


def say(shop: Shop, piece: Piece, short: str, is_ready: bool, what: Ready = Ready.SAND):
    return tries.say_tried(shop, short, what, is_ready, here=piece.tag)


def test_what_was_tried_is_said_with_the_hours_since_the_coat(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=5)
    done = say(shop, piece, "D1", False)
    assert isinstance(done, Done)
    assert "tried 5 h after Colour coat 1, thin: not ready to be sanded." in done.sentence
    assert "1 try, too few to tell" in done.sentence


def test_not_ready_holds_the_step_until_it_is_tried_again(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=5)
    look = bench.look(shop, code(piece, "D1"), here=piece.tag)
    assert isinstance(look, Outcome) and look.answer is Answer.GO
    say(shop, piece, "D1", False)
    held = bench.look(shop, code(piece, "D1"), here=piece.tag)
    assert held.answer is Answer.STOP and held.held == ("tried, not ready",)
    assert "your own try" in held.source
    clock.pass_time(hours=1)
    assert not record(shop, code(piece, "D1"), here=piece.tag).recorded
    say(shop, piece, "D1", True)
    assert record(shop, code(piece, "D1"), here=piece.tag).recorded


def test_ready_before_the_tins_time_shortens_nothing(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=1)
    before = bench.look(shop, code(piece, "D1"), here=piece.tag)
    assert isinstance(say(shop, piece, "D1", True), Done)
    after = bench.look(shop, code(piece, "D1"), here=piece.tag)
    assert (after.answer, after.until) == (before.answer, before.until)
    assert after.answer is Answer.WAIT


def test_enough_films_not_ready_lengthen_the_wait_and_say_whose_figure_it_is(
    shop: Shop, clock: SetClock
) -> None:
    piece = coated(shop, clock, "D1", "D2", "D3")
    for _ in range(2):
        clock.pass_time(hours=6)
        for short in ("D1", "D2", "D3"):
            say(shop, piece, short, False)
        clock.pass_time(hours=1)
        for short in ("D1", "D2", "D3"):
            say(shop, piece, short, True)
            do(shop, piece, short, "sand_220")
            do(shop, piece, short, "colour_2")
    found = {(f.product, f.ready): f for f in own_waits.own_figures(shop)}
    figure = found[("paint_water", Ready.SAND)]
    assert figure.own is not None and (figure.own.low, figure.own.high) == (6, 7)
    assert "by 7 h in 6 of 6 tries" in figure.sentence
    clock.pass_time(hours=5)
    look = bench.look(shop, code(piece, "D1"), here=piece.tag)
    assert look.answer is Answer.WAIT and "first needs 7 h" in look.because
    assert "your own tries: 6 of 6 films ready by 7 h" in look.source


def test_the_six_answers_say_not_yet(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=5)
    say(shop, piece, "D1", False)
    part = piece.part("D1")
    assert part is not None
    told = ready(shop, part_state(shop, piece, part).lane, clock.now)
    sand = next(a for a in told if a.ready is Ready.SAND)
    assert sand.tried_not and short_time(sand, clock.now) == "not yet"
    assert all(not a.tried_not for a in told if a.ready is not Ready.SAND)


def test_an_undo_takes_the_try_and_what_followed_from_it(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=5)
    say(shop, piece, "D1", False)
    undo(shop)
    assert own_waits.own_figures(shop) == []
    assert bench.look(shop, code(piece, "D1"), here=piece.tag).answer is Answer.GO


def test_what_cannot_be_tried_is_refused(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    for asked in (
        tries.say_tried(shop, "D2", Ready.SAND, True, here=piece.tag),
        tries.say_tried(shop, "D1", Ready.SAND, True, here=piece.tag, face="lid"),
        tries.say_tried(shop, "D1", Ready.SAND, True, here=piece.tag,
                        at=clock.now + timedelta(hours=1)),
        tries.say_tried(shop, "D1", Ready.SAND, True, here=piece.tag,
                        at=clock.now - timedelta(hours=1)),
        tries.say_tried(shop, "nonsense", Ready.SAND, True, here=piece.tag),
    ):  # fmt: skip
        assert isinstance(asked, Refused), asked
    assert own_waits.own_figures(shop) == []


def test_without_a_state_it_is_what_the_next_step_asks(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock)
    clock.pass_time(hours=5)
    session = Session(shop, piece.tag)
    session.scan(verb_named("TRIED NOT READY").code)
    (said,) = session.scan("D1")
    assert said.recorded and "not ready to be sanded" in said.sentence
    (figure,) = own_waits.own_figures(shop)
    assert (figure.ready, figure.films) == (Ready.SAND, 1)
    assert bench.look(shop, code(piece, "D1"), here=piece.tag).held == ("tried, not ready",)
    session.scan(verb_named("TRIED READY").code)
    session.scan("D1")
    assert bench.look(shop, code(piece, "D1"), here=piece.tag).answer is Answer.GO


def test_a_finished_face_is_tried_for_touching_and_one_to_be_unmasked_must_be_told(
    shop: Shop, clock: SetClock
) -> None:
    piece = two_finishes(shop)
    keys = [s.key for s in shop.path("paint").steps if not s.optional]
    do(shop, piece, "D1", *keys[: keys.index("topcoat_2") + 1])
    done = tries.say_tried(shop, "D1", None, False, here=piece.tag)
    part = piece.part("D1")
    assert part is not None
    due = part_state(shop, piece, part).faces[0].progress.next
    if due is None:
        assert isinstance(done, Done) and "not ready to touch or stack" in done.sentence
    else:
        assert isinstance(done, Refused) and "say the state" in done.sentence
