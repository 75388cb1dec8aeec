"""Where faces go back to by a reason of the wall, and which of them do."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import bench
from partsbench.services.acts.sending import send_back_for
from partsbench.services.known import facts
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import lay_out, made

WHICH = (
    "C1 has faces on different paths: rails (Paint with tinted topcoat) or top (Stain and clear). "
    "Say which goes back."
)


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """A painted rail and a stained top, both sanded; a stained drawer."""
    found = made(lay_out(shop, "Heron", "1", height=300, paths=[
        ("paint", ["C1 rails"]), ("stain", ["C1 top", "D1"])]))  # fmt: skip
    for key, value in (("old finish", "none"), ("conditioner", "none"), ("bleeds", "no")):
        facts.say(shop, found.tag, key, value)
    long_ago = shop.clock() - timedelta(days=2)
    for face in ("rails", "top"):
        do(shop, found, "C1", "wash", "rinse", at=long_ago, face=face)
        do(shop, found, "C1", "sand_150", face=face)
    do(shop, found, "D1", "wash", "rinse", at=long_ago)
    do(shop, found, "D1", "sand_150", "sand_220", "stain")
    return found


def went_back(shop: Shop, piece: Piece, short: str) -> list[str]:
    part = piece.part(short)
    assert part is not None
    faces = part_state(shop, piece, part).faces
    return [f.name for f in faces if any(m.kind == "sent_back" for m in f.marks)]


def test_faces_on_different_paths_are_asked_for(shop: Shop, piece: Piece) -> None:
    """`sand_150` is a step of both paths, and the stained top went back with the rails."""
    asked = bench.send_back(shop, "C1", "sand_150", "damaged", here=piece.tag)
    assert (asked.answer, asked.recorded, asked.sentence) == (Answer.STOP, False, WHICH)
    by_reason = send_back_for(shop, "C1", "damaged", here=piece.tag)
    assert isinstance(by_reason, Outcome)
    assert (by_reason.recorded, by_reason.sentence) == (False, WHICH)
    assert went_back(shop, piece, "C1") == []
    assert send_back_for(shop, "C1", "damaged", here=piece.tag, face="rails").recorded  # type: ignore[union-attr]
    assert went_back(shop, piece, "C1") == ["rails"]


def test_several_faces_may_be_named(shop: Shop, piece: Piece) -> None:
    said = bench.send_back(shop, "C1", "sand_150", "damaged", here=piece.tag, face="Rails, top")
    assert said.recorded and said.faces == ("rails", "top")
    assert went_back(shop, piece, "C1") == ["rails", "top"]


def test_faces_of_one_path_go_back_together(shop: Shop, piece: Piece) -> None:
    assert bench.send_back(shop, "D1", "sand_220", "scratch", here=piece.tag).recorded
    assert len(went_back(shop, piece, "D1")) == 5


def test_a_step_of_one_path_only_leaves_nothing_to_ask(shop: Shop, piece: Piece) -> None:
    do(shop, piece, "C1", "sand_220", face="top")
    said = bench.send_back(shop, "C1", "sand_220", "scratch", here=piece.tag)
    assert said.recorded and said.faces == ("top",)


def test_a_late_wipe_is_wiped_and_not_sent_back(shop: Shop, piece: Piece, clock: SetClock) -> None:
    """It mends itself: nothing goes back, and it is said what to do."""
    clock.pass_time(hours=1)
    said = send_back_for(shop, "D1", "missed window", here=piece.tag)
    assert isinstance(said, Outcome) and not said.recorded
    assert said.sentence == (
        "Nothing goes back for that: what mends it is still to be done (Wipe off the stain)."
    )
    assert "Wipe it off at once" in said.because
    assert bench.record(shop, "D1", here=piece.tag, confirmed=True).recorded


def test_a_missed_window_takes_only_the_faces_that_missed_it(
    shop: Shop, piece: Piece, clock: SetClock
) -> None:
    clock.pass_time(days=2)
    assert bench.look(shop, "C1", here=piece.tag, face="rails").recover == "sand_150"
    asked = send_back_for(shop, "C1", "missed window", here=piece.tag)
    assert isinstance(asked, Outcome) and asked.sentence == WHICH, "the top may go on"
    do(shop, piece, "C1", "sand_220", "stain", face="top")
    do(shop, piece, "C1", "wipe", at=clock.now, face="top")
    assert bench.look(shop, "C1", here=piece.tag).faces == ("rails",)
    said = send_back_for(shop, "C1", "missed window", here=piece.tag)
    assert isinstance(said, Outcome) and said.recorded
    assert went_back(shop, piece, "C1") == ["rails"]
