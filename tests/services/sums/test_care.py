"""The care sheet's dates come from the real last coat of each face."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.verbs import Key, reasons_for
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop
from partsbench.services.sums.care import (
    Care,
    CareDates,
    brief_spots,
    by_part,
    care,
    care_sheet,
    client_words,
    tell_care,
)
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.paper import text_of
from tests.support.shops import lay_out


def finish(shop: Shop, clock: SetClock, piece: Piece, short: str) -> None:
    """Every step of a part, a day apart, insisted on where a condition would be asked for."""
    for _ in range(60):
        part = piece.part(short)
        assert part is not None
        if part_state(shop, piece, part).next_step is None:
            return
        done = record(shop, short, here=piece.tag, insist=reasons_for(Key.INSIST)[0].name)
        assert isinstance(done, Outcome) and done.recorded, done
        clock.pass_time(days=1)
    raise AssertionError(f"{short} never ends")


@pytest.fixture
def piece(shop: Shop) -> Piece:
    made = lay_out(shop, "Heron", "2", paths=[("paint", ["D1 front", "D2 front"])])
    assert isinstance(made, Piece)
    return made


def cared(shop: Shop, piece: Piece) -> Care:
    found = care(shop, piece.tag)
    assert isinstance(found, Care), found
    return found


def test_dates_follow_the_last_coat_and_not_today(
    shop: Shop, clock: SetClock, piece: Piece
) -> None:
    """Water-borne clear: 30 days to full use, 7 until it may touch, counted from the coat."""
    finish(shop, clock, piece, "D1")
    finish(shop, clock, piece, "D2")
    found = cared(shop, piece)
    clock.pass_time(days=400)
    assert cared(shop, piece).dates == found.dates
    assert len(found.dates) == 2
    for dates in found.dates:
        assert dates.service == dates.coated + timedelta(days=30)
        assert dates.touch == dates.coated + timedelta(days=7)
    assert found.full_use == max(d.service for d in found.dates if d.service)
    assert found.sentence.startswith("Full use from ")


def test_an_unfinished_face_is_named(shop: Shop, clock: SetClock, piece: Piece) -> None:
    finish(shop, clock, piece, "D1")
    found = cared(shop, piece)
    assert found.unfinished == (Spot("D2", "front"),)
    assert found.full_use is None
    assert found.sentence == "Not finished yet: D2 front."


def test_what_is_not_finished_is_named_by_part() -> None:
    faces = [Spot(f"D{n}", face) for n in range(1, 11) for face in ("front", "top edge")]
    assert by_part(faces)[:2] == [Spot("D1"), Spot("D2")]
    one, *two = Spot("D1", "front"), Spot("D2", "front"), Spot("D2", "top edge")
    assert by_part([one, *two]) == [one, Spot("D2")]
    day = date(2026, 1, 5)
    dates = CareDates((Spot("D11", "front"),), day, "Clear coat 3, last", None, None, None, ())
    found = Care("Heron", "K7Q4", "", (dates,), tuple(faces), (), (), (), (), day)
    assert found.sentence == "Not finished yet: D1–D10."


def test_nothing_coated_nothing_to_say(shop: Shop, piece: Piece) -> None:
    found = cared(shop, piece)
    assert found.dates == ()
    assert found.sentence.startswith("No face has a coat on yet")


def test_the_sheet_says_dates_advice_and_where_they_are_from(
    shop: Shop, clock: SetClock, piece: Piece
) -> None:
    finish(shop, clock, piece, "D1")
    finish(shop, clock, piece, "D2")
    found = cared(shop, piece)
    pdf = care_sheet(found)
    assert isinstance(pdf, bytes)
    words = " ".join(text_of(pdf).split())
    assert found.full_use is not None
    assert f"{found.full_use.day} {found.full_use:%B %Y}" in words
    assert "Fix it to the wall" in words
    assert "the tin goes first" in words
    assert "D1: Tinted topcoat" in words
    assert care_sheet(found) == pdf


def test_no_word_of_the_client_stands_on_it(shop: Shop, clock: SetClock, piece: Piece) -> None:
    from partsbench.services.books.clients import set_client

    set_client(shop, piece.tag, name="N. Example", address="The Lane")
    finish(shop, clock, piece, "D1")
    pdf = care_sheet(cared(shop, piece), "letter")
    assert isinstance(pdf, bytes)
    assert "Example" not in text_of(pdf) and "Lane" not in text_of(pdf)


def test_a_part_is_named_alone_when_all_its_faces_have_the_dates() -> None:
    day = date(2031, 3, 4)
    front, top_edge = Spot("D2", "front"), Spot("D2", "top edge")
    whole = (Spot("D1", "front"), Spot("D1", "top edge"))
    both = CareDates((*whole, front), day, "x", day, day, day, ())
    other = CareDates((top_edge,), day, "y", day, day, day, ())
    assert brief_spots(both, (both, other)) == [Spot("D1"), front]
    assert brief_spots(other, (both, other)) == [top_edge]


def test_json_names_each_face(shop: Shop, clock: SetClock, piece: Piece) -> None:
    finish(shop, clock, piece, "D1")
    told = tell_care(cared(shop, piece))
    faces = told.data["faces"]
    assert isinstance(faces, dict) and set(faces) == {"D1 front"}
    assert date.fromisoformat(faces["D1 front"]["service"])


def test_refusals(shop: Shop, piece: Piece) -> None:
    assert isinstance(care(shop, "ZZZZ"), Refused)
    wrong = care_sheet(cared(shop, piece), "a9")
    assert isinstance(wrong, Refused) and "a4, letter" in wrong.sentence


def test_to_the_client_every_part_is_called_what_it_is(shop: Shop) -> None:
    spots = [Spot("D1"), Spot("D5", "front"), Spot("L1")]
    assert client_words(spots) == "drawer D1, drawer D5 front, leg L1"
    assert client_words([Spot("C1", "rails")]) == "carcase C1 rails"
