"""Pulls and legs that are alike come home by count; what is over the count stays missing."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import history, returning, teardown
from partsbench.services.acts.by_count import BY_COUNT, count_home, missing_words
from partsbench.services.books import pieces
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown import proof
from tests.support.shops import lay_out, made

PULLS = tuple(f"P{n}" for n in range(1, 5))


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Four drawers with a pull each, all alike and taken off; four legs alike."""
    chest = made(lay_out(shop, "Heron", "2 2", legs=4, equal_legs=True, pulls=1))
    chest = made(pieces.make_alike(shop, chest.tag, PULLS))
    said = teardown.take_out(shop, chest.tag, [*PULLS, "L1", "L2", "L3", "L4"])
    assert said.recorded
    return chest


def home(shop: Shop, piece: Piece) -> list[str]:
    parts = piece_state(shop, piece).parts
    return [s for s, own in parts.items() if own.where is Where.HOME]


def count(shop: Shop, piece: Piece, short: str, number: int) -> str:
    said = count_home(shop, piece.tag, short, number)
    assert isinstance(said, Done), said
    return said.sentence


def test_they_come_home_by_count_and_the_rest_is_missing(shop: Shop, piece: Piece) -> None:
    assert count(shop, piece, "P3", 3) == "P1–P4: 3 of 4 are home. 1 still missing."
    assert len(home(shop, piece)) == 3
    lines = missing_words(piece_state(shop, piece))
    assert "P1–P4 (any pull): 1 of 4 missing, is out" in lines
    assert count(shop, piece, "P1", 4) == "P1–P4: 4 of 4 are home."
    assert not any("pull" in line for line in missing_words(piece_state(shop, piece)))
    assert history.history(shop)[0].sentence == "Heron P1–P4: 4 of 4 are home, counted"


def test_legs_are_counted_as_well_and_each_has_a_corner(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "L1", 4)
    seated = piece_state(shop, piece).seated()
    assert sorted(seated.values()) == ["L1", "L2", "L3", "L4"]
    assert len(seated) == 4


def test_a_count_keeps_clear_of_what_was_scanned(shop: Shop, piece: Piece) -> None:
    said = returning.bring_home(shop, piece.tag, "L4", "H5")
    assert isinstance(said, Outcome) and said.answer is Answer.GO
    count(shop, piece, "L1", 4)
    seated = piece_state(shop, piece).seated()
    assert seated[5] == "L4" and len(seated) == 4


@pytest.mark.parametrize(
    ("short", "number", "why"),
    [
        ("P1", 5, "P1–P4 are 4; 5 of them cannot be home."),
        ("P1", 0, "0 of P1–P4 are home already; say how many are home now, 1 to 4."),
        ("D1", 1, "D1 is alike to no other part"),
        ("P9", 1, "no part “P9”"),
    ],
)
def test_a_count_that_cannot_be_is_refused(
    shop: Shop, piece: Piece, short: str, number: int, why: str
) -> None:
    before = len(history.history(shop))
    said = count_home(shop, piece.tag, short, number)
    assert isinstance(said, Refused) and why in said.sentence
    assert len(history.history(shop)) == before


def test_a_count_that_does_not_grow_is_refused(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "P1", 2)
    said = count_home(shop, piece.tag, "P1", 2)
    assert isinstance(said, Refused) and "now, 3 to 4" in said.sentence
    count(shop, piece, "P1", 4)
    said = count_home(shop, piece.tag, "P1", 4)
    assert isinstance(said, Refused) and "All of P1–P4" in said.sentence


def test_a_time_to_come_is_refused(shop: Shop, piece: Piece) -> None:
    later = shop.clock() + timedelta(hours=1)
    said = count_home(shop, piece.tag, "P1", 2, at=later)
    assert isinstance(said, Refused) and home(shop, piece) == []


def test_any_pull_may_be_scanned_onto_any_drawer_of_the_group(shop: Shop, piece: Piece) -> None:
    said = returning.bring_home(shop, piece.tag, "P1", "D4")
    assert isinstance(said, Outcome) and said.answer is Answer.GO
    made(pieces.make_alike(shop, piece.tag, PULLS, False))
    said = returning.bring_home(shop, piece.tag, "P2", "D4")
    assert isinstance(said, Outcome) and "does not belong on D4" in said.sentence


def test_the_rest_by_elimination_takes_them_along(shop: Shop, piece: Piece) -> None:
    """What the wall and the Return page say for all that is left."""
    said = returning.by_elimination(shop, piece.tag)
    assert isinstance(said, Done) and "P1–P4" in said.sentence
    assert set(PULLS) <= set(home(shop, piece))


def test_the_return_sheet_says_that_they_were_counted(shop: Shop, piece: Piece) -> None:
    count(shop, piece, "P1", 4)
    parts = {p.short: p for p in proof.proof_content(shop, piece_state(shop, piece)).parts}
    assert parts["P2"].how == BY_COUNT
    assert parts["P2"].home == "on any of D1–D4"
