"""A painted drawer that goes home into a painted opening is told to stay open, with its time."""

from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import tries
from partsbench.services.acts.returning import bring_home
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import lay_out, made

STEPS = ("wash", "rinse", "sand_150", "colour_1", "sand_220", "colour_2", "sand_400", "colour_3",
         "topcoat_1", "sand_between_1", "topcoat_2")  # fmt: skip


def coated(shop: Shop, clock: SetClock, *paths: tuple[str, list[str]]) -> Piece:
    """A piece whose painted parts got their last coat now."""
    piece = made(lay_out(shop, "Heron", "2", paths=list(paths)))
    for short in ("D1", "C1"):
        for at, steps in ((clock.now - timedelta(days=3), STEPS[:2]), (clock.now, STEPS[2:])):
            do(shop, piece, short, *steps, at=at)
    return piece


def home(shop: Shop, piece: Piece, short: str = "D1") -> Outcome:
    said = bring_home(shop, piece.tag, short)
    assert isinstance(said, Outcome)
    return said


def test_painted_against_painted_is_left_open_until_a_time_with_its_source(
    shop: Shop, clock: SetClock
) -> None:
    piece = coated(shop, clock, ("paint", ["D1", "C1 rails"]))
    clock.pass_time(days=2)
    said = home(shop, piece)
    assert (said.answer, said.tone, said.recorded) == (Answer.GO, Tone.WAIT, True)
    assert said.until == clock.now + timedelta(days=5)
    until = said.until.astimezone()
    assert f"Leave it a finger open until {until:%a %d %b %H:%M}." in said.sentence
    assert "C1 rails" in said.because and "7 d" in said.because
    assert "trade experience" in said.source
    assert said.warnings[0].startswith("edges would stick: ")


def test_past_its_time_it_is_a_quiet_right(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock, ("paint", ["D1", "C1 rails"]))
    clock.pass_time(days=7)
    said = home(shop, piece)
    assert (said.tone, said.until, said.because, said.warnings) == (Tone.QUIET, None, "", ())


def test_bare_edges_or_a_bare_opening_do_not_stick(shop: Shop, clock: SetClock) -> None:
    fronts = coated(shop, clock, ("paint", ["D1 front", "C1 rails"]))
    said = home(shop, fronts)
    assert not [w for w in said.warnings if w.startswith("edges would stick")]
    assert "finger open" not in said.sentence


def test_tried_and_not_ready_keeps_it_open_past_the_figure(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock, ("paint", ["D1", "C1 rails"]))
    clock.pass_time(days=8)
    tries.say_tried(shop, "C1", Ready.TOUCH, False, here=piece.tag)
    said = home(shop, piece)
    assert said.tone is Tone.WAIT and "tried and not ready to touch" in said.because


def test_the_day_says_what_must_stay_open_as_long_as_it_must(shop: Shop, clock: SetClock) -> None:
    piece = coated(shop, clock, ("paint", ["D1", "D2", "C1 rails"]))
    do(shop, piece, "D2", *STEPS[:2], at=clock.now - timedelta(days=3))
    do(shop, piece, "D2", *STEPS[2:])
    assert day.day(shop).notes == (), "nothing is home yet"
    said = home(shop, piece)
    home(shop, piece, "D2")
    assert said.until is not None
    until = f"{said.until.astimezone():%a %d %b %H:%M}"
    assert day.day(shop).notes == (f"Heron: leave D1, D2 a finger open until {until}.",)
    clock.pass_time(days=7)
    assert day.day(shop).notes == ()
