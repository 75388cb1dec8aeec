"""What else on a part must not be forgotten, and what the book already knows."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.checks import DUST_SETTLED
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import lay_out, made


@pytest.fixture
def piece(shop: Shop, clock: SetClock) -> Piece:
    """A painted rail under a stained top; both are ready for sanding and stain."""
    found = made(lay_out(shop, "Heron", "1", height=300, paths=[
        ("paint", ["C1 rails", "D1"]), ("stain", ["C1 top"])]))  # fmt: skip
    for key, value in (("old finish", "none"), ("conditioner", "none"), ("bleeds", "no")):
        facts.say(shop, found.tag, key, value)
    return found


def stained(shop: Shop, piece: Piece) -> Outcome:
    """The rails are washed and rinsed, the top is stained just now; then the rails are sanded."""
    now = shop.clock()
    for face in ("rails", "top"):
        do(shop, piece, "C1", "wash", "rinse", at=now - timedelta(days=2), face=face)
    do(shop, piece, "C1", "sand_150", "sand_220", "stain", face="top")
    return rails(shop, piece)


def rails(shop: Shop, piece: Piece) -> Outcome:
    said = bench.record(shop, "C1", here=piece.tag, face="rails", confirmed=True)
    assert isinstance(said, Outcome) and said.recorded, said
    return said


def test_a_record_on_one_face_tells_of_the_wipe_that_is_due_on_another(
    shop: Shop, piece: Piece
) -> None:
    by = (shop.clock() + timedelta(minutes=15)).astimezone()
    assert stained(shop, piece).sentence.endswith(f". Wipe off the stain (top) by {by:%H:%M}.")


def test_a_wipe_that_is_late_is_told_as_late(shop: Shop, piece: Piece, clock: SetClock) -> None:
    now = shop.clock()
    for face in ("rails", "top"):
        do(shop, piece, "C1", "wash", "rinse", at=now - timedelta(days=2), face=face)
    do(shop, piece, "C1", "sand_150", "sand_220", "stain", face="top")
    clock.pass_time(hours=1)
    assert rails(shop, piece).sentence.endswith(". Wipe off the stain (top) is late.")


def test_a_window_of_a_day_is_not_urgent(shop: Shop, piece: Piece, clock: SetClock) -> None:
    """The rails stand scuffed, to be coated within a day: that is told once it comes near."""
    stained(shop, piece)
    clock.pass_time(minutes=10)
    said = bench.record(shop, "C1", here=piece.tag, face="top", confirmed=True)
    assert isinstance(said, Outcome) and said.recorded, said
    assert "(rails)" not in said.sentence


def test_dust_is_asked_about_only_after_a_sanding_that_the_book_knows(
    shop: Shop, piece: Piece, clock: SetClock
) -> None:
    now = shop.clock()
    do(shop, piece, "D1", "wash", "rinse", at=now - timedelta(days=2))
    do(shop, piece, "D1", "sand_150", at=now - timedelta(hours=2))

    def asked() -> bool:
        said = bench.look(shop, "D1", here=piece.tag, step="colour_1")
        assert said.step == "colour_1"
        return any("something was sanded" in check for check in said.checks)

    assert DUST_SETTLED in shop.path("paint").step("colour_1").needs  # type: ignore[union-attr]
    assert not asked()
    do(shop, piece, "C1", "wash", "rinse", at=now - timedelta(days=2), face="top")
    do(shop, piece, "C1", "sand_150", face="top")
    assert asked(), "another part of the shop was sanded"
    clock.pass_time(hours=1)
    assert not asked()
