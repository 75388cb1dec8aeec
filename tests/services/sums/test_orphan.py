"""Orphans of a piece: matched to open homes by what was measured, marked and worn."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.pieces import edit_part
from partsbench.services.returning import bring_home
from partsbench.services.shop import Shop
from partsbench.services.sums.orphan import Orphans, drop_orphan, note_orphan, tell_orphans, whose
from partsbench.services.teardown import take_out
from tests.support.shops import lay_out
from tests.support.sizes import taken


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Three wide drawers whose openings are 180, 186 and 186.5 mm high."""
    made = lay_out(shop, "Heron", "1 1 1")
    assert isinstance(made, Piece)
    for home, height in (("H1", "180"), ("H2", "186"), ("H3", "186.5")):
        taken(shop, made, (home, "height", height), (home, "width", "862"))
    return made


def asked(shop: Shop, piece: Piece) -> Orphans:
    found = whose(shop, piece.tag)
    assert isinstance(found, Orphans), found
    return found


def note(shop: Shop, piece: Piece, name: str, **sizes: str) -> None:
    done = note_orphan(shop, piece.tag, name, sizes)
    assert isinstance(done, Done), done


def test_an_orphan_goes_where_its_play_is_usual(shop: Shop, piece: Piece) -> None:
    note(shop, piece, "lost", width="860", height="178")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 1"
    assert match.told_apart
    assert match.play_mm == pytest.approx(2.0)


def test_two_homes_alike_are_told_as_alike(shop: Shop, piece: Piece) -> None:
    note(shop, piece, "lost", width="860", height="184.2")
    (match,) = asked(shop, piece).found.matches
    assert {match.home, match.runner_up} == {"opening 2", "opening 3"}
    assert not match.told_apart
    told = tell_orphans(asked(shop, piece))
    assert "almost as good" in told.sentence


def test_an_old_mark_decides(shop: Shop, piece: Piece) -> None:
    edit_part(shop, piece.tag, "D2", old_mark="3")
    edit_part(shop, piece.tag, "D3", old_mark="7")
    note_orphan(shop, piece.tag, "lost", {"width": "860", "height": "184.2"}, marks="7")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 3" and match.told_apart


def test_a_home_that_is_filled_is_not_open(shop: Shop, piece: Piece) -> None:
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D2")
    note(shop, piece, "lost", width="860", height="184.2")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 3"
    assert match.runner_up != "opening 2"


def test_known_pairs_teach_the_usual_play(shop: Shop, piece: Piece) -> None:
    """D1 is known to run with 4 mm of play, so the orphan is expected to as well."""
    taken(shop, piece, ("D1", "height", "176"), ("D1", "width", "858"))
    take_out(shop, piece.tag, ["D1", "D2", "D3"])
    bring_home(shop, piece.tag, "D1")
    note(shop, piece, "lost", width="858", left="182")
    (match,) = asked(shop, piece).found.matches
    assert match.home == "opening 2"


def test_an_opening_drawn_far_too_small_is_not_asked_about(shop: Shop) -> None:
    made = lay_out(shop, "Heron", "3 1")
    assert isinstance(made, Piece)
    note(shop, made, "lost", width="870")
    found = asked(shop, made)
    assert [m.home for m in found.found.matches] == ["opening 4"]
    assert all("opening 1" not in lack for lack in found.found.lacks)


def test_an_orphan_that_found_its_home_is_dropped(shop: Shop, piece: Piece) -> None:
    note(shop, piece, "lost", width="860")
    assert isinstance(drop_orphan(shop, piece.tag, "lost"), Done)
    refused = whose(shop, piece.tag)
    assert isinstance(refused, Refused) and "No orphan is noted" in refused.sentence
    assert isinstance(drop_orphan(shop, piece.tag, "lost"), Refused)


@pytest.mark.parametrize(
    ("name", "sizes", "told"),
    [
        ("", {"width": "860"}, "needs a name"),
        ("lost", {"colour": "860"}, "no colour to measure"),
        ("lost", {"width": "-860"}, "negative"),
        ("lost", {"width": "inf"}, "cannot be read"),
        ("lost", {"width": "0"}, "no size of a drawer"),
    ],
)
def test_nonsense_is_refused(
    shop: Shop, piece: Piece, name: str, sizes: dict[str, str], told: str
) -> None:
    refused = note_orphan(shop, piece.tag, name, sizes)
    assert isinstance(refused, Refused) and told in refused.sentence
