"""Seams between parts: counted always, taped only while the parts are together."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.masks import MaskState
from partsbench.core.outcomes import Answer, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import bench, masks
from partsbench.services.acts.masks import SeamLine
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import stays_in, take_out
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import lay_out, made


@pytest.fixture
def piece(shop: Shop, clock: SetClock) -> Piece:
    """A painted carcase, a stained drawer and a stained top; the rails are ready for colour."""
    found = made(lay_out(shop, "Heron", "2", height=300, top=True, paths=[
        ("paint", ["C1", "D2"]), ("stain", ["D1", "T1"])]))  # fmt: skip
    facts.say(shop, found.tag, "old finish", "none")
    do(shop, found, "C1", "wash", "rinse", at=clock.now - timedelta(days=2))
    do(shop, found, "C1", "sand_150")
    clock.pass_time(hours=2)
    return found


def between(shop: Shop, piece: Piece) -> dict[str, SeamLine]:
    """The seams of two parts, by the face that is not the carcase's."""
    return {str(s.a): s for s in masks.seams(shop, piece.tag) if s.a.part != s.b.part}


def coat(shop: Shop, piece: Piece) -> Outcome:
    return bench.look(shop, "C1", here=piece.tag, face="rails", step="colour_1")


def test_they_are_counted_and_want_no_tape_while_the_drawer_is_out(
    shop: Shop, piece: Piece
) -> None:
    take_out(shop, piece.tag, ["D1"])
    line = between(shop, piece)["D1 front"]
    assert (line.b, line.length_mm) == (Spot("C1", "rails"), 2 * (430 + 280))
    assert line.state is MaskState.NOT_NEEDED
    assert "D2 front" not in between(shop, piece), "D2 and the rails are of one finish"
    take_out(shop, piece.tag, ["T1"])
    said = coat(shop, piece)
    assert said.answer is Answer.GO
    assert not any("other part" in w for w in said.warnings)


def test_a_drawer_that_is_back_in_its_opening_holds_the_coat_beside_it(
    shop: Shop, piece: Piece
) -> None:
    take_out(shop, piece.tag, ["D1", "T1"])
    bring_home(shop, piece.tag, "D1")
    assert between(shop, piece)["D1 front"].state is MaskState.UNKNOWN
    said = coat(shop, piece)
    assert said.answer is Answer.STOP and "neighbour's mask not known" in said.held
    assert "D1 front" in said.because
    taped = masks.put_on(shop, piece.tag, "D1 front", ["C1 rails"])
    assert isinstance(taped, Outcome) and taped.recorded, taped
    assert between(shop, piece)["D1 front"].state is MaskState.MASKED
    assert coat(shop, piece).answer is Answer.GO


def test_what_stays_in_is_in_place(shop: Shop, piece: Piece) -> None:
    stays_in(shop, piece.tag, "D1")
    assert coat(shop, piece).answer is Answer.STOP


def test_tape_against_another_part_stays_for_its_coats(shop: Shop, piece: Piece) -> None:
    stays_in(shop, piece.tag, "D1")
    masks.put_on(shop, piece.tag, "D1 front", ["C1 rails"])
    off = masks.take_off(shop, piece.tag, "D1 front")
    assert isinstance(off, Outcome) and not off.recorded
    assert "C1 rails: Colour coat 1" in off.because
    part = shop.piece(piece.tag).part("D1")  # type: ignore[union-attr]
    assert part is not None and not any(
        s.key == "mask" for s in bench.part_state(shop, piece, part).faces[0].progress.history
    )


def test_said_to_need_none_it_is_a_brush_line(shop: Shop, piece: Piece) -> None:
    stays_in(shop, piece.tag, "D1")
    take_out(shop, piece.tag, ["T1"])
    masks.not_needed(shop, piece.tag, "C1 rails", ["D1 front"])
    assert between(shop, piece)["D1 front"].state is MaskState.NOT_NEEDED
    assert coat(shop, piece).answer is Answer.GO


def test_a_top_that_was_never_scanned_out_is_warned_of(shop: Shop, piece: Piece) -> None:
    said = coat(shop, piece)
    assert said.answer is Answer.GO
    warned = "other part not covered: T1 front edge may be in place beside it"
    assert any(w.startswith(warned) for w in said.warnings)
    assert between(shop, piece)["T1 front edge"].state is MaskState.UNKNOWN
    masks.put_on(shop, piece.tag, "T1 front edge", ["C1 rails"])
    assert not any("may be in place" in w for w in coat(shop, piece).warnings)


def test_a_face_that_lies_elsewhere_is_no_neighbour(shop: Shop, piece: Piece) -> None:
    stays_in(shop, piece.tag, "D1")
    assert isinstance(masks.put_on(shop, piece.tag, "D1 front", ["C1 back"]), Refused)
